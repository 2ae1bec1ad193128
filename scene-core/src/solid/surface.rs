//! The surface of a convex solid as triangles, for drawing.

use super::{Feature, Hull};
use glam::DVec3;
use std::f64::consts::{PI, TAU};

/// Columns around the solid.
const ROUND: usize = 24;
/// Rows from end to end; an odd number.
const ROWS: usize = 13;

/// Triangles with less area than this are dropped, square meters.
const LEAST_M2: f64 = 5e-7;

impl Hull {
    /// The solid as triangles, counterclockwise seen from outside.
    ///
    /// Each corner of a sphere's triangles moves to the solid's farthest point in that direction. Round parts come out
    /// slightly too small, never too large: draw with it, prove nothing with it. Empty when a number is missing or the
    /// solid has no volume.
    pub fn surface(&self) -> Vec<[DVec3; 3]> {
        let Some(first) = self.features.first().map(center) else { return Vec::new() };
        let away = self.features.iter().map(|f| center(f) - first);
        let axis = away.fold(DVec3::ZERO, |far, to| if to.length_squared() > far.length_squared() { to } else { far });
        let axis = axis.normalize_or(DVec3::Z);
        let x = axis.any_orthonormal_vector();
        let y = axis.cross(x);
        let farthest = |row: usize, column: usize| {
            // No direction lies on the equator, where both ends are equally far.
            let above = PI * (row as f64 / ROWS as f64 - 0.5);
            let around = TAU * (column % ROUND) as f64 / ROUND as f64 + 0.1;
            let way = axis * above.sin() + (x * around.cos() + y * around.sin()) * above.cos();
            let corners = self.features.iter().map(|feature| feature.farthest(way));
            corners.max_by(|a, b| a.dot(way).total_cmp(&b.dot(way))).unwrap_or(first)
        };
        let mut triangles = Vec::with_capacity(ROWS * ROUND);
        let ring = |row: usize| -> Vec<DVec3> { (0..=ROUND).map(|column| farthest(row, column)).collect() };
        let mut below = ring(0);
        for row in 1..=ROWS {
            let above = ring(row);
            for (low, high) in below.windows(2).zip(above.windows(2)) {
                if let ([a, b], [d, c]) = (low, high) {
                    triangles.extend([[*a, *b, *c], [*a, *c, *d]]);
                }
            }
            below = above;
        }
        if !triangles.iter().flatten().all(|p| p.is_finite()) {
            return Vec::new();
        }
        triangles.retain(|[a, b, c]| (b - a).cross(c - a).length() / 2.0 > LEAST_M2);
        triangles
    }
}

/// The feature's center.
fn center(feature: &Feature) -> DVec3 {
    match *feature {
        Feature::Ball { center, .. } | Feature::Disc { center, .. } => center,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area_m2(triangles: &[[DVec3; 3]]) -> f64 {
        triangles.iter().map(|[a, b, c]| (b - a).cross(c - a).length() / 2.0).sum()
    }

    #[test]
    fn a_box_is_drawn_with_its_six_faces() {
        let corners = [0, 1, 2, 3, 4, 5, 6, 7]
            .map(|k: u32| DVec3::new(f64::from(k & 1) * 4.0, f64::from(k >> 1 & 1), f64::from(k >> 2)));
        let hull = Hull { features: corners.map(|center| Feature::Ball { center, radius_m: 0.0 }).to_vec() };
        let area = area_m2(&hull.surface());
        assert!((area - 18.0).abs() < 0.01, "{area}");
    }

    #[test]
    fn a_drum_is_drawn_nearly_as_large_as_it_is_and_faces_outward() {
        let disc = |z: f64| Feature::Disc { center: DVec3::Z * z, axis: DVec3::Z, radius_m: 0.5 };
        let triangles = Hull { features: vec![disc(0.0), disc(2.0)] }.surface();
        let whole = TAU * 0.5 * 2.0 + 2.0 * PI * 0.25;
        let share = area_m2(&triangles) / whole;
        assert!((0.97..=1.0).contains(&share), "{share}");
        let volume: f64 = triangles.iter().map(|[a, b, c]| a.dot(b.cross(*c)) / 6.0).sum();
        assert!(volume > 0.95 * PI * 0.25 * 2.0, "{volume}");
    }

    #[test]
    fn what_is_no_number_is_not_drawn() {
        let hull = Hull { features: vec![Feature::Ball { center: DVec3::NAN, radius_m: 1.0 }] };
        assert!(hull.surface().is_empty());
        assert!(Hull::default().surface().is_empty());
    }
}
