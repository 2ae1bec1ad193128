//! The scene that is open, with everything that was done to it: edit, undo, redo, save.
//!
//! An edit sets one field of the document as a person would write it, so that what is saved is what was seen.

use crate::scene_file::{self, Unusable};
use scene_core::scene::reader::read_tree;
use scene_core::scene::tree::{Node, Tree};
use scene_core::scene::writer::write_tree;
use scene_core::scene::{self, Scene};
use scene_core::site::Site;
use std::path::{Path, PathBuf};

pub struct Document {
    path: PathBuf,
    /// The file's bytes when it was read or written last; `None` for a built-in scene that is in no file yet.
    on_disk: Option<Vec<u8>>,
    now: State,
    undone: Vec<(String, State)>,
    done: Vec<(String, State)>,
    saved: Tree,
    /// An edit that goes on (a drag) is one edit.
    going_on: bool,
}

#[derive(Clone)]
struct State {
    tree: Tree,
    site: Site,
}

/// A field of the document: `["crane", "at"]`.
pub type FieldPath<'a> = &'a [&'a str];

impl Document {
    /// What was read from a file, or is to be saved as one that is not there yet.
    pub fn of(path: &Path, is_file: bool, site: Site, bytes: &[u8]) -> Result<Self, Unusable> {
        let text = String::from_utf8_lossy(bytes);
        let Ok(Node { tree, .. }) = read_tree(&text) else {
            return Err(scene_file::unusable(path, "the scene could not be read a second time"));
        };
        let now = State { tree: tree.clone(), site };
        Ok(Self {
            path: path.to_owned(),
            on_disk: is_file.then(|| bytes.to_vec()),
            now,
            undone: Vec::new(),
            done: Vec::new(),
            saved: tree,
            going_on: false,
        })
    }

    pub fn site(&self) -> &Site {
        &self.now.site
    }

    pub fn path(&self) -> &Path {
        &self.path
    }

    pub fn is_saved(&self) -> bool {
        self.now.tree == self.saved
    }

    pub fn can_undo(&self) -> Option<&str> {
        self.done.last().map(|(label, _)| label.as_str())
    }

    pub fn can_redo(&self) -> Option<&str> {
        self.undone.last().map(|(label, _)| label.as_str())
    }

    /// Sets a field. With `going_on` it is one edit with the one before it. A value that the scene cannot have changes nothing
    /// and says why.
    pub fn set(&mut self, label: &str, field: FieldPath, value: Tree, going_on: bool) -> Result<(), String> {
        let mut tree = self.now.tree.clone();
        let place = find(&mut tree, field).ok_or_else(|| format!("the scene has no field {}", field.join(".")))?;
        *place = value;
        let next = self.build(tree)?;
        let before = std::mem::replace(&mut self.now, next);
        if !(going_on && self.going_on) {
            self.done.push((label.to_owned(), before));
        }
        self.going_on = going_on;
        self.undone.clear();
        Ok(())
    }

    /// The edit that goes on is over.
    pub fn settle(&mut self) {
        self.going_on = false;
    }

    pub fn undo(&mut self) -> bool {
        self.settle();
        let Some((label, before)) = self.done.pop() else { return false };
        self.undone.push((label, std::mem::replace(&mut self.now, before)));
        true
    }

    pub fn redo(&mut self) -> bool {
        self.settle();
        let Some((label, after)) = self.undone.pop() else { return false };
        self.done.push((label, std::mem::replace(&mut self.now, after)));
        true
    }

    /// Writes the file whole or not at all, and never over one that changed since it was read.
    pub fn save(&mut self) -> Result<(), Unusable> {
        let text = self.text();
        match &self.on_disk {
            Some(known) => scene_file::write_over(&self.path, known, &text)?,
            None => scene_file::write_new(&self.path, &text)?,
        }
        self.on_disk = Some(text.into_bytes());
        self.saved = self.now.tree.clone();
        Ok(())
    }

    fn text(&self) -> String {
        write_tree(&self.now.tree)
    }

    fn build(&self, tree: Tree) -> Result<State, String> {
        let text = write_tree(&tree);
        let said = |faults: Vec<scene::Fault>| faults.first().map_or_else(String::new, ToString::to_string);
        let scene: Scene = scene::read(&self.path.display().to_string(), &text).map_err(said)?;
        let site = scene.site().map_err(said)?;
        Ok(State { tree, site })
    }
}

/// A length as people write it, to a tenth of a foot.
pub fn feet(m: f64) -> Tree {
    let tenths = (m / 0.3048 * 10.0).round() / 10.0;
    // No minus before a zero.
    Tree::Text(format!("{} ft", tenths + 0.0))
}

/// A point on the ground; its height stays what it was.
pub fn point(east_m: f64, north_m: f64, up_m: f64) -> Tree {
    Tree::Tuple { name: None, items: [east_m, north_m, up_m].map(|m| feet(m).node()).to_vec() }
}

fn find<'t>(tree: &'t mut Tree, field: FieldPath) -> Option<&'t mut Tree> {
    let Some((first, rest)) = field.split_first() else { return Some(tree) };
    let Tree::Struct { fields, .. } = tree else { return None };
    find(&mut fields.iter_mut().find(|field| field.name == *first)?.value.tree, rest)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene_file::FIRST_EXAMPLE;

    fn open(path: &Path) -> Document {
        let bytes = scene_file::read(path).unwrap();
        let site = scene_file::build("job.ron", &bytes).unwrap();
        Document::of(path, true, site, &bytes).unwrap()
    }

    fn example(folder: &Path) -> Document {
        let path = folder.join("job.ron");
        std::fs::write(&path, FIRST_EXAMPLE.1).unwrap();
        open(&path)
    }

    const AT: FieldPath = &["crane", "at"];

    #[test]
    fn a_crane_that_was_moved_goes_back_and_forth() {
        let folder = tempfile::tempdir().unwrap();
        let mut document = example(folder.path());
        let before = document.site().crane.at;
        document.set("Move the crane", AT, point(1.0, -12.0, 0.0), false).unwrap();
        let after = document.site().crane.at;
        assert!((after.x - 1.0).abs() < 0.02 && after != before);
        assert_eq!(document.can_undo(), Some("Move the crane"));
        assert!(document.undo() && !document.undo());
        assert_eq!(document.site().crane.at, before);
        assert!(document.is_saved());
        assert!(document.redo());
        assert_eq!(document.site().crane.at, after);
    }

    #[test]
    fn a_drag_is_one_edit() {
        let folder = tempfile::tempdir().unwrap();
        let mut document = example(folder.path());
        let before = document.site().crane.at;
        for x in [0.5, 1.0, 1.5] {
            document.set("Move the crane", AT, point(x, -12.0, 0.0), true).unwrap();
        }
        document.settle();
        document.undo();
        assert_eq!(document.site().crane.at, before);
    }

    #[test]
    fn what_the_scene_cannot_have_changes_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let mut document = example(folder.path());
        let before = document.site().clone();
        let why = document.set("Move the crane", AT, Tree::Text("over there".to_owned()), false).unwrap_err();
        assert!(why.contains("crane.at"), "{why}");
        assert!(document.set("x", &["crane", "colour"], Tree::Bool(true), false).is_err());
        assert_eq!((document.site(), document.can_undo()), (&before, None));
    }

    #[test]
    fn what_is_saved_is_read_again_and_nothing_is_lost() {
        let folder = tempfile::tempdir().unwrap();
        let mut document = example(folder.path());
        document.set("Move the crane", AT, point(1.0, -12.0, 0.0), false).unwrap();
        assert!(!document.is_saved());
        document.save().unwrap();
        assert!(document.is_saved());
        let again = open(document.path());
        assert_eq!(again.site(), document.site());
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1, "nothing else is left there");
    }

    #[test]
    fn a_file_that_changed_underneath_is_not_written_over() {
        let folder = tempfile::tempdir().unwrap();
        let mut document = example(folder.path());
        document.set("Move the crane", AT, point(1.0, -12.0, 0.0), false).unwrap();
        std::fs::write(document.path(), "somebody else's").unwrap();
        let why = document.save().unwrap_err().to_string();
        assert!(why.contains("changed"), "{why}");
        assert_eq!(std::fs::read_to_string(document.path()).unwrap(), "somebody else's");
        assert!(!document.is_saved());
    }
}
