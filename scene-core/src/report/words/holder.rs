//! What holds a phase aside, in words.

use super::{Words, show_length};
use crate::finding::Holder;
use crate::quantity::show::{Round, Units};

const PRACTICE: &str = "common practice: a phase is held by a rated arm that stands somewhere, never by hand";

pub(super) fn words(fact: &Holder, units: Units) -> Words {
    let up = |m: f64| show_length(m, units, Round::Up);
    match fact {
        Holder::NotStated { held, wire } => Words::new(
            format!("{held}: nothing is stated to hold wire {wire} aside."),
            "State `held_by`: the arm, the pole or the truck that it is on, its reach, and its tag.",
            PRACTICE,
        ),
        Holder::OutOfReach { held, far_m, reach_m } => Words::new(
            format!(
                "{held} would have to reach {}; the arm reaches {}.",
                up(*far_m),
                show_length(*reach_m, units, Round::Down)
            ),
            "Fix the arm nearer to the place where it holds the wire, or use a longer one that is rated for it.",
            PRACTICE,
        ),
        Holder::OffPole { held, pole, off_m } => Words::new(
            format!("{held} is fixed {} from {pole}, so it stands nowhere.", up(*off_m)),
            "State where on the pole the arm is fixed, or the truck that it is on.",
            PRACTICE,
        ),
        Holder::TagMissing { held } => Words::new(
            format!("{held}: no tag is named that rates the arm."),
            "Name the tag, who looked the arm over, and when.",
            PRACTICE,
        ),
    }
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Holder> {
    let held = || "arm on A".to_owned();
    vec![
        Holder::NotStated { held: held(), wire: "A".to_owned() },
        Holder::OutOfReach { held: held(), far_m: 45.0, reach_m: 3.0 },
        Holder::OffPole { held: held(), pole: "pole 7".to_owned(), off_m: 2.0 },
        Holder::TagMissing { held: held() },
    ]
}
