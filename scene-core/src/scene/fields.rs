//! The fields of one part of a document: each is asked for by its name, and one that nobody asks for is a fault.

use super::fault::{FaultKind, nearest};
use super::measure::{Bounds, Measure, Point};
use super::tree::{Field, Tree};
use super::value::{List, Value};
use crate::bracket::Bracket;
use crate::quantity::unit::Dimension;
use glam::DVec3;

/// Fields that are looked at in one part.
const MOST_FIELDS: usize = 100;

pub(super) struct Fields<'n> {
    at: Value<'n>,
    /// With its article: "a wire".
    of: &'static str,
    /// `None` where something else stands.
    fields: Option<Vec<(&'n Field, bool)>>,
    /// In the order asked for, which is the order that a fault tells them in.
    known: Vec<&'static str>,
}

impl<'n> Fields<'n> {
    pub fn of(at: &Value<'n>, of: &'static str) -> Self {
        let mut all = Self { at: at.clone(), of, fields: None, known: Vec::new() };
        at.noted(|record, path| record.part(of, path));
        let Some(Tree::Struct { fields, .. }) = at.node().map(|node| &node.tree) else {
            at.shape(format!("the fields of {of} ( name: …, … )"));
            return all;
        };
        let mut once: Vec<(&Field, bool)> = Vec::new();
        for field in fields {
            match once.iter().find(|(other, _)| other.name == field.name) {
                Some((first, _)) => {
                    let kind = FaultKind::FieldTwice { field: field.name.clone(), first: first.place };
                    at.fault_at(field.place, kind);
                }
                None if once.len() < MOST_FIELDS => once.push((field, false)),
                None => {}
            }
        }
        at.fault_if(fields.len() > MOST_FIELDS, || FaultKind::TooMany { found: fields.len(), most: MOST_FIELDS });
        all.fields = Some(once);
        all
    }

    /// Every field that was not asked for.
    pub fn refuse_unknown(self) {
        for (field, _) in self.fields.iter().flatten().filter(|(_, used)| !used) {
            let nearest = nearest(&field.name, self.known.iter().copied());
            let (of, allowed) = (self.of, self.known.clone());
            self.at.fault_at(field.place, FaultKind::UnknownField { field: field.name.clone(), of, nearest, allowed });
        }
    }

    /// The part that the fields are of.
    pub fn at(&self) -> &Value<'n> {
        &self.at
    }

    fn find(&mut self, name: &'static str, is_needed: bool) -> Option<Value<'n>> {
        self.known.push(name);
        let (of, step) = (self.of, self.at.step(name));
        self.at.noted(|record, path| record.field(of, name, &format!("{path}{step}"), is_needed));
        let (field, used) = self.fields.as_mut()?.iter_mut().find(|(field, _)| field.name == name)?;
        *used = true;
        Some(self.at.inside(&self.at.step(name), &field.value))
    }

    /// Whether a field is stated. It is known from then on; whoever asks reads it.
    pub fn has(&mut self, name: &'static str) -> bool {
        self.known.push(name);
        self.fields.as_ref().is_some_and(|fields| fields.iter().any(|(field, _)| field.name == name))
    }

    /// A field that must be there.
    pub fn need(&mut self, name: &'static str) -> Value<'n> {
        self.find(name, true).unwrap_or_else(|| {
            self.at.fault_if(self.fields.is_some(), || FaultKind::Missing { field: name, of: self.of });
            self.at.nothing(&self.at.step(name))
        })
    }

    /// A field that may be left out: `x`, `Some(x)` or `None`.
    pub fn may(&mut self, name: &'static str) -> Option<Value<'n>> {
        self.find(name, false)?.option()
    }

    /// A list that may be left out when empty.
    pub fn list(&mut self, name: &'static str) -> List<'n> {
        match self.find(name, false) {
            Some(value) => value.list(),
            None => List { at: self.at.nothing(&self.at.step(name)), items: Vec::new() },
        }
    }

    /// A list of at least so many entries.
    pub fn list_of(&mut self, name: &'static str, least: usize) -> List<'n> {
        let list = self.need(name).list();
        if let Some(Tree::List(items)) = list.at.node().map(|node| &node.tree) {
            list.at.fault_if(items.len() < least, || FaultKind::TooFew { found: items.len(), least });
        }
        list
    }

    // -------------------------------------------------------------------------------------- fields of common kinds

    pub fn text(&mut self, name: &'static str) -> String {
        self.need(name).text().to_owned()
    }

    pub fn may_text(&mut self, name: &'static str) -> Option<String> {
        self.may(name).map(|value| value.text().to_owned())
    }

    /// A remark for people, which nothing is made of.
    pub fn note(&mut self) {
        self.may_text("note");
    }

    /// A quantity from `low` to `high`, as people write them.
    pub fn measure<D: Dimension>(
        &mut self,
        name: &'static str,
        low: &'static str,
        high: &'static str,
    ) -> Measure<'n, D> {
        self.need(name).measure(low, high)
    }

    pub fn may_measure<D: Dimension>(
        &mut self,
        name: &'static str,
        low: &'static str,
        high: &'static str,
    ) -> Option<Measure<'n, D>> {
        self.may(name).map(|value| value.measure(low, high))
    }

    /// The SI value of a quantity from `low` to `high`.
    pub fn si<D: Dimension>(&mut self, name: &'static str, low: &'static str, high: &'static str) -> f64 {
        self.measure::<D>(name, low, high).si()
    }

    pub fn may_si<D: Dimension>(&mut self, name: &'static str, low: &'static str, high: &'static str) -> Option<f64> {
        self.may_measure::<D>(name, low, high).map(|measure| measure.si())
    }

    /// A quantity said as a low and a high end, both from `low` to `high`.
    pub fn bounds<D: Dimension>(&mut self, name: &'static str, low: &'static str, high: &'static str) -> Bounds<'n, D> {
        self.need(name).bounds(low, high)
    }

    /// The SI values of a quantity said as a low and a high end.
    pub fn bracket<D: Dimension>(&mut self, name: &'static str, low: &'static str, high: &'static str) -> Bracket {
        self.bounds::<D>(name, low, high).bracket()
    }

    pub fn point(&mut self, name: &'static str) -> Point<'n> {
        self.need(name).point()
    }

    /// A point's place, meters.
    pub fn at_point(&mut self, name: &'static str) -> DVec3 {
        self.point(name).m()
    }
}
