//! What a bare wood pole weighs, where it balances and may be choked, and how deep it sets, from its length, class and species.
//! No scene is needed.
//!
//! Every range errs to the careful side: the light end is that of a dry pole of the least size, the heavy end that of a freshly
//! treated one that is oversize by the share asked for. A ticket's weight stands beside the range and never narrows it.
//!
//! Not modeled: hardware, covers, sweep, rot, ice.

use crate::bracket::Bracket;
use crate::catalog::find::Found;
use crate::catalog::{self, tables};
use crate::pole::{self, Mass};
use crate::quantity::unit::INCH_M;
use crate::rigging;
use crate::setting;
use crate::site::{Pole, Shell};

/// How much larger than the least size of its class a pole may be, in circumference. Our judgment, not published.
pub const OVERSIZE: f64 = 0.06;

/// Free space around the butt in the hole, meters. Source: Army subcourse SS0439, 4 in on each side; status verified.
pub const SPACE_M: f64 = 4.0 * INCH_M;

/// What is asked about.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    pub length_m: f64,
    pub class: String,
    pub species: String,
    /// Share of the circumference, such as [`OVERSIZE`].
    pub oversize: f64,
    /// By its ticket or an indicator.
    pub weighed_kg: Option<f64>,
}

/// The answer. Heights are meters from the butt.
#[derive(Clone, Debug, PartialEq)]
pub struct PoleSheet {
    pub length_m: f64,
    pub class: String,
    pub species: &'static str,
    pub oversize: f64,
    /// From its size and density, whatever a ticket says.
    pub kg: Bracket,
    /// What suppliers' published weights make of the least size; `None` where none was seen.
    pub published_kg: Option<Bracket>,
    pub weighed_kg: Option<f64>,
    pub balance_m: Bracket,
    /// Where a choker hangs it butt down; `None` where there is no such place.
    pub choker_m: Option<Bracket>,
    /// In soil, and the source.
    pub depth_m: f64,
    pub depth_source: &'static str,
    /// In solid rock, where a published depth was seen.
    pub rock_depth_m: Option<f64>,
    /// The largest that butt and top may be across, meters.
    pub butt_m: f64,
    pub top_m: f64,
    /// The least diameter of the hole.
    pub hole_m: f64,
    /// Figures that are recalled and were not seen in a published table; empty when there are none.
    pub from_memory: String,
}

/// Why there is no answer.
#[derive(Clone, Debug, PartialEq)]
pub enum NoSheet {
    /// No pole of this length and class in the table; the classes of this length, or the lengths where there are none.
    Size { known: Vec<String> },
    /// The names that are known, or the ones that may be meant.
    Species { known: Vec<String> },
    /// Oversize or weight are not numbers that a pole can have.
    Figure,
}

/// # Errors [`NoSheet`] when the tables do not have the pole.
pub fn pole_sheet(asked: &Asked) -> Result<PoleSheet, NoSheet> {
    let length_m = asked.length_m;
    let sizes =
        catalog::wood_pole(length_m, &asked.class).ok_or_else(|| NoSheet::Size { known: sizes_like(length_m) })?;
    let species = match catalog::find_wood_species(&asked.species) {
        Found::One(species) => species,
        Found::Several(known) => return Err(NoSheet::Species { known }),
        Found::None => {
            return Err(NoSheet::Species { known: catalog::wood_species_names().map(str::to_owned).collect() });
        }
    };
    let usable = (0.0..=0.5).contains(&asked.oversize) && asked.weighed_kg.is_none_or(|kg| kg > 0.0 && kg.is_finite());
    if !usable {
        return Err(NoSheet::Figure);
    }
    let (depth_m, depth_source) = setting::published_depth_m(length_m);
    let of = |density_kg_m3: Bracket, oversize: f64| Pole {
        name: String::new(),
        length_m,
        shell: Shell::Wood {
            top_circumference_m: sizes.top_circumference_m,
            circumference_at_6_ft_m: sizes.circumference_at_6_ft_m * species.size_share,
            density_kg_m3,
            oversize: 1.0 + oversize,
        },
        maker: None,
        items: Vec::new(),
        setting_depth_m: depth_m,
        shallow: None,
        unlocked_joints_m: Vec::new(),
        from_memory: String::new(),
    };
    let weigh = |pole: &Pole| pole::mass(pole, &[]).map_err(|_| NoSheet::Figure);
    let pole = of(species.density_kg_m3, asked.oversize);
    let mass = weigh(&pole)?;
    let published_kg = match tables::published_density_kg_m3(species.name) {
        Some(density) => Some(weigh(&of(density, 0.0))?.kg),
        None => None,
    };
    let across = |from_butt_m: f64| pole::outer_radius_m(&pole, from_butt_m).map_or(f64::NAN, |radius| 2.0 * radius);
    let butt_m = across(0.0);
    let size_recalled = sizes.from_memory && !species.from_memory.contains("size");
    let recalled = [if size_recalled { "size" } else { "" }, species.from_memory];
    let Mass { kg, balance_from_butt_m, .. } = mass.clone();
    Ok(PoleSheet {
        length_m,
        class: asked.class.clone(),
        species: species.name,
        oversize: asked.oversize,
        kg,
        published_kg,
        weighed_kg: asked.weighed_kg,
        balance_m: balance_from_butt_m,
        choker_m: rigging::choker_room(&pole, &mass),
        depth_m,
        depth_source,
        rock_depth_m: catalog::setting_depth(length_m).and_then(|depth| depth.rock_m),
        butt_m,
        top_m: across(length_m),
        hole_m: butt_m + 2.0 * SPACE_M,
        from_memory: recalled.iter().filter(|words| !words.is_empty()).copied().collect::<Vec<_>>().join(" and "),
    })
}

/// The classes of this length, or all lengths where there are none.
fn sizes_like(length_m: f64) -> Vec<String> {
    let known = catalog::wood_poles_of(length_m);
    if !known.is_empty() {
        return known;
    }
    let mut lengths: Vec<String> = Vec::new();
    for tables::ListedPole { length_m, .. } in tables::wood_poles() {
        let said = format!("{:.0} ft", length_m / crate::quantity::unit::FOOT_M);
        if lengths.last() != Some(&said) {
            lengths.push(said);
        }
    }
    lengths
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::unit::{FOOT_M, POUND_KG};

    fn ask(feet: f64, class: &str, species: &str) -> Asked {
        Asked {
            length_m: feet * FOOT_M,
            class: class.to_owned(),
            species: species.to_owned(),
            oversize: OVERSIZE,
            weighed_kg: None,
        }
    }

    /// source: frustum of ANSI O5.1 least sizes, 45 ft class 3: 25.0449 ft3, center 18.592 ft from the butt; status computed
    #[test]
    fn a_45_3_is_as_worked_by_hand() {
        let sheet = pole_sheet(&ask(45.0, "3", "southern pine")).unwrap();
        let pounds = |kg: f64| kg / POUND_KG;
        assert!((pounds(sheet.kg.low()) - 25.0449 * 48.0).abs() < 0.5, "{:?}", sheet.kg);
        assert!((pounds(sheet.kg.high()) - 25.0449 * 75.0 * 1.06 * 1.06).abs() < 1.0, "{:?}", sheet.kg);
        assert!(sheet.balance_m.contains(18.592 * FOOT_M) && sheet.balance_m.width() < 2.0 * FOOT_M);
        let choker = sheet.choker_m.unwrap();
        assert!((choker.low() - sheet.balance_m.high() - FOOT_M).abs() < 1e-9 && choker.high() < 45.0 * FOOT_M);
        assert_eq!((sheet.depth_m / FOOT_M * 100.0).round(), 650.0);
        assert_eq!(sheet.rock_depth_m, Some(4.5 * FOOT_M));
        // The butt of the least size is 39.7308 in around.
        assert!((sheet.butt_m / INCH_M - 39.7308 / std::f64::consts::PI * 1.06).abs() < 1e-3);
        assert!((sheet.hole_m - sheet.butt_m - 8.0 * INCH_M).abs() < 1e-12);
        assert!(sheet.from_memory.is_empty());
    }

    #[test]
    fn a_ticket_narrows_nothing() {
        let bare = pole_sheet(&ask(45.0, "3", "southern pine")).unwrap();
        let weighed = pole_sheet(&Asked { weighed_kg: Some(500.0), ..ask(45.0, "3", "southern pine") }).unwrap();
        assert_eq!(PoleSheet { weighed_kg: None, ..weighed }, bare);
    }

    #[test]
    fn what_the_tables_do_not_have_is_refused_with_what_they_have() {
        let known = |asked: Asked| match pole_sheet(&asked) {
            Err(NoSheet::Size { known } | NoSheet::Species { known }) => known,
            other => panic!("{other:?}"),
        };
        assert!(known(ask(45.0, "33", "southern pine")).contains(&"45 ft class 3".to_owned()));
        assert!(known(ask(47.0, "3", "southern pine")).contains(&"45 ft".to_owned()));
        assert!(known(ask(45.0, "3", "oak")).contains(&"douglas-fir".to_owned()));
        for (oversize, weighed_kg) in
            [(f64::NAN, None), (-0.1, None), (0.06, Some(f64::NAN)), (0.06, Some(-1.0)), (0.06, Some(f64::INFINITY))]
        {
            let asked = Asked { oversize, weighed_kg, ..ask(45.0, "3", "southern pine") };
            assert_eq!(pole_sheet(&asked), Err(NoSheet::Figure));
        }
        assert!(pole_sheet(&ask(f64::NAN, "3", "southern pine")).is_err());
    }

    #[test]
    fn cedar_is_thicker_at_the_ground_and_says_what_it_rests_on() {
        let [cedar, pine] = ["cedar", "southern pine"].map(|species| pole_sheet(&ask(45.0, "3", species)).unwrap());
        assert!(cedar.butt_m > 1.09 * pine.butt_m && (cedar.top_m - pine.top_m).abs() < 1e-9);
        assert_eq!(cedar.from_memory, "density and size");
        assert_eq!(cedar.published_kg, None);
        assert_eq!(pole_sheet(&ask(45.0, "H1", "douglas-fir")).unwrap().from_memory, "size");
    }

    #[test]
    fn every_pole_of_the_table_has_a_sheet() {
        for tables::ListedPole { length_m, class, .. } in tables::wood_poles() {
            for species in catalog::wood_species_names() {
                let asked = Asked { length_m, ..ask(45.0, class, species) };
                let sheet = pole_sheet(&asked).unwrap();
                assert!(sheet.kg.low() > 0.0 && sheet.kg.low() < sheet.kg.high());
                assert!(
                    sheet.balance_m.low() > 0.3 * length_m && sheet.balance_m.high() < 0.52 * length_m,
                    "{sheet:?}"
                );
                assert!(sheet.choker_m.is_some() && sheet.depth_m > 0.0 && sheet.top_m < sheet.butt_m);
            }
        }
    }
}
