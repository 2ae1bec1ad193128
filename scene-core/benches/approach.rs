//! The trial scene: every pair of its 8 bodies and 36 wires bracketed to 1 mm over the whole motion, and decided; and the
//! same bracket by conservative advancement on a general collision library (parry3d-f64), with and without a cull by the
//! boxes about part motion and wire. One thread, one process; the table at the end has the best of several runs of each.
//!
//! `cargo bench -p scene-core --bench approach`
//!
//! The library measures a simpler scene: the pole as a capsule of its larger radius, tapered capsules likewise, wires as
//! chords that leave the curve by a quarter of a millimeter at most. Its guarantee rests on the same speed bound that the
//! proof's own second-order bound rests on.

#[allow(dead_code)]
#[path = "../../fixtures/src/lib.rs"]
mod fixtures;

use criterion::Criterion;
use fixtures::trial::{self, Trial};
use glam::DVec3;
use parry3d_f64::math::{Matrix, Pose, Rotation, Vector};
use parry3d_f64::query::distance;
use parry3d_f64::shape::{Ball, Capsule, Cuboid, Polyline, Shape};
use scene_core::approach::{Decision, Measure, PartMotion, Proof, WireArc, decide, smallest_gap};
use scene_core::bracket::Bracket;
use scene_core::conductor::{Member, SpanFamily};
use scene_core::motion::MovingPart;
use scene_core::motion::track::Phases;
use scene_core::solid::{Extent, Feature};
use std::hint::black_box;
use std::time::{Duration, Instant};

const TOLERANCE_M: f64 = 1e-3;
const BUDGET: u32 = 10_000;

fn part_motions_of(trial: &Trial) -> Vec<Vec<PartMotion>> {
    let part_motions =
        |parts: &[MovingPart]| parts.iter().enumerate().map(|(piece, part)| PartMotion::new(piece, part)).collect();
    trial.bodies.iter().map(|(_, parts)| part_motions(parts)).collect()
}

/// Every pair's bracket, kinematics included.
fn prove(trial: &Trial) -> Vec<Proof> {
    let part_motions = part_motions_of(trial);
    let arcs: Vec<WireArc> = trial.wires.iter().map(WireArc::whole).collect();
    let mut proofs = Vec::with_capacity(part_motions.len() * arcs.len());
    for part_motions in &part_motions {
        for arc in &arcs {
            let arc = std::slice::from_ref(arc);
            proofs.push(smallest_gap(part_motions, arc, Measure::Gap, TOLERANCE_M, BUDGET));
        }
    }
    proofs
}

/// Every pair against its required distance; kinematics are the caller's.
fn decide_all(part_motions: &[Vec<PartMotion>], arcs: &[WireArc], required_m: &[f64]) -> usize {
    let mut passed = 0;
    for (part_motions, required_m) in part_motions.iter().zip(required_m) {
        for arc in arcs {
            let decision = decide(part_motions, std::slice::from_ref(arc), Measure::Gap, *required_m, BUDGET);
            passed += usize::from(matches!(decision, Decision::Apart { .. }));
        }
    }
    passed
}

// ------------------------------------------------------------------------------------------- conservative advancement

fn vector(v: DVec3) -> Vector {
    Vector::new(v.x, v.y, v.z)
}

/// The part at u as a shape of the library.
fn shape(part: &MovingPart, u: f64) -> (Pose, Box<dyn Shape>, f64) {
    let hull = part.hull(u);
    let corner = |k: usize| match hull.features[k] {
        Feature::Ball { center, radius_m } | Feature::Disc { center, radius_m, .. } => (center, radius_m),
    };
    match hull.features.len() {
        1 => (Pose::from_translation(vector(corner(0).0)), Box::new(Ball::new(corner(0).1)), 0.0),
        2 => {
            let radius_m = corner(0).1.max(corner(1).1);
            (Pose::IDENTITY, Box::new(Capsule::new(vector(corner(0).0), vector(corner(1).0), radius_m)), 0.0)
        }
        _ => {
            let (origin, radius_m) = corner(0);
            let edges = [1, 2, 4].map(|bit| corner(bit).0 - origin);
            let way = edges.map(|edge| vector(edge.normalize()));
            let far = if way[0].cross(way[1]).dot(way[2]) < 0.0 { -way[2] } else { way[2] };
            let turn = Rotation::from_mat3(&Matrix::from_cols(way[0], way[1], far));
            let center = vector(origin + (edges[0] + edges[1] + edges[2]) / 2.0);
            let half = vector(DVec3::from(edges.map(DVec3::length)) / 2.0);
            (Pose::from_parts(center, turn), Box::new(Cuboid::new(half)), radius_m)
        }
    }
}

/// A part motion with what the library's method needs of it.
struct Peer<'a> {
    part: &'a MovingPart,
    speed: f64,
    extent: Extent,
}

fn peer(part: &MovingPart) -> Peer<'_> {
    let unit = Bracket::between(0.0, 1.0).expect("finite");
    let middle = Phases::at(&part.rates, 0.5);
    let mut peer = Peer { part, speed: 0.0, extent: Extent::EMPTY };
    for feature in &part.features {
        let second = feature.at.bounds(&part.rates, unit).second;
        peer.speed = peer.speed.max(feature.at.moment(&middle).first.length() + second / 2.0);
        for k in 0..=8 {
            let at = feature.at.at(&Phases::at(&part.rates, f64::from(k) / 8.0));
            peer.extent = peer.extent.with_ball(at, feature.radius_m + second / 512.0);
        }
    }
    peer
}

struct Chords {
    line: Polyline,
    radius_m: f64,
    extent: Extent,
}

fn chords(family: &SpanFamily) -> Chords {
    let curvature = family.curvature.high();
    let count = (family.run_m / (8.0 * 0.25e-3 / curvature).sqrt()).ceil().max(1.0);
    let mut extent = Extent::EMPTY;
    let points = (0..=count as usize).map(|k| {
        let member = Member { t: k as f64 / count, curvature, blowout: family.blowout.low(), a: 0.0, b: 0.0 };
        let point = family.point(&member);
        extent = extent.with_ball(point, 0.25e-3);
        vector(point)
    });
    Chords { line: Polyline::new(points.collect(), None), radius_m: family.radius_m, extent }
}

/// The smallest distance over the path to the tolerance: from each instant on as far as nothing can come nearer than the
/// nearest so far less the tolerance. Returns it with the number of distances asked for.
fn advance(peers: &[Peer], chords: &Chords, cull: bool) -> (f64, u32) {
    let mut best = f64::INFINITY;
    let mut asked = 0;
    let mut order: Vec<(f64, &Peer)> =
        peers.iter().map(|peer| (peer.extent.way_from(chords.extent).length() - chords.radius_m, peer)).collect();
    if cull {
        order.sort_by(|a, b| a.0.total_cmp(&b.0));
    }
    for (bound, peer) in order {
        if cull && bound >= best - TOLERANCE_M {
            continue;
        }
        let mut u = 0.0;
        while u <= 1.0 {
            let (pose, solid, radius_m) = shape(peer.part, u);
            let found = distance(&pose, &*solid, &Pose::IDENTITY, &chords.line).expect("supported");
            asked += 1;
            let gap = found.distance - radius_m - chords.radius_m;
            best = best.min(gap);
            // What stands still is asked for once.
            u += (gap - best + TOLERANCE_M) / peer.speed.max(1e-12);
        }
    }
    (best, asked)
}

fn advance_all(trial: &Trial, cull: bool) -> (Vec<f64>, u32) {
    let chords: Vec<Chords> = trial.wires.iter().map(chords).collect();
    let mut asked = 0;
    let mut gaps = Vec::new();
    for (_, parts) in &trial.bodies {
        let peers: Vec<Peer> = parts.iter().map(peer).collect();
        for chords in &chords {
            let (gap, count) = advance(&peers, chords, cull);
            asked += count;
            gaps.push(gap);
        }
    }
    (gaps, asked)
}

// ------------------------------------------------------------------------------------------------------------ timing

fn best_of<T>(runs: u32, mut run: impl FnMut() -> T) -> Duration {
    (0..runs)
        .map(|_| {
            let start = Instant::now();
            black_box(run());
            start.elapsed()
        })
        .min()
        .unwrap_or_default()
}

fn main() {
    let trial = trial::trial();
    let proofs = prove(&trial);
    assert!(proofs.iter().all(|proof| proof.closed), "a pair did not close");
    let wires = trial.wires.len();
    let lowest =
        |body: usize| proofs.iter().skip(body * wires).take(wires).map(|p| p.low_m).fold(f64::INFINITY, f64::min);
    // A placement that passes: each body keeps 90 % of its own smallest gap, or 65 cm where it keeps that.
    let close: Vec<f64> = (0..trial.bodies.len()).map(|body| lowest(body) * 0.9).collect();
    let usual: Vec<f64> = close.iter().map(|close| close.min(0.65)).collect();
    let part_motions = part_motions_of(&trial);
    let arcs: Vec<WireArc> = trial.wires.iter().map(WireArc::whole).collect();
    let pairs = proofs.len();
    assert_eq!(decide_all(&part_motions, &arcs, &close), pairs);
    assert_eq!(decide_all(&part_motions, &arcs, &usual), pairs);

    let mut criterion = Criterion::default().configure_from_args().sample_size(20);
    criterion.bench_function("every pair to 1 mm", |b| b.iter(|| prove(black_box(&trial))));
    criterion.bench_function("kinematics", |b| b.iter(|| part_motions_of(black_box(&trial))));
    criterion.bench_function("decide, 90 % of the gap", |b| b.iter(|| decide_all(&part_motions, &arcs, &close)));
    criterion.bench_function("decide, at most 65 cm", |b| b.iter(|| decide_all(&part_motions, &arcs, &usual)));
    criterion.final_summary();

    let evaluations: u32 = proofs.iter().map(|proof| proof.evaluations).sum();
    let ours = best_of(200, || prove(&trial));
    println!("every pair to 1 mm        {ours:>10.2?}  {evaluations} placements looked at");
    println!("  of which kinematics     {:>10.2?}", best_of(200, || part_motions_of(&trial)));
    for (name, required) in [("90 % of the gap ", &close), ("at most 65 cm   ", &usual)] {
        let time = best_of(200, || decide_all(&part_motions, &arcs, required));
        println!("decide, {name}  {time:>10.2?}  {:.0} passing placements a second", 1.0 / time.as_secs_f64());
    }
    for (name, cull) in [("with a cull   ", true), ("without       ", false)] {
        let (gaps, asked) = advance_all(&trial, cull);
        let off = gaps.iter().zip(&proofs).map(|(gap, proof)| gap - proof.high_m);
        let (under, over) = off.fold((0.0_f64, 0.0_f64), |(lo, hi), x| (lo.min(x), hi.max(x)));
        let time = best_of(3, || advance_all(&trial, cull));
        let ratio = time.as_secs_f64() / ours.as_secs_f64();
        let each_us = time.as_secs_f64() * 1e6 / f64::from(asked);
        println!(
            "advancement, {name}{time:>10.2?}  {asked} distances of {each_us:.1} µs, {ratio:.0} times ours, off by {under:.4} … {over:.4} m"
        );
    }
}
