//! Findings about rated capacity and joint limits.

use super::used::{LimitUse, MotionRange};
use crate::bracket::Bracket;
use crate::finding::{self, CapacityFigure, Fact, Finding, Grade, LimitKind, OutsideChart, Unit};
use crate::rigging::sling_capacity_kg;
use crate::site::Site;
use std::f64::consts::TAU;

/// Above this a motion is a caution (common practice near a line; 29 CFR 1926.1417(o)(3) asks for a verified weight
/// above it, from memory).
pub const NEAR_RATED_PERCENT: f64 = 75.0;

/// Above this, use of line pull is a caution, because block efficiency is not known.
const IDEAL_LINE_PERCENT: f64 = 75.0;

/// Rounding by which a joint may pass its stop; radians or meters.
const REACHED: f64 = 1e-6;

/// A stop for each figure without which nothing has a rating.
pub(super) fn faults(site: &Site) -> Vec<Finding> {
    let (crane, rigging, allowances) = (&site.crane, &site.rigging, &site.allowances);
    let above = |v: f64| v > 0.0 && v < 1e9;
    let from_zero = |v: f64| (0.0..1e9).contains(&v);
    [
        (crane.parts_of_line > 0, CapacityFigure::PartsOfLine),
        (above(crane.line_pull_n), CapacityFigure::LinePull),
        (from_zero(crane.line_kg_per_m), CapacityFigure::LineWeight),
        (above(crane.block.capacity_kg), CapacityFigure::BlockCapacity),
        (from_zero(crane.block.mass_kg), CapacityFigure::BlockMass),
        (from_zero(rigging.mass_kg), CapacityFigure::RiggingMass),
        (sling_capacity_kg(rigging).is_some(), CapacityFigure::Sling),
        (from_zero(crane.chart.deductions_kg), CapacityFigure::Deductions),
        (from_zero(allowances.radius_growth.value), CapacityFigure::RadiusGrowth),
        (from_zero(allowances.placing.value), CapacityFigure::Placing),
    ]
    .into_iter()
    .filter(|(sound, _)| !sound)
    .map(|(_, what)| finding::stop(finding::Capacity::FigureMissing { what }))
    .collect()
}

/// The findings of one motion.
pub(super) fn judge(site: &Site, motion: &MotionRange, used: &LimitUse) -> Vec<Finding> {
    let named = site.steps.get(motion.step).map_or("a step without a name", |step| step.name.as_str());
    let step = || named.to_owned();
    let mut found = Vec::new();
    if let Some(outside) = &used.outside {
        let (value, limit) = match *outside {
            OutsideChart::Radius { radius_m, from_m, to_m, .. } => {
                (radius_m, if radius_m < from_m { from_m } else { to_m })
            }
            _ => (used.radius_m.high(), f64::NAN),
        };
        let fact = finding::Capacity::OutsideChart { step: step(), why: outside.clone() };
        found.push(finding::stop(fact).measured(value, limit, Unit::Meter));
    }
    for limit in &used.limits {
        let percent = limit.used_percent().high();
        let (load_kg, limit_kind, rated_kg) = (limit.load_kg.high(), limit.limit_kind.clone(), limit.rated_kg.low());
        if percent > 100.0 {
            let fact = finding::Capacity::OverRated { step: step(), load_kg, limit_kind, rated_kg, percent };
            found.push(finding::stop(fact).measured(percent, 100.0, Unit::Percent));
        } else if percent > NEAR_RATED_PERCENT {
            let fact = finding::Capacity::NearRated { step: step(), load_kg, limit_kind, rated_kg, percent };
            found.push(finding::caution(fact).measured(percent, NEAR_RATED_PERCENT, Unit::Percent));
        }
    }
    found.extend(joints(site, motion, named));
    found.into_iter().map(|finding| finding.at_step(motion.step).at_time(motion.time_s)).collect()
}

/// Boom angle, boom length and swing compared with the crane's limits.
fn joints(site: &Site, motion: &MotionRange, step: &str) -> Vec<Finding> {
    let crane = &site.crane;
    let beyond = |range: Bracket, stops: Bracket| {
        let over = (range.high() - stops.high(), range.high(), stops.high());
        let under = (stops.low() - range.low(), range.low(), stops.low());
        let worst = if over.0 >= under.0 { over } else { under };
        // NaN counts as beyond the stop.
        (worst.0 > REACHED || worst.0.is_nan()).then_some((worst.1, worst.2))
    };
    let step = || step.to_owned();
    let mut found = Vec::new();
    if let Some((value, limit)) = beyond(motion.boom_angle, crane.boom_angle) {
        let fact = finding::Capacity::BoomAngle { step: step(), angle: value, limit };
        found.push(finding::stop(fact).measured(value, limit, Unit::Radian));
    }
    if let Some((value, limit)) = beyond(motion.boom_length_m, crane.boom_length_m) {
        let fact = finding::Capacity::BoomLength { step: step(), length_m: value, limit_m: limit };
        found.push(finding::stop(fact).measured(value, limit, Unit::Meter));
    }
    if crane.swing.width() < TAU - REACHED {
        let turns = ((motion.swing.middle() - crane.swing.middle()) / TAU).round() * TAU;
        if let Some((value, limit)) = beyond(motion.swing - Bracket::exactly(turns), crane.swing) {
            let fact = finding::Capacity::Swing { step: step(), swing: value, limit };
            found.push(finding::stop(fact).measured(value, limit, Unit::Radian));
        }
    }
    found
}

/// A reminder that line pull ignores block efficiency.
pub(super) fn ideal_line(motions: &[LimitUse]) -> Option<Finding> {
    let limits = motions.iter().flat_map(|used| &used.limits).filter(|limit| limit.limit_kind == LimitKind::LinePull);
    let percent = limits.map(|limit| limit.used_percent().high()).reduce(f64::max)?;
    let grade = if percent > IDEAL_LINE_PERCENT { Grade::Caution } else { Grade::Note };
    let ideal = Finding::new(grade, finding::Capacity::LinePullIdeal { percent });
    Some(ideal.measured(percent, IDEAL_LINE_PERCENT, Unit::Percent))
}

/// Keeps one finding of each kind in each step: the worst. A different correction makes a different kind.
pub(super) fn keep_worst(found: &mut Vec<Finding>, new: Finding) {
    let excess = |f: &Finding| {
        let by = f.measured.zip(f.limit).map_or(0.0, |(measured, limit)| (measured.value - limit.value).abs());
        if by.is_finite() { by } else { 0.0 }
    };
    // What is too weak is mended by itself.
    let too_weak = |f: &Finding| match &f.fact {
        Fact::Capacity(finding::Capacity::OverRated { limit_kind, .. }) => Some(std::mem::discriminant(limit_kind)),
        _ => None,
    };
    match found.iter_mut().find(|f| f.code() == new.code() && f.step == new.step && too_weak(f) == too_weak(&new)) {
        Some(old) if excess(old) >= excess(&new) => {}
        Some(old) => *old = new,
        None => found.push(new),
    }
}
