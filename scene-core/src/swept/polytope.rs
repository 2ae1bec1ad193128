//! Convex polytopes: half-spaces cut from a box one after another, and hulls of points by polar duality.
//!
//! Cutting is combinatorial. A corner is kept or cut off. An edge between a kept and a cut corner gets one new corner
//! that both its faces share. So the surface stays closed however the coordinates round. Every corner has three faces.
//!
//! The polar of a polytope about an inner point exchanges corners and faces (any textbook on convex polytopes): the
//! half-spaces of a hull are the corners of its polar.

use glam::DVec3;
use std::collections::HashMap;

/// A corner outside a half-space by less than this stays, so that no slivers arise, meters. It makes the polytope
/// larger, never smaller.
const LEFT_STANDING: f64 = 1e-10;

/// All points p with `normal · p ≤ offset_m`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HalfSpace {
    /// Unit normal, outward.
    pub normal: DVec3,
    /// Distance of the plane from the origin along the normal, meters.
    pub offset_m: f64,
}

/// A closed surface of triangles. World frame, meters.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Surface {
    /// The corners.
    pub points: Vec<DVec3>,
    /// Three indices into `points` each, counterclockwise seen from outside.
    pub triangles: Vec<[u32; 3]>,
}

/// A bounded convex solid.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Polytope {
    points: Vec<DVec3>,
    /// Corners of each face, counterclockwise seen from outside.
    faces: Vec<Vec<usize>>,
    /// The number of each face's half-space in the order of the cuts. The first six are the box.
    planes: Vec<usize>,
}

impl Polytope {
    /// The box that reaches from low to high along each axis of the orthonormal right-handed `frame`, meters.
    pub fn block(frame: [DVec3; 3], reach_m: [[f64; 2]; 3]) -> Self {
        let [x, y, z] = frame;
        let [xs, ys, zs] = reach_m;
        let mut points = Vec::with_capacity(8);
        for a in xs {
            for b in ys {
                for c in zs {
                    points.push(x * a + y * b + z * c);
                }
            }
        }
        // A corner's number is 4·x + 2·y + z of its ends.
        let faces =
            [[0, 1, 3, 2], [4, 6, 7, 5], [0, 4, 5, 1], [2, 3, 7, 6], [0, 2, 6, 4], [1, 5, 7, 3]].map(Vec::from).into();
        Self { points, faces, planes: (0..6).collect() }
    }

    /// The part inside the half-space. The new face remembers `number`. `None` when nothing is left, or a number is
    /// NaN.
    pub fn cut(mut self, by: HalfSpace, number: usize) -> Option<Self> {
        let over: Vec<f64> = self.points.iter().map(|p| by.normal.dot(*p) - by.offset_m).collect();
        if over.iter().any(|d| d.is_nan()) {
            return None;
        }
        let out = |i: usize| over.get(i).is_none_or(|d| *d > LEFT_STANDING);
        if !over.iter().any(|d| *d > LEFT_STANDING) {
            return Some(self);
        }
        if over.iter().all(|d| *d > LEFT_STANDING) {
            return None;
        }
        let mut between: HashMap<(usize, usize), usize> = HashMap::new();
        let mut points = self.points.clone();
        let mut new_on = |kept: usize, cut: usize| -> Option<usize> {
            if let Some(found) = between.get(&(kept, cut)) {
                return Some(*found);
            }
            let (from, to) = (*self.points.get(kept)?, *self.points.get(cut)?);
            let (inside, outside) = (*over.get(kept)?, *over.get(cut)?);
            let share = (inside / (inside - outside)).clamp(0.0, 1.0);
            points.push(from + (to - from) * share);
            between.insert((kept, cut), points.len() - 1);
            Some(points.len() - 1)
        };
        // The cut edge of each face, reversed, is an edge of the new face.
        let mut after: HashMap<usize, usize> = HashMap::new();
        let mut order: Vec<usize> = Vec::new();
        let (mut faces, mut planes) =
            (Vec::with_capacity(self.faces.len() + 1), Vec::with_capacity(self.faces.len() + 1));
        for (face, plane) in self.faces.drain(..).zip(self.planes.drain(..)) {
            if !face.iter().any(|&i| out(i)) {
                faces.push(face);
                planes.push(plane);
                continue;
            }
            let mut left: Vec<usize> = Vec::with_capacity(face.len() + 1);
            // The points where the face's outline leaves the half-space and where it enters again, in order.
            let (mut leaves, mut enters): (Vec<usize>, Vec<usize>) = (Vec::new(), Vec::new());
            let mut enters_first = false;
            for (here, next) in face.iter().zip(face.iter().cycle().skip(1)) {
                if !out(*here) {
                    left.push(*here);
                }
                match (out(*here), out(*next)) {
                    (false, true) => {
                        let new = new_on(*here, *next)?;
                        left.push(new);
                        leaves.push(new);
                    }
                    (true, false) => {
                        let new = new_on(*next, *here)?;
                        enters_first |= leaves.is_empty();
                        left.push(new);
                        enters.push(new);
                    }
                    _ => {}
                }
            }
            if left.is_empty() {
                continue;
            }
            if enters_first {
                enters.rotate_left(1);
            }
            for (leave, enter) in leaves.iter().zip(&enters) {
                after.insert(*enter, *leave);
                order.push(*enter);
            }
            faces.push(left);
            planes.push(plane);
        }
        for start in order {
            let mut ring = Vec::new();
            let mut at = start;
            while let Some(next) = after.remove(&at) {
                ring.push(at);
                at = next;
            }
            // Two faces that meet only along the cut close each other.
            if ring.len() > 2 {
                faces.push(ring);
                planes.push(number);
            }
        }
        Some(Self { points, faces, planes }.without_loose_points())
    }

    fn without_loose_points(mut self) -> Self {
        const NOWHERE: usize = usize::MAX;
        let mut place = vec![NOWHERE; self.points.len()];
        let mut points = Vec::with_capacity(self.points.len());
        for corner in self.faces.iter_mut().flatten() {
            let (Some(slot), Some(point)) = (place.get_mut(*corner), self.points.get(*corner)) else { continue };
            if *slot == NOWHERE {
                *slot = points.len();
                points.push(*point);
            }
            *corner = *slot;
        }
        self.points = points;
        self
    }

    pub fn points(&self) -> &[DVec3] {
        &self.points
    }

    /// The surface as triangles, each face split from its first corner.
    pub fn surface(&self) -> Surface {
        let number = |i: usize| u32::try_from(i).unwrap_or(u32::MAX);
        let mut triangles = Vec::new();
        for face in &self.faces {
            let Some((first, rest)) = face.split_first() else { continue };
            for pair in rest.windows(2) {
                if let [second, third] = pair {
                    triangles.push([number(*first), number(*second), number(*third)]);
                }
            }
        }
        Surface { points: self.points.clone(), triangles }
    }

    /// Each corner with the numbers of the three half-spaces that meet there.
    fn meetings(&self) -> Vec<(DVec3, Vec<usize>)> {
        let mut found: Vec<(DVec3, Vec<usize>)> = self.points.iter().map(|p| (*p, Vec::with_capacity(3))).collect();
        for (face, plane) in self.faces.iter().zip(&self.planes) {
            for corner in face {
                if let Some(meeting) = found.get_mut(*corner) {
                    meeting.1.push(*plane);
                }
            }
        }
        found
    }
}

impl Surface {
    /// The enclosed volume, m³, by the divergence theorem.
    pub fn volume_m3(&self) -> f64 {
        let origin = self.points.first().copied().unwrap_or_default();
        let corner = |i: u32| self.points.get(i as usize).copied().unwrap_or(DVec3::NAN) - origin;
        self.triangles.iter().map(|[a, b, c]| corner(*a).dot(corner(*b).cross(corner(*c)))).sum::<f64>() / 6.0
    }
}

/// The hull of points as half-spaces, and its volume in m³. `None` when the points lie nearly in one plane.
pub(super) fn hull_of(points: &[DVec3]) -> Option<(Vec<HalfSpace>, f64)> {
    /// The polar of a hull that holds a ball of a tenth of a millimeter about its middle is within this, 1/m.
    const FAR: f64 = 1e4;
    let count = points.len() as f64;
    let middle = points.iter().fold(DVec3::ZERO, |sum, p| sum + *p) / count;
    let mut polar = Polytope::block([DVec3::X, DVec3::Y, DVec3::Z], [[-FAR, FAR]; 3]);
    for (number, point) in points.iter().enumerate() {
        polar = polar.cut(HalfSpace { normal: *point - middle, offset_m: 1.0 }, number + 6)?;
    }
    let mut planes = Vec::new();
    let mut sixfold_m3 = 0.0;
    for (at, meeting) in polar.meetings() {
        let mut arms = meeting.iter().map(|number| Some(*points.get(number.checked_sub(6)?)? - middle));
        let (a, b, c) = (arms.next()??, arms.next()??, arms.next()??);
        sixfold_m3 += a.dot(b.cross(c)).abs();
        let size = at.length();
        if size.is_nan() || size <= 0.0 {
            return None;
        }
        let normal = at / size;
        planes.push(HalfSpace { normal, offset_m: 1.0 / size + normal.dot(middle) });
    }
    Some((planes, sixfold_m3 / 6.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Every edge runs once each way.
    fn is_closed(surface: &Surface) -> bool {
        let mut runs: HashMap<(u32, u32), i32> = HashMap::new();
        for [a, b, c] in &surface.triangles {
            for edge in [(*a, *b), (*b, *c), (*c, *a)] {
                *runs.entry(edge).or_default() += 1;
            }
        }
        runs.iter().all(|((a, b), count)| *count == 1 && runs.get(&(*b, *a)) == Some(&1))
    }

    fn block() -> Polytope {
        Polytope::block([DVec3::X, DVec3::Y, DVec3::Z], [[-1.0, 1.0], [-2.0, 2.0], [-3.0, 3.0]])
    }

    fn direction() -> impl Strategy<Value = DVec3> {
        [-1.0..1.0f64, -1.0..1.0f64, -1.0..1.0f64]
            .prop_map(DVec3::from)
            .prop_filter_map("no way", |v| v.try_normalize())
    }

    #[test]
    fn a_block_encloses_the_product_of_its_sides_and_a_cut_halves_it() {
        assert!((block().surface().volume_m3() - 48.0).abs() < 1e-12);
        let half = block().cut(HalfSpace { normal: DVec3::new(1.0, 1.0, 0.0).normalize(), offset_m: 0.0 }, 6).unwrap();
        assert!(is_closed(&half.surface()));
        assert!((half.surface().volume_m3() - 24.0).abs() < 1e-12);
        assert_eq!(block().cut(HalfSpace { normal: DVec3::X, offset_m: -1.5 }, 6), None);
        assert_eq!(block().cut(HalfSpace { normal: DVec3::NAN, offset_m: 0.0 }, 6), None);
    }

    #[test]
    fn the_hull_of_a_cubes_corners_is_the_cube_and_points_in_a_plane_have_none() {
        let cube = [-1.0, 1.0].map(|x| [-1.0, 1.0].map(|y| [-1.0, 1.0].map(|z| DVec3::new(x + 7.0, y, z))));
        let cube: Vec<DVec3> = cube.into_iter().flatten().flatten().collect();
        let (planes, volume_m3) = hull_of(&cube).unwrap();
        assert!((volume_m3 - 8.0).abs() < 1e-9, "{volume_m3}");
        for plane in planes {
            assert!(cube.iter().all(|p| plane.normal.dot(*p) <= plane.offset_m + 1e-9));
        }
        let flat: Vec<DVec3> = cube.iter().map(|p| DVec3::new(p.x, p.y, 0.0)).collect();
        assert_eq!(hull_of(&flat), None);
        assert_eq!(hull_of(&[]), None);
    }

    proptest! {
        #[test]
        fn cutting_leaves_a_closed_surface_within_every_half_space(
            cuts in prop::collection::vec((direction(), -0.2..2.0f64), 1..60),
            again in 0..60usize,
        ) {
            let mut left = Some(block());
            let all: Vec<HalfSpace> = cuts.iter().map(|(normal, offset_m)| HalfSpace { normal: *normal, offset_m: *offset_m }).collect();
            // The same once more, to meet corners that lie in the plane.
            for (number, half_space) in all.iter().chain(all.get(again..again + 1).unwrap_or(&[])).enumerate() {
                left = left.and_then(|p| p.cut(*half_space, number + 6));
            }
            if let Some(left) = left {
                let surface = left.surface();
                prop_assert!(is_closed(&surface));
                prop_assert!(surface.volume_m3() > -1e-9 && surface.volume_m3() <= 48.0 + 1e-9);
                for p in left.points() {
                    prop_assert!(all.iter().all(|h| h.normal.dot(*p) <= h.offset_m + 1e-8));
                }
            }
        }

        #[test]
        fn a_hull_holds_its_points_and_cut_from_a_block_has_the_volume_it_says(
            points in prop::collection::vec([-1.0..1.0f64, -1.0..1.0f64, -1.0..1.0f64].prop_map(DVec3::from), 4..40),
        ) {
            if let Some((planes, volume_m3)) = hull_of(&points) {
                let mut solid = Some(block());
                for (number, plane) in planes.iter().enumerate() {
                    prop_assert!(points.iter().all(|p| plane.normal.dot(*p) <= plane.offset_m + 1e-6));
                    solid = solid.and_then(|s| s.cut(*plane, number + 6));
                }
                prop_assert!((solid.unwrap().surface().volume_m3() - volume_m3).abs() < 1e-6);
            }
        }
    }
}
