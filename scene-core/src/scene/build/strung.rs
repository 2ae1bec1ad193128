//! A strung span: one known quantity, its section, its temperatures.

use super::{Build, bracket};
use crate::bracket::Bracket;
use crate::quantity::show::{Round, Units, show_length};
use crate::scene::fault::FaultKind;
use crate::scene::line::Wire;
use crate::scene::strung::{Condition, Ruling, Strung};
use crate::site;

pub(super) fn strung(build: &mut Build<'_>, path: &str, strung: &Strung, wire: &Wire, run_m: f64) -> site::Hang {
    let known = match (&strung.tension, &strung.sag) {
        (Some(tension), None) => site::Stringing::Tension { tension_n: bracket(tension) },
        (None, Some(sag)) => {
            build.fault_if(sag.high() > run_m / 2.0, &format!("{path}.sag"), || FaultKind::SagTooDeep {
                sag: sag.said().to_owned(),
                most: show_length(run_m / 2.0, Units::Us, Round::Down),
            });
            site::Stringing::Sag { sag_m: bracket(sag) }
        }
        (tension, _) => {
            build.fault(path, FaultKind::NotExactlyOne { of: ["tension", "sag"], both: tension.is_some() });
            site::Stringing::Sag { sag_m: Bracket::exactly(0.0) }
        }
    };
    site::Hang::Strung(site::Strung {
        known,
        temperature_k: bracket(&strung.temperature),
        elongation: match &strung.condition {
            Condition::Final => Bracket::exactly(0.0),
            Condition::Initial(grown) => bracket(grown),
        },
        ruling: ruling(build, path, &strung.ruling, wire, run_m),
        today_k: bracket(&strung.today),
        knee_k: strung.knee.as_ref().map(|knee| knee.si()),
        ice: strung
            .ice
            .as_ref()
            .map(|ice| site::Ice { thickness_m: bracket(&ice.thickness), density_kg_m3: bracket(&ice.density) }),
    })
}

fn ruling(build: &mut Build<'_>, path: &str, ruling: &Ruling, wire: &Wire, run_m: f64) -> site::Ruling {
    match ruling {
        Ruling::Alone => site::Ruling::Alone,
        Ruling::Span(length) => site::Ruling::Span { length_m: length.si() },
        Ruling::Section(lengths) => {
            let spans: Vec<f64> = lengths.iter().map(|length| length.si()).collect();
            // To what a tape shows over a span.
            let among = spans.iter().any(|span| (span - run_m).abs() < 0.3 || span.is_nan());
            build.fault_if(!among, &format!("{path}.ruling"), || FaultKind::SpanNotOfSection {
                run: show_length(run_m, Units::Us, Round::Nearest),
            });
            site::Ruling::of(&spans)
        }
        Ruling::ThisWire => {
            let runs = wire.points.windows(2).map(|ends| match ends {
                [from, to] => (super::point(to) - super::point(from)).truncate().length(),
                _ => f64::NAN,
            });
            site::Ruling::of(&runs.collect::<Vec<_>>())
        }
    }
}
