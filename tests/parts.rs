//! Still parts as the reference libraries' scripts write them down.

use glam::DVec3;
use scene_core::motion::{MovingFeature, MovingPart, Track};

pub fn point(numbers: &[f64]) -> DVec3 {
    DVec3::new(numbers[0], numbers[1], numbers[2])
}

/// A box by its corners; a capsule, cylinder or frustum by its two ends and their radii.
pub fn still(kind: &str, part: &[f64]) -> MovingPart {
    let feature = |at, radius_m, axis: Option<DVec3>| MovingFeature {
        at: Track::still(at),
        radius_m,
        axis: axis.map(Track::still),
        allowance_m: 0.0,
    };
    let features = if kind == "box" {
        part.chunks(3).map(|corner| feature(point(corner), 0.0, None)).collect()
    } else {
        let (p0, p1) = (point(&part[..3]), point(&part[3..]));
        let flat = matches!(kind, "cylinder" | "frustum").then(|| (p1 - p0).normalize());
        vec![feature(p0, part[6], flat), feature(p1, part[7], flat)]
    };
    MovingPart { features, ..MovingPart::default() }
}
