//! The ground: a surface of triangles between spot elevations, or flat ground when no spots are stated.
//!
//! ```
//! use scene_core::{glam::{DVec2, DVec3}, site::ground::Terrain, terrain::Surface};
//! let spots = vec![DVec3::ZERO, DVec3::new(10.0, 0.0, 1.0), DVec3::new(0.0, 10.0, 0.0)];
//! let surface = Surface::of(&Terrain { spots, accuracy_m: 0.05 }).unwrap();
//! let height = surface.height(DVec2::new(5.0, 0.0)).unwrap();
//! assert!(height.contains(0.5) && height.width() < 0.11);
//! ```
//!
//! The triangles form a Delaunay triangulation: no spot lies inside the circle through another triangle's corners, so
//! the triangles are as compact as the spots allow. The model takes the ground inside a triangle to be plane, within
//! the stated accuracy.
//!
//! Not modeled: breaklines such as a curb or the edge of a ditch (state spots along them); soft ground; anything
//! outside the spots.

use crate::bracket::Bracket;
use crate::motion::{MovingFeature, MovingPart, Track};
use crate::site::Site;
use crate::site::ground::Terrain;
use glam::{DVec2, DVec3};
use spade::{DelaunayTriangulation, HasPosition, Point2, Triangulation};
use thiserror::Error;

/// Rounding error of coordinates, meters. A point this far outside the spots counts as on their edge.
const ROUNDING_M: f64 = 1e-9;

/// Depth of a prism below the lowest ground, meters. Deeper than any hole.
const DOWN_M: f64 = 10.0;

/// Half the side of flat ground around the hole, meters. Farther than any point of a scene.
const FAR_M: f64 = 3000.0;

/// Why spots give no surface.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum TerrainError {
    /// Fewer than three spots; holds their number.
    #[error("{0} spots make no surface")]
    TooFewSpots(usize),
    /// All spots lie on one line.
    #[error("the spots lie on one line")]
    OnOneLine,
    /// A coordinate or the accuracy is NaN, infinite or absurdly large.
    #[error("a spot's elevation or place is not a number that can be used")]
    NotFinite,
}

/// The ground of a site.
#[derive(Clone, Debug, PartialEq)]
pub enum Ground {
    /// No spots are stated: the ground is level everywhere.
    Flat {
        /// Its elevation: that of the hole, meters.
        height_m: f64,
        /// The hole in plan, meters.
        about: DVec2,
    },
    /// A surface between spots.
    Surveyed(Surface),
}

/// Triangles between spots. The true height lies within `accuracy_m` of them.
#[derive(Clone, Debug, PartialEq)]
pub struct Surface {
    /// Counterclockwise seen from above.
    triangles: Vec<[DVec3; 3]>,
    /// The spots on the outer edge, counterclockwise.
    edge: Vec<DVec2>,
    accuracy_m: f64,
}

/// The slope of the ground at a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slope {
    /// The uphill gradient: direction of steepest rise, with its rise per meter as length. Zero where the ground is
    /// level.
    pub rise: DVec2,
    /// Rise over run, with every spot anywhere within its accuracy.
    pub steepness: Bracket,
}

/// A point where a straight line in plan crosses the edge of a triangle, or one of the line's ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Knot {
    /// 0 at the start of the line, 1 at its end.
    pub fraction: f64,
    /// Elevation of the ground there, meters.
    pub height_m: Bracket,
}

/// A spot as the triangulation library needs it.
struct Spot {
    at: DVec3,
}

impl HasPosition for Spot {
    type Scalar = f64;
    fn position(&self) -> Point2<f64> {
        Point2::new(self.at.x, self.at.y)
    }
}

impl Surface {
    /// The surface through the spots. The scene's reader has already refused two spots at one place with different
    /// heights.
    ///
    /// # Errors [`TerrainError`] for fewer than three spots, spots on one line, or unusable numbers.
    pub fn of(terrain: &Terrain) -> Result<Self, TerrainError> {
        let Terrain { spots, accuracy_m } = terrain;
        if spots.len() < 3 {
            return Err(TerrainError::TooFewSpots(spots.len()));
        }
        let usable = spots.iter().all(|spot| spot.is_finite() && spot.abs().max_element() < 1e7);
        if !usable || !(0.0..1e3).contains(accuracy_m) {
            return Err(TerrainError::NotFinite);
        }
        // The library refuses nonzero numbers closer to zero than this.
        let tidy = |x: f64| if x.abs() < 1e-12 { 0.0 } else { x };
        let spot = |at: &DVec3| Spot { at: DVec3::new(tidy(at.x), tidy(at.y), at.z) };
        let mesh = DelaunayTriangulation::<Spot>::bulk_load(spots.iter().map(spot).collect())
            .map_err(|_| TerrainError::NotFinite)?;
        let triangles: Vec<[DVec3; 3]> =
            mesh.inner_faces().map(|face| face.vertices().map(|vertex| vertex.data().at)).collect();
        if triangles.is_empty() {
            return Err(TerrainError::OnOneLine);
        }
        // The library walks around the outer face: clockwise seen from inside the surface.
        let mut edge: Vec<DVec2> = mesh.convex_hull().map(|edge| edge.from().data().at.truncate()).collect();
        if turns(&edge) < 0.0 {
            edge.reverse();
        }
        Ok(Self { triangles, edge, accuracy_m: *accuracy_m })
    }

    /// The triangles, counterclockwise seen from above. World frame, meters.
    pub fn triangles(&self) -> &[[DVec3; 3]] {
        &self.triangles
    }

    /// The error of every height, meters.
    pub fn accuracy_m(&self) -> f64 {
        self.accuracy_m
    }

    /// The spots on the outer edge, counterclockwise.
    pub fn edge(&self) -> &[DVec2] {
        &self.edge
    }

    /// Elevation of the ground, meters; `None` outside the spots. Cost: linear in the number of triangles.
    pub fn height(&self, at: DVec2) -> Option<Bracket> {
        let (triangle, share) = self.find(at)?;
        let z: f64 = triangle.iter().zip(share).map(|(corner, share)| corner.z * share).sum();
        Bracket::between(z, z).map(|z| z.widened(self.accuracy_m + ROUNDING_M))
    }

    /// The slope of the ground; `None` outside the spots. On an edge, the slope of one of the triangles beside it.
    pub fn slope(&self, at: DVec2) -> Option<Slope> {
        let (triangle, _) = self.find(at)?;
        let gradients = share_gradients(&triangle)?;
        let rise: DVec2 = triangle.iter().zip(gradients).map(|(corner, gradient)| gradient * corner.z).sum();
        // Moving each corner up or down by the accuracy tilts the plane by at most this.
        let more: f64 = gradients.iter().map(|gradient| gradient.length() * self.accuracy_m).sum();
        let steep = rise.length();
        Some(Slope { rise, steepness: Bracket::between((steep - more).max(0.0), steep + more)? })
    }

    /// The ground under a straight line; it is straight between two knots. `None` when part of the line lies outside
    /// the spots.
    pub fn along(&self, from: DVec2, to: DVec2) -> Option<Vec<Knot>> {
        let way = to - from;
        let mut fractions = vec![0.0, 1.0];
        for [a, b, c] in &self.triangles {
            for (p, q) in [(a, b), (b, c), (c, a)] {
                let (p, edge) = (p.truncate(), q.truncate() - p.truncate());
                let across = way.perp_dot(edge);
                if across == 0.0 {
                    continue;
                }
                let on_way = (p - from).perp_dot(edge) / across;
                let on_edge = (p - from).perp_dot(way) / across;
                if (0.0..=1.0).contains(&on_way) && (-1e-9..=1.0 + 1e-9).contains(&on_edge) {
                    fractions.push(on_way);
                }
            }
        }
        fractions.sort_by(f64::total_cmp);
        fractions.dedup_by(|a, b| (*a - *b).abs() < 1e-12);
        let knot = |fraction: f64| Some(Knot { fraction, height_m: self.height(from + way * fraction)? });
        fractions.into_iter().map(knot).collect()
    }

    /// The ground under each triangle as a convex solid with vertical sides. Its top is the highest that the surface
    /// may be.
    pub fn prisms(&self) -> Vec<Prism> {
        let lowest = self.triangles.iter().flatten().fold(f64::INFINITY, |low, corner| low.min(corner.z));
        let bottom_m = lowest - self.accuracy_m - DOWN_M;
        let raised = |corner: &DVec3| *corner + DVec3::Z * self.accuracy_m;
        let prism = |triangle: &[DVec3; 3]| Prism { top: triangle.iter().map(raised).collect(), bottom_m };
        self.triangles.iter().map(prism).collect()
    }

    /// The triangle that holds a point, with the point's barycentric coordinates.
    fn find(&self, at: DVec2) -> Option<([DVec3; 3], [f64; 3])> {
        let mut best: Option<(f64, [DVec3; 3], [f64; 3])> = None;
        for triangle in &self.triangles {
            let Some(share) = shares(triangle, at) else { continue };
            let least = share.iter().copied().fold(f64::INFINITY, f64::min);
            if best.as_ref().is_none_or(|(most, ..)| least > *most) {
                best = Some((least, *triangle, share));
            }
        }
        let (least, triangle, share) = best?;
        if least >= 0.0 {
            return Some((triangle, share));
        }
        // A point outside by rounding only counts as on the edge.
        let share = share.map(|share| share.max(0.0));
        let sum: f64 = share.iter().sum();
        let share = share.map(|share| share / sum);
        let nearest: DVec2 = triangle.iter().zip(share).map(|(corner, share)| corner.truncate() * share).sum();
        (nearest.distance(at) < 1e3 * ROUNDING_M).then_some((triangle, share))
    }
}

impl Ground {
    /// The site's ground: the surface through its spots, or flat at the elevation of the hole.
    ///
    /// # Errors [`TerrainError`] when the spots give no surface.
    pub fn of(site: &Site) -> Result<Self, TerrainError> {
        match &site.terrain {
            Some(terrain) => Surface::of(terrain).map(Self::Surveyed),
            None => Ok(Self::Flat { height_m: site.hole.at.z, about: site.hole.at.truncate() }),
        }
    }

    /// Elevation, meters; `None` where nothing was surveyed. Flat ground has no error.
    pub fn height(&self, at: DVec2) -> Option<Bracket> {
        match self {
            Self::Flat { height_m, .. } => Bracket::between(*height_m, *height_m),
            Self::Surveyed(surface) => surface.height(at),
        }
    }

    /// The ground under a straight line; it is straight between two knots. `None` when part of it was not surveyed.
    pub fn along(&self, from: DVec2, to: DVec2) -> Option<Vec<Knot>> {
        match self {
            Self::Flat { height_m, .. } => {
                let height_m = Bracket::between(*height_m, *height_m)?;
                Some([0.0, 1.0].map(|fraction| Knot { fraction, height_m }).to_vec())
            }
            Self::Surveyed(surface) => surface.along(from, to),
        }
    }

    /// Still convex solids that together hold all known ground.
    pub fn prisms(&self) -> Vec<Prism> {
        match self {
            Self::Flat { height_m, about } => {
                let corner = |x: f64, y: f64| about.extend(*height_m) + DVec3::new(x, y, 0.0) * FAR_M;
                let top = vec![corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)];
                vec![Prism { top, bottom_m: height_m - DOWN_M }]
            }
            Self::Surveyed(surface) => surface.prisms(),
        }
    }
}

/// A convex solid with vertical sides and a level bottom.
#[derive(Clone, Debug, PartialEq)]
pub struct Prism {
    /// The upper corners in order, meters. Convex in plan.
    pub top: Vec<DVec3>,
    /// Elevation of the bottom, meters.
    pub bottom_m: f64,
}

impl Prism {
    /// The prism as a still part without allowance.
    pub fn part(&self) -> MovingPart {
        let low = self.top.iter().map(|corner| corner.truncate().extend(self.bottom_m));
        let corner = |at: DVec3| MovingFeature { at: Track::still(at), radius_m: 0.0, axis: None, allowance_m: 0.0 };
        let features = self.top.iter().copied().chain(low).map(corner).collect();
        MovingPart { features, ..MovingPart::default() }
    }

    /// Volume, cubic meters. Exact for a triangular prism.
    pub fn volume_m3(&self) -> f64 {
        let Some(&first) = self.top.first() else { return 0.0 };
        let thick = |corner: DVec3| corner.z - self.bottom_m;
        let fan = self.top.iter().skip(1).zip(self.top.iter().skip(2));
        fan.map(|(&b, &c)| {
            let area = (b - first).truncate().perp_dot((c - first).truncate()).abs() / 2.0;
            area * (thick(first) + thick(b) + thick(c)) / 3.0
        })
        .sum()
    }
}

/// Barycentric coordinates of a point: they add up to one, and one of them is negative outside the triangle.
fn shares(triangle: &[DVec3; 3], at: DVec2) -> Option<[f64; 3]> {
    let [a, b, c] = triangle.map(|corner| corner.truncate());
    let whole = (b - a).perp_dot(c - a);
    let share = [(c - b).perp_dot(at - b), (a - c).perp_dot(at - c), (b - a).perp_dot(at - a)].map(|s| s / whole);
    share.iter().all(|share| share.is_finite()).then_some(share)
}

/// The gradient of each barycentric coordinate in plan.
fn share_gradients(triangle: &[DVec3; 3]) -> Option<[DVec2; 3]> {
    let [a, b, c] = triangle.map(|corner| corner.truncate());
    let whole = (b - a).perp_dot(c - a);
    let gradients = [c - b, a - c, b - a].map(|edge| edge.perp() / whole);
    gradients.iter().all(|gradient| gradient.is_finite()).then_some(gradients)
}

/// Twice the signed area inside the corners; positive when they run counterclockwise.
fn turns(corners: &[DVec2]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    corners.iter().zip(next).map(|(a, b)| a.perp_dot(*b)).sum()
}

#[cfg(test)]
mod tests;
