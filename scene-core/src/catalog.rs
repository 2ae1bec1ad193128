//! Published tables that a scene names things from, and invented machines for the examples.
//!
//! The tables are CSV in `assets`, each with its source and status on the lines that begin with `#`. Each is read once and never
//! changes.

use crate::bracket::Bracket;
use crate::csv::{self, Row};
use crate::quantity::unit::{FOOT_M, INCH_M, POUND_N, POUND_PER_FT3, PSI_PA};
use crate::site::{Conductor, Core, Metal};
use std::sync::LazyLock;

static CONDUCTORS: LazyLock<Vec<Row>> = LazyLock::new(|| rows(include_str!("../../assets/conductors.csv")));
static WOOD_POLES: LazyLock<Vec<Row>> = LazyLock::new(|| rows(include_str!("../../assets/wood_poles.csv")));
static WOOD_SPECIES: LazyLock<Vec<Row>> = LazyLock::new(|| rows(include_str!("../../assets/wood_species.csv")));
static SETTING_DEPTH: LazyLock<Vec<Row>> = LazyLock::new(|| rows(include_str!("../../assets/setting_depth.csv")));
static SOILS: LazyLock<Vec<Row>> = LazyLock::new(|| rows(include_str!("../../assets/soils.csv")));
const CRANES: &[(&str, &str, &str)] = &[
    ("Northfell 40", "northfell_40.ron", include_str!("../../assets/cranes/northfell_40.ron")),
    ("Hollin 23", "hollin_23.ron", include_str!("../../assets/cranes/hollin_23.ron")),
    ("Brackmoor 47", "brackmoor_47.ron", include_str!("../../assets/cranes/brackmoor_47.ron")),
];

const BUCKET_TRUCKS: &[(&str, &str, &str)] = &[
    ("Tallis 46", "tallis_46.ron", include_str!("../../assets/bucket_trucks/tallis_46.ron")),
    ("Orrin 38", "orrin_38.ron", include_str!("../../assets/bucket_trucks/orrin_38.ron")),
];

/// Minimum sizes of a class of wood poles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WoodPole {
    pub top_circumference_m: f64,
    pub circumference_at_6_ft_m: f64,
}

/// How deep a pole sets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SettingDepth {
    pub soil_m: f64,
    pub rock_m: Option<f64>,
}

/// What a species weighs, from a dry pole to a freshly treated one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WoodSpecies {
    pub density_kg_m3: Bracket,
}

/// A bare conductor by its code word: ASTM B232 (ACSR), B231 (AAC), B399 (AAAC).
pub fn conductor(name: &str) -> Option<Conductor> {
    let row = CONDUCTORS.iter().find(|row| words(row, "code_word") == Some(name))?;
    let source = format!("{} {}", words(row, "standard")?, words(row, "status")?);
    conductor_of(name, source, |head| number(row, head))
}

/// A conductor from the figures of a row by their heads; `None` without diameter or weight.
pub(crate) fn conductor_of(name: &str, source: String, number: impl Fn(&str) -> Option<f64>) -> Option<Conductor> {
    let area_m2 = number("area_in2").map(|area| area * INCH_M * INCH_M);
    Some(Conductor {
        name: name.to_owned(),
        diameter_m: number("diameter_in")? * INCH_M,
        weight_n_per_m: number("weight_lb_per_1000ft")? * POUND_N / (1000.0 * FOOT_M),
        rated_strength_n: number("rated_strength_lb").map(|strength| strength * POUND_N),
        stiffness_n: number("final_modulus_1e6_psi").zip(area_m2).map(|(modulus, area)| modulus * 1e6 * PSI_PA * area),
        metal: metal(number),
        source,
    })
}

/// How it takes heat, where its row has all of it.
fn metal(number: impl Fn(&str) -> Option<f64>) -> Option<Metal> {
    let per_k = |head| number(head).map(|per_f| per_f * 1e-6 * 1.8);
    let core = match (number("core_area_in2"), number("core_modulus_1e6_psi")) {
        (Some(area), Some(modulus)) => Core::Alone {
            stiffness_n: modulus * 1e6 * PSI_PA * area * INCH_M * INCH_M,
            expansion_per_k: per_k("core_expansion_1e-6_per_f")?,
        },
        (None, None) => Core::OneMetal,
        _ => return None,
    };
    Some(Metal { expansion_per_k: per_k("expansion_1e-6_per_f")?, core })
}

pub fn conductor_names() -> impl Iterator<Item = &'static str> {
    CONDUCTORS.iter().filter_map(|row| words(row, "code_word"))
}

/// ANSI O5.1 minimum circumferences of a pole of this length and class ("1" … "7", "H1" …).
pub fn wood_pole(length_m: f64, class: &str) -> Option<WoodPole> {
    let of_length = |row: &Row| number(row, "length_ft").is_some_and(|feet| (feet * FOOT_M - length_m).abs() < 0.01);
    let row = WOOD_POLES.iter().find(|row| of_length(row) && words(row, "class") == Some(class))?;
    Some(WoodPole {
        top_circumference_m: number(row, "top_circumference_in")? * INCH_M,
        circumference_at_6_ft_m: number(row, "circumference_at_6_ft_in")? * INCH_M,
    })
}

/// The pole of the table that is nearest in length, of the same class: "55 ft class 3".
pub fn nearest_wood_pole(length_m: f64, class: &str) -> Option<String> {
    WOOD_POLES
        .iter()
        .filter(|row| words(row, "class") == Some(class))
        .filter_map(|row| number(row, "length_ft"))
        .min_by(|a, b| f64::total_cmp(&(a * FOOT_M - length_m).abs(), &(b * FOOT_M - length_m).abs()))
        .map(|feet| format!("{feet} ft class {class}"))
}

pub fn wood_species(name: &str) -> Option<WoodSpecies> {
    let row = WOOD_SPECIES.iter().find(|row| words(row, "species") == Some(name))?;
    let low = number(row, "density_low_lb_ft3")? * POUND_PER_FT3;
    let high = number(row, "density_high_lb_ft3")? * POUND_PER_FT3;
    Some(WoodSpecies { density_kg_m3: Bracket::between(low, high)? })
}

pub fn wood_species_names() -> impl Iterator<Item = &'static str> {
    WOOD_SPECIES.iter().filter_map(|row| words(row, "species"))
}

/// Published setting depth of a pole of this length, or of the next longer one of the table; `None` beyond it.
pub fn setting_depth(length_m: f64) -> Option<SettingDepth> {
    let length = |row: &Row| number(row, "length_ft").map(|feet| feet * FOOT_M);
    let row = SETTING_DEPTH.iter().find(|row| length(row).is_some_and(|row_m| row_m + 0.01 >= length_m))?;
    Some(SettingDepth {
        soil_m: number(row, "soil_ft")? * FOOT_M,
        rock_m: number(row, "rock_ft").map(|feet| feet * FOOT_M),
    })
}

/// Presumptive bearing of a soil by its name, pascals.
pub fn soil_bearing_pa(name: &str) -> Option<f64> {
    let row = SOILS.iter().find(|row| words(row, "soil") == Some(name))?;
    Some(number(row, "bearing_psf")? * POUND_N / (FOOT_M * FOOT_M))
}

pub fn soil_names() -> impl Iterator<Item = &'static str> {
    SOILS.iter().filter_map(|row| words(row, "soil"))
}

/// File name and RON text of a machine.
pub fn crane(name: &str) -> Option<(&'static str, &'static str)> {
    CRANES.iter().find(|(model, _, _)| *model == name).map(|(_, file, text)| (*file, *text))
}

pub fn crane_names() -> impl Iterator<Item = &'static str> {
    CRANES.iter().map(|(model, _, _)| *model)
}

/// File name and RON text of a bucket truck.
pub fn bucket_truck(name: &str) -> Option<(&'static str, &'static str)> {
    BUCKET_TRUCKS.iter().find(|(model, _, _)| *model == name).map(|(_, file, text)| (*file, *text))
}

pub fn bucket_truck_names() -> impl Iterator<Item = &'static str> {
    BUCKET_TRUCKS.iter().map(|(model, _, _)| *model)
}

fn words<'r>(row: &'r Row, head: &str) -> Option<&'r str> {
    row.text(head).ok().filter(|text| !text.is_empty())
}

fn number(row: &Row, head: &str) -> Option<f64> {
    row.number(head).ok().flatten()
}

/// A table that cannot be read has no rows; a test holds that all can.
fn rows(text: &str) -> Vec<Row> {
    csv::read(text, usize::MAX).map_or_else(|_| Vec::new(), |table| table.rows)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_of_every_table_is_whole() {
        assert_eq!(CONDUCTORS.len(), 30);
        assert!(conductor_names().all(|name| conductor(name).is_some_and(|found| found.rated_strength_n.is_some())));
        assert_eq!(WOOD_POLES.len(), 117);
        for row in WOOD_POLES.iter() {
            let (feet, class) = (number(row, "length_ft").unwrap(), words(row, "class").unwrap());
            let pole = wood_pole(feet * FOOT_M, class).unwrap();
            assert!(pole.top_circumference_m < pole.circumference_at_6_ft_m, "{feet} ft class {class}");
        }
        assert!(conductor_names().all(|name| conductor(name).is_some_and(|found| found.metal.is_some())));
        assert_eq!(SETTING_DEPTH.len(), 14);
        assert!(SETTING_DEPTH.iter().all(|row| number(row, "length_ft") > number(row, "soil_ft")));
        assert_eq!(soil_names().count(), 5);
        assert!(soil_names().all(|name| soil_bearing_pa(name).is_some()));
        assert_eq!(wood_species_names().count(), 2);
        assert!(wood_species_names().all(|name| wood_species(name).is_some()));
    }

    #[test]
    fn a_name_stands_once_in_its_table() {
        let names: Vec<_> = conductor_names().collect();
        assert!(names.iter().enumerate().all(|(i, name)| !names[..i].contains(name)));
    }
}
