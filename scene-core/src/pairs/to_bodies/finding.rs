//! The finding about two bodies.

use super::Demand;
use crate::finding::{self, Bodies, BodyGap, Finding, KeepOff, Unit};
use crate::machine::BodyId;
use crate::outcome::GapRow;
use crate::rules::PairState;

pub(super) fn finding(row: &GapRow, demand: &Demand) -> Option<Finding> {
    let gap = || {
        Box::new(BodyGap {
            body: row.body.clone(),
            other: row.other.clone(),
            low_m: row.low_m,
            allowance_m: row.allowance_m,
            required_m: row.required_m,
            keep_off: demand.keep_off,
            rule: row.rule.clone(),
        })
    };
    let finding = match row.state {
        PairState::Apart | PairState::Covered => return None,
        PairState::Undecided => finding::stop(Bodies::Undecided { gap: gap() }),
        PairState::Touch if row.low_m <= 0.0 => finding::stop(Bodies::Strikes { gap: gap() }),
        PairState::Touch => finding::stop(Bodies::MayStrike { gap: gap() }),
        PairState::Tight => finding::caution(Bodies::MayStrike { gap: gap() }),
        PairState::Short => finding::stop(Bodies::Short { gap: gap() }),
    };
    let finding = finding.measured(row.low_m, row.required_m + row.allowance_m, Unit::Meter);
    Some(Finding { step: row.step, time_s: row.time_s, place: row.point_on_body, ..finding })
}

/// What keeps a load away from something of the machine.
pub(super) fn keep_off(fixed: BodyId) -> KeepOff {
    match fixed {
        BodyId::Counterweight => KeepOff::Counterweight,
        BodyId::OfCarrier { .. } => KeepOff::Carrier,
        BodyId::HoldingTruck(_) | BodyId::HoldingArm { .. } => KeepOff::Holder,
        _ => KeepOff::Boom,
    }
}
