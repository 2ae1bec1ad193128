//! Input that cannot be used: every fault with its place, status 2, nothing else printed.

use super::{ALDER_ROAD, Bench, JUNIPER_LANE, Run, changed};

#[track_caller]
fn refused(bench: &Bench, file: &str) -> String {
    let before = bench.files();
    let mut said = None;
    for command in [&["check"][..], &["check", "--json"], &["trace"], &[]] {
        let Run { status, out, err } = bench.run(&[command, &[file]].concat());
        assert_eq!((status, out.as_str()), (2, ""), "{command:?} {file}: {err}");
        assert_eq!(*said.get_or_insert(err.clone()), err, "{command:?} {file}");
    }
    assert_eq!(bench.files(), before);
    said.unwrap()
}

/// The fault lines of a scene, checked to have the form `file:line:col: path: found …; expected …`.
#[track_caller]
fn faults(scene: &str) -> Vec<String> {
    let bench = Bench::new();
    bench.put("job.ron", scene);
    let err = refused(&bench, "job.ron");
    let mut lines: Vec<String> =
        err.lines().filter(|line| !line.starts_with("    help: ")).map(str::to_owned).collect();
    let count = lines.pop().unwrap();
    for line in &lines {
        let place = line.strip_prefix("job.ron:").unwrap_or_else(|| panic!("{line}"));
        let mut parts = place.splitn(3, ':');
        let (row, column) = (parts.next().unwrap(), parts.next().unwrap());
        assert!(row.parse::<u32>().unwrap() > 0 && column.parse::<u32>().unwrap() > 0, "{line}");
        let said = parts.next().unwrap();
        assert!(said.find("found ").unwrap() < said.find("; expected ").unwrap(), "{line}");
    }
    let noun = if lines.len() == 1 { "fault" } else { "faults" };
    assert_eq!(count, format!("{} {noun} in job.ron: it cannot be used.", lines.len()));
    lines
}

#[test]
fn what_is_no_scene_at_all_is_refused_with_its_place() {
    let bench = Bench::new();
    bench.put("empty.ron", "");
    bench.put("blank.ron", " \n\t\n");
    bench.put("binary.ron", b"(format: 1,\n  \x80\xff\x00");
    bench.put("utf16.ron", b"\xff\xfe(\0f\0");
    bench.put("zeros.ron", [0; 4096]);
    bench.put("text.ron", "Dear crew,");
    bench.put("cut.ron", &ALDER_ROAD[..4000]);
    for (file, expected) in [
        ("empty.ron", "empty.ron:1:1: found an empty file; expected a scene\n    help: plumbrise new FILE"),
        ("blank.ron", "blank.ron:1:1: found an empty file; expected a scene"),
        ("binary.ron", "binary.ron:2:3: found bytes that are not UTF-8 text, from byte 14; expected text"),
        ("utf16.ron", "utf16.ron:1:1: found bytes that are not UTF-8 text"),
        ("zeros.ron", "zeros.ron:1:1: found "),
        ("text.ron", "text.ron:1:"),
        ("cut.ron", "cut.ron:"),
        ("missing.ron", "missing.ron: there is no such file"),
        (".", ".: found a folder; expected a scene file"),
    ] {
        let err = refused(&bench, file);
        assert!(err.starts_with(expected), "{file}: {err}");
    }
}

#[test]
fn a_huge_file_is_refused_without_being_read() {
    let bench = Bench::new();
    std::fs::File::create(bench.path("huge.ron")).unwrap().set_len(100 << 20).unwrap();
    let err = refused(&bench, "huge.ron");
    assert!(err.starts_with("huge.ron:1:1: found 1048577 bytes or more; expected at most 1048576 bytes"), "{err}");
}

#[cfg(unix)]
#[test]
fn a_file_that_may_not_be_read_says_so() {
    use std::os::unix::fs::PermissionsExt;
    let bench = Bench::new();
    bench.put("closed.ron", JUNIPER_LANE);
    std::fs::set_permissions(bench.path("closed.ron"), PermissionsExt::from_mode(0o000)).unwrap();
    // The superuser may read everything: then the scene is checked like any other.
    if std::fs::read(bench.path("closed.ron")).is_ok() {
        assert!(bench.run(&["check", "closed.ron"]).status < 2);
    } else {
        assert_eq!(refused(&bench, "closed.ron"), "closed.ron: it may not be read (permission denied)\n");
    }
}

#[test]
fn a_byte_order_mark_is_passed_over() {
    let bench = Bench::new();
    bench.put("job.ron", format!("\u{feff}{ALDER_ROAD}"));
    assert!(bench.run(&["check", "job.ron"]).status < 2);
}

#[test]
fn every_kind_of_fault_names_line_field_and_what_is_expected() {
    let mut missing = Vec::new();
    for (from, to, said) in [
        ("format: 1", "format: 7", "format: found the number 7; expected format 1"),
        ("altitude: \"1200 ft\"", "altitude: \"1200\"", "altitude: found \"1200\"; expected "),
        ("altitude: \"1200 ft\"", "altitude: \"NaN ft\"", "altitude: found \"NaN ft\"; expected "),
        ("altitude: \"1200 ft\"", "altitude: \"90000 ft\"", "altitude: found \"90000 ft\"; expected "),
        ("altitude: \"1200 ft\"", "altitude: \"12 lb\"", "altitude: found \"12 lb\"; expected "),
        ("altitude: \"1200 ft\",", "", "expected the field altitude"),
        ("altitude:", "altitud:", "found the unknown field altitud; expected a field of the scene: format, name"),
        ("route: line_work", "route: by_luck", "basis.route: found the word by_luck; expected crane_table"),
        ("conductor: \"Raven\"", "conductor: \"Ravin\"", "wires[0].conductor: found \"Ravin\"; expected "),
        ("phase(\"Alder 12\")", "phase(\"Alder 13\")", "found \"Alder 13\"; expected "),
        ("name: \"B\"", "name: \"A\"", "found the wire \"A\" again; expected "),
        ("hang: [sag(\"3 ft to 3 ft 8 in\")]", "hang: []", "wires[0].hang: found "),
        (
            "length: \"55 ft\"",
            "length: \"900 ft\"",
            "pole.length: found \"900 ft\"; expected a length from 20 ft to 130 ft",
        ),
        ("choker_from_butt: \"47 ft\"", "choker_from_butt: \"56 ft\"", "rigging.choker_from_butt: found "),
        ("setting_depth: \"7 ft 6 in\"", "setting_depth: \"9 ft\"", "pole.setting_depth: found "),
        ("model: \"Northfell 40\"", "model: \"Northfell 41\"", "crane.model: found \"Northfell 41\"; expected "),
        ("value: \"4 in\", reason: \"laser from two set-ups\"", "value: \"0 in\"", "allowances.survey"),
        (
            "starts: after(\"Cover up\")",
            "starts: after(\"Cover down\")",
            "covers[0].starts: found \"Cover down\"; expected ",
        ),
        ("do: take_load", "do: take_lode", "steps[3].do: found "),
        ("steps: [", "steps: [[[[", "found "),
        ("parts_of_line: 2", "parts_of_line: -2", "crane.parts_of_line: found "),
        ("residual_gap: \"4 in\"", "residual_gap: 4", "basis.residual_gap: found "),
    ] {
        let found = faults(&changed(ALDER_ROAD, from, to));
        if !found.iter().any(|line| line.contains(said)) {
            missing.push((said, found));
        }
    }
    assert!(missing.is_empty(), "{missing:#?}");
}

#[test]
fn all_faults_of_meaning_come_together_in_the_order_of_the_file() {
    let mut scene = ALDER_ROAD.to_owned();
    for (from, to) in [
        ("boom_length: \"110 ft\"", "boom_length: \"11 ft\""),
        ("altitude: \"1200 ft\"", "altitude: \"1200 lb\""),
        ("conductor: \"Sparrow\"", "conductor: \"Sparow\""),
        ("make: rubber(2)", "make: rubber(9)"),
    ] {
        scene = changed(&scene, from, to);
    }
    let found = faults(&scene);
    assert!(found.len() >= 4, "{found:#?}");
    let line = |fault: &String| fault.split(':').nth(1).unwrap().parse::<u32>().unwrap();
    assert!(found.is_sorted_by_key(line), "{found:#?}");
    let bench = Bench::new();
    bench.put("job.ron", &scene);
    assert!(refused(&bench, "job.ron").contains("    help: did you mean \"Sparrow\"?"));
}

#[test]
fn hundreds_of_faults_are_counted_and_not_all_printed() {
    let wires: String = (0..150)
        .map(|i| {
            format!(
                "(name: \"x{i}\", carries: communication, conductor: \"none{i}\", points: [(\"-150 ft\", \"{i} ft\", \"30 ft\"), \
                 (\"150 ft\", \"{i} ft\", \"30 ft\")], hang: [sag(\"3 ft\")]),"
            )
        })
        .collect();
    let scene = changed(ALDER_ROAD, "wires: [", &format!("wires: [{wires}"));
    let bench = Bench::new();
    bench.put("job.ron", scene);
    let err = refused(&bench, "job.ron");
    let last = err.lines().last().unwrap();
    assert!(last.contains(" faults in job.ron, of which the first 100 are shown: it cannot be used."), "{last}");
    assert!(err.lines().count() < 310, "{}", err.lines().count());
}

#[test]
fn hostile_scenes_end_with_a_fault_or_a_report_and_never_otherwise() {
    let scene = ALDER_ROAD;
    let deep = "(".repeat(100_000);
    let nested = changed(scene, "steps: [", &format!("steps: [{}", "[".repeat(5000)));
    let long_name = changed(scene, "Alder Road, pole 3", &"x".repeat(500_000));
    let escapes = changed(scene, "Alder Road, pole 3", "\\u{1b}[31m\\u{202e}\\0");
    let many_steps = changed(
        scene,
        "    (name: \"Take the load\"",
        &format!(
            "{}    (name: \"Take the load\"",
            (0..800).map(|i| format!("(name: \"w{i}\", do: work(\"1 min\")),")).collect::<String>()
        ),
    );
    for (what, text) in
        [("deep", deep), ("nested", nested), ("long name", long_name), ("escapes", escapes), ("many steps", many_steps)]
    {
        let bench = Bench::new();
        bench.put("job.ron", text);
        for command in ["check", "trace"] {
            let run = bench.run(&[command, "job.ron"]);
            assert!((0..=2).contains(&run.status), "{what} {command}: {}", run.status);
            assert!(!run.err.contains("panicked"), "{what} {command}: {}", run.err);
            assert!(!run.out.contains('\x1b') && !run.err.contains('\x1b'), "{what} {command}");
        }
    }
}
