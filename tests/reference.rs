//! `docs/scene.md` against the reader: every field with what it holds, its band and its meaning.
//!
//! `PLUMBRISE_APPROVE=1 cargo test --test reference` writes the page anew. A meaning stands in `docs/scene_fields.csv`, one row for
//! each field of each part.

use scene_core::catalog;
use scene_core::csv;
use scene_core::scene::beside::Beside;
use scene_core::scene::{ScenePart, reference, template};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

const EVERYTHING: &str = include_str!("../scene-core/src/scene/tests/everything.ron");
const OWN: &str = include_str!("own_catalogs/job.ron");

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// The examples, the scene that has everything, one with files of its own, and every machine of the catalog written out.
fn scenes() -> Vec<(String, Beside)> {
    let mut texts: Vec<String> = vec![EVERYTHING.to_owned(), template().to_owned()];
    let mut files: Vec<PathBuf> =
        fs::read_dir(root().join("scenes")).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    texts.extend(files.iter().map(|path| fs::read_to_string(path).unwrap()));
    for name in catalog::crane_names() {
        let (_, machine) = catalog::crane(name).unwrap();
        texts.push(
            template()
                .replace("model: \"Northfell 40\"", &format!("machine: {}", &machine[machine.find('(').unwrap()..])),
        );
    }
    for name in catalog::bucket_truck_names() {
        let (_, machine) = catalog::bucket_truck(name).unwrap();
        let truck = format!("bucket_truck: stands(machine: {}),\n  crane: (", &machine[machine.find('(').unwrap()..]);
        texts.push(template().replacen("crane: (", &truck, 1));
    }
    texts.push(several_trucks());
    let juniper = fs::read_to_string(root().join("scenes/01_juniper_lane.ron")).unwrap();
    let on_pole = "held_by: arm(on: pole(\"pole 7\"), from: (\"-150 ft\", \"0 ft\", \"30 ft\"), ";
    texts.push(juniper.replacen("held_by: arm(on: truck(\"road-side holding truck\"), ", on_pole, 1));
    let depth = "setting_depth: \"7 ft 6 in\", shallow: engineer(by: \"e\", document: \"d\", note: \"n\")";
    texts.push(template().replacen("setting_depth: \"7 ft 6 in\"", depth, 1));
    let said = "who: \"Ames\", when: \"2026-03-03\", document: \"d\", how: \"h\", distance: \"4 ft\"";
    let answers = format!(
        "standing: \"standing.ron\", arranged: {{ \"a\": arranged({said}), \"b\": does_not_apply(reason: nothing_put_on_them, {said}), \
         \"c\": exception(paragraph: \"p\", {said}), \"d\": no({said}), "
    );
    let answered = EVERYTHING.replacen("arranged: {", &answers, 1);
    texts.push(template().replacen(
        "shell: steel_tube(",
        "shell: wood_measured(top_circumference: \"23 in\", circumference_at_6_ft: \
        \"38 in\", density: \"50 lb/ft3 to 70 lb/ft3\", oversize: \"0 %\", note: \"n\"),\n    left_over: steel_tube(",
        1,
    ));
    let mut all: Vec<(String, Beside)> = texts.into_iter().map(|text| (text, Beside::default())).collect();
    let mut beside = Beside::default();
    for name in scene_core::scene::beside::names(OWN.as_bytes()) {
        beside.put(&name, fs::read(root().join("tests/own_catalogs").join(&name)).map_err(|why| why.to_string()));
    }
    all.push((OWN.to_owned(), beside));
    let answer = "(who: \"w\", when: \"2026-03-03\", document: \"d\", valid_until: \"2026-12-31\", how: \"h\")";
    let mut beside = Beside::default();
    beside.put("standing.ron", Ok(format!("(employer: \"e\", answers: {{ \"a\": {answer} }})").into_bytes()));
    all.push((answered, beside));
    all
}

fn several_trucks() -> String {
    let rates = "rates: (slew: \"3 deg/s\", lower: \"2 deg/s\", upper: \"3 deg/s\")";
    let truck = format!(
        "stands(name: \"one\", model: \"Tallis 46\", at: (\"0 ft\", \"30 ft\", \"0 ft\"), heading: \"90 deg\", method: gloves, {rates})"
    );
    let step = "(name: \"Bucket\", do: bucket_to(lift: \"one\", point: (\"0 ft\", \"10 ft\", \"20 ft\"))),";
    let text = template().replacen("crane: (", &format!("bucket_truck: several([{truck}]),\n  crane: ("), 1);
    text.replacen("steps: [", &format!("steps: [{step}"), 1)
}

fn parts() -> Vec<ScenePart> {
    let scenes = scenes();
    reference(scenes.iter().map(|(text, beside)| (text.as_str(), beside)))
}

fn meanings() -> BTreeMap<(String, String), String> {
    let text = fs::read_to_string(root().join("docs/scene_fields.csv")).unwrap();
    let table = csv::read(&text, 2000).unwrap();
    let mut meanings = BTreeMap::new();
    for row in &table.rows {
        let cell = |head| row.text(head).unwrap().to_owned();
        let before = meanings.insert((cell("part"), cell("field")), cell("meaning"));
        assert!(before.is_none(), "{} {} stands twice", cell("part"), cell("field"));
    }
    meanings
}

/// A remark for people, which means the same everywhere.
const NOTE: &str = "note";

fn page(parts: &[ScenePart], meanings: &BTreeMap<(String, String), String>) -> String {
    let mut page = String::from(
        "# The fields of a scene\n\n\
         The reader itself makes this page, with a meaning for each field from `scene_fields.csv`. A test holds it to the reader.\n\n\
         A quantity is a text with its unit, such as `\"12 ft 6 in\"` or `\"1.2 m\"`. Points are (east, north, up) from the site's\n\
         origin; bearings are clockwise from north; heights on the pole are from its butt. Every part may have a `note`, which is\n\
         kept and means nothing to the program. **Needed** fields must be there; the others may be left out.\n",
    );
    for part in parts {
        let mut paths: Vec<&str> = part.paths.iter().map(String::as_str).filter(|path| !path.is_empty()).collect();
        paths.sort_unstable();
        write!(page, "\n## {}\n\n", part.of).unwrap();
        if !paths.is_empty() {
            let stands: Vec<String> = paths.iter().map(|path| format!("`{path}`")).collect();
            write!(page, "Stands at {}.\n\n", stands.join(", ")).unwrap();
        }
        page.push_str("| field | needed | holds | meaning |\n|---|---|---|---|\n");
        for field in part.fields.iter().filter(|field| field.name != NOTE) {
            let meaning = meanings.get(&(part.of.to_owned(), field.name.to_owned())).map_or("", String::as_str);
            let holds = field.kinds.join("; ").replace("part: ", "");
            let needed = if field.is_needed { "needed" } else { "" };
            writeln!(page, "| `{}` | {needed} | {} | {meaning} |", field.name, holds.replace('|', "\\|")).unwrap();
        }
    }
    page
}

#[test]
fn the_page_of_fields_is_what_the_reader_asks_for() {
    let path = root().join("docs/scene.md");
    let made = page(&parts(), &meanings());
    if std::env::var_os("PLUMBRISE_APPROVE").is_some() {
        fs::write(&path, &made).unwrap();
    }
    let kept = fs::read_to_string(&path).unwrap_or_default();
    let differs = made.lines().zip(kept.lines()).find(|(made, kept)| made != kept);
    assert!(
        made == kept,
        "docs/scene.md is stale: {differs:?}. PLUMBRISE_APPROVE=1 cargo test --test reference writes it anew"
    );
}

#[test]
fn every_field_has_a_kind_and_a_meaning_and_every_meaning_its_field() {
    let (parts, meanings) = (parts(), meanings());
    let fields: Vec<_> = parts.iter().flat_map(|part| part.fields.iter().map(move |field| (part.of, field))).collect();
    let without_kind: Vec<_> = fields
        .iter()
        .filter(|(_, field)| field.kinds.is_empty() && field.name != NOTE)
        .map(|(of, f)| (of, f.name))
        .collect();
    assert!(without_kind.is_empty(), "no scene of the test has these: {without_kind:?}");
    let asked: BTreeSet<(String, String)> =
        fields.iter().filter(|(_, f)| f.name != NOTE).map(|(of, f)| ((*of).to_owned(), f.name.to_owned())).collect();
    let meant: BTreeSet<(String, String)> = meanings.keys().cloned().collect();
    let without_meaning: Vec<_> = asked.difference(&meant).collect();
    let without_field: Vec<_> = meant.difference(&asked).collect();
    assert!(without_meaning.is_empty() && without_field.is_empty(), "{without_meaning:?}\n{without_field:?}");
    assert!(meanings.values().all(|meaning| meaning.len() > 3), "a meaning says something");
}

/// Every part that the reader's code names is on the page: a part that no scene of the test has would be missing unseen.
#[test]
fn no_part_that_the_reader_knows_is_left_out() {
    let read: BTreeSet<&str> = parts().iter().map(|part| part.of).collect();
    let mut folders = vec![root().join("scene-core/src/scene")];
    let mut left_out = Vec::new();
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() && !path.ends_with("tests") {
                folders.push(path);
            } else if path.extension().is_some_and(|kind| kind == "rs") {
                let code = fs::read_to_string(&path).unwrap();
                let named =
                    code.split(".fields(\"").skip(1).filter_map(|rest| rest.split('"').next().map(str::to_owned));
                left_out.extend(named.filter(|of| !read.contains(of.as_str())));
            }
        }
    }
    assert!(left_out.is_empty(), "{left_out:?}");
}
