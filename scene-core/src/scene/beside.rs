//! What stands in files of its own beside a scene: its load chart and the planner's own catalogs as CSV, and the employer's
//! standing answers as RON.
//!
//! Nothing is read from disk here. [`names`] tells which files a scene wants, the caller reads them into a [`Beside`], and the
//! scene is read with it. Every name is relative to the scene's folder and never leaves it.

mod catalogs;
mod chart;
mod standing;
mod table;

pub(super) use catalogs::{Own, own};
pub(super) use chart::chart;
pub(super) use standing::standing;

use super::fault::{FaultKind, Faults};
use super::reader::read_tree;
use super::tree::Tree;
use super::value::Value;
use std::collections::BTreeMap;

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
    let node = std::str::from_utf8(text).ok().and_then(|text| read_tree(text).ok());
    node.map_or_else(Vec::new, |node| wanted(&node.tree))
}

/// [`names`] of a scene that was read already.
pub fn wanted(tree: &Tree) -> Vec<String> {
    let wanted = ["conductors", "wood_poles", "covers"].map(|catalog| ["catalogs", catalog]).map(Vec::from);
    let mut names = Vec::new();
    for path in wanted.into_iter().chain([vec!["crane", "chart", "file"], vec!["basis", "standing"]]) {
        if let Some(Tree::Text(name)) = inside(tree, &path)
            && stays_inside(name)
            && !names.contains(name)
        {
            names.push(name.clone());
        }
    }
    names
}

/// What stands at a path of fields; an option may be written `Some( … )`.
fn inside<'t>(tree: &'t Tree, path: &[&str]) -> Option<&'t Tree> {
    let tree = match tree {
        Tree::Tuple { name: Some(name), items } if name == "Some" => &items.first()?.tree,
        _ => tree,
    };
    let Some((first, rest)) = path.split_first() else {
        return Some(tree);
    };
    let Tree::Struct { fields, .. } = tree else {
        return None;
    };
    inside(&fields.iter().find(|field| field.name == *first)?.value.tree, rest)
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

/// The text of the file whose name stands at a value, and a list for the faults of that file.
fn open<'b>(beside: &'b Beside, value: &Value<'_>) -> Option<(&'b str, Faults)> {
    let name = value.text();
    if name.trim().is_empty() {
        return None; // A fault already.
    }
    if !stays_inside(name) {
        value.fault(FaultKind::LeavesFolder { found: name.to_owned() });
        return None;
    }
    match beside.0.get(name) {
        Some(Ok(text)) => {
            let scene = value.with_faults(|faults| faults.file.clone());
            Some((text, Faults::new(&shown(&scene, name))))
        }
        other => {
            let why = match other {
                Some(Err(why)) => why.clone(),
                _ => "it was not read".to_owned(),
            };
            value.fault(FaultKind::NotBeside { found: name.to_owned(), why });
            None
        }
    }
}

#[cfg(test)]
mod tests;
