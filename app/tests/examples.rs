//! What the example scenes teach, held to it.

use scene_core::check::check;
use scene_core::finding::Grade;
use scene_core::report::{Report, Verdict};
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
    let pole: Vec<_> = report.gaps.iter().filter(|gap| gap.body == "pole").collect();
    assert_eq!(pole.len(), 8, "four wires, two weathers");
    assert!(pole.iter().all(|gap| gap.state >= PairState::Covered));
    assert!(pole.iter().any(|gap| gap.state == PairState::Covered));
    // Nothing but the pole comes nearer than the distance.
    assert!(report.gaps.iter().filter(|gap| gap.body != "pole").all(|gap| gap.state == PairState::Apart));
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
fn covering_b_and_holding_it_out_mends_the_pole_but_not_the_low_choke() {
    let bare = include_str!("../../scenes/02_juniper_lane_first_sketch.ron");
    let hose_on_a = bare.find("    (\n      name: \"hose on A\"").unwrap();
    let hose_on_c = bare.find("    (\n      name: \"hose on C\"").unwrap();
    let hose_on_b = bare[hose_on_a..hose_on_c].replace("hose on A", "hose on B").replace("name: \"A\"", "name: \"B\"");
    let covered = format!("{}{hose_on_b}{}", &bare[..hose_on_c], &bare[hose_on_c..]);
    let covered = covered.replace(r#"("0 ft", "5 ft 3 in", "30 ft 9 in")"#, r#"("0 ft", "5 ft 6 in", "30 ft 9 in")"#);
    let (before, after) = (report("bare", bare), report("covered", &covered));
    let state = |report: &Report, body: &str| {
        report.gaps.iter().filter(|g| g.body == body && g.other == "B").map(|g| g.state).min().unwrap()
    };
    assert_eq!((state(&before, "pole"), state(&after, "pole")), (PairState::Short, PairState::Covered));
    assert_eq!(state(&before, "hook block"), state(&after, "hook block"));
    assert_eq!(state(&before, "boom"), state(&after, "boom"));
}

#[test]
fn the_scene_to_start_from_is_stopped_by_what_nobody_has_arranged_yet() {
    let report = report("new", scene_core::scene::template());
    assert_eq!(stops(&report), BTreeSet::from(["not_arranged"]));
}
