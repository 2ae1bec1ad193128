//! Where the numbered cameras stand.

use super::OpenScene;
use super::axes::{to_core, to_engine};
use super::orbit::Orbit;
use super::view::View;
use bevy::prelude::*;
use scene_core::glam::{DVec2, DVec3};
use scene_core::machine::Look;
use scene_core::neighbours::convex_pieces;
use scene_core::site::Site;
use scene_core::site::ground::{Shape, Task};

/// Where the camera of a number key stands.
pub fn camera(number: usize, open: &OpenScene, time_s: f64, view: &View) -> Orbit {
    let site = &open.rehearsal.site;
    let hole = to_engine(site.hole.at);
    let line = site.wires.first().and_then(|wire| wire.spans.first());
    let along = line.map_or(Vec3::X, |span| to_engine(span.to - span.from));
    let work = hole + Vec3::Y * 9.0;
    match number {
        2 => Orbit { about: work, around: along.x.atan2(along.z), above: 0.06, away_m: 24.0 },
        3 => Orbit { about: view.about.with_y(hole.y), around: 0.0, above: 1.55, away_m: 60.0 },
        4 => Orbit::from_to(to_engine(site.crane.at) + Vec3::Y * 2.2, work),
        5 => {
            let people = site.neighbours.iter().flat_map(|neighbours| &neighbours.people);
            let observer = people
                .filter(|person| person.task == Task::Observer)
                .find_map(|person| person.stands.first())
                .map(|stand| stand.at);
            // Where no observer is stated: under the line, off the work.
            let feet = observer.map_or(hole + along.normalize_or(Vec3::X) * 30.0, to_engine);
            Orbit::from_to(feet + Vec3::Y * 1.7, work)
        }
        6 => {
            let bucket = open.rehearsal.shapes(time_s).into_iter().find(|s| s.look == Look::Reach);
            let eye =
                bucket.and_then(|shape| shape.hulls.first()?.features.first().map(|f| f.farthest(DVec3::Z * 0.0)));
            let eye = eye.or_else(|| site.lifts.first().map(|lift| lift.facts().at + DVec3::Z * 3.0));
            Orbit::from_to(eye.map_or(hole + Vec3::new(12.0, 10.0, 0.0), to_engine), work)
        }
        _ => whole_work(site, view),
    }
}

/// The view of the whole work from the side that the fewest obstacles hide.
pub fn whole_work(site: &Site, view: &View) -> Orbit {
    // The usual side comes first; another is taken only where it shows more.
    const SIDES: [f32; 6] = [0.75, -0.75, 2.4, -2.4, 1.57, -1.57];
    let from = |around| Orbit { about: view.about, around, above: 0.16, away_m: 62.0 };
    let matters: Vec<DVec3> = [site.hole.at, site.crane.at]
        .iter()
        .flat_map(|foot| [1.0, 5.0, 10.0].map(|up_m| *foot + DVec3::Z * up_m))
        .collect();
    let standing = standing(site);
    let hidden = |orbit: &Orbit| {
        let eye = to_core(orbit.transform().translation);
        matters.iter().filter(|at| is_hidden(&standing, eye, **at)).count()
    };
    let best = SIDES.map(from).into_iter().min_by_key(hidden);
    best.unwrap_or_else(|| from(SIDES[0]))
}

/// One of these stands in the line of sight. Obstacles thinner than a 64th of it may be missed.
fn is_hidden(standing: &[Upright], eye: DVec3, at: DVec3) -> bool {
    const LOOKS: u32 = 64;
    let mut along = (1..LOOKS).map(|i| eye.lerp(at, f64::from(i) / f64::from(LOOKS)));
    along.any(|p| standing.iter().any(|upright| upright.holds(p)))
}

/// The buildings and trees that hide things.
fn standing(site: &Site) -> Vec<Upright> {
    let obstacles = site.neighbours.iter().flat_map(|neighbours| &neighbours.obstacles);
    obstacles.flat_map(|obstacle| uprights(&obstacle.shape)).collect()
}

/// A rough shape of what hides things.
enum Upright {
    Prism { corners: Vec<DVec2>, top_m: f64 },
    Round { at: DVec2, radius_m: f64, from_m: f64, top_m: f64 },
}

fn uprights(shape: &Shape) -> Vec<Upright> {
    match shape {
        Shape::Building { corners, ground_m, height_m } => {
            let top_m = ground_m + height_m;
            convex_pieces(corners).into_iter().map(|corners| Upright::Prism { corners, top_m }).collect()
        }
        Shape::Tree { foot, height_m, crown_from_m, crown_radius_m, .. } => vec![Upright::Round {
            at: foot.truncate(),
            radius_m: *crown_radius_m,
            from_m: foot.z + crown_from_m,
            top_m: foot.z + height_m,
        }],
        Shape::Wall { .. } | Shape::Post { .. } | Shape::Rod { .. } => Vec::new(),
    }
}

impl Upright {
    fn holds(&self, p: DVec3) -> bool {
        match self {
            Self::Prism { corners, top_m } => {
                let edges = corners.iter().zip(corners.iter().cycle().skip(1));
                let sides = edges.map(|(a, b)| (*b - *a).perp_dot(p.truncate() - *a));
                let (mut left, mut right) = (true, true);
                for side in sides {
                    left &= side >= 0.0;
                    right &= side <= 0.0;
                }
                p.z <= *top_m && (left || right)
            }
            Self::Round { at, radius_m, from_m, top_m } => {
                (*from_m..=*top_m).contains(&p.z) && p.truncate().distance(*at) <= *radius_m
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use scene_core::scene;

    #[test]
    fn the_work_in_a_tight_yard_is_seen_past_its_buildings() {
        let scene = scene::read_bytes("05", include_bytes!("../../../scenes/05_kestrel_yard.ron")).unwrap();
        let site = scene.site().unwrap();
        let orbit = whole_work(&site, &View::about(&site));
        let eye = to_core(orbit.transform().translation);
        let standing = standing(&site);
        assert!(!is_hidden(&standing, eye, site.hole.at + DVec3::Z * 5.0));
        assert!(!is_hidden(&standing, eye, site.crane.at + DVec3::Z * 5.0));
    }
}
