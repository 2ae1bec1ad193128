//! The tables as a whole, in the order of their files.

use super::{CONDUCTORS, SETTING_DEPTH, SOILS, WOOD_POLES, WOOD_SPECIES};
use super::{SettingDepth, WoodPole, WoodSpecies, conductor_of_row, number, species_of, wood_pole, words};
use crate::bracket::Bracket;
use crate::quantity::unit::{FOOT_M, POUND_N, POUND_PER_FT3};
use crate::site::Conductor;

/// A conductor with what its standard calls it.
pub struct ListedConductor {
    pub conductor: Conductor,
    pub kind: &'static str,
    pub size: &'static str,
    pub stranding: &'static str,
    pub standard: &'static str,
}

pub fn conductors() -> impl Iterator<Item = ListedConductor> {
    CONDUCTORS.iter().filter_map(|row| {
        let cell = |head| words(row, head).unwrap_or("");
        Some(ListedConductor {
            conductor: conductor_of_row(row)?,
            kind: cell("type"),
            size: cell("size"),
            stranding: cell("stranding"),
            standard: cell("standard"),
        })
    })
}

/// A class of one length.
pub struct ListedPole {
    pub length_m: f64,
    pub class: &'static str,
    pub sizes: WoodPole,
    pub status: &'static str,
}

pub fn wood_poles() -> impl Iterator<Item = ListedPole> {
    WOOD_POLES.iter().filter_map(|row| {
        let (length_m, class) = (number(row, "length_ft")? * FOOT_M, words(row, "class")?);
        Some(ListedPole {
            length_m,
            class,
            sizes: wood_pole(length_m, class)?,
            status: words(row, "status").unwrap_or(""),
        })
    })
}

/// A species with its other names.
pub struct ListedSpecies {
    pub species: WoodSpecies,
    pub also: Vec<&'static str>,
    pub status: &'static str,
}

pub fn species() -> impl Iterator<Item = ListedSpecies> {
    WOOD_SPECIES.iter().filter_map(|row| {
        let also = words(row, "also").unwrap_or("").split(';').filter(|name| !name.is_empty()).collect();
        Some(ListedSpecies { species: species_of(row)?, also, status: words(row, "status").unwrap_or("") })
    })
}

/// Density that suppliers' published weights imply on the least sizes of a class, kg/m³; `None` where none was seen.
pub fn published_density_kg_m3(species: &str) -> Option<Bracket> {
    let row = WOOD_SPECIES.iter().find(|row| words(row, "species") == Some(species))?;
    let [low, high] = ["published_low_lb_ft3", "published_high_lb_ft3"].map(|head| number(row, head));
    Bracket::between(low? * POUND_PER_FT3, high? * POUND_PER_FT3)
}

/// Length in meters, and how deep a pole of it sets.
pub fn setting_depths() -> impl Iterator<Item = (f64, SettingDepth)> {
    SETTING_DEPTH.iter().filter_map(|row| {
        let depth = SettingDepth {
            soil_m: number(row, "soil_ft")? * FOOT_M,
            rock_m: number(row, "rock_ft").map(|feet| feet * FOOT_M),
        };
        Some((number(row, "length_ft")? * FOOT_M, depth))
    })
}

/// Name, group of the soil classification, presumed bearing in pascals.
pub fn soils() -> impl Iterator<Item = (&'static str, &'static str, f64)> {
    SOILS.iter().filter_map(|row| {
        let bearing_pa = number(row, "bearing_psf")? * POUND_N / (FOOT_M * FOOT_M);
        Some((words(row, "soil")?, words(row, "uscs").unwrap_or(""), bearing_pa))
    })
}
