use super::*;
use crate::bracket::Bracket;
use crate::finding::Grade;
use crate::fixtures::site::pole;
use crate::quantity::unit::FOOT_M;
use crate::site::{Cover, CoverMake, CoverOn, During, MakerMass, Method, Pole, PoleItem, Shell, Sides, TubeSection};
use glam::dvec3;
use proptest::prelude::*;

const INCH_M: f64 = FOOT_M / 12.0;

fn section(length: f64, bottom: f64, top: f64, lap: f64) -> TubeSection {
    TubeSection { length_m: length, bottom_m: bottom, top_m: top, wall_m: 0.006, lap_m: lap }
}

fn wood(oversize: f64) -> Pole {
    let shell = Shell::Wood {
        top_circumference_m: 23.0 * INCH_M,
        circumference_at_6_ft_m: 37.5 * INCH_M,
        density_kg_m3: Bracket::between(800.0, 1000.0).unwrap(),
        oversize,
    };
    pole(45.0 * FOOT_M, shell)
}

/// 8 m butt section, 7 m top section slipped 1 m over it.
fn two_sections() -> Pole {
    let sections = vec![section(8.0, 0.40, 0.30, 0.0), section(7.0, 0.32, 0.20, 1.0)];
    pole(14.0, Shell::SteelTube { sides: Sides::Twelve, sections })
}

fn item(name: &str, mass_kg: f64, x: f64, z: f64) -> PoleItem {
    PoleItem { name: name.into(), mass_kg, from: dvec3(x, 0.0, z), to: dvec3(x, 0.0, z), radius_m: 0.1 }
}

#[test]
fn in_a_slip_joint_the_outer_section_is_the_outside() {
    let corners = corner_factor(Sides::Twelve);
    let at = |z| outer_radius_m(&two_sections(), z).unwrap();
    assert!((at(0.0) - 0.20 * corners).abs() < 1e-12);
    // At 7 m the lower section is 0.3125 m across, the upper one begins with 0.32 m.
    assert!((at(7.0) - 0.16 * corners).abs() < 1e-12);
    assert!((at(14.0) - 0.10 * corners).abs() < 1e-12);
    assert!((at(20.0) - at(14.0)).abs() < 1e-12);
    let flats = radius_m(&two_sections(), 7.0).unwrap();
    assert!((flats.low() - 0.3125 / 2.0).abs() < 1e-12, "the least is half the flats of the section inside");
}

#[test]
fn the_outline_has_no_gap_and_no_overlap() {
    let outline = Outline::of(&two_sections()).unwrap();
    let outline = outline.tapers();
    assert_eq!(outline.len(), 3);
    assert!(outline.windows(2).all(|p| p[0].to_m == p[1].from_m));
    assert_eq!((outline[0].from_m, outline[2].to_m), (0.0, 14.0));
    let area = side_area_m2(&two_sections(), 0.0, 14.0).unwrap();
    let by_hand = (7.0 * (0.40 + 0.3125) / 2.0 + 7.0 * (0.32 + 0.20) / 2.0) * corner_factor(Sides::Twelve);
    assert!((area - by_hand).abs() < 1e-12);
}

#[test]
fn the_lap_of_a_slip_joint_is_steel_twice() {
    let pole = two_sections();
    let Shell::SteelTube { sides, sections } = &pole.shell else { unreachable!() };
    let (lower, upper) = (tube_mass_kg(*sides, &sections[0]), tube_mass_kg(*sides, &sections[1]));
    let mass = mass(&pole, &[]).unwrap();
    assert!((mass.kg.low() - (lower + upper)).abs() < 1e-6);
    assert!((mass.kg.high() - GALVANIZED_FACTOR * (lower + upper)).abs() < 1e-6);
    let by_hand =
        (lower * tube_centroid_m(&sections[0]) + upper * (7.0 + tube_centroid_m(&sections[1]))) / (lower + upper);
    assert!((mass.balance_from_butt_m.middle() - by_hand).abs() < 1e-9);
}

#[test]
fn hardware_at_the_top_raises_the_balance_point() {
    let bare = mass(&wood(1.0), &[]).unwrap();
    let mut framed = wood(1.0);
    framed.items.push(item("crossarm", 55.0, 0.0, 13.1));
    let with = mass(&framed, &[]).unwrap();
    assert!(with.balance_from_butt_m.low() > bare.balance_from_butt_m.low());
    assert!(with.balance_from_butt_m.high() > bare.balance_from_butt_m.high());
    // The lightest timber lets the arm pull the balance highest.
    let timber = bare.kg.low();
    let highest = (timber * bare.balance_from_butt_m.high() + 55.0 * 13.1) / (timber + 55.0);
    assert!((with.balance_from_butt_m.high() - highest).abs() < 1e-6);
}

#[test]
fn an_arm_to_one_side_moves_the_center_off_the_axis() {
    let mut framed = wood(1.0);
    framed.items.push(item("side arm", 60.0, 0.8, 13.0));
    let mass = mass(&framed, &[]).unwrap();
    assert!(mass.off_axis_m[0].low() > 0.03 && mass.off_axis_m[1].contains(0.0));
}

#[test]
fn oversize_timber_is_heavier_and_thicker_and_less_sure_of_its_balance() {
    let (least, stout) = (mass(&wood(1.0), &[]).unwrap(), mass(&wood(1.1), &[]).unwrap());
    assert!((stout.kg.high() / least.kg.high() - 1.21).abs() < 1e-9);
    assert!((stout.kg.low() - least.kg.low()).abs() < 1e-9);
    assert!(stout.balance_from_butt_m.width() > least.balance_from_butt_m.width());
    let radius = radius_m(&wood(1.1), 0.0).unwrap();
    assert!((radius.high() / radius.low() - 1.1).abs() < 1e-12);
}

#[test]
fn the_makers_mass_holds_over_the_computed_one() {
    let mut pole = two_sections();
    let computed = mass(&pole, &[]).unwrap();
    pole.maker = Some(MakerMass { mass_kg: computed.kg.middle(), balance_from_butt_m: 6.0 });
    let made = mass(&pole, &[]).unwrap();
    assert!((made.kg.high() - computed.kg.middle()).abs() < 1e-6 && made.balance_from_butt_m.contains(6.0));
    assert!(findings(&pole, &[]).is_empty(), "{:?}", findings(&pole, &[]));
}

#[test]
fn a_makers_mass_far_below_the_computed_one_is_a_stop() {
    let mut pole = two_sections();
    let kg = mass(&pole, &[]).unwrap().kg;
    let graded = |pole: &mut Pole, mass_kg: f64| {
        pole.maker = Some(MakerMass { mass_kg, balance_from_butt_m: 6.0 });
        findings(pole, &[]).first().map(|f| (f.grade, f.code()))
    };
    assert_eq!(graded(&mut pole, kg.low() / 1.2), Some((Grade::Stop, "maker_mass_too_low")));
    assert_eq!(graded(&mut pole, kg.high() / 1.16), Some((Grade::Caution, "maker_mass_differs")));
    assert_eq!(graded(&mut pole, kg.high() * 1.2), Some((Grade::Caution, "maker_mass_differs")));
    assert_eq!(graded(&mut pole, kg.high() * 1.1), None);
}

#[test]
fn sections_that_do_not_add_up_to_the_length_are_a_stop() {
    let mut pole = two_sections();
    pole.length_m = 14.5;
    let found = findings(&pole, &[]);
    assert!(found.iter().any(|f| f.code() == "pole_length_disagrees" && f.grade == Grade::Stop));
}

#[test]
fn a_cover_on_the_pole_without_a_mass_is_told() {
    let cover = Cover {
        name: "pole cover".into(),
        on: CoverOn::Pole { from_butt_m: Bracket::between(8.0, 12.0).unwrap() },
        make: CoverMake::Plastic { class: 4 },
        piece_length_m: 1.8,
        overlap_m: 0.15,
        mass_kg: None,
        method: Method::Gloves,
        hands: None,
        during: During { on_after_step: None, off_before_step: None },
    };
    let pole = wood(1.0);
    let codes =
        |cover: &Cover| findings(&pole, std::slice::from_ref(cover)).iter().map(|f| f.code()).collect::<Vec<_>>();
    assert_eq!(codes(&cover), ["cover_mass_not_stated"]);
    let weighed = Cover { mass_kg: Some(9.0), ..cover };
    assert!(codes(&weighed).is_empty());
    let bare = mass(&pole, &[]).unwrap();
    let worn = mass(&pole, std::slice::from_ref(&weighed)).unwrap();
    assert!((worn.kg.low() - bare.kg.low() - 9.0).abs() < 1e-6);
    let taken_off = Cover { during: During { off_before_step: Some(3), ..weighed.during }, ..weighed };
    let worn = mass(&pole, &[taken_off]).unwrap();
    assert!(worn.kg.low() <= bare.kg.low() && worn.kg.high() >= bare.kg.high() + 9.0 - 1e-6);
}

#[test]
fn what_no_pole_can_be_is_refused() {
    let mut thick = two_sections();
    let mut long_lap = two_sections();
    let mut none = two_sections();
    if let Shell::SteelTube { sections, .. } = &mut thick.shell {
        sections[1].wall_m = 0.2;
    }
    if let Shell::SteelTube { sections, .. } = &mut long_lap.shell {
        sections[1].lap_m = 7.5;
    }
    if let Shell::SteelTube { sections, .. } = &mut none.shell {
        sections.clear();
    }
    let mut maker = wood(1.0);
    maker.maker = Some(MakerMass { mass_kg: 700.0, balance_from_butt_m: 20.0 });
    let mut weightless = wood(1.0);
    weightless.items.push(item("arm", f64::NAN, 0.0, 12.0));
    for pole in [thick, long_lap, none, maker, weightless, wood(0.9), wood(f64::NAN)] {
        assert!(mass(&pole, &[]).is_err(), "{pole:?}");
        assert_eq!(findings(&pole, &[]).first().map(|f| f.grade), Some(Grade::Stop));
    }
}

proptest! {
    #[test]
    fn any_true_pole_within_the_brackets_weighs_and_balances_within_the_answer(
        f in 0.0..=1.0f64, g in 0.0..=1.0f64, h in 0.0..=1.0f64, at in 0.0..13.0f64, kg in 0.0..300.0f64,
    ) {
        let mut framed = wood(1.08);
        let mut long = item("cover", kg, 0.0, at);
        long.to.z = at + 0.7;
        framed.items.push(long);
        let answer = mass(&framed, &[]).unwrap();
        let shell = &answer.parts[0];
        let timber = shell.kg.at(f);
        let center = (timber * shell.center_from_butt_m.at(g) + kg * (at + 0.7 * (0.4 + 0.2 * h))) / (timber + kg);
        prop_assert!(answer.kg.contains(timber + kg));
        prop_assert!(answer.balance_from_butt_m.contains(center));
    }

    #[test]
    fn no_figure_makes_it_panic(values in prop::array::uniform8(any::<f64>()), sections in 0usize..4) {
        let [length, bottom, top, wall, lap, z, kg, balance] = values;
        let tube = TubeSection { length_m: length, bottom_m: bottom, top_m: top, wall_m: wall, lap_m: lap };
        let mut steel = pole(length, Shell::SteelTube { sides: Sides::Eight, sections: vec![tube; sections] });
        steel.items.push(item("arm", kg, z, balance));
        steel.maker = Some(MakerMass { mass_kg: kg, balance_from_butt_m: balance });
        let timber = Shell::Wood {
            top_circumference_m: top,
            circumference_at_6_ft_m: bottom,
            density_kg_m3: Bracket::exactly(wall),
            oversize: lap,
        };
        for pole in [steel, pole(length, timber)] {
            let _ = (mass(&pole, &[]), Outline::of(&pole), radius_m(&pole, z), side_area_m2(&pole, z, kg), findings(&pole, &[]));
        }
    }
}
