//! What is to be known of a bucket truck.

use super::Prepared;
use crate::cover;
use crate::finding::{self, Bucket, Finding, Protection, Unit};
use crate::machine::joint::is_at_rest;
use crate::machine::lift::role;
use crate::machine::{Insulation, LiftFacts, Method, Side, StandingLift};
use crate::pairs::demand::kind;
use crate::sequence::{LiftMotion, pose};
use crate::site::pose::BucketAt;
use crate::site::{Action, CoverOn, Site};
use glam::DVec3;

/// What of the lifts is missing, too little, or relied on.
pub(super) fn findings(prepared: &Prepared) -> Vec<Finding> {
    let site = prepared.site;
    let mut found = Vec::new();
    if site.lifts.is_empty() && !site.lifts_absent {
        found.push(finding::note(Bucket::NotStated));
    }
    for (index, lift) in site.lifts.iter().enumerate() {
        let of_lift = insulation(site, index).into_iter().chain(load(lift)).chain(relied_on(prepared, index));
        found.extend(of_lift.map(|finding| site.of_lift(index, finding)));
    }
    found.extend(out_of_reach(prepared));
    for (index, lift) in site.lifts.iter().enumerate() {
        found.extend(up_under_load(prepared, index, lift).map(|finding| site.of_lift(index, finding)));
    }
    found
}

fn insulation(site: &Site, lift: usize) -> Option<Finding> {
    match site.lifts.get(lift)?.facts().insulation {
        Insulation::Unknown => Some(finding::caution(Bucket::InsulationUnknown)),
        Insulation::None(why) => Some(finding::note(Bucket::Uninsulated { why: why.clone() })),
        Insulation::Section { rated_v, .. } if !site.is_insulated(lift) => {
            let most_v = site.circuits.iter().map(|circuit| circuit.voltage_v).fold(0.0, f64::max);
            let fact = Bucket::RatedTooLow { rated_v: *rated_v, line_v: most_v };
            Some(finding::caution(fact).measured(*rated_v, most_v, Unit::Volt))
        }
        Insulation::Section { .. } => None,
    }
}

fn load(lift: &StandingLift) -> Option<Finding> {
    let LiftFacts { load_kg, capacity_kg, .. } = lift.facts();
    match load_kg {
        None => Some(finding::caution(Bucket::LoadMissing)),
        Some(load_kg) if load_kg <= capacity_kg => None,
        Some(load_kg) => {
            let fact = Bucket::Overloaded { load_kg, capacity_kg };
            Some(finding::stop(fact).measured(load_kg, capacity_kg, Unit::Kilogram))
        }
    }
}

/// One caution for each wire that is worked on from the bucket: what then stands between a person and the line.
fn relied_on(prepared: &Prepared, lift: usize) -> Vec<Finding> {
    let site = prepared.site;
    let Some(method) = site.lifts.get(lift).map(|lift| lift.facts().method) else { return Vec::new() };
    let pieces = prepared.plan.as_ref().map_or(&[][..], |plan| &plan.pieces);
    let mut found: Vec<Finding> = Vec::new();
    let mut seen: Vec<usize> = Vec::new();
    for (piece, wire) in pieces.iter().filter_map(|piece| Some((piece, piece.lifts.get(lift)?.works_on?))) {
        let excused = kind::excuse_at_work(site, lift, role(Side::Beyond, site.is_insulated(lift)), wire);
        if seen.contains(&wire) || excused.is_none() {
            continue;
        }
        seen.push(wire);
        let name = site.wires.get(wire).map_or("?", |wire| wire.name.as_str());
        let by = match method {
            Method::Gloves => {
                let class = kind::energized_v(site, wire).and_then(cover::glove_class).unwrap_or("0");
                Protection::Gloves { class: class.to_owned() }
            }
            Method::Stick => Protection::Stick,
        };
        let worked_on = finding::caution(Bucket::WorkedOnEnergized { wire: name.to_owned(), by });
        found.push(worked_on.at_step(piece.step).at_time(piece.time_from_s));
    }
    found
}

/// The bucket belongs on its rest while the pole is on the hook.
fn up_under_load(prepared: &Prepared, index: usize, lift: &StandingLift) -> Option<Finding> {
    let joints = lift.joints();
    let away = |run: &LiftMotion| [run.from, run.to].iter().any(|at| !is_at_rest(&joints, at));
    let pieces = prepared.plan.as_ref().map_or(&[][..], |plan| &plan.pieces);
    let piece = pieces.iter().find(|piece| piece.load.on_hook() && piece.lifts.get(index).is_some_and(away))?;
    Some(finding::caution(Bucket::UpUnderLoad).at_step(piece.step).at_time(piece.time_from_s))
}

/// Stretches of wire that are looked at one by one; nothing between two of them is farther off than half of this.
const STRIDE_M: f64 = 0.05;
const MOST_STRIDES: f64 = 20_000.0;

/// Covers of wires that are put on in a step, but not within reach of a worker from any bucket position that is held
/// in a step of work up to then, of any lift: with gloves those at that very wire, with a stick all of them.
fn out_of_reach(prepared: &Prepared) -> Vec<Finding> {
    let site = prepared.site;
    let Some(plan) = &prepared.plan else { return Vec::new() };
    let mut found = Vec::new();
    for cover in &site.covers {
        let (CoverOn::Wire { wire, station_m }, Some(step)) = (cover.on, cover.during.on_after_step) else { continue };
        let works = |step: usize| site.steps.get(step).is_some_and(|step| matches!(step.action, Action::Work { .. }));
        if plan.steps.get(step).is_none() {
            continue;
        }
        let held = plan.pieces.iter().filter(|piece| piece.step <= step && works(piece.step));
        // Where a worker's shoulders are, and how far he reaches from there.
        let mut workers: Vec<(DVec3, f64)> = Vec::new();
        for (lift, motion) in held.flat_map(|piece| site.lifts.iter().zip(&piece.lifts)) {
            let LiftFacts { method, reach_m, .. } = lift.facts();
            if method == Method::Stick || motion.works_on == Some(wire) {
                // The stride's own slack, for a wire no steeper than its run.
                workers.push((lift.shoulders_in_world(&motion.from), reach_m - STRIDE_M));
            }
        }
        let reached = |station_m: f64| {
            let on = BucketAt::Wire { wire, station_m, below_m: 0.0, left_m: 0.0 };
            let reaches = |on: DVec3| workers.iter().any(|(from, reach_m)| from.distance(on) <= *reach_m);
            pose::rim_wanted(site, &on).is_some_and(reaches)
        };
        let strides = (station_m.width() / STRIDE_M).ceil().clamp(1.0, MOST_STRIDES);
        let missed = (0..=strides as u32).map(|i| station_m.at(f64::from(i) / strides)).find(|at| !reached(*at));
        let Some(at_m) = missed else { continue };
        let name = site.wires.get(wire).map_or("?", |wire| wire.name.as_str());
        let fact = Bucket::CoverOutOfReach { cover: cover.name.clone(), wire: name.to_owned(), station_m: at_m };
        found.push(finding::stop(fact).at_step(step));
    }
    found
}

#[cfg(test)]
mod tests {
    use crate::check::check;
    use crate::fixtures::trucks::{TALLIS, scene_text};
    use crate::outcome::{GapRow, OtherKind, Report};
    use crate::premise::{Assumed, NotChecked};
    use crate::rules::PairState;

    const POSE: &str = "wire: \"C\", station: \"0 ft\", below: \"2 ft\", left: \"2 ft 6 in\"";

    /// The template with the bucket brought to C and away again.
    fn report(truck: &str, pose: &str) -> Report {
        let steps = format!(
            "(name: \"Bucket to C\", do: bucket_to({pose})), (name: \"At C\", do: work(\"5 min\")), \
             (name: \"Bucket home\", do: bucket_stow), (name: \"Cover up\","
        );
        let text = scene_text(truck).replacen("(name: \"Cover up\",", &steps, 1);
        let scene = crate::scene::read("t", &text).unwrap_or_else(|faults| panic!("{}", faults[0]));
        check(&scene.site().unwrap())
    }

    fn state(report: &Report, body: &str, wire: &str) -> Option<PairState> {
        report.gaps.iter().filter(|row| row.body == body && row.other == wire).map(|row| row.state).min()
    }

    fn has(report: &Report, code: &str) -> bool {
        report.findings.iter().any(|finding| finding.code() == code)
    }

    fn near() -> String {
        TALLIS.replace("30 ft", "26 ft")
    }

    #[test]
    fn a_stowed_bucket_truck_keeps_every_distance() {
        let text = scene_text(&near());
        let report = check(&crate::scene::read("t", &text).unwrap().site().unwrap());
        let rows: Vec<_> = report
            .gaps
            .iter()
            .filter(|row| {
                row.body.starts_with("lift ")
                    || ["insulated boom", "bucket", "worker's reach"].contains(&row.body.as_str())
            })
            .filter(|row| row.other_kind == OtherKind::Wire)
            .collect();
        assert_eq!(
            rows.len(),
            8 * report.wires.iter().map(|w| (&w.wire, &w.weather)).collect::<std::collections::HashSet<_>>().len()
        );
        assert!(rows.iter().all(|row| row.state == PairState::Apart));
        assert!(!report.not_checked.contains(&NotChecked::BucketTruckAllOfIt));
    }

    #[test]
    fn only_the_wire_that_is_worked_on_is_excused() {
        let report = report(&near(), &format!("{POSE}, works_on: \"C\""));
        assert_eq!(state(&report, "bucket", "C"), Some(PairState::Apart));
        assert_eq!(state(&report, "worker's reach", "C"), Some(PairState::Apart));
        // B is three feet farther and bare.
        assert!(state(&report, "worker's reach", "B") <= Some(PairState::Short));
        assert!(state(&report, "worker's reach", "neutral") <= Some(PairState::Short));
        assert!(has(&report, "worked_on_energized"));
    }

    #[test]
    fn a_bucket_that_leaves_the_wire_it_just_covered_for_the_next_may_brush_the_cover() {
        let checked = |covered: &str| {
            let steps = format!(
                "(name: \"Bucket to C\", do: bucket_to({POSE}, works_on: \"C\")), (name: \"At C\", do: work(\"5 min\")), \
                 (name: \"Down to the neutral\", do: bucket_to(wire: \"neutral\", station: \"0 ft\", below: \"4 ft\", left: \"7 ft\", works_on: \"neutral\")), \
                 (name: \"Bucket home\", do: bucket_stow), (name: \"Cover up\","
            );
            let text = scene_text(&near()).replacen("(name: \"Cover up\",", &steps, 1);
            let hose = text.find("name: \"hose on C\"").expect("C has a hose");
            let (before, after) = text.split_at(hose);
            let text = format!("{before}{}", after.replacen("after(\"Cover up\")", covered, 1));
            let scene = crate::scene::read("t", &text).unwrap_or_else(|faults| panic!("{}", faults[0]));
            check(&scene.site().unwrap())
        };
        let touches = |report: &Report| {
            ["bucket", "worker's reach", "insulated boom"]
                .map(|body| state(report, body, "C") < Some(PairState::Covered))
        };
        assert_eq!(touches(&checked("after(\"At C\")")), [false; 3]);
        // Bare, and covered only after he has left, it is touched.
        assert!(touches(&checked("after(\"Cover up\")")).contains(&true));
        assert!(touches(&checked("after(\"Down to the neutral\")")).contains(&true));
    }

    #[test]
    fn a_pose_that_names_no_work_is_excused_from_nothing() {
        let report = report(&near(), POSE);
        assert!(state(&report, "worker's reach", "C") <= Some(PairState::Short));
        assert!(!has(&report, "worked_on_energized"));
    }

    #[test]
    fn a_worker_with_a_stick_keeps_the_distance_himself() {
        let stick = near().replace("method: gloves", "method: stick, stick: \"8 ft\"");
        let report = report(&stick, &format!("{POSE}, works_on: \"C\""));
        assert!(state(&report, "worker's reach", "C") <= Some(PairState::Short));
        assert_eq!(state(&report, "bucket", "C"), Some(PairState::Apart));
    }

    #[test]
    fn insulation_that_is_unknown_or_rated_too_low_excuses_nothing() {
        let (_, machine) = crate::catalog::bucket_truck("Tallis 46").unwrap();
        let machine = &machine[machine.find('(').unwrap()..];
        let section = "section(from_tip: \"18 in to 15 ft\", rated: \"46 kV\", category: c)";
        for (insulation, code) in [
            ("unknown", "lift_insulation_unknown"),
            ("uninsulated(\"a platform for lamps\")", "lift_uninsulated"),
            ("section(from_tip: \"18 in to 15 ft\", rated: \"5 kV\", category: c)", "lift_rating_low"),
        ] {
            let machine = machine.replace(section, insulation);
            let truck = near().replace("model: \"Tallis 46\"", &format!("machine: {machine}"));
            let report = report(&truck, &format!("{POSE}, works_on: \"C\""));
            assert!(has(&report, code), "{insulation}");
            assert!(state(&report, "bucket", "C") <= Some(PairState::Short), "{insulation}");
            assert!(state(&report, "worker's reach", "C") <= Some(PairState::Short), "{insulation}");
        }
    }

    #[test]
    fn an_overloaded_bucket_is_a_stop_and_an_unsaid_load_is_not_passed_over() {
        let site = |truck: &str| crate::scene::read("t", &scene_text(truck)).unwrap().site().unwrap();
        assert!(has(&check(&site(&near().replace("300 lb", "401 lb"))), "bucket_overloaded"));
        assert!(!has(&check(&site(&near())), "bucket_overloaded"));
        assert!(has(&check(&site(&near().replace(" load: \"300 lb\",", ""))), "bucket_load_missing"));
    }

    #[test]
    fn a_cover_that_no_bucket_position_reaches_is_named() {
        let report = report(&near(), &format!("{POSE}, works_on: \"C\""));
        let named: Vec<_> = report.findings.iter().filter(|finding| finding.code() == "cover_out_of_reach").collect();
        // From one place the worker's three feet do not cover 24 ft of any of the four.
        assert_eq!(named.len(), 4, "{named:?}");
    }

    #[test]
    fn a_bucket_truck_in_the_pick_path_is_struck_and_one_beside_it_is_not() {
        let struck = |truck: &str| {
            let report = check(&crate::scene::read("t", &scene_text(truck)).unwrap().site().unwrap());
            let of_lift = |row: &&GapRow| row.other_kind == OtherKind::Body && row.other.starts_with("lift ");
            assert!(report.gaps.iter().filter(of_lift).count() > 5 * 4);
            report.gaps.iter().filter(of_lift).any(|row| row.state != PairState::Apart)
        };
        // The pole lies along 22 ft south of the hole.
        assert!(struck(&near().replace("26 ft", "-22 ft")));
        assert!(!struck(&near()));
    }

    #[test]
    fn a_bucket_that_stays_up_under_the_load_is_named() {
        let stays = scene_text(&near()).replacen(
            "(name: \"Cover up\",",
            &format!("(name: \"Bucket to C\", do: bucket_to({POSE})), (name: \"Cover up\","),
            1,
        );
        assert!(has(&check(&crate::scene::read("t", &stays).unwrap().site().unwrap()), "bucket_up_under_load"));
        assert!(!has(&report(&near(), POSE), "bucket_up_under_load"));
    }

    #[test]
    fn a_scene_that_is_silent_about_a_bucket_truck_is_told_so() {
        let silent = check(&crate::scene::read("t", crate::scene::template()).unwrap().site().unwrap());
        assert!(has(&silent, "bucket_truck_not_stated"));
        assert!(silent.not_checked.contains(&NotChecked::BucketTruckAllOfIt));
        let text = crate::scene::template().replacen(
            "  crane: (",
            "  bucket_truck: absent(\"covers go on by ladder\"),\n  crane: (",
            1,
        );
        let absent = check(&crate::scene::read("t", &text).unwrap().site().unwrap());
        assert!(!has(&absent, "bucket_truck_not_stated"));
        assert!(
            absent.assumed.iter().any(
                |what| matches!(what, Assumed::DeclaredAbsent { what } if what.contains("covers go on by ladder"))
            )
        );
        let of_truck = [NotChecked::BucketTruckAllOfIt, NotChecked::BucketTruckTheRest];
        assert!(!absent.not_checked.iter().any(|what| of_truck.contains(what)));
    }
}
