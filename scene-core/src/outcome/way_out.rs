//! The way out of each step.

use crate::rules::PairState;
use serde::Serialize;

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
    /// Whose bucket, by its name in the scene; left out where one lift is all there is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lift: Option<String>,
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
    pub(crate) fn without(step: usize, of: WayOf, lift: Option<String>, because: &str) -> Self {
        Self {
            step,
            of,
            lift,
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
