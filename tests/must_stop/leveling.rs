//! A crane set up across a slope.

use super::{Row, example, passed};
use scene_core::glam::DVec3;
use scene_core::site::ground::Terrain;
use scene_core::site::{Action, Site};

const JUNIPER: &str = include_str!("../../scenes/01_juniper_lane.ron");

/// Ground that rises by so much per meter to the east, through the height at which everything stands.
fn on_slope(site: &mut Site, rise: f64) {
    let (at, base) = (site.crane.at, site.crane.at.z);
    let height = |x: f64| base + (x - at.x) * rise;
    let spot = |x: f64, y: f64| DVec3::new(at.x + x, at.y + y, height(at.x + x));
    let spots = vec![spot(-150.0, -150.0), spot(150.0, -150.0), spot(150.0, 150.0), spot(-150.0, 150.0)];
    site.terrain = Some(Terrain { spots, accuracy_m: 0.01 });
    site.hole.at.z = height(site.hole.at.x);
    for step in &mut site.steps {
        if let Action::Start { butt, tip_toward, .. } = &mut step.action {
            (butt.z, tip_toward.z) = (height(butt.x), height(tip_toward.x));
        }
    }
}

fn blocked(site: &mut Site, blocking_m: f64) {
    if let Some(outriggers) = &mut site.crane.outriggers {
        outriggers.leveling.blocking_m = Some(blocking_m);
    }
}

fn level(site: &mut Site, set_to: f64, chart_limit: f64) {
    if let Some(outriggers) = &mut site.crane.outriggers {
        outriggers.leveling.set_to = Some(set_to);
        outriggers.leveling.chart_limit = Some(chart_limit);
    }
}

/// The pads press as hard as the ground is stated to bear where it is level.
fn borne_if_level(site: &mut Site) {
    let report = scene_core::check::check(site);
    let most_pa = report.floats.iter().map(|row| row.pressure_pa).fold(0.0, f64::max);
    if let Some(outriggers) = &mut site.crane.outriggers {
        outriggers.bearing_pa = most_pa * 1.001;
    }
}

const ACROSS_A_SLOPE: &[Row] = &[
    (
        "a foot of fall across the pads and one 4 in block",
        |s| {
            on_slope(s, 0.05);
            blocked(s, 0.1);
        },
        "float_blocking_short",
    ),
    (
        "the fall runs along the truck",
        |s| {
            on_slope(s, 0.05);
            s.crane.heading += std::f64::consts::FRAC_PI_2;
            blocked(s, 0.1);
        },
        "float_blocking_short",
    ),
    (
        "blocking that would do if the spots were exact",
        |s| {
            on_slope(s, 0.0);
            if let Some(terrain) = &mut s.terrain {
                terrain.accuracy_m = 0.15;
            }
            blocked(s, 0.2);
        },
        "float_blocking_short",
    ),
    ("set 3 percent out of level on a chart that holds to 1", |s| level(s, 0.03, 0.01), "crane_out_of_level"),
    ("set as level as the chart wants, and a little more out", |s| level(s, 0.0101, 0.01), "crane_out_of_level"),
    (
        "ground that bears just enough, on a bank",
        |s| {
            borne_if_level(s);
            on_slope(s, 0.2);
            blocked(s, 3.0);
        },
        "float_bearing_on_slope",
    ),
    (
        "a pad beyond the last spot",
        |s| {
            on_slope(s, 0.0);
            let at = s.crane.at;
            if let Some(terrain) = &mut s.terrain {
                for spot in &mut terrain.spots {
                    // The survey ends a foot east of the slew axis.
                    spot.x = spot.x.min(at.x + 0.3);
                }
            }
        },
        "float_not_surveyed",
    ),
];

#[test]
fn a_crane_set_up_across_a_slope_stops() {
    assert_eq!(passed(&example("01_juniper_lane.ron", JUNIPER), ACROSS_A_SLOPE), []);
}
