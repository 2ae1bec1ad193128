//! What the document as a whole does; each kind of fault has its case in `faults`.

mod derrick;
mod faults;

use super::*;
use crate::site::{Action, CoverOn, Hang, Shell, WireKind};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

const EVERYTHING: &str = include_str!("tests/everything.ron");

#[track_caller]
fn scene(text: &str) -> Scene {
    read("scene.ron", text).unwrap_or_else(|faults| panic!("{}", faults[0]))
}

#[track_caller]
fn close(found: f64, expected: f64) {
    assert!((found - expected).abs() < 1e-9, "{found} is not {expected}");
}

#[test]
fn the_template_can_be_used() {
    let site = scene(template()).site().unwrap();
    assert_eq!((site.wires.len(), site.crane.sections.len(), site.steps.len()), (4, 4, 16));
    assert_eq!(site.crane.name, "Northfell 40");
}

#[test]
fn every_field_there_is_can_be_used() {
    let site = scene(EVERYTHING).site().unwrap();
    assert!(matches!(site.wires[2].spans[0].hang, Hang::Tension { .. }));
    assert_eq!((site.held_out[0].wire, site.held_out[0].span), (2, 0));
    close(site.held_out[0].fraction, 152.0 / 170.0);
    assert_eq!(site.declared_absent.len(), 3);
    assert_eq!(site.wires[4].kind, WireKind::Communication);
}

#[test]
fn what_is_written_says_what_was_read_notes_included() {
    for text in [template(), EVERYTHING] {
        let first = scene(text);
        let again = scene(&first.to_ron());
        assert_eq!(first, again);
        assert_eq!(first.site(), again.site());
        assert_eq!(again.to_ron(), first.to_ron());
    }
    assert_eq!(EVERYTHING.matches("note:").count(), scene(EVERYTHING).to_ron().matches("note:").count());
}

#[test]
fn a_machine_of_the_scene_is_the_same_as_the_catalogs() {
    let (mut a, mut b) = (scene(template()).site().unwrap().crane, scene(EVERYTHING).site().unwrap().crane);
    a.outriggers = None;
    assert_eq!(b.outriggers.take().map(|outriggers| outriggers.boom_centre_m[0]), Some(16.0 * 0.3048));
    assert_eq!(a, b);
}

#[test]
fn every_machine_of_the_catalog_can_be_used_and_says_that_it_is_invented() {
    for name in crate::catalog::crane_names() {
        let (_, text) = crate::catalog::crane(name).unwrap();
        assert!(text.contains("source: \"invented for the examples, not a real machine\""));
        // As a machine of a scene it is checked in every way.
        let inline = template().replace("boom_length: \"110 ft\"", "boom_length: \"40 ft\"");
        let inline =
            inline.replace("model: \"Northfell 40\"", &format!("machine: {}", &text[text.find('(').unwrap()..]));
        assert_eq!(scene(&inline).site().unwrap().crane.name, name);
    }
}

/// A cell of a chart: boom length and radius in meters, what it rates in kilograms.
fn printed(sector: &crate::site::ChartSector) -> Vec<(f64, f64, f64)> {
    let mut cells = Vec::new();
    for (radius, row) in sector.radii_m.iter().zip(&sector.rated_kg) {
        let of_row = sector.boom_lengths_m.iter().zip(row);
        cells.extend(of_row.filter_map(|(length, kg)| kg.map(|kg| (*length, *radius, kg))));
    }
    cells
}

fn catalog_crane(name: &str) -> crate::site::Crane {
    scene(&template().replace("Northfell 40", name).replace("boom_length: \"110 ft\"", "boom_length: \"40 ft\""))
        .site()
        .unwrap()
        .crane
}

#[test]
fn at_one_boom_length_no_catalog_chart_rates_more_farther_out() {
    for name in crate::catalog::crane_names() {
        for sector in &catalog_crane(name).chart.sectors {
            for &length in &sector.boom_lengths_m {
                let column: Vec<_> = printed(sector).into_iter().filter(|cell| cell.0 == length).collect();
                assert!(column.len() > 1, "{name}: {length} m of boom");
                assert!(column.windows(2).all(|pair| pair[1].2 <= pair[0].2), "{name}: {column:?}");
                // What is blank lies inside or outside of what is printed, never between.
                let at = |radius: f64| sector.radii_m.iter().position(|r| *r == radius).unwrap();
                assert_eq!(at(column[column.len() - 1].1) - at(column[0].1) + 1, column.len(), "{name}: {length} m");
            }
        }
    }
}

#[test]
fn a_longer_boom_starts_no_nearer_and_ends_no_nearer_on_a_catalog_chart() {
    for name in crate::catalog::crane_names() {
        for sector in &catalog_crane(name).chart.sectors {
            let ends = |length: f64| {
                let radii = printed(sector).into_iter().filter(move |cell| cell.0 == length).map(|cell| cell.1);
                radii.fold((f64::INFINITY, 0.0_f64), |(low, high), r| (low.min(r), high.max(r)))
            };
            let ends: Vec<_> = sector.boom_lengths_m.iter().map(|length| ends(*length)).collect();
            assert!(ends.windows(2).all(|pair| pair[0].0 <= pair[1].0 && pair[0].1 <= pair[1].1), "{name}: {ends:?}");
            // Near in, where strength rules and not tipping, a longer boom carries less.
            let first = printed(sector);
            let near: Vec<_> = first.iter().filter(|cell| cell.1 <= 6.2).collect();
            for pair in near.windows(2).filter(|pair| pair[0].1 == pair[1].1) {
                assert!(pair[1].2 < pair[0].2, "{name}: {pair:?}");
            }
        }
    }
}

#[test]
fn every_position_on_a_catalog_chart_is_one_that_the_boom_can_stand_in() {
    for name in crate::catalog::crane_names() {
        let site = scene(template()).site().unwrap();
        let crane = catalog_crane(name);
        let frame = crate::machine::crane::CraneFrame::of(&crane, site.rigging.length_m);
        for sector in &crane.chart.sectors {
            for (length, radius, kg) in printed(sector) {
                assert!(crane.boom_length_m.widened(1e-9).contains(length), "{name}: {length} m");
                let reach = frame.radius_range(crane.boom_angle, crate::bracket::Bracket::exactly(length));
                // A row past the farthest that the boom reaches rates what lies between it and the row before.
                let rows = sector.radii_m.iter().copied().filter(|row| *row < radius);
                let reached = reach.contains(radius) || rows.fold(0.0, f64::max) < reach.high();
                assert!(reached && reach.low() <= radius, "{name}: {radius} m with {length} m of boom, {kg} kg");
            }
        }
    }
}

#[test]
fn over_the_front_no_catalog_crane_lifts_more_than_over_the_side() {
    for name in ["Northfell 40", "Hollin 23", "Northfell 65"] {
        let chart = catalog_crane(name).chart;
        let [side, front] = &chart.sectors[..] else { panic!("{name}") };
        for (length, radius, kg) in printed(front) {
            let beside = printed(side).into_iter().find(|cell| (cell.0, cell.1) == (length, radius)).unwrap();
            assert!(kg < beside.2, "{name}: {radius} m with {length} m of boom");
        }
    }
}

#[test]
fn bearings_become_directions_counter_clockwise_from_east() {
    let site = scene(template()).site().unwrap();
    close(site.hole.facing, FRAC_PI_2);
    close(site.crane.heading, 0.0);
    close(site.rigging.choker_face.abs(), PI);
    assert_eq!((site.crane.swing.low(), site.crane.swing.high()), (0.0, TAU));
    let east = scene(&template().replace("facing: \"0 deg\"", "facing: \"90 deg\"")).site().unwrap();
    close(east.hole.facing, 0.0);
    let left = scene(&template().replace("choker_face: \"180 deg\"", "choker_face: \"-90 deg\"")).site().unwrap();
    close(left.rigging.choker_face, FRAC_PI_2);
}

#[test]
fn a_sector_from_30_to_330_clockwise_is_the_same_counter_clockwise() {
    let chart = scene(template()).site().unwrap().crane.chart;
    close(chart.sectors[0].swing.low(), 30_f64.to_radians());
    close(chart.sectors[0].swing.high(), 330_f64.to_radians());
    close(chart.sectors[1].swing.low(), -30_f64.to_radians());
    let right = EVERYTHING.replace("\"30 deg to 330 deg\"", "\"30 deg to 100 deg\"");
    let chart = scene(&right).site().unwrap().crane.chart;
    close(chart.sectors[0].swing.low(), 260_f64.to_radians());
    close(chart.sectors[0].swing.high(), 330_f64.to_radians());
}

#[test]
fn covers_count_from_the_step_that_puts_them_on() {
    let site = scene(template()).site().unwrap();
    assert_eq!((site.covers[0].during.on_after_step, site.covers[0].during.off_before_step), (Some(1), Some(15)));
    assert_eq!((site.covers[4].during.on_after_step, site.covers[4].during.off_before_step), (None, None));
    let CoverOn::Wire { wire, station_m } = site.covers[1].on else { panic!() };
    assert_eq!(wire, 1);
    close(station_m.high(), 12.0 * 0.3048);
}

#[test]
fn the_word_hole_is_the_holes_place() {
    let moved = template().replace("hole: (at: (\"0 ft\", ", "hole: (at: (\"3 ft\", ");
    let site = scene(&moved).site().unwrap();
    let Action::SwingToward { point } = site.steps[6].action else { panic!() };
    assert_eq!(point, site.hole.at);
    close(point.x, 3.0 * 0.3048);
}

#[test]
fn a_carry_says_where_to_and_how_high() {
    let site = scene(EVERYTHING).site().unwrap();
    let carries: Vec<_> = site.steps.iter().filter(|step| matches!(step.action, Action::Carry { .. })).collect();
    let [aside, back] = carries[..] else { panic!("two carries") };
    let Action::Carry { point, height_m } = aside.action else { panic!() };
    close(point.y, -30.0 * 0.3048);
    close(height_m, 42.0 * 0.3048);
    assert_eq!(back.action, Action::Carry { point: site.hole.at, height_m });
    assert!(aside.combined && !back.combined);
}

const STEEL: &str = "steel_tube(
      sides: twelve,
      sections: [
        (length: \"30 ft\", bottom: \"15 in\", top: \"11 in\", wall: \"3/16 in\", lap: \"0 in\"),
        (length: \"27 ft\", bottom: \"11 5/8 in\", top: \"8 in\", wall: \"3/16 in\", lap: \"2 ft\"),
      ],
    )";

#[test]
fn wood_poles_come_by_class_or_by_tape() {
    let by_class = "wood(class: \"3\", species: \"southern yellow pine\", oversize: \"6 %\")";
    let text = template().replace(STEEL, by_class);
    let Shell::Wood { top_circumference_m, circumference_at_6_ft_m, density_kg_m3, oversize } =
        scene(&text).site().unwrap().pole.shell
    else {
        panic!()
    };
    close(top_circumference_m, 23.0 * 0.0254);
    close(circumference_at_6_ft_m, 40.5 * 0.0254);
    close(oversize, 1.06);
    assert!(density_kg_m3.contains(60.0 * 16.018_463_37));
    assert_eq!(scene(&scene(&text).to_ron()), scene(&text));

    let taped = "wood_measured(top_circumference: \"24 in\", circumference_at_6_ft: \"41 in\", \
                 density: \"50 to 60 lb/ft3\", oversize: \"2 %\")";
    let text = template().replace(STEEL, taped);
    assert!(matches!(scene(&text).site().unwrap().pole.shell, Shell::Wood { .. }));
    assert_eq!(scene(&scene(&text).to_ron()), scene(&text));
}

/// The text with the value at a path of fields set, as an edit sets it: without a place of its own.
fn set(tree: &mut Tree, path: &[&str], value: Tree) {
    let Some((first, rest)) = path.split_first() else {
        *tree = value;
        return;
    };
    let Tree::Struct { fields, .. } = tree else { panic!("{first}") };
    let field = fields.iter_mut().find(|field| field.name == *first).unwrap();
    if rest.is_empty() {
        field.value = value.node();
    } else {
        set(&mut field.value.tree, rest, value);
    }
}

fn with(scene: &Scene, path: &[&str], text: &str) -> Result<Scene, Vec<Fault>> {
    let mut tree = scene.tree().clone();
    set(&mut tree, path, Tree::Text(text.to_owned()));
    scene.edited(tree, scene.beside())
}

#[test]
fn an_edited_scene_is_checked_again() {
    let faults = with(&scene(template()), &["pole", "length"], "900 ft").unwrap_err();
    // It stands nowhere in the text any more, but what it stands in does.
    assert!(faults.iter().any(|fault| matches!(fault.kind, FaultKind::OutOfBand { .. }) && fault.line > 0));
}

#[test]
fn an_edited_scene_is_what_its_text_says() {
    let changes: [(&[&str], &str); 6] = [
        (&["crane", "heading"], "93 deg"),
        (&["crane", "turn"], "4 deg/s"),
        (&["pole", "setting_depth"], "7 ft"),
        (&["hole", "diameter"], "31 in"),
        (&["altitude"], "900 ft"),
        (&["rigging", "length"], "9 ft"),
    ];
    for text in [template(), EVERYTHING] {
        let mut now = scene(text);
        let mut tree = now.tree().clone();
        let place = ["3 ft", "-41 ft", "0 ft"].map(|said| Tree::Text(said.to_owned()).node());
        set(&mut tree, &["crane", "at"], Tree::Tuple { name: None, items: place.to_vec() });
        let moved = now.edited(tree, now.beside()).unwrap();
        close(moved.as_site().crane.at.x, 3.0 * 0.3048);
        assert_eq!(moved.site(), scene(&moved.to_ron()).site());
        assert!(with(&moved, &["crane", "heading"], "900 deg").is_err());
        for (path, value) in changes {
            let next = with(&now, path, value).unwrap();
            assert_ne!(next.site(), now.site(), "{path:?}");
            assert_eq!(next.site(), scene(&next.to_ron()).site(), "{path:?}");
            now = next;
        }
    }
}

#[test]
fn what_a_kept_part_refers_to_is_looked_up_again() {
    let before = scene(EVERYTHING);
    let Tree::Struct { fields, .. } = before.tree().clone() else { panic!() };
    for gone in ["conductors", "circuits", "wires"] {
        let tree =
            Tree::Struct { name: None, fields: fields.iter().filter(|field| field.name != gone).cloned().collect() };
        let faults = before.edited(tree, before.beside()).unwrap_err();
        assert!(faults.iter().any(|fault| fault.path.starts_with("wires") || fault.path.is_empty()), "{gone}");
    }
}

#[test]
fn all_faults_come_together_in_the_order_of_the_text() {
    let text = template()
        .replace("altitude: \"1200 ft\"", "altitude: \"1200\"")
        .replace("facing: \"0 deg\"", "facing: \"0 ft\"")
        .replace("wall: \"3/16 in\"", "wall: \"9 in\"")
        .replace("conductor: \"Sparrow\"", "conductor: \"Sparow\"");
    let faults = read("scene.ron", &text).unwrap_err();
    let paths: Vec<&str> = faults.iter().map(|fault| fault.path.as_str()).collect();
    let walls = ["pole.shell.sections[0].wall", "pole.shell.sections[1].wall"];
    let expected = ["altitude", "wires[3].conductor", walls[0], walls[0], walls[1], walls[1], "hole.facing"];
    assert_eq!(paths, expected);
}

#[test]
fn a_name_or_an_allowance_is_taken_as_a_person_writes_it() {
    let exact = scene(EVERYTHING).site().unwrap();
    let with = |from: &str, to: &str| {
        assert!(EVERYTHING.contains(from), "{from}");
        read("t", &EVERYTHING.replacen(from, to, 1)).map(Scene::into_site)
    };
    assert_eq!(with("wire: \"C\"", "wire: \"c\"").unwrap().held_out, exact.held_out);
    assert_eq!(with("carries: phase(\"Alder 12\")", "carries: phase(\"alder-12\")").unwrap().wires, exact.wires);
    let sparrow = with("conductor: \"Sparrow\"", "conductor: \"sparrow\"").unwrap();
    assert_eq!(sparrow.wires, exact.wires);
    // The scene's own conductor of exactly this name holds over the catalog's that sounds like it.
    let own = EVERYTHING
        .replace("name: \"old copper\"", "name: \"raven\"")
        .replace("conductor: \"old copper\"", "conductor: \"raven\"");
    let own = read("t", &own).unwrap().into_site();
    assert!(own.wires.iter().any(|wire| wire.conductor.name == "raven"));
    assert!(own.wires.iter().any(|wire| wire.conductor.name == "Raven"));
    // A name that sounds like both is neither.
    let both = EVERYTHING
        .replace("name: \"old copper\"", "name: \"1/0 acsr\"")
        .replace("conductor: \"old copper\"", "conductor: \"1/0 ACSR\"");
    let faults = read("t", &both).unwrap_err();
    assert!(faults[0].to_string().contains("expected one of \"1/0 acsr\", \"Raven\""), "{}", faults[0]);
    let bare = template().find("survey: (").map(|at| {
        let end = template()[at..].find("),").unwrap();
        format!("{}survey: \"6 in\"{}", &template()[..at], &template()[at + end + 1..])
    });
    let survey = scene(&bare.unwrap()).site().unwrap().allowances.survey;
    assert!((survey.value - 0.1524).abs() < 1e-9 && survey.reason.is_empty());
    let zero = template().find("survey: (").map(|at| {
        let end = template()[at..].find("),").unwrap();
        format!("{}survey: \"0 in\"{}", &template()[..at], &template()[at + end + 1..])
    });
    let faults = read("t", &zero.unwrap()).unwrap_err();
    assert!(faults[0].to_string().contains("allowance of zero without a reason"), "{}", faults[0]);
}
