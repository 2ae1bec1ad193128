//! Machines that do not lift, as bodies that the lifting machine and its load must not strike.

use super::Inputs;
use super::other_body::OtherBody;
use crate::finding::KeepOff;
use crate::outcome::OtherKind;

/// Every body of every aerial lift.
pub(crate) fn other_machines(inputs: &Inputs) -> Vec<OtherBody> {
    // Wind leans nothing of a lift.
    let Some(set) = inputs.bodies.windiest() else { return Vec::new() };
    let bodies = set.motion.bodies.iter().filter(|body| body.id.lift().is_some());
    bodies
        .map(|body| OtherBody {
            name: body.name.clone(),
            kind: OtherKind::Body,
            body: Some(body.id),
            parts: body.parts.clone(),
            required_m: 0.0,
            rule: "never in the pick path: nothing of the crane or its load may strike a bucket truck".to_owned(),
            keep_off: KeepOff::BucketTruck,
            may_touch: |_| None,
            by_hand: false,
            arms: Vec::new(),
        })
        .collect()
}
