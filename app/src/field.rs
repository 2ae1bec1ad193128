//! Where a value stands in a scene's document, for instance `steps[3].do.point`.

use scene_core::scene::tree::Tree;
use std::fmt;

/// One step of a path.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Key {
    Field(String),
    /// An index into a list, a group or a map, from 0.
    At(usize),
}

/// The path to a value, from the whole document. It is shown with indices from 1, as people count.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct FieldPath(Vec<Key>);

impl FieldPath {
    /// A path of fields alone, for instance `["crane", "at"]`.
    pub fn of(fields: &[&str]) -> Self {
        Self(fields.iter().map(|name| Key::Field((*name).to_owned())).collect())
    }

    pub fn field(&self, name: &str) -> Self {
        self.with(Key::Field(name.to_owned()))
    }

    pub fn at(&self, index: usize) -> Self {
        self.with(Key::At(index))
    }

    fn with(&self, key: Key) -> Self {
        Self(self.0.iter().cloned().chain([key]).collect())
    }

    pub fn keys(&self) -> &[Key] {
        &self.0
    }

    /// The value there; `None` where the document has none.
    pub fn find<'t>(&self, tree: &'t Tree) -> Option<&'t Tree> {
        self.0.iter().try_fold(tree, |tree, key| match (tree, key) {
            (Tree::Struct { fields, .. }, Key::Field(name)) => {
                fields.iter().find(|field| field.name == *name).map(|field| &field.value.tree)
            }
            (Tree::List(items) | Tree::Tuple { items, .. }, Key::At(index)) => items.get(*index).map(|item| &item.tree),
            (Tree::Map(entries), Key::At(index)) => entries.get(*index).map(|(_, value)| &value.tree),
            _ => None,
        })
    }

    pub fn find_mut<'t>(&self, tree: &'t mut Tree) -> Option<&'t mut Tree> {
        self.0.iter().try_fold(tree, |tree, key| match (tree, key) {
            (Tree::Struct { fields, .. }, Key::Field(name)) => {
                fields.iter_mut().find(|field| field.name == *name).map(|field| &mut field.value.tree)
            }
            (Tree::List(items) | Tree::Tuple { items, .. }, Key::At(index)) => {
                items.get_mut(*index).map(|item| &mut item.tree)
            }
            (Tree::Map(entries), Key::At(index)) => entries.get_mut(*index).map(|(_, value)| &mut value.tree),
            _ => None,
        })
    }
}

impl From<&[Key]> for FieldPath {
    fn from(keys: &[Key]) -> Self {
        Self(keys.to_vec())
    }
}

impl fmt::Display for FieldPath {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, key) in self.0.iter().enumerate() {
            match key {
                Key::Field(name) if i == 0 => write!(f, "{name}")?,
                Key::Field(name) => write!(f, ".{name}")?,
                Key::At(index) => write!(f, "[{}]", index + 1)?,
            }
        }
        Ok(())
    }
}

/// A name as people read it: with spaces.
pub fn in_words(name: &str) -> String {
    name.replace('_', " ")
}
