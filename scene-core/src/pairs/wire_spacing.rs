//! Wires against wires: what a phase that is held out, or on its way there, does to its neighbors.

use crate::conductor::{Place, Spacing};
use crate::finding::Finding;
use crate::quantity::show::{Round, say_length};
use crate::rules::{BodyKind, Distances};
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
    let required = match distances.between(BodyKind::Load, spacing.wire, spacing.other) {
        Ok(required) => required?,
        Err(error) => return Some(error.into()),
    };
    let name = |wire: usize| site.wires.get(wire).map_or("?", |w| w.name.as_str());
    let (wire, other) = (name(spacing.wire), name(spacing.other));
    let doing = match spacing.place {
        Place::BeingPlaced => "on its way",
        Place::Natural | Place::Held => "held out",
    };
    let weather = site.weather.get(spacing.weather).map_or("?", |w| w.name.as_str());
    let gap = say_length(spacing.low_m, Round::Down);
    let said = format!("Wire {wire}, {doing}, may come to {gap} from wire {other} ({weather}).");
    let found = if spacing.low_m <= site.basis.residual_gap_m {
        Finding::stop("wires_may_meet", said)
    } else if spacing.low_m < required.distance_m {
        Finding::caution("wires_near_each_other", said)
    } else {
        return None;
    };
    let mut found = found
        .measured(spacing.low_m, required.distance_m, "m")
        .rule("common practice: held against the approach distance between the two potentials; the line's own spacing is the utility's to judge")
        .mend(format!("Hold {wire} elsewhere, hold {other} aside first, or cover both before {wire} is moved."));
    found.step = spacing.steps.first().copied();
    Some(found)
}

#[cfg(test)]
mod tests {
    use crate::check::check;
    use crate::finding::Grade;
    use crate::scene;

    fn grade_of(text: &str, code: &str) -> Option<Grade> {
        let site = scene::read("job.ron", text).and_then(|scene| scene.site()).unwrap();
        check(&site).findings.into_iter().find(|f| f.code == code).map(|f| f.grade)
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
