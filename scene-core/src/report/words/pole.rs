//! The pole's own figures, in words.

use super::{Words, length, mass};
use crate::finding::{Pole, Unweighable};
use crate::quantity::show::{Round, Units, show_length};

pub(super) fn words(fact: &Pole, units: Units) -> Words {
    let m = |m: &f64| length(*m, units);
    let kg = |kg: &f64| mass(*kg, units);
    match fact {
        Pole::NotWeighable { why } => Words::new(
            format!("The pole cannot be weighed: {}.", unweighable(why)),
            "Correct the pole's figures, or take the maker's drawing.",
            "29 CFR 1926.1417(o): the load's weight must be known (from memory)",
        ),
        Pole::LengthDisagrees { sections_m, pole_m } => Words::new(
            format!("The sections less their laps make {}, the pole is given as {}.", m(sections_m), m(pole_m)),
            "Correct the sections, the laps or the length.",
            "arithmetic",
        ),
        Pole::ItemWithoutMass { item } => Words::new(
            format!("{item} is on the pole but is given no mass."),
            "State what it weighs.",
            "common practice",
        ),
        Pole::CoverMassNotStated { cover } => Words::new(
            format!("{cover} is on the pole when it is lifted, but its mass is not counted."),
            "State the mass of the cover.",
            "common practice: all that hangs is weighed",
        ),
        Pole::MakerMassTooLow { maker_kg, least_kg, most_kg }
        | Pole::MakerMassDiffers { maker_kg, least_kg, most_kg } => Words::new(
            format!(
                "The maker's mass is {}, the pole's own figures make {} to {}.",
                kg(maker_kg),
                kg(least_kg),
                kg(most_kg)
            ),
            "Ask the maker, or weigh the pole at the trial pick.",
            "29 CFR 1926.1417(o): the load's weight must be known from a reliable source (from memory)",
        ),
        Pole::MakerBalanceDiffers { maker_m, computed_m } => Words::new(
            format!(
                "The maker's balance point is {} from the butt, the pole's own figures put it at {}.",
                m(maker_m),
                m(computed_m)
            ),
            "Find the balance point by trial before the lift.",
            "common practice",
        ),
        Pole::SetShallow { depth_m, pole_m, published_m, source } => {
            let feet = |m: &f64, round| show_length(*m, Units::Us, round);
            Words::new(
                format!(
                    "The pole sets {} deep; a pole of {} is published with {} in soil.",
                    feet(depth_m, Round::Down),
                    feet(pole_m, Round::Nearest),
                    feet(published_m, Round::Up)
                ),
                "Set it deeper, or have the engineer state why less is enough (rock, backfill, foundation).",
                *source,
            )
        }
        Pole::SetTooShallow { depth_m, pole_m, least_m, in_rock } => Words::new(
            format!(
                "The pole sets {} deep; a pole of {} needs {} in {}.",
                show_length(*depth_m, units, Round::Down),
                m(pole_m),
                show_length(*least_m, units, Round::Up),
                if *in_rock { "solid rock" } else { "soil" }
            ),
            "Set it deeper. Or state `shallow`: rock( … ) with who saw it, how, and when, or engineer( … ) with the document.",
            "table of setting depths, ANSI O5.1; rule of the Lineman's and Cableman's Handbook",
        ),
    }
}

fn unweighable(why: &Unweighable) -> String {
    match why {
        Unweighable::Number { what, need, got } => format!("{what} of the pole must be {need}, got {got}"),
        Unweighable::Sections { most, got } => format!("a steel pole needs 1 to {most} sections, got {got}"),
        Unweighable::Taper { what } => format!("{what} narrows toward the butt, which no pole does"),
    }
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Pole> {
    let name = || "thing".to_owned();
    vec![
        Pole::NotWeighable { why: Unweighable::Number { what: name(), need: "above zero", got: 0.0 } },
        Pole::NotWeighable { why: Unweighable::Sections { most: 50, got: 0 } },
        Pole::NotWeighable { why: Unweighable::Taper { what: name() } },
        Pole::LengthDisagrees { sections_m: 14.0, pole_m: 15.0 },
        Pole::ItemWithoutMass { item: name() },
        Pole::CoverMassNotStated { cover: name() },
        Pole::MakerMassTooLow { maker_kg: 500.0, least_kg: 700.0, most_kg: 800.0 },
        Pole::MakerMassDiffers { maker_kg: 900.0, least_kg: 700.0, most_kg: 800.0 },
        Pole::MakerBalanceDiffers { maker_m: 6.0, computed_m: 7.0 },
        Pole::SetTooShallow { depth_m: 1.5, pole_m: 13.7, least_m: 2.0, in_rock: false },
        Pole::SetTooShallow { depth_m: 1.0, pole_m: 13.7, least_m: 1.4, in_rock: true },
        Pole::SetShallow { depth_m: 1.5, pole_m: 13.7, published_m: 2.0, source: "a table of setting depths" },
    ]
}
