//! Published tables as they stand in `published/`, for checks of scene-core against them.
//!
//! Each file's `#` line names its source; the next line names the columns.

use scene_core::csv::{self, Fault};

/// One row of a published table, its cells by the name of their column. What cannot be read fails the test that asks for it.
pub struct Row(csv::Row);

impl Row {
    /// The cell as printed.
    pub fn text(&self, column: &str) -> &str {
        self.0.text(column).unwrap_or_else(unread)
    }

    /// `None` for an empty cell; anything else must be a number.
    pub fn number(&self, column: &str) -> Option<f64> {
        self.0.number(column).unwrap_or_else(unread)
    }

    /// A number that must be there.
    pub fn figure(&self, column: &str) -> f64 {
        self.0.figure(column).unwrap_or_else(unread)
    }

    /// Numbers with blanks between them.
    pub fn numbers(&self, column: &str) -> Vec<f64> {
        let number = |text: &str| text.parse().unwrap_or_else(|_| unread(self.0.unusable(column)));
        self.text(column).split(' ').map(number).collect()
    }
}

/// All rows of a published table; a table that cannot be read fails.
pub fn rows(text: &str) -> Vec<Row> {
    match csv::read(text, usize::MAX) {
        Ok(table) => table.rows.into_iter().map(Row).collect(),
        Err(faults) => unread(faults[0].clone()),
    }
}

fn unread<T>(fault: Fault) -> T {
    panic!("a published table cannot be read: {fault}")
}
