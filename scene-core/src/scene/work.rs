//! Covers and allowances.

use super::beside::Own;
use super::fault::{FaultKind, nearest};
use super::fields::Fields;
use super::line::{Wires, off_wire};
use super::names::Names;
use super::pole::{OnPole, check_lap};
use super::tree::Tree;
use super::value::{List, Value};
use crate::bracket::Bracket;
use crate::quantity::unit::Dimension;
use crate::quantity::{Length, Mass, Ratio};
use crate::site::{self, station};

/// How a person touches what is energized.
pub(super) fn method(value: &Value<'_>) -> site::Method {
    value.word([("gloves", site::Method::Gloves), ("stick", site::Method::Stick)])
}

pub(super) fn covers(
    list: &List<'_>,
    wires: &Wires<'_>,
    on_pole: &OnPole<'_>,
    steps: &Names<'_>,
    own: &Own,
) -> Vec<site::Cover> {
    let read = |cover: &Value<'_>| {
        cover.fields("a cover", |f| {
            let name = f.text("name");
            let on = over(&f.need("over"), wires, on_pole);
            let make = make(&f.need("make"), own);
            let piece_length = f.measure::<Length>("piece_length", "3 in", "30 ft");
            let overlap = f.measure::<Length>("overlap", "0 in", "5 ft");
            let mass_kg = f.may_si::<Mass>("mass", "0.1 lb", "2000 lb");
            let method = method(&f.need("method"));
            let hands = f.may_text("hands");
            let (starts, ends) = (f.need("starts"), f.need("ends"));
            f.note();
            check_lap(&overlap, &piece_length);
            site::Cover {
                name,
                on,
                make,
                piece_length_m: piece_length.si(),
                overlap_m: overlap.si(),
                mass_kg,
                method,
                hands,
                during: steps.during(Some(starts), Some(ends)),
            }
        })
    };
    let covers = list.items.iter().map(read).collect();
    list.named_once("the cover");
    covers
}

/// A stretch of a wire, by stations from abeam the hole, or of the pole, from its butt.
fn over(value: &Value<'_>, wires: &Wires<'_>, on_pole: &OnPole<'_>) -> site::CoverOn {
    match value.variant(&["wire", "pole"]) {
        Some("wire") => value.fields("a stretch of wire", |f| {
            let wire = wires.names.find(&f.need("name"));
            let stations = f.bounds::<Length>("stations", "-3000 ft", "3000 ft");
            if let Some(reach) = station::reach(wires.spans(wire), wires.hole) {
                let off = stations.low() < reach.low() - 1e-6 || stations.high() > reach.high() + 1e-6;
                stations.at.fault_if(off, || off_wire(stations.said(), reach));
            }
            site::CoverOn::Wire { wire: wire.unwrap_or(0), station_m: stations.bracket() }
        }),
        Some(_) => {
            let stretch = value.one().bounds::<Length>("0 ft", "130 ft");
            on_pole.check(&stretch.at, stretch.said(), [stretch.low(), stretch.high()]);
            site::CoverOn::Pole { from_butt_m: stretch.bracket() }
        }
        None => site::CoverOn::Wire { wire: 0, station_m: Bracket::exactly(0.0) },
    }
}

/// Rubber by ASTM D1048, D1049, D1050 class 0 to 4, plastic by ASTM F712 class 2 to 6, or a class of the planner's own.
fn make(value: &Value<'_>, own: &Own) -> site::CoverMake {
    let class = || {
        let number = value.one();
        let class = number.whole(0..=6).and_then(|class| u8::try_from(class).ok());
        if class.is_none() {
            number.shape("a class from 0 to 6");
        }
        class.unwrap_or(0)
    };
    match value.variant(&["rubber", "plastic", "own"]) {
        Some("plastic") => site::CoverMake::Plastic { class: class() },
        Some("own") => own_make(&value.one(), own),
        Some(_) => site::CoverMake::Rubber { class: class() },
        None => site::CoverMake::Rubber { class: 0 },
    }
}

fn own_make(value: &Value<'_>, own: &Own) -> site::CoverMake {
    let class = value.text();
    let known = own.covers.iter().find(|(name, _)| name == class).map(|(_, make)| *make);
    value.fault_if(known.is_none() && !class.is_empty() && !own.unsure, || {
        let names = own.covers.iter().map(|(name, _)| name.as_str());
        FaultKind::NoSuch {
            what: "a class of catalogs.covers",
            found: class.to_owned(),
            nearest: nearest(class, names.clone()),
            known: names.map(str::to_owned).collect(),
        }
    });
    known.unwrap_or(site::CoverMake::Own { max_phase_phase_v: 0, max_phase_ground_v: 0 })
}

pub(super) fn allowances(value: &Value<'_>) -> site::Allowances {
    value.fields("the allowances", |f| {
        let length = |value: Value<'_>| allowance::<Length>(&value, "0 in", "30 ft");
        let ratio = |value: Value<'_>| allowance::<Ratio>(&value, "0 %", "50 %");
        let allowances = site::Allowances {
            survey: length(f.need("survey")),
            placing: length(f.need("placing")),
            radius_growth: length(f.need("radius_growth")),
            load_swing: length(f.need("load_swing")),
            load_swing_growth: ratio(f.need("load_swing_growth")),
            line_movement: length(f.need("line_movement")),
            guide_play: f.may("guide_play").map(length),
            guide_lean: f.may("guide_lean").map(ratio),
        };
        f.note();
        allowances
    })
}

/// A quantity with its reason, or the quantity alone: `survey: "6 in"`. A zero needs its reason.
fn allowance<D: Dimension>(value: &Value<'_>, low: &'static str, high: &'static str) -> site::Allowance {
    if let Some(Tree::Text(_)) = value.node().map(|node| &node.tree) {
        let measure = value.measure::<D>(low, high);
        value.fault_if(measure.si() == 0.0, || FaultKind::ZeroWithoutReason);
        return site::Allowance { value: measure.si(), reason: String::new() };
    }
    value.fields("an allowance", |f: &mut Fields<'_>| {
        let value = f.measure::<D>("value", low, high);
        let reason = f.may_text("reason");
        value.at.fault_if(value.si() == 0.0 && reason.is_none(), || FaultKind::ZeroWithoutReason);
        site::Allowance { value: value.si(), reason: reason.unwrap_or_default() }
    })
}
