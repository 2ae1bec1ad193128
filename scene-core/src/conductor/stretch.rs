//! A wire that stretches and warms: from its unstressed length to its curve, and back.
//!
//! Linear elastic, with the mean tension of the exact catenary, ∫T ds / length. Not modeled here: creep of an old wire,
//! and the aluminum of ACSR going slack when hot. Above its knee point such a wire hangs higher than computed;
//! [`super::state_change`] bounds by how much.

use super::catenary::{Catenary, CatenaryError, length_and_mean_tension, rising_root};

/// The length that the wire would have without tension, meters. `stiffness_n` is EA, newtons.
pub fn unstressed_length_m(hanging: &Catenary, load_n_per_m: f64, stiffness_n: f64) -> f64 {
    hanging.length_m() / (1.0 + hanging.mean_tension_n(load_n_per_m) / stiffness_n)
}

/// The curve of a wire of this unstressed length: length(H) = unstressed·(1 + mean tension(H)/EA).
///
/// # Errors [`CatenaryError::TooShort`] when it would stretch to twice its length; [`CatenaryError::TooSlack`] when it
/// hangs deeper than this crate computes.
pub fn hang_unstressed(
    run_m: f64,
    rise_m: f64,
    unstressed_m: f64,
    load_n_per_m: f64,
    stiffness_n: f64,
) -> Result<Catenary, CatenaryError> {
    let known = stiffness_n > 0.0 && stiffness_n.is_finite() && load_n_per_m > 0.0 && load_n_per_m.is_finite();
    if !known {
        return Err(CatenaryError::NoTension { tension_n: stiffness_n, load_n_per_m });
    }
    let chord_m = Catenary::new(run_m, rise_m, 0.0)?.chord_m();
    // Grows with curvature, because a slacker shape is longer and less taut.
    let too_long = |ln_curvature: f64| {
        let (length_m, mean_tension_n) = length_and_mean_tension(run_m, rise_m, ln_curvature.exp(), load_n_per_m);
        length_m - unstressed_m * (1.0 + mean_tension_n / stiffness_n)
    };
    let (taut, slack) = ((load_n_per_m / stiffness_n).min(19.0 / run_m).ln(), (19.0 / run_m).ln());
    if unstressed_m.is_nan() || too_long(taut) > 0.0 {
        return Err(CatenaryError::TooShort { length_m: unstressed_m, chord_m });
    }
    if too_long(slack) < 0.0 {
        return Err(CatenaryError::TooSlack { run_m });
    }
    Catenary::new(run_m, rise_m, rising_root(taut, slack, too_long).exp())
}

/// The curve of the same wire under another load and `warmer_c` degrees warmer: exact catenary, linear elastic.
///
/// # Errors Those of [`hang_unstressed`].
pub fn state_change(
    hanging: &Catenary,
    load_n_per_m: f64,
    new_load_n_per_m: f64,
    warmer_c: f64,
    stiffness_n: f64,
    expansion_per_c: f64,
) -> Result<Catenary, CatenaryError> {
    let unstressed = unstressed_length_m(hanging, load_n_per_m, stiffness_n) * (1.0 + expansion_per_c * warmer_c);
    hang_unstressed(hanging.run_m(), hanging.rise_m(), unstressed, new_load_n_per_m, stiffness_n)
}
