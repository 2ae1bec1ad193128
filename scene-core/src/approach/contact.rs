//! A close pair of points, one of the hull and one of a member of the family.
//!
//! The wire is replaced by its tangent at the last member found, the closest points of hull and tangent segment are
//! found by GJK (Gilbert, Johnson, Keerthi 1988) on support points, and the nearest member to that point of the hull is
//! the next one. Whatever comes out is a real pair; how close it is to the closest does not matter for validity.

use super::Measure;
use super::leg::Pose;
use crate::bracket::Bracket;
use crate::conductor::{Member, Patch, SpanFamily};
use crate::solid::across;
use glam::DVec3;

/// A point of the solid and one of a centre line.
#[derive(Clone, Copy, Debug)]
pub(super) struct Contact {
    pub distance_m: f64,
    /// Unit vector from the wire to the solid.
    pub n: DVec3,
    pub member: Member,
    pub on_body: DVec3,
    pub on_wire: DVec3,
}

/// The hull with the ball that all its corners share taken off: corners that are then points stay points.
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

    /// The pair of a point of the core and a member, the margin taken off; `n` is what to try as its direction.
    fn contact(&self, on_core: DVec3, n: DVec3, family: &SpanFamily, member: Member) -> Contact {
        let on_wire = family.point(&member);
        let apart = on_core - on_wire;
        let length = apart.length();
        let taken = self.margin_m.min(length);
        Contact { distance_m: length - taken, n, member, on_body: on_core - apart.normalize_or_zero() * taken, on_wire }
    }

    /// The point farthest against `v`.
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

/// A close pair at this pose. `accuracy_m` says when to stop; `guess` is a fraction of the run; `start` is about the way
/// from the wire, or zero.
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
    let centre = super::Leg::centre(pose);
    let mut member = family.member_near(centre, guess, patch);
    let mut best: Option<Contact> = None;
    let mut start = start;
    for _ in 0..6 {
        let at = family.point(&member);
        let tangent = family.tangent(&member);
        let ends = [at + tangent * (patch.t.low() - member.t), at + tangent * (patch.t.high() - member.t)];
        let farthest = |v: DVec3| (if v.dot(ends[1]) > v.dot(ends[0]) { ends[1] } else { ends[0] }, ());
        if start == DVec3::ZERO {
            start = centre - at;
        }
        let pair = hull_to_set(&core, farthest, start, accuracy_m);
        start = pair.on_body - pair.on_set;
        let along = (pair.on_set - at).dot(tangent) / tangent.length_squared();
        let t = if along.is_finite() { member.t + along } else { member.t };
        member = family.member_near(pair.on_body, t, patch);
        let apart = pair.on_body - family.point(&member);
        let n = apart.try_normalize().unwrap_or(DVec3::Z);
        let contact = core.contact(pair.on_body, n, family, member);
        if best.is_none_or(|best| contact.distance_m < best.distance_m) {
            best = Some(contact);
        }
        if contact.on_wire.distance(pair.on_set) <= accuracy_m {
            break;
        }
    }
    best.unwrap_or_else(|| core.contact(centre, DVec3::Z, family, member))
}

/// Hull and convex hull of the patch.
pub(super) struct Apart {
    /// Its `n` is the best there is for the whole patch at once; `None` when the two overlap.
    pub contact: Option<Contact>,
    /// How far each range of the patch is spread among the members whose mixture is the closest point, as a fraction of
    /// its width: t, curvature, blowout, a, b. A mixture is no member: what is spread makes the convex hull too large.
    pub spread: [f64; 5],
}

/// The closest points of the hull and of the convex hull of the patch.
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
        (family.point(&member), member)
    };
    let pair = hull_to_set(&core, farthest, start, accuracy_m);
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
    let contact = (pair.on_body - pair.on_set).try_normalize().map(|n| {
        // Two members to choose from: the one at the mean of the ranges, and one near to the hull's point.
        let [t, curvature, blowout, a, b] = mean;
        let middle = patch.clamp(Member { t, curvature, blowout, a, b });
        let near = family.member_near(pair.on_body, t, patch);
        let contacts = [middle, near].map(|member| core.contact(pair.on_body, n, family, member));
        let [middle, near] = contacts;
        if near.distance_m < middle.distance_m { near } else { middle }
    });
    Apart { contact, spread }
}

/// The closest points found, and the support points of the difference of core and set that they are mixed from.
struct Pair<T> {
    on_body: DVec3,
    on_set: DVec3,
    size: usize,
    of_set: [T; 4],
    weight: [f64; 4],
}

impl<T: Copy> Pair<T> {
    fn mixed(&self) -> impl Iterator<Item = (T, f64)> {
        self.of_set.iter().copied().zip(self.weight).take(self.size)
    }
}

/// Up to four support points of the difference of core and set, with weights that give the point nearest to zero.
struct Simplex<T> {
    size: usize,
    point: [DVec3; 4],
    on_body: [DVec3; 4],
    of_set: [T; 4],
    weight: [f64; 4],
}

/// GJK between the core and a convex set given by the point of it that is farthest along a direction, with whatever
/// names that point.
fn hull_to_set<T: Copy + Default>(
    core: &Core,
    farthest: impl Fn(DVec3) -> (DVec3, T),
    start: DVec3,
    accuracy_m: f64,
) -> Pair<T> {
    let mut v = if start.length_squared() > 0.0 { start } else { DVec3::Z };
    let mut simplex = Simplex {
        size: 0,
        point: [DVec3::ZERO; 4],
        on_body: [DVec3::ZERO; 4],
        of_set: [T::default(); 4],
        weight: [0.0; 4],
    };
    for _ in 0..32 {
        let on_body = core.farthest_against(v);
        let (on_set, of_set) = farthest(v);
        let point = on_body - on_set;
        if simplex.size > 0 {
            let length = v.length();
            if length - v.dot(point) / length <= accuracy_m * 0.5 {
                break;
            }
        }
        simplex.add(point, on_body, of_set);
        let inside = simplex.reduce();
        v = simplex.nearest();
        if inside || v.length_squared() < 1e-20 {
            break;
        }
    }
    let weighted = |points: &[DVec3; 4]| {
        let pairs = points.iter().zip(&simplex.weight).take(simplex.size);
        pairs.map(|(&point, &weight)| point * weight).sum::<DVec3>()
    };
    let on_body = weighted(&simplex.on_body);
    let on_set = on_body - weighted(&simplex.point);
    Pair { on_body, on_set, size: simplex.size, of_set: simplex.of_set, weight: simplex.weight }
}

impl<T: Copy> Simplex<T> {
    fn add(&mut self, point: DVec3, on_body: DVec3, of_set: T) {
        let k = self.size.min(3);
        self.point[k] = point;
        self.on_body[k] = on_body;
        self.of_set[k] = of_set;
        self.weight[k] = 1.0;
        self.size = k + 1;
    }

    fn nearest(&self) -> DVec3 {
        (0..self.size).map(|k| self.point[k] * self.weight[k]).sum()
    }

    fn keep(&mut self, weights: [f64; 4]) {
        let mut kept = 0;
        for (k, weight) in weights.into_iter().enumerate().take(self.size) {
            if weight > 0.0 {
                self.point[kept] = self.point[k];
                self.on_body[kept] = self.on_body[k];
                self.of_set[kept] = self.of_set[k];
                self.weight[kept] = weight;
                kept += 1;
            }
        }
        self.size = kept;
    }

    /// Keeps the points that carry the one nearest to zero; true when zero is inside.
    fn reduce(&mut self) -> bool {
        let p = self.point;
        match self.size {
            2 => {
                let w = nearest_on_segment(p[0], p[1]);
                self.keep([w[0], w[1], 0.0, 0.0]);
            }
            3 => {
                let w = nearest_on_triangle(p[0], p[1], p[2]);
                self.keep([w[0], w[1], w[2], 0.0]);
            }
            4 => match nearest_on_tetrahedron(p) {
                Some(weights) => self.keep(weights),
                None => {
                    self.weight = inside_weights(p);
                    return true;
                }
            },
            _ => {}
        }
        false
    }
}

fn nearest_on_segment(a: DVec3, b: DVec3) -> [f64; 2] {
    let ab = b - a;
    let along = -a.dot(ab);
    let length = ab.length_squared();
    if along <= 0.0 || length == 0.0 {
        [1.0, 0.0]
    } else if along >= length {
        [0.0, 1.0]
    } else {
        [1.0 - along / length, along / length]
    }
}

/// Weights of the point of a triangle nearest to zero, by the regions of its corners, edges and face (Ericson,
/// Real-Time Collision Detection, 5.1.5).
fn nearest_on_triangle(a: DVec3, b: DVec3, c: DVec3) -> [f64; 3] {
    let (ab, ac) = (b - a, c - a);
    let (d1, d2) = (-ab.dot(a), -ac.dot(a));
    if d1 <= 0.0 && d2 <= 0.0 {
        return [1.0, 0.0, 0.0];
    }
    let (d3, d4) = (-ab.dot(b), -ac.dot(b));
    if d3 >= 0.0 && d4 <= d3 {
        return [0.0, 1.0, 0.0];
    }
    let vc = d1 * d4 - d3 * d2;
    if vc <= 0.0 && d1 >= 0.0 && d3 <= 0.0 {
        let v = d1 / (d1 - d3);
        return [1.0 - v, v, 0.0];
    }
    let (d5, d6) = (-ab.dot(c), -ac.dot(c));
    if d6 >= 0.0 && d5 <= d6 {
        return [0.0, 0.0, 1.0];
    }
    let vb = d5 * d2 - d1 * d6;
    if vb <= 0.0 && d2 >= 0.0 && d6 <= 0.0 {
        let w = d2 / (d2 - d6);
        return [1.0 - w, 0.0, w];
    }
    let va = d3 * d6 - d5 * d4;
    if va <= 0.0 && d4 - d3 >= 0.0 && d5 - d6 >= 0.0 {
        let w = (d4 - d3) / ((d4 - d3) + (d5 - d6));
        return [0.0, 1.0 - w, w];
    }
    let sum = va + vb + vc;
    let (v, w) = (vb / sum, vc / sum);
    [1.0 - v - w, v, w]
}

/// `None` when zero is inside.
fn nearest_on_tetrahedron(p: [DVec3; 4]) -> Option<[f64; 4]> {
    let faces = [[0, 1, 2, 3], [0, 2, 3, 1], [0, 3, 1, 2], [1, 3, 2, 0]];
    let mut best: Option<(f64, [f64; 4])> = None;
    for [i, j, k, opposite] in faces {
        let normal = (p[j] - p[i]).cross(p[k] - p[i]);
        if normal.dot(p[i]) * normal.dot(p[i] - p[opposite]) > 0.0 {
            continue;
        }
        let w = nearest_on_triangle(p[i], p[j], p[k]);
        let distance = (p[i] * w[0] + p[j] * w[1] + p[k] * w[2]).length_squared();
        if best.is_none_or(|(least, _)| distance < least) {
            let mut weights = [0.0; 4];
            weights[i] = w[0];
            weights[j] = w[1];
            weights[k] = w[2];
            best = Some((distance, weights));
        }
    }
    best.map(|(_, weights)| weights)
}

/// Of zero inside a tetrahedron, by volumes.
fn inside_weights(p: [DVec3; 4]) -> [f64; 4] {
    let volume = |a: DVec3, b: DVec3, c: DVec3| a.dot(b.cross(c)).abs();
    let parts =
        [volume(p[1], p[2], p[3]), volume(p[0], p[2], p[3]), volume(p[0], p[1], p[3]), volume(p[0], p[1], p[2])];
    let sum: f64 = parts.iter().sum();
    if sum > 0.0 { parts.map(|part| part / sum) } else { [1.0, 0.0, 0.0, 0.0] }
}
