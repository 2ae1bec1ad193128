//! The document that a person writes and saves: RON text ↔ [`Scene`] → [`Site`].
//!
//! ```text
//! text ──reader──▶ tree ──part──▶ Scene ──build──▶ Site
//!      ◀──writer──      ◀──part──
//! ```
//! `part` holds how any type is read and written; `line`, `strung`, `pole`, `crane`, `work` and `ground` hold the types, each with its
//! list of fields and their bands; `build` looks every reference up, checks geometry and order, and gives the site in SI.
//!
//! `beside` holds what stands in files of its own beside the scene.
//!
//! A scene is used only when nothing is wrong with it: [`read`] gives the scene or every fault, each with its place.
//! What is not modelled: buried services.

pub mod beside;
pub mod bucket;
mod build;
pub mod crane;
pub mod fault;
pub mod ground;
pub mod line;
mod part;
pub mod pole;
pub mod reader;
pub mod strung;
pub mod tree;
pub mod work;
pub mod writer;

use crate::quantity::{Length, Quantity};
use crate::site::Site;
use beside::Beside;
use fault::{FaultKind, Faults, Places};
use part::{Fields, Part, Reading, Walk};
use tree::{Node, Place, Tree};

pub use fault::Fault;
pub use part::Answers;

/// A job as its planner wrote it. Equal when it says the same, wherever it stands in the text.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Scene {
    /// 1.
    pub format: u32,
    pub name: String,
    /// What it teaches or is for.
    pub about: Option<String>,
    /// Above mean sea level.
    pub altitude: Quantity<Length>,
    pub basis: work::Basis,
    pub circuits: Vec<line::Circuit>,
    /// The planner's own, in files beside the scene.
    pub catalogs: Option<beside::Catalogs>,
    /// With their own figures; those of the catalog need not stand here.
    pub conductors: Vec<line::Conductor>,
    pub wires: Vec<line::Wire>,
    pub near: line::Near,
    pub weather: Vec<line::Weather>,
    pub held_out: Vec<line::HeldOut>,
    pub pole: pole::Pole,
    pub hole: pole::Hole,
    pub rigging: pole::Rigging,
    pub crane: crane::Crane,
    /// Left out: nothing is said of one, and nothing of it is checked.
    pub bucket_truck: Option<bucket::Stated>,
    pub covers: Vec<work::Cover>,
    pub allowances: work::Allowances,
    pub steps: Vec<work::Step>,
    pub terrain: Option<ground::Terrain>,
    pub neighbours: Option<ground::Neighbours>,
    pub roads: Vec<ground::Road>,
    pub note: Option<String>,
    /// The file's name, for faults.
    file: String,
    /// What its own catalogs and chart hold.
    beside: Beside,
    places: Places,
}

impl Fields for Scene {
    const WHAT: &'static str = "the scene";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("format", &mut self.format);
        walk.need("name", &mut self.name);
        walk.may("about", &mut self.about);
        walk.may("note", &mut self.note);
        walk.within("-1500 ft", "20000 ft").need("altitude", &mut self.altitude);
        walk.need("basis", &mut self.basis);
        walk.list_of("circuits", 1, &mut self.circuits);
        walk.may("catalogs", &mut self.catalogs);
        walk.list("conductors", &mut self.conductors);
        walk.list_of("wires", 1, &mut self.wires);
        walk.need("near", &mut self.near);
        walk.list_of("weather", 1, &mut self.weather);
        walk.list("held_out", &mut self.held_out);
        walk.need("pole", &mut self.pole);
        walk.need("hole", &mut self.hole);
        walk.need("rigging", &mut self.rigging);
        walk.need("crane", &mut self.crane);
        walk.may("bucket_truck", &mut self.bucket_truck);
        walk.list("covers", &mut self.covers);
        walk.need("allowances", &mut self.allowances);
        walk.list_of("steps", 1, &mut self.steps);
        walk.may("terrain", &mut self.terrain);
        walk.may("neighbours", &mut self.neighbours);
        walk.list("roads", &mut self.roads);
    }
}

/// The scene that a text holds, or everything that is wrong with it. `file` is its name for people.
///
/// A fault of form (a bracket that is missing) is reported alone, for nothing after it can be told.
///
/// A scene that names files beside it cannot be read by this; see [`read_with`].
pub fn read(file: &str, text: &str) -> Result<Scene, Vec<Fault>> {
    read_with(file, text, &Beside::default())
}

/// [`read`] with what stands in files [`beside`] the scene.
pub fn read_with(file: &str, text: &str, beside: &Beside) -> Result<Scene, Vec<Fault>> {
    let mut faults = Faults::new(file, Places::default());
    match reader::read_tree(text) {
        Ok(node) => decode(&node, faults, beside).map(|(scene, _)| scene),
        Err((place, kind)) => {
            faults.add_at(place, "", kind);
            Err(faults.into_list().unwrap_or_default())
        }
    }
}

/// [`read`] for bytes that may not be text at all.
pub fn read_bytes(file: &str, bytes: &[u8]) -> Result<Scene, Vec<Fault>> {
    read_bytes_with(file, bytes, &Beside::default())
}

/// [`read_with`] for bytes that may not be text at all.
pub fn read_bytes_with(file: &str, bytes: &[u8], beside: &Beside) -> Result<Scene, Vec<Fault>> {
    if bytes.len() <= reader::LARGEST {
        return match std::str::from_utf8(bytes) {
            Ok(text) => read_with(file, text, beside),
            Err(error) => {
                let at_byte = error.valid_up_to();
                let place = place_of_end(bytes.get(..at_byte).unwrap_or(&[]));
                Err(whole_file(file, place, FaultKind::NotText { at_byte }))
            }
        };
    }
    Err(whole_file(
        file,
        Place { line: 1, column: 1 },
        FaultKind::TooLarge { bytes: bytes.len(), limit: reader::LARGEST },
    ))
}

fn whole_file(file: &str, Place { line, column }: Place, kind: FaultKind) -> Vec<Fault> {
    vec![Fault { file: file.to_owned(), line, column, path: String::new(), kind }]
}

/// Where the text that follows `text` begins.
fn place_of_end(text: &[u8]) -> Place {
    let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    let lines = text.iter().filter(|byte| **byte == b'\n').count();
    let last = text.rsplit(|byte| *byte == b'\n').next().unwrap_or(&[]);
    let column = String::from_utf8_lossy(last).chars().count();
    Place { line: count(lines).saturating_add(1), column: count(column).saturating_add(1) }
}

/// A small commented scene to start from; it can be read.
pub const fn template() -> &'static str {
    include_str!("scene/template.ron")
}

impl Scene {
    /// Everything looked up, in SI. The scene is checked again, because it may have been edited since it was read.
    pub fn site(&self) -> Result<Site, Vec<Fault>> {
        decode(&self.write().node(), Faults::new(&self.file, self.places.clone()), &self.beside).map(|(_, site)| site)
    }

    /// The scene as text that [`read`] takes; comments are not kept, notes are.
    pub fn to_ron(&self) -> String {
        writer::write_tree(&self.write())
    }

    /// Where a field stands in the file that was read, by its path (`pole.length`); line 0 when it was not read.
    pub fn place(&self, path: &str) -> Place {
        self.places.of(path)
    }
}

/// Tree → scene and site, with the faults of both.
fn decode(node: &Node, mut faults: Faults, beside: &Beside) -> Result<(Scene, Site), Vec<Fault>> {
    if node.place != Place::default() {
        faults.places.set("", node.place);
    }
    if let Some(format) = other_format(node) {
        faults.add_at(format.place, "format", FaultKind::UnknownFormat { found: format.tree.describe() });
        return Err(faults.into_list().unwrap_or_default());
    }
    let mut at = Reading::new(faults);
    let mut scene = <Scene as Part>::read(node, &mut at);
    let mut faults = at.faults;
    scene.file.clone_from(&faults.file);
    scene.beside.clone_from(beside);
    let site = build::site(&scene, &mut faults);
    scene.places = std::mem::take(&mut faults.places);
    match faults.into_list() {
        None => Ok((scene, site)),
        Some(list) => Err(list),
    }
}

/// The number of a format that is not this one: no field of it can be judged.
fn other_format(node: &Node) -> Option<&Node> {
    let Tree::Struct { fields, .. } = &node.tree else {
        return None;
    };
    let format = &fields.iter().find(|field| field.name == "format")?.value;
    let Tree::Number(text) = &format.tree else {
        return None;
    };
    (tree::number(text) != Some(1.0)).then_some(format)
}

#[cfg(test)]
mod tests;
