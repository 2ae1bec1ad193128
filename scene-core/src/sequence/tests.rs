use super::*;
use crate::finding::Grade;
use crate::fixtures::site::{hang, hang_at, range, site, step, whole_sequence};
use crate::machine::crane::chain::Place;
use crate::pole::Outline;
use crate::quantity::show::Units;
use crate::report::words;
use crate::site::{Action, Presence, Site, Step};
use glam::DVec3;
use proptest::prelude::*;

const HOLE: DVec3 = DVec3::new(0.0, 9.0, 0.0);

/// But for a sequence that is cut short with the pole on the hook, which has a test of its own.
fn stops(plan: &Plan) -> Vec<&'static str> {
    let stops = plan.findings.iter().filter(|f| f.grade == Grade::Stop).map(|f| f.code());
    stops.filter(|code| *code != "ends_on_hook").collect()
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
            let center = pole_point(&plan, piece, DVec3::ZERO, u);
            let edge = (center - butt).dot(normal) - radius * (1.0 - axis.dot(normal).powi(2)).sqrt();
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
        let kept: Vec<_> = plan.pieces.iter().skip(before).map(|piece| (piece.load, piece.still())).collect();
        assert_eq!(kept, [(LoadState::Unknown, true)], "nothing of the step is kept");
        let finding = plan.findings.last().unwrap();
        assert!(!words::of(finding, Units::Both).fix.is_empty() && finding.step == Some(4));
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
    let all: Vec<Presence> = (0..7).map(|step| during.presence(step)).collect();
    use Presence::*;
    assert_eq!(all, [Absent, Absent, Changing, Present, Present, Changing, Absent]);
    let always = During { on_after_step: None, off_before_step: None };
    assert_eq!(always.presence(0), Present);
    let plan = plan(&site(whole_sequence()), &hang());
    let seconds = plan.present_s(&during).unwrap();
    assert_eq!((seconds.low(), seconds.high()), (plan.steps[2].to_s, plan.steps[5].from_s));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn no_input_makes_the_walk_panic(
        x in prop::num::f64::ANY, y in prop::num::f64::ANY, which in 0_usize..12, kind in 0_usize..10, combined in prop::bool::ANY,
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
            8 => Action::Carry { point: p, height_m: y },
            _ => Action::Start { butt: p, tip_toward: DVec3::new(y, x, y), boom_length_m: x },
        };
        steps[which] = Step { combined, ..step("", action) };
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

/// Taken, upended, hoisted to 3 m, then carried.
fn carried(point: DVec3, height_m: f64, combined: bool) -> Plan {
    let mut site = site_after_start(vec![
        Action::TakeLoad,
        Action::Upend,
        Action::HoistTo { height_m: 3.0 },
        Action::Carry { point, height_m },
    ]);
    site.steps[4].combined = combined;
    plan(&site, &hang())
}

fn of_the_carry(plan: &Plan) -> &[Piece] {
    &plan.pieces[plan.steps[4].pieces.clone()]
}

#[test]
fn a_carried_butt_comes_to_the_height_under_a_load_line_over_the_point() {
    let radius = Outline::of(&site(vec![]).pole).unwrap().butt_radius_m();
    // Nearer than the pole lay and farther, higher than it hangs and lower.
    for (point, height_m) in [(HOLE, 1.5), (HOLE, 4.0), (DVec3::new(5.0, 11.0, 0.0), 2.5)] {
        for combined in [false, true] {
            let plan = carried(point, height_m, combined);
            assert_eq!(stops(&plan), Vec::<&str>::new());
            let last = plan.pieces.last().unwrap();
            let hook = plan.chain.crane.hook_in_world(&last.to);
            assert!((hook - point).truncate().length() < 1e-9, "{hook}");
            let lowest = pole_point(&plan, last, DVec3::ZERO, 1.0).z - radius * last.to.pole_tilt.sin();
            assert!((lowest - height_m).abs() < 1e-9, "{lowest}");
            let by = |joint: Joint| last.to.get(joint) - plan.pieces[plan.steps[4].pieces.start].from.get(joint);
            assert!(by(Joint::Swing) != 0.0 && (by(Joint::Swing) - by(Joint::PoleHeading)).abs() < 1e-12);
        }
    }
}

#[test]
fn a_carry_raises_first_then_swings_then_booms_then_comes_to_its_height() {
    let plan = carried(HOLE, 4.0, false);
    let signals: Vec<Signal> = of_the_carry(&plan).iter().flat_map(|p| p.signals.clone()).collect();
    assert_eq!(signals, [Signal::Hoist, Signal::Swing, Signal::RaiseBoom, Signal::Lower]);
    let plan = carried(HOLE, 1.0, false);
    let signals: Vec<Signal> = of_the_carry(&plan).iter().flat_map(|p| p.signals.clone()).collect();
    assert_eq!(signals, [Signal::Swing, Signal::RaiseBoom, Signal::Lower], "a butt that is higher is not raised");
}

#[test]
fn a_combined_carry_is_one_box_that_holds_the_way_one_joint_at_a_time() {
    for height_m in [1.6, 4.0] {
        let (one_by_one, combined) = (carried(HOLE, height_m, false), carried(HOLE, height_m, true));
        let [piece] = of_the_carry(&combined) else { panic!("one piece") };
        assert!(matches!(piece.path, Path::Box { .. }) && piece.load == LoadState::Hanging);
        for step in of_the_carry(&one_by_one) {
            for joint in Joint::ALL {
                let (held, part) = (piece.span(joint), step.span(joint));
                assert!(
                    held.widened(1e-9).contains(part.low()) && held.widened(1e-9).contains(part.high()),
                    "{joint:?}"
                );
            }
        }
        let slowest = of_the_carry(&one_by_one).iter().map(|p| p.time_to_s - p.time_from_s).fold(0.0, f64::max);
        assert!(piece.time_to_s - piece.time_from_s >= slowest - 1e-9);
    }
    let raised = carried(HOLE, 4.0, true);
    let piece = &of_the_carry(&raised)[0];
    assert!(piece.span(Joint::HoistLength).low() < piece.from.hoist_length_m.min(piece.to.hoist_length_m) - 0.1);
    assert_eq!(piece.signals, [Signal::Swing, Signal::RaiseBoom, Signal::Hoist, Signal::Lower]);
}

#[test]
fn a_carry_that_cannot_be_done_is_a_stop_whichever_way_it_is_done() {
    let cases = [
        (DVec3::new(0.0, 60.0, 0.0), 3.0, "out_of_reach"),
        (DVec3::new(0.0, 9.0, f64::NAN), 3.0, ""),
        (DVec3::new(f64::NAN, 9.0, 0.0), 3.0, "not_a_measure"),
        (HOLE, f64::NAN, "not_a_measure"),
        (HOLE, 90.0, "two_block"),
        (HOLE, -0.5, "butt_below_ground"),
        (DVec3::new(0.0, 18.0, 0.0), 0.2, "butt_below_ground"),
    ];
    for (point, height_m, code) in cases {
        for combined in [false, true] {
            let plan = carried(point, height_m, combined);
            let expected = if code.is_empty() { vec![] } else { vec![code] };
            assert_eq!(stops(&plan), expected, "{point} {height_m} {combined}");
            assert_eq!(plan.stopped_at, if code.is_empty() { None } else { Some(4) });
        }
    }
    let carry = Action::Carry { point: HOLE, height_m: 1.0 };
    assert_eq!(stops(&after_start(vec![carry.clone()])), ["no_load"]);
    assert_eq!(stops(&after_start(vec![Action::TakeLoad, carry.clone()])), ["pole_not_upended"]);
    let over =
        [Action::HoistTo { height_m: 2.0 }, Action::SwingToward { point: HOLE }, Action::BoomOver { point: HOLE }];
    let in_hole = [over.to_vec(), vec![Action::LowerTo { height_m: -1.0 }, carry]].concat();
    assert_eq!(stops(&hanging(in_hole)), ["butt_in_hole"]);
}

#[test]
fn booming_down_while_the_butt_is_not_yet_raised_is_in_the_box_and_not_in_the_one_by_one_way() {
    // From 3 m the boom takes it nearly 4 m down: raised to 5 m first the butt keeps off the ground, combined it may not.
    let out = DVec3::new(10.0, 12.5, 0.0);
    assert_eq!(stops(&carried(out, 5.0, false)), Vec::<&str>::new());
    assert_eq!(stops(&carried(out, 5.0, true)), ["butt_below_ground"]);
}

#[test]
fn a_combined_step_with_nothing_to_combine_is_a_stop_and_the_rest_is_still_checked() {
    for index in 1..whole_sequence().len() - 1 {
        let mut steps = whole_sequence();
        steps[index].combined = true;
        let combined = plan(&site(steps), &hang());
        assert_eq!(stops(&combined), ["nothing_to_combine"], "step {index}");
        assert_eq!((combined.findings[0].step, combined.stopped_at), (Some(index), None));
        assert_eq!(combined.pieces, plan(&site(whole_sequence()), &hang()).pieces);
    }
}

#[test]
fn a_pole_that_lies_nowhere_or_on_a_steep_slope_is_a_stop() {
    let butt = DVec3::new(9.0, -4.0, 0.0);
    let lying = |tip_toward: DVec3| {
        let mut site = site_after_start(vec![]);
        site.steps[0].action = Action::Start { butt, tip_toward, boom_length_m: 24.0 };
        stops(&plan(&site, &hang()))
    };
    assert_eq!(lying(DVec3::new(9.0, 10.0, 6.0)), Vec::<&str>::new());
    assert_eq!(lying(DVec3::new(9.0, 10.0, 9.0)), ["ground_too_steep"]);
    assert_eq!(lying(butt + DVec3::Z * 14.0), ["pole_place_missing"]);
    assert_eq!(lying(DVec3::new(9.0, f64::NAN, 0.0)), ["pole_place_missing"]);
}

#[test]
fn a_choker_that_is_not_on_the_pole_is_a_stop() {
    for at_m in [-0.5, 0.0, 17.0, 20.0] {
        let mut site = site(whole_sequence());
        site.rigging.choker_from_butt_m = at_m;
        assert_eq!(stops(&plan(&site, &hang())), ["choker_off_pole"], "{at_m}");
    }
}

#[test]
fn a_pole_that_hangs_flatter_than_it_lies_will_not_upend() {
    for tilt in [1.7, -0.1] {
        let plan = plan(&site(whole_sequence()), &hang_at(tilt, 0.19));
        assert_eq!((stops(&plan), plan.stopped_at), (vec!["pole_will_not_upend"], Some(2)), "{tilt}");
    }
}

#[test]
fn a_free_hook_is_not_lowered_into_the_ground() {
    assert_eq!(stops(&after_start(vec![Action::LowerTo { height_m: -0.1 }])), ["hook_below_ground"]);
    assert_eq!(stops(&after_start(vec![Action::LowerTo { height_m: 0.3 }])), Vec::<&str>::new());
}

#[test]
fn hoisting_that_lowers_and_lowering_that_hoists_is_said() {
    let cautions = |actions: Vec<Action>| {
        let found = hanging(actions).findings.into_iter();
        found.map(|f| (f.code(), f.step)).collect::<Vec<_>>()
    };
    // The test's pole hangs at 1 m. None of these is set, so that each ends on the hook.
    let ends = ("ends_on_hook", Some(4));
    assert_eq!(cautions(vec![Action::HoistTo { height_m: 0.5 }]), [("hoist_the_other_way", Some(4)), ends]);
    assert_eq!(cautions(vec![Action::LowerTo { height_m: 2.0 }]), [("hoist_the_other_way", Some(4)), ends]);
    assert_eq!(cautions(vec![Action::HoistTo { height_m: 2.0 }]), [ends]);
    assert_eq!(cautions(vec![Action::LowerTo { height_m: 0.5 }]), [ends]);
}

#[test]
fn a_sequence_that_ends_with_the_pole_on_the_hook_is_said() {
    let codes = |steps: usize| {
        let plan = plan(&site(whole_sequence()[..steps].to_vec()), &hang());
        assert!(plan.findings.iter().all(|f| f.grade == Grade::Stop));
        plan.findings.iter().map(|f| f.code()).collect::<Vec<_>>()
    };
    assert_eq!(codes(1), Vec::<&str>::new(), "nothing is on the hook yet");
    for steps in 2..=11 {
        assert_eq!(codes(steps), ["ends_on_hook"], "{steps}");
    }
    assert_eq!(codes(12), Vec::<&str>::new(), "released");
}
