//! The greatest force on each outrigger float, and the pressure under its mat, over the whole path.
//!
//! ```text
//!            front
//!      1 ●─────────────● 2      ahead: from the axis of rotation, positive toward the carrier's front
//!        │   L ·  + V  │        left:  positive to its left
//!        │      ⊙      │        V: the resultant of all weights; the floats are at (front, left) … (−rear, −right)
//!      3 ●─────────────● 4
//!            rear
//! ```
//!
//! The crane is a rigid body on four supports that can push but not pull: a statically indeterminate system.
//! Equilibrium gives the force on each pair of floats. The two front floats together carry V·φ and the two left floats
//! V·λ, with φ = (rear + ahead of V)/(front + rear) and λ = (right + left of V)/(left + right). Frame, jacks and ground
//! share these among the floats in an unknown way. But no float carries more than either pair that it belongs to: at
//! most V·min(φ, λ). It carries exactly that much when the float diagonally opposite lifts, the trade's three-support
//! case. When φ or λ leaves 0 … 1, the crane tips.
//!
//! Every figure is an interval over a motion. The swing is cut into small steps, so that a corner's force is tight to a
//! few percent.
//!
//! Source: equilibrium of a rigid body; the three-support case as in Shapiro, Shapiro and Shapiro, Cranes and Derricks
//! (from memory, not checked against the book).
//!
//! Not modeled: dynamic force, wind, a crane out of level ([`crate::leveling`] asks how level it is set), bending of outriggers or mats, mats at an edge.

use crate::bracket::Bracket;
use crate::capacity::{LoadOnHook, MotionRange};
use crate::finding::{self, Finding, Unit};
use crate::pole::Mass;
use crate::rigging::GRAVITY_M_S2;
use crate::site::{FloatSpread, Outriggers, Site};

/// The widest step of swing, radians.
const CUT_RAD: f64 = 0.02;
/// The most steps in one motion. With [`CUT_RAD`] they reach more than three times around.
const MOST_CUTS: usize = 1000;

/// The floats in their order.
pub const NAMES: [&str; 4] = ["front left", "front right", "rear left", "rear right"];

/// The greatest force on one float.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Float {
    /// "front left", "front right", "rear left" or "rear right", seen in the carrier's own direction.
    pub name: &'static str,
    /// The greatest force, newtons, rounded up by interval arithmetic.
    pub most_n: f64,
    /// Index of the step in which it occurs.
    pub step: usize,
    /// Start of the motion in which it occurs, seconds from the start of the plan.
    pub time_s: f64,
    /// The force spread evenly under the mat, pascals.
    pub pressure_pa: f64,
}

/// The forces on all four floats, with findings.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Floats {
    /// Front left, front right, rear left, rear right. Empty when the scene states no outriggers.
    pub floats: Vec<Float>,
    /// What stops the lift: tipping, a float above the ground's bearing, or figures that cannot be used.
    pub findings: Vec<Finding>,
}

/// All weights at one motion, low and high: their sum in kilograms, and their moments about the axis of rotation in
/// kilogram meters, toward where the boom points (`outward`) and toward the carrier's front (`carrier_ahead`).
#[derive(Clone, Copy, Debug)]
struct Weights {
    kg: Bracket,
    outward: Bracket,
    carrier_ahead: f64,
}

/// The greatest force on each float over all motions. Cost: microseconds for a motion that swings half around.
pub fn floats(site: &Site, mass: &Mass, motions: &[MotionRange]) -> Floats {
    let Some(outriggers) = &site.crane.outriggers else { return Floats::default() };
    if let Some(finding) = missing(outriggers) {
        return Floats { floats: Vec::new(), findings: vec![finding] };
    }
    let mut worst: [Option<Float>; 4] = [None; 4];
    let mut tips: Option<&MotionRange> = None;
    let area_m2 = outriggers.mat_long_m * outriggers.mat_wide_m;
    for motion in motions {
        let weights = weights(site, outriggers, mass, motion);
        let cuts = ((motion.swing.width() / CUT_RAD).ceil().max(1.0) as usize).min(MOST_CUTS);
        for cut in 0..cuts {
            let end = |i: usize| motion.swing.at(i as f64 / cuts as f64);
            let swing = Bracket::exactly(end(cut)).hull(Bracket::exactly(end(cut + 1)));
            let (most_n, holds) = pressing(outriggers, &weights, swing);
            if !holds && tips.is_none() {
                tips = Some(motion);
            }
            for ((slot, name), most_n) in worst.iter_mut().zip(NAMES).zip(most_n) {
                // NaN counts as the worst.
                if slot.is_none_or(|float| most_n.is_nan() || most_n > float.most_n) {
                    let pressure_pa = most_n / area_m2;
                    *slot = Some(Float { name, most_n, step: motion.step, time_s: motion.time_s, pressure_pa });
                }
            }
        }
    }
    let floats: Vec<Float> = worst.into_iter().flatten().collect();
    let mut findings: Vec<Finding> = tips.map(over).into_iter().collect();
    findings.extend(floats.iter().filter_map(|float| judge(outriggers, float)));
    Floats { floats, findings }
}

fn missing(outriggers: &Outriggers) -> Option<Finding> {
    let Outriggers { front_m, rear_m, left_m, right_m, mat_long_m, mat_wide_m, .. } = outriggers;
    let above = |v: f64| v > 0.0 && v < 1e9;
    let sound = [*front_m + *rear_m, *left_m + *right_m, *mat_long_m, *mat_wide_m, outriggers.carrier_kg]
        .into_iter()
        .chain([outriggers.upper_kg, outriggers.boom_kg, outriggers.bearing_pa])
        .all(above);
    let told = [outriggers.carrier_ahead_m, outriggers.upper_behind_m]
        .into_iter()
        .chain(outriggers.boom_centre_m)
        .all(|v| v.is_finite());
    (!sound || !told).then(|| finding::stop(finding::Capacity::FloatsUnknown))
}

/// Rounding of a spread, meters: the width of a float's mark.
const SPREAD_M: f64 = 0.02;

/// Whether the floats stand as far apart as the chart was made for. A chart holds for no narrower stance.
pub fn spread(site: &Site) -> Option<Finding> {
    let Some(outriggers) = &site.crane.outriggers else {
        return Some(finding::stop(finding::Capacity::SpreadNotStated));
    };
    let Some(FloatSpread { along_m, across_m }) = site.crane.chart.floats else {
        return Some(finding::stop(finding::Capacity::ChartSpreadNotStated));
    };
    let (along, across) = (outriggers.front_m + outriggers.rear_m, outriggers.left_m + outriggers.right_m);
    // NaN is not wide enough.
    let is_wide = |stands_m: f64, chart_m: f64| stands_m >= chart_m - SPREAD_M;
    let narrow = |is_across: bool, stands_m: f64, chart_m: f64| {
        let fact = finding::Capacity::SpreadNarrow { is_across, stands_m, chart_m };
        finding::stop(fact).measured(stands_m, chart_m, Unit::Meter)
    };
    if !is_wide(across, across_m) {
        return Some(narrow(true, across, across_m));
    }
    (!is_wide(along, along_m)).then(|| narrow(false, along, along_m))
}

/// The weights at one motion. The load's moment uses the radius with growth and placing allowance added.
fn weights(site: &Site, outriggers: &Outriggers, mass: &Mass, motion: &MotionRange) -> Weights {
    let (crane, allowances) = (&site.crane, &site.allowances);
    let exactly = Bracket::exactly;
    let load_kg = match motion.load {
        LoadOnHook::None => exactly(0.0),
        // The hook may carry any share of it.
        LoadOnHook::ButtGrounded => exactly(0.0).hull(mass.kg),
        LoadOnHook::Whole => mass.kg,
    };
    let line_kg = motion.hoist_length_m * (f64::from(crane.parts_of_line) * crane.line_kg_per_m);
    let hung_kg = load_kg + exactly(site.rigging.mass_kg + crane.block.mass_kg) + line_kg.hull(exactly(0.0));
    let growth_m = allowances.radius_growth.value + allowances.placing.value;
    let radius_m = motion.radius_m.hull(motion.radius_m + exactly(growth_m));

    let [retracted_m, extended_m] = outriggers.boom_centre_m;
    let (least_m, most_m) = (crane.boom_length_m.low(), crane.boom_length_m.high());
    let center_m = |length_m: f64| {
        let share = if most_m > least_m { (length_m - least_m) / (most_m - least_m) } else { 0.0 };
        retracted_m + (extended_m - retracted_m) * share
    };
    let along_m = exactly(center_m(motion.boom_length_m.low())).hull(exactly(center_m(motion.boom_length_m.high())));
    let cos = cosines(motion.boom_angle);
    let boom_m = product(along_m, cos) + exactly(crane.foot_offset_m + growth_m).hull(exactly(crane.foot_offset_m));
    Weights {
        kg: hung_kg + exactly(outriggers.carrier_kg + outriggers.upper_kg + outriggers.boom_kg),
        outward: product(hung_kg, radius_m)
            + boom_m * outriggers.boom_kg
            + exactly(-outriggers.upper_kg * outriggers.upper_behind_m),
        carrier_ahead: outriggers.carrier_kg * outriggers.carrier_ahead_m,
    }
}

/// The greatest force on each float over a step of swing, newtons, and whether the crane stays on all its floats. Swing
/// is in radians counterclockwise from the front.
fn pressing(outriggers: &Outriggers, weights: &Weights, swing: Bracket) -> ([f64; 4], bool) {
    let Outriggers { front_m, rear_m, left_m, right_m, .. } = *outriggers;
    let quarter = Bracket::exactly(std::f64::consts::FRAC_PI_2);
    let ahead = product(weights.outward, cosines(swing)) + Bracket::exactly(weights.carrier_ahead);
    let left = product(weights.outward, cosines(swing - quarter));
    let pair = |moment: Bracket, from_m: f64, across_m: f64| (weights.kg * from_m + moment) * (1.0 / across_m);
    // In kilograms: both front floats together, both rear floats together, and so on.
    let fronts = pair(ahead, rear_m, front_m + rear_m);
    let rears = pair(ahead * -1.0, front_m, front_m + rear_m);
    let lefts = pair(left, right_m, left_m + right_m);
    let rights = pair(left * -1.0, left_m, left_m + right_m);
    let most = |one: Bracket, other: Bracket| GRAVITY_M_S2 * one.high().min(other.high()).max(0.0);
    let holds = [fronts, rears, lefts, rights].iter().all(|pair| pair.low() >= 0.0);
    ([most(fronts, lefts), most(fronts, rights), most(rears, lefts), most(rears, rights)], holds)
}

fn over(motion: &MotionRange) -> Finding {
    finding::stop(finding::Capacity::FloatsLift).at_step(motion.step).at_time(motion.time_s)
}

fn judge(outriggers: &Outriggers, float: &Float) -> Option<Finding> {
    if float.pressure_pa <= outriggers.bearing_pa {
        return None;
    }
    let (pressure_pa, bears_pa) = (float.pressure_pa, outriggers.bearing_pa);
    let fact = finding::Capacity::FloatBearing { float: float.name, force_n: float.most_n, pressure_pa, bears_pa };
    let finding = finding::stop(fact).measured(pressure_pa, bears_pa, Unit::Pascal);
    Some(finding.at_step(float.step).at_time(float.time_s))
}

/// The cosine over a range of angles.
fn cosines(angle: Bracket) -> Bracket {
    let (low, high) = (angle.low(), angle.high());
    let mut range = Bracket::exactly(low.cos()).hull(Bracket::exactly(high.cos()));
    // Multiples of π inside the range give ±1.
    let turns = |at: f64| ((high - at) / std::f64::consts::TAU).floor() >= ((low - at) / std::f64::consts::TAU).ceil();
    if turns(0.0) {
        range = range.hull(Bracket::exactly(1.0));
    }
    if turns(std::f64::consts::PI) {
        range = range.hull(Bracket::exactly(-1.0));
    }
    range.widened(1e-12)
}

fn product(a: Bracket, b: Bracket) -> Bracket {
    let ends = [a.low() * b.low(), a.low() * b.high(), a.high() * b.low(), a.high() * b.high()];
    ends.into_iter().map(Bracket::exactly).reduce(Bracket::hull).unwrap_or(a)
}

#[cfg(test)]
mod tests;
