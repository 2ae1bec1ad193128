//! Which distance a pair must keep, by which rule, and what excuses it.

pub(crate) mod contact;
pub(crate) mod kind;

use super::Inputs;
use crate::machine::Role;
use crate::motion::BodyMotion;
use crate::rules::RuleError;

/// The distance that a body must keep from a wire once the allowances are taken off, and by which rule.
pub(super) struct Demand {
    pub distance_m: f64,
    pub rule: String,
}

impl Demand {
    /// From release on the pole is a structure.
    pub fn of_structure() -> Self {
        Self { distance_m: 0.0, rule: "from release on the pole is a structure: no contact".to_owned() }
    }

    /// The wire's own distance, and the distance between the wire and every second potential that the body is `near`: not
    /// proven to keep that distance from.
    pub fn to_wire(
        inputs: &Inputs,
        kind: Role,
        wire: usize,
        near: impl Fn(usize, f64) -> bool,
    ) -> Result<Self, RuleError> {
        let own = inputs.distances.to_ground(kind, wire)?;
        let is_energized = own.exposure.is_some() || own.distance_m > 0.0;
        let (mut most, mut bridged) = (own, None);
        for (second, found) in inputs.site.wires.iter().enumerate() {
            let Some(both) = inputs.distances.between(kind, wire, second)? else { continue };
            if both.distance_m > most.distance_m && is_energized && near(second, both.distance_m) {
                (most, bridged) = (both, Some(&found.name));
            }
        }
        let rule = match bridged {
            Some(name) => format!("{} (could bridge to {name})", most.rule),
            None => most.rule.clone(),
        };
        Ok(Self { distance_m: most.distance_m, rule })
    }

    /// While the worker works on a wire. That wire may need no distance; a body between it and another wire bridges the two.
    pub fn at_work(&self, inputs: &Inputs, body: &BodyMotion, wire: usize, works_on: Option<usize>) -> Self {
        if let Some(excuse) = kind::excuse(inputs.site, body, wire, works_on) {
            return Self { distance_m: 0.0, rule: excuse.to_owned() };
        }
        let beside = works_on.filter(|worked| *worked != wire);
        match beside.map(|worked| inputs.distances.between(body.role, wire, worked)) {
            Some(Ok(Some(beside))) if beside.distance_m > self.distance_m => Self {
                distance_m: beside.distance_m,
                rule: format!("{} (beside the wire that is worked on)", beside.rule),
            },
            // No gap keeps a distance that cannot be looked up.
            Some(Err(error)) => Self { distance_m: f64::INFINITY, rule: error.to_string() },
            _ => Self { distance_m: self.distance_m, rule: self.rule.clone() },
        }
    }
}
