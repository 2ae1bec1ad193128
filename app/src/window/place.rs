//! Ground, daylight, existing poles, the crane's carrier: what stands still. The carrier and the existing poles are drawn for
//! the eye, from where the crane and the wires' ends are; they are not bodies of the check.

use super::axes::to_engine;
use super::{Open, draw};
use bevy::light::GlobalAmbientLight;
use bevy::prelude::*;
use scene_core::glam::DVec3;
use scene_core::solid::{Feature, Hull};

/// By day, a little hazy at the horizon.
pub const SKY: Color = Color::srgb(0.78, 0.86, 0.93);

pub struct PlacePlugin;

impl Plugin for PlacePlugin {
    fn build(&self, app: &mut App) {
        app.insert_resource(ClearColor(SKY))
            .insert_resource(GlobalAmbientLight { brightness: 500.0, ..default() })
            .add_systems(Startup, light)
            .add_systems(Update, stand.run_if(resource_changed::<Open>));
    }
}

fn light(mut commands: Commands) {
    commands.spawn((
        DirectionalLight { illuminance: 8_500.0, shadow_maps_enabled: true, ..default() },
        Transform::from_xyz(45.0, 80.0, 55.0).looking_at(Vec3::ZERO, Vec3::Y),
    ));
}

/// Everything here is of one make of the scene.
#[derive(Component)]
struct Standing;

fn stand(
    mut commands: Commands,
    before: Query<Entity, With<Standing>>,
    open: Res<Open>,
    mut meshes: ResMut<Assets<Mesh>>,
    mut materials: ResMut<Assets<StandardMaterial>>,
) {
    for entity in &before {
        commands.entity(entity).despawn();
    }
    let mut matt = |r: f32, g: f32, b: f32| {
        materials.add(StandardMaterial { base_color: Color::srgb(r, g, b), perceptual_roughness: 0.95, ..default() })
    };
    let site = &open.rehearsal.site;
    let ground = to_engine(site.hole.at);
    commands.spawn((
        Standing,
        Mesh3d(meshes.add(Plane3d::default().mesh().size(900.0, 900.0))),
        MeshMaterial3d(matt(0.53, 0.57, 0.46)),
        Transform::from_translation(ground - Vec3::Y * 0.02),
    ));
    let wood = matt(0.45, 0.35, 0.26);
    let pale = matt(0.80, 0.78, 0.72);
    let dark = matt(0.16, 0.16, 0.17);
    let steel = matt(0.62, 0.50, 0.19);
    let mut put = |hull: &Hull, material: &Handle<StandardMaterial>| {
        if let Some(mesh) = draw::solid(hull) {
            commands.spawn((Standing, Mesh3d(meshes.add(mesh)), MeshMaterial3d(material.clone())));
        }
    };

    for ends in supports(&open) {
        let middle = ends.iter().sum::<DVec3>() / ends.len() as f64;
        let top_m = ends.iter().map(|end| end.z).fold(f64::NEG_INFINITY, f64::max);
        let foot = DVec3::new(middle.x, middle.y, site.hole.at.z);
        put(&frustum(foot, DVec3 { z: top_m + 0.2, ..foot }, 0.17, 0.12), &wood);
        for end in &ends {
            let foot_of_pin = *end - DVec3::Z * 0.22;
            put(&frustum(foot_of_pin, *end, 0.05, 0.08), &pale);
            let at_pole = DVec3 { z: foot_of_pin.z, ..foot };
            if at_pole.distance(foot_of_pin) > 0.2 {
                put(&capsule(at_pole, foot_of_pin, 0.06), &wood);
            }
        }
    }

    // The carrier, of a size that such machines have.
    let crane = &site.crane;
    let ahead = DVec3::new(crane.heading.cos(), crane.heading.sin(), 0.0);
    let left = DVec3::new(-ahead.y, ahead.x, 0.0);
    let at = |x: f64, y: f64, z: f64| crane.at + ahead * x + left * y + DVec3::Z * z;
    let slab = |x: [f64; 2], y: [f64; 2], z: [f64; 2]| {
        let corners = [0, 1, 2, 3, 4, 5, 6, 7].map(|k| at(x[k & 1], y[k >> 1 & 1], z[k >> 2]));
        Hull { features: corners.map(|centre| Feature::Ball { centre, radius_m: 0.0 }).to_vec() }
    };
    put(&slab([-3.2, 6.2], [-1.22, 1.22], [0.75, 1.15]), &dark);
    put(&slab([4.6, 6.4], [-1.22, 1.22], [0.75, 2.5]), &steel);
    put(&slab([-1.2, 1.2], [-1.1, 1.1], [1.15, 1.5]), &dark);
    for x in [-2.2, -0.9, 3.6, 5.4] {
        for y in [-1.05, 1.05] {
            put(&frustum(at(x, y - 0.16, 0.52), at(x, y + 0.16, 0.52), 0.52, 0.52), &dark);
        }
    }
    for x in [-2.9, 3.0] {
        for side in [-1.0, 1.0] {
            put(&capsule(at(x, 0.0, 0.95), at(x, 2.9 * side, 0.95), 0.12), &steel);
            put(&frustum(at(x, 2.9 * side, 0.12), at(x, 2.9 * side, 0.95), 0.08, 0.08), &pale);
            put(&slab([x - 0.6, x + 0.6], [2.9 * side - 0.6, 2.9 * side + 0.6], [0.0, 0.12]), &wood);
        }
    }
    put(
        &frustum(
            site.hole.at - DVec3::Z * 0.01,
            site.hole.at + DVec3::Z * 0.01,
            site.hole.diameter_m / 2.0,
            site.hole.diameter_m / 2.0,
        ),
        &dark,
    );
}

/// The ends of spans, those of one support together.
fn supports(open: &Open) -> Vec<Vec<DVec3>> {
    const ONE_SUPPORT_M: f64 = 4.0;
    let mut found: Vec<Vec<DVec3>> = Vec::new();
    let spans = open.rehearsal.site.wires.iter().flat_map(|wire| &wire.spans);
    for end in spans.flat_map(|span| [span.from, span.to]).filter(|end| end.is_finite()) {
        let near = |ends: &&mut Vec<DVec3>| ends.iter().any(|e| (*e - end).truncate().length() < ONE_SUPPORT_M);
        match found.iter_mut().find(near) {
            Some(ends) if ends.contains(&end) => {}
            Some(ends) => ends.push(end),
            None => found.push(vec![end]),
        }
    }
    found
}

fn frustum(a: DVec3, b: DVec3, ra: f64, rb: f64) -> Hull {
    let axis = (b - a).normalize_or(DVec3::Z);
    let disc = |centre, radius_m| Feature::Disc { centre, axis, radius_m };
    Hull { features: vec![disc(a, ra), disc(b, rb)] }
}

fn capsule(a: DVec3, b: DVec3, radius_m: f64) -> Hull {
    Hull { features: [a, b].map(|centre| Feature::Ball { centre, radius_m }).to_vec() }
}
