//! Dragging the crane over the ground; undo, redo and save by keyboard.

use super::Open;
use super::axes::{to_core, to_engine};
use super::orbit::Orbit;
use super::view::pointer_on_site;
use crate::document::{self, FieldPath};
use bevy::prelude::*;
use bevy::window::PrimaryWindow;
use bevy_egui::input::egui_wants_any_keyboard_input;
use scene_core::glam::DVec3;

pub struct EditPlugin;

impl Plugin for EditPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Drag>()
            .add_systems(PreUpdate, keys.run_if(not(egui_wants_any_keyboard_input)))
            .add_systems(PreUpdate, take_hold.run_if(pointer_on_site))
            .add_systems(PreUpdate, (drag, let_go).chain().after(take_hold))
            .add_systems(Update, title.run_if(resource_changed::<Open>));
    }
}

/// How near its slew axis, and up to which height, the crane can be taken hold of, metres.
const GRIP_M: f32 = 2.5;
const TALLEST_M: f32 = 4.0;
const CRANE_AT: FieldPath = &["crane", "at"];

/// Where the crane was taken hold of, off its own place.
#[derive(Resource, Default)]
pub struct Drag(Option<DVec3>);

pub fn dragging(drag: Res<Drag>) -> bool {
    drag.0.is_some()
}

type SiteCamera<'w, 's> = Single<'w, 's, (&'static Camera, &'static GlobalTransform), With<Orbit>>;

/// Where the pointer meets a level.
fn on_level(up_m: f32, window: &Window, (camera, at): (&Camera, &GlobalTransform)) -> Option<Vec3> {
    let ray = camera.viewport_to_world(at, window.cursor_position()?).ok()?;
    let away = ray.intersect_plane(Vec3::Y * up_m, InfinitePlane3d::new(Vec3::Y))?;
    Some(ray.get_point(away))
}

/// Where the pointer meets the crane: on its ray, nearest to the slew axis.
fn on_crane(crane: Vec3, window: &Window, (camera, at): (&Camera, &GlobalTransform)) -> Option<Vec3> {
    let ray = camera.viewport_to_world(at, window.cursor_position()?).ok()?;
    let (off, along) = (ray.origin - crane, *ray.direction);
    let level = Vec2::new(along.x, along.z);
    let away = -Vec2::new(off.x, off.z).dot(level) / level.length_squared().max(1e-6);
    let near = ray.get_point(away.max(0.0));
    let off = near - crane;
    let held = Vec2::new(off.x, off.z).length() < GRIP_M && (-1.0..TALLEST_M).contains(&off.y);
    held.then_some(near)
}

fn take_hold(
    mut drag: ResMut<Drag>,
    open: Res<Open>,
    window: Single<&Window, With<PrimaryWindow>>,
    camera: SiteCamera,
    buttons: Res<ButtonInput<MouseButton>>,
) {
    if !buttons.just_pressed(MouseButton::Left) {
        return;
    }
    let crane = open.document.site().crane.at;
    drag.0 = on_crane(to_engine(crane), &window, *camera).map(|at| crane - to_core(at));
}

fn drag(
    drag: Res<Drag>,
    mut open: ResMut<Open>,
    window: Single<&Window, With<PrimaryWindow>>,
    camera: SiteCamera,
    mut last: Local<Option<Vec2>>,
) {
    let at = window.cursor_position();
    let moved = std::mem::replace(&mut *last, at) != at;
    let Some(off) = drag.0.filter(|_| moved) else { return };
    let up_m = open.document.site().crane.at.z;
    let held_up = (up_m - off.z) as f32;
    let Some(to) = on_level(held_up, &window, *camera).map(|at| to_core(at) + off) else { return };
    let before_m = open.governing_margin_m();
    match open.document.set("Move the crane", CRANE_AT, document::point(to.x, to.y, up_m), true) {
        Ok(()) => {
            open.margin_before_m = open.margin_before_m.or(before_m);
            open.trouble = None;
            open.check(false);
        }
        Err(why) => open.trouble = Some(why),
    }
}

fn let_go(mut drag: ResMut<Drag>, mut open: ResMut<Open>, buttons: Res<ButtonInput<MouseButton>>) {
    if drag.0.is_some() && !buttons.pressed(MouseButton::Left) {
        drag.0 = None;
        open.document.settle();
        open.check(true);
        open.margin_before_m = None;
    }
}

fn keys(mut open: ResMut<Open>, keys: Res<ButtonInput<KeyCode>>) {
    // Pressed and let go within one slow frame counts as well.
    let held = |both: [KeyCode; 2]| keys.any_pressed(both) || keys.any_just_pressed(both);
    let shift = held([KeyCode::ShiftLeft, KeyCode::ShiftRight]);
    if !held([KeyCode::ControlLeft, KeyCode::ControlRight]) {
        return;
    }
    if keys.just_pressed(KeyCode::KeyY) || (keys.just_pressed(KeyCode::KeyZ) && shift) {
        redo(&mut open);
    } else if keys.just_pressed(KeyCode::KeyZ) {
        undo(&mut open);
    } else if keys.just_pressed(KeyCode::KeyS) {
        save(&mut open);
    }
}

/// The file's name, with a dot before it while there is something to save.
fn title(open: Res<Open>, mut window: Single<&mut Window, With<PrimaryWindow>>) {
    let dot = if open.document.is_saved() { "" } else { "• " };
    window.title = format!("{dot}{} - Plumbrise", open.document.path().display());
}

pub fn undo(open: &mut Open) {
    if open.document.undo() {
        open.check(true);
    }
}

pub fn redo(open: &mut Open) {
    if open.document.redo() {
        open.check(true);
    }
}

pub fn save(open: &mut Open) {
    open.trouble = open.document.save().err().map(|why| why.to_string());
}
