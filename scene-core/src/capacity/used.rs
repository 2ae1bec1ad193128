//! How much of each limit one motion of the crane uses.

use crate::bracket::Bracket;
use crate::chart::{self, Reach};
use crate::finding::{LimitKind, OutsideChart, RuledBy};
use crate::pole::Mass;
use crate::rigging::{GRAVITY_M_S2, sling_capacity_kg};
use crate::site::Site;

/// The largest percentage shown. A larger number tells nothing more.
pub const UNRATED_PERCENT: f64 = 1e6;

/// What hangs on the hook during a motion.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LoadOnHook {
    /// Block and rigging only.
    None,
    /// The pole, with its butt still on the ground.
    ButtGrounded,
    /// The whole pole.
    Whole,
}

/// The crane's position over one motion of a step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MotionRange {
    /// Index of the step.
    pub step: usize,
    /// Start of the motion, seconds from the start of the plan.
    pub time_s: f64,
    /// From the axis of rotation to the load's plumb line as planned, meters. Growth and allowances are not included.
    pub radius_m: Bracket,
    /// Meters.
    pub boom_length_m: Bracket,
    /// Above horizontal, radians.
    pub boom_angle: Bracket,
    /// Counterclockwise from over the front, radians.
    pub swing: Bracket,
    /// What hangs on the hook.
    pub load: LoadOnHook,
    /// From the head sheave to the hook block, meters.
    pub hoist_length_m: Bracket,
}

/// One limit over one motion.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// Which limit.
    pub limit_kind: LimitKind,
    /// The load that counts against it, kg.
    pub load_kg: Bracket,
    /// The smallest and the largest rating over the motion, kg.
    pub rated_kg: Bracket,
}

impl Limit {
    /// Load as a percentage of rated at every instant of the motion, low ≤ true ≤ high. A rating of zero gives
    /// [`UNRATED_PERCENT`].
    pub fn used_percent(&self) -> Bracket {
        let percent = |load: f64, rated: f64| {
            let percent = if rated > 0.0 { 100.0 * load / rated } else { UNRATED_PERCENT };
            percent.min(UNRATED_PERCENT)
        };
        let low = percent(self.load_kg.low(), self.rated_kg.high());
        Bracket::exactly(low).hull(Bracket::exactly(percent(self.load_kg.high(), self.rated_kg.low())))
    }
}

/// One motion with the limits it uses.
#[derive(Clone, Debug, PartialEq)]
pub struct LimitUse {
    /// Index of the step.
    pub step: usize,
    /// Start of the motion, seconds from the start of the plan.
    pub time_s: f64,
    /// The radius at which the chart was read, meters: growth and placing allowance included.
    pub radius_m: Bracket,
    /// Meters.
    pub boom_length_m: Bracket,
    /// Above horizontal, radians.
    pub boom_angle: Bracket,
    /// Every limit with a rating. The chart is missing when the motion is outside it.
    pub limits: Vec<Limit>,
    /// Why the chart has no rating.
    pub outside: Option<OutsideChart>,
}

impl LimitUse {
    /// The limit with the highest percentage; `None` when the motion is outside the chart, because then nothing is
    /// rated.
    pub fn governing(&self) -> Option<&Limit> {
        let high = |limit: &&Limit| limit.used_percent().high();
        if self.outside.is_some() {
            return None;
        }
        self.limits.iter().max_by(|a, b| high(a).total_cmp(&high(b)))
    }

    /// Percentage of the governing limit, low ≤ true ≤ high over the motion; `None` when nothing is rated.
    pub fn percent(&self) -> Option<Bracket> {
        let high = self.governing()?.used_percent().high();
        let low = self.limits.iter().map(|limit| limit.used_percent().low()).fold(0.0, f64::max);
        Bracket::between(low, high)
    }

    /// The governing limit, or the reason why there is no rating; `None` without both.
    pub fn ruled_by(&self) -> Option<RuledBy> {
        match (self.governing(), &self.outside) {
            (Some(limit), _) => Some(RuledBy::Limit(limit.limit_kind.clone())),
            (None, outside) => outside.clone().map(RuledBy::Outside),
        }
    }
}

/// The use of every limit over one motion.
pub(super) fn used(site: &Site, mass: &Mass, motion: &MotionRange) -> LimitUse {
    let (crane, rigging, allowances) = (&site.crane, &site.rigging, &site.allowances);
    let pole_kg = match motion.load {
        LoadOnHook::None => Bracket::exactly(0.0),
        LoadOnHook::ButtGrounded | LoadOnHook::Whole => mass.kg,
    };
    let [shortest, longest] = [motion.hoist_length_m.low(), motion.hoist_length_m.high()].map(|m| m.max(0.0));
    let line_kg = Bracket::exactly(shortest).hull(Bracket::exactly(longest))
        * (f64::from(crane.parts_of_line) * crane.line_kg_per_m);
    let on_block = pole_kg + Bracket::exactly(rigging.mass_kg);
    let on_line = on_block + Bracket::exactly(crane.block.mass_kg) + line_kg;
    let on_chart = on_line + Bracket::exactly(crane.chart.deductions_kg);

    let growth = allowances.radius_growth.value + allowances.placing.value;
    let radius_m = Bracket::exactly(motion.radius_m.low()).hull(Bracket::exactly(motion.radius_m.high() + growth));
    let reach = Reach { radius_m, boom_length_m: motion.boom_length_m, swing: motion.swing };

    let rated = |kg: f64| Bracket::exactly(kg);
    let pull_kg = f64::from(crane.parts_of_line) * crane.line_pull_n / GRAVITY_M_S2;
    let mut limits = vec![
        Limit { limit_kind: LimitKind::LinePull, load_kg: on_line, rated_kg: rated(pull_kg) },
        Limit { limit_kind: LimitKind::HookBlock, load_kg: on_block, rated_kg: rated(crane.block.capacity_kg) },
    ];
    if let Some(capacity) = sling_capacity_kg(rigging) {
        limits.push(Limit { limit_kind: LimitKind::Sling, load_kg: pole_kg, rated_kg: rated(capacity) });
    }
    let outside = match chart::rated(&crane.chart, &reach) {
        Ok(found) => {
            let limit_kind =
                LimitKind::Chart { sector: found.sector, radius_m: found.radius_m, boom_m: found.boom_length_m };
            limits.insert(0, Limit { limit_kind, load_kg: on_chart, rated_kg: found.kg });
            None
        }
        Err(outside) => Some(outside),
    };
    LimitUse {
        step: motion.step,
        time_s: motion.time_s,
        radius_m,
        boom_length_m: motion.boom_length_m,
        boom_angle: motion.boom_angle,
        limits,
        outside,
    }
}
