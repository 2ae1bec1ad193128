//! The command line: what a person types and what comes back.

use crate::scene_file::{self, Unusable};
use clap::{Parser, Subcommand, ValueEnum};
use scene_core::check::check;
use scene_core::finding::Grade;
use scene_core::report::Report;
use scene_core::report::text::{self, Look};
use scene_core::site::Site;
use std::io::{self, IsTerminal, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

const NO_STOP: u8 = 0;
const STOP_FOUND: u8 = 1;
const UNUSABLE: u8 = 2;

#[derive(Parser)]
#[command(
    name = "plumbrise",
    version,
    about = "Rehearse and check the standing of a pole into a line that stays energized.",
    long_about = "Plumbrise reads a scene: the line, the pole, the crane and the sequence of moves, written in one file. It works out \
                  what the pole weighs and how it hangs, how the wires hang, whether each move is within the load chart, and how near \
                  boom, hoist line, hook, rigging and pole come to every wire at every instant, proven over the continuous motion.\n\n\
                  It looks for trouble. The best it ever says is that no stop was found in what was checked; the report lists what was \
                  assumed and what was not checked. Local codes, the utility's rules, the makers' charts and licensed practice govern.",
    after_help = "Exit status: 0 no stop found in what was checked, 1 at least one stop, 2 input that cannot be used.",
    args_conflicts_with_subcommands = true,
    disable_help_subcommand = true
)]
pub struct Line {
    #[command(subcommand)]
    command: Option<Command>,
    /// Scene to open in the window; the first example when none is named
    scene: Option<PathBuf>,
}

#[derive(Subcommand)]
enum Command {
    /// Say what is wrong with the pick: where, when, by how much, under which rule
    Check {
        /// Scene files (.ron)
        #[arg(required = true)]
        scenes: Vec<PathBuf>,
        /// Print one JSON object per scene instead of text
        #[arg(long)]
        json: bool,
        /// Feet and pounds, or metres and kilograms
        #[arg(long, value_enum, default_value_t = Units::Us)]
        units: Units,
    },
    /// Print the geometry over time as JSON lines, for checking by other programs
    Trace {
        /// Scene file (.ron)
        scene: PathBuf,
        /// Seconds between instants; the start and end of every move are always among them
        #[arg(long, default_value_t = 1.0, value_parser = interval)]
        every: f64,
    },
    /// Write a small commented scene to start from; never over an existing file
    New {
        /// File to write, for instance job.ron
        file: PathBuf,
    },
}

#[derive(Clone, Copy, ValueEnum)]
enum Units {
    Us,
    Si,
}

fn interval(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(seconds) if (0.01..=3600.0).contains(&seconds) => Ok(seconds),
        _ => Err("expected seconds from 0.01 to 3600".to_owned()),
    }
}

/// Runs what was asked for and gives the exit status.
pub fn run(line: Line) -> ExitCode {
    let status = match line.command {
        Some(Command::Check { scenes, json, units }) => check_scenes(&scenes, json, units),
        Some(Command::Trace { scene, every }) => trace(&scene, every),
        Some(Command::New { file }) => new(&file),
        None => open(line.scene.as_deref()),
    };
    ExitCode::from(status)
}

fn check_scenes(scenes: &[PathBuf], json: bool, units: Units) -> u8 {
    let mut status = NO_STOP;
    for (nth, path) in scenes.iter().enumerate() {
        let outcome = match scene_file::open(path) {
            Ok(site) => {
                if nth > 0 && !json {
                    say("\n");
                }
                let report = check(&site);
                say(&if json { report.to_json() } else { text::render(&report, look(units)) });
                status_of(&report)
            }
            Err(unusable) => refuse(&unusable),
        };
        status = status.max(outcome);
    }
    status
}

fn trace(path: &Path, every: f64) -> u8 {
    match scene_file::open(path) {
        Ok(site) => {
            let mut out = io::BufWriter::new(io::stdout().lock());
            for line in scene_core::trace::lines(&site, every) {
                if writeln!(out, "{line}").is_err() {
                    return NO_STOP; // the reader has seen enough
                }
            }
            NO_STOP
        }
        Err(unusable) => refuse(&unusable),
    }
}

fn new(path: &Path) -> u8 {
    match scene_file::write_new(path, scene_core::scene::template()) {
        Ok(()) => {
            say(&format!("Wrote {0}. Change it to your job, then: plumbrise check {0}\n", path.display()));
            NO_STOP
        }
        Err(unusable) => refuse(&unusable),
    }
}

/// Opens the window, or, where there is no display, prints the report.
fn open(path: Option<&Path>) -> u8 {
    let opened = match path {
        Some(path) => scene_file::open(path),
        None => scene_file::build(scene_file::FIRST_EXAMPLE.0, scene_file::FIRST_EXAMPLE.1.as_bytes()),
    };
    match opened {
        Ok(site) => show(&site),
        Err(unusable) => refuse(&unusable),
    }
}

fn show(site: &Site) -> u8 {
    #[cfg(feature = "window")]
    if has_display() {
        return match crate::window::open(site) {
            Ok(()) => NO_STOP,
            Err(why) => {
                complain(&format!("The window could not be opened: {why}. Here is the report instead.\n"));
                print_report(site)
            }
        };
    }
    let status = print_report(site);
    say(if cfg!(feature = "window") {
        "\nThere is no display here, so no window was opened.\n"
    } else {
        "\nThis build has no window (it was built without the feature `window`).\n"
    });
    status
}

#[cfg(feature = "window")]
fn has_display() -> bool {
    let set = |name| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    cfg!(any(windows, target_os = "macos")) || set("DISPLAY") || set("WAYLAND_DISPLAY")
}

fn print_report(site: &Site) -> u8 {
    let report = check(site);
    say(&text::render(&report, look(Units::Us)));
    status_of(&report)
}

fn status_of(report: &Report) -> u8 {
    if report.count(Grade::Stop) > 0 { STOP_FOUND } else { NO_STOP }
}

fn look(units: Units) -> Look {
    let colour = io::stdout().is_terminal() && std::env::var_os("NO_COLOR").is_none();
    match units {
        Units::Us => Look { units: scene_core::quantity::show::Units::Us, colour },
        Units::Si => Look { units: scene_core::quantity::show::Units::Si, colour },
    }
}

fn refuse(unusable: &Unusable) -> u8 {
    complain(&format!("{unusable}\n"));
    UNUSABLE
}

/// Prints to standard output; a reader that has gone away (`| head`) is no fault.
fn say(text: &str) {
    let _ = io::stdout().lock().write_all(text.as_bytes());
}

fn complain(text: &str) {
    let _ = io::stderr().lock().write_all(text.as_bytes());
}
