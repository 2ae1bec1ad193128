//! The joints of a machine: limits, rates, the control that moves each, and what the operator does with it.

use super::crane::reach::turn_within;
use crate::bracket::Bracket;
use std::ops::Index;

/// Joints that a machine may have.
pub const MOST_JOINTS: usize = 6;

/// Rounding at a limit: radians or meters.
pub const AT_LIMIT: f64 = 1e-9;

/// The value of each joint of a machine, by the joint's index: radians or meters. What the machine does not have is 0.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct JointValues([f64; MOST_JOINTS]);

impl JointValues {
    /// Those beyond [`MOST_JOINTS`] are left out.
    pub fn of(values: &[f64]) -> Self {
        let mut all = Self::default();
        all.0.iter_mut().zip(values).for_each(|(slot, value)| *slot = *value);
        all
    }

    /// Every joint at the fraction u of its way to `to`.
    #[must_use]
    pub fn toward(&self, to: &Self, u: f64) -> Self {
        Self(std::array::from_fn(|joint| self[joint] + (to[joint] - self[joint]) * u))
    }
}

/// A joint that there is not reads as not a number, so that nothing is proven with it.
impl Index<usize> for JointValues {
    type Output = f64;
    fn index(&self, joint: usize) -> &f64 {
        self.0.get(joint).unwrap_or(&f64::NAN)
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JointKind {
    /// About the upright axis that the machine stands on, counterclockwise from its front; not wrapped.
    Rotation,
    /// Of a boom from level, up.
    Elevation,
    /// Meters.
    Length,
}

/// The word of a control in a scene.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Control {
    Lower,
    Rotate,
    Upper,
    Extend,
}

/// A joint of a lift, and the control that moves it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint {
    pub kind: JointKind,
    pub control: Control,
    /// "the … would be 3 ft beyond its limit".
    pub name: &'static str,
    /// What the operator does to have more of it, and less, in the trade's words. A boom is raised when its tip comes up:
    /// beyond plumb its angle grows while it comes down.
    pub does: [&'static str; 2],
    /// Its key in a trace, unit included.
    pub key: &'static str,
    pub limits: Bracket,
    /// The limits hold for its value less that of this joint.
    pub less: Option<usize>,
    /// A joint that goes along when this one is moved.
    pub carries: Option<usize>,
    /// The fastest in this job: radians or meters per second.
    pub rate: f64,
    /// Its value at rest.
    pub rest: f64,
}

impl Joint {
    /// What the operator does to bring it from one value to the other.
    pub fn does(&self, from: f64, to: f64) -> &'static str {
        let more = match self.kind {
            JointKind::Elevation => to.sin() >= from.sin(),
            JointKind::Rotation | JointKind::Length => to >= from,
        };
        let [raise, lower] = self.does;
        if more { raise } else { lower }
    }
}

/// Where the joints are at rest.
pub fn at_rest(joints: &[Joint]) -> JointValues {
    let mut values = JointValues::default();
    values.0.iter_mut().zip(joints).for_each(|(slot, joint)| *slot = joint.rest);
    values
}

/// The joints at rest, turned there the shorter way that the limits allow; the joint that is beyond them, with how far, when
/// they allow none.
pub fn way_home(joints: &[Joint], now: &JointValues) -> Result<JointValues, (usize, f64)> {
    let mut home = at_rest(joints);
    for (index, (slot, joint)) in home.0.iter_mut().zip(joints).enumerate() {
        if joint.kind == JointKind::Rotation {
            *slot = turn_within(*slot, now[index], joint.limits).map_err(|by| (index, by))?;
        }
    }
    Ok(home)
}

/// One control moved until its joint is that of `goal`; what it carries comes along.
#[must_use]
pub fn moved(joints: &[Joint], now: &JointValues, control: usize, goal: &JointValues) -> JointValues {
    let mut to = *now;
    // Its own cylinder sets the joint; what carries it and has still to go will bring it the rest of the way.
    let still_to_come: f64 = joints
        .iter()
        .enumerate()
        .filter(|(_, joint)| joint.carries == Some(control))
        .map(|(by, _)| goal[by] - now[by])
        .sum();
    if let Some(slot) = to.0.get_mut(control) {
        *slot = goal[control] - still_to_come;
    }
    if let Some(carried) = joints.get(control).and_then(|joint| joint.carries)
        && let Some(slot) = to.0.get_mut(carried)
    {
        *slot = now[carried] + (goal[control] - now[control]);
    }
    to
}

/// The first joint that is beyond its limits, with how far. A rotation is held to its own by `turn_within`.
pub fn beyond_limits(joints: &[Joint], at: &JointValues) -> Option<(usize, f64)> {
    joints.iter().enumerate().filter(|(_, joint)| joint.kind != JointKind::Rotation).find_map(|(index, joint)| {
        let value = at[index] - joint.less.map_or(0.0, |less| at[less]);
        let by = (joint.limits.low() - value).max(value - joint.limits.high());
        // NaN is beyond every limit, and every value is beyond a limit that is not known.
        let within = joint.limits.is_bounded() && by <= AT_LIMIT;
        (!within).then_some((index, by))
    })
}

/// Each joint is where it rests, to a millionth; whole turns do not count.
pub fn is_at_rest(joints: &[Joint], at: &JointValues) -> bool {
    const AT_REST: f64 = 1e-6;
    joints.iter().enumerate().all(|(index, joint)| {
        let off = match joint.kind {
            JointKind::Rotation => super::crane::reach::shortest_turn(joint.rest, at[index]).abs(),
            JointKind::Elevation | JointKind::Length => (at[index] - joint.rest).abs(),
        };
        off <= AT_REST
    })
}
