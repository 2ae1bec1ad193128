//! The pole as written, its hole, and how it is rigged.

use super::line::Point;
use super::part::{Fields, Part, Reading, Walk, word_with, words};
use super::tree::{Node, Tree};
use crate::quantity::{Angle, Density, Force, Length, Mass, Quantity, Range, Ratio};
use crate::site;

words! {
    /// The cross-section of a steel tube.
    Sides = site::Sides { Round: "round", Eight: "eight", Twelve: "twelve", Sixteen: "sixteen" }
}

words! {
    RiggingMaterial = site::RiggingMaterial { WireRope: "wire_rope", NonConductive: "non_conductive" }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct TubeSection {
    pub length: Quantity<Length>,
    /// Outside, across flats.
    pub bottom: Quantity<Length>,
    pub top: Quantity<Length>,
    pub wall: Quantity<Length>,
    /// How far it slips over the section below.
    pub lap: Quantity<Length>,
    pub note: Option<String>,
}

impl Fields for TubeSection {
    const WHAT: &'static str = "a tube section";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("3 ft", "80 ft").need("length", &mut self.length);
        walk.within("3 in", "6 ft").need("bottom", &mut self.bottom);
        walk.within("2 in", "6 ft").need("top", &mut self.top);
        walk.within("0.05 in", "2 in").need("wall", &mut self.wall);
        walk.within("0 ft", "20 ft").need("lap", &mut self.lap);
        walk.may("note", &mut self.note);
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct SteelTube {
    pub sides: Sides,
    /// Butt section first.
    pub sections: Vec<TubeSection>,
}

impl Fields for SteelTube {
    const WHAT: &'static str = "a steel tube";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("sides", &mut self.sides);
        walk.list_of("sections", 1, &mut self.sections);
    }
}

/// A wood pole of the standard's classes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct WoodClass {
    /// "1" … "7", "H1" ….
    pub class: String,
    pub species: String,
    /// By how much its circumference may be above the class's minimum.
    pub oversize: Quantity<Ratio>,
    /// In place of the species' own.
    pub density: Option<Range<Density>>,
}

impl Fields for WoodClass {
    const WHAT: &'static str = "a wood pole by class";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("class", &mut self.class);
        walk.need("species", &mut self.species);
        walk.within("0 %", "30 %").need("oversize", &mut self.oversize);
        walk.within("15 lb/ft3", "100 lb/ft3").may("density", &mut self.density);
    }
}

/// A wood pole taped where it lies.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct WoodMeasured {
    pub top_circumference: Quantity<Length>,
    pub circumference_at_6_ft: Quantity<Length>,
    pub density: Range<Density>,
    /// What taping at two places may miss.
    pub oversize: Quantity<Ratio>,
}

impl Fields for WoodMeasured {
    const WHAT: &'static str = "a wood pole as measured";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("8 in", "100 in").need("top_circumference", &mut self.top_circumference);
        walk.within("10 in", "150 in").need("circumference_at_6_ft", &mut self.circumference_at_6_ft);
        walk.within("15 lb/ft3", "100 lb/ft3").need("density", &mut self.density);
        walk.within("0 %", "30 %").need("oversize", &mut self.oversize);
    }
}

#[derive(Clone, Debug, PartialEq)]
pub enum Shell {
    SteelTube(SteelTube),
    Wood(WoodClass),
    WoodMeasured(WoodMeasured),
}

impl Default for Shell {
    fn default() -> Self {
        Self::SteelTube(SteelTube::default())
    }
}

impl Part for Shell {
    fn read(node: &Node, at: &mut Reading) -> Self {
        match at.variant(node, &["steel_tube", "wood", "wood_measured"]) {
            Some(("wood", node)) => Self::Wood(at.fields_of(node)),
            Some(("wood_measured", node)) => Self::WoodMeasured(at.fields_of(node)),
            Some((_, node)) => Self::SteelTube(at.fields_of(node)),
            None => Self::default(),
        }
    }

    fn write(&self) -> Tree {
        match self {
            Self::SteelTube(tube) => word_with("steel_tube", tube),
            Self::Wood(wood) => word_with("wood", wood),
            Self::WoodMeasured(wood) => word_with("wood_measured", wood),
        }
    }
}

/// The maker's own figures for the bare pole.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Maker {
    pub mass: Quantity<Mass>,
    pub balance_from_butt: Quantity<Length>,
    pub note: Option<String>,
}

impl Fields for Maker {
    const WHAT: &'static str = "the maker's figures";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("50 lb", "60000 lb").need("mass", &mut self.mass);
        walk.within("1 ft", "130 ft").need("balance_from_butt", &mut self.balance_from_butt);
        walk.may("note", &mut self.note);
    }
}

/// Something fixed to the pole when it is lifted, as a capsule.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PoleItem {
    pub name: String,
    pub mass: Quantity<Mass>,
    /// Ahead (the way the pole faces), to its left, and up from the butt.
    pub from: Point,
    pub to: Point,
    pub radius: Quantity<Length>,
    pub note: Option<String>,
}

impl Fields for PoleItem {
    const WHAT: &'static str = "an item on the pole";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("name", &mut self.name);
        walk.within("0 lb", "5000 lb").need("mass", &mut self.mass);
        walk.need("from", &mut self.from);
        walk.need("to", &mut self.to);
        walk.within("0 in", "10 ft").need("radius", &mut self.radius);
        walk.may("note", &mut self.note);
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Pole {
    pub name: String,
    pub length: Quantity<Length>,
    pub shell: Shell,
    pub maker: Option<Maker>,
    pub items: Vec<PoleItem>,
    pub setting_depth: Quantity<Length>,
    /// Joints that are not locked, from the butt.
    pub unlocked_joints: Vec<Quantity<Length>>,
    pub note: Option<String>,
}

impl Fields for Pole {
    const WHAT: &'static str = "the pole";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("name", &mut self.name);
        walk.within("20 ft", "130 ft").need("length", &mut self.length);
        walk.need("shell", &mut self.shell);
        walk.may("maker", &mut self.maker);
        walk.list("items", &mut self.items);
        walk.within("2 ft", "25 ft").need("setting_depth", &mut self.setting_depth);
        walk.within("0 ft", "130 ft").list("unlocked_joints", &mut self.unlocked_joints);
        walk.may("note", &mut self.note);
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Hole {
    /// Its centre at ground level.
    pub at: Point,
    /// Bearing the set pole must face, clockwise from north.
    pub facing: Quantity<Angle>,
    pub depth: Quantity<Length>,
    pub diameter: Quantity<Length>,
    pub note: Option<String>,
}

impl Fields for Hole {
    const WHAT: &'static str = "the hole";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("at", &mut self.at);
        walk.within("-360 deg", "360 deg").need("facing", &mut self.facing);
        walk.within("2 ft", "25 ft").need("depth", &mut self.depth);
        walk.within("8 in", "12 ft").need("diameter", &mut self.diameter);
        walk.may("note", &mut self.note);
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rigging {
    pub choker_from_butt: Quantity<Length>,
    /// The face the choker bears on, clockwise from the way the pole faces, seen from above.
    pub choker_face: Quantity<Angle>,
    /// From the hook's bearing point to the choke.
    pub length: Quantity<Length>,
    pub diameter: Quantity<Length>,
    pub mass: Quantity<Mass>,
    /// Rated in a choker hitch.
    pub choker_capacity: Quantity<Mass>,
    pub choke_angle: Quantity<Angle>,
    pub material: RiggingMaterial,
    pub stop_above_choke: bool,
    pub tag_line_hold: Option<Quantity<Force>>,
    pub note: Option<String>,
}

impl Fields for Rigging {
    const WHAT: &'static str = "the rigging";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("1 ft", "130 ft").need("choker_from_butt", &mut self.choker_from_butt);
        walk.within("-360 deg", "360 deg").need("choker_face", &mut self.choker_face);
        walk.within("6 in", "80 ft").need("length", &mut self.length);
        walk.within("0.1 in", "12 in").need("diameter", &mut self.diameter);
        walk.within("1 lb", "2000 lb").need("mass", &mut self.mass);
        walk.within("100 lb", "200000 lb").need("choker_capacity", &mut self.choker_capacity);
        walk.within("0 deg", "180 deg").need("choke_angle", &mut self.choke_angle);
        walk.need("material", &mut self.material);
        walk.need("stop_above_choke", &mut self.stop_above_choke);
        walk.within("1 lbf", "2000 lbf").may("tag_line_hold", &mut self.tag_line_hold);
        walk.may("note", &mut self.note);
    }
}
