//! The scene built from published dimensions only, followed by hand: every expected number below is worked out in its
//! comment from the tables named there.

use scene_core::check::check;
use scene_core::finding::{LimitKind, RuledBy};
use scene_core::outcome::{OtherKind, Report};
use scene_core::rules::PairState;

const FOOT_M: f64 = 0.3048;
const POUND_KG: f64 = 0.453_592_37;
const POUND_N: f64 = 4.448_221_615_260_5;

fn report() -> Report {
    let text = include_str!("../scenes/03_sorrel_flat.ron");
    let site = scene_core::scene::read("03_sorrel_flat.ron", text).and_then(|scene| scene.site()).unwrap();
    check(&site)
}

// source: ANSI O5.1, 45 ft class 3: top circumference 23.0 in, 37.5 in at 6 ft from the butt (verified-derived);
// cone frustum (textbook). Taper (37.5 - 23.0)/(45 - 6) = 0.37179 in/ft, butt circumference 39.7308 in, diameters
// 12.6467 in and 7.3211 in, V = pi*45/12*(D2 + Dd + d2)/144 = 25.0449 ft3, at 60 lb/ft3 1502.7 lb; centroid
// 45/4*(R2 + 2Rr + 3r2)/(R2 + Rr + r2) = 18.592 ft. A published estimated weight is 1505 lb (verified).
#[test]
fn the_pole_weighs_and_balances_as_the_frustum_of_its_class_does() {
    let pole = report().pole;
    let pounds = pole.mass_kg.unwrap() / POUND_KG;
    assert!((pounds - 1502.7).abs() < 0.1, "{pounds}");
    assert!((pounds - 1505.0).abs() < 3.0, "{pounds}");
    // Known to 1 percent of the length either way.
    let (low, high) = (pole.balance_low_from_butt_m.unwrap() / FOOT_M, pole.balance_from_butt_m.unwrap() / FOOT_M);
    assert!((low - (18.592 - 0.45)).abs() < 0.002 && (high - (18.592 + 0.45)).abs() < 0.002, "{low} {high}");
}

// source: statics of a one-point pick. The choke at 22 ft, circumference there 23.0 + 0.37179*23 = 31.551 in, radius
// 5.0216 in = 0.41846 ft; the sling pulls from at most its own inch off the face: 0.50180 ft. Highest balance point
// 19.042 ft: tilt = atan(0.50180/(22 - 19.042)) = 9.63 deg. Hook load with the butt grounded 1502.7*19.042/22 = 1300.7 lb.
#[test]
fn the_pole_hangs_as_statics_says() {
    let pole = report().pole;
    let grounded = pole.hook_load_butt_grounded_kg.unwrap() / POUND_KG;
    assert!((grounded - 1300.7).abs() < 0.2, "{grounded}");
    let tilt = pole.hang_tilt_deg.unwrap();
    assert!((tilt - 9.63).abs() < 0.02, "{tilt}");
}

// source: published sag and tension of 795 kcmil 26/7 ACSR Drake, 700 ft level span, final, 60 F: 12.36 ft, 5429 lb,
// which is the mean of horizontal and support tension (verified). Weight 1.094 lb/ft (ASTM B232, verified).
// Parabola: H = w L2/(8 s) = 1.094*700*700/(8*12.36) = 5421.3 lb; support tension H + w s = H + 13.5; mean 5428.
#[test]
fn the_span_pulls_as_the_published_table_says() {
    let report = report();
    let wire = report.wires.iter().find(|wire| wire.wire == "near phase").unwrap();
    let (sag, tension) = (wire.sag_m / FOOT_M, wire.horizontal_tension_n / POUND_N);
    assert!((sag - 12.36).abs() < 1e-6, "{sag}");
    let mean = tension + 1.094 * 12.36 / 2.0;
    assert!((mean - 5429.0).abs() < 5429.0 * 0.005 / 12.36 + 1.0, "{mean}");
    assert!((wire.lowest_point.z / FOOT_M - (60.0 - 12.36)).abs() < 1e-6);
}

// source: 29 CFR 1926.1408 Table A, up to 50 kV: 10 ft (verified). Standing at 40 ft from the near phase with its axis
// plumb, the pole's nearest point at the wire's height of 47.64 ft is its tip, 38.5 ft up, radius 0.305 ft:
// hypot(40 - 0.305, 47.64 - 38.5) - 0.046 = 40.69 ft, which the moving pole can only undercut.
#[test]
fn every_pair_keeps_the_crane_table() {
    let report = report();
    let mut to_wires = report.gaps.iter().filter(|gap| gap.other_kind == OtherKind::Wire);
    assert!(to_wires.all(|gap| gap.state == PairState::Apart));
    for gap in report.gaps.iter().filter(|gap| gap.other_kind == OtherKind::Wire) {
        assert!((gap.required_m - 10.0 * FOOT_M).abs() < 1e-9, "{gap:?}");
        assert!(gap.rule.contains("1926.1408 Table A"));
    }
    let pole = report.gaps.iter().find(|gap| gap.body == "pole" && gap.other == "near phase").unwrap();
    assert!(pole.low_m / FOOT_M <= 40.69 + 0.01, "{}", pole.low_m / FOOT_M);
    assert!(pole.low_m / FOOT_M > 30.0, "{}", pole.low_m / FOOT_M);
}

// The chart's cells (invented crane, read by hand): the greatest radius is the hole's, 35 ft, and 1.5 ft allowances,
// so that the 40 ft row holds, 60 ft boom, over the side: 13900 lb. Load: 1502.7 pole + 650 block + 12 sling and line.
#[test]
fn the_chart_is_read_one_row_out() {
    let report = report();
    let lowering = report.capacity.iter().find(|row| row.step == 9).unwrap();
    assert!((36.0..37.0).contains(&(lowering.radius_m / FOOT_M)), "{}", lowering.radius_m / FOOT_M);
    // The sling rules: 6400 lb against the pole's 1502.7 lb is 23.5 percent; the chart would be near 16.
    assert!(lowering.ruled_by == Some(RuledBy::Limit(LimitKind::Sling)));
    assert!((lowering.used_percent.unwrap() - 100.0 * 1502.7 / 6400.0).abs() < 0.05);
}
