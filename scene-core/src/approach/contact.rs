//! A pair of close points: one of a solid, one of a member of a family of wires or of another solid.
//!
//! For a wire, the search replaces the wire by its tangent at the last member, finds the closest points of solid and
//! tangent segment from support points, and takes the member nearest to the solid's point as the next one. Every result
//! is a real pair of points. Whether it is the closest pair does not matter for the proof.

use super::part_motion::{PartMotion, Pose};
use super::proof::Measure;
use crate::bracket::Bracket;
use crate::conductor::{Member, Patch, SpanFamily};
use crate::solid::across;
use crate::solid::nearest::nearest;
use glam::DVec3;

/// A point of the solid and a point of a center line.
#[derive(Clone, Copy, Debug)]
pub(super) struct Contact {
    /// Distance to the center line, meters.
    pub distance_m: f64,
    /// Unit vector from the wire to the solid.
    pub n: DVec3,
    pub member: Member,
    pub on_body: DVec3,
    pub on_wire: DVec3,
}

/// The hull less the ball that all its corners share. Corners without other radii become points.
struct Core<'a> {
    pose: &'a Pose,
    measure: Measure,
    margin_m: f64,
}

impl<'a> Core<'a> {
    fn new(pose: &'a Pose, measure: Measure) -> Self {
        let balls = pose.corners.iter().map(|corner| corner.ball(measure));
        let least = balls.fold(f64::INFINITY, f64::min);
        Self { pose, measure, margin_m: if least.is_finite() { least } else { 0.0 } }
    }

    /// The contact of a core point and a member, with the shared ball added back. `n` is the direction to try.
    fn contact(&self, on_core: DVec3, n: DVec3, family: &SpanFamily, member: Member) -> Contact {
        let on_wire = family.point(&member);
        let apart = on_core - on_wire;
        let length = apart.length();
        let taken = self.margin_m.min(length);
        Contact { distance_m: length - taken, n, member, on_body: on_core - apart.normalize_or_zero() * taken, on_wire }
    }

    /// The core's point farthest against `v`.
    fn farthest_against(&self, v: DVec3) -> DVec3 {
        let length = v.length();
        let unit = if length > 0.0 { v / length } else { DVec3::ZERO };
        let mut best = (f64::INFINITY, DVec3::ZERO);
        for corner in &self.pose.corners {
            let mut point = corner.at.at;
            let rest = corner.ball(self.measure) - self.margin_m;
            if rest > 0.0 {
                point -= unit * rest;
            }
            if corner.disc_m > 0.0 {
                point -= across(unit, corner.axis.at) * corner.disc_m;
            }
            let along = unit.dot(point);
            if along < best.0 {
                best = (along, point);
            }
        }
        best.1
    }
}

/// A close pair at this pose. `accuracy_m` ends the iteration; `guess` is a fraction of the run; `start` estimates the
/// vector from the wire, or is zero.
pub(super) fn near(
    pose: &Pose,
    measure: Measure,
    family: &SpanFamily,
    patch: &Patch,
    guess: f64,
    start: DVec3,
    accuracy_m: f64,
) -> Contact {
    let core = Core::new(pose, measure);
    let center = PartMotion::center(pose);
    let mut member = family.member_near(center, guess, patch);
    let mut best: Option<Contact> = None;
    let mut start = start;
    for _ in 0..6 {
        let at = family.point(&member);
        let tangent = family.tangent(&member);
        let ends = [at + tangent * (patch.t.low() - member.t), at + tangent * (patch.t.high() - member.t)];
        let farthest = |v: DVec3| if v.dot(ends[1]) > v.dot(ends[0]) { ends[1] } else { ends[0] };
        if start == DVec3::ZERO {
            start = center - at;
        }
        let pair = nearest(|v| ([core.farthest_against(v), farthest(v)], ()), start, accuracy_m);
        let [on_body, on_tangent] = pair.points;
        start = on_body - on_tangent;
        let along = (on_tangent - at).dot(tangent) / tangent.length_squared();
        let t = if along.is_finite() { member.t + along } else { member.t };
        member = family.member_near(on_body, t, patch);
        let apart = on_body - family.point(&member);
        let n = apart.try_normalize().unwrap_or(DVec3::Z);
        let contact = core.contact(on_body, n, family, member);
        if best.is_none_or(|best| contact.distance_m < best.distance_m) {
            best = Some(contact);
        }
        if contact.on_wire.distance(on_tangent) <= accuracy_m {
            break;
        }
    }
    best.unwrap_or_else(|| core.contact(center, DVec3::Z, family, member))
}

/// A point of each of two solids.
#[derive(Clone, Copy, Debug)]
pub(super) struct BodyContact {
    /// Meters; zero when they overlap.
    pub distance_m: f64,
    /// Unit vector from the second solid to the first; zero when even their cores overlap.
    pub n: DVec3,
    pub points: [DVec3; 2],
}

/// A close pair of points of two solids at one instant; `start` estimates the vector from the second to the first, or
/// is zero.
pub(super) fn between([a, b]: [&Pose; 2], measure: Measure, start: DVec3, accuracy_m: f64) -> BodyContact {
    let (core_a, core_b) = (Core::new(a, measure), Core::new(b, measure));
    let start = if start == DVec3::ZERO { PartMotion::center(a) - PartMotion::center(b) } else { start };
    let farthest = |v: DVec3| ([core_a.farthest_against(v), core_b.farthest_against(-v)], ());
    let [on_a, on_b] = nearest(farthest, start, accuracy_m).points;
    let apart = on_a - on_b;
    let length = apart.length();
    let n = apart.normalize_or_zero();
    let distance_m = (length - core_a.margin_m - core_b.margin_m).max(0.0);
    // Add the shared balls back along the line between the points, but not past each other.
    let taken_a = core_a.margin_m.min(length);
    let taken_b = core_b.margin_m.min(length - taken_a);
    BodyContact { distance_m, n, points: [on_a - n * taken_a, on_b + n * taken_b] }
}

/// The closest points of a solid and the convex hull of a patch.
pub(super) struct Apart {
    /// Its `n` is the best direction for the whole patch; `None` when the two overlap.
    pub contact: Option<Contact>,
    /// How far each range of the patch varies among the members whose mixture is the closest point, as a fraction of
    /// its width: t, curvature, blowout, a, b. A mixture is not a member, so a large spread means that the convex hull
    /// is too large.
    pub spread: [f64; 5],
}

/// The closest points of the solid and the convex hull of the patch.
pub(super) fn apart(
    pose: &Pose,
    measure: Measure,
    family: &SpanFamily,
    patch: &Patch,
    start: DVec3,
    accuracy_m: f64,
) -> Apart {
    let core = Core::new(pose, measure);
    let farthest = |v: DVec3| {
        let member = family.support(v, patch).1;
        ([core.farthest_against(v), family.point(&member)], member)
    };
    let pair = nearest(farthest, start, accuracy_m);
    let [on_body, on_set] = pair.points;
    let mut mean = [0.0; 5];
    for (member, weight) in pair.mixed() {
        for (sum, x) in mean.iter_mut().zip(member.ranges()) {
            *sum += x * weight;
        }
    }
    let mut spread = [0.0; 5];
    for (member, weight) in pair.mixed() {
        let widths = patch.ranges().map(Bracket::width);
        for k in 0..5 {
            if widths[k] > 0.0 {
                spread[k] += weight * (member.ranges()[k] - mean[k]).abs() / widths[k];
            }
        }
    }
    let contact = (on_body - on_set).try_normalize().map(|n| {
        // Take the nearer of two members: the one at the mean of the ranges, or one near the hull's point.
        let [t, curvature, blowout, a, b] = mean;
        let middle = patch.clamp(Member { t, curvature, blowout, a, b });
        let near = family.member_near(on_body, t, patch);
        let contacts = [middle, near].map(|member| core.contact(on_body, n, family, member));
        let [middle, near] = contacts;
        if near.distance_m < middle.distance_m { near } else { middle }
    });
    Apart { contact, spread }
}
