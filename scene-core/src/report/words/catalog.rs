//! Figures of the program's tables, in words.

use super::Words;
use crate::finding::Catalog;

pub(super) fn words(fact: &Catalog) -> Words {
    let Catalog::FromMemory { what, figures } = fact;
    Words::new(
        format!("The {figures} of {what} come from memory, not from a published table."),
        "Compare them with the maker's sheet or measure, and state what you find in the scene.",
        "common practice: a figure is known from a source that can be read again",
    )
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Catalog> {
    vec![Catalog::FromMemory { what: "the conductor Poppy".to_owned(), figures: "rated strength".to_owned() }]
}
