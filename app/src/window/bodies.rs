//! Machines and pole at rehearsal time, made from the very solids that are proven, tinted by what is left of their margin.

use super::Open;
use super::clock::Clock;
use super::draw::{self, Stock};
use super::lines::Now;
use super::matt::Matt;
use super::view::View;
use bevy::prelude::*;
use scene_core::bucket::LiftPart;
use scene_core::glam::DVec3;
use scene_core::motion::BodyKind;
use scene_core::rehearsal::Shape;
use scene_core::site::Shell;
use scene_core::solid::{Feature, Hull};
use std::collections::HashMap;

pub struct BodiesPlugin;

impl Plugin for BodiesPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Drawn>().add_systems(Update, follow.after(super::lines::measure));
    }
}

/// The entities that show the parts.
#[derive(Resource, Default)]
struct Drawn {
    at: Option<(u64, bool)>,
    /// With the solid as it was drawn.
    parts: HashMap<Part, (Entity, Hull)>,
}

/// One part of one body, and how it is painted.
#[derive(Clone, PartialEq, Eq, Hash)]
struct Part {
    body: String,
    index: usize,
    paint: Paint,
}

#[derive(Clone, Copy, PartialEq, Eq, Hash)]
enum Paint {
    Day,
    /// Less than nothing is left of its margin.
    Look([u8; 3]),
    /// As it stood before the drag.
    Ghost,
}

fn follow(
    mut commands: Commands,
    mut drawn: ResMut<Drawn>,
    open: Res<Open>,
    clock: Res<Clock>,
    now: Res<Now>,
    view: Res<View>,
    mut stock: Stock,
) {
    let at = Some((clock.time_s.to_bits(), view.layers.bare));
    if drawn.at == at && !open.is_changed() && !now.is_changed() {
        return;
    }
    drawn.at = at;
    let mut left = std::mem::take(&mut drawn.parts);
    let look = |shape: &Shape| {
        let look = now.look_of(&shape.name, &open.rehearsal.report);
        look.map_or(Paint::Day, |look| Paint::Look(look.colour))
    };
    let is_wood = matches!(open.rehearsal.site.pole.shell, Shell::Wood { .. });
    let shapes = open.rehearsal.shapes(clock.time_s);
    let worker = (!view.layers.bare).then(|| worker(&shapes)).flatten();
    let shown = shapes.iter().map(|shape| (shape, look(shape)));
    let ghosts = open.ghost.iter().map(|shape| (shape, Paint::Ghost));
    for (shape, paint) in shown.chain(ghosts).chain(worker.iter().map(|shape| (shape, Paint::Day))) {
        for (index, hull) in shape.hulls.iter().enumerate() {
            let part = Part { body: shape.name.clone(), index, paint };
            let known = left.remove(&part);
            if let Some((entity, _)) = known.as_ref().filter(|(_, before)| before == hull) {
                drawn.parts.insert(part, (*entity, hull.clone()));
                continue;
            }
            let mesh = draw::solid(hull).map(|mesh| Mesh3d(stock.meshes.add(mesh)));
            let entity = match (known, mesh) {
                (Some((entity, _)), Some(mesh)) => commands.entity(entity).insert(mesh).id(),
                (None, Some(mesh)) => {
                    let paint = stock.materials.add(painted(shape.kind, index, paint, is_wood));
                    commands.spawn((mesh, MeshMaterial3d(paint))).id()
                }
                (Some((entity, _)), None) => {
                    commands.entity(entity).despawn();
                    continue;
                }
                (None, None) => continue,
            };
            drawn.parts.insert(part, (entity, hull.clone()));
        }
    }
    for (entity, _) in left.into_values() {
        commands.entity(entity).despawn();
    }
}

/// A person in the bucket, for the eye: what is proven of him is his reach.
fn worker(shapes: &[Shape]) -> Option<Shape> {
    let bucket = shapes.iter().find(|shape| shape.kind == BodyKind::BucketTruck(LiftPart::Bucket))?;
    let corners: Vec<DVec3> =
        bucket.hulls.iter().flat_map(|hull| &hull.features).map(|f| f.farthest(DVec3::ZERO)).collect();
    let middle = corners.iter().sum::<DVec3>() / corners.len().max(1) as f64;
    let floor_m = corners.iter().map(|corner| corner.z).fold(f64::INFINITY, f64::min);
    let at = |up_m: f64| DVec3 { z: floor_m + up_m, ..middle };
    let ball = |up_m: f64, radius_m: f64| Feature::Ball { centre: at(up_m), radius_m };
    let body = Hull { features: vec![ball(0.3, 0.2), ball(1.35, 0.2)] };
    let head = Hull { features: vec![ball(1.65, 0.13)] };
    let kind = BodyKind::BucketTruck(LiftPart::Elbow);
    middle.is_finite().then(|| Shape { name: "person in the bucket".to_owned(), kind, hulls: vec![body, head] })
}

fn painted(kind: BodyKind, part: usize, paint: Paint, is_wood: bool) -> Matt {
    let is_wooden = is_wood && kind == BodyKind::Pole;
    let colour = if is_wooden { Color::srgb(0.52, 0.39, 0.27) } else { by_day(kind, part) };
    match paint {
        Paint::Day => Matt::of(colour),
        Paint::Look([r, g, b]) => {
            let tint = Color::srgb_u8(r, g, b);
            Matt::of(colour.mix(&tint, 0.72)).glowing(tint.to_linear() * 0.25)
        }
        Paint::Ghost => Matt::of(Color::srgba(0.25, 0.45, 0.75, 0.28)),
    }
}

/// What a thing looks like in daylight.
pub fn by_day(kind: BodyKind, part: usize) -> Color {
    let shade = 1.0 - 0.06 * (part % 3) as f32;
    match kind {
        BodyKind::Boom => Color::srgb(0.80 * shade, 0.62 * shade, 0.20 * shade),
        BodyKind::BoomHead | BodyKind::HookBlock => Color::srgb(0.28, 0.29, 0.31),
        BodyKind::HoistLine => Color::srgb(0.18, 0.18, 0.19),
        BodyKind::Rigging => Color::srgb(0.45, 0.26, 0.55),
        BodyKind::Tail => Color::srgb(0.36, 0.37, 0.38),
        BodyKind::Pole => Color::srgb(0.62, 0.66, 0.70),
        BodyKind::PoleItem(_) => Color::srgb(0.42, 0.45, 0.48),
        BodyKind::Guides | BodyKind::Auger => Color::srgb(0.70, 0.71, 0.72),
        BodyKind::BucketTruck(LiftPart::WorkerReach) => Color::srgba(0.95, 0.65, 0.20, 0.16),
        BodyKind::BucketTruck(LiftPart::UpperBoom) => Color::srgb(0.88, 0.84, 0.62),
        BodyKind::BucketTruck(LiftPart::Elbow) => Color::srgb(0.86, 0.42, 0.12),
        BodyKind::BucketTruck(_) => Color::srgb(0.86 * shade, 0.86 * shade, 0.83 * shade),
    }
}
