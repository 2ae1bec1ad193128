//! `check --json`: the object `plumbrise-report/1`.

use super::{ALDER_ROAD, Bench, JUNIPER_LANE, Run, changed, set};
use serde_json::Value;

fn run(scene: &str) -> Run {
    let bench = Bench::new();
    bench.put("job.ron", scene);
    bench.run(&["check", "--json", "job.ron"])
}

fn report(scene: &str) -> Value {
    let run = run(scene);
    assert_eq!(run.err, "");
    serde_json::from_str(&run.out).unwrap()
}

/// What a key may hold.
#[derive(Clone, Copy)]
enum Is {
    Text,
    Flag,
    Number,
    MaybeNumber,
    Count,
    MaybeCount,
    MaybeText,
    Point,
    MaybePoint,
    /// East, north.
    Outline,
    Texts,
    Rows(&'static [(&'static str, Is)]),
    One(&'static [(&'static str, Is)]),
}

use Is::*;

const REPORT: &[(&str, Is)] = &[
    ("format", Text),
    ("scene", Text),
    ("verdict", Text),
    ("basis", One(BASIS)),
    ("conditions", One(CONDITIONS)),
    ("pole", One(POLE)),
    ("wires", Rows(WIRE)),
    ("gaps", Rows(GAP)),
    ("way_out", Rows(WAY_OUT)),
    ("swept", Rows(SWEPT)),
    ("capacity", Rows(CAPACITY)),
    ("floats", Rows(FLOAT)),
    ("covers", Rows(COVER)),
    ("held_out", Rows(HELD_OUT)),
    ("chokers", Rows(CHOKER)),
    ("steps", Rows(STEP)),
    ("findings", Rows(FINDING)),
    ("allowances", Rows(ALLOWANCE)),
    ("assumed", Texts),
    ("not_checked", Texts),
    ("sources", Texts),
];

const CONDITIONS: &[(&str, Is)] = &[("altitude_m", Number), ("circuits", Rows(CIRCUIT)), ("wind_m_s", MaybeNumber)];

const CIRCUIT: &[(&str, Is)] = &[("name", Text), ("voltage_v", Number), ("grounding", Text)];

const BASIS: &[(&str, Is)] = &[
    ("route", Text),
    ("job_date", MaybeText),
    ("job_number", MaybeText),
    ("people", Rows(PERSON)),
    ("answers", Rows(ANSWER)),
    ("live_machines", Rows(LIVE_MACHINE)),
    ("standing_employer", MaybeText),
    ("standing_file", MaybeText),
];

const PERSON: &[(&str, Is)] = &[("name", Text), ("roles", Texts), ("qualified_for", Texts)];

const ANSWER: &[(&str, Is)] = &[
    ("item", Text),
    ("asked", Text),
    ("kind", Text),
    ("filled_in", Flag),
    ("who", Texts),
    ("when", MaybeText),
    ("document", MaybeText),
    ("how", MaybeText),
    ("distance_m", MaybeNumber),
    ("reason", MaybeText),
    ("paragraph", MaybeText),
    ("valid_until", MaybeText),
];

const LIVE_MACHINE: &[(&str, Is)] = &[
    ("machine", Text),
    ("covered", MaybeText),
    ("insulated", MaybeText),
    ("ground", MaybeText),
    ("bond", MaybeText),
    ("mats", MaybeText),
    ("barricade", MaybeText),
    ("shown", MaybeText),
    ("shown_document", MaybeText),
    ("grounded_to", MaybeText),
    ("keeps_off", MaybeText),
    ("who", Texts),
    ("when", MaybeText),
    ("document", MaybeText),
    ("how", MaybeText),
];

const POLE: &[(&str, Is)] = &[
    ("name", Text),
    ("length_m", Number),
    ("mass_kg", MaybeNumber),
    ("mass_low_kg", MaybeNumber),
    ("balance_from_butt_m", MaybeNumber),
    ("balance_low_from_butt_m", MaybeNumber),
    ("pick_from_butt_m", Number),
    ("hang_tilt_deg", MaybeNumber),
    ("butt_hold_force_n", MaybeNumber),
    ("hook_load_butt_grounded_kg", MaybeNumber),
    ("setting_depth_m", Number),
    ("source", Text),
];

const WIRE: &[(&str, Is)] = &[
    ("wire", Text),
    ("weather", Text),
    ("state", Text),
    ("span_m", Number),
    ("horizontal_tension_n", MaybeNumber),
    ("horizontal_tension_low_n", MaybeNumber),
    ("horizontal_tension_high_n", MaybeNumber),
    ("sag_m", Number),
    ("sag_low_m", Number),
    ("sag_high_m", Number),
    ("blowout_deg", Number),
    ("lowest_point", Point),
];

const GAP: &[(&str, Is)] = &[
    ("body", Text),
    ("other", Text),
    ("other_kind", Text),
    ("weather", Text),
    ("low_m", Number),
    ("high_m", Number),
    ("allowance_m", Number),
    ("required_m", Number),
    ("margin_m", Number),
    ("state", Text),
    ("time_s", MaybeNumber),
    ("step", MaybeCount),
    ("first_step", MaybeCount),
    ("gap_there_m", MaybeNumber),
    ("point_on_body", MaybePoint),
    ("point_on_other", MaybePoint),
    ("rule", Text),
];

const WAY_OUT: &[(&str, Is)] = &[
    ("step", Count),
    ("of", Text),
    ("way", MaybeText),
    ("ends", MaybeText),
    ("none_because", MaybeText),
    ("state", MaybeText),
    ("body", MaybeText),
    ("other", MaybeText),
    ("weather", MaybeText),
    ("passing_step", MaybeCount),
    ("low_m", MaybeNumber),
    ("allowance_m", MaybeNumber),
    ("required_m", MaybeNumber),
    ("margin_m", MaybeNumber),
];

const SWEPT: &[(&str, Is)] = &[
    ("body", Text),
    ("step", Count),
    ("volume_low_m3", MaybeNumber),
    ("volume_high_m3", MaybeNumber),
    ("footprint_m", Outline),
];

const CAPACITY: &[(&str, Is)] = &[
    ("step", Count),
    ("time_s", Number),
    ("radius_m", Number),
    ("boom_length_m", Number),
    ("boom_angle_deg", Number),
    ("load_kg", MaybeNumber),
    ("rated_kg", MaybeNumber),
    ("used_percent", MaybeNumber),
    ("used_low_percent", MaybeNumber),
    ("ruled_by", Text),
];

const FLOAT: &[(&str, Is)] = &[
    ("name", Text),
    ("max_n", Number),
    ("step", Count),
    ("pressure_pa", Number),
    ("allowed_pa", MaybeNumber),
    ("blocking_m", MaybeNumber),
];

const COVER: &[(&str, Is)] = &[
    ("name", Text),
    ("on", Text),
    ("from_m", Number),
    ("to_m", Number),
    ("class", Text),
    ("method", Text),
    ("pieces", MaybeCount),
    ("on_after_step", MaybeCount),
    ("off_before_step", MaybeCount),
];

const HELD_OUT: &[(&str, Is)] = &[
    ("name", Text),
    ("wire", Text),
    ("side_force_n", MaybeNumber),
    ("tension_high_n", MaybeNumber),
    ("on_after_step", MaybeCount),
    ("off_before_step", MaybeCount),
];

const CHOKER: &[(&str, Is)] =
    &[("way", Text), ("low_from_butt_m", MaybeNumber), ("high_from_butt_m", MaybeNumber), ("why", Text)];

const STEP: &[(&str, Is)] = &[
    ("step", Count),
    ("name", Text),
    ("from_s", MaybeNumber),
    ("to_s", MaybeNumber),
    ("signals", Texts),
    ("hold", MaybeText),
];

const FINDING: &[(&str, Is)] = &[
    ("grade", Text),
    ("code", Text),
    ("message", Text),
    ("step", MaybeCount),
    ("time_s", MaybeNumber),
    ("value", MaybeNumber),
    ("limit", MaybeNumber),
    ("unit", Text),
    ("rule", Text),
    ("fix", Text),
];

const ALLOWANCE: &[(&str, Is)] = &[("what", Text), ("value_m", Number), ("reason", Text)];

/// Holds an object against its list of keys, all of them and no other, in this order.
#[track_caller]
fn hold(path: &str, value: &Value, shape: &[(&str, Is)]) {
    let object = value.as_object().unwrap_or_else(|| panic!("{path} is no object: {value}"));
    let keys: Vec<&str> = object.keys().map(String::as_str).collect();
    let expected: Vec<&str> = shape.iter().map(|(key, _)| *key).collect();
    assert_eq!(keys, expected, "{path}");
    for (key, is) in shape {
        hold_value(&format!("{path}.{key}"), &object[*key], *is);
    }
}

#[track_caller]
fn hold_value(path: &str, value: &Value, is: Is) {
    let number = |v: &Value| v.as_f64().is_some_and(f64::is_finite);
    let point = |v: &Value| v.as_array().is_some_and(|a| a.len() == 3 && a.iter().all(number));
    let good = match is {
        Text => value.is_string(),
        Flag => value.is_boolean(),
        Number => number(value),
        MaybeNumber => value.is_null() || number(value),
        Count => value.is_u64(),
        MaybeCount => value.is_null() || value.is_u64(),
        MaybeText => value.is_null() || value.is_string(),
        Point => point(value),
        MaybePoint => value.is_null() || point(value),
        Outline => value.as_array().is_some_and(|points| {
            points.iter().all(|p| p.as_array().is_some_and(|p| p.len() == 2 && p.iter().all(Value::is_number)))
        }),
        Texts => value.as_array().is_some_and(|a| a.iter().all(Value::is_string)),
        One(shape) => {
            hold(path, value, shape);
            true
        }
        Rows(shape) => {
            for (i, row) in value.as_array().unwrap_or_else(|| panic!("{path} is no list")).iter().enumerate() {
                hold(&format!("{path}[{i}]"), row, shape);
            }
            true
        }
    };
    assert!(good, "{path} is {value}");
}

/// A pole that cannot hang: choked below its balance point.
fn choked_low() -> String {
    set(ALDER_ROAD, "choker_from_butt", "12 ft")
}

#[test]
fn the_object_has_exactly_its_keys_with_the_right_types() {
    for scene in [JUNIPER_LANE, ALDER_ROAD, &choked_low()] {
        let report = report(scene);
        hold("report", &report, REPORT);
        assert_eq!(report["format"], "plumbrise-report/1");
    }
}

#[test]
fn one_object_is_printed_for_each_scene() {
    let bench = Bench::new();
    bench.put("one.ron", JUNIPER_LANE);
    bench.put("two.ron", ALDER_ROAD);
    let run = bench.run(&["check", "--json", "one.ron", "two.ron"]);
    let objects: Vec<Value> =
        serde_json::Deserializer::from_str(&run.out).into_iter::<Value>().map(Result::unwrap).collect();
    let names: Vec<&str> = objects.iter().map(|o| o["scene"].as_str().unwrap()).collect();
    assert_eq!(names, ["Juniper Lane, pole 7A, over the top between A and B", "Alder Road, pole 3"]);
}

#[test]
fn every_margin_is_the_gap_less_allowances_and_the_required_distance() {
    for scene in [JUNIPER_LANE, ALDER_ROAD] {
        let report = report(scene);
        let gaps = report["gaps"].as_array().unwrap();
        assert!(gaps.len() > 20);
        for row in gaps {
            let m = |key: &str| row[key].as_f64().unwrap();
            assert!((m("margin_m") - (m("low_m") - m("allowance_m") - m("required_m"))).abs() < 1e-9, "{row}");
            assert!(m("low_m") <= m("high_m"), "{row}");
            // What is printed beside the instant is the gap there, and the two points are so far apart.
            if let (Some(there_m), Some(a), Some(b)) =
                (row["gap_there_m"].as_f64(), row["point_on_body"].as_array(), row["point_on_other"].as_array())
            {
                let apart_m = a
                    .iter()
                    .zip(b)
                    .map(|(a, b)| (a.as_f64().unwrap() - b.as_f64().unwrap()).powi(2))
                    .sum::<f64>()
                    .sqrt();
                assert!(there_m >= m("low_m") - 1e-6 && (apart_m - there_m).abs() < 1e-3, "{apart_m} {row}");
            }
            assert!(m("allowance_m") >= 0.0 && m("required_m") >= 0.0, "{row}");
        }
    }
}

#[test]
fn every_pair_stands_in_one_of_five_states_which_fits_its_numbers() {
    for scene in [JUNIPER_LANE, ALDER_ROAD] {
        for row in report(scene)["gaps"].as_array().unwrap() {
            let m = |key: &str| row[key].as_f64().unwrap();
            let state = row["state"].as_str().unwrap();
            assert!(["touch", "undecided", "short", "covered", "apart"].contains(&state), "{row}");
            assert!(["wire", "body", "terrain", "obstacle"].contains(&row["other_kind"].as_str().unwrap()), "{row}");
            match state {
                "apart" => assert!(m("margin_m") >= 0.0, "{row}"),
                "short" | "covered" => assert!(m("margin_m") < 0.0, "{row}"),
                _ => {}
            }
            if m("low_m") - m("allowance_m") <= 0.0 {
                assert_eq!(state, "touch", "{row}");
            }
            // A pair that is far apart anyway need not be measured to the millimeter; its low end holds.
            if state != "undecided" && state != "apart" {
                assert!(m("high_m") - m("low_m") <= 0.001 + 1e-12, "{row}");
            }
        }
    }
}

#[test]
fn there_is_a_row_for_every_body_wire_and_weather() {
    let report = report(JUNIPER_LANE);
    let mut seen: Vec<[&str; 3]> = Vec::new();
    for row in report["gaps"].as_array().unwrap().iter().filter(|row| row["other_kind"] == "wire") {
        seen.push(["body", "other", "weather"].map(|key| row[key].as_str().unwrap()));
    }
    let each = |i: usize| seen.iter().map(|row| row[i]).collect::<std::collections::BTreeSet<_>>();
    let (bodies, wires, weathers) = (each(0), each(1), each(2));
    for body in ["boom", "hoist line", "hook block", "rigging", "pole"] {
        assert!(bodies.contains(body), "{bodies:?}");
    }
    assert_eq!(wires, std::collections::BTreeSet::from(["A", "B", "C", "neutral"]));
    assert_eq!(weathers, std::collections::BTreeSet::from(["still", "breeze"]));
    assert_eq!(seen.len(), bodies.len() * wires.len() * weathers.len());
}

#[test]
fn the_verdict_follows_from_the_findings_and_from_what_was_not_checked() {
    for scene in [JUNIPER_LANE, ALDER_ROAD, &choked_low()] {
        let report = report(scene);
        let grades: Vec<&str> =
            report["findings"].as_array().unwrap().iter().map(|f| f["grade"].as_str().unwrap()).collect();
        assert!(grades.iter().all(|grade| ["stop", "caution", "note"].contains(grade)));
        let verdict = report["verdict"].as_str().unwrap();
        assert_eq!(verdict == "stop", grades.contains(&"stop"));
        if !report["not_checked"].as_array().unwrap().is_empty() {
            assert_ne!(verdict, "no_stop_found");
        }
        assert_eq!(run(scene).status, i32::from(verdict == "stop"));
    }
}

#[test]
fn every_pair_that_is_not_apart_has_its_finding() {
    for scene in [JUNIPER_LANE, ALDER_ROAD] {
        let report = report(scene);
        let findings = report["findings"].as_array().unwrap();
        for row in report["gaps"].as_array().unwrap().iter().filter(|row| row["state"] != "apart") {
            let [body, other] = ["body", "other"].map(|key| row[key].as_str().unwrap());
            let state = row["state"].as_str().unwrap();
            let of_wire = row["other_kind"] == "wire";
            let (code, other) = if of_wire {
                (format!("approach_{state}"), format!("wire {other}"))
            } else {
                (format!("body_{state}"), other.to_owned())
            };
            let about = |f: &&Value| {
                let message = f["message"].as_str().unwrap();
                message.contains(body) && message.contains(&other)
            };
            let found: Vec<&Value> = findings.iter().filter(about).collect();
            assert!(!found.is_empty(), "{row}");
            if !of_wire {
                assert!(found.iter().any(|f| f["code"] == code.as_str()), "{row}");
                continue;
            }
            // Another weather of the same pair may be worse; never better.
            let worst = ["approach_touch", "approach_undecided", "approach_short", "approach_covered"];
            let rank = |code: &str| worst.iter().position(|c| *c == code).unwrap_or(worst.len());
            assert!(found.iter().any(|f| rank(f["code"].as_str().unwrap()) <= rank(&code)), "{row}");
        }
    }
}

#[test]
fn what_is_missing_is_null_and_has_a_stop() {
    let report = report(&choked_low());
    assert!(report["pole"]["hang_tilt_deg"].is_null(), "{}", report["pole"]);
    assert_eq!(report["gaps"], serde_json::json!([]));
    let stops: Vec<&str> = report["findings"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|f| f["grade"] == "stop")
        .map(|f| f["code"].as_str().unwrap())
        .collect();
    assert!(stops.contains(&"motion_unknown"), "{stops:?}");
    assert!(stops.iter().any(|code| code.contains("balance")), "{stops:?}");
}

#[test]
fn a_position_outside_the_chart_is_null_and_a_stop() {
    let scene = changed(
        JUNIPER_LANE,
        "at: (\"0 ft\", \"-38 ft\", \"0 ft\"),\n    heading",
        "at: (\"0 ft\", \"-96 ft\", \"0 ft\"),\n    heading",
    );
    let report = report(&scene);
    hold("report", &report, REPORT);
    let unrated = report["capacity"].as_array().unwrap().iter().filter(|row| row["used_percent"].is_null()).count();
    let stops = report["findings"].as_array().unwrap().iter().filter(|f| f["grade"] == "stop");
    let codes: Vec<&str> = stops.map(|f| f["code"].as_str().unwrap()).collect();
    assert!(unrated == 0 || codes.iter().any(|code| code.contains("chart")), "{codes:?}");
    assert!(report["verdict"] == "stop");
}
