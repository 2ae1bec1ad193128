//! What may touch by design, and from when on.

use crate::motion::BodyKind;
use crate::site::{Action, Site};

/// Whether two bodies of the lifting machine and its load may touch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Contact {
    Never,
    /// By design, and why.
    ByDesign(&'static str),
    /// From this step on guides lead the one along the other: then there is no gap to judge.
    LedFrom(usize),
}

/// Whether and when two bodies of the lifting machine and its load may touch; `guided_from` as [`guided_from`] tells.
pub(crate) fn contact(one: BodyKind, other: BodyKind, guided_from: Option<usize>) -> Contact {
    match (permitted(one, other), guided_from) {
        (Some(why), _) => Contact::ByDesign(why),
        (None, Some(step)) if guides_lead(one, other) => Contact::LedFrom(step),
        (None, _) => Contact::Never,
    }
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Is {
    Boom,
    Head,
    Line,
    Hook,
    Rigging,
    Tail,
    Pole,
    Item,
    Guides,
    Auger,
    Lift,
}

/// What touches by design, and why; every pair that is not here is checked.
const PERMITTED: &[(Is, Is, &str)] = &[
    (Is::Boom, Is::Head, "the head is the end of the last section"),
    (Is::Boom, Is::Tail, "both are fixed to the superstructure"),
    (Is::Head, Is::Tail, "both are fixed to the superstructure"),
    (Is::Boom, Is::Line, "the line leaves the head beside the last section; what hangs on it is checked"),
    (Is::Head, Is::Line, "the line runs over the head's sheave"),
    (Is::Head, Is::Hook, "two-blocking is checked by the step's own distance"),
    (Is::Line, Is::Hook, "the line is reeved to the block"),
    (Is::Line, Is::Rigging, "they end at the hook block"),
    (Is::Hook, Is::Rigging, "the rigging hangs on the hook"),
    (Is::Rigging, Is::Pole, "the choker"),
    (Is::Rigging, Is::Item, "what stands above the choke leans along what it hangs on"),
    (Is::Line, Is::Pole, "what stands above the choke leans along what it hangs on"),
    (Is::Line, Is::Item, "what stands above the choke leans along what it hangs on"),
    (Is::Hook, Is::Pole, "what stands above the choke leans along what it hangs on"),
    (Is::Hook, Is::Item, "what stands above the choke leans along what it hangs on"),
    (Is::Pole, Is::Item, "it is fixed to the pole"),
    (Is::Guides, Is::Boom, "the guides are fixed to the boom's tip"),
    (Is::Guides, Is::Head, "the guides are fixed to the boom's tip"),
    (Is::Guides, Is::Line, "the winch line runs between the guides"),
    (Is::Guides, Is::Hook, "the hook is drawn up between the guides"),
    (Is::Guides, Is::Rigging, "the sling is drawn up between the guides"),
    (Is::Guides, Is::Pole, "the guides hold the pole"),
    (Is::Guides, Is::Auger, "both are fixed to the boom"),
    (Is::Auger, Is::Boom, "the auger hangs from the boom, or is stowed along it"),
    (Is::Auger, Is::Head, "both are fixed to the boom"),
    (Is::Auger, Is::Tail, "the stowed auger reaches back over the superstructure"),
];

fn is(kind: BodyKind) -> Is {
    match kind {
        BodyKind::Boom => Is::Boom,
        BodyKind::BoomHead => Is::Head,
        BodyKind::HoistLine => Is::Line,
        BodyKind::HookBlock => Is::Hook,
        BodyKind::Rigging => Is::Rigging,
        BodyKind::Tail => Is::Tail,
        BodyKind::Pole => Is::Pole,
        BodyKind::PoleItem(_) => Is::Item,
        BodyKind::Guides => Is::Guides,
        BodyKind::Auger => Is::Auger,
        BodyKind::BucketTruck(_) => Is::Lift,
    }
}

/// Why two bodies of the lifting machine and its load may touch; `None` when they must not.
fn permitted(a: BodyKind, b: BodyKind) -> Option<&'static str> {
    let (a, b) = (is(a), is(b));
    if a == b {
        return Some("parts of one thing");
    }
    let found = PERMITTED.iter().find(|(one, other, _)| (*one, *other) == (a, b) || (*one, *other) == (b, a));
    found.map(|(_, _, why)| *why)
}

/// The guides bring a pole to the boom's tip and hold it there: between these two there is no gap to judge meanwhile.
fn guides_lead(one: BodyKind, other: BodyKind) -> bool {
    let leads = |hangs, fixed| matches!(is(hangs), Is::Pole | Is::Item) && matches!(is(fixed), Is::Boom | Is::Head);
    leads(one, other) || leads(other, one)
}

/// A derrick's pole is longer than its boom is high, so that from its upending on its top stands beside the boom's tip: on its
/// way into the guides, in them, and when they let it go and the boom leaves it. The step from which on that is so.
pub(crate) fn guided_from(site: &Site) -> Option<usize> {
    let into = site.steps.iter().position(|step| matches!(step.action, Action::IntoGuides { .. }))?;
    let before = site.steps.get(..into).unwrap_or(&[]);
    Some(before.iter().rposition(|step| step.action == Action::Upend).unwrap_or(into))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_touches_by_design_has_its_reason() {
        for (one, other, why) in PERMITTED {
            assert!(!why.is_empty() && one != other);
        }
    }

    #[test]
    fn a_load_must_not_touch_the_boom_unless_guides_lead_it_there() {
        let (boom, pole) = (BodyKind::Boom, BodyKind::Pole);
        assert_eq!([contact(boom, pole, None), contact(pole, boom, None)], [Contact::Never; 2]);
        assert_eq!([contact(boom, pole, Some(3)), contact(pole, boom, Some(3))], [Contact::LedFrom(3); 2]);
        let struck = [(BodyKind::HookBlock, boom), (BodyKind::PoleItem(0), boom), (pole, BodyKind::Tail)];
        assert!(struck.iter().all(|(one, other)| contact(*one, *other, None) == Contact::Never));
        assert_eq!(contact(pole, BodyKind::Tail, Some(3)), Contact::Never);
        assert!(matches!(contact(pole, BodyKind::Rigging, None), Contact::ByDesign(_)));
    }
}
