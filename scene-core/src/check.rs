//! Gathers what every room found into one report. It computes nothing of its own but which pair stands in which state.

mod around;
mod figures;
mod gaps;
mod ground;
mod lift;
pub(crate) mod others;
mod ready;
mod rows;
mod spacing;
mod sweeps;
mod way_out;

pub(crate) use others::Beside;
pub(crate) use ready::Airs;
use ready::Lines;

use crate::capacity::{self, LoadOnHook, MotionRange};
use crate::conductor::{self, Wires};
use crate::finding::{Finding, Grade};
use crate::floats;
use crate::motion::{Motion, WindLean as Lean};
use crate::outcome::{Report, Verdict};
use crate::pole::{self, Mass};
use crate::rigging::{self, Hang, WindLean};
use crate::rules::Distances;
use crate::sequence::{self, LoadState, Plan};
use crate::setting;
use crate::site::Site;
use crate::{cover, quantity, rules};
use std::sync::OnceLock;

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

/// Everything that one site gives before its gaps are looked at.
pub(crate) struct Rooms<'a> {
    pub site: &'a Site,
    pub distances: Distances<'a>,
    pub mass: Option<Mass>,
    pub hang: Option<Hang>,
    pub leans: Vec<WindLean>,
    pub wires: Wires,
    pub plan: Option<Plan>,
    airs: OnceLock<Option<Airs>>,
}

impl Rooms<'_> {
    /// What moves in every weather, made ready when it is first asked for; `None` without a plan.
    fn airs(&self) -> Option<&Airs> {
        let made = || self.plan.as_ref().map(|plan| Airs::of(self.site, plan, &self.all_leans(), &self.most_lean()));
        self.airs.get_or_init(made).as_ref()
    }

    /// How far the wind leans what hangs, in every weather, in still air at least; what is not known of the hang itself,
    /// `motion` allows for.
    fn all_leans(&self) -> Vec<Lean> {
        let of = |lean: &WindLean| Lean { line: lean.line_ratio, pole: lean.pole_ratio };
        let weathers = 0..self.site.weather.len().max(1);
        weathers.map(|weather| self.leans.get(weather).map_or(Lean::default(), of)).collect()
    }

    /// The most that any weather leans the line, and the pole.
    fn most_lean(&self) -> Lean {
        // A lean that is not a number stays one: then nothing is proven.
        let more = |a: f64, b: f64| if a.is_nan() || a > b { a } else { b };
        self.all_leans().iter().fold(Lean::default(), |most, one| Lean {
            line: more(one.line, most.line),
            pole: more(one.pole, most.pole),
        })
    }

    /// What moves, with every set of allowances; `None` without a plan.
    pub(crate) fn into_motions(self) -> Option<Airs<Motion>> {
        self.airs();
        self.airs.into_inner().flatten().map(Airs::into_motions)
    }
}

/// Checks a site. Pure: the same site gives the same report.
pub fn check(site: &Site) -> Report {
    let mut findings = Vec::new();
    let rooms = rooms(site, &mut findings);
    report(&rooms, findings).0
}

/// The same with what each body sweeps, which takes longer than all the rest.
pub fn check_and_sweep(site: &Site) -> Report {
    let mut findings = Vec::new();
    let rooms = rooms(site, &mut findings);
    Report { swept: sweeps::swept(&rooms), ..report(&rooms, findings).0 }
}

/// The report on what the rooms hold, and on what was found there; with the bodies that its gaps other than to wires are of.
pub(crate) fn report(rooms: &Rooms, mut findings: Vec<Finding>) -> (Report, Beside) {
    let site = rooms.site;
    let (capacity, floats) = hold_against_chart(rooms, &mut findings);
    let lines = Lines::of(rooms);
    let mut gaps = gaps::gaps(rooms, &lines, &mut findings);
    // What stands there says by which rule it is kept from, so it comes last.
    let beside = [lift::others(rooms), around::around(rooms)].concat();
    let (rows, meetings) = others::others(rooms, &beside, &mut findings);
    let beside = Beside { others: beside, meetings, first_row: gaps.len() };
    gaps.extend(rows);
    findings.extend(around::beneath(rooms));
    findings.extend(setting::findings(&site.pole));
    findings.extend(lift::findings(rooms));
    findings.extend(spacing::findings(rooms));
    let way_out = way_out::way_out(rooms, &lines, &gaps, &mut findings);
    findings.sort_by(|a, b| b.grade.cmp(&a.grade).then(a.step.cmp(&b.step)));

    let (assumed, not_checked) = foundations(rooms);
    let report = Report {
        format: "plumbrise-report/1",
        scene: site.name.clone(),
        verdict: verdict(&findings, &not_checked),
        pole: rows::pole(rooms),
        wires: rows::wires(rooms),
        capacity: rows::capacity(&capacity),
        floats: rows::floats(site, &floats),
        covers: cover::rows(site),
        held_out: rows::held_out(rooms),
        chokers: rows::chokers(rooms, &gaps),
        steps: rows::steps(rooms),
        gaps,
        way_out,
        swept: Vec::new(),
        allowances: rows::allowances(site),
        findings,
        assumed,
        not_checked,
        sources: rows::sources(rooms),
    };
    (report, beside)
}

pub(crate) fn rooms<'a>(site: &'a Site, findings: &mut Vec<Finding>) -> Rooms<'a> {
    findings.extend(figures::findings(site));
    findings.extend(ground::findings(site));
    findings.extend(rules::basis(site));
    findings.extend(cover::findings(site));
    findings.extend(pole::findings(&site.pole, &site.covers));
    let wires = conductor::hang(site);
    findings.extend(wires.findings.iter().cloned());

    let mass = pole::mass(&site.pole, &site.covers).ok();
    let mut hang = None;
    let mut leans = Vec::new();
    if let Some(mass) = &mass {
        findings.extend(rigging::findings(&site.pole, &site.covers, mass, &site.rigging));
        hang = rigging::hang(&site.pole, mass, &site.rigging).ok();
        match rigging::wind_leans(&site.pole, mass, &site.rigging, &site.weather) {
            Ok(found) => leans = found,
            // What keeps the pole from hanging at all is among the rigging's own findings.
            Err(error) if hang.is_some() => findings.push(error.finding()),
            Err(_) => {}
        }
    }
    let plan = hang.as_ref().map(|hang| sequence::plan(site, hang));
    match &plan {
        Some(plan) => findings.extend(plan.findings.iter().cloned()),
        None => findings.push(
            Finding::stop("motion_unknown", "No motion was checked, since it is not known how the pole hangs.")
                .mend("Mend the findings on pole and rigging first."),
        ),
    }
    Rooms { site, distances: Distances::of(site), mass, hang, leans, wires, plan, airs: OnceLock::new() }
}

/// The crane's motions against its chart, and what they bring on its floats.
fn hold_against_chart(rooms: &Rooms, findings: &mut Vec<Finding>) -> (Vec<capacity::Used>, Vec<floats::Float>) {
    let (Some(mass), Some(plan)) = (&rooms.mass, &rooms.plan) else { return Default::default() };
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
    let held = capacity::capacity(rooms.site, mass, &motions);
    findings.extend(held.findings);
    let pressed = floats::floats(rooms.site, mass, &motions);
    findings.extend(pressed.findings);
    (held.motions, pressed.floats)
}

fn foundations(rooms: &Rooms) -> (Vec<String>, Vec<String>) {
    let site = rooms.site;
    let mut assumed = Vec::new();
    if let Some(plan) = &rooms.plan {
        assumed.extend(plan.assumed.iter().cloned());
    }
    assumed.extend(rooms.wires.assumed.iter().cloned());
    assumed.push(
        "The thickness of covers is not subtracted from any gap: the residual gap must make up for it.".to_owned(),
    );
    if rooms.plan.as_ref().is_some_and(|plan| plan.pieces.iter().any(|piece| piece.load.on_hook())) {
        assumed.push(
            "On the way back the pole goes down as it rose: its butt is led back over the ground the way it slid."
                .to_owned(),
        );
    }
    assumed.push("Voltages are nominal, phase to phase.".to_owned());
    assumed.push(format!(
        "Load swing grows by {:.1} % of the distance from the hook along the pole.",
        100.0 * site.allowances.load_swing_growth.value
    ));
    assumed.extend(site.declared_absent.iter().map(|what| format!("Declared absent: {what}")));

    let mut not_checked: Vec<String> = NOT_CHECKED.iter().map(|&line| line.to_owned()).collect();
    not_checked.push(match &site.crane.outriggers {
        None => "Outrigger floats, mats, ground bearing, level, buried services.".to_owned(),
        Some(outriggers) => {
            assumed.push(format!(
                "Floats: rigid crane, level, each float pressing as hard as any four supports that only press allow; mats spread \
                 it evenly; masses, mats and bearing as stated ({}).",
                outriggers.source
            ));
            "Wind, swing and stopping on the floats; outriggers and mats that bend; level, edges and trenches, buried services."
                .to_owned()
        }
    });
    if let Some(derrick) = &site.crane.derrick {
        assumed.push(match derrick.insulated_tip_m {
            Some(length_m) => {
                format!("The insulated tip of the boom, {}, counts as bare steel.", quantity::show::feet(length_m))
            }
            None => "The boom has no insulated tip.".to_owned(),
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
    not_checked.extend(rooms.wires.not_checked.iter().cloned());
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
    if let Some(first) = rooms.plan.as_ref().and_then(|plan| plan.stopped_at) {
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
