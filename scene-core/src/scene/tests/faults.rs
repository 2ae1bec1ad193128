//! Every kind of fault, with the message that a person reads.

use super::super::*;
use super::EVERYTHING;
use crate::scene::reader::{DEEPEST, LARGEST};
use std::collections::BTreeSet;

/// A change to the scene with everything, and the one fault that it makes.
struct Case {
    change: (&'static str, &'static str),
    /// What stands at the place that the fault names.
    at: &'static str,
    /// The message without its file and place.
    says: &'static str,
}

const fn case(from: &'static str, to: &'static str, at: &'static str, says: &'static str) -> Case {
    Case { change: (from, to), at, says }
}

#[rustfmt::skip]
const CASES: &[Case] = &[
    // ---- files beside the scene
    case("  conductors: [", "  catalogs: (covers: \"../covers.csv\"),\n  conductors: [", "\"../covers.csv\"",
        "catalogs.covers: found \"../covers.csv\"; expected a file in the scene's folder, named from there without .. or \\"),
    case("  conductors: [", "  catalogs: (covers: \"covers.csv\"),\n  conductors: [", "\"covers.csv\"",
        "catalogs.covers: found \"covers.csv\", but it was not read; expected a file that can be read beside the scene"),
    // ---- form
    case("format: 1,", "format: 1", "name: \"Alder",
        "found 'name'; expected ',' or ')'"),
    // ---- fields
    case("format: 1", "format: 2", "2",
        "format: found the number 2; expected format 1\n    help: this scene was written for another version"),
    case("length: \"8 ft\",", "", "(\n    choker_from_butt",
        "rigging: found the rigging without length; expected the field length"),
    case("choker_face:", "chocker_face: \"0 deg\", choker_face:", "chocker_face",
        "rigging: found the unknown field chocker_face; expected a field of the rigging: choker_from_butt, choker_face, \
         length, diameter, mass, choker_capacity, choke_angle, choke_measured, material, stop_above_choke, tag_line_hold, note\n    \
         help: did you mean choker_face?"),
    case("choke_angle:", "choke_angle: \"120 deg\", choke_angle:", "choke_angle: \"130",
        "rigging: found the field choke_angle again; expected it once\n    help: the first one stands in line {choke_angle: \"120}"),
    // ---- values
    case("stop_above_choke: true", "stop_above_choke: \"yes\"", "\"yes\"",
        "rigging.stop_above_choke: found \"yes\"; expected true or false"),
    case("material: non_conductive", "material: nonconductive", "nonconductive",
        "rigging.material: found the word nonconductive; expected wire_rope or non_conductive\n    help: did you mean non_conductive?"),
    case("setting_depth: \"7 ft 6 in\"", "setting_depth: \"7.5\"", "\"7.5\"",
        "pole.setting_depth: found \"7.5\"; expected a length in ft, in, yd, m, cm or mm\n    help: a number needs its unit"),
    case("setting_depth: \"7 ft 6 in\"", "setting_depth: \"40 ft\"", "\"40 ft\"",
        "pole.setting_depth: found \"40 ft\"; expected a length from 2 ft to 25 ft"),
    case("source: \"micrometer and scale\"", "source: \" \"", "\" \"",
        "conductors[0].source: found an empty text; expected some words"),
    case("(name: \"still\", wind: \"0 mph\", note: \"n\"),\n    (name: \"breeze\", wind: \"12 mph\"),", "", "[\n    \n  ]",
        "weather: found 0 entries; expected at least 1"),
    // ---- names
    case("wire: \"C\"", "wire: \"CC\"", "\"CC\"",
        "held_out[0].wire: found \"CC\"; expected the name of a wire: \"A\", \"B\", \"C\", \"neutral\", \"strand\"\n    \
         help: did you mean \"C\"?"),
    case("conductor: \"Sparrow\",\n      points: [(\"-150 ft\", \"5 ft\"", "conductor: \"Sparow\",\n      points: [(\"-150 ft\", \"5 ft\"", "\"Sparow\"",
        "wires[3].conductor: found \"Sparow\"; expected a conductor of the catalog: \"Sparrow\", \"Swan\", \"Cairo\", \"Raven\", \"Quail\", \
         \"Pigeon\", \"Hawk\", \"Drake\" … (all: plumbrise list conductors)\n    help: did you mean \"Sparrow\"?"),
    case("conductor: \"Sparrow\"", "conductor: \"795 ACSR\"", "\"795 ACSR\"",
        "wires[3].conductor: found \"795 ACSR\", which may be several; expected one of \"Drake (795 26/7 ACSR)\"\n    help: name \
         it by the word before the brackets"),
    case("name: \"B\",", "name: \"A\",", "\"A\",\n      carries: phase(\"Alder 12\"),\n      conductor: \"Raven\",\n      points: [(\"-150 ft\", \"5 ft\"",
        "wires[1].name: found the wire \"A\" again; expected a name of its own for each\n    help: the first one stands in line {\"A\",\n      carries}"),
    case("at: (\"0 ft\", \"-38 ft\", \"0 ft\")", "model: \"Northfell 40\", at: (\"0 ft\", \"-38 ft\", \"0 ft\")", "(\n    machine",
        "crane: found both model and machine; expected one of them"),
    // ---- statements
    case("line_movement: (value: \"3 in\")", "line_movement: (value: \"0 in\")", "\"0 in\"),\n    note",
        "allowances.line_movement.value: found an allowance of zero without a reason; expected the reason why nothing is \
         allowed for\n    help: say in reason why it is zero"),
    case("listed([\"strand\"])", "absent(\"looked\")", "\"looked\"",
        "near.communication: found a statement of absence, and the wire \"strand\"; expected listed([ … ]) with its name"),
    case("listed([\"strand\"])", "listed([\"A\"])", "\"A\"]",
        "near.communication[0]: found \"A\"; expected a wire that carries communication"),
    // ---- geometry
    case("(\"20 ft\", \"8 ft\", \"38 ft\")", "(\"-150 ft\", \"8 ft\", \"38 ft\")", "(\"-150 ft\", \"8 ft\", \"38 ft\"), (\"150 ft\"",
        "wires[2].points[1]: found a span 0 in long in plan; expected at least 6 in"),
    case("hang: [tension(\"300 to 420 lbf\"), sag(\"1 ft to 1 ft 6 in\")]", "hang: [tension(\"300 to 420 lbf\"), sag(\"1 ft to 1 ft 6 in\")],\n      attached: [tied]", "[tied",
        "wires[2].attached: found 1 statement; expected one for each of the 3 points"),
    case("hang: [tension(\"300 to 420 lbf\"), sag(\"1 ft to 1 ft 6 in\")]", "hang: [tension(\"300 to 420 lbf\")]", "[tension",
        "wires[2].hang: found 1 statement; expected one for each of the 2 spans"),
    case("sag(\"1 ft to 1 ft 6 in\")", "sag(\"1 ft to 70 ft\")", "\"1 ft to 70 ft\"",
        "wires[2].hang[1]: found \"1 ft to 70 ft\"; expected a sag of at most half of the span, 65 ft"),
    case("sag: \"2 ft 6 in to 3 ft\",", "sag: \"2 ft 6 in to 3 ft\", tension: \"300 to 340 lbf\",", "strung(\n          sag",
        "wires[3].hang[0]: found both tension and sag; expected one of them"),
    case("sag: \"2 ft 6 in to 3 ft\",", "sag: \"2 ft 6 in to 160 ft\",", "\"2 ft 6 in to 160 ft\"",
        "wires[3].hang[0].sag: found \"2 ft 6 in to 160 ft\"; expected a sag of at most half of the span, 150 ft"),
    case("section([\"280 ft\", \"300 ft\"])", "section([\"280 ft\", \"310 ft\"])", "[\"280 ft\", \"310 ft\"]",
        "wires[3].hang[0].ruling: found a section without this span of 300 ft; expected every span of the section, this one too"),
    case("condition: initial(\"0 % to 0.05 %\")", "condition: initial(\"0 % to 2 %\")", "\"0 % to 2 %\"",
        "wires[3].hang[0].condition: found \"0 % to 2 %\"; expected a ratio from 0 % to 1 %"),
    case("condition: final", "condition: last", "last,",
        "wires[4].hang[0].condition: found the word last; expected final or initial"),
    case("knee: \"80 F\"", "knee: \"80 ft\"", "\"80 ft\"",
        "wires[3].hang[0].knee: found \"80 ft\"; expected a temperature in F, C or K\n    help: \"ft\" is a unit of a length"),
    case("today: \"60 F to 95 F\",\n          knee", "today: \"95 F to 60 F\",\n          knee", "\"95 F to 60 F\"",
        "wires[3].hang[0].today: found \"95 F to 60 F\"; expected the low end first\n    help: write \"60 F to 95 F\""),
    case("ice: (thickness: \"0 in to 0.1 in\", ", "ice: (", "(density",
        "wires[3].hang[0].ice: found the ice without thickness; expected the field thickness"),
    case("expansion: \"9.4e-6 /F\"", "expansion: \"9.4 /F\"", "\"9.4 /F\"",
        "conductors[0].expansion: found \"9.4 /F\"; expected an expansion per degree from 0.1e-6 /F to 20e-6 /F"),
    case("core: one_metal", "core: copper", "copper",
        "conductors[0].core: found the word copper; expected one_metal or core_of"),
    case("(radius: \"12 ft\", rated", "(radius: \"10 ft\", rated", "\"10 ft\", rated: [\"70000",
        "crane.machine.chart.sectors[0].rows[1].radius: found \"10 ft\"; expected more than \"10 ft\" before it"),
    case("rated: [\"80000 lb\", \"-\", \"-\", \"-\"]", "rated: [\"80000 lb\", \"-\", \"-\"]", "[\"80000",
        "crane.machine.chart.sectors[0].rows[0].rated: found 3 ratings; expected one for each of the 4 boom lengths"),
    case("top: \"8 in\"", "top: \"12 in\"", "\"12 in\"",
        "pole.shell.sections[1].top: found a top of \"12 in\"; expected no more than the bottom, \"11 5/8 in\""),
    case("top: \"8 in\", wall: \"3/16 in\"", "top: \"3 in\", wall: \"1 3/4 in\"", "\"1 3/4 in\"",
        "pole.shell.sections[1].wall: found a wall of \"1 3/4 in\"; expected less than half of the diameter, \"3 in\""),
    case("bottom: \"11 5/8 in\"", "bottom: \"10 in\"", "\"10 in\", top: \"8 in\"",
        "pole.shell.sections[1].bottom: found a bottom of \"10 in\"; expected more than the top of the section below, \
         \"11 in\", to slip over it"),
    case("length: \"27 ft\", bottom: \"11 5/8 in\", top: \"8 in\", wall: \"3/16 in\", lap: \"2 ft\"",
        "length: \"20 ft\", bottom: \"11 5/8 in\", top: \"8 in\", wall: \"3/16 in\", lap: \"20 ft\"", "\"20 ft\", note",
        "pole.shell.sections[1].lap: found a lap of \"20 ft\"; expected less than either section, \"20 ft\""),
    case("lap: \"0 in\"", "lap: \"1 ft\"", "\"1 ft\"),\n        (length",
        "pole.shell.sections[0].lap: found a lap of \"1 ft\"; expected \"0 ft\" for the butt section"),
    case("length: \"27 ft\"", "length: \"28 ft\"", "[\n        (length: \"30 ft\"",
        "pole.shell.sections: found sections that make 56 ft with their laps; expected the pole's length, \"55 ft\""),
    case("unlocked_joints: [\"29 ft\"]", "unlocked_joints: [\"56 ft\"]", "\"56 ft\"",
        "pole.unlocked_joints[0]: found \"56 ft\"; expected a height on the pole, 0 to \"55 ft\""),
    case("choker_from_butt: \"37 ft\"", "choker_from_butt: \"55 ft\"", "\"55 ft\",\n    choker_face",
        "rigging.choker_from_butt: found a choker at \"55 ft\"; expected a place below the tip, \"55 ft\"\n    \
         help: heights along the pole are measured from the butt"),
    case("station: \"2 ft\"", "station: \"151 ft\"", "\"151 ft\"",
        "held_out[0].station: found \"151 ft\"; expected a station on the wire, -150 ft to 150 ft"),
    case("setting_depth: \"7 ft 6 in\"", "setting_depth: \"8 ft\"", "\"8 ft\",\n    unlocked",
        "pole.setting_depth: found a setting depth of \"8 ft\"; expected no more than the hole's depth, \"7 ft 6 in\""),
    case("length: \"31 ft\", width: \"15 in\"", "length: \"25 ft\", width: \"15 in\"", "\"25 ft\", width",
        "crane.machine.sections[3].length: found section 4 that leaves the one before it; expected some of it inside at \
         every boom length"),
    case("tip_extended: \"110 ft\"", "tip_extended: \"109 ft\"", "\"109 ft\"",
        "crane.machine.sections[3].tip_extended: found \"109 ft\"; expected the high end of boom_length for the last section"),
    case("swing: \"1 deg/s\"", "swing: \"3 rpm\"", "\"3 rpm\"",
        "crane.rates.swing: found \"3 rpm\"; expected no more than the maker's \"12 deg/s\""),
    case("swing: \"0 deg to 360 deg\"", "swing: \"-10 deg to 360 deg\"", "\"-10 deg to 360 deg\"",
        "crane.machine.swing: found \"-10 deg to 360 deg\"; expected at most a whole circle"),
    case("tip_toward: (\"-80 ft\", \"-38 ft\", \"0 ft\")", "tip_toward: (\"-20 ft\", \"-38 ft\", \"0 ft\")", "(\"-20 ft\", \"-38 ft\", \"0 ft\"), boom_length",
        "steps[0].do.tip_toward: found the same point twice; expected two points apart in plan"),
    case("structures: listed([\"pole 2\", \"maple\"])", "structures: absent(\"looked\")", "\"looked\"",
        "near.structures: found a statement of absence, and the neighbour \"pole 2\"; expected listed([ … ]) with its name"),
    case("(\"-40 ft\", \"60 ft\", \"2 in\")", "(\"-40 ft\", \"-80 ft\", \"2 in\")", "(\"-40 ft\", \"-80 ft\", \"2 in\")",
        "terrain.spots[5]: found another height at a spot that has one; expected one height for each place\n    help: the \
         first one stands in line {(\"-40 ft\", \"-80 ft\", \"-2 in\")}"),
    case("      (\"-120 ft\", \"60 ft\", \"4 in\"), (\"-40 ft\", \"60 ft\", \"2 in\"), (\"40 ft\", \"60 ft\", \"1 in\"), (\"120 ft\", \"60 ft\", \"0 ft\"),\n", "", "[\n      (\"-120 ft\"",
        "terrain.spots: found points on one line; expected at least three that are not"),
    case("(\"-110 ft\", \"30 ft\"), (\"-60 ft\", \"30 ft\")", "(\"-60 ft\", \"30 ft\"), (\"-110 ft\", \"30 ft\")", "(\"-110 ft\", \"58 ft\")",
        "neighbours.no_go[0].corners[3]: found edge 4 across or along edge 2; expected corners in order around the area"),
    case("height: \"35 ft\", trunk", "height: \"9 ft\", trunk", "\"9 ft\", trunk",
        "neighbours.obstacles[0].shape.height: found \"9 ft\"; expected more than \"9 ft\" below it"),
    case("accuracy: \"2 in\"", "accuracy: \"0 in\"", "\"0 in\",\n    note",
        "terrain.accuracy: found \"0 in\"; expected a length from 0.1 in to 5 ft"),
    case("class(length: \"45 ft\", class: \"3\"", "class(length: \"45 ft\", class: \"33\"", "\"33\"",
        "neighbours.poles[0].girth.class: found \"45 ft class 33\"; expected a wood pole of the catalog: \"45 ft class H4\", \"45 ft \
         class H3\", \"45 ft class H2\", \"45 ft class H1\", \"45 ft class 1\", \"45 ft class 2\", \"45 ft class 3\", \"45 ft class \
         4\" … (all: plumbrise list poles)"),
    // ---- bucket truck
    case("from_tip: \"18 in to 15 ft\"", "from_tip: \"18 in to 24 ft\"", "\"18 in to 24 ft\"",
        "bucket_truck.machine.insulation.from_tip: found \"18 in to 24 ft\"; expected a stretch of the last section, measured \
         back from its tip"),
    case("upper: \"170 deg\"", "upper: \"180 deg\"", "\"180 deg\"",
        "bucket_truck.machine.stowed.upper: found \"180 deg\"; expected what the fold of the booms lets it be"),
    case("lower: \"2 deg\"", "lower: \"-2 deg\"", "\"-2 deg\"",
        "bucket_truck.machine.stowed.lower: found \"-2 deg\"; expected what the lower boom's angle lets it be"),
    case("length: \"23 ft to 23 ft\"", "length: \"20 ft to 23 ft\"", "\"23 ft\", tip_extended",
        "bucket_truck.machine.sections[0].tip_retracted: found \"23 ft\"; expected the end of length for the last section"),
    case("lower: \"4 deg/s\", upper", "upper", "(slew: \"6 deg/s\"",
        "bucket_truck.machine.rates: found the bucket truck's rates without lower; expected the field lower"),
    case("rates: (slew: \"3 deg/s\"", "rates: (slew: \"7 deg/s\"", "\"7 deg/s\"",
        "bucket_truck.rates.slew: found \"7 deg/s\"; expected no more than the maker's \"6 deg/s\""),
    case("point: (\"-6 ft\", \"18 ft\", \"20 ft\")", "wire: \"C\", point: (\"-6 ft\", \"18 ft\", \"20 ft\")", "bucket_to(wire: \"C\", point",
        "steps[2].do: found both wire and point; expected one of them"),
    case("works_on: \"C\"", "works_on: \"D\"", "\"D\"",
        "steps[1].do.works_on: found \"D\"; expected the name of a wire: \"A\", \"B\", \"C\", \"neutral\", \"strand\"\n    \
         help: did you mean \"A\"?"),
    case("from_point: 2", "from_point: 4", "4, below",
        "steps[1].do.from_point: found 4 entries; expected at most 3"),
    case("category: c", "category: d", "d, note",
        "bucket_truck.machine.insulation.category: found the word d; expected a, b or c\n    help: did you mean a?"),
    case("method: stick,\n    stick", "method: barehand,\n    stick", "barehand",
        "bucket_truck.method: found the word barehand; expected gloves or stick"),
    // ---- order
    case("starts: after(\"Cover up\"),\n      ends: before(\"Uncover\"),\n      note", "starts: after(\"Uncover\"),\n      ends: before(\"Cover up\"),\n      note", "\"Cover up\"),\n      note",
        "held_out[0].ends: found a start after \"Uncover\" and an end before \"Cover up\"; expected an end in a later step \
         than the start"),
    case("steps: [", "steps: [ (name: \"Early\", do: hold(\"Ready?\")),", "\"Ready?\"",
        "steps[0].do: found another action; expected start( … ) in the first step"),
];

/// The line in which a snippet of the text stands.
fn line_of(text: &str, snippet: &str) -> usize {
    let at = text.find(snippet).unwrap_or_else(|| panic!("{snippet} is not in the text"));
    1 + text[..at].matches('\n').count()
}

/// `{snippet}` in an expected message stands for the line that the snippet is in.
fn with_lines(says: &str, text: &str) -> String {
    match says.split_once('{') {
        Some((before, rest)) => format!("{before}{}", line_of(text, rest.trim_end_matches('}'))),
        None => says.to_owned(),
    }
}

fn at_place<'t>(text: &'t str, fault: &Fault) -> &'t str {
    let line_start: usize = text.split_inclusive('\n').take(fault.line as usize - 1).map(str::len).sum();
    let column = text[line_start..].char_indices().nth(fault.column as usize - 1).map_or(0, |(at, _)| at);
    &text[line_start + column..]
}

fn variant(kind: &FaultKind) -> String {
    format!("{kind:?}").chars().take_while(char::is_ascii_alphanumeric).collect()
}

#[test]
fn each_fault_names_its_place_what_was_found_and_what_is_allowed() {
    for Case { change: (from, to), at, says } in CASES {
        assert_eq!(EVERYTHING.matches(from).count().min(1), 1, "{from} is not in the scene");
        let text = EVERYTHING.replacen(from, to, 1);
        let faults = read("alder.ron", &text).expect_err(to);
        let Some(fault) = faults.iter().find(|fault| {
            fault.to_string() == format!("alder.ron:{}:{}: {}", fault.line, fault.column, with_lines(says, &text))
        }) else {
            let all: Vec<String> = faults.iter().map(ToString::to_string).collect();
            panic!("{}\n  is not among\n{}", with_lines(says, &text), all.join("\n"));
        };
        let found = at_place(&text, fault);
        assert!(found.starts_with(at), "{says}\n  is at {}, not {at}", &found[..found.len().min(40)]);
    }
}

/// Faults that are not a change to one field.
fn others() -> Vec<(Vec<Fault>, String)> {
    let start = "(name: \"Set up\", do: start(butt: (\"-20 ft\", \"-38 ft\", \"0 ft\"), tip_toward: (\"-80 ft\", \
                 \"-38 ft\", \"0 ft\"), boom_length: \"110 ft\"))";
    let again = EVERYTHING.replacen(start, &format!("{start}, {}", start.replace("Set up", "Again")), 1);
    let many =
        EVERYTHING.replacen("unlocked_joints: [", &format!("unlocked_joints: [{}", "\"29 ft\",".repeat(2000)), 1);
    let bad = EVERYTHING.replacen("unlocked_joints: [", &format!("unlocked_joints: [{}", "1,".repeat(200)), 1);
    let faults = |text: &str| read("alder.ron", text).unwrap_err();
    let line = |text: &str| line_of(text, "unlocked_joints");
    vec![
        (
            faults(&" ".repeat(LARGEST + 1)),
            "alder.ron:1:1: found 1048577 bytes or more; expected at most 1048576 bytes".to_owned(),
        ),
        (
            read_bytes("alder.ron", b"(a: \xff)").unwrap_err(),
            "alder.ron:1:5: found bytes that are not UTF-8 text, from byte 4; expected text".to_owned(),
        ),
        (
            faults(&"[".repeat(DEEPEST + 1)),
            "alder.ron:1:65: found brackets deeper than 64; expected at most 64 levels".to_owned(),
        ),
        (
            faults(&many),
            format!("alder.ron:{}:22: pole.unlocked_joints: found 2001 entries; expected at most 2000", line(&many)),
        ),
        (
            faults(&again),
            format!(
                "alder.ron:{}:155: steps[1].do: found start( … ) again; expected it in the first step only",
                line_of(&again, "\"Again\"")
            ),
        ),
        (
            of_own_catalog(),
            "own.csv:2:1: found the conductor \"Raven\" in the program's conductors.csv too; expected a name that stands in \
             one of them only"
                .to_owned(),
        ),
        (faults(&bad), "alder.ron: found 100 more faults; expected these mended first".to_owned()),
    ]
}

fn of_own_catalog() -> Vec<Fault> {
    let mut beside = beside::Beside::default();
    let table = "code_word,diameter_in,weight_lb_per_1000ft,source\nRaven,0.4,145,label\n";
    beside.put("own.csv", Ok(table.into()));
    let text = EVERYTHING.replacen("  conductors: [", "  catalogs: (conductors: \"own.csv\"),\n  conductors: [", 1);
    read_with("alder.ron", &text, &beside).unwrap_err()
}

#[test]
fn faults_of_the_whole_file_are_named_too() {
    for (faults, says) in others() {
        let all: Vec<String> = faults.iter().map(ToString::to_string).collect();
        assert!(all.contains(&says), "{says}\n  is not among\n{}", all.join("\n"));
    }
}

#[test]
fn no_kind_of_fault_is_without_its_case() {
    let source = include_str!("../fault.rs");
    let (_, list) = source.split_once("pub enum FaultKind {").unwrap();
    let (list, _) = list.split_once("\n}").unwrap();
    let kinds: BTreeSet<String> = list
        .lines()
        .filter_map(|line| line.strip_prefix("    "))
        .filter(|line| line.starts_with(|c: char| c.is_ascii_uppercase()))
        .map(|line| line.chars().take_while(char::is_ascii_alphanumeric).collect())
        .collect();
    let shown = |faults: Vec<Fault>, says: &str| {
        faults.iter().find(|fault| fault.to_string().contains(says)).map(|fault| variant(&fault.kind))
    };
    let changed = CASES.iter().filter_map(|Case { change: (from, to), says, .. }| {
        let text = EVERYTHING.replacen(from, to, 1);
        shown(read("alder.ron", &text).unwrap_err(), &with_lines(says, &text))
    });
    let seen: BTreeSet<String> =
        changed.chain(others().into_iter().filter_map(|(faults, says)| shown(faults, &says))).collect();
    assert_eq!(kinds, seen);
}

#[test]
fn a_text_of_many_faults_gives_the_first_hundred() {
    let text = EVERYTHING.replacen("unlocked_joints: [", &format!("unlocked_joints: [{}", "1,".repeat(200)), 1);
    assert_eq!(read("alder.ron", &text).unwrap_err().len(), 101);
}
