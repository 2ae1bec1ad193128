//! What the rules call a body, which bodies are one conductor, and which need no distance from the wire that is worked on.

use crate::bucket::LiftPart;
use crate::cover;
use crate::crane::chain::Seat;
use crate::motion;
use crate::rules::{self, BodyKind};
use crate::sequence::Plan;
use crate::site::bucket::Insulation;
use crate::site::{Method, RiggingMaterial, Site, WireKind};

/// What the rules call a moving body.
pub(crate) fn kind(site: &Site, body: motion::BodyKind) -> BodyKind {
    use motion::BodyKind as Moving;
    match body {
        Moving::Boom
        | Moving::BoomHead
        | Moving::HoistLine
        | Moving::HookBlock
        | Moving::Tail
        | Moving::Guides
        | Moving::Auger => BodyKind::MachineConductive,
        Moving::Rigging => match site.rigging.material {
            RiggingMaterial::WireRope => BodyKind::MachineConductive,
            RiggingMaterial::NonConductive => BodyKind::NonConductiveRigging,
        },
        Moving::Pole | Moving::PoleItem(_) => BodyKind::Load,
        Moving::BucketTruck(part) => kind_of_lift(site, part),
    }
}

/// Beyond a section that is rated for every circuit of the site a lift is insulated; nothing else of it is.
pub(crate) fn kind_of_lift(site: &Site, part: LiftPart) -> BodyKind {
    match (is_insulated(site), part) {
        (true, LiftPart::WorkerReach) => BodyKind::Worker,
        (true, part) if part.beyond_insulation() => BodyKind::InsulatedLift,
        _ => BodyKind::LiftConductive,
    }
}

/// Whether the lift's insulation is rated for every circuit of the site.
pub(crate) fn is_insulated(site: &Site) -> bool {
    match site.bucket_truck.as_ref().map(|truck| &truck.insulation) {
        Some(Insulation::Section { from_tip_m, rated_v, .. }) => {
            let within = |voltage_v: f64| voltage_v <= *rated_v;
            from_tip_m.width() > 0.0 && site.circuits.iter().all(|circuit| within(circuit.voltage_v))
        }
        _ => false,
    }
}

/// Bodies of the same conductor may bridge two potentials together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Conductor {
    /// The crane with its wire rope; the pole too where wire rope or steel guides hold it anywhere on the path.
    Crane,
    /// The pole with what is on it.
    Load,
    Rigging,
    /// What of a lift is at ground.
    LiftAtGround,
    /// What of a lift is beyond its insulation.
    LiftInsulated,
}

/// The conductor that a body of this kind belongs to.
pub(crate) fn conductor(site: &Site, plan: &Plan, kind: BodyKind) -> Conductor {
    let wire_rope = site.rigging.material == RiggingMaterial::WireRope;
    let guided = || plan.pieces.iter().any(|piece| matches!(piece.seat, Seat::InGuides(_)));
    match kind {
        BodyKind::Load if !wire_rope && !guided() => Conductor::Load,
        BodyKind::NonConductiveRigging => Conductor::Rigging,
        BodyKind::LiftConductive => Conductor::LiftAtGround,
        BodyKind::InsulatedLift | BodyKind::Worker => Conductor::LiftInsulated,
        BodyKind::MachineConductive | BodyKind::Load => Conductor::Crane,
    }
}

/// By which rule a body of this kind needs no distance from a wire: the worker works on that wire.
pub(crate) fn excuse(site: &Site, kind: BodyKind, wire: usize, works_on: Option<usize>) -> Option<&'static str> {
    let wire = works_on.filter(|worked| *worked == wire)?;
    let truck = site.bucket_truck.as_ref()?;
    let by_hand = kind == BodyKind::Worker && truck.method == Method::Gloves;
    if by_hand && energized_v(site, wire).is_some_and(|voltage_v| cover::glove_class(voltage_v).is_none()) {
        return None;
    }
    rules::works_on(kind, truck.method)
}

/// The voltage of the wire's circuit; `None` for communication.
pub(crate) fn energized_v(site: &Site, wire: usize) -> Option<f64> {
    match site.wires.get(wire)?.kind {
        // A circuit that is not there has no voltage that gloves could be chosen for.
        WireKind::Phase { circuit } | WireKind::Neutral { circuit } => {
            Some(site.circuits.get(circuit).map_or(f64::NAN, |circuit| circuit.voltage_v))
        }
        WireKind::Communication => None,
    }
}
