//! How wires hang: exact catenaries, families of possible curves, and phases that the crew holds out.
//!
//! [`hang()`] takes a site and returns, for every wire, weather case and step, the [`SpanFamily`]s that enclose every
//! curve the wire may have. [`crate::approach`] proves gaps against these families.
//!
//! ```text
//! catenary ◄─ stretch ◄─ state_change ─┐             one curve; elastic stretch; from stringing to today
//!                                      ▼
//! chord ──► enclose ──────────────► still            one span by itself, in still air and in wind
//!                                      │
//!            span_part ──► held ◄── pull             a span whose wire is held out, and its pull on the holder
//!                           │
//!            adjacent ──► loose_spans                the spans next to it
//!                           ▼
//!            placed ──► state ──► spacing, hold      which families at which steps; distances between wires; findings
//!                           ▼
//!                         hang
//! ```

mod adjacent;
mod assumed;
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
mod placed;
mod pull;
pub mod spacing;
mod span_part;
mod state;
pub mod state_change;
mod still;
pub mod stretch;

pub use catenary::{Catenary, CatenaryError};
pub use family::{Member, Patch, SpanFamily};
pub use hang::{Wires, hang};
pub use hold::Hold;
pub use placed::{PlacedFamily, Summary};
pub use spacing::{Spacing, gap_of_stretches_m};
pub use state::{HoldState, WireState, hold_state_at_step};
pub use still::middle_depth_m;
