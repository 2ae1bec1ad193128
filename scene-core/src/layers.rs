//! Holds the table of rooms in `lib.rs` against the code: a room knows only the rooms named before it.
//!
//! Every path counts that begins at the root of the crate, in a `use` or inline, by `crate::` or by `super::`. Comments, string
//! literals and code for tests do not count.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

/// The rooms in the order of the table: the code in backticks of the first column.
fn table(lib: &str) -> Vec<String> {
    let rows = lib.lines().filter_map(|line| line.strip_prefix("//! | "));
    let firsts = rows.filter_map(|row| row.split('|').next()).filter(|first| first.contains('`'));
    firsts.flat_map(|first| first.split('`').skip(1).step_by(2).map(str::to_owned).collect::<Vec<_>>()).collect()
}

/// The modules that the root declares outside tests.
fn declared(lib: &str) -> BTreeSet<String> {
    let code = code(lib);
    let names = code.split(';').filter_map(|item| item.trim().rsplit_once("mod ").map(|(_, name)| name.trim()));
    names.filter(|name| is_name(name)).map(str::to_owned).collect()
}

fn is_name(text: &str) -> bool {
    !text.is_empty() && text.chars().all(|c| c == '_' || c.is_alphanumeric())
}

/// The text with comments, the insides of literals and items for tests blanked out.
fn code(text: &str) -> String {
    without_tests(&without_comments_and_literals(text)).0
}

fn without_comments_and_literals(text: &str) -> String {
    let chars: Vec<char> = text.chars().collect();
    let at = |i: usize| chars.get(i).copied().unwrap_or(' ');
    let mut kept = String::new();
    let mut i = 0;
    while i < chars.len() {
        let end = match at(i) {
            '/' if at(i + 1) == '/' => (i..chars.len()).find(|&j| at(j) == '\n').unwrap_or(chars.len()),
            '/' if at(i + 1) == '*' => end_of_block_comment(&chars, i),
            'r' if !is_in_name(&kept) && matches!(at(i + 1), '"' | '#') => end_of_raw_string(&chars, i).unwrap_or(i),
            '"' => end_of_string(&chars, i),
            '\'' if at(i + 1) == '\\' => (i + 3..chars.len()).find(|&j| at(j) == '\'').map_or(chars.len(), |j| j + 1),
            '\'' if at(i + 2) == '\'' => i + 3,
            _ => i,
        };
        if end == i {
            kept.push(at(i));
            i += 1;
        } else {
            kept.push(' ');
            i = end;
        }
    }
    kept
}

fn is_in_name(kept: &str) -> bool {
    kept.ends_with(|c: char| c == '_' || c.is_alphanumeric()) && !kept.ends_with(" b") && !kept.ends_with("(b")
}

fn end_of_block_comment(chars: &[char], from: usize) -> usize {
    let (mut depth, mut i) = (0, from);
    while i + 1 < chars.len() {
        match (chars[i], chars[i + 1]) {
            ('/', '*') => depth += 1,
            ('*', '/') => depth -= 1,
            _ => {
                i += 1;
                continue;
            }
        }
        i += 2;
        if depth == 0 {
            return i;
        }
    }
    chars.len()
}

/// `None` where no raw string begins: `r#name`.
fn end_of_raw_string(chars: &[char], from: usize) -> Option<usize> {
    let hashes = chars[from + 1..].iter().take_while(|c| **c == '#').count();
    let open = from + 1 + hashes;
    if chars.get(open) != Some(&'"') {
        return None;
    }
    let closes = |i: &usize| chars[*i] == '"' && (1..=hashes).all(|k| chars.get(i + k) == Some(&'#'));
    Some((open + 1..chars.len()).find(closes).map_or(chars.len(), |i| i + 1 + hashes))
}

fn end_of_string(chars: &[char], from: usize) -> usize {
    let mut i = from + 1;
    while i < chars.len() {
        match chars[i] {
            '\\' => i += 2,
            '"' => return i + 1,
            _ => i += 1,
        }
    }
    chars.len()
}

/// What is left, and the names of modules in files of their own that are for tests.
fn without_tests(code: &str) -> (String, Vec<String>) {
    const MARK: &str = "#[cfg(test)]";
    let (mut kept, mut modules, mut rest) = (String::new(), Vec::new(), code);
    while let Some(at) = rest.find(MARK) {
        kept.push_str(&rest[..at]);
        let item = &rest[at + MARK.len()..];
        let end = end_of_item(item);
        let name = item[..end].trim_end_matches(';').rsplit_once("mod ").map_or("", |(_, name)| name.trim());
        if item[..end].ends_with(';') && is_name(name) {
            modules.push(name.to_owned());
        }
        rest = &item[end..];
    }
    kept.push_str(rest);
    (kept, modules)
}

/// After the first semicolon, or after the first block, outside brackets.
fn end_of_item(item: &str) -> usize {
    let mut depth = 0;
    for (at, c) in item.char_indices() {
        match c {
            '{' | '(' | '[' => depth += 1,
            ')' | ']' => depth -= 1,
            '}' => {
                depth -= 1;
                if depth == 0 {
                    return at + 1;
                }
            }
            ';' if depth == 0 => return at + 1,
            _ => {}
        }
    }
    item.len()
}

/// The first names of all paths from the crate's root, in a module that is `depth` below it.
fn reached(code: &str, depth: usize) -> BTreeSet<String> {
    let tight: String = code.split_whitespace().collect::<Vec<_>>().join(" ").replace(" ::", "::").replace(":: ", "::");
    let up = "super::".repeat(depth);
    let roots = [Some("crate::"), Some(up.as_str()).filter(|up| !up.is_empty())];
    let mut found = BTreeSet::new();
    for root in roots.into_iter().flatten() {
        for (at, _) in tight.match_indices(root) {
            let before = tight[..at].chars().next_back().unwrap_or(' ');
            let begins = !(before == '_' || before == ':' || before.is_alphanumeric());
            if begins {
                found.extend(first_names(&tight[at + root.len()..]));
            }
        }
    }
    found
}

/// Of a path, or of each path in braces.
fn first_names(path: &str) -> Vec<String> {
    let name = |path: &str| -> String {
        path.trim().chars().take_while(|c| *c == '_' || *c == '*' || c.is_alphanumeric()).collect()
    };
    let Some(group) = path.strip_prefix('{') else { return vec![name(path)] };
    let (mut depth, mut from, mut names) = (0, 0, Vec::new());
    for (at, c) in group.char_indices() {
        match c {
            '{' => depth += 1,
            '}' if depth > 0 => depth -= 1,
            ',' | '}' if depth == 0 => {
                names.push(name(&group[from..at]));
                from = at + 1;
                if c == '}' {
                    break;
                }
            }
            _ => {}
        }
    }
    names.retain(|name| !name.is_empty());
    names
}

/// Every room that this file reaches and must not, as `room: other`.
fn arrows_up(path: &Path, text: &str, rooms: &[String]) -> Vec<String> {
    let parts: Vec<String> = path.with_extension("").iter().map(|part| part.to_string_lossy().into_owned()).collect();
    let place = |name: &str| rooms.iter().position(|room| room == name);
    let (Some(room), depth) = (parts.first(), parts.len()) else { return Vec::new() };
    let Some(own) = place(room) else { return vec![format!("{room} is not in the table")] };
    let goes_up = |name: &String| name == "*" || place(name).is_some_and(|other| other > own);
    reached(&code(text), depth).iter().filter(|name| goes_up(name)).map(|name| format!("{room}: {name}")).collect()
}

/// Every file below a folder with its text, but for modules that are for tests.
fn files(root: &Path, folder: &Path, found: &mut Vec<(std::path::PathBuf, String)>) {
    let mut entries: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    entries.sort();
    let sources: Vec<_> = entries.iter().filter(|path| path.extension().is_some_and(|ext| ext == "rs")).collect();
    for path in sources {
        let text = fs::read_to_string(path).unwrap();
        found.push((path.strip_prefix(root).unwrap().to_owned(), text));
    }
    entries.iter().filter(|path| path.is_dir()).for_each(|path| files(root, path, found));
}

/// Files below `src` without those that are for tests alone.
fn sources() -> Vec<(std::path::PathBuf, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut all = Vec::new();
    files(&root, &root, &mut all);
    let mut for_tests: Vec<std::path::PathBuf> = Vec::new();
    for (path, text) in &all {
        let folder = if path == Path::new("lib.rs") { Path::new("").to_owned() } else { path.with_extension("") };
        let modules = without_tests(&without_comments_and_literals(text)).1;
        for_tests.extend(modules.iter().map(|name| folder.join(name)));
    }
    let is_for_tests = |path: &Path| for_tests.iter().any(|tests| path.with_extension("").starts_with(tests));
    all.retain(|(path, _)| !is_for_tests(path) && path != Path::new("lib.rs"));
    all
}

const LIB: &str = include_str!("lib.rs");

#[test]
fn the_table_names_every_room_once() {
    let rooms = table(LIB);
    let once: BTreeSet<String> = rooms.iter().cloned().collect();
    assert_eq!(once.len(), rooms.len(), "{rooms:?}");
    assert_eq!(once, declared(LIB));
}

#[test]
fn a_room_knows_only_the_rooms_named_before_it() {
    let rooms = table(LIB);
    let sources = sources();
    assert!(sources.len() > 100, "{}", sources.len());
    let up = |(path, text): &(std::path::PathBuf, String)| {
        let arrows = arrows_up(path, text, &rooms);
        arrows.into_iter().map(|arrow| format!("{} ({arrow})", path.display())).collect::<Vec<_>>()
    };
    let up: Vec<String> = sources.iter().flat_map(up).collect();
    assert!(up.is_empty(), "these reach up:\n{}", up.join("\n"));
}

fn planted(path: &str, text: &str) -> Vec<String> {
    let rooms = ["bracket", "pole", "check", "report"].map(str::to_owned);
    arrows_up(Path::new(path), text, &rooms)
}

#[test]
fn a_planted_arrow_up_is_found_however_it_is_written() {
    let up = ["pole: check"];
    assert_eq!(planted("pole.rs", "use crate::check::check;"), up);
    assert_eq!(planted("pole/mass.rs", "fn f() -> f64 {\n    crate::check\n        ::check(1.0)\n}"), up);
    assert_eq!(planted("pole.rs", "use crate::{bracket::{Bracket, check}, check::{self, report}};"), up);
    assert_eq!(planted("pole.rs", "pub(crate) use super::check;"), up);
    assert_eq!(planted("pole/mass.rs", "fn f() { super::super::check::check(); }"), up);
    assert_eq!(planted("pole/mass.rs", "type T<'a> = &'a crate::check::Report; const Q: char = '\"';"), up);
    assert_eq!(planted("pole.rs", "const A: &str = r#\"it\"s\"#; use crate::check;"), up);
    assert_eq!(planted("pole.rs", "use crate::*;"), ["pole: *"]);
    assert_eq!(planted("pole.rs", "#[cfg(test)]\nmod tests { use crate::report; }\nuse crate::check;"), up);
    assert_eq!(planted("check.rs", "use crate::{pole, report::text};"), ["check: report"]);
}

#[test]
fn what_is_said_tested_or_looks_down_is_no_arrow_up() {
    let none: [&str; 0] = [];
    assert_eq!(planted("check.rs", "use crate::{bracket, pole::mass}; use crate::check::rows;"), none);
    assert_eq!(
        planted("pole.rs", "//! See [`crate::check`].\n/* crate::check /* crate::check */ */ const A: u8 = 0;"),
        none
    );
    assert_eq!(planted("pole.rs", "const A: &str = \"crate::check \\\" crate::check\"; const B: char = '\\'';"), none);
    assert_eq!(planted("pole.rs", "#[cfg(test)]\nmod tests {\n    use crate::check::check;\n}"), none);
    assert_eq!(planted("pole/mass.rs", "use super::check; fn check(crate_check: u8) {}"), none);
}
