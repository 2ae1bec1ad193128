//! What the job rests on: rules, people, answers.

use super::Page;
use crate::outcome::{AnswerKind, AnswerRow, LiveMachineRow, PersonRow, Report};

impl Page {
    pub(super) fn basis(&mut self, report: &Report) {
        let basis = &report.basis;
        self.heading("Basis of the work");
        self.line(&format!("  {:<27} {}", "route", basis.route.replace('_', " ")));
        let unknown = || "not stated".to_owned();
        self.line(&format!("  {:<27} {}", "day of the job", basis.job_date.clone().unwrap_or_else(unknown)));
        if let (Some(employer), Some(file)) = (&basis.standing_employer, &basis.standing_file) {
            self.wrapped(&format!("  {:<27} ", "standing answers"), &format!("{employer}, in {file}"));
        }
        self.list("People", &basis.people.iter().map(person).collect::<Vec<_>>());
        let answered = basis.answers.iter().filter(|row| row.kind != AnswerKind::NotAnswered);
        let mut lines: Vec<String> = answered.map(|row| self.answer(row)).collect();
        lines.extend(basis.live_machines.iter().map(live_machine));
        self.list("Arranged", &lines);
    }

    fn answer(&self, row: &AnswerRow) -> String {
        let mut said: Vec<String> = Vec::new();
        if row.kind != AnswerKind::Arranged {
            let because = row.reason.map(|reason| reason.replace('_', " ")).or(row.paragraph.clone());
            said.push(because.map_or_else(|| row.kind.said().to_owned(), |why| format!("{}: {why}", row.kind.said())));
        }
        said.extend(row.how.clone());
        said.extend(row.distance_m.map(|m| self.up(m)));
        said.extend((!row.who.is_empty()).then(|| row.who.join(", ")));
        said.extend(row.when.clone());
        said.extend(row.document.clone());
        said.extend(row.valid_until.as_ref().map(|until| format!("valid until {until}")));
        let mark = if row.filled_in || row.kind == AnswerKind::Words { "" } else { " (not filled in)" };
        format!("{}{mark}: {}", row.item, said.join("; "))
    }
}

fn person(row: &PersonRow) -> String {
    let words = |words: &[&str]| words.join(", ").replace('_', " ");
    match row.qualified_for.is_empty() {
        true => format!("{}: {}", row.name, words(&row.roles)),
        false => format!("{}: {}; qualified for {}", row.name, words(&row.roles), words(&row.qualified_for)),
    }
}

fn live_machine(row: &LiveMachineRow) -> String {
    let named = [
        ("lines covered", &row.covered),
        ("insulated", &row.insulated),
        ("ground", &row.ground),
        ("bond", &row.bond),
        ("mats", &row.mats),
        ("barricade", &row.barricade),
        ("shown", &row.shown),
        ("by", &row.shown_document),
        ("grounded to", &row.grounded_to),
        ("keeps off", &row.keeps_off),
        ("document", &row.document),
        ("how", &row.how),
    ];
    let said = named.into_iter().filter_map(|(what, said)| Some(format!("{what}: {}", said.as_ref()?)));
    let who = (!row.who.is_empty()).then(|| row.who.join(", "));
    let said: Vec<String> = said.chain(who).chain(row.when.clone()).collect();
    format!("if {} becomes live: {}", row.machine, said.join("; "))
}
