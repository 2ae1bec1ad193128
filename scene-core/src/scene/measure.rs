//! Quantities of a document: read with their unit, held to what they may sensibly be, turned into the site's SI.

use super::fault::FaultKind;
use super::value::Value;
use crate::bracket::Bracket;
use crate::quantity::unit::Dimension;
use crate::quantity::{Angle, Length, Quantity, Range};
use glam::{DVec2, DVec3};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// How far from the site's origin anything stands.
const FARTHEST: (&str, &str) = ("-3000 ft", "3000 ft");

/// A quantity and where it stands.
pub(super) struct Measure<'n, D> {
    pub at: Value<'n>,
    quantity: Quantity<D>,
}

/// A quantity said as a low and a high end, and where it stands.
pub(super) struct Bounds<'n, D> {
    pub at: Value<'n>,
    range: Range<D>,
}

/// East, north and up from the site's origin.
pub(super) struct Point<'n> {
    pub at: Value<'n>,
    pub east: Measure<'n, Length>,
    pub north: Measure<'n, Length>,
    pub up: Measure<'n, Length>,
}

impl<D: Dimension> Measure<'_, D> {
    /// Not a number where nothing could be read.
    pub fn si(&self) -> f64 {
        self.quantity.si()
    }

    /// As the person wrote it.
    pub fn said(&self) -> String {
        self.quantity.said().to_owned()
    }
}

impl<D: Dimension> Bounds<'_, D> {
    pub fn low(&self) -> f64 {
        self.range.low()
    }

    pub fn high(&self) -> f64 {
        self.range.high()
    }

    pub fn said(&self) -> String {
        self.range.said().to_owned()
    }

    /// Zero where nothing could be read, which is a fault already.
    pub fn bracket(&self) -> Bracket {
        Bracket::between(self.low(), self.high()).unwrap_or(Bracket::exactly(0.0))
    }
}

impl Measure<'_, Angle> {
    /// Clockwise from north → counterclockwise from east, within a half turn either way.
    pub fn direction(&self) -> f64 {
        half_turn(FRAC_PI_2 - self.si())
    }

    /// Clockwise → counterclockwise, within a half turn either way.
    pub fn counter_clockwise(&self) -> f64 {
        half_turn(-self.si())
    }
}

impl Bounds<'_, Angle> {
    /// At most a whole circle.
    pub fn check_circle(&self) {
        self.at.fault_if(self.high() - self.low() > TAU + 1e-9, || FaultKind::MoreThanACircle { found: self.said() });
    }

    /// [`sector`] of these ends.
    pub fn sector(&self) -> Bracket {
        sector(self.low(), self.high())
    }
}

impl Point<'_> {
    pub fn m(&self) -> DVec3 {
        DVec3::new(self.east.si(), self.north.si(), self.up.si())
    }
}

impl<'n> Value<'n> {
    /// A quantity from `low` to `high`.
    pub fn measure<D: Dimension>(&self, low: &'static str, high: &'static str) -> Measure<'n, D> {
        self.noted(|record, path| record.kind(path, format!("{}, {low} to {high}", D::INFO.what)));
        let expected = || format!("{} in quotes with its unit, in {}", D::INFO.what, D::INFO.allowed());
        let quantity = self.quoted(expected).and_then(|said| match Quantity::parse(said) {
            Ok(quantity) => {
                self.check_band::<D>(said, [quantity.si()], low, high);
                Some(quantity)
            }
            Err(fault) => {
                self.fault(FaultKind::Quantity { found: said.to_owned(), fault });
                None
            }
        });
        Measure { at: self.clone(), quantity: quantity.unwrap_or_default() }
    }

    /// A quantity said as a low and a high end, both from `low` to `high`.
    pub fn bounds<D: Dimension>(&self, low: &'static str, high: &'static str) -> Bounds<'n, D> {
        self.noted(|record, path| {
            record.kind(path, format!("{} from low to high, within {low} to {high}", D::INFO.what))
        });
        let expected = || format!("{} from low to high in quotes, in {}", D::INFO.what, D::INFO.allowed());
        let range = self.quoted(expected).and_then(|said| match Range::parse(said) {
            Ok(range) => {
                self.check_band::<D>(said, [range.low(), range.high()], low, high);
                Some(range)
            }
            Err(fault) => {
                self.fault(FaultKind::Quantity { found: said.to_owned(), fault });
                None
            }
        });
        Bounds { at: self.clone(), range: range.unwrap_or_default() }
    }

    pub(super) fn check_band<D: Dimension>(
        &self,
        said: &str,
        values: impl IntoIterator<Item = f64>,
        low: &str,
        high: &str,
    ) {
        let end = |text| Quantity::<D>::parse(text).map_or(f64::NAN, |end| end.si());
        let (least, most) = (end(low), end(high));
        // The ends count as inside, whatever unit they are written in.
        let slack = 1e-9 * (most - least).abs();
        let inside = values.into_iter().all(|value| least - slack <= value && value <= most + slack);
        self.fault_if(!inside, || FaultKind::OutOfBand {
            found: said.to_owned(),
            what: D::INFO.what,
            low: low.to_owned(),
            high: high.to_owned(),
        });
    }

    pub fn point(&self) -> Point<'n> {
        self.noted(|record, path| record.kind(path, "a point (east, north, up)".to_owned()));
        let items = self.group("a point (east, north, up), each a length in quotes");
        let [east, north, up] = items.map(|item| item.measure(FARTHEST.0, FARTHEST.1));
        Point { at: self.clone(), east, north, up }
    }

    /// East and north of the site's origin, meters.
    pub fn corner(&self) -> DVec2 {
        self.noted(|record, path| record.kind(path, "a corner (east, north)".to_owned()));
        let items = self.group("a corner (east, north), each a length in quotes");
        let [east, north] = items.map(|item| item.measure::<Length>(FARTHEST.0, FARTHEST.1).si());
        DVec2::new(east, north)
    }
}

/// Each is more than the one before it.
pub(super) fn ascending<'m, 'n: 'm, D: Dimension + 'm>(values: impl IntoIterator<Item = &'m Measure<'n, D>>) {
    let mut before: Option<&Measure<'n, D>> = None;
    for value in values {
        if let Some(before) = before {
            value.at.fault_if(value.si() <= before.si(), || FaultKind::NotAscending {
                found: value.said(),
                before: before.said(),
            });
        }
        before = Some(value);
    }
}

/// Clockwise from the front → counterclockwise; a whole circle is exactly 0 to 2π.
pub(super) fn sector(low: f64, high: f64) -> Bracket {
    if high - low >= TAU - 1e-9 {
        return Bracket::between(0.0, TAU).unwrap_or(Bracket::exactly(0.0));
    }
    let turn = if low >= 0.0 { TAU } else { 0.0 };
    Bracket::between(turn - high, turn - low).unwrap_or(Bracket::exactly(0.0))
}

fn half_turn(angle: f64) -> f64 {
    let turned = angle.rem_euclid(TAU);
    if turned > PI { turned - TAU } else { turned }
}

/// Same length, to what a tape shows.
pub(super) fn same_length(a: f64, b: f64) -> bool {
    (a - b).abs() < 0.005
}
