//! Under what conditions the figures hold.

use serde::Serialize;

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ConditionsRow {
    pub altitude_m: f64,
    pub circuits: Vec<CircuitRow>,
    /// Of the windiest weather; `None` where no weather is stated.
    pub wind_m_s: Option<f64>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CircuitRow {
    pub name: String,
    /// Nominal, phase to phase.
    pub voltage_v: f64,
    pub grounding: &'static str,
}
