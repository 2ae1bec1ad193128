//! How much of what the crane may lift each motion uses: the least of load chart, line pull, hook block and sling rules.
//!
//! | limit | carries | against |
//! |---|---|---|
//! | load chart | pole, rigging, hook block, hoist line below the sheave, the chart's own deductions | the least cell touched, gross |
//! | line pull | pole, rigging, hook block, hoist line below the sheave | parts of line × pull of one part |
//! | hook block | pole, rigging | its capacity |
//! | sling | pole | rated choker capacity × angle-of-choke factor |
//!
//! Deductions are set on the load's side, against the gross chart: at 100 percent it is the same as taking them off the
//! chart, below that it says more. The whole pole counts even while its butt rests on the ground: the hook gets it all the
//! moment the butt leaves. The radius is looked up with its growth under load and the placing allowance added.
//!
//! Not modelled: friction in the sheaves (line pull is ideal), dynamic load, wind on boom and load, out-of-level set-up,
//! a two-part sling; what presses on the floats is in [`crate::floats`].

mod findings;
mod used;

pub use findings::NEAR_RATED_PERCENT;
pub use used::{Limit, LoadOnHook, MotionRange, UNRATED_PERCENT, Used};

use self::findings::{faults, ideal_line, judge, keep_worst};
use crate::finding::{self, Finding};
use crate::pole::Mass;
use crate::site::Site;
use used::used;

/// Percent of rated for every motion, with its findings: per step the worst of each kind.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Capacity {
    pub motions: Vec<Used>,
    pub findings: Vec<Finding>,
}

/// Holds every motion against chart, line pull, block and sling.
pub fn capacity(site: &Site, mass: &Mass, motions: &[MotionRange]) -> Capacity {
    let findings = faults(site);
    if !findings.is_empty() {
        return Capacity { motions: Vec::new(), findings };
    }
    let mut found = Vec::new();
    if motions.is_empty() {
        found.push(finding::stop(finding::Capacity::NoMotion));
    }
    let motions: Vec<Used> = motions
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
