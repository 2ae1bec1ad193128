//! When phases are held aside and guards of the pole are handled: never beside a pole that hangs, and never with bare hands.

use crate::finding::{self, Cover, Finding};
use crate::site::measured::says_something;
use crate::site::{Action, CoverOn, HeldOut, Site};

pub(super) fn findings(site: &Site) -> Vec<Finding> {
    let mut found: Vec<Finding> = site.held_out.iter().flat_map(|held| held_out(site, held)).collect();
    found.extend(hands(site));
    if !site.wires.is_empty() && !site.steps.is_empty() {
        // No step can say so yet.
        found.push(finding::caution(finding::Sequence::RestNotStated));
    }
    found
}

/// The step that takes the load on the hook, and the one that lets it go (or the end).
fn on_hook(site: &Site) -> Option<(usize, usize)> {
    let taken = site.steps.iter().position(|step| step.action == Action::TakeLoad)?;
    let released = site.steps.iter().skip(taken).position(|step| step.action == Action::Release);
    Some((taken, released.map_or(site.steps.len(), |after| taken + after)))
}

/// A held-out phase changes in a step of work, while nothing hangs.
fn held_out(site: &Site, held: &HeldOut) -> Vec<Finding> {
    let changes = [held.during.on_after_step, held.during.off_before_step].into_iter().flatten();
    let mut found = Vec::new();
    for step in changes {
        // A step that is not there is another finding.
        let Some(stated) = site.steps.get(step) else { continue };
        if !matches!(stated.action, Action::Work { .. }) {
            let fact = finding::Conductor::HeldWhileMoving { held: held.name.clone(), step: stated.name.clone() };
            found.push(finding::stop(fact).at_step(step));
        }
        if on_hook(site).is_some_and(|(taken, released)| (taken..=released).contains(&step)) {
            found.push(finding::stop(finding::Conductor::HeldUnderLoad { held: held.name.clone() }).at_step(step));
        }
    }
    found
}

/// Guards that go on or come off the pole from when it is taken on: beside live phases, by hands that something protects.
fn hands(site: &Site) -> Vec<Finding> {
    let Some((taken, _)) = on_hook(site) else { return Vec::new() };
    let on_pole = site.covers.iter().filter(|cover| matches!(cover.on, CoverOn::Pole { .. }));
    let bare = on_pole.filter(|cover| !cover.hands.as_deref().is_some_and(says_something));
    let found = bare.filter_map(|cover| {
        let changes = [cover.during.on_after_step, cover.during.off_before_step].into_iter().flatten();
        let step = changes.filter(|step| *step >= taken && *step < site.steps.len()).min()?;
        Some(finding::stop(Cover::HandsNotProtected { cover: cover.name.clone() }).at_step(step))
    });
    found.collect()
}
