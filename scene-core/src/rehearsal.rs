//! A checked site at any instant, for drawing: the very solids and wires that the check proves, and the nearest pairs.
//!
//! Measurements at an instant are samples. The report's proven minimum stands beside them; they decide nothing.

mod nearest;

pub use nearest::Nearest;

use crate::check::{self, Prepared};
use crate::conductor::Wires;
use crate::machine::{BodyId, Look, Role};
use crate::motion::{BodyMotion, Motion};
use crate::outcome::Report;
use crate::pairs::{BodyPairs, BodySets};
use crate::sequence::HoldPoint;
use crate::site::Site;
use crate::solid::Hull;
use crate::swept::{self, Swept};
use crate::trace::{self, Curve};

/// A checked site that can be shown over time.
#[derive(Clone, Debug)]
pub struct Rehearsal {
    /// The site.
    pub site: Site,
    /// Its report.
    pub report: Report,
    /// Its wires, as the report uses them.
    pub wires: Wires,
    /// `None` without a plan.
    motions: Option<BodySets<Motion>>,
    bodies: BodyPairs,
    hold_points: Vec<HoldPoint>,
    stopped_at: Option<usize>,
}

/// A body at an instant.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// The body's name in the report.
    pub name: String,
    /// Which body it is.
    pub id: BodyId,
    /// What the body is to the rules.
    pub role: Role,
    /// How it is painted by whoever draws it.
    pub look: Look,
    /// Its convex solids. World frame, meters.
    pub hulls: Vec<Hull>,
}

impl Rehearsal {
    /// Checks a site and keeps everything needed to show it. Cost: that of [`crate::check::check`].
    pub fn of(site: &Site) -> Self {
        let mut findings = Vec::new();
        let prepared = Prepared::of(site, &mut findings);
        let (report, bodies) = check::report(&prepared, findings);
        let stopped_at = prepared.plan.as_ref().map_or(Some(0), |plan| plan.stopped_at);
        let hold_points = prepared.plan.as_ref().map_or(Vec::new(), |plan| plan.hold_points.clone());
        let wires = prepared.wires.clone();
        Self { site: site.clone(), report, wires, motions: prepared.into_motions(), bodies, hold_points, stopped_at }
    }

    /// The end of the last planned step, seconds.
    pub fn end_s(&self) -> f64 {
        self.motion(0).and_then(|motion| motion.pieces.last()).map_or(0.0, |piece| piece.time_to_s)
    }

    /// Index of the first step without a plan. Neither that step nor any later one was checked.
    pub fn stopped_at(&self) -> Option<usize> {
        self.stopped_at
    }

    /// The hold points of the plan, in order.
    pub fn hold_points(&self) -> &[HoldPoint] {
        &self.hold_points
    }

    /// Index of the step at a time, seconds. Times beyond the plan give its first or last step.
    pub fn step_at(&self, time_s: f64) -> usize {
        self.instant(time_s, 0).map_or(0, |(motion, piece, _)| motion.pieces.get(piece).map_or(0, |piece| piece.step))
    }

    /// Every body at a time, as the solids that the check proves. Empty without a plan.
    pub fn shapes(&self, time_s: f64) -> Vec<Shape> {
        let Some((motion, piece, u)) = self.instant(time_s, 0) else { return Vec::new() };
        let shape = |body: &BodyMotion| {
            let parts = body.parts.get(piece).map_or(&[][..], |parts| &parts[..]);
            Shape {
                name: body.name.clone(),
                id: body.id,
                role: body.role,
                look: body.look,
                hulls: parts.iter().map(|part| part.hull(u)).collect(),
            }
        };
        motion.bodies.iter().map(shape).collect()
    }

    /// What each body that moves in a step sweeps: closed surfaces that enclose it at every instant of the step.
    pub fn sweeps(&self, step: usize) -> Vec<(&BodyMotion, Swept)> {
        let Some(motion) = self.motion(0) else { return Vec::new() };
        let found = swept::in_step(motion, step, swept::COARSE);
        found.into_iter().filter_map(|(body, swept)| Some((body, swept?))).collect()
    }

    /// The outermost curves of every wire during a step in a weather case.
    pub fn curves(&self, step: usize, weather: usize) -> Vec<Curve> {
        self.wires.at_step(step, weather).flat_map(trace::curves_of_state).collect()
    }

    fn motion(&self, weather: usize) -> Option<&Motion> {
        self.motions.as_ref()?.in_weather(weather)
    }

    /// The motion, its piece, and the fraction within that piece.
    fn instant(&self, time_s: f64, weather: usize) -> Option<(&Motion, usize, f64)> {
        let motion = self.motion(weather)?;
        let piece = motion.pieces.partition_point(|piece| piece.time_from_s <= time_s).saturating_sub(1);
        let now = motion.pieces.get(piece)?;
        let long_s = now.time_to_s - now.time_from_s;
        let u = if long_s > 0.0 { ((time_s - now.time_from_s) / long_s).clamp(0.0, 1.0) } else { 0.0 };
        u.is_finite().then_some((motion, piece, u))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene;
    use glam::DVec3;

    pub(super) fn rehearsal() -> Rehearsal {
        let scene = scene::read_bytes("01", include_bytes!("../../scenes/01_juniper_lane.ron")).unwrap();
        Rehearsal::of(&scene.site().unwrap())
    }

    #[test]
    fn the_pole_is_where_the_steps_put_it() {
        let rehearsal = rehearsal();
        let lowest = |time_s: f64| {
            let shapes = rehearsal.shapes(time_s);
            let pole = shapes.iter().find(|shape| shape.id == BodyId::Pole).unwrap();
            pole.hulls
                .iter()
                .flat_map(|hull| &hull.features)
                .map(|corner| corner.farthest(-DVec3::Z).z)
                .fold(f64::INFINITY, f64::min)
        };
        assert!(lowest(0.0).abs() < 0.05, "lies on the ground");
        let depth_m = rehearsal.site.pole.setting_depth_m;
        assert!((lowest(rehearsal.end_s()) + depth_m).abs() < 0.05, "stands in its hole");
    }

    #[test]
    fn time_that_is_none_shows_an_instant_or_nothing() {
        let rehearsal = rehearsal();
        for time_s in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1.0, 1e300] {
            let _ = rehearsal.shapes(time_s);
            assert!(rehearsal.step_at(time_s) < rehearsal.site.steps.len());
        }
    }
}
