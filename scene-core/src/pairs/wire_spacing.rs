//! Wires against wires: what a phase that is held out, or on its way there, does to its neighbors.

use crate::conductor::{HoldState, Spacing};
use crate::finding::{self, Approach, Finding, Unit};
use crate::machine::Role;
use crate::rules::Distances;
use crate::site::Site;

/// One finding per pair of wires, worst weather and place: a stop where they may come within the residual gap, a caution
/// where they come nearer than the approach distance between their potentials.
pub(crate) fn wire_spacing(site: &Site, distances: &Distances, spacings: &[Spacing]) -> Vec<Finding> {
    let mut worst: Vec<&Spacing> = Vec::new();
    for spacing in spacings {
        match worst.iter_mut().find(|kept| (kept.wire, kept.other) == (spacing.wire, spacing.other)) {
            Some(kept) if spacing.low_m < kept.low_m => *kept = spacing,
            Some(_) => {}
            None => worst.push(spacing),
        }
    }
    worst.into_iter().filter_map(|spacing| finding(site, distances, spacing)).collect()
}

fn finding(site: &Site, distances: &Distances, spacing: &Spacing) -> Option<Finding> {
    let required = match distances.between(Role::Load, spacing.wire, spacing.other) {
        Ok(required) => required?,
        Err(error) => return Some(error.into()),
    };
    let name = |wire: usize| site.wires.get(wire).map_or("?", |w| w.name.as_str());
    let (wire, other) = (name(spacing.wire), name(spacing.other));
    let on_its_way = spacing.place == HoldState::BeingPlaced;
    let weather = site.weather.get(spacing.weather).map_or("?", |w| w.name.as_str());
    let (wire, other, weather, low_m) = (wire.to_owned(), other.to_owned(), weather.to_owned(), spacing.low_m);
    let found = if low_m <= site.basis.residual_gap_m {
        finding::stop(Approach::WiresMayMeet { wire, on_its_way, other, weather, low_m })
    } else if low_m < required.distance_m {
        finding::caution(Approach::WiresNear { wire, on_its_way, other, weather, low_m })
    } else {
        return None;
    };
    let found = found.measured(low_m, required.distance_m, Unit::Meter);
    Some(Finding { step: spacing.steps.first().copied(), ..found })
}

#[cfg(test)]
mod tests {
    use crate::check::check;
    use crate::finding::Grade;
    use crate::scene;

    fn grade_of(text: &str, code: &str) -> Option<Grade> {
        let site = scene::read("job.ron", text).and_then(|scene| scene.site()).unwrap();
        check(&site).findings.into_iter().find(|f| f.code() == code).map(|f| f.grade)
    }

    const EXAMPLE: &str = include_str!("../../../scenes/01_juniper_lane.ron");

    #[test]
    fn a_phase_held_over_its_neighbour_is_a_stop() {
        assert_eq!(grade_of(EXAMPLE, "wires_may_meet"), None);
        let onto_c =
            EXAMPLE.replace(r#"("0 ft", "5 ft 10 in", "31 ft 2 in")"#, r#"("0 ft", "5 ft 6 in", "29 ft 6 in")"#);
        let onto_c = onto_c.replace(r#"("0 ft", "8 ft", "31 ft 6 in")"#, r#"("0 ft", "5 ft 8 in", "29 ft 6 in")"#);
        assert_ne!(onto_c, EXAMPLE);
        assert_eq!(grade_of(&onto_c, "wires_may_meet"), Some(Grade::Stop));
    }
}
