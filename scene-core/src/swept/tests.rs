//! Against closed forms, and against points of the true body at random instants.

use super::*;
use crate::fixtures::site::{hang, site, whole_sequence};
use crate::machine::BodyId;
use crate::machine::crane::chain::Place;
use crate::motion::track::Phases;
use crate::motion::track::Wave;
use crate::motion::{Motion, MovingFeature, Track, WindLean};
use crate::sequence::plan;
use proptest::prelude::*;
use std::collections::HashMap;
use std::f64::consts::PI;

fn corner(at: Track, radius_m: f64) -> MovingFeature {
    MovingFeature { at, radius_m, axis: None, allowance_m: 9.0 }
}

fn along(from: DVec3, by: DVec3) -> Track {
    Track { base: from, drift: by, waves: vec![] }
}

fn part(rates: Vec<f64>, features: Vec<MovingFeature>) -> MovingPart {
    MovingPart { rates, features, motion_error_m: 0.0, spread: None }
}

/// About the origin, level, at a height.
fn swings(radius_m: f64, height_m: f64) -> Track {
    let zero = DVec3::ZERO;
    let wave = Wave { rate: 0, cos: DVec3::X * radius_m, sin: DVec3::Y * radius_m, cos_drift: zero, sin_drift: zero };
    Track { base: DVec3::Z * height_m, drift: zero, waves: vec![wave] }
}

fn of(part: &MovingPart, tolerance: f64, refinements: u32) -> Swept {
    swept([part].into_iter(), SweepPrecision { tolerance, refinements }).unwrap()
}

/// Inside one of the surfaces, to what is added for rounding.
fn holds(swept: &Swept, point: DVec3) -> bool {
    let within = |surface: &Surface| {
        surface.triangles.iter().all(|corners| {
            let [a, b, c] = corners.map(|i| surface.points[i as usize]);
            match (b - a).cross(c - a).try_normalize() {
                // Of a sliver only the corners are good; its neighbors have the same plane or hold the point as well.
                Some(normal) if (b - a).cross(c - a).length() > 1e-9 => normal.dot(point - a) <= 1e-7,
                _ => true,
            }
        })
    };
    swept.surfaces.iter().any(within)
}

/// Every edge runs once each way, of every surface.
fn is_closed(swept: &Swept) -> bool {
    swept.surfaces.iter().all(|surface| {
        let mut runs: HashMap<(u32, u32), i32> = HashMap::new();
        for [a, b, c] in &surface.triangles {
            for edge in [(*a, *b), (*b, *c), (*c, *a)] {
                *runs.entry(edge).or_default() += 1;
            }
        }
        !runs.is_empty() && runs.iter().all(|((a, b), count)| *count == 1 && runs.get(&(*b, *a)) == Some(&1))
    })
}

fn on_ground(ring: &[DVec2], point: DVec3) -> bool {
    let p = point.truncate();
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).all(|(a, b)| (b - a).perp_dot(p - *a) >= -1e-7 * (b - a).length())
}

fn brackets(swept: &Swept, true_m3: f64, within: f64) {
    let volume = swept.volume_m3;
    assert!(volume.contains(true_m3), "{volume:?} does not hold {true_m3}");
    assert!(volume.width() <= within * true_m3, "{volume:?} is wide about {true_m3}");
}

#[test]
fn a_ball_carried_round_sweeps_a_piece_of_a_ring() {
    // Pappus: section times the way of its center, and a half ball at either end.
    let (radius_m, out_m, angle) = (0.3_f64, 6.0, 1.2);
    let true_m3 = PI * radius_m.powi(2) * out_m * angle + 4.0 / 3.0 * PI * radius_m.powi(3);
    let ball = part(vec![angle], vec![corner(swings(out_m, 4.0), radius_m)]);
    let swept = of(&ball, 0.0, 4);
    brackets(&swept, true_m3, 0.25);
    assert!(is_closed(&swept) && !swept.closed);
}

#[test]
fn a_box_moved_straight_on_sweeps_a_longer_box() {
    let sides = [[0.0, 2.0], [0.0, 0.5], [0.0, 1.0]];
    let by = DVec3::new(0.0, 5.0, 0.0);
    let mut corners = Vec::new();
    for x in sides[0] {
        for y in sides[1] {
            for z in sides[2] {
                corners.push(corner(along(DVec3::new(x, y, z), by), 0.0));
            }
        }
    }
    let swept = of(&part(vec![], corners), 0.0, 3);
    assert_eq!(swept.surfaces.len(), 1);
    assert!((swept.surfaces[0].volume_m3() - 11.0).abs() < 1e-6, "the surface is the box itself");
    brackets(&swept, 2.0 * 5.5 * 1.0, 0.15);
    let area_m2: f64 = {
        let ring = &swept.outline;
        ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| a.perp_dot(*b)).sum::<f64>() / 2.0
    };
    assert!((area_m2 - 11.0).abs() < 1e-6);
}

#[test]
fn a_plumb_pole_lowered_sweeps_a_longer_cylinder() {
    let (radius_m, length_m, down_m) = (0.2_f64, 10.0, 4.0);
    let disc = |z: f64| MovingFeature {
        axis: Some(Track::still(DVec3::Z)),
        ..corner(along(DVec3::Z * z, DVec3::NEG_Z * down_m), radius_m)
    };
    let swept = of(&part(vec![], vec![disc(4.0), disc(4.0 + length_m)]), 0.0, 4);
    brackets(&swept, PI * radius_m.powi(2) * (length_m + down_m), 0.15);
    let heights: Vec<f64> = swept.surfaces[0].points.iter().map(|p| p.z).collect();
    let (low, high) = heights.iter().fold((f64::MAX, f64::MIN), |(l, h), z| (l.min(*z), h.max(*z)));
    assert!(low.abs() < 1e-6 && (high - 14.0).abs() < 1e-6, "flat ends stay flat: {low} {high}");
}

#[test]
fn a_boom_turned_once_round_sweeps_its_disc_and_no_more() {
    // A level bar of half width w from the axis outward; all the way round a cylinder, but for the corners' reach.
    let (out_m, half_m) = (10.0_f64, 0.5);
    let at = |out_m: f64, side_m: f64, z: f64| {
        let zero = DVec3::ZERO;
        let (cos, sin) = (DVec3::new(out_m, side_m, 0.0), DVec3::new(-side_m, out_m, 0.0));
        Track {
            base: DVec3::Z * z,
            drift: zero,
            waves: vec![Wave { rate: 0, cos, sin, cos_drift: zero, sin_drift: zero }],
        }
    };
    let mut corners = Vec::new();
    for out in [0.0, out_m] {
        for side in [-half_m, half_m] {
            for z in [3.0, 4.0] {
                corners.push(corner(at(out, side, z), 0.0));
            }
        }
    }
    let swept = of(&part(vec![2.0 * PI], corners), 0.0, 3);
    brackets(&swept, PI * (out_m * out_m + half_m * half_m), 0.3);
}

#[test]
fn what_stands_still_sweeps_itself() {
    let ball = part(vec![], vec![corner(Track::still(DVec3::new(3.0, 4.0, 5.0)), 0.5)]);
    let swept = of(&ball, 0.0, 4);
    assert_eq!(swept.surfaces.len(), 1);
    brackets(&swept, PI / 6.0, 0.2);
}

#[test]
fn nothing_and_no_number_sweep_nothing_known() {
    assert_eq!(swept([].into_iter(), SweepPrecision::default()), None);
    for bad in [f64::NAN, f64::INFINITY, 1e300] {
        for part in [
            part(vec![], vec![corner(Track::still(DVec3::X * bad), 0.1)]),
            part(vec![], vec![corner(Track::still(DVec3::X), bad)]),
            part(vec![bad], vec![corner(swings(3.0, 1.0), 0.1)]),
        ] {
            if let Some(found) = swept([&part].into_iter(), SweepPrecision::default()) {
                assert!(found.volume_m3.low() >= 0.0, "{found:?}");
            }
        }
    }
    assert_eq!(swept([&part(vec![], vec![])].into_iter(), SweepPrecision::default()), None);
}

fn vector(size: f64) -> impl Strategy<Value = DVec3> {
    [-size..size, -size..size, -size..size].prop_map(DVec3::from)
}

/// Any joints' motion, and then some that no machine makes.
fn any_part() -> impl Strategy<Value = MovingPart> {
    let wave = (0..2_usize, vector(6.0), vector(6.0), vector(2.0), vector(2.0))
        .prop_map(|(rate, cos, sin, cos_drift, sin_drift)| Wave { rate, cos, sin, cos_drift, sin_drift });
    let track = (vector(10.0), vector(5.0), prop::collection::vec(wave, 0..3)).prop_map(|(base, drift, waves)| Track {
        base,
        drift,
        waves,
    });
    let axis = (-2.0..2.0_f64, vector(1.0)).prop_filter_map("no axis", |(_, v)| {
        let x = v.try_normalize()?;
        let zero = DVec3::ZERO;
        let wave = Wave { rate: 0, cos: x, sin: x.any_orthonormal_vector(), cos_drift: zero, sin_drift: zero };
        Some(Track { base: zero, drift: zero, waves: vec![wave] })
    });
    let feature = (track, 0.0..0.6_f64, prop::option::of(axis)).prop_map(|(at, radius_m, axis)| MovingFeature {
        at,
        radius_m,
        axis,
        allowance_m: 1.0,
    });
    ([-2.0..2.0_f64, -1.0..1.0_f64], prop::collection::vec(feature, 1..6), prop_oneof![Just(0.0), 0.0..0.4_f64])
        .prop_map(|(rates, features, motion_error_m)| MovingPart {
            rates: rates.into(),
            features,
            motion_error_m,
            spread: None,
        })
}

proptest! {
    // 100 parts, 100 points of each.
    #![proptest_config(ProptestConfig { cases: 100, ..ProptestConfig::default() })]

    #[test]
    fn no_point_of_the_body_at_any_instant_is_outside(
        part in any_part(),
        draws in prop::collection::vec((0.0..=1.0_f64, [0.0..1.0_f64, 0.0..1.0, 0.0..1.0, 0.0..1.0, 0.0..1.0], vector(1.0), vector(1.0)), 100),
    ) {
        let swept = swept([&part].into_iter(), SweepPrecision { tolerance: 1.0, refinements: 1 }).unwrap();
        prop_assert!(is_closed(&swept));
        for (u, weights, way, motion_error) in draws {
            let phases = Phases::at(&part.rates, u);
            let sum: f64 = weights.iter().take(part.features.len()).sum::<f64>().max(1e-9);
            // A point of the hull: a mean of points of the corners, and the motion error's shift.
            let mut point = DVec3::ZERO;
            let mut left = 1.0;
            for (feature, weight) in part.features.iter().zip(weights) {
                let share = (weight / sum).min(left);
                left -= share;
                let out = match &feature.axis {
                    None => way.normalize_or_zero(),
                    Some(axis) => crate::solid::across(way, axis.at(&phases)),
                };
                point += (feature.at.at(&phases) + out * feature.radius_m) * share;
            }
            if left < 1e-6 {
                point += motion_error.normalize_or_zero() * part.motion_error_m;
                prop_assert!(holds(&swept, point), "{point} at {u}");
                prop_assert!(swept.footprints.iter().any(|ring| on_ground(ring, point)));
                prop_assert!(on_ground(&swept.outline, point));
            }
        }
    }

}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, ..ProptestConfig::default() })]

    #[test]
    fn looking_closer_never_widens_the_bracket(part in any_part()) {
        let mut before: Option<Bracket> = None;
        for refinements in 1..=2 {
            let now = of(&part, 0.0, refinements).volume_m3;
            if let Some(before) = before {
                prop_assert!(before.low() <= now.low() && now.high() <= before.high());
            }
            before = Some(now);
        }
    }
}

#[test]
fn over_the_whole_of_a_sequence_no_body_leaves_what_it_sweeps() {
    let site = site(whole_sequence());
    let plan = plan(&site, &hang());
    let motion = Motion::of(&site, &plan, &WindLean::default());
    for body in &motion.bodies {
        for (piece, parts) in motion.pieces.iter().zip(&body.parts) {
            let found = swept(parts.iter(), SweepPrecision { tolerance: 1.0, refinements: 1 }).unwrap();
            assert!(is_closed(&found), "{}", body.name);
            for step in 0..=16 {
                let u = f64::from(step) / 16.0;
                // A box of motions is passed through anyhow; its diagonal is one way.
                let joints = piece.joints_at(u);
                if body.id == BodyId::Pole {
                    for station_m in [0.0, 8.0, 16.9] {
                        let place = Place::Pole(DVec3::Z * station_m);
                        let at = plan.chain.place_in_world(&place, &joints, &piece.seat, u);
                        assert!(holds(&found, at), "{} in step {} at {u}", body.name, piece.step);
                        assert!(on_ground(&found.outline, at));
                    }
                }
                if body.id == BodyId::HookBlock {
                    let place = Place::Line { below_m: 0.0, hoisted: true, inward_m: 0.0 };
                    let at = plan.chain.place_in_world(&place, &joints, &piece.seat, u);
                    assert!(holds(&found, at), "{} in step {} at {u}", body.name, piece.step);
                }
            }
        }
    }
}
