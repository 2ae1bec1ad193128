//! The outside of the pole's shell: cut at heights, seen from the side, lying on the ground.

use super::shell::{PoleError, shell_sections};
use super::taper::Taper;
use crate::bracket::Bracket;
use crate::site::Pole;

/// The pole's outline as straight pieces, butt first.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Outline {
    tapers: Vec<Taper>,
}

impl Outline {
    /// The outline of a pole, in order and without overlap. In a slip joint it is the outer section's outside.
    ///
    /// # Errors [`PoleError`] when a figure cannot belong to a pole.
    pub fn of(pole: &Pole) -> Result<Self, PoleError> {
        let pieces = shell_sections(pole)?;
        let mut cuts: Vec<f64> = pieces.iter().flat_map(|p| [p.outer.from_m, p.outer.to_m]).collect();
        cuts.sort_by(f64::total_cmp);
        let between = |pair: &[f64]| {
            let [from_m, to_m] = *pair else { return None };
            let covering = pieces.iter().filter_map(|p| p.outer.within(from_m, to_m)).filter(Taper::is_long);
            covering.reduce(|one, other| Taper {
                radius_from_m: one.radius_from_m.max(other.radius_from_m),
                radius_to_m: one.radius_to_m.max(other.radius_to_m),
                ..one
            })
        };
        Ok(Self { tapers: cuts.windows(2).filter_map(between).collect() })
    }

    /// The straight pieces, butt first.
    pub fn tapers(&self) -> &[Taper] {
        &self.tapers
    }

    /// Radius at the butt, meters; zero for an empty outline.
    pub fn butt_radius_m(&self) -> f64 {
        self.tapers.first().map_or(0.0, |butt| butt.radius_from_m)
    }

    /// The outer radius at a height, meters; zero beyond the pole's ends.
    pub fn radius_at(&self, station_m: f64) -> f64 {
        self.stretch(Bracket::exactly(station_m)).iter().map(|t| t.radius_from_m.max(t.radius_to_m)).fold(0.0, f64::max)
    }

    /// The pieces between two heights, cut there.
    pub fn stretch(&self, stations: Bracket) -> Vec<Taper> {
        self.tapers.iter().filter_map(|taper| taper.within(stations.low(), stations.high())).collect()
    }

    /// Area seen from the side between two heights, m².
    pub fn side_area_m2(&self, from_m: f64, to_m: f64) -> f64 {
        self.tapers.iter().filter_map(|taper| taper.within(from_m, to_m)).map(|taper| taper.side_area_m2()).sum()
    }

    /// Height of the centroid of that area over the whole pole, meters from the butt.
    pub fn side_center_m(&self) -> f64 {
        let area: f64 = self.tapers.iter().map(Taper::side_area_m2).sum();
        self.tapers.iter().map(Taper::side_moment_m3).sum::<f64>() / area
    }

    /// Rise of the axis above the ground per meter along it, when the pole lies on the edge of its butt and on its next
    /// support.
    ///
    /// The needed slope is monotone within each piece, so only the ends of the pieces are tried.
    pub fn rest_slope(&self) -> f64 {
        let butt = self.butt_radius_m();
        let ends = self.tapers.iter().flat_map(|t| [(t.from_m, t.radius_from_m), (t.to_m, t.radius_to_m)]);
        let slopes = ends.filter(|&(station, _)| station > 0.0).map(|(station, radius)| (radius - butt) / station);
        slopes.reduce(f64::max).unwrap_or(0.0)
    }
}

/// Area of the bare pole seen from the side between two heights, m²; corners and oversize count.
///
/// # Errors [`PoleError`] when a figure cannot belong to a pole.
pub fn side_area_m2(pole: &Pole, from_m: f64, to_m: f64) -> Result<f64, PoleError> {
    Ok(Outline::of(pole)?.side_area_m2(from_m, to_m))
}

/// Height where wind on the bare pole acts, meters from the butt: the centroid of its side area.
///
/// # Errors [`PoleError`] when a figure cannot belong to a pole.
pub fn side_center_m(pole: &Pole) -> Result<f64, PoleError> {
    Ok(Outline::of(pole)?.side_center_m())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::site::pole;
    use crate::site::{Shell, Sides, TubeSection};

    /// Two sections, the upper of this diameter at its bottom, a meter over the lower.
    fn tube(sides: Sides, bottom_m: f64) -> Shell {
        let section = |bottom_m, top_m, lap_m| TubeSection { length_m: 9.0, bottom_m, top_m, wall_m: 0.006, lap_m };
        Shell::SteelTube { sides, sections: vec![section(0.50, 0.40, 0.0), section(bottom_m, 0.30, 1.0)] }
    }

    #[test]
    fn a_slip_joint_shows_the_section_that_goes_over_the_other() {
        let outline = Outline::of(&pole(17.0, tube(Sides::Round, 0.42))).unwrap();
        assert!((outline.radius_at(8.5) - (0.42 - 0.12 * 0.5 / 9.0) / 2.0).abs() < 1e-12);
        assert_eq!(outline.radius_at(18.0), 0.0);
        let cut = outline.stretch(Bracket::between(8.5, 10.0).unwrap());
        assert_eq!(cut.iter().map(|t| t.to_m).collect::<Vec<_>>(), [9.0, 10.0]);
    }

    #[test]
    fn a_lying_pole_touches_the_ground_and_goes_nowhere_below_it() {
        let outline = Outline::of(&pole(17.0, tube(Sides::Twelve, 0.46))).unwrap();
        let (slope, butt) = (outline.rest_slope(), outline.butt_radius_m());
        let lowest = |s: f64| butt + s * slope - outline.radius_at(s);
        let least = (0..=1700).map(|i| lowest(i as f64 * 0.01)).fold(f64::MAX, f64::min);
        assert!(least.abs() < 1e-9, "{least}");
    }
}
