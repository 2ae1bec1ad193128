//! Every part at every instant.
//!
//! Over one piece of the sequence each joint runs evenly, so that every point follows a sum of sinusoids with evenly
//! growing amplitudes in the path parameter u ∈ [0, 1]: a [`Track`]. Position, derivatives and bounds on them come from
//! it in closed form, without knowing what machine moves.
//!
//! | file | holds |
//! |---|---|
//! | [`track`] | tracks, moving parts |
//! | [`spread`] | corners of a part, how they run, and what is not known of them: joints in any combination, the tilt between knots |
//! | `turning` | turnings as waves, for every machine |
//! | `run`, `lift` | the corners of crane and pole, of any aerial lift |
//! | `allowing` | what each corner's allowance is made of |
//! | `holding` | what holds phases aside |
//! | `standing` | what machines stand on |
//! | [`bodies`] | boom, head, line, hook, rigging, tail, pole and what is on it, aerial lifts, piece by piece |
//!
//! Not modeled: deflection, sway, wind lean and survey error as motion; they are each corner's allowance.

mod allowing;
pub mod bodies;
mod holding;
mod lift;
mod run;
pub mod spread;
mod standing;
#[cfg(test)]
mod tests;
pub mod track;
mod turning;

pub(crate) use allowing::lets_standing_pole_go;
pub use bodies::{BodyMotion, Motion, WindLean};
pub use track::{MovingFeature, MovingPart, Track, Wave};
