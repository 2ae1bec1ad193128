//! The desktop window: plugins that meet in a few resources.
//!
//! | resource | holds |
//! |---|---|
//! | [`OpenScene`] | the scene, checked, ready to be shown at any instant |
//! | [`clock::Clock`] | rehearsal time |
//! | [`measured::Measured`] | the nearest pairs and the wires at that time |
//! | [`view::View`] | what is shown, and from where |
//! | [`edit::DragState`] | what can be dragged, and what is being dragged |
//!
//! [`SitePlugins`] and [`DesktopPlugins`] list the plugins, [`schedule`] the order of their systems. Panels are functions over
//! plain state (`crate::panel`); what a person asks for there comes back as values. All colors stand in `crate::theme`.

mod axes;
mod bodies;
mod camera;
mod carrier;
mod clock;
mod diagnostics;
mod draw;
mod edit;
mod files;
mod frame;
mod ground;
mod labels;
mod lines;
mod matte;
mod measured;
pub mod offscreen;
mod open_scene;
mod orbit;
mod place;
mod schedule;
mod shown;
mod sweep;
mod vantage;
mod view;
mod warm_up;

#[cfg(test)]
mod headless;

use crate::document::Document;
use bevy::app::PluginGroupBuilder;
use bevy::ecs::error::{ErrorContext, FallbackErrorHandler};
use bevy::log::error;
use bevy::prelude::*;
use bevy::winit::{UpdateMode, WinitSettings};
use bevy_egui::EguiPlugin;
pub use open_scene::OpenScene;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::Duration;

/// A window that is left alone draws no sooner than after this.
const REST: Duration = Duration::from_secs(600);

/// Opens the window on a scene and returns when it is closed.
pub fn open(document: Document) -> Result<(), String> {
    let plugins = DefaultPlugins.set(WindowPlugin {
        primary_window: Some(Window { resolution: (1280, 720).into(), ..default() }),
        // What is not saved is asked about first.
        close_when_requested: false,
        ..default()
    });
    let open = OpenScene::new(document);
    // Where there is a display but no device that draws, the engine panics. That must not take the report with it.
    match catch_unwind(AssertUnwindSafe(|| run(plugins, open))) {
        Ok(AppExit::Success) => Ok(()),
        Ok(AppExit::Error(code)) => Err(format!("the engine ended with code {code}")),
        Err(_) => {
            Err("the engine gave up; what it said stands above. It needs a graphics device, in software too".to_owned())
        }
    }
}

/// What draws the site, in the window and in a picture.
///
/// | plugin | does |
/// |---|---|
/// | [`schedule::SchedulePlugin`] | orders the systems |
/// | [`matte::MattePlugin`] | brings the material that all is painted with |
/// | [`camera::CameraPlugin`] | places and moves the camera |
/// | [`measured::MeasuredPlugin`] | measures the instant that is shown |
/// | [`place::PlacePlugin`] | draws what stands still, in daylight |
/// | [`lines::LinesPlugin`] | draws wires, covers, nearest pairs |
/// | [`bodies::BodiesPlugin`] | draws machines and pole |
struct SitePlugins;

impl PluginGroup for SitePlugins {
    fn build(self) -> PluginGroupBuilder {
        PluginGroupBuilder::start::<Self>()
            .add(schedule::SchedulePlugin)
            .add(matte::MattePlugin)
            .add(camera::CameraPlugin)
            .add(measured::MeasuredPlugin)
            .add(place::PlacePlugin)
            .add(lines::LinesPlugin)
            .add(bodies::BodiesPlugin)
    }
}

/// What a window has besides, for the person before it.
///
/// | plugin | does |
/// |---|---|
/// | [`clock::ClockPlugin`] | lets rehearsal time go on |
/// | [`open_scene::OpenScenePlugin`] | checks the scene after an edit |
/// | [`edit::EditPlugin`] | lets things be dragged, undone, redone |
/// | [`files::FilesPlugin`] | opens, saves, closes, and asks before something is lost |
/// | [`sweep::SweepPlugin`] | draws swept volumes |
/// | [`frame::FramePlugin`] | shows the panels |
/// | [`diagnostics::DiagnosticsPlugin`] | shows counts and times, for developers |
/// | [`warm_up::WarmUpPlugin`] | draws until everything is drawn |
struct DesktopPlugins;

impl PluginGroup for DesktopPlugins {
    fn build(self) -> PluginGroupBuilder {
        PluginGroupBuilder::start::<Self>()
            .add(clock::ClockPlugin)
            .add(open_scene::OpenScenePlugin)
            .add(edit::EditPlugin)
            .add(files::FilesPlugin)
            .add(sweep::SweepPlugin)
            .add(frame::FramePlugin)
            .add(diagnostics::DiagnosticsPlugin)
            .add(warm_up::WarmUpPlugin)
    }
}

fn run(plugins: impl PluginGroup, open: OpenScene) -> AppExit {
    App::new()
        .add_plugins(plugins)
        .add_plugins(EguiPlugin::default())
        .insert_resource(faults())
        // Any event wakes the window; nothing changes by itself.
        .insert_resource(WinitSettings {
            focused_mode: UpdateMode::reactive(REST),
            unfocused_mode: UpdateMode::reactive_low_power(REST),
        })
        .insert_resource(view::View::about(&open.rehearsal.site))
        .insert_resource(clock::Clock::default())
        .insert_resource(open)
        .add_plugins((SitePlugins, DesktopPlugins))
        .run()
}

/// Logs a fault in a system, and lets the program go on.
fn faults() -> FallbackErrorHandler {
    FallbackErrorHandler(log_fault)
}

fn log_fault(fault: BevyError, context: ErrorContext) {
    error!("{context}: {fault}");
}
