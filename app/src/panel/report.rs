//! The whole report as text.

use bevy_egui::egui;
use scene_core::quantity::show::Units;
use scene_core::rehearsal::Rehearsal;
use scene_core::report::text::{self, Look};

/// Returns whether it stays open.
pub fn show(context: &egui::Context, rehearsal: &Rehearsal) -> bool {
    let mut open = true;
    let size = context.viewport_rect().size() * egui::vec2(0.72, 0.8);
    egui::Window::new("Report").open(&mut open).default_size(size).vscroll(true).hscroll(true).show(context, |ui| {
        let report = text::render(&rehearsal.report, Look { units: Units::Us, colour: false });
        ui.add(egui::Label::new(egui::RichText::new(report).monospace().size(11.5)).extend());
    });
    open
}
