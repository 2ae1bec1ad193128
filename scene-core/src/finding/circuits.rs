//! What is missing or contradictory in a circuit's voltage, phases and neutral.

use super::facts;

facts! {
    /// Volts; `circuit` is a name.
    Circuits {
        /// One figure, which is a phase-to-phase nominal voltage and no other.
        OneFigure { circuit: String, voltage_v: f64 } = "voltage_one_figure",
        /// The figure between phases is known as a voltage to ground alone; the circuit may have `between_v` between phases.
        OnlyToGround { circuit: String, voltage_v: f64, between_v: f64 } = "voltage_to_ground_alone",
        /// One figure that is nominal between phases and to ground, or on three wires.
        OnBothLists { circuit: String, voltage_v: f64 } = "voltage_on_both_lists",
        /// One figure that no list has.
        Unlisted { circuit: String, voltage_v: f64 } = "voltage_unlisted",
        /// Two figures that agree, or a delta, that no list has.
        UnlistedButSaid { circuit: String, voltage_v: f64 } = "voltage_unlisted",
        PairDisagrees { circuit: String, to_ground_v: f64, between_v: f64, holds_v: f64 } = "voltage_pair_disagrees",
        DeltaGrounded { circuit: String } = "delta_stated_grounded",
        PhasesMissing { circuit: String } = "phases_not_stated",
        FewerPhases { circuit: String, stated: usize, found: usize } = "fewer_phases_than_stated",
        MorePhases { circuit: String, stated: usize, found: usize } = "more_phases_than_stated",
        NeutralMissing { circuit: String } = "neutral_not_stated",
        /// It is stated to be here, by its own wire or that of `of`, and no wire carries it.
        NeutralWireMissing { circuit: String, of: String } = "neutral_wire_missing",
        /// It is stated that there is none, and this wire carries it.
        NeutralThere { circuit: String, wire: String } = "neutral_stated_none",
        /// A single-phase tap without neutral.
        TapWithoutReturn { circuit: String } = "tap_without_return",
    }
}

impl Circuits {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::OneFigure { circuit, .. }
            | Self::OnlyToGround { circuit, .. }
            | Self::OnBothLists { circuit, .. }
            | Self::Unlisted { circuit, .. }
            | Self::UnlistedButSaid { circuit, .. }
            | Self::PairDisagrees { circuit, .. }
            | Self::DeltaGrounded { circuit }
            | Self::PhasesMissing { circuit }
            | Self::FewerPhases { circuit, .. }
            | Self::MorePhases { circuit, .. }
            | Self::NeutralMissing { circuit }
            | Self::NeutralWireMissing { circuit, .. }
            | Self::NeutralThere { circuit, .. }
            | Self::TapWithoutReturn { circuit } => Some(circuit),
        }
    }
}
