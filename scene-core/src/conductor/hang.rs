//! Every wire of a site as families of curves, weather by weather and step by step.
//!
//! ```text
//! Site ─► StillSpan (one span by itself) ─► families in each weather ┐
//!      └► HeldOut ─► families on the way, and held                   ┴─► WireState: which families at which steps
//! ```

use super::assumed::say_what_is_left_out;
use super::catenary::CatenaryError;
use super::held;
use super::hold::{Hold, hold_of, two_holds_in_one_span, two_holds_on_one_wire, usable_holds, weigh_holds};
use super::loose_spans::{adjacent_spans, runs_out};
use super::placed::{PlacedFamily, placed_still, stations};
use super::spacing::{Spacing, spacings};
use super::state::{Moved, WireState, families, line_states};
use super::state_change::StrungError;
use super::still::{Carried, StillSpan};
use crate::finding::{self, Finding, NotHung};
use crate::premise::{Assumed, NotChecked};
use crate::site::{HeldOut, Site, Wire};

/// All wires of a site.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Wires {
    /// Sorted by wire, then weather, then first step.
    pub states: Vec<WireState>,
    /// One per held-out phase and weather.
    pub holds: Vec<Hold>,
    /// From each wire that is held out, or on its way, to the other wires.
    pub spacings: Vec<Spacing>,
    /// What stops or limits the work on the wires.
    pub findings: Vec<Finding>,
    /// Sentences on what the model assumes.
    pub assumed: Vec<Assumed>,
    /// Sentences on what the model leaves out.
    pub not_checked: Vec<NotChecked>,
}

impl Wires {
    /// The state of each wire during a step in a weather case. A wire that cannot be computed is missing.
    pub fn at_step(&self, step: usize, weather: usize) -> impl Iterator<Item = &WireState> {
        self.states.iter().filter(move |state| state.weather == weather && state.steps.binary_search(&step).is_ok())
    }
}

/// Computes how every wire hangs, in every weather case, at every step.
///
/// The model: rigid supports, no slip, steady wind square to each span. Cost: microseconds per span, and about a
/// millisecond per held-out phase and weather case, including the distances between wires.
pub fn hang(site: &Site) -> Wires {
    let mut wires = Wires::default();
    say_what_is_left_out(site, &mut wires.assumed, &mut wires.not_checked, &mut wires.findings);
    if site.weather.is_empty() {
        wires.findings.push(finding::stop(finding::Conductor::WeatherMissing));
    }
    let usable = usable_holds(site, &mut wires.findings);
    for (index, wire) in site.wires.iter().enumerate() {
        hang_wire(site, index, wire, &usable, &mut wires);
    }
    let open = |(index, wire): (usize, &Wire)| -> bool {
        let of = |held: &&HeldOut| held.wire == index && held.span < wire.spans.len();
        site.held_out.iter().filter(of).any(|held| runs_out(wire, held.span))
    };
    let open = site.wires.iter().enumerate().filter(|&one| open(one));
    let open: Vec<String> = open.map(|(_, wire)| wire.name.clone()).collect();
    if !open.is_empty() {
        wires.not_checked.push(NotChecked::SpansBeyondEnds { wires: open });
    }
    weigh_holds(site, &wires.holds, &mut wires.findings);
    wires.spacings = spacings(&wires.states);
    wires
}

/// Adds one wire's states, holds and findings.
fn hang_wire(site: &Site, index: usize, wire: &Wire, usable: &[bool], wires: &mut Wires) {
    let conductor = &wire.conductor;
    let known = |value: f64| value > 0.0 && value.is_finite();
    if !known(conductor.diameter_m) || !known(conductor.weight_n_per_m) || wire.spans.is_empty() {
        wires.findings.push(finding::stop(finding::Conductor::WireUnknown { wire: wire.name.clone() }));
        return;
    }
    let stations = stations(wire, site.hole.at);
    for pair in wire.spans.windows(2) {
        let [one, next] = pair else { continue };
        let apart = one.to.distance(next.from);
        if apart.is_nan() || apart > 1e-3 {
            wires.findings.push(finding::stop(finding::Conductor::RunBroken { wire: wire.name.clone() }));
        }
    }
    let still: Vec<Option<StillSpan>> = (wire.spans.iter().enumerate())
        .map(|(number, span)| match StillSpan::new(span, conductor) {
            Ok(still) => Some(still),
            Err(error) => {
                wires.findings.push(cannot_hang(&wire.name, number, error));
                None
            }
        })
        .collect();
    let holds: Vec<usize> = (site.held_out.iter().enumerate())
        .filter(|(number, held)| held.wire == index && usable.get(*number) == Some(&true))
        .map(|(number, _)| number)
        .collect();

    for (weather_index, weather) in site.weather.iter().enumerate() {
        let carried = Carried::new(conductor, None, weather);
        let natural: Vec<Option<PlacedFamily>> = (still.iter().zip(&wire.spans).zip(&stations).enumerate())
            .map(|(number, ((still, span), station_m))| {
                let still = still.as_ref()?;
                let ice = span.hang.ice();
                let carried = Carried::new(conductor, ice, weather);
                let radius_m = conductor.diameter_m / 2.0 + ice.map_or(0.0, |ice| ice.thickness_m.high());
                match placed_still(still, &carried, radius_m, number, *station_m) {
                    Ok(placed) => Some(placed),
                    Err(error) => {
                        wires.findings.push(cannot_hang(&wire.name, number, StrungError::from(error)));
                        None
                    }
                }
            })
            .collect();
        let mut moved = Vec::new();
        for &number in &holds {
            let Some(held_out) = site.held_out.get(number) else { continue };
            let Some(Some(span)) = still.get(held_out.span) else { continue };
            if wire.spans.get(held_out.span).is_some_and(|span| span.hang.ice().is_some()) {
                continue;
            }
            let radius_m = conductor.diameter_m / 2.0;
            match held::hold(span, held_out.fraction, held_out.to, &carried, conductor.known_stiffness_n(), radius_m) {
                Ok(span) => {
                    wires.holds.push(hold_of(number, weather_index, &span));
                    let adjacent =
                        adjacent_spans(wire, held_out, &span, &still, &natural, &carried, &mut wires.findings);
                    moved.push(Moved { held_out: number, span, adjacent });
                }
                Err(error) => wires.findings.push(finding::stop(finding::Conductor::HeldNotComputed {
                    held: held_out.name.clone(),
                    why: not_hung(StrungError::from(error)),
                })),
            }
        }
        for (steps, places) in line_states(site, &holds) {
            let families = families(site, wire, &natural, &stations, &moved, &places);
            wires.states.push(WireState { wire: index, weather: weather_index, steps, hold_states: places, families });
        }
    }
    two_holds_in_one_span(site, &holds, &wire.name, &mut wires.findings);
    two_holds_on_one_wire(site, &holds, wire, &mut wires.findings);
}

/// The stop for a span that has no curve.
fn cannot_hang(wire: &str, span: usize, error: StrungError) -> Finding {
    let (wire, span) = (wire.to_owned(), span + 1);
    finding::stop(finding::Conductor::CannotHang { wire, span, why: not_hung(error) })
}

/// The error as the finding's reason.
fn not_hung(error: StrungError) -> NotHung {
    match error {
        StrungError::NoStiffness => NotHung::NoStiffness,
        StrungError::NoMetal => NotHung::NoMetal,
        StrungError::Unusable => NotHung::Unusable,
        StrungError::Catenary(error) => match error {
            CatenaryError::NoRun { run_m, rise_m } => NotHung::NoRun { run_m, rise_m },
            CatenaryError::NoTension { tension_n, load_n_per_m } => NotHung::NoTension { tension_n, load_n_per_m },
            CatenaryError::NoSag { sag_m } => NotHung::NoSag { sag_m },
            CatenaryError::TooShort { length_m, chord_m } => NotHung::TooShort { length_m, chord_m },
            CatenaryError::TooSlack { run_m } => NotHung::TooSlack { run_m },
        },
    }
}

#[cfg(test)]
mod tests;
