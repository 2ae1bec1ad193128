//! Lines of the site view: wires, the covers and required distances about them, the ground's grid, and the pairs that are
//! nearest now.

use super::OpenScene;
use super::axes::to_engine;
use super::diagnostics::{DiagnosticsApp, Stopwatch, Subsystem};
use super::draw::{self, DrawAssets};
use super::ground::Grid;
use super::matte::Matte;
use super::measured::Measured;
use super::schedule::{Begin, Frame};
use super::shown::Shown;
use crate::panel::diagnostics::Row;
use crate::panel::margin::{self, Look};
use crate::theme::paint;
use bevy::prelude::*;
use scene_core::glam::{DVec2, DVec3};
use scene_core::site::{Cover, CoverOn, Site, WireKind, station};

pub struct LinesPlugin;

impl Plugin for LinesPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<DrawnTubes>()
            .init_diagnostics::<WireDiagnostics>()
            .init_gizmo_group::<InFront>()
            .add_systems(Startup, widths.in_set(Begin::Site))
            .add_systems(Update, (tubes, draw_lines).chain().in_set(Frame::Wires));
    }
}

/// Lines that must be seen from afar, and in front of everything.
#[derive(Default, Reflect, GizmoConfigGroup)]
struct InFront;

/// The covers and required distances that are drawn.
#[derive(Resource, Default)]
struct DrawnTubes {
    /// Step, weather, and whether required distances are shown.
    of: Option<(usize, usize, bool)>,
    entities: Vec<Entity>,
}

/// What drawing the wires costs.
#[derive(Resource, Default)]
struct WireDiagnostics {
    stopwatch: Stopwatch,
    wires: usize,
    points: usize,
    tubes: usize,
}

impl Subsystem for WireDiagnostics {
    fn row(&self) -> Row {
        self.stopwatch.row("wires", vec![("wires", self.wires), ("points", self.points), ("tubes", self.tubes)])
    }
}

/// Required distances are drawn no farther from the hole, meters.
const NEAR_M: f64 = 20.0;

fn widths(mut store: ResMut<GizmoConfigStore>) {
    let (config, _) = store.config_mut::<InFront>();
    config.line.width = paint::FRONT_LINE_WIDTH;
    config.depth_bias = -0.9;
    let (config, _) = store.config_mut::<DefaultGizmoConfigGroup>();
    config.line.width = paint::LINE_WIDTH;
}

/// Draws covers and required distances anew whenever the step changes.
fn tubes(
    mut commands: Commands,
    mut drawn: ResMut<DrawnTubes>,
    measured: Res<Measured>,
    shown: Shown,
    mut assets: DrawAssets,
) {
    let Shown { open, view, .. } = &shown;
    let step = shown.step();
    let of = Some((step, view.weather, view.layers.tubes));
    if drawn.of == of && !open.is_changed() {
        return;
    }
    drawn.of = of;
    for entity in std::mem::take(&mut drawn.entities) {
        commands.entity(entity).despawn();
    }
    let DrawAssets { meshes, materials } = &mut assets;
    let mut put = |line: Vec<Vec3>, radius: f32, paint: &Handle<Matte>| {
        let Some(mesh) = draw::tube(&line, radius) else { return };
        let tube = (Mesh3d(meshes.add(mesh)), MeshMaterial3d(paint.clone()));
        drawn.entities.push(commands.spawn(tube).id());
    };
    let cover = materials.add(Matte::of(paint::COVER).seen_from_behind());
    let site = &open.rehearsal.site;
    if view.layers.tubes {
        let required = materials.add(Matte::unlit(paint::REQUIRED).seen_from_behind());
        for curve in &measured.curves {
            let Some(wire) = site.wires.get(curve.wire) else { continue };
            let rows = open.rehearsal.report.gaps.iter().filter(|row| row.other == wire.name);
            // Bodies differ in the distance that they must keep; the farthest is shown.
            let required_m = rows.map(|row| row.required_m).fold(0.0, f64::max);
            let is_near = |p: &&DVec3| (**p - site.hole.at).truncate().length() < NEAR_M;
            if required_m > 0.0 {
                let line = curve.points.iter().filter(is_near).map(|p| to_engine(*p)).collect();
                put(line, (required_m + curve.radius_m) as f32, &required);
            }
        }
    }
    for stretch in site.covers.iter().filter(|cover| cover.during.is_in_force(step)).filter_map(|c| covered(site, c)) {
        for curve in measured.curves.iter().filter(|curve| curve.wire == stretch.wire) {
            let line = curve.points.iter().filter(|p| stretch.holds(**p)).map(|p| to_engine(*p)).collect();
            put(line, paint::COVER_RADIUS_M, &cover);
        }
    }
}

/// The stretch of a wire under a cover, by its first span.
struct Stretch {
    wire: usize,
    start: DVec3,
    along: DVec2,
    from_m: f64,
    to_m: f64,
}

impl Stretch {
    fn holds(&self, p: DVec3) -> bool {
        (self.from_m..=self.to_m).contains(&(p - self.start).truncate().dot(self.along))
    }
}

/// The stretch that a cover lies on; `None` for one that lies on no wire.
fn covered(site: &Site, cover: &Cover) -> Option<Stretch> {
    let CoverOn::Wire { wire, station_m } = cover.on else { return None };
    let spans = &site.wires.get(wire)?.spans;
    let (first, from) = station::locate(spans, site.hole.at, station_m.low())?;
    let (_, to) = station::locate(spans, site.hole.at, station_m.high())?;
    let span = spans.get(first)?;
    let level = (span.to - span.from).truncate();
    let (from_m, to_m) = (from * level.length(), to * level.length());
    Some(Stretch { wire, start: span.from, along: level.normalize_or_zero(), from_m, to_m })
}

fn draw_lines(
    mut gizmos: Gizmos,
    mut in_front: Gizmos<InFront>,
    measured: Res<Measured>,
    open: Res<OpenScene>,
    grid: Res<Grid>,
    drawn: Res<DrawnTubes>,
    mut diagnostics: ResMut<WireDiagnostics>,
) {
    let running = diagnostics.stopwatch.start();
    let wires = &open.rehearsal.site.wires;
    for curve in &measured.curves {
        let color = match wires.get(curve.wire).map(|wire| wire.kind) {
            Some(WireKind::Phase { .. }) => paint::PHASE,
            Some(WireKind::Neutral { .. }) => paint::NEUTRAL,
            _ => paint::OTHER_WIRE,
        };
        gizmos.linestrip(curve.points.iter().map(|p| to_engine(*p)), color);
    }
    for line in &grid.0 {
        gizmos.linestrip(line.iter().copied(), paint::GRID);
    }
    draw_margins(&mut in_front, &measured, &open);
    diagnostics.stopwatch.stop(running);
    diagnostics.wires = measured.curves.len();
    diagnostics.points = measured.curves.iter().map(|curve| curve.points.len()).sum();
    diagnostics.tubes = drawn.entities.len();
}

/// Draws, in front of everything, where something is nearer than required, where bodies meet, and the nearest pairs.
fn draw_margins(in_front: &mut Gizmos<InFront>, measured: &Measured, open: &OpenScene) {
    const STRETCH_M: f64 = 2.0;
    let report = &open.rehearsal.report;
    let wires = &open.rehearsal.site.wires;
    for pair in measured.pairs.iter().filter(|pair| pair.margin_m < 0.0) {
        let color = Look::of(pair.margin_m, margin::state(report, pair)).color.in_site();
        let Some(row) = report.gaps.get(pair.row) else { continue };
        for curve in &measured.curves {
            if wires.get(curve.wire).is_some_and(|wire| wire.name == row.other) {
                let is_near = |p: &&DVec3| p.distance(pair.on_other) < STRETCH_M;
                let stretch = curve.points.iter().filter(is_near).map(|p| to_engine(*p));
                in_front.linestrip(stretch, color);
            }
        }
    }
    // Where bodies come nearest in this step, as proven.
    for row in report.met_in(measured.step_shown) {
        let (Some(a), Some(b)) = (row.point_on_body, row.point_on_other) else { continue };
        let color = Look::of_state(row.state).color.in_site();
        in_front.line(to_engine(a), to_engine(b), color);
        let middle = Isometry3d::from_translation(to_engine((a + b) / 2.0));
        in_front.sphere(middle, paint::MEETING_RADIUS_M, color);
    }
    let bodies = margin::to_watch(report, measured.among_bodies.as_ref()).map(|(near, _)| near);
    for nearest in measured.nearest.iter().chain(bodies) {
        let color = Look::of(nearest.margin_m, margin::state(report, nearest)).color.in_site();
        let (a, b) = (to_engine(nearest.on_body), to_engine(nearest.on_other));
        in_front.line(a, b, color);
        for at in [a, b] {
            in_front.sphere(Isometry3d::from_translation(at), paint::PAIR_END_RADIUS_M, color);
        }
    }
}
