//! The finding about a body between two potentials.

use super::super::{down, up};
use super::Bridge;
use crate::finding::Finding;
use crate::rules::BodyKind;

pub(in crate::pairs) fn finding(bridge: &Bridge) -> Finding {
    let [body, second_body] = &bridge.bodies;
    let [one, other] = &bridge.wire_names;
    let weather = &bridge.weather;
    let what = if bridge.is_alone() {
        format!("{body} may bridge {one} and {other} ({weather}): its two gaps")
    } else {
        format!(
            "{body} and {second_body} conduct to one another and may bridge {one} and {other} ({weather}): the gaps of {body} to {one} and of {second_body} to {other}"
        )
    };
    let message = format!(
        "{what}, less allowances, add up to {}; the distance between the two is {}.",
        down(bridge.sum_m),
        up(bridge.required_m)
    );
    let finding = if bridge.excused {
        let pole = if bridge.kind == BodyKind::Load { " and of the pole" } else { "" };
        let rests = format!(" It rests on the covers of {}{pole}.", bridge.covered.join(", "));
        Finding::caution("bridges_two_potentials", message + &rests)
    } else {
        Finding::stop("bridges_two_potentials", message)
    };
    let mend = match bridge.kind {
        _ if !bridge.is_alone() => format!("Keep {body} farther from {one}, or {second_body} from {other}."),
        BodyKind::Load => format!("Hold {one} or {other} farther out, or cover both and the pole."),
        BodyKind::LiftConductive | BodyKind::InsulatedLift | BodyKind::Worker => {
            format!("Cover {one} or {other} from a place that keeps away from both, or bring the bucket elsewhere.")
        }
        _ => format!("Keep it farther from {one} and {other}: move the crane, boom up, or choke higher."),
    };
    finding.measured(bridge.sum_m, bridge.required_m, "m").rule(bridge.rule.clone()).mend(mend)
}
