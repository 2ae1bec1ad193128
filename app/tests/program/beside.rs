//! A scene with a chart and catalogs in files beside it.

use super::{Bench, changed};
use std::fs;

const JOB: &str = include_str!("../../../tests/own_catalogs/job.ron");
const FILES: [(&str, &str); 5] = [
    ("conductors.csv", include_str!("../../../tests/own_catalogs/conductors.csv")),
    ("wood_poles.csv", include_str!("../../../tests/own_catalogs/wood_poles.csv")),
    ("covers.csv", include_str!("../../../tests/own_catalogs/covers.csv")),
    ("chart/northfell_40.csv", include_str!("../../../tests/own_catalogs/chart/northfell_40.csv")),
    ("standing.ron", include_str!("../../../tests/own_catalogs/standing.ron")),
];

/// The job in the folder `job`, so that its files are not those of the folder the program runs in.
fn bench(job: &str) -> Bench {
    let bench = Bench::new();
    fs::create_dir_all(bench.path("job/chart")).unwrap();
    bench.put("job/job.ron", job);
    for (name, text) in FILES {
        bench.put(&format!("job/{name}"), text);
    }
    bench
}

#[test]
fn check_uses_the_files_in_the_scenes_own_folder() {
    let run = bench(JOB).run(&["check", "--full", "job/job.ron"]);
    assert_eq!((run.status, run.err.as_str()), (0, ""));
    assert!(run.out.contains("butt guards are from the planner's own catalog"), "{}", run.out);
    let half = bench(&changed(JOB, "outriggers: \"full\"", "outriggers: \"half\"")).run(&["check", "job/job.ron"]);
    assert_eq!(half.status, 1);
}

#[test]
fn a_fault_in_such_a_file_names_it_with_line_and_field() {
    let bench = bench(JOB);
    bench.put("job/conductors.csv", changed(FILES[0].1, "1.108", "thick"));
    let run = bench.run(&["check", "job/job.ron"]);
    assert_eq!((run.status, run.out.as_str()), (2, ""));
    assert!(
        run.err.starts_with("job/conductors.csv:3:24: diameter_in: found \"thick\"; expected a number"),
        "{}",
        run.err
    );
}

#[test]
fn a_file_that_is_not_there_and_one_outside_of_the_folder_are_faults() {
    let missing = bench(JOB);
    fs::remove_file(missing.path("job/covers.csv")).unwrap();
    let run = missing.run(&["check", "job/job.ron"]);
    assert_eq!(run.status, 2);
    assert!(run.err.contains("found \"covers.csv\", but there is no such file"), "{}", run.err);
    let outside = bench(&changed(JOB, "\"covers.csv\"", "\"../covers.csv\""));
    outside.put("covers.csv", FILES[2].1);
    let run = outside.run(&["check", "job/job.ron"]);
    assert_eq!(run.status, 2);
    assert!(
        run.err.contains("catalogs.covers: found \"../covers.csv\"; expected a file in the scene's folder"),
        "{}",
        run.err
    );
}

#[cfg(unix)]
#[test]
fn a_link_does_not_lead_out_of_the_folder() {
    let linked = bench(JOB);
    linked.put("covers.csv", FILES[2].1);
    fs::remove_file(linked.path("job/covers.csv")).unwrap();
    std::os::unix::fs::symlink("../covers.csv", linked.path("job/covers.csv")).unwrap();
    let run = linked.run(&["check", "job/job.ron"]);
    assert_eq!(run.status, 2);
    assert!(run.err.contains("it lies outside of the scene's folder"), "{}", run.err);
}
