use super::*;
use crate::bracket::Bracket;
use crate::conductor::SpanFamily;
use crate::motion::{MovingFeature, Track, Wave};
use glam::DVec3;
use proptest::prelude::*;

const BUDGET: u32 = 20_000;

/// Numbers that a scene should not hold but may. Boxed, for many of them side by side overflow the stack.
fn hostile() -> BoxedStrategy<f64> {
    let number = prop_oneof![
        6 => -30.0..30.0,
        1 => prop_oneof![
            Just(0.0),
            Just(-0.0),
            Just(f64::NAN),
            Just(f64::INFINITY),
            Just(f64::MAX),
            Just(f64::MIN_POSITIVE),
            Just(1e-300),
            Just(1e8),
            Just(std::f64::consts::PI),
        ],
    ];
    number.boxed()
}

fn hostile_vector() -> BoxedStrategy<DVec3> {
    let vector = prop_oneof![
        8 => [-30.0..30.0, -30.0..30.0, -30.0..30.0].prop_map(DVec3::from),
        1 => [hostile(), hostile(), hostile()].prop_map(DVec3::from),
    ];
    vector.boxed()
}

fn hostile_track() -> BoxedStrategy<Track> {
    let wave = (0..3_usize, hostile_vector(), hostile_vector(), hostile_vector());
    let wave = wave.prop_map(|(rate, cos, sin, drift)| Wave { rate, cos, sin, cos_drift: drift, sin_drift: drift });
    (hostile_vector(), hostile_vector(), prop::collection::vec(wave, 0..3))
        .prop_map(|(base, drift, waves)| Track { base, drift, waves })
        .boxed()
}

prop_compose! {
    fn hostile_part()(
        rates in prop::collection::vec(hostile(), 0..3),
        corners in prop::collection::vec(
            (hostile_track(), prop_oneof![3 => 0.0..1.0, 1 => hostile()], prop::option::of(hostile_track()), 0.0..1.0),
            0..4,
        ),
        motion_error_m in prop_oneof![3 => Just(0.0), 1 => hostile()],
    ) -> MovingPart {
        let features = corners.into_iter().map(|(at, radius_m, axis, allowance_m)| MovingFeature {
            at,
            radius_m,
            axis,
            allowance_m,
        });
        MovingPart { rates, features: features.collect(), motion_error_m, spread: None }
    }
}

prop_compose! {
    fn hostile_family()(
        ends in [hostile_vector(), hostile_vector(), hostile_vector(), hostile_vector()],
        lateral in hostile_vector(),
        numbers in [hostile(), hostile(), hostile(), hostile(), hostile(), hostile()],
        sizes in [prop_oneof![3 => 0.0..0.1, 1 => hostile()], prop_oneof![3 => 0.0..0.1, 1 => hostile()]],
        still in any::<bool>(),
    ) -> SpanFamily {
        let between = |a: f64, b: f64| Bracket::between(a, b).unwrap_or(Bracket::exactly(a));
        SpanFamily {
            a: [ends[0], if still { ends[0] } else { ends[1] }],
            b: [ends[2], if still { ends[2] } else { ends[3] }],
            lateral,
            blowout: between(numbers[0], numbers[1]),
            run_m: numbers[2],
            rise_m: numbers[3],
            curvature: between(numbers[4].abs() * 1e-3, numbers[5].abs() * 1e-3),
            radius_m: sizes[0],
            shape_error_m: sizes[1],
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, ..ProptestConfig::default() })]

    /// Whatever the numbers, an answer comes back, low is not above high, and what is passed has a number to show for it.
    #[test]
    fn no_input_panics_or_passes_without_a_number(
        parts in [hostile_part(), hostile_part()], family in hostile_family(), stretch in [hostile(), hostile()],
        threshold in hostile(), tolerance in prop_oneof![Just(1e-3), hostile()], u in hostile(),
    ) {
        let part_motions = parts.iter().enumerate().map(|(k, part)| PartMotion::new(k, part)).collect::<Vec<_>>();
        let t = Bracket::between(stretch[0], stretch[1]).unwrap_or(Bracket::exactly(0.5));
        let arcs = [WireArc::whole(&family), WireArc::new(&family, t)];
        for measure in [Measure::Gap, Measure::GapLessAllowance] {
            let proof = smallest_gap(&part_motions, &arcs, measure, tolerance, 60);
            prop_assert!(proof.low_m <= proof.high_m, "{proof:?}");
            prop_assert!(!proof.closed || (proof.low_m.is_finite() && proof.witness.is_some()), "{proof:?}");
            match decide(&part_motions, &arcs, measure, threshold, 60) {
                Decision::Apart { low_m } => prop_assert!(low_m.is_finite() && low_m >= threshold),
                Decision::Short { high_m, .. } => prop_assert!(high_m < threshold),
                Decision::Undecided { .. } => {}
            }
            let still = gap_at(&parts[0], u, &arcs[0], measure);
            prop_assert!(still.low_m <= still.high_m, "{still:?}");
        }
    }
}

pub(super) fn ball(at: Track, radius_m: f64) -> MovingFeature {
    MovingFeature { at, radius_m, axis: None, allowance_m: 0.0 }
}

pub(super) fn straight(from: DVec3, to: DVec3) -> Track {
    Track { base: from, drift: to - from, waves: Vec::new() }
}

/// A point that turns about the vertical axis through the origin.
pub(super) fn turning(at: DVec3) -> Track {
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
        shape_error_m: 0.0,
    }
}

fn taut() -> SpanFamily {
    span(Bracket::exactly(0.0), Bracket::exactly(0.0))
}

fn single(feature: MovingFeature) -> MovingPart {
    MovingPart { rates: vec![1.5], features: vec![feature], motion_error_m: 0.0, spread: None }
}

fn gap(part: &MovingPart, family: &SpanFamily) -> Proof {
    let part_motions = [PartMotion::new(7, part)];
    smallest_gap(&part_motions, &[WireArc::whole(family)], Measure::Gap, 1e-3, BUDGET)
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
fn a_wire_counts_while_it_hangs_so_and_what_stands_beside_it_then_is_found() {
    // To the wire, a halt, back, a halt; the wire is aside but for some of these pieces.
    let (out, there) = (DVec3::new(0.0, 3.0, 8.0), DVec3::new(9.0, 3.0, 8.0));
    let ways = [(out, there), (there, there), (there, out), (out, out)];
    let parts = ways.map(|(from, to)| single(ball(straight(from, to), 0.3)));
    let part_motions: Vec<PartMotion> =
        parts.iter().enumerate().map(|(piece, part)| PartMotion::new(piece, part)).collect();
    let (here, aside) =
        (taut(), SpanFamily { a: [DVec3::new(30.0, -40.0, 10.0); 2], b: [DVec3::new(30.0, 40.0, 10.0); 2], ..taut() });
    for from in 0..4 {
        for to in from + 1..=4 {
            let arcs = [
                WireArc::whole(&aside).during(0..from),
                WireArc::whole(&here).during(from..to),
                WireArc::whole(&aside).during(to..4),
            ];
            let proof = smallest_gap(&part_motions, &arcs, Measure::Gap, 1e-3, BUDGET);
            let by_piece = part_motions.iter().enumerate().map(|(piece, part_motion)| {
                let family = if (from..to).contains(&piece) { &here } else { &aside };
                smallest_gap(std::slice::from_ref(part_motion), &[WireArc::whole(family)], Measure::Gap, 1e-3, BUDGET)
            });
            let (low_m, high_m) = by_piece.fold((f64::INFINITY, f64::INFINITY), |(low, high), piece| {
                (low.min(piece.low_m), high.min(piece.high_m))
            });
            assert!(proof.closed, "{from}..{to}: {proof:?}");
            assert!(proof.low_m <= high_m && proof.high_m >= low_m, "{from}..{to}: {proof:?}, {low_m} to {high_m}");
            assert!(proof.high_m - low_m <= 2e-3 && high_m - proof.low_m <= 2e-3, "{from}..{to}: {proof:?}");
        }
    }
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
    let part_motions = [PartMotion::new(0, &part)];
    let arcs = [WireArc::whole(&sagging)];
    assert!(proof.closed, "{proof:?}");
    let at = |threshold| decide(&part_motions, &arcs, Measure::Gap, threshold, BUDGET);
    assert!(matches!(at(proof.low_m - 1e-3), Decision::Apart { .. }));
    assert!(matches!(at(proof.high_m + 1e-3), Decision::Short { .. }));
}

#[test]
fn an_allowance_comes_off_the_gap_of_its_own_corner_only() {
    let near = ball(Track::still(DVec3::new(8.0, 0.0, 10.0)), 0.1);
    let far = MovingFeature { allowance_m: 0.5, ..ball(Track::still(DVec3::new(0.0, 0.0, 10.0)), 0.1) };
    let part = MovingPart { rates: Vec::new(), features: vec![near, far], motion_error_m: 0.0, spread: None };
    let part_motions = [PartMotion::new(0, &part)];
    let family = taut();
    let arcs = [WireArc::whole(&family)];
    let gap = smallest_gap(&part_motions, &arcs, Measure::Gap, 1e-3, BUDGET);
    let less = smallest_gap(&part_motions, &arcs, Measure::GapLessAllowance, 1e-3, BUDGET);
    let exact = 2.0 - 0.1 - 0.01;
    for proof in [gap, less] {
        assert!(proof.closed && proof.low_m <= exact && exact <= proof.high_m, "{proof:?}");
    }
    let mut wary = part.clone();
    wary.features[0].allowance_m = 0.5;
    let less = smallest_gap(&[PartMotion::new(0, &wary)], &arcs, Measure::GapLessAllowance, 1e-3, BUDGET);
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
    let part_motions = [PartMotion::new(0, &part)];
    let proof = smallest_gap(&part_motions, &[WireArc::whole(&family)], Measure::Gap, 1e-6, 2);
    assert!(!proof.closed && proof.low_m < proof.high_m, "{proof:?}");
    let full = smallest_gap(&part_motions, &[WireArc::whole(&family)], Measure::Gap, 1e-6, BUDGET);
    assert!(full.closed && proof.low_m <= full.low_m && full.high_m <= proof.high_m);
}

#[test]
fn motion_error_widens_the_bracket_both_ways_and_form_lowers_the_low() {
    let part = MovingPart { motion_error_m: 0.02, ..single(ball(turning(DVec3::new(8.0, -3.0, 9.0)), 0.1)) };
    let family = SpanFamily { shape_error_m: 0.01, ..taut() };
    let proof = gap(&part, &family);
    let sharp = gap(&MovingPart { motion_error_m: 0.0, ..part }, &taut());
    assert!(!proof.closed && sharp.closed);
    let lower = sharp.low_m - proof.low_m;
    assert!((0.029..=0.032).contains(&lower), "{proof:?} {sharp:?}");
    assert!((proof.high_m - sharp.high_m - 0.02).abs() < 1e-3, "{proof:?} {sharp:?}");
}

#[test]
fn the_gap_at_one_instant_is_that_of_the_part_as_it_stands() {
    let part = single(ball(straight(DVec3::new(0.0, 3.0, 8.0), DVec3::new(20.0, 3.0, 8.0)), 0.3));
    let family = taut();
    let proof = gap_at(&part, 0.25, &WireArc::whole(&family), Measure::Gap);
    let exact = 5.0_f64.hypot(2.0) - 0.3 - 0.01;
    assert!(proof.closed && proof.low_m <= exact && exact <= proof.high_m, "{proof:?}");
    assert_eq!(proof.witness.unwrap().u, 0.25);
}
