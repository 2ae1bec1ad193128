//! What each body sweeps, step by step, as rows.

use super::rooms;
use crate::motion::{Motion, MovingPart, WindLean};
use crate::report::SweptRow;
use crate::site::Site;
use crate::swept::{self, Wish};

/// Coarse, so that a whole sequence takes a second or so.
const WISH: Wish = Wish { tolerance: 0.25, refinements: 1 };

/// One row per step and body that moves in it. Not among what [`super::check`] does, which is to be quick.
pub fn swept(site: &Site) -> Vec<SweptRow> {
    let rooms = rooms(site, &mut Vec::new());
    let Some(plan) = &rooms.plan else { return Vec::new() };
    // Wind counts in the allowances alone, so that any weather has the same parts.
    let motion = Motion::of(site, plan, &WindLean::default());
    let mut rows = Vec::new();
    for (step, time) in plan.steps.iter().enumerate() {
        for body in &motion.bodies {
            let moving = |piece: &usize| body.still.get(*piece) == Some(&false);
            let pieces = || time.pieces.clone().filter(moving);
            if pieces().next().is_none() {
                continue;
            }
            let parts = pieces().filter_map(|piece| body.parts.get(piece)).flat_map(|parts| parts.iter());
            rows.push(row(body.name.clone(), step, parts));
        }
    }
    rows
}

fn row<'a>(body: String, step: usize, parts: impl Iterator<Item = &'a MovingPart>) -> SweptRow {
    let found = swept::swept(parts, WISH);
    let volume = found.as_ref().map(|found| found.volume_m3);
    SweptRow {
        body,
        step,
        volume_low_m3: volume.map(|v| v.low()),
        volume_high_m3: volume.map(|v| v.high()),
        footprint_m: found.map_or(Vec::new(), |found| found.outline.iter().map(|p| [p.x, p.y]).collect()),
    }
}
