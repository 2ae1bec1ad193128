//! The panels about the site view, and what is asked for in them.

use super::clock::Clock;
use super::lines::Now;
use super::orbit::Orbit;
use super::view::View;
use super::{Open, axes};
use crate::panel::{self, Ask, governing, margin, report, steps, timeline};
use bevy::prelude::*;
use bevy_egui::{EguiContexts, EguiPrimaryContextPass, egui};

pub struct FramePlugin;

impl Plugin for FramePlugin {
    fn build(&self, app: &mut App) {
        app.add_systems(EguiPrimaryContextPass, panels);
    }
}

fn panels(
    mut contexts: EguiContexts,
    mut open: ResMut<Open>,
    now: Res<Now>,
    mut clock: ResMut<Clock>,
    mut view: ResMut<View>,
    camera: Single<(&Camera, &GlobalTransform), With<Orbit>>,
) -> Result {
    let context = contexts.ctx_mut()?.clone();
    panel::style(&context, view.dark);
    let whole = context.viewport_rect();
    let mut ui = egui::Ui::new(
        context.clone(),
        "window".into(),
        egui::UiBuilder::new().layer_id(egui::LayerId::background()).max_rect(whole),
    );
    let rehearsal = &open.rehearsal;
    let state = panel::State {
        rehearsal,
        time_s: clock.time_s,
        step: clock.step_shown(&open),
        playing: clock.playing,
        speed: clock.speed,
        stop_at_holds: clock.stop_at_holds,
        weather: view.weather,
        dark: view.dark,
        undo: open.document.can_undo(),
        redo: open.document.can_redo(),
        saved: open.document.is_saved(),
        margin_before_m: open.margin_before_m,
        trouble: open.trouble.as_deref(),
        nearest: now.nearest.as_ref(),
        governing: open.governing,
        margins: &open.margins,
    };
    let mut asks = Vec::new();
    let top = egui::Panel::top("head").show(&mut ui, |ui| panel::head(ui, &state, &mut asks)).response.rect;
    let bottom =
        egui::Panel::bottom("timeline").show(&mut ui, |ui| timeline::show(ui, &state, &mut asks)).response.rect;
    let left = egui::Panel::left("steps")
        .default_size(232.0)
        .show(&mut ui, |ui| steps::show(ui, &state, &mut asks))
        .response
        .rect;
    let right = egui::Panel::right("governing")
        .default_size(286.0)
        .show(&mut ui, |ui| governing::show(ui, &state, &mut asks))
        .response
        .rect;
    let taken = [left.width(), top.height(), right.width(), bottom.height()];
    if view.taken != taken {
        view.taken = taken;
    }
    let site = egui::Rect::from_min_max(egui::pos2(left.right(), top.bottom()), egui::pos2(right.left(), bottom.top()));
    let over = context.pointer_latest_pos().filter(|at| site.contains(*at)).is_some_and(|at| {
        let layer = context.layer_id_at(at);
        layer.is_none_or(|layer| layer.order == egui::Order::Background)
    });
    let on_site = over && !context.egui_is_using_pointer();
    if view.pointer_on_site != on_site {
        view.pointer_on_site = on_site;
    }
    if view.report_open {
        view.report_open = report::show(&context, rehearsal);
    }
    if view.names {
        names(&context, &open, &now, *camera, [left.right(), top.bottom(), right.left(), bottom.top()]);
    }
    for ask in asks {
        match ask {
            Ask::Go(time_s) => clock.go(time_s),
            Ask::Step(step) => clock.go_to_step(&open, step),
            Ask::Play(true) => clock.play(open.rehearsal.end_s()),
            Ask::Play(false) => clock.playing = false,
            Ask::Speed(speed) => clock.speed = speed,
            Ask::StopAtHolds(stop) => clock.stop_at_holds = stop,
            Ask::Weather(weather) => view.weather = weather,
            Ask::LookAt(point) => view.look_at = Some(axes::to_engine(point)),
            Ask::Undo => super::edit::undo(&mut open),
            Ask::Redo => super::edit::redo(&mut open),
            Ask::Save => super::edit::save(&mut open),
            Ask::Report => view.report_open = !view.report_open,
            Ask::Names => view.names = !view.names,
            Ask::Dark => view.dark = !view.dark,
        }
    }
    Ok(())
}

/// Names of wires in the view, and the gap that is nearest now.
fn names(
    context: &egui::Context,
    open: &Open,
    now: &Now,
    (camera, at): (&Camera, &GlobalTransform),
    [left, top, right, bottom]: [f32; 4],
) {
    let inside = egui::Rect::from_min_max(egui::pos2(left, top), egui::pos2(right, bottom)).shrink(6.0);
    let painter =
        context.layer_painter(egui::LayerId::new(egui::Order::Background, "names".into())).with_clip_rect(inside);
    let seen = |point: scene_core::glam::DVec3| {
        let p = camera.world_to_viewport(at, axes::to_engine(point)).ok()?;
        Some(egui::pos2(p.x, p.y))
    };
    let mut taken: Vec<egui::Rect> = Vec::new();
    let mut write = |p: egui::Pos2, text: &str, ink: egui::Color32, ground: egui::Color32, size: f32| {
        let galley = painter.layout_no_wrap(text.to_owned(), egui::FontId::proportional(size), ink);
        for lift in [0.0, 20.0, -20.0, 40.0, -40.0] {
            let rect = egui::Rect::from_min_size(p + egui::vec2(9.0, -9.0 - lift), galley.size())
                .expand2(egui::vec2(5.0, 2.0));
            if inside.contains_rect(rect) && !taken.iter().any(|other| other.intersects(rect)) {
                painter.rect_filled(rect, 4.0, ground);
                painter.galley(rect.min + egui::vec2(5.0, 2.0), galley, ink);
                taken.push(rect);
                return;
            }
        }
    };
    if let Some(nearest) = &now.nearest {
        let look = margin::Look::of(nearest.margin_m, margin::state(&open.rehearsal.report, nearest));
        if let Some(p) = seen((nearest.on_body + nearest.on_other) / 2.0) {
            let [r, g, b] = look.colour;
            let text = format!("{} {}", look.mark, margin::feet_inches(nearest.gap_m));
            write(p, &text, egui::Color32::WHITE, egui::Color32::from_rgb(r, g, b), 15.0);
        }
    }
    let paper = egui::Color32::from_rgba_unmultiplied(255, 255, 255, 215);
    let mut named = Vec::new();
    for curve in &now.curves {
        let Some(wire) = open.rehearsal.site.wires.get(curve.wire) else { continue };
        if named.contains(&curve.wire) {
            continue;
        }
        // Toward one end, where the work does not hide it.
        let point = curve.points.get(curve.points.len() / 4).copied();
        if let Some(p) = point.and_then(&seen) {
            named.push(curve.wire);
            write(p, &wire.name, egui::Color32::from_rgb(25, 28, 33), paper, 12.5);
        }
    }
}
