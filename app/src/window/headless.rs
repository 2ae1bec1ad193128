//! Tests of the plugins without a screen: time, the check after an edit, undo by keyboard, the title.

use super::OpenScene;
use super::clock::{Clock, ClockPlugin};
use super::edit::EditPlugin;
use super::open_scene::OpenScenePlugin;
use super::schedule::SchedulePlugin;
use super::view::View;
use crate::document::{Document, Edit};
use crate::handle::handles;
use crate::scene_file::FIRST_EXAMPLE;
use bevy::input::keyboard::{Key, KeyboardInput};
use bevy::input::{ButtonState, InputPlugin};
use bevy::prelude::*;
use bevy::time::TimeUpdateStrategy;
use bevy::window::{PrimaryWindow, RequestRedraw};
use bevy_egui::input::EguiWantsInput;
use scene_core::glam::DVec3;
use scene_core::outcome::Verdict;
use std::time::Duration;

/// The plugins that need no graphics, with a tenth of a second between frames.
fn app() -> App {
    let open = OpenScene::new(Document::built_in(FIRST_EXAMPLE.0, FIRST_EXAMPLE.1).unwrap());
    let mut app = App::new();
    app.add_plugins((MinimalPlugins, InputPlugin))
        .insert_resource(TimeUpdateStrategy::ManualDuration(Duration::from_millis(100)))
        .add_message::<RequestRedraw>()
        .init_resource::<EguiWantsInput>()
        .insert_resource(View::about(&open.rehearsal.site))
        .init_resource::<Clock>()
        .insert_resource(open)
        .add_plugins((SchedulePlugin, ClockPlugin, OpenScenePlugin, EditPlugin));
    app.world_mut().spawn((Window::default(), PrimaryWindow));
    app.update();
    app
}

fn key(app: &mut App, key_code: KeyCode, state: ButtonState) {
    let window = Entity::PLACEHOLDER;
    let logical_key = Key::Unidentified(bevy::input::keyboard::NativeKey::Unidentified);
    app.world_mut().write_message(KeyboardInput { key_code, logical_key, state, text: None, repeat: false, window });
}

/// Presses keys in one frame and lets go in another.
fn press(app: &mut App, keys: &[KeyCode]) {
    for code in keys {
        key(app, *code, ButtonState::Pressed);
    }
    app.update();
    app.update();
    for code in keys {
        key(app, *code, ButtonState::Released);
    }
    app.update();
}

/// The edit that a drag of the crane by six meters to the south makes.
fn crane_moved(open: &OpenScene) -> Edit {
    let shapes = open.rehearsal.shapes(0.0);
    let found = handles(open.document.site(), open.document.tree(), 0, &shapes);
    let crane = found.iter().find(|handle| handle.label == "crane").unwrap();
    crane.moved(open.document.tree(), crane.at - DVec3::Y * 6.0).unwrap()
}

#[track_caller]
fn until_checked(app: &mut App) {
    for _ in 0..2000 {
        app.update();
        if !app.world().resource::<OpenScene>().is_checking() {
            return;
        }
        std::thread::sleep(Duration::from_millis(5));
    }
    panic!("the check does not end");
}

fn title(app: &mut App) -> String {
    app.update();
    let mut windows = app.world_mut().query::<&Window>();
    windows.single(app.world()).unwrap().title.clone()
}

#[test]
fn a_key_plays_once_and_playing_stops_at_the_hold_point() {
    let mut app = app();
    let (step, hold_s) = {
        let hold = &app.world().resource::<OpenScene>().rehearsal.hold_points()[0];
        (hold.step, hold.time_s)
    };
    app.world_mut().resource_mut::<Clock>().go(hold_s - 30.0);
    press(&mut app, &[KeyCode::Space]);
    assert!(app.world().resource::<Clock>().playing, "one press of the key is one");
    for _ in 0..100 {
        app.update();
    }
    let clock = app.world().resource::<Clock>();
    assert_eq!((clock.playing, clock.time_s, clock.step), (false, hold_s, Some(step)));
}

#[test]
fn after_an_edit_the_whole_is_checked_again_and_undo_brings_back_what_was_found() {
    let mut app = app();
    assert_eq!(title(&mut app), format!("{} - Plumbrise", FIRST_EXAMPLE.0));
    let before = app.world().resource::<OpenScene>().rehearsal.report.clone();
    assert_ne!(before.verdict, Verdict::Stop);
    let edit = crane_moved(app.world().resource::<OpenScene>());
    app.world_mut().resource_mut::<OpenScene>().apply(&edit, false, 0.0);
    until_checked(&mut app);
    assert_eq!(app.world().resource::<OpenScene>().rehearsal.report.verdict, Verdict::Stop);
    assert_eq!(title(&mut app), format!("\u{2022} {} - Plumbrise", FIRST_EXAMPLE.0));
    press(&mut app, &[KeyCode::ControlLeft, KeyCode::KeyZ]);
    until_checked(&mut app);
    let open = app.world().resource::<OpenScene>();
    assert!(open.rehearsal.report == before, "what was found before is found again");
    assert_eq!(open.document.can_undo(), None);
    assert_eq!(title(&mut app), format!("{} - Plumbrise", FIRST_EXAMPLE.0));
}

#[test]
fn two_edits_in_a_row_are_checked_as_the_last_left_it() {
    let mut app = app();
    let before = app.world().resource::<OpenScene>().rehearsal.report.clone();
    let edit = crane_moved(app.world().resource::<OpenScene>());
    let mut open = app.world_mut().resource_mut::<OpenScene>();
    open.apply(&edit, false, 0.0);
    open.undo();
    until_checked(&mut app);
    assert!(app.world().resource::<OpenScene>().rehearsal.report == before);
}
