//! Terrain, standing poles, obstacles, no-go areas, people.

use super::{Build, point};
use crate::catalog;
use crate::quantity::unit::FOOT_M;
use crate::quantity::{Length, Quantity};
use crate::scene::fault::FaultKind;
use crate::scene::ground::{ByClass, Corner, Girth, Person, Road, Shape, StandingPole};
use crate::scene::line::{Ends, Presence, Starts};
use crate::site::ground as site;
use glam::{DVec2, DVec3};
use std::f64::consts::{PI, TAU};

/// Points nearer to each other than a tape tells are one; metres.
const SAME_M: f64 = 0.01;

/// Spots or corners less far from one line than this say nothing of a surface; metres.
const LEAST_WIDTH_M: f64 = 0.1;

/// Corners of one area. Every pair of edges is looked at.
const MOST_CORNERS: usize = 60;

pub(super) fn terrain(build: &mut Build<'_>) -> Option<site::Terrain> {
    let scene = build.scene;
    let terrain = scene.terrain.as_ref()?;
    let mut spots: Vec<DVec3> = Vec::new();
    let mut first: Vec<usize> = Vec::new();
    for (i, spot) in terrain.spots.iter().enumerate() {
        let spot = point(spot);
        let same = spots.iter().position(|other| other.truncate().distance(spot.truncate()) < SAME_M);
        match same {
            Some(same) => {
                let higher = spots.get(same).is_some_and(|other| (other.z - spot.z).abs() > SAME_M);
                let place = first.get(same).copied().unwrap_or(0);
                let first = build.faults.places.of(&format!("terrain.spots[{place}]"));
                build.fault_if(higher, &format!("terrain.spots[{i}]"), || FaultKind::SpotTwice { first });
            }
            None => {
                spots.push(spot);
                first.push(i);
            }
        }
    }
    let plan: Vec<DVec2> = spots.iter().map(|spot| spot.truncate()).collect();
    build.fault_if(terrain.spots.len() >= 3 && on_one_line(&plan), "terrain.spots", || FaultKind::OnOneLine);
    Some(site::Terrain { spots, accuracy_m: terrain.accuracy.si() })
}

pub(super) fn roads(build: &mut Build<'_>) -> Vec<site::Road> {
    let roads = &build.scene.roads;
    build.names("roads", "the road", roads.iter().map(|road| road.name.as_str()));
    let road = |road: &Road| site::Road {
        name: road.name.clone(),
        along: road.along.iter().map(|c| DVec2::new(c.east.si(), c.north.si())).collect(),
        width_m: road.width.si(),
    };
    roads.iter().map(road).collect()
}

pub(super) fn neighbours(build: &mut Build<'_>, declared_absent: &mut Vec<String>) -> Option<site::Neighbours> {
    let scene = build.scene;
    let declared = near(build, declared_absent);
    let Some(all) = &scene.neighbours else {
        return declared.then(|| site::Neighbours { structures_stated: true, ..site::Neighbours::default() });
    };
    let named = |list: &str| format!("neighbours.{list}");
    build.names(&named("poles"), "the pole", all.poles.iter().map(|pole| pole.name.as_str()));
    build.names(&named("obstacles"), "the obstacle", all.obstacles.iter().map(|obstacle| obstacle.name.as_str()));
    build.names(&named("no_go"), "the no-go area", all.no_go.iter().map(|area| area.name.as_str()));
    build.names(&named("people"), "the person", all.people.iter().map(|person| person.name.as_str()));
    let structures_stated = declared || !all.poles.is_empty() || !all.obstacles.is_empty();
    let mut found = site::Neighbours { structures_stated, ..site::Neighbours::default() };
    for (i, pole) in all.poles.iter().enumerate() {
        found.poles.push(standing(build, &format!("neighbours.poles[{i}]"), pole));
    }
    for (i, obstacle) in all.obstacles.iter().enumerate() {
        let shape = shape(build, &format!("neighbours.obstacles[{i}].shape"), &obstacle.shape);
        found.obstacles.push(site::Obstacle { name: obstacle.name.clone(), shape });
    }
    for (i, area) in all.no_go.iter().enumerate() {
        found.no_go.push(site::NoGo {
            name: area.name.clone(),
            corners: corners(build, &format!("neighbours.no_go[{i}].corners"), &area.corners),
            ground_m: area.ground.si(),
            height_m: area.height.si(),
            reason: area.reason.clone(),
        });
    }
    for (i, person) in all.people.iter().enumerate() {
        found.people.push(stands(build, &format!("neighbours.people[{i}]"), person));
    }
    Some(found)
}

/// Whether the scene says what structures there are: none, or which.
fn near(build: &mut Build<'_>, declared_absent: &mut Vec<String>) -> bool {
    let scene = build.scene;
    let path = "near.structures";
    let stands = || {
        let all = scene.neighbours.iter();
        all.flat_map(|all| {
            let poles = all.poles.iter().map(|pole| pole.name.as_str());
            poles.chain(all.obstacles.iter().map(|obstacle| obstacle.name.as_str()))
        })
    };
    match &scene.near.structures {
        None => false,
        Some(Presence::Absent(why)) => {
            if let Some(name) = stands().next() {
                let kind = FaultKind::AbsentButThere { what: "the neighbour", name: name.to_owned() };
                build.fault(path, kind);
            }
            declared_absent.push(format!("poles, trees, buildings and other obstacles: {why}"));
            true
        }
        Some(Presence::Listed(names)) => {
            build.fault_if(names.is_empty(), path, || FaultKind::TooFew { found: 0, least: 1 });
            let known: Vec<&str> = stands().collect();
            for (i, name) in names.iter().enumerate() {
                build.find(&format!("{path}[{i}]"), "a standing pole or obstacle", name, known.iter().copied());
            }
            true
        }
    }
}

fn standing(build: &mut Build<'_>, path: &str, pole: &StandingPole) -> site::StandingPole {
    above(build, &format!("{path}.top"), &pole.top.up, &pole.foot.up);
    let (foot_radius_m, top_radius_m) = match &pole.girth {
        Girth::Taped(taped) => {
            let (ground, top) = (&taped.at_ground, &taped.at_top);
            build.fault_if(top.si() > ground.si(), &format!("{path}.girth.at_top"), || FaultKind::TaperInverted {
                top: top.said().to_owned(),
                bottom: ground.said().to_owned(),
            });
            (ground.si() / TAU, top.si() / TAU)
        }
        Girth::Class(class) => by_class(build, &format!("{path}.girth.class"), class),
    };
    site::StandingPole {
        name: pole.name.clone(),
        foot: point(&pole.foot),
        top: point(&pole.top),
        foot_radius_m,
        top_radius_m,
    }
}

/// At the ground as thick as at the butt, which is below it.
fn by_class(build: &mut Build<'_>, path: &str, class: &ByClass) -> (f64, f64) {
    let length_m = class.length.si();
    let Some(sizes) = build.wood_pole(length_m, &class.class) else {
        if length_m.is_finite() && !build.own.unsure && !class.class.is_empty() {
            let found = format!("{} class {}", class.length.said(), class.class);
            let nearest = catalog::nearest_wood_pole(length_m, &class.class);
            build.fault(path, FaultKind::NotInCatalog { what: "a wood pole", found, nearest });
        }
        return (f64::NAN, f64::NAN);
    };
    let (low, top) = (sizes.circumference_at_6_ft_m, sizes.top_circumference_m);
    let six_feet = 6.0 * FOOT_M;
    let butt = low + (low - top) * six_feet / (length_m - six_feet);
    let most = (1.0 + class.oversize.si()) / TAU;
    (butt * most, top * most)
}

fn shape(build: &mut Build<'_>, path: &str, shape: &Shape) -> site::Shape {
    match shape {
        Shape::Tree(tree) => {
            above(build, &format!("{path}.height"), &tree.height, &tree.crown_from);
            site::Shape::Tree {
                foot: point(&tree.foot),
                height_m: tree.height.si(),
                trunk_radius_m: tree.trunk.si() / 2.0,
                crown_from_m: tree.crown_from.si(),
                crown_radius_m: tree.crown.si() / 2.0,
            }
        }
        Shape::Building(building) => site::Shape::Building {
            corners: corners(build, &format!("{path}.corners"), &building.corners),
            ground_m: building.ground.si(),
            height_m: building.height.si(),
        },
        Shape::Wall(wall) => {
            let (from, to) = (point(&wall.from), point(&wall.to));
            let same = from.truncate().distance(to.truncate()) < SAME_M;
            build.fault_if(same, &format!("{path}.to"), || FaultKind::SamePoint);
            site::Shape::Wall { from, to, height_m: wall.height.si(), thickness_m: wall.thickness.si() }
        }
        Shape::Post(post) => site::Shape::Post {
            foot: point(&post.foot),
            height_m: post.height.si(),
            radius_m: post.diameter.si() / 2.0,
        },
        Shape::Rod(rod) => {
            site::Shape::Rod { from: point(&rod.from), to: point(&rod.to), radius_m: rod.diameter.si() / 2.0 }
        }
    }
}

fn stands(build: &mut Build<'_>, path: &str, person: &Person) -> site::Person {
    let (starts, ends) = (person.starts.as_ref(), person.ends.as_ref());
    site::Person {
        name: person.name.clone(),
        task: person.task.into(),
        at: point(&person.at),
        reach_m: person.reach.si(),
        height_m: person.height.si(),
        during: build.during(path, starts.unwrap_or(&Starts::AtStart), ends.unwrap_or(&Ends::Never)),
    }
}

fn above(build: &mut Build<'_>, path: &str, found: &Quantity<Length>, below: &Quantity<Length>) {
    build.fault_if(found.si() <= below.si(), path, || FaultKind::NotAbove {
        found: found.said().to_owned(),
        below: below.said().to_owned(),
    });
}

/// Corners that make an area: not too many, apart, not on one line, no two edges crossing.
fn corners(build: &mut Build<'_>, path: &str, corners: &[Corner]) -> Vec<DVec2> {
    let found: Vec<DVec2> = corners.iter().map(|c| DVec2::new(c.east.si(), c.north.si())).collect();
    if found.len() > MOST_CORNERS {
        build.fault(path, FaultKind::TooMany { found: found.len(), most: MOST_CORNERS });
        return Vec::new();
    }
    if found.len() < 3 || found.iter().any(|corner| !corner.is_finite()) {
        return found;
    }
    if on_one_line(&found) {
        build.fault(path, FaultKind::OnOneLine);
        return found;
    }
    let edge = |i: usize| Some((*found.get(i)?, *found.get((i + 1) % found.len())?));
    for i in 0..found.len() {
        for j in i + 1..found.len() {
            let (Some(one), Some(other)) = (edge(i), edge(j)) else { continue };
            let neighbours = j == i + 1 || (i == 0 && j + 1 == found.len());
            let wrong = if neighbours {
                let (before, after) = if j == i + 1 { (one, other) } else { (other, one) };
                folds_back(before.0, before.1, after.1)
            } else {
                crosses(one, other)
            };
            if wrong {
                build.fault(&format!("{path}[{j}]"), FaultKind::CrossesItself { one: i + 1, other: j + 1 });
                return found;
            }
        }
    }
    found
}

/// Whether the way turns back onto itself at `corner`, or the corner is where the one before it is.
fn folds_back(from: DVec2, corner: DVec2, to: DVec2) -> bool {
    let (in_, out) = (corner - from, to - corner);
    in_.length() < SAME_M || out.length() < SAME_M || in_.angle_to(out).abs() > PI - 1e-6
}

/// Whether two edges cross or touch.
fn crosses((a, b): (DVec2, DVec2), (c, d): (DVec2, DVec2)) -> bool {
    let side = |p: DVec2, q: DVec2, r: DVec2| (q - p).perp_dot(r - p);
    let apart = |p: DVec2, q: DVec2, r: DVec2, s: DVec2| side(p, q, r) * side(p, q, s) > 0.0;
    let boxes_apart = a.max(b).cmplt(c.min(d)).any() || c.max(d).cmplt(a.min(b)).any();
    !boxes_apart && !apart(a, b, c, d) && !apart(c, d, a, b)
}

/// Whether all points lie within a strip too narrow to say anything.
fn on_one_line(points: &[DVec2]) -> bool {
    let Some(&first) = points.first() else { return true };
    let farthest = points.iter().copied().max_by(|a, b| a.distance(first).total_cmp(&b.distance(first)));
    let along = (farthest.unwrap_or(first) - first).normalize_or_zero();
    // What is not a number is a fault already.
    points.iter().all(|point| along.perp_dot(*point - first).abs() < LEAST_WIDTH_M || !point.is_finite())
}
