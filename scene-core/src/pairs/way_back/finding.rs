//! The findings about a way back that is not proven.

use super::trip::Trip;
use super::{Conditions, Found, Inputs, Worst, all_hang_alike};
use crate::finding::{self, Blocked, Differs, Finding, Unit, WayBack};
use crate::outcome::{GapRow, WayOf};
use crate::rules::PairState;
use std::ops::Range;

/// Once the pole stands it neither goes back nor is laid down.
pub(super) fn ends(inputs: &Inputs, step: usize) -> Finding {
    let name = inputs.site.steps.get(step).map_or("?", |step| step.name.as_str());
    finding::note(WayBack::Ends { step: name.to_owned() }).at_step(step)
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
    let of_trip = |finding| match trip.lift {
        Some(lift) => site.of_lift(lift, finding),
        None => finding,
    };
    found.into_iter().map(|(steps, worst)| of_trip(finding(inputs, conditions, trip.of, steps, worst))).collect()
}

fn finding(inputs: &Inputs, conditions: &[Conditions], of: WayOf, steps: Range<usize>, worst: &Worst) -> Finding {
    let site = inputs.site;
    let named = |name: Option<&String>| name.map_or("?", String::as_str).to_owned();
    let asked_m = worst.required_m.max(site.basis.residual_gap_m);
    let fact = WayBack::Blocked {
        blocked: Box::new(Blocked {
            bucket: of == WayOf::BucketTruck,
            body: worst.body.clone(),
            wire: named(site.wires.get(worst.wire).map(|wire| &wire.name)),
            weather: named(site.weather.get(worst.weather).map(|weather| &weather.name)),
            undecided: worst.state == PairState::Undecided,
            low_m: worst.low_m,
            allowance_m: worst.allowance_m,
            required_m: asked_m,
            passing: worst.passing + 1,
            passing_name: named(site.steps.get(worst.passing).map(|step| &step.name)),
            to_step: (steps.len() > 1).then_some(steps.end),
            differs: differs(conditions, steps.start, worst),
            rule: worst.rule.clone(),
        }),
    };
    finding::stop(fact).at_step(steps.start).measured(worst.low_m, asked_m + worst.allowance_m, Unit::Meter)
}

/// What differs now from when the step was done the first time.
fn differs(conditions: &[Conditions], step: usize, worst: &Worst) -> Option<Differs> {
    let at = |step: usize| conditions.iter().find(|now| now.steps.contains(&step));
    let (then, now) = (at(worst.passing)?, at(step)?);
    Some(Differs {
        pole_covers: then.covers.pole != now.covers.pole,
        wire_cover: then.covers.wires.get(worst.wire) != now.covers.wires.get(worst.wire),
        wires_moved: !all_hang_alike(&then.hung, &now.hung),
    })
}
