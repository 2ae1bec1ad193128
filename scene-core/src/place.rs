//! Where something stands in a text.

/// Line and column of a character, both from 1; 0 where nothing was written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Place {
    pub line: u32,
    pub column: u32,
}
