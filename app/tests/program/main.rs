//! The program as a person or another program meets it: the built binary, without a display.

mod beside;
mod check;
mod display;
mod faults;
mod help;
mod lists;
mod new;
mod picture;
mod report_json;
#[cfg(feature = "window")]
mod software;
mod trace;
mod words;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use tempfile::TempDir;

/// A scene started from the template.
const ALDER_ROAD: &str = include_str!("alder.ron");
const JUNIPER_LANE: &str = include_str!("../../../scenes/01_juniper_lane.ron");

/// What one run gave back.
struct Run {
    status: i32,
    out: String,
    err: String,
}

/// The program in an empty folder of its own, with no display and no terminal.
struct Bench {
    folder: TempDir,
}

impl Bench {
    fn new() -> Self {
        Self { folder: TempDir::new().unwrap() }
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn put(&self, name: &str, bytes: impl AsRef<[u8]>) {
        fs::write(self.path(name), bytes).unwrap();
    }

    fn files(&self) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(self.folder.path())
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    fn command(&self, arguments: &[&str]) -> Command {
        command(self.folder.path(), arguments)
    }

    #[track_caller]
    fn run(&self, arguments: &[&str]) -> Run {
        Run::of(self.command(arguments).output().unwrap())
    }
}

fn command(folder: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_plumbrise"));
    command.current_dir(folder).args(arguments).env_remove("DISPLAY").env_remove("WAYLAND_DISPLAY");
    command
}

impl Run {
    #[track_caller]
    fn of(output: Output) -> Self {
        Self {
            status: output.status.code().expect("the program was ended from outside"),
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
        }
    }
}

/// A scene with one thing changed; the change must find its place.
#[track_caller]
fn changed(scene: &str, from: &str, to: &str) -> String {
    assert!(scene.contains(from), "the scene no longer holds {from}");
    scene.replacen(from, to, 1)
}

/// A scene in which the first field of this name has another text.
#[track_caller]
fn set(scene: &str, field: &str, text: &str) -> String {
    let start = scene.find(&format!("{field}: \"")).unwrap_or_else(|| panic!("the scene has no {field}"));
    let (before, rest) = scene.split_at(start + field.len() + 3);
    let (_, after) = rest.split_once('"').unwrap();
    format!("{before}{text}\"{after}")
}
