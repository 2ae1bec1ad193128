//! The command line: what a person types, and what comes back.

mod pole_figures;

use crate::picture::{self, Moment, NoPicture, Size, Viewpoint};
use crate::scene_file::{self, Unusable};
use clap::builder::{PossibleValue, PossibleValuesParser};
use clap::error::{ContextKind, ErrorKind};
use clap::{Parser, Subcommand, ValueEnum};
use scene_core::check::{check, check_and_sweep};
use scene_core::finding::Grade;
use scene_core::outcome::Report;
use scene_core::quantity::show;
use scene_core::report::json;
use scene_core::report::listing::{self, Listed};
use scene_core::report::text::{self, Look};
use scene_core::scene::Scene;
use scene_core::scene::kinds::KINDS;
use scene_core::site::Site;
use std::io::{self, IsTerminal, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::Instant;

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
    after_help = "To start: plumbrise new job.ron, change it to your job, plumbrise check job.ron.\n\n\
                  Exit status: 0 no stop found in what was checked, 1 at least one stop, 2 input that cannot be used.",
    args_conflicts_with_subcommands = true,
    disable_help_subcommand = true
)]
pub struct CommandLine {
    #[command(subcommand)]
    command: Option<Command>,
    /// Scene to open in the window; the first example when none is named
    scene: Option<PathBuf>,
}

#[derive(Subcommand)]
enum Command {
    /// Say what is wrong with the pick: where, when, by how much, under which rule
    ///
    /// Exit status: 0 no stop found in what was checked, 1 at least one stop, 2 input that cannot be used; of several
    /// scenes the worst.
    Check {
        /// Scene files (.ron)
        #[arg(required = true, value_name = "SCENE")]
        scenes: Vec<PathBuf>,
        /// Print one JSON object per scene instead of text, always in meters, kilograms and newtons
        #[arg(long)]
        json: bool,
        /// Print everything: every pair, table, answer, assumption, and what was not checked
        #[arg(long, conflicts_with = "json")]
        full: bool,
        /// Units of the text: us is feet and pounds, si is meters and kilograms
        #[arg(long, value_enum, default_value_t = Units::Us)]
        units: Units,
    },
    /// Print the geometry over time as JSON lines, for checking by other programs
    ///
    /// The first line holds the wires as points, then one line per instant: joints, shapes and gaps. It judges nothing;
    /// it ends with status 1 when the motion could not be carried on to the last step.
    Trace {
        /// Scene file (.ron)
        scene: PathBuf,
        /// Seconds between instants; the start and end of every move are always among them
        #[arg(long, value_name = "SECONDS", default_value_t = 1.0, value_parser = interval)]
        every: f64,
    },
    /// Draw the site at an instant into a PNG file; needs no display, but a graphics device, in software too
    ///
    /// Without --step and --time it is drawn when the pair that governs has the least left. Under it stand scene, step and
    /// what governs with its margin. It judges nothing: exit status 0 the picture is written, 1 the motion stops before that
    /// instant, 2 it cannot be drawn.
    Picture {
        /// Scene file (.ron)
        scene: PathBuf,
        /// Picture to write, for instance job.png; one that is there is replaced
        #[arg(short, long, value_name = "FILE")]
        output: PathBuf,
        /// Draw the beginning of this step, counted from 1
        #[arg(long, value_name = "N", conflicts_with = "time")]
        step: Option<usize>,
        /// Draw this time since the job began, minutes and seconds
        #[arg(long, value_name = "MM:SS", value_parser = picture::time)]
        time: Option<f64>,
        /// Where the camera stands
        #[arg(long, value_enum, value_name = "NAME", default_value_t = Viewpoint::Side)]
        view: Viewpoint,
        /// Width and height in pixels
        #[arg(long, value_name = "WxH", value_parser = picture::size, default_value = "1280x720")]
        size: Size,
    },
    /// Tell how long frames take while the whole job is played into an image; for developers
    #[command(hide = true)]
    Frames {
        /// Scene file (.ron)
        scene: PathBuf,
        /// How many, after the first
        #[arg(long, value_name = "N", default_value_t = 300, value_parser = clap::value_parser!(u32).range(1..=100_000))]
        count: u32,
        /// Width and height in pixels
        #[arg(long, value_name = "WxH", value_parser = picture::size, default_value = "1920x1080")]
        size: Size,
    },
    /// Say what a bare wood pole weighs, where it balances and may be choked, and how deep it sets; no scene is needed
    ///
    /// For instance: plumbrise pole 45 3 "southern pine". Every range errs to the careful side.
    Pole {
        /// Length in feet, or with its unit
        length: String,
        /// Class, such as 3 or H1
        class: String,
        /// Species; plumbrise list species shows all
        species: String,
        /// What its ticket or the indicator says, such as "1250 lb"
        #[arg(long, value_name = "WEIGHT", value_parser = pole_figures::weight)]
        weighs: Option<f64>,
        /// How much larger around than the least of its class it may be
        #[arg(long, value_name = "PERCENT", default_value = "6 %", value_parser = pole_figures::oversize)]
        oversize: f64,
        /// Units of the text: us is feet and pounds, si is meters and kilograms
        #[arg(long, value_enum, default_value_t = Units::Us)]
        units: Units,
    },
    /// List what a scene can name, each with its source
    List {
        /// What to list
        #[arg(value_parser = PossibleValuesParser::new(Listed::ALL.map(|(word, _)| word)))]
        what: String,
        /// Units of the text: us is feet and pounds, si is meters and kilograms
        #[arg(long, value_enum, default_value_t = Units::Us)]
        units: Units,
    },
    /// Write a small commented scene to start from; never over an existing file
    ///
    /// It is open only in what the day and the crew must answer; change its figures to those of your job.
    New {
        /// File to write, for instance job.ron
        file: PathBuf,
        /// Kind of job
        #[arg(long, value_name = "KIND", default_value = KINDS[0].word, value_parser = kinds())]
        kind: String,
    },
}

#[derive(Clone, Copy, ValueEnum)]
enum Units {
    Us,
    Si,
}

impl Units {
    fn shown(self) -> show::Units {
        match self {
            Self::Us => show::Units::Us,
            Self::Si => show::Units::Si,
        }
    }
}

fn interval(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(seconds) if (0.01..=3600.0).contains(&seconds) => Ok(seconds),
        _ => Err("expected seconds from 0.01 to 3600".to_owned()),
    }
}

/// Says what is wrong with a command line that cannot be understood. Help and version come this way too.
pub fn misread(error: clap::Error) -> ExitCode {
    let of_an_option = error.get(ContextKind::InvalidArg).is_some_and(|argument| argument.to_string().starts_with('-'));
    if error.kind() == ErrorKind::ArgumentConflict && !of_an_option {
        complain(
            "Found more than one scene; expected one, or first a command: check, pole, list, trace, picture or new. See plumbrise --help\n",
        );
        return ExitCode::from(UNUSABLE);
    }
    error.exit()
}

/// Runs what was asked for. Returns the exit status.
pub fn run(line: CommandLine) -> ExitCode {
    let began = Instant::now();
    let status = match line.command {
        Some(Command::Check { scenes, json, full, units }) => {
            let told = if json {
                Told::Json
            } else if full {
                Told::Full
            } else {
                Told::Short
            };
            check_scenes(&scenes, told, units)
        }
        Some(Command::Trace { scene, every }) => trace(&scene, every),
        Some(Command::Frames { scene, count, size }) => match frames(&scene, count, size, began) {
            Ok(said) => say(&said),
            Err(why) => no_picture(&why),
        },
        Some(Command::Picture { scene, output, step, time, view, size }) => {
            let moment = match (step, time) {
                (Some(step), _) => Moment::Step(step),
                (None, Some(time_s)) => Moment::Time(time_s),
                (None, None) => Moment::Governing,
            };
            draw(&scene, &output, moment, view, size)
        }
        Some(Command::Pole { length, class, species, weighs, oversize, units }) => {
            match pole_figures::sheet(&length, class, species, weighs, oversize, units.shown()) {
                Ok(text) => say(&text),
                Err(why) => {
                    complain(&why);
                    UNUSABLE
                }
            }
        }
        Some(Command::List { what, units }) => match Listed::ALL.iter().find(|(word, _)| *word == what) {
            Some((_, listed)) => say(&listing::render(*listed, units.shown())),
            None => UNUSABLE,
        },
        Some(Command::New { file, kind }) => new(&file, &kind),
        None => open(line.scene.as_deref()),
    };
    ExitCode::from(status)
}

/// How a report is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Told {
    Short,
    Full,
    Json,
}

/// Checks scenes and returns the worst status of all. The text of several scenes comes under the name of each file, with a
/// count at the end.
fn check_scenes(scenes: &[PathBuf], told: Told, units: Units) -> u8 {
    let headed = scenes.len() > 1 && told != Told::Json;
    let mut counts = [0; 3];
    let mut status = NO_STOP;
    for path in scenes {
        let outcome = match scene_file::open(path) {
            Ok(site) => {
                let report = if told == Told::Json { check_and_sweep(&site) } else { check(&site) };
                let text = match told {
                    Told::Json => json::render(&report),
                    Told::Full => text::render(&report, look(units)),
                    Told::Short => text::render_short(&report, look(units)),
                };
                let heading = if headed { format!("==== {}\n", path.display()) } else { String::new() };
                let end = if headed { "\n" } else { "" };
                say(&format!("{heading}{text}{end}")).max(status_of(&report))
            }
            Err(unusable) => refuse(&unusable),
        };
        counts[usize::from(outcome.min(UNUSABLE))] += 1;
        status = status.max(outcome);
    }
    if headed {
        let [without, stopped, unusable] = counts;
        let count = format!(
            "==== {} scenes: {stopped} with a stop, {without} without one in what was checked, {unusable} that cannot be used\n",
            scenes.len()
        );
        status = status.max(say(&count));
    }
    status
}

fn trace(path: &Path, every: f64) -> u8 {
    match scene_file::open(path) {
        Ok(site) => {
            let mut out = io::BufWriter::new(io::stdout().lock());
            let mut lines = scene_core::trace::lines(&site, every);
            let printed = lines.try_for_each(|line| writeln!(out, "{line}")).and_then(|()| out.flush());
            written(printed).max(told_of_the_end(&site))
        }
        Err(unusable) => refuse(&unusable),
    }
}

/// Says so where a trace ends before the last step.
fn told_of_the_end(site: &Site) -> u8 {
    let Some(step) = scene_core::trace::first_step_left_out(site) else { return NO_STOP };
    let name = site.steps.get(step).map_or("", |step| step.name.as_str());
    complain(&format!("The motion stops before step {} \"{name}\"; plumbrise check says why.\n", step + 1));
    STOP_FOUND
}

fn draw(scene: &Path, output: &Path, moment: Moment, view: Viewpoint, size: Size) -> u8 {
    let drawn = picture::named_png(output).and_then(|()| png(scene, moment, view, size));
    match drawn.and_then(|bytes| scene_file::write_anew(output, &bytes).map_err(NoPicture::File)) {
        Ok(()) => NO_STOP,
        Err(why) => no_picture(&why),
    }
}

fn no_picture(why: &NoPicture) -> u8 {
    complain(&format!("{why}\n"));
    if why.is_finding() { STOP_FOUND } else { UNUSABLE }
}

#[cfg(feature = "window")]
fn png(path: &Path, moment: Moment, view: Viewpoint, size: Size) -> Result<Vec<u8>, NoPicture> {
    let document = crate::document::Document::open(path).map_err(NoPicture::File)?;
    crate::window::offscreen::png(document, moment, view, size)
}

#[cfg(not(feature = "window"))]
fn png(path: &Path, _: Moment, _: Viewpoint, _: Size) -> Result<Vec<u8>, NoPicture> {
    scene_file::open(path).map_err(NoPicture::File)?;
    Err(NoPicture::NoWindow)
}

/// The kinds of job, each with what it is.
fn kinds() -> PossibleValuesParser {
    PossibleValuesParser::new(KINDS.map(|kind| PossibleValue::new(kind.word).help(kind.about)))
}

fn new(path: &Path, kind: &str) -> u8 {
    let text = KINDS.iter().find(|known| known.word == kind).map_or(scene_core::scene::template(), |kind| kind.text);
    match scene_file::write_new(path, text) {
        Ok(()) => say(&format!("Wrote {0}. Change it to your job, then run: plumbrise check {0}\n", path.display())),
        Err(unusable) => refuse(&unusable),
    }
}

#[cfg(feature = "window")]
fn frames(path: &Path, count: u32, size: Size, began: Instant) -> Result<String, NoPicture> {
    let document = crate::document::Document::open(path).map_err(NoPicture::File)?;
    crate::window::offscreen::frames(document, count, size, began)
}

#[cfg(not(feature = "window"))]
fn frames(_: &Path, _: u32, _: Size, _: Instant) -> Result<String, NoPicture> {
    Err(NoPicture::NoWindow)
}

/// Opens the window, or, where there is no display, prints the report.
fn open(path: Option<&Path>) -> u8 {
    let (name, bytes) = match path {
        Some(path) if !path.exists() && path.extension().is_none() => {
            let name = path.display();
            complain(&format!(
                "Found \"{name}\"; expected a scene file or a command: check, pole, list, trace, picture or new. See plumbrise --help\n"
            ));
            return UNUSABLE;
        }
        Some(path) => (path, scene_file::read(path)),
        None => (Path::new(scene_file::FIRST_EXAMPLE.0), Ok(scene_file::FIRST_EXAMPLE.1.as_bytes().to_vec())),
    };
    let built = bytes.and_then(|bytes| Ok((scene_file::build(&name.display().to_string(), &bytes)?, bytes)));
    let (scene, bytes) = match built {
        Ok(built) => built,
        Err(unusable) => return refuse(&unusable),
    };
    if let Some(status) = in_window(name, path.is_some(), &scene, &bytes) {
        return status;
    }
    let status = print_report(scene.as_site());
    let drawn = path.map_or("job.ron".into(), Path::to_string_lossy);
    complain(&if cfg!(feature = "window") {
        format!(
            "\nThere is no display here, so no window was opened; this is the report. To see the site drawn: \
             plumbrise picture {drawn} -o job.png\n"
        )
    } else {
        "\nThere is no window in this build (made without the feature `window`); this is the report.\n".to_owned()
    });
    if path.is_none() {
        complain("No scene was named, so it is the example. Start one of your own first: plumbrise new job.ron\n");
    }
    status
}

/// Opens the window, if there is a display. Returns `None` where there is none.
#[cfg(feature = "window")]
fn in_window(name: &Path, is_file: bool, scene: &Scene, bytes: &[u8]) -> Option<u8> {
    let set = |name| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    if !(cfg!(any(windows, target_os = "macos")) || set("DISPLAY") || set("WAYLAND_DISPLAY")) {
        return None;
    }
    let document = crate::document::Document::of(name, is_file, scene.clone(), bytes);
    Some(match crate::window::open(document) {
        Ok(()) => NO_STOP,
        Err(why) => {
            complain(&format!("The window could not be opened: {why}. Here is the report instead.\n"));
            print_report(scene.as_site())
        }
    })
}

#[cfg(not(feature = "window"))]
fn in_window(_: &Path, _: bool, _: &Scene, _: &[u8]) -> Option<u8> {
    None
}

fn print_report(site: &Site) -> u8 {
    let report = check(site);
    say(&text::render_short(&report, look(Units::Us))).max(status_of(&report))
}

fn status_of(report: &Report) -> u8 {
    if report.count(Grade::Stop) > 0 { STOP_FOUND } else { NO_STOP }
}

fn look(units: Units) -> Look {
    let units = units.shown();
    let unset = |name| std::env::var_os(name).is_none_or(|value| value.is_empty());
    Look { units, colour: io::stdout().is_terminal() && unset("NO_COLOR") }
}

fn refuse(unusable: &Unusable) -> u8 {
    complain(&format!("{unusable}\n"));
    UNUSABLE
}

/// Prints to standard output.
fn say(text: &str) -> u8 {
    let mut out = io::stdout().lock();
    written(out.write_all(text.as_bytes()).and_then(|()| out.flush()))
}

/// The exit status that follows from printing. A reader that went away (`| head`) is no fault; a full disk is.
fn written(outcome: io::Result<()>) -> u8 {
    match outcome {
        Err(why) if why.kind() != io::ErrorKind::BrokenPipe => {
            complain(&format!("The output is not whole: {why}\n"));
            UNUSABLE
        }
        _ => NO_STOP,
    }
}

fn complain(text: &str) {
    let _ = io::stderr().lock().write_all(text.as_bytes());
}
