//! The camera of the site view. A drag turns it about the work, a right drag shifts it, the wheel brings it nearer to what
//! is under the pointer. Number keys fly it to its places: the side, the line, above, the operator's seat, the observer's
//! place, the bucket.

use super::OpenScene;
use super::axes::to_engine;
use super::clock::Clock;
use super::edit::is_dragging;
use super::matte;
use super::measured::Measured;
use super::orbit::Orbit;
use super::schedule::{Begin, Frame};
use super::vantage;
use super::view::{CONTROL, View, held, pointer_on_site};
use crate::panel::Mode;
use crate::theme::paint;
use bevy::camera::Viewport;
use bevy::core_pipeline::tonemapping::Tonemapping;
use bevy::input::mouse::AccumulatedMouseScroll;
use bevy::prelude::*;
use bevy::window::{PrimaryWindow, RequestRedraw};
use bevy_egui::{EguiContexts, EguiGlobalSettings, PrimaryEguiContext};

/// How far up and down the camera can look, radians; how near and how far it can be, meters.
const ABOVE: [f32; 2] = [-0.5, 1.55];
const FARTHEST_M: f32 = 300.0;
/// How quickly a flight's remaining way shrinks, per second.
const PACE: f32 = 9.0;

pub struct CameraPlugin;

impl Plugin for CameraPlugin {
    fn build(&self, app: &mut App) {
        let by_pointer = turn.run_if(pointer_on_site).run_if(not(is_dragging));
        app.add_systems(Startup, place.in_set(Begin::Site))
            .add_systems(PostStartup, letters.in_set(Begin::Letters))
            .add_systems(Update, (by_pointer, jump, brief, fly, fit).chain().in_set(Frame::Camera));
    }
}

/// Where the camera is on its way to.
#[derive(Component, Default)]
struct Flight {
    to: Option<Orbit>,
}

fn place(mut commands: Commands, open: Res<OpenScene>, view: Res<View>, mut settings: ResMut<EguiGlobalSettings>) {
    settings.auto_create_primary_context = false;
    let orbit = vantage::whole_work(&open.rehearsal.site, &view);
    let [start, end] = paint::HAZE_M;
    commands.spawn((
        Camera3d::default(),
        Msaa::Sample4,
        matte::SHADOW_EDGE,
        // It keeps the colors of daylight, and costs each pixel little.
        Tonemapping::SomewhatBoringDisplayTransform,
        DistanceFog { color: paint::HAZE, falloff: FogFalloff::Linear { start, end }, ..default() },
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

/// Gives the panels their letters before the first frame, so that no text is laid out twice.
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
    // Where the pointer went counts, not how far the mouse was pushed: the view follows the hand on every display.
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
        orbit.above = (orbit.above + moved.y * 0.005).clamp(ABOVE[0], ABOVE[1]);
    } else if buttons.pressed(MouseButton::Right) || buttons.pressed(MouseButton::Middle) {
        let transform = orbit.transform();
        let by = (transform.left() * moved.x + transform.up() * moved.y) * orbit.away_m * 0.0012;
        orbit.about += by;
    }
    if scroll.delta.y != 0.0 {
        let nearer = 1.0 - scroll.delta.y.clamp(-4.0, 4.0) * 0.1;
        // Toward the pointer: what lies under it, as far away as the middle, stays under it.
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
        orbit.away_m = (orbit.away_m * nearer).clamp(3.0, FARTHEST_M);
    }
}

/// Starts a flight to the place of a number key, or to the one that a panel asks for.
fn jump(
    flight: Single<&mut Flight>,
    keys: Res<ButtonInput<KeyCode>>,
    open: Res<OpenScene>,
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

/// Starts a flight, in brief, to where the step matters: to the pair that has the least left, or to the whole work.
fn brief(
    orbit: Single<&mut Flight>,
    open: Res<OpenScene>,
    clock: Res<Clock>,
    measured: Res<Measured>,
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
    let near = measured.nearest.as_ref().filter(|nearest| nearest.margin_m < MATTERS_M);
    let to = near.map_or(home, |nearest| {
        let about = to_engine((nearest.on_body + nearest.on_other) / 2.0);
        Orbit { about, away_m: 20.0, above: 0.12, ..home }
    });
    orbit.into_inner().to = Some(to);
}

/// Moves the camera: by the keys that turn it, or along its flight.
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
            orbit.above = (orbit.above + above * dt).clamp(ABOVE[0], ABOVE[1]);
            orbit.away_m = (orbit.away_m * (1.0 - nearer * dt)).clamp(0.5, FARTHEST_M);
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

/// Fits the site view into the part of the window that the panels leave.
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
