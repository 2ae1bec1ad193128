//! A circuit: its voltage as the line's owner states it, how it is grounded, and which of its wires are here.

#[derive(Clone, Debug, PartialEq)]
pub struct Circuit {
    pub name: String,
    /// Nominal, phase to phase, rms. Where two figures contradict each other, the greater phase-to-phase voltage.
    pub voltage_v: f64,
    pub stated: VoltageStated,
    pub grounding: Grounding,
    /// Which phases it carries here; `None` when not stated.
    pub phases: Option<Phases>,
    /// Whether its neutral is here; `None` when not stated.
    pub neutral: Option<NeutralHere>,
}

/// How the scene states the nominal voltage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum VoltageStated {
    /// "7.2/12.47 kV": volts to ground, and between phases.
    Both { to_ground_v: f64, between_v: f64 },
    /// "12.47 kV": nothing says which of the two it is.
    OneFigure,
    /// "4.8 kV delta": between phases; there is no nominal voltage to ground.
    Delta,
}

/// Two figures agree when they miss the square root of 3 by no more than this share.
/// Source: arithmetic of a balanced three-phase circuit; 1 percent takes up the rounding of nominal figures.
const PAIR_TOLERANCE: f64 = 0.01;

/// Below this a circuit may be a single-phase service of three wires, whose two figures differ by 2. Volts.
const LOW_VOLTAGE_V: f64 = 1000.0;

impl VoltageStated {
    /// The two figures are those of one circuit; true where there is one figure.
    pub fn figures_agree(&self) -> bool {
        let Self::Both { to_ground_v, between_v } = *self else { return true };
        let agrees = |ratio: f64| (to_ground_v * ratio / between_v - 1.0).abs() <= PAIR_TOLERANCE;
        agrees(3_f64.sqrt()) || (between_v < LOW_VOLTAGE_V && agrees(2.0))
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grounding {
    EffectivelyGrounded,
    /// Delta or not effectively grounded: every exposure is phase to phase.
    Ungrounded,
}

/// Which phases a circuit carries past the hole. A tap keeps the phase-to-phase voltage of its circuit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Phases {
    Three,
    TwoPhaseTap,
    SinglePhaseTap,
}

impl Phases {
    /// Phase wires.
    pub const fn count(self) -> usize {
        match self {
            Self::Three => 3,
            Self::TwoPhaseTap => 2,
            Self::SinglePhaseTap => 1,
        }
    }
}

/// Where the neutral of a circuit is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NeutralHere {
    None,
    /// A wire here carries it.
    Own,
    /// The neutral of this other circuit, by index, serves both.
    Shared(usize),
}
