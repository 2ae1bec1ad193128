//! What the crane carries against what it is rated for, and what its floats press on.

use super::facts;

/// What rates a load.
#[derive(Clone, Debug, PartialEq)]
pub enum LimitKind {
    /// The cell of the chart: sector, radius and boom length as listed, meters.
    Chart {
        sector: String,
        radius_m: f64,
        boom_m: f64,
    },
    LinePull,
    HookBlock,
    Sling,
}

/// Why the chart rates nothing. Meters and degrees.
#[derive(Clone, Debug, PartialEq)]
pub enum OutsideChart {
    /// The chart itself is not whole.
    Unusable {
        what: String,
    },
    NotANumber,
    /// Degrees from over the front.
    Swing {
        swing_deg: f64,
    },
    Radius {
        sector: String,
        radius_m: f64,
        from_m: f64,
        to_m: f64,
    },
    BoomLength {
        sector: String,
        length_m: f64,
        from_m: f64,
        to_m: f64,
    },
    /// The chart prints nothing there.
    Blank {
        sector: String,
        radius_m: f64,
        length_m: f64,
    },
}

/// What rates a motion, or why the chart does not.
#[derive(Clone, Debug, PartialEq)]
pub enum RuledBy {
    Limit(LimitKind),
    Outside(OutsideChart),
}

/// A figure without which nothing can be rated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CapacityFigure {
    PartsOfLine,
    LinePull,
    LineWeight,
    BlockCapacity,
    BlockMass,
    RiggingMass,
    Sling,
    Deductions,
    RadiusGrowth,
    Placing,
}

impl CapacityFigure {
    pub const ALL: [Self; 10] = [
        Self::PartsOfLine,
        Self::LinePull,
        Self::LineWeight,
        Self::BlockCapacity,
        Self::BlockMass,
        Self::RiggingMass,
        Self::Sling,
        Self::Deductions,
        Self::RadiusGrowth,
        Self::Placing,
    ];
}

facts! {
    /// Kilograms, meters, radians, newtons, pascals; `step` is the name of the step.
    Capacity {
        NoMotion = "capacity_unknown",
        FigureMissing { what: CapacityFigure } = "capacity_unknown",
        OutsideChart { step: String, why: OutsideChart } = "outside_chart",
        OverRated { step: String, load_kg: f64, limit_kind: LimitKind, rated_kg: f64, percent: f64 } = "over_rated_capacity",
        NearRated { step: String, load_kg: f64, limit_kind: LimitKind, rated_kg: f64, percent: f64 } = "near_rated_capacity",
        BoomAngle { step: String, angle: f64, limit: f64 } = "boom_angle_outside",
        BoomLength { step: String, length_m: f64, limit_m: f64 } = "boom_length_outside",
        Swing { step: String, swing: f64, limit: f64 } = "swing_outside",
        LinePullIdeal { percent: f64 } = "line_pull_ideal",
        /// Where the floats stand.
        SpreadNotStated = "floats_not_stated",
        /// Of the floats that the chart was made for.
        ChartSpreadNotStated = "chart_spread_not_stated",
        /// Across the carrier, or along it.
        SpreadNarrow { is_across: bool, stands_m: f64, chart_m: f64 } = "floats_narrow",
        FloatsUnknown = "floats_unknown",
        FloatsLift = "floats_lift",
        FloatBearing { float: &'static str, force_n: f64, pressure_pa: f64, bears_pa: f64 } = "float_bearing",
    }
}

impl Capacity {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::FloatBearing { float, .. } => Some(float),
            _ => None,
        }
    }
}
