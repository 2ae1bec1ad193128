//! The outside of the pole's shell as frusta about its axis.

use crate::bracket::Bracket;
use crate::site::{Pole, Shell, Sides};
use std::f64::consts::{PI, TAU};

/// Six feet, where ANSI O5.1 gives a wood pole's circumference.
const SIX_FT_M: f64 = 1.8288;

/// A stretch of shell whose radius runs evenly from end to end. A polygon's radius is that of its corners.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frustum {
    pub from_m: f64,
    pub to_m: f64,
    pub from_radius_m: f64,
    pub to_radius_m: f64,
}

impl Frustum {
    fn radius_at(&self, station_m: f64) -> f64 {
        let length_m = self.to_m - self.from_m;
        let fraction = if length_m > 0.0 { ((station_m - self.from_m) / length_m).clamp(0.0, 1.0) } else { 0.0 };
        self.from_radius_m + (self.to_radius_m - self.from_radius_m) * fraction
    }

    /// The part of it between two stations.
    fn within(&self, stations: Bracket) -> Option<Frustum> {
        let own = Bracket::between(self.from_m, self.to_m)?.within(stations)?;
        Some(Frustum {
            from_m: own.low(),
            to_m: own.high(),
            from_radius_m: self.radius_at(own.low()),
            to_radius_m: self.radius_at(own.high()),
        })
    }
}

/// Butt first; the stretches of slip joints overlap, so that every station lies in at least one.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Outline {
    pub frusta: Vec<Frustum>,
}

impl Outline {
    pub fn of(pole: &Pole) -> Self {
        match &pole.shell {
            Shell::SteelTube { sides, sections } => {
                let across_corners = match sides {
                    Sides::Round => 1.0,
                    Sides::Eight => 1.0 / (PI / 8.0).cos(),
                    Sides::Twelve => 1.0 / (PI / 12.0).cos(),
                    Sides::Sixteen => 1.0 / (PI / 16.0).cos(),
                };
                let mut top_m = 0.0;
                let frusta = sections.iter().map(|section| {
                    let from_m = top_m - section.lap_m;
                    top_m = from_m + section.length_m;
                    Frustum {
                        from_m,
                        to_m: top_m,
                        from_radius_m: section.bottom_m / 2.0 * across_corners,
                        to_radius_m: section.top_m / 2.0 * across_corners,
                    }
                });
                Self { frusta: frusta.collect() }
            }
            Shell::Wood { top_circumference_m, circumference_at_6_ft_m, oversize, .. } => {
                // ANSI O5.1 fixes the girth at the top and at 6 ft; below, the taper is carried on straight.
                let taper = (circumference_at_6_ft_m - top_circumference_m) / (pole.length_m - SIX_FT_M);
                let butt_m = circumference_at_6_ft_m + taper * SIX_FT_M;
                let radius = |circumference_m: f64| circumference_m * oversize / TAU;
                Self {
                    frusta: vec![Frustum {
                        from_m: 0.0,
                        to_m: pole.length_m,
                        from_radius_m: radius(butt_m),
                        to_radius_m: radius(*top_circumference_m),
                    }],
                }
            }
        }
    }

    pub fn butt_radius_m(&self) -> f64 {
        self.frusta.first().map_or(0.0, |butt| butt.from_radius_m)
    }

    /// The outermost radius at a station; zero off the pole.
    pub fn radius_at(&self, station_m: f64) -> f64 {
        let here = self.frusta.iter().filter(|f| f.from_m <= station_m && station_m <= f.to_m);
        here.map(|f| f.radius_at(station_m)).fold(0.0, f64::max)
    }

    /// The frusta of one stretch, cut at its ends.
    pub fn stretch(&self, stations: Bracket) -> Vec<Frustum> {
        self.frusta.iter().filter_map(|f| f.within(stations)).collect()
    }

    /// How much the axis rises over the ground, per metre along it, when the pole lies on its butt's edge and on its next
    /// support. Every end of a frustum is tried: between, the needed slope runs monotonically.
    pub fn rest_slope(&self) -> f64 {
        let butt = self.butt_radius_m();
        let ends = self.frusta.iter().flat_map(|f| [(f.from_m, f.from_radius_m), (f.to_m, f.to_radius_m)]);
        let slopes = ends.filter(|&(station, _)| station > 0.0).map(|(station, radius)| (radius - butt) / station);
        slopes.reduce(f64::max).unwrap_or(0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bracket::Bracket;
    use crate::site::TubeSection;

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
    fn a_wood_pole_carries_its_taper_on_to_the_butt() {
        // source: rigging.md worked 45-3 (computed): Ctop 23.0 in, C6 37.5 in, butt circumference 39.7308 in, D 12.6467 in.
        let inch = 0.0254;
        let shell = Shell::Wood {
            top_circumference_m: 23.0 * inch,
            circumference_at_6_ft_m: 37.5 * inch,
            density_kg_m3: Bracket::exactly(961.0),
            oversize: 1.0,
        };
        let outline = Outline::of(&pole(shell, 45.0 * 0.3048));
        assert!((outline.butt_radius_m() * 2.0 / inch - 12.6467).abs() < 1e-4);
    }

    #[test]
    fn a_slip_joint_shows_the_section_that_goes_over_the_other() {
        let section = |bottom_m, top_m, lap_m| TubeSection { length_m: 9.0, bottom_m, top_m, wall_m: 0.006, lap_m };
        let shell = Shell::SteelTube {
            sides: Sides::Round,
            sections: vec![section(0.50, 0.40, 0.0), section(0.42, 0.30, 1.0)],
        };
        let outline = Outline::of(&pole(shell, 17.0));
        assert!((outline.radius_at(8.5) - (0.42 - 0.12 * 0.5 / 9.0) / 2.0).abs() < 1e-12);
        assert_eq!(outline.radius_at(18.0), 0.0);
        let cut = outline.stretch(Bracket::between(8.5, 10.0).unwrap());
        assert_eq!(cut.len(), 2);
        assert!((cut[0].to_m - 9.0).abs() < 1e-12);
    }

    #[test]
    fn a_lying_pole_touches_the_ground_and_goes_nowhere_below_it() {
        let section = |bottom_m, top_m, lap_m| TubeSection { length_m: 9.0, bottom_m, top_m, wall_m: 0.006, lap_m };
        let shell = Shell::SteelTube {
            sides: Sides::Twelve,
            sections: vec![section(0.50, 0.40, 0.0), section(0.46, 0.30, 1.0)],
        };
        let outline = Outline::of(&pole(shell, 17.0));
        let (slope, butt) = (outline.rest_slope(), outline.butt_radius_m());
        let lowest = |s: f64| butt + s * slope - outline.radius_at(s);
        let least = (0..=1700).map(|i| lowest(i as f64 * 0.01)).fold(f64::MAX, f64::min);
        assert!(least.abs() < 1e-9, "{least}");
    }
}
