//! Dragging what can be moved in the site view; undo and redo by keyboard.

use super::OpenScene;
use super::axes::{to_core, to_engine};
use super::clock::Clock;
use super::orbit::Orbit;
use super::schedule::{Frame, Input};
use super::view::{CONTROL, SHIFT, View, held, pointer_on_site};
use crate::handle::{Handle, Rail, handles};
use crate::panel::Mode;
use bevy::prelude::*;
use bevy::window::PrimaryWindow;
use bevy_egui::input::egui_wants_any_keyboard_input;
use scene_core::glam::DVec3;

pub struct EditPlugin;

impl Plugin for EditPlugin {
    fn build(&self, app: &mut App) {
        let undo_keys = undo_keys.run_if(not(egui_wants_any_keyboard_input));
        let take_hold = take_hold.run_if(pointer_on_site);
        app.init_resource::<DragState>()
            .add_systems(PreUpdate, (undo_keys, take_hold, drag, let_go).chain().in_set(Input::Edit))
            .add_systems(Update, within_reach.in_set(Frame::Measure))
            .add_systems(Update, title.run_if(resource_changed::<OpenScene>).in_set(Frame::Tell));
    }
}

/// How near its swing axis, and up to which height, a machine can be taken hold of, meters.
const GRIP_M: f32 = 2.5;
const TALLEST_M: f32 = 4.0;
/// How near its dot a handle can be taken hold of, logical pixels.
const GRIP_PX: f32 = 12.0;

/// What can be dragged now, and what is being dragged.
#[derive(Resource, Default)]
pub struct DragState {
    pub handles: Vec<Handle>,
    held: Option<Held>,
}

struct Held {
    handle: Handle,
    /// From where it was taken hold of to its own place.
    off: DVec3,
}

impl DragState {
    /// The handle that is being dragged.
    pub fn holds(&self) -> Option<&Handle> {
        self.held.as_ref().map(|held| &held.handle)
    }
}

/// For systems that wait until nothing is being dragged.
pub fn is_dragging(drag_state: Res<DragState>) -> bool {
    drag_state.held.is_some()
}

type SiteCamera<'w, 's> = Single<'w, 's, (&'static Camera, &'static GlobalTransform), With<Orbit>>;

/// Finds what can be dragged in the step that is shown.
fn within_reach(mut drag_state: ResMut<DragState>, open: Res<OpenScene>, clock: Res<Clock>, view: Res<View>) {
    if !(open.is_changed() || clock.is_changed() || view.is_changed()) {
        return;
    }
    drag_state.handles = match view.mode {
        Mode::Plan => {
            let shapes = open.rehearsal.shapes(clock.time_s);
            handles(open.document.site(), open.document.tree(), clock.step_shown(&open), &shapes)
        }
        Mode::Brief | Mode::Check => Vec::new(),
    };
}

/// Where the pointer meets the rail that a handle moves along.
fn on_rail(rail: Rail, window: &Window, (camera, at): (&Camera, &GlobalTransform)) -> Option<DVec3> {
    let ray = camera.viewport_to_world(at, window.cursor_position()?).ok()?;
    match rail {
        Rail::Level(up_m) => {
            let away = ray.intersect_plane(Vec3::Y * up_m as f32, InfinitePlane3d::new(Vec3::Y))?;
            Some(to_core(ray.get_point(away)))
        }
        Rail::Line { from, along } => {
            // The point of the line that is nearest to the pointer's ray.
            let (start, sight) = (to_core(ray.origin), to_core(*ray.direction));
            let level = along.cross(sight).length_squared();
            let off = start - from;
            let s = (off.dot(along) - off.dot(sight) * along.dot(sight)) / level;
            (level > 1e-6).then(|| from + along * s)
        }
    }
}

/// Where the pointer meets a machine: the point of its ray that is nearest to the swing axis.
fn on_machine(machine: Vec3, window: &Window, (camera, at): (&Camera, &GlobalTransform)) -> Option<Vec3> {
    let ray = camera.viewport_to_world(at, window.cursor_position()?).ok()?;
    let (off, along) = (ray.origin - machine, *ray.direction);
    let level = Vec2::new(along.x, along.z);
    let away = -Vec2::new(off.x, off.z).dot(level) / level.length_squared().max(1e-6);
    // Seen from above, a ray comes nearest to the axis far over or under the machine; then the point within the machine counts.
    let at_height = |up_m: f32| (up_m - off.y) / along.y;
    let (top, foot) = (at_height(TALLEST_M), at_height(0.0));
    let within = if along.y.abs() > 0.05 { away.clamp(top.min(foot), top.max(foot)) } else { away };
    let near = ray.get_point(within.max(0.0));
    let off = near - machine;
    let held = Vec2::new(off.x, off.z).length() < GRIP_M && (-1.0..=TALLEST_M + 0.01).contains(&off.y);
    held.then_some(near)
}

/// Takes hold of the handle under the pointer, or else of the machine.
fn take_hold(
    mut drag_state: ResMut<DragState>,
    window: Single<&Window, With<PrimaryWindow>>,
    camera: SiteCamera,
    buttons: Res<ButtonInput<MouseButton>>,
) {
    if !buttons.just_pressed(MouseButton::Left) {
        return;
    }
    let Some(pointer) = window.cursor_position() else { return };
    let (eye, at) = *camera;
    let dot = |handle: &Handle| {
        let seen = eye.world_to_viewport(at, to_engine(handle.at)).ok()?;
        let away = seen.distance(pointer);
        (away < GRIP_PX).then_some(away)
    };
    let small = drag_state.handles.iter().filter_map(|handle| Some((handle, dot(handle)?)));
    let nearest = small.min_by(|a, b| a.1.total_cmp(&b.1)).map(|(handle, _)| handle.clone());
    let held = match nearest {
        Some(handle) => {
            let off = on_rail(handle.rail(), &window, *camera).map_or(DVec3::ZERO, |at| handle.at - at);
            Some(Held { handle, off })
        }
        None => drag_state.handles.iter().filter(|handle| handle.is_machine()).find_map(|handle| {
            let near = on_machine(to_engine(handle.at), &window, *camera)?;
            Some(Held { handle: handle.clone(), off: handle.at - to_core(near) })
        }),
    };
    if let Some(held) = &held {
        debug!("took hold of the {}", held.handle.label);
    }
    drag_state.held = held;
}

/// Moves what is held to where the pointer is.
fn drag(
    mut drag_state: ResMut<DragState>,
    mut open: ResMut<OpenScene>,
    clock: Res<Clock>,
    window: Single<&Window, With<PrimaryWindow>>,
    camera: SiteCamera,
    mut last: Local<Option<Vec2>>,
) {
    let at = window.cursor_position();
    let moved = std::mem::replace(&mut *last, at) != at;
    let Some(held) = drag_state.bypass_change_detection().held.as_mut().filter(|_| moved) else { return };
    let rail = match held.handle.rail() {
        // A machine is held above the ground on which it stands.
        Rail::Level(up_m) => Rail::Level(up_m - held.off.z),
        line => line,
    };
    let Some(to) = on_rail(rail, &window, *camera).map(|at| at + held.off) else { return };
    let Some(edit) = held.handle.moved(open.document.tree(), to) else { return };
    open.apply(&edit, true, clock.time_s);
}

fn let_go(mut drag_state: ResMut<DragState>, mut open: ResMut<OpenScene>, buttons: Res<ButtonInput<MouseButton>>) {
    if drag_state.held.is_some() && !buttons.pressed(MouseButton::Left) {
        drag_state.held = None;
        open.settle();
    }
}

fn undo_keys(mut open: ResMut<OpenScene>, keys: Res<ButtonInput<KeyCode>>) {
    if !held(&keys, CONTROL) {
        return;
    }
    if keys.just_pressed(KeyCode::KeyY) || (keys.just_pressed(KeyCode::KeyZ) && held(&keys, SHIFT)) {
        open.redo();
    } else if keys.just_pressed(KeyCode::KeyZ) {
        open.undo();
    }
}

/// Writes the file's name into the title, with a dot before it while there is something to save.
fn title(open: Res<OpenScene>, mut window: Single<&mut Window, With<PrimaryWindow>>) {
    let dot = if open.document.is_saved() { "" } else { "• " };
    window.title = format!("{dot}{} - Plumbrise", open.document.path().display());
}
