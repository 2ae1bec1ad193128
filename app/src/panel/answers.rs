//! What the route of work asks, item by item, with a form for each answer: who, when, which document, how.
//!
//! What is typed stays in its form until the scene has it, so that an answer that the scene cannot have is not lost.

use super::{Request, State, heading, margin, quiet, values};
use crate::document::{Change, Edit};
use crate::field::{FieldPath, in_words};
use crate::theme::{size, space};
use bevy_egui::egui::{self, RichText};
use scene_core::finding::Grade;
use scene_core::outcome::{AnswerKind, AnswerRow};
use scene_core::quantity::date::Date;
use scene_core::quantity::show::Units;
use scene_core::report::words;
use scene_core::rules::{Item, items, optional};
use scene_core::scene::tree::{Field, Node, Tree};

/// How an item can be answered, as a scene writes it and as people say it.
const KINDS: [(&str, &str); 4] =
    [("arranged", "arranged"), ("does_not_apply", "does not apply"), ("exception", "exception"), ("no", "no")];

/// What is typed for one item.
#[derive(Clone, Debug, PartialEq)]
struct Form {
    /// Index into [`KINDS`].
    kind: usize,
    /// Names, with commas between.
    who: String,
    when: String,
    document: String,
    how: String,
    distance: String,
    /// Why it does not apply, as a scene writes it.
    reason: String,
    paragraph: String,
}

impl Form {
    /// What the scene has now. Words alone are kept as the text of an answer.
    fn of(answer: Option<&Tree>) -> Self {
        let text = |name: &str| match answer.and_then(|answer| FieldPath::of(&[name]).find(answer)) {
            Some(Tree::Text(text) | Tree::Name(text)) => text.clone(),
            Some(Tree::List(names)) => {
                let names = names.iter().filter_map(|node| match &node.tree {
                    Tree::Text(name) => Some(name.as_str()),
                    _ => None,
                });
                names.collect::<Vec<_>>().join(", ")
            }
            _ => String::new(),
        };
        let word = match answer {
            Some(Tree::Struct { name: Some(word), .. }) => word.as_str(),
            _ => "",
        };
        let how = match answer {
            Some(Tree::Text(words)) => words.clone(),
            _ => text("how"),
        };
        Self {
            kind: KINDS.iter().position(|(known, _)| *known == word).unwrap_or(0),
            who: text("who"),
            when: text("when"),
            document: text("document"),
            how,
            distance: text("distance"),
            reason: text("reason"),
            paragraph: text("paragraph"),
        }
    }

    /// As a scene writes it; what is empty is left out.
    fn answer(&self) -> Tree {
        let word = KINDS.get(self.kind).map_or("arranged", |(word, _)| word);
        let mut fields = Vec::new();
        let mut add = |name: &str, value: Tree| {
            fields.push(Field { place: Default::default(), name: name.to_owned(), value: value.node() });
        };
        if word == "does_not_apply" && !self.reason.is_empty() {
            add("reason", Tree::Name(self.reason.clone()));
        }
        if word == "exception" {
            add("paragraph", Tree::Text(self.paragraph.trim().to_owned()));
        }
        let names = self.who.split(',').map(str::trim).filter(|name| !name.is_empty());
        let names: Vec<Node> = names.map(|name| Tree::Text(name.to_owned()).node()).collect();
        if !names.is_empty() {
            add("who", Tree::List(names));
        }
        let texts =
            [("when", &self.when), ("document", &self.document), ("distance", &self.distance), ("how", &self.how)];
        for (name, text) in texts {
            if !text.trim().is_empty() {
                add(name, Tree::Text(text.trim().to_owned()));
            }
        }
        Tree::Struct { name: Some(word.to_owned()), fields }
    }

    /// Why it cannot be taken over yet.
    fn trouble(&self) -> Option<&'static str> {
        let word = KINDS.get(self.kind).map_or("", |(word, _)| word);
        if !self.when.trim().is_empty() && Date::parse(&self.when).is_none() {
            return Some("the day is written as 2026-03-04");
        }
        match word {
            "does_not_apply" if self.reason.is_empty() => Some("choose a reason"),
            "exception" if self.paragraph.trim().is_empty() => Some("name the paragraph"),
            _ => None,
        }
    }
}

/// The answers of the scene, as its map has them.
fn entries(tree: &Tree) -> &[(Node, Node)] {
    match arranged().find(tree) {
        Some(Tree::Map(entries)) => entries,
        _ => &[],
    }
}

fn arranged() -> FieldPath {
    FieldPath::of(&["basis", "arranged"])
}

fn is_of(entry: &(Node, Node), item: &str) -> bool {
    matches!(&entry.0.tree, Tree::Text(key) if key.trim() == item)
}

/// The map with another answer to one item.
fn with(tree: &Tree, item: &str, answer: Tree) -> Tree {
    let mut entries = entries(tree).to_vec();
    match entries.iter_mut().find(|entry| is_of(entry, item)) {
        Some((_, known)) => known.tree = answer,
        None => entries.push((Tree::Text(item.to_owned()).node(), answer.node())),
    }
    Tree::Map(entries)
}

/// Shows the basis of work: the day, the people, each item, each machine, and what else the scene says there.
pub fn show(ui: &mut egui::Ui, state: &State, requests: &mut Vec<Request>) {
    job(ui, state, requests);
    let report = &state.rehearsal.report.basis;
    let open = report.answers.iter().filter(|row| !row.filled_in).count();
    heading(ui, &format!("What the route asks: {open} of {} open", report.answers.len()));
    let route = state.rehearsal.site.basis.route;
    for row in &report.answers {
        let item = items(route).chain(optional(route)).find(|item| item.key == row.item);
        if let Some(item) = item {
            one(ui, state, row, item, requests);
        }
    }
    machines(ui, state, requests);
}

/// The day of the job and a first person, where the scene has none.
fn job(ui: &mut egui::Ui, state: &State, requests: &mut Vec<Request>) {
    let date = FieldPath::of(&["job", "date"]);
    if date.find(state.tree).is_none() {
        let id = egui::Id::new("the day of the job");
        let mut day = ui.data(|data| data.get_temp::<String>(id)).unwrap_or_default();
        ui.horizontal(|ui| {
            ui.label("day of the job");
            let field = egui::TextEdit::singleline(&mut day).hint_text("2026-03-04").desired_width(size::ANSWER_DAY);
            if ui.add(field).changed() {
                ui.data_mut(|data| data.insert_temp(id, day.clone()));
            }
            let known = Date::parse(&day).is_some();
            if ui.add_enabled(known, egui::Button::new("State it").small()).clicked() {
                let (at, value) = match FieldPath::of(&["job"]).find(state.tree) {
                    Some(_) => (date.clone(), Tree::Text(day.trim().to_owned())),
                    None => (FieldPath::of(&["job"]), fields(&[("date", Tree::Text(day.trim().to_owned()))])),
                };
                requests.push(Request::Edit(Edit::set("State the day of the job", at, value)));
            }
        });
    }
    let people = FieldPath::of(&["people"]);
    if people.find(state.tree).is_none() && ui.small_button("List the people of the job").clicked() {
        let roles = Tree::List(vec![Tree::Name("foreman".to_owned()).node()]);
        let skills = Tree::List(vec![Tree::Name("line_work".to_owned()).node()]);
        let person = fields(&[("name", Tree::Text("…".to_owned())), ("roles", roles), ("qualified_for", skills)]);
        let list = Tree::List(vec![person.node()]);
        requests.push(Request::Edit(Edit::set("List the people of the job", people, list)));
    }
}

fn fields(named: &[(&str, Tree)]) -> Tree {
    let field = |(name, value): &(&str, Tree)| Field {
        place: Default::default(),
        name: (*name).to_owned(),
        value: value.clone().node(),
    };
    Tree::Struct { name: None, fields: named.iter().map(field).collect() }
}

/// One item: what is asked, what its answer lacks, and the form.
fn one(ui: &mut egui::Ui, state: &State, row: &AnswerRow, item: &Item, requests: &mut Vec<Request>) {
    let look = if row.filled_in { margin::APART } else { margin::STOP };
    let title = format!("{} {}: {}", look.mark, in_words(&row.item), row.kind.said());
    egui::CollapsingHeader::new(title).id_salt(("item", &row.item)).show(ui, |ui| {
        ui.label(RichText::new(item.text).small().color(quiet(ui.visuals())));
        let of_item = |subject: Option<&str>| subject == Some(row.item.as_str());
        for finding in state.rehearsal.report.findings.iter().filter(|finding| of_item(finding.subject())) {
            if finding.grade == Grade::Stop {
                ui.label(words::message(finding, Units::Both));
            }
        }
        if row.kind == AnswerKind::Standing {
            let until = row.valid_until.as_deref().unwrap_or("?");
            ui.label(format!("By the employer, valid until {until}. An answer here takes its place."));
        }
        form(ui, state, item, requests);
    });
}

fn form(ui: &mut egui::Ui, state: &State, item: &Item, requests: &mut Vec<Request>) {
    let id = egui::Id::new(("answer", item.key));
    let scene = entries(state.tree).iter().find(|entry| is_of(entry, item.key)).map(|(_, answer)| &answer.tree);
    let typed = ui.data(|data| data.get_temp::<Form>(id)).filter(|typed| Some(&typed.answer()) != scene);
    let mut form = typed.unwrap_or_else(|| Form::of(scene));
    let before = form.clone();
    ui.horizontal_wrapped(|ui| {
        for (index, (_, said)) in KINDS.iter().enumerate() {
            ui.radio_value(&mut form.kind, index, *said);
        }
    });
    let word = KINDS.get(form.kind).map_or("", |(word, _)| word);
    egui::Grid::new(id.with("grid")).num_columns(2).spacing(space::FORM).show(ui, |ui| {
        if word == "does_not_apply" {
            ui.label("because");
            ui.vertical(|ui| {
                if item.reasons.is_empty() {
                    ui.label("it always applies");
                }
                for reason in item.reasons {
                    ui.radio_value(&mut form.reason, reason.word().to_owned(), reason.said());
                }
            });
            ui.end_row();
        }
        if word == "exception" {
            line(ui, id, "paragraph", &mut form.paragraph, &item.exceptions.join(" or "));
        }
        line(ui, id, "who", &mut form.who, "names, with commas");
        line(ui, id, "when", &mut form.when, "2026-03-04");
        line(ui, id, "document", &mut form.document, "which, by number or date");
        if item.distance {
            line(ui, id, "distance", &mut form.distance, "4 ft");
        }
        line(ui, id, "how", &mut form.how, "who does what, with what, where");
    });
    let trouble = form.trouble();
    ui.horizontal(|ui| {
        let changed = Some(&form.answer()) != scene;
        if ui.add_enabled(changed && trouble.is_none(), egui::Button::new("Take up").small()).clicked() {
            let map = with(state.tree, item.key, form.answer());
            requests.push(Request::Edit(Edit::set(format!("Answer {}", in_words(item.key)), arranged(), map)));
        }
        if ui.add_enabled(changed && scene.is_some(), egui::Button::new("As the scene has it").small()).clicked() {
            form = Form::of(scene);
        }
    });
    if let Some(why) = trouble {
        ui.label(RichText::new(format!("not taken: {why}")).small().strong());
    }
    if form != before {
        ui.data_mut(|data| data.insert_temp(id, form));
    }
}

fn line(ui: &mut egui::Ui, id: egui::Id, what: &str, text: &mut String, hint: &str) {
    let label = ui.label(what);
    let field = egui::TextEdit::multiline(text)
        .id(id.with(what))
        .desired_rows(1)
        .desired_width(size::ANSWER_WIDTH)
        .hint_text(hint)
        .return_key(None);
    ui.add(field).labelled_by(label.id);
    ui.end_row();
}

/// What protects people should a machine become live, with a button for each machine that has no answer yet.
fn machines(ui: &mut egui::Ui, state: &State, requests: &mut Vec<Request>) {
    heading(ui, "Should a machine become live");
    let at = FieldPath::of(&["basis", "live_machines"]);
    let stated = at.find(state.tree);
    if let Some(tree) = stated {
        values::value(ui, &at, tree, requests);
    }
    for finding in &state.rehearsal.report.findings {
        let ("live_machine_not_answered", Some(machine)) = (finding.code(), finding.subject()) else { continue };
        if !ui.small_button(format!("Answer for {machine}")).clicked() {
            continue;
        }
        let open = || Tree::Text("…".to_owned());
        let techniques = ["ground", "bond", "mats", "barricade"].map(|name| (name, open()));
        let mut protected = fields(&techniques);
        if let Tree::Struct { name, .. } = &mut protected {
            *name = Some("techniques".to_owned());
        }
        let mut entry = vec![("machine", Tree::Text(machine.to_owned())), ("protected", protected)];
        entry.extend(["grounded_to", "keeps_off", "who"].map(|name| (name, open())));
        let day = FieldPath::of(&["job", "date"]).find(state.tree).cloned();
        entry.extend(day.map(|day| ("when", day)));
        let entry = fields(&entry);
        let label = format!("Answer for {machine}");
        let change = match stated {
            Some(Tree::List(known)) => Change::Insert(known.len(), entry),
            _ => Change::Set(Tree::List(vec![entry.node()])),
        };
        requests.push(Request::Edit(Edit { label, at: at.clone(), change }));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::read_text;

    fn answer(text: &str) -> Tree {
        read_text(text).unwrap()
    }

    #[test]
    fn a_form_gives_back_the_answer_that_it_was_filled_from() {
        for text in [
            "arranged(who: [\"Dale\", \"Voss\"], when: \"2026-03-04\", document: \"tag 4\", how: \"by the desk\")",
            "arranged(who: [\"Voss\"], when: \"2026-03-04\", document: \"tag 4\", distance: \"4 ft\", how: \"by the desk\")",
            "does_not_apply(reason: full_view, who: [\"Dale\"])",
            "exception(paragraph: \"1926.1408(b)(5)\", who: [\"Dale\"], how: \"shown\")",
            "no(how: \"nobody to spare\")",
        ] {
            let tree = answer(text);
            let again = Form::of(Some(&tree)).answer();
            let plain = |tree: &Tree| scene_core::scene::writer::write_tree(tree);
            assert_eq!(plain(&again), plain(&tree));
        }
    }

    #[test]
    fn words_alone_are_kept_as_the_text_of_an_answer() {
        let form = Form::of(Some(&Tree::Text("Park attends the hole".to_owned())));
        assert_eq!(form.how, "Park attends the hole");
        let tree = Tree::Struct { name: None, fields: vec![] };
        assert!(matches!(with(&tree, "hole_guarded", form.answer()), Tree::Map(entries) if entries.len() == 1));
    }

    #[test]
    fn a_day_that_is_none_and_a_reason_that_is_missing_are_told() {
        let form = |change: fn(&mut Form)| {
            let mut form = Form::of(None);
            change(&mut form);
            form.trouble()
        };
        assert_eq!(form(|_| ()), None);
        assert!(form(|form| form.when = "tomorrow".to_owned()).is_some());
        assert!(form(|form| form.kind = 1).is_some());
        assert!(form(|form| form.kind = 2).is_some());
    }
}
