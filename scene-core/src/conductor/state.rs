//! How one wire may hang during which steps: by itself, on the way to where it is held out, or held.
//!
//! A phase counts as held out from the end of the step that puts it on to the start of the step that takes it off. During those two
//! steps it may be anywhere between; before and after, it hangs by itself.

use super::beside::AtSupport;
use super::catenary::Catenary;
use super::family::SpanFamily;
use super::held::HeldSpan;
use super::loose_spans::attached;
use super::placed::{PlacedFamily, summary};
use crate::site::{HeldOut, Presence, Site, Wire};

/// How one wire may hang in one weather during some of the steps.
#[derive(Clone, Debug, PartialEq)]
pub struct WireState {
    /// Index into [`Site::wires`] and [`Site::weather`].
    pub wire: usize,
    pub weather: usize,
    /// Indices of the steps it holds for, ascending; none when the site has no steps.
    pub steps: Vec<usize>,
    /// What each held-out phase of this wire is doing, by index into [`Site::held_out`].
    pub places: Vec<(usize, Place)>,
    /// In order along the line; several for one stretch of a wire that is being moved.
    pub families: Vec<PlacedFamily>,
}

/// Where a phase that is to be held out is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// It hangs by itself.
    Natural,
    /// Anywhere between.
    BeingPlaced,
    Held,
}

/// Where a held-out phase is during a step.
pub fn place_at_step(held: &HeldOut, step: usize) -> Place {
    match held.during.presence(step) {
        Presence::Absent => Place::Natural,
        Presence::Changing => Place::BeingPlaced,
        Presence::Present => Place::Held,
    }
}

pub(super) type Places = Vec<(usize, Place)>;

/// Steps in which the wire's held-out phases do the same, each group once.
pub(super) fn line_states(site: &Site, holds: &[usize]) -> Vec<(Vec<usize>, Places)> {
    let places = |step: usize| -> Places {
        let place = |&number: &usize| Some((number, place_at_step(site.held_out.get(number)?, step)));
        holds.iter().filter_map(place).collect()
    };
    let mut groups: Vec<(Vec<usize>, Places)> = Vec::new();
    for step in 0..site.steps.len() {
        let now = places(step);
        match groups.iter_mut().find(|(_, group)| *group == now) {
            Some((steps, _)) => steps.push(step),
            None => groups.push((vec![step], now)),
        }
    }
    if groups.is_empty() {
        groups.push((Vec::new(), holds.iter().map(|&number| (number, Place::Natural)).collect()));
    }
    groups
}

/// A held-out phase as it hangs: its own span, and those beside it that change with it, being placed and held.
pub(super) struct Moved {
    pub held_out: usize,
    pub span: HeldSpan,
    pub beside: Vec<[PlacedFamily; 2]>,
}

pub(super) fn families(
    site: &Site,
    wire: &Wire,
    natural: &[Option<PlacedFamily>],
    stations: &[[f64; 2]],
    moved: &[Moved],
    places: &Places,
) -> Vec<PlacedFamily> {
    let mut families = Vec::new();
    for (number, (by_itself, station_m)) in natural.iter().zip(stations).enumerate() {
        let Some(by_itself) = by_itself else { continue };
        let active: Vec<_> = (places.iter())
            .filter(|(held_out, place)| {
                *place != Place::Natural && site.held_out.get(*held_out).is_some_and(|held| held.span == number)
            })
            .collect();
        if active.is_empty() {
            let others = places.iter().filter(|(_, place)| *place != Place::Natural);
            let beside = others.flat_map(|(held_out, place)| {
                let of = moved.iter().filter(move |moved| moved.held_out == *held_out);
                of.flat_map(|moved| &moved.beside).map(
                    move |[placing, held]| {
                        if *place == Place::BeingPlaced { placing } else { held }
                    },
                )
            });
            let changed: Vec<PlacedFamily> = beside.filter(|placed| placed.span == number).cloned().collect();
            if changed.is_empty() {
                families.push(by_itself.clone());
            }
            families.extend(changed);
        }
        for (held_out, place) in active {
            let Some(held) = site.held_out.get(*held_out) else { continue };
            let Some(Moved { span, .. }) = moved.iter().find(|moved| moved.held_out == *held_out) else { continue };
            // Where nothing holds it, the wire may run at the support of either part.
            let ran_m = |part: usize, of: &AtSupport| {
                if attached(wire, number + part.min(1)).holds() { 0.0 } else { of.ran_m }
            };
            let grip = station_m[0] + (station_m[1] - station_m[0]) * held.fraction;
            let part_stations = [[station_m[0], grip], [grip, station_m[1]]];
            // Of two wires of even stations, each is off by no more than its own length is longer than its chord.
            let hanging = by_itself.station_error_m;
            let error = |family: &SpanFamily, ran_m: f64| {
                let shape = Catenary::new(family.run_m, family.rise_m, family.curvature.high());
                ran_m
                    + hanging
                    + shape.map_or(family.run_m, |shape| shape.slack_m2() / (2.0 * shape.chord_m()))
                    + family.form_m
            };
            let placed = |family: &SpanFamily, part: usize, ran_m: f64, summary| PlacedFamily {
                family: family.clone(),
                span: number,
                station_m: part_stations[part.min(1)],
                station_error_m: error(family, ran_m),
                summary,
            };
            if *place == Place::BeingPlaced {
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
