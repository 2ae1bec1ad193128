//! What a machine's carrier, outriggers or mats stand in.

use super::{FOOT_M, Row, example, passed};
use scene_core::glam::DVec3;
use scene_core::machine::Outrigged;
use scene_core::machine::aerial_lift::BucketTruck;
use scene_core::site::ground::{Neighbours, NoGo, Obstacle, Shape, StandingPole};
use scene_core::site::{Action, Site};

const JUNIPER: &str = include_str!("../../scenes/01_juniper_lane.ron");

fn around(site: &mut Site) -> &mut Neighbours {
    site.neighbours.get_or_insert_default()
}

/// East of the crane's slew axis, where its front is, and north of it; feet.
fn by_crane(site: &Site, east: f64, north: f64) -> DVec3 {
    site.crane.at + DVec3::new(east, north, 0.0) * FOOT_M
}

fn obstacle(site: &mut Site, shape: Shape) {
    around(site).obstacles.push(Obstacle { name: "new".to_owned(), shape });
}

fn truck_at(site: &mut Site, at: DVec3) {
    let truck = site.lifts[0].as_kind_mut::<BucketTruck>().expect("a bucket truck");
    truck.at = at;
}

const STOOD_IN: &[Row] = &[
    (
        "a pole that lies under the crane's carrier",
        |s| {
            let (butt_at, tip_at) = (by_crane(s, 26.0, 0.0), by_crane(s, -60.0, 0.0));
            for step in &mut s.steps {
                if let Action::Start { butt, tip_toward, .. } = &mut step.action {
                    (*butt, *tip_toward) = (butt_at, tip_at);
                }
            }
        },
        "body_touch",
    ),
    (
        "a bollard between the crane's wheels",
        |s| {
            let foot = by_crane(s, 12.0, 1.0);
            obstacle(s, Shape::Post { foot, height_m: 0.9, radius_m: 0.1 });
        },
        "body_touch",
    ),
    (
        "a wall through the crane's cab",
        |s| {
            let (from, to) = (by_crane(s, 18.0, -8.0), by_crane(s, 18.0, 8.0));
            obstacle(s, Shape::Wall { from, to, height_m: 2.0, thickness_m: 0.2 });
        },
        "body_touch",
    ),
    (
        "an outrigger that is put out into a standing pole",
        |s| {
            let foot = by_crane(s, 11.0, -9.0);
            let top = foot + DVec3::Z * 2.0;
            let pole = StandingPole { name: "stub".to_owned(), foot, top, foot_radius_m: 0.15, top_radius_m: 0.15 };
            around(s).poles.push(pole);
        },
        "body_touch",
    ),
    (
        "a mat laid in a no-go area",
        |s| {
            let at = |east, north| by_crane(s, east, north).truncate();
            let corners = vec![at(-12.0, 11.0), at(-8.0, 11.0), at(-8.0, 14.0), at(-12.0, 14.0)];
            let area =
                NoGo { name: "drain".to_owned(), corners, ground_m: 0.0, height_m: 0.3, reason: "soft".to_owned() };
            around(s).no_go.push(area);
        },
        "body_touch",
    ),
    (
        "a bucket truck parked against the crane",
        |s| {
            let at = by_crane(s, 4.0, 8.0);
            truck_at(s, at);
        },
        "body_touch",
    ),
    (
        "a bucket truck whose outrigger stands in a tree",
        |s| {
            let facts_at = s.lifts[0].facts().at;
            let foot = facts_at + DVec3::new(8.0, 6.0, 0.0) * FOOT_M;
            obstacle(
                s,
                Shape::Tree { foot, height_m: 1.0, trunk_radius_m: 0.2, crown_from_m: 0.5, crown_radius_m: 0.2 },
            );
        },
        "body_touch",
    ),
];

#[test]
fn what_stands_in_something_stops() {
    let passed = passed(&example("01_juniper_lane.ron", JUNIPER), STOOD_IN);
    assert!(passed.is_empty(), "these should have stopped: {passed:#?}");
}

/// Neither is silence about a size.
#[test]
fn a_size_that_is_not_stated_is_said() {
    let mut site = example("01_juniper_lane.ron", JUNIPER);
    let codes = |site: &Site| -> Vec<&str> {
        let report = scene_core::check::check(site);
        let stated = ["carrier_not_stated", "outriggers_not_stated"];
        report.findings.iter().map(|finding| finding.code()).filter(|code| stated.contains(code)).collect()
    };
    assert_eq!(codes(&site), Vec::<&str>::new());
    site.crane.carrier = None;
    site.lifts[0].base.carrier = None;
    site.lifts[0].base.outrigged = Outrigged::Unknown;
    assert_eq!(codes(&site), ["carrier_not_stated", "carrier_not_stated", "outriggers_not_stated"]);
    site.lifts[0].base.outrigged = Outrigged::Without("works on its wheels, maker's manual".to_owned());
    assert_eq!(codes(&site), ["carrier_not_stated", "carrier_not_stated"]);
}
