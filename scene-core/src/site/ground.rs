//! What was surveyed of the ground, and what stands on it or stays out of the way.

use super::During;
use glam::{DVec2, DVec3};

/// Spot elevations.
#[derive(Clone, Debug, PartialEq)]
pub struct Terrain {
    /// At least three, not on one line, no two in one place.
    pub spots: Vec<DVec3>,
    /// How far the ground may lie above or below what the spots say.
    pub accuracy_m: f64,
}

/// What is there besides the line.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Neighbours {
    pub poles: Vec<StandingPole>,
    pub obstacles: Vec<Obstacle>,
    pub no_go: Vec<NoGo>,
    pub people: Vec<Person>,
    /// It is said which poles and obstacles there are, or that there are none.
    pub structures_stated: bool,
}

/// A road, for the eye alone: nothing is held against it, and who drives on it is not modeled.
#[derive(Clone, Debug, PartialEq)]
pub struct Road {
    pub name: String,
    /// Its middle, in plan: at least two corners.
    pub along: Vec<DVec2>,
    pub width_m: f64,
}

/// A pole that stands already: a round shaft that narrows evenly.
#[derive(Clone, Debug, PartialEq)]
pub struct StandingPole {
    pub name: String,
    /// Its center at the ground, and at its top: a leaning pole has them apart in plan.
    pub foot: DVec3,
    pub top: DVec3,
    /// Largest that they may be.
    pub foot_radius_m: f64,
    pub top_radius_m: f64,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Obstacle {
    pub name: String,
    pub shape: Shape,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// An upright trunk, and the upright cylinder that holds the crown.
    Tree { foot: DVec3, height_m: f64, trunk_radius_m: f64, crown_from_m: f64, crown_radius_m: f64 },
    /// Corners in order, either way round; it does not cross itself.
    Building { corners: Vec<DVec2>, ground_m: f64, height_m: f64 },
    /// Wall, fence, hedge, sign board: from and to are its ends at the ground.
    Wall { from: DVec3, to: DVec3, height_m: f64, thickness_m: f64 },
    /// Sign post, bollard, mast.
    Post { foot: DVec3, height_m: f64, radius_m: f64 },
    /// A straight rod: guy wire, cross arm, branch.
    Rod { from: DVec3, to: DVec3, radius_m: f64 },
}

/// Where nothing of machine or load may come.
#[derive(Clone, Debug, PartialEq)]
pub struct NoGo {
    pub name: String,
    /// Corners in order, either way round; it does not cross itself.
    pub corners: Vec<DVec2>,
    pub ground_m: f64,
    /// How far up from the ground it holds.
    pub height_m: f64,
    pub reason: String,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Person {
    pub name: String,
    pub task: Task,
    /// Where the feet are.
    pub at: DVec3,
    /// As far as arms and tools go to the side, and up from the feet.
    pub reach_m: f64,
    pub height_m: f64,
    pub during: During,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Task {
    Observer,
    Signal,
    /// Guides the load by tag line or hands.
    TagLine,
    /// Anybody else who has a place: public, driver, other trades.
    Bystander,
}
