//! Two gaps that add up to less than the distance between two potentials.
//!
//! One body may stand between two wires, or two bodies that conduct to one another.

mod finding;

pub(super) use finding::finding;

use super::Inputs;
use super::demand::kind::Conductor;
use crate::machine::Role;
use crate::outcome::GapRow;
use crate::rules::{PairState, Required};

/// The gap of a body to one wire, for what it could bridge.
#[derive(Clone, Copy)]
pub(super) struct Side<'a> {
    pub row: &'a GapRow,
    pub wire: usize,
    pub kind: Role,
    /// The least that is left anywhere on the path where the distance counts.
    pub left_m: f64,
}

/// One body in one weather: its gap to every wire that it has one to.
pub(super) struct BodySides<'a> {
    pub name: &'a str,
    pub kind: Role,
    pub conductor: Conductor,
    pub sides: Vec<Side<'a>>,
}

/// One body, or two that conduct to one another, between two potentials.
#[derive(Clone)]
pub(super) struct Bridge {
    /// Twice the same where one body bridges alone.
    pub bodies: [String; 2],
    pub kind: Role,
    pub wires: [usize; 2],
    pub wire_names: [String; 2],
    pub weather: String,
    /// Both sides are apart or covered.
    pub excused: bool,
    /// The wires whose cover it rests on.
    pub covered: Vec<String>,
    /// Both gaps, allowances taken off.
    pub sum_m: f64,
    pub required_m: f64,
    pub rule: String,
}

impl Bridge {
    /// `None` where the two gaps add up to the distance between both potentials.
    fn between([first, second]: [&Side; 2], both: &Required) -> Option<Self> {
        let sum_m = first.left_m.max(0.0) + second.left_m.max(0.0);
        // NaN does not keep the distance either.
        if sum_m >= both.distance_m {
            return None;
        }
        let sides = [first, second];
        let covered = sides.into_iter().filter(|side| side.row.state == PairState::Covered);
        Some(Self {
            bodies: sides.map(|side| side.row.body.clone()),
            kind: first.kind,
            wires: sides.map(|side| side.wire),
            wire_names: sides.map(|side| side.row.other.clone()),
            weather: first.row.weather.clone(),
            excused: sides.iter().all(|side| side.row.state >= PairState::Covered),
            covered: covered.map(|side| side.row.other.clone()).collect(),
            sum_m,
            required_m: both.distance_m,
            rule: both.rule.clone(),
        })
    }

    pub fn is_alone(&self) -> bool {
        self.bodies[0] == self.bodies[1]
    }

    fn is_worse_than(&self, other: &Self) -> bool {
        let left_m = |bridge: &Self| bridge.sum_m - bridge.required_m;
        (self.excused, left_m(self)) < (other.excused, left_m(other))
    }
}

/// The worst two wires of one body.
pub(super) fn alone(inputs: &Inputs, body: &BodySides) -> Option<Bridge> {
    let mut worst: Option<Bridge> = None;
    for (i, first) in body.sides.iter().enumerate() {
        for second in body.sides.get(i + 1..).unwrap_or(&[]) {
            let both = inputs.distances.between(body.kind, first.wire, second.wire);
            let Ok(Some(both)) = both else { continue };
            keep_worse(&mut worst, Bridge::between([first, second], both));
        }
    }
    worst
}

/// Two gaps of different bodies that conduct to one another: the worst two wires of each conductor, unless one body alone
/// stands between the two as badly.
pub(super) fn joined(inputs: &Inputs, bodies: &[BodySides], alone: &[Bridge]) -> Vec<Bridge> {
    let mut conductors: Vec<Conductor> = bodies.iter().map(|body| body.conductor).collect();
    conductors.sort_unstable();
    conductors.dedup();
    let of = |conductor: Conductor| {
        let members: Vec<&BodySides> = bodies.iter().filter(|body| body.conductor == conductor).collect();
        joined_by(inputs, &members, alone)
    };
    conductors.into_iter().filter_map(of).collect()
}

fn joined_by(inputs: &Inputs, members: &[&BodySides], alone: &[Bridge]) -> Option<Bridge> {
    // By wire, the nearest body.
    let nearest: Vec<&Side> = (0..inputs.site.wires.len())
        .filter_map(|wire| {
            let sides = members.iter().filter_map(|member| member.sides.iter().find(|side| side.wire == wire));
            sides.min_by(|a, b| a.left_m.total_cmp(&b.left_m))
        })
        .collect();
    let mut worst: Option<Bridge> = None;
    for (i, first) in nearest.iter().enumerate() {
        for second in nearest.get(i + 1..).unwrap_or(&[]) {
            if first.row.body == second.row.body {
                continue;
            }
            let of_kind = |kind| inputs.distances.between(kind, first.wire, second.wire).ok().flatten();
            let kinds = [first.kind, second.kind].map(of_kind);
            let farther = |a: &&Required, b: &&Required| a.distance_m.total_cmp(&b.distance_m);
            let Some(both) = kinds.into_iter().flatten().max_by(farther) else { continue };
            let Some(bridge) = Bridge::between([first, second], both) else { continue };
            let is_said = alone.iter().any(|one| {
                let of_member = members.iter().any(|member| member.name == one.bodies[0]);
                of_member && one.wires == bridge.wires && one.excused <= bridge.excused
            });
            if !is_said {
                keep_worse(&mut worst, Some(bridge));
            }
        }
    }
    worst
}

fn keep_worse(worst: &mut Option<Bridge>, found: Option<Bridge>) {
    if let Some(found) = found
        && worst.as_ref().is_none_or(|kept| found.is_worse_than(kept))
    {
        *worst = Some(found);
    }
}

/// Of the weathers in which the same bodies bridge, the worst.
pub(super) fn keep_worst_weather(bridges: &mut Vec<Bridge>, found: Bridge) {
    match bridges.iter_mut().find(|kept| kept.bodies == found.bodies) {
        Some(kept) if found.is_worse_than(kept) => *kept = found,
        Some(_) => {}
        None => bridges.push(found),
    }
}
