//! From how a span was strung to how it hangs today: the state-change equation, with bounds on what its linear model
//! leaves out.
//!
//! ```text
//!  strung: tension or sag, temperature ─► up to the knee: the whole conductor ─► beyond it: the core alone ─► today, with ice
//!                                          H ↦ length(H, w) = unstressed · (1 + α·ΔT + elongation) · (1 + mean tension / EA)
//! ```
//!
//! Each stage solves the exact catenary by bracketing ([`hang_unstressed`]); it uses no parabola. The final depth grows
//! with the initial depth, the strain and the load, and changes in one direction with EA whatever the rest. So the
//! extremes over everything unknown are at the ends of the ranges, and both ends are kept.
//!
//! Each unknown has a bound:
//! - **Data.** [`STIFFNESS_SHARE`], [`EXPANSION_SHARE`] and [`WEIGHT_SHARE`] of the figures. Scaling w, H and EA by one
//!   factor leaves the shape unchanged, so an error in w counts as an error in H and EA.
//! - **Slack aluminum.** Above the knee temperature, the figures of the whole conductor overstate the sag. The true
//!   strain lies between that of the whole conductor and that of the core alone; both are kept from the knee on.
//! - **Creep.** Data of the final condition apply as they are. For data of the initial condition, the wire has grown by
//!   the stated elongation, and its aluminum may be slack at any temperature unless the knee is stated.
//! - **Supports.** Rigid supports make each span keep its wire; free supports make all spans share one tension, that of
//!   the ruling span. Both are kept. When all spans of a section are known, so are the cases between: no tension leaves
//!   the range that the separate spans would have, because a leaning support moves wire from the slacker to the tauter
//!   side.
//!
//! Not modeled: inelastic strain under loads heavier than the wire has had (state it as elongation), slip in a clamp,
//! poles that move.

use super::catenary::{Catenary, CatenaryError};
use super::chord::{Chord, ROUNDING};
use super::load::ice_weight_n_per_m;
use super::stretch::{hang_unstressed, unstressed_length_m};
use crate::bracket::Bracket;
use crate::site::{Conductor, Core, Metal, Ruling, Stringing, Strung};
use thiserror::Error;

/// Relative error of a published final modulus. Tables differ by 2 to 3 percent, and the stress-strain curve is not a
/// straight line.
pub const STIFFNESS_SHARE: f64 = 0.05;

/// Relative error of a published coefficient of expansion. Tables differ by 1 to 2 percent.
pub const EXPANSION_SHARE: f64 = 0.03;

/// Relative error of a published weight. Tables differ by up to 1 percent.
pub const WEIGHT_SHARE: f64 = 0.01;

/// Relative error of the root finder.
const ROOT: f64 = 1e-9;

/// Why a span cannot be hung from its stringing data. The `Display` text completes "cannot be hung:".
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum StrungError {
    /// The conductor has no stiffness EA.
    #[error("its conductor has no stiffness (modulus times area)")]
    NoStiffness,
    /// The conductor has no coefficient of expansion, or nothing says whether it has a core.
    #[error("its conductor has no coefficient of expansion and no word on its core")]
    NoMetal,
    /// A figure of the stringing data is NaN, infinite or out of range.
    #[error("its temperatures, elongation, ice or ruling span are not numbers that can be computed with")]
    Unusable,
    /// The stringing data give no curve.
    #[error(transparent)]
    Catenary(#[from] CatenaryError),
}

/// The curvatures of a strung span today in still air, per meter: from the tautest to the slackest.
pub(super) fn curvature_today(chord: &Chord, strung: &Strung, conductor: &Conductor) -> Result<Bracket, StrungError> {
    let change = Change::new(strung, conductor)?;
    let weight = conductor.weight_n_per_m;
    let shape = |curvature| Catenary::new(chord.run_m, chord.rise_m, curvature);
    // The tension when it was strung. The error of the weight is shared with EA.
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
        // With today's load, one tension is one curvature in every span.
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
    curvature.ok_or(StrungError::Unusable)
}

/// Relative error of the ruling span, which is defined for parabolas. With 2σ = run·curvature, the slack of the
/// catenary is at most 6·(sinh σ/σ − 1)/σ² times that of the parabola. A span of the section twice as long as this one
/// or the ruling one has 2σ.
fn ruling_doubt(run_by_curvature: f64) -> f64 {
    let half = run_by_curvature.min(4.0);
    if half <= 1e-3 { 1e-6 } else { 6.0 * (half.sinh() / half - 1.0) / (half * half) - 1.0 }
}

/// What happens to the wire between stringing and today.
struct Change {
    weight_n_per_m: f64,
    /// Bare weight with today's ice, N/m.
    load_n_per_m: Bracket,
    /// EA of the whole conductor, least and most, newtons.
    whole: [f64; 2],
    /// EA of the core alone and of the whole conductor, least and most of each, newtons; `None` when today is below the
    /// knee.
    beyond: Option<[f64; 4]>,
    /// It may have been above the knee when it was strung.
    strung_beyond: bool,
    /// Strain by heat and growth below the knee.
    strain: Bracket,
    /// Strain by heat above the knee.
    strain_beyond: Bracket,
}

impl Change {
    fn new(strung: &Strung, conductor: &Conductor) -> Result<Self, StrungError> {
        let stiffness_n =
            conductor.stiffness_n.filter(|n| *n > 0.0 && n.is_finite()).ok_or(StrungError::NoStiffness)?;
        let Metal { expansion_per_k, core } = conductor.metal.ok_or(StrungError::NoMetal)?;
        let doubt = conductor.stiffness_doubt.max(STIFFNESS_SHARE) + WEIGHT_SHARE;
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
        let (mut hot, mut strung_beyond) = (false, false);
        for then in [strung.temperature_k.low(), strung.temperature_k.high()] {
            // Aluminum that has crept since may be slack at any temperature.
            let knee = strung.knee_k.unwrap_or(if strung.elongation.high() > 0.0 { 0.0 } else { then });
            strung_beyond |= then > knee;
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
        let knee_known = !strung.knee_k.is_some_and(f64::is_nan);
        let kelvins = strung.temperature_k.low() > 0.0 && strung.today_k.low() > 0.0 && knee_known;
        if !usable || !kelvins || elongation.low() < 0.0 || ice.is_some_and(|ice| ice.low() < 0.0) {
            return Err(StrungError::Unusable);
        }
        let beyond = core_stiffness.filter(|_| hot).map(|core| [core[0], core[1], whole[0], whole[1]]);
        Ok(Self {
            weight_n_per_m: conductor.weight_n_per_m,
            load_n_per_m,
            whole,
            beyond,
            strung_beyond,
            strain,
            strain_beyond,
        })
    }

    /// The smallest and the largest curvature today, from the tautest and the slackest curve then.
    fn of(&self, taut: Catenary, slack: Catenary) -> Result<(f64, f64), CatenaryError> {
        let (bare, load) = (self.weight_n_per_m, self.load_n_per_m);
        let to_knee = Stage { strain: self.strain, stiffness_n: &self.whole, from: bare, to: Bracket::exactly(bare) };
        let at_once =
            |stiffness_n| Stage { strain: self.strain + self.strain_beyond, stiffness_n, from: bare, to: load };
        let stage = match &self.beyond {
            None => return at_once(&self.whole).of(taut, slack),
            // The part of the change above the knee is not known. It may be all of it.
            Some(stiffness_n) if self.strung_beyond => return at_once(stiffness_n).of(taut, slack),
            Some(stiffness_n) => Stage { strain: self.strain_beyond, stiffness_n, from: bare, to: load },
        };
        let (low, high) = to_knee.of(taut, slack)?;
        let at_knee = |curvature| Catenary::new(taut.run_m(), taut.rise_m(), curvature);
        stage.of(at_knee(low)?, at_knee(high)?)
    }
}

/// One stage of the change: a strain, a stiffness and a load.
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
        // NaN becomes infinity, which no bracket accepts.
        let value = if value.is_nan() { f64::INFINITY } else { value };
        self.low = self.low.min(value);
        self.high = self.high.max(value);
    }

    fn bracket(&self) -> Option<Bracket> {
        Bracket::between(self.low, self.high)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::site::Ice;
    use glam::DVec3;
    use proptest::prelude::*;

    /// A core and a mantle side by side; the mantle pulls or is slack.
    #[derive(Clone, Copy, Debug)]
    struct Wire {
        core_n: f64,
        mantle_n: f64,
        core_per_k: f64,
        mantle_per_k: f64,
    }

    impl Wire {
        fn whole_n(&self) -> f64 {
            self.core_n + self.mantle_n
        }

        /// Strain from a start at `from_n`, where the core carries this share of it.
        fn strain(&self, from_n: f64, core_share: f64, to_n: f64, warmer_k: f64) -> f64 {
            let heat = self.core_n * self.core_per_k + self.mantle_n * self.mantle_per_k;
            let both = (to_n - from_n + heat * warmer_k) / self.whole_n();
            let mantle_n = from_n * (1.0 - core_share) + self.mantle_n * (both - self.mantle_per_k * warmer_k);
            if mantle_n >= 0.0 { both } else { (to_n - from_n * core_share) / self.core_n + self.core_per_k * warmer_k }
        }

        fn conductor(&self, weight_n_per_m: f64) -> Conductor {
            let heat = self.core_n * self.core_per_k + self.mantle_n * self.mantle_per_k;
            Conductor {
                name: String::new(),
                diameter_m: 0.01,
                weight_n_per_m,
                rated_strength_n: None,
                stiffness_n: Some(self.whole_n()),
                metal: Some(Metal {
                    expansion_per_k: heat / self.whole_n(),
                    core: Core::Alone { stiffness_n: self.core_n, expansion_per_k: self.core_per_k },
                }),
                source: String::new(),
                stiffness_doubt: 0.0,
                from_memory: String::new(),
            }
        }
    }

    fn strung(tension_n: f64, then_k: f64, today_k: f64) -> Strung {
        Strung {
            known: Stringing::Tension { tension_n: Bracket::exactly(tension_n) },
            temperature_k: Bracket::exactly(then_k),
            elongation: Bracket::exactly(0.0),
            ruling: Ruling::Alone,
            today_k: Bracket::exactly(today_k),
            knee_k: None,
            ice: None,
        }
    }

    fn chord(run_m: f64, rise_m: f64) -> Chord {
        Chord::new(DVec3::ZERO, DVec3::new(run_m, 0.0, rise_m)).unwrap()
    }

    const WIRE: Wire = Wire { core_n: 0.4e6, mantle_n: 0.7e6, core_per_k: 11.5e-6, mantle_per_k: 23.0e-6 };

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(400))]

        /// The wire is simulated between rigid supports, and hangs within what is kept.
        #[test]
        fn a_wire_with_a_core_hangs_between_its_two_positions(
            run in 20.0f64..130.0, slope in -0.3f64..0.3, sag_share in 0.006f64..0.03, weight in 1.0f64..8.0,
            core_n in 0.3e6f64..3e6, ratio in 1.0f64..4.0, share in 0.0f64..=1.0, warmer in -50.0f64..80.0,
            within in prop::array::uniform3(-1.0f64..1.0),
        ) {
            let wire = Wire { core_n, mantle_n: core_n * ratio, core_per_k: 11.5e-6, mantle_per_k: 23.0e-6 };
            let start = Catenary::from_midspan_sag(run, run * slope, run * sag_share).unwrap();
            let (from_n, core_share) = (start.mean_tension_n(weight), share + (1.0 - share) / (1.0 + ratio));
            let own = start.length_m();
            let shape = |ln: f64| Catenary::new(run, run * slope, ln.exp()).unwrap();
            let too_long = |ln: f64| {
                let hung = shape(ln);
                hung.length_m() - own * (1.0 + wire.strain(from_n, core_share, hung.mean_tension_n(weight), warmer))
            };
            let (mut low, mut high) = ((start.curvature() / 100.0).ln(), (start.curvature() * 20.0).min(18.0 / run).ln());
            for _ in 0..100 {
                let middle = (low + high) / 2.0;
                if too_long(middle) < 0.0 { low = middle } else { high = middle }
            }
            let truth = low.exp();
            // Figures off by as much as is allowed for.
            let mut conductor = wire.conductor(weight * (1.0 + within[2] * WEIGHT_SHARE * 0.99));
            let stiffer = 1.0 + within[0] * STIFFNESS_SHARE * 0.94;
            conductor.stiffness_n = Some(wire.whole_n() * stiffer);
            if let Some(Metal { expansion_per_k, core: Core::Alone { stiffness_n, .. } }) = &mut conductor.metal {
                *expansion_per_k *= 1.0 + within[1] * EXPANSION_SHARE * 0.96;
                *stiffness_n *= stiffer;
            }
            let strung = strung(start.horizontal_tension_n(weight), 288.0, 288.0 + warmer);
            let found = curvature_today(&chord(run, run * slope), &strung, &conductor).unwrap();
            prop_assert!(found.contains(truth), "{truth} in {found:?}, started at {}", start.curvature());
        }
    }

    #[test]
    fn a_wire_as_it_was_hangs_as_it_did_but_for_the_doubt_in_its_figures() {
        let start = Catenary::from_midspan_sag(60.0, 3.0, 0.9).unwrap();
        let strung = strung(start.horizontal_tension_n(2.0), 290.0, 290.0);
        let curvature = curvature_today(&chord(60.0, 3.0), &strung, &WIRE.conductor(2.0)).unwrap();
        assert!(
            curvature.contains(start.curvature()) && curvature.width() < 0.021 * start.curvature(),
            "{curvature:?}"
        );
    }

    #[test]
    fn ice_and_growth_lower_the_lowest_position_alone() {
        let start = Catenary::from_midspan_sag(60.0, 0.0, 0.9).unwrap();
        let plain = strung(start.horizontal_tension_n(2.0), 290.0, 275.0);
        let hung = |strung: &Strung| curvature_today(&chord(60.0, 0.0), strung, &WIRE.conductor(2.0)).unwrap();
        let ice = Ice { thickness_m: Bracket::between(0.0, 0.005).unwrap(), density_kg_m3: Bracket::exactly(913.0) };
        let (bare, iced) = (hung(&plain), hung(&Strung { ice: Some(ice), ..plain }));
        assert!((iced.low() / bare.low() - 1.0).abs() < 1e-12 && iced.high() > 1.1 * bare.high(), "{bare:?} {iced:?}");
        let elongation = Bracket::between(0.0, 0.0005).unwrap();
        let grown = hung(&Strung { elongation, knee_k: Some(290.0), ..plain });
        assert!(
            (grown.low() / bare.low() - 1.0).abs() < 1e-12 && grown.high() > 1.1 * bare.high(),
            "{bare:?} {grown:?}"
        );
        // Nobody knows whether the aluminum of a grown wire still pulls.
        assert!(hung(&Strung { elongation, ..plain }).low() <= grown.low());
    }

    #[test]
    fn a_conductor_without_its_figures_is_not_carried_anywhere() {
        let strung = strung(4000.0, 290.0, 300.0);
        let mut conductor = WIRE.conductor(2.0);
        conductor.metal = None;
        assert_eq!(curvature_today(&chord(60.0, 0.0), &strung, &conductor), Err(StrungError::NoMetal));
        conductor = WIRE.conductor(2.0);
        conductor.stiffness_n = None;
        assert_eq!(curvature_today(&chord(60.0, 0.0), &strung, &conductor), Err(StrungError::NoStiffness));
        conductor.stiffness_n = Some(f64::NAN);
        assert_eq!(curvature_today(&chord(60.0, 0.0), &strung, &conductor), Err(StrungError::NoStiffness));
        let no_knee = Strung { knee_k: Some(f64::NAN), ..strung };
        assert_eq!(curvature_today(&chord(60.0, 0.0), &no_knee, &WIRE.conductor(2.0)), Err(StrungError::Unusable));
        let cold = Strung { today_k: Bracket::exactly(-5.0), ..strung };
        assert_eq!(curvature_today(&chord(60.0, 0.0), &cold, &WIRE.conductor(2.0)), Err(StrungError::Unusable));
        let nowhere = Strung { ruling: Ruling::of(&[]), ..strung };
        assert!(curvature_today(&chord(60.0, 0.0), &nowhere, &WIRE.conductor(2.0)).is_err());
    }
}
