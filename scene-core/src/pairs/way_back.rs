//! From every step: can what is in the air go back the way it came, as covers and wires are now?
//!
//! Motion is geometry: a piece passed backwards has the gaps that it had forwards, and bodies, ground and neighbors are where
//! they were. What may have changed since is where the wires are and what is covered. So for each step k the pieces of all steps
//! from the first of its way to k are held against the wires and covers of k. The radii, and so the capacity, are those of the
//! way there.
//!
//! With the pole on the hook the way back goes to where it was picked up, and ends with the pole lying there: it is the
//! lay-down path too. A bucket goes back to its rest; where it cannot, going on to it as planned will do.
//!
//! | file | holds |
//! |---|---|
//! | `trip` | steps whose ways back run over the same moves |
//! | `passing` | each body in each step of one weather, and what is proven of it |
//! | `passage` | the steps that one way goes through, under the covers and wires of one step |
//! | `finding` | no way back; from where on there is none |

mod finding;
mod passage;
mod passing;
mod trip;

use super::Inputs;
use super::hung_wire::{HungWire, hang_alike};
use crate::cover::{self, CoverState};
use crate::finding::Finding;
use crate::outcome::{GapRow, Way, WayOf, WayOutRow};
use crate::rules::PairState;
use crate::side_by_side;
use passage::{Passage, keep_worse};
use passing::InWeather;
use std::ops::Range;
use trip::Trip;

/// Consecutive steps during which neither covers nor wires change.
struct Conditions<'a> {
    steps: Range<usize>,
    covers: CoverState,
    /// By weather and wire; `None` where the hang of the wire is not known.
    hung: Vec<Vec<Option<&'a HungWire<'a>>>>,
}

/// The pair that governs a way.
#[derive(Clone, Debug)]
struct Worst {
    state: PairState,
    margin_m: f64,
    low_m: f64,
    allowance_m: f64,
    required_m: f64,
    rule: String,
    body: String,
    wire: usize,
    weather: usize,
    /// The step that is gone through when it governs.
    passing: usize,
}

impl Worst {
    fn is_worse_than(&self, other: &Self) -> bool {
        self.state.cmp(&other.state).then(self.margin_m.total_cmp(&other.margin_m)).is_lt()
    }
}

/// One way of one step, and what governs it; the worst of no pair is `None`.
#[derive(Clone, Debug)]
struct Found {
    way: Way,
    worst: Option<Worst>,
}

impl Found {
    fn is_way(&self) -> bool {
        self.worst.as_ref().is_none_or(|worst| worst.state >= PairState::Covered)
    }
}

/// One row per step with the pole on the hook or let go, and per step with a bucket off its rest; a stop where no way is
/// proven and `gaps` do not say so already.
pub(crate) fn way_back(inputs: &Inputs, gaps: &[GapRow], findings: &mut Vec<Finding>) -> Vec<WayOutRow> {
    let mut rows = Vec::new();
    let load = trip::of_load(inputs.plan);
    let weathers: Vec<usize> = (0..inputs.site.weather.len()).collect();
    let weathers: Vec<InWeather> =
        side_by_side::map(&weathers, |weather| InWeather::of(inputs, *weather)).into_iter().flatten().collect();
    for trip in load.iter().chain(&trip::of_buckets(inputs)) {
        let conditions = conditions(inputs, &trip.steps);
        let found = ways(inputs, trip, &conditions, &weathers);
        findings.extend(finding::no_way_back(inputs, &conditions, trip, &found, gaps));
        rows.extend(trip.steps.clone().zip(found).map(|(step, found)| row(inputs, trip, step, found)));
    }
    if let Some(load) = &load {
        let let_go = load.steps.end..inputs.plan.steps.len();
        findings.extend(let_go.clone().next().map(|step| finding::ends(inputs, step)));
        rows.extend(
            let_go.map(|step| WayOutRow::without(step, WayOf::Load, None, "the pole has been let go and stands")),
        );
    }
    rows.sort_by_key(|row| row.step);
    rows
}

fn conditions<'a>(inputs: &Inputs<'a>, of: &Range<usize>) -> Vec<Conditions<'a>> {
    let site = inputs.site;
    let mut found: Vec<Conditions> = Vec::new();
    for step in of.clone() {
        let covers = cover::stretches(site, step);
        let of_weather = |weather| (0..site.wires.len()).map(|wire| inputs.wires.at(step, weather, wire)).collect();
        let hung: Vec<Vec<Option<&HungWire>>> = (0..site.weather.len()).map(of_weather).collect();
        match found.last_mut() {
            Some(last) if last.covers == covers && all_hang_alike(&last.hung, &hung) => last.steps.end = step + 1,
            _ => found.push(Conditions { steps: step..step + 1, covers, hung }),
        }
    }
    found
}

fn all_hang_alike(one: &[Vec<Option<&HungWire>>], other: &[Vec<Option<&HungWire>>]) -> bool {
    let mut pairs = one.iter().flatten().zip(other.iter().flatten());
    one.len() == other.len() && pairs.all(|(a, b)| hang_alike(*a, *b))
}

/// For each step of the trip its way back, or where that is none and going on is one, that.
fn ways(inputs: &Inputs, trip: &Trip, conditions: &[Conditions], weathers: &[InWeather]) -> Vec<Found> {
    let back_in = |weather: &InWeather| -> Vec<Option<Worst>> {
        let under = |now: &Conditions| {
            Passage::of(inputs, trip, weather, now, trip.steps.start..now.steps.end).up_to_each_step()
        };
        conditions.iter().flat_map(under).collect()
    };
    let mut found = vec![Found { way: Way::Back, worst: None }; trip.steps.len()];
    for back in side_by_side::map(weathers, back_in) {
        found.iter_mut().zip(back).for_each(|(found, worst)| keep_worse(&mut found.worst, worst));
    }
    for (step, found) in trip.steps.clone().zip(&mut found).filter(|(_, found)| !found.is_way()) {
        let now = conditions.iter().find(|now| now.steps.contains(&step));
        let (Some(now), Some(onward)) = (now, trip.onward(inputs, step)) else { continue };
        let mut on = Found { way: Way::On, worst: None };
        let on_in = |weather: &InWeather| Passage::of(inputs, trip, weather, now, onward.clone()).whole();
        for worst in side_by_side::map(weathers, on_in) {
            keep_worse(&mut on.worst, worst);
        }
        if on.is_way() {
            *found = on;
        }
    }
    found
}

fn row(inputs: &Inputs, trip: &Trip, step: usize, found: Found) -> WayOutRow {
    let site = inputs.site;
    let is_way = found.is_way();
    let Found { way, worst } = found;
    let known = worst.as_ref().filter(|worst| worst.low_m.is_finite());
    WayOutRow {
        way: is_way.then_some(way),
        ends: if is_way { trip.ends } else { None },
        none_because: (!is_way).then(|| "a pair on the way is not proven to keep its distance".to_owned()),
        state: worst.as_ref().map(|worst| worst.state),
        body: worst.as_ref().map(|worst| worst.body.clone()),
        other: worst.as_ref().and_then(|worst| site.wires.get(worst.wire)).map(|wire| wire.name.clone()),
        weather: worst.as_ref().and_then(|worst| site.weather.get(worst.weather)).map(|weather| weather.name.clone()),
        passing_step: worst.as_ref().map(|worst| worst.passing),
        low_m: known.map(|worst| worst.low_m),
        allowance_m: known.map(|worst| worst.allowance_m),
        required_m: known.map(|worst| worst.required_m),
        margin_m: known.map(|worst| worst.margin_m),
        ..WayOutRow::without(step, trip.of, trip.lift_named(site), "")
    }
}

#[cfg(test)]
mod tests;
