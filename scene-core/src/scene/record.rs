//! What the reader asks for, as it reads: each field of each part of a scene, with its kind and band. `docs/scene.md` is made of
//! it, so that the page says what the reader takes.

use std::collections::{BTreeMap, BTreeSet};

/// Fields and kinds in the order in which they were first asked for.
#[derive(Clone, Debug, Default)]
pub(super) struct Record {
    pub parts: Vec<Part>,
    /// By the part that holds it and by path, with `[]` for every entry of a list.
    kinds: BTreeMap<(&'static str, String), Vec<String>>,
    /// The part that was last read at each path: several kinds of part may stand at one.
    read_last: BTreeMap<String, &'static str>,
    /// The same of the scene, while a document beside it is read.
    of_scene: BTreeMap<String, &'static str>,
}

/// The fields of one part of a scene.
#[derive(Clone, Debug)]
pub(super) struct Part {
    /// With its article: "a wire".
    pub of: &'static str,
    /// Where it may stand.
    pub paths: BTreeSet<String>,
    pub fields: Vec<AskedField>,
}

#[derive(Clone, Debug)]
pub(super) struct AskedField {
    pub name: &'static str,
    pub is_needed: bool,
    paths: BTreeSet<String>,
}

impl Record {
    pub fn part(&mut self, of: &'static str, path: &str) {
        let path = any_entry(path);
        self.kind(&path, format!("part: {of}"));
        self.read_last.insert(path.clone(), of);
        let index = self.parts.iter().position(|part| part.of == of).unwrap_or_else(|| {
            self.parts.push(Part { of, paths: BTreeSet::new(), fields: Vec::new() });
            self.parts.len() - 1
        });
        if let Some(part) = self.parts.get_mut(index) {
            part.paths.insert(path);
        }
    }

    /// Before a document beside the scene is read: its paths begin anew.
    pub fn of_another_document(mut self) -> Self {
        self.of_scene = std::mem::take(&mut self.read_last);
        self
    }

    pub fn of_the_scene_again(mut self) -> Self {
        self.read_last = std::mem::take(&mut self.of_scene);
        self
    }

    pub fn field(&mut self, of: &'static str, name: &'static str, path: &str, is_needed: bool) {
        let Some(part) = self.parts.iter_mut().find(|part| part.of == of) else { return };
        let index = part.fields.iter().position(|field| field.name == name).unwrap_or_else(|| {
            part.fields.push(AskedField { name, is_needed: false, paths: BTreeSet::new() });
            part.fields.len() - 1
        });
        if let Some(field) = part.fields.get_mut(index) {
            field.is_needed |= is_needed;
            field.paths.insert(any_entry(path));
        }
    }

    pub fn kind(&mut self, path: &str, kind: String) {
        let path = any_entry(path);
        let holder = self.read_last.get(holder_of(&path)).copied().unwrap_or("");
        let kinds = self.kinds.entry((holder, path)).or_default();
        if !kinds.contains(&kind) {
            kinds.push(kind);
        }
    }

    /// What a field holds, each kind once; empty when no scene that was read has it.
    pub fn kinds_of(&self, of: &'static str, field: &AskedField) -> Vec<String> {
        let mut found: Vec<String> = Vec::new();
        for path in &field.paths {
            for kind in self.kinds_at(of, path, 0) {
                if !found.contains(&kind) {
                    found.push(kind);
                }
            }
        }
        found
    }

    fn kinds_at(&self, of: &'static str, path: &str, depth: usize) -> Vec<String> {
        let kinds = self.kinds.get(&(of, path.to_owned())).map_or(&[][..], Vec::as_slice);
        // A name is a text, and says more.
        let is_name = kinds.iter().any(|kind| kind.starts_with("name of"));
        let mut found = Vec::new();
        for kind in kinds.iter().filter(|kind| !(is_name && *kind == "text")) {
            if kind != "list" || depth > 3 {
                found.push(kind.clone());
                continue;
            }
            let of_entry = self.kinds_at(of, &format!("{path}[]"), depth + 1);
            found.extend(of_entry.iter().map(|kind| format!("list of {kind}")));
            if of_entry.is_empty() {
                found.push("list".to_owned());
            }
        }
        found
    }
}

/// The path of what holds the field that a path leads to: without the field's name and the brackets of its entries.
fn holder_of(path: &str) -> &str {
    let path = path.trim_end_matches("[]");
    path.rfind('.').and_then(|end| path.get(..end)).unwrap_or("")
}

/// A path with `[]` for each number and each quoted key in brackets.
fn any_entry(path: &str) -> String {
    let mut any = String::with_capacity(path.len());
    let mut inside = false;
    for letter in path.chars() {
        match letter {
            '[' => {
                inside = true;
                any.push('[');
            }
            ']' => {
                inside = false;
                any.push(']');
            }
            letter if !inside => any.push(letter),
            _ => {}
        }
    }
    any
}
