//! Counts and times of the window's subsystems, over a lower corner of the site view.

use super::{heading, quiet};
use crate::theme::{font, space};
use bevy_egui::egui::{self, RichText};
use std::time::Duration;

/// What one subsystem did.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    pub subsystem: &'static str,
    /// How often it had something to do.
    pub runs: usize,
    pub last: Duration,
    pub longest: Duration,
    pub counts: Vec<(&'static str, usize)>,
}

/// Stands at the lower left of the site view, which begins `left` points from the window's left edge and ends `bottom`
/// points above its lower edge.
pub fn show(context: &egui::Context, left: f32, bottom: f32, rows: &[Row], totals: &[(&str, usize)]) {
    let corner = egui::pos2(left, context.viewport_rect().bottom() - bottom) + space::OVERLAY_CORNER;
    let area = egui::Area::new("diagnostics".into()).pivot(egui::Align2::LEFT_BOTTOM).fixed_pos(corner);
    area.interactable(false).show(context, |ui| {
        egui::Frame::popup(ui.style()).show(ui, |ui| inside(ui, rows, totals));
    });
}

fn inside(ui: &mut egui::Ui, rows: &[Row], totals: &[(&str, usize)]) {
    heading(ui, "Counts and times");
    let number = |ui: &mut egui::Ui, text: String| {
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            ui.label(RichText::new(text).monospace().size(font::SMALL));
        });
    };
    let ms = |time: Duration| format!("{:.2}", time.as_secs_f64() * 1e3);
    egui::Grid::new("diagnostics").num_columns(5).spacing(space::TERMS).show(ui, |ui| {
        for title in ["", "runs", "last, ms", "longest, ms", ""] {
            ui.label(RichText::new(title).small().color(quiet(ui.visuals())));
        }
        ui.end_row();
        for row in rows {
            ui.label(row.subsystem);
            number(ui, row.runs.to_string());
            number(ui, ms(row.last));
            number(ui, ms(row.longest));
            ui.label(RichText::new(counted(&row.counts)).small());
            ui.end_row();
        }
    });
    ui.label(RichText::new(counted(totals)).small().color(quiet(ui.visuals())));
}

fn counted(counts: &[(&str, usize)]) -> String {
    let words: Vec<String> = counts.iter().map(|(what, count)| format!("{count} {what}")).collect();
    words.join(", ")
}
