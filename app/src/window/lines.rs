//! Wires with the band they may hang in, covers on them, the ground's grid, and the pair that is nearest now.

use super::Open;
use super::axes::to_engine;
use super::clock::Clock;
use super::draw::{self, Stock};
use super::matt::Matt;
use super::place::Grid;
use super::view::View;
use crate::panel::margin::{self, Look};
use bevy::prelude::*;
use scene_core::outcome::Report;
use scene_core::rehearsal::Nearest;
use scene_core::site::{CoverOn, station};
use scene_core::trace::Curve;

pub struct LinesPlugin;

impl Plugin for LinesPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Now>()
            .init_gizmo_group::<Strong>()
            .add_systems(Startup, widths)
            .add_systems(Update, (measure, cover, draw_lines).chain());
    }
}

/// Lines that must be seen from afar, and in front of everything.
#[derive(Default, Reflect, GizmoConfigGroup)]
struct Strong;

/// What holds at this instant.
#[derive(Resource, Default)]
pub struct Now {
    of: Option<(u64, usize, usize)>,
    step: Option<(usize, usize, bool)>,
    pub nearest: Option<Nearest>,
    pub curves: Vec<Curve>,
    /// Of every wire the body that leaves the least, and all that leave less than nothing.
    pub pairs: Vec<Nearest>,
    /// What leaves the least other than to a wire.
    pub among_bodies: Option<Nearest>,
    pub step_shown: usize,
    sleeves: Vec<Entity>,
}

impl Now {
    /// How a body looks that touches something in this step, or is nearer to some wire than required: as at the one that leaves
    /// it least.
    pub fn look_of(&self, body: &str, report: &Report) -> Option<Look> {
        let met = report.met_in(self.step_shown).filter(|row| row.body == body || row.other == body);
        if met.map(|row| Look::of_state(row.state)).any(|look| look == margin::STOP) {
            return Some(margin::STOP);
        }
        let is_of =
            |pair: &&Nearest| report.gaps.get(pair.row).is_some_and(|row| row.body == body || row.other == body);
        let own = self.pairs.iter().chain(&self.among_bodies).filter(is_of);
        let least = own.min_by(|a, b| a.margin_m.total_cmp(&b.margin_m))?;
        (least.margin_m < 0.0).then(|| Look::of(least.margin_m, margin::state(report, least)))
    }

    /// A pair that has the least left is a stop, or something is struck in this step.
    pub fn is_stop(&self, report: &Report) -> bool {
        let look = |nearest: &Nearest| Look::of(nearest.margin_m, margin::state(report, nearest));
        self.nearest.iter().chain(&self.among_bodies).any(|nearest| look(nearest) == margin::STOP)
            || report.met_in(self.step_shown).any(|row| Look::of_state(row.state) == margin::STOP)
    }
}

/// How far from the hole tubes are drawn, metres.
const NEAR_M: f64 = 20.0;

fn widths(mut store: ResMut<GizmoConfigStore>) {
    let (config, _) = store.config_mut::<Strong>();
    config.line.width = 4.0;
    config.depth_bias = -0.9;
    let (config, _) = store.config_mut::<DefaultGizmoConfigGroup>();
    config.line.width = 1.6;
}

pub fn measure(mut now: ResMut<Now>, open: Res<Open>, clock: Res<Clock>, view: Res<View>) {
    let step_shown = clock.step_shown(&open);
    let of = Some((clock.time_s.to_bits(), view.weather, step_shown));
    if now.of == of && !open.is_changed() {
        return;
    }
    now.of = of;
    now.pairs = open.rehearsal.to_wires(clock.time_s, view.weather);
    now.among_bodies = open.rehearsal.among_bodies(clock.time_s);
    now.step_shown = step_shown;
    now.nearest = now.pairs.iter().min_by(|a, b| a.margin_m.total_cmp(&b.margin_m)).cloned();
}

/// New curves, sleeves and tubes whenever the step changes.
fn cover(
    mut commands: Commands,
    mut now: ResMut<Now>,
    open: Res<Open>,
    clock: Res<Clock>,
    view: Res<View>,
    mut stock: Stock,
) {
    let step = clock.step_shown(&open);
    let of = Some((step, view.weather, view.layers.tubes));
    if now.step == of && !open.is_changed() {
        return;
    }
    let now = &mut *now;
    now.step = of;
    now.curves = open.rehearsal.curves(step, view.weather);
    for entity in std::mem::take(&mut now.sleeves) {
        commands.entity(entity).despawn();
    }
    let site = &open.rehearsal.site;
    let orange = stock.materials.add(Matt::of(Color::srgb(0.93, 0.45, 0.12)).seen_from_behind());
    if view.layers.tubes {
        let red = stock.materials.add(Matt::unlit(Color::srgba(0.65, 0.08, 0.16, 0.16)).seen_from_behind());
        for curve in &now.curves {
            let Some(wire) = site.wires.get(curve.wire) else { continue };
            let rows = open.rehearsal.report.gaps.iter().filter(|row| row.other == wire.name);
            // Bodies differ in what they must keep: the farthest is shown.
            let required_m = rows.map(|row| row.required_m).fold(0.0, f64::max);
            let near = |p: &&scene_core::glam::DVec3| (**p - site.hole.at).truncate().length() < NEAR_M;
            let line: Vec<Vec3> = curve.points.iter().filter(near).map(|p| to_engine(*p)).collect();
            if required_m > 0.0
                && let Some(mesh) = draw::tube(&line, (required_m + curve.radius_m) as f32)
            {
                now.sleeves.push(commands.spawn((Mesh3d(stock.meshes.add(mesh)), MeshMaterial3d(red.clone()))).id());
            }
        }
    }
    for cover in &site.covers {
        let CoverOn::Wire { wire, station_m } = cover.on else { continue };
        let Some(spans) = site.wires.get(wire).map(|wire| &wire.spans) else { continue };
        if !cover.during.is_in_force(step) {
            continue;
        }
        let (Some((first, from)), Some((_, to))) = (
            station::locate(spans, site.hole.at, station_m.low()),
            station::locate(spans, site.hole.at, station_m.high()),
        ) else {
            continue;
        };
        let Some(span) = spans.get(first) else { continue };
        let level = (span.to - span.from).truncate();
        let (from, to) = (from * level.length(), to * level.length());
        let along = level.normalize_or_zero();
        for curve in now.curves.iter().filter(|curve| curve.wire == wire) {
            let inside = |p: &&scene_core::glam::DVec3| {
                let s = (**p - span.from).truncate().dot(along);
                (from..=to).contains(&s)
            };
            let line: Vec<Vec3> = curve.points.iter().filter(inside).map(|p| to_engine(*p)).collect();
            if let Some(mesh) = draw::tube(&line, 0.08) {
                now.sleeves.push(commands.spawn((Mesh3d(stock.meshes.add(mesh)), MeshMaterial3d(orange.clone()))).id());
            }
        }
    }
}

fn draw_lines(mut gizmos: Gizmos, mut strong: Gizmos<Strong>, now: Res<Now>, open: Res<Open>, grid: Res<Grid>) {
    let site = &open.rehearsal.site;
    for curve in &now.curves {
        let colour = match site.wires.get(curve.wire).map(|wire| wire.kind) {
            Some(scene_core::site::WireKind::Phase { .. }) => Color::srgb(0.10, 0.10, 0.12),
            Some(scene_core::site::WireKind::Neutral { .. }) => Color::srgb(0.30, 0.30, 0.33),
            _ => Color::srgb(0.20, 0.22, 0.30),
        };
        gizmos.linestrip(curve.points.iter().map(|p| to_engine(*p)), colour);
    }
    for line in &grid.0 {
        gizmos.linestrip(line.iter().copied(), Color::srgba(0.30, 0.33, 0.27, 0.35));
    }
    // The stretches of wire that something is nearer to than required.
    const STRETCH_M: f64 = 2.0;
    for pair in now.pairs.iter().filter(|pair| pair.margin_m < 0.0) {
        let [r, g, b] = Look::of(pair.margin_m, margin::state(&open.rehearsal.report, pair)).colour;
        let Some(row) = open.rehearsal.report.gaps.get(pair.row) else { continue };
        for curve in &now.curves {
            if site.wires.get(curve.wire).is_some_and(|wire| wire.name == row.other) {
                let near = |p: &&scene_core::glam::DVec3| p.distance(pair.on_other) < STRETCH_M;
                let stretch = curve.points.iter().filter(near).map(|p| to_engine(*p));
                strong.linestrip(stretch, Color::srgb_u8(r, g, b));
            }
        }
    }
    // Where bodies come nearest in this step, as proven.
    for row in open.rehearsal.report.met_in(now.step_shown) {
        let (Some(a), Some(b)) = (row.point_on_body, row.point_on_other) else { continue };
        let [r, g, b_] = Look::of_state(row.state).colour;
        let colour = Color::srgb_u8(r, g, b_);
        strong.line(to_engine(a), to_engine(b), colour);
        strong.sphere(Isometry3d::from_translation(to_engine((a + b) / 2.0)), 0.2, colour);
    }
    let bodies = margin::to_watch(&open.rehearsal.report, now.among_bodies.as_ref()).map(|(near, _)| near);
    for nearest in now.nearest.iter().chain(bodies) {
        let [r, g, b] = Look::of(nearest.margin_m, margin::state(&open.rehearsal.report, nearest)).colour;
        let colour = Color::srgb_u8(r, g, b);
        let (a, b) = (to_engine(nearest.on_body), to_engine(nearest.on_other));
        strong.line(a, b, colour);
        for at in [a, b] {
            strong.sphere(Isometry3d::from_translation(at), 0.12, colour);
        }
    }
}
