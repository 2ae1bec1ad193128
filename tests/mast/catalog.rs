//! The masts there are.

use super::Mast;
use scene_core::bracket::Bracket;
use scene_core::glam::DVec3;
use scene_core::machine::Insulation;

/// A mast by its model's name; invented for the tests, not a real machine.
pub fn mast(model: &str) -> Option<Mast> {
    let masts = [Mast {
        model: "Fennick 30",
        at: DVec3::ZERO,
        heading: 0.0,
        width_m: 0.5,
        floor_m: Bracket::between(0.6, 9.5)?,
        bucket_m: [1.2, 0.9, 1.1],
        worker_m: 0.9,
        rate_m_s: 0.25,
        insulation: Insulation::None("a steel mast".to_owned()),
        capacity_kg: 230.0,
    }];
    masts.into_iter().find(|mast| mast.model == model)
}
