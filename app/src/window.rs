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
mod frame;
mod lines;
mod orbit;
mod place;
mod view;

use bevy::ecs::error::{ErrorContext, FallbackErrorHandler};
use bevy::log::error;
use bevy::prelude::*;
use bevy::winit::WinitSettings;
use bevy_egui::EguiPlugin;
use scene_core::rehearsal::Rehearsal;
use scene_core::site::Site;

/// The scene that is open.
#[derive(Resource)]
pub struct Open {
    pub rehearsal: Rehearsal,
    /// The row of the report that rules, and its margin over time as sampled.
    pub governing: Option<usize>,
    pub margins: Vec<(f64, f64)>,
}

impl Open {
    fn new(site: &Site) -> Self {
        const SAMPLES: usize = 400;
        let rehearsal = Rehearsal::of(site);
        let report = &rehearsal.report;
        let governing = report.governing().and_then(|ruling| report.gaps.iter().position(|row| row == ruling));
        let margins = governing.map_or(Vec::new(), |row| rehearsal.margins(row, SAMPLES));
        Self { rehearsal, governing, margins }
    }
}

/// Opens the window on a scene and returns when it is closed.
pub fn open(site: &Site) -> Result<(), String> {
    let plugins = DefaultPlugins.set(WindowPlugin {
        primary_window: Some(Window {
            title: format!("Plumbrise - {}", site.name),
            resolution: (1280, 720).into(),
            ..default()
        }),
        ..default()
    });
    let open = Open::new(site);
    let exit = App::new()
        .add_plugins(plugins)
        .add_plugins(EguiPlugin::default())
        .insert_resource(FallbackErrorHandler(log_fault))
        .insert_resource(WinitSettings::desktop_app())
        .insert_resource(view::View::about(&open.rehearsal.site))
        .insert_resource(clock::Clock::default())
        .insert_resource(open)
        .add_plugins((orbit::OrbitPlugin, place::PlacePlugin, bodies::BodiesPlugin, lines::LinesPlugin))
        .add_plugins((clock::ClockPlugin, frame::FramePlugin))
        .run();
    match exit {
        AppExit::Success => Ok(()),
        AppExit::Error(code) => Err(format!("the engine ended with code {code}")),
    }
}

/// A fault in a system is logged and the program goes on.
fn log_fault(fault: BevyError, context: ErrorContext) {
    error!("{context}: {fault}");
}
