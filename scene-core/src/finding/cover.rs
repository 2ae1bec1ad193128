//! What is wrong with the covers as stated.

use super::facts;

/// Why a make of cover does not suffice for a circuit. Volts.
#[derive(Clone, Debug, PartialEq)]
pub enum Inadequate {
    /// The make, as typed, is no class of the standard.
    UnknownClass {
        make: String,
    },
    PhaseToPhase {
        limit_v: f64,
        voltage_v: f64,
    },
    ToGround {
        limit_v: f64,
        voltage_v: f64,
    },
    Voltage {
        voltage_v: f64,
    },
    TableUnreadable {
        table: &'static str,
        fault: String,
    },
}

/// By what the class of a cover is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ClassSource {
    Rubber,
    Plastic,
    Own,
}

facts! {
    /// Meters and volts; steps count from 1.
    Cover {
        CircuitUnknown { cover: String, on: String } = "cover_circuit_unknown",
        ClassTooLow { cover: String, make: String, source: ClassSource, on: String, circuit: String, why: Inadequate }
            = "cover_class_too_low",
        GlovesAboveClass { cover: String, circuit: String, voltage_v: f64 } = "gloves_above_class",
        PieceUnusable { cover: String, piece_m: f64, overlap_m: f64, length_m: f64 } = "cover_piece_unusable",
        JointOpen { cover: String } = "cover_joint_open",
        /// Stated from … to …, but what it is on reaches from … to …
        BeyondEnd { cover: String, on_pole: bool, from_m: f64, to_m: f64, whole_from_m: f64, whole_to_m: f64 }
            = "cover_beyond_end",
        StepUnknown { cover: String, put_on: bool, step: usize } = "cover_step_unknown",
        HandledWhileMoving { cover: String, put_on: bool, step: usize, name: String } = "cover_handled_while_moving",
        NeverOn { cover: String } = "cover_never_on",
        OffUnderLoad { cover: String } = "cover_off_while_load_hangs",
        OnUnderLoad { cover: String } = "cover_on_while_load_hangs",
        /// A guard of the pole that is handled beside live phases.
        HandsNotProtected { cover: String } = "guard_hands_not_protected",
        Gap { on: String, from_m: f64, to_m: f64 } = "cover_gap",
        OneSided { pole: bool } = "cover_one_sided",
        OrderOn { higher: String, lower: String } = "cover_order_on",
        OrderOff { lower: String, higher: String } = "cover_order_off",
        WoodNoInsulation = "wood_no_insulation",
        ClassRecalled = "cover_class_recalled",
        /// A pair counts as covered, and the rating of these covers is recalled.
        RestsOnRecalled { covers: Vec<String> } = "covered_on_recalled_class",
        ClassOwn { covers: Vec<String> } = "cover_class_own",
        DoesNotCount = "cover_does_not_count",
    }
}

impl Cover {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::CircuitUnknown { cover, .. }
            | Self::ClassTooLow { cover, .. }
            | Self::GlovesAboveClass { cover, .. }
            | Self::PieceUnusable { cover, .. }
            | Self::JointOpen { cover }
            | Self::BeyondEnd { cover, .. }
            | Self::StepUnknown { cover, .. }
            | Self::HandledWhileMoving { cover, .. }
            | Self::NeverOn { cover }
            | Self::OffUnderLoad { cover }
            | Self::OnUnderLoad { cover }
            | Self::HandsNotProtected { cover }
            | Self::OrderOn { higher: cover, .. }
            | Self::OrderOff { lower: cover, .. } => Some(cover),
            Self::Gap { on, .. } => Some(on),
            Self::OneSided { .. }
            | Self::WoodNoInsulation
            | Self::ClassRecalled
            | Self::RestsOnRecalled { .. }
            | Self::ClassOwn { .. }
            | Self::DoesNotCount => None,
        }
    }
}
