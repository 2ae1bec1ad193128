//! The table of codes against the words, both ways.

use super::*;
use crate::finding::Sequence;
use std::collections::BTreeSet;

/// One of each variant at least.
fn examples() -> Vec<Fact> {
    fn all<F: Into<Fact>>(facts: Vec<F>) -> impl Iterator<Item = Fact> {
        facts.into_iter().map(Into::into)
    }
    all(answers::examples())
        .chain(all(approach::examples()))
        .chain(all(bodies::examples()))
        .chain(all(bucket::examples()))
        .chain(all(by_hand::examples()))
        .chain(all(capacity::examples()))
        .chain(all(carrier::examples()))
        .chain(all(catalog::examples()))
        .chain(all(circuits::examples()))
        .chain(all(conductor::examples()))
        .chain(all(cover::examples()))
        .chain(all(crew::examples()))
        .chain(all(derrick::examples()))
        .chain(all(ground::examples()))
        .chain(all(leveling::examples()))
        .chain(all(live_machine::examples()))
        .chain(all(holder::examples()))
        .chain(all(motion::examples()))
        .chain(all(pole::examples()))
        .chain(all(reach::examples()))
        .chain(all(rigging::examples()))
        .chain(all(rules::examples()))
        .chain(all(sequence::examples()))
        .chain(all(site::examples()))
        .chain(all(unusual::examples()))
        .chain(all(way_back::examples()))
        .chain(all(wind::examples()))
        .collect()
}

/// Family, variant and code, as the facts themselves tell.
fn told(fact: &Fact) -> (String, String, &'static str) {
    let shown = format!("{fact:?}");
    let mut names = shown.split(|c: char| !c.is_alphanumeric()).map(str::to_owned);
    let mut name = || names.next().unwrap_or_default();
    (name(), name(), fact.code())
}

#[test]
fn every_variant_has_its_words_and_every_word_its_variant() {
    let listed: BTreeSet<_> = Fact::FAMILIES
        .iter()
        .flat_map(|(family, variants)| {
            variants.iter().map(|(variant, code)| ((*family).to_owned(), (*variant).to_owned(), *code))
        })
        .collect();
    let said: BTreeSet<_> = examples().iter().map(told).collect();
    let without_words: Vec<_> = listed.difference(&said).collect();
    let without_code: Vec<_> = said.difference(&listed).collect();
    assert!(without_words.is_empty() && without_code.is_empty(), "{without_words:?} {without_code:?}");
}

#[test]
fn a_code_is_lower_case_with_underscores() {
    for (_, variants) in Fact::FAMILIES {
        for (variant, code) in *variants {
            let is_code = |c: char| c.is_ascii_lowercase() || c == '_';
            assert!(code.chars().all(is_code) && !code.is_empty(), "{variant}: {code}");
        }
    }
}

/// Words that name a quantity in one system whatever is asked for, by code. They are kept as they are for now.
const ONE_SYSTEM: [&str; 14] = [
    "altitude_outside_table",
    "choker_near_balance",
    "choker_on_cover",
    "cover_beyond_end",
    "cover_gap",
    "cover_piece_unusable",
    "float_bearing",
    "held_out_unusable",
    "outside_chart",
    "own_distance_below_rule",
    "own_distance_unusable",
    "pole_set_shallow",
    "residual_gap_unusable",
    "wire_cannot_hang",
];

/// Said in both systems whatever is asked for.
const BOTH_SYSTEMS: [&str; 2] = ["tag_line_hold_not_stated", "tag_line_hold_short"];

const US: [&str; 7] = ["ft", "in", "lb", "lbf", "mph", "psf", "lb/ft3"];
const SI: [&str; 8] = ["m", "mm", "kg", "N", "kN", "m/s", "kPa", "kg/m3"];

/// Whether a number stands before one of these units.
fn names_any(text: &str, units: &[&str]) -> bool {
    let words: Vec<&str> = text.split([' ', ',', ';', ':', '(', ')']).map(|word| word.trim_end_matches('.')).collect();
    let number = |word: &str| {
        let whole = word.trim_end_matches(['¼', '½', '¾']);
        whole.parse::<f64>().is_ok() || whole.is_empty() && !word.is_empty()
    };
    words.windows(2).any(|pair| number(pair[0]) && units.contains(&pair[1]))
}

#[test]
fn words_keep_to_the_units_that_are_asked_for() {
    for fact in examples() {
        let [us, si, both] = [Units::Us, Units::Si, Units::Both].map(|units| words(&fact, units));
        for (us, si, both) in
            [(us.message, si.message, both.message), (us.fix, si.fix, both.fix), (us.rule, si.rule, both.rule)]
        {
            if ONE_SYSTEM.contains(&fact.code()) || BOTH_SYSTEMS.contains(&fact.code()) {
                continue;
            }
            assert!(!names_any(&us, &SI), "{us}");
            assert!(!names_any(&si, &US), "{si}");
            assert_eq!(names_any(&us, &US), names_any(&si, &SI), "{us} {si}");
            assert_eq!(names_any(&both, &US), names_any(&both, &SI), "{both}");
        }
    }
}

#[test]
fn every_message_is_a_sentence() {
    for fact in examples() {
        let message = words(&fact, Units::Both).message;
        assert!(message.ends_with('.') && message.len() > 20, "{message}");
    }
}

#[test]
fn a_unit_is_seen_after_a_number_alone() {
    assert!(names_any("gap 3 ft (0.91 m).", &["m"]));
    assert!(names_any("of 6 in.", &["in"]));
    assert!(!names_any("wire m is in 2 parts", &["m", "in"]));
}

#[test]
fn a_step_that_ends_the_motion_is_named() {
    let by = || Box::new(Sequence::NoSteps.into());
    let ends = |step: &str| Fact::MotionEnds { step: step.to_owned(), of: None, by: by() };
    let message = |step| words(&ends(step), Units::Us).message;
    let why = "The sequence has no steps, so no motion was checked.";
    assert_eq!(message(""), why);
    assert_eq!(
        message("Lift"),
        format!("Lift: {why} From this step on nothing of the lifting machine and the pole was checked.")
    );
    let of_lift = Fact::MotionEnds { step: "Up".to_owned(), of: Some("the bucket truck".to_owned()), by: by() };
    assert!(words(&of_lift, Units::Us).message.ends_with("From this step on nothing of the bucket truck was checked."));
    assert_eq!(ends("Lift").code(), "no_steps");
}
