//! The bucket truck against the textbook's planar arm and against turnings multiplied out by another library.

use scene_core::bracket::Bracket;
use scene_core::glam::{DAffine3, DQuat, DVec3};
use scene_core::machine::aerial_lift::{BucketTruck, Linkage};
use scene_core::machine::aerial_lift::{Joints, Place};
use scene_core::machine::{ElbowSide, Role};
use scene_core::rules::{Exposure, required};
use scene_core::scene;
use std::f64::consts::{FRAC_PI_2, PI};

const JUNIPER_LANE: &str = include_str!("../scenes/01_juniper_lane.ron");

fn truck() -> BucketTruck {
    let scene = scene::read("01", JUNIPER_LANE).unwrap_or_else(|faults| panic!("{}", faults[0]));
    scene.site().unwrap().lifts[0].as_kind::<BucketTruck>().unwrap().clone()
}

/// A bare arm of two links in the x-z plane, its pin in the origin.
fn bare_arm(first_m: f64, second_m: f64) -> BucketTruck {
    let mut truck = truck();
    truck.at = DVec3::ZERO;
    truck.heading = 0.0;
    (truck.pin_offset_m, truck.pin_height_m) = (0.0, 0.0);
    (truck.bucket.ahead_m, truck.bucket.left_m, truck.bucket.below_m) = (0.0, 0.0, 0.0);
    truck.upper.length_m = Bracket::exactly(second_m);
    let any = Bracket::between(-PI, PI).unwrap();
    if let Linkage::Articulating { length_m, angle, fold, .. } = &mut truck.linkage {
        *length_m = first_m;
        (*angle, *fold) = (any, any);
    }
    truck
}

// source: Craig, Introduction to Robotics, 2nd ed., eqs. 4.14 to 4.20: c2 = (x² + y² − l1² − l2²)/(2·l1·l2),
// s2 = ±√(1 − c2²), θ1 = atan2(y, x) − atan2(l2·s2, l1 + l2·c2), elbow up and down; status memory
#[test]
fn the_booms_reach_as_the_textbooks_two_link_arm_does() {
    for (l1, l2) in [(5.5, 7.0), (6.0, 6.0), (3.0, 9.0)] {
        let arm = bare_arm(l1, l2);
        for step in 1..40 {
            let away = (l1 - l2).abs() + 0.05 + (l1 + l2 - (l1 - l2).abs() - 0.1) * f64::from(step) / 40.0;
            let bearing: f64 = 0.1 + 1.2 * f64::from(step % 7) / 7.0;
            let (x, z) = (away * bearing.cos(), away * bearing.sin());
            let c2 = (x * x + z * z - l1 * l1 - l2 * l2) / (2.0 * l1 * l2);
            for (side, s2) in [(ElbowSide::Up, -(1.0 - c2 * c2).sqrt()), (ElbowSide::Down, (1.0 - c2 * c2).sqrt())] {
                // Within half a turn of level, as the machine has it.
                let theta_1 = (z.atan2(x) - (l2 * s2).atan2(l1 + l2 * c2) + PI).rem_euclid(2.0 * PI) - PI;
                let theta_2 = s2.atan2(c2);
                let near = Joints { slew: 0.0, lower: theta_1, upper: theta_1 + theta_2, length_m: l2 };
                let found = arm.reach(DVec3::new(x, 0.0, z), &near, Some(side)).unwrap();
                assert!((found.slew).abs() < 1e-9);
                assert!((found.lower - theta_1).abs() < 1e-9, "{found:?}");
                assert!((found.upper - theta_1 - theta_2).abs() < 1e-9, "{found:?}");
            }
        }
    }
}

// source: law of cosines on the triangle of pin, elbow and tip (Euclid II.12, 13); a 3-4-5 triangle by hand; status computed
#[test]
fn a_three_four_five_arm_has_a_right_elbow() {
    let arm = bare_arm(3.0, 4.0);
    let near = Joints { slew: 0.0, lower: 1.0, upper: 0.0, length_m: 4.0 };
    let found = arm.reach(DVec3::new(5.0, 0.0, 0.0), &near, Some(ElbowSide::Up)).unwrap();
    // Lower boom at acos(3/5) above level; the upper one square to it, down.
    assert!((found.lower - (3.0_f64 / 5.0).acos()).abs() < 1e-12);
    assert!((found.upper - (found.lower - FRAC_PI_2)).abs() < 1e-12);
}

// source: glam's affine transforms, multiplied frame by frame; status computed
#[test]
fn every_point_is_where_the_frames_multiplied_out_have_it() {
    let truck = truck();
    for step in 0..200 {
        let s = f64::from(step);
        let joints = Joints {
            slew: 0.31 * s,
            lower: 0.9 + 0.9 * (0.7 * s).sin(),
            upper: 2.0 + 1.4 * (0.3 * s).cos(),
            length_m: truck.upper.length_m.low(),
        };
        // Turning up in the x-z plane is a negative turn about y.
        let up = |angle: f64| DAffine3::from_quat(DQuat::from_rotation_y(-angle));
        let along = |m: f64| DAffine3::from_translation(DVec3::X * m);
        let turret = DAffine3::from_translation(truck.at)
            * DAffine3::from_quat(DQuat::from_rotation_z(truck.heading + joints.slew));
        let pin = turret * DAffine3::from_translation(DVec3::new(truck.pin_offset_m, 0.0, truck.pin_height_m));
        let elbow = pin * up(joints.lower) * along(truck.lower_length_m()) * up(-joints.lower);
        let tip = elbow * up(joints.upper) * along(joints.length_m) * up(-joints.upper);
        let point = DVec3::new(0.4, -0.3, 0.7);
        let check = |frame: DAffine3, local: DVec3, place: Place| {
            let (a, b) = (frame.transform_point3(local), truck.place_in_world(&joints, &place));
            assert!((a - b).length() < 1e-9, "{place:?}: {a} is not {b}");
        };
        check(turret, point, Place::Turret(point));
        let on_boom = DVec3::new(2.5, 0.2, -0.1);
        let lower = Place::Lower { along_m: 2.5, left_m: 0.2, below_m: 0.1 };
        check(pin * up(joints.lower), on_boom, lower);
        let upper = Place::Upper { along_m: 2.5, share: 0.0, left_m: 0.2, below_m: 0.1 };
        check(elbow * up(joints.upper), on_boom, upper);
        check(tip, point, Place::Level(point));
    }
}

// source: 29 CFR 1910.269 Table R-6, row 5.1-15.0 kV, phase to ground 0.65 m, phase to phase 0.68 m; status verified
#[test]
fn the_parts_of_a_lift_keep_the_distance_of_line_work() {
    let site = scene::read("01", JUNIPER_LANE).unwrap().site().unwrap();
    for kind in [Role::LiftConductive, Role::InsulatedLift, Role::Worker] {
        for (exposure, expected_m) in [(Exposure::PhaseToGround, 0.65), (Exposure::PhaseToPhase, 0.68)] {
            assert_eq!(required(&site, kind, 0, exposure).unwrap().distance_m, expected_m);
        }
    }
}
