//! The step list: what the crew does, one after another, with hand signals and hold points. In plan the steps are changed
//! here.

use super::values::{self, duplicate};
use super::{Mode, Request, State, heading, quiet};
use crate::document::{Change, Edit, read_text};
use crate::field::FieldPath;
use crate::theme::{corner, ink, space};
use bevy_egui::egui::{self, RichText};
use scene_core::outcome::StepRow;
use scene_core::quantity::show::show_duration;
use scene_core::scene::tree::Tree;

/// The steps that can be added, as a scene writes them.
pub const NEW_STEPS: [(&str, &str); 12] = [
    ("Hold point", "(name: \"Hold\", do: hold(\"All as planned?\"))"),
    ("Work of the crew", "(name: \"Work\", do: work(\"10 min\"))"),
    ("Hoist to a height", "(name: \"Hoist\", do: hoist_to(\"30 ft\"))"),
    ("Lower to a height", "(name: \"Lower\", do: lower_to(\"10 ft\"))"),
    ("Swing toward the hole", "(name: \"Swing\", do: swing_toward(hole))"),
    ("Boom over the hole", "(name: \"Boom over the hole\", do: boom_over(hole))"),
    ("Boom to a radius", "(name: \"Boom to radius\", do: boom_to_radius(\"40 ft\"))"),
    ("Carry over a point", "(name: \"Carry\", do: carry(point: (\"0 ft\", \"-30 ft\", \"0 ft\"), height: \"40 ft\"))"),
    ("Extend the boom", "(name: \"Extend\", do: extend(\"110 ft\"))"),
    ("Turn the pole", "(name: \"Turn\", do: turn(\"0 deg\"))"),
    ("Bucket to a point", "(name: \"Bucket\", do: bucket_to(point: (\"0 ft\", \"25 ft\", \"30 ft\")))"),
    ("Stow the bucket", "(name: \"Bucket stowed\", do: bucket_stow)"),
];

pub fn show(ui: &mut egui::Ui, state: &State, requests: &mut Vec<Request>) {
    let report = &state.rehearsal.report;
    heading(ui, "Steps");
    egui::ScrollArea::vertical().id_salt("steps").auto_shrink([false, true]).show(ui, |ui| {
        for step in &report.steps {
            one(ui, step, state, requests);
        }
        if report.steps.is_empty() {
            ui.label(RichText::new("No step could be planned; see what was found.").color(quiet(ui.visuals())));
        }
    });
}

fn one(ui: &mut egui::Ui, step: &StepRow, state: &State, requests: &mut Vec<Request>) {
    let here = step.step == state.step;
    let fill = if here { ui.visuals().selection.bg_fill } else { ink::NO_FILL };
    let unchecked = state.rehearsal.stopped_at().is_some_and(|first| step.step >= first);
    let ink = match (here, unchecked) {
        (true, _) => ui.visuals().selection.stroke.color,
        (false, true) => quiet(ui.visuals()),
        (false, false) => ui.visuals().text_color(),
    };
    let frame = egui::Frame::new().fill(fill).corner_radius(corner::PLATE).inner_margin(space::STEP);
    let inside = frame.show(ui, |ui| {
        ui.set_width(ui.available_width());
        let mark = if step.hold.is_some() { "✋ " } else { "" };
        let title = RichText::new(format!("{}  {mark}{}", step.step + 1, step.name)).color(ink);
        ui.add(egui::Label::new(if here { title.strong() } else { title }).selectable(false));
        if unchecked {
            let said = RichText::new("⛔ not checked").small().color(ink);
            ui.add(egui::Label::new(said).selectable(false));
        }
        if here {
            let mut under = step.signals.join(", ");
            if step.to_s > step.from_s {
                let took = show_duration(step.to_s - step.from_s);
                under = if under.is_empty() { took } else { format!("{under} · {took}") };
            }
            ui.add(egui::Label::new(RichText::new(under).small().color(ink)).selectable(false));
            if let Some(question) = &step.hold {
                ui.add(egui::Label::new(RichText::new(question).italics().color(ink)).selectable(false));
            }
        }
    });
    let response = inside.response.interact(egui::Sense::click()).on_hover_cursor(egui::CursorIcon::PointingHand);
    if response.clicked() {
        requests.push(Request::Step(step.step));
    }
    if here {
        // A step that was not shown before is brought into sight.
        let id = egui::Id::new("step shown");
        if ui.data(|data| data.get_temp::<usize>(id)) != Some(step.step) {
            response.scroll_to_me(Some(egui::Align::Center));
            ui.data_mut(|data| data.insert_temp(id, step.step));
        }
    }
    if here && state.mode == Mode::Plan {
        change(ui, step.step, state, requests);
    }
}

/// Shows the step's own fields, and what can be done with it.
fn change(ui: &mut egui::Ui, step: usize, state: &State, requests: &mut Vec<Request>) {
    let list = FieldPath::of(&["steps"]);
    let here = list.at(step);
    let (Some(Tree::List(steps)), Some(tree)) = (list.find(state.tree), here.find(state.tree)) else { return };
    let name = values::name_of(tree).unwrap_or_default();
    ui.indent("step", |ui| {
        ui.horizontal_wrapped(|ui| {
            let mut request = |word: &str, change| {
                requests.push(Request::Edit(Edit { label: format!("{word} \"{name}\""), at: list.clone(), change }));
            };
            if ui.add_enabled(step > 0, egui::Button::new("⬆").small()).on_hover_text("Do it one step sooner").clicked()
            {
                request("Move up", Change::Shift { from: step, to: step - 1 });
            }
            let last = step + 1 >= steps.len();
            if ui.add_enabled(!last, egui::Button::new("⬇").small()).on_hover_text("Do it one step later").clicked() {
                request("Move down", Change::Shift { from: step, to: step + 1 });
            }
            if ui.small_button("Duplicate").clicked() {
                request("Duplicate", Change::Insert(step + 1, duplicate(tree, steps)));
            }
            if ui.small_button("Take out").clicked() {
                request("Take out", Change::Remove(step));
            }
            ui.menu_button("Add after", |ui| {
                for (what, text) in NEW_STEPS {
                    if ui.button(what).clicked()
                        && let Ok(tree) = read_text(text)
                    {
                        let added = duplicate_if_taken(&tree, steps);
                        request(&format!("Add {} after", what.to_lowercase()), Change::Insert(step + 1, added));
                    }
                }
            });
        });
        values::value(ui, &here, tree, requests);
    });
    ui.add_space(space::LINE);
}

/// The step, under a name that no other step has.
fn duplicate_if_taken(tree: &Tree, steps: &[scene_core::scene::tree::Node]) -> Tree {
    let taken = steps.iter().any(|node| values::name_of(&node.tree) == values::name_of(tree));
    if taken { duplicate(tree, steps) } else { tree.clone() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::Document;
    use crate::scene_file::FIRST_EXAMPLE;

    #[test]
    fn every_step_that_can_be_added_is_one_that_a_scene_can_have() {
        for (what, text) in NEW_STEPS {
            let mut document = Document::built_in(FIRST_EXAMPLE.0, FIRST_EXAMPLE.1).unwrap();
            let count = document.site().steps.len();
            let change = Change::Insert(3, read_text(text).unwrap());
            let edit = Edit { label: what.to_owned(), at: FieldPath::of(&["steps"]), change };
            document.apply(&edit, false).unwrap_or_else(|why| panic!("{what}: {why}"));
            assert_eq!(document.site().steps.len(), count + 1);
        }
    }

    #[test]
    fn a_duplicate_has_a_name_of_its_own() {
        let tree = read_text(NEW_STEPS[0].1).unwrap();
        let twice = duplicate(&tree, &[tree.clone().node()]);
        assert_eq!(values::name_of(&twice).as_deref(), Some("Hold (2)"));
        let steps = [tree.clone().node(), twice.node()];
        assert_eq!(values::name_of(&duplicate(&tree, &steps)).as_deref(), Some("Hold (3)"));
    }
}
