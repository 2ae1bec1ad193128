//! Faults of the rigging.

use super::error::RiggingError;
use super::hang::{Hang, hang, hold_force_n};
use super::sling::{CHOKE_ABOVE_BALANCE_M, CHOKE_BAND_M, LARGEST_REDUCED_CHOKE, choke_factor, sling_capacity_kg};
use crate::bracket::Bracket;
use crate::finding::{self, Finding, Unit};
use crate::pole::Mass;
use crate::site::{Cover, CoverOn, Measurement, Pole, Rigging, RiggingMaterial, Shell};

/// Everything wrong with the rigging. A pole that cannot hang as planned gives the stop of its [`RiggingError`].
pub fn findings(pole: &Pole, covers: &[Cover], mass: &Mass, rigging: &Rigging) -> Vec<Finding> {
    let choker_m = rigging.choker_from_butt_m;
    let mut found = Vec::new();
    match hang(pole, mass, rigging) {
        Err(error) => found.push(error.finding()),
        Ok(hang) => {
            found.extend(near_balance(&hang, mass, choker_m));
            found.extend(tag_line(&hang, mass, rigging));
        }
    }
    for joint_m in
        pole.unlocked_joints_m.iter().filter(|joint_m| choker_m + CHOKE_BAND_M >= **joint_m || joint_m.is_nan())
    {
        let fact = finding::Rigging::ChokerAboveJoint { choker_m, joint_m: *joint_m };
        found.push(finding::stop(fact).measured(choker_m, *joint_m, Unit::Meter));
    }
    found.extend(on_something(pole, covers, choker_m));
    if matches!(pole.shell, Shell::SteelTube { .. }) && !rigging.stop_above_choke {
        found.push(finding::caution(finding::Rigging::NoStopAboveChoke));
    }
    found.extend(sling(mass, rigging));
    found
}

/// The pole hangs far from plumb when the choke is close to the balance point.
fn near_balance(hang: &Hang, mass: &Mass, choker_m: f64) -> Option<Finding> {
    (hang.lever_m.low() < CHOKE_ABOVE_BALANCE_M).then(|| {
        let balance_m = mass.balance_from_butt_m.high();
        let (tilt, choke_at_m) = (hang.tilt_rad.high(), balance_m + CHOKE_ABOVE_BALANCE_M);
        let fact = finding::Rigging::ChokerNearBalance { choker_m, balance_m, tilt, choke_at_m };
        finding::caution(fact).measured(hang.lever_m.low(), CHOKE_ABOVE_BALANCE_M, Unit::Meter)
    })
}

/// A force at the butt brings the pole plumb over its hole. The crew must be able to apply it.
fn tag_line(hang: &Hang, mass: &Mass, rigging: &Rigging) -> Option<Finding> {
    let need_n = hold_force_n(hang, mass, rigging.choker_from_butt_m, 0.0, 0.0)?.high();
    match rigging.tag_line_hold_n {
        None => Some(finding::stop(finding::Rigging::TagLineNotStated { need_n })),
        Some(hold_n) if hold_n < need_n || hold_n.is_nan() => {
            let fact = finding::Rigging::TagLineShort { need_n, hold_n };
            Some(finding::stop(fact).measured(need_n, hold_n, Unit::Newton))
        }
        Some(_) => None,
    }
}

/// The choke bears on a cover or on hardware.
fn on_something(pole: &Pole, covers: &[Cover], choker_m: f64) -> Vec<Finding> {
    let band = Bracket::exactly(choker_m).widened(CHOKE_BAND_M);
    let on_cover = covers.iter().filter_map(|cover| match cover.on {
        CoverOn::Pole { from_butt_m } => Some((&cover.name, from_butt_m)),
        CoverOn::Wire { .. } => None,
    });
    let on_item = pole.items.iter().map(|item| {
        let height = Bracket::exactly(item.from.z).hull(Bracket::exactly(item.to.z));
        (&item.name, height.widened(item.radius_m))
    });
    on_cover
        .chain(on_item)
        .filter(|(_, height)| height.within(band).is_some())
        .map(|(name, height)| {
            let (from_m, to_m) = (height.low(), height.high());
            let end_m = if choker_m < height.middle() { from_m } else { to_m };
            let fact = finding::Rigging::ChokerOnCover { choker_m, on: name.clone(), from_m, to_m };
            finding::stop(fact).measured(choker_m, end_m, Unit::Meter)
        })
        .collect()
}

/// The angle of choke is not stated, or it gives the sling its full rating and nobody measured it.
fn choke(rigging: &Rigging) -> Option<Finding> {
    let Some(angle) = rigging.choke_angle else {
        return Some(finding::stop(finding::Rigging::ChokeNotStated));
    };
    let is_measured = rigging.choke_measured.as_ref().is_some_and(Measurement::is_whole);
    let is_assumed = angle > LARGEST_REDUCED_CHOKE && !is_measured;
    let fact = finding::Rigging::ChokeAssumed { angle };
    is_assumed.then(|| finding::caution(fact).measured(angle, LARGEST_REDUCED_CHOKE, Unit::Radian))
}

/// The sling is too weak, or it conducts.
fn sling(mass: &Mass, rigging: &Rigging) -> Vec<Finding> {
    let mut found: Vec<Finding> = choke(rigging).into_iter().collect();
    let Some(capacity) = sling_capacity_kg(rigging) else {
        let (what, need, got) = match rigging.choke_angle {
            Some(angle) if choke_factor(angle).is_none() => ("angle of choke", "0 to 180 degrees", angle.to_degrees()),
            _ => ("rated choker capacity", "above zero", rigging.choker_capacity_kg),
        };
        return vec![RiggingError::Number { what, need, got }.finding()];
    };
    let load = mass.kg.high();
    if load > capacity {
        let fact = finding::Rigging::SlingBelowLoad { sling_kg: capacity, load_kg: load };
        found.push(finding::stop(fact).measured(load, capacity, Unit::Kilogram));
    }
    if rigging.material == RiggingMaterial::WireRope {
        found.push(finding::caution(finding::Rigging::Conducts));
    }
    found
}
