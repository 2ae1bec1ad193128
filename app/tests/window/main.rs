//! The window as a person meets it: the built program on a display of its own, by pointer and keys.
#![cfg(target_os = "linux")]

mod driver;
mod shot;
#[path = "../program/software.rs"]
mod software;

use driver::{Display, PARKED, TALL, WIDE, Window};
use std::fs;
use std::sync::{Mutex, PoisonError};
use std::thread::sleep;
use std::time::Duration;
use tempfile::TempDir;

const JUNIPER_LANE: &str = include_str!("../../../scenes/01_juniper_lane.ron");

/// One window at a time: two would halve the pace of both.
static TURN: Mutex<()> = Mutex::new(());

/// Does this with a display and a folder that holds a scene. Where there is no display to be had it says so, and fails where a
/// window is demanded.
fn with_a_display(does: impl FnOnce(&Display, &TempDir)) {
    let _turn = TURN.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(what) = driver::missing() {
        assert!(std::env::var_os("PLUMBRISE_MUST_DRAW").is_none(), "there is no {what}");
        eprintln!("NOT RUN: there is no {what}");
        return;
    }
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("job.ron"), JUNIPER_LANE).unwrap();
    does(&Display::start(), &folder);
}

/// What `plumbrise check` prints of the scene that is saved.
fn checked(folder: &TempDir) -> String {
    let output = driver::program(folder.path()).args(["check", "--full", "job.ron"]).output().unwrap();
    String::from_utf8(output.stdout).unwrap()
}

fn saved(folder: &TempDir) -> String {
    fs::read_to_string(folder.path().join("job.ron")).unwrap()
}

/// Looking from above, where the crane can be taken hold of.
#[track_caller]
fn find_the_crane(window: &Window) -> [i16; 2] {
    window.key("3");
    // Onto the site first: the window must know that the pointer is over no panel before something is taken hold of.
    window.point([WIDE as i16 / 2, TALL as i16 / 3]);
    window.heard();
    let mut dots = shot::dots(&window.settled());
    // In most scenes it stands somewhere about the middle.
    dots.sort_by_key(|at| (at[0] - WIDE as i16 / 2).abs() + (at[1] - TALL as i16 / 2).abs());
    let is_the_crane = |at: &&[i16; 2]| {
        let mark = window.mark();
        window.press(**at);
        window.heard();
        let taken = window.has_told(mark, "took hold of the ").is_some_and(|line| line.ends_with(" crane"));
        window.release();
        window.heard();
        taken
    };
    let found = dots.iter().find(is_the_crane);
    *found.unwrap_or_else(|| panic!("no dot of {dots:?} is the crane's; {}", driver::short(&window.log())))
}

/// Takes hold of what is there and moves it so many pixels; what was found when it was let go.
#[track_caller]
fn drag(window: &Window, from: [i16; 2], [x, y]: [i16; 2]) -> String {
    window.press(from);
    window.heard();
    for part in 1..=2 {
        window.point([from[0] + x * part / 2, from[1] + y * part / 2]);
        window.heard();
    }
    let mark = window.mark();
    window.release();
    let found = window.told(mark, "checked: ");
    window.heard();
    window.point(PARKED);
    window.heard();
    found
}

/// Undoes what was done last; what is found then.
#[track_caller]
fn undo(window: &Window) -> String {
    let mark = window.mark();
    window.key("Control_L+z");
    window.told(mark, "checked: ")
}

/// The scene as it is now is saved.
#[track_caller]
fn save(window: &Window) {
    window.key("Control_L+s");
    window.titled("job.ron - Plumbrise");
}

/// How much of the window's head is red: what says STOP there is.
fn is_red(picture: &image::RgbImage) -> bool {
    shot::in_the_head(picture, [166, 20, 40]) > 500
}

/// The number after this word.
#[track_caller]
fn number(line: &str, after: &str) -> f64 {
    let (_, rest) = line.split_once(after).unwrap_or_else(|| panic!("no {after:?} in {line}"));
    let end = rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len());
    rest[..end].parse().unwrap_or_else(|_| panic!("no number after {after:?} in {line}"))
}

#[test]
fn the_main_job_is_done_by_pointer_and_keys_and_what_is_saved_is_what_was_seen() {
    with_a_display(|display, folder| {
        let window = Window::open(display, folder, "job.ron");
        assert_eq!(window.title(), "job.ron - Plumbrise");
        let as_it_was = window.told(0, "checked: ");
        assert!(as_it_was.contains("stops 0,"), "{as_it_was}");

        // It is played: time goes on, and the picture with it.
        let (mark, before) = (window.mark(), window.picture());
        window.key("space");
        window.told(mark, "playing");
        window.shows("the picture to change", |picture| *picture != before);
        window.key("space");
        let stands = window.told(mark, "standing");
        assert!(number(&stands, ", at ") > 0.0, "{stands}");

        // To a step far on, by the timeline.
        let mark = window.mark();
        window.click([WIDE as i16 * 3 / 4, TALL as i16 - 30]);
        let step = number(&window.told(mark, "clock: step "), "clock: step ");
        assert!(step > 10.0, "step {step}");
        let mark = window.mark();
        window.key("Home");
        window.told(mark, "step 1, ");

        // The crane is moved away from the line: it is found at once what that does. Nothing is written over the file.
        let crane = find_the_crane(&window);
        let found = drag(&window, crane, [0, 60]);
        assert!(found.contains("Stop, ") && !found.contains("stops 0,"), "{found}");
        window.titled("\u{2022} job.ron - Plumbrise");
        window.shows("STOP in the head of the window", is_red);
        assert!(saved(folder) == JUNIPER_LANE, "the file was written without being asked for");
        let found = undo(&window);
        assert!(found.ends_with(as_it_was.split_once("checked: ").unwrap().1), "{found}, but it was {as_it_was}");
        window.titled("job.ron - Plumbrise");
        window.shows("no STOP in the head of the window", |picture| !is_red(picture));

        // Moved again, and saved.
        let mark = window.mark();
        drag(&window, crane, [0, 12]);
        window.titled("\u{2022} job.ron - Plumbrise");
        save(&window);
        let (first, report) = (saved(folder), checked(folder));
        assert!(first != JUNIPER_LANE);
        let log = window.log();
        assert!(log[mark..].contains(report.trim_end()), "the window does not say of the saved file what check says");
        window.close();

        // Opened again, it is the same.
        let window = Window::open(display, folder, "job.ron");
        assert!(window.log().contains(report.trim_end()), "the file opened again is not what was saved");
        let crane = find_the_crane(&window);
        drag(&window, crane, [30, 0]);
        save(&window);
        assert!(saved(folder) != first);
        undo(&window);
        window.titled("\u{2022} job.ron - Plumbrise");
        save(&window);
        assert!(saved(folder) == first, "undo does not bring the file back");
        window.close();
        assert!(!folder.path().join("job.ron.unsaved").exists(), "all was saved");
    });
}

#[test]
fn a_window_that_is_left_alone_draws_nothing() {
    with_a_display(|display, folder| {
        let window = Window::open(display, folder, "job.ron");
        for key in ["F2", "F3", "F4"] {
            window.key(key);
            window.settled();
            // A few frames that the last key brought about may still come.
            sleep(Duration::from_secs(5));
            let mark = window.mark();
            sleep(Duration::from_secs(6));
            assert_eq!(window.has_told(mark, "a frame"), None, "after {key}");
        }
        window.close();
    });
}

#[test]
fn the_window_looks_as_approved() {
    with_a_display(|display, folder| {
        let window = Window::open(display, folder, "job.ron");
        let mut unlike = Vec::new();
        for (name, key) in [("plan", "F2"), ("brief", "F3"), ("check", "F4")] {
            window.key(key);
            unlike.extend(shot::held_against_approved(name, &window.settled()).err());
        }
        window.close();
        assert!(unlike.is_empty(), "{}", unlike.join("\n"));
    });
}
