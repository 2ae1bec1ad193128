//! A machine's own load chart: sectors of swing, in each rows by radius and columns by boom length.

use super::fault::FaultKind;
use super::measure::{Measure, ascending};
use super::tree::Tree;
use super::value::Value;
use crate::quantity::{Angle, Length, Mass};
use crate::site;

pub(super) fn chart(value: &Value<'_>) -> site::Chart {
    value.fields("the chart", |f| {
        let source = f.text("source");
        // What the chart makes the user deduct besides hook block and rigging.
        let deductions_kg = f.si::<Mass>("deductions", "0 lb", "20000 lb");
        let floats = f.may("floats").map(|value| float_spread(&value));
        let sectors = f.list_of("sectors", 1);
        f.note();
        let read = sectors.items.iter().map(sector).collect();
        sectors.named_once("the sector");
        site::Chart { source, sectors: read, deductions_kg, floats }
    })
}

/// The spread of the floats that a chart was made for, center to center.
pub(super) fn float_spread(value: &Value<'_>) -> site::FloatSpread {
    value.fields("the spread of the floats", |f| {
        let along_m = f.si::<Length>("along", "4 ft", "80 ft");
        let across_m = f.si::<Length>("across", "4 ft", "40 ft");
        f.note();
        site::FloatSpread { along_m, across_m }
    })
}

fn sector(value: &Value<'_>) -> site::ChartSector {
    value.fields("a sector of the chart", |f| {
        let name = f.text("name");
        let swing = f.bounds::<Angle>("swing", "-360 deg", "360 deg");
        let lengths = f.list_of("boom_lengths", 1).items;
        let lengths: Vec<Measure<'_, Length>> = lengths.iter().map(|value| value.measure("10 ft", "300 ft")).collect();
        let rows = f.list_of("rows", 1).items;
        let rows: Vec<_> = rows.iter().map(|value| row(value, lengths.len())).collect();
        f.note();
        swing.check_circle();
        ascending(&lengths);
        ascending(rows.iter().map(|(radius, _)| radius));
        site::ChartSector {
            name,
            swing: swing.sector(),
            boom_lengths_m: lengths.iter().map(Measure::si).collect(),
            radii_m: rows.iter().map(|(radius, _)| radius.si()).collect(),
            rated_kg: rows.into_iter().map(|(_, rated)| rated).collect(),
        }
    })
}

/// A radius, and what is rated there at each of so many boom lengths.
fn row<'n>(value: &Value<'n>, expected: usize) -> (Measure<'n, Length>, Vec<Option<f64>>) {
    value.fields("a row of the chart", |f| {
        let radius = f.measure("radius", "3 ft", "300 ft");
        let rated = f.list_of("rated", 1);
        let found = rated.items.len();
        let wrong = found != expected && found > 0 && expected > 0;
        let kg = rated.items.iter().map(cell).collect();
        rated.at.fault_if(wrong, || FaultKind::RowLength { found, expected });
        (radius, kg)
    })
}

/// A rated load, or "-" outside the chart.
fn cell(value: &Value<'_>) -> Option<f64> {
    match value.node().map(|node| &node.tree) {
        Some(Tree::Text(text)) if text.trim() == "-" => None,
        _ => Some(value.measure::<Mass>("1 lb", "500000 lb").si()),
    }
}
