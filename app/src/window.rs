//! The desktop window: plugins that meet in a few resources.
//!
//! | resource | what |
//! |---|---|
//! | [`Open`] | the scene, checked, ready to be shown at any instant |
//! | [`clock::Clock`] | rehearsal time |
//! | [`view::View`] | what is shown and from where |
//!
//! Panels are functions over plain state (`crate::panel`); what a person asks for there comes back as values.

mod axes;
mod bodies;
mod clock;
mod draw;
mod edit;
mod files;
mod frame;
mod lines;
mod matt;
pub mod offscreen;
mod open;
mod orbit;
mod place;
mod sweep;
mod vantage;
mod view;

#[cfg(test)]
mod headless;

use crate::document::Document;
use bevy::ecs::error::{ErrorContext, FallbackErrorHandler};
use bevy::log::error;
use bevy::prelude::*;
use bevy::winit::{UpdateMode, WinitSettings};
use bevy_egui::EguiPlugin;
pub use open::Open;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::Duration;

/// A window that is left alone draws no sooner than this.
const REST: Duration = Duration::from_secs(600);

/// Opens the window on a scene and returns when it is closed.
pub fn open(document: Document) -> Result<(), String> {
    let plugins = DefaultPlugins.set(WindowPlugin {
        primary_window: Some(Window { resolution: (1280, 720).into(), ..default() }),
        // What is not saved is asked about first.
        close_when_requested: false,
        ..default()
    });
    let open = Open::new(document);
    // Where there is a display but nothing that draws, the engine gives up by a panic, which must not take the report with it.
    match catch_unwind(AssertUnwindSafe(|| run(plugins, open))) {
        Ok(AppExit::Success) => Ok(()),
        Ok(AppExit::Error(code)) => Err(format!("the engine ended with code {code}")),
        Err(_) => {
            Err("the engine gave up; what it said stands above. It needs a graphics device, in software too".to_owned())
        }
    }
}

fn run(plugins: impl PluginGroup, open: Open) -> AppExit {
    App::new()
        .add_plugins(plugins)
        .add_plugins(EguiPlugin::default())
        .insert_resource(faults())
        // Whatever happens wakes it; nothing changes by itself.
        .insert_resource(WinitSettings {
            focused_mode: UpdateMode::reactive(REST),
            unfocused_mode: UpdateMode::reactive_low_power(REST),
        })
        .insert_resource(view::View::about(&open.rehearsal.site))
        .insert_resource(clock::Clock::default())
        .insert_resource(open)
        .add_plugins((
            matt::MattPlugin,
            orbit::OrbitPlugin,
            place::PlacePlugin,
            bodies::BodiesPlugin,
            lines::LinesPlugin,
            sweep::SweepPlugin,
        ))
        .add_plugins((clock::ClockPlugin, open::OpenPlugin, edit::EditPlugin, files::FilesPlugin, frame::FramePlugin))
        .run()
}

/// A fault in a system is logged and the program goes on.
fn faults() -> FallbackErrorHandler {
    FallbackErrorHandler(log_fault)
}

fn log_fault(fault: BevyError, context: ErrorContext) {
    error!("{context}: {fault}");
}
