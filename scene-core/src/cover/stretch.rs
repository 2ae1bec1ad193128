//! Where cover is, and when.

use super::{adequate, circuits, extent};
use crate::bracket::Bracket;
use crate::rules::Exposure;
use crate::site::{Cover, CoverOn, Site, station};
use std::ops::Range;

/// A saw's width of rounding: no piece is added for less than this, meters.
const ROUNDING_M: f64 = 1e-9;

/// More pieces than a truck holds: a slip of the pen.
const MOST_PIECES: f64 = 1000.0;

/// What is covered, by cover that suffices, for as long as nothing is put on or taken off.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct CoverState {
    /// For each wire of the site the covered stretches: stations, ascending, apart from each other.
    pub wires: Vec<Vec<Bracket>>,
    /// Covered stretches of the pole's shaft, meters from the butt.
    pub pole: Vec<Bracket>,
}

/// How many pieces cover a length, all in meters; `None` where they cannot: no length, a lap as long as the piece, or
/// more pieces than anyone carries.
pub fn pieces(length_m: f64, piece_m: f64, lap_m: f64) -> Option<u32> {
    let gained_m = piece_m - lap_m;
    let usable = length_m.is_finite() && length_m > 0.0 && piece_m.is_finite() && lap_m >= 0.0 && gained_m > 0.0;
    if !usable {
        return None;
    }
    let further = ((length_m - piece_m - ROUNDING_M) / gained_m).ceil().max(0.0);
    (further < MOST_PIECES).then(|| 1 + further as u32)
}

/// More than one piece and no lap: the joints are open.
pub(super) fn open_joints(cover: &Cover) -> bool {
    let count = pieces(extent(cover).width(), cover.piece_length_m, cover.overlap_m);
    count.is_some_and(|count| count > 1) && cover.overlap_m <= 0.0
}

/// Whether a cover is worth anything: pieces that make up its length, closed joints, a class that suffices phase to phase
/// for every circuit it must stand.
fn counts(site: &Site, cover: &Cover) -> bool {
    pieces(extent(cover).width(), cover.piece_length_m, cover.overlap_m).is_some()
        && !open_joints(cover)
        && circuits(site, cover).is_some_and(|circuits| {
            circuits.iter().all(|circuit| adequate(cover.make, circuit, Exposure::PhaseToPhase).is_ok())
        })
}

/// What is covered during the whole of a step.
pub fn stretches(site: &Site, step: usize) -> CoverState {
    let mut state = CoverState { wires: vec![Vec::new(); site.wires.len()], pole: Vec::new() };
    for cover in site.covers.iter().filter(|cover| cover.during.is_in_force(step) && counts(site, cover)) {
        match cover.on {
            CoverOn::Wire { wire, station_m } => {
                if let Some(covered) = state.wires.get_mut(wire) {
                    covered.push(station_m);
                }
            }
            CoverOn::Pole { from_butt_m } => state.pole.extend(on_shaft(site, from_butt_m)),
        }
    }
    for covered in state.wires.iter_mut().chain([&mut state.pole]) {
        *covered = union(covered);
    }
    state
}

fn on_shaft(site: &Site, from_butt_m: Bracket) -> Option<Bracket> {
    Bracket::between(0.0, site.pole.length_m)?.within(from_butt_m)
}

/// The sequence cut where what is covered changes: steps from … to before, and what is covered during them.
pub fn line_states(site: &Site) -> Vec<(Range<usize>, CoverState)> {
    let mut states: Vec<(Range<usize>, CoverState)> = Vec::new();
    for step in 0..site.steps.len() {
        let state = stretches(site, step);
        match states.last_mut() {
            Some((steps, last)) if *last == state => steps.end = step + 1,
            _ => states.push((step..step + 1, state)),
        }
    }
    states
}

/// Stretches that lap are one. Two that only meet stay two: between them is a joint.
pub(super) fn union(stretches: &[Bracket]) -> Vec<Bracket> {
    let mut sorted = stretches.to_vec();
    sorted.sort_by(|a, b| a.low().total_cmp(&b.low()));
    let mut joined: Vec<Bracket> = Vec::new();
    for next in sorted {
        match joined.last_mut() {
            Some(last) if next.low() < last.high() => *last = last.hull(next),
            _ => joined.push(next),
        }
    }
    joined
}

/// What of `run` stays bare, ends included. `covered` as in [`CoverState`]. Where two covers only meet, the joint stays
/// bare as a stretch of no width.
pub fn bare(run: Bracket, covered: &[Bracket]) -> Vec<Bracket> {
    let mut left = Vec::new();
    let mut from = run.low();
    let mut at_start = true;
    for stretch in covered.iter().filter_map(|stretch| stretch.within(run)) {
        let joint = !at_start && stretch.low() == from;
        if stretch.low() > from || joint {
            left.extend(Bracket::between(from, stretch.low()));
        }
        from = from.max(stretch.high());
        at_start = false;
    }
    if from < run.high() || at_start {
        left.extend(Bracket::between(from, run.high()));
    }
    left
}

/// From where to where a wire runs, in stations: horizontal meters along its spans' chords from the point nearest in plan
/// to the hole, positive toward the last support. `None` without spans or with points that are no numbers.
pub fn run_stations(site: &Site, wire: usize) -> Option<Bracket> {
    station::reach(&site.wires.get(wire)?.spans, site.hole.at)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::line::site;
    use crate::site::{Action, CoverMake, During, Method, Step};
    use proptest::prelude::*;

    fn from_to(low: f64, high: f64) -> Bracket {
        Bracket::between(low, high).unwrap()
    }

    fn hose(wire: usize, low: f64, high: f64, on: Option<usize>, off: Option<usize>) -> Cover {
        Cover {
            name: "hose".into(),
            on: CoverOn::Wire { wire, station_m: from_to(low, high) },
            make: CoverMake::Rubber { class: 2 },
            piece_length_m: 1.8,
            overlap_m: 0.1,
            mass_kg: None,
            method: Method::Gloves,
            hands: None,
            during: During { on_after_step: on, off_before_step: off },
        }
    }

    fn holds(site: &mut Site, count: usize) {
        let hold = Step { name: "hold".into(), action: Action::Hold { question: "?".into() }, combined: false };
        site.steps = vec![hold; count];
    }

    #[test]
    fn a_cover_counts_from_the_end_of_the_step_that_puts_it_on_to_the_start_of_the_one_that_takes_it_off() {
        let during = During { on_after_step: Some(2), off_before_step: Some(5) };
        let on: Vec<bool> = (0..7).map(|step| during.is_in_force(step)).collect();
        assert_eq!(on, [false, false, false, true, true, false, false]);
        assert!(During { on_after_step: None, off_before_step: None }.is_in_force(0));
    }

    #[test]
    fn pieces_lap_each_other() {
        assert_eq!(pieces(1.8, 1.8, 0.1), Some(1));
        assert_eq!(pieces(1.81, 1.8, 0.1), Some(2));
        assert_eq!(pieces(3.5, 1.8, 0.1), Some(2));
        assert_eq!(pieces(3.51, 1.8, 0.1), Some(3));
        for (length_m, piece_m, lap_m) in [
            (3.0, 1.8, 1.8),
            (3.0, 1.8, 2.0),
            (0.0, 1.8, 0.1),
            (f64::NAN, 1.8, 0.1),
            (3.0, f64::NAN, 0.1),
            (3.0, 1.8, -0.1),
            (1e9, 1e-9, 0.0),
        ] {
            assert_eq!(pieces(length_m, piece_m, lap_m), None);
        }
    }

    #[test]
    fn covers_that_lap_are_one_and_covers_that_only_meet_leave_a_joint() {
        let mut site = site(12_470.0);
        site.covers = vec![hose(0, -2.0, 1.0, None, None), hose(0, 0.5, 3.0, None, None)];
        assert_eq!(stretches(&site, 0).wires[0], [from_to(-2.0, 3.0)]);
        site.covers = vec![hose(0, -2.0, 1.0, None, None), hose(0, 1.0, 3.0, None, None)];
        let covered = stretches(&site, 0).wires[0].clone();
        assert_eq!(bare(from_to(-60.0, 40.0), &covered), [from_to(-60.0, -2.0), from_to(1.0, 1.0), from_to(3.0, 40.0)]);
    }

    #[test]
    fn cover_of_too_low_a_class_or_with_open_joints_covers_nothing() {
        let mut site = site(24_940.0);
        site.covers = vec![hose(0, -2.0, 2.0, None, None)];
        assert_eq!(stretches(&site, 0).wires[0], []);
        site.covers[0].make = CoverMake::Rubber { class: 3 };
        assert_eq!(stretches(&site, 0).wires[0].len(), 1);
        site.covers[0].overlap_m = 0.0;
        assert_eq!(stretches(&site, 0).wires[0], []);
    }

    #[test]
    fn the_poles_cover_must_stand_the_highest_circuit_and_ends_at_the_tip() {
        let mut site = crate::fixtures::line::with_second_circuit(12_470.0, 34_500.0);
        let mut sleeve = hose(0, 0.0, 1.0, None, None);
        sleeve.on = CoverOn::Pole { from_butt_m: from_to(6.0, 99.0) };
        site.covers = vec![sleeve];
        assert_eq!(stretches(&site, 0).pole, []);
        site.covers[0].make = CoverMake::Rubber { class: 4 };
        assert_eq!(stretches(&site, 0).pole, [from_to(6.0, site.pole.length_m)]);
    }

    #[test]
    fn the_sequence_is_cut_where_cover_changes() {
        let mut site = site(12_470.0);
        holds(&mut site, 6);
        site.covers = vec![hose(0, -2.0, 2.0, Some(0), Some(5)), hose(1, -2.0, 2.0, Some(1), Some(4))];
        let cuts: Vec<Range<usize>> = line_states(&site).into_iter().map(|(steps, _)| steps).collect();
        assert_eq!(cuts, [0..1, 1..2, 2..4, 4..5, 5..6]);
    }

    #[test]
    fn stations_count_from_abeam_the_hole() {
        let mut site = site(12_470.0);
        let run = run_stations(&site, 0).unwrap();
        assert!((run.low() + 60.0).abs() < 1e-12 && (run.high() - 40.0).abs() < 1e-12);
        assert_eq!(run_stations(&site, 99), None);
        site.wires[0].spans.clear();
        assert_eq!(run_stations(&site, 0), None);
        site.hole.at.x = f64::NAN;
        assert_eq!(run_stations(&site, 1), None);
    }

    #[test]
    fn a_run_without_cover_is_bare_from_end_to_end() {
        assert_eq!(bare(from_to(-1.0, 1.0), &[]), [from_to(-1.0, 1.0)]);
        assert_eq!(bare(from_to(-1.0, 1.0), &[from_to(-5.0, 5.0)]), []);
        assert_eq!(bare(from_to(-1.0, 1.0), &[from_to(-1.0, 0.0)]), [from_to(0.0, 1.0)]);
    }

    proptest! {
        #[test]
        fn every_point_is_covered_or_bare(
            ends in proptest::collection::vec((-10.0..10.0f64, 0.0..6.0f64), 0..6), at in -8.0..8.0f64,
        ) {
            let given: Vec<Bracket> = ends.iter().map(|(low, width)| from_to(*low, low + width)).collect();
            let covered = union(&given);
            let left = bare(from_to(-8.0, 8.0), &covered);
            let inside = given.iter().any(|stretch| stretch.contains(at));
            prop_assert_eq!(inside, covered.iter().any(|stretch| stretch.contains(at)));
            prop_assert!(inside || left.iter().any(|stretch| stretch.contains(at)));
            let deep = given.iter().any(|stretch| stretch.low() < at && at < stretch.high());
            prop_assert!(!deep || !left.iter().any(|stretch| stretch.contains(at)));
        }
    }
}
