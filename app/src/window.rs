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
mod frame;
mod lines;
mod orbit;
mod place;
mod view;

use crate::document::Document;
use bevy::ecs::error::{ErrorContext, FallbackErrorHandler};
use bevy::log::error;
use bevy::prelude::*;
use bevy::winit::WinitSettings;
use bevy_egui::EguiPlugin;
use scene_core::rehearsal::Rehearsal;

/// The scene that is open.
#[derive(Resource)]
pub struct Open {
    pub document: Document,
    pub rehearsal: Rehearsal,
    /// The governing margin before the edit that goes on.
    pub margin_before_m: Option<f64>,
    /// Something that could not be done, and why.
    pub trouble: Option<String>,
    /// The row of the report that rules, and its margin over time as sampled.
    pub governing: Option<usize>,
    pub margins: Vec<(f64, f64)>,
}

impl Open {
    fn new(document: Document) -> Self {
        let rehearsal = Rehearsal::of(document.site());
        let mut open =
            Self { document, rehearsal, margin_before_m: None, trouble: None, governing: None, margins: Vec::new() };
        open.look(true);
        open
    }

    /// Checks the site again after an edit; the margin over time only when the edit is over.
    pub fn check(&mut self, settled: bool) {
        self.rehearsal = Rehearsal::of(self.document.site());
        self.look(settled);
    }

    fn look(&mut self, settled: bool) {
        const SAMPLES: usize = 400;
        self.governing = self.rehearsal.report.governing().map(|(row, _)| row);
        self.margins.clear();
        if let Some(row) = self.governing.filter(|_| settled) {
            self.margins = self.rehearsal.margins(row, SAMPLES);
        }
    }

    /// `None` too when the path was not checked to its end: that is no margin to compare with.
    pub fn governing_margin_m(&self) -> Option<f64> {
        self.governing
            .filter(|_| self.rehearsal.stopped_at().is_none())
            .and_then(|row| self.rehearsal.report.gaps.get(row))
            .map(|row| row.margin_m)
    }
}

/// Opens the window on a scene and returns when it is closed.
pub fn open(document: Document) -> Result<(), String> {
    let plugins = DefaultPlugins.set(WindowPlugin {
        primary_window: Some(Window { resolution: (1280, 720).into(), ..default() }),
        ..default()
    });
    let open = Open::new(document);
    let exit = App::new()
        .add_plugins(plugins)
        .add_plugins(EguiPlugin::default())
        .insert_resource(FallbackErrorHandler(log_fault))
        .insert_resource(WinitSettings::desktop_app())
        .insert_resource(view::View::about(&open.rehearsal.site))
        .insert_resource(clock::Clock::default())
        .insert_resource(open)
        .add_plugins((orbit::OrbitPlugin, place::PlacePlugin, bodies::BodiesPlugin, lines::LinesPlugin))
        .add_plugins((clock::ClockPlugin, edit::EditPlugin, frame::FramePlugin))
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
