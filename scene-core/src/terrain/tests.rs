use super::*;
use proptest::prelude::*;

fn surface(spots: &[DVec3], accuracy_m: f64) -> Surface {
    Surface::of(&Terrain { spots: spots.to_vec(), accuracy_m }).unwrap()
}

/// Spots on a shaken grid: apart from each other, not on one line.
fn spots() -> impl Strategy<Value = Vec<DVec3>> {
    (2..6_usize, 2..6_usize).prop_flat_map(|(columns, rows)| {
        prop::collection::vec([-4.0..4.0, -4.0..4.0, -3.0..3.0], columns * rows).prop_map(move |shaken| {
            let at = |(i, [x, y, z]): (usize, [f64; 3])| {
                DVec3::new(10.0 * (i % columns) as f64 + x, 10.0 * (i / columns) as f64 + y, z)
            };
            shaken.into_iter().enumerate().map(at).collect()
        })
    })
}

/// Of the circle about a triangle: center and radius.
fn circle(triangle: &[DVec3; 3]) -> (DVec2, f64) {
    let [a, b, c] = triangle.map(|corner| corner.truncate());
    let (u, v) = (b - a, c - a);
    let center = a + (v.perp() * -u.length_squared() + u.perp() * v.length_squared()) / (2.0 * u.perp_dot(v));
    (center, center.distance(a))
}

proptest! {
    #[test]
    fn the_surface_passes_through_every_spot(spots in spots(), accuracy in 0.01..0.3) {
        let surface = surface(&spots, accuracy);
        for spot in &spots {
            let height = surface.height(spot.truncate()).expect("a spot is on the surface");
            prop_assert!((height.middle() - spot.z).abs() < 1e-9);
            prop_assert!((height.width() - 2.0 * accuracy).abs() < 1e-8);
        }
    }

    #[test]
    fn no_spot_lies_inside_the_circle_about_a_triangle(spots in spots()) {
        for triangle in surface(&spots, 0.1).triangles() {
            let (center, radius) = circle(triangle);
            prop_assert!(triangle.iter().all(|corner| (corner.truncate().distance(center) - radius).abs() < 1e-6 * radius.max(1.0)));
            for spot in &spots {
                prop_assert!(spot.truncate().distance(center) >= radius * (1.0 - 1e-9) - 1e-9, "{spot} in {triangle:?}");
            }
        }
    }

    #[test]
    fn the_triangles_cover_the_hull_once(spots in spots()) {
        let surface = surface(&spots, 0.1);
        let area = |[a, b, c]: &[DVec3; 3]| (b.truncate() - a.truncate()).perp_dot(c.truncate() - a.truncate()) / 2.0;
        prop_assert!(surface.triangles().iter().all(|triangle| area(triangle) > 0.0), "counter-clockwise");
        let sum: f64 = surface.triangles().iter().map(area).sum();
        let whole = turns(surface.edge()) / 2.0;
        prop_assert!(whole > 0.0 && (sum - whole).abs() < 1e-9 * whole);
    }

    #[test]
    fn heights_lie_within_those_of_the_triangles_corners_and_do_not_jump(spots in spots(), probe in [-5.0..45.0, -5.0..45.0]) {
        let surface = surface(&spots, 0.1);
        let probe = DVec2::from(probe);
        let Some(height) = surface.height(probe) else { return Ok(()) };
        let (triangle, _) = surface.find(probe).unwrap();
        let low = triangle.iter().map(|corner| corner.z).fold(f64::INFINITY, f64::min);
        let high = triangle.iter().map(|corner| corner.z).fold(f64::NEG_INFINITY, f64::max);
        prop_assert!(low - 1e-9 <= height.middle() && height.middle() <= high + 1e-9);
        // Across every edge, a hair apart on both sides: no more than the steepest triangle rises over that hair. A sliver may
        // be as steep as a wall.
        // A point just outside counts as on the edge.
        let hair_m = 2e-7 + 2e3 * ROUNDING_M;
        let steepness = |[a, b, c]: &[DVec3; 3]| {
            let normal = (b - a).cross(c - a);
            normal.truncate().length() / normal.z.abs()
        };
        let steep = surface.triangles().iter().map(steepness).fold(0.0, f64::max);
        for [a, b, c] in surface.triangles() {
            for (p, q) in [(a, b), (b, c), (c, a)] {
                let middle = (p.truncate() + q.truncate()) / 2.0;
                let aside = (q.truncate() - p.truncate()).normalize().perp() * 1e-7;
                if let (Some(left), Some(right)) = (surface.height(middle + aside), surface.height(middle - aside)) {
                    prop_assert!((left.middle() - right.middle()).abs() <= steep * hair_m * (1.0 + 1e-6) + 1e-9);
                }
            }
        }
    }

    #[test]
    fn slope_is_that_of_finite_differences_and_its_bracket_holds_any_ground_within_the_accuracy(
        spots in spots(), probe in [0.0..40.0, 0.0..40.0], shift in prop::collection::vec(-1.0..1.0, 36), accuracy in 0.01..0.3,
    ) {
        let surface = surface(&spots, accuracy);
        let probe = DVec2::from(probe);
        let Some((triangle, share)) = surface.find(probe) else { return Ok(()) };
        prop_assume!(share.iter().all(|share| *share > 1e-3));
        let slope = surface.slope(probe).unwrap();
        let h = 1e-6;
        let z = |at: DVec2| surface.height(at).map(|height| height.middle());
        if let (Some(e), Some(w), Some(n), Some(s)) =
            (z(probe + DVec2::X * h), z(probe - DVec2::X * h), z(probe + DVec2::Y * h), z(probe - DVec2::Y * h))
        {
            let steep = slope.rise.length().max(1.0);
            prop_assert!((DVec2::new(e - w, n - s) / (2.0 * h) - slope.rise).length() < 1e-6 * steep * steep + 1e-7);
        }
        let mut other = triangle;
        for (corner, shift) in other.iter_mut().zip(&shift) {
            corner.z += shift * accuracy;
        }
        let real: DVec2 = other.iter().zip(share_gradients(&other).unwrap()).map(|(c, g)| g * c.z).sum();
        prop_assert!(slope.steepness.widened(1e-9).contains(real.length()));
    }

    #[test]
    fn between_its_knots_a_way_is_straight(spots in spots(), ends in [[0.0..40.0, 0.0..40.0], [0.0..40.0, 0.0..40.0]], at in 0.0..1.0) {
        let surface = surface(&spots, 0.1);
        let [from, to] = ends.map(DVec2::from);
        let Some(knots) = surface.along(from, to) else { return Ok(()) };
        prop_assert!(knots.first().unwrap().fraction == 0.0 && knots.last().unwrap().fraction == 1.0);
        let Some(pair) = knots.windows(2).find(|pair| pair[0].fraction <= at && at <= pair[1].fraction) else { return Ok(()) };
        let wide = pair[1].fraction - pair[0].fraction;
        prop_assume!(wide > 1e-6);
        let share = (at - pair[0].fraction) / wide;
        let height = pair[0].height_m.middle() * (1.0 - share) + pair[1].height_m.middle() * share;
        let found = surface.height(from + (to - from) * at).unwrap().middle();
        prop_assert!((height - found).abs() < 1e-5, "{height} is not {found}");
    }

    #[test]
    fn prisms_hold_all_ground_that_may_be_there(spots in spots(), probe in [0.0..40.0, 0.0..40.0], deep in 0.0..5.0, accuracy in 0.01..0.3) {
        let surface = surface(&spots, accuracy);
        let Some(height) = surface.height(DVec2::from(probe)) else { return Ok(()) };
        let held = |z: f64| {
            let point = DVec2::from(probe).extend(z);
            surface.prisms().iter().any(|prism| {
                let top: [DVec3; 3] = [prism.top[0], prism.top[1], prism.top[2]];
                let Some(share) = shares(&top, point.truncate()) else { return false };
                let roof: f64 = top.iter().zip(share).map(|(corner, share)| corner.z * share).sum();
                share.iter().all(|share| *share >= -1e-9) && prism.bottom_m <= z && z <= roof + 2.0 * ROUNDING_M + 1e-12
            })
        };
        prop_assert!(held(height.high()) && held(height.high() - deep));
        prop_assert!(!held(height.high() + 0.01));
        // Their volume in closed form: area times mean thickness.
        let volume: f64 = surface.prisms().iter().map(Prism::volume_m3).sum();
        let closed: f64 = surface.triangles().iter().map(|[a, b, c]| {
            let area = (b.truncate() - a.truncate()).perp_dot(c.truncate() - a.truncate()) / 2.0;
            let bottom = surface.prisms()[0].bottom_m - accuracy;
            area * ((a.z + b.z + c.z) / 3.0 - bottom)
        }).sum();
        prop_assert!((volume - closed).abs() < 1e-9 * closed);
    }
}

#[test]
fn a_plane_is_met_exactly_whatever_its_triangles() {
    let plane = |x: f64, y: f64| 2.0 + 0.05 * x - 0.12 * y;
    let spots: Vec<DVec3> = [(0.0, 0.0), (30.0, 3.0), (28.0, 25.0), (4.0, 31.0), (13.0, 9.0), (17.0, 22.0)]
        .map(|(x, y)| DVec3::new(x, y, plane(x, y)))
        .to_vec();
    let surface = surface(&spots, 0.03);
    let at = DVec2::new(14.0, 15.0);
    assert!((surface.height(at).unwrap().middle() - plane(14.0, 15.0)).abs() < 1e-12);
    let slope = surface.slope(at).unwrap();
    assert!((slope.rise - DVec2::new(0.05, -0.12)).length() < 1e-12);
    assert!(slope.steepness.contains(0.13));
}

#[test]
fn outside_the_spots_the_ground_is_not_known() {
    let surface = surface(&[DVec3::ZERO, DVec3::X * 10.0, DVec3::Y * 10.0], 0.1);
    assert_eq!(surface.height(DVec2::new(8.0, 8.0)), None);
    assert_eq!(surface.slope(DVec2::new(-0.01, 1.0)), None);
    assert_eq!(surface.along(DVec2::new(1.0, 1.0), DVec2::new(20.0, 1.0)), None);
    assert!(surface.height(DVec2::new(5.0, 5.0)).is_some(), "on the edge");
}

#[test]
fn spots_that_make_no_surface_are_told() {
    let of = |spots: Vec<DVec3>, accuracy_m| Surface::of(&Terrain { spots, accuracy_m });
    assert_eq!(of(vec![DVec3::ZERO, DVec3::X], 0.1), Err(TerrainError::TooFewSpots(2)));
    assert_eq!(of(vec![DVec3::ZERO, DVec3::X, DVec3::X * 2.0], 0.1), Err(TerrainError::OnOneLine));
    assert_eq!(of(vec![DVec3::ZERO; 5], 0.1), Err(TerrainError::OnOneLine));
    for bad in [f64::NAN, f64::INFINITY, 1e300] {
        let spots = vec![DVec3::ZERO, DVec3::X, DVec3::new(0.0, 1.0, bad)];
        assert_eq!(of(spots, 0.1), Err(TerrainError::NotFinite));
        assert!(of(vec![DVec3::ZERO, DVec3::X, DVec3::Y], bad).is_err());
    }
    assert!(of(vec![DVec3::new(1e-200, 0.0, 0.0), DVec3::X, DVec3::Y], 0.1).is_ok());
}
