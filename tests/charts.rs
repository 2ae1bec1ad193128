//! Load chart arithmetic against published cases.

use ::fixtures::site as fixtures;
use outside_checks::rows;
use scene_core::bracket::Bracket;
use scene_core::capacity::{Capacity, LoadOnHook, MotionRange, capacity};
use scene_core::chart::{Reach, rated};
use scene_core::finding::Grade;
use scene_core::finding::{LimitKind, OutsideChart};
use scene_core::pole::Mass;
use scene_core::site::*;
use std::f64::consts::TAU;

const FOOT_M: f64 = 0.3048;
const POUND_KG: f64 = 0.453_592_37;

/// A crane whose chart has one cell, with everything else out of the way.
fn site(radius_m: f64, gross_kg: f64, deductions_kg: f64) -> Site {
    let whole = Bracket::between(0.0, TAU).unwrap();
    let boom_length_m = 30.0;
    Site {
        basis: Basis::bare(Route::CraneTable, 0.0),
        rigging: Rigging {
            length_m: 0.0,
            diameter_m: 0.0,
            mass_kg: 0.0,
            choker_capacity_kg: 1e6,
            choke_angle: Some(135f64.to_radians()),
            ..fixtures::rigging()
        },
        crane: Crane {
            boom_length_m: Bracket::exactly(boom_length_m),
            boom_angle: Bracket::exactly(1.0),
            swing: whole,
            block: HookBlock { length_m: 0.0, radius_m: 0.0, mass_kg: 0.0, capacity_kg: 1e6 },
            parts_of_line: 4,
            line_pull_n: 1e7,
            line_kg_per_m: 0.0,
            chart: Chart {
                source: "published case".into(),
                sectors: vec![ChartSector {
                    name: "all round".into(),
                    swing: whole,
                    boom_lengths_m: vec![boom_length_m],
                    radii_m: vec![radius_m],
                    rated_kg: vec![vec![Some(gross_kg)]],
                }],
                deductions_kg,
                floats: None,
            },
            ..fixtures::crane()
        },
        allowances: fixtures::allowances(0.0),
        ..fixtures::site(Vec::new())
    }
}

fn lifting(site: &Site, load_kg: f64, radius_m: f64) -> Capacity {
    let zero = Bracket::exactly(0.0);
    let mass =
        Mass { kg: Bracket::exactly(load_kg), balance_from_butt_m: zero, off_axis_m: [zero, zero], parts: Vec::new() };
    let motion = MotionRange {
        step: 0,
        time_s: 0.0,
        radius_m: Bracket::exactly(radius_m),
        boom_length_m: Bracket::exactly(30.0),
        boom_angle: Bracket::exactly(1.0),
        swing: Bracket::exactly(0.0),
        load: LoadOnHook::Whole,
        hoist_length_m: zero,
    };
    capacity(site, &mass, &[motion])
}

fn over(capacity: &Capacity) -> bool {
    capacity.findings.iter().any(|f| f.grade == Grade::Stop)
}

#[test]
fn the_net_capacity_of_each_published_case_is_the_most_that_may_be_lifted() {
    // source: British Columbia crane safety practice questions; published/chart_arithmetic.csv; status verified
    for row in rows(include_str!("published/chart_arithmetic.csv")) {
        let case = row.text("case");
        let radius_m = case.split(' ').next().unwrap().parse::<f64>().unwrap() * FOOT_M;
        let deductions_lb: f64 = row.text("deductions").split('+').map(|d| d.parse::<f64>().unwrap()).sum();
        let printed = |column: &str| row.number(column).unwrap();
        assert_eq!(deductions_lb, printed("deductions_total"), "{case}");
        let net_kg = printed("net_capacity") * POUND_KG;
        let site = site(radius_m, printed("gross_capacity") * POUND_KG, deductions_lb * POUND_KG);

        let at_net = lifting(&site, net_kg, radius_m);
        let used = &at_net.motions[0];
        assert!(matches!(used.governing().unwrap().limit_kind, LimitKind::Chart { .. }));
        assert!((used.percent().unwrap().high() - 100.0).abs() < 1e-9, "{case}: {:?}", used.percent());
        assert!(over(&lifting(&site, net_kg + 0.1 * POUND_KG, radius_m)), "{case}: a tenth of a pound more is a stop");
        assert!(!over(&lifting(&site, net_kg - 0.1 * POUND_KG, radius_m)), "{case}: a tenth of a pound less is not");
    }
}

#[test]
fn between_listed_values_the_smallest_capacity_of_the_next_ones_holds() {
    // source: US Army TM 5-3810-306-10 and British Columbia crane safety practice questions: where boom length or radius
    // falls between listed values, use the smallest capacity shown at the next larger radius or boom length; status
    // verified (the rule; the chart is made up for it, in ft and lb)
    let chart = Chart {
        source: "made up".into(),
        sectors: vec![ChartSector {
            name: "over the side".into(),
            swing: Bracket::between(0.0, TAU).unwrap(),
            boom_lengths_m: [40.0, 50.0, 60.0].map(|ft| ft * FOOT_M).to_vec(),
            radii_m: [15.0, 20.0, 25.0].map(|ft| ft * FOOT_M).to_vec(),
            rated_kg: [
                [Some(20_000.0), Some(19_000.0), None],
                [Some(14_000.0), Some(14_500.0), Some(13_000.0)],
                [Some(9_000.0), Some(9_600.0), Some(9_200.0)],
            ]
            .map(|row| row.map(|lb| lb.map(|lb: f64| lb * POUND_KG)).to_vec())
            .to_vec(),
        }],
        deductions_kg: 0.0,
        floats: None,
    };
    let pounds = |radius_ft: f64, boom_ft: f64| {
        let reach = Reach {
            radius_m: Bracket::exactly(radius_ft * FOOT_M),
            boom_length_m: Bracket::exactly(boom_ft * FOOT_M),
            swing: Bracket::exactly(1.0),
        };
        rated(&chart, &reach).map(|found| (found.kg.low() / POUND_KG).round())
    };
    assert_eq!(pounds(20.0, 50.0), Ok(14_500.0), "as listed");
    assert_eq!(pounds(20.0, 45.0), Ok(14_000.0), "the shorter boom has the smaller capacity");
    assert_eq!(pounds(20.0, 55.0), Ok(13_000.0), "the longer boom has the smaller capacity");
    assert_eq!(pounds(21.0, 50.0), Ok(9_600.0), "the next larger radius");
    assert_eq!(pounds(21.0, 45.0), Ok(9_000.0), "both");
    assert!(matches!(pounds(25.5, 50.0), Err(OutsideChart::Radius { .. })));
    assert!(matches!(pounds(15.0, 60.0), Err(OutsideChart::Blank { .. })));
    assert!(matches!(pounds(20.0, 65.0), Err(OutsideChart::BoomLength { .. })));
}
