//! Published tables as they stand in `published/`, for checks of scene-core against them.
//!
//! Each file's `#` line names its source; the next line names the columns.

pub mod parts;

/// One row of a published table, its cells by the name of their column.
pub struct Row {
    columns: Vec<String>,
    cells: Vec<String>,
}

impl Row {
    /// The cell as printed; a column that is not there fails the test that asks for it.
    pub fn text(&self, column: &str) -> &str {
        let index = self.columns.iter().position(|name| name == column);
        index.and_then(|index| self.cells.get(index)).unwrap_or_else(|| panic!("no column {column}"))
    }

    /// `None` for an empty cell; anything else must be a number.
    pub fn number(&self, column: &str) -> Option<f64> {
        let text = self.text(column);
        (!text.is_empty()).then(|| text.parse().unwrap_or_else(|_| panic!("{column}: {text} is no number")))
    }
}

/// All rows of a published table; a table without rows fails.
pub fn rows(text: &str) -> Vec<Row> {
    let split = |line: &str| line.split(',').map(|cell| cell.trim().to_string()).collect::<Vec<_>>();
    let mut lines = text.lines().filter(|line| !line.starts_with('#') && !line.trim().is_empty());
    let columns = split(lines.next().expect("a line that names the columns"));
    let rows: Vec<Row> = lines.map(|line| Row { columns: columns.clone(), cells: split(line) }).collect();
    assert!(!rows.is_empty(), "a published table without rows");
    rows
}
