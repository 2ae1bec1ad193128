//! Short scenes to start from, one for each kind of job. Each stands on invented ground and is open only in what the day and the
//! crew must answer.

/// A kind of job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Kind {
    /// The word that asks for it.
    pub word: &'static str,
    pub about: &'static str,
    /// A scene with comments; it can be read.
    pub text: &'static str,
}

/// Every kind of job that a new scene can start from.
pub const KINDS: [Kind; 4] = [
    Kind {
        word: "in-line",
        about: "over the top between two phases, wires held aside and covered",
        text: include_str!("kinds/in_line.ron"),
    },
    Kind {
        word: "beside",
        about: "a pole for a tap or a guy beside the line, at full distance",
        text: include_str!("kinds/beside.ron"),
    },
    Kind {
        word: "replace",
        about: "a new pole beside the old one, the wires transferred later",
        text: include_str!("kinds/replace.ron"),
    },
    Kind {
        word: "derrick",
        about: "a digger derrick augers and sets a pole beside a vertical line",
        text: include_str!("kinds/derrick.ron"),
    },
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::check;
    use crate::finding::Grade;
    use crate::quantity::show::Units;
    use crate::report::words;
    use std::collections::BTreeSet;

    /// What only the crew and the day can answer.
    const OPEN: [&str; 5] = [
        "not_arranged",
        "live_machine_not_answered",
        "job_date_not_stated",
        "crew_not_stated",
        "absence_not_filled_in",
    ];

    #[test]
    fn every_kind_reads_and_is_open_only_in_what_the_crew_and_the_day_answer() {
        for kind in KINDS {
            let scene = crate::scene::read(kind.word, kind.text);
            let site = scene.unwrap_or_else(|faults| panic!("{}: {}", kind.word, faults[0])).into_site();
            let report = check(&site);
            let stops: Vec<_> = report.findings.iter().filter(|found| found.grade == Grade::Stop).collect();
            let others: Vec<String> = stops
                .iter()
                .filter(|found| !OPEN.contains(&found.code()))
                .map(|found| format!("{}: {}", found.code(), words::message(found, Units::Us)))
                .collect();
            assert!(others.is_empty(), "{}: {others:#?}", kind.word);
            let codes: BTreeSet<_> = stops.iter().map(|found| found.code()).collect();
            assert!(
                codes.contains("not_arranged") && codes.contains("job_date_not_stated"),
                "{}: {codes:?}",
                kind.word
            );
            assert!(!report.gaps.is_empty(), "{}", kind.word);
        }
    }

    #[test]
    fn every_kind_is_short_commented_and_named_once() {
        for (i, kind) in KINDS.iter().enumerate() {
            assert!(kind.text.lines().count() <= 110, "{}", kind.word);
            assert!(kind.text.matches("\n  // ").count() >= 5, "{}", kind.word);
            assert!(kind.text.contains("Everything here is invented"), "{}", kind.word);
            assert!(!KINDS[..i].iter().any(|other| other.word == kind.word));
        }
    }
}
