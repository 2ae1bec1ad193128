//! What machines have in common as they are read: where one comes from, its boom's sections, how fast it goes.

use super::fault::{FaultKind, Faults};
use super::measure::{Measure, ascending};
use super::reader::read_tree;
use super::value::Value;
use crate::catalog::find::Found;
use crate::machine::Carrier;
use crate::quantity::Length;
use crate::quantity::unit::Dimension;
use crate::site;
use std::cell::RefCell;

/// A list of machines that a scene names one of.
pub(super) struct Catalog<N> {
    /// With its article: "a crane".
    pub what: &'static str,
    /// File name and text of the machine of a name.
    pub find: fn(&str) -> Found<(&'static str, &'static str)>,
    pub names: fn() -> N,
}

impl<N: Iterator<Item = &'static str>> Catalog<N> {
    /// The machine that stands in the scene, or the catalog's of that name. `of` is the machine that stands here, for faults.
    pub fn read<M>(
        &self,
        of: &Value<'_>,
        model: Option<Value<'_>>,
        machine: Option<Value<'_>>,
        read: impl Fn(&Value<'_>) -> M,
    ) -> M {
        let found = match (model, machine) {
            (None, Some(machine)) => Some(read(&machine)),
            (Some(model), None) => self.model(&model, &read),
            (model, _) => {
                of.fault(FaultKind::NotExactlyOne { of: ["model", "machine"], both: model.is_some() });
                None
            }
        };
        found.unwrap_or_else(|| read(&of.nothing(".machine")))
    }

    fn model<M>(&self, model: &Value<'_>, read: impl Fn(&Value<'_>) -> M) -> Option<M> {
        let name = model.text();
        let (file, text) = match (self.find)(name) {
            Found::One(found) => found,
            not_one => {
                if !name.is_empty() {
                    model.not_found(self.what, not_one, || (self.names)().collect());
                }
                return None;
            }
        };
        // It is a document of its own.
        let faults = RefCell::new(Faults::new(file));
        let machine = match read_tree(text) {
            Ok(node) => Some(read(&Value::document(&node, &faults))),
            Err((place, kind)) => {
                faults.borrow_mut().add_at(place, "", kind);
                None
            }
        };
        let faults = faults.into_inner();
        if faults.is_empty() {
            return machine;
        }
        model.with_faults(|of_scene| of_scene.absorb(faults));
        None
    }
}

/// A telescoping section as a box about the boom's axis.
pub(super) struct Section<'n> {
    pub length: Measure<'n, Length>,
    width_m: f64,
    depth_m: f64,
    /// Its tip from the boom's pin, boom retracted and extended; sections move in proportion between the two.
    pub tip_retracted: Measure<'n, Length>,
    pub tip_extended: Measure<'n, Length>,
}

impl<'n> Section<'n> {
    pub fn read(value: &Value<'n>) -> Self {
        value.fields("a boom section", |f| {
            let section = Self {
                length: f.measure("length", "3 ft", "120 ft"),
                width_m: f.si::<Length>("width", "3 in", "8 ft"),
                depth_m: f.si::<Length>("depth", "3 in", "8 ft"),
                tip_retracted: f.measure("tip_retracted", "3 ft", "120 ft"),
                tip_extended: f.measure("tip_extended", "3 ft", "300 ft"),
            };
            f.note();
            section
        })
    }

    /// `extension_m` is how far the whole boom extends.
    pub fn site(&self, extension_m: f64) -> site::BoomSection {
        let moved = self.tip_extended.si() - self.tip_retracted.si();
        site::BoomSection {
            length_m: self.length.si(),
            width_m: self.width_m,
            depth_m: self.depth_m,
            extension_share: if extension_m > 0.0 { moved / extension_m } else { 0.0 },
            tip_retracted_m: self.tip_retracted.si(),
        }
    }
}

/// Every section keeps something inside of the one before it.
pub(super) fn check_sliding(sections: &[Section<'_>]) {
    for (i, (before, section)) in sections.iter().zip(sections.iter().skip(1)).enumerate() {
        let out =
            |tip: &Measure<'_, Length>, before: &Measure<'_, Length>| tip.si() - section.length.si() >= before.si();
        let out =
            out(&section.tip_retracted, &before.tip_retracted) || out(&section.tip_extended, &before.tip_extended);
        let kind = || FaultKind::SectionSlidesOut { section: format!("section {}", i + 2) };
        section.length.at.fault_if(out, kind);
    }
}

/// The carrier from the slew axis, when the machine states it.
pub(super) fn carrier(value: &Value<'_>) -> Carrier {
    value.fields("the carrier", |f| {
        let deck = f.measure::<Length>("deck", "1 ft", "10 ft");
        let height = f.measure::<Length>("height", "3 ft", "15 ft");
        let carrier = Carrier {
            front_m: f.si::<Length>("front", "1 ft", "60 ft"),
            rear_m: f.si::<Length>("rear", "1 ft", "40 ft"),
            width_m: f.si::<Length>("width", "3 ft", "15 ft"),
            deck_m: deck.si(),
            cab_m: f.si::<Length>("cab", "1 ft", "15 ft"),
            cab_height_m: height.si(),
            outrigger_width_m: f.si::<Length>("outrigger_width", "2 in", "5 ft"),
            outrigger_height_m: f.si::<Length>("outrigger_height", "6 in", "8 ft"),
        };
        f.note();
        ascending([&deck, &height]);
        carrier
    })
}

/// The operator goes no faster in this job than the maker's.
pub(super) fn check_rate<D: Dimension>(job: &Measure<'_, D>, maker: &Measure<'_, D>) {
    job.at.fault_if(job.si() > maker.si() * (1.0 + 1e-9), || FaultKind::FasterThanMaker {
        found: job.said(),
        maker: maker.said(),
    });
}
