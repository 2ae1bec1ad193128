//! The distances of one site, each looked up once: a check asks for them pair by pair.

use super::{Exposure, Required, RuleError, bridging, required};
use crate::machine::Role;
use crate::site::{Site, WireKind};
use std::sync::OnceLock;

type Own = OnceLock<Result<Required, RuleError>>;
type Between = OnceLock<Result<Option<Required>, RuleError>>;

/// [`required`] and [`bridging`] of a site.
#[derive(Debug)]
pub struct Distances<'a> {
    site: &'a Site,
    /// For each wire the first one that is the same to the rules.
    like: Vec<usize>,
    /// By kind of body and wire.
    own: Vec<Own>,
    /// By kind of body and both wires.
    between: Vec<Between>,
}

const KINDS: usize = 6;

fn number(body: Role) -> usize {
    match body {
        Role::MachineConductive => 0,
        Role::NonConductiveRigging => 1,
        Role::Load => 2,
        Role::LiftConductive => 3,
        Role::InsulatedLift => 4,
        Role::Worker => 5,
    }
}

impl<'a> Distances<'a> {
    pub fn of(site: &'a Site) -> Self {
        // A circuit that is not there makes an error that names the wire.
        let is_whole = |kind: WireKind| match kind {
            WireKind::Phase { circuit } | WireKind::Neutral { circuit } => circuit < site.circuits.len(),
            WireKind::Communication => true,
        };
        let first_like = |(wire, found): (usize, &crate::site::Wire)| {
            let alike = site.wires.iter().position(|other| other.kind == found.kind);
            if is_whole(found.kind) { alike.unwrap_or(wire) } else { wire }
        };
        let wires = site.wires.len();
        Self {
            site,
            like: site.wires.iter().enumerate().map(first_like).collect(),
            own: std::iter::repeat_with(OnceLock::new).take(KINDS * wires).collect(),
            between: std::iter::repeat_with(OnceLock::new).take(KINDS * wires * wires).collect(),
        }
    }

    fn slot(&self, body: Role, wire: usize) -> Option<usize> {
        self.like.get(wire).map(|like| number(body) * self.like.len() + like)
    }

    /// As [`required`], where the body is proven apart from every second potential.
    pub fn to_ground(&self, body: Role, wire: usize) -> Result<&Required, RuleError> {
        let slot = self.slot(body, wire).and_then(|slot| self.own.get(slot)).ok_or(RuleError::UnknownWire { wire })?;
        let found = slot.get_or_init(|| required(self.site, body, wire, Exposure::PhaseToGround));
        found.as_ref().map_err(Clone::clone)
    }

    /// As [`bridging`].
    pub fn between(&self, body: Role, wire: usize, second: usize) -> Result<Option<&Required>, RuleError> {
        let like = self.like.get(second).ok_or(RuleError::UnknownWire { wire: second })?;
        let slot = self.slot(body, wire).and_then(|slot| self.between.get(slot * self.like.len() + like));
        let slot = slot.ok_or(RuleError::UnknownWire { wire })?;
        if wire == second {
            return Ok(None);
        }
        let found = slot.get_or_init(|| bridging(self.site, body, wire, second));
        found.as_ref().map(Option::as_ref).map_err(Clone::clone)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::line::with_second_circuit;

    #[test]
    fn every_distance_is_what_the_rules_say_of_that_very_wire() {
        let mut site = with_second_circuit(12_470.0, 34_500.0);
        let bodies = [
            Role::MachineConductive,
            Role::NonConductiveRigging,
            Role::Load,
            Role::LiftConductive,
            Role::InsulatedLift,
            Role::Worker,
        ];
        for circuits in [2, 1] {
            site.circuits.truncate(circuits);
            let distances = Distances::of(&site);
            // A wire more than there are, for its error.
            for wire in 0..=site.wires.len() {
                for body in bodies {
                    let own = required(&site, body, wire, Exposure::PhaseToGround);
                    assert_eq!(distances.to_ground(body, wire).cloned(), own);
                    for second in (0..site.wires.len()).filter(|second| *second != wire) {
                        let both = bridging(&site, body, wire, second).map_err(|error| error.to_string());
                        let found = distances.between(body, wire, second).map(Option::<&Required>::cloned);
                        assert_eq!(found.map_err(|error| error.to_string()), both, "{body:?} {wire} {second}");
                    }
                }
            }
        }
    }
}
