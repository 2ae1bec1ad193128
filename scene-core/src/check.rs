//! Gathers what every room found into one report.

mod absence;
mod basis;
mod carriers;
mod circuits;
mod copied;
mod figures;
mod foundations;
mod from_memory;
mod ground;
mod holders;
mod impossible;
mod lift;
mod order;
mod people;
mod prepared;
mod rows;
mod sweeps;
mod unusual;
mod wind;

pub(crate) use prepared::Prepared;

use crate::capacity::{self, LoadOnHook, MotionRange};
use crate::finding::{Finding, Grade};
use crate::outcome::{Report, Verdict};
use crate::pairs::{self, BodyPairs, HungWires};
use crate::premise::NotChecked;
use crate::sequence::LoadState;
use crate::site::Site;
use crate::{cover, floats, leveling, setting};

/// Checks a site. Pure: the same site gives the same report.
pub fn check(site: &Site) -> Report {
    let mut findings = Vec::new();
    let prepared = Prepared::of(site, &mut findings);
    report(&prepared, findings).0
}

/// The same with what each body sweeps, which takes longer than all the rest.
pub fn check_and_sweep(site: &Site) -> Report {
    let mut findings = Vec::new();
    let prepared = Prepared::of(site, &mut findings);
    Report { swept: sweeps::swept(&prepared), ..report(&prepared, findings).0 }
}

/// The report, and which bodies those of its gaps are of that are not to wires.
pub(crate) fn report(prepared: &Prepared, mut findings: Vec<Finding>) -> (Report, BodyPairs) {
    let site = prepared.site;
    let (capacity, floats) = hold_against_chart(prepared, &mut findings);
    let ground = prepared.ground.as_ref().ok();
    findings.extend(ground.map_or(Vec::new(), |ground| leveling::findings(site, ground, &floats)));
    let steps = prepared.plan.as_ref().map_or(0, |plan| plan.steps.len());
    let wires = HungWires::of(site, &prepared.wires, steps);
    let inputs = prepared.inputs(&wires);

    let mut gaps = Vec::new();
    let mut bodies = BodyPairs::default();
    if let Some(inputs) = &inputs {
        findings.extend(prepared.motion_findings());
        gaps = pairs::to_wires(inputs, &mut findings);
        // What stands there says by which rule it is kept from, so it comes last.
        bodies.others = [pairs::other_machines(inputs), pairs::surroundings(inputs)].concat();
        bodies.first_row = gaps.len();
        let rows = pairs::to_bodies(inputs, &bodies.others, &mut findings);
        gaps.extend(rows.0);
        bodies.pairs = rows.1;
        findings.extend(pairs::under_load(inputs));
        findings.extend(pairs::wire_ends(inputs));
        findings.extend(pairs::by_hand(inputs));
    }
    findings.extend(copied::findings(site));
    findings.extend(carriers::findings(site));
    findings.extend(holders::findings(site));
    findings.extend(circuits::findings(site));
    findings.extend(unusual::findings(prepared));
    findings.extend(order::findings(site));
    findings.extend(wind::findings(prepared));
    findings.extend(impossible::findings(prepared));
    findings.extend(floats::spread(site));
    findings.extend(setting::findings(&site.pole));
    findings.extend(from_memory::findings(site));
    findings.extend(absence::findings(site));
    findings.extend(from_memory::covers(site, &gaps));
    findings.extend(lift::findings(prepared));
    findings.extend(people::findings(site));
    findings.extend(pairs::wire_spacing(site, &prepared.wires));
    let way_out = inputs.map_or(Vec::new(), |inputs| pairs::way_back(&inputs, &gaps, &mut findings));
    findings.sort_by(|a, b| b.grade.cmp(&a.grade).then(a.step.cmp(&b.step)));

    let not_checked = foundations::not_checked(prepared);
    let report = Report {
        scene: site.name.clone(),
        verdict: verdict(&findings, &not_checked),
        conditions: rows::conditions(site),
        basis: basis::row(site),
        pole: rows::pole(prepared),
        wires: rows::wires(prepared),
        capacity: rows::capacity(&capacity),
        floats: rows::floats(prepared, &floats),
        covers: cover::rows(site),
        held_out: rows::held_out(prepared),
        chokers: rows::chokers(prepared, &gaps),
        steps: rows::steps(prepared),
        gaps,
        way_out,
        swept: Vec::new(),
        allowances: rows::allowances(site),
        findings,
        assumed: foundations::assumed(prepared),
        not_checked,
        sources: rows::sources(prepared),
    };
    (report, bodies)
}

/// The crane's motions against its chart, and what they bring on its floats.
fn hold_against_chart(
    prepared: &Prepared,
    findings: &mut Vec<Finding>,
) -> (Vec<capacity::LimitUse>, Vec<floats::Float>) {
    let (Some(mass), Some(plan)) = (&prepared.mass, &prepared.plan) else { return Default::default() };
    let motions: Vec<MotionRange> = plan
        .pieces
        .iter()
        .filter(|piece| piece.load != LoadState::Unknown)
        .map(|piece| {
            let range = piece.range(&plan.chain.crane);
            MotionRange {
                step: piece.step,
                time_s: piece.time_from_s,
                radius_m: range.radius_m,
                boom_length_m: range.boom_length_m,
                boom_angle: range.boom_angle,
                swing: range.swing,
                load: match range.load {
                    LoadState::Free | LoadState::Standing | LoadState::Unknown => LoadOnHook::None,
                    LoadState::ButtOnGround { .. } => LoadOnHook::ButtGrounded,
                    LoadState::Hanging => LoadOnHook::Whole,
                },
                hoist_length_m: range.hoist_length_m,
            }
        })
        .collect();
    let held = capacity::capacity(prepared.site, mass, &motions);
    findings.extend(held.findings);
    let pressed = floats::floats(prepared.site, mass, &motions);
    findings.extend(pressed.findings);
    (held.motions, pressed.floats)
}

fn verdict(findings: &[Finding], not_checked: &[NotChecked]) -> Verdict {
    match findings.iter().map(|f| f.grade).max() {
        Some(Grade::Stop) => Verdict::Stop,
        Some(Grade::Caution) => Verdict::Caution,
        _ if !not_checked.is_empty() => Verdict::Caution,
        _ => Verdict::NoStopFound,
    }
}
