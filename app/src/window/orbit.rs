//! A camera that turns about the work: drag to turn, wheel to come nearer.

use bevy::input::mouse::{AccumulatedMouseMotion, AccumulatedMouseScroll};
use bevy::prelude::*;
use bevy_egui::input::egui_wants_any_pointer_input;

pub struct OrbitPlugin;

impl Plugin for OrbitPlugin {
    fn build(&self, app: &mut App) {
        app.add_systems(Startup, place).add_systems(Update, turn.run_if(not(egui_wants_any_pointer_input)));
    }
}

#[derive(Component)]
struct Orbit {
    about: Vec3,
    /// Radians from south, toward east.
    around: f32,
    /// Radians above the horizon.
    above: f32,
    away_m: f32,
}

impl Orbit {
    fn transform(&self) -> Transform {
        let level = self.away_m * self.above.cos();
        let from = Vec3::new(level * self.around.sin(), self.away_m * self.above.sin(), level * self.around.cos());
        Transform::from_translation(self.about + from).looking_at(self.about, Vec3::Y)
    }
}

fn place(mut commands: Commands) {
    let orbit = Orbit { about: Vec3::new(-12.0, 9.0, 0.0), around: 0.5, above: 0.12, away_m: 45.0 };
    commands.spawn((Camera3d::default(), orbit.transform(), orbit));
}

fn turn(
    mut camera: Single<(&mut Orbit, &mut Transform)>,
    buttons: Res<ButtonInput<MouseButton>>,
    motion: Res<AccumulatedMouseMotion>,
    scroll: Res<AccumulatedMouseScroll>,
) {
    let (orbit, transform) = &mut *camera;
    if buttons.pressed(MouseButton::Left) {
        orbit.around -= motion.delta.x * 0.005;
        orbit.above = (orbit.above + motion.delta.y * 0.005).clamp(0.02, 1.55);
    }
    orbit.away_m = (orbit.away_m * (1.0 - scroll.delta.y * 0.1)).clamp(5.0, 300.0);
    **transform = orbit.transform();
}
