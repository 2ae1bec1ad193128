//! Figures of the site that cannot be used, and what was not checked for want of others.

use super::facts;

facts! {
    Site {
        /// `what` is the figure with its article: "The rigging's length".
        FigureUnusable { what: String, value: f64 } = "figure_unusable",
        MotionUnknown = "motion_unknown",
    }
}

impl Site {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::FigureUnusable { what, .. } => Some(what),
            Self::MotionUnknown => None,
        }
    }
}
