use super::*;

#[test]
fn every_row_of_every_table_is_whole() {
    assert_eq!(CONDUCTORS.len(), 69);
    assert!(conductor_names().all(|name| conductor(name).is_some_and(|found| found.rated_strength_n.is_some())));
    assert_eq!(WOOD_POLES.len(), 124);
    for row in WOOD_POLES.iter() {
        let (feet, class) = (number(row, "length_ft").unwrap(), words(row, "class").unwrap());
        let pole = wood_pole(feet * FOOT_M, class).unwrap();
        assert!(pole.top_circumference_m < pole.circumference_at_6_ft_m, "{feet} ft class {class}");
    }
    assert!(conductor_names().all(|name| {
        conductor(name).is_some_and(|found| found.metal.is_some() && found.stiffness_n.is_some_and(|n| n > 1e5))
    }));
    assert_eq!(nominal_voltages().count(), NOMINAL_VOLTAGES.len());
    for nominal in nominal_voltages().filter(|nominal| nominal.between_v > 1000.0) {
        let ratio = nominal.to_ground_v.map_or(3_f64.sqrt(), |to_ground_v| nominal.between_v / to_ground_v);
        assert!((ratio / 3_f64.sqrt() - 1.0).abs() < 0.01, "{nominal:?}");
    }
    assert_eq!(SETTING_DEPTH.len(), 14);
    assert!(SETTING_DEPTH.iter().all(|row| number(row, "length_ft") > number(row, "soil_ft")));
    assert_eq!(soil_names().count(), 5);
    assert!(soil_names().all(|name| soil_bearing_pa(name).is_some()));
    assert_eq!(wood_species_names().count(), 3);
    assert!(wood_species_names().all(|name| wood_species(name).is_some()));
}

#[test]
fn a_name_stands_once_in_its_table() {
    let names: Vec<_> = conductor_names().collect();
    assert!(names.iter().enumerate().all(|(i, name)| !names[..i].contains(name)));
}

#[test]
fn a_conductor_is_found_as_a_lineman_calls_it() {
    for (said, code_word) in [
        ("1/0 ACSR", "Raven"),
        ("ACSR 1/0", "Raven"),
        ("acsr 1/0 6/1", "Raven"),
        ("raven", "Raven"),
        ("Raven 1/0 ACSR", "Raven"),
        ("4/0 ACSR Penguin", "Penguin"),
        ("#4 6/1 ACSR", "Swan"),
        ("336.4 kcmil 26/7 ACSR", "Linnet"),
        ("336 18/1 acsr", "Merlin"),
        ("795 MCM 26/7 ACSR", "Drake"),
        ("1/0 AAC", "Poppy"),
        ("123.3 AAAC", "Azusa"),
        ("4/0 7w copper", "Cu 4/0 7w"),
        ("cu 4/0 7w", "Cu 4/0 7w"),
        ("3/8 EHS", "3/8 EHS"),
        ("3/8\" ehs guy strand", "3/8 EHS"),
        ("3/8 in EHS guy strand", "3/8 EHS"),
        ("triplex 1/0", "triplex 1/0"),
    ] {
        let found = find_conductor(said);
        assert!(matches!(&found, Found::One(conductor) if conductor.name == code_word), "{said}: {found:?}");
    }
}

/// A size that is made with several strandings, or a contradiction, is no conductor.
#[test]
fn what_could_be_two_conductors_is_neither() {
    for said in ["795 ACSR", "336.4 ACSR", "4 ACSR", "2 copper", "2/0", "copper 4/0", "266.8", "1 copper"] {
        let found = find_conductor(said);
        assert!(matches!(&found, Found::Several(names) if !names.is_empty()), "{said}: {found:?}");
    }
    for said in [
        "Raven 2/0 ACSR",
        "10 ACSR",
        "ACSR",
        "",
        " ",
        "6/1",
        "795 45/7 ACSR",
        "Ravens",
        "7",
        "guy strand",
        "copper",
        "Drake Raven",
    ] {
        let found = find_conductor(said);
        assert!(!matches!(found, Found::One(_)), "{said}: {found:?}");
    }
}

#[test]
fn a_species_and_a_machine_are_found_under_their_other_names() {
    for said in ["southern pine", "Southern Yellow Pine", "SYP", "southern-yellow-pine", "Yellow Pine"] {
        assert_eq!(wood_species(said).map(|species| species.name), Some("southern yellow pine"), "{said}");
    }
    assert_eq!(wood_species("Doug fir").map(|species| species.name), Some("douglas-fir"));
    assert_eq!(wood_species("Cedar").map(|species| species.name), Some("western red cedar"));
    assert!(wood_species("pine").is_none() && wood_species("oak").is_none());
    assert!(crane("northfell40").is_some() && crane("Northfell 4").is_none() && bucket_truck("TALLIS-46").is_some());
    assert_eq!(wood_pole(45.0 * FOOT_M, "class 3"), wood_pole(45.0 * FOOT_M, "3"));
    assert_eq!(wood_pole(45.0 * FOOT_M, "h-1"), wood_pole(45.0 * FOOT_M, "H1"));
}

/// source: class loads of ANSI O5.1, 2 ft below the top, at 8000 psi (memory) and groundline 5 ft from the butt (verified):
/// circumference (32 pi^2 M / f)^(1/3), carried 1 ft up along the taper; status computed
#[test]
fn a_25_ft_pole_is_near_what_its_class_asks_for() {
    for (class, load_lb) in
        [("1", 4500.0), ("2", 3700.0), ("3", 3000.0), ("4", 2400.0), ("5", 1900.0), ("6", 1500.0), ("7", 1200.0)]
    {
        let pole = wood_pole(25.0 * FOOT_M, class).unwrap();
        let (top, at_6_ft) = (pole.top_circumference_m / INCH_M, pole.circumference_at_6_ft_m / INCH_M);
        let moment_in_lb: f64 = load_lb * 18.0 * 12.0;
        let groundline = (32.0 * std::f64::consts::PI.powi(2) * moment_in_lb / 8000.0).cbrt();
        let computed = groundline - (groundline - top) / 20.0;
        assert!((at_6_ft - computed).abs() <= 0.6, "class {class}: {at_6_ft} for {computed}");
    }
}
