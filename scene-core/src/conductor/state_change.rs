//! From how a span was strung to how it hangs today: the state-change equation, with what its linear model does not know.
//!
//! ```text
//!  strung: tension or sag, temperature ─► up to the knee: the whole conductor ─► beyond it: the core alone ─► today, with ice
//!                                          H ↦ length(H, w) = unstressed · (1 + α·ΔT + elongation) · (1 + mean tension / EA)
//! ```
//!
//! Each stage is solved on the exact catenary by bracketing ([`hang_unstressed`]); there is no parabola in it. How deep the wire
//! ends up grows with its start, its strain and its load, and runs one way with EA whatever the rest, so that the extremes
//! over what is not known are found at the ends, and both are kept.
//!
//! What is not known, and how it is bounded:
//! - **Data.** [`STIFFNESS_SHARE`], [`EXPANSION_SHARE`], [`WEIGHT_SHARE`] of the figures. All of w, H and EA times one number is the
//!   same shape, so that a doubt in w is one in H and EA.
//! - **Aluminium going slack.** Beyond the knee the whole conductor's figures overstate the sag. The true strain then lies between
//!   what the whole conductor's and the core's alone would give: from the knee on both are taken.
//! - **Creep.** Data of the final condition hold; from those of the initial one the wire has grown by what the scene states.
//! - **Supports.** With rigid ones each span keeps its wire; free ones share one tension: that of the ruling span.
//!   Both are kept. When all spans of a section are known, so is what lies between: no tension is beyond those that the spans
//!   would have apart, for a support that leans moves what it has from the more taut to the less taut side.
//!
//! Not modelled: strain beyond the elastic one in loads heavier than the wire has had (state it as elongation), slip in a clamp, poles that
//! move.

use super::catenary::{Catenary, CatenaryError};
use super::load::ice_n_per_m;
use super::still::{Chord, ROUNDING, StillSpan};
use super::stretch::{hang_unstressed, unstressed_length_m};
use crate::bracket::Bracket;
use crate::site::{Conductor, Core, Ice, Metal, Ruling, Stringing, Strung};
use thiserror::Error;

/// How far a published final modulus may be off: tables differ by 2 to 3 percent, and the curve is not a straight line.
pub const STIFFNESS_SHARE: f64 = 0.05;
/// Published coefficients of expansion differ by 1 to 2 percent.
pub const EXPANSION_SHARE: f64 = 0.03;
/// Published weights differ by up to 1 percent.
pub const WEIGHT_SHARE: f64 = 0.01;
/// What the root finder may leave, relative.
const ROOT: f64 = 1e-9;

/// Why a span cannot be hung from its stringing data.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum StrungError {
    #[error("its conductor has no stiffness (modulus times area)")]
    NoStiffness,
    #[error("its conductor has no coefficient of expansion and no word on its core")]
    NoMetal,
    #[error("its temperatures, elongation, ice or ruling span are not numbers that can be computed with")]
    Unusable,
    #[error(transparent)]
    Catenary(#[from] CatenaryError),
}

/// Weight of the ice, least and most.
pub(super) fn ice_weight_n_per_m(diameter_m: f64, ice: &Ice) -> Bracket {
    let weight = |thickness_m, density_kg_m3| ice_n_per_m(diameter_m, thickness_m, density_kg_m3);
    Bracket::between(
        weight(ice.thickness_m.low(), ice.density_kg_m3.low()),
        weight(ice.thickness_m.high(), ice.density_kg_m3.high()),
    )
    .unwrap_or(Bracket::exactly(0.0))
}

/// How a strung span hangs today in still air, from the tautest to the slackest.
pub(super) fn hang_strung(chord: Chord, strung: &Strung, conductor: &Conductor) -> Result<StillSpan, StrungError> {
    let change = Change::new(strung, conductor)?;
    let weight = conductor.weight_n_per_m;
    let shape = |curvature| Catenary::new(chord.run_m, chord.rise_m, curvature);
    // What the tension was, and with a doubt in weight that is shared with EA.
    let tension_n = match strung.known {
        Stringing::Tension { tension_n } => {
            Bracket::between(tension_n.low() / (1.0 + WEIGHT_SHARE), tension_n.high() / (1.0 - WEIGHT_SHARE))
        }
        Stringing::Sag { sag_m } => {
            let of = |sag_m| Catenary::from_midspan_sag(chord.run_m, chord.rise_m, sag_m);
            let (taut, slack) = (of(sag_m.low())?, of(sag_m.high())?);
            Bracket::between(slack.horizontal_tension_n(weight), taut.horizontal_tension_n(weight))
        }
    }
    .filter(|tension| tension.low() > 0.0)
    .ok_or(StrungError::Unusable)?;

    let level = |length_m: f64| (length_m, 0.0);
    let own = (chord.run_m, chord.rise_m);
    let mut spans = vec![own];
    match strung.ruling {
        Ruling::Alone => {}
        Ruling::Span { length_m } => spans.push(level(length_m)),
        Ruling::Section { ruling_m, shortest_m, longest_m } => {
            spans.extend([ruling_m, shortest_m, longest_m].map(level));
        }
    }
    let (mut taut, mut slack) = (f64::INFINITY, 0f64);
    for (run_m, rise_m) in spans {
        let start = |tension_n| Catenary::from_tension(run_m, rise_m, tension_n, weight);
        let (tautest, slackest) = change.of(start(tension_n.high())?, start(tension_n.low())?)?;
        // One tension is one curvature, whatever the span, and the load is today's.
        taut = taut.min(tautest);
        slack = slack.max(slackest);
    }
    if let Ruling::Span { length_m } = strung.ruling {
        let doubt = ruling_doubt(slack * length_m.max(chord.run_m));
        taut *= 1.0 - doubt;
        slack *= 1.0 + doubt;
    }
    shape(slack)?;
    let curvature = Bracket::between(taut * (1.0 - ROOT - ROUNDING), slack * (1.0 + ROOT + ROUNDING));
    Ok(StillSpan { chord, curvature: curvature.ok_or(StrungError::Unusable)? })
}

/// The ruling span is that of parabolas. With 2σ = run·curvature the slack of the catenary is that of the parabola times
/// at most 6·(sinh σ/σ − 1)/σ²; a span of the section twice as long as this one or the ruling one has 2σ.
fn ruling_doubt(run_by_curvature: f64) -> f64 {
    let half = run_by_curvature.min(4.0);
    if half <= 1e-3 { 1e-6 } else { 6.0 * (half.sinh() / half - 1.0) / (half * half) - 1.0 }
}

/// What comes between stringing and today.
struct Change {
    weight_n_per_m: f64,
    /// Bare weight and today's ice.
    load_n_per_m: Bracket,
    whole: [f64; 2],
    /// The core's alone and the whole conductor's, each at its least and its most, when today is beyond the knee.
    beyond: Option<[f64; 4]>,
    /// Strain by heat and growth up to the knee.
    strain: Bracket,
    strain_beyond: Bracket,
}

impl Change {
    fn new(strung: &Strung, conductor: &Conductor) -> Result<Self, StrungError> {
        let stiffness_n =
            conductor.stiffness_n.filter(|n| *n > 0.0 && n.is_finite()).ok_or(StrungError::NoStiffness)?;
        let Metal { expansion_per_k, core } = conductor.metal.ok_or(StrungError::NoMetal)?;
        let doubt = STIFFNESS_SHARE + WEIGHT_SHARE;
        let around = |n: f64, share: f64| [n * (1.0 - share), n * (1.0 + share)];
        let (whole, whole_expansion) = (around(stiffness_n, doubt), around(expansion_per_k, EXPANSION_SHARE));

        let (core_stiffness, core_expansion) = match core {
            Core::OneMetal => (None, whole_expansion),
            Core::Alone { stiffness_n, expansion_per_k } => {
                (Some(around(stiffness_n, doubt)), around(expansion_per_k, EXPANSION_SHARE))
            }
        };
        let either = [whole_expansion[0], whole_expansion[1], core_expansion[0], core_expansion[1]];
        let (mut strain, mut strain_beyond) = (Ends::NONE, Ends::NONE);
        let mut hot = false;
        for then in [strung.temperature_k.low(), strung.temperature_k.high()] {
            let knee = strung.knee_k.unwrap_or(then);
            for today in [strung.today_k.low(), strung.today_k.high()] {
                let (below, above) = (today.min(knee) - then.min(knee), today.max(knee) - then.max(knee));
                hot |= today.max(then) > knee;
                whole_expansion.iter().for_each(|alpha| strain.take(alpha * below));
                either.iter().for_each(|alpha| strain_beyond.take(alpha * above));
            }
        }
        let elongation = strung.elongation;
        let strain = strain.bracket().ok_or(StrungError::Unusable)? + elongation;
        let strain_beyond = strain_beyond.bracket().ok_or(StrungError::Unusable)?;
        let ice = strung.ice.map_or(Bracket::exactly(0.0), |ice| ice_weight_n_per_m(conductor.diameter_m, &ice));
        let ice = Bracket::between(ice.low() / (1.0 + WEIGHT_SHARE), ice.high() / (1.0 - WEIGHT_SHARE));
        let load_n_per_m = ice.ok_or(StrungError::Unusable)? + Bracket::exactly(conductor.weight_n_per_m);
        let usable =
            strain.low() > -0.5 && strain.high() < 0.5 && strain_beyond.low() > -0.5 && strain_beyond.high() < 0.5;
        let kelvins = strung.temperature_k.low() > 0.0 && strung.today_k.low() > 0.0;
        if !usable || !kelvins || elongation.low() < 0.0 || ice.is_some_and(|ice| ice.low() < 0.0) {
            return Err(StrungError::Unusable);
        }
        let beyond = core_stiffness.filter(|_| hot).map(|core| [core[0], core[1], whole[0], whole[1]]);
        Ok(Self { weight_n_per_m: conductor.weight_n_per_m, load_n_per_m, whole, beyond, strain, strain_beyond })
    }

    /// The smallest and the largest curvature today, from the tautest and the slackest then.
    fn of(&self, taut: Catenary, slack: Catenary) -> Result<(f64, f64), CatenaryError> {
        let (bare, load) = (self.weight_n_per_m, self.load_n_per_m);
        let to_knee = Stage { strain: self.strain, stiffness_n: &self.whole, from: bare, to: Bracket::exactly(bare) };
        let stage = match &self.beyond {
            None => return Stage { strain: self.strain + self.strain_beyond, to: load, ..to_knee }.of(taut, slack),
            Some(stiffness_n) => Stage { strain: self.strain_beyond, stiffness_n, from: bare, to: load },
        };
        let (low, high) = to_knee.of(taut, slack)?;
        let at_knee = |curvature| Catenary::new(taut.run_m(), taut.rise_m(), curvature);
        stage.of(at_knee(low)?, at_knee(high)?)
    }
}

/// One change of strain and load with one set of stiffnesses.
struct Stage<'s> {
    strain: Bracket,
    stiffness_n: &'s [f64],
    from: f64,
    to: Bracket,
}

impl Stage<'_> {
    fn of(&self, taut: Catenary, slack: Catenary) -> Result<(f64, f64), CatenaryError> {
        let mut ends = Ends::NONE;
        let sides = [(taut, self.strain.low(), self.to.low()), (slack, self.strain.high(), self.to.high())];
        for (start, strain, load) in sides {
            for &stiffness_n in self.stiffness_n {
                let own = unstressed_length_m(&start, self.from, stiffness_n) * (1.0 + strain);
                ends.take(hang_unstressed(start.run_m(), start.rise_m(), own, load, stiffness_n)?.curvature());
            }
        }
        Ok((ends.low, ends.high))
    }
}

/// The smallest and the largest of some numbers.
struct Ends {
    low: f64,
    high: f64,
}

impl Ends {
    const NONE: Self = Self { low: f64::INFINITY, high: f64::NEG_INFINITY };

    fn take(&mut self, value: f64) {
        // What is not a number is kept as one that no bracket takes.
        let value = if value.is_nan() { f64::INFINITY } else { value };
        self.low = self.low.min(value);
        self.high = self.high.max(value);
    }

    fn bracket(&self) -> Option<Bracket> {
        Bracket::between(self.low, self.high)
    }
}
