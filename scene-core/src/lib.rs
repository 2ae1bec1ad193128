//! What a pole set into an energized line weighs, hangs from, comes near to and needs: pure computation.
//!
//! The data flows one way, top to bottom; a module knows only those above it.
//!
//! | room | takes → gives |
//! |---|---|
//! | [`quantity`], [`bracket`], [`finding`], [`solid`], [`csv`] | units as people say them ↔ SI; low ≤ true ≤ high; findings as data; balls, discs and hulls; tables with a place for each cell |
//! | [`catalog`], [`scene`], [`site`] | published tables; RON text → `Scene`, faults with line and field; `Scene` → `Site`, everything looked up, SI |
//! | [`conductor`], [`pole`], [`rigging`], [`chart`], [`crane`], [`bucket`] | families of hanging wires; mass and balance; how the pole hangs; rated capacity; kinematics of crane and bucket truck |
//! | [`sequence`], [`motion`] | steps → joint motion; every part at every instant as a [`motion::MovingPart`] |
//! | [`terrain`], [`neighbours`] | spot elevations → surface, slope, solids under it; what stands near the work as still solids |
//! | [`rules`], [`cover`] | required distance and why; class, method, double cover |
//! | [`approach`], [`swept`], [`capacity`], [`floats`], [`setting`] | proven gaps; swept volumes and footprints; percent of chart; force on each float; setting depth |
//! | [`check`] | everything gathered into one report |
//! | [`report`], [`trace`] | text and JSON |
//! | [`rehearsal`] | the site at any instant, to be drawn |
//!
//! Whatever is worked out on several threads comes out the same on one (`side_by_side`).
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
pub mod motion;
pub mod neighbours;
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
