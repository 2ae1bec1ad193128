//! A CSV table with a place for every cell: `#` lines are remarks, the next line heads the columns, commas part cells, a cell
//! with a comma in it stands in double quotes.

use crate::scene::fault::{FaultKind, Faults, nearest};
use crate::scene::tree::{Place, shorten};

/// Rows that a table may have.
const MOST_ROWS: usize = 2000;
const MOST_COLUMNS: usize = 60;

pub(super) struct Cell {
    pub text: String,
    pub place: Place,
}

pub(super) struct Row {
    pub cells: Vec<Cell>,
    pub place: Place,
}

pub(super) struct Table {
    /// What follows `# source:`, empty where there is none.
    pub source: String,
    pub heads: Row,
    pub rows: Vec<Row>,
}

/// `None` where the form is wrong; the faults say how.
pub(super) fn read(text: &str, faults: &mut Faults) -> Option<Table> {
    let mut source = String::new();
    let mut rows = Vec::new();
    for (i, line) in text.lines().enumerate() {
        let number = u32::try_from(i + 1).unwrap_or(u32::MAX);
        if let Some(remark) = line.trim_start().strip_prefix('#') {
            if let Some(said) = remark.trim_start().strip_prefix("source:") {
                source = said.trim().to_owned();
            }
            continue;
        }
        if line.trim().is_empty() {
            continue;
        }
        if rows.len() > MOST_ROWS {
            faults.add_at(at(number, 1), "", FaultKind::TooMany { found: rows.len(), most: MOST_ROWS });
            return None;
        }
        rows.push(split(line, number, faults)?);
    }
    let mut rows = rows.into_iter();
    let Some(heads) = rows.next() else {
        shape(faults, at(1, 1), "", "a table without a line of heads", "heads, then rows");
        return None;
    };
    let rows: Vec<Row> = rows.collect();
    if rows.is_empty() {
        shape(faults, heads.place, "", "heads without a row under them", "at least one row");
    }
    for row in &rows {
        let (found, expected) = (row.cells.len(), heads.cells.len());
        if found != expected {
            shape(faults, row.place, "", format!("{found} cells"), format!("{expected}, one under each head"));
        }
    }
    faults.is_empty().then_some(Table { source, heads, rows })
}

pub(super) fn at(line: u32, column: u32) -> Place {
    Place { line, column }
}

pub(super) fn shape(
    faults: &mut Faults,
    place: Place,
    field: &str,
    found: impl Into<String>,
    expected: impl Into<String>,
) {
    faults.add_at(place, field, FaultKind::Shape { found: found.into(), expected: expected.into() });
}

fn split(line: &str, number: u32, faults: &mut Faults) -> Option<Row> {
    let mut cells = vec![Cell { text: String::new(), place: at(number, 1) }];
    let mut quoted = false;
    let mut letters = line.chars().enumerate().peekable();
    while let Some((i, letter)) = letters.next() {
        let column = u32::try_from(i).unwrap_or(u32::MAX - 2);
        let cell = cells.last_mut()?;
        match letter {
            '"' if quoted && letters.next_if(|(_, next)| *next == '"').is_some() => cell.text.push('"'),
            '"' if quoted => quoted = false,
            '"' if cell.text.trim().is_empty() => {
                cell.text.clear();
                quoted = true;
            }
            ',' if !quoted => cells.push(Cell { text: String::new(), place: at(number, column + 2) }),
            letter => cell.text.push(letter),
        }
        if cells.len() > MOST_COLUMNS {
            faults.add_at(at(number, 1), "", FaultKind::TooMany { found: cells.len(), most: MOST_COLUMNS });
            return None;
        }
    }
    if quoted {
        shape(faults, cells.last()?.place, "", "a quote that does not end in its line", "a closing quote");
        return None;
    }
    for cell in &mut cells {
        cell.text = cell.text.trim().to_owned();
    }
    Some(Row { cells, place: at(number, 1) })
}

impl Table {
    /// Every column of `needed` is there, none twice, and no other than those and `allowed`.
    pub fn check_heads(
        &self,
        of: &'static str,
        needed: &[&'static str],
        allowed: &[&'static str],
        also: impl Fn(&str) -> bool,
        faults: &mut Faults,
    ) {
        let known: Vec<&'static str> = needed.iter().chain(allowed).copied().collect();
        for (i, head) in self.heads.cells.iter().enumerate() {
            let first = self.heads.cells.iter().take(i).find(|other| other.text == head.text);
            let field = head.text.clone();
            if let Some(first) = first {
                faults.add_at(head.place, "", FaultKind::FieldTwice { field, first: first.place });
            } else if !known.contains(&head.text.as_str()) && !also(&head.text) {
                let nearest = nearest(&field, known.iter().copied());
                let kind = FaultKind::UnknownField { field, of, nearest, allowed: known.clone() };
                faults.add_at(head.place, "", kind);
            }
        }
        for field in needed {
            if !self.heads.cells.iter().any(|head| head.text == *field) {
                faults.add_at(self.heads.place, "", FaultKind::Missing { field, of });
            }
        }
    }

    pub fn cell<'t>(&self, row: &'t Row, head: &str) -> Option<&'t Cell> {
        let column = self.heads.cells.iter().position(|cell| cell.text == head)?;
        row.cells.get(column)
    }

    /// What must stand in a cell; a fault where it is blank.
    pub fn words(&self, row: &Row, head: &str, faults: &mut Faults) -> String {
        match self.cell(row, head) {
            Some(cell) if !cell.text.is_empty() => cell.text.clone(),
            Some(cell) => {
                faults.add_at(cell.place, head, FaultKind::EmptyText);
                String::new()
            }
            None => String::new(), // A head that is missing is a fault already.
        }
    }

    /// The number of a cell in its band; `None` where the cell is blank, and a fault where it is anything else.
    pub fn number(&self, row: &Row, head: &str, (low, high): (f64, f64), faults: &mut Faults) -> Option<f64> {
        let cell = self.cell(row, head).filter(|cell| !cell.text.is_empty())?;
        let plain = cell.text.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '-' | '+' | 'e' | 'E'));
        let value = cell.text.parse::<f64>().ok().filter(|value| plain && (low..=high).contains(value));
        if value.is_none() {
            let found = format!("\"{}\"", shorten(&cell.text));
            shape(faults, cell.place, head, found, format!("a number from {low} to {high}"));
        }
        value
    }

    /// [`Self::number`] of a cell that must not be blank.
    pub fn figure(&self, row: &Row, head: &str, band: (f64, f64), faults: &mut Faults) -> f64 {
        let blank = self.cell(row, head).filter(|cell| cell.text.is_empty());
        if let Some(cell) = blank {
            let (low, high) = band;
            shape(faults, cell.place, head, "an empty cell", format!("a number from {low} to {high}"));
        }
        self.number(row, head, band, faults).unwrap_or(f64::NAN)
    }
}
