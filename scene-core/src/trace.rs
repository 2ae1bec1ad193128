//! The geometry over time as JSON lines, `plumbrise-trace/1`. Another program can measure every gap again from it.
//!
//! The first line is a header with the wires as polylines. Each further line is one instant. A wire that may hang in a
//! family of curves appears as the family's corner members. The gap of an instant is that of the whole family, so it
//! never exceeds the distance to any of those polylines by more than their stated error. For a family with one member
//! the two agree.

use crate::approach::{self, Measure, WireArc};
use crate::check::Prepared;
use crate::conductor::{Member, PlacedFamily, SpanFamily, WireState};
use crate::machine::BodyId;
use crate::machine::{Joint, JointKind};
use crate::motion::{Motion, MovingPart, WindLean};
use crate::sequence::Piece;
use crate::site::Site;
use crate::solid::{Feature, Hull};
use glam::DVec3;
use serde_json::{Value, json};

/// The largest distance of a polyline from its curve, meters.
const SAGITTA_M: f64 = 1e-4;
/// Most points of one polyline.
const MOST_POINTS: usize = 2000;
/// Most instants. A longer plan gets a wider spacing.
const MOST_INSTANTS: f64 = 50_000.0;

/// One member curve of a wire, as a polyline.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// Index into [`Site::wires`].
    pub wire: usize,
    /// Index into [`Site::weather`].
    pub weather: usize,
    /// Indices of the steps during which the wire may hang so.
    pub steps: Vec<usize>,
    /// The conductor's radius with its cover and ice, meters.
    pub radius_m: f64,
    /// Largest distance of the polyline from the curve, meters.
    pub sagitta_error_m: f64,
    /// In order along the line. World frame, meters.
    pub points: Vec<DVec3>,
}

/// The corner members of every family of every wire. It hangs all wires anew.
pub fn wire_curves(site: &Site) -> Vec<Curve> {
    let wires = crate::conductor::hang(site);
    wires.states.iter().flat_map(curves_of_state).collect()
}

pub(crate) fn curves_of_state(state: &WireState) -> Vec<Curve> {
    state.families.iter().flat_map(|placed| curves_of_family(state, placed)).collect()
}

fn curves_of_family(state: &WireState, placed: &PlacedFamily) -> Vec<Curve> {
    let family = &placed.family;
    let count = points_for(family);
    let mut curves: Vec<Curve> = Vec::new();
    for corner in corners(family) {
        let points: Vec<DVec3> =
            (0..=count).map(|i| family.point(&Member { t: i as f64 / count as f64, ..corner })).collect();
        let known = curves.iter().any(|curve| curve.points == points);
        if !known {
            curves.push(Curve {
                wire: state.wire,
                weather: state.weather,
                steps: state.steps.clone(),
                radius_m: family.radius_m,
                sagitta_error_m: sagitta(family, count),
                points,
            });
        }
    }
    curves
}

/// The members at the ends of all ranges.
fn corners(family: &SpanFamily) -> Vec<Member> {
    let mut found = Vec::new();
    for curvature in [family.curvature.low(), family.curvature.high()] {
        for blowout in [family.blowout.low(), family.blowout.high()] {
            for a in [0.0, 1.0] {
                for b in [0.0, 1.0] {
                    found.push(Member { t: 0.0, curvature, blowout, a, b });
                }
            }
        }
    }
    found
}

/// A bound on the distance between a chord and its curve, meters: length² × second derivative / 8, including the slope.
fn sagitta(family: &SpanFamily, count: usize) -> f64 {
    let curvature = family.curvature.high();
    let steepest = (family.rise_m / family.run_m).abs() + curvature * family.run_m;
    let length = family.run_m / count.max(1) as f64;
    length * length * curvature * (1.0 + steepest * steepest).sqrt() / 8.0
}

/// The number of pieces in which the polyline keeps [`SAGITTA_M`].
fn points_for(family: &SpanFamily) -> usize {
    let needed = (sagitta(family, 1) / SAGITTA_M).sqrt().ceil();
    if needed.is_finite() { (needed as usize).clamp(8, MOST_POINTS) } else { MOST_POINTS }
}

/// The header and the instants, one text line each. Instants are `every_s` seconds apart and include the start and the
/// end of every piece of motion.
pub fn lines(site: &Site, every_s: f64) -> impl Iterator<Item = String> {
    let prepared = Prepared::of(site, &mut Vec::new());
    let header = header(site, &wire_curves(site));
    let instants: Vec<(usize, f64)> = prepared.plan.as_ref().map_or(Vec::new(), |plan| instants(&plan.pieces, every_s));
    let motion = prepared.plan.as_ref().map(|plan| Motion::of(site, plan, &WindLean::default()));
    let wires = prepared.wires;
    std::iter::once(header).chain(instants.into_iter().filter_map(move |(piece, u)| {
        let motion = motion.as_ref()?;
        Some(instant(site, motion, &wires.states, piece, u).to_string())
    }))
}

/// Index of the first step that the trace does not reach; `None` when the whole plan can be carried out.
pub fn first_step_left_out(site: &Site) -> Option<usize> {
    let prepared = Prepared::of(site, &mut Vec::new());
    prepared.plan.as_ref().map_or(Some(0), |plan| plan.stopped_at)
}

fn instants(pieces: &[Piece], every_s: f64) -> Vec<(usize, f64)> {
    let total = pieces.last().map_or(0.0, |piece| piece.time_to_s);
    let every_s = every_s.max(total / MOST_INSTANTS).max(1e-3);
    let mut found = Vec::new();
    for (index, piece) in pieces.iter().enumerate() {
        let long = piece.time_to_s - piece.time_from_s;
        let count =
            if piece.still() && piece.lifts_still() { 1.0 } else { (long / every_s).ceil().clamp(1.0, MOST_INSTANTS) };
        found.extend((0..=count as usize).map(|i| (index, i as f64 / count)));
    }
    found
}

fn header(site: &Site, curves: &[Curve]) -> String {
    let wires: Vec<Value> = curves
        .iter()
        .map(|curve| {
            json!({
                "wire": site.wires.get(curve.wire).map(|w| &w.name),
                "weather": site.weather.get(curve.weather).map(|w| &w.name),
                "steps": curve.steps,
                "radius_m": curve.radius_m,
                "sagitta_error_m": curve.sagitta_error_m,
                "points": curve.points.iter().map(xyz).collect::<Vec<_>>(),
            })
        })
        .collect();
    json!({ "format": "plumbrise-trace/1", "axes": "x east, y north, z up, metres", "wires": wires }).to_string()
}

fn instant(site: &Site, motion: &Motion, states: &[WireState], piece: usize, u: f64) -> Value {
    let Some(now) = motion.pieces.get(piece) else { return Value::Null };
    let joints = now.joints_at(u);
    let mut bodies = Vec::new();
    let mut gaps = Vec::new();
    for body in &motion.bodies {
        let parts = body.parts.get(piece).map_or(&[][..], |parts| &parts[..]);
        for part in parts {
            let mut drawn = shape(&body.name, &part.hull(u));
            // The motion error, for a tilt between knots or for joints in any combination.
            if part.motion_error_m > 0.0 {
                drawn["blur_m"] = json!(part.motion_error_m);
            }
            bodies.push(drawn);
        }
        // An arm is insulated, and it holds a wire: it has no gap to one.
        if matches!(body.id, BodyId::HoldingArm { .. }) {
            continue;
        }
        for state in states.iter().filter(|state| state.steps.contains(&now.step)) {
            gaps.push(json!({
                "body": body.name,
                "other": site.wires.get(state.wire).map(|w| &w.name),
                "weather": site.weather.get(state.weather).map(|w| &w.name),
                "gap_m": gap(parts, u, state),
            }));
        }
    }
    let mut machines = serde_json::Map::new();
    machines.insert(
        site.crane.name.clone(),
        json!({
            "swing_deg": joints.swing.to_degrees(),
            "boom_angle_deg": joints.boom_angle.to_degrees(),
            "boom_length_m": joints.boom_length_m,
            "hoist_length_m": joints.hoist_length_m,
            "pole_tilt_deg": joints.pole_tilt.to_degrees(),
            "pole_heading_deg": joints.pole_heading.to_degrees(),
            "pole_turn_deg": joints.pole_turn.to_degrees(),
        }),
    );
    for (lift, run) in site.lifts.iter().zip(&now.lifts) {
        let at = run.joints_at(u);
        let value = |(index, joint): (usize, &Joint)| {
            let value = if joint.kind == JointKind::Length { at[index] } else { at[index].to_degrees() };
            (joint.key.to_owned(), json!(value))
        };
        let joints: serde_json::Map<String, Value> = lift.joints().iter().enumerate().map(value).collect();
        let name = lift.name.as_deref().filter(|_| site.lifts.len() > 1);
        machines.insert(name.unwrap_or(lift.facts().model).to_owned(), joints.into());
    }
    json!({
        "time_s": now.time_s(u),
        "step": now.step,
        "joints": machines,
        "bodies": bodies,
        "gaps": gaps,
    })
}

/// The smallest gap of some parts to one wire at an instant, meters: between a real point of the body and one of a
/// member curve.
fn gap(parts: &[MovingPart], u: f64, state: &WireState) -> Option<f64> {
    let least = parts
        .iter()
        .flat_map(|part| state.families.iter().map(move |placed| (part, placed)))
        .map(|(part, placed)| approach::gap_at(part, u, &WireArc::whole(&placed.family), Measure::Gap).high_m)
        .fold(f64::INFINITY, f64::min);
    least.is_finite().then_some(least)
}

fn shape(name: &str, hull: &Hull) -> Value {
    let balls: Vec<(DVec3, f64)> = hull
        .features
        .iter()
        .filter_map(|feature| match *feature {
            Feature::Ball { center, radius_m } => Some((center, radius_m)),
            Feature::Disc { .. } => None,
        })
        .collect();
    if let [Feature::Disc { center: a, radius_m: ra, .. }, Feature::Disc { center: b, radius_m: rb, .. }] =
        hull.features[..]
    {
        return json!({ "name": name, "kind": "frustum", "a": xyz(&a), "b": xyz(&b), "ra": ra, "rb": rb });
    }
    if balls.iter().all(|(_, radius)| *radius == 0.0) {
        let points: Vec<_> = balls.iter().map(|(center, _)| xyz(center)).collect();
        return json!({ "name": name, "kind": "hull", "points": points });
    }
    let balls: Vec<_> = balls.iter().map(|(c, r)| [c.x, c.y, c.z, *r]).collect();
    json!({ "name": name, "kind": "balls", "balls": balls })
}

fn xyz(p: &DVec3) -> [f64; 3] {
    [p.x, p.y, p.z]
}
