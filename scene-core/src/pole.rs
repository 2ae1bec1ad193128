//! The pole's mass and balance as it will hang, its thickness at any height, and its area in the wind.
//!
//! Heights are meters from the butt along the axis. `off_axis_m` is sideways: toward the direction that the pole faces,
//! and to its left. The maker's mass and balance take precedence over computed values for the bare pole; items fixed to
//! the pole are added. Computed masses err upward (galvanizing, oversize timber). A computed balance point is never
//! more certain than [`BALANCE_SHARE`] of the length: on the job the crew finds it by trial.
//!
//! Not modeled: water absorbed after the density was stated, sweep and crook, butt flare, the rounded corners of a bent
//! plate (they make it lighter), an embedment sleeve or base plate unless it is stated as an item.

mod findings;
mod mass;
mod outline;
mod section;
mod shell;
mod taper;

pub use findings::findings;
pub use mass::{BALANCE_SHARE, GALVANIZED_FACTOR, Mass, MassPart, computed_shell, mass};
pub use outline::{Outline, side_area_m2, side_center_m};
pub use section::{
    STEEL_KG_M3, butt_circumference_m, corner_factor, frustum_centroid_m, frustum_volume_m3, tube_centroid_m,
    tube_mass_kg, wall_area_coefficient,
};
pub use shell::{PoleError, outer_radius_m, radius_m};
pub use taper::Taper;

#[cfg(test)]
mod tests;
