//! Dragging the crane over the ground; undo, redo and save by keyboard.

use super::Open;
use super::axes::{to_core, to_engine};
use super::orbit::Orbit;
use crate::document::{self, FieldPath};
use bevy::prelude::*;
use bevy::window::PrimaryWindow;
use bevy_egui::input::{egui_wants_any_keyboard_input, egui_wants_any_pointer_input};
use scene_core::glam::DVec3;

pub struct EditPlugin;

impl Plugin for EditPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Drag>()
            .add_systems(PreUpdate, keys.run_if(not(egui_wants_any_keyboard_input)))
            .add_systems(PreUpdate, take_hold.run_if(not(egui_wants_any_pointer_input)))
            .add_systems(PreUpdate, (drag, let_go).chain().after(take_hold))
            .add_systems(Update, title.run_if(resource_changed::<Open>));
    }
}

/// How near the crane's slew axis the ground must be taken hold of, metres.
const GRIP_M: f64 = 3.5;
const CRANE_AT: FieldPath = &["crane", "at"];

/// What is being dragged: where it was taken hold of, off its own place.
#[derive(Resource, Default)]
pub struct Drag(Option<DVec3>);

pub fn dragging(drag: Res<Drag>) -> bool {
    drag.0.is_some()
}

type SiteCamera<'w, 's> = Single<'w, 's, (&'static Camera, &'static GlobalTransform), With<Orbit>>;

/// Where the pointer meets the level of the crane's ground.
fn on_ground(open: &Open, window: &Window, (camera, at): (&Camera, &GlobalTransform)) -> Option<DVec3> {
    let ray = camera.viewport_to_world(at, window.cursor_position()?).ok()?;
    let level = to_engine(open.document.site().crane.at);
    let away = ray.intersect_plane(level, InfinitePlane3d::new(Vec3::Y))?;
    Some(to_core(ray.get_point(away)))
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
    drag.0 = on_ground(&open, &window, *camera).map(|at| crane - at).filter(|off| off.length() < GRIP_M);
}

fn drag(
    drag: Res<Drag>,
    mut open: ResMut<Open>,
    window: Single<&Window, With<PrimaryWindow>>,
    camera: SiteCamera,
    moved: Res<bevy::input::mouse::AccumulatedMouseMotion>,
) {
    let Some(off) = drag.0.filter(|_| moved.delta != Vec2::ZERO) else { return };
    let Some(to) = on_ground(&open, &window, *camera).map(|at| at + off) else { return };
    let before_m = open.governing_margin_m();
    let up_m = open.document.site().crane.at.z;
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
    let control = keys.any_pressed([KeyCode::ControlLeft, KeyCode::ControlRight]);
    let shift = keys.any_pressed([KeyCode::ShiftLeft, KeyCode::ShiftRight]);
    if !control {
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
