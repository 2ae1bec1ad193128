//! What machines stand on, as bodies that do not move.

use super::bodies::BodyMotion;
use super::track::{MovingFeature, MovingPart, Track};
use crate::machine::body::{BodyId, Look, Role};
use crate::machine::carrier::CarrierPart;
use crate::site::Site;
use glam::DVec3;
use std::sync::Arc;

/// Carriers, outriggers and mats of every machine, as far as they are stated, over this many pieces.
pub(super) fn carriers(site: &Site, pieces: usize, allowance_m: f64) -> Vec<BodyMotion> {
    let crane = &site.crane;
    let floats = crane.outriggers.as_ref().map(|outriggers| outriggers.floats());
    let of_crane = CarrierPart::ALL
        .map(|part| (None, part, part.hulls(crane.carrier.as_ref(), floats.as_ref(), crane.at, crane.heading)));
    let of_lifts = site.lifts.iter().enumerate().flat_map(|(index, lift)| {
        let (facts, base) = (lift.facts(), &lift.base);
        CarrierPart::ALL.map(|part| {
            let hulls = part.hulls(base.carrier.as_ref(), base.outrigged.floats(), facts.at, facts.heading);
            (Some(index), part, hulls)
        })
    });
    let stated = of_crane.into_iter().chain(of_lifts).filter(|(.., hulls)| !hulls.is_empty());
    stated.map(|(lift, part, hulls)| body(site, lift, part, &hulls, pieces, allowance_m)).collect()
}

fn body(
    site: &Site,
    lift: Option<usize>,
    part: CarrierPart,
    hulls: &[[DVec3; 8]],
    pieces: usize,
    allowance_m: f64,
) -> BodyMotion {
    let corner = |at: DVec3| MovingFeature { at: Track::still(at), radius_m: 0.0, axis: None, allowance_m };
    let solid = |corners: &[DVec3; 8]| MovingPart { features: corners.map(corner).to_vec(), ..MovingPart::default() };
    let parts: Arc<[MovingPart]> = hulls.iter().map(solid).collect();
    let (name, role) = match lift {
        Some(lift) => (site.lift_body_name(lift, &format!("lift {}", part.name())), Role::LiftConductive),
        None => (part.name().to_owned(), Role::MachineConductive),
    };
    let id = BodyId::OfCarrier { lift, part };
    BodyMotion { name, id, role, look: Look::Carrier, parts: vec![parts; pieces], still: vec![true; pieces] }
}
