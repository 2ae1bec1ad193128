//! The site drawn into an image, on any graphics device and without a display. It runs the window's own plugins, with a legend
//! in place of the panels.

use super::clock::Clock;
use super::edit::DragState;
use super::measured::Measured;
use super::orbit::Orbit;
use super::schedule::{Begin, Panels};
use super::view::View;
use super::{OpenScene, SitePlugins, labels, vantage};
use crate::document::Document;
use crate::panel::{self, legend};
use crate::picture::{self, Moment, NoPicture, Size, Viewpoint};
use bevy::app::PluginsState;
use bevy::asset::RenderAssetUsages;
use bevy::camera::{ImageRenderTarget, RenderTarget};
use bevy::log::{Level, LogPlugin};
use bevy::prelude::*;
use bevy::render::pipelined_rendering::PipelinedRenderingPlugin;
use bevy::render::render_resource::{CachedPipelineState, PipelineCache, TextureFormat};
use bevy::render::renderer::RenderDevice;
use bevy::render::settings::WgpuSettings;
use bevy::render::view::screenshot::{Screenshot, ScreenshotCaptured};
use bevy::render::{RenderApp, RenderPlugin};
use bevy::shader::ShaderCacheError;
use bevy::window::ExitCondition;
use bevy::winit::WinitPlugin;
use bevy_egui::{EguiContexts, EguiPlugin, EguiPrimaryContextPass, egui};
use std::time::{Duration, Instant};

/// How long a picture may take; a device in software needs some seconds for a large one.
const PATIENCE: Duration = Duration::from_secs(300);

/// Draws one picture, as the bytes of a PNG file.
pub fn png(document: Document, moment: Moment, from: Viewpoint, size: Size) -> Result<Vec<u8>, NoPicture> {
    let open = OpenScene::new(document);
    let (time_s, step) = picture::instant(moment, &open.rehearsal)?;
    let weather = picture::weather(&open.rehearsal);
    let mut app = begun(open, size)?;
    let mut clock = app.world_mut().resource_mut::<Clock>();
    (clock.time_s, clock.step) = (time_s, Some(step));
    app.world_mut().resource_mut::<View>().weather = weather;
    app.update();
    let world = app.world_mut();
    let orbit = vantage::camera(from.number_key(), world.resource::<OpenScene>(), time_s, world.resource::<View>());
    for mut known in world.query::<&mut Orbit>().iter_mut(world) {
        *known = orbit;
    }
    encode(complete(&mut app)?)
}

/// How long frames take while the whole job is played, the graphics device waited for each time.
pub fn frames(document: Document, count: u32, size: Size, began: Instant) -> Result<String, NoPicture> {
    let open = OpenScene::new(document);
    let end_s = open.rehearsal.end_s();
    let mut app = begun(open, size)?;
    complete(&mut app)?;
    let first = began.elapsed();
    let device = app.sub_app(RenderApp).world().resource::<RenderDevice>().clone();
    let mut took: [Vec<f64>; 4] = Default::default();
    for frame in 0..count {
        app.world_mut().resource_mut::<Clock>().go(end_s * f64::from(frame) / f64::from(count));
        let since = Instant::now();
        let ms = || since.elapsed().as_secs_f64() * 1e3;
        // The engine's own update, with a look at the clock between its parts.
        let apps = app.sub_apps_mut();
        apps.main.run_default_schedule();
        let site = ms();
        for drawing in apps.sub_apps.values_mut() {
            drawing.extract(apps.main.world_mut());
            drawing.update();
        }
        apps.main.world_mut().clear_trackers();
        let drawing = ms();
        if let Err(why) = device.poll(wgpu::PollType::wait_indefinitely()) {
            return Err(NoPicture::Unreadable(why.to_string()));
        }
        for (all, one) in took.iter_mut().zip([ms(), site, drawing - site, ms() - drawing]) {
            all.push(one);
        }
    }
    took.iter_mut().for_each(|took| took.sort_by(f64::total_cmp));
    let [whole, site, drawing, device] = took.map(|took| {
        let at = |share: f64| took.get((share * (took.len() - 1) as f64).round() as usize).copied().unwrap_or(f64::NAN);
        [at(0.5), at(0.95), at(1.0)]
    });
    Ok(format!(
        "{}x{}, {count} frames over the whole job: median {:.2} ms, 95 in 100 within {:.2} ms, longest {:.2} ms\n\
         medians: site {:.2} ms, handing it to the device {:.2} ms, waiting for the device {:.2} ms\n\
         first picture complete {:.2} s after start\n",
        size.width,
        size.height,
        whole[0],
        whole[1],
        whole[2],
        site[0],
        drawing[0],
        device[0],
        first.as_secs_f64()
    ))
}

/// Devices that draw without a display: all but OpenGL, which asks for one.
fn settings() -> WgpuSettings {
    let of_choice = wgpu::Backends::from_env().unwrap_or(wgpu::Backends::all());
    WgpuSettings { backends: Some(of_choice & wgpu::Backends::PRIMARY), ..default() }
}

/// Asks for a device as the engine will. The engine itself ends the program where there is none.
fn find_device() -> Result<(), NoPicture> {
    let settings = settings();
    let instance = wgpu::Instance::new(wgpu::InstanceDescriptor {
        backends: settings.backends.unwrap_or(wgpu::Backends::PRIMARY),
        ..wgpu::InstanceDescriptor::new_without_display_handle()
    });
    let options = wgpu::RequestAdapterOptions { power_preference: settings.power_preference, ..default() };
    let adapter = bevy::tasks::block_on(instance.request_adapter(&options));
    adapter.map(drop).map_err(|why| NoPicture::NoDevice(why.to_string()))
}

/// All parts of the window that draw the site, into an image.
fn app(open: OpenScene, size: Size) -> App {
    let mut app = App::new();
    app.add_plugins(
        DefaultPlugins
            .set(WindowPlugin { primary_window: None, exit_condition: ExitCondition::DontExit, ..default() })
            .set(RenderPlugin {
                render_creation: settings().into(),
                synchronous_pipeline_compilation: true,
                ..default()
            })
            .set(LogPlugin { level: Level::ERROR, ..default() })
            .disable::<WinitPlugin>()
            .disable::<PipelinedRenderingPlugin>(),
    )
    .add_plugins(EguiPlugin::default())
    .insert_resource(super::faults())
    .insert_resource(View::about(&open.rehearsal.site))
    .insert_resource(Clock::default())
    .init_resource::<DragState>()
    .insert_resource(open)
    .add_plugins(SitePlugins)
    .insert_resource(Canvas { size, target: RenderTarget::default() })
    .add_systems(PostStartup, into_image.in_set(Begin::Target));
    app
}

#[derive(Resource)]
struct Canvas {
    size: Size,
    target: RenderTarget,
}

/// Points every camera at the image.
fn into_image(
    mut commands: Commands,
    mut canvas: ResMut<Canvas>,
    mut images: ResMut<Assets<Image>>,
    cameras: Query<Entity, With<Camera>>,
) {
    let Size { width, height } = canvas.size;
    let mut image = Image::new_target_texture(width, height, TextureFormat::Rgba8UnormSrgb, None);
    image.asset_usage = RenderAssetUsages::RENDER_WORLD;
    // Letters stay legible in a large picture.
    let scale_factor = (height as f32 / 720.0).max(1.0);
    canvas.target = RenderTarget::Image(ImageRenderTarget { handle: images.add(image), scale_factor });
    for camera in &cameras {
        commands.entity(camera).insert(canvas.target.clone());
    }
}

/// The program, ready to draw its first frame, where there is a device.
fn begun(open: OpenScene, size: Size) -> Result<App, NoPicture> {
    find_device()?;
    let mut app = app(open, size);
    app.add_systems(EguiPrimaryContextPass, caption.in_set(Panels::Show));
    while app.plugins_state() == PluginsState::Adding {
        bevy::tasks::tick_global_task_pools_on_main_thread();
    }
    app.finish();
    app.cleanup();
    Ok(app)
}

/// Draws until the picture is complete: things had some frames to reach the device, no pipeline is pending, something is
/// drawn, and two frames are the same.
fn complete(app: &mut App) -> Result<Image, NoPicture> {
    /// On a quick device the first frames are black, alike and over before a mesh is there.
    const TAKEN_UP: usize = 8;
    let began = Instant::now();
    let mut before: Option<Image> = None;
    for _ in 0..TAKEN_UP {
        app.update();
    }
    while began.elapsed() < PATIENCE {
        app.update();
        if is_pending(app) {
            before = None;
            continue;
        }
        let Some(image) = capture(app, began) else { break };
        if let Some(why) = fault(app) {
            return Err(NoPicture::Undrawable(why));
        }
        if is_drawn(&image) && before.as_ref().is_some_and(|before| before.data == image.data) {
            return Ok(image);
        }
        before = Some(image);
    }
    Err(NoPicture::TooSlow(PATIENCE.as_secs()))
}

/// The image has more than one color.
fn is_drawn(image: &Image) -> bool {
    let pixels = image.data.as_deref().unwrap_or(&[]).chunks(4);
    let mut colors = pixels.map(|pixel| pixel.get(..3));
    colors.next().is_some_and(|first| colors.any(|color| color != first))
}

/// A pipeline is not made yet.
fn is_pending(app: &App) -> bool {
    let cache = app.get_sub_app(RenderApp).and_then(|render| render.world().get_resource::<PipelineCache>());
    cache.is_none_or(|cache| cache.waiting_pipelines().next().is_some())
}

/// Why the device cannot draw all that belongs in the picture. What is only not loaded yet is no fault.
fn fault(app: &App) -> Option<String> {
    let cache = app.get_sub_app(RenderApp)?.world().get_resource::<PipelineCache>()?;
    cache.pipelines().find_map(|pipeline| match &pipeline.state {
        CachedPipelineState::Err(
            ShaderCacheError::ShaderNotLoaded(_) | ShaderCacheError::ShaderImportNotYetAvailable,
        ) => None,
        CachedPipelineState::Err(why) => Some(why.to_string()),
        _ => None,
    })
}

#[derive(Resource, Default)]
struct Captured(Option<Image>);

/// The next frame, as an image.
fn capture(app: &mut App, began: Instant) -> Option<Image> {
    app.insert_resource(Captured::default());
    // The very target of the cameras, its scale included: into any other nothing is drawn.
    let target = app.world().resource::<Canvas>().target.clone();
    app.world_mut().spawn(Screenshot(target)).observe(
        |captured: On<ScreenshotCaptured>, mut kept: ResMut<Captured>| {
            kept.0 = Some(captured.image.clone());
        },
    );
    while began.elapsed() < PATIENCE {
        app.update();
        if let Some(image) = app.world_mut().resource_mut::<Captured>().0.take() {
            return Some(image);
        }
    }
    None
}

fn encode(image: Image) -> Result<Vec<u8>, NoPicture> {
    let unreadable = |why: String| NoPicture::Unreadable(why);
    let pixels = image.try_into_dynamic().map_err(|why| unreadable(why.to_string()))?.to_rgb8();
    let mut bytes = std::io::Cursor::new(Vec::new());
    pixels.write_to(&mut bytes, image::ImageFormat::Png).map_err(|why| unreadable(why.to_string()))?;
    Ok(bytes.into_inner())
}

/// Writes under the picture what is shown, and what governs over the whole path.
fn caption(
    mut contexts: EguiContexts,
    open: Res<OpenScene>,
    measured: Res<Measured>,
    clock: Res<Clock>,
    drag_state: Res<DragState>,
    mut view: ResMut<View>,
    camera: Single<(&Camera, &GlobalTransform), With<Orbit>>,
) -> Result {
    let context = contexts.ctx_mut()?.clone();
    panel::style(&context, false);
    let whole = context.viewport_rect();
    let mut ui = egui::Ui::new(
        context.clone(),
        "picture".into(),
        egui::UiBuilder::new().layer_id(egui::LayerId::background()).max_rect(whole),
    );
    let bottom = egui::Panel::bottom("legend")
        .show(&mut ui, |ui| legend::show(ui, &open.rehearsal, view.weather, clock.time_s, clock.step_shown(&open)))
        .response
        .rect;
    let taken = [0.0, 0.0, 0.0, bottom.height()];
    if view.taken != taken {
        view.taken = taken;
    }
    labels::show(&context, &open, &measured, &drag_state, &view, *camera, whole.with_max_y(bottom.top()));
    Ok(())
}
