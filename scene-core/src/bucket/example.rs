//! The invented machines of the catalog, as a scene has them.

use crate::scene;
use crate::site::bucket::BucketTruck;

/// The template's scene with this truck standing at its place, by its `stands( … )` fields.
pub fn scene_text(truck: &str) -> String {
    scene::template().replacen("  crane: (", &format!("  bucket_truck: stands({truck}),\n  crane: ("), 1)
}

pub const TALLIS: &str = r#"
    model: "Tallis 46", at: ("0 ft", "30 ft", "0 ft"), heading: "90 deg", method: gloves, load: "300 lb",
    rates: (slew: "3 deg/s", lower: "2 deg/s", upper: "3 deg/s")"#;

pub const ORRIN: &str = r#"
    model: "Orrin 38", at: ("0 ft", "30 ft", "0 ft"), heading: "90 deg", method: stick, stick: "8 ft",
    rates: (slew: "3 deg/s", upper: "2 deg/s", extend: "0.5 ft/s")"#;

pub fn truck(truck: &str) -> BucketTruck {
    let scene = scene::read("example", &scene_text(truck)).unwrap_or_else(|faults| panic!("{}", faults[0]));
    scene.site().unwrap_or_else(|faults| panic!("{}", faults[0])).bucket_truck.unwrap()
}
