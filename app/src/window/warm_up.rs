//! Draws frames until everything that was asked for is drawn.
//!
//! The engine makes meshes and pipelines in the frames after they are first asked for. The window draws only when something
//! happens, so without this it would stay blank, or without its ground, until a person moves the pointer.

use super::schedule::Frame;
use bevy::prelude::*;
use bevy::render::render_resource::PipelineCache;
use bevy::render::{Render, RenderApp, RenderSystems};
use bevy::window::RequestRedraw;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// Frames after the last pipeline was made, or the scene last changed: meshes are taken up by then.
const FRAMES: u32 = 8;

/// Asks for frames while anything is not drawn yet.
pub struct WarmUpPlugin;

impl Plugin for WarmUpPlugin {
    fn build(&self, app: &mut App) {
        let pending = Pending::default();
        app.insert_resource(pending.clone())
            .init_resource::<FramesLeft>()
            .add_systems(Update, go_on.in_set(Frame::Tell));
        if let Some(render) = app.get_sub_app_mut(RenderApp) {
            render.insert_resource(pending).add_systems(Render, look.in_set(RenderSystems::Cleanup));
        }
    }
}

/// Whether a pipeline is not made yet. The drawing side writes it, the window reads it.
#[derive(Resource, Clone, Default)]
struct Pending(Arc<AtomicBool>);

/// Frames that are still to be drawn.
#[derive(Resource)]
struct FramesLeft(u32);

impl Default for FramesLeft {
    fn default() -> Self {
        Self(FRAMES)
    }
}

fn look(cache: Res<PipelineCache>, pending: Res<Pending>) {
    pending.0.store(cache.waiting_pipelines().next().is_some(), Ordering::Relaxed);
}

/// A pipeline that is made asks for the frames after it, and so does a mesh or an image that was added.
fn go_on(
    pending: Res<Pending>,
    mut left: ResMut<FramesLeft>,
    mut meshes: MessageReader<AssetEvent<Mesh>>,
    mut images: MessageReader<AssetEvent<Image>>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    let added = meshes.read().any(|event| matches!(event, AssetEvent::Added { .. }))
        | images.read().any(|event| matches!(event, AssetEvent::Added { .. }));
    if added || pending.0.load(Ordering::Relaxed) {
        left.0 = FRAMES;
    }
    if left.0 > 0 {
        left.0 -= 1;
        redraw.write(RequestRedraw);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Frames that ask for another one, of so many.
    fn asked(app: &mut App, frames: usize) -> usize {
        let mut asked = 0;
        for _ in 0..frames {
            app.update();
            asked += usize::from(!app.world().resource::<Messages<RequestRedraw>>().is_empty());
            app.world_mut().resource_mut::<Messages<RequestRedraw>>().clear();
        }
        asked
    }

    fn app() -> App {
        let mut app = App::new();
        app.add_plugins(AssetPlugin::default()).init_asset::<Mesh>().init_asset::<Image>();
        app.add_message::<RequestRedraw>().add_plugins(WarmUpPlugin);
        app
    }

    #[test]
    fn frames_are_drawn_until_every_pipeline_is_made_and_then_no_more() {
        let mut app = app();
        app.world().resource::<Pending>().0.store(true, Ordering::Relaxed);
        assert_eq!(asked(&mut app, 40), 40);
        app.world().resource::<Pending>().0.store(false, Ordering::Relaxed);
        let after = asked(&mut app, 40);
        assert!(after > 0 && after <= FRAMES as usize, "{after}");
        assert_eq!(asked(&mut app, 5), 0);
    }

    #[test]
    fn a_mesh_that_is_added_is_drawn() {
        let mut app = app();
        asked(&mut app, 40);
        let mesh = app.world_mut().resource_mut::<Assets<Mesh>>().add(Cuboid::default());
        assert!(asked(&mut app, 40) > 1);
        drop(mesh);
    }
}
