//! A scene text may hold anything: the reader answers with a scene or with faults, soon, and never stops the program.

use scene_core::scene::reader::{LARGEST, read_tree};
use scene_core::scene::tree::{Field, Node, Place, Tree};
use scene_core::scene::writer::write_tree;
use scene_core::scene::{self, Fault};
use std::time::{Duration, Instant};

const EVERYTHING: &str = include_str!("../scene-core/src/scene/tests/everything.ron");

/// Every text there is to start from: the template, the scene with every field, and the examples.
fn scenes() -> Vec<String> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../scenes");
    let mut texts = vec![scene::template().to_owned(), EVERYTHING.to_owned()];
    for entry in std::fs::read_dir(folder).into_iter().flatten().flatten() {
        if entry.path().extension().is_some_and(|ext| ext == "ron") {
            texts.push(std::fs::read_to_string(entry.path()).unwrap());
        }
    }
    texts
}

/// Reads, and when it can be used, builds the site: whose numbers are all finite.
#[track_caller]
fn answer(bytes: &[u8]) -> Result<(), Vec<Fault>> {
    let started = Instant::now();
    let site = scene::read_bytes("hostile.ron", bytes).and_then(|scene| scene.site());
    assert!(started.elapsed() < Duration::from_secs(10), "took {:?}", started.elapsed());
    match site {
        Ok(site) => {
            let shown = format!("{site:?}");
            let mut words = shown.split(|c: char| !c.is_ascii_alphanumeric());
            assert!(!words.any(|word| matches!(word, "NaN" | "inf")), "{shown}");
            Ok(())
        }
        Err(faults) => {
            assert!(!faults.is_empty() && faults.len() <= 101);
            for fault in &faults {
                let shown = fault.to_string();
                assert!(shown.starts_with("hostile.ron") && shown.contains("; expected "), "{shown}");
                assert!(shown.len() < 4000, "{shown}");
            }
            Err(faults)
        }
    }
}

#[test]
fn the_scenes_themselves_can_be_used() {
    for text in scenes() {
        if let Err(faults) = answer(text.as_bytes()) {
            panic!("{}", faults[0]);
        }
    }
}

#[test]
fn a_scene_cut_off_anywhere_is_refused() {
    for text in scenes() {
        let whole = text.trim_end().len();
        for end in (0..whole).step_by(11).chain(whole.saturating_sub(20)..whole) {
            assert!(answer(&text.as_bytes()[..end]).is_err(), "cut at byte {end}");
        }
    }
}

#[test]
fn a_scene_with_a_byte_changed_is_answered() {
    let text = scene::template().as_bytes();
    for (i, strange) in
        (0..text.len()).step_by(7).zip([0_u8, 0xff, b'(', b')', b'"', b'\\', b'-', b',', b'/'].iter().cycle())
    {
        let mut bytes = text.to_vec();
        bytes[i] = *strange;
        let _ = answer(&bytes);
    }
}

#[test]
fn what_is_no_scene_at_all_is_refused() {
    let noise: Vec<u8> = (0..200_000_u32).map(|i| (i.wrapping_mul(2_654_435_761) >> 13) as u8).collect();
    let long_name = format!("({}: 1)", "a".repeat(500_000));
    let long_text = format!("(name: \"{}\")", "a".repeat(1_000_000));
    let refused: Vec<Vec<u8>> = vec![
        vec![],
        vec![0; 10_000],
        noise,
        vec![b' '; 100 << 20],
        vec![b'('; 100 << 20],
        vec![b'('; LARGEST],
        b"[".repeat(LARGEST),
        b"{1:".repeat(LARGEST / 3),
        b"a(".repeat(LARGEST / 2),
        b"Some(".repeat(LARGEST / 5),
        b"/*".repeat(LARGEST / 2),
        b"//\n".repeat(LARGEST / 3),
        b"r#".repeat(LARGEST / 2),
        [b"r".as_slice(), &b"#".repeat(LARGEST - 2), b"\""].concat(),
        b"(a:1,b:(".repeat(LARGEST / 8),
        [b"[".as_slice(), &b"1,".repeat(LARGEST / 2 - 1), b"]"].concat(),
        [b"(".as_slice(), &b"a:1,".repeat(LARGEST / 4 - 1), b")"].concat(),
        [b"(wires:[".as_slice(), &b"1,".repeat(LARGEST / 2 - 10), b"])"].concat(),
        [b"(wires:[".as_slice(), &b"(points:[1,1,1,1,1,1,1,1,1,1]),".repeat(LARGEST / 32), b"])"].concat(),
        [b"(basis:(arranged:{".as_slice(), &b"\"\":1,".repeat(LARGEST / 6), b"}))"].concat(),
        [b"(steps:[".as_slice(), &b"(name:\"a\",do:upend),".repeat(1990), b"])"].concat(),
        long_name.into_bytes(),
        long_text.into_bytes(),
        b"(format: 99999999999999999999999)".to_vec(),
        b"(format: NaN)".to_vec(),
        b"\xef\xbb\xbf(format: 1)".to_vec(),
        b"#![enable(implicit_some)]".to_vec(),
        b"()".to_vec(),
        b"name".to_vec(),
    ];
    for bytes in refused {
        assert!(answer(&bytes).is_err(), "{:?}", String::from_utf8_lossy(&bytes[..bytes.len().min(40)]));
    }
}

/// The ways from the root of a tree to each of its nodes; of the many cells of a load chart, one in five.
fn ways(root: &Node) -> Vec<Vec<usize>> {
    let mut all = all_ways(root);
    all.retain(|way| !in_chart(root, way) || way.iter().sum::<usize>() % 5 == 0);
    all
}

fn all_ways(node: &Node) -> Vec<Vec<usize>> {
    let mut all = vec![vec![]];
    for (i, child) in children(node).into_iter().enumerate() {
        all.extend(all_ways(child).into_iter().map(|way| [vec![i], way].concat()));
    }
    all
}

fn children(node: &Node) -> Vec<&Node> {
    match &node.tree {
        Tree::List(items) | Tree::Tuple { items, .. } => items.iter().collect(),
        Tree::Struct { fields, .. } => fields.iter().map(|field| &field.value).collect(),
        Tree::Map(pairs) => pairs.iter().map(|(_, value)| value).collect(),
        _ => vec![],
    }
}

fn child(node: &mut Node, i: usize) -> &mut Node {
    match &mut node.tree {
        Tree::List(items) | Tree::Tuple { items, .. } => &mut items[i],
        Tree::Struct { fields, .. } => &mut fields[i].value,
        Tree::Map(pairs) => &mut pairs[i].1,
        _ => panic!("no children"),
    }
}

fn at<'n>(root: &'n mut Node, way: &[usize]) -> &'n mut Node {
    way.iter().fold(root, |node, i| child(node, *i))
}

fn with(root: &Node, way: &[usize], tree: Tree) -> String {
    let mut root = root.clone();
    at(&mut root, way).tree = tree;
    write_tree(&root.tree)
}

fn text(text: &str) -> Tree {
    Tree::Text(text.to_owned())
}

/// Whether a text of the scene is a quantity or a range.
fn is_quantity(tree: &Tree) -> bool {
    let Tree::Text(text) = tree else { return false };
    text.starts_with(|c: char| c.is_ascii_digit() || c == '-') && text.contains(' ') && !text.contains(',')
}

/// Whether the way leads through a row of rated loads.
fn in_chart(root: &Node, way: &[usize]) -> bool {
    let mut node = root;
    for i in way {
        if let Tree::Struct { fields, .. } = &node.tree
            && fields[*i].name == "rated"
        {
            return true;
        }
        node = children(node)[*i];
    }
    false
}

#[test]
fn no_quantity_can_be_replaced_by_nonsense() {
    let root = read_tree(EVERYTHING).unwrap();
    let nonsense = [
        "",
        " ",
        "NaN ft",
        "inf ft",
        "-inf lb",
        "1e308 ft",
        "-1e308 deg",
        "1e999 kV",
        "900000 ft",
        "900000000000 lb",
        "12",
        "ft",
        "12 ft 6",
        "12 fathom",
        "1 kV ft",
        "--1 ft",
        "1 ft to",
        "2 ft to 1 ft",
        "-",
        "\u{0}",
        "1\u{a0}000\u{a0}ft",
    ];
    let mut replaced = 0;
    for (i, way) in ways(&root).into_iter().enumerate() {
        let mut copy = root.clone();
        if !is_quantity(&at(&mut copy, &way).tree) {
            continue;
        }
        // Half of them at each place, the other half at the next.
        for words in nonsense.into_iter().skip(i % 2).step_by(2) {
            // "-" in a chart is a cell outside of it: less capacity, which the capacity check takes into account.
            if words == "-" && in_chart(&root, &way) {
                continue;
            }
            let changed = with(&root, &way, text(words));
            assert!(answer(changed.as_bytes()).is_err(), "{words:?} at {way:?}");
            replaced += 1;
        }
        for tree in
            [Tree::Number("NaN".to_owned()), Tree::Number("12".to_owned()), Tree::Bool(true), Tree::List(vec![])]
        {
            assert!(answer(with(&root, &way, tree).as_bytes()).is_err(), "{way:?}");
            replaced += 1;
        }
    }
    assert!(replaced > 2500, "{replaced}");
}

#[test]
fn any_value_can_be_replaced_by_any_other() {
    let root = read_tree(EVERYTHING).unwrap();
    let deep = (0..20).fold(Tree::List(vec![]), |inner, _| Tree::List(vec![inner.node()]));
    let values = [
        Tree::Bool(false),
        Tree::Number("1e308".to_owned()),
        Tree::Number("NaN".to_owned()),
        Tree::Char('x'),
        text(""),
        text("-1 ft"),
        text("900000 ft"),
        text("0 ft"),
        Tree::Name("None".to_owned()),
        Tree::Name("hole".to_owned()),
        Tree::List(vec![]),
        Tree::Map(vec![]),
        Tree::Tuple { name: None, items: vec![] },
        Tree::Tuple { name: Some("phase".to_owned()), items: vec![text("A").node(), text("B").node()] },
        Tree::Struct { name: None, fields: vec![] },
        deep,
    ];
    // A third of the values at each place, another third at the next.
    for (i, way) in ways(&root).into_iter().enumerate() {
        for tree in values.iter().skip(i % 3).step_by(3) {
            let _ = answer(with(&root, &way, tree.clone()).as_bytes());
        }
    }
}

#[test]
fn fields_left_out_are_missed_unless_they_may_be() {
    let may_be_left_out = [
        "note",
        "about",
        "own_distance",
        "conductors",
        "rated_strength",
        "stiffness",
        "expansion",
        "core",
        "knee",
        "ice",
        "held_out",
        "holder_rating",
        "maker",
        "items",
        "unlocked_joints",
        "tag_line_hold",
        "covers",
        "combined",
        "terrain",
        "structures",
        "no_go",
        "by_hand",
        "stick",
        "load",
        "attached",
        "outriggers",
        "roads",
        "phases",
        "neutral",
        "measured",
        "sags",
        "heights",
        "spans",
        "stop_work_wind",
        "wind_limit",
        "shallow",
        "choke_angle",
        "choke_measured",
        "ramp",
        "floats",
        "job",
        "date",
        "number",
        "qualified_for",
        "live_machines",
        "covered",
        "insulated",
        "protected",
        "bond",
        "mats",
        "barricade",
        "grounded_to",
        "keeps_off",
        "standing",
        "blocking",
        "chart_limit",
        "leveling",
        "set_to",
    ];
    // Missed where an allowance is none, a cover or a held-out phase begins and ends; not where the ground's own words use them.
    // People are missed where one of them guides by hand.
    let in_one_place_only = [
        "reason", "starts", "ends", "people", "hands", "who", "when", "document", "how", "distance", "carrier",
        "ground",
    ];
    let mut wrong = std::collections::BTreeSet::new();
    // Words that are needed elsewhere: all of a pose but its wire, the rate of a control that the machine does not have.
    let of_a_pose = ["station", "from_point", "below", "left", "works_on", "elbow", "order"];
    each_field(|root, way, i, field| {
        let mut root = root.clone();
        let Tree::Struct { name, fields } = &mut at(&mut root, way).tree else { return };
        let pose = name.as_deref() == Some("bucket_to") && of_a_pose.contains(&field.name.as_str());
        let beside = |name: &str| fields.iter().any(|other| other.name == name);
        let not_there = field.name == "extend" && beside("slew");
        fields.remove(i);
        let left_out = answer(write_tree(&root.tree).as_bytes());
        // The scene's own conductor is missed by its wire.
        let may = may_be_left_out.contains(&field.name.as_str()) && field.name != "conductors";
        if !in_one_place_only.contains(&field.name.as_str()) && left_out.is_ok() != (may || pose || not_there) {
            wrong.insert(format!("{}: {}", field.name, if may || pose || not_there { "missed" } else { "not missed" }));
        }
    });
    assert!(wrong.is_empty(), "{wrong:?}");
}

#[test]
fn a_field_given_twice_is_refused() {
    each_field(|root, way, i, field| {
        let mut root = root.clone();
        let Tree::Struct { fields, .. } = &mut at(&mut root, way).tree else { return };
        fields.insert(i, field.clone());
        assert!(answer(write_tree(&root.tree).as_bytes()).is_err(), "{}", field.name);
    });
}

#[test]
fn a_field_that_nobody_knows_is_refused() {
    each_field(|root, way, i, _| {
        let mut root = root.clone();
        let Tree::Struct { fields, .. } = &mut at(&mut root, way).tree else { return };
        let place = Place::default();
        fields.insert(i, Field { place, name: "nobody_knows".to_owned(), value: text("1 ft").node() });
        assert!(answer(write_tree(&root.tree).as_bytes()).is_err());
    });
}

fn each_field(mut look: impl FnMut(&Node, &[usize], usize, &Field)) {
    let root = read_tree(EVERYTHING).unwrap();
    let mut looked = 0;
    for way in ways(&root) {
        let mut copy = root.clone();
        let Tree::Struct { fields, .. } = at(&mut copy, &way).tree.clone() else { continue };
        for (i, field) in fields.iter().enumerate() {
            look(&root, &way, i, field);
            looked += 1;
        }
    }
    assert!(looked > 300, "{looked}");
}
