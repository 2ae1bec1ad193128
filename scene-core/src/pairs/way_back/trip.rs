//! Steps whose ways back run over the same moves: the pole's time on the hook, and each time that a bucket is off its rest.

use super::super::Inputs;
use crate::outcome::{WayEnd, WayOf};
use crate::sequence::{LoadState, Piece, Plan};
use std::ops::Range;

pub(super) struct Trip {
    pub of: WayOf,
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
    Some(Trip { of: WayOf::Load, steps, ends: rose.then_some(WayEnd::PoleLaidDown) })
}

/// One for each time that the bucket leaves its rest.
pub(super) fn of_bucket(inputs: &Inputs) -> Vec<Trip> {
    let Some(truck) = &inputs.site.bucket_truck else { return Vec::new() };
    let plan = inputs.plan;
    let mut trips: Vec<Trip> = Vec::new();
    for step in 0..plan.steps.len() {
        let moves = pieces_of(plan, step).iter().filter_map(|piece| piece.bucket);
        let away = moves.clone().any(|run| !truck.is_at_rest(&run.from) || !truck.is_at_rest(&run.to));
        if !away {
            continue;
        }
        let leaves = moves.clone().next().is_some_and(|run| truck.is_at_rest(&run.from));
        match trips.last_mut() {
            Some(trip) if !leaves => trip.steps.end = step + 1,
            _ => {
                let ends = leaves.then_some(WayEnd::BucketAtRest);
                trips.push(Trip { of: WayOf::BucketTruck, steps: step..step + 1, ends });
            }
        }
    }
    trips
}

impl Trip {
    /// The steps over which the bucket goes on to its rest.
    pub fn onward(&self, inputs: &Inputs, step: usize) -> Option<Range<usize>> {
        let truck = inputs.site.bucket_truck.as_ref()?;
        let last = pieces_of(inputs.plan, self.steps.end.checked_sub(1)?).last()?.bucket?;
        (self.of == WayOf::BucketTruck && truck.is_at_rest(&last.to)).then_some(step..self.steps.end)
    }
}
