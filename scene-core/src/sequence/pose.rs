//! Where the middle of the rim is wanted, from a pose as people say it.

use crate::conductor;
use crate::site::pose::BucketAt;
use crate::site::{Site, station};
use glam::DVec3;

/// The point that a pose asks for; `None` off the wire, and for figures that are not finite.
///
/// A wire is taken as it hangs by itself in still air, in the middle of what is known of its sag, as a parabola. That is
/// where the crew sets the bucket by eye; the gaps are proven against everything that the wire may do.
pub fn rim_wanted(site: &Site, at: &BucketAt) -> Option<DVec3> {
    let wanted = match *at {
        BucketAt::Point(point) => point,
        BucketAt::Wire { wire, station_m, below_m, left_m } => {
            let wire = site.wires.get(wire)?;
            let (index, fraction) = station::locate(&wire.spans, site.hole.at, station_m)?;
            let span = wire.spans.get(index)?;
            let along = span.to - span.from;
            let run_m = along.truncate().length();
            let level = along.truncate() / run_m;
            let left = DVec3::new(-level.y, level.x, 0.0);
            let down_m = conductor::middle_depth_m(span, &wire.conductor, fraction)? + below_m;
            span.from + along * fraction - DVec3::Z * down_m + left * left_m
        }
    };
    wanted.is_finite().then_some(wanted)
}
