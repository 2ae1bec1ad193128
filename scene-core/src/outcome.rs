//! What a check finds, as data: one [`Report`]. Other rooms put it into words.
//!
//! A key carries its unit. A missing value is `None` and has a finding.

mod basis;
mod conditions;
mod gap;
mod rows;
mod way_out;

pub use basis::{AnswerKind, AnswerRow, BasisRow, LiveMachineRow, PersonRow};
pub use conditions::{CircuitRow, ConditionsRow};
pub use gap::{GapRow, OtherKind};
pub use rows::{AllowanceRow, CapacityRow, ChokerRow, FloatRow, HeldOutRow, PoleRow, StepRow, SweptRow, WireRow};
pub use way_out::{Way, WayEnd, WayOf, WayOutRow};

use crate::cover;
use crate::finding::{Finding, Grade};
use crate::premise::{Assumed, NotChecked};
use crate::rules::PairState;
use glam::DVec3;
use serde::{Serialize, Serializer};

/// The best that is ever said is that no stop was found in what was checked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    Stop,
    Caution,
    NoStopFound,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Report {
    pub scene: String,
    pub verdict: Verdict,
    pub basis: BasisRow,
    pub conditions: ConditionsRow,
    pub pole: PoleRow,
    pub wires: Vec<WireRow>,
    pub gaps: Vec<GapRow>,
    /// The way out of each step with the pole on the hook or let go, and of each with a bucket off its rest.
    pub way_out: Vec<WayOutRow>,
    /// What each body sweeps in each step; empty unless the caller asked for them.
    pub swept: Vec<SweptRow>,
    pub capacity: Vec<CapacityRow>,
    /// Forces on outrigger floats; empty while they are in `not_checked`.
    pub floats: Vec<FloatRow>,
    pub covers: Vec<cover::Row>,
    pub held_out: Vec<HeldOutRow>,
    pub chokers: Vec<ChokerRow>,
    pub steps: Vec<StepRow>,
    pub findings: Vec<Finding>,
    /// How well the world is known: what is subtracted from every gap, as the scene states it.
    pub allowances: Vec<AllowanceRow>,
    pub assumed: Vec<Assumed>,
    pub not_checked: Vec<NotChecked>,
    pub sources: Vec<String>,
}

impl Report {
    /// Pairs other than with a wire that come nearest in this step and are not apart then: what strikes, or may.
    pub fn met_in(&self, step: usize) -> impl Iterator<Item = &GapRow> {
        let met = move |row: &&GapRow| {
            row.other_kind != OtherKind::Wire && row.step == Some(step) && row.state != PairState::Apart
        };
        self.gaps.iter().filter(met)
    }

    /// How many findings have this grade.
    pub fn count(&self, grade: Grade) -> usize {
        self.findings.iter().filter(|f| f.grade == grade).count()
    }

    /// The pair that rules, and its index: stops first, then wires before all else, then the worst state, then the least
    /// margin.
    pub fn governing(&self) -> Option<(usize, &GapRow)> {
        self.gaps.iter().enumerate().min_by(|(_, a), (_, b)| a.ruling_first(b))
    }

    /// The pair that rules and those that would rule without it, by index; of a pair in several weathers the worst.
    pub fn foremost(&self, count: usize) -> Vec<usize> {
        let mut order: Vec<(usize, &GapRow)> = self.gaps.iter().enumerate().collect();
        order.sort_by(|(_, a), (_, b)| a.ruling_first(b));
        let mut found: Vec<(usize, &GapRow)> = Vec::new();
        for (index, row) in order {
            if found.len() == count {
                break;
            }
            if !found.iter().any(|(_, known)| known.body == row.body && known.other == row.other) {
                found.push((index, row));
            }
        }
        found.into_iter().map(|(index, _)| index).collect()
    }
}

fn point<S: Serializer>(p: &DVec3, s: S) -> Result<S::Ok, S::Error> {
    [p.x, p.y, p.z].serialize(s)
}

fn maybe_point<S: Serializer>(p: &Option<DVec3>, s: S) -> Result<S::Ok, S::Error> {
    p.map(|p| [p.x, p.y, p.z]).serialize(s)
}
