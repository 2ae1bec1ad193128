//! The spans next to one whose wire is held out.
//!
//! ```text
//!    ●──natural──●──natural──●═part═P═part═●──natural──●      every support holds the wire
//!    ●───tauter──●───tauter──●─────P───────●───tauter──●      the wire slips, or the supports give, until the pulls are equal
//! ```
//!
//! When a tie lets go or an insulator leans, wire moves from the side that pulls less to the side that pulls more. It
//! stops when friction holds it or when both sides pull equally, and never goes beyond that. An adjacent span therefore
//! hangs between two limits: as it hangs by itself, and with the pull that the held part has at the support between
//! them when the supports are rigid. The equal pull may act along the wire (the wire slips) or horizontally (the
//! support moves). The same holds for each span farther out; with height, the tension along the wire changes by w·Δz.
//!
//! The constant a = H/w describes a curve, in the plane of the load. Along the wire T/w = a·cosh u with
//! |u| ≤ κR/2 + asinh(|h|/R), for run R, rise h and curvature κ = 1/a.

use super::catenary::{CatenaryError, slack_from_curvature};
use super::span_part::SpanPart;
use super::still::{Carried, StillSpan, family_between_fixed_ends};
use crate::bracket::Bracket;
use crate::conductor::SpanFamily;
use glam::DVec3;

/// The possible pull of the wire on a support, on one side of a grip and in any wind, and how much wire may have
/// slipped there.
#[derive(Clone, Copy, Debug)]
pub(super) struct SupportPull {
    /// The largest T/w along the wire, meters; infinite when the wire may be straight.
    most_m: f64,
    /// The smallest H/w, meters.
    least_m: f64,
    /// The length of wire that may have slipped in or out, meters.
    pub ran_m: f64,
}

impl SupportPull {
    /// The pull of a part between its support and the grips at the distances `chord_m`. Run, rise and curvature hold
    /// for any wind.
    pub fn new(
        part: &SpanPart,
        chord_m: Bracket,
        run_m: Bracket,
        rise_m: Bracket,
        curvature: Bracket,
        carried: &Carried,
    ) -> Self {
        let steepest = rise_m.low().abs().max(rise_m.high().abs());
        // A convex function has its maximum at an end.
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

    /// Bounds that hold for both.
    pub fn hull(self, other: Self) -> Self {
        Self {
            most_m: self.most_m.max(other.most_m),
            least_m: self.least_m.min(other.least_m),
            ran_m: self.ran_m.max(other.ran_m),
        }
    }
}

/// The largest cosh u at either end of any such curve.
fn cosh_at_end(curvature: f64, run_m: Bracket, steepest_rise_m: f64) -> f64 {
    (curvature * run_m.high() / 2.0 + (steepest_rise_m / run_m.low()).asinh()).cosh()
}

/// An adjacent span as it may hang while the wire is held.
pub(super) struct AdjacentSpan {
    pub family: SpanFamily,
    /// In any wind, per meter.
    pub curvature: Bracket,
}

/// The adjacent span when the wire is `pulled` at the support `from`, and nothing holds it between there and this
/// span's support `near`. `None` when its curves have no slack limit: the wire might go fully slack.
pub(super) fn adjacent_span(
    span: &StillSpan,
    pulled: &SupportPull,
    from: DVec3,
    near: DVec3,
    carried: &Carried,
    radius_m: f64,
) -> Result<Option<AdjacentSpan>, CatenaryError> {
    let natural = carried.curvature(&span.chord, span.curvature);
    let run_m = Bracket::exactly(span.chord.run_m).hull(Bracket::exactly(span.chord.tilted_run_m(carried.blowout)));
    // The difference in height, in any plane to which the wind tilts the load.
    let way = near - from;
    let drop_m = way.z.abs() + way.truncate().length() * carried.blowout.sin();
    let tautest = 1.0 / (pulled.most_m + drop_m);
    let Some(slackest) = slackest(pulled.least_m - drop_m, run_m, span.chord.rise_m.abs()) else { return Ok(None) };
    let curvature = natural.hull(Bracket::exactly(tautest)).hull(Bracket::exactly(slackest));
    Ok(Some(AdjacentSpan { family: family_between_fixed_ends(&span.chord, curvature, carried, radius_m)?, curvature }))
}

/// The largest curvature at which T/w at a support may still be this small, on the branch where a slacker wire pulls
/// less.
fn slackest(least_m: f64, run_m: Bracket, rise_m: f64) -> Option<f64> {
    // Part of the tension along the wire comes from its own weight, so H/w is less than T/w.
    const STEPS: usize = 60;
    const MORE: f64 = 1.0 + 1e-9;
    let wanted = |curvature: f64| cosh_at_end(curvature, run_m, rise_m) / least_m;
    let mut curvature = 1.0 / least_m;
    for _ in 0..STEPS {
        curvature = wanted(curvature) * MORE;
        // Beyond this curvature the wire would pull harder than it may, so it is not slacker than this.
        if curvature.is_finite() && curvature > 0.0 && wanted(curvature) <= curvature {
            return Some(curvature);
        }
    }
    None
}
