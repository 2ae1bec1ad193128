//! Steps whose ways back run over the same moves: the pole's time on the hook, and each time that a bucket is off its rest.

use super::super::Inputs;
use crate::machine::joint::{Joint, is_at_rest};
use crate::outcome::{WayEnd, WayOf};
use crate::sequence::{LoadState, Piece, Plan};
use crate::site::Site;
use std::ops::Range;

pub(super) struct Trip {
    pub of: WayOf,
    /// Whose bucket comes back; `None` for the load.
    pub lift: Option<usize>,
    /// From the one that the way back ends with.
    pub steps: Range<usize>,
    pub ends: Option<WayEnd>,
}

pub(super) fn pieces_of(plan: &Plan, step: usize) -> &[Piece] {
    plan.steps.get(step).and_then(|time| plan.pieces.get(time.pieces.clone())).unwrap_or(&[])
}

/// From the step that takes the load to the last one with it on the hook.
pub(super) fn of_load(plan: &Plan) -> Option<Trip> {
    let on_hook = |step: &usize| pieces_of(plan, *step).iter().any(|piece| piece.load.on_hook());
    let steps = || (0..plan.steps.len()).filter(on_hook);
    let steps = steps().next()?..steps().next_back()? + 1;
    // It is laid down by going back over its rise, or over nothing when it has not risen yet.
    let first = pieces_of(plan, steps.start).iter().find(|piece| piece.load.on_hook())?;
    let rose = matches!(first.load, LoadState::ButtOnGround { .. });
    Some(Trip { of: WayOf::Load, lift: None, steps, ends: rose.then_some(WayEnd::PoleLaidDown) })
}

/// One for each time that the bucket of a lift leaves its rest.
pub(super) fn of_buckets(inputs: &Inputs) -> Vec<Trip> {
    let lifts = inputs.site.lifts.iter().enumerate();
    lifts.flat_map(|(index, lift)| of_bucket(inputs.plan, index, &lift.joints())).collect()
}

fn of_bucket(plan: &Plan, lift: usize, joints: &[Joint]) -> Vec<Trip> {
    let mut trips: Vec<Trip> = Vec::new();
    for step in 0..plan.steps.len() {
        let moves = pieces_of(plan, step).iter().filter_map(|piece| piece.lifts.get(lift)).filter(|run| run.is_known);
        let away = moves.clone().any(|run| !is_at_rest(joints, &run.from) || !is_at_rest(joints, &run.to));
        if !away {
            continue;
        }
        let leaves = moves.clone().next().is_some_and(|run| is_at_rest(joints, &run.from));
        match trips.last_mut() {
            Some(trip) if !leaves => trip.steps.end = step + 1,
            _ => {
                let ends = leaves.then_some(WayEnd::BucketAtRest);
                trips.push(Trip { of: WayOf::BucketTruck, lift: Some(lift), steps: step..step + 1, ends });
            }
        }
    }
    trips
}

impl Trip {
    /// The steps over which the bucket goes on to its rest.
    pub fn onward(&self, inputs: &Inputs, step: usize) -> Option<Range<usize>> {
        let last = pieces_of(inputs.plan, self.steps.end.checked_sub(1)?).last()?.lifts.get(self.lift?)?;
        if !last.is_known {
            return None;
        }
        inputs.site.lifts.get(self.lift?)?.is_at_rest(&last.to).then_some(step..self.steps.end)
    }

    /// The name of its lift, where there are several.
    pub fn lift_named(&self, site: &Site) -> Option<String> {
        self.lift.filter(|_| site.lifts.len() > 1).map(|lift| site.lift_called(lift))
    }
}
