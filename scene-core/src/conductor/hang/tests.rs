use super::super::state::{HoldState, hold_state_at_step};
use super::*;
use crate::bracket::Bracket;
use crate::finding::Grade;
use crate::fixtures::{self, site::step};
use crate::site::*;
use glam::DVec3;
use proptest::prelude::*;

/// Three wires of two spans along x, 45 m and 40 m, the hole abeam 25 m along; the middle one is held out from step 1
/// to step 4.
fn site() -> Site {
    let conductor = Conductor {
        name: "Raven".into(),
        diameter_m: 0.0101,
        weight_n_per_m: 2.12,
        rated_strength_n: Some(19_500.0),
        stiffness_n: Some(4.9e6),
        ..fixtures::line::conductor()
    };
    let wire = |name: &str, y: f64, kind| {
        let at = |x: f64, z: f64| DVec3::new(x, y, z);
        let hang = Hang::Sag { sag_m: Bracket::between(0.6, 0.65).unwrap() };
        let spans = vec![
            Span { from: at(0.0, 10.0), to: at(45.0, 10.5), hang },
            Span { from: at(45.0, 10.5), to: at(85.0, 10.0), hang },
        ];
        Wire {
            name: name.into(),
            kind,
            conductor: conductor.clone(),
            spans,
            attached: vec![],
            measured: WireMeasured::default(),
        }
    };
    let work = || Action::Work { minutes: 10.0 };
    Site {
        name: "three wires".into(),
        altitude_m: 0.0,
        wires: vec![
            wire("north", 1.2, WireKind::Phase { circuit: 0 }),
            wire("middle", 0.0, WireKind::Phase { circuit: 0 }),
            wire("south", -1.2, WireKind::Phase { circuit: 0 }),
        ],
        weather: vec![
            Weather { name: "still".into(), wind_m_s: 0.0 },
            Weather { name: "breeze".into(), wind_m_s: 8.0 },
        ],
        held_out: vec![HeldOut {
            name: "middle held north".into(),
            wire: 1,
            span: 0,
            fraction: 0.5,
            to: DVec3::new(22.5, 0.5, 9.65),
            holder: None,
            holder_rating_n: Some(2_000.0),
            during: During { on_after_step: Some(1), off_before_step: Some(4) },
        }],
        hole: Hole { at: DVec3::new(25.0, 3.0, 0.0), facing: 0.0, depth_m: 2.0, diameter_m: 0.6 },
        ..fixtures::site::site(["a", "spread", "c", "d", "back", "f"].map(|name| step(name, work())).to_vec())
    }
}

fn state(wires: &Wires, step: usize, wire: usize, weather: usize) -> &WireState {
    let mut at = wires.at_step(step, weather).filter(|state| state.wire == wire);
    let found = at.next().unwrap();
    assert!(at.next().is_none(), "one state per wire, weather and step");
    found
}

#[test]
fn a_phase_is_held_from_the_end_of_one_step_to_the_start_of_another_and_between_places_during_both() {
    let site = site();
    let wires = hang(&site);
    let place = |step| state(&wires, step, 1, 0).hold_states[0].1;
    let expected = [
        HoldState::Natural,
        HoldState::BeingPlaced,
        HoldState::Held,
        HoldState::Held,
        HoldState::BeingPlaced,
        HoldState::Natural,
    ];
    assert_eq!([0, 1, 2, 3, 4, 5].map(place), expected);
    // By itself two spans; held two parts and a span.
    assert_eq!(state(&wires, 0, 1, 0).families.len(), 2);
    assert_eq!(state(&wires, 2, 1, 0).families.len(), 3);
    assert!(state(&wires, 1, 1, 0).families.len() > 3);
    assert_eq!(state(&wires, 2, 0, 1).families.len(), 2);
    assert!(wires.findings.is_empty(), "{:?}", wires.findings);
}

#[test]
fn before_the_first_step_and_never_off_mean_what_they_say() {
    let mut held = site().held_out.remove(0);
    held.during = During { on_after_step: None, off_before_step: Some(2) };
    assert_eq!(
        [0, 1, 2, 3].map(|step| hold_state_at_step(&held, step)),
        [HoldState::Held, HoldState::Held, HoldState::BeingPlaced, HoldState::Natural]
    );
    held.during = During { on_after_step: Some(0), off_before_step: None };
    assert_eq!([0, 1].map(|step| hold_state_at_step(&held, step)), [HoldState::BeingPlaced, HoldState::Held]);
}

#[test]
fn stations_count_along_the_line_from_the_point_abeam_the_hole() {
    let site = site();
    let wires = hang(&site);
    let natural = state(&wires, 0, 1, 0);
    assert_eq!(natural.families[0].station_m, [-25.0, 20.0]);
    assert_eq!(natural.families[1].station_m, [20.0, 60.0]);
    let held = state(&wires, 2, 1, 0);
    assert_eq!(held.families[0].station_m, [-25.0, -2.5]);
    assert_eq!(held.families[1].station_m, [-2.5, 20.0]);
    // Half a meter aside in half a span: the wire is centimeters from its station, not decimetres.
    assert!(held.families[0].station_error_m < 0.05, "{}", held.families[0].station_error_m);
}

#[test]
fn the_summary_is_what_was_measured() {
    let site = site();
    let wires = hang(&site);
    let summary = state(&wires, 0, 0, 0).families[0].summary.unwrap();
    assert_eq!(summary.span_m, 45.0);
    assert!((summary.sag_m.low() - 0.6).abs() < 1e-9 && (summary.sag_m.high() - 0.65).abs() < 1e-9);
    // w·L²/(8·sag), level to half a meter.
    let tension = summary.horizontal_tension_n.unwrap();
    assert!((tension.high() - 2.12 * 45.0 * 45.0 / 8.0 / 0.6).abs() < 2.0, "{tension:?}");
    assert!(summary.lowest_point.z < 10.0 + 0.25 - 0.6 && summary.lowest_point.x < 22.5);
    // In wind the same wire may pull harder and sag deeper along its tilted plane.
    let windy = state(&wires, 0, 0, 1).families[0].summary.unwrap();
    assert!(windy.horizontal_tension_n.unwrap().high() > tension.high() && windy.sag_m.high() > 0.65);
}

#[test]
fn a_phase_held_toward_its_neighbour_comes_nearer_to_it_than_to_the_other() {
    let site = site();
    let wires = hang(&site);
    let spacing = |other, place| {
        let mut found = (wires.spacings.iter())
            .filter(|row| row.wire == 1 && row.other == other && row.weather == 0 && row.place == place);
        found.next().unwrap()
    };
    let north = spacing(0, HoldState::Held);
    assert!(north.high_m < 0.7 && north.low_m > 0.6, "{north:?}");
    assert_eq!(north.steps, [2, 3]);
    let south = spacing(2, HoldState::Held);
    // At the supports all wires are as far apart as ever.
    assert!((south.high_m - 1.19).abs() < 0.01 && south.low_m <= 1.19, "{south:?}");
    assert!(spacing(0, HoldState::BeingPlaced).low_m <= north.high_m);
    assert!(wires.spacings.iter().all(|row| row.low_m <= row.high_m));
}

fn codes(site: &Site) -> Vec<&'static str> {
    let findings = hang(site).findings;
    assert!(findings.iter().all(|finding| finding.grade == Grade::Stop));
    findings.iter().map(|finding| finding.code()).collect()
}

#[test]
fn what_pulls_too_hard_is_a_stop() {
    let mut site = site();
    site.held_out[0].holder_rating_n = Some(50.0);
    assert_eq!(codes(&site), ["holder_overloaded"]);
    site.held_out[0].holder_rating_n = None;
    assert_eq!(codes(&site), ["holder_rating_missing"]);
    site.held_out[0].holder_rating_n = Some(1e6);
    site.held_out[0].to.y = 2.5;
    assert_eq!(codes(&site), ["conductor_overtensioned"]);
    site.wires[1].conductor.rated_strength_n = None;
    assert_eq!(codes(&site), ["conductor_strength_missing"]);
    site.wires[1].conductor.stiffness_n = None;
    assert_eq!(codes(&site), ["held_out_wire_too_short"]);
}

#[test]
fn what_is_missing_or_contradicts_itself_is_a_stop() {
    let changed = |change: &dyn Fn(&mut Site)| {
        let mut site = site();
        change(&mut site);
        codes(&site)
    };
    assert_eq!(changed(&|site| site.weather.clear()), ["weather_missing"]);
    assert_eq!(changed(&|site| site.held_out[0].fraction = 1.0), ["held_out_unusable"]);
    assert_eq!(changed(&|site| site.held_out[0].wire = 7), ["held_out_unusable"]);
    assert_eq!(changed(&|site| site.held_out[0].during.off_before_step = Some(1)), ["held_out_times_contradict"]);
    assert_eq!(changed(&|site| site.held_out[0].during.off_before_step = Some(9)), ["held_out_times_contradict"]);
    assert_eq!(changed(&|site| site.wires[0].spans[1].from.x = 46.0), ["wire_run_broken"]);
    assert_eq!(changed(&|site| site.wires[0].conductor.weight_n_per_m = 0.0), ["wire_unknown"]);
    let no_sag = Hang::Sag { sag_m: Bracket::between(0.0, 0.5).unwrap() };
    assert_eq!(changed(&|site| site.wires[0].spans[0].hang = no_sag), ["wire_cannot_hang"]);
    let again = |site: &mut Site| site.held_out.push(site.held_out[0].clone());
    assert!(changed(&again).contains(&"held_out_twice"));
}

#[test]
fn times_that_contradict_each_other_count_as_on_the_way_all_the_time() {
    let mut site = site();
    site.held_out[0].during = During { on_after_step: Some(4), off_before_step: Some(2) };
    assert!((0..6).all(|step| hold_state_at_step(&site.held_out[0], step) == HoldState::BeingPlaced));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn no_site_panics(
        at in prop::array::uniform6(any::<f64>()), hang_low in any::<f64>(), hang_high in any::<f64>(),
        weight in any::<f64>(), stiffness in any::<f64>(), wind in any::<f64>(), fraction in 0.0f64..1.0,
        which in 0u8..64,
    ) {
        let mut site = site();
        let bad = |bit: u8, value: f64, good: f64| if which & (1 << bit) != 0 { value } else { good };
        let wire = &mut site.wires[1];
        wire.conductor.weight_n_per_m = bad(0, weight, 2.12);
        wire.conductor.stiffness_n = Some(bad(1, stiffness, 4.9e6));
        site.weather[1].wind_m_s = bad(2, wind, 8.0);
        if which & 8 != 0 {
            wire.spans[0].to = DVec3::new(at[0], at[1], at[2]);
        }
        if which & 16 != 0 {
            site.held_out[0].to = DVec3::new(at[3], at[4], at[5]);
        }
        site.held_out[0].fraction = fraction;
        if let (true, Some(tension_n)) = (which & 32 != 0, Bracket::between(hang_low, hang_high)) {
            wire.spans[0].hang = Hang::Tension { tension_n };
        }
        let wires = hang(&site);
        for state in &wires.states {
            for placed in &state.families {
                prop_assert!(placed.family.shape_error_m >= 0.0 && placed.family.curvature.low() >= 0.0);
            }
        }
    }
}
