//! The closest points of two convex sets, found from their support points by GJK (Gilbert, Johnson, Keerthi 1988).

use glam::DVec3;

/// The closest points of two convex sets, to the accuracy that was asked for, and the support points that they are
/// mixed from.
pub(crate) struct Nearest<T> {
    /// One point of each set; the same point twice when the sets overlap.
    pub points: [DVec3; 2],
    size: usize,
    label: [T; 4],
    weight: [f64; 4],
}

impl<T: Copy> Nearest<T> {
    /// The labels of the support points, each with its weight. The weights add up to one.
    pub fn mixed(&self) -> impl Iterator<Item = (T, f64)> {
        self.label.iter().copied().zip(self.weight).take(self.size)
    }
}

/// Up to four support points of the difference of the two sets, with the weights of the point nearest to the origin.
struct Simplex<T> {
    size: usize,
    point: [DVec3; 4],
    on_one: [DVec3; 4],
    label: [T; 4],
    weight: [f64; 4],
}

/// Finds the closest points of two convex sets.
///
/// `farthest(v)` returns the first set's point farthest against v, the second set's point farthest along v, and a label
/// for the two; v may have any length. `start` is an estimate of the vector from the second set to the first, or zero.
///
/// Any support points give two real points of the sets. `accuracy_m` and rounding decide how near these are to the
/// closest pair. Cost: at most 32 calls of `farthest`.
pub(crate) fn nearest<T: Copy + Default>(
    farthest: impl Fn(DVec3) -> ([DVec3; 2], T),
    start: DVec3,
    accuracy_m: f64,
) -> Nearest<T> {
    let mut v = if start.length_squared() > 0.0 { start } else { DVec3::Z };
    let mut simplex = Simplex {
        size: 0,
        point: [DVec3::ZERO; 4],
        on_one: [DVec3::ZERO; 4],
        label: [T::default(); 4],
        weight: [0.0; 4],
    };
    for _ in 0..32 {
        let (points, label) = farthest(v);
        if simplex.size > 0 {
            let length = v.length();
            if length - v.dot(points[0] - points[1]) / length <= accuracy_m * 0.5 {
                break;
            }
        }
        simplex.add(points, label);
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
    let on_one = weighted(&simplex.on_one);
    let on_other = on_one - weighted(&simplex.point);
    Nearest { points: [on_one, on_other], size: simplex.size, label: simplex.label, weight: simplex.weight }
}

impl<T: Copy> Simplex<T> {
    fn add(&mut self, points: [DVec3; 2], label: T) {
        let k = self.size.min(3);
        self.point[k] = points[0] - points[1];
        self.on_one[k] = points[0];
        self.label[k] = label;
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
                self.on_one[kept] = self.on_one[k];
                self.label[kept] = self.label[k];
                self.weight[kept] = weight;
                kept += 1;
            }
        }
        self.size = kept;
    }

    /// Keeps the points that support the one nearest to the origin. Returns true when the origin is inside.
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
                    // With four points nearly in one plane, rounding may see no face from outside although the origin
                    // is not inside.
                    let size = p.iter().map(|point| point.length_squared()).fold(0.0, f64::max);
                    if self.nearest().length_squared() <= 1e-16 * size {
                        return true;
                    }
                    self.keep(nearest_on_faces(p, |_| true).unwrap_or([1.0, 0.0, 0.0, 0.0]));
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
    nearest_on_faces(p, |[i, j, k, opposite]| {
        let normal = (p[j] - p[i]).cross(p[k] - p[i]);
        let within = normal.dot(p[i]) * normal.dot(p[i] - p[opposite]) > 0.0;
        !within
    })
}

/// On those faces of a tetrahedron that count; each is told with the corner opposite to it.
fn nearest_on_faces(p: [DVec3; 4], counts: impl Fn([usize; 4]) -> bool) -> Option<[f64; 4]> {
    let faces = [[0, 1, 2, 3], [0, 2, 3, 1], [0, 3, 1, 2], [1, 3, 2, 0]];
    let mut best: Option<(f64, [f64; 4])> = None;
    for [i, j, k, opposite] in faces {
        if !counts([i, j, k, opposite]) {
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
