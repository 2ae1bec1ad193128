//! What every room of a check searches over, made ready once: what moves, and the wires as they hang.

use super::Rooms;
use crate::approach::{Around, Leg, Strand};
use crate::conductor::{WireState, Wires};
use crate::motion::{Motion, MovingPart, WindLean};
use crate::sequence::Plan;
use crate::side_by_side;
use crate::site::Site;
use std::sync::Arc;

/// All bodies with one set of allowances.
#[derive(Debug)]
pub(crate) struct Air {
    pub motion: Motion,
    /// By body and piece.
    legs: Vec<Vec<Vec<Leg>>>,
}

impl Air {
    pub(super) fn of(motion: Motion) -> Self {
        let legs = motion.bodies.iter().map(|body| legs(&body.parts)).collect();
        Self { motion, legs }
    }

    pub(super) fn legs(&self, body: usize) -> &[Vec<Leg>] {
        self.legs.get(body).map_or(&[], Vec::as_slice)
    }
}

/// A body's legs piece by piece. Pieces that share their parts share their legs.
pub(super) fn legs(pieces: &[Arc<[MovingPart]>]) -> Vec<Vec<Leg>> {
    let mut legs: Vec<Vec<Leg>> = Vec::with_capacity(pieces.len());
    let mut last: Option<&Arc<[MovingPart]>> = None;
    for (piece, parts) in pieces.iter().enumerate() {
        let same = last.is_some_and(|last| Arc::ptr_eq(last, parts));
        legs.push(match legs.last() {
            Some(before) if same => before.iter().map(Leg::repeated).collect(),
            _ => parts.iter().map(|part| Leg::new(piece, part)).collect(),
        });
        last = Some(parts);
    }
    legs
}

/// What the bodies are held against, which says what allowances they have.
enum Against {
    /// What stands apart, with a lean of the wind.
    Apart(WindLean),
    OneAnother,
    Ground,
}

/// Every body with the allowances that hold against whatever it is held against.
#[derive(Clone, Debug)]
pub(crate) struct Airs<T = Air> {
    /// By weather, then the others.
    airs: Vec<T>,
    weathers: usize,
    most: usize,
}

impl Airs {
    /// `leans` by weather, and the most of them.
    pub(super) fn of(site: &Site, plan: &Plan, leans: &[WindLean], most: &WindLean) -> Self {
        let made = |against: &Against| {
            Air::of(match against {
                Against::Apart(lean) => Motion::of(site, plan, lean),
                Against::OneAnother => Motion::among_themselves(site, plan, most),
                Against::Ground => Motion::over_ground(site, plan),
            })
        };
        let mut wanted: Vec<Against> = leans.iter().copied().map(Against::Apart).collect();
        wanted.extend([Against::OneAnother, Against::Ground]);
        let windiest = leans.iter().position(|lean| lean == most);
        if windiest.is_none() {
            wanted.push(Against::Apart(*most));
        }
        let most = windiest.unwrap_or(wanted.len() - 1);
        Self { airs: side_by_side::map(&wanted, made), weathers: leans.len(), most }
    }

    pub(super) fn into_motions(self) -> Airs<Motion> {
        let airs = self.airs.into_iter().map(|air| air.motion).collect();
        Airs { airs, weathers: self.weathers, most: self.most }
    }
}

impl<T> Airs<T> {
    /// Against what stands apart, in one weather.
    pub(crate) fn weather(&self, weather: usize) -> Option<&T> {
        self.airs.get(weather).filter(|_| weather < self.weathers)
    }

    /// Against what stands apart, with the most that any weather leans.
    pub(super) fn most(&self) -> Option<&T> {
        self.airs.get(self.most)
    }

    pub(super) fn against_one_another(&self) -> Option<&T> {
        self.airs.get(self.weathers)
    }

    pub(super) fn over_ground(&self) -> Option<&T> {
        self.airs.get(self.weathers + 1)
    }
}

/// A wire as it hangs in one weather during some steps.
pub(super) struct Line<'a> {
    /// Its place among the states of all wires.
    pub number: usize,
    pub state: &'a WireState,
    pub strands: Vec<Strand<'a>>,
    pub around: Around,
}

/// Every wire in every weather and step.
pub(super) struct Lines<'a> {
    lines: Vec<Line<'a>>,
    wires: usize,
    weathers: usize,
    /// By step, weather and wire, where it is known how the wire hangs.
    at: Vec<Option<usize>>,
}

impl<'a> Lines<'a> {
    pub(super) fn of(rooms: &'a Rooms) -> Self {
        let Wires { states, .. } = &rooms.wires;
        let line = |(number, state): (usize, &'a WireState)| {
            let strands: Vec<Strand> = state.families.iter().map(|placed| Strand::whole(&placed.family)).collect();
            let around = Around::strands(&strands);
            Line { number, state, strands, around }
        };
        let (wires, weathers) = (rooms.site.wires.len(), rooms.site.weather.len());
        let steps = rooms.plan.as_ref().map_or(0, |plan| plan.steps.len());
        let mut lines = Self {
            lines: states.iter().enumerate().map(line).collect(),
            wires,
            weathers,
            at: vec![None; steps * weathers * wires],
        };
        for (index, state) in states.iter().enumerate() {
            for &step in &state.steps {
                if let Some(place) = lines.place(step, state.weather, state.wire)
                    && let Some(slot) = lines.at.get_mut(place)
                {
                    slot.get_or_insert(index);
                }
            }
        }
        lines
    }

    fn place(&self, step: usize, weather: usize, wire: usize) -> Option<usize> {
        (weather < self.weathers && wire < self.wires).then_some((step * self.weathers + weather) * self.wires + wire)
    }

    /// How a wire hangs; `None` where that is not known.
    pub(super) fn at(&self, step: usize, weather: usize, wire: usize) -> Option<&Line<'a>> {
        let line = self.at.get(self.place(step, weather, wire)?).copied().flatten()?;
        self.lines.get(line)
    }
}

pub(super) fn same(one: Option<&Line>, other: Option<&Line>) -> bool {
    one.map(|line| line.number) == other.map(|line| line.number)
}
