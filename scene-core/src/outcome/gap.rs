//! The gap between a body and whatever else there is.

use super::maybe_point;
use crate::rules::PairState;
use glam::DVec3;
use serde::Serialize;
use std::cmp::Ordering;

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum OtherKind {
    Wire,
    Body,
    Terrain,
    Obstacle,
}

/// One (body, other, weather) over the whole path: the state is the worst of all intervals, the numbers are those of
/// the interval that governs. `margin_m = low_m − allowance_m − required_m`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GapRow {
    pub body: String,
    pub other: String,
    pub other_kind: OtherKind,
    pub weather: String,
    pub low_m: f64,
    pub high_m: f64,
    pub allowance_m: f64,
    pub required_m: f64,
    pub margin_m: f64,
    pub state: PairState,
    pub time_s: Option<f64>,
    pub step: Option<usize>,
    /// The step in which nothing is left for the first time, where that is before `step`.
    pub first_step: Option<usize>,
    /// The gap at `time_s`, between the two points. No less than `low_m`, which is proven over the whole interval.
    pub gap_there_m: Option<f64>,
    #[serde(serialize_with = "maybe_point")]
    pub point_on_body: Option<DVec3>,
    #[serde(serialize_with = "maybe_point")]
    pub point_on_other: Option<DVec3>,
    pub rule: String,
}

impl GapRow {
    /// The worse state first, of one state the least margin.
    pub fn worst_first(&self, other: &Self) -> Ordering {
        self.state.cmp(&other.state).then(self.margin_m.total_cmp(&other.margin_m))
    }

    pub(super) fn ruling_first(&self, other: &Self) -> Ordering {
        let rank = |row: &Self| (!row.state.is_stop(), !row.state.is_stop() && row.other_kind != OtherKind::Wire);
        rank(self).cmp(&rank(other)).then(self.worst_first(other))
    }
}
