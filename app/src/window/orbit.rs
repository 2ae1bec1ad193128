//! A camera that turns about the work: drag to turn, right drag to shift, wheel to come nearer. Keys 1 to 4: from the side,
//! along the line, from above, from the operator's seat.

use super::Open;
use super::axes::to_engine;
use super::place::SKY;
use super::view::{View, pointer_on_site};
use bevy::camera::Viewport;
use bevy::input::mouse::AccumulatedMouseScroll;
use bevy::prelude::*;
use bevy::window::PrimaryWindow;
use bevy_egui::input::egui_wants_any_keyboard_input;
use bevy_egui::{EguiGlobalSettings, PrimaryEguiContext};

pub struct OrbitPlugin;

impl Plugin for OrbitPlugin {
    fn build(&self, app: &mut App) {
        app.add_systems(Startup, place)
            .add_systems(Update, turn.run_if(pointer_on_site).run_if(not(super::edit::dragging)))
            .add_systems(Update, jump.run_if(not(egui_wants_any_keyboard_input)))
            .add_systems(Update, (fly, fit).chain());
    }
}

#[derive(Component, Clone, Copy)]
pub struct Orbit {
    about: Vec3,
    /// Radians from south, toward east.
    around: f32,
    /// Radians above the horizon.
    above: f32,
    away_m: f32,
}

impl Orbit {
    /// The whole work, from the side.
    fn home(view: &View) -> Self {
        Self { about: view.about, around: 0.75, above: 0.16, away_m: 62.0 }
    }

    fn transform(&self) -> Transform {
        let level = self.away_m * self.above.cos();
        let from = Vec3::new(level * self.around.sin(), self.away_m * self.above.sin(), level * self.around.cos());
        Transform::from_translation(self.about + from).looking_at(self.about, Vec3::Y)
    }
}

fn place(mut commands: Commands, view: Res<View>, mut settings: ResMut<EguiGlobalSettings>) {
    settings.auto_create_primary_context = false;
    let orbit = Orbit::home(&view);
    commands.spawn((
        Camera3d::default(),
        Msaa::Sample4,
        DistanceFog { color: SKY, falloff: FogFalloff::Linear { start: 150.0, end: 420.0 }, ..default() },
        orbit.transform(),
        orbit,
    ));
    commands.spawn((
        PrimaryEguiContext,
        Camera2d,
        bevy::camera::visibility::RenderLayers::none(),
        Camera { order: 1, clear_color: ClearColorConfig::None, ..default() },
    ));
}

fn turn(
    mut orbit: Single<&mut Orbit>,
    buttons: Res<ButtonInput<MouseButton>>,
    window: Single<&Window, With<PrimaryWindow>>,
    mut last: Local<Option<Vec2>>,
    scroll: Res<AccumulatedMouseScroll>,
) {
    // Where the pointer went, not how far the mouse was pushed: the view follows the hand on every display.
    let at = window.cursor_position();
    let moved = match (std::mem::replace(&mut *last, at), at) {
        (Some(before), Some(at)) => at - before,
        _ => Vec2::ZERO,
    };
    if buttons.pressed(MouseButton::Left) {
        orbit.around -= moved.x * 0.005;
        orbit.above = (orbit.above + moved.y * 0.005).clamp(0.02, 1.55);
    } else if buttons.pressed(MouseButton::Right) || buttons.pressed(MouseButton::Middle) {
        let transform = orbit.transform();
        let by = (transform.left() * moved.x + transform.up() * moved.y) * orbit.away_m * 0.0012;
        orbit.about += by;
    }
    if scroll.delta.y != 0.0 {
        orbit.away_m = (orbit.away_m * (1.0 - scroll.delta.y.clamp(-4.0, 4.0) * 0.1)).clamp(3.0, 300.0);
    }
}

fn jump(mut orbit: Single<&mut Orbit>, keys: Res<ButtonInput<KeyCode>>, open: Res<Open>, view: Res<View>) {
    let crane = &open.rehearsal.site.crane;
    let hole = to_engine(open.rehearsal.site.hole.at);
    let line = open.rehearsal.site.wires.first().and_then(|wire| wire.spans.first());
    let along = line.map_or(Vec3::X, |span| to_engine(span.to - span.from));
    let bearing = along.x.atan2(along.z);
    if keys.just_pressed(KeyCode::Digit1) {
        **orbit = Orbit::home(&view);
    } else if keys.just_pressed(KeyCode::Digit2) {
        **orbit = Orbit { about: hole + Vec3::Y * 9.0, around: bearing, above: 0.06, away_m: 24.0 };
    } else if keys.just_pressed(KeyCode::Digit3) {
        **orbit = Orbit { about: view.about.with_y(hole.y), around: 0.0, above: 1.55, away_m: 60.0 };
    } else if keys.just_pressed(KeyCode::Digit4) {
        let seat = to_engine(crane.at) + Vec3::Y * 2.2;
        let about = hole + Vec3::Y * 9.0;
        let away = seat - about;
        let level = Vec2::new(away.x, away.z).length();
        **orbit = Orbit {
            about,
            around: away.x.atan2(away.z),
            above: (away.y / level.max(0.1)).atan().max(-0.5),
            away_m: away.length(),
        };
    }
}

/// Flies to where it is asked to look.
fn fly(mut orbit: Single<(&mut Orbit, &mut Transform)>, mut view: ResMut<View>) {
    let (orbit, transform) = &mut *orbit;
    if let Some(at) = view.look_at.take() {
        orbit.about = at;
        orbit.away_m = orbit.away_m.min(16.0);
    }
    let now = orbit.transform();
    if **transform != now {
        **transform = now;
    }
}

/// The site is seen in what the panels leave of the window.
fn fit(mut camera: Single<&mut Camera, With<Orbit>>, window: Single<&Window, With<PrimaryWindow>>, view: Res<View>) {
    let scale = window.scale_factor();
    let [left, top, right, bottom] = view.taken.map(|side| (side * scale).round() as u32);
    let at = UVec2::new(left, top);
    let whole = UVec2::new(window.physical_width(), window.physical_height());
    let size = whole.saturating_sub(at + UVec2::new(right, bottom)).max(UVec2::splat(16));
    if at.x + size.x > whole.x || at.y + size.y > whole.y {
        return;
    }
    let known = camera.viewport.as_ref().is_some_and(|v| v.physical_position == at && v.physical_size == size);
    if !known {
        camera.viewport = Some(Viewport { physical_position: at, physical_size: size, ..default() });
    }
}
