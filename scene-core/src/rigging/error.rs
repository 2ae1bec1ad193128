//! Why the pole cannot hang as planned.

use super::sling::CHOKE_ABOVE_BALANCE_M;
use crate::finding::{self, Finding, Unit};
use crate::pole::PoleError;
use thiserror::Error;

/// Why the pole cannot hang as planned.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum RiggingError {
    #[error(transparent)]
    Pole(#[from] PoleError),
    #[error("{what} of the rigging must be {need}, got {got}")]
    Number { what: &'static str, need: &'static str, got: f64 },
    #[error("the choker at {choker_m:.2} m is off the pole, which is {length_m:.2} m long")]
    OffThePole { choker_m: f64, length_m: f64 },
    #[error("the choker at {choker_m:.2} m is not above the balance point, which may be as high as {balance_m:.2} m")]
    BelowBalance { choker_m: f64, balance_m: f64 },
}

impl RiggingError {
    /// A pole that does not hang as planned stops the job.
    pub fn finding(&self) -> Finding {
        match *self {
            Self::Pole(ref error) => error.finding(),
            Self::Number { what, need, got } => finding::stop(finding::Rigging::Unusable { what, need, got }),
            Self::OffThePole { choker_m, length_m } => {
                let fact = finding::Rigging::ChokerOffPole { choker_m, pole_m: length_m };
                finding::stop(fact).measured(choker_m, length_m, Unit::Meter)
            }
            Self::BelowBalance { choker_m, balance_m } => {
                let choke_at_m = balance_m + CHOKE_ABOVE_BALANCE_M;
                let fact = finding::Rigging::ChokerBelowBalance { choker_m, balance_m, choke_at_m };
                finding::stop(fact).measured(choker_m, balance_m, Unit::Meter)
            }
        }
    }
}
