//! What the rehearsal measures at the instant that is shown: the pairs that are nearest, and how the wires hang.

use super::diagnostics::{DiagnosticsApp, Stopwatch, Subsystem};
use super::schedule::Frame;
use super::shown::Shown;
use crate::panel::diagnostics::Row;
use crate::panel::margin::{self, Look};
use bevy::prelude::*;
use scene_core::outcome::Report;
use scene_core::rehearsal::Nearest;
use scene_core::trace::Curve;

pub struct MeasuredPlugin;

impl Plugin for MeasuredPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Measured>()
            .init_diagnostics::<RehearsalDiagnostics>()
            .add_systems(Update, measure.in_set(Frame::Measure));
    }
}

/// What holds at this instant, in the weather that is shown.
#[derive(Resource, Default)]
pub struct Measured {
    /// Time, weather and step that all this was measured for.
    instant: Option<(u64, usize, usize)>,
    /// The pair of a body and a wire that leaves the least.
    pub nearest: Option<Nearest>,
    /// For every wire the body that leaves the least, and all that leave less than nothing.
    pub pairs: Vec<Nearest>,
    /// The pair without a wire that leaves the least.
    pub among_bodies: Option<Nearest>,
    pub step_shown: usize,
    /// The outermost curves of every wire in this step.
    pub curves: Vec<Curve>,
}

impl Measured {
    /// The look of a body that touches something in this step, or has less than nothing left to some wire: that of the pair
    /// that leaves it the least.
    pub fn look_of(&self, body: &str, report: &Report) -> Option<Look> {
        let met = report.met_in(self.step_shown).filter(|row| row.body == body || row.other == body);
        if met.map(|row| Look::of_state(row.state)).any(|look| look == margin::STOP) {
            return Some(margin::STOP);
        }
        let has_it =
            |pair: &&Nearest| report.gaps.get(pair.row).is_some_and(|row| row.body == body || row.other == body);
        let own = self.pairs.iter().chain(&self.among_bodies).filter(has_it);
        let least = own.min_by(|a, b| a.margin_m.total_cmp(&b.margin_m))?;
        (least.margin_m < 0.0).then(|| Look::of(least.margin_m, margin::state(report, least)))
    }

    /// A nearest pair is a stop, or something is struck in this step.
    pub fn is_stop(&self, report: &Report) -> bool {
        let look = |nearest: &Nearest| Look::of(nearest.margin_m, margin::state(report, nearest));
        self.nearest.iter().chain(&self.among_bodies).any(|nearest| look(nearest) == margin::STOP)
            || report.met_in(self.step_shown).any(|row| Look::of_state(row.state) == margin::STOP)
    }
}

/// What measuring an instant costs.
#[derive(Resource, Default)]
struct RehearsalDiagnostics {
    stopwatch: Stopwatch,
    pairs: usize,
    curves: usize,
}

impl Subsystem for RehearsalDiagnostics {
    fn row(&self) -> Row {
        self.stopwatch.row("rehearsal", vec![("pairs", self.pairs), ("curves", self.curves)])
    }
}

fn measure(mut measured: ResMut<Measured>, shown: Shown, mut diagnostics: ResMut<RehearsalDiagnostics>) {
    let Shown { open, clock, view } = &shown;
    let step = shown.step();
    let instant = (clock.time_s.to_bits(), view.weather, step);
    let before = measured.instant.filter(|_| !open.is_changed());
    if before == Some(instant) {
        return;
    }
    let running = diagnostics.stopwatch.start();
    measured.instant = Some(instant);
    measured.step_shown = step;
    measured.pairs = open.rehearsal.to_wires(clock.time_s, view.weather);
    measured.among_bodies = open.rehearsal.among_bodies(clock.time_s);
    measured.nearest = measured.pairs.iter().min_by(|a, b| a.margin_m.total_cmp(&b.margin_m)).cloned();
    // Wires hang the same all through a step.
    if before.is_none_or(|(_, weather, known)| (weather, known) != (view.weather, step)) {
        measured.curves = open.rehearsal.curves(step, view.weather);
    }
    diagnostics.stopwatch.stop(running);
    (diagnostics.pairs, diagnostics.curves) = (measured.pairs.len(), measured.curves.len());
}
