//! A camera that turns about the work: drag to turn, right drag to shift, wheel to come nearer to what is under the pointer.
//! Number keys: from the side, along the line, from above, the operator's seat, the observer's place, the bucket.

use super::Open;
use super::axes::to_engine;
use super::clock::Clock;
use super::lines::Now;
use super::matt;
use super::place::HAZE;
use super::vantage;
use super::view::{CONTROL, View, held, pointer_on_site};
use crate::panel::Mode;
use bevy::camera::Viewport;
use bevy::core_pipeline::tonemapping::Tonemapping;
use bevy::input::mouse::AccumulatedMouseScroll;
use bevy::prelude::*;
use bevy::window::{PrimaryWindow, RequestRedraw};
use bevy_egui::{EguiContexts, EguiGlobalSettings, PrimaryEguiContext};

pub struct OrbitPlugin;

impl Plugin for OrbitPlugin {
    fn build(&self, app: &mut App) {
        app.add_systems(Startup, place)
            .add_systems(PostStartup, letters)
            .add_systems(Update, turn.run_if(pointer_on_site).run_if(not(super::edit::dragging)))
            .add_systems(Update, (jump, brief, fly, fit).chain());
    }
}

#[derive(Component, Clone, Copy)]
pub struct Orbit {
    pub about: Vec3,
    /// Radians from south, toward east.
    pub around: f32,
    /// Radians above the horizon.
    pub above: f32,
    pub away_m: f32,
}

impl Orbit {
    /// The eye there, before the face of whoever stands there, looking at this point.
    pub fn from_to(eye: Vec3, about: Vec3) -> Self {
        const BEFORE_FACE_M: f32 = 0.7;
        let away = eye + (about - eye).normalize_or_zero() * BEFORE_FACE_M - about;
        let level = Vec2::new(away.x, away.z).length();
        Self { about, around: away.x.atan2(away.z), above: away.y.atan2(level), away_m: away.length().max(0.5) }
    }

    /// Part of the way to another, turning the shorter way.
    fn toward(&self, to: &Self, share: f32) -> Self {
        use std::f32::consts::{PI, TAU};
        let turn = (to.around - self.around + PI).rem_euclid(TAU) - PI;
        Self {
            about: self.about.lerp(to.about, share),
            around: self.around + turn * share,
            above: self.above + (to.above - self.above) * share,
            away_m: self.away_m + (to.away_m - self.away_m) * share,
        }
    }

    fn is_at(&self, to: &Self) -> bool {
        let near = self.toward(to, 1.0);
        self.about.distance(to.about) < 0.02
            && (near.around - self.around).abs() < 0.002
            && (to.above - self.above).abs() < 0.002
            && (to.away_m - self.away_m).abs() < 0.02
    }

    pub fn transform(&self) -> Transform {
        let level = self.away_m * self.above.cos();
        let from = Vec3::new(level * self.around.sin(), self.away_m * self.above.sin(), level * self.around.cos());
        Transform::from_translation(self.about + from).looking_at(self.about, Vec3::Y)
    }
}

fn place(mut commands: Commands, open: Res<Open>, view: Res<View>, mut settings: ResMut<EguiGlobalSettings>) {
    settings.auto_create_primary_context = false;
    let orbit = vantage::whole_work(&open.rehearsal.site, &view);
    commands.spawn((
        Camera3d::default(),
        Msaa::Sample4,
        matt::SHADOW_EDGE,
        // Daylight that keeps its colours, of little work for each pixel.
        Tonemapping::SomewhatBoringDisplayTransform,
        DistanceFog { color: HAZE, falloff: FogFalloff::Linear { start: 150.0, end: 520.0 }, ..default() },
        orbit.transform(),
        orbit,
        Flight::default(),
    ));
    commands.spawn((
        PrimaryEguiContext,
        Camera2d,
        bevy::camera::visibility::RenderLayers::none(),
        Camera { order: 1, clear_color: ClearColorConfig::None, ..default() },
    ));
}

/// Before the first frame, so that no text is laid out twice.
fn letters(mut contexts: EguiContexts) -> Result {
    contexts.ctx_mut()?.set_fonts(crate::panel::letters());
    Ok(())
}

fn turn(
    mut orbit: Single<(&mut Orbit, &mut Flight)>,
    buttons: Res<ButtonInput<MouseButton>>,
    window: Single<&Window, With<PrimaryWindow>>,
    mut last: Local<Option<Vec2>>,
    scroll: Res<AccumulatedMouseScroll>,
    camera: Single<(&Camera, &GlobalTransform), With<Orbit>>,
) {
    let (orbit, flight) = &mut *orbit;
    // Where the pointer went, not how far the mouse was pushed: the view follows the hand on every display.
    let at = window.cursor_position();
    let moved = match (std::mem::replace(&mut *last, at), at) {
        (Some(before), Some(at)) => at - before,
        _ => Vec2::ZERO,
    };
    let turning = buttons.pressed(MouseButton::Left) && moved != Vec2::ZERO;
    if turning || scroll.delta.y != 0.0 || buttons.pressed(MouseButton::Right) {
        flight.to = None;
    }
    if turning {
        orbit.around -= moved.x * 0.005;
        orbit.above = (orbit.above + moved.y * 0.005).clamp(-0.5, 1.55);
    } else if buttons.pressed(MouseButton::Right) || buttons.pressed(MouseButton::Middle) {
        let transform = orbit.transform();
        let by = (transform.left() * moved.x + transform.up() * moved.y) * orbit.away_m * 0.0012;
        orbit.about += by;
    }
    if scroll.delta.y != 0.0 {
        let nearer = 1.0 - scroll.delta.y.clamp(-4.0, 4.0) * 0.1;
        // Toward the pointer: what is under it, as far as the middle is, stays under it.
        let (camera, place) = *camera;
        let ray = at.and_then(|at| camera.viewport_to_world(place, at).ok());
        let sight = (orbit.about - orbit.transform().translation).normalize_or(Vec3::NEG_Z);
        if let Some(ray) = ray
            && let slant = ray.direction.dot(sight)
            && slant > 0.1
        {
            let under = ray.get_point(orbit.away_m / slant);
            let about = under + (orbit.about - under) * nearer;
            orbit.about = about.with_y(about.y.max(-2.0));
        }
        orbit.away_m = (orbit.away_m * nearer).clamp(3.0, 300.0);
    }
}

/// By number key, or as asked in a panel.
fn jump(
    flight: Single<&mut Flight>,
    keys: Res<ButtonInput<KeyCode>>,
    open: Res<Open>,
    clock: Res<Clock>,
    mut view: ResMut<View>,
    typing: Option<Res<bevy_egui::input::EguiWantsInput>>,
) {
    use KeyCode::{Digit1, Digit2, Digit3, Digit4, Digit5, Digit6};
    let free = typing.is_none_or(|typing| !typing.wants_any_keyboard_input());
    let pressed =
        [Digit1, Digit2, Digit3, Digit4, Digit5, Digit6].iter().position(|key| free && keys.just_pressed(*key));
    let asked = view.bypass_change_detection().camera.take();
    let Some(number) = asked.or(pressed.map(|index| index + 1)) else { return };
    flight.into_inner().to = Some(vantage::camera(number, &open, clock.time_s, &view));
}

/// In brief, to where the step that is shown matters: to the pair that has the least left, else the whole work.
fn brief(
    orbit: Single<&mut Flight>,
    open: Res<Open>,
    clock: Res<Clock>,
    now: Res<Now>,
    view: Res<View>,
    mut shown: Local<Option<usize>>,
) {
    const MATTERS_M: f64 = 1.0;
    let step = (view.mode == Mode::Brief).then(|| clock.step_shown(&open));
    if *shown == step {
        return;
    }
    *shown = step;
    if step.is_none() {
        return;
    }
    let home = vantage::whole_work(&open.rehearsal.site, &view);
    let near = now.nearest.as_ref().filter(|nearest| nearest.margin_m < MATTERS_M);
    let to = near.map_or(home, |nearest| {
        let about = to_engine((nearest.on_body + nearest.on_other) / 2.0);
        Orbit { about, away_m: 20.0, above: 0.12, ..home }
    });
    orbit.into_inner().to = Some(to);
}

/// Where the camera is on its way to.
#[derive(Component, Default)]
struct Flight {
    to: Option<Orbit>,
}

/// How quickly the way that is left shrinks, per second.
const PACE: f32 = 9.0;

/// Flies to where it is asked to look, by keyboard too.
fn fly(
    mut orbit: Single<(&mut Orbit, &mut Flight, &mut Transform)>,
    mut view: ResMut<View>,
    keys: Res<ButtonInput<KeyCode>>,
    typing: Option<Res<bevy_egui::input::EguiWantsInput>>,
    time: Res<Time>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    let (orbit, flight, transform) = &mut *orbit;
    let dt = time.delta_secs().min(0.1);
    if view.look_at.is_some()
        && let Some(at) = view.look_at.take()
    {
        flight.to = Some(Orbit { about: at, away_m: orbit.away_m.min(16.0), ..**orbit });
    }
    if typing.is_none_or(|typing| !typing.wants_any_keyboard_input()) && !held(&keys, CONTROL) {
        let by = |more: KeyCode, less: KeyCode| f32::from(i8::from(keys.pressed(more)) - i8::from(keys.pressed(less)));
        let (around, above) = (by(KeyCode::KeyD, KeyCode::KeyA), by(KeyCode::KeyW, KeyCode::KeyX));
        let nearer = by(KeyCode::Equal, KeyCode::Minus) + by(KeyCode::NumpadAdd, KeyCode::NumpadSubtract);
        if around != 0.0 || above != 0.0 || nearer != 0.0 {
            orbit.around += around * dt;
            orbit.above = (orbit.above + above * dt).clamp(-0.5, 1.55);
            orbit.away_m = (orbit.away_m * (1.0 - nearer * dt)).clamp(0.5, 300.0);
            flight.to = None;
            redraw.write(RequestRedraw);
        }
    }
    if let Some(to) = flight.to {
        let share = 1.0 - (-PACE * dt).exp();
        **orbit = orbit.toward(&to, share);
        if orbit.is_at(&to) {
            **orbit = to;
            flight.to = None;
        } else {
            redraw.write(RequestRedraw);
        }
    }
    let now = orbit.transform();
    if **transform != now {
        **transform = now;
    }
}

/// The site is seen in what the panels leave of the window.
fn fit(mut camera: Single<&mut Camera, With<Orbit>>, view: Res<View>) {
    let (Some(whole), Some(scale)) = (camera.physical_target_size(), camera.target_scaling_factor()) else { return };
    let [left, top, right, bottom] = view.taken.map(|side| (side * scale).round() as u32);
    let at = UVec2::new(left, top);
    let size = whole.saturating_sub(at + UVec2::new(right, bottom)).max(UVec2::splat(16));
    if at.x + size.x > whole.x || at.y + size.y > whole.y {
        return;
    }
    let known = camera.viewport.as_ref().is_some_and(|v| v.physical_position == at && v.physical_size == size);
    if !known {
        camera.viewport = Some(Viewport { physical_position: at, physical_size: size, ..default() });
    }
}
