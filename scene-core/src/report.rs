//! What `check` says, for people as text and for machines as JSON.
//!
//! The JSON is the object `plumbrise-report/1`: keys carry their unit, a missing value is null and has a finding.

pub mod sentence;
pub mod table;
pub mod text;

use crate::cover;
use crate::finding::{Finding, Grade};
use crate::rules::PairState;
use glam::DVec3;
use serde::{Serialize, Serializer};
use std::cmp::Ordering;

/// The best that is ever said is that no stop was found in what was checked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    Stop,
    Caution,
    NoStopFound,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Report {
    pub format: &'static str,
    pub scene: String,
    pub verdict: Verdict,
    pub pole: PoleRow,
    pub wires: Vec<WireRow>,
    pub gaps: Vec<GapRow>,
    /// The way out of each step with the pole on the hook or let go, and of each with a bucket off its rest.
    pub way_out: Vec<WayOutRow>,
    /// What each body sweeps in each step; empty unless asked for with [`crate::check::check_and_sweep`].
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
    pub assumed: Vec<String>,
    pub not_checked: Vec<String>,
    pub sources: Vec<String>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PoleRow {
    pub name: String,
    pub length_m: f64,
    pub mass_kg: Option<f64>,
    pub mass_low_kg: Option<f64>,
    pub balance_from_butt_m: Option<f64>,
    pub balance_low_from_butt_m: Option<f64>,
    pub pick_from_butt_m: f64,
    pub hang_tilt_deg: Option<f64>,
    /// Sideways force at the butt that would hold the pole plumb.
    pub butt_hold_force_n: Option<f64>,
    pub hook_load_butt_grounded_kg: Option<f64>,
    pub setting_depth_m: f64,
    pub source: String,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WireRow {
    pub wire: String,
    pub weather: String,
    pub state: String,
    pub span_m: f64,
    /// The middle of the bracket; its ends follow.
    pub horizontal_tension_n: f64,
    pub horizontal_tension_low_n: f64,
    pub horizontal_tension_high_n: f64,
    pub sag_m: f64,
    pub sag_low_m: f64,
    pub sag_high_m: f64,
    pub blowout_deg: f64,
    #[serde(serialize_with = "point")]
    pub lowest_point: DVec3,
}

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
    #[serde(serialize_with = "maybe_point")]
    pub point_on_body: Option<DVec3>,
    #[serde(serialize_with = "maybe_point")]
    pub point_on_other: Option<DVec3>,
    pub rule: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum WayOf {
    /// The pole, on the hook or let go.
    Load,
    /// A bucket off its rest.
    BucketTruck,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Way {
    /// The steps done so far, last one first.
    Back,
    /// The steps still to be done, as planned.
    On,
}

/// What stands at the end of a way out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum WayEnd {
    /// The pole lies where it was picked up.
    PoleLaidDown,
    BucketAtRest,
}

/// The way out of a step, under the covers and with the wires as they are in that step. The numbers are those of the pair
/// that governs on the way, at whichever step it passes.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WayOutRow {
    pub step: usize,
    pub of: WayOf,
    /// Null: none was proven.
    pub way: Option<Way>,
    /// Null where there is no way, or where it ends with the pole or the bucket still in the air.
    pub ends: Option<WayEnd>,
    /// Why there is no way; null where there is one.
    pub none_because: Option<String>,
    /// The worst of any pair; null when there is nothing that the way could come near to.
    pub state: Option<PairState>,
    /// Governs: the worst state first, then the least margin. Null as `state` is.
    pub body: Option<String>,
    pub other: Option<String>,
    pub weather: Option<String>,
    /// Of the steps that are gone through, the one in which it governs.
    pub passing_step: Option<usize>,
    pub low_m: Option<f64>,
    pub allowance_m: Option<f64>,
    pub required_m: Option<f64>,
    pub margin_m: Option<f64>,
}

impl WayOutRow {
    /// A step without a way out.
    pub(crate) fn without(step: usize, of: WayOf, because: &str) -> Self {
        Self {
            step,
            of,
            way: None,
            ends: None,
            none_because: Some(because.to_owned()),
            state: None,
            body: None,
            other: None,
            weather: None,
            passing_step: None,
            low_m: None,
            allowance_m: None,
            required_m: None,
            margin_m: None,
        }
    }
}

/// What a body sweeps in a step in which it moves. The volume counts no allowance; what is null is not known.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SweptRow {
    pub body: String,
    pub step: usize,
    pub volume_low_m3: Option<f64>,
    pub volume_high_m3: Option<f64>,
    /// A convex outline on the ground that holds it, counter-clockwise: east, north in metres.
    pub footprint_m: Vec<[f64; 2]>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CapacityRow {
    pub step: usize,
    pub time_s: f64,
    pub radius_m: f64,
    pub boom_length_m: f64,
    pub boom_angle_deg: f64,
    pub load_kg: f64,
    pub rated_kg: Option<f64>,
    pub used_percent: Option<f64>,
    pub used_low_percent: Option<f64>,
    pub ruled_by: String,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FloatRow {
    pub name: String,
    pub max_n: f64,
    pub step: usize,
    pub pressure_pa: f64,
    pub allowed_pa: Option<f64>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HeldOutRow {
    pub name: String,
    pub wire: String,
    pub side_force_n: Option<f64>,
    pub tension_high_n: Option<f64>,
    pub on_after_step: Option<usize>,
    pub off_before_step: Option<usize>,
}

/// A choker height that keeps hook and wire rope out of the slot, for one way of entering.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ChokerRow {
    pub way: String,
    pub low_from_butt_m: Option<f64>,
    pub high_from_butt_m: Option<f64>,
    pub why: String,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StepRow {
    pub step: usize,
    pub name: String,
    pub from_s: f64,
    pub to_s: f64,
    pub signals: Vec<String>,
    pub hold: Option<String>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AllowanceRow {
    pub what: &'static str,
    pub value_m: f64,
    pub reason: String,
}

impl GapRow {
    /// The worse state first, of one state the least margin.
    pub fn worst_first(&self, other: &Self) -> Ordering {
        self.state.cmp(&other.state).then(self.margin_m.total_cmp(&other.margin_m))
    }

    fn ruling_first(&self, other: &Self) -> Ordering {
        let rank = |row: &Self| (!row.state.is_stop(), !row.state.is_stop() && row.other_kind != OtherKind::Wire);
        rank(self).cmp(&rank(other)).then(self.worst_first(other))
    }
}

impl Report {
    /// Pairs other than with a wire that come nearest in this step and are not apart then: what strikes, or may.
    pub fn met_in(&self, step: usize) -> impl Iterator<Item = &GapRow> {
        let met = move |row: &&GapRow| {
            row.other_kind != OtherKind::Wire && row.step == Some(step) && row.state != PairState::Apart
        };
        self.gaps.iter().filter(met)
    }

    /// The report as one pretty JSON object. Numbers that are not finite become null.
    pub fn to_json(&self) -> String {
        let mut text = serde_json::to_string_pretty(self).unwrap_or_else(|fault| {
            // Only a map with keys that are not strings can fail, and there is none.
            format!("{{\"format\":\"plumbrise-report/1\",\"fault\":\"{fault}\"}}")
        });
        text.push('\n');
        text
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
