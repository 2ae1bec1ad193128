//! What the pole weighs as it will hang, where it balances, how thick it is at any height and how much wind it catches.
//!
//! Heights are metres from the butt along the axis. Sideways, `off_axis_m` is toward the way the pole faces and to its
//! left. The maker's mass and balance hold over computed ones for the bare pole; what is fixed to it is added. Computed
//! masses err upward (galvanizing, oversize timber), and the balance point is never taken as known to better than
//! [`BALANCE_SHARE`] of the length when it is computed: on the job it is found by trial.
//!
//! Not modelled: water taken up after the density was stated, sweep and crook, butt flare, the rounded corners of a
//! bent plate (they make it lighter), an embedment sleeve or base plate unless it is stated as an item.

mod outline;

pub use outline::{Outline, Taper};

use crate::bracket::Bracket;
use crate::finding::{self, Finding, Unit, Unweighable};
use crate::quantity::unit::{FOOT_M, POUND_PER_FT3};
use crate::site::{Cover, CoverOn, Pole, Shell, Sides, TubeSection};
use std::f64::consts::{PI, TAU};
use thiserror::Error;

/// Steel, 490 lb/ft³: the weight that pipe tables are made with (UFC 3-220-01A pipe table, 12 in × 0.250 in).
pub const STEEL_KG_M3: f64 = 490.0 * POUND_PER_FT3;

/// Galvanizing adds 3 to 4 percent on thin poles (from memory of the trade). The mass bracket reaches from a bare shell to this.
pub const GALVANIZED_FACTOR: f64 = 1.04;

/// How well a computed balance point is known, as a share of the pole's length (judgement, not published: uneven
/// density or wall).
pub const BALANCE_SHARE: f64 = 0.01;

/// The maker's figure and the computed one may differ by this share before it is a finding.
const MAKER_SHARE: f64 = 0.15;
/// The maker's balance point may differ from the computed one by this share of the length.
const MAKER_BALANCE_SHARE: f64 = 0.05;
/// Sections and stated length of a tube may differ by this before it is a finding.
const LENGTH_TOLERANCE_M: f64 = 0.05;
/// More sections than any pole has; keeps every loop short.
const MOST_SECTIONS: usize = 50;

const SIX_FEET_M: f64 = 6.0 * FOOT_M;

/// What hangs, with all that is fixed to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Mass {
    pub kg: Bracket,
    pub balance_from_butt_m: Bracket,
    /// Where the centre of mass lies off the axis: toward the way the pole faces, and to its left.
    pub off_axis_m: [Bracket; 2],
    /// The bare pole first, then the items.
    pub parts: Vec<MassPart>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct MassPart {
    pub name: String,
    pub kg: Bracket,
    pub centre_from_butt_m: Bracket,
    pub off_axis_m: [Bracket; 2],
    /// Where the figure comes from, with what was assumed.
    pub source: String,
}

/// Why a pole cannot be weighed.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PoleError {
    #[error("{what} of the pole must be {need}, got {got}")]
    Number { what: String, need: &'static str, got: f64 },
    #[error("a steel pole needs 1 to {MOST_SECTIONS} sections, got {got}")]
    Sections { got: usize },
    #[error("{what} narrows toward the butt, which no pole does")]
    Taper { what: String },
}

impl PoleError {
    /// A pole that cannot be weighed stops the job.
    pub fn finding(&self) -> Finding {
        let why = match self.clone() {
            Self::Number { what, need, got } => Unweighable::Number { what, need, got },
            Self::Sections { got } => Unweighable::Sections { most: MOST_SECTIONS, got },
            Self::Taper { what } => Unweighable::Taper { what },
        };
        finding::stop(finding::Pole::NotWeighable { why })
    }
}

// ------------------------------------------------------------------------------------------------------- pure geometry

/// Volume of a cone frustum, m³: `πL/3·(R² + Rr + r²)`.
pub fn frustum_volume_m3(length_m: f64, butt_radius_m: f64, top_radius_m: f64) -> f64 {
    let (b, t) = (butt_radius_m, top_radius_m);
    PI * length_m / 3.0 * (b * b + b * t + t * t)
}

/// Centroid of a cone frustum from its butt, m: `L/4·(R² + 2Rr + 3r²)/(R² + Rr + r²)`.
pub fn frustum_centroid_m(length_m: f64, butt_radius_m: f64, top_radius_m: f64) -> f64 {
    let (b, t) = (butt_radius_m, top_radius_m);
    length_m / 4.0 * (b * b + 2.0 * b * t + 3.0 * t * t) / (b * b + b * t + t * t)
}

/// Butt circumference of a wood pole whose taper is straight from the top through the size 6 ft from the butt, m. The
/// standard (ANSI O5.1) fixes the size at 6 ft, not the butt.
pub fn butt_circumference_m(length_m: f64, top_m: f64, at_6_ft_m: f64) -> f64 {
    at_6_ft_m + SIX_FEET_M * (at_6_ft_m - top_m) / (length_m - SIX_FEET_M)
}

/// Area of a tube's wall is this times mean diameter (across flats) times wall: `n·tan(π/n)`, π for a round one. Exact,
/// not only for thin walls, since it is the difference of two regular polygons.
pub fn wall_area_coefficient(sides: Sides) -> f64 {
    count(sides).map_or(PI, |n| n * (PI / n).tan())
}

/// Across corners over across flats: `1/cos(π/n)`, 1 for a round tube.
pub fn corner_factor(sides: Sides) -> f64 {
    count(sides).map_or(1.0, |n| 1.0 / (PI / n).cos())
}

/// Mass of one tapered section, kg, bare steel.
pub fn tube_mass_kg(sides: Sides, section: &TubeSection) -> f64 {
    let (a, b) = mean_diameters(section);
    wall_area_coefficient(sides) * (a + b) / 2.0 * section.wall_m * section.length_m * STEEL_KG_M3
}

/// Centroid of one tapered section from its bottom, m: `L/3·(b + 2a)/(a + b)` with mean diameters a on top, b below.
pub fn tube_centroid_m(section: &TubeSection) -> f64 {
    let (a, b) = mean_diameters(section);
    section.length_m / 3.0 * (b + 2.0 * a) / (a + b)
}

fn mean_diameters(section: &TubeSection) -> (f64, f64) {
    (section.top_m - section.wall_m, section.bottom_m - section.wall_m)
}

fn count(sides: Sides) -> Option<f64> {
    match sides {
        Sides::Round => None,
        Sides::Eight => Some(8.0),
        Sides::Twelve => Some(12.0),
        Sides::Sixteen => Some(16.0),
    }
}

// ------------------------------------------------------------------------------------------------------------- outline

/// Radius at a height, m: from half the flats of what is there at least, to the corners of the outer section with the
/// stated oversize. Beyond the ends, that of the end.
pub fn radius_m(pole: &Pole, from_butt_m: f64) -> Result<Bracket, PoleError> {
    let pieces = pieces(pole)?;
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

/// The outside at a height, m, to the corners and with oversize: what comes near to something.
pub fn outer_radius_m(pole: &Pole, from_butt_m: f64) -> Result<f64, PoleError> {
    radius_m(pole, from_butt_m).map(Bracket::high)
}

/// Area of the bare pole seen from the side between two heights, m², corners and oversize counted.
pub fn side_area_m2(pole: &Pole, from_m: f64, to_m: f64) -> Result<f64, PoleError> {
    Ok(Outline::of(pole)?.side_area_m2(from_m, to_m))
}

/// Height of the centre of that area over the whole pole, m from the butt: where wind on the bare pole acts.
pub fn side_centre_m(pole: &Pole) -> Result<f64, PoleError> {
    Ok(Outline::of(pole)?.side_centre_m())
}

/// One section, or the whole of a wood pole.
struct Piece {
    outer: Taper,
    /// The least radius that may be there over the outer one.
    least_share: f64,
}

fn pieces(pole: &Pole) -> Result<Vec<Piece>, PoleError> {
    check(pole)?;
    Ok(match &pole.shell {
        Shell::SteelTube { sides, sections } => placed(sections)
            .map(|(from_m, section)| Piece {
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
            vec![Piece { outer, least_share: 1.0 / oversize }]
        }
    })
}

/// Each section with the height of its bottom.
fn placed(sections: &[TubeSection]) -> impl Iterator<Item = (f64, &TubeSection)> {
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

/// Refuses what no pole can be.
fn check(pole: &Pole) -> Result<(), PoleError> {
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

// ---------------------------------------------------------------------------------------------------- mass and balance

/// How far the centre of mass of something on the pole may be from its middle, as a share of its length. Our judgement:
/// arms and brackets are even, insulators sit at both ends.
const ITEM_CENTRE_SHARE: f64 = 0.1;

/// Mass and balance of the pole with all that is fixed to it and what it wears. A cover that is put on or taken off on
/// the way may be there or not.
pub fn mass(pole: &Pole, covers: &[Cover]) -> Result<Mass, PoleError> {
    let computed = computed_shell(pole)?;
    let bare = match pole.maker {
        None => computed,
        Some(maker) => MassPart {
            kg: Bracket::exactly(maker.mass_kg),
            centre_from_butt_m: Bracket::exactly(maker.balance_from_butt_m),
            source: "the maker's mass and balance of the bare pole".to_owned(),
            ..computed
        },
    };
    let mut parts = vec![bare];
    parts.extend(pole.items.iter().map(|item| {
        let share = ITEM_CENTRE_SHARE;
        let between = |a: f64, b: f64| {
            let (middle, half) = (a / 2.0 + b / 2.0, (b - a) * share);
            Bracket::exactly(middle - half).hull(Bracket::exactly(middle + half))
        };
        MassPart {
            name: item.name.clone(),
            kg: Bracket::exactly(item.mass_kg),
            centre_from_butt_m: between(item.from.z, item.to.z),
            off_axis_m: [between(item.from.x, item.to.x), between(item.from.y, item.to.y)],
            source: "stated in the scene, its centre near its middle".to_owned(),
        }
    }));
    parts.extend(covers.iter().filter_map(worn));
    let kg = parts.iter().map(|p| p.kg).fold(Bracket::exactly(0.0), |sum, kg| sum + kg);
    Ok(Mass {
        kg: kg.widened(kg.high() * 1e-12),
        balance_from_butt_m: mean(&parts, |p| p.centre_from_butt_m),
        off_axis_m: [mean(&parts, |p| p.off_axis_m[0]), mean(&parts, |p| p.off_axis_m[1])],
        parts,
    })
}

fn worn(cover: &Cover) -> Option<MassPart> {
    let (CoverOn::Pole { from_butt_m }, Some(mass_kg)) = (cover.on, cover.mass_kg) else { return None };
    let always = cover.during.on_after_step.is_none() && cover.during.off_before_step.is_none();
    let least = if always { mass_kg } else { 0.0 };
    let on_axis = Bracket::exactly(0.0);
    Some(MassPart {
        name: cover.name.clone(),
        kg: Bracket::exactly(least).hull(Bracket::exactly(mass_kg)),
        // Even over its stretch.
        centre_from_butt_m: Bracket::exactly(from_butt_m.middle()),
        off_axis_m: [on_axis, on_axis],
        source: "stated in the scene".to_owned(),
    })
}

/// The mean of where the parts are, weighted with their masses, each of which may be anywhere in its bracket. The
/// extremes of a weighted mean lie at ends of the brackets: the farther parts at full mass, the nearer ones at least.
fn mean(parts: &[MassPart], place: fn(&MassPart) -> Bracket) -> Bracket {
    let highest = |sign: f64| {
        let mut weighed: Vec<(f64, Bracket)> = parts.iter().map(|p| ((place(p) * sign).high(), p.kg)).collect();
        weighed.sort_by(|a, b| b.0.total_cmp(&a.0));
        let mut sum: f64 = weighed.iter().map(|(z, kg)| z * kg.low()).sum();
        let mut total: f64 = weighed.iter().map(|(_, kg)| kg.low()).sum();
        let mut best = sum / total;
        for (z, kg) in &weighed {
            sum += z * kg.width();
            total += kg.width();
            best = best.max(sum / total);
        }
        sign * best
    };
    let found = Bracket::exactly(highest(-1.0)).hull(Bracket::exactly(highest(1.0)));
    found.widened(1e-12 * (1.0 + found.low().abs().max(found.high().abs())))
}

/// The bare pole from its own figures, whatever the maker says.
pub fn computed_shell(pole: &Pole) -> Result<MassPart, PoleError> {
    check(pole)?;
    let (kg, centre, source) = match &pole.shell {
        Shell::SteelTube { sides, sections } => {
            let (mut kg, mut moment) = (0.0, 0.0);
            for (bottom_m, section) in placed(sections) {
                let mass = tube_mass_kg(*sides, section);
                kg += mass;
                moment += mass * (bottom_m + tube_centroid_m(section));
            }
            let source = "steel at 490 lb/ft3 from the sections, 0 to 4 percent added for galvanizing (from memory)";
            (Bracket::exactly(kg).hull(Bracket::exactly(kg * GALVANIZED_FACTOR)), Bracket::exactly(moment / kg), source)
        }
        Shell::Wood { top_circumference_m: top, circumference_at_6_ft_m: at_6_ft, density_kg_m3, oversize } => {
            let frustum = |top_share: f64, butt_share: f64| {
                let (top, at_6_ft) = (top * top_share, at_6_ft * butt_share);
                (butt_circumference_m(pole.length_m, top, at_6_ft).max(top) / TAU, top / TAU)
            };
            let (butt, tip) = frustum(1.0, 1.0);
            let least = frustum_volume_m3(pole.length_m, butt, tip);
            let kg = Bracket::exactly(density_kg_m3.low() * least)
                .hull(Bracket::exactly(density_kg_m3.high() * least * oversize * oversize));
            // Oversize at one end only moves the balance point most.
            let centre = [(1.0, *oversize), (*oversize, 1.0), (1.0, 1.0)].map(|(t, b)| {
                let (butt, tip) = frustum(t, b);
                Bracket::exactly(frustum_centroid_m(pole.length_m, butt, tip))
            });
            let centre = centre[0].hull(centre[1]).hull(centre[2]);
            (
                kg,
                centre,
                "timber at the stated density, straight taper from the top through the size 6 ft from the butt",
            )
        }
    };
    let on_axis = Bracket::exactly(0.0);
    Ok(MassPart {
        name: "bare pole".to_owned(),
        kg,
        centre_from_butt_m: centre.widened(BALANCE_SHARE * pole.length_m),
        off_axis_m: [on_axis, on_axis],
        source: source.to_owned(),
    })
}

/// What is odd about the pole's figures. The maker's mass holds; a computed one surely more than 15 percent above it is
/// a stop, since one of the two is wrong and the pole may be heavier than planned; any other difference beyond that is
/// a caution.
pub fn findings(pole: &Pole, covers: &[Cover]) -> Vec<Finding> {
    let computed = match computed_shell(pole) {
        Ok(computed) => computed,
        Err(error) => return vec![error.finding()],
    };
    let mut found = Vec::new();
    found.extend(maker_findings(pole, &computed));
    if let Shell::SteelTube { sections, .. } = &pole.shell {
        let length = sections.iter().map(|s| s.length_m - s.lap_m).sum::<f64>();
        if (length - pole.length_m).abs() > LENGTH_TOLERANCE_M {
            let fact = finding::Pole::LengthDisagrees { sections_m: length, pole_m: pole.length_m };
            found.push(finding::stop(fact).measured(length, pole.length_m, Unit::Meter));
        }
    }
    for item in pole.items.iter().filter(|item| item.mass_kg == 0.0) {
        found.push(finding::caution(finding::Pole::ItemWithoutMass { item: item.name.clone() }));
    }
    for cover in covers.iter().filter(|cover| matches!(cover.on, CoverOn::Pole { .. }) && cover.mass_kg.is_none()) {
        found.push(finding::caution(finding::Pole::CoverMassNotStated { cover: cover.name.clone() }));
    }
    found
}

fn maker_findings(pole: &Pole, computed: &MassPart) -> Vec<Finding> {
    let Some(maker) = pole.maker else { return Vec::new() };
    let mut found = Vec::new();
    let (least, most) = (computed.kg.low(), computed.kg.high());
    let (lightest, heaviest) = (maker.mass_kg / (1.0 + MAKER_SHARE), maker.mass_kg * (1.0 + MAKER_SHARE));
    if most > heaviest || most < lightest {
        let (maker_kg, least_kg, most_kg) = (maker.mass_kg, least, most);
        let finding = if least > heaviest {
            finding::stop(finding::Pole::MakerMassTooLow { maker_kg, least_kg, most_kg })
        } else {
            finding::caution(finding::Pole::MakerMassDiffers { maker_kg, least_kg, most_kg })
        };
        let off = if most > heaviest { most } else { least };
        found.push(finding.measured(maker.mass_kg, off, Unit::Kilogram));
    }
    let apart = maker.balance_from_butt_m - computed.centre_from_butt_m.middle();
    if apart.abs() > MAKER_BALANCE_SHARE * pole.length_m + computed.centre_from_butt_m.width() / 2.0 {
        let (maker_m, computed_m) = (maker.balance_from_butt_m, computed.centre_from_butt_m.middle());
        let fact = finding::Pole::MakerBalanceDiffers { maker_m, computed_m };
        found.push(finding::caution(fact).measured(maker_m, computed_m, Unit::Meter));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::Grade;
    use crate::fixtures::site::pole;
    use crate::site::{CoverMake, During, MakerMass, Method, PoleItem};
    use glam::dvec3;
    use proptest::prelude::*;

    const INCH_M: f64 = FOOT_M / 12.0;

    fn section(length: f64, bottom: f64, top: f64, lap: f64) -> TubeSection {
        TubeSection { length_m: length, bottom_m: bottom, top_m: top, wall_m: 0.006, lap_m: lap }
    }

    fn wood(oversize: f64) -> Pole {
        let shell = Shell::Wood {
            top_circumference_m: 23.0 * INCH_M,
            circumference_at_6_ft_m: 37.5 * INCH_M,
            density_kg_m3: Bracket::between(800.0, 1000.0).unwrap(),
            oversize,
        };
        pole(45.0 * FOOT_M, shell)
    }

    /// 8 m butt section, 7 m top section slipped 1 m over it.
    fn two_sections() -> Pole {
        let sections = vec![section(8.0, 0.40, 0.30, 0.0), section(7.0, 0.32, 0.20, 1.0)];
        pole(14.0, Shell::SteelTube { sides: Sides::Twelve, sections })
    }

    fn item(name: &str, mass_kg: f64, x: f64, z: f64) -> PoleItem {
        PoleItem { name: name.into(), mass_kg, from: dvec3(x, 0.0, z), to: dvec3(x, 0.0, z), radius_m: 0.1 }
    }

    #[test]
    fn in_a_slip_joint_the_outer_section_is_the_outside() {
        let corners = corner_factor(Sides::Twelve);
        let at = |z| outer_radius_m(&two_sections(), z).unwrap();
        assert!((at(0.0) - 0.20 * corners).abs() < 1e-12);
        // At 7 m the lower section is 0.3125 m across, the upper one begins with 0.32 m.
        assert!((at(7.0) - 0.16 * corners).abs() < 1e-12);
        assert!((at(14.0) - 0.10 * corners).abs() < 1e-12);
        assert!((at(20.0) - at(14.0)).abs() < 1e-12);
        let flats = radius_m(&two_sections(), 7.0).unwrap();
        assert!((flats.low() - 0.3125 / 2.0).abs() < 1e-12, "the least is half the flats of the section inside");
    }

    #[test]
    fn the_outline_has_no_gap_and_no_overlap() {
        let outline = Outline::of(&two_sections()).unwrap();
        let outline = outline.tapers();
        assert_eq!(outline.len(), 3);
        assert!(outline.windows(2).all(|p| p[0].to_m == p[1].from_m));
        assert_eq!((outline[0].from_m, outline[2].to_m), (0.0, 14.0));
        let area = side_area_m2(&two_sections(), 0.0, 14.0).unwrap();
        let by_hand = (7.0 * (0.40 + 0.3125) / 2.0 + 7.0 * (0.32 + 0.20) / 2.0) * corner_factor(Sides::Twelve);
        assert!((area - by_hand).abs() < 1e-12);
    }

    #[test]
    fn the_lap_of_a_slip_joint_is_steel_twice() {
        let pole = two_sections();
        let Shell::SteelTube { sides, sections } = &pole.shell else { unreachable!() };
        let (lower, upper) = (tube_mass_kg(*sides, &sections[0]), tube_mass_kg(*sides, &sections[1]));
        let mass = mass(&pole, &[]).unwrap();
        assert!((mass.kg.low() - (lower + upper)).abs() < 1e-6);
        assert!((mass.kg.high() - GALVANIZED_FACTOR * (lower + upper)).abs() < 1e-6);
        let by_hand =
            (lower * tube_centroid_m(&sections[0]) + upper * (7.0 + tube_centroid_m(&sections[1]))) / (lower + upper);
        assert!((mass.balance_from_butt_m.middle() - by_hand).abs() < 1e-9);
    }

    #[test]
    fn hardware_at_the_top_raises_the_balance_point() {
        let bare = mass(&wood(1.0), &[]).unwrap();
        let mut framed = wood(1.0);
        framed.items.push(item("crossarm", 55.0, 0.0, 13.1));
        let with = mass(&framed, &[]).unwrap();
        assert!(with.balance_from_butt_m.low() > bare.balance_from_butt_m.low());
        assert!(with.balance_from_butt_m.high() > bare.balance_from_butt_m.high());
        // The lightest timber lets the arm pull the balance highest.
        let timber = bare.kg.low();
        let highest = (timber * bare.balance_from_butt_m.high() + 55.0 * 13.1) / (timber + 55.0);
        assert!((with.balance_from_butt_m.high() - highest).abs() < 1e-6);
    }

    #[test]
    fn an_arm_to_one_side_moves_the_centre_off_the_axis() {
        let mut framed = wood(1.0);
        framed.items.push(item("side arm", 60.0, 0.8, 13.0));
        let mass = mass(&framed, &[]).unwrap();
        assert!(mass.off_axis_m[0].low() > 0.03 && mass.off_axis_m[1].contains(0.0));
    }

    #[test]
    fn oversize_timber_is_heavier_and_thicker_and_less_sure_of_its_balance() {
        let (least, stout) = (mass(&wood(1.0), &[]).unwrap(), mass(&wood(1.1), &[]).unwrap());
        assert!((stout.kg.high() / least.kg.high() - 1.21).abs() < 1e-9);
        assert!((stout.kg.low() - least.kg.low()).abs() < 1e-9);
        assert!(stout.balance_from_butt_m.width() > least.balance_from_butt_m.width());
        let radius = radius_m(&wood(1.1), 0.0).unwrap();
        assert!((radius.high() / radius.low() - 1.1).abs() < 1e-12);
    }

    #[test]
    fn the_makers_mass_holds_over_the_computed_one() {
        let mut pole = two_sections();
        let computed = mass(&pole, &[]).unwrap();
        pole.maker = Some(MakerMass { mass_kg: computed.kg.middle(), balance_from_butt_m: 6.0 });
        let made = mass(&pole, &[]).unwrap();
        assert!((made.kg.high() - computed.kg.middle()).abs() < 1e-6 && made.balance_from_butt_m.contains(6.0));
        assert!(findings(&pole, &[]).is_empty(), "{:?}", findings(&pole, &[]));
    }

    #[test]
    fn a_makers_mass_far_below_the_computed_one_is_a_stop() {
        let mut pole = two_sections();
        let kg = mass(&pole, &[]).unwrap().kg;
        let graded = |pole: &mut Pole, mass_kg: f64| {
            pole.maker = Some(MakerMass { mass_kg, balance_from_butt_m: 6.0 });
            findings(pole, &[]).first().map(|f| (f.grade, f.code()))
        };
        assert_eq!(graded(&mut pole, kg.low() / 1.2), Some((Grade::Stop, "maker_mass_too_low")));
        assert_eq!(graded(&mut pole, kg.high() / 1.16), Some((Grade::Caution, "maker_mass_differs")));
        assert_eq!(graded(&mut pole, kg.high() * 1.2), Some((Grade::Caution, "maker_mass_differs")));
        assert_eq!(graded(&mut pole, kg.high() * 1.1), None);
    }

    #[test]
    fn sections_that_do_not_add_up_to_the_length_are_a_stop() {
        let mut pole = two_sections();
        pole.length_m = 14.5;
        let found = findings(&pole, &[]);
        assert!(found.iter().any(|f| f.code() == "pole_length_disagrees" && f.grade == Grade::Stop));
    }

    #[test]
    fn a_cover_on_the_pole_without_a_mass_is_told() {
        let cover = Cover {
            name: "pole cover".into(),
            on: CoverOn::Pole { from_butt_m: Bracket::between(8.0, 12.0).unwrap() },
            make: CoverMake::Plastic { class: 4 },
            piece_length_m: 1.8,
            overlap_m: 0.15,
            mass_kg: None,
            method: Method::Gloves,
            during: During { on_after_step: None, off_before_step: None },
        };
        let pole = wood(1.0);
        let codes =
            |cover: &Cover| findings(&pole, std::slice::from_ref(cover)).iter().map(|f| f.code()).collect::<Vec<_>>();
        assert_eq!(codes(&cover), ["cover_mass_not_stated"]);
        let weighed = Cover { mass_kg: Some(9.0), ..cover };
        assert!(codes(&weighed).is_empty());
        let bare = mass(&pole, &[]).unwrap();
        let worn = mass(&pole, std::slice::from_ref(&weighed)).unwrap();
        assert!((worn.kg.low() - bare.kg.low() - 9.0).abs() < 1e-6);
        let taken_off = Cover { during: During { off_before_step: Some(3), ..weighed.during }, ..weighed };
        let worn = mass(&pole, &[taken_off]).unwrap();
        assert!(worn.kg.low() <= bare.kg.low() && worn.kg.high() >= bare.kg.high() + 9.0 - 1e-6);
    }

    #[test]
    fn what_no_pole_can_be_is_refused() {
        let mut thick = two_sections();
        let mut long_lap = two_sections();
        let mut none = two_sections();
        if let Shell::SteelTube { sections, .. } = &mut thick.shell {
            sections[1].wall_m = 0.2;
        }
        if let Shell::SteelTube { sections, .. } = &mut long_lap.shell {
            sections[1].lap_m = 7.5;
        }
        if let Shell::SteelTube { sections, .. } = &mut none.shell {
            sections.clear();
        }
        let mut maker = wood(1.0);
        maker.maker = Some(MakerMass { mass_kg: 700.0, balance_from_butt_m: 20.0 });
        let mut weightless = wood(1.0);
        weightless.items.push(item("arm", f64::NAN, 0.0, 12.0));
        for pole in [thick, long_lap, none, maker, weightless, wood(0.9), wood(f64::NAN)] {
            assert!(mass(&pole, &[]).is_err(), "{pole:?}");
            assert_eq!(findings(&pole, &[]).first().map(|f| f.grade), Some(Grade::Stop));
        }
    }

    proptest! {
        #[test]
        fn any_true_pole_within_the_brackets_weighs_and_balances_within_the_answer(
            f in 0.0..=1.0f64, g in 0.0..=1.0f64, h in 0.0..=1.0f64, at in 0.0..13.0f64, kg in 0.0..300.0f64,
        ) {
            let mut framed = wood(1.08);
            let mut long = item("cover", kg, 0.0, at);
            long.to.z = at + 0.7;
            framed.items.push(long);
            let answer = mass(&framed, &[]).unwrap();
            let shell = &answer.parts[0];
            let timber = shell.kg.at(f);
            let centre = (timber * shell.centre_from_butt_m.at(g) + kg * (at + 0.7 * (0.4 + 0.2 * h))) / (timber + kg);
            prop_assert!(answer.kg.contains(timber + kg));
            prop_assert!(answer.balance_from_butt_m.contains(centre));
        }

        #[test]
        fn no_figure_makes_it_panic(values in prop::array::uniform8(any::<f64>()), sections in 0usize..4) {
            let [length, bottom, top, wall, lap, z, kg, balance] = values;
            let tube = TubeSection { length_m: length, bottom_m: bottom, top_m: top, wall_m: wall, lap_m: lap };
            let mut steel = pole(length, Shell::SteelTube { sides: Sides::Eight, sections: vec![tube; sections] });
            steel.items.push(item("arm", kg, z, balance));
            steel.maker = Some(MakerMass { mass_kg: kg, balance_from_butt_m: balance });
            let timber = Shell::Wood {
                top_circumference_m: top,
                circumference_at_6_ft_m: bottom,
                density_kg_m3: Bracket::exactly(wall),
                oversize: lap,
            };
            for pole in [steel, pole(length, timber)] {
                let _ = (mass(&pole, &[]), Outline::of(&pole), radius_m(&pole, z), side_area_m2(&pole, z, kg), findings(&pole, &[]));
            }
        }
    }
}
