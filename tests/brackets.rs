//! Proven gaps held against brute force: every body shape × motion × curve of the trial machines.
//!
//! The oracle shares no code with the proof but positions of corners and points of member curves (both held against
//! finite differences and textbook forms beside them): it samples instants and members, takes the distance from a point
//! to the solid in closed form, and walks downhill from the best.

use fixtures::draw::{Draw, Rng};
use fixtures::site::range as bracket;
use fixtures::trial::{self, Body, Case, random_case};
use glam::DVec3;
use scene_core::approach::certificate::{Certificate, Claim, replay, smallest_gap_certified};
use scene_core::approach::{Decision, Measure, PartMotion, Proof, WireArc, decide, gap_at, smallest_gap};
use scene_core::bracket::Bracket;
use scene_core::conductor::{Member, SpanFamily};
use scene_core::machine::crane::chain::{Chain, Place as Seated, Seat};
use scene_core::machine::crane::{CraneFrame, Joint, Joints};
use scene_core::motion::spread::{Corner, Spread};
use scene_core::motion::{MovingPart, Track};
use scene_core::sequence::Path;
use scene_core::solid::{Feature, Hull};
use std::f64::consts::PI;
use std::sync::Arc;

const MM: f64 = 1e-3;
const BUDGET: u32 = 20_000;

/// What is measured when every corner has grown by its allowance: the same with other radii, or with a ball about discs.
#[test]
fn allowances_come_off_as_if_every_corner_were_larger() {
    let mut dice = Rng::with_seed(55);
    for _ in 0..150 {
        let mut case = random_case(&mut dice);
        let shared = dice.between(0.0, 0.6);
        // The closed forms know boxes and frustums of one allowance, capsules of two.
        let two = case.part.features.len() == 2 && case.body != Body::Pole;
        for feature in &mut case.part.features {
            feature.allowance_m = if two { dice.between(0.0, 0.6) } else { shared };
        }
        let (part_motions, arcs) = ([PartMotion::new(0, &case.part)], [WireArc::whole(&case.family)]);
        let less = smallest_gap(&part_motions, &arcs, Measure::GapLessAllowance, MM, BUDGET);
        assert!(less.closed, "{less:?}");
        let expected = if two || case.body == Body::Hook {
            let mut grown = case.clone();
            for feature in &mut grown.part.features {
                feature.radius_m += feature.allowance_m;
            }
            brute_force(&grown, &mut dice)
        } else {
            (brute_force(&case, &mut dice) - shared).max(-case.family.radius_m)
        };
        assert!(expected >= less.low_m - 1e-9, "{expected} {less:?}");
        assert!(prove(&case).low_m >= less.low_m - MM);
    }
}

fn prove(case: &Case) -> Proof {
    let part_motions = [PartMotion::new(0, &case.part)];
    smallest_gap(&part_motions, &[WireArc::whole(&case.family)], Measure::Gap, MM, BUDGET)
}

// ------------------------------------------------------------------------------------------------------- the oracle

/// Distance from a point to the hull, zero inside. Each body of the trial has a closed form.
fn distance(q: DVec3, hull: &Hull) -> f64 {
    match hull.features[..] {
        [Feature::Ball { center, radius_m }] => (q.distance(center) - radius_m).max(0.0),
        [Feature::Ball { center: a, radius_m: ra }, Feature::Ball { center: b, radius_m: rb }] => {
            tapered_capsule(q, a, b, ra, rb).max(0.0)
        }
        [Feature::Disc { center: a, radius_m: ra, .. }, Feature::Disc { center: b, radius_m: rb, .. }] => {
            frustum(q, a, b, ra, rb)
        }
        _ => rounded_box(q, hull),
    }
}

fn tapered_capsule(q: DVec3, a: DVec3, b: DVec3, ra: f64, rb: f64) -> f64 {
    let length = a.distance(b);
    let to = |share: f64| q.distance(a.lerp(b, share)) - ra - (rb - ra) * share;
    if length <= (rb - ra).abs() {
        return to(0.0).min(to(1.0));
    }
    let way = (b - a) / length;
    let along = (q - a).dot(way);
    let off = (q - a - way * along).length();
    let sin = (rb - ra) / length;
    let share = (along + off * sin / (1.0 - sin * sin).sqrt()) / length;
    to(share.clamp(0.0, 1.0))
}

/// In the half plane through axis and point: a trapezoid.
fn frustum(q: DVec3, a: DVec3, b: DVec3, ra: f64, rb: f64) -> f64 {
    let length = a.distance(b);
    let way = (b - a) / length;
    let along = (q - a).dot(way);
    let off = (q - a - way * along).length();
    if along >= 0.0 && along <= length && off <= ra + (rb - ra) * along / length {
        return 0.0;
    }
    let edge = |x0: f64, y0: f64, x1: f64, y1: f64| {
        let (dx, dy) = (x1 - x0, y1 - y0);
        let share = ((along - x0) * dx + (off - y0) * dy) / (dx * dx + dy * dy);
        let share = share.clamp(0.0, 1.0);
        (along - x0 - dx * share).hypot(off - y0 - dy * share)
    };
    edge(0.0, 0.0, 0.0, ra).min(edge(0.0, ra, length, rb)).min(edge(length, 0.0, length, rb))
}

/// Eight equal balls at the corners of a box, the bits of the index its sides.
fn rounded_box(q: DVec3, hull: &Hull) -> f64 {
    let corner = |k: usize| match hull.features[k] {
        Feature::Ball { center, radius_m } => (center, radius_m),
        Feature::Disc { .. } => panic!("a box has balls at its corners"),
    };
    let (origin, radius_m) = corner(0);
    let outside = [1, 2, 4].map(|bit| {
        let edge = corner(bit).0 - origin;
        let length = edge.length();
        let along = (q - origin).dot(edge / length);
        (-along).max(along - length).max(0.0)
    });
    (DVec3::from(outside).length() - radius_m).max(0.0)
}

/// Six fractions: u, t, curvature, blowout and the two ends.
type Place = [f64; 6];

fn gap_of(case: &Case, place: Place) -> f64 {
    let family = &case.family;
    let member = Member {
        t: place[1],
        curvature: family.curvature.at(place[2]),
        blowout: family.blowout.at(place[3]),
        a: place[4],
        b: place[5],
    };
    distance(family.point(&member), &case.part.hull(place[0])) - family.radius_m
}

/// The smallest gap that sampling and walking downhill finds.
fn brute_force(case: &Case, dice: &mut Rng) -> f64 {
    let mut best = (f64::INFINITY, [0.5; 6]);
    for i in 0..=24 {
        let hull = case.part.hull(f64::from(i) / 24.0);
        for j in 0..=20 {
            for _ in 0..3 {
                let corner = |dice: &mut Rng| dice.f64().mul_add(2.0, -0.5).clamp(0.0, 1.0);
                let member = Member {
                    t: f64::from(j) / 20.0,
                    curvature: case.family.curvature.at(corner(dice)),
                    blowout: case.family.blowout.at(corner(dice)),
                    a: corner(dice),
                    b: corner(dice),
                };
                let gap = distance(case.family.point(&member), &hull) - case.family.radius_m;
                if gap < best.0 {
                    let within = |x: f64, range: Bracket| {
                        if range.width() > 0.0 { (x - range.low()) / range.width() } else { 0.0 }
                    };
                    let place = [
                        f64::from(i) / 24.0,
                        member.t,
                        within(member.curvature, case.family.curvature),
                        within(member.blowout, case.family.blowout),
                        member.a,
                        member.b,
                    ];
                    best = (gap, place);
                }
            }
        }
    }
    walk_downhill(case, best.1, dice)
}

fn walk_downhill(case: &Case, place: Place, dice: &mut Rng) -> f64 {
    descend(|place| gap_of(case, place), place, 0.04, dice)
}

/// The least value that a walk of shrinking steps comes to.
fn descend(gap: impl Fn(Place) -> f64, mut place: Place, mut step: f64, dice: &mut Rng) -> f64 {
    let mut best = gap(place);
    while step > 1e-7 {
        let mut better = false;
        for _ in 0..12 {
            let mut trial = place;
            // One coordinate alone, or all together.
            let only = dice.usize(..12);
            for (k, x) in trial.iter_mut().enumerate() {
                if only == k || only >= 6 {
                    *x = (*x + dice.between(-step, step)).clamp(0.0, 1.0);
                }
            }
            let here = gap(trial);
            if here < best {
                (best, place, better) = (here, trial, true);
            }
        }
        if !better {
            step *= 0.6;
        }
    }
    best
}

/// The witness is what it says: a point of the solid, a point of a curve of the family, and the high between them.
fn check_witness(case: &Case, proof: &Proof) {
    let witness = proof.witness.expect("a proof of sound input has a witness");
    let family = &case.family;
    let member = witness.member;
    assert!((0.0..=1.0).contains(&witness.u) && (0.0..=1.0).contains(&member.t));
    assert!(family.curvature.contains(member.curvature));
    assert!(family.blowout.widened(1e-12).contains(member.blowout));
    assert!(family.point(&member).distance(witness.on_wire) < 1e-9);
    assert!(distance(witness.on_body, &case.part.hull(witness.u)) < 1e-7);
    let apart = witness.on_body.distance(witness.on_wire) - family.radius_m;
    assert!((apart - proof.high_m).abs() < 1e-6, "{apart} {proof:?}");
}

// -------------------------------------------------------------------------------------------------------- the tests

#[test]
fn no_placement_of_a_thousand_random_paths_is_nearer_than_the_proven_low() {
    let mut dice = Rng::with_seed(20);
    let mut open = 0;
    let mut evaluations = Vec::new();
    for number in 0..1000 {
        let case = random_case(&mut dice);
        let proof = prove(&case);
        let brute = brute_force(&case, &mut dice);
        assert!(proof.low_m <= proof.high_m);
        assert!(brute >= proof.low_m - 1e-9, "case {number}: {brute} below {proof:?}\n{case:?}");
        check_witness(&case, &proof);
        if proof.closed {
            assert!(proof.high_m - proof.low_m <= MM);
        } else {
            open += 1;
            eprintln!("case {number} open: {proof:?} {:?}", case.body);
        }
        evaluations.push(proof.evaluations);
    }
    evaluations.sort_unstable();
    eprintln!("evaluations: median {}, 95th {}, most {}", evaluations[500], evaluations[950], evaluations[999]);
    assert_eq!(open, 0, "{open} of 1000 brackets did not close within {BUDGET} evaluations");
}

/// A decision at exactly the required distance may not pass what is nearer, nor refuse what is farther.
#[test]
fn a_wire_shifted_to_graze_the_required_distance_is_never_passed_when_it_is_nearer() {
    let mut dice = Rng::with_seed(77);
    let mut grazing = 0;
    while grazing < 200 {
        let mut case = random_case(&mut dice);
        let required = dice.one_of(&[0.65, 1.0, 3.05]);
        let proof = prove(&case);
        let Some(witness) = proof.witness else {
            continue;
        };
        let apart = witness.on_wire - witness.on_body;
        let Some(way) = apart.try_normalize() else {
            continue;
        };
        // Straight away from the contact until the gap is the required one; other places may come nearer.
        for _ in 0..3 {
            let by = way * (required - prove(&case).high_m);
            for end in case.family.a.iter_mut().chain(&mut case.family.b) {
                *end += by;
            }
        }
        let part_motions = [PartMotion::new(0, &case.part)];
        let arcs = [WireArc::whole(&case.family)];
        let exact = smallest_gap(&part_motions, &arcs, Measure::Gap, 1e-6, 4 * BUDGET);
        if (exact.high_m - required).abs() > 0.1 {
            continue;
        }
        grazing += 1;
        for off in [-2e-3, -1e-4, -1.2e-6, 0.0, 1.2e-6, 1e-4, 2e-3] {
            let threshold = exact.high_m + off;
            match decide(&part_motions, &arcs, Measure::Gap, threshold, BUDGET) {
                Decision::Apart { low_m } => {
                    assert!(low_m >= threshold && threshold <= exact.high_m, "{case:?}");
                }
                Decision::Short { witness, high_m } => {
                    assert!(high_m < threshold && exact.low_m < threshold, "{case:?}");
                    let apart = witness.on_body.distance(witness.on_wire) - case.family.radius_m;
                    assert!((apart - high_m).abs() < 1e-6);
                }
                Decision::Undecided { .. } => {
                    assert!(off.abs() < 5e-5, "{off} {exact:?} {case:?}");
                }
            }
        }
    }
}

/// The two brackets hold the same number.
fn agree(a: &Proof, b: &Proof) -> bool {
    a.low_m <= b.high_m + 1e-9 && b.low_m <= a.high_m + 1e-9
}

fn map_part(part: &MovingPart, point: impl Fn(DVec3) -> DVec3, vector: impl Fn(DVec3) -> DVec3) -> MovingPart {
    let map = |track: &Track, point: &dyn Fn(DVec3) -> DVec3| {
        let mut track = track.clone();
        track.base = point(track.base);
        track.drift = vector(track.drift);
        for wave in &mut track.waves {
            for x in [&mut wave.cos, &mut wave.sin, &mut wave.cos_drift, &mut wave.sin_drift] {
                *x = vector(*x);
            }
        }
        track
    };
    let mut part = part.clone();
    for feature in &mut part.features {
        feature.at = map(&feature.at, &point);
        feature.axis = feature.axis.as_ref().map(|axis| map(axis, &vector));
    }
    part
}

/// u → 1 − u.
fn backwards(part: &MovingPart) -> MovingPart {
    let turn = |track: &Track| {
        let mut back = track.clone();
        back.base = track.base + track.drift;
        back.drift = -track.drift;
        for wave in &mut back.waves {
            let (sin, cos) = part.rates[wave.rate].sin_cos();
            let was = *wave;
            let (c, s) = (was.cos + was.cos_drift, was.sin + was.sin_drift);
            wave.cos = c * cos + s * sin;
            wave.sin = c * sin - s * cos;
            wave.cos_drift = -(was.cos_drift * cos + was.sin_drift * sin);
            wave.sin_drift = -(was.cos_drift * sin - was.sin_drift * cos);
        }
        back
    };
    let mut back = part.clone();
    for feature in &mut back.features {
        feature.at = turn(&feature.at);
        feature.axis = feature.axis.as_ref().map(turn);
    }
    back
}

fn map_wire(family: &SpanFamily, point: impl Fn(DVec3) -> DVec3, vector: impl Fn(DVec3) -> DVec3) -> SpanFamily {
    SpanFamily { a: family.a.map(&point), b: family.b.map(&point), lateral: vector(family.lateral), ..family.clone() }
}

#[test]
fn reversing_the_motion_mirroring_or_moving_the_site_changes_no_gap() {
    let mut dice = Rng::with_seed(5);
    for _ in 0..150 {
        let case = random_case(&mut dice);
        let proof = prove(&case);
        let back = Case { part: backwards(&case.part), ..case.clone() };
        assert!(agree(&proof, &prove(&back)), "backwards {case:?}");
        let mirror = |v: DVec3| DVec3::new(-v.x, v.y, v.z);
        let mirrored = Case {
            part: map_part(&case.part, mirror, mirror),
            family: map_wire(&case.family, mirror, mirror),
            ..case.clone()
        };
        assert!(agree(&proof, &prove(&mirrored)), "mirrored {case:?}");
        let by = dice.vector(150.0);
        let moved = Case {
            part: map_part(&case.part, |v| v + by, |v| v),
            family: map_wire(&case.family, |v| v + by, |v| v),
            ..case.clone()
        };
        assert!(agree(&proof, &prove(&moved)), "moved {case:?}");
    }
}

#[test]
fn cutting_the_motion_or_the_wire_in_two_changes_no_gap() {
    let mut dice = Rng::with_seed(8);
    for _ in 0..150 {
        let case = random_case(&mut dice);
        let proof = prove(&case);
        let part_motions = [PartMotion::new(0, &case.part)];
        let at = dice.f64();
        let arcs = [bracket(0.0, at), bracket(at, 1.0)].map(|t| WireArc::new(&case.family, t));
        let cut = smallest_gap(&part_motions, &arcs, Measure::Gap, MM, BUDGET);
        assert!(agree(&proof, &cut), "{proof:?} {cut:?}");
        let one = arcs.map(|arc| smallest_gap(&part_motions, &[arc], Measure::Gap, MM, BUDGET));
        assert!(one.iter().all(|one| one.high_m >= proof.low_m - 1e-9));
        assert!(one.iter().any(|one| agree(&proof, one)));
    }
}

#[test]
fn a_thin_wire_that_a_sampler_every_50_ms_steps_over_is_found() {
    // A swinging boom's tip, 30 m out, passes a wire thinner than a fifth of a step of the sampler.
    let mut dice = Rng::with_seed(3);
    let mut missed = 0;
    for _ in 0..60 {
        let machine = trial::Machine { at: DVec3::new(0.0, 0.0, 2.0), foot_offset_m: 0.0 };
        let from = trial::Joints {
            swing: 0.0,
            luff: dice.between(0.3, 0.9),
            boom_m: 30.0,
            hoist_m: 4.0,
            tilt: 0.0,
            heading: 0.0,
        };
        let to = trial::Joints { swing: 1.2, ..from };
        let part = machine.part(Body::HoistLine, &from, &to);
        let thin = MovingPart {
            features: part
                .features
                .iter()
                .cloned()
                .map(|f| scene_core::motion::MovingFeature { radius_m: 0.004, ..f })
                .collect(),
            ..part
        };
        // The wire stands in the line's way, across it.
        let Feature::Ball { center, .. } = thin.hull(dice.between(0.2, 0.8)).features[0] else { panic!() };
        let way = DVec3::new(-center.y, center.x, 0.0).normalize().cross(DVec3::Z);
        let at = center - DVec3::Z * 2.0;
        let family = trial::fixed_span(at, at + way * 40.0, Bracket::exactly(0.0), Bracket::exactly(0.0), 0.002);
        let case = Case { body: Body::HoistLine, part: thin, family };
        // 1.2 rad at 0.1 rad/s: 12 s, 240 samples.
        let sampled = (0..=240)
            .map(|k| {
                let u = f64::from(k) / 240.0;
                gap_at(&case.part, u, &WireArc::whole(&case.family), Measure::Gap).high_m
            })
            .fold(f64::INFINITY, f64::min);
        missed += i32::from(sampled > 0.0);
        let proof = prove(&case);
        assert!(proof.high_m <= 0.0 && proof.closed, "{proof:?}");
    }
    assert!(missed >= 20, "the sampler missed only {missed} of 60");
}

#[test]
fn a_bracket_of_a_micrometre_holds_the_same_number_as_one_of_a_millimetre() {
    let mut dice = Rng::with_seed(11);
    for _ in 0..60 {
        let case = random_case(&mut dice);
        let part_motions = [PartMotion::new(0, &case.part)];
        let arcs = [WireArc::whole(&case.family)];
        let fine = smallest_gap(&part_motions, &arcs, Measure::Gap, 1e-6, 4 * BUDGET);
        assert!(fine.closed && fine.high_m - fine.low_m <= 1e-6, "{fine:?}");
        assert!(agree(&fine, &prove(&case)));
        assert!(brute_force(&case, &mut dice) >= fine.low_m - 1e-9);
    }
}

/// Swing, boom angle and hoist at once, in whatever proportion, of corners on the hoist line.
struct Combined {
    chain: Arc<Chain>,
    corners: Arc<[Corner]>,
    from: Joints,
    to: Joints,
}

impl Combined {
    /// The hook, or the line from the boom's tip to it.
    fn random(with_line: bool, dice: &mut Rng) -> Self {
        let crane = CraneFrame {
            at: DVec3::ZERO,
            heading: 0.0,
            foot_offset_m: -1.0,
            foot_height_m: 2.2,
            head_along_m: 0.3,
            head_below_m: 0.2,
            sheave_radius_m: 0.2,
            block_length_m: 0.8,
            rigging_length_m: 2.0,
            boom_length_m: bracket(10.0, 30.0),
            boom_angle: bracket(0.0, 1.4),
            swing: bracket(-PI, PI),
        };
        let hook = Corner {
            place: Seated::Line { below_m: 0.8, hoisted: true, inward_m: 0.0 },
            radius_m: 0.3,
            disc: false,
            allowance_m: 0.0,
            line_lean: 0.0,
        };
        let tip =
            Corner { place: Seated::Line { below_m: 0.0, hoisted: false, inward_m: 0.0 }, radius_m: 0.02, ..hook };
        let mut joints = || Joints {
            swing: dice.between(-1.0, 1.0),
            boom_angle: dice.between(0.5, 1.2),
            boom_length_m: 22.0,
            hoist_length_m: dice.between(2.0, 9.0),
            pole_tilt: 0.0,
            pole_heading: 0.0,
            pole_turn: 0.0,
        };
        Self {
            chain: Arc::new(Chain { crane, choke_in_pole: DVec3::new(0.15, 0.0, 8.0) }),
            corners: if with_line { Arc::new([tip, hook]) } else { Arc::new([hook]) },
            from: joints(),
            to: joints(),
        }
    }

    fn part(&self) -> MovingPart {
        let spread = Spread {
            chain: self.chain.clone(),
            corners: self.corners.clone(),
            from: self.from,
            to: self.to,
            path: Path::Box { lead: Joint::Swing },
            seat: Seat::OnHook,
            u: bracket(0.0, 1.0),
        };
        spread.part()
    }

    /// Where the corners are, each of the three joints at a share of its way.
    fn placed(&self, [swing, boom, hoist]: [f64; 3]) -> Vec<Feature> {
        let (from, to) = (&self.from, &self.to);
        let joints = Joints {
            swing: from.swing + (to.swing - from.swing) * swing,
            boom_angle: from.boom_angle + (to.boom_angle - from.boom_angle) * boom,
            hoist_length_m: from.hoist_length_m + (to.hoist_length_m - from.hoist_length_m) * hoist,
            ..*from
        };
        let placed = |corner: &Corner| Feature::Ball {
            center: self.chain.place_in_world(&corner.place, &joints, &Seat::OnHook, 0.0),
            radius_m: corner.radius_m,
        };
        self.corners.iter().map(placed).collect()
    }

    /// The least gap to a wire that walks downhill find, over shares of the joints and of the family.
    fn brute_force(&self, family: &SpanFamily, dice: &mut Rng) -> f64 {
        let gap = |x: [f64; 6]| {
            let member = Member {
                t: x[3],
                curvature: family.curvature.at(x[4]),
                blowout: family.blowout.at(x[5]),
                a: 0.0,
                b: 0.0,
            };
            let hull = Hull { features: self.placed([x[0], x[1], x[2]]) };
            distance(family.point(&member), &hull) - family.radius_m
        };
        let walks = (0..12).map(|_| {
            let start = [(); 6].map(|()| dice.f64());
            descend(gap, start, 0.3, dice)
        });
        walks.fold(f64::INFINITY, f64::min)
    }
}

/// The part comes with a motion error that stands for the joints that its track leaves out, and is taken in halves where that is in
/// the way.
#[test]
fn a_combined_motion_is_proven_over_every_combination_of_its_joints() {
    let mut dice = Rng::with_seed(41);
    let (mut closed, mut apart) = (0, 0);
    for number in 0..40 {
        let combined = Combined::random(number % 2 == 1, &mut dice);
        let part = combined.part();
        assert!(part.motion_error_m > 0.05);
        let placed = combined.placed([dice.f64(), dice.f64(), dice.f64()]);
        let Some(Feature::Ball { center: near, .. }) = placed.last().copied() else { panic!("{placed:?}") };
        let heading = dice.between(-PI, PI);
        let way = DVec3::new(heading.cos(), heading.sin(), 0.0) * 30.0;
        let off = dice.vector(2.0) + DVec3::Z * dice.one_of(&[0.0, 5.0, -5.0, 6.0]);
        let family =
            trial::fixed_span(near + off - way, near + off + way, bracket(0.001, 0.002), bracket(-0.2, 0.2), 0.007);
        let (part_motions, arcs) = ([PartMotion::new(0, &part)], [WireArc::whole(&family)]);
        let proof = smallest_gap(&part_motions, &arcs, Measure::Gap, 0.05, BUDGET);
        let brute = combined.brute_force(&family, &mut dice);
        assert!(brute >= proof.low_m - 1e-9, "{brute} below {proof:?}");
        assert!(
            brute <= proof.low_m.max(proof.high_m) + 0.05,
            "the walk missed what the proof found: {brute} {proof:?}"
        );
        closed += u32::from(proof.closed);
        if brute > 0.1 {
            apart += 1;
            let below = decide(&part_motions, &arcs, Measure::Gap, brute - 0.1, BUDGET);
            assert!(matches!(below, Decision::Apart { .. }), "{brute} {below:?}");
            let above = decide(&part_motions, &arcs, Measure::Gap, brute + 0.1, BUDGET);
            assert!(matches!(above, Decision::Short { .. }), "{brute} {above:?}");
        }
    }
    assert!(apart >= 15 && closed >= 36, "{apart} apart, {closed} closed to 5 cm");
}

/// The trial scene and random cases; each with its parts.
fn certified(dice: &mut Rng, count: usize) -> Vec<(Vec<MovingPart>, SpanFamily, Certificate)> {
    let trial = trial::trial();
    let from_trial = trial
        .bodies
        .iter()
        .flat_map(|(_, parts)| trial.wires.iter().skip(9).take(3).map(|wire| (parts.clone(), wire.clone())));
    let random = (0..count).map(|_| random_case(dice)).map(|case| (vec![case.part], case.family));
    from_trial
        .chain(random.collect::<Vec<_>>())
        .map(|(parts, family)| {
            let part_motions: Vec<PartMotion> =
                parts.iter().enumerate().map(|(k, part)| PartMotion::new(k, part)).collect();
            let arcs = [WireArc::whole(&family)];
            let (proof, certificate) = smallest_gap_certified(&part_motions, &arcs, Measure::Gap, MM, BUDGET);
            let certificate = certificate.expect("nothing is blurred");
            assert_eq!(certificate.low_m, proof.low_m);
            (parts, family, certificate)
        })
        .collect()
}

#[test]
fn a_replayer_of_its_own_accepts_every_certificate() {
    for (parts, family, certificate) in certified(&mut Rng::with_seed(91), 300) {
        let parts: Vec<&MovingPart> = parts.iter().collect();
        assert_eq!(replay(&certificate, &parts, &[WireArc::whole(&family)]), Ok(()), "{certificate:?}");
    }
}

#[test]
fn a_certificate_with_one_thing_changed_is_refused() {
    let mut dice = Rng::with_seed(92);
    let mut tried = [0; 7];
    for (parts, family, certificate) in certified(&mut dice, 200) {
        let parts: Vec<&MovingPart> = parts.iter().collect();
        let arcs = [WireArc::whole(&family)];
        // Where nothing is nearer than touching there is little to get wrong.
        if certificate.low_m <= 0.0 {
            continue;
        }
        let along = |leaf: &scene_core::approach::certificate::Leaf| matches!(leaf.claim, Claim::Along { .. });
        let Some(which) = certificate.leaves.iter().position(along) else { continue };
        for (kind, count) in tried.iter_mut().enumerate() {
            let mut changed = certificate.clone();
            let leaf = &mut changed.leaves[which];
            let Claim::Along { n, u, .. } = &mut leaf.claim else { continue };
            match kind {
                0 => *n = -*n,
                1 => *n = dice.vector(1.0).normalize().cross(*n).normalize(),
                2 => *n *= 1.5,
                3 => *u = leaf.to + 1e-3,
                4 => changed.low_m += 2e-3,
                5 => drop(changed.leaves.remove(which)),
                _ => leaf.to = leaf.from.midpoint(leaf.to) - 1e-6,
            }
            let accepted = replay(&changed, &parts, &arcs) == Ok(());
            assert!(!accepted, "change {kind} of leaf {which} was not noticed: {changed:?}");
            *count += 1;
        }
    }
    assert!(tried.iter().all(|&count| count >= 100), "{tried:?}");
}

#[test]
fn a_certificate_is_of_its_own_motion_and_wire_only() {
    for (parts, family, certificate) in certified(&mut Rng::with_seed(93), 100) {
        if certificate.low_m <= 0.0 {
            continue;
        }
        // The wire as it hangs a hand's breadth nearer to the contact of the true gap.
        let part_motions: Vec<PartMotion> =
            parts.iter().enumerate().map(|(k, part)| PartMotion::new(k, part)).collect();
        let witness =
            smallest_gap(&part_motions, &[WireArc::whole(&family)], Measure::Gap, MM, BUDGET).witness.expect("sound");
        let nearer = (witness.on_body - witness.on_wire).normalize() * 0.1_f64.min(certificate.low_m);
        let moved = map_wire(&family, |v| v + nearer, |v| v);
        let borrowed: Vec<&MovingPart> = parts.iter().collect();
        assert!(replay(&certificate, &borrowed, &[WireArc::whole(&moved)]).is_err());
        assert!(replay(&certificate, &borrowed, &[]).is_err());
    }
}
