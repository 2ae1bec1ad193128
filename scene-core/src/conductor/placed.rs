//! A span's family with its place along the line, and the figures that people read.

use super::catenary::{Catenary, CatenaryError};
use super::family::SpanFamily;
use super::still::{Carried, StillSpan};
use crate::bracket::Bracket;
use crate::site::{Wire, station};
use glam::DVec3;

/// A family of curves with its place along the line.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedFamily {
    /// The curves.
    pub family: SpanFamily,
    /// Index into [`Wire::spans`].
    pub span: usize,
    /// Stations at t = 0 and t = 1, and evenly between. A station is the distance along the line from the point nearest
    /// the hole, meters, positive toward the last support.
    pub station_m: [f64; 2],
    /// How far along the wire the point at a t may be from the point that hangs at its station by itself, meters.
    pub station_error_m: f64,
    /// The figures for people; `None` while the wire is being moved.
    pub summary: Option<Summary>,
}

impl PlacedFamily {
    /// The ranges of t that lie on these stretches of stations, longer by what is not known of where the points are. All of it
    /// where that is not known at all.
    pub fn on_stretches(&self, stretches: &[Bracket]) -> Vec<Bracket> {
        let whole = Bracket::exactly(0.0).hull(Bracket::exactly(1.0));
        let [from, to] = self.station_m;
        let fraction = |station: f64| (station - from) / (to - from);
        let on = |stretch: &Bracket| {
            if !self.station_error_m.is_finite() {
                return Some(whole);
            }
            let stretch = stretch.widened(self.station_error_m);
            match Bracket::between(fraction(stretch.low()), fraction(stretch.high())) {
                Some(t) => t.within(whole),
                None => Some(whole),
            }
        };
        stretches.iter().filter_map(on).collect()
    }
}

/// The figures of a span that people read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Summary {
    /// Horizontal length, meters.
    pub span_m: f64,
    /// Tension square to the resultant load, newtons, from still air to full wind; `None` when it has no upper bound.
    pub horizontal_tension_n: Option<Bracket>,
    /// Sag from the chord at midspan along the resultant load, meters.
    pub sag_m: Bracket,
    /// Lowest point of the slackest curve in still air. World frame, meters.
    pub lowest_point: DVec3,
}

/// Stations of the start and the end of each span, meters.
pub(super) fn stations(wire: &Wire, hole: DVec3) -> Vec<[f64; 2]> {
    let mut walked = station::reach(&wire.spans, hole).map_or(0.0, Bracket::low);
    let mut ends = Vec::new();
    for span in &wire.spans {
        let from = walked;
        walked += (span.to - span.from).truncate().length();
        ends.push([from, walked]);
    }
    ends
}

/// A span by itself with its place along the line.
pub(super) fn placed_still(
    span: &StillSpan,
    carried: &Carried,
    radius_m: f64,
    number: usize,
    station_m: [f64; 2],
) -> Result<PlacedFamily, CatenaryError> {
    let family = span.family(carried, radius_m)?;
    let slack = Catenary::new(span.chord.run_m, span.chord.rise_m, span.curvature.high())?;
    let windy = carried.curvature(&span.chord, span.curvature);
    let horizontal_tension_n = Bracket::between(
        carried.weight_n_per_m / span.curvature.high(),
        carried.heavier * carried.resultant_n_per_m / windy.low(),
    );
    let summary = summary(&family, span.curvature.high(), horizontal_tension_n)?;
    Ok(PlacedFamily {
        family,
        span: number,
        station_m,
        station_error_m: slack.slack_m2() / (2.0 * slack.chord_m()),
        summary: Some(summary),
    })
}

/// The figures of a family whose slackest curve in still air has this curvature.
pub(super) fn summary(
    family: &SpanFamily,
    slackest_still: f64,
    horizontal_tension_n: Option<Bracket>,
) -> Result<Summary, CatenaryError> {
    let sag =
        |curvature| Ok::<f64, CatenaryError>(Catenary::new(family.run_m, family.rise_m, curvature)?.midspan_sag_m());
    let (low, high) = (sag(family.curvature.low())?, sag(family.curvature.high())?);
    let slack = Catenary::new(family.run_m, family.rise_m, slackest_still)?;
    let [from, to] = [family.a[0], family.b[0]];
    let t = slack.low_point_m().map_or(0.0, |x| x / family.run_m).clamp(0.0, 1.0);
    let no_sag = CatenaryError::NoSag { sag_m: high };
    Ok(Summary {
        span_m: family.run_m,
        horizontal_tension_n,
        sag_m: Bracket::between((low - family.shape_error_m).max(0.0), high + family.shape_error_m).ok_or(no_sag)?,
        lowest_point: from.lerp(to, t) - DVec3::Z * slack.depth_m(t),
    })
}
