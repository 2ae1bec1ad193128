//! The planner's own conductors, wood poles and cover classes. A row stands beside those of the catalog, never in place of one.

use super::table::{self, check_heads, figure, number, shape, words};
use super::{Beside, open};
use crate::catalog::{self, WoodPole};
use crate::cover;
use crate::csv::{Row, Table};
use crate::quantity::unit::{FOOT_M, INCH_M};
use crate::scene::fault::{FaultKind, Faults};
use crate::scene::tree::Place;
use crate::scene::value::Value;
use crate::site::{Conductor, CoverMake};

/// What the files hold.
#[derive(Debug, Default)]
pub(crate) struct Own {
    pub conductors: Vec<Conductor>,
    pub wood_poles: Vec<OwnPole>,
    pub covers: Vec<(String, CoverMake)>,
    /// A file that could not be read to its end: what is not found may stand in it.
    pub unsure: bool,
}

#[derive(Debug)]
pub(crate) struct OwnPole {
    pub length_m: f64,
    pub class: String,
    pub sizes: WoodPole,
}

impl Own {
    pub fn wood_pole(&self, length_m: f64, class: &str) -> Option<WoodPole> {
        let same = |own: &&OwnPole| (own.length_m - length_m).abs() < 0.01 && own.class == class;
        self.wood_poles.iter().find(same).map(|own| own.sizes)
    }
}

/// Reads the files that the scene names, each a CSV of the form of the one that comes with the program and a source in every
/// row. `in_scene` are the conductors that stand in the scene itself.
pub(crate) fn own<'n>(stated: &Value<'_>, beside: &Beside, in_scene: impl Iterator<Item = &'n str> + Clone) -> Own {
    stated.fields("the catalogs", |f| {
        let mut own = Own::default();
        let [conductor_file, pole_file, cover_file] = ["conductors", "wood_poles", "covers"].map(|name| f.may(name));
        f.note();
        let read = |file: Option<Value<'_>>, take: &mut dyn FnMut(&Table, &mut Faults)| {
            let Some(file) = file else { return false };
            let Some((text, mut found)) = open(beside, &file) else { return true };
            if let Some(table) = table::read(text, &mut found) {
                take(&table, &mut found);
            }
            let unsure = !found.is_empty();
            file.with_faults(|faults| faults.absorb(found));
            unsure
        };
        let unsure = [
            read(conductor_file, &mut |table, faults| own.conductors = conductors(table, in_scene.clone(), faults)),
            read(pole_file, &mut |table, faults| own.wood_poles = wood_poles(table, faults)),
            read(cover_file, &mut |table, faults| own.covers = covers(table, faults)),
        ];
        own.unsure = unsure.contains(&true);
        own
    })
}

/// Each name stands once in its file, and nowhere else.
#[derive(Default)]
struct Names(Vec<(String, Place)>);

impl Names {
    fn add(&mut self, what: &'static str, name: &str, place: Place, elsewhere: Option<String>, faults: &mut Faults) {
        if name.is_empty() {
            return;
        }
        if let Some((_, first)) = self.0.iter().find(|(other, _)| other == name) {
            faults.add_at(place, "", FaultKind::NameTwice { what, name: name.to_owned(), first: *first });
        } else if let Some(elsewhere) = elsewhere {
            faults.add_at(place, "", FaultKind::ElsewhereToo { what, name: name.to_owned(), elsewhere });
        }
        self.0.push((name.to_owned(), place));
    }
}

/// Heads of figures that a conductor may leave out, each with its band.
const MAY: [(&str, (f64, f64)); 7] = [
    ("rated_strength_lb", (100.0, 300_000.0)),
    ("area_in2", (0.002, 10.0)),
    ("final_modulus_1e6_psi", (4.0, 35.0)),
    ("expansion_1e-6_per_f", (5.0, 15.0)),
    ("core_area_in2", (0.0005, 5.0)),
    ("core_modulus_1e6_psi", (5.0, 35.0)),
    ("core_expansion_1e-6_per_f", (0.5, 15.0)),
];
const MUST: [(&str, (f64, f64)); 2] = [("diameter_in", (0.05, 4.0)), ("weight_lb_per_1000ft", (5.0, 10_000.0))];

fn conductors<'n>(
    table: &Table,
    in_scene: impl Iterator<Item = &'n str> + Clone,
    faults: &mut Faults,
) -> Vec<Conductor> {
    let needed = ["code_word", "diameter_in", "weight_lb_per_1000ft", "source"];
    let allowed_words = ["type", "standard", "size", "stranding"];
    let allowed: Vec<&'static str> = MAY.iter().map(|(head, _)| *head).chain(allowed_words).collect();
    check_heads(table, "a catalog of conductors", &needed, &allowed, |_| false, faults);
    let mut names = Names::default();
    let mut found = Vec::new();
    for row in &table.rows {
        let name = words(row, "code_word", faults);
        let elsewhere = if catalog::conductor_names().any(|other| other == name) {
            Some("the program's conductors.csv".to_owned())
        } else {
            in_scene.clone().any(|other| other == name).then(|| "the scene's conductors".to_owned())
        };
        names.add("the conductor", &name, row.place, elsewhere, faults);
        let source = words(row, "source", faults);
        let must = MUST.map(|(head, band)| (head, Some(figure(row, head, band, faults))));
        let may = MAY.map(|(head, band)| (head, number(row, head, band, faults)));
        let stated = |head: &str| must.iter().chain(&may).find(|(other, _)| *other == head)?.1;
        let one_metal = row.text("type").is_ok_and(|kind| ["AAC", "AAAC", "copper"].contains(&kind));
        if let Some(mut conductor) = catalog::conductor_of(&name, source, stated) {
            // A core that nobody thought of would hang the wire too low.
            conductor.metal = conductor.metal.filter(|metal| one_metal || metal.core != crate::site::Core::OneMetal);
            found.push(conductor);
        }
    }
    found
}

fn wood_poles(table: &Table, faults: &mut Faults) -> Vec<OwnPole> {
    let (top, low) = ("top_circumference_in", "circumference_at_6_ft_in");
    let heads = ["length_ft", "class", top, low, "source"];
    check_heads(table, "a catalog of wood poles", &heads, &[], |_| false, faults);
    let mut names = Names::default();
    let mut found = Vec::new();
    for row in &table.rows {
        let feet = figure(row, "length_ft", (20.0, 130.0), faults);
        let class = words(row, "class", faults);
        words(row, "source", faults);
        let length_m = feet * FOOT_M;
        let elsewhere = catalog::wood_pole(length_m, &class).map(|_| "the program's wood_poles.csv".to_owned());
        let name = if class.is_empty() { String::new() } else { format!("{feet} ft class {class}") };
        names.add("the pole", &name, row.place, elsewhere, faults);
        let [top_in, low_in] = [top, low].map(|head| figure(row, head, (8.0, 120.0), faults));
        if top_in > low_in {
            let found = format!("{top_in} in at the top");
            shape(faults, row.place, top, found, format!("no more than the {low_in} in at 6 ft"));
        }
        let sizes = WoodPole {
            top_circumference_m: top_in * INCH_M,
            circumference_at_6_ft_m: low_in * INCH_M,
            from_memory: false,
        };
        found.push(OwnPole { length_m, class, sizes });
    }
    found
}

fn covers(table: &Table, faults: &mut Faults) -> Vec<(String, CoverMake)> {
    let (between, to_ground) = ("max_use_phase_phase_kv", "max_use_phase_ground_kv");
    let heads = ["class", between, to_ground, "source"];
    check_heads(table, "a catalog of cover classes", &heads, &["proof_kv"], |_| false, faults);
    let mut names = Names::default();
    let mut found = Vec::new();
    for row in &table.rows {
        let class = words(row, "class", faults);
        words(row, "source", faults);
        names.add("the cover class", &class, row.place, in_the_program(&class), faults);
        let [between_kv, to_ground_kv] = rated_kv(row, [between, to_ground], faults);
        let proof_kv = number(row, "proof_kv", (0.5, 200.0), faults);
        if to_ground_kv > between_kv {
            let expected = format!("no more than the {between_kv} kV between phases");
            shape(faults, row.place, to_ground, format!("{to_ground_kv} kV to ground"), expected);
        }
        if proof_kv.is_some_and(|proof| proof <= to_ground_kv) {
            let expected = format!("more than the {to_ground_kv} kV of use");
            shape(faults, row.place, "proof_kv", "a proof no higher than the use", expected);
        }
        // Whole volts, downward.
        let volts = |kv: f64| (kv * 1e3 + 1e-6).floor() as u32;
        let make = CoverMake::Own { max_phase_phase_v: volts(between_kv), max_phase_ground_v: volts(to_ground_kv) };
        found.push((class, make));
    }
    found
}

fn rated_kv(row: &Row, heads: [&str; 2], faults: &mut Faults) -> [f64; 2] {
    heads.map(|head| figure(row, head, (0.1, 100.0), faults))
}

/// A class of a standard must not be taken for one of the planner's.
fn in_the_program(class: &str) -> Option<String> {
    let number: u8 = class.parse().ok()?;
    let known = |make: CoverMake| cover::class(make).is_ok();
    let file = if known(CoverMake::Rubber { class: number }) {
        "cover_rubber.csv"
    } else if known(CoverMake::Plastic { class: number }) {
        "cover_plastic.csv"
    } else {
        return None;
    };
    Some(format!("the program's {file}"))
}
