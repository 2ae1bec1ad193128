//! From every step: can what is in the air go back the way it came, as covers and wires are now?
//!
//! Motion is geometry: a piece passed backwards has the gaps that it had forwards, and bodies, ground and neighbours are where
//! they were. What may have changed since is where the wires are and what is covered. So for each step k the pieces of all steps
//! from the first of its way to k are held against the wires and covers of k. The radii, and so the capacity, are those of the
//! way there.
//!
//! With the pole on the hook the way back goes to where it was picked up, and ends with the pole lying there: it is the
//! lay-down path too. A bucket goes back to its rest; where it cannot, going on to it as planned will do.
//!
//! Most is only decided: a pair is bracketed when it may be worse than the worst so far.

use super::gaps::{self, BUDGET, Demand, Shaft, TOLERANCE_M, demand, down, up};
use super::ready::{self, Air, Line, Lines};
use super::{Rooms, lift};
use crate::approach::{self, Around, Decision, Leg, Measure, Proof};
use crate::cover::{self, CoverState};
use crate::finding::Finding;
use crate::motion::BodyKind as Moves;
use crate::report::{GapRow, Way, WayEnd, WayOf, WayOutRow};
use crate::rules::{self, BodyKind, CoverProof, PairState};
use crate::sequence::{LoadState, Piece, Plan};
use crate::side_by_side;
use std::cell::RefCell;
use std::collections::HashMap;
use std::ops::Range;
use std::sync::{Arc, Mutex, PoisonError};

/// Steps whose ways out run over the same moves.
struct Run {
    of: WayOf,
    /// From the one that the way back ends with.
    steps: Range<usize>,
    ends: Option<WayEnd>,
}

/// Consecutive steps during which neither covers nor wires change.
struct Stand<'a> {
    steps: Range<usize>,
    covers: CoverState,
    /// By weather and wire; `None` where it is not known how the wire hangs.
    hung: Vec<Vec<Option<&'a Line<'a>>>>,
}

/// The pair that governs a way.
#[derive(Clone, Debug)]
struct Worst {
    state: PairState,
    margin_m: f64,
    low_m: f64,
    allowance_m: f64,
    required_m: f64,
    rule: String,
    body: String,
    wire: usize,
    weather: usize,
    passing: usize,
}

impl Worst {
    fn is_worse_than(&self, other: &Self) -> bool {
        self.state.cmp(&other.state).then(self.margin_m.total_cmp(&other.margin_m)).is_lt()
    }
}

/// What governs one way out of one step; the worst of no pair is `None`.
#[derive(Clone, Debug)]
struct Found {
    way: Way,
    worst: Option<Worst>,
}

impl Found {
    fn is_way(&self) -> bool {
        self.worst.as_ref().is_none_or(|worst| worst.state >= PairState::Covered)
    }
}

/// One row per step with the pole on the hook or let go, and per step with a bucket off its rest; a stop where no way is
/// proven that the gaps themselves do not tell.
pub(super) fn way_out(rooms: &Rooms, lines: &Lines, gaps: &[GapRow], findings: &mut Vec<Finding>) -> Vec<WayOutRow> {
    let Some(plan) = &rooms.plan else { return Vec::new() };
    let mut rows = Vec::new();
    let load = load_run(plan);
    let weathers: Vec<usize> = (0..rooms.site.weather.len()).collect();
    let weathers: Vec<Weather> =
        side_by_side::map(&weathers, |weather| Weather::of(rooms, plan, *weather)).into_iter().flatten().collect();
    for run in load.iter().chain(&bucket_runs(rooms, plan)) {
        let stands = stands(rooms, lines, &run.steps);
        let found = ways(rooms, plan, run, &stands, &weathers);
        findings.extend(no_way_back(rooms, &stands, run, &found, gaps));
        rows.extend(run.steps.clone().zip(found).map(|(step, found)| row(rooms, run, step, found)));
    }
    if let Some(load) = &load {
        let let_go = load.steps.end..plan.steps.len();
        findings.extend(let_go.clone().next().map(|step| ends(rooms, step)));
        rows.extend(let_go.map(|step| WayOutRow::without(step, WayOf::Load, "the pole has been let go and stands")));
    }
    rows.sort_by_key(|row| row.step);
    rows
}

// ------------------------------------------------------------------------------------------------------------- runs

fn pieces_of(plan: &Plan, step: usize) -> &[Piece] {
    plan.steps.get(step).and_then(|time| plan.pieces.get(time.pieces.clone())).unwrap_or(&[])
}

/// From the step that takes the load to the last one with it on the hook.
fn load_run(plan: &Plan) -> Option<Run> {
    let on_hook = |step: &usize| pieces_of(plan, *step).iter().any(|piece| piece.load.on_hook());
    let steps = || (0..plan.steps.len()).filter(on_hook);
    let steps = steps().next()?..steps().next_back()? + 1;
    // It is laid down by going back over its rise, or over nothing when it has not risen yet.
    let first = pieces_of(plan, steps.start).iter().find(|piece| piece.load.on_hook())?;
    let rose = matches!(first.load, LoadState::ButtOnGround { .. });
    Some(Run { of: WayOf::Load, steps, ends: rose.then_some(WayEnd::PoleLaidDown) })
}

/// One for each time that the bucket leaves its rest.
fn bucket_runs(rooms: &Rooms, plan: &Plan) -> Vec<Run> {
    let Some(truck) = &rooms.site.bucket_truck else { return Vec::new() };
    let rest = truck.stowed_joints();
    let mut runs: Vec<Run> = Vec::new();
    for step in 0..plan.steps.len() {
        let moves = pieces_of(plan, step).iter().filter_map(|piece| piece.bucket);
        let away = moves.clone().any(|run| !lift::at_rest(&run.from, &rest) || !lift::at_rest(&run.to, &rest));
        if !away {
            continue;
        }
        let leaves = moves.clone().next().is_some_and(|run| lift::at_rest(&run.from, &rest));
        match runs.last_mut() {
            Some(run) if !leaves => run.steps.end = step + 1,
            _ => {
                let ends = leaves.then_some(WayEnd::BucketAtRest);
                runs.push(Run { of: WayOf::BucketTruck, steps: step..step + 1, ends });
            }
        }
    }
    runs
}

/// The steps of the run over which its bucket goes on to its rest.
fn onward(rooms: &Rooms, plan: &Plan, run: &Run, step: usize) -> Option<Range<usize>> {
    let rest = rooms.site.bucket_truck.as_ref()?.stowed_joints();
    let last = pieces_of(plan, run.steps.end.checked_sub(1)?).last()?.bucket?;
    (run.of == WayOf::BucketTruck && lift::at_rest(&last.to, &rest)).then_some(step..run.steps.end)
}

fn stands<'a>(rooms: &Rooms, lines: &'a Lines<'a>, of: &Range<usize>) -> Vec<Stand<'a>> {
    let site = rooms.site;
    let mut found: Vec<Stand> = Vec::new();
    for step in of.clone() {
        let covers = cover::stretches(site, step);
        let of_weather = |weather| (0..site.wires.len()).map(|wire| lines.at(step, weather, wire)).collect();
        let hung: Vec<Vec<Option<&Line>>> = (0..site.weather.len()).map(of_weather).collect();
        match found.last_mut() {
            Some(last) if last.covers == covers && same(&last.hung, &hung) => last.steps.end = step + 1,
            _ => found.push(Stand { steps: step..step + 1, covers, hung }),
        }
    }
    found
}

fn same(one: &[Vec<Option<&Line>>], other: &[Vec<Option<&Line>>]) -> bool {
    let mut pairs = one.iter().flatten().zip(other.iter().flatten());
    one.len() == other.len() && pairs.all(|(a, b)| ready::same(*a, *b))
}

// ------------------------------------------------------------------------------------------------------------- ways

/// Everything that moves in one weather, step by step, and what has been proven of it.
struct Weather<'a> {
    weather: usize,
    air: &'a Air,
    bodies: Vec<Body>,
    known: Mutex<HashMap<PairInStep, Known>>,
}

struct Body {
    kind: BodyKind,
    conductor: u8,
    /// By wire, the greatest distance that any rule may ask for; none where it cannot be looked up.
    most_m: Vec<Option<f64>>,
    steps: Vec<Passing>,
}

/// A body in one step.
struct Passing {
    /// The first of the steps, from this one back, all through which it stands as it does now.
    like: usize,
    legs: Arc<[Leg]>,
    around: Around,
}

/// [`Passing::like`], the body, and [`Line::number`].
type PairInStep = (usize, usize, usize);

/// What has been proven of a pair in a step.
#[derive(Clone, Copy)]
struct Known {
    /// Allowances taken off, no placement is nearer.
    keeps_m: f64,
    /// One is as near as this.
    comes_m: f64,
    /// Bracketed: what is left once the allowances are taken off, and the gap itself.
    left: Option<Proof>,
    gap: Option<Proof>,
}

impl Default for Known {
    fn default() -> Self {
        Self { keeps_m: f64::NEG_INFINITY, comes_m: f64::INFINITY, left: None, gap: None }
    }
}

impl<'a> Weather<'a> {
    fn of(rooms: &'a Rooms, plan: &Plan, weather: usize) -> Option<Self> {
        let air = rooms.airs()?.weather(weather)?;
        let body = |(number, body): (usize, &crate::motion::BodyMotion)| {
            let kind = gaps::kind_of(rooms.site, body.kind);
            let most_m = |wire| demand(rooms, kind, wire, |_, _| true).ok().map(|all| all.distance_m);
            let mut steps: Vec<Passing> = Vec::with_capacity(plan.steps.len());
            for (step, time) in plan.steps.iter().enumerate() {
                let parts = |pieces: &Range<usize>| body.parts.get(pieces.clone()).unwrap_or(&[]);
                let (now, before) = (parts(&time.pieces), step.checked_sub(1).and_then(|last| plan.steps.get(last)));
                let stands = before.is_some_and(|before| {
                    let (before, all) = (parts(&before.pieces), |parts: &[Arc<_>], first| {
                        parts.iter().all(|parts| Arc::ptr_eq(parts, first))
                    });
                    !now.is_empty() && before.first().is_some_and(|first| all(before, first) && all(now, first))
                });
                let passing = match steps.last() {
                    Some(last) if stands => {
                        Passing { like: last.like, legs: Arc::clone(&last.legs), around: last.around }
                    }
                    _ => {
                        let legs = air.legs(number).get(time.pieces.clone()).unwrap_or(&[]);
                        let legs: Arc<[Leg]> = Leg::distinct(legs.iter().flatten().cloned().collect()).into();
                        Passing { like: step, around: Around::legs(&legs), legs }
                    }
                };
                steps.push(passing);
            }
            Body {
                kind,
                conductor: gaps::conductor_of(rooms.site, plan, kind),
                most_m: (0..rooms.site.wires.len()).map(most_m).collect(),
                steps,
            }
        };
        let bodies = air.motion.bodies.iter().enumerate().map(body).collect();
        Some(Self { weather, air, bodies, known: Mutex::default() })
    }

    fn at(&self, body: usize, step: usize) -> Option<&Passing> {
        self.bodies.get(body)?.steps.get(step)
    }

    /// It is proven that in this step the body keeps that much from the wire, allowances taken off.
    fn keeps(&self, body: usize, step: usize, line: &Line, threshold_m: f64) -> bool {
        let Some(passing) = self.at(body, step) else { return false };
        if !threshold_m.is_finite() {
            return false;
        }
        if passing.around.apart_m(&line.around) >= threshold_m {
            return true;
        }
        let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        let known = known.entry((passing.like, body, line.number)).or_default();
        if known.keeps_m >= threshold_m || known.comes_m < threshold_m {
            return known.keeps_m >= threshold_m;
        }
        match approach::decide(&passing.legs, &line.strands, Measure::GapLessAllowance, threshold_m, BUDGET) {
            Decision::Apart { low_m } => known.keeps_m = known.keeps_m.max(low_m),
            Decision::Short { high_m, .. } => known.comes_m = known.comes_m.min(high_m),
            Decision::Undecided { .. } => {}
        }
        known.keeps_m >= threshold_m
    }

    /// Bracketed.
    fn measured(&self, body: usize, step: usize, line: &Line, measure: Measure) -> Option<Proof> {
        let passing = self.at(body, step)?;
        let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        let known = known.entry((passing.like, body, line.number)).or_default();
        let slot = match measure {
            Measure::Gap => &mut known.gap,
            Measure::GapLessAllowance => &mut known.left,
        };
        let found = || approach::smallest_gap(&passing.legs, &line.strands, measure, TOLERANCE_M, BUDGET);
        Some(*slot.get_or_insert_with(found))
    }
}

/// For each step of the run its way back, or where that is none and going on is one, that.
fn ways(rooms: &Rooms, plan: &Plan, run: &Run, stands: &[Stand], weathers: &[Weather]) -> Vec<Found> {
    let back_of = |weather: &Weather| -> Vec<Option<Worst>> {
        let of_stand = |stand: &Stand| {
            Passage::of(rooms, plan, run, weather, stand, run.steps.start..stand.steps.end).up_to_each_step()
        };
        stands.iter().flat_map(of_stand).collect()
    };
    let mut found = vec![Found { way: Way::Back, worst: None }; run.steps.len()];
    for back in side_by_side::map(weathers, back_of) {
        found.iter_mut().zip(back).for_each(|(found, worst)| keep_worse(&mut found.worst, worst));
    }
    for (step, found) in run.steps.clone().zip(&mut found).filter(|(_, found)| !found.is_way()) {
        let stand = stands.iter().find(|stand| stand.steps.contains(&step));
        let (Some(stand), Some(onward)) = (stand, onward(rooms, plan, run, step)) else { continue };
        let mut on = Found { way: Way::On, worst: None };
        let on_of = |weather: &Weather| Passage::of(rooms, plan, run, weather, stand, onward.clone()).whole();
        for worst in side_by_side::map(weathers, on_of) {
            keep_worse(&mut on.worst, worst);
        }
        if on.is_way() {
            *found = on;
        }
    }
    found
}

fn keep_worse(kept: &mut Option<Worst>, found: Option<Worst>) {
    if let Some(found) = found
        && kept.as_ref().is_none_or(|kept| found.is_worse_than(kept))
    {
        *kept = Some(found);
    }
}

/// Of the way of a bucket all that moves meanwhile; of the pole's everything.
fn takes_part(plan: &Plan, run: &Run, air: &Air, body: usize) -> bool {
    let Some(body) = air.motion.bodies.get(body) else { return false };
    let moves = || {
        let mut pieces = run.steps.clone().flat_map(|step| plan.steps.get(step).map_or(0..0, |t| t.pieces.clone()));
        pieces.any(|piece| body.still.get(piece) == Some(&false))
    };
    run.of == WayOf::Load || matches!(body.kind, Moves::BucketTruck(_)) || moves()
}

/// Steps that are gone through in one weather, covers and wires as in one stand.
struct Passage<'a> {
    rooms: &'a Rooms<'a>,
    plan: &'a Plan,
    weather: &'a Weather<'a>,
    bodies: Vec<usize>,
    stand: &'a Stand<'a>,
    passes: Range<usize>,
    /// By conductor, wire and distance: what could be bridged.
    near: RefCell<Vec<(u8, usize, f64, bool)>>,
}

impl<'a> Passage<'a> {
    fn of(
        rooms: &'a Rooms<'a>,
        plan: &'a Plan,
        run: &Run,
        weather: &'a Weather<'a>,
        stand: &'a Stand<'a>,
        passes: Range<usize>,
    ) -> Self {
        let bodies = (0..weather.bodies.len()).filter(|body| takes_part(plan, run, weather.air, *body)).collect();
        Self { rooms, plan, weather, bodies, stand, passes, near: RefCell::default() }
    }

    /// For each step of the stand what governs the way back from it; `None` when there is nothing to come near to.
    fn up_to_each_step(&self) -> Vec<Option<Worst>> {
        let mut worst: Option<Worst> = None;
        let mut found = Vec::new();
        for passing in self.passes.clone() {
            self.pass(passing, &mut worst);
            if self.stand.steps.contains(&passing) {
                found.push(worst.clone());
            }
        }
        found
    }

    fn whole(&self) -> Option<Worst> {
        let mut worst = None;
        self.passes.clone().for_each(|passing| self.pass(passing, &mut worst));
        worst
    }

    fn pass(&self, passing: usize, worst: &mut Option<Worst>) {
        let bodies = || self.bodies.iter().copied().filter(|body| !self.is_as_before(passing, *body));
        let pairs = || bodies().flat_map(|body| (0..self.rooms.site.wires.len()).map(move |wire| (body, wire)));
        // The likeliest to govern goes first, so that most others need not be bracketed.
        let margin_m = |&(body, wire): &(usize, usize)| self.likely_margin_m(passing, body, wire);
        let first = pairs().min_by(|a, b| margin_m(a).total_cmp(&margin_m(b)));
        for (body, wire) in first.into_iter().chain(pairs().filter(|pair| Some(*pair) != first)) {
            let found = self.pair(passing, body, wire, worst.as_ref());
            keep_worse(worst, found);
        }
    }

    /// By the boxes about both; the least where it is not known how the wire hangs.
    fn likely_margin_m(&self, passing: usize, body: usize, wire: usize) -> f64 {
        let likely_m = || {
            let most_m = self.weather.bodies.get(body)?.most_m.get(wire).copied().flatten()?;
            Some(self.weather.at(body, passing)?.around.apart_m(&self.line(wire)?.around) - most_m)
        };
        likely_m().unwrap_or(f64::NEG_INFINITY)
    }

    /// All through the step the body stands as it did in the one before, which was passed and in which as much was asked.
    fn is_as_before(&self, passing: usize, body: usize) -> bool {
        let Some(before) = passing.checked_sub(1).filter(|before| self.passes.contains(before)) else { return false };
        let like = |step| self.weather.at(body, step).map(|passing| passing.like);
        let works_on = |step| self.weather.bodies.get(body).map(|of_body| self.works_on(step, of_body.kind));
        like(before) == like(passing) && works_on(before) == works_on(passing)
    }

    fn line(&self, wire: usize) -> Option<&Line<'_>> {
        self.stand.hung.get(self.weather.weather)?.get(wire).copied().flatten()
    }

    /// The wire that is worked on from the bucket in that step, where the body is beyond its insulation.
    fn works_on(&self, step: usize, kind: BodyKind) -> Option<usize> {
        let run = pieces_of(self.plan, step).first()?.bucket?;
        run.works_on.filter(|_| rules::beyond_insulation(kind))
    }

    /// The pair in a step that is gone through, if it may be worse than the worst so far.
    fn pair(&self, passing: usize, body: usize, wire: usize, worst: Option<&Worst>) -> Option<Worst> {
        let (of_body, moving) = (self.weather.bodies.get(body)?, self.weather.at(body, passing)?);
        let (site, kind) = (self.rooms.site, of_body.kind);
        if moving.legs.is_empty() {
            return None;
        }
        let works_on = self.works_on(passing, kind);
        // What the worker takes hold of he is meant to come to.
        if kind == BodyKind::Worker && gaps::excused(site, kind, wire, works_on).is_some() {
            return None;
        }
        let motion = self.weather.air.motion.bodies.get(body)?;
        let unknown = || Worst {
            state: PairState::Undecided,
            margin_m: f64::NEG_INFINITY,
            low_m: f64::NEG_INFINITY,
            allowance_m: 0.0,
            required_m: 0.0,
            rule: String::new(),
            body: motion.name.clone(),
            wire,
            weather: self.weather.weather,
            passing,
        };
        let Some(line) = self.line(wire) else { return Some(unknown()) };
        let asked = |demand: Demand| gaps::asked(self.rooms, kind, wire, works_on, &demand);

        // Quick: as far off as the worst so far, at the greatest distance that any rule may ask for here.
        let Some(most_m) = of_body.most_m.get(wire).copied().flatten() else { return Some(unknown()) };
        let most_m = asked(Demand { distance_m: most_m, rule: String::new() }).0;
        let beyond_m = match worst {
            Some(worst) if worst.state == PairState::Apart => worst.margin_m.max(0.0),
            Some(_) => 0.0,
            None => f64::INFINITY,
        };
        let threshold_m = (most_m + beyond_m).max(site.basis.residual_gap_m);
        if self.weather.keeps(body, passing, line, threshold_m) {
            return None;
        }

        let near = |second: usize, distance_m: f64| self.near(kind, second, distance_m);
        let Ok((required_m, rule)) = demand(self.rooms, kind, wire, near).map(asked) else { return Some(unknown()) };
        let left = self.weather.measured(body, passing, line, Measure::GapLessAllowance)?;
        let margin_m = left.low_m - required_m;
        // What is not a number is not kept.
        let kept = margin_m >= 0.0;
        let proof = if !kept && rules::cover_counts(site, kind) {
            let pieces = &self.plan.steps.get(passing)?.pieces;
            let shaft = Shaft { motion: &self.weather.air.motion, body: motion, legs: &moving.legs, pieces };
            let bare = gaps::what_lies_bare(site, kind, &shaft, (wire, line), &self.stand.covers, required_m);
            CoverProof::from_margins(bare.body_margin_m, bare.wire_margin_m)
        } else {
            CoverProof::NotDouble
        };
        let decided = left.closed || left.high_m < required_m;
        let state = rules::state(left.low_m, 0.0, required_m, site.basis.residual_gap_m, decided, proof);
        let found = Worst { state, margin_m, required_m, rule, ..unknown() };
        if worst.is_some_and(|worst| !found.is_worse_than(worst)) {
            return None;
        }
        let gap = self.weather.measured(body, passing, line, Measure::Gap)?;
        Some(Worst { low_m: gap.low_m, allowance_m: (gap.low_m - left.low_m).max(0.0), ..found })
    }

    /// Whether what conducts to such a body is not proven to keep this distance from the wire, anywhere on the way where the
    /// wire is not the one that is worked on.
    fn near(&self, kind: BodyKind, wire: usize, distance_m: f64) -> bool {
        let conductor = gaps::conductor_of(self.rooms.site, self.plan, kind);
        let known = |found: &&(u8, usize, f64, bool)| (found.0, found.1, found.2) == (conductor, wire, distance_m);
        if let Some(found) = self.near.borrow().iter().find(known) {
            return found.3;
        }
        let near = self.line(wire).is_none_or(|line| {
            let comes_near = |body: usize, of_body: &Body, step: usize| {
                let works_on = self.works_on(step, of_body.kind);
                let counts = gaps::excused(self.rooms.site, of_body.kind, wire, works_on).is_none();
                let is_there = of_body.steps.get(step).is_some_and(|passing| !passing.legs.is_empty());
                counts && is_there && !self.weather.keeps(body, step, line, distance_m)
            };
            let joined = self.weather.bodies.iter().enumerate().filter(|(_, of_body)| of_body.conductor == conductor);
            joined.into_iter().any(|(body, of_body)| self.passes.clone().any(|step| comes_near(body, of_body, step)))
        });
        self.near.borrow_mut().push((conductor, wire, distance_m, near));
        near
    }
}

// ------------------------------------------------------------------------------------------------------------- rows

fn row(rooms: &Rooms, run: &Run, step: usize, found: Found) -> WayOutRow {
    let site = rooms.site;
    let is_way = found.is_way();
    let Found { way, worst } = found;
    let known = worst.as_ref().filter(|worst| worst.low_m.is_finite());
    WayOutRow {
        way: is_way.then_some(way),
        ends: if is_way { run.ends } else { None },
        none_because: (!is_way).then(|| "a pair on the way is not proven to keep its distance".to_owned()),
        state: worst.as_ref().map(|worst| worst.state),
        body: worst.as_ref().map(|worst| worst.body.clone()),
        other: worst.as_ref().and_then(|worst| site.wires.get(worst.wire)).map(|wire| wire.name.clone()),
        weather: worst.as_ref().and_then(|worst| site.weather.get(worst.weather)).map(|weather| weather.name.clone()),
        passing_step: worst.as_ref().map(|worst| worst.passing),
        low_m: known.map(|worst| worst.low_m),
        allowance_m: known.map(|worst| worst.allowance_m),
        required_m: known.map(|worst| worst.required_m),
        margin_m: known.map(|worst| worst.margin_m),
        ..WayOutRow::without(step, run.of, "")
    }
}

/// Once the pole stands it neither goes back nor is laid down.
fn ends(rooms: &Rooms, step: usize) -> Finding {
    let name = rooms.site.steps.get(step).map_or("?", |step| step.name.as_str());
    let message = format!(
        "From \"{name}\" on there is neither a way back nor a lay-down path: the pole has been let go and stands, and nothing \
         hangs on the hook."
    );
    Finding::note("way_back_ends", message).rule("common practice").at_step(step)
}

/// One finding for each range of steps whose way back fails at the same pair in the same step, unless that pair is a stop
/// there on the way to it.
fn no_way_back(rooms: &Rooms, stands: &[Stand], run: &Run, all: &[Found], gaps: &[GapRow]) -> Vec<Finding> {
    let site = rooms.site;
    let mut found: Vec<(Range<usize>, &Worst)> = Vec::new();
    for (step, one) in run.steps.clone().zip(all) {
        let Some(worst) = one.worst.as_ref().filter(|_| !one.is_way()) else { continue };
        let wire = site.wires.get(worst.wire).map_or("", |wire| wire.name.as_str());
        let told = gaps.iter().any(|gap| {
            gap.state < PairState::Covered
                && gap.step == Some(worst.passing)
                && gap.body == worst.body
                && gap.other == wire
        });
        if told {
            continue;
        }
        match found.last_mut() {
            Some((steps, last))
                if steps.end == step
                    && (last.wire, last.passing, &last.body) == (worst.wire, worst.passing, &worst.body) =>
            {
                steps.end = step + 1;
            }
            _ => found.push((step..step + 1, worst)),
        }
    }
    found.into_iter().map(|(steps, worst)| finding(rooms, stands, run.of, steps, worst)).collect()
}

fn finding(rooms: &Rooms, stands: &[Stand], of: WayOf, steps: Range<usize>, worst: &Worst) -> Finding {
    let site = rooms.site;
    let name = |step: usize| site.steps.get(step).map_or("?", |step| step.name.as_str());
    let wire = site.wires.get(worst.wire).map_or("?", |wire| wire.name.as_str());
    let weather = site.weather.get(worst.weather).map_or("?", |weather| weather.name.as_str());
    let what = match of {
        WayOf::Load => "no way back with the pole, and so none to lay it down,",
        WayOf::BucketTruck => "no way for the bucket back to its rest, nor on to it as planned,",
    };
    let until =
        if steps.len() > 1 { format!(" Nor from those after it, to step {}.", steps.end) } else { String::new() };
    let again = format!("step {} \"{}\" done backwards", worst.passing + 1, name(worst.passing));
    let asked_m = worst.required_m.max(site.basis.residual_gap_m);
    let how = if worst.state == PairState::Undecided {
        format!("in {again} the gap of {} to wire {wire} ({weather}) could not be proven", worst.body)
    } else {
        format!(
            "in {again}, {} may come to {} from wire {wire} ({weather}); less allowances of {} that is {} short of the {} required",
            worst.body,
            down(worst.low_m),
            up(worst.allowance_m),
            up(asked_m - (worst.low_m - worst.allowance_m)),
            up(asked_m)
        )
    };
    let message = format!("From here there is {what} as covers and wires are by then: {how}.{until}");
    Finding::stop("no_way_back", message)
        .at_step(steps.start)
        .measured(worst.low_m, asked_m + worst.allowance_m, "m")
        .rule(if worst.rule.is_empty() { "common practice".to_owned() } else { worst.rule.clone() })
        .mend(mend(rooms, stands, steps.start, worst))
}

/// What differs now from when the step was done the first time.
fn mend(rooms: &Rooms, stands: &[Stand], step: usize, worst: &Worst) -> String {
    let wire = rooms.site.wires.get(worst.wire).map_or("?", |wire| wire.name.as_str());
    let at = |step: usize| stands.iter().find(|stand| stand.steps.contains(&step));
    let (Some(then), Some(now)) = (at(worst.passing), at(step)) else { return String::new() };
    let mut kept: Vec<String> = Vec::new();
    if then.covers.pole != now.covers.pole {
        kept.push("the pole's covers on".to_owned());
    }
    if then.covers.wires.get(worst.wire) != now.covers.wires.get(worst.wire) {
        kept.push(format!("the cover of {wire} on"));
    }
    if !same(&then.hung, &now.hung) {
        kept.push("every wire where it was".to_owned());
    }
    let passing = worst.passing + 1;
    if kept.is_empty() {
        return format!("Mend what the findings say of step {passing}.");
    }
    format!("Keep {} as in step {passing} until there, or give it more room there.", kept.join(" and "))
}

#[cfg(test)]
mod tests {
    use crate::check::check;
    use crate::finding::Grade;
    use crate::fixtures::trucks::{TALLIS, scene_text};
    use crate::report::{Report, Way, WayEnd, WayOf, WayOutRow};
    use crate::rules::PairState;
    use crate::scene;

    const EXAMPLE: &str = include_str!("../../../scenes/01_juniper_lane.ron");

    fn report(change: &[(&str, &str)]) -> Report {
        let text = change.iter().fold(EXAMPLE.to_owned(), |text, (from, to)| {
            assert!(text.contains(from), "{from}");
            text.replace(from, to)
        });
        check(&scene::read("job.ron", &text).and_then(|scene| scene.site()).unwrap())
    }

    fn named(report: &Report, name: &str) -> usize {
        report.steps.iter().position(|step| step.name == name).unwrap()
    }

    fn stops(report: &Report) -> Vec<Option<usize>> {
        report.findings.iter().filter(|f| f.code == "no_way_back").map(|f| f.step).collect()
    }

    fn row(report: &Report, step: usize) -> &WayOutRow {
        report.way_out.iter().find(|row| (row.of, row.step) == (WayOf::Load, step)).unwrap()
    }

    fn bucket_row<'a>(report: &'a Report, name: &str) -> &'a WayOutRow {
        let step = named(report, name);
        report.way_out.iter().find(|row| (row.of, row.step) == (WayOf::BucketTruck, step)).unwrap()
    }

    #[test]
    fn the_example_can_go_back_from_the_pick_up_to_the_last_step_before_the_pole_is_let_go() {
        let report = report(&[]);
        assert_eq!(stops(&report), []);
        let (took, let_go) = (named(&report, "Take the load"), named(&report, "Let go"));
        let of_load: Vec<&WayOutRow> = report.way_out.iter().filter(|row| row.of == WayOf::Load).collect();
        let steps: Vec<usize> = of_load.iter().map(|row| row.step).collect();
        assert_eq!(steps, (took..report.steps.len()).collect::<Vec<_>>());
        for row in of_load {
            let back = (row.step <= let_go).then_some(Way::Back);
            assert_eq!((row.way, row.ends), (back, back.map(|_| WayEnd::PoleLaidDown)), "{row:?}");
        }
        // The step from which there is none is named.
        let ends = report.findings.iter().find(|finding| finding.code == "way_back_ends").unwrap();
        assert_eq!((ends.grade, ends.step), (Grade::Note, Some(let_go + 1)));
        // Going on takes no way back's margin away from it: the worst so far stays the worst while nothing else changes.
        let [before, after] =
            ["Lower between A and B", "Take off the butt guards"].map(|n| row(&report, named(&report, n)));
        assert!(after.margin_m <= before.margin_m);
    }

    #[test]
    fn guards_taken_off_below_a_narrow_slot_leave_no_way_back_up_through_it() {
        let narrow = [("\"-8 ft 5 in\", \"32 ft 7 in\"", "\"-7 ft 6 in\", \"30 ft 9 in\"")];
        let report = report(&narrow);
        let off = named(&report, "Take off the butt guards");
        let slot = named(&report, "Lower between A and B");
        // On the way there nothing is a stop: the guards were on.
        assert!(report.gaps.iter().all(|gap| gap.state >= PairState::Covered));
        assert_eq!(stops(&report), [Some(off)]);
        assert_eq!(row(&report, slot).way, Some(Way::Back));
        for step in off..named(&report, "Let go") {
            let row = row(&report, step);
            assert_eq!((row.way, row.state), (None, Some(PairState::Short)), "{row:?}");
            assert_eq!((row.body.as_deref(), row.other.as_deref()), (Some("pole"), Some("A")));
            assert_eq!(row.passing_step, Some(slot));
        }
        let finding = report.findings.iter().find(|f| f.code == "no_way_back").unwrap();
        assert!(finding.mend.contains("pole's covers"), "{}", finding.mend);
    }

    #[test]
    fn guards_that_stay_on_keep_the_way_back() {
        let narrow = [
            ("\"-8 ft 5 in\", \"32 ft 7 in\"", "\"-7 ft 6 in\", \"30 ft 9 in\""),
            ("ends: before(\"Take off the butt guards\")", "ends: never"),
        ];
        let report = report(&narrow);
        assert_eq!(stops(&report), []);
        assert!(report.way_out.iter().any(|row| row.state == Some(PairState::Covered)));
    }

    #[test]
    fn a_wire_let_back_while_the_pole_hangs_below_it_closes_the_way_up() {
        // While somebody works on the arm of C, and after.
        let early = [(
            "name: \"arm on A\",\n      wire: \"A\",\n      station: \"0 ft\",\n      to: (\"0 ft\", \"-8 ft 5 in\", \"32 ft 7 in\"),\n      holder_rating: \"150 lbf\",\n      starts: after(\"Hold A, C and the neutral aside\"),\n      ends: before(\"Let the others back\")",
            "name: \"arm on A\",\n      wire: \"A\",\n      station: \"0 ft\",\n      to: (\"0 ft\", \"-8 ft 5 in\", \"32 ft 7 in\"),\n      holder_rating: \"150 lbf\",\n      starts: after(\"Hold A, C and the neutral aside\"),\n      ends: before(\"Into the hole\")",
        )];
        let report = report(&early);
        let at = named(&report, "Into the hole");
        assert_eq!(row(&report, at - 1).way, Some(Way::Back));
        let row = row(&report, at);
        assert_eq!((row.way, row.other.as_deref()), (None, Some("A")));
        assert!(row.passing_step.unwrap() <= at);
    }

    #[test]
    fn the_example_brings_its_bucket_back_to_its_rest_from_wherever_it_is() {
        let report = report(&[]);
        let of_bucket: Vec<&WayOutRow> = report.way_out.iter().filter(|row| row.of == WayOf::BucketTruck).collect();
        let steps: Vec<usize> = of_bucket.iter().map(|row| row.step).collect();
        let up = named(&report, "Bucket up behind its truck")..=named(&report, "Bucket truck stowed");
        assert_eq!(steps, up.collect::<Vec<_>>());
        assert!(of_bucket.iter().all(|row| (row.way, row.ends) == (Some(Way::Back), Some(WayEnd::BucketAtRest))));
    }

    /// The bucket comes near C while it is covered; then the cover comes off, `then` as stated.
    fn uncovered_behind_the_bucket(then: &str) -> Report {
        let steps = format!(
            "(name: \"Bucket by C\", do: bucket_to(wire: \"C\", station: \"0 ft\", below: \"2 ft\", left: \"7 ft\")), {then} \
             (name: \"Hose off\", do: work(\"5 min\")), (name: \"Bucket home\", do: bucket_stow), (name: \"Cover up\","
        );
        let text = scene_text(&TALLIS.replace("30 ft", "26 ft")).replacen("(name: \"Cover up\",", &steps, 1);
        let [before, c] = text.split_once("name: \"hose on C\"").map(|(a, b)| [a, b]).unwrap();
        let c = c.replacen("starts: after(\"Cover up\")", "starts: at_start", 1);
        let c = c.replacen("ends: before(\"Uncover\")", "ends: before(\"Hose off\")", 1);
        let scene = scene::read("t", &format!("{before}name: \"hose on C\"{c}"));
        check(&scene.unwrap_or_else(|faults| panic!("{}", faults[0])).site().unwrap())
    }

    #[test]
    fn a_bucket_that_may_not_go_back_past_a_wire_laid_bare_behind_it_goes_on_to_its_rest() {
        let away = "(name: \"Away\", do: bucket_to(point: (\"-14 ft\", \"24 ft\", \"26 ft\"), order: [slew])),";
        let report = uncovered_behind_the_bucket(away);

        assert_eq!(stops(&report), []);
        let back = bucket_row(&report, "Away");
        assert_eq!(
            (back.way, back.state, back.other.as_deref()),
            (Some(Way::Back), Some(PairState::Covered), Some("C"))
        );
        let on = bucket_row(&report, "Hose off");
        assert_eq!((on.way, on.ends, on.state), (Some(Way::On), Some(WayEnd::BucketAtRest), Some(PairState::Apart)));
    }

    #[test]
    fn a_bucket_beside_a_wire_laid_bare_has_no_way_out() {
        let report = uncovered_behind_the_bucket("");
        let none = bucket_row(&report, "Hose off");
        assert_eq!((none.way, none.ends, none.state), (None, None, Some(PairState::Short)));
        assert!(report.findings.iter().any(|f| f.grade == Grade::Stop && f.step == Some(none.step)));
    }

    #[test]
    fn where_a_wire_hangs_unknown_no_way_is_proven() {
        let mut site = scene::read("job.ron", EXAMPLE).and_then(|scene| scene.site()).unwrap();
        site.wires[1].spans.clear();
        let report = check(&site);
        assert!(report.findings.iter().any(|f| f.code == "wire_not_hung"));
        let unknown = |row: &WayOutRow| row.way.is_none() && row.state == Some(PairState::Undecided);
        let (took, let_go) = (named(&report, "Take the load"), named(&report, "Let go"));
        assert!((took..=let_go).all(|step| unknown(row(&report, step))), "{:?}", report.way_out);
        assert!(unknown(bucket_row(&report, "Bucket truck down")));
    }
}
