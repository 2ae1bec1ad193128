//! Whether what holds a phase aside stands somewhere, reaches, and is rated.

use crate::finding::{self, Finding, Holder, Unit};
use crate::site::{HeldOut, HolderStand, Site};
use glam::DVec3;

/// An arm is fixed to the face of its pole, or to a bracket there: no farther from its surface than this, meters.
const BRACKET_M: f64 = 0.3;

pub(super) fn findings(site: &Site) -> Vec<Finding> {
    let at_step = |held: &HeldOut, finding: Finding| match held.during.on_after_step {
        Some(step) => finding.at_step(step),
        None => finding,
    };
    site.held_out.iter().flat_map(|held| of(site, held).into_iter().map(|finding| at_step(held, finding))).collect()
}

fn of(site: &Site, held: &HeldOut) -> Vec<Finding> {
    let name = || held.name.clone();
    let Some(holder) = &held.holder else {
        let wire = site.wires.get(held.wire).map_or_else(String::new, |wire| wire.name.clone());
        return vec![finding::stop(Holder::NotStated { held: name(), wire })];
    };
    let mut found = Vec::new();
    let far_m = holder.from.distance(held.to);
    let reaches = far_m <= holder.reach_m && holder.reach_m.is_finite();
    if !reaches {
        let fact = Holder::OutOfReach { held: name(), far_m, reach_m: holder.reach_m };
        found.push(finding::stop(fact).measured(far_m, holder.reach_m, Unit::Meter));
    }
    if let HolderStand::Pole(index) = holder.on {
        let pole = site.neighbours.as_ref().and_then(|all| all.poles.get(index));
        let off_m = pole.map_or(f64::INFINITY, |pole| {
            off_axis_m(pole.foot, pole.top, holder.from) - pole.foot_radius_m.max(pole.top_radius_m)
        });
        let is_on = off_m <= BRACKET_M;
        if !is_on {
            let pole = pole.map_or_else(String::new, |pole| pole.name.clone());
            let fact = Holder::OffPole { held: name(), pole, off_m };
            found.push(finding::stop(fact).measured(off_m, BRACKET_M, Unit::Meter));
        }
    }
    if holder.tag.trim().is_empty() {
        found.push(finding::stop(Holder::TagMissing { held: name() }));
    }
    found
}

/// From the pole's axis between foot and top, meters.
fn off_axis_m(foot: DVec3, top: DVec3, point: DVec3) -> f64 {
    let axis = top - foot;
    let share = ((point - foot).dot(axis) / axis.length_squared()).clamp(0.0, 1.0);
    point.distance(foot + axis * share)
}
