//! People under the load, in its fall, and guiding it by hand.

use super::{FOOT_M, Row, has_stop, passed, sorrel_flat};
use scene_core::check::check;
use scene_core::glam::DVec3;
use scene_core::rules::PairState;
use scene_core::site::ground::{ByHand, HandProtection, Neighbours, Person, Stand, StandingPole, Task};
use scene_core::site::{Action, Allowance, During, Site};

const ALWAYS: During = During { on_after_step: None, off_before_step: None };

fn feet(x: f64, y: f64) -> DVec3 {
    DVec3::new(x, y, 0.0) * FOOT_M
}

fn person(name: &str, task: Task, stands: &[(DVec3, During)]) -> Person {
    let stands = stands.iter().map(|&(at, during)| Stand { at, during }).collect();
    Person { name: name.into(), task, reach_m: 0.6, height_m: 2.1, stands }
}

fn stands(site: &mut Site, task: Task, at: DVec3) {
    site.neighbours.get_or_insert_default().people.push(person("Kern", task, &[(at, ALWAYS)]));
}

/// So far from the hole, feet.
fn stands_off_hole(site: &mut Site, task: Task, x: f64, y: f64) {
    let at = site.hole.at + feet(x, y);
    stands(site, task, at);
}

fn step(site: &Site, name: &str) -> usize {
    site.steps.iter().position(|step| step.name == name).expect("the example has the step")
}

const UNDER_THE_LOAD: &[Row] = &[
    (
        "a tag-line man under the pole as it is stood up",
        |s| stands(s, Task::TagLine, feet(26.0, -80.0)),
        "load_over_person",
    ),
    ("a signal man at the hole", |s| stands_off_hole(s, Task::Signal, 0.0, 0.0), "load_over_person"),
    ("a tag-line man in the hole", |s| stands_off_hole(s, Task::TagLine, 0.0, 0.0), "body_touch"),
    (
        "an observer beside the hole, within the swing of the pole",
        |s| stands_off_hole(s, Task::Observer, 2.0, 1.0),
        "body_touch",
    ),
    ("the public as near as the pole is long", |s| stands_off_hole(s, Task::Bystander, -20.0, 20.0), "in_fall_zone"),
    (
        "a man who walks through under the pole while it is swung",
        |s| {
            let swing = step(s, "Swing to the hole");
            let there = |on_after_step, off_before_step| During { on_after_step, off_before_step };
            let places =
                [(feet(-60.0, -53.0), there(None, Some(swing))), (feet(60.0, -53.0), there(Some(swing), None))];
            s.neighbours.get_or_insert_default().people.push(person("Kern", Task::TagLine, &places));
        },
        "load_over_person",
    ),
    (
        "a man whose second place begins before he leaves the first",
        |s| {
            let places = [(feet(-140.0, 0.0), ALWAYS), (feet(140.0, 0.0), ALWAYS)];
            s.neighbours.get_or_insert_default().people.push(person("Kern", Task::Observer, &places));
        },
        "person_in_two_places",
    ),
    ("a man who stands nowhere", |s| stands(s, Task::Observer, DVec3::splat(f64::NAN)), "load_over_person"),
];

#[test]
fn nobody_is_under_the_load_or_in_its_fall() {
    assert_eq!(passed(&sorrel_flat(), UNDER_THE_LOAD), []);
}

/// The new pole goes in 4 ft beside the old one, guided by hand over the last 4 ft.
fn beside_the_old_pole() -> Site {
    let mut site = sorrel_flat();
    let [swing, over, into] =
        ["Swing to the hole", "Boom over the hole", "Into the hole"].map(|name| step(&site, name));
    // Boomed to the hole's radius first, then down to the hands, who walk it over.
    let radius_m = (site.hole.at - site.crane.at).truncate().length();
    let swung = site.steps.remove(swing);
    site.steps[over - 1].action = Action::BoomToRadius { radius_m };
    let mut low = swung.clone();
    low.name = "Down to the hands".into();
    low.action = Action::LowerTo { height_m: 3.5 * FOOT_M };
    site.steps.insert(swing + 1, low);
    site.steps.insert(swing + 2, swung);
    // What comes after is not the hands' any more.
    site.steps.truncate(into + 3);
    let inches = |allowance: &mut Allowance, by: f64| allowance.value = by * FOOT_M / 12.0;
    inches(&mut site.allowances.survey, 3.0);
    inches(&mut site.allowances.placing, 6.0);
    inches(&mut site.allowances.radius_growth, 4.0);
    inches(&mut site.allowances.load_swing, 8.0);
    inches(&mut site.allowances.line_movement, 0.0);
    let old = site.hole.at + feet(0.0, 4.0);
    let guide = |name, at| person(name, Task::TagLine, &[(at, ALWAYS)]);
    site.neighbours = Some(Neighbours {
        poles: vec![StandingPole {
            name: "old pole".into(),
            foot: old,
            top: old + DVec3::Z * 8.0,
            foot_radius_m: 0.16,
            top_radius_m: 0.12,
        }],
        people: vec![guide("Kern", feet(-60.0, 30.0)), guide("Dorn", feet(60.0, 30.0))],
        by_hand: Some(ByHand {
            beside: 0,
            steps: vec![swing + 2, swing + 3, into + 1, into + 2],
            guides: vec![0, 1],
            hands: HandProtection::RubberGloves { class: 3 },
            swing_m: 3.0 * 0.0254,
        }),
        structures_stated: true,
        ..Neighbours::default()
    });
    site
}

fn by_hand(site: &mut Site) -> &mut ByHand {
    site.neighbours.as_mut().and_then(|all| all.by_hand.as_mut()).expect("it is guided by hand")
}

const BY_HAND: &[Row] = &[
    ("a pole guided by one man", |s| by_hand(s).guides.truncate(1), "by_hand_people"),
    ("a pole guided twice by the same man", |s| by_hand(s).guides = vec![1, 1], "by_hand_people"),
    (
        "a pole guided by the observer",
        |s| s.neighbours.iter_mut().for_each(|all| all.people[0].task = Task::Observer),
        "by_hand_people",
    ),
    (
        "a guide who has left",
        |s| {
            let left = During { on_after_step: None, off_before_step: Some(2) };
            s.neighbours.iter_mut().for_each(|all| all.people[0].stands[0].during = left);
        },
        "by_hand_people",
    ),
    (
        "gloves of a class below the line's",
        |s| by_hand(s).hands = HandProtection::RubberGloves { class: 1 },
        "by_hand_hands",
    ),
    (
        "hands that hold a butt eight feet up",
        |s| {
            let up = step(s, "Carry it off the ground");
            by_hand(s).steps = vec![up];
        },
        "by_hand_high",
    ),
    (
        "hands that hold a pole while it is stood up",
        |s| {
            let up = step(s, "Upend");
            by_hand(s).steps = vec![up];
        },
        "by_hand_not_hanging",
    ),
    ("a swing between hands that is not a number", |s| by_hand(s).swing_m = f64::NAN, "body_undecided"),
    ("hands that excuse a man in the hole", |s| stands_off_hole(s, Task::TagLine, 0.5, 0.0), "body_touch"),
];

#[test]
fn a_pole_guided_by_hand_needs_two_men_their_gloves_and_a_low_butt() {
    assert_eq!(passed(&beside_the_old_pole(), BY_HAND), []);
}

#[test]
fn hands_let_a_pole_pass_closer_to_the_old_one_and_not_to_anything_else() {
    let with = check(&beside_the_old_pole());
    let mut site = beside_the_old_pole();
    site.neighbours.iter_mut().for_each(|all| all.by_hand = None);
    let without = check(&site);
    for (with, without) in with.gaps.iter().zip(&without.gaps) {
        let held = (with.body.as_str(), with.other.as_str()) == ("pole", "old pole");
        assert!(held || with == without, "{with:?} {without:?}");
        assert!(!held || with.margin_m > without.margin_m + 0.05, "{with:?} {without:?}");
    }
    assert!(with.gaps.iter().any(|row| row.other == "old pole" && row.state == PairState::Apart));
    assert!(!has_stop(&beside_the_old_pole(), "by_hand"));
}
