//! Dimensions and the units in which people may write them.
//!
//! Source of the factors: NIST SP 811 (international foot and pound, exact; standard gravity 9.80665 m/s², exact).

/// A unit. Its SI value is (value + `offset`) · `factor`.
pub struct Unit {
    /// Every accepted spelling. The first is the one shown.
    pub names: &'static [&'static str],
    /// SI units per unit.
    pub factor: f64,
    /// Added before scaling; zero except for temperatures.
    pub offset: f64,
}

impl Unit {
    /// The SI value of a number in this unit.
    pub fn to_si(&self, value: f64) -> f64 {
        (value + self.offset) * self.factor
    }
}

const fn unit(names: &'static [&'static str], factor: f64) -> Unit {
    Unit { names, factor, offset: 0.0 }
}

/// The name of a dimension and the units that it accepts.
pub struct DimensionInfo {
    /// The name with its article: "a length".
    pub what: &'static str,
    /// The accepted units, most usual first.
    pub units: &'static [Unit],
    /// The large and the small unit that may follow each other ("12 ft 6 in"), by their first names.
    pub compound: Option<(&'static str, &'static str)>,
}

impl DimensionInfo {
    /// Finds a unit by name. Spaces inside the name are ignored; letter case counts only where two units differ by it.
    pub fn unit(&self, name: &str) -> Option<&'static Unit> {
        let named = |name: &str| self.units.iter().find(|unit| unit.names.contains(&name));
        if let Some(unit) = named(name) {
            return Some(unit);
        }
        let plain: String = name.chars().filter(|c| !c.is_whitespace()).collect();
        let exact = named(&plain);
        // Letter case separates milli from mega. Elsewhere people ignore it.
        let first = plain.chars().next().filter(|c| matches!(c, 'm' | 'M'));
        exact.or_else(|| {
            let alike =
                |name: &&str| name.eq_ignore_ascii_case(&plain) && (first.is_none() || name.chars().next() == first);
            self.units.iter().find(|unit| unit.names.iter().any(alike))
        })
    }

    /// The accepted units as a list for people: "ft, in, yd, m, cm or mm".
    pub fn allowed(&self) -> String {
        let mut names: Vec<&str> = self.units.iter().filter_map(|unit| unit.names.first().copied()).collect();
        match names.pop() {
            Some(last) if !names.is_empty() => format!("{} or {last}", names.join(", ")),
            Some(only) => only.to_owned(),
            None => String::new(),
        }
    }
}

/// A kind of quantity, as a type parameter of [`Quantity`](super::Quantity).
pub trait Dimension {
    /// The dimension's name and units.
    const INFO: DimensionInfo;
}

macro_rules! dimension {
    ($(#[$about:meta])* $name:ident, $what:literal, $compound:expr, [$($unit:expr),+ $(,)?]) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum $name {}

        impl Dimension for $name {
            const INFO: DimensionInfo = DimensionInfo { what: $what, units: &[$($unit),+], compound: $compound };
        }
    };
}

/// Kilograms in a pound.
pub const POUND_KG: f64 = 0.453_592_37;
/// Standard gravity, m/s².
pub const GRAVITY: f64 = 9.806_65;
/// Meters in a foot.
pub const FOOT_M: f64 = 0.3048;
/// Meters in an inch.
pub const INCH_M: f64 = 0.0254;
/// Newtons in a pound-force.
pub const POUND_N: f64 = POUND_KG * GRAVITY;
/// Kilograms per cubic meter in a pound per cubic foot.
pub const POUND_PER_FT3: f64 = POUND_KG / (FOOT_M * FOOT_M * FOOT_M);
/// Pascals in a pound-force per square inch.
pub const PSI_PA: f64 = POUND_N / (INCH_M * INCH_M);
/// Meters per second in a mile per hour.
pub const MPH_M_S: f64 = 0.447_04;

dimension!(
    /// Meters.
    Length, "a length", Some(("ft", "in")), [
        unit(&["ft", "'", "foot", "feet"], FOOT_M),
        unit(&["in", "\"", "inch", "inches"], INCH_M),
        unit(&["yd", "yard", "yards"], 0.9144),
        unit(&["m", "metre", "metres", "meter", "meters"], 1.0),
        unit(&["cm"], 0.01),
        unit(&["mm"], 0.001),
    ]
);
dimension!(
    /// Kilograms.
    Mass, "a mass", None, [
        unit(&["lb", "lbs", "pound", "pounds"], POUND_KG),
        unit(&["kg"], 1.0),
        unit(&["short ton", "shortton", "ton", "tons"], 2000.0 * POUND_KG),
        unit(&["t", "tonne", "tonnes"], 1000.0),
    ]
);
dimension!(
    /// Newtons. A pound is a pound-force here.
    Force, "a force", None, [
        unit(&["lbf", "lb", "lbs"], POUND_N),
        unit(&["kip", "kips"], 1000.0 * POUND_N),
        unit(&["N"], 1.0),
        unit(&["kN"], 1000.0),
        unit(&["kgf"], GRAVITY),
    ]
);
dimension!(
    /// Radians.
    Angle, "an angle", None, [
        unit(&["deg", "°", "degree", "degrees"], std::f64::consts::PI / 180.0),
        unit(&["rad"], 1.0),
    ]
);
dimension!(
    /// Volts.
    Voltage, "a voltage", None, [unit(&["kV"], 1000.0), unit(&["V"], 1.0)]
);
dimension!(
    /// Meters per second.
    Speed, "a speed", None, [
        unit(&["mph"], MPH_M_S),
        unit(&["ft/s", "fps"], FOOT_M),
        unit(&["ft/min", "fpm"], FOOT_M / 60.0),
        unit(&["m/s"], 1.0),
        unit(&["km/h"], 1.0 / 3.6),
        unit(&["kn", "knot", "knots"], 1852.0 / 3600.0),
    ]
);
dimension!(
    /// Radians per second.
    AngularSpeed, "a turning speed", None, [
        unit(&["deg/s", "°/s"], std::f64::consts::PI / 180.0),
        unit(&["rpm"], std::f64::consts::TAU / 60.0),
        unit(&["rad/s"], 1.0),
    ]
);
dimension!(
    /// Seconds.
    Duration, "a duration", Some(("min", "s")), [
        unit(&["min", "minute", "minutes"], 60.0),
        unit(&["s", "sec", "second", "seconds"], 1.0),
        unit(&["h", "hr", "hour", "hours"], 3600.0),
    ]
);
dimension!(
    /// Kilograms per cubic meter.
    Density, "a density", None, [
        unit(&["lb/ft3", "lb/ft^3", "lb/ft³", "pcf"], POUND_PER_FT3),
        unit(&["kg/m3", "kg/m^3", "kg/m³"], 1.0),
    ]
);
dimension!(
    /// Newtons per meter. A mass per length counts with its weight.
    LineWeight, "a weight per length", None, [
        unit(&["lb/1000ft", "lb/kft"], POUND_N / (1000.0 * FOOT_M)),
        unit(&["lb/ft"], POUND_N / FOOT_M),
        unit(&["kg/m"], GRAVITY),
        unit(&["kg/km"], GRAVITY / 1000.0),
        unit(&["N/m"], 1.0),
    ]
);
dimension!(
    /// Pascal.
    Pressure, "a pressure", None, [
        unit(&["psf", "lb/ft2"], POUND_N / (FOOT_M * FOOT_M)),
        unit(&["psi", "lb/in2"], PSI_PA),
        unit(&["kPa"], 1000.0),
        unit(&["MPa"], 1e6),
        unit(&["Pa"], 1.0),
    ]
);
dimension!(
    /// Kelvin.
    Temperature, "a temperature", None, [
        Unit { names: &["F", "°F", "degF"], factor: 5.0 / 9.0, offset: 459.67 },
        Unit { names: &["C", "°C", "degC"], factor: 1.0, offset: 273.15 },
        unit(&["K"], 1.0),
    ]
);
dimension!(
    /// A plain ratio: 1 % is 0.01.
    Ratio, "a ratio", None, [
        unit(&["%", "percent"], 0.01),
        unit(&["in/ft"], 1.0 / 12.0),
        unit(&["ft/ft"], 1.0),
        unit(&["m/m"], 1.0),
    ]
);

dimension!(
    /// Per kelvin.
    Expansion, "an expansion per degree", None, [
        unit(&["/F", "/°F", "/degF"], 1.8),
        unit(&["/C", "/°C", "/degC"], 1.0),
        unit(&["/K"], 1.0),
    ]
);

/// Every dimension. A fault uses it to name the dimension of a misplaced unit.
pub const DIMENSIONS: &[DimensionInfo] = &[
    Length::INFO,
    Mass::INFO,
    Force::INFO,
    Angle::INFO,
    Voltage::INFO,
    Speed::INFO,
    AngularSpeed::INFO,
    Duration::INFO,
    Density::INFO,
    LineWeight::INFO,
    Pressure::INFO,
    Temperature::INFO,
    Ratio::INFO,
    Expansion::INFO,
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letter_case_does_not_matter_unless_two_units_differ_by_it() {
        assert!(Voltage::INFO.unit("KV").is_some());
        assert!(Voltage::INFO.unit("MV").is_none());
        assert!(Pressure::INFO.unit("mPa").is_none());
        assert!(Pressure::INFO.unit("MPa").is_some());
        assert!(Length::INFO.unit("FT").is_some());
        assert!(Length::INFO.unit("Mm").is_none());
    }

    #[test]
    fn no_name_stands_for_two_units_of_one_dimension() {
        for info in DIMENSIONS {
            let names: Vec<&str> = info.units.iter().flat_map(|unit| unit.names.iter().copied()).collect();
            for (i, name) in names.iter().enumerate() {
                assert!(!names[..i].contains(name), "{name} stands twice in {}", info.what);
            }
        }
    }
}
