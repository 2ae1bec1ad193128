//! The nearest pairs at one instant. Each is a sample of a pair in the report.
//!
//! Boxes exclude distant pairs; only the rest is measured.

use super::Rehearsal;
use crate::approach::{self, Around, Leg, Measure, Strand, pair};
use crate::motion::{BodyMotion, Motion, MovingPart};
use crate::outcome::{GapRow, OtherKind};
use crate::sequence::LoadState;
use glam::DVec3;

/// Width of each measured gap, meters.
const TOLERANCE_M: f64 = 1e-4;
/// Most evaluations for one pair.
const BUDGET: u32 = 2_000;

/// A pair at an instant, with the two points that its gap is between.
#[derive(Clone, Debug, PartialEq)]
pub struct Nearest {
    /// Index into [`crate::outcome::Report::gaps`].
    pub row: usize,
    /// The gap, meters.
    pub gap_m: f64,
    /// The gap less allowances and less the distance that the rules require, meters.
    pub margin_m: f64,
    /// The point on the body. World frame, meters.
    pub on_body: DVec3,
    /// The point on the wire or the other body. World frame, meters.
    pub on_other: DVec3,
}

/// A piece of the plan and the fraction within it.
#[derive(Clone, Copy)]
struct Instant {
    piece: usize,
    u: f64,
}

impl Instant {
    fn legs(self, parts: &[MovingPart]) -> Vec<Leg> {
        parts.iter().map(|part| Leg::frozen(part, self.u)).collect()
    }
}

impl Rehearsal {
    /// For each wire the body with the least margin in this weather case, and every pair with a negative margin.
    pub fn to_wires(&self, time_s: f64, weather: usize) -> Vec<Nearest> {
        let Some((motion, now)) = self.motion_at(time_s, weather) else { return Vec::new() };
        let Some(name) = self.site.weather.get(weather).map(|weather| &weather.name) else { return Vec::new() };
        let bodies: Vec<(&BodyMotion, Vec<Leg>)> = motion
            .bodies
            .iter()
            .filter_map(|body| Some((body, now.legs(parts_off_structures(motion, body, now.piece)?))))
            .collect();
        let lines: Vec<Vec<Strand>> =
            (0..self.site.wires.len()).map(|wire| self.strands(motion, now.piece, wire, weather)).collect();
        let boxes: Vec<Around> = bodies.iter().map(|(_, legs)| Around::legs(legs)).collect();
        let mut pairs = Vec::new();
        for (row, pair) in self.report.gaps.iter().enumerate() {
            if pair.other_kind != OtherKind::Wire || pair.weather != *name {
                continue;
            }
            let body = bodies.iter().position(|(body, _)| body.name == pair.body);
            let wire = self.site.wires.iter().position(|wire| wire.name == pair.other);
            let (Some(body), Some(wire)) = (body, wire) else { continue };
            let Some(strands) = lines.get(wire).filter(|strands| !strands.is_empty()) else { continue };
            if let (Some(about), Some((_, legs))) = (boxes.get(body), bodies.get(body)) {
                let least_m = about.apart_m(&Around::strands(strands)) - pair.required_m;
                pairs.push((least_m, wire, row, legs, strands));
            }
        }
        pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut least_of = vec![f64::INFINITY; lines.len()];
        let mut found: Vec<(usize, Nearest)> = Vec::new();
        for (least_m, wire, row, legs, strands) in pairs {
            let Some(known_m) = least_of.get_mut(wire) else { continue };
            if least_m >= known_m.max(0.0) {
                continue;
            }
            if let Some(nearest) = self.measured(row, legs, strands)
                && nearest.margin_m < known_m.max(0.0)
            {
                *known_m = known_m.min(nearest.margin_m);
                found.push((wire, nearest));
            }
        }
        let kept = |(wire, pair): &(usize, Nearest)| pair.margin_m < 0.0 || least_of.get(*wire) == Some(&pair.margin_m);
        found.into_iter().filter(kept).map(|(_, pair)| pair).collect()
    }

    /// The pair with the least margin among all pairs without a wire.
    pub fn among_bodies(&self, time_s: f64) -> Option<Nearest> {
        let (_, now) = self.motion_at(time_s, 0)?;
        let mut pairs: Vec<(f64, usize, [Vec<Leg>; 2])> = Vec::new();
        for row in self.bodies.rows() {
            let (Some(pair), Some(legs)) = (self.report.gaps.get(row), self.legs_of_both(row, now)) else { continue };
            let least_m = Around::legs(&legs[0]).apart_m(&Around::legs(&legs[1])) - pair.required_m;
            pairs.push((least_m, row, legs));
        }
        pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut nearest: Option<Nearest> = None;
        for (least_m, row, legs) in pairs {
            let known_m = nearest.as_ref().map_or(f64::INFINITY, |known| known.margin_m);
            if least_m >= known_m {
                break;
            }
            let found = self.report.gaps.get(row).and_then(|pair| between(row, pair, &legs, known_m));
            nearest = found.filter(|found| found.margin_m < known_m).or(nearest);
        }
        nearest
    }

    /// One pair of the report at an instant; `None` when the pair does not meet then.
    pub fn pair_at(&self, row: usize, time_s: f64) -> Option<Nearest> {
        let pair = self.report.gaps.get(row)?;
        if pair.other_kind != OtherKind::Wire {
            let (_, now) = self.motion_at(time_s, 0)?;
            return between(row, pair, &self.legs_of_both(row, now)?, f64::INFINITY);
        }
        let weather = self.site.weather.iter().position(|weather| weather.name == pair.weather)?;
        let wire = self.site.wires.iter().position(|wire| wire.name == pair.other)?;
        let (motion, now) = self.motion_at(time_s, weather)?;
        let body = motion.bodies.iter().find(|body| body.name == pair.body)?;
        let legs = now.legs(parts_off_structures(motion, body, now.piece)?);
        self.measured(row, &legs, &self.strands(motion, now.piece, wire, weather))
    }

    /// A pair's margin at evenly spaced times, for drawing: `(seconds, meters)`.
    pub fn margins(&self, row: usize, count: usize) -> Vec<(f64, f64)> {
        let end_s = self.end_s();
        (0..=count)
            .map(|i| end_s * i as f64 / count.max(1) as f64)
            .filter_map(|time_s| Some((time_s, self.pair_at(row, time_s)?.margin_m)))
            .collect()
    }

    fn motion_at(&self, time_s: f64, weather: usize) -> Option<(&Motion, Instant)> {
        let (motion, piece, u) = self.instant(time_s, weather)?;
        Some((motion, Instant { piece, u }))
    }

    /// A wire as it hangs in a piece of the plan; empty where that is not known.
    fn strands(&self, motion: &Motion, piece: usize, wire: usize, weather: usize) -> Vec<Strand<'_>> {
        let Some(piece) = motion.pieces.get(piece) else { return Vec::new() };
        let states = self.wires.at_step(piece.step, weather).filter(|state| state.wire == wire);
        states.flat_map(|state| &state.families).map(|placed| Strand::whole(&placed.family)).collect()
    }

    fn legs_of_both(&self, row: usize, now: Instant) -> Option<[Vec<Leg>; 2]> {
        let parts = self.bodies.parts(row, self.motions.as_ref()?, now.piece)?;
        Some(parts.map(|parts| now.legs(parts)))
    }

    fn measured(&self, row: usize, legs: &[Leg], strands: &[Strand]) -> Option<Nearest> {
        let required_m = self.report.gaps.get(row)?.required_m;
        let left = approach::smallest_gap(legs, strands, Measure::GapLessAllowance, TOLERANCE_M, BUDGET);
        let witness = left.witness?;
        let margin_m = left.high_m - required_m;
        // Measure the plain gap of the motion and the curve with the least margin.
        let (leg, strand) = (legs.get(witness.leg)?, strands.get(witness.strand)?);
        let (leg, strand) = (std::slice::from_ref(leg), std::slice::from_ref(strand));
        let gap = approach::smallest_gap(leg, strand, Measure::Gap, TOLERANCE_M, BUDGET);
        let points = gap.witness?;
        Some(Nearest { row, gap_m: gap.high_m, margin_m, on_body: points.on_body, on_other: points.on_wire })
    }
}

/// Two bodies at an instant. A margin above `enough_m` is not measured exactly.
fn between(row: usize, pair: &GapRow, [a, b]: &[Vec<Leg>; 2], enough_m: f64) -> Option<Nearest> {
    let enough_m = enough_m + pair.required_m;
    let left = pair::smallest_gap_up_to(a, b, Measure::GapLessAllowance, TOLERANCE_M, enough_m, BUDGET);
    let witness = left.witness?;
    let (one, other) = (a.get(witness.a)?, b.get(witness.b)?);
    let gap = pair::smallest_gap_between(
        std::slice::from_ref(one),
        std::slice::from_ref(other),
        Measure::Gap,
        TOLERANCE_M,
        BUDGET,
    );
    let points = gap.witness?;
    // Overlap depth is not measured. When the grown bodies overlap, subtract the full allowances.
    let left_m = match left.high_m {
        high_m if high_m > TOLERANCE_M => high_m,
        _ => gap.high_m - one.most_allowance_m() - other.most_allowance_m(),
    };
    let margin_m = left_m - pair.required_m;
    Some(Nearest { row, gap_m: gap.high_m, margin_m, on_body: points.on_a, on_other: points.on_b })
}

/// The parts of a body in a piece; `None` for the pole after its release, when it counts as a structure.
fn parts_off_structures<'a>(motion: &Motion, body: &'a BodyMotion, piece: usize) -> Option<&'a [MovingPart]> {
    let of_pole = body.id.is_of_pole();
    let stands = motion.pieces.get(piece).is_none_or(|piece| piece.load == LoadState::Standing);
    body.parts.get(piece).filter(|_| !(of_pole && stands)).map(|parts| &parts[..])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rehearsal::tests::rehearsal;

    #[test]
    fn no_instant_has_less_margin_than_was_proven() {
        let rehearsal = rehearsal();
        let (mut to_wires, mut to_others) = (0, 0);
        for (row, pair) in rehearsal.report.gaps.iter().enumerate() {
            for (time_s, margin_m) in rehearsal.margins(row, 24) {
                assert!(margin_m >= pair.margin_m - 1e-4, "{} × {} at {time_s} s", pair.body, pair.other);
                *(if pair.other_kind == OtherKind::Wire { &mut to_wires } else { &mut to_others }) += 1;
            }
        }
        assert!(to_wires > 500 && to_others > 500, "{to_wires} {to_others}");
    }

    #[test]
    fn what_is_left_out_at_an_instant_is_farther_than_what_is_told() {
        let rehearsal = rehearsal();
        for i in 0..12 {
            let time_s = rehearsal.end_s() * f64::from(i) / 11.0;
            let told = rehearsal.to_wires(time_s, 0);
            let weather = &rehearsal.site.weather[0].name;
            let mut nearest_body: Option<Nearest> = None;
            for (row, pair) in rehearsal.report.gaps.iter().enumerate() {
                let Some(here) = rehearsal.pair_at(row, time_s) else { continue };
                if pair.other_kind != OtherKind::Wire {
                    if nearest_body.as_ref().is_none_or(|known| here.margin_m < known.margin_m) {
                        nearest_body = Some(here);
                    }
                } else if pair.weather == *weather {
                    let of_wire = told.iter().filter(|told| rehearsal.report.gaps[told.row].other == pair.other);
                    let least = of_wire.map(|told| told.margin_m).fold(f64::INFINITY, f64::min);
                    assert!(here.margin_m >= least - 2e-4, "{} × {}", pair.body, pair.other);
                    assert!(here.margin_m >= 0.0 || told.iter().any(|told| told.row == row));
                }
            }
            let among = rehearsal.among_bodies(time_s);
            match (among, nearest_body) {
                (Some(among), Some(each)) => assert!((among.margin_m - each.margin_m).abs() < 4e-4, "at {time_s} s"),
                (among, each) => assert!(among.is_none() && each.is_none()),
            }
        }
    }

    #[test]
    fn the_points_of_a_pair_are_its_gap_apart() {
        let rehearsal = rehearsal();
        let time_s = 0.6 * rehearsal.end_s();
        let body = rehearsal.among_bodies(time_s).unwrap();
        assert!((body.on_body.distance(body.on_other) - body.gap_m).abs() < 1e-3);
        assert_ne!(rehearsal.report.gaps[body.row].other_kind, OtherKind::Wire);
    }
}
