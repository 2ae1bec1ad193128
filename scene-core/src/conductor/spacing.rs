//! How near a wire that is held out, or on its way there, comes to the other wires: a bracket of the smallest gap over all
//! members of both families, each blown about independently of the other.
//!
//! For any unit n, the gap between two sets is at least what is left between their supports along n. Best first, the stretch
//! or the blowout that leaves most open is halved.

use super::family::{Member, Patch, SpanFamily};
use super::hang::{Place, PlacedFamily, WireState};
use crate::bracket::Bracket;
use glam::DVec3;
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// The bracket is narrow enough, but for the families' form.
const WIDTH_M: f64 = 0.005;
/// Boxes looked at for one pair of wires; after that the bracket stays as wide as it is.
const BOXES: usize = 4000;

/// The smallest gap between two wires, surface to surface.
#[derive(Clone, Debug, PartialEq)]
pub struct Spacing {
    /// Index into the site's wires: the one that is moved, and the other (which may be moved as well).
    pub wire: usize,
    pub other: usize,
    pub weather: usize,
    pub steps: Vec<usize>,
    /// Of the wire that is moved.
    pub place: Place,
    /// Never above the true smallest gap, the families' form taken off; negative when they may overlap.
    pub low_m: f64,
    /// Between two members of the families.
    pub high_m: f64,
}

pub(super) fn spacings(states: &[WireState]) -> Vec<Spacing> {
    let mut found = Vec::new();
    for state in states {
        let Some(place) = moved(state) else { continue };
        for other in states.iter().filter(|other| other.weather == state.weather && other.wire != state.wire) {
            // Two wires that are both moved are named once.
            if moved(other).is_some() && other.wire < state.wire {
                continue;
            }
            let steps: Vec<usize> = state.steps.iter().copied().filter(|step| other.steps.contains(step)).collect();
            if steps.is_empty() {
                continue;
            }
            if let Some((low_m, high_m)) = smallest_gap(&state.families, &other.families) {
                let (wire, other, weather) = (state.wire, other.wire, state.weather);
                found.push(Spacing { wire, other, weather, steps, place, low_m, high_m });
            }
        }
    }
    found
}

fn moved(state: &WireState) -> Option<Place> {
    let any = |place| state.places.iter().any(|(_, at)| *at == place).then_some(place);
    any(Place::BeingPlaced).or(any(Place::Held))
}

/// A part of a family.
#[derive(Clone, Copy)]
struct Piece<'a> {
    family: &'a SpanFamily,
    patch: Patch,
}

/// A pair of pieces with its bounds.
struct Pair<'a> {
    pieces: [Piece<'a>; 2],
    low_m: f64,
    /// What halving could still gain on `low_m`: the rest is the families' form.
    open_m: f64,
}

impl PartialEq for Pair<'_> {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}
impl Eq for Pair<'_> {}
impl PartialOrd for Pair<'_> {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Pair<'_> {
    /// The heap gives the greatest: the least gap.
    fn cmp(&self, other: &Self) -> Ordering {
        other.low_m.total_cmp(&self.low_m)
    }
}

fn smallest_gap(ones: &[PlacedFamily], others: &[PlacedFamily]) -> Option<(f64, f64)> {
    let mut high = f64::INFINITY;
    let mut heap = BinaryHeap::new();
    for one in ones.iter().filter_map(|placed| Piece::whole(&placed.family)) {
        for other in others.iter().filter_map(|placed| Piece::whole(&placed.family)) {
            let (pair, witness_m) = Pair::new([one, other], f64::NEG_INFINITY);
            high = high.min(witness_m);
            heap.push(pair);
        }
    }
    for _ in 0..BOXES {
        let Some(nearest) = heap.peek() else { break };
        if high - nearest.low_m <= WIDTH_M || nearest.open_m <= WIDTH_M {
            break;
        }
        let Some(pair) = heap.pop() else { break };
        for pieces in halves(pair.pieces) {
            let (half, witness_m) = Pair::new(pieces, pair.low_m);
            high = high.min(witness_m);
            heap.push(half);
        }
    }
    let low = heap.peek()?.low_m;
    (low.is_finite() && high.is_finite()).then_some((low.min(high), high))
}

impl<'a> Pair<'a> {
    /// The pair and the gap of two of its members; a half is never nearer than the whole it comes from.
    fn new(pieces: [Piece<'a>; 2], whole_low_m: f64) -> (Self, f64) {
        let (low_m, witness_m) = bound(pieces);
        let form_m = pieces[0].family.form_m + pieces[1].family.form_m;
        (Self { pieces, low_m: low_m.max(whole_low_m), open_m: witness_m - form_m - low_m }, witness_m)
    }
}

/// Low bound of the gap, and the gap of two members.
fn bound([one, other]: [Piece; 2]) -> (f64, f64) {
    let radii = one.family.radius_m + other.family.radius_m;
    let form = one.family.form_m + other.family.form_m;
    let mut between = other.middle() - one.middle();
    let (mut low, mut witness) = (f64::NEG_INFINITY, between.length());
    for _ in 0..3 {
        let n = between.try_normalize().unwrap_or(DVec3::Z);
        let (reach_one, at_one) = one.family.support(n, &one.patch);
        let (reach_other, at_other) = other.family.support(-n, &other.patch);
        low = low.max(-reach_one - reach_other);
        // The farthest along n toward each other, then each the nearest to the other.
        let point = other.family.point(&at_other);
        let near = one.family.point(&one.family.member_near(point, at_one.t, &one.patch));
        let far = other.family.point(&other.family.member_near(near, at_other.t, &other.patch));
        between = far - near;
        witness = witness.min(between.length());
    }
    (low - radii - form, witness - radii)
}

/// The halves of whatever leaves the most open: a stretch or a blowout of either.
fn halves(pieces: [Piece; 2]) -> [[Piece; 2]; 2] {
    let [one, other] = pieces;
    let open = [one.open_m(), other.open_m()];
    if open[0].0.max(open[0].1) >= open[1].0.max(open[1].1) {
        one.halves(open[0]).map(|half| [half, other])
    } else {
        other.halves(open[1]).map(|half| [one, half])
    }
}

impl<'a> Piece<'a> {
    fn whole(family: &'a SpanFamily) -> Option<Self> {
        let patch = family.patch(Bracket::between(0.0, 1.0)?);
        family.is_sound().then_some(Self { family, patch })
    }

    fn halves(self, (stretch, swing): (f64, f64)) -> [Self; 2] {
        let patch = self.patch;
        if stretch >= swing {
            patch.t.halves().map(|t| Self { patch: Patch { t, ..patch }, ..self })
        } else {
            patch.blowout.halves().map(|blowout| Self { patch: Patch { blowout, ..patch }, ..self })
        }
    }

    fn middle(&self) -> DVec3 {
        let [t, curvature, blowout, a, b] = self.patch.ranges().map(Bracket::middle);
        self.family.point(&Member { t, curvature, blowout, a, b })
    }

    /// What its stretch and its blowout leave open: how far the piece is from convex. A stretch also leaves open where along it
    /// the gap is smallest: a hundredth of its length is counted for that.
    fn open_m(&self) -> (f64, f64) {
        let (t, curve) = (self.patch.t, self.family.catenary(self.patch.curvature.high()));
        let bend = curve.bend(t.low()).max(curve.bend(t.high()));
        let depth = curve.depth(t.low()).max(curve.depth(t.high())).max(curve.depth(t.middle()));
        let stretch = t.width() * t.width() * bend / 8.0 + 0.01 * t.width() * self.family.run_m;
        (stretch, depth * (1.0 - (self.patch.blowout.width() / 2.0).cos()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::conductor::Catenary;
    use proptest::prelude::*;

    fn level(y_m: f64, z_m: f64, blowout: f64) -> PlacedFamily {
        let (from, to) = (DVec3::new(0.0, y_m, z_m), DVec3::new(40.0, y_m, z_m));
        PlacedFamily {
            family: SpanFamily {
                a: [from; 2],
                b: [to; 2],
                lateral: DVec3::Y,
                blowout: Bracket::between(-blowout, blowout).unwrap(),
                run_m: 40.0,
                rise_m: 0.0,
                curvature: Bracket::between(0.002, 0.003).unwrap(),
                radius_m: 0.01,
                form_m: 0.0,
            },
            span: 0,
            station_m: [0.0, 40.0],
            station_error_m: 0.0,
            summary: None,
        }
    }

    #[test]
    fn still_wires_side_by_side_are_as_far_apart_as_their_supports() {
        let (low, high) = smallest_gap(&[level(0.0, 10.0, 0.0)], &[level(1.0, 10.0, 0.0)]).unwrap();
        assert!(low <= 0.98 + 1e-12 && 0.98 <= high + 1e-12 && high - low <= WIDTH_M, "{low} {high}");
    }

    #[test]
    fn wires_that_blow_toward_each_other_lose_both_their_swings() {
        let swing = 0.4f64;
        let deepest = Catenary::new(40.0, 0.0, 0.003).unwrap().midspan_sag_m();
        let expected = 1.0 - 2.0 * deepest * swing.sin() - 0.02;
        let (low, high) = smallest_gap(&[level(0.0, 10.0, swing)], &[level(1.0, 10.0, swing)]).unwrap();
        assert!(low <= expected + 1e-9 && high >= expected - 1e-9 && high - low <= WIDTH_M, "{low} {expected} {high}");
    }

    #[test]
    fn a_slack_wire_over_a_taut_one_loses_the_difference_of_their_sags() {
        let sag = |curvature| Catenary::new(40.0, 0.0, curvature).unwrap().midspan_sag_m();
        let expected = 1.0 - (sag(0.003) - sag(0.002)) - 0.02;
        let (low, high) = smallest_gap(&[level(0.0, 11.0, 0.0)], &[level(0.0, 10.0, 0.0)]).unwrap();
        assert!(low <= expected + 1e-9 && high >= expected - 1e-9 && high - low <= WIDTH_M, "{low} {expected} {high}");
    }

    /// A family whose second end may be anywhere on a way, blown out either way.
    fn families() -> impl Strategy<Value = PlacedFamily> {
        let point = || (-3.0f64..3.0, -3.0f64..3.0, -1.0f64..1.0).prop_map(|(x, y, z)| DVec3::new(x, y, z));
        let curvatures = (0.0f64..0.01, 0.0f64..0.01);
        (point(), point(), point(), 10.0f64..40.0, curvatures, 0.0f64..0.8).prop_map(
            |(from, to, way, run, bent, swing)| {
                let b = to + DVec3::X * run;
                let flat = DVec3::new(b.x - from.x, b.y - from.y, 0.0);
                let mut placed = level(0.0, 0.0, swing);
                placed.family.a = [from; 2];
                placed.family.b = [b, b + way * 0.3];
                placed.family.lateral = DVec3::new(-flat.y, flat.x, 0.0).normalize();
                (placed.family.run_m, placed.family.rise_m) = (flat.length(), b.z - from.z);
                placed.family.curvature = Bracket::between(bent.0, bent.1).unwrap();
                placed.family.form_m = 0.01;
                placed
            },
        )
    }

    fn member(family: &SpanFamily, [t, curvature, blowout, way]: [f64; 4]) -> DVec3 {
        let shape = Catenary::new(family.run_m, family.rise_m, family.curvature.at(curvature)).unwrap();
        let swing = family.blowout.at(blowout);
        let down = family.lateral * swing.sin() - DVec3::Z * swing.cos();
        family.a[0].lerp(family.b[0].lerp(family.b[1], way), t) + down * shape.depth_m(t)
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(60))]

        #[test]
        fn no_two_members_are_nearer_than_the_low_bound(
            one in families(), other in families(),
            members in prop::collection::vec((prop::array::uniform4(0.0f64..=1.0), prop::array::uniform3(0.0f64..=1.0)), 60),
        ) {
            let (low, high) = smallest_gap(std::slice::from_ref(&one), std::slice::from_ref(&other)).unwrap();
            prop_assert!(low <= high);
            let mut nearest = f64::INFINITY;
            for (at_one, [curvature, blowout, way]) in members {
                let point = member(&one.family, at_one);
                for step in 0..=100 {
                    let t = f64::from(step) / 100.0;
                    let gap = point.distance(member(&other.family, [t, curvature, blowout, way])) - 0.02;
                    prop_assert!(low <= gap - 0.02 + 1e-9, "low {low}, but members {gap} apart and 0.02 of form");
                    nearest = nearest.min(gap);
                }
            }
            prop_assert!(nearest.is_finite());
        }
    }
}
