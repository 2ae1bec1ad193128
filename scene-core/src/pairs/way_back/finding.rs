//! The findings about a way back that is not proven.

use super::super::{down, up};
use super::trip::Trip;
use super::{Conditions, Found, Inputs, Worst, all_hang_alike};
use crate::finding::Finding;
use crate::outcome::{GapRow, WayOf};
use crate::rules::PairState;
use std::ops::Range;

/// Once the pole stands it neither goes back nor is laid down.
pub(super) fn ends(inputs: &Inputs, step: usize) -> Finding {
    let name = inputs.site.steps.get(step).map_or("?", |step| step.name.as_str());
    let message = format!(
        "From \"{name}\" on there is neither a way back nor a lay-down path: the pole has been let go and stands, and nothing \
         hangs on the hook."
    );
    Finding::note("way_back_ends", message).rule("common practice").at_step(step)
}

/// One finding for each range of steps whose way back fails at the same pair in the same step, unless that pair is a stop
/// there on the way to it.
pub(super) fn no_way_back(
    inputs: &Inputs,
    conditions: &[Conditions],
    trip: &Trip,
    all: &[Found],
    gaps: &[GapRow],
) -> Vec<Finding> {
    let site = inputs.site;
    let mut found: Vec<(Range<usize>, &Worst)> = Vec::new();
    for (step, one) in trip.steps.clone().zip(all) {
        let Some(worst) = one.worst.as_ref().filter(|_| !one.is_way()) else { continue };
        let wire = site.wires.get(worst.wire).map_or("", |wire| wire.name.as_str());
        let told = gaps.iter().any(|gap| {
            gap.state < PairState::Covered
                && gap.step == Some(worst.passing)
                && gap.body == worst.body
                && gap.other == wire
        });
        if told {
            continue;
        }
        match found.last_mut() {
            Some((steps, last))
                if steps.end == step
                    && (last.wire, last.passing, &last.body) == (worst.wire, worst.passing, &worst.body) =>
            {
                steps.end = step + 1;
            }
            _ => found.push((step..step + 1, worst)),
        }
    }
    found.into_iter().map(|(steps, worst)| finding(inputs, conditions, trip.of, steps, worst)).collect()
}

fn finding(inputs: &Inputs, conditions: &[Conditions], of: WayOf, steps: Range<usize>, worst: &Worst) -> Finding {
    let site = inputs.site;
    let name = |step: usize| site.steps.get(step).map_or("?", |step| step.name.as_str());
    let wire = site.wires.get(worst.wire).map_or("?", |wire| wire.name.as_str());
    let weather = site.weather.get(worst.weather).map_or("?", |weather| weather.name.as_str());
    let what = match of {
        WayOf::Load => "no way back with the pole, and so none to lay it down,",
        WayOf::BucketTruck => "no way for the bucket back to its rest, nor on to it as planned,",
    };
    let until =
        if steps.len() > 1 { format!(" Nor from those after it, to step {}.", steps.end) } else { String::new() };
    let again = format!("step {} \"{}\" done backwards", worst.passing + 1, name(worst.passing));
    let asked_m = worst.required_m.max(site.basis.residual_gap_m);
    let how = if worst.state == PairState::Undecided {
        format!("in {again} the gap of {} to wire {wire} ({weather}) could not be proven", worst.body)
    } else {
        format!(
            "in {again}, {} may come to {} from wire {wire} ({weather}); less allowances of {} that is {} short of the {} required",
            worst.body,
            down(worst.low_m),
            up(worst.allowance_m),
            up(asked_m - (worst.low_m - worst.allowance_m)),
            up(asked_m)
        )
    };
    let message = format!("From here there is {what} as covers and wires are by then: {how}.{until}");
    Finding::stop("no_way_back", message)
        .at_step(steps.start)
        .measured(worst.low_m, asked_m + worst.allowance_m, "m")
        .rule(if worst.rule.is_empty() { "common practice".to_owned() } else { worst.rule.clone() })
        .mend(mend(inputs, conditions, steps.start, worst))
}

/// What differs now from when the step was done the first time.
fn mend(inputs: &Inputs, conditions: &[Conditions], step: usize, worst: &Worst) -> String {
    let wire = inputs.site.wires.get(worst.wire).map_or("?", |wire| wire.name.as_str());
    let at = |step: usize| conditions.iter().find(|now| now.steps.contains(&step));
    let (Some(then), Some(now)) = (at(worst.passing), at(step)) else { return String::new() };
    let mut kept: Vec<String> = Vec::new();
    if then.covers.pole != now.covers.pole {
        kept.push("the pole's covers on".to_owned());
    }
    if then.covers.wires.get(worst.wire) != now.covers.wires.get(worst.wire) {
        kept.push(format!("the cover of {wire} on"));
    }
    if !all_hang_alike(&then.hung, &now.hung) {
        kept.push("every wire where it was".to_owned());
    }
    let passing = worst.passing + 1;
    if kept.is_empty() {
        return format!("Mend what the findings say of step {passing}.");
    }
    format!("Keep {} as in step {passing} until there, or give it more room there.", kept.join(" and "))
}
