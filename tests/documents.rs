//! Our reader of RON against the crate `ron`: on the part of the format that both read, they read the same.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use proptest::prelude::*;
use ron::value::{Map, Number, Value};
use scene_core::scene::reader::read_tree;
use scene_core::scene::tree::{Field, Node, Place, Tree, number};
use scene_core::scene::writer::write_tree;

/// What the crate makes of a tree: it drops the names of groups and turns a word by itself into nothing.
fn as_value(node: &Node) -> Value {
    match &node.tree {
        Tree::Bool(value) => Value::Bool(*value),
        Tree::Number(text) => Value::Number(Number::new(number(text).unwrap())),
        Tree::Char(c) => Value::Char(*c),
        Tree::Text(text) => Value::String(text.clone()),
        Tree::Name(name) if name == "None" => Value::Option(None),
        Tree::Name(_) => Value::Unit,
        Tree::List(items) => Value::Seq(items.iter().map(as_value).collect()),
        Tree::Tuple { name: Some(name), items } if name == "Some" && items.len() == 1 => {
            Value::Option(Some(Box::new(as_value(&items[0]))))
        }
        Tree::Tuple { items, .. } => {
            if items.is_empty() {
                Value::Unit
            } else {
                Value::Seq(items.iter().map(as_value).collect())
            }
        }
        Tree::Map(pairs) => Value::Map(pairs.iter().map(|(k, v)| (as_value(k), as_value(v))).collect()),
        Tree::Struct { fields, .. } => {
            let pairs = fields.iter().map(|field| (Value::String(field.name.clone()), as_value(&field.value)));
            Value::Map(pairs.collect::<Map>())
        }
    }
}

/// Numbers as `f64`, whatever width the crate chose; an empty group or list as nothing, for the crate reads `()` as nothing
/// and `( )` as an empty list.
fn plain(value: Value) -> Value {
    match value {
        Value::Number(number) => Value::Number(Number::new(number.into_f64())),
        Value::Seq(items) if items.is_empty() => Value::Unit,
        Value::Seq(items) => Value::Seq(items.into_iter().map(plain).collect()),
        Value::Map(map) => Value::Map(map.into_iter().map(|(k, v)| (plain(k), plain(v))).collect()),
        Value::Option(inner) => Value::Option(inner.map(|value| Box::new(plain(*value)))),
        other => other,
    }
}

/// The crate reads different words, and empty groups, as the same nothing: as keys of one map only one of them would stay.
fn keys_differ(pairs: &[(Node, Node)]) -> bool {
    pairs.iter().map(|(key, _)| plain(as_value(key))).collect::<BTreeSet<_>>().len() == pairs.len()
}

fn name() -> impl Strategy<Value = String> {
    "[a-z][a-z0-9_]{0,8}"
        .prop_filter("a word of its own", |name| !["true", "false", "inf", "r", "b", "br"].contains(&name.as_str()))
}

fn tree() -> impl Strategy<Value = Tree> {
    let leaf = prop_oneof![
        any::<bool>().prop_map(Tree::Bool),
        any::<i32>().prop_map(|n| Tree::Number(n.to_string())),
        (-1e9..1e9_f64).prop_map(|n| Tree::Number(format!("{n:?}"))),
        any::<char>().prop_map(Tree::Char),
        ".{0,12}".prop_map(Tree::Text),
        name().prop_map(Tree::Name),
        Just(Tree::Name("None".to_owned())),
    ];
    leaf.prop_recursive(5, 60, 6, |inner| {
        let node = inner.prop_map(Tree::node);
        prop_oneof![
            prop::collection::vec(node.clone(), 0..5).prop_map(Tree::List),
            prop::collection::vec((node.clone(), node.clone()), 0..4)
                .prop_filter("keys that stay different once read", |pairs| keys_differ(pairs))
                .prop_map(Tree::Map),
            (prop::option::of(name()), prop::collection::vec(node.clone(), 0..4))
                .prop_map(|(name, items)| Tree::Tuple { name, items }),
            node.clone().prop_map(|item| Tree::Tuple { name: Some("Some".to_owned()), items: vec![item] }),
            (prop::option::of(name()), prop::collection::vec((name(), node), 1..5)).prop_map(|(name, fields)| {
                let field = |(name, value)| Field { place: Place::default(), name, value };
                Tree::Struct { name, fields: fields.into_iter().map(field).collect() }
            }),
        ]
    })
}

/// The tree without the places it stands at.
fn bare(node: &Node) -> Node {
    let tree = match &node.tree {
        Tree::List(items) => Tree::List(items.iter().map(bare).collect()),
        Tree::Map(pairs) => Tree::Map(pairs.iter().map(|(k, v)| (bare(k), bare(v))).collect()),
        Tree::Tuple { name, items } => Tree::Tuple { name: name.clone(), items: items.iter().map(bare).collect() },
        Tree::Struct { name, fields } => {
            let field = |f: &Field| Field { place: Place::default(), name: f.name.clone(), value: bare(&f.value) };
            Tree::Struct { name: name.clone(), fields: fields.iter().map(field).collect() }
        }
        leaf => leaf.clone(),
    };
    tree.node()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    #[test]
    fn a_document_reads_as_the_crate_reads_it(tree in tree()) {
        let text = write_tree(&tree);
        let ours = read_tree(&text).map_err(|(place, kind)| TestCaseError::fail(format!("{place:?} {kind:?} in {text}")))?;
        prop_assert_eq!(bare(&ours), tree.node());
        let theirs: Value = ron::from_str(&text).map_err(|e| TestCaseError::fail(format!("{e} in {text}")))?;
        prop_assert_eq!(plain(as_value(&ours)), plain(theirs), "{}", text);
    }

    #[test]
    fn space_and_comments_make_no_difference(tree in tree(), spaces in prop::collection::vec(0..5_usize, 1..40)) {
        let text = write_tree(&tree);
        // Between tokens of the writer's own layout, never inside a text.
        let mut spaced = String::new();
        let (mut quoted, mut escaped, mut i) = (None, false, 0);
        for c in text.chars() {
            spaced.push(c);
            match quoted {
                Some(_) if escaped => escaped = false,
                Some(_) if c == '\\' => escaped = true,
                Some(open) if c == open => quoted = None,
                None if matches!(c, '"' | '\'') => quoted = Some(c),
                None if matches!(c, '(' | '[' | '{' | ',' | ':') => {
                    spaced.push_str(["", " ", "\n\t", "// a \"( b\n", "/* /* , */ ) */"][spaces[i % spaces.len()]]);
                    i += 1;
                }
                _ => {}
            }
        }
        let ours = read_tree(&spaced).map_err(|(place, kind)| TestCaseError::fail(format!("{place:?} {kind:?} in {spaced}")))?;
        prop_assert_eq!(bare(&ours), tree.node());
        prop_assert!(ron::from_str::<Value>(&spaced).is_ok(), "{}", spaced);
    }

    #[test]
    fn what_one_refuses_the_other_refuses(tokens in prop::collection::vec(0..TOKENS.len(), 1..12)) {
        let text = tokens.into_iter().map(|i| TOKENS[i]).collect::<Vec<_>>().join(" ");
        let (ours, theirs) = (read_tree(&text), ron::from_str::<Value>(&text));
        prop_assert_eq!(ours.is_ok(), theirs.is_ok(), "{}: {:?} {:?}", text, ours, theirs);
        if let (Ok(ours), Ok(theirs)) = (ours, theirs) {
            prop_assert_eq!(plain(as_value(&ours)), plain(theirs), "{}", text);
        }
    }
}

const TOKENS: &[&str] = &["(", ")", "[", "]", "{", "}", ",", ":", "a", "b", "1", "-2.5", "\"x\"", "true", "/* c */"];

/// Every RON file of the project below a folder of it.
fn documents(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            documents(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "ron") {
            found.push(path);
        }
    }
}

#[test]
fn every_document_of_the_project_reads_as_the_crate_reads_it() {
    let project = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let mut found = Vec::new();
    for folder in ["assets", "scenes", "scene-core/src", "tests"] {
        documents(&project.join(folder), &mut found);
    }
    // Examples, machines, the template, the scene with every field, the job with its own catalogs.
    for of in ["scenes", "assets/cranes", "assets/bucket_trucks", "scene", "tests", "own_catalogs"] {
        assert!(found.iter().any(|path| path.parent().is_some_and(|folder| folder.ends_with(of))), "{of}");
    }
    for path in found {
        let text = std::fs::read_to_string(&path).unwrap();
        let theirs: Value = ron::from_str(&text).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
        assert_eq!(plain(as_value(&read_tree(&text).unwrap())), plain(theirs), "{}", path.display());
    }
}

#[test]
fn numbers_and_texts_read_as_the_crate_reads_them() {
    for text in [
        "1",
        "-1",
        "+1",
        "0x1F",
        "-0x1F",
        "0b101",
        "0o17",
        "1_000",
        "1.5",
        "-1.5e3",
        "1e-3",
        ".5",
        "-.5",
        "5.",
        "inf",
        "-inf",
        r#""a\"\\\n\t\r\0\x41\u{e9}b""#,
        "r\"a\\n\"",
        "r#\"a\"b\"#",
        "r##\"a\"#b\"##",
        "'a'",
        "'\\''",
        "'\"'",
        "\"a\nb\"",
        "()",
        "Some(1)",
        "None",
        "Some((1, 2))",
        "#![enable(implicit_some)] 1",
        "#![enable(implicit_some, unwrap_newtypes)]\n[1,]",
        "{\"a\": 1, \"b\": [1, 2,],}",
        "(a: 1, b: (c: 2))",
        "Name(a: 1)",
        "Name(1, 2)",
    ] {
        let theirs: Value = ron::from_str(text).unwrap_or_else(|e| panic!("{text}: {e}"));
        let ours = read_tree(text).unwrap_or_else(|e| panic!("{text}: {e:?}"));
        assert_eq!(plain(as_value(&ours)), plain(theirs), "{text}");
    }
    for text in [
        "1 2",
        "[1 2]",
        "(a: 1 b: 2)",
        "\"\\q\"",
        "{1}",
        "(1, a: 2)",
        "'ab'",
        "''",
        "0x",
        "1e",
        "--1",
        "\"a",
        "r#\"a\"",
        "/* a",
        "@",
    ] {
        assert!(ron::from_str::<Value>(text).is_err(), "{text}");
        assert!(read_tree(text).is_err(), "{text}");
    }
}
