//! The line as written: circuits, conductors, wires, weather, phases held out, and what is not there.

use super::part::{Fields, Part, Reading, Walk, read_group, word_of, word_with, words};
use super::strung::{Core, Strung};
use super::tree::{Node, Tree};
use crate::quantity::{Expansion, Force, Length, LineWeight, Quantity, Range, Speed, Voltage};
use crate::site;

words! {
    /// How the circuit's neutral is grounded.
    Grounding = site::Grounding {
        EffectivelyGrounded: "effectively_grounded",
        Ungrounded: "ungrounded",
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Circuit {
    pub name: String,
    /// Nominal, phase to phase.
    pub voltage: Quantity<Voltage>,
    pub grounding: Grounding,
    pub note: Option<String>,
}

impl Fields for Circuit {
    const WHAT: &'static str = "a circuit";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("name", &mut self.name);
        walk.within("50 V", "800 kV").need("voltage", &mut self.voltage);
        walk.need("grounding", &mut self.grounding);
        walk.may("note", &mut self.note);
    }
}

/// A conductor with its own figures, for what the catalog does not have.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Conductor {
    pub name: String,
    /// Covering included.
    pub diameter: Quantity<Length>,
    pub weight: Quantity<LineWeight>,
    pub rated_strength: Option<Quantity<Force>>,
    /// E·A.
    pub stiffness: Option<Quantity<Force>>,
    /// With `core`: for spans hung from stringing data.
    pub expansion: Option<Quantity<Expansion>>,
    pub core: Option<Core>,
    pub source: String,
    pub note: Option<String>,
}

impl Fields for Conductor {
    const WHAT: &'static str = "a conductor";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("name", &mut self.name);
        walk.within("0.05 in", "6 in").need("diameter", &mut self.diameter);
        walk.within("5 lb/1000ft", "20000 lb/1000ft").need("weight", &mut self.weight);
        walk.within("100 lbf", "200000 lbf").may("rated_strength", &mut self.rated_strength);
        walk.within("1000 lbf", "100000000 lbf").may("stiffness", &mut self.stiffness);
        walk.within("0.1e-6 /F", "20e-6 /F").may("expansion", &mut self.expansion);
        walk.may("core", &mut self.core);
        walk.need("source", &mut self.source);
        walk.may("note", &mut self.note);
    }
}

/// East, north and up from the site's origin.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Point {
    pub east: Quantity<Length>,
    pub north: Quantity<Length>,
    pub up: Quantity<Length>,
}

impl Part for Point {
    fn read(node: &Node, at: &mut Reading) -> Self {
        let expected = "a point (east, north, up), each a length in quotes";
        at.set_band(("-3000 ft", "3000 ft"));
        let [east, north, up] = read_group(node, at, expected).unwrap_or_default();
        Self { east, north, up }
    }

    fn write(&self) -> Tree {
        let items = [&self.east, &self.north, &self.up].map(|length| length.write().node()).to_vec();
        Tree::Tuple { name: None, items }
    }
}

/// What a wire carries.
#[derive(Clone, Debug, PartialEq)]
pub enum Carries {
    /// A phase of the circuit of this name.
    Phase(String),
    /// The neutral of the circuit, or a guy, ground lead or strand bonded to it.
    Neutral(String),
    Communication,
}

impl Default for Carries {
    fn default() -> Self {
        Self::Phase(String::new())
    }
}

impl Part for Carries {
    fn read(node: &Node, at: &mut Reading) -> Self {
        match at.variant(node, &["phase", "neutral", "communication"]) {
            Some(("phase", node)) => Self::Phase(at.one(node, None)),
            Some(("neutral", node)) => Self::Neutral(at.one(node, None)),
            Some((_, node)) => {
                at.alone(node);
                Self::Communication
            }
            None => Self::default(),
        }
    }

    fn write(&self) -> Tree {
        match self {
            Self::Phase(circuit) => word_of("phase", circuit),
            Self::Neutral(circuit) => word_of("neutral", circuit),
            Self::Communication => Tree::Name("communication".to_owned()),
        }
    }
}

/// What is known of how one span hangs in still air: low … high.
#[derive(Clone, Debug, PartialEq)]
pub enum Hang {
    /// Vertical, from the chord, at midspan.
    Sag(Range<Length>),
    /// Horizontal.
    Tension(Range<Force>),
    /// From how it was strung, with today's temperature and ice.
    Strung(Box<Strung>),
}

impl Default for Hang {
    fn default() -> Self {
        Self::Sag(Range::default())
    }
}

impl Part for Hang {
    fn read(node: &Node, at: &mut Reading) -> Self {
        match at.variant(node, &["sag", "tension", "strung"]) {
            Some(("tension", node)) => Self::Tension(at.one(node, Some(("1 lbf", "100000 lbf")))),
            Some(("strung", node)) => Self::Strung(Box::new(at.fields_of(node))),
            Some((_, node)) => Self::Sag(at.one(node, Some(("0.1 in", "300 ft")))),
            None => Self::default(),
        }
    }

    fn write(&self) -> Tree {
        match self {
            Self::Sag(range) => word_of("sag", range),
            Self::Tension(range) => word_of("tension", range),
            Self::Strung(strung) => word_with("strung", strung.as_ref()),
        }
    }
}

words! {
    /// Whether the wire can run through where it is attached.
    Attachment = site::Attachment {
        Unknown: "unknown",
        Tied: "tied",
        Sliding: "sliding",
        DeadEnd: "dead_end",
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Wire {
    pub name: String,
    pub carries: Carries,
    /// A name of the catalog or of `conductors`.
    pub conductor: String,
    /// Where it is attached, in order along the line.
    pub points: Vec<Point>,
    /// One for each span between two points.
    pub hang: Vec<Hang>,
    /// One for each point; left out where nobody looked.
    pub attached: Vec<Attachment>,
    pub note: Option<String>,
}

impl Fields for Wire {
    const WHAT: &'static str = "a wire";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("name", &mut self.name);
        walk.need("carries", &mut self.carries);
        walk.need("conductor", &mut self.conductor);
        walk.list_of("points", 2, &mut self.points);
        walk.list_of("hang", 1, &mut self.hang);
        walk.list("attached", &mut self.attached);
        walk.may("note", &mut self.note);
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Weather {
    pub name: String,
    /// From either side.
    pub wind: Quantity<Speed>,
    pub note: Option<String>,
}

impl Fields for Weather {
    const WHAT: &'static str = "a weather case";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("name", &mut self.name);
        walk.within("0 mph", "60 mph").need("wind", &mut self.wind);
        walk.may("note", &mut self.note);
    }
}

/// From when on something is there.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Starts {
    /// Before the first step.
    #[default]
    AtStart,
    /// From the end of this step, which puts it there.
    After(String),
}

impl Part for Starts {
    fn read(node: &Node, at: &mut Reading) -> Self {
        match at.variant(node, &["at_start", "after"]) {
            Some(("after", node)) => Self::After(at.one(node, None)),
            Some((_, node)) => {
                at.alone(node);
                Self::AtStart
            }
            None => Self::default(),
        }
    }

    fn write(&self) -> Tree {
        match self {
            Self::AtStart => Tree::Name("at_start".to_owned()),
            Self::After(step) => word_of("after", step),
        }
    }
}

/// Until when something is there.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Ends {
    /// Beyond the last step.
    #[default]
    Never,
    /// Until the start of this step, which takes it away.
    Before(String),
}

impl Part for Ends {
    fn read(node: &Node, at: &mut Reading) -> Self {
        match at.variant(node, &["never", "before"]) {
            Some(("before", node)) => Self::Before(at.one(node, None)),
            Some((_, node)) => {
                at.alone(node);
                Self::Never
            }
            None => Self::default(),
        }
    }

    fn write(&self) -> Tree {
        match self {
            Self::Never => Tree::Name("never".to_owned()),
            Self::Before(step) => word_of("before", step),
        }
    }
}

/// A phase moved aside and held at a point.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HeldOut {
    pub name: String,
    pub wire: String,
    /// Where along the wire it is taken hold of, from the point abeam the hole, positive toward its last point.
    pub station: Quantity<Length>,
    pub to: Point,
    /// The most side force that the holding arm is rated for.
    pub holder_rating: Option<Quantity<Force>>,
    pub starts: Starts,
    pub ends: Ends,
    pub note: Option<String>,
}

impl Fields for HeldOut {
    const WHAT: &'static str = "a held-out phase";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("name", &mut self.name);
        walk.need("wire", &mut self.wire);
        walk.within("-3000 ft", "3000 ft").need("station", &mut self.station);
        walk.need("to", &mut self.to);
        walk.within("1 lbf", "20000 lbf").may("holder_rating", &mut self.holder_rating);
        walk.need("starts", &mut self.starts);
        walk.need("ends", &mut self.ends);
        walk.may("note", &mut self.note);
    }
}

/// Whether something is near the work.
#[derive(Clone, Debug, PartialEq)]
pub enum Presence {
    /// Not there; who looked, when, how far.
    Absent(String),
    /// Among the wires or the neighbours, under these names.
    Listed(Vec<String>),
}

impl Default for Presence {
    fn default() -> Self {
        Self::Absent(String::new())
    }
}

impl Part for Presence {
    fn read(node: &Node, at: &mut Reading) -> Self {
        match at.variant(node, &["absent", "listed"]) {
            Some(("listed", node)) => Self::Listed(at.one(node, None)),
            Some((_, node)) => Self::Absent(at.one(node, None)),
            None => Self::default(),
        }
    }

    fn write(&self) -> Tree {
        match self {
            Self::Absent(why) => word_of("absent", why),
            Self::Listed(names) => word_of("listed", names),
        }
    }
}

/// What else may be near the work: each is listed among wires or neighbours, or said to be absent.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Near {
    pub jumpers: Presence,
    pub service_drops: Presence,
    pub communication: Presence,
    pub guys: Presence,
    /// Standing poles, trees, buildings and other obstacles; listed by their names among the neighbours.
    pub structures: Option<Presence>,
    pub note: Option<String>,
}

impl Fields for Near {
    const WHAT: &'static str = "the statement of what is near";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("jumpers", &mut self.jumpers);
        walk.need("service_drops", &mut self.service_drops);
        walk.need("communication", &mut self.communication);
        walk.need("guys", &mut self.guys);
        walk.may("structures", &mut self.structures);
        walk.may("note", &mut self.note);
    }
}
