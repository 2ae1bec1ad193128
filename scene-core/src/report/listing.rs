//! The program's tables as text, each with its source.

use super::table::{Align, Table};
use crate::bracket::Bracket;
use crate::catalog::{self, tables};
use crate::cover::{self, Class};
use crate::machine::Insulation;
use crate::machine::aerial_lift::{BucketTruck, Joints, Linkage};
use crate::quantity::show::{
    Round, Units, show_density, show_feet_inches, show_force, show_length, show_line_weight, show_mass, show_pressure,
    show_small_length, show_voltage,
};
use crate::quantity::unit::DIMENSIONS;
use crate::scene::{catalog_bucket_truck, catalog_crane};
use crate::site::{CoverMake, Crane, Pole, Shell};

/// Columns of a line.
const WIDTH: usize = 110;

/// What can be listed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Listed {
    Conductors,
    Poles,
    Species,
    Depths,
    Soils,
    Covers,
    Cranes,
    Derricks,
    BucketTrucks,
    Units,
}

impl Listed {
    /// Every list by the word that asks for it.
    pub const ALL: [(&'static str, Self); 10] = [
        ("conductors", Self::Conductors),
        ("poles", Self::Poles),
        ("species", Self::Species),
        ("depths", Self::Depths),
        ("soils", Self::Soils),
        ("covers", Self::Covers),
        ("cranes", Self::Cranes),
        ("derricks", Self::Derricks),
        ("bucket_trucks", Self::BucketTrucks),
        ("units", Self::Units),
    ];
}

/// A list with its heading and its sources.
pub fn render(listed: Listed, units: Units) -> String {
    let (title, table, notes) = match listed {
        Listed::Conductors => conductors(units),
        Listed::Poles => poles(units),
        Listed::Species => species(units),
        Listed::Depths => depths(units),
        Listed::Soils => soils(units),
        Listed::Covers => covers(),
        Listed::Cranes => cranes(units),
        Listed::Derricks => derricks(units),
        Listed::BucketTrucks => bucket_trucks(units),
        Listed::Units => of_units(),
    };
    let lines: Vec<String> = table.blocks(WIDTH).into_iter().flatten().collect();
    format!("{title}\n\n{}\n\n{}\n", lines.join("\n"), notes.join("\n"))
}

type List = (&'static str, Table, Vec<&'static str>);

use Align::{Left, Right};

fn conductors(units: Units) -> List {
    let mut table = Table::new(&[
        ("name", Left),
        ("size", Left),
        ("strands", Left),
        ("type", Left),
        ("diameter", Right),
        ("weight", Right),
        ("strength", Right),
        ("source", Left),
    ]);
    for row in tables::conductors() {
        let wire = &row.conductor;
        let recalled = match wire.from_memory.as_str() {
            "" => String::new(),
            figures => format!("; {figures} from memory"),
        };
        table.row(vec![
            wire.name.clone(),
            row.size.to_owned(),
            row.stranding.to_owned(),
            row.kind.to_owned(),
            match units {
                // The third digit of an inch tells sizes apart.
                Units::Us => format!("{:.3} in", wire.diameter_m / crate::quantity::unit::INCH_M),
                _ => format!("{:.2} mm", wire.diameter_m * 1000.0),
            },
            show_line_weight(wire.weight_n_per_m, units, Round::Nearest),
            wire.rated_strength_n.map_or_else(|| "-".to_owned(), |n| show_force(n, units, Round::Down)),
            format!("{}{recalled}", row.standard),
        ]);
    }
    let notes = vec![
        "Write the name, or size and type, or size, strands and type: \"Raven\", \"1/0 ACSR\", \"336.4 26/7 ACSR\".",
        "Stiffness and expansion are in the table too, so a wire needs no figures of its own. What is from memory prompts a caution.",
    ];
    ("Conductors, guy strand and service drops", table, notes)
}

fn poles(units: Units) -> List {
    let mut table = Table::new(&[
        ("length", Right),
        ("class", Left),
        ("around the top", Right),
        ("6 ft from the butt", Right),
        ("southern yellow pine", Right),
        ("douglas-fir", Right),
        ("source", Left),
    ]);
    for tables::ListedPole { length_m, class, sizes, status } in tables::wood_poles() {
        let weight = |species: &str| {
            let pole = Pole {
                name: String::new(),
                length_m,
                shell: Shell::Wood {
                    top_circumference_m: sizes.top_circumference_m,
                    circumference_at_6_ft_m: sizes.circumference_at_6_ft_m,
                    density_kg_m3: catalog::wood_species(species)
                        .map_or(Bracket::exactly(f64::NAN), |s| s.density_kg_m3),
                    oversize: 1.0,
                },
                maker: None,
                items: Vec::new(),
                setting_depth_m: 0.0,
                shallow: None,
                unlocked_joints_m: Vec::new(),
                from_memory: String::new(),
            };
            crate::pole::mass(&pole, &[]).map_or_else(|_| "-".to_owned(), |mass| range(mass.kg, units))
        };
        table.row(vec![
            show_feet_inches(length_m, units, Round::Nearest),
            class.to_owned(),
            show_small_length(sizes.top_circumference_m, units, Round::Nearest),
            show_small_length(sizes.circumference_at_6_ft_m, units, Round::Nearest),
            weight("southern yellow pine"),
            weight("douglas-fir"),
            format!("ANSI O5.1 ({status})"),
        ]);
    }
    let notes = vec![
        "Least sizes of each class, and the weight at that size from the lightest timber to the heaviest; a real pole may be larger.",
        "plumbrise pole 45 3 \"southern pine\" says more of one. Western red cedar: see plumbrise list species.",
    ];
    ("Wood poles by length and class", table, notes)
}

fn range(kg: Bracket, units: Units) -> String {
    format!("{} to {}", show_mass(kg.low(), units, Round::Down), show_mass(kg.high(), units, Round::Up))
}

fn species(units: Units) -> List {
    let mut table =
        Table::new(&[("species", Left), ("also", Left), ("weighs", Left), ("size", Right), ("source", Left)]);
    for row in tables::species() {
        let density = row.species.density_kg_m3;
        table.row(vec![
            row.species.name.to_owned(),
            row.also.join(", "),
            format!(
                "{} to {}",
                show_density(density.low(), units, Round::Down),
                show_density(density.high(), units, Round::Up)
            ),
            format!("{:.1} %", row.species.size_share * 100.0),
            row.status.to_owned(),
        ]);
    }
    let notes = vec![
        "From the lightest dry pole to the heaviest freshly treated or rain-wet one. Size: circumference 6 ft from the butt, in percent",
        "of the table of poles. A weighed pole or the supplier's figure holds over these.",
    ];
    ("Species of wood poles", table, notes)
}

fn depths(units: Units) -> List {
    let mut table = Table::new(&[("pole", Right), ("in soil", Right), ("in solid rock", Right), ("source", Left)]);
    let source = "ANSI O5.1 groundline distances; rock by the lineman's handbooks";
    for (length_m, depth) in tables::setting_depths() {
        table.row(vec![
            show_feet_inches(length_m, units, Round::Nearest),
            show_feet_inches(depth.soil_m, units, Round::Up),
            depth.rock_m.map_or_else(|| "-".to_owned(), |m| show_feet_inches(m, units, Round::Up)),
            source.to_owned(),
        ]);
    }
    let notes = vec!["The check also holds a pole to 10 percent of its length and 2 ft; the deeper of the two counts."];
    ("Setting depths", table, notes)
}

fn soils(units: Units) -> List {
    let mut table = Table::new(&[("soil", Left), ("group", Left), ("presumed to bear", Right), ("source", Left)]);
    for (soil, group, bearing_pa) in tables::soils() {
        table.row(vec![
            soil.to_owned(),
            group.to_owned(),
            show_pressure(bearing_pa, units, Round::Down),
            "International Building Code 2012 Table 1806.2".to_owned(),
        ]);
    }
    let notes = vec![
        "For foundations. Mud, organic soil, peat, fresh fill and the edge of a trench have no presumed value.",
        "Write the figure under outriggers, bearing, once somebody has looked at the ground.",
    ];
    ("Bearing of soils", table, notes)
}

fn covers() -> List {
    let mut table =
        Table::new(&[("make", Left), ("phase to phase", Right), ("phase to ground", Right), ("source", Left)]);
    let rubber = (0..=9).map(|class| ("rubber", class, CoverMake::Rubber { class }));
    let plastic = (0..=9).map(|class| ("plastic", class, CoverMake::Plastic { class }));
    for (kind, class, make) in rubber.chain(plastic) {
        let Ok(Class { max_phase_phase_v, max_phase_ground_v, status }) = cover::class(make) else { continue };
        let standard = if kind == "rubber" { "29 CFR 1910.137 Table I-4" } else { "ASTM F712" };
        table.row(vec![
            format!("{kind}({class})"),
            show_voltage(max_phase_phase_v),
            if kind == "rubber" { "-".to_owned() } else { show_voltage(max_phase_ground_v) },
            if status == "verified" { standard.to_owned() } else { format!("{standard}, from {status}") },
        ]);
    }
    let notes = vec!["For brush contact, never for planned contact. The label of the cover holds over this table."];
    ("Classes of covers", table, notes)
}

const INVENTED: &str = "invented";
const INVENTED_NOTE: &str =
    "No maker builds these machines. Plan a lift with your machine's own chart and figures only.";

fn all_cranes() -> impl Iterator<Item = Crane> {
    catalog::crane_names().filter_map(catalog_crane)
}

fn crane_table(first: &[(&str, Align)]) -> Table {
    let rest = [("boom", Left), ("rated most", Left), ("farthest", Left), ("line pull", Right)];
    Table::new(&[&[("model", Left)], rest.as_slice(), first, &[("source", Left)]].concat())
}

fn crane_cells(crane: &Crane, units: Units) -> Vec<String> {
    let feet = |m: f64, round| show_feet_inches(m, units, round);
    let cells = crane.chart.sectors.iter().flat_map(|sector| {
        let rows = sector.radii_m.iter().zip(&sector.rated_kg);
        rows.flat_map(|(radius_m, row)| row.iter().flatten().map(|kg| (*radius_m, *kg)))
    });
    let said = |cell: Option<(f64, f64)>| {
        cell.map_or_else(
            || "-".to_owned(),
            |(radius_m, kg)| format!("{} at {}", show_mass(kg, units, Round::Down), feet(radius_m, Round::Up)),
        )
    };
    let most = cells.clone().max_by(|a, b| a.1.total_cmp(&b.1).then(a.0.total_cmp(&b.0)));
    let farthest = cells.max_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let boom = crane.boom_length_m;
    vec![
        crane.name.clone(),
        format!("{} to {}", feet(boom.low(), Round::Nearest), feet(boom.high(), Round::Nearest)),
        said(most),
        said(farthest),
        show_force(crane.line_pull_n, units, Round::Down),
    ]
}

fn cranes(units: Units) -> List {
    let mut table = crane_table(&[("tail", Right)]);
    for crane in all_cranes().filter(|crane| crane.derrick.is_none()) {
        let tail = show_feet_inches(crane.tail.radius_m, units, Round::Up);
        table.row([crane_cells(&crane, units), vec![tail, INVENTED.to_owned()]].concat());
    }
    ("Cranes", table, vec![INVENTED_NOTE])
}

fn derricks(units: Units) -> List {
    let mut table = crane_table(&[("pole guides", Left), ("insulated tip", Right)]);
    for crane in all_cranes() {
        let Some(derrick) = &crane.derrick else { continue };
        let small = |m: f64, round| show_feet_inches(m, units, round);
        let holds = derrick.guides.holds_m;
        let guides = format!("{} to {}", small(holds.low(), Round::Up), small(holds.high(), Round::Down));
        let tip = derrick.insulated_tip_m.map_or_else(|| "none".to_owned(), |m| show_length(m, units, Round::Down));
        table.row([crane_cells(&crane, units), vec![guides, tip, INVENTED.to_owned()]].concat());
    }
    ("Digger derricks", table, vec![INVENTED_NOTE])
}

fn bucket_trucks(units: Units) -> List {
    let mut table = Table::new(&[
        ("model", Left),
        ("booms", Left),
        ("rim up to", Right),
        ("out to", Right),
        ("bucket holds", Right),
        ("insulated for", Left),
        ("source", Left),
    ]);
    let trucks = catalog::bucket_truck_names().filter_map(catalog_bucket_truck);
    for lift in trucks {
        let Some(truck) = lift.as_kind::<BucketTruck>() else { continue };
        let (up_m, out_m) = rim_reach_m(truck);
        let booms = match truck.linkage {
            Linkage::Articulating { .. } if truck.upper.length_m.width() > 0.0 => "articulating, telescoping",
            Linkage::Articulating { .. } => "articulating",
            Linkage::Telescoping { .. } => "telescoping",
        };
        table.row(vec![
            truck.name.clone(),
            booms.to_owned(),
            show_feet_inches(up_m, units, Round::Down),
            show_feet_inches(out_m, units, Round::Down),
            show_mass(truck.capacity_kg, units, Round::Down),
            match &truck.insulation {
                Insulation::Section { rated_v, category, .. } => {
                    format!("{}, category {category:?}", show_voltage(*rated_v))
                }
                _ => "not insulated".to_owned(),
            },
            INVENTED.to_owned(),
        ]);
    }
    ("Bucket trucks", table, vec![INVENTED_NOTE])
}

/// How high the bucket's rim comes, and how far its middle comes from the axis; over whole degrees of the booms.
fn rim_reach_m(truck: &BucketTruck) -> (f64, f64) {
    let degrees = |range: Bracket| {
        let steps = (range.width().to_degrees().ceil() as usize).clamp(1, 720);
        (0..=steps).map(move |i| range.at(i as f64 / steps as f64))
    };
    let length_m = truck.upper.length_m.high();
    let booms: Vec<(f64, f64)> = match truck.linkage {
        Linkage::Telescoping { angle } => degrees(angle).map(|upper| (0.0, upper)).collect(),
        Linkage::Articulating { angle, fold, .. } => {
            degrees(angle).flat_map(|lower| degrees(fold).map(move |fold| (lower, lower + fold))).collect()
        }
    };
    let (mut up_m, mut out_m) = (0.0, 0.0);
    for (lower, upper) in booms {
        let joints = Joints { slew: 0.0, lower, upper, length_m };
        let rim = truck.rim_in_world(&joints);
        up_m = f64::max(up_m, rim.z);
        out_m = f64::max(out_m, rim.truncate().length());
    }
    (up_m, out_m)
}

fn of_units() -> List {
    let mut table = Table::new(&[("what", Left), ("units", Left), ("also written", Left)]);
    for info in DIMENSIONS {
        let also: Vec<&str> = info.units.iter().flat_map(|unit| unit.names.iter().skip(1).copied()).collect();
        table.row(vec![info.what.to_owned(), info.allowed(), also.join(", ")]);
    }
    let notes = vec![
        "A number always has its unit: \"12 ft 6 in\", 12'-6\", \"8 5/8 in\", \"1.2 m\". A range: \"2 ft 3 in to 2 ft 9 in\".",
        "Source: NIST SP 811; a pound of force is that of a pound under standard gravity.",
    ];
    ("Units", table, notes)
}
