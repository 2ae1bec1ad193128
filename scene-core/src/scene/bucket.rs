//! The bucket truck as written: the machine that its maker made, how it stands here, and the poses of its bucket.

use super::crane::BoomSection;
use super::line::Point;
use super::part::{Fields, Part, Reading, Walk, word_of, word_with, words};
use super::tree::{Node, Tree};
use super::work::Method;
use crate::quantity::{Angle, AngularSpeed, Length, Mass, Quantity, Range, Speed, Voltage};
use crate::site::bucket as site;

/// A bucket truck is at the job, or it is said that none is.
#[derive(Clone, Debug, PartialEq)]
pub enum Stated {
    Absent(String),
    Stands(Box<BucketTruck>),
}

impl Default for Stated {
    fn default() -> Self {
        Self::Absent(String::new())
    }
}

impl Part for Stated {
    fn read(node: &Node, at: &mut Reading) -> Self {
        match at.variant(node, &["absent", "stands"]) {
            Some(("stands", node)) => Self::Stands(Box::new(at.fields_of(node))),
            Some((_, node)) => Self::Absent(at.one(node, None)),
            None => Self::default(),
        }
    }

    fn write(&self) -> Tree {
        match self {
            Self::Absent(why) => word_of("absent", why),
            Self::Stands(truck) => word_with("stands", truck.as_ref()),
        }
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Turret {
    pub radius: Quantity<Length>,
    pub from_height: Quantity<Length>,
    pub to_height: Quantity<Length>,
    pub note: Option<String>,
}

impl Fields for Turret {
    const WHAT: &'static str = "the turret";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("6 in", "8 ft").need("radius", &mut self.radius);
        walk.within("0 ft", "15 ft").need("from_height", &mut self.from_height);
        walk.within("1 ft", "20 ft").need("to_height", &mut self.to_height);
        walk.may("note", &mut self.note);
    }
}

/// A lower boom, and how the upper one is hinged to it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Articulating {
    /// From the pin to the elbow.
    pub length: Quantity<Length>,
    pub width: Quantity<Length>,
    pub depth: Quantity<Length>,
    /// Of a ball that holds the elbow.
    pub elbow_radius: Quantity<Length>,
    /// Of the lower boom from level, up.
    pub angle: Range<Angle>,
    /// The upper boom's angle less the lower one's: 0 in line, positive turned up over it, 180 deg folded.
    pub fold: Range<Angle>,
    /// The upper boom turns with the lower one; otherwise it keeps its angle from level.
    pub upper_follows: bool,
    pub note: Option<String>,
}

impl Fields for Articulating {
    const WHAT: &'static str = "the lower boom";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("3 ft", "80 ft").need("length", &mut self.length);
        walk.within("3 in", "4 ft").need("width", &mut self.width);
        walk.within("3 in", "4 ft").need("depth", &mut self.depth);
        walk.within("3 in", "5 ft").need("elbow_radius", &mut self.elbow_radius);
        walk.within("-20 deg", "170 deg").need("angle", &mut self.angle);
        walk.within("-180 deg", "180 deg").need("fold", &mut self.fold);
        walk.need("upper_follows", &mut self.upper_follows);
        walk.may("note", &mut self.note);
    }
}

#[derive(Clone, Debug, PartialEq)]
pub enum Linkage {
    Articulating(Articulating),
    /// One boom on the pin; its angle from level.
    Telescoping(Range<Angle>),
}

impl Default for Linkage {
    fn default() -> Self {
        Self::Telescoping(Range::default())
    }
}

impl Part for Linkage {
    fn read(node: &Node, at: &mut Reading) -> Self {
        match at.variant(node, &["articulating", "telescoping"]) {
            Some(("articulating", node)) => Self::Articulating(at.fields_of(node)),
            Some((_, node)) => Self::Telescoping(at.one(node, Some(("-30 deg", "88 deg")))),
            None => Self::default(),
        }
    }

    fn write(&self) -> Tree {
        match self {
            Self::Articulating(lower) => word_with("articulating", lower),
            Self::Telescoping(angle) => word_of("telescoping", angle),
        }
    }
}

/// A level box; the middle of its rim from the upper boom's tip.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bucket {
    pub length: Quantity<Length>,
    pub width: Quantity<Length>,
    /// From floor to rim.
    pub height: Quantity<Length>,
    /// The way the slew points; negative behind the tip.
    pub ahead: Quantity<Length>,
    /// Negative to the right.
    pub left: Quantity<Length>,
    /// Negative above the tip.
    pub below: Quantity<Length>,
    pub note: Option<String>,
}

impl Fields for Bucket {
    const WHAT: &'static str = "the bucket";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("1 ft", "6 ft").need("length", &mut self.length);
        walk.within("1 ft", "6 ft").need("width", &mut self.width);
        walk.within("2 ft", "5 ft").need("height", &mut self.height);
        walk.within("-6 ft", "6 ft").need("ahead", &mut self.ahead);
        walk.within("-6 ft", "6 ft").need("left", &mut self.left);
        walk.within("-6 ft", "6 ft").need("below", &mut self.below);
        walk.may("note", &mut self.note);
    }
}

/// How far the worker comes, his stick left out.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct WorkerReach {
    /// Of his shoulders above the rim.
    pub above_rim: Quantity<Length>,
    /// From his shoulders, with what he holds in his hands.
    pub radius: Quantity<Length>,
    pub note: Option<String>,
}

impl Fields for WorkerReach {
    const WHAT: &'static str = "the worker's reach";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("-2 ft", "4 ft").need("above_rim", &mut self.above_rim);
        walk.within("2 ft", "8 ft").need("radius", &mut self.radius);
        walk.may("note", &mut self.note);
    }
}

words! {
    /// By ANSI/SAIA A92.2.
    Category = site::Category { A: "a", B: "b", C: "c" }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Section {
    /// Along the upper boom, back from its tip.
    pub from_tip: Range<Length>,
    /// Phase to phase.
    pub rated: Quantity<Voltage>,
    pub category: Category,
    pub note: Option<String>,
}

impl Fields for Section {
    const WHAT: &'static str = "the insulating section";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("0 ft", "60 ft").need("from_tip", &mut self.from_tip);
        walk.within("1 kV", "800 kV").need("rated", &mut self.rated);
        walk.need("category", &mut self.category);
        walk.may("note", &mut self.note);
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub enum Insulation {
    #[default]
    Unknown,
    /// Why, or by whose word.
    Uninsulated(String),
    Section(Section),
}

impl Part for Insulation {
    fn read(node: &Node, at: &mut Reading) -> Self {
        match at.variant(node, &["unknown", "uninsulated", "section"]) {
            Some(("uninsulated", node)) => Self::Uninsulated(at.one(node, None)),
            Some(("section", node)) => Self::Section(at.fields_of(node)),
            Some((_, node)) => {
                at.alone(node);
                Self::Unknown
            }
            None => Self::default(),
        }
    }

    fn write(&self) -> Tree {
        match self {
            Self::Unknown => Tree::Name("unknown".to_owned()),
            Self::Uninsulated(why) => word_of("uninsulated", why),
            Self::Section(section) => word_with("section", section),
        }
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rates {
    pub slew: Quantity<AngularSpeed>,
    pub lower: Option<Quantity<AngularSpeed>>,
    pub upper: Quantity<AngularSpeed>,
    pub extend: Option<Quantity<Speed>>,
    pub note: Option<String>,
}

impl Fields for Rates {
    const WHAT: &'static str = "the bucket truck's rates";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("0.05 deg/s", "30 deg/s").need("slew", &mut self.slew);
        walk.within("0.05 deg/s", "15 deg/s").may("lower", &mut self.lower);
        walk.within("0.05 deg/s", "15 deg/s").need("upper", &mut self.upper);
        walk.within("0.02 ft/s", "10 ft/s").may("extend", &mut self.extend);
        walk.may("note", &mut self.note);
    }
}

/// The joints on the boom rest.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Stowed {
    /// Clockwise from the front, seen from above.
    pub slew: Quantity<Angle>,
    /// From level; not for a telescoping lift.
    pub lower: Option<Quantity<Angle>>,
    /// From level.
    pub upper: Quantity<Angle>,
    pub length: Quantity<Length>,
    pub note: Option<String>,
}

impl Fields for Stowed {
    const WHAT: &'static str = "the stowed booms";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("-360 deg", "360 deg").need("slew", &mut self.slew);
        walk.within("-20 deg", "170 deg").may("lower", &mut self.lower);
        walk.within("-180 deg", "360 deg").need("upper", &mut self.upper);
        walk.within("3 ft", "120 ft").need("length", &mut self.length);
        walk.may("note", &mut self.note);
    }
}

/// What the maker made.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Machine {
    pub name: String,
    pub source: String,
    pub turret: Turret,
    /// The first boom's pin ahead of the slew axis, the way the slew points; negative behind it.
    pub pin_offset: Quantity<Length>,
    pub pin_height: Quantity<Length>,
    /// Clockwise from the front, seen from above.
    pub slew: Range<Angle>,
    pub linkage: Linkage,
    /// Of the upper boom, base first, measured from the elbow; from the pin of a telescoping lift.
    pub sections: Vec<BoomSection>,
    pub length: Range<Length>,
    pub bucket: Bucket,
    pub reach: WorkerReach,
    pub insulation: Insulation,
    /// Rated, in the bucket.
    pub capacity: Quantity<Mass>,
    /// The maker's fastest.
    pub rates: Rates,
    pub stowed: Stowed,
    pub note: Option<String>,
}

impl Fields for Machine {
    const WHAT: &'static str = "a bucket truck's machine";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("name", &mut self.name);
        walk.need("source", &mut self.source);
        walk.need("turret", &mut self.turret);
        walk.within("-10 ft", "10 ft").need("pin_offset", &mut self.pin_offset);
        walk.within("1 ft", "20 ft").need("pin_height", &mut self.pin_height);
        walk.within("-360 deg", "360 deg").need("slew", &mut self.slew);
        walk.need("linkage", &mut self.linkage);
        walk.list_of("sections", 1, &mut self.sections);
        walk.within("3 ft", "120 ft").need("length", &mut self.length);
        walk.need("bucket", &mut self.bucket);
        walk.need("reach", &mut self.reach);
        walk.need("insulation", &mut self.insulation);
        walk.within("100 lb", "3000 lb").need("capacity", &mut self.capacity);
        walk.need("rates", &mut self.rates);
        walk.need("stowed", &mut self.stowed);
        walk.may("note", &mut self.note);
    }
}

/// How the bucket truck stands and is used in this job.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BucketTruck {
    /// A machine of the catalog; or else `machine`.
    pub model: Option<String>,
    pub machine: Option<Machine>,
    /// The slew axis at ground level.
    pub at: Point,
    /// Bearing of the truck's front, clockwise from north.
    pub heading: Quantity<Angle>,
    /// How the worker touches what is energized.
    pub method: Method,
    /// From his hands to the working end of his stick.
    pub stick: Option<Quantity<Length>>,
    /// People, tools and covers in the bucket.
    pub load: Option<Quantity<Mass>>,
    /// The fastest the operator may go in this job; no faster than the maker's.
    pub rates: Rates,
    pub note: Option<String>,
}

impl Fields for BucketTruck {
    const WHAT: &'static str = "the bucket truck";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.may("model", &mut self.model);
        walk.may("machine", &mut self.machine);
        walk.need("at", &mut self.at);
        walk.within("-360 deg", "360 deg").need("heading", &mut self.heading);
        walk.need("method", &mut self.method);
        walk.within("1 ft", "15 ft").may("stick", &mut self.stick);
        walk.within("50 lb", "3000 lb").may("load", &mut self.load);
        walk.need("rates", &mut self.rates);
        walk.may("note", &mut self.note);
    }
}

words! {
    Control = site::BucketControl { Lower: "lower", Slew: "slew", Upper: "upper", Extend: "extend" }
}

words! {
    ElbowSide = site::ElbowSide { Up: "up", Down: "down" }
}

/// The bucket's rim at a wire, or at a point.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BucketTo {
    /// By this wire; or else `point`.
    pub wire: Option<String>,
    /// Along the line, from abeam the hole; positive toward the wire's last point.
    pub station: Option<Quantity<Length>>,
    /// The station counts from the wire's point of this number instead, 1 for the first.
    pub from_point: Option<u32>,
    pub below: Option<Quantity<Length>>,
    /// Level, to the left of the wire for who looks toward its last point.
    pub left: Option<Quantity<Length>>,
    pub point: Option<Point>,
    /// The wire that is worked on from there.
    pub works_on: Option<String>,
    pub elbow: Option<ElbowSide>,
    pub order: Vec<Control>,
}

impl Fields for BucketTo {
    const WHAT: &'static str = "the bucket's pose";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.may("wire", &mut self.wire);
        walk.within("-3000 ft", "3000 ft").may("station", &mut self.station);
        walk.may("from_point", &mut self.from_point);
        walk.within("-60 ft", "60 ft").may("below", &mut self.below);
        walk.within("-100 ft", "100 ft").may("left", &mut self.left);
        walk.may("point", &mut self.point);
        walk.may("works_on", &mut self.works_on);
        walk.may("elbow", &mut self.elbow);
        walk.list("order", &mut self.order);
    }
}
