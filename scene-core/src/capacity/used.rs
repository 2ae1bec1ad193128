//! What one motion of the crane uses of each limit.

use crate::bracket::Bracket;
use crate::chart::{self, Reach};
use crate::finding::{OutsideChart, RuledBy, Ruler};
use crate::pole::Mass;
use crate::rigging::{GRAVITY_M_S2, sling_capacity_kg};
use crate::site::Site;

/// Where a percentage ends: beyond it the number says no more.
pub const UNRATED_PERCENT: f64 = 1e6;

/// What hangs on the hook during a motion.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LoadOnHook {
    /// Block and rigging only.
    None,
    /// The pole, its butt still on the ground.
    ButtGrounded,
    Whole,
}

/// Where the crane is over one motion of a step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MotionRange {
    pub step: usize,
    /// When it begins.
    pub time_s: f64,
    /// From the slew axis to the load's plumb line, as planned: nothing added.
    pub radius_m: Bracket,
    pub boom_length_m: Bracket,
    /// Above level, radians.
    pub boom_angle: Bracket,
    /// Counter-clockwise from over the front, radians.
    pub swing: Bracket,
    pub load: LoadOnHook,
    /// From the head sheave to the hook block.
    pub hoist_length_m: Bracket,
}

/// One limit over one motion.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    pub ruler: Ruler,
    pub load_kg: Bracket,
    /// Least to greatest over the motion.
    pub rated_kg: Bracket,
}

impl Limit {
    /// Percent of rated at every instant of the motion, low ≤ true ≤ high; a rating of zero gives [`UNRATED_PERCENT`].
    pub fn used_percent(&self) -> Bracket {
        let percent = |load: f64, rated: f64| {
            let percent = if rated > 0.0 { 100.0 * load / rated } else { UNRATED_PERCENT };
            percent.min(UNRATED_PERCENT)
        };
        let low = percent(self.load_kg.low(), self.rated_kg.high());
        Bracket::exactly(low).hull(Bracket::exactly(percent(self.load_kg.high(), self.rated_kg.low())))
    }
}

/// One motion: what rules it and by how much.
#[derive(Clone, Debug, PartialEq)]
pub struct Used {
    pub step: usize,
    pub time_s: f64,
    /// As looked up, growth and placing added.
    pub radius_m: Bracket,
    pub boom_length_m: Bracket,
    pub boom_angle: Bracket,
    /// Every limit that has a value; the chart is missing when the motion is outside it.
    pub limits: Vec<Limit>,
    /// Why the chart gives no rating.
    pub outside: Option<OutsideChart>,
}

impl Used {
    /// The limit that rules; `None` when the motion is outside the chart, for then nothing is rated.
    pub fn ruling(&self) -> Option<&Limit> {
        let high = |limit: &&Limit| limit.used_percent().high();
        if self.outside.is_some() {
            return None;
        }
        self.limits.iter().max_by(|a, b| high(a).total_cmp(&high(b)))
    }

    /// Percent of what rules, low ≤ true ≤ high over the motion; `None` when nothing is rated.
    pub fn percent(&self) -> Option<Bracket> {
        let high = self.ruling()?.used_percent().high();
        let low = self.limits.iter().map(|limit| limit.used_percent().low()).fold(0.0, f64::max);
        Bracket::between(low, high)
    }

    pub fn ruled_by(&self) -> Option<RuledBy> {
        match (self.ruling(), &self.outside) {
            (Some(limit), _) => Some(RuledBy::Limit(limit.ruler.clone())),
            (None, outside) => outside.clone().map(RuledBy::Outside),
        }
    }
}

pub(super) fn used(site: &Site, mass: &Mass, motion: &MotionRange) -> Used {
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
        Limit { ruler: Ruler::LinePull, load_kg: on_line, rated_kg: rated(pull_kg) },
        Limit { ruler: Ruler::HookBlock, load_kg: on_block, rated_kg: rated(crane.block.capacity_kg) },
    ];
    if let Some(capacity) = sling_capacity_kg(rigging) {
        limits.push(Limit { ruler: Ruler::Sling, load_kg: pole_kg, rated_kg: rated(capacity) });
    }
    let outside = match chart::rated(&crane.chart, &reach) {
        Ok(found) => {
            let ruler = Ruler::Chart { sector: found.sector, radius_m: found.radius_m, boom_m: found.boom_length_m };
            limits.insert(0, Limit { ruler, load_kg: on_chart, rated_kg: found.kg });
            None
        }
        Err(outside) => Some(outside),
    };
    Used {
        step: motion.step,
        time_s: motion.time_s,
        radius_m,
        boom_length_m: motion.boom_length_m,
        boom_angle: motion.boom_angle,
        limits,
        outside,
    }
}
