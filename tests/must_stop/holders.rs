//! A phase that nothing holds, or that is held from where nothing stands; a cover that nobody reaches.

use super::{FOOT_M, Row, example, passed};
use scene_core::glam::DVec3;
use scene_core::site::ground::StandingPole;
use scene_core::site::{Action, Holder, HolderStand, Site};

const JUNIPER: &str = include_str!("../../scenes/01_juniper_lane.ron");

fn holder(site: &mut Site, held: usize, change: impl Fn(&mut Holder)) {
    site.held_out[held].holder.as_mut().map(change).expect("the example states its holders");
}

/// Puts the arm that holds A on the first standing pole, at this place.
fn on_pole(site: &mut Site, from: impl Fn(&StandingPole) -> DVec3) {
    let poles = &site.neighbours.as_ref().expect("poles stand there").poles;
    let at = from(&poles[0]);
    holder(site, 0, |holder| (holder.on, holder.from) = (HolderStand::Pole(0), at));
}

/// A truck moved with its boom and its arms; feet.
fn move_truck(site: &mut Site, truck: usize, by: DVec3) {
    let by = by * FOOT_M;
    let moved = &mut site.holding_trucks[truck];
    (moved.at, moved.boom_end) = (moved.at + by, moved.boom_end + by);
    for held in site.held_out.iter_mut().filter_map(|held| held.holder.as_mut()) {
        if held.on == HolderStand::Truck(truck) {
            held.from += by;
        }
    }
}

const NOTHING_HOLDS: &[Row] = &[
    ("a phase held aside by nothing", |s| s.held_out[0].holder = None, "holder_not_stated"),
    ("one of four phases held by nothing", |s| s.held_out[3].holder = None, "holder_not_stated"),
    (
        "a phase held at midspan from the next pole, 150 feet away",
        |s| on_pole(s, |pole| pole.top - DVec3::Z * 0.5),
        "holder_out_of_reach",
    ),
    ("an arm a foot too short", |s| holder(s, 1, |h| h.reach_m -= 2.5 * FOOT_M), "holder_out_of_reach"),
    ("a truck parked ten feet farther off", |s| move_truck(s, 0, DVec3::new(10.0, 0.0, 0.0)), "holder_out_of_reach"),
    ("an arm whose reach is not a number", |s| holder(s, 0, |h| h.reach_m = f64::NAN), "holder_out_of_reach"),
    (
        "an arm fixed in the air beside a pole",
        |s| on_pole(s, |pole| pole.top + DVec3::new(2.0, 0.0, -1.0)),
        "holder_off_stand",
    ),
    ("an arm fixed above the top of a pole", |s| on_pole(s, |pole| pole.top + DVec3::Z * 3.0), "holder_off_stand"),
    ("an arm without a tag", |s| holder(s, 2, |h| h.tag = " ".to_owned()), "holder_tag_not_stated"),
    ("a holding truck parked on the pole that lies", |s| move_truck(s, 0, DVec3::new(0.0, -11.0, 0.0)), "body_touch"),
    (
        "an arm across the slot that the pole goes down",
        |s| {
            let to = s.held_out[0].to;
            holder(s, 0, |h| (h.from, h.reach_m) = (DVec3::new(-to.x, 2.0, to.z), 8.0));
        },
        "body_touch",
    ),
    (
        "a holding truck's boom up among the phases",
        |s| s.holding_trucks[1].boom_end = s.held_out[2].to + DVec3::new(0.3, 0.3, 0.0),
        "approach_touch",
    ),
    (
        "a holder with more play than the wires are apart",
        |s| {
            s.covers.clear();
            holder(s, 1, |h| h.play_m = 0.6);
        },
        "wires_may_meet",
    ),
    (
        "hose put on by nobody",
        |s| {
            s.lifts.clear();
            for step in &mut s.steps {
                if matches!(step.action, Action::BucketTo(_) | Action::BucketStow { .. }) {
                    step.action = Action::Hold { question: "Well?".to_owned() };
                }
            }
        },
        "cover_out_of_reach",
    ),
    (
        "hose farther out than anybody reaches",
        |s| {
            for cover in &mut s.covers {
                if let scene_core::site::CoverOn::Wire { station_m, .. } = &mut cover.on {
                    *station_m = scene_core::bracket::Bracket::between(-25.0, 25.0).expect("in order");
                }
            }
        },
        "cover_out_of_reach",
    ),
];

#[test]
fn what_nothing_holds_and_nobody_reaches_stops() {
    let passed = passed(&example("01_juniper_lane.ron", JUNIPER), NOTHING_HOLDS);
    assert!(passed.is_empty(), "these should have stopped: {passed:#?}");
}
