use super::*;
use crate::site::ground::{Stand, Task};
use proptest::prelude::*;
use std::f64::consts::{PI, TAU};

/// How far a solid goes along a direction.
fn reach_of(part: &MovingPart, way: DVec3) -> f64 {
    part.hull(0.0).features.iter().map(|corner| corner.farthest(way).dot(way)).fold(f64::NEG_INFINITY, f64::max)
}

/// Whether no direction of many, evenly over the sphere (golden spiral), has the point beyond the solid: never false for a
/// point inside.
fn may_hold(part: &MovingPart, point: DVec3) -> bool {
    (0..400).all(|i| {
        let z = 1.0 - (2.0 * f64::from(i) + 1.0) / 400.0;
        let turn = f64::from(i) * PI * (3.0 - 5.0_f64.sqrt());
        let flat = (1.0 - z * z).sqrt();
        !beyond(part, point, DVec3::new(flat * turn.cos(), flat * turn.sin(), z))
    })
}

/// Whether the point is farther this way than anything of the solid, which proves that it is outside.
fn beyond(part: &MovingPart, point: DVec3, way: DVec3) -> bool {
    reach_of(part, way) < point.dot(way) - 1e-9
}

fn area_of(corners: &[DVec2]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    corners.iter().zip(next).map(|(a, b)| a.perp_dot(*b)).sum::<f64>() / 2.0
}

/// By crossings of a ray to the east.
fn inside(corners: &[DVec2], p: DVec2) -> bool {
    let next = corners.iter().cycle().skip(1);
    let crossed = corners
        .iter()
        .zip(next)
        .filter(|(a, b)| (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x));
    crossed.count() % 2 == 1
}

fn place() -> impl Strategy<Value = DVec3> {
    [-40.0..40.0, -40.0..40.0, -3.0..3.0].prop_map(DVec3::from)
}

proptest! {
    #[test]
    fn every_piece_of_a_concave_area_is_convex_and_together_they_are_the_area(
        radii in prop::collection::vec(1.0..30.0_f64, 3..20), probe in [-30.0..30.0, -30.0..30.0], reversed: bool,
    ) {
        // A star about the origin never crosses itself.
        let n = radii.len() as f64;
        let mut corners: Vec<DVec2> =
            radii.iter().enumerate().map(|(i, r)| DVec2::from_angle(TAU * i as f64 / n) * *r).collect();
        let whole = area_of(&corners);
        if reversed {
            corners.reverse();
        }
        let pieces = convex_pieces(&corners);
        for piece in &pieces {
            let m = piece.len();
            for i in 0..m {
                prop_assert!((piece[(i + 1) % m] - piece[i]).perp_dot(piece[(i + 2) % m] - piece[(i + 1) % m]) >= -1e-9);
            }
        }
        let sum: f64 = pieces.iter().map(|piece| area_of(piece)).sum();
        prop_assert!((sum - whole).abs() < 1e-9 * whole.max(1.0), "{sum} is not {whole}");
        let probe = DVec2::from(probe);
        let held = pieces.iter().any(|piece| inside(piece, probe));
        prop_assert_eq!(held, inside(&corners, probe));
    }

    #[test]
    fn a_standing_pole_is_held_by_its_solid_from_foot_to_top(
        foot in place(), lean in [-3.0..3.0, -3.0..3.0], height in 5.0..30.0, along in 0.0..1.0,
        around in 0.0..TAU, radii in [0.1..0.6, 0.05..0.1],
    ) {
        let top = foot + DVec3::new(lean[0], lean[1], height);
        let pole = StandingPole { name: String::new(), foot, top, foot_radius_m: radii[0], top_radius_m: radii[1] };
        let axis = (top - foot).normalize();
        let aside = axis.any_orthonormal_vector();
        let out = aside * around.cos() + axis.cross(aside) * around.sin();
        let skin = foot + (top - foot) * along + out * (radii[0] + (radii[1] - radii[0]) * along);
        let solid = standing_pole(&pole);
        prop_assert!(may_hold(&solid, skin));
        // Along the skin's own normal it goes exactly as far as the skin.
        let normal = (out * (top - foot).length() + axis * (radii[0] - radii[1])).normalize();
        prop_assert!((reach_of(&solid, normal) - skin.dot(normal)).abs() < 1e-9);
        prop_assert!(reach_of(&solid, axis) <= top.dot(axis) + 1e-9, "it ends at its top");
    }

    #[test]
    fn a_tree_is_held_trunk_and_crown(foot in place(), around in 0.0..TAU, up in 0.0..1.0, out in 0.0..1.0) {
        let shape = Shape::Tree { foot, height_m: 12.0, trunk_radius_m: 0.3, crown_from_m: 4.0, crown_radius_m: 3.5 };
        let parts = obstacle_parts(&Obstacle { name: String::new(), shape });
        let around = DVec3::new(around.cos(), around.sin(), 0.0);
        let trunk = foot + around * 0.3 * out + DVec3::Z * (12.0 * up);
        let crown = foot + around * 3.5 * out + DVec3::Z * (4.0 + 8.0 * up);
        prop_assert!(parts.iter().any(|part| may_hold(part, trunk)));
        prop_assert!(parts.iter().any(|part| may_hold(part, crown)));
        // Under the crown, beside the trunk, is nothing.
        let under = foot + around * 2.0 + DVec3::Z * 3.0;
        prop_assert!(beyond(&parts[0], under, around) && beyond(&parts[1], under, -DVec3::Z));
    }

    #[test]
    fn a_wall_on_a_slope_is_held_to_its_top(from in place(), to in place(), along in 0.0..1.0, up in 0.0..1.0, side in -1.0..1.0) {
        prop_assume!((to - from).truncate().length() > 0.5);
        let shape = Shape::Wall { from, to, height_m: 2.0, thickness_m: 0.3 };
        let parts = obstacle_parts(&Obstacle { name: String::new(), shape });
        let aside = (to - from).truncate().normalize().perp().extend(0.0) * 0.15 * side;
        let point = from + (to - from) * along + aside + DVec3::Z * (2.0 * up);
        prop_assert!(may_hold(&parts[0], point));
        let along_wall = (to - from).normalize();
        let up = (DVec3::Z - along_wall * along_wall.z).normalize();
        prop_assert!(beyond(&parts[0], from + (to - from) * along + DVec3::Z * 2.5, up));
    }
}

#[test]
fn a_house_round_a_corner_leaves_its_yard_open() {
    let corners =
        [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (5.0, 10.0), (5.0, 5.0), (0.0, 5.0)].map(DVec2::from).to_vec();
    let house = Obstacle { name: "house".into(), shape: Shape::Building { corners, ground_m: 0.0, height_m: 7.0 } };
    let parts = obstacle_parts(&house);
    let ways = [DVec3::Y, -DVec3::X, DVec3::new(-1.0, 1.0, 0.0)];
    let outside = |part: &MovingPart, point| ways.iter().chain([&DVec3::Z]).any(|way| beyond(part, point, *way));
    assert!(parts.iter().all(|part| outside(part, DVec3::new(2.0, 8.0, 1.0))), "the yard");
    for point in [DVec3::new(8.0, 8.0, 6.9), DVec3::new(1.0, 1.0, 0.1), DVec3::new(5.1, 9.9, 3.0)] {
        assert!(parts.iter().any(|part| may_hold(part, point)), "{point} is in the house");
    }
    assert!(parts.iter().all(|part| outside(part, DVec3::new(8.0, 8.0, 7.5))), "above the roof");
}

fn during(on_after_step: Option<usize>, off_before_step: Option<usize>) -> During {
    During { on_after_step, off_before_step }
}

fn ruiz(stands: &[(DVec3, During)]) -> Person {
    let stands = stands.iter().map(|&(at, during)| Stand { at, during }).collect();
    Person { name: "Ruiz".into(), task: Task::TagLine, reach_m: 0.9, height_m: 2.4, stands }
}

#[test]
fn a_person_is_there_between_two_steps_and_the_space_above_goes_up_with_him() {
    let at = DVec3::new(3.0, 4.0, 0.0);
    let person = ruiz(&[(at, during(Some(2), Some(7)))]);
    let above = above_person(&person);
    let over = above.parts_in(4).next().expect("he is there");
    assert!(
        may_hold(over, at + DVec3::new(0.89, 0.0, 40.0)) && beyond(over, at + DVec3::new(1.2, 0.0, 40.0), DVec3::X)
    );
    let all = neighbours(&Neighbours { people: vec![person], ..Neighbours::default() });
    let there: Vec<usize> = (0..10).filter(|step| all[0].parts_in(*step).next().is_some()).collect();
    assert_eq!((all.len(), there), (1, (2..=7).collect()));
    assert!(beyond(all[0].parts_in(4).next().unwrap(), at + DVec3::Z * 2.6, DVec3::Z));
}

#[test]
fn a_person_walks_straight_from_place_to_place_while_he_has_neither() {
    let (from, to) = (DVec3::ZERO, DVec3::new(20.0, 0.0, 1.0));
    let person = ruiz(&[(from, during(None, Some(3))), (to, during(Some(5), None))]);
    let all = neighbours(&Neighbours { people: vec![person.clone()], ..Neighbours::default() });
    let holds = |step: usize, point: DVec3| all[0].parts_in(step).any(|part| may_hold(part, point));
    let halfway = DVec3::new(10.0, 0.5, 2.0);
    assert_eq!([2, 3, 4, 5, 6].map(|step| holds(step, halfway)), [false, true, true, true, false]);
    assert!(holds(0, from) && !holds(0, to) && !holds(6, from) && holds(6, to));
    assert_eq!(person.in_two_places(), None);
    for (leaves, comes) in [(Some(3), Some(2)), (None, Some(2)), (Some(3), None), (None, None)] {
        let both = ruiz(&[(from, during(None, leaves)), (to, during(comes, None))]);
        assert_eq!(both.in_two_places(), Some(2), "{leaves:?} {comes:?}");
    }
}

#[test]
fn nothing_that_is_not_a_number_makes_it_panic_or_loop() {
    let nan = DVec2::splat(f64::NAN);
    for corners in [vec![], vec![nan], vec![nan; 7], vec![DVec2::ZERO; 9]] {
        convex_pieces(&corners);
    }
    // A bow tie crosses itself: all its corners are in one piece.
    let bow = [(0.0, 0.0), (4.0, 4.0), (4.0, 0.0), (0.0, 4.0), (-3.0, 2.0)].map(DVec2::from);
    let pieces = convex_pieces(&bow);
    assert!(bow.iter().all(|corner| pieces.iter().flatten().any(|other| other == corner)));
}
