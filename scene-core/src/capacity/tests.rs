use super::*;
use crate::bracket::Bracket;
use crate::finding::{Grade, LimitKind, RuledBy};
use crate::fixtures::site::{self as fixtures, allowance, range as span};
use crate::pole;
use crate::quantity::show::Units;
use crate::report::words;
use crate::site::*;
use glam::{DVec3, dvec3};
use proptest::prelude::*;
use std::f64::consts::TAU;

/// A 750 kg pole on a crane whose chart rates 1600 kg at 8 m and 1200 kg at 10 m of radius.
fn site() -> Site {
    let section = TubeSection { length_m: 16.0, bottom_m: 0.40, top_m: 0.22, wall_m: 0.006, lap_m: 0.0 };
    let shell = Shell::SteelTube { sides: Sides::Twelve, sections: vec![section] };
    let sector = ChartSector {
        name: "all round".into(),
        swing: span(0.0, TAU),
        boom_lengths_m: vec![12.0, 20.0],
        radii_m: vec![4.0, 8.0, 10.0],
        rated_kg: vec![
            vec![Some(4000.0), Some(3000.0)],
            vec![Some(1700.0), Some(1600.0)],
            vec![Some(1300.0), Some(1200.0)],
        ],
    };
    Site {
        basis: Basis::bare(Route::LineWork, 0.0),
        pole: Pole {
            maker: Some(MakerMass { mass_kg: 750.0, balance_from_butt_m: 7.0 }),
            setting_depth_m: 2.2,
            ..fixtures::pole(16.0, shell)
        },
        hole: Hole { at: DVec3::ZERO, facing: 0.0, depth_m: 2.2, diameter_m: 0.6 },
        rigging: Rigging {
            choker_from_butt_m: 9.0,
            mass_kg: 10.0,
            choker_capacity_kg: 2000.0,
            choke_angle: Some(135f64.to_radians()),
            material: RiggingMaterial::NonConductive,
            ..fixtures::rigging()
        },
        crane: Crane {
            at: dvec3(-8.0, 0.0, 0.0),
            heading: 0.0,
            boom_length_m: span(12.0, 20.0),
            boom_angle: span(0.0, 1.4),
            swing: span(0.0, TAU),
            block: HookBlock { mass_kg: 150.0, capacity_kg: 9000.0, ..fixtures::crane().block },
            chart: Chart { source: "invented".into(), sectors: vec![sector], deductions_kg: 50.0, floats: None },
            ..fixtures::crane()
        },
        allowances: fixtures::allowances(0.0),
        ..fixtures::site(vec![fixtures::step("Swing over the hole", Action::TakeLoad)])
    }
}

fn motion(radius_m: f64, load: LoadOnHook) -> MotionRange {
    MotionRange {
        step: 0,
        time_s: 3.0,
        radius_m: Bracket::exactly(radius_m),
        boom_length_m: Bracket::exactly(20.0),
        boom_angle: Bracket::exactly(1.0),
        swing: Bracket::exactly(1.0),
        load,
        hoist_length_m: Bracket::exactly(10.0),
    }
}

fn over(site: &Site, motions: &[MotionRange]) -> Capacity {
    capacity(site, &pole::mass(&site.pole, &[]).unwrap(), motions)
}

fn stops_and_cautions(capacity: &Capacity) -> Vec<(Grade, &'static str)> {
    capacity.findings.iter().filter(|f| f.grade > Grade::Note).map(|f| (f.grade, f.code())).collect()
}

#[test]
fn all_that_hangs_counts_against_the_chart() {
    let capacity = over(&site(), &[motion(8.0, LoadOnHook::Whole)]);
    let used = &capacity.motions[0];
    let ruling = used.governing().unwrap();
    // 750 pole + 10 rigging + 150 block + 2 parts of 10 m line + 50 stowed.
    assert!((ruling.load_kg.high() - 980.0).abs() < 1e-6);
    assert_eq!(ruling.rated_kg.low(), 1600.0);
    assert!((used.percent().unwrap().high() - 61.25).abs() < 1e-6);
    let cell = LimitKind::Chart { sector: "all round".into(), radius_m: 8.0, boom_m: 20.0 };
    assert_eq!(used.ruled_by(), Some(RuledBy::Limit(cell)));
    let said = words::ruled_by(used.ruled_by().as_ref(), Units::Both);
    assert_eq!(said, "load chart, all round, row 26 ft 3 in (8.00 m), boom 65 ft 7½ in (20.00 m)");
    assert_eq!(stops_and_cautions(&capacity), []);
}

#[test]
fn the_whole_pole_counts_with_its_butt_on_the_ground() {
    let percent = |load| over(&site(), &[motion(8.0, load)]).motions[0].percent().unwrap().high();
    assert_eq!(percent(LoadOnHook::ButtGrounded), percent(LoadOnHook::Whole));
    assert!((percent(LoadOnHook::None) - 100.0 * 230.0 / 1600.0).abs() < 1e-6);
}

#[test]
fn the_radius_grows_under_load_before_the_chart_is_read() {
    let mut grown = site();
    grown.allowances.radius_growth = allowance(0.3);
    let used = over(&grown, &[motion(8.0, LoadOnHook::Whole)]);
    assert_eq!(used.motions[0].governing().unwrap().rated_kg.low(), 1200.0);
    assert_eq!(used.motions[0].radius_m, span(8.0, 8.3));
    let mut misplaced = site();
    misplaced.allowances.placing = allowance(0.3);
    assert_eq!(over(&misplaced, &[motion(8.0, LoadOnHook::Whole)]).motions[0].radius_m, span(8.0, 8.3));
}

#[test]
fn above_three_quarters_of_the_chart_is_a_caution_and_above_the_chart_a_stop() {
    assert_eq!(
        stops_and_cautions(&over(&site(), &[motion(10.0, LoadOnHook::Whole)])),
        [(Grade::Caution, "near_rated_capacity")]
    );
    let mut heavy = site();
    heavy.crane.chart.deductions_kg = 271.0;
    let capacity = over(&heavy, &[motion(10.0, LoadOnHook::Whole)]);
    assert_eq!(stops_and_cautions(&capacity), [(Grade::Stop, "over_rated_capacity")]);
    let finding = &capacity.findings[0];
    assert_eq!((finding.step, finding.time_s, finding.limit.map(|l| l.value)), (Some(0), Some(3.0), Some(100.0)));
    assert!(finding.measured.is_some_and(|v| v.value > 100.0));
    assert!(words::message(finding, Units::Both).starts_with("Swing over the hole"));
}

#[test]
fn a_motion_off_the_chart_is_a_stop_and_has_no_percentage() {
    for radius_m in [10.5, 3.0] {
        let capacity = over(&site(), &[motion(radius_m, LoadOnHook::Whole)]);
        assert_eq!(stops_and_cautions(&capacity), [(Grade::Stop, "outside_chart")]);
        assert_eq!(capacity.motions[0].percent(), None);
    }
}

#[test]
fn the_least_of_chart_line_block_and_sling_rules() {
    let ruled = |change: fn(&mut Site)| {
        let mut site = site();
        change(&mut site);
        let capacity = over(&site, &[motion(4.0, LoadOnHook::Whole)]);
        (capacity.motions[0].governing().unwrap().limit_kind.clone(), stops_and_cautions(&capacity))
    };
    let stop = vec![(Grade::Stop, "over_rated_capacity")];
    let (limit_kind, found) = ruled(|s| s.crane.line_pull_n = 4000.0);
    assert_eq!((limit_kind, found), (LimitKind::LinePull, vec![stop[0], (Grade::Caution, "line_pull_ideal")]));
    assert_eq!(ruled(|s| s.crane.block.capacity_kg = 700.0), (LimitKind::HookBlock, stop.clone()));
    assert_eq!(ruled(|s| s.rigging.choker_capacity_kg = 700.0), (LimitKind::Sling, stop.clone()));
    // 1000 kg rated, choked at 60 to 89 degrees: 740 kg for a pole of 750 kg.
    let tight = |s: &mut Site| {
        s.rigging.choker_capacity_kg = 1000.0;
        s.rigging.choke_angle = Some(70f64.to_radians());
    };
    assert_eq!(ruled(tight), (LimitKind::Sling, stop));
}

#[test]
fn what_is_missing_is_a_stop_never_a_pass() {
    let changes: [fn(&mut Site); 6] = [
        |s| s.crane.parts_of_line = 0,
        |s| s.crane.line_pull_n = f64::NAN,
        |s| s.crane.block.capacity_kg = 0.0,
        |s| s.rigging.choke_angle = Some(-0.1),
        |s| s.allowances.radius_growth = allowance(-1.0),
        |s| s.crane.chart.deductions_kg = f64::INFINITY,
    ];
    for change in changes {
        let mut site = site();
        change(&mut site);
        let capacity = over(&site, &[motion(8.0, LoadOnHook::Whole)]);
        assert_eq!(stops_and_cautions(&capacity), [(Grade::Stop, "capacity_unknown")]);
        assert!(capacity.motions.is_empty());
    }
    assert_eq!(stops_and_cautions(&over(&site(), &[])), [(Grade::Stop, "capacity_unknown")]);
}

#[test]
fn a_boom_beyond_its_stops_is_a_stop() {
    let mut site = site();
    site.crane.swing = span(-2.0, 2.0);
    let codes = |change: fn(&mut MotionRange)| {
        let mut motion = motion(8.0, LoadOnHook::Whole);
        change(&mut motion);
        stops_and_cautions(&over(&site, &[motion])).iter().map(|f| f.1).collect::<Vec<_>>()
    };
    assert_eq!(codes(|m| m.boom_angle = span(1.0, 1.45)), ["boom_angle_outside"]);
    assert_eq!(codes(|m| m.boom_angle = span(-0.1, 1.0)), ["boom_angle_outside"]);
    assert_eq!(codes(|m| m.boom_length_m = span(19.0, 20.0)), [""; 0]);
    assert_eq!(codes(|m| m.boom_length_m = span(19.0, 20.5)), ["outside_chart", "boom_length_outside"]);
    assert_eq!(codes(|m| m.swing = span(1.0, 2.5)), ["swing_outside"]);
    assert_eq!(codes(|m| m.swing = span(TAU - 1.0, TAU + 1.0)), [""; 0]);
}

#[test]
fn a_step_tells_its_worst_moment_once() {
    let mut heavy = site();
    heavy.crane.chart.deductions_kg = 400.0;
    let motions = [9.0, 10.0, 9.5].map(|r| MotionRange { time_s: r, ..motion(r, LoadOnHook::Whole) });
    let capacity = over(&heavy, &motions);
    assert_eq!(capacity.motions.len(), 3);
    let stops: Vec<_> = capacity.findings.iter().filter(|f| f.grade == Grade::Stop).collect();
    assert_eq!(stops.len(), 1);
}

#[test]
fn a_cell_rated_at_nothing_is_a_stop() {
    let mut site = site();
    site.crane.chart.sectors[0].rated_kg[1][1] = Some(0.0);
    assert_eq!(
        stops_and_cautions(&over(&site, &[motion(8.0, LoadOnHook::None)])),
        [(Grade::Stop, "over_rated_capacity")]
    );
}

proptest! {
    #[test]
    fn a_wider_motion_never_uses_less(r in 4.0..9.0f64, dr in 0.0..1.0f64, by in 0.0..0.5f64, l in 12.0..19.0f64) {
        let narrow = MotionRange { radius_m: span(r, r + dr), boom_length_m: Bracket::exactly(l), ..motion(r, LoadOnHook::Whole) };
        let wide = MotionRange { radius_m: span(r, r + dr + by), ..narrow };
        let capacity = over(&site(), &[narrow, wide]);
        if let (Some(narrow), Some(wide)) = (capacity.motions[0].percent(), capacity.motions[1].percent()) {
            prop_assert!(wide.high() >= narrow.high() && wide.low() <= narrow.low() + 1e-9);
        } else {
            prop_assert!(capacity.motions[1].outside.is_some());
        }
    }

    #[test]
    fn no_range_makes_it_panic(v in prop::array::uniform10(any::<f64>()), load in 0..3usize) {
        let load = [LoadOnHook::None, LoadOnHook::ButtGrounded, LoadOnHook::Whole][load];
        let any = |i: usize| Bracket::exactly(v[i]).hull(Bracket::exactly(v[i + 1]));
        let motion = MotionRange {
            step: 7, time_s: v[0], radius_m: any(1), boom_length_m: any(3), boom_angle: any(5), swing: any(6), load, hoist_length_m: any(8),
        };
        let mut wild = site();
        wild.allowances.radius_growth.value = v[9];
        for site in [wild, site()] {
            let capacity = over(&site, &[motion]);
            prop_assert!(capacity.motions.iter().all(|m| m.outside.is_none() || m.percent().is_none()));
        }
    }
}
