//! The steps of the aerial lifts: one control after the other, nothing else moving.

use super::{Done, Walk, is_measure, not_a_number, stop};
use crate::finding::{Bucket, BucketJoint, Finding, NotANumber, Unit};
use crate::machine::joint::{self, Joint, JointKind, JointValues};
use crate::machine::lift::{ReachError, StandingLift};
use crate::sequence::{LiftMotion, Path, pose};
use crate::site::pose::BucketPose;

/// A lift as it stands now, and the wire that is worked on from it.
pub(super) struct LiftNow {
    at: JointValues,
    works_on: Option<usize>,
    leaves: Option<usize>,
    /// `false` from the step on that it could not do.
    pub(super) is_known: bool,
}

impl LiftNow {
    pub(super) fn at_rest(lift: &StandingLift) -> Self {
        Self { at: lift.at_rest(), works_on: None, leaves: None, is_known: true }
    }

    /// While something else moves.
    pub(super) fn stands(&self) -> LiftMotion {
        let works_on = self.works_on.filter(|_| self.is_known);
        LiftMotion { from: self.at, to: self.at, works_on, leaves: self.leaves, does: None, is_known: self.is_known }
    }
}

impl<'a> Walk<'a> {
    pub(super) fn bucket_to(&mut self, wanted: &BucketPose) -> Done {
        let site = self.site;
        let of_lift = |finding: Box<Finding>| Box::new(site.of_lift(wanted.lift, *finding));
        self.bring_bucket(wanted).map_err(of_lift)
    }

    pub(super) fn bucket_stow(&mut self, lift: usize) -> Done {
        let site = self.site;
        let of_lift = |finding: Box<Finding>| Box::new(site.of_lift(lift, *finding));
        self.stow_bucket(lift).map_err(of_lift)
    }

    fn bring_bucket(&mut self, wanted: &BucketPose) -> Done {
        let site = self.site;
        let (lift, now) = self.lift(wanted.lift)?;
        let Some(rim) = pose::rim_wanted(site, &wanted.at).filter(|rim| rim.to_array().into_iter().all(is_measure))
        else {
            return Err(stop(Bucket::PlaceMissing));
        };
        let joints = lift.joints();
        let goal = lift.reach(rim, &now, wanted.elbow).map_err(|error| out_of_reach(&joints, error))?;
        // Whoever leaves a wire is still near it; whoever goes from one wire straight to another is excused from the second
        // alone, so that two potentials are never excused at once. The cover that he put on the first is told apart: it may
        // be brushed on the way out.
        if let Some(now) = self.lifts.get_mut(wanted.lift) {
            now.leaves = now.works_on.filter(|before| wanted.works_on.is_some_and(|next| next != *before));
        }
        self.works_on(wanted.lift, |before| wanted.works_on.or(before));
        let control = |joint: &usize| joints.get(*joint).map(|joint| joint.control);
        let stated = wanted.order.iter().filter_map(|control| joints.iter().position(|j| j.control == *control));
        let rest = (0..joints.len()).filter(|joint| control(joint).is_some_and(|c| !wanted.order.contains(&c)));
        for joint in stated.chain(rest) {
            self.move_joint(wanted.lift, &joints, joint, &goal)?;
        }
        self.works_on(wanted.lift, |_| wanted.works_on);
        if let Some(now) = self.lifts.get_mut(wanted.lift) {
            now.leaves = None;
        }
        Ok(())
    }

    fn stow_bucket(&mut self, lift: usize) -> Done {
        let (standing, now) = self.lift(lift)?;
        let joints = standing.joints();
        let home = joint::way_home(&joints, &now)
            .map_err(|(joint, by)| out_of_reach(&joints, ReachError::Limit { joint, by }))?;
        for joint in (0..joints.len()).rev() {
            self.move_joint(lift, &joints, joint, &home)?;
        }
        self.works_on(lift, |_| None);
        Ok(())
    }

    fn lift(&self, lift: usize) -> Result<(&'a StandingLift, JointValues), Box<Finding>> {
        match (self.site.lifts.get(lift), self.lifts.get(lift)) {
            (Some(standing), Some(now)) => Ok((standing, now.at)),
            _ => Err(stop(Bucket::NoTruck)),
        }
    }

    fn works_on(&mut self, lift: usize, wire: impl Fn(Option<usize>) -> Option<usize>) {
        if let Some(now) = self.lifts.get_mut(lift) {
            now.works_on = wire(now.works_on);
        }
    }

    fn move_joint(&mut self, lift: usize, joints: &[Joint], control: usize, goal: &JointValues) -> Done {
        let (standing, now) = self.lift(lift)?;
        let to = joint::moved(joints, &now, control, goal);
        let by = (0..joints.len()).map(|joint| (to[joint] - now[joint]).abs()).fold(0.0, f64::max);
        if by <= 1e-12 {
            return Ok(());
        }
        let Some(moving) = joints.get(control) else { return Ok(()) };
        if let Some((_, beyond)) = joint::beyond_limits(joints, &to) {
            return Err(stop(Bucket::Linkage { joint: named(moving), by: beyond }));
        }
        // The floor of the bucket stays above the ground at the machine, at every instant of one control's move.
        let floor_m = standing.lowest_floor_m(control, &now, &to);
        let is_above = floor_m > 0.0;
        if !is_above {
            return Err(Box::new(stop(Bucket::BelowGround { by_m: -floor_m }).measured(floor_m, 0.0, Unit::Meter)));
        }
        let rate = moving.rate;
        let rated = rate > 0.0 && rate.is_finite();
        if !rated {
            return Err(stop(Bucket::RateMissing));
        }
        self.push(self.now, self.seat, Path::Even, (to[control] - now[control]).abs() / rate);
        let does = Some(moving.does(now[control], to[control]));
        let moved = self.plan.pieces.last_mut().and_then(|piece| piece.lifts.get_mut(lift));
        if let (Some(motion), Some(known)) = (moved, self.lifts.get_mut(lift)) {
            *motion =
                LiftMotion { from: now, to, works_on: known.works_on, leaves: known.leaves, does, is_known: true };
            known.at = to;
        }
        Ok(())
    }
}

fn named(joint: &Joint) -> BucketJoint {
    BucketJoint { name: joint.name, is_length: joint.kind == JointKind::Length }
}

fn out_of_reach(joints: &[Joint], error: ReachError) -> Box<Finding> {
    Box::new(match error {
        ReachError::NotANumber => *not_a_number(NotANumber::BucketTruck),
        ReachError::TooFar { by_m } => stop(Bucket::TooFar { by_m }).measured(by_m, 0.0, Unit::Meter),
        ReachError::TooNear { by_m } => stop(Bucket::TooNear { by_m }).measured(by_m, 0.0, Unit::Meter),
        ReachError::Limit { joint, by } => match joints.get(joint) {
            Some(joint) => stop(Bucket::BeyondLimit { joint: named(joint), by }).measured(by, 0.0, Unit::Radian),
            None => *not_a_number(NotANumber::BucketTruck),
        },
    })
}
