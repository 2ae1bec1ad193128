//! The catalogs against published values.

use scene_core::catalog;

const INCH_M: f64 = 0.0254;
const FOOT_M: f64 = 0.3048;
const POUND_N: f64 = 4.448_221_615_260_5;

#[track_caller]
fn within(found: f64, published: f64, share: f64) {
    assert!((found / published - 1.0).abs() <= share, "{found} is not {published}");
}

#[test]
fn a_conductor_is_as_its_standard_lists_it() {
    // source: ASTM B232-11 Table 1, Raven 1/0 AWG 6/1; status verified
    let raven = catalog::conductor("Raven").unwrap();
    within(raven.diameter_m, 0.398 * INCH_M, 1e-9);
    within(raven.weight_n_per_m, 145.2 * POUND_N / (1000.0 * FOOT_M), 1e-9);
    // source: published sag-tension sheet for 795 kcmil 26/7 Drake, "area 0.7264 in2, dia 1.108 in, wt 1.094 lb/ft,
    // RTS 31500 lb"; status verified
    let drake = catalog::conductor("Drake").unwrap();
    within(drake.diameter_m, 1.108 * INCH_M, 1e-9);
    within(drake.weight_n_per_m, 1.094 * POUND_N / FOOT_M, 1e-9);
    within(drake.rated_strength_n.unwrap(), 31_500.0 * POUND_N, 1e-9);
    // source: published 26/7 stress-strain curve, final modulus slope 10.755e6 psi; status verified; catalog 11.0e6 (memory)
    let area_m2 = 0.7264 * INCH_M * INCH_M;
    within(drake.stiffness_n.unwrap(), 10.755e6 * POUND_N / (INCH_M * INCH_M) * area_m2, 0.025);
}

#[test]
fn the_weight_of_a_conductor_is_that_of_its_metal() {
    // source: aluminum 169 lb/ft3 and steel 486 lb/ft3 (physics); 26/7 strands of Partridge 0.1013 in and 0.0788 in; lay
    // adds 2 to 3 percent; status computed
    let strand = |inches: f64| std::f64::consts::FRAC_PI_4 * (inches / 12.0).powi(2);
    let metal = 26.0 * strand(0.1013) * 169.0 + 7.0 * strand(0.0788) * 486.0;
    let partridge = catalog::conductor("Partridge").unwrap().weight_n_per_m * FOOT_M / POUND_N;
    assert!(partridge > metal && partridge < metal * 1.03, "{partridge} for {metal}");
}

// source: ANSI O5.1 groundline distances as printed in pole-class tables, 25 to 90 ft; lineman's handbooks for rock; status
// verified
#[test]
fn setting_depths_are_those_of_the_table() {
    for (feet, soil, rock) in
        [(25.0, 5.0, Some(3.5)), (40.0, 6.0, Some(4.0)), (60.0, 8.0, Some(5.0)), (90.0, 11.0, None)]
    {
        let depth = catalog::setting_depth(feet * FOOT_M).unwrap();
        within(depth.soil_m, soil * FOOT_M, 1e-9);
        assert_eq!(depth.rock_m, rock.map(|feet| feet * FOOT_M));
    }
    assert!(catalog::setting_depth(95.0 * FOOT_M).is_none());
}

// source: IBC 2012 Table 1806.2, sandy gravel 3000 lb/ft2, clay 1500 lb/ft2; status verified
#[test]
fn soils_bear_what_the_code_presumes() {
    let psf = POUND_N / (FOOT_M * FOOT_M);
    within(catalog::soil_bearing_pa("gravel and sandy gravel").unwrap(), 3000.0 * psf, 1e-9);
    within(catalog::soil_bearing_pa("clay and silt").unwrap(), 1500.0 * psf, 1e-9);
    assert!(catalog::soil_bearing_pa("peat").is_none());
}

// source: rule of mixtures, stranded aluminum 8.6e6 psi and 12.8e-6/F, stranded steel 27.5e6 psi and 6.4e-6/F; status computed
#[test]
fn the_core_and_the_whole_of_a_conductor_agree_with_the_rule_of_mixtures() {
    use scene_core::site::Core;
    for name in ["Sparrow", "Raven", "Penguin", "Waxwing", "Linnet", "Drake"] {
        let found = catalog::conductor(name).unwrap();
        let metal = found.metal.unwrap();
        let Core::Alone { stiffness_n, expansion_per_k } = metal.core else { panic!("{name}") };
        within(expansion_per_k, 6.4e-6 * 1.8, 1e-9);
        let core = stiffness_n / (27.5e6 * POUND_N / (INCH_M * INCH_M));
        let weight_of_core_n_per_m = core * 7780.0 * 9.80665;
        assert!(weight_of_core_n_per_m < found.weight_n_per_m);
        // What the core does not hold, the aluminum does.
        let whole = found.stiffness_n.unwrap();
        let aluminium = (found.weight_n_per_m / 9.80665 - core * 7780.0) / 2705.0 / 1.02;
        let mixed = (aluminium * 8.6e6 + core * 27.5e6) * POUND_N / (INCH_M * INCH_M);
        within(whole, mixed, 0.03);
        let expansion = (aluminium * 8.6 * 12.8 + core * 27.5 * 6.4) / (aluminium * 8.6 + core * 27.5) * 1.8e-6;
        within(metal.expansion_per_k, expansion, 0.02);
    }
}

#[test]
fn a_wood_pole_is_no_smaller_than_its_class() {
    // source: ANSI O5.1 minimum circumferences as printed for 40 ft class 5, 45 ft class 3 and 35 ft class 5; status
    // verified-derived
    for (feet, class, top, at_6_ft) in [(40.0, "5", 19.0, 31.0), (45.0, "3", 23.0, 37.5), (35.0, "5", 19.0, 29.0)] {
        let pole = catalog::wood_pole(feet * FOOT_M, class).unwrap();
        within(pole.top_circumference_m, top * INCH_M, 1e-9);
        within(pole.circumference_at_6_ft_m, at_6_ft * INCH_M, 1e-9);
    }
    assert!(catalog::wood_pole(47.0 * FOOT_M, "3").is_none());
}

#[test]
fn the_density_of_a_species_holds_every_published_weight() {
    // source: suppliers' published treated weights over the frustum of ANSI O5.1 minimum sizes, lb/ft3; status verified
    for (species, published) in
        [("southern yellow pine", [61.1, 59.6, 61.1, 60.1]), ("douglas-fir", [49.2, 48.9, 50.5, 49.0])]
    {
        let known = catalog::wood_species(species).unwrap().density_kg_m3;
        for density in published {
            assert!(known.contains(density * 16.018_463_37), "{species} at {density}");
        }
    }
}
