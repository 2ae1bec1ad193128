//! The help sheet, and what a newcomer does in the first minute.

use super::{Layers, Request, State, quiet};
use crate::theme::{size, space};
use bevy_egui::egui::{self, RichText};

/// The keys, and what the window does on each.
pub const KEYS: &[(&str, &str)] = &[
    ("Space", "play, pause"),
    ("← →", "step before, next step"),
    ("Home, End", "beginning, end"),
    ("1 … 6", "cameras: whole work, along the line, from above, operator's seat, observer's place, bucket"),
    ("drag", "turn the view"),
    ("right drag", "shift the view"),
    ("wheel", "nearer, farther, toward the pointer"),
    ("drag a dot or a machine", "move it; the whole check runs again"),
    ("A D W X", "turn the view left and right, up and down, by keyboard"),
    ("+ −", "nearer, farther"),
    ("F2 F3 F4", "plan, brief, check"),
    ("N S R P M", "names, slot, required distance, only what is proven, morning"),
    ("V", "what machine and pole sweep: in this step, over the whole path"),
    ("Ctrl+Z, Ctrl+Y", "undo, redo"),
    ("Ctrl+S, Ctrl+Shift+S, Ctrl+O", "save, save as, open"),
    ("Tab, Enter", "to the next field or button, use it"),
    ("F12", "counts and times, for developers"),
    ("F1", "this sheet"),
];

pub fn sheet(context: &egui::Context, state: &State, requests: &mut Vec<Request>) {
    let mut open = true;
    egui::Window::new("Help").open(&mut open).default_pos(context.viewport_rect().center() - egui::vec2(260.0, 260.0)).default_width(size::HELP_WIDTH).show(context, |ui| {
        egui::Grid::new("keys").num_columns(2).spacing(space::KEYS).show(ui, |ui| {
            for (key, what) in KEYS {
                ui.label(RichText::new(*key).strong());
                ui.label(*what);
                ui.end_row();
            }
        });
        ui.separator();
        ui.label("Marks: ⛔ a stop. ⚠ nearer than required, resting on the covers of both. ▲ the ground within the allowances. ⏺ the required distance is kept in what was checked.");
        ui.label("An allowance is how well the site is known; the arithmetic is known to a millimetre or so.");
        ui.label("Nothing here says that a pick is without danger: it looks for trouble in what it was told.");
    });
    if !open {
        requests.push(Request::Layers(Layers { help: false, ..state.layers }));
    }
}

/// Says what a newcomer does first, one thing after another. Each goes as soon as it was done.
pub fn welcome(context: &egui::Context, state: &State, requests: &mut Vec<Request>) {
    let moved = state.undo.is_some();
    let far = state.step > 0 || state.playing;
    let (text, number) = match (far, moved) {
        (false, _) => ("Press Play: the pole is stood up, step by step.", 1),
        (true, false) => ("Now drag the crane two yards and watch the margin on the right.", 2),
        (true, true) => ("The whole check ran while you dragged. Undo takes it back.", 3),
    };
    let at = egui::pos2(context.viewport_rect().center().x - 20.0, 54.0);
    egui::Area::new("welcome".into()).pivot(egui::Align2::CENTER_TOP).fixed_pos(at).show(context, |ui| {
        egui::Frame::popup(ui.style()).inner_margin(space::POPUP).show(ui, |ui| {
            ui.horizontal(|ui| {
                ui.label(RichText::new(format!("{number} of 3")).color(quiet(ui.visuals())));
                ui.label(RichText::new(text).strong());
                if ui.small_button("Enough").clicked() {
                    requests.push(Request::Layers(Layers { welcome: false, ..state.layers }));
                }
            });
        });
    });
}
