//! Every part at every instant.
//!
//! Over one piece of the sequence each joint runs evenly, so that every point follows a sum of sinusoids with evenly
//! growing amplitudes in the path parameter u ∈ [0, 1]: a [`Track`]. Position, derivatives and bounds on them come from
//! it in closed form, without knowing what machine moves.

pub mod track;

pub use track::{MovingFeature, MovingPart, Track, Wave};
