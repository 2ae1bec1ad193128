//! From where no way back is proven.

use super::facts;

/// The pair on the way back that is not proven to keep its distance. Meters; steps count from 1.
#[derive(Clone, Debug, PartialEq)]
pub struct Blocked {
    /// Of the bucket, else of the pole.
    pub bucket: bool,
    pub body: String,
    pub wire: String,
    pub weather: String,
    /// Not proven either way.
    pub undecided: bool,
    pub low_m: f64,
    pub allowance_m: f64,
    /// The greater of what the rule asks for and the residual gap.
    pub required_m: f64,
    /// The step that is done backwards there, with its name.
    pub passing: usize,
    pub passing_name: String,
    /// The last step from which it is the same; `None` where it is this one alone.
    pub to_step: Option<usize>,
    /// What differs now from when the step was done the first time; `None` where that is not known.
    pub differs: Option<Differs>,
    pub rule: String,
}

/// What differs from when a step was done the first time.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Differs {
    pub pole_covers: bool,
    pub wire_cover: bool,
    pub wires_moved: bool,
}

facts! {
    WayBack {
        /// From the step with this name on the pole stands, let go.
        Ends { step: String } = "way_back_ends",
        Blocked { blocked: Box<Blocked> } = "no_way_back",
    }
}

impl WayBack {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::Ends { step } => Some(step),
            Self::Blocked { blocked } => Some(&blocked.body),
        }
    }
}
