//! Why the pole cannot hang as planned.

use super::sling::CHOKE_ABOVE_BALANCE_M;
use crate::finding::{self, Finding, Unit};
use crate::pole::PoleError;
use thiserror::Error;

/// Why the pole cannot hang as planned. The `Display` text is a sentence for people.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum RiggingError {
    /// The pole's own figures cannot be used.
    #[error(transparent)]
    Pole(#[from] PoleError),
    /// A figure of the rigging is out of range.
    #[error("{what} of the rigging must be {need}, got {got}")]
    Number {
        /// The figure's name.
        what: &'static str,
        /// The accepted range, in words.
        need: &'static str,
        /// The stated value.
        got: f64,
    },
    /// The choker is beyond the pole's ends.
    #[error("the choker at {choker_m:.2} m is off the pole, which is {length_m:.2} m long")]
    OffThePole {
        /// Choker height, meters from the butt.
        choker_m: f64,
        /// Length of the pole, meters.
        length_m: f64,
    },
    /// The choker is not surely above the balance point, so the pole would turn over.
    #[error("the choker at {choker_m:.2} m is not above the balance point, which may be as high as {balance_m:.2} m")]
    BelowBalance {
        /// Choker height, meters from the butt.
        choker_m: f64,
        /// The highest possible balance point, meters from the butt.
        balance_m: f64,
    },
}

impl RiggingError {
    /// The stop for this error.
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
