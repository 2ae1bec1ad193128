//! A scene with files beside it: what they say holds, and every fault names its file, line and field.

use super::*;
use crate::scene::{Scene, read, read_with};
use crate::site::{CoverMake, Shell};

const JOB: &str = include_str!("../../../../tests/own_catalogs/job.ron");
const CONDUCTORS: &str = include_str!("../../../../tests/own_catalogs/conductors.csv");
const WOOD_POLES: &str = include_str!("../../../../tests/own_catalogs/wood_poles.csv");
const COVERS: &str = include_str!("../../../../tests/own_catalogs/covers.csv");
const STANDING: &str = include_str!("../../../../tests/own_catalogs/standing.ron");
const CHART: &str = include_str!("../../../../tests/own_catalogs/chart/northfell_40.csv");

const FILES: [(&str, &str); 5] = [
    ("conductors.csv", CONDUCTORS),
    ("wood_poles.csv", WOOD_POLES),
    ("covers.csv", COVERS),
    ("chart/northfell_40.csv", CHART),
    ("standing.ron", STANDING),
];

/// The files, one of them changed.
fn beside(file: &str, from: &str, to: &str) -> Beside {
    let mut beside = Beside::default();
    for (name, text) in FILES {
        assert!(name != file || text.contains(from), "{from}");
        let text = if name == file { text.replacen(from, to, 1) } else { text.to_owned() };
        beside.put(name, Ok(text.into_bytes()));
    }
    beside
}

fn job() -> Scene {
    read_with("sorrel/job.ron", JOB, &beside("", "", "")).unwrap_or_else(|faults| panic!("{}", faults[0]))
}

/// Every fault, as a person reads it.
fn faults(scene: &str, file: &str, from: &str, to: &str) -> Vec<String> {
    let faults = read_with("sorrel/job.ron", scene, &beside(file, from, to)).err().unwrap_or_default();
    faults.iter().map(ToString::to_string).collect()
}

#[track_caller]
fn says(file: &str, from: &str, to: &str, expected: &str) {
    assert_eq!(faults(JOB, file, from, to), [expected], "{from} → {to}");
}

#[test]
fn what_stands_beside_the_scene_is_used() {
    let site = job().site().unwrap();
    let wire = &site.wires[1].conductor;
    assert_eq!(wire.name, "Sorrel reconductor");
    assert_eq!(wire.source, "invented: weighed on a bench, 12 ft cut, 3 May");
    assert!((wire.weight_n_per_m - 1.1 * 4.448_221_615_260_5 / 0.3048).abs() < 1e-9);
    let Shell::Wood { top_circumference_m, .. } = site.pole.shell else { panic!() };
    assert!((top_circumference_m - 23.0 * 0.0254).abs() < 1e-12);
    assert_eq!(site.covers[0].make, CoverMake::Own { max_phase_phase_v: 26_400, max_phase_ground_v: 15_300 });
    assert!(site.crane.chart.source.contains("chart/northfell_40.csv, outriggers full"));
}

#[test]
fn what_is_written_names_the_same_files() {
    let first = job();
    let again = read_with("sorrel/job.ron", &first.to_ron(), &beside("", "", "")).unwrap();
    assert_eq!(first, again);
    assert_eq!(first.site(), again.site());
}

#[test]
fn a_chart_in_a_file_reads_as_the_same_chart_in_the_machine() {
    let own = job().site().unwrap().crane.chart;
    let without = JOB.lines().filter(|line| !line.contains("chart: (file")).collect::<Vec<_>>().join("\n");
    let machine = read_with("job.ron", &without, &beside("", "", "")).unwrap().site().unwrap().crane.chart;
    assert_eq!(own.sectors, machine.sectors);
    assert_ne!(own.source, machine.source);
}

#[test]
fn a_chart_in_metres_and_kilograms_is_the_same_chart() {
    let text = "# source: s\noutriggers,sector,swing,radius_m,kg at 10 m,t at 20 m\n\
                full,round,0 deg to 360 deg,3,9000,-\nfull,round,0 deg to 360 deg,5.5,6000,5\n";
    let mut files = beside("", "", "");
    files.put("chart/northfell_40.csv", Ok(text.into()));
    let sector = &read_with("job.ron", JOB, &files).unwrap().site().unwrap().crane.chart.sectors[0];
    assert_eq!((sector.radii_m.as_slice(), sector.boom_lengths_m.as_slice()), (&[3.0, 5.5][..], &[10.0, 20.0][..]));
    assert_eq!(sector.rated_kg, [[Some(9000.0), None], [Some(6000.0), Some(5000.0)]]);
}

#[test]
fn half_extended_outriggers_read_their_own_rows() {
    let half = JOB.replace("outriggers: \"full\"", "outriggers: \"half\"");
    let chart = |text: &str| read_with("job.ron", text, &beside("", "", "")).unwrap().site().unwrap().crane.chart;
    let (full, half) = (chart(JOB), chart(&half));
    let cells = |chart: &crate::site::Chart| chart.sectors[0].rated_kg.concat();
    let less = |pair: (Option<f64>, Option<f64>)| pair.0.zip(pair.1).is_none_or(|(full, half)| half < full);
    assert!(cells(&full).into_iter().zip(cells(&half)).all(less));
}

#[test]
fn a_load_over_the_planners_own_chart_is_a_stop_and_a_place_it_does_not_print_is_one_too() {
    let codes = |scene: &str, files: &Beside| {
        let site = read_with("job.ron", scene, files).unwrap().site().unwrap();
        let stop = |f: &crate::finding::Finding| f.grade == crate::finding::Grade::Stop;
        crate::check::check(&site).findings.into_iter().filter(stop).map(|f| f.code()).collect::<Vec<_>>()
    };
    assert_eq!(codes(JOB, &beside("", "", "")), [] as [&str; 0]);
    let half = JOB.replace("outriggers: \"full\"", "outriggers: \"half\"");
    assert!(codes(&half, &beside("", "", "")).contains(&"over_rated_capacity"));
    // The boom is 60 ft: between 35 and 50 ft of radius the file prints nothing.
    let file = "chart/northfell_40.csv";
    let blank = beside(file, "35,-,17900,17300,14000", "35,-,-,17300,14000");
    assert!(codes(JOB, &blank).contains(&"outside_chart"), "{:?}", codes(JOB, &blank));
}

#[test]
fn a_name_that_leaves_the_scenes_folder_is_a_fault_and_is_never_asked_for() {
    for name in
        ["../conductors.csv", "/etc/conductors.csv", "a/../../b.csv", "a\\\\b.csv", "C:b.csv", "./b.csv", "a//b.csv"]
    {
        let scene = JOB.replace("conductors: \"conductors.csv\"", &format!("conductors: \"{name}\""));
        assert!(!names(scene.as_bytes()).iter().any(|asked| asked.contains("b.csv") || asked.contains("..")), "{name}");
        let found = faults(&scene, "", "", "");
        assert!(
            found[0].starts_with("sorrel/job.ron:") && found[0].contains(": catalogs.conductors: found "),
            "{found:?}"
        );
        assert!(found[0].contains("a file in the scene's folder") && found.len() == 1, "{found:?}");
    }
}

#[test]
fn the_files_that_a_scene_wants_are_told_before_it_is_read() {
    let mut wanted = names(JOB.as_bytes());
    wanted.sort();
    assert_eq!(wanted, ["chart/northfell_40.csv", "conductors.csv", "covers.csv", "standing.ron", "wood_poles.csv"]);
    assert!(names(b"(format: 1").is_empty() && names(&[0xff]).is_empty());
}

#[test]
fn a_file_that_is_not_there_is_a_fault_at_the_field_that_names_it() {
    let faults = read("job.ron", JOB).unwrap_err();
    let said: Vec<_> = faults.iter().map(|fault| fault.path.as_str()).collect();
    let catalogs = ["catalogs.conductors", "catalogs.wood_poles", "catalogs.covers"];
    assert_eq!(said, [&["basis.standing"], &catalogs[..], &["crane.chart.file"]].concat());
    let mut files = beside("", "", "");
    files.put("covers.csv", Err("there is no such file".into()));
    let faults = read_with("job.ron", JOB, &files).unwrap_err();
    assert_eq!(faults.len(), 1);
    assert!(faults[0].to_string().contains("found \"covers.csv\", but there is no such file"), "{}", faults[0]);
}

#[test]
fn a_name_that_stands_twice_is_an_error_that_names_both() {
    let row = "Sorrel reconductor,AAC,1.108,1100,,x\n";
    says(
        "conductors.csv",
        "Sorrel reconductor,",
        &format!("{row}Sorrel reconductor,"),
        "sorrel/conductors.csv:4:1: found the conductor \"Sorrel reconductor\" again; expected a name of its own for each\n    \
         help: the first one stands in line 3",
    );
    says(
        "conductors.csv",
        "Sorrel reconductor,",
        "Raven,AAC,1,100,,x\nSorrel reconductor,",
        "sorrel/conductors.csv:3:1: found the conductor \"Raven\" in the program's conductors.csv too; expected a name that \
         stands in one of them only",
    );
    says(
        "wood_poles.csv",
        "45,Sorrel 3,",
        "45,3,23,38,x\n45,Sorrel 3,",
        "sorrel/wood_poles.csv:3:1: found the pole \"45 ft class 3\" in the program's wood_poles.csv too; expected a name that \
         stands in one of them only",
    );
    says(
        "covers.csv",
        "hardshell 25,",
        "4,36,20,40,x\nhardshell 25,",
        "sorrel/covers.csv:3:1: found the cover class \"4\" in the program's cover_rubber.csv too; expected a name that stands \
         in one of them only",
    );
}

#[test]
fn a_row_without_its_source_is_a_fault() {
    says(
        "conductors.csv",
        "\"invented: weighed on a bench, 12 ft cut, 3 May\"",
        "",
        "sorrel/conductors.csv:3:36: source: found an empty text; expected some words",
    );
    let found = faults(JOB, "wood_poles.csv", ",source", ",origin");
    assert!(found[0].contains("a catalog of wood poles without source; expected the field source"), "{found:?}");
    assert!(found[1].contains("unknown field origin"), "{found:?}");
    let found = faults(JOB, "chart/northfell_40.csv", "# source: ", "# ");
    assert!(found[0].contains("a chart without its source"), "{found:?}");
}

#[test]
fn what_cannot_be_meant_is_a_fault_at_its_cell() {
    let chart = "chart/northfell_40.csv";
    let cases = [
        (
            "conductors.csv",
            "1.108",
            "0",
            "conductors.csv:3:24: diameter_in: found \"0\"; expected a number from 0.05 to 4",
        ),
        (
            "conductors.csv",
            "1100",
            "NaN",
            "3:30: weight_lb_per_1000ft: found \"NaN\"; expected a number from 5 to 10000",
        ),
        ("conductors.csv", "1100", "", "3:30: weight_lb_per_1000ft: found an empty cell"),
        ("conductors.csv", "3 May\"", "3 May", "3:36: found a quote that does not end in its line"),
        ("wood_poles.csv", "23.0,", "43.0,", "found 43 in at the top; expected no more than the 37.5 in at 6 ft"),
        ("wood_poles.csv", "23.0,37.5,", "23.0,", "found 4 cells; expected 5, one under each head"),
        ("covers.csv", "15.3", "27", "found 27 kV to ground; expected no more than the 26.4 kV between phases"),
        ("covers.csv", ",24,", ",15,", "proof_kv: found a proof no higher than the use"),
        (chart, "10,80000", "10,eighty", "lb at 35 ft: found \"eighty lb\"; expected a number before the unit"),
        (chart, "10,80000", "10,", "lb at 35 ft: found an empty cell; expected a capacity, or - outside the chart"),
        (chart, "12,70000", "9,70000", ":4:44: radius_ft: found \"9 ft\"; expected more than \"10 ft\" before it"),
        (chart, "lb at 60 ft", "lb at 30 ft", "found \"30 ft\"; expected more than \"35 ft\" before it"),
        (chart, "lb at 60 ft", "stone at 60 ft", "found \"stone at 60 ft\"; expected a mass"),
        (chart, "radius_ft", "radius", "found the unknown field radius"),
        (
            chart,
            "over sides and rear,30 deg to 330 deg,12",
            "over sides and rear,30 deg to 300 deg,12",
            "as in the sector's first row",
        ),
    ];
    for (file, from, to, says) in cases {
        let found = faults(JOB, file, from, to);
        assert!(found.iter().any(|fault| fault.contains(says)), "{file} {from} → {to}: {found:?}");
        assert!(found.iter().all(|fault| fault.starts_with(&format!("sorrel/{file}:"))), "{found:?}");
    }
}

#[test]
fn outriggers_that_the_file_does_not_have_are_a_fault_in_the_scene() {
    let scene = JOB.replace("outriggers: \"full\"", "outriggers: \"fully out\"");
    let found = faults(&scene, "", "", "");
    assert_eq!(found.len(), 1);
    assert!(
        found[0].contains("crane.chart.outriggers: found \"fully out\"") && found[0].contains("\"full\", \"half\"")
    );
}

#[test]
fn a_composite_conductor_without_its_core_is_not_taken_for_one_metal() {
    let line = "Sorrel reconductor,AAC,1.108,1100,,";
    let figures = |kind: &str, expansion: &str| {
        let text = format!(
            "code_word,type,diameter_in,weight_lb_per_1000ft,expansion_1e-6_per_f,source\nSorrel reconductor,{kind},1,900,{expansion},x\n"
        );
        let mut files = beside("conductors.csv", line, line);
        files.put("conductors.csv", Ok(text.into_bytes()));
        read_with("job.ron", JOB, &files).unwrap().site().unwrap().wires[1].conductor.metal
    };
    assert!(figures("ACSR", "10.5").is_none() && figures("", "10.5").is_none() && figures("AAC", "").is_none());
    assert!(figures("AAC", "12.8").is_some());
}

mod hostile {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]
        #[test]
        fn no_file_beside_a_scene_makes_it_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400), which in 0..4_usize) {
            let mut files = beside("", "", "");
            files.put(FILES[which].0, Ok(bytes));
            let _ = read_with("job.ron", JOB, &files);
        }

        #[test]
        fn a_table_with_anything_in_a_cell_is_used_or_refused(cell in "[ -~]{0,12}", at in 0..400_usize, which in 0..4_usize) {
            let (name, text) = FILES[which];
            let commas: Vec<usize> = text.match_indices(',').map(|(i, _)| i).collect();
            let at = commas[at % commas.len()] + 1;
            let end = text[at..].find([',', '\n']).map_or(text.len(), |end| at + end);
            let mut files = beside("", "", "");
            files.put(name, Ok(format!("{}{cell}{}", &text[..at], &text[end..]).into_bytes()));
            if let Ok(scene) = read_with("job.ron", JOB, &files) {
                prop_assert!(scene.site().is_ok());
            }
        }
    }
}

#[test]
fn the_employers_standing_answers_are_read_and_their_faults_name_their_file() {
    let site = job().site().unwrap();
    let standing = site.basis.standing.as_ref().unwrap();
    assert_eq!((standing.employer.as_str(), standing.file.as_str()), ("Pasture Line Cooperative", "standing.ron"));
    assert_eq!(standing.answers[2].item, "first_aid");
    assert_eq!(standing.answers[2].valid_until.unwrap().to_string(), "2026-12-31");
    let file = "standing.ron";
    says(
        file,
        "\"2028-12-31\"",
        "\"2028-02-30\"",
        "sorrel/standing.ron:6:64: answers[\"arc_clothing\"].valid_until: found \"2028-02-30\"; expected a day as \
         \"2026-03-04\": year, month, day",
    );
    says(
        file,
        "  employer: \"Pasture Line Cooperative\",\n",
        "",
        "sorrel/standing.ron:2:1: found the employer's standing answers without employer; expected the field employer",
    );
    let broken = faults(JOB, file, "answers: {", "answers: [");
    assert!(broken.len() == 1 && broken[0].starts_with("sorrel/standing.ron:"), "{broken:?}");
    let away = JOB.replace("\"standing.ron\"", "\"../standing.ron\"");
    assert!(faults(&away, "", "", "")[0].contains("a file in the scene's folder"));
}
