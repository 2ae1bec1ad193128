//! Machines and pole at rehearsal time. They are made from the very solids that are proven, and take the color of their
//! pair's state where less than nothing is left.

use super::diagnostics::{DiagnosticsApp, Stopwatch, Subsystem};
use super::draw::{self, DrawAssets};
use super::matte::Matte;
use super::measured::Measured;
use super::schedule::Frame;
use super::shown::Shown;
use crate::panel::diagnostics::Row;
use crate::theme::{StateColor, paint};
use bevy::prelude::*;
use scene_core::glam::DVec3;
use scene_core::machine::Look;
use scene_core::rehearsal::Shape;
use scene_core::site::Shell;
use scene_core::solid::{Feature, Hull};
use std::collections::HashMap;

pub struct BodiesPlugin;

impl Plugin for BodiesPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<DrawnBodies>()
            .init_diagnostics::<BodyDiagnostics>()
            .add_systems(Update, follow.in_set(Frame::Bodies));
    }
}

/// The entities that show the parts of bodies.
#[derive(Resource, Default)]
struct DrawnBodies {
    /// The time that is drawn, and whether only what is proven is.
    at: Option<(u64, bool)>,
    /// Each with the solid as it was drawn last.
    parts: HashMap<DrawnPart, (Entity, Hull)>,
}

/// What drawing the bodies costs.
#[derive(Resource, Default)]
struct BodyDiagnostics {
    stopwatch: Stopwatch,
    solids: usize,
    meshes_made: usize,
}

impl Subsystem for BodyDiagnostics {
    fn row(&self) -> Row {
        self.stopwatch.row("bodies", vec![("solids", self.solids), ("meshes made", self.meshes_made)])
    }
}

/// One part of one body, and how it is painted.
#[derive(Clone, PartialEq, Eq, Hash)]
struct DrawnPart {
    body: String,
    index: usize,
    paint: Paint,
}

#[derive(Clone, Copy, PartialEq, Eq, Hash)]
enum Paint {
    Day,
    /// Less than nothing is left of its margin.
    State(StateColor),
    /// The body as it stood before the drag.
    Ghost,
}

fn follow(
    mut commands: Commands,
    mut drawn: ResMut<DrawnBodies>,
    shown: Shown,
    measured: Res<Measured>,
    mut assets: DrawAssets,
    mut diagnostics: ResMut<BodyDiagnostics>,
) {
    let Shown { open, clock, view } = &shown;
    let at = Some((clock.time_s.to_bits(), view.layers.bare));
    if drawn.at == at && !open.is_changed() && !measured.is_changed() {
        return;
    }
    let running = diagnostics.stopwatch.start();
    let mut meshes_made = 0;
    drawn.at = at;
    let mut left = std::mem::take(&mut drawn.parts);
    let paint_of = |shape: &Shape| {
        let look = measured.look_of(&shape.name, &open.rehearsal.report);
        look.map_or(Paint::Day, |look| Paint::State(look.color))
    };
    let is_wood = matches!(open.rehearsal.site.pole.shell, Shell::Wood { .. });
    let shapes = open.rehearsal.shapes(clock.time_s);
    let buckets = shapes.iter().filter(|shape| !view.layers.bare && shape.look == Look::Bucket);
    let workers: Vec<Shape> = buckets.filter_map(worker).collect();
    // A carrier is drawn for the eye inside its proven boxes; they show where they are what matters.
    let shows =
        |(shape, paint): &(&Shape, Paint)| shape.look != Look::Carrier || view.layers.bare || *paint != Paint::Day;
    let moving = shapes.iter().map(|shape| (shape, paint_of(shape))).filter(shows);
    let ghosts = open.ghost.iter().map(|shape| (shape, Paint::Ghost));
    for (shape, paint) in moving.chain(ghosts).chain(workers.iter().map(|shape| (shape, Paint::Day))) {
        for (index, hull) in shape.hulls.iter().enumerate() {
            let part = DrawnPart { body: shape.name.clone(), index, paint };
            let known = left.remove(&part);
            if let Some((entity, _)) = known.as_ref().filter(|(_, before)| before == hull) {
                drawn.parts.insert(part, (*entity, hull.clone()));
                continue;
            }
            let mesh = draw::solid(hull).map(|mesh| Mesh3d(assets.meshes.add(mesh)));
            meshes_made += usize::from(mesh.is_some());
            let entity = match (known, mesh) {
                (Some((entity, _)), Some(mesh)) => commands.entity(entity).insert(mesh).id(),
                (None, Some(mesh)) => {
                    let paint = assets.materials.add(painted(shape.look, index, paint, is_wood));
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
    diagnostics.stopwatch.stop(running);
    (diagnostics.solids, diagnostics.meshes_made) = (drawn.parts.len(), meshes_made);
}

/// A person in a bucket. He is drawn for the eye; what is proven of him is his reach.
fn worker(bucket: &Shape) -> Option<Shape> {
    let corners: Vec<DVec3> =
        bucket.hulls.iter().flat_map(|hull| &hull.features).map(|f| f.farthest(DVec3::ZERO)).collect();
    let middle = corners.iter().sum::<DVec3>() / corners.len().max(1) as f64;
    let floor_m = corners.iter().map(|corner| corner.z).fold(f64::INFINITY, f64::min);
    let at = |up_m: f64| DVec3 { z: floor_m + up_m, ..middle };
    let ball = |up_m: f64, radius_m: f64| Feature::Ball { center: at(up_m), radius_m };
    let body = Hull { features: vec![ball(0.3, 0.2), ball(1.35, 0.2)] };
    let head = Hull { features: vec![ball(1.65, 0.13)] };
    middle.is_finite().then(|| Shape {
        name: format!("person in {}", bucket.name),
        look: Look::Joint,
        hulls: vec![body, head],
        ..bucket.clone()
    })
}

fn painted(look: Look, part: usize, paint: Paint, is_wood: bool) -> Matte {
    let is_wooden = is_wood && look == Look::Pole;
    let color = if is_wooden { paint::WOOD_POLE } else { by_day(look, part) };
    match paint {
        Paint::Day => Matte::of(color),
        Paint::State(state) => {
            let (color, glow) = paint::in_state(color, state);
            Matte::of(color).glowing(glow)
        }
        Paint::Ghost => Matte::of(paint::GHOST),
    }
}

/// The color of a body in daylight; `part` counts the parts of the body.
pub fn by_day(look: Look, part: usize) -> Color {
    match look {
        Look::CraneBoom => paint::section(paint::BOOM, part),
        Look::DarkSteel => paint::HOOK,
        Look::WireRope => paint::HOIST_LINE,
        Look::Sling => paint::RIGGING,
        Look::Counterweight | Look::Carrier => paint::COUNTERWEIGHT,
        Look::Pole => paint::STEEL_POLE,
        Look::Hardware => paint::POLE_ITEM,
        Look::BareSteel => paint::DERRICK_TOOL,
        Look::Reach => paint::WORKER_REACH,
        Look::Insulating => paint::INSULATED_BOOM,
        Look::Joint => paint::ELBOW,
        Look::Painted | Look::Bucket => paint::section(paint::BUCKET_TRUCK, part),
    }
}
