//! Facts of the wires that may be but are not usual. A measurement answers them; a sag far beyond its usual stops without one.

use super::Prepared;
use super::impossible::natural_families;
use crate::catalog::usual;
use crate::conductor::PlacedFamily;
use crate::finding::{self, Finding, Unit, Unusual};
use crate::site::{Hang, Measurement, Site, Span, Wire, WireKind};
use crate::terrain::Ground;
use glam::{DVec2, DVec3};

pub(super) fn findings(prepared: &Prepared) -> Vec<Finding> {
    let site = prepared.site;
    let mut found = Vec::new();
    for (index, wire) in site.wires.iter().enumerate() {
        let is_measured = |fact: &Option<Measurement>| fact.as_ref().is_some_and(Measurement::is_whole);
        let natural: Vec<&PlacedFamily> = natural_families(prepared, index).collect();
        if !is_measured(&wire.measured.sags) {
            found.extend(each_span(wire, |span, number| hang(wire, span, number, &natural)));
        }
        if !is_measured(&wire.measured.spans) {
            found.extend(each_span(wire, |span, number| length(wire, span, number)));
        }
        if let Some(ground) = prepared.ground.as_ref().ok().filter(|_| !is_measured(&wire.measured.heights)) {
            found.extend(each_span(wire, |span, number| heights(ground, wire, span, number)));
            found.extend(low(site, ground, wire, &natural));
        }
    }
    found
}

/// The first span of which there is something to say.
fn each_span(wire: &Wire, say: impl Fn(&Span, usize) -> Option<Finding>) -> Option<Finding> {
    wire.spans.iter().enumerate().find_map(|(index, span)| say(span, index + 1))
}

/// Sag at midspan from the chord, meters, for a horizontal tension: a parabola, good enough to ask a question by.
fn sag_m(wire: &Wire, run_m: f64, tension_n: f64) -> f64 {
    wire.conductor.weight_n_per_m * run_m * run_m / (8.0 * tension_n)
}

/// How a span hangs in still air: too slack, too tight.
fn hang(wire: &Wire, span: &Span, number: usize, natural: &[&PlacedFamily]) -> Option<Finding> {
    let run_m = (span.to - span.from).truncate().length();
    let name = || wire.name.clone();
    let (least_m, most_m) = match span.hang {
        Hang::Sag { sag_m } => (sag_m.low(), sag_m.high()),
        Hang::Tension { tension_n } => (sag_m(wire, run_m, tension_n.high()), sag_m(wire, run_m, tension_n.low())),
        // As it was strung: the calmest weather is the nearest to still air.
        Hang::Strung(_) => {
            let of_span = natural.iter().filter(|placed| placed.span + 1 == number);
            let sags = of_span.filter_map(|placed| Some(placed.summary.as_ref()?.sag_m));
            let sag = sags.min_by(|a, b| a.high().total_cmp(&b.high()))?;
            (sag.low(), sag.high())
        }
    };
    let slack_m = wire
        .conductor
        .rated_strength_n
        .map_or(f64::INFINITY, |strength_n| sag_m(wire, run_m, usual("slack_tension_share") * strength_n));
    let usual_m = slack_m.min(usual("sag_share_most") * run_m);
    // NaN is not usual.
    let within = |times: f64| most_m <= times * usual_m;
    if !within(usual("sag_times_stop")) {
        let fact = Unusual::SagFar { wire: name(), span: number, sag_m: most_m, usual_m };
        return Some(finding::stop(fact).measured(most_m, usual_m, Unit::Meter));
    }
    if !within(1.0) {
        let fact = Unusual::Sag { wire: name(), span: number, sag_m: most_m, usual_m };
        return Some(finding::caution(fact).measured(most_m, usual_m, Unit::Meter));
    }
    let small_m = usual("sag_share_least") * run_m;
    if least_m < small_m {
        let fact = Unusual::SagSmall { wire: name(), span: number, sag_m: least_m, usual_m: small_m };
        return Some(finding::caution(fact).measured(least_m, small_m, Unit::Meter));
    }
    // A messenger that carries cable is strung tighter.
    let strength_n = wire.conductor.rated_strength_n.filter(|_| wire.kind != WireKind::Communication)?;
    let (share, most) = (sag_m(wire, run_m, strength_n) / least_m, usual("tension_share_most"));
    let fact = Unusual::Tension { wire: name(), span: number, share, usual: most };
    (share > most).then(|| finding::caution(fact).measured(100.0 * share, 100.0 * most, Unit::Percent))
}

fn length(wire: &Wire, span: &Span, number: usize) -> Option<Finding> {
    let run_m = (span.to - span.from).truncate().length();
    let (least_m, most_m) = (usual("span_least"), usual("span_most"));
    let fact = Unusual::Span { wire: wire.name.clone(), span: number, run_m, least_m, most_m };
    let limit_m = if run_m < least_m { least_m } else { most_m };
    (!(least_m..=most_m).contains(&run_m)).then(|| finding::caution(fact).measured(run_m, limit_m, Unit::Meter))
}

/// The supports of a span over the ground under them.
fn heights(ground: &Ground, wire: &Wire, span: &Span, number: usize) -> Option<Finding> {
    let above = |end: DVec3| Some(end.z - ground.height(end.truncate())?.low());
    let ends = [above(span.from), above(span.to)];
    let most_m = usual("support_height_most");
    if let Some(above_m) = ends.iter().flatten().copied().find(|above_m| *above_m > most_m) {
        let fact = Unusual::High { wire: wire.name.clone(), span: number, above_m, usual_m: most_m };
        return Some(finding::caution(fact).measured(above_m, most_m, Unit::Meter));
    }
    let ([Some(from_m), Some(to_m)], Ground::Flat { .. }) = (ends, ground) else { return None };
    let (difference_m, even_m) = ((from_m - to_m).abs(), usual("level_difference_most"));
    let fact = Unusual::Uneven { wire: wire.name.clone(), span: number, difference_m, usual_m: even_m };
    (difference_m > even_m).then(|| finding::caution(fact).measured(difference_m, even_m, Unit::Meter))
}

/// The lowest point of any span over the ground. Where it hangs into the ground, another finding says so.
fn low(site: &Site, ground: &Ground, wire: &Wire, natural: &[&PlacedFamily]) -> Option<Finding> {
    let over = |placed: &&PlacedFamily| {
        let lowest = placed.summary.as_ref()?.lowest_point;
        let span = wire.spans.get(placed.span)?;
        let over_road = crosses_road(site, span);
        let kind = if matches!(wire.kind, WireKind::Phase { .. }) { "phase" } else { "other" };
        let usual_m = usual(&format!("{kind}_over_{}_least", if over_road { "road" } else { "ground" }));
        let above_m = lowest.z - ground.height(lowest.truncate())?.high();
        Some((above_m - usual_m, above_m, usual_m, over_road, placed.span + 1, lowest))
    };
    let (missing_m, above_m, usual_m, over_road, span, lowest) =
        natural.iter().filter_map(over).min_by(|a, b| a.0.total_cmp(&b.0))?;
    let fact = Unusual::Low { wire: wire.name.clone(), span, above_m, usual_m, over_road };
    let is_low = missing_m < 0.0 && above_m > 0.0;
    is_low.then(|| finding::caution(fact).at_place(lowest).measured(above_m, usual_m, Unit::Meter))
}

/// The span's line in plan comes over a stated road.
fn crosses_road(site: &Site, span: &Span) -> bool {
    let line = [span.from.truncate(), span.to.truncate()];
    site.roads.iter().any(|road| {
        let stretches = road.along.windows(2).filter_map(|pair| <[DVec2; 2]>::try_from(pair).ok());
        let mut near = stretches.map(|stretch| apart_m(line, stretch));
        near.any(|apart_m| apart_m < road.width_m / 2.0)
    })
}

/// Distance of two segments in plan, meters.
fn apart_m(one: [DVec2; 2], other: [DVec2; 2]) -> f64 {
    let side = |p: DVec2, q: DVec2, r: DVec2| (q - p).perp_dot(r - p);
    let parted = |[a, b]: [DVec2; 2], [c, d]: [DVec2; 2]| side(a, b, c) * side(a, b, d) > 0.0;
    if !parted(one, other) && !parted(other, one) {
        return 0.0;
    }
    let ends = |[a, b]: [DVec2; 2], segment: [DVec2; 2]| to_segment_m(a, segment).min(to_segment_m(b, segment));
    ends(one, other).min(ends(other, one))
}

/// Distance of a point from a segment in plan, meters.
fn to_segment_m(point: DVec2, [from, to]: [DVec2; 2]) -> f64 {
    let along = to - from;
    let share = ((point - from).dot(along) / along.length_squared()).clamp(0.0, 1.0);
    point.distance(from + along * if share.is_finite() { share } else { 0.0 })
}
