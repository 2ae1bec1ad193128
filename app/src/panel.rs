//! The panels as functions over plain state. What a person asks for comes back as [`Ask`]; nothing here knows the engine.

pub mod governing;
pub mod margin;
pub mod report;
pub mod steps;
pub mod timeline;

use bevy_egui::egui::{self, Color32, RichText};
use scene_core::finding::Grade;
use scene_core::glam::DVec3;
use scene_core::rehearsal::{Nearest, Rehearsal};
use scene_core::report::Verdict;

/// What the panels show.
pub struct State<'a> {
    pub rehearsal: &'a Rehearsal,
    pub time_s: f64,
    pub step: usize,
    pub playing: bool,
    pub speed: f64,
    pub stop_at_holds: bool,
    pub weather: usize,
    pub dark: bool,
    /// What would be undone, and done again.
    pub undo: Option<&'a str>,
    pub redo: Option<&'a str>,
    pub saved: bool,
    /// The governing margin before the edit that goes on.
    pub margin_before_m: Option<f64>,
    /// Something that could not be done, and why.
    pub trouble: Option<&'a str>,
    pub nearest: Option<&'a Nearest>,
    /// Index into the report's gaps.
    pub governing: Option<usize>,
    /// The governing pair's margin over time.
    pub margins: &'a [(f64, f64)],
}

/// What a person asks for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Ask {
    Go(f64),
    /// To the beginning of a step, be it ever so short.
    Step(usize),
    Play(bool),
    Speed(f64),
    StopAtHolds(bool),
    Weather(usize),
    LookAt(DVec3),
    Undo,
    Redo,
    Save,
    Report,
    Names,
    Dark,
}

pub fn style(context: &egui::Context, dark: bool) {
    context.set_theme(if dark { egui::Theme::Dark } else { egui::Theme::Light });
    context.style_mut_of(egui::Theme::Light, |style| style.visuals.override_text_color = Some(Color32::from_gray(22)));
    context.style_mut_of(egui::Theme::Dark, |style| style.visuals.override_text_color = Some(Color32::from_gray(232)));
}

/// The scene's name, what the check found, and what is shown.
pub fn head(ui: &mut egui::Ui, state: &State, asks: &mut Vec<Ask>) {
    let report = &state.rehearsal.report;
    ui.add_space(4.0);
    ui.horizontal(|ui| {
        let (stops, cautions) = (report.count(Grade::Stop), report.count(Grade::Caution));
        let (text, look) = match report.verdict {
            Verdict::Stop => (format!("STOP: {stops}"), margin::STOP),
            Verdict::Caution => (format!("No stop found in what was checked. {cautions} cautions"), margin::COVERED),
            Verdict::NoStopFound => ("No stop found in what was checked".to_owned(), margin::APART),
        };
        margin::badge(ui, &text, look);
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            if ui.add_enabled(!state.saved, egui::Button::new("Save")).on_hover_text("Ctrl+S").clicked() {
                asks.push(Ask::Save);
            }
            for (word, what, ask) in [("Redo", state.redo, Ask::Redo), ("Undo", state.undo, Ask::Undo)] {
                let button = ui.add_enabled(what.is_some(), egui::Button::new(word));
                if button.on_hover_text(what.unwrap_or_default()).clicked() {
                    asks.push(ask);
                }
            }
            ui.separator();
            if ui.button("Report").clicked() {
                asks.push(Ask::Report);
            }
            if ui.button(if state.dark { "Light" } else { "Dark" }).clicked() {
                asks.push(Ask::Dark);
            }
            if ui.button("Names").clicked() {
                asks.push(Ask::Names);
            }
            let weathers = &state.rehearsal.site.weather;
            let chosen = weathers.get(state.weather).map_or("", |weather| &weather.name);
            egui::ComboBox::from_id_salt("weather").selected_text(chosen).width(90.0).show_ui(ui, |ui| {
                for (index, weather) in weathers.iter().enumerate() {
                    if ui.selectable_label(index == state.weather, &weather.name).clicked() {
                        asks.push(Ask::Weather(index));
                    }
                }
            });
            ui.label("Weather");
            ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
                ui.add(egui::Label::new(RichText::new(&report.scene).strong().size(15.0)).truncate());
            });
        });
    });
    ui.add_space(4.0);
}

/// A heading inside a panel.
pub fn heading(ui: &mut egui::Ui, text: &str) {
    ui.add_space(6.0);
    ui.label(RichText::new(text).strong().size(14.0));
    ui.add_space(2.0);
}

/// Quieter than the rest, and still legible.
pub fn quiet(visuals: &egui::Visuals) -> Color32 {
    if visuals.dark_mode { Color32::from_gray(178) } else { Color32::from_gray(82) }
}
