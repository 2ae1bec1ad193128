//! What is not known of what machines stand on, in words.

use super::Words;
use crate::finding::Carrier;

pub(super) fn words(fact: &Carrier) -> Words {
    match fact {
        Carrier::NotStated { machine } => Words::new(
            format!(
                "The size of the carrier of {machine} is not stated, so nothing was held against carrier and outriggers."
            ),
            "State `carrier` of the machine from its maker's drawing.",
            "",
        ),
        Carrier::FloatsNotStated { machine } => Words::new(
            format!(
                "Where the outriggers of {machine} stand is not stated, so nothing was held against outriggers and mats."
            ),
            "State `outriggers`, taped from the slew axis, with the mats.",
            "",
        ),
    }
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Carrier> {
    let machine = || "the crane".to_owned();
    vec![Carrier::NotStated { machine: machine() }, Carrier::FloatsNotStated { machine: machine() }]
}
