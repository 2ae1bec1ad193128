//! Machines that do not lift, as bodies that the lifting machine and its load must not strike.

use super::Inputs;
use super::other_body::OtherBody;
use crate::finding::KeepOff;
use crate::motion::BodyKind;
use crate::outcome::OtherKind;

/// Every body of the bucket truck.
pub(crate) fn other_machines(inputs: &Inputs) -> Vec<OtherBody> {
    let (Some(set), true) = (inputs.bodies.windiest(), inputs.site.bucket_truck.is_some()) else {
        return Vec::new();
    };
    // Wind leans nothing of a truck.
    let bodies = set.motion.bodies.iter().filter(|body| matches!(body.kind, BodyKind::BucketTruck(_)));
    bodies
        .map(|body| OtherBody {
            name: body.name.clone(),
            kind: OtherKind::Body,
            machine: Some("bucket truck"),
            body: Some(body.kind),
            parts: body.parts.clone(),
            required_m: 0.0,
            rule: "never in the pick path: nothing of the crane or its load may strike a bucket truck".to_owned(),
            keep_off: KeepOff::BucketTruck,
            may_touch: |_| None,
        })
        .collect()
}
