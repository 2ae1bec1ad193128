//! People and what passes over them.

use super::Inputs;
use super::search::{Allowance, Pair};
use crate::approach::{Decision, PartMotion};
use crate::finding::{self, Bodies, Finding};
use crate::machine::crane::chain::Seat;
use crate::neighbours::above_person;
use crate::sequence::Piece;
use crate::site::Presence;
use crate::site::ground::{Person, Task};

/// Nearer to the space above a person than this, the load is over him; meters.
const OVER_M: f64 = 1e-3;

/// Whether the pole passes over anybody while it is on the hook.
pub(crate) fn under_load(inputs: &Inputs) -> Vec<Finding> {
    let plan = inputs.plan;
    let (Some(stated), Some(set)) = (&inputs.site.neighbours, inputs.bodies.windiest()) else { return Vec::new() };
    let mut found = Vec::new();
    for person in &stated.people {
        let above_him = PartMotion::new(0, &above_person(person));
        for (number, body) in set.motion.bodies.iter().enumerate().filter(|(_, body)| body.id.is_of_pole()) {
            let counts = |i: usize| {
                let piece = plan.pieces.get(i);
                piece.is_some_and(|p| p.load.on_hook() && person.during.presence(p.step) != Presence::Absent)
            };
            let pieces = set.part_motions(number).iter().enumerate().filter(|(i, _)| counts(*i));
            let moving: Vec<PartMotion> =
                pieces.clone().flat_map(|(_, part_motions)| part_motions.iter().cloned()).collect();
            let above: Vec<PartMotion> = pieces.map(|(i, _)| above_him.in_piece(i)).collect();
            if moving.is_empty() {
                continue;
            }
            let piece = match Pair::with_body(&moving, &above, Allowance::by_corner()).decide(OVER_M) {
                Decision::Apart { .. } => continue,
                Decision::Short { witness, .. } => plan.pieces.get(witness.piece).map(|piece| (piece, witness.u)),
                Decision::Undecided { .. } => None,
            };
            found.push(finding(person, &body.name, piece));
            break;
        }
    }
    found
}

/// 29 CFR 1926.1425(b), (d), (e): in the fall zone only who hooks, guides or receives the load; (e) nobody directly under it
/// while it is tilted up. From memory.
fn finding(person: &Person, load: &str, at: Option<(&Piece, f64)>) -> Finding {
    let tilted = at.is_none_or(|(piece, _)| matches!(piece.seat, Seat::Butt { .. }));
    let (load, person_name) = (load.to_owned(), person.name.clone());
    let finding = if person.task == Task::TagLine && !tilted {
        finding::caution(Bodies::LoadOverGuide { load, person: person_name })
    } else {
        finding::stop(Bodies::LoadOverPerson { load, person: person_name })
    };
    let (step, time_s) = (at.map(|(piece, _)| piece.step), at.map(|(piece, u)| piece.time_s(u)));
    Finding { step, time_s, ..finding }
}
