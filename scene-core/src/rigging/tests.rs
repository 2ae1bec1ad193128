use super::*;
use crate::finding::Grade;
use crate::fixtures::site::{self as fixtures, range as span};
use crate::pole;
use crate::site::{
    BoomHead, Cover, CoverMake, CoverOn, Crane, During, HookBlock, MakerMass, Measurement, Method, Pole, PoleItem,
    Rigging, RiggingMaterial, Shell, Sides, TubeSection, Weather,
};
use glam::dvec3;
use proptest::prelude::*;
use std::f64::consts::PI;

/// 16 m of 12-sided tube that balances at 7 m.
fn pole() -> Pole {
    let section = TubeSection { length_m: 16.0, bottom_m: 0.40, top_m: 0.22, wall_m: 0.006, lap_m: 0.0 };
    let shell = Shell::SteelTube { sides: Sides::Twelve, sections: vec![section] };
    Pole {
        maker: Some(MakerMass { mass_kg: 750.0, balance_from_butt_m: 7.0 }),
        setting_depth_m: 2.2,
        ..fixtures::pole(16.0, shell)
    }
}

fn rigging(choker_m: f64) -> Rigging {
    Rigging {
        choker_from_butt_m: choker_m,
        mass_kg: 8.0,
        choker_capacity_kg: 2000.0,
        choke_angle: Some(135f64.to_radians()),
        choke_measured: Some(Measurement { by: "Ruiz".into(), how: "protractor".into(), on: "2 March".into() }),
        material: RiggingMaterial::NonConductive,
        tag_line_hold_n: Some(400.0),
        ..fixtures::rigging()
    }
}

fn crane() -> Crane {
    Crane {
        head: BoomHead { along_m: 0.0, below_m: 0.4, sheave_radius_m: 0.2, radius_m: 0.5 },
        block: HookBlock { length_m: 0.8, radius_m: 0.3, mass_kg: 150.0, capacity_kg: 9000.0 },
        two_block_m: 1.2,
        ..fixtures::crane()
    }
}

fn slot() -> Slot {
    Slot {
        ground_m: 0.0,
        highest_wire_m: span(9.5, 9.8),
        lowest_wire_m: span(9.3, 9.6),
        opening_m: span(1.0, 1.2),
        mad_m: 0.7,
        allowance_m: 0.3,
        butt_lift_m: 0.5,
    }
}

fn codes(pole: &Pole, rigging: &Rigging) -> Vec<(Grade, &'static str)> {
    let mass = pole::mass(pole, &[]).unwrap();
    findings(pole, &[], &mass, rigging).iter().map(|f| (f.grade, f.code())).collect()
}

#[test]
fn a_well_placed_choker_gives_no_finding() {
    assert_eq!(codes(&pole(), &rigging(9.0)), []);
}

#[test]
fn a_choker_below_the_balance_point_is_a_stop() {
    for choker_m in [3.0, 6.9, 7.0] {
        assert!(codes(&pole(), &rigging(choker_m)).contains(&(Grade::Stop, "choker_below_balance")), "at {choker_m} m");
    }
    let mut unsure = pole();
    unsure.maker = None;
    let balance = pole::mass(&unsure, &[]).unwrap().balance_from_butt_m;
    let within = rigging(balance.at(0.9));
    assert!(codes(&unsure, &within).contains(&(Grade::Stop, "choker_below_balance")), "inside the bracket");
}

#[test]
fn a_choker_just_above_the_balance_point_is_a_caution() {
    assert!(codes(&pole(), &rigging(7.2)).contains(&(Grade::Caution, "choker_near_balance")));
    assert!(!codes(&pole(), &rigging(7.4)).iter().any(|c| c.1 == "choker_near_balance"));
}

#[test]
fn a_choker_above_an_unlocked_joint_is_a_stop() {
    let mut jointed = pole();
    jointed.unlocked_joints_m = vec![8.5];
    assert_eq!(codes(&jointed, &rigging(9.0)), [(Grade::Stop, "choker_above_unlocked_joint")]);
    assert_eq!(codes(&jointed, &rigging(8.2)), []);
}

#[test]
fn a_choker_on_cover_or_hardware_is_a_stop() {
    let mut framed = pole();
    let (from, to) = (dvec3(0.2, 0.0, 8.6), dvec3(0.2, 0.0, 8.8));
    framed.items.push(PoleItem { name: "bracket".into(), mass_kg: 10.0, from, to, radius_m: 0.06 });
    assert!(codes(&framed, &rigging(9.0)).contains(&(Grade::Stop, "choker_on_cover")));
    assert!(!codes(&framed, &rigging(9.3)).iter().any(|c| c.1 == "choker_on_cover"));
    let cover = Cover {
        name: "pole cover".into(),
        on: CoverOn::Pole { from_butt_m: span(9.1, 12.0) },
        make: CoverMake::Plastic { class: 4 },
        piece_length_m: 1.8,
        overlap_m: 0.15,
        mass_kg: None,
        method: Method::Gloves,
        hands: None,
        during: During { on_after_step: None, off_before_step: None },
    };
    let mass = pole::mass(&pole(), &[]).unwrap();
    let found = findings(&pole(), &[cover], &mass, &rigging(9.0));
    assert_eq!(found.iter().map(|f| f.code()).collect::<Vec<_>>(), ["choker_on_cover"]);
}

#[test]
fn smooth_tube_without_a_stop_above_the_choke_is_a_caution() {
    let bare = Rigging { stop_above_choke: false, ..rigging(9.0) };
    assert_eq!(codes(&pole(), &bare), [(Grade::Caution, "no_stop_above_choke")]);
}

#[test]
fn a_tight_choke_can_take_the_sling_below_its_load() {
    let sling = |choke_deg: f64| Rigging {
        choker_capacity_kg: 1000.0,
        choke_angle: Some(choke_deg.to_radians()),
        ..rigging(9.0)
    };
    assert_eq!(codes(&pole(), &sling(95.0)), []);
    assert_eq!(codes(&pole(), &sling(70.0)), [(Grade::Stop, "sling_below_load")]);
    assert_eq!(codes(&pole(), &sling(f64::NAN)), [(Grade::Stop, "rigging_unusable")]);
}

#[test]
fn the_butt_must_be_held_with_what_it_takes() {
    let held = |hold| codes(&pole(), &Rigging { tag_line_hold_n: hold, ..rigging(9.0) });
    assert_eq!(held(None), [(Grade::Stop, "tag_line_hold_not_stated")]);
    assert_eq!(held(Some(100.0)), [(Grade::Stop, "tag_line_hold_short")]);
    assert_eq!(held(Some(f64::NAN)), [(Grade::Stop, "tag_line_hold_short")]);
    // 750 kg with the choke at most 0.19 m off axis, 9 m above the butt.
    assert_eq!(held(Some(160.0)), []);
}

#[test]
fn the_tip_leans_away_from_the_choked_face() {
    let mass = pole::mass(&pole(), &[]).unwrap();
    let toward = |face: f64| hang(&pole(), &mass, &Rigging { choker_face: face, ..rigging(9.0) }).unwrap().tip_leans;
    assert!(toward(0.0).contains(PI) || toward(0.0).contains(-PI));
    assert!(toward(1.0).contains(1.0 - PI));
    assert!(toward(1.0).width() < 1e-6);
}

#[test]
fn a_heavy_arm_opposite_the_choke_leans_the_pole_more() {
    let lone = pole::mass(&pole(), &[]).unwrap();
    let mut armed = pole();
    let at = dvec3(-0.9, 0.0, 7.0);
    armed.items.push(PoleItem { name: "arm".into(), mass_kg: 80.0, from: at, to: at, radius_m: 0.05 });
    let with = pole::mass(&armed, &[]).unwrap();
    let plain = hang(&pole(), &lone, &rigging(9.0)).unwrap();
    let leaning = hang(&armed, &with, &rigging(9.0)).unwrap();
    let moved = 0.9 * 80.0 / 830.0;
    assert!((leaning.offset_m.middle() - plain.offset_m.middle() - moved).abs() < 1e-6);
    // On the choked side it may hang straighter than bare, or even the other way.
    let facing = Rigging { choker_face: PI, ..rigging(9.0) };
    assert!(hang(&armed, &with, &facing).unwrap().tilt_rad.high() < plain.tilt_rad.low());
}

#[test]
fn wind_on_the_pole_away_from_the_choke_turns_it() {
    let mass = pole::mass(&pole(), &[]).unwrap();
    let cases = [0.0, 9.0].map(|wind_m_s| Weather { name: format!("{wind_m_s}"), wind_m_s });
    let leans = wind_leans(&pole(), &mass, &rigging(9.0), &cases).unwrap();
    assert_eq!((leans[0].line_ratio, leans[0].pole_ratio), (0.0, 0.0));
    let [still, windy] = [&leans[0], &leans[1]];
    assert_eq!(still.shift_m(10.0, 8.0), 0.0);
    let area = pole::side_area_m2(&pole(), 0.0, 16.0).unwrap();
    assert!((windy.force_n - 1.2 * area * windy.pressure_pa).abs() < 1e-9);
    assert!((windy.line_ratio - windy.force_n / (750.0 * GRAVITY_M_S2)).abs() < 1e-9);
    let lever = 9.0 - pole::side_center_m(&pole()).unwrap();
    assert!((windy.pole_ratio - windy.line_ratio * lever / 2.0).abs() < 1e-9);
    assert!(windy.shift_m(10.0, 9.0) > windy.shift_m(10.0, 7.0));
}

#[test]
fn over_the_top_the_hook_stays_above_the_highest_wire() {
    let mass = pole::mass(&pole(), &[]).unwrap();
    let options = choker_options(&pole(), &mass, &rigging(9.0), &crane(), &slot());
    let over = options[0].from_butt_m.unwrap();
    // Highest wire 9.8 + required 0.7 + allowance 0.3, hook 1.2 above the choke, butt 2.2 m down: 11.8 m.
    let tilt = hang(&pole(), &mass, &rigging(over.low())).unwrap().tilt_rad.high();
    assert!(over.low() >= 11.8 && over.low() < 11.9 && over.high() < 16.0);
    assert!(over.low() * tilt.cos() >= 11.8 - 1e-9);
    let wire_rope = Rigging { material: RiggingMaterial::WireRope, ..rigging(9.0) };
    let over = choker_options(&pole(), &mass, &wire_rope, &crane(), &slot())[0].from_butt_m.unwrap();
    assert!(over.low() >= 13.0);
}

#[test]
fn over_the_top_is_impossible_when_the_pole_is_too_short_for_it() {
    let mass = pole::mass(&pole(), &[]).unwrap();
    let high = Slot { highest_wire_m: span(14.0, 14.4), ..slot() };
    let options = choker_options(&pole(), &mass, &rigging(9.0), &crane(), &high);
    assert!(options[0].from_butt_m.is_none());
}

#[test]
fn from_below_boom_head_and_hook_stay_under_the_lowest_wire() {
    let mass = pole::mass(&pole(), &[]).unwrap();
    let below = |lowest_m: f64| {
        let slot = Slot { lowest_wire_m: span(lowest_m, lowest_m), ..slot() };
        choker_options(&pole(), &mass, &rigging(9.0), &crane(), &slot)[1].from_butt_m
    };
    // Rigging 1.5, block 0.8, two-block 1.2, head 0.5, required 0.7, allowance 0.3, butt carried 0.5: 5.5 m.
    let room = below(14.0).unwrap();
    assert!((room.high() - 8.5).abs() < 1e-9 && (room.low() - 7.0 - CHOKE_ABOVE_BALANCE_M).abs() < 1e-6);
    assert!(below(12.5).is_none());
}

#[test]
fn sideways_a_wide_opening_takes_the_hook_at_any_height() {
    let mass = pole::mass(&pole(), &[]).unwrap();
    let sideways = |opening_m: f64| {
        let slot = Slot { opening_m: span(opening_m, 9.0), ..slot() };
        choker_options(&pole(), &mass, &rigging(9.0), &crane(), &slot)[2].from_butt_m.unwrap()
    };
    assert!(sideways(2.6).low() < 7.4);
    assert!(sideways(2.5).low() > 11.8, "a narrow one keeps the hook above the wires");
}

proptest! {
    #[test]
    fn raising_the_choker_hangs_the_pole_straighter(choker_m in 7.1..15.0f64, by in 0.05..0.9f64) {
        let mass = pole::mass(&pole(), &[]).unwrap();
        let low = hang(&pole(), &mass, &rigging(choker_m)).unwrap();
        let high = hang(&pole(), &mass, &rigging(choker_m + by)).unwrap();
        prop_assert!(high.tilt_rad.high() < low.tilt_rad.high());
    }

    #[test]
    fn any_true_pole_hangs_within_the_bracket(f in 0.0..=1.0f64, g in 0.0..=1.0f64, h in 0.0..=1.0f64, face in -7.0..7.0f64, x in -1.0..1.0f64) {
        let mut armed = pole();
        armed.maker = None;
        let (from, to) = (dvec3(x, -0.3, 12.0), dvec3(x, 0.4, 12.5));
        armed.items.push(PoleItem { name: "arm".into(), mass_kg: 60.0, from, to, radius_m: 0.05 });
        let mass = pole::mass(&armed, &[]).unwrap();
        let placed = Rigging { choker_face: face, ..rigging(10.0) };
        let hang = hang(&armed, &mass, &placed).unwrap();
        let center = dvec3(mass.off_axis_m[0].at(f), mass.off_axis_m[1].at(g), mass.balance_from_butt_m.at(h));
        let radius = hang.choke_offset_m.at(g);
        let choke = dvec3(radius * face.cos(), radius * face.sin(), 10.0);
        let up = (choke - center).normalize();
        prop_assert!(hang.tilt_rad.contains(up.z.acos()), "{} in {:?}", up.z.acos(), hang.tilt_rad);
        let lean = f64::atan2(-up.y, -up.x);
        let turns = [-4.0, -2.0, 0.0, 2.0, 4.0].map(|t| lean + t * PI);
        prop_assert!(turns.iter().any(|t| hang.tip_leans.contains(*t)), "{lean} in {:?}", hang.tip_leans);
    }

    #[test]
    fn the_hold_needed_is_none_at_the_tilt_it_hangs_at_and_most_when_plumb(choker_m in 7.5..15.0f64, share in 0.0..1.0f64) {
        let mass = pole::mass(&pole(), &[]).unwrap();
        let hang = hang(&pole(), &mass, &rigging(choker_m)).unwrap();
        let force = |tilt: f64| hold_force_n(&hang, &mass, choker_m, 0.0, tilt).unwrap();
        prop_assert!(force(hang.tilt_rad.middle()).low() <= 1e-9);
        prop_assert!(force(hang.tilt_rad.low() * share).high() <= force(0.0).high() + 1e-9);
    }

    #[test]
    fn no_figure_makes_it_panic(v in prop::array::uniform10(any::<f64>())) {
        let mass = pole::mass(&pole(), &[]).unwrap();
        let wild = Rigging {
            choker_from_butt_m: v[0], choker_face: v[1], length_m: v[2], diameter_m: v[3], mass_kg: v[4],
            choker_capacity_kg: v[5], choke_angle: Some(v[6]), tag_line_hold_n: Some(v[7]), ..rigging(9.0)
        };
        for rigging in [wild, Rigging { choker_face: v[1], ..rigging(9.0) }] {
            let weather = [Weather { name: String::new(), wind_m_s: v[8] }];
            let _ = (findings(&pole(), &[], &mass, &rigging), wind_leans(&pole(), &mass, &rigging, &weather));
            let slot = Slot { ground_m: v[8], mad_m: v[9], allowance_m: v[7], ..slot() };
            let _ = choker_options(&pole(), &mass, &rigging, &crane(), &slot);
            let _ = (hook_load_butt_grounded_kg(&mass, v[0]), butt_reaction_kg(&mass, v[0]), leg_tension_ratio(2, v[6]));
        }
    }
}
