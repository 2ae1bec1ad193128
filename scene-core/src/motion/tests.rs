//! Tracks against direct kinematics, motion error against samples of what it stands for.

use super::spread::{Corner, Spread};
use super::*;
use crate::bracket::Bracket;
use crate::finding::Grade;
use crate::fixtures::site::{hang, hang_at, range, site, step, whole_sequence};
use crate::machine::BodyId;
use crate::machine::crane::chain::{Chain, Grip, Place, Seat};
use crate::machine::crane::{Joint, Joints};
use crate::sequence::upend::Upend;
use crate::sequence::{LoadState, Path, Plan, plan};
use crate::site::{Action, Step};
use crate::solid::Feature;
use glam::DVec3;
use proptest::prelude::*;
use std::sync::Arc;

const CALM: WindLean = WindLean { line: 0.0, pole: 0.0 };

fn example() -> (Plan, Motion) {
    let site = site(whole_sequence());
    let plan = plan(&site, &hang());
    let motion = Motion::of(&site, &plan, &CALM);
    (plan, motion)
}

fn center(feature: &Feature) -> DVec3 {
    match *feature {
        Feature::Ball { center, .. } | Feature::Disc { center, .. } => center,
    }
}

fn unit() -> Bracket {
    range(0.0, 1.0)
}

fn joints() -> impl Strategy<Value = Joints> {
    (-4.0..4.0_f64, -0.1..1.5_f64, 8.0..32.0_f64, 0.5..25.0_f64, -1.0..1.6_f64, -4.0..4.0_f64).prop_map(
        |(swing, boom_angle, boom_length_m, hoist_length_m, pole_tilt, pole_heading)| Joints {
            swing,
            boom_angle,
            boom_length_m,
            hoist_length_m,
            pole_tilt,
            pole_heading,
            pole_turn: 0.7,
        },
    )
}

fn point(size: f64) -> impl Strategy<Value = DVec3> {
    [-size..size, -size..size, -size..size].prop_map(DVec3::from)
}

fn place() -> impl Strategy<Value = Place> {
    prop_oneof![
        point(5.0).prop_map(Place::Upper),
        (-3.0..10.0_f64, 0.0..1.0_f64, -1.0..1.0_f64, -1.0..1.0_f64)
            .prop_map(|(along_m, share, left_m, below_m)| Place::Boom { along_m, share, left_m, below_m }),
        (0.0..3.0_f64, prop::bool::ANY, 0.0..0.5_f64).prop_map(|(below_m, hoisted, inward_m)| Place::Line {
            below_m,
            hoisted,
            inward_m
        }),
        (-3.0..10.0_f64, 0.0..1.0_f64, -1.0..1.0_f64, -1.0..1.0_f64, -4.0..2.0_f64, -1.0..5.0_f64).prop_map(
            |(along_m, share, left_m, below_m, out_m, down_m)| Place::Hung {
                along_m,
                share,
                left_m,
                below_m,
                out_m,
                down_m
            }
        ),
        point(1.5).prop_map(|p| Place::Pole(p + DVec3::Z * 8.0)),
        (0.0..17.0_f64).prop_map(|z| Place::Pole(DVec3::Z * z)),
    ]
}

fn seat() -> impl Strategy<Value = Seat> {
    let grip = (-0.5..0.5_f64, -0.2..0.6_f64, 0.0..0.8_f64).prop_map(|(along_m, below_m, out_m)| Grip {
        along_m,
        below_m,
        out_m,
    });
    prop_oneof![
        Just(Seat::OnHook),
        grip.prop_map(Seat::InGuides),
        (point(20.0), point(20.0)).prop_map(|(from, to)| Seat::Butt { from, to })
    ]
}

fn chain() -> Arc<Chain> {
    plan(&site(vec![]), &hang()).chain
}

fn corners() -> impl Strategy<Value = Vec<Corner>> {
    let corner = (place(), 0.0..0.5_f64, prop::bool::ANY).prop_map(|(place, radius_m, disc)| {
        let disc = disc && matches!(place, Place::Pole(_));
        Corner { place, radius_m, disc, allowance_m: 0.0, line_lean: 0.0 }
    });
    prop::collection::vec(corner, 1..5)
}

/// The corner's points farthest from its own center, as offsets: the disc's rim.
fn rim(chain: &Chain, corner: &Corner, joints: &Joints) -> Vec<DVec3> {
    if !corner.disc {
        return vec![DVec3::ZERO];
    }
    [DVec3::X, DVec3::Y, -DVec3::X, -DVec3::Y]
        .map(|way| chain.pole_direction_in_world(joints, way) * corner.radius_m)
        .to_vec()
}

/// What leaves the motion error: the farthest that any point of the corners truly is from where the part's motion has it.
fn strays_m(spread: &Spread, running: &Joints, truly: &Joints, u: f64) -> f64 {
    let of = |corner: &Corner| {
        let ends = [running, truly].map(|joints| {
            let at = spread.chain.place_in_world(&corner.place, joints, &spread.seat, u);
            rim(&spread.chain, corner, joints).into_iter().map(|r| at + r).collect::<Vec<_>>()
        });
        ends[0].iter().zip(&ends[1]).map(|(a, b)| (*a - *b).length()).fold(0.0, f64::max)
    };
    spread.corners.iter().map(of).fold(0.0, f64::max)
}

proptest! {
    #[test]
    fn a_track_is_where_the_joints_put_the_corner(
        from in joints(), to in joints(), seat in seat(), corners in corners(), u in 0.0..1.0_f64,
    ) {
        let chain = chain();
        let spread = Spread { chain: Arc::clone(&chain), corners: corners.clone().into(), from, to, path: Path::Even, seat, u: unit() };
        let part = spread.part();
        prop_assert!(part.motion_error_m == 0.0 && part.halves().is_none());
        let now = from.toward(&to, u);
        for (corner, feature) in corners.iter().zip(&part.hull(u).features) {
            let direct = chain.place_in_world(&corner.place, &now, &seat, u);
            prop_assert!((center(feature) - direct).length() < 1e-9, "{corner:?}");
            if let Feature::Disc { axis, .. } = feature {
                prop_assert!((*axis - chain.pole_direction_in_world(&now, DVec3::Z)).length() < 1e-9);
            }
        }
    }

    #[test]
    fn the_motion_error_holds_every_combination_of_the_box(
        from in joints(), by in [-0.6..0.6_f64, -0.4..0.4, -6.0..6.0, -6.0..6.0, -0.3..0.3, -1.0..1.0],
        still in [prop::bool::ANY, prop::bool::ANY, prop::bool::ANY, prop::bool::ANY, prop::bool::ANY, prop::bool::ANY],
        rides in prop::bool::ANY, lead in 0_usize..6, seat in seat(), corners in corners(),
        f in [0.0..=1.0_f64, 0.0..=1.0, 0.0..=1.0, 0.0..=1.0, 0.0..=1.0, 0.0..=1.0], ends in prop::bool::ANY,
    ) {
        let mut to = from;
        for (k, &joint) in Joint::ALL.iter().take(6).enumerate() {
            to = to.with(joint, from.get(joint) + if still[k] { 0.0 } else { by[k] });
        }
        if rides {
            to.pole_heading = from.pole_heading + (to.swing - from.swing);
        }
        let seat = match seat {
            Seat::Butt { from, .. } => Seat::Butt { from, to: from },
            on_hook => on_hook,
        };
        // The extremes lie at the corners of the box.
        let f = if ends { f.map(f64::round) } else { f };
        let rides = rides && !matches!(seat, Seat::Butt { .. }) && to.swing != from.swing;
        let lead = if rides && lead == 5 { Joint::Swing } else { Joint::ALL[lead] };
        let mut truly = from;
        for (k, &joint) in Joint::ALL.iter().take(6).enumerate() {
            truly = truly.with(joint, from.get(joint) + (to.get(joint) - from.get(joint)) * f[k]);
        }
        if rides {
            truly.pole_heading = from.pole_heading + (truly.swing - from.swing);
        }
        let u = f[Joint::ALL.iter().position(|&j| j == lead).unwrap()];
        let spread = Spread { chain: chain(), corners: corners.into(), from, to, path: Path::Box { lead }, seat, u: unit() };
        let mut running = from.toward(&to, 0.5).with(lead, truly.get(lead));
        if rides && lead == Joint::Swing {
            running.pole_heading = truly.pole_heading;
        }
        let part = spread.clone().part();
        let seen = strays_m(&spread, &running, &truly, u);
        prop_assert!(seen <= part.motion_error_m + 1e-9, "{seen} {}", part.motion_error_m);
        let (modelled, direct) = (part.hull(u), spread.chain.place_in_world(&spread.corners[0].place, &running, &seat, u));
        prop_assert!((center(&modelled.features[0]) - direct).length() < 1e-9);
        // Halves: the sample is held by one of them, and there is less to know.
        let Some(halves) = part.halves() else {
            prop_assert!(part.motion_error_m == 0.0);
            return Ok(());
        };
        let held = halves.iter().any(|half| {
            let (from, to) = half.spread.as_ref().map_or((running, running), |s| (s.from, s.to));
            let inside = half.spread.is_none() || Joint::ALL.iter().all(|&j| {
                let (a, b) = (from.get(j), to.get(j));
                (a.min(b) - 1e-12..=a.max(b) + 1e-12).contains(&truly.get(j))
            });
            let strays = spread.corners.iter().zip(&half.hull(u).features).map(|(corner, feature)| {
                (center(feature) - spread.chain.place_in_world(&corner.place, &truly, &seat, u)).length()
            }).fold(0.0, f64::max);
            inside && strays <= half.motion_error_m + 1e-9
        });
        prop_assert!(held);
        prop_assert!(halves.iter().all(|half| half.motion_error_m < part.motion_error_m));
    }

    #[test]
    fn the_deviation_between_knots_is_inside_the_motion_error(
        along in 6.0..14.0_f64, out in 0.05..0.3_f64, slope in -0.1..0.1_f64, end in 0.02..0.3_f64, pieces in 3_usize..30,
        which in 0.0..1.0_f64, u in 0.0..=1.0_f64, corners in corners(),
    ) {
        let chain = chain();
        let start = Joints { boom_angle: 1.0, boom_length_m: 25.0, hoist_length_m: 20.0, pole_tilt: 1.56 - slope, pole_turn: 0.7, ..Joints::default() };
        let arc = Upend::new(along, out, 0.23, slope, start.pole_tilt, start.hoist_length_m);
        let knots = arc.knots(end.max(arc.tilt_of_lift() + 0.01), pieces);
        let first = ((pieces as f64 * which) as usize).min(pieces - 1);
        let [from, to] = [knots[first], knots[first + 1]].map(|t| Joints { pole_tilt: t, hoist_length_m: arc.hoist_at(t), ..start });
        let spread = Spread { chain, corners: corners.into(), from, to, path: Path::Upend(arc), seat: Seat::OnHook, u: unit() };
        let truly = |u: f64| {
            let even = from.toward(&to, u);
            even.with(Joint::PoleTilt, arc.tilt_at(even.hoist_length_m))
        };
        let part = spread.clone().part();
        let strays = strays_m(&spread, &from.toward(&to, u), &truly(u), u);
        prop_assert!(strays <= part.motion_error_m + 1e-7, "{strays} {}", part.motion_error_m);
        if let Some(halves) = part.halves() {
            let cut = halves[0].u_in_piece(1.0);
            prop_assume!(halves.iter().all(|half| half.spread.is_some()));
            prop_assert!((halves[1].u_in_piece(0.0) - cut).abs() < 1e-12 && halves[1].u_in_piece(1.0) == 1.0);
            let (half, within) = if u <= cut { (&halves[0], u / cut) } else { (&halves[1], (u - cut) / (1.0 - cut)) };
            for (corner, feature) in spread.corners.iter().zip(&half.hull(within).features) {
                let direct = spread.chain.place_in_world(&corner.place, &truly(u), &Seat::OnHook, u);
                prop_assert!((center(feature) - direct).length() <= half.motion_error_m + 1e-7);
            }
            prop_assert!(halves.iter().all(|h| h.motion_error_m < part.motion_error_m * 0.55 + 1e-8));
        }
    }

    #[test]
    fn no_combination_of_a_carry_or_of_booming_away_leaves_the_motion_error_of_any_body(
        bearing in -0.6..1.6_f64, radius_m in 9.0..12.5_f64, height_m in 3.0..5.0_f64, loaded in prop::bool::ANY,
        shares in [0.0..=1.0_f64, 0.0..=1.0, 0.0..=1.0], ends in prop::bool::ANY,
    ) {
        let point = DVec3::new(bearing.cos(), bearing.sin(), 0.0) * radius_m;
        let (mut steps, action) = if loaded {
            (whole_sequence()[..3].to_vec(), Action::Carry { point, height_m })
        } else {
            (whole_sequence()[..12].to_vec(), Action::BoomAway { point, hook_height_m: 13.0 + height_m })
        };
        if loaded {
            steps.push(step("hoist", Action::HoistTo { height_m: 3.0 }));
        }
        steps.push(Step { combined: true, ..step("all at once", action) });
        let site = site(steps);
        let plan = plan(&site, &hang());
        // Far out the boom comes so far down that the butt, not yet raised, is on the ground.
        prop_assume!(plan.stopped_at.is_none());
        let motion = Motion::of(&site, &plan, &CALM);
        let (index, piece) = (plan.pieces.len() - 1, plan.pieces.last().unwrap());
        let Path::Box { lead } = piece.path else { return Err(TestCaseError::fail("no box")) };
        let (from, to) = (piece.from, piece.to);
        let share = if ends { shares.map(f64::round) } else { shares };
        let between = |a: f64, b: f64, share: f64| a + (b - a) * share;
        // The hoist line may be as short as the piece says, and as long as it is at either end.
        let longest_m = from.hoist_length_m.max(to.hoist_length_m);
        let truly = Joints {
            swing: between(from.swing, to.swing, share[0]),
            pole_heading: between(from.pole_heading, to.pole_heading, share[0]),
            boom_angle: between(from.boom_angle, to.boom_angle, share[1]),
            hoist_length_m: between(longest_m, piece.shortest_hoist_m, share[2]),
            ..from
        };
        let u = match lead {
            Joint::Swing => share[0],
            Joint::BoomAngle => share[1],
            _ => (truly.hoist_length_m - from.hoist_length_m) / (to.hoist_length_m - from.hoist_length_m),
        };
        for part in motion.bodies.iter().flat_map(|body| body.parts[index].iter()) {
            let Some(spread) = &part.spread else { continue };
            for (corner, feature) in spread.corners.iter().zip(&part.hull(u).features) {
                let at = plan.chain.place_in_world(&corner.place, &truly, &piece.seat, u);
                prop_assert!((center(feature) - at).length() <= part.motion_error_m + 1e-9, "{corner:?}");
            }
        }
        let blurred = motion.bodies.iter().filter(|body| body.parts[index].iter().any(|part| part.motion_error_m > 0.0)).count();
        prop_assert!(blurred >= if loaded { 7 } else { 5 }, "{blurred}");
    }

    #[test]
    fn no_number_makes_a_part_panic(x in prop::num::f64::ANY, y in prop::num::f64::ANY, corners in corners(), lead in 0_usize..7) {
        let from = Joints { swing: x, boom_angle: y, boom_length_m: x, pole_tilt: y, ..Joints::default() };
        let to = Joints { swing: y, boom_angle: x, hoist_length_m: y, pole_heading: x, ..Joints::default() };
        let path = Path::Box { lead: Joint::ALL[lead] };
        let spread = Spread { chain: chain(), corners: corners.into(), from, to, path, seat: Seat::OnHook, u: unit() };
        let part = spread.part();
        let _ = (part.halves(), part.hull(0.5));
    }
}

#[test]
fn every_body_is_where_the_plan_puts_it_in_every_piece() {
    let (plan, motion) = example();
    let chain = &plan.chain;
    let mut compared = 0;
    for (index, piece) in motion.pieces.iter().enumerate().filter(|(_, p)| !matches!(p.path, Path::Box { .. })) {
        for u in [0.0, 0.37, 1.0] {
            let joints = piece.joints_at(u);
            let at = |place: &Place| chain.place_in_world(place, &joints, &piece.seat, u);
            let find = |kind: BodyId| motion.bodies.iter().find(|b| b.id == kind).unwrap();
            let hull = |kind: BodyId, part: usize| find(kind).parts[index][part].hull(u);
            let motion_error = |kind: BodyId| find(kind).parts[index][0].motion_error_m + 1e-9;
            let crane = &chain.crane;
            let near = |kind: BodyId, part: usize, corner: usize, direct: DVec3| {
                let seen = center(&hull(kind, part).features[corner]);
                assert!((seen - direct).length() <= motion_error(kind), "{kind:?} piece {index}: {seen} {direct}");
            };
            near(BodyId::BoomHead, 0, 0, crane.sheave_in_world(&joints));
            near(BodyId::HoistLine, 0, 0, crane.line_top_in_world(&joints));
            near(BodyId::HookBlock, 0, 1, crane.hook_in_world(&joints));
            near(BodyId::Rigging, 0, 1, crane.choke_in_world(&joints));
            near(BodyId::Pole, 0, 0, at(&Place::Pole(DVec3::ZERO)));
            near(BodyId::Pole, 2, 1, at(&Place::Pole(DVec3::Z * 17.0)));
            near(BodyId::PoleItem(0), 0, 0, at(&Place::Pole(DVec3::new(0.2, -1.2, 16.0))));
            // The last section's end is the boom's end.
            let tip = crane.boom_in_world(&joints, joints.boom_length_m, 0.0, 0.0);
            let ends = hull(BodyId::Boom, 3).features[4..].iter().map(center).sum::<DVec3>() / 4.0;
            assert!((ends - tip).length() < 1e-9);
            compared += 1;
        }
    }
    assert!(compared > 100);
}

#[test]
fn what_is_said_to_stand_still_does() {
    let (_, motion) = example();
    for body in &motion.bodies {
        assert_eq!(body.parts.len(), motion.pieces.len());
        for (parts, &still) in body.parts.iter().zip(&body.still) {
            assert!(!still || parts.iter().all(|part| part.is_still() && part.motion_error_m == 0.0), "{}", body.name);
        }
        assert!(body.still.iter().any(|&s| s) && body.still.iter().any(|&s| !s), "{} moves now and then", body.name);
    }
}

#[test]
fn the_allowance_grows_along_the_pole_and_is_small_once_it_stands() {
    let site = site(whole_sequence());
    let plan = plan(&site, &hang());
    let motion = Motion::of(&site, &plan, &WindLean { line: 0.02, pole: 0.03 });
    let pole = motion.bodies.iter().find(|b| b.id == BodyId::Pole).unwrap();
    let hanging = motion.pieces.iter().position(|p| p.load == LoadState::Hanging).unwrap();
    let piece = &motion.pieces[hanging];
    let tip_radius_m = pole.parts[hanging][2].features[1].radius_m;
    let line_m = piece.from.hoist_length_m.max(piece.to.hoist_length_m) + 0.7 + 1.5;
    let tip_m = 1.5 + DVec3::new(0.19, 0.0, 17.0 - 10.5).length() + tip_radius_m;
    let expected = 0.15 + 0.3 + 0.2 + 0.05 + 0.25 + 0.02 * line_m + (0.01 + 0.03) * tip_m;
    let tip = pole.parts[hanging][2].features[1].allowance_m;
    assert!((tip - expected).abs() < 1e-12, "{tip} {expected}");
    let standing = pole.parts.last().unwrap();
    assert!(standing.iter().flat_map(|p| &p.features).all(|f| (f.allowance_m - 0.2).abs() < 1e-12));
    let boom = motion.bodies.iter().find(|b| b.id == BodyId::Boom).unwrap();
    assert!((boom.parts[0][0].features[0].allowance_m - 0.7).abs() < 1e-12);
}

#[test]
fn a_pole_cut_where_its_cover_ends_leaves_no_gap() {
    let (_, motion) = example();
    let piece = motion.pieces.iter().position(|p| p.load == LoadState::Hanging).unwrap();
    let cut = motion.pole_stretches(piece, &[range(0.0, 8.5), range(8.5, 14.0), range(14.0, 40.0), range(50.0, 60.0)]);
    assert_eq!(cut.iter().map(Vec::len).collect::<Vec<_>>(), [2, 2, 1, 0]);
    let end = |part: &MovingPart, which: usize| part.hull(0.4).features[which];
    assert_eq!(center(&end(&cut[1][1], 1)), center(&end(&cut[2][0], 0)));
    assert_eq!(cut[1][1].features[1].radius_m, cut[2][0].features[0].radius_m);
    assert!(motion.pole_stretches(9999, &[range(0.0, 1.0)]).is_empty());
}

#[test]
fn a_boom_whose_sections_do_not_meet_is_a_stop() {
    let mut site = site(whole_sequence());
    assert_eq!(Motion::of(&site, &plan(&site, &hang()), &CALM).findings, vec![]);
    site.crane.sections[2].length_m = 2.0;
    site.crane.sections[3].extension_share = 0.9;
    let findings = Motion::of(&site, &plan(&site, &hang()), &CALM).findings;
    assert!(
        !findings.is_empty() && findings.iter().all(|f| f.code() == "boom_sections_apart" && f.grade == Grade::Stop)
    );
}

#[test]
fn the_tail_and_the_choker_go_where_they_belong() {
    let (plan, motion) = example();
    let tail = motion.bodies.iter().find(|b| b.id == BodyId::Counterweight).unwrap();
    let rear: Vec<DVec3> = tail.parts[0][0].hull(0.0).features[..4].iter().map(center).collect();
    let outward = plan.chain.crane.outward(plan.pieces[0].from.swing);
    assert!(rear.iter().all(|corner| (corner.dot(outward) + 3.2).abs() < 1e-9));
    let rigging = motion.bodies.iter().find(|b| b.id == BodyId::Rigging).unwrap();
    assert_eq!((rigging.parts[0].len(), rigging.parts[3].len()), (1, 2), "tied round the pole only while it carries");
}

#[test]
fn a_hang_that_is_not_a_number_moves_nothing() {
    let site = site(whole_sequence());
    let plan = plan(&site, &hang_at(f64::NAN, 0.19));
    assert_eq!((plan.pieces.len(), plan.stopped_at), (0, Some(0)));
    assert!(Motion::of(&site, &plan, &CALM).bodies.iter().all(|b| b.parts.is_empty()));
}

#[test]
fn what_the_hang_leaves_open_is_allowed_for() {
    let site = site(whole_sequence());
    let known = plan(&site, &hang());
    let open = crate::rigging::Hang {
        tilt_rad: range(0.042, 0.062),
        choke_offset_m: range(0.18, 0.20),
        tip_leans: range(3.0, 2.0 * std::f64::consts::PI - 3.0),
        ..hang()
    };
    let unsure = plan(&site, &open);
    assert!((unsure.pieces[0].from.hoist_length_m - known.pieces[0].from.hoist_length_m).abs() < 1e-12);
    let allowed = Motion::of(&site, &unsure, &CALM);
    let least = Motion::of(&site, &known, &CALM);
    let piece = allowed.pieces.iter().position(|p| p.load == LoadState::Hanging).unwrap();
    let of = |motion: &Motion, part: usize, corner: usize| {
        let pole = motion.bodies.iter().find(|b| b.id == BodyId::Pole).unwrap();
        pole.parts[piece][part].features[corner].clone()
    };
    for (part, corner, station) in [(0, 0, 0.0), (2, 1, 17.0)] {
        let extra = of(&allowed, part, corner).allowance_m - of(&least, part, corner).allowance_m;
        // Every pose that the hang may have, with the choke in its place and the pole facing its way.
        let joints = allowed.pieces[piece].from;
        let axis_end = |tilt: f64, offset: f64, leans: f64| {
            let chain = Chain { choke_in_pole: DVec3::new(offset, 0.0, 10.5), ..(*unsure.chain).clone() };
            let facing = joints.pole_heading + joints.pole_turn;
            let posed = Joints { pole_tilt: tilt, pole_turn: -leans, pole_heading: facing + leans, ..joints };
            chain.place_in_world(&Place::Pole(DVec3::Z * station), &posed, &Seat::OnHook, 0.0)
        };
        let middle = axis_end(0.052, 0.19, std::f64::consts::PI);
        for tilt in [0.042, 0.062] {
            for offset in [0.18, 0.20] {
                for leans in [3.0, 2.0 * std::f64::consts::PI - 3.0] {
                    assert!((axis_end(tilt, offset, leans) - middle).length() <= extra);
                }
            }
        }
    }
}

#[test]
fn a_pole_carried_round_pointing_outward_is_blurred_out_to_its_tip() {
    let chain = chain();
    let start = Joints {
        boom_angle: 0.9,
        boom_length_m: 25.0,
        hoist_length_m: 4.0,
        pole_tilt: 1.5,
        pole_heading: chain.crane.heading,
        pole_turn: -std::f64::consts::PI,
        ..Joints::default()
    };
    let end = Joints { swing: 0.2, pole_heading: start.pole_heading + 0.2, boom_angle: 0.95, ..start };
    let tip =
        Corner { place: Place::Pole(DVec3::Z * 17.0), radius_m: 0.0, disc: false, allowance_m: 0.0, line_lean: 0.0 };
    let path = Path::Box { lead: Joint::BoomAngle };
    let (corners, seat) = ([tip].into(), Seat::OnHook);
    let spread = Spread { chain, corners, from: start, to: end, path, seat, u: unit() };
    let truly = Joints { boom_angle: start.boom_angle, ..end };
    let running = Joints { swing: 0.1, pole_heading: start.pole_heading + 0.1, ..truly };
    let (seen, motion_error) = (strays_m(&spread, &running, &truly, 0.0), spread.clone().part().motion_error_m);
    assert!(seen <= motion_error && motion_error < seen * 1.02, "{seen} {motion_error}");
}
