//! Wires against wires: what a phase that is held out, or on its way there, does to its neighbors.

use crate::bracket::Bracket;
use crate::conductor::{HoldState, Spacing, WireState, Wires, gap_of_stretches_m};
use crate::cover;
use crate::finding::{self, Approach, Finding, Unit, WiresGap};
use crate::rules::{self, RuleError};
use crate::site::{HeldOut, Site};

/// One finding per pair of wires, for the weather and steps that leave the least. A stop where less is left, once the movement of both
/// is taken off, than the greatest of the residual gap, the electrical part of the approach distance, and the play of the holders,
/// unless both are proven covered there and may not touch. A caution where they come nearer than the approach distance between their potentials.
pub(crate) fn wire_spacing(site: &Site, wires: &Wires) -> Vec<Finding> {
    let mut worst: Vec<(&Spacing, Judged)> = Vec::new();
    let mut found: Vec<Finding> = Vec::new();
    for spacing in &wires.spacings {
        let judged = match judged(site, wires, spacing) {
            Ok(Some(judged)) => judged,
            Ok(None) => continue,
            Err(error) => {
                let said = Finding::from(error);
                if !found.contains(&said) {
                    found.push(said);
                }
                continue;
            }
        };
        match worst.iter_mut().find(|(kept, _)| (kept.wire, kept.other) == (spacing.wire, spacing.other)) {
            Some(kept) if judged.ranks() < kept.1.ranks() => *kept = (spacing, judged),
            Some(_) => {}
            None => worst.push((spacing, judged)),
        }
    }
    found.extend(worst.iter().filter_map(|(spacing, judged)| finding(site, spacing, judged)));
    found
}

/// What is left between two wires.
struct Judged {
    /// Low bound of the gap less the movement of both, meters.
    left_m: f64,
    allowance_m: f64,
    least_m: f64,
    required_m: f64,
    /// Both are covered wherever less than the least is left.
    covered: bool,
}

impl Judged {
    /// NaN is not enough.
    fn may_meet(&self) -> bool {
        let is_enough = self.left_m > self.least_m || self.covered;
        !is_enough
    }

    /// Stops first, then what leaves the least.
    fn ranks(&self) -> (bool, f64) {
        (!self.may_meet(), self.left_m)
    }
}

fn judged(site: &Site, wires: &Wires, spacing: &Spacing) -> Result<Option<Judged>, RuleError> {
    let Some(apart) = rules::wires_apart(site, spacing.wire, spacing.other)? else { return Ok(None) };
    let allowance_m = 2.0 * site.allowances.line_movement.value;
    let left_m = spacing.low_m - allowance_m;
    let of_either = |held: &&HeldOut| held.wire == spacing.wire || held.wire == spacing.other;
    let play_m =
        site.held_out.iter().filter(of_either).filter_map(|held| held.holder.as_ref()).map(|holder| holder.play_m);
    let least_m = play_m.fold(site.basis.residual_gap_m.max(apart.electrical_m), f64::max);
    let is_enough = left_m > least_m;
    // Cover never excuses wires that may touch.
    let covered = !is_enough && left_m > 0.0 && are_covered(site, wires, spacing, least_m + allowance_m);
    Ok(Some(Judged { left_m, allowance_m, least_m, required_m: apart.distance_m, covered }))
}

/// Whether in each of the steps the bare stretches of either wire keep this gap from all of the other.
fn are_covered(site: &Site, wires: &Wires, spacing: &Spacing, least_gap_m: f64) -> bool {
    let state = |wire: usize, step: usize| wires.at_step(step, spacing.weather).find(|state| state.wire == wire);
    let keeps = |step: &usize| {
        let (Some(one), Some(other)) = (state(spacing.wire, *step), state(spacing.other, *step)) else { return false };
        let covers = cover::stretches(site, *step);
        let bare = |wire: usize| -> Option<Vec<Bracket>> {
            Some(cover::bare(cover::run_stations(site, wire)?, covers.wires.get(wire)?))
        };
        let keeps = |one: &WireState, other: &WireState| {
            bare(one.wire).is_some_and(|bare| gap_of_stretches_m(one, &bare, other) > least_gap_m)
        };
        keeps(one, other) && keeps(other, one)
    };
    !spacing.steps.is_empty() && spacing.steps.iter().all(keeps)
}

fn finding(site: &Site, spacing: &Spacing, judged: &Judged) -> Option<Finding> {
    let name = |wire: usize| site.wires.get(wire).map_or("?", |w| w.name.as_str()).to_owned();
    let gap = || {
        Box::new(WiresGap {
            wire: name(spacing.wire),
            on_its_way: spacing.place == HoldState::BeingPlaced,
            other: name(spacing.other),
            weather: site.weather.get(spacing.weather).map_or("?", |weather| weather.name.as_str()).to_owned(),
            low_m: spacing.low_m,
            allowance_m: judged.allowance_m,
            least_m: judged.least_m,
            required_m: judged.required_m,
        })
    };
    let found = if judged.may_meet() {
        finding::stop(Approach::WiresMayMeet { gap: gap() }).measured(judged.left_m, judged.least_m, Unit::Meter)
    } else if judged.left_m < judged.required_m {
        finding::caution(Approach::WiresNear { gap: gap(), covered: judged.covered }).measured(
            judged.left_m,
            judged.required_m,
            Unit::Meter,
        )
    } else {
        return None;
    };
    Some(Finding { step: spacing.steps.first().copied(), ..found })
}

#[cfg(test)]
mod tests {
    use crate::check::check;
    use crate::finding::Grade;
    use crate::scene;

    fn grade_of(text: &str, code: &str) -> Option<Grade> {
        let site = scene::read("job.ron", text).and_then(|scene| scene.site()).unwrap();
        check(&site).findings.into_iter().find(|f| f.code() == code).map(|f| f.grade)
    }

    const EXAMPLE: &str = include_str!("../../../scenes/01_juniper_lane.ron");

    #[test]
    fn a_phase_held_over_its_neighbour_is_a_stop() {
        assert_eq!(grade_of(EXAMPLE, "wires_may_meet"), None);
        let onto_c =
            EXAMPLE.replace(r#"("0 ft", "5 ft 10 in", "31 ft 2 in")"#, r#"("0 ft", "5 ft 6 in", "29 ft 6 in")"#);
        let onto_c = onto_c.replace(r#"("0 ft", "8 ft", "31 ft 6 in")"#, r#"("0 ft", "5 ft 8 in", "29 ft 6 in")"#);
        assert_ne!(onto_c, EXAMPLE);
        assert_eq!(grade_of(&onto_c, "wires_may_meet"), Some(Grade::Stop));
    }
}
