//! Two bucket trucks at one pole: read, moved, proven against the wires, the crane, its load and each other, drawn, written back.
//!
//! source: none, properties of an invented place.

use scene_core::check::check;
use scene_core::finding::{Finding, Grade};
use scene_core::machine::Role;
use scene_core::outcome::{GapRow, Report, Way, WayOf, WayOutRow};
use scene_core::rehearsal::Rehearsal;
use scene_core::rules::PairState;
use scene_core::scene::{self, Fault};
use scene_core::site::Site;
use scene_core::trace;

const TALLIS: &str = "model: \"Tallis 46\", heading: \"90 deg\", method: gloves, load: \"300 lb\", \
                      rates: (slew: \"3 deg/s\", lower: \"2 deg/s\", upper: \"3 deg/s\")";

/// Both buckets come up by C, 40 ft apart, and work on it; then both go home.
const STEPS: &str = r#"
    (name: "One to C", do: bucket_to(lift: "truck 1", wire: "C", station: "0 ft", below: "2 ft", left: "2 ft 6 in", works_on: "C")),
    (name: "Other to C", do: bucket_to(lift: "truck 2", wire: "C", station: "40 ft", below: "2 ft", left: "2 ft 6 in", works_on: "C")),
    (name: "Hoses on", do: work("20 min")),
    (name: "Other home", do: bucket_stow("truck 2")),
    (name: "One home", do: bucket_stow("truck 1")),
"#;

/// The template with both trucks in a row along the line, the second so far east of the first.
fn text(second_at: &str, steps: &str) -> String {
    let trucks = format!(
        "  bucket_truck: several([(name: \"truck 1\", at: (\"0 ft\", \"26 ft\", \"0 ft\"), {TALLIS}), \
         (name: \"truck 2\", at: {second_at}, {TALLIS})]),\n  crane: ("
    );
    let text = scene::template().replacen("  crane: (", &trucks, 1);
    text.replacen("(name: \"Cover up\",", &format!("{steps}(name: \"Cover up\","), 1)
}

const APART: &str = "(\"40 ft\", \"26 ft\", \"0 ft\")";

fn site(text: &str) -> Site {
    let scene = scene::read("two trucks", text).unwrap_or_else(|faults| panic!("{}", faults[0]));
    scene.site().unwrap_or_else(|faults| panic!("{}", faults[0]))
}

fn faults(text: &str) -> Vec<Fault> {
    scene::read("two trucks", text).err().unwrap_or_default()
}

fn state(report: &Report, body: &str, other: &str) -> Option<PairState> {
    let of = |row: &&GapRow| (row.body == body && row.other == other) || (row.body == other && row.other == body);
    report.gaps.iter().filter(of).map(|row| row.state).min()
}

fn found<'a>(report: &'a Report, code: &str) -> Vec<&'a Finding> {
    report.findings.iter().filter(|finding| finding.code() == code).collect()
}

#[test]
fn a_scene_with_two_trucks_is_read_and_written_back() {
    let text = text(APART, STEPS);
    let site = site(&text);
    assert_eq!(site.lifts.len(), 2);
    assert_eq!([0, 1].map(|lift| site.lift_called(lift)), ["truck 1", "truck 2"]);
    let again = scene::read("again", &scene::read("two trucks", &text).unwrap().to_ron()).unwrap().site().unwrap();
    assert_eq!(again, site);
    // One that stands alone keeps its plain names, whatever it is called.
    let one = scene::template().replacen(
        "  crane: (",
        &format!(
            "  bucket_truck: stands(name: \"truck 7\", at: (\"0 ft\", \"26 ft\", \"0 ft\"), {TALLIS}),\n  crane: ("
        ),
        1,
    );
    let one = scene::read("one", &one).unwrap().site().unwrap();
    assert_eq!((one.lift_called(0).as_str(), one.lift_body_name(0, "bucket").as_str()), ("the bucket truck", "bucket"));
}

#[test]
fn a_step_says_which_of_two_trucks_it_moves() {
    let good = text(APART, STEPS);
    let silent = good.replacen("bucket_to(lift: \"truck 1\", ", "bucket_to(", 1);
    let stow = good.replacen("bucket_stow(\"truck 1\")", "bucket_stow", 1);
    let unknown = good.replacen("lift: \"truck 2\"", "lift: \"truck 3\"", 1);
    for (text, path, said) in
        [(&silent, "steps[1].do", "lift"), (&stow, "steps[5].do", "lift"), (&unknown, "steps[2].do.lift", "truck 3")]
    {
        let found = faults(text);
        assert_eq!(found.len(), 1, "{found:?}");
        assert!(found[0].path == path && found[0].line > 100 && found[0].to_string().contains(said), "{}", found[0]);
    }
    let twice = good.replacen("name: \"truck 2\", at", "name: \"truck 1\", at", 1);
    assert!(faults(&twice).iter().any(|fault| fault.path == "bucket_truck[1].name"), "{:?}", faults(&twice));
    let nameless = good.replacen("(name: \"truck 2\", at", "(at", 1);
    assert!(faults(&nameless).iter().any(|fault| fault.path == "bucket_truck[1]"), "{:?}", faults(&nameless));
}

#[test]
fn every_body_of_each_truck_is_held_against_wires_crane_load_and_the_other_truck() {
    let site = site(&text(APART, STEPS));
    let report = check(&site);
    let names = |lift: usize| -> Vec<String> {
        site.lifts[lift].bodies().iter().map(|body| site.lift_body_name(lift, body.name)).collect()
    };
    let (one, other) = (names(0), names(1));
    assert_eq!((one.len(), other.len()), (7, 7));
    assert!(one.contains(&"truck 1 bucket".to_owned()) && other.contains(&"truck 2 worker's reach".to_owned()));
    for body in one.iter().chain(&other) {
        for met in ["boom", "hook block", "pole", "tail"] {
            assert!(state(&report, body, met).is_some(), "{body} {met}");
        }
        assert!(state(&report, body, "A").is_some(), "{body}");
    }
    for body in &one {
        for met in &other {
            assert_eq!(state(&report, body, met), Some(PairState::Apart), "{body} {met}");
        }
        // Not among themselves.
        assert!(one.iter().all(|own| state(&report, body, own).is_none()), "{body}");
    }
    let signals = |name: &str| report.steps.iter().find(|step| step.name == name).unwrap().signals.clone();
    assert!(signals("One to C").iter().all(|signal| signal.starts_with("truck 1 ")));
    assert!(signals("Other home").contains(&"truck 2 lower lower boom".to_owned()));
}

#[test]
fn two_trucks_that_strike_each_other_stop() {
    // The second one stands on the first.
    let report = check(&site(&text("(\"3 ft\", \"26 ft\", \"0 ft\")", "")));
    assert_eq!(state(&report, "truck 1 lift turret", "truck 2 lift turret"), Some(PairState::Touch));
    let struck = found(&report, "body_touch");
    assert!(struck.iter().any(|finding| finding.grade == Grade::Stop));
    // Far enough apart as they stand, but both buckets are brought to one place.
    let both = STEPS.replace("station: \"40 ft\"", "station: \"4 ft\"");
    let report = check(&site(&text("(\"26 ft\", \"26 ft\", \"0 ft\")", &both)));
    let meets = state(&report, "truck 1 bucket", "truck 2 worker's reach");
    assert!(meets <= Some(PairState::Touch), "{meets:?}");
    let step = report.gaps.iter().find(|row| row.state == PairState::Touch && row.body.contains("truck")).unwrap().step;
    assert!(step >= report.steps.iter().find(|step| step.name == "Other to C").map(|step| step.step), "{step:?}");
}

#[test]
fn a_worker_is_excused_only_from_the_wire_that_his_own_truck_works_on() {
    let both = check(&site(&text(APART, STEPS)));
    for body in ["truck 1 bucket", "truck 2 bucket", "truck 1 worker's reach", "truck 2 worker's reach"] {
        assert_eq!(state(&both, body, "C"), Some(PairState::Apart), "{body}");
    }
    assert_eq!(found(&both, "worked_on_energized").len(), 2);
    // The second comes as near without working on C: that the first works on it excuses the second from nothing.
    let steps = STEPS.replacen(
        "station: \"40 ft\", below: \"2 ft\", left: \"2 ft 6 in\", works_on: \"C\"",
        "station: \"40 ft\", below: \"2 ft\", left: \"2 ft 6 in\"",
        1,
    );
    let one = check(&site(&text(APART, &steps)));
    assert_eq!(state(&one, "truck 1 worker's reach", "C"), Some(PairState::Apart));
    assert!(state(&one, "truck 2 worker's reach", "C") <= Some(PairState::Short));
    let stops = found(&one, "approach_short");
    assert!(stops.iter().any(|finding| finding.grade == Grade::Stop));
}

#[test]
fn the_way_back_covers_both() {
    // Up behind their trucks, off the line.
    let up = |lift: &str, east: &str| {
        format!("(name: \"{lift} up\", do: bucket_to(lift: \"{lift}\", point: (\"{east}\", \"24 ft\", \"26 ft\"))),")
    };
    let down = |lift: &str| format!("(name: \"{lift} down\", do: bucket_stow(\"{lift}\")),");
    let both = up("truck 1", "-14 ft") + &up("truck 2", "26 ft") + &down("truck 2") + &down("truck 1");
    let report = check(&site(&text(APART, &both)));
    let rows = |lift: &str| -> Vec<_> {
        let of = |row: &&WayOutRow| row.of == WayOf::BucketTruck && row.lift.as_deref() == Some(lift);
        report.way_out.iter().filter(of).map(|row| (row.step, row.way)).collect()
    };
    let step = |name: &str| report.steps.iter().position(|step| step.name == name).unwrap();
    let of = |from: &str, to: &str| (step(from)..=step(to)).map(|step| (step, Some(Way::Back))).collect::<Vec<_>>();
    assert_eq!(rows("truck 1"), of("truck 1 up", "truck 1 down"));
    assert_eq!(rows("truck 2"), of("truck 2 up", "truck 2 down"));
    // Where a worker comes near bare wires, the way back past them is refused as the way there is: of each truck.
    let report = check(&site(&text(APART, STEPS)));
    for lift in ["truck 1", "truck 2"] {
        let refused = |row: &&WayOutRow| row.lift.as_deref() == Some(lift) && row.way.is_none();
        assert!(report.way_out.iter().any(|row| refused(&row)), "{lift}");
    }
}

#[test]
fn a_cover_is_reached_from_either_truck() {
    let reach = |steps: &str| {
        let text = text(APART, steps)
            .replacen(
                "over: wire(name: \"C\", stations: \"-12 ft to 12 ft\")",
                "over: wire(name: \"C\", stations: \"-1 ft to 1 ft\")",
                1,
            )
            .replacen(
                "over: wire(name: \"B\", stations: \"-12 ft to 12 ft\")",
                "over: wire(name: \"C\", stations: \"39 ft to 41 ft\")",
                1,
            )
            .replace("starts: after(\"Cover up\")", "starts: after(\"Hoses on\")");
        let report = check(&site(&text));
        let missed = |cover: &str| found(&report, "cover_out_of_reach").iter().any(|f| f.subject() == Some(cover));
        [missed("hose on C"), missed("hose on B"), missed("hose on A")]
    };
    assert_eq!(reach(STEPS), [false, false, true]);
    // Without the second truck's bucket there, what only it reached is named.
    let one = STEPS.replace(
        "wire: \"C\", station: \"40 ft\", below: \"2 ft\", left: \"2 ft 6 in\", works_on: \"C\"",
        "wire: \"C\", station: \"40 ft\", below: \"8 ft\", left: \"12 ft\"",
    );
    assert_eq!(reach(&one), [false, true, true]);
}

#[test]
fn both_trucks_are_drawn_and_traced() {
    let site = site(&text(APART, STEPS));
    let rehearsal = Rehearsal::of(&site);
    let at = |name: &str| rehearsal.report.steps.iter().find(|step| step.name == name).unwrap().from_s + 1.0;
    let shapes = rehearsal.shapes(at("Hoses on"));
    let workers: Vec<&str> =
        shapes.iter().filter(|shape| shape.role == Role::Worker).map(|shape| shape.name.as_str()).collect();
    assert_eq!(workers, ["truck 1 worker's reach", "truck 2 worker's reach"]);
    let line = trace::lines(&site, 60.0).nth(1).unwrap();
    let instant: serde_json::Value = serde_json::from_str(&line).unwrap();
    for truck in ["truck 1", "truck 2"] {
        assert!(instant["joints"][truck]["lower_boom_deg"].is_number(), "{}", instant["joints"]);
        let of_truck = |body: &serde_json::Value| body["name"].as_str().is_some_and(|name| name.starts_with(truck));
        assert!(instant["bodies"].as_array().unwrap().iter().filter(|body| of_truck(body)).count() >= 7);
    }
}
