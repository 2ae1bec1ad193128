//! What the program says of itself.

use super::Bench;

/// The words of a help text in one line, so that it may wrap where it likes.
#[track_caller]
fn help(arguments: &[&str]) -> String {
    let run = Bench::new().run(arguments);
    assert_eq!((run.status, run.err.as_str()), (0, ""), "{arguments:?}");
    run.out.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[track_caller]
fn says(text: &str, sentences: &[&str]) {
    for sentence in sentences {
        assert!(text.contains(sentence), "{sentence:?} is missing in: {text}");
    }
}

const STATUS: &str = "0 no stop found in what was checked, 1 at least one stop, 2 input that cannot be used";

#[test]
fn the_help_says_what_the_program_does_and_how_far_it_may_be_trusted() {
    says(
        &help(&["--help"]),
        &[
            "proven over the continuous motion",
            "The best it ever says is that no stop was found in what was checked",
            "licensed practice govern",
            "Usage: plumbrise [SCENE] plumbrise <COMMAND>",
            "check Say what is wrong with the pick",
            "trace Print the geometry over time as JSON lines",
            "new Write a small commented scene to start from; never over an existing file",
            "the first example when none is named",
            "plumbrise new job.ron",
            STATUS,
        ],
    );
    says(&help(&["-h"]), &["stays energized", STATUS]);
}

#[test]
fn every_command_explains_itself() {
    says(
        &help(&["check", "--help"]),
        &[
            "where, when, by how much, under which rule",
            STATUS,
            "of several scenes the worst",
            "--json",
            "--units",
            "us",
            "si",
        ],
    );
    says(
        &help(&["trace", "--help"]),
        &["JSON lines", "--every <SECONDS>", "start and end of every move are always among them", "It judges nothing"],
    );
    says(&help(&["new", "--help"]), &["never over an existing file", "for instance job.ron"]);
}

#[test]
fn the_version_is_one_line() {
    let run = Bench::new().run(&["--version"]);
    assert_eq!((run.status, run.out), (0, format!("plumbrise {}\n", env!("CARGO_PKG_VERSION"))));
}

#[test]
fn a_line_that_cannot_be_understood_is_unusable_input_and_says_what_was_expected() {
    for (arguments, expected) in [
        (&["check"][..], "<SCENE>..."),
        (&["check", "a.ron", "--units", "feet"], "us, si"),
        (&["check", "a.ron", "--colour"], "--colour"),
        (&["trace", "a.ron", "--every", "0"], "expected seconds from 0.01 to 3600"),
        (&["trace", "a.ron", "--every", "NaN"], "expected seconds from 0.01 to 3600"),
        (&["trace"], "<SCENE>"),
        (&["new"], "<FILE>"),
        (&["chek"], "expected a scene file or a command: check, pole, list, trace, picture or new"),
        (&["chek", "a.ron"], "expected one, or first a command: check, pole, list, trace, picture or new"),
    ] {
        let run = Bench::new().run(arguments);
        assert_eq!((run.status, run.out.as_str()), (2, ""), "{arguments:?}");
        assert!(run.err.contains(expected), "{arguments:?}: {}", run.err);
    }
}
