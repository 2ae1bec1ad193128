use crate::finding::Grade;
use crate::fixtures::line::derrick;
use crate::fixtures::site::{hang, range, site, step};
use crate::machine::BodyId;
use crate::machine::crane::chain::{Place, Seat};
use crate::motion::{BodyMotion, Motion, MovingPart, WindLean};
use crate::sequence::{AugerState, LoadState, Piece, Plan, plan};
use crate::site::{Action, Allowance, Site};
use crate::solid::Feature;
use glam::DVec3;

const HOLE: DVec3 = DVec3::new(0.0, 9.0, 0.0);
const HELD_AT_M: f64 = 13.7;
const PLAY_M: f64 = 0.07;
const LEAN: f64 = 0.02;

fn allowance(value: f64) -> Option<Allowance> {
    Some(Allowance { value, reason: "test".into() })
}

/// The example's crane as a derrick whose auger reaches the hole, then these steps after the start.
fn with(actions: Vec<Action>) -> Site {
    let start =
        Action::Start { butt: DVec3::new(6.5, -4.0, 0.0), tip_toward: DVec3::new(6.5, 10.0, 0.0), boom_length_m: 14.2 };
    let mut steps = vec![step("", start)];
    steps.extend(actions.into_iter().map(|action| step("", action)));
    let mut site = site(steps);
    site.crane.foot_height_m = 4.0;
    let mut gear = derrick();
    gear.auger.along_m = 10.3;
    gear.auger.length_m = 5.9;
    gear.auger.flight_radius_m = 0.45;
    site.crane.derrick = Some(gear);
    site.allowances.guide_play = allowance(PLAY_M);
    site.allowances.guide_lean = allowance(LEAN);
    site
}

fn held(actions: Vec<Action>) -> Site {
    let before = vec![
        Action::TakeLoad,
        Action::Upend,
        Action::HoistTo { height_m: 0.3 },
        Action::IntoGuides { from_butt_m: HELD_AT_M },
    ];
    with([before, actions].concat())
}

fn set_from_guides() -> Site {
    held(vec![
        Action::SwingToward { point: HOLE },
        Action::BoomOver { point: HOLE },
        Action::LowerTo { height_m: -2.2 },
        Action::Release,
        Action::BoomAway { point: DVec3::new(0.0, 7.0, 0.0), hook_height_m: 12.0 },
    ])
}

fn stops(site: &Site) -> Vec<&'static str> {
    let found = plan(site, &hang()).findings;
    let stops = found.iter().filter(|f| f.grade == Grade::Stop).map(|f| f.code());
    // Some of these sequences are cut short with the pole on the hook.
    stops.filter(|code| *code != "ends_on_hook").collect()
}

fn pole_point(plan: &Plan, piece: &Piece, point: DVec3, u: f64) -> DVec3 {
    plan.chain.place_in_world(&Place::Pole(point), &piece.joints_at(u), &piece.seat, u)
}

fn in_guides(plan: &Plan) -> Vec<usize> {
    (0..plan.pieces.len()).filter(|&i| matches!(plan.pieces[i].seat, Seat::InGuides(_))).collect()
}

fn body(motion: &Motion, kind: BodyId) -> &BodyMotion {
    motion.bodies.iter().find(|body| body.id == kind).unwrap()
}

/// The farthest of the part in a direction.
fn reach(part: &MovingPart, u: f64, way: DVec3) -> f64 {
    let far = |feature: &Feature| match *feature {
        Feature::Ball { center, radius_m } => center.dot(way) + radius_m,
        Feature::Disc { center, .. } => center.dot(way),
    };
    part.hull(u).features.iter().map(far).fold(f64::NEG_INFINITY, f64::max)
}

#[test]
fn a_pole_in_the_guides_stays_plumb_and_goes_with_the_tip() {
    let site = set_from_guides();
    let plan = plan(&site, &hang());
    assert_eq!(plan.findings, vec![]);
    let pieces = in_guides(&plan);
    assert!(pieces.len() >= 3);
    let grip = site.crane.derrick.as_ref().unwrap().guides.clone();
    for i in pieces {
        let piece = &plan.pieces[i];
        assert_eq!(piece.load, LoadState::Hanging);
        for k in 0..=10 {
            let u = f64::from(k) / 10.0;
            let joints = piece.joints_at(u);
            let (butt, tip) = (pole_point(&plan, piece, DVec3::ZERO, u), pole_point(&plan, piece, DVec3::Z * 17.0, u));
            assert!((tip - butt - DVec3::Z * 17.0).length() < 1e-9);
            // The pin by plain trigonometry, the arms level from it; the butt as far down as the line lets it.
            let (sin, cos) = joints.boom_angle.sin_cos();
            let out_m = -1.4 + (joints.boom_length_m + grip.along_m) * cos + grip.below_m * sin + grip.reach_m;
            let (bs, bc) = (std::f64::consts::FRAC_PI_2 + joints.swing).sin_cos();
            assert!((butt.truncate() - glam::DVec2::new(bc, bs) * out_m).length() < 1e-9);
            let top_m = 4.0 + (joints.boom_length_m + 0.3) * sin - 0.4 * cos;
            assert!((butt.z - (top_m - joints.hoist_length_m - 0.7 - 1.5 - 10.5)).abs() < 1e-9);
        }
    }
    let last = plan.pieces.last().unwrap();
    assert_eq!(last.load, LoadState::Standing);
    assert!((pole_point(&plan, last, DVec3::ZERO, 1.0) - (HOLE - DVec3::Z * 2.2)).length() < 1e-9);
}

#[test]
fn the_pole_does_not_jump_into_or_out_of_the_guides() {
    let plan = plan(&set_from_guides(), &hang());
    for pair in plan.pieces.windows(2) {
        for at in [DVec3::ZERO, DVec3::new(0.2, -0.1, 16.0)] {
            let jump = pole_point(&plan, &pair[1], at, 0.0) - pole_point(&plan, &pair[0], at, 1.0);
            assert!(jump.length() < 1e-9, "{jump}");
        }
    }
}

#[test]
fn the_guides_are_where_on_the_pole_the_step_says() {
    let plan = plan(&held(vec![]), &hang());
    let last = plan.pieces.last().unwrap();
    let Seat::Butt { .. } = last.seat else { panic!("drawn in") };
    let guides = derrick().guides;
    let joints = last.to;
    let pin = plan.chain.crane.boom_in_world(&joints, joints.boom_length_m + guides.along_m, 0.0, guides.below_m);
    assert!((pin.z - pole_point(&plan, last, DVec3::ZERO, 1.0).z - HELD_AT_M).abs() < 1e-9);
}

#[test]
fn in_the_guides_play_and_lean_stand_in_place_of_swing() {
    let site = set_from_guides();
    let plan = plan(&site, &hang());
    let motion = Motion::of(&site, &plan, &WindLean { line: 0.03, pole: 0.004 });
    let base = 0.15 + 0.3 + 0.2 + 0.05;
    for i in in_guides(&plan) {
        let piece = &plan.pieces[i];
        let Seat::InGuides(grip) = piece.seat else { panic!() };
        let part = body(&motion, BodyId::Pole).parts[i].first().unwrap();
        let butt = part.features.first().unwrap();
        // Sampled: never less than play and lean from where the guides are on the pole.
        for k in 0..=10 {
            let u = f64::from(k) / 10.0;
            let joints = piece.joints_at(u);
            let station = grip.in_world(&plan.chain.crane, &joints).z - pole_point(&plan, piece, DVec3::ZERO, u).z;
            let least = base + PLAY_M + (LEAN + 0.004) * station;
            assert!(butt.allowance_m >= least - 1e-9, "{} {least}", butt.allowance_m);
            assert!(butt.allowance_m < least + 0.2);
        }
        // The line is drawn aside: its lower end is allowed that besides its own swing and lean.
        let aside = plan.chain.drawn_aside_m(&grip, &piece.from, &piece.to);
        let block = &body(&motion, BodyId::HookBlock).parts[i][0].features[0];
        assert!(block.allowance_m >= base + 0.25 + aside);
    }
}

#[test]
fn the_choke_is_never_farther_from_plumb_than_said() {
    let plan = plan(&set_from_guides(), &hang());
    for i in in_guides(&plan) {
        let piece = &plan.pieces[i];
        let Seat::InGuides(grip) = piece.seat else { panic!() };
        let said = plan.chain.drawn_aside_m(&grip, &piece.from, &piece.to);
        for k in 0..=20 {
            let u = f64::from(k) / 20.0;
            let choke = pole_point(&plan, piece, plan.chain.choke_in_pole, u);
            let plumb = plan.chain.crane.choke_in_world(&piece.joints_at(u));
            assert!((choke - plumb).truncate().length() <= said + 1e-9);
            assert!((choke - plumb).z.abs() < 1e-9);
        }
    }
}

#[test]
fn each_thing_that_guides_cannot_do_is_a_stop() {
    let whole = set_from_guides();
    let changed = |change: &dyn Fn(&mut Site)| {
        let mut site = whole.clone();
        change(&mut site);
        stops(&site)
    };
    let guides = |site: &mut Site, change: &dyn Fn(&mut crate::site::PoleGuides)| {
        change(&mut site.crane.derrick.as_mut().unwrap().guides);
    };
    assert_eq!(changed(&|_| {}), Vec::<&str>::new());
    assert_eq!(changed(&|site| site.crane.derrick = None), ["no_guides"]);
    assert_eq!(changed(&|site| site.allowances.guide_play = None), ["guide_play_missing"]);
    assert_eq!(changed(&|site| site.allowances.guide_lean = None), ["guide_play_missing"]);
    assert_eq!(changed(&|site| guides(site, &|g| g.tilt = range(0.0, 0.1))), ["guides_tilt_limit"]);
    assert_eq!(changed(&|site| guides(site, &|g| g.holds_m = range(0.5, 0.6))), ["guides_do_not_fit"]);
    assert_eq!(changed(&|site| guides(site, &|g| g.holds_m = range(0.1, 0.2))), ["guides_do_not_fit"]);
    assert_eq!(changed(&|site| guides(site, &|g| g.catch_m = 0.01)), ["pole_not_at_guides"]);
    let reach_far = |g: &mut crate::site::PoleGuides| (g.reach_m, g.catch_m) = (2.0, 3.0);
    assert_eq!(changed(&|site| guides(site, &reach_far)), ["line_drawn_aside"]);
    assert_eq!(changed(&|site| guides(site, &|g| g.reach_m = f64::NAN)), ["not_a_measure"]);
    assert_eq!(stops(&held(vec![Action::LowerTo { height_m: -2.2 }])), ["butt_misses_hole"]);
    assert_eq!(stops(&held(vec![Action::IntoGuides { from_butt_m: HELD_AT_M }])), ["no_load"]);
    assert_eq!(stops(&with(vec![Action::IntoGuides { from_butt_m: HELD_AT_M }])), ["no_load"]);
    // With the tip so high the guides come off the pole's top before it is down.
    let long_boom = |site: &mut Site| {
        if let Action::Start { boom_length_m, .. } = &mut site.steps[0].action {
            *boom_length_m = 15.0;
        }
    };
    assert_eq!(changed(&long_boom), ["guides_off_pole"]);
}

#[test]
fn the_auger_goes_to_the_depth_over_the_hole_and_back() {
    let back = Action::SwingToward { point: DVec3::new(6.5, 6.5, 0.0) };
    let site = with(vec![Action::Dig { depth_m: 2.3 }, back]);
    let plan = plan(&site, &hang());
    assert_eq!(plan.findings, vec![]);
    let motion = Motion::of(&site, &plan, &WindLean::default());
    let auger = body(&motion, BodyId::Auger);
    let flight = |i: usize| auger.parts[i].last().unwrap();
    let center = |i: usize, u: f64| match flight(i).hull(u).features.last() {
        Some(Feature::Ball { center, .. }) => *center,
        _ => panic!("a ball"),
    };
    let digging: Vec<usize> = (0..plan.pieces.len())
        .filter(|&i| matches!(plan.pieces[i].auger, AugerState::Hanging { aside_m } if aside_m > 0.0))
        .collect();
    let [down, up] = digging[..] else { panic!("down and up: {digging:?}") };
    assert!(center(down, 0.0).z.abs() < 1e-9 && (center(down, 1.0).z + 2.3).abs() < 1e-9);
    assert!((center(up, 0.0).z + 2.3).abs() < 1e-9 && center(up, 1.0).z.abs() < 1e-9);
    // The hole's axis is in the widened flight all the way, and the widening is within what the bar can lean.
    for u in [0.0, 0.25, 0.5, 0.75, 1.0] {
        let AugerState::Hanging { aside_m } = plan.pieces[down].auger else { panic!() };
        assert!(aside_m <= 0.08 * 5.9);
        assert!((center(down, u) - HOLE).truncate().length() <= aside_m + 1e-9);
    }
    // Nothing of it is below the ground before and after, and it ends stowed.
    for i in (0..plan.pieces.len()).filter(|&i| i < down || i > up) {
        for part in auger.parts[i].iter().filter(|_| plan.pieces[i].auger != AugerState::Stowed) {
            let balls = part.hull(0.0).features.len().max(1);
            assert!(balls > 1 && reach(part, 0.0, DVec3::NEG_Z) <= 0.45 + 1e-9);
        }
    }
    assert_eq!(plan.pieces.last().unwrap().auger, AugerState::Stowed);
    let hook = |piece: &Piece| plan.chain.crane.choke_in_world(&piece.to).z;
    assert!(plan.pieces.iter().skip(2).all(|piece| hook(piece) > 0.0), "the hook stays out of the ground");
}

#[test]
fn the_swinging_auger_is_held_by_its_fan() {
    let site = with(vec![Action::Dig { depth_m: 2.3 }]);
    let plan = plan(&site, &hang());
    let motion = Motion::of(&site, &plan, &WindLean::default());
    let auger = body(&motion, BodyId::Auger);
    let swinging: Vec<usize> =
        (0..plan.pieces.len()).filter(|&i| plan.pieces[i].auger == AugerState::Swinging).collect();
    assert_eq!(swinging.len(), 2);
    for i in swinging {
        let joints = plan.pieces[i].from;
        let gear = &site.crane.derrick.as_ref().unwrap().auger;
        let pin = plan.chain.crane.boom_in_world(&joints, gear.along_m, gear.left_m, gear.below_m);
        let out = plan.chain.crane.outward(joints.swing);
        for k in 0..=40 {
            // From back along the boom to plumb.
            let angle = joints.boom_angle + (std::f64::consts::FRAC_PI_2 - joints.boom_angle) * f64::from(k) / 40.0;
            let point = pin - (out * angle.cos() + DVec3::Z * angle.sin()) * gear.length_m;
            for way in (0..60).map(|j| f64::from(j) * 0.105) {
                let way = out * way.cos() + DVec3::Z * way.sin();
                let held = reach(&auger.parts[i][0], 0.5, way);
                assert!(held >= point.dot(way) + gear.flight_radius_m - 1e-9, "{k} {way}");
            }
        }
    }
}

#[test]
fn each_thing_that_an_auger_cannot_do_is_a_stop() {
    let changed = |change: &dyn Fn(&mut Site)| {
        let mut site = with(vec![Action::Dig { depth_m: 2.3 }]);
        change(&mut site);
        stops(&site)
    };
    let auger = |site: &mut Site, change: &dyn Fn(&mut crate::site::Auger)| {
        change(&mut site.crane.derrick.as_mut().unwrap().auger);
    };
    assert_eq!(changed(&|_| {}), Vec::<&str>::new());
    assert_eq!(changed(&|site| site.crane.derrick = None), ["no_auger"]);
    assert_eq!(changed(&|site| site.steps[1].action = Action::Dig { depth_m: 2.0 }), ["hole_too_shallow"]);
    assert_eq!(changed(&|site| site.steps[1].action = Action::Dig { depth_m: f64::NAN }), ["not_a_measure"]);
    assert_eq!(changed(&|site| auger(site, &|a| a.flight_radius_m = 0.3)), ["auger_too_narrow"]);
    assert_eq!(changed(&|site| auger(site, &|a| a.length_m = 30.0)), ["auger_out_of_reach"]);
    assert_eq!(changed(&|site| auger(site, &|a| a.left_m = 12.0)), ["auger_out_of_reach"]);
    assert_eq!(changed(&|site| auger(site, &|a| a.most_lean = 0.01)), ["auger_out_of_plumb"]);
    assert_eq!(changed(&|site| site.crane.two_block_m = 4.0)[..1], ["two_block"]);
    let taken = with(vec![Action::TakeLoad, Action::Dig { depth_m: 2.3 }]);
    assert_eq!(stops(&taken), ["load_on_hook"]);
}

#[test]
fn the_load_is_rated_at_the_farther_of_line_and_pole() {
    let plan = plan(&set_from_guides(), &hang());
    for i in in_guides(&plan) {
        let piece = &plan.pieces[i];
        let Seat::InGuides(grip) = piece.seat else { panic!() };
        let (crane, joints) = (&plan.chain.crane, piece.joints_at(0.4));
        let radius = piece.range(crane).radius_m;
        let pole = grip.in_world(crane, &joints).truncate().length();
        assert!(radius.contains(crane.radius_m(joints.boom_angle, joints.boom_length_m)) && radius.contains(pole));
    }
}
