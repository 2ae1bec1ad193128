//! What a search wants, and what it has proven so far: the one place where the reported low is lowered.

use super::Proof;

#[derive(Clone, Copy, Debug)]
pub(super) enum Goal {
    /// What keeps `enough_m` need not be told any better; infinite where everything is to be told.
    Bracket {
        tolerance_m: f64,
        enough_m: f64,
    },
    Decide {
        threshold_m: f64,
    },
}

/// To what a decision is resolved: a placement nearer than this to the threshold is undecided.
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

    /// What keeps this need not be looked at.
    pub(super) fn enough_m(self) -> f64 {
        match self {
            Self::Bracket { enough_m, .. } => enough_m,
            Self::Decide { threshold_m } => threshold_m,
        }
    }
}

/// `W` is where a placement is.
pub(super) struct Ledger<W> {
    goal: Goal,
    /// Some part is known to its blur only.
    blurred: bool,
    /// The lowest of all that has been dismissed.
    low_m: f64,
    high_m: f64,
    witness: Option<W>,
    evaluations: u32,
}

impl<W> Ledger<W> {
    pub(super) fn new(goal: Goal, blurred: bool) -> Self {
        Self { goal, blurred, low_m: f64::INFINITY, high_m: f64::INFINITY, witness: None, evaluations: 0 }
    }

    pub(super) fn goal(&self) -> Goal {
        self.goal
    }

    pub(super) fn high_m(&self) -> f64 {
        self.high_m
    }

    /// Every dismissal goes through here.
    pub(super) fn dismiss(&mut self, proven_m: f64) {
        // A NaN is no proof.
        self.low_m = if proven_m <= self.low_m {
            proven_m
        } else if proven_m.is_nan() {
            f64::NEG_INFINITY
        } else {
            self.low_m
        };
    }

    /// A real placement that is nearer than all before it.
    pub(super) fn nearer(&mut self, high_m: f64, witness: W) {
        (self.high_m, self.witness) = (high_m, Some(witness));
    }

    /// Counts a placement as looked at, while that is within the budget.
    pub(super) fn spend(&mut self, budget: u32) -> bool {
        let left = self.evaluations < budget;
        self.evaluations += u32::from(left);
        left
    }

    /// It has been decided that a placement is too near.
    pub(super) fn is_short(&self) -> bool {
        matches!(self.goal, Goal::Decide { threshold_m } if self.high_m < threshold_m)
    }

    /// Everything at or above this may be dismissed.
    pub(super) fn threshold(&self) -> f64 {
        match self.goal {
            // No use in proving more in one place than has been given up in another.
            Goal::Bracket { enough_m, .. } => (self.high_m - self.resolution()).min(enough_m).min(self.low_m),
            Goal::Decide { threshold_m } => threshold_m,
        }
    }

    pub(super) fn resolution(&self) -> f64 {
        match self.goal {
            // A little less than asked for: rounding comes on top, and blur twice.
            Goal::Bracket { tolerance_m, .. } if self.blurred => tolerance_m * 0.75,
            Goal::Bracket { tolerance_m, .. } => tolerance_m * 0.99,
            Goal::Decide { .. } => RESOLUTION_M,
        }
    }

    /// How close to the closest a placement's points need be.
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
