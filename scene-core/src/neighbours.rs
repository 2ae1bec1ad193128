//! What stands near the work, as still convex solids that enclose it.
//!
//! | neighbor | solids | what they enclose beyond the stated shape |
//! |---|---|---|
//! | standing pole | a flat-ended frustum | nothing above its foot |
//! | tree | vertical cylinders for trunk and crown | the crown's cylinder encloses any crown as wide and high |
//! | building, no-go area | vertical prisms: one when convex, otherwise one per triangle | nothing above the lowest ground |
//! | wall | a box whose top follows the ground | at most the fall of its foot |
//! | post, rod | a cylinder, a capsule | a rod's round ends |
//! | person | the vertical cylinder of reach; while he walks, the hull of the two where he comes from and goes to | the corners between reach to the side and reach up |
//!
//! Everything that stands on the ground continues [`BELOW_M`] below it, because the ground beside it may be lower than
//! its foot. That part is inside the ground anyway.
//!
//! Not modeled: sway, growth, eaves and gutters (state their corners), hardware on a standing pole (state it as rods
//! and posts).

use crate::motion::{MovingFeature, MovingPart, Track};
use crate::site::ground::{Neighbours, NoGo, Obstacle, Person, Shape, StandingPole};
use crate::site::{During, Presence};
use glam::{DVec2, DVec3};

/// How far a standing thing continues below its foot, meters.
pub const BELOW_M: f64 = 1.0;

/// Height of the space above a person in which a load counts as overhead, meters.
const SKY_M: f64 = 300.0;

/// What a neighbor is. The number is the index into its own list of the site.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NeighbourKind {
    /// An existing pole, by index into `poles`.
    StandingPole(usize),
    /// A tree, building, wall, post or rod, by index into `obstacles`.
    Obstacle(usize),
    /// An area that nothing may enter, by index into `no_go`.
    NoGo(usize),
    /// A person at a fixed place, by index into `people`.
    Person(usize),
}

/// One neighbor as solids.
#[derive(Clone, Debug, PartialEq)]
pub struct Neighbour {
    /// The name in the scene.
    pub name: String,
    /// What it is.
    pub kind: NeighbourKind,
    /// Where it is, step by step.
    pub stays: Vec<Stay>,
}

/// What a neighbor fills during some steps.
#[derive(Clone, Debug, PartialEq)]
pub struct Stay {
    /// Convex, still, without allowance. Together they enclose the whole neighbor. World frame, meters.
    pub parts: Vec<MovingPart>,
    when: When,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum When {
    During(During),
    /// From the first to the last, both included.
    Steps(usize, usize),
}

impl Stay {
    /// Whether it may be there at any instant of a step.
    pub fn is_there(&self, step: usize) -> bool {
        match self.when {
            When::During(during) => during.presence(step) != Presence::Absent,
            When::Steps(first, last) => (first..=last).contains(&step),
        }
    }
}

impl Neighbour {
    /// All that it may fill at any instant of a step.
    pub fn parts_in(&self, step: usize) -> impl Iterator<Item = &MovingPart> {
        self.stays.iter().filter(move |stay| stay.is_there(step)).flat_map(|stay| &stay.parts)
    }
}

/// All neighbors as solids, in the order of the site: poles, obstacles, no-go areas, people.
pub fn neighbours(all: &Neighbours) -> Vec<Neighbour> {
    let always = During { on_after_step: None, off_before_step: None };
    let here = |name: &str, kind, stays| Neighbour { name: name.to_owned(), kind, stays };
    let stays = |parts| vec![Stay { parts, when: When::During(always) }];
    let mut found = Vec::new();
    for (i, pole) in all.poles.iter().enumerate() {
        found.push(here(&pole.name, NeighbourKind::StandingPole(i), stays(vec![standing_pole(pole)])));
    }
    for (i, obstacle) in all.obstacles.iter().enumerate() {
        found.push(here(&obstacle.name, NeighbourKind::Obstacle(i), stays(obstacle_parts(obstacle))));
    }
    for (i, area) in all.no_go.iter().enumerate() {
        found.push(here(&area.name, NeighbourKind::NoGo(i), stays(no_go_parts(area))));
    }
    for (i, person) in all.people.iter().enumerate() {
        found.push(here(&person.name, NeighbourKind::Person(i), person_up_to(person, person.height_m)));
    }
    found
}

/// The space above a person, wherever he is. A load that enters it is overhead.
pub fn above_person(person: &Person) -> Neighbour {
    let stays = person_up_to(person, person.height_m.max(0.0) + SKY_M);
    Neighbour { name: person.name.clone(), kind: NeighbourKind::Person(0), stays }
}

/// A part and all that is straight above it, up to 300 m.
pub fn and_above(part: &MovingPart) -> MovingPart {
    let mut all = part.clone();
    let risen = part.features.iter().map(|feature| {
        let at = Track { base: feature.at.base + DVec3::Z * SKY_M, ..feature.at.clone() };
        MovingFeature { at, ..feature.clone() }
    });
    all.features.extend(risen);
    // What a spread tells of its halves would leave out what was added.
    all.spread = None;
    all
}

/// The cylinder that a person fills up to some height, where he stands and on his ways between.
fn person_up_to(person: &Person, height_m: f64) -> Vec<Stay> {
    let cylinder = |at: DVec3| upright(at, -BELOW_M, height_m, person.reach_m);
    let stands =
        person.stands.iter().map(|stand| Stay { parts: vec![cylinder(stand.at)], when: When::During(stand.during) });
    let walks = person.walks().into_iter().map(|walk| {
        let mut way = cylinder(walk.from);
        way.features.extend(cylinder(walk.to).features);
        Stay { parts: vec![way], when: When::Steps(walk.first_step, walk.last_step) }
    });
    stands.chain(walks).collect()
}

fn standing_pole(pole: &StandingPole) -> MovingPart {
    let axis = (pole.top - pole.foot).normalize_or(DVec3::Z);
    let foot = pole.foot - axis * BELOW_M;
    let disc = |at, radius_m| feature(at, radius_m, Some(axis));
    // A disc across the axis of a leaning pole leaves a wedge above the ground on one side, so the pole continues below
    // its foot.
    part(vec![disc(foot, pole.foot_radius_m), disc(pole.foot, pole.foot_radius_m), disc(pole.top, pole.top_radius_m)])
}

fn obstacle_parts(obstacle: &Obstacle) -> Vec<MovingPart> {
    match &obstacle.shape {
        Shape::Tree { foot, height_m, trunk_radius_m, crown_from_m, crown_radius_m } => vec![
            upright(*foot, -BELOW_M, *height_m, *trunk_radius_m),
            upright(*foot, *crown_from_m, *height_m, *crown_radius_m),
        ],
        Shape::Building { corners, ground_m, height_m } => {
            standing_area(corners, ground_m - BELOW_M, ground_m + height_m)
        }
        Shape::Wall { from, to, height_m, thickness_m } => vec![wall(*from, *to, *height_m, *thickness_m)],
        Shape::Post { foot, height_m, radius_m } => vec![upright(*foot, -BELOW_M, *height_m, *radius_m)],
        Shape::Rod { from, to, radius_m } => vec![part(vec![ball(*from, *radius_m), ball(*to, *radius_m)])],
    }
}

fn no_go_parts(area: &NoGo) -> Vec<MovingPart> {
    standing_area(&area.corners, area.ground_m - BELOW_M, area.ground_m + area.height_m)
}

/// The wall as one solid. Each end is as high as its own foot says, so the top falls with the ground.
fn wall(from: DVec3, to: DVec3, height_m: f64, thickness_m: f64) -> MovingPart {
    let along = (to - from).truncate().normalize_or_zero();
    let aside = (along.perp() * thickness_m / 2.0).extend(0.0);
    let mut features = Vec::new();
    for end in [from, to] {
        for side in [-1.0, 1.0] {
            for up_m in [-BELOW_M, height_m] {
                features.push(ball(end + aside * side + DVec3::Z * up_m, 0.0));
            }
        }
    }
    part(features)
}

fn standing_area(corners: &[DVec2], low_m: f64, high_m: f64) -> Vec<MovingPart> {
    let prism = |corners: &[DVec2]| {
        let ends = corners.iter().flat_map(|corner| [corner.extend(low_m), corner.extend(high_m)]);
        part(ends.map(|at| ball(at, 0.0)).collect())
    };
    convex_pieces(corners).iter().map(|piece| prism(piece)).collect()
}

/// Convex polygons that together make up a simple polygon: itself when it is convex, otherwise triangles cut off one at
/// a time.
///
/// A polygon that crosses itself comes back unchanged as one piece; the hull of its corners encloses it. Cost: cubic in
/// the corners.
pub fn convex_pieces(corners: &[DVec2]) -> Vec<Vec<DVec2>> {
    let next = |i: usize, n: usize| (i + 1) % n;
    let area: f64 = corners.iter().zip(corners.iter().cycle().skip(1)).map(|(a, b)| a.perp_dot(*b)).sum();
    let mut left: Vec<DVec2> = corners.to_vec();
    if area < 0.0 {
        left.reverse();
    }
    let turn = |a: DVec2, b: DVec2, c: DVec2| (b - a).perp_dot(c - b);
    let mut pieces = Vec::new();
    loop {
        let n = left.len();
        let at = |i: usize| left.get(i).copied().unwrap_or(DVec2::NAN);
        let corner = |i: usize| (at((i + n - 1) % n), at(i), at(next(i, n)));
        let convex = (0..n).all(|i| {
            let (a, b, c) = corner(i);
            turn(a, b, c) >= 0.0
        });
        if n <= 3 || convex {
            pieces.push(left);
            return pieces;
        }
        // An ear: a corner whose triangle holds no other corner.
        let ear = (0..n).find(|&i| {
            let (a, b, c) = corner(i);
            let holds = |p: DVec2| turn(a, b, p) >= 0.0 && turn(b, c, p) >= 0.0 && turn(c, a, p) >= 0.0;
            turn(a, b, c) > 0.0 && left.iter().all(|&p| p == a || p == b || p == c || !holds(p))
        });
        let Some(ear) = ear else {
            return vec![corners.to_vec()];
        };
        let (a, b, c) = corner(ear);
        pieces.push(vec![a, b, c]);
        left.remove(ear);
    }
}

/// A vertical cylinder; heights are above its foot.
fn upright(foot: DVec3, from_m: f64, to_m: f64, radius_m: f64) -> MovingPart {
    part([from_m, to_m].map(|up_m| feature(foot + DVec3::Z * up_m, radius_m, Some(DVec3::Z))).to_vec())
}

fn part(features: Vec<MovingFeature>) -> MovingPart {
    MovingPart { features, ..MovingPart::default() }
}

fn ball(at: DVec3, radius_m: f64) -> MovingFeature {
    feature(at, radius_m, None)
}

/// A still feature without allowance. The moving body of a pair carries the survey allowance.
fn feature(at: DVec3, radius_m: f64, axis: Option<DVec3>) -> MovingFeature {
    MovingFeature { at: Track::still(at), radius_m, axis: axis.map(Track::still), allowance_m: 0.0 }
}

#[cfg(test)]
mod tests;
