//! What machine and pole sweep, in a step or over the whole path: closed surfaces that hold them at every instant, and the
//! footprint of those on the ground.

use super::Open;
use super::axes::to_engine;
use super::bodies;
use super::clock::Clock;
use super::draw::{self, Stock};
use super::matt::Matt;
use super::place::Lie;
use super::view::View;
use crate::panel;
use bevy::prelude::*;
use bevy::window::RequestRedraw;
use scene_core::glam::DVec2;
use scene_core::motion::BodyKind;
use scene_core::swept;
use std::collections::HashMap;

pub struct SweepPlugin;

impl Plugin for SweepPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Known>().add_systems(Update, (show, work_out).chain());
    }
}

/// By step, what was made of it.
#[derive(Resource, Default)]
struct Known(HashMap<usize, Vec<Entity>>);

/// The steps whose sweep is wanted.
fn is_wanted(step: usize, open: &Open, clock: &Clock, view: &View) -> bool {
    match view.layers.swept {
        panel::Swept::Nothing => false,
        panel::Swept::Step => step == clock.step_shown(open),
        panel::Swept::Path => true,
    }
}

/// What was made is shown where it is wanted, and given up when the scene changed.
fn show(
    mut commands: Commands,
    mut known: ResMut<Known>,
    open: Res<Open>,
    clock: Res<Clock>,
    view: Res<View>,
    mut shown: Query<&mut Visibility>,
) {
    if open.is_changed() {
        for entity in known.0.drain().flat_map(|(_, made)| made) {
            commands.entity(entity).despawn();
        }
    }
    for (step, made) in &known.0 {
        let wanted = is_wanted(*step, &open, &clock, &view);
        let to = if wanted { Visibility::Inherited } else { Visibility::Hidden };
        for entity in made {
            if let Ok(mut visibility) = shown.get_mut(*entity) {
                visibility.set_if_neq(to);
            }
        }
    }
}

/// One step a frame, so that the window never waits for the whole path.
fn work_out(
    mut commands: Commands,
    mut known: ResMut<Known>,
    open: Res<Open>,
    clock: Res<Clock>,
    view: Res<View>,
    mut stock: Stock,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    let missing = |step: &usize| is_wanted(*step, &open, &clock, &view) && !known.0.contains_key(step);
    let Some(step) = (0..open.rehearsal.report.steps.len()).find(missing) else { return };
    let lie = Lie::of(&open.rehearsal.site);
    let mut made = Vec::new();
    for (kind, swept) in open.rehearsal.sweeps(step) {
        // A reach is for what may come near a person; it is shown at its instant.
        if matches!(kind, BodyKind::BucketTruck(scene_core::bucket::LiftPart::WorkerReach)) {
            continue;
        }
        let paint = stock.materials.add(glassy(bodies::by_day(kind, 0)));
        made.push(commands.spawn((Mesh3d(stock.meshes.add(closed(&swept))), MeshMaterial3d(paint))).id());
        let shade = stock.materials.add(glassy(Color::srgb(0.14, 0.16, 0.30)));
        let print = Mesh3d(stock.meshes.add(footprint(&swept, &lie)));
        made.push(commands.spawn((print, MeshMaterial3d(shade))).id());
    }
    known.0.insert(step, made);
    redraw.write(RequestRedraw);
}

fn glassy(colour: Color) -> Matt {
    Matt::of(colour.with_alpha(0.3)).evenly_seen_through()
}

fn closed(swept: &swept::Swept) -> Mesh {
    let triangles = swept.surfaces.iter().flat_map(|surface| {
        let corner = |i: &u32| surface.points.get(*i as usize).map(|p| to_engine(*p));
        surface.triangles.iter().filter_map(move |[a, b, c]| Some([corner(a)?, corner(b)?, corner(c)?]))
    });
    draw::flat(triangles)
}

/// Laid on the ground.
fn footprint(swept: &swept::Swept, lie: &Lie) -> Mesh {
    /// No edge longer, so that it follows the ground; metres.
    const EDGE_M: f64 = 2.0;
    let mut open: Vec<[DVec2; 3]> = Vec::new();
    for outline in &swept.footprints {
        if let Some((first, rest)) = outline.split_first() {
            open.extend(rest.windows(2).filter_map(|pair| Some([*first, *pair.first()?, *pair.get(1)?])));
        }
    }
    let mut done = Vec::new();
    while let Some([a, b, c]) = open.pop() {
        let longest = [(a, b, c), (b, c, a), (c, a, b)]
            .into_iter()
            .max_by(|x, y| x.0.distance(x.1).total_cmp(&y.0.distance(y.1)))
            .filter(|(from, to, _)| from.distance(*to) > EDGE_M && done.len() + open.len() < 40_000);
        match longest {
            Some((from, to, other)) => {
                let middle = (from + to) / 2.0;
                open.extend([[from, middle, other], [middle, to, other]]);
            }
            None => done.push([a, b, c]),
        }
    }
    draw::flat(done.into_iter().map(|corners| corners.map(|p| to_engine(lie.on(p)) + Vec3::Y * 0.05)))
}
