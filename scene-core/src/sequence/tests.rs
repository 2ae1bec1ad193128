use super::example::{hang, hang_at, range, site, step, whole_sequence};
use super::outline::Outline;
use super::*;
use crate::crane::chain::Place;
use crate::finding::Grade;
use crate::site::{Action, Site, Step};
use glam::DVec3;
use proptest::prelude::*;

const HOLE: DVec3 = DVec3::new(0.0, 9.0, 0.0);

fn stops(plan: &Plan) -> Vec<&'static str> {
    plan.findings.iter().filter(|f| f.grade == Grade::Stop).map(|f| f.code).collect()
}

/// The start, then these.
fn after_start(actions: Vec<Action>) -> Plan {
    plan(&site_after_start(actions), &hang())
}

fn site_after_start(actions: Vec<Action>) -> Site {
    let mut steps: Vec<Step> = whole_sequence().into_iter().take(1).collect();
    steps.extend(actions.into_iter().map(|action| step("", action)));
    site(steps)
}

fn hanging(actions: Vec<Action>) -> Plan {
    after_start([vec![Action::TakeLoad, Action::Upend, Action::HoistTo { height_m: 1.0 }], actions].concat())
}

fn pole_point(plan: &Plan, piece: &Piece, point: DVec3, u: f64) -> DVec3 {
    plan.chain.place_in_world(&Place::Pole(point), &piece.joints_at(u), &piece.seat, u)
}

#[test]
fn a_pole_is_taken_stood_in_its_hole_and_left() {
    let steps = whole_sequence();
    let plan = plan(&site(steps.clone()), &hang());
    assert_eq!(plan.findings, vec![]);
    assert_eq!((plan.stopped_at, plan.steps.len()), (None, steps.len()));
    assert_eq!(plan.hold_points.len(), 1);
    let last = plan.pieces.last().unwrap();
    assert_eq!(last.load, LoadState::Standing);
    let (butt, tip) = (pole_point(&plan, last, DVec3::ZERO, 1.0), pole_point(&plan, last, DVec3::Z * 17.0, 1.0));
    assert!((butt - (HOLE - DVec3::Z * 2.2)).length() < 1e-9, "{butt}");
    assert!((tip - (HOLE + DVec3::Z * 14.8)).length() < 1e-9, "{tip}");
    let faces = plan.chain.pole_direction_in_world(&last.to, DVec3::X);
    assert!((faces - DVec3::new(0.4_f64.cos(), 0.4_f64.sin(), 0.0)).length() < 1e-9, "{faces}");
}

#[test]
fn nothing_jumps_from_one_piece_to_the_next() {
    let plan = plan(&site(whole_sequence()), &hang());
    for pair in plan.pieces.windows(2) {
        let [before, after] = pair else { continue };
        assert_eq!(before.time_to_s, after.time_from_s);
        assert!(before.time_to_s >= before.time_from_s && before.step <= after.step);
        for joint in Joint::ALL {
            assert!((before.to.get(joint) - after.from.get(joint)).abs() < 1e-9);
        }
        for point in [DVec3::ZERO, DVec3::Z * 17.0, DVec3::new(0.2, 1.2, 16.0)] {
            let (end, start) = (pole_point(&plan, before, point, 1.0), pole_point(&plan, after, point, 0.0));
            assert!((end - start).length() < 1e-9, "step {}: {end} {start}", after.step);
        }
    }
    for (index, step) in plan.steps.iter().enumerate() {
        assert!(!step.pieces.is_empty() && plan.pieces[step.pieces.clone()].iter().all(|p| p.step == index));
    }
}

#[test]
fn one_joint_moves_at_a_time_but_for_those_that_are_tied() {
    let plan = plan(&site(whole_sequence()), &hang());
    let moving = |piece: &Piece| Joint::ALL.into_iter().filter(|&j| piece.moves(j)).collect::<Vec<_>>();
    for piece in plan.pieces.iter().filter(|p| p.path == Path::Even) {
        let moving = moving(piece);
        assert!(moving.len() <= 1 || moving == [Joint::Swing, Joint::PoleHeading], "{moving:?}");
    }
    let combined = plan.pieces.iter().find(|p| matches!(p.path, Path::Box { .. })).unwrap();
    assert_eq!(combined.signals, [Signal::Swing, Signal::RaiseBoom, Signal::Hoist]);
}

#[test]
fn the_butts_edge_stays_on_the_ground_while_the_pole_is_upended() {
    for rise in [-0.8, 0.0, 0.8] {
        let mut site = site_after_start(vec![Action::TakeLoad, Action::Upend]);
        let (butt, toward) = (DVec3::new(9.0, -4.0, 0.3), DVec3::new(9.0, 10.0, 0.3 + rise));
        site.steps[0].action = Action::Start { butt, tip_toward: toward, boom_length_m: 24.0 };
        let plan = plan(&site, &hang());
        assert_eq!(stops(&plan), Vec::<&str>::new());
        let radius = Outline::of(&site.pole).unwrap().butt_radius_m();
        let slope = (toward - butt).normalize();
        let normal = DVec3::new(0.0, -slope.z, slope.y);
        let choke = plan.chain.crane.choke_in_world(&plan.pieces[0].from);
        let rising = plan.pieces.iter().filter(|p| matches!(p.path, Path::Upend(_)));
        let mut seen = 0;
        for (piece, u) in rising.flat_map(|p| [0.0, 0.3, 0.5, 0.9, 1.0].map(|u| (p, u))) {
            let axis = plan.chain.pole_direction_in_world(&piece.joints_at(u), DVec3::Z);
            let centre = pole_point(&plan, piece, DVec3::ZERO, u);
            let edge = (centre - butt).dot(normal) - radius * (1.0 - axis.dot(normal).powi(2)).sqrt();
            assert!(edge.abs() < 1e-6, "{edge}");
            let now = plan.chain.crane.choke_in_world(&piece.joints_at(u));
            assert!((now - choke).truncate().length() < 1e-9, "the choke rises plumb");
            seen += 1;
        }
        assert_eq!(seen, 24 * 5);
        let end = plan.pieces.last().unwrap();
        assert!((end.to.pole_tilt - hang().tilt_rad.middle()).abs() < 1e-12);
        assert!(plan.upend_deviation() > 0.0 && plan.upend_deviation() < 2e-3);
    }
}

#[test]
fn a_choker_near_the_tip_lifts_the_butt_before_the_pole_has_found_its_lean() {
    let mut site = site_after_start(vec![Action::TakeLoad, Action::Upend]);
    site.rigging.choker_from_butt_m = 15.0;
    let plan = plan(&site, &hang_at(0.01, 0.19));
    assert_eq!(stops(&plan), Vec::<&str>::new());
    let last = plan.pieces.last().unwrap();
    assert_eq!((last.path, last.to.pole_tilt), (Path::Even, 0.01));
    assert!(!last.moves(Joint::HoistLength) && last.moves(Joint::PoleTilt));
}

#[test]
fn a_hoisted_butt_is_as_high_as_the_step_says() {
    let plan = hanging(vec![Action::HoistTo { height_m: 2.5 }]);
    let (last, radius) = (plan.pieces.last().unwrap(), Outline::of(&site(vec![]).pole).unwrap().butt_radius_m());
    let lowest = pole_point(&plan, last, DVec3::ZERO, 1.0).z - radius * last.to.pole_tilt.sin();
    assert!((lowest - 2.5).abs() < 1e-9, "{lowest}");
    assert_eq!(last.signals, [Signal::Hoist]);
}

#[test]
fn swinging_carries_the_pole_round_with_the_crane() {
    let plan = hanging(vec![Action::SwingToward { point: HOLE }]);
    let last = plan.pieces.last().unwrap();
    let by = last.to.swing - last.from.swing;
    let before = plan.chain.crane.hook_in_world(&last.from);
    assert!((by - (HOLE.y.atan2(HOLE.x) - before.y.atan2(before.x))).abs() < 1e-9 && by > 0.5);
    assert!((last.to.pole_heading - last.from.pole_heading - by).abs() < 1e-12);
    let hook = plan.chain.crane.hook_in_world(&last.to);
    assert!((hook.y.atan2(hook.x) - HOLE.y.atan2(HOLE.x)).abs() < 1e-9);
}

#[test]
fn extending_draws_the_block_toward_the_head() {
    let plan = hanging(vec![Action::Extend { boom_length_m: 25.0 }]);
    let last = plan.pieces.last().unwrap();
    assert!((last.from.hoist_length_m - last.to.hoist_length_m - 0.5).abs() < 1e-12, "two parts of line, one metre");
    assert_eq!(last.signals, [Signal::Extend]);
}

#[test]
fn what_the_crane_cannot_do_is_a_stop() {
    let far = DVec3::new(0.0, 60.0, 0.0);
    let cases: Vec<(Vec<Action>, &str)> = vec![
        (vec![Action::BoomOver { point: far }], "out_of_reach"),
        (vec![Action::BoomToRadius { radius_m: 0.5 }], "boom_angle_limit"),
        (vec![Action::BoomToRadius { radius_m: f64::NAN }], "not_a_measure"),
        (vec![Action::Extend { boom_length_m: 40.0 }], "boom_length_limit"),
        (vec![Action::HoistTo { height_m: 90.0 }], "two_block"),
        (vec![Action::HoistTo { height_m: f64::INFINITY }], "not_a_measure"),
        (vec![Action::LowerTo { height_m: -1.0 }], "load_not_over_hole"),
        (vec![Action::Release], "not_set"),
        (vec![Action::TakeLoad], "load_on_hook"),
        (vec![Action::Upend], "no_load"),
        (vec![Action::BoomAway { point: HOLE, hook_height_m: 9.0 }], "load_on_hook"),
        (vec![Action::Work { minutes: -1.0 }], "not_a_measure"),
        (vec![Action::BoomToRadius { radius_m: 18.0 }], "butt_below_ground"),
    ];
    for (actions, code) in cases {
        let before = hanging(vec![]).pieces.len();
        let plan = hanging(actions);
        assert_eq!(stops(&plan), [code]);
        assert_eq!(plan.stopped_at, Some(4));
        assert_eq!((plan.pieces.len(), plan.steps.len()), (before, 4), "nothing of the step is kept");
        let finding = plan.findings.last().unwrap();
        assert!(!finding.mend.is_empty() && finding.step == Some(4));
    }
}

#[test]
fn a_step_out_of_turn_is_a_stop() {
    assert_eq!(stops(&after_start(vec![Action::Upend])), ["no_load"]);
    assert_eq!(stops(&after_start(vec![Action::Turn { facing: 0.0 }])), ["no_load"]);
    assert_eq!(stops(&after_start(vec![Action::Release])), ["not_set"]);
    assert_eq!(stops(&after_start(vec![Action::TakeLoad, Action::SwingToward { point: HOLE }])), ["pole_not_upended"]);
    assert_eq!(stops(&after_start(vec![Action::TakeLoad, Action::HoistTo { height_m: 3.0 }])), ["pole_not_upended"]);
    assert_eq!(stops(&after_start(vec![whole_sequence()[0].action.clone()])), ["start_not_first"]);
    assert_eq!(stops(&plan(&site(vec![step("", Action::TakeLoad)]), &hang())), ["start_missing"]);
    assert_eq!(stops(&plan(&site(vec![]), &hang())), ["no_steps"]);
}

#[test]
fn the_load_is_not_taken_from_beside_the_pole() {
    let aside = Action::SwingToward { point: DVec3::new(9.0, 9.0, 0.0) };
    assert_eq!(stops(&after_start(vec![aside.clone(), Action::TakeLoad])), ["hook_not_over_pole"]);
    let lift = Action::HoistTo { height_m: 6.0 };
    let back = Action::SwingToward { point: DVec3::new(8.81, 6.5, 0.0) };
    let plan = after_start(vec![lift, aside, back, Action::TakeLoad]);
    assert_eq!(stops(&plan), Vec::<&str>::new(), "the crew brings the hook the last inches and down");
    let last = plan.pieces.last().unwrap();
    let choke = pole_point(&plan, last, plan.chain.choke_in_pole, 1.0);
    assert!((choke - plan.chain.crane.choke_in_world(&last.to)).length() < 1e-9);
}

#[test]
fn a_pole_short_of_its_depth_is_not_released() {
    let over = |depth: f64| {
        hanging(vec![
            Action::HoistTo { height_m: 2.0 },
            Action::SwingToward { point: HOLE },
            Action::BoomOver { point: HOLE },
            Action::LowerTo { height_m: -depth },
            Action::Release,
        ])
    };
    assert_eq!(stops(&over(2.0)), ["not_set"]);
    assert_eq!(stops(&over(2.2)), Vec::<&str>::new());
    assert_eq!(stops(&over(2.6)), ["hole_too_shallow"]);
}

#[test]
fn a_pole_in_its_hole_is_not_swung_but_may_be_raised_again() {
    let then = |action: Action| {
        hanging(vec![
            Action::HoistTo { height_m: 2.0 },
            Action::SwingToward { point: HOLE },
            Action::BoomOver { point: HOLE },
            Action::LowerTo { height_m: -1.0 },
            action,
        ])
    };
    assert_eq!(stops(&then(Action::SwingToward { point: DVec3::X * 9.0 })), ["butt_in_hole"]);
    let raised = then(Action::HoistTo { height_m: 1.5 });
    assert_eq!(stops(&raised), Vec::<&str>::new());
    assert_eq!(raised.pieces.last().unwrap().to.pole_tilt, hang().tilt_rad.middle(), "it hangs free again");
    assert!(raised.guided_tilt.unwrap().abs() < hang().tilt_rad.middle());
}

#[test]
fn a_hole_that_the_butt_does_not_fit_is_a_stop() {
    let mut site = site(whole_sequence());
    site.hole.diameter_m = 0.4;
    assert_eq!(stops(&plan(&site, &hang())), ["butt_misses_hole"]);
}

#[test]
fn a_rate_of_zero_is_a_stop() {
    let mut site = site(whole_sequence());
    site.crane.rates.swing_rad_s = 0.0;
    assert_eq!(stops(&plan(&site, &hang())), ["crane_rate_missing"]);
}

#[test]
fn a_cover_counts_from_the_end_of_one_step_to_the_start_of_another() {
    let during = During { on_after_step: Some(2), off_before_step: Some(5) };
    let all: Vec<Presence> = (0..7).map(|step| presence(&during, step)).collect();
    use Presence::*;
    assert_eq!(all, [Absent, Absent, Changing, Present, Present, Changing, Absent]);
    let always = During { on_after_step: None, off_before_step: None };
    assert_eq!(presence(&always, 0), Present);
    let plan = plan(&site(whole_sequence()), &hang());
    let seconds = plan.present_s(&during).unwrap();
    assert_eq!((seconds.low(), seconds.high()), (plan.steps[2].to_s, plan.steps[5].from_s));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn no_input_makes_the_walk_panic(
        x in prop::num::f64::ANY, y in prop::num::f64::ANY, which in 0_usize..12, kind in 0_usize..9,
    ) {
        let mut steps = whole_sequence();
        let p = DVec3::new(x, y, x);
        let action = match kind {
            0 => Action::HoistTo { height_m: x },
            1 => Action::LowerTo { height_m: y },
            2 => Action::SwingToward { point: p },
            3 => Action::BoomToRadius { radius_m: x },
            4 => Action::BoomOver { point: p },
            5 => Action::Extend { boom_length_m: x },
            6 => Action::Turn { facing: y },
            7 => Action::BoomAway { point: p, hook_height_m: y },
            _ => Action::Start { butt: p, tip_toward: DVec3::new(y, x, y), boom_length_m: x },
        };
        steps[which].action = action;
        let mut site = site(steps);
        let _ = plan(&site, &hang());
        site.crane.foot_offset_m = y;
        site.rigging.length_m = x;
        let _ = plan(&site, &hang_at(y, x));
    }

    #[test]
    fn the_radius_of_every_instant_is_in_its_piece_s_range(u in 0.0..1.0_f64, first in 8.0..20.0_f64, second in 8.0..20.0_f64) {
        let plan = hanging(vec![
            Action::HoistTo { height_m: 5.0 },
            Action::BoomToRadius { radius_m: first },
            Action::Extend { boom_length_m: 26.0 },
            Action::BoomToRadius { radius_m: second },
        ]);
        for piece in &plan.pieces {
            let (range, joints) = (piece.range(&plan.chain.crane), piece.joints_at(u));
            let hook = plan.chain.crane.hook_in_world(&joints) - plan.chain.crane.at;
            prop_assert!(range.radius_m.contains(hook.truncate().length()));
            prop_assert!(range.boom_angle.contains(joints.boom_angle) && range.boom_length_m.contains(joints.boom_length_m));
            prop_assert!(range.swing.contains(joints.swing) && range.hoist_length_m.contains(joints.hoist_length_m));
        }
    }
}

#[test]
fn a_swing_the_carrier_does_not_allow_is_a_stop() {
    let mut site = site_after_start(vec![Action::SwingToward { point: DVec3::new(0.0, -9.0, 0.0) }]);
    site.crane.swing = range(-2.0, 2.0);
    assert_eq!(stops(&plan(&site, &hang())), ["swing_limit"]);
}
