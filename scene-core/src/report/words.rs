//! Findings in words: the one place where a sentence about a fact is made. One module per family; it says what is the matter, what
//! would mend it, and by which rule.

mod answers;
mod approach;
mod bodies;
mod bucket;
mod by_hand;
mod capacity;
mod carrier;
mod catalog;
mod choker;
mod circuits;
mod conductor;
mod cover;
mod crew;
mod derrick;
mod ground;
mod holder;
mod leveling;
mod live_machine;
mod motion;
mod pole;
mod premise;
mod reach;
mod rigging;
mod rules;
mod sequence;
mod site;
mod unusual;
mod way_back;
mod wind;

pub use choker::words as choker;
pub use premise::{assumed, not_checked};

use crate::finding::{Fact, Finding, RuledBy};
use crate::quantity::show::{self, Round, Units, show_angle};

/// What is said of a finding, in people's units.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Words {
    /// A whole sentence that a foreman understands.
    pub message: String,
    /// What would mend it; empty when nothing sensible can be said.
    pub fix: String,
    /// Standard and paragraph, maker's document, textbook, or "common practice"; empty where there is none.
    pub rule: String,
}

impl Words {
    fn new(message: impl Into<String>, fix: impl Into<String>, rule: impl Into<String>) -> Self {
        Self { message: message.into(), fix: fix.into(), rule: rule.into() }
    }
}

/// All that is said of a finding.
pub fn of(finding: &Finding, units: Units) -> Words {
    words(&finding.fact, units)
}

/// The sentence of a finding.
pub fn message(finding: &Finding, units: Units) -> String {
    of(finding, units).message
}

/// What rates a motion, or why nothing does; empty where that is not known.
pub fn ruled_by(by: Option<&RuledBy>, units: Units) -> String {
    match by {
        Some(RuledBy::Limit(limit_kind)) => capacity::limit_kind(limit_kind, units),
        Some(RuledBy::Outside(why)) => capacity::outside_chart(why),
        None => String::new(),
    }
}

fn words(fact: &Fact, units: Units) -> Words {
    match fact {
        Fact::Answers(fact) => answers::words(fact),
        Fact::Approach(fact) => approach::words(fact, units),
        Fact::Bodies(fact) => bodies::words(fact, units),
        Fact::Bucket(fact) => bucket::words(fact, units),
        Fact::ByHand(fact) => by_hand::words(fact, units),
        Fact::Capacity(fact) => capacity::words(fact, units),
        Fact::Carrier(fact) => carrier::words(fact),
        Fact::Catalog(fact) => catalog::words(fact),
        Fact::Circuits(fact) => circuits::words(fact),
        Fact::Conductor(fact) => conductor::words(fact, units),
        Fact::Cover(fact) => cover::words(fact),
        Fact::Crew(fact) => crew::words(fact),
        Fact::Derrick(fact) => derrick::words(fact, units),
        Fact::Ground(fact) => ground::words(fact, units),
        Fact::Leveling(fact) => leveling::words(fact, units),
        Fact::LiveMachine(fact) => live_machine::words(fact),
        Fact::Holder(fact) => holder::words(fact, units),
        Fact::Motion(fact) => motion::words(fact, units),
        Fact::Pole(fact) => pole::words(fact, units),
        Fact::Reach(fact) => reach::words(fact, units),
        Fact::Rigging(fact) => rigging::words(fact, units),
        Fact::Rules(fact) => rules::words(fact),
        Fact::Sequence(fact) => sequence::words(fact, units),
        Fact::Site(fact) => site::words(fact),
        Fact::Unusual(fact) => unusual::words(fact, units),
        Fact::WayBack(fact) => way_back::words(fact, units),
        Fact::Wind(fact) => wind::words(fact, units),
        Fact::MotionEnds { step, of, by } => {
            let Words { message, fix, rule } = words(by, units);
            let message = match step.as_str() {
                "" => message,
                step => {
                    let of = of.as_deref().unwrap_or("the lifting machine and the pole");
                    format!("{step}: {message} From this step on nothing of {of} was checked.")
                }
            };
            Words { message, fix, rule }
        }
        Fact::OfLift { lift, by } => {
            let Words { message, fix, rule } = words(by, units);
            Words { message: format!("{lift}: {message}"), fix, rule }
        }
    }
}

const GEOMETRY: &str = "geometry of the crane and the pole";

/// A quantity that is not known is said for both systems, whatever is asked for.
fn known(value: f64, units: Units) -> Units {
    if value.is_finite() { units } else { Units::Both }
}

fn show_length(m: f64, units: Units, round: Round) -> String {
    show::show_length(m, known(m, units), round)
}

fn show_force(n: f64, units: Units, round: Round) -> String {
    show::show_force(n, known(n, units), round)
}

/// To the nearest.
fn length(m: f64, units: Units) -> String {
    show_length(m, units, Round::Nearest)
}

fn mass(kg: f64, units: Units) -> String {
    show::show_mass(kg, known(kg, units), Round::Nearest)
}

fn angle(radians: f64) -> String {
    show_angle(radians, Round::Nearest)
}

#[cfg(test)]
mod tests;
