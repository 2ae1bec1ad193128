//! The report as text: what governs first, then findings, tables, and what it all rests on.

use super::table::{Align, Table};
use super::{CapacityRow, FindingRow, GapRow, OtherKind, Report, Verdict};
use crate::finding::Grade;
use crate::quantity::show::{Round, Units, show_force, show_length, show_mass};
use crate::rules::PairState;
use std::fmt::Write;

/// How the text is to look.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    pub units: Units,
    /// Escape sequences for a terminal. Colour repeats what the words say, never more.
    pub colour: bool,
}

const WIDTH: usize = 110;

/// Pairs with more margin than this are summed up.
const FAR_M: f64 = 6.0;

/// The whole report, ending in a line break.
pub fn render(report: &Report, look: Look) -> String {
    let mut page = Page { look, text: String::new() };
    page.opening(report);
    page.governing(report);
    page.findings(report);
    page.gaps(report);
    page.capacity(report);
    page.pole(report);
    page.chokers(report);
    page.wires(report);
    page.covers(report);
    page.steps(report);
    page.list("Assumed", &report.assumed);
    page.list("Not checked", &report.not_checked);
    page.list("Sources", &report.sources);
    page.closing();
    page.text
}

struct Page {
    look: Look,
    text: String,
}

impl Page {
    fn opening(&mut self, report: &Report) {
        let count = |grade, one: &str| match report.count(grade) {
            1 => format!("1 {one}"),
            n => format!("{n} {one}s"),
        };
        let verdict = match report.verdict {
            Verdict::Stop => self.paint("STOP", Grade::Stop),
            Verdict::Caution => self.paint("CAUTION", Grade::Caution),
            Verdict::NoStopFound => "NO STOP FOUND IN WHAT WAS CHECKED".to_owned(),
        };
        let qualifier = if report.verdict == Verdict::Caution { " No stop found in what was checked." } else { "" };
        let counts =
            [count(Grade::Stop, "stop"), count(Grade::Caution, "caution"), count(Grade::Note, "note")].join(", ");
        self.line(&report.scene);
        self.line(&format!("{verdict}  {counts}.{qualifier}"));
    }

    fn governing(&mut self, report: &Report) {
        let Some(gap) = report.governing() else { return };
        self.heading("What governs");
        let mut place = format!("{} to {}", gap.body, other(gap));
        if !gap.weather.is_empty() {
            let _ = write!(place, ", {}", gap.weather);
        }
        if let Some(step) = gap.step {
            let _ = write!(place, ", step {} \"{}\"", step + 1, step_name(report, step));
        }
        if let Some(time) = gap.time_s {
            let _ = write!(place, ", at {}", clock(time));
        }
        self.line(&format!("  {place}: {}", self.state(gap.state)));
        self.line(&format!(
            "  gap {} - allowances {} - required {} = margin {}",
            self.down(gap.low_m),
            self.up(gap.allowance_m),
            self.up(gap.required_m),
            self.down(gap.margin_m),
        ));
        self.line(&format!(
            "  (arithmetic known to {:.1} mm; the allowances are how well the world is known)",
            (gap.high_m - gap.low_m).max(0.0) * 1000.0
        ));
        self.line(&format!("  {}", gap.rule));
    }

    fn findings(&mut self, report: &Report) {
        self.heading("Findings");
        if report.findings.is_empty() {
            self.line("  none");
        }
        for finding in &report.findings {
            self.finding(report, finding);
        }
    }

    fn finding(&mut self, report: &Report, f: &FindingRow) {
        let grade = match f.grade {
            Grade::Stop => "STOP   ",
            Grade::Caution => "CAUTION",
            Grade::Note => "note   ",
        };
        let painted = self.paint(grade, f.grade);
        let mut place = String::new();
        if let Some(step) = f.step {
            let _ = write!(place, "Step {} \"{}\"", step + 1, step_name(report, step));
            if let Some(time) = f.time_s {
                let _ = write!(place, " at {}", clock(time));
            }
            place.push_str(": ");
        }
        self.wrapped(&format!("  {painted} "), "          ", &format!("{place}{}", f.message), 10);
        if !f.mend.is_empty() {
            self.wrapped("          Mend: ", "                ", &f.mend, 16);
        }
        if !f.rule.is_empty() {
            self.wrapped("          Rule: ", "                ", &f.rule, 16);
        }
    }

    fn gaps(&mut self, report: &Report) {
        let mut table = Table::new(&[
            ("what moves", Align::Left),
            ("near", Align::Left),
            ("weather", Align::Left),
            ("gap", Align::Right),
            ("allowances", Align::Right),
            ("required", Align::Right),
            ("margin", Align::Right),
            ("state", Align::Left),
            ("step", Align::Right),
            ("at", Align::Right),
        ]);
        let (near, far) = worst_weather(report)
            .into_iter()
            .partition::<Vec<_>, _>(|gap| gap.state != PairState::Apart || gap.margin_m < FAR_M);
        for gap in near {
            table.row(vec![
                gap.body.clone(),
                other(gap),
                gap.weather.clone(),
                self.down(gap.low_m),
                self.up(gap.allowance_m),
                self.up(gap.required_m),
                self.down(gap.margin_m),
                state_word(gap.state).to_owned(),
                gap.step.map_or(String::new(), |s| (s + 1).to_string()),
                gap.time_s.map_or(String::new(), clock),
            ]);
        }
        self.table("Gaps, smallest over the whole path, worst weather (margin = gap - allowances - required)", &table);
        if let Some(least) = far.iter().map(|gap| gap.margin_m).min_by(f64::total_cmp) {
            self.line(&format!(
                "  and {} pairs more, apart, each with a margin of {} or more",
                far.len(),
                self.down(least)
            ));
        }
    }

    fn capacity(&mut self, report: &Report) {
        let mut table = Table::new(&[
            ("step", Align::Right),
            ("at", Align::Right),
            ("radius", Align::Right),
            ("boom", Align::Right),
            ("angle", Align::Right),
            ("load", Align::Right),
            ("rated", Align::Right),
            ("used", Align::Right),
            ("ruled by", Align::Left),
        ]);
        let mut rows = report.capacity.iter().peekable();
        while let Some(row) = rows.next() {
            let mut last = row.step;
            while let Some(next) = rows.next_if(|next| same_load(next, row)) {
                last = next.step;
            }
            let steps =
                if last == row.step { (row.step + 1).to_string() } else { format!("{}-{}", row.step + 1, last + 1) };
            table.row(vec![
                steps,
                clock(row.time_s),
                self.up(row.radius_m),
                self.length(row.boom_length_m),
                format!("{:.1} deg", row.boom_angle_deg),
                self.mass(row.load_kg),
                row.rated_kg.map_or("none".into(), |kg| self.rated(kg)),
                row.used_percent.map_or("-".into(), |p| format!("{:.0} %", p.ceil())),
                row.ruled_by.clone(),
            ]);
        }
        self.table("Capacity, worst instant of each step (block, rigging and line count as load)", &table);
    }

    fn pole(&mut self, report: &Report) {
        let pole = &report.pole;
        self.heading("Pole");
        let unknown = || "not known".to_owned();
        let mut rows = vec![
            ("length".to_owned(), format!("{}   {}", self.length(pole.length_m), pole.name)),
            (
                "mass as it hangs".to_owned(),
                match (pole.mass_low_kg, pole.mass_kg) {
                    (Some(low), Some(high)) if high - low > 0.5 => {
                        format!("{} (may be as light as {})", self.mass(high), self.mass(low))
                    }
                    (_, Some(high)) => self.mass(high),
                    _ => unknown(),
                },
            ),
            (
                "balance from butt".to_owned(),
                match (pole.balance_low_from_butt_m, pole.balance_from_butt_m) {
                    (Some(low), Some(high)) if high - low > 0.005 => {
                        format!("{} to {}", self.length(low), self.length(high))
                    }
                    (_, Some(high)) => self.length(high),
                    _ => unknown(),
                },
            ),
            ("choker from butt".to_owned(), self.length(pole.pick_from_butt_m)),
            ("hangs out of plumb".to_owned(), pole.hang_tilt_deg.map_or_else(unknown, |d| format!("{d:.2} deg"))),
            ("hold at the butt for plumb".to_owned(), pole.butt_hold_force_n.map_or_else(unknown, |n| self.force(n))),
            (
                "hook load, butt grounded".to_owned(),
                pole.hook_load_butt_grounded_kg.map_or_else(unknown, |kg| self.mass(kg)),
            ),
            ("setting depth".to_owned(), self.length(pole.setting_depth_m)),
        ];
        if !pole.source.is_empty() {
            rows.push(("from".to_owned(), pole.source.clone()));
        }
        for (what, value) in rows {
            self.line(&format!("  {what:<27} {value}"));
        }
    }

    fn chokers(&mut self, report: &Report) {
        let mut table =
            Table::new(&[("way of entering", Align::Left), ("choker from butt", Align::Left), ("why", Align::Left)]);
        for row in &report.chokers {
            let height = match (row.low_from_butt_m, row.high_from_butt_m) {
                (Some(low), Some(high)) => format!("{} to {}", self.length(low), self.length(high)),
                _ => "none".to_owned(),
            };
            table.row(vec![row.way.clone(), height, row.why.clone()]);
        }
        self.table("Choker heights that keep hook and wire rope out of the slot", &table);
    }

    fn wires(&mut self, report: &Report) {
        let mut table = Table::new(&[
            ("wire", Align::Left),
            ("weather", Align::Left),
            ("state", Align::Left),
            ("span", Align::Right),
            ("tension", Align::Left),
            ("sag", Align::Left),
            ("blowout", Align::Right),
            ("lowest", Align::Right),
        ]);
        let mut shown: Vec<Vec<String>> = Vec::new();
        for row in &report.wires {
            let cells = vec![
                row.wire.clone(),
                row.weather.clone(),
                row.state.clone(),
                self.length(row.span_m),
                self.range(row.horizontal_tension_low_n, row.horizontal_tension_high_n, Self::force),
                self.range(row.sag_low_m, row.sag_high_m, Self::length),
                format!("{:.1} deg", row.blowout_deg),
                self.down(row.lowest_point.z),
            ];
            if !shown.contains(&cells) {
                shown.push(cells.clone());
                table.row(cells);
            }
        }
        self.table("Wires", &table);
        let mut held = Table::new(&[
            ("held out", Align::Left),
            ("wire", Align::Left),
            ("side force", Align::Right),
            ("tension up to", Align::Right),
            ("on after", Align::Left),
            ("off before", Align::Left),
        ]);
        for row in &report.held_out {
            held.row(vec![
                row.name.clone(),
                row.wire.clone(),
                row.side_force_n.map_or("not known".into(), |n| self.force(n)),
                row.tension_high_n.map_or("not known".into(), |n| self.force(n)),
                during(report, row.on_after_step, "before the first step"),
                during(report, row.off_before_step, "stays"),
            ]);
        }
        self.table("Held-out phases", &held);
    }

    fn covers(&mut self, report: &Report) {
        let mut table = Table::new(&[
            ("cover", Align::Left),
            ("on", Align::Left),
            ("from", Align::Right),
            ("to", Align::Right),
            ("class", Align::Left),
            ("by", Align::Left),
            ("pieces", Align::Right),
            ("on after", Align::Left),
            ("off before", Align::Left),
        ]);
        for row in &report.covers {
            table.row(vec![
                row.name.clone(),
                row.on.clone(),
                self.length(row.from_m),
                self.length(row.to_m),
                row.class.clone(),
                row.method.clone(),
                row.pieces.map_or("?".into(), |n| n.to_string()),
                during(report, row.on_after_step, "before the first step"),
                during(report, row.off_before_step, "stays"),
            ]);
        }
        self.table("Covers (wires: along the line from abeam the hole; pole: from the butt)", &table);
    }

    fn steps(&mut self, report: &Report) {
        let mut table = Table::new(&[
            ("step", Align::Right),
            ("at", Align::Right),
            ("what", Align::Left),
            ("signals", Align::Left),
            ("hold point", Align::Left),
        ]);
        for row in &report.steps {
            table.row(vec![
                (row.step + 1).to_string(),
                clock(row.from_s),
                row.name.clone(),
                row.signals.join(", "),
                row.hold.clone().unwrap_or_default(),
            ]);
        }
        self.table("Sequence", &table);
    }

    fn closing(&mut self) {
        self.line("");
        self.wrapped(
            "",
            "",
            "This is a planning aid. It looks for trouble in what it was told and cannot see what it was not told. Local codes, \
             the utility's rules, the makers' charts and manuals and licensed practice govern; the crew, the operator or anyone \
             on the job may stop the work at any time. Measure again on the morning of the job and run it again.",
            0,
        );
    }

    // ------------------------------------------------------------------------------------------------------ pieces

    fn line(&mut self, line: &str) {
        self.text.push_str(line.trim_end());
        self.text.push('\n');
    }

    fn heading(&mut self, heading: &str) {
        self.line("");
        let heading = if self.look.colour { format!("\x1b[1m{heading}\x1b[0m") } else { heading.to_owned() };
        self.line(&heading);
    }

    fn table(&mut self, heading: &str, table: &Table) {
        if !table.is_empty() {
            self.heading(heading);
            for line in table.lines() {
                self.line(&line);
            }
        }
    }

    fn list(&mut self, heading: &str, items: &[String]) {
        if !items.is_empty() {
            self.heading(heading);
            for item in items {
                self.wrapped("  - ", "    ", item, 4);
            }
        }
    }

    /// Breaks `text` at blanks; `first` opens the first line, `rest` the others, both `indent` wide on screen.
    fn wrapped(&mut self, first: &str, rest: &str, text: &str, indent: usize) {
        let mut line = first.to_owned();
        let mut used = indent;
        let mut empty = true;
        for word in text.split_whitespace() {
            let long = word.chars().count();
            if !empty && used + 1 + long > WIDTH {
                self.line(&line);
                line = rest.to_owned();
                used = indent;
                empty = true;
            }
            if !empty {
                line.push(' ');
                used += 1;
            }
            line.push_str(word);
            used += long;
            empty = false;
        }
        self.line(&line);
    }

    fn paint(&self, word: &str, grade: Grade) -> String {
        let code = match grade {
            Grade::Stop => "1;7;31",
            Grade::Caution => "1;33",
            Grade::Note => "2",
        };
        if self.look.colour { format!("\x1b[{code}m{word}\x1b[0m") } else { word.to_owned() }
    }

    fn state(&self, state: PairState) -> String {
        let grade = match state {
            PairState::Touch | PairState::Undecided | PairState::Short => Grade::Stop,
            PairState::Covered => Grade::Caution,
            PairState::Apart => Grade::Note,
        };
        self.paint(state_word(state), grade)
    }

    fn length(&self, metres: f64) -> String {
        show_length(metres, self.look.units, Round::Nearest)
    }

    /// What must not look larger than it is.
    fn down(&self, metres: f64) -> String {
        show_length(metres, self.look.units, Round::Down)
    }

    /// What must not look smaller than it is.
    fn up(&self, metres: f64) -> String {
        show_length(metres, self.look.units, Round::Up)
    }

    fn mass(&self, kg: f64) -> String {
        show_mass(kg, self.look.units, Round::Up)
    }

    /// A capacity must not look larger than it is.
    fn rated(&self, kg: f64) -> String {
        show_mass(kg, self.look.units, Round::Down)
    }

    fn force(&self, newtons: f64) -> String {
        show_force(newtons, self.look.units, Round::Nearest)
    }

    fn range(&self, low: f64, high: f64, show: impl Fn(&Self, f64) -> String) -> String {
        let (low, high) = (show(self, low), show(self, high));
        if low == high { low } else { format!("{low} to {high}") }
    }
}

/// One row per body and other, in its worst weather; the worst pair first.
fn worst_weather(report: &Report) -> Vec<&GapRow> {
    let mut rows: Vec<&GapRow> = report.gaps.iter().collect();
    rows.sort_by(|a, b| a.state.cmp(&b.state).then(a.margin_m.total_cmp(&b.margin_m)));
    let mut kept: Vec<&GapRow> = Vec::new();
    for row in rows {
        if !kept.iter().any(|k| k.body == row.body && k.other == row.other && k.other_kind == row.other_kind) {
            kept.push(row);
        }
    }
    kept
}

fn other(gap: &GapRow) -> String {
    match gap.other_kind {
        OtherKind::Wire => format!("wire {}", gap.other),
        _ => gap.other.clone(),
    }
}

fn state_word(state: PairState) -> &'static str {
    match state {
        PairState::Touch => "touch",
        PairState::Undecided => "undecided",
        PairState::Short => "short",
        PairState::Covered => "covered",
        PairState::Apart => "apart",
    }
}

fn step_name(report: &Report, step: usize) -> &str {
    report.steps.get(step).map_or("?", |s| s.name.as_str())
}

fn during(report: &Report, step: Option<usize>, otherwise: &str) -> String {
    step.map_or(otherwise.to_owned(), |s| format!("step {} {}", s + 1, step_name(report, s)))
}

fn same_load(a: &CapacityRow, b: &CapacityRow) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() < 1e-3;
    near(a.radius_m, b.radius_m)
        && near(a.boom_length_m, b.boom_length_m)
        && near(a.load_kg, b.load_kg)
        && a.used_percent.map(f64::ceil) == b.used_percent.map(f64::ceil)
        && a.ruled_by == b.ruled_by
}

/// Minutes and seconds from the first step.
fn clock(seconds: f64) -> String {
    if !seconds.is_finite() || !(0.0..1e7).contains(&seconds) {
        return "?".to_owned();
    }
    let seconds = seconds.round() as u64;
    format!("{}:{:02}", seconds / 60, seconds % 60)
}
