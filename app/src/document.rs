//! The scene that is open, with everything that was done to it: edit, undo, redo, save.
//!
//! An edit changes the document as a person would write it, so that what is saved is what was seen. What is not saved is kept
//! beside the file too, so that it outlives a crash.

use crate::beside_files::BesideFiles;
use crate::field::{FieldPath, Key};
use crate::scene_file::{self, Unusable};
use scene_core::quantity::unit::FOOT_M;
use scene_core::scene::beside::wanted;
use scene_core::scene::reader::read_tree;
use scene_core::scene::tree::{Field, Node, Tree};
use scene_core::scene::writer::write_tree;
use scene_core::scene::{Fault, Scene};
use scene_core::site::Site;
use std::path::{Path, PathBuf};

pub struct Document {
    path: PathBuf,
    /// The file's bytes when it was read or written last; `None` for a built-in scene that is in no file yet.
    on_disk: Option<Vec<u8>>,
    /// The comment that the text begins with, kept by saving; comments within the text are not part of what it says.
    head: String,
    now: Scene,
    undone: Vec<(String, Scene)>,
    done: Vec<(String, Scene)>,
    saved: Tree,
    beside: BesideFiles,
    /// An edit that goes on (a drag) is one edit.
    going_on: bool,
}

/// One thing done to the document, told as undo tells it.
#[derive(Clone, Debug, PartialEq)]
pub struct Edit {
    pub label: String,
    pub at: FieldPath,
    pub change: Change,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Change {
    /// Sets what stands there; a field that is not there yet is added.
    Set(Tree),
    /// Into the list there, before this index.
    Insert(usize, Tree),
    /// Out of the list there.
    Remove(usize),
    /// Within the list there.
    Shift { from: usize, to: usize },
}

impl Edit {
    pub fn set(label: impl Into<String>, at: FieldPath, value: Tree) -> Self {
        Self { label: label.into(), at, change: Change::Set(value) }
    }
}

impl Document {
    /// What was read from a file, or is to be saved as one that is not there yet.
    pub fn of(path: &Path, is_file: bool, scene: Scene, bytes: &[u8]) -> Self {
        Self {
            path: path.to_owned(),
            on_disk: is_file.then(|| bytes.to_vec()),
            head: head(&String::from_utf8_lossy(bytes)).to_owned(),
            saved: scene.tree().clone(),
            now: scene,
            undone: Vec::new(),
            done: Vec::new(),
            beside: BesideFiles::default(),
            going_on: false,
        }
    }

    /// A scene file.
    pub fn open(path: &Path) -> Result<Self, Unusable> {
        let bytes = scene_file::read(path)?;
        let scene = scene_file::build(&path.display().to_string(), &bytes)?;
        Ok(Self::of(path, true, scene, &bytes))
    }

    /// A scene that comes with the program and is in no file yet.
    pub fn built_in(name: &str, text: &str) -> Result<Self, Unusable> {
        let scene = scene_file::build(name, text.as_bytes())?;
        Ok(Self::of(Path::new(name), false, scene, text.as_bytes()))
    }

    pub fn tree(&self) -> &Tree {
        self.now.tree()
    }

    /// It has a file of its own already.
    pub fn is_file(&self) -> bool {
        self.on_disk.is_some()
    }

    pub fn site(&self) -> &Site {
        self.now.as_site()
    }

    pub fn path(&self) -> &Path {
        &self.path
    }

    pub fn is_saved(&self) -> bool {
        *self.now.tree() == self.saved
    }

    pub fn can_undo(&self) -> Option<&str> {
        self.done.last().map(|(label, _)| label.as_str())
    }

    pub fn can_redo(&self) -> Option<&str> {
        self.undone.last().map(|(label, _)| label.as_str())
    }

    /// With `going_on` it is one edit with the one before it. What the scene cannot have changes nothing and says why.
    pub fn apply(&mut self, edit: &Edit, going_on: bool) -> Result<(), String> {
        let mut tree = self.now.tree().clone();
        change(&mut tree, &edit.at, &edit.change)?;
        let next = self.build(tree)?;
        let before = std::mem::replace(&mut self.now, next);
        if !(going_on && self.going_on) {
            self.done.push((edit.label.clone(), before));
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
        self.keep_with_comments()?;
        match &self.on_disk {
            Some(known) => scene_file::write_over(&self.path, known, &text)?,
            None => scene_file::write_new(&self.path, &text)?,
        }
        self.on_disk = Some(text.into_bytes());
        self.saved = self.now.tree().clone();
        self.forget_unsaved();
        Ok(())
    }

    /// A file with comments within is kept as a person wrote it beside the one that is written over it, once.
    fn keep_with_comments(&self) -> Result<(), Unusable> {
        let before = self.on_disk.as_ref().map(|known| String::from_utf8_lossy(known));
        let Some(text) = before.filter(|text| text.get(head(text).len()..).is_some_and(may_hold_comments)) else {
            return Ok(());
        };
        match self.beside(".before").filter(|path| !path.exists()) {
            Some(path) => scene_file::write_new(&path, &text),
            None => Ok(()),
        }
    }

    /// Writes it as another file; never over one that is there.
    pub fn save_as(&mut self, path: &Path) -> Result<(), Unusable> {
        let text = self.text();
        scene_file::write_new(path, &text)?;
        self.forget_unsaved();
        self.path = path.to_owned();
        self.on_disk = Some(text.into_bytes());
        self.saved = self.now.tree().clone();
        Ok(())
    }

    /// Somebody else wrote the file since it was read or written here.
    pub fn changed_underneath(&self) -> bool {
        let Some(known) = &self.on_disk else { return false };
        scene_file::read(&self.path).is_ok_and(|bytes| bytes != *known)
    }

    /// Where what is not saved is kept, for a scene that has a file.
    fn kept_at(&self) -> Option<PathBuf> {
        self.on_disk.as_ref()?;
        self.beside(".unsaved")
    }

    /// Its path with this after its name.
    fn beside(&self, ending: &str) -> Option<PathBuf> {
        let mut name = self.path.file_name()?.to_owned();
        name.push(ending);
        Some(self.path.with_file_name(name))
    }

    /// Keeps what is not saved beside the file; takes it away when there is nothing to keep.
    pub fn keep_unsaved(&self) -> Result<(), Unusable> {
        match self.kept_at() {
            Some(path) if !self.is_saved() => scene_file::write_anew(&path, self.text().as_bytes()),
            _ => {
                self.forget_unsaved();
                Ok(())
            }
        }
    }

    pub fn forget_unsaved(&self) {
        if let Some(path) = self.kept_at() {
            // Not being there is as good.
            let _ = std::fs::remove_file(path);
        }
    }

    /// What an earlier run left unsaved, when it is another scene than this.
    pub fn left_behind(&self) -> Option<Result<Tree, String>> {
        let path = self.kept_at()?;
        let bytes = scene_file::read(&path).ok().filter(|_| path.exists())?;
        match read_text(&String::from_utf8_lossy(&bytes)) {
            Ok(tree) if tree == *self.now.tree() => None,
            read => Some(read),
        }
    }

    fn text(&self) -> String {
        format!("{}{}", self.head, write_tree(self.now.tree()))
    }

    /// The scene with this tree; what is wrong with it, where that is no scene.
    fn build(&mut self, tree: Tree) -> Result<Scene, String> {
        let beside = self.beside.read(&self.path, wanted(&tree));
        let said = |faults: Vec<Fault>| faults.first().map_or_else(String::new, ToString::to_string);
        self.now.edited(tree, &beside).map_err(said)
    }
}

/// The comment lines that a text begins with.
fn head(text: &str) -> &str {
    let lines = text.split_inclusive('\n').take_while(|line| {
        let line = line.trim();
        line.is_empty() || line.starts_with("//")
    });
    text.get(..lines.map(str::len).sum()).unwrap_or_default()
}

/// So much as looks like one counts, be it within quotes.
fn may_hold_comments(text: &str) -> bool {
    text.contains("//") || text.contains("/*")
}

/// What a text says, or where in it something is wrong.
pub fn read_text(text: &str) -> Result<Tree, String> {
    match read_tree(text) {
        Ok(node) => Ok(node.tree),
        Err((place, kind)) => {
            let fault =
                Fault { file: "text".to_owned(), line: place.line, column: place.column, path: String::new(), kind };
            Err(fault.to_string())
        }
    }
}

/// A length as people write it, to a tenth of a foot.
pub fn feet(m: f64) -> Tree {
    let tenths = (m / FOOT_M * 10.0).round() / 10.0;
    // No minus before a zero.
    Tree::Text(format!("{} ft", tenths + 0.0))
}

/// A compass bearing as people write it, to half a degree, of a way given counterclockwise from east.
pub fn bearing(radians: f64) -> Tree {
    let halves = ((90.0 - radians.to_degrees()).rem_euclid(360.0) * 2.0).round() / 2.0;
    Tree::Text(format!("{} deg", if halves >= 360.0 { 0.0 } else { halves }))
}

/// A point of three lengths, written anew only where it moved.
pub fn moved(was: &Tree, from_m: [f64; 3], to_m: [f64; 3]) -> Tree {
    let Tree::Tuple { name, items } = was else {
        return Tree::Tuple { name: None, items: to_m.map(|m| feet(m).node()).to_vec() };
    };
    let item = |(i, item): (usize, &Node)| match (from_m.get(i), to_m.get(i)) {
        (Some(from), Some(to)) if (from - to).abs() > 1e-3 => feet(*to).node(),
        _ => item.clone(),
    };
    Tree::Tuple { name: name.clone(), items: items.iter().enumerate().map(item).collect() }
}

fn change(tree: &mut Tree, at: &FieldPath, change: &Change) -> Result<(), String> {
    let missing = || format!("the scene has no field {at}");
    match change {
        Change::Set(value) => {
            if let Some((was, now)) = renamed_step(tree, at, value) {
                rename(tree, &was, &now);
            }
            if let Some(place) = at.find_mut(tree) {
                *place = value.clone();
                return Ok(());
            }
            let Some((Key::Field(name), above)) = at.keys().split_last() else { return Err(missing()) };
            match FieldPath::from(above).find_mut(tree) {
                Some(Tree::Struct { fields, .. }) => {
                    fields.push(Field { place: Default::default(), name: name.clone(), value: value.clone().node() });
                    Ok(())
                }
                _ => Err(missing()),
            }
        }
        Change::Insert(index, value) => {
            let list = list(tree, at).ok_or_else(missing)?;
            list.insert((*index).min(list.len()), value.clone().node());
            Ok(())
        }
        Change::Remove(index) => {
            let list = list(tree, at).ok_or_else(missing)?;
            if *index < list.len() {
                list.remove(*index);
            }
            Ok(())
        }
        Change::Shift { from, to } => {
            let list = list(tree, at).ok_or_else(missing)?;
            if *from < list.len() && *to < list.len() {
                let item = list.remove(*from);
                list.insert(*to, item);
            }
            Ok(())
        }
    }
}

fn list<'t>(tree: &'t mut Tree, at: &FieldPath) -> Option<&'t mut Vec<Node>> {
    match at.find_mut(tree)? {
        Tree::List(items) => Some(items),
        _ => None,
    }
}

/// The old and the new name, when the field is a step's name.
fn renamed_step(tree: &Tree, at: &FieldPath, value: &Tree) -> Option<(String, String)> {
    let [Key::Field(steps), Key::At(_), Key::Field(name)] = at.keys() else { return None };
    match (at.find(tree)?, value) {
        (Tree::Text(was), Tree::Text(now)) if steps == "steps" && name == "name" && was != now => {
            Some((was.clone(), now.clone()))
        }
        _ => None,
    }
}

/// What starts after or ends before a step names it: it goes on meaning the same step.
fn rename(tree: &mut Tree, was: &str, now: &str) {
    match tree {
        Tree::Tuple { name: Some(word), items } if word == "after" || word == "before" => {
            for item in items {
                if item.tree == Tree::Text(was.to_owned()) {
                    item.tree = Tree::Text(now.to_owned());
                }
            }
        }
        Tree::List(items) | Tree::Tuple { items, .. } => {
            items.iter_mut().for_each(|item| rename(&mut item.tree, was, now))
        }
        Tree::Struct { fields, .. } => fields.iter_mut().for_each(|field| rename(&mut field.value.tree, was, now)),
        Tree::Map(entries) => entries.iter_mut().for_each(|(_, value)| rename(&mut value.tree, was, now)),
        Tree::Bool(_) | Tree::Number(_) | Tree::Char(_) | Tree::Text(_) | Tree::Name(_) => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene_file::FIRST_EXAMPLE;

    fn open(path: &Path) -> Document {
        let bytes = scene_file::read(path).unwrap();
        let scene = scene_file::build("job.ron", &bytes).unwrap();
        Document::of(path, true, scene, &bytes)
    }

    fn example(folder: &Path) -> Document {
        let path = folder.join("job.ron");
        std::fs::write(&path, FIRST_EXAMPLE.1).unwrap();
        open(&path)
    }

    fn crane_to(east_m: f64) -> Edit {
        let point = Tree::Tuple { name: None, items: [east_m, -12.0, 0.0].map(|m| feet(m).node()).to_vec() };
        Edit::set("Move the crane", FieldPath::of(&["crane", "at"]), point)
    }

    fn steps() -> FieldPath {
        FieldPath::of(&["steps"])
    }

    #[test]
    fn a_crane_that_was_moved_goes_back_and_forth() {
        let folder = tempfile::tempdir().unwrap();
        let mut document = example(folder.path());
        let before = document.site().crane.at;
        document.apply(&crane_to(1.0), false).unwrap();
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
            document.apply(&crane_to(x), true).unwrap();
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
        let why = document
            .apply(&Edit::set("x", FieldPath::of(&["crane", "at"]), Tree::Text("over there".to_owned())), false)
            .unwrap_err();
        assert!(why.contains("crane.at"), "{why}");
        assert!(document.apply(&Edit::set("x", FieldPath::of(&["crane", "colour"]), Tree::Bool(true)), false).is_err());
        assert_eq!((document.site(), document.can_undo()), (&before, None));
    }

    #[test]
    fn what_is_saved_is_read_again_and_nothing_is_lost() {
        let folder = tempfile::tempdir().unwrap();
        let mut document = example(folder.path());
        document.apply(&crane_to(1.0), false).unwrap();
        assert!(!document.is_saved());
        document.save().unwrap();
        assert!(document.is_saved());
        let again = open(document.path());
        assert_eq!(again.site(), document.site());
        let kept = std::fs::read_to_string(folder.path().join("job.ron.before")).unwrap();
        assert_eq!(kept, FIRST_EXAMPLE.1, "with its comments, as a person wrote it");
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 2, "nothing else is left there");
        let head = |text: &str| text.lines().next().map(str::to_owned);
        assert_eq!(head(&std::fs::read_to_string(document.path()).unwrap()), head(FIRST_EXAMPLE.1));

        document.apply(&crane_to(2.0), false).unwrap();
        document.save().unwrap();
        assert_eq!(std::fs::read_to_string(folder.path().join("job.ron.before")).unwrap(), kept, "once");
    }

    #[test]
    fn a_file_without_comments_is_not_kept_twice() {
        let folder = tempfile::tempdir().unwrap();
        let mut document = example(folder.path());
        document.apply(&crane_to(1.0), false).unwrap();
        document.save().unwrap();
        std::fs::remove_file(folder.path().join("job.ron.before")).unwrap();
        let mut again = open(document.path());
        again.apply(&crane_to(2.0), false).unwrap();
        again.save().unwrap();
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_file_that_changed_underneath_is_not_written_over() {
        let folder = tempfile::tempdir().unwrap();
        let mut document = example(folder.path());
        document.apply(&crane_to(1.0), false).unwrap();
        std::fs::write(document.path(), "somebody else's").unwrap();
        let why = document.save().unwrap_err().to_string();
        assert!(why.contains("changed"), "{why}");
        assert_eq!(std::fs::read_to_string(document.path()).unwrap(), "somebody else's");
        assert!(!document.is_saved());
    }

    #[test]
    fn a_step_goes_on_being_meant_by_what_starts_after_it_when_it_is_renamed() {
        let folder = tempfile::tempdir().unwrap();
        let mut document = example(folder.path());
        let step = document.site().steps.iter().position(|step| step.name == "Cover the wires").unwrap();
        let during = document.site().covers[0].during;
        let edit = Edit::set("Rename", steps().at(step).field("name"), Tree::Text("Hose on".to_owned()));
        document.apply(&edit, false).unwrap();
        assert_eq!(document.site().steps[step].name, "Hose on");
        assert_eq!(document.site().covers[0].during, during);
    }

    #[test]
    fn steps_are_added_moved_and_taken_out() {
        let folder = tempfile::tempdir().unwrap();
        let mut document = example(folder.path());
        let count = document.site().steps.len();
        let Node { tree: wait, .. } = read_tree("(name: \"Wait\", do: work(\"1 min\"))").unwrap();
        let edit = |change| Edit { label: "Step".to_owned(), at: steps(), change };
        document.apply(&edit(Change::Insert(2, wait)), false).unwrap();
        assert_eq!((document.site().steps.len(), document.site().steps[2].name.as_str()), (count + 1, "Wait"));
        document.apply(&edit(Change::Shift { from: 2, to: 5 }), false).unwrap();
        assert_eq!(document.site().steps[5].name, "Wait");
        document.apply(&edit(Change::Remove(5)), false).unwrap();
        assert!(document.is_saved(), "as it was");
        let why = document.apply(&edit(Change::Remove(13)), false).unwrap_err();
        assert!(why.contains("Cover the wires"), "covers start after it: {why}");
    }

    #[test]
    fn what_was_not_saved_is_found_again_after_a_crash() {
        let folder = tempfile::tempdir().unwrap();
        let mut document = example(folder.path());
        document.apply(&crane_to(1.0), false).unwrap();
        document.keep_unsaved().unwrap();
        let mut again = open(document.path());
        let kept = again.left_behind().unwrap().unwrap();
        again.apply(&Edit::set("Take up what was not saved", FieldPath::default(), kept), false).unwrap();
        assert_eq!(again.site(), document.site());
        again.save().unwrap();
        assert!(open(again.path()).left_behind().is_none());
    }

    #[test]
    fn only_what_moved_is_written_anew() {
        let was = read_tree("(\"-38 ft\", \"3 ft 4 in\", \"0 m\")").unwrap().tree;
        let to = moved(&was, [-11.58, 1.016, 0.0], [-11.58, 2.0, 0.0]);
        let same = read_tree("(\"-38 ft\", \"6.6 ft\", \"0 m\")").unwrap().tree;
        assert_eq!(write_tree(&to), write_tree(&same));
        let north = std::f64::consts::FRAC_PI_2;
        assert_eq!(bearing(north + 0.001), Tree::Text("0 deg".to_owned()));
        assert_eq!(bearing(-north), Tree::Text("180 deg".to_owned()));
    }
}
