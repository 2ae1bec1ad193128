//! What strikes the pole once it stands, or as it lies: hook, sling, line, guides and boom.

use super::{FOOT_M, Row, example, passed};
use scene_core::glam::DVec3;
use scene_core::site::{Action, PoleItem, Site};

const JUNIPER: &str = include_str!("../../scenes/01_juniper_lane.ron");
const SORREL: &str = include_str!("../../scenes/03_sorrel_flat.ron");
const LARCH: &str = include_str!("../../scenes/04_larch_bank.ron");

/// Changes how the boom leaves the pole that stands.
fn boom_away(site: &mut Site, to: DVec3, hook_m: f64) {
    for step in &mut site.steps {
        if let Action::BoomAway { point, hook_height_m } = &mut step.action {
            (*point, *hook_height_m) = (to, hook_m);
        }
    }
}

fn combined_away(site: &mut Site) {
    for step in &mut site.steps {
        step.combined |= matches!(step.action, Action::BoomAway { .. });
    }
}

fn before_the_load_is_taken(site: &mut Site, actions: Vec<Action>) {
    let taken = site.steps.iter().position(|step| step.action == Action::TakeLoad).expect("the load is taken");
    let steps = actions.into_iter().map(|action| scene_core::site::Step {
        name: "in between".to_owned(),
        action,
        combined: false,
    });
    site.steps.splice(taken..taken, steps);
}

/// On the side of the choke.
fn bracket(site: &mut Site, height_m: f64, half_width_m: f64) {
    site.pole.items.push(PoleItem {
        name: "bracket".to_owned(),
        mass_kg: 8.0,
        from: DVec3::new(0.2, -half_width_m, height_m),
        to: DVec3::new(0.2, half_width_m, height_m),
        radius_m: 0.05,
    });
}

/// Over the pole and out on its far side, seen from the crane.
fn beyond(site: &mut Site, hook_m: f64) {
    let (hole, crane) = (site.hole.at, site.crane.at);
    boom_away(site, hole + (hole - crane).normalize() * 3.0, hook_m);
}

/// Swung about the crane by a small angle, at the same radius.
fn aside(site: &mut Site, angle: f64, hook_m: f64) {
    let (hole, crane) = (site.hole.at, site.crane.at);
    let arm = hole - crane;
    boom_away(site, crane + DVec3::new(arm.x - angle * arm.y, arm.y + angle * arm.x, 0.0), hook_m);
}

const OF_SORREL_FLAT: &[Row] = &[
    ("a hook that is boomed out through the pole at the height at which it held it", |s| beyond(s, 7.0), "body_touch"),
    ("a hook that is boomed out through the upper half of the pole", |s| beyond(s, 34.0 * FOOT_M), "body_touch"),
    ("a hook that clears the top while its sling does not", |s| beyond(s, 42.0 * FOOT_M), "body_touch"),
    ("a hook on the left of the pole that is swung to the right", |s| aside(s, -0.2, 7.0), "body_touch"),
    (
        "a hook that goes up and out over the pole at once",
        |s| {
            beyond(s, 46.0 * FOOT_M);
            combined_away(s);
        },
        "body_touch",
    ),
    ("a hook that is hoisted under a bracket on the pole", |s| bracket(s, 40.0 * FOOT_M, 0.0), "body_touch"),
    ("a hook that is hoisted under a crossarm", |s| bracket(s, 42.0 * FOOT_M, 1.2), "body_touch"),
    (
        "an empty hook that is swung low across the lying pole",
        |s| {
            before_the_load_is_taken(
                s,
                vec![
                    Action::LowerTo { height_m: 0.3 },
                    Action::SwingToward { point: DVec3::new(20.0, -60.0, 0.0) * FOOT_M },
                    Action::SwingToward { point: DVec3::new(26.0, -75.0, 0.0) * FOOT_M },
                    Action::HoistTo { height_m: 3.0 },
                ],
            );
        },
        "body_touch",
    ),
];

const OF_JUNIPER_LANE: &[Row] = &[
    ("a sling that is dragged across the pole's top", |s| aside(s, -0.1, 50.0 * FOOT_M), "body_touch"),
    (
        "a block that is boomed out over the pole at once",
        |s| {
            beyond(s, 62.0 * FOOT_M);
            combined_away(s);
        },
        "body_touch",
    ),
];

const OF_LARCH_BANK: &[Row] = &[
    (
        "guides that are boomed out into the pole that they let go",
        |s| {
            let (hole, crane) = (s.hole.at, s.crane.at);
            boom_away(s, hole + (hole - crane).normalize() * 0.6, 26.0 * FOOT_M);
        },
        "body_touch",
    ),
    (
        "a derrick's boom that is swung through the pole from beyond it",
        |s| {
            let (hole, crane) = (s.hole.at, s.crane.at);
            boom_away(s, hole + (hole - crane).normalize() * 1.5, 26.0 * FOOT_M);
        },
        "body_touch",
    ),
];

#[test]
fn what_goes_through_the_pole_stops() {
    let passed = [
        passed(&example("03_sorrel_flat.ron", SORREL), OF_SORREL_FLAT),
        passed(&example("01_juniper_lane.ron", JUNIPER), OF_JUNIPER_LANE),
        passed(&example("04_larch_bank.ron", LARCH), OF_LARCH_BANK),
    ]
    .concat();
    assert!(passed.is_empty(), "these should have stopped: {passed:#?}");
}
