//! What turns evenly, as waves: the algebra of every machine's kinematics.
//!
//! A boom's and a pole's angles each turn a point in an upright plane, which swing, slew or heading turns about z. A product of
//! two turnings at rates α and β is a sum of turnings at α + β and α − β, so that nothing but waves comes out.

use super::track::{Track, Wave};
use glam::DVec3;

/// Rates nearer than this are one: over u ∈ [0, 1] and a kilometer they part by a nanometer.
const SAME_RATE: f64 = 1e-12;

/// The rates that tracks refer to, collected as they are made.
#[derive(Default)]
pub(super) struct Turning {
    pub(super) rates: Vec<f64>,
}

impl Turning {
    /// Adds a level vector that is fixed in a frame turned about z at the rate `alpha`.
    pub(super) fn level(&mut self, track: &mut Track, alpha: f64, level: DVec3) {
        self.turn(track, alpha, [level, left_of(level)], [DVec3::ZERO; 2]);
    }

    /// Adds a vector of an upright plane, `out` level along `ahead` and `up`, each a value and its drift: turned from level
    /// to up at the rate `beta` within the plane, the plane turned about z at the rate `alpha`.
    pub(super) fn upright(
        &mut self,
        track: &mut Track,
        alpha: f64,
        ahead: DVec3,
        beta: f64,
        out: [f64; 2],
        up: [f64; 2],
    ) {
        let z = DVec3::Z;
        self.turn(track, beta, [z * up[0], z * out[0]], [z * up[1], z * out[1]]);
        // Level part (out·cos βu − up·sin βu) · (ahead·cos αu + left·sin αu).
        let left = left_of(ahead);
        let sum = |i: usize| [(ahead * out[i] + left * up[i]) / 2.0, (left * out[i] - ahead * up[i]) / 2.0];
        let difference = |i: usize| [(ahead * out[i] - left * up[i]) / 2.0, (left * out[i] + ahead * up[i]) / 2.0];
        self.turn(track, alpha + beta, sum(0), sum(1));
        self.turn(track, alpha - beta, difference(0), difference(1));
    }

    /// Adds `(cos + cos_drift·u)·cos(ωu) + (sin + sin_drift·u)·sin(ωu)`, pairs given as `[cos, sin]`.
    fn turn(&mut self, track: &mut Track, rate: f64, amplitude: [DVec3; 2], drift: [DVec3; 2]) {
        if rate.abs() <= SAME_RATE {
            track.base += amplitude[0];
            track.drift += drift[0];
            return;
        }
        let sign = rate.signum();
        let index = match self.rates.iter().position(|r| (r - rate.abs()).abs() <= SAME_RATE) {
            Some(index) => index,
            None => {
                self.rates.push(rate.abs());
                self.rates.len() - 1
            }
        };
        let wave = match track.waves.iter_mut().position(|wave| wave.rate == index) {
            Some(at) => track.waves.get_mut(at),
            None => {
                let zero = DVec3::ZERO;
                track.waves.push(Wave { rate: index, cos: zero, sin: zero, cos_drift: zero, sin_drift: zero });
                track.waves.last_mut()
            }
        };
        if let Some(wave) = wave {
            wave.cos += amplitude[0];
            wave.sin += amplitude[1] * sign;
            wave.cos_drift += drift[0];
            wave.sin_drift += drift[1] * sign;
        }
    }
}

/// A level vector turned a quarter counterclockwise.
pub(super) fn left_of(level: DVec3) -> DVec3 {
    DVec3::new(-level.y, level.x, 0.0)
}
