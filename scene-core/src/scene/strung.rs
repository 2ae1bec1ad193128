//! A span hung from how it was strung, and the conductor's figures that this takes, as written.

use super::part::{Fields, Part, Reading, Walk, word_of, word_with};
use super::tree::{Node, Tree};
use crate::quantity::{Density, Expansion, Force, Length, Quantity, Range, Ratio, Temperature};

/// How a span was strung, and today's temperature and ice.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Strung {
    /// Horizontal, of the bare wire in still air when it was strung; or else `sag`.
    pub tension: Option<Range<Force>>,
    /// Vertical, from the chord of this span, at midspan.
    pub sag: Option<Range<Length>>,
    /// Of the conductor, then.
    pub temperature: Range<Temperature>,
    pub condition: Condition,
    pub ruling: Ruling,
    /// Of the conductor, today.
    pub today: Range<Temperature>,
    /// The aluminium certainly carries its share at and below this temperature.
    pub knee: Option<Quantity<Temperature>>,
    pub ice: Option<Ice>,
    pub note: Option<String>,
}

impl Fields for Strung {
    const WHAT: &'static str = "a strung span";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("1 lbf", "100000 lbf").may("tension", &mut self.tension);
        walk.within("0.1 in", "300 ft").may("sag", &mut self.sag);
        walk.within("-80 F", "250 F").need("temperature", &mut self.temperature);
        walk.need("condition", &mut self.condition);
        walk.need("ruling", &mut self.ruling);
        walk.within("-80 F", "400 F").need("today", &mut self.today);
        walk.within("-80 F", "400 F").may("knee", &mut self.knee);
        walk.may("ice", &mut self.ice);
        walk.may("note", &mut self.note);
    }
}

/// What the stringing data are of.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Condition {
    /// The wire as it hangs for good: creep and heavy loads have been.
    #[default]
    Final,
    /// A new wire; since then it has grown for good by this much.
    Initial(Range<Ratio>),
}

impl Part for Condition {
    fn read(node: &Node, at: &mut Reading) -> Self {
        match at.variant(node, &["final", "initial"]) {
            Some(("initial", node)) => Self::Initial(at.one(node, Some(("0 %", "1 %")))),
            Some((_, node)) => {
                at.alone(node);
                Self::Final
            }
            None => Self::default(),
        }
    }

    fn write(&self) -> Tree {
        match self {
            Self::Final => Tree::Name("final".to_owned()),
            Self::Initial(grown) => word_of("initial", grown),
        }
    }
}

/// Which spans share their tension.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Ruling {
    /// Dead-ended at both ends.
    #[default]
    Alone,
    /// The ruling span of its section.
    Span(Quantity<Length>),
    /// Every span of its section.
    Section(Vec<Quantity<Length>>),
    /// The section is this wire, from its first point to its last.
    ThisWire,
}

impl Part for Ruling {
    fn read(node: &Node, at: &mut Reading) -> Self {
        let band = Some(("5 ft", "5000 ft"));
        match at.variant(node, &["alone", "span", "section", "this_wire"]) {
            Some(("span", node)) => Self::Span(at.one(node, band)),
            Some(("section", node)) => Self::Section(at.one(node, band)),
            Some((word, node)) => {
                at.alone(node);
                if word == "this_wire" { Self::ThisWire } else { Self::Alone }
            }
            None => Self::default(),
        }
    }

    fn write(&self) -> Tree {
        match self {
            Self::Alone => Tree::Name("alone".to_owned()),
            Self::Span(length) => word_of("span", length),
            Self::Section(lengths) => word_of("section", lengths),
            Self::ThisWire => Tree::Name("this_wire".to_owned()),
        }
    }
}

/// Radial ice on the wire today.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ice {
    pub thickness: Range<Length>,
    pub density: Range<Density>,
    pub note: Option<String>,
}

impl Fields for Ice {
    const WHAT: &'static str = "the ice";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("0 in", "4 in").need("thickness", &mut self.thickness);
        walk.within("5 lb/ft3", "60 lb/ft3").need("density", &mut self.density);
        walk.may("note", &mut self.note);
    }
}

/// What still pulls when the aluminium of a conductor has gone slack.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Core {
    /// Copper, aluminium, an alloy or steel alone.
    #[default]
    OneMetal,
    /// A core of another metal.
    Of(CoreFigures),
}

impl Part for Core {
    fn read(node: &Node, at: &mut Reading) -> Self {
        match at.variant(node, &["one_metal", "core_of"]) {
            Some(("core_of", node)) => Self::Of(at.fields_of(node)),
            Some((_, node)) => {
                at.alone(node);
                Self::OneMetal
            }
            None => Self::default(),
        }
    }

    fn write(&self) -> Tree {
        match self {
            Self::OneMetal => Tree::Name("one_metal".to_owned()),
            Self::Of(figures) => word_with("core_of", figures),
        }
    }
}

/// Of the core by itself.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CoreFigures {
    /// E·A.
    pub core_stiffness: Quantity<Force>,
    pub core_expansion: Quantity<Expansion>,
    pub note: Option<String>,
}

impl Fields for CoreFigures {
    const WHAT: &'static str = "the core";
    fn fields(&mut self, walk: &mut Walk<'_, '_>) {
        walk.within("1000 lbf", "100000000 lbf").need("core_stiffness", &mut self.core_stiffness);
        walk.within("0.1e-6 /F", "20e-6 /F").need("core_expansion", &mut self.core_expansion);
        walk.may("note", &mut self.note);
    }
}
