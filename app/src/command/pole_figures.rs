//! `plumbrise pole`: from what a person typed to the sheet of one pole.

use scene_core::pole_sheet::{Asked, NoSheet, pole_sheet};
use scene_core::quantity::show::Units;
use scene_core::quantity::{Length, Mass, Quantity, QuantityFault, Ratio};
use scene_core::report;

/// Kilograms of a weight such as "1250 lb".
pub fn weight(text: &str) -> Result<f64, String> {
    let kg = Quantity::<Mass>::parse(text).map_err(|fault| said(&fault))?.si();
    if kg > 0.0 { Ok(kg) } else { Err("expected a weight above zero".to_owned()) }
}

/// A share such as "6 %".
pub fn oversize(text: &str) -> Result<f64, String> {
    let share = Quantity::<Ratio>::parse(text).map_err(|fault| said(&fault))?.si();
    if (0.0..=0.3).contains(&share) { Ok(share) } else { Err("expected 0 % to 30 %".to_owned()) }
}

fn said(fault: &QuantityFault) -> String {
    match fault.help() {
        help if help.is_empty() => format!("expected {fault}"),
        help => format!("expected {fault}: {help}"),
    }
}

/// The sheet as text, or a whole sentence on what cannot be used, with the names that can.
pub fn sheet(
    length: &str,
    class: String,
    species: String,
    weighed_kg: Option<f64>,
    oversize: f64,
    units: Units,
) -> Result<String, String> {
    let length_m = length_m(length).map_err(|fault| format!("Found the length \"{length}\"; {}\n", said(&fault)))?;
    let asked = Asked { length_m, class, species, oversize, weighed_kg };
    match pole_sheet(&asked) {
        Ok(sheet) => Ok(report::pole_sheet::render(&sheet, units)),
        Err(NoSheet::Size { known }) => Err(format!(
            "Found a pole of \"{length}\" class \"{}\"; expected one of the table: {}\n    help: plumbrise list poles shows all\n",
            asked.class,
            known.join(", ")
        )),
        Err(NoSheet::Species { known }) => Err(format!(
            "Found the species \"{}\"; expected {}\n    help: plumbrise list species shows their other names\n",
            asked.species,
            known.join(", ")
        )),
        Err(NoSheet::Figure) => Err("Found a weight or an oversize that no pole has.\n".to_owned()),
    }
}

/// A number alone is feet: that is how a pole is called.
fn length_m(text: &str) -> Result<f64, QuantityFault> {
    let alone = !text.trim().is_empty() && text.trim().chars().all(|c| c.is_ascii_digit());
    let typed = if alone { format!("{} ft", text.trim()) } else { text.to_owned() };
    Ok(Quantity::<Length>::parse(&typed)?.si())
}
