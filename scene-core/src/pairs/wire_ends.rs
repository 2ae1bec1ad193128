//! Wires that end where nothing holds them, so near the work that what moves might meet what is not stated beyond.

use super::Inputs;
use crate::approach::PartMotion;
use crate::finding::{self, Finding, Unit, Unusual};
use crate::site::ground::Shape;
use crate::site::{Site, Wire};
use glam::{DVec2, DVec3};

/// A wire is held by a pole this near in plan, meters: half of a 10 ft arm, and its insulator.
const AT_POLE_M: f64 = 2.0;

/// A wire is held by a building this near, and a drop by a wire this near, meters.
const AT_STRUCTURE_M: f64 = 1.0;

/// A stop for each wire with an end at no stated structure, nearer the hole than anything that moves comes, with its distance.
pub(crate) fn wire_ends(inputs: &Inputs) -> Vec<Finding> {
    let site = inputs.site;
    let Some(set) = inputs.bodies.windiest() else { return Vec::new() };
    let hole = site.hole.at.truncate();
    // By body: how far from the hole it comes in plan, allowances included.
    let reaches: Vec<f64> = (0..set.motion.bodies.len())
        .map(|body| set.part_motions(body).iter().flatten().map(|part| reach_m(part, hole)).fold(0.0, f64::max))
        .collect();
    let of_wire = |(index, wire): (usize, &Wire)| {
        let swept_m = set.motion.bodies.iter().zip(&reaches).map(|(body, reach_m)| {
            // A distance that cannot be looked up is another finding.
            reach_m + inputs.distances.to_ground(body.role, index).map_or(0.0, |required| required.distance_m)
        });
        let swept_m = swept_m.fold(0.0, f64::max);
        let ends = [wire.spans.first().map(|span| span.from), wire.spans.last().map(|span| span.to)];
        let open = ends.into_iter().flatten().filter(|end| !is_held(site, index, *end));
        let nearest = open.map(|end| (end.truncate().distance(hole), end)).min_by(|a, b| a.0.total_cmp(&b.0));
        let (end_m, end) = nearest?;
        // NaN is not beyond.
        let is_beyond = end_m >= swept_m;
        let fact = Unusual::EndsInTheOpen { wire: wire.name.clone(), end_m, swept_m };
        (!is_beyond).then(|| finding::stop(fact).at_place(end).measured(end_m, swept_m, Unit::Meter))
    };
    site.wires.iter().enumerate().filter_map(of_wire).collect()
}

/// Of a box that holds the whole motion.
fn reach_m(part: &PartMotion, hole: DVec2) -> f64 {
    let extent = part.extent().grown(part.most_allowance_m());
    let far = (extent.low.truncate() - hole).abs().max((extent.high.truncate() - hole).abs());
    far.length()
}

/// A pole, a building or, for a drop, another wire is there.
fn is_held(site: &Site, wire: usize, end: DVec3) -> bool {
    let at = end.truncate();
    let stated = site.neighbours.as_ref();
    let by_pole = stated.is_some_and(|all| {
        all.poles.iter().any(|pole| {
            let reaches_up = pole.top.z >= end.z - AT_STRUCTURE_M;
            reaches_up && segment_m(at, pole.foot.truncate(), pole.top.truncate()) <= AT_POLE_M
        })
    });
    let by_building = stated.is_some_and(|all| {
        all.obstacles.iter().any(|obstacle| match &obstacle.shape {
            Shape::Building { corners, .. } => {
                let next = corners.iter().cycle().skip(1);
                corners.iter().zip(next).any(|(from, to)| segment_m(at, *from, *to) <= AT_STRUCTURE_M)
            }
            Shape::Post { foot, .. } => foot.truncate().distance(at) <= AT_STRUCTURE_M,
            Shape::Tree { .. } | Shape::Wall { .. } | Shape::Rod { .. } => false,
        })
    });
    let is_branch = site.branch_wires.contains(&wire);
    let by_wire = is_branch && {
        let others = site.wires.iter().enumerate().filter(|(other, _)| *other != wire);
        let mut spans = others.flat_map(|(_, other)| &other.spans);
        spans.any(|span| segment_m(at, span.from.truncate(), span.to.truncate()) <= AT_STRUCTURE_M)
    };
    by_pole || by_building || by_wire
}

/// Distance of a point from a segment in plan, meters.
fn segment_m(point: DVec2, from: DVec2, to: DVec2) -> f64 {
    let along = to - from;
    let share = ((point - from).dot(along) / along.length_squared()).clamp(0.0, 1.0);
    point.distance(from + along * if share.is_finite() { share } else { 0.0 })
}
