//! Facts of a wire that are not usual, in words.

use super::{Words, length, show_length};
use crate::finding::Unusual;
use crate::quantity::show::{Round, Units, show_percent};

const SAGS: &str = "usual sags and tensions of distribution lines (assets/plausible.csv)";
const HEIGHTS: &str = "usual heights and spans of distribution lines (assets/plausible.csv)";

pub(super) fn words(fact: &Unusual, units: Units) -> Words {
    let m = |m: &f64| length(*m, units);
    let measure = |what: &str, field: &str| {
        format!("Look at the unit. Or measure {what} and state it under `measured` as {field}: who, how, and when.")
    };
    match fact {
        Unusual::Sag { wire, span, sag_m, usual_m } => Words::new(
            format!("{wire} sags {} in span {span}; up to {} would be usual there.", m(sag_m), m(usual_m)),
            measure("the sag", "sags"),
            SAGS,
        ),
        Unusual::SagFar { wire, span, sag_m, usual_m } => Words::new(
            format!(
                "{wire} sags {} in span {span}, more than 5 times what would be usual there, {}, and nobody is named who \
                 measured it.",
                m(sag_m),
                m(usual_m)
            ),
            measure("the sag", "sags"),
            SAGS,
        ),
        Unusual::SagSmall { wire, span, sag_m, usual_m } => Words::new(
            format!(
                "{wire} sags only {} in span {span}; {} or more would be usual there.",
                show_length(*sag_m, units, Round::Down),
                m(usual_m)
            ),
            measure("the sag", "sags"),
            SAGS,
        ),
        Unusual::Tension { wire, span, share, usual } => Words::new(
            format!(
                "In still air {wire} pulls {} of its rated strength over span {span}; up to {} is usual.",
                show_percent(*share, Round::Up),
                show_percent(*usual, Round::Nearest)
            ),
            measure("the sag", "sags"),
            SAGS,
        ),
        Unusual::Low { wire, span, above_m, usual_m, over_road } => Words::new(
            format!(
                "{wire} comes to {} over the ground in span {span}; {} is the least that is usual {}.",
                show_length(*above_m, units, Round::Down),
                m(usual_m),
                if *over_road { "over a road" } else { "where people walk" }
            ),
            measure("the heights", "heights"),
            HEIGHTS,
        ),
        Unusual::High { wire, span, above_m, usual_m } => Words::new(
            format!("{wire} is held {} over the ground at span {span}; up to {} is usual.", m(above_m), m(usual_m)),
            measure("the heights", "heights"),
            HEIGHTS,
        ),
        Unusual::Uneven { wire, span, difference_m, usual_m } => Words::new(
            format!(
                "The two ends of span {span} of {wire} differ by {} in height on level ground; up to {} is usual.",
                m(difference_m),
                m(usual_m)
            ),
            measure("the heights", "heights"),
            HEIGHTS,
        ),
        Unusual::Span { wire, span, run_m, least_m, most_m } => Words::new(
            format!("Span {span} of {wire} is {} long; {} to {} is usual.", m(run_m), m(least_m), m(most_m)),
            measure("where its ends are", "spans"),
            HEIGHTS,
        ),
        Unusual::EndsInTheOpen { wire, end_m, swept_m } => Words::new(
            format!(
                "{wire} ends at no stated structure {} from the hole, and with its distance what moves comes as far as {}: \
                 the wire beyond is not known.",
                show_length(*end_m, units, Round::Down),
                show_length(*swept_m, units, Round::Up)
            ),
            "State the wire's further spans, or the pole or building that it ends at.",
            "every wire near the work is known",
        ),
    }
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Unusual> {
    let wire = || "B".to_owned();
    vec![
        Unusual::Sag { wire: wire(), span: 1, sag_m: 2.0, usual_m: 1.1 },
        Unusual::SagFar { wire: wire(), span: 1, sag_m: 6.0, usual_m: 1.1 },
        Unusual::SagSmall { wire: wire(), span: 1, sag_m: 0.1, usual_m: 0.2 },
        Unusual::Tension { wire: wire(), span: 1, share: 0.31, usual: 0.25 },
        Unusual::Low { wire: wire(), span: 2, above_m: 3.0, usual_m: 5.6, over_road: true },
        Unusual::Low { wire: wire(), span: 2, above_m: 3.0, usual_m: 4.4, over_road: false },
        Unusual::High { wire: wire(), span: 1, above_m: 33.0, usual_m: 13.7 },
        Unusual::Uneven { wire: wire(), span: 1, difference_m: 3.0, usual_m: 1.5 },
        Unusual::Span { wire: wire(), span: 1, run_m: 300.0, least_m: 30.0, most_m: 183.0 },
        Unusual::EndsInTheOpen { wire: wire(), end_m: 5.0, swept_m: 30.0 },
    ]
}
