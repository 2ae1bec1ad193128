//! The document that a person writes and saves: RON text → tree with places → [`Site`].
//!
//! ```text
//! text ──reader──▶ tree ──site──▶ Site
//!      ◀──writer──
//! ```
//! `value`, `fields`, `measure` and `names` hold how anything is read from a tree, each with its place; `circuit`, `line`, `measured`,
//! `hang`, `pole`, `crane`, `bucket`, `basis`, `work`, `steps`, `ground` and `neighbours` read the parts, each with its fields and their bands, look every
//! reference up, and check geometry and order; `site` puts them together.
//!
//! `catalog_machine` reads a machine of the catalog by itself.
//!
//! `beside` holds what stands in files of its own beside the scene.
//!
//! A scene is used only when nothing is wrong with it: [`read`] gives the scene or every fault, each with its place.
//! What is not modeled: buried services.

mod basis;
pub mod beside;
mod bucket;
mod catalog_machine;
mod circuit;
mod crane;
mod derrick;
pub mod fault;
mod fields;
mod ground;
mod hang;
pub mod kinds;
mod line;
mod load_chart;
mod machine;
mod measure;
mod measured;
mod names;
mod neighbours;
mod pole;
mod pose;
pub mod reader;
mod record;
mod reference;
mod site;
mod steps;
pub mod tree;
mod value;
mod work;
pub mod writer;

use crate::site::Site;
use beside::Beside;
use fault::{FaultKind, Faults};
use site::{Before, Read};
use std::cell::RefCell;
use tree::{Node, Place, Tree};
use value::Value;

pub use catalog_machine::{catalog_bucket_truck, catalog_crane};
pub use fault::Fault;
pub use reference::{SceneField, ScenePart, reference};

/// A job as its planner wrote it, with the site that it describes.
#[derive(Clone, Debug)]
pub struct Scene {
    /// The file's name, for faults.
    file: String,
    /// What its own catalogs and chart hold.
    beside: Beside,
    node: Node,
    read: Read,
}

/// Equal when they say the same, wherever it stands in the text.
impl PartialEq for Scene {
    fn eq(&self, other: &Self) -> bool {
        (&self.file, &self.beside, self.to_ron()) == (&other.file, &other.beside, other.to_ron())
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
    match reader::read_tree(text) {
        Ok(node) => Scene::of(file, node, beside, None),
        Err((place, kind)) => Err(whole_file(file, place, kind)),
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
    /// The scene that a tree says, or everything that is wrong with it. `before` is what another tree said of the same scene.
    fn of(file: &str, node: Node, beside: &Beside, before: Option<Before<'_>>) -> Result<Self, Vec<Fault>> {
        let faults = RefCell::new(Faults::new(file));
        let document = Value::document(&node, &faults);
        let read = match other_format(&node) {
            Some(format) => {
                let found = format.tree.describe();
                document.inside("format", format).fault(FaultKind::UnknownFormat { found });
                None
            }
            None => Some(site::read(&document, beside, before)),
        };
        match (faults.into_inner().into_list(), read) {
            (None, Some(read)) => Ok(Self { file: file.to_owned(), beside: beside.clone(), node, read }),
            (faults, _) => Err(faults.unwrap_or_default()),
        }
    }

    /// The scene with another tree, as an edit makes it: of the parts that cost something, those that did not change are not
    /// read again, unless a file beside the scene changed.
    pub fn edited(&self, tree: Tree, beside: &Beside) -> Result<Self, Vec<Fault>> {
        let node = Node { place: self.node.place, tree };
        let before = (*beside == self.beside).then_some(Before { node: &self.node, read: &self.read });
        Self::of(&self.file, node, beside, before)
    }

    /// What the files beside it hold.
    pub fn beside(&self) -> &Beside {
        &self.beside
    }

    /// What the scene says.
    pub fn tree(&self) -> &Tree {
        &self.node.tree
    }

    /// [`Self::site`] as it is kept here.
    pub fn as_site(&self) -> &Site {
        &self.read.site
    }

    /// [`Self::site`] taken out of the scene.
    pub fn into_site(self) -> Site {
        self.read.site
    }

    /// Everything looked up, in SI.
    pub fn site(&self) -> Result<Site, Vec<Fault>> {
        Ok(self.read.site.clone())
    }

    /// The scene as text that [`read`] takes; comments are not kept, notes are.
    pub fn to_ron(&self) -> String {
        writer::write_tree(&self.node.tree)
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
