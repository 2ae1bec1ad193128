//! How wires hang: exact catenaries, the family of curves that a wire may hang in, held-out phases.
//!
//! [`hang::hang`] takes a site and gives every wire, in every weather, at every step, as [`SpanFamily`]s that `approach`
//! proves against; [`catenary`] is the curve itself, [`load`] what it carries, [`stretch`] how it takes a change of either,
//! [`state_change`] how it hangs today from how it was strung.

mod assumed;
mod beside;
pub mod catenary;
mod chord;
mod enclose;
pub mod family;
pub mod hang;
mod held;
mod hold;
pub mod load;
mod loose_spans;
pub mod parabola;
mod part;
mod placed;
mod pull;
pub mod spacing;
mod state;
pub mod state_change;
mod still;
pub mod stretch;

pub use catenary::{Catenary, CatenaryError};
pub use family::{Member, Patch, SpanFamily};
pub use hang::{Wires, hang};
pub use hold::Hold;
pub use placed::{PlacedFamily, Summary};
pub use spacing::Spacing;
pub use state::{Place, WireState, place_at_step};
pub use still::middle_depth_m;
