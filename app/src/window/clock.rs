//! Rehearsal time: play, pause, speed, step to step.

use super::Open;
use bevy::prelude::*;
use bevy::window::RequestRedraw;
use bevy_egui::input::egui_wants_any_keyboard_input;

/// Seconds of the job per second watched.
pub const SPEEDS: [f64; 5] = [1.0, 5.0, 20.0, 60.0, 200.0];

#[derive(Resource)]
pub struct Clock {
    pub time_s: f64,
    pub playing: bool,
    pub speed: f64,
    pub stop_at_holds: bool,
}

impl Default for Clock {
    fn default() -> Self {
        Self { time_s: 0.0, playing: false, speed: SPEEDS[2], stop_at_holds: true }
    }
}

impl Clock {
    /// Goes on for `watched_s`, but not past the end nor past the next of the hold points when it is to stop there.
    fn advance(&mut self, watched_s: f64, end_s: f64, holds_s: impl Iterator<Item = f64>) {
        let mut to_s = self.time_s + watched_s * self.speed;
        let next_hold = holds_s.filter(|&hold_s| hold_s > self.time_s && hold_s <= to_s).fold(f64::INFINITY, f64::min);
        if self.stop_at_holds && next_hold.is_finite() {
            to_s = next_hold;
            self.playing = false;
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
        app.add_systems(PreUpdate, keys.run_if(not(egui_wants_any_keyboard_input))).add_systems(PreUpdate, run);
    }
}

fn run(mut clock: ResMut<Clock>, open: Res<Open>, time: Res<Time>, mut redraw: MessageWriter<RequestRedraw>) {
    if !clock.playing {
        return;
    }
    let holds = open.rehearsal.hold_points().iter().map(|hold| hold.time_s);
    // A frame that came late does not make the crane jump.
    clock.advance(time.delta_secs_f64().min(0.1), open.rehearsal.end_s(), holds);
    redraw.write(RequestRedraw);
}

fn keys(mut clock: ResMut<Clock>, open: Res<Open>, keys: Res<ButtonInput<KeyCode>>) {
    let end_s = open.rehearsal.end_s();
    if keys.just_pressed(KeyCode::Space) {
        if clock.time_s >= end_s {
            clock.time_s = 0.0;
        }
        clock.playing = !clock.playing;
    }
    let starts = || open.rehearsal.report.steps.iter().map(|step| step.from_s);
    let to = if keys.just_pressed(KeyCode::ArrowRight) {
        Some(starts().find(|&s| s > clock.time_s + 1e-6).unwrap_or(end_s))
    } else if keys.just_pressed(KeyCode::ArrowLeft) {
        Some(starts().filter(|&s| s < clock.time_s - 1e-6).last().unwrap_or(0.0))
    } else if keys.just_pressed(KeyCode::Home) {
        Some(0.0)
    } else if keys.just_pressed(KeyCode::End) {
        Some(end_s)
    } else {
        None
    };
    if let Some(to_s) = to {
        clock.time_s = to_s;
        clock.playing = false;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn playing_stops_at_a_hold_point_and_goes_on_when_asked() {
        let mut clock = Clock { playing: true, speed: 10.0, ..Clock::default() };
        clock.advance(1.0, 100.0, [5.0, 50.0].into_iter());
        assert_eq!((clock.time_s, clock.playing), (5.0, false));
        clock.playing = true;
        clock.advance(1.0, 100.0, [5.0, 50.0].into_iter());
        assert_eq!((clock.time_s, clock.playing), (15.0, true));
    }

    #[test]
    fn playing_ends_with_the_job() {
        let mut clock = Clock { playing: true, speed: 10.0, stop_at_holds: false, ..Clock::default() };
        clock.advance(60.0, 100.0, [5.0].into_iter());
        assert_eq!((clock.time_s, clock.playing), (100.0, false));
    }
}
