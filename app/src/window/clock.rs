//! Rehearsal time: play, pause, speed, step to step.

use super::OpenScene;
use super::schedule::{Frame, Input};
use crate::panel::timeline::SPEEDS;
use bevy::prelude::*;
use bevy::window::RequestRedraw;
use bevy_egui::input::egui_wants_any_keyboard_input;

/// Rehearsal time, and how it goes on.
#[derive(Resource)]
pub struct Clock {
    /// Seconds since the job began.
    pub time_s: f64,
    /// The step that is shown where several stand at this very time.
    pub step: Option<usize>,
    pub playing: bool,
    /// Seconds of the job per second watched.
    pub speed: f64,
    pub stop_at_holds: bool,
}

impl Default for Clock {
    fn default() -> Self {
        Self { time_s: 0.0, step: Some(0), playing: false, speed: SPEEDS[2], stop_at_holds: true }
    }
}

impl Clock {
    /// Goes to a time and stands there.
    pub fn go(&mut self, time_s: f64) {
        (self.time_s, self.step, self.playing) = (time_s, None, false);
    }

    /// Goes to the beginning of a step and stands there.
    pub fn go_to_step(&mut self, open: &OpenScene, step: usize) {
        if let Some(row) = open.rehearsal.report.steps.get(step) {
            (self.time_s, self.step, self.playing) = (row.from_s, Some(step), false);
        }
    }

    /// Plays on; from the beginning where the end was reached.
    pub fn play(&mut self, end_s: f64) {
        if self.time_s >= end_s {
            self.time_s = 0.0;
        }
        (self.step, self.playing) = (None, true);
    }

    pub fn step_shown(&self, open: &OpenScene) -> usize {
        self.step.unwrap_or_else(|| open.rehearsal.step_at(self.time_s))
    }

    /// Goes on for `watched_s`, but not past the end. Where it is to stop at hold points, given as step and time, not past
    /// the next of them.
    fn advance(&mut self, watched_s: f64, end_s: f64, holds: impl Iterator<Item = (usize, f64)>) {
        let mut to_s = self.time_s + watched_s * self.speed;
        let ahead = holds.filter(|&(_, hold_s)| hold_s > self.time_s && hold_s <= to_s);
        let next = ahead.min_by(|a, b| a.1.total_cmp(&b.1)).filter(|_| self.stop_at_holds);
        if let Some((step, hold_s)) = next {
            to_s = hold_s;
            (self.step, self.playing) = (Some(step), false);
        }
        if to_s >= end_s {
            to_s = end_s;
            self.playing = false;
        }
        self.time_s = to_s;
    }
}

pub struct ClockPlugin;

impl Plugin for ClockPlugin {
    fn build(&self, app: &mut App) {
        let keys = keys.run_if(not(egui_wants_any_keyboard_input));
        app.add_systems(PreUpdate, (keys, run).chain().in_set(Input::Time))
            .add_systems(Update, tell.run_if(resource_changed::<Clock>).in_set(Frame::Tell));
    }
}

/// Logs which step is shown, and whether time goes on.
fn tell(clock: Res<Clock>, open: Res<OpenScene>, mut told: Local<Option<(usize, bool)>>) {
    let now = (clock.step_shown(&open), clock.playing);
    if told.replace(now) != Some(now) {
        debug!("step {}, {}, at {:.1} s", now.0 + 1, if now.1 { "playing" } else { "standing" }, clock.time_s);
    }
}

/// Lets time go on while it plays.
fn run(mut clock: ResMut<Clock>, open: Res<OpenScene>, time: Res<Time>, mut redraw: MessageWriter<RequestRedraw>) {
    // An edit may have made the job shorter.
    if clock.time_s > open.rehearsal.end_s() {
        clock.go(open.rehearsal.end_s());
    }
    if !clock.playing {
        return;
    }
    let holds = open.rehearsal.hold_points().iter().map(|hold| (hold.step, hold.time_s));
    // The crane does not jump where a frame comes late.
    clock.advance(time.delta_secs_f64().min(0.1), open.rehearsal.end_s(), holds);
    redraw.write(RequestRedraw);
}

fn keys(mut clock: ResMut<Clock>, open: Res<OpenScene>, keys: Res<ButtonInput<KeyCode>>) {
    let end_s = open.rehearsal.end_s();
    let step = clock.step_shown(&open);
    if keys.just_pressed(KeyCode::Space) {
        if clock.playing { clock.playing = false } else { clock.play(end_s) }
    } else if keys.just_pressed(KeyCode::ArrowRight) {
        clock.go_to_step(&open, step + 1);
    } else if keys.just_pressed(KeyCode::ArrowLeft) {
        clock.go_to_step(&open, step.saturating_sub(1));
    } else if keys.just_pressed(KeyCode::Home) {
        clock.go_to_step(&open, 0);
    } else if keys.just_pressed(KeyCode::End) {
        clock.go(end_s);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn playing_stops_at_a_hold_point_and_goes_on_when_asked() {
        let mut clock = Clock { playing: true, speed: 10.0, ..Clock::default() };
        clock.advance(1.0, 100.0, [(2, 5.0), (4, 50.0)].into_iter());
        assert_eq!((clock.time_s, clock.playing, clock.step), (5.0, false, Some(2)));
        clock.playing = true;
        clock.advance(1.0, 100.0, [(2, 5.0), (4, 50.0)].into_iter());
        assert_eq!((clock.time_s, clock.playing), (15.0, true));
    }

    #[test]
    fn playing_ends_with_the_job() {
        let mut clock = Clock { playing: true, speed: 10.0, stop_at_holds: false, ..Clock::default() };
        clock.advance(60.0, 100.0, [(2, 5.0)].into_iter());
        assert_eq!((clock.time_s, clock.playing), (100.0, false));
    }
}
