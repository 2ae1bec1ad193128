//! What holds phases aside, as bodies that do not move.
//!
//! An arm fills the hull from where it is fixed to where it holds the wire; while the wire is on its way, also to where the wire hangs
//! by itself. A truck's boom is up while anything that it holds is held, or on its way.

use super::bodies::BodyMotion;
use super::track::{MovingFeature, MovingPart, Track};
use crate::machine::body::{BodyId, Look, Role};
use crate::machine::carrier::CarrierPart;
use crate::sequence::{Piece, pose};
use crate::site::pose::BucketAt;
use crate::site::{HeldOut, Holder, HolderStand, HoldingTruck, Presence, Site};
use glam::DVec3;
use std::sync::Arc;

/// Every arm and every holding truck over the pieces.
pub(super) fn holders(site: &Site, pieces: &[Piece], allowance_m: f64) -> Vec<BodyMotion> {
    let arms = site.held_out.iter().enumerate().filter_map(|(index, held)| {
        let holder = held.holder.as_ref()?;
        let [placing, held_there] = [true, false].map(|placing| arm(site, held, holder, placing, allowance_m));
        let none: Arc<[MovingPart]> = Arc::from([]);
        let parts = pieces.iter().map(|piece| match held.during.presence(piece.step) {
            Presence::Absent => Arc::clone(&none),
            Presence::Changing => Arc::clone(&placing),
            Presence::Present => Arc::clone(&held_there),
        });
        let truck = match holder.on {
            HolderStand::Truck(truck) => Some(truck),
            HolderStand::Pole(_) => None,
        };
        let id = BodyId::HoldingArm { held_out: index, truck };
        Some(body(held.name.clone(), id, Role::NonConductiveRigging, parts.collect()))
    });
    let trucks = site.holding_trucks.iter().enumerate().map(|(index, truck)| {
        let [down, up] = [false, true].map(|up| truck_parts(truck, up, allowance_m));
        let works = |piece: &Piece| {
            let of =
                |held: &&HeldOut| held.holder.as_ref().is_some_and(|holder| holder.on == HolderStand::Truck(index));
            site.held_out.iter().filter(of).any(|held| held.during.presence(piece.step) != Presence::Absent)
        };
        let parts = pieces.iter().map(|piece| Arc::clone(if works(piece) { &up } else { &down })).collect();
        body(truck.name.clone(), BodyId::HoldingTruck(index), Role::LiftConductive, parts)
    });
    arms.chain(trucks).collect()
}

fn body(name: String, id: BodyId, role: Role, parts: Vec<Arc<[MovingPart]>>) -> BodyMotion {
    let mut still: Vec<bool> = vec![true; parts.len()];
    for ((now, before), still) in parts.iter().skip(1).zip(&parts).zip(still.iter_mut().skip(1)) {
        *still = Arc::ptr_eq(now, before);
    }
    BodyMotion { name, id, role, look: Look::Insulating, parts, still }
}

fn arm(site: &Site, held: &HeldOut, holder: &Holder, placing: bool, allowance_m: f64) -> Arc<[MovingPart]> {
    let mut ends = vec![holder.from, held.to];
    if placing {
        // Where it hangs by itself is known in still air and to its middle only; the survey allowance and the play hold the rest.
        ends.extend(by_itself(site, held));
    }
    let ball = |at: &DVec3| feature(*at, holder.radius_m, allowance_m + holder.play_m);
    Arc::from([part(ends.iter().map(ball).collect())])
}

fn by_itself(site: &Site, held: &HeldOut) -> Option<DVec3> {
    let span = site.wires.get(held.wire)?.spans.get(held.span)?;
    let reach = crate::site::station::reach(&site.wires.get(held.wire)?.spans, site.hole.at)?;
    let before: f64 = site.wires.get(held.wire)?.spans.iter().take(held.span).map(run_m).sum();
    let station_m = reach.low() + before + held.fraction * run_m(span);
    pose::rim_wanted(site, &BucketAt::Wire { wire: held.wire, station_m, below_m: 0.0, left_m: 0.0 })
}

fn run_m(span: &crate::site::Span) -> f64 {
    (span.to - span.from).truncate().length()
}

fn truck_parts(truck: &HoldingTruck, up: bool, allowance_m: f64) -> Arc<[MovingPart]> {
    let base = &truck.base;
    let hulls = CarrierPart::ALL
        .iter()
        .flat_map(|part| part.hulls(base.carrier.as_ref(), base.outrigged.floats(), truck.at, truck.heading));
    let mut parts: Vec<MovingPart> =
        hulls.map(|corners| part(corners.map(|at| feature(at, 0.0, allowance_m)).to_vec())).collect();
    if up {
        let foot = truck.at + DVec3::Z * truck.boom_foot_m;
        parts.push(part([foot, truck.boom_end].map(|at| feature(at, truck.boom_radius_m, allowance_m)).to_vec()));
    }
    parts.into()
}

fn part(features: Vec<MovingFeature>) -> MovingPart {
    MovingPart { features, ..MovingPart::default() }
}

fn feature(at: DVec3, radius_m: f64, allowance_m: f64) -> MovingFeature {
    MovingFeature { at: Track::still(at), radius_m, axis: None, allowance_m }
}
