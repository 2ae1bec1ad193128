//! The pole rising from the ground: its choke goes straight up under the hook, its butt slides along the ground.
//!
//! In the vertical plane of the pole, with the ground's slope σ and T = tilt + σ the angle of the axis from the ground's
//! normal n, the butt's edge stays on the ground when
//! `n·choke = z·cos T + (r + x)·sin T = A·cos(T − φ)`,
//! z and x the choke's height along the pole and offset away from its lean, r the butt's radius. Hoisting makes n·choke grow
//! evenly, so T = φ + acos(n·choke / A): closed form, as is its deviation from a straight run between two knots.

use crate::bracket::Bracket;

/// How the tilt follows the hoist. Meters, radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Upend {
    amplitude_m: f64,
    phase: f64,
    slope: f64,
    tilt_from: f64,
    hoist_from_m: f64,
}

impl Upend {
    /// `choke_along_m` from the butt; `choke_out_m` from the axis, away from the way the top leans; `slope` of the ground, up
    /// toward the tip; the pole lies at `tilt_from` with the hoist at `hoist_from_m`.
    pub fn new(
        choke_along_m: f64,
        choke_out_m: f64,
        butt_radius_m: f64,
        slope: f64,
        tilt_from: f64,
        hoist_from_m: f64,
    ) -> Self {
        let out_m = butt_radius_m + choke_out_m;
        Self {
            amplitude_m: choke_along_m.hypot(out_m),
            phase: out_m.atan2(choke_along_m),
            slope,
            tilt_from,
            hoist_from_m,
        }
    }

    /// The tilt at which the butt stands plumb under the choke: from here on hoisting lifts it off, whatever its tilt.
    pub fn tilt_of_lift(&self) -> f64 {
        self.phase - self.slope
    }

    fn opening(&self, tilt: f64) -> f64 {
        tilt + self.slope - self.phase
    }

    pub fn hoist_at(&self, tilt: f64) -> f64 {
        let risen = self.amplitude_m * (self.opening(tilt).cos() - self.opening(self.tilt_from).cos());
        self.hoist_from_m - risen / self.slope.cos()
    }

    pub fn tilt_at(&self, hoist_m: f64) -> f64 {
        let risen = (self.hoist_from_m - hoist_m) * self.slope.cos();
        let cos = self.opening(self.tilt_from).cos() + risen / self.amplitude_m;
        cos.clamp(-1.0, 1.0).acos() + self.phase - self.slope
    }

    /// The most that the true tilt differs from one that runs evenly with the hoist between these two tilts on the arc.
    ///
    /// The difference is largest where the arc has the chord's slope: A·sin θ = (q₂ − q₁)/(θ₁ − θ₂).
    pub fn deviation(&self, tilts: Bracket) -> f64 {
        let (near, far) = (self.opening(tilts.low()), self.opening(tilts.high()));
        let (q_near, q_far) = (near.cos(), far.cos());
        if far - near <= 1e-9 {
            return far - near;
        }
        let chord = (q_near - q_far) / (far - near);
        let steep = chord.clamp(-1.0, 1.0).asin();
        let at = |opening: f64| (opening - (far - (opening.cos() - q_far) / chord)).abs();
        let inside = [steep, std::f64::consts::PI - steep].into_iter().filter(|&o| near <= o && o <= far);
        // Rounding: a touch more than the arithmetic's own.
        inside.map(at).fold(0.0, f64::max) + 1e-12
    }

    /// Tilts from where the pole lies to `end`, between which the deviation is about even.
    pub fn knots(&self, end: f64, pieces: usize) -> Vec<f64> {
        let root = |tilt: f64| self.opening(tilt).max(0.0).sqrt();
        let (first, last) = (root(self.tilt_from), root(end));
        let inner = (1..pieces).map(|i| {
            let root = first + (last - first) * i as f64 / pieces as f64;
            root * root + self.phase - self.slope
        });
        std::iter::once(self.tilt_from).chain(inner).chain(std::iter::once(end)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn the_tilt_between_knots_never_deviates_by_more_than_the_bound(
            along in 4.0..16.0_f64, out in 0.05..0.4_f64, butt in 0.1..0.4_f64, slope in -0.1..0.1_f64, end in 0.01..0.3_f64,
        ) {
            let arc = Upend::new(along, out, butt, slope, 1.56 - slope, 20.0);
            let end = end.max(arc.tilt_of_lift());
            let knots = arc.knots(end, 24);
            let mut worst = 0.0_f64;
            for pair in knots.windows(2) {
                let bound = arc.deviation(Bracket::between(pair[0], pair[1]).unwrap());
                let (h0, h1) = (arc.hoist_at(pair[0]), arc.hoist_at(pair[1]));
                prop_assert!(h1 <= h0);
                let mut seen = 0.0_f64;
                for i in 0..=200 {
                    let u = f64::from(i) / 200.0;
                    let linear = pair[0] + (pair[1] - pair[0]) * u;
                    seen = seen.max((arc.tilt_at(h0 + (h1 - h0) * u) - linear).abs());
                }
                // 1e-7: acos near 1, where the pole is about to leave the ground, knows the tilt no better.
                prop_assert!(seen <= bound + 1e-7, "{seen} {bound}");
                prop_assert!(bound <= seen * 1.01 + 1e-6, "the bound is tight: {seen} {bound}");
                worst = worst.max(bound);
            }
            prop_assert!(worst < 2e-3, "{worst}");
        }
    }

    #[test]
    fn a_pole_choked_ten_metres_up_leaves_the_ground_ten_metres_higher() {
        let arc = Upend::new(10.0, 0.0, 0.0, 0.0, std::f64::consts::FRAC_PI_2, 15.0);
        assert!((arc.hoist_at(0.0) - 5.0).abs() < 1e-12);
        assert!((arc.tilt_at(5.0)).abs() < 1e-6);
        assert!((arc.tilt_at(15.0 - 10.0 * 0.3_f64.cos()) - 0.3).abs() < 1e-9);
    }
}
