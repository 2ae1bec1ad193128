//! What a picture of the site shows: which instant, from where, how large. The command line asks for it.

use crate::scene_file::Unusable;
use clap::ValueEnum;
#[cfg(feature = "window")]
use scene_core::quantity::show::show_duration;
#[cfg(feature = "window")]
use scene_core::rehearsal::Rehearsal;
use std::path::Path;

/// The largest side of a picture that every graphics device can draw, pixels.
const LARGEST: u32 = 8192;
/// In a smaller picture the legend would fill all; width and height, pixels.
const SMALLEST: [u32; 2] = [160, 120];

/// Where the camera stands, in the order of the window's number keys.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Viewpoint {
    /// From the side, the whole work
    Side,
    /// Along the line
    Line,
    /// From above
    Above,
    /// From the operator's seat
    Seat,
    /// From the observer's place; where none is stated, from under the line
    Observer,
    /// From the bucket
    Bucket,
}

#[cfg(feature = "window")]
impl Viewpoint {
    pub fn number_key(self) -> usize {
        self as usize + 1
    }
}

/// The instant that a picture shows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Moment {
    /// The instant at which the governing pair has the least left; the beginning where no pair governs.
    Governing,
    /// The beginning of a step, counted from 1.
    Step(usize),
    /// Seconds since the job began.
    Time(f64),
}

/// The size of a picture, pixels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Size {
    pub width: u32,
    pub height: u32,
}

/// Why there is no picture.
#[derive(Debug, thiserror::Error)]
pub enum NoPicture {
    #[error("{0}")]
    File(Unusable),
    #[error("This build draws no pictures (made without the feature `window`)")]
    #[cfg(not(feature = "window"))]
    NoWindow,
    #[error("Found {0}; expected the name of a picture, for instance job.png")]
    NotPng(String),
    #[cfg(feature = "window")]
    #[error("Found step {asked}; expected one of 1 to {count}")]
    NoStep { asked: usize, count: usize },
    #[cfg(feature = "window")]
    #[error("Found a time after the end of the job, which is at {end}")]
    TooLate { end: String },
    #[cfg(feature = "window")]
    #[error(
        "The motion stops before step {step} \"{name}\", so there is nothing to draw there; plumbrise check says why"
    )]
    NotPlanned { step: usize, name: String },
    #[cfg(feature = "window")]
    #[error(
        "There is no graphics device here ({0}). One in software will do; on Debian and Ubuntu it is the package \
         mesa-vulkan-drivers"
    )]
    NoDevice(String),
    #[cfg(feature = "window")]
    #[error("The picture was not complete after {0} s")]
    TooSlow(u64),
    #[cfg(feature = "window")]
    #[error("The graphics device cannot draw all of the picture: {0}")]
    Undrawable(String),
    #[cfg(feature = "window")]
    #[error("The picture could not be read back from the graphics device: {0}")]
    Unreadable(String),
}

impl NoPicture {
    /// A motion that stops is a finding; all else is input that cannot be used.
    pub fn is_finding(&self) -> bool {
        #[cfg(feature = "window")]
        if let Self::NotPlanned { .. } = self {
            return true;
        }
        false
    }
}

/// Reads a size, for instance `1280x720`.
pub fn size(text: &str) -> Result<Size, String> {
    let [least_wide, least_high] = SMALLEST;
    let sides = text.split_once('x').and_then(|(w, h)| Some((w.parse::<u32>().ok()?, h.parse::<u32>().ok()?)));
    match sides {
        Some((width, height))
            if (least_wide..=LARGEST).contains(&width) && (least_high..=LARGEST).contains(&height) =>
        {
            Ok(Size { width, height })
        }
        _ => Err(format!(
            "expected width x height in pixels, from {least_wide}x{least_high} to {LARGEST}x{LARGEST}, for instance 1280x720"
        )),
    }
}

/// Reads a time, in seconds: `12:30` is minutes and seconds, `1:12:30` hours too. Seconds may have a fraction.
pub fn time(text: &str) -> Result<f64, String> {
    seconds(text).ok_or_else(|| "expected minutes and seconds, for instance 12:30, or hours too, 1:12:30".to_owned())
}

fn seconds(text: &str) -> Option<f64> {
    let whole = |part: &str, most: u32| {
        part.bytes().all(|b| b.is_ascii_digit()).then(|| part.parse::<u32>().ok().filter(|n| *n <= most)).flatten()
    };
    let (hours, minutes, seconds) = match text.split(':').collect::<Vec<_>>()[..] {
        [minutes, seconds] => (0, whole(minutes, 100_000)?, seconds),
        [hours, minutes, seconds] => (whole(hours, 1000)?, whole(minutes, 59)?, seconds),
        _ => return None,
    };
    let plain = seconds.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    let seconds = seconds.parse::<f64>().ok().filter(|s| plain && (0.0..60.0).contains(s))?;
    Some(f64::from(hours) * 3600.0 + f64::from(minutes) * 60.0 + seconds)
}

/// Refuses a name that is not that of a picture.
pub fn named_png(path: &Path) -> Result<(), NoPicture> {
    if path.extension().is_some_and(|kind| kind.eq_ignore_ascii_case("png")) {
        return Ok(());
    }
    Err(NoPicture::NotPng(path.display().to_string()))
}

/// The time in seconds, and the step that is shown then.
#[cfg(feature = "window")]
pub fn instant(moment: Moment, rehearsal: &Rehearsal) -> Result<(f64, usize), NoPicture> {
    let steps = &rehearsal.report.steps;
    let not_planned = |step: usize| {
        let name = rehearsal.site.steps.get(step).map_or(String::new(), |step| step.name.clone());
        NoPicture::NotPlanned { step: step + 1, name }
    };
    let stopped_at = rehearsal.stopped_at();
    match moment {
        Moment::Governing => {
            let time_s = rehearsal.report.governing().and_then(|(_, row)| row.time_s).unwrap_or(0.0);
            Ok((time_s, rehearsal.step_at(time_s)))
        }
        Moment::Step(asked) => {
            let count = rehearsal.site.steps.len();
            let step = asked.checked_sub(1).filter(|step| *step < count).ok_or(NoPicture::NoStep { asked, count })?;
            match steps.get(step).filter(|_| stopped_at.is_none_or(|first| step < first)) {
                Some(row) => Ok((row.from_s, step)),
                None => Err(not_planned(stopped_at.unwrap_or(step))),
            }
        }
        Moment::Time(time_s) if time_s <= rehearsal.end_s() => Ok((time_s, rehearsal.step_at(time_s))),
        Moment::Time(_) => match stopped_at {
            Some(first) => Err(not_planned(first)),
            None => Err(NoPicture::TooLate { end: show_duration(rehearsal.end_s()) }),
        },
    }
}

/// The index of the weather in which the governing pair has the least left.
#[cfg(feature = "window")]
pub fn weather(rehearsal: &Rehearsal) -> usize {
    let governing = rehearsal.report.governing().map(|(_, row)| &row.weather);
    governing.and_then(|name| rehearsal.site.weather.iter().position(|w| w.name == *name)).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_time_is_minutes_and_seconds() {
        for (text, expected_s) in [("0:00", 0.0), ("2:05", 125.0), ("90:00", 5400.0), ("1:02:03.5", 3723.5)] {
            assert_eq!(time(text), Ok(expected_s), "{text}");
        }
        for text in ["", "5", "1:60", "1:-1", "-1:00", "1:60:00", "1:00:00:00", "1:nan", "1:inf", "1:1e1", "+1:00", ":"]
        {
            assert!(time(text).is_err(), "{text}");
        }
    }

    #[test]
    fn a_size_is_two_sides_that_a_device_can_draw() {
        assert_eq!(size("1280x720"), Ok(Size { width: 1280, height: 720 }));
        for text in ["", "1280", "1280x", "x720", "0x0", "10x10", "1280x99999", "-1280x720", "1280 x 720"] {
            assert!(size(text).is_err(), "{text}");
        }
    }

    #[test]
    fn a_picture_is_a_png() {
        assert!(named_png(Path::new("a/job.png")).is_ok() && named_png(Path::new("JOB.PNG")).is_ok());
        for name in ["job.ron", "job", "png", "job.jpeg", ""] {
            assert!(named_png(Path::new(name)).is_err(), "{name}");
        }
    }
}
