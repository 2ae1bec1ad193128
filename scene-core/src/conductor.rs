//! How wires hang: exact catenaries, the family of curves that a wire may hang in, held-out phases.

pub mod family;

pub use family::{Member, Patch, SpanFamily};
