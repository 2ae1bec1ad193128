//! `check`: exit status, text, several scenes.

use super::{ALDER_ROAD, Bench, JUNIPER_LANE, Run, changed};
use std::process::Stdio;

fn checked(scene: &str, arguments: &[&str]) -> Run {
    let bench = Bench::new();
    bench.put("job.ron", scene);
    bench.run(&[&["check", "job.ron"], arguments].concat())
}

/// How many findings of a grade the opening line counts.
fn counted(text: &str, grade: &str) -> usize {
    let line = text.lines().nth(1).unwrap();
    let words: Vec<&str> = line.split([' ', ',', '.']).filter(|word| !word.is_empty()).collect();
    let at = words.iter().position(|word| *word == grade || *word == format!("{grade}s")).unwrap();
    words[at - 1].parse().unwrap()
}

#[test]
fn the_status_is_one_exactly_when_a_stop_was_found() {
    for scene in [JUNIPER_LANE, ALDER_ROAD] {
        let run = checked(scene, &[]);
        assert_eq!(run.err, "");
        assert_eq!(run.status, i32::from(counted(&run.out, "stop") > 0), "{}", run.out.lines().nth(1).unwrap());
    }
}

#[test]
fn a_pick_that_overloads_the_sling_is_a_stop() {
    let scene = changed(JUNIPER_LANE, "choker_capacity: \"6400 lb\"", "choker_capacity: \"500 lb\"");
    let run = checked(&scene, &[]);
    assert_eq!(run.status, 1);
    assert!(run.out.lines().nth(1).unwrap().starts_with("STOP"), "{}", run.out);
}

#[test]
fn the_verdict_is_never_better_than_caution_while_something_is_not_checked() {
    for scene in [JUNIPER_LANE, ALDER_ROAD] {
        let run = checked(scene, &[]);
        assert!(run.out.contains("\nNot checked\n"));
        let verdict = run.out.lines().nth(1).unwrap().split_whitespace().next().unwrap();
        assert!(["STOP", "CAUTION"].contains(&verdict), "{verdict}");
    }
}

#[test]
fn the_governing_pair_comes_before_everything_else() {
    let run = checked(JUNIPER_LANE, &[]);
    let lines: Vec<&str> = run.out.lines().collect();
    assert_eq!(lines[0], "Juniper Lane, pole 7A, over the top between A and B");
    assert_eq!(&lines[2..4], ["", "What governs"]);
    let headings: Vec<&str> = lines[3..].iter().copied().filter(|l| !l.is_empty() && !l.starts_with(' ')).collect();
    assert_eq!(&headings[..2], ["What governs", "Findings"]);
    let part: String = lines[4..].iter().take_while(|line| !line.is_empty()).map(|line| format!("{line}\n")).collect();
    for word in ["wire ", "gap", "allowances", "required", "margin", "29 cfr", "step"] {
        assert!(part.to_lowercase().contains(word), "{word} is missing in {part}");
    }
}

#[test]
fn metric_text_has_no_feet_or_pounds_outside_rules_and_what_the_planner_wrote() {
    let run = checked(JUNIPER_LANE, &["--units", "si"]);
    // The basis of the work is in the planner's words.
    let (before, basis) = run.out.split_once("Basis of the work").unwrap();
    let after = basis.split_once("Assumed").unwrap().1;
    let us: Vec<&str> = before
        .lines()
        .chain(after.lines())
        .filter(|line| {
            line.split([' ', '(', ')', ',', ';', '.']).any(|word| ["ft", "lb", "lbf", "in/ft"].contains(&word))
        })
        .collect();
    // What the planner wrote of the job, and the density that a table gives.
    let allowed =
        |line: &str| ["walked 2 March", "pole 7A", "55 ft twelve-sided", "lb/ft"].iter().any(|w| line.contains(w));
    let left: Vec<&&str> = us.iter().filter(|line| !allowed(line)).collect();
    assert!(left.is_empty(), "{left:#?}");
    assert!(run.out.contains(" m ") && run.out.contains(" kg") && run.out.contains(" kN"));
}

#[test]
fn us_text_has_no_metres_or_kilograms() {
    let run = checked(JUNIPER_LANE, &[]);
    let si: Vec<&str> = run
        .out
        .lines()
        .filter(|line| line.split([' ', '(', ')', ',', ';', '.']).any(|word| ["m", "kg", "kN"].contains(&word)))
        .collect();
    assert!(si.is_empty(), "{si:#?}");
}

#[test]
fn no_line_is_too_wide_for_a_printed_page() {
    for units in ["us", "si"] {
        for scene in [JUNIPER_LANE, ALDER_ROAD] {
            for line in checked(scene, &["--units", units]).out.lines() {
                assert!(line.chars().count() <= 110, "{}: {line}", line.chars().count());
                assert_eq!(line, line.trim_end());
            }
        }
    }
}

#[test]
fn there_is_no_colour_off_a_terminal() {
    let run = checked(JUNIPER_LANE, &[]);
    assert!(!run.out.contains('\x1b'));
}

#[test]
fn the_same_scene_gives_the_same_bytes() {
    for arguments in [&[][..], &["--json"], &["--units", "si"]] {
        assert_eq!(checked(JUNIPER_LANE, arguments).out, checked(JUNIPER_LANE, arguments).out);
    }
}

#[test]
fn several_scenes_are_all_checked_and_the_worst_gives_the_status() {
    let bench = Bench::new();
    bench.put("one.ron", JUNIPER_LANE);
    bench.put("bad.ron", "(");
    bench.put("two.ron", ALDER_ROAD);
    let run = bench.run(&["check", "one.ron", "bad.ron", "two.ron"]);
    assert_eq!(run.status, 2);
    let at = |text: &str| run.out.find(text).unwrap_or_else(|| panic!("{text} is missing"));
    assert!(at("==== one.ron\nJuniper Lane") < at("==== two.ron\nAlder Road"));
    assert!(run.out.lines().last().unwrap().starts_with("==== 3 scenes: "));
    assert!(run.out.ends_with("1 that cannot be used\n"), "{}", run.out);
    assert!(run.err.starts_with("bad.ron:1:2: "), "{}", run.err);
}

#[test]
fn a_reader_that_goes_away_is_no_fault() {
    let bench = Bench::new();
    bench.put("job.ron", JUNIPER_LANE);
    for arguments in [&["check", "job.ron"][..], &["check", "--json", "job.ron"], &["trace", "job.ron"]] {
        let mut child = bench.command(arguments).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        drop(child.stdout.take());
        let run = Run::of(child.wait_with_output().unwrap());
        assert!(run.status < 2 && run.err.is_empty(), "{arguments:?}: status {}, {}", run.status, run.err);
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_report_that_cannot_be_written_whole_is_a_fault() {
    let bench = Bench::new();
    bench.put("job.ron", JUNIPER_LANE);
    for command in ["check", "trace"] {
        let full = std::fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
        let run = Run::of(bench.command(&[command, "job.ron"]).stdout(full).output().unwrap());
        assert_eq!(run.status, 2, "{command}");
        assert!(run.err.contains("The output is not whole"), "{command}: {}", run.err);
    }
}
