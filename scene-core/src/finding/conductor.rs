//! Which wires cannot be hung, and what is wrong with phases that are held out.

use super::facts;

/// Why a span cannot be hung. Meters and newtons.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NotHung {
    NoStiffness,
    NoMetal,
    /// Its temperatures, elongation, ice or ruling span are not numbers that can be computed with.
    Unusable,
    NoRun {
        run_m: f64,
        rise_m: f64,
    },
    NoTension {
        tension_n: f64,
        load_n_per_m: f64,
    },
    NoSag {
        sag_m: f64,
    },
    TooShort {
        length_m: f64,
        chord_m: f64,
    },
    TooSlack {
        run_m: f64,
    },
}

facts! {
    /// Newtons, unless stated; spans count from 1; `held` is the name of the held-out phase.
    Conductor {
        WeatherMissing = "weather_missing",
        WireUnknown { wire: String } = "wire_unknown",
        RunBroken { wire: String } = "wire_run_broken",
        CannotHang { wire: String, span: usize, why: NotHung } = "wire_cannot_hang",
        /// In one of its states.
        NotHung { wire: String } = "wire_not_hung",
        HeldIced { held: String } = "held_out_iced",
        HeldUnusable { held: String } = "held_out_unusable",
        HeldNotComputed { held: String, why: NotHung } = "held_out_unusable",
        HeldTimes { held: String } = "held_out_times_contradict",
        /// How a span beside the held one hangs cannot be bounded.
        HeldBeside { held: String, wire: String, span: usize, iced: bool } = "held_out_beside",
        HeldTwiceInSpan { one: String, other: String, wire: String } = "held_out_twice",
        /// Nothing that is stated holds the wire between the two.
        HeldTwiceOnWire { one: String, other: String, wire: String } = "held_out_twice",
        HeldTooShort { held: String } = "held_out_wire_too_short",
        /// While the pole is on the hook.
        HeldUnderLoad { held: String } = "held_out_under_load",
        /// In a step that is no work: the boom or a bucket moves meanwhile.
        HeldWhileMoving { held: String, step: String } = "held_out_while_moving",
        HolderRatingMissing { held: String, force_n: f64 } = "holder_rating_missing",
        HolderOverloaded { held: String, force_n: f64, rating_n: f64 } = "holder_overloaded",
        StrengthMissing { held: String, wire: String, tension_n: f64 } = "conductor_strength_missing",
        Overtensioned { held: String, wire: String, tension_n: f64, strength_n: f64 } = "conductor_overtensioned",
        /// A wire that nobody holds pulls harder than its conductor is rated for.
        OverStrength { wire: String, tension_n: f64, strength_n: f64 } = "wire_over_strength",
        /// Meters, of its lowest point.
        BelowGround { wire: String, below_m: f64 } = "wire_below_ground",
        InOnePlace { wire: String, other: String } = "wires_in_one_place",
        NothingAbeam = "nothing_abeam",
    }
}

impl Conductor {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::WeatherMissing | Self::NothingAbeam => None,
            Self::WireUnknown { wire }
            | Self::RunBroken { wire }
            | Self::CannotHang { wire, .. }
            | Self::NotHung { wire }
            | Self::HeldTwiceInSpan { wire, .. }
            | Self::HeldTwiceOnWire { wire, .. }
            | Self::OverStrength { wire, .. }
            | Self::BelowGround { wire, .. }
            | Self::InOnePlace { wire, .. } => Some(wire),
            Self::HeldIced { held }
            | Self::HeldUnusable { held }
            | Self::HeldNotComputed { held, .. }
            | Self::HeldTimes { held }
            | Self::HeldBeside { held, .. }
            | Self::HeldTooShort { held }
            | Self::HeldUnderLoad { held }
            | Self::HeldWhileMoving { held, .. }
            | Self::HolderRatingMissing { held, .. }
            | Self::HolderOverloaded { held, .. }
            | Self::StrengthMissing { held, .. }
            | Self::Overtensioned { held, .. } => Some(held),
        }
    }
}
