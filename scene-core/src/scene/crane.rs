//! The crane as written: the machine that its maker made, and how it stands here.

use super::beside::ChartFile;
use super::line::Point;
use super::part::{Fields, Part, Reading, Walk, word_of};
use super::tree::{Node, Tree};
use crate::quantity::{Angle, AngularSpeed, Force, Length, LineWeight, Mass, Pressure, Quantity, Range, Ratio, Speed};

/// A telescoping section as a box about the boom's axis.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BoomSection {
    pub length: Quantity<Length>,
    pub width: Quantity<Length>,
    pub depth: Quantity<Length>,
    /// Its tip from the foot pin, boom retracted.
    pub tip_retracted: Quantity<Length>,
    /// Its tip from the foot pin, boom extended; sections move in proportion between the two.
    pub tip_extended: Quantity<Length>,
    pub note: Option<String>,
}

impl Fields for BoomSection {
    const WHAT: &'static str = "a boom section";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("3 ft", "120 ft").need("length", &mut self.length);
        walk.within("3 in", "8 ft").need("width", &mut self.width);
        walk.within("3 in", "8 ft").need("depth", &mut self.depth);
        walk.within("3 ft", "120 ft").need("tip_retracted", &mut self.tip_retracted);
        walk.within("3 ft", "300 ft").need("tip_extended", &mut self.tip_extended);
        walk.may("note", &mut self.note);
    }
}

/// The sheave that the hoist line leaves from, from the boom's tip.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BoomHead {
    pub along: Quantity<Length>,
    pub below: Quantity<Length>,
    pub sheave_radius: Quantity<Length>,
    /// Of a ball about the sheave's centre that holds the head.
    pub radius: Quantity<Length>,
    pub note: Option<String>,
}

impl Fields for BoomHead {
    const WHAT: &'static str = "the boom head";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("-5 ft", "5 ft").need("along", &mut self.along);
        walk.within("-5 ft", "5 ft").need("below", &mut self.below);
        walk.within("1 in", "3 ft").need("sheave_radius", &mut self.sheave_radius);
        walk.within("2 in", "8 ft").need("radius", &mut self.radius);
        walk.may("note", &mut self.note);
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct HookBlock {
    /// From its top to the hook's bearing point.
    pub length: Quantity<Length>,
    pub radius: Quantity<Length>,
    pub mass: Quantity<Mass>,
    pub capacity: Quantity<Mass>,
    pub note: Option<String>,
}

impl Fields for HookBlock {
    const WHAT: &'static str = "the hook block";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("4 in", "12 ft").need("length", &mut self.length);
        walk.within("2 in", "4 ft").need("radius", &mut self.radius);
        walk.within("10 lb", "10000 lb").need("mass", &mut self.mass);
        walk.within("500 lb", "500000 lb").need("capacity", &mut self.capacity);
        walk.may("note", &mut self.note);
    }
}

/// The counterweight's sweep about the slew axis.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tail {
    pub radius: Quantity<Length>,
    pub half_width: Quantity<Length>,
    pub from_height: Quantity<Length>,
    pub to_height: Quantity<Length>,
    pub note: Option<String>,
}

impl Fields for Tail {
    const WHAT: &'static str = "the tail";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("1 ft", "40 ft").need("radius", &mut self.radius);
        walk.within("6 in", "15 ft").need("half_width", &mut self.half_width);
        walk.within("0 ft", "20 ft").need("from_height", &mut self.from_height);
        walk.within("1 ft", "30 ft").need("to_height", &mut self.to_height);
        walk.may("note", &mut self.note);
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rates {
    pub swing: Quantity<AngularSpeed>,
    pub boom: Quantity<AngularSpeed>,
    pub extend: Quantity<Speed>,
    /// Of the hook.
    pub hoist: Quantity<Speed>,
    pub note: Option<String>,
}

impl Fields for Rates {
    const WHAT: &'static str = "the rates";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("0.05 deg/s", "30 deg/s").need("swing", &mut self.swing);
        walk.within("0.05 deg/s", "15 deg/s").need("boom", &mut self.boom);
        walk.within("0.02 ft/s", "10 ft/s").need("extend", &mut self.extend);
        walk.within("0.02 ft/s", "20 ft/s").need("hoist", &mut self.hoist);
        walk.may("note", &mut self.note);
    }
}

/// A rated load, or "-" outside the chart.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cell(pub Option<Quantity<Mass>>);

impl Part for Cell {
    fn read(node: &Node, at: &mut Reading) -> Self {
        match &node.tree {
            Tree::Text(text) if text.trim() == "-" => Self(None),
            _ => Self(Some(Part::read(node, at))),
        }
    }

    fn write(&self) -> Tree {
        self.0.as_ref().map_or_else(|| Tree::Text("-".to_owned()), Part::write)
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct ChartRow {
    pub radius: Quantity<Length>,
    /// One for each boom length.
    pub rated: Vec<Cell>,
}

impl Fields for ChartRow {
    const WHAT: &'static str = "a row of the chart";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("3 ft", "300 ft").need("radius", &mut self.radius);
        walk.within("1 lb", "500000 lb").list_of("rated", 1, &mut self.rated);
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct ChartSector {
    pub name: String,
    /// Clockwise from the front, seen from above.
    pub swing: Range<Angle>,
    /// Ascending.
    pub boom_lengths: Vec<Quantity<Length>>,
    /// Ascending by radius.
    pub rows: Vec<ChartRow>,
    pub note: Option<String>,
}

impl Fields for ChartSector {
    const WHAT: &'static str = "a sector of the chart";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("name", &mut self.name);
        walk.within("-360 deg", "360 deg").need("swing", &mut self.swing);
        walk.within("10 ft", "300 ft").list_of("boom_lengths", 1, &mut self.boom_lengths);
        walk.list_of("rows", 1, &mut self.rows);
        walk.may("note", &mut self.note);
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Chart {
    pub source: String,
    /// What the chart makes the user deduct besides hook block and rigging.
    pub deductions: Quantity<Mass>,
    pub sectors: Vec<ChartSector>,
    pub note: Option<String>,
}

impl Fields for Chart {
    const WHAT: &'static str = "the chart";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("source", &mut self.source);
        walk.within("0 lb", "20000 lb").need("deductions", &mut self.deductions);
        walk.list_of("sectors", 1, &mut self.sectors);
        walk.may("note", &mut self.note);
    }
}

/// The insulated tip of a digger derrick's boom.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum InsulatedTip {
    #[default]
    Absent,
    /// From the boom's tip back.
    Known(Quantity<Length>),
}

impl Part for InsulatedTip {
    fn read(node: &Node, at: &mut Reading) -> Self {
        match at.variant(node, &["absent", "known"]) {
            Some(("known", node)) => Self::Known(at.one(node, Some(("6 in", "30 ft")))),
            Some((_, node)) => {
                at.alone(node);
                Self::Absent
            }
            None => Self::default(),
        }
    }

    fn write(&self) -> Tree {
        match self {
            Self::Absent => Tree::Name("absent".to_owned()),
            Self::Known(length) => word_of("known", length),
        }
    }
}

/// The arms at the boom's tip that hold a pole upright.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PoleGuides {
    /// Of the pin they tilt about, from the boom's tip.
    pub along: Quantity<Length>,
    pub below: Quantity<Length>,
    /// From the pin level outward to the axis of a held pole.
    pub reach: Quantity<Length>,
    /// How far from there the open arms take a pole's axis in.
    pub catch: Quantity<Length>,
    /// Across the boom, arms open.
    pub width: Quantity<Length>,
    /// Along the pole.
    pub height: Quantity<Length>,
    /// Past the held pole's axis.
    pub beyond: Quantity<Length>,
    /// Diameters of poles.
    pub holds: Range<Length>,
    /// Between the boom and a held pole, both upward.
    pub tilt: Range<Angle>,
    pub note: Option<String>,
}

impl Fields for PoleGuides {
    const WHAT: &'static str = "the pole guides";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("-3 ft", "3 ft").need("along", &mut self.along);
        walk.within("-3 ft", "3 ft").need("below", &mut self.below);
        walk.within("0 in", "5 ft").need("reach", &mut self.reach);
        walk.within("0 in", "5 ft").need("catch", &mut self.catch);
        walk.within("6 in", "10 ft").need("width", &mut self.width);
        walk.within("1 in", "5 ft").need("height", &mut self.height);
        walk.within("1 in", "5 ft").need("beyond", &mut self.beyond);
        walk.within("2 in", "4 ft").need("holds", &mut self.holds);
        walk.within("-30 deg", "180 deg").need("tilt", &mut self.tilt);
        walk.may("note", &mut self.note);
    }
}

/// A flight on a Kelly bar that hangs from the boom, or is stowed back along it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Auger {
    /// Of the pin it swings about, from the foot pin along the boom.
    pub along: Quantity<Length>,
    pub below: Quantity<Length>,
    /// Of the boom's axis; negative to the right.
    pub left: Quantity<Length>,
    /// From the pin to the flight's point.
    pub length: Quantity<Length>,
    pub flight_length: Quantity<Length>,
    pub flight_diameter: Quantity<Length>,
    pub bar_diameter: Quantity<Length>,
    /// Out of plumb while it digs, per its length.
    pub most_lean: Quantity<Ratio>,
    pub note: Option<String>,
}

impl Fields for Auger {
    const WHAT: &'static str = "the auger";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("3 ft", "60 ft").need("along", &mut self.along);
        walk.within("-5 ft", "5 ft").need("below", &mut self.below);
        walk.within("-5 ft", "5 ft").need("left", &mut self.left);
        walk.within("3 ft", "40 ft").need("length", &mut self.length);
        walk.within("1 ft", "20 ft").need("flight_length", &mut self.flight_length);
        walk.within("4 in", "6 ft").need("flight_diameter", &mut self.flight_diameter);
        walk.within("1 in", "2 ft").need("bar_diameter", &mut self.bar_diameter);
        walk.within("0 %", "20 %").need("most_lean", &mut self.most_lean);
        walk.may("note", &mut self.note);
    }
}

/// What a digger derrick has besides a crane's boom and winch.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Derrick {
    pub guides: PoleGuides,
    pub auger: Auger,
    pub insulated_tip: InsulatedTip,
    pub note: Option<String>,
}

impl Fields for Derrick {
    const WHAT: &'static str = "the digger derrick's gear";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("guides", &mut self.guides);
        walk.need("auger", &mut self.auger);
        walk.need("insulated_tip", &mut self.insulated_tip);
        walk.may("note", &mut self.note);
    }
}

/// What the maker made.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Machine {
    pub name: String,
    pub source: String,
    /// Foot pin ahead of the slew axis; negative behind it.
    pub foot_offset: Quantity<Length>,
    pub foot_height: Quantity<Length>,
    /// Base section first.
    pub sections: Vec<BoomSection>,
    pub boom_length: Range<Length>,
    pub boom_angle: Range<Angle>,
    /// Clockwise from the front, seen from above.
    pub swing: Range<Angle>,
    pub head: BoomHead,
    pub block: HookBlock,
    /// Least distance from the head sheave's centre to the block's top.
    pub two_block: Quantity<Length>,
    pub tail: Tail,
    /// Per part of line.
    pub line_pull: Quantity<Force>,
    pub line_weight: Quantity<LineWeight>,
    pub line_diameter: Quantity<Length>,
    /// The maker's fastest.
    pub rates: Rates,
    pub chart: Chart,
    /// Of a digger derrick.
    pub derrick: Option<Derrick>,
    pub note: Option<String>,
}

impl Fields for Machine {
    const WHAT: &'static str = "a crane";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("name", &mut self.name);
        walk.need("source", &mut self.source);
        walk.within("-15 ft", "15 ft").need("foot_offset", &mut self.foot_offset);
        walk.within("1 ft", "20 ft").need("foot_height", &mut self.foot_height);
        walk.list_of("sections", 1, &mut self.sections);
        walk.within("10 ft", "300 ft").need("boom_length", &mut self.boom_length);
        walk.within("-10 deg", "88 deg").need("boom_angle", &mut self.boom_angle);
        walk.within("-360 deg", "360 deg").need("swing", &mut self.swing);
        walk.need("head", &mut self.head);
        walk.need("block", &mut self.block);
        walk.within("1 in", "15 ft").need("two_block", &mut self.two_block);
        walk.need("tail", &mut self.tail);
        walk.within("100 lbf", "100000 lbf").need("line_pull", &mut self.line_pull);
        walk.within("0.01 lb/ft", "20 lb/ft").need("line_weight", &mut self.line_weight);
        walk.within("0.1 in", "3 in").need("line_diameter", &mut self.line_diameter);
        walk.need("rates", &mut self.rates);
        walk.need("chart", &mut self.chart);
        walk.may("derrick", &mut self.derrick);
        walk.may("note", &mut self.note);
    }
}

/// How the crane stands and is reeved for this job.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Crane {
    /// A machine of the catalog; or else `machine`.
    pub model: Option<String>,
    pub machine: Option<Machine>,
    /// A chart beside the scene, which holds instead of the machine's.
    pub chart: Option<ChartFile>,
    /// The slew axis at ground level.
    pub at: Point,
    /// Bearing of the carrier's front, clockwise from north.
    pub heading: Quantity<Angle>,
    pub parts_of_line: u32,
    /// The fastest the operator may go in this job; no faster than the maker's.
    pub rates: Rates,
    /// How fast the pole is turned about its axis by hand.
    pub turn: Quantity<AngularSpeed>,
    /// For the floats' forces; without it they are not computed.
    pub outriggers: Option<Outriggers>,
    pub note: Option<String>,
}

impl Fields for Crane {
    const WHAT: &'static str = "the crane";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.may("model", &mut self.model);
        walk.may("machine", &mut self.machine);
        walk.may("chart", &mut self.chart);
        walk.need("at", &mut self.at);
        walk.within("-360 deg", "360 deg").need("heading", &mut self.heading);
        walk.need("parts_of_line", &mut self.parts_of_line);
        walk.need("rates", &mut self.rates);
        walk.within("0.05 deg/s", "45 deg/s").need("turn", &mut self.turn);
        walk.may("outriggers", &mut self.outriggers);
        walk.may("note", &mut self.note);
    }
}

/// Where the floats stand, what presses on them besides the load, and what bears them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Outriggers {
    /// From the slew axis, level: to both front floats, both rear, both left, both right.
    pub front: Quantity<Length>,
    pub rear: Quantity<Length>,
    pub left: Quantity<Length>,
    pub right: Quantity<Length>,
    /// All that does not turn.
    pub carrier: Quantity<Mass>,
    /// Its centre from the slew axis, toward the front.
    pub carrier_ahead: Quantity<Length>,
    /// All that turns but the boom, counterweight included.
    pub upper: Quantity<Mass>,
    /// Its centre from the slew axis, away from the boom.
    pub upper_behind: Quantity<Length>,
    /// With its head.
    pub boom: Quantity<Mass>,
    /// Its centre from the foot pin along the boom, boom retracted and extended.
    pub boom_centre_retracted: Quantity<Length>,
    pub boom_centre_extended: Quantity<Length>,
    /// Of the mat under each float.
    pub mat_long: Quantity<Length>,
    pub mat_wide: Quantity<Length>,
    pub bearing: Quantity<Pressure>,
    /// Who says what the ground bears, and whose masses these are.
    pub source: String,
    pub note: Option<String>,
}

impl Fields for Outriggers {
    const WHAT: &'static str = "the outriggers";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("2 ft", "40 ft").need("front", &mut self.front);
        walk.within("2 ft", "40 ft").need("rear", &mut self.rear);
        walk.within("2 ft", "20 ft").need("left", &mut self.left);
        walk.within("2 ft", "20 ft").need("right", &mut self.right);
        walk.within("1000 lb", "500000 lb").need("carrier", &mut self.carrier);
        walk.within("-20 ft", "20 ft").need("carrier_ahead", &mut self.carrier_ahead);
        walk.within("500 lb", "500000 lb").need("upper", &mut self.upper);
        walk.within("-10 ft", "30 ft").need("upper_behind", &mut self.upper_behind);
        walk.within("100 lb", "200000 lb").need("boom", &mut self.boom);
        walk.within("1 ft", "150 ft").need("boom_centre_retracted", &mut self.boom_centre_retracted);
        walk.within("1 ft", "300 ft").need("boom_centre_extended", &mut self.boom_centre_extended);
        walk.within("6 in", "40 ft").need("mat_long", &mut self.mat_long);
        walk.within("6 in", "40 ft").need("mat_wide", &mut self.mat_wide);
        walk.within("100 psf", "100000 psf").need("bearing", &mut self.bearing);
        walk.need("source", &mut self.source);
        walk.may("note", &mut self.note);
    }
}
