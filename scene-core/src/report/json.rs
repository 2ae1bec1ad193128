//! The report as JSON: one object, `plumbrise-report/1`. Keys carry their unit; a value that is missing or not finite is null.

use super::words::{self, Words};
use crate::cover;
use crate::finding::{Finding, Grade};
use crate::outcome::{
    AllowanceRow, BasisRow, CapacityRow, ChokerRow, ConditionsRow, FloatRow, GapRow, HeldOutRow, PoleRow, Report,
    StepRow, SweptRow, Verdict, WayOutRow, WireRow,
};
use crate::quantity::show::Units;
use serde::Serialize;

const FORMAT: &str = "plumbrise-report/1";

/// The report as one pretty JSON object, ending in a line break. Sentences name quantities in both systems of units.
pub fn render(report: &Report) -> String {
    let mut text = serde_json::to_string_pretty(&Document::of(report)).unwrap_or_else(|fault| {
        // Only a map with keys that are not strings can fail, and there is none.
        format!("{{\"format\":\"{FORMAT}\",\"fault\":\"{fault}\"}}")
    });
    text.push('\n');
    text
}

#[derive(Serialize)]
struct Document<'a> {
    format: &'static str,
    scene: &'a str,
    verdict: Verdict,
    basis: &'a BasisRow,
    conditions: &'a ConditionsRow,
    pole: &'a PoleRow,
    wires: &'a [WireRow],
    gaps: &'a [GapRow],
    way_out: &'a [WayOutRow],
    swept: &'a [SweptRow],
    capacity: Vec<Capacity<'a>>,
    floats: &'a [FloatRow],
    covers: &'a [cover::Row],
    held_out: &'a [HeldOutRow],
    chokers: Vec<Choker<'a>>,
    steps: &'a [StepRow],
    findings: Vec<FindingRow>,
    allowances: &'a [AllowanceRow],
    assumed: Vec<String>,
    not_checked: Vec<String>,
    sources: &'a [String],
}

impl<'a> Document<'a> {
    fn of(report: &'a Report) -> Self {
        // All fields are named, so that none is forgotten.
        let Report {
            scene,
            verdict,
            basis,
            conditions,
            pole,
            wires,
            gaps,
            way_out,
            swept,
            capacity,
            floats,
            covers,
            held_out,
            chokers,
            steps,
            findings,
            allowances,
            assumed,
            not_checked,
            sources,
        } = report;
        Self {
            format: FORMAT,
            scene,
            verdict: *verdict,
            basis,
            conditions,
            pole,
            wires,
            gaps,
            way_out,
            swept,
            capacity: capacity.iter().map(Capacity::of).collect(),
            floats,
            covers,
            held_out,
            chokers: chokers.iter().map(Choker::of).collect(),
            steps,
            findings: findings.iter().map(FindingRow::of).collect(),
            allowances,
            assumed: assumed.iter().map(|assumed| words::assumed(assumed, Units::Both)).collect(),
            not_checked: not_checked.iter().map(words::not_checked).collect(),
            sources,
        }
    }
}

#[derive(Serialize)]
struct Capacity<'a> {
    #[serde(flatten)]
    row: &'a CapacityRow,
    ruled_by: String,
}

impl<'a> Capacity<'a> {
    fn of(row: &'a CapacityRow) -> Self {
        Self { row, ruled_by: words::ruled_by(row.ruled_by.as_ref(), Units::Both) }
    }
}

#[derive(Serialize)]
struct Choker<'a> {
    #[serde(flatten)]
    row: &'a ChokerRow,
    why: String,
}

impl<'a> Choker<'a> {
    fn of(row: &'a ChokerRow) -> Self {
        Self { row, why: words::choker(&row.why, Units::Both) }
    }
}

#[derive(Serialize)]
struct FindingRow {
    grade: Grade,
    code: &'static str,
    message: String,
    step: Option<usize>,
    time_s: Option<f64>,
    value: Option<f64>,
    limit: Option<f64>,
    /// Of `value` and `limit`, SI; empty where there is neither.
    unit: &'static str,
    rule: String,
    fix: String,
}

impl FindingRow {
    fn of(finding: &Finding) -> Self {
        let Words { message, fix, rule } = words::of(finding, Units::Both);
        Self {
            grade: finding.grade,
            code: finding.code(),
            message,
            step: finding.step,
            time_s: finding.time_s,
            value: finding.measured.map(|measured| measured.value),
            limit: finding.limit.map(|limit| limit.value),
            unit: finding.measured.map_or("", |measured| measured.unit.symbol()),
            rule,
            fix,
        }
    }
}
