use super::*;
use crate::check::{Prepared, check};
use crate::finding::{Grade, KeepOff};
use crate::motion::{MovingFeature, Track};
use crate::outcome::Report;
use crate::pairs::HungWires;
use crate::quantity::show::Units;
use crate::report::words;
use crate::scene;
use crate::site::Site;
use glam::DVec3;

fn site(text: &str) -> Site {
    scene::read("example", text).and_then(|scene| scene.site()).expect("an example can be read")
}

fn juniper_lane() -> Site {
    site(include_str!("../../../../scenes/01_juniper_lane.ron"))
}

fn first_sketch() -> Site {
    site(include_str!("../../../../scenes/02_juniper_lane_first_sketch.ron"))
}

fn sorrel_flat() -> Site {
    site(include_str!("../../../../scenes/03_sorrel_flat.ron"))
}

fn row<'a>(rows: &'a [GapRow], body: &str, other: &str) -> &'a GapRow {
    rows.iter().find(|row| row.body == body && row.other == other).unwrap_or_else(|| panic!("{body} to {other}"))
}

fn about<'a>(report: &'a Report, code: &str, body: &str, other: &str) -> Option<&'a Finding> {
    let names = |f: &Finding, name: &str| words::message(f, Units::Both).contains(name);
    let said = |f: &&Finding| f.code() == code && names(f, body) && names(f, other);
    report.findings.iter().find(said)
}

#[test]
fn what_stands_as_it_stood_before_is_looked_at_again_where_it_meets_something_new() {
    let ball = |x: f64| -> Arc<[MovingPart]> {
        let feature = MovingFeature { at: Track::still(DVec3::X * x), radius_m: 0.5, axis: None, allowance_m: 0.0 };
        vec![MovingPart { rates: Vec::new(), features: vec![feature], motion_error_m: 0.0, spread: None }].into()
    };
    let (still, far, near) = (ball(0.0), ball(9.0), ball(3.0));
    let low_m = |theirs: [&Arc<[MovingPart]>; 3], left_out: Option<usize>| {
        let ours = [&still, &still, &still].map(Arc::clone);
        let theirs = theirs.map(Arc::clone);
        let (ours, theirs) =
            (Body::new(BodyIndex::Lifting(0), "a", &ours), Body::new(BodyIndex::Lifting(1), "b", &theirs));
        let ours = ours.without(|piece| Some(piece) == left_out);
        Pair::with_body(&ours.part_motions, &theirs.part_motions, Allowance::of_both(0.0)).gap().low_m
    };
    let close = |a: f64, b: f64| (a - b).abs() < 2e-3;
    assert!(close(low_m([&far, &far, &near], None), 2.0), "the last piece is new");
    assert!(close(low_m([&near, &near, &far], None), 2.0), "and so is the first");
    assert!(close(low_m([&near, &near, &far], Some(0)), 2.0), "the second is the first that is not left out");
    assert!(close(low_m([&far, &far, &far], None), 8.0));
}

#[test]
fn a_pick_done_as_it_should_be_keeps_its_load_off_the_boom_and_says_by_how_much() {
    for site in [juniper_lane(), sorrel_flat()] {
        let report = check(&site);
        for other in ["boom", "boom head", "tail"] {
            let row = row(&report.gaps, "pole", other);
            assert_eq!(row.state, PairState::Apart, "{row:?}");
            let told_m = if row.margin_m < FAR_M { TOLERANCE_M } else { ROUGH_M };
            assert!(row.margin_m > 0.0 && row.high_m - row.low_m <= told_m && row.allowance_m > 0.3, "{row:?}");
        }
        let struck: Vec<String> = report
            .findings
            .iter()
            .filter(|f| f.grade == Grade::Stop && f.code().starts_with("body_"))
            .map(|f| words::message(f, Units::Both))
            .collect();
        assert!(struck.is_empty(), "{struck:?}");
    }
}

#[test]
fn the_first_sketch_lifts_the_pole_into_the_boom_head() {
    let report = check(&first_sketch());
    let head = row(&report.gaps, "pole", "boom head");
    assert_eq!((head.state, head.low_m <= 0.0), (PairState::Touch, true), "{head:?}");
    assert_eq!(row(&report.gaps, "pole", "boom").state, PairState::Touch);
    let finding = about(&report, "body_touch", "pole", "boom head").expect("a finding");
    assert_eq!(finding.grade, Grade::Stop);
    assert!(finding.step.is_some() && words::of(finding, Units::Both).fix.contains("Boom down or out"), "{finding:?}");
}

/// With its tip toward the crane the pole comes up through the boom.
#[test]
fn a_pole_laid_toward_the_crane_is_upended_into_the_boom() {
    let mut site = sorrel_flat();
    let Some(crate::site::Action::Start { butt, tip_toward, .. }) = site.steps.first_mut().map(|s| &mut s.action)
    else {
        panic!("the first step starts");
    };
    let crane = site.crane.at;
    let choke = *butt + (*tip_toward - *butt).normalize() * site.rigging.choker_from_butt_m;
    let inward = (crane - choke).normalize();
    *butt = choke - inward * site.rigging.choker_from_butt_m;
    *tip_toward = crane;
    let report = check(&site);
    assert_eq!(row(&report.gaps, "pole", "boom").state, PairState::Touch);
    assert!(about(&report, "body_touch", "pole", "boom").is_some_and(|f| f.grade == Grade::Stop));
}

#[test]
fn what_touches_by_design_has_no_row() {
    let report = check(&juniper_lane());
    let pairs = [("hoist line", "boom head"), ("rigging", "hook block"), ("pole", "rigging"), ("cap plate", "pole")];
    for (body, other) in pairs {
        let named = |row: &GapRow| (row.body == body && row.other == other) || (row.body == other && row.other == body);
        assert!(!report.gaps.iter().any(named), "{body} {other}");
    }
}

fn rows(prepared: &Prepared, others: &[OtherBody], findings: &mut Vec<Finding>) -> Vec<GapRow> {
    let wires = HungWires::of(prepared.site, &prepared.wires, 0);
    to_bodies(&prepared.inputs(&wires).unwrap(), others, findings).0
}

/// A still post beside the way of the load.
fn post(at: DVec3, pieces: usize, body: Option<BodyId>) -> OtherBody {
    let feature =
        |z: f64| MovingFeature { at: Track::still(at + DVec3::Z * z), radius_m: 0.15, axis: None, allowance_m: 0.1 };
    let part = MovingPart { features: vec![feature(0.0), feature(9.0)], ..MovingPart::default() };
    let parts: Arc<[MovingPart]> = vec![part].into();
    OtherBody {
        name: format!("post {}", at.x),
        kind: OtherKind::Obstacle,
        body,
        parts: vec![parts; pieces],
        required_m: 0.5,
        rule: "kept free".to_owned(),
        keep_off: KeepOff::Standing,
        may_touch: |_| None,
        by_hand: false,
        arms: Vec::new(),
    }
}

#[test]
fn another_body_joins_by_being_given() {
    let site = juniper_lane();
    let mut findings = Vec::new();
    let prepared = Prepared::of(&site, &mut findings);
    let pieces = prepared.plan.as_ref().unwrap().pieces.len();
    let hole = site.hole.at;
    let given = [post(hole + DVec3::X * 0.5, pieces, None), post(hole + DVec3::X * 200.0, pieces, None)];
    findings.clear();
    let found = rows(&prepared, &given, &mut findings);
    let [near, far] = [0, 1].map(|k| row(&found, "pole", &given[k].name));
    assert_eq!((near.other_kind, near.state), (OtherKind::Obstacle, PairState::Touch));
    assert!(far.state == PairState::Apart && far.low_m > 100.0 && far.required_m == 0.5, "{far:?}");
    assert!(
        findings
            .iter()
            .any(|f| f.code() == "body_touch" && words::of(f, Units::Both).fix.starts_with("Work from another place"))
    );
    // What stands still is not held against what stands still.
    assert!(!found.iter().any(|row| row.body.starts_with("post")));
    let machine =
        [post(hole, pieces, Some(BodyId::OfLift { lift: 0, body: 0 })), post(hole + DVec3::X * 0.7, pieces, None)];
    let found = rows(&prepared, &machine, &mut findings);
    let between = row(&found, &machine[0].name, &machine[1].name);
    assert!((between.low_m - 0.4).abs() < 2e-3 && between.state == PairState::Short, "{between:?}");
}

#[test]
fn a_body_that_is_not_known_is_undecided_and_a_stop() {
    let site = juniper_lane();
    let mut findings = Vec::new();
    let prepared = Prepared::of(&site, &mut findings);
    let pieces = prepared.plan.as_ref().unwrap().pieces.len();
    findings.clear();
    let found = rows(&prepared, &[post(DVec3::splat(f64::NAN), pieces, None)], &mut findings);
    let unknown: Vec<_> = found.iter().filter(|row| row.other_kind == OtherKind::Obstacle).collect();
    assert!(!unknown.is_empty() && unknown.iter().all(|row| row.state == PairState::Undecided));
    assert!(findings.iter().any(|f| f.code() == "body_undecided" && f.grade == Grade::Stop));
}
