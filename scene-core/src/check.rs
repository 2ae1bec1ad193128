//! Gathers what every room found into one report.

mod figures;
mod ground;
mod lift;
mod prepared;
mod rows;
mod sweeps;

pub(crate) use prepared::Prepared;

use crate::capacity::{self, LoadOnHook, MotionRange};
use crate::finding::{Finding, Grade};
use crate::outcome::{Assumed, Report, Verdict};
use crate::pairs::{self, BodyPairs, HungWires};
use crate::sequence::LoadState;
use crate::site::Site;
use crate::{cover, floats, setting};

/// What a report must never be silent about: everything of the job that this build does not look at.
const NOT_CHECKED: &[&str] = &[
    "Bodies against each other: sections of a boom, booms of a bucket truck, and what hangs on one hook, among themselves.",
    "The ground between spot elevations, curbs and ditches but by spots along them; sway and growth of trees.",
    "The pole and its rigging against the ground while it lies, rises, is lowered or turned on the spot: only the butt's height.",
    "Hole, backfill, facing within tolerance, plumb, pole tag.",
    "People: barricade, what the observer sees from his place, touch and step potential; everybody whose place is not stated.",
    "Laying the pole down anywhere but where it was picked up; taking it out of its hole again once it has been let go.",
    "The order in which covers go on and come off from each bucket position.",
    "The line work while covers and held-out phases are put on and taken off, but for where the wires may be.",
    "Speed of the load, swinging beyond the stated allowances, shock, side load on the boom.",
    "Wind on covers that the pole wears, beyond the pole's own side area.",
    "Condition of pole, hardware, rigging and machines.",
];

/// The same of a digger derrick.
const DERRICK_NOT_CHECKED: [&str; 4] = [
    "The pole against the derrick's own boom and boom tip from its upending on: men and guides lead it there, and the boom leaves it from there.",
    "Digging loads on boom, winch and outriggers; rock, roots, wet ground and caving of the hole; spoil.",
    "Strength of guides and boom tip under a pole that leans, is pushed or is pulled sideways; the winch line's extra pull where \
     the guides draw it aside.",
    "The auger against truck, outriggers and people while it is swung down, turned and stowed; its way back out of the hole.",
];

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
    }
    findings.extend(setting::findings(&site.pole));
    findings.extend(lift::findings(prepared));
    findings.extend(pairs::wire_spacing(site, &prepared.distances, &prepared.wires.spacings));
    let way_out = inputs.map_or(Vec::new(), |inputs| pairs::way_back(&inputs, &gaps, &mut findings));
    findings.sort_by(|a, b| b.grade.cmp(&a.grade).then(a.step.cmp(&b.step)));

    let (assumed, not_checked) = foundations(prepared);
    let report = Report {
        scene: site.name.clone(),
        verdict: verdict(&findings, &not_checked),
        pole: rows::pole(prepared),
        wires: rows::wires(prepared),
        capacity: rows::capacity(&capacity),
        floats: rows::floats(site, &floats),
        covers: cover::rows(site),
        held_out: rows::held_out(prepared),
        chokers: rows::chokers(prepared, &gaps),
        steps: rows::steps(prepared),
        gaps,
        way_out,
        swept: Vec::new(),
        allowances: rows::allowances(site),
        findings,
        assumed,
        not_checked,
        sources: rows::sources(prepared),
    };
    (report, bodies)
}

/// The crane's motions against its chart, and what they bring on its floats.
fn hold_against_chart(prepared: &Prepared, findings: &mut Vec<Finding>) -> (Vec<capacity::Used>, Vec<floats::Float>) {
    let (Some(mass), Some(plan)) = (&prepared.mass, &prepared.plan) else { return Default::default() };
    let motions: Vec<MotionRange> = plan
        .pieces
        .iter()
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
                    LoadState::Free | LoadState::Standing => LoadOnHook::None,
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

fn foundations(prepared: &Prepared) -> (Vec<Assumed>, Vec<String>) {
    let site = prepared.site;
    let stated = |sentence: &str| Assumed::Stated(sentence.to_owned());
    let mut assumed = Vec::new();
    if let Some(plan) = &prepared.plan {
        assumed.extend(plan.assumed.iter().cloned().map(Assumed::Stated));
    }
    assumed.extend(prepared.wires.assumed.iter().cloned().map(Assumed::Stated));
    assumed
        .push(stated("The thickness of covers is not subtracted from any gap: the residual gap must make up for it."));
    if prepared.plan.as_ref().is_some_and(|plan| plan.pieces.iter().any(|piece| piece.load.on_hook())) {
        assumed.push(stated(
            "On the way back the pole goes down as it rose: its butt is led back over the ground the way it slid.",
        ));
    }
    assumed.push(stated("Voltages are nominal, phase to phase."));
    assumed.push(Assumed::Stated(format!(
        "Load swing grows by {:.1} % of the distance from the hook along the pole.",
        100.0 * site.allowances.load_swing_growth.value
    )));
    assumed.extend(site.declared_absent.iter().map(|what| Assumed::Stated(format!("Declared absent: {what}"))));

    let mut not_checked: Vec<String> = NOT_CHECKED.iter().map(|&line| line.to_owned()).collect();
    not_checked.push(match &site.crane.outriggers {
        None => "Outrigger floats, mats, ground bearing, level, buried services.".to_owned(),
        Some(outriggers) => {
            assumed.push(Assumed::Stated(format!(
                "Floats: rigid crane, level, each float pressing as hard as any four supports that only press allow; mats spread \
                 it evenly; masses, mats and bearing as stated ({}).",
                outriggers.source
            )));
            "Wind, swing and stopping on the floats; outriggers and mats that bend; level, edges and trenches, buried services."
                .to_owned()
        }
    });
    if let Some(derrick) = &site.crane.derrick {
        assumed.push(match derrick.insulated_tip_m {
            Some(length_m) => Assumed::InsulatedTip { length_m },
            None => stated("The boom has no insulated tip."),
        });
        not_checked.extend(DERRICK_NOT_CHECKED.map(str::to_owned));
    }
    let of_bucket_truck = match (&site.bucket_truck, site.bucket_truck_absent) {
        (Some(_), _) => Some(
            "Of the bucket truck: its outriggers and their ground, its chart by position, its dielectric test, \
             its bucket turned about the tip, its booms against its own truck.",
        ),
        (None, false) => Some("The bucket truck: its reach, its insulated part, its approach to every wire."),
        (None, true) => None,
    };
    not_checked.extend(of_bucket_truck.map(str::to_owned));
    not_checked.extend(prepared.wires.not_checked.iter().cloned());
    not_checked.push(
        match site.terrain {
            Some(_) => "The ground beyond the outermost spots: what passes over it is not held against it.",
            None => "The lie of the ground: no spot elevations are stated, it is taken flat at the hole.",
        }
        .to_owned(),
    );
    if site.neighbours.as_ref().is_none_or(|all| !all.structures_stated) {
        not_checked.push(
            "Whether there are existing poles, trees, buildings: the scene states none, nor that there are none."
                .to_owned(),
        );
    }
    if site.neighbours.as_ref().is_none_or(|all| all.people.is_empty()) {
        not_checked.push("Where people stand, what passes over them or near them: no places are stated.".to_owned());
    }
    if let Some(first) = prepared.plan.as_ref().and_then(|plan| plan.stopped_at) {
        not_checked.push(format!("Step {} and every step after it: the motion could not be carried on.", first + 1));
    }
    (assumed, not_checked)
}

fn verdict(findings: &[Finding], not_checked: &[String]) -> Verdict {
    match findings.iter().map(|f| f.grade).max() {
        Some(Grade::Stop) => Verdict::Stop,
        Some(Grade::Caution) => Verdict::Caution,
        _ if !not_checked.is_empty() => Verdict::Caution,
        _ => Verdict::NoStopFound,
    }
}
