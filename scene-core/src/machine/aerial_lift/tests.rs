use super::*;
use crate::fixtures::trucks::{ORRIN, TALLIS, scene_text, truck};
use crate::machine::joint::beyond_limits;
use crate::machine::lift::{ElbowSide, Lift, ReachError};
use crate::sequence::pose;
use crate::site::pose::BucketAt;
use proptest::prelude::*;

const FOOT: f64 = 0.3048;

fn joints_of(truck: &BucketTruck, slew: f64, a: f64, b: f64, c: f64) -> Joints {
    let length_m = truck.upper.length_m.at(c);
    match truck.linkage {
        Linkage::Articulating { angle, fold, .. } => {
            let lower = angle.at(a);
            Joints { slew, lower, upper: lower + fold.at(b), length_m }
        }
        Linkage::Telescoping { angle } => Joints { slew, lower: 0.0, upper: angle.at(b), length_m },
    }
}

proptest! {
    #[test]
    fn the_bucket_comes_back_to_the_point_it_was_at(
        slew in -3.0..3.0_f64, a in 0.02..0.98_f64, b in 0.05..0.95_f64, c in 0.02..0.98_f64, left in -1.0..1.0_f64,
        telescoping: bool,
    ) {
        let mut truck = truck(if telescoping { ORRIN } else { TALLIS });
        truck.bucket.left_m = left;
        let joints = joints_of(&truck, slew, a, b, c);
        let rim = truck.rim_in_world(&joints);
        prop_assume!((rim - truck.at).truncate().length() > left.abs() + 0.5);
        let found = truck.reach(rim, &joints, None).unwrap();
        prop_assert!((truck.rim_in_world(&found) - rim).length() < 1e-6);
        prop_assert!((found.slew - joints.slew).abs() < 1e-6, "{found:?} {joints:?}");
        prop_assert!((found.lower - joints.lower).abs() < 1e-5 && (found.upper - joints.upper).abs() < 1e-5);
        prop_assert!(beyond_limits(&truck.joints(), &found.into()).is_none());
    }

    #[test]
    fn a_small_move_of_the_bucket_does_not_throw_the_elbow_over(
        slew in -3.0..3.0_f64, a in 0.1..0.9_f64, b in 0.2..0.8_f64, by in [-0.05..0.05_f64, -0.05..0.05, -0.05..0.05],
    ) {
        let truck = truck(TALLIS);
        let joints = joints_of(&truck, slew, a, b, 0.0);
        let rim = truck.rim_in_world(&joints);
        prop_assume!((rim - truck.at).truncate().length() > 2.0);
        if let Ok(found) = truck.reach(rim + DVec3::from(by), &joints, None) {
            prop_assert!((found.lower - joints.lower).abs() < 0.2 && (found.upper - joints.upper).abs() < 0.2);
        }
    }

    #[test]
    fn no_number_makes_the_inverse_panic(
        x in prop::num::f64::ANY, y in prop::num::f64::ANY, z in prop::num::f64::ANY, a in prop::num::f64::ANY,
    ) {
        for mut truck in [truck(TALLIS), truck(ORRIN)] {
            truck.bucket.left_m = a;
            let near = Joints { slew: a, lower: x, upper: y, length_m: z };
            let _ = truck.reach(DVec3::new(x, y, z), &near, Some(ElbowSide::Up));
        }
    }

    #[test]
    fn every_body_stays_joined_to_the_next(slew in -3.0..3.0_f64, a in 0.0..1.0_f64, b in 0.0..1.0_f64, c in 0.0..1.0_f64) {
        for truck in [truck(TALLIS), truck(ORRIN)] {
            let joints = joints_of(&truck, slew, a, b, c);
            let tip = truck.place_in_world(&joints, &Place::Level(DVec3::ZERO));
            let end = Place::Upper { along_m: 0.0, share: 1.0, left_m: 0.0, below_m: 0.0 };
            prop_assert!((truck.place_in_world(&joints, &end) - tip).length() < 1e-9);
            let elbow = truck.place_in_world(&joints, &Place::Upper { along_m: 0.0, share: 0.0, left_m: 0.0, below_m: 0.0 });
            let lower_end = Place::Lower { along_m: truck.lower_length_m(), left_m: 0.0, below_m: 0.0 };
            prop_assert!((truck.place_in_world(&joints, &lower_end) - elbow).length() < 1e-9);
            prop_assert!(((tip - elbow).length() - joints.length_m).abs() < 1e-9);
        }
    }
}

#[test]
fn a_point_beyond_the_booms_is_out_of_reach_by_what_is_missing() {
    let truck = truck(TALLIS);
    let near = truck.stowed_joints();
    // Level with the pin, so that all of both booms lies in line.
    let most_m = 18.0 * FOOT + 23.0 * FOOT;
    // Over the back, where the pin and the rim lie nearer; facing it the point is farther still.
    let out_m = most_m + 1.0 - (truck.pin_offset_m + truck.bucket.ahead_m);
    let rim = truck.at + DVec3::new(0.0, out_m, truck.pin_height_m - truck.bucket.below_m);
    let Err(ReachError::TooFar { by_m }) = truck.reach(rim, &near, None) else { panic!() };
    assert!((by_m - 1.0).abs() < 1e-9, "{by_m}");
    assert!(matches!(truck.reach(truck.at, &near, None), Err(ReachError::Limit { .. } | ReachError::TooNear { .. })));
    assert_eq!(truck.reach(DVec3::NAN, &near, None), Err(ReachError::NotANumber));
}

#[test]
fn the_stated_elbow_is_kept_or_refused() {
    let truck = truck(TALLIS);
    let near = truck.stowed_joints();
    let rim = truck.at + DVec3::new(-4.0, -3.0, 7.0);
    let up = truck.reach(rim, &near, Some(ElbowSide::Up)).unwrap();
    let elbow = truck.place_in_world(&up, &Place::Lower { along_m: truck.lower_length_m(), left_m: 0.0, below_m: 0.0 });
    let pin = truck.place_in_world(&up, &Place::Lower { along_m: 0.0, left_m: 0.0, below_m: 0.0 });
    let tip = truck.place_in_world(&up, &Place::Level(DVec3::ZERO));
    let share = (elbow - pin).truncate().dot((tip - pin).truncate()) / (tip - pin).truncate().length_squared();
    assert!(elbow.z > pin.z + (tip.z - pin.z) * share);
}

#[test]
fn the_insulated_part_is_only_what_lies_beyond_the_metal() {
    let mut truck = truck(ORRIN);
    let parts = |truck: &BucketTruck| truck.chain().iter().map(|body| body.part).collect::<Vec<_>>();
    assert!(parts(&truck).contains(&LiftPart::UpperBoom));
    let retracted = Joints { length_m: truck.upper.length_m.low(), upper: 0.0, ..Joints::default() };
    let bodies = truck.chain();
    let bare = bodies.iter().find(|body| body.part == LiftPart::InnerBoom).unwrap();
    // Retracted, the base section's metal reaches to 2 ft from the tip: it counts as bare all the way.
    let hulls = truck.hulls(bare, &retracted);
    let outward = truck.outward(0.0);
    let farthest_m = hulls
        .iter()
        .flat_map(|hull| &hull.features)
        .map(|feature| (feature.farthest(outward) - truck.at).dot(outward))
        .fold(f64::NEG_INFINITY, f64::max);
    let tip_m = (truck.place_in_world(&retracted, &Place::Level(DVec3::ZERO)) - truck.at).dot(outward);
    assert!((tip_m - farthest_m - 2.0 * FOOT).abs() < 1e-9, "{tip_m} {farthest_m}");
    truck.insulation = Insulation::Unknown;
    assert!(!parts(&truck).contains(&LiftPart::UpperBoom));
}

#[test]
fn a_pose_at_a_wire_is_below_and_beside_where_it_hangs() {
    let text = scene_text(TALLIS);
    let site = crate::scene::read("t", &text).unwrap().site().unwrap();
    let at = |below_m, left_m, station_m| BucketAt::Wire { wire: 0, station_m, below_m, left_m };
    let on = pose::rim_wanted(&site, &at(0.0, 0.0, 0.0)).unwrap();
    let span = &site.wires[0].spans[0];
    let crate::site::Hang::Sag { sag_m } = span.hang else { panic!() };
    let chord_z = span.from.z
        + (span.to.z - span.from.z)
            * ((on - span.from).truncate().length() / (span.to - span.from).truncate().length());
    assert!(on.z < chord_z && on.z >= chord_z - sag_m.high());
    let off = pose::rim_wanted(&site, &at(0.6, 1.0, 0.0)).unwrap();
    assert!((off.z - on.z + 0.6).abs() < 1e-9);
    assert!(((off - on).truncate().length() - 1.0).abs() < 1e-9);
    let along = (span.to - span.from).truncate();
    assert!(along.perp_dot((off - on).truncate()) > 0.0);
    assert_eq!(pose::rim_wanted(&site, &at(0.0, 0.0, 1e6)), None);
}

#[test]
fn a_machine_of_either_kind_says_that_it_is_invented() {
    for name in crate::catalog::bucket_truck_names() {
        let (_, text) = crate::catalog::bucket_truck(name).unwrap();
        assert!(text.contains("source: \"invented for the examples, not a real machine\""));
        let machine = format!("machine: {}", &text[text.find('(').unwrap()..]);
        let stands = if name == "Orrin 38" { ORRIN } else { TALLIS };
        let stands = stands.replace("model: \"Orrin 38\"", &machine).replace("model: \"Tallis 46\"", &machine);
        // The upper boom of this one telescopes too.
        let stands = if name == "Tallis 58" {
            stands.replace("rates: (slew: \"3 deg/s\"", "rates: (extend: \"1 ft/s\", slew: \"3 deg/s\"")
        } else {
            stands
        };
        let inline = scene_text(&stands);
        let scene = crate::scene::read("inline", &inline).unwrap_or_else(|faults| panic!("{}", faults[0]));
        let site = scene.site().unwrap();
        assert_eq!(site.lifts[0].facts().model, name);
        assert_eq!(crate::scene::read("again", &scene.to_ron()).unwrap().site().unwrap(), site);
    }
}
