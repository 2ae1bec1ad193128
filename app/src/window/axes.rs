//! The one place where the core's axes (x east, y north, z up, f64) become the engine's (x right, y up, z toward the viewer, f32).

use bevy::prelude::Vec3;

/// A point of the core (east, north, up) in the engine's axes (x, up, south).
pub fn to_engine(p: scene_core::glam::DVec3) -> Vec3 {
    Vec3::new(p.x as f32, p.z as f32, -p.y as f32)
}

/// A point of the engine in the core's axes.
pub fn to_core(p: Vec3) -> scene_core::glam::DVec3 {
    scene_core::glam::DVec3::new(f64::from(p.x), -f64::from(p.z), f64::from(p.y))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn north_goes_away_from_the_viewer_and_up_stays_up() {
        let point = scene_core::glam::DVec3::new(1.0, 2.0, 3.0);
        assert_eq!(to_engine(point), Vec3::new(1.0, 3.0, -2.0));
        assert_eq!(to_core(to_engine(point)), point);
    }
}
