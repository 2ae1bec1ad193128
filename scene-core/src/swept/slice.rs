//! A part over a stretch of its motion as one convex solid that encloses it, and at one instant as one solid inside it.
//!
//! Over a stretch of u of length Δ, a corner leaves the straight line between its ends by at most σ = Δ²·M₂/8, where M₂
//! bounds its second derivative (interpolation error, any textbook on numerical analysis). So the hull of the part at
//! both ends, grown by σ, encloses every instant between. The solid is cut from this hull's support function in a fixed
//! set of directions, aligned with the part and its motion.

use super::polytope::{HalfSpace, Polytope, hull_of};
use crate::bracket::Bracket;
use crate::motion::track::Phases;
use crate::motion::{MovingFeature, MovingPart};
use crate::solid::{Extent, Feature};
use glam::DVec3;

/// Growth of every half-space for rounding, meters.
pub(super) const ROUNDING_M: f64 = 1e-9;

/// A convex solid as half-spaces, with its box.
#[derive(Clone, Debug)]
pub(super) struct ConvexSolid {
    pub half_spaces: Vec<HalfSpace>,
    pub extent: Extent,
}

/// A solid that encloses the part at every u of a stretch.
#[derive(Clone, Debug)]
pub(super) struct Slice {
    pub solid: Polytope,
    pub convex: ConvexSolid,
}

/// A corner of the part over a stretch.
struct Corner {
    from: DVec3,
    to: DVec3,
    /// Radius of the added ball, including σ and motion error, meters.
    ball_m: f64,
    /// Unit normal at both ends, its distance from a straight path between them, and the radius in meters.
    disc: Option<(DVec3, DVec3, f64, f64)>,
}

impl Corner {
    fn of(feature: &MovingFeature, part: &MovingPart, u: Bracket) -> Self {
        let (at, to) = (Phases::at(&part.rates, u.low()), Phases::at(&part.rates, u.high()));
        let aside = |second: f64| u.width() * u.width() * second / 8.0;
        let round_m = part.motion_error_m + aside(feature.at.bounds(&part.rates, u).second);
        let disc = feature.axis.as_ref().map(|axis| {
            let off = aside(axis.bounds(&part.rates, u).second) + 1e-12;
            (axis.at(&at), axis.at(&to), off, feature.radius_m)
        });
        let ball_m = round_m + if disc.is_some() { 0.0 } else { feature.radius_m };
        Self { from: feature.at.at(&at), to: feature.at.at(&to), ball_m, disc }
    }

    /// A bound on how far any instant reaches along the unit vector `direction`, meters.
    fn reach_m(&self, direction: DVec3) -> f64 {
        let disc_m = self.disc.map_or(0.0, |(from, to, off, radius_m)| {
            let (a, b) = (from.dot(direction), to.dot(direction));
            // The least cosine between normal and direction. A disc reaches its radius times the sine.
            let least = if a * b <= 0.0 { 0.0 } else { (a.abs().min(b.abs()) - off).max(0.0) };
            radius_m * (1.0 - least * least).max(0.0).sqrt()
        });
        let (from_m, to_m) = (self.from.dot(direction), self.to.dot(direction));
        // `f64::max` drops a NaN; a sum keeps it.
        if from_m.is_nan() || to_m.is_nan() { f64::NAN } else { from_m.max(to_m) + self.ball_m + disc_m }
    }
}

impl Slice {
    /// The slice of a part over a stretch of u; `None` when a number is NaN or infinite.
    pub fn of(part: &MovingPart, u: Bracket) -> Option<Self> {
        let corners: Vec<Corner> = part.features.iter().map(|feature| Corner::of(feature, part, u)).collect();
        let frame = frame_of(&corners);
        let reach = |direction: DVec3| {
            corners.iter().fold(f64::NEG_INFINITY, |most, corner| {
                let own = corner.reach_m(direction);
                if own.is_nan() || most.is_nan() { f64::NAN } else { most.max(own) }
            }) + ROUNDING_M
        };
        let reaches = frame.map(|axis| [-reach(-axis), reach(axis)]);
        if !reaches.iter().flatten().all(|m| m.is_finite()) {
            return None;
        }
        let mut solid = Polytope::block(frame, reaches);
        let mut half_spaces: Vec<HalfSpace> = frame
            .iter()
            .zip(&reaches)
            .flat_map(|(&axis, &[low, high])| {
                [HalfSpace { normal: axis, offset_m: high }, HalfSpace { normal: -axis, offset_m: -low }]
            })
            .collect();
        for way in ways() {
            let normal = frame[0] * way.x + frame[1] * way.y + frame[2] * way.z;
            let half_space = HalfSpace { normal, offset_m: reach(normal) };
            solid = solid.cut(half_space, half_spaces.len())?;
            half_spaces.push(half_space);
        }
        let extent = extent_of(solid.points());
        Some(Self { solid, convex: ConvexSolid { half_spaces, extent } })
    }
}

/// A solid inside the part at u, less its motion error, with its volume in m³. `None` when nothing with a volume is
/// left.
pub(super) fn inside(part: &MovingPart, u: f64) -> Option<(ConvexSolid, f64)> {
    let hull = part.hull(u);
    let still = Bracket::exactly(u);
    let corners: Vec<Corner> = part.features.iter().map(|feature| Corner::of(feature, part, still)).collect();
    let frame = frame_of(&corners);
    let mut points: Vec<DVec3> = Vec::new();
    let axes = frame.into_iter().flat_map(|axis| [axis, -axis]);
    for direction in axes.chain(ways().map(|way| frame[0] * way.x + frame[1] * way.y + frame[2] * way.z)) {
        let all = hull.features.iter().map(|feature: &Feature| feature.farthest(direction));
        let Some(farthest) = all.max_by(|a, b| a.dot(direction).total_cmp(&b.dot(direction))) else { continue };
        if !points.iter().any(|p| (*p - farthest).length_squared() < 1e-14) {
            points.push(farthest);
        }
    }
    if !points.iter().all(|p| p.is_finite()) {
        return None;
    }
    let (mut half_spaces, volume_m3) = hull_of(&points)?;
    for half_space in &mut half_spaces {
        half_space.offset_m -= part.motion_error_m + ROUNDING_M;
    }
    let volume_m3 = if part.motion_error_m > 0.0 { 0.0 } else { volume_m3 * (1.0 - 1e-9) };
    Some((ConvexSolid { half_spaces, extent: extent_of(&points) }, volume_m3))
}

fn extent_of(points: &[DVec3]) -> Extent {
    points.iter().fold(Extent::EMPTY, |extent, point| extent.with_ball(*point, ROUNDING_M))
}

/// The directions besides the six of the frame: through every edge and corner of a cube, and between those.
fn ways() -> impl Iterator<Item = DVec3> {
    let steps = || (-2..=2).map(f64::from);
    let all = steps().flat_map(move |x| steps().flat_map(move |y| steps().map(move |z| DVec3::new(x, y, z))));
    all.filter(|way| {
        let mut sizes = [way.x.abs(), way.y.abs(), way.z.abs()];
        sizes.sort_by(f64::total_cmp);
        [[0.0, 1.0, 1.0], [1.0, 1.0, 1.0], [0.0, 1.0, 2.0], [1.0, 1.0, 2.0]].contains(&sizes)
    })
    .map(|way| way.normalize_or_zero())
}

/// A frame along the part's shortest edges, its motion, or the world's axes: the first three usable directions in this
/// order.
fn frame_of(corners: &[Corner]) -> [DVec3; 3] {
    let middle = |corner: &Corner| (corner.from + corner.to) / 2.0;
    let mut edges: Vec<DVec3> = Vec::new();
    for (i, one) in corners.iter().enumerate() {
        edges.extend(corners.iter().skip(i + 1).map(|other| middle(other) - middle(one)));
    }
    edges.sort_by(|a, b| a.length_squared().total_cmp(&b.length_squared()));
    let motions = corners.iter().map(|corner| corner.to - corner.from);
    let motion = motions.max_by(|a, b| a.length_squared().total_cmp(&b.length_squared())).unwrap_or_default();
    let wanted = edges.into_iter().chain([motion, DVec3::Z, DVec3::X, DVec3::Y]);
    let mut frame: Vec<DVec3> = Vec::with_capacity(3);
    for way in wanted {
        let Some(way) = way.try_normalize() else { continue };
        let across = frame.iter().fold(way, |left, axis| left - *axis * left.dot(*axis));
        // Skip a direction nearly parallel to an axis already chosen.
        if across.length() > 0.3 && frame.len() < 2 {
            let axis = across.normalize_or_zero();
            frame.push((axis - frame.iter().fold(DVec3::ZERO, |sum, f| sum + *f * axis.dot(*f))).normalize_or_zero());
        }
    }
    match frame[..] {
        [x, y] => [x, y, x.cross(y).normalize_or_zero()],
        _ => [DVec3::X, DVec3::Y, DVec3::Z],
    }
}
