//! Why a scene cannot be used: where it stands, what was found, what is allowed.

use super::record::Record;
use super::tree::{Place, shorten};
use crate::catalog::find::folded;
use crate::quantity::QuantityFault;
use std::fmt;

/// Faults reported at once; more than this help nobody.
const MOST: usize = 100;
/// Names shown of a list.
const SHOWN: usize = 8;

/// One fault of a scene file. Shown over one or two lines:
/// ```text
/// alder.ron:12:11: pole.length: found "900 ft"; expected a length from 20 ft to 130 ft
///     help: …
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    pub file: String,
    /// Both from 1; 0 when the value was not read from a file.
    pub line: u32,
    pub column: u32,
    /// The way to the field: `crane.machine.sections[2].length`; empty for the whole document.
    pub path: String,
    pub kind: FaultKind,
}

/// What is wrong. Values are as the person wrote them.
#[derive(Clone, Debug, PartialEq)]
pub enum FaultKind {
    // ---- form
    TooLarge {
        bytes: usize,
        limit: usize,
    },
    NotText {
        at_byte: usize,
    },
    TooDeep {
        limit: usize,
    },
    Syntax {
        found: String,
        expected: String,
    },
    // ---- fields
    UnknownFormat {
        found: String,
    },
    Missing {
        field: &'static str,
        of: &'static str,
    },
    UnknownField {
        field: String,
        of: &'static str,
        nearest: Option<String>,
        allowed: Vec<&'static str>,
    },
    FieldTwice {
        field: String,
        first: Place,
    },
    // ---- values
    Shape {
        found: String,
        expected: String,
    },
    Word {
        found: String,
        nearest: Option<String>,
        allowed: Vec<&'static str>,
    },
    Quantity {
        found: String,
        fault: QuantityFault,
    },
    OutOfBand {
        found: String,
        what: &'static str,
        low: String,
        high: String,
    },
    EmptyText,
    TooFew {
        found: usize,
        least: usize,
    },
    TooMany {
        found: usize,
        most: usize,
    },
    // ---- names
    NoSuch {
        what: &'static str,
        found: String,
        nearest: Option<String>,
        known: Vec<String>,
    },
    /// `known` are the names that are most like it.
    NotInCatalog {
        what: &'static str,
        found: String,
        nearest: Option<String>,
        known: Vec<String>,
    },
    SeveralInCatalog {
        what: &'static str,
        found: String,
        names: Vec<String>,
    },
    NameTwice {
        what: &'static str,
        name: String,
        first: Place,
    },
    ElsewhereToo {
        what: &'static str,
        name: String,
        elsewhere: String,
    },
    NotExactlyOne {
        of: [&'static str; 2],
        both: bool,
    },
    // ---- files beside the scene
    LeavesFolder {
        found: String,
    },
    NotBeside {
        found: String,
        why: String,
    },
    // ---- statements
    ZeroWithoutReason,
    AbsentButThere {
        what: &'static str,
        name: String,
    },
    WrongKindOfWire {
        wire: String,
        expected: &'static str,
    },
    // ---- geometry
    NoRun {
        run: String,
        least: String,
    },
    HangCount {
        found: usize,
        spans: usize,
    },
    AttachedCount {
        found: usize,
        points: usize,
    },
    SagTooDeep {
        sag: String,
        most: String,
    },
    SpanNotOfSection {
        run: String,
    },
    NotAscending {
        found: String,
        before: String,
    },
    RowLength {
        found: usize,
        expected: usize,
    },
    TaperInverted {
        top: String,
        bottom: String,
    },
    WallTooThick {
        wall: String,
        diameter: String,
    },
    DoesNotSlip {
        bottom: String,
        below: String,
    },
    LapTooLong {
        lap: String,
        section: String,
    },
    LapAtButt {
        lap: String,
    },
    LengthsDisagree {
        sum: String,
        length: String,
    },
    OffPole {
        found: String,
        length: String,
    },
    ChokerAboveTip {
        found: String,
        length: String,
    },
    OffWire {
        found: String,
        from: String,
        to: String,
    },
    DeeperThanHole {
        setting: String,
        hole: String,
    },
    SectionSlidesOut {
        section: String,
    },
    BoomDisagrees {
        found: String,
        expected: String,
    },
    FasterThanMaker {
        found: String,
        maker: String,
    },
    MoreThanACircle {
        found: String,
    },
    SamePoint,
    SpotTwice {
        first: Place,
    },
    OnOneLine,
    CrossesItself {
        one: usize,
        other: usize,
    },
    NotAbove {
        found: String,
        below: String,
    },
    // ---- order
    StepOrder {
        starts: String,
        ends: String,
    },
    StartNotFirst,
    StartAgain,
    // ---- the list itself
    AndMore {
        count: usize,
    },
}

impl FaultKind {
    /// What was found, and what is expected.
    fn found_and_expected(&self) -> (String, String) {
        let pair = |found: &str, expected: &str| (found.to_owned(), expected.to_owned());
        match self {
            Self::TooLarge { bytes, limit } => (format!("{bytes} bytes or more"), format!("at most {limit} bytes")),
            Self::NotText { at_byte } => {
                (format!("bytes that are not UTF-8 text, from byte {at_byte}"), "text".to_owned())
            }
            Self::TooDeep { limit } => (format!("brackets deeper than {limit}"), format!("at most {limit} levels")),
            Self::Syntax { found, expected } => pair(found, expected),
            Self::UnknownFormat { found } => pair(found, "format 1"),
            Self::Missing { field, of } => (format!("{of} without {field}"), format!("the field {field}")),
            Self::UnknownField { field, of, allowed, .. } => {
                (format!("the unknown field {}", shorten(field)), format!("a field of {of}: {}", allowed.join(", ")))
            }
            Self::FieldTwice { field, .. } => (format!("the field {} again", shorten(field)), "it once".to_owned()),
            Self::Shape { found, expected } => pair(found, expected),
            Self::Word { found, allowed, .. } => (found.clone(), one_of(allowed)),
            Self::Quantity { found, fault } => (quoted(found), fault.to_string()),
            Self::OutOfBand { found, what, low, high } => (quoted(found), format!("{what} from {low} to {high}")),
            Self::EmptyText => pair("an empty text", "some words"),
            Self::TooFew { found, least } => (count(*found, "entry", "entries"), format!("at least {least}")),
            Self::TooMany { found, most } => (count(*found, "entry", "entries"), format!("at most {most}")),
            Self::NoSuch { what, found, known, .. } => (
                quoted(found),
                if known.is_empty() {
                    format!("the name of {what}, but the scene has none")
                } else {
                    format!("the name of {what}: {}", some_of(known))
                },
            ),
            Self::NotInCatalog { what, found, known, .. } => (
                quoted(found),
                if known.is_empty() {
                    format!("{what} of the catalog")
                } else {
                    format!("{what} of the catalog: {}{}", some_of(known), where_all_stand(what))
                },
            ),
            Self::SeveralInCatalog { found, names, .. } => {
                (format!("{}, which may be several", quoted(found)), format!("one of {}", some_of(names)))
            }
            Self::NameTwice { what, name, .. } => {
                (format!("{what} {} again", quoted(name)), "a name of its own for each".to_owned())
            }
            Self::ElsewhereToo { what, name, elsewhere } => (
                format!("{what} {} in {elsewhere} too", quoted(name)),
                "a name that stands in one of them only".to_owned(),
            ),
            Self::LeavesFolder { found } => {
                (quoted(found), "a file in the scene's folder, named from there without .. or \\".to_owned())
            }
            Self::NotBeside { found, why } => (
                format!("{}, but {}", quoted(found), shorten(why)),
                "a file that can be read beside the scene".to_owned(),
            ),
            Self::NotExactlyOne { of: [a, b], both } => (
                format!("{} {a} {} {b}", if *both { "both" } else { "neither" }, if *both { "and" } else { "nor" }),
                "one of them".to_owned(),
            ),
            Self::ZeroWithoutReason => {
                pair("an allowance of zero without a reason", "the reason why nothing is allowed for")
            }
            Self::AbsentButThere { what, name } => (
                format!("a statement of absence, and {what} {}", quoted(name)),
                "listed([ … ]) with its name".to_owned(),
            ),
            Self::WrongKindOfWire { wire, expected } => (quoted(wire), (*expected).to_owned()),
            Self::NoRun { run, least } => (format!("a span {run} long in plan"), format!("at least {least}")),
            Self::HangCount { found, spans } => (
                count(*found, "statement", "statements"),
                format!("one for each of the {}", count(*spans, "span", "spans")),
            ),
            Self::AttachedCount { found, points } => (
                count(*found, "statement", "statements"),
                format!("one for each of the {}", count(*points, "point", "points")),
            ),
            Self::SagTooDeep { sag, most } => (quoted(sag), format!("a sag of at most half of the span, {most}")),
            Self::SpanNotOfSection { run } => {
                (format!("a section without this span of {run}"), "every span of the section, this one too".to_owned())
            }
            Self::NotAscending { found, before } => (quoted(found), format!("more than {} before it", quoted(before))),
            Self::RowLength { found, expected } => (
                count(*found, "rating", "ratings"),
                format!("one for each of the {}", count(*expected, "boom length", "boom lengths")),
            ),
            Self::TaperInverted { top, bottom } => {
                (format!("a top of {}", quoted(top)), format!("no more than the bottom, {}", quoted(bottom)))
            }
            Self::WallTooThick { wall, diameter } => {
                (format!("a wall of {}", quoted(wall)), format!("less than half of the diameter, {}", quoted(diameter)))
            }
            Self::DoesNotSlip { bottom, below } => (
                format!("a bottom of {}", quoted(bottom)),
                format!("more than the top of the section below, {}, to slip over it", quoted(below)),
            ),
            Self::LapTooLong { lap, section } => {
                (format!("a lap of {}", quoted(lap)), format!("less than either section, {}", quoted(section)))
            }
            Self::LapAtButt { lap } => {
                (format!("a lap of {}", quoted(lap)), "\"0 ft\" for the butt section".to_owned())
            }
            Self::LengthsDisagree { sum, length } => {
                (format!("sections that make {sum} with their laps"), format!("the pole's length, {}", quoted(length)))
            }
            Self::OffPole { found, length } => {
                (quoted(found), format!("a height on the pole, 0 to {}", quoted(length)))
            }
            Self::ChokerAboveTip { found, length } => {
                (format!("a choker at {}", quoted(found)), format!("a place below the tip, {}", quoted(length)))
            }
            Self::OffWire { found, from, to } => (quoted(found), format!("a station on the wire, {from} to {to}")),
            Self::DeeperThanHole { setting, hole } => (
                format!("a setting depth of {}", quoted(setting)),
                format!("no more than the hole's depth, {}", quoted(hole)),
            ),
            Self::SectionSlidesOut { section } => (
                format!("{section} that leaves the one before it"),
                "some of it inside at every boom length".to_owned(),
            ),
            Self::BoomDisagrees { found, expected } => (quoted(found), expected.clone()),
            Self::FasterThanMaker { found, maker } => {
                (quoted(found), format!("no more than the maker's {}", quoted(maker)))
            }
            Self::MoreThanACircle { found } => (quoted(found), "at most a whole circle".to_owned()),
            Self::SamePoint => pair("the same point twice", "two points apart in plan"),
            Self::SpotTwice { .. } => pair("another height at a spot that has one", "one height for each place"),
            Self::OnOneLine => pair("points on one line", "at least three that are not"),
            Self::CrossesItself { one, other } => {
                (format!("edge {other} across or along edge {one}"), "corners in order around the area".to_owned())
            }
            Self::NotAbove { found, below } => (quoted(found), format!("more than {} below it", quoted(below))),
            Self::StepOrder { starts, ends } => (
                format!("a start after {} and an end before {}", quoted(starts), quoted(ends)),
                "an end in a later step than the start".to_owned(),
            ),
            Self::StartNotFirst => pair("another action", "start( … ) in the first step"),
            Self::StartAgain => pair("start( … ) again", "it in the first step only"),
            Self::AndMore { count } => (count_more(*count), "these mended first".to_owned()),
        }
    }

    /// What would mend it, where that can be said.
    fn help(&self) -> String {
        match self {
            Self::UnknownField { nearest: Some(name), .. } | Self::Word { nearest: Some(name), .. } => {
                format!("did you mean {name}?")
            }
            Self::NoSuch { nearest: Some(name), .. } | Self::NotInCatalog { nearest: Some(name), .. } => {
                format!("did you mean {}?", quoted(name))
            }
            Self::FieldTwice { first, .. } | Self::NameTwice { first, .. } | Self::SpotTwice { first }
                if first.line > 0 =>
            {
                format!("the first one stands in line {}", first.line)
            }
            Self::UnknownFormat { .. } => "this scene was written for another version".to_owned(),
            Self::Quantity { fault, .. } => fault.help(),
            Self::Syntax { .. } => String::new(),
            Self::NotInCatalog { what: "a conductor", .. } => "or state its own figures under conductors".to_owned(),
            Self::SeveralInCatalog { .. } => "name it by the word before the brackets".to_owned(),
            Self::ZeroWithoutReason => "say in reason why it is zero".to_owned(),
            Self::ChokerAboveTip { .. } => "heights along the pole are measured from the butt".to_owned(),
            _ => String::new(),
        }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (found, expected) = self.kind.found_and_expected();
        f.write_str(&self.file)?;
        if self.line > 0 {
            write!(f, ":{}:{}", self.line, self.column)?;
        }
        f.write_str(": ")?;
        if !self.path.is_empty() {
            write!(f, "{}: ", self.path)?;
        }
        write!(f, "found {found}; expected {expected}")?;
        match self.kind.help() {
            help if help.is_empty() => Ok(()),
            help => write!(f, "\n    help: {help}"),
        }
    }
}

impl std::error::Error for Fault {}

fn quoted(text: &str) -> String {
    format!("\"{}\"", shorten(text))
}

fn count(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

fn count_more(n: usize) -> String {
    count(n, "more fault", "more faults")
}

fn one_of(words: &[&str]) -> String {
    match words.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        Some((only, _)) => (*only).to_owned(),
        None => String::new(),
    }
}

/// The first names of a list, quoted.
fn some_of(names: &[String]) -> String {
    let mut text = names.iter().take(SHOWN).map(|name| quoted(name)).collect::<Vec<_>>().join(", ");
    if names.len() > SHOWN {
        text.push_str(" …");
    }
    text
}

/// The command that lists all of a catalog.
fn where_all_stand(what: &str) -> &'static str {
    match what {
        "a conductor" => " (all: plumbrise list conductors)",
        "a species" => " (all: plumbrise list species)",
        "a wood pole" => " (all: plumbrise list poles)",
        "a crane" => " (all: plumbrise list cranes)",
        "a bucket truck" => " (all: plumbrise list bucket_trucks)",
        _ => "",
    }
}

/// The name most like `found`, when one is like it at all: by letters to insert, remove, change or swap.
pub fn nearest<'n>(found: &str, names: impl IntoIterator<Item = &'n str>) -> Option<String> {
    let plain = |name: &str| name.chars().take(64).flat_map(char::to_lowercase).collect::<String>();
    let found = plain(found);
    let far = 1 + found.chars().count() / 3;
    names
        .into_iter()
        .map(|name| (strsim::osa_distance(&found, &plain(name)), name))
        .filter(|(edits, _)| *edits <= far)
        .min_by_key(|(edits, _)| *edits)
        .map(|(_, name)| name.to_owned())
}

/// The names most like `found`, best first, as many as one line holds.
pub fn most_like<'n>(found: &str, names: impl IntoIterator<Item = &'n str>) -> Vec<String> {
    let found = folded(found);
    let mut names: Vec<(usize, &str)> =
        names.into_iter().map(|name| (strsim::osa_distance(&found, &folded(name)), name)).collect();
    names.sort_by_key(|(edits, _)| *edits);
    let more = names.len() > SHOWN;
    let mut names: Vec<String> = names.into_iter().take(SHOWN).map(|(_, name)| name.to_owned()).collect();
    if more {
        // One more than is shown stands for the rest.
        names.push(String::new());
    }
    names
}

/// The faults found so far in one file.
#[derive(Clone, Debug, Default)]
pub(super) struct Faults {
    pub file: String,
    /// What is asked for is noted here, when somebody wants to know.
    pub record: Option<Record>,
    list: Vec<Fault>,
    more: usize,
}

impl Faults {
    pub fn new(file: &str) -> Self {
        Self { file: file.to_owned(), ..Self::default() }
    }

    pub fn add_at(&mut self, place: Place, path: &str, kind: FaultKind) {
        if self.list.len() >= MOST {
            self.more += 1;
            return;
        }
        let Place { line, column } = place;
        self.list.push(Fault { file: self.file.clone(), line, column, path: path.to_owned(), kind });
    }

    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// Takes over the faults of another file.
    pub fn absorb(&mut self, other: Faults) {
        self.more += other.more;
        self.list.extend(other.list);
    }

    /// In the order of the text; `None` when there is none.
    pub fn into_list(mut self) -> Option<Vec<Fault>> {
        if self.list.is_empty() {
            return None;
        }
        self.list.sort_by_key(|fault| (fault.line, fault.column));
        if self.more > 0 {
            let kind = FaultKind::AndMore { count: self.more };
            self.list.push(Fault { file: self.file, line: 0, column: 0, path: String::new(), kind });
        }
        Some(self.list)
    }
}
