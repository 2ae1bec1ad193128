//! One engine for pairs: how near bodies come to wires, to each other, to the ground and to people, what distance the rules
//! demand of each pair, what excuses it, and whether there is a way back.
//!
//! | file | holds |
//! |---|---|
//! | `body_set` | every body with one set of allowances, made ready for the search |
//! | `hung_wire` | every wire as it hangs, by step and weather |
//! | `interval` | steps over which covers, held-out phases and the pole's standing do not change |
//! | `search` | the gap of a pair over some pieces: bracketed, or decided against a distance |
//! | `demand` | which distance a pair must keep, why, and what excuses it |
//! | `demand::kind` | what the rules call a body, which bodies are one conductor |
//! | `demand::contact` | what may touch by design, and from when on |
//! | `cover` | what lies bare while covers are on, and what margin that leaves |
//! | `judge` | from numbers to the state of a pair |
//! | `bridging` | two gaps that add up to less than the distance between two potentials |
//! | `to_wires`, `to_bodies`, `wire_spacing` | bodies × wires, bodies × bodies, wires × wires |
//! | `other_body`, `other_machines`, `surroundings` | what is not of the lifting machine: other machines, ground, neighbors, people |
//! | `by_hand` | where people guide the pole by hand past one that stands |
//! | `wire_ends` | wires that end where nothing holds them, near the work |
//! | `under_load` | people and what passes over them |
//! | `way_back` | bodies × wires again, from every step back the way it came |
//!
//! A user of the engine says which legs and which wire or body make a pair ([`search`]), asks what distance holds ([`demand`]),
//! and lets [`judge`] tell the state.

mod body_set;
mod bridging;
mod by_hand;
mod cover;
pub(crate) mod demand;
mod hung_wire;
mod interval;
mod judge;
mod other_body;
mod other_machines;
mod search;
mod surroundings;
mod to_bodies;
mod to_wires;
mod under_load;
mod way_back;
mod wire_ends;
mod wire_spacing;

pub(crate) use body_set::BodySets;
pub(crate) use by_hand::by_hand;
pub(crate) use hung_wire::HungWires;
pub(crate) use other_body::BodyPairs;
pub(crate) use other_machines::other_machines;
pub(crate) use surroundings::surroundings;
pub(crate) use to_bodies::to_bodies;
pub(crate) use to_wires::to_wires;
pub(crate) use under_load::under_load;
pub(crate) use way_back::way_back;
pub(crate) use wire_ends::wire_ends;
pub(crate) use wire_spacing::wire_spacing;

use crate::rules::Distances;
use crate::sequence::Plan;
use crate::site::Site;
use crate::terrain::Ground;

/// What the pairs of one site are made of.
#[derive(Clone, Copy)]
pub(crate) struct Inputs<'a> {
    pub site: &'a Site,
    /// `None` where spots make no surface; a finding of its own says so.
    pub ground: Option<&'a Ground>,
    pub plan: &'a Plan,
    pub distances: &'a Distances<'a>,
    pub bodies: &'a BodySets,
    pub wires: &'a HungWires<'a>,
}
