//! Triangles of a proven solid, and of a tube along a line. Engine axes.

use super::axes::to_engine;
use super::matte::Matte;
use bevy::asset::RenderAssetUsages;
use bevy::ecs::system::SystemParam;
use bevy::mesh::{Indices, PrimitiveTopology};
use bevy::prelude::*;
use scene_core::glam::DVec3;
use scene_core::solid::{Feature, Hull};

/// Where the engine keeps meshes and paints.
#[derive(SystemParam)]
pub struct DrawAssets<'w> {
    pub meshes: ResMut<'w, Assets<Mesh>>,
    pub materials: ResMut<'w, Assets<Matte>>,
}

/// The surface of a convex solid; `None` where it has no volume to speak of.
pub fn solid(hull: &Hull) -> Option<Mesh> {
    let surface = hull.surface();
    (!surface.is_empty()).then(|| flat(surface.into_iter().map(|corners| corners.map(to_engine))))
}

/// A round solid between two discs, meters.
pub fn frustum(a: DVec3, b: DVec3, radius_a_m: f64, radius_b_m: f64) -> Hull {
    let axis = (b - a).normalize_or(DVec3::Z);
    let disc = |center, radius_m| Feature::Disc { center, axis, radius_m };
    Hull { features: vec![disc(a, radius_a_m), disc(b, radius_b_m)] }
}

/// A round solid between two balls, meters.
pub fn capsule(a: DVec3, b: DVec3, radius_m: f64) -> Hull {
    Hull { features: [a, b].map(|center| Feature::Ball { center, radius_m }).to_vec() }
}

/// A mesh of triangles that are flat to the light, each with its own normal.
pub fn flat(triangles: impl Iterator<Item = [Vec3; 3]>) -> Mesh {
    let (mut positions, mut normals) = (Vec::new(), Vec::new());
    for [a, b, c] in triangles {
        let normal = (b - a).cross(c - a).normalize_or_zero();
        positions.extend([a.to_array(), b.to_array(), c.to_array()]);
        normals.extend([normal.to_array(); 3]);
    }
    Mesh::new(PrimitiveTopology::TriangleList, RenderAssetUsages::default())
        .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, positions)
        .with_inserted_attribute(Mesh::ATTRIBUTE_NORMAL, normals)
}

/// A round tube along a line of points, open at its ends; `None` for fewer than two points.
pub fn tube(line: &[Vec3], radius: f32) -> Option<Mesh> {
    const SIDES: usize = 8;
    if line.len() < 2 {
        return None;
    }
    let (mut positions, mut normals, mut indices) = (Vec::new(), Vec::new(), Vec::new());
    for (i, &at) in line.iter().enumerate() {
        let along = (line[(i + 1).min(line.len() - 1)] - line[i.saturating_sub(1)]).normalize_or(Vec3::X);
        let side = along.cross(Vec3::Y).normalize_or(Vec3::Z);
        let up = side.cross(along);
        for k in 0..SIDES {
            let (sin, cos) = (std::f32::consts::TAU * k as f32 / SIDES as f32).sin_cos();
            let out = side * cos + up * sin;
            positions.push((at + out * radius).to_array());
            normals.push(out.to_array());
            if i > 0 {
                let (here, there) = ((i * SIDES + k) as u32, (i * SIDES + (k + 1) % SIDES) as u32);
                let back = SIDES as u32;
                indices.extend([here - back, here, there - back, there - back, here, there]);
            }
        }
    }
    let mesh = Mesh::new(PrimitiveTopology::TriangleList, RenderAssetUsages::default())
        .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, positions)
        .with_inserted_attribute(Mesh::ATTRIBUTE_NORMAL, normals)
        .with_inserted_indices(Indices::U32(indices));
    Some(mesh)
}
