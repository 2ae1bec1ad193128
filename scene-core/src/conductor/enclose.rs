//! From the shapes a wire really takes to the bracket of curvatures, at one run and one rise, whose curves hold them all.
//!
//! A wire blown out by an even wind hangs as an exact catenary in the plane of its chord and the resultant load. Measured
//! along the resultant, its rise is h·cos φ and its run √(L² + h²·sin² φ): its depth at the fraction t of the chord is that
//! of a catenary with this run and rise, not with L and h. Supports at one height leave nothing over; others a little,
//! which is bounded here.
//!
//! Depth is the integral over the chord of G(t, s)·R²κ·cosh u(s), G ≥ 0 with ∫G ds ≤ 1/8. So where R²κ·cosh u of one curve
//! is nowhere more than ρ times that of another, neither is its depth. Matching R²κ leaves
//! ρ = cosh u/cosh u′ ≤ exp(tanh(max |u|)·|u − u′|), and |u − u′| ≤ |m − m′| + |σ − σ′| all along (see [`super::catenary`]).

use super::catenary::{Catenary, CatenaryError};
use crate::bracket::Bracket;

/// Catenaries of any run, rise and curvature in the brackets.
#[derive(Clone, Copy, Debug)]
pub(super) struct Shapes {
    pub run_m: Bracket,
    pub rise_m: Bracket,
    pub curvature: Bracket,
}

/// What the curves of one run and rise need so as to hold all shapes: this curvature, and this much around them.
#[derive(Clone, Copy, Debug)]
pub(super) struct Enclosure {
    pub curvature: Bracket,
    pub form_m: f64,
}

pub(super) fn enclose(shapes: &Shapes, run_m: f64, rise_m: f64) -> Result<Enclosure, CatenaryError> {
    let error = CatenaryError::NoRun { run_m, rise_m };
    if shapes.run_m.low() <= 0.0 {
        return Err(error);
    }
    let share = |run: f64| (run / run_m) * (run / run_m);
    let slackest = shapes.curvature.high() * share(shapes.run_m.high());
    let tautest = shapes.curvature.low().max(0.0) * share(shapes.run_m.low());
    let (above, upper) = left_over(shapes, shapes.curvature.high(), &Catenary::new(run_m, rise_m, slackest)?)?;
    let (below, lower) = left_over(shapes, shapes.curvature.low().max(0.0), &Catenary::new(run_m, rise_m, tautest)?)?;
    Ok(Enclosure {
        curvature: Bracket::between(tautest, slackest).ok_or(error)?,
        form_m: (upper * above.exp_m1()).max(-lower * (-below).exp_m1()),
    })
}

/// A bound on |ln ρ| between `matched` and the shapes of this curvature, and the depth it acts on.
fn left_over(shapes: &Shapes, curvature: f64, matched: &Catenary) -> Result<(f64, f64), CatenaryError> {
    let runs = [shapes.run_m.low(), shapes.run_m.high()];
    let rises = [shapes.rise_m.low(), shapes.rise_m.high()];
    let (matched_mid, matched_half) = matched.mid_and_half();
    let mut steepest = matched_mid.abs() + matched_half;
    let (mut mids_apart, mut halves_apart) = (0f64, 0f64);
    // sinh m = (rise/run)·σ/sinh σ with σ from the run: monotone in each of rise, run and σ, here taken as independent, so
    // that the extremes over the box are at its corners.
    for run_of_ratio in runs {
        for run_of_half in runs {
            for rise in rises {
                let corner = Catenary::new(run_of_half, rise / run_of_ratio * run_of_half, curvature)?;
                let (mid, half) = corner.mid_and_half();
                mids_apart = mids_apart.max((mid - matched_mid).abs());
                halves_apart = halves_apart.max((half - matched_half).abs());
                steepest = steepest.max(mid.abs() + half);
            }
        }
    }
    Ok((steepest.tanh() * (mids_apart + halves_apart), matched.greatest_sag_m()))
}
