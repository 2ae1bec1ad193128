//! A straight piece of the pole's outside.

/// A straight piece of the pole's outline. Radii reach the corners of a many-sided tube.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Taper {
    /// Height of its lower end, meters from the butt.
    pub from_m: f64,
    /// Height of its upper end, meters from the butt.
    pub to_m: f64,
    /// Radius at its lower end, meters.
    pub radius_from_m: f64,
    /// Radius at its upper end, meters.
    pub radius_to_m: f64,
}

impl Taper {
    /// The radius at a height between its ends, meters.
    pub(super) fn radius_at(&self, station_m: f64) -> f64 {
        let long_m = self.to_m - self.from_m;
        let share = if long_m > 0.0 { (station_m - self.from_m) / long_m } else { 0.0 };
        self.radius_from_m + (self.radius_to_m - self.radius_from_m) * share
    }

    /// The part of this piece between two heights; it may be a single point.
    pub(super) fn within(&self, from_m: f64, to_m: f64) -> Option<Self> {
        let (from_m, to_m) = (self.from_m.max(from_m), self.to_m.min(to_m));
        let [radius_from_m, radius_to_m] = [from_m, to_m].map(|station_m| self.radius_at(station_m));
        (from_m <= to_m).then_some(Self { from_m, to_m, radius_from_m, radius_to_m })
    }

    /// It has a length.
    pub(super) fn is_long(&self) -> bool {
        self.from_m < self.to_m
    }

    /// Area seen from the side, m².
    pub(super) fn side_area_m2(&self) -> f64 {
        (self.radius_from_m + self.radius_to_m) * (self.to_m - self.from_m)
    }

    /// First moment of that area about the butt, m³.
    pub(super) fn side_moment_m3(&self) -> f64 {
        let (length, a, b) = (self.to_m - self.from_m, self.radius_from_m, self.radius_to_m);
        self.side_area_m2() * self.from_m + length * length * (a + 2.0 * b) / 3.0
    }
}
