//! Every body against every wire: proven gaps, interval by interval, and the state that follows.
//!
//! The sequence is cut into intervals over which covers, held-out phases and the pole's standing are constant. The
//! smallest gap of every body to every wire is bracketed over the whole motion and the whole family of curves: in one search
//! for all intervals, and in each one by itself where the required distance is not kept. There cover excuses it only if
//! *bare part of the body × whole wire* and *whole body × bare stretch of wire* both keep it.

use super::ready::{self, Air, Line, Lines};
use super::{Rooms, lift};
use crate::approach::{self, Decision, Leg, Measure, Proof, Strand};
use crate::bracket::Bracket;
use crate::conductor::WireState;
use crate::cover::{self, CoverState};
use crate::crane::chain::Seat;
use crate::finding::Finding;
use crate::motion::{BodyKind as Moves, BodyMotion, Motion};
use crate::outcome::{GapRow, OtherKind};
use crate::quantity::show::{Round, say_length};
use crate::rules::{self, BodyKind, CoverProof, PairState, RuleError};
use crate::sequence::{LoadState, Plan};
use crate::side_by_side;
use crate::site::{RiggingMaterial, Site};
use std::cmp::Ordering;
use std::ops::Range;

pub(super) const TOLERANCE_M: f64 = 1e-3;
/// Placements looked at for one pair in one interval; what is not proven by then is `undecided`.
pub(super) const BUDGET: u32 = 20_000;
/// A joint between two covers counts as bare over this on both sides.
const JOINT_M: f64 = 1e-3;

/// One row per body, wire and weather.
pub(super) fn gaps(rooms: &Rooms, lines: &Lines, findings: &mut Vec<Finding>) -> Vec<GapRow> {
    let Some(plan) = &rooms.plan else { return Vec::new() };
    let intervals = intervals(rooms, plan);
    let weathers: Vec<(usize, &Air)> =
        (0..rooms.site.weather.len()).filter_map(|weather| Some((weather, rooms.airs()?.weather(weather)?))).collect();
    findings.extend(weathers.first().into_iter().flat_map(|(_, air)| air.motion.findings.iter().cloned()));
    let wires = 0..rooms.site.wires.len();
    let of_weather = |(weather, _): &(usize, _)| -> Vec<Hung> {
        wires.clone().map(|wire| hung(lines, *weather, wire, &intervals)).collect()
    };
    let hung: Vec<Vec<Hung>> = weathers.iter().map(of_weather).collect();
    let bodies: Vec<(usize, &Air, &Vec<Hung>, usize)> = weathers
        .iter()
        .zip(&hung)
        .flat_map(|((weather, air), hung)| (0..air.motion.bodies.len()).map(move |body| (*weather, *air, hung, body)))
        .collect();
    let views = side_by_side::map(&bodies, |&(weather, air, hung, body)| {
        let view = View::of(rooms, plan, weather, air, body, &intervals, hung)?;
        let measured = view.measured();
        let least = view.least(&measured);
        Some(Looked { view, measured, least })
    });
    let views: Vec<Looked> = views.into_iter().flatten().collect();
    let judged: Vec<(Vec<PairRow>, Option<Bridge>, Vec<Finding>)> = side_by_side::map(&views, |looked| {
        // What conducts to the body bridges with it: a hook near one phase and a pole near another.
        let joins = |other: &&Looked| {
            (other.view.weather, other.view.conductor) == (looked.view.weather, looked.view.conductor)
        };
        let joined = views.iter().filter(joins);
        let shared: Vec<f64> = joined.fold(vec![f64::INFINITY; wires.len()], |shared, other| {
            shared.iter().zip(&other.least).map(|(a, b)| a.min(*b)).collect()
        });
        looked.rows(&shared)
    });
    let mut rows = Vec::new();
    let mut bridges: Vec<Bridge> = Vec::new();
    let mut judged = judged.into_iter();
    for of_weather in views.chunk_by(|a, b| a.view.weather == b.view.weather) {
        let mut of_bodies: Vec<Vec<PairRow>> = Vec::new();
        let mut in_weather: Vec<Bridge> = Vec::new();
        for (pairs, bridge, found) in judged.by_ref().take(of_weather.len()) {
            of_bodies.push(pairs);
            in_weather.extend(bridge);
            findings.extend(found);
        }
        let joined = joined_bridges(of_weather, &of_bodies, &in_weather);
        in_weather.into_iter().chain(joined).for_each(|bridge| keep_worst(&mut bridges, bridge));
        rows.extend(of_bodies.into_iter().flatten());
    }
    findings.extend(bridges.into_iter().map(|bridge| bridge.finding));
    findings.extend(pair_findings(&rows, rooms.site.basis.residual_gap_m));
    findings.extend(unhung(rooms));
    rows.into_iter().map(|pair| pair.row).collect()
}

// -------------------------------------------------------------------------------------------------------- intervals

/// Consecutive steps during which nothing changes but the motion.
struct Interval {
    steps: Range<usize>,
    pieces: Range<usize>,
    covers: CoverState,
    /// From release on, the pole is a structure.
    standing: bool,
    /// The one wire that the worker in the bucket works on, comes to or leaves.
    works_on: Option<usize>,
}

fn intervals(rooms: &Rooms, plan: &Plan) -> Vec<Interval> {
    let states = cover::line_states(rooms.site);
    let mut found: Vec<Interval> = Vec::new();
    let mut last_key = None;
    for (step, time) in plan.steps.iter().enumerate() {
        let cover = states.iter().position(|(steps, _)| steps.contains(&step));
        let hung: Vec<usize> = indices(&rooms.wires.states, |state| state.steps.contains(&step));
        let standing = plan
            .pieces
            .get(time.pieces.clone())
            .is_some_and(|pieces| !pieces.is_empty() && pieces.iter().all(|piece| piece.load == LoadState::Standing));
        let first = plan.pieces.get(time.pieces.start);
        let works_on = first.and_then(|piece| piece.bucket).and_then(|run| run.works_on);
        let key = Some((cover, hung, standing, works_on));
        match found.last_mut() {
            Some(interval) if key == last_key => {
                interval.steps.end = step + 1;
                interval.pieces.end = time.pieces.end;
            }
            _ => found.push(Interval {
                steps: step..step + 1,
                pieces: time.pieces.clone(),
                covers: cover.and_then(|i| states.get(i)).map(|(_, state)| state.clone()).unwrap_or_default(),
                standing,
                works_on,
            }),
        }
        last_key = key;
    }
    found
}

/// One wire in one weather.
struct Hung<'a> {
    /// How it hangs in each interval; none where that is not known.
    states: Vec<Option<&'a Line<'a>>>,
    strands: Vec<Strand<'a>>,
}

fn hung<'a>(lines: &'a Lines<'a>, weather: usize, wire: usize, intervals: &[Interval]) -> Hung<'a> {
    let states: Vec<Option<&Line>> =
        intervals.iter().map(|interval| lines.at(interval.steps.start, weather, wire)).collect();
    let mut strands: Vec<Strand> = Vec::new();
    let mut first = 0;
    for run in states.chunk_by(|a, b| ready::same(*a, *b)) {
        let last = first + run.len() - 1;
        if let (Some(Some(line)), Some(from), Some(to)) = (run.first(), intervals.get(first), intervals.get(last)) {
            let pieces = from.pieces.start..to.pieces.end;
            strands.extend(line.strands.iter().map(|strand| strand.clone().during(pieces.clone())));
        }
        first = last + 1;
    }
    Hung { states, strands }
}

fn indices<T>(items: &[T], keep: impl Fn(&T) -> bool) -> Vec<usize> {
    items.iter().enumerate().filter(|(_, item)| keep(item)).map(|(i, _)| i).collect()
}

// ------------------------------------------------------------------------------------------------------------- legs

/// A body made ready for the search: its parts piece by piece, each piece's legs together.
struct Legs {
    legs: Vec<Leg>,
    /// For each piece the first of its legs; one more at the end.
    starts: Vec<usize>,
    /// The greatest of any corner.
    most_allowance_m: f64,
    /// The allowance of every corner, when they all have the same.
    even_allowance_m: Option<f64>,
}

impl Legs {
    /// From the legs of each piece. Of what stands still in one run of pieces, once is enough: the wires are the same all
    /// through it.
    fn of<'a>(by_piece: &[Vec<Leg>], runs: impl Iterator<Item = &'a Range<usize>>) -> Self {
        let mut legs: Vec<Leg> = Vec::new();
        let mut allowance = None;
        let (mut even, mut most_allowance_m) = (true, 0.0_f64);
        for run in runs {
            let of_run: Vec<Leg> = by_piece.get(run.clone()).unwrap_or(&[]).iter().flatten().cloned().collect();
            for leg in &of_run {
                most_allowance_m = most_allowance_m.max(leg.most_allowance_m());
                even &= leg.even_allowance_m().is_some_and(|own| *allowance.get_or_insert(own) == own);
            }
            legs.extend(Leg::distinct(of_run));
        }
        let starts = (0..=by_piece.len()).map(|piece| legs.partition_point(|leg| leg.piece < piece)).collect();
        Self { legs, starts, most_allowance_m, even_allowance_m: allowance.filter(|_| even) }
    }

    fn during(&self, pieces: &Range<usize>) -> &[Leg] {
        let at = |piece: usize| self.starts.get(piece).or(self.starts.last()).copied().unwrap_or(0);
        self.legs.get(at(pieces.start)..at(pieces.end)).unwrap_or(&[])
    }
}

// ------------------------------------------------------------------------------------------------------- one body

struct View<'a> {
    rooms: &'a Rooms<'a>,
    plan: &'a Plan,
    motion: &'a Motion,
    weather: usize,
    body: &'a BodyMotion,
    kind: BodyKind,
    conductor: u8,
    legs: Legs,
    intervals: &'a [Interval],
    /// By wire.
    hung: &'a [Hung<'a>],
}

/// A row with what its finding needs to know.
pub(super) struct PairRow {
    pub row: GapRow,
    pub wire: usize,
    pub body_kind: BodyKind,
    /// Line, hook or rigging: what the choke's height decides.
    pub hangs: bool,
    /// What lay bare, when cover was looked at and did not do.
    pub bare: Option<Bare>,
}

#[derive(Clone, Copy, PartialEq)]
pub(super) struct Bare {
    /// Left of the margin for bare part of the body × whole wire, and whole body × bare stretch of wire.
    pub body_margin_m: f64,
    pub wire_margin_m: f64,
}

/// What was proven of one pair over intervals in which one distance is required.
struct Measured {
    intervals: Range<usize>,
    /// From release on the pole is a structure.
    structure: bool,
    /// The wire that is worked on from the bucket, where the body is beyond its insulation.
    works_on: Option<usize>,
    /// Gap less allowances.
    left: Proof,
}

/// What was proven of one pair in one interval.
struct During<'a> {
    interval: &'a Interval,
    line: &'a Line<'a>,
    structure: bool,
    gap: Proof,
    /// Gap less allowances.
    left: Proof,
}

impl<'a> View<'a> {
    fn of(
        rooms: &'a Rooms<'a>,
        plan: &'a Plan,
        weather: usize,
        air: &'a Air,
        number: usize,
        intervals: &'a [Interval],
        hung: &'a [Hung<'a>],
    ) -> Option<Self> {
        let body = air.motion.bodies.get(number)?;
        let kind = kind_of(rooms.site, body.kind);
        Some(Self {
            rooms,
            plan,
            motion: &air.motion,
            weather,
            body,
            kind,
            conductor: conductor_of(rooms.site, plan, kind),
            legs: Legs::of(air.legs(number), intervals.iter().map(|interval| &interval.pieces)),
            intervals,
            hung,
        })
    }

    /// By wire, everything during which both are there.
    fn measured(&self) -> Vec<Vec<Measured>> {
        self.hung.iter().map(|hung| self.measure(hung)).collect()
    }

    /// By wire, the least that is left anywhere on the path, for what the body could bridge.
    fn least(&self, measured: &[Vec<Measured>]) -> Vec<f64> {
        let of_wire = |(wire, runs): (usize, &Vec<Measured>)| {
            let counts = |run: &&Measured| !run.structure && self.excused(wire, run.works_on).is_none();
            runs.iter().filter(counts).map(|run| run.left.low_m).fold(f64::INFINITY, f64::min)
        };
        measured.iter().enumerate().map(of_wire).collect()
    }

    /// Whatever the wires do in between, one search for the smallest of all.
    fn measure(&self, hung: &Hung) -> Vec<Measured> {
        let mut found = Vec::new();
        let mut first = 0;
        let asked = |i: &Interval| (self.structure(i), self.works_on(i));
        for run in self.intervals.chunk_by(|a, b| asked(a) == asked(b)) {
            let intervals = first..first + run.len();
            first = intervals.end;
            let (Some(from), Some(to)) = (run.first(), run.last()) else { continue };
            if intervals.clone().any(|interval| self.both_are_there(hung, interval)) {
                let legs = self.legs.during(&(from.pieces.start..to.pieces.end));
                let left = self.left_of(legs, &hung.strands);
                let (structure, works_on) = asked(from);
                found.push(Measured { intervals, structure, works_on, left });
            }
        }
        found
    }

    fn both_are_there(&self, hung: &Hung, interval: usize) -> bool {
        let is_hung = hung.states.get(interval).is_some_and(Option::is_some);
        is_hung && self.intervals.get(interval).is_some_and(|i| !self.legs.during(&i.pieces).is_empty())
    }

    fn gap_of(&self, legs: &[Leg], strands: &[Strand]) -> Proof {
        approach::smallest_gap(legs, strands, Measure::Gap, TOLERANCE_M, BUDGET)
    }

    fn left_of(&self, legs: &[Leg], strands: &[Strand]) -> Proof {
        match self.legs.even_allowance_m {
            Some(even) => less(&self.gap_of(legs, strands), even),
            None => approach::smallest_gap(legs, strands, Measure::GapLessAllowance, TOLERANCE_M, BUDGET),
        }
    }

    /// It is proven that no less than this is left.
    fn keeps(&self, legs: &[Leg], strands: &[Strand], threshold_m: f64) -> bool {
        let (measure, threshold_m) = match self.legs.even_allowance_m {
            Some(even) => (Measure::Gap, threshold_m + even),
            None => (Measure::GapLessAllowance, threshold_m),
        };
        matches!(approach::decide(legs, strands, measure, threshold_m, BUDGET), Decision::Apart { .. })
    }

    /// What is left is measured, unless it is known already.
    fn during(&self, hung: &'a Hung<'a>, number: usize, structure: bool, left: Option<Proof>) -> Option<During<'a>> {
        let interval = self.intervals.get(number)?;
        let line = (*hung.states.get(number)?)?;
        let legs = self.legs.during(&interval.pieces);
        let (gap, left) = match (self.legs.even_allowance_m, left) {
            (Some(even), Some(left)) => (less(&left, -even), left),
            (Some(even), None) => {
                let gap = self.gap_of(legs, &hung.strands);
                (gap, less(&gap, even))
            }
            (None, left) => {
                (self.gap_of(legs, &hung.strands), left.unwrap_or_else(|| self.left_of(legs, &hung.strands)))
            }
        };
        Some(During { interval, line, structure, gap, left })
    }

    /// The wire that is worked on from the bucket: what that changes, changes beyond its insulation alone.
    fn works_on(&self, interval: &Interval) -> Option<usize> {
        interval.works_on.filter(|_| rules::beyond_insulation(self.kind))
    }

    fn excused(&self, wire: usize, works_on: Option<usize>) -> Option<&'static str> {
        excused(self.rooms.site, self.kind, wire, works_on)
    }

    fn asked(&self, wire: usize, structure: bool, works_on: Option<usize>, demand: &Demand) -> (f64, String) {
        if structure {
            return (0.0, "from release on the pole is a structure: no contact".to_owned());
        }
        asked(self.rooms, self.kind, wire, works_on, demand)
    }

    fn structure(&self, interval: &Interval) -> bool {
        interval.standing && self.kind == BodyKind::Load
    }

    fn required(&self, wire: usize, least: &[f64]) -> Result<Demand, RuleError> {
        let near = |second: usize, distance_m: f64| least.get(second).is_some_and(|left_m| *left_m < distance_m);
        demand(self.rooms, self.kind, wire, near)
    }

    /// Of the interval that governs: the worst state, and of equal ones the least margin.
    fn row(&self, wire: usize, of_wire: &[Measured], demand: &Demand) -> Option<PairRow> {
        // What the worker takes hold of he is meant to come to: there is no gap to judge.
        let by_hand = |run: &&Measured| self.kind == BodyKind::Worker && self.excused(wire, run.works_on).is_some();
        let judged = of_wire.iter().filter(|run| !by_hand(run));
        judged.filter_map(|measured| self.governing(wire, measured, demand)).min_by(by_state_and_margin)
    }

    fn governing(&self, wire: usize, measured: &Measured, demand: &Demand) -> Option<PairRow> {
        let hung = self.hung.get(wire)?;
        let (required_m, _) = self.asked(wire, measured.structure, measured.works_on, demand);
        let enough_m = required_m.max(self.rooms.site.basis.residual_gap_m);
        let left = &measured.left;
        let at_nearest = left.witness.and_then(|witness| {
            measured
                .intervals
                .clone()
                .find(|i| self.intervals.get(*i).is_some_and(|i| i.pieces.contains(&witness.piece)))
        });
        // Apart everywhere, and the place where the least is left is known.
        if let (true, true, Some(nearest)) = (left.low_m >= enough_m, left.closed, at_nearest) {
            let during = self.during(hung, nearest, measured.structure, Some(*left))?;
            return Some(self.judge(wire, &during, demand));
        }
        // Otherwise interval by interval, the likeliest first; one that is proven not to be worse than it is left out.
        let mut worst: Option<(PairRow, f64)> = None;
        for number in at_nearest.into_iter().chain(measured.intervals.clone().filter(|i| Some(*i) != at_nearest)) {
            if !self.both_are_there(hung, number) {
                continue;
            }
            if let (Some((row, left_m)), Some(interval)) = (&worst, self.intervals.get(number)) {
                let no_worse_m = if row.row.state == PairState::Apart { *left_m } else { enough_m };
                if self.keeps(self.legs.during(&interval.pieces), &hung.strands, no_worse_m) {
                    continue;
                }
            }
            let Some(during) = self.during(hung, number, measured.structure, None) else { continue };
            let row = self.judge(wire, &during, demand);
            if worst.as_ref().is_none_or(|(kept, _)| by_state_and_margin(&row, kept) == Ordering::Less) {
                worst = Some((row, during.left.low_m));
            }
        }
        worst.map(|(row, _)| row)
    }

    fn judge(&self, wire: usize, measured: &During, demand: &Demand) -> PairRow {
        let site = self.rooms.site;
        let (gap, left) = (&measured.gap, &measured.left);
        let structure = measured.structure;
        let (required_m, rule) = self.asked(wire, structure, self.works_on(measured.interval), demand);
        // How deep things go into each other is not measured: there the greatest allowance says how much is missing at most.
        let allowance_m = if left.low_m <= 0.0 { self.legs.most_allowance_m } else { gap.low_m - left.low_m };
        let allowance_m = allowance_m.max(gap.low_m - left.low_m).max(0.0);
        let margin_m = rules::margin_m(gap.low_m, allowance_m, required_m);
        let mut bare = None;
        let mut proof = CoverProof::NotDouble;
        if margin_m < 0.0 && !structure && rules::cover_counts(site, self.kind) {
            let found = self.what_lies_bare(wire, measured, required_m);
            proof = CoverProof::from_margins(found.body_margin_m, found.wire_margin_m);
            bare = Some(found);
        }
        // A real placement that is too near decides it, however wide the bracket is.
        let decided = (gap.closed && left.closed) || left.high_m < required_m;
        let state = rules::state(gap.low_m, allowance_m, required_m, site.basis.residual_gap_m, decided, proof);
        let witness = left.witness.or(gap.witness);
        let piece = witness.and_then(|w| self.plan.pieces.get(w.piece).map(|piece| (w, piece)));
        let name = |items: &[crate::site::Wire]| items.get(wire).map_or(String::new(), |w| w.name.clone());
        PairRow {
            row: GapRow {
                body: self.body.name.clone(),
                other: name(&site.wires),
                other_kind: OtherKind::Wire,
                weather: site.weather.get(self.weather).map_or(String::new(), |w| w.name.clone()),
                low_m: gap.low_m,
                high_m: gap.high_m,
                allowance_m,
                required_m,
                margin_m,
                state,
                time_s: piece.map(|(w, p)| p.time_s(w.u)),
                step: Some(piece.map_or(measured.interval.steps.start, |(_, p)| p.step)),
                point_on_body: witness.map(|w| w.on_body),
                point_on_other: witness.map(|w| w.on_wire),
                rule,
            },
            wire,
            body_kind: self.kind,
            hangs: matches!(self.body.kind, Moves::HoistLine | Moves::HookBlock | Moves::Rigging),
            bare,
        }
    }

    /// The margins left by what is not covered; infinite where nothing lies bare.
    fn what_lies_bare(&self, wire: usize, measured: &During, required_m: f64) -> Bare {
        let Interval { pieces, covers, .. } = measured.interval;
        let shaft = Shaft { motion: self.motion, body: self.body, legs: self.legs.during(pieces), pieces };
        what_lies_bare(self.rooms.site, self.kind, &shaft, (wire, measured.line), covers, required_m)
    }

    /// Two gaps that add up to less than the distance between two potentials: the worst two wires of the body.
    fn bridged(&self, rows: &[PairRow], least: &[f64]) -> Option<Bridge> {
        let mut worst: Option<Bridge> = None;
        for (i, first) in rows.iter().enumerate() {
            for second in rows.get(i + 1..).unwrap_or(&[]) {
                let left = [first, second].map(|pair| least.get(pair.wire).copied().unwrap_or(f64::NEG_INFINITY));
                let both = self.rooms.distances.between(self.kind, first.wire, second.wire);
                let Ok(Some(both)) = both else { continue };
                keep_worse(&mut worst, bridge([first, second], left, both));
            }
        }
        worst
    }
}

/// A body with what was proven of it against every wire.
struct Looked<'a> {
    view: View<'a>,
    measured: Vec<Vec<Measured>>,
    /// By wire.
    least: Vec<f64>,
}

impl Looked<'_> {
    /// One row per wire, the worst two wires that the body may bridge, and what cannot be looked up. `shared` is the least
    /// that what conducts to it leaves to each wire.
    fn rows(&self, shared: &[f64]) -> (Vec<PairRow>, Option<Bridge>, Vec<Finding>) {
        let (mut rows, mut findings) = (Vec::new(), Vec::new());
        for (wire, of_wire) in self.measured.iter().enumerate() {
            if of_wire.is_empty() {
                continue;
            }
            match self.view.required(wire, shared) {
                Ok(required) => rows.extend(self.view.row(wire, of_wire, &required)),
                Err(error) => findings.push(error.into()),
            }
        }
        let bridge = self.view.bridged(&rows, &self.least);
        (rows, bridge, findings)
    }
}

/// Two gaps of different bodies that conduct to one another: the worst two wires of each conductor, unless one body alone
/// stands between the two as badly.
fn joined_bridges(views: &[Looked], rows: &[Vec<PairRow>], alone: &[Bridge]) -> Vec<Bridge> {
    let mut found = Vec::new();
    for conductor in 0..=u8::MAX {
        let members: Vec<usize> = indices(views, |looked| looked.view.conductor == conductor);
        if members.is_empty() {
            continue;
        }
        let Some(Rooms { site, distances, .. }) = views.first().map(|looked| looked.view.rooms) else { break };
        // By wire, the nearest body.
        let nearest: Vec<(f64, &PairRow)> = (0..site.wires.len())
            .filter_map(|wire| {
                let of_member = |&member: &usize| {
                    let pair = rows.get(member)?.iter().find(|pair| pair.wire == wire)?;
                    Some((*views.get(member)?.least.get(wire)?, pair))
                };
                members.iter().filter_map(of_member).min_by(|a, b| a.0.total_cmp(&b.0))
            })
            .collect();
        let mut worst: Option<Bridge> = None;
        for (i, (left, first)) in nearest.iter().enumerate() {
            for (other_left, second) in nearest.get(i + 1..).unwrap_or(&[]) {
                if first.row.body == second.row.body {
                    continue;
                }
                let of_kind = |kind| distances.between(kind, first.wire, second.wire).ok().flatten();
                let kinds = [first.body_kind, second.body_kind].map(of_kind);
                let farther = |a: &&rules::Required, b: &&rules::Required| a.distance_m.total_cmp(&b.distance_m);
                let Some(both) = kinds.into_iter().flatten().max_by(farther) else { continue };
                let Some(bridge) = bridge([first, second], [*left, *other_left], both) else { continue };
                let is_said = alone.iter().any(|one| {
                    let of_member = members.iter().any(|m| views.get(*m).is_some_and(|m| m.view.body.name == one.body));
                    of_member && one.wires == bridge.wires && one.excused <= bridge.excused
                });
                if !is_said {
                    keep_worse(&mut worst, Some(bridge));
                }
            }
        }
        found.extend(worst);
    }
    found
}

/// One body, or two that conduct to one another, between two potentials.
struct Bridge {
    body: String,
    wires: [usize; 2],
    excused: bool,
    left_m: f64,
    finding: Finding,
}

/// None where the gaps to the two wires, less allowances, add up to the distance between both.
fn bridge([first, second]: [&PairRow; 2], left_m: [f64; 2], both: &rules::Required) -> Option<Bridge> {
    let sum_m = left_m[0].max(0.0) + left_m[1].max(0.0);
    // What is not a number does not keep it either.
    if sum_m >= both.distance_m {
        return None;
    }
    let excused = [first, second].iter().all(|pair| pair.row.state >= PairState::Covered);
    let (one, other) = (&first.row.other, &second.row.other);
    let (body, second_body) = (&first.row.body, &second.row.body);
    let alone = body == second_body;
    let who = if alone { body.clone() } else { format!("{body} and {second_body}") };
    let what = if alone {
        format!("{who} may bridge {one} and {other} ({}): its two gaps", first.row.weather)
    } else {
        format!(
            "{who} conduct to one another and may bridge {one} and {other} ({}): the gaps of {body} to {one} and of {second_body} to {other}",
            first.row.weather
        )
    };
    let message = format!(
        "{what}, less allowances, add up to {}; the distance between the two is {}.",
        down(sum_m),
        up(both.distance_m)
    );
    let finding = if excused {
        let covered = [first, second].into_iter().filter(|pair| pair.row.state == PairState::Covered);
        let names: Vec<&str> = covered.map(|pair| pair.row.other.as_str()).collect();
        let pole = if first.body_kind == BodyKind::Load { " and of the pole" } else { "" };
        let rests = format!(" It rests on the covers of {}{pole}.", names.join(", "));
        Finding::caution("bridges_two_potentials", message + &rests)
    } else {
        Finding::stop("bridges_two_potentials", message)
    };
    let mend = match first.body_kind {
        _ if !alone => format!("Keep {body} farther from {one}, or {second_body} from {other}."),
        BodyKind::Load => format!("Hold {one} or {other} farther out, or cover both and the pole."),
        BodyKind::LiftConductive | BodyKind::InsulatedLift | BodyKind::Worker => {
            format!("Cover {one} or {other} from a place that keeps away from both, or bring the bucket elsewhere.")
        }
        _ => format!("Keep it farther from {one} and {other}: move the crane, boom up, or choke higher."),
    };
    let finding = finding.measured(sum_m, both.distance_m, "m").rule(both.rule.clone()).mend(mend);
    Some(Bridge { body: who, wires: [first.wire, second.wire], excused, left_m: sum_m - both.distance_m, finding })
}

fn keep_worse(worst: &mut Option<Bridge>, found: Option<Bridge>) {
    let Some(found) = found else { return };
    if worst.as_ref().is_none_or(|kept| (found.excused, found.left_m) < (kept.excused, kept.left_m)) {
        *worst = Some(found);
    }
}

fn by_state_and_margin(a: &PairRow, b: &PairRow) -> Ordering {
    a.row.worst_first(&b.row)
}

fn less(proof: &Proof, by_m: f64) -> Proof {
    Proof { low_m: proof.low_m - by_m, high_m: proof.high_m - by_m, ..*proof }
}

/// Of the weathers in which a body bridges, the worst.
fn keep_worst(bridges: &mut Vec<Bridge>, found: Bridge) {
    match bridges.iter_mut().find(|kept| kept.body == found.body) {
        Some(kept) if (found.excused, found.left_m) < (kept.excused, kept.left_m) => *kept = found,
        Some(_) => {}
        None => bridges.push(found),
    }
}

pub(super) struct Demand {
    pub distance_m: f64,
    pub rule: String,
}

/// What a moving body is to the rules.
pub(super) fn kind_of(site: &Site, body: Moves) -> BodyKind {
    match body {
        Moves::Boom
        | Moves::BoomHead
        | Moves::HoistLine
        | Moves::HookBlock
        | Moves::Tail
        | Moves::Guides
        | Moves::Auger => BodyKind::MachineConductive,
        Moves::Rigging => match site.rigging.material {
            RiggingMaterial::WireRope => BodyKind::MachineConductive,
            RiggingMaterial::NonConductive => BodyKind::NonConductiveRigging,
        },
        Moves::Pole | Moves::PoleItem(_) => BodyKind::Load,
        Moves::BucketTruck(part) => lift::kind(site, part),
    }
}

/// Bodies with the same number are one conductor: the crane with its wire rope, and the pole with what is on it; all of
/// them where the rigging is wire rope or steel guides hold the pole anywhere on the path; what of a bucket truck is at
/// ground, and what of it is beyond the insulation.
pub(super) fn conductor_of(site: &Site, plan: &Plan, kind: BodyKind) -> u8 {
    let wire_rope = site.rigging.material == RiggingMaterial::WireRope;
    let guided = || plan.pieces.iter().any(|piece| matches!(piece.seat, Seat::InGuides(_)));
    match kind {
        BodyKind::Load if !wire_rope && !guided() => 1,
        BodyKind::NonConductiveRigging => 2,
        BodyKind::LiftConductive => 3,
        BodyKind::InsulatedLift | BodyKind::Worker => 4,
        _ => 0,
    }
}

/// The wire's own distance, and that between it and every second potential that the body is `near`: not proven to keep that
/// distance from.
pub(super) fn demand(
    rooms: &Rooms,
    kind: BodyKind,
    wire: usize,
    near: impl Fn(usize, f64) -> bool,
) -> Result<Demand, RuleError> {
    let own = rooms.distances.to_ground(kind, wire)?;
    let is_energized = own.exposure.is_some() || own.distance_m > 0.0;
    let (mut most, mut bridged) = (own, None);
    for (second, found) in rooms.site.wires.iter().enumerate() {
        let Some(both) = rooms.distances.between(kind, wire, second)? else { continue };
        if both.distance_m > most.distance_m && is_energized && near(second, both.distance_m) {
            (most, bridged) = (both, Some(&found.name));
        }
    }
    let rule = match bridged {
        Some(name) => format!("{} (could bridge to {name})", most.rule),
        None => most.rule.clone(),
    };
    Ok(Demand { distance_m: most.distance_m, rule })
}

/// The distance that is asked for, and by which rule. The wire that is worked on from the bucket may need none; while the
/// worker works on another wire, what is between the two bridges them.
pub(super) fn asked(
    rooms: &Rooms,
    kind: BodyKind,
    wire: usize,
    works_on: Option<usize>,
    demand: &Demand,
) -> (f64, String) {
    if let Some(excuse) = excused(rooms.site, kind, wire, works_on) {
        return (0.0, excuse.to_owned());
    }
    let beside = works_on.filter(|worked| *worked != wire);
    match beside.map(|worked| rooms.distances.between(kind, wire, worked)) {
        Some(Ok(Some(beside))) if beside.distance_m > demand.distance_m => {
            (beside.distance_m, format!("{} (beside the wire that is worked on)", beside.rule))
        }
        // A distance that cannot be looked up is kept by nothing.
        Some(Err(error)) => (f64::INFINITY, error.to_string()),
        _ => (demand.distance_m, demand.rule.clone()),
    }
}

/// By which rule this wire needs no distance: it is the one that is worked on.
pub(super) fn excused(site: &Site, kind: BodyKind, wire: usize, works_on: Option<usize>) -> Option<&'static str> {
    lift::excused(site, kind, works_on.filter(|worked| *worked == wire)?)
}

/// A body over some pieces, part of which may be covered.
pub(super) struct Shaft<'a> {
    pub motion: &'a Motion,
    pub body: &'a BodyMotion,
    pub legs: &'a [Leg],
    pub pieces: &'a Range<usize>,
}

impl Shaft<'_> {
    /// The margin of what is not covered. What is fixed to the shaft is bare whatever the shaft wears.
    fn bare_margin_m(&self, site: &Site, covered: &[Bracket], strands: &[Strand], required_m: f64) -> f64 {
        if self.body.kind != Moves::Pole {
            return margin_of(self.legs, strands, required_m);
        }
        let whole = Bracket::exactly(0.0).hull(Bracket::exactly(site.pole.length_m));
        let bare: Vec<Bracket> = cover::bare(whole, covered).into_iter().map(|b| b.widened(JOINT_M)).collect();
        let of_piece = |piece| {
            let stretches = self.motion.pole_stretches(piece, &bare);
            stretches.into_iter().flatten().map(move |part| Leg::new(piece, &part))
        };
        let legs: Vec<Leg> = self.pieces.clone().flat_map(of_piece).collect();
        margin_of(&legs, strands, required_m)
    }
}

/// The margins left by what is not covered; infinite where nothing lies bare.
pub(super) fn what_lies_bare(
    site: &Site,
    kind: BodyKind,
    shaft: &Shaft,
    (wire, line): (usize, &Line),
    covers: &CoverState,
    required_m: f64,
) -> Bare {
    // Cover of the wire alone insulates it from the worker in his bucket.
    let body_margin_m = match rules::beyond_insulation(kind) {
        true => f64::INFINITY,
        false => shaft.bare_margin_m(site, &covers.pole, &line.strands, required_m),
    };
    let covered = covers.wires.get(wire).map_or(&[][..], Vec::as_slice);
    let wire_margin_m = match cover::run_stations(site, wire) {
        Some(run) => margin_of(shaft.legs, &bare_strands(line.state, &cover::bare(run, covered)), required_m),
        None => margin_of(shaft.legs, &line.strands, required_m),
    };
    Bare { body_margin_m, wire_margin_m }
}

/// What is left of the margin, proven; −∞ where it could not be.
fn margin_of(legs: &[Leg], strands: &[Strand], required_m: f64) -> f64 {
    if legs.is_empty() || strands.is_empty() {
        return f64::INFINITY;
    }
    approach::smallest_gap(legs, strands, Measure::GapLessAllowance, TOLERANCE_M, BUDGET).low_m - required_m
}

/// The bare stretches of a wire, longer by what is not known of where its pieces are.
fn bare_strands<'a>(state: &'a WireState, bare: &[Bracket]) -> Vec<Strand<'a>> {
    let whole = Bracket::exactly(0.0).hull(Bracket::exactly(1.0));
    let mut found = Vec::new();
    for placed in &state.families {
        let [from, to] = placed.station_m;
        for stretch in bare {
            if !placed.station_error_m.is_finite() {
                found.push(Strand::whole(&placed.family));
                continue;
            }
            let stretch = stretch.widened(placed.station_error_m);
            let fraction = |station: f64| (station - from) / (to - from);
            match Bracket::between(fraction(stretch.low()), fraction(stretch.high())) {
                Some(t) => found.extend(t.within(whole).map(|t| Strand::new(&placed.family, t))),
                None => found.push(Strand::whole(&placed.family)),
            }
        }
    }
    found
}

// --------------------------------------------------------------------------------------------------------- findings

/// One finding for each body and wire that do not stay apart, worst weather.
fn pair_findings(rows: &[PairRow], residual_gap_m: f64) -> Vec<Finding> {
    let mut worst: Vec<&PairRow> = Vec::new();
    for pair in rows.iter().filter(|p| p.row.state != PairState::Apart) {
        let rank = |p: &PairRow| (p.row.state, p.row.margin_m);
        match worst.iter_mut().find(|w| w.row.body == pair.row.body && w.wire == pair.wire) {
            Some(kept) if rank(pair) < rank(kept) => *kept = pair,
            Some(_) => {}
            None => worst.push(pair),
        }
    }
    worst.into_iter().map(|pair| pair_finding(pair, residual_gap_m)).collect()
}

fn pair_finding(pair: &PairRow, residual_gap_m: f64) -> Finding {
    let row = &pair.row;
    let gap = down(row.low_m);
    let allowance = up(row.allowance_m);
    let required = up(row.required_m);
    let left_m = row.low_m - row.allowance_m;
    let missing = up(row.required_m.max(residual_gap_m) - left_m);
    let (body, wire, weather) = (&row.body, &row.other, &row.weather);
    let finding = match row.state {
        PairState::Touch => Finding::stop(
            "approach_touch",
            format!(
                "{body} may touch wire {wire} ({weather}): gap {gap} less allowances of {allowance} leaves {}; at least {} is wanted even between covers.",
                down(left_m.max(0.0)),
                up(residual_gap_m)
            ),
        ),
        PairState::Undecided => Finding::stop(
            "approach_undecided",
            format!("The gap of {body} to wire {wire} ({weather}) could not be proven either way: {gap} at least."),
        ),
        PairState::Short => Finding::stop(
            "approach_short",
            format!(
                "{body} may come to {gap} from wire {wire} ({weather}); less allowances of {allowance} that is {missing} short of the {required} required.{}",
                pair.bare.map_or(String::new(), said_of_cover)
            ),
        ),
        _ => Finding::caution(
            "approach_covered",
            format!(
                "{body} may come to {gap} from wire {wire} ({weather}); less allowances of {allowance} that is {missing} short of the {required} required, and it rests on {}.",
                if rules::beyond_insulation(pair.body_kind) { "the cover of the wire" } else { "the covers of both" }
            ),
        ),
    };
    let limit = row.required_m.max(residual_gap_m) + row.allowance_m;
    let mut finding = finding.measured(row.low_m, limit, "m").rule(row.rule.clone()).mend(mend(pair, &missing));
    finding.step = row.step;
    finding.time_s = row.time_s;
    finding
}

fn said_of_cover(bare: Bare) -> String {
    match (bare.body_margin_m < 0.0, bare.wire_margin_m < 0.0) {
        (true, true) => " Cover does not excuse it: bare pole comes too near, and the wire lies bare.".to_owned(),
        (true, false) => " Cover does not excuse it: a bare part of the pole comes too near.".to_owned(),
        (false, true) => " Cover does not excuse it: the wire lies bare there.".to_owned(),
        (false, false) => String::new(),
    }
}

fn mend(pair: &PairRow, missing: &str) -> String {
    let wire = &pair.row.other;
    match (pair.row.state, pair.body_kind, pair.bare) {
        (PairState::Covered, ..) => {
            "Keep the covers in place and brush contact out; a second person checks them.".to_owned()
        }
        (_, BodyKind::LiftConductive, _) => format!(
            "Set the bucket truck up farther from {wire}, or bring its booms there another way: {missing} is missing."
        ),
        (PairState::Touch, BodyKind::InsulatedLift | BodyKind::Worker, _) => {
            format!("Bring the bucket to the work farther from {wire}: {missing} is missing.")
        }
        (PairState::Short, BodyKind::InsulatedLift | BodyKind::Worker, _) => {
            format!("Cover {wire} first, from where it alone is worked on, or keep {missing} farther from it.")
        }
        (PairState::Undecided, ..) => "Give the motion more room, or split the step.".to_owned(),
        (_, BodyKind::Load, Some(bare)) if bare.wire_margin_m < 0.0 && bare.body_margin_m >= 0.0 => {
            format!("Cover {wire} along the whole stretch that the pole comes near, or hold it {missing} farther out.")
        }
        (_, BodyKind::Load, _) => {
            format!("Hold {wire} at least {missing} farther out, or double cover: the pole and {wire} both.")
        }
        (_, BodyKind::NonConductiveRigging, _) => format!("Choke higher, or hold {wire} {missing} farther out."),
        _ if pair.hangs => format!(
            "Choke higher or use longer non-conductive rigging so that hook and wire rope stay above {wire}, or hold it {missing} farther out."
        ),
        _ => format!(
            "Move the crane so that it works away from {wire}, boom up, or take a longer boom: {missing} is missing."
        ),
    }
}

/// Wires whose hanging could not be computed have been compared with nothing.
fn unhung(rooms: &Rooms) -> Vec<Finding> {
    let site = rooms.site;
    let mut found = Vec::new();
    for (wire, name) in site.wires.iter().map(|w| &w.name).enumerate() {
        for weather in 0..site.weather.len() {
            let steps = rooms.plan.as_ref().map_or(0, |plan| plan.steps.len());
            let missing = (0..steps).find(|step| !rooms.wires.at_step(*step, weather).any(|state| state.wire == wire));
            if let Some(step) = missing {
                found.push(
                    Finding::stop(
                        "wire_not_hung",
                        format!("How wire {name} hangs is not known at this step: nothing was compared with it."),
                    )
                    .at_step(step)
                    .mend("Mend what the findings say of this wire."),
                );
                break;
            }
        }
    }
    found
}

pub(super) fn down(m: f64) -> String {
    say_length(m, Round::Down)
}

pub(super) fn up(m: f64) -> String {
    say_length(m, Round::Up)
}
