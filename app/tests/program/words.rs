//! The words that the program never uses of a job.

use super::{ALDER_ROAD, Bench, JUNIPER_LANE, set};
use std::fs;
use std::path::{Path, PathBuf};

const NEVER: [&str; 6] = ["safe", "safely", "safety", "clear", "clears", "clearance"];

fn words(text: &str) -> impl Iterator<Item = String> {
    text.split(|c: char| !c.is_alphabetic()).map(str::to_lowercase)
}

#[track_caller]
fn keeps_to_the_words(what: &str, text: &str) {
    if let Some(word) = words(text).find(|word| NEVER.contains(&word.as_str())) {
        panic!("{what} says {word}:\n{text}");
    }
}

#[test]
fn no_output_says_that_a_pick_is_safe_or_clear() {
    let bench = Bench::new();
    bench.put("juniper.ron", JUNIPER_LANE);
    bench.put("alder.ron", ALDER_ROAD);
    bench.put("low.ron", set(ALDER_ROAD, "choker_from_butt", "12 ft"));
    bench.put("bad.ron", set(ALDER_ROAD, "voltage", "12.47 kg"));
    bench.put("broken.ron", "(format: 1, ");
    for arguments in [
        &[][..],
        &["--help"],
        &["check", "--help"],
        &["trace", "--help"],
        &["picture", "--help"],
        &["picture", "juniper.ron", "-o", "juniper.png", "--step", "0"],
        &["picture", "juniper.ron", "-o", "juniper.png", "--view", "hut"],
        &["new", "--help"],
        &["new", "juniper.ron"],
        &["new", "fresh.ron"],
        &["check", "juniper.ron", "alder.ron", "low.ron", "bad.ron", "broken.ron", "missing.ron"],
        &["check", "--units", "si", "juniper.ron", "alder.ron", "low.ron"],
        &["check", "--json", "juniper.ron", "alder.ron", "low.ron"],
        &["trace", "--every", "3600", "juniper.ron"],
    ] {
        let run = bench.run(arguments);
        keeps_to_the_words(&format!("{arguments:?}"), &run.out);
        keeps_to_the_words(&format!("{arguments:?}"), &run.err);
    }
}

/// Findings that no example brings about stand in the source, too.
#[test]
fn no_text_of_the_source_says_so_either() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let mut files = Vec::new();
    for folder in ["app/src", "scene-core/src"] {
        gather(&root.join(folder), &mut files);
    }
    assert!(files.len() > 40, "{} files", files.len());
    let mut texts = 0;
    for file in files {
        let source = fs::read_to_string(&file).unwrap();
        let code = source.split("#[cfg(test)]\nmod tests").next().unwrap();
        for text in texts_of(code) {
            keeps_to_the_words(&file.display().to_string(), &text);
            texts += 1;
        }
    }
    assert!(texts > 1000, "{texts} texts");
}

fn gather(folder: &Path, files: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            gather(&path, files);
        } else if path.extension().is_some_and(|kind| kind == "rs" || kind == "ron") {
            files.push(path);
        }
    }
}

/// What stands between quotes in Rust or RON, comments left out.
fn texts_of(code: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut rest = code.chars().peekable();
    while let Some(c) = rest.next() {
        match c {
            '/' if rest.peek() == Some(&'/') => {
                rest.by_ref().find(|c| *c == '\n');
            }
            '\'' => {
                // A character; a lifetime has no second mark and is passed over letter by letter.
                let ahead: Vec<char> = rest.clone().take(2).collect();
                match ahead[..] {
                    ['\\', _] => drop(rest.by_ref().take(2).last()),
                    [_, '\''] => drop(rest.by_ref().take(2).last()),
                    _ => {}
                }
            }
            '"' => {
                let mut text = String::new();
                while let Some(c) = rest.next() {
                    match c {
                        '"' => break,
                        '\\' => text.extend(rest.next()),
                        c => text.push(c),
                    }
                }
                found.push(text);
            }
            _ => {}
        }
    }
    found
}

#[test]
fn texts_are_told_from_comments_and_characters() {
    assert_eq!(texts_of("// \"a\"\nlet b: &'static str = \"c \\\" d\"; '\"'; '\\''; \"e\""), ["c \" d", "e"]);
}
