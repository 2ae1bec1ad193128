//! Steps that a way goes through in one weather, covers and wires as they are in one step.

use super::super::Inputs;
use super::super::cover::CoveredBody;
use super::super::demand::Demand;
use super::super::demand::kind::{self, Conductor};
use super::super::hung_wire::HungWire;
use super::super::judge::{Judged, Limit};
use super::super::search::Measured;
use super::passing::{Body, InWeather};
use super::trip::{Trip, pieces_of};
use super::{Conditions, Worst};
use crate::machine::BodyId;
use crate::machine::Role;
use crate::motion::BodyMotion;
use crate::rules::{self, CoverProof, PairState};
use std::cell::RefCell;
use std::ops::Range;

pub(super) struct Passage<'a> {
    inputs: &'a Inputs<'a>,
    weather: &'a InWeather<'a>,
    bodies: Vec<usize>,
    conditions: &'a Conditions<'a>,
    passes: Range<usize>,
    /// By conductor, wire and distance: what could be bridged.
    near: RefCell<Vec<(Conductor, usize, f64, bool)>>,
}

pub(super) fn keep_worse(kept: &mut Option<Worst>, found: Option<Worst>) {
    if let Some(found) = found
        && kept.as_ref().is_none_or(|kept| found.is_worse_than(kept))
    {
        *kept = Some(found);
    }
}

/// Of the way of a bucket all that moves meanwhile; of the pole's everything.
fn takes_part(inputs: &Inputs, trip: &Trip, weather: &InWeather, body: usize) -> bool {
    let Some(body) = weather.set.motion.bodies.get(body) else { return false };
    // An arm is insulated, and it holds a wire.
    if matches!(body.id, BodyId::HoldingArm { .. }) {
        return false;
    }
    let moves = || {
        let steps = trip.steps.clone();
        let mut pieces = steps.flat_map(|step| inputs.plan.steps.get(step).map_or(0..0, |time| time.pieces.clone()));
        pieces.any(|piece| body.still.get(piece) == Some(&false))
    };
    trip.lift.is_none() || body.id.lift() == trip.lift || moves()
}

impl<'a> Passage<'a> {
    pub fn of(
        inputs: &'a Inputs<'a>,
        trip: &Trip,
        weather: &'a InWeather<'a>,
        conditions: &'a Conditions<'a>,
        passes: Range<usize>,
    ) -> Self {
        let bodies = (0..weather.bodies.len()).filter(|body| takes_part(inputs, trip, weather, *body)).collect();
        Self { inputs, weather, bodies, conditions, passes, near: RefCell::default() }
    }

    /// For each step of the conditions what governs the way back from it; `None` when there is nothing to come near to.
    pub fn up_to_each_step(&self) -> Vec<Option<Worst>> {
        let mut worst: Option<Worst> = None;
        let mut found = Vec::new();
        for passing in self.passes.clone() {
            self.pass(passing, &mut worst);
            if self.conditions.steps.contains(&passing) {
                found.push(worst.clone());
            }
        }
        found
    }

    pub fn whole(&self) -> Option<Worst> {
        let mut worst = None;
        self.passes.clone().for_each(|passing| self.pass(passing, &mut worst));
        worst
    }

    fn pass(&self, passing: usize, worst: &mut Option<Worst>) {
        let bodies = || self.bodies.iter().copied().filter(|body| !self.is_as_before(passing, *body));
        let pairs = || bodies().flat_map(|body| (0..self.inputs.site.wires.len()).map(move |wire| (body, wire)));
        // The likeliest to govern goes first, so that most others need not be bracketed.
        let margin_m = |&(body, wire): &(usize, usize)| self.likely_margin_m(passing, body, wire);
        let first = pairs().min_by(|a, b| margin_m(a).total_cmp(&margin_m(b)));
        for (body, wire) in first.into_iter().chain(pairs().filter(|pair| Some(*pair) != first)) {
            let found = self.pair(passing, body, wire, worst.as_ref());
            keep_worse(worst, found);
        }
    }

    /// By the boxes about both; the least where the hang of the wire is not known.
    fn likely_margin_m(&self, passing: usize, body: usize, wire: usize) -> f64 {
        let likely_m = || {
            let most_m = self.weather.bodies.get(body)?.most_m.get(wire).copied().flatten()?;
            Some(self.weather.at(body, passing)?.around.apart_m(&self.hung(wire)?.around) - most_m)
        };
        likely_m().unwrap_or(f64::NEG_INFINITY)
    }

    /// All through the step the body stands as it did in the one before, which was passed and in which as much was asked.
    fn is_as_before(&self, passing: usize, body: usize) -> bool {
        let Some(before) = passing.checked_sub(1).filter(|before| self.passes.contains(before)) else { return false };
        let like = |step| self.weather.at(body, step).map(|passing| passing.like);
        let works_on = |step| self.weather.set.motion.bodies.get(body).map(|body| self.works_on(step, body));
        like(before) == like(passing) && works_on(before) == works_on(passing)
    }

    fn hung(&self, wire: usize) -> Option<&HungWire<'_>> {
        self.conditions.hung.get(self.weather.weather)?.get(wire).copied().flatten()
    }

    /// The wire that is worked on from the body's own lift in that step, where the body is beyond its insulation.
    fn works_on(&self, step: usize, body: &BodyMotion) -> Option<usize> {
        let run = pieces_of(self.inputs.plan, step).first()?.lifts.get(body.id.lift()?)?;
        run.works_on.filter(|_| rules::beyond_insulation(body.role))
    }

    /// The wire that the body's own lift goes straight from to the next in that step.
    fn leaves(&self, step: usize, body: &BodyMotion) -> Option<usize> {
        let run = pieces_of(self.inputs.plan, step).first()?.lifts.get(body.id.lift()?)?;
        run.leaves.filter(|_| rules::beyond_insulation(body.role))
    }

    /// The pair in a step that is gone through, if it may be worse than the worst so far.
    fn pair(&self, passing: usize, body: usize, wire: usize, worst: Option<&Worst>) -> Option<Worst> {
        let (of_body, moving) = (self.weather.bodies.get(body)?, self.weather.at(body, passing)?);
        let (site, kind) = (self.inputs.site, of_body.kind);
        if moving.part_motions.is_empty() {
            return None;
        }
        let motion = self.weather.set.motion.bodies.get(body)?;
        let works_on = self.works_on(passing, motion);
        // The worker is meant to come to what he takes hold of.
        if kind == Role::Worker && kind::excuse(site, motion, wire, works_on).is_some() {
            return None;
        }
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
        let Some(hung) = self.hung(wire) else { return Some(unknown()) };
        let at_work = |demand: Demand| demand.at_work(self.inputs, motion, wire, works_on);

        // Quick: as far off as the worst so far, at the greatest distance that any rule may ask for here.
        let Some(distance_m) = of_body.most_m.get(wire).copied().flatten() else { return Some(unknown()) };
        let most_m = at_work(Demand { distance_m, rule: String::new() }).distance_m;
        let beyond_m = match worst {
            Some(worst) if worst.state == PairState::Apart => worst.margin_m.max(0.0),
            Some(_) => 0.0,
            None => f64::INFINITY,
        };
        let residual_m = site.basis.residual_gap_m;
        if self.weather.keeps(body, passing, hung, (most_m + beyond_m).max(residual_m)) {
            return None;
        }

        let near = |second: usize, distance_m: f64| self.near(of_body.conductor, second, distance_m);
        let Ok(demand) = Demand::to_wire(self.inputs, kind, wire, near).map(at_work) else { return Some(unknown()) };
        let left = self.weather.left(body, passing, hung)?;
        let limit = Limit { required_m: demand.distance_m, residual_m, most_allowance_m: 0.0 };
        let pieces = &self.inputs.plan.steps.get(passing)?.pieces;
        // The gap itself is measured once the pair is known to govern.
        let cover = || {
            if !rules::cover_counts(site, kind) {
                return CoverProof::NotDouble;
            }
            let set = self.weather.set;
            let moved =
                CoveredBody { motion: &set.motion, body: motion, kind, part_motions: &moving.part_motions, pieces };
            moved.bare_margins(site, wire, hung, &self.conditions.covers, demand.distance_m).proof()
        };
        let judged = Judged::of(&Measured { gap: left, left }, limit, cover);
        let judged = judged.on_the_way_out(self.leaves(passing, motion) == Some(wire), cover);
        let found = Worst {
            state: judged.state,
            margin_m: judged.margin_m,
            required_m: demand.distance_m,
            rule: demand.rule,
            ..unknown()
        };
        if worst.is_some_and(|worst| !found.is_worse_than(worst)) {
            return None;
        }
        let gap = self.weather.gap(body, passing, hung)?;
        Some(Worst { low_m: gap.low_m, allowance_m: (gap.low_m - left.low_m).max(0.0), ..found })
    }

    /// Whether what conducts to such a body is not proven to keep this distance from the wire, anywhere on the way where the
    /// wire is not the one that is worked on.
    fn near(&self, conductor: Conductor, wire: usize, distance_m: f64) -> bool {
        let known =
            |found: &&(Conductor, usize, f64, bool)| (found.0, found.1, found.2) == (conductor, wire, distance_m);
        if let Some(found) = self.near.borrow().iter().find(known) {
            return found.3;
        }
        let near = self.hung(wire).is_none_or(|hung| {
            let comes_near = |body: usize, of_body: &Body, step: usize| {
                let counts =
                    self.weather.set.motion.bodies.get(body).is_none_or(|body| {
                        kind::excuse(self.inputs.site, body, wire, self.works_on(step, body)).is_none()
                    });
                let is_there = of_body.steps.get(step).is_some_and(|passing| !passing.part_motions.is_empty());
                counts && is_there && !self.weather.keeps(body, step, hung, distance_m)
            };
            let bodies = self.weather.bodies.iter().enumerate();
            let mut joined = bodies.filter(|(_, of_body)| of_body.conductor == conductor);
            joined.any(|(body, of_body)| self.passes.clone().any(|step| comes_near(body, of_body, step)))
        });
        self.near.borrow_mut().push((conductor, wire, distance_m, near));
        near
    }
}
