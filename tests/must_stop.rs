//! What must stop: scenes that a careless or clever person would write to get a pass, in the words of the trade.
//!
//! Each row starts from an example scene and changes what the row names. The check must find a stop with the row's code.
//! Before the change, the example must not have that code: so a row cannot pass by accident.

#[path = "must_stop/answers.rs"]
mod answers;
#[path = "must_stop/answers_by_route.rs"]
mod answers_by_route;
#[path = "must_stop/bodies.rs"]
mod bodies;
#[path = "must_stop/carriers.rs"]
mod carriers;
#[path = "must_stop/holders.rs"]
mod holders;
#[path = "must_stop/leveling.rs"]
mod leveling;
#[path = "must_stop/people.rs"]
mod people;
#[path = "must_stop/reach.rs"]
mod reach;
#[path = "must_stop/wires.rs"]
mod wires;

use scene_core::bracket::Bracket;
use scene_core::check::check;
use scene_core::finding::Grade;
use scene_core::glam::DVec3;
use scene_core::scene;
use scene_core::site::{Action, Hang, Site};

#[path = "must_stop/stated.rs"]
mod stated;

/// One thing that must stop: what is wrong, how the facts change, and the code of the stop.
type Row = (&'static str, fn(&mut Site), &'static str);

const SORREL: &str = include_str!("../scenes/03_sorrel_flat.ron");
const FOOT_M: f64 = 0.3048;

fn example(name: &str, text: &str) -> Site {
    scene::read(name, text).and_then(|scene| scene.site()).expect("the example reads")
}

fn sorrel_flat() -> Site {
    example("03_sorrel_flat.ron", SORREL)
}

/// Sets the sag of every span of a wire, from … to in meters.
fn sag(site: &mut Site, wire: usize, low_m: f64, high_m: f64) {
    for span in &mut site.wires[wire].spans {
        span.hang = Hang::Sag { sag_m: Bracket::between(low_m, high_m).expect("both are numbers") };
    }
}

/// Sets the horizontal tension of every span of a wire, from … to in newtons.
fn tension(site: &mut Site, wire: usize, low_n: f64, high_n: f64) {
    for span in &mut site.wires[wire].spans {
        span.hang = Hang::Tension { tension_n: Bracket::between(low_n, high_n).expect("both are numbers") };
    }
}

/// Changes both ends of every span of a wire.
fn move_ends(site: &mut Site, wire: usize, to: impl Fn(DVec3) -> DVec3) {
    for span in &mut site.wires[wire].spans {
        (span.from, span.to) = (to(span.from), to(span.to));
    }
}

fn start(site: &mut Site, change: impl Fn(&mut DVec3, &mut DVec3)) {
    for step in &mut site.steps {
        if let Action::Start { butt, tip_toward, .. } = &mut step.action {
            change(butt, tip_toward);
        }
    }
}

const FACTS_THAT_CANNOT_BE: &[Row] = &[
    (
        "a sag measured in feet and typed in inches",
        |s| sag(s, 0, 3.0 * FOOT_M / 12.0, 3.5 * FOOT_M / 12.0),
        "wire_over_strength",
    ),
    ("a sag of feet typed as millimeters", |s| sag(s, 0, 0.003, 0.004), "wire_over_strength"),
    ("a tension in pounds typed as kilonewtons", |s| tension(s, 0, 400_000.0, 400_000.0), "wire_over_strength"),
    ("a sag whose upper end alone is sound", |s| sag(s, 0, 0.003, 1.0), "wire_over_strength"),
    ("a tension without an upper end", |s| tension(s, 0, 20_000.0, f64::MAX), "wire_over_strength"),
    ("a tension that is no more than a placeholder", |s| tension(s, 0, f64::MAX, f64::MAX), "wire_over_strength"),
    ("the far phase without an upper tension", |s| tension(s, 1, 20_000.0, f64::MAX), "wire_over_strength"),
    ("heights in feet typed in inches", |s| move_ends(s, 0, |p| DVec3::new(p.x, p.y, p.z / 12.0)), "wire_below_ground"),
    (
        "a sag in inches typed in feet, so that the wire lies on the road",
        |s| sag(s, 0, 30.0, 36.0),
        "wire_below_ground",
    ),
    (
        "heights counted from the attachment down",
        |s| move_ends(s, 0, |p| DVec3::new(p.x, p.y, -p.z)),
        "wire_below_ground",
    ),
    (
        "a hole on top of the wires",
        |s| {
            s.hole.at.z = 15.0;
            s.crane.at.z = 15.0;
        },
        "wire_below_ground",
    ),
    (
        "two phases typed in one place",
        |s| {
            for span in 0..s.wires[0].spans.len() {
                let first = s.wires[0].spans[span].clone();
                s.wires[1].spans[span] = first;
            }
        },
        "wires_in_one_place",
    ),
    (
        "a phase typed over another from its far end",
        |s| {
            for span in 0..s.wires[0].spans.len() {
                let mut first = s.wires[0].spans[span].clone();
                (first.from, first.to) = (first.to, first.from);
                s.wires[1].spans[span] = first;
            }
        },
        "wires_in_one_place",
    ),
    (
        "two phases an inch apart",
        |s| {
            for span in 0..s.wires[0].spans.len() {
                let mut first = s.wires[0].spans[span].clone();
                first.from.y += 0.0254;
                first.to.y += 0.0254;
                s.wires[1].spans[span] = first;
            }
        },
        "wires_in_one_place",
    ),
    ("a hole far beyond the last pole of the line", |s| s.hole.at.x += 2000.0, "nothing_abeam"),
    ("a hole far before the first pole of the line", |s| s.hole.at.x -= 2000.0, "nothing_abeam"),
    (
        "a line whose every wire ends before the hole",
        |s| (0..s.wires.len()).for_each(|wire| move_ends(s, wire, |p| p + DVec3::X * 1500.0)),
        "nothing_abeam",
    ),
    ("a crane ten feet up in the air", |s| s.crane.at.z += 10.0 * FOOT_M, "off_level_ground"),
    ("a crane four feet under grade", |s| s.crane.at.z -= 4.0 * FOOT_M, "off_level_ground"),
    (
        "a pole that lies five feet in the air",
        |s| start(s, |butt, tip| (butt.z, tip.z) = (1.5, 1.5)),
        "off_level_ground",
    ),
    ("a pole that lies under grade", |s| start(s, |butt, tip| (butt.z, tip.z) = (-1.0, -1.0)), "off_level_ground"),
    ("a crane whose elevation is not a number", |s| s.crane.at.z = f64::NAN, "off_level_ground"),
];

fn has_stop(site: &Site, code: &str) -> bool {
    check(site).findings.iter().any(|finding| finding.grade == Grade::Stop && finding.code() == code)
}

/// The rows of a table that do not stop.
fn passed(example: &Site, rows: &[Row]) -> Vec<(&'static str, &'static str)> {
    let passes = |(what, change, code): &Row| {
        let mut site = example.clone();
        assert!(!has_stop(&site, code), "the example itself has {code}");
        change(&mut site);
        (!has_stop(&site, code)).then_some((*what, *code))
    };
    rows.iter().filter_map(passes).collect()
}

#[test]
fn facts_that_cannot_be_stop() {
    let passed = passed(&sorrel_flat(), FACTS_THAT_CANNOT_BE);
    assert!(passed.is_empty(), "these should have stopped: {passed:#?}");
}
