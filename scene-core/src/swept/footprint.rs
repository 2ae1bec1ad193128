//! Outlines on the ground.

use glam::{DVec2, DVec3};

/// The convex outline of points seen from above, counterclockwise from the westmost. Andrew's monotone chain.
pub(super) fn outline(points: impl Iterator<Item = DVec3>) -> Vec<DVec2> {
    let mut sorted: Vec<DVec2> = points.map(DVec3::truncate).collect();
    sorted.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    sorted.dedup();
    if sorted.len() < 3 {
        return sorted;
    }
    let half = |points: &mut dyn Iterator<Item = &DVec2>| {
        let mut chain: Vec<DVec2> = Vec::new();
        for point in points {
            // Drop a corner only when the chain that replaces it encloses it.
            while let [.., before, last] = chain[..]
                && (last - before).perp_dot(*point - last) < 0.0
            {
                chain.pop();
            }
            chain.push(*point);
        }
        chain.pop();
        chain
    };
    let mut ring = half(&mut sorted.iter());
    ring.extend(half(&mut sorted.iter().rev()));
    ring
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_outline_of_a_square_with_points_in_it_is_the_square() {
        let points = [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0), (1.0, 1.0), (1.5, 0.5)];
        let ring = outline(points.into_iter().map(|(x, y)| DVec3::new(x, y, 9.0)));
        assert_eq!(ring, [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)].map(|(x, y)| DVec2::new(x, y)));
    }

    #[test]
    fn points_on_a_side_take_nothing_away() {
        let points = [(0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (2.0, 2.0)];
        let ring = outline(points.into_iter().map(|(x, y)| DVec3::new(x, y, 0.0)));
        assert!(ring.contains(&DVec2::new(0.0, 0.0)) && ring.contains(&DVec2::new(2.0, 2.0)));
        assert_eq!(outline([DVec3::X].into_iter()), [DVec2::X]);
        assert_eq!(outline([].into_iter()), []);
    }
}
