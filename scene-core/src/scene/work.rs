//! The work as written: its basis, covers, allowances and steps.

use super::bucket::BucketTo;
use super::line::{Ends, Point, Starts};
use super::part::{Answers, Fields, Part, Reading, Walk, word_of, word_with, words};
use super::tree::{Node, Tree};
use crate::quantity::{Angle, Duration, Length, Mass, Quantity, Range, Ratio};
use crate::site;

words! {
    /// By which rules a machine works near the line.
    Route = site::Route {
        CraneTable: "crane_table",
        CloserByAgreement: "closer_by_agreement",
        LineWork: "line_work",
        DiggerDerrick: "digger_derrick",
    }
}

words! {
    Method = site::Method { Gloves: "gloves", Stick: "stick" }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Basis {
    pub route: Route,
    /// Answers to the route's list, by item.
    pub arranged: Answers,
    /// The user's own required distance for bare parts.
    pub own_distance: Option<Quantity<Length>>,
    /// Demanded even between covers.
    pub residual_gap: Quantity<Length>,
    pub note: Option<String>,
}

impl Fields for Basis {
    const WHAT: &'static str = "the basis of work";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("route", &mut self.route);
        walk.need("arranged", &mut self.arranged);
        walk.within("1 in", "60 ft").may("own_distance", &mut self.own_distance);
        walk.within("0 in", "10 ft").need("residual_gap", &mut self.residual_gap);
        walk.may("note", &mut self.note);
    }
}

/// A stretch of a wire, as stations from the point abeam the hole, positive toward the wire's last point.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct OnWire {
    pub name: String,
    pub stations: Range<Length>,
}

impl Fields for OnWire {
    const WHAT: &'static str = "a stretch of wire";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("name", &mut self.name);
        walk.within("-3000 ft", "3000 ft").need("stations", &mut self.stations);
    }
}

#[derive(Clone, Debug, PartialEq)]
pub enum Over {
    Wire(OnWire),
    /// A stretch of the pole, from the butt.
    Pole(Range<Length>),
}

impl Default for Over {
    fn default() -> Self {
        Self::Wire(OnWire::default())
    }
}

impl Part for Over {
    fn read(node: &Node, at: &mut Reading) -> Self {
        match at.variant(node, &["wire", "pole"]) {
            Some(("pole", node)) => Self::Pole(at.one(node, Some(("0 ft", "130 ft")))),
            Some((_, node)) => Self::Wire(at.fields_of(node)),
            None => Self::default(),
        }
    }

    fn write(&self) -> Tree {
        match self {
            Self::Wire(on) => word_with("wire", on),
            Self::Pole(range) => word_of("pole", range),
        }
    }
}

/// Rubber by ASTM D1048, D1049, D1050 class 0 to 4, plastic by ASTM F712 class 2 to 6, or a class of the planner's own catalog.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Make {
    Rubber(u8),
    Plastic(u8),
    Own(String),
}

impl Default for Make {
    fn default() -> Self {
        Self::Rubber(0)
    }
}

/// A class as a bare whole number.
#[derive(Clone, Copy, Debug, Default)]
struct Class(u8);

impl Part for Class {
    fn read(node: &Node, at: &mut Reading) -> Self {
        if let Tree::Number(text) = &node.tree
            && let Some(value) = super::tree::number(text)
            && let Some(class) = (0..=6_u8).find(|class| f64::from(*class) == value)
        {
            return Self(class);
        }
        at.shape(node, "a class from 0 to 6");
        Self(0)
    }

    fn write(&self) -> Tree {
        Tree::Number(self.0.to_string())
    }
}

impl Part for Make {
    fn read(node: &Node, at: &mut Reading) -> Self {
        match at.variant(node, &["rubber", "plastic", "own"]) {
            Some(("own", node)) => Self::Own(at.one(node, None)),
            Some(("plastic", node)) => Self::Plastic(at.one::<Class>(node, None).0),
            Some((_, node)) => Self::Rubber(at.one::<Class>(node, None).0),
            None => Self::default(),
        }
    }

    fn write(&self) -> Tree {
        match self {
            Self::Rubber(class) => word_of("rubber", &Class(*class)),
            Self::Plastic(class) => word_of("plastic", &Class(*class)),
            Self::Own(class) => word_of("own", class),
        }
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cover {
    pub name: String,
    pub over: Over,
    pub make: Make,
    pub piece_length: Quantity<Length>,
    /// How far each piece laps the next.
    pub overlap: Quantity<Length>,
    /// Of all its pieces; wanted for covers on the pole.
    pub mass: Option<Quantity<Mass>>,
    pub method: Method,
    pub starts: Starts,
    pub ends: Ends,
    pub note: Option<String>,
}

impl Fields for Cover {
    const WHAT: &'static str = "a cover";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("name", &mut self.name);
        walk.need("over", &mut self.over);
        walk.need("make", &mut self.make);
        walk.within("3 in", "30 ft").need("piece_length", &mut self.piece_length);
        walk.within("0 in", "5 ft").need("overlap", &mut self.overlap);
        walk.within("0.1 lb", "2000 lb").may("mass", &mut self.mass);
        walk.need("method", &mut self.method);
        walk.need("starts", &mut self.starts);
        walk.need("ends", &mut self.ends);
        walk.may("note", &mut self.note);
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct LengthAllowance {
    pub value: Quantity<Length>,
    /// Needed for a zero.
    pub reason: Option<String>,
}

impl Fields for LengthAllowance {
    const WHAT: &'static str = "an allowance";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("0 in", "30 ft").need("value", &mut self.value);
        walk.may("reason", &mut self.reason);
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct RatioAllowance {
    pub value: Quantity<Ratio>,
    /// Needed for a zero.
    pub reason: Option<String>,
}

impl Fields for RatioAllowance {
    const WHAT: &'static str = "an allowance";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("0 %", "50 %").need("value", &mut self.value);
        walk.may("reason", &mut self.reason);
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Allowances {
    pub survey: LengthAllowance,
    pub placing: LengthAllowance,
    pub radius_growth: LengthAllowance,
    pub load_swing: LengthAllowance,
    /// Per length along the pole away from the hook.
    pub load_swing_growth: RatioAllowance,
    pub line_movement: LengthAllowance,
    /// Of a pole in closed pole guides; wanted where a step takes it into them.
    pub guide_play: Option<LengthAllowance>,
    /// Out of plumb, per length along the pole from the guides.
    pub guide_lean: Option<RatioAllowance>,
    pub note: Option<String>,
}

impl Fields for Allowances {
    const WHAT: &'static str = "the allowances";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("survey", &mut self.survey);
        walk.need("placing", &mut self.placing);
        walk.need("radius_growth", &mut self.radius_growth);
        walk.need("load_swing", &mut self.load_swing);
        walk.need("load_swing_growth", &mut self.load_swing_growth);
        walk.need("line_movement", &mut self.line_movement);
        walk.may("guide_play", &mut self.guide_play);
        walk.may("guide_lean", &mut self.guide_lean);
        walk.may("note", &mut self.note);
    }
}

/// A point, or the hole.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Spot {
    #[default]
    Hole,
    At(Point),
}

impl Part for Spot {
    fn read(node: &Node, at: &mut Reading) -> Self {
        match &node.tree {
            Tree::Name(name) if name == "hole" => Self::Hole,
            Tree::Tuple { name: None, .. } => Self::At(Part::read(node, at)),
            _ => {
                at.shape(node, "hole, or a point (east, north, up)");
                Self::default()
            }
        }
    }

    fn write(&self) -> Tree {
        match self {
            Self::Hole => Tree::Name("hole".to_owned()),
            Self::At(point) => point.write(),
        }
    }
}

/// How the pole lies and the crane stands before anything moves.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Start {
    pub butt: Point,
    /// The pole's axis points from the butt toward here.
    pub tip_toward: Point,
    pub boom_length: Quantity<Length>,
}

impl Fields for Start {
    const WHAT: &'static str = "the start";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("butt", &mut self.butt);
        walk.need("tip_toward", &mut self.tip_toward);
        walk.within("10 ft", "300 ft").need("boom_length", &mut self.boom_length);
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct BoomAway {
    pub point: Spot,
    pub hook_height: Quantity<Length>,
}

impl Fields for BoomAway {
    const WHAT: &'static str = "booming away";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("point", &mut self.point);
        walk.within("0 ft", "300 ft").need("hook_height", &mut self.hook_height);
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Carry {
    pub point: Spot,
    /// Of the butt above the ground at the hole.
    pub height: Quantity<Length>,
}

impl Fields for Carry {
    const WHAT: &'static str = "carrying the pole";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("point", &mut self.point);
        walk.within("0 ft", "300 ft").need("height", &mut self.height);
    }
}

/// What a step does; the words are those of [`site::Action`].
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Action {
    Start(Start),
    TakeLoad,
    Upend,
    HoistTo(Quantity<Length>),
    LowerTo(Quantity<Length>),
    SwingToward(Spot),
    BoomToRadius(Quantity<Length>),
    BoomOver(Spot),
    Carry(Carry),
    Extend(Quantity<Length>),
    /// To this bearing, clockwise from north.
    Turn(Quantity<Angle>),
    /// To this depth.
    Dig(Quantity<Length>),
    /// The guides at this height from the butt.
    IntoGuides(Quantity<Length>),
    Hold(String),
    Work(Quantity<Duration>),
    #[default]
    Release,
    BoomAway(BoomAway),
    BucketTo(BucketTo),
    BucketStow,
}

const ACTIONS: &[&str] = &[
    "start",
    "take_load",
    "upend",
    "hoist_to",
    "lower_to",
    "swing_toward",
    "boom_to_radius",
    "boom_over",
    "carry",
    "extend",
    "turn",
    "dig",
    "into_guides",
    "hold",
    "work",
    "release",
    "boom_away",
    "bucket_to",
    "bucket_stow",
];

impl Part for Action {
    fn read(node: &Node, at: &mut Reading) -> Self {
        let Some((word, node)) = at.variant(node, ACTIONS) else {
            return Self::default();
        };
        let height = Some(("-25 ft", "300 ft"));
        match word {
            "start" => Self::Start(at.fields_of(node)),
            "hoist_to" => Self::HoistTo(at.one(node, height)),
            "lower_to" => Self::LowerTo(at.one(node, height)),
            "swing_toward" => Self::SwingToward(at.one(node, None)),
            "boom_to_radius" => Self::BoomToRadius(at.one(node, Some(("3 ft", "300 ft")))),
            "boom_over" => Self::BoomOver(at.one(node, None)),
            "carry" => Self::Carry(at.fields_of(node)),
            "extend" => Self::Extend(at.one(node, Some(("10 ft", "300 ft")))),
            "turn" => Self::Turn(at.one(node, Some(("-360 deg", "360 deg")))),
            "dig" => Self::Dig(at.one(node, Some(("1 ft", "25 ft")))),
            "into_guides" => Self::IntoGuides(at.one(node, Some(("1 ft", "130 ft")))),
            "hold" => Self::Hold(at.one(node, None)),
            "work" => Self::Work(at.one(node, Some(("0 s", "12 h")))),
            "boom_away" => Self::BoomAway(at.fields_of(node)),
            "bucket_to" => Self::BucketTo(at.fields_of(node)),
            "take_load" | "upend" | "release" | "bucket_stow" => {
                at.alone(node);
                match word {
                    "take_load" => Self::TakeLoad,
                    "upend" => Self::Upend,
                    "bucket_stow" => Self::BucketStow,
                    _ => Self::Release,
                }
            }
            _ => Self::default(),
        }
    }

    fn write(&self) -> Tree {
        match self {
            Self::Start(start) => word_with("start", start),
            Self::TakeLoad => Tree::Name("take_load".to_owned()),
            Self::Upend => Tree::Name("upend".to_owned()),
            Self::HoistTo(height) => word_of("hoist_to", height),
            Self::LowerTo(height) => word_of("lower_to", height),
            Self::SwingToward(spot) => word_of("swing_toward", spot),
            Self::BoomToRadius(radius) => word_of("boom_to_radius", radius),
            Self::BoomOver(spot) => word_of("boom_over", spot),
            Self::Carry(carry) => word_with("carry", carry),
            Self::Extend(length) => word_of("extend", length),
            Self::Turn(bearing) => word_of("turn", bearing),
            Self::Dig(depth) => word_of("dig", depth),
            Self::IntoGuides(height) => word_of("into_guides", height),
            Self::Hold(question) => word_of("hold", question),
            Self::Work(time) => word_of("work", time),
            Self::Release => Tree::Name("release".to_owned()),
            Self::BoomAway(away) => word_with("boom_away", away),
            Self::BucketTo(pose) => word_with("bucket_to", pose),
            Self::BucketStow => Tree::Name("bucket_stow".to_owned()),
        }
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Step {
    pub name: String,
    pub action: Action,
    /// Left out: one joint at a time.
    pub combined: Option<bool>,
    pub note: Option<String>,
}

impl Fields for Step {
    const WHAT: &'static str = "a step";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("name", &mut self.name);
        walk.need("do", &mut self.action);
        walk.may("combined", &mut self.combined);
        walk.may("note", &mut self.note);
    }
}
