//! The ground, in words.

use super::{Words, length, show_length};
use crate::finding::{Ground, NoSurface, OnGround};
use crate::quantity::show::{Round, Units};

pub(super) fn words(fact: &Ground, units: Units) -> Words {
    let m = |m: &f64| length(*m, units);
    match fact {
        Ground::NoSurface { why } => {
            let why = match why {
                NoSurface::TooFew { spots } => format!("{spots} spots make no surface"),
                NoSurface::OnOneLine => "the spots lie on one line".to_owned(),
                NoSurface::NotANumber => "a spot's elevation or place is not a number that can be used".to_owned(),
            };
            Words::new(
                format!("The surface of the ground could not be made: {why}."),
                "State at least three spots that are not on one line.",
                "",
            )
        }
        Ground::NotSurveyed { what, east_m, north_m } => Words::new(
            format!(
                "{} is, or reaches, outside the surveyed ground ({} east, {} north): the terrain is not known there.",
                on_ground(what),
                m(east_m),
                m(north_m)
            ),
            "Take spot elevations around everything that stands, lies or is set down.",
            "common practice",
        ),
        Ground::Disagrees { what, above_m, accuracy_m } => Words::new(
            format!(
                "{} is {} {} the ground that the spot elevations give, which is known to {} either way.",
                on_ground(what),
                show_length(above_m.abs(), units, Round::Up),
                if *above_m > 0.0 { "above" } else { "below" },
                show_length(*accuracy_m, units, Round::Down)
            ),
            "Correct its elevation, or the spots; where the ground is uneven there, take more spots.",
            "the survey",
        ),
        Ground::OffLevel { what, above_m, allowed_m } => Words::new(
            format!(
                "{} is stated {} {} the ground, which counts as level at the hole because no spot elevations are stated; \
                 the survey is good to {}.",
                on_ground(what),
                show_length(above_m.abs(), units, Round::Up),
                if *above_m > 0.0 { "above" } else { "below" },
                show_length(*allowed_m, units, Round::Down)
            ),
            "Correct its elevation, or state spot elevations.",
            "the survey",
        ),
    }
}

fn on_ground(what: &OnGround) -> String {
    match what {
        OnGround::Hole => "The hole".to_owned(),
        OnGround::Crane => "The crane".to_owned(),
        OnGround::LyingPole => "The pole as it lies".to_owned(),
        OnGround::Step { name } => format!("The point of step \"{name}\""),
    }
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Ground> {
    let step = OnGround::Step { name: "Swing".to_owned() };
    let mut examples: Vec<Ground> = [OnGround::Hole, OnGround::Crane, OnGround::LyingPole, step]
        .map(|what| Ground::NotSurveyed { what, east_m: 90.0, north_m: 3.0 })
        .into();
    examples.extend([
        Ground::Disagrees { what: OnGround::Hole, above_m: 0.5, accuracy_m: 0.1 },
        Ground::Disagrees { what: OnGround::Crane, above_m: -0.5, accuracy_m: 0.1 },
        Ground::OffLevel { what: OnGround::Crane, above_m: 1.0, allowed_m: 0.1 },
        Ground::OffLevel { what: OnGround::LyingPole, above_m: -1.0, allowed_m: 0.1 },
        Ground::NoSurface { why: NoSurface::TooFew { spots: 2 } },
        Ground::NoSurface { why: NoSurface::OnOneLine },
        Ground::NoSurface { why: NoSurface::NotANumber },
    ]);
    examples
}
