//! Triangles: of a proven solid, of a tube along a line. Engine axes.

use super::axes::to_engine;
use bevy::asset::RenderAssetUsages;
use bevy::ecs::system::SystemParam;
use bevy::mesh::{Indices, PrimitiveTopology};
use bevy::prelude::*;
use scene_core::glam::DVec3;
use scene_core::solid::{Feature, Hull};
use std::f64::consts::{PI, TAU};

/// Where meshes and paint are kept.
#[derive(SystemParam)]
pub struct Stock<'w> {
    pub meshes: ResMut<'w, Assets<Mesh>>,
    pub materials: ResMut<'w, Assets<StandardMaterial>>,
}

/// Around, and from end to end; the latter odd.
const ROUND: usize = 24;
const ROWS: usize = 13;

/// The surface of a convex solid: a sphere's triangles, each corner moved to where the solid is farthest that way.
/// `None` when it has no volume to speak of.
pub fn solid(hull: &Hull) -> Option<Mesh> {
    let first = hull.features.first().map(centre)?;
    let middle = hull.features.iter().map(centre).sum::<DVec3>() / hull.features.len() as f64;
    let axis = hull
        .features
        .iter()
        .map(|f| centre(f) - first)
        .fold(DVec3::ZERO, |far, to| if to.length_squared() > far.length_squared() { to } else { far });
    let axis = axis.normalize_or(DVec3::Z);
    let x = axis.any_orthonormal_vector();
    let y = axis.cross(x);
    let farthest = |row: usize, column: usize| {
        // No direction falls on the equator, where two ends are as far.
        let above = PI * (row as f64 / ROWS as f64 - 0.5);
        let around = TAU * (column % ROUND) as f64 / ROUND as f64 + 0.1;
        let way = axis * above.sin() + (x * around.cos() + y * around.sin()) * above.cos();
        let corners = hull.features.iter().map(|feature| feature.farthest(way));
        corners.max_by(|a, b| a.dot(way).total_cmp(&b.dot(way))).unwrap_or(middle)
    };
    let grid: Vec<Vec<Vec3>> =
        (0..=ROWS).map(|row| (0..ROUND).map(|column| to_engine(farthest(row, column))).collect()).collect();
    let triangles: Vec<[Vec3; 3]> = (0..ROWS)
        .flat_map(|row| (0..ROUND).map(move |column| (row, column)))
        .flat_map(|(row, column)| {
            let next = (column + 1) % ROUND;
            let [a, b, c, d] = [grid[row][column], grid[row][next], grid[row + 1][next], grid[row + 1][column]];
            [[a, b, c], [a, c, d]]
        })
        .filter(|[a, b, c]| (b - a).cross(c - a).length_squared() > 1e-12)
        .collect();
    let sound = triangles.iter().flatten().all(|p| p.is_finite());
    (sound && !triangles.is_empty()).then(|| flat(triangles.into_iter()))
}

fn centre(feature: &Feature) -> DVec3 {
    match *feature {
        Feature::Ball { centre, .. } | Feature::Disc { centre, .. } => centre,
    }
}

/// Triangles, each with its own flat face.
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_box_is_drawn_with_its_six_faces() {
        let corners = [0, 1, 2, 3, 4, 5, 6, 7]
            .map(|k: u32| DVec3::new(f64::from(k & 1) * 4.0, f64::from(k >> 1 & 1), f64::from(k >> 2)));
        let hull = Hull { features: corners.map(|centre| Feature::Ball { centre, radius_m: 0.0 }).to_vec() };
        let mesh = solid(&hull).unwrap();
        let points = mesh.attribute(Mesh::ATTRIBUTE_POSITION).unwrap().as_float3().unwrap();
        let area: f32 = points
            .chunks(3)
            .map(|t| {
                let [a, b, c] = [t[0], t[1], t[2]].map(Vec3::from_array);
                (b - a).cross(c - a).length() / 2.0
            })
            .sum();
        assert!((area - 18.0).abs() < 0.01, "{area}");
    }

    #[test]
    fn what_is_no_number_is_not_drawn() {
        let hull = Hull { features: vec![Feature::Ball { centre: DVec3::NAN, radius_m: 1.0 }] };
        assert!(solid(&hull).is_none());
        assert!(solid(&Hull::default()).is_none());
    }
}
