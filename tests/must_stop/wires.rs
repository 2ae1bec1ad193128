//! A phase that the crew moves too near to another wire.

use super::{FOOT_M, Row, example, passed};
use scene_core::bracket::Bracket;
use scene_core::site::{CoverMake, CoverOn, Site};

const JUNIPER: &str = include_str!("../../scenes/01_juniper_lane.ron");

/// Holds B at this distance beside C, over all of whose run nothing is covered.
fn beside_c(site: &mut Site, apart_m: f64) {
    let c = site.held_out[2].to;
    site.held_out[1].to = c - scene_core::glam::DVec3::Y * apart_m;
}

/// Covers both from end to end.
fn cover_both(site: &mut Site) {
    for cover in &mut site.covers {
        if let CoverOn::Wire { station_m, .. } = &mut cover.on {
            *station_m = Bracket::between(-150.0 * FOOT_M, 150.0 * FOOT_M).expect("in order");
        }
    }
}

const WIRES_THAT_MEET: &[Row] = &[
    ("a phase held against its neighbor", |s| beside_c(s, 0.02), "wires_may_meet"),
    (
        "a phase within the electrical part of the distance, with no residual gap asked for",
        |s| {
            s.basis.residual_gap_m = 0.01;
            s.covers.clear();
            beside_c(s, 0.17);
        },
        "wires_may_meet",
    ),
    (
        "wires that move more than the gap between them",
        |s| {
            s.allowances.line_movement.value = 0.25;
            beside_c(s, 0.5);
        },
        "wires_may_meet",
    ),
    ("covers that end short of where the wires come together", |s| beside_c(s, 0.2), "wires_may_meet"),
    (
        "one of the two wires left bare",
        |s| {
            cover_both(s);
            s.covers.retain(|cover| cover.name != "hose on C");
            beside_c(s, 0.2);
        },
        "wires_may_meet",
    ),
    (
        "hose of a class that does not stand the voltage",
        |s| {
            cover_both(s);
            for cover in &mut s.covers {
                cover.make = CoverMake::Rubber { class: 0 };
            }
            beside_c(s, 0.2);
        },
        "wires_may_meet",
    ),
    (
        "two covered phases held into each other",
        |s| {
            cover_both(s);
            beside_c(s, 0.05);
        },
        "wires_may_meet",
    ),
];

#[test]
fn wires_that_may_meet_stop() {
    let passed = passed(&example("01_juniper_lane.ron", JUNIPER), WIRES_THAT_MEET);
    assert!(passed.is_empty(), "these should have stopped: {passed:#?}");
}
