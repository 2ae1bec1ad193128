//! The panels, as functions over plain state. What a person asks for comes back as a [`Request`]. No panel knows the engine.

pub mod answers;
pub mod brief;
pub mod diagnostics;
pub mod governing;
pub mod help;
pub mod legend;
pub mod margin;
pub mod morning;
pub mod slot;
pub mod steps;
pub mod tables;
pub mod timeline;
pub mod values;

#[cfg(test)]
mod shown;

use crate::document::Edit;
use crate::handle::Handle;
use crate::scene_file::EXAMPLES;
pub use crate::theme::ink::quiet;
use crate::theme::{font, ink, space};
use bevy_egui::egui::{self, RichText};
use scene_core::finding::Grade;
use scene_core::glam::DVec3;
use scene_core::outcome::{GapRow, Verdict};
use scene_core::rehearsal::{Nearest, Rehearsal};
use scene_core::scene::tree::Tree;
use std::path::PathBuf;

/// What the panels show.
pub struct State<'a> {
    pub rehearsal: &'a Rehearsal,
    /// The document as it is now; the rehearsal may belong to the document before the last edit.
    pub tree: &'a Tree,
    pub is_checking: bool,
    /// What can be moved now.
    pub handles: &'a [Handle],
    pub mode: Mode,
    pub layers: Layers,
    pub time_s: f64,
    pub step: usize,
    pub playing: bool,
    pub speed: f64,
    pub stop_at_holds: bool,
    pub weather: usize,
    pub dark: bool,
    pub text_scale: f32,
    /// What undo would undo, and redo would do again.
    pub undo: Option<&'a str>,
    pub redo: Option<&'a str>,
    pub saved: bool,
    pub recent: &'a [PathBuf],
    /// The last edit, and the governing margin before it, meters.
    pub before: Option<(&'a str, f64)>,
    /// Something that could not be done, and why.
    pub trouble: Option<&'a str>,
    /// The pair of a body and a wire that leaves the least at this instant, in the weather that is shown.
    pub nearest: Option<&'a Nearest>,
    /// For every wire the body that leaves the least, and all that leave less than nothing.
    pub pairs: &'a [Nearest],
    /// The pair without a wire that leaves the least at this instant.
    pub among_bodies: Option<&'a Nearest>,
    /// Index into the report's gaps.
    pub governing: Option<usize>,
    /// Margins over time of the pair that governs and of the next ones.
    pub margins: &'a [OverTime],
}

/// A pair's margin over time.
#[derive(Clone, Debug, PartialEq)]
pub struct OverTime {
    /// Index into the report's gaps.
    pub row: usize,
    /// Time in seconds and margin in meters, as sampled.
    pub margins: Vec<(f64, f64)>,
}

impl State<'_> {
    /// Requests the instant of this row, in its weather.
    fn instant_of(&self, row: &GapRow) -> Vec<Request> {
        let weather = self.rehearsal.site.weather.iter().position(|weather| weather.name == row.weather);
        row.time_s.map(Request::Go).into_iter().chain(weather.map(Request::Weather)).collect()
    }

    /// Requests the same, and a look at where the bodies are nearest.
    fn there(&self, row: &GapRow) -> Vec<Request> {
        let mut requests = self.instant_of(row);
        if let (Some(_), Some(a), Some(b)) = (row.time_s, row.point_on_body, row.point_on_other) {
            requests.push(Request::LookAt((a + b) / 2.0));
        }
        requests
    }
}

/// The way in: what the window is used for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mode {
    /// Change the plan until it is right.
    Plan,
    /// Show a crew one step at a time.
    Brief,
    /// Read row by row what was worked out.
    Check,
}

/// What can be turned on and off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Layers {
    pub names: bool,
    pub slot: bool,
    /// The required distance as a tube about each wire.
    pub tubes: bool,
    pub swept: Swept,
    /// Only what is proven is drawn, nothing for the eye.
    pub bare: bool,
    pub help: bool,
    pub morning: bool,
    pub welcome: bool,
    /// Counts and times, for developers.
    pub diagnostics: bool,
}

/// The motion whose swept volumes are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Swept {
    Nothing,
    Step,
    Path,
}

impl Swept {
    pub const ALL: [(Self, &'static str); 3] =
        [(Self::Nothing, "nothing"), (Self::Step, "this step"), (Self::Path, "the whole path")];

    /// The next of the three, round and round.
    pub fn next(self) -> Self {
        match self {
            Self::Nothing => Self::Step,
            Self::Step => Self::Path,
            Self::Path => Self::Nothing,
        }
    }
}

impl Default for Layers {
    fn default() -> Self {
        Self {
            names: true,
            slot: false,
            tubes: false,
            swept: Swept::Nothing,
            bare: false,
            help: false,
            morning: false,
            welcome: true,
            diagnostics: false,
        }
    }
}

/// What a person asks for of files.
#[derive(Clone, Debug, PartialEq)]
pub enum FileRequest {
    Open,
    OpenThis(PathBuf),
    /// A new scene from the example of this index.
    New(usize),
    Save,
    SaveAs,
    Close,
}

/// What a person asks for.
#[derive(Clone, Debug, PartialEq)]
pub enum Request {
    /// Go to a time, seconds.
    Go(f64),
    /// Go to the beginning of a step, however short it is.
    Step(usize),
    Play(bool),
    Speed(f64),
    StopAtHolds(bool),
    Weather(usize),
    LookAt(DVec3),
    /// Fly to the camera of a number key.
    Camera(usize),
    Mode(Mode),
    Layers(Layers),
    Dark,
    TextScale(f32),
    Edit(Edit),
    /// One part of a drag, which [`Request::Settle`] ends.
    Drag(Edit),
    Settle,
    Undo,
    Redo,
    File(FileRequest),
    /// The trouble was read and can go.
    Understood,
}

/// The cameras, in the order of their number keys.
pub const CAMERAS: [&str; 6] =
    ["whole work", "along the line", "from above", "operator's seat", "observer's place", "bucket"];

/// Letters whose stems are broad enough to be read at small sizes and across a truck's hood. Marks that they lack come from
/// the letters that egui brings.
pub fn letters() -> egui::FontDefinitions {
    let mut fonts = egui::FontDefinitions::default();
    let regular = egui::FontData::from_static(notosans::REGULAR_TTF)
        .tweak(egui::FontTweak { scale: font::LETTER_SCALE, ..egui::FontTweak::default() });
    fonts.font_data.insert("regular".to_owned(), regular.into());
    fonts.families.entry(egui::FontFamily::Proportional).or_default().insert(0, "regular".to_owned());
    fonts
}

/// Sets the looks of all panels.
pub fn style(context: &egui::Context, dark: bool) {
    context.set_theme(if dark { egui::Theme::Dark } else { egui::Theme::Light });
    for theme in [egui::Theme::Light, egui::Theme::Dark] {
        context.style_mut_of(theme, |style| {
            style.text_styles.insert(egui::TextStyle::Small, egui::FontId::proportional(font::SMALL));
            // A blinking cursor would draw the whole window twice a second.
            style.visuals.text_cursor.blink = false;
        });
    }
    context.style_mut_of(egui::Theme::Light, |style| style.visuals.override_text_color = Some(ink::TEXT_ON_LIGHT));
    context.style_mut_of(egui::Theme::Dark, |style| style.visuals.override_text_color = Some(ink::TEXT_ON_DARK));
}

/// The head of the window: what the check found, the three ways in, files, what is shown.
pub fn head(ui: &mut egui::Ui, state: &State, requests: &mut Vec<Request>) {
    ui.add_space(space::LINE);
    ui.horizontal(|ui| {
        verdict(ui, state);
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            if ui.button("?").on_hover_text("Help (F1)").clicked() {
                requests.push(Request::Layers(Layers { help: !state.layers.help, ..state.layers }));
            }
            ui.menu_button("View", |ui| view_menu(ui, state, requests));
            if state.mode == Mode::Plan {
                for (word, what, request) in [("Redo", state.redo, Request::Redo), ("Undo", state.undo, Request::Undo)]
                {
                    let button = ui.add_enabled(what.is_some(), egui::Button::new(word));
                    if button.on_hover_text(what.unwrap_or_default()).clicked() {
                        requests.push(request);
                    }
                }
                if ui.add_enabled(!state.saved, egui::Button::new("Save")).on_hover_text("Ctrl+S").clicked() {
                    requests.push(Request::File(FileRequest::Save));
                }
            }
            ui.menu_button("File", |ui| file_menu(ui, state, requests));
            ui.separator();
            for (mode, word, what) in [
                (Mode::Check, "Check", "What was worked out, row by row"),
                (Mode::Brief, "Brief", "One step at a time, large, for the crew"),
                (Mode::Plan, "Plan", "Change the plan until it is right"),
            ] {
                let chosen = ui.selectable_label(state.mode == mode, RichText::new(word).strong());
                if chosen.on_hover_text(what).clicked() {
                    requests.push(Request::Mode(mode));
                }
            }
            ui.separator();
            ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
                let name = RichText::new(&state.rehearsal.report.scene).strong().size(font::SCENE);
                ui.add(egui::Label::new(name).truncate());
            });
        });
    });
    ui.add_space(space::LINE);
}

fn verdict(ui: &mut egui::Ui, state: &State) {
    let report = &state.rehearsal.report;
    if state.is_checking {
        ui.spinner();
        ui.label(RichText::new("Checking; what is shown is from before:").strong());
    }
    let (stops, cautions) = (report.count(Grade::Stop), report.count(Grade::Caution));
    let plural = |count: usize, one: &str| if count == 1 { format!("1 {one}") } else { format!("{count} {one}s") };
    let (text, look) = match report.verdict {
        Verdict::Stop => (format!("STOP: {}", plural(stops, "stop")), margin::STOP),
        Verdict::Caution => {
            (format!("No stop found in what was checked. {}", plural(cautions, "caution")), margin::COVERED)
        }
        Verdict::NoStopFound => ("No stop found in what was checked".to_owned(), margin::APART),
    };
    margin::badge(ui, &text, look);
}

fn file_menu(ui: &mut egui::Ui, state: &State, requests: &mut Vec<Request>) {
    let mut item = |ui: &mut egui::Ui, text: &str, keys: &str, file_request: FileRequest| {
        if ui.add(egui::Button::new(text).shortcut_text(keys)).clicked() {
            requests.push(Request::File(file_request));
        }
    };
    ui.menu_button("New from", |ui| {
        for (index, (name, _)) in EXAMPLES.iter().enumerate() {
            let name = if index == 0 { "a small scene to start from" } else { name };
            item(ui, name, "", FileRequest::New(index));
        }
    });
    item(ui, "Open…", "Ctrl+O", FileRequest::Open);
    if !state.recent.is_empty() {
        ui.menu_button("Open again", |ui| {
            for path in state.recent {
                item(ui, &path.display().to_string(), "", FileRequest::OpenThis(path.clone()));
            }
        });
    }
    ui.separator();
    item(ui, "Save", "Ctrl+S", FileRequest::Save);
    item(ui, "Save as…", "Ctrl+Shift+S", FileRequest::SaveAs);
    ui.separator();
    item(ui, "Close", "", FileRequest::Close);
}

fn view_menu(ui: &mut egui::Ui, state: &State, requests: &mut Vec<Request>) {
    let mut layers = state.layers;
    ui.checkbox(&mut layers.names, "Names of wires (N)");
    ui.checkbox(&mut layers.slot, "Slot, seen along the line (S)");
    ui.checkbox(&mut layers.tubes, "Required distance about the wires (R)");
    ui.horizontal(|ui| {
        ui.label("Swept (V):");
        for (what, word) in Swept::ALL {
            ui.selectable_value(&mut layers.swept, what, word);
        }
    });
    ui.checkbox(&mut layers.bare, "Only what is proven (P)");
    ui.checkbox(&mut layers.morning, "This morning's figures (M)");
    ui.checkbox(&mut layers.diagnostics, "Counts and times (F12)");
    if layers != state.layers {
        requests.push(Request::Layers(layers));
    }
    ui.separator();
    for (index, name) in CAMERAS.iter().enumerate() {
        let key = (index + 1).to_string();
        if ui.add(egui::Button::new(format!("Camera: {name}")).shortcut_text(key)).clicked() {
            requests.push(Request::Camera(index + 1));
        }
    }
    ui.separator();
    ui.horizontal(|ui| {
        ui.label("Text");
        for (word, scale) in [("small", 0.9), ("normal", 1.0), ("large", 1.25), ("huge", 1.6)] {
            if ui.selectable_label(state.text_scale == scale, word).clicked() {
                requests.push(Request::TextScale(scale));
            }
        }
    });
    if ui.button(if state.dark { "Light" } else { "Dark" }).clicked() {
        requests.push(Request::Dark);
    }
}

/// Chooses the weather that is shown.
pub fn weather(ui: &mut egui::Ui, state: &State, requests: &mut Vec<Request>) {
    let weathers = &state.rehearsal.site.weather;
    let chosen = weathers.get(state.weather).map_or("", |weather| &weather.name);
    ui.label("Weather");
    egui::ComboBox::from_id_salt("weather").selected_text(chosen).width(80.0).show_ui(ui, |ui| {
        for (index, weather) in weathers.iter().enumerate() {
            if ui.selectable_label(index == state.weather, &weather.name).clicked() {
                requests.push(Request::Weather(index));
            }
        }
    });
}

/// A heading inside a panel.
pub fn heading(ui: &mut egui::Ui, title: &str) {
    ui.add_space(space::GROUP);
    ui.label(RichText::new(title).strong().size(font::HEADING));
    ui.add_space(space::HAIR);
}
