//! How wires hang: exact catenaries, the family of curves that a wire may hang in, held-out phases.
//!
//! [`hang::hang`] takes a site and gives every wire, in every weather, at every step, as [`SpanFamily`]s that `approach`
//! proves against; [`catenary`] is the curve itself, [`load`] what it carries, [`stretch`] how it takes a change of either,
//! [`state_change`] how it hangs today from how it was strung.

mod beside;
pub mod catenary;
mod enclose;
pub mod family;
pub mod hang;
mod held;
pub mod load;
pub mod parabola;
mod part;
mod pull;
pub mod spacing;
pub mod state_change;
mod still;
pub mod stretch;

pub use catenary::{Catenary, CatenaryError};
pub use family::{Member, Patch, SpanFamily};
pub use hang::{Hold, Place, PlacedFamily, Summary, WireState, Wires, hang};
pub use spacing::Spacing;
pub use still::middle_depth_m;
