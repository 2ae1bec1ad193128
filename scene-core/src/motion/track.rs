//! Where a point is at every u ∈ [0, 1], with its derivatives and bounds on them, in closed form.

use super::spread::Spread;
use crate::bracket::Bracket;
use crate::solid::{Feature, Hull};
use glam::DVec3;
use std::sync::Arc;

/// One sinusoid of a [`Track`]: `(cos + cos_drift·u)·cos(ωu) + (sin + sin_drift·u)·sin(ωu)`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wave {
    /// Which of [`MovingPart::rates`] is ω, radians per unit of u.
    pub rate: usize,
    pub cos: DVec3,
    pub sin: DVec3,
    pub cos_drift: DVec3,
    pub sin_drift: DVec3,
}

/// Where a point is over the piece, meters in the world frame: `base + drift·u + Σ waves`.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Track {
    pub base: DVec3,
    pub drift: DVec3,
    pub waves: Vec<Wave>,
}

/// A corner of a moving hull.
#[derive(Clone, Debug, PartialEq)]
pub struct MovingFeature {
    pub at: Track,
    pub radius_m: f64,
    /// The unit normal when the corner is a flat disc; `None` for a ball.
    pub axis: Option<Track>,
    /// What the world may shift this corner by (survey, placing, swing …); subtracted from the gap, never from the geometry.
    pub allowance_m: f64,
}

/// A convex part over one piece, u ∈ [0, 1].
#[derive(Clone, Debug, PartialEq, Default)]
pub struct MovingPart {
    /// ω of the waves, radians per unit of u; shared by all features.
    pub rates: Vec<f64>,
    pub features: Vec<MovingFeature>,
    /// Radius added to every feature because the true motion is known only to this (other joints of a combined motion,
    /// deviation between knots).
    pub motion_error_m: f64,
    /// What the motion error stands for, so that [`MovingPart::halves`] can tell more; `None` when there is none.
    pub spread: Option<Arc<Spread>>,
}

/// Position and its first two derivatives by u.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Moment {
    pub at: DVec3,
    pub first: DVec3,
    pub second: DVec3,
}

/// The most that the second and third derivative by u measure over a stretch of u.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Bounds {
    pub second: f64,
    pub third: f64,
}

/// Sine and cosine of each rate at one u, shared by all tracks of a part.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Phases {
    u: f64,
    of: Vec<Phase>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct Phase {
    rate: f64,
    sin: f64,
    cos: f64,
}

impl Phases {
    /// Moves to another u; keeps the memory.
    pub fn set(&mut self, rates: &[f64], u: f64) {
        self.u = u;
        self.of.clear();
        self.of.extend(rates.iter().map(|&rate| {
            let (sin, cos) = (rate * u).sin_cos();
            Phase { rate, sin, cos }
        }));
    }

    pub fn at(rates: &[f64], u: f64) -> Self {
        let mut phases = Self::default();
        phases.set(rates, u);
        phases
    }

    /// A rate that the part does not have reads as not a number: the search then decides nothing.
    fn get(&self, rate: usize) -> Phase {
        const MISSING: Phase = Phase { rate: f64::NAN, sin: f64::NAN, cos: f64::NAN };
        self.of.get(rate).copied().unwrap_or(MISSING)
    }
}

impl Track {
    /// A point that stays where it is.
    pub fn still(at: DVec3) -> Self {
        Self { base: at, ..Self::default() }
    }

    pub fn at(&self, phases: &Phases) -> DVec3 {
        self.waves.iter().fold(self.base + self.drift * phases.u, |sum, wave| {
            let Phase { sin, cos, .. } = phases.get(wave.rate);
            let (x, y) = wave.amplitudes(phases.u);
            sum + x * cos + y * sin
        })
    }

    pub fn moment(&self, phases: &Phases) -> Moment {
        let start = Moment { at: self.base + self.drift * phases.u, first: self.drift, second: DVec3::ZERO };
        self.waves.iter().fold(start, |sum, wave| {
            let Phase { rate, sin, cos } = phases.get(wave.rate);
            let (x, y) = wave.amplitudes(phases.u);
            let here = x * cos + y * sin;
            let quarter_on = y * cos - x * sin;
            let growth = wave.cos_drift * cos + wave.sin_drift * sin;
            let growth_quarter_on = wave.sin_drift * cos - wave.cos_drift * sin;
            Moment {
                at: sum.at + here,
                first: sum.first + growth + quarter_on * rate,
                second: sum.second + (growth_quarter_on * 2.0 - here * rate) * rate,
            }
        })
    }

    /// Holds for every u in `over`. Each wave is an ellipse that grows evenly: its largest semi-axis is a convex
    /// function of u, so that the ends of the stretch hold its maximum. Derived from differentiating the sum by hand.
    pub fn bounds(&self, rates: &[f64], over: Bracket) -> Bounds {
        self.waves.iter().fold(Bounds::default(), |sum, wave| {
            let rate = rates.get(wave.rate).map_or(f64::NAN, |rate| rate.abs());
            let semi_axis = |u: f64| {
                let (x, y) = wave.amplitudes(u);
                largest_semi_axis(x, y)
            };
            let (from, to) = (semi_axis(over.low()), semi_axis(over.high()));
            // `f64::max` drops a NaN; a sum keeps it.
            let reach = if from.is_nan() || to.is_nan() { f64::NAN } else { from.max(to) };
            let growth = largest_semi_axis(wave.cos_drift, wave.sin_drift);
            Bounds {
                second: sum.second + rate * (2.0 * growth + rate * reach),
                third: sum.third + rate * rate * (3.0 * growth + rate * reach),
            }
        })
    }

    /// The stretch from `from` by `by` of this track, told from 0 to 1; its rates are these times `by`.
    fn stretch(&self, rates: &[f64], from: f64, by: f64) -> Self {
        let waves = self.waves.iter().map(|wave| {
            let (sin, cos) = rates.get(wave.rate).map_or((f64::NAN, f64::NAN), |rate| (rate * from).sin_cos());
            let turned = |x: DVec3, y: DVec3| (x * cos + y * sin, y * cos - x * sin);
            let (x, y) = wave.amplitudes(from);
            let (x, y) = turned(x, y);
            let (x_drift, y_drift) = turned(wave.cos_drift * by, wave.sin_drift * by);
            Wave { rate: wave.rate, cos: x, sin: y, cos_drift: x_drift, sin_drift: y_drift }
        });
        Self { base: self.base + self.drift * from, drift: self.drift * by, waves: waves.collect() }
    }

    fn is_still(&self, rates: &[f64]) -> bool {
        self.drift == DVec3::ZERO
            && self.waves.iter().all(|wave| {
                let growth = wave.cos_drift == DVec3::ZERO && wave.sin_drift == DVec3::ZERO;
                growth && rates.get(wave.rate) == Some(&0.0)
            })
    }
}

impl Wave {
    /// The conjugate semi-diameters of the ellipse at u.
    fn amplitudes(&self, u: f64) -> (DVec3, DVec3) {
        (self.cos + self.cos_drift * u, self.sin + self.sin_drift * u)
    }
}

/// Of the ellipse `x·cos θ + y·sin θ`: the largest singular value of the matrix [x y].
fn largest_semi_axis(x: DVec3, y: DVec3) -> f64 {
    let (xx, yy, xy) = (x.length_squared(), y.length_squared(), x.dot(y));
    ((xx + yy) / 2.0 + ((xx - yy) / 2.0).hypot(xy)).sqrt()
}

impl MovingPart {
    /// The solid at u, without motion error and allowances.
    pub fn hull(&self, u: f64) -> Hull {
        let phases = Phases::at(&self.rates, u);
        let features = self.features.iter().map(|feature| {
            let center = feature.at.at(&phases);
            let radius_m = feature.radius_m;
            match &feature.axis {
                None => Feature::Ball { center, radius_m },
                Some(axis) => Feature::Disc { center, axis: axis.at(&phases), radius_m },
            }
        });
        Hull { features: features.collect() }
    }

    /// The stretch of its motion over these u, told from 0 to 1. What its motion error stands for is no longer known.
    pub fn during(&self, over: Bracket) -> Self {
        let (from, by) = (over.low(), over.width());
        let mut part = Self { spread: None, ..self.clone() };
        for feature in &mut part.features {
            feature.at = feature.at.stretch(&self.rates, from, by);
            feature.axis = feature.axis.as_ref().map(|axis| axis.stretch(&self.rates, from, by));
        }
        part.rates.iter_mut().for_each(|rate| *rate *= by);
        part
    }

    /// Nothing of it moves in this piece.
    pub fn is_still(&self) -> bool {
        self.features.iter().all(|feature| {
            feature.at.is_still(&self.rates) && feature.axis.as_ref().is_none_or(|axis| axis.is_still(&self.rates))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn vector(size: f64) -> impl Strategy<Value = DVec3> {
        [-size..size, -size..size, -size..size].prop_map(DVec3::from)
    }

    fn rate() -> impl Strategy<Value = f64> {
        use std::f64::consts::PI;
        prop_oneof![-7.0..7.0, Just(0.0), Just(PI), Just(-2.0 * PI), Just(PI / 2.0)]
    }

    fn track(rates: usize) -> impl Strategy<Value = Track> {
        let wave = (0..rates, vector(30.0), vector(30.0), vector(8.0), vector(8.0))
            .prop_map(|(rate, cos, sin, cos_drift, sin_drift)| Wave { rate, cos, sin, cos_drift, sin_drift });
        (vector(80.0), vector(20.0), prop::collection::vec(wave, 0..4)).prop_map(|(base, drift, waves)| Track {
            base,
            drift,
            waves,
        })
    }

    proptest! {
        #[test]
        fn speed_and_acceleration_are_those_of_finite_differences(
            track in track(3), rates in [rate(), rate(), rate()], u in 0.01..0.99,
        ) {
            let h = 1e-4;
            let at = |u: f64| track.moment(&Phases::at(&rates, u));
            let (before, here, after) = (at(u - h), at(u), at(u + h));
            prop_assert!((here.at - track.at(&Phases::at(&rates, u))).length() < 1e-12);
            let third = track.bounds(&rates, Bracket::between(0.0, 1.0).unwrap()).third;
            let first = (after.at - before.at) / (2.0 * h);
            prop_assert!((first - here.first).length() < h * h * third + 1e-8);
            let second = (after.first - before.first) / (2.0 * h);
            prop_assert!((second - here.second).length() < h * third * 1e-2 + 1e-6);
        }

        #[test]
        fn a_stretch_of_a_motion_is_that_motion_there(
            track in track(3), axis in track(3), rates in [rate(), rate(), rate()], ends in [0.0..1.0, 0.0..1.0], v in 0.0..1.0,
        ) {
            let feature = MovingFeature { at: track, radius_m: 0.2, axis: Some(axis), allowance_m: 0.1 };
            let part = MovingPart { rates: rates.to_vec(), features: vec![feature], motion_error_m: 0.0, spread: None };
            let over = Bracket::between(ends[0], ends[1]).unwrap();
            let place = |part: &MovingPart, u: f64| {
                let phases = Phases::at(&part.rates, u);
                let [feature] = &part.features[..] else { panic!("one feature") };
                (feature.at.at(&phases), feature.axis.as_ref().unwrap().at(&phases))
            };
            let (there, told) = (place(&part, over.at(v)), place(&part.during(over), v));
            prop_assert!((there.0 - told.0).length() < 1e-11 && (there.1 - told.1).length() < 1e-11);
        }

        #[test]
        fn no_instant_is_faster_than_the_bounds(
            track in track(3), rates in [rate(), rate(), rate()], ends in [0.0..1.0, 0.0..1.0],
        ) {
            let over = Bracket::between(ends[0], ends[1]).unwrap();
            let bounds = track.bounds(&rates, over);
            let h = 1e-4;
            for step in 0..=40 {
                let u = over.at(f64::from(step) / 40.0);
                let second = |u: f64| track.moment(&Phases::at(&rates, u)).second;
                prop_assert!(second(u).length() <= bounds.second * (1.0 + 1e-12) + 1e-12);
                let inner = u.clamp(over.low() + h, (over.high() - h).max(over.low() + h));
                if over.width() > 3.0 * h {
                    let third = (second(inner + h) - second(inner - h)) / (2.0 * h);
                    prop_assert!(third.length() <= bounds.third * (1.0 + 1e-6) + 1e-6);
                }
            }
        }
    }

    #[test]
    fn a_swinging_point_reaches_its_bound() {
        let wave = Wave {
            rate: 0,
            cos: DVec3::X * 20.0,
            sin: DVec3::Y * 20.0,
            cos_drift: DVec3::ZERO,
            sin_drift: DVec3::ZERO,
        };
        let track = Track { waves: vec![wave], ..Track::default() };
        let bounds = track.bounds(&[1.5], Bracket::between(0.0, 1.0).unwrap());
        assert!((bounds.second - 20.0 * 1.5_f64.powi(2)).abs() < 1e-12);
        assert!((bounds.third - 20.0 * 1.5_f64.powi(3)).abs() < 1e-12);
    }

    #[test]
    fn a_rate_that_is_missing_is_not_a_number() {
        let wave = Wave { rate: 3, cos: DVec3::X, sin: DVec3::Y, cos_drift: DVec3::ZERO, sin_drift: DVec3::ZERO };
        let track = Track { waves: vec![wave], ..Track::default() };
        assert!(track.at(&Phases::at(&[1.0], 0.5)).is_nan());
        let bounds = track.bounds(&[1.0], Bracket::between(0.0, 1.0).unwrap());
        assert!(bounds.second.is_nan() && bounds.third.is_nan());
    }
}
