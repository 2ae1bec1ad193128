use super::*;
use crate::fixtures::site::site as example;
use crate::site::Outriggers;
use proptest::prelude::*;

const TOLERANCE: f64 = 1e-6;

fn outriggers() -> Outriggers {
    Outriggers {
        front_m: 3.0,
        rear_m: 3.0,
        left_m: 3.0,
        right_m: 3.0,
        carrier_kg: 20_000.0,
        carrier_ahead_m: 0.0,
        upper_kg: 10_000.0,
        upper_behind_m: 0.0,
        boom_kg: 1e-9,
        boom_centre_m: [0.0, 0.0],
        mat_long_m: 1.0,
        mat_wide_m: 1.0,
        bearing_pa: 100_000.0,
        source: String::new(),
        leveling: Default::default(),
    }
}

fn turned(outward: f64, carrier_ahead: f64, kg: f64) -> Weights {
    Weights { kg: Bracket::exactly(kg), outward: Bracket::exactly(outward), carrier_ahead }
}

/// 30 t in the middle and 4 t at 9 m over the front-left corner, worked by hand: the resultant of 34 t is 36/34 m out, at 45°
/// 0.7487 m ahead and left; φ = λ = (3 + 0.7487)/6 = 0.62478; V·min = 34 000 · 9.80665 · 0.62478 N = 208.32 kN.
#[test]
fn a_load_over_a_corner_is_as_worked_by_hand() {
    let weights = turned(36_000.0, 0.0, 34_000.0);
    let swing = Bracket::exactly(std::f64::consts::FRAC_PI_4);
    let (most, holds) = pressing(&outriggers(), &weights, swing);
    assert!(holds && (most[0] - 208_320.0).abs() < 20.0, "{most:?}");
    // Across the diagonal, by the same: 34 000 · (1 − 0.62478) · 9.80665.
    assert!((most[3] - 125_110.0).abs() < 20.0, "{most:?}");
}

/// With the weight in the middle any float may carry half of it: two across a diagonal rock.
#[test]
fn a_weight_in_the_middle_may_rest_on_a_diagonal() {
    let (most, _) = pressing(&outriggers(), &turned(0.0, 0.0, 30_000.0), Bracket::exactly(0.3));
    for most_n in most {
        assert!((most_n - 15_000.0 * GRAVITY_M_S2).abs() < 1.0);
    }
}

#[test]
fn a_load_beyond_the_floats_lifts_a_pair() {
    let (_, holds) = pressing(&outriggers(), &turned(100_000.0, 0.0, 30_000.0), Bracket::exactly(0.0));
    assert!(!holds);
}

#[test]
fn a_weight_or_moment_that_is_no_number_is_never_held() {
    for weights in [turned(f64::NAN, 0.0, 30_000.0), turned(0.0, f64::NAN, 30_000.0), turned(0.0, 0.0, f64::NAN)] {
        let (most, holds) = pressing(&outriggers(), &weights, Bracket::exactly(0.3));
        assert!(!holds || most.iter().any(|most_n| most_n.is_nan() || *most_n > 1e300), "{weights:?}: {most:?}");
    }
}

proptest! {
    /// All equilibria of four supports that press are one line: each is tried, none is above the bound and one attains it.
    #[test]
    fn no_equilibrium_presses_harder_and_one_presses_as_hard(
        front in 2.0..5.0_f64, rear in 2.0..5.0_f64, left in 1.5..4.0_f64, right in 1.5..4.0_f64,
        kg in 5_000.0..60_000.0_f64, phi in 0.02..0.98_f64, lambda in 0.02..0.98_f64,
    ) {
        let outriggers = Outriggers { front_m: front, rear_m: rear, left_m: left, right_m: right, ..outriggers() };
        let ahead = phi * (front + rear) - rear;
        let aside = lambda * (left + right) - right;
        let (out, swing) = (ahead.hypot(aside), aside.atan2(ahead));
        let (most, holds) = pressing(&outriggers, &turned(out * kg, 0.0, kg), Bracket::exactly(swing));
        prop_assert!(holds);
        // Front left s, front right V·φ − s, rear left V·λ − s, rear right the rest.
        let v = kg * GRAVITY_M_S2;
        let mut reached = [0.0_f64; 4];
        for i in 0..=4000 {
            let s = v * f64::from(i) / 4000.0;
            let forces = [s, v * phi - s, v * lambda - s, v * (1.0 - phi - lambda) + s];
            if forces.iter().all(|force| *force >= -TOLERANCE) {
                for (reached, force) in reached.iter_mut().zip(forces) {
                    *reached = reached.max(force);
                }
            }
        }
        for (most_n, reached) in most.into_iter().zip(reached) {
            prop_assert!(reached <= most_n * (1.0 + 1e-9) + 1e-3, "{most_n} {reached}");
            prop_assert!(reached >= most_n - v / 1000.0, "{most_n} {reached}");
        }
    }

    /// Every swing, radius and load of a motion is within its bound.
    #[test]
    fn no_instant_of_a_motion_presses_harder(
        from in -3.0..3.0_f64, by in 0.0..2.5_f64, radius in 4.0..8.0_f64, more in 0.0..3.0_f64, share in 0.0..=1.0_f64, at in 0.0..=1.0_f64,
    ) {
        let outriggers = Outriggers { front_m: 5.0, rear_m: 5.0, left_m: 4.0, right_m: 4.0, ..outriggers() };
        let mut site = example(vec![]);
        site.crane.outriggers = Some(outriggers.clone());
        let between = |a: f64, b: f64| Bracket::between(a, b).unwrap();
        let mass = crate::pole::mass(&site.pole, &site.covers).unwrap();
        let motion = MotionRange {
            step: 0,
            time_s: 0.0,
            radius_m: between(radius, radius + more),
            boom_length_m: site.crane.boom_length_m,
            boom_angle: between(0.5, 1.0),
            swing: between(from, from + by),
            load: LoadOnHook::Whole,
            hoist_length_m: between(5.0, 10.0),
        };
        let bound = floats(&site, &mass, std::slice::from_ref(&motion));
        prop_assert_eq!(bound.floats.len(), 4);
        let one = MotionRange {
            radius_m: Bracket::exactly(radius + more * share),
            swing: Bracket::exactly(from + by * at),
            hoist_length_m: Bracket::exactly(5.0 + 5.0 * share),
            boom_angle: Bracket::exactly(0.5 + 0.5 * at),
            ..motion
        };
        for (most, one) in bound.floats.iter().zip(floats(&site, &mass, &[one]).floats) {
            prop_assert!(one.most_n <= most.most_n * (1.0 + 1e-9), "{most:?} {one:?}");
        }
    }
}

#[test]
fn ground_that_bears_less_is_a_stop_and_what_is_missing_too() {
    let mut site = example(vec![]);
    let mass = crate::pole::mass(&site.pole, &site.covers).unwrap();
    let motion = MotionRange {
        step: 2,
        time_s: 0.0,
        radius_m: Bracket::exactly(6.0),
        boom_length_m: site.crane.boom_length_m,
        boom_angle: Bracket::exactly(0.9),
        swing: Bracket::exactly(0.0),
        load: LoadOnHook::Whole,
        hoist_length_m: Bracket::exactly(5.0),
    };
    let codes = |site: &Site| -> Vec<&'static str> {
        floats(site, &mass, std::slice::from_ref(&motion)).findings.iter().map(|finding| finding.code()).collect()
    };
    assert!(codes(&site).is_empty());
    let stated = |change: fn(&mut Outriggers)| {
        let mut outriggers = Outriggers { bearing_pa: 1e6, ..outriggers() };
        change(&mut outriggers);
        Some(outriggers)
    };
    site.crane.outriggers = stated(|_| {});
    assert!(codes(&site).is_empty(), "{:?}", codes(&site));
    site.crane.outriggers = stated(|o| o.bearing_pa = 10_000.0);
    assert_eq!(codes(&site), ["float_bearing"; 4]);
    for change in [
        (|o: &mut Outriggers| o.bearing_pa = f64::NAN) as fn(&mut Outriggers),
        |o| o.mat_long_m = 0.0,
        |o| o.carrier_kg = f64::NAN,
        |o| o.upper_behind_m = f64::INFINITY,
        |o| (o.front_m, o.rear_m) = (1.0, -1.0),
    ] {
        site.crane.outriggers = stated(change);
        assert_eq!(codes(&site), ["floats_unknown"]);
    }
    site.crane.outriggers = stated(|o| (o.front_m, o.carrier_kg) = (0.2, 100.0));
    assert!(codes(&site).contains(&"floats_lift"));
}
