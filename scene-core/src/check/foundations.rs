//! What a report rests on without a look at it, and what it leaves out.

use super::{Prepared, carriers};
use crate::motion;
use crate::premise::{Assumed, NotChecked};

/// What no report must be silent about: everything of any job that this program does not look at.
const NEVER_CHECKED: [NotChecked; 12] = [
    NotChecked::BodiesAmongThemselves,
    NotChecked::GroundBetweenSpots,
    NotChecked::LyingPole,
    NotChecked::Setting,
    NotChecked::People,
    NotChecked::LayingDownElsewhere,
    NotChecked::CoverOrder,
    NotChecked::LineWork,
    NotChecked::LoadSpeed,
    NotChecked::BoomFromRest,
    NotChecked::WindOnPoleCovers,
    NotChecked::Condition,
];

/// The same of a digger derrick.
const NEVER_CHECKED_OF_DERRICK: [NotChecked; 4] =
    [NotChecked::DerrickPoleAgainstBoom, NotChecked::DiggingLoads, NotChecked::GuideStrength, NotChecked::AugerSwing];

pub(super) fn assumed(prepared: &Prepared) -> Vec<Assumed> {
    let site = prepared.site;
    let mut assumed: Vec<Assumed> = prepared.plan.as_ref().map_or(Vec::new(), |plan| plan.assumed.clone());
    assumed.extend(prepared.wires.assumed.iter().cloned());
    assumed.push(Assumed::CoverThickness);
    if prepared.plan.as_ref().is_some_and(|plan| plan.pieces.iter().any(|piece| piece.load.on_hook())) {
        assumed.push(Assumed::WayBackAsItRose);
    }
    if motion::lets_standing_pole_go(site).is_some() {
        assumed.push(Assumed::StandsWhenLetGo);
    }
    assumed.push(Assumed::NominalVoltages);
    assumed.push(Assumed::LoadSwingGrowth { ratio: site.allowances.load_swing_growth.value });
    assumed.extend(site.declared_absent.iter().map(|what| Assumed::DeclaredAbsent { what: what.clone() }));
    let floats = site.crane.outriggers.as_ref();
    assumed.extend(floats.map(|outriggers| Assumed::RigidCrane { source: outriggers.source.clone() }));
    let tip = site.crane.derrick.as_ref().map(|derrick| match derrick.insulated_tip_m {
        Some(length_m) => Assumed::InsulatedTip { length_m },
        None => Assumed::NoInsulatedTip,
    });
    assumed.extend(tip);
    assumed
}

pub(super) fn not_checked(prepared: &Prepared) -> Vec<NotChecked> {
    let site = prepared.site;
    let mut found = NEVER_CHECKED.to_vec();
    found.push(match &site.crane.outriggers {
        None => NotChecked::OutriggersAllOfIt,
        Some(_) => NotChecked::OutriggersTheRest,
    });
    if !site.held_out.is_empty() {
        found.push(NotChecked::Holders);
    }
    let machines = carriers::not_stated(site);
    if !machines.is_empty() {
        found.push(NotChecked::Carriers { machines });
    }
    if site.crane.derrick.is_some() {
        found.extend(NEVER_CHECKED_OF_DERRICK);
    }
    match (site.lifts.is_empty(), site.lifts_absent) {
        (false, _) => found.push(NotChecked::BucketTruckTheRest),
        (true, false) => found.push(NotChecked::BucketTruckAllOfIt),
        (true, true) => {}
    }
    found.extend(prepared.wires.not_checked.iter().cloned());
    found.push(match site.terrain {
        Some(_) => NotChecked::GroundBeyondSpots,
        None => NotChecked::LieOfGround,
    });
    if site.neighbours.as_ref().is_none_or(|all| !all.structures_stated) {
        found.push(NotChecked::WhetherNeighborsStand);
    }
    if site.neighbours.as_ref().is_none_or(|all| all.people.is_empty()) {
        found.push(NotChecked::WherePeopleStand);
    }
    let stopped_at = prepared.plan.as_ref().and_then(|plan| plan.stopped_at);
    found.extend(stopped_at.map(|step| NotChecked::StepsFrom { step }));
    let lifts = prepared.plan.iter().flat_map(|plan| plan.lifts_stopped_at.iter().enumerate());
    found.extend(
        lifts.filter_map(|(lift, step)| {
            Some(NotChecked::LiftStepsFrom { lift: site.lift_called(lift), step: (*step)? })
        }),
    );
    found
}
