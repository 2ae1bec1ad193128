//! The spans that change when a phase is held out: those that no support separates from the held span, and how they
//! hang.

use super::adjacent::{SupportPull, adjacent_span};
use super::catenary::Catenary;
use super::held::HeldSpan;
use super::placed::{PlacedFamily, summary};
use super::still::{Carried, StillSpan};
use crate::bracket::Bracket;
use crate::finding::{self, Finding};
use crate::site::{Attachment, HeldOut, Wire};

/// How the wire is attached at its support number `point`; unknown when the scene does not say.
pub(super) fn attached(wire: &Wire, point: usize) -> Attachment {
    wire.attached.get(point).copied().unwrap_or(Attachment::Unknown)
}

/// The spans outward from a held span, before or after it, up to the first support that holds the wire. Each comes with
/// the index of its support nearer to the held span.
pub(super) fn loose_spans(wire: &Wire, held: usize, after: bool) -> impl Iterator<Item = (usize, usize)> {
    let step = move |span: usize| if after { span.checked_add(1) } else { span.checked_sub(1) };
    let near = move |span: usize| if after { span } else { span + 1 };
    std::iter::successors(step(held), move |&span| step(span))
        .map(move |span| (span, near(span)))
        .take_while(move |&(span, support)| span < wire.spans.len() && !attached(wire, support).holds())
}

/// The wire may slip past one of its stated ends.
pub(super) fn runs_out(wire: &Wire, held: usize) -> bool {
    let count = wire.spans.len();
    let open = |after: bool, end: usize, whole: usize| {
        loose_spans(wire, held, after).count() == whole && !attached(wire, end).holds()
    };
    open(false, 0, held) || open(true, count, count.saturating_sub(held + 1))
}

/// Every span that hangs differently while the wire is held: its family on the way, and its family when held.
pub(super) fn adjacent_spans(
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
            let hung = |pulled: &SupportPull| {
                if iced {
                    return None;
                }
                let radius_m = by_itself.family.radius_m;
                let adjacent = adjacent_span(still, pulled, from, near, carried, radius_m).ok().flatten()?;
                placed_adjacent(by_itself, &adjacent, pulled.ran_m, carried)
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

/// The adjacent span with its station along the line.
fn placed_adjacent(
    by_itself: &PlacedFamily,
    adjacent: &super::adjacent::AdjacentSpan,
    ran_m: f64,
    carried: &Carried,
) -> Option<PlacedFamily> {
    let family = adjacent.family.clone();
    let slack = Catenary::new(family.run_m, family.rise_m, adjacent.curvature.high()).ok()?;
    let horizontal_tension_n = Bracket::between(
        carried.weight_n_per_m / adjacent.curvature.high(),
        carried.resultant_n_per_m / adjacent.curvature.low(),
    );
    let summary =
        summary(&family, adjacent.curvature.high(), horizontal_tension_n.filter(|n| n.high().is_finite())).ok();
    Some(PlacedFamily {
        station_error_m: by_itself.station_error_m + slack.slack_m2() / (2.0 * slack.chord_m()) + ran_m,
        family,
        summary,
        ..by_itself.clone()
    })
}
