//! Gaps of still parts to hanging wires against three distance libraries and a closed form.
//!
//! source: tests/reference/gaps.csv, written by gaps.py beside it: coal 3.0.3, python-fcl 0.7.0.11 and a closed form on
//! random parts and catenaries of the size of a site; status computed. parry3d-f64 runs here.

use glam::DVec3;
use parry3d_f64::math::Pose;
use parry3d_f64::query;
use parry3d_f64::shape::{Capsule, ConvexPolyhedron, Segment, Shape};
use scene_core::approach;
use scene_core::bracket::Bracket;
use scene_core::conductor::SpanFamily;
use scene_core::motion::{MovingFeature, MovingPart, Track};
use std::fs;
use std::path::Path;
use std::sync::LazyLock;

/// A row of the file.
struct Pair {
    kind: String,
    wire: Wire,
    part: Vec<f64>,
    coal_m: f64,
    fcl_m: f64,
    /// The libraries' chords leave the curve by no more, either way.
    sagitta_m: f64,
    /// The libraries' part lies inside the true one: what they say is too large by no more.
    mesh_m: f64,
    third_m: f64,
    ruling: String,
    /// What Plumbrise says.
    ours: Bracket,
}

struct Wire {
    a: DVec3,
    b: DVec3,
    curvature: f64,
    radius_m: f64,
    blowout: f64,
}

/// Read and measured once, for all tests of this file.
static PAIRS: LazyLock<Vec<Pair>> = LazyLock::new(|| {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/gaps.csv");
    let text = fs::read_to_string(file).expect("gaps.csv is kept beside gaps.py");
    text.lines().skip(2).map(pair).collect()
});

fn numbers(cell: &str) -> Vec<f64> {
    cell.split(' ').map(|n| n.parse().expect("a number")).collect()
}

fn pair(line: &str) -> Pair {
    let cells: Vec<&str> = line.split(',').collect();
    let [kind, wire, part, coal_m, fcl_m, sagitta_m, mesh_m, third_m, _, ruling] = cells[..] else {
        panic!("ten columns: {line}");
    };
    let number = |cell: &str| cell.parse::<f64>().expect("a number");
    let wire = numbers(wire);
    let [ax, ay, az, bx, by, bz, curvature, radius_m, blowout] = wire[..] else {
        panic!("a wire has nine numbers: {line}");
    };
    let wire = Wire { a: DVec3::new(ax, ay, az), b: DVec3::new(bx, by, bz), curvature, radius_m, blowout };
    let part = numbers(part);
    let ours = approach::gap_at(&still(kind, &part), &hung(&wire), 0.0);
    Pair {
        kind: kind.to_owned(),
        wire,
        part,
        coal_m: number(coal_m),
        fcl_m: number(fcl_m),
        sagitta_m: number(sagitta_m),
        mesh_m: number(mesh_m),
        third_m: number(third_m),
        ruling: ruling.to_owned(),
        ours,
    }
}

fn point(numbers: &[f64]) -> DVec3 {
    DVec3::new(numbers[0], numbers[1], numbers[2])
}

/// A part that does not move.
fn still(kind: &str, part: &[f64]) -> MovingPart {
    let track = |base| Track { base, ..Track::default() };
    let feature = |at, radius_m, axis: Option<DVec3>| MovingFeature {
        at: track(at),
        radius_m,
        axis: axis.map(track),
        allowance_m: 0.0,
    };
    let features = if kind == "box" {
        part.chunks(3).map(|corner| feature(point(corner), 0.0, None)).collect()
    } else {
        let (p0, p1) = (point(&part[..3]), point(&part[3..]));
        let flat = matches!(kind, "cylinder" | "frustum").then(|| (p1 - p0).normalize());
        vec![feature(p0, part[6], flat), feature(p1, part[7], flat)]
    };
    MovingPart { features, ..MovingPart::default() }
}

/// The family of one curve.
fn hung(wire: &Wire) -> SpanFamily {
    let across = wire.b - wire.a;
    let run_m = across.x.hypot(across.y);
    SpanFamily {
        a: [wire.a; 2],
        b: [wire.b; 2],
        lateral: DVec3::new(-across.y, across.x, 0.0) / run_m,
        blowout: Bracket::exactly(wire.blowout),
        run_m,
        rise_m: across.z,
        curvature: Bracket::exactly(wire.curvature),
        radius_m: wire.radius_m,
        form_m: 0.0,
    }
}

/// Median, 99th percentile and most of the magnitudes.
struct Spread {
    median: f64,
    p99: f64,
    most: f64,
}

fn spread(errors: impl Iterator<Item = f64>) -> Spread {
    let mut sizes: Vec<f64> = errors.map(f64::abs).collect();
    sizes.sort_by(f64::total_cmp);
    let at = |fraction: f64| sizes[((sizes.len() - 1) as f64 * fraction).round() as usize];
    Spread { median: at(0.5), p99: at(0.99), most: at(1.0) }
}

impl Wire {
    /// z = c·cosh((x − low)/c) along the run, hung from the chord as the family is said to be, c = 1/curvature; written anew
    /// here, so that what the peers measure does not rest on scene-core.
    fn at(&self, t: f64) -> DVec3 {
        let c = 1.0 / self.curvature;
        let across = self.b - self.a;
        let run = across.x.hypot(across.y);
        let low = run / 2.0 - c * (across.z / (2.0 * c * (run / (2.0 * c)).sinh())).asinh();
        let x = t * run;
        let risen = 2.0 * c * (x / (2.0 * c)).sinh() * ((x - 2.0 * low) / (2.0 * c)).sinh();
        let lateral = DVec3::new(-across.y, across.x, 0.0) / run;
        let down = lateral * self.blowout.sin() - DVec3::Z * self.blowout.cos();
        self.a + across * t + down * (t * across.z - risen)
    }

    /// No chord of this many equal ones leaves the curve by more.
    fn sagitta_m(&self, pieces: usize) -> f64 {
        let across = self.b - self.a;
        let run = across.x.hypot(across.y);
        let low = run / 2.0 - (across.z * self.curvature / (2.0 * (run * self.curvature / 2.0).sinh())).asinh() / self.curvature;
        let steepest = low.abs().max((run - low).abs()) * self.curvature;
        (run / pieces as f64).powi(2) * self.curvature * steepest.cosh() / 8.0
    }
}

const PARRY_SAGITTA_M: f64 = 2e-7;

/// The least distance by parry over the wire's chords: all of them coarse, then those that could hold the least, halved.
fn parry_gap(shape: &dyn Shape, wire: &Wire) -> f64 {
    let mut pieces = 16;
    let mut near: Vec<usize> = (0..pieces).collect();
    loop {
        let sagitta = wire.sagitta_m(pieces);
        let chord = |i: usize| Segment::new(wire.at(i as f64 / pieces as f64), wire.at((i + 1) as f64 / pieces as f64));
        let distance = |i: &usize| {
            let chord = chord(*i);
            let found = query::distance(&Pose::IDENTITY, shape, &Pose::IDENTITY, &chord);
            (*i, found.expect("parry measures a convex shape against a segment").distance)
        };
        let found: Vec<(usize, f64)> = near.iter().map(distance).collect();
        let least = found.iter().map(|each| each.1).fold(f64::INFINITY, f64::min);
        if sagitta <= PARRY_SAGITTA_M {
            return least - wire.radius_m;
        }
        let close = found.iter().filter(|each| each.1 <= least + 2.0 * sagitta + 1e-4);
        near = close.flat_map(|each| [2 * each.0, 2 * each.0 + 1]).collect();
        pieces *= 2;
    }
}

/// The shapes that parry has exactly.
fn parry_shape(pair: &Pair) -> Option<Box<dyn Shape>> {
    match pair.kind.as_str() {
        "box" => {
            let corners: Vec<DVec3> = pair.part.chunks(3).map(point).collect();
            Some(Box::new(ConvexPolyhedron::from_convex_hull(&corners)?))
        }
        "capsule" => Some(Box::new(Capsule::new(point(&pair.part[..3]), point(&pair.part[3..]), pair.part[6]))),
        _ => None,
    }
}
