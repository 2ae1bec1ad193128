//! Triangles: of a proven solid, of a tube along a line. Engine axes.

use super::axes::to_engine;
use bevy::asset::RenderAssetUsages;
use bevy::mesh::{Indices, PrimitiveTopology};
use bevy::prelude::*;
use scene_core::glam::DVec3;
use scene_core::solid::{Feature, Hull};
use std::f64::consts::TAU;

const ROUND: usize = 20;

/// The surface of a convex solid; `None` when it has no volume to speak of.
pub fn solid(hull: &Hull) -> Option<Mesh> {
    let points: Vec<_> = hull.features.iter().flat_map(outline).collect();
    if points.len() < 4 || !points.iter().all(|p| p.is_finite()) {
        return None;
    }
    let (points, triangles) = parry3d_f64::transformation::try_convex_hull(&points).ok()?;
    let corners = triangles.iter().map(|triangle| triangle.map(|i| to_engine(points[i as usize])));
    Some(flat(corners))
}

/// Points on the surface of one corner of a hull.
fn outline(corner: &Feature) -> Vec<DVec3> {
    match *corner {
        Feature::Ball { centre, radius_m } if radius_m <= 0.0 => vec![centre],
        Feature::Ball { centre, radius_m } => {
            let rings = [-1.0, -0.8, -0.4, 0.0, 0.4, 0.8, 1.0_f64];
            let ring = |&z: &f64| {
                let level = (1.0 - z * z).max(0.0).sqrt();
                let count = if level > 0.0 { 12 } else { 1 };
                (0..count).map(move |i| {
                    let (sin, cos) = (TAU * f64::from(i) / 12.0).sin_cos();
                    centre + DVec3::new(level * cos, level * sin, z) * radius_m
                })
            };
            rings.iter().flat_map(ring).collect()
        }
        Feature::Disc { centre, axis, radius_m } => {
            let x = axis.any_orthonormal_vector();
            let y = axis.cross(x);
            (0..ROUND)
                .map(|i| {
                    let (sin, cos) = (TAU * i as f64 / ROUND as f64).sin_cos();
                    centre + (x * cos + y * sin) * radius_m
                })
                .collect()
        }
    }
}

/// Triangles, each with its own flat face.
fn flat(triangles: impl Iterator<Item = [Vec3; 3]>) -> Mesh {
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

/// A round tube along a line of points, open at its ends.
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
                indices.extend([here - back, there - back, here, there - back, there, here]);
            }
        }
    }
    let mesh = Mesh::new(PrimitiveTopology::TriangleList, RenderAssetUsages::default())
        .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, positions)
        .with_inserted_attribute(Mesh::ATTRIBUTE_NORMAL, normals)
        .with_inserted_indices(Indices::U32(indices));
    Some(mesh)
}
