//! Mass and balance of the pole with everything fixed to it.

use super::section::{butt_circumference_m, frustum_centroid_m, frustum_volume_m3, tube_centroid_m, tube_mass_kg};
use super::shell::{PoleError, check, placed_sections};
use crate::bracket::Bracket;
use crate::site::{Cover, CoverOn, Pole, Shell};
use std::f64::consts::TAU;

/// The largest ratio of galvanized to bare mass: galvanizing adds 3 to 4 percent on thin poles (from memory of the
/// trade). The mass bracket reaches from the bare shell to this.
pub const GALVANIZED_FACTOR: f64 = 1.04;

/// Uncertainty of a computed balance point, as a share of the pole's length. Our judgment, not published; it covers
/// uneven density or wall.
pub const BALANCE_SHARE: f64 = 0.01;

/// Mass and balance of the pole with everything fixed to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Mass {
    /// Total mass, kg.
    pub kg: Bracket,
    /// Height of the center of mass, meters from the butt.
    pub balance_from_butt_m: Bracket,
    /// Offset of the center of mass from the axis, meters: toward the direction that the pole faces, and to its left.
    pub off_axis_m: [Bracket; 2],
    /// The bare pole first, then items, then covers.
    pub parts: Vec<MassPart>,
}

/// One part of the mass.
#[derive(Clone, Debug, PartialEq)]
pub struct MassPart {
    /// "bare pole", or the name in the scene.
    pub name: String,
    /// Its mass, kg.
    pub kg: Bracket,
    /// Height of its center of mass, meters from the butt.
    pub center_from_butt_m: Bracket,
    /// Offset of its center of mass from the axis, meters: toward the direction that the pole faces, and to its left.
    pub off_axis_m: [Bracket; 2],
    /// Where the mass comes from and what it assumes, for people.
    pub source: String,
}

/// Uncertainty of an item's center of mass, as a share of the item's length. Our judgment: arms and brackets are
/// uniform, insulators sit at both ends.
const ITEM_CENTRE_SHARE: f64 = 0.1;

/// Mass and balance of the pole with its items and the covers it wears. A cover that goes on or comes off during the
/// job may be absent, so its mass reaches down to zero.
///
/// # Errors [`PoleError`] when a figure cannot belong to a pole.
pub fn mass(pole: &Pole, covers: &[Cover]) -> Result<Mass, PoleError> {
    let computed = computed_shell(pole)?;
    let bare = match pole.maker {
        None => computed,
        Some(maker) => MassPart {
            kg: Bracket::exactly(maker.mass_kg),
            center_from_butt_m: Bracket::exactly(maker.balance_from_butt_m),
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
            center_from_butt_m: between(item.from.z, item.to.z),
            off_axis_m: [between(item.from.x, item.to.x), between(item.from.y, item.to.y)],
            source: "stated in the scene, its centre near its middle".to_owned(),
        }
    }));
    parts.extend(covers.iter().filter_map(worn));
    let kg = parts.iter().map(|p| p.kg).fold(Bracket::exactly(0.0), |sum, kg| sum + kg);
    Ok(Mass {
        kg: kg.widened(kg.high() * 1e-12),
        balance_from_butt_m: mean(&parts, |p| p.center_from_butt_m),
        off_axis_m: [mean(&parts, |p| p.off_axis_m[0]), mean(&parts, |p| p.off_axis_m[1])],
        parts,
    })
}

/// The mass of a cover on the pole; `None` for other covers and for covers without a stated mass.
fn worn(cover: &Cover) -> Option<MassPart> {
    let (CoverOn::Pole { from_butt_m }, Some(mass_kg)) = (cover.on, cover.mass_kg) else { return None };
    let always = cover.during.on_after_step.is_none() && cover.during.off_before_step.is_none();
    let least = if always { mass_kg } else { 0.0 };
    let on_axis = Bracket::exactly(0.0);
    Some(MassPart {
        name: cover.name.clone(),
        kg: Bracket::exactly(least).hull(Bracket::exactly(mass_kg)),
        // A cover's mass is uniform over its length.
        center_from_butt_m: Bracket::exactly(from_butt_m.middle()),
        off_axis_m: [on_axis, on_axis],
        source: "stated in the scene".to_owned(),
    })
}

/// The mean position of the parts, weighted by their masses; each mass may be anywhere in its bracket.
///
/// The extremes of a weighted mean lie at ends of the brackets: farther parts at their greatest mass, nearer parts at
/// their least.
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
///
/// # Errors [`PoleError`] when a figure cannot belong to a pole.
pub fn computed_shell(pole: &Pole) -> Result<MassPart, PoleError> {
    check(pole)?;
    let (kg, center, source) = match &pole.shell {
        Shell::SteelTube { sides, sections } => {
            let (mut kg, mut moment) = (0.0, 0.0);
            for (bottom_m, section) in placed_sections(sections) {
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
            // Oversize at only one end moves the balance point the most.
            let center = [(1.0, *oversize), (*oversize, 1.0), (1.0, 1.0)].map(|(t, b)| {
                let (butt, tip) = frustum(t, b);
                Bracket::exactly(frustum_centroid_m(pole.length_m, butt, tip))
            });
            let center = center[0].hull(center[1]).hull(center[2]);
            (
                kg,
                center,
                "timber at the stated density, straight taper from the top through the size 6 ft from the butt",
            )
        }
    };
    let on_axis = Bracket::exactly(0.0);
    Ok(MassPart {
        name: "bare pole".to_owned(),
        kg,
        center_from_butt_m: center.widened(BALANCE_SHARE * pole.length_m),
        off_axis_m: [on_axis, on_axis],
        source: source.to_owned(),
    })
}
