//! What stands in files of its own beside a scene: its load chart and the planner's own catalogs, as CSV.
//!
//! Nothing is read from disk here. [`names`] tells which files a scene wants, the caller reads them into a [`Beside`], and the
//! scene is read with it. Every name is relative to the scene's folder and never leaves it.

mod catalogs;
mod chart;
mod table;

pub(super) use catalogs::{Own, own};
pub(super) use chart::chart;

use super::fault::{FaultKind, Faults, Places};
use super::part::{Fields, Walk};
use super::reader::read_tree;
use super::tree::{Node, Tree};
use crate::quantity::{Mass, Quantity};
use std::collections::BTreeMap;

/// The planner's own catalogs, each a CSV of the form of the one that comes with the program and a source in every row.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Catalogs {
    pub conductors: Option<String>,
    pub wood_poles: Option<String>,
    pub covers: Option<String>,
    pub note: Option<String>,
}

impl Fields for Catalogs {
    const WHAT: &'static str = "the catalogs";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.may("conductors", &mut self.conductors);
        walk.may("wood_poles", &mut self.wood_poles);
        walk.may("covers", &mut self.covers);
        walk.may("note", &mut self.note);
    }
}

/// A maker's load chart as CSV. It holds instead of the machine's own.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ChartFile {
    pub file: String,
    /// How the machine stands, as the file's column says it: only these rows count.
    pub outriggers: String,
    /// What the chart makes the user deduct besides hook block and rigging.
    pub deductions: Quantity<Mass>,
    pub note: Option<String>,
}

impl Fields for ChartFile {
    const WHAT: &'static str = "the chart's file";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.need("file", &mut self.file);
        walk.need("outriggers", &mut self.outriggers);
        walk.within("0 lb", "20000 lb").need("deductions", &mut self.deductions);
        walk.may("note", &mut self.note);
    }
}

/// The files beside a scene by the names it gives them: their text, or why it could not be had.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Beside(BTreeMap<String, Result<String, String>>);

impl Beside {
    /// What was read, or why nothing was.
    pub fn put(&mut self, name: &str, bytes: Result<Vec<u8>, String>) {
        let text = bytes.and_then(|bytes| {
            let text = String::from_utf8(bytes).map_err(|_| "bytes that are not UTF-8 text".to_owned())?;
            Ok(text.strip_prefix('\u{feff}').map_or_else(|| text.clone(), str::to_owned))
        });
        self.0.insert(name.to_owned(), text);
    }
}

/// The names of the files that a scene's text wants beside it. Names that leave its folder are left out; reading the scene
/// tells of them.
pub fn names(text: &[u8]) -> Vec<String> {
    let Some(node) = std::str::from_utf8(text).ok().and_then(|text| read_tree(text).ok()) else {
        return Vec::new();
    };
    let wanted = ["conductors", "wood_poles", "covers"].map(|catalog| ["catalogs", catalog]).map(Vec::from);
    let mut names = Vec::new();
    for path in wanted.into_iter().chain([vec!["crane", "chart", "file"]]) {
        if let Some(Tree::Text(name)) = inside(&node, &path).map(|node| &node.tree)
            && stays_inside(name)
            && !names.contains(name)
        {
            names.push(name.clone());
        }
    }
    names
}

/// The node at a path of fields; an option may be written `Some( … )`.
fn inside<'n>(node: &'n Node, path: &[&str]) -> Option<&'n Node> {
    let node = match &node.tree {
        Tree::Tuple { name: Some(name), items } if name == "Some" => items.first()?,
        _ => node,
    };
    let Some((first, rest)) = path.split_first() else {
        return Some(node);
    };
    let Tree::Struct { fields, .. } = &node.tree else {
        return None;
    };
    inside(&fields.iter().find(|field| field.name == *first)?.value, rest)
}

/// Whether a name is relative and goes only down from the scene's folder, on any system.
fn stays_inside(name: &str) -> bool {
    !name.contains(['\\', ':', '\0']) && name.split('/').all(|step| !matches!(step, "" | "." | ".."))
}

/// How a file beside the scene is called in a fault.
fn shown(scene: &str, name: &str) -> String {
    match scene.rfind(['/', '\\']) {
        Some(end) => format!("{}{name}", scene.get(..=end).unwrap_or("")),
        None => name.to_owned(),
    }
}

/// The text of a file that the scene names at `path`, and the list for its faults.
fn open<'b>(beside: &'b Beside, name: &str, path: &str, faults: &mut Faults) -> Option<(&'b str, Faults)> {
    if name.trim().is_empty() {
        return None; // A fault already.
    }
    if !stays_inside(name) {
        faults.add(path, FaultKind::LeavesFolder { found: name.to_owned() });
        return None;
    }
    match beside.0.get(name) {
        Some(Ok(text)) => Some((text, Faults::new(&shown(&faults.file, name), Places::default()))),
        other => {
            let why = match other {
                Some(Err(why)) => why.clone(),
                _ => "it was not read".to_owned(),
            };
            faults.add(path, FaultKind::NotBeside { found: name.to_owned(), why });
            None
        }
    }
}

#[cfg(test)]
mod tests;
