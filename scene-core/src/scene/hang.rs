//! How a span hangs: its sag, its tension, or how it was strung.

use super::fault::FaultKind;
use super::measure::Bounds;
use super::value::Value;
use crate::bracket::Bracket;
use crate::quantity::show::{Round, Units, show_length};
use crate::quantity::{Density, Force, Length, Ratio, Temperature};
use crate::site;

/// What is known of a span in still air. `run_m` is its length in plan, `runs_m` those of its wire's spans.
pub(super) fn hang(value: &Value<'_>, run_m: f64, runs_m: &[f64]) -> site::Hang {
    match value.variant(&["sag", "tension", "strung"]) {
        Some("sag") => site::Hang::Sag { sag_m: sag(&value.one().bounds("0.1 in", "300 ft"), run_m) },
        Some("tension") => {
            site::Hang::Tension { tension_n: value.one().bounds::<Force>("1 lbf", "100000 lbf").bracket() }
        }
        Some(_) => site::Hang::Strung(strung(value, run_m, runs_m)),
        None => site::Hang::Sag { sag_m: Bracket::exactly(0.0) },
    }
}

/// From the chord, at midspan: no deeper than half of the span.
fn sag(sag: &Bounds<'_, Length>, run_m: f64) -> Bracket {
    sag.at.fault_if(sag.high() > run_m / 2.0, || FaultKind::SagTooDeep {
        sag: sag.said(),
        most: show_length(run_m / 2.0, Units::Us, Round::Down),
    });
    sag.bracket()
}

/// One known quantity, the section, its temperatures then and today.
fn strung(value: &Value<'_>, run_m: f64, runs_m: &[f64]) -> site::Strung {
    value.fields("a strung span", |f| {
        let tension = f.may("tension").map(|value| value.bounds::<Force>("1 lbf", "100000 lbf"));
        let known_sag = f.may("sag").map(|value| value.bounds("0.1 in", "300 ft"));
        let temperature_k = f.bracket::<Temperature>("temperature", "-80 F", "250 F");
        let elongation = elongation(&f.need("condition"));
        let ruling = ruling(&f.need("ruling"), run_m, runs_m);
        let today_k = f.bracket::<Temperature>("today", "-80 F", "400 F");
        let knee_k = f.may_si::<Temperature>("knee", "-80 F", "400 F");
        let ice = f.may("ice").map(|value| ice(&value));
        f.note();
        let known = match (tension, known_sag) {
            (Some(tension), None) => site::Stringing::Tension { tension_n: tension.bracket() },
            (None, Some(known)) => site::Stringing::Sag { sag_m: sag(&known, run_m) },
            (tension, _) => {
                value.fault(FaultKind::NotExactlyOne { of: ["tension", "sag"], both: tension.is_some() });
                site::Stringing::Sag { sag_m: Bracket::exactly(0.0) }
            }
        };
        site::Strung { known, temperature_k, elongation, ruling, today_k, knee_k, ice }
    })
}

/// A wire that hangs for good has not grown since; a new one has, by this much.
fn elongation(value: &Value<'_>) -> Bracket {
    match value.variant(&["final", "initial"]) {
        Some("initial") => value.one().bounds::<Ratio>("0 %", "1 %").bracket(),
        found => {
            if found.is_some() {
                value.alone();
            }
            Bracket::exactly(0.0)
        }
    }
}

/// Which spans share their tension.
fn ruling(value: &Value<'_>, run_m: f64, runs_m: &[f64]) -> site::Ruling {
    match value.variant(&["alone", "span", "section", "this_wire"]) {
        Some("span") => site::Ruling::Span { length_m: value.one().measure::<Length>("5 ft", "5000 ft").si() },
        Some("section") => {
            let list = value.one().list();
            let spans = list.items.iter().map(|span| span.measure::<Length>("5 ft", "5000 ft").si());
            let spans: Vec<f64> = spans.collect();
            // To what a tape shows over a span.
            let among = spans.iter().any(|span| (span - run_m).abs() < 0.3 || span.is_nan());
            list.at.fault_if(!among && run_m.is_finite(), || FaultKind::SpanNotOfSection {
                run: show_length(run_m, Units::Us, Round::Nearest),
            });
            site::Ruling::of(&spans)
        }
        Some("this_wire") => {
            value.alone();
            site::Ruling::of(runs_m)
        }
        found => {
            if found.is_some() {
                value.alone();
            }
            site::Ruling::Alone
        }
    }
}

/// Radial ice on the wire today.
fn ice(value: &Value<'_>) -> site::Ice {
    value.fields("the ice", |f| {
        let ice = site::Ice {
            thickness_m: f.bracket::<Length>("thickness", "0 in", "4 in"),
            density_kg_m3: f.bracket::<Density>("density", "5 lb/ft3", "60 lb/ft3"),
        };
        f.note();
        ice
    })
}
