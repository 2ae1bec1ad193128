//! Figures of the site, in words.

use super::Words;
use crate::finding::Site;

pub(super) fn words(fact: &Site) -> Words {
    match fact {
        Site::FigureUnusable { what, value } => Words::new(
            format!("{what} is not a number from zero up ({value}), so nothing that rests on it was checked."),
            "State it.",
            "",
        ),
        Site::AbsenceOpen { what } => Words::new(
            format!("Nobody has stated that there are no {what} near the work."),
            "Look, and say who looked, when and how far; list what is there.",
            "29 CFR 1910.269(a)(4): existing conditions are determined before the work (from memory)",
        ),
        Site::MotionUnknown => Words::new(
            "No motion was checked, since it is not known how the pole hangs.",
            "See first what is found of pole and rigging.",
            "",
        ),
    }
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Site> {
    vec![
        Site::FigureUnusable { what: "The wind".to_owned(), value: -1.0 },
        Site::MotionUnknown,
        Site::AbsenceOpen { what: "guys".to_owned() },
    ]
}
