//! What refers to something else by its name: wires, circuits, steps.

use super::fault::{FaultKind, nearest};
use super::value::{List, Value};
use crate::catalog::find::{Found, find};
use crate::site::During;

/// The names of one list, in its order.
pub(super) struct Names<'n> {
    /// With its article: "a wire".
    what: &'static str,
    names: Vec<&'n str>,
}

impl<'n> Names<'n> {
    pub fn of(list: &List<'n>, what: &'static str) -> Self {
        Self { what, names: list.names().collect() }
    }

    /// Of several lists, one after the other.
    pub fn all(what: &'static str, names: impl Iterator<Item = &'n str>) -> Self {
        Self { what, names: names.collect() }
    }

    pub fn first(&self) -> Option<&'n str> {
        self.names.first().copied()
    }

    /// The index of the name that stands at a value, case, blanks and punctuation aside where no name is exactly so; a fault,
    /// where there is none like it or more than one.
    pub fn find(&self, at: &Value<'_>) -> Option<usize> {
        at.noted(|record, path| record.kind(path, format!("name of {}", self.what)));
        let name = at.text();
        match find(name, self.names.iter().copied().enumerate()) {
            Found::One(index) => return Some(index),
            Found::Several(names) => {
                at.fault(FaultKind::SeveralInCatalog { what: self.what, found: name.to_owned(), names });
                return None;
            }
            Found::None => {}
        }
        at.fault_if(!name.is_empty(), || FaultKind::NoSuch {
            what: self.what,
            found: name.to_owned(),
            nearest: nearest(name, self.names.iter().copied()),
            known: self.names.iter().map(|name| (*name).to_owned()).collect(),
        });
        None
    }

    /// From the end of the step that puts something there to the start of the step that takes it away, by these steps.
    /// What is left out is the whole sequence.
    pub fn during(&self, starts: Option<Value<'_>>, ends: Option<Value<'_>>) -> During {
        let starts = starts.and_then(|value| self.step(&value, ["at_start", "after"]));
        let ends = ends.and_then(|value| self.step(&value, ["never", "before"]));
        if let (Some((_, Some(on))), Some((to, Some(off)))) = (&starts, &ends) {
            let name = |step: &usize| self.names.get(*step).map_or_else(String::new, |name| (*name).to_owned());
            to.fault_if(off <= on, || FaultKind::StepOrder { starts: name(on), ends: name(off) });
        }
        let step = |end: Option<(Value<'_>, Option<usize>)>| end.map(|(_, step)| step.unwrap_or(0));
        During { on_after_step: step(starts), off_before_step: step(ends) }
    }

    /// The step that `word(step)` names, and where; `None` for the word that stands alone.
    fn step<'v>(&self, value: &Value<'v>, [alone, word]: [&'static str; 2]) -> Option<(Value<'v>, Option<usize>)> {
        match value.variant(&[alone, word]) {
            Some(found) if found == word => {
                let at = value.one();
                let step = self.find(&at);
                Some((at, step))
            }
            Some(_) => {
                value.alone();
                None
            }
            None => None,
        }
    }
}
