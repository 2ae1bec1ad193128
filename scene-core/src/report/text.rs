//! The report as text: what governs first, then findings, tables, and what it all rests on.

mod basis;
mod short;

use super::table::{Align, Table, broken};
use super::words::{self, Words};
use crate::finding::{Finding, Grade};
use crate::outcome::{CapacityRow, GapRow, OtherKind, Report, StepRow, Way, WayEnd, WayOf, WayOutRow};
use crate::quantity::show::{Round, Units, show_feet_inches, show_force, show_length, show_mass, show_pressure};
use crate::rules::PairState;
use glam::DVec3;
use std::fmt::Write;
use unicode_width::UnicodeWidthStr;

/// How the text is to look.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    pub units: Units,
    /// Escape sequences for a terminal. Color repeats what the words say, never more.
    pub colour: bool,
}

/// Columns of the whole report, and of the short one.
const WIDTH: usize = 110;
const SHORT_WIDTH: usize = 100;

/// Pairs with more margin than this are summed up.
const FAR_M: f64 = 6.0;

/// What a foreman reads first, on one page: the verdict, what governs, every stop, every caution, what it rests on, and the
/// pairs with the least left. It ends in a line break.
pub fn render_short(report: &Report, look: Look) -> String {
    let mut page = Page { look, width: SHORT_WIDTH, text: String::new() };
    page.short(report);
    page.text
}

/// The whole report, ending in a line break.
pub fn render(report: &Report, look: Look) -> String {
    let mut page = Page { look, width: WIDTH, text: String::new() };
    page.opening(report);
    page.governing(report);
    page.findings(report);
    page.gaps(report);
    page.way_out(report);
    page.capacity(report);
    page.floats(report);
    page.pole(report);
    page.chokers(report);
    page.wires(report);
    page.covers(report);
    page.steps(report);
    page.allowances(report);
    page.basis(report);
    let assumed: Vec<String> = report.assumed.iter().map(|assumed| words::assumed(assumed, look.units)).collect();
    page.list("Assumed", &assumed);
    let not_checked: Vec<String> = report.not_checked.iter().map(words::not_checked).collect();
    page.list("Not checked", &not_checked);
    page.list("Sources", &report.sources);
    page.closing();
    page.text
}

struct Page {
    look: Look,
    width: usize,
    text: String,
}

impl Page {
    fn governing(&mut self, report: &Report) {
        let Some((_, gap)) = report.governing() else { return };
        self.heading("What governs");
        let margin = self.down(gap.margin_m);
        let lead = format!("{} to {}: {}, margin {margin}", gap.body, other(gap), self.state(gap.state));
        self.line(&format!("  {lead}"));
        self.wrapped("  ", meaning(gap.state));
        let mut when = gap.step.map_or(String::new(), |step| in_step(report, step, gap.time_s));
        if !gap.weather.is_empty() {
            let _ = write!(when, "{}weather: {}", if when.is_empty() { "" } else { ", " }, gap.weather);
        }
        self.line(&format!("  {when}"));
        let known_mm = (gap.high_m - gap.low_m).max(0.0) * 1000.0;
        let [there, allowed, required, left] = self.sum(gap);
        let rows = [
            (' ', "gap", there, format!("at that instant, arithmetic good to {known_mm:.1} mm")),
            ('-', "allowances", allowed, "how well the world is known, as the scene states".to_owned()),
            ('-', "required", required, gap.rule.clone()),
            ('=', "left", left, "each figure rounded to the careful side".to_owned()),
        ];
        for (sign, what, value, why) in rows {
            self.wrapped(&format!("  {sign} {what:<10} {value:>12}   "), &why);
        }
        if let (Some(body), Some(other)) = (gap.point_on_body, gap.point_on_other) {
            self.line(&format!("  nearest: {} to {} (east, north, up)", self.point(body), self.point(other)));
        }
    }

    fn findings(&mut self, report: &Report) {
        self.heading("Findings");
        if report.findings.is_empty() {
            self.line("  none");
        }
        let mut rule = String::new();
        for finding in &report.findings {
            rule = self.finding(report, finding, &rule);
        }
    }

    /// `rule_above`: of the finding before, which is not said again. Gives the rule of this one.
    fn finding(&mut self, report: &Report, f: &Finding, rule_above: &str) -> String {
        let grade = match f.grade {
            Grade::Stop => "STOP   ",
            Grade::Caution => "CAUTION",
            Grade::Note => "note   ",
        };
        let place = f.step.map_or(String::new(), |step| in_step(report, step, f.time_s) + ": ");
        let Words { message, fix, rule } = words::of(f, self.look.units);
        let painted = self.paint(grade, f.grade);
        self.wrapped_as("  ", &painted, " ", &format!("{place}{message}"));
        if !fix.is_empty() {
            self.wrapped("          Fix:  ", &fix);
        }
        if !rule.is_empty() {
            self.wrapped("          Rule: ", if rule == rule_above { "as above" } else { &rule });
        }
        rule
    }

    fn gaps(&mut self, report: &Report) {
        let mut table = Table::new(&[
            ("what moves", Align::Left),
            ("near", Align::Left),
            ("gap", Align::Right),
            ("allowed", Align::Right),
            ("required", Align::Right),
            ("left", Align::Right),
            ("state", Align::Left),
            ("step", Align::Right),
            ("min:s", Align::Right),
        ]);
        let (near, far) = worst_weather(report)
            .into_iter()
            .partition::<Vec<_>, _>(|gap| gap.state != PairState::Apart || gap.margin_m < FAR_M);
        let mut states: Vec<PairState> = Vec::new();
        for gap in near {
            if !states.contains(&gap.state) {
                states.push(gap.state);
            }
            let [there, allowed, required, left] = self.sum(gap);
            table.row(vec![
                gap.body.clone(),
                other(gap),
                there,
                allowed,
                required,
                left,
                state_word(gap.state).to_owned(),
                gap.step.map_or(String::new(), |s| (s + 1).to_string()),
                gap.time_s.map_or(String::new(), clock),
            ]);
        }
        self.table("Gaps: each pair where it governs, in its worst weather", &table);
        if let Some(least) = far.iter().map(|gap| gap.margin_m).min_by(f64::total_cmp) {
            let pairs = if far.len() == 1 { "1 pair more, apart," } else { "more pairs, all apart," };
            let count = if far.len() == 1 { String::new() } else { format!("{} ", far.len()) };
            self.line(&format!("  and {count}{pairs} with a margin of {} or more", self.down(least)));
        }
        if !table.is_empty() {
            self.wrapped("  ", "left = gap - allowed - required; a required distance of zero means no contact.");
        }
        for state in states {
            self.wrapped("  ", &format!("{}: {}.", state_word(state), meaning(state)));
        }
    }

    /// One line per range of steps with the same way: the pole's, then the bucket's.
    fn way_out(&mut self, report: &Report) {
        if report.way_out.is_empty() {
            return;
        }
        self.heading("Way out of each step");
        let mut of: Vec<(WayOf, &Option<String>)> = report.way_out.iter().map(|row| (row.of, &row.lift)).collect();
        of.sort_by_key(|(of, _)| *of != WayOf::Load);
        let mut said: Vec<(WayOf, &Option<String>)> = Vec::new();
        for of in of {
            if said.contains(&of) {
                continue;
            }
            said.push(of);
            let mut rows = report.way_out.iter().filter(|row| (row.of, &row.lift) == of).peekable();
            while let Some(row) = rows.next() {
                let mut last = row;
                while let Some(next) = rows.next_if(|next| next.step == last.step + 1 && same_way(next, row)) {
                    last = next;
                }
                self.way(row, last.step);
            }
        }
        self.wrapped(
            "  ",
            "Proven with the wires and covers as they are in the step that it starts from: nothing is counted on that would have \
             to be put on or held aside again first.",
        );
    }

    fn way(&mut self, row: &WayOutRow, last: usize) {
        let steps = match last == row.step {
            true => format!("step {}", row.step + 1),
            false => format!("steps {} to {}", row.step + 1, last + 1),
        };
        let what = match row.of {
            WayOf::Load => "pole".to_owned(),
            WayOf::BucketTruck => row.lift.as_ref().map_or("bucket".to_owned(), |lift| format!("{lift} bucket")),
        };
        let way = match row.way {
            Some(Way::Back) => "back the way it came",
            Some(Way::On) => "on as planned",
            None => "none",
        };
        let end = match row.ends {
            Some(WayEnd::PoleLaidDown) => ", which lays it down where it lay",
            Some(WayEnd::BucketAtRest) => ", to its rest",
            None => "",
        };
        let why = match (&row.way, &row.none_because) {
            (None, Some(why)) => format!(": {why}"),
            _ => String::new(),
        };
        let governs = match (&row.body, &row.other, row.state) {
            (Some(body), Some(other), Some(state)) => {
                let margin = row.margin_m.map_or(String::new(), |m| format!(", margin {}", self.down(m)));
                let passing = row.passing_step.map_or(String::new(), |step| format!(" in step {}", step + 1));
                format!("; governed{passing} by {body} to wire {other}: {}{margin}", state_word(state))
            }
            _ => String::new(),
        };
        self.wrapped(&format!("  {steps}, {what}: "), &format!("{way}{end}{why}{governs}"));
    }

    fn capacity(&mut self, report: &Report) {
        let mut table = Table::new(&[
            ("steps", Align::Right),
            ("min:s", Align::Right),
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
                row.rated_kg.map_or("not rated".into(), |kg| self.rated(kg)),
                row.used_percent.map_or("-".into(), |p| format!("{:.0} %", p.ceil())),
                words::ruled_by(row.ruled_by.as_ref(), self.look.units),
            ]);
        }
        self.table("Capacity: worst instant of each step (block, rigging and line count as load)", &table);
    }

    fn floats(&mut self, report: &Report) {
        if report.floats.is_empty() {
            return;
        }
        // On level ground nothing is put under a float.
        let is_blocked = report.floats.iter().any(|row| row.blocking_m != Some(0.0));
        let mut columns = vec![
            ("float", Align::Left),
            ("step", Align::Right),
            ("at most", Align::Right),
            ("under its mat", Align::Right),
            ("ground bears", Align::Right),
        ];
        columns.extend(is_blocked.then_some(("jack and blocking", Align::Right)));
        let mut table = Table::new(&columns);
        for row in &report.floats {
            let mut cells = vec![
                row.name.clone(),
                (row.step + 1).to_string(),
                self.force_up(row.max_n),
                show_pressure(row.pressure_pa, self.look.units, Round::Up),
                row.allowed_pa.map_or("-".into(), |pa| show_pressure(pa, self.look.units, Round::Down)),
            ];
            let blocking = row.blocking_m.map_or("-".into(), |m| show_feet_inches(m, self.look.units, Round::Up));
            cells.extend(is_blocked.then_some(blocking));
            table.row(cells);
        }
        self.table("Floats: the hardest that each may press", &table);
    }

    fn pole(&mut self, report: &Report) {
        let pole = &report.pole;
        self.heading(&format!("Pole: {}", pole.name));
        let unknown = || "not known".to_owned();
        let mut rows = vec![
            ("length".to_owned(), self.length(pole.length_m)),
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
                    (Some(low), Some(high)) if high - low > 0.005 => range(&self.down(low), &self.up(high)),
                    (_, Some(high)) => self.length(high),
                    _ => unknown(),
                },
            ),
            ("choker from butt".to_owned(), self.length(pole.pick_from_butt_m)),
            ("hangs out of plumb".to_owned(), pole.hang_tilt_deg.map_or_else(unknown, |d| format!("{d:.2} deg"))),
            (
                "hold at the butt for plumb".to_owned(),
                pole.butt_hold_force_n.map_or_else(unknown, |n| self.force_up(n)),
            ),
            (
                "hook load, butt grounded".to_owned(),
                pole.hook_load_butt_grounded_kg.map_or_else(unknown, |kg| self.mass(kg)),
            ),
            ("setting depth".to_owned(), self.length(pole.setting_depth_m)),
        ];
        if !pole.source.is_empty() {
            rows.push(("weighed from".to_owned(), pole.source.clone()));
        }
        for (what, value) in rows {
            self.wrapped(&format!("  {what:<27} "), &value);
        }
    }

    fn chokers(&mut self, report: &Report) {
        let mut table =
            Table::new(&[("way of entering", Align::Left), ("choker from butt", Align::Left), ("why", Align::Left)]);
        for row in &report.chokers {
            let height = match (row.low_from_butt_m, row.high_from_butt_m) {
                (Some(low), Some(high)) => {
                    // Rounded inward: no height outside the band is offered.
                    range(&self.up(low), &self.down(high))
                }
                _ => "none".to_owned(),
            };
            table.row(vec![row.way.clone(), height, words::choker(&row.why, self.look.units)]);
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
            ("lowest point", Align::Right),
        ]);
        let mut shown: Vec<Vec<String>> = Vec::new();
        for row in &report.wires {
            let cells = vec![
                row.wire.clone(),
                row.weather.clone(),
                row.state.clone(),
                self.length(row.span_m),
                range(&self.force_down(row.horizontal_tension_low_n), &self.force_up(row.horizontal_tension_high_n)),
                range(&self.down(row.sag_low_m), &self.up(row.sag_high_m)),
                format!("{:.1} deg", row.blowout_deg),
                self.down(row.lowest_point.z),
            ];
            if !shown.contains(&cells) {
                shown.push(cells.clone());
                table.row(cells);
            }
        }
        self.table("Wires: the span that passes the hole, horizontal tension, blowout up to", &table);
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
                row.side_force_n.map_or("not known".into(), |n| self.force_up(n)),
                row.tension_high_n.map_or("not known".into(), |n| self.force_up(n)),
                during(row.on_after_step, "the start"),
                during(row.off_before_step, "stays on"),
            ]);
        }
        self.table("Held-out phases", &held);
    }

    fn covers(&mut self, report: &Report) {
        let mut table = Table::new(&[
            ("cover", Align::Left),
            ("on", Align::Left),
            ("from", Align::Left),
            ("pieces", Align::Right),
            ("on after", Align::Left),
            ("off before", Align::Left),
            ("class and method", Align::Left),
        ]);
        for row in &report.covers {
            table.row(vec![
                row.name.clone(),
                row.on.clone(),
                range(&self.length(row.from_m), &self.length(row.to_m)),
                row.pieces.map_or("?".into(), |n| n.to_string()),
                during(row.on_after_step, "the start"),
                during(row.off_before_step, "stays on"),
                format!("{}, by {}", row.class, row.method),
            ]);
        }
        self.table("Covers (wires: along the line from abeam the hole; pole: from the butt)", &table);
    }

    fn steps(&mut self, report: &Report) {
        let mut table = Table::new(&[
            ("step", Align::Right),
            ("min:s", Align::Right),
            ("what", Align::Left),
            ("signals", Align::Left),
        ]);
        for row in &report.steps {
            table.row(vec![(row.step + 1).to_string(), clock(row.from_s), row.name.clone(), row.signals.join(", ")]);
        }
        if table.is_empty() {
            return;
        }
        self.heading("Sequence");
        let holds = std::iter::once(None).chain(report.steps.iter().map(|step: &StepRow| step.hold.as_deref()));
        for (block, hold) in table.blocks(self.width).into_iter().zip(holds) {
            for line in block {
                self.line(&line);
            }
            if let Some(question) = hold {
                self.wrapped("                 HOLD until: ", question);
            }
        }
    }

    fn allowances(&mut self, report: &Report) {
        let mut table = Table::new(&[("for", Align::Left), ("allowed", Align::Right), ("why", Align::Left)]);
        for row in &report.allowances {
            table.row(vec![row.what.to_owned(), self.up(row.value_m), row.reason.clone()]);
        }
        self.table("Allowances: how well the world is known", &table);
    }

    fn closing(&mut self) {
        self.line("");
        self.wrapped(
            "",
            "This is a planning aid. It looks for trouble in what it was told and cannot see what it was not told. Local codes, \
             the utility's rules, the makers' charts and manuals and licensed practice govern; the crew, the operator or anyone \
             on the job may stop the work at any time. Measure again on the morning of the job and run it again.",
        );
    }

    // ------------------------------------------------------------------------------------------------------ pieces

    fn line(&mut self, line: &str) {
        self.text.push_str(harmless(line.trim_end(), self.look.colour).trim_end());
        self.text.push('\n');
    }

    fn heading(&mut self, heading: &str) {
        self.line("");
        let heading = if self.look.colour { format!("{BOLD}{heading}{PLAIN}") } else { heading.to_owned() };
        self.line(&heading);
    }

    fn table(&mut self, heading: &str, table: &Table) {
        if !table.is_empty() {
            self.heading(heading);
            for line in table.blocks(self.width).concat() {
                self.line(&line);
            }
        }
    }

    fn list(&mut self, heading: &str, items: &[String]) {
        if !items.is_empty() {
            self.heading(heading);
            for item in items {
                self.wrapped("  - ", item);
            }
        }
    }

    /// A text broken at blanks; `first` opens its first line, the others are indented as far.
    fn wrapped(&mut self, first: &str, text: &str) {
        self.wrapped_as("", first, "", text);
    }

    /// The same with an opening in three, of which the middle may be painted.
    fn wrapped_as(&mut self, before: &str, painted: &str, after: &str, text: &str) {
        let indent = [before, painted, after].map(seen).iter().sum();
        let mut opening = [before, painted, after].concat();
        let pieces = broken(text, self.width.saturating_sub(indent));
        if pieces.is_empty() {
            self.line(&opening);
        }
        for piece in pieces {
            self.line(&format!("{opening}{piece}"));
            opening = " ".repeat(indent);
        }
    }

    fn paint(&self, word: &str, grade: Grade) -> String {
        let code = match grade {
            Grade::Stop => STOP_COLOUR,
            Grade::Caution => CAUTION_COLOUR,
            Grade::Note => NOTE_COLOUR,
        };
        if self.look.colour { format!("{code}{word}{PLAIN}") } else { word.to_owned() }
    }

    fn state(&self, state: PairState) -> String {
        let grade = match state {
            stop if stop.is_stop() => Grade::Stop,
            PairState::Covered | PairState::Tight => Grade::Caution,
            _ => Grade::Note,
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

    fn force_up(&self, newtons: f64) -> String {
        show_force(newtons, self.look.units, Round::Up)
    }

    fn force_down(&self, newtons: f64) -> String {
        show_force(newtons, self.look.units, Round::Down)
    }

    fn point(&self, p: DVec3) -> String {
        format!("({}, {}, {})", self.length(p.x), self.length(p.y), self.length(p.z))
    }
}

const BOLD: &str = "\x1b[1m";
const STOP_COLOUR: &str = "\x1b[1;7;31m";
const CAUTION_COLOUR: &str = "\x1b[1;33m";
const NOTE_COLOUR: &str = "\x1b[2m";
const PLAIN: &str = "\x1b[0m";

/// The line with everything taken out that would steer a terminal or turn the reading about, but for our own colors.
fn harmless(line: &str, colour: bool) -> String {
    let mut shown = String::with_capacity(line.len());
    let mut rest = line;
    while let Some(c) = rest.chars().next() {
        let ours = [BOLD, STOP_COLOUR, CAUTION_COLOUR, NOTE_COLOUR, PLAIN].into_iter();
        if let Some(code) = ours.filter(|_| colour).find(|code| rest.starts_with(code)) {
            shown.push_str(code);
            rest = rest.get(code.len()..).unwrap_or("");
            continue;
        }
        let steers =
            c.is_control() || matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
        shown.push(if steers { '\u{fffd}' } else { c });
        rest = rest.get(c.len_utf8()..).unwrap_or("");
    }
    shown
}

/// Letters that take up room on the screen.
fn seen(text: &str) -> usize {
    let mut plain = text.to_owned();
    for code in [BOLD, STOP_COLOUR, CAUTION_COLOUR, NOTE_COLOUR, PLAIN] {
        plain = plain.replace(code, "");
    }
    plain.width()
}

/// "446 to 490 lbf": the unit once when it is the same.
fn range(low: &str, high: &str) -> String {
    match (low.split_once(' '), high.split_once(' ')) {
        _ if low == high => low.to_owned(),
        (Some((number, unit)), Some((_, same))) if unit == same => format!("{number} to {high}"),
        _ => format!("{low} to {high}"),
    }
}

/// One row per body and other, in its worst weather; the worst pair first.
fn worst_weather(report: &Report) -> Vec<&GapRow> {
    let mut rows: Vec<&GapRow> = report.gaps.iter().collect();
    rows.sort_by(|a, b| a.worst_first(b));
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
        PairState::Tight => "tight",
        PairState::Apart => "apart",
    }
}

/// What a state says, for whoever reads it for the first time.
fn meaning(state: PairState) -> &'static str {
    match state {
        PairState::Touch => "the allowances use up the gap, or leave less of it than the residual gap of the scene",
        PairState::Undecided => "not proven either way, and so taken as a stop",
        PairState::Short => "nearer than the required distance, and not properly covered",
        PairState::Covered => "nearer than the required distance, resting on the covers of both",
        PairState::Tight => "the allowances use up the gap to the ground; the operator keeps it off",
        PairState::Apart => "the required distance is kept, allowances included",
    }
}

/// `Step 12 "Lower between A and B" at 94:35`.
fn in_step(report: &Report, step: usize, time_s: Option<f64>) -> String {
    let name = report.steps.get(step).map_or("?", |s| s.name.as_str());
    let at = time_s.map_or(String::new(), |time| format!(" at {}", clock(time)));
    format!("Step {} \"{name}\"{at}", step + 1)
}

fn during(step: Option<usize>, otherwise: &str) -> String {
    step.map_or(otherwise.to_owned(), |s| format!("step {}", s + 1))
}

fn same_load(a: &CapacityRow, b: &CapacityRow) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() < 1e-3;
    near(a.radius_m, b.radius_m)
        && near(a.boom_length_m, b.boom_length_m)
        && near(a.load_kg, b.load_kg)
        && a.used_percent.map(f64::ceil) == b.used_percent.map(f64::ceil)
        && a.ruled_by == b.ruled_by
}

/// But for the step itself.
fn same_way(a: &WayOutRow, b: &WayOutRow) -> bool {
    WayOutRow { step: b.step, ..a.clone() } == *b
}

/// Minutes and seconds from the first step.
fn clock(seconds: f64) -> String {
    whole_seconds(seconds).map_or("?".to_owned(), |seconds| format!("{}:{:02}", seconds / 60, seconds % 60))
}

/// `None` for what is no time of a job.
fn whole_seconds(seconds: f64) -> Option<u64> {
    (0.0..1e7).contains(&seconds).then(|| seconds.round() as u64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::check;
    use crate::scene;

    fn report(change: (&str, &str)) -> Report {
        let text = scene::template().replacen(change.0, change.1, 1);
        check(&scene::read("job.ron", &text).and_then(|scene| scene.site()).unwrap())
    }

    #[test]
    fn colour_repeats_what_the_words_say() {
        let report = report(("", ""));
        for units in [Units::Us, Units::Si] {
            let coloured = render(&report, Look { units, colour: true });
            let mut stripped = coloured.clone();
            for code in [BOLD, STOP_COLOUR, CAUTION_COLOUR, NOTE_COLOUR, PLAIN] {
                stripped = stripped.replace(code, "");
            }
            assert_ne!(coloured, stripped);
            assert_eq!(stripped, render(&report, Look { units, colour: false }));
        }
    }

    #[test]
    fn a_name_cannot_steer_the_terminal() {
        let report = report(("name: \"Alder Road", "name: \"Alder\\x1b[2J\\u{202e}\\nRoad"));
        let text = render(&report, Look { units: Units::Us, colour: true });
        assert!(text.starts_with("Alder\u{fffd}[2J\u{fffd}\u{fffd}Road"), "{text}");
        assert!(!text.contains("\x1b[2J") && !text.contains('\u{202e}'));
    }

    #[test]
    fn a_range_names_its_unit_once() {
        assert_eq!(range("446 lbf", "490 lbf"), "446 to 490 lbf");
        assert_eq!(range("446 lbf", "446 lbf"), "446 lbf");
        assert_eq!(range("not known", "4 lbf"), "not known to 4 lbf");
    }
}
