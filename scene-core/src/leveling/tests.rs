use super::*;
use crate::fixtures::site::site as example;
use crate::site::ground::Terrain;
use crate::site::{Leveling, Outriggers};

/// Floats 3 m from the axis, mats 1 m square.
fn outriggers(leveling: Leveling) -> Outriggers {
    Outriggers {
        front_m: 3.0,
        rear_m: 3.0,
        left_m: 3.0,
        right_m: 3.0,
        carrier_kg: 20_000.0,
        carrier_ahead_m: 0.0,
        upper_kg: 10_000.0,
        upper_behind_m: 0.0,
        boom_kg: 1000.0,
        boom_centre_m: [5.0, 10.0],
        mat_long_m: 1.0,
        mat_wide_m: 1.0,
        bearing_pa: 100_000.0,
        source: String::new(),
        leveling,
    }
}

/// The crane heads east at the origin; the ground rises by `slope` to the north.
fn on_slope(slope: f64, accuracy_m: f64, leveling: Leveling) -> Site {
    let mut site = example(vec![]);
    (site.crane.at, site.crane.heading) = (DVec3::ZERO, 0.0);
    site.crane.outriggers = Some(outriggers(leveling));
    let spot = |x: f64, y: f64| DVec3::new(x, y, y * slope);
    let spots = vec![spot(-50.0, -50.0), spot(50.0, -50.0), spot(50.0, 50.0), spot(-50.0, 50.0)];
    site.terrain = Some(Terrain { spots, accuracy_m });
    site
}

fn float(name: &'static str, pressure_pa: f64) -> Float {
    Float { name, most_n: pressure_pa, step: 1, time_s: 2.0, pressure_pa }
}

fn codes(site: &Site, floats: &[Float]) -> Vec<&'static str> {
    let ground = Ground::of(site).unwrap();
    findings(site, &ground, floats).iter().map(|finding| finding.code()).collect()
}

/// 4 percent over 6 m of spread is 24 cm under the two right-hand pads, by hand.
#[test]
fn the_low_side_needs_what_the_ground_falls() {
    let site = on_slope(0.04, 0.01, Leveling::default());
    let pads = pads(&site, &Ground::of(&site).unwrap()).unwrap();
    for pad in &pads {
        let fall_m = if pad.name.ends_with("right") { 0.24 } else { 0.0 };
        assert!(pad.blocking_m.widened(1e-6).contains(fall_m), "{pad:?}");
        assert!(pad.blocking_m.high() <= fall_m + 0.02 + 1e-5, "{pad:?}");
        assert!(pad.slope >= 0.04 && pad.slope < 0.05, "{pad:?}");
    }
    assert!(pads[1].at.distance(DVec2::new(3.0, -3.0)) < 1e-12, "front right of a crane that heads east");
}

#[test]
fn blocking_that_is_not_there_is_a_stop_and_one_not_stated_a_caution() {
    let with = |blocking_m| Leveling { blocking_m, ..Leveling::default() };
    assert_eq!(codes(&on_slope(0.04, 0.01, with(None)), &[]), ["float_blocking_not_stated"]);
    assert_eq!(codes(&on_slope(0.04, 0.01, with(Some(0.2))), &[]), ["float_blocking_short"; 2]);
    assert_eq!(codes(&on_slope(0.04, 0.01, with(Some(0.3))), &[]), Vec::<&str>::new());
    // What the accuracy leaves open counts as needed.
    assert_eq!(codes(&on_slope(0.04, 0.05, with(Some(0.3))), &[]), ["float_blocking_short"; 2]);
    // Ground that is level to what a chart usually allows asks for nothing.
    assert_eq!(codes(&on_slope(0.005, 0.01, with(None)), &[]), Vec::<&str>::new());
}

#[test]
fn a_crane_set_less_level_than_its_chart_wants_is_a_stop() {
    let with = |set_to, chart_limit| on_slope(0.0, 0.01, Leveling { set_to, chart_limit, blocking_m: None });
    assert_eq!(codes(&with(Some(0.02), Some(0.01)), &[]), ["crane_out_of_level"]);
    assert_eq!(codes(&with(Some(0.005), Some(0.01)), &[]), Vec::<&str>::new());
    assert_eq!(codes(&with(Some(0.005), None), &[]), ["chart_level_limit_not_stated"]);
    assert_eq!(codes(&with(None, Some(0.01)), &[]), ["crane_level_not_stated"]);
}

/// 20 percent is 11.31 degrees: the share is (1 - 11.31/90)^2 = 0.7644, by hand.
#[test]
fn ground_on_a_slope_bears_less() {
    assert!((slope_share(0.2) - 0.7644).abs() < 1e-4);
    assert_eq!((slope_share(0.0), slope_share(f64::NAN)), (1.0, 0.0));
    let site = on_slope(0.2, 0.01, Leveling { blocking_m: Some(2.0), ..Leveling::default() });
    let floats = |pressure_pa| NAMES.map(|name| float(name, pressure_pa));
    assert_eq!(codes(&site, &floats(70_000.0)), Vec::<&str>::new());
    assert_eq!(codes(&site, &floats(80_000.0)), ["float_bearing_on_slope"; 4]);
    // More than level ground bears is the floats' own stop.
    assert_eq!(codes(&site, &floats(110_000.0)), Vec::<&str>::new());
}

#[test]
fn a_pad_off_the_survey_is_a_stop() {
    let mut site = on_slope(0.0, 0.01, Leveling::default());
    site.crane.at.x = 48.0;
    assert_eq!(codes(&site, &[]), ["float_not_surveyed"; 2]);
    // A mat whose corner leaves it, too.
    site.crane.at.x = 46.5;
    assert_eq!(codes(&site, &[]), ["float_not_surveyed"; 2]);
}

#[test]
fn flat_ground_and_a_crane_without_outriggers_have_nothing_to_say() {
    let mut site = on_slope(0.04, 0.01, Leveling::default());
    site.terrain = None;
    assert_eq!(codes(&site, &[]), Vec::<&str>::new());
    site.crane.outriggers = None;
    assert_eq!(codes(&site, &[]), Vec::<&str>::new());
}
