//! What it takes to hold a phase out, and whether holder and conductor are strong enough.

use super::held::HeldSpan;
use super::loose_spans::loose_spans;
use super::state::{HoldState, hold_state_at_step};
use crate::bracket::Bracket;
use crate::finding::{self, Finding, Unit};
use crate::site::{HeldOut, Site, Wire};
use glam::DVec3;

/// The largest tension as a share of rated strength. Source: common practice, after the loaded-tension limit of NESC
/// Rule 261H (from memory).
const TENSION_SHARE: f64 = 0.6;

/// The forces of one held-out phase in one weather case.
#[derive(Clone, Debug, PartialEq)]
pub struct Hold {
    /// Index into [`Site::held_out`].
    pub held_out: usize,
    /// Index into [`Site::weather`].
    pub weather: usize,
    /// Horizontal tension before and after the grip along the line, newtons; `None` when the wire may not reach.
    pub tension_n: [Option<Bracket>; 2],
    /// The greatest tension along the wire on either side, newtons.
    pub greatest_tension_n: Option<f64>,
    /// Force on the holder, newtons: the smallest and the largest of each world component.
    pub force_n: Option<[DVec3; 2]>,
    /// Magnitude of that force, newtons.
    pub force_size_n: Option<Bracket>,
    /// On the supports before and after the grip, newtons: horizontal pull while held less that of the undisturbed wire
    /// in still air.
    pub extra_pull_n: [Option<Bracket>; 2],
}

/// The forces of a held span as plain data.
pub(super) fn hold_of(held_out: usize, weather: usize, span: &HeldSpan) -> Hold {
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

/// For each held-out phase, whether it can be computed. Adds a stop for each one that cannot.
pub(super) fn usable_holds(site: &Site, findings: &mut Vec<Finding>) -> Vec<bool> {
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

/// Adds a stop for two phases held at once with nothing between them that holds the wire: each changes the pull that
/// bounds the other.
pub(super) fn two_holds_on_one_wire(site: &Site, holds: &[usize], wire: &Wire, findings: &mut Vec<Finding>) {
    for (rank, one) in holds.iter().enumerate() {
        for other in holds.iter().skip(rank + 1) {
            let (Some(one), Some(other)) = (site.held_out.get(*one), site.held_out.get(*other)) else { continue };
            let is_reached = loose_spans(wire, one.span, other.span > one.span).any(|(span, _)| span == other.span);
            let both = |step| {
                hold_state_at_step(one, step) != HoldState::Natural
                    && hold_state_at_step(other, step) != HoldState::Natural
            };
            if let (true, Some(step)) = (is_reached, (0..site.steps.len()).find(|step| both(*step))) {
                let (one, other, wire) = (one.name.clone(), other.name.clone(), wire.name.clone());
                findings.push(finding::stop(finding::Conductor::HeldTwiceOnWire { one, other, wire }).at_step(step));
            }
        }
    }
}

/// Adds a stop for two phases held at once in one span.
pub(super) fn two_holds_in_one_span(site: &Site, holds: &[usize], wire: &str, findings: &mut Vec<Finding>) {
    for (rank, one) in holds.iter().enumerate() {
        for other in holds.iter().skip(rank + 1) {
            let (Some(one), Some(other)) = (site.held_out.get(*one), site.held_out.get(*other)) else { continue };
            let both = |step| {
                hold_state_at_step(one, step) != HoldState::Natural
                    && hold_state_at_step(other, step) != HoldState::Natural
            };
            if one.span == other.span
                && let Some(step) = (0..site.steps.len()).find(|step| both(*step))
            {
                let (one, other, wire) = (one.name.clone(), other.name.clone(), wire.to_owned());
                findings.push(finding::stop(finding::Conductor::HeldTwiceInSpan { one, other, wire }).at_step(step));
            }
        }
    }
}

/// Compares each held-out phase with the ratings of its holder and its conductor, in the weather case that pulls
/// hardest.
pub(super) fn weigh_holds(site: &Site, holds: &[Hold], findings: &mut Vec<Finding>) {
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
