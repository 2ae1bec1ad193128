//! Which bodies touch by design, when, and why. Every contact that is not here is a strike.

use super::body::BodyId;

/// When a contact is permitted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    Always,
    /// From the upending on that brings the pole into a derrick's guides, until the boom has left the pole that it let go.
    Guided,
    /// While the pole is choked, and while the hook goes straight to the choke or away from it.
    Choked,
    /// As `Choked`, and at any instant while the pole lies on the ground.
    Slung,
}

/// A contact by design.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Permitted {
    pub when: When,
    pub why: &'static str,
}

/// What a contact depends on: items of the pole count as one, and bodies of one lift.
#[derive(Clone, Copy, PartialEq)]
enum Class {
    Boom,
    Head,
    Line,
    Hook,
    Rigging,
    Counterweight,
    Pole,
    Item,
    Guides,
    Auger,
    /// Of the machine that lifts.
    Carrier,
    /// A holding truck with its arms.
    Holding(usize),
    /// An arm on a structure.
    Arm(usize),
    Lift(usize),
}

fn class(part: BodyId) -> Class {
    match part {
        BodyId::Boom => Class::Boom,
        BodyId::BoomHead => Class::Head,
        BodyId::HoistLine => Class::Line,
        BodyId::HookBlock => Class::Hook,
        BodyId::Rigging => Class::Rigging,
        BodyId::Counterweight => Class::Counterweight,
        BodyId::Pole => Class::Pole,
        BodyId::PoleItem(_) => Class::Item,
        BodyId::Guides => Class::Guides,
        BodyId::Auger => Class::Auger,
        BodyId::OfLift { lift, .. } | BodyId::OfCarrier { lift: Some(lift), .. } => Class::Lift(lift),
        BodyId::OfCarrier { lift: None, .. } => Class::Carrier,
        BodyId::HoldingTruck(truck) | BodyId::HoldingArm { truck: Some(truck), .. } => Class::Holding(truck),
        BodyId::HoldingArm { held_out, truck: None } => Class::Arm(held_out),
    }
}

const PERMITTED: &[(Class, Class, When, &str)] = {
    use Class::*;
    use When::*;
    &[
        (Boom, Head, Always, "the head is the end of the last section"),
        (Boom, Counterweight, Always, "both are fixed to the superstructure"),
        (Carrier, Counterweight, Always, "the superstructure turns on the carrier"),
        (Head, Counterweight, Always, "both are fixed to the superstructure"),
        (Boom, Line, Always, "the line leaves the head beside the last section; what hangs on it is checked"),
        (Head, Line, Always, "the line runs over the head's sheave"),
        (Head, Hook, Always, "two-blocking is checked by the step's own distance"),
        (Line, Hook, Always, "the line is reeved to the block"),
        (Line, Rigging, Always, "they end at the hook block"),
        (Hook, Rigging, Always, "the rigging hangs on the hook"),
        (Rigging, Pole, Slung, "the choker; somebody leads the slack sling to the pole on the ground"),
        (Rigging, Item, Slung, "what stands above the choke leans along what it hangs on"),
        (Line, Pole, Choked, "what stands above the choke leans along what it hangs on"),
        (Line, Item, Choked, "what stands above the choke leans along what it hangs on"),
        (Hook, Pole, Choked, "what stands above the choke leans along what it hangs on"),
        (Hook, Item, Choked, "what stands above the choke leans along what it hangs on"),
        (Pole, Item, Always, "it is fixed to the pole"),
        (Guides, Boom, Always, "the guides are fixed to the boom's tip"),
        (Guides, Head, Always, "the guides are fixed to the boom's tip"),
        (Guides, Line, Always, "the winch line runs between the guides"),
        (Guides, Hook, Always, "the hook is drawn up between the guides"),
        (Guides, Rigging, Always, "the sling is drawn up between the guides"),
        (Guides, Pole, Guided, "the guides hold the pole"),
        (Guides, Auger, Always, "both are fixed to the boom"),
        (Auger, Boom, Always, "the auger hangs from the boom, or is stowed along it"),
        (Auger, Head, Always, "both are fixed to the boom"),
        (Auger, Counterweight, Always, "the stowed auger reaches back over the superstructure"),
        (Pole, Boom, Guided, "men and guides lead the pole along the boom's tip"),
        (Pole, Head, Guided, "men and guides lead the pole along the boom's tip"),
        (Item, Boom, Guided, "men and guides lead the pole along the boom's tip"),
        (Item, Head, Guided, "men and guides lead the pole along the boom's tip"),
    ]
};

/// The contact of two bodies that is permitted; `None` when they must not touch.
pub fn between(a: BodyId, b: BodyId) -> Option<Permitted> {
    let (a, b) = (class(a), class(b));
    if a == b {
        return Some(Permitted { when: When::Always, why: "parts of one thing" });
    }
    let found = PERMITTED.iter().find(|(one, other, ..)| (*one, *other) == (a, b) || (*one, *other) == (b, a));
    found.map(|&(_, _, when, why)| Permitted { when, why })
}

/// Why a body may touch a person.
pub fn with_person(part: BodyId) -> Option<&'static str> {
    let stands = part.is_of_carrier() || matches!(part, BodyId::HoldingTruck(_));
    stands.then_some("it stands still, and people walk about it")
}

/// Why a body may touch the ground at any instant.
pub fn with_ground(part: BodyId) -> Option<&'static str> {
    match part {
        BodyId::Pole | BodyId::PoleItem(_) => Some("it lies on the ground and is set into it"),
        BodyId::Auger => Some("it digs"),
        BodyId::OfCarrier { .. } | BodyId::HoldingTruck(_) => Some("it stands on the ground"),
        BodyId::Rigging => Some("it reaches down to the choke of the pole that lies"),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_lifts_may_not_touch_and_the_bodies_of_one_may() {
        let of = |lift, body| BodyId::OfLift { lift, body };
        assert!(between(of(0, 1), of(0, 5)).is_some());
        assert_eq!(between(of(0, 1), of(1, 1)), None);
        assert_eq!(between(of(1, 3), BodyId::HookBlock), None);
    }

    #[test]
    fn every_permitted_contact_has_its_reason_and_stands_once() {
        for (i, (one, other, _, why)) in PERMITTED.iter().enumerate() {
            assert!(!why.is_empty() && one != other);
            let again = PERMITTED.iter().skip(i + 1);
            assert!(!again.into_iter().any(|(a, b, ..)| (a, b) == (one, other) || (b, a) == (one, other)));
        }
        assert_eq!(between(BodyId::HookBlock, BodyId::Boom), None);
    }

    #[test]
    fn what_the_pole_hangs_on_may_touch_it_only_while_it_is_choked() {
        for hangs in [BodyId::HookBlock, BodyId::HoistLine] {
            for of_pole in [BodyId::Pole, BodyId::PoleItem(0)] {
                assert_eq!(between(of_pole, hangs).map(|contact| contact.when), Some(When::Choked));
            }
        }
        assert_eq!(between(BodyId::Rigging, BodyId::Pole).map(|contact| contact.when), Some(When::Slung));
    }

    #[test]
    fn a_pole_may_touch_the_boom_only_while_guides_lead_it() {
        assert_eq!(between(BodyId::Boom, BodyId::Pole).map(|contact| contact.when), Some(When::Guided));
        assert_eq!(between(BodyId::PoleItem(2), BodyId::BoomHead).map(|contact| contact.when), Some(When::Guided));
        assert_eq!(between(BodyId::Guides, BodyId::Pole).map(|contact| contact.when), Some(When::Guided));
        assert_eq!(between(BodyId::Counterweight, BodyId::Pole), None);
    }
}
