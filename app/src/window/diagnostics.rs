//! What each part of the window has to do, and how long it takes: counts and milliseconds over the site view, for
//! developers. Off until the View menu or F12 asks for it.
//!
//! A subsystem keeps a small resource of its own, made of a [`Stopwatch`] and its counts, and says with [`Subsystem`] how it
//! reads. [`DiagnosticsApp::init_diagnostics`] adds it to the overlay. The overlay knows no subsystem by name.

use super::matte::Matte;
use super::schedule::Panels;
use super::view::View;
use crate::panel::diagnostics::{self, Row};
use bevy::prelude::*;
use bevy_egui::{EguiContexts, EguiPrimaryContextPass};
use std::time::{Duration, Instant};

/// Shows the overlay.
pub struct DiagnosticsPlugin;

impl Plugin for DiagnosticsPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Registered>()
            .init_resource::<Rows>()
            .add_systems(EguiPrimaryContextPass, (gather, show).chain().run_if(is_wanted).in_set(Panels::Diagnostics));
    }
}

/// What one subsystem tells of itself.
pub trait Subsystem: Resource {
    fn row(&self) -> Row;
}

pub trait DiagnosticsApp {
    /// Adds the row of a subsystem to the overlay.
    fn add_diagnostics<S: Subsystem>(&mut self) -> &mut Self;

    /// The same, with the subsystem's resource.
    fn init_diagnostics<S: Subsystem + Default>(&mut self) -> &mut Self;
}

impl DiagnosticsApp for App {
    fn add_diagnostics<S: Subsystem>(&mut self) -> &mut Self {
        self.world_mut().get_resource_or_init::<Registered>().0.push(|world| Some(world.get_resource::<S>()?.row()));
        self
    }

    fn init_diagnostics<S: Subsystem + Default>(&mut self) -> &mut Self {
        self.init_resource::<S>().add_diagnostics::<S>()
    }
}

/// How to read each subsystem, in the order in which they were added.
#[derive(Resource, Default)]
struct Registered(Vec<fn(&World) -> Option<Row>>);

/// What the subsystems told in this frame.
#[derive(Resource, Default)]
struct Rows(Vec<Row>);

/// How long a piece of work took last, and at longest.
#[derive(Clone, Copy, Debug, Default)]
pub struct Stopwatch {
    runs: usize,
    last: Duration,
    longest: Duration,
}

impl Stopwatch {
    pub fn start(&self) -> Instant {
        Instant::now()
    }

    pub fn stop(&mut self, started: Instant) {
        self.took(started.elapsed());
    }

    pub fn took(&mut self, time: Duration) {
        self.runs += 1;
        self.last = time;
        self.longest = self.longest.max(time);
    }

    /// How long the last run took.
    pub fn last(&self) -> Duration {
        self.last
    }

    /// The row of a subsystem that this watch times.
    pub fn row(&self, subsystem: &'static str, counts: Vec<(&'static str, usize)>) -> Row {
        Row { subsystem, runs: self.runs, last: self.last, longest: self.longest, counts }
    }
}

fn is_wanted(view: Res<View>) -> bool {
    view.layers.diagnostics
}

fn gather(world: &mut World) {
    let rows = world.get_resource_or_init::<Registered>().0.iter().copied().collect::<Vec<_>>();
    let rows = rows.into_iter().filter_map(|row| row(world)).collect();
    world.insert_resource(Rows(rows));
}

fn show(
    mut contexts: EguiContexts,
    rows: Res<Rows>,
    view: Res<View>,
    meshes: Res<Assets<Mesh>>,
    paints: Res<Assets<Matte>>,
) -> Result {
    let context = contexts.ctx_mut()?;
    let zoom = context.zoom_factor();
    let [left, _, _, bottom] = view.taken.map(|side| side / zoom);
    let totals = [("meshes", meshes.len()), ("paints", paints.len())];
    diagnostics::show(context, left, bottom, &rows.0, &totals);
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(Resource, Default)]
    struct Digging {
        stopwatch: Stopwatch,
        holes: usize,
    }

    impl Subsystem for Digging {
        fn row(&self) -> Row {
            self.stopwatch.row("digging", vec![("holes", self.holes)])
        }
    }

    #[test]
    fn a_subsystem_tells_its_counts_its_last_time_and_its_longest() {
        let mut app = App::new();
        app.init_diagnostics::<Digging>();
        let mut digging = app.world_mut().resource_mut::<Digging>();
        digging.holes = 3;
        digging.stopwatch.took(Duration::from_millis(40));
        digging.stopwatch.took(Duration::from_millis(10));
        gather(app.world_mut());
        let [row] = &app.world().resource::<Rows>().0[..] else { panic!("one subsystem, one row") };
        assert_eq!((row.subsystem, row.runs), ("digging", 2));
        assert_eq!((row.last, row.longest), (Duration::from_millis(10), Duration::from_millis(40)));
        assert_eq!(row.counts, [("holes", 3)]);
    }
}
