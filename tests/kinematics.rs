//! Crane and pole kinematics against hand arithmetic and against a product of homogeneous transforms, which is the
//! textbook way (Craig, Introduction to Robotics, ch. 3; from memory) and shares no code with scene-core.

use ::fixtures::line;
use ::fixtures::site::{self as fixtures, allowance, range, step};
use glam::{DAffine3, DQuat, DVec3};
use proptest::prelude::*;
use scene_core::bracket::Bracket;
use scene_core::check::check;
use scene_core::machine::BodyId;
use scene_core::machine::crane::reach::ReachError;
use scene_core::machine::crane::{CraneFrame, Joints};
use scene_core::motion::{Motion, WindLean};
use scene_core::outcome::{GapRow, OtherKind};
use scene_core::pole;
use scene_core::rigging::{self, Hang};
use scene_core::sequence::{Path, Piece, plan};
use scene_core::site::*;
use scene_core::solid::Feature;
use std::f64::consts::{FRAC_PI_2, PI};

/// A boom without head offset, its foot pin at the origin of the slew axis.
fn plain() -> CraneFrame {
    CraneFrame {
        at: DVec3::ZERO,
        heading: 0.0,
        foot_offset_m: 0.0,
        foot_height_m: 0.0,
        head_along_m: 0.0,
        head_below_m: 0.0,
        sheave_radius_m: 0.0,
        block_length_m: 0.0,
        rigging_length_m: 0.0,
        boom_length_m: range(5.0, 60.0),
        boom_angle: range(0.0, FRAC_PI_2),
        swing: range(-PI, PI),
    }
}

#[test]
fn a_boom_on_a_three_four_five_triangle() {
    // source: 3-4-5 triangle; computed.
    let crane = plain();
    let angle = (4.0_f64 / 3.0).atan();
    assert!((crane.radius_m(angle, 25.0) - 15.0).abs() < 1e-12);
    let top = crane.line_top_in_world(&Joints { boom_angle: angle, boom_length_m: 25.0, ..Joints::default() });
    assert!((top - DVec3::new(15.0, 0.0, 20.0)).length() < 1e-12);
    assert!((crane.boom_angle_for(15.0, 25.0, 1.0).unwrap() - angle).abs() < 1e-12);
}

#[test]
fn sixty_degrees_of_boom_halve_its_length_and_a_foot_pin_behind_shortens_the_radius() {
    // source: cos 60° = 1/2, sin 60° = √3/2; computed. 100 ft of boom, foot pin 3 ft behind the axis and 7 ft up.
    let ft = 0.3048;
    let crane =
        CraneFrame { foot_offset_m: -3.0 * ft, foot_height_m: 7.0 * ft, boom_length_m: range(9.0, 60.0), ..plain() };
    let angle = 60_f64.to_radians();
    assert!((crane.radius_m(angle, 100.0 * ft) / ft - 47.0).abs() < 1e-9);
    let top = crane.line_top_in_world(&Joints { boom_angle: angle, boom_length_m: 100.0 * ft, ..Joints::default() });
    assert!((top.z / ft - (7.0 + 86.602_540_378)).abs() < 1e-6);
}

#[test]
fn an_upright_boom_carries_the_line_outside_its_head() {
    // Straight up, what was below the axis is outward: radius = head below + sheave radius.
    let crane = CraneFrame { head_below_m: 0.4, sheave_radius_m: 0.2, head_along_m: 0.3, ..plain() };
    assert!((crane.radius_m(FRAC_PI_2, 20.0) - 0.6).abs() < 1e-12);
    // Level, it hangs below, and the line leaves beyond the tip.
    assert!((crane.radius_m(0.0, 20.0) - 20.5).abs() < 1e-12);
    let top = crane.line_top_in_world(&Joints { boom_length_m: 20.0, ..Joints::default() });
    assert!((top.z + 0.4).abs() < 1e-12);
}

#[test]
fn a_radius_beyond_the_boom_s_length_cannot_be_had() {
    let crane = plain();
    assert!(
        matches!(crane.boom_angle_for(25.1, 25.0, 0.5), Err(ReachError::TooFar { most_m, .. }) if (most_m - 25.0).abs() < 1e-9)
    );
    let steep = CraneFrame { boom_angle: range(0.5, 1.0), ..plain() };
    let Err(ReachError::BoomAngle { least_m, most_m, .. }) = steep.boom_angle_for(24.0, 25.0, 0.6) else {
        panic!("24 m needs less than 0.5 rad");
    };
    assert!((least_m - 25.0 * 1.0_f64.cos()).abs() < 1e-9 && (most_m - 25.0 * 0.5_f64.cos()).abs() < 1e-9);
}

/// One link after the other: what scene-core's frame tree says, as a product of transforms.
struct Peer {
    crane: Crane,
    rigging_m: f64,
    choke: DVec3,
}

impl Peer {
    fn upper(&self, j: &Joints) -> DAffine3 {
        DAffine3::from_translation(self.crane.at) * DAffine3::from_rotation_z(self.crane.heading + j.swing)
    }

    /// x along the boom, z square to it upward.
    fn boom(&self, j: &Joints) -> DAffine3 {
        self.upper(j)
            * DAffine3::from_translation(DVec3::new(self.crane.foot_offset_m, 0.0, self.crane.foot_height_m))
            * DAffine3::from_quat(DQuat::from_rotation_y(-j.boom_angle))
    }

    fn sheave(&self, j: &Joints) -> DVec3 {
        self.boom(j).transform_point3(DVec3::new(
            j.boom_length_m + self.crane.head.along_m,
            0.0,
            -self.crane.head.below_m,
        ))
    }

    fn hook(&self, j: &Joints) -> DVec3 {
        let outward = self.upper(j).transform_vector3(DVec3::X) * self.crane.head.sheave_radius_m;
        self.sheave(j) + outward - DVec3::Z * (j.hoist_length_m + self.crane.block.length_m)
    }

    fn pole_turned(&self, j: &Joints) -> DAffine3 {
        DAffine3::from_rotation_z(j.pole_heading)
            * DAffine3::from_rotation_y(j.pole_tilt)
            * DAffine3::from_rotation_z(j.pole_turn)
    }

    fn on_hook(&self, j: &Joints, point: DVec3) -> DVec3 {
        let pole = DAffine3::from_translation(self.hook(j) - DVec3::Z * self.rigging_m)
            * self.pole_turned(j)
            * DAffine3::from_translation(-self.choke);
        pole.transform_point3(point)
    }
}

fn center(feature: &Feature) -> DVec3 {
    match *feature {
        Feature::Ball { center, .. } | Feature::Disc { center, .. } => center,
    }
}

fn hang(offset_m: f64) -> Hang {
    let exactly = Bracket::exactly;
    Hang {
        tilt_rad: exactly(0.05),
        choke_offset_m: exactly(offset_m),
        offset_m: exactly(offset_m),
        lever_m: exactly(4.0),
        tip_leans: exactly(PI),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn every_body_is_where_a_product_of_transforms_puts_it(
        heading in -3.0..3.0_f64, at in [-20.0..20.0_f64, -20.0..20.0, -2.0..2.0], foot in -2.0..0.5_f64,
        below in 0.0..0.6_f64, sheave in 0.1..0.3_f64, bearing in -2.0..2.0_f64, radius in 9.0..14.0_f64, u in 0.0..=1.0_f64,
    ) {
        let site = site(heading, DVec3::from(at), foot, below, sheave, bearing, radius);
        let plan = plan(&site, &hang(0.18));
        prop_assert_eq!(plan.stopped_at, None, "{:?}", plan.findings);
        let motion = Motion::of(&site, &plan, &WindLean::default());
        let peer = Peer { crane: site.crane.clone(), rigging_m: site.rigging.length_m, choke: DVec3::new(0.18, 0.0, 10.0) };
        for (index, piece) in motion.pieces.iter().enumerate() {
            let j = piece.joints_at(u);
            for body in &motion.bodies {
                let part = &body.parts[index][0];
                let corner = |which: usize| center(&part.hull(u).features[which]);
                let on_hook = piece.load.on_hook();
                let direct = match body.id {
                    BodyId::BoomHead => (corner(0), peer.sheave(&j)),
                    BodyId::HookBlock => (corner(1), peer.hook(&j)),
                    BodyId::Rigging => (corner(0), peer.hook(&j)),
                    BodyId::Counterweight => (corner(0), peer.upper(&j).transform_point3(DVec3::new(-3.0, -1.0, 1.0))),
                    BodyId::Boom => (corner(7), peer.boom(&j).transform_point3(DVec3::new(12.0, 0.3, -0.3))),
                    BodyId::Pole if on_hook => (corner(0), peer.on_hook(&j, DVec3::ZERO)),
                    BodyId::PoleItem(_) if on_hook => (corner(1), peer.on_hook(&j, DVec3::new(0.2, 1.0, 15.0))),
                    _ => continue,
                };
                let apart = (direct.0 - direct.1).length();
                prop_assert!(apart <= part.motion_error_m + 1e-9, "{:?} in piece {index}: {apart}", body.id);
                prop_assert!(part.motion_error_m == 0.0 || matches!(piece.path, Path::Upend(_)));
            }
        }
    }

    #[test]
    fn the_tilt_of_a_rising_pole_is_what_bisection_finds(share in 0.02..0.98_f64, radius in 9.0..14.0_f64) {
        let site = site(0.3, DVec3::ZERO, -1.0, 0.4, 0.2, 0.5, radius);
        let plan = plan(&site, &hang(0.18));
        let rising: Vec<_> = plan.pieces.iter().filter(|p| matches!(p.path, Path::Upend(_))).collect();
        let piece = rising[(share * rising.len() as f64) as usize];
        let j = piece.joints_at(share);
        let peer = Peer { crane: site.crane.clone(), rigging_m: site.rigging.length_m, choke: DVec3::new(0.18, 0.0, 10.0) };
        // How far the butt's lowest edge is above the ground for a tilt, hoist as it is: falling as the pole comes upright.
        let above = |tilt: f64| peer.on_hook(&Joints { pole_tilt: tilt, ..j }, DVec3::ZERO).z - 0.22 * tilt.sin();
        let (mut low, mut high) = (0.045, 1.6);
        for _ in 0..60 {
            let middle = (low + high) / 2.0;
            if above(middle) < 0.0 { low = middle } else { high = middle }
        }
        prop_assert!((low - j.pole_tilt).abs() < 1e-7, "{low} {}", j.pole_tilt);
    }
}

/// A pole lying at `radius` abeam of the slew axis, raised, swung, boomed, extended and turned.
fn site(heading: f64, at: DVec3, foot: f64, below: f64, sheave: f64, bearing: f64, radius: f64) -> Site {
    let out = DVec3::new((heading + bearing).cos(), (heading + bearing).sin(), 0.0);
    let left = DVec3::new(-out.y, out.x, 0.0);
    let butt = DVec3::new(at.x, at.y, 0.0) + out * radius - left * 8.0;
    let steps = [
        Action::Start { butt, tip_toward: butt + left * 16.0, boom_length_m: 26.0 },
        Action::TakeLoad,
        Action::Upend,
        Action::HoistTo { height_m: 3.0 },
        Action::SwingToward { point: DVec3::new(at.x, at.y, 0.0) + (out + left) * 9.0 },
        Action::BoomToRadius { radius_m: 11.0 },
        Action::Extend { boom_length_m: 28.0 },
        Action::Turn { facing: 1.0 },
    ];
    let tube = TubeSection { length_m: 16.0, bottom_m: 0.44, top_m: 0.24, wall_m: 0.006, lap_m: 0.0 };
    let shell = Shell::SteelTube { sides: Sides::Round, sections: vec![tube] };
    let section = |tip: f64, share: f64| BoomSection {
        length_m: 12.0,
        width_m: 0.6,
        depth_m: 0.6,
        extension_share: share,
        tip_retracted_m: tip,
    };
    Site {
        pole: Pole {
            items: vec![PoleItem {
                name: "arm".into(),
                mass_kg: 20.0,
                from: DVec3::new(0.2, -1.0, 15.0),
                to: DVec3::new(0.2, 1.0, 15.0),
                radius_m: 0.1,
            }],
            ..fixtures::pole(16.0, shell)
        },
        hole: Hole { at: DVec3::new(at.x, at.y, 0.0) + out * 12.0, facing: 0.0, depth_m: 2.1, diameter_m: 0.9 },
        rigging: Rigging { choker_from_butt_m: 10.0, diameter_m: 0.02, ..fixtures::rigging() },
        crane: Crane {
            at,
            heading,
            foot_offset_m: foot,
            foot_height_m: 2.5,
            sections: vec![section(12.0, 0.0), section(12.0, 0.5), section(12.0, 1.0)],
            boom_length_m: range(12.0, 34.0),
            boom_angle: range(0.0, 1.4),
            head: BoomHead { along_m: 0.2, below_m: below, sheave_radius_m: sheave, radius_m: 0.6 },
            block: HookBlock { length_m: 0.7, radius_m: 0.2, mass_kg: 100.0, capacity_kg: 5000.0 },
            two_block_m: 0.8,
            tail: Tail { radius_m: 3.0, half_width_m: 1.0, from_height_m: 1.0, to_height_m: 2.5 },
            ..fixtures::crane()
        },
        allowances: Allowances { load_swing_growth: allowance(0.01), ..fixtures::allowances(0.1) },
        ..fixtures::site(steps.map(|action| step("", action)).to_vec())
    }
}

// ------------------------------------------------------------------------------------------- a carry, checked

/// Taken, upended, hoisted to 2 m and carried over a point, past one level wire known exactly, in still air.
fn carried(wire: [DVec3; 2], point: DVec3, height_m: f64, combined: bool) -> Site {
    let mut site = site(0.3, DVec3::ZERO, -1.0, 0.4, 0.2, 0.5, 11.0);
    site.steps.truncate(3);
    for (action, combined) in
        [(Action::HoistTo { height_m: 2.0 }, false), (Action::Carry { point, height_m }, combined)]
    {
        site.steps.push(Step { name: String::new(), action, combined });
    }
    site.circuits = vec![line::circuit("feeder", 12_470.0)];
    site.weather = vec![Weather { name: "still".into(), wind_m_s: 0.0 }];
    let conductor = Conductor {
        name: "test".into(),
        diameter_m: 2.0 * WIRE_RADIUS_M,
        weight_n_per_m: 5.0,
        rated_strength_n: Some(50_000.0),
        stiffness_n: None,
        metal: None,
        source: "test".into(),
        stiffness_doubt: 0.0,
        from_memory: String::new(),
    };
    let [from, to] = wire;
    let span = Span { from, to, hang: scene_core::site::Hang::Sag { sag_m: Bracket::exactly(SAG_M) } };
    site.wires = vec![Wire {
        name: "A".into(),
        kind: WireKind::Phase { circuit: 0 },
        conductor,
        spans: vec![span],
        attached: vec![],
        measured: WireMeasured::default(),
    }];
    site
}

const WIRE_RADIUS_M: f64 = 0.007;
const SAG_M: f64 = 0.4;

/// Points of the wire, by the catenary through its two level ends whose sag at midspan is as stated; its constant by bisection.
fn wire_points([from, to]: [DVec3; 2], count: usize) -> Vec<DVec3> {
    let half_m = (to - from).length() / 2.0;
    let sag = |a: f64| a * ((half_m / a).cosh() - 1.0);
    let (mut low, mut high) = (half_m, 1e6);
    for _ in 0..200 {
        let a = (low * high).sqrt();
        if sag(a) > SAG_M { low = a } else { high = a }
    }
    let at = |i: usize| {
        let t = i as f64 / (count - 1) as f64;
        let x = half_m * (2.0 * t - 1.0);
        from + (to - from) * t + DVec3::Z * (low * ((x / low).cosh() - 1.0) - SAG_M)
    };
    (0..count).map(at).collect()
}

/// No less than the gap of the pole as it hangs to the wire: from points on the shaft's discs toward points of the wire.
fn pole_gap_m(peer: &Peer, joints: &Joints, wire: &[DVec3]) -> f64 {
    let axis = peer.pole_turned(joints).transform_vector3(DVec3::Z);
    let mut least = f64::INFINITY;
    for i in 0..=32 {
        let station_m = 16.0 * f64::from(i) / 32.0;
        let (center, radius_m) = (peer.on_hook(joints, DVec3::Z * station_m), 0.22 - 0.10 * station_m / 16.0);
        for &q in wire {
            let off = q - center;
            let level = off - axis * off.dot(axis);
            let on_disc = level.clamp_length_max(radius_m);
            least = least.min((off - on_disc).length() - WIRE_RADIUS_M);
        }
    }
    least
}

/// The same for the hook block: a capsule.
fn hook_gap_m(peer: &Peer, joints: &Joints, wire: &[DVec3]) -> f64 {
    let hook = peer.hook(joints);
    let points = (0..=8).flat_map(|i| wire.iter().map(move |q| (f64::from(i) / 8.0, *q)));
    points.map(|(t, q)| (q - hook - DVec3::Z * (0.7 * t)).length() - 0.2 - WIRE_RADIUS_M).fold(f64::INFINITY, f64::min)
}

fn wire_gaps(site: &Site) -> Vec<GapRow> {
    check(site).gaps.into_iter().filter(|row| row.other_kind == OtherKind::Wire).collect()
}

fn row<'a>(rows: &'a [GapRow], body: &str) -> &'a GapRow {
    rows.iter().find(|row| row.body == body).unwrap_or_else(|| panic!("no row for {body}"))
}

/// Swing (the pole with it), boom angle and hoist anywhere between the ends of the carry, each by its own share.
fn somewhere(piece: &Piece, [swing, boom, hoist]: [f64; 3]) -> Joints {
    let (from, to) = (&piece.from, &piece.to);
    let between = |a: f64, b: f64, share: f64| a + (b - a) * share;
    Joints {
        swing: between(from.swing, to.swing, swing),
        pole_heading: between(from.pole_heading, to.pole_heading, swing),
        boom_angle: between(from.boom_angle, to.boom_angle, boom),
        hoist_length_m: between(from.hoist_length_m.max(to.hoist_length_m), piece.shortest_hoist_m, hoist),
        ..*from
    }
}

#[test]
fn no_combination_of_a_combined_carry_is_nearer_than_reported_and_one_joint_at_a_time_is_never_nearer() {
    let shares: Vec<f64> = (0..=6).map(|i| f64::from(i) / 6.0).collect();
    // Across the carry, above and beside it, near enough and not; raised, lowered, boomed up and down.
    let cases = [
        (0.9, 9.0, 4.0, [0.75, 8.0, 17.5]),
        (0.9, 9.0, 1.6, [0.75, 10.5, 21.5]),
        (-0.8, 9.5, 3.0, [-0.3, 14.0, 12.0]),
        (1.2, 12.0, 5.0, [1.0, 12.5, 22.5]),
        (0.0, 10.0, 2.0, [0.4, 12.0, 19.0]),
    ];
    let mut strictly_less = 0;
    for (bearing, radius_m, height_m, [wire_bearing, wire_radius_m, wire_height_m]) in cases {
        let way = |bearing: f64| DVec3::new((0.3 + bearing).cos(), (0.3 + bearing).sin(), 0.0);
        let middle = way(wire_bearing) * wire_radius_m + DVec3::Z * wire_height_m;
        let along = way(wire_bearing + FRAC_PI_2) * 25.0;
        let wire = [middle - along, middle + along];
        let point = way(bearing) * radius_m;
        let (one_by_one, combined) = (carried(wire, point, height_m, false), carried(wire, point, height_m, true));
        let mass = pole::mass(&combined.pole, &[]).expect("its pole has a mass");
        let hang = rigging::hang(&combined.pole, &mass, &combined.rigging).expect("its pole hangs");
        let planned = plan(&combined, &hang);
        assert_eq!(planned.stopped_at, None, "{:?}", planned.findings);
        let piece = planned.pieces.last().expect("a carry");
        assert!(matches!(piece.path, Path::Box { .. }));

        let choke = DVec3::new(hang.choke_offset_m.middle(), 0.0, 10.0);
        let peer = Peer { crane: combined.crane.clone(), rigging_m: combined.rigging.length_m, choke };
        let points = wire_points(wire, 251);
        let mut sampled = [f64::INFINITY; 2];
        for &swing in &shares {
            for &boom in &shares {
                for &hoist in &shares {
                    let joints = somewhere(piece, [swing, boom, hoist]);
                    let found = [pole_gap_m(&peer, &joints, &points), hook_gap_m(&peer, &joints, &points)];
                    for (least, found) in sampled.iter_mut().zip(found) {
                        *least = least.min(found);
                    }
                }
            }
        }
        let (apart, together) = (wire_gaps(&one_by_one), wire_gaps(&combined));
        assert_eq!(apart.len(), together.len());
        for (body, sampled) in ["pole", "hook block"].into_iter().zip(sampled) {
            let reported = row(&together, body);
            assert!(sampled >= reported.low_m - 1e-9, "{body}: {sampled} is nearer than {}", reported.low_m);
            assert_eq!(reported.step, Some(4), "the carry is what comes nearest");
            assert!(sampled <= reported.high_m + 0.06, "{body}: {sampled} is far from {}", reported.high_m);
        }
        for one in &apart {
            let both = row(&together, &one.body);
            assert!(
                both.low_m <= one.low_m + 1e-3 && both.low_m <= one.high_m,
                "{}: {} {}",
                one.body,
                both.low_m,
                one.low_m
            );
            strictly_less += i32::from(both.high_m < one.low_m - 0.05);
        }
    }
    assert!(strictly_less >= 3, "{strictly_less}");
}
