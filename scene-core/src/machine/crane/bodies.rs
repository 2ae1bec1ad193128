//! The bodies of the crane, as corners fixed to the links of its chain. What hangs on the hook is not of the crane.

use super::Crane;
use super::chain::Place;
use crate::machine::BoomSection;
use crate::machine::body::BodyId;
use glam::DVec3;

/// A ball that is a corner of a convex part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corner {
    pub place: Place,
    pub radius_m: f64,
    /// It hangs on the line, and so swings with the load.
    pub hangs: bool,
}

/// A body, as the corners of its convex parts.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    pub id: BodyId,
    pub name: &'static str,
    pub hulls: Vec<Vec<Corner>>,
}

/// A corner that is fixed to the machine.
pub(crate) fn fixed(place: Place, radius_m: f64) -> Corner {
    Corner { place, radius_m, hangs: false }
}

fn hanging(place: Place, radius_m: f64) -> Corner {
    Corner { place, radius_m, hangs: true }
}

impl Crane {
    /// Boom, boom head, hoist line, hook block, and counterweight.
    pub fn bodies(&self) -> [Body; 5] {
        let head = &self.head;
        let line = |below_m, hoisted| Place::Line { below_m, hoisted, inward_m: 0.0 };
        let sheave = Place::Boom { along_m: head.along_m, share: 1.0, left_m: 0.0, below_m: head.below_m };

        // With more than one part the others come up to a sheave's width inward.
        let rope_m = self.line_diameter_m / 2.0;
        let hoist_line = if self.parts_of_line > 1 {
            let inner = Place::Line { below_m: 0.0, hoisted: false, inward_m: 2.0 * head.sheave_radius_m };
            let wide_m = head.sheave_radius_m.max(rope_m);
            vec![fixed(line(0.0, false), wide_m), fixed(inner, wide_m), hanging(line(0.0, true), wide_m)]
        } else {
            vec![fixed(line(0.0, false), rope_m), hanging(line(0.0, true), rope_m)]
        };

        let block = &self.block;
        let block = [line(0.0, true), line(block.length_m, true)].map(|place| hanging(place, block.radius_m));

        let tail = &self.tail;
        let counterweight = corners_of_box(
            [-tail.radius_m, 0.0],
            [-tail.half_width_m, tail.half_width_m],
            [tail.from_height_m, tail.to_height_m],
        )
        .map(|[x, y, z]| fixed(Place::Upper(DVec3::new(x, y, z)), 0.0));

        let sections = self.sections.iter().map(|section| self.section(section)).collect();
        let one = |id, name, hull: Vec<Corner>| Body { id, name, hulls: vec![hull] };
        [
            Body { id: BodyId::Boom, name: "boom", hulls: sections },
            one(BodyId::BoomHead, "boom head", vec![fixed(sheave, head.radius_m)]),
            one(BodyId::HoistLine, "hoist line", hoist_line),
            one(BodyId::HookBlock, "hook block", block.to_vec()),
            one(BodyId::Counterweight, "tail", counterweight.to_vec()),
        ]
    }

    fn section(&self, section: &BoomSection) -> Vec<Corner> {
        let tip_m = section.tip_retracted_m - section.extension_share * self.boom_length_m.low();
        corners_of_box(
            [tip_m - section.length_m, tip_m],
            [-section.width_m / 2.0, section.width_m / 2.0],
            [-section.depth_m / 2.0, section.depth_m / 2.0],
        )
        .map(|[along_m, left_m, below_m]| {
            fixed(Place::Boom { along_m, share: section.extension_share, left_m, below_m }, 0.0)
        })
        .to_vec()
    }
}

/// All corners with one coordinate of each pair.
pub(crate) fn corners_of_box(x: [f64; 2], y: [f64; 2], z: [f64; 2]) -> [[f64; 3]; 8] {
    let [x0, x1] = x;
    let [y0, y1] = y;
    let [z0, z1] = z;
    [[x0, y0, z0], [x0, y0, z1], [x0, y1, z0], [x0, y1, z1], [x1, y0, z0], [x1, y0, z1], [x1, y1, z0], [x1, y1, z1]]
}
