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
    let mut counts = words.windows(2).filter_map(|pair| {
        let is_grade = pair[1] == grade || pair[1] == format!("{grade}s");
        is_grade.then(|| pair[0].parse().ok()).flatten()
    });
    counts.next().unwrap_or(0)
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
        let run = checked(scene, &["--full"]);
        assert!(run.out.contains("\nNot checked\n"));
        let verdict = run.out.lines().nth(1).unwrap();
        assert!(
            ["STOP.", "No stop found. Read what was not checked."].iter().any(|v| verdict.starts_with(v)),
            "{verdict}"
        );
    }
}

#[test]
fn the_governing_pair_comes_before_everything_else() {
    let run = checked(JUNIPER_LANE, &["--full"]);
    let lines: Vec<&str> = run.out.lines().collect();
    assert_eq!(lines[0], "Juniper Lane, pole 7A, over the top between A and B");
    assert_eq!(&lines[2..4], ["", "What governs"]);
    let headings: Vec<&str> = lines[3..].iter().copied().filter(|l| !l.is_empty() && !l.starts_with(' ')).collect();
    assert_eq!(&headings[..2], ["What governs", "Findings"]);
    let part: String = lines[4..].iter().take_while(|line| !line.is_empty()).map(|line| format!("{line}\n")).collect();
    for word in ["wire ", "gap", "allowances", "required", "left", "29 cfr", "step"] {
        assert!(part.to_lowercase().contains(word), "{word} is missing in {part}");
    }
}

#[test]
fn metric_text_has_no_feet_or_pounds_outside_rules_and_what_the_planner_wrote() {
    let run = checked(JUNIPER_LANE, &["--full", "--units", "si"]);
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
    let run = checked(JUNIPER_LANE, &["--full"]);
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
            let [short, full] =
                [&[][..], &["--full"]].map(|more| checked(scene, &[more, &["--units", units]].concat()).out);
            for (line, most) in short.lines().map(|line| (line, 100)).chain(full.lines().map(|line| (line, 110))) {
                assert!(line.chars().count() <= most, "{}: {line}", line.chars().count());
                assert_eq!(line, line.trim_end());
            }
        }
    }
}

#[test]
fn a_report_without_a_stop_is_one_page() {
    let run = checked(JUNIPER_LANE, &[]);
    assert!(run.out.lines().count() <= 50, "{}", run.out);
    let full = checked(JUNIPER_LANE, &["--full"]);
    assert!(full.out.lines().count() > 100 && run.out.lines().take(2).eq(full.out.lines().take(2)));
}

/// "-1 ft 2¾ in" in quarters of an inch.
fn quarters(said: &str) -> i64 {
    let (sign, said) = said.trim().strip_prefix('-').map_or((1, said.trim()), |rest| (-1, rest));
    let words: Vec<&str> = said.split(' ').collect();
    let of = |number: &str| -> i64 {
        let part = [('¼', 1), ('½', 2), ('¾', 3)].into_iter().find(|(sign, _)| number.ends_with(*sign));
        let whole = number.trim_end_matches(['¼', '½', '¾']);
        4 * whole.parse::<i64>().unwrap_or(0) + part.map_or(0, |(_, quarters)| quarters)
    };
    sign * words.chunks(2).map(|pair| of(pair[0]) * if pair[1] == "ft" { 12 } else { 1 }).sum::<i64>()
}

#[test]
fn what_is_printed_of_what_governs_adds_up() {
    for scene in [JUNIPER_LANE, ALDER_ROAD] {
        let out = checked(scene, &[]).out.replace("\n  ", " ");
        let sum = out.split("gap ").find(|part| part.contains(" - allowed for ") && part.contains(" left")).unwrap();
        let (gap, rest) = sum.split_once(" - allowed for ").unwrap();
        let (allowed, rest) = rest.split_once(" - ").unwrap();
        let (required, left) = rest.split_once(" = ").unwrap();
        let required = required.trim_start_matches("minimum approach distance (MAD) ").trim_start_matches("required ");
        let left = left.split(" left").next().unwrap();
        assert_eq!(quarters(gap) - quarters(allowed) - quarters(required), quarters(left), "{sum}");
        // The sentence above the sum tells the same figure.
        let said = left.trim_start_matches('-');
        assert!(out.contains(&format!("inside MAD by {said},")) || out.contains(&format!("{left} left.")), "{out}");
    }
}

#[test]
fn there_is_no_colour_off_a_terminal() {
    let run = checked(JUNIPER_LANE, &[]);
    assert!(!run.out.contains('\x1b'));
}

#[test]
fn the_same_scene_gives_the_same_bytes() {
    for arguments in [&[][..], &["--full"], &["--json"], &["--units", "si"]] {
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
