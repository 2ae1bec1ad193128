//! Published tables that a scene names things from, and invented machines for the examples.
//!
//! The tables are CSV in `assets`, each with its source and status on the lines that begin with `#`. Each is read once and never
//! changes. A name is found as a person writes it, see [`find`].

pub mod find;
pub mod tables;

use crate::bracket::Bracket;
use crate::csv::{self, Row};
use crate::quantity::unit::{FOOT_M, INCH_M, POUND_N, POUND_PER_FT3, PSI_PA};
use crate::site::{Conductor, Core, Metal};
use find::{Found, folded, wire_words};
use std::sync::LazyLock;

static CONDUCTORS: LazyLock<Vec<Row>> = LazyLock::new(|| rows(include_str!("../../assets/conductors.csv")));
static WOOD_POLES: LazyLock<Vec<Row>> = LazyLock::new(|| rows(include_str!("../../assets/wood_poles.csv")));
static WOOD_SPECIES: LazyLock<Vec<Row>> = LazyLock::new(|| rows(include_str!("../../assets/wood_species.csv")));
static SETTING_DEPTH: LazyLock<Vec<Row>> = LazyLock::new(|| rows(include_str!("../../assets/setting_depth.csv")));
static SOILS: LazyLock<Vec<Row>> = LazyLock::new(|| rows(include_str!("../../assets/soils.csv")));
static NOMINAL_VOLTAGES: LazyLock<Vec<Row>> = LazyLock::new(|| rows(include_str!("../../assets/nominal_voltages.csv")));
static PLAUSIBLE: LazyLock<Vec<Row>> = LazyLock::new(|| rows(include_str!("../../assets/plausible.csv")));
const CRANES: &[(&str, &str, &str)] = &[
    ("Northfell 40", "northfell_40.ron", include_str!("../../assets/cranes/northfell_40.ron")),
    ("Hollin 23", "hollin_23.ron", include_str!("../../assets/cranes/hollin_23.ron")),
    ("Northfell 65", "northfell_65.ron", include_str!("../../assets/cranes/northfell_65.ron")),
    ("Brackmoor 47", "brackmoor_47.ron", include_str!("../../assets/cranes/brackmoor_47.ron")),
    ("Brackmoor 60", "brackmoor_60.ron", include_str!("../../assets/cranes/brackmoor_60.ron")),
];

const BUCKET_TRUCKS: &[(&str, &str, &str)] = &[
    ("Tallis 46", "tallis_46.ron", include_str!("../../assets/bucket_trucks/tallis_46.ron")),
    ("Tallis 58", "tallis_58.ron", include_str!("../../assets/bucket_trucks/tallis_58.ron")),
    ("Orrin 38", "orrin_38.ron", include_str!("../../assets/bucket_trucks/orrin_38.ron")),
];

/// Minimum sizes of a class of wood poles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WoodPole {
    pub top_circumference_m: f64,
    pub circumference_at_6_ft_m: f64,
    /// The sizes are recalled and were not seen in a published table.
    pub from_memory: bool,
}

/// How deep a pole sets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SettingDepth {
    pub soil_m: f64,
    pub rock_m: Option<f64>,
}

/// A nominal system voltage, volts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NominalVoltage {
    pub between_v: f64,
    /// `None` for a three-wire system, which has no nominal voltage to ground.
    pub to_ground_v: Option<f64>,
    /// Read in a published list; otherwise recalled.
    pub verified: bool,
}

/// What a species weighs, from a dry pole to a freshly treated one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WoodSpecies {
    pub name: &'static str,
    pub density_kg_m3: Bracket,
    /// Circumference 6 ft from the butt as a share of [`WoodPole::circumference_at_6_ft_m`] of the same class.
    pub size_share: f64,
    /// Figures that are recalled and were not seen in a published table; empty when all were.
    pub from_memory: &'static str,
}

/// A conductor by its code word ("Raven"), its size and type where these name one ("1/0 ACSR"), or its size, stranding and type
/// ("336.4 26/7 ACSR"), in any order: ASTM B232 (ACSR), B231 (AAC), B399 (AAAC), B1 (copper), A475 (guy strand).
pub fn find_conductor(name: &str) -> Found<Conductor> {
    let rows = || CONDUCTORS.iter().filter_map(|row| Some((row, words(row, "code_word")?)));
    if let Some((row, _)) = rows().find(|(_, code_word)| *code_word == name) {
        return conductor_of_row(row).map_or(Found::None, Found::One);
    }
    let said = wire_words(name);
    let mut meant: Vec<&Row> = Vec::new();
    let mut near: Vec<String> = Vec::new();
    for (row, code_word) in rows() {
        match names(row, code_word, &said) {
            Names::All => meant.push(row),
            Names::InPart => near.push(said_in_full(row, code_word)),
            Names::Not => {}
        }
    }
    match meant.as_slice() {
        [] if near.is_empty() => Found::None,
        [] => Found::Several(near),
        [row] => conductor_of_row(row).map_or(Found::None, Found::One),
        rows => {
            Found::Several(rows.iter().filter_map(|row| Some(said_in_full(row, words(row, "code_word")?))).collect())
        }
    }
}

/// [`find_conductor`] where only one can be meant.
pub fn conductor(name: &str) -> Option<Conductor> {
    find_conductor(name).one()
}

/// How far words name a row.
enum Names {
    All,
    /// Its size and type, which other strandings may have too.
    InPart,
    Not,
}

/// Every word belongs to the row, and there are enough of them to tell it from any other conductor that is made.
fn names(row: &Row, code_word: &str, said: &[String]) -> Names {
    let cell = |head| words(row, head).unwrap_or("").to_lowercase();
    let (size, stranding) = (cell("size"), cell("stranding"));
    let (code, kind) = (wire_words(code_word), wire_words(&cell("type")));
    // People say 336 for 336.4.
    let is_size = |word: &String| *word == size || size.split_once('.').is_some_and(|(whole, _)| word == whole);
    let known = |word: &String| is_size(word) || *word == stranding || code.contains(word) || kind.contains(word);
    if said.is_empty() || !said.iter().all(known) {
        return Names::Not;
    }
    let has_size = said.iter().any(is_size);
    let has_kind = kind.first().is_some_and(|first| said.contains(first));
    let has_stranding = said.iter().filter(|word| **word == stranding).count() > usize::from(size == stranding);
    let by_code = code.iter().all(|word| said.contains(word));
    if by_code || (has_size && has_kind && (has_stranding || words(row, "by_size").is_some())) {
        Names::All
    } else if has_size && (has_kind || said.len() == 1) {
        Names::InPart
    } else {
        Names::Not
    }
}

/// "Linnet (336.4 26/7 ACSR)".
fn said_in_full(row: &Row, code_word: &str) -> String {
    let cell = |head| words(row, head).unwrap_or("");
    format!("{code_word} ({} {} {})", cell("size"), cell("stranding"), cell("type"))
}

fn conductor_of_row(row: &'static Row) -> Option<Conductor> {
    let source = format!("{} {}", words(row, "standard")?, words(row, "status")?);
    let conductor = conductor_of(words(row, "code_word")?, source, |head| number(row, head))?;
    Some(Conductor { from_memory: words(row, "from_memory").unwrap_or("").to_owned(), ..conductor })
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
        stiffness_doubt: number("modulus_doubt_percent").unwrap_or(0.0) / 100.0,
        metal: metal(number),
        source,
        from_memory: String::new(),
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
    let class = class_of(class);
    let row =
        WOOD_POLES.iter().find(|row| of_length(row) && words(row, "class").map(folded).as_ref() == Some(&class))?;
    Some(WoodPole {
        top_circumference_m: number(row, "top_circumference_in")? * INCH_M,
        circumference_at_6_ft_m: number(row, "circumference_at_6_ft_in")? * INCH_M,
        from_memory: words(row, "status") == Some("memory"),
    })
}

/// "Class H-1" and "h1" are "h1".
fn class_of(said: &str) -> String {
    let folded = folded(said);
    folded.strip_prefix("class").or(folded.strip_prefix("cl")).unwrap_or(&folded).to_owned()
}

/// The poles of this length: "55 ft class 3".
pub fn wood_poles_of(length_m: f64) -> Vec<String> {
    let of_length = |row: &&Row| number(row, "length_ft").is_some_and(|feet| (feet * FOOT_M - length_m).abs() < 0.01);
    let said = |row: &Row| Some(format!("{} ft class {}", words(row, "length_ft")?, words(row, "class")?));
    WOOD_POLES.iter().filter(of_length).filter_map(said).collect()
}

/// The pole of the table that is nearest in length, of the same class: "55 ft class 3".
pub fn nearest_wood_pole(length_m: f64, class: &str) -> Option<String> {
    let wanted = class_of(class);
    WOOD_POLES
        .iter()
        .filter(|row| words(row, "class").map(folded).as_ref() == Some(&wanted))
        .filter_map(|row| number(row, "length_ft"))
        .min_by(|a, b| f64::total_cmp(&(a * FOOT_M - length_m).abs(), &(b * FOOT_M - length_m).abs()))
        .map(|feet| format!("{feet} ft class {class}"))
}

/// What is usual of a distribution line, by its name in the table: meters, or a plain ratio. NaN for a name that it does not have.
pub fn usual(fact: &str) -> f64 {
    let row = PLAUSIBLE.iter().find(|row| words(row, "fact") == Some(fact));
    let value = row.and_then(|row| Some((number(row, "value")?, words(row, "unit")?)));
    value.map_or(f64::NAN, |(value, unit)| match unit {
        "ft" => value * FOOT_M,
        "percent" => value / 100.0,
        _ => value,
    })
}

/// Every nominal system voltage of the table.
pub fn nominal_voltages() -> impl Iterator<Item = NominalVoltage> {
    NOMINAL_VOLTAGES.iter().filter_map(|row| {
        Some(NominalVoltage {
            between_v: 1e3 * number(row, "between_kv")?,
            to_ground_v: number(row, "to_ground_kv").map(|kv| 1e3 * kv),
            verified: words(row, "status") == Some("verified"),
        })
    })
}

/// A species by its name or one of its other names: "southern pine" is the southern yellow pine.
pub fn find_wood_species(name: &str) -> Found<WoodSpecies> {
    let entries = WOOD_SPECIES.iter().enumerate().flat_map(|(i, row)| {
        let also = words(row, "also").unwrap_or("").split(';');
        words(row, "species").into_iter().chain(also).filter(|name| !name.is_empty()).map(move |name| (i, name))
    });
    match find::find(name, entries).map(|i| WOOD_SPECIES.get(i).and_then(species_of)) {
        Found::One(Some(species)) => Found::One(species),
        Found::One(None) | Found::None => Found::None,
        Found::Several(names) => Found::Several(names),
    }
}

/// [`find_wood_species`] where only one can be meant.
pub fn wood_species(name: &str) -> Option<WoodSpecies> {
    find_wood_species(name).one()
}

fn species_of(row: &'static Row) -> Option<WoodSpecies> {
    let low = number(row, "density_low_lb_ft3")? * POUND_PER_FT3;
    let high = number(row, "density_high_lb_ft3")? * POUND_PER_FT3;
    Some(WoodSpecies {
        name: words(row, "species")?,
        density_kg_m3: Bracket::between(low, high)?,
        size_share: number(row, "size_percent")? / 100.0,
        from_memory: words(row, "from_memory").unwrap_or(""),
    })
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

/// File name and RON text of a crane or digger derrick.
pub fn find_crane(name: &str) -> Found<(&'static str, &'static str)> {
    machine(CRANES, name)
}

/// [`find_crane`] where only one can be meant.
pub fn crane(name: &str) -> Option<(&'static str, &'static str)> {
    find_crane(name).one()
}

pub fn crane_names() -> impl Iterator<Item = &'static str> {
    CRANES.iter().map(|(model, _, _)| *model)
}

/// File name and RON text of a bucket truck.
pub fn find_bucket_truck(name: &str) -> Found<(&'static str, &'static str)> {
    machine(BUCKET_TRUCKS, name)
}

/// [`find_bucket_truck`] where only one can be meant.
pub fn bucket_truck(name: &str) -> Option<(&'static str, &'static str)> {
    find_bucket_truck(name).one()
}

pub fn bucket_truck_names() -> impl Iterator<Item = &'static str> {
    BUCKET_TRUCKS.iter().map(|(model, _, _)| *model)
}

fn machine(
    all: &'static [(&'static str, &'static str, &'static str)],
    name: &str,
) -> Found<(&'static str, &'static str)> {
    find::find(name, all.iter().map(|(model, file, text)| ((*file, *text), *model)))
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
mod tests;
