//! Gaps between two bodies against three distance libraries.
//!
//! source: tests/reference/pairs.csv, written by pairs.py beside it: coal 3.0.3 and python-fcl 0.7.0.11 on random still parts;
//! status computed. parry3d-f64 0.31.1 runs here, on placements of bodies that move, taken from the crane's joints by the frame
//! tree and not from the tracks that are searched.
//!
//! The libraries' shapes lie inside the true ones, and their iterations may stop early: what they say may be too much, never too
//! little.

use fixtures::draw::{Draw, Rng};
use fixtures::parts::still;
use glam::DVec3;
use outside_checks::rows;
use parry3d_f64::math::{Matrix, Pose, Rotation};
use parry3d_f64::query;
use parry3d_f64::shape::{Capsule, ConvexPolyhedron, Cuboid, Shape};
use scene_core::approach::pair::{PairDecision, PairProof, decide_between, smallest_gap_between};
use scene_core::approach::{Measure, PartMotion};
use scene_core::bracket::Bracket;
use scene_core::machine::crane::chain::{Chain, Place, Seat};
use scene_core::machine::crane::{Joint, Joints};
use scene_core::motion::spread::{Corner, Spread};
use scene_core::motion::{MovingFeature, MovingPart, Track};
use scene_core::sequence::{self, Path, Piece};
use scene_core::{pole, rigging, scene};
use std::collections::BTreeMap;
use std::f64::consts::TAU;
use std::fs;
use std::sync::{Arc, LazyLock};

const TOLERANCE_M: f64 = 1e-3;
const BUDGET: u32 = 20_000;

fn between(a: &MovingPart, b: &MovingPart, tolerance_m: f64) -> PairProof {
    smallest_gap_between(&[PartMotion::new(0, a)], &[PartMotion::new(0, b)], Measure::Gap, tolerance_m, BUDGET)
}

// ------------------------------------------------------------------------------------------------------ still parts

#[test]
fn still_parts_are_as_far_apart_as_two_libraries_say() {
    let file = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/pairs.csv");
    let text = fs::read_to_string(file).expect("pairs.csv is kept beside pairs.py");
    let (mut pairs, mut confirmed) = (0, 0);
    for row in rows(&text) {
        let [coal_m, fcl_m, mesh_m] = ["coal_m", "fcl_m", "mesh_m"].map(|column| row.figure(column));
        let place = |kind: &str, part: &str| still(row.text(kind), &row.numbers(part));
        let (a, b) = (place("one", "part"), place("other", "beside"));
        let line = (row.text("one"), row.text("part"), row.text("other"), row.text("beside"));
        let ours = between(&a, &b, 1e-6);
        assert!(ours.closed, "{ours:?}: {line:?}");
        assert!(ours.low_m <= coal_m.min(fcl_m).max(0.0) + 1e-7, "{ours:?} {coal_m} {fcl_m}: {line:?}");
        // What each library is known to be wrong by; where it is wrong by more, the other one decides.
        let near = |said: f64, error_m: f64| said <= ours.high_m + error_m + mesh_m;
        assert!(near(coal_m, 1e-4) || near(fcl_m, 1e-4), "{ours:?} {coal_m} {fcl_m}: {line:?}");
        confirmed += usize::from(near(coal_m, 1e-5) || near(fcl_m, 1e-5));
        pairs += 1;
    }
    println!("{confirmed} of {pairs} to 10 micrometres");
    assert!(pairs == 1200 && confirmed >= 1150, "{confirmed} of {pairs}");
}

// ----------------------------------------------------------------------------------------------------- moving parts

/// The cranes and the upending of two examples.
struct Job {
    chain: Arc<Chain>,
    upends: Vec<Piece>,
}

static JOBS: LazyLock<[Job; 2]> = LazyLock::new(|| {
    [include_str!("../scenes/01_juniper_lane.ron"), include_str!("../scenes/03_sorrel_flat.ron")].map(|text| {
        let site = scene::read("example", text).and_then(|scene| scene.site()).expect("an example can be read");
        let mass = pole::mass(&site.pole, &site.covers).expect("its pole has a mass");
        let hang = rigging::hang(&site.pole, &mass, &site.rigging).expect("its pole hangs");
        let plan = sequence::plan(&site, &hang);
        let upends = plan.pieces.into_iter().filter(|piece| matches!(piece.path, Path::Upend(_))).collect();
        Job { chain: plan.chain, upends }
    })
});

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Kind {
    Box,
    Balls,
    Flat,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Motion {
    Swing,
    Boom,
    Extend,
    Hoist,
    Upend,
    Turn,
    Combined,
}

const MOTIONS: [Motion; 7] =
    [Motion::Swing, Motion::Boom, Motion::Extend, Motion::Hoist, Motion::Upend, Motion::Turn, Motion::Combined];

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Beside {
    Still(Kind),
    /// Goes its own way, straight.
    Passing,
    /// Of the same crane.
    Own(Kind),
}

/// Ends of the joints' ranges, and how they run.
struct Way {
    chain: Arc<Chain>,
    from: Joints,
    to: Joints,
    path: Path,
    seat: Seat,
}

fn way(motion: Motion, dice: &mut Rng) -> Way {
    let job = &JOBS[usize::from(dice.f64() < 0.5)];
    let chain = Arc::clone(&job.chain);
    if motion == Motion::Upend {
        let piece = &job.upends[dice.usize(..job.upends.len())];
        return Way { chain, from: piece.from, to: piece.to, path: piece.path, seat: piece.seat };
    }
    let from = Joints {
        swing: dice.between(-3.0, 3.0),
        boom_angle: dice.between(0.4, 1.2),
        boom_length_m: dice.between(12.0, 24.0),
        hoist_length_m: dice.between(3.0, 14.0),
        pole_tilt: dice.between(0.0, 0.3),
        pole_heading: dice.between(-3.0, 3.0),
        pole_turn: dice.between(-3.0, 3.0),
    };
    let by = |joint: Joint, by: f64, to: Joints| to.with(joint, from.get(joint) + by);
    let swing = dice.between(-1.4, 1.4);
    let swung = by(Joint::Swing, swing, by(Joint::PoleHeading, swing, from));
    let boom = dice.between(-0.3, 0.3);
    let (to, path) = match motion {
        Motion::Swing => (swung, Path::Even),
        Motion::Boom => (by(Joint::BoomAngle, boom, from), Path::Even),
        Motion::Extend => (by(Joint::BoomLength, dice.between(-6.0, 6.0), from), Path::Even),
        Motion::Hoist => (by(Joint::HoistLength, dice.between(-2.0, 6.0), from), Path::Even),
        Motion::Turn => (by(Joint::PoleHeading, dice.between(-3.0, 3.0), from), Path::Even),
        _ => {
            let hoisted = by(Joint::HoistLength, dice.between(-0.5, 0.5), swung);
            (by(Joint::BoomAngle, boom * 0.1, hoisted), Path::Box { lead: Joint::Swing })
        }
    };
    Way { chain, from, to, path, seat: Seat::OnHook }
}

impl Way {
    /// Joints as they may be, and u where that is told.
    fn joints(&self, dice: &mut Rng, k: usize, of: usize) -> (Joints, f64) {
        let u = k as f64 / (of - 1) as f64;
        match self.path {
            Path::Even => (self.from.toward(&self.to, u), u),
            Path::Upend(arc) => {
                let tilt = self.from.pole_tilt + (self.to.pole_tilt - self.from.pole_tilt) * u;
                let at = self.from.toward(&self.to, u).with(Joint::PoleTilt, tilt);
                let hoist_m = arc.hoist_at(tilt);
                // The hoist runs evenly: it says when that is.
                let run_m = self.to.hoist_length_m - self.from.hoist_length_m;
                (at.with(Joint::HoistLength, hoist_m), (hoist_m - self.from.hoist_length_m) / run_m)
            }
            Path::Box { .. } => {
                let corner = |dice: &mut Rng| if dice.f64() < 0.7 { dice.one_of(&[0.0, 1.0]) } else { dice.f64() };
                let mut at = self.from.toward(&self.to, u);
                for joint in [Joint::BoomAngle, Joint::HoistLength] {
                    at = at.with(joint, self.from.toward(&self.to, corner(dice)).get(joint));
                }
                (at, u)
            }
        }
    }

    fn part(&self, corners: Vec<Corner>) -> MovingPart {
        let u = Bracket::exactly(0.0).hull(Bracket::exactly(1.0));
        let (from, to, path, seat) = (self.from, self.to, self.path, self.seat);
        Spread { chain: Arc::clone(&self.chain), corners: corners.into(), from, to, path, seat, u }.part()
    }
}

/// A part of the crane, with the same in the library.
struct Mine {
    part: MovingPart,
    places: Vec<Place>,
    shape: Mold,
    /// The library's lies inside by no more.
    mesh_m: f64,
}

enum Mold {
    /// Half sizes along, left, below.
    Box(DVec3),
    Balls(f64),
    Flat(ConvexPolyhedron),
}

const GONS: usize = 64;

fn gon(center: DVec3, x: DVec3, y: DVec3, radius_m: f64) -> impl Iterator<Item = DVec3> {
    (0..GONS).map(move |k| {
        let (sin, cos) = (TAU * k as f64 / GONS as f64).sin_cos();
        center + (x * cos + y * sin) * radius_m
    })
}

fn hull(points: impl Iterator<Item = DVec3>) -> ConvexPolyhedron {
    let points: Vec<DVec3> = points.collect();
    ConvexPolyhedron::from_convex_hull(&points).expect("a hull")
}

fn mine(way: &Way, kind: Kind, dice: &mut Rng) -> Mine {
    let corner = |place, radius_m, disc| Corner { place, radius_m, disc, allowance_m: 0.0, line_lean: 0.0 };
    match kind {
        Kind::Box => {
            let half = DVec3::new(dice.between(2.0, 5.0), dice.between(0.1, 0.4), dice.between(0.1, 0.4));
            let (share, middle_m) = (dice.one_of(&[0.0, 0.5, 1.0]), -half.x);
            let middle_m = if share < 1.0 { half.x + 0.5 } else { middle_m };
            let mut places = Vec::new();
            for k in 0..8 {
                let sign = |bit: usize| if (k >> bit) & 1 == 0 { -1.0 } else { 1.0 };
                let along_m = middle_m + sign(0) * half.x;
                places.push(Place::Boom { along_m, share, left_m: sign(1) * half.y, below_m: sign(2) * half.z });
            }
            let part = way.part(places.iter().map(|place| corner(*place, 0.0, false)).collect());
            Mine { part, places, shape: Mold::Box(half), mesh_m: 0.0 }
        }
        Kind::Balls => {
            let radius_m = dice.between(0.05, 0.4);
            let from_m = dice.between(0.0, 0.5);
            let line = |below_m| Place::Line { below_m, hoisted: true, inward_m: 0.0 };
            let places = vec![line(from_m), line(from_m + dice.between(0.3, 2.0))];
            let part = way.part(places.iter().map(|place| corner(*place, radius_m, false)).collect());
            Mine { part, places, shape: Mold::Balls(radius_m), mesh_m: 0.0 }
        }
        Kind::Flat => {
            let (from_m, to_m) = (dice.between(0.0, 4.0), dice.between(7.0, 16.0));
            let (butt_m, top_m) = (dice.between(0.15, 0.3), dice.between(0.08, 0.15));
            let places = vec![Place::Pole(DVec3::Z * from_m), Place::Pole(DVec3::Z * to_m)];
            let part = way.part(vec![corner(places[0], butt_m, true), corner(places[1], top_m, true)]);
            let rings = gon(DVec3::ZERO, DVec3::X, DVec3::Y, butt_m).chain(gon(
                DVec3::Z * (to_m - from_m),
                DVec3::X,
                DVec3::Y,
                top_m,
            ));
            let mesh_m = butt_m * (1.0 - (TAU / 2.0 / GONS as f64).cos());
            Mine { part, places, shape: Mold::Flat(hull(rings)), mesh_m }
        }
    }
}

impl Mine {
    /// As the frame tree has it.
    fn placed(&self, way: &Way, joints: &Joints, u: f64) -> (Pose, Box<dyn Shape>) {
        let at: Vec<DVec3> =
            self.places.iter().map(|place| way.chain.place_in_world(place, joints, &way.seat, u)).collect();
        match &self.shape {
            Mold::Box(half) => {
                let [x, y] = [at[1] - at[0], at[2] - at[0]].map(DVec3::normalize);
                (turned(at.iter().sum::<DVec3>() / 8.0, x, y, x.cross(y)), Box::new(Cuboid::new(*half)))
            }
            Mold::Balls(radius_m) => (Pose::IDENTITY, Box::new(Capsule::new(at[0], at[1], *radius_m))),
            Mold::Flat(hull) => {
                let z = (at[1] - at[0]).normalize();
                let x = way.chain.pole_direction_in_world(joints, DVec3::X);
                (turned(at[0], x, z.cross(x), z), Box::new(hull.clone()))
            }
        }
    }
}

fn turned(at: DVec3, x: DVec3, y: DVec3, z: DVec3) -> Pose {
    Pose::from_parts(at, Rotation::from_mat3(&Matrix::from_cols(x, y, z)))
}

/// What it is held against.
enum Neighbour {
    Apart { part: MovingPart, shape: Box<dyn Shape>, at: DVec3, by: DVec3, mesh_m: f64 },
    Own(Mine),
}

impl Neighbour {
    fn part(&self) -> &MovingPart {
        match self {
            Neighbour::Apart { part, .. } => part,
            Neighbour::Own(mine) => &mine.part,
        }
    }

    fn mesh_m(&self) -> f64 {
        match self {
            Neighbour::Apart { mesh_m, .. } => *mesh_m,
            Neighbour::Own(mine) => mine.mesh_m,
        }
    }

    fn placed(&self, way: &Way, joints: &Joints, u: f64) -> (Pose, Box<dyn Shape>) {
        match self {
            Neighbour::Apart { shape, at, by, .. } => (Pose::from_translation(*at + *by * u), shape.clone_dyn()),
            Neighbour::Own(mine) => mine.placed(way, joints, u),
        }
    }
}

/// About `center`.
fn neighbour(beside: Beside, way: &Way, center: DVec3, dice: &mut Rng) -> Neighbour {
    let track = |at: DVec3, by: DVec3| Track { base: at, drift: by, waves: Vec::new() };
    let feature = |at, by, radius_m, axis: Option<DVec3>| MovingFeature {
        at: track(at, by),
        radius_m,
        axis: axis.map(Track::still),
        allowance_m: 0.0,
    };
    let part = |features| MovingPart { features, ..MovingPart::default() };
    let along = dice.direction();
    let ends = [center - along * dice.between(0.2, 4.0), center + along * dice.between(0.2, 4.0)];
    let (x, zero) = (along.any_orthonormal_vector(), DVec3::ZERO);
    let y = along.cross(x);
    match beside {
        Beside::Own(kind) => Neighbour::Own(mine(way, kind, dice)),
        Beside::Passing | Beside::Still(Kind::Balls) => {
            let radius_m = dice.between(0.05, 0.5);
            let by = if beside == Beside::Passing { dice.direction() * dice.between(0.5, 6.0) } else { zero };
            let features = ends.map(|at| feature(at - by / 2.0, by, radius_m, None));
            let shape = Box::new(Capsule::new(ends[0] - by / 2.0, ends[1] - by / 2.0, radius_m));
            Neighbour::Apart { part: part(features.to_vec()), shape, at: zero, by, mesh_m: 0.0 }
        }
        Beside::Still(Kind::Box) => {
            let (w, d) = (dice.between(0.1, 1.0), dice.between(0.1, 1.0));
            let mut corners = Vec::new();
            for end in ends {
                for (i, j) in [(-1.0, -1.0), (-1.0, 1.0), (1.0, -1.0), (1.0, 1.0)] {
                    corners.push(end + x * (i * w) + y * (j * d));
                }
            }
            let features = corners.iter().map(|at| feature(*at, zero, 0.0, None)).collect();
            let shape = Box::new(hull(corners.into_iter()));
            Neighbour::Apart { part: part(features), shape, at: zero, by: zero, mesh_m: 0.0 }
        }
        Beside::Still(Kind::Flat) => {
            let radii = [dice.between(0.1, 0.4), dice.between(0.1, 0.4)];
            let features = (0..2).map(|k| feature(ends[k], zero, radii[k], Some(along))).collect();
            let rings = gon(ends[0], x, y, radii[0]).chain(gon(ends[1], x, y, radii[1]));
            let mesh_m = radii[0].max(radii[1]) * (1.0 - (TAU / 2.0 / GONS as f64).cos());
            Neighbour::Apart { part: part(features), shape: Box::new(hull(rings)), at: zero, by: zero, mesh_m }
        }
    }
}

impl Neighbour {
    fn shift(&mut self, by: DVec3) {
        if let Neighbour::Apart { part, at, .. } = self {
            part.features.iter_mut().for_each(|feature| feature.at.base += by);
            *at += by;
        }
    }
}

/// Instants, and as many combinations of joints where they go together.
const SAMPLES: usize = 61;

/// The least over the samples by the library.
fn sampled(way: &Way, mine: &Mine, beside: &Neighbour, samples: &[(Joints, f64)]) -> f64 {
    let gaps = samples.iter().map(|(joints, u)| {
        let ((pose, shape), (at, other)) = (mine.placed(way, joints, *u), beside.placed(way, joints, *u));
        query::distance(&pose, &*shape, &at, &*other).expect("parry measures convex shapes").distance
    });
    gaps.fold(f64::INFINITY, f64::min)
}

/// Every kind of part, every motion, every neighbor: no placement that was sampled is nearer than what was proven, and no
/// distance that a sample undercuts is ever said to be kept.
#[test]
fn no_placement_of_two_bodies_is_nearer_than_was_proven() {
    let kinds = [Kind::Box, Kind::Balls, Kind::Flat];
    let besides: Vec<Beside> =
        kinds.map(Beside::Still).into_iter().chain([Beside::Passing]).chain(kinds.map(Beside::Own)).collect();
    let mut dice = Rng::with_seed(20_261_125);
    let mut tally: BTreeMap<(Kind, Motion, Beside), usize> = BTreeMap::new();
    let (mut paths, mut grazing, mut open, mut apart, mut short) = (0, 0, 0, 0, 0);
    for round in 0..8 {
        for motion in MOTIONS {
            for kind in kinds {
                for &beside in &besides {
                    let way = way(motion, &mut dice);
                    let mine = mine(&way, kind, &mut dice);
                    let (joints, u) = way.joints(&mut dice, 20 + round, SAMPLES);
                    let center = way.chain.place_in_world(&mine.places[0], &joints, &way.seat, u)
                        + dice.direction() * dice.between(0.5, 9.0);
                    let mut other = neighbour(beside, &way, center, &mut dice);
                    let samples: Vec<_> = (0..SAMPLES).map(|k| way.joints(&mut dice, k, SAMPLES)).collect();
                    // Most are brought so near that they graze.
                    let first = between(&mine.part, other.part(), TOLERANCE_M);
                    if let (Some(witness), true) = (first.witness, first.low_m > 0.01 && round % 4 != 0) {
                        let n = (witness.on_a - witness.on_b).normalize_or_zero();
                        other.shift(n * (first.high_m - dice.between(0.0, 0.004)));
                    }
                    let proof = between(&mine.part, other.part(), TOLERANCE_M);
                    let (found_m, mesh_m) = (sampled(&way, &mine, &other, &samples), mine.mesh_m + other.mesh_m());
                    let said = format!("{kind:?} {motion:?} {beside:?} round {round}: {proof:?}, sampled {found_m}");
                    // The library's own error against the closed form: tests/gaps.rs.
                    assert!(proof.low_m <= found_m.max(0.0) + 1e-5, "{said}");
                    open += usize::from(!proof.closed);
                    grazing += usize::from(proof.high_m > 0.0 && proof.low_m < 0.01);
                    if let (Some(witness), Path::Even) = (proof.witness, way.path) {
                        assert!(proof.closed, "{said}");
                        let joints = way.from.toward(&way.to, witness.u);
                        let there_m = sampled(&way, &mine, &other, &[(joints, witness.u)]);
                        // The witness is a real placement, and its gap the high.
                        assert!((there_m.max(0.0) - proof.high_m).abs() <= mesh_m + 1e-4, "{there_m}: {said}");
                        assert!(found_m >= proof.low_m - 1e-5 && proof.high_m - proof.low_m <= TOLERANCE_M, "{said}");
                    }
                    let part_motions = ([PartMotion::new(0, &mine.part)], [PartMotion::new(0, other.part())]);
                    let decide = |threshold_m: f64| {
                        decide_between(&part_motions.0, &part_motions.1, Measure::Gap, threshold_m, BUDGET)
                    };
                    let undercut = matches!(decide(found_m.max(0.0) + 2e-5), PairDecision::Apart { .. });
                    assert!(!undercut, "{said}");
                    apart += usize::from(
                        proof.low_m > 0.0 && matches!(decide(proof.low_m * 0.9), PairDecision::Apart { .. }),
                    );
                    short += usize::from(matches!(decide(proof.high_m + 0.01), PairDecision::Short { .. }));
                    *tally.entry((kind, motion, beside)).or_default() += 1;
                    paths += 1;
                }
            }
        }
    }
    println!("{paths} paths, {grazing} grazing, {open} left open, {apart} apart and {short} short");
    assert!(paths >= 1000 && grazing >= 200, "{paths} {grazing}");
    assert!(open * 20 <= paths && apart * 2 >= paths && short * 10 >= paths * 9, "{open} {apart} {short} of {paths}");
    assert_eq!(tally.len(), 3 * 7 * 7);
}
