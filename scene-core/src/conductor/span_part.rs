//! One of the two parts of a gripped span: how much wire it has, and how that wire hangs between its support and a
//! grip.

use super::catenary::{Catenary, CatenaryError, curvature_from_slack, slack_from_curvature};
use super::chord::{Chord, ROUNDING};
use super::still::{Carried, StillSpan};
use super::stretch::hang_unstressed;
use crate::bracket::Bracket;
use glam::DVec3;

/// Strain of a conductor whose stiffness is not stated, hanging by itself. A third of its strength over its stiffness
/// is 0.2 percent at most for the conductors of the catalog (from memory; unloaded lines are strung to a fifth or a
/// quarter).
const UNKNOWN_STRAIN: f64 = 0.003;

/// One of the two parts of a gripped span.
#[derive(Clone, Copy, Debug)]
pub(super) struct SpanPart {
    /// The support at its other end.
    pub support: DVec3,
    /// It comes after the grip along the line.
    pub after: bool,
    /// Length along the wire as it hangs by itself, less the stretch from wind, meters.
    pub length_m: Bracket,
    /// Length without tension, meters, when the conductor's stiffness EA is stated.
    unstressed_m: Option<Bracket>,
    stiffness_n: Option<f64>,
    /// Of the whole span in still air, per meter.
    pub curvature: Bracket,
    /// length² − chord² when it hangs by itself in any wind of the case, square meters.
    pub slack_m2: Bracket,
    /// Curvature of the whole span by itself in any wind of the case, per meter.
    in_wind: Bracket,
    /// The mean tension is at most this many times the horizontal tension, by itself in any wind of the case.
    mean_to_horizontal: f64,
}

/// The curvatures of a part whose mean tension is the same as before the grip.
#[derive(Clone, Copy, Debug)]
pub(super) struct Unchanged {
    pub still: Bracket,
    /// In any wind of the case, with the tension that this wind or a weaker one gave.
    pub in_wind: Bracket,
}

impl SpanPart {
    /// The part between two fractions of the run of a span.
    pub fn new(
        span: &StillSpan,
        from: f64,
        to: f64,
        carried: &Carried,
        stiffness_n: Option<f64>,
    ) -> Result<Self, CatenaryError> {
        let (run_m, rise_m) = (span.chord.run_m, span.chord.rise_m);
        let hung = |curvature| Catenary::new(run_m, rise_m, curvature);
        let (taut, slack) = (hung(span.curvature.low())?, hung(span.curvature.high())?);
        // When the crew grips it, the wire may hang still, or blown out with or without stretch. The part's share of
        // the length changes in one direction with tilt and in one with curvature.
        let still = |curvature| Ok(hung(curvature)?.part_length_m(from, to));
        let blown = |curvature, stretched: bool| {
            let windy = carried.curvature(&span.chord, Bracket::exactly(curvature));
            let tilted_rise = rise_m * carried.blowout.cos();
            let curvature_in_wind = if stretched { windy.high() } else { windy.low() };
            let shape = Catenary::new(span.chord.tilted_run_m(carried.blowout), tilted_rise, curvature_in_wind)?;
            Ok(hung(curvature)?.length_m() * shape.part_length_m(from, to) / shape.length_m())
        };
        let mut length_m = extremes(span.curvature, still)?;
        if carried.blowout > 0.0 {
            length_m = length_m.hull(extremes(span.curvature, |curvature| blown(curvature, false))?);
            length_m = length_m.hull(extremes(span.curvature, |curvature| blown(curvature, true))?);
        }
        let (shortest, longest) = (length_m.low(), length_m.high());
        // The tautest wire has the greatest strain. The mean tension of a part lies between the horizontal tension and
        // that at the support.
        let weight = carried.weight_n_per_m;
        let unstressed_m = stiffness_n.and_then(|stiffness| {
            let most = 1.0 + taut.support_tension_n(weight).max(slack.support_tension_n(weight)) / stiffness;
            let least = 1.0 + slack.horizontal_tension_n(weight) / stiffness;
            Bracket::between(shortest / most, longest / least)
        });
        let in_wind = carried.curvature(&span.chord, span.curvature);
        let tilted_run_m = span.chord.tilted_run_m(carried.blowout);
        let slack_m2 = Bracket::between(
            slack_from_curvature(run_m * (to - from), in_wind.low()),
            slack_from_curvature(tilted_run_m * (to - from), in_wind.high()),
        );
        Ok(Self {
            support: if from == 0.0 { span.chord.from } else { span.chord.to },
            after: from != 0.0,
            length_m,
            unstressed_m,
            stiffness_n,
            curvature: span.curvature,
            slack_m2: slack_m2.ok_or(CatenaryError::TooSlack { run_m })?,
            in_wind,
            mean_to_horizontal: mean_to_horizontal(span, carried, in_wind, from, to)?,
        })
    }

    /// The largest strain that it loses when its tension goes.
    pub fn most_strain(&self, carried: &Carried) -> f64 {
        let tension_n = carried.resultant_n_per_m / self.in_wind.low() * self.mean_to_horizontal;
        self.stiffness_n.map_or(UNKNOWN_STRAIN, |stiffness_n| tension_n / stiffness_n)
    }

    /// The chord between its support and a grip, in the direction of the line.
    pub fn chord_to(&self, grip: DVec3) -> Result<Chord, CatenaryError> {
        if self.after { Chord::new(grip, self.support) } else { Chord::new(self.support, grip) }
    }

    /// The two ends of its family, in the direction of the line, when the grip is on the segment `grips`.
    pub fn family_ends(&self, grips: [DVec3; 2]) -> ([DVec3; 2], [DVec3; 2]) {
        if self.after { (grips, [self.support; 2]) } else { ([self.support; 2], grips) }
    }

    /// Its curvatures when the mean tension stays, along any chord no longer than `chord_high_m` with no less run than
    /// `run_low_m`.
    ///
    /// By itself the wire had the horizontal tension H and the mean tension T. Its new curvature is w·chord/(T·run):
    /// its old curvature w/H, times H/T, times chord/run. H/T ≤ 1 and chord/run ≥ 1, also in the plane of any wind. The
    /// effect of wind on the curvature comes from the chord of the whole span, because the wind acted before the grip.
    pub fn unchanged_tension(&self, run_low_m: f64, chord_high_m: f64, carried: &Carried) -> Unchanged {
        let (steeper, flatter) = ((chord_high_m / run_low_m).max(1.0), 1.0 / self.mean_to_horizontal);
        let between = |low: f64, high: f64| Bracket::between(low * flatter, high * steeper).unwrap_or(self.curvature);
        let load = carried.resultant_n_per_m / carried.weight_n_per_m;
        Unchanged {
            still: between(self.curvature.low(), self.curvature.high()),
            in_wind: between(self.in_wind.low(), self.in_wind.high().max(self.curvature.high() * load)),
        }
    }

    /// Its curvature between fixed ends when the wire does not stretch. The low end is zero when the wire may not
    /// reach.
    pub fn unstretched(&self, chord: &Chord) -> Bracket {
        let chord_m = chord.length_m();
        let hung = |length_m: f64| curvature_from_slack(chord.run_m, (length_m - chord_m) * (length_m + chord_m));
        // The family's constructor refuses an infinite curvature.
        let (taut, slack) = (hung(self.length_m.low()), hung(self.length_m.high()));
        Bracket::between(taut, slack).unwrap_or(Bracket::exactly(f64::MAX))
    }

    /// Its curvature between fixed ends, in wind that tilts the load by `blowout`. The wire stretches when its EA is
    /// known. `None` when the wire may not reach.
    pub fn fixed(&self, chord: &Chord, carried: &Carried, blowout: f64) -> Option<Bracket> {
        let (run_m, rise_m) = (chord.tilted_run_m(blowout), chord.rise_m * blowout.cos());
        let load_n_per_m = carried.weight_n_per_m / blowout.cos();
        if let (Some(unstressed_m), Some(stiffness_n)) = (self.unstressed_m, self.stiffness_n) {
            let hung = |unstressed_m| hang_unstressed(run_m, rise_m, unstressed_m, load_n_per_m, stiffness_n);
            let (taut, slack) = (hung(unstressed_m.low()).ok()?, hung(unstressed_m.high()).ok()?);
            return Bracket::between(taut.curvature() * (1.0 - ROUNDING), slack.curvature() * (1.0 + ROUNDING));
        }
        let tilted = Chord { run_m, rise_m, ..*chord };
        let unstretched = self.unstretched(&tilted);
        (unstretched.low() > 0.0).then_some(unstretched)
    }
}

/// The least and the greatest length of a part over a range of curvatures.
///
/// A part of an inclined span may first get shorter and then longer as the wire slackens. The length is convex in the
/// curvature (exactly so for the parabola). So the greatest length is at an end, and each half lies above the line
/// through the ends of the other half.
fn extremes(
    curvature: Bracket,
    length_m: impl Fn(f64) -> Result<f64, CatenaryError>,
) -> Result<Bracket, CatenaryError> {
    let [low, middle, high] = [length_m(curvature.low())?, length_m(curvature.middle())?, length_m(curvature.high())?];
    let greatest = low.max(high);
    let least = low.min(high).min(2.0 * middle - greatest);
    Bracket::between(least * (1.0 - 1e-13), greatest * (1.0 + 1e-13))
        .ok_or(CatenaryError::TooShort { length_m: least, chord_m: 0.0 })
}

/// A bound on T/H of the part, with mean tension T and horizontal tension H, in the planes of all winds of the case.
///
/// For a catenary ∫T ds/length gives T/H = (1/(sinh σ/σ) + cosh 2m·cosh σ)/(2·cosh m), with m and σ of the part. It
/// grows with |m|, and with σ because (sinh σ/σ)′ ≤ sinh σ. So the largest of each bounds it.
fn mean_to_horizontal(
    span: &StillSpan,
    carried: &Carried,
    in_wind: Bracket,
    from: f64,
    to: f64,
) -> Result<f64, CatenaryError> {
    let (runs, rises) = span
        .chord
        .tilted(carried.blowout)
        .ok_or(CatenaryError::NoRun { run_m: span.chord.run_m, rise_m: span.chord.rise_m })?;
    // For the span, sinh m = (rise/run)/(sinh σ/σ) is monotone in rise, run and σ. The middle of the part is at m +
    // σ·(from + to − 1).
    let mut mid = 0f64;
    for (run_m, rise_m, curvature) in [
        (runs.low(), rises.low(), in_wind.low()),
        (runs.low(), rises.high(), in_wind.low()),
        (runs.high(), rises.low(), in_wind.high()),
        (runs.high(), rises.high(), in_wind.high()),
    ] {
        let (mid_of_span, _) = Catenary::new(run_m, rise_m, curvature)?.mid_and_half();
        for half in [runs.low() * in_wind.low() / 2.0, runs.high() * in_wind.high() / 2.0] {
            mid = mid.max((mid_of_span + half * (from + to - 1.0)).abs());
        }
    }
    let (_, half) = Catenary::new(runs.high() * (to - from), 0.0, in_wind.high())?.mid_and_half();
    let level = if half > 0.0 { half / half.sinh() } else { 1.0 };
    Ok((level + (2.0 * mid).cosh() * half.cosh()) / (2.0 * mid.cosh()) * (1.0 + ROUNDING))
}
