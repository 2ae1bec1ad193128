//! Every wire of the site as the families of curves it may hang in, step by step.
//!
//! ```text
//! Site ─► StillSpan (one span by itself) ─► families in each weather ┐
//!      └► HeldOut ─► families while being placed, and held           ┴─► WireState: which of them at which steps
//! ```
//!
//! A phase counts as held out from the end of the step that puts it on to the start of the step that takes it off. During those two
//! steps it may be anywhere between; before and after, it hangs by itself.

use super::beside::{AtSupport, beside};
use super::catenary::{Catenary, CatenaryError};
use super::family::SpanFamily;
use super::held::{self, HeldSpan};
use super::spacing::{Spacing, spacings};
use super::state_change::{self, StrungError};
use super::still::{Carried, StillSpan};
use crate::bracket::Bracket;
use crate::finding::{self, Finding, NotHung, Unit};
use crate::premise::{Assumed, NotChecked};
use crate::site::{Attachment, CoverOn, Hang, HeldOut, Presence, Site, Wire, station};
use glam::DVec3;

/// Of the rated strength; more than this is a finding. Source: common practice, after the loaded-tension limit of NESC
/// Rule 261H (from memory).
const TENSION_SHARE: f64 = 0.6;

/// All wires of a site.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Wires {
    /// Wire by wire, weather by weather, in the order of the steps.
    pub states: Vec<WireState>,
    /// One per held-out phase and weather.
    pub holds: Vec<Hold>,
    /// From held-out phases, and phases being moved there, to the other wires.
    pub spacings: Vec<Spacing>,
    pub findings: Vec<Finding>,
    pub assumed: Vec<Assumed>,
    pub not_checked: Vec<NotChecked>,
}

impl Wires {
    /// How each wire hangs during this step in this weather: one state per wire that can be computed.
    pub fn at_step(&self, step: usize, weather: usize) -> impl Iterator<Item = &WireState> {
        self.states.iter().filter(move |state| state.weather == weather && state.steps.binary_search(&step).is_ok())
    }
}

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

/// A family with its place along the line.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedFamily {
    pub family: SpanFamily,
    /// Index into [`Wire::spans`].
    pub span: usize,
    /// Metres along the line from the point abeam the hole, positive toward the last support: at t = 0 and at t = 1, even between.
    pub station_m: [f64; 2],
    /// How far along the wire the piece of wire at a t may be from the one that hangs, by itself, at its station.
    pub station_error_m: f64,
    /// `None` while the wire is being moved.
    pub summary: Option<Summary>,
}

/// What a person wants to read of a span.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Summary {
    /// Horizontal.
    pub span_m: f64,
    /// Square to the resultant load, from still air to the full wind; `None` when it has no bound.
    pub horizontal_tension_n: Option<Bracket>,
    /// From the chord at midspan, along the resultant load.
    pub sag_m: Bracket,
    /// Of the slackest curve in still air.
    pub lowest_point: DVec3,
}

/// What holding a phase out takes, in one weather.
#[derive(Clone, Debug, PartialEq)]
pub struct Hold {
    /// Index into [`Site::held_out`].
    pub held_out: usize,
    pub weather: usize,
    /// Horizontal tension before and after the grip along the line; `None` when the wire cannot be shown to reach.
    pub tension_n: [Option<Bracket>; 2],
    /// The greatest along the wire on either side.
    pub greatest_tension_n: Option<f64>,
    /// On the holder, x y z: each component's smallest and largest.
    pub force_n: Option<[DVec3; 2]>,
    /// Its size.
    pub force_size_n: Option<Bracket>,
    /// On the supports before and after: horizontal pull held out less that in still air by itself.
    pub extra_pull_n: [Option<Bracket>; 2],
}

/// How every wire hangs, in every weather, at every step.
///
/// Supports do not move, wires do not slip, the wind is steady and square to each span. Cost: microseconds per span, about a
/// millisecond per held-out phase and weather, wire spacing included.
pub fn hang(site: &Site) -> Wires {
    let mut wires = Wires::default();
    say_what_is_left_out(site, &mut wires);
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
    weigh_holds(site, &mut wires);
    wires.spacings = spacings(&wires.states);
    wires
}

fn say_what_is_left_out(site: &Site, wires: &mut Wires) {
    if site.wires.is_empty() {
        return;
    }
    let assumed = &mut wires.assumed;
    let spans = || site.wires.iter().flat_map(|wire| &wire.spans);
    let strung = |wire: &&Wire| wire.spans.iter().any(|span| matches!(span.hang, Hang::Strung(_)));
    if spans().any(|span| !matches!(span.hang, Hang::Strung(_))) {
        assumed.push(Assumed::WiresAsStated);
        wires.not_checked.push(NotChecked::WireStateChange);
    }
    let names: Vec<String> = site.wires.iter().filter(strung).map(|wire| wire.name.clone()).collect();
    if !names.is_empty() {
        assumed.push(Assumed::WiresAsStrung {
            wires: names,
            stiffness: state_change::STIFFNESS_SHARE,
            expansion: state_change::EXPANSION_SHARE,
            weight: state_change::WEIGHT_SHARE,
        });
        assumed.push(Assumed::StrungCore);
        assumed.push(Assumed::StrungUnchanged);
    }
    let iced = |held: &&HeldOut| {
        let span = site.wires.get(held.wire).and_then(|wire| wire.spans.get(held.span));
        span.is_some_and(|span| span.hang.ice().is_some())
    };
    for held in site.held_out.iter().filter(iced) {
        wires.findings.push(finding::stop(finding::Conductor::HeldIced { held: held.name.clone() }));
    }
    if site.weather.iter().any(|weather| weather.wind_m_s != 0.0) {
        assumed.push(Assumed::SteadyWind);
        wires.not_checked.push(NotChecked::GustsOnWires);
    }
    if site.covers.iter().any(|cover| matches!(cover.on, CoverOn::Wire { .. })) {
        wires.not_checked.push(NotChecked::CoversOnWires);
    }
    if !site.held_out.is_empty() {
        assumed.push(Assumed::HeldStraight);
        assumed.push(Assumed::HolderGrips);
        assumed.push(Assumed::WireRunsThrough);
        wires.not_checked.push(NotChecked::SupportsGive);
        wires.not_checked.push(NotChecked::PullOnHolder);
        wires.not_checked.push(NotChecked::SupportStrength);
    }
}

/// Which held-out phases can be computed; the others are findings.
fn usable_holds(site: &Site, findings: &mut Vec<Finding>) -> Vec<bool> {
    let usable = |held: &HeldOut, findings: &mut Vec<Finding>| {
        let span = site.wires.get(held.wire).and_then(|wire| wire.spans.get(held.span));
        let inside = held.fraction > 0.0 && held.fraction < 1.0;
        if span.is_none() || !inside || !held.to.is_finite() {
            findings.push(finding::stop(finding::Conductor::HeldUnusable { held: held.name.clone() }));
            return false;
        }
        let steps = site.steps.len();
        let named = [held.during.on_after_step, held.during.off_before_step];
        let in_order = !matches!(named, [Some(on), Some(off)] if on >= off);
        if !in_order || named.iter().flatten().any(|step| *step >= steps) {
            findings.push(finding::stop(finding::Conductor::HeldTimes { held: held.name.clone() }));
        }
        true
    };
    site.held_out.iter().map(|held| usable(held, findings)).collect()
}

/// Where a held-out phase is during a step.
pub fn place_at_step(held: &HeldOut, step: usize) -> Place {
    match held.during.presence(step) {
        Presence::Absent => Place::Natural,
        Presence::Changing => Place::BeingPlaced,
        Presence::Present => Place::Held,
    }
}

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
            match held::hold(span, held_out.fraction, held_out.to, &carried, conductor.stiffness_n, radius_m) {
                Ok(span) => {
                    wires.holds.push(hold_of(number, weather_index, &span));
                    let beside = spans_beside(wire, held_out, &span, &still, &natural, &carried, &mut wires.findings);
                    moved.push(Moved { held_out: number, span, beside });
                }
                Err(error) => wires.findings.push(finding::stop(finding::Conductor::HeldNotComputed {
                    held: held_out.name.clone(),
                    why: not_hung(StrungError::from(error)),
                })),
            }
        }
        for (steps, places) in line_states(site, &holds) {
            let families = families(site, wire, &natural, &stations, &moved, &places);
            wires.states.push(WireState { wire: index, weather: weather_index, steps, places, families });
        }
    }
    two_holds_in_one_span(site, &holds, &wire.name, &mut wires.findings);
    two_holds_on_one_wire(site, &holds, wire, &mut wires.findings);
}

fn attached(wire: &Wire, point: usize) -> Attachment {
    wire.attached.get(point).copied().unwrap_or(Attachment::Unknown)
}

/// From a held span outward, the side before it or after it: each span that nothing holds the wire on the way to, with the
/// index of the support that it is nearer by.
fn loose_spans(wire: &Wire, held: usize, after: bool) -> impl Iterator<Item = (usize, usize)> {
    let step = move |span: usize| if after { span.checked_add(1) } else { span.checked_sub(1) };
    let near = move |span: usize| if after { span } else { span + 1 };
    std::iter::successors(step(held), move |&span| step(span))
        .map(move |span| (span, near(span)))
        .take_while(move |&(span, support)| span < wire.spans.len() && !attached(wire, support).holds())
}

/// The wire may run on past one of its stated ends.
fn runs_out(wire: &Wire, held: usize) -> bool {
    let count = wire.spans.len();
    let open = |after: bool, end: usize, whole: usize| {
        loose_spans(wire, held, after).count() == whole && !attached(wire, end).holds()
    };
    open(false, 0, held) || open(true, count, count.saturating_sub(held + 1))
}

/// Each span that may hang otherwise while the wire is held: while that is being placed, and held.
fn spans_beside(
    wire: &Wire,
    held: &HeldOut,
    span: &HeldSpan,
    still: &[Option<StillSpan>],
    natural: &[Option<PlacedFamily>],
    carried: &Carried,
    findings: &mut Vec<Finding>,
) -> Vec<[PlacedFamily; 2]> {
    let mut found = Vec::new();
    let [before, after] = &span.held;
    let sides = [(false, before.at_support, span.on_the_way[0]), (true, after.at_support, span.on_the_way[1])];
    for (is_after, at_hold, on_the_way) in sides {
        let Some(Some(own)) = still.get(held.span) else { continue };
        let from = if is_after { own.chord.to } else { own.chord.from };
        for (number, _) in loose_spans(wire, held.span, is_after) {
            let (Some(Some(still)), Some(Some(by_itself))) = (still.get(number), natural.get(number)) else { continue };
            let near = if is_after { still.chord.from } else { still.chord.to };
            let iced = wire.spans.get(number).is_some_and(|span| span.hang.ice().is_some());
            let hung = |pulled: &AtSupport| {
                if iced {
                    return None;
                }
                let radius_m = by_itself.family.radius_m;
                let beside = beside(still, pulled, from, near, carried, radius_m).ok().flatten()?;
                placed_beside(by_itself, &beside, pulled.ran_m, carried)
            };
            match (hung(&on_the_way), hung(&at_hold)) {
                (Some(placing), Some(held)) => found.push([placing, held]),
                _ => findings.push(finding::stop(finding::Conductor::HeldBeside {
                    held: held.name.clone(),
                    wire: wire.name.clone(),
                    span: number + 1,
                    iced,
                })),
            }
        }
    }
    found
}

fn placed_beside(
    by_itself: &PlacedFamily,
    beside: &super::beside::Beside,
    ran_m: f64,
    carried: &Carried,
) -> Option<PlacedFamily> {
    let family = beside.family.clone();
    let slack = Catenary::new(family.run_m, family.rise_m, beside.curvature.high()).ok()?;
    let horizontal_tension_n = Bracket::between(
        carried.weight_n_per_m / beside.curvature.high(),
        carried.resultant_n_per_m / beside.curvature.low(),
    );
    let summary = summary(&family, beside.curvature.high(), horizontal_tension_n.filter(|n| n.high().is_finite())).ok();
    Some(PlacedFamily {
        station_error_m: by_itself.station_error_m + slack.slack_m2() / (2.0 * slack.chord_m()) + ran_m,
        family,
        summary,
        ..by_itself.clone()
    })
}

/// Where nothing between holds the wire, each pulls at what the other is bounded by.
fn two_holds_on_one_wire(site: &Site, holds: &[usize], wire: &Wire, findings: &mut Vec<Finding>) {
    for (rank, one) in holds.iter().enumerate() {
        for other in holds.iter().skip(rank + 1) {
            let (Some(one), Some(other)) = (site.held_out.get(*one), site.held_out.get(*other)) else { continue };
            let is_reached = loose_spans(wire, one.span, other.span > one.span).any(|(span, _)| span == other.span);
            let both =
                |step| place_at_step(one, step) != Place::Natural && place_at_step(other, step) != Place::Natural;
            if let (true, Some(step)) = (is_reached, (0..site.steps.len()).find(|step| both(*step))) {
                let (one, other, wire) = (one.name.clone(), other.name.clone(), wire.name.clone());
                findings.push(finding::stop(finding::Conductor::HeldTwiceOnWire { one, other, wire }).at_step(step));
            }
        }
    }
}

fn cannot_hang(wire: &str, span: usize, error: StrungError) -> Finding {
    let (wire, span) = (wire.to_owned(), span + 1);
    finding::stop(finding::Conductor::CannotHang { wire, span, why: not_hung(error) })
}

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

/// Stations of the start and the end of each span.
fn stations(wire: &Wire, hole: DVec3) -> Vec<[f64; 2]> {
    let mut walked = station::reach(&wire.spans, hole).map_or(0.0, Bracket::low);
    let mut ends = Vec::new();
    for span in &wire.spans {
        let from = walked;
        walked += (span.to - span.from).truncate().length();
        ends.push([from, walked]);
    }
    ends
}

fn placed_still(
    span: &StillSpan,
    carried: &Carried,
    radius_m: f64,
    number: usize,
    station_m: [f64; 2],
) -> Result<PlacedFamily, CatenaryError> {
    let family = span.family(carried, radius_m)?;
    let slack = Catenary::new(span.chord.run_m, span.chord.rise_m, span.curvature.high())?;
    let windy = carried.curvature(&span.chord, span.curvature);
    let horizontal_tension_n = Bracket::between(
        carried.weight_n_per_m / span.curvature.high(),
        carried.heavier * carried.resultant_n_per_m / windy.low(),
    );
    let summary = summary(&family, span.curvature.high(), horizontal_tension_n)?;
    Ok(PlacedFamily {
        family,
        span: number,
        station_m,
        station_error_m: slack.slack_m2() / (2.0 * slack.chord_m()),
        summary: Some(summary),
    })
}

fn summary(
    family: &SpanFamily,
    slackest_still: f64,
    horizontal_tension_n: Option<Bracket>,
) -> Result<Summary, CatenaryError> {
    let sag =
        |curvature| Ok::<f64, CatenaryError>(Catenary::new(family.run_m, family.rise_m, curvature)?.midspan_sag_m());
    let (low, high) = (sag(family.curvature.low())?, sag(family.curvature.high())?);
    let slack = Catenary::new(family.run_m, family.rise_m, slackest_still)?;
    let [from, to] = [family.a[0], family.b[0]];
    let t = slack.low_point_m().map_or(0.0, |x| x / family.run_m).clamp(0.0, 1.0);
    let no_sag = CatenaryError::NoSag { sag_m: high };
    Ok(Summary {
        span_m: family.run_m,
        horizontal_tension_n,
        sag_m: Bracket::between((low - family.form_m).max(0.0), high + family.form_m).ok_or(no_sag)?,
        lowest_point: from.lerp(to, t) - DVec3::Z * slack.depth_m(t),
    })
}

fn hold_of(held_out: usize, weather: usize, span: &HeldSpan) -> Hold {
    let [before, after] = &span.held;
    Hold {
        held_out,
        weather,
        tension_n: [before.tension_n, after.tension_n],
        greatest_tension_n: before.greatest_tension_n.zip(after.greatest_tension_n).map(|(one, two)| one.max(two)),
        force_n: span.force_n,
        force_size_n: span.force_n.and_then(|[low, high]| {
            let nearest = DVec3::ZERO.clamp(low, high);
            Bracket::between(nearest.length(), low.abs().max(high.abs()).length())
        }),
        extra_pull_n: [before.extra_pull_n, after.extra_pull_n],
    }
}

type Places = Vec<(usize, Place)>;

/// Steps in which the wire's held-out phases do the same, each group once.
fn line_states(site: &Site, holds: &[usize]) -> Vec<(Vec<usize>, Places)> {
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
struct Moved {
    held_out: usize,
    span: HeldSpan,
    beside: Vec<[PlacedFamily; 2]>,
}

fn families(
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

fn two_holds_in_one_span(site: &Site, holds: &[usize], wire: &str, findings: &mut Vec<Finding>) {
    for (rank, one) in holds.iter().enumerate() {
        for other in holds.iter().skip(rank + 1) {
            let (Some(one), Some(other)) = (site.held_out.get(*one), site.held_out.get(*other)) else { continue };
            let both =
                |step| place_at_step(one, step) != Place::Natural && place_at_step(other, step) != Place::Natural;
            if one.span == other.span
                && let Some(step) = (0..site.steps.len()).find(|step| both(*step))
            {
                let (one, other, wire) = (one.name.clone(), other.name.clone(), wire.to_owned());
                findings.push(finding::stop(finding::Conductor::HeldTwiceInSpan { one, other, wire }).at_step(step));
            }
        }
    }
}

/// Each held-out phase against its holder and its conductor, in the weather that pulls hardest.
fn weigh_holds(site: &Site, wires: &mut Wires) {
    let Wires { holds, findings, .. } = wires;
    for (number, held_out) in site.held_out.iter().enumerate() {
        let mine = || holds.iter().filter(move |hold| hold.held_out == number);
        if mine().next().is_none() {
            continue;
        }
        let Some(wire) = site.wires.get(held_out.wire) else { continue };
        let step = held_out.during.on_after_step;
        let mut found = |finding: Finding| {
            findings.push(match step {
                Some(step) => finding.at_step(step),
                None => finding,
            });
        };
        let sizes: Option<Vec<Bracket>> = mine().map(|hold| hold.force_size_n).collect();
        let tensions: Option<Vec<f64>> = mine().map(|hold| hold.greatest_tension_n).collect();
        let held = || held_out.name.clone();
        let name = || wire.name.clone();
        let most = |values: &[f64]| values.iter().copied().fold(0.0, f64::max);
        let (Some(sizes), Some(tensions)) = (sizes, tensions) else {
            found(finding::stop(finding::Conductor::HeldTooShort { held: held() }));
            continue;
        };
        let force = most(&sizes.iter().map(|size| size.high()).collect::<Vec<_>>());
        match held_out.holder_rating_n {
            None => {
                found(finding::stop(finding::Conductor::HolderRatingMissing { held: held(), force_n: force }));
            }
            Some(rating) if force <= rating => {}
            Some(rating) => {
                let fact = finding::Conductor::HolderOverloaded { held: held(), force_n: force, rating_n: rating };
                found(finding::stop(fact).measured(force, rating, Unit::Newton));
            }
        }
        let tension = most(&tensions);
        match wire.conductor.rated_strength_n {
            None => found(finding::stop(finding::Conductor::StrengthMissing {
                held: held(),
                wire: name(),
                tension_n: tension,
            })),
            Some(strength) if tension <= TENSION_SHARE * strength => {}
            Some(strength) => {
                let (tension_n, strength_n) = (tension, strength);
                let fact = finding::Conductor::Overtensioned { held: held(), wire: name(), tension_n, strength_n };
                found(finding::stop(fact).measured(tension, TENSION_SHARE * strength, Unit::Newton));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::Grade;
    use crate::fixtures::{self, site::step};
    use crate::site::*;
    use proptest::prelude::*;

    /// Three wires of two spans along x, 45 m and 40 m, the hole abeam 25 m along; the middle one is held out from step 1
    /// to step 4.
    fn site() -> Site {
        let conductor = Conductor {
            name: "Raven".into(),
            diameter_m: 0.0101,
            weight_n_per_m: 2.12,
            rated_strength_n: Some(19_500.0),
            stiffness_n: Some(4.9e6),
            ..fixtures::line::conductor()
        };
        let wire = |name: &str, y: f64, kind| {
            let at = |x: f64, z: f64| DVec3::new(x, y, z);
            let hang = Hang::Sag { sag_m: Bracket::between(0.6, 0.65).unwrap() };
            let spans = vec![
                Span { from: at(0.0, 10.0), to: at(45.0, 10.5), hang },
                Span { from: at(45.0, 10.5), to: at(85.0, 10.0), hang },
            ];
            Wire { name: name.into(), kind, conductor: conductor.clone(), spans, attached: vec![] }
        };
        let work = || Action::Work { minutes: 10.0 };
        Site {
            name: "three wires".into(),
            altitude_m: 0.0,
            wires: vec![
                wire("north", 1.2, WireKind::Phase { circuit: 0 }),
                wire("middle", 0.0, WireKind::Phase { circuit: 0 }),
                wire("south", -1.2, WireKind::Phase { circuit: 0 }),
            ],
            weather: vec![
                Weather { name: "still".into(), wind_m_s: 0.0 },
                Weather { name: "breeze".into(), wind_m_s: 8.0 },
            ],
            held_out: vec![HeldOut {
                name: "middle held north".into(),
                wire: 1,
                span: 0,
                fraction: 0.5,
                to: DVec3::new(22.5, 0.5, 9.65),
                holder_rating_n: Some(2_000.0),
                during: During { on_after_step: Some(1), off_before_step: Some(4) },
            }],
            hole: Hole { at: DVec3::new(25.0, 3.0, 0.0), facing: 0.0, depth_m: 2.0, diameter_m: 0.6 },
            ..fixtures::site::site(["a", "spread", "c", "d", "back", "f"].map(|name| step(name, work())).to_vec())
        }
    }

    fn state(wires: &Wires, step: usize, wire: usize, weather: usize) -> &WireState {
        let mut at = wires.at_step(step, weather).filter(|state| state.wire == wire);
        let found = at.next().unwrap();
        assert!(at.next().is_none(), "one state per wire, weather and step");
        found
    }

    #[test]
    fn a_phase_is_held_from_the_end_of_one_step_to_the_start_of_another_and_between_places_during_both() {
        let site = site();
        let wires = hang(&site);
        let place = |step| state(&wires, step, 1, 0).places[0].1;
        let expected =
            [Place::Natural, Place::BeingPlaced, Place::Held, Place::Held, Place::BeingPlaced, Place::Natural];
        assert_eq!([0, 1, 2, 3, 4, 5].map(place), expected);
        // By itself two spans; held two parts and a span.
        assert_eq!(state(&wires, 0, 1, 0).families.len(), 2);
        assert_eq!(state(&wires, 2, 1, 0).families.len(), 3);
        assert!(state(&wires, 1, 1, 0).families.len() > 3);
        assert_eq!(state(&wires, 2, 0, 1).families.len(), 2);
        assert!(wires.findings.is_empty(), "{:?}", wires.findings);
    }

    #[test]
    fn before_the_first_step_and_never_off_mean_what_they_say() {
        let mut held = site().held_out.remove(0);
        held.during = During { on_after_step: None, off_before_step: Some(2) };
        assert_eq!(
            [0, 1, 2, 3].map(|step| place_at_step(&held, step)),
            [Place::Held, Place::Held, Place::BeingPlaced, Place::Natural]
        );
        held.during = During { on_after_step: Some(0), off_before_step: None };
        assert_eq!([0, 1].map(|step| place_at_step(&held, step)), [Place::BeingPlaced, Place::Held]);
    }

    #[test]
    fn stations_count_along_the_line_from_the_point_abeam_the_hole() {
        let site = site();
        let wires = hang(&site);
        let natural = state(&wires, 0, 1, 0);
        assert_eq!(natural.families[0].station_m, [-25.0, 20.0]);
        assert_eq!(natural.families[1].station_m, [20.0, 60.0]);
        let held = state(&wires, 2, 1, 0);
        assert_eq!(held.families[0].station_m, [-25.0, -2.5]);
        assert_eq!(held.families[1].station_m, [-2.5, 20.0]);
        // Half a metre aside in half a span: the wire is centimetres from its station, not decimetres.
        assert!(held.families[0].station_error_m < 0.05, "{}", held.families[0].station_error_m);
    }

    #[test]
    fn the_summary_is_what_was_measured() {
        let site = site();
        let wires = hang(&site);
        let summary = state(&wires, 0, 0, 0).families[0].summary.unwrap();
        assert_eq!(summary.span_m, 45.0);
        assert!((summary.sag_m.low() - 0.6).abs() < 1e-9 && (summary.sag_m.high() - 0.65).abs() < 1e-9);
        // w·L²/(8·sag), level to half a metre.
        let tension = summary.horizontal_tension_n.unwrap();
        assert!((tension.high() - 2.12 * 45.0 * 45.0 / 8.0 / 0.6).abs() < 2.0, "{tension:?}");
        assert!(summary.lowest_point.z < 10.0 + 0.25 - 0.6 && summary.lowest_point.x < 22.5);
        // In wind the same wire may pull harder and sag deeper along its tilted plane.
        let windy = state(&wires, 0, 0, 1).families[0].summary.unwrap();
        assert!(windy.horizontal_tension_n.unwrap().high() > tension.high() && windy.sag_m.high() > 0.65);
    }

    #[test]
    fn a_phase_held_toward_its_neighbour_comes_nearer_to_it_than_to_the_other() {
        let site = site();
        let wires = hang(&site);
        let spacing = |other, place| {
            let mut found = (wires.spacings.iter())
                .filter(|row| row.wire == 1 && row.other == other && row.weather == 0 && row.place == place);
            found.next().unwrap()
        };
        let north = spacing(0, Place::Held);
        assert!(north.high_m < 0.7 && north.low_m > 0.6, "{north:?}");
        assert_eq!(north.steps, [2, 3]);
        let south = spacing(2, Place::Held);
        // At the supports all wires are as far apart as ever.
        assert!((south.high_m - 1.19).abs() < 0.01 && south.low_m <= 1.19, "{south:?}");
        assert!(spacing(0, Place::BeingPlaced).low_m <= north.high_m);
        assert!(wires.spacings.iter().all(|row| row.low_m <= row.high_m));
    }

    fn codes(site: &Site) -> Vec<&'static str> {
        let findings = hang(site).findings;
        assert!(findings.iter().all(|finding| finding.grade == Grade::Stop));
        findings.iter().map(|finding| finding.code()).collect()
    }

    #[test]
    fn what_pulls_too_hard_is_a_stop() {
        let mut site = site();
        site.held_out[0].holder_rating_n = Some(50.0);
        assert_eq!(codes(&site), ["holder_overloaded"]);
        site.held_out[0].holder_rating_n = None;
        assert_eq!(codes(&site), ["holder_rating_missing"]);
        site.held_out[0].holder_rating_n = Some(1e6);
        site.held_out[0].to.y = 2.5;
        assert_eq!(codes(&site), ["conductor_overtensioned"]);
        site.wires[1].conductor.rated_strength_n = None;
        assert_eq!(codes(&site), ["conductor_strength_missing"]);
        site.wires[1].conductor.stiffness_n = None;
        assert_eq!(codes(&site), ["held_out_wire_too_short"]);
    }

    #[test]
    fn what_is_missing_or_contradicts_itself_is_a_stop() {
        let changed = |change: &dyn Fn(&mut Site)| {
            let mut site = site();
            change(&mut site);
            codes(&site)
        };
        assert_eq!(changed(&|site| site.weather.clear()), ["weather_missing"]);
        assert_eq!(changed(&|site| site.held_out[0].fraction = 1.0), ["held_out_unusable"]);
        assert_eq!(changed(&|site| site.held_out[0].wire = 7), ["held_out_unusable"]);
        assert_eq!(changed(&|site| site.held_out[0].during.off_before_step = Some(1)), ["held_out_times_contradict"]);
        assert_eq!(changed(&|site| site.held_out[0].during.off_before_step = Some(9)), ["held_out_times_contradict"]);
        assert_eq!(changed(&|site| site.wires[0].spans[1].from.x = 46.0), ["wire_run_broken"]);
        assert_eq!(changed(&|site| site.wires[0].conductor.weight_n_per_m = 0.0), ["wire_unknown"]);
        let no_sag = Hang::Sag { sag_m: Bracket::between(0.0, 0.5).unwrap() };
        assert_eq!(changed(&|site| site.wires[0].spans[0].hang = no_sag), ["wire_cannot_hang"]);
        let again = |site: &mut Site| site.held_out.push(site.held_out[0].clone());
        assert!(changed(&again).contains(&"held_out_twice"));
    }

    #[test]
    fn times_that_contradict_each_other_count_as_on_the_way_all_the_time() {
        let mut site = site();
        site.held_out[0].during = During { on_after_step: Some(4), off_before_step: Some(2) };
        assert!((0..6).all(|step| place_at_step(&site.held_out[0], step) == Place::BeingPlaced));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(60))]

        #[test]
        fn no_site_panics(
            at in prop::array::uniform6(any::<f64>()), hang_low in any::<f64>(), hang_high in any::<f64>(),
            weight in any::<f64>(), stiffness in any::<f64>(), wind in any::<f64>(), fraction in 0.0f64..1.0,
            which in 0u8..64,
        ) {
            let mut site = site();
            let bad = |bit: u8, value: f64, good: f64| if which & (1 << bit) != 0 { value } else { good };
            let wire = &mut site.wires[1];
            wire.conductor.weight_n_per_m = bad(0, weight, 2.12);
            wire.conductor.stiffness_n = Some(bad(1, stiffness, 4.9e6));
            site.weather[1].wind_m_s = bad(2, wind, 8.0);
            if which & 8 != 0 {
                wire.spans[0].to = DVec3::new(at[0], at[1], at[2]);
            }
            if which & 16 != 0 {
                site.held_out[0].to = DVec3::new(at[3], at[4], at[5]);
            }
            site.held_out[0].fraction = fraction;
            if let (true, Some(tension_n)) = (which & 32 != 0, Bracket::between(hang_low, hang_high)) {
                wire.spans[0].hang = Hang::Tension { tension_n };
            }
            let wires = hang(&site);
            for state in &wires.states {
                for placed in &state.families {
                    prop_assert!(placed.family.form_m >= 0.0 && placed.family.curvature.low() >= 0.0);
                }
            }
        }
    }
}
