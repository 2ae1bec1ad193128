//! Whether crane, hole and lying pole stand on the surveyed ground, and whether the work stays on it.

use crate::finding::{self, Finding, NoSurface, OnGround, Unit};
use crate::site::{Action, Site};
use crate::terrain::{Ground, Surface, TerrainError};
use glam::{DVec2, DVec3};

pub(super) fn findings(site: &Site, ground: &Result<Ground, TerrainError>) -> Vec<Finding> {
    match ground {
        Ok(Ground::Flat { .. }) => Vec::new(),
        Ok(Ground::Surveyed(surface)) => on(surface, site),
        Err(error) => {
            let why = match error {
                TerrainError::TooFewSpots(spots) => NoSurface::TooFew { spots: *spots },
                TerrainError::OnOneLine => NoSurface::OnOneLine,
                TerrainError::NotFinite => NoSurface::NotANumber,
            };
            vec![finding::stop(finding::Ground::NoSurface { why })]
        }
    }
}

fn on(surface: &Surface, site: &Site) -> Vec<Finding> {
    let mut found: Vec<Finding> = [(OnGround::Hole, site.hole.at), (OnGround::Crane, site.crane.at)]
        .into_iter()
        .filter_map(|(what, at)| stands(surface, what, at))
        .collect();
    for (step, (action, name)) in site.steps.iter().map(|step| (&step.action, &step.name)).enumerate() {
        match action {
            Action::Start { butt, tip_toward, .. } => {
                found.extend(lies(surface, site.pole.length_m, *butt, *tip_toward).map(|f| f.at_step(step)));
            }
            Action::Carry { point, .. } | Action::BoomAway { point, .. }
                if surface.height(point.truncate()).is_none() =>
            {
                found.push(unknown(OnGround::Step { name: name.clone() }, point.truncate()).at_step(step));
            }
            _ => {}
        }
    }
    found
}

fn stands(surface: &Surface, what: OnGround, at: DVec3) -> Option<Finding> {
    match surface.height(at.truncate()) {
        None => Some(unknown(what, at.truncate())),
        Some(height_m) if height_m.contains(at.z) => None,
        Some(height_m) => Some(disagrees(surface, what, at.z - height_m.middle())),
    }
}

/// The pole lies, and its butt slides, on the straight way from butt to tip: the ground must be even under it.
fn lies(surface: &Surface, length_m: f64, butt: DVec3, tip_toward: DVec3) -> Option<Finding> {
    let what = OnGround::LyingPole;
    let along = tip_toward - butt;
    let run_m = along.truncate().length();
    if !(run_m > 0.0 && length_m > 0.0) {
        return None;
    }
    // In plan it is shorter than along the slope.
    let end = butt + along * (length_m / along.length());
    let Some(knots) = surface.along(butt.truncate(), end.truncate()) else {
        return Some(unknown(what, end.truncate()));
    };
    let off = |z: f64, height_m: crate::bracket::Bracket| (!height_m.contains(z)).then_some(z - height_m.middle());
    let offs = knots.iter().filter_map(|knot| off(butt.z + (end.z - butt.z) * knot.fraction, knot.height_m));
    let worst = offs.max_by(|a, b| a.abs().total_cmp(&b.abs()))?;
    Some(disagrees(surface, what, worst))
}

fn unknown(what: OnGround, at: DVec2) -> Finding {
    finding::stop(finding::Ground::NotSurveyed { what, east_m: at.x, north_m: at.y })
}

/// `above_m` the middle of what the spots say.
fn disagrees(surface: &Surface, what: OnGround, above_m: f64) -> Finding {
    let accuracy_m = surface.accuracy_m();
    let fact = finding::Ground::Disagrees { what, above_m, accuracy_m };
    finding::stop(fact).measured(above_m.abs(), accuracy_m, Unit::Meter)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene;

    const SPOTS: &str = "terrain: (spots: [(\"-200 ft\", \"-200 ft\", \"0 ft\"), (\"200 ft\", \"-200 ft\", \"0 ft\"), \
                         (\"200 ft\", \"200 ft\", \"0 ft\"), (\"-200 ft\", \"200 ft\", \"0 ft\")], accuracy: \"2 in\"),";

    fn codes(from: &str, to: &str) -> Vec<&'static str> {
        let terrain = SPOTS.replace(from, to);
        let end = scene::template().rfind(')').unwrap();
        let text = format!("{}{terrain}\n)", &scene::template()[..end]);
        let site = scene::read("job.ron", &text).and_then(|scene| scene.site()).unwrap_or_else(|f| panic!("{}", f[0]));
        findings(&site, &Ground::of(&site)).iter().map(|finding| finding.code()).collect()
    }

    #[test]
    fn what_stands_on_even_surveyed_ground_gives_no_finding() {
        assert_eq!(codes("", ""), Vec::<&str>::new());
    }

    #[test]
    fn ground_that_rises_under_crane_hole_and_pole_is_a_stop() {
        // The north edge two feet up: the middle of the site rises by about a foot.
        let codes = codes("\"200 ft\", \"0 ft\")", "\"200 ft\", \"2 ft\")");
        assert_eq!(codes, ["terrain_disagrees"; 3]);
    }

    #[test]
    fn work_outside_the_spots_is_a_stop() {
        let codes = codes("(\"-200 ft\"", "(\"-20 ft\"");
        assert!(codes.contains(&"terrain_unknown"), "{codes:?}");
    }

    #[test]
    fn a_hump_under_the_lying_pole_is_found_between_its_ends() {
        let codes = codes("spots: [", "spots: [(\"-10 ft\", \"-22 ft\", \"1 ft\"), ");
        assert!(codes.contains(&"terrain_disagrees"), "{codes:?}");
    }
}
