//! People and what passes over them: on the ground, walking, and in a bucket. Who stands where the pole may fall.

use super::Inputs;
use super::body_set::part_motions_by_piece;
use super::search::{Allowance, Pair};
use super::surroundings::in_pieces;
use crate::approach::{Decision, PartMotion};
use crate::finding::{self, Bodies, Finding};
use crate::machine::body::Look;
use crate::motion::{BodyMotion, MovingPart};
use crate::neighbours::{above_person, and_above};
use crate::site::ground::Task;
use std::sync::Arc;

/// Nearer to the space above a person than this, the load is over him; meters.
const OVER_M: f64 = 1e-3;

/// Whom the load passes over while it is on the hook, and who stands where it may fall.
pub(crate) fn under_load(inputs: &Inputs) -> Vec<Finding> {
    let Some(set) = inputs.bodies.windiest() else { return Vec::new() };
    let of_pole = || set.motion.bodies.iter().enumerate().filter(|(_, body)| body.id.is_of_pole());
    let mut found = Vec::new();
    for (person, above) in people_and_above(inputs, &set.motion.bodies) {
        for (number, body) in of_pole() {
            if let Some(place) = nearer(inputs, set.part_motions(number), &above, OVER_M) {
                let (load, person) = (body.name.clone(), person.clone());
                found.push(placed(inputs, finding::stop(Bodies::LoadOverPerson { load, person }), place));
                break;
            }
        }
    }
    found.extend(in_fall_zone(inputs));
    found
}

/// Everybody, with the space above him by piece: who stands or walks on the ground, and who is in a bucket.
///
/// 29 CFR 1926.1425(e): nobody directly under a load that is tilted up. Who guides it by a tag line is not under it either:
/// ropes are long.
fn people_and_above(inputs: &Inputs, bodies: &[BodyMotion]) -> Vec<(String, Vec<Vec<PartMotion>>)> {
    let stated = inputs.site.neighbours.iter().flat_map(|all| &all.people);
    let on_ground = stated.map(|person| {
        let pieces = in_pieces(inputs.plan, &above_person(person));
        (person.name.clone(), part_motions_by_piece(&pieces))
    });
    let in_bucket = bodies.iter().filter(|body| body.look == Look::Bucket).map(|bucket| {
        let above = |parts: &Arc<[MovingPart]>| -> Arc<[MovingPart]> { parts.iter().map(and_above).collect() };
        let pieces: Vec<_> = bucket.parts.iter().map(above).collect();
        (format!("the man in the {}", bucket.name), part_motions_by_piece(&pieces))
    });
    on_ground.chain(in_bucket).collect()
}

/// Where on the path a part of the load, on the hook, may be nearer than this to the other: `None` where it is proven not
/// to be.
fn nearer(
    inputs: &Inputs,
    load: &[Vec<PartMotion>],
    other: &[Vec<PartMotion>],
    threshold_m: f64,
) -> Option<Option<(usize, f64)>> {
    let counts = |piece: &usize| inputs.plan.pieces.get(*piece).is_some_and(|piece| piece.load.on_hook());
    let pieces: Vec<usize> = (0..inputs.plan.pieces.len()).filter(counts).collect();
    let during = |all: &[Vec<PartMotion>]| -> Vec<PartMotion> {
        pieces.iter().filter_map(|&piece| all.get(piece)).flatten().map(PartMotion::anew).collect()
    };
    let (load, other) = (during(load), during(other));
    if load.is_empty() || other.is_empty() {
        return None;
    }
    match Pair::with_body(&load, &other, Allowance::by_corner()).decide(threshold_m) {
        Decision::Apart { .. } => None,
        Decision::Short { witness, .. } => Some(Some((witness.piece, witness.u))),
        Decision::Undecided { .. } => Some(None),
    }
}

fn placed(inputs: &Inputs, finding: Finding, place: Option<(usize, f64)>) -> Finding {
    let at = place.and_then(|(piece, u)| inputs.plan.pieces.get(piece).map(|piece| (piece, u)));
    let (step, time_s) = (at.map(|(piece, _)| piece.step), at.map(|(piece, u)| piece.time_s(u)));
    Finding { step, time_s, ..finding }
}

/// Everybody but who guides the load stays out of the circle about its butt into which the pole may fall: as wide as the pole
/// is long. 29 CFR 1926.1425(b) to (e) name the fall zone; the circle is common practice.
fn in_fall_zone(inputs: &Inputs) -> Vec<Finding> {
    let Some(set) = inputs.bodies.windiest() else { return Vec::new() };
    let Some(pole) = set.motion.bodies.iter().find(|body| body.id.is_of_pole()) else { return Vec::new() };
    let length_m = inputs.site.pole.length_m;
    let butts: Vec<Arc<[MovingPart]>> =
        pole.parts.iter().map(|parts| parts.iter().take(1).map(butt).collect()).collect();
    let butts = part_motions_by_piece(&butts);
    let stated = inputs.site.neighbours.iter().flat_map(|all| &all.people);
    let mut found = Vec::new();
    for person in stated.filter(|person| person.task != Task::TagLine) {
        let column = part_motions_by_piece(&in_pieces(inputs.plan, &above_person(person)));
        let Some(place) = nearer(inputs, &butts, &column, length_m) else { continue };
        let is_public = person.task == Task::Bystander;
        let fact = Bodies::InFallZone { person: person.name.clone(), pole_m: length_m, is_public };
        let finding = if is_public { finding::stop(fact) } else { finding::caution(fact) };
        found.push(placed(inputs, finding, place));
    }
    found
}

/// The column above the middle of the pole's butt. The first corner of the first shell is the butt.
fn butt(shell: &MovingPart) -> MovingPart {
    let middle = shell.features.iter().take(1).map(|corner| {
        let mut corner = corner.clone();
        (corner.radius_m, corner.axis) = (0.0, None);
        corner
    });
    and_above(&MovingPart { features: middle.collect(), ..shell.clone() })
}
