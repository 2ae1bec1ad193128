//! What an engineer who distrusts the program would do: take the trace as JSON, forget the program, and measure again.
//!
//! Only `trace::lines`, `check::check` and the scene's own numbers are used. Distances are parry3d-f64 0.31.1's; a tapered
//! stretch of pole is the hull of two polygons inside its end circles, so that what parry says is too large by no more than
//! `polygon_error_m`. Curves are the trace's own chords, off by their stated `sagitta_error_m`. The kinematics are those
//! of a telescopic boom on a slew ring, written anew from the drawing.

use glam::DVec3;
use parry3d_f64::math::Pose;
use parry3d_f64::query;
use parry3d_f64::shape::{Ball, ConvexPolyhedron, Polyline, Segment, Shape, Triangle};
use scene_core::bracket::Bracket;
use scene_core::check::check;
use scene_core::outcome::{GapRow, OtherKind, Report};
use scene_core::scene;
use scene_core::site::{Hang, Site};
use scene_core::trace;
use serde_json::Value;
use std::collections::HashMap;
use std::f64::consts::TAU;
use std::fs;
use std::path::Path;

/// What parry's own iteration and the printing of decimals leave (f64; it stops at a relative gap of 4.7e-8).
const PEER_M: f64 = 2e-5;
/// The trace brackets the gap of an instant to this and prints the high.
const TRACE_M: f64 = 1e-4;
/// The report's bracket.
const REPORT_M: f64 = 1e-3;
const POLYGON: usize = 64;

// -------------------------------------------------------------------------------------------------- what is audited

struct Job {
    name: String,
    site: Site,
    header: Value,
    instants: Vec<Value>,
    report: Report,
}

fn job(name: &str, site: Site, every_s: f64) -> Job {
    let mut lines = trace::lines(&site, every_s).map(|line| serde_json::from_str::<Value>(&line).expect("JSON"));
    let header = lines.next().expect("a header");
    let instants: Vec<Value> = lines.collect();
    let report = check(&site);
    assert_eq!(header["format"], "plumbrise-trace/1");
    assert!(instants.len() > 10, "{name}: {} instants", instants.len());
    Job { name: name.to_owned(), site, header, instants, report }
}

fn site_of(name: &str, text: &str) -> Site {
    scene::read(name, text).and_then(|scene| scene.site()).expect("an example can be read")
}

/// The example scenes and the template.
fn examples() -> Vec<(String, Site)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenes");
    let mut files: Vec<_> = fs::read_dir(folder).expect("the examples").map(|entry| entry.unwrap().path()).collect();
    files.retain(|file| file.extension().is_some_and(|ext| ext == "ron"));
    files.sort();
    assert!(!files.is_empty());
    let mut found: Vec<(String, Site)> = (files.iter())
        .map(|file| {
            let name = file.file_name().unwrap().to_string_lossy().into_owned();
            let site = site_of(&name, &fs::read_to_string(file).unwrap());
            (name, site)
        })
        .collect();
    found.push(("template".to_owned(), site_of("template", scene::template())));
    found
}

/// As surveyed to the millimeter, in still air, nothing held out: every wire hangs in one curve.
fn one_curve_each(mut site: Site) -> Site {
    site.held_out.clear();
    site.weather.truncate(1);
    site.weather[0].wind_m_s = 0.0;
    for span in site.wires.iter_mut().flat_map(|wire| &mut wire.spans) {
        span.hang = match span.hang {
            Hang::Sag { sag_m } => Hang::Sag { sag_m: Bracket::exactly(sag_m.middle()) },
            Hang::Tension { tension_n } => Hang::Tension { tension_n: Bracket::exactly(tension_n.middle()) },
            Hang::Strung(strung) => Hang::Strung(strung),
        };
    }
    site
}

// ----------------------------------------------------------------------------------------------------- reading JSON

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("a number, not {value}"))
}

fn point(value: &Value) -> DVec3 {
    DVec3::new(number(&value[0]), number(&value[1]), number(&value[2]))
}

fn text(value: &Value) -> &str {
    value.as_str().expect("a text")
}

fn list(value: &Value) -> &[Value] {
    value.as_array().expect("a list")
}

struct Curve {
    wire: String,
    weather: String,
    steps: Vec<u64>,
    radius_m: f64,
    sagitta_m: f64,
    chords: Polyline,
}

fn curves(job: &Job) -> Vec<Curve> {
    (list(&job.header["wires"]).iter())
        .map(|wire| {
            let points: Vec<DVec3> = list(&wire["points"]).iter().map(point).collect();
            Curve {
                wire: text(&wire["wire"]).to_owned(),
                weather: text(&wire["weather"]).to_owned(),
                steps: list(&wire["steps"]).iter().map(|step| step.as_u64().unwrap()).collect(),
                radius_m: number(&wire["radius_m"]),
                sagitta_m: number(&wire["sagitta_error_m"]),
                chords: Polyline::new(points, None),
            }
        })
        .collect()
}

/// A part as parry has it: a shape, what is grown about it, and by how much it may lie inside the true one.
struct Solid {
    shape: Box<dyn Shape>,
    grown_m: f64,
    inside_m: f64,
    /// Stated in the trace: the motion is known to this.
    motion_error_m: f64,
}

fn hull(points: &[DVec3]) -> Box<dyn Shape> {
    match *points {
        [a] => {
            let _ = a;
            panic!("a point is written as a ball");
        }
        [a, b] => Box::new(Segment::new(a, b)),
        [a, b, c] if (b - a).cross(c - a).length() > 1e-9 => Box::new(Triangle::new(a, b, c)),
        // Three in a row are the longest of their segments.
        [a, b, c] => {
            let pairs = [(a, b), (b, c), (a, c)];
            let (p, q) = pairs.into_iter().max_by(|x, y| x.0.distance(x.1).total_cmp(&y.0.distance(y.1))).unwrap();
            Box::new(Segment::new(p, q))
        }
        _ => Box::new(ConvexPolyhedron::from_convex_hull(points).expect("a hull")),
    }
}

fn solid(body: &Value) -> Solid {
    let motion_error_m = body.get("blur_m").map_or(0.0, number);
    match text(&body["kind"]) {
        "hull" => {
            let points: Vec<DVec3> = list(&body["points"]).iter().map(point).collect();
            Solid { shape: hull(&points), grown_m: 0.0, inside_m: 0.0, motion_error_m }
        }
        "balls" => {
            let balls = list(&body["balls"]);
            let radii: Vec<f64> = balls.iter().map(|ball| number(&ball[3])).collect();
            let centers: Vec<DVec3> = balls.iter().map(point).collect();
            let least = radii.iter().copied().fold(f64::INFINITY, f64::min);
            let most = radii.iter().copied().fold(0.0, f64::max);
            let shape: Box<dyn Shape> =
                if centers.len() == 1 { Box::new(Segment::new(centers[0], centers[0])) } else { hull(&centers) };
            Solid { shape, grown_m: least, inside_m: most - least, motion_error_m }
        }
        "frustum" => {
            let (a, b) = (point(&body["a"]), point(&body["b"]));
            let (ra, rb) = (number(&body["ra"]), number(&body["rb"]));
            let axis = (b - a).normalize();
            let (across, up) = axis.any_orthonormal_pair();
            let mut points = Vec::new();
            for (center, radius) in [(a, ra), (b, rb)] {
                for corner in 0..POLYGON {
                    let (sin, cos) = (TAU * corner as f64 / POLYGON as f64).sin_cos();
                    points.push(center + (across * cos + up * sin) * radius);
                }
            }
            let inside_m = ra.max(rb) * (1.0 - (TAU / 2.0 / POLYGON as f64).cos());
            Solid { shape: hull(&points), grown_m: 0.0, inside_m, motion_error_m }
        }
        kind => panic!("no such kind of body: {kind}"),
    }
}

/// Distance to the curve, and by how much it may be too large or too small.
fn measured(solid: &Solid, curve: &Curve) -> f64 {
    let far = query::distance(&Pose::IDENTITY, solid.shape.as_ref(), &Pose::IDENTITY, &curve.chords);
    far.expect("parry measures a convex shape against chords").distance - solid.grown_m - curve.radius_m
}

/// Every instant's every body, curve by curve: the least over the body's parts.
fn each_measure<'a>(job: &'a Job, mut take: impl FnMut(&'a Value, &str, &Curve, f64, f64)) {
    let curves = curves(job);
    for instant in &job.instants {
        let step = instant["step"].as_u64().expect("a step");
        let mut bodies: Vec<(&str, Vec<Solid>)> = Vec::new();
        for body in list(&instant["bodies"]) {
            let name = text(&body["name"]);
            match bodies.last_mut() {
                Some((last, solids)) if *last == name => solids.push(solid(body)),
                _ => bodies.push((name, vec![solid(body)])),
            }
        }
        // An arm is insulated, and it holds a wire: it has no gap to one.
        let is_arm = |name: &str| job.site.held_out.iter().any(|held| held.name == name);
        bodies.retain(|(name, _)| !is_arm(name));
        for curve in curves.iter().filter(|curve| curve.steps.contains(&step)) {
            for (name, solids) in &bodies {
                let of = |solid: &Solid| (measured(solid, curve), solid.inside_m + solid.motion_error_m);
                let nearest = solids.iter().map(of).min_by(|x, y| x.0.total_cmp(&y.0)).expect("a part");
                let error = solids.iter().map(|s| s.inside_m + s.motion_error_m).fold(0.0, f64::max).max(nearest.1);
                take(instant, name, curve, nearest.0, error);
            }
        }
    }
}

type Pair = (String, String, String);

fn gaps_of(instant: &Value) -> HashMap<Pair, f64> {
    let key = |gap: &Value| [&gap["body"], &gap["other"], &gap["weather"]].map(|part| text(part).to_owned());
    (list(&instant["gaps"]).iter())
        .map(|gap| {
            let [body, other, weather] = key(gap);
            ((body, other, weather), number(&gap["gap_m"]))
        })
        .collect()
}

// ------------------------------------------------------------------------------------------------------- the checks

#[test]
fn where_a_wire_hangs_in_one_curve_the_trace_and_the_peer_say_the_same() {
    let (name, site) = examples().remove(0);
    let job = job(&name, one_curve_each(site), 200.0);
    let mut least: HashMap<(*const Value, Pair), (f64, f64)> = HashMap::new();
    each_measure(&job, |instant, body, curve, found, error| {
        let pair = (body.to_owned(), curve.wire.clone(), curve.weather.clone());
        let kept = least.entry((std::ptr::from_ref(instant), pair)).or_insert((f64::INFINITY, 0.0));
        *kept = (kept.0.min(found), kept.1.max(error + curve.sagitta_m));
    });
    let (mut count, mut worst) = (0, 0.0_f64);
    for instant in &job.instants {
        for (pair, said) in gaps_of(instant) {
            let (found, error) = least[&(std::ptr::from_ref(instant), pair.clone())];
            // The trace's own parts never read below touching.
            if found > 0.0 {
                let off = (said - found).abs() - error - TRACE_M - PEER_M;
                assert!(off <= 0.0, "{pair:?} at {} s: trace {said}, peer {found}", instant["time_s"]);
                worst = worst.max((said - found).abs());
                count += 1;
            }
        }
    }
    println!("{count} gaps, the farthest apart by {worst:.2e} m");
    assert!(count > 1000, "{count}");
}

#[test]
fn the_trace_s_gap_is_never_above_the_distance_to_any_corner_of_a_family() {
    for (name, site) in examples() {
        let job = job(&name, site, 400.0);
        let gaps: Vec<HashMap<Pair, f64>> = job.instants.iter().map(gaps_of).collect();
        let index: HashMap<*const Value, usize> =
            job.instants.iter().enumerate().map(|(i, instant)| (std::ptr::from_ref(instant), i)).collect();
        let mut least: HashMap<(Pair, usize), (f64, f64)> = HashMap::new();
        each_measure(&job, |instant, body, curve, found, error| {
            let pair = (body.to_owned(), curve.wire.clone(), curve.weather.clone());
            let said = gaps[index[&std::ptr::from_ref(instant)]].get(&pair).copied();
            let said = said.unwrap_or_else(|| panic!("{name}: no gap for {pair:?}"));
            // How deep they go into each other is measured by neither.
            let over = said - found.max(-curve.radius_m);
            let allowed = curve.sagitta_m + TRACE_M + PEER_M + error;
            assert!(over <= allowed, "{name}: {pair:?} at {} s: trace {said}, peer {found}", instant["time_s"]);
            let step = instant["step"].as_u64().unwrap() as usize;
            let kept = least.entry((pair, step)).or_insert((f64::INFINITY, 0.0));
            if found < kept.0 {
                *kept = (found, error + curve.sagitta_m);
            }
        });
        held_by_the_report(&job, &least);
    }
}

/// No distance that was measured is below what the report has proven of the pair in that weather.
///
/// A row's low is that of the interval of steps that governs: the worst state, the least margin. Boom, its head and the tail have
/// the same allowance and required distance everywhere, so that theirs is the least of all; others are held to it at the step
/// that governs.
fn held_by_the_report(job: &Job, least: &HashMap<(Pair, usize), (f64, f64)>) {
    let (mut all_steps, mut one_step) = (0, 0);
    for row in job.report.gaps.iter().filter(|row| row.other_kind == OtherKind::Wire) {
        let GapRow { body, other, weather, low_m, high_m, .. } = row;
        let moved = job.site.held_out.iter().any(|held| {
            let steps = [held.during.on_after_step, held.during.off_before_step];
            job.site.wires[held.wire].name == *other && steps.contains(&row.step)
        });
        // While a wire is moved, what the family's form leaves open comes on top.
        assert!(low_m <= high_m && (moved || *high_m <= low_m + REPORT_M), "{}: {row:?}", job.name);
        let margin_m = low_m - row.allowance_m - row.required_m;
        assert!((row.margin_m - margin_m).abs() < 1e-9, "{}: {row:?}", job.name);
        let everywhere = ["boom", "boom head", "tail"].contains(&body.as_str());
        for ((pair, step), (found, error)) in least {
            if (&pair.0, &pair.1, &pair.2) != (body, other, weather) {
                continue;
            }
            if everywhere || row.step == Some(*step) {
                let said =
                    format!("{}: {body} to {other}, {weather}, step {step}: report {low_m}, peer {found}", job.name);
                assert!(*low_m <= found + error + PEER_M, "{said}");
                *(if everywhere { &mut all_steps } else { &mut one_step }) += 1;
            }
        }
    }
    assert!(all_steps >= 50 && one_step >= 5, "{}: {all_steps} {one_step}", job.name);
    for (pair, _) in least.keys() {
        let is_said = |row: &&GapRow| (&row.body, &row.other, &row.weather) == (&pair.0, &pair.1, &pair.2);
        assert!(job.report.gaps.iter().any(|row| is_said(&row)), "{}: no row for {pair:?}", job.name);
    }
}

/// The hook from the joints: slew about the axis, foot pin off it, boom up by its angle, the head's sheave beyond the tip and
/// below the boom's axis, the line plumb from the sheave's outer side, the block below it.
#[test]
fn the_joints_of_the_trace_bring_the_hook_where_the_trace_has_it() {
    for (name, site) in examples() {
        let job = job(&name, site, 120.0);
        let crane = &job.site.crane;
        for instant in &job.instants {
            let joints = &instant["joints"][crane.name.as_str()];
            let angle = |key: &str| number(&joints[key]).to_radians();
            let (swing, boom) = (angle("swing_deg"), angle("boom_angle_deg"));
            let (length, hoist) = (number(&joints["boom_length_m"]), number(&joints["hoist_length_m"]));
            let out = crane.foot_offset_m
                + (length + crane.head.along_m) * boom.cos()
                + crane.head.below_m * boom.sin()
                + crane.head.sheave_radius_m;
            let up = crane.foot_height_m + (length + crane.head.along_m) * boom.sin() - crane.head.below_m * boom.cos();
            let bearing = crane.heading + swing;
            let block_top = crane.at + DVec3::new(bearing.cos() * out, bearing.sin() * out, up - hoist);
            let hook = block_top - DVec3::Z * crane.block.length_m;
            let block = list(&instant["bodies"]).iter().find(|body| body["name"] == "hook block").expect("a block");
            let motion_error_m = block.get("blur_m").map_or(0.0, number);
            let drawn: Vec<DVec3> = list(&block["balls"]).iter().map(point).collect();
            for (place, want) in drawn.iter().zip([block_top, hook]) {
                let off = place.distance(want);
                assert!(off <= 1e-6 + motion_error_m, "{name} at {} s: {place} instead of {want}", instant["time_s"]);
            }
        }
    }
}

#[test]
fn a_peer_that_errs_is_noticed() {
    // The oracle's own check: a ball two meters above a wire of one chord.
    let shape = Ball::new(0.5);
    let chord = Polyline::new(vec![DVec3::new(-5.0, 0.0, 0.0), DVec3::new(5.0, 0.0, 0.0)], None);
    let far = query::distance(&Pose::from_translation(DVec3::new(1.0, 0.0, 2.0)), &shape, &Pose::IDENTITY, &chord);
    assert!((far.unwrap().distance - 1.5).abs() < 1e-12);
}
