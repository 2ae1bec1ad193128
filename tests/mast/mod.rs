//! A kind of aerial lift that exists in the tests alone: a mast that goes straight up with a bucket on it. It does not rotate.
//!
//! It shows what a new kind needs: this folder, its catalog, and its row in [`crate::LIFTS`]. The core knows nothing of it.

mod catalog;

pub use catalog::mast;

use scene_core::bracket::Bracket;
use scene_core::glam::DVec3;
use scene_core::machine::joint::AT_LIMIT;
use scene_core::machine::{
    Arm, Body, Control, Corner, ElbowSide, Insulation, Joint, JointKind, JointValues, Lift, LiftFacts, Look, Method,
    ReachError, Side,
};

/// A square mast about its upright axis, and a square bucket on top. Meters, kilograms, meters per second.
#[derive(Clone, Debug, PartialEq)]
pub struct Mast {
    pub model: &'static str,
    pub at: DVec3,
    pub heading: f64,
    pub width_m: f64,
    /// Of the bucket's floor above the ground: down, and all the way up.
    pub floor_m: Bracket,
    pub bucket_m: [f64; 3],
    pub worker_m: f64,
    pub rate_m_s: f64,
    pub insulation: Insulation,
    pub capacity_kg: f64,
}

const RISE: usize = 0;

impl Lift for Mast {
    fn facts(&self) -> LiftFacts<'_> {
        LiftFacts {
            called: "mast lift",
            model: self.model,
            at: self.at,
            heading: self.heading,
            insulation: &self.insulation,
            capacity_kg: self.capacity_kg,
            load_kg: Some(self.capacity_kg / 2.0),
            method: Method::Stick,
            reach_m: self.worker_m,
        }
    }

    fn joints(&self) -> Vec<Joint> {
        vec![Joint {
            kind: JointKind::Length,
            control: Control::Extend,
            name: "mast's height",
            does: ["raise mast", "lower mast"],
            key: "mast_height_m",
            limits: self.floor_m,
            less: None,
            carries: None,
            rate: self.rate_m_s,
            rest: self.floor_m.low(),
        }]
    }

    fn bodies(&self) -> Vec<Body> {
        let half_m = self.width_m / 2.0;
        let [long_m, wide_m, high_m] = self.bucket_m;
        let body = |name, side, look, hull: Vec<Corner>| Body { name, side, look, hulls: vec![hull] };
        let ground = square(half_m, half_m).map(|at| Corner::ball(vec![Arm::Level(at)], 0.0));
        let raised = |at: DVec3, radius_m: f64| {
            Corner::ball(vec![Arm::Level(at), Arm::Up { length: RISE, share: 1.0 }], radius_m)
        };
        let under = square(half_m, half_m).map(|at| raised(at, 0.0));
        let floor = square(long_m / 2.0, wide_m / 2.0);
        let shell = [0.0, high_m].into_iter().flat_map(|up_m| floor.map(|at| raised(at + DVec3::Z * up_m, 0.0)));
        let reach = floor.map(|at| raised(at + DVec3::Z * (high_m + 0.4), self.worker_m));
        vec![
            body("mast", Side::Grounded, Look::Painted, under.into_iter().chain(ground).collect()),
            body("mast bucket", Side::Beyond, Look::Bucket, shell.collect()),
            body("mast worker's reach", Side::Worker, Look::Reach, reach.to_vec()),
        ]
    }

    fn reach(&self, rim: DVec3, _: &JointValues, _: Option<ElbowSide>) -> Result<JointValues, ReachError> {
        let away = rim - self.at;
        if !away.is_finite() {
            return Err(ReachError::NotANumber);
        }
        let aside_m = away.truncate().length();
        if aside_m > 0.01 {
            return Err(ReachError::TooFar { by_m: aside_m });
        }
        let floor_m = away.z - self.bucket_m[2];
        let by = (self.floor_m.low() - floor_m).max(floor_m - self.floor_m.high());
        if by > AT_LIMIT {
            return Err(ReachError::Limit { joint: RISE, by });
        }
        Ok(JointValues::of(&[floor_m]))
    }

    fn shoulders_in_world(&self, at: &JointValues) -> DVec3 {
        self.at + DVec3::Z * (at[RISE] + self.bucket_m[2] + 0.4)
    }

    fn lowest_floor_m(&self, _: usize, from: &JointValues, to: &JointValues) -> f64 {
        from[RISE].min(to[RISE])
    }

    fn figures(&self) -> Vec<(&'static str, f64)> {
        let [long_m, wide_m, high_m] = self.bucket_m;
        vec![
            ("place", self.at.length()),
            ("heading", self.heading.abs()),
            ("width", self.width_m),
            ("bucket's length", long_m),
            ("bucket's width", wide_m),
            ("bucket's height", high_m),
            ("worker's reach", self.worker_m),
            ("rated capacity", self.capacity_kg),
        ]
    }
}

/// The corners of a square on the ground.
fn square(x: f64, y: f64) -> [DVec3; 4] {
    [(x, y), (x, -y), (-x, y), (-x, -y)].map(|(x, y)| DVec3::new(x, y, 0.0))
}
