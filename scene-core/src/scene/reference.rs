//! The fields that a scene may have, as the reader itself asks for them.

use super::beside::Beside;
use super::fault::Faults;
use super::reader::read_tree;
use super::record::{Part, Record};
use super::site;
use super::value::Value;
use std::cell::RefCell;

/// The fields of one part of a scene, in the order in which the reader asks for them.
#[derive(Clone, Debug, PartialEq)]
pub struct ScenePart {
    /// With its article: "a wire".
    pub of: &'static str,
    /// Where it may stand: `wires[]`; an empty path is the whole scene.
    pub paths: Vec<String>,
    pub fields: Vec<SceneField>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct SceneField {
    pub name: &'static str,
    /// It must be there wherever the part stands.
    pub is_needed: bool,
    /// What it holds, with the band of each quantity; empty when none of the scenes has the field.
    pub kinds: Vec<String>,
}

/// What the reader asks for while it reads these scenes. A part or a kind that none of them has is not among it.
pub fn reference<'t>(scenes: impl IntoIterator<Item = (&'t str, &'t Beside)>) -> Vec<ScenePart> {
    let mut record = Record::default();
    for (text, beside) in scenes {
        let Ok(node) = read_tree(text) else { continue };
        let mut faults = Faults::new("");
        faults.record = Some(record);
        let faults = RefCell::new(faults);
        site::read(&Value::document(&node, &faults), beside, None);
        record = faults.into_inner().record.unwrap_or_default();
    }
    let part = |part: &Part| ScenePart {
        of: part.of,
        paths: part.paths.iter().cloned().collect(),
        fields: part
            .fields
            .iter()
            .map(|asked| {
                let kinds = record.kinds_of(part.of, asked);
                SceneField { name: asked.name, is_needed: asked.is_needed, kinds }
            })
            .collect(),
    };
    record.parts.iter().map(part).collect()
}
