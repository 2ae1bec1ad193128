//! CSV tables with a place for every cell: published ones, a planner's own, and those of the tests.
//!
//! `#` lines are remarks; one that begins with `# source:` names the source. The next line heads the columns. Commas part cells,
//! and a cell with a comma in it stands in double quotes; a quote inside it is doubled. A row is one line. Blank lines do not
//! count, nor do blanks around a cell.
//!
//! ```
//! let table = scene_core::csv::read("# source: a yard list\nclass,length_ft\n3,45\n4,\n", 10).unwrap();
//! assert_eq!(table.source, "a yard list");
//! assert_eq!(table.rows[0].figure("length_ft"), Ok(45.0));
//! let fault = table.rows[1].figure("length_ft").unwrap_err();
//! assert_eq!((fault.place.line, fault.place.column), (4, 3));
//! ```

use crate::place::Place;
use std::sync::Arc;
use thiserror::Error;

/// More columns than any table has.
const MOST_COLUMNS: usize = 60;

#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// What follows `# source:`; empty where there is none.
    pub source: String,
    pub heads: Arc<[Cell]>,
    /// At least one.
    pub rows: Vec<Row>,
}

/// As many cells as there are heads.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    pub place: Place,
    pub cells: Vec<Cell>,
    heads: Arc<[Cell]>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// Without the quotes and the blanks around it.
    pub text: String,
    pub place: Place,
}

/// What is wrong with a table, and where.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("line {}, column {}: {kind}", .place.line, .place.column)]
pub struct Fault {
    pub place: Place,
    pub kind: FaultKind,
}

#[derive(Clone, Debug, PartialEq, Error)]
pub enum FaultKind {
    #[error("a table without a line of heads")]
    NoHeads,
    #[error("heads without a row under them")]
    NoRows,
    #[error("{found} cells under {expected} heads")]
    CellCount { found: usize, expected: usize },
    #[error("a quote that does not end in its line")]
    OpenQuote,
    #[error("{found} rows or columns, which is more than {most}")]
    TooMany { found: usize, most: usize },
    #[error("no column {head}")]
    NoColumn { head: String },
    #[error("{head}: an empty cell")]
    Blank { head: String },
    #[error("{head}: \"{found}\" cannot be used")]
    Unusable { head: String, found: String },
}

/// The whole table, or all that is wrong with its form.
pub fn read(text: &str, most_rows: usize) -> Result<Table, Vec<Fault>> {
    let mut source = "";
    let mut heads: Option<Arc<[Cell]>> = None;
    let mut rows: Vec<Row> = Vec::new();
    for (i, line) in text.lines().enumerate() {
        let place = Place { line: u32::try_from(i + 1).unwrap_or(u32::MAX), column: 1 };
        if let Some(remark) = line.trim_start().strip_prefix('#') {
            source = remark.trim_start().strip_prefix("source:").map_or(source, str::trim);
        } else if !line.trim().is_empty() {
            if rows.len() >= most_rows {
                let kind = FaultKind::TooMany { found: rows.len() + 1, most: most_rows };
                return Err(vec![Fault { place, kind }]);
            }
            let cells = cells(line, place).map_err(|fault| vec![fault])?;
            match &heads {
                None => heads = Some(cells.into()),
                Some(heads) => rows.push(Row { place, cells, heads: heads.clone() }),
            }
        }
    }
    let start = Place { line: 1, column: 1 };
    let heads = heads.ok_or_else(|| vec![Fault { place: start, kind: FaultKind::NoHeads }])?;
    let mut faults: Vec<Fault> = Vec::new();
    if rows.is_empty() {
        faults.push(Fault { place: heads.first().map_or(start, |head| head.place), kind: FaultKind::NoRows });
    }
    let uneven = rows.iter().filter(|row| row.cells.len() != heads.len());
    faults.extend(uneven.map(|row| Fault {
        place: row.place,
        kind: FaultKind::CellCount { found: row.cells.len(), expected: heads.len() },
    }));
    if faults.is_empty() { Ok(Table { source: source.to_owned(), heads, rows }) } else { Err(faults) }
}

fn cells(line: &str, place: Place) -> Result<Vec<Cell>, Fault> {
    let mut last = Cell { text: String::new(), place };
    let mut cells = Vec::new();
    let mut quoted = false;
    let mut letters = (1_u32..).zip(line.chars()).peekable();
    while let Some((column, letter)) = letters.next() {
        match letter {
            '"' if quoted && letters.next_if(|(_, next)| *next == '"').is_some() => last.text.push('"'),
            '"' if quoted => quoted = false,
            '"' if last.text.trim().is_empty() => {
                last.text.clear();
                quoted = true;
            }
            ',' if !quoted => {
                let next = Cell { text: String::new(), place: Place { column: column.saturating_add(1), ..place } };
                cells.push(std::mem::replace(&mut last, next));
            }
            letter => last.text.push(letter),
        }
        let found = cells.len() + 1;
        if found > MOST_COLUMNS {
            return Err(Fault { place, kind: FaultKind::TooMany { found, most: MOST_COLUMNS } });
        }
    }
    if quoted {
        return Err(Fault { place: last.place, kind: FaultKind::OpenQuote });
    }
    cells.push(last);
    for cell in &mut cells {
        cell.text = cell.text.trim().to_owned();
    }
    Ok(cells)
}

impl Row {
    /// The cell under a head.
    pub fn cell(&self, head: &str) -> Result<&Cell, Fault> {
        let column = self.heads.iter().position(|cell| cell.text == head);
        let no_column = || Fault { place: self.place, kind: FaultKind::NoColumn { head: head.to_owned() } };
        column.and_then(|column| self.cells.get(column)).ok_or_else(no_column)
    }

    /// What stands under a head, perhaps nothing.
    pub fn text(&self, head: &str) -> Result<&str, Fault> {
        self.cell(head).map(|cell| cell.text.as_str())
    }

    /// A finite number; `None` for an empty cell.
    pub fn number(&self, head: &str) -> Result<Option<f64>, Fault> {
        let text = self.text(head)?;
        if text.is_empty() {
            return Ok(None);
        }
        let number = text.parse::<f64>().ok().filter(|number| number.is_finite());
        number.map(Some).ok_or_else(|| self.unusable(head))
    }

    /// A finite number; a fault for an empty cell.
    pub fn figure(&self, head: &str) -> Result<f64, Fault> {
        let blank = || self.fault(head, FaultKind::Blank { head: head.to_owned() });
        self.number(head)?.ok_or_else(blank)
    }

    /// What the cell under a head holds cannot be used.
    pub fn unusable(&self, head: &str) -> Fault {
        let found = self.text(head).unwrap_or_default().to_owned();
        self.fault(head, FaultKind::Unusable { head: head.to_owned(), found })
    }

    fn fault(&self, head: &str, kind: FaultKind) -> Fault {
        Fault { place: self.cell(head).map_or(self.place, |cell| cell.place), kind }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn place(line: u32, column: u32) -> Place {
        Place { line, column }
    }

    fn faults(text: &str) -> Vec<(u32, u32, String)> {
        let faults = read(text, 3).expect_err(text);
        faults.into_iter().map(|fault| (fault.place.line, fault.place.column, fault.kind.to_string())).collect()
    }

    #[test]
    fn a_cell_knows_its_place_and_keeps_its_commas() {
        let table = read("# remark\n# source: page 3\n\nname,size_m\n \"a, \"\"b\"\"\" , 1.5\n", 3).unwrap();
        assert_eq!((table.source.as_str(), table.rows.len()), ("page 3", 1));
        let row = &table.rows[0];
        assert_eq!(row.cell("name"), Ok(&Cell { text: "a, \"b\"".into(), place: place(5, 1) }));
        assert_eq!(row.cell("size_m"), Ok(&Cell { text: "1.5".into(), place: place(5, 14) }));
        assert_eq!(row.figure("size_m"), Ok(1.5));
    }

    #[test]
    fn all_faults_of_form_are_told_with_their_places() {
        let cells = |found: usize| format!("{found} cells under 2 heads");
        assert_eq!(faults("a,b\n1\n1,2\n1,2,3"), [(2, 1, cells(1)), (4, 1, cells(3))]);
        assert_eq!(faults("# nothing\n"), [(1, 1, "a table without a line of heads".into())]);
        assert_eq!(faults("\na,b\n"), [(2, 1, "heads without a row under them".into())]);
        assert_eq!(faults("a,b\n1,\"2\n"), [(2, 3, "a quote that does not end in its line".into())]);
        assert_eq!(faults("a\n1\n2\n3\n4\n"), [(5, 1, "4 rows or columns, which is more than 3".into())]);
        assert_eq!(faults(&",".repeat(60)), [(1, 1, "61 rows or columns, which is more than 60".into())]);
    }

    #[test]
    fn a_cell_that_cannot_be_used_is_a_fault_at_its_place() {
        let table = read("a,b,c\n,inf,x\n", 3).unwrap();
        let row = &table.rows[0];
        assert_eq!(row.number("a"), Ok(None));
        let said = |fault: Result<f64, Fault>| fault.unwrap_err().to_string();
        assert_eq!(said(row.figure("a")), "line 2, column 1: a: an empty cell");
        assert_eq!(said(row.figure("b")), "line 2, column 2: b: \"inf\" cannot be used");
        assert_eq!(said(row.figure("c")), "line 2, column 6: c: \"x\" cannot be used");
        assert_eq!(said(row.figure("d")), "line 2, column 1: no column d");
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused(text in "[a,\"#\n \u{e9}1]{0,60}") {
            match read(&text, 3) {
                Ok(table) => prop_assert!(!table.rows.is_empty() && table.rows.iter().all(|row| row.cells.len() == table.heads.len())),
                Err(faults) => prop_assert!(!faults.is_empty()),
            }
        }
    }
}
