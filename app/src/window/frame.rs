//! The panels about the site view, and what is asked for in them.

use super::clock::Clock;
use super::edit::Hand;
use super::lines::Now;
use super::orbit::Orbit;
use super::view::{CONTROL, View, held};
use super::{Open, axes};
use crate::panel::{self, Ask, Mode, brief, governing, help, margin, morning, slot, steps, tables, timeline, values};
use bevy::input::InputSystems;
use bevy::prelude::*;
use bevy_egui::input::egui_wants_any_keyboard_input;
use bevy_egui::{EguiContext, EguiContexts, EguiInput, EguiPreUpdateSet, EguiPrimaryContextPass, egui};
use std::panic::{AssertUnwindSafe, catch_unwind};

pub struct FramePlugin;

impl Plugin for FramePlugin {
    fn build(&self, app: &mut App) {
        app.add_systems(PreUpdate, keys.run_if(not(egui_wants_any_keyboard_input)).after(InputSystems))
            .add_systems(PreUpdate, rest.after(EguiPreUpdateSet::ProcessInput).before(EguiPreUpdateSet::BeginPass))
            .add_systems(EguiPrimaryContextPass, panels);
    }
}

/// Lets the window rest. The panels draw anew after any event, and of the keys that modify others they are told in each frame,
/// though nothing changed.
fn rest(mut panels: Query<(&mut EguiContext, &mut EguiInput)>) {
    for (mut context, mut input) in &mut panels {
        let held = context.get_mut().input(|input| input.modifiers);
        input.events.retain(|event| *event != egui::Event::ModifiersChanged(held));
    }
}

/// Layers and modes by keyboard.
fn keys(mut view: ResMut<View>, keys: Res<ButtonInput<KeyCode>>) {
    if held(&keys, CONTROL) || keys.pressed(KeyCode::AltLeft) {
        return;
    }
    let mut layers = view.layers;
    for (key, layer) in [
        (KeyCode::KeyN, &mut layers.names),
        (KeyCode::KeyS, &mut layers.slot),
        (KeyCode::KeyR, &mut layers.tubes),
        (KeyCode::KeyP, &mut layers.bare),
        (KeyCode::KeyM, &mut layers.morning),
        (KeyCode::F1, &mut layers.help),
    ] {
        if keys.just_pressed(key) {
            *layer = !*layer;
        }
    }
    if keys.just_pressed(KeyCode::KeyV) {
        layers.swept = layers.swept.next();
    }
    if layers != view.layers {
        view.layers = layers;
    }
    for (key, mode) in [(KeyCode::F2, Mode::Plan), (KeyCode::F3, Mode::Brief), (KeyCode::F4, Mode::Check)] {
        if keys.just_pressed(key) {
            view.mode = mode;
        }
    }
}

pub fn panels(
    mut contexts: EguiContexts,
    mut open: ResMut<Open>,
    now: Res<Now>,
    hand: Res<Hand>,
    mut clock: ResMut<Clock>,
    mut view: ResMut<View>,
    camera: Single<(&Camera, &GlobalTransform), With<Orbit>>,
) -> Result {
    let context = contexts.ctx_mut()?.clone();
    panel::style(&context, view.dark);
    if context.zoom_factor() != view.text_scale {
        context.set_zoom_factor(view.text_scale);
    }
    let state = panel::State {
        rehearsal: &open.rehearsal,
        tree: open.document.tree(),
        is_checking: open.is_checking(),
        handles: &hand.handles,
        mode: view.mode,
        layers: view.layers,
        time_s: clock.time_s,
        step: clock.step_shown(&open),
        playing: clock.playing,
        speed: clock.speed,
        stop_at_holds: clock.stop_at_holds,
        weather: view.weather,
        dark: view.dark,
        text_scale: view.text_scale,
        undo: open.document.can_undo(),
        redo: open.document.can_redo(),
        saved: open.document.is_saved(),
        recent: &view.recent,
        before: open.before.as_ref().map(|(label, margin_m)| (label.as_str(), *margin_m)),
        trouble: open.trouble.as_deref(),
        nearest: now.nearest.as_ref(),
        pairs: &now.pairs,
        among_bodies: now.among_bodies.as_ref(),
        governing: open.governing,
        margins: &open.margins,
    };
    let mut asks = Vec::new();
    let drawn = guarded(|| {
        let site = around(&context, &state, &mut asks);
        over(&context, &state, &mut asks);
        site
    });
    let site = match drawn {
        Ok(site) => site,
        Err(why) => {
            failed(&context, &why);
            return Ok(());
        }
    };
    let whole = context.viewport_rect();
    // The camera's part of the window is in the window's own points, whatever the text's size.
    let zoom = context.zoom_factor();
    let taken =
        [site.left(), site.top(), whole.right() - site.right(), whole.bottom() - site.bottom()].map(|side| side * zoom);
    if view.taken != taken {
        view.taken = taken;
    }
    let over = context.pointer_latest_pos().filter(|at| site.contains(*at)).is_some_and(|at| {
        let layer = context.layer_id_at(at);
        layer.is_none_or(|layer| layer.order == egui::Order::Background)
    });
    let on_site = over && !context.egui_is_using_pointer();
    if view.pointer_on_site != on_site {
        view.pointer_on_site = on_site;
    }
    overlay(&context, &open, &now, &hand, &view, *camera, site);
    for ask in asks {
        answer(ask, &mut open, &mut clock, &mut view);
    }
    trace!("a frame");
    Ok(())
}

/// What is drawn, or why it failed. A fault in a panel is logged and told in the window, which stays open.
fn guarded<T>(draw: impl FnOnce() -> T) -> Result<T, String> {
    catch_unwind(AssertUnwindSafe(draw)).map_err(|fault| {
        let told = fault.downcast_ref::<String>().map(String::as_str);
        let why = told.or_else(|| fault.downcast_ref::<&str>().copied()).unwrap_or("it does not say why").to_owned();
        error!("a part of the window failed: {why}");
        why
    })
}

/// Over whatever was drawn before it failed, for as long as it does.
fn failed(context: &egui::Context, why: &str) {
    let layer = egui::Area::new("failed".into()).order(egui::Order::Foreground);
    layer.anchor(egui::Align2::CENTER_CENTER, egui::Vec2::ZERO).show(context, |ui| {
        let said = format!(
            "A part of the window failed: {why}.\nThe log says where. Ctrl+Z takes the last change back, Ctrl+Shift+S saves."
        );
        margin::badge(ui, &said, margin::STOP);
    });
}

/// The panels; what they leave is the site's.
fn around(context: &egui::Context, state: &panel::State, asks: &mut Vec<Ask>) -> egui::Rect {
    let mut ui = egui::Ui::new(
        context.clone(),
        "window".into(),
        egui::UiBuilder::new().layer_id(egui::LayerId::background()).max_rect(context.viewport_rect()),
    );
    let ui = &mut ui;
    let rect = |shown: egui::InnerResponse<()>| shown.response.rect;
    let mut site = context.viewport_rect();
    let top = rect(egui::Panel::top("head").show(ui, |ui| panel::head(ui, state, asks)));
    site.min.y = top.bottom();
    match state.mode {
        Mode::Plan => {
            let bottom = rect(egui::Panel::bottom("timeline").show(ui, |ui| timeline::show(ui, state, asks)));
            let left = rect(egui::Panel::left("steps").default_size(252.0).show(ui, |ui| plan(ui, state, asks)));
            let right = rect(
                egui::Panel::right("governing").default_size(286.0).show(ui, |ui| governing::show(ui, state, asks)),
            );
            site.max.y = bottom.top();
            (site.min.x, site.max.x) = (left.right(), right.left());
        }
        Mode::Brief => {
            let bottom = rect(egui::Panel::bottom("brief").show(ui, |ui| brief::show(ui, state, asks)));
            site.max.y = bottom.top();
        }
        Mode::Check => {
            let bottom = rect(egui::Panel::bottom("timeline").show(ui, |ui| timeline::show(ui, state, asks)));
            let wide = context.viewport_rect().width() * 0.58;
            let right = rect(
                egui::Panel::right("tables")
                    .default_size(wide)
                    .max_size(wide)
                    .show(ui, |ui| tables::show(ui, state, asks)),
            );
            site.max.y = bottom.top();
            site.max.x = right.left();
        }
    }
    site
}

/// The steps, or what the scene says of all else.
fn plan(ui: &mut egui::Ui, state: &panel::State, asks: &mut Vec<Ask>) {
    let id = egui::Id::new("steps or values");
    let mut of_values = ui.data(|data| data.get_temp::<bool>(id)).unwrap_or(false);
    ui.add_space(4.0);
    ui.horizontal(|ui| {
        ui.selectable_value(&mut of_values, false, "Steps");
        ui.selectable_value(&mut of_values, true, "Scene");
    });
    ui.data_mut(|data| data.insert_temp(id, of_values));
    if of_values { values::show(ui, state, asks) } else { steps::show(ui, state, asks) }
}

/// What lies over the site, where it is wanted.
fn over(context: &egui::Context, state: &panel::State, asks: &mut Vec<Ask>) {
    if state.layers.slot {
        slot::show(context, state, asks);
    }
    if state.layers.morning {
        morning::show(context, state, asks);
    }
    if state.layers.help {
        help::sheet(context, state, asks);
    }
    if state.layers.welcome && state.mode == Mode::Plan {
        help::welcome(context, state, asks);
    }
}

/// Only what is changed counts as changed: the site is not drawn anew because a view was asked for.
fn answer(ask: Ask, open: &mut ResMut<Open>, clock: &mut ResMut<Clock>, view: &mut ResMut<View>) {
    match ask {
        Ask::Go(time_s) => clock.go(time_s),
        Ask::Step(step) => clock.go_to_step(open, step),
        Ask::Play(true) => clock.play(open.rehearsal.end_s()),
        Ask::Play(false) => clock.playing = false,
        Ask::Speed(speed) => clock.speed = speed,
        Ask::StopAtHolds(stop) => clock.stop_at_holds = stop,
        Ask::Weather(weather) => view.weather = weather,
        Ask::LookAt(point) => view.look_at = Some(axes::to_engine(point)),
        Ask::Camera(number) => view.camera = Some(number),
        Ask::Mode(mode) => view.mode = mode,
        Ask::Layers(layers) => view.layers = layers,
        Ask::Dark => view.dark = !view.dark,
        Ask::TextScale(scale) => view.text_scale = scale,
        Ask::Edit(edit) => open.apply(&edit, false, clock.time_s),
        Ask::Drag(edit) => open.apply(&edit, true, clock.time_s),
        Ask::Settle => open.settle(),
        Ask::Undo => open.undo(),
        Ask::Redo => open.redo(),
        Ask::File(wish) => view.ask_file(wish),
        Ask::Understood => open.trouble = None,
    }
}

/// Names of wires in the view, the gap that is nearest now, and what can be taken hold of.
pub fn overlay(
    context: &egui::Context,
    open: &Open,
    now: &Now,
    hand: &Hand,
    view: &View,
    (camera, at): (&Camera, &GlobalTransform),
    site: egui::Rect,
) {
    let inside = site.shrink(6.0);
    let painter =
        context.layer_painter(egui::LayerId::new(egui::Order::Background, "names".into())).with_clip_rect(inside);
    let zoom = context.zoom_factor();
    let seen = |point: scene_core::glam::DVec3| {
        let p = camera.world_to_viewport(at, axes::to_engine(point)).ok()?;
        Some(egui::pos2(p.x, p.y) / zoom)
    };
    if now.is_stop(&open.rehearsal.report) {
        let [r, g, b] = margin::STOP.colour;
        let red = egui::Color32::from_rgb(r, g, b);
        painter.rect_stroke(site.shrink(7.0), 4.0, egui::Stroke::new(5.0, red), egui::StrokeKind::Inside);
        let at = site.left_top() + egui::vec2(22.0, 18.0);
        let galley = painter.layout_no_wrap(
            format!("{} STOP", margin::STOP.mark),
            egui::FontId::proportional(26.0),
            egui::Color32::WHITE,
        );
        painter.rect_filled(egui::Rect::from_min_size(at, galley.size()).expand(6.0), 5.0, red);
        painter.galley(at, galley, egui::Color32::WHITE);
    }
    let pointer = context.pointer_latest_pos().filter(|_| view.pointer_on_site);
    let mut hovered = None;
    for handle in &hand.handles {
        let Some(p) = seen(handle.at).filter(|p| inside.contains(*p)) else { continue };
        let held = hand.holds().is_some_and(|holds| holds.label == handle.label);
        let under = pointer.is_some_and(|pointer| pointer.distance(p) < 12.0);
        let ink = egui::Color32::from_rgb(0, 84, 150);
        let (size, fill) = if held || under { (6.5, ink) } else { (4.0, egui::Color32::WHITE) };
        painter.circle(p, size, fill, egui::Stroke::new(2.0, ink));
        if held || under {
            hovered = Some((p, handle.label.clone()));
        }
    }
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
    if let Some((p, label)) = hovered {
        write(p, &label, egui::Color32::WHITE, egui::Color32::from_rgb(0, 84, 150), 14.0);
    }
    if !view.layers.names {
        return;
    }
    if let Some(nearest) = &now.nearest {
        let look = margin::Look::of(nearest.margin_m, margin::state(&open.rehearsal.report, nearest));
        if let Some(p) = seen((nearest.on_body + nearest.on_other) / 2.0) {
            let [r, g, b] = look.colour;
            let text = format!("{} {}", look.mark, margin::feet_inches(nearest.gap_m));
            write(p, &text, egui::Color32::WHITE, egui::Color32::from_rgb(r, g, b), 15.0);
        }
    }
    if let Some((between, row)) = margin::to_watch(&open.rehearsal.report, now.among_bodies.as_ref())
        && let Some(p) = seen((between.on_body + between.on_other) / 2.0)
    {
        let look = margin::Look::of(between.margin_m, row.state);
        let text = format!("{} {} to {}: {}", look.mark, row.body, row.other, margin::feet_inches(between.gap_m));
        write(p, &text, egui::Color32::WHITE, look.ink(), 13.0);
    }
    for row in open.rehearsal.report.met_in(now.step_shown) {
        let (Some(a), Some(b)) = (row.point_on_body, row.point_on_other) else { continue };
        if let Some(p) = seen((a + b) / 2.0) {
            let look = margin::Look::of_state(row.state);
            let text = format!("{} {} to {}, in this step", look.mark, row.body, row.other);
            write(p, &text, egui::Color32::WHITE, look.ink(), 13.0);
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

#[cfg(test)]
mod tests {
    use super::*;
    use bevy::log::{tracing, tracing_subscriber};
    use std::io::Write;
    use std::sync::{Arc, Mutex};

    #[derive(Clone, Default)]
    struct Log(Arc<Mutex<Vec<u8>>>);

    impl Write for Log {
        fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
            self.0.lock().unwrap().write(bytes)
        }

        fn flush(&mut self) -> std::io::Result<()> {
            Ok(())
        }
    }

    #[test]
    fn a_panel_that_fails_is_told_and_logged_and_the_window_goes_on() {
        let (log, context) = (Log::default(), egui::Context::default());
        let into = log.clone();
        let subscriber = tracing_subscriber::fmt().with_writer(move || into.clone()).finish();
        let frame = |fails: bool| {
            let mut result = Ok(());
            let mut output = context.run_ui(egui::RawInput::default(), |ui| {
                result = guarded(|| {
                    ui.label("before it fails");
                    assert!(!fails, "no such step: 37");
                });
                if let Err(why) = &result {
                    failed(ui.ctx(), why);
                }
            });
            output.textures_delta.clear();
            let texts: Vec<String> = output.shapes.into_iter().filter_map(|shape| text(&shape.shape)).collect();
            (result, texts.join("\n"))
        };
        tracing::subscriber::with_default(subscriber, || {
            assert_eq!(frame(false).0, Ok(()));
            // An area is sized before it is first shown.
            let _ = frame(true);
            let (result, shown) = frame(true);
            assert_eq!(result, Err("no such step: 37".to_owned()));
            assert!(shown.contains("A part of the window failed: no such step: 37."), "{shown}");
            let (result, shown) = frame(false);
            assert!(result.is_ok() && shown.contains("before it fails") && !shown.contains("failed:"), "{shown}");
        });
        let logged = String::from_utf8(log.0.lock().unwrap().clone()).unwrap();
        assert!(
            logged.contains("ERROR") && logged.contains("a part of the window failed: no such step: 37"),
            "{logged}"
        );
    }

    fn text(shape: &egui::Shape) -> Option<String> {
        match shape {
            egui::Shape::Text(text) => Some(text.galley.text().to_owned()),
            egui::Shape::Vec(shapes) => Some(shapes.iter().filter_map(text).collect::<Vec<_>>().join("\n")),
            _ => None,
        }
    }
}
