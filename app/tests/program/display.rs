//! Bare `plumbrise` where there is no display.

use super::{Bench, JUNIPER_LANE};

const WHY: &str =
    if cfg!(feature = "window") { "There is no display here" } else { "There is no window in this build" };

#[test]
fn without_a_display_the_example_is_reported_and_the_reason_given() {
    let run = Bench::new().run(&[]);
    assert!(run.out.starts_with("Juniper Lane, pole 7A"), "{}", run.out);
    assert!(run.err.contains(WHY), "{}", run.err);
    assert!(run.err.contains("No scene was named, so it is the example."), "{}", run.err);
}

#[test]
fn without_a_display_the_scene_named_is_reported_as_check_does() {
    let bench = Bench::new();
    bench.put("job.ron", JUNIPER_LANE);
    let (bare, check) = (bench.run(&["job.ron"]), bench.run(&["check", "job.ron"]));
    assert_eq!((bare.status, bare.out), (check.status, check.out));
    assert!(bare.err.contains(WHY) && !bare.err.contains("No scene was named"), "{}", bare.err);
}

#[cfg(feature = "window")]
#[test]
fn without_a_display_it_is_told_how_to_have_the_site_drawn() {
    let bench = Bench::new();
    bench.put("lane.ron", JUNIPER_LANE);
    let run = bench.run(&["lane.ron"]);
    assert!(run.err.contains("plumbrise picture lane.ron -o job.png"), "{}", run.err);
    let example = bench.run(&[]);
    assert!(example.err.contains("plumbrise new job.ron"), "{}", example.err);
}

#[test]
fn an_empty_display_is_none() {
    let bench = Bench::new();
    let output = bench.command(&[]).env("DISPLAY", "").env("WAYLAND_DISPLAY", "").output().unwrap();
    let run = super::Run::of(output);
    assert!(run.err.contains(WHY), "{}", run.err);
}
