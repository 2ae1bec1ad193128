//! The step list: what the crew does, one after another, with hand signals and hold points.

use super::{Ask, State, heading, quiet};
use bevy_egui::egui::{self, RichText};
use scene_core::quantity::show::show_duration;

pub fn show(ui: &mut egui::Ui, state: &State, asks: &mut Vec<Ask>) {
    let report = &state.rehearsal.report;
    let now = state.step;
    heading(ui, "Steps");
    egui::ScrollArea::vertical().auto_shrink([false, true]).show(ui, |ui| {
        for step in &report.steps {
            let here = step.step == now;
            let fill = if here { ui.visuals().selection.bg_fill } else { egui::Color32::TRANSPARENT };
            let unchecked = state.rehearsal.stopped_at().is_some_and(|first| step.step >= first);
            let ink = match (here, unchecked) {
                (true, _) => ui.visuals().selection.stroke.color,
                (false, true) => quiet(ui.visuals()),
                (false, false) => ui.visuals().text_color(),
            };
            let frame = egui::Frame::new().fill(fill).corner_radius(4.0).inner_margin(egui::Margin::symmetric(6, 3));
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
            let response =
                inside.response.interact(egui::Sense::click()).on_hover_cursor(egui::CursorIcon::PointingHand);
            if response.clicked() {
                asks.push(Ask::Step(step.step));
            }
            if here && state.playing {
                response.scroll_to_me(None);
            }
        }
        if report.steps.is_empty() {
            ui.label(RichText::new("No step could be planned; see what was found.").color(quiet(ui.visuals())));
        }
    });
}
