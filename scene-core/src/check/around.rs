//! The ground, what stands near and who stands near, as what machine and load are held against.

use super::Rooms;
use super::others::Other;
use super::ready::Airs;
use crate::approach::pair::{self, PairDecision};
use crate::approach::{Leg, Measure};
use crate::crane::Joint;
use crate::crane::chain::Seat;
use crate::finding::Finding;
use crate::motion::{BodyKind, MovingPart};
use crate::neighbours::{self, NeighbourKind, above_person};
use crate::outcome::OtherKind;
use crate::sequence::{Piece, Plan};
use crate::site::ground::{Person, Task};
use crate::site::{During, Presence};
use crate::terrain::Ground;
use std::sync::Arc;

/// Placements looked at for one person and what hangs over him.
const BUDGET: u32 = 5_000;

/// Nearer to the space above a person than this, the load is over him; metres.
const OVER_M: f64 = 1e-3;

/// Ground, neighbours and people, each over every piece of the plan. A neighbour that is not there has no parts in a piece.
pub(super) fn around(rooms: &Rooms) -> Vec<Other> {
    let Some(plan) = &rooms.plan else { return Vec::new() };
    let mut all = ground(rooms, plan);
    let Some(stated) = &rooms.site.neighbours else { return all };
    for near in neighbours::neighbours(stated) {
        let parts: Arc<[MovingPart]> = near.parts.into();
        let (rule, mend): (String, &str) = match near.kind {
            NeighbourKind::StandingPole(_) | NeighbourKind::Obstacle(_) => (
                "nothing of machine or load touches what stands near".to_owned(),
                "Work from another place, boom up, or raise the load before it passes.",
            ),
            NeighbourKind::NoGo(index) => (
                format!("no-go area: {}", stated.no_go.get(index).map_or("", |area| area.reason.as_str())),
                "Work from another place, or carry the load round it.",
            ),
            NeighbourKind::Person(_) => (
                "nobody within reach of what moves but who guides the load (29 CFR 1926.1424(a), 1926.1425, from memory)"
                    .to_owned(),
                "Place the person elsewhere, or keep the machine's sweep away from there.",
            ),
        };
        let guides = matches!(near.kind, NeighbourKind::Person(index)
            if stated.people.get(index).is_some_and(|person| person.task == Task::TagLine));
        all.push(Other {
            name: near.name,
            kind: OtherKind::Obstacle,
            machine: None,
            body: None,
            parts: during(plan, &near.during, &parts),
            required_m: 0.0,
            rule,
            mend: mend.to_owned(),
            may_touch: if guides { guided } else { nothing },
        });
    }
    all
}

fn during(plan: &Plan, during: &During, parts: &Arc<[MovingPart]>) -> Vec<Arc<[MovingPart]>> {
    let there = |piece: &Piece| during.presence(piece.step) != Presence::Absent;
    let none: Arc<[MovingPart]> = Arc::from([]);
    plan.pieces.iter().map(|piece| Arc::clone(if there(piece) { parts } else { &none })).collect()
}

fn nothing(_: BodyKind) -> Option<&'static str> {
    None
}

fn guided(kind: BodyKind) -> Option<&'static str> {
    match kind {
        BodyKind::Pole | BodyKind::PoleItem(_) | BodyKind::Rigging => Some("guides the load by hand or tag line"),
        _ => None,
    }
}

// ----------------------------------------------------------------------------------------------------------- ground

/// Twice: for the machine at every instant, and for the pole only while it travels. Lying and being upended it rests on the
/// ground by design, straight down it goes to it and into its hole.
///
/// Not modelled: ground that is higher than at the hole under a pole that is lowered or turned elsewhere.
fn ground(rooms: &Rooms, plan: &Plan) -> Vec<Other> {
    // What is wrong with the survey is a finding of its own.
    let Ok(ground) = Ground::of(rooms.site) else { return Vec::new() };
    let parts: Arc<[MovingPart]> = ground.prisms().iter().map(|prism| prism.part()).collect();
    let none: Arc<[MovingPart]> = Arc::from([]);
    let over = |counts: fn(&Piece) -> bool| -> Vec<Arc<[MovingPart]>> {
        plan.pieces.iter().map(|piece| Arc::clone(if counts(piece) { &parts } else { &none })).collect()
    };
    let other = |name: &str, parts, may_touch, mend: &str| Other {
        name: name.to_owned(),
        kind: OtherKind::Terrain,
        machine: None,
        body: None,
        parts,
        required_m: 0.0,
        rule: "nothing but the butt, where it is set down, touches the ground".to_owned(),
        mend: mend.to_owned(),
        may_touch,
    };
    vec![
        other("the ground", over(|_| true), load_on_ground, "Boom up, or work from higher ground."),
        other(
            "the ground, while it travels",
            over(travels),
            machine_on_ground,
            "Hoist the butt higher before it travels.",
        ),
    ]
}

/// The pole hangs and is moved across, not only up, down or about itself.
fn travels(piece: &Piece) -> bool {
    let across = [Joint::Swing, Joint::BoomAngle, Joint::BoomLength];
    matches!(piece.seat, Seat::OnHook | Seat::InGuides(_))
        && piece.load.on_hook()
        && across.iter().any(|&joint| piece.moves(joint))
}

fn load_on_ground(kind: BodyKind) -> Option<&'static str> {
    match kind {
        BodyKind::Pole | BodyKind::PoleItem(_) => Some("it lies on the ground and is set into it"),
        BodyKind::Auger => Some("it digs"),
        BodyKind::Rigging => Some("it reaches down to the choke of the pole that lies"),
        _ => None,
    }
}

fn machine_on_ground(kind: BodyKind) -> Option<&'static str> {
    match kind {
        BodyKind::Pole | BodyKind::PoleItem(_) => None,
        _ => Some("held against the ground at every instant already"),
    }
}

// ----------------------------------------------------------------------------------------------------------- people

/// Whether the pole passes over anybody while it is on the hook.
pub(super) fn beneath(rooms: &Rooms) -> Vec<Finding> {
    let (Some(plan), Some(stated)) = (&rooms.plan, &rooms.site.neighbours) else { return Vec::new() };
    let Some(air) = rooms.airs().and_then(Airs::most) else { return Vec::new() };
    let load = |kind: BodyKind| matches!(kind, BodyKind::Pole | BodyKind::PoleItem(_));
    let mut found = Vec::new();
    for person in &stated.people {
        let above_him = Leg::new(0, &above_person(person));
        for (number, body) in air.motion.bodies.iter().enumerate().filter(|(_, body)| load(body.kind)) {
            let counts = |i: usize| {
                let piece = plan.pieces.get(i);
                piece.is_some_and(|p| p.load.on_hook() && person.during.presence(p.step) != Presence::Absent)
            };
            let pieces = air.legs(number).iter().enumerate().filter(|(i, _)| counts(*i));
            let moving: Vec<Leg> = pieces.clone().flat_map(|(_, legs)| legs.iter().cloned()).collect();
            let above: Vec<Leg> = pieces.map(|(i, _)| above_him.in_piece(i)).collect();
            if moving.is_empty() {
                continue;
            }
            let decision = pair::decide_between(&moving, &above, Measure::GapLessAllowance, OVER_M, BUDGET);
            let piece = match decision {
                PairDecision::Apart { .. } => continue,
                PairDecision::Short { witness, .. } => plan.pieces.get(witness.piece).map(|piece| (piece, witness.u)),
                PairDecision::Undecided { .. } => None,
            };
            found.push(over(person, &body.name, piece));
            break;
        }
    }
    found
}

/// 29 CFR 1926.1425(b), (d), (e): in the fall zone only who hooks, guides or receives the load; (e) nobody directly under it
/// while it is tilted up. From memory.
fn over(person: &Person, load: &str, at: Option<(&Piece, f64)>) -> Finding {
    let name = &person.name;
    let tilted = at.is_none_or(|(piece, _)| matches!(piece.seat, Seat::Butt { .. }));
    let mut finding = if person.task == Task::TagLine && !tilted {
        let message = format!("{load} may pass over {name}, who guides it: only who is needed there stands under it.");
        Finding::caution("load_over_person", message)
    } else {
        Finding::stop("load_over_person", format!("{load} may pass over {name} while it is on the hook."))
    };
    finding.step = at.map(|(piece, _)| piece.step);
    finding.time_s = at.map(|(piece, u)| piece.time_s(u));
    finding
        .rule("29 CFR 1926.1425, people under a load (from memory)")
        .mend(format!("Give {name} a place that the load does not pass over, or another way for the load."))
}

#[cfg(test)]
mod tests;
