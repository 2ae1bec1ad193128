//! What a machine stands on: its carrier, outriggers, and mats. They stay where they are while the machine works.
//!
//! The solids enclose more than there is. The carrier reaches from the ground to its deck and to the roof of its cab, an outrigger
//! from the ground to the top of its beam. Not modeled: level, tires, ladders, and what lies on the deck.

use glam::{DVec2, DVec3};

/// No mat with its cribbing is thicker than this, meters.
const MAT_M: f64 = 0.3;

/// The carrier as its maker made it. Meters; lengths count from the slew axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Carrier {
    pub front_m: f64,
    pub rear_m: f64,
    pub width_m: f64,
    /// Everything but the cab is no higher than this.
    pub deck_m: f64,
    /// From the front back, and up to its roof.
    pub cab_m: f64,
    pub cab_height_m: f64,
    /// Of an outrigger's beam and float along the carrier, and up to the beam's top.
    pub outrigger_width_m: f64,
    pub outrigger_height_m: f64,
}

/// Where the floats stand, and the mat under each. Meters; level, from the slew axis, in the carrier's frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Floats {
    pub front_m: f64,
    pub rear_m: f64,
    pub left_m: f64,
    pub right_m: f64,
    pub mat_long_m: f64,
    pub mat_wide_m: f64,
}

/// What is known of the floats.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Outrigged {
    #[default]
    Unknown,
    /// The machine works without; why, or by whose word.
    Without(String),
    On(Floats),
}

impl Outrigged {
    pub fn floats(&self) -> Option<&Floats> {
        match self {
            Self::On(floats) => Some(floats),
            Self::Unknown | Self::Without(_) => None,
        }
    }
}

/// What a lift stands on.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Base {
    pub carrier: Option<Carrier>,
    pub outrigged: Outrigged,
}

/// A body of what a machine stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum CarrierPart {
    Carrier,
    Outriggers,
    Mats,
}

impl CarrierPart {
    pub const ALL: [Self; 3] = [Self::Carrier, Self::Outriggers, Self::Mats];

    pub fn name(self) -> &'static str {
        match self {
            Self::Carrier => "carrier",
            Self::Outriggers => "outriggers",
            Self::Mats => "mats",
        }
    }

    /// The corners of each convex part in the world; none where its size is not known. `foot` is the slew axis on the ground,
    /// `heading` the way the front points, counterclockwise from east.
    pub fn hulls(
        self,
        carrier: Option<&Carrier>,
        floats: Option<&Floats>,
        foot: DVec3,
        heading: f64,
    ) -> Vec<[DVec3; 8]> {
        let ahead = DVec2::from_angle(heading);
        let in_world = |[x, y, z]: [[f64; 2]; 3]| {
            [0, 1, 2, 3, 4, 5, 6, 7].map(|k| {
                let level = ahead * pick(x, k) + ahead.perp() * pick(y, k >> 1);
                foot + level.extend(pick(z, k >> 2))
            })
        };
        let boxes = match (self, carrier, floats) {
            (Self::Carrier, Some(carrier), _) => carrier.boxes().to_vec(),
            (Self::Outriggers, Some(carrier), Some(floats)) => floats.outriggers(carrier).to_vec(),
            (Self::Mats, _, Some(floats)) => floats.mats().to_vec(),
            _ => Vec::new(),
        };
        boxes.into_iter().map(in_world).collect()
    }
}

fn pick([low, high]: [f64; 2], k: usize) -> f64 {
    if k & 1 == 0 { low } else { high }
}

/// From … to along x, y, and z.
type Block = [[f64; 2]; 3];

impl Carrier {
    fn boxes(&self) -> [Block; 2] {
        let across = [-self.width_m / 2.0, self.width_m / 2.0];
        let cab = [self.front_m - self.cab_m, self.front_m];
        [[[-self.rear_m, self.front_m], across, [0.0, self.deck_m]], [cab, across, [0.0, self.cab_height_m]]]
    }
}

impl Floats {
    /// The middle of each float, and the way out to it.
    fn each(&self) -> [(f64, f64); 4] {
        let [front, rear] = [self.front_m, -self.rear_m];
        [(front, self.left_m), (front, -self.right_m), (rear, self.left_m), (rear, -self.right_m)]
    }

    fn outriggers(&self, carrier: &Carrier) -> [Block; 4] {
        let half_m = carrier.outrigger_width_m / 2.0;
        self.each().map(|(x, y)| {
            let across = if y > 0.0 { [0.0, y + half_m] } else { [y - half_m, 0.0] };
            [[x - half_m, x + half_m], across, [0.0, carrier.outrigger_height_m]]
        })
    }

    fn mats(&self) -> [Block; 4] {
        // Laid either way: half the longer side. `f64::max` would drop a NaN.
        let [long_m, wide_m] = [self.mat_long_m, self.mat_wide_m];
        let half_m = (long_m + wide_m + (long_m - wide_m).abs()) / 4.0;
        self.each().map(|(x, y)| [[x - half_m, x + half_m], [y - half_m, y + half_m], [0.0, MAT_M]])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn carrier() -> Carrier {
        Carrier {
            front_m: 6.4,
            rear_m: 3.2,
            width_m: 2.5,
            deck_m: 1.5,
            cab_m: 1.8,
            cab_height_m: 2.5,
            outrigger_width_m: 0.5,
            outrigger_height_m: 1.0,
        }
    }

    #[test]
    fn what_is_not_stated_has_no_solid() {
        let floats = Floats { front_m: 3.0, rear_m: 2.5, left_m: 3.0, right_m: 3.0, mat_long_m: 1.2, mat_wide_m: 1.0 };
        let count = |part: CarrierPart, carrier: Option<&Carrier>, floats: Option<&Floats>| {
            part.hulls(carrier, floats, DVec3::ZERO, 0.3).len()
        };
        assert_eq!(CarrierPart::ALL.map(|part| count(part, None, None)), [0; 3]);
        assert_eq!(CarrierPart::ALL.map(|part| count(part, Some(&carrier()), None)), [2, 0, 0]);
        assert_eq!(CarrierPart::ALL.map(|part| count(part, None, Some(&floats))), [0, 0, 4]);
        assert_eq!(CarrierPart::ALL.map(|part| count(part, Some(&carrier()), Some(&floats))), [2, 4, 4]);
    }

    proptest! {
        #[test]
        fn every_point_of_a_machine_lies_in_one_of_its_boxes(
            heading in -7.0f64..7.0, foot in [-50.0f64..50.0, -50.0..50.0, -5.0..5.0],
            out in [1.5f64..6.0, 1.5..6.0, 1.5..6.0, 1.5..6.0], share in [0.0f64..=1.0, 0.0..=1.0, 0.0..=1.0], which in 0usize..4,
        ) {
            let floats = Floats {
                front_m: out[0], rear_m: out[1], left_m: out[2], right_m: out[3], mat_long_m: 1.2, mat_wide_m: 0.9,
            };
            let foot = DVec3::from(foot);
            let ahead = DVec3::new(heading.cos(), heading.sin(), 0.0);
            let at = |x: f64, y: f64, z: f64| foot + ahead * x + DVec3::Z.cross(ahead) * y + DVec3::Z * z;
            // A point anywhere along the beam from the carrier's middle to a float, and one on its mat.
            let (x, y) = floats.each()[which];
            let beam = at(x + 0.2 * (share[1] - 0.5), y * share[0], carrier().outrigger_height_m * share[2]);
            let mat = at(x + 0.9 * (share[0] - 0.5), y + 0.9 * (share[1] - 0.5), 0.2 * share[2]);
            let deck = at(-3.2 + 9.6 * share[0], 2.5 * (share[1] - 0.5), 1.5 * share[2]);
            for (part, point) in
                [(CarrierPart::Outriggers, beam), (CarrierPart::Mats, mat), (CarrierPart::Carrier, deck)]
            {
                let hulls = part.hulls(Some(&carrier()), Some(&floats), foot, heading);
                let holds = |hull: &[DVec3; 8]| {
                    [ahead, DVec3::Z.cross(ahead), DVec3::Z].iter().all(|axis| {
                        let along = hull.map(|corner| corner.dot(*axis));
                        let (low, high) = along.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
                            (low.min(*at), high.max(*at))
                        });
                        (low - 1e-9..=high + 1e-9).contains(&point.dot(*axis))
                    })
                };
                prop_assert!(hulls.iter().any(holds), "{part:?} {point}");
            }
        }
    }
}
