use super::*;
use crate::approach::contact::between;
use crate::approach::tests::{ball, straight, turning};
use crate::motion::{MovingFeature, MovingPart, Track, Wave};
use proptest::prelude::*;

const BUDGET: u32 = 20_000;

fn part(rates: &[f64], features: Vec<MovingFeature>) -> MovingPart {
    MovingPart { rates: rates.to_vec(), features, motion_error_m: 0.0, spread: None }
}

fn proof(a: &MovingPart, b: &MovingPart) -> PairProof {
    smallest_gap_between(&[PartMotion::new(3, a)], &[PartMotion::new(3, b)], Measure::Gap, 1e-3, BUDGET)
}

/// A ball of 10 cm that goes from y = −5 to 5 at x, 2 m up.
fn passing(x: f64, radius_m: f64) -> MovingPart {
    part(&[], vec![ball(straight(DVec3::new(x, -5.0, 2.0), DVec3::new(x, 5.0, 2.0)), radius_m)])
}

fn post() -> MovingPart {
    part(&[], vec![ball(Track::still(DVec3::ZERO), 0.15), ball(Track::still(DVec3::Z * 4.0), 0.15)])
}

#[test]
fn a_load_that_goes_by_a_post_is_as_near_as_abreast_of_it() {
    let proof = proof(&passing(1.0, 0.1), &post());
    let exact = 1.0 - 0.15 - 0.1;
    assert!(proof.closed && proof.low_m <= exact && exact <= proof.high_m, "{proof:?}");
    assert_eq!(proof.witness.unwrap().piece, 3);
}

#[test]
fn two_that_pass_through_one_point_at_different_times_do_not_meet() {
    let crossing = part(&[], vec![ball(straight(DVec3::new(-4.0, 0.0, 2.0), DVec3::new(6.0, 0.0, 2.0)), 0.1)]);
    let proof = proof(&passing(0.0, 0.1), &crossing);
    // Both at even speed, square to each other, one 1 m ahead.
    let exact = 1.0 / 2.0_f64.sqrt() - 0.2;
    assert!(proof.closed && proof.low_m <= exact && exact <= proof.high_m, "{proof:?}");
}

#[test]
fn a_load_carried_round_by_a_boom_keeps_its_gap_to_it() {
    let boom = part(
        &[1.5],
        vec![ball(turning(DVec3::new(2.0, 0.0, 3.0)), 0.3), ball(turning(DVec3::new(20.0, 0.0, 15.0)), 0.3)],
    );
    let load = part(
        &[1.5],
        vec![ball(turning(DVec3::new(21.0, 0.0, 9.0)), 0.2), ball(turning(DVec3::new(21.0, 0.0, 2.0)), 0.2)],
    );
    let proof = proof(&boom, &load);
    let along = DVec3::new(18.0, 0.0, 12.0).normalize();
    let exact = (DVec3::new(21.0, 0.0, 9.0) - DVec3::new(2.0, 0.0, 3.0)).reject_from(along).length() - 0.5;
    assert!(proof.closed && proof.low_m <= exact && exact <= proof.high_m, "{proof:?} {exact}");
}

#[test]
fn what_goes_through_another_touches_it() {
    let proof = proof(&passing(0.1, 0.1), &post());
    assert!(proof.closed && proof.low_m <= 0.0 && proof.high_m >= 0.0 && proof.high_m < 1e-3, "{proof:?}");
    let (a, b) = ([PartMotion::new(3, &passing(0.1, 0.1))], [PartMotion::new(3, &post())]);
    assert!(matches!(decide_between(&a, &b, Measure::Gap, 0.01, BUDGET), PairDecision::Short { .. }));
}

#[test]
fn part_motions_of_different_pieces_never_meet() {
    let (a, b) = (PartMotion::new(0, &passing(1.0, 0.1)), PartMotion::new(1, &post()));
    let none = smallest_gap_between(std::slice::from_ref(&a), std::slice::from_ref(&b), Measure::Gap, 1e-3, BUDGET);
    assert!(!none.closed && none.low_m == f64::NEG_INFINITY, "{none:?}");
    let far = PartMotion::new(1, &passing(3.0, 0.1));
    let both = smallest_gap_between(&[a, far], &[b], Measure::Gap, 1e-3, BUDGET);
    assert!((both.low_m - 2.75).abs() < 1e-3, "{both:?}");
}

#[test]
fn allowances_of_both_come_off() {
    let wary = |mut part: MovingPart, by: f64| {
        part.features.iter_mut().for_each(|f| f.allowance_m = by);
        part
    };
    let (a, b) = (PartMotion::new(0, &wary(passing(1.0, 0.1), 0.2)), PartMotion::new(0, &wary(post(), 0.05)));
    let less = smallest_gap_between(&[a], &[b], Measure::GapLessAllowance, 1e-3, BUDGET);
    let exact = 1.0 - 0.25 - 0.25;
    assert!(less.closed && less.low_m <= exact && exact <= less.high_m, "{less:?}");
}

#[test]
fn blurs_of_both_widen_the_bracket_both_ways() {
    let blurred = |part: MovingPart, motion_error_m: f64| MovingPart { motion_error_m, ..part };
    let wide = proof(&blurred(passing(1.0, 0.1), 0.02), &blurred(post(), 0.03));
    let exact = 1.0 - 0.15 - 0.1;
    assert!(!wide.closed && wide.low_m <= exact - 0.05 && wide.low_m >= exact - 0.052, "{wide:?}");
    assert!(wide.high_m >= exact + 0.05 && wide.high_m <= exact + 0.052, "{wide:?}");
}

#[test]
fn what_is_not_a_number_proves_nothing() {
    let bad = passing(f64::NAN, 0.1);
    assert!(!proof(&bad, &post()).closed && !proof(&post(), &bad).closed);
    assert!(!proof(&MovingPart::default(), &post()).closed);
    assert!(!proof(&MovingPart { motion_error_m: f64::NAN, ..post() }, &passing(1.0, 0.1)).closed);
}

#[test]
fn what_is_enough_is_not_told_any_better() {
    let (a, b) = ([PartMotion::new(0, &passing(3.0, 0.1))], [PartMotion::new(0, &post())]);
    let proof = smallest_gap_up_to(&a, &b, Measure::Gap, 1e-3, 2.0, BUDGET);
    assert!(proof.closed && proof.low_m >= 2.0 && proof.low_m <= 2.75 && proof.high_m >= 2.75, "{proof:?}");
}

#[test]
fn a_spent_budget_proves_what_it_has() {
    let (a, b) = ([PartMotion::new(0, &passing(1.0, 0.1))], [PartMotion::new(0, &post())]);
    for budget in 0..6 {
        let proof = smallest_gap_between(&a, &b, Measure::Gap, 1e-6, budget);
        assert!(proof.low_m <= 0.75 && proof.high_m >= 0.75, "{proof:?}");
    }
}

fn vector(size: f64) -> impl Strategy<Value = DVec3> {
    [-size..size, -size..size, -size..size].prop_map(DVec3::from)
}

fn track() -> impl Strategy<Value = Track> {
    let wave = (0..2_usize, vector(6.0), vector(6.0), vector(2.0), vector(2.0))
        .prop_map(|(rate, cos, sin, cos_drift, sin_drift)| Wave { rate, cos, sin, cos_drift, sin_drift });
    let moving = (vector(8.0), vector(6.0), prop::collection::vec(wave, 0..3));
    prop_oneof![1 => vector(8.0).prop_map(Track::still), 3 => moving.prop_map(|(base, drift, waves)| Track { base, drift, waves })]
}

prop_compose! {
    /// Corners that go their own ways, and flat discs turning about z.
    fn any_part()(
        balls in prop::collection::vec((track(), 0.0..0.6, 0.0..0.3), 1..5), rates in [-3.0..3.0, -3.0..3.0],
        disc in prop::option::of((track(), 0.1..0.8, 0.2..1.4)), still in any::<bool>(), motion_error_m in prop_oneof![3 => Just(0.0), 1 => 0.0..0.05],
    ) -> MovingPart {
        let axis = |tilt: f64| Track {
            base: DVec3::Z * tilt.cos(),
            ..turning(DVec3::new(tilt.sin(), 0.0, tilt.cos()))
        };
        let mut features: Vec<MovingFeature> = balls.into_iter()
            .map(|(at, radius_m, allowance_m)| MovingFeature { at, radius_m, axis: None, allowance_m }).collect();
        features.extend(disc.map(|(at, radius_m, tilt)| MovingFeature { at, radius_m, axis: Some(axis(tilt)), allowance_m: 0.1 }));
        let part = MovingPart { rates: rates.to_vec(), features, motion_error_m: 0.0, spread: None };
        let part = if still { part.during(Bracket::exactly(0.4)) } else { part };
        MovingPart { motion_error_m, ..part }
    }
}

/// The gap at one instant, by the same meeting at the finest accuracy.
fn gap_at(a: &MovingPart, b: &MovingPart, u: f64, measure: Measure) -> f64 {
    let (mut phases, mut poses) = (Phases::default(), <[Pose; 2]>::default());
    let [pose_a, pose_b] = &mut poses;
    PartMotion::new(0, a).pose_at(u, &mut phases, pose_a);
    PartMotion::new(0, b).pose_at(u, &mut phases, pose_b);
    between([pose_a, pose_b], measure, DVec3::ZERO, 1e-10).distance_m
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn no_instant_is_nearer_than_what_was_proven(a in any_part(), b in any_part()) {
        let part_motions = ([PartMotion::new(0, &a)], [PartMotion::new(0, &b)]);
        for measure in [Measure::Gap, Measure::GapLessAllowance] {
            let proof = smallest_gap_between(&part_motions.0, &part_motions.1, measure, 1e-3, BUDGET);
            let motion_error_m = a.motion_error_m + b.motion_error_m;
            let least = (0..=200).map(|k| gap_at(&a, &b, f64::from(k) / 200.0, measure)).fold(f64::INFINITY, f64::min);
            prop_assert!(proof.low_m <= (least - motion_error_m).max(0.0) + 1e-9, "{proof:?} {least}");
            let witness = proof.witness.unwrap();
            let seen = gap_at(&a, &b, witness.u, measure);
            prop_assert!((seen + motion_error_m - proof.high_m).abs() < 1e-4, "{proof:?} {seen}");
            prop_assert!(proof.closed || motion_error_m > 0.0, "{proof:?}");
            prop_assert!(proof.high_m - proof.low_m <= 1e-3 + 2.0 * motion_error_m, "{proof:?}");
            let flipped = smallest_gap_between(&part_motions.1, &part_motions.0, measure, 1e-3, BUDGET);
            prop_assert!((flipped.low_m - proof.low_m).abs() <= 1.1e-3 + 2.0 * motion_error_m, "{proof:?} {flipped:?}");
            let at = |threshold: f64| decide_between(&part_motions.0, &part_motions.1, measure, threshold, BUDGET);
            let short = matches!(at(proof.high_m + 1e-3), PairDecision::Short { .. });
            // Within the motion errors it may be undecided.
            prop_assert!(short || motion_error_m > 0.0);
            if proof.low_m > 2e-3 {
                let apart = matches!(at(proof.low_m - 1e-3), PairDecision::Apart { .. });
                prop_assert!(apart);
            }
        }
    }
}
