//! The order in which the systems of the window run. Every system belongs to one of these sets. Within a schedule the sets
//! run one after another, in the order of the tables.
//!
//! Two systems that touch the same data, of which one changes it, must have an order. Where one is missing, a debug build
//! stops before the first frame. In `PreUpdate` egui's own systems lack an order among themselves and to the engine's, so there
//! only a test looks at those of the window.

use bevy::ecs::schedule::{InternedScheduleLabel, LogLevel, ScheduleBuildSettings, ScheduleLabel};
use bevy::input::InputSystems;
use bevy::prelude::*;
use bevy_egui::{EguiPreUpdateSet, EguiPrimaryContextPass};

/// Before the first frame (`Startup`, and `PostStartup` from [`Begin::Letters`] on).
///
/// | set | does |
/// |---|---|
/// | [`Begin::LeftBehind`] | looks for what an earlier run left unsaved |
/// | [`Begin::Site`] | sets up cameras, light and line widths |
/// | [`Begin::Letters`] | gives the panels their letters, before any text is laid out |
/// | [`Begin::Target`] | points the cameras at an image, where a picture is drawn |
#[derive(SystemSet, Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Begin {
    LeftBehind,
    Site,
    Letters,
    Target,
}

/// What a person did since the last frame (`PreUpdate`, after the engine read its devices and egui took up what it needs).
///
/// | set | does |
/// |---|---|
/// | [`Input::Files`] | takes file keys, dropped files, the request to close, the return to the window |
/// | [`Input::View`] | switches layers and ways in by keyboard |
/// | [`Input::Edit`] | undoes and redoes by keyboard, takes hold, drags, lets go |
/// | [`Input::Check`] | takes over a check that ended beside the frame |
/// | [`Input::Time`] | moves rehearsal time by keyboard, and on while it plays |
///
/// [`Input::Rest`] stands apart: it runs between the two steps in which egui takes up its input, and touches nothing else.
#[derive(SystemSet, Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Input {
    Files,
    View,
    Edit,
    Check,
    Time,
    Rest,
}

/// What the frame shows (`Update`).
///
/// | set | does |
/// |---|---|
/// | [`Frame::Measure`] | measures the instant: nearest pairs, wires, what can be dragged |
/// | [`Frame::Place`] | builds what stands still |
/// | [`Frame::Wires`] | draws wires, covers, nearest pairs |
/// | [`Frame::Bodies`] | draws machines and pole |
/// | [`Frame::Sweeps`] | draws swept volumes |
/// | [`Frame::Shadows`] | lets nothing that is seen through cast a shadow |
/// | [`Frame::Camera`] | moves the camera and fits it between the panels |
/// | [`Frame::Tell`] | writes the window's title and the log |
#[derive(SystemSet, Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Frame {
    Measure,
    Place,
    Wires,
    Bodies,
    Sweeps,
    Shadows,
    Camera,
    Tell,
}

/// The panels (`EguiPrimaryContextPass`, after the frame).
///
/// | set | does |
/// |---|---|
/// | [`Panels::Show`] | shows the panels, or the caption of a picture, and carries out what is asked for there |
/// | [`Panels::Diagnostics`] | shows counts and times over the site, where they are wanted |
/// | [`Panels::Dialogs`] | shows questions and file dialogs over all |
#[derive(SystemSet, Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Panels {
    Show,
    Diagnostics,
    Dialogs,
}

/// Orders the sets.
pub struct SchedulePlugin;

impl Plugin for SchedulePlugin {
    fn build(&self, app: &mut App) {
        app.configure_sets(Startup, (Begin::LeftBehind, Begin::Site).chain())
            .configure_sets(PostStartup, (Begin::Letters, Begin::Target).chain())
            .configure_sets(
                PreUpdate,
                // A key counts as just pressed until the engine reads the keys anew: before that it would count twice.
                (Input::Files, Input::View, Input::Edit, Input::Check, Input::Time)
                    .chain()
                    .after(InputSystems)
                    .after(EguiPreUpdateSet::ProcessInput),
            )
            .configure_sets(
                PreUpdate,
                Input::Rest.after(EguiPreUpdateSet::ProcessInput).before(EguiPreUpdateSet::BeginPass),
            )
            .configure_sets(
                Update,
                (
                    Frame::Measure,
                    Frame::Place,
                    Frame::Wires,
                    Frame::Bodies,
                    Frame::Sweeps,
                    Frame::Shadows,
                    Frame::Camera,
                    Frame::Tell,
                )
                    .chain(),
            )
            .configure_sets(EguiPrimaryContextPass, (Panels::Show, Panels::Diagnostics, Panels::Dialogs).chain());
        if cfg!(debug_assertions) {
            for label in strict() {
                app.edit_schedule(label, refuse_ambiguity);
            }
        }
    }
}

/// The schedules in which any missing order is an error.
fn strict() -> [InternedScheduleLabel; 4] {
    [Startup.intern(), PostStartup.intern(), Update.intern(), EguiPrimaryContextPass.intern()]
}

/// Makes a missing order between two systems an error.
fn refuse_ambiguity(schedule: &mut Schedule) {
    let settings = schedule.get_build_settings();
    schedule.set_build_settings(ScheduleBuildSettings { ambiguity_detection: LogLevel::Error, ..settings });
}

#[cfg(test)]
mod tests {
    use super::super::{DesktopPlugins, OpenScene, SitePlugins, clock::Clock, view::View};
    use super::*;
    use crate::document::Document;
    use crate::scene_file::FIRST_EXAMPLE;
    use bevy::ecs::schedule::Schedules;
    use bevy::log::LogPlugin;
    use bevy::render::RenderPlugin;
    use bevy::render::settings::WgpuSettings;
    use bevy::window::ExitCondition;
    use bevy::winit::WinitPlugin;
    use bevy_egui::EguiPlugin;

    /// The whole window, without a device that draws.
    fn app() -> App {
        let open = OpenScene::new(Document::built_in(FIRST_EXAMPLE.0, FIRST_EXAMPLE.1).unwrap());
        let mut app = App::new();
        let nothing = WgpuSettings { backends: None, ..default() };
        app.add_plugins(
            DefaultPlugins
                .set(WindowPlugin { primary_window: None, exit_condition: ExitCondition::DontExit, ..default() })
                .set(RenderPlugin { render_creation: nothing.into(), ..default() })
                .disable::<LogPlugin>()
                .disable::<WinitPlugin>(),
        )
        .add_plugins(EguiPlugin::default())
        .insert_resource(View::about(&open.rehearsal.site))
        .init_resource::<Clock>()
        .insert_resource(open)
        .add_plugins((SitePlugins, DesktopPlugins));
        app
    }

    fn built(app: &mut App, label: InternedScheduleLabel) -> Result<Schedule, String> {
        let schedule = app.world_mut().resource_mut::<Schedules>().remove(label);
        let mut schedule = schedule.ok_or_else(|| format!("no schedule {label:?}"))?;
        schedule.initialize(app.world_mut()).map_err(|why| format!("{label:?}: {why:?}"))?;
        Ok(schedule)
    }

    #[test]
    fn any_two_systems_that_touch_the_same_data_have_an_order() {
        let mut app = app();
        for label in strict() {
            assert_eq!(built(&mut app, label).map(drop), Ok(()));
        }
    }

    /// Pairs without an order in `PreUpdate`, one of them a system of the window; and how many systems the window has there.
    fn without_order(app: &mut App) -> (usize, usize) {
        let schedule = built(app, PreUpdate.intern()).unwrap();
        let sets = [Input::Files, Input::View, Input::Edit, Input::Check, Input::Time, Input::Rest];
        let of_set = |set: &Input| schedule.graph().systems_in_set(set.intern()).unwrap().iter().copied();
        let ours: Vec<_> = sets.iter().flat_map(of_set).collect();
        let conflicts = &schedule.graph().conflicting_systems().0;
        (conflicts.iter().filter(|(a, b, _)| ours.contains(a) || ours.contains(b)).count(), ours.len())
    }

    #[test]
    fn what_a_person_does_is_taken_in_one_order() {
        let (conflicts, systems) = without_order(&mut app());
        assert_eq!(conflicts, 0);
        assert!(systems >= 12, "{systems}");
        let mut planted = app();
        planted.add_systems(PreUpdate, (|mut clock: ResMut<Clock>| clock.time_s = 0.0).in_set(Input::Time));
        assert!(without_order(&mut planted).0 > 0);
    }

    #[test]
    fn a_system_without_an_order_is_refused() {
        let mut app = app();
        app.add_systems(Update, |mut clock: ResMut<Clock>| clock.time_s = 0.0);
        assert!(built(&mut app, Update.intern()).is_err());
    }
}
