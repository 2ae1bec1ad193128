//! The panels around the site view, and what is asked for in them.

use super::clock::Clock;
use super::diagnostics::{DiagnosticsApp, Stopwatch, Subsystem};
use super::edit::DragState;
use super::measured::Measured;
use super::orbit::Orbit;
use super::schedule::{Input, Panels};
use super::shown::ShownMut;
use super::view::{CONTROL, View, held};
use super::{OpenScene, axes, labels};
use crate::panel::diagnostics::Row;
use crate::panel::{
    self, Mode, Request, brief, governing, help, margin, morning, slot, steps, tables, timeline, values,
};
use crate::theme::{size, space};
use bevy::prelude::*;
use bevy_egui::input::egui_wants_any_keyboard_input;
use bevy_egui::{EguiContext, EguiContexts, EguiInput, EguiPrimaryContextPass, egui};
use std::panic::{AssertUnwindSafe, catch_unwind};

pub struct FramePlugin;

impl Plugin for FramePlugin {
    fn build(&self, app: &mut App) {
        app.init_diagnostics::<PanelDiagnostics>()
            .add_systems(PreUpdate, keys.run_if(not(egui_wants_any_keyboard_input)).in_set(Input::View))
            .add_systems(PreUpdate, rest.in_set(Input::Rest))
            .add_systems(EguiPrimaryContextPass, panels.in_set(Panels::Show));
    }
}

/// What the panels cost.
#[derive(Resource, Default)]
struct PanelDiagnostics {
    stopwatch: Stopwatch,
    requests: usize,
}

impl Subsystem for PanelDiagnostics {
    fn row(&self) -> Row {
        self.stopwatch.row("panels", vec![("requests", self.requests)])
    }
}

/// Lets the window rest. The panels draw anew after any event, and each frame tells them of the modifier keys, though nothing
/// changed.
fn rest(mut panels: Query<(&mut EguiContext, &mut EguiInput)>) {
    for (mut context, mut input) in &mut panels {
        let held = context.get_mut().input(|input| input.modifiers);
        input.events.retain(|event| *event != egui::Event::ModifiersChanged(held));
    }
}

/// Switches layers and ways in by keyboard.
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
        (KeyCode::F12, &mut layers.diagnostics),
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

/// Shows the panels and the labels over the site view, then carries out what was asked for.
fn panels(
    mut contexts: EguiContexts,
    mut shown: ShownMut,
    measured: Res<Measured>,
    drag_state: Res<DragState>,
    camera: Single<(&Camera, &GlobalTransform), With<Orbit>>,
    mut diagnostics: ResMut<PanelDiagnostics>,
) -> Result {
    let running = diagnostics.stopwatch.start();
    let ShownMut { open, clock, view } = &mut shown;
    let context = contexts.ctx_mut()?.clone();
    panel::style(&context, view.dark);
    if context.zoom_factor() != view.text_scale {
        context.set_zoom_factor(view.text_scale);
    }
    let state = panel::State {
        rehearsal: &open.rehearsal,
        tree: open.document.tree(),
        is_checking: open.is_checking(),
        handles: &drag_state.handles,
        mode: view.mode,
        layers: view.layers,
        time_s: clock.time_s,
        step: clock.step_shown(open),
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
        nearest: measured.nearest.as_ref(),
        pairs: &measured.pairs,
        among_bodies: measured.among_bodies.as_ref(),
        governing: open.governing,
        margins: &open.margins,
    };
    let mut requests = Vec::new();
    let drawn = guarded(|| {
        let site = around(&context, &state, &mut requests);
        over(&context, &state, &mut requests);
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
    // The camera's part of the window counts in the window's own points, whatever the text's size.
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
    labels::show(&context, open, &measured, &drag_state, view, *camera, site);
    diagnostics.stopwatch.stop(running);
    diagnostics.requests += requests.len();
    for request in requests {
        carry_out(request, open, clock, view);
    }
    trace!("a frame");
    Ok(())
}

/// What was drawn, or why it failed. A fault in a panel is logged and told in the window, which stays open.
fn guarded<T>(draw: impl FnOnce() -> T) -> Result<T, String> {
    catch_unwind(AssertUnwindSafe(draw)).map_err(|fault| {
        let told = fault.downcast_ref::<String>().map(String::as_str);
        let why = told.or_else(|| fault.downcast_ref::<&str>().copied()).unwrap_or("it does not say why").to_owned();
        error!("a part of the window failed: {why}");
        why
    })
}

/// Tells of a fault, over whatever was drawn before it, for as long as it lasts.
fn failed(context: &egui::Context, why: &str) {
    let layer = egui::Area::new("failed".into()).order(egui::Order::Foreground);
    layer.anchor(egui::Align2::CENTER_CENTER, egui::Vec2::ZERO).show(context, |ui| {
        let said = format!(
            "A part of the window failed: {why}.\nThe log says where. Ctrl+Z takes the last change back, Ctrl+Shift+S saves."
        );
        margin::badge(ui, &said, margin::STOP);
    });
}

/// Shows the panels around the site. Returns what they leave of the window.
fn around(context: &egui::Context, state: &panel::State, requests: &mut Vec<Request>) -> egui::Rect {
    let mut ui = egui::Ui::new(
        context.clone(),
        "window".into(),
        egui::UiBuilder::new().layer_id(egui::LayerId::background()).max_rect(context.viewport_rect()),
    );
    let ui = &mut ui;
    let rect = |shown: egui::InnerResponse<()>| shown.response.rect;
    let mut site = context.viewport_rect();
    let top = rect(egui::Panel::top("head").show(ui, |ui| panel::head(ui, state, requests)));
    site.min.y = top.bottom();
    match state.mode {
        Mode::Plan => {
            let bottom = rect(egui::Panel::bottom("timeline").show(ui, |ui| timeline::show(ui, state, requests)));
            let left = rect(
                egui::Panel::left("steps").default_size(size::STEPS_WIDTH).show(ui, |ui| plan(ui, state, requests)),
            );
            let right = rect(
                egui::Panel::right("governing")
                    .default_size(size::GOVERNING_WIDTH)
                    .show(ui, |ui| governing::show(ui, state, requests)),
            );
            site.max.y = bottom.top();
            (site.min.x, site.max.x) = (left.right(), right.left());
        }
        Mode::Brief => {
            let bottom = rect(egui::Panel::bottom("brief").show(ui, |ui| brief::show(ui, state, requests)));
            site.max.y = bottom.top();
        }
        Mode::Check => {
            let bottom = rect(egui::Panel::bottom("timeline").show(ui, |ui| timeline::show(ui, state, requests)));
            let wide = context.viewport_rect().width() * size::TABLES_SHARE;
            let right = rect(
                egui::Panel::right("tables")
                    .default_size(wide)
                    .max_size(wide)
                    .show(ui, |ui| tables::show(ui, state, requests)),
            );
            site.max.y = bottom.top();
            site.max.x = right.left();
        }
    }
    site
}

/// The left panel in plan: the steps, or what the scene says of all else.
fn plan(ui: &mut egui::Ui, state: &panel::State, requests: &mut Vec<Request>) {
    let id = egui::Id::new("steps or values");
    let mut of_values = ui.data(|data| data.get_temp::<bool>(id)).unwrap_or(false);
    ui.add_space(space::LINE);
    ui.horizontal(|ui| {
        ui.selectable_value(&mut of_values, false, "Steps");
        ui.selectable_value(&mut of_values, true, "Scene");
    });
    ui.data_mut(|data| data.insert_temp(id, of_values));
    if of_values { values::show(ui, state, requests) } else { steps::show(ui, state, requests) }
}

/// The windows that lie over the site, where they are wanted.
fn over(context: &egui::Context, state: &panel::State, requests: &mut Vec<Request>) {
    if state.layers.slot {
        slot::show(context, state, requests);
    }
    if state.layers.morning {
        morning::show(context, state, requests);
    }
    if state.layers.help {
        help::sheet(context, state, requests);
    }
    if state.layers.welcome && state.mode == Mode::Plan {
        help::welcome(context, state, requests);
    }
}

/// Carries out a request. Only what it changes counts as changed: the site is not drawn anew because a view was asked for.
fn carry_out(request: Request, open: &mut ResMut<OpenScene>, clock: &mut ResMut<Clock>, view: &mut ResMut<View>) {
    match request {
        Request::Go(time_s) => clock.go(time_s),
        Request::Step(step) => clock.go_to_step(open, step),
        Request::Play(true) => clock.play(open.rehearsal.end_s()),
        Request::Play(false) => clock.playing = false,
        Request::Speed(speed) => clock.speed = speed,
        Request::StopAtHolds(stop) => clock.stop_at_holds = stop,
        Request::Weather(weather) => view.weather = weather,
        Request::LookAt(point) => view.look_at = Some(axes::to_engine(point)),
        Request::Camera(number) => view.camera = Some(number),
        Request::Mode(mode) => view.mode = mode,
        Request::Layers(layers) => view.layers = layers,
        Request::Dark => view.dark = !view.dark,
        Request::TextScale(scale) => view.text_scale = scale,
        Request::Edit(edit) => open.apply(&edit, false, clock.time_s),
        Request::Drag(edit) => open.apply(&edit, true, clock.time_s),
        Request::Settle => open.settle(),
        Request::Undo => open.undo(),
        Request::Redo => open.redo(),
        Request::File(file_request) => view.request_file(file_request),
        Request::Understood => open.trouble = None,
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
