//! The fields of a digger derrick: used, written back, and each wrong value named.

use super::*;
use crate::site::Derrick;

const EXAMPLE: &str = include_str!("../../../../scenes/04_larch_bank.ron");

/// The example with its machine written out, so that every field of a derrick stands in the scene.
fn written_out() -> String {
    let (_, machine) = crate::catalog::crane("Brackmoor 47").unwrap();
    EXAMPLE.replace("model: \"Brackmoor 47\"", &format!("machine: {}", &machine[machine.find('(').unwrap()..]))
}

fn derrick(text: &str) -> Derrick {
    scene(text).site().unwrap().crane.derrick.unwrap()
}

#[test]
fn the_catalogs_derrick_is_the_same_written_out() {
    assert_eq!(scene(EXAMPLE).site().unwrap(), scene(&written_out()).site().unwrap());
    let derrick = derrick(EXAMPLE);
    close(derrick.guides.reach_m, 13.0 * 0.0254);
    close(derrick.guides.tilt.high(), 110_f64.to_radians());
    close(derrick.auger.flight_radius_m, 10.0 * 0.0254);
    close(derrick.auger.most_lean, 0.06);
    close(derrick.insulated_tip_m.unwrap(), 6.0 * 0.3048);
}

#[test]
fn what_is_written_of_a_derrick_says_what_was_read() {
    for text in [EXAMPLE.to_owned(), written_out(), written_out().replace("known(\"6 ft\")", "absent")] {
        let first = scene(&text);
        let again = scene(&first.to_ron());
        assert_eq!((&first, first.site()), (&again, again.site()));
    }
}

#[test]
fn a_tip_that_is_not_insulated_and_a_truck_crane_have_none() {
    assert_eq!(derrick(&written_out().replace("known(\"6 ft\")", "absent")).insulated_tip_m, None);
    assert_eq!(scene(template()).site().unwrap().crane.derrick, None);
    assert_eq!(scene(template()).site().unwrap().allowances.guide_play, None);
}

#[test]
fn digging_and_guides_say_how_deep_and_where() {
    let site = scene(EXAMPLE).site().unwrap();
    let dug = site.steps.iter().find_map(|step| match step.action {
        Action::Dig { depth_m } => Some(depth_m),
        _ => None,
    });
    let held = site.steps.iter().find_map(|step| match step.action {
        Action::IntoGuides { from_butt_m } => Some(from_butt_m),
        _ => None,
    });
    close(dug.unwrap(), 6.5 * 0.3048);
    close(held.unwrap(), 30.0 * 0.3048);
    close(site.allowances.guide_play.unwrap().value, 2.0 * 0.0254);
    close(site.allowances.guide_lean.unwrap().value, 0.1 / 12.0);
}

/// From, to, and the one fault's path and beginning.
#[rustfmt::skip]
const CASES: &[(&str, &str, &str, &str)] = &[
    ("      along: \"0 in\",\n      below", "      along: \"4 ft\",\n      below", "guides.along", "found \"4 ft\"; expected a length from -3 ft to 3 ft"),
    ("below: \"9 in\",\n      reach", "below: \"4 ft\",\n      reach", "guides.below", "found \"4 ft\"; expected a length from -3 ft to 3 ft"),
    ("reach: \"1 ft 1 in\"", "reach: \"6 ft\"", "guides.reach", "found \"6 ft\"; expected a length from 0 in to 5 ft"),
    ("catch: \"2 ft\"", "catch: \"-1 ft\"", "guides.catch", "found \"-1 ft\"; expected a length from 0 in to 5 ft"),
    ("width: \"2 ft 4 in\"", "width: \"11 ft\"", "guides.width", "found \"11 ft\"; expected a length from 6 in to 10 ft"),
    ("height: \"8 in\"", "height: \"6 ft\"", "guides.height", "found \"6 ft\"; expected a length from 1 in to 5 ft"),
    ("beyond: \"10 in\"", "beyond: \"0 in\"", "guides.beyond", "found \"0 in\"; expected a length from 1 in to 5 ft"),
    ("holds: \"6 in to 24 in\"", "holds: \"6 in to 60 in\"", "guides.holds", "found \"6 in to 60 in\"; expected a length from 2 in to 4 ft"),
    ("tilt: \"5 deg to 110 deg\"", "tilt: \"5 deg to 190 deg\"", "guides.tilt", "found \"5 deg to 190 deg\"; expected an angle from -30 deg to 180 deg"),
    ("along: \"20 ft\"", "along: \"2 ft\"", "auger.along", "found \"2 ft\"; expected a length from 3 ft to 60 ft"),
    ("below: \"14 in\"", "below: \"6 ft\"", "auger.below", "found \"6 ft\"; expected a length from -5 ft to 5 ft"),
    ("left: \"11 in\"", "left: \"6 ft\"", "auger.left", "found \"6 ft\"; expected a length from -5 ft to 5 ft"),
    ("length: \"15 ft 6 in\"", "length: \"41 ft\"", "auger.length", "found \"41 ft\"; expected a length from 3 ft to 40 ft"),
    ("length: \"15 ft 6 in\"", "length: \"4 ft\"", "auger.length", "found \"4 ft\"; expected more than \"4 ft 6 in\" before it"),
    ("flight_length: \"4 ft 6 in\"", "flight_length: \"6 in\"", "auger.flight_length", "found \"6 in\"; expected a length from 1 ft to 20 ft"),
    ("flight_diameter: \"20 in\"", "flight_diameter: \"7 ft\"", "auger.flight_diameter", "found \"7 ft\"; expected a length from 4 in to 6 ft"),
    ("flight_diameter: \"20 in\"", "flight_diameter: \"20\"", "auger.flight_diameter", "found \"20\"; expected a length"),
    ("bar_diameter: \"3 in\"", "bar_diameter: \"20 in\"", "auger.flight_diameter", "found \"20 in\"; expected more than \"20 in\" before it"),
    ("most_lean: \"6 %\"", "most_lean: \"60 %\"", "auger.most_lean", "found \"60 %\"; expected a"),
    ("known(\"6 ft\")", "known(\"60 ft\")", "insulated_tip", "found \"60 ft\"; expected a length from 6 in to 30 ft"),
    ("known(\"6 ft\")", "unknown", "insulated_tip", "found the word unknown; expected absent or known"),
];

#[test]
fn every_field_of_a_derrick_names_its_wrong_value() {
    let text = written_out();
    for (from, to, path, says) in CASES {
        let changed = text.replacen(from, to, 1);
        assert_ne!(changed, text, "{from}");
        let faults = match read("scene.ron", &changed) {
            Err(faults) => faults,
            Ok(scene) => scene.site().unwrap_err(),
        };
        let [fault] = &faults[..] else { panic!("{from}: {faults:?}") };
        assert_eq!(fault.path, format!("crane.machine.derrick.{path}"));
        assert!(fault.to_string().contains(says), "{fault}");
    }
}

#[test]
fn a_field_of_a_derrick_that_is_missing_is_named() {
    let text = written_out();
    let start = text.find("derrick: (").unwrap();
    let (_, gear) = text.split_at(start);
    let fields: Vec<&str> = gear
        .lines()
        .filter_map(|line| line.trim().split_once(": \"").map(|(name, _)| name))
        .take_while(|name| *name != "at")
        .collect();
    // Guides have nine, the auger eight.
    let fields = &fields[..17];
    for (i, field) in fields.iter().enumerate() {
        let line = gear.lines().filter(|line| line.trim().contains(": \"")).nth(i).unwrap();
        let changed = format!("{}{}", &text[..start], gear.replacen(&format!("{line}\n"), "", 1));
        let faults = read("scene.ron", &changed).unwrap_err();
        let says = format!("expected the field {field}");
        assert!(faults.iter().any(|fault| fault.to_string().contains(&says)), "{field}: {faults:?}");
    }
}

#[test]
fn steps_and_allowances_of_a_derrick_name_their_wrong_value() {
    for (from, to, says) in [
        ("dig(\"6 ft 6 in\")", "dig(\"30 ft\")", "steps[2].do: found \"30 ft\"; expected a length from 1 ft to 25 ft"),
        (
            "into_guides(\"30 ft\")",
            "into_guides(\"46 ft\")",
            "steps[14].do: found \"46 ft\"; expected a height on the pole",
        ),
        ("guide_play: (value: \"2 in\"", "guide_play: (value: \"0 in\"", "help: say in reason"),
        ("guide_play: (value: \"2 in\"", "guide_play: (value: \"40 ft\"", "expected a length from 0 in to 30 ft"),
        (
            "guide_lean: (value: \"0.1 in/ft\"",
            "guide_lean: (value: \"80 %\"",
            "allowances.guide_lean.value: found \"80 %\"",
        ),
        ("route: digger_derrick", "route: digger_derick", "did you mean digger_derrick?"),
    ] {
        let text = EXAMPLE.replacen(from, to, 1);
        assert_ne!(text, EXAMPLE, "{from}");
        // A zero has its reason here, until it is taken away.
        let text = if says.starts_with("help") {
            text.replacen(", reason: \"arms closed on the pole, seen on this machine\"", "", 1)
        } else {
            text
        };
        let faults = match read("scene.ron", &text) {
            Err(faults) => faults,
            Ok(scene) => scene.site().unwrap_err(),
        };
        assert!(faults.iter().any(|fault| fault.to_string().contains(says)), "{says}: {faults:?}");
    }
}
