//! What the text of the program must be like, whatever it does.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

fn source() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src")
}

/// All source files in a folder and below it, with their text.
fn files(folder: &Path) -> BTreeMap<PathBuf, String> {
    let mut found = BTreeMap::new();
    for entry in fs::read_dir(folder).unwrap().map(Result::unwrap) {
        let path = entry.path();
        if path.is_dir() {
            found.extend(files(&path));
        } else if path.extension().is_some_and(|kind| kind == "rs") {
            found.insert(path.clone(), fs::read_to_string(&path).unwrap());
        }
    }
    found
}

/// The lines with a named color: a constant of a color type, or a macro, which the linter cannot hold out.
fn named_colors(text: &str) -> Vec<&str> {
    let is_constant = |rest: &str| rest.starts_with(|c: char| c.is_ascii_uppercase());
    let in_line = |line: &str| {
        ["Color32::", "Color::", "Rgba::", "Srgba::", "css::", "tailwind::"].iter().any(|kind| {
            line.match_indices(kind).any(|(at, _)| {
                let before = line[..at].chars().next_back();
                let is_whole = !before.is_some_and(|c| c.is_alphanumeric() || c == '_') || *kind == "Rgba::";
                is_whole && is_constant(&line[at + kind.len()..])
            })
        })
    };
    text.lines().filter(|line| in_line(line) || line.contains("hex_color!")).collect()
}

#[test]
fn a_named_color_stands_in_the_theme_alone() {
    assert_eq!(named_colors("let a = Color32::WHITE;\nlet b = StateColor::STOP;").len(), 1);
    assert_eq!(named_colors("LinearRgba::BLACK\nColor::Srgba(red)\nuse bevy::color::palettes::css::RED;").len(), 3);
    for (path, text) in files(&source()) {
        if !path.ends_with("theme.rs") {
            assert_eq!(named_colors(&text), Vec::<&str>::new(), "{}", path.display());
        }
    }
}

/// The modules of the window that each of them uses.
fn uses(modules: &BTreeMap<String, String>) -> BTreeMap<&str, Vec<&str>> {
    let name = |text: &str| text.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect::<String>();
    let used = |text: &str| {
        // What the window hands on under its own name.
        let text = text.replace("OpenScene", "open_scene");
        let paths = text.split("super::").skip(1);
        let mut found = Vec::new();
        for rest in paths {
            let listed = rest.strip_prefix('{').and_then(|list| list.split_once('}')).map(|(list, _)| list);
            for one in listed.unwrap_or(rest).split(',').take(if listed.is_some() { usize::MAX } else { 1 }) {
                found.push(name(one.trim()));
            }
        }
        modules.keys().map(String::as_str).filter(|module| found.iter().any(|f| f == module)).collect::<Vec<_>>()
    };
    modules.iter().map(|(module, text)| (module.as_str(), used(text))).collect()
}

/// A way through the modules that ends where it began.
fn circle<'a>(uses: &BTreeMap<&'a str, Vec<&'a str>>) -> Option<Vec<&'a str>> {
    fn walk<'a>(way: &mut Vec<&'a str>, done: &mut Vec<&'a str>, uses: &BTreeMap<&'a str, Vec<&'a str>>) -> bool {
        let Some(&here) = way.last() else { return false };
        for next in uses.get(here).into_iter().flatten().copied() {
            if let Some(at) = way.iter().position(|module| *module == next) {
                way.drain(..at);
                way.push(next);
                return true;
            }
            if !done.contains(&next) {
                way.push(next);
                if walk(way, done, uses) {
                    return true;
                }
            }
        }
        done.extend(way.pop());
        false
    }
    let mut done = Vec::new();
    uses.keys().find_map(|start| {
        let mut way = vec![*start];
        walk(&mut way, &mut done, uses).then_some(way)
    })
}

#[test]
fn the_modules_of_the_window_know_each_other_one_way() {
    let planted = [("eye", "use super::hand;"), ("hand", "use super::{OpenScene, eye};"), ("foot", "")];
    let planted = planted.map(|(module, text)| (module.to_owned(), text.to_owned())).into();
    assert_eq!(circle(&uses(&planted)), Some(vec!["eye", "hand", "eye"]));

    let modules: BTreeMap<String, String> = files(&source().join("window"))
        .into_iter()
        .filter_map(|(path, text)| {
            let module = path.file_stem()?.to_str()?.to_owned();
            let program = text.split("#[cfg(test)]").next()?.to_owned();
            (module != "headless").then_some((module, program))
        })
        .collect();
    assert!(modules.len() > 15, "{:?}", modules.keys());
    assert_eq!(circle(&uses(&modules)), None);
}

/// The calls of `add_systems` in a text, with all that they enclose.
fn added_systems(text: &str) -> Vec<&str> {
    let calls = text.match_indices("add_systems(").map(|(at, call)| &text[at + call.len()..]);
    let enclosed = |rest: &'_ str| {
        let mut open = 1;
        rest.find(|c| {
            open += match c {
                '(' => 1,
                ')' => -1,
                _ => 0,
            };
            open == 0
        })
    };
    calls.map(|rest| &rest[..enclosed(rest).unwrap_or(rest.len())]).collect()
}

#[test]
fn every_system_belongs_to_a_set() {
    assert_eq!(added_systems("app.add_systems(Update, (a, b).chain()).add_systems(First, c);").len(), 2);
    let mut count = 0;
    for (path, text) in files(&source().join("window")) {
        for call in added_systems(text.split("#[cfg(test)]").next().unwrap()) {
            count += 1;
            assert!(call.contains(".in_set("), "{}: add_systems({call})", path.display());
        }
    }
    assert!(count > 20, "only {count} calls found");
}
