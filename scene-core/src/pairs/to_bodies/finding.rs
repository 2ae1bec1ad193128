//! The finding about two bodies.

use super::Demand;
use crate::finding::{Finding, Grade};
use crate::motion::BodyKind;
use crate::outcome::GapRow;
use crate::quantity::show::{Round, say_length};
use crate::rules::PairState;

pub(super) fn finding(row: &GapRow, demand: &Demand) -> Option<Finding> {
    let GapRow { body, other, low_m, allowance_m, required_m, .. } = row;
    let (gap, allowance) = (say_length(low_m.max(0.0), Round::Down), say_length(*allowance_m, Round::Up));
    let missing = say_length(required_m + allowance_m - low_m, Round::Up);
    let within = format!(
        "{body} may strike {other}: the gap of {gap} is no more than the allowances of {allowance}; {missing} is missing."
    );
    let finding = match row.state {
        PairState::Apart | PairState::Covered => return None,
        PairState::Undecided => Finding::stop(
            "body_undecided",
            format!("The gap of {body} to {other} could not be proven either way: {gap} at least."),
        ),
        PairState::Touch if *low_m <= 0.0 => Finding::stop(
            "body_touch",
            format!("{body} strikes {other} as the motion is stated, allowances of {allowance} not counted."),
        ),
        PairState::Touch => Finding::stop("body_touch", within),
        PairState::Tight => Finding::new(Grade::Caution, "body_touch", within),
        PairState::Short => Finding::stop(
            "body_short",
            format!(
                "{body} may come to {gap} from {other}; less allowances of {allowance} that is {missing} short of the {} required.",
                say_length(*required_m, Round::Up)
            ),
        ),
    };
    let mend =
        if row.state == PairState::Undecided { "Give the motion more room, or split the step." } else { demand.mend };
    let mut finding = finding.measured(*low_m, required_m + allowance_m, "m").rule(row.rule.clone()).mend(mend);
    finding.step = row.step;
    finding.time_s = row.time_s;
    Some(finding)
}

/// What keeps a load away from something of the machine.
pub(super) fn mend(fixed: BodyKind) -> &'static str {
    match fixed {
        BodyKind::Tail => "Keep the load farther out, or swing it round the other side.",
        _ => {
            "Boom down or out so that the load hangs farther from the boom, leave more hoist line out, or choke so that less of the pole stands beside the boom."
        }
    }
}
