//! `plumbrise`: rehearse and check the standing of a pole into an energized line.
//!
//! One binary: the desktop window (feature `window`) and the headless commands, which need no display.

#![deny(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod beside_files;
mod command;
#[cfg(feature = "window")]
mod document;
#[cfg(feature = "window")]
mod field;
#[cfg(feature = "window")]
mod handle;
#[cfg(feature = "window")]
mod panel;
mod picture;
mod scene_file;
#[cfg(feature = "window")]
mod theme;
#[cfg(feature = "window")]
mod window;

use clap::Parser;
use std::process::ExitCode;

fn main() -> ExitCode {
    match command::CommandLine::try_parse() {
        Ok(line) => command::run(line),
        Err(error) => command::misread(error),
    }
}
