//! Tests of what the panels show and give back. They read the panels as assistive technology does and use them by pointer and
//! keys.

use super::*;
use crate::document::{Change, Document};
use crate::field::FieldPath;
use crate::handle::handles;
use crate::scene_file::FIRST_EXAMPLE;
use bevy_egui::egui::accesskit::Role;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use scene_core::outcome::OtherKind;
use scene_core::quantity::show::Units;
use scene_core::report::words;
use scene_core::rules::PairState;
use scene_core::scene::tree::Node;

/// A scene, checked, at an instant.
struct Bench {
    document: Document,
    rehearsal: Rehearsal,
    handles: Vec<Handle>,
    pairs: Vec<Nearest>,
    nearest: Option<Nearest>,
    among_bodies: Option<Nearest>,
    margins: Vec<OverTime>,
    time_s: f64,
    step: usize,
}

impl Bench {
    fn of(document: Document, step: usize) -> Self {
        let rehearsal = Rehearsal::of(document.site());
        let time_s = rehearsal.report.steps.get(step).map_or(0.0, |row| row.from_s);
        let handles = handles(document.site(), document.tree(), step, &rehearsal.shapes(time_s));
        let pairs = rehearsal.to_wires(time_s, 0);
        let nearest = pairs.iter().min_by(|a, b| a.margin_m.total_cmp(&b.margin_m)).cloned();
        let among_bodies = rehearsal.among_bodies(time_s);
        let over_time = |row| OverTime { row, margins: rehearsal.margins(row, 20) };
        let margins = rehearsal.report.foremost(3).into_iter().map(over_time).collect();
        Self { document, rehearsal, handles, pairs, nearest, among_bodies, margins, time_s, step }
    }

    /// The first example at this step.
    fn at(step: usize) -> Self {
        Self::of(Document::built_in(FIRST_EXAMPLE.0, FIRST_EXAMPLE.1).unwrap(), step)
    }

    /// The first example with the choker below the balance point: the motion stops at once.
    fn that_stops() -> Self {
        let mut document = Document::built_in(FIRST_EXAMPLE.0, FIRST_EXAMPLE.1).unwrap();
        let choker = FieldPath::of(&["rigging", "choker_from_butt"]);
        document.apply(&Edit::set("lower the choker", choker, Tree::Text("20 ft".to_owned())), false).unwrap();
        Self::of(document, 0)
    }

    fn held() -> Self {
        let bench = Self::at(0);
        let step = bench.rehearsal.hold_points()[0].step;
        Self::of(bench.document, step)
    }

    fn state(&self) -> State<'_> {
        State {
            rehearsal: &self.rehearsal,
            tree: self.document.tree(),
            is_checking: false,
            handles: &self.handles,
            mode: Mode::Plan,
            layers: Layers::default(),
            time_s: self.time_s,
            step: self.step,
            playing: false,
            speed: 20.0,
            stop_at_holds: true,
            weather: 0,
            dark: false,
            text_scale: 1.0,
            undo: None,
            redo: None,
            saved: true,
            recent: &[],
            before: None,
            trouble: None,
            nearest: self.nearest.as_ref(),
            pairs: &self.pairs,
            among_bodies: self.among_bodies.as_ref(),
            governing: self.rehearsal.report.governing().map(|(row, _)| row),
            margins: &self.margins,
        }
    }
}

type Panel = fn(&mut egui::Ui, &State, &mut Vec<Request>);

/// A panel on a sheet that is large enough for all of it.
fn shown<'a>(state: State<'a>, panel: Panel) -> Harness<'a, Vec<Request>> {
    let draw = move |ui: &mut egui::Ui, requests: &mut Vec<Request>| panel(ui, &state, requests);
    let mut harness = Harness::builder().with_size(egui::vec2(900.0, 3000.0)).build_ui_state(draw, Vec::new());
    harness.run();
    harness
}

/// All text that can be read.
fn text(harness: &Harness<Vec<Request>>) -> String {
    let words = harness.root().children_recursive().flat_map(|node| {
        let node = node.accesskit_node();
        [node.label(), node.value()]
    });
    words.flatten().map(|word| format!("{word}\n")).collect()
}

#[track_caller]
fn says(harness: &Harness<Vec<Request>>, parts: &[&str]) {
    let text = text(harness);
    for part in parts {
        assert!(text.contains(part), "{part:?} is not in:\n{text}");
    }
}

#[track_caller]
fn click(harness: &mut Harness<Vec<Request>>, label: &str) {
    harness.get_by_label(label).click();
    harness.run();
}

/// Types another text into the field that has this one, and presses Enter.
#[track_caller]
fn type_over(harness: &mut Harness<Vec<Request>>, was: &str, now: &str) {
    let field = |node: &egui_kittest::Node<'_>| {
        let node = node.accesskit_node();
        node.role() == Role::TextInput && node.value().as_deref() == Some(was)
    };
    harness.root().children_recursive().find(field).unwrap_or_else(|| panic!("no field has {was:?}")).click();
    harness.run();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    harness.event(egui::Event::Text(now.to_owned()));
    harness.run();
    harness.key_press(egui::Key::Enter);
    harness.run();
}

#[test]
fn the_governing_card_names_the_pair_its_numbers_and_its_rule() {
    let bench = Bench::at(0);
    let (_, row) = bench.rehearsal.report.governing().unwrap();
    let harness = shown(bench.state(), governing::show);
    let pair = format!("{} to {}", row.body, row.other);
    let feet = [row.low_m, row.allowance_m, row.required_m, row.margin_m].map(margin::feet_inches);
    says(&harness, &[&pair, &feet[0], &feet[1], &feet[2], &feet[3], &row.rule, "less allowances", "less required"]);
    for finding in bench.rehearsal.report.findings.iter().filter(|finding| finding.grade != Grade::Note) {
        says(&harness, &[&words::message(finding, Units::Both)]);
    }
}

#[test]
fn go_there_goes_to_the_time_and_place_of_the_governing_pair() {
    let bench = Bench::at(0);
    let (_, row) = bench.rehearsal.report.governing().unwrap();
    let mut harness = shown(bench.state(), governing::show);
    let first = harness.get_all_by_label("Go there").next().unwrap();
    first.click();
    harness.run();
    assert_eq!(harness.state()[0], Request::Go(row.time_s.unwrap()));
    assert!(matches!(harness.state()[1..], [Request::Weather(_), Request::LookAt(_)]));
}

#[test]
fn a_mark_on_the_timeline_goes_to_where_a_margin_is_least_in_its_weather() {
    let bench = Bench::at(0);
    let report = &bench.rehearsal.report;
    let foremost = report.foremost(3);
    assert_eq!(foremost[0], report.governing().map(|(row, _)| row).unwrap());
    let mut harness = shown(bench.state(), timeline::show);
    for (at, row) in foremost.iter().map(|row| &report.gaps[*row]).enumerate() {
        let GapRow { body, other, weather, margin_m, .. } = row;
        let said = format!("{} {body} to {other}: {}", at + 1, margin::feet_inches(*margin_m));
        says(&harness, &[&said]);
        click(&mut harness, &said);
        let [.., Request::Go(time_s), Request::Weather(shown)] = harness.state()[..] else {
            panic!("{:?}", harness.state())
        };
        assert_eq!(Some(time_s), row.time_s);
        assert_eq!(bench.rehearsal.site.weather[shown].name, *weather);
    }
}

#[test]
fn a_pair_of_which_nothing_is_known_is_marked_as_the_stop_it_is() {
    let mut bench = Bench::at(0);
    let (first, time_s) = (bench.margins[0].row, 100.0);
    for unknown in [f64::NAN, f64::NEG_INFINITY] {
        let row = &mut bench.rehearsal.report.gaps[first];
        (row.margin_m, row.state, row.time_s) = (unknown, PairState::Undecided, Some(time_s));
        let said = format!("1 {} to {}: ", row.body, row.other);
        let mut harness = shown(bench.state(), timeline::show);
        let marked = |node: &egui_kittest::Node<'_>| {
            let node = node.accesskit_node();
            node.role() == Role::Button && node.label().is_some_and(|label| label.starts_with(&said))
        };
        harness.root().children_recursive().find(marked).expect("no mark").click();
        harness.run();
        assert!(harness.state().contains(&Request::Go(time_s)), "{unknown}");
    }
}

#[test]
fn the_governing_card_says_nothing_of_weather_where_there_is_none() {
    let mut bench = Bench::at(0);
    let (index, _) = bench.rehearsal.report.governing().unwrap();
    bench.rehearsal.report.gaps[index].weather.clear();
    let read = text(&shown(bench.state(), governing::show));
    let step = read.lines().find(|line| line.starts_with("step ")).unwrap();
    assert!(step.ends_with(char::is_alphabetic), "{step}");
}

#[test]
fn the_nearest_bodies_are_named_beside_the_nearest_wire() {
    let bench = Bench::at(0);
    let between = bench.among_bodies.as_ref().unwrap();
    let row = &bench.rehearsal.report.gaps[between.row];
    assert_ne!(row.other_kind, OtherKind::Wire);
    let said = format!("{} to {}: gap {}", row.body, row.other, margin::feet_inches(between.gap_m));
    says(&shown(bench.state(), governing::show), &[&said]);
}

#[test]
fn a_stop_is_told_in_words_wherever_it_is_marked() {
    let bench = Bench::that_stops();
    assert_eq!(bench.rehearsal.report.verdict, Verdict::Stop);
    let head = shown(bench.state(), super::head);
    says(&head, &["STOP: "]);
    let card = shown(bench.state(), governing::show);
    says(&card, &["Motion ends before step 1: nothing from there on was checked.", "\u{26d4} stop"]);
    says(&shown(bench.state(), steps::show), &["\u{26d4} not checked"]);
    let brief = shown(State { mode: Mode::Brief, ..bench.state() }, brief::show);
    says(&brief, &["This step was not checked"]);
    for harness in [head, card] {
        let text = text(&harness);
        let bare = text.lines().find(|line| line.trim() == "\u{26d4}");
        assert_eq!(bare, None, "a mark without a word");
    }
}

#[test]
fn at_a_hold_point_the_brief_asks_and_goes_on_only_when_answered() {
    let bench = Bench::held();
    let question = bench.rehearsal.report.steps[bench.step].hold.clone().unwrap();
    let mut harness = shown(State { mode: Mode::Brief, ..bench.state() }, brief::show);
    says(&harness, &["HOLD", &question, "Anyone on the job may stop it."]);
    assert!(!text(&harness).contains("Show it"), "it cannot be played past the question");
    click(&mut harness, "\u{2714} Answered yes: go on");
    assert_eq!(harness.state()[..], [Request::Step(bench.step + 1)]);
}

#[test]
fn nothing_in_the_brief_can_be_edited() {
    for bench in [Bench::at(5), Bench::held(), Bench::that_stops()] {
        let harness = shown(State { mode: Mode::Brief, ..bench.state() }, brief::show);
        let edits = |role| matches!(role, Role::TextInput | Role::MultilineTextInput | Role::CheckBox | Role::ComboBox);
        let nodes = harness.root().children_recursive();
        assert!(!nodes.map(|node| node.accesskit_node().role()).any(edits));
    }
}

#[test]
fn a_row_of_the_gaps_goes_to_its_time_and_place() {
    let bench = Bench::at(0);
    let report = &bench.rehearsal.report;
    let mut rows: Vec<_> = report.gaps.iter().collect();
    rows.sort_by(|a, b| a.worst_first(b));
    let worst = rows[0];
    let mut harness = shown(State { mode: Mode::Check, ..bench.state() }, tables::show);
    says(&harness, &[&worst.body, &worst.other, &worst.rule]);
    let margin = margin::feet_inches(worst.margin_m);
    harness.get_all_by_label(&margin).next().unwrap().click();
    harness.run();
    assert_eq!(harness.state()[0], Request::Go(worst.time_s.unwrap()));
    assert!(matches!(harness.state()[1..], [Request::Weather(_), Request::LookAt(_)]));
}

#[test]
fn the_check_tells_what_was_not_checked() {
    let bench = Bench::at(0);
    let mut harness = shown(State { mode: Mode::Check, ..bench.state() }, tables::show);
    click(&mut harness, "What it rests on");
    let report = &bench.rehearsal.report;
    let assumed = report.assumed.iter().map(|assumed| words::assumed(assumed, Units::Both));
    for line in report.not_checked.iter().map(words::not_checked).chain(assumed) {
        says(&harness, &[line.as_ref()]);
    }
}

#[test]
fn a_value_that_is_typed_comes_back_as_an_edit_of_that_field() {
    let bench = Bench::at(0);
    let mut harness = shown(bench.state(), steps::show);
    type_over(&mut harness, "110 ft", "105 ft");
    let [Request::Edit(edit)] = &harness.state()[..] else { panic!("{:?}", harness.state()) };
    assert_eq!(edit.change, Change::Set(Tree::Text("105 ft".to_owned())));
    assert_eq!(edit.at.to_string(), "steps[1].do.boom_length");
}

#[test]
fn a_word_that_cannot_be_read_stays_with_the_reason_and_is_no_edit() {
    let bench = Bench::at(0);
    let draw = |ui: &mut egui::Ui, state: &State, requests: &mut Vec<Request>| {
        let path = FieldPath::of(&["circuits"]).at(0).field("grounding");
        values::value(ui, &path, path.find(state.tree).unwrap(), requests);
    };
    let mut harness = shown(bench.state(), draw);
    type_over(&mut harness, "effectively_grounded", "(effectively");
    assert!(harness.state().is_empty(), "{:?}", harness.state());
    says(&harness, &["(effectively", "not taken: text:1:"]);
    type_over(&mut harness, "(effectively", "ungrounded");
    let [Request::Edit(edit)] = &harness.state()[..] else { panic!("{:?}", harness.state()) };
    assert_eq!(edit.change, Change::Set(Tree::Name("ungrounded".to_owned())));
    assert!(!text(&harness).contains("not taken"));
}

#[test]
fn what_the_scene_cannot_have_is_told_with_its_line_and_field() {
    let mut document = Document::built_in(FIRST_EXAMPLE.0, FIRST_EXAMPLE.1).unwrap();
    let depth = FieldPath::of(&["rigging", "choker_from_butt"]);
    let why = document.apply(&Edit::set("x", depth, Tree::Text("12 kg".to_owned())), false).unwrap_err();
    let bench = Bench::of(document, 0);
    let mut harness = shown(State { trouble: Some(&why), ..bench.state() }, governing::show);
    says(&harness, &[&why, "rigging.choker_from_butt"]);
    let line = why.split(':').nth(1).and_then(|line| line.parse::<u32>().ok());
    assert!(line.is_some_and(|line| line > 1), "{why}");
    click(&mut harness, "Understood");
    assert_eq!(harness.state()[..], [Request::Understood]);
}

#[test]
fn this_mornings_figures_come_back_as_one_edit_of_the_whole_scene() {
    let bench = Bench::at(0);
    let draw = |ui: &mut egui::Ui, state: &State, requests: &mut Vec<Request>| morning::show(ui.ctx(), state, requests);
    let mut harness = shown(bench.state(), draw);
    says(&harness, &["sag of A", "wind, \"breeze\"", "weight of the pole as it hangs"]);
    type_over(&mut harness, "10 mph", "7 mph");
    click(&mut harness, "Run it again");
    let [Request::Edit(edit)] = &harness.state()[..] else { panic!("{:?}", harness.state()) };
    let Change::Set(tree) = &edit.change else { panic!("{edit:?}") };
    let wind = FieldPath::of(&["weather"]).at(1).field("wind");
    assert_eq!(wind.find(tree), Some(&Tree::Text("7 mph".to_owned())));
    let sag = FieldPath::of(&["wires"]);
    assert_eq!(sag.find(tree), sag.find(bench.document.tree()), "what was not measured stays");
}

#[test]
fn an_answer_is_filled_in_by_its_form_and_comes_back_as_one_edit_of_the_map() {
    let mut document = Document::built_in(FIRST_EXAMPLE.0, FIRST_EXAMPLE.1).unwrap();
    let Some(Tree::Map(entries)) = FieldPath::of(&["basis", "arranged"]).find(document.tree()) else { panic!() };
    let hole = |entry: &&(Node, Node)| entry.0.tree == Tree::Text("hole_guarded".to_owned());
    let at = entries.iter().position(|entry| hole(&entry)).unwrap();
    let path = FieldPath::of(&["basis", "arranged"]).at(at);
    let words = Tree::Text("Park attends the hole".to_owned());
    document.apply(&Edit::set("as it was", path.clone(), words), false).unwrap();
    let bench = Bench::of(document, 0);
    let mut harness = shown(bench.state(), answers::show);
    let title = format!("{} hole guarded: words alone, not counted", margin::STOP.mark);
    click(&mut harness, &title);
    says(&harness, &["Park attends the hole", "`hole_guarded` is answered in words alone"]);
    harness.get_by_label("who").click();
    harness.run();
    harness.event(egui::Event::Text("Park".to_owned()));
    harness.run();
    click(&mut harness, "Take up");
    let [Request::Edit(edit)] = &harness.state()[..] else { panic!("{:?}", harness.state()) };
    assert_eq!(edit.label, "Answer hole guarded");
    let edit = edit.clone();
    drop(harness);
    let Bench { mut document, .. } = bench;
    document.apply(&edit, false).unwrap();
    let said = scene_core::scene::writer::write_tree(path.find(document.tree()).unwrap());
    assert!(said.contains("\"Park\"") && said.contains("\"Park attends the hole\""), "{said}");
    let report = scene_core::check::check(document.site());
    assert!(report.basis.answers.iter().any(|row| row.item == "hole_guarded" && row.filled_in));
    assert!(document.undo());
    assert_eq!(path.find(document.tree()), Some(&Tree::Text("Park attends the hole".to_owned())));
}

#[test]
fn a_scene_without_a_day_people_and_machines_is_asked_for_them() {
    let document = Document::built_in("job.ron", scene_core::scene::template()).unwrap();
    let bench = Bench::of(document, 0);
    let mut harness = shown(bench.state(), answers::show);
    says(&harness, &["day of the job", "Should a machine become live"]);
    let crane = bench.rehearsal.site.crane.name.clone();
    click(&mut harness, "List the people of the job");
    click(&mut harness, &format!("Answer for {crane}"));
    let edits: Vec<Edit> = (harness.state().iter())
        .filter_map(|request| if let Request::Edit(edit) = request { Some(edit.clone()) } else { None })
        .collect();
    assert_eq!(edits.len(), 2);
    drop(harness);
    let Bench { mut document, .. } = bench;
    for edit in &edits {
        document.apply(edit, false).unwrap();
    }
    assert_eq!(document.site().people.len(), 1);
    assert_eq!(document.site().basis.live_machines[0].machine, crane);
}

#[test]
fn the_first_minute_says_one_thing_after_another_and_can_be_left() {
    let bench = Bench::at(0);
    let draw = |ui: &mut egui::Ui, state: &State, requests: &mut Vec<Request>| help::welcome(ui.ctx(), state, requests);
    let mut harness = shown(bench.state(), draw);
    says(&harness, &["1 of 3", "Press Play"]);
    says(&shown(State { playing: true, ..bench.state() }, draw), &["2 of 3", "drag the crane"]);
    let moved = State { playing: true, undo: Some("Move the crane"), ..bench.state() };
    says(&shown(moved, draw), &["3 of 3", "Undo"]);
    click(&mut harness, "Enough");
    assert_eq!(harness.state()[..], [Request::Layers(Layers { welcome: false, ..Layers::default() })]);
}

#[test]
fn the_help_lists_every_key_and_every_mark() {
    let bench = Bench::at(0);
    let draw = |ui: &mut egui::Ui, state: &State, requests: &mut Vec<Request>| help::sheet(ui.ctx(), state, requests);
    let harness = shown(bench.state(), draw);
    for (key, what) in help::KEYS {
        says(&harness, &[key, what]);
    }
    for look in [margin::STOP, margin::COVERED, margin::TIGHT, margin::APART] {
        says(&harness, &[look.mark]);
    }
}

#[test]
fn save_is_offered_only_when_something_changed() {
    let bench = Bench::at(0);
    for (saved, asked) in [(true, 0), (false, 1)] {
        let mut harness = shown(State { saved, ..bench.state() }, super::head);
        click(&mut harness, "Save");
        assert_eq!(
            harness.state().iter().filter(|request| **request == Request::File(FileRequest::Save)).count(),
            asked
        );
    }
}

#[test]
fn counts_and_times_are_offered_in_the_view_menu_and_read_as_a_table() {
    let bench = Bench::at(0);
    let mut harness = shown(bench.state(), super::head);
    click(&mut harness, "View");
    click(&mut harness, "Counts and times (F12)");
    assert_eq!(harness.state()[..], [Request::Layers(Layers { diagnostics: true, ..Layers::default() })]);
    let draw = |ui: &mut egui::Ui, _: &State, _: &mut Vec<Request>| {
        let ms = std::time::Duration::from_millis;
        let counts = vec![("solids", 41), ("meshes made", 7)];
        let row = diagnostics::Row { subsystem: "bodies", runs: 3, last: ms(2), longest: ms(15), counts };
        diagnostics::show(ui.ctx(), 250.0, 100.0, &[row], &[("meshes", 99)]);
    };
    let harness = shown(bench.state(), draw);
    says(&harness, &["bodies", "3", "2.00", "15.00", "41 solids, 7 meshes made", "99 meshes"]);
}
