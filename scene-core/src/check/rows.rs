//! What the rooms found, as rows of the report.

use super::Prepared;
use crate::bracket::Bracket;
use crate::capacity::LimitUse;
use crate::conductor::{HoldState, PlacedFamily, WireState};
use crate::floats::Float;
use crate::leveling;
use crate::machine::Role;
use crate::outcome::{
    AllowanceRow, CapacityRow, ChokerRow, CircuitRow, ConditionsRow, FloatRow, GapRow, HeldOutRow, OtherKind, PoleRow,
    StepRow, WireRow,
};
use crate::rigging::{self, Slot, WayIn};
use crate::rules::{self, Exposure};
use crate::site::{Action, Circuit, Grounding, Site};

pub(super) fn pole(prepared: &Prepared) -> PoleRow {
    let site = prepared.site;
    let choker_m = site.rigging.choker_from_butt_m;
    let mass = prepared.mass.as_ref();
    let hold = mass.zip(prepared.hang.as_ref()).and_then(|(m, h)| rigging::hold_force_n(h, m, choker_m, 0.0, 0.0));
    PoleRow {
        name: site.pole.name.clone(),
        length_m: site.pole.length_m,
        mass_kg: mass.map(|m| m.kg.high()),
        mass_low_kg: mass.map(|m| m.kg.low()),
        balance_from_butt_m: mass.map(|m| m.balance_from_butt_m.high()),
        balance_low_from_butt_m: mass.map(|m| m.balance_from_butt_m.low()),
        pick_from_butt_m: choker_m,
        hang_tilt_deg: prepared.hang.as_ref().map(|h| h.tilt_rad.high().to_degrees()),
        butt_hold_force_n: hold.map(Bracket::high),
        hook_load_butt_grounded_kg: mass
            .and_then(|m| rigging::hook_load_butt_grounded_kg(m, choker_m))
            .map(Bracket::high),
        setting_depth_m: site.pole.setting_depth_m,
        source: mass.and_then(|m| m.parts.first()).map_or(String::new(), |part| part.source.clone()),
    }
}

/// One row per wire, weather and way of hanging, for the spans that pass the hole; none while a wire is being moved.
pub(super) fn wires(prepared: &Prepared) -> Vec<WireRow> {
    let site = prepared.site;
    let mut rows: Vec<WireRow> = Vec::new();
    for state in &prepared.wires.states {
        for placed in state.families.iter().filter(|placed| passes_the_hole(placed)) {
            let Some(summary) = &placed.summary else { continue };
            let tension = summary.horizontal_tension_n;
            let row = WireRow {
                wire: site.wires.get(state.wire).map_or(String::new(), |w| w.name.clone()),
                weather: site.weather.get(state.weather).map_or(String::new(), |w| w.name.clone()),
                state: in_words(state).to_owned(),
                span_m: summary.span_m,
                horizontal_tension_n: tension.map_or(f64::NAN, Bracket::middle),
                horizontal_tension_low_n: tension.map_or(f64::NAN, Bracket::low),
                horizontal_tension_high_n: tension.map_or(f64::NAN, Bracket::high),
                sag_m: summary.sag_m.middle(),
                sag_low_m: summary.sag_m.low(),
                sag_high_m: summary.sag_m.high(),
                blowout_deg: placed.family.blowout.high().to_degrees(),
                lowest_point: summary.lowest_point,
            };
            if !rows.contains(&row) {
                rows.push(row);
            }
        }
    }
    rows
}

fn passes_the_hole(placed: &PlacedFamily) -> bool {
    const ABEAM_M: f64 = 0.01;
    let [from, to] = placed.station_m;
    from.min(to) - ABEAM_M <= 0.0 && 0.0 <= from.max(to) + ABEAM_M
}

fn in_words(state: &WireState) -> &'static str {
    match state.hold_states.iter().map(|(_, place)| *place).find(|place| *place != HoldState::Natural) {
        Some(HoldState::Held) => "held out",
        Some(HoldState::BeingPlaced) => "being moved",
        _ => "as it hangs",
    }
}

/// The worst instant of each step with something on the hook.
pub(super) fn capacity(used: &[LimitUse]) -> Vec<CapacityRow> {
    let percent = |u: &LimitUse| u.percent().map_or(f64::INFINITY, Bracket::high);
    let mut worst: Vec<&LimitUse> = Vec::new();
    for one in used {
        match worst.last_mut() {
            Some(kept) if kept.step == one.step => {
                if percent(one) > percent(kept) {
                    *kept = one;
                }
            }
            _ => worst.push(one),
        }
    }
    worst.into_iter().map(capacity_row).collect()
}

fn capacity_row(used: &LimitUse) -> CapacityRow {
    let ruling = used.governing();
    CapacityRow {
        step: used.step,
        time_s: used.time_s,
        radius_m: used.radius_m.high(),
        boom_length_m: used.boom_length_m.high(),
        boom_angle_deg: used.boom_angle.low().to_degrees(),
        load_kg: ruling.or(used.limits.first()).map_or(f64::NAN, |limit| limit.load_kg.high()),
        rated_kg: ruling.map(|limit| limit.rated_kg.low()),
        used_percent: used.percent().map(Bracket::high),
        used_low_percent: used.percent().map(Bracket::low),
        ruled_by: used.ruled_by(),
    }
}

pub(super) fn floats(prepared: &Prepared, floats: &[Float]) -> Vec<FloatRow> {
    let site = prepared.site;
    let pads = prepared.ground.as_ref().ok().and_then(|ground| leveling::pads(site, ground)).unwrap_or_default();
    let blocking_m = |name: &str| pads.iter().find(|pad| pad.name == name).map(|pad| pad.blocking_m.high());
    let row = |float: &Float| FloatRow {
        blocking_m: blocking_m(float.name),
        name: float.name.to_owned(),
        max_n: float.most_n,
        step: float.step,
        pressure_pa: float.pressure_pa,
        allowed_pa: site.crane.outriggers.as_ref().map(|outriggers| outriggers.bearing_pa),
    };
    floats.iter().map(row).collect()
}

/// The worst weather of each held-out phase.
pub(super) fn held_out(prepared: &Prepared) -> Vec<HeldOutRow> {
    let site = prepared.site;
    site.held_out
        .iter()
        .enumerate()
        .map(|(index, held)| {
            let holds = || prepared.wires.holds.iter().filter(|hold| hold.held_out == index);
            let worst = |value: &dyn Fn(&crate::conductor::Hold) -> Option<f64>| {
                holds()
                    .map(value)
                    .try_fold(None, |most: Option<f64>, next| next.map(|n| Some(most.map_or(n, |m| m.max(n)))))
            };
            HeldOutRow {
                name: held.name.clone(),
                wire: site.wires.get(held.wire).map_or(String::new(), |w| w.name.clone()),
                side_force_n: worst(&|hold| hold.force_size_n.map(Bracket::high)).flatten(),
                tension_high_n: worst(&|hold| hold.greatest_tension_n).flatten(),
                on_after_step: held.during.on_after_step,
                off_before_step: held.during.off_before_step,
            }
        })
        .collect()
}

/// Choker heights for each way of entering, from how the wires hang abeam the hole.
pub(super) fn chokers(prepared: &Prepared, gaps: &[GapRow]) -> Vec<ChokerRow> {
    let (Some(mass), Some(slot)) = (&prepared.mass, slot(prepared, gaps)) else { return Vec::new() };
    let site = prepared.site;
    rigging::choker_options(&site.pole, mass, &site.rigging, &site.crane, &slot)
        .into_iter()
        .map(|option| ChokerRow {
            way: match option.way {
                WayIn::OverTheTop => "over the top",
                WayIn::FromBelow => "up from below",
                WayIn::Sideways => "sideways past a held-out phase",
            }
            .to_owned(),
            low_from_butt_m: option.from_butt_m.map(Bracket::low),
            high_from_butt_m: option.from_butt_m.map(Bracket::high),
            why: option.why,
        })
        .collect()
}

/// The wires as they hang when the pole is at the hole: at the last step before release.
fn slot(prepared: &Prepared, gaps: &[GapRow]) -> Option<Slot> {
    let site = prepared.site;
    let release = site.steps.iter().position(|step| matches!(step.action, Action::Release))?;
    let mut heights: Option<Bracket> = None;
    let mut sides: Vec<(f64, Bracket)> = Vec::new();
    for weather in 0..site.weather.len() {
        for state in prepared.wires.at_step(release, weather) {
            let mut across: Option<Bracket> = None;
            for placed in state.families.iter().filter(|placed| passes_the_hole(placed)) {
                let (height, side) = abeam(site, placed)?;
                heights = Some(heights.map_or(height, |h| h.hull(height)));
                across = Some(across.map_or(side, |a| a.hull(side)));
            }
            sides.extend(across.map(|a| (a.middle(), a)));
        }
    }
    let heights = heights?;
    let left =
        sides.iter().filter(|(middle, _)| *middle < 0.0).map(|(_, a)| a.high()).fold(f64::NEG_INFINITY, f64::max);
    let right = sides.iter().filter(|(middle, _)| *middle >= 0.0).map(|(_, a)| a.low()).fold(f64::INFINITY, f64::min);
    let opening = Bracket::between(0.0, (right - left).max(0.0)).map(|b| Bracket::exactly(b.high()))?;
    let required_m = (0..site.wires.len())
        .filter_map(|wire| {
            rules::required(site, Role::MachineConductive, wire, Exposure::PhaseToPhase).ok().map(|r| r.distance_m)
        })
        .fold(0.0, f64::max);
    Some(Slot {
        ground_m: site.hole.at.z,
        highest_wire_m: heights,
        lowest_wire_m: heights,
        opening_m: opening,
        mad_m: required_m,
        allowance_m: gaps
            .iter()
            .filter(|gap| gap.body == "hook block" && gap.other_kind == OtherKind::Wire)
            .map(|gap| gap.allowance_m)
            .fold(0.0, f64::max),
        butt_lift_m: BUTT_LIFT_M,
    })
}

/// How high a butt is carried over the ground beside a hole (common practice: about two feet).
const BUTT_LIFT_M: f64 = 0.6;

/// Where a family is abeam the hole: heights, and offsets across the line, positive to the left of its run.
fn abeam(site: &Site, placed: &PlacedFamily) -> Option<(Bracket, Bracket)> {
    let [from, to] = placed.station_m;
    let t = (-from / (to - from)).clamp(0.0, 1.0);
    let t = if t.is_finite() { t } else { return None };
    let patch = placed.family.patch(Bracket::exactly(t));
    let extent = placed.family.extent(&patch);
    let height = Bracket::between(extent.low.z, extent.high.z)?;
    let lateral = placed.family.lateral;
    let hole = site.hole.at;
    let mut across: Option<Bracket> = None;
    for x in [extent.low.x, extent.high.x] {
        for y in [extent.low.y, extent.high.y] {
            let offset = lateral.x * (x - hole.x) + lateral.y * (y - hole.y);
            let offset = Bracket::between(offset, offset)?;
            across = Some(across.map_or(offset, |a| a.hull(offset)));
        }
    }
    across.map(|across| (height, across))
}

pub(super) fn steps(prepared: &Prepared) -> Vec<StepRow> {
    let site = prepared.site;
    let plan = prepared.plan.as_ref();
    site.steps
        .iter()
        .enumerate()
        .map(|(index, step)| {
            let time = plan.and_then(|plan| plan.steps.get(index));
            let mut signals: Vec<String> = Vec::new();
            if let (Some(plan), Some(time)) = (plan, time) {
                for piece in plan.pieces.get(time.pieces.clone()).unwrap_or(&[]) {
                    let crane = piece.signals.iter().filter(|_| !piece.still()).map(|signal| signal.name());
                    let lifts = piece.lifts.iter().enumerate().filter_map(|(lift, run)| Some((lift, run.does?)));
                    let lifts = lifts.map(|(lift, does)| site.lift_body_name(lift, does));
                    for signal in crane.map(str::to_owned).chain(lifts) {
                        if signals.last() != Some(&signal) {
                            signals.push(signal);
                        }
                    }
                }
            }
            StepRow {
                step: index,
                name: step.name.clone(),
                from_s: time.map_or(f64::NAN, |t| t.from_s),
                to_s: time.map_or(f64::NAN, |t| t.to_s),
                signals,
                hold: match &step.action {
                    Action::Hold { question } => Some(question.clone()),
                    _ => None,
                },
            }
        })
        .collect()
}

pub(super) fn allowances(site: &Site) -> Vec<AllowanceRow> {
    let stated = &site.allowances;
    [
        ("survey", &stated.survey),
        ("placing", &stated.placing),
        ("radius growth", &stated.radius_growth),
        ("load swing at the hook", &stated.load_swing),
        ("line movement", &stated.line_movement),
    ]
    .into_iter()
    .chain(stated.guide_play.iter().map(|play| ("play in the pole guides", play)))
    .map(|(what, stated)| AllowanceRow { what, value_m: stated.value, reason: stated.reason.clone() })
    .collect()
}

pub(super) fn sources(prepared: &Prepared) -> Vec<String> {
    let site = prepared.site;
    let mut sources = vec![format!("Load chart: {}", site.crane.chart.source)];
    for wire in &site.wires {
        let source = format!("Conductor {}: {}", wire.conductor.name, wire.conductor.source);
        if !sources.contains(&source) {
            sources.push(source);
        }
    }
    if let Some(mass) = &prepared.mass {
        sources.extend(mass.parts.iter().map(|part| format!("Mass of {}: {}", part.name, part.source)));
    }
    sources.push(
        "Approach distances: 29 CFR 1910.269 Tables R-6 and R-7; crane distances: 29 CFR 1926.1408 Table A.".into(),
    );
    sources.push("Cover classes: 29 CFR 1910.137 Table I-4; ASTM F712 (from memory).".into());
    sources
}

pub(super) fn conditions(site: &Site) -> ConditionsRow {
    let circuit = |circuit: &Circuit| CircuitRow {
        name: circuit.name.clone(),
        voltage_v: circuit.voltage_v,
        grounding: match circuit.grounding {
            Grounding::EffectivelyGrounded => "effectively grounded",
            Grounding::Ungrounded => "not effectively grounded",
        },
    };
    ConditionsRow {
        altitude_m: site.altitude_m,
        circuits: site.circuits.iter().map(circuit).collect(),
        wind_m_s: site.weather.iter().map(|weather| weather.wind_m_s).reduce(f64::max),
    }
}
