//! A load chart as CSV, turned into the sectors that a machine's own chart has, so that the same rule reads both.
//!
//! ```text
//! # source: maker's chart 12-7, 2019, page 3
//! outriggers,sector,swing,radius_ft,lb at 28 ft,lb at 42 ft
//! full,over sides and rear,30 deg to 330 deg,10,38000,30000
//! full,over sides and rear,30 deg to 330 deg,25,-,11000
//! ```

use super::table::{self, check_heads, heads_place, shape, words};
use super::{Beside, open};
use crate::bracket::Bracket;
use crate::csv::{Cell, Row, Table};
use crate::quantity::unit::Dimension;
use crate::quantity::{Angle, Length, Mass, Quantity, Range};
use crate::scene::fault::{FaultKind, Faults, nearest};
use crate::scene::load_chart::float_spread;
use crate::scene::measure::sector;
use crate::scene::tree::{Place, shorten};
use crate::scene::value::Value;
use crate::site::{Chart, ChartSector};
use std::f64::consts::TAU;

const OF: &str = "a load chart";
const RADIUS: [(&str, &str); 2] = [("radius_ft", "ft"), ("radius_m", "m")];

/// A maker's load chart in a file, which holds instead of the machine's own; `None` where it cannot be used.
pub(crate) fn chart(value: &Value<'_>, beside: &Beside) -> Option<Chart> {
    value.fields("the chart's file", |f| {
        let file = f.need("file");
        // How the machine stands, as the file's column says it: only these rows count.
        let outriggers = f.need("outriggers");
        // What the chart makes the user deduct besides hook block and rigging.
        let deductions_kg = f.si::<Mass>("deductions", "0 lb", "20000 lb");
        let floats = f.may("floats").map(|value| float_spread(&value));
        f.note();
        let stands = outriggers.text();
        let (text, mut own) = open(beside, &file)?;
        let read = table::read(text, &mut own).and_then(|table| {
            let sectors = sectors(&table, &outriggers, stands, &mut own)?;
            let source = format!("{} ({}, outriggers {stands})", table.source, file.text());
            Some(Chart { source, sectors, deductions_kg, floats })
        });
        let sound = own.is_empty();
        file.with_faults(|faults| faults.absorb(own));
        read.filter(|_| sound)
    })
}

/// A column of capacities: where it stands, its unit, its boom length.
struct Column {
    at: usize,
    unit: String,
    boom_length: Quantity<Length>,
}

/// A sector under way.
struct Sector {
    name: String,
    swing: Option<Range<Angle>>,
    radii: Vec<Quantity<Length>>,
    rated_kg: Vec<Vec<Option<f64>>>,
}

/// The sectors for how the machine stands, which `outriggers` says.
fn sectors(table: &Table, outriggers: &Value<'_>, stands: &str, faults: &mut Faults) -> Option<Vec<ChartSector>> {
    if table.source.is_empty() {
        shape(
            faults,
            Place { line: 1, column: 1 },
            "",
            "a chart without its source",
            "a line # source: and where it is from",
        );
    }
    let radius = RADIUS.iter().find(|(head, _)| table.heads.iter().any(|cell| cell.text == *head));
    let (radius_head, radius_unit) = radius.copied().unwrap_or(("radius_ft", "ft"));
    let heads = ["outriggers", "sector", "swing", radius_head];
    check_heads(table, OF, &heads, &[], |head| head.contains(" at "), faults);
    let columns = columns(table, faults);
    let place = heads_place(table);
    if columns.is_empty() {
        shape(faults, place, "", "no column of capacities", "heads with unit and boom length, such as lb at 28 ft");
    }
    if !faults.is_empty() {
        return None;
    }
    let mut known: Vec<String> = Vec::new();
    let mut sectors: Vec<Sector> = Vec::new();
    for row in &table.rows {
        let of_row = words(row, "outriggers", faults);
        if !known.contains(&of_row) {
            known.push(of_row.clone());
        }
        if of_row == stands {
            add(&mut sectors, row, (radius_head, radius_unit), &columns, faults);
        }
    }
    if sectors.is_empty() && !stands.trim().is_empty() && faults.is_empty() {
        let nearest = nearest(stands, known.iter().map(String::as_str));
        outriggers.fault(FaultKind::NoSuch { what: "a row's outriggers", found: stands.to_owned(), nearest, known });
        return None;
    }
    let of_site = |found: Sector| ChartSector {
        name: found.name,
        swing: found.swing.map_or(Bracket::exactly(0.0), |swing| sector(swing.low(), swing.high())),
        boom_lengths_m: columns.iter().map(|column| column.boom_length.si()).collect(),
        radii_m: found.radii.iter().map(Quantity::si).collect(),
        rated_kg: found.rated_kg,
    };
    Some(sectors.into_iter().map(of_site).collect())
}

fn columns(table: &Table, faults: &mut Faults) -> Vec<Column> {
    let mut columns: Vec<Column> = Vec::new();
    for (at, head) in table.heads.iter().enumerate() {
        let Some((unit, length)) = head.text.split_once(" at ") else { continue };
        if let Err(fault) = Quantity::<Mass>::parse(&format!("1 {unit}")) {
            faults.add_at(head.place, "", FaultKind::Quantity { found: head.text.clone(), fault });
        }
        let Some(boom_length) = quantity::<Length>(length, ("10 ft", "300 ft"), head, "", faults) else { continue };
        if let Some(before) = columns.last()
            && boom_length.si() <= before.boom_length.si()
        {
            let kind = FaultKind::NotAscending {
                found: boom_length.said().to_owned(),
                before: before.boom_length.said().to_owned(),
            };
            faults.add_at(head.place, "", kind);
        }
        columns.push(Column { at, unit: unit.to_owned(), boom_length });
    }
    columns
}

/// Puts a row into its sector, which is new with its first row.
fn add(
    sectors: &mut Vec<Sector>,
    row: &Row,
    (radius_head, radius_unit): (&str, &str),
    columns: &[Column],
    faults: &mut Faults,
) {
    let name = words(row, "sector", faults);
    let (Ok(swing), Ok(radius)) = (row.cell("swing"), row.cell(radius_head)) else { return };
    let said = format!("{} {radius_unit}", radius.text);
    let Some(outward) = quantity::<Length>(&said, ("3 ft", "300 ft"), radius, radius_head, faults) else { return };
    let rated: Vec<Option<f64>> = columns.iter().filter_map(|column| rated(row, column, faults)).collect();
    if rated.len() != columns.len() {
        return;
    }
    let at = sectors.iter().position(|sector| sector.name == name).unwrap_or_else(|| {
        let swing = arc(swing, faults);
        sectors.push(Sector { name: name.clone(), swing, radii: Vec::new(), rated_kg: Vec::new() });
        sectors.len() - 1
    });
    let Some(sector) = sectors.get_mut(at) else { return };
    if let Some(first) = sector.swing.as_ref().filter(|first| first.said() != swing.text) {
        let expected = format!("\"{}\" as in the sector's first row", first.said());
        shape(faults, swing.place, "swing", format!("\"{}\"", shorten(&swing.text)), expected);
    }
    if let Some(before) = sector.radii.last()
        && outward.si() <= before.si()
    {
        let kind = FaultKind::NotAscending { found: said, before: before.said().to_owned() };
        faults.add_at(radius.place, radius_head, kind);
    }
    sector.radii.push(outward);
    sector.rated_kg.push(rated);
}

/// A capacity, or "-" outside the chart; a blank cell is neither.
fn rated(row: &Row, column: &Column, faults: &mut Faults) -> Option<Option<f64>> {
    let cell = row.cells.get(column.at)?;
    if cell.text == "-" {
        return Some(None);
    }
    let head = format!("{} at {}", column.unit, column.boom_length.said());
    if cell.text.is_empty() {
        shape(faults, cell.place, &head, "an empty cell", "a capacity, or - outside the chart");
        return None;
    }
    let said = format!("{} {}", cell.text, column.unit);
    quantity::<Mass>(&said, ("1 lb", "500000 lb"), cell, &head, faults).map(|mass| Some(mass.si()))
}

fn quantity<D: Dimension>(
    said: &str,
    (low, high): (&str, &str),
    cell: &Cell,
    field: &str,
    faults: &mut Faults,
) -> Option<Quantity<D>> {
    let end = |text| Quantity::<D>::parse(text).map_or(f64::NAN, |end| end.si());
    let kind = match Quantity::<D>::parse(said) {
        Ok(value) if (end(low)..=end(high)).contains(&value.si()) => return Some(value),
        Ok(_) => {
            let (low, high) = (low.to_owned(), high.to_owned());
            FaultKind::OutOfBand { found: said.to_owned(), what: D::INFO.what, low, high }
        }
        Err(fault) => FaultKind::Quantity { found: said.to_owned(), fault },
    };
    faults.add_at(cell.place, field, kind);
    None
}

fn arc(cell: &Cell, faults: &mut Faults) -> Option<Range<Angle>> {
    let kind = match Range::<Angle>::parse(&cell.text) {
        Ok(arc) if arc.high() - arc.low() > TAU + 1e-9 => FaultKind::MoreThanACircle { found: cell.text.clone() },
        Ok(arc) if arc.low() >= -TAU - 1e-9 && arc.high() <= TAU + 1e-9 => return Some(arc),
        Ok(_) => FaultKind::OutOfBand {
            found: cell.text.clone(),
            what: "an angle",
            low: "-360 deg".to_owned(),
            high: "360 deg".to_owned(),
        },
        Err(fault) => FaultKind::Quantity { found: cell.text.clone(), fault },
    };
    faults.add_at(cell.place, "swing", kind);
    None
}
