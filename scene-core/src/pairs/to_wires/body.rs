//! One body in one weather against every wire.

use super::super::cover::{BareMargins, CoveredBody};
use super::super::demand::Demand;
use super::super::demand::kind::{self, Conductor};
use super::super::judge::{Judged, Limit};
use super::super::search::{Allowance, Gap, Measured, Pair};
use super::{BodySet, HungWire, Inputs, Interval, WireGap, WireInWeather};
use crate::approach::PartMotion;
use crate::machine::{BodyId, Role};
use crate::motion::{BodyMotion, Motion};
use crate::outcome::{GapRow, OtherKind};
use crate::rules::{self, CoverProof, PairState};
use std::cmp::Ordering;
use std::ops::Range;

/// A body's part motions in the order of the pieces.
struct OrderedLegs {
    part_motions: Vec<PartMotion>,
    /// For each piece the first of its part motions; one more at the end.
    starts: Vec<usize>,
    allowance: Allowance,
}

impl OrderedLegs {
    /// From the part motions of each piece. Of what stands still in one run of pieces, once is enough: the wires are the same all
    /// through it.
    fn of<'a>(by_piece: &[Vec<PartMotion>], runs: impl Iterator<Item = &'a Range<usize>>) -> Self {
        let mut part_motions: Vec<PartMotion> = Vec::new();
        let mut first_m = None;
        let (mut is_even, mut most_m) = (true, 0.0_f64);
        for run in runs {
            let of_run: Vec<PartMotion> = by_piece.get(run.clone()).unwrap_or(&[]).iter().flatten().cloned().collect();
            for part_motion in &of_run {
                most_m = most_m.max(part_motion.most_allowance_m());
                is_even &= part_motion.even_allowance_m().is_some_and(|own| *first_m.get_or_insert(own) == own);
            }
            part_motions.extend(PartMotion::distinct(of_run));
        }
        let starts = (0..=by_piece.len())
            .map(|piece| part_motions.partition_point(|part_motion| part_motion.piece < piece))
            .collect();
        Self { part_motions, starts, allowance: Allowance { most_m, even_m: first_m.filter(|_| is_even) } }
    }

    fn during(&self, pieces: &Range<usize>) -> &[PartMotion] {
        let at = |piece: usize| self.starts.get(piece).or(self.starts.last()).copied().unwrap_or(0);
        self.part_motions.get(at(pieces.start)..at(pieces.end)).unwrap_or(&[])
    }
}

pub(super) struct BodyInWeather<'a> {
    pub inputs: &'a Inputs<'a>,
    pub weather: usize,
    pub motion_of: &'a BodyMotion,
    pub kind: Role,
    pub conductor: Conductor,
    motion: &'a Motion,
    part_motions: OrderedLegs,
    intervals: &'a [Interval],
    /// By wire.
    wires: &'a [WireInWeather<'a>],
}

/// What was proven of the body and one wire over intervals in which one distance is required.
pub(super) struct Proven {
    intervals: Range<usize>,
    asked: Asked,
    /// Gap less allowances.
    left: Gap,
}

/// What decides, besides body and wire, which distance is required.
#[derive(Clone, Copy, PartialEq)]
struct Asked {
    /// From release on the pole is a structure.
    structure: bool,
    /// The wire that is worked on from the body's own lift, where the body is beyond its insulation.
    works_on: Option<usize>,
}

impl<'a> BodyInWeather<'a> {
    pub fn of(
        inputs: &'a Inputs<'a>,
        weather: usize,
        set: &'a BodySet,
        number: usize,
        intervals: &'a [Interval],
        wires: &'a [WireInWeather<'a>],
    ) -> Option<Self> {
        let body = set.motion.bodies.get(number)?;
        let kind = body.role;
        Some(Self {
            inputs,
            weather,
            motion_of: body,
            kind,
            conductor: kind::conductor(inputs.site, inputs.plan, body),
            motion: &set.motion,
            part_motions: OrderedLegs::of(set.part_motions(number), intervals.iter().map(|interval| &interval.pieces)),
            intervals,
            wires,
        })
    }

    /// By wire, everything during which both are there.
    pub fn proven(&self) -> Vec<Vec<Proven>> {
        self.wires.iter().map(|wire| self.proven_against(wire)).collect()
    }

    /// By wire, the least that is left anywhere on the path, for what the body could bridge.
    pub fn least_m(&self, proven: &[Vec<Proven>]) -> Vec<f64> {
        let of_wire = |(wire, runs): (usize, &Vec<Proven>)| {
            let counts = |run: &&Proven| !run.asked.structure && self.excuse(wire, run.asked).is_none();
            runs.iter().filter(counts).map(|run| run.left.low_m).fold(f64::INFINITY, f64::min)
        };
        proven.iter().enumerate().map(of_wire).collect()
    }

    /// Whatever the wire does in between, one search for the smallest of all.
    fn proven_against(&self, wire: &WireInWeather) -> Vec<Proven> {
        let mut found = Vec::new();
        let mut first = 0;
        for run in self.intervals.chunk_by(|a, b| self.asked(a) == self.asked(b)) {
            let intervals = first..first + run.len();
            first = intervals.end;
            let (Some(from), Some(to)) = (run.first(), run.last()) else { continue };
            if intervals.clone().any(|interval| self.both_are_there(wire, interval)) {
                let left = self.pair(wire, &(from.pieces.start..to.pieces.end)).left();
                found.push(Proven { intervals, asked: self.asked(from), left });
            }
        }
        found
    }

    fn pair<'b>(&'b self, wire: &'b WireInWeather, pieces: &Range<usize>) -> Pair<'b> {
        Pair::with_wire(self.part_motions.during(pieces), &wire.arcs, self.part_motions.allowance)
    }

    fn both_are_there(&self, wire: &WireInWeather, interval: usize) -> bool {
        let is_hung = wire.hung.get(interval).is_some_and(Option::is_some);
        is_hung && self.intervals.get(interval).is_some_and(|i| !self.part_motions.during(&i.pieces).is_empty())
    }

    fn asked(&self, interval: &Interval) -> Asked {
        Asked { structure: interval.standing && self.kind == Role::Load, works_on: self.works_on(interval) }
    }

    /// From the body's own lift.
    fn works_on(&self, interval: &Interval) -> Option<usize> {
        let of_lift = *interval.works_on.get(self.motion_of.id.lift()?)?;
        of_lift.filter(|_| rules::beyond_insulation(self.kind))
    }

    /// The wire that the body's own lift goes straight from to the next.
    fn leaves(&self, interval: &Interval) -> Option<usize> {
        let of_lift = *interval.leaves.get(self.motion_of.id.lift()?)?;
        of_lift.filter(|_| rules::beyond_insulation(self.kind))
    }

    fn excuse(&self, wire: usize, asked: Asked) -> Option<&'static str> {
        kind::excuse(self.inputs.site, self.motion_of, wire, asked.works_on)
    }

    fn demand(&self, wire: usize, asked: Asked, demand: &Demand) -> Demand {
        if asked.structure {
            return Demand::of_structure();
        }
        demand.at_work(self.inputs, self.motion_of, wire, asked.works_on)
    }

    /// Of the interval that governs: the worst state, and of equal ones the least margin.
    pub fn gap(&self, wire: usize, proven: &[Proven], demand: &Demand) -> Option<WireGap> {
        // The worker is meant to come to what he takes hold of: there is no gap to judge.
        let by_hand = |run: &&Proven| self.kind == Role::Worker && self.excuse(wire, run.asked).is_some();
        let judged = proven.iter().filter(|run| !by_hand(run));
        judged.filter_map(|run| self.governing(wire, run, demand)).min_by(|a, b| a.row.worst_first(&b.row))
    }

    fn governing(&self, wire: usize, proven: &Proven, demand: &Demand) -> Option<WireGap> {
        let hung = self.wires.get(wire)?;
        let demand = self.demand(wire, proven.asked, demand);
        let enough_m = demand.distance_m.max(self.inputs.site.basis.residual_gap_m);
        let left = &proven.left;
        let at_nearest = left.witness.and_then(|place| {
            let holds = |i: &usize| self.intervals.get(*i).is_some_and(|i| i.pieces.contains(&place.piece));
            proven.intervals.clone().find(holds)
        });
        // Apart everywhere, and the place where the least is left is known.
        if let (true, true, Some(nearest)) = (left.low_m >= enough_m, left.closed, at_nearest) {
            let interval = self.intervals.get(nearest)?;
            let measured = self.pair(hung, &interval.pieces).measured_with(*left);
            return self.judged(wire, nearest, proven.asked, &measured, &demand);
        }
        // Otherwise interval by interval, the likeliest first; one that is proven not to be worse than it is left out.
        let mut worst: Option<(WireGap, f64)> = None;
        for number in at_nearest.into_iter().chain(proven.intervals.clone().filter(|i| Some(*i) != at_nearest)) {
            if !self.both_are_there(hung, number) {
                continue;
            }
            let Some(interval) = self.intervals.get(number) else { continue };
            let pair = self.pair(hung, &interval.pieces);
            if let Some((kept, left_m)) = &worst {
                let no_worse_m = if kept.row.state == PairState::Apart { *left_m } else { enough_m };
                if pair.keeps(no_worse_m) {
                    continue;
                }
            }
            let measured = pair.measured(super::super::search::TOLERANCE_M);
            let Some(gap) = self.judged(wire, number, proven.asked, &measured, &demand) else { continue };
            if worst.as_ref().is_none_or(|(kept, _)| gap.row.worst_first(&kept.row) == Ordering::Less) {
                worst = Some((gap, measured.left.low_m));
            }
        }
        worst.map(|(gap, _)| gap)
    }

    fn judged(
        &self,
        wire: usize,
        interval: usize,
        asked: Asked,
        measured: &Measured,
        demand: &Demand,
    ) -> Option<WireGap> {
        let site = self.inputs.site;
        let in_weather = self.wires.get(wire)?;
        let hung = (*in_weather.hung.get(interval)?)?;
        let interval = self.intervals.get(interval)?;
        let taken_m = measured.gap.low_m - measured.left.low_m;
        let limit = Limit {
            required_m: demand.distance_m,
            residual_m: site.basis.residual_gap_m,
            most_allowance_m: self.part_motions.allowance.most_m.max(taken_m).max(0.0),
        };
        let mut bare = None;
        let judged = Judged::of(measured, limit, || {
            if asked.structure || !rules::cover_counts(site, self.kind) {
                return CoverProof::NotDouble;
            }
            bare.insert(self.bare_margins(wire, hung, interval, demand.distance_m)).proof()
        });
        let judged = judged.on_the_way_out(self.leaves(interval) == Some(wire), || {
            self.bare_margins(wire, hung, interval, demand.distance_m).proof()
        });
        let pair =
            Pair::with_wire(self.part_motions.during(&interval.pieces), &in_weather.arcs, self.part_motions.allowance);
        let row = judged.row(self.inputs.plan, &pair, OtherKind::Wire);
        Some(WireGap {
            row: GapRow {
                body: self.motion_of.name.clone(),
                other: site.wires.get(wire).map_or(String::new(), |wire| wire.name.clone()),
                weather: site.weather.get(self.weather).map_or(String::new(), |weather| weather.name.clone()),
                step: Some(row.step.unwrap_or(interval.steps.start)),
                rule: demand.rule.clone(),
                ..row
            },
            wire,
            kind: self.kind,
            hangs: matches!(self.motion_of.id, BodyId::HoistLine | BodyId::HookBlock | BodyId::Rigging),
            bare,
        })
    }

    fn bare_margins(&self, wire: usize, hung: &HungWire, interval: &Interval, required_m: f64) -> BareMargins {
        let body = CoveredBody {
            motion: self.motion,
            body: self.motion_of,
            kind: self.kind,
            part_motions: self.part_motions.during(&interval.pieces),
            pieces: &interval.pieces,
        };
        body.bare_margins(self.inputs.site, wire, hung, &interval.covers, required_m)
    }
}
