//! The bucket truck's steps: one control after the other, nothing of the crane moving.

use super::{Done, Walk, is_measure, not_a_number, stop};
use crate::bracket::Bracket;
use crate::bucket::reach::ReachError;
use crate::bucket::{Joints, pose};
use crate::crane::outward_range;
use crate::finding::{Bucket, BucketJoint, Finding, NotANumber, Unit};
use crate::sequence::{BucketMove, BucketRun, Path};
use crate::site::bucket::{BucketControl, BucketPose, BucketTruck, Linkage};
use std::f64::consts::FRAC_PI_2;

/// In which a careful operator brings the bucket to its work: the lower boom up and the slew while the bucket is still low,
/// then the upper boom in the upright plane of the work, so that the bucket comes up from below, and extends last.
const TOWARD: [BucketControl; 4] =
    [BucketControl::Lower, BucketControl::Slew, BucketControl::Upper, BucketControl::Extend];

impl<'a> Walk<'a> {
    pub(super) fn bucket_to(&mut self, wanted: &BucketPose) -> Done {
        let site = self.site;
        let (truck, now) = self.truck()?;
        let Some(rim) = pose::rim_wanted(site, &wanted.at).filter(|rim| rim.to_array().into_iter().all(is_measure))
        else {
            return Err(stop(Bucket::PlaceMissing));
        };
        let goal = truck.reach(rim, &now, wanted.elbow).map_err(out_of_reach)?;
        // Whoever leaves a wire is still near it; whoever goes from one wire straight to another is excused from the second
        // alone, so that two potentials are never excused at once.
        self.works_on = wanted.works_on.or(self.works_on);
        let order = wanted.order.iter().chain(TOWARD.iter().filter(|control| !wanted.order.contains(control)));
        for &control in order {
            self.bucket_control(truck, control, &goal)?;
        }
        self.works_on = wanted.works_on;
        Ok(())
    }

    pub(super) fn bucket_stow(&mut self) -> Done {
        let (truck, now) = self.truck()?;
        let mut goal = truck.stowed_joints();
        goal.slew = crate::crane::reach::turn_within(goal.slew, now.slew, truck.slew)
            .map_err(|by| out_of_reach(ReachError::Limit { control: BucketControl::Slew, by }))?;
        for control in TOWARD.into_iter().rev() {
            self.bucket_control(truck, control, &goal)?;
        }
        self.works_on = None;
        Ok(())
    }

    fn truck(&self) -> Result<(&'a BucketTruck, Joints), Box<Finding>> {
        match (&self.site.bucket_truck, self.bucket) {
            (Some(truck), Some(now)) => Ok((truck, now)),
            _ => Err(stop(Bucket::NoTruck)),
        }
    }

    fn bucket_control(&mut self, truck: &'a BucketTruck, control: BucketControl, goal: &Joints) -> Done {
        let Some(now) = self.bucket else { return Ok(()) };
        let to = truck.moved(&now, control, goal);
        let by = (to.slew - now.slew).abs()
            + (to.lower - now.lower).abs().max((to.upper - now.upper).abs())
            + (to.length_m - now.length_m).abs();
        if by <= 1e-12 {
            return Ok(());
        }
        if let Some((_, beyond)) = truck.beyond_limits(&to) {
            return Err(stop(Bucket::Linkage { joint: joint(control), by: beyond }));
        }
        self.keeps_bucket_up(truck, control, &now, &to)?;
        let rate = match control {
            BucketControl::Slew => truck.rates.slew_rad_s,
            BucketControl::Lower => truck.rates.lower_rad_s,
            BucketControl::Upper => truck.rates.upper_rad_s,
            BucketControl::Extend => truck.rates.extend_m_s,
        };
        let rated = rate > 0.0 && rate.is_finite();
        if !rated {
            return Err(stop(Bucket::RateMissing));
        }
        let run = match control {
            BucketControl::Slew => to.slew - now.slew,
            BucketControl::Lower => to.lower - now.lower,
            BucketControl::Upper => to.upper - now.upper,
            BucketControl::Extend => to.length_m - now.length_m,
        };
        self.push(self.now, self.seat, Path::Even, run.abs() / rate);
        let works_on = self.works_on;
        if let Some(piece) = self.plan.pieces.last_mut() {
            let does = Some(BucketMove::of(control, &now, &to));
            piece.bucket = Some(BucketRun { from: now, to, works_on, does });
        }
        self.bucket = Some(to);
        Ok(())
    }

    /// The floor of the bucket stays above the ground at the truck, at every instant of one control's move.
    fn keeps_bucket_up(&self, truck: &BucketTruck, control: BucketControl, from: &Joints, to: &Joints) -> Done {
        let lower_m = truck.lower_length_m();
        let follows = matches!(truck.linkage, Linkage::Articulating { upper_follows: true, .. });
        // The height of an arm that turns about a level pin: highest and lowest over its range of angles.
        let height = |arm_m: f64, from: f64, to: f64| {
            let quarter = Bracket::exactly(FRAC_PI_2);
            outward_range(Bracket::exactly(arm_m), 0.0, Bracket::exactly(from).hull(Bracket::exactly(to)) - quarter)
                .low()
        };
        let tip = |joints: &Joints| lower_m * joints.lower.sin() + joints.length_m * joints.upper.sin();
        let least_tip_m = match control {
            BucketControl::Slew | BucketControl::Extend => tip(from).min(tip(to)),
            BucketControl::Upper => lower_m * from.lower.sin() + height(from.length_m, from.upper, to.upper),
            BucketControl::Lower if follows => {
                let out_m = lower_m * from.lower.cos() + from.length_m * from.upper.cos();
                let angle = tip(from).atan2(out_m);
                height(out_m.hypot(tip(from)), angle, angle + to.lower - from.lower)
            }
            BucketControl::Lower => height(lower_m, from.lower, to.lower) + from.length_m * from.upper.sin(),
        };
        let floor_m = truck.pin_height_m + least_tip_m - truck.bucket.below_m - truck.bucket.height_m;
        if floor_m > 0.0 {
            return Ok(());
        }
        Err(Box::new(stop(Bucket::BelowGround { by_m: -floor_m }).measured(floor_m, 0.0, Unit::Meter)))
    }
}

fn joint(control: BucketControl) -> BucketJoint {
    match control {
        BucketControl::Lower => BucketJoint::Lower,
        BucketControl::Slew => BucketJoint::Slew,
        BucketControl::Upper => BucketJoint::Upper,
        BucketControl::Extend => BucketJoint::Extend,
    }
}

fn out_of_reach(error: ReachError) -> Box<Finding> {
    Box::new(match error {
        ReachError::NotANumber => *not_a_number(NotANumber::BucketTruck),
        ReachError::TooFar { by_m } => stop(Bucket::TooFar { by_m }).measured(by_m, 0.0, Unit::Meter),
        ReachError::TooNear { by_m } => stop(Bucket::TooNear { by_m }).measured(by_m, 0.0, Unit::Meter),
        ReachError::Limit { control, by } => {
            stop(Bucket::BeyondLimit { joint: joint(control), by }).measured(by, 0.0, Unit::Radian)
        }
    })
}
