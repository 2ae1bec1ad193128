//! How near a wire that is held out, or on its way there, comes to the other wires: a bracket of the smallest gap over all
//! members of both families, each blown about independently of the other.
//!
//! For any unit n, the gap between two sets is at least what is left between their supports along n. The best n is that of the
//! closest points of their convex hulls. Best first, whatever makes the hulls most too large is halved.

use super::family::{Member, Patch, SpanFamily};
use super::placed::PlacedFamily;
use super::state::{Place, WireState};
use crate::bracket::Bracket;
use crate::side_by_side;
use crate::solid::Extent;
use crate::solid::nearest::nearest;
use glam::DVec3;
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// The bracket is narrow enough, but for the families' form.
const WIDTH_M: f64 = 0.005;
/// To what the closest points of two convex hulls are found.
const ACCURACY_M: f64 = 0.0002;
/// Pairs of pieces looked at for one pair of wires; after that the bracket stays as wide as it is.
const LOOKS: usize = 4000;

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
    let seen: Vec<(&WireState, Vec<Seen>)> = states.iter().map(|state| (state, Seen::all(&state.families))).collect();
    let moved: Vec<usize> = (0..states.len()).filter(|at| states.get(*at).and_then(moved).is_some()).collect();
    side_by_side::map(&moved, |at| seen.get(*at).map_or(Vec::new(), |one| spacings_of(one, &seen)))
        .into_iter()
        .flatten()
        .collect()
}

/// Of one wire to all others.
fn spacings_of((state, families): &(&WireState, Vec<Seen>), all: &[(&WireState, Vec<Seen>)]) -> Vec<Spacing> {
    let mut found = Vec::new();
    let Some(place) = moved(state) else { return found };
    for (other, others) in all.iter().filter(|(other, _)| other.weather == state.weather && other.wire != state.wire) {
        // Two wires that are both moved are named once.
        if moved(other).is_some() && other.wire < state.wire {
            continue;
        }
        let steps: Vec<usize> = state.steps.iter().copied().filter(|step| other.steps.contains(step)).collect();
        if steps.is_empty() {
            continue;
        }
        if let Some((low_m, high_m)) = smallest_gap(families, others) {
            let (wire, other, weather) = (state.wire, other.wire, state.weather);
            found.push(Spacing { wire, other, weather, steps, place, low_m, high_m });
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

/// A pair of pieces, of which at first only a bound is known.
struct Pair<'a> {
    pieces: [Piece<'a>; 2],
    low_m: f64,
    /// About the way from the other to the one; zero when unknown.
    way: DVec3,
    look: Option<Look>,
}

/// What the closest points of the convex hulls of two pieces tell.
#[derive(Clone, Copy)]
struct Look {
    low_m: f64,
    /// The gap of two members.
    witness_m: f64,
    way: DVec3,
    /// Where the hulls are too large: which piece, and which of [`Patch::ranges`].
    worst: [usize; 2],
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

/// A whole family and the box about it.
struct Seen<'a> {
    /// None when it cannot be used.
    piece: Option<Piece<'a>>,
    extent: Extent,
}

impl<'a> Seen<'a> {
    fn all(families: &'a [PlacedFamily]) -> Vec<Self> {
        let seen = |placed: &'a PlacedFamily| {
            let piece = Piece::whole(&placed.family);
            Self { piece, extent: piece.map_or(Extent::ALL, |piece| piece.family.extent(&piece.patch)) }
        };
        families.iter().map(seen).collect()
    }
}

/// `None` when there is nothing to compare; −∞ and ∞ when there is, but it cannot be.
fn smallest_gap(ones: &[Seen], others: &[Seen]) -> Option<(f64, f64)> {
    let mut unseen = Vec::with_capacity(ones.len() * others.len());
    for one in ones {
        for other in others {
            let (Some(one_piece), Some(other_piece)) = (one.piece, other.piece) else {
                return Some((f64::NEG_INFINITY, f64::INFINITY));
            };
            let pieces = [one_piece, other_piece];
            let way = one.extent.way_from(other.extent);
            unseen.push(Pair { pieces, low_m: way.length() - taken_m(pieces), way, look: None });
        }
    }
    let mut heap = BinaryHeap::from(unseen);
    let mut high = f64::INFINITY;
    let mut looks = 0;
    while let Some(mut nearest) = heap.pop() {
        // What halving could still gain on the low of this pair: the rest is the families' form.
        let open_m = nearest.look.map(|look| look.witness_m - form_m(nearest.pieces) - look.low_m);
        if high - nearest.low_m <= WIDTH_M || open_m.is_some_and(|open_m| open_m <= WIDTH_M) || looks >= LOOKS {
            return Some((nearest.low_m.min(high), high));
        }
        if let Some(look) = nearest.look {
            for pieces in halves(nearest.pieces, look.worst) {
                heap.push(Pair { pieces, low_m: nearest.low_m, way: look.way, look: None });
            }
        } else {
            looks += 1;
            let look = Look::at(nearest.pieces, nearest.way);
            high = high.min(look.witness_m);
            // A half is never nearer than the whole it comes from.
            nearest.low_m = nearest.low_m.max(look.low_m);
            nearest.look = Some(look);
            heap.push(nearest);
        }
    }
    None
}

fn halves([one, other]: [Piece; 2], [side, range]: [usize; 2]) -> [[Piece; 2]; 2] {
    if side == 0 { one.halves(range).map(|half| [half, other]) } else { other.halves(range).map(|half| [one, half]) }
}

fn form_m([one, other]: [Piece; 2]) -> f64 {
    one.family.form_m + other.family.form_m
}

/// What comes off the distance of two centre lines, rounding included.
fn taken_m(pieces: [Piece; 2]) -> f64 {
    let [one, other] = pieces.map(|piece| piece.family.radius_m);
    one + other + form_m(pieces) + 1e-9
}

impl Look {
    fn at(pieces: [Piece; 2], way: DVec3) -> Self {
        let [one, other] = pieces;
        let farthest = |v: DVec3| {
            let at = [one.family.support(-v, &one.patch).1, other.family.support(v, &other.patch).1];
            ([one.family.point(&at[0]), other.family.point(&at[1])], at)
        };
        let closest = nearest(farthest, way, ACCURACY_M);
        let way = closest.points[0] - closest.points[1];
        // No two centre lines are nearer than touching.
        let apart_m = way.try_normalize().map_or(0.0, |n| {
            let (reach_one, _) = one.family.support(-n, &one.patch);
            let (reach_other, _) = other.family.support(n, &other.patch);
            (-reach_one - reach_other).max(0.0)
        });
        let mut means = [[0.0; 5]; 2];
        for (members, share) in closest.mixed() {
            for (mean, member) in means.iter_mut().zip(members) {
                add(mean, member.ranges().map(|x| x * share));
            }
        }
        let mut spreads = [[0.0; 5]; 2];
        for (members, share) in closest.mixed() {
            for ((spread, mean), member) in spreads.iter_mut().zip(&means).zip(members) {
                let ranges = member.ranges();
                add(spread, std::array::from_fn(|k| share * (ranges[k] - mean[k]).abs()));
            }
        }
        let at = [one.member(means[0]), other.member(means[1])];
        let losses = [one.losses_m(&at[0], spreads[0]), other.losses_m(&at[1], spreads[1])];
        let mut worst = (0.0, [0, 0]);
        for (side, losses) in losses.into_iter().enumerate() {
            for (range, loss_m) in losses.into_iter().enumerate() {
                if loss_m > worst.0 {
                    worst = (loss_m, [side, range]);
                }
            }
        }
        let radii_m = one.family.radius_m + other.family.radius_m;
        let witness_m = members_apart_m(pieces, at, closest.points[1]) - radii_m;
        Self { low_m: apart_m - taken_m(pieces), witness_m, way, worst: worst.1 }
    }
}

fn add(sum: &mut [f64; 5], more: [f64; 5]) {
    for (sum, more) in sum.iter_mut().zip(more) {
        *sum += more;
    }
}

/// The distance of two centre-line points, near the two members and near a point of the other's hull.
fn members_apart_m([one, other]: [Piece; 2], at: [Member; 2], near: DVec3) -> f64 {
    let mut least = one.family.point(&at[0]).distance(other.family.point(&at[1]));
    let mut near = near;
    for _ in 0..2 {
        let on_one = one.family.point(&one.family.member_near(near, at[0].t, &one.patch));
        near = other.family.point(&other.family.member_near(on_one, at[1].t, &other.patch));
        least = least.min(on_one.distance(near));
    }
    least
}

impl<'a> Piece<'a> {
    fn whole(family: &'a SpanFamily) -> Option<Self> {
        let patch = family.patch(Bracket::between(0.0, 1.0)?);
        family.is_sound().then_some(Self { family, patch })
    }

    fn halves(self, range: usize) -> [Self; 2] {
        let halves = self.patch.ranges().get(range).map_or([self.patch.t; 2], |range| range.halves());
        halves.map(|half| Self { patch: self.patch.with(range, half), ..self })
    }

    fn member(&self, [t, curvature, blowout, a, b]: [f64; 5]) -> Member {
        self.patch.clamp(Member { t, curvature, blowout, a, b })
    }

    /// About how far a mixture of members, each range spread so much around a member, lies from every member: what each range
    /// has to do with it. An order to halve in, not a bound.
    fn losses_m(&self, at: &Member, [t, curvature, blowout, a, b]: [f64; 5]) -> [f64; 5] {
        let family = self.family;
        let curve = family.catenary(self.patch.curvature.high());
        let (depth, steep) = (curve.depth_m(at.t), curve.deepening_m(at.t).abs().max(curve.bend_m(at.t) * t));
        let (way_a, way_b) = (family.a[0].distance(family.a[1]), family.b[0].distance(family.b[1]));
        let slackening = if curvature > 0.0 { steep * curvature / self.patch.curvature.high() } else { 0.0 };
        let [of_curvature, of_blowout, of_a, of_b] =
            [slackening, steep * blowout, way_a * a, way_b * b].map(|by| by * t);
        let lost = [
            curve.bend_m(at.t) * t * t / 2.0 + of_curvature + of_blowout + of_a + of_b,
            of_curvature,
            depth * blowout * blowout / 2.0 + of_blowout,
            of_a,
            of_b,
        ];
        // Where no mixture is to blame, the largest range.
        let widths = self.patch.ranges().map(Bracket::width);
        let deepest = depth / self.patch.curvature.high().max(1e-12);
        let sizes = [family.run_m + family.rise_m.abs(), deepest, depth, way_a, way_b];
        std::array::from_fn(|k| if widths[k] > 1e-12 { lost[k] + 1e-6 * sizes[k] * widths[k] } else { 0.0 })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::conductor::Catenary;
    use proptest::prelude::*;

    fn smallest_gap(ones: &[PlacedFamily], others: &[PlacedFamily]) -> Option<(f64, f64)> {
        super::smallest_gap(&Seen::all(ones), &Seen::all(others))
    }

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
