//! Wires with the band they may hang in, covers on them, the ground's grid, and the pair that is nearest now.

use super::axes::to_engine;
use super::clock::Clock;
use super::view::View;
use super::{Open, draw};
use crate::panel::margin;
use bevy::prelude::*;
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
    of: Option<(u64, usize)>,
    step: Option<(usize, usize)>,
    pub nearest: Option<Nearest>,
    pub curves: Vec<Curve>,
    sleeves: Vec<Entity>,
}

fn widths(mut store: ResMut<GizmoConfigStore>) {
    let (config, _) = store.config_mut::<Strong>();
    config.line.width = 4.0;
    config.depth_bias = -0.9;
    let (config, _) = store.config_mut::<DefaultGizmoConfigGroup>();
    config.line.width = 1.6;
}

fn measure(mut now: ResMut<Now>, open: Res<Open>, clock: Res<Clock>, view: Res<View>) {
    let of = Some((clock.time_s.to_bits(), view.weather));
    if now.of == of && !open.is_changed() {
        return;
    }
    now.of = of;
    now.nearest = open.rehearsal.nearest(clock.time_s, view.weather);
}

/// New curves and sleeves whenever the step changes.
fn cover(
    mut commands: Commands,
    mut now: ResMut<Now>,
    open: Res<Open>,
    clock: Res<Clock>,
    view: Res<View>,
    mut meshes: ResMut<Assets<Mesh>>,
    mut materials: ResMut<Assets<StandardMaterial>>,
) {
    let step = clock.step_shown(&open);
    if now.step == Some((step, view.weather)) && !open.is_changed() {
        return;
    }
    let now = &mut *now;
    now.step = Some((step, view.weather));
    now.curves = open.rehearsal.curves(step, view.weather);
    for entity in std::mem::take(&mut now.sleeves) {
        commands.entity(entity).despawn();
    }
    let site = &open.rehearsal.site;
    let orange = materials.add(StandardMaterial {
        base_color: Color::srgb(0.93, 0.45, 0.12),
        perceptual_roughness: 0.8,
        // A tube has no ends: its inside is seen.
        cull_mode: None,
        double_sided: true,
        ..default()
    });
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
                now.sleeves.push(commands.spawn((Mesh3d(meshes.add(mesh)), MeshMaterial3d(orange.clone()))).id());
            }
        }
    }
}

fn draw_lines(mut gizmos: Gizmos, mut strong: Gizmos<Strong>, now: Res<Now>, open: Res<Open>) {
    let site = &open.rehearsal.site;
    for curve in &now.curves {
        let colour = match site.wires.get(curve.wire).map(|wire| wire.kind) {
            Some(scene_core::site::WireKind::Phase { .. }) => Color::srgb(0.10, 0.10, 0.12),
            Some(scene_core::site::WireKind::Neutral { .. }) => Color::srgb(0.30, 0.30, 0.33),
            _ => Color::srgb(0.20, 0.22, 0.30),
        };
        gizmos.linestrip(curve.points.iter().map(|p| to_engine(*p)), colour);
    }
    // Ten feet to a square.
    const SQUARE_M: f32 = 3.048;
    let ground = to_engine(site.hole.at);
    gizmos.grid(
        Isometry3d::new(ground, Quat::from_rotation_x(std::f32::consts::FRAC_PI_2)),
        UVec2::splat(24),
        Vec2::splat(SQUARE_M),
        Color::srgba(0.30, 0.33, 0.27, 0.35),
    );
    if let Some(nearest) = &now.nearest {
        let [r, g, b] = margin::Look::of(nearest.margin_m, margin::state(&open.rehearsal.report, nearest)).colour;
        let colour = Color::srgb_u8(r, g, b);
        let (a, b) = (to_engine(nearest.on_body), to_engine(nearest.on_other));
        strong.line(a, b, colour);
        for at in [a, b] {
            strong.sphere(Isometry3d::from_translation(at), 0.12, colour);
        }
    }
}
