//! The ground as surveyed, the roads on it, and areas on it.

use super::fault::FaultKind;
use super::value::{List, Value};
use crate::quantity::Length;
use crate::site::ground as site;
use glam::{DVec2, DVec3};
use std::f64::consts::PI;

/// Points nearer to each other than a tape tells are one; meters.
pub(super) const SAME_M: f64 = 0.01;

/// Spots or corners less far from one line than this say nothing of a surface; meters.
const LEAST_WIDTH_M: f64 = 0.1;

/// Corners of one area. Every pair of edges is looked at.
const MOST_CORNERS: usize = 60;

/// Spot elevations.
pub(super) fn terrain(value: &Value<'_>) -> site::Terrain {
    value.fields("the terrain", |f| {
        let list = f.list_of("spots", 3);
        let spots = spots(&list);
        let accuracy_m = f.si::<Length>("accuracy", "0.1 in", "5 ft");
        f.note();
        let plan: Vec<DVec2> = spots.iter().map(|spot| spot.truncate()).collect();
        list.at.fault_if(list.items.len() >= 3 && on_one_line(&plan), || FaultKind::OnOneLine);
        site::Terrain { spots, accuracy_m }
    })
}

/// One height for each place.
fn spots(list: &List<'_>) -> Vec<DVec3> {
    let mut spots: Vec<(DVec3, Value<'_>)> = Vec::new();
    for value in &list.items {
        let spot = value.point().m();
        match spots.iter().find(|(other, _)| other.truncate().distance(spot.truncate()) < SAME_M) {
            Some((other, first)) => {
                value.fault_if((other.z - spot.z).abs() > SAME_M, || FaultKind::SpotTwice { first: first.place() })
            }
            None => spots.push((spot, value.clone())),
        }
    }
    spots.into_iter().map(|(spot, _)| spot).collect()
}

/// Roads and drives, shown and not checked.
pub(super) fn roads(list: &List<'_>) -> Vec<site::Road> {
    let read = |road: &Value<'_>| {
        road.fields("a road", |f| {
            let road = site::Road {
                name: f.text("name"),
                along: f.list_of("along", 2).items.iter().map(Value::corner).collect(),
                width_m: f.si::<Length>("width", "3 ft", "300 ft"),
            };
            f.note();
            road
        })
    };
    let roads = list.items.iter().map(read).collect();
    list.named_once("the road");
    roads
}

/// Corners that make an area: not too many, apart, not on one line, no two edges crossing.
pub(super) fn corners(list: &List<'_>) -> Vec<DVec2> {
    let found: Vec<DVec2> = list.items.iter().map(Value::corner).collect();
    if found.len() > MOST_CORNERS {
        list.at.fault(FaultKind::TooMany { found: found.len(), most: MOST_CORNERS });
        return Vec::new();
    }
    if found.len() < 3 || found.iter().any(|corner| !corner.is_finite()) {
        return found;
    }
    if on_one_line(&found) {
        list.at.fault(FaultKind::OnOneLine);
    } else if let Some((one, other)) = crossing(&found)
        && let Some(corner) = list.items.get(other)
    {
        corner.fault(FaultKind::CrossesItself { one: one + 1, other: other + 1 });
    }
    found
}

/// The first two edges that cross, touch, or fold back onto each other, by the corners that they start from.
fn crossing(corners: &[DVec2]) -> Option<(usize, usize)> {
    let count = corners.len();
    let edge = |i: usize| Some((*corners.get(i)?, *corners.get((i + 1) % count)?));
    for i in 0..count {
        for j in i + 1..count {
            let (Some(one), Some(other)) = (edge(i), edge(j)) else { continue };
            let wrong = if j == i + 1 {
                folds_back(one.0, one.1, other.1)
            } else if i == 0 && j + 1 == count {
                folds_back(other.0, other.1, one.1)
            } else {
                crosses(one, other)
            };
            if wrong {
                return Some((i, j));
            }
        }
    }
    None
}

/// Whether the way turns back onto itself at `corner`, or the corner is where the one before it is.
fn folds_back(from: DVec2, corner: DVec2, to: DVec2) -> bool {
    let (in_, out) = (corner - from, to - corner);
    in_.length() < SAME_M || out.length() < SAME_M || in_.angle_to(out).abs() > PI - 1e-6
}

/// Whether two edges cross or touch.
fn crosses((a, b): (DVec2, DVec2), (c, d): (DVec2, DVec2)) -> bool {
    let side = |p: DVec2, q: DVec2, r: DVec2| (q - p).perp_dot(r - p);
    let apart = |p: DVec2, q: DVec2, r: DVec2, s: DVec2| side(p, q, r) * side(p, q, s) > 0.0;
    let boxes_apart = a.max(b).cmplt(c.min(d)).any() || c.max(d).cmplt(a.min(b)).any();
    !boxes_apart && !apart(a, b, c, d) && !apart(c, d, a, b)
}

/// Whether all points lie within a strip too narrow to say anything.
fn on_one_line(points: &[DVec2]) -> bool {
    let Some(&first) = points.first() else { return true };
    let farthest = points.iter().copied().max_by(|a, b| a.distance(first).total_cmp(&b.distance(first)));
    let along = (farthest.unwrap_or(first) - first).normalize_or_zero();
    // What is not a number is a fault already.
    points.iter().all(|point| along.perp_dot(*point - first).abs() < LEAST_WIDTH_M || !point.is_finite())
}
