//! What the example scenes teach, held to it.

use scene_core::check::check;
use scene_core::finding::Grade;
use scene_core::report::{OtherKind, Report, Verdict};
use scene_core::rules::PairState;
use std::collections::BTreeSet;

fn report(name: &str, text: &str) -> Report {
    let site = scene_core::scene::read(name, text).and_then(|scene| scene.site());
    check(&site.unwrap_or_else(|faults| panic!("{}", faults.iter().map(ToString::to_string).collect::<String>())))
}

fn stops(report: &Report) -> BTreeSet<&str> {
    report.findings.iter().filter(|f| f.grade == Grade::Stop).map(|f| f.code).collect()
}

#[test]
fn the_job_done_as_it_should_be_has_no_stop_and_rests_on_double_cover() {
    let report = report("01", include_str!("../../scenes/01_juniper_lane.ron"));
    assert_eq!(stops(&report), BTreeSet::new());
    assert_eq!(report.verdict, Verdict::Caution);
    let pole: Vec<_> =
        report.gaps.iter().filter(|gap| gap.body == "pole" && gap.other_kind == OtherKind::Wire).collect();
    assert_eq!(pole.len(), 8, "four wires, two weathers");
    assert!(pole.iter().all(|gap| gap.state >= PairState::Covered));
    assert!(pole.iter().any(|gap| gap.state == PairState::Covered));
    // Nothing but the pole comes nearer than the distance.
    assert!(
        report
            .gaps
            .iter()
            .filter(|gap| gap.body != "pole" || gap.other_kind != OtherKind::Wire)
            .all(|gap| gap.state == PairState::Apart)
    );
}

#[test]
fn every_pair_is_known_to_a_millimetre_but_for_wires_on_their_way() {
    let report = report("01", include_str!("../../scenes/01_juniper_lane.ron"));
    assert!(report.gaps.len() > 50);
    let aside = |name: &str| name.starts_with("Hold ") || name.starts_with("Let ");
    for gap in &report.gaps {
        let on_its_way = gap.step.is_some_and(|step| aside(&report.steps[step].name));
        let known_to_m = if on_its_way { 0.1 } else { 1e-3 };
        assert!(gap.low_m <= gap.high_m && gap.high_m - gap.low_m <= known_to_m, "{gap:?}");
    }
}

#[test]
fn the_first_sketch_is_stopped_for_each_of_its_four_mistakes() {
    let report = report("02", include_str!("../../scenes/02_juniper_lane_first_sketch.ron"));
    assert_eq!(report.verdict, Verdict::Stop);
    let short = |body: &str, wire: &str| {
        report.gaps.iter().any(|g| g.body == body && g.other == wire && g.state <= PairState::Short)
    };
    assert!(short("boom", "C"), "the crane on the wrong side lays its boom over the line");
    assert!(short("hook block", "B") && short("hoist line", "B"), "the low choke brings hook and line into the slot");
    assert!(short("pole", "B"), "B lies bare");
    assert!(stops(&report).contains("over_rated_capacity"), "over the chart at the far radius");
    for finding in report.findings.iter().filter(|f| f.grade == Grade::Stop) {
        assert!(!finding.mend.is_empty(), "{finding:?}");
    }
}

#[test]
fn one_hose_left_off_stops_the_pole_at_that_wire_and_nothing_else() {
    let covered = include_str!("../../scenes/01_juniper_lane.ron");
    let hose_on_b = covered.find("    (\n      name: \"hose on B\"").unwrap();
    let hose_on_c = covered.find("    (\n      name: \"hose on C\"").unwrap();
    let bare = report("bare", &format!("{}{}", &covered[..hose_on_b], &covered[hose_on_c..]));
    let short: Vec<_> =
        bare.gaps.iter().filter(|g| g.state <= PairState::Short).map(|g| (&*g.body, &*g.other)).collect();
    assert_eq!(short, [("pole", "B")]);
    let said = bare.findings.iter().find(|f| f.code == "approach_short").unwrap();
    assert!(said.message.contains("the wire lies bare there"), "{}", said.message);
    assert!(said.mend.starts_with("Cover B"), "{}", said.mend);
}

#[test]
fn the_scene_to_start_from_is_stopped_by_what_nobody_has_arranged_yet() {
    let report = report("new", scene_core::scene::template());
    assert_eq!(stops(&report), BTreeSet::from(["not_arranged"]));
}

#[test]
fn wire_rope_makes_hook_and_pole_one_conductor_between_two_phases() {
    let synthetic = include_str!("../../scenes/01_juniper_lane.ron");
    let wire_rope = synthetic.replace("material: non_conductive", "material: wire_rope");
    assert_ne!(synthetic, wire_rope);
    let required = |text: &str| {
        let report = report("01", text);
        let hook = report.gaps.iter().filter(|g| g.body == "hook block" && g.other == "A");
        hook.map(|g| g.required_m).fold(0.0, f64::max)
    };
    // 29 CFR 1910.269 Table R-6, row 5.1-15.0 kV: 0.65 m phase to ground, 0.68 m phase to phase.
    assert_eq!(required(synthetic), 0.65);
    assert_eq!(required(&wire_rope), 0.68);
}
