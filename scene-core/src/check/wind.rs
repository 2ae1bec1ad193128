//! Up to which wind the work is proven, and whether the swing allowance holds what the machine's own motion does to the load.
//!
//! Each motion that moves the line's top sideways sets the load swinging. Model: a simple pendulum in small motion. Its support
//! goes from rest to the speed v, at once or evenly over the time T. With ω² = g/l the amplitude after the start is
//!
//! ```text
//! at once      v/ω                              angle  v/√(g·l)
//! over T       (v/ω)·|sin(ωT/2)| / (ωT/2)       at most 2·v/(T·ω²), angle 2·v/(T·g)
//! ```
//!
//! Source: the undamped oscillator whose base moves at a ramped speed, as in any textbook of vibration (Timoshenko, Young and
//! Weaver, Vibration Problems in Engineering; from memory, derivation above).
//!
//! Assumed: line, rigging and pole swing in one line as a pendulum of the length to the pole's balance point; the load hangs
//! still when a motion starts; a stop does not add to the swing of the start. Not modeled: wind, which is an allowance of its own;
//! double-pendulum motion; gusts.

use super::Prepared;
use crate::finding::{self, Finding, Unit, Wind};
use crate::machine::crane::Joint;
use crate::machine::crane::chain::Seat;
use crate::rigging::GRAVITY_M_S2;
use crate::sequence::{LoadState, Piece, Plan};
use crate::site::{Site, WindLimit};

pub(super) fn findings(prepared: &Prepared) -> Vec<Finding> {
    let mut found = limits(prepared.site);
    found.extend(prepared.plan.as_ref().and_then(|plan| swing(prepared, plan)));
    found
}

/// A wind above zero that somebody stands for.
fn stated(limit: Option<&WindLimit>) -> Option<f64> {
    let sound = |wind_m_s: f64| wind_m_s > 0.0 && wind_m_s.is_finite();
    limit.filter(|limit| sound(limit.wind_m_s) && !limit.source.trim().is_empty()).map(|limit| limit.wind_m_s)
}

fn limits(site: &Site) -> Vec<Finding> {
    let mut found = Vec::new();
    match stated(site.stop_work_wind.as_ref()) {
        None => found.push(finding::stop(Wind::StopWorkMissing)),
        Some(stop_work_m_s) if !site.weather.iter().any(|case| case.wind_m_s >= stop_work_m_s) => {
            let most_m_s = site.weather.iter().map(|case| case.wind_m_s).fold(0.0, f64::max);
            found.push(finding::stop(Wind::CasesBelowStopWork { most_m_s, stop_work_m_s }));
        }
        Some(_) => {}
    }
    let crane = || site.crane.name.clone();
    let Some(limit_m_s) = stated(site.crane.wind_limit.as_ref()) else {
        found.push(finding::stop(Wind::CraneLimitMissing { crane: crane() }));
        return found;
    };
    // NaN is not within the limit.
    let within = |wind_m_s: f64| wind_m_s <= limit_m_s;
    found.extend(site.weather.iter().filter(|case| !within(case.wind_m_s)).map(|case| {
        let (weather, wind_m_s) = (case.name.clone(), case.wind_m_s);
        finding::stop(Wind::OverCraneLimit { weather, crane: crane(), wind_m_s, limit_m_s })
    }));
    found
}

/// A load's swing against the allowance for it, at one place of the load.
struct Swing {
    at_butt: bool,
    swing_m: f64,
    allowed_m: f64,
}

/// The motion that swings the load the farthest beyond the allowance.
fn swing(prepared: &Prepared, plan: &Plan) -> Option<Finding> {
    let worst = plan.pieces.iter().filter(|piece| hangs(piece)).flat_map(|piece| {
        let swings = of_piece(prepared, plan, piece).into_iter().flatten();
        // NaN is not within the allowance.
        let within = |swing: &Swing| swing.swing_m <= swing.allowed_m;
        swings.filter(move |swing| !within(swing)).map(move |swing| (piece, swing))
    });
    let over = |swing: &Swing| swing.swing_m - swing.allowed_m;
    let (piece, Swing { at_butt, swing_m, allowed_m }) =
        worst.max_by(|(_, one), (_, other)| over(one).total_cmp(&over(other)))?;
    let ramp_s = prepared.site.crane.ramp_s;
    let fact = Wind::SwingAllowanceShort { at_butt, swing_m, allowed_m, ramp_s };
    let short = finding::caution(fact).measured(swing_m, allowed_m, Unit::Meter);
    Some(short.at_step(piece.step).at_time(piece.time_from_s))
}

fn hangs(piece: &Piece) -> bool {
    matches!(piece.load, LoadState::Hanging) && matches!(piece.seat, Seat::OnHook)
}

/// At the hook and at the butt; `None` where nothing moves the line's top sideways, or the load is not known.
fn of_piece(prepared: &Prepared, plan: &Plan, piece: &Piece) -> Option<[Swing; 2]> {
    let site = prepared.site;
    let (crane, rigging) = (&site.crane, &site.rigging);
    let speed_m_s = top_speed_m_s(site, plan, piece);
    if speed_m_s == 0.0 {
        return None;
    }
    let to_hook_m = piece.span(Joint::HoistLength).high() + crane.block.length_m;
    let to_choke_m = to_hook_m + rigging.length_m;
    let below_choke_m = rigging.choker_from_butt_m - prepared.mass.as_ref()?.balance_from_butt_m.low();
    let at_once = speed_m_s / (GRAVITY_M_S2 * (to_choke_m + below_choke_m.max(0.0))).sqrt();
    let angle = match crane.ramp_s.filter(|ramp_s| *ramp_s > 0.0) {
        Some(ramp_s) => at_once.min(2.0 * speed_m_s / (ramp_s * GRAVITY_M_S2)),
        None => at_once,
    };
    let allowances = &site.allowances;
    let below_hook_m = rigging.length_m + rigging.choker_from_butt_m;
    Some([(false, 0.0), (true, below_hook_m)].map(|(at_butt, below_m)| Swing {
        at_butt,
        swing_m: angle * (to_hook_m + below_m),
        allowed_m: allowances.load_swing.value + allowances.load_swing_growth.value * below_m,
    }))
}

/// How fast the line's top may move sideways, by every joint that moves, at the rates that the operator may use.
fn top_speed_m_s(site: &Site, plan: &Plan, piece: &Piece) -> f64 {
    let rates = &site.crane.rates;
    let range = piece.range(&plan.chain.crane);
    let rate = |joint: Joint, m_s: f64| if piece.moves(joint) { m_s } else { 0.0 };
    let along_m = range.boom_length_m.high() + site.crane.head.along_m.abs() + site.crane.head.below_m.abs();
    rate(Joint::Swing, rates.swing_rad_s * range.radius_m.high())
        + rate(Joint::BoomAngle, rates.boom_rad_s * along_m * range.boom_angle.high().clamp(0.0, 1.6).sin())
        + rate(Joint::BoomLength, rates.extend_m_s * range.boom_angle.low().cos().abs())
}
