//! The scene, field by field, to be changed: each value as it is written, with its unit.

use super::{Request, State, answers, heading, margin, quiet};
use crate::document::{Change, Edit, read_text};
use crate::field::{FieldPath, in_words};
use bevy_egui::egui::{self, RichText};
use scene_core::scene::tree::{Node, Tree};
use scene_core::scene::writer::write_tree;

/// The sections of a scene, in the order in which a planner looks for them; others come after.
const SECTIONS: [&str; 17] = [
    "crane",
    "bucket_truck",
    "pole",
    "rigging",
    "hole",
    "held_out",
    "covers",
    "wires",
    "circuits",
    "weather",
    "allowances",
    "neighbours",
    "terrain",
    "near",
    "job",
    "people",
    "basis",
];

/// Shows the whole scene but its steps.
pub fn show(ui: &mut egui::Ui, state: &State, requests: &mut Vec<Request>) {
    let Tree::Struct { fields, .. } = state.tree else { return };
    heading(ui, "What the scene says");
    let said = "Values with their unit, as they are saved. Enter takes a value up; Escape leaves it.";
    ui.label(RichText::new(said).small().color(quiet(ui.visuals())));
    egui::ScrollArea::vertical().id_salt("values").auto_shrink([false, false]).show(ui, |ui| {
        let place = |name: &str| SECTIONS.iter().position(|section| *section == name).unwrap_or(SECTIONS.len());
        let mut sections: Vec<_> =
            fields.iter().filter(|field| field.name != "steps" && field.name != "format").collect();
        sections.sort_by_key(|field| place(&field.name));
        for field in sections {
            if field.name == "basis" {
                basis(ui, state, &field.value.tree, requests);
                continue;
            }
            named(ui, &FieldPath::of(&[&field.name]), &field.name, &field.value.tree, requests);
        }
    });
}

/// Shows the basis of work: its answers by their forms, the rest field by field.
fn basis(ui: &mut egui::Ui, state: &State, tree: &Tree, requests: &mut Vec<Request>) {
    let path = FieldPath::of(&["basis"]);
    egui::CollapsingHeader::new("basis").id_salt(&path).show(ui, |ui| {
        if let Tree::Struct { fields, .. } = tree {
            for field in fields.iter().filter(|field| !["arranged", "live_machines"].contains(&field.name.as_str())) {
                named(ui, &path.field(&field.name), &field.name, &field.value.tree, requests);
            }
        }
        answers::show(ui, state, requests);
        as_text(ui, &path, tree, requests);
    });
}

/// Shows one value with its name before it, or, where there is more in it, above it.
fn named(ui: &mut egui::Ui, path: &FieldPath, name: &str, tree: &Tree, requests: &mut Vec<Request>) {
    if is_short(tree) {
        ui.horizontal_wrapped(|ui| {
            ui.label(in_words(name));
            value(ui, path, tree, requests);
        });
        return;
    }
    let title = format!("{}{}", in_words(name), count(tree));
    let of_step = path.keys().len() == 3 && name == "do";
    egui::CollapsingHeader::new(title).id_salt(path).default_open(of_step).show(ui, |ui| {
        value(ui, path, tree, requests);
        if path.keys().len() == 1 {
            as_text(ui, path, tree, requests);
        }
    });
}

fn count(tree: &Tree) -> String {
    match tree {
        Tree::List(items) => format!(" ({})", items.len()),
        Tree::Map(entries) => format!(" ({})", entries.len()),
        _ => String::new(),
    }
}

/// The value fits on one line with its name.
fn is_short(tree: &Tree) -> bool {
    match tree {
        Tree::Bool(_) | Tree::Number(_) | Tree::Char(_) | Tree::Text(_) | Tree::Name(_) => true,
        Tree::Tuple { items, .. } => items.len() <= 3 && items.iter().all(|item| is_short(&item.tree)),
        Tree::List(items) => items.len() <= 1 && items.iter().all(|item| is_short(&item.tree)),
        Tree::Map(_) | Tree::Struct { .. } => false,
    }
}

/// Shows whatever stands there.
pub fn value(ui: &mut egui::Ui, path: &FieldPath, tree: &Tree, requests: &mut Vec<Request>) {
    match tree {
        Tree::Bool(on) => {
            let mut on = *on;
            if ui.checkbox(&mut on, "").changed() {
                requests.push(Request::Edit(changed(path, Tree::Bool(on))));
            }
        }
        Tree::Text(text) => leaf(ui, path, text, requests, |text| Ok(Tree::Text(text))),
        Tree::Number(text) | Tree::Name(text) => leaf(ui, path, text, requests, |text| read_text(&text)),
        Tree::Char(c) => {
            ui.label(c.to_string());
        }
        Tree::Tuple { name, items } => {
            if let Some(name) = name {
                ui.label(RichText::new(in_words(name)).italics());
            }
            for (i, item) in items.iter().enumerate() {
                value(ui, &path.at(i), &item.tree, requests);
            }
        }
        Tree::Struct { name, fields } => {
            if let Some(name) = name {
                ui.label(RichText::new(in_words(name)).italics());
            }
            for field in fields {
                named(ui, &path.field(&field.name), &field.name, &field.value.tree, requests);
            }
        }
        Tree::List(items) => list(ui, path, items, requests),
        Tree::Map(entries) => {
            for (i, (key, item)) in entries.iter().enumerate() {
                let key = match &key.tree {
                    Tree::Text(text) => text.clone(),
                    other => write_tree(other),
                };
                named(ui, &path.at(i), &key, &item.tree, requests);
            }
        }
    }
}

fn list(ui: &mut egui::Ui, path: &FieldPath, items: &[Node], requests: &mut Vec<Request>) {
    for (i, Node { tree, .. }) in items.iter().enumerate() {
        let here = path.at(i);
        let Tree::Struct { .. } = tree else {
            ui.horizontal_wrapped(|ui| value(ui, &here, tree, requests));
            continue;
        };
        let name = name_of(tree).unwrap_or_else(|| format!("{}", i + 1));
        egui::CollapsingHeader::new(&name).id_salt(&here).show(ui, |ui| {
            value(ui, &here, tree, requests);
            ui.horizontal(|ui| {
                let mut request = |word: &str, change| {
                    let label = format!("{word} {name}");
                    requests.push(Request::Edit(Edit { label, at: path.clone(), change }));
                };
                if ui.small_button("Duplicate").clicked() {
                    request("Duplicate", Change::Insert(i + 1, duplicate(tree, items)));
                }
                if ui.small_button("Take out").clicked() {
                    request("Take out", Change::Remove(i));
                }
            });
            as_text(ui, &here, tree, requests);
        });
    }
}

pub fn name_of(tree: &Tree) -> Option<String> {
    match FieldPath::of(&["name"]).find(tree)? {
        Tree::Text(name) => Some(name.clone()),
        _ => None,
    }
}

/// A copy, under a name that no other has.
pub fn duplicate(tree: &Tree, among: &[Node]) -> Tree {
    let mut again = tree.clone();
    if let Some(name) = name_of(tree) {
        let names: Vec<String> = among.iter().filter_map(|node| name_of(&node.tree)).collect();
        let mut numbers = 2..;
        let free = numbers.by_ref().map(|n| format!("{name} ({n})")).find(|free| !names.contains(free));
        if let (Some(place), Some(free)) = (FieldPath::of(&["name"]).find_mut(&mut again), free) {
            *place = Tree::Text(free);
        }
    }
    again
}

fn changed(path: &FieldPath, value: Tree) -> Edit {
    Edit::set(format!("Change {path}"), path.clone(), value)
}

/// Shows a text, which is taken over on Enter or when the field is left. What cannot be read stays there with the reason
/// beside it.
fn leaf(
    ui: &mut egui::Ui,
    path: &FieldPath,
    shown: &str,
    requests: &mut Vec<Request>,
    read: impl FnOnce(String) -> Result<Tree, String>,
) {
    let id = egui::Id::new(("value", path));
    let why_not = id.with("why not");
    let mut text = ui.data(|data| data.get_temp::<String>(id)).unwrap_or_else(|| shown.to_owned());
    let long = shown.chars().count() > 28;
    let field =
        if long { egui::TextEdit::multiline(&mut text).desired_rows(2) } else { egui::TextEdit::singleline(&mut text) };
    let width = if long {
        ui.available_width().max(120.0)
    } else {
        (shown.chars().count() as f32 * 7.5 + 18.0).clamp(54.0, 190.0)
    };
    let response = ui.add(
        field
            .id(id)
            .desired_width(width)
            .return_key(egui::KeyboardShortcut::new(egui::Modifiers::NONE, egui::Key::Enter)),
    );
    if response.changed() {
        ui.data_mut(|data| {
            data.insert_temp(id, text.clone());
            data.remove_temp::<String>(why_not);
        });
    }
    if response.lost_focus() {
        let left = ui.input(|input| input.key_pressed(egui::Key::Escape));
        let taken = (!left && text != shown).then(|| read(text.trim().to_owned()));
        ui.data_mut(|data| match taken {
            Some(Err(why)) => {
                data.insert_temp(why_not, why);
            }
            taken => {
                data.remove_temp::<String>(id);
                data.remove_temp::<String>(why_not);
                requests.extend(taken.and_then(Result::ok).map(|tree| Request::Edit(changed(path, tree))));
            }
        });
    }
    if let Some(why) = ui.data(|data| data.get_temp::<String>(why_not)) {
        margin::badge(ui, &format!("not taken: {why}"), margin::STOP);
    }
}

/// Shows the value as it stands in the file, for what the fields do not offer: a field that is not there yet.
fn as_text(ui: &mut egui::Ui, path: &FieldPath, tree: &Tree, requests: &mut Vec<Request>) {
    let id = egui::Id::new(("as text", path));
    let open = ui.data(|data| data.get_temp::<String>(id));
    let Some(mut text) = open else {
        if ui.small_button("As text").on_hover_text("Change it as it stands in the file").clicked() {
            ui.data_mut(|data| data.insert_temp(id, write_tree(tree)));
        }
        return;
    };
    let response = ui.add(egui::TextEdit::multiline(&mut text).code_editor().desired_width(f32::INFINITY));
    if response.changed() {
        ui.data_mut(|data| data.insert_temp(id, text.clone()));
    }
    let read = read_text(&text);
    if let Err(why) = &read {
        ui.label(RichText::new(why).small().strong());
    }
    ui.horizontal(|ui| {
        if ui.add_enabled(read.is_ok(), egui::Button::new("Take up").small()).clicked()
            && let Ok(tree) = read
        {
            requests.push(Request::Edit(changed(path, tree)));
            ui.data_mut(|data| data.remove_temp::<String>(id));
        }
        if ui.small_button("Leave").clicked() {
            ui.data_mut(|data| data.remove_temp::<String>(id));
        }
    });
}
