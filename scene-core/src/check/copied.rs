//! Answers that were taken over from a shipped example. An example's people and papers are invented.

use crate::finding::{self, Answers, Finding};
use crate::rules::gates::plain;
use crate::scene;
use crate::site::{Answer, Protected, Site};

/// The scenes that come with the program: their text.
const EXAMPLES: [&str; 6] = [
    include_str!("../../../scenes/01_juniper_lane.ron"),
    include_str!("../../../scenes/02_juniper_lane_first_sketch.ron"),
    include_str!("../../../scenes/03_sorrel_flat.ron"),
    include_str!("../../../scenes/04_larch_bank.ron"),
    include_str!("../../../scenes/05_kestrel_yard.ron"),
    include_str!("../../../scenes/06_long_juniper.ron"),
];

/// What earlier versions of the examples answered, one answer a line.
const EARLIER: &str = include_str!("../../../assets/answers_of_earlier_examples.txt");

/// The name of an example, as its text has it.
fn name(example: &'static str) -> &'static str {
    let after = example.split("\n  name: \"").nth(1).unwrap_or_default();
    after.split('"').next().unwrap_or_default()
}

/// The part of an example that holds its answers: each text in quotes, as it is compared.
fn answers(example: &'static str) -> impl Iterator<Item = String> {
    let basis = example.split("\n  basis: (").nth(1).unwrap_or_default();
    let basis = basis.split("\n  ),").next().unwrap_or_default();
    basis.split('"').skip(1).step_by(2).map(plain)
}

/// Stops on answers that are word for word those of an example, in any scene but the example itself.
pub(super) fn findings(site: &Site) -> Vec<Finding> {
    if let Some(example) = EXAMPLES.into_iter().find(|example| name(example) == site.name)
        && is_its_job(site, example)
    {
        return vec![finding::caution(Answers::ExampleJob { example: name(example) })];
    }
    let said = texts(site);
    if said.is_empty() {
        return Vec::new();
    }
    let mut found = Vec::new();
    let known = |name, texts: Vec<String>| {
        let mut keys: Vec<String> =
            said.iter().filter(|(_, said)| texts.contains(said)).map(|(key, _)| (*key).to_owned()).collect();
        keys.dedup();
        (!keys.is_empty()).then(|| finding::stop(Answers::Copied { keys, example: name }))
    };
    // Examples share answers, so one is named.
    let first = EXAMPLES.into_iter().find_map(|example| known(name(example), answers(example).collect()));
    found.extend(first.or_else(|| known("an earlier version of the examples", EARLIER.lines().map(plain).collect())));
    found
}

/// The same day, people, circuits, and wires between the same points.
fn is_its_job(site: &Site, example: &str) -> bool {
    let Ok(scene) = scene::read("example", example) else { return false };
    let known = scene.as_site();
    let ends = |site: &Site| -> Vec<_> {
        let of_wire =
            |wire: &crate::site::Wire| -> Vec<_> { wire.spans.iter().map(|span| (span.from, span.to)).collect() };
        site.wires.iter().map(|wire| (wire.name.clone(), of_wire(wire))).collect()
    };
    site.job == known.job
        && site.people == known.people
        && site.circuits == known.circuits
        && site.hole.at == known.hole.at
        && ends(site) == ends(known)
}

/// What each structured answer says, as it is compared. A text of two words or less is anybody's.
fn texts(site: &Site) -> Vec<(&str, String)> {
    let mut found: Vec<(&str, String)> = Vec::new();
    for arranged in &site.basis.arranged {
        let said = match &arranged.answer {
            Answer::Words(_) => continue,
            other => other.said(),
        };
        for text in said.iter().flat_map(|said| [&said.how, &said.document]).flatten() {
            found.push((&arranged.item, plain(text)));
        }
    }
    for machine in &site.basis.live_machines {
        let own = [&machine.covered, &machine.insulated, &machine.grounded_to, &machine.keeps_off];
        let protected = match &machine.protected {
            Some(Protected::Techniques { ground, bond, mats, barricade }) => vec![ground, bond, mats, barricade],
            Some(Protected::Shown { how, document }) => vec![how, document],
            None => vec![],
        };
        for text in own.into_iter().chain(protected).flatten() {
            found.push(("live_machines", plain(text)));
        }
    }
    found.retain(|(_, text)| text.split(' ').count() > 2);
    found
}
