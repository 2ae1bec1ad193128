//! The outside of the pole's shell as a body: cut into stretches, lying on the ground.

use crate::bracket::Bracket;
use crate::pole::{self, PoleError, Taper};
use crate::site::Pole;

/// The pole's outline, butt first.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Outline {
    tapers: Vec<Taper>,
}

impl Outline {
    pub fn of(pole: &Pole) -> Result<Self, PoleError> {
        Ok(Self { tapers: pole::outline(pole)? })
    }

    pub fn butt_radius_m(&self) -> f64 {
        self.tapers.first().map_or(0.0, |butt| butt.radius_from_m)
    }

    /// The outermost radius at a station; zero off the pole.
    pub fn radius_at(&self, station_m: f64) -> f64 {
        self.stretch(Bracket::exactly(station_m)).iter().map(|t| t.radius_from_m.max(t.radius_to_m)).fold(0.0, f64::max)
    }

    /// The pieces of one stretch, cut at its ends.
    pub fn stretch(&self, stations: Bracket) -> Vec<Taper> {
        let cut = |taper: &Taper| {
            let own = Bracket::between(taper.from_m, taper.to_m)?;
            let part = own.within(stations)?;
            let radius = |station_m: f64| {
                let share = if own.width() > 0.0 { (station_m - own.low()) / own.width() } else { 0.0 };
                taper.radius_from_m + (taper.radius_to_m - taper.radius_from_m) * share
            };
            Some(Taper {
                from_m: part.low(),
                to_m: part.high(),
                radius_from_m: radius(part.low()),
                radius_to_m: radius(part.high()),
            })
        };
        self.tapers.iter().filter_map(cut).collect()
    }

    /// How much the axis rises over the ground, per metre along it, when the pole lies on its butt's edge and on its next
    /// support. Every end of a piece is tried: between, the needed slope runs monotonically.
    pub fn rest_slope(&self) -> f64 {
        let butt = self.butt_radius_m();
        let ends = self.tapers.iter().flat_map(|t| [(t.from_m, t.radius_from_m), (t.to_m, t.radius_to_m)]);
        let slopes = ends.filter(|&(station, _)| station > 0.0).map(|(station, radius)| (radius - butt) / station);
        slopes.reduce(f64::max).unwrap_or(0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::site::{Shell, Sides, TubeSection};

    fn pole(shell: Shell, length_m: f64) -> Pole {
        Pole {
            name: String::new(),
            length_m,
            shell,
            maker: None,
            items: vec![],
            setting_depth_m: 2.0,
            unlocked_joints_m: vec![],
        }
    }

    #[test]
    fn a_slip_joint_shows_the_section_that_goes_over_the_other() {
        let section = |bottom_m, top_m, lap_m| TubeSection { length_m: 9.0, bottom_m, top_m, wall_m: 0.006, lap_m };
        let shell = Shell::SteelTube {
            sides: Sides::Round,
            sections: vec![section(0.50, 0.40, 0.0), section(0.42, 0.30, 1.0)],
        };
        let outline = Outline::of(&pole(shell, 17.0)).unwrap();
        assert!((outline.radius_at(8.5) - (0.42 - 0.12 * 0.5 / 9.0) / 2.0).abs() < 1e-12);
        assert_eq!(outline.radius_at(18.0), 0.0);
        let cut = outline.stretch(Bracket::between(8.5, 10.0).unwrap());
        assert_eq!(cut.iter().map(|t| t.to_m).collect::<Vec<_>>(), [9.0, 10.0]);
    }

    #[test]
    fn a_lying_pole_touches_the_ground_and_goes_nowhere_below_it() {
        let section = |bottom_m, top_m, lap_m| TubeSection { length_m: 9.0, bottom_m, top_m, wall_m: 0.006, lap_m };
        let shell = Shell::SteelTube {
            sides: Sides::Twelve,
            sections: vec![section(0.50, 0.40, 0.0), section(0.46, 0.30, 1.0)],
        };
        let outline = Outline::of(&pole(shell, 17.0)).unwrap();
        let (slope, butt) = (outline.rest_slope(), outline.butt_radius_m());
        let lowest = |s: f64| butt + s * slope - outline.radius_at(s);
        let least = (0..=1700).map(|i| lowest(i as f64 * 0.01)).fold(f64::MAX, f64::min);
        assert!(least.abs() < 1e-9, "{least}");
    }
}
