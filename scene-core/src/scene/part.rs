//! How each part of a document is read from a tree and written back: said once per type, used both ways.
//!
//! Reading always gives a value. What could not be read is an empty text or not a number, and a fault is recorded; so one
//! pass collects every fault, and the meaning of the rest is still looked at.

use super::fault::{FaultKind, Faults, nearest};
use super::tree::{Field, Node, Place, Tree, number, shorten};
use crate::quantity::unit::Dimension;
use crate::quantity::{Quantity, Range};

/// Entries that one list may have.
const LONGEST_LIST: usize = 2000;

/// Fields that are looked at in one part.
const MOST_FIELDS: usize = 100;

/// Least and most that a quantity may sensibly be, as a person writes it.
pub(super) type Band = (&'static str, &'static str);

/// Something that stands in a document.
pub(super) trait Part: Default {
    fn read(node: &Node, at: &mut Reading) -> Self;
    fn write(&self) -> Tree;
}

/// A part made of named fields.
pub(super) trait Fields: Default + Clone {
    /// With its article: "a wire".
    const WHAT: &'static str;
    /// Shows each field to the walk, which fills it in or writes it down.
    fn fields(&mut self, walk: &mut Walk<'_, '_>);
}

/// A reading under way: where it is, and what was found wrong so far.
pub(super) struct Reading {
    pub faults: Faults,
    path: String,
    band: Option<Band>,
}

impl Reading {
    pub fn new(faults: Faults) -> Self {
        Self { faults, path: String::new(), band: None }
    }

    fn inside<T>(&mut self, step: &str, place: Place, read: impl FnOnce(&mut Self) -> T) -> T {
        let length = self.path.len();
        self.path.push_str(step);
        if place != Place::default() {
            self.faults.places.set(&self.path, place);
        }
        let value = read(self);
        self.path.truncate(length);
        value
    }

    pub fn fault(&mut self, kind: FaultKind) {
        let path = self.path.clone();
        self.faults.add(&path, kind);
    }

    pub fn shape(&mut self, node: &Node, expected: impl Into<String>) {
        self.fault(FaultKind::Shape { found: node.tree.describe(), expected: expected.into() });
    }

    /// The words of one name that stand here, with what follows in brackets.
    pub fn variant<'n>(&mut self, node: &'n Node, allowed: &[&'static str]) -> Option<(&'static str, &'n Node)> {
        let name = match &node.tree {
            Tree::Name(name) => name,
            Tree::Tuple { name: Some(name), .. } | Tree::Struct { name: Some(name), .. } => name,
            _ => {
                let found = node.tree.describe();
                self.fault(FaultKind::Word { found, nearest: None, allowed: allowed.to_vec() });
                return None;
            }
        };
        let known = allowed.iter().find(|word| *word == name);
        if known.is_none() {
            let nearest = nearest(name, allowed.iter().copied());
            self.fault(FaultKind::Word {
                found: format!("the word {}", shorten(name)),
                nearest,
                allowed: allowed.to_vec(),
            });
        }
        known.map(|word| (*word, node))
    }

    /// The one value in the brackets of `word( … )`.
    pub fn one<T: Part>(&mut self, node: &Node, band: Option<Band>) -> T {
        match &node.tree {
            Tree::Tuple { items, name: Some(_) } if items.len() == 1 => match items.first() {
                Some(item) => {
                    self.band = band;
                    self.inside("", item.place, |at| T::read(item, at))
                }
                None => T::default(),
            },
            Tree::Name(name) | Tree::Tuple { name: Some(name), .. } | Tree::Struct { name: Some(name), .. } => {
                let expected = format!("{}( … ) with one value", shorten(name));
                self.shape(node, expected);
                T::default()
            }
            _ => T::default(),
        }
    }

    /// The fields in the brackets of `word( field: …, … )`.
    pub fn fields_of<T: Fields>(&mut self, node: &Node) -> T {
        T::read(node, self)
    }

    /// What is read next lies within this band.
    pub fn set_band(&mut self, band: Band) {
        self.band = Some(band);
    }

    /// Nothing but the word.
    pub fn alone(&mut self, node: &Node) {
        if let Tree::Tuple { name: Some(name), .. } | Tree::Struct { name: Some(name), .. } = &node.tree {
            let expected = format!("{} alone", shorten(name));
            self.shape(node, expected);
        }
    }
}

/// A value that may be there: `x`, `Some(x)` or `None`.
#[derive(Default)]
struct Maybe<T>(Option<T>);

impl<T: Part> Part for Maybe<T> {
    fn read(node: &Node, at: &mut Reading) -> Self {
        match &node.tree {
            Tree::Name(name) if name == "None" => Self(None),
            Tree::Tuple { name: Some(name), items } if name == "Some" && items.len() == 1 => {
                Self(items.first().map(|item| T::read(item, at)))
            }
            _ => Self(Some(T::read(node, at))),
        }
    }

    fn write(&self) -> Tree {
        self.0.as_ref().map_or_else(|| Tree::Name("None".to_owned()), Part::write)
    }
}

/// One visit to the fields of a part.
pub(super) struct Walk<'w, 'n> {
    mode: Mode<'w, 'n>,
    band: Option<Band>,
}

enum Mode<'w, 'n> {
    Read { at: &'w mut Reading, fields: Vec<(&'n Field, bool)>, known: Vec<&'static str>, of: &'static str },
    Write(Vec<Field>),
}

impl Walk<'_, '_> {
    /// The next field's quantities lie within this band.
    pub fn within(&mut self, low: &'static str, high: &'static str) -> &mut Self {
        self.band = Some((low, high));
        self
    }

    /// A field that must be there.
    pub fn need<T: Part>(&mut self, name: &'static str, value: &mut T) {
        if let Some(read) = self.field(name, || Some(value.write())) {
            *value = read;
        } else if let Mode::Read { at, fields, of, .. } = &mut self.mode
            && !fields.iter().any(|(field, _)| field.name == name)
        {
            at.fault(FaultKind::Missing { field: name, of });
        }
    }

    /// A field that may be left out.
    pub fn may<T: Part>(&mut self, name: &'static str, value: &mut Option<T>) {
        let read = self.field(name, || value.as_ref().map(Part::write));
        if matches!(self.mode, Mode::Read { .. }) {
            *value = read.and_then(|Maybe(read)| read);
        }
    }

    /// A list that may be left out when empty.
    pub fn list<T: Part>(&mut self, name: &'static str, value: &mut Vec<T>) {
        if let Some(read) = self.field(name, || (!value.is_empty()).then(|| value.write())) {
            *value = read;
        }
    }

    /// A list of at least so many entries.
    pub fn list_of<T: Part>(&mut self, name: &'static str, least: usize, value: &mut Vec<T>) {
        self.need(name, value);
        let Mode::Read { at, fields, .. } = &mut self.mode else {
            return;
        };
        let written = fields.iter().find(|(field, _)| field.name == name);
        if let Some((Field { value: Node { tree: Tree::List(items), .. }, .. }, _)) = written
            && items.len() < least
        {
            let kind = FaultKind::TooFew { found: items.len(), least };
            at.inside(&step(name, &at.path.clone()), Place::default(), |at| at.fault(kind));
        }
    }

    /// Reads the field if it is there; writes it down if there is something to write.
    fn field<T: Part>(&mut self, name: &'static str, write: impl FnOnce() -> Option<Tree>) -> Option<T> {
        let band = self.band.take();
        match &mut self.mode {
            Mode::Write(out) => {
                let value = write()?.node();
                out.push(Field { place: Place::default(), name: name.to_owned(), value });
                None
            }
            Mode::Read { at, fields, known, .. } => {
                known.push(name);
                let (field, used) = fields.iter_mut().find(|(field, _)| field.name == name)?;
                *used = true;
                let node = &field.value;
                let path = step(name, &at.path);
                let place = node.place;
                Some(at.inside(&path, place, |at| {
                    at.band = band;
                    T::read(node, at)
                }))
            }
        }
    }
}

/// How a field goes on from the path to the part it is in.
fn step(name: &str, path: &str) -> String {
    if path.is_empty() { name.to_owned() } else { format!(".{name}") }
}

impl<T: Fields> Part for T {
    fn read(node: &Node, at: &mut Reading) -> Self {
        at.band = None;
        let mut value = T::default();
        let Tree::Struct { fields, .. } = &node.tree else {
            at.shape(node, format!("the fields of {} ( name: …, … )", T::WHAT));
            return value;
        };
        let mut once: Vec<(&Field, bool)> = Vec::new();
        for field in fields {
            match once.iter().find(|(other, _)| other.name == field.name) {
                Some((first, _)) => {
                    let kind = FaultKind::FieldTwice { field: field.name.clone(), first: first.place };
                    let path = at.path.clone();
                    at.faults.add_at(field.place, &path, kind);
                }
                None if once.len() < MOST_FIELDS => once.push((field, false)),
                None => {}
            }
        }
        if fields.len() > MOST_FIELDS {
            at.fault(FaultKind::TooMany { found: fields.len(), most: MOST_FIELDS });
        }
        let mut walk = Walk { mode: Mode::Read { at, fields: once, known: Vec::new(), of: T::WHAT }, band: None };
        value.fields(&mut walk);
        if let Mode::Read { at, fields, known, of } = walk.mode {
            for (field, _) in fields.iter().filter(|(_, used)| !used) {
                let nearest = nearest(&field.name, known.iter().copied());
                let kind = FaultKind::UnknownField { field: field.name.clone(), of, nearest, allowed: known.clone() };
                let path = at.path.clone();
                at.faults.add_at(field.place, &path, kind);
            }
        }
        value
    }

    fn write(&self) -> Tree {
        let mut walk = Walk { mode: Mode::Write(Vec::new()), band: None };
        // The walk takes fields mutably, because reading fills them in.
        self.clone().fields(&mut walk);
        match walk.mode {
            Mode::Write(fields) => Tree::Struct { name: None, fields },
            Mode::Read { .. } => Tree::Tuple { name: None, items: Vec::new() },
        }
    }
}

/// The text that stands here.
fn text<'n>(node: &'n Node, at: &mut Reading, expected: impl FnOnce() -> String) -> Option<&'n str> {
    let Tree::Text(text) = &node.tree else {
        at.shape(node, expected());
        return None;
    };
    Some(text)
}

impl<D: Dimension> Part for Quantity<D> {
    fn read(node: &Node, at: &mut Reading) -> Self {
        let band = at.band.take();
        let expected = || format!("{} in quotes with its unit, in {}", D::INFO.what, D::INFO.allowed());
        let Some(said) = text(node, at, expected) else {
            return Self::default();
        };
        match Self::parse(said) {
            Ok(value) => {
                in_band::<D>(said, [value.si()], band, at);
                value
            }
            Err(fault) => {
                at.fault(FaultKind::Quantity { found: said.to_owned(), fault });
                Self::default()
            }
        }
    }

    fn write(&self) -> Tree {
        Tree::Text(self.said().to_owned())
    }
}

impl<D: Dimension> Part for Range<D> {
    fn read(node: &Node, at: &mut Reading) -> Self {
        let band = at.band.take();
        let expected = || format!("{} from low to high in quotes, in {}", D::INFO.what, D::INFO.allowed());
        let Some(said) = text(node, at, expected) else {
            return Self::default();
        };
        match Self::parse(said) {
            Ok(value) => {
                in_band::<D>(said, [value.low(), value.high()], band, at);
                value
            }
            Err(fault) => {
                at.fault(FaultKind::Quantity { found: said.to_owned(), fault });
                Self::default()
            }
        }
    }

    fn write(&self) -> Tree {
        Tree::Text(self.said().to_owned())
    }
}

/// Every quantity of a document has a band; one without is outside of it.
fn in_band<D: Dimension>(said: &str, values: impl IntoIterator<Item = f64>, band: Option<Band>, at: &mut Reading) {
    let (low, high) = band.unwrap_or(("nothing", "nothing"));
    let end = |text| Quantity::<D>::parse(text).map_or(f64::NAN, |end| end.si());
    let (least, most) = (end(low), end(high));
    // The ends count as inside, whatever unit they are written in.
    let slack = 1e-9 * (most - least).abs();
    if !values.into_iter().all(|value| least - slack <= value && value <= most + slack) {
        let (low, high) = (low.to_owned(), high.to_owned());
        at.fault(FaultKind::OutOfBand { found: said.to_owned(), what: D::INFO.what, low, high });
    }
}

impl Part for String {
    fn read(node: &Node, at: &mut Reading) -> Self {
        let Some(text) = text(node, at, || "a text in quotes".to_owned()) else {
            return Self::new();
        };
        if text.trim().is_empty() {
            at.fault(FaultKind::EmptyText);
        }
        text.to_owned()
    }

    fn write(&self) -> Tree {
        Tree::Text(self.clone())
    }
}

impl Part for bool {
    fn read(node: &Node, at: &mut Reading) -> Self {
        match node.tree {
            Tree::Bool(value) => value,
            _ => {
                at.shape(node, "true or false");
                false
            }
        }
    }

    fn write(&self) -> Tree {
        Tree::Bool(*self)
    }
}

/// A count from 1 to 99.
impl Part for u32 {
    fn read(node: &Node, at: &mut Reading) -> Self {
        if let Tree::Number(text) = &node.tree
            && let Some(value) = number(text)
            && value.fract() == 0.0
            && (1.0..=99.0).contains(&value)
        {
            return value as u32;
        }
        at.shape(node, "a whole number from 1 to 99");
        0
    }

    fn write(&self) -> Tree {
        Tree::Number(self.to_string())
    }
}

impl<T: Part> Part for Vec<T> {
    fn read(node: &Node, at: &mut Reading) -> Self {
        let band = at.band.take();
        let Tree::List(items) = &node.tree else {
            at.shape(node, "a list [ … ]");
            return Self::new();
        };
        if items.len() > LONGEST_LIST {
            at.fault(FaultKind::TooMany { found: items.len(), most: LONGEST_LIST });
            return Self::new();
        }
        let item = |(i, item): (usize, &Node)| {
            at.inside(&format!("[{i}]"), item.place, |at| {
                at.band = band;
                T::read(item, at)
            })
        };
        items.iter().enumerate().map(item).collect()
    }

    fn write(&self) -> Tree {
        Tree::List(self.iter().map(|item| item.write().node()).collect())
    }
}

/// Pairs of texts as written: `{ "who": "what" }`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Answers(pub Vec<(String, String)>);

impl Part for Answers {
    fn read(node: &Node, at: &mut Reading) -> Self {
        let Tree::Map(pairs) = &node.tree else {
            at.shape(node, "a map { \"item\": \"how\", … }");
            return Self::default();
        };
        if pairs.len() > LONGEST_LIST {
            at.fault(FaultKind::TooMany { found: pairs.len(), most: LONGEST_LIST });
            return Self::default();
        }
        let mut seen: Vec<(String, Place)> = Vec::new();
        let mut answers = Vec::new();
        for (key, value) in pairs {
            let name = at.inside("", key.place, |at| String::read(key, at));
            let path = format!("[{:?}]", shorten(&name));
            let how = at.inside(&path, value.place, |at| String::read(value, at));
            if let Some((_, first)) = seen.iter().find(|(other, _)| *other == name) {
                let kind = FaultKind::FieldTwice { field: name.clone(), first: *first };
                let path = at.path.clone();
                at.faults.add_at(key.place, &path, kind);
            }
            seen.push((name.clone(), key.place));
            answers.push((name, how));
        }
        Self(answers)
    }

    fn write(&self) -> Tree {
        Tree::Map(self.0.iter().map(|(key, how)| (key.write().node(), how.write().node())).collect())
    }
}

/// A group of exactly `N` values: `("10 ft", "-4 ft", "0 ft")`.
pub(super) fn read_group<T: Part, const N: usize>(node: &Node, at: &mut Reading, expected: &str) -> Option<[T; N]> {
    let band = at.band.take();
    let Tree::Tuple { name: None, items } = &node.tree else {
        at.shape(node, expected);
        return None;
    };
    if items.len() != N {
        at.shape(node, expected);
        return None;
    }
    let mut values = std::array::from_fn(|_| T::default());
    for (i, (value, item)) in values.iter_mut().zip(items).enumerate() {
        *value = at.inside(&format!("[{i}]"), item.place, |at| {
            at.band = band;
            T::read(item, at)
        });
    }
    Some(values)
}

/// `word(value)`.
pub(super) fn word_of(word: &str, value: &impl Part) -> Tree {
    Tree::Tuple { name: Some(word.to_owned()), items: vec![value.write().node()] }
}

/// `word( field: …, … )`.
pub(super) fn word_with(word: &str, fields: &impl Fields) -> Tree {
    match fields.write() {
        Tree::Struct { fields, .. } => Tree::Struct { name: Some(word.to_owned()), fields },
        other => other,
    }
}

/// One of a few words, with what each is in the site.
macro_rules! words {
    ($(#[$about:meta])* $name:ident = $site:path { $first:ident: $first_word:literal $(, $other:ident: $word:literal)* $(,)? }) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
        pub enum $name {
            #[default]
            $first,
            $($other),*
        }

        impl $crate::scene::part::Part for $name {
            fn read(node: &$crate::scene::tree::Node, at: &mut $crate::scene::part::Reading) -> Self {
                let Some((word, node)) = at.variant(node, &[$first_word $(, $word)*]) else { return Self::default() };
                at.alone(node);
                match word {
                    $($word => Self::$other,)*
                    _ => Self::$first,
                }
            }

            fn write(&self) -> $crate::scene::tree::Tree {
                let word = match self {
                    Self::$first => $first_word,
                    $(Self::$other => $word,)*
                };
                $crate::scene::tree::Tree::Name(word.to_owned())
            }
        }

        impl From<$name> for $site {
            fn from(word: $name) -> Self {
                match word {
                    $name::$first => Self::$first,
                    $($name::$other => Self::$other,)*
                }
            }
        }
    };
}
pub(super) use words;
