//! Rated capacity from the load chart, over a range of radius, boom length and swing.
//!
//! A load chart is a table. Nothing is printed between its lines, so this module never interpolates. Where the radius
//! or the boom length falls between listed values, the smallest capacity of the listed values around it counts (US Army
//! TM 5-3810-306-10; crane safety practice: "the smallest capacity shown at the next larger radius or boom length").
//! Over a range, the smallest capacity of every touched cell counts.
//!
//! A blank cell is outside the chart, and so is a radius below the smallest listed one: neither has a rating.

use crate::bracket::Bracket;
use crate::finding::OutsideChart;
use crate::site::{Chart, ChartSector};
use std::f64::consts::TAU;

/// A listed value within this distance counts as reached. It allows for rounding of the arithmetic, not for errors of
/// the world.
const REACHED_M: f64 = 1e-6;
/// The same for swing, radians.
const REACHED_RAD: f64 = 1e-9;

/// The crane's position over one motion.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reach {
    /// From the axis of rotation to the load's plumb line, meters, including growth under load.
    pub radius_m: Bracket,
    /// Meters.
    pub boom_length_m: Bracket,
    /// Counterclockwise from over the front, radians; any number of turns.
    pub swing: Bracket,
}

/// The chart's answer for a [`Reach`].
#[derive(Clone, Debug, PartialEq)]
pub struct Rated {
    /// Gross capacity, kg: the smallest and the largest of the touched cells. The low end is the rating. The high end
    /// says only how little of the chart the motion uses at best.
    pub kg: Bracket,
    /// Name of the sector with the smallest touched cell.
    pub sector: String,
    /// Listed radius of that cell, meters.
    pub radius_m: f64,
    /// Listed boom length of that cell, meters.
    pub boom_length_m: f64,
}

/// The smallest and the largest gross capacity of all cells that `reach` touches, in every sector that its swing
/// touches. The boundary between two sectors counts for both. The caller takes off the chart's deductions.
///
/// # Errors [`OutsideChart`] when any part of the reach has no rating.
pub fn rated(chart: &Chart, reach: &Reach) -> Result<Rated, OutsideChart> {
    let ends = [reach.radius_m, reach.boom_length_m, reach.swing].map(|b| [b.low(), b.high()]);
    if !ends.as_flattened().iter().all(|v| v.is_finite()) {
        return Err(OutsideChart::NotANumber);
    }
    let mut least: Option<Rated> = None;
    for sector in sectors_touched(&chart.sectors, reach.swing)? {
        let found = rated_in(sector, reach)?;
        least = Some(match least {
            None => found,
            Some(so_far) => {
                let kg = so_far.kg.hull(found.kg);
                Rated { kg, ..if found.kg.low() < so_far.kg.low() { found } else { so_far } }
            }
        });
    }
    least.ok_or_else(|| unusable("sectors"))
}

fn unusable(what: impl Into<String>) -> OutsideChart {
    OutsideChart::Unusable { what: what.into() }
}

/// Every sector that the swing touches; an error when part of the swing lies in none.
fn sectors_touched(sectors: &[ChartSector], swing: Bracket) -> Result<Vec<&ChartSector>, OutsideChart> {
    let from = swing.low().rem_euclid(TAU);
    let to = from + swing.width().min(TAU);
    let mut touched = Vec::new();
    let mut arcs = Vec::new();
    for sector in sectors {
        let (low, width) = (sector.swing.low(), sector.swing.width().min(TAU));
        if !(low.is_finite() && width.is_finite()) {
            return Err(unusable(format!("usable swing for sector {}", sector.name)));
        }
        let start = low.rem_euclid(TAU);
        let before = arcs.len();
        // The swing spans [0, 4π) at most, the sector starts in [0, 2π): one turn back and one turn on are enough.
        for turn in [-TAU, 0.0, TAU] {
            let arc = (start + turn, start + turn + width);
            if arc.0 <= to + REACHED_RAD && arc.1 >= from - REACHED_RAD {
                arcs.push(arc);
            }
        }
        if arcs.len() > before {
            touched.push(sector);
        }
    }
    arcs.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut covered_to = from;
    for arc in arcs {
        if arc.0 <= covered_to + REACHED_RAD {
            covered_to = covered_to.max(arc.1);
        }
    }
    let whole = !touched.is_empty() && covered_to + REACHED_RAD >= to;
    if whole { Ok(touched) } else { Err(OutsideChart::Swing { swing_deg: covered_to.rem_euclid(TAU).to_degrees() }) }
}

fn rated_in(sector: &ChartSector, reach: &Reach) -> Result<Rated, OutsideChart> {
    let name = || sector.name.clone();
    for (listed, what) in [(&sector.radii_m, "radii"), (&sector.boom_lengths_m, "boom lengths")] {
        let ascending = listed.windows(2).all(|pair| matches!(pair, [a, b] if a < b));
        if listed.is_empty() || !ascending || !listed.iter().all(|v| v.is_finite()) {
            return Err(unusable(format!("ascending {what} in sector {}", sector.name)));
        }
    }
    let rows = around(&sector.radii_m, reach.radius_m).ok_or_else(|| {
        let (from_m, to_m, radius_m) = outside(&sector.radii_m, reach.radius_m);
        OutsideChart::Radius { sector: name(), radius_m, from_m, to_m }
    })?;
    let columns = around(&sector.boom_lengths_m, reach.boom_length_m).ok_or_else(|| {
        let (from_m, to_m, length_m) = outside(&sector.boom_lengths_m, reach.boom_length_m);
        OutsideChart::BoomLength { sector: name(), length_m, from_m, to_m }
    })?;
    let mut least: Option<Rated> = None;
    for (row, &radius_m) in sector.radii_m.iter().enumerate().filter(|(row, _)| rows.contains(row)) {
        for (column, &boom_length_m) in sector.boom_lengths_m.iter().enumerate() {
            if !columns.contains(&column) {
                continue;
            }
            let cell = sector.rated_kg.get(row).and_then(|r| r.get(column)).copied().flatten();
            let Some(kg) = cell.filter(|kg| kg.is_finite() && *kg >= 0.0) else {
                // A blank below the motion's smallest radius does not matter: the next larger radius governs.
                if radius_m < reach.radius_m.low() - REACHED_M {
                    continue;
                }
                return Err(OutsideChart::Blank { sector: name(), radius_m, length_m: boom_length_m });
            };
            let here = Bracket::exactly(kg);
            least = Some(match least {
                Some(so_far) if so_far.kg.low() <= kg => Rated { kg: so_far.kg.hull(here), ..so_far },
                so_far => {
                    Rated { kg: so_far.map_or(here, |s| s.kg.hull(here)), sector: name(), radius_m, boom_length_m }
                }
            });
        }
    }
    least.ok_or_else(|| unusable(format!("cells in sector {}", sector.name)))
}

/// Indices from the last listed value at or below the range to the first at or above it; `None` when the range leaves
/// the list.
fn around(listed: &[f64], range: Bracket) -> Option<std::ops::RangeInclusive<usize>> {
    let first = listed.iter().rposition(|v| *v <= range.low() + REACHED_M)?;
    let last = listed.iter().position(|v| *v >= range.high() - REACHED_M)?;
    // A zero-width range just past a listed value has both ends on it.
    Some(first.min(last)..=last.max(first))
}

/// The first and the last listed value, and the end of the range that lies outside them.
fn outside(listed: &[f64], range: Bracket) -> (f64, f64, f64) {
    let (from, to) = (listed.first().copied().unwrap_or(0.0), listed.last().copied().unwrap_or(0.0));
    (from, to, if range.high() > to { range.high() } else { range.low() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn span(a: f64, b: f64) -> Bracket {
        Bracket::between(a, b).unwrap()
    }

    fn at(radius: f64, length: f64, swing_deg: f64) -> Reach {
        Reach {
            radius_m: Bracket::exactly(radius),
            boom_length_m: Bracket::exactly(length),
            swing: Bracket::exactly(f64::to_radians(swing_deg)),
        }
    }

    fn sector(name: &str, from_deg: f64, to_deg: f64, share: f64) -> ChartSector {
        ChartSector {
            name: name.into(),
            swing: span(from_deg.to_radians(), to_deg.to_radians()),
            boom_lengths_m: vec![10.0, 15.0, 20.0],
            radii_m: vec![3.0, 5.0, 8.0, 12.0],
            rated_kg: vec![
                vec![Some(9000.0 * share), Some(8000.0 * share), None],
                vec![Some(6000.0 * share), Some(6500.0 * share), Some(5000.0 * share)],
                vec![Some(3000.0 * share), Some(3200.0 * share), Some(3100.0 * share)],
                vec![None, Some(1500.0 * share), Some(1400.0 * share)],
            ],
        }
    }

    /// Full rating over the rear (90 to 270 degrees), six tenths over the front.
    fn chart() -> Chart {
        Chart {
            source: "invented".into(),
            sectors: vec![sector("over the rear", 90.0, 270.0, 1.0), sector("over the front", -90.0, 90.0, 0.6)],
            deductions_kg: 0.0,
            floats: None,
        }
    }

    #[test]
    fn a_listed_position_reads_its_own_cell() {
        let found = rated(&chart(), &at(5.0, 15.0, 180.0)).unwrap();
        assert_eq!((found.kg.low(), found.sector.as_str()), (6500.0, "over the rear"));
    }

    #[test]
    fn between_listed_values_the_smallest_around_holds() {
        let found = rated(&chart(), &at(6.0, 12.0, 180.0)).unwrap();
        assert_eq!((found.kg.low(), found.radius_m, found.boom_length_m), (3000.0, 8.0, 10.0));
        let found = rated(&chart(), &at(8.0, 12.0, 180.0)).unwrap();
        assert_eq!((found.kg.low(), found.kg.high()), (3000.0, 3200.0));
    }

    #[test]
    fn a_radius_a_hair_past_a_line_reads_the_next_line() {
        assert_eq!(rated(&chart(), &at(8.001, 15.0, 180.0)).unwrap().kg.low(), 1500.0);
        assert_eq!(rated(&chart(), &at(8.0 + 1e-9, 15.0, 180.0)).unwrap().kg.low(), 3200.0);
    }

    #[test]
    fn on_a_sector_boundary_both_sectors_count() {
        for boundary in [90.0, 270.0, -90.0, 450.0] {
            assert_eq!(rated(&chart(), &at(5.0, 15.0, boundary)).unwrap().kg.low(), 3900.0, "at {boundary} degrees");
        }
        let across = Reach { swing: span(1.0, 2.0), ..at(5.0, 15.0, 0.0) };
        assert_eq!(rated(&chart(), &across).unwrap().sector, "over the front");
    }

    #[test]
    fn nothing_is_rated_outside_the_chart() {
        let miss = |r, l| rated(&chart(), &at(r, l, 180.0)).unwrap_err();
        assert!(matches!(miss(2.9, 15.0), OutsideChart::Radius { radius_m, .. } if radius_m == 2.9));
        assert!(matches!(miss(12.1, 15.0), OutsideChart::Radius { to_m, .. } if to_m == 12.0));
        assert!(matches!(miss(5.0, 9.0), OutsideChart::BoomLength { .. }));
        assert!(matches!(miss(5.0, 21.0), OutsideChart::BoomLength { .. }));
        assert!(matches!(miss(12.0, 10.0), OutsideChart::Blank { .. }));
        assert!(matches!(miss(11.0, 12.0), OutsideChart::Blank { .. }));
        // 20 m of boom is not printed at 3 m, but at 4 m the next larger radius rules.
        assert!(matches!(miss(3.0, 20.0), OutsideChart::Blank { .. }));
        assert_eq!(rated(&chart(), &at(4.0, 20.0, 180.0)).unwrap().kg.low(), 5000.0);
    }

    #[test]
    fn a_swing_that_no_sector_covers_is_outside_the_chart() {
        let mut gapped = chart();
        gapped.sectors.truncate(1);
        assert!(matches!(rated(&gapped, &at(5.0, 15.0, 0.0)), Err(OutsideChart::Swing { .. })));
        let into_the_gap = Reach { swing: span(3.0, 5.0), ..at(5.0, 15.0, 0.0) };
        assert!(matches!(rated(&gapped, &into_the_gap), Err(OutsideChart::Swing { .. })));
        gapped.sectors.clear();
        assert!(rated(&gapped, &at(5.0, 15.0, 0.0)).is_err());
    }

    #[test]
    fn a_full_turn_reads_every_sector() {
        let turn = Reach { swing: span(-10.0, 10.0), ..at(5.0, 15.0, 0.0) };
        let found = rated(&chart(), &turn).unwrap();
        assert_eq!((found.kg.low(), found.kg.high()), (3900.0, 6500.0));
    }

    #[test]
    fn a_chart_out_of_order_or_ragged_is_unusable() {
        let mut wrong = chart();
        wrong.sectors[0].radii_m = vec![3.0, 8.0, 5.0, 12.0];
        assert!(matches!(rated(&wrong, &at(5.0, 15.0, 180.0)), Err(OutsideChart::Unusable { .. })));
        let mut ragged = chart();
        ragged.sectors[0].rated_kg.truncate(2);
        assert!(matches!(rated(&ragged, &at(8.0, 15.0, 180.0)), Err(OutsideChart::Blank { .. })));
        let mut negative = chart();
        negative.sectors[0].rated_kg[1][1] = Some(f64::NAN);
        assert!(matches!(rated(&negative, &at(5.0, 15.0, 180.0)), Err(OutsideChart::Blank { .. })));
    }

    prop_compose! {
        fn any_reach()(r in 2.0..13.0f64, dr in 0.0..6.0f64, l in 9.0..21.0f64, dl in 0.0..6.0f64, s in -9.0..9.0f64, ds in 0.0..7.0f64) -> Reach {
            Reach { radius_m: span(r, r + dr), boom_length_m: span(l, l + dl), swing: span(s, s + ds) }
        }
    }

    proptest! {
        #[test]
        fn the_rating_is_never_above_a_cell_touched(reach in any_reach(), f in 0.0..=1.0f64, g in 0.0..=1.0f64, h in 0.0..=1.0f64) {
            let chart = chart();
            if let Ok(found) = rated(&chart, &reach) {
                let swing = reach.swing.at(h).rem_euclid(TAU).to_degrees();
                let sector = &chart.sectors[usize::from(!(90.0..=270.0).contains(&swing))];
                let row = sector.radii_m.iter().position(|r| *r >= reach.radius_m.at(f) - REACHED_M).unwrap();
                let length = reach.boom_length_m.at(g);
                let after = sector.boom_lengths_m.iter().position(|l| *l >= length - REACHED_M).unwrap();
                let before = sector.boom_lengths_m.iter().rposition(|l| *l <= length + REACHED_M).unwrap();
                for column in [before, after] {
                    let cell = sector.rated_kg[row][column];
                    prop_assert!(cell.is_some_and(|kg| found.kg.low() <= kg && kg <= found.kg.high()), "{cell:?} {found:?}");
                }
            }
        }

        #[test]
        fn a_wider_range_never_rates_higher(reach in any_reach(), by in 0.0..3.0f64) {
            let wider = Reach { radius_m: reach.radius_m.widened(by), boom_length_m: reach.boom_length_m.widened(by), swing: reach.swing.widened(by) };
            if let Ok(wide) = rated(&chart(), &wider) {
                let narrow = rated(&chart(), &reach);
                prop_assert!(narrow.is_ok_and(|n| wide.kg.low() <= n.kg.low() && n.kg.high() <= wide.kg.high()));
            }
        }
    }
}
