use super::*;
use crate::bracket::Bracket;
use crate::conductor::SpanFamily;
use crate::motion::{MovingFeature, Track, Wave};

const BUDGET: u32 = 20_000;

fn ball(at: Track, radius_m: f64) -> MovingFeature {
    MovingFeature { at, radius_m, axis: None, allowance_m: 0.0 }
}

fn straight(from: DVec3, to: DVec3) -> Track {
    Track { base: from, drift: to - from, waves: Vec::new() }
}

/// A point that turns about the vertical axis through the origin.
fn turning(at: DVec3) -> Track {
    let wave = Wave {
        rate: 0,
        cos: DVec3::new(at.x, at.y, 0.0),
        sin: DVec3::new(-at.y, at.x, 0.0),
        cos_drift: DVec3::ZERO,
        sin_drift: DVec3::ZERO,
    };
    Track { base: DVec3::Z * at.z, drift: DVec3::ZERO, waves: vec![wave] }
}

/// A span along y at x = 10, attached 10 m up.
fn span(curvature: Bracket, blowout: Bracket) -> SpanFamily {
    SpanFamily {
        a: [DVec3::new(10.0, -40.0, 10.0); 2],
        b: [DVec3::new(10.0, 40.0, 10.0); 2],
        lateral: DVec3::X,
        blowout,
        run_m: 80.0,
        rise_m: 0.0,
        curvature,
        radius_m: 0.01,
        form_m: 0.0,
    }
}

fn taut() -> SpanFamily {
    span(Bracket::exactly(0.0), Bracket::exactly(0.0))
}

fn single(feature: MovingFeature) -> MovingPart {
    MovingPart { rates: vec![1.5], features: vec![feature], blur_m: 0.0, spread: None }
}

fn gap(part: &MovingPart, family: &SpanFamily) -> Proof {
    let legs = [Leg::new(7, part)];
    smallest_gap(&legs, &[Strand::whole(family)], Measure::Gap, 1e-3, BUDGET)
}

#[test]
fn a_hook_that_passes_below_a_taut_wire_is_as_near_as_the_line_between_them() {
    let part = single(ball(straight(DVec3::new(0.0, 3.0, 8.0), DVec3::new(20.0, 3.0, 8.0)), 0.3));
    let proof = gap(&part, &taut());
    let exact = 2.0 - 0.3 - 0.01;
    assert!(proof.closed && proof.low_m <= exact && exact <= proof.high_m, "{proof:?}");
    let witness = proof.witness.unwrap();
    assert_eq!(witness.piece, 7);
    assert!((witness.on_body.distance(witness.on_wire) - 0.01 - proof.high_m).abs() < 1e-6);
}

#[test]
fn a_thin_wire_that_a_slow_sampler_steps_over_is_found() {
    let part = single(ball(straight(DVec3::new(0.0, 0.0, 10.0), DVec3::new(20.0, 0.0, 10.0)), 0.004));
    let proof = gap(&part, &SpanFamily { radius_m: 0.001, ..taut() });
    assert!(proof.high_m <= 0.0 && proof.closed, "{proof:?}");
}

#[test]
fn a_tip_that_swings_past_is_caught_at_the_middle_of_its_arc() {
    let part = single(ball(turning(DVec3::new(8.0 * 0.75_f64.cos(), -8.0 * 0.75_f64.sin(), 10.0)), 0.1));
    let proof = gap(&part, &taut());
    let exact = 2.0 - 0.1 - 0.01;
    assert!(proof.closed && proof.low_m <= exact && exact <= proof.high_m, "{proof:?}");
}

#[test]
fn a_decision_agrees_with_the_bracket_on_both_sides_of_it() {
    let part = single(ball(turning(DVec3::new(8.0, -3.0, 9.0)), 0.1));
    let sagging = span(Bracket::between(0.001, 0.003).unwrap(), Bracket::between(-0.5, 0.5).unwrap());
    let proof = gap(&part, &sagging);
    let legs = [Leg::new(0, &part)];
    let strands = [Strand::whole(&sagging)];
    assert!(proof.closed, "{proof:?}");
    let at = |threshold| decide(&legs, &strands, Measure::Gap, threshold, BUDGET);
    assert!(matches!(at(proof.low_m - 1e-3), Decision::Apart { .. }));
    assert!(matches!(at(proof.high_m + 1e-3), Decision::Short { .. }));
}

#[test]
fn an_allowance_comes_off_the_gap_of_its_own_corner_only() {
    let near = ball(Track::still(DVec3::new(8.0, 0.0, 10.0)), 0.1);
    let far = MovingFeature { allowance_m: 0.5, ..ball(Track::still(DVec3::new(0.0, 0.0, 10.0)), 0.1) };
    let part = MovingPart { rates: Vec::new(), features: vec![near, far], blur_m: 0.0, spread: None };
    let legs = [Leg::new(0, &part)];
    let family = taut();
    let strands = [Strand::whole(&family)];
    let gap = smallest_gap(&legs, &strands, Measure::Gap, 1e-3, BUDGET);
    let less = smallest_gap(&legs, &strands, Measure::GapLessAllowance, 1e-3, BUDGET);
    let exact = 2.0 - 0.1 - 0.01;
    for proof in [gap, less] {
        assert!(proof.closed && proof.low_m <= exact && exact <= proof.high_m, "{proof:?}");
    }
    let mut wary = part.clone();
    wary.features[0].allowance_m = 0.5;
    let less = smallest_gap(&[Leg::new(0, &wary)], &strands, Measure::GapLessAllowance, 1e-3, BUDGET);
    assert!(less.closed && less.low_m <= exact - 0.5 && exact - 0.5 <= less.high_m);
}

#[test]
fn what_is_not_a_number_is_undecided() {
    let family = taut();
    for at in [f64::NAN, f64::INFINITY, 1e300] {
        let part = single(ball(Track::still(DVec3::new(at, 0.0, 0.0)), 0.1));
        let proof = gap(&part, &family);
        assert!(!proof.closed && proof.low_m == f64::NEG_INFINITY, "{proof:?}");
    }
    let part = single(ball(Track::still(DVec3::ZERO), f64::NAN));
    assert!(!gap(&part, &family).closed);
    let part = single(ball(Track::still(DVec3::ZERO), 0.1));
    let bad = SpanFamily { rise_m: f64::NAN, ..taut() };
    assert!(!gap(&part, &bad).closed);
    assert!(!gap(&MovingPart::default(), &family).closed);
    let proof = smallest_gap(&[], &[], Measure::Gap, 1e-3, BUDGET);
    assert_eq!(proof.low_m, f64::NEG_INFINITY);
}

#[test]
fn a_spent_budget_leaves_the_pair_undecided_with_what_was_proven() {
    let part = single(ball(turning(DVec3::new(8.0, -3.0, 10.0)), 0.1));
    let family = taut();
    let legs = [Leg::new(0, &part)];
    let proof = smallest_gap(&legs, &[Strand::whole(&family)], Measure::Gap, 1e-6, 2);
    assert!(!proof.closed && proof.low_m < proof.high_m, "{proof:?}");
    let full = smallest_gap(&legs, &[Strand::whole(&family)], Measure::Gap, 1e-6, BUDGET);
    assert!(full.closed && proof.low_m <= full.low_m && full.high_m <= proof.high_m);
}

#[test]
fn blur_widens_the_bracket_both_ways_and_form_lowers_the_low() {
    let part = MovingPart { blur_m: 0.02, ..single(ball(turning(DVec3::new(8.0, -3.0, 9.0)), 0.1)) };
    let family = SpanFamily { form_m: 0.01, ..taut() };
    let proof = gap(&part, &family);
    let sharp = gap(&MovingPart { blur_m: 0.0, ..part }, &taut());
    assert!(!proof.closed && sharp.closed);
    let lower = sharp.low_m - proof.low_m;
    assert!((0.029..=0.032).contains(&lower), "{proof:?} {sharp:?}");
    assert!((proof.high_m - sharp.high_m - 0.02).abs() < 1e-3, "{proof:?} {sharp:?}");
}

#[test]
fn the_gap_at_one_instant_is_that_of_the_part_as_it_stands() {
    let part = single(ball(straight(DVec3::new(0.0, 3.0, 8.0), DVec3::new(20.0, 3.0, 8.0)), 0.3));
    let family = taut();
    let proof = gap_at(&part, 0.25, &Strand::whole(&family), Measure::Gap);
    let exact = 5.0_f64.hypot(2.0) - 0.3 - 0.01;
    assert!(proof.closed && proof.low_m <= exact && exact <= proof.high_m, "{proof:?}");
    assert_eq!(proof.witness.unwrap().u, 0.25);
}
