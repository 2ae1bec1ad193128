//! The spans beside one whose wire is held out.
//!
//! ```text
//!    ●──natural──●──natural──●═part═P═part═●──natural──●      where nothing lets the wire run or give
//!    ●───tauter──●───tauter──●─────P───────●───tauter──●      where it does, as far as it evens out
//! ```
//!
//! Where a tie lets go, or an insulator leans, wire runs from the side that pulls less to the side that pulls more, until
//! friction holds it or both pull alike; it never runs on beyond that. So a span beside hangs somewhere between by itself and
//! as hard pulled as the held part with fixed supports, at the support between them: along the wire (it slides) or level (its
//! support moves). One farther off is between by itself and that in the same way, its support higher or lower by as much as the
//! tension along the wire changes with height, w·Δz.
//!
//! A curve is told by its constant a = H/w of the plane that the load lies in; along the wire T/w = a·cosh u, |u| ≤ κR/2 +
//! asinh(|h|/R) with run R, rise h and curvature κ = 1/a.

use super::catenary::{CatenaryError, slack_from_curvature};
use super::part::Part;
use super::still::{Carried, StillSpan, family_between_fixed_ends};
use crate::bracket::Bracket;
use crate::conductor::SpanFamily;
use glam::DVec3;

/// How the wire of one side of a grip may pull at its support, in any wind, and how much of it may have run there.
#[derive(Clone, Copy, Debug)]
pub(super) struct AtSupport {
    /// T/w along the wire: the most that it can be; infinite when the wire may be straight.
    most_m: f64,
    /// H/w: the least.
    least_m: f64,
    /// How much wire may have run in or out.
    pub ran_m: f64,
}

impl AtSupport {
    /// Of a part between a support and grips as far as `chord_m` from it, its curvature in any wind, its runs and rises in any
    /// plane.
    pub fn new(
        part: &Part,
        chord_m: Bracket,
        run_m: Bracket,
        rise_m: Bracket,
        curvature: Bracket,
        carried: &Carried,
    ) -> Self {
        let steepest = rise_m.low().abs().max(rise_m.high().abs());
        // Of a convex function the most is at an end.
        let along = |curvature: f64| cosh_at_end(curvature, run_m, steepest) / curvature;
        let least_slack = slack_from_curvature(run_m.low(), curvature.low());
        let most_slack = slack_from_curvature(run_m.high(), curvature.high());
        let lengths = [chord_m.low().hypot(least_slack.sqrt()), chord_m.high().hypot(most_slack.sqrt())];
        let geometric = (lengths[1] - part.length_m.low()).max(part.length_m.high() - lengths[0]).max(0.0);
        Self {
            most_m: along(curvature.low()).max(along(curvature.high())),
            least_m: 1.0 / curvature.high(),
            ran_m: geometric + part.most_strain(carried) * lengths[1],
        }
    }

    pub fn hull(self, other: Self) -> Self {
        Self {
            most_m: self.most_m.max(other.most_m),
            least_m: self.least_m.min(other.least_m),
            ran_m: self.ran_m.max(other.ran_m),
        }
    }
}

/// At either end of any such curve.
fn cosh_at_end(curvature: f64, run_m: Bracket, steepest_rise_m: f64) -> f64 {
    (curvature * run_m.high() / 2.0 + (steepest_rise_m / run_m.low()).asinh()).cosh()
}

/// A span beside as it may hang while the wire is held.
pub(super) struct Beside {
    pub family: SpanFamily,
    /// In any wind.
    pub curvature: Bracket,
}

/// Where the wire is `pulled` at the support `from`, and nothing holds it up to the support `near` of this span. `None` when its
/// slackest curve has no bound: the wire beside might go slack altogether.
pub(super) fn beside(
    span: &StillSpan,
    pulled: &AtSupport,
    from: DVec3,
    near: DVec3,
    carried: &Carried,
    radius_m: f64,
) -> Result<Option<Beside>, CatenaryError> {
    let natural = carried.curvature(&span.chord, span.curvature);
    let run_m = Bracket::exactly(span.chord.run_m).hull(Bracket::exactly(span.chord.tilted_run_m(carried.blowout)));
    // How much higher or lower that is, seen in any plane that the wind tilts the load to.
    let way = near - from;
    let drop_m = way.z.abs() + way.truncate().length() * carried.blowout.sin();
    let tautest = 1.0 / (pulled.most_m + drop_m);
    let Some(slackest) = slackest(pulled.least_m - drop_m, run_m, span.chord.rise_m.abs()) else { return Ok(None) };
    let curvature = natural.hull(Bracket::exactly(tautest)).hull(Bracket::exactly(slackest));
    Ok(Some(Beside { family: family_between_fixed_ends(&span.chord, curvature, carried, radius_m)?, curvature }))
}

/// The curvature up to which T/w may still be this little at a support, on the branch where a slacker wire pulls less.
fn slackest(least_m: f64, run_m: Bracket, rise_m: f64) -> Option<f64> {
    // Some of the tension along the wire is its own weight: H/w is less than T/w by that.
    const STEPS: usize = 60;
    const MORE: f64 = 1.0 + 1e-9;
    let wanted = |curvature: f64| cosh_at_end(curvature, run_m, rise_m) / least_m;
    let mut curvature = 1.0 / least_m;
    for _ in 0..STEPS {
        curvature = wanted(curvature) * MORE;
        // From here on the wire would pull harder than it may, so that it is not as slack as this.
        if curvature.is_finite() && curvature > 0.0 && wanted(curvature) <= curvature {
            return Some(curvature);
        }
    }
    None
}
