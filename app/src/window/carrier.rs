//! The carrier of a machine: frame, cab, tires, jacks, mats. It is drawn for the eye inside the solids that are proven. Where its size
//! is not stated, it has the size that such machines have, and a finding says that nothing is held against it.

use super::draw::{capsule, frustum};
use scene_core::glam::DVec3;
use scene_core::machine::{Carrier as Stated, Floats};
use scene_core::solid::{Feature, Hull};

/// What a part of a carrier is.
pub enum CarrierPart {
    Frame,
    Cab,
    Tire,
    Jack,
    Mat,
}

/// Sizes, meters; lengths count forward from the swing axis.
pub struct Carrier {
    rear_m: f64,
    front_m: f64,
    cab_m: f64,
    tall_m: f64,
    deck_m: f64,
    axles_m: &'static [f64],
    jacks_m: [f64; 2],
    /// From the middle to the jacks at the left, and at the right.
    spread_m: [f64; 2],
    /// Half the side of a mat.
    mat_m: f64,
}

impl Carrier {
    pub const CRANE: Self = Self {
        rear_m: -3.2,
        front_m: 6.4,
        cab_m: 1.8,
        tall_m: 2.5,
        deck_m: 1.5,
        axles_m: &[-2.2, -0.9, 3.6, 5.4],
        jacks_m: [-2.9, 3.0],
        spread_m: [2.9; 2],
        mat_m: 0.6,
    };
    pub const DERRICK: Self = Self {
        rear_m: -1.6,
        front_m: 6.8,
        cab_m: 1.9,
        tall_m: 2.6,
        deck_m: 1.5,
        axles_m: &[0.9, 2.1, 5.9],
        jacks_m: [-1.2, 3.4],
        spread_m: [2.2; 2],
        mat_m: 0.6,
    };
    pub const BUCKET_TRUCK: Self = Self {
        rear_m: -1.8,
        front_m: 6.2,
        cab_m: 1.8,
        tall_m: 2.5,
        deck_m: 1.5,
        axles_m: &[0.4, 5.3],
        jacks_m: [-1.2, 2.4],
        spread_m: [1.7; 2],
        mat_m: 0.6,
    };

    /// The same with what is stated.
    pub fn sized(self, stated: Option<&Stated>, floats: Option<&Floats>) -> Self {
        let carrier = match stated {
            Some(stated) => Self {
                rear_m: -stated.rear_m,
                front_m: stated.front_m,
                cab_m: stated.cab_m,
                tall_m: stated.cab_height_m,
                deck_m: stated.deck_m,
                ..self
            },
            None => self,
        };
        match floats {
            Some(floats) => Self {
                jacks_m: [-floats.rear_m, floats.front_m],
                spread_m: [floats.left_m, floats.right_m],
                mat_m: floats.mat_long_m.min(floats.mat_wide_m) / 2.0,
                ..carrier
            },
            None => carrier,
        }
    }

    /// Hands over every part of a carrier whose swing axis meets the ground at `foot`; `heading` in radians from east.
    pub fn build(&self, foot: DVec3, heading: f64, put: &mut impl FnMut(&Hull, CarrierPart)) {
        let ahead = DVec3::new(heading.cos(), heading.sin(), 0.0);
        let left = DVec3::new(-ahead.y, ahead.x, 0.0);
        let at = |x: f64, y: f64, z: f64| foot + ahead * x + left * y + DVec3::Z * z;
        let slab = |x: [f64; 2], y: [f64; 2], z: [f64; 2]| {
            let corners = [0, 1, 2, 3, 4, 5, 6, 7].map(|k| at(x[k & 1], y[k >> 1 & 1], z[k >> 2]));
            Hull { features: corners.map(|center| Feature::Ball { center, radius_m: 0.0 }).to_vec() }
        };
        let cab_from_m = self.front_m - self.cab_m;
        put(&slab([self.rear_m, self.front_m], [-1.22, 1.22], [0.75, 1.15]), CarrierPart::Frame);
        put(&slab([cab_from_m, self.front_m], [-1.22, 1.22], [0.75, 1.7]), CarrierPart::Cab);
        put(&slab([cab_from_m, self.front_m - 0.35], [-1.15, 1.15], [1.7, self.tall_m]), CarrierPart::Cab);
        let window = slab([self.front_m - 0.62, self.front_m - 0.28], [-1.05, 1.05], [1.72, self.tall_m - 0.12]);
        put(&window, CarrierPart::Frame);
        put(&slab([-1.2, 1.2], [-1.1, 1.1], [1.15, self.deck_m]), CarrierPart::Frame);
        for x in self.axles_m {
            for y in [-1.05, 1.05] {
                put(&frustum(at(*x, y - 0.16, 0.52), at(*x, y + 0.16, 0.52), 0.52, 0.52), CarrierPart::Tire);
            }
        }
        for x in &self.jacks_m {
            let [left_m, right_m] = self.spread_m;
            for out in [-right_m, left_m] {
                let inner_m = 0.13_f64.copysign(out);
                put(&capsule(at(*x, inner_m, 0.95), at(*x, out, 0.95), 0.12), CarrierPart::Cab);
                put(&frustum(at(*x, out, 0.12), at(*x, out, 0.95), 0.08, 0.08), CarrierPart::Jack);
                let around = |at: f64| [at - self.mat_m, at + self.mat_m];
                put(&slab(around(*x), around(out), [0.0, 0.12]), CarrierPart::Mat);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use scene_core::machine::CarrierPart as Proven;
    use scene_core::scene;

    /// Every corner that is drawn of the first example's machines lies inside a box that is proven.
    #[test]
    fn what_is_drawn_lies_inside_what_is_proven() {
        let text = include_str!("../../../scenes/01_juniper_lane.ron");
        let site = scene::read("example", text).and_then(|scene| scene.site()).expect("the example reads");
        let crane_floats = site.crane.outriggers.as_ref().map(|outriggers| outriggers.floats());
        let base = &site.lifts[0].base;
        let facts = site.lifts[0].facts();
        let machines = [
            (Carrier::CRANE, site.crane.carrier.as_ref(), crane_floats.as_ref(), site.crane.at, site.crane.heading),
            (Carrier::BUCKET_TRUCK, base.carrier.as_ref(), base.outrigged.floats(), facts.at, facts.heading),
        ];
        for (drawn, stated, floats, foot, heading) in machines {
            let proven: Vec<[DVec3; 8]> =
                Proven::ALL.iter().flat_map(|part| part.hulls(stated, floats, foot, heading)).collect();
            let ahead = DVec3::new(heading.cos(), heading.sin(), 0.0);
            let axes = [ahead, DVec3::Z.cross(ahead), DVec3::Z];
            let mut corners = 0;
            drawn.sized(stated, floats).build(foot, heading, &mut |hull, _| {
                let inside = |block: &[DVec3; 8]| {
                    axes.iter().all(|&axis| {
                        let along = block.map(|corner| corner.dot(axis));
                        let (low, high) = along
                            .iter()
                            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(*at), high.max(*at)));
                        let reach = |axis: DVec3| {
                            hull.features
                                .iter()
                                .map(|feature| feature.farthest(axis).dot(axis))
                                .fold(f64::NEG_INFINITY, f64::max)
                        };
                        reach(axis) <= high + 0.002 && -reach(-axis) >= low - 0.002
                    })
                };
                assert!(proven.iter().any(inside), "{hull:?}");
                corners += hull.features.len();
            });
            assert!(corners > 50, "{corners}");
        }
    }
}
