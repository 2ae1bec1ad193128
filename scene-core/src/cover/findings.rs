//! What is wrong with the covers as stated, whatever moves near them.

use super::stretch::{open_joints, union};
use super::{adequate, circuits, class, extent, glove_class, make_in_words, on_what, pieces, run_stations};
use crate::bracket::Bracket;
use crate::finding::Finding;
use crate::rules::{BodyKind, Exposure, cover_counts};
use crate::site::{Action, Cover, CoverMake, CoverOn, Method, Shell, Site};

/// Wires nearer in height than this have no order among them, metres.
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
        let message = format!(
            "{} is on {}, whose circuit is not known, so that no class can be said to suffice.",
            cover.name,
            on_what(site, cover)
        );
        return vec![Finding::stop("cover_circuit_unknown", message).mend("Name a wire and a circuit of the scene.")];
    };
    let mut found = Vec::new();
    for circuit in circuits {
        if let Err(why) = adequate(cover.make, circuit, Exposure::PhaseToPhase) {
            let mut finding = Finding::stop(
                "cover_class_too_low",
                format!(
                    "{} ({}) on {} does not suffice for {}: {why}. It counts as no cover.",
                    cover.name,
                    make_in_words(cover.make),
                    on_what(site, cover),
                    circuit.name
                ),
            )
            .rule(class_rule(cover.make))
            .mend("Use cover of a class that is rated for the voltage between phases.");
            if let Ok(class) = class(cover.make) {
                finding = finding.measured(circuit.voltage_v, class.max_phase_phase_v, "V");
            }
            found.push(finding);
        }
        if cover.method == Method::Gloves && glove_class(circuit.voltage_v).is_none() {
            found.push(
                Finding::stop(
                    "gloves_above_class",
                    format!(
                        "{} is to be put on with gloves, and no class of gloves is rated for {} at {:.2} kV.",
                        cover.name,
                        circuit.name,
                        circuit.voltage_v / 1e3
                    ),
                )
                .measured(circuit.voltage_v, 36_000.0, "V")
                .rule("29 CFR 1910.137 Table I-4")
                .mend("Put it on with hot sticks."),
            );
        }
    }
    found
}

fn class_rule(make: CoverMake) -> &'static str {
    match make {
        CoverMake::Rubber { .. } => "29 CFR 1910.137 Table I-4",
        CoverMake::Plastic { .. } => "ASTM F712 (class values from memory)",
        CoverMake::Own { .. } => "the planner's own catalog of cover classes",
    }
}

fn joints(cover: &Cover) -> Option<Finding> {
    let length_m = extent(cover).width();
    if pieces(length_m, cover.piece_length_m, cover.overlap_m).is_none() {
        let message = format!(
            "{}: pieces of {:.2} m that lap {:.2} m do not make up a length of {length_m:.2} m. It counts as no cover.",
            cover.name, cover.piece_length_m, cover.overlap_m
        );
        return Some(
            Finding::stop("cover_piece_unusable", message)
                .mend("State a length above zero and a lap shorter than a piece."),
        );
    }
    open_joints(cover).then(|| {
        Finding::stop(
            "cover_joint_open",
            format!("{}: its pieces do not lap, so that every joint is bare.", cover.name),
        )
        .measured(cover.overlap_m, 0.0, "m")
        .rule("common practice: pieces lap at every joint")
        .mend("State how far each piece laps the next.")
    })
}

fn place(site: &Site, cover: &Cover) -> Option<Finding> {
    let (whole, what) = match cover.on {
        CoverOn::Wire { wire, .. } => (run_stations(site, wire)?, "the wire's last support"),
        CoverOn::Pole { .. } => (Bracket::between(0.0, site.pole.length_m)?, "the pole's end"),
    };
    let stated = extent(cover);
    (stated.low() < whole.low() - 0.01 || stated.high() > whole.high() + 0.01).then(|| {
        Finding::caution(
            "cover_beyond_end",
            format!(
                "{} is stated from {:.2} to {:.2} m, beyond {what} ({:.2} to {:.2} m).",
                cover.name,
                stated.low(),
                stated.high(),
                whole.low(),
                whole.high()
            ),
        )
        .mend("Check from where its place is counted.")
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
    let mut found = Vec::new();
    for (step, what) in [(on, "put on"), (off, "taken off")] {
        let Some(step) = step else { continue };
        let Some(stated) = site.steps.get(step) else {
            let message =
                format!("{} is {what} in step {}, and there is no such step.", cover.name, step.saturating_add(1));
            found.push(Finding::stop("cover_step_unknown", message).mend("Name a step of the sequence."));
            continue;
        };
        if !matches!(stated.action, Action::Work { .. }) {
            let message = format!(
                "{} is {what} in step {} ({}), which is no step of work for people: nothing else may move meanwhile.",
                cover.name,
                step + 1,
                stated.name
            );
            found.push(
                Finding::caution("cover_handled_while_moving", message)
                    .at_step(step)
                    .rule("common practice: one thing moves at a time")
                    .mend("Give it a step of work of its own."),
            );
        }
    }
    if let (Some(on), Some(off)) = (on, off)
        && off <= on.saturating_add(1)
    {
        let message = format!("{}: taken off before any step has passed with it on: it never counts.", cover.name);
        found.push(Finding::stop("cover_never_on", message).at_step(off).mend("Take it off in a later step."));
    }
    if let Some((taken, released)) = load_on_hook(site) {
        if let Some(off) = off.filter(|off| (taken..=released).contains(off) && *off < site.steps.len()) {
            let message = format!("{}: taken off while the pole still hangs on the hook.", cover.name);
            found.push(
                Finding::caution("cover_off_while_load_hangs", message)
                    .at_step(off)
                    .rule("common practice: cover stays until the pole stands by itself and the hook is free")
                    .mend("Take it off after the release."),
            );
        }
        if let Some(on) = on.filter(|on| (taken..released).contains(on)) {
            let message = format!("{}: put on while the pole already hangs on the hook.", cover.name);
            found.push(
                Finding::caution("cover_on_while_load_hangs", message)
                    .at_step(on)
                    .rule("common practice: cover first, then lift")
                    .mend("Put it on before the pole is lifted."),
            );
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
        let what = covers.first().map(|cover| on_what(site, cover)).unwrap_or_default();
        Some(
            Finding::caution(
                "cover_gap",
                format!("Between two covers on {what} it is bare from {from_m:.2} to {to_m:.2} m (or they only meet and do not lap)."),
            )
            .at_step(step)
            .measured(to_m - from_m, 0.0, "m")
            .rule("common practice: no gaps at insulators, dead ends and joints")
            .mend("Lap the covers, or cover what is between them."),
        )
    })
}

/// Cover on one side alone.
fn one_sided(site: &Site) -> Option<Finding> {
    let on_pole = site.covers.iter().any(|cover| matches!(cover.on, CoverOn::Pole { .. }));
    let on_wire = site.covers.iter().any(|cover| matches!(cover.on, CoverOn::Wire { .. }));
    let (covered, bare) = match (on_wire, on_pole) {
        (true, false) => ("wires are", "the pole is not"),
        (false, true) => ("pole is", "no wire is"),
        _ => return None,
    };
    Some(
        Finding::caution(
            "cover_one_sided",
            format!("The {covered} covered and {bare}: cover on one side does not lessen any distance here."),
        )
        .rule("ASTM F712, significance and use; common practice of double cover")
        .mend("Cover both, or keep the whole distance."),
    )
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
    let practice = "common practice: on from the nearest and lowest outward, off in reverse";
    let mut found = Vec::new();
    if let Some((lower, higher)) = pairs().find(|(lower, higher)| lower.on > higher.on) {
        let message = format!(
            "{} goes on before {}, which is on a lower wire: the lower one is reached past first.",
            higher.cover.name, lower.cover.name
        );
        found.push(Finding::note("cover_order_on", message).rule(practice));
    }
    if let Some((lower, higher)) = pairs().find(|(lower, higher)| lower.off < higher.off) {
        let message = format!(
            "{} comes off before {}, which is on a higher wire and is then worked over bare wire.",
            lower.cover.name, higher.cover.name
        );
        found.push(Finding::note("cover_order_off", message).rule(practice));
    }
    found
}

/// The lowest support of a wire, metres: which wire is the lower one needs no more.
fn height(site: &Site, wire: usize) -> Option<f64> {
    let spans = &site.wires.get(wire)?.spans;
    spans.iter().flat_map(|span| [span.from.z, span.to.z]).filter(|height| height.is_finite()).reduce(f64::min)
}

/// What holds for cover as such, said once.
fn general(site: &Site) -> Vec<Finding> {
    let mut found = Vec::new();
    if matches!(site.pole.shell, Shell::Wood { .. }) {
        found.push(Finding::note(
            "wood_no_insulation",
            "The wood pole counts as conductive: damp, treatment and the ground lead on it make wood no insulation.",
        ));
    }
    if site.covers.is_empty() {
        return found;
    }
    if site.covers.iter().any(|cover| matches!(cover.make, CoverMake::Plastic { .. })) {
        found.push(
            Finding::note(
                "cover_class_recalled",
                "The rated voltages of plastic guards are recalled, not read in the standard: compare them with the label.",
            )
            .rule("ASTM F712 (class values from memory)"),
        );
    }
    let own = |cover: &&Cover| matches!(cover.make, CoverMake::Own { .. });
    let own: Vec<&str> = site.covers.iter().filter(own).map(|cover| cover.name.as_str()).collect();
    if !own.is_empty() {
        found.push(
            Finding::note(
                "cover_class_own",
                format!(
                    "The rated voltages of {} are from the planner's own catalog: compare them with the label.",
                    own.join(", ")
                ),
            )
            .rule("the planner's own catalog of cover classes"),
        );
    }
    if !cover_counts(site, BodyKind::Load) {
        found.push(
            Finding::note("cover_does_not_count", "By this route of work cover does not lessen the required distance.")
                .rule("29 CFR 1926.1408 Table A; 1926.1410(c)(2)")
                .mend("On the closer-by-agreement route, answer `load_cover_rule` with the rule that lets it."),
        );
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
        let found: Vec<_> = findings(site).iter().map(|finding| (finding.grade, finding.code)).collect();
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
        assert_eq!((found[0].grade, found[0].code), (Stop, "cover_class_too_low"));
        assert_eq!((found[0].value, found[0].limit), (Some(12_470.0), Some(7_500.0)));
    }

    #[test]
    fn gloves_end_where_class_4_ends() {
        let mut site = covered_site();
        site.circuits[0].voltage_v = 46_000.0;
        for cover in &mut site.covers {
            cover.make = CoverMake::Plastic { class: 5 };
        }
        let stops = |site: &Site| findings(site).iter().filter(|f| f.grade == Stop).map(|f| f.code).collect::<Vec<_>>();
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
        assert_eq!((found[0].grade, found[0].code), (Stop, "cover_circuit_unknown"));
        assert_eq!(super::super::rows(&site).len(), site.covers.len());
    }
}
