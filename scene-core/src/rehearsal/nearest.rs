//! The nearest pairs at one instant. Each is a sample of a pair in the report.
//!
//! Boxes exclude distant pairs; only the rest is measured.

use super::Rehearsal;
use crate::approach::{self, GrownBox, Measure, PartMotion, WireArc, pair};
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
    fn part_motions(self, parts: &[MovingPart]) -> Vec<PartMotion> {
        parts.iter().map(|part| PartMotion::frozen(part, self.u)).collect()
    }
}

impl Rehearsal {
    /// For each wire the body with the least margin in this weather case, and every pair with a negative margin.
    pub fn to_wires(&self, time_s: f64, weather: usize) -> Vec<Nearest> {
        let Some((motion, now)) = self.motion_at(time_s, weather) else { return Vec::new() };
        let Some(name) = self.site.weather.get(weather).map(|weather| &weather.name) else { return Vec::new() };
        let bodies: Vec<(&BodyMotion, Vec<PartMotion>)> = motion
            .bodies
            .iter()
            .filter_map(|body| Some((body, now.part_motions(parts_off_structures(motion, body, now.piece)?))))
            .collect();
        let lines: Vec<Vec<WireArc>> =
            (0..self.site.wires.len()).map(|wire| self.arcs(motion, now.piece, wire, weather)).collect();
        let boxes: Vec<GrownBox> =
            bodies.iter().map(|(_, part_motions)| GrownBox::part_motions(part_motions)).collect();
        let mut pairs = Vec::new();
        for (row, pair) in self.report.gaps.iter().enumerate() {
            if pair.other_kind != OtherKind::Wire || pair.weather != *name {
                continue;
            }
            let body = bodies.iter().position(|(body, _)| body.name == pair.body);
            let wire = self.site.wires.iter().position(|wire| wire.name == pair.other);
            let (Some(body), Some(wire)) = (body, wire) else { continue };
            let Some(arcs) = lines.get(wire).filter(|arcs| !arcs.is_empty()) else { continue };
            if let (Some(about), Some((_, part_motions))) = (boxes.get(body), bodies.get(body)) {
                let least_m = about.apart_m(&GrownBox::arcs(arcs)) - pair.required_m;
                pairs.push((least_m, wire, row, part_motions, arcs));
            }
        }
        pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut least_of = vec![f64::INFINITY; lines.len()];
        let mut found: Vec<(usize, Nearest)> = Vec::new();
        for (least_m, wire, row, part_motions, arcs) in pairs {
            let Some(known_m) = least_of.get_mut(wire) else { continue };
            if least_m >= known_m.max(0.0) {
                continue;
            }
            if let Some(nearest) = self.measured(row, part_motions, arcs)
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
        let mut pairs: Vec<(f64, usize, [Vec<PartMotion>; 2])> = Vec::new();
        for row in self.bodies.rows() {
            let (Some(pair), Some(part_motions)) = (self.report.gaps.get(row), self.part_motions_of_both(row, now))
            else {
                continue;
            };
            let least_m = GrownBox::part_motions(&part_motions[0]).apart_m(&GrownBox::part_motions(&part_motions[1]))
                - pair.required_m;
            pairs.push((least_m, row, part_motions));
        }
        pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut nearest: Option<Nearest> = None;
        for (least_m, row, part_motions) in pairs {
            let known_m = nearest.as_ref().map_or(f64::INFINITY, |known| known.margin_m);
            if least_m >= known_m {
                break;
            }
            let found = self.report.gaps.get(row).and_then(|pair| between(row, pair, &part_motions, known_m));
            nearest = found.filter(|found| found.margin_m < known_m).or(nearest);
        }
        nearest
    }

    /// One pair of the report at an instant; `None` when the pair does not meet then.
    pub fn pair_at(&self, row: usize, time_s: f64) -> Option<Nearest> {
        let pair = self.report.gaps.get(row)?;
        if pair.other_kind != OtherKind::Wire {
            let (_, now) = self.motion_at(time_s, 0)?;
            return between(row, pair, &self.part_motions_of_both(row, now)?, f64::INFINITY);
        }
        let weather = self.site.weather.iter().position(|weather| weather.name == pair.weather)?;
        let wire = self.site.wires.iter().position(|wire| wire.name == pair.other)?;
        let (motion, now) = self.motion_at(time_s, weather)?;
        let body = motion.bodies.iter().find(|body| body.name == pair.body)?;
        let part_motions = now.part_motions(parts_off_structures(motion, body, now.piece)?);
        self.measured(row, &part_motions, &self.arcs(motion, now.piece, wire, weather))
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
    fn arcs(&self, motion: &Motion, piece: usize, wire: usize, weather: usize) -> Vec<WireArc<'_>> {
        let Some(piece) = motion.pieces.get(piece) else { return Vec::new() };
        let states = self.wires.at_step(piece.step, weather).filter(|state| state.wire == wire);
        states.flat_map(|state| &state.families).map(|placed| WireArc::whole(&placed.family)).collect()
    }

    fn part_motions_of_both(&self, row: usize, now: Instant) -> Option<[Vec<PartMotion>; 2]> {
        let parts = self.bodies.parts(row, self.motions.as_ref()?, now.piece)?;
        Some(parts.map(|parts| now.part_motions(parts)))
    }

    fn measured(&self, row: usize, part_motions: &[PartMotion], arcs: &[WireArc]) -> Option<Nearest> {
        let required_m = self.report.gaps.get(row)?.required_m;
        let left = approach::smallest_gap(part_motions, arcs, Measure::GapLessAllowance, TOLERANCE_M, BUDGET);
        let witness = left.witness?;
        let margin_m = left.high_m - required_m;
        // Measure the plain gap of the motion and the curve with the least margin.
        let (part_motion, arc) = (part_motions.get(witness.part_motion)?, arcs.get(witness.arc)?);
        let (part_motion, arc) = (std::slice::from_ref(part_motion), std::slice::from_ref(arc));
        let gap = approach::smallest_gap(part_motion, arc, Measure::Gap, TOLERANCE_M, BUDGET);
        let points = gap.witness?;
        Some(Nearest { row, gap_m: gap.high_m, margin_m, on_body: points.on_body, on_other: points.on_wire })
    }
}

/// Two bodies at an instant. A margin above `enough_m` is not measured exactly.
fn between(row: usize, pair: &GapRow, [a, b]: &[Vec<PartMotion>; 2], enough_m: f64) -> Option<Nearest> {
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
