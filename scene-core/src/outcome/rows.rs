//! Rows that stand for one thing each: pole, wire, capacity, float, step, and so on.

use super::point;
use crate::finding::RuledBy;
use crate::rigging::ChokerWhy;
use glam::DVec3;
use serde::Serialize;

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

/// What a body sweeps in a step in which it moves. The volume counts no allowance; what is null is not known.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SweptRow {
    pub body: String,
    pub step: usize,
    pub volume_low_m3: Option<f64>,
    pub volume_high_m3: Option<f64>,
    /// A convex outline on the ground that holds it, counterclockwise: east, north in meters.
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
    #[serde(skip)]
    pub ruled_by: Option<RuledBy>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FloatRow {
    pub name: String,
    pub max_n: f64,
    pub step: usize,
    pub pressure_pa: f64,
    pub allowed_pa: Option<f64>,
    /// Jack and blocking that levels the crane; `None` where the ground under a pad is not known.
    pub blocking_m: Option<f64>,
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
    #[serde(skip)]
    pub why: ChokerWhy,
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
