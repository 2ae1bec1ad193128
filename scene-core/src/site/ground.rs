//! What was surveyed of the ground, and what stands on it or stays out of the way.

use super::{During, Presence};
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
    pub by_hand: Option<ByHand>,
    /// It is said which poles and obstacles there are, or that there are none.
    pub structures_stated: bool,
}

/// Steps in which people guide the pole by hand past a pole that stands beside the hole.
#[derive(Clone, Debug, PartialEq)]
pub struct ByHand {
    /// The pole that stands there, by index into `poles`.
    pub beside: usize,
    /// By index.
    pub steps: Vec<usize>,
    /// Who guides, by index into `people`.
    pub guides: Vec<usize>,
    pub hands: HandProtection,
    /// How far the pole may swing while it is held, meters. It takes the place of the swing allowances.
    pub swing_m: f64,
}

/// What is between the hands and the pole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HandProtection {
    /// ASTM D120 class, 0 to 4.
    RubberGloves { class: u8 },
    /// Sticks or hooks that are rated for the voltage, no part of the body on the pole.
    InsulatedTools,
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

/// A person on the ground. He stands at his places in turn and walks straight from one to the next.
#[derive(Clone, Debug, PartialEq)]
pub struct Person {
    pub name: String,
    pub task: Task,
    /// As far as arms and tools go to the side, and up from the feet.
    pub reach_m: f64,
    pub height_m: f64,
    /// In order of time, at least one.
    pub stands: Vec<Stand>,
}

/// A place where a person stands during some steps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stand {
    /// Where the feet are; world frame, meters.
    pub at: DVec3,
    pub during: During,
}

/// A way that a person walks, straight, at any time during some steps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Walk {
    pub from: DVec3,
    pub to: DVec3,
    pub first_step: usize,
    pub last_step: usize,
}

impl Person {
    /// The ways between his places: from the step in which he leaves one to the step in which he comes to the next. Where
    /// the scene has him at both at once, the way takes all of these steps.
    pub fn walks(&self) -> Vec<Walk> {
        let between = |pair: &[Stand]| {
            let [from, to] = pair else { return None };
            let (leaves, comes) = (from.during.off_before_step, to.during.on_after_step);
            let (leaves, comes) = (leaves.or(comes).unwrap_or(0), comes.or(leaves).unwrap_or(usize::MAX));
            let (first_step, last_step) = (leaves.min(comes), leaves.max(comes));
            Some(Walk { from: from.at, to: to.at, first_step, last_step })
        };
        self.stands.windows(2).filter_map(between).collect()
    }

    /// Where he is while a step is done: at his place, or halfway on his way. `None` where the scene has him nowhere.
    pub fn place_in(&self, step: usize) -> Option<DVec3> {
        let presence = |stand: &&Stand| stand.during.presence(step);
        let stands = self.stands.iter().find(|stand| presence(stand) == Presence::Present).map(|stand| stand.at);
        let walks = || {
            let way = self.walks().into_iter().find(|walk| (walk.first_step..=walk.last_step).contains(&step))?;
            Some(way.from.midpoint(way.to))
        };
        let comes = || self.stands.iter().find(|stand| presence(stand) == Presence::Changing).map(|stand| stand.at);
        stands.or_else(walks).or_else(comes)
    }

    /// The first place, counted from 1, that the scene has him at before he has left the one before.
    pub fn in_two_places(&self) -> Option<usize> {
        let both = |pair: &[Stand]| {
            let [from, to] = pair else { return false };
            match (from.during.off_before_step, to.during.on_after_step) {
                (Some(leaves), Some(comes)) => comes < leaves,
                _ => true,
            }
        };
        self.stands.windows(2).position(both).map(|at| at + 2)
    }
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
