//! Every body in every step of one weather, and what has been proven of it.

use super::super::body_set::BodySet;
use super::super::demand::Demand;
use super::super::demand::kind::{self, Conductor};
use super::super::hung_wire::HungWire;
use super::super::search::{Gap, Known};
use super::Inputs;
use crate::approach::{GrownBox, PartMotion};
use crate::machine::Role;
use crate::motion::BodyMotion;
use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

/// Everything that moves in one weather, step by step, and what has been proven of it.
pub(super) struct InWeather<'a> {
    pub weather: usize,
    pub set: &'a BodySet,
    pub bodies: Vec<Body>,
    known: Mutex<HashMap<PairInStep, Known>>,
}

pub(super) struct Body {
    pub kind: Role,
    pub conductor: Conductor,
    /// By wire, the greatest distance that any rule may ask for; `None` where it cannot be looked up.
    pub most_m: Vec<Option<f64>>,
    pub steps: Vec<Passing>,
}

/// A body in one step.
pub(super) struct Passing {
    /// The first of the steps, from this one back, all through which it stands as it does now.
    pub like: usize,
    pub part_motions: Arc<[PartMotion]>,
    pub around: GrownBox,
}

/// [`Passing::like`], the body, and [`HungWire::number`].
type PairInStep = (usize, usize, usize);

impl Body {
    fn of(inputs: &Inputs, set: &BodySet, number: usize, body: &BodyMotion) -> Self {
        let plan = inputs.plan;
        let kind = body.role;
        let most_m = |wire| Demand::to_wire(inputs, kind, wire, |_, _| true).ok().map(|all| all.distance_m);
        let mut steps: Vec<Passing> = Vec::with_capacity(plan.steps.len());
        for step in 0..plan.steps.len() {
            let passing = match steps.last() {
                Some(last) if stands_as_before(inputs, body, step) => {
                    Passing { like: last.like, part_motions: Arc::clone(&last.part_motions), around: last.around }
                }
                _ => {
                    let pieces = plan.steps.get(step).map_or(0..0, |time| time.pieces.clone());
                    let part_motions = set.part_motions(number).get(pieces).unwrap_or(&[]);
                    let part_motions: Arc<[PartMotion]> =
                        PartMotion::distinct(part_motions.iter().flatten().cloned().collect()).into();
                    Passing { like: step, around: GrownBox::part_motions(&part_motions), part_motions }
                }
            };
            steps.push(passing);
        }
        Self {
            kind,
            conductor: kind::conductor(inputs.site, plan, body),
            most_m: (0..inputs.site.wires.len()).map(most_m).collect(),
            steps,
        }
    }
}

/// All through the step the body stands where it stood all through the one before.
fn stands_as_before(inputs: &Inputs, body: &BodyMotion, step: usize) -> bool {
    let parts = |step: usize| {
        let pieces = inputs.plan.steps.get(step).map(|time| time.pieces.clone());
        pieces.and_then(|pieces| body.parts.get(pieces)).unwrap_or(&[])
    };
    let (now, before) = (parts(step), step.checked_sub(1).map_or(&[][..], parts));
    let Some(first) = before.first() else { return false };
    !now.is_empty() && before.iter().chain(now).all(|parts| Arc::ptr_eq(parts, first))
}

impl<'a> InWeather<'a> {
    pub fn of(inputs: &Inputs<'a>, weather: usize) -> Option<Self> {
        let set = inputs.bodies.in_weather(weather)?;
        let bodies = set.motion.bodies.iter().enumerate();
        let bodies = bodies.map(|(number, body)| Body::of(inputs, set, number, body)).collect();
        Some(Self { weather, set, bodies, known: Mutex::default() })
    }

    pub fn at(&self, body: usize, step: usize) -> Option<&Passing> {
        self.bodies.get(body)?.steps.get(step)
    }

    /// It is proven that in this step the body keeps that much from the wire, allowances taken off.
    pub fn keeps(&self, body: usize, step: usize, wire: &HungWire, threshold_m: f64) -> bool {
        let Some(passing) = self.at(body, step) else { return false };
        if !threshold_m.is_finite() {
            return false;
        }
        if passing.around.apart_m(&wire.around) >= threshold_m {
            return true;
        }
        self.with_known(body, passing, wire, |known| known.keeps(&passing.part_motions, wire, threshold_m))
    }

    /// Gap less allowances.
    pub fn left(&self, body: usize, step: usize, wire: &HungWire) -> Option<Gap> {
        let passing = self.at(body, step)?;
        Some(self.with_known(body, passing, wire, |known| known.left(&passing.part_motions, wire)))
    }

    pub fn gap(&self, body: usize, step: usize, wire: &HungWire) -> Option<Gap> {
        let passing = self.at(body, step)?;
        Some(self.with_known(body, passing, wire, |known| known.gap(&passing.part_motions, wire)))
    }

    fn with_known<R>(&self, body: usize, passing: &Passing, wire: &HungWire, of: impl FnOnce(&mut Known) -> R) -> R {
        let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        of(known.entry((passing.like, body, wire.number)).or_default())
    }
}
