//! What is wrong with the covers as stated, whatever moves near them.

use super::stretch::{open_joints, union};
use super::{adequate, circuits, class, extent, glove_class, make_in_words, on_what, pieces, run_stations};
use crate::bracket::Bracket;
use crate::finding::{self, ClassSource, Finding, Unit};
use crate::machine::Role;
use crate::rules::{Exposure, cover_counts};
use crate::site::{Action, Cover, CoverMake, CoverOn, Method, Shell, Site};

/// Wires nearer in height than this have no order among them, meters.
const SAME_LEVEL_M: f64 = 0.3;

/// Everything found about the covers of a site.
pub fn findings(site: &Site) -> Vec<Finding> {
    let mut found: Vec<Finding> = site.covers.iter().flat_map(|cover| of_one(site, cover)).collect();
    found.extend(gaps(site));
    found.extend(one_sided(site));
    found.extend(order(site));
    found.extend(general(site));
    found
}

fn of_one(site: &Site, cover: &Cover) -> Vec<Finding> {
    let mut found = make(site, cover);
    found.extend(joints(cover));
    found.extend(place(site, cover));
    found.extend(times(site, cover));
    found
}

/// Class and method against every circuit that the cover must stand.
fn make(site: &Site, cover: &Cover) -> Vec<Finding> {
    let Some(circuits) = circuits(site, cover) else {
        let fact = finding::Cover::CircuitUnknown { cover: cover.name.clone(), on: on_what(site, cover) };
        return vec![finding::stop(fact)];
    };
    let mut found = Vec::new();
    for circuit in circuits {
        if let Err(why) = adequate(cover.make, circuit, Exposure::PhaseToPhase) {
            let mut finding = finding::stop(finding::Cover::ClassTooLow {
                cover: cover.name.clone(),
                make: make_in_words(cover.make),
                source: source(cover.make),
                on: on_what(site, cover),
                circuit: circuit.name.clone(),
                why,
            });
            if let Ok(class) = class(cover.make) {
                finding = finding.measured(circuit.voltage_v, class.max_phase_phase_v, Unit::Volt);
            }
            found.push(finding);
        }
        if cover.method == Method::Gloves && glove_class(circuit.voltage_v).is_none() {
            let voltage_v = circuit.voltage_v;
            let fact = finding::Cover::GlovesAboveClass {
                cover: cover.name.clone(),
                circuit: circuit.name.clone(),
                voltage_v,
            };
            found.push(finding::stop(fact).measured(voltage_v, 36_000.0, Unit::Volt));
        }
    }
    found
}

fn source(make: CoverMake) -> ClassSource {
    match make {
        CoverMake::Rubber { .. } => ClassSource::Rubber,
        CoverMake::Plastic { .. } => ClassSource::Plastic,
        CoverMake::Own { .. } => ClassSource::Own,
    }
}

fn joints(cover: &Cover) -> Option<Finding> {
    let length_m = extent(cover).width();
    if pieces(length_m, cover.piece_length_m, cover.overlap_m).is_none() {
        return Some(finding::stop(finding::Cover::PieceUnusable {
            cover: cover.name.clone(),
            piece_m: cover.piece_length_m,
            overlap_m: cover.overlap_m,
            length_m,
        }));
    }
    open_joints(cover).then(|| {
        let fact = finding::Cover::JointOpen { cover: cover.name.clone() };
        finding::stop(fact).measured(cover.overlap_m, 0.0, Unit::Meter)
    })
}

fn place(site: &Site, cover: &Cover) -> Option<Finding> {
    let (whole, on_pole) = match cover.on {
        CoverOn::Wire { wire, .. } => (run_stations(site, wire)?, false),
        CoverOn::Pole { .. } => (Bracket::between(0.0, site.pole.length_m)?, true),
    };
    let stated = extent(cover);
    (stated.low() < whole.low() - 0.01 || stated.high() > whole.high() + 0.01).then(|| {
        finding::caution(finding::Cover::BeyondEnd {
            cover: cover.name.clone(),
            on_pole,
            from_m: stated.low(),
            to_m: stated.high(),
            whole_from_m: whole.low(),
            whole_to_m: whole.high(),
        })
    })
}

/// The step that takes a load on the hook, and the one that lets it go (or the end).
fn load_on_hook(site: &Site) -> Option<(usize, usize)> {
    let taken = site.steps.iter().position(|step| step.action == Action::TakeLoad)?;
    let released = site.steps.iter().skip(taken).position(|step| step.action == Action::Release);
    Some((taken, released.map_or(site.steps.len(), |after| taken + after)))
}

fn times(site: &Site, cover: &Cover) -> Vec<Finding> {
    let (on, off) = (cover.during.on_after_step, cover.during.off_before_step);
    let name = || cover.name.clone();
    let mut found = Vec::new();
    for (step, put_on) in [(on, true), (off, false)] {
        let Some(step) = step else { continue };
        let Some(stated) = site.steps.get(step) else {
            let step = step.saturating_add(1);
            found.push(finding::stop(finding::Cover::StepUnknown { cover: name(), put_on, step }));
            continue;
        };
        if !matches!(stated.action, Action::Work { .. }) {
            let fact =
                finding::Cover::HandledWhileMoving { cover: name(), put_on, step: step + 1, name: stated.name.clone() };
            found.push(finding::caution(fact).at_step(step));
        }
    }
    if let (Some(on), Some(off)) = (on, off)
        && off <= on.saturating_add(1)
    {
        found.push(finding::stop(finding::Cover::NeverOn { cover: name() }).at_step(off));
    }
    if let Some((taken, released)) = load_on_hook(site) {
        if let Some(off) = off.filter(|off| (taken..=released).contains(off) && *off < site.steps.len()) {
            found.push(finding::caution(finding::Cover::OffUnderLoad { cover: name() }).at_step(off));
        }
        if let Some(on) = on.filter(|on| (taken..released).contains(on)) {
            found.push(finding::caution(finding::Cover::OnUnderLoad { cover: name() }).at_step(on));
        }
    }
    found
}

/// Bare stretches between two covers of one wire, or of the pole, that are on during one step.
fn gaps(site: &Site) -> Vec<Finding> {
    let places = (0..site.wires.len()).map(Some).chain([None]);
    places.filter_map(|place| gap(site, place)).collect()
}

/// The first gap on a wire (or the pole, `None`), at the first step in which it is there.
fn gap(site: &Site, place: Option<usize>) -> Option<Finding> {
    let here = |cover: &&Cover| match cover.on {
        CoverOn::Wire { wire, .. } => place == Some(wire),
        CoverOn::Pole { .. } => place.is_none(),
    };
    let covers: Vec<&Cover> = site.covers.iter().filter(here).collect();
    (0..site.steps.len().max(1)).find_map(|step| {
        let on: Vec<Bracket> = covers
            .iter()
            .filter(|cover| cover.during.is_in_force(step) && extent(cover).width() > 0.0)
            .map(|cover| extent(cover))
            .collect();
        let joined = union(&on);
        let (from_m, to_m) =
            joined.iter().zip(joined.iter().skip(1)).map(|(one, next)| (one.high(), next.low())).next()?;
        let on = covers.first().map(|cover| on_what(site, cover)).unwrap_or_default();
        let gap = finding::caution(finding::Cover::Gap { on, from_m, to_m });
        Some(gap.at_step(step).measured(to_m - from_m, 0.0, Unit::Meter))
    })
}

/// Cover on one side alone.
fn one_sided(site: &Site) -> Option<Finding> {
    let on_pole = site.covers.iter().any(|cover| matches!(cover.on, CoverOn::Pole { .. }));
    let on_wire = site.covers.iter().any(|cover| matches!(cover.on, CoverOn::Wire { .. }));
    (on_wire != on_pole).then(|| finding::caution(finding::Cover::OneSided { pole: on_pole }))
}

/// On from the lowest up, off from the highest down.
fn order(site: &Site) -> Vec<Finding> {
    struct OnWire<'a> {
        cover: &'a Cover,
        height_m: f64,
        on: usize,
        off: usize,
    }
    let covers: Vec<OnWire> = site
        .covers
        .iter()
        .filter_map(|cover| {
            let CoverOn::Wire { wire, .. } = cover.on else { return None };
            let on = cover.during.on_after_step.map_or(0, |step| step.saturating_add(1));
            Some(OnWire {
                cover,
                height_m: height(site, wire)?,
                on,
                off: cover.during.off_before_step.unwrap_or(usize::MAX),
            })
        })
        .collect();
    let pairs = || {
        covers
            .iter()
            .flat_map(|lower| covers.iter().map(move |higher| (lower, higher)))
            .filter(|(lower, higher)| higher.height_m - lower.height_m > SAME_LEVEL_M)
    };
    let names = |lower: &OnWire, higher: &OnWire| (lower.cover.name.clone(), higher.cover.name.clone());
    let mut found = Vec::new();
    if let Some((lower, higher)) = pairs().find(|(lower, higher)| lower.on > higher.on) {
        let (lower, higher) = names(lower, higher);
        found.push(finding::note(finding::Cover::OrderOn { higher, lower }));
    }
    if let Some((lower, higher)) = pairs().find(|(lower, higher)| lower.off < higher.off) {
        let (lower, higher) = names(lower, higher);
        found.push(finding::note(finding::Cover::OrderOff { lower, higher }));
    }
    found
}

/// The lowest support of a wire, meters: which wire is the lower one needs no more.
fn height(site: &Site, wire: usize) -> Option<f64> {
    let spans = &site.wires.get(wire)?.spans;
    spans.iter().flat_map(|span| [span.from.z, span.to.z]).filter(|height| height.is_finite()).reduce(f64::min)
}

/// What holds for cover as such, said once.
fn general(site: &Site) -> Vec<Finding> {
    let mut found = Vec::new();
    if matches!(site.pole.shell, Shell::Wood { .. }) {
        found.push(finding::note(finding::Cover::WoodNoInsulation));
    }
    if site.covers.is_empty() {
        return found;
    }
    if site.covers.iter().any(|cover| matches!(cover.make, CoverMake::Plastic { .. })) {
        found.push(finding::note(finding::Cover::ClassRecalled));
    }
    let own = |cover: &&Cover| matches!(cover.make, CoverMake::Own { .. });
    let own: Vec<String> = site.covers.iter().filter(own).map(|cover| cover.name.clone()).collect();
    if !own.is_empty() {
        found.push(finding::note(finding::Cover::ClassOwn { covers: own }));
    }
    if !cover_counts(site, Role::Load) {
        found.push(finding::note(finding::Cover::DoesNotCount));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::Grade::{Caution, Note, Stop};
    use crate::fixtures::line::site;
    use crate::site::{During, Route, Step};

    fn step(action: Action) -> Step {
        Step { name: "step".into(), action, combined: false }
    }

    /// Steps: 0 work (cover on), 1 take load, 2 hold, 3 work, 4 release, 5 work (cover off). Hose on A and B, a sleeve on the pole.
    fn covered_site() -> Site {
        let mut site = site(12_470.0);
        site.steps = vec![
            step(Action::Work { minutes: 20.0 }),
            step(Action::TakeLoad),
            step(Action::Hold { question: "?".into() }),
            step(Action::Work { minutes: 5.0 }),
            step(Action::Release),
            step(Action::Work { minutes: 20.0 }),
        ];
        let bracket = |low, high| Bracket::between(low, high).unwrap();
        let cover = |name: &str, on| Cover {
            name: name.into(),
            on,
            make: CoverMake::Rubber { class: 2 },
            piece_length_m: 1.8,
            overlap_m: 0.1,
            mass_kg: None,
            method: Method::Gloves,
            hands: None,
            during: During { on_after_step: Some(0), off_before_step: Some(5) },
        };
        site.covers = vec![
            cover("hose on A", CoverOn::Wire { wire: 0, station_m: bracket(-3.0, 3.0) }),
            cover("hose on B", CoverOn::Wire { wire: 1, station_m: bracket(-3.0, 3.0) }),
            cover("sleeve", CoverOn::Pole { from_butt_m: bracket(5.0, 13.7) }),
        ];
        site
    }

    fn beyond_the_usual(site: &Site) -> Vec<(crate::finding::Grade, &'static str)> {
        let found: Vec<_> = findings(site).iter().map(|finding| (finding.grade, finding.code())).collect();
        assert_eq!(found.iter().filter(|finding| **finding == (Note, "wood_no_insulation")).count(), 1);
        found.into_iter().filter(|(_, code)| *code != "wood_no_insulation").collect()
    }

    #[test]
    fn a_covered_line_as_it_should_be_has_nothing_to_say_but_that_wood_is_no_insulation() {
        assert_eq!(beyond_the_usual(&covered_site()), []);
    }

    #[test]
    fn hose_of_too_low_a_class_is_a_stop_with_the_voltage_beside_the_rating() {
        let mut site = covered_site();
        site.covers[0].make = CoverMake::Rubber { class: 1 };
        let found = findings(&site);
        assert_eq!((found[0].grade, found[0].code()), (Stop, "cover_class_too_low"));
        assert_eq!((found[0].measured.unwrap().value, found[0].limit.unwrap().value), (12_470.0, 7_500.0));
    }

    #[test]
    fn gloves_end_where_class_4_ends() {
        let mut site = covered_site();
        site.circuits[0].voltage_v = 46_000.0;
        for cover in &mut site.covers {
            cover.make = CoverMake::Plastic { class: 5 };
        }
        let stops =
            |site: &Site| findings(site).iter().filter(|f| f.grade == Stop).map(|f| f.code()).collect::<Vec<_>>();
        assert_eq!(stops(&site), ["gloves_above_class"; 3]);
        for cover in &mut site.covers {
            cover.method = Method::Stick;
        }
        assert_eq!(beyond_the_usual(&site), [(Note, "cover_class_recalled")]);
    }

    #[test]
    fn cover_taken_down_while_the_pole_hangs_is_a_caution() {
        let mut site = covered_site();
        site.covers[1].during.off_before_step = Some(3);
        assert_eq!(beyond_the_usual(&site), [(Caution, "cover_off_while_load_hangs")]);
        site.covers[1].during = During { on_after_step: Some(3), off_before_step: Some(5) };
        assert_eq!(beyond_the_usual(&site), [(Caution, "cover_on_while_load_hangs")]);
    }

    #[test]
    fn cover_is_put_on_in_a_step_of_work_and_in_no_other() {
        let mut site = covered_site();
        site.steps[0] = step(Action::HoistTo { height_m: 3.0 });
        assert_eq!(beyond_the_usual(&site), [(Caution, "cover_handled_while_moving"); 3]);
    }

    #[test]
    fn steps_that_contradict_each_other_are_stops() {
        let mut site = covered_site();
        site.covers[0].during = During { on_after_step: Some(0), off_before_step: Some(0) };
        site.covers[1].during = During { on_after_step: Some(usize::MAX), off_before_step: None };
        let found = beyond_the_usual(&site);
        assert!(found.contains(&(Stop, "cover_never_on")));
        assert!(found.contains(&(Stop, "cover_step_unknown")));
    }

    #[test]
    fn joints_without_lap_and_pieces_that_make_no_length_are_stops() {
        let mut site = covered_site();
        site.covers[0].overlap_m = 0.0;
        site.covers[1].piece_length_m = f64::NAN;
        assert_eq!(beyond_the_usual(&site), [(Stop, "cover_joint_open"), (Stop, "cover_piece_unusable")]);
    }

    #[test]
    fn a_bare_stretch_between_two_covers_is_shown() {
        let mut site = covered_site();
        let mut second = site.covers[0].clone();
        second.on = CoverOn::Wire { wire: 0, station_m: Bracket::between(3.2, 6.0).unwrap() };
        site.covers.push(second);
        assert_eq!(beyond_the_usual(&site), [(Caution, "cover_gap")]);
    }

    #[test]
    fn cover_on_one_side_alone_is_said_not_to_count() {
        let mut site = covered_site();
        site.covers.pop();
        assert_eq!(beyond_the_usual(&site), [(Caution, "cover_one_sided")]);
        site = covered_site();
        site.basis.route = Route::CraneTable;
        assert_eq!(beyond_the_usual(&site), [(Note, "cover_does_not_count")]);
    }

    #[test]
    fn the_lowest_wire_is_covered_first_and_uncovered_last() {
        let mut site = covered_site();
        site.steps.insert(0, step(Action::Work { minutes: 10.0 }));
        site.steps.push(step(Action::Work { minutes: 10.0 }));
        for cover in &mut site.covers {
            cover.during = During { on_after_step: Some(0), off_before_step: Some(7) };
        }
        let mut on_neutral = site.covers[0].clone();
        on_neutral.on = CoverOn::Wire { wire: 2, station_m: Bracket::between(-2.0, 2.0).unwrap() };
        on_neutral.during = During { on_after_step: Some(1), off_before_step: Some(6) };
        site.covers.push(on_neutral);
        assert_eq!(beyond_the_usual(&site), [(Note, "cover_order_on"), (Note, "cover_order_off")]);
    }

    #[test]
    fn cover_on_what_is_not_there_is_a_stop() {
        let mut site = covered_site();
        site.covers[0].on = CoverOn::Wire { wire: 99, station_m: Bracket::exactly(f64::NAN) };
        let found = findings(&site);
        assert_eq!((found[0].grade, found[0].code()), (Stop, "cover_circuit_unknown"));
        assert_eq!(super::super::rows(&site).len(), site.covers.len());
    }
}
