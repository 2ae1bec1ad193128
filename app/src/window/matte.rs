//! Matte paint, the one material of the site view.

use super::schedule::Frame;
use crate::theme::paint;
use bevy::asset::embedded_asset;
use bevy::light::{NotShadowCaster, ShadowFilteringMethod};
use bevy::mesh::MeshVertexBufferLayoutRef;
use bevy::pbr::{MaterialPipeline, MaterialPipelineKey};
use bevy::prelude::*;
use bevy::render::render_resource::{AsBindGroup, RenderPipelineDescriptor, SpecializedMeshPipelineError};
use bevy::shader::ShaderRef;

pub struct MattePlugin;

impl Plugin for MattePlugin {
    fn build(&self, app: &mut App) {
        embedded_asset!(app, "matte.wgsl");
        app.add_plugins(MaterialPlugin::<Matte>::default())
            .add_systems(Update, let_light_through.in_set(Frame::Shadows));
    }
}

type Painted = (Added<MeshMaterial3d<Matte>>, Without<NotShadowCaster>);

/// Lets nothing that is seen through cast a shadow.
fn let_light_through(
    mut commands: Commands,
    assets: Res<Assets<Matte>>,
    new: Query<(Entity, &MeshMaterial3d<Matte>), Painted>,
) {
    for (thing, paint) in &new {
        if assets.get(&paint.0).is_some_and(|matte| matte.alpha != AlphaMode::Opaque) {
            commands.entity(thing).insert(NotShadowCaster);
        }
    }
}

/// How the edge of a shadow is smoothed: from the four nearest texels of its map. More would cost each pixel more than all
/// the rest.
pub const SHADOW_EDGE: ShadowFilteringMethod = ShadowFilteringMethod::Hardware2x2;

/// A paint.
#[derive(Asset, AsBindGroup, TypePath, Clone, Debug)]
#[bind_group_data(MatteKind)]
pub struct Matte {
    #[uniform(0)]
    color: LinearRgba,
    #[uniform(0)]
    glow: LinearRgba,
    alpha: AlphaMode,
    kind: MatteKind,
}

/// What decides by which shader a paint is drawn.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct MatteKind {
    is_lit: bool,
    is_seen_from_behind: bool,
}

impl From<&Matte> for MatteKind {
    fn from(matte: &Matte) -> Self {
        matte.kind
    }
}

impl Matte {
    /// Paint that daylight falls on; seen through where the color is.
    pub fn of(color: Color) -> Self {
        let alpha = if color.alpha() < 1.0 { AlphaMode::Blend } else { AlphaMode::Opaque };
        let kind = MatteKind { is_lit: true, is_seen_from_behind: false };
        Self { color: color.to_linear(), glow: paint::NO_GLOW, alpha, kind }
    }

    /// Paint that looks the same however the light falls and however far away.
    pub fn unlit(color: Color) -> Self {
        Self { kind: MatteKind { is_lit: false, ..default() }, ..Self::of(color) }
    }

    /// For a sheet, or a tube that is open at its ends.
    pub fn seen_from_behind(mut self) -> Self {
        self.kind.is_seen_from_behind = true;
        self
    }

    /// Adds light of its own.
    pub fn glowing(self, glow: LinearRgba) -> Self {
        Self { glow, ..self }
    }

    /// Seen through evenly, however many surfaces lie behind one another: each covers the same share of a pixel's samples.
    pub fn evenly_seen_through(self) -> Self {
        Self { alpha: AlphaMode::AlphaToCoverage, ..self }
    }
}

impl Material for Matte {
    fn fragment_shader() -> ShaderRef {
        "embedded://plumbrise/window/matte.wgsl".into()
    }

    fn alpha_mode(&self) -> AlphaMode {
        self.alpha
    }

    fn specialize(
        _: &MaterialPipeline,
        descriptor: &mut RenderPipelineDescriptor,
        _: &MeshVertexBufferLayoutRef,
        key: MaterialPipelineKey<Self>,
    ) -> Result<(), SpecializedMeshPipelineError> {
        if key.bind_group_data.is_seen_from_behind {
            descriptor.primitive.cull_mode = None;
        }
        if key.bind_group_data.is_lit
            && let Some(fragment) = &mut descriptor.fragment
        {
            fragment.shader_defs.push("LIT".into());
        }
        Ok(())
    }
}
