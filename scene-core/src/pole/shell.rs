//! The pole's shell, and which figures cannot belong to a pole.

use super::section::{SIX_FEET_M, butt_circumference_m, corner_factor};
use super::taper::Taper;
use crate::bracket::Bracket;
use crate::finding::{self, Finding, Unweighable};
use crate::site::{Pole, Shell, TubeSection};
use std::f64::consts::TAU;
use thiserror::Error;

/// More sections than any pole has. It bounds every loop.
const MOST_SECTIONS: usize = 50;

/// Why a pole cannot be weighed. The `Display` text completes a sentence for people.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PoleError {
    /// A figure is out of range.
    #[error("{what} of the pole must be {need}, got {got}")]
    Number {
        /// The figure's name.
        what: String,
        /// The accepted range, in words.
        need: &'static str,
        /// The stated value.
        got: f64,
    },
    /// A steel pole has no sections, or too many.
    #[error("a steel pole needs 1 to {MOST_SECTIONS} sections, got {got}")]
    Sections {
        /// Their number.
        got: usize,
    },
    /// A section is thicker at its top than at its bottom.
    #[error("{what} narrows toward the butt, which no pole does")]
    Taper {
        /// The section's name.
        what: String,
    },
}

impl PoleError {
    /// The stop for this error.
    pub fn finding(&self) -> Finding {
        let why = match self.clone() {
            Self::Number { what, need, got } => Unweighable::Number { what, need, got },
            Self::Sections { got } => Unweighable::Sections { most: MOST_SECTIONS, got },
            Self::Taper { what } => Unweighable::Taper { what },
        };
        finding::stop(finding::Pole::NotWeighable { why })
    }
}

/// Radius at a height, meters: from half the flats of the innermost section there to the corners of the outermost with
/// the stated oversize. Beyond an end, the radius of that end.
///
/// # Errors [`PoleError`] when a figure cannot belong to a pole, or the height is NaN.
pub fn radius_m(pole: &Pole, from_butt_m: f64) -> Result<Bracket, PoleError> {
    let pieces = shell_sections(pole)?;
    let top = pieces.iter().map(|p| p.outer.to_m).fold(0.0, f64::max);
    if from_butt_m.is_nan() {
        return Err(number("the height asked for", "a number", from_butt_m));
    }
    let z = from_butt_m.clamp(0.0, top);
    let mut found: Option<Bracket> = None;
    for piece in pieces.iter().filter(|p| p.outer.from_m <= z && z <= p.outer.to_m) {
        let high = piece.outer.radius_at(z);
        let here = Bracket::exactly(high * piece.least_share).hull(Bracket::exactly(high));
        found = Some(found.map_or(here, |f| f.hull(here)));
    }
    found.ok_or_else(|| number("length", "above zero", top))
}

/// The outer radius at a height, meters, to the corners and with oversize. Gaps are measured from it.
///
/// # Errors Those of [`radius_m`].
pub fn outer_radius_m(pole: &Pole, from_butt_m: f64) -> Result<f64, PoleError> {
    radius_m(pole, from_butt_m).map(Bracket::high)
}

/// One tube section, or a whole wood pole.
pub(super) struct ShellSection {
    pub outer: Taper,
    /// The least possible radius divided by the outer one.
    pub least_share: f64,
}

/// The sections of a pole, butt first. They overlap in slip joints.
pub(super) fn shell_sections(pole: &Pole) -> Result<Vec<ShellSection>, PoleError> {
    check(pole)?;
    Ok(match &pole.shell {
        Shell::SteelTube { sides, sections } => placed_sections(sections)
            .map(|(from_m, section)| ShellSection {
                outer: Taper {
                    from_m,
                    to_m: from_m + section.length_m,
                    radius_from_m: section.bottom_m / 2.0 * corner_factor(*sides),
                    radius_to_m: section.top_m / 2.0 * corner_factor(*sides),
                },
                least_share: 1.0 / corner_factor(*sides),
            })
            .collect(),
        Shell::Wood { top_circumference_m, circumference_at_6_ft_m, oversize, .. } => {
            let butt = butt_circumference_m(pole.length_m, *top_circumference_m, *circumference_at_6_ft_m);
            let outer = Taper {
                from_m: 0.0,
                to_m: pole.length_m,
                radius_from_m: butt / TAU * oversize,
                radius_to_m: top_circumference_m / TAU * oversize,
            };
            vec![ShellSection { outer, least_share: 1.0 / oversize }]
        }
    })
}

/// Each section with the height of its bottom, meters from the butt.
pub(super) fn placed_sections(sections: &[TubeSection]) -> impl Iterator<Item = (f64, &TubeSection)> {
    sections.iter().scan(0.0, |top, section| {
        let bottom = *top - section.lap_m;
        *top = bottom + section.length_m;
        Some((bottom, section))
    })
}

fn number(what: &str, need: &'static str, got: f64) -> PoleError {
    PoleError::Number { what: what.to_owned(), need, got }
}

fn positive(what: &str, got: f64) -> Result<(), PoleError> {
    if got > 0.0 && got < 1e6 { Ok(()) } else { Err(number(what, "above zero", got)) }
}

/// Refuses figures that cannot belong to a pole.
pub(super) fn check(pole: &Pole) -> Result<(), PoleError> {
    positive("length", pole.length_m)?;
    match &pole.shell {
        Shell::SteelTube { sections, .. } => {
            if sections.is_empty() || sections.len() > MOST_SECTIONS {
                return Err(PoleError::Sections { got: sections.len() });
            }
            let mut below_m = 0.0;
            for (i, s) in sections.iter().enumerate() {
                let of = |what: &str| format!("{what} of section {}", i + 1);
                for (what, value) in
                    [("length", s.length_m), ("bottom diameter", s.bottom_m), ("top diameter", s.top_m)]
                {
                    positive(&of(what), value)?;
                }
                if !(s.wall_m > 0.0 && s.wall_m < s.top_m / 2.0) {
                    return Err(number(&of("wall"), "above zero and below half the top diameter", s.wall_m));
                }
                if s.top_m > s.bottom_m {
                    return Err(PoleError::Taper { what: format!("section {}", i + 1) });
                }
                let lap_fits =
                    if i == 0 { s.lap_m == 0.0 } else { s.lap_m >= 0.0 && s.lap_m < s.length_m.min(below_m) };
                if !lap_fits {
                    return Err(number(&of("lap"), "zero at the butt and shorter than both sections", s.lap_m));
                }
                below_m = s.length_m;
            }
        }
        Shell::Wood { top_circumference_m, circumference_at_6_ft_m, density_kg_m3, oversize } => {
            positive("top circumference", *top_circumference_m)?;
            positive("circumference at 6 ft", *circumference_at_6_ft_m)?;
            positive("density", density_kg_m3.low())?;
            positive("density", density_kg_m3.high())?;
            if !(*oversize >= 1.0 && *oversize <= 2.0) {
                return Err(number("oversize factor on the circumference", "1 to 2", *oversize));
            }
            if pole.length_m <= 2.0 * SIX_FEET_M {
                return Err(number("length of a wood pole", "above 12 ft", pole.length_m));
            }
            if top_circumference_m > circumference_at_6_ft_m {
                return Err(PoleError::Taper { what: "the timber".to_owned() });
            }
        }
    }
    if let Some(maker) = pole.maker {
        positive("maker's mass", maker.mass_kg)?;
        if !(maker.balance_from_butt_m > 0.0 && maker.balance_from_butt_m < pole.length_m) {
            return Err(number("maker's balance point", "between butt and top", maker.balance_from_butt_m));
        }
    }
    for item in &pole.items {
        let sound = item.mass_kg >= 0.0 && item.mass_kg < 1e6 && item.from.is_finite() && item.to.is_finite();
        if !sound || item.from.abs().max_element().max(item.to.abs().max_element()) > 1e6 {
            return Err(number(
                &format!("mass and place of {}", item.name),
                "numbers, mass not below zero",
                item.mass_kg,
            ));
        }
    }
    Ok(())
}
