//! One span by itself: in still air, and blown out from either side by wind up to a given speed.

use super::catenary::{Catenary, CatenaryError, curvature_from_slack, slack_from_curvature};
use super::chord::{Chord, ROUNDING};
use super::enclose::{Enclosure, Shapes, enclose};
use super::family::SpanFamily;
use super::load;
use super::state_change::{self, StrungError};
use crate::bracket::Bracket;
use crate::site::{Conductor, Hang, Ice, Span, Weather};

/// The load on the wire in one weather case.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Carried {
    pub weight_n_per_m: f64,
    /// Weight and full wind together, N/m.
    pub resultant_n_per_m: f64,
    /// The largest tilt of the wire's plane from vertical, radians.
    pub blowout: f64,
    /// Weight with the most ice divided by weight with the least ice. It scales tensions, not shapes.
    pub heavier: f64,
}

impl Carried {
    /// The load of a conductor. With ice, the wind acts on the thickest wire and the weight is the lightest, since no
    /// other combination tilts it more.
    pub fn new(conductor: &Conductor, ice: Option<&Ice>, weather: &Weather) -> Self {
        let pressure = load::wind_pressure_pa(weather.wind_m_s);
        let ice_n_per_m = ice.map_or(Bracket::exactly(0.0), |ice| load::ice_weight_n_per_m(conductor.diameter_m, ice));
        let thickest_m = ice.map_or(0.0, |ice| ice.thickness_m.high());
        let load = load::Load {
            vertical_n_per_m: conductor.weight_n_per_m + ice_n_per_m.low(),
            transverse_n_per_m: load::wind_n_per_m(pressure, conductor.diameter_m + 2.0 * thickest_m),
        };
        Self {
            weight_n_per_m: load.vertical_n_per_m,
            resultant_n_per_m: load.resultant_n_per_m(),
            blowout: load.blowout(),
            heavier: (conductor.weight_n_per_m + ice_n_per_m.high()) / load.vertical_n_per_m,
        }
    }

    /// The range of blowout, radians.
    pub fn blowouts(&self) -> Bracket {
        Bracket::between(-self.blowout, self.blowout).unwrap_or(Bracket::exactly(0.0))
    }

    /// The curvatures of a wire between fixed ends in any wind up to the full one, from those in still air.
    ///
    /// Wind adds load and, because the ends are fixed, tension. The slackest case adds the load and keeps the tension:
    /// w_r/H. The tautest case has no stretch: the same length of wire in the tilted plane, where the run is slightly
    /// longer. A wire that stretches hangs deeper.
    pub fn curvature(&self, chord: &Chord, still: Bracket) -> Bracket {
        if self.blowout == 0.0 {
            return still;
        }
        let slack = slack_from_curvature(chord.run_m, still.low());
        let tautest = curvature_from_slack(chord.tilted_run_m(self.blowout), slack);
        let slackest = still.high() * (self.resultant_n_per_m / self.weight_n_per_m);
        Bracket::between(tautest.min(still.low()) * (1.0 - ROUNDING), slackest * (1.0 + ROUNDING)).unwrap_or(still)
    }
}

/// A span that hangs by itself between its supports.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct StillSpan {
    pub chord: Chord,
    /// In still air, per meter.
    pub curvature: Bracket,
}

impl StillSpan {
    /// The span from its stated sag, tension or stringing data.
    pub fn new(span: &Span, conductor: &Conductor) -> Result<Self, StrungError> {
        let chord = Chord::new(span.from, span.to)?;
        let hung = |tension_n| Catenary::from_tension(chord.run_m, chord.rise_m, tension_n, conductor.weight_n_per_m);
        let sagging = |sag_m| Catenary::from_midspan_sag(chord.run_m, chord.rise_m, sag_m);
        let (taut, slack) = match &span.hang {
            Hang::Sag { sag_m } => (sagging(sag_m.low())?, sagging(sag_m.high())?),
            Hang::Tension { tension_n } => (hung(tension_n.high())?, hung(tension_n.low())?),
            Hang::Strung(strung) => {
                let curvature = state_change::curvature_today(&chord, strung, conductor)?;
                return Ok(Self { chord, curvature });
            }
        };
        let curvature = Bracket::between(taut.curvature() * (1.0 - ROUNDING), slack.curvature() * (1.0 + ROUNDING))
            .ok_or(CatenaryError::TooSlack { run_m: chord.run_m })?;
        Ok(Self { chord, curvature })
    }

    /// All its curves in any wind of the case.
    pub fn family(&self, carried: &Carried, radius_m: f64) -> Result<SpanFamily, CatenaryError> {
        family_between_fixed_ends(&self.chord, carried.curvature(&self.chord, self.curvature), carried, radius_m)
    }
}

/// Vertical distance of the wire below the chord at this fraction of the run, meters: a parabola, in still air, at the
/// middle of what is known.
///
/// Use it to place something by eye; no proof uses it. `None` for a span that does not hang.
pub fn middle_depth_m(span: &Span, conductor: &Conductor, fraction: f64) -> Option<f64> {
    let StillSpan { chord, curvature } = StillSpan::new(span, conductor).ok()?;
    let steeper = (chord.rise_m / chord.run_m).hypot(1.0);
    let x_m = chord.run_m * fraction;
    Some(curvature.middle() * steeper * x_m * (chord.run_m - x_m) / 2.0)
}

/// All curves between two fixed ends in any wind up to the full one, from their curvatures in those winds.
pub(super) fn family_between_fixed_ends(
    chord: &Chord,
    curvature: Bracket,
    carried: &Carried,
    radius_m: f64,
) -> Result<SpanFamily, CatenaryError> {
    let no_run = CatenaryError::NoRun { run_m: chord.run_m, rise_m: chord.rise_m };
    let (run_m, rise_m) = chord.tilted(carried.blowout).ok_or(no_run)?;
    let shapes = Shapes { run_m, rise_m, curvature };
    let Enclosure { curvature, shape_error_m } = enclose(&shapes, chord.run_m, chord.rise_m)?;
    Ok(SpanFamily {
        a: [chord.from; 2],
        b: [chord.to; 2],
        lateral: chord.lateral,
        blowout: carried.blowouts(),
        run_m: chord.run_m,
        rise_m: chord.rise_m,
        curvature,
        radius_m,
        shape_error_m,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::conductor::stretch::{hang_unstressed, unstressed_length_m};
    use glam::DVec3;
    use proptest::prelude::*;

    fn carried(weight_n_per_m: f64, blowout: f64) -> Carried {
        Carried { weight_n_per_m, resultant_n_per_m: weight_n_per_m / blowout.cos(), blowout, heavier: 1.0 }
    }

    fn span(run: f64, rise: f64, hang: Hang, weight: f64) -> StillSpan {
        let (from, to) = (DVec3::new(1.0, 2.0, 9.0), DVec3::new(1.0 - run * 0.6, 2.0 + run * 0.8, 9.0 + rise));
        let conductor = Conductor {
            name: String::new(),
            diameter_m: 0.0101,
            weight_n_per_m: weight,
            rated_strength_n: None,
            stiffness_n: None,
            metal: None,
            source: String::new(),
            stiffness_doubt: 0.0,
            from_memory: String::new(),
        };
        StillSpan::new(&Span { from, to, hang }, &conductor).unwrap()
    }

    #[test]
    fn a_measured_sag_is_the_sag_at_midspan_and_a_tension_its_own() {
        let sag_m = Bracket::between(0.5, 0.7).unwrap();
        let by_sag = span(45.0, 3.0, Hang::Sag { sag_m }, 2.0);
        let at = |curvature| Catenary::new(45.0, 3.0, curvature).unwrap().midspan_sag_m();
        assert!((at(by_sag.curvature.low()) - 0.5).abs() < 1e-9 && (at(by_sag.curvature.high()) - 0.7).abs() < 1e-9);
        let tension_n = Bracket::between(800.0, 1000.0).unwrap();
        let by_tension = span(45.0, 3.0, Hang::Tension { tension_n }, 2.0);
        assert!((by_tension.curvature.high() - 2.0 / 800.0).abs() < 1e-12);
    }

    #[test]
    fn level_supports_leave_nothing_outside_the_family_in_wind() {
        let sag_m = Bracket::between(0.5, 0.7).unwrap();
        let family = span(45.0, 0.0, Hang::Sag { sag_m }, 2.0).family(&carried(2.0, 0.5), 0.005).unwrap();
        assert_eq!(family.shape_error_m, 0.0);
    }

    #[test]
    fn a_span_between_poles_of_a_street_leaves_out_less_than_two_millimetres() {
        let sag_m = Bracket::between(0.5, 0.7).unwrap();
        let family = span(45.0, 1.5, Hang::Sag { sag_m }, 2.0).family(&carried(2.0, 0.35), 0.005).unwrap();
        assert!(family.shape_error_m < 0.002, "{}", family.shape_error_m);
    }

    /// Anything between, and often an end.
    fn or_end(low: f64, high: f64) -> impl Strategy<Value = f64> {
        prop_oneof![1 => Just(low), 1 => Just(high), 2 => low..high]
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(600))]

        /// Every point of every physical curve: the exact catenary in the plane of chord and resultant load, for a wire of
        /// any stiffness, and for one whose tension the wind does not raise.
        #[test]
        fn every_physical_curve_is_within_form_of_the_family(
            run in 8.0f64..120.0, slope in -0.6f64..0.6, sag_share in 0.002f64..0.08, open in 0.0f64..0.5,
            weight in 0.5f64..20.0, blowout in 0.0f64..1.2, of_sag in or_end(0.0, 1.0), of_wind in or_end(-1.0, 1.0),
            ln_stiffness in 11.0f64..19.0, t in 0.0f64..=1.0,
        ) {
            let rise = run * slope;
            let sag_m = Bracket::between(run * sag_share, run * sag_share * (1.0 + open)).unwrap();
            let span = span(run, rise, Hang::Sag { sag_m }, weight);
            let most = carried(weight, blowout);
            let family = span.family(&most, 0.005).unwrap();

            let tilt = blowout * of_wind;
            let load = weight / tilt.cos();
            let down = span.chord.lateral * tilt.sin() - DVec3::Z * tilt.cos();
            let chord = span.chord.to - span.chord.from;
            let tilted_rise = -chord.dot(down);
            let tilted_run = (chord.length_squared() - tilted_rise * tilted_rise).sqrt();

            let still = Catenary::new(run, rise, span.curvature.at(of_sag)).unwrap();
            let stiffness = ln_stiffness.exp();
            // A wire that is drawn out by more than a fifth is no wire.
            prop_assume!(still.horizontal_tension_n(weight) < 0.2 * stiffness);
            let unstressed = unstressed_length_m(&still, weight, stiffness);
            let curves = [
                hang_unstressed(tilted_run, tilted_rise, unstressed, load, stiffness),
                Catenary::from_length(tilted_run, tilted_rise, still.length_m()),
                Catenary::from_tension(tilted_run, tilted_rise, still.horizontal_tension_n(weight), load),
            ];
            for curve in curves {
                let curve = curve.unwrap();
                let depth = |curvature| Catenary::new(family.run_m, family.rise_m, curvature).unwrap().depth_m(t);
                let (low, high) = (depth(family.curvature.low()), depth(family.curvature.high()));
                let outside = (low - curve.depth_m(t)).max(curve.depth_m(t) - high);
                prop_assert!(outside <= family.shape_error_m + 1e-9, "{outside} outside, form {}", family.shape_error_m);
            }
        }
    }
}
