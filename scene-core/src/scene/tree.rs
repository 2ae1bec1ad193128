//! What a RON text says, before anyone asks what it means: values with the place where each stands.

pub use crate::place::Place;

#[derive(Clone, Debug, PartialEq)]
pub struct Node {
    pub place: Place,
    pub tree: Tree,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Tree {
    Bool(bool),
    /// As written: `12`, `1.5e3`, `0xFF`, `NaN`.
    Number(String),
    Char(char),
    Text(String),
    /// A word by itself: `line_work`.
    Name(String),
    List(Vec<Node>),
    Map(Vec<(Node, Node)>),
    /// `(a, b)`, `phase("12.47 kV")`; `()` is the empty one.
    Tuple {
        name: Option<String>,
        items: Vec<Node>,
    },
    /// `(name: a, voltage: b)`.
    Struct {
        name: Option<String>,
        fields: Vec<Field>,
    },
}

#[derive(Clone, Debug, PartialEq)]
pub struct Field {
    /// Where its name stands.
    pub place: Place,
    pub name: String,
    pub value: Node,
}

impl Tree {
    /// The tree as a node that stands nowhere.
    pub fn node(self) -> Node {
        Node { place: Place::default(), tree: self }
    }

    /// What it is, for a person: `the text "55 ft"`, `a list`.
    pub fn describe(&self) -> String {
        match self {
            Tree::Bool(value) => format!("{value}"),
            Tree::Number(text) => format!("the number {}", shorten(text)),
            Tree::Char(c) => format!("the character '{}'", c.escape_default()),
            Tree::Text(text) => format!("\"{}\"", shorten(text)),
            Tree::Name(name) => format!("the word {}", shorten(name)),
            Tree::List(_) => "a list [ … ]".to_owned(),
            Tree::Map(_) => "a map { … }".to_owned(),
            Tree::Tuple { name: Some(name), .. } | Tree::Struct { name: Some(name), .. } => {
                format!("{}( … )", shorten(name))
            }
            Tree::Tuple { name: None, items } => match items.len() {
                0 => "nothing, ()".to_owned(),
                1 => "a group ( … ) of one value".to_owned(),
                n => format!("a group ( … ) of {n} values"),
            },
            Tree::Struct { name: None, .. } => "fields ( … )".to_owned(),
        }
    }
}

/// A text fit for one line of a message: control characters escaped, cut at 60 characters.
pub fn shorten(text: &str) -> String {
    let mut short = String::new();
    for (i, c) in text.chars().enumerate() {
        if i == 60 {
            short.push('…');
            break;
        }
        if c.is_control() { short.extend(c.escape_default()) } else { short.push(c) }
    }
    short
}

/// Reads a number as RON writes it: sign, decimals, exponent, `0x`, `0o`, `0b`, underscores, `inf`, `NaN`.
pub fn number(text: &str) -> Option<f64> {
    let (sign, body) = match text.strip_prefix('-') {
        Some(rest) => (-1.0, rest),
        None => (1.0, text.strip_prefix('+').unwrap_or(text)),
    };
    let plain: String = body.chars().filter(|c| *c != '_').collect();
    let whole = |digits: &str, radix| u64::from_str_radix(digits, radix).ok().map(|n| n as f64);
    let magnitude = match (body, plain.get(..2)) {
        ("inf", _) => Some(f64::INFINITY),
        ("NaN", _) => Some(f64::NAN),
        (_, Some("0x")) => plain.get(2..).and_then(|d| whole(d, 16)),
        (_, Some("0o")) => plain.get(2..).and_then(|d| whole(d, 8)),
        (_, Some("0b")) => plain.get(2..).and_then(|d| whole(d, 2)),
        _ if plain.starts_with(|c: char| c.is_ascii_digit() || c == '.') => plain.parse().ok(),
        _ => None,
    };
    magnitude.map(|m| sign * m)
}
