//! How one wire hangs during which steps: by itself, on its way, or held out.
//!
//! A phase counts as held from the end of the step that places it to the start of the step that takes it back. During
//! those two steps it may be anywhere between the two positions. Before and after, it hangs by itself.

use super::adjacent::SupportPull;
use super::catenary::Catenary;
use super::family::SpanFamily;
use super::held::HeldSpan;
use super::loose_spans::attached;
use super::placed::{PlacedFamily, summary};
use crate::site::{HeldOut, Presence, Site, Wire};

/// How one wire may hang in one weather case during some of the steps.
#[derive(Clone, Debug, PartialEq)]
pub struct WireState {
    /// Index into [`Site::wires`].
    pub wire: usize,
    /// Index into [`Site::weather`].
    pub weather: usize,
    /// Indices of the steps, ascending. Empty when the site has no steps.
    pub steps: Vec<usize>,
    /// The state of each held-out phase of this wire, by index into [`Site::held_out`].
    pub hold_states: Vec<(usize, HoldState)>,
    /// In order along the line. A wire that is being moved has several families over one stretch.
    pub families: Vec<PlacedFamily>,
}

/// The state of a phase that the crew holds out for some steps.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HoldState {
    /// It hangs by itself.
    Natural,
    /// It is on its way, anywhere between the two positions.
    BeingPlaced,
    /// It is held at its stated point.
    Held,
}

/// The state of a held-out phase during a step.
pub fn hold_state_at_step(held: &HeldOut, step: usize) -> HoldState {
    match held.during.presence(step) {
        Presence::Absent => HoldState::Natural,
        Presence::Changing => HoldState::BeingPlaced,
        Presence::Present => HoldState::Held,
    }
}

/// The state of each held-out phase of one wire.
pub(super) type HoldStates = Vec<(usize, HoldState)>;

/// Groups the steps in which all held-out phases of a wire have the same states.
pub(super) fn line_states(site: &Site, holds: &[usize]) -> Vec<(Vec<usize>, HoldStates)> {
    let places = |step: usize| -> HoldStates {
        let place = |&number: &usize| Some((number, hold_state_at_step(site.held_out.get(number)?, step)));
        holds.iter().filter_map(place).collect()
    };
    let mut groups: Vec<(Vec<usize>, HoldStates)> = Vec::new();
    for step in 0..site.steps.len() {
        let now = places(step);
        match groups.iter_mut().find(|(_, group)| *group == now) {
            Some((steps, _)) => steps.push(step),
            None => groups.push((vec![step], now)),
        }
    }
    if groups.is_empty() {
        groups.push((Vec::new(), holds.iter().map(|&number| (number, HoldState::Natural)).collect()));
    }
    groups
}

/// A held-out phase as it hangs: its own span, and the adjacent spans that change with it, on the way and held.
pub(super) struct Moved {
    pub held_out: usize,
    pub span: HeldSpan,
    pub adjacent: Vec<[PlacedFamily; 2]>,
}

/// The families of one wire, span by span, when its held-out phases have these states.
pub(super) fn families(
    site: &Site,
    wire: &Wire,
    natural: &[Option<PlacedFamily>],
    stations: &[[f64; 2]],
    moved: &[Moved],
    places: &HoldStates,
) -> Vec<PlacedFamily> {
    let mut families = Vec::new();
    for (number, (by_itself, station_m)) in natural.iter().zip(stations).enumerate() {
        let Some(by_itself) = by_itself else { continue };
        let active: Vec<_> = (places.iter())
            .filter(|(held_out, place)| {
                *place != HoldState::Natural && site.held_out.get(*held_out).is_some_and(|held| held.span == number)
            })
            .collect();
        if active.is_empty() {
            let others = places.iter().filter(|(_, place)| *place != HoldState::Natural);
            let adjacent = others.flat_map(|(held_out, place)| {
                let of = moved.iter().filter(move |moved| moved.held_out == *held_out);
                of.flat_map(|moved| &moved.adjacent)
                    .map(move |[placing, held]| if *place == HoldState::BeingPlaced { placing } else { held })
            });
            let changed: Vec<PlacedFamily> = adjacent.filter(|placed| placed.span == number).cloned().collect();
            if changed.is_empty() {
                families.push(by_itself.clone());
            }
            families.extend(changed);
        }
        for (held_out, place) in active {
            let Some(held) = site.held_out.get(*held_out) else { continue };
            let Some(Moved { span, .. }) = moved.iter().find(|moved| moved.held_out == *held_out) else { continue };
            // The wire may slip at a support that does not hold it.
            let ran_m = |part: usize, of: &SupportPull| {
                if attached(wire, number + part.min(1)).holds() { 0.0 } else { of.ran_m }
            };
            let grip = station_m[0] + (station_m[1] - station_m[0]) * held.fraction;
            let part_stations = [[station_m[0], grip], [grip, station_m[1]]];
            // Stations are uniform along each curve. The error of each is at most the excess of its length over its
            // chord.
            let hanging = by_itself.station_error_m;
            let error = |family: &SpanFamily, ran_m: f64| {
                let shape = Catenary::new(family.run_m, family.rise_m, family.curvature.high());
                ran_m
                    + hanging
                    + shape.map_or(family.run_m, |shape| shape.slack_m2() / (2.0 * shape.chord_m()))
                    + family.shape_error_m
            };
            let placed = |family: &SpanFamily, part: usize, ran_m: f64, summary| PlacedFamily {
                family: family.clone(),
                span: number,
                station_m: part_stations[part.min(1)],
                station_error_m: error(family, ran_m),
                summary,
            };
            if *place == HoldState::BeingPlaced {
                families.extend(span.being_placed.iter().map(|(part, family)| {
                    let ran_m = span.on_the_way.get(*part).map_or(f64::INFINITY, |of| ran_m(*part, of));
                    placed(family, *part, ran_m, None)
                }));
            } else {
                for (part, held_part) in span.held.iter().enumerate() {
                    let summary = summary(&held_part.family, held_part.curvature.high(), held_part.tension_n).ok();
                    families.push(placed(&held_part.family, part, ran_m(part, &held_part.at_support), summary));
                }
            }
        }
    }
    families
}
