//! Brief: one step at a time, large. What is done, by which signals, what to watch, the question at a hold point.

use super::margin::{self, Look, feet_inches};
use super::{Request, State, quiet};
use crate::theme::{corner, font, ink, space};
use bevy_egui::egui::{self, RichText};
use scene_core::quantity::show::{Units, show_duration};
use scene_core::report::words;

pub fn show(ui: &mut egui::Ui, state: &State, requests: &mut Vec<Request>) {
    let steps = &state.rehearsal.report.steps;
    let Some(step) = steps.get(state.step) else {
        margin::badge(ui, "No step could be planned; see Check for what was found.", margin::STOP);
        return;
    };
    ui.add_space(space::BLOCK);
    ui.horizontal(|ui| {
        let held = step.hold.is_some();
        if ui.add_enabled(state.step > 0, egui::Button::new(RichText::new("⏮ Back").size(font::BRIEF_LINE))).clicked()
        {
            requests.push(Request::Step(state.step.saturating_sub(1)));
        }
        let play = if state.playing { "⏸ Pause" } else { "▶ Show it" };
        if !held && ui.button(RichText::new(play).size(font::BRIEF_LINE)).clicked() {
            requests.push(Request::Play(!state.playing));
        }
        let next = if held { "✔ Answered yes: go on" } else { "Next ⏭" };
        let last = state.step + 1 >= steps.len();
        if ui.add_enabled(!last, egui::Button::new(RichText::new(next).size(font::BRIEF_LINE).strong())).clicked() {
            requests.push(Request::Step(state.step + 1));
        }
        ui.label(
            RichText::new(format!("step {} of {}", state.step + 1, steps.len()))
                .size(font::BRIEF_LINE)
                .color(quiet(ui.visuals())),
        );
        if step.to_s > step.from_s {
            let took = show_duration(step.to_s - step.from_s);
            ui.label(RichText::new(format!("takes {took}")).size(font::BRIEF_LINE).color(quiet(ui.visuals())));
        }
    });
    ui.add_space(space::LINE);
    ui.label(RichText::new(&step.name).size(font::BRIEF_STEP).strong());
    if state.rehearsal.stopped_at().is_some_and(|first| step.step >= first) {
        margin::badge(ui, "This step was not checked: the motion could not be planned so far.", margin::STOP);
    }
    if !step.signals.is_empty() {
        ui.label(RichText::new(format!("Signals: {}", step.signals.join(", "))).size(font::BRIEF_SIGNALS));
    }
    if let Some(question) = &step.hold {
        let frame = egui::Frame::new()
            .fill(margin::COVERED.ink())
            .corner_radius(corner::QUESTION)
            .inner_margin(space::QUESTION);
        frame.show(ui, |ui| {
            let said = format!("✋ HOLD. {question}");
            ui.label(RichText::new(said).size(font::BRIEF_QUESTION).strong().color(ink::ON_FILL));
        });
        ui.label(RichText::new("Anyone on the job may stop it.").size(font::BRIEF_LINE));
    }
    watch(ui, state);
    ui.add_space(space::BLOCK);
}

/// The pair that has the least left now, and what the check found of this step.
fn watch(ui: &mut egui::Ui, state: &State) {
    let report = &state.rehearsal.report;
    if let Some(nearest) = state.nearest
        && let Some(row) = report.gaps.get(nearest.row)
    {
        let look = Look::of(nearest.margin_m, row.state);
        ui.horizontal_wrapped(|ui| {
            ui.label(RichText::new("Watch").size(font::BRIEF_WATCH).strong());
            let said = format!("{} to {}: {}", row.body, row.other, feet_inches(nearest.gap_m));
            margin::badge_sized(ui, &said, look, font::BRIEF_WATCH);
        });
    }
    if let Some((between, row)) = margin::to_watch(report, state.among_bodies) {
        let look = Look::of(between.margin_m, row.state);
        let said = format!("{} to {}: {}", row.body, row.other, feet_inches(between.gap_m));
        margin::badge_sized(ui, &said, look, font::BRIEF_WATCH_BODIES);
    }
    for row in report.met_in(state.step) {
        let look = Look::of_state(row.state);
        let said = format!("{}: {} to {}", look.word, row.body, row.other);
        margin::badge_sized(ui, &said, look, font::BRIEF_WATCH_BODIES);
    }
    let of_step = report.findings.iter().filter(|finding| finding.step == Some(state.step));
    for finding in of_step.take(3) {
        let look = margin::of_grade(finding.grade);
        let ink = look.color.text(ui.visuals());
        let said = words::message(finding, Units::Both);
        ui.label(RichText::new(format!("{} {said}", look.mark)).size(font::BRIEF_FINDING).color(ink));
    }
}
