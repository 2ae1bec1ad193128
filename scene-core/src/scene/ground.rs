//! The ground as surveyed and what stands on it, as written.

use super::line::{Ends, Point, Starts};
use super::part::{Fields, Part, Reading, Walk, read_group, word_with, words};
use super::tree::{Node, Tree};
use crate::quantity::{Length, Quantity, Ratio};
use crate::site;

/// Spot elevations.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Terrain {
    pub spots: Vec<Point>,
    /// How far the ground may lie above or below what the spots say.
    pub accuracy: Quantity<Length>,
    pub note: Option<String>,
}

impl Fields for Terrain {
    const WHAT: &'static str = "the terrain";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.list_of("spots", 3, &mut self.spots);
        walk.within("0.1 in", "5 ft").need("accuracy", &mut self.accuracy);
        walk.may("note", &mut self.note);
    }
}

/// East and north of the site's origin.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Corner {
    pub east: Quantity<Length>,
    pub north: Quantity<Length>,
}

impl Part for Corner {
    fn read(node: &Node, at: &mut Reading) -> Self {
        let expected = "a corner (east, north), each a length in quotes";
        at.set_band(("-3000 ft", "3000 ft"));
        let [east, north] = read_group(node, at, expected).unwrap_or_default();
        Self { east, north }
    }

    fn write(&self) -> Tree {
        let items = [&self.east, &self.north].map(|length| length.write().node()).to_vec();
        Tree::Tuple { name: None, items }
    }
}

/// How thick a pole is that stands already.
#[derive(Clone, Debug, PartialEq)]
pub enum Girth {
    /// A wood pole of the standard's classes.
    Class(ByClass),
    Taped(ByTape),
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct ByClass {
    /// With what is in the ground.
    pub length: Quantity<Length>,
    pub class: String,
    /// By how much its circumference may be above the class's minimum.
    pub oversize: Quantity<Ratio>,
}

impl Fields for ByClass {
    const WHAT: &'static str = "a pole by class";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("20 ft", "130 ft").need("length", &mut self.length);
        walk.need("class", &mut self.class);
        walk.within("0 %", "30 %").need("oversize", &mut self.oversize);
    }
}

/// Circumferences.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ByTape {
    pub at_ground: Quantity<Length>,
    pub at_top: Quantity<Length>,
}

impl Fields for ByTape {
    const WHAT: &'static str = "a pole as taped";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("6 in", "240 in").need("at_ground", &mut self.at_ground);
        walk.within("6 in", "240 in").need("at_top", &mut self.at_top);
    }
}

impl Default for Girth {
    fn default() -> Self {
        Self::Taped(ByTape::default())
    }
}

impl Part for Girth {
    fn read(node: &Node, at: &mut Reading) -> Self {
        match at.variant(node, &["class", "taped"]) {
            Some(("class", node)) => Self::Class(at.fields_of(node)),
            Some((_, node)) => Self::Taped(at.fields_of(node)),
            None => Self::default(),
        }
    }

    fn write(&self) -> Tree {
        match self {
            Self::Class(class) => word_with("class", class),
            Self::Taped(taped) => word_with("taped", taped),
        }
    }
}

/// A pole that stands already.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StandingPole {
    pub name: String,
    /// Its centre at the ground and at its top; apart in plan when it leans.
    pub foot: Point,
    pub top: Point,
    pub girth: Girth,
    pub note: Option<String>,
}

impl Fields for StandingPole {
    const WHAT: &'static str = "a standing pole";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("name", &mut self.name);
        walk.need("foot", &mut self.foot);
        walk.need("top", &mut self.top);
        walk.need("girth", &mut self.girth);
        walk.may("note", &mut self.note);
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct LivingTree {
    pub foot: Point,
    pub height: Quantity<Length>,
    /// Diameters, the largest there are.
    pub trunk: Quantity<Length>,
    pub crown: Quantity<Length>,
    /// Height of its lowest branches.
    pub crown_from: Quantity<Length>,
}

impl Fields for LivingTree {
    const WHAT: &'static str = "a tree";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("foot", &mut self.foot);
        walk.within("3 ft", "300 ft").need("height", &mut self.height);
        walk.within("1 in", "30 ft").need("trunk", &mut self.trunk);
        walk.within("1 ft", "150 ft").need("crown", &mut self.crown);
        walk.within("0 ft", "200 ft").need("crown_from", &mut self.crown_from);
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Building {
    pub corners: Vec<Corner>,
    /// The lowest ground at it.
    pub ground: Quantity<Length>,
    /// Of its highest point above that.
    pub height: Quantity<Length>,
}

impl Fields for Building {
    const WHAT: &'static str = "a building";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.list_of("corners", 3, &mut self.corners);
        walk.within("-3000 ft", "3000 ft").need("ground", &mut self.ground);
        walk.within("6 in", "1000 ft").need("height", &mut self.height);
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Wall {
    /// Its ends at the ground.
    pub from: Point,
    pub to: Point,
    pub height: Quantity<Length>,
    pub thickness: Quantity<Length>,
}

impl Fields for Wall {
    const WHAT: &'static str = "a wall";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("from", &mut self.from);
        walk.need("to", &mut self.to);
        walk.within("3 in", "100 ft").need("height", &mut self.height);
        walk.within("0.5 in", "30 ft").need("thickness", &mut self.thickness);
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Post {
    pub foot: Point,
    pub height: Quantity<Length>,
    pub diameter: Quantity<Length>,
}

impl Fields for Post {
    const WHAT: &'static str = "a post";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("foot", &mut self.foot);
        walk.within("3 in", "500 ft").need("height", &mut self.height);
        walk.within("0.5 in", "30 ft").need("diameter", &mut self.diameter);
    }
}

/// Straight: guy wire, cross arm, branch.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rod {
    pub from: Point,
    pub to: Point,
    pub diameter: Quantity<Length>,
}

impl Fields for Rod {
    const WHAT: &'static str = "a rod";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("from", &mut self.from);
        walk.need("to", &mut self.to);
        walk.within("0.1 in", "10 ft").need("diameter", &mut self.diameter);
    }
}

#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    Tree(LivingTree),
    Building(Building),
    Wall(Wall),
    Post(Post),
    Rod(Rod),
}

impl Default for Shape {
    fn default() -> Self {
        Self::Rod(Rod::default())
    }
}

impl Part for Shape {
    fn read(node: &Node, at: &mut Reading) -> Self {
        match at.variant(node, &["tree", "building", "wall", "post", "rod"]) {
            Some(("tree", node)) => Self::Tree(at.fields_of(node)),
            Some(("building", node)) => Self::Building(at.fields_of(node)),
            Some(("wall", node)) => Self::Wall(at.fields_of(node)),
            Some(("post", node)) => Self::Post(at.fields_of(node)),
            Some((_, node)) => Self::Rod(at.fields_of(node)),
            None => Self::default(),
        }
    }

    fn write(&self) -> Tree {
        match self {
            Self::Tree(tree) => word_with("tree", tree),
            Self::Building(building) => word_with("building", building),
            Self::Wall(wall) => word_with("wall", wall),
            Self::Post(post) => word_with("post", post),
            Self::Rod(rod) => word_with("rod", rod),
        }
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Obstacle {
    pub name: String,
    pub shape: Shape,
    pub note: Option<String>,
}

impl Fields for Obstacle {
    const WHAT: &'static str = "an obstacle";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("name", &mut self.name);
        walk.need("shape", &mut self.shape);
        walk.may("note", &mut self.note);
    }
}

/// Where nothing of machine or load may come.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct NoGo {
    pub name: String,
    pub corners: Vec<Corner>,
    /// The lowest ground in it.
    pub ground: Quantity<Length>,
    /// How far up from there it holds.
    pub height: Quantity<Length>,
    pub reason: String,
    pub note: Option<String>,
}

impl Fields for NoGo {
    const WHAT: &'static str = "a no-go area";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("name", &mut self.name);
        walk.list_of("corners", 3, &mut self.corners);
        walk.within("-3000 ft", "3000 ft").need("ground", &mut self.ground);
        walk.within("1 ft", "1000 ft").need("height", &mut self.height);
        walk.need("reason", &mut self.reason);
        walk.may("note", &mut self.note);
    }
}

words! {
    /// What a person is there for.
    Task = site::ground::Task { Bystander: "bystander", Observer: "observer", Signal: "signal", TagLine: "tag_line" }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Person {
    pub name: String,
    pub task: Task,
    /// Where the feet are.
    pub at: Point,
    /// As far as arms and tools go to the side, and up from the feet.
    pub reach: Quantity<Length>,
    pub height: Quantity<Length>,
    /// From the first step when left out.
    pub starts: Option<Starts>,
    /// Beyond the last step when left out.
    pub ends: Option<Ends>,
    pub note: Option<String>,
}

impl Fields for Person {
    const WHAT: &'static str = "a person's place";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("name", &mut self.name);
        walk.need("task", &mut self.task);
        walk.need("at", &mut self.at);
        walk.within("1 ft", "60 ft").need("reach", &mut self.reach);
        walk.within("4 ft", "30 ft").need("height", &mut self.height);
        walk.may("starts", &mut self.starts);
        walk.may("ends", &mut self.ends);
        walk.may("note", &mut self.note);
    }
}

/// A road or drive, shown and not checked.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Road {
    pub name: String,
    /// Its middle.
    pub along: Vec<Corner>,
    pub width: Quantity<Length>,
    pub note: Option<String>,
}

impl Fields for Road {
    const WHAT: &'static str = "a road";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("name", &mut self.name);
        walk.list_of("along", 2, &mut self.along);
        walk.within("3 ft", "300 ft").need("width", &mut self.width);
        walk.may("note", &mut self.note);
    }
}

/// What is there besides the line.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Neighbours {
    pub poles: Vec<StandingPole>,
    pub obstacles: Vec<Obstacle>,
    pub no_go: Vec<NoGo>,
    pub people: Vec<Person>,
    pub note: Option<String>,
}

impl Fields for Neighbours {
    const WHAT: &'static str = "the neighbours";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.list("poles", &mut self.poles);
        walk.list("obstacles", &mut self.obstacles);
        walk.list("no_go", &mut self.no_go);
        walk.list("people", &mut self.people);
        walk.may("note", &mut self.note);
    }
}
