//! Which bodies are one conductor, and which need no distance from the wire that is worked on.

use crate::cover;
use crate::machine::crane::chain::Seat;
use crate::machine::{BodyId, Method, Role};
use crate::motion::BodyMotion;
use crate::rules;
use crate::sequence::Plan;
use crate::site::{RiggingMaterial, Site, WireKind};

/// Bodies of the same conductor may bridge two potentials together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Conductor {
    /// The crane with its wire rope; the pole too where wire rope or steel guides hold it anywhere on the path.
    Crane,
    /// The pole with what is on it.
    Load,
    Rigging,
    /// What of the lift with this index is at ground.
    LiftAtGround(usize),
    /// What of the lift with this index is beyond its insulation.
    LiftInsulated(usize),
    /// A holding truck.
    Holding(usize),
}

/// The conductor that a body belongs to.
pub(crate) fn conductor(site: &Site, plan: &Plan, body: &BodyMotion) -> Conductor {
    let wire_rope = site.rigging.material == RiggingMaterial::WireRope;
    let guided = || plan.pieces.iter().any(|piece| matches!(piece.seat, Seat::InGuides(_)));
    if let BodyId::HoldingTruck(truck) = body.id {
        return Conductor::Holding(truck);
    }
    let lift = body.id.lift().unwrap_or(0);
    match body.role {
        Role::Load if !wire_rope && !guided() => Conductor::Load,
        Role::NonConductiveRigging => Conductor::Rigging,
        Role::LiftConductive => Conductor::LiftAtGround(lift),
        Role::InsulatedLift | Role::Worker => Conductor::LiftInsulated(lift),
        Role::MachineConductive | Role::Load => Conductor::Crane,
    }
}

/// By which rule a body needs no distance from a wire: that wire is worked on from the body's own lift.
pub(crate) fn excuse(site: &Site, body: &BodyMotion, wire: usize, works_on: Option<usize>) -> Option<&'static str> {
    let wire = works_on.filter(|worked| *worked == wire)?;
    excuse_at_work(site, body.id.lift()?, body.role, wire)
}

/// By which rule a body of a lift in this role needs no distance from the wire that is worked on from there.
pub(crate) fn excuse_at_work(site: &Site, lift: usize, role: Role, wire: usize) -> Option<&'static str> {
    let method = site.lifts.get(lift)?.facts().method;
    let by_hand = role == Role::Worker && method == Method::Gloves;
    if by_hand && energized_v(site, wire).is_some_and(|voltage_v| cover::glove_class(voltage_v).is_none()) {
        return None;
    }
    rules::works_on(role, method)
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
