//! How the pole hangs from its choker: its tilt, the force that holds the butt, the effect of wind, suitable choker
//! heights, and faults of the rigging.
//!
//! The choker bears on one face, so the pole does not hang plumb. Its center of mass comes to rest under the choke.
//!
//! ```text
//!        | load line                     tilt = atan(offset / lever)
//!        |                               offset: from the choke to the line through the center of mass, across the axis
//!   .----x choke                         lever:  from the balance point up to the choke, along the axis
//!   |   /|
//!   axis | lever
//!   | /  |
//!   o center of mass, plumb under the choke
//! ```
//!
//! Not modeled: bending of the pole (it is rigid), slip or roll of the sling around the pole, gusts and swinging (the
//! load-swing allowance covers them), wind on hoist line and block, ice.

mod choker;
mod error;
mod findings;
mod hang;
mod sling;
mod wind;

pub use crate::conductor::load::wind_pressure_pa;
pub use choker::{ChokerOption, ChokerWhy, Slot, WayIn, choker_options, choker_room};
pub use error::RiggingError;
pub use findings::findings;
pub use hang::{GRAVITY_M_S2, Hang, butt_reaction_kg, hang, hold_force_n, hook_load_butt_grounded_kg};
pub use sling::{CHOKE_ABOVE_BALANCE_M, CHOKE_FACTORS, choke_factor, leg_tension_ratio, sling_capacity_kg};
pub use wind::{ITEM_DRAG, POLE_DRAG, WindLean, wind_leans};

#[cfg(test)]
mod tests;
