//! One of the two parts of a span that is taken hold of: how much wire it has, and how that hangs to a given grip.

use super::catenary::{Catenary, CatenaryError, curvature_from_slack, slack_from_curvature};
use super::chord::{Chord, ROUNDING};
use super::still::{Carried, StillSpan};
use super::stretch::hang_unstressed;
use crate::bracket::Bracket;
use glam::DVec3;

/// Of a conductor whose stiffness is not stated, by itself: a third of its strength over its stiffness is 0.2 percent at most
/// of the conductors of the catalog (from memory; unloaded lines are strung to a fifth or a quarter).
const UNKNOWN_STRAIN: f64 = 0.003;

/// One of the two parts of a span that is taken hold of.
#[derive(Clone, Copy, Debug)]
pub(super) struct Part {
    /// The support it ends at.
    pub support: DVec3,
    /// It comes after the grip along the line.
    pub after: bool,
    /// Along the wire as it hangs by itself, less what wind stretches it.
    pub length_m: Bracket,
    /// Without tension, when the conductor's EA is stated.
    unstressed_m: Option<Bracket>,
    stiffness_n: Option<f64>,
    /// Of the whole span in still air.
    pub curvature: Bracket,
    /// The least and the most that length² − chord² can be, hanging by itself in any wind of the case.
    pub slack_m2: Bracket,
    /// Of the whole span, by itself in any wind of the case.
    in_wind: Bracket,
    /// The mean tension is at most this many times the horizontal one, hanging by itself in any wind of the case.
    mean_to_horizontal: f64,
}

/// The curvatures of a part whose mean tension is what it was when the wire hung by itself.
#[derive(Clone, Copy, Debug)]
pub(super) struct Unchanged {
    pub still: Bracket,
    /// In any wind of the case, with the tension by itself in that wind or in less.
    pub in_wind: Bracket,
}

impl Part {
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
        // Where the grip is at its fraction, the wire may be still, or blown out with or without stretch: its share of
        // the whole length shifts one way with the tilt and one way with the curvature.
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
        // Strain is greatest when tautest. The mean tension of a part is below the support's, above the horizontal one.
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

    /// That it shortens by when its tension goes, at most.
    pub fn most_strain(&self, carried: &Carried) -> f64 {
        let tension_n = carried.resultant_n_per_m / self.in_wind.low() * self.mean_to_horizontal;
        self.stiffness_n.map_or(UNKNOWN_STRAIN, |stiffness_n| tension_n / stiffness_n)
    }

    pub fn chord_to(&self, grip: DVec3) -> Result<Chord, CatenaryError> {
        if self.after { Chord::new(grip, self.support) } else { Chord::new(self.support, grip) }
    }

    pub fn family_ends(&self, grips: [DVec3; 2]) -> ([DVec3; 2], [DVec3; 2]) {
        if self.after { (grips, [self.support; 2]) } else { ([self.support; 2], grips) }
    }

    /// With the mean tension as it was, along any chord of the part no longer than this with no less run.
    ///
    /// The wire hung by itself with a horizontal tension H and a mean one T; its new curvature is w·chord/(T·run), which is its
    /// old one, w/H, times H/T times chord/run. Both factors keep to what they can be: H/T ≤ 1, chord/run ≥ 1, in the
    /// plane of any wind too. What the wind made of the curvature it did on the chord of the whole span, before the grip.
    pub fn unchanged_tension(&self, run_low_m: f64, chord_high_m: f64, carried: &Carried) -> Unchanged {
        let (steeper, flatter) = ((chord_high_m / run_low_m).max(1.0), 1.0 / self.mean_to_horizontal);
        let between = |low: f64, high: f64| Bracket::between(low * flatter, high * steeper).unwrap_or(self.curvature);
        let load = carried.resultant_n_per_m / carried.weight_n_per_m;
        Unchanged {
            still: between(self.curvature.low(), self.curvature.high()),
            in_wind: between(self.in_wind.low(), self.in_wind.high().max(self.curvature.high() * load)),
        }
    }

    /// Between fixed ends, of a wire that does not stretch: low zero when it may not reach.
    pub fn unstretched(&self, chord: &Chord) -> Bracket {
        let chord_m = chord.length_m();
        let hung = |length_m: f64| curvature_from_slack(chord.run_m, (length_m - chord_m) * (length_m + chord_m));
        // Too slack for any number is refused where the family is made.
        let (taut, slack) = (hung(self.length_m.low()), hung(self.length_m.high()));
        Bracket::between(taut, slack).unwrap_or(Bracket::exactly(f64::MAX))
    }

    /// Between fixed ends in wind that tilts the load this far, the wire stretching if its EA is stated; `None` when it
    /// cannot be shown to reach.
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

/// Least and greatest of a part's length over the curvatures. A part of an inclined span may get shorter before it gets
/// longer as the wire slackens; the length is convex in the curvature (exactly so for the parabola), so that the greatest is
/// at an end and each half lies above the line through the other half's ends.
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

/// A bound on T/H of the part, T the mean tension along it and H the horizontal one, in the planes of all winds of the case.
///
/// ∫T ds/length of a catenary gives T/H = (1/(sinh σ/σ) + cosh 2m·cosh σ)/(2·cosh m), with m and σ of the part. It grows with
/// |m|, and with σ (in which (sinh σ/σ)′ ≤ sinh σ), so that the largest of each bounds it.
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
    // sinh m of the span = (rise/run)/(sinh σ/σ), one way in each of rise, run and σ; the middle of the part is at
    // m + σ·(from + to − 1).
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
