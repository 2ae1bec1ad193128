//! The scene that is open, and its check. A quick check runs within the frame, a slow one beside it.

use super::diagnostics::{DiagnosticsApp, Stopwatch, Subsystem};
use super::schedule::{Frame, Input};
use crate::document::{Document, Edit};
use crate::panel::OverTime;
use crate::panel::diagnostics::Row;
use bevy::prelude::*;
use bevy::tasks::{AsyncComputeTaskPool, Task, block_on};
use bevy::window::RequestRedraw;
use scene_core::finding::Grade;
use scene_core::quantity::show::Units;
use scene_core::rehearsal::{Rehearsal, Shape};
use scene_core::report::text;
use std::time::{Duration, Instant};

/// Where the last check took no longer than this, the next runs within the frame.
const AT_ONCE: Duration = Duration::from_millis(60);
/// How many pairs the timeline shows, and at how many instants.
const LINES: usize = 4;
const SAMPLES: usize = 400;

/// The scene that is open.
#[derive(Resource)]
pub struct OpenScene {
    pub document: Document,
    /// The document as it was checked last; see [`OpenScene::is_checking`].
    pub rehearsal: Rehearsal,
    /// The last edit, and the governing margin before it, meters.
    pub before: Option<(String, f64)>,
    /// The bodies as they stood when this drag began.
    pub ghost: Vec<Shape>,
    /// Something that could not be done, and why.
    pub trouble: Option<String>,
    /// The row of the report that governs.
    pub governing: Option<usize>,
    /// That row and the next ones, with their margins sampled over time.
    pub margins: Vec<OverTime>,
    running: Option<Task<Checked>>,
    /// An edit came while a check was running; true where it was not part of a drag.
    wanted: Option<bool>,
    is_dragged: bool,
    stopwatch: Stopwatch,
}

struct Checked {
    rehearsal: Rehearsal,
    margins: Vec<OverTime>,
    took: Duration,
}

impl Checked {
    /// The margins over time are sampled only when the edit is over.
    fn of(document: &Document, settled: bool) -> impl FnOnce() -> Self + Send + 'static {
        let site = document.site().clone();
        move || {
            let began = Instant::now();
            let rehearsal = Rehearsal::of(&site);
            let took = began.elapsed();
            let sampled = |row| if settled { rehearsal.margins(row, SAMPLES) } else { Vec::new() };
            let foremost = rehearsal.report.foremost(LINES).into_iter();
            let margins = foremost.map(|row| OverTime { row, margins: sampled(row) }).collect();
            Self { rehearsal, margins, took }
        }
    }
}

impl OpenScene {
    pub fn new(document: Document) -> Self {
        let Checked { rehearsal, margins, took } = Checked::of(&document, true)();
        let mut open = Self {
            document,
            rehearsal,
            before: None,
            ghost: Vec::new(),
            trouble: None,
            governing: None,
            margins: Vec::new(),
            running: None,
            wanted: None,
            is_dragged: false,
            stopwatch: Stopwatch::default(),
        };
        open.governing = open.rehearsal.report.governing().map(|(row, _)| row);
        open.margins = margins;
        open.stopwatch.took(took);
        open
    }

    /// What is shown belongs to the document before the last edit.
    pub fn is_checking(&self) -> bool {
        self.running.is_some() || self.wanted.is_some()
    }

    /// Applies an edit and checks the scene again. With `is_dragged` the edit is part of a drag, which [`OpenScene::settle`]
    /// ends.
    pub fn apply(&mut self, edit: &Edit, is_dragged: bool, time_s: f64) {
        let before_m = self.governing_margin_m();
        let ghost = if is_dragged && !self.is_dragged { self.rehearsal.shapes(time_s) } else { Vec::new() };
        if let Err(why) = self.document.apply(edit, is_dragged) {
            self.trouble = Some(why);
            return;
        }
        if !(is_dragged && self.is_dragged) {
            self.before = before_m.map(|margin_m| (edit.label.clone(), margin_m));
            self.ghost = ghost;
        }
        self.is_dragged = is_dragged;
        self.trouble = None;
        self.check(!is_dragged);
    }

    /// Ends a drag.
    pub fn settle(&mut self) {
        if self.is_dragged {
            self.is_dragged = false;
            self.document.settle();
            self.ghost.clear();
            self.check(true);
        }
    }

    pub fn undo(&mut self) {
        if self.document.undo() {
            self.before = None;
            self.check(true);
        }
    }

    pub fn redo(&mut self) {
        if self.document.redo() {
            self.before = None;
            self.check(true);
        }
    }

    pub fn save(&mut self) {
        self.trouble = self.document.save().err().map(|why| why.to_string());
    }

    /// Checks the scene again after an edit.
    fn check(&mut self, settled: bool) {
        if settled && let Err(why) = self.document.keep_unsaved() {
            self.trouble = Some(format!("What is not saved could not be kept beside the file: {why}"));
        }
        if self.running.is_some() {
            self.wanted = Some(settled);
        } else if self.stopwatch.last() <= AT_ONCE {
            self.show(Checked::of(&self.document, settled)());
        } else {
            let check = Checked::of(&self.document, settled);
            self.running = Some(AsyncComputeTaskPool::get().spawn(async move { check() }));
        }
    }

    fn show(&mut self, Checked { rehearsal, margins, took }: Checked) {
        self.rehearsal = rehearsal;
        self.governing = self.rehearsal.report.governing().map(|(row, _)| row);
        self.margins = margins;
        self.stopwatch.took(took);
    }

    /// Meters; `None` also where the path was not checked to its end: that is no margin to compare with.
    pub fn governing_margin_m(&self) -> Option<f64> {
        self.governing
            .filter(|_| self.rehearsal.stopped_at().is_none())
            .and_then(|row| self.rehearsal.report.gaps.get(row))
            .map(|row| row.margin_m)
    }
}

impl Subsystem for OpenScene {
    fn row(&self) -> Row {
        let report = &self.rehearsal.report;
        let counts = [("pairs", report.gaps.len()), ("steps", report.steps.len()), ("findings", report.findings.len())];
        self.stopwatch.row("check", counts.to_vec())
    }
}

pub struct OpenScenePlugin;

impl Plugin for OpenScenePlugin {
    fn build(&self, app: &mut App) {
        app.add_diagnostics::<OpenScene>()
            .add_systems(PreUpdate, take_over.in_set(Input::Check))
            .add_systems(Update, tell.run_if(resource_changed::<OpenScene>).in_set(Frame::Tell));
    }
}

/// Takes over what was checked beside the frame, and checks again where edits came meanwhile.
fn take_over(mut open: ResMut<OpenScene>, mut redraw: MessageWriter<RequestRedraw>) {
    let Some(running) = &open.bypass_change_detection().running else { return };
    redraw.write(RequestRedraw);
    if !running.is_finished() {
        return;
    }
    if let Some(task) = open.running.take() {
        open.show(block_on(task));
    }
    if let Some(settled) = open.wanted.take() {
        open.check(settled);
    }
}

/// Logs what was found, and with `RUST_LOG=plumbrise=trace` the whole report.
fn tell(open: Res<OpenScene>) {
    let report = &open.rehearsal.report;
    if open.is_checking() {
        debug!("checking");
        return;
    }
    let (stops, cautions) = (report.count(Grade::Stop), report.count(Grade::Caution));
    debug!("checked: {:?}, stops {stops}, cautions {cautions}", report.verdict);
    trace!("the report:\n{}", text::render(report, text::Look { units: Units::Us, colour: false }));
}
