//! The ground as it is drawn, with its grid and with what lies on it.

use super::axes::to_engine;
use super::draw;
use bevy::prelude::*;
use scene_core::glam::{DVec2, DVec3};
use scene_core::quantity::unit::FOOT_M;
use scene_core::site::Site;
use scene_core::terrain::Ground;

/// How far the ground goes, meters.
pub const HORIZON_M: f32 = 600.0;
/// The side of a square, meters.
const SQUARE_M: f64 = 10.0 * FOOT_M;
/// How many squares lie to each side of the hole.
const SQUARES: i32 = 24;

/// The lines of a grid that lies on the ground.
#[derive(Resource, Default)]
pub struct Grid(pub Vec<Vec<Vec3>>);

/// How high the ground is drawn: beyond the survey as high as at the nearest spot of it.
pub struct DrawnGround {
    survey: Option<(Ground, Vec<DVec3>)>,
    /// Where there is no survey, meters.
    height_m: f64,
}

impl DrawnGround {
    pub fn of(site: &Site) -> Self {
        let spots = site.terrain.as_ref().map_or(Vec::new(), |terrain| terrain.spots.clone());
        let survey = Ground::of(site).ok().filter(|_| !spots.is_empty()).map(|ground| (ground, spots));
        Self { survey, height_m: site.hole.at.z }
    }

    fn height_m(&self, at: DVec2) -> f64 {
        let Some((ground, spots)) = &self.survey else { return self.height_m };
        if let Some(height) = ground.height(at) {
            return (height.low() + height.high()) / 2.0;
        }
        let nearest =
            spots.iter().min_by(|a, b| a.truncate().distance_squared(at).total_cmp(&b.truncate().distance_squared(at)));
        nearest.map_or(self.height_m, |spot| spot.z)
    }

    /// The point of the ground there.
    pub fn on(&self, at: DVec2) -> DVec3 {
        at.extend(self.height_m(at))
    }
}

/// The ground out to the horizon, and the lines of the grid on it.
pub fn surface(ground: &DrawnGround, about: DVec2) -> (Mesh, Vec<Vec<Vec3>>) {
    let place = |i: i32| f64::from(i) * SQUARE_M;
    let spot = |i: i32, j: i32| {
        let p = to_engine(ground.on(about + DVec2::new(place(i), place(j))));
        // The outermost corners are drawn far out, so that there is a horizon.
        let middle = to_engine(about.extend(0.0)).with_y(p.y);
        let outermost = i.abs() == SQUARES || j.abs() == SQUARES;
        let out = if outermost { (p - middle).normalize_or_zero() * HORIZON_M } else { p - middle };
        middle + out - Vec3::Y * 0.02
    };
    let corners = |i: i32, j: i32| [spot(i, j), spot(i + 1, j), spot(i + 1, j + 1), spot(i, j + 1)];
    let squares = (-SQUARES..SQUARES).flat_map(|i| (-SQUARES..SQUARES).map(move |j| (i, j)));
    let triangles = squares.flat_map(|(i, j)| {
        let [a, b, c, d] = corners(i, j);
        [[a, b, c], [a, c, d]]
    });
    let half = SQUARES / 2;
    let above = |i: i32, j: i32| to_engine(ground.on(about + DVec2::new(place(i), place(j)))) + Vec3::Y * 0.03;
    let mut lines = Vec::new();
    for i in -half..=half {
        lines.push((-half..=half).map(|j| above(i, j)).collect());
        lines.push((-half..=half).map(|j| above(j, i)).collect());
    }
    (draw::flat(triangles), lines)
}

/// A strip along a line, laid on the ground.
pub fn strip(ground: &DrawnGround, along: &[DVec2], width_m: f64) -> Mesh {
    /// No piece is longer, so that the strip follows the ground.
    const PIECE_M: f64 = 2.0;
    let mut triangles = Vec::new();
    for (from, to) in along.iter().zip(along.iter().skip(1)) {
        let way = *to - *from;
        let aside = way.perp().normalize_or_zero() * width_m / 2.0;
        let pieces = (way.length() / PIECE_M).ceil().clamp(1.0, 2000.0);
        let at = |i: f64, side: f64| to_engine(ground.on(*from + way * (i / pieces) + aside * side)) + Vec3::Y * 0.015;
        for i in 0..pieces as u32 {
            let (here, there) = (f64::from(i), f64::from(i + 1));
            for [left, right] in [[-1.0, 0.0], [0.0, 1.0]] {
                let [a, b, c, d] = [at(here, left), at(there, left), at(there, right), at(here, right)];
                triangles.extend([[a, b, c], [a, c, d]]);
            }
        }
    }
    draw::flat(triangles.into_iter())
}
