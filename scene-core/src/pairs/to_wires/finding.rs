//! The findings about bodies and wires.

use super::super::cover::BareMargins;
use super::super::{Inputs, down, up};
use super::WireGap;
use crate::finding::Finding;
use crate::rules::{self, BodyKind, PairState};

/// One finding for each body and wire that do not stay apart, worst weather.
pub(super) fn findings(gaps: &[WireGap], residual_gap_m: f64) -> Vec<Finding> {
    let mut worst: Vec<&WireGap> = Vec::new();
    for pair in gaps.iter().filter(|p| p.row.state != PairState::Apart) {
        let rank = |p: &WireGap| (p.row.state, p.row.margin_m);
        match worst.iter_mut().find(|w| w.row.body == pair.row.body && w.wire == pair.wire) {
            Some(kept) if rank(pair) < rank(kept) => *kept = pair,
            Some(_) => {}
            None => worst.push(pair),
        }
    }
    worst.into_iter().map(|pair| finding(pair, residual_gap_m)).collect()
}

fn finding(pair: &WireGap, residual_gap_m: f64) -> Finding {
    let row = &pair.row;
    let gap = down(row.low_m);
    let allowance = up(row.allowance_m);
    let required = up(row.required_m);
    let left_m = row.low_m - row.allowance_m;
    let missing = up(row.required_m.max(residual_gap_m) - left_m);
    let (body, wire, weather) = (&row.body, &row.other, &row.weather);
    let finding = match row.state {
        PairState::Touch => Finding::stop(
            "approach_touch",
            format!(
                "{body} may touch wire {wire} ({weather}): gap {gap} less allowances of {allowance} leaves {}; at least {} is wanted even between covers.",
                down(left_m.max(0.0)),
                up(residual_gap_m)
            ),
        ),
        PairState::Undecided => Finding::stop(
            "approach_undecided",
            format!("The gap of {body} to wire {wire} ({weather}) could not be proven either way: {gap} at least."),
        ),
        PairState::Short => Finding::stop(
            "approach_short",
            format!(
                "{body} may come to {gap} from wire {wire} ({weather}); less allowances of {allowance} that is {missing} short of the {required} required.{}",
                pair.bare.map_or(String::new(), said_of_cover)
            ),
        ),
        _ => Finding::caution(
            "approach_covered",
            format!(
                "{body} may come to {gap} from wire {wire} ({weather}); less allowances of {allowance} that is {missing} short of the {required} required, and it rests on {}.",
                if rules::beyond_insulation(pair.kind) { "the cover of the wire" } else { "the covers of both" }
            ),
        ),
    };
    let limit = row.required_m.max(residual_gap_m) + row.allowance_m;
    let mut finding = finding.measured(row.low_m, limit, "m").rule(row.rule.clone()).mend(mend(pair, &missing));
    finding.step = row.step;
    finding.time_s = row.time_s;
    finding
}

fn said_of_cover(bare: BareMargins) -> String {
    match (bare.body_m < 0.0, bare.wire_m < 0.0) {
        (true, true) => " Cover does not excuse it: bare pole comes too near, and the wire lies bare.".to_owned(),
        (true, false) => " Cover does not excuse it: a bare part of the pole comes too near.".to_owned(),
        (false, true) => " Cover does not excuse it: the wire lies bare there.".to_owned(),
        (false, false) => String::new(),
    }
}

fn mend(pair: &WireGap, missing: &str) -> String {
    let wire = &pair.row.other;
    match (pair.row.state, pair.kind, pair.bare) {
        (PairState::Covered, ..) => {
            "Keep the covers in place and brush contact out; a second person checks them.".to_owned()
        }
        (_, BodyKind::LiftConductive, _) => format!(
            "Set the bucket truck up farther from {wire}, or bring its booms there another way: {missing} is missing."
        ),
        (PairState::Touch, BodyKind::InsulatedLift | BodyKind::Worker, _) => {
            format!("Bring the bucket to the work farther from {wire}: {missing} is missing.")
        }
        (PairState::Short, BodyKind::InsulatedLift | BodyKind::Worker, _) => {
            format!("Cover {wire} first, from where it alone is worked on, or keep {missing} farther from it.")
        }
        (PairState::Undecided, ..) => "Give the motion more room, or split the step.".to_owned(),
        (_, BodyKind::Load, Some(bare)) if bare.wire_m < 0.0 && bare.body_m >= 0.0 => {
            format!("Cover {wire} along the whole stretch that the pole comes near, or hold it {missing} farther out.")
        }
        (_, BodyKind::Load, _) => {
            format!("Hold {wire} at least {missing} farther out, or double cover: the pole and {wire} both.")
        }
        (_, BodyKind::NonConductiveRigging, _) => format!("Choke higher, or hold {wire} {missing} farther out."),
        _ if pair.hangs => format!(
            "Choke higher or use longer non-conductive rigging so that hook and wire rope stay above {wire}, or hold it {missing} farther out."
        ),
        _ => format!(
            "Move the crane so that it works away from {wire}, boom up, or take a longer boom: {missing} is missing."
        ),
    }
}

/// Wires whose hang is not known were compared with nothing.
pub(super) fn not_hung(inputs: &Inputs) -> Vec<Finding> {
    let site = inputs.site;
    let mut found = Vec::new();
    for (wire, name) in site.wires.iter().map(|w| &w.name).enumerate() {
        for weather in 0..site.weather.len() {
            let steps = inputs.plan.steps.len();
            let missing =
                (0..steps).find(|step| !inputs.wires.wires.at_step(*step, weather).any(|state| state.wire == wire));
            if let Some(step) = missing {
                found.push(
                    Finding::stop(
                        "wire_not_hung",
                        format!("How wire {name} hangs is not known at this step: nothing was compared with it."),
                    )
                    .at_step(step)
                    .mend("Mend what the findings say of this wire."),
                );
                break;
            }
        }
    }
    found
}
