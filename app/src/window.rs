//! The desktop window. For now the ground under a daylight sky, the wires as they may hang, and the report beside it.

mod axes;
mod orbit;

use bevy::ecs::error::{ErrorContext, FallbackErrorHandler};
use bevy::log::error;
use bevy::prelude::*;
use bevy::winit::WinitSettings;
use bevy_egui::{EguiContexts, EguiPlugin, EguiPrimaryContextPass, egui};
use scene_core::check::check;
use scene_core::quantity::show::Units;
use scene_core::report::text::{self, Look};
use scene_core::site::Site;

/// What the window shows: made once when the scene is opened.
#[derive(Resource)]
struct Opened {
    report: String,
    /// Tautest and slackest curve of every span of every wire as the job begins, engine axes.
    wires: Vec<Vec<Vec3>>,
}

/// Opens the window on a scene and returns when it is closed.
pub fn open(site: &Site) -> Result<(), String> {
    let opened = Opened {
        report: text::render(&check(site), Look { units: Units::Us, colour: false }),
        wires: wire_curves(site),
    };
    let plugins = DefaultPlugins.set(WindowPlugin {
        primary_window: Some(Window { title: format!("Plumbrise - {}", site.name), ..default() }),
        ..default()
    });
    let exit = App::new()
        .add_plugins(plugins)
        .add_plugins(EguiPlugin::default())
        .add_plugins(orbit::OrbitPlugin)
        .insert_resource(FallbackErrorHandler(log_fault))
        .insert_resource(WinitSettings::desktop_app())
        .insert_resource(ClearColor(Color::srgb(0.76, 0.84, 0.91)))
        .insert_resource(opened)
        .add_systems(Startup, lay_ground)
        .add_systems(Update, draw_wires)
        .add_systems(EguiPrimaryContextPass, report_panel)
        .run();
    match exit {
        AppExit::Success => Ok(()),
        AppExit::Error(code) => Err(format!("the engine ended with code {code}")),
    }
}

/// A fault in a system is logged and the program goes on.
fn log_fault(fault: BevyError, context: ErrorContext) {
    error!("{context}: {fault}");
}

fn wire_curves(site: &Site) -> Vec<Vec<Vec3>> {
    scene_core::trace::wire_curves(site)
        .into_iter()
        .filter(|curve| curve.steps.contains(&0))
        .map(|curve| curve.points.into_iter().map(axes::to_engine).collect())
        .collect()
}

fn lay_ground(
    mut commands: Commands,
    mut meshes: ResMut<Assets<Mesh>>,
    mut materials: ResMut<Assets<StandardMaterial>>,
) {
    commands.spawn((
        Mesh3d(meshes.add(Plane3d::default().mesh().size(400.0, 400.0))),
        MeshMaterial3d(materials.add(StandardMaterial {
            base_color: Color::srgb(0.45, 0.50, 0.38),
            perceptual_roughness: 1.0,
            ..default()
        })),
    ));
    commands.spawn((
        DirectionalLight { illuminance: 9_000.0, shadow_maps_enabled: true, ..default() },
        Transform::from_xyz(40.0, 90.0, 30.0).looking_at(Vec3::ZERO, Vec3::Y),
    ));
}

fn draw_wires(mut gizmos: Gizmos, opened: Res<Opened>) {
    for curve in &opened.wires {
        gizmos.linestrip(curve.iter().copied(), Color::srgb(0.12, 0.12, 0.14));
    }
}

fn report_panel(mut contexts: EguiContexts, opened: Res<Opened>) -> Result {
    let context = contexts.ctx_mut()?;
    egui::Window::new("Report").default_width(790.0).default_height(640.0).vscroll(true).hscroll(true).show(
        context,
        |ui| {
            ui.add(egui::Label::new(egui::RichText::new(&opened.report).monospace().size(11.0)).extend());
        },
    );
    Ok(())
}
