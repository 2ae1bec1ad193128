//! The carrier of a machine: frame, cab, tires, jacks, mats. It is drawn for the eye, with sizes that such machines have.

use super::draw::{capsule, frustum};
use scene_core::glam::DVec3;
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
    axles_m: &'static [f64],
    jacks_m: &'static [f64],
    /// From the middle to a jack at either side.
    spread_m: f64,
}

impl Carrier {
    pub const CRANE: Self = Self {
        rear_m: -3.2,
        front_m: 6.4,
        cab_m: 1.8,
        tall_m: 2.5,
        axles_m: &[-2.2, -0.9, 3.6, 5.4],
        jacks_m: &[-2.9, 3.0],
        spread_m: 2.9,
    };
    pub const DERRICK: Self = Self {
        rear_m: -1.6,
        front_m: 6.8,
        cab_m: 1.9,
        tall_m: 2.6,
        axles_m: &[0.9, 2.1, 5.9],
        jacks_m: &[-1.2, 3.4],
        spread_m: 2.2,
    };
    pub const BUCKET_TRUCK: Self = Self {
        rear_m: -1.8,
        front_m: 6.2,
        cab_m: 1.8,
        tall_m: 2.5,
        axles_m: &[0.4, 5.3],
        jacks_m: &[-1.2, 2.4],
        spread_m: 1.7,
    };

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
        put(&slab([-1.2, 1.2], [-1.1, 1.1], [1.15, 1.5]), CarrierPart::Frame);
        for x in self.axles_m {
            for y in [-1.05, 1.05] {
                put(&frustum(at(*x, y - 0.16, 0.52), at(*x, y + 0.16, 0.52), 0.52, 0.52), CarrierPart::Tire);
            }
        }
        for x in self.jacks_m {
            for out in [-self.spread_m, self.spread_m] {
                put(&capsule(at(*x, 0.0, 0.95), at(*x, out, 0.95), 0.12), CarrierPart::Cab);
                put(&frustum(at(*x, out, 0.12), at(*x, out, 0.95), 0.08, 0.08), CarrierPart::Jack);
                put(&slab([x - 0.6, x + 0.6], [out - 0.6, out + 0.6], [0.0, 0.12]), CarrierPart::Mat);
            }
        }
    }
}
