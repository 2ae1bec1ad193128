//! Every wire as it hangs, by step and weather, made ready once for every search.

use crate::approach::{GrownBox, WireArc};
use crate::conductor::{WireState, Wires};
use crate::site::Site;

/// A wire as it hangs in one weather during some steps.
pub(super) struct HungWire<'a> {
    /// Its index among the states of all wires.
    pub number: usize,
    pub state: &'a WireState,
    pub arcs: Vec<WireArc<'a>>,
    pub around: GrownBox,
}

/// Every wire in every weather and step.
pub(crate) struct HungWires<'a> {
    pub(super) wires: &'a Wires,
    hung: Vec<HungWire<'a>>,
    wire_count: usize,
    weathers: usize,
    /// By step, weather and wire; `None` where the hang of the wire is not known.
    at: Vec<Option<usize>>,
}

impl<'a> HungWires<'a> {
    pub(crate) fn of(site: &Site, wires: &'a Wires, steps: usize) -> Self {
        let hung = |(number, state): (usize, &'a WireState)| {
            let arcs: Vec<WireArc> = state.families.iter().map(|placed| WireArc::whole(&placed.family)).collect();
            let around = GrownBox::arcs(&arcs);
            HungWire { number, state, arcs, around }
        };
        let (wire_count, weathers) = (site.wires.len(), site.weather.len());
        let mut all = Self {
            wires,
            hung: wires.states.iter().enumerate().map(hung).collect(),
            wire_count,
            weathers,
            at: vec![None; steps * weathers * wire_count],
        };
        for (index, state) in wires.states.iter().enumerate() {
            for &step in &state.steps {
                if let Some(place) = all.place(step, state.weather, state.wire)
                    && let Some(slot) = all.at.get_mut(place)
                {
                    slot.get_or_insert(index);
                }
            }
        }
        all
    }

    fn place(&self, step: usize, weather: usize, wire: usize) -> Option<usize> {
        let is_there = weather < self.weathers && wire < self.wire_count;
        is_there.then_some((step * self.weathers + weather) * self.wire_count + wire)
    }

    /// How a wire hangs; `None` where that is not known.
    pub(super) fn at(&self, step: usize, weather: usize, wire: usize) -> Option<&HungWire<'a>> {
        let hung = self.at.get(self.place(step, weather, wire)?).copied().flatten()?;
        self.hung.get(hung)
    }
}

/// Both hang the same way, or of neither is it known.
pub(super) fn hang_alike(one: Option<&HungWire>, other: Option<&HungWire>) -> bool {
    one.map(|wire| wire.number) == other.map(|wire| wire.number)
}
