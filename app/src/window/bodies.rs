//! Crane and pole at rehearsal time, made from the very solids that are proven.

use super::clock::Clock;
use super::{Open, draw};
use bevy::prelude::*;
use scene_core::motion::BodyKind;
use scene_core::rehearsal::Shape;
use std::collections::HashMap;

pub struct BodiesPlugin;

impl Plugin for BodiesPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Drawn>().add_systems(Update, follow);
    }
}

/// The entities that show the parts, by body and part.
#[derive(Resource, Default)]
struct Drawn {
    at_s: Option<f64>,
    parts: HashMap<(String, usize), Entity>,
}

fn follow(
    mut commands: Commands,
    mut drawn: ResMut<Drawn>,
    open: Res<Open>,
    clock: Res<Clock>,
    mut meshes: ResMut<Assets<Mesh>>,
    mut materials: ResMut<Assets<StandardMaterial>>,
) {
    if drawn.at_s == Some(clock.time_s) && !open.is_changed() {
        return;
    }
    drawn.at_s = Some(clock.time_s);
    let mut left = std::mem::take(&mut drawn.parts);
    for Shape { name, kind, hulls } in open.rehearsal.shapes(clock.time_s) {
        for (part, hull) in hulls.iter().enumerate() {
            let Some(mesh) = draw::solid(hull) else { continue };
            let mesh = Mesh3d(meshes.add(mesh));
            let key = (name.clone(), part);
            let entity = match left.remove(&key) {
                Some(entity) => {
                    commands.entity(entity).insert(mesh);
                    entity
                }
                None => commands.spawn((mesh, MeshMaterial3d(materials.add(paint(kind, part))))).id(),
            };
            drawn.parts.insert(key, entity);
        }
    }
    for entity in left.into_values() {
        commands.entity(entity).despawn();
    }
}

/// What a thing looks like in daylight.
fn paint(kind: BodyKind, part: usize) -> StandardMaterial {
    let shade = 1.0 - 0.06 * (part % 3) as f32;
    let (colour, metallic, rough) = match kind {
        BodyKind::Boom => (Color::srgb(0.80 * shade, 0.62 * shade, 0.20 * shade), 0.1, 0.6),
        BodyKind::BoomHead | BodyKind::HookBlock => (Color::srgb(0.28, 0.29, 0.31), 0.5, 0.5),
        BodyKind::HoistLine => (Color::srgb(0.18, 0.18, 0.19), 0.3, 0.7),
        BodyKind::Rigging => (Color::srgb(0.45, 0.26, 0.55), 0.0, 0.9),
        BodyKind::Tail => (Color::srgb(0.36, 0.37, 0.38), 0.2, 0.7),
        BodyKind::Pole => (Color::srgb(0.62, 0.66, 0.70), 0.4, 0.45),
        BodyKind::PoleItem(_) => (Color::srgb(0.42, 0.45, 0.48), 0.3, 0.6),
        BodyKind::Guides | BodyKind::Auger => (Color::srgb(0.70, 0.71, 0.72), 0.1, 0.7),
        BodyKind::BucketTruck(_) => (Color::srgb(0.86 * shade, 0.86 * shade, 0.83 * shade), 0.1, 0.6),
    };
    StandardMaterial { base_color: colour, metallic, perceptual_roughness: rough, ..default() }
}
