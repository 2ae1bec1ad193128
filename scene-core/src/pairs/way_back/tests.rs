use crate::check::check;
use crate::finding::Grade;
use crate::fixtures::trucks::{TALLIS, scene_text};
use crate::outcome::{Report, Way, WayEnd, WayOf, WayOutRow};
use crate::quantity::show::Units;
use crate::report::words;
use crate::rules::PairState;
use crate::scene;

const EXAMPLE: &str = include_str!("../../../../scenes/01_juniper_lane.ron");

fn report(change: &[(&str, &str)]) -> Report {
    let text = change.iter().fold(EXAMPLE.to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "{from}");
        text.replace(from, to)
    });
    check(&scene::read("job.ron", &text).and_then(|scene| scene.site()).unwrap())
}

fn named(report: &Report, name: &str) -> usize {
    report.steps.iter().position(|step| step.name == name).unwrap()
}

fn stops(report: &Report) -> Vec<Option<usize>> {
    report.findings.iter().filter(|f| f.code() == "no_way_back").map(|f| f.step).collect()
}

fn row(report: &Report, step: usize) -> &WayOutRow {
    report.way_out.iter().find(|row| (row.of, row.step) == (WayOf::Load, step)).unwrap()
}

fn bucket_row<'a>(report: &'a Report, name: &str) -> &'a WayOutRow {
    let step = named(report, name);
    report.way_out.iter().find(|row| (row.of, row.step) == (WayOf::BucketTruck, step)).unwrap()
}

#[test]
fn the_example_can_go_back_from_the_pick_up_to_the_last_step_before_the_pole_is_let_go() {
    let report = report(&[]);
    assert_eq!(stops(&report), []);
    let (took, let_go) = (named(&report, "Take the load"), named(&report, "Let go"));
    let of_load: Vec<&WayOutRow> = report.way_out.iter().filter(|row| row.of == WayOf::Load).collect();
    let steps: Vec<usize> = of_load.iter().map(|row| row.step).collect();
    assert_eq!(steps, (took..report.steps.len()).collect::<Vec<_>>());
    for row in of_load {
        let back = (row.step <= let_go).then_some(Way::Back);
        assert_eq!((row.way, row.ends), (back, back.map(|_| WayEnd::PoleLaidDown)), "{row:?}");
    }
    // The step from which there is none is named.
    let ends = report.findings.iter().find(|finding| finding.code() == "way_back_ends").unwrap();
    assert_eq!((ends.grade, ends.step), (Grade::Note, Some(let_go + 1)));
    // Going on takes no way back's margin away from it: the worst so far stays the worst while nothing else changes.
    let [before, after] =
        ["Lower between A and B", "Take off the butt guards"].map(|n| row(&report, named(&report, n)));
    assert!(after.margin_m <= before.margin_m);
}

#[test]
fn guards_taken_off_below_a_narrow_slot_leave_no_way_back_up_through_it() {
    let narrow = [("\"-8 ft 5 in\", \"32 ft 7 in\"", "\"-7 ft 6 in\", \"30 ft 9 in\"")];
    let report = report(&narrow);
    let off = named(&report, "Take off the butt guards");
    let slot = named(&report, "Lower between A and B");
    // On the way there nothing is a stop: the guards were on.
    assert!(report.gaps.iter().all(|gap| gap.state >= PairState::Covered));
    assert_eq!(stops(&report), [Some(off)]);
    assert_eq!(row(&report, slot).way, Some(Way::Back));
    for step in off..named(&report, "Let go") {
        let row = row(&report, step);
        assert_eq!((row.way, row.state), (None, Some(PairState::Short)), "{row:?}");
        assert_eq!((row.body.as_deref(), row.other.as_deref()), (Some("pole"), Some("A")));
        assert_eq!(row.passing_step, Some(slot));
    }
    let finding = report.findings.iter().find(|f| f.code() == "no_way_back").unwrap();
    assert!(words::of(finding, Units::Both).fix.contains("pole's covers"), "{finding:?}");
}

#[test]
fn guards_that_stay_on_keep_the_way_back() {
    let narrow = [
        ("\"-8 ft 5 in\", \"32 ft 7 in\"", "\"-7 ft 6 in\", \"30 ft 9 in\""),
        ("ends: before(\"Take off the butt guards\")", "ends: never"),
    ];
    let report = report(&narrow);
    assert_eq!(stops(&report), []);
    assert!(report.way_out.iter().any(|row| row.state == Some(PairState::Covered)));
}

#[test]
fn a_wire_let_back_while_the_pole_hangs_below_it_closes_the_way_up() {
    // While somebody works on the arm of C, and after.
    let early = [(
        "tag: \"tag H-14, 200 lb, looked over on 1 March\"),\n      starts: after(\"Hold A, C and the neutral aside\"),\n      ends: before(\"Let the others back\")",
        "tag: \"tag H-14, 200 lb, looked over on 1 March\"),\n      starts: after(\"Hold A, C and the neutral aside\"),\n      ends: before(\"Into the hole\")",
    )];
    let report = report(&early);
    let at = named(&report, "Into the hole");
    assert_eq!(row(&report, at - 1).way, Some(Way::Back));
    let row = row(&report, at);
    assert_eq!((row.way, row.other.as_deref()), (None, Some("A")));
    assert!(row.passing_step.unwrap() <= at);
}

#[test]
fn the_example_brings_its_bucket_back_to_its_rest_from_wherever_it_is() {
    let report = report(&[]);
    let of_bucket: Vec<&WayOutRow> = report.way_out.iter().filter(|row| row.of == WayOf::BucketTruck).collect();
    let steps: Vec<usize> = of_bucket.iter().map(|row| row.step).collect();
    let up = named(&report, "Bucket up behind its truck")..=named(&report, "Bucket truck stowed");
    assert_eq!(steps, up.collect::<Vec<_>>());
    assert!(of_bucket.iter().all(|row| (row.way, row.ends) == (Some(Way::Back), Some(WayEnd::BucketAtRest))));
}

/// The bucket comes near C while it is covered; then the cover comes off, `then` as stated.
fn uncovered_behind_the_bucket(then: &str) -> Report {
    let steps = format!(
        "(name: \"Bucket by C\", do: bucket_to(wire: \"C\", station: \"0 ft\", below: \"2 ft\", left: \"7 ft\")), {then} \
         (name: \"Hose off\", do: work(\"5 min\")), (name: \"Bucket home\", do: bucket_stow), (name: \"Cover up\","
    );
    let text = scene_text(&TALLIS.replace("30 ft", "26 ft")).replacen("(name: \"Cover up\",", &steps, 1);
    let [before, c] = text.split_once("name: \"hose on C\"").map(|(a, b)| [a, b]).unwrap();
    let c = c.replacen("starts: after(\"Cover up\")", "starts: at_start", 1);
    let c = c.replacen("ends: before(\"Uncover\")", "ends: before(\"Hose off\")", 1);
    let scene = scene::read("t", &format!("{before}name: \"hose on C\"{c}"));
    check(&scene.unwrap_or_else(|faults| panic!("{}", faults[0])).site().unwrap())
}

#[test]
fn a_bucket_that_may_not_go_back_past_a_wire_laid_bare_behind_it_goes_on_to_its_rest() {
    let away = "(name: \"Away\", do: bucket_to(point: (\"-14 ft\", \"24 ft\", \"26 ft\"), order: [slew])),";
    let report = uncovered_behind_the_bucket(away);

    assert_eq!(stops(&report), []);
    let back = bucket_row(&report, "Away");
    assert_eq!((back.way, back.state, back.other.as_deref()), (Some(Way::Back), Some(PairState::Covered), Some("C")));
    let on = bucket_row(&report, "Hose off");
    assert_eq!((on.way, on.ends, on.state), (Some(Way::On), Some(WayEnd::BucketAtRest), Some(PairState::Apart)));
}

#[test]
fn a_bucket_beside_a_wire_laid_bare_has_no_way_out() {
    let report = uncovered_behind_the_bucket("");
    let none = bucket_row(&report, "Hose off");
    assert_eq!((none.way, none.ends, none.state), (None, None, Some(PairState::Short)));
    assert!(report.findings.iter().any(|f| f.grade == Grade::Stop && f.step == Some(none.step)));
}

#[test]
fn where_a_wire_hangs_unknown_no_way_is_proven() {
    let mut site = scene::read("job.ron", EXAMPLE).and_then(|scene| scene.site()).unwrap();
    site.wires[1].spans.clear();
    let report = check(&site);
    assert!(report.findings.iter().any(|f| f.code() == "wire_not_hung"));
    let unknown = |row: &WayOutRow| row.way.is_none() && row.state == Some(PairState::Undecided);
    let (took, let_go) = (named(&report, "Take the load"), named(&report, "Let go"));
    assert!((took..=let_go).all(|step| unknown(row(&report, step))), "{:?}", report.way_out);
    assert!(unknown(bucket_row(&report, "Bucket truck down")));
}
