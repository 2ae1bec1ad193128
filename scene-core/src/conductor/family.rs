//! All curves in which one span of wire may hang, as a set with an exact support function.
//!
//! ```text
//!   A ── chord ── B      seen from the side            chord •          seen along the span
//!    \     │     /       t: fraction of the run         φ  / │
//!     `-.  │  .-'        depth(t) below the chord         /  │ −up·cos φ
//!        `-+-'                                           • ──  lateral·sin φ
//! ```

use super::catenary::Catenary;
use crate::bracket::Bracket;
use crate::solid::Extent;
use glam::DVec3;
use std::f64::consts::TAU;

/// All curves `c(t) = (1−t)·A + t·B + depth(t)·down(φ)`, t ∈ [0, 1], with A and B anywhere on their segments, φ
/// anywhere in `blowout`, and depth(t) that of any catenary whose `curvature` lies in its bracket. World frame, meters.
///
/// `depth(t)` is the depth of the exact catenary with this curvature, the run `run_m` and the rise `rise_m`, below its
/// chord at the fraction t of the run. It grows with curvature at every t and is zero for curvature zero. `down(φ) =
/// −up·cos φ + lateral·sin φ`, with up the world's z.
#[derive(Clone, Debug, PartialEq)]
pub struct SpanFamily {
    /// Where the first end may be: a segment. Two equal points for a fixed support.
    pub a: [DVec3; 2],
    /// Where the second end may be: a segment. Two equal points for a fixed support.
    pub b: [DVec3; 2],
    /// Horizontal unit vector across the span, toward positive blowout.
    pub lateral: DVec3,
    /// Angle of the wire's plane from vertical, radians.
    pub blowout: Bracket,
    /// Horizontal length of the catenary, meters.
    pub run_m: f64,
    /// Height of the catenary's second end above its first, meters.
    pub rise_m: f64,
    /// 1/a = w/H, per meter: from the tautest curve to the slackest. Never negative.
    pub curvature: Bracket,
    /// The conductor's radius with its ice, meters. Covers are not part of it: see `premise::Assumed::CoverThickness`.
    pub radius_m: f64,
    /// The shape error, meters: how far a true curve may lie outside this set. Every lower bound of a gap is reduced by
    /// it.
    pub shape_error_m: f64,
}

/// One point of one curve of a family.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Member {
    /// Fraction of the run, 0 … 1.
    pub t: f64,
    /// Per meter.
    pub curvature: f64,
    /// Radians.
    pub blowout: f64,
    /// Fraction along the segment of the first end.
    pub a: f64,
    /// Fraction along the segment of the second end.
    pub b: f64,
}

/// A part of a family: the points whose five parameters lie in these ranges.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Patch {
    /// Range of the fraction of the run.
    pub t: Bracket,
    /// Range of the curvature, per meter.
    pub curvature: Bracket,
    /// Range of the blowout, radians.
    pub blowout: Bracket,
    /// Range along the segment of the first end.
    pub a: Bracket,
    /// Range along the segment of the second end.
    pub b: Bracket,
}

impl Member {
    /// t, curvature, blowout, a, b: the order of [`Patch::ranges`].
    pub fn ranges(&self) -> [f64; 5] {
        [self.t, self.curvature, self.blowout, self.a, self.b]
    }
}

impl Patch {
    /// The ranges of t, curvature, blowout, a and b, in this order.
    pub fn ranges(&self) -> [Bracket; 5] {
        [self.t, self.curvature, self.blowout, self.a, self.b]
    }

    /// `member` with every parameter moved into the patch.
    pub fn clamp(&self, member: Member) -> Member {
        let within = |x: f64, range: Bracket| x.clamp(range.low(), range.high());
        Member {
            t: within(member.t, self.t),
            curvature: within(member.curvature, self.curvature),
            blowout: within(member.blowout, self.blowout),
            a: within(member.a, self.a),
            b: within(member.b, self.b),
        }
    }

    /// The patch with one of its [ranges](Self::ranges) replaced.
    #[must_use]
    pub fn with(mut self, which: usize, range: Bracket) -> Self {
        match which {
            0 => self.t = range,
            1 => self.curvature = range,
            2 => self.blowout = range,
            3 => self.a = range,
            _ => self.b = range,
        }
        self
    }
}

impl SpanFamily {
    /// Every number is finite and of a size for which the formulas hold. A proof uses no other family.
    pub fn is_sound(&self) -> bool {
        let vectors = [self.a[0], self.a[1], self.b[0], self.b[1], self.lateral];
        let numbers = [self.run_m, self.rise_m, self.radius_m, self.shape_error_m];
        vectors.iter().all(|vector| vector.is_finite() && vector.abs().max_element() < 1e9)
            && numbers.iter().all(|number| number.abs() < 1e9)
            && self.run_m >= 0.0
            && self.radius_m >= 0.0
            && self.shape_error_m >= 0.0
            && self.curvature.low() >= 0.0
            && self.curvature.high() * self.run_m < 20.0
            && self.blowout.low().abs().max(self.blowout.high().abs()) < 100.0
    }

    /// The catenary of this family with the given curvature, per meter.
    pub fn catenary(&self, curvature: f64) -> Catenary {
        Catenary::of_shape(self.run_m, self.rise_m, curvature)
    }

    /// Vertical distance below the chord in still air at the fraction t of the run, meters.
    pub fn depth(&self, t: f64, curvature: f64) -> f64 {
        self.catenary(curvature).depth_m(t)
    }

    /// The unit vector in which a wire with this blowout hangs.
    pub fn down(&self, blowout: f64) -> DVec3 {
        let (sin, cos) = blowout.sin_cos();
        self.lateral * sin - DVec3::Z * cos
    }

    /// A member's point, meters.
    pub fn point(&self, member: &Member) -> DVec3 {
        self.chord(member) + self.down(member.blowout) * self.depth(member.t, member.curvature)
    }

    /// d point / d t, meters.
    pub fn tangent(&self, member: &Member) -> DVec3 {
        let slope = self.catenary(member.curvature).deepening_m(member.t);
        self.ends(member)[1] - self.ends(member)[0] + self.down(member.blowout) * slope
    }

    fn ends(&self, member: &Member) -> [DVec3; 2] {
        [self.a[0].lerp(self.a[1], member.a), self.b[0].lerp(self.b[1], member.b)]
    }

    fn chord(&self, member: &Member) -> DVec3 {
        let [a, b] = self.ends(member);
        a.lerp(b, member.t)
    }

    /// The stretch `t` of every curve of the family.
    pub fn patch(&self, t: Bracket) -> Patch {
        let unit = Bracket::exactly(0.0).hull(Bracket::exactly(1.0));
        let of = |ends: &[DVec3; 2]| {
            if ends[0] == ends[1] { Bracket::exactly(0.0) } else { unit }
        };
        Patch { t, curvature: self.curvature, blowout: self.blowout, a: of(&self.a), b: of(&self.b) }
    }

    /// The support function: how far the patch reaches along `n`, meters, and a member that reaches so far. Exact up to
    /// rounding.
    ///
    /// Depth is never negative and grows with curvature at every t. So for a fixed n, the best blowout points most
    /// along n. The best curvature is the slackest when the wire then hangs forward along n (g > 0, concave in t),
    /// otherwise the tautest (convex in t). The two ends add independently.
    pub fn support(&self, n: DVec3, patch: &Patch) -> (f64, Member) {
        let (a, along_a) = farther_end(n.dot(self.a[0]), n.dot(self.a[1]), patch.a);
        let (b, along_b) = farther_end(n.dot(self.b[0]), n.dot(self.b[1]), patch.b);
        let (blowout, g) = self.farthest_blowout(n, patch.blowout);
        let rise = along_b - along_a;
        let (t, curvature, depth) = if g > 0.0 {
            let curve = self.catenary(patch.curvature.high());
            // The zero of the derivative rise + g·slope(t).
            let t = curve.fraction_of_deepening(-rise / g);
            let t = if t.is_nan() { if rise > 0.0 { 1.0 } else { 0.0 } } else { t };
            let t = t.clamp(patch.t.low(), patch.t.high());
            (t, patch.curvature.high(), curve.depth_m(t))
        } else {
            let curve = self.catenary(patch.curvature.low());
            let [from, to] = [patch.t.low(), patch.t.high()].map(|t| (t, curve.depth_m(t)));
            let value = |(t, depth): (f64, f64)| rise * t + g * depth;
            let (t, depth) = if value(from) >= value(to) { from } else { to };
            (t, patch.curvature.low(), depth)
        };
        (along_a + rise * t + g * depth, Member { t, curvature, blowout, a, b })
    }

    /// The blowout in the range that points most along n, and n·down there.
    fn farthest_blowout(&self, n: DVec3, range: Bracket) -> (f64, f64) {
        let (across, below) = (n.dot(self.lateral), -n.z);
        let along = |angle: f64| {
            let (sin, cos) = angle.sin_cos();
            across * sin + below * cos
        };
        let (low, high) = (range.low(), range.high());
        if low == high {
            return (low, along(low));
        }
        let best = across.atan2(below);
        let turned = best + ((low - best) / TAU).ceil() * TAU;
        if turned <= high {
            return (turned, across.hypot(below));
        }
        let (at_low, at_high) = (along(low), along(high));
        if at_low >= at_high { (low, at_low) } else { (high, at_high) }
    }

    /// A member of the patch near `q` at the fraction t. It is the nearest one when both ends are fixed.
    pub fn member_near(&self, q: DVec3, t: f64, patch: &Patch) -> Member {
        let mut member = Member {
            t: t.clamp(patch.t.low(), patch.t.high()),
            curvature: patch.curvature.high(),
            blowout: patch.blowout.low(),
            a: patch.a.middle(),
            b: patch.b.middle(),
        };
        self.turn_to(q, &mut member, patch);
        if patch.a.width() > 0.0 || patch.b.width() > 0.0 {
            for _ in 0..2 {
                self.shift_to(q, &mut member, patch);
                self.turn_to(q, &mut member, patch);
            }
        }
        member
    }

    /// Sets blowout and curvature so that the point is nearest to q. The ends stay.
    fn turn_to(&self, q: DVec3, member: &mut Member, patch: &Patch) {
        if patch.blowout.width() == 0.0 && patch.curvature.width() == 0.0 {
            return;
        }
        let from_chord = q - self.chord(member);
        let (blowout, wanted) = self.farthest_blowout(from_chord, patch.blowout);
        member.blowout = blowout;
        let (taut, slack) = (patch.curvature.low(), patch.curvature.high());
        let (least, most) = (self.depth(member.t, taut), self.depth(member.t, slack));
        member.curvature = if wanted >= most {
            slack
        } else if wanted <= least {
            taut
        } else {
            // Depth is nearly proportional to curvature, so two secant steps come close. Any result is a real member.
            let near = (taut + (slack - taut) * (wanted - least) / (most - least)).clamp(taut, slack);
            let depth = self.depth(member.t, near);
            let (steps, rest) = (slack - near, most - depth);
            if rest > 0.0 { (near + steps * (wanted - depth) / rest).clamp(taut, slack) } else { near }
        };
    }

    /// Moves the ends so that the point is nearer to q. Blowout and curvature stay.
    fn shift_to(&self, q: DVec3, member: &mut Member, patch: &Patch) {
        let (run_a, run_b) = (self.a[1] - self.a[0], self.b[1] - self.b[0]);
        let shift = |run: DVec3, share: f64, off: DVec3, range: Bracket, at: f64| {
            let reach = run.length_squared() * share;
            let wanted = if reach > 0.0 { at + off.dot(run) / reach } else { at };
            wanted.clamp(range.low(), range.high())
        };
        let off = q - self.point(member);
        member.a = shift(run_a, 1.0 - member.t, off, patch.a, member.a);
        let off = q - self.point(member);
        member.b = shift(run_b, member.t, off, patch.b, member.b);
    }

    /// The smallest axis-aligned box around the center lines of the patch.
    pub fn extent(&self, patch: &Patch) -> Extent {
        let reach = |n: DVec3| self.support(n, patch).0;
        let high = DVec3::new(reach(DVec3::X), reach(DVec3::Y), reach(DVec3::Z));
        let low = -DVec3::new(reach(-DVec3::X), reach(-DVec3::Y), reach(-DVec3::Z));
        Extent { low, high }
    }
}

/// The farthest fraction of a segment within `range`, and how far it reaches.
fn farther_end(from: f64, to: f64, range: Bracket) -> (f64, f64) {
    let fraction = if to > from { range.high() } else { range.low() };
    (fraction, from + (to - from) * fraction)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    pub fn level_span(run_m: f64, curvature: Bracket, blowout: Bracket) -> SpanFamily {
        SpanFamily {
            a: [DVec3::new(0.0, 0.0, 10.0); 2],
            b: [DVec3::new(run_m, 0.0, 10.0); 2],
            lateral: DVec3::Y,
            blowout,
            run_m,
            rise_m: 0.0,
            curvature,
            radius_m: 0.01,
            shape_error_m: 0.0,
        }
    }

    fn vector(size: f64) -> impl Strategy<Value = DVec3> {
        [-size..size, -size..size, -size..size].prop_map(DVec3::from)
    }

    fn bracket(low: f64, high: f64) -> impl Strategy<Value = Bracket> {
        prop_oneof![
            [low..high, low..high].prop_map(|[a, b]| Bracket::between(a, b).unwrap()),
            (low..high).prop_map(Bracket::exactly),
            Just(Bracket::exactly(0.0)),
        ]
    }

    prop_compose! {
        fn family()(
            a in vector(50.0), run in 1.0..120.0, rise in -30.0..30.0, heading in 0.0..TAU,
            shift_a in vector(0.5), shift_b in vector(0.5), moving in any::<bool>(),
            curvature in bracket(0.0, 0.02), blowout in bracket(-1.2, 1.2),
        ) -> SpanFamily {
            let (sin, cos) = f64::sin_cos(heading);
            let b = a + DVec3::new(cos * run, sin * run, rise);
            let by = if moving { 1.0 } else { 0.0 };
            SpanFamily {
                a: [a, a + shift_a * by],
                b: [b, b + shift_b * by],
                lateral: DVec3::new(-sin, cos, 0.0),
                blowout,
                run_m: run,
                rise_m: rise,
                curvature,
                radius_m: 0.01,
                shape_error_m: 0.0,
            }
        }
    }

    fn sub(whole: Bracket, ends: [f64; 2]) -> Bracket {
        Bracket::between(whole.at(ends[0]), whole.at(ends[1])).unwrap()
    }

    fn ends() -> impl Strategy<Value = [f64; 2]> {
        prop_oneof![Just([0.0, 1.0]), [0.0..=1.0, 0.0..=1.0]]
    }

    proptest! {
        #[test]
        fn no_member_reaches_beyond_the_support_and_one_attains_it(
            family in family(), direction in vector(1.0),
            cuts in [ends(), ends(), ends(), ends(), ends()],
            picks in prop::collection::vec([0.0..=1.0, 0.0..=1.0, 0.0..=1.0, 0.0..=1.0, 0.0..=1.0], 200),
        ) {
            let n = direction.try_normalize().unwrap_or(DVec3::Z);
            let whole = family.patch(sub(Bracket::between(0.0, 1.0).unwrap(), cuts[0]));
            let patch = Patch {
                t: whole.t,
                curvature: sub(whole.curvature, cuts[1]),
                blowout: sub(whole.blowout, cuts[2]),
                a: sub(whole.a, cuts[3]),
                b: sub(whole.b, cuts[4]),
            };
            let (reach, member) = family.support(n, &patch);
            prop_assert!((n.dot(family.point(&member)) - reach).abs() < 1e-9);
            prop_assert!(patch.t.widened(1e-12).contains(member.t));
            prop_assert!(patch.curvature.contains(member.curvature));
            prop_assert!(patch.blowout.widened(1e-12).contains(member.blowout));
            for pick in picks {
                let member = Member {
                    t: patch.t.at(pick[0]),
                    curvature: patch.curvature.at(pick[1]),
                    blowout: patch.blowout.at(pick[2]),
                    a: patch.a.at(pick[3]),
                    b: patch.b.at(pick[4]),
                };
                prop_assert!(n.dot(family.point(&member)) <= reach + 1e-10);
            }
        }

        #[test]
        fn the_tangent_is_that_of_finite_differences(family in family(), t in 0.01..0.99, pick in 0.0..1.0) {
            let member = Member {
                t, curvature: family.curvature.at(pick), blowout: family.blowout.at(pick), a: pick, b: pick,
            };
            let h = 1e-5;
            let [before, after] = [-h, h].map(|h| family.point(&Member { t: t + h, ..member }));
            prop_assert!(((after - before) / (2.0 * h) - family.tangent(&member)).length() < 1e-5);
        }

        #[test]
        fn a_member_near_is_in_the_patch_and_no_farther_than_any_at_that_fraction(
            family in family(), off in vector(6.0), t in 0.0..1.0, picks in prop::collection::vec([0.0..=1.0, 0.0..=1.0], 50),
        ) {
            let fixed = SpanFamily { a: [family.a[0]; 2], b: [family.b[0]; 2], ..family };
            let patch = fixed.patch(Bracket::between(0.0, 1.0).unwrap());
            let q = fixed.point(&fixed.support(off.normalize_or_zero(), &patch).1) + off;
            let member = fixed.member_near(q, t, &patch);
            prop_assert!(patch.curvature.contains(member.curvature) && patch.blowout.widened(1e-12).contains(member.blowout));
            let distance = fixed.point(&member).distance(q);
            for [pick, other] in picks {
                let rival = Member { curvature: patch.curvature.at(pick), blowout: patch.blowout.at(other), ..member };
                prop_assert!(distance <= fixed.point(&rival).distance(q) + 5e-3);
            }
        }

        #[test]
        fn a_slacker_wire_hangs_lower_everywhere(run in 1.0..200.0, rise in -60.0..60.0, k in 0.0..0.02, more in 0.0..0.01, t in 0.0..1.0) {
            let depth = |k: f64| Catenary::of_shape(run, rise, k).depth_m(t);
            prop_assert!(depth(k) >= 0.0);
            prop_assert!(depth(k + more) >= depth(k) - 1e-12);
        }
    }

    #[test]
    fn depth_is_that_of_the_catenary_written_out() {
        // z = a·cosh((x − x0)/a) through both ends, x0 from the rise (textbook form).
        for (run, rise, a) in [(100.0, 0.0, 500.0), (80.0, 12.0, 300.0), (60.0, -25.0, 90.0_f64)] {
            let x0 = run / 2.0 - a * f64::asinh(rise / (2.0 * a * f64::sinh(run / (2.0 * a))));
            let z = |x: f64| a * f64::cosh((x - x0) / a);
            for t in [0.0, 0.1, 0.5, 0.77, 1.0] {
                let below = z(0.0) + rise * t - z(t * run);
                let depth = Catenary::of_shape(run, rise, 1.0 / a).depth_m(t);
                assert!((below - depth).abs() < 1e-9, "{below} {depth}");
            }
        }
    }

    #[test]
    fn a_wire_without_weight_is_its_chord() {
        let curve = Catenary::of_shape(80.0, 7.0, 0.0);
        assert_eq!(curve.depth_m(0.3), 0.0);
        assert!(curve.deepening_m(0.3).abs() < 1e-12);
        let nearly = Catenary::of_shape(80.0, 7.0, 1e-14);
        assert!(nearly.depth_m(0.5) < 1e-10 && nearly.depth_m(0.5) > 0.0);
    }

    #[test]
    fn a_span_of_no_run_is_a_plumb_line() {
        let family = SpanFamily {
            b: [DVec3::new(0.0, 0.0, 4.0); 2],
            ..level_span(0.0, Bracket::exactly(0.01), Bracket::exactly(0.0))
        };
        let patch = family.patch(Bracket::between(0.0, 1.0).unwrap());
        assert_eq!(family.support(-DVec3::Z, &patch).0, -4.0);
        assert_eq!(family.support(DVec3::Z, &patch).0, 10.0);
    }
}
