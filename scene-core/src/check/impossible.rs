//! Facts about the line and the ground that cannot be true. Each is a stop, because every proof would rest on it.

use super::Prepared;
use super::circuits::passes;
use crate::conductor::{HoldState, PlacedFamily};
use crate::finding::{self, Finding, OnGround, Unit};
use crate::site::{Action, Site, Span, Wire};
use crate::terrain::Ground;
use glam::DVec3;

/// Two supports nearer than this are one place, meters. No table allows conductors 2 in apart.
const ONE_PLACE_M: f64 = 0.05;

pub(super) fn findings(prepared: &Prepared) -> Vec<Finding> {
    let site = prepared.site;
    // Where spots make no surface, another finding says so.
    let ground = prepared.ground.as_ref().ok();
    let mut found = Vec::new();
    for (index, wire) in site.wires.iter().enumerate() {
        let natural: Vec<&PlacedFamily> = natural_families(prepared, index).collect();
        found.extend(over_strength(wire, &natural));
        found.extend(ground.and_then(|ground| below_ground(ground, wire, &natural)));
    }
    found.extend(in_one_place(site));
    if !site.wires.is_empty() && !is_abeam(site) {
        found.push(finding::stop(finding::Conductor::NothingAbeam));
    }
    found.extend(ground.map_or(Vec::new(), |ground| off_flat_ground(site, ground)));
    found
}

/// The families of a wire that nobody holds.
pub(super) fn natural_families<'a>(prepared: &'a Prepared, wire: usize) -> impl Iterator<Item = &'a PlacedFamily> {
    let is_natural = |states: &[(usize, HoldState)]| states.iter().all(|(_, state)| *state == HoldState::Natural);
    let states = prepared.wires.states.iter().filter(move |state| state.wire == wire && is_natural(&state.hold_states));
    states.flat_map(|state| &state.families)
}

/// The greatest tension in any weather against the conductor's rated strength. A sag in the wrong unit shows here.
fn over_strength(wire: &Wire, families: &[&PlacedFamily]) -> Option<Finding> {
    let strength_n = wire.conductor.rated_strength_n?;
    // A tension without an upper bound is beyond any strength.
    let highest_n = |placed: &&PlacedFamily| {
        let summary = placed.summary.as_ref()?;
        Some(summary.horizontal_tension_n.map_or(f64::INFINITY, |tension| tension.high()))
    };
    let tension_n = families.iter().filter_map(highest_n).reduce(worse)?;
    // NaN is not within the strength.
    let is_within = tension_n <= strength_n;
    let fact = finding::Conductor::OverStrength { wire: wire.name.clone(), tension_n, strength_n };
    (!is_within).then(|| finding::stop(fact).measured(tension_n, strength_n, Unit::Newton))
}

/// The greater; NaN is worse than any number.
fn worse(a: f64, b: f64) -> f64 {
    if a.is_nan() || a > b { a } else { b }
}

/// The lowest point of any span against the ground under it. Where the ground is not known, another finding says so.
fn below_ground(ground: &Ground, wire: &Wire, families: &[&PlacedFamily]) -> Option<Finding> {
    let above = |placed: &&PlacedFamily| {
        let lowest = placed.summary.as_ref()?.lowest_point;
        Some((lowest.z - ground.height(lowest.truncate())?.high(), lowest))
    };
    let (above_m, place) = families.iter().filter_map(above).min_by(|a, b| a.0.total_cmp(&b.0))?;
    let is_above = above_m > 0.0;
    let fact = finding::Conductor::BelowGround { wire: wire.name.clone(), below_m: -above_m };
    (!is_above).then(|| finding::stop(fact).at_place(place).measured(above_m, 0.0, Unit::Meter))
}

/// Two wires whose spans share both supports. One of them is typed wrong, so one real wire is missing.
fn in_one_place(site: &Site) -> Vec<Finding> {
    let near = |a: DVec3, b: DVec3| a.distance(b) < ONE_PLACE_M;
    let same =
        |a: &Span, b: &Span| (near(a.from, b.from) && near(a.to, b.to)) || (near(a.from, b.to) && near(a.to, b.from));
    let mut found = Vec::new();
    for (index, wire) in site.wires.iter().enumerate() {
        for other in site.wires.get(index + 1..).unwrap_or_default() {
            if wire.spans.iter().any(|span| other.spans.iter().any(|second| same(span, second))) {
                let fact = finding::Conductor::InOnePlace { wire: wire.name.clone(), other: other.name.clone() };
                found.push(finding::stop(fact));
            }
        }
    }
    found
}

/// At least one span passes the hole: the point of its line nearest the hole in plan lies between its supports.
fn is_abeam(site: &Site) -> bool {
    site.wires.iter().any(|wire| passes(wire, site.hole.at))
}

/// Crane and lying pole on ground for which no spot elevations are stated: it is taken level at the hole.
fn off_flat_ground(site: &Site, ground: &Ground) -> Vec<Finding> {
    let Ground::Flat { height_m, .. } = *ground else { return Vec::new() };
    let allowed_m = site.allowances.survey.value;
    let stands = |what: OnGround, at: DVec3| {
        let above_m = at.z - height_m;
        let agrees = above_m.abs() <= allowed_m;
        let fact = finding::Ground::OffLevel { what, above_m, allowed_m };
        (!agrees).then(|| finding::stop(fact).at_place(at).measured(above_m, allowed_m, Unit::Meter))
    };
    let lies = site.steps.iter().enumerate().filter_map(|(step, stated)| match stated.action {
        Action::Start { butt, .. } => stands(OnGround::LyingPole, butt).map(|found| found.at_step(step)),
        _ => None,
    });
    stands(OnGround::Crane, site.crane.at).into_iter().chain(lies).collect()
}
