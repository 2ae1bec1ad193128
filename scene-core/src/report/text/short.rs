//! The short report: at most a page, but for stops, which are never cut.

use super::{Page, in_step, other, whole_seconds, worst_weather};
use crate::finding::{Approach, Bodies, Fact, Finding, Grade};
use crate::outcome::{AnswerKind, CapacityRow, GapRow, OtherKind, Report, Verdict};
use crate::quantity::show::{Round, Units, show_length, show_mass, show_wind};
use crate::report::table::{Align, Table};
use crate::report::words::{self, Words};
use crate::rules::PairState;

/// Pairs that are told although enough is left.
const NEAREST: usize = 10;

impl Page {
    pub(super) fn short(&mut self, report: &Report) {
        self.opening(report);
        self.governs(report);
        self.found(report, Grade::Stop, "Stops");
        self.not_filled_in(report);
        self.found(report, Grade::Caution, "Cautions");
        self.rests_on(report);
        self.nearest(report);
        self.short_closing(report);
    }

    pub(super) fn opening(&mut self, report: &Report) {
        let count = |grade, one: &str| match report.count(grade) {
            0 => None,
            1 => Some(format!("1 {one}")),
            n => Some(format!("{n} {one}s")),
        };
        let counts = [count(Grade::Stop, "stop"), count(Grade::Caution, "caution"), count(Grade::Note, "note")];
        let counts: Vec<String> = counts.into_iter().flatten().collect();
        let day =
            report.basis.job_date.as_ref().map_or("day of the job not stated".to_owned(), |d| format!("job of {d}"));
        let verdict = match report.verdict {
            Verdict::Stop => self.paint("STOP.", Grade::Stop),
            Verdict::Caution => self.paint("No stop found. Read what was not checked.", Grade::Caution),
            Verdict::NoStopFound => "No stop found in what was checked.".to_owned(),
        };
        self.line(&report.scene);
        self.line(&format!("{verdict} {}; {day}", counts.join(", ")));
    }

    fn governs(&mut self, report: &Report) {
        let Some((_, gap)) = report.governing() else { return };
        self.heading("What governs");
        let mut place = gap.step.map_or(String::new(), |step| format!(", {}", in_step(report, step, gap.time_s)));
        if !gap.weather.is_empty() {
            place += &format!(", wind case \"{}\"", gap.weather);
        }
        self.wrapped("  ", &format!("{} to {}{place}: {}.", gap.body, other(gap), self.stands(gap)));
        if let Some(step) = gap.first_step {
            self.wrapped("  ", &format!("It begins in step {}.", step + 1));
        }
        let [there, allowed, required, left] = self.sum(gap);
        let demand = match gap.other_kind == OtherKind::Wire && gap.required_m > 0.0 {
            true => "minimum approach distance (MAD)",
            false => "required",
        };
        self.wrapped("  ", &format!("gap {there} - allowed for {allowed} - {demand} {required} = {left} left"));
        let stated = report.allowances.iter().filter(|row| row.value_m > 0.0);
        let stated: Vec<String> = stated.map(|row| format!("{} {}", row.what, self.up(row.value_m))).collect();
        self.wrapped(
            "  Allowed for: ",
            &format!("{}; where the load hangs, its lean in the wind comes on top.", stated.join(", ")),
        );
        if gap.required_m > 0.0 {
            self.wrapped("  Rule: ", &gap.rule);
        }
    }

    /// Gap at the instant, allowances, what is required, and what is left, as printed.
    pub(super) fn sum(&self, gap: &GapRow) -> [String; 4] {
        self.sum_m(gap).map(|m| self.length(m))
    }

    /// The same in meters, each on a printed step. The last follows from the others, so that they add up and err low.
    fn sum_m(&self, gap: &GapRow) -> [f64; 4] {
        let there_m = gap.gap_there_m.filter(|there_m| *there_m >= gap.low_m).unwrap_or(gap.low_m);
        let step_m = if self.look.units == Units::Si { 0.01 } else { 0.0254 / 4.0 };
        let down = |m: f64| (m / step_m + 1e-9).floor() * step_m;
        let up = |m: f64| (m / step_m - 1e-9).ceil() * step_m;
        let allowed_m = up((there_m - gap.required_m - gap.margin_m).max(0.0));
        let (there_m, required_m) = (down(there_m), up(gap.required_m));
        [there_m, allowed_m, required_m, there_m - allowed_m - required_m]
    }

    /// How a pair stands, in the crew's words.
    fn stands(&self, gap: &GapRow) -> String {
        // The same figure as in the sum beside it.
        let [.., left_m] = self.sum_m(gap);
        let short = self.length(-left_m);
        let said = match gap.state {
            PairState::Touch => "contact, nothing is left".to_owned(),
            PairState::Undecided => "too close to call: treat as too close".to_owned(),
            PairState::Short if gap.other_kind == OtherKind::Wire => format!("inside MAD by {short}"),
            PairState::Short => format!("{short} too near"),
            PairState::Covered => format!("inside MAD by {short}, relying on cover"),
            PairState::Tight => "may drag: the operator keeps it off the ground".to_owned(),
            PairState::Apart => format!("{} left", self.length(left_m)),
        };
        let grade = match gap.state {
            stop if stop.is_stop() => Grade::Stop,
            PairState::Apart => Grade::Note,
            _ => Grade::Caution,
        };
        self.paint(&said, grade)
    }

    /// All findings of a grade but unfilled arrangements, which stand under one line.
    fn found(&mut self, report: &Report, grade: Grade, heading: &str) {
        let governing = report.governing().map(|(_, gap)| gap);
        let counts = |finding: &&Finding| {
            let told = grade != Grade::Stop && governing.is_some_and(|gap| is_of_pair(finding, gap));
            finding.grade == grade && !is_open_item(finding) && !told
        };
        let found: Vec<&Finding> = report.findings.iter().filter(counts).collect();
        if found.is_empty() {
            return;
        }
        self.heading(heading);
        let mut told: Vec<(&Finding, Words, Vec<&Finding>)> = Vec::new();
        for finding in found {
            let words = words::of(finding, self.look.units);
            match told.iter_mut().find(|(first, kept, _)| first.code() == finding.code() && kept.fix == words.fix) {
                Some((_, _, alike)) => alike.push(finding),
                None => told.push((finding, words, Vec::new())),
            }
        }
        for (finding, Words { message, fix, .. }, alike) in told {
            let place = finding.step.map_or(String::new(), |step| format!("Step {}: ", step + 1));
            let fix = if fix.is_empty() || grade != Grade::Stop { String::new() } else { format!(" Fix: {fix}") };
            let also: Vec<String> = alike.iter().map(|finding| also(finding)).collect();
            let also = if also.is_empty() { String::new() } else { format!(" The same: {}.", also.join(", ")) };
            self.wrapped("  - ", &format!("{place}{message}{fix}{also}"));
        }
    }

    fn not_filled_in(&mut self, report: &Report) {
        let open = report.findings.iter().filter(|finding| is_open_item(finding));
        let open: Vec<&str> = open.filter_map(Finding::subject).collect();
        if !open.is_empty() {
            self.heading(&format!("Not filled in, each a stop ({})", open.len()));
            self.wrapped("  ", &open.join(", ").replace('_', " "));
        }
    }

    fn rests_on(&mut self, report: &Report) {
        self.heading("What it rests on");
        let (basis, conditions, units) = (&report.basis, &report.conditions, self.look.units);
        let circuits: Vec<String> = conditions
            .circuits
            .iter()
            .map(|circuit| format!("{} {:.2} kV {}", circuit.name, circuit.voltage_v / 1e3, circuit.grounding))
            .collect();
        let filled_in = basis.answers.iter().filter(|row| row.filled_in);
        let applies = |kind: AnswerKind| !matches!(kind, AnswerKind::DoesNotApply | AnswerKind::Exception);
        let (arranged, other): (Vec<_>, Vec<_>) = filled_in.partition(|row| applies(row.kind));
        let open = basis.answers.iter().filter(|row| !row.filled_in).count();
        let wind = conditions
            .wind_m_s
            .map_or("no wind case".to_owned(), |m_s| format!("wind to {}", show_wind(m_s, units, Round::Down)));
        let altitude = show_length(conditions.altitude_m, units, Round::Up);
        let arranged = arranged.len();
        self.wrapped(
            "  ",
            &format!(
                "{} route; {}; {altitude} above sea level; {wind}; {arranged} items arranged, {open} open, {} not applying.",
                basis.route.replace('_', " "),
                circuits.join(", "),
                other.len()
            ),
        );
        self.picked(report);
    }

    /// The pole, and the worst of the chart.
    fn picked(&mut self, report: &Report) {
        let pole = &report.pole;
        let (Some(most_kg), Some(balance_m)) = (pole.mass_kg, pole.balance_from_butt_m) else { return };
        let light = pole.mass_low_kg.filter(|low| most_kg - low > 0.5);
        let light = light.map_or(String::new(), |kg| {
            format!(" (may be as light as {})", show_mass(kg, self.look.units, Round::Down))
        });
        let [balance, choke, depth] = [balance_m, pole.pick_from_butt_m, pole.setting_depth_m].map(|m| self.length(m));
        let mut said = format!(
            "Pole {}{light}, balance {balance} from the butt, choked at {choke}, set {depth} deep",
            self.mass(most_kg)
        );
        let share = |row: &CapacityRow| row.used_percent.unwrap_or(f64::NEG_INFINITY);
        if let Some(worst) = report.capacity.iter().max_by(|a, b| share(a).total_cmp(&share(b)))
            && let Some(percent) = worst.used_percent
        {
            let ruled_by = words::ruled_by(worst.ruled_by.as_ref(), self.look.units);
            said += &format!(
                ". Most used: {ruled_by}, {} at {} radius, {:.0} % (step {})",
                self.mass(worst.load_kg),
                self.up(worst.radius_m),
                percent.ceil(),
                worst.step + 1
            );
        }
        self.wrapped("  ", &format!("{said}."));
    }

    fn nearest(&mut self, report: &Report) {
        let rows = worst_weather(report);
        let not_apart = rows.iter().filter(|row| row.state != PairState::Apart).count();
        let told = rows.len().min(NEAREST.max(not_apart));
        let mut table = Table::new(&[
            ("what moves", Align::Left),
            ("near", Align::Left),
            ("gap", Align::Right),
            ("allowed", Align::Right),
            ("required", Align::Right),
            ("left", Align::Right),
            ("step", Align::Right),
            ("h:min", Align::Right),
            ("", Align::Right),
        ]);
        for row in rows.iter().take(told) {
            let [there, allowed, required, left] = self.sum(row);
            let mark = match row.state {
                PairState::Apart => "",
                PairState::Covered => "cover",
                PairState::Tight => "may drag",
                PairState::Undecided => "too close to call",
                PairState::Short => "too near",
                PairState::Touch => "contact",
            };
            table.row(vec![
                row.body.clone(),
                other(row),
                there,
                allowed,
                required,
                left,
                row.step.map_or(String::new(), |step| (step + 1).to_string()),
                row.time_s.map_or(String::new(), hours),
                mark.to_owned(),
            ]);
        }
        self.table("Nearest: each pair where it governs", &table);
        let rest = rows.get(told..).unwrap_or(&[]);
        if let Some(next) = rest.first() {
            let [.., left] = self.sum(next);
            let next = format!("{} to {}", next.body, other(next));
            self.wrapped("  ", &format!("and {} more, the nearest {next} with {left} left", rest.len()));
        }
    }

    fn short_closing(&mut self, report: &Report) {
        self.line("");
        let unchecked = report.not_checked.len();
        self.wrapped(
            "",
            &format!(
                "{unchecked} things were not checked: read them, and all the rest, with --full. This is a planning aid; it cannot see \
                 what it was not told. Local codes, makers' charts and licensed practice govern. Anyone may stop the job."
            ),
        );
    }
}

/// An item of the route's list that nobody has filled in.
fn is_open_item(finding: &Finding) -> bool {
    finding.grade == Grade::Stop && finding.code() == "not_arranged"
}

/// What governs says this already.
fn is_of_pair(finding: &Finding, gap: &GapRow) -> bool {
    match &finding.fact {
        Fact::Approach(Approach::Covered { gap: of }) => of.body == gap.body && of.wire == gap.other,
        _ => false,
    }
}

/// Another finding of one kind with the same fix, in short: its step, and whom it is of.
fn also(finding: &Finding) -> String {
    let step = finding.step.map(|step| format!("step {}", step + 1));
    let of = match &finding.fact {
        Fact::Bodies(
            Bodies::Undecided { gap } | Bodies::Strikes { gap } | Bodies::MayStrike { gap } | Bodies::Short { gap },
        ) => Some(format!("{} to {}", gap.body, gap.other)),
        Fact::Approach(
            Approach::Touch { gap } | Approach::Undecided { gap } | Approach::Short { gap } | Approach::Covered { gap },
        ) => Some(format!("{} to wire {}", gap.body, gap.wire)),
        _ => finding.subject().map(str::to_owned),
    };
    let named: Vec<String> = step.into_iter().chain(of).collect();
    if named.is_empty() { "once more".to_owned() } else { named.join(" ") }
}

/// Hours and minutes from the first step.
fn hours(seconds: f64) -> String {
    whole_seconds(seconds).map_or("?".to_owned(), |seconds| format!("{}:{:02}", seconds / 3600, seconds / 60 % 60))
}
