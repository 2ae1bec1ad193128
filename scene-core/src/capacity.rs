//! Percent of rated capacity for each motion of the crane: the governing one of load chart, line pull, hook block and
//! sling.
//!
//! | limit | load | rated |
//! |---|---|---|
//! | load chart | pole, rigging, hook block, hoist line below the sheave, the chart's own deductions | the smallest touched cell, gross |
//! | line pull | pole, rigging, hook block, hoist line below the sheave | parts of line × pull of one part |
//! | hook block | pole, rigging | its capacity |
//! | sling | pole | rated choker capacity × angle-of-choke factor |
//!
//! Deductions add to the load and the chart stays gross. At 100 percent this equals taking them off the chart; below
//! that it gives a higher percentage. The whole pole counts even while its butt rests on the ground, because the hook
//! gets all of it when the butt leaves the ground. The chart is read at the radius with growth under load and the
//! placing allowance added.
//!
//! Not modeled: friction in the sheaves (line pull is ideal), dynamic load, wind on boom and load, a crane out of
//! level, two-part slings. [`crate::floats`] computes the forces on the outrigger floats.

mod findings;
mod used;

pub use findings::NEAR_RATED_PERCENT;
pub use used::{Limit, LimitUse, LoadOnHook, MotionRange, UNRATED_PERCENT};

use self::findings::{faults, ideal_line, judge, keep_worst};
use crate::finding::{self, Finding};
use crate::pole::Mass;
use crate::site::Site;
use used::used;

/// Percent of rated capacity for every motion, with findings: the worst of each kind in each step.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Capacity {
    /// In the order of the given motions. Empty when a figure is missing.
    pub motions: Vec<LimitUse>,
    /// Loads near or above a limit, motions off the chart, joints beyond their stops, missing figures.
    pub findings: Vec<Finding>,
}

/// Compares every motion with load chart, line pull, block and sling. Cost: microseconds per motion.
pub fn capacity(site: &Site, mass: &Mass, motions: &[MotionRange]) -> Capacity {
    let findings = faults(site);
    if !findings.is_empty() {
        return Capacity { motions: Vec::new(), findings };
    }
    let mut found = Vec::new();
    if motions.is_empty() {
        found.push(finding::stop(finding::Capacity::NoMotion));
    }
    let motions: Vec<LimitUse> = motions
        .iter()
        .map(|motion| {
            let used = used(site, mass, motion);
            for finding in judge(site, motion, &used) {
                keep_worst(&mut found, finding);
            }
            used
        })
        .collect();
    found.extend(ideal_line(&motions));
    Capacity { motions, findings: found }
}

#[cfg(test)]
mod tests;
