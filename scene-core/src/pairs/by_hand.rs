//! Where people guide the pole by hand past a pole that stands beside the hole.
//!
//! While hands hold it, the pole swings no farther than the scene states. That counts against the one standing pole alone, and
//! only where the butt is within reach of the hands. It excuses no wire, no touch, and nobody's place.

use super::Inputs;
use crate::cover;
use crate::finding::{self, ByHand, Finding, Unit};
use crate::machine::crane::Joint;
use crate::machine::crane::chain::Seat;
use crate::pole::Outline;
use crate::sequence::{LoadState, Path, Piece, Plan};
use crate::site::Site;
use crate::site::ground::{self, HandProtection, Task};
use glam::DVec3;

/// Hands hold a butt that is no higher than this above grade; meters, 4 ft. Common practice.
const WITHIN_REACH_M: f64 = 1.2192;
/// Heights of the butt are stated and reached to this; meters, half an inch.
const STATED_TO_M: f64 = 0.0127;
/// Hands do not hold a pole stiller than this; meters, 3 in. Common practice.
const LEAST_SWING_M: f64 = 0.0762;

/// The pieces of the plan in which hands guide the load.
#[derive(Clone, Debug)]
pub(super) struct HandGuided {
    /// Meters.
    pub swing_m: f64,
    /// By piece of the plan.
    holds: Vec<bool>,
}

impl HandGuided {
    /// `None` where the scene states none, or where what it states does not count.
    pub fn of(site: &Site, plan: &Plan) -> Option<Self> {
        let stated = site.neighbours.as_ref()?.by_hand.as_ref()?;
        if !people_count(site, stated) || !hands_protected(site, stated) {
            return None;
        }
        let counts = |piece: &Piece| stated.steps.contains(&piece.step) && why_not(site, plan, piece).is_none();
        let holds = plan.pieces.iter().map(counts).collect();
        // `f64::max` drops a NaN, and then hands would be taken to hold the pole still.
        let swing_m = if stated.swing_m < LEAST_SWING_M { LEAST_SWING_M } else { stated.swing_m };
        Some(Self { swing_m, holds })
    }

    /// Hands guide the load in this piece.
    pub fn holds(&self, piece: usize) -> bool {
        self.holds.get(piece).copied().unwrap_or(false)
    }
}

/// What keeps a stated stretch from counting, and that one that counts is relied on.
pub(crate) fn by_hand(inputs: &Inputs) -> Vec<Finding> {
    let (site, plan) = (inputs.site, inputs.plan);
    let Some(stated) = site.neighbours.as_ref().and_then(|all| all.by_hand.as_ref()) else { return Vec::new() };
    let mut found = Vec::new();
    if !people_count(site, stated) {
        found.push(finding::stop(ByHand::TooFewGuides));
    }
    if !hands_protected(site, stated) {
        found.push(finding::stop(ByHand::HandsUnprotected));
    }
    for &step in &stated.steps {
        let of_step = plan.pieces.iter().filter(|piece| piece.step == step);
        let why =
            of_step.filter_map(|piece| why_not(site, plan, piece).map(|why| why.at_time(piece.time_from_s))).next();
        found.extend(why.map(|why| why.at_step(step)));
    }
    if found.is_empty() {
        let poles = site.neighbours.as_ref().map_or(&[][..], |all| &all.poles);
        let beside = poles.get(stated.beside).map_or_else(String::new, |pole| pole.name.clone());
        let relied = finding::caution(ByHand::Relied { beside, swing_m: stated.swing_m });
        found.extend(stated.steps.first().map(|step| relied.at_step(*step)));
    }
    found
}

/// At least two people, each at a place during every step, whose task is to guide.
fn people_count(site: &Site, stated: &ground::ByHand) -> bool {
    let people = site.neighbours.as_ref().map_or(&[][..], |all| &all.people);
    let mut guides = stated.guides.clone();
    guides.sort_unstable();
    guides.dedup();
    let guides_there = |index: &usize| {
        people.get(*index).is_some_and(|person| {
            person.task == Task::TagLine && stated.steps.iter().all(|step| person.place_in(*step).is_some())
        })
    };
    guides.len() >= 2 && guides.iter().all(guides_there)
}

/// Gloves of the class that the highest voltage asks for, or tools that keep hands off the pole.
fn hands_protected(site: &Site, stated: &ground::ByHand) -> bool {
    let HandProtection::RubberGloves { class } = stated.hands else { return true };
    site.circuits.iter().all(|circuit| {
        let needed = cover::glove_class(circuit.voltage_v);
        // The lowest class is 00.
        needed.and_then(|needed| needed.parse::<u8>().ok()).is_some_and(|needed| class >= needed)
    })
}

/// What keeps a piece from counting: hands guide a pole that hangs, low, one motion at a time.
fn why_not(site: &Site, plan: &Plan, piece: &Piece) -> Option<Finding> {
    if piece.load != LoadState::Hanging || matches!(piece.seat, Seat::Butt { .. }) || piece.path != Path::Even {
        return Some(finding::stop(ByHand::NotHanging));
    }
    let most_m = highest_butt_m(site, plan, piece);
    let is_low = most_m <= WITHIN_REACH_M + STATED_TO_M;
    let fact = ByHand::TooHigh { butt_m: most_m, limit_m: WITHIN_REACH_M };
    (!is_low).then(|| finding::stop(fact).measured(most_m, WITHIN_REACH_M, Unit::Meter))
}

/// No less than the height above grade of the butt's lowest point at any instant of the piece, meters.
///
/// Along a circle of radius r, over an angle a, height exceeds the line between the ends by at most r·a²/8.
fn highest_butt_m(site: &Site, plan: &Plan, piece: &Piece) -> f64 {
    let chain = &plan.chain;
    let radius_m = Outline::of(&site.pole).map_or(0.0, |outline| outline.butt_radius_m());
    let butt_m = |u: f64| {
        let joints = piece.joints_at(u);
        let butt: DVec3 = match piece.seat {
            Seat::InGuides(_) => chain.butt_on(&joints, &piece.seat),
            _ => chain.butt_in_world(&joints),
        };
        butt.z - radius_m * joints.pole_tilt.sin().abs() - site.hole.at.z
    };
    let by = |joint: Joint| piece.to.get(joint) - piece.from.get(joint);
    let boom_m = piece.from.boom_length_m.max(piece.to.boom_length_m) + chain.crane.head_along_m;
    let lever_m = boom_m.hypot(chain.crane.head_below_m);
    let (boomed, tilted) = (by(Joint::BoomAngle), by(Joint::PoleTilt));
    let bulge_m = (lever_m * boomed * boomed + site.pole.length_m * tilted * tilted) / 8.0;
    // A NaN at either end makes the sum NaN, which is not low.
    let (from_m, to_m) = (butt_m(0.0), butt_m(1.0));
    (from_m + to_m + (from_m - to_m).abs()) / 2.0 + bulge_m
}
