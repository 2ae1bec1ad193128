//! The governing card: what governs over the whole path, what is nearest now, what was found.

use super::margin::{self, Look, feet_inches};
use super::{Request, State, heading, quiet};
use crate::theme::{font, space};
use bevy_egui::egui::{self, RichText};
use scene_core::finding::{Finding, Grade};
use scene_core::outcome::GapRow;
use scene_core::quantity::show::Units;
use scene_core::report::words::{self, Words};

pub fn show(ui: &mut egui::Ui, state: &State, requests: &mut Vec<Request>) {
    let report = &state.rehearsal.report;
    egui::ScrollArea::vertical().auto_shrink([false, true]).show(ui, |ui| {
        if let Some(trouble) = state.trouble {
            margin::badge(ui, trouble, margin::STOP);
            if ui.small_button("Understood").clicked() {
                requests.push(Request::Understood);
            }
        }
        let stopped = state.rehearsal.stopped_at();
        if let Some(step) = stopped {
            let said = format!("Motion ends before step {}: nothing from there on was checked.", step + 1);
            margin::badge(ui, &said, margin::STOP);
        }
        heading(ui, if stopped.is_some() { "Over what was checked" } else { "Over the whole path" });
        match state.governing.and_then(|row| report.gaps.get(row)) {
            Some(row) => whole_path(ui, row, requests, state),
            None => margin::badge(ui, "no gap was proven", margin::STOP),
        }
        heading(ui, "At this instant");
        match state.nearest.and_then(|nearest| Some((nearest, report.gaps.get(nearest.row)?))) {
            Some((nearest, row)) => {
                let look = Look::of(nearest.margin_m, row.state);
                ui.label(RichText::new(format!("{} to {}", row.body, row.other)).strong());
                margin::badge(ui, &format!("gap {}", feet_inches(nearest.gap_m)), look);
                let rest = format!("margin {}", feet_inches(nearest.margin_m));
                ui.label(RichText::new(rest).color(quiet(ui.visuals())));
            }
            None => {
                ui.label(RichText::new("Nothing comes near a wire now.").color(quiet(ui.visuals())));
            }
        }
        if let Some((between, row)) = state.among_bodies.and_then(|near| Some((near, report.gaps.get(near.row)?))) {
            let look = Look::of(between.margin_m, row.state);
            let said = format!("{} {} to {}: gap {}", look.mark, row.body, row.other, feet_inches(between.gap_m));
            let ink = look.color.text(ui.visuals());
            ui.label(RichText::new(said).color(ink))
                .on_hover_text(format!("The nearest other than to a wire: margin {}", feet_inches(between.margin_m)));
        }
        for row in report.met_in(state.step) {
            let look = Look::of_state(row.state);
            ui.label(RichText::new(format!("{} to {}, in this step", row.body, row.other)).strong());
            margin::badge(ui, &format!("{}, gap at least {}", look.word, feet_inches(row.low_m)), look);
            if row.time_s.is_some() && ui.small_button("Go there").clicked() {
                requests.extend(state.there(row));
            }
        }
        heading(ui, "Found");
        for finding in &report.findings {
            found(ui, finding, requests, state);
        }
        ui.add_space(space::GROUP);
        let cautions = "Local codes, the utility's rules, makers' charts and licensed practice govern. This program never replaces them.";
        ui.label(RichText::new(cautions).small().color(quiet(ui.visuals())));
    });
}

fn whole_path(ui: &mut egui::Ui, row: &GapRow, requests: &mut Vec<Request>, state: &State) {
    let look = Look::of_state(row.state);
    ui.label(RichText::new(format!("{} to {}", row.body, row.other)).strong().size(font::GOVERNING_PAIR));
    margin::badge(ui, look.word, look);
    egui::Grid::new("terms").num_columns(2).spacing(space::TERMS).show(ui, |ui| {
        let mut line = |what: &str, text: String, strong: bool| {
            ui.label(what);
            let text = RichText::new(text).monospace();
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                ui.label(if strong { text.strong() } else { text });
            });
            ui.end_row();
        };
        line("gap, proven at least", feet_inches(row.low_m), false);
        line("less allowances", feet_inches(row.allowance_m), false);
        line("less required", feet_inches(row.required_m), false);
        line("margin", feet_inches(row.margin_m), true);
    });
    let done = state.before.filter(|_| state.rehearsal.stopped_at().is_none() && !state.is_checking);
    if let Some((label, before_m)) = done {
        let by_m = row.margin_m - before_m;
        let sign = if by_m >= 0.0 { "more" } else { "less" };
        let said = format!("{} {sign} than before ({})", feet_inches(by_m.abs()), feet_inches(before_m));
        ui.label(RichText::new(said).strong());
        ui.label(RichText::new(format!("after: {label}")).small().color(quiet(ui.visuals())));
    }
    let known_mm = (row.high_m - row.low_m).max(0.0) * 1000.0;
    let known = format!("Arithmetic known to {known_mm:.1} mm; the allowances are how well the site is known.");
    ui.label(RichText::new(known).small().color(quiet(ui.visuals())));
    if !row.rule.is_empty() {
        ui.label(RichText::new(&row.rule).small().color(quiet(ui.visuals())));
    }
    let step = row.step.and_then(|step| state.rehearsal.report.steps.get(step));
    if let Some(step) = step {
        let weather = if row.weather.is_empty() { String::new() } else { format!(", {}", row.weather) };
        let said = format!("step {}: {}{weather}", step.step + 1, step.name);
        ui.label(RichText::new(said).color(quiet(ui.visuals())));
    }
    if row.time_s.is_some() && ui.button("Go there").clicked() {
        requests.extend(state.there(row));
    }
}

fn found(ui: &mut egui::Ui, finding: &Finding, requests: &mut Vec<Request>, state: &State) {
    let look = margin::of_grade(finding.grade);
    let word = match finding.grade {
        Grade::Stop => "stop",
        Grade::Caution => "caution",
        Grade::Note => "note",
    };
    let ink = look.color.text(ui.visuals());
    let title = RichText::new(format!("{} {word}", look.mark)).color(ink).strong();
    let time_s = finding.time_s.or_else(|| {
        let step = state.rehearsal.report.steps.get(finding.step?)?;
        Some(step.from_s)
    });
    ui.horizontal(|ui| {
        ui.label(title);
        if let Some(time_s) = time_s {
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                if ui.small_button("Go there").clicked() {
                    requests.push(Request::Go(time_s));
                }
            });
        }
    });
    let Words { message, fix, rule } = words::of(finding, Units::Both);
    ui.label(&message);
    let id = ui.make_persistent_id((finding.code(), &message));
    if !(fix.is_empty() && rule.is_empty()) {
        let more = RichText::new("what mends it, by which rule").small().color(quiet(ui.visuals()));
        egui::CollapsingHeader::new(more).id_salt(id).default_open(finding.grade == Grade::Stop).show(ui, |ui| {
            if !fix.is_empty() {
                ui.label(RichText::new(&fix).italics());
            }
            if !rule.is_empty() {
                ui.label(RichText::new(&rule).small().color(quiet(ui.visuals())));
            }
        });
    }
    ui.add_space(space::FINDING);
}
