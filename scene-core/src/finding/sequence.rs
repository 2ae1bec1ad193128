//! Why a step cannot be done as stated.

use super::facts;

/// What is no number, or none that a job site can have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotANumber {
    /// A measure of the crane, the hole, the pole, or the rigging.
    Site,
    PartsOfLine,
    Height,
    HookHeight,
    Facing,
    /// A place or measure of the step.
    Step,
    Minutes,
    Guides,
    Auger,
    BucketTruck,
}

impl NotANumber {
    pub const ALL: [Self; 10] = [
        Self::Site,
        Self::PartsOfLine,
        Self::Height,
        Self::HookHeight,
        Self::Facing,
        Self::Step,
        Self::Minutes,
        Self::Guides,
        Self::Auger,
        Self::BucketTruck,
    ];
}

facts! {
    /// Meters and radians.
    Sequence {
        NoSteps = "no_steps",
        EndsOnHook = "ends_on_hook",
        /// No step brings the boom from its rest or back.
        RestNotStated = "boom_from_rest_not_checked",
        CraneRateMissing = "crane_rate_missing",
        NotANumber { what: NotANumber } = "not_a_measure",
        ChokerOffPole { choker_m: f64 } = "choker_off_pole",
        StartMissing = "start_missing",
        StartNotFirst = "start_not_first",
        NothingToCombine = "nothing_to_combine",
        PolePlaceMissing = "pole_place_missing",
        GroundTooSteep { slope: f64 } = "ground_too_steep",
        TwoBlock { hoist_m: f64, least_m: f64 } = "two_block",
        /// The same over the pole as it lies at the start.
        TwoBlockAtStart { hoist_m: f64 } = "two_block",
        TakenBefore = "load_on_hook",
        HookNotOverPole { off_m: f64 } = "hook_not_over_pole",
        NothingToUpend = "no_load",
        WillNotUpend { hang: f64 } = "pole_will_not_upend",
        NotUpended = "pole_not_upended",
        ButtInHole = "butt_in_hole",
        NothingToCarry = "no_load",
        ButtBelowGround { by_m: f64 } = "butt_below_ground",
        /// The step says hoist or lower, and the height it gives is the other way.
        HoistTheOtherWay { hoist: bool, height_m: f64, from_m: f64 } = "hoist_the_other_way",
        HookBelowGround = "hook_below_ground",
        LoadNotOverHole { off_m: f64 } = "load_not_over_hole",
        HoleTooShallow { butt_m: f64, hole_m: f64 } = "hole_too_shallow",
        ButtInWall { by_m: f64 } = "butt_misses_hole",
        NothingToTurn = "no_load",
        TurnsIntoWall { by_m: f64 } = "butt_misses_hole",
        NotInHole = "not_set",
        NotAtDepth { butt_m: f64, setting_m: f64 } = "not_set",
        BoomAwayLoaded = "load_on_hook",
    }
}

impl Sequence {
    pub fn subject(&self) -> Option<&str> {
        None
    }
}
