//! Plans and proves the setting of a pole into an energized overhead line. Pure computation: no screen, clock, globals or files.
//!
//! # Use
//!
//! Three calls lead from text to a report: read the scene, look everything up, check the site.
//!
//! ```
//! use scene_core::{check::check, finding::Grade, scene};
//!
//! // A scene is RON text. Every fault comes back at once, with line, column and field.
//! let text = scene::template();
//! let scene = scene::read("job.ron", text).expect("the template has no fault");
//! // A site holds the same facts in SI, with every reference looked up.
//! let site = scene.site().expect("every name in it exists");
//! // A report holds the gaps, loads and findings as data.
//! let report = check(&site);
//! assert!(!report.gaps.is_empty());
//! let stops = report.findings.iter().filter(|finding| finding.grade == Grade::Stop);
//! println!("{} stops", stops.count());
//!
//! // A wrong unit is a fault that names its place.
//! let faults = scene::read("job.ron", &text.replace("1200 ft", "1200 kV")).unwrap_err();
//! assert!(faults[0].line > 1);
//! ```
//!
//! # Modules
//!
//! The data flows from top to bottom: a module knows only the modules named before it. A test in `layers` checks that.
//!
//! | modules | input → output |
//! |---|---|
//! | [`quantity`], [`bracket`], [`solid`], [`finding`], [`premise`], [`place`], [`csv`], `side_by_side` | units as people write them ↔ SI; intervals low ≤ true ≤ high; balls, discs and convex hulls; findings as data; what a result assumes and leaves out; line and column; tables with the place of each cell; parallel work |
//! | [`machine`] | what machines are made of, where every point of them is, and which joints bring them to a place |
//! | [`site`] | the facts of one job in SI, every reference looked up |
//! | [`rules`], [`cover`] | minimum approach distance (MAD) and its reason; class, method, double cover |
//! | [`catalog`], [`scene`] | published tables; RON text → `Scene` → `Site`, with the place of each fault |
//! | [`conductor`], [`pole`], [`rigging`], [`chart`] | families of hanging wires; mass and balance; how the pole hangs; rated capacity |
//! | [`sequence`], [`motion`] | steps → joint motion; every part at every instant as a [`motion::MovingPart`] |
//! | [`terrain`], [`neighbours`] | spot elevations → surface, slope, solids below it; what stands near the work, as still solids |
//! | [`approach`], [`swept`] | proven gaps of moving parts; swept volumes and footprints |
//! | [`outcome`] | the data types of a report |
//! | `pairs` | what each pair demands, what excuses it, bridging, the way back |
//! | [`capacity`], [`floats`], [`setting`] | percent of rated capacity; force on each outrigger float; setting depth |
//! | [`leveling`] | what levels a crane on sloping ground, and what that ground bears |
//! | [`pole_sheet`] | what a bare pole weighs and where it balances, from its class alone |
//! | [`check`] | everything in one report |
//! | [`report`], [`trace`] | words and JSON; geometry over time |
//! | [`rehearsal`] | the site at any instant, for drawing |
//!
//! # Conventions
//!
//! The world frame is right-handed: x east, y north, z up, in meters. Angles are radians, counterclockwise seen from above. A number that
//! is not exactly known is a [`bracket::Bracket`]: lows are rounded down and highs up. No function panics on any input: a NaN
//! propagates, so nothing is proven. Results do not depend on the number of threads.

#![deny(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

pub use glam;

// What tests share stands in a crate of its own, which knows this one by its name.
#[cfg(test)]
extern crate self as scene_core;
#[cfg(test)]
#[path = "../../fixtures/src/lib.rs"]
pub mod fixtures;

#[warn(missing_docs)]
pub mod approach;
pub mod bracket;
#[warn(missing_docs)]
pub mod capacity;
pub mod catalog;
#[warn(missing_docs)]
pub mod chart;
pub mod check;
#[warn(missing_docs)]
pub mod conductor;
pub mod cover;
pub mod csv;
pub mod finding;
#[warn(missing_docs)]
pub mod floats;
#[cfg(test)]
mod layers;
#[warn(missing_docs)]
pub mod leveling;
pub mod machine;
pub mod motion;
#[warn(missing_docs)]
pub mod neighbours;
pub mod outcome;
mod pairs;
pub mod place;
#[warn(missing_docs)]
pub mod pole;
pub mod pole_sheet;
pub mod premise;
#[warn(missing_docs)]
pub mod quantity;
#[warn(missing_docs)]
pub mod rehearsal;
pub mod report;
#[warn(missing_docs)]
pub mod rigging;
pub mod rules;
pub mod scene;
pub mod sequence;
#[warn(missing_docs)]
pub mod setting;
mod side_by_side;
pub mod site;
#[warn(missing_docs)]
pub mod solid;
#[warn(missing_docs)]
pub mod swept;
#[warn(missing_docs)]
pub mod terrain;
#[warn(missing_docs)]
pub mod trace;
