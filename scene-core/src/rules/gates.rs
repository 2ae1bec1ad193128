//! What must be arranged before a machine works near the line, and whether the scene shows that it is.
//!
//! | file | what it knows |
//! |---|---|
//! | `item` | what one item asks of its answer: whom, which day, which document |
//! | `list` | the items of each route |
//! | `judge` | what an answer lacks |
//! | `wording` | words that say nothing, documents, circuits |
//! | `crew` | who must be on the job, and what each must be qualified for |
//! | `live_machine` | what protects people should a machine become live |

mod crew;
mod item;
mod judge;
mod list;
mod live_machine;
mod wording;

pub use item::{Item, Status, When, Who};
pub(crate) use judge::{agreed_distance_m, lacking, own, standing, stated};
pub(crate) use list::{LINE_RULES, LOAD_COVER_RULE, find};
pub use list::{items, optional};
pub(crate) use wording::plain;

use crate::finding::{self, Answers, Finding};
use crate::site::{Answer, Basis, Route, Site};
use list::PER_MACHINE;

/// Everything that the route's list, the crew and the machines still want.
pub(super) fn findings(site: &Site) -> Vec<Finding> {
    let mut found = Vec::new();
    if site.job.date.is_none() {
        found.push(finding::stop(Answers::JobDateNotStated));
    }
    found.extend(items(site.basis.route).flat_map(|item| lacking(site, item)).map(finding::stop));
    found.extend(of_optional(site));
    found.extend(repeated(&site.basis));
    found.extend(unknown_answers(&site.basis));
    found.extend(of_standing_file(&site.basis));
    found.extend(crew::findings(site));
    found.extend(live_machine::findings(site));
    found
}

/// One text under several items: each item asks for something else.
fn repeated(basis: &Basis) -> Vec<Finding> {
    let mut known: Vec<(String, &str, Vec<String>)> = Vec::new();
    for arranged in &basis.arranged {
        let Answer::Arranged(said) = &arranged.answer else { continue };
        let Some(how) = &said.how else { continue };
        let text = plain(how);
        match known.iter_mut().find(|(other, _, _)| *other == text) {
            Some((_, _, keys)) => keys.push(arranged.item.clone()),
            None => known.push((text, how, vec![arranged.item.clone()])),
        }
    }
    let several = known.into_iter().filter(|(_, _, keys)| keys.len() > 1);
    several.map(|(_, how, keys)| finding::stop(Answers::Repeated { keys, said: how.to_owned() })).collect()
}

/// What nobody is asked for must still hold once it is answered. Words alone there permit nothing and harm nothing.
fn of_optional(site: &Site) -> Vec<Finding> {
    let answered = |item: &&'static Item| own(&site.basis, item.key).is_some() || standing(&site.basis, item).is_some();
    let mut found = Vec::new();
    for item in optional(site.basis.route).filter(answered) {
        let lacking = lacking(site, item).into_iter();
        found.extend(lacking.map(|fact| match fact {
            Answers::WordsAlone { .. } => finding::caution(fact),
            other => finding::stop(other),
        }));
    }
    if stated(&site.basis, LOAD_COVER_RULE) {
        match site.basis.route {
            Route::LineWork | Route::DiggerDerrick => {}
            Route::CraneTable => found.push(finding::caution(Answers::CoverRuleUnused)),
            Route::CloserByAgreement => {
                found.push(finding::caution(Answers::CoverRuleStated { rule: cover_rule(&site.basis) }));
            }
        }
    }
    found
}

/// The words by which cover is permitted.
fn cover_rule(basis: &Basis) -> String {
    let own = own(basis, LOAD_COVER_RULE).and_then(Answer::said);
    let how = match own {
        Some(said) => said.how.as_ref(),
        None => find(basis.route, LOAD_COVER_RULE)
            .and_then(|item| standing(basis, item))
            .and_then(|answer| answer.how.as_ref()),
    };
    how.map_or_else(String::new, |how| how.trim().trim_end_matches('.').to_owned())
}

fn unknown_answers(basis: &Basis) -> Vec<Finding> {
    let mut found = Vec::new();
    let mut seen: Vec<&str> = Vec::new();
    for answer in &basis.arranged {
        let key = answer.item.trim();
        if seen.contains(&key) {
            found.push(finding::caution(Answers::Twice { key: key.to_owned() }));
            continue;
        }
        seen.push(key);
        if find(basis.route, key).is_none() {
            found.push(finding::caution(unknown(basis.route, key)));
        }
    }
    found
}

fn unknown(route: Route, key: &str) -> Answers {
    if PER_MACHINE.contains(&key) {
        return Answers::PerMachine { key: key.to_owned() };
    }
    let known = items(route).chain(optional(route)).map(|item| item.key);
    Answers::Unknown { key: key.to_owned(), nearest: known.min_by_key(|known| edits(key, known)) }
}

/// What an employer's file answers and must not, and what no route asks. A file for all jobs answers items of other routes too.
fn of_standing_file(basis: &Basis) -> Vec<Finding> {
    let routes = [Route::CraneTable, Route::CloserByAgreement, Route::LineWork, Route::DiggerDerrick];
    let Some(standing) = &basis.standing else { return Vec::new() };
    let wrong = standing.answers.iter().filter_map(|answer| {
        let key = answer.item.trim();
        let known = find(basis.route, key).or_else(|| routes.into_iter().find_map(|route| find(route, key)));
        match known {
            None => Some(finding::caution(unknown(basis.route, key))),
            Some(item) if !item.standing => {
                let file = standing.file.clone();
                Some(finding::stop(Answers::StandingOfOneDay { key: key.to_owned(), file }))
            }
            Some(_) => None,
        }
    });
    wrong.collect()
}

/// How many letters must be put in, taken out or changed to make one word the other; of long words only the first 64
/// letters are looked at.
fn edits(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().take(64).collect();
    let mut previous: Vec<usize> = (0..=b.len()).collect();
    for (row, letter) in a.chars().take(64).enumerate() {
        let mut current = vec![row + 1];
        for ((other, diagonal), above) in b.iter().zip(&previous).zip(previous.iter().skip(1)) {
            let left = current.last().copied().unwrap_or(row + 1);
            current.push((diagonal + usize::from(letter != *other)).min(left + 1).min(above + 1));
        }
        previous = current;
    }
    previous.last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests;
