//! The scene that is open, and the check of it: at once where that is quick, beside the frame where it is not.

use crate::document::{Document, Edit};
use crate::panel::OverTime;
use bevy::prelude::*;
use bevy::tasks::{AsyncComputeTaskPool, Task, block_on};
use bevy::window::RequestRedraw;
use scene_core::finding::Grade;
use scene_core::quantity::show::Units;
use scene_core::rehearsal::{Rehearsal, Shape};
use scene_core::report::text;
use std::time::{Duration, Instant};

/// A check that took no longer than this is done within the frame.
const AT_ONCE: Duration = Duration::from_millis(60);
/// Pairs along the timeline, and instants of each.
const LINES: usize = 4;
const SAMPLES: usize = 400;

/// The scene that is open.
#[derive(Resource)]
pub struct Open {
    pub document: Document,
    /// Of the document as it was checked last; see [`Open::is_checking`].
    pub rehearsal: Rehearsal,
    /// What was done last, and the governing margin before it.
    pub before: Option<(String, f64)>,
    /// The bodies as they stood when the drag that goes on began.
    pub ghost: Vec<Shape>,
    /// Something that could not be done, and why.
    pub trouble: Option<String>,
    /// The row of the report that rules.
    pub governing: Option<usize>,
    /// That row and the next, with their margins over time as sampled.
    pub margins: Vec<OverTime>,
    took: Duration,
    running: Option<Task<Checked>>,
    /// An edit came while a check was running; whether it was over then.
    wanted: Option<bool>,
    going_on: bool,
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

impl Open {
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
            took,
            running: None,
            wanted: None,
            going_on: false,
        };
        open.governing = open.rehearsal.report.governing().map(|(row, _)| row);
        open.margins = margins;
        open
    }

    /// What is shown is of the document as it was before the last edit.
    pub fn is_checking(&self) -> bool {
        self.running.is_some() || self.wanted.is_some()
    }

    /// With `going_on` it is part of a drag, which `settle` ends.
    pub fn apply(&mut self, edit: &Edit, going_on: bool, time_s: f64) {
        let before_m = self.governing_margin_m();
        let ghost = if going_on && !self.going_on { self.rehearsal.shapes(time_s) } else { Vec::new() };
        if let Err(why) = self.document.apply(edit, going_on) {
            self.trouble = Some(why);
            return;
        }
        if !(going_on && self.going_on) {
            self.before = before_m.map(|margin_m| (edit.label.clone(), margin_m));
            self.ghost = ghost;
        }
        self.going_on = going_on;
        self.trouble = None;
        self.check(!going_on);
    }

    pub fn settle(&mut self) {
        if self.going_on {
            self.going_on = false;
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

    /// Checks the site again after an edit.
    fn check(&mut self, settled: bool) {
        if settled && let Err(why) = self.document.keep_unsaved() {
            self.trouble = Some(format!("What is not saved could not be kept beside the file: {why}"));
        }
        if self.running.is_some() {
            self.wanted = Some(settled);
        } else if self.took <= AT_ONCE {
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
        self.took = took;
    }

    /// `None` too when the path was not checked to its end: that is no margin to compare with.
    pub fn governing_margin_m(&self) -> Option<f64> {
        self.governing
            .filter(|_| self.rehearsal.stopped_at().is_none())
            .and_then(|row| self.rehearsal.report.gaps.get(row))
            .map(|row| row.margin_m)
    }
}

pub struct OpenPlugin;

impl Plugin for OpenPlugin {
    fn build(&self, app: &mut App) {
        app.add_systems(PreUpdate, take_up).add_systems(Update, tell.run_if(resource_changed::<Open>));
    }
}

/// Takes up what was checked beside the frame, and begins again when there were edits meanwhile.
fn take_up(mut open: ResMut<Open>, mut redraw: MessageWriter<RequestRedraw>) {
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

/// Into the log: what was found, and with `RUST_LOG=plumbrise=trace` the whole report.
fn tell(open: Res<Open>) {
    let report = &open.rehearsal.report;
    if open.is_checking() {
        debug!("checking");
        return;
    }
    let (stops, cautions) = (report.count(Grade::Stop), report.count(Grade::Caution));
    debug!("checked: {:?}, stops {stops}, cautions {cautions}", report.verdict);
    trace!("the report:\n{}", text::render(report, text::Look { units: Units::Us, colour: false }));
}
