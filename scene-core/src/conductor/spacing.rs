//! The distance between a wire that is held out, or on its way, and the other wires.
//!
//! The result brackets the smallest gap over all members of both families. One wind blows all wires at once: two wires that run
//! alike swing to the same side, each by any angle up to that of the full wind. Wires that cross swing independently.
//! Along any unit vector n, the gap of two sets is at least the space between their supports. The best n joins the
//! closest points of their convex hulls. The search takes the nearest pair first and halves the range that makes its
//! hulls too large.

use super::family::{Member, Patch, SpanFamily};
use super::placed::PlacedFamily;
use super::state::{HoldState, WireState};
use crate::bracket::Bracket;
use crate::side_by_side;
use crate::solid::Extent;
use crate::solid::nearest::nearest;
use glam::DVec3;
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// The search stops at this width of the bracket, meters, beyond the families' shape error.
const WIDTH_M: f64 = 0.005;
/// Accuracy of the closest points of two convex hulls, meters.
const ACCURACY_M: f64 = 0.0002;
/// Most pairs of parts examined for one pair of wires. After that the bracket stays as it is.
const LOOKS: usize = 4000;

/// The smallest gap between two wires, surface to surface.
#[derive(Clone, Debug, PartialEq)]
pub struct Spacing {
    /// The wire that is moved: index into [`crate::site::Site::wires`].
    pub wire: usize,
    /// The other wire, which may be moved as well.
    pub other: usize,
    /// Index into [`crate::site::Site::weather`].
    pub weather: usize,
    /// Indices of the steps for which the gap holds, ascending.
    pub steps: Vec<usize>,
    /// What the moved wire's phase is doing.
    pub place: HoldState,
    /// Lower bound of the gap, meters; includes the shape error. Negative when the wires may touch.
    pub low_m: f64,
    /// Gap between two members of the families, meters.
    pub high_m: f64,
}

/// The distances from every wire that is held out, or on its way, to every other wire during the same steps.
pub(super) fn spacings(states: &[WireState]) -> Vec<Spacing> {
    let seen: Vec<(&WireState, Vec<BoundedFamily>)> =
        states.iter().map(|state| (state, BoundedFamily::all(&state.families))).collect();
    let moved: Vec<usize> = (0..states.len()).filter(|at| states.get(*at).and_then(moved).is_some()).collect();
    side_by_side::map(&moved, |at| seen.get(*at).map_or(Vec::new(), |one| spacings_of(one, &seen)))
        .into_iter()
        .flatten()
        .collect()
}

/// A low bound of the gap between these stretches of one wire, by station, and all of another; −∞ when a family cannot be used, ∞ when
/// there is nothing to compare.
pub fn gap_of_stretches_m(one: &WireState, stretches: &[Bracket], other: &WireState) -> f64 {
    let ones = BoundedFamily::on_stretches(&one.families, stretches);
    smallest_gap(&ones, &BoundedFamily::all(&other.families)).map_or(f64::INFINITY, |(low_m, _)| low_m)
}

/// The distances of one wire to all others.
fn spacings_of(
    (state, families): &(&WireState, Vec<BoundedFamily>),
    all: &[(&WireState, Vec<BoundedFamily>)],
) -> Vec<Spacing> {
    let mut found = Vec::new();
    let Some(place) = moved(state) else { return found };
    for (other, others) in all.iter().filter(|(other, _)| other.weather == state.weather && other.wire != state.wire) {
        // Two moved wires appear once.
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

fn moved(state: &WireState) -> Option<HoldState> {
    let any = |place| state.hold_states.iter().any(|(_, at)| *at == place).then_some(place);
    any(HoldState::BeingPlaced).or(any(HoldState::Held))
}

/// A part of a family.
#[derive(Clone, Copy)]
struct FamilyPart<'a> {
    family: &'a SpanFamily,
    patch: Patch,
}

/// A pair of parts. At first only a lower bound of its gap is known.
struct PartPair<'a> {
    pieces: [FamilyPart<'a>; 2],
    low_m: f64,
    /// An estimate of the vector from the second part to the first; zero when unknown.
    way: DVec3,
    hull_gap: Option<HullGap>,
}

/// The result of the closest points of two parts' convex hulls.
#[derive(Clone, Copy)]
struct HullGap {
    low_m: f64,
    /// The gap of two members.
    witness_m: f64,
    way: DVec3,
    /// Where the hulls are most too large: which part, and which of its [`Patch::ranges`].
    worst: [usize; 2],
}

impl PartialEq for PartPair<'_> {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}
impl Eq for PartPair<'_> {}
impl PartialOrd for PartPair<'_> {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for PartPair<'_> {
    /// A heap returns its greatest entry first: here the pair with the smallest lower bound.
    fn cmp(&self, other: &Self) -> Ordering {
        other.low_m.total_cmp(&self.low_m)
    }
}

/// A whole family and its box.
struct BoundedFamily<'a> {
    /// `None` when the family cannot be used.
    piece: Option<FamilyPart<'a>>,
    extent: Extent,
}

impl<'a> BoundedFamily<'a> {
    fn all(families: &'a [PlacedFamily]) -> Vec<Self> {
        let seen = |placed: &'a PlacedFamily| {
            let piece = FamilyPart::whole(&placed.family);
            Self { piece, extent: piece.map_or(Extent::ALL, |piece| piece.family.extent(&piece.patch)) }
        };
        families.iter().map(seen).collect()
    }

    fn on_stretches(families: &'a [PlacedFamily], stretches: &[Bracket]) -> Vec<Self> {
        let seen = |placed: &'a PlacedFamily| {
            placed.on_stretches(stretches).into_iter().map(move |t| {
                let whole = FamilyPart::whole(&placed.family);
                let piece = whole.map(|whole| FamilyPart { patch: whole.patch.with(0, t), ..whole });
                Self { piece, extent: piece.map_or(Extent::ALL, |piece| piece.family.extent(&piece.patch)) }
            })
        };
        families.iter().flat_map(seen).collect()
    }
}

/// Wires whose runs differ by less than this angle's cosine are blown to one side by one wind.
const ALIKE: f64 = 0.995;
/// The share of its blowout by which a wire may still swing to the other side: wind that is square to one of two wires that run
/// not quite alike, and what is left of a swing.
const BACK: f64 = 0.02;

/// Both parts with the blowouts that one wind may give them, one pair for the wind from each side.
fn in_one_wind([one, other]: [FamilyPart<'_>; 2]) -> Vec<[FamilyPart<'_>; 2]> {
    let alike = one.family.lateral.dot(other.family.lateral);
    // NaN is not alike.
    let independent = !(alike.abs() >= ALIKE && alike.is_finite());
    let still = [one, other].iter().any(|part| part.patch.blowout.width() == 0.0);
    if independent || still {
        return vec![[one, other]];
    }
    let to_side = |part: FamilyPart<'_>, positive: bool| {
        let blowout = part.patch.blowout;
        let side = if positive {
            Bracket::between(blowout.low() * BACK, blowout.high())
        } else {
            Bracket::between(blowout.low(), blowout.high() * BACK)
        };
        side.and_then(|side| side.within(blowout))
    };
    let sides = [true, false].into_iter().filter_map(|positive| {
        let one_side = to_side(one, positive)?;
        let other_side = to_side(other, positive == (alike > 0.0))?;
        let with = |part: FamilyPart<'_>, blowout| part.patch.with(2, blowout);
        Some([with(one, one_side), with(other, other_side)])
    });
    let pairs =
        sides.map(|[a, b]| [FamilyPart { patch: a, ..one }, FamilyPart { patch: b, ..other }]).collect::<Vec<_>>();
    // Blowouts that leave no side are taken as they are.
    if pairs.len() == 2 { pairs } else { vec![[one, other]] }
}

/// `None` when there is nothing to compare. −∞ and ∞ when a family cannot be used.
fn smallest_gap(ones: &[BoundedFamily], others: &[BoundedFamily]) -> Option<(f64, f64)> {
    let mut unseen = Vec::with_capacity(ones.len() * others.len());
    for one in ones {
        for other in others {
            let (Some(one_piece), Some(other_piece)) = (one.piece, other.piece) else {
                return Some((f64::NEG_INFINITY, f64::INFINITY));
            };
            let way = one.extent.way_from(other.extent);
            for pieces in in_one_wind([one_piece, other_piece]) {
                unseen.push(PartPair { pieces, low_m: way.length() - taken_m(pieces), way, hull_gap: None });
            }
        }
    }
    let mut heap = BinaryHeap::from(unseen);
    let mut high = f64::INFINITY;
    let mut looks = 0;
    while let Some(mut nearest) = heap.pop() {
        // How much halving could still raise this pair's low. The rest is shape error.
        let open_m = nearest.hull_gap.map(|look| look.witness_m - shape_error_m(nearest.pieces) - look.low_m);
        if high - nearest.low_m <= WIDTH_M || open_m.is_some_and(|open_m| open_m <= WIDTH_M) || looks >= LOOKS {
            return Some((nearest.low_m.min(high), high));
        }
        if let Some(look) = nearest.hull_gap {
            for pieces in halves(nearest.pieces, look.worst) {
                heap.push(PartPair { pieces, low_m: nearest.low_m, way: look.way, hull_gap: None });
            }
        } else {
            looks += 1;
            let look = HullGap::at(nearest.pieces, nearest.way);
            high = high.min(look.witness_m);
            // A half is never nearer than its whole.
            nearest.low_m = nearest.low_m.max(look.low_m);
            nearest.hull_gap = Some(look);
            heap.push(nearest);
        }
    }
    None
}

fn halves([one, other]: [FamilyPart; 2], [side, range]: [usize; 2]) -> [[FamilyPart; 2]; 2] {
    if side == 0 { one.halves(range).map(|half| [half, other]) } else { other.halves(range).map(|half| [one, half]) }
}

fn shape_error_m([one, other]: [FamilyPart; 2]) -> f64 {
    one.family.shape_error_m + other.family.shape_error_m
}

/// What a lower bound subtracts from the distance of two center lines, including rounding, meters.
fn taken_m(pieces: [FamilyPart; 2]) -> f64 {
    let [one, other] = pieces.map(|piece| piece.family.radius_m);
    one + other + shape_error_m(pieces) + 1e-9
}

impl HullGap {
    fn at(pieces: [FamilyPart; 2], way: DVec3) -> Self {
        let [one, other] = pieces;
        let farthest = |v: DVec3| {
            let at = [one.family.support(-v, &one.patch).1, other.family.support(v, &other.patch).1];
            ([one.family.point(&at[0]), other.family.point(&at[1])], at)
        };
        let closest = nearest(farthest, way, ACCURACY_M);
        let way = closest.points[0] - closest.points[1];
        // The distance of two center lines is never negative.
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

/// The distance of two points on center lines, near the two members and near a point of the other's hull, meters.
fn members_apart_m([one, other]: [FamilyPart; 2], at: [Member; 2], near: DVec3) -> f64 {
    let mut least = one.family.point(&at[0]).distance(other.family.point(&at[1]));
    let mut near = near;
    for _ in 0..2 {
        let on_one = one.family.point(&one.family.member_near(near, at[0].t, &one.patch));
        near = other.family.point(&other.family.member_near(on_one, at[1].t, &other.patch));
        least = least.min(on_one.distance(near));
    }
    least
}

impl<'a> FamilyPart<'a> {
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

    /// An estimate of how much each range contributes to the distance between a mixture of members and the nearest real
    /// member, meters. The search uses it to choose what to halve; it is not a bound.
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
        // Without a mixture to blame, the largest range counts.
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
        super::smallest_gap(&BoundedFamily::all(ones), &BoundedFamily::all(others))
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
                shape_error_m: 0.0,
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

    /// The deepest hangs in the full wind, the other in still air: the wind of one gust.
    #[test]
    fn one_wind_blows_both_wires_to_the_same_side() {
        let swing = 0.4f64;
        let deepest = Catenary::new(40.0, 0.0, 0.003).unwrap().midspan_sag_m();
        let alone = deepest * swing.sin();
        let (low, high) = smallest_gap(&[level(0.0, 10.0, swing)], &[level(1.0, 10.0, swing)]).unwrap();
        // Nearer than side by side by one swing at most, and by no more than the share that may swing back.
        assert!(low >= 0.98 - alone - deepest * BACK * swing - 0.01 && high <= 0.98 - 0.5 * alone, "{low} {high}");
    }

    #[test]
    fn wires_that_cross_swing_each_by_itself() {
        let mut crossing = level(0.0, 10.5, 0.4);
        crossing.family.a = [DVec3::new(20.0, -20.0, 10.5); 2];
        crossing.family.b = [DVec3::new(20.0, 20.0, 10.5); 2];
        crossing.family.lateral = -DVec3::X;
        let one = level(0.0, 10.0, 0.4);
        let parts = [FamilyPart::whole(&one.family).unwrap(), FamilyPart::whole(&crossing.family).unwrap()];
        assert_eq!(in_one_wind(parts).len(), 1);
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
                placed.family.shape_error_m = 0.01;
                placed
            },
        )
    }

    fn member(family: &SpanFamily, [t, curvature, way]: [f64; 3], swing: f64) -> DVec3 {
        let shape = Catenary::new(family.run_m, family.rise_m, family.curvature.at(curvature)).unwrap();
        let down = family.lateral * swing.sin() - DVec3::Z * swing.cos();
        family.a[0].lerp(family.b[0].lerp(family.b[1], way), t) + down * shape.depth_m(t)
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(60))]

        #[test]
        fn no_two_members_are_nearer_than_the_low_bound(
            one in families(), other in families(),
            members in prop::collection::vec(
                (prop::array::uniform3(0.0f64..=1.0), prop::array::uniform2(0.0f64..=1.0), prop::array::uniform2(0.0f64..=1.0)),
                60,
            ),
        ) {
            let (low, high) = smallest_gap(std::slice::from_ref(&one), std::slice::from_ref(&other)).unwrap();
            prop_assert!(low <= high);
            let alike = one.family.lateral.dot(other.family.lateral);
            let mut nearest = f64::INFINITY;
            for (at_one, [curvature, way], swings) in members {
                let [mut swing, mut second] = [one.family.blowout.at(swings[0]), other.family.blowout.at(swings[1])];
                if alike.abs() >= ALIKE {
                    // One wind.
                    second = second.abs() * swing.signum() * alike.signum();
                }
                if swings[0] == swings[1] {
                    (swing, second) = (0.0, 0.0);
                }
                let point = member(&one.family, at_one, swing);
                for step in 0..=100 {
                    let t = f64::from(step) / 100.0;
                    let gap = point.distance(member(&other.family, [t, curvature, way], second)) - 0.02;
                    prop_assert!(low <= gap - 0.02 + 1e-9, "low {low}, but members {gap} apart and 0.02 of form");
                    nearest = nearest.min(gap);
                }
            }
            prop_assert!(nearest.is_finite());
        }
    }
}
