//! The timeline: steps, hold points, covers, and the margin over time of the pairs that govern. Time is scrubbed here.
//!
//! A longer step gets more room, but no step less than can be clicked: an hour of covering does not hide a minute's lift.

use super::margin::{self, Look, feet_inches};
use super::{OverTime, Request, State, quiet};
use crate::theme::{corner, font, ink, size, space, stroke};
use bevy_egui::egui::{self, Color32, FontId, Pos2, Rect, RichText, Sense, Stroke, pos2, vec2};
use scene_core::outcome::{GapRow, StepRow};
use scene_core::quantity::show::show_duration;
use scene_core::site::{During, Presence};

/// The speeds to choose from, seconds of the job per second watched.
pub const SPEEDS: [f64; 5] = [1.0, 5.0, 20.0, 60.0, 200.0];

pub fn show(ui: &mut egui::Ui, state: &State, requests: &mut Vec<Request>) {
    ui.add_space(space::LINE);
    ui.horizontal(|ui| {
        let label = if state.playing { "⏸ Pause" } else { "▶ Play" };
        if ui.add_sized(size::PLAY, egui::Button::new(RichText::new(label).strong())).clicked() {
            requests.push(Request::Play(!state.playing));
        }
        let steps = &state.rehearsal.report.steps;
        if ui.button("⏮").on_hover_text("Step before (left arrow)").clicked() {
            requests.push(Request::Step(state.step.saturating_sub(1)));
        }
        if ui.button("⏭").on_hover_text("Next step (right arrow)").clicked() {
            requests.push(Request::Step((state.step + 1).min(steps.len().saturating_sub(1))));
        }
        egui::ComboBox::from_id_salt("speed").width(64.0).selected_text(format!("{}×", state.speed)).show_ui(
            ui,
            |ui| {
                for speed in SPEEDS {
                    if ui.selectable_label(speed == state.speed, format!("{speed}×")).clicked() {
                        requests.push(Request::Speed(speed));
                    }
                }
            },
        );
        let mut stop = state.stop_at_holds;
        if ui.checkbox(&mut stop, "Stop at hold points").changed() {
            requests.push(Request::StopAtHolds(stop));
        }
        super::weather(ui, state, requests);
        let done = format!("{} of {}", show_duration(state.time_s), show_duration(state.rehearsal.end_s()));
        ui.label(RichText::new(done).color(quiet(ui.visuals())));
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            let said: Vec<String> = lines(state).map(|line| line.said()).collect();
            let short = if said.is_empty() { String::new() } else { format!("margin   {}", said.join("   ")) };
            let short = RichText::new(short).small().color(quiet(ui.visuals()));
            let all = format!("Margin over time; the proven least at the mark, the line sampled.\n{}", said.join("\n"));
            ui.add(egui::Label::new(short).truncate().show_tooltip_when_elided(false)).on_hover_text(all);
        });
    });
    strip(ui, state, requests);
    ui.add_space(space::HAIR);
}

/// Time along the strip. A step's share of the width grows with the root of its length.
struct TimeScale {
    /// Start time and left edge of each step; last, end time and right edge of all.
    knots: Vec<(f64, f32)>,
}

impl TimeScale {
    fn of(steps: &[StepRow], left: f32, right: f32) -> Self {
        let share = |step: &StepRow| (step.to_s - step.from_s).max(0.0).sqrt() + 8.0;
        let whole: f64 = steps.iter().map(share).sum::<f64>().max(1e-9);
        let mut knots = vec![(steps.first().map_or(0.0, |step| step.from_s), left)];
        let mut before = 0.0;
        for step in steps {
            before += share(step);
            knots.push((step.to_s, left + (right - left) * (before / whole) as f32));
        }
        Self { knots }
    }

    fn x(&self, time_s: f64) -> f32 {
        let next = self.knots.partition_point(|knot| knot.0 <= time_s).clamp(1, self.knots.len().max(2) - 1);
        let (Some(&(s0, x0)), Some(&(s1, x1))) = (self.knots.get(next - 1), self.knots.get(next)) else { return 0.0 };
        let u = if s1 > s0 { ((time_s - s0) / (s1 - s0)).clamp(0.0, 1.0) } else { 0.0 };
        x0 + (x1 - x0) * u as f32
    }

    fn time_s(&self, x: f32) -> f64 {
        let next = self.knots.partition_point(|knot| knot.1 <= x).clamp(1, self.knots.len().max(2) - 1);
        let (Some(&(s0, x0)), Some(&(s1, x1))) = (self.knots.get(next - 1), self.knots.get(next)) else { return 0.0 };
        let u = if x1 > x0 { f64::from((x - x0) / (x1 - x0)).clamp(0.0, 1.0) } else { 0.0 };
        s0 + (s1 - s0) * u
    }
}

fn strip(ui: &mut egui::Ui, state: &State, requests: &mut Vec<Request>) {
    let steps = &state.rehearsal.report.steps;
    let site = &state.rehearsal.site;
    let covers: Vec<_> = site.covers.iter().map(|cover| (cover.name.as_str(), cover.during)).collect();
    let held: Vec<_> = site.held_out.iter().map(|held| (held.name.as_str(), held.during)).collect();
    let lanes: Vec<(&str, Color32, Vec<Stretch>)> = [("covers", ink::COVER, covers), ("held out", ink::HELD_OUT, held)]
        .into_iter()
        .filter(|(_, _, things)| !things.is_empty())
        .map(|(what, ink, things)| (what, ink, stretches(&things, steps.len())))
        .collect();
    let tall = size::STRIP + size::LANE * lanes.len() as f32;
    let (response, painter) = ui.allocate_painter(vec2(ui.available_width(), tall), Sense::click_and_drag());
    let rect = response.rect.shrink2(space::STRIP_EDGE);
    if steps.is_empty() {
        return;
    }
    let scale = TimeScale::of(steps, rect.left(), rect.right());
    let bar = Rect::from_min_max(rect.min, pos2(rect.right(), rect.top() + size::STEP_BAR));
    let graph = rect.with_min_y(bar.bottom() + space::LINE + size::LANE * lanes.len() as f32);
    let now = state.step;
    let visuals = ui.visuals().clone();
    let text = visuals.text_color();
    for (step, ends) in steps.iter().zip(scale.knots.windows(2)) {
        let cell =
            Rect::from_min_max(pos2(ends[0].1, bar.top()), pos2(ends[1].1, bar.bottom())).shrink2(vec2(1.0, 0.0));
        let (fill, ink) = if step.step == now {
            (visuals.selection.bg_fill, visuals.selection.stroke.color)
        } else {
            (visuals.widgets.inactive.bg_fill, text)
        };
        painter.rect_filled(cell, corner::CELL, fill);
        let label = if step.hold.is_some() { "✋".to_owned() } else { format!("{}", step.step + 1) };
        painter.with_clip_rect(cell).text(
            cell.center(),
            egui::Align2::CENTER_CENTER,
            label,
            FontId::proportional(font::TIMELINE_STEP),
            ink,
        );
    }
    let mut hovered = Vec::new();
    for (index, (what, ink, stretches)) in lanes.iter().enumerate() {
        let top = bar.bottom() + space::THIN + size::LANE * index as f32;
        for stretch in stretches {
            let (Some(from), Some(to)) = (scale.knots.get(stretch.from), scale.knots.get(stretch.to)) else { continue };
            let cell = Rect::from_min_max(pos2(from.1 + 1.0, top), pos2(to.1 - 1.0, top + size::LANE - space::HAIR));
            lane_cell(&painter, cell, stretch, what, *ink);
            if response.hover_pos().is_some_and(|at| cell.contains(at)) {
                hovered.push(format!(
                    "{what}{}: {}",
                    if stretch.changing { ", changing" } else { "" },
                    stretch.names.join(", ")
                ));
            }
        }
    }
    let marks = graph_of(&painter, graph, &scale, state, &visuals);
    let x = match steps.get(now).zip(scale.knots.get(now)) {
        Some((step, knot)) if step.to_s <= step.from_s => knot.1 + 1.0,
        _ => scale.x(state.time_s),
    };
    painter.line_segment([pos2(x, rect.top()), pos2(x, rect.bottom())], Stroke::new(stroke::NOW, text));
    let response = if hovered.is_empty() { response } else { response.on_hover_text(hovered.join("\n")) };
    if let Some(at) = response.interact_pointer_pos() {
        requests.push(Request::Go(scale.time_s(at.x.clamp(rect.left(), rect.right()))));
    }
    // A click on a mark goes exactly to where the minimum was proven, nearer than a pixel could tell.
    for mark in marks {
        let about = Rect::from_center_size(mark.at, egui::Vec2::splat(2.0 * size::MARK));
        let shown = ui.interact(about, ui.id().with(mark.line.number), Sense::click());
        let said = mark.line.said();
        shown.widget_info(|| egui::WidgetInfo::labeled(egui::WidgetType::Button, true, &said));
        if shown.on_hover_text(&said).clicked() {
            requests.extend(state.instant_of(mark.line.row));
        }
    }
}

/// A stretch of steps through which the same things are there, from its first step to the first after it.
#[derive(Debug, PartialEq)]
struct Stretch<'a> {
    from: usize,
    to: usize,
    names: Vec<&'a str>,
    /// Some of them are being put on or taken off.
    changing: bool,
}

/// The stretches of steps through which covers, or arms, are there.
fn stretches<'a>(things: &[(&'a str, During)], steps: usize) -> Vec<Stretch<'a>> {
    let mut found: Vec<Stretch> = Vec::new();
    for step in 0..steps {
        let there = |(name, during): &(&'a str, During)| {
            let presence = during.presence(step);
            (presence != Presence::Absent).then_some((*name, presence == Presence::Changing))
        };
        let there: Vec<_> = things.iter().filter_map(there).collect();
        let names: Vec<_> = there.iter().map(|(name, _)| *name).collect();
        let changing = there.iter().any(|(_, changing)| *changing);
        match found
            .last_mut()
            .filter(|stretch| stretch.to == step && stretch.names == names && stretch.changing == changing)
        {
            Some(stretch) => stretch.to = step + 1,
            None if names.is_empty() => {}
            None => found.push(Stretch { from: step, to: step + 1, names, changing }),
        }
    }
    found
}

/// Filled while things are there, an outline while some are being put on or taken off.
fn lane_cell(painter: &egui::Painter, cell: Rect, stretch: &Stretch, what: &str, ink: Color32) {
    if stretch.changing {
        painter.rect_stroke(cell, corner::LANE, Stroke::new(stroke::LANE, ink), egui::StrokeKind::Inside);
        return;
    }
    painter.rect_filled(cell, corner::LANE, ink);
    let text = format!("{} {what}", stretch.names.len());
    let galley = painter.layout_no_wrap(text, FontId::proportional(font::TIMELINE_LANE), ink::ON_FILL);
    if galley.size().x + space::GROUP < cell.width() {
        painter.galley(cell.center() - galley.size() / 2.0, galley, ink::ON_FILL);
    }
}

/// The proven minimum of a line.
struct MinimumMark<'a> {
    at: Pos2,
    line: MarginLine<'a>,
}

/// A pair's margin over time.
struct MarginLine<'a> {
    /// Counted from 1, the one that governs.
    number: usize,
    row: &'a GapRow,
    margins: &'a [(f64, f64)],
}

impl MarginLine<'_> {
    fn governs(&self) -> bool {
        self.number == 1
    }

    fn look(&self) -> Look {
        Look::of_state(self.row.state)
    }

    fn said(&self) -> String {
        let GapRow { body, other, margin_m, .. } = self.row;
        format!("{} {body} to {other}: {}", self.number, feet_inches(*margin_m))
    }
}

fn lines<'a>(state: &State<'a>) -> impl DoubleEndedIterator<Item = MarginLine<'a>> {
    let (margins, gaps) = (state.margins, &state.rehearsal.report.gaps);
    let line = |(at, over_time): (usize, &'a OverTime)| {
        Some(MarginLine { number: at + 1, row: gaps.get(over_time.row)?, margins: &over_time.margins })
    };
    margins.iter().enumerate().filter_map(line)
}

/// Draws margins over time, as sampled, and the proven minimum of each; the one that governs lies on top.
fn graph_of<'a>(
    painter: &egui::Painter,
    rect: Rect,
    scale: &TimeScale,
    state: &State<'a>,
    visuals: &egui::Visuals,
) -> Vec<MinimumMark<'a>> {
    painter.rect_filled(rect, corner::CELL, visuals.extreme_bg_color);
    let quiet = quiet(visuals);
    let sampled = || lines(state).flat_map(|line| line.margins.iter().map(|sample| sample.1));
    let proven = lines(state).map(|line| line.row.margin_m);
    let least = sampled().chain(proven).filter(|margin_m| margin_m.is_finite()).fold(0.0, f64::min);
    let most = sampled().fold(0.5, f64::max).min(6.0);
    let inside = rect.shrink(size::MARK + 1.0);
    let y = |margin_m: f64| {
        // A margin that is not known counts as the least: `max` leaves out what is no number.
        let share = (margin_m.max(least).min(most) - least) / (most - least).max(1e-6);
        inside.bottom() - inside.height() * share as f32
    };
    let zero = y(0.0);
    painter.extend(egui::Shape::dashed_line(
        &[pos2(rect.left(), zero), pos2(rect.right(), zero)],
        Stroke::new(stroke::ZERO, quiet),
        size::DASH,
        size::DASH,
    ));
    let mut marks = Vec::new();
    for line in lines(state).rev() {
        for pair in line.margins.windows(2) {
            let [(s0, m0), (s1, m1)] = [pair[0], pair[1]];
            let look = if m0.min(m1) < 0.0 { line.look() } else { margin::APART };
            let color = look.color.line(visuals);
            let stroke = if line.governs() {
                Stroke::new(stroke::GOVERNING, color)
            } else {
                Stroke::new(stroke::NOT_GOVERNING, color.gamma_multiply(ink::NOT_GOVERNING_SHARE))
            };
            painter.line_segment([pos2(scale.x(s0), y(m0)), pos2(scale.x(s1), y(m1))], stroke);
        }
    }
    for line in lines(state) {
        let Some(time_s) = line.row.time_s.filter(|time_s| time_s.is_finite()) else { continue };
        // A mark stands beside one that lies there already.
        let beside = |at: Pos2| marks.iter().any(|mark: &MinimumMark| mark.at.distance(at) < 2.0 * size::MARK);
        let mut at = pos2(scale.x(time_s), y(line.row.margin_m));
        let aside = if at.x < rect.center().x { size::MARK } else { -size::MARK };
        while beside(at) {
            at.x += aside;
        }
        let width = if line.governs() { stroke::GOVERNING_MARK } else { stroke::NOT_GOVERNING_MARK };
        let ring = Stroke::new(width, visuals.text_color());
        painter.circle(at, size::MARK, line.look().ink(), ring);
        let number = line.number.to_string();
        painter.text(at, egui::Align2::CENTER_CENTER, number, FontId::proportional(font::TIMELINE_MARK), ink::ON_FILL);
        marks.push(MinimumMark { at, line });
    }
    marks
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cover_is_shown_from_when_it_is_put_on_until_it_is_off() {
        let during = During { on_after_step: Some(1), off_before_step: Some(4) };
        let shown: Vec<_> = stretches(&[("guard", during)], 6)
            .iter()
            .map(|stretch| (stretch.from, stretch.to, stretch.changing))
            .collect();
        assert_eq!(shown, [(1, 2, true), (2, 4, false), (4, 5, true)]);
        assert!(stretches(&[], 6).is_empty());
    }

    fn step(step: usize, from_s: f64, to_s: f64) -> StepRow {
        StepRow { step, name: String::new(), from_s, to_s, signals: Vec::new(), hold: None }
    }

    #[test]
    fn a_place_on_the_strip_and_its_time_are_one() {
        let steps = [step(0, 0.0, 3600.0), step(1, 3600.0, 3600.0), step(2, 3600.0, 3640.0)];
        let scale = TimeScale::of(&steps, 10.0, 510.0);
        for time_s in [0.0, 10.0, 1800.0, 3601.0, 3639.0] {
            let again = scale.time_s(scale.x(time_s));
            assert!((again - time_s).abs() < 1.0, "{time_s} → {again}");
        }
    }

    #[test]
    fn an_hour_of_covering_leaves_room_for_a_short_lift() {
        let steps = [step(0, 0.0, 3600.0), step(1, 3600.0, 3640.0)];
        let scale = TimeScale::of(&steps, 0.0, 700.0);
        assert!(700.0 - scale.x(3600.0) > 60.0);
    }
}
