//! What machine and pole sweep, in a step or over the whole path: closed surfaces that hold them at every instant, and their
//! footprints on the ground.

use super::axes::to_engine;
use super::bodies;
use super::diagnostics::{DiagnosticsApp, Stopwatch, Subsystem};
use super::draw::{self, DrawAssets};
use super::ground::DrawnGround;
use super::matte::Matte;
use super::schedule::Frame;
use super::shown::Shown;
use crate::panel;
use crate::panel::diagnostics::Row;
use crate::theme::paint;
use bevy::prelude::*;
use bevy::window::RequestRedraw;
use scene_core::glam::DVec2;
use scene_core::machine::Look;
use scene_core::swept;
use std::collections::HashMap;

pub struct SweepPlugin;

impl Plugin for SweepPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<DrawnSweeps>()
            .init_diagnostics::<SweepDiagnostics>()
            .add_systems(Update, (show, work_out).chain().in_set(Frame::Sweeps));
    }
}

/// The entities that show each step's sweep, as far as it was worked out.
#[derive(Resource, Default)]
struct DrawnSweeps(HashMap<usize, Vec<Entity>>);

/// What working out the sweeps costs.
#[derive(Resource, Default)]
struct SweepDiagnostics {
    stopwatch: Stopwatch,
    steps: usize,
    surfaces: usize,
    triangles: usize,
}

impl Subsystem for SweepDiagnostics {
    fn row(&self) -> Row {
        let counts = vec![("steps", self.steps), ("surfaces", self.surfaces), ("triangles", self.triangles)];
        self.stopwatch.row("sweep", counts)
    }
}

/// The view asks for this step's sweep.
fn is_wanted(step: usize, shown: &Shown) -> bool {
    match shown.view.layers.swept {
        panel::Swept::Nothing => false,
        panel::Swept::Step => step == shown.step(),
        panel::Swept::Path => true,
    }
}

/// Shows what was made where it is wanted, and gives it up when the scene changed.
fn show(
    mut commands: Commands,
    mut drawn: ResMut<DrawnSweeps>,
    shown: Shown,
    mut visibilities: Query<&mut Visibility>,
    mut diagnostics: ResMut<SweepDiagnostics>,
) {
    if shown.open.is_changed() && !drawn.0.is_empty() {
        (diagnostics.steps, diagnostics.surfaces, diagnostics.triangles) = (0, 0, 0);
        for entity in drawn.0.drain().flat_map(|(_, made)| made) {
            commands.entity(entity).despawn();
        }
    }
    for (step, made) in &drawn.0 {
        let wanted = is_wanted(*step, &shown);
        let to = if wanted { Visibility::Inherited } else { Visibility::Hidden };
        for entity in made {
            if let Ok(mut visibility) = visibilities.get_mut(*entity) {
                visibility.set_if_neq(to);
            }
        }
    }
}

/// Works out one step a frame, so that the window never waits for the whole path.
fn work_out(
    mut commands: Commands,
    mut drawn: ResMut<DrawnSweeps>,
    shown: Shown,
    mut assets: DrawAssets,
    mut redraw: MessageWriter<RequestRedraw>,
    mut diagnostics: ResMut<SweepDiagnostics>,
) {
    let missing = |step: &usize| is_wanted(*step, &shown) && !drawn.0.contains_key(step);
    let Some(step) = (0..shown.open.rehearsal.report.steps.len()).find(missing) else { return };
    let running = diagnostics.stopwatch.start();
    let ground = DrawnGround::of(&shown.open.rehearsal.site);
    let mut made = Vec::new();
    for (body, swept) in shown.open.rehearsal.sweeps(step) {
        // A reach tells what may come near a person; it is shown at its instant alone.
        if body.look == Look::Reach {
            continue;
        }
        diagnostics.surfaces += swept.surfaces.len();
        diagnostics.triangles += swept.surfaces.iter().map(|surface| surface.triangles.len()).sum::<usize>();
        let paint = assets.materials.add(glassy(bodies::by_day(body.look, 0)));
        made.push(commands.spawn((Mesh3d(assets.meshes.add(closed(&swept))), MeshMaterial3d(paint))).id());
        let shade = assets.materials.add(glassy(paint::FOOTPRINT));
        let print = Mesh3d(assets.meshes.add(footprint(&swept, &ground)));
        made.push(commands.spawn((print, MeshMaterial3d(shade))).id());
    }
    drawn.0.insert(step, made);
    diagnostics.stopwatch.stop(running);
    diagnostics.steps += 1;
    redraw.write(RequestRedraw);
}

fn glassy(color: Color) -> Matte {
    Matte::of(color.with_alpha(paint::SWEPT_ALPHA)).evenly_seen_through()
}

fn closed(swept: &swept::Swept) -> Mesh {
    let triangles = swept.surfaces.iter().flat_map(|surface| {
        let corner = |i: &u32| surface.points.get(*i as usize).map(|p| to_engine(*p));
        surface.triangles.iter().filter_map(move |[a, b, c]| Some([corner(a)?, corner(b)?, corner(c)?]))
    });
    draw::flat(triangles)
}

/// The footprint, laid on the ground.
fn footprint(swept: &swept::Swept, ground: &DrawnGround) -> Mesh {
    /// No edge is longer, so that the footprint follows the ground.
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
    draw::flat(done.into_iter().map(|corners| corners.map(|p| to_engine(ground.on(p)) + Vec3::Y * 0.05)))
}
