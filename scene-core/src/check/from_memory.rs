//! Figures that the site takes from memory: each prompts a person, none clears anything.

use crate::cover;
use crate::finding::{self, Finding};
use crate::outcome::GapRow;
use crate::rules::PairState;
use crate::site::{Cover, Hang, Site, Wire};

/// One caution for the pole, and one for each conductor.
pub(super) fn findings(site: &Site) -> Vec<Finding> {
    let mut told: Vec<(String, &str)> = Vec::new();
    let pole = Some(&site.pole).filter(|pole| !pole.from_memory.is_empty());
    told.extend(pole.map(|pole| ("the pole".to_owned(), pole.from_memory.as_str())));
    for wire in site.wires.iter().filter(|wire| uses_memory(wire)) {
        let what = format!("the conductor {}", wire.conductor.name);
        if !told.iter().any(|(other, _)| *other == what) {
            told.push((what, &wire.conductor.from_memory));
        }
    }
    told.into_iter()
        .map(|(what, figures)| finding::caution(finding::Catalog::FromMemory { what, figures: figures.to_owned() }))
        .collect()
}

/// A modulus counts only where a span hangs from stringing data.
fn uses_memory(wire: &Wire) -> bool {
    match wire.conductor.from_memory.as_str() {
        "" => false,
        "modulus" => wire.spans.iter().any(|span| matches!(span.hang, Hang::Strung(_))),
        _ => true,
    }
}

/// Covers of a class from memory, where a verdict rests on covers.
pub(super) fn covers(site: &Site, gaps: &[GapRow]) -> Option<Finding> {
    let is_recalled = |cover: &&Cover| cover::class(cover.make).is_ok_and(|class| class.status == "memory");
    let covers: Vec<String> = site.covers.iter().filter(is_recalled).map(|cover| cover.name.clone()).collect();
    let rests = gaps.iter().any(|gap| gap.state == PairState::Covered) && !covers.is_empty();
    rests.then(|| finding::caution(finding::Cover::RestsOnRecalled { covers }))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(change: impl Fn(String) -> String) -> Vec<(&'static str, String)> {
        let text = change(crate::scene::template().to_owned());
        let site = crate::scene::read("t", &text).unwrap_or_else(|faults| panic!("{}", faults[0])).into_site();
        findings(&site).iter().map(|found| (found.code(), found.subject().unwrap_or("").to_owned())).collect()
    }

    #[test]
    fn what_rests_on_memory_prompts_and_what_is_verified_does_not() {
        assert_eq!(told(|text| text), []);
        let shell = |text: String| text.find("shell:").map(|at| (text[..at].to_owned(), text[at..].to_owned()));
        let with_shell = |class: &str, species: &str| {
            told(move |text| {
                let (before, after) = shell(text).unwrap();
                let end = after.find("setting_depth").unwrap();
                let (_, after) = after.split_at(end);
                format!(
                    "{before}shell: wood(class: \"{class}\", species: \"{species}\", oversize: \"5 %\"),\n    {after}"
                )
            })
        };
        let pole = vec![("from_memory", "the pole".to_owned())];
        assert_eq!(with_shell("3", "southern pine"), []);
        assert_eq!(with_shell("3", "cedar"), pole);
        assert_eq!(with_shell("H1", "southern pine"), pole);
        let conductor = |name: &'static str| told(move |text| text.replace("\"Raven\"", &format!("\"{name}\"")));
        assert_eq!(conductor("1/0 ACSR"), []);
        assert_eq!(conductor("1/0 AAC"), [("from_memory", "the conductor Poppy".to_owned())]);
        assert_eq!(conductor("3/8 EHS"), [("from_memory", "the conductor 3/8 EHS".to_owned())]);
        // Its modulus alone is from memory, and no span of the template hangs from stringing data.
        assert_eq!(conductor("Azusa"), []);
    }
}
