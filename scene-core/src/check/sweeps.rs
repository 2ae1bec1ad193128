//! What each body sweeps, step by step, as rows.

use super::Prepared;
use crate::outcome::SweptRow;
use crate::side_by_side;
use crate::swept::{self, COARSE, Swept};

/// One row per step and body that moves in it.
pub(super) fn swept(prepared: &Prepared) -> Vec<SweptRow> {
    // Wind counts in the allowances alone, so that any weather has the same parts.
    let set = prepared.bodies().and_then(|sets| sets.in_weather(0));
    let (Some(plan), Some(set)) = (&prepared.plan, set) else { return Vec::new() };
    let steps: Vec<usize> = (0..plan.steps.len()).collect();
    let of_step = |step: &usize| -> Vec<SweptRow> {
        let found = swept::in_step(&set.motion, *step, COARSE);
        found.into_iter().map(|(body, swept)| row(body.name.clone(), *step, swept)).collect()
    };
    side_by_side::map(&steps, of_step).into_iter().flatten().collect()
}

fn row(body: String, step: usize, found: Option<Swept>) -> SweptRow {
    let volume = found.as_ref().map(|found| found.volume_m3);
    SweptRow {
        body,
        step,
        volume_low_m3: volume.map(|v| v.low()),
        volume_high_m3: volume.map(|v| v.high()),
        footprint_m: found.map_or(Vec::new(), |found| found.outline.iter().map(|p| [p.x, p.y]).collect()),
    }
}
