//! What is wrong with the machine's own shape, in words.

use super::{Words, length};
use crate::finding::Motion;
use crate::quantity::show::Units;

pub(super) fn words(fact: &Motion, units: Units) -> Words {
    let m = |m: &f64| length(*m, units);
    let message = match fact {
        Motion::SectionApart { boom_m, section, rear_m, reached_m } => format!(
            "With {} of boom, section {section} begins {} from the foot pin, but the section before it ends at {}.",
            m(boom_m),
            m(rear_m),
            m(reached_m)
        ),
        Motion::LastSectionApart { boom_m, reached_m } => {
            format!("With {} of boom the last section ends {} from the foot pin.", m(boom_m), m(reached_m))
        }
    };
    let fix = "Correct the sections' lengths, their tips with the boom retracted, or their shares of the extension.";
    Words::new(message, fix, "the maker's boom dimensions")
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Motion> {
    vec![
        Motion::SectionApart { boom_m: 20.0, section: 2, rear_m: 12.0, reached_m: 10.0 },
        Motion::LastSectionApart { boom_m: 20.0, reached_m: 18.0 },
    ]
}
