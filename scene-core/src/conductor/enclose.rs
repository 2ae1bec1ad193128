//! From the true shapes of a wire to a bracket of curvatures, at one run and one rise, whose curves enclose them all.
//!
//! Steady wind blows a wire into an exact catenary in the plane of its chord and the resultant load. Measured along the
//! resultant, its rise is h·cos φ and its run √(L² + h²·sin² φ). Its depth at the fraction t of the chord is that of a
//! catenary with this run and rise, not with L and h. For level supports the two agree. For others a small error
//! remains, bounded here.
//!
//! Depth is the integral over the chord of G(t, s)·R²κ·cosh u(s), with G ≥ 0 and ∫G ds ≤ 1/8. Where R²κ·cosh u of one
//! curve is nowhere more than ρ times that of another, its depth is not either. Matching R²κ leaves ρ = cosh u/cosh u′
//! ≤ exp(tanh(max |u|)·|u − u′|), and
//! |u − u′| ≤ |m − m′| + |σ − σ′| everywhere (see [`super::catenary`]).

use super::catenary::{Catenary, CatenaryError};
use crate::bracket::Bracket;

/// All catenaries whose run, rise and curvature lie in these brackets.
#[derive(Clone, Copy, Debug)]
pub(super) struct Shapes {
    pub run_m: Bracket,
    pub rise_m: Bracket,
    pub curvature: Bracket,
}

/// The curvatures, and the distance around their curves, that enclose all shapes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Enclosure {
    pub curvature: Bracket,
    pub shape_error_m: f64,
}

/// Encloses all `shapes` by curves of the run `run_m` and the rise `rise_m`.
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
        shape_error_m: (upper * above.exp_m1()).max(-lower * (-below).exp_m1()),
    })
}

/// A bound on |ln ρ| between `matched` and the shapes of this curvature, and the depth that it multiplies.
fn left_over(shapes: &Shapes, curvature: f64, matched: &Catenary) -> Result<(f64, f64), CatenaryError> {
    let runs = [shapes.run_m.low(), shapes.run_m.high()];
    let rises = [shapes.rise_m.low(), shapes.rise_m.high()];
    let (matched_mid, matched_half) = matched.mid_and_half();
    let mut steepest = matched_mid.abs() + matched_half;
    let (mut mids_apart, mut halves_apart) = (0f64, 0f64);
    // sinh m = (rise/run)·σ/sinh σ, with σ from the run, is monotone in rise, run and σ. Taken as independent, they
    // have their extremes at the corners of the box.
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

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn or_end(low: f64, high: f64) -> impl Strategy<Value = f64> {
        prop_oneof![1 => Just(low), 1 => Just(high), 2 => low..high]
    }

    #[test]
    fn one_run_and_one_rise_leave_nothing_over() {
        let shapes = Shapes {
            run_m: Bracket::exactly(40.0),
            rise_m: Bracket::exactly(4.0),
            curvature: Bracket::between(0.002, 0.003).unwrap(),
        };
        let enclosure = enclose(&shapes, 40.0, 4.0).unwrap();
        assert_eq!((enclosure.curvature, enclosure.shape_error_m), (shapes.curvature, 0.0));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(1000))]

        #[test]
        fn every_shape_is_within_form_of_the_curves_of_one_run_and_rise(
            run in 5.0f64..100.0, shorter in 0.8f64..=1.0, longer in 1.0f64..1.2, slopes in (-0.5f64..0.5, -0.5f64..0.5),
            half in (0.0f64..0.4, 0.0f64..0.4), at in (or_end(0.0, 1.0), or_end(0.0, 1.0), or_end(0.0, 1.0)),
            nominal in 0.0f64..=1.0, t in 0.0f64..=1.0,
        ) {
            let shapes = Shapes {
                run_m: Bracket::between(run * shorter, run * longer).unwrap(),
                rise_m: Bracket::between(run * slopes.0, run * slopes.1).unwrap(),
                curvature: Bracket::between(half.0 * 2.0 / run, half.1 * 2.0 / run).unwrap(),
            };
            let rise = shapes.rise_m.at(nominal);
            let enclosure = enclose(&shapes, run, rise).unwrap();
            let shape = Catenary::new(shapes.run_m.at(at.0), shapes.rise_m.at(at.1), shapes.curvature.at(at.2)).unwrap();
            let depth = |curvature| Catenary::new(run, rise, curvature).unwrap().depth_m(t);
            let (low, high) = (depth(enclosure.curvature.low()), depth(enclosure.curvature.high()));
            let outside = (low - shape.depth_m(t)).max(shape.depth_m(t) - high);
            prop_assert!(outside <= enclosure.shape_error_m + 1e-12, "{outside} outside, form {}", enclosure.shape_error_m);
        }
    }
}
