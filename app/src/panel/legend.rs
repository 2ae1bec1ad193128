//! The legend under a picture: what is shown, and what governs over the whole path.

use super::margin::{self, Look, feet_inches};
use super::quiet;
use crate::theme::{font, space};
use bevy_egui::egui::{self, RichText};
use scene_core::quantity::show::show_duration;
use scene_core::rehearsal::Rehearsal;

pub fn show(ui: &mut egui::Ui, rehearsal: &Rehearsal, weather: usize, time_s: f64, step: usize) {
    let report = &rehearsal.report;
    ui.add_space(space::THIN);
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(&report.scene).strong().size(font::SCENE));
        if let Some(row) = report.steps.get(step) {
            let said =
                format!("step {} of {}: {}, at {}", step + 1, report.steps.len(), row.name, show_duration(time_s));
            ui.label(said);
        }
        if let Some(weather) = rehearsal.site.weather.get(weather) {
            ui.label(format!("in weather: {}", weather.name));
        }
    });
    ui.horizontal_wrapped(|ui| {
        match report.governing() {
            Some((_, row)) => {
                let look = Look::of_state(row.state);
                margin::badge(ui, &format!("{}, margin {}", look.word, feet_inches(row.margin_m)), look);
                ui.label(format!("{} to {}", row.body, row.other));
            }
            None => margin::badge(ui, "no gap was proven", margin::STOP),
        }
        let over = match rehearsal.stopped_at() {
            Some(first) => {
                format!("governs over what was checked; nothing of crane and pole from step {} on was", first + 1)
            }
            None => "governs over the whole path".to_owned(),
        };
        ui.label(RichText::new(over).color(quiet(ui.visuals())));
    });
    ui.add_space(space::THIN);
}
