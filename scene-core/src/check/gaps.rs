//! Every body against every wire: proven gaps, interval by interval, and the state that follows.
//!
//! The sequence is cut into intervals over which covers, held-out phases and the pole's standing are constant. In each
//! one the smallest gap of every body to every wire is bracketed over the whole motion and the whole family of curves.
//! Where the required distance is not kept, cover excuses it only if *bare part of the body × whole wire* and *whole
//! body × bare stretch of wire* both keep it.

use super::{Rooms, lean};
use crate::approach::{self, Leg, Measure, Proof, Strand};
use crate::bracket::Bracket;
use crate::conductor::WireState;
use crate::cover::{self, CoverState};
use crate::crane::chain::Seat;
use crate::finding::Finding;
use crate::motion::{BodyKind as Moves, BodyMotion, Motion};
use crate::quantity::show::{Round, say_length};
use crate::report::{GapRow, OtherKind};
use crate::rules::{self, BodyKind, CoverProof, Exposure, PairState};
use crate::sequence::{LoadState, Plan};
use std::ops::Range;

const TOLERANCE_M: f64 = 1e-3;
/// Placements looked at for one pair in one interval; what is not proven by then is `undecided`.
const BUDGET: u32 = 20_000;
/// A joint between two covers counts as bare over this on both sides.
const JOINT_M: f64 = 1e-3;

/// One row per body, wire and weather.
pub(super) fn gaps(rooms: &Rooms, findings: &mut Vec<Finding>) -> Vec<GapRow> {
    let Some(plan) = &rooms.plan else { return Vec::new() };
    let intervals = intervals(rooms, plan);
    let mut rows = Vec::new();
    let mut bridges: Vec<Bridge> = Vec::new();
    for weather in 0..rooms.site.weather.len() {
        let motion = Motion::of(rooms.site, plan, &lean(rooms, weather));
        if weather == 0 {
            findings.extend(motion.findings.iter().cloned());
        }
        let view =
            |body| View { rooms, plan, motion: &motion, weather, body, legs: Legs::of(body), intervals: &intervals };
        let views: Vec<View> = motion.bodies.iter().map(view).collect();
        let measured: Vec<Vec<Vec<Measured>>> = views.iter().map(View::measured).collect();
        let least: Vec<Vec<f64>> = views.iter().zip(&measured).map(|(view, measured)| view.least(measured)).collect();
        for (i, view) in views.iter().enumerate() {
            // What conducts to the body bridges with it: a hook near one phase and a pole near another.
            let joined = views.iter().zip(&least).filter(|(other, _)| other.conductor() == view.conductor());
            let shared = joined.fold(vec![f64::INFINITY; rooms.site.wires.len()], |shared, (_, own)| {
                shared.iter().zip(own).map(|(a, b)| a.min(*b)).collect()
            });
            let (pairs, bridge) = view.rows(&measured[i], &least[i], &shared, findings);
            rows.extend(pairs);
            keep_worst(&mut bridges, bridge);
        }
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
        let key = Some((cover, hung, standing));
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
            }),
        }
        last_key = key;
    }
    found
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
    fn of(body: &BodyMotion) -> Self {
        let mut legs = Vec::new();
        let mut starts = vec![0];
        let mut allowance = None;
        let (mut even, mut most_allowance_m) = (true, 0.0_f64);
        for (piece, parts) in body.parts.iter().enumerate() {
            for part in parts.iter() {
                for corner in &part.features {
                    most_allowance_m = most_allowance_m.max(corner.allowance_m);
                    even &= *allowance.get_or_insert(corner.allowance_m) == corner.allowance_m;
                }
                legs.push(Leg::new(piece, part));
            }
            starts.push(legs.len());
        }
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
    legs: Legs,
    intervals: &'a [Interval],
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

/// What was proven of one pair in one interval.
struct Measured<'a> {
    interval: &'a Interval,
    state: &'a WireState,
    gap: Proof,
    /// Gap less allowances.
    left: Proof,
}

impl View<'_> {
    /// By wire, every interval in which both are there.
    fn measured(&self) -> Vec<Vec<Measured<'_>>> {
        (0..self.rooms.site.wires.len()).map(|wire| self.measure(wire)).collect()
    }

    /// By wire, the least that is left anywhere on the path, for what the body could bridge.
    fn least(&self, measured: &[Vec<Measured>]) -> Vec<f64> {
        measured
            .iter()
            .map(|of_wire| {
                of_wire.iter().filter(|m| !self.structure(m)).map(|m| m.left.low_m).fold(f64::INFINITY, f64::min)
            })
            .collect()
    }

    /// Bodies with the same number are one conductor: the crane with its wire rope, and the pole with what is on it; all of
    /// them where the rigging is wire rope or guides hold the pole.
    fn conductor(&self) -> u8 {
        let wire_rope = self.rooms.site.rigging.material == crate::site::RiggingMaterial::WireRope;
        match self.kind() {
            BodyKind::Load if !wire_rope && !self.guided() => 1,
            BodyKind::NonConductiveRigging => 2,
            _ => 0,
        }
    }

    /// Steel arms hold the pole somewhere on the path.
    fn guided(&self) -> bool {
        self.plan.pieces.iter().any(|piece| matches!(piece.seat, Seat::InGuides(_)))
    }

    fn rows(
        &self,
        measured: &[Vec<Measured>],
        least: &[f64],
        shared: &[f64],
        findings: &mut Vec<Finding>,
    ) -> (Vec<PairRow>, Option<Bridge>) {
        let mut rows = Vec::new();
        for (wire, of_wire) in measured.iter().enumerate() {
            if of_wire.is_empty() {
                continue;
            }
            match self.required(wire, shared) {
                Ok(required) => rows.extend(self.row(wire, of_wire, &required)),
                Err(error) => findings.push(error.into()),
            }
        }
        let bridge = self.bridged(&rows, least);
        (rows, bridge)
    }

    fn measure(&self, wire: usize) -> Vec<Measured<'_>> {
        let mut found = Vec::new();
        for interval in self.intervals {
            let legs = self.legs.during(&interval.pieces);
            if legs.is_empty() {
                continue;
            }
            let hung = self.rooms.wires.at_step(interval.steps.start, self.weather).find(|state| state.wire == wire);
            let Some(state) = hung else { continue };
            let strands: Vec<Strand> = state.families.iter().map(|placed| Strand::whole(&placed.family)).collect();
            let gap = approach::smallest_gap(legs, &strands, Measure::Gap, TOLERANCE_M, BUDGET);
            let left = match self.legs.even_allowance_m {
                Some(even) => Proof { low_m: gap.low_m - even, high_m: gap.high_m - even, ..gap },
                None => approach::smallest_gap(legs, &strands, Measure::GapLessAllowance, TOLERANCE_M, BUDGET),
            };
            found.push(Measured { interval, state, gap, left });
        }
        found
    }

    fn kind(&self) -> BodyKind {
        match self.body.kind {
            Moves::Boom
            | Moves::BoomHead
            | Moves::HoistLine
            | Moves::HookBlock
            | Moves::Tail
            | Moves::Guides
            | Moves::Auger => BodyKind::MachineConductive,
            Moves::Rigging => match self.rooms.site.rigging.material {
                crate::site::RiggingMaterial::WireRope => BodyKind::MachineConductive,
                crate::site::RiggingMaterial::NonConductive => BodyKind::NonConductiveRigging,
            },
            Moves::Pole | Moves::PoleItem(_) => BodyKind::Load,
        }
    }

    fn structure(&self, measured: &Measured) -> bool {
        measured.interval.standing && self.kind() == BodyKind::Load
    }

    /// The wire's own distance, and that between it and every second potential that the body is not proven apart from.
    fn required(&self, wire: usize, least: &[f64]) -> Result<Demand, rules::RuleError> {
        let site = self.rooms.site;
        let own = rules::required(site, self.kind(), wire, Exposure::PhaseToGround)?;
        let mut demand = Demand { distance_m: own.distance_m, rule: own.rule };
        for (second, left) in least.iter().enumerate() {
            let Some(both) = rules::bridging(site, self.kind(), wire, second)? else { continue };
            let is_energized = own.exposure.is_some() || own.distance_m > 0.0;
            if *left < both.distance_m && is_energized && both.distance_m > demand.distance_m {
                let name = site.wires.get(second).map_or("?", |w| w.name.as_str());
                demand =
                    Demand { distance_m: both.distance_m, rule: format!("{} (could bridge to {name})", both.rule) };
            }
        }
        Ok(demand)
    }

    fn row(&self, wire: usize, of_wire: &[Measured], demand: &Demand) -> Option<PairRow> {
        of_wire
            .iter()
            .map(|measured| self.judge(wire, measured, demand))
            .min_by(|a, b| a.row.state.cmp(&b.row.state).then(a.row.margin_m.total_cmp(&b.row.margin_m)))
    }

    fn judge(&self, wire: usize, measured: &Measured, demand: &Demand) -> PairRow {
        let site = self.rooms.site;
        let (gap, left) = (&measured.gap, &measured.left);
        let structure = self.structure(measured);
        let (required_m, rule) = if structure {
            (0.0, "from release on the pole is a structure: no contact".to_owned())
        } else {
            (demand.distance_m, demand.rule.clone())
        };
        // How deep things go into each other is not measured: there the greatest allowance says how much is missing at most.
        let allowance_m = if left.low_m <= 0.0 { self.legs.most_allowance_m } else { gap.low_m - left.low_m };
        let allowance_m = allowance_m.max(gap.low_m - left.low_m).max(0.0);
        let margin_m = rules::margin_m(gap.low_m, allowance_m, required_m);
        let mut bare = None;
        let mut proof = CoverProof::NotDouble;
        if margin_m < 0.0 && !structure && rules::cover_counts(site, self.kind()) {
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
                time_s: piece.map(|(w, p)| p.time_from_s + (p.time_to_s - p.time_from_s) * w.u),
                step: Some(piece.map_or(measured.interval.steps.start, |(_, p)| p.step)),
                point_on_body: witness.map(|w| w.on_body),
                point_on_other: witness.map(|w| w.on_wire),
                rule,
            },
            wire,
            body_kind: self.kind(),
            hangs: matches!(self.body.kind, Moves::HoistLine | Moves::HookBlock | Moves::Rigging),
            bare,
        }
    }

    /// The margins left by what is not covered; infinite where nothing lies bare.
    fn what_lies_bare(&self, wire: usize, measured: &Measured, required_m: f64) -> Bare {
        let site = self.rooms.site;
        let covers = &measured.interval.covers;
        let whole: Vec<Strand> = measured.state.families.iter().map(|p| Strand::whole(&p.family)).collect();
        let bare_legs = self.bare_legs(&measured.interval.pieces, &covers.pole);
        let body_margin_m = margin_of(&bare_legs, &whole, required_m);

        let covered = covers.wires.get(wire).map_or(&[][..], Vec::as_slice);
        let bare_strands: Vec<Strand> = match cover::run_stations(site, wire) {
            Some(run) => bare_strands(measured.state, &cover::bare(run, covered)),
            None => whole,
        };
        let wire_margin_m = margin_of(self.legs.during(&measured.interval.pieces), &bare_strands, required_m);
        Bare { body_margin_m, wire_margin_m }
    }

    /// The legs of what is not covered. What is fixed to the shaft is bare whatever the shaft wears.
    fn bare_legs(&self, pieces: &Range<usize>, covered: &[Bracket]) -> Vec<Leg> {
        if self.body.kind != Moves::Pole {
            return self.legs.during(pieces).to_vec();
        }
        let whole = Bracket::exactly(0.0).hull(Bracket::exactly(self.rooms.site.pole.length_m));
        let bare: Vec<Bracket> = cover::bare(whole, covered).into_iter().map(|b| b.widened(JOINT_M)).collect();
        pieces
            .clone()
            .flat_map(|piece| {
                let stretches = self.motion.pole_stretches(piece, &bare);
                stretches.into_iter().flatten().map(move |part| Leg::new(piece, &part))
            })
            .collect()
    }

    /// Two gaps that add up to less than the distance between two potentials: the worst two wires of the body.
    fn bridged(&self, rows: &[PairRow], least: &[f64]) -> Option<Bridge> {
        let gap = |pair: &PairRow| least.get(pair.wire).copied().unwrap_or(f64::NEG_INFINITY).max(0.0);
        let mut worst: Option<(bool, f64, &PairRow, &PairRow, rules::Required)> = None;
        for (i, first) in rows.iter().enumerate() {
            for second in rows.get(i + 1..).unwrap_or(&[]) {
                let both = rules::bridging(self.rooms.site, self.kind(), first.wire, second.wire);
                let Ok(Some(both)) = both else { continue };
                let left_m = gap(first) + gap(second) - both.distance_m;
                let excused = [first, second].iter().all(|pair| pair.row.state >= PairState::Covered);
                let worse = worst.as_ref().is_none_or(|w| (excused, left_m) < (w.0, w.1));
                if left_m < 0.0 && worse {
                    worst = Some((excused, left_m, first, second, both));
                }
            }
        }
        let (excused, left_m, first, second, both) = worst?;
        let sum_m = left_m + both.distance_m;
        let message = format!(
            "{} may bridge {} and {} ({}): its two gaps, less allowances, add up to {}; the distance between the two is {}.",
            self.body.name,
            first.row.other,
            second.row.other,
            first.row.weather,
            down(sum_m),
            up(both.distance_m)
        );
        let finding = if excused {
            let covered = [first, second].into_iter().filter(|pair| pair.row.state == PairState::Covered);
            let names: Vec<&str> = covered.map(|pair| pair.row.other.as_str()).collect();
            let rests = format!(" It rests on the covers of {} and of the pole.", names.join(", "));
            Finding::caution("bridges_two_potentials", message + &rests)
        } else {
            Finding::stop("bridges_two_potentials", message)
        };
        let (one, other) = (&first.row.other, &second.row.other);
        let mend = match self.kind() {
            BodyKind::Load => format!("Hold {one} or {other} farther out, or cover both and the pole."),
            _ => format!("Keep it farther from {one} and {other}: move the crane, boom up, or choke higher."),
        };
        let finding = finding.measured(sum_m, both.distance_m, "m").rule(both.rule).mend(mend);
        Some(Bridge { body: self.body.name.clone(), excused, left_m, finding })
    }
}

/// A body between two potentials.
struct Bridge {
    body: String,
    excused: bool,
    left_m: f64,
    finding: Finding,
}

/// Of the weathers in which a body bridges, the worst.
fn keep_worst(bridges: &mut Vec<Bridge>, found: Option<Bridge>) {
    let Some(found) = found else { return };
    match bridges.iter_mut().find(|kept| kept.body == found.body) {
        Some(kept) if (found.excused, found.left_m) < (kept.excused, kept.left_m) => *kept = found,
        Some(_) => {}
        None => bridges.push(found),
    }
}

struct Demand {
    distance_m: f64,
    rule: String,
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
                "{body} may come to {gap} from wire {wire} ({weather}); less allowances of {allowance} that is {missing} short of the {required} required, and it rests on the covers of both."
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

fn down(m: f64) -> String {
    say_length(m, Round::Down)
}

fn up(m: f64) -> String {
    say_length(m, Round::Up)
}
