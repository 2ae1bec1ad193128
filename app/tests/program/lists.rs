//! Questions that need no scene: what one pole weighs, and what can be named.

use super::Bench;

const LISTS: [&str; 10] =
    ["conductors", "poles", "species", "depths", "soils", "covers", "cranes", "derricks", "bucket_trucks", "units"];

#[track_caller]
fn out(arguments: &[&str]) -> String {
    let run = Bench::new().run(arguments);
    assert_eq!((run.status, run.err.as_str()), (0, ""), "{arguments:?}");
    run.out
}

#[track_caller]
fn refused(arguments: &[&str]) -> String {
    let run = Bench::new().run(arguments);
    assert_eq!((run.status, run.out.as_str()), (2, ""), "{arguments:?}");
    run.err
}

#[test]
fn every_list_has_rows_and_a_source_in_each_system_of_units() {
    for what in LISTS {
        let [us, si] = ["us", "si"].map(|units| out(&["list", what, "--units", units]));
        assert_eq!(us, out(&["list", what]), "{what}");
        assert!(us.lines().count() > 5 && us.to_lowercase().contains("source"), "{us}");
        assert!(us.lines().chain(si.lines()).all(|line| line.chars().count() <= 130), "{what}");
        if what != "units" {
            let numbers = |text: &str, unit: &str| text.split_whitespace().filter(|word| *word == unit).count();
            assert_eq!(numbers(&us, "kg") + numbers(&us, "kN") + numbers(&us, "mm"), 0, "{us}");
            assert_eq!(numbers(&si, "lb") + numbers(&si, "lbf"), 0, "{si}");
        }
    }
    assert!(out(&["list", "conductors"]).contains("Raven") && out(&["list", "derricks"]).contains("Brackmoor 47"));
}

#[test]
fn a_list_that_there_is_not_is_refused_with_those_that_there_are() {
    let said = refused(&["list", "conductor"]);
    assert!(said.contains("conductors") && LISTS.iter().all(|what| said.contains(what)), "{said}");
    refused(&["list"]);
    let help = out(&["list", "--help"]);
    assert!(LISTS.iter().all(|what| help.contains(what)), "{help}");
}

// source: published treated weight of a 45 ft class 3 Southern yellow pine, 1505 lb, of Douglas-fir 1228 lb, wood_pole_weight.csv; verified
#[test]
fn a_45_3_weighs_what_suppliers_publish_within_its_range() {
    for (species, published) in [("southern pine", 1505.0), ("Douglas fir", 1228.0)] {
        let text = out(&["pole", "45", "3", species]);
        let line = text.lines().find(|line| line.trim_start().starts_with("weight")).unwrap();
        let pounds: Vec<f64> = line.split_whitespace().filter_map(|word| word.parse().ok()).collect();
        assert!(pounds.len() == 2 && pounds[0] < published && published < pounds[1], "{line}");
    }
}

#[test]
fn a_pole_is_asked_for_as_a_crew_says_it() {
    let plain = out(&["pole", "45", "3", "southern pine"]);
    for arguments in [["pole", "45'", "3", "SYP"], ["pole", "45 ft", "class 3", "southern yellow pine"]] {
        let lines = |text: &str| text.lines().skip(1).map(str::to_owned).collect::<Vec<_>>();
        assert_eq!(lines(&out(&arguments)), lines(&plain), "{arguments:?}");
    }
    let ticket = out(&["pole", "45", "3", "southern pine", "--weighs", "1250 lb"]);
    assert!(ticket.contains("1250 lb by its ticket") && !ticket.to_lowercase().contains("safe"), "{ticket}");
    let si = out(&["pole", "45", "3", "southern pine", "--units", "si"]);
    assert!(si.contains(" kg") && !si.contains(" lb"), "{si}");
}

#[test]
fn a_pole_that_there_is_not_is_refused_with_those_that_there_are() {
    assert!(refused(&["pole", "47", "3", "southern pine"]).contains("45 ft"));
    assert!(refused(&["pole", "45", "33", "southern pine"]).contains("45 ft class 3"));
    assert!(refused(&["pole", "45", "3", "oak"]).contains("western red cedar"));
    assert!(refused(&["pole", "45 kg", "3", "cedar"]).contains("a length"));
    for weight in ["1250", "-5 lb", "0 lb", "NaN lb", "5 ft", ""] {
        let weight = format!("--weighs={weight}");
        refused(&["pole", "45", "3", "cedar", &weight]);
    }
    refused(&["pole", "45", "3", "cedar", "--oversize", "90 %"]);
    refused(&["pole", "", "3", "cedar"]);
    refused(&["pole", "45", "3"]);
}
