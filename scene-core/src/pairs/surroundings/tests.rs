use super::travels;
use crate::check::{Prepared, check};
use crate::finding::{Finding, Grade};
use crate::machine::crane::{Joint, Joints};
use crate::outcome::{GapRow, OtherKind, Report};
use crate::premise::NotChecked;
use crate::quantity::show::Units;
use crate::report::words;
use crate::rules::PairState;
use crate::scene;

const JUNIPER_LANE: &str = include_str!("../../../../scenes/01_juniper_lane.ron");

/// The first example without its own neighbors, with these fields more.
fn report(fields: &str) -> Report {
    let own = JUNIPER_LANE.find("  neighbours: (").unwrap_or(JUNIPER_LANE.rfind(')').unwrap());
    let text = format!("{}{fields}\n)", &JUNIPER_LANE[..own]);
    let text = text.replace("    structures: listed", "    // structures: listed");
    let site = scene::read("job.ron", &text).and_then(|scene| scene.site()).unwrap_or_else(|f| panic!("{}", f[0]));
    check(&site)
}

fn obstacle(shape: &str) -> Report {
    report(&format!("neighbours: (obstacles: [(name: \"it\", shape: {shape})]),"))
}

fn row<'a>(report: &'a Report, body: &str, other: &str) -> &'a GapRow {
    let mut rows = report.gaps.iter().filter(|row| row.body == body && row.other == other);
    let row = rows.next().unwrap_or_else(|| panic!("{body} to {other}"));
    assert!(rows.next().is_none(), "one row per pair");
    row
}

fn about<'a>(report: &'a Report, code: &str, words: &str) -> Option<&'a Finding> {
    report
        .findings
        .iter()
        .find(|finding| finding.code() == code && words::message(finding, Units::Both).contains(words))
}

fn person(task: &str, at: &str, when: &str) -> Report {
    report(&format!(
        "neighbours: (people: [(name: \"Ruiz\", task: {task}, at: {at}, reach: \"2 ft\", height: \"8 ft\"{when})]),"
    ))
}

#[test]
fn every_body_of_the_machine_is_held_against_the_ground_and_the_pole_while_it_travels() {
    let report = report("");
    for body in ["boom", "boom head", "hoist line", "hook block", "tail"] {
        let row = row(&report, body, "the ground");
        assert_eq!((row.other_kind, row.state), (OtherKind::Terrain, PairState::Apart), "{row:?}");
    }
    // It travels over the hole with its butt 4 ft up, less what booming down lowers it by.
    let site = scene::read("job.ron", JUNIPER_LANE).and_then(|scene| scene.site()).unwrap();
    let prepared = Prepared::of(&site, &mut Vec::new());
    let (head, plan) = (&site.crane.head, prepared.plan.as_ref().unwrap());
    let sheave = |joints: &Joints| {
        let along_m = joints.boom_length_m + head.along_m;
        along_m * joints.boom_angle.sin() - head.below_m * joints.boom_angle.cos()
    };
    let booming = plan.pieces.iter().rfind(|p| travels(p) && p.moves(Joint::BoomAngle)).unwrap();
    let lowered_m = sheave(&booming.from) - sheave(&booming.to);
    let pole = row(&report, "pole", "the ground, while it travels");
    assert!(lowered_m > 0.1 && (pole.low_m - (4.0 * 0.3048 - lowered_m)).abs() < 0.02, "{lowered_m}: {pole:?}");
    // The tail's lower edge is at its own height above level ground, whatever the swing.
    let tail = row(&report, "tail", "the ground");
    assert!((tail.low_m - site.crane.tail.from_height_m).abs() < 2e-3, "{tail:?}");
    assert!(
        report.gaps.iter().all(|row| row.body != "rigging" || row.other != "the ground"),
        "it reaches to the choke"
    );
}

#[test]
fn ground_that_is_near_only_within_the_allowances_is_a_caution_and_hides_no_wire() {
    let scene = scene::read_bytes("03", include_bytes!("../../../../scenes/03_sorrel_flat.ron")).unwrap();
    let report = check(&scene.site().unwrap());
    let near = row(&report, "pole", "the ground, while it travels");
    assert!(near.low_m > 0.0 && near.margin_m < 0.0 && near.state == PairState::Tight, "{near:?}");
    assert_eq!(about(&report, "body_touch", "the ground").unwrap().grade, Grade::Caution);
    assert_eq!(report.governing().unwrap().1.other_kind, OtherKind::Wire);
}

#[test]
fn a_mound_in_the_way_of_the_travelling_pole_is_struck() {
    let report = report(
        "terrain: (spots: [(\"-300 ft\", \"-300 ft\", \"0 ft\"), (\"300 ft\", \"-300 ft\", \"0 ft\"), \
         (\"300 ft\", \"300 ft\", \"0 ft\"), (\"-300 ft\", \"300 ft\", \"0 ft\"), (\"-8 ft\", \"-12 ft\", \"44 ft\"), \
         (\"-10 ft\", \"-10 ft\", \"44 ft\"), (\"-6 ft\", \"-10 ft\", \"44 ft\")], accuracy: \"2 in\"),",
    );
    assert_eq!(row(&report, "pole", "the ground, while it travels").state, PairState::Touch);
    assert!(about(&report, "body_touch", "the ground").is_some());
}

#[test]
fn a_mast_in_the_way_of_the_load_is_a_stop_and_one_far_off_has_its_gap() {
    let near = obstacle("post(foot: (\"0 ft\", \"-6 ft\", \"0 ft\"), height: \"60 ft\", diameter: \"1 ft\")");
    let finding = about(&near, "body_touch", "it").expect("a finding");
    assert_eq!(finding.grade, Grade::Stop);
    assert!(finding.step.is_some());

    let far = obstacle("post(foot: (\"0 ft\", \"200 ft\", \"0 ft\"), height: \"60 ft\", diameter: \"2 ft\")");
    let tail = row(&far, "tail", "it");
    assert_eq!((tail.other_kind, tail.state), (OtherKind::Obstacle, PairState::Apart));
    // From the slew axis 238 ft, less the mast's radius and the corner of the tail's box, at whatever swing.
    let site = scene::read("job.ron", JUNIPER_LANE).and_then(|scene| scene.site()).unwrap();
    let corner = site.crane.tail.radius_m.hypot(site.crane.tail.half_width_m);
    assert!(tail.low_m >= 237.0 * 0.3048 - corner - 1e-3 && tail.low_m <= 237.0 * 0.3048, "{tail:?}");
    assert!(far.findings.iter().all(|finding| !finding.code().starts_with("body_")));
}

#[test]
fn a_house_under_the_boom_s_way_is_struck_and_a_lower_one_is_not() {
    let house = |height: &str| {
        obstacle(&format!(
            "building(corners: [(\"-6 ft\", \"-30 ft\"), (\"6 ft\", \"-30 ft\"), (\"6 ft\", \"-27 ft\"), (\"-6 ft\", \"-27 ft\")], \
             ground: \"0 ft\", height: \"{height}\")"
        ))
    };
    assert_eq!(row(&house("70 ft"), "boom", "it").state, PairState::Touch);
    assert_eq!(row(&house("3 ft"), "boom", "it").state, PairState::Apart);
}

#[test]
fn nothing_may_come_into_a_no_go_area_and_the_reason_is_said() {
    let report = report(
        "neighbours: (no_go: [(name: \"yard\", corners: [(\"-4 ft\", \"-8 ft\"), (\"4 ft\", \"-8 ft\"), (\"4 ft\", \"-4 ft\"), \
         (\"-4 ft\", \"-4 ft\")], ground: \"0 ft\", height: \"90 ft\", reason: \"children play there\")]),",
    );
    let finding = about(&report, "body_touch", "yard").expect("a finding");
    assert!(words::of(finding, Units::Both).rule.contains("children play there"));
}

#[test]
fn nobody_stands_under_the_load_who_guides_it_neither() {
    let under = "(\"3 ft\", \"-8 ft\", \"0 ft\")";
    let stops = |report: &Report| about(report, "load_over_person", "Ruiz").map(|finding| finding.grade);
    assert_eq!(stops(&person("observer", under, "")), Some(Grade::Stop));
    let when = ", starts: after(\"Upend on the road\"), ends: before(\"Let go\")";
    assert_eq!(stops(&person("tag_line", under, when)), Some(Grade::Stop));

    let away = person("observer", "(\"-140 ft\", \"-8 ft\", \"0 ft\")", "");
    assert!(about(&away, "load_over_person", "").is_none());
    assert!(away.gaps.iter().any(|row| row.body == "tail" && row.other == "Ruiz" && row.state == PairState::Apart));

    let later = person("observer", under, ", starts: after(\"Boom away\")");
    assert!(about(&later, "load_over_person", "").is_none(), "who comes after the load was let go is not under it");
}

#[test]
fn who_holds_a_tag_line_is_struck_like_anybody_else() {
    let in_the_hole = person("tag_line", "(\"0 ft\", \"0 ft\", \"0 ft\")", "");
    assert_eq!(row(&in_the_hole, "pole", "Ruiz").state, PairState::Touch);
}

#[test]
fn nobody_but_who_guides_the_pole_stands_where_it_may_fall() {
    let near = "(\"0 ft\", \"30 ft\", \"0 ft\")";
    let graded = |task: &str, at: &str| about(&person(task, at, ""), "in_fall_zone", "Ruiz").map(|f| f.grade);
    assert_eq!(graded("observer", near), Some(Grade::Caution));
    assert_eq!(graded("bystander", near), Some(Grade::Stop));
    assert_eq!(graded("tag_line", near), None);
    // The pole is 55 ft long, and its butt never comes farther out than 30 ft along the road.
    assert_eq!(graded("bystander", "(\"-140 ft\", \"-8 ft\", \"0 ft\")"), None);
}

#[test]
fn who_walks_under_the_load_is_under_it_wherever_he_stands_before_and_after() {
    let report = |walks: &str| {
        report(&format!(
            "neighbours: (people: [(name: \"Ruiz\", task: tag_line, reach: \"2 ft\", height: \"8 ft\", places: [\
             (at: (\"-20 ft\", \"-1 ft\", \"0 ft\"), ends: before(\"{walks}\")), \
             (at: (\"20 ft\", \"-1 ft\", \"0 ft\"), starts: after(\"{walks}\"))])]),"
        ))
    };
    let walking = report("Over the slot");
    assert!(about(&walking, "load_over_person", "Ruiz").is_some_and(|finding| finding.step.is_some()));
    let after = report("Let the others back");
    assert!(about(&after, "load_over_person", "Ruiz").is_none());
}

#[test]
fn nobody_is_in_two_places_at_once() {
    let twice = report(
        "neighbours: (people: [(name: \"Ruiz\", task: observer, reach: \"2 ft\", height: \"8 ft\", places: [\
         (at: (\"-140 ft\", \"-8 ft\", \"0 ft\")), (at: (\"-140 ft\", \"20 ft\", \"0 ft\"))])]),",
    );
    assert_eq!(about(&twice, "person_in_two_places", "Ruiz").map(|finding| finding.grade), Some(Grade::Stop));
}

#[test]
fn the_man_in_the_bucket_is_not_under_the_load_either() {
    // The bucket goes up where the pole's butt passes over the wires, and stays there.
    let up = "(name: \"Bucket truck stowed\", do: bucket_stow),";
    let text = JUNIPER_LANE
        .replace(up, "(name: \"Bucket truck stowed\", do: bucket_to(point: (\"0 ft\", \"12 ft\", \"12 ft\"))),");
    let site = scene::read("job.ron", &text).and_then(|scene| scene.site()).unwrap_or_else(|f| panic!("{}", f[0]));
    assert!(about(&check(&site), "load_over_person", "the man in the").is_none(), "beside the way of the load");
    let text = JUNIPER_LANE
        .replace(up, "(name: \"Bucket truck stowed\", do: bucket_to(point: (\"0 ft\", \"6 ft\", \"20 ft\"))),");
    let site = scene::read("job.ron", &text).and_then(|scene| scene.site()).unwrap_or_else(|f| panic!("{}", f[0]));
    assert!(about(&check(&site), "load_over_person", "the man in the").is_some());
}

#[test]
fn who_stands_in_the_tail_s_sweep_is_struck() {
    let report = person("signal", "(\"-6 ft\", \"-42 ft\", \"0 ft\")", "");
    assert_eq!(row(&report, "tail", "Ruiz").state, PairState::Touch);
}

#[test]
fn what_the_scene_does_not_say_of_the_ground_and_of_neighbours_is_not_checked() {
    let silent = report("");
    let said = |report: &Report, what: NotChecked| report.not_checked.contains(&what);
    let all = [NotChecked::LieOfGround, NotChecked::WhetherNeighborsStand, NotChecked::WherePeopleStand];
    assert!(all.into_iter().all(|what| said(&silent, what)));
    let stated = person("observer", "(\"-140 ft\", \"-8 ft\", \"0 ft\")", "");
    assert!(!said(&stated, NotChecked::WherePeopleStand));
    // The places of people do not tell what else stands there.
    assert!(said(&stated, NotChecked::WhetherNeighborsStand));
    let maple = report(
        "neighbours: (obstacles: [(name: \"maple\", shape: tree(foot: (\"85 ft\", \"48 ft\", \"0 ft\"), height: \"38 ft\", \
         trunk: \"22 in\", crown: \"28 ft\", crown_from: \"9 ft\"))]),",
    );
    assert!(!said(&maple, NotChecked::WhetherNeighborsStand));
}

#[test]
fn ground_beyond_the_outermost_spots_is_said_not_to_be_checked() {
    let spots = "terrain: (spots: [(\"-60 ft\", \"-60 ft\", \"0 ft\"), (\"60 ft\", \"-60 ft\", \"0 ft\"), \
                 (\"60 ft\", \"60 ft\", \"0 ft\"), (\"-60 ft\", \"60 ft\", \"0 ft\")], accuracy: \"1 in\"),";
    let says = |report: &Report, what: NotChecked| report.not_checked.contains(&what);
    let (surveyed, flat) = (report(spots), report(""));
    assert!(says(&surveyed, NotChecked::GroundBeyondSpots) && !says(&surveyed, NotChecked::LieOfGround));
    assert!(says(&flat, NotChecked::LieOfGround) && !says(&flat, NotChecked::GroundBeyondSpots));
}
