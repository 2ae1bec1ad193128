//! Published tables as they stand in `assets`: comma separated, `#` lines name the source, one header line.

use super::RuleError;

/// One row.
pub(crate) struct Row {
    line: &'static str,
}

impl Row {
    /// The cell as printed; `None` when there is no such column.
    pub(crate) fn text(&self, column: usize) -> Option<&'static str> {
        self.line.split(',').nth(column).map(str::trim)
    }

    /// A finite number; `None` when the cell is empty or no number.
    pub(crate) fn number(&self, column: usize) -> Option<f64> {
        self.text(column)?.parse::<f64>().ok().filter(|value| value.is_finite())
    }
}

fn rows(text: &'static str) -> impl Iterator<Item = Row> {
    text.lines().filter(|line| !line.starts_with('#') && !line.trim().is_empty()).skip(1).map(|line| Row { line })
}

/// What `read` makes of the first row that `holds` takes. Either answers `None` for a row that it cannot read: a fault of
/// the table, never skipped, for the row might have been the one that holds.
pub(crate) fn first<T>(
    table: &'static str,
    text: &'static str,
    holds: impl Fn(&Row) -> Option<bool>,
    read: impl Fn(&Row) -> Option<T>,
) -> Result<Option<T>, RuleError> {
    for (index, row) in rows(text).enumerate() {
        let fault = RuleError::Table { table, row: index + 1 };
        match holds(&row) {
            Some(true) => return read(&row).ok_or(fault).map(Some),
            Some(false) => {}
            None => return Err(fault),
        }
    }
    Ok(None)
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "# source\nup_to,value\n5,1.5\n15,\nx,3\n";

    #[test]
    fn a_row_that_cannot_be_read_is_a_fault_and_not_skipped() {
        let value_at = |limit: f64| first("test", TEXT, |row| Some(row.number(0)? >= limit), |row| row.number(1));
        assert_eq!(value_at(4.0), Ok(Some(1.5)));
        assert_eq!(value_at(6.0), Err(RuleError::Table { table: "test", row: 2 }));
        assert_eq!(value_at(16.0), Err(RuleError::Table { table: "test", row: 3 }));
    }
}
