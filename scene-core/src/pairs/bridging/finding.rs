//! The finding about a body between two potentials.

use super::super::to_wires::body_class;
use super::Bridge;
use crate::finding::{self, Approach, Finding, Unit};

pub(in crate::pairs) fn finding(bridge: &Bridge) -> Finding {
    let [body, second] = &bridge.bodies;
    let fact = Approach::Bridges {
        bridge: Box::new(finding::Bridge {
            body: body.clone(),
            second_body: (!bridge.is_alone()).then(|| second.clone()),
            class: body_class(bridge.kind),
            wires: bridge.wire_names.clone(),
            weather: bridge.weather.clone(),
            sum_m: bridge.sum_m,
            required_m: bridge.required_m,
            rests_on: bridge.excused.then(|| bridge.covered.clone()),
            rule: bridge.rule.clone(),
        }),
    };
    let finding = if bridge.excused { finding::caution(fact) } else { finding::stop(fact) };
    finding.measured(bridge.sum_m, bridge.required_m, Unit::Meter)
}
