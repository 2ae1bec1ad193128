//! Facts that a scene states wrongly, too weakly, or not at all: voltage, wires of a circuit, wind, depth, floats, choke.
//!
//! Each row edits the text of an example as a person would.

use super::has_stop;
use scene_core::scene;
use scene_core::site::Site;

/// What is wrong, the edits (a text of the example, and what stands there instead), and the code of the stop.
type Row = (&'static str, &'static [(&'static str, &'static str)], &'static str);

const JUNIPER: &str = include_str!("../../scenes/01_juniper_lane.ron");
const LARCH: &str = include_str!("../../scenes/04_larch_bank.ron");
const KESTREL: &str = include_str!("../../scenes/05_kestrel_yard.ron");

const VOLTAGE: &str = "voltage: \"7.2/12.47 kV\"";
const GROUNDED: &str = "grounding: effectively_grounded";
const PHASES: &str = ", phases: three";
const NEUTRAL: &str = ", neutral: own)";
const STOP_WORK: &str = "stop_work_wind: (wind: \"10 mph\", source: \"foreman Dale, by the briefing sheet\"),";
const CHOKE: &str = "choke_angle: \"130 deg\",";
const SAG: &str = "hang: [sag(\"3 ft 4 in to 3 ft 8 in\")],";
const HANDS: &str = "      hands: \"stick, with class 2 gloves and sleeves\",\n";
const INTO_THE_HOLE: &str = "    (name: \"Into the hole\", do: lower_to(\"-7 ft 6 in\")),\n";
const STANDS: &str = "    (name: \"Stands\", do: hold(\"Depth right, faced, plumb from two sides, backfill tamped to half depth at least?\")),\n";
const LET_GO: &str = "    (name: \"Let go\", do: release),\n";
const BOOM_AWAY: &str =
    "    (name: \"Boom away\", do: boom_away(point: (\"-17 ft\", \"-22 ft\", \"0 ft\"), hook_height: \"62 ft\")),\n";
const DEPTH: &str = "setting_depth: \"7 ft 6 in\",";
const HOLE_DEPTH: &str = "depth: \"7 ft 6 in\", diameter";
const INTO_HOLE: &str = "lower_to(\"-7 ft 6 in\")";

const OF_JUNIPER_LANE: &[Row] = &[
    // ---- voltage
    ("the voltage to ground alone", &[(VOLTAGE, "voltage: \"7.2 kV\"")], "voltage_to_ground_alone"),
    ("the voltage to ground alone, in volts", &[(VOLTAGE, "voltage: \"7620 V\"")], "voltage_to_ground_alone"),
    (
        "the voltage to ground alone, of a higher circuit",
        &[(VOLTAGE, "voltage: \"14.4 kV\"")],
        "voltage_to_ground_alone",
    ),
    ("the voltage to ground alone, of the highest", &[(VOLTAGE, "voltage: \"19.92 kV\"")], "voltage_to_ground_alone"),
    ("the voltage to ground alone, rounded", &[(VOLTAGE, "voltage: \"7.9 kV\"")], "voltage_to_ground_alone"),
    ("the voltage to ground alone, of 46 kV", &[(VOLTAGE, "voltage: \"26.6 kV\"")], "voltage_to_ground_alone"),
    ("277 V alone", &[(VOLTAGE, "voltage: \"277 V\"")], "voltage_to_ground_alone"),
    ("one figure that is on both lists", &[(VOLTAGE, "voltage: \"13.2 kV\"")], "voltage_on_both_lists"),
    ("one figure that is on both lists, 12", &[(VOLTAGE, "voltage: \"12 kV\"")], "voltage_on_both_lists"),
    ("2.4 kV and no word whether it is a delta", &[(VOLTAGE, "voltage: \"2400 V\"")], "voltage_on_both_lists"),
    ("4.8 kV and no word whether it is a delta", &[(VOLTAGE, "voltage: \"4.8 kV\"")], "voltage_on_both_lists"),
    ("6.9 kV and no word whether it is a delta", &[(VOLTAGE, "voltage: \"6.9 kV\"")], "voltage_on_both_lists"),
    ("one figure that no list has", &[(VOLTAGE, "voltage: \"10 kV\"")], "voltage_unlisted"),
    ("what the meter showed instead of the nominal voltage", &[(VOLTAGE, "voltage: \"7.5 kV\"")], "voltage_unlisted"),
    ("one figure known from memory alone", &[(VOLTAGE, "voltage: \"115 kV\"")], "voltage_unlisted"),
    ("two figures of two circuits", &[(VOLTAGE, "voltage: \"7.2/13.8 kV\"")], "voltage_pair_disagrees"),
    ("one figure typed twice", &[(VOLTAGE, "voltage: \"7.2/7.2 kV\"")], "voltage_pair_disagrees"),
    ("two figures of which one is in volts", &[(VOLTAGE, "voltage: \"7200 V/14.4 kV\"")], "voltage_pair_disagrees"),
    ("two figures two percent off", &[(VOLTAGE, "voltage: \"7.2/12.72 kV\"")], "voltage_pair_disagrees"),
    (
        "the voltage between phases of one circuit as that to ground of another",
        &[(VOLTAGE, "voltage: \"4.16/7.2 kV\"")],
        "voltage_to_ground_alone",
    ),
    ("half of a pair that agrees with itself", &[(VOLTAGE, "voltage: \"8.32/14.4 kV\"")], "voltage_to_ground_alone"),
    ("a delta that is grounded", &[(VOLTAGE, "voltage: \"4.8 kV delta\"")], "delta_stated_grounded"),
    ("a delta to pass 7.2 kV", &[(VOLTAGE, "voltage: \"7.2 kV DELTA\"")], "delta_stated_grounded"),
    ("a delta without a blank before the word", &[(VOLTAGE, "voltage: \"12.47 kVdelta\"")], "delta_stated_grounded"),
    // ---- wires of the circuit
    ("how many phases are here is not said", &[(PHASES, "")], "phases_not_stated"),
    (
        "a phase left out of the scene",
        &[
            ("carries: phase(\"Juniper 4\")", "carries: communication"),
            ("communication: absent(\"none on this line, walked 2 March\")", "communication: listed([\"A\"])"),
        ],
        "fewer_phases_than_stated",
    ),
    (
        "a phase that ends before the hole",
        &[
            ("(\"150 ft\", \"5 ft\", \"33 ft\")]", "(\"-20 ft\", \"5 ft\", \"33 ft\")]"),
            (
                "name: \"hose on C\",\n      over: wire(name: \"C\", stations: \"-14 ft to 14 ft\")",
                "name: \"hose on C\",\n      over: wire(name: \"A\", stations: \"-14 ft to 14 ft\")",
            ),
            ("wire: \"C\",\n      station: \"0 ft\"", "wire: \"C\",\n      station: \"-60 ft\""),
        ],
        "fewer_phases_than_stated",
    ),
    (
        "a phase that is listed as a jumper",
        &[("jumpers: absent(\"none between poles 7 and 8, walked 2 March\")", "jumpers: listed([\"C\"])")],
        "fewer_phases_than_stated",
    ),
    ("whether the neutral is here is not said", &[(NEUTRAL, ")")], "neutral_not_stated"),
    ("a neutral stated as none", &[(NEUTRAL, ", neutral: none)")], "neutral_stated_none"),
    (
        "a neutral typed as communication",
        &[
            ("carries: neutral(\"Juniper 4\")", "carries: communication"),
            ("communication: absent(\"none on this line, walked 2 March\")", "communication: listed([\"neutral\"])"),
        ],
        "neutral_wire_missing",
    ),
    (
        "a neutral typed as a phase",
        &[("carries: neutral(\"Juniper 4\")", "carries: phase(\"Juniper 4\")")],
        "neutral_wire_missing",
    ),
    (
        "a neutral that is listed as a guy",
        &[("guys: absent(\"none within 100 ft of the hole, walked 2 March\")", "guys: listed([\"neutral\"])")],
        "neutral_wire_missing",
    ),
    (
        "a single-phase tap of one wire",
        &[(PHASES, ", phases: single_phase_tap"), (NEUTRAL, ", neutral: none)")],
        "tap_without_return",
    ),
    // ---- wind
    ("no word on the wind at which work stops", &[(STOP_WORK, "")], "stop_work_wind_missing"),
    (
        "work that stops at a wind nobody looked at",
        &[(STOP_WORK, "stop_work_wind: (wind: \"15 mph\", source: \"foreman Dale\"),")],
        "no_case_at_stop_work_wind",
    ),
    ("still air alone", &[("    (name: \"breeze\", wind: \"10 mph\"),\n", "")], "no_case_at_stop_work_wind"),
    (
        "a case a little below the wind at which work stops",
        &[("wind: \"10 mph\"),\n  ],", "wind: \"9.9 mph\"),\n  ],")],
        "no_case_at_stop_work_wind",
    ),
    (
        "a wind in the wrong unit",
        &[("wind: \"10 mph\"),\n  ],", "wind: \"10 km/h\"),\n  ],")],
        "no_case_at_stop_work_wind",
    ),
    (
        "a wind above that of the crane",
        &[("wind: \"10 mph\"),\n  ],", "wind: \"31 mph\"),\n  ],")],
        "wind_over_crane_limit",
    ),
    ("a gale in meters a second", &[("wind: \"10 mph\"),\n  ],", "wind: \"14 m/s\"),\n  ],")], "wind_over_crane_limit"),
    (
        "work that goes on above the crane's wind",
        &[
            (STOP_WORK, "stop_work_wind: (wind: \"35 mph\", source: \"foreman Dale\"),"),
            ("wind: \"10 mph\"),\n  ],", "wind: \"35 mph\"),\n  ],"),
        ],
        "wind_over_crane_limit",
    ),
    // ---- unusual facts of a wire
    ("a sag in feet that is one in yards", &[(SAG, "hang: [sag(\"20 ft to 24 ft\")],")], "sag_far_beyond_usual"),
    ("a tension in pounds typed in newtons", &[(SAG, "hang: [tension(\"250 N to 300 N\")],")], "sag_far_beyond_usual"),
    (
        "a sag far beyond its usual that \"x\" measured",
        &[(SAG, "hang: [sag(\"20 ft to 24 ft\")], measured: (sags: (by: \"x\", how: \"x\", on: \"x\")),")],
        "sag_far_beyond_usual",
    ),
    (
        "a sag far beyond its usual whose heights alone were measured",
        &[(
            SAG,
            "hang: [sag(\"20 ft to 24 ft\")], measured: (heights: (by: \"Hale\", how: \"stick\", on: \"2 March\")),",
        )],
        "sag_far_beyond_usual",
    ),
    (
        "a phase that ends in the open past the hole",
        &[("(\"150 ft\", \"-5 ft\", \"33 ft\")]", "(\"20 ft\", \"-5 ft\", \"33 ft\")]")],
        "wire_ends_in_the_open",
    ),
    (
        "a phase that begins in the open before the hole",
        &[("[(\"-150 ft\", \"-5 ft\", \"33 ft\")", "[(\"-30 ft\", \"-5 ft\", \"33 ft\")")],
        "wire_ends_in_the_open",
    ),
    (
        "a neutral that ends in the open past the hole",
        &[("(\"150 ft\", \"2 ft 6 in\", \"27 ft\")]", "(\"25 ft\", \"2 ft 6 in\", \"27 ft\")]")],
        "wire_ends_in_the_open",
    ),
    (
        "a phase that ends over the observer's head",
        &[("[(\"-150 ft\", \"5 ft\", \"33 ft\")", "[(\"-40 ft\", \"5 ft\", \"33 ft\")")],
        "wire_ends_in_the_open",
    ),
    // ---- the order of the work
    (
        "a phase let back while the pole hangs",
        &[("ends: before(\"Let B back\")", "ends: before(\"Take off the butt guards\")")],
        "held_out_under_load",
    ),
    (
        "a phase put out while the pole hangs",
        &[("starts: after(\"Hold B aside\")", "starts: after(\"Take off the butt guards\")")],
        "held_out_under_load",
    ),
    (
        "a phase let back while the pole is lowered past it",
        &[("ends: before(\"Let B back\")", "ends: before(\"Lower between A and B\")")],
        "held_out_while_moving",
    ),
    (
        "a phase put out while the load is taken",
        &[("starts: after(\"Hold B aside\")", "starts: after(\"Take the load\")")],
        "held_out_under_load",
    ),
    (
        "a phase let back while the boom goes away",
        &[("ends: before(\"Let B back\")", "ends: before(\"Boom away\")")],
        "held_out_while_moving",
    ),
    (
        "a phase put out while the bucket moves",
        &[("starts: after(\"Hold B aside\")", "starts: after(\"Bucket truck stowed\")")],
        "held_out_while_moving",
    ),
    ("guards taken off by hands that nothing protects", &[(HANDS, "")], "guard_hands_not_protected"),
    (
        "guards taken off by hands that \"none\" protects",
        &[(HANDS, "      hands: \"none\",\n")],
        "guard_hands_not_protected",
    ),
    (
        "guards taken off after the release by bare hands",
        &[("ends: never,", "ends: before(\"Let B back\"),")],
        "guard_hands_not_protected",
    ),
    (
        "guards put on the hanging pole by bare hands",
        &[("starts: at_start,\n      ends: never,", "starts: after(\"Hangs as planned\"),\n      ends: never,")],
        "guard_hands_not_protected",
    ),
    // ---- how the job ends
    (
        "a job that ends with the pole on the hook",
        &[(INTO_THE_HOLE, ""), (STANDS, ""), (LET_GO, ""), (BOOM_AWAY, "")],
        "ends_on_hook",
    ),
    ("a job that ends with the choker on", &[(LET_GO, ""), (BOOM_AWAY, "")], "ends_on_hook"),
    // ---- depth
    (
        "a pole a foot too shallow",
        &[(DEPTH, "setting_depth: \"6 ft 6 in\","), (INTO_HOLE, "lower_to(\"-6 ft 6 in\")")],
        "pole_set_too_shallow",
    ),
    (
        "a pole an inch beyond what may be missing",
        &[(DEPTH, "setting_depth: \"6 ft 11 in\","), (INTO_HOLE, "lower_to(\"-6 ft 11 in\")")],
        "pole_set_too_shallow",
    ),
    (
        "a pole as deep as in rock, and no word of rock",
        &[
            (DEPTH, "setting_depth: \"5 ft\","),
            (HOLE_DEPTH, "depth: \"5 ft\", diameter"),
            (INTO_HOLE, "lower_to(\"-5 ft\")"),
        ],
        "pole_set_too_shallow",
    ),
    (
        "rock that nobody saw",
        &[(DEPTH, "setting_depth: \"5 ft\", shallow: rock(by: \"x\", how: \"x\", on: \"x\"),")],
        "pole_set_too_shallow",
    ),
    (
        "rock, and shallower than in rock",
        &[(DEPTH, "setting_depth: \"4 ft 6 in\", shallow: rock(by: \"Hale\", how: \"rock drill\", on: \"2 March\"),")],
        "pole_set_too_shallow",
    ),
    (
        "an engineer without a document",
        &[(DEPTH, "setting_depth: \"5 ft\", shallow: engineer(by: \"Lund\", document: \"none\"),")],
        "pole_set_too_shallow",
    ),
    // ---- floats
    ("floats not far enough out across", &[("left: \"10 ft\"", "left: \"7 ft\"")], "floats_narrow"),
    ("floats not far enough out along", &[("rear: \"9 ft\"", "rear: \"6 ft\"")], "floats_narrow"),
    (
        "floats half out on both sides",
        &[("left: \"10 ft\"", "left: \"6 ft\""), ("right: \"10 ft\"", "right: \"6 ft\"")],
        "floats_narrow",
    ),
    // ---- choke
    ("no word on the angle of choke", &[(CHOKE, "")], "choke_angle_not_stated"),
    (
        "no word on the angle of choke, but on who measured it",
        &[(CHOKE, "choke_angle: None,")],
        "choke_angle_not_stated",
    ),
];

const OF_LARCH_BANK: &[Row] = &[
    ("a derrick's floats short of the chart's", &[("left: \"6 ft\"", "left: \"4 ft\"")], "floats_narrow"),
    (
        "a derrick in more wind than its maker allows",
        &[("wind: \"10 mph\"),\n  ],", "wind: \"40 mph\"),\n  ],")],
        "wind_over_crane_limit",
    ),
    (
        "a bottom phase left out under the strand",
        &[
            ("name: \"C\",\n      carries: phase(\"Larch 2\")", "name: \"C\",\n      carries: communication"),
            ("listed([\"strand\"])", "listed([\"strand\", \"C\"])"),
        ],
        "fewer_phases_than_stated",
    ),
    (
        "a class 3 pole in half its depth",
        &[("setting_depth: \"6 ft 6 in\"", "setting_depth: \"3 ft 3 in\"")],
        "pole_set_too_shallow",
    ),
];

const OF_KESTREL_YARD: &[Row] = &[
    (
        "a shared neutral that neither circuit has",
        &[
            ("carries: neutral(\"Kestrel 1\")", "carries: communication"),
            ("communication: absent(\"none on this line, walked 11 May\")", "communication: listed([\"neutral\"])"),
        ],
        "neutral_wire_missing",
    ),
    (
        "two phases of the second circuit counted with the first",
        &[("name: \"A2\",\n      carries: phase(\"Kestrel 2\")", "name: \"A2\",\n      carries: phase(\"Kestrel 1\")")],
        "fewer_phases_than_stated",
    ),
    (
        "one circuit by its voltage to ground",
        &[("\"Kestrel 2\", voltage: \"19.9/34.5 kV\"", "\"Kestrel 2\", voltage: \"19.9 kV\"")],
        "voltage_to_ground_alone",
    ),
    (
        "one circuit without its phases",
        &[("phases: three, neutral: shared(\"Kestrel 1\")", "neutral: shared(\"Kestrel 1\")")],
        "phases_not_stated",
    ),
];

/// What a site may lack that a scene file with a machine of the catalog does not.
const OF_THE_MACHINE: &[super::Row] = &[
    ("a crane whose maker says nothing of wind", |s| s.crane.wind_limit = None, "crane_wind_limit_missing"),
    (
        "a crane's wind that nobody stands for",
        |s| s.crane.wind_limit.as_mut().unwrap().source = " ".into(),
        "crane_wind_limit_missing",
    ),
    (
        "a crane's wind that is not a number",
        |s| s.crane.wind_limit.as_mut().unwrap().wind_m_s = f64::NAN,
        "crane_wind_limit_missing",
    ),
    (
        "work that stops at a wind that is not a number",
        |s| s.stop_work_wind.as_mut().unwrap().wind_m_s = f64::NAN,
        "stop_work_wind_missing",
    ),
    ("work that stops in still air", |s| s.stop_work_wind.as_mut().unwrap().wind_m_s = 0.0, "stop_work_wind_missing"),
    ("a case whose wind is not a number", |s| s.weather[1].wind_m_s = f64::NAN, "wind_over_crane_limit"),
    (
        "a job that ends with the load just taken",
        |s| {
            s.steps.truncate(
                1 + s.steps.iter().position(|step| step.action == scene_core::site::Action::TakeLoad).unwrap(),
            )
        },
        "ends_on_hook",
    ),
    ("floats that nobody placed", |s| s.crane.outriggers = None, "floats_not_stated"),
    ("a chart that says nothing of floats", |s| s.crane.chart.floats = None, "chart_spread_not_stated"),
    ("floats whose place is not a number", |s| s.crane.outriggers.as_mut().unwrap().left_m = f64::NAN, "floats_narrow"),
    ("a depth that is not a number", |s| s.pole.setting_depth_m = f64::NAN, "pole_set_too_shallow"),
    (
        "a shared neutral of a circuit that is not there",
        |s| s.circuits[0].neutral = Some(scene_core::site::NeutralHere::Shared(9)),
        "neutral_wire_missing",
    ),
];

#[track_caller]
fn read(text: &str) -> Site {
    scene::read("scene.ron", text).and_then(|scene| scene.site()).unwrap_or_else(|faults| panic!("{}", faults[0]))
}

/// The rows that do not stop.
fn passed(example: &str, rows: &[Row]) -> Vec<(&'static str, &'static str)> {
    let site = read(example);
    let passes = |(what, edits, code): &Row| {
        assert!(!has_stop(&site, code), "the example itself has {code}");
        let edited = edits.iter().fold(example.to_owned(), |text, (from, to)| {
            assert!(text.contains(from), "{what}: {from}");
            text.replacen(from, to, 1)
        });
        (!has_stop(&read(&edited), code)).then_some((*what, *code))
    };
    rows.iter().filter_map(passes).collect()
}

#[test]
fn facts_stated_wrongly_or_not_at_all_stop() {
    let mut left = passed(JUNIPER, OF_JUNIPER_LANE);
    left.extend(passed(LARCH, OF_LARCH_BANK));
    left.extend(passed(KESTREL, OF_KESTREL_YARD));
    assert!(left.is_empty(), "these should have stopped: {left:#?}");
}

#[test]
fn facts_that_a_machine_lacks_stop() {
    let example = read(JUNIPER);
    let passes = |(what, change, code): &super::Row| {
        assert!(!has_stop(&example, code), "the example itself has {code}");
        let mut site = example.clone();
        change(&mut site);
        (!has_stop(&site, code)).then_some((*what, *code))
    };
    let left: Vec<_> = OF_THE_MACHINE.iter().filter_map(passes).collect();
    assert!(left.is_empty(), "these should have stopped: {left:#?}");
}

/// What a careful person writes is not stopped.
#[test]
fn both_voltages_pass_however_they_are_written() {
    let codes = |text: &str| {
        let voltage = |code: &&str| code.starts_with("voltage_") || code.starts_with("delta_");
        let report = scene_core::check::check(&read(&JUNIPER.replacen(VOLTAGE, text, 1)));
        report.findings.iter().map(|finding| finding.code()).filter(voltage).collect::<Vec<_>>()
    };
    for text in ["7.2/12.47 kV", "7200/12470 V", "7.2 kV/12.47 kV", "12.47Y/7.2 kV", "7.62/13.2 kV", "12/20.78 kV"] {
        assert_eq!(codes(&format!("voltage: \"{text}\"")), [""; 0], "{text}");
    }
    assert_eq!(codes("voltage: \"12.47 kV\""), ["voltage_one_figure"]);
    let delta =
        JUNIPER.replacen(VOLTAGE, "voltage: \"4.8 kV delta\"", 1).replacen(GROUNDED, "grounding: ungrounded", 1);
    let report = scene_core::check::check(&read(&delta));
    assert!(!report.findings.iter().any(|f| f.code().starts_with("voltage_") || f.code().starts_with("delta_")));
}

/// The examples that are done as they should be.
#[test]
fn the_examples_have_no_stop() {
    for (name, text) in [
        ("01", JUNIPER),
        ("03", include_str!("../../scenes/03_sorrel_flat.ron")),
        ("04", LARCH),
        ("05", KESTREL),
        ("06", include_str!("../../scenes/06_long_juniper.ron")),
    ] {
        let found = scene_core::check::check(&read(text)).findings;
        let stops: Vec<_> = found.iter().filter(|f| f.grade == scene_core::finding::Grade::Stop).collect();
        assert!(stops.is_empty(), "{name}: {stops:#?}");
    }
}

/// A measurement answers what is only unusual.
#[test]
fn a_whole_measurement_answers_an_unusual_sag() {
    let unusual = |measured: &str| {
        let sag = format!("hang: [sag(\"20 ft to 24 ft\")],{measured}");
        let found = scene_core::check::check(&read(&JUNIPER.replacen(SAG, &sag, 1))).findings;
        found.iter().any(|finding| finding.code().starts_with("sag_"))
    };
    assert!(unusual(""));
    assert!(!unusual(" measured: (sags: (by: \"Hale\", how: \"stick at midspan\", on: \"2 March\")),"));
}
