//! What a planner's own table must have: its heads, its words, its figures within their bands.

use crate::csv::{self, Row, Table};
use crate::scene::fault::{FaultKind, Faults, nearest};
use crate::scene::tree::{Place, shorten};

/// Rows that a table may have.
const MOST_ROWS: usize = 2000;

/// `None` where the form is wrong; the faults say how.
pub(super) fn read(text: &str, faults: &mut Faults) -> Option<Table> {
    match csv::read(text, MOST_ROWS) {
        Ok(table) => Some(table),
        Err(found) => {
            for fault in found {
                faults.add_at(fault.place, "", of_form(fault.kind));
            }
            None
        }
    }
}

fn of_form(kind: csv::FaultKind) -> FaultKind {
    let expected = match kind {
        csv::FaultKind::TooMany { found, most } => return FaultKind::TooMany { found, most },
        csv::FaultKind::CellCount { found, expected } => {
            let (found, expected) = (format!("{found} cells"), format!("{expected}, one under each head"));
            return FaultKind::Shape { found, expected };
        }
        csv::FaultKind::NoHeads => "heads, then rows",
        csv::FaultKind::NoRows => "at least one row",
        csv::FaultKind::OpenQuote => "a closing quote",
        csv::FaultKind::NoColumn { .. } | csv::FaultKind::Blank { .. } | csv::FaultKind::Unusable { .. } => "a table",
    };
    FaultKind::Shape { found: kind.to_string(), expected: expected.to_owned() }
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

pub(super) fn heads_place(table: &Table) -> Place {
    table.heads.first().map_or(Place { line: 1, column: 1 }, |head| head.place)
}

/// Every column of `needed` is there, none twice, and no other than those and `allowed`.
pub(super) fn check_heads(
    table: &Table,
    of: &'static str,
    needed: &[&'static str],
    allowed: &[&'static str],
    also: impl Fn(&str) -> bool,
    faults: &mut Faults,
) {
    let known: Vec<&'static str> = needed.iter().chain(allowed).copied().collect();
    for (i, head) in table.heads.iter().enumerate() {
        let first = table.heads.iter().take(i).find(|other| other.text == head.text);
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
        if !table.heads.iter().any(|head| head.text == *field) {
            faults.add_at(heads_place(table), "", FaultKind::Missing { field, of });
        }
    }
}

/// What must stand in a cell; a fault where it is blank. A head that is missing is a fault already.
pub(super) fn words(row: &Row, head: &str, faults: &mut Faults) -> String {
    let Ok(cell) = row.cell(head) else { return String::new() };
    if cell.text.is_empty() {
        faults.add_at(cell.place, head, FaultKind::EmptyText);
    }
    cell.text.clone()
}

/// The number of a cell in its band; `None` where the cell is blank, and a fault where it is anything else.
pub(super) fn number(row: &Row, head: &str, (low, high): (f64, f64), faults: &mut Faults) -> Option<f64> {
    let cell = row.cell(head).ok().filter(|cell| !cell.text.is_empty())?;
    let value = row.figure(head).ok().filter(|value| (low..=high).contains(value));
    if value.is_none() {
        let found = format!("\"{}\"", shorten(&cell.text));
        shape(faults, cell.place, head, found, format!("a number from {low} to {high}"));
    }
    value
}

/// [`number`] of a cell that must not be blank.
pub(super) fn figure(row: &Row, head: &str, band: (f64, f64), faults: &mut Faults) -> f64 {
    if let Some(cell) = row.cell(head).ok().filter(|cell| cell.text.is_empty()) {
        let (low, high) = band;
        shape(faults, cell.place, head, "an empty cell", format!("a number from {low} to {high}"));
    }
    number(row, head, band, faults).unwrap_or(f64::NAN)
}
