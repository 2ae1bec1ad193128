//! `trace`: JSON lines that another program can measure.

use super::{ALDER_ROAD, Bench, JUNIPER_LANE, Run, set};
use serde_json::Value;
use std::collections::BTreeSet;

fn traced(scene: &str, arguments: &[&str]) -> Run {
    let bench = Bench::new();
    bench.put("job.ron", scene);
    bench.run(&[&["trace", "job.ron"], arguments].concat())
}

fn lines(run: &Run) -> Vec<Value> {
    run.out.lines().map(|line| serde_json::from_str(line).unwrap()).collect()
}

fn keys(object: &Value) -> BTreeSet<&str> {
    object.as_object().unwrap().keys().map(String::as_str).collect()
}

fn is_point(value: &Value) -> bool {
    value.as_array().is_some_and(|a| a.len() == 3 && a.iter().all(|n| n.as_f64().is_some_and(f64::is_finite)))
}

#[test]
fn the_first_line_is_the_header_with_the_wires_as_points() {
    let run = traced(JUNIPER_LANE, &[]);
    assert_eq!((run.status, run.err.as_str()), (0, ""));
    let lines = lines(&run);
    let header = &lines[0];
    assert_eq!(header["format"], "plumbrise-trace/1");
    assert_eq!(header["axes"], "x east, y north, z up, metres");
    let wires = header["wires"].as_array().unwrap();
    let names: BTreeSet<&str> = wires.iter().map(|w| w["wire"].as_str().unwrap()).collect();
    assert_eq!(names, BTreeSet::from(["A", "B", "C", "neutral"]));
    for wire in wires {
        assert_eq!(keys(wire), BTreeSet::from(["wire", "weather", "steps", "radius_m", "sagitta_error_m", "points"]));
        assert!(wire["points"].as_array().unwrap().iter().all(is_point));
        assert!((0.0..=0.001).contains(&wire["sagitta_error_m"].as_f64().unwrap()));
    }
    assert!(lines[1..].iter().all(|line| line.get("format").is_none()));
}

#[test]
fn every_instant_has_time_step_joints_bodies_and_gaps() {
    let run = traced(JUNIPER_LANE, &["--every", "20"]);
    let mut last = 0.0;
    for instant in &lines(&run)[1..] {
        assert_eq!(keys(instant), BTreeSet::from(["time_s", "step", "joints", "bodies", "gaps"]));
        let time = instant["time_s"].as_f64().unwrap();
        assert!(time >= last - 1e-9, "{time} after {last}");
        last = time;
        assert!(instant["step"].is_u64());
        for machine in instant["joints"].as_object().unwrap().values() {
            let joints = match machine.get("slew_deg") {
                Some(_) => ["slew_deg", "lower_boom_deg", "upper_boom_deg", "upper_boom_length_m"],
                None => ["swing_deg", "boom_angle_deg", "boom_length_m", "hoist_length_m"],
            };
            for joint in joints {
                assert!(machine[joint].is_f64(), "{joint}");
            }
        }
        for body in instant["bodies"].as_array().unwrap() {
            let shape: &[&str] = match body["kind"].as_str().unwrap() {
                "balls" => &["name", "kind", "balls"],
                "frustum" => &["name", "kind", "a", "b", "ra", "rb"],
                "hull" => &["name", "kind", "points"],
                other => panic!("no such kind of body: {other}"),
            };
            let mut found = keys(body);
            // Only where the shape is not exactly known: how far it may be from what is drawn.
            if found.remove("blur_m") {
                assert!(body["blur_m"].as_f64().is_some_and(|blur| blur > 0.0), "{body}");
            }
            assert_eq!(found, shape.iter().copied().collect());
        }
        for gap in instant["gaps"].as_array().unwrap() {
            assert_eq!(keys(gap), BTreeSet::from(["body", "other", "weather", "gap_m"]));
            assert!(gap["gap_m"].as_f64().unwrap().is_finite());
        }
    }
}

#[test]
fn bodies_wires_and_weather_have_the_names_of_the_report() {
    let bench = Bench::new();
    bench.put("job.ron", JUNIPER_LANE);
    let report: Value = serde_json::from_str(&bench.run(&["check", "--json", "job.ron"]).out).unwrap();
    let run = bench.run(&["trace", "--every", "3600", "job.ron"]);
    let triple = |g: &Value| ["body", "other", "weather"].map(|key| g[key].as_str().unwrap().to_owned());
    // Instants have the gaps to wires; those between bodies can be measured from the bodies.
    let to_wires = |g: &&Value| g["other_kind"] == "wire";
    let reported: BTreeSet<_> = report["gaps"].as_array().unwrap().iter().filter(to_wires).map(triple).collect();
    let traced: BTreeSet<_> =
        lines(&run)[1..].iter().flat_map(|line| line["gaps"].as_array().unwrap().iter().map(triple)).collect();
    assert_eq!(traced, reported);
    let drawn: BTreeSet<String> = lines(&run)[1..]
        .iter()
        .flat_map(|line| line["bodies"].as_array().unwrap().iter().map(|b| b["name"].as_str().unwrap().to_owned()))
        .collect();
    assert!(reported.iter().all(|[body, ..]| drawn.contains(body)), "{drawn:?}");
}

/// What the report proved over the whole motion, the trace shows again instant by instant: a pair that stays apart keeps
/// at every instant the required distance and the margin, and at some instant comes about as near as was said.
#[test]
fn the_gaps_traced_are_those_that_were_proven() {
    let bench = Bench::new();
    bench.put("job.ron", JUNIPER_LANE);
    let report: Value = serde_json::from_str(&bench.run(&["check", "--json", "job.ron"]).out).unwrap();
    let run = bench.run(&["trace", "--every", "2", "job.ron"]);
    let instants = &lines(&run)[1..];
    // From release on the pole is a structure, and nothing is required of it but no contact.
    let release = report["steps"].as_array().unwrap().iter().find(|s| s["name"] == "Let go").unwrap();
    let before_release = |instant: &&Value| instant["step"].as_u64() < release["step"].as_u64();
    let mut compared = 0;
    for row in report["gaps"].as_array().unwrap().iter().filter(|row| row["state"] == "apart") {
        let m = |key: &str| row[key].as_f64().unwrap();
        let gaps = |instant: &Value| -> Vec<f64> {
            let same = |gap: &&Value| ["body", "other", "weather"].iter().all(|key| row[key] == gap[key]);
            instant["gaps"].as_array().unwrap().iter().filter(same).map(|gap| gap["gap_m"].as_f64().unwrap()).collect()
        };
        for gap in instants.iter().filter(before_release).flat_map(&gaps) {
            assert!(gap >= m("required_m") + m("margin_m") - 1e-6, "{gap} in {row}");
            compared += 1;
        }
        let least = instants.iter().flat_map(&gaps).fold(f64::INFINITY, f64::min);
        // The wind's lean is not traced, so only still air can be held against it from above.
        assert!(row["weather"] != "still" || least <= m("high_m") + 0.15, "{least} in {row}");
    }
    assert!(compared > 1000, "{compared}");
}

#[test]
fn the_number_of_instants_is_bounded_however_fine_they_are_asked_for() {
    let count = |every: &str| traced(JUNIPER_LANE, &["--every", every]).out.lines().count();
    let (coarse, fine) = (count("3600"), count("1"));
    assert!(20 < coarse && coarse < fine && fine < 2_000, "{coarse}, {fine}");
    // Hours of slow hoisting: an instant every hundredth of a second would be over a million lines.
    let slow = set(ALDER_ROAD, "hoist", "0.02 ft/s");
    let every = ["--every", "3600"];
    assert!(traced(&slow, &every).out.lines().count() < 200);
    assert_eq!(traced(&slow, &["--every", "0.001"]).status, 2);
}

#[test]
fn a_pole_that_cannot_hang_is_not_traced_and_that_is_said() {
    let scene = set(ALDER_ROAD, "choker_from_butt", "12 ft");
    let run = traced(&scene, &[]);
    assert_eq!((run.status, lines(&run).len()), (1, 1));
    assert!(run.err.contains("The motion stops before step 1 \"Set up\""), "{}", run.err);
}

#[test]
fn the_same_scene_is_traced_to_the_same_bytes() {
    assert_eq!(traced(JUNIPER_LANE, &[]).out, traced(JUNIPER_LANE, &[]).out);
}
