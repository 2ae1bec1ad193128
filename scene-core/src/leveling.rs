//! The ground under the outrigger pads: how much blocking levels the crane, how level the chart wants it, and what sloping ground
//! bears.
//!
//! ```text
//!            highest pad                 blocking of a pad: how far its ground lies below that of the highest pad;
//!      ●───────────────────●  level      jack stroke counts as blocking
//!      ▒▒▒▒▒▒▒▒▒▒▒         █  blocking   slope: rise over run under the mat, with every spot anywhere within its accuracy
//!      ░░░░░░░░░░░▒▒▒▒▒▒▒▒▒█
//! ```
//!
//! A weight on a slope presses on the ground at an angle. Ground that bears q under a level mat bears q·(1 − β/90°)² under one that
//! lies on a slope of β.
//!
//! Source: Meyerhof 1953, inclination factor (memory); it only takes from what the ground is stated to bear. That a chart usually
//! holds within 1 percent of level: ASME B30.5 (memory); it only prompts.
//!
//! Not modeled: a slope that slides, the edge of a bank, blocking that tips or crushes, the carrier's wheels.

use crate::bracket::Bracket;
use crate::finding::{self, Finding, Unit};
use crate::floats::{Float, NAMES};
use crate::site::Site;
use crate::terrain::Ground;
use glam::{DVec2, DVec3};
use std::f64::consts::FRAC_PI_2;

/// Out of level as a rise over run beyond which a chart usually does not hold.
const USUAL_LIMIT: f64 = 0.01;

/// The ground under one outrigger float.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pad {
    /// As [`Float::name`].
    pub name: &'static str,
    /// Its center in plan, meters.
    pub at: DVec2,
    /// What has to be put under it, or jacked, to level the crane with the highest pad on the ground, meters.
    pub blocking_m: Bracket,
    /// The steepest that the ground may be under its mat, rise over run.
    pub slope: f64,
}

/// The four pads in the order of [`NAMES`]; `None` without outriggers, or where a pad stands on ground that is not known.
pub fn pads(site: &Site, ground: &Ground) -> Option<Vec<Pad>> {
    let centers = centers(site)?;
    let heights: Vec<Bracket> = centers.iter().map(|at| ground.height(*at)).collect::<Option<_>>()?;
    let highest = |end: fn(Bracket) -> f64| heights.iter().copied().map(end).fold(f64::MIN, f64::max);
    let (least_top_m, most_top_m) = (highest(Bracket::low), highest(Bracket::high));
    let slopes = centers.iter().map(|at| slope_under(site, ground, *at)).collect::<Option<Vec<f64>>>()?;
    let mut pads = Vec::new();
    for (((name, at), height_m), slope) in NAMES.into_iter().zip(centers).zip(&heights).zip(slopes) {
        // A pad that may be the highest itself needs none at least.
        let low_m = (least_top_m - height_m.high()).max(0.0);
        let high_m = (most_top_m - height_m.low()).max(low_m);
        let level = matches!(ground, Ground::Flat { .. });
        let blocking_m = if level { Bracket::exactly(0.0) } else { Bracket::between(low_m, high_m)? };
        pads.push(Pad { name, at, blocking_m, slope });
    }
    Some(pads)
}

/// In plan, in the order of [`NAMES`].
fn centers(site: &Site) -> Option<[DVec2; 4]> {
    let outriggers = site.crane.outriggers.as_ref()?;
    let ahead = DVec2::from_angle(site.crane.heading);
    let at = site.crane.at.truncate();
    let place = |forward_m: f64, left_m: f64| at + ahead * forward_m + ahead.perp() * left_m;
    Some([
        place(outriggers.front_m, outriggers.left_m),
        place(outriggers.front_m, -outriggers.right_m),
        place(-outriggers.rear_m, outriggers.left_m),
        place(-outriggers.rear_m, -outriggers.right_m),
    ])
}

/// The steepest ground at the middle and the corners of a mat, however it is turned.
fn slope_under(site: &Site, ground: &Ground, at: DVec2) -> Option<f64> {
    let surface = match ground {
        Ground::Flat { .. } => return Some(0.0),
        Ground::Surveyed(surface) => surface,
    };
    let outriggers = site.crane.outriggers.as_ref()?;
    let reach_m = outriggers.mat_long_m.hypot(outriggers.mat_wide_m) / 2.0;
    let corners = (0..4).map(|i| DVec2::from_angle(f64::from(i) * FRAC_PI_2 + site.crane.heading) * reach_m);
    let under = std::iter::once(DVec2::ZERO).chain(corners).map(|off| Some(surface.slope(at + off)?.steepness.high()));
    under.collect::<Option<Vec<f64>>>()?.into_iter().reduce(|a, b| if a.is_nan() || a > b { a } else { b })
}

/// What is wrong with how the crane stands on its pads.
pub fn findings(site: &Site, ground: &Ground, floats: &[Float]) -> Vec<Finding> {
    let (Some(outriggers), Some(centers)) = (&site.crane.outriggers, centers(site)) else { return Vec::new() };
    let mut found = level(site);
    let Some(pads) = pads(site, ground) else {
        for (name, at) in NAMES.into_iter().zip(centers) {
            if slope_under(site, ground, at).is_none() || ground.height(at).is_none() {
                let fact = finding::Leveling::PadNotSurveyed { float: name };
                found.push(finding::stop(fact).at_place(at.extend(site.crane.at.z)));
            }
        }
        return found;
    };
    let place = |pad: &Pad| DVec3::new(pad.at.x, pad.at.y, site.crane.at.z);
    let lowest = pads.iter().max_by(|a, b| a.blocking_m.high().total_cmp(&b.blocking_m.high()));
    match (outriggers.leveling.blocking_m, lowest) {
        (Some(has_m), _) => found.extend(pads.iter().filter(|pad| pad.blocking_m.high() > has_m).map(|pad| {
            let need_m = pad.blocking_m.high();
            let fact = finding::Leveling::BlockingShort { float: pad.name, need_m, has_m };
            finding::stop(fact).measured(need_m, has_m, Unit::Meter).at_place(place(pad))
        })),
        (None, Some(lowest)) if falls(&pads, site) => {
            let need_m = lowest.blocking_m.high();
            let fact = finding::Leveling::BlockingNotStated { float: lowest.name, need_m };
            found.push(finding::caution(fact).at_place(place(lowest)));
        }
        (None, _) => {}
    }
    found.extend(floats.iter().zip(&pads).filter_map(|(float, pad)| {
        let share = slope_share(pad.slope);
        let bears_pa = outriggers.bearing_pa * share;
        // On level ground the floats' own finding says so.
        let short = float.pressure_pa > bears_pa && float.pressure_pa <= outriggers.bearing_pa;
        let (pressure_pa, slope) = (float.pressure_pa, pad.slope);
        let fact = finding::Leveling::BearingOnSlope { float: float.name, pressure_pa, bears_pa, slope };
        let finding = finding::stop(fact).measured(pressure_pa, bears_pa, Unit::Pascal);
        short.then(|| finding.at_step(float.step).at_time(float.time_s).at_place(place(pad)))
    }));
    found
}

/// The share that ground of a slope bears of what it bears level; 0 for a slope that is no number.
fn slope_share(slope: f64) -> f64 {
    let share = (1.0 - slope.atan() / FRAC_PI_2).powi(2);
    if share.is_finite() { share } else { 0.0 }
}

/// Somewhere the ground surely falls more from pad to pad than a chart usually allows the crane to be out of level.
fn falls(pads: &[Pad], site: &Site) -> bool {
    let Some(outriggers) = &site.crane.outriggers else { return false };
    let across_m = (outriggers.front_m + outriggers.rear_m).min(outriggers.left_m + outriggers.right_m);
    pads.iter().any(|pad| pad.blocking_m.middle() > USUAL_LIMIT * across_m)
}

/// How level the crew sets the crane against how level the chart wants it.
fn level(site: &Site) -> Vec<Finding> {
    let Some(outriggers) = &site.crane.outriggers else { return Vec::new() };
    let fact = match (outriggers.leveling.set_to, outriggers.leveling.chart_limit) {
        (Some(set_to), Some(limit)) if set_to > limit => {
            let fact = finding::Leveling::OutOfLevel { set_to, limit };
            return vec![finding::stop(fact).measured(set_to * 100.0, limit * 100.0, Unit::Percent)];
        }
        (Some(set_to), None) => finding::Leveling::LimitNotStated { set_to },
        (None, Some(limit)) => finding::Leveling::LevelNotStated { limit },
        _ => return Vec::new(),
    };
    vec![finding::caution(fact)]
}

#[cfg(test)]
mod tests;
