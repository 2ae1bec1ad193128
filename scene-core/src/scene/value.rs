//! The values of a document as they are read: each knows its path and its place, and tells what is wrong with it there.
//!
//! Reading always gives something. Where nothing could be read, it is an empty text or not a number, and a fault is recorded;
//! so one pass collects every fault, and the meaning of the rest is still looked at. A check of meaning is written so that it
//! finds nothing more in what could not be read.

use super::fault::{FaultKind, Faults, most_like, nearest};
use super::fields::Fields;
use super::record::Record;
use super::tree::{Node, Place, Tree, number, shorten};
use crate::catalog::find::Found;
use std::cell::RefCell;

/// Entries that one list may have.
const LONGEST_LIST: usize = 2000;

/// What stands at one path of a document; nothing, where a field was left out or its surroundings could not be read.
#[derive(Clone)]
pub(super) struct Value<'n> {
    node: Option<&'n Node>,
    path: String,
    place: Place,
    faults: &'n RefCell<Faults>,
}

/// The entries of a list, and the list as a whole.
pub(super) struct List<'n> {
    pub at: Value<'n>,
    pub items: Vec<Value<'n>>,
}

impl<'n> Value<'n> {
    /// The whole document.
    pub fn document(node: &'n Node, faults: &'n RefCell<Faults>) -> Self {
        Self { node: Some(node), path: String::new(), place: node.place, faults }
    }

    pub fn node(&self) -> Option<&'n Node> {
        self.node
    }

    /// The place of this value, or of what it would stand in.
    pub fn place(&self) -> Place {
        self.place
    }

    pub fn fault(&self, kind: FaultKind) {
        self.fault_at(self.place, kind);
    }

    /// A fault of this value that stands at a place within it, where that has one.
    pub fn fault_at(&self, place: Place, kind: FaultKind) {
        let place = if place == Place::default() { self.place } else { place };
        self.faults.borrow_mut().add_at(place, &self.path, kind);
    }

    pub fn fault_if(&self, wrong: bool, kind: impl FnOnce() -> FaultKind) {
        if wrong {
            self.fault(kind());
        }
    }

    /// A name that the catalog does not know, or that may be several of its entries. `known` are the valid names.
    pub fn not_found<'k, T>(&self, what: &'static str, found: Found<T>, known: impl FnOnce() -> Vec<&'k str>) {
        let Some(Tree::Text(name)) = self.node.map(|node| &node.tree) else { return };
        let found_name = name.clone();
        self.fault(match found {
            Found::Several(names) => FaultKind::SeveralInCatalog { what, found: found_name, names },
            _ => {
                let known = known();
                FaultKind::NotInCatalog {
                    what,
                    found: found_name,
                    nearest: nearest(name, known.iter().copied()),
                    known: most_like(name, known),
                }
            }
        });
    }

    /// Notes what is asked for here, where somebody wants to know.
    pub fn noted(&self, note: impl FnOnce(&mut Record, &str)) {
        if let Some(record) = &mut self.faults.borrow_mut().record {
            note(record, &self.path);
        }
    }

    /// Shows the list of faults to what reads another file for this value.
    pub fn with_faults<T>(&self, read: impl FnOnce(&mut Faults) -> T) -> T {
        read(&mut self.faults.borrow_mut())
    }

    /// Something else stands here than what is expected.
    pub fn shape(&self, expected: impl Into<String>) {
        if let Some(node) = self.node {
            self.fault(FaultKind::Shape { found: node.tree.describe(), expected: expected.into() });
        }
    }

    /// What stands one step further in; a node without a place of its own stands where this one does.
    pub fn inside(&self, step: &str, node: &'n Node) -> Self {
        let place = if node.place == Place::default() { self.place } else { node.place };
        Self { node: Some(node), path: format!("{}{step}", self.path), place, faults: self.faults }
    }

    /// Nothing, one step further in.
    pub fn nothing(&self, step: &str) -> Self {
        Self { node: None, path: format!("{}{step}", self.path), place: self.place, faults: self.faults }
    }

    /// How a field goes on from this path.
    pub fn step(&self, name: &str) -> String {
        if self.path.is_empty() { name.to_owned() } else { format!(".{name}") }
    }

    /// `x` and `Some(x)` are the value; `None` is none.
    pub fn option(self) -> Option<Self> {
        match self.node.map(|node| &node.tree) {
            Some(Tree::Name(name)) if name == "None" => None,
            Some(Tree::Tuple { name: Some(name), items }) if name == "Some" && items.len() == 1 => {
                Some(Self { node: items.first(), ..self })
            }
            _ => Some(self),
        }
    }

    // ------------------------------------------------------------------------------------------------- one of a few

    /// Which of these words stands here, alone or with something in brackets.
    pub fn variant(&self, allowed: &[&'static str]) -> Option<&'static str> {
        self.noted(|record, path| record.kind(path, format!("one of {}", allowed.join(", "))));
        let node = self.node?;
        let name = match &node.tree {
            Tree::Name(name) => name,
            Tree::Tuple { name: Some(name), .. } | Tree::Struct { name: Some(name), .. } => name,
            other => {
                self.fault(FaultKind::Word { found: other.describe(), nearest: None, allowed: allowed.to_vec() });
                return None;
            }
        };
        let known = allowed.iter().find(|word| *word == name);
        if known.is_none() {
            let nearest = nearest(name, allowed.iter().copied());
            let found = format!("the word {}", shorten(name));
            self.fault(FaultKind::Word { found, nearest, allowed: allowed.to_vec() });
        }
        known.copied()
    }

    /// The one value in the brackets of `word( … )`; it stands for the whole from here on.
    pub fn one(&self) -> Self {
        match self.node.map(|node| &node.tree) {
            Some(Tree::Tuple { items, name: Some(_) }) if items.len() == 1 => {
                items.first().map_or_else(|| self.nothing(""), |item| self.inside("", item))
            }
            Some(Tree::Name(name) | Tree::Tuple { name: Some(name), .. } | Tree::Struct { name: Some(name), .. }) => {
                self.shape(format!("{}( … ) with one value", shorten(name)));
                self.nothing("")
            }
            _ => self.nothing(""),
        }
    }

    /// Nothing but the word.
    pub fn alone(&self) {
        if let Some(Tree::Tuple { name: Some(name), .. } | Tree::Struct { name: Some(name), .. }) =
            self.node.map(|node| &node.tree)
        {
            self.shape(format!("{} alone", shorten(name)));
        }
    }

    /// What the word that stands here means; the first meaning, where none of these does.
    pub fn word<T: Copy, const N: usize>(&self, words: [(&'static str, T); N]) -> T {
        const { assert!(N > 0) };
        let found = self.variant(&words.map(|(word, _)| word));
        if found.is_some() {
            self.alone();
        }
        let index = words.iter().position(|(word, _)| Some(*word) == found).unwrap_or(0);
        words[index].1
    }

    // ------------------------------------------------------------------------------------------------ plain values

    /// The text in quotes that stands here.
    pub fn quoted(&self, expected: impl FnOnce() -> String) -> Option<&'n str> {
        match &self.node?.tree {
            Tree::Text(text) => Some(text),
            _ => {
                self.shape(expected());
                None
            }
        }
    }

    /// Some words.
    pub fn text(&self) -> &'n str {
        self.noted(|record, path| record.kind(path, "text".to_owned()));
        let Some(text) = self.quoted(|| "a text in quotes".to_owned()) else { return "" };
        self.fault_if(text.trim().is_empty(), || FaultKind::EmptyText);
        text
    }

    pub fn flag(&self) -> bool {
        self.noted(|record, path| record.kind(path, "true or false".to_owned()));
        match self.node.map(|node| &node.tree) {
            Some(Tree::Bool(value)) => *value,
            _ => {
                self.shape("true or false");
                false
            }
        }
    }

    /// A whole number from 1 to 99; 0 where none stands.
    pub fn count(&self) -> u32 {
        self.whole(1..=99).unwrap_or_else(|| {
            self.shape("a whole number from 1 to 99");
            0
        })
    }

    /// The number that stands here, when it is a whole one within these.
    pub fn whole(&self, mut within: std::ops::RangeInclusive<u32>) -> Option<u32> {
        let (least, most) = (*within.start(), *within.end());
        self.noted(|record, path| record.kind(path, format!("a whole number from {least} to {most}")));
        let Tree::Number(text) = &self.node?.tree else { return None };
        let value = number(text)?;
        within.find(|whole| f64::from(*whole) == value)
    }

    // --------------------------------------------------------------------------------------------------- many values

    pub fn fields<T>(&self, of: &'static str, read: impl FnOnce(&mut Fields<'n>) -> T) -> T {
        let mut fields = Fields::of(self, of);
        let value = read(&mut fields);
        fields.refuse_unknown();
        value
    }

    /// [`Self::fields`] of which the others were read before.
    pub fn some_fields<T>(&self, of: &'static str, read: impl FnOnce(&mut Fields<'n>) -> T) -> T {
        read(&mut Fields::of(self, of))
    }

    pub fn list(&self) -> List<'n> {
        self.noted(|record, path| record.kind(path, "list".to_owned()));
        let mut list = List { at: self.clone(), items: Vec::new() };
        match self.node.map(|node| &node.tree) {
            Some(Tree::List(items)) if items.len() > LONGEST_LIST => {
                self.fault(FaultKind::TooMany { found: items.len(), most: LONGEST_LIST });
            }
            Some(Tree::List(items)) => {
                let items = items.iter().enumerate();
                list.items = items.map(|(i, item)| self.inside(&format!("[{i}]"), item)).collect();
            }
            _ => self.shape("a list [ … ]"),
        }
        list
    }

    /// A group of exactly `N` values: `("10 ft", "-4 ft", "0 ft")`.
    pub fn group<const N: usize>(&self, expected: &str) -> [Self; N] {
        let items = match self.node.map(|node| &node.tree) {
            Some(Tree::Tuple { name: None, items }) if items.len() == N => items.as_slice(),
            _ => {
                self.shape(expected);
                &[]
            }
        };
        std::array::from_fn(|i| {
            let step = format!("[{i}]");
            items.get(i).map_or_else(|| self.nothing(&step), |item| self.inside(&step, item))
        })
    }

    /// The entries of a map under texts: `{ "item": … }`.
    pub fn entries(&self) -> Vec<(&'n str, Self)> {
        self.noted(|record, path| record.kind(path, "a map from text to what stands there".to_owned()));
        let pairs = match self.node.map(|node| &node.tree) {
            Some(Tree::Map(pairs)) if pairs.len() <= LONGEST_LIST => pairs.as_slice(),
            Some(Tree::Map(pairs)) => {
                self.fault(FaultKind::TooMany { found: pairs.len(), most: LONGEST_LIST });
                &[]
            }
            _ => {
                self.shape("a map { \"item\": …, … }");
                &[]
            }
        };
        let mut read: Vec<(&str, Self)> = Vec::new();
        let mut places = std::collections::HashMap::new();
        for (key, value) in pairs {
            let item = self.inside("", key).text();
            let step = format!("[{:?}]", shorten(item));
            read.push((item, self.inside(&step, value)));
            match places.get(item) {
                Some(&first) => self.fault_at(key.place, FaultKind::FieldTwice { field: item.to_owned(), first }),
                None => drop(places.insert(item, key.place)),
            }
        }
        read
    }
}

impl<'n> List<'n> {
    /// Every entry's `name` stands once.
    pub fn named_once(&self, what: &'static str) {
        let mut seen = std::collections::HashMap::new();
        for item in &self.items {
            let Some(at) = item.name() else { continue };
            let Some(Tree::Text(name)) = at.node.map(|node| &node.tree) else { continue };
            match seen.get(name.as_str()) {
                Some(&first) if !name.is_empty() => at.fault(FaultKind::NameTwice { what, name: name.clone(), first }),
                Some(_) => {}
                None => drop(seen.insert(name.as_str(), at.place)),
            }
        }
    }

    /// What others refer to the entries by; empty where an entry has no name that can be read.
    pub fn names(&self) -> impl Iterator<Item = &'n str> + Clone {
        self.items.iter().map(|item| match item.name().and_then(|at| at.node).map(|node| &node.tree) {
            Some(Tree::Text(name)) => name.as_str(),
            _ => "",
        })
    }
}

impl<'n> Value<'n> {
    fn name(&self) -> Option<Self> {
        let Tree::Struct { fields, .. } = &self.node?.tree else { return None };
        let field = fields.iter().find(|field| field.name == "name")?;
        Some(self.inside(".name", &field.value))
    }
}
