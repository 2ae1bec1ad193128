//! The ground, what stands near and who stands near, as what machine and load are held against.

use super::Inputs;
use super::other_body::OtherBody;
use crate::finding::KeepOff;
use crate::machine::crane::Joint;
use crate::machine::crane::chain::Seat;
use crate::machine::{BodyId, contact};
use crate::motion::MovingPart;
use crate::neighbours::{self, Neighbour, NeighbourKind};
use crate::outcome::OtherKind;
use crate::sequence::{Piece, Plan};
use crate::site::{HeldOut, HolderStand, Site};
use crate::terrain::Ground;
use std::sync::Arc;

/// Ground, neighbors and people, each over every piece of the plan. A neighbor that is not there has no parts in a piece.
pub(crate) fn surroundings(inputs: &Inputs) -> Vec<OtherBody> {
    let plan = inputs.plan;
    let mut all = inputs.ground.map_or(Vec::new(), |surface| ground(surface, plan));
    let Some(stated) = &inputs.site.neighbours else { return all };
    for near in neighbours::neighbours(stated) {
        let (rule, keep_off) = match near.kind {
            NeighbourKind::StandingPole(_) | NeighbourKind::Obstacle(_) => {
                ("nothing of machine or load touches what stands near".to_owned(), KeepOff::Standing)
            }
            NeighbourKind::NoGo(index) => (
                format!("no-go area: {}", stated.no_go.get(index).map_or("", |area| area.reason.as_str())),
                KeepOff::NoGo,
            ),
            NeighbourKind::Person(_) => (
                "nobody within reach of what moves (29 CFR 1926.1424(a), 1926.1425, from memory)".to_owned(),
                KeepOff::Person,
            ),
        };
        let by_hand =
            stated.by_hand.as_ref().is_some_and(|guided| near.kind == NeighbourKind::StandingPole(guided.beside));
        let is_person = matches!(near.kind, NeighbourKind::Person(_));
        all.push(OtherBody {
            parts: in_pieces(plan, &near),
            name: near.name,
            kind: OtherKind::Obstacle,
            body: None,
            required_m: 0.0,
            rule,
            keep_off,
            may_touch: if is_person { contact::with_person } else { nothing },
            by_hand,
            arms: match near.kind {
                NeighbourKind::StandingPole(pole) => arms_on(inputs.site, pole),
                _ => Vec::new(),
            },
        });
    }
    all
}

/// The held-out phases whose arms are on a standing pole.
fn arms_on(site: &Site, pole: usize) -> Vec<usize> {
    let is_on = |held: &HeldOut| held.holder.as_ref().is_some_and(|holder| holder.on == HolderStand::Pole(pole));
    site.held_out.iter().enumerate().filter(|(_, held)| is_on(held)).map(|(index, _)| index).collect()
}

/// What a neighbor fills, by piece. Pieces in which it fills the same share their parts.
pub(super) fn in_pieces(plan: &Plan, near: &Neighbour) -> Vec<Arc<[MovingPart]>> {
    let mut found: Vec<Arc<[MovingPart]>> = Vec::with_capacity(plan.pieces.len());
    for piece in &plan.pieces {
        let now: Vec<&MovingPart> = near.parts_in(piece.step).collect();
        let same = found.last().filter(|before| before.iter().eq(now.iter().copied()));
        let parts = same.map_or_else(|| now.into_iter().cloned().collect(), Arc::clone);
        found.push(parts);
    }
    found
}

fn nothing(_: BodyId) -> Option<&'static str> {
    None
}

// ----------------------------------------------------------------------------------------------------------- ground

/// Twice: for the machine at every instant, and for the pole only while it travels. Lying and being upended it rests on the
/// ground by design, straight down it goes to it and into its hole.
///
/// Not modeled: ground that is higher than at the hole under a pole that is lowered or turned elsewhere.
fn ground(ground: &Ground, plan: &Plan) -> Vec<OtherBody> {
    let parts: Arc<[MovingPart]> = ground.prisms().iter().map(|prism| prism.part()).collect();
    let none: Arc<[MovingPart]> = Arc::from([]);
    let over = |counts: fn(&Piece) -> bool| -> Vec<Arc<[MovingPart]>> {
        plan.pieces.iter().map(|piece| Arc::clone(if counts(piece) { &parts } else { &none })).collect()
    };
    let other = |name: &str, parts, may_touch, keep_off| OtherBody {
        name: name.to_owned(),
        kind: OtherKind::Terrain,
        body: None,
        parts,
        required_m: 0.0,
        rule: "nothing but the butt, where it is set down, touches the ground".to_owned(),
        keep_off,
        may_touch,
        by_hand: false,
        arms: Vec::new(),
    };
    vec![
        other("the ground", over(|_| true), contact::with_ground, KeepOff::Ground),
        other("the ground, while it travels", over(travels), machine_on_ground, KeepOff::GroundTraveling),
    ]
}

/// The pole hangs and is moved across, not only up, down or about itself.
fn travels(piece: &Piece) -> bool {
    let across = [Joint::Swing, Joint::BoomAngle, Joint::BoomLength];
    matches!(piece.seat, Seat::OnHook | Seat::InGuides(_))
        && piece.load.on_hook()
        && across.iter().any(|&joint| piece.moves(joint))
}

fn machine_on_ground(kind: BodyId) -> Option<&'static str> {
    (!kind.is_of_pole()).then_some("held against the ground at every instant already")
}

#[cfg(test)]
mod tests;
