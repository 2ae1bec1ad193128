//! Figures of the site that cannot be used, and what was not checked for want of others.

use super::facts;

facts! {
    Site {
        /// `what` is the figure with its article: "The rigging's length".
        FigureUnusable { what: String, value: f64 } = "figure_unusable",
        MotionUnknown = "motion_unknown",
        /// The statement that there is none of `what` is still the one that a new scene starts with.
        AbsenceOpen { what: String } = "absence_not_filled_in",
    }
}

impl Site {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::FigureUnusable { what, .. } | Self::AbsenceOpen { what } => Some(what),
            Self::MotionUnknown => None,
        }
    }
}
