//! Every body against every other body: proven gaps, and what touches that must not.
//!
//! The bodies of the lifting machine and its load are held against each other here. Whatever else there is joins as a list of
//! [`OtherBody`]: one per body, with its convex parts piece by piece of the plan. A thing that never moves gives the same `Arc`
//! of still parts for every piece. A body of an aerial lift gives its parts as they run over the piece's u, and
//! which body it is. Corners carry their own allowances; those of both come off the gap.
//!
//! One row per pair. Its allowances are those of the weather that leans the load most, so that its weather is left empty.

mod finding;

use super::Inputs;
use super::body_set::{BodySet, part_motions_by_piece};
use super::by_hand::HandGuided;
use super::demand::contact::{Contact, contact, pieces_in_contact};
use super::judge::{Judged, Limit};
use super::other_body::{BodyIndex, BodyPair, OtherBody};
use super::search::{Allowance, Pair, TOLERANCE_M};
use crate::approach::PartMotion;
use crate::finding::{Finding, KeepOff};
use crate::machine::BodyId;
use crate::motion::MovingPart;
use crate::outcome::{GapRow, OtherKind};
use crate::rules::{CoverProof, PairState};
use crate::sequence::Plan;
use crate::side_by_side;
use std::sync::Arc;

/// Pairs that keep this much more than is demanded of them are bracketed roughly, meters.
const FAR_M: f64 = 1.5;
const ROUGH_M: f64 = 0.1;

const NO_CONTACT: &str = "bodies of the machine and its load must not strike each other";
const LIFTS_APART: &str = "no two aerial lifts may strike each other";

/// One row per pair of bodies that must not touch, which bodies it is of, and a finding for each pair that may.
pub(crate) fn to_bodies(
    inputs: &Inputs,
    others: &[OtherBody],
    findings: &mut Vec<Finding>,
) -> (Vec<GapRow>, Vec<BodyPair>) {
    let sets = inputs.bodies;
    let [own, outside, above_ground] = [sets.against_one_another(), sets.windiest(), sets.over_ground()]
        .map(|set| set.map_or(Vec::new(), of_lifting_machine));
    // Of the pole and what is on it, where hands guide it.
    let held = sets.by_hand().map(|(guided, set)| (guided, of_lifting_machine(set)));
    let by_hand: Vec<Option<Body>> = (outside.iter().enumerate())
        .map(|(at, (kind, body))| {
            let (guided, held) = held.as_ref().filter(|_| kind.is_of_pole())?;
            held.get(at).map(|(_, held)| body.guided_by_hand(guided, held))
        })
        .collect();
    let others: Vec<(&OtherBody, Body)> = others
        .iter()
        .enumerate()
        .map(|(at, other)| (other, Body::new(BodyIndex::Other(at), &other.name, &other.parts)))
        .collect();

    let among: Vec<Among> = among_themselves(inputs, &own);
    let mut pairs: Vec<TwoBodies> = among.iter().filter_map(|pair| pair.two(&own)).collect();
    for (i, (other, theirs)) in others.iter().enumerate() {
        let demand = Demand::of(other, other.kind);
        let against = if other.kind == OtherKind::Terrain { &above_ground } else { &outside };
        for ((kind, body), held) in against.iter().zip(&by_hand) {
            let is_fixed_there = matches!(kind, BodyId::HoldingArm { held_out, .. } if other.arms.contains(held_out));
            if is_fixed_there || (other.may_touch)(*kind).is_some() {
                continue;
            }
            let held = held.as_ref().filter(|_| other.by_hand);
            let (body, by_hand) = (held.unwrap_or(body), held.is_some());
            pairs.push(TwoBodies { body, other: theirs, demand, in_contact: None, by_hand });
        }
        for (second, seconds) in others.iter().take(i) {
            if permitted(other, second) {
                continue;
            }
            if other.body.is_some() && second.body.is_some() {
                let (rule, keep_off) = (LIFTS_APART, KeepOff::OtherLift);
                let demand = Demand { kind: OtherKind::Body, required_m: 0.0, rule, keep_off };
                pairs.push(TwoBodies { body: theirs, other: seconds, demand, in_contact: None, by_hand: false });
                continue;
            }
            // Said of the one that moves, by the rule of the one that is the stricter.
            let strict = if second.required_m > other.required_m { second } else { other };
            let (body, fixed, fixed_kind) =
                if other.body.is_some() { (theirs, seconds, second.kind) } else { (seconds, theirs, other.kind) };
            let demand = Demand::of(strict, fixed_kind);
            pairs.push(TwoBodies { body, other: fixed, demand, in_contact: None, by_hand: false });
        }
    }
    let pairs: Vec<TwoBodies> = pairs.into_iter().filter(TwoBodies::are_there).collect();
    let rows = side_by_side::map(&pairs, |pair| pair.row(inputs.plan));
    findings.extend(rows.iter().zip(&pairs).filter_map(|(row, pair)| finding::finding(row, &pair.demand)));
    (rows, pairs.iter().map(TwoBodies::body_pair).collect())
}

/// Two bodies of the lifting machine and its load that must not touch, or not always.
struct Among<'a> {
    /// By index into the lifting machine's bodies. The first is what hangs.
    body: usize,
    other: usize,
    keep_off: KeepOff,
    /// Where they may touch for a time: by piece, and the first body without those pieces.
    cut: Option<(Arc<[bool]>, Body<'a>)>,
}

/// Every pair that may not touch at any instant.
fn among_themselves<'a>(inputs: &Inputs, own: &[(BodyId, Body<'a>)]) -> Vec<Among<'a>> {
    let Some(set) = inputs.bodies.against_one_another() else { return Vec::new() };
    let mut found = Vec::new();
    for (i, (kind, body)) in own.iter().enumerate() {
        for (j, (fixed_kind, _)) in own.iter().enumerate().take(i) {
            let cut = match contact(*kind, *fixed_kind) {
                Contact::ByDesign(_) => continue,
                Contact::Never => None,
                Contact::For(when) => {
                    let (on_pole, other) = if kind.is_of_pole() { (*kind, *fixed_kind) } else { (*fixed_kind, *kind) };
                    let of_other = set.motion.bodies.iter().find(|body| body.id == other);
                    let in_contact = of_other
                        .map_or(Vec::new(), |body| pieces_in_contact(inputs.site, inputs.plan, when, body, on_pole));
                    let cut = body.without(|piece| in_contact.get(piece) == Some(&true));
                    Some((Arc::from(in_contact), cut))
                }
            };
            // Said of what hangs.
            let is_below = *kind == BodyId::Counterweight || kind.is_of_carrier() || kind.holds();
            let (body, other) = if is_below { (j, i) } else { (i, j) };
            let fixed = if is_below { *kind } else { *fixed_kind };
            let keep_off = if cut.is_some() && !matches!(fixed, BodyId::Boom | BodyId::BoomHead) {
                KeepOff::ChokedPole
            } else {
                finding::keep_off(fixed)
            };
            found.push(Among { body, other, keep_off, cut });
        }
    }
    found
}

impl<'a> Among<'a> {
    fn two(&'a self, own: &'a [(BodyId, Body<'a>)]) -> Option<TwoBodies<'a>> {
        let rule = NO_CONTACT;
        let demand = Demand { kind: OtherKind::Body, required_m: 0.0, rule, keep_off: self.keep_off };
        let of = |index: usize| own.get(index).map(|(_, body)| body);
        let cut = self.cut.as_ref();
        let body = cut.map(|(_, body)| body).or(of(self.body))?;
        Some(TwoBodies {
            body,
            other: of(self.other)?,
            demand,
            in_contact: cut.map(|(pieces, _)| pieces),
            by_hand: false,
        })
    }
}

/// Two others that may touch: bodies of one lift, what stands still, and what says so itself.
fn permitted(one: &OtherBody, other: &OtherBody) -> bool {
    match (one.body, other.body) {
        (Some(a), Some(b)) => contact(a, b) != Contact::Never,
        (None, None) => true,
        _ => may_touch(one, other) || may_touch(other, one),
    }
}

fn may_touch(one: &OtherBody, other: &OtherBody) -> bool {
    other.body.is_some_and(|body| (one.may_touch)(body).is_some())
}

/// Bodies of other machines come as [`OtherBody`]s.
fn of_lifting_machine(set: &BodySet) -> Vec<(BodyId, Body<'_>)> {
    let bodies = set.motion.bodies.iter().enumerate();
    let own = bodies.filter(|(_, body)| body.id.lift().is_none());
    own.map(|(at, body)| (body.id, Body::ready(BodyIndex::Lifting(at), &body.name, set.part_motions(at)))).collect()
}

/// A body made ready for the search.
struct Body<'a> {
    index: BodyIndex,
    name: &'a str,
    part_motions: Vec<PartMotion>,
    /// The greatest of any corner.
    most_allowance_m: f64,
}

impl<'a> Body<'a> {
    fn new(index: BodyIndex, name: &'a str, pieces: &[Arc<[MovingPart]>]) -> Self {
        Self::ready(index, name, &part_motions_by_piece(pieces))
    }

    fn ready(index: BodyIndex, name: &'a str, part_motions: &[Vec<PartMotion>]) -> Self {
        let part_motions: Vec<PartMotion> = part_motions.iter().flatten().cloned().collect();
        Self { index, name, most_allowance_m: most_allowance_m(&part_motions), part_motions }
    }

    /// As if it were not there during some pieces.
    fn without(&self, left_out: impl Fn(usize) -> bool) -> Self {
        // A piece that follows on one that is left out has to be looked at by itself.
        let part_motions =
            self.part_motions.iter().filter(|part_motion| !left_out(part_motion.piece)).map(PartMotion::anew).collect();
        Self { part_motions, ..*self }
    }

    /// With the allowances of `held`, the same body, where hands guide it.
    fn guided_by_hand(&self, guided: &HandGuided, held: &Self) -> Self {
        let mut part_motions = self.without(|piece| guided.holds(piece)).part_motions;
        part_motions.extend(held.without(|piece| !guided.holds(piece)).part_motions);
        part_motions.sort_by_key(|part_motion| part_motion.piece);
        Self { most_allowance_m: most_allowance_m(&part_motions), part_motions, ..*self }
    }
}

fn most_allowance_m(part_motions: &[PartMotion]) -> f64 {
    part_motions.iter().map(PartMotion::most_allowance_m).fold(0.0, f64::max)
}

/// What two bodies must keep.
#[derive(Clone, Copy)]
struct Demand<'a> {
    kind: OtherKind,
    required_m: f64,
    rule: &'a str,
    keep_off: KeepOff,
}

impl<'a> Demand<'a> {
    fn of(other: &'a OtherBody, kind: OtherKind) -> Self {
        Self { kind, required_m: other.required_m, rule: &other.rule, keep_off: other.keep_off }
    }
}

/// Two bodies that must not touch.
struct TwoBodies<'a> {
    body: &'a Body<'a>,
    other: &'a Body<'a>,
    demand: Demand<'a>,
    /// By piece, whether the two may touch then.
    in_contact: Option<&'a Arc<[bool]>>,
    /// Hands guide the one past the other.
    by_hand: bool,
}

impl TwoBodies<'_> {
    /// Not where one of them never is.
    fn are_there(&self) -> bool {
        !self.body.part_motions.is_empty() && !self.other.part_motions.is_empty()
    }

    fn body_pair(&self) -> BodyPair {
        BodyPair {
            body: self.body.index,
            other: self.other.index,
            kind: self.demand.kind,
            in_contact: self.in_contact.cloned(),
            by_hand: self.by_hand,
        }
    }

    fn row(&self, plan: &Plan) -> GapRow {
        let Self { body, other, demand, .. } = self;
        let most_m = body.most_allowance_m + other.most_allowance_m;
        let pair = Pair::with_body(&body.part_motions, &other.part_motions, Allowance::of_both(most_m));
        // What is far from what is demanded need not be told to the millimeter.
        let rough = pair.measured(ROUGH_M);
        let is_closed = rough.gap.closed && rough.left.closed;
        let is_far = is_closed && rough.left.low_m >= demand.required_m + FAR_M;
        let measured = if is_far { rough } else { pair.measured(TOLERANCE_M) };
        let limit = Limit { required_m: demand.required_m, residual_m: 0.0, most_allowance_m: most_m };
        let judged = Judged::of(&measured, limit, || CoverProof::NotDouble);
        let state = match judged.state {
            // What hangs and travels low may meet the ground: a strike as the motion is stated is a stop, one within the
            // allowances is for the operator to keep off.
            PairState::Touch if demand.kind == OtherKind::Terrain && judged.gap.low_m > 0.0 => PairState::Tight,
            state => state,
        };
        GapRow {
            body: body.name.to_owned(),
            other: other.name.to_owned(),
            state,
            rule: demand.rule.to_owned(),
            ..judged.row(plan, &pair, demand.kind)
        }
    }
}

#[cfg(test)]
mod tests;
