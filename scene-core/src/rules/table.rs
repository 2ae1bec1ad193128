//! Published tables as they stand in `assets`.

use super::RuleError;
use crate::csv::{self, Fault, Row};

/// A table that comes with the program. Read once; it never changes.
pub(crate) struct Published {
    name: &'static str,
    rows: Result<Vec<Row>, Fault>,
}

impl Published {
    pub(crate) fn read(name: &'static str, text: &str) -> Self {
        let nothing = Fault { place: crate::place::Place::default(), kind: csv::FaultKind::NoRows };
        let first = |faults: Vec<Fault>| faults.into_iter().next().unwrap_or(nothing);
        Self { name, rows: csv::read(text, usize::MAX).map(|table| table.rows).map_err(first) }
    }

    /// What `read` makes of the first row that `holds` takes. A row that either cannot read is a fault of the table, never
    /// skipped: it might have been the one that holds.
    pub(crate) fn first<'t, T>(
        &'t self,
        holds: impl Fn(&Row) -> Result<bool, Fault>,
        read: impl Fn(&'t Row) -> Result<T, Fault>,
    ) -> Result<Option<T>, RuleError> {
        let fault = |fault: Fault| RuleError::Table { table: self.name, fault };
        for row in self.rows.as_ref().map_err(|unread| fault(unread.clone()))? {
            if holds(row).map_err(fault)? {
                return read(row).map(Some).map_err(fault);
            }
        }
        Ok(None)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_that_cannot_be_read_is_a_fault_and_not_skipped() {
        let table = Published::read("test", "# source\nup_to,value\n5,1.5\n15,\nx,3\n");
        let value_at = |limit: f64| table.first(|row| Ok(row.figure("up_to")? >= limit), |row| row.figure("value"));
        assert_eq!(value_at(4.0), Ok(Some(1.5)));
        let said = |limit: f64| value_at(limit).unwrap_err().to_string();
        assert_eq!(said(6.0), "table test: line 4, column 4: value: an empty cell");
        assert_eq!(said(16.0), "table test: line 5, column 1: up_to: \"x\" cannot be used");
        assert!(Published::read("test", "up_to,value\n5\n").first(|_| Ok(true), |_| Ok(())).is_err());
    }
}
