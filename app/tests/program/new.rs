//! A scene to start from.

use super::{Bench, Run};
use std::fs;

#[track_caller]
fn refused(bench: &Bench, file: &str, why: &str) {
    let before = bench.files();
    let run = bench.run(&["new", file]);
    assert_eq!((run.status, run.out.as_str()), (2, ""), "{file}");
    assert!(run.err.contains(why) && run.err.contains("nothing was written"), "{file}: {}", run.err);
    assert_eq!(bench.files(), before, "{file}");
}

#[test]
fn a_new_scene_can_be_checked_at_once() {
    let bench = Bench::new();
    let run = bench.run(&["new", "job.ron"]);
    assert_eq!((run.status, run.err.as_str()), (0, ""));
    assert!(run.out.contains("plumbrise check job.ron"), "{}", run.out);
    assert_eq!(bench.files(), ["job.ron"]);
    let Run { status, err, .. } = bench.run(&["check", "job.ron"]);
    assert!(status == 0 || status == 1, "status {status}: {err}");
    assert_eq!(err, "");
}

#[test]
fn each_kind_of_job_starts_a_scene_whose_stops_are_open_answers() {
    for kind in ["in-line", "beside", "replace", "derrick"] {
        let bench = Bench::new();
        assert_eq!(bench.run(&["new", "job.ron", "--kind", kind]).status, 0, "{kind}");
        let Run { status, err, .. } = bench.run(&["check", "job.ron"]);
        assert_eq!((status, err.as_str()), (1, ""), "{kind}");
    }
    let bench = Bench::new();
    let run = bench.run(&["new", "job.ron", "--kind", "tower"]);
    assert!(run.status == 2 && run.err.contains("in-line") && run.err.contains("derrick"), "{}", run.err);
    assert_eq!(bench.files(), Vec::<String>::new());
}

#[test]
fn a_scene_that_is_there_is_never_written_over() {
    let bench = Bench::new();
    bench.put("job.ron", "mine");
    refused(&bench, "job.ron", "there is already a file of this name");
    assert_eq!(fs::read(bench.path("job.ron")).unwrap(), b"mine");
}

#[test]
fn a_folder_is_neither_made_nor_written_over() {
    let bench = Bench::new();
    refused(&bench, "nowhere/job.ron", "there is no folder nowhere");
    refused(&bench, ".", "found a folder");
    refused(&bench, "nowhere/", "found a folder");
    bench.put("file", "");
    refused(&bench, "file/job.ron", "there is no folder file");
}

#[cfg(unix)]
#[test]
fn a_link_that_leads_nowhere_is_not_written_through() {
    let bench = Bench::new();
    std::os::unix::fs::symlink("elsewhere.ron", bench.path("job.ron")).unwrap();
    refused(&bench, "job.ron", "there is already a file of this name");
}

#[cfg(unix)]
#[test]
fn the_others_in_the_office_may_read_it_as_any_new_file() {
    use std::os::unix::fs::PermissionsExt;
    let bench = Bench::new();
    bench.run(&["new", "job.ron"]);
    bench.put("plain.ron", "");
    let mode = |name| fs::metadata(bench.path(name)).unwrap().permissions().mode();
    assert_eq!(mode("job.ron"), mode("plain.ron"));
}
