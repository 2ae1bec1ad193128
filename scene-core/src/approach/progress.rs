//! The goal of a search and what it has proven so far. Only this module lowers the reported low.

use super::proof::Proof;

/// What a search must achieve.
#[derive(Clone, Copy, Debug)]
pub(super) enum Goal {
    /// A bracket of the gap. A gap above `enough_m` needs no better bound; infinite when every gap must be bracketed.
    Bracket { tolerance_m: f64, enough_m: f64 },
    /// An answer to "do all placements keep this distance?".
    Decide { threshold_m: f64 },
}

/// Resolution of a decision, meters: a placement nearer than this to the threshold is undecided.
const RESOLUTION_M: f64 = 1e-5;

impl Goal {
    pub(super) fn bracket(tolerance_m: f64) -> Self {
        Self::Bracket { tolerance_m, enough_m: f64::INFINITY }
    }

    pub(super) fn is_sound(self) -> bool {
        match self {
            Self::Bracket { tolerance_m, enough_m } => {
                tolerance_m > 0.0 && tolerance_m.is_finite() && !enough_m.is_nan()
            }
            Self::Decide { threshold_m } => threshold_m.is_finite(),
        }
    }

    /// A cell that keeps this needs no examination, meters.
    pub(super) fn enough_m(self) -> f64 {
        match self {
            Self::Bracket { enough_m, .. } => enough_m,
            Self::Decide { threshold_m } => threshold_m,
        }
    }
}

/// What a search has proven so far. `W` is the type of its witness.
pub(super) struct Progress<W> {
    goal: Goal,
    /// Some part has motion error.
    inexact: bool,
    /// The lowest bound of everything dismissed, meters.
    low_m: f64,
    high_m: f64,
    witness: Option<W>,
    evaluations: u32,
}

impl<W> Progress<W> {
    pub(super) fn new(goal: Goal, inexact: bool) -> Self {
        Self { goal, inexact, low_m: f64::INFINITY, high_m: f64::INFINITY, witness: None, evaluations: 0 }
    }

    pub(super) fn goal(&self) -> Goal {
        self.goal
    }

    pub(super) fn high_m(&self) -> f64 {
        self.high_m
    }

    /// Dismisses a cell at its proven bound. Every dismissal goes through here.
    pub(super) fn dismiss(&mut self, proven_m: f64) {
        // NaN proves nothing.
        self.low_m = if proven_m <= self.low_m {
            proven_m
        } else if proven_m.is_nan() {
            f64::NEG_INFINITY
        } else {
            self.low_m
        };
    }

    /// Records a real placement that is nearer than all before it.
    pub(super) fn nearer(&mut self, high_m: f64, witness: W) {
        (self.high_m, self.witness) = (high_m, Some(witness));
    }

    /// Counts one evaluation; false when the budget is used up.
    pub(super) fn spend(&mut self, budget: u32) -> bool {
        let left = self.evaluations < budget;
        self.evaluations += u32::from(left);
        left
    }

    /// Some placement is below the threshold of the decision.
    pub(super) fn is_short(&self) -> bool {
        matches!(self.goal, Goal::Decide { threshold_m } if self.high_m < threshold_m)
    }

    /// Everything at or above this may be dismissed, meters.
    pub(super) fn threshold(&self) -> f64 {
        match self.goal {
            // A better bound here is useless when the low is already lower elsewhere.
            Goal::Bracket { enough_m, .. } => (self.high_m - self.resolution()).min(enough_m).min(self.low_m),
            Goal::Decide { threshold_m } => threshold_m,
        }
    }

    /// The width to which the search works, meters.
    pub(super) fn resolution(&self) -> f64 {
        match self.goal {
            // Slightly less than requested, because rounding adds to it, and motion error twice.
            Goal::Bracket { tolerance_m, .. } if self.inexact => tolerance_m * 0.75,
            Goal::Bracket { tolerance_m, .. } => tolerance_m * 0.99,
            Goal::Decide { .. } => RESOLUTION_M,
        }
    }

    /// How close a pair of points must be to the closest pair, meters.
    pub(super) fn accuracy(&self) -> f64 {
        (self.resolution() * 0.02).min(1e-5)
    }

    pub(super) fn proof(self) -> Proof<W> {
        let Self { goal, high_m, witness, evaluations, .. } = self;
        let low_m = self.low_m.min(high_m);
        let closed = match goal {
            Goal::Bracket { tolerance_m, enough_m } => {
                high_m - low_m <= tolerance_m || (low_m.is_finite() && low_m >= enough_m)
            }
            Goal::Decide { threshold_m } => low_m >= threshold_m || high_m < threshold_m,
        };
        Proof { low_m, high_m, witness, closed, evaluations }
    }
}
