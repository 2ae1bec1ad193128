//! What a pole set into an energized line weighs, hangs from, comes near to and needs: pure computation.
//!
//! Read the table like a page: a room knows only the rooms named before it. A test in `layers` holds that.
//!
//! | room | takes → gives |
//! |---|---|
//! | [`quantity`], [`bracket`], [`solid`], [`finding`], [`csv`], `side_by_side` | units as people say them ↔ SI; low ≤ true ≤ high; balls, discs and hulls; findings as data; tables with a place for each cell; work on several threads that comes out the same on one |
//! | [`site`] | the facts of one job, everything looked up, SI |
//! | [`rules`], [`cover`] | required distance and why; class, method, double cover |
//! | [`catalog`], [`scene`] | published tables; RON text → `Scene` → `Site`, faults with line and field |
//! | [`conductor`], [`pole`], [`rigging`], [`chart`], [`crane`], [`bucket`] | families of hanging wires; mass and balance; how the pole hangs; rated capacity; kinematics of crane and bucket truck |
//! | [`sequence`], [`motion`] | steps → joint motion; every part at every instant as a [`motion::MovingPart`] |
//! | [`terrain`], [`neighbours`] | spot elevations → surface, slope, solids under it; what stands near the work as still solids |
//! | [`approach`], [`swept`] | proven gaps of moving parts; swept volumes and footprints |
//! | [`outcome`] | the data types of a report |
//! | `pairs` | what each pair demands, what excuses it, bridging, the way back |
//! | [`capacity`], [`floats`], [`setting`] | percent of chart; force on each float; setting depth |
//! | [`check`] | everything gathered into one report |
//! | [`report`], [`trace`] | words and JSON; geometry over time |
//! | [`rehearsal`] | the site at any instant, to be drawn |
//!
//! Axes: metres, x east, y north, z up, right-handed. Angles in radians. No clock, no globals, no panic on any input.

#![deny(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

pub use glam;

// What tests share stands in a crate of its own, which knows this one by its name.
#[cfg(test)]
extern crate self as scene_core;
#[cfg(test)]
#[path = "../../fixtures/src/lib.rs"]
pub mod fixtures;

pub mod approach;
pub mod bracket;
pub mod bucket;
pub mod capacity;
pub mod catalog;
pub mod chart;
pub mod check;
pub mod conductor;
pub mod cover;
pub mod crane;
pub mod csv;
pub mod finding;
pub mod floats;
#[cfg(test)]
mod layers;
pub mod motion;
pub mod neighbours;
pub mod outcome;
mod pairs;
pub mod place;
pub mod pole;
pub mod quantity;
pub mod rehearsal;
pub mod report;
pub mod rigging;
pub mod rules;
pub mod scene;
pub mod sequence;
pub mod setting;
mod side_by_side;
pub mod site;
pub mod solid;
pub mod swept;
pub mod terrain;
pub mod trace;
