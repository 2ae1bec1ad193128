//! The pole, its hole, and how it is rigged.

use super::beside::Own;
use super::fault::FaultKind;
use super::measure::{Measure, Point};
use super::measured::measurement;
use super::value::{List, Value};
use crate::bracket::Bracket;
use crate::catalog::{self, WoodPole, find::Found};
use crate::quantity::show::{Round, Units, show_length};
use crate::quantity::unit::FOOT_M;
use crate::quantity::{Angle, Density, Force, Length, Mass, Ratio};
use crate::site;

/// Heights along the pole that was read, from its butt.
pub(super) struct OnPole<'n> {
    length: Measure<'n, Length>,
}

impl OnPole<'_> {
    /// All of `heights_m`, which a value says, lie on the pole.
    pub fn check(&self, at: &Value<'_>, said: String, heights_m: impl IntoIterator<Item = f64>) {
        let off = heights_m.into_iter().any(|height| height < 0.0 || height > self.length.si() + 1e-9);
        at.fault_if(off, || FaultKind::OffPole { found: said, length: self.length.said() });
    }

    fn check_one(&self, height: &Measure<'_, Length>) {
        self.check(&height.at, height.said(), [height.si()]);
    }
}

pub(super) fn pole<'n>(value: &Value<'n>, hole: &Hole<'_>, own: &Own) -> (site::Pole, OnPole<'n>) {
    value.fields("the pole", |f| {
        let name = f.text("name");
        let on_pole = OnPole { length: f.measure("length", "20 ft", "130 ft") };
        let (shell, from_memory) = shell(&f.need("shell"), &on_pole.length, own);
        let maker = f.may("maker").map(|value| maker(&value, &on_pole));
        let items = items(&f.list("items"), &on_pole);
        let setting_depth = f.measure::<Length>("setting_depth", "2 ft", "25 ft");
        let shallow = f.may("shallow").and_then(|value| shallow(&value));
        let joints = f.list("unlocked_joints").items;
        let joints: Vec<_> = joints.iter().map(|joint| joint.measure("0 ft", "130 ft")).collect();
        f.note();
        on_pole.check_one(&setting_depth);
        joints.iter().for_each(|joint| on_pole.check_one(joint));
        let deeper = setting_depth.si() > hole.depth.si() + 1e-9;
        setting_depth
            .at
            .fault_if(deeper, || FaultKind::DeeperThanHole { setting: setting_depth.said(), hole: hole.depth.said() });
        let pole = site::Pole {
            name,
            length_m: on_pole.length.si(),
            shell,
            maker,
            items,
            setting_depth_m: setting_depth.si(),
            shallow,
            unlocked_joints_m: joints.iter().map(Measure::si).collect(),
            from_memory,
        };
        (pole, on_pole)
    })
}

/// Why it sets shallower than published.
fn shallow(value: &Value<'_>) -> Option<site::Shallow> {
    match value.variant(&["rock", "engineer"])? {
        "rock" => Some(site::Shallow::Rock(measurement(value))),
        _ => value.fields("an engineer's depth", |f| {
            let engineer = site::Shallow::Engineer { by: f.text("by"), document: f.text("document") };
            f.note();
            Some(engineer)
        }),
    }
}

/// The shell, and which of its figures are from memory.
fn shell(value: &Value<'_>, length: &Measure<'_, Length>, own: &Own) -> (site::Shell, String) {
    let shell = match value.variant(&["steel_tube", "wood", "wood_measured"]) {
        Some("wood") => return wood(value, length, own),
        Some("wood_measured") => wood_measured(value),
        Some(_) => steel_tube(value, length),
        None => site::Shell::SteelTube { sides: site::Sides::Round, sections: Vec::new() },
    };
    (shell, String::new())
}

/// What a section of a steel tube says of itself.
struct Tube<'n> {
    length: Measure<'n, Length>,
    bottom: Measure<'n, Length>,
    top: Measure<'n, Length>,
    wall: Measure<'n, Length>,
    lap: Measure<'n, Length>,
}

impl<'n> Tube<'n> {
    fn read(value: &Value<'n>) -> Self {
        value.fields("a tube section", |f| {
            let section = Self {
                length: f.measure("length", "3 ft", "80 ft"),
                bottom: f.measure("bottom", "3 in", "6 ft"),
                top: f.measure("top", "2 in", "6 ft"),
                wall: f.measure("wall", "0.05 in", "2 in"),
                lap: f.measure("lap", "0 ft", "20 ft"),
            };
            f.note();
            section
        })
    }

    fn check(&self, below: Option<&Self>) {
        check_taper(&self.top, &self.bottom);
        self.wall.at.fault_if(self.wall.si() * 2.0 >= self.top.si(), || FaultKind::WallTooThick {
            wall: self.wall.said(),
            diameter: self.top.said(),
        });
        let Some(below) = below else {
            return self.lap.at.fault_if(self.lap.si() > 0.0, || FaultKind::LapAtButt { lap: self.lap.said() });
        };
        self.bottom.at.fault_if(self.bottom.si() <= below.top.si(), || FaultKind::DoesNotSlip {
            bottom: self.bottom.said(),
            below: below.top.said(),
        });
        let shorter = if self.length.si() < below.length.si() { &self.length } else { &below.length };
        check_lap(&self.lap, shorter);
    }
}

/// No thicker at the top than at the bottom.
pub(super) fn check_taper(top: &Measure<'_, Length>, bottom: &Measure<'_, Length>) {
    let inverted = top.si() > bottom.si();
    top.at.fault_if(inverted, || FaultKind::TaperInverted { top: top.said(), bottom: bottom.said() });
}

/// Less than what laps.
pub(super) fn check_lap(lap: &Measure<'_, Length>, section: &Measure<'_, Length>) {
    let too_long = lap.si() >= section.si();
    lap.at.fault_if(too_long, || FaultKind::LapTooLong { lap: lap.said(), section: section.said() });
}

fn steel_tube(value: &Value<'_>, length: &Measure<'_, Length>) -> site::Shell {
    value.fields("a steel tube", |f| {
        let sides = f.need("sides").word([
            ("round", site::Sides::Round),
            ("eight", site::Sides::Eight),
            ("twelve", site::Sides::Twelve),
            ("sixteen", site::Sides::Sixteen),
        ]);
        let list = f.list_of("sections", 1);
        let sections: Vec<_> = list.items.iter().map(Tube::read).collect();
        for (i, section) in sections.iter().enumerate() {
            section.check(i.checked_sub(1).and_then(|below| sections.get(below)));
        }
        let sum: f64 = sections.iter().map(|section| section.length.si() - section.lap.si()).sum();
        let differs = (sum - length.si()).abs() > 0.5 * FOOT_M / 12.0;
        list.at.fault_if(differs && !sections.is_empty(), || FaultKind::LengthsDisagree {
            sum: show_length(sum, Units::Us, Round::Nearest),
            length: length.said(),
        });
        let section = |section: &Tube<'_>| site::TubeSection {
            length_m: section.length.si(),
            bottom_m: section.bottom.si(),
            top_m: section.top.si(),
            wall_m: section.wall.si(),
            lap_m: section.lap.si(),
        };
        site::Shell::SteelTube { sides, sections: sections.iter().map(section).collect() }
    })
}

/// A wood pole of the standard's classes, and which of its figures are from memory.
fn wood(value: &Value<'_>, length: &Measure<'_, Length>, own: &Own) -> (site::Shell, String) {
    value.fields("a wood pole by class", |f| {
        let class = f.need("class");
        let species = f.need("species");
        let species_name = species.text();
        let oversize = f.si::<Ratio>("oversize", "0 %", "30 %");
        let density = f.may("density").map(|value| value.bounds::<Density>("15 lb/ft3", "100 lb/ft3").bracket());
        let (sizes, of_catalog) = wood_sizes(length, &class, own);
        let found = catalog::find_wood_species(species_name);
        let known = match &found {
            Found::One(species) => Some(*species),
            _ => None,
        };
        if known.is_none() && density.is_none() && !species_name.is_empty() {
            species.not_found("a species", found, || catalog::wood_species_names().collect());
        }
        let size_share = known.filter(|_| of_catalog).map_or(1.0, |species| species.size_share);
        let mut recalled: Vec<&str> = Vec::new();
        if of_catalog && (sizes.is_some_and(|sizes| sizes.from_memory) || size_share != 1.0) {
            recalled.push("size");
        }
        if density.is_none() && known.is_some_and(|species| species.from_memory.contains("density")) {
            recalled.push("density");
        }
        let shell = site::Shell::Wood {
            top_circumference_m: sizes.map_or(f64::NAN, |sizes| sizes.top_circumference_m),
            circumference_at_6_ft_m: sizes.map_or(f64::NAN, |sizes| sizes.circumference_at_6_ft_m * size_share),
            density_kg_m3: density
                .unwrap_or_else(|| known.map_or(Bracket::exactly(0.0), |species| species.density_kg_m3)),
            oversize: 1.0 + oversize,
        };
        (shell, recalled.join(" and "))
    })
}

/// The planner's own pole of this length and of the class that stands here, or the catalog's, which the flag says.
pub(super) fn wood_sizes(length: &Measure<'_, Length>, class: &Value<'_>, own: &Own) -> (Option<WoodPole>, bool) {
    let (length_m, name) = (length.si(), class.text());
    if let Some(sizes) = own.wood_pole(length_m, name) {
        return (Some(sizes), false);
    }
    let sizes = catalog::wood_pole(length_m, name);
    let unknown = sizes.is_none() && length_m.is_finite() && !own.unsure && !name.is_empty();
    class.fault_if(unknown, || FaultKind::NotInCatalog {
        what: "a wood pole",
        found: format!("{} class {name}", length.said()),
        nearest: catalog::nearest_wood_pole(length_m, name),
        known: catalog::wood_poles_of(length_m),
    });
    (sizes, true)
}

/// A wood pole taped where it lies.
fn wood_measured(value: &Value<'_>) -> site::Shell {
    value.fields("a wood pole as measured", |f| {
        let top = f.measure("top_circumference", "8 in", "100 in");
        let low = f.measure("circumference_at_6_ft", "10 in", "150 in");
        let density_kg_m3 = f.bracket::<Density>("density", "15 lb/ft3", "100 lb/ft3");
        let oversize = f.si::<Ratio>("oversize", "0 %", "30 %");
        check_taper(&top, &low);
        site::Shell::Wood {
            top_circumference_m: top.si(),
            circumference_at_6_ft_m: low.si(),
            density_kg_m3,
            oversize: 1.0 + oversize,
        }
    })
}

/// The maker's own figures for the bare pole.
fn maker(value: &Value<'_>, on_pole: &OnPole<'_>) -> site::MakerMass {
    value.fields("the maker's figures", |f| {
        let mass_kg = f.si::<Mass>("mass", "50 lb", "60000 lb");
        let balance = f.measure("balance_from_butt", "1 ft", "130 ft");
        f.note();
        on_pole.check_one(&balance);
        site::MakerMass { mass_kg, balance_from_butt_m: balance.si() }
    })
}

/// What is fixed to the pole when it is lifted.
fn items(list: &List<'_>, on_pole: &OnPole<'_>) -> Vec<site::PoleItem> {
    let read = |item: &Value<'_>| {
        item.fields("an item on the pole", |f| {
            let name = f.text("name");
            let mass_kg = f.si::<Mass>("mass", "0 lb", "5000 lb");
            let (from, to) = (f.point("from"), f.point("to"));
            let radius_m = f.si::<Length>("radius", "0 in", "10 ft");
            f.note();
            // An item may stand above the tip, but starts on the pole.
            let lower = if to.up.si() < from.up.si() { &to.up } else { &from.up };
            on_pole.check(&from.at, lower.said(), [lower.si()]);
            site::PoleItem { name, mass_kg, from: from.m(), to: to.m(), radius_m }
        })
    };
    let items = list.items.iter().map(read).collect();
    list.named_once("the item");
    items
}

/// The hole as read.
pub(super) struct Hole<'n> {
    /// Its center at ground level.
    pub at: Point<'n>,
    facing: f64,
    depth: Measure<'n, Length>,
    diameter_m: f64,
}

impl<'n> Hole<'n> {
    pub fn read(value: &Value<'n>) -> Self {
        value.fields("the hole", |f| {
            let hole = Self {
                at: f.point("at"),
                facing: f.measure::<Angle>("facing", "-360 deg", "360 deg").direction(),
                depth: f.measure("depth", "2 ft", "25 ft"),
                diameter_m: f.si::<Length>("diameter", "8 in", "12 ft"),
            };
            f.note();
            hole
        })
    }

    pub fn site(&self) -> site::Hole {
        site::Hole { at: self.at.m(), facing: self.facing, depth_m: self.depth.si(), diameter_m: self.diameter_m }
    }
}

pub(super) fn rigging(value: &Value<'_>, on_pole: &OnPole<'_>) -> site::Rigging {
    value.fields("the rigging", |f| {
        let choker = f.measure::<Length>("choker_from_butt", "1 ft", "130 ft");
        let rigging = site::Rigging {
            choker_from_butt_m: choker.si(),
            choker_face: f.measure::<Angle>("choker_face", "-360 deg", "360 deg").counter_clockwise(),
            length_m: f.si::<Length>("length", "6 in", "80 ft"),
            diameter_m: f.si::<Length>("diameter", "0.1 in", "12 in"),
            mass_kg: f.si::<Mass>("mass", "1 lb", "2000 lb"),
            choker_capacity_kg: f.si::<Mass>("choker_capacity", "100 lb", "200000 lb"),
            choke_angle: f.may_si::<Angle>("choke_angle", "0 deg", "180 deg"),
            choke_measured: f.may("choke_measured").map(|value| measurement(&value)),
            material: f.need("material").word([
                ("wire_rope", site::RiggingMaterial::WireRope),
                ("non_conductive", site::RiggingMaterial::NonConductive),
            ]),
            stop_above_choke: f.need("stop_above_choke").flag(),
            tag_line_hold_n: f.may_si::<Force>("tag_line_hold", "1 lbf", "2000 lbf"),
        };
        f.note();
        choker.at.fault_if(choker.si() >= on_pole.length.si(), || FaultKind::ChokerAboveTip {
            found: choker.said(),
            length: on_pole.length.said(),
        });
        rigging
    })
}
