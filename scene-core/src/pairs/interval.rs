//! Intervals of the plan over which covers, held-out phases and the pole's standing do not change.

use super::Inputs;
use crate::cover::{self, CoverState};
use crate::sequence::LoadState;
use std::ops::Range;

/// Consecutive steps during which nothing changes but the motion.
pub(super) struct Interval {
    pub steps: Range<usize>,
    pub pieces: Range<usize>,
    pub covers: CoverState,
    /// From release on, the pole is a structure.
    pub standing: bool,
    /// By lift: the one wire that the worker in its bucket works on, comes to or leaves.
    pub works_on: Vec<Option<usize>>,
    /// By lift: the wire that it goes straight from to the one that is worked on next.
    pub leaves: Vec<Option<usize>>,
}

pub(super) fn intervals(inputs: &Inputs) -> Vec<Interval> {
    let plan = inputs.plan;
    let states = cover::line_states(inputs.site);
    let mut found: Vec<Interval> = Vec::new();
    let mut last_key = None;
    for (step, time) in plan.steps.iter().enumerate() {
        let cover = states.iter().position(|(steps, _)| steps.contains(&step));
        let hung: Vec<usize> = hung_during(inputs, step);
        let standing = plan
            .pieces
            .get(time.pieces.clone())
            .is_some_and(|pieces| !pieces.is_empty() && pieces.iter().all(|piece| piece.load == LoadState::Standing));
        let first = plan.pieces.get(time.pieces.start);
        let lifts = || first.iter().flat_map(|piece| &piece.lifts);
        let works_on: Vec<Option<usize>> = lifts().map(|run| run.works_on).collect();
        let leaves: Vec<Option<usize>> = lifts().map(|run| run.leaves).collect();
        let key = Some((cover, hung, standing, works_on.clone(), leaves.clone()));
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
                leaves,
            }),
        }
        last_key = key;
    }
    found
}

/// By index among the states of all wires.
fn hung_during(inputs: &Inputs, step: usize) -> Vec<usize> {
    let states = inputs.wires.wires.states.iter().enumerate();
    states.filter(|(_, state)| state.steps.contains(&step)).map(|(index, _)| index).collect()
}
