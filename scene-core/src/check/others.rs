//! Every body against every other body: proven gaps, and what touches that must not.
//!
//! The bodies of the lifting machine and its load are held against each other here; whatever else there is joins by being
//! given to [`others`] as a list of [`Other`]: one per body, with its convex parts piece by piece of the plan. A thing that
//! never moves gives the same `Arc` of still parts for every piece; a machine of its own gives its parts as they run over the
//! piece's u, and its name as `machine`, so that its bodies are not held against one another. Corners carry their own
//! allowances, those of both come off the gap. What may touch it by design is said in `may_touch`, with the reason.
//!
//! ```text
//! let (rows, _) = others::others(&rooms, &[Other { name: "pole 8", kind: OtherKind::Body, machine: None, body: None, parts,
//!     required_m: 0.0, rule: "no contact", mend: "…", may_touch: |_| None }], &mut findings)
//! ```
//!
//! One row per pair. Its allowances are those of the weather that leans the load most, so that its weather is left empty.

use super::ready::{self, Air};
use super::{Airs, Rooms};
use crate::approach::pair::{self, PairProof};
use crate::approach::{Leg, Measure};
use crate::finding::{Finding, Grade};
use crate::motion::{BodyKind, Motion, MovingPart};
use crate::outcome::{GapRow, OtherKind};
use crate::quantity::show::{Round, say_length};
use crate::rules::{self, CoverProof, PairState};
use crate::sequence::Plan;
use crate::side_by_side;
use crate::site::{Action, Site};
use std::sync::Arc;

const TOLERANCE_M: f64 = 1e-3;
/// To what bodies are told that keep this much more than is demanded of them.
const ROUGH_M: f64 = 0.1;
const FAR_M: f64 = 1.5;
/// Placements looked at for one pair; what is not proven by then is `undecided`.
const BUDGET: u32 = 5_000;

/// A body that is not of the lifting machine.
#[derive(Clone, Debug)]
pub(crate) struct Other {
    pub name: String,
    pub kind: OtherKind,
    /// Bodies of one machine are not held against each other; without a machine it stands still and is not held against
    /// what stands still.
    pub machine: Option<&'static str>,
    /// Which body of such a machine it is, for those that say what may touch them.
    pub body: Option<BodyKind>,
    /// By piece of the plan.
    pub parts: Vec<Arc<[MovingPart]>>,
    /// The least gap, allowances taken off; 0 where it just must not be touched.
    pub required_m: f64,
    /// Where that comes from.
    pub rule: String,
    /// What would mend too small a gap.
    pub mend: String,
    /// Why a body of the lifting machine may touch it; `None` when it must not.
    pub may_touch: fn(BodyKind) -> Option<&'static str>,
}

/// A body, by its place.
#[derive(Clone, Copy, Debug)]
enum Whose {
    /// Of the lifting machine and its load, among the bodies of a motion.
    Own(usize),
    /// Among the others.
    Other(usize),
}

/// The two bodies that a row is of.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Meeting {
    body: Whose,
    other: Whose,
    kind: OtherKind,
    /// From this step on guides lead the one along the other.
    led_from: Option<usize>,
}

/// Whose gaps the rows other than to wires are.
#[derive(Clone, Debug)]
pub(crate) struct Beside {
    pub others: Vec<Other>,
    /// By row, from the first on.
    pub meetings: Vec<Meeting>,
    pub first_row: usize,
}

impl Beside {
    /// The rows.
    pub fn rows(&self) -> std::ops::Range<usize> {
        self.first_row..self.first_row + self.meetings.len()
    }

    /// The parts of both bodies of a row in a piece of the plan; `None` when one of them is not there then.
    pub fn parts<'a>(&'a self, row: usize, airs: &'a Airs<Motion>, piece: usize) -> Option<[&'a [MovingPart]; 2]> {
        let meeting = self.meetings.get(row.checked_sub(self.first_row)?)?;
        let motion = match (meeting.other, meeting.kind) {
            (Whose::Own(_), _) => airs.against_one_another(),
            (_, OtherKind::Terrain) => airs.over_ground(),
            _ => airs.most(),
        }?;
        let step = motion.pieces.get(piece)?.step;
        if meeting.led_from.is_some_and(|from| step >= from) {
            return None;
        }
        let of = |whose| {
            let pieces = match whose {
                Whose::Own(body) => &motion.bodies.get(body)?.parts,
                Whose::Other(other) => &self.others.get(other)?.parts,
            };
            pieces.get(piece).map(|parts| &parts[..]).filter(|parts| !parts.is_empty())
        };
        Some([of(meeting.body)?, of(meeting.other)?])
    }
}

/// One row per pair of bodies that must not touch with whose it is, and a finding for each that may.
pub(crate) fn others(rooms: &Rooms, others: &[Other], findings: &mut Vec<Finding>) -> (Vec<GapRow>, Vec<Meeting>) {
    let (Some(plan), Some(airs)) = (&rooms.plan, rooms.airs()) else { return Default::default() };
    let [own, world, above] = [airs.against_one_another(), airs.most(), airs.over_ground()]
        .map(|air| air.map_or(Vec::new(), of_lifting_machine));
    let guided_from = guided_from(rooms.site);
    let is_guided =
        |piece: usize| plan.pieces.get(piece).zip(guided_from).is_some_and(|(piece, from)| piece.step >= from);
    let led: Vec<Body> = own.iter().map(|(_, body)| body.without(is_guided)).collect();
    let mut pairs: Vec<Pair> = Vec::new();
    for (i, ((kind, body), led)) in own.iter().zip(&led).enumerate() {
        for (fixed_kind, fixed) in own.iter().take(i) {
            if permitted(*fixed_kind, *kind).is_some() {
                continue;
            }
            // Said of what hangs.
            let (body, led, fixed, fixed_kind) =
                if *kind == BodyKind::Tail { (fixed, fixed, body, *kind) } else { (body, led, fixed, *fixed_kind) };
            let demand = Demand { kind: OtherKind::Body, required_m: 0.0, rule: NO_CONTACT, mend: mend(fixed_kind) };
            let is_led = guides_lead(*kind, fixed_kind);
            let body = if is_led { led } else { body };
            pairs.push(Pair { body, other: fixed, demand, led_from: guided_from.filter(|_| is_led) });
        }
    }
    let rest = others.iter().enumerate();
    let rest: Vec<Body> = rest.map(|(at, other)| Body::new(Whose::Other(at), &other.name, &other.parts)).collect();
    for (i, (other, theirs)) in others.iter().zip(&rest).enumerate() {
        let Other { kind, required_m, rule, mend, .. } = other;
        let demand = Demand { kind: *kind, required_m: *required_m, rule, mend };
        for (kind, body) in if other.kind == OtherKind::Terrain { &above } else { &world } {
            if (other.may_touch)(*kind).is_none() {
                pairs.push(Pair { body, other: theirs, demand, led_from: None });
            }
        }
        for (second, seconds) in others.iter().zip(&rest).take(i) {
            let may = |a: &Other, b: &Other| b.body.is_some_and(|body| (a.may_touch)(body).is_some());
            if other.machine == second.machine || may(other, second) || may(second, other) {
                continue;
            }
            // Said of the one that moves, by the rule of the one that is the stricter.
            let strict = if second.required_m > other.required_m { second } else { other };
            let (body, fixed, fixed_kind) =
                if other.machine.is_some() { (theirs, seconds, second.kind) } else { (seconds, theirs, other.kind) };
            let Other { required_m, rule, mend, .. } = strict;
            let demand = Demand { kind: fixed_kind, required_m: *required_m, rule, mend };
            pairs.push(Pair { body, other: fixed, demand, led_from: None });
        }
    }
    let pairs: Vec<Pair> = pairs.into_iter().filter(Pair::is_there).collect();
    let rows = side_by_side::map(&pairs, |pair| pair.row(plan));
    findings.extend(rows.iter().zip(&pairs).filter_map(|(row, pair)| finding(row, &pair.demand)));
    (rows, pairs.iter().map(Pair::meeting).collect())
}

/// The bucket truck is a machine of its own: it comes as [`Other`]s.
fn of_lifting_machine(air: &Air) -> Vec<(BodyKind, Body<'_>)> {
    let bodies = air.motion.bodies.iter().enumerate().filter(|(_, body)| is(body.kind) != Is::Lift);
    bodies.map(|(at, body)| (body.kind, Body::ready(Whose::Own(at), &body.name, air.legs(at)))).collect()
}

// -------------------------------------------------------------------------------------------------------- permitted

const NO_CONTACT: &str = "bodies of the machine and its load must not strike each other";

#[derive(Clone, Copy, PartialEq)]
enum Is {
    Boom,
    Head,
    Line,
    Hook,
    Rigging,
    Tail,
    Pole,
    Item,
    Guides,
    Auger,
    Lift,
}

/// What touches by design, and why; every pair that is not here is checked.
const PERMITTED: &[(Is, Is, &str)] = &[
    (Is::Boom, Is::Head, "the head is the end of the last section"),
    (Is::Boom, Is::Tail, "both are fixed to the superstructure"),
    (Is::Head, Is::Tail, "both are fixed to the superstructure"),
    (Is::Boom, Is::Line, "the line leaves the head beside the last section; what hangs on it is checked"),
    (Is::Head, Is::Line, "the line runs over the head's sheave"),
    (Is::Head, Is::Hook, "two-blocking is checked by the step's own distance"),
    (Is::Line, Is::Hook, "the line is reeved to the block"),
    (Is::Line, Is::Rigging, "they end at the hook block"),
    (Is::Hook, Is::Rigging, "the rigging hangs on the hook"),
    (Is::Rigging, Is::Pole, "the choker"),
    (Is::Rigging, Is::Item, "what stands above the choke leans along what it hangs on"),
    (Is::Line, Is::Pole, "what stands above the choke leans along what it hangs on"),
    (Is::Line, Is::Item, "what stands above the choke leans along what it hangs on"),
    (Is::Hook, Is::Pole, "what stands above the choke leans along what it hangs on"),
    (Is::Hook, Is::Item, "what stands above the choke leans along what it hangs on"),
    (Is::Pole, Is::Item, "it is fixed to the pole"),
    (Is::Guides, Is::Boom, "the guides are fixed to the boom's tip"),
    (Is::Guides, Is::Head, "the guides are fixed to the boom's tip"),
    (Is::Guides, Is::Line, "the winch line runs between the guides"),
    (Is::Guides, Is::Hook, "the hook is drawn up between the guides"),
    (Is::Guides, Is::Rigging, "the sling is drawn up between the guides"),
    (Is::Guides, Is::Pole, "the guides hold the pole"),
    (Is::Guides, Is::Auger, "both are fixed to the boom"),
    (Is::Auger, Is::Boom, "the auger hangs from the boom, or is stowed along it"),
    (Is::Auger, Is::Head, "both are fixed to the boom"),
    (Is::Auger, Is::Tail, "the stowed auger reaches back over the superstructure"),
];

fn is(kind: BodyKind) -> Is {
    match kind {
        BodyKind::Boom => Is::Boom,
        BodyKind::BoomHead => Is::Head,
        BodyKind::HoistLine => Is::Line,
        BodyKind::HookBlock => Is::Hook,
        BodyKind::Rigging => Is::Rigging,
        BodyKind::Tail => Is::Tail,
        BodyKind::Pole => Is::Pole,
        BodyKind::PoleItem(_) => Is::Item,
        BodyKind::Guides => Is::Guides,
        BodyKind::Auger => Is::Auger,
        BodyKind::BucketTruck(_) => Is::Lift,
    }
}

/// Why two bodies of the lifting machine and its load may touch; `None` when they must not.
fn permitted(a: BodyKind, b: BodyKind) -> Option<&'static str> {
    let (a, b) = (is(a), is(b));
    if a == b {
        return Some("parts of one thing");
    }
    let found = PERMITTED.iter().find(|(one, other, _)| (*one, *other) == (a, b) || (*one, *other) == (b, a));
    found.map(|(_, _, why)| *why)
}

/// The guides bring a pole to the boom's tip and hold it there: between these two there is no gap to judge meanwhile.
fn guides_lead(hangs: BodyKind, fixed: BodyKind) -> bool {
    matches!(is(hangs), Is::Pole | Is::Item) && matches!(is(fixed), Is::Boom | Is::Head)
}

/// A derrick's pole is longer than its boom is high, so that from its upending on its top stands beside the boom's tip: on its
/// way into the guides, in them, and when they let it go and the boom leaves it. The step from which on that is so.
fn guided_from(site: &Site) -> Option<usize> {
    let into = site.steps.iter().position(|step| matches!(step.action, Action::IntoGuides { .. }))?;
    let before = site.steps.get(..into).unwrap_or(&[]);
    Some(before.iter().rposition(|step| step.action == Action::Upend).unwrap_or(into))
}

/// What keeps a load away from something of the machine.
fn mend(fixed: BodyKind) -> &'static str {
    match fixed {
        BodyKind::Tail => "Keep the load farther out, or swing it round the other side.",
        _ => {
            "Boom down or out so that the load hangs farther from the boom, leave more hoist line out, or choke so that less of the pole stands beside the boom."
        }
    }
}

// ------------------------------------------------------------------------------------------------------------ pairs

/// A body made ready for the search.
struct Body<'a> {
    whose: Whose,
    name: &'a str,
    legs: Vec<Leg>,
    /// The greatest of any corner.
    most_allowance_m: f64,
}

impl<'a> Body<'a> {
    /// As if it were not there during some pieces.
    fn without(&self, left_out: impl Fn(usize) -> bool) -> Self {
        // A piece that follows on one that is left out has to be looked at by itself.
        let legs = self.legs.iter().filter(|leg| !left_out(leg.piece)).map(Leg::anew).collect();
        Self { legs, ..*self }
    }

    fn new(whose: Whose, name: &'a str, pieces: &[Arc<[MovingPart]>]) -> Self {
        Self::ready(whose, name, &ready::legs(pieces))
    }

    fn ready(whose: Whose, name: &'a str, legs: &[Vec<Leg>]) -> Self {
        let legs: Vec<Leg> = legs.iter().flatten().cloned().collect();
        let most_allowance_m = legs.iter().map(Leg::most_allowance_m).fold(0.0, f64::max);
        Self { whose, name, legs, most_allowance_m }
    }
}

/// What two bodies must keep.
#[derive(Clone, Copy)]
struct Demand<'a> {
    kind: OtherKind,
    required_m: f64,
    rule: &'a str,
    mend: &'a str,
}

/// Two bodies that must not touch.
struct Pair<'a> {
    body: &'a Body<'a>,
    other: &'a Body<'a>,
    demand: Demand<'a>,
    /// From this step on guides lead the one along the other.
    led_from: Option<usize>,
}

impl Pair<'_> {
    /// Not where one of them never is.
    fn is_there(&self) -> bool {
        !self.body.legs.is_empty() && !self.other.legs.is_empty()
    }

    /// Gap, and gap less allowances.
    fn measured(&self, tolerance_m: f64) -> [PairProof; 2] {
        let (a, b) = (&self.body.legs, &self.other.legs);
        let of = |measure| pair::smallest_gap_between(a, b, measure, tolerance_m, BUDGET);
        let gap = of(Measure::Gap);
        let allowed = self.body.most_allowance_m + self.other.most_allowance_m != 0.0;
        [gap, if allowed { of(Measure::GapLessAllowance) } else { gap }]
    }

    fn meeting(&self) -> Meeting {
        Meeting { body: self.body.whose, other: self.other.whose, kind: self.demand.kind, led_from: self.led_from }
    }

    fn row(&self, plan: &Plan) -> GapRow {
        let Self { body, other, demand, .. } = self;
        // What is far from what is demanded need not be told to the millimetre.
        let rough = self.measured(ROUGH_M);
        let is_far = rough.iter().all(|proof| proof.closed) && rough[1].low_m >= demand.required_m + FAR_M;
        let [gap, left] = if is_far { rough } else { self.measured(TOLERANCE_M) };
        // How deep things go into each other is not measured: there the greatest allowances say how much is missing at most.
        let most_m = body.most_allowance_m + other.most_allowance_m;
        let taken_m = gap.low_m - left.low_m;
        let allowance_m = if left.low_m > 0.0 && taken_m.is_finite() { taken_m.max(0.0) } else { most_m };
        let decided = (gap.closed && left.closed) || left.high_m < demand.required_m;
        let proven = rules::state(gap.low_m, allowance_m, demand.required_m, 0.0, decided, CoverProof::NotDouble);
        let state = match proven {
            // What hangs and travels low may meet the ground: a strike as the motion is stated is a stop, one within the
            // allowances is for the operator to keep off.
            PairState::Touch if demand.kind == OtherKind::Terrain && gap.low_m > 0.0 => PairState::Tight,
            state => state,
        };
        let witness = left.witness.or(gap.witness);
        let piece = witness.and_then(|w| plan.pieces.get(w.piece).map(|piece| (w, piece)));
        GapRow {
            body: body.name.to_owned(),
            other: other.name.to_owned(),
            other_kind: demand.kind,
            weather: String::new(),
            low_m: gap.low_m,
            high_m: gap.high_m,
            allowance_m,
            required_m: demand.required_m,
            margin_m: rules::margin_m(gap.low_m, allowance_m, demand.required_m),
            state,
            time_s: piece.map(|(w, p)| p.time_s(w.u)),
            step: piece.map(|(_, p)| p.step),
            point_on_body: witness.map(|w| w.on_a),
            point_on_other: witness.map(|w| w.on_b),
            rule: demand.rule.to_owned(),
        }
    }
}

fn finding(row: &GapRow, demand: &Demand) -> Option<Finding> {
    let GapRow { body, other, low_m, allowance_m, required_m, .. } = row;
    let (gap, allowance) = (say_length(low_m.max(0.0), Round::Down), say_length(*allowance_m, Round::Up));
    let missing = say_length(required_m + allowance_m - low_m, Round::Up);
    let within = format!(
        "{body} may strike {other}: the gap of {gap} is no more than the allowances of {allowance}; {missing} is missing."
    );
    let finding = match row.state {
        PairState::Apart | PairState::Covered => return None,
        PairState::Undecided => Finding::stop(
            "body_undecided",
            format!("The gap of {body} to {other} could not be proven either way: {gap} at least."),
        ),
        PairState::Touch if *low_m <= 0.0 => Finding::stop(
            "body_touch",
            format!("{body} strikes {other} as the motion is stated, allowances of {allowance} not counted."),
        ),
        PairState::Touch => Finding::stop("body_touch", within),
        PairState::Tight => Finding::new(Grade::Caution, "body_touch", within),
        PairState::Short => Finding::stop(
            "body_short",
            format!(
                "{body} may come to {gap} from {other}; less allowances of {allowance} that is {missing} short of the {} required.",
                say_length(*required_m, Round::Up)
            ),
        ),
    };
    let mend =
        if row.state == PairState::Undecided { "Give the motion more room, or split the step." } else { demand.mend };
    let mut finding = finding.measured(*low_m, required_m + allowance_m, "m").rule(row.rule.clone()).mend(mend);
    finding.step = row.step;
    finding.time_s = row.time_s;
    Some(finding)
}

#[cfg(test)]
mod tests;
