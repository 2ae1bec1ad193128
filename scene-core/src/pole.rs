//! What the pole weighs as it will hang, where it balances, how thick it is at any height and how much wind it catches.
//!
//! Heights are metres from the butt along the axis. Sideways, `off_axis_m` is toward the way the pole faces and to its
//! left. The maker's mass and balance hold over computed ones for the bare pole; what is fixed to it is added. Computed
//! masses err upward (galvanizing, oversize timber), and the balance point is never taken as known to better than
//! [`BALANCE_SHARE`] of the length when it is computed: on the job it is found by trial.
//!
//! Not modelled: water taken up after the density was stated, sweep and crook, butt flare, the rounded corners of a
//! bent plate (they make it lighter), an embedment sleeve or base plate unless it is stated as an item.

mod findings;
mod mass;
mod outline;
mod section;
mod shell;
mod taper;

pub use findings::findings;
pub use mass::{BALANCE_SHARE, GALVANIZED_FACTOR, Mass, MassPart, computed_shell, mass};
pub use outline::{Outline, side_area_m2, side_centre_m};
pub use section::{
    STEEL_KG_M3, butt_circumference_m, corner_factor, frustum_centroid_m, frustum_volume_m3, tube_centroid_m,
    tube_mass_kg, wall_area_coefficient,
};
pub use shell::{PoleError, outer_radius_m, radius_m};
pub use taper::Taper;

#[cfg(test)]
mod tests;
