//! Matt paint, the only kind that things are drawn with.

use bevy::asset::embedded_asset;
use bevy::light::{NotShadowCaster, ShadowFilteringMethod};
use bevy::mesh::MeshVertexBufferLayoutRef;
use bevy::pbr::{MaterialPipeline, MaterialPipelineKey};
use bevy::prelude::*;
use bevy::render::render_resource::{AsBindGroup, RenderPipelineDescriptor, SpecializedMeshPipelineError};
use bevy::shader::ShaderRef;

pub struct MattPlugin;

impl Plugin for MattPlugin {
    fn build(&self, app: &mut App) {
        embedded_asset!(app, "matt.wgsl");
        app.add_plugins(MaterialPlugin::<Matt>::default()).add_systems(PostUpdate, let_light_through);
    }
}

type Painted = (Added<MeshMaterial3d<Matt>>, Without<NotShadowCaster>);

/// What is seen through casts no shadow.
fn let_light_through(
    mut commands: Commands,
    stock: Res<Assets<Matt>>,
    new: Query<(Entity, &MeshMaterial3d<Matt>), Painted>,
) {
    for (thing, paint) in &new {
        if stock.get(&paint.0).is_some_and(|matt| matt.alpha != AlphaMode::Opaque) {
            commands.entity(thing).insert(NotShadowCaster);
        }
    }
}

/// The edge of a shadow from the four nearest of its map's texels, however fine the map: more would cost each pixel more than
/// all the rest.
pub const SHADOW_EDGE: ShadowFilteringMethod = ShadowFilteringMethod::Hardware2x2;

#[derive(Asset, AsBindGroup, TypePath, Clone, Debug)]
#[bind_group_data(Kind)]
pub struct Matt {
    #[uniform(0)]
    colour: LinearRgba,
    #[uniform(0)]
    glow: LinearRgba,
    alpha: AlphaMode,
    kind: Kind,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Kind {
    is_lit: bool,
    is_seen_from_behind: bool,
}

impl From<&Matt> for Kind {
    fn from(matt: &Matt) -> Self {
        matt.kind
    }
}

impl Matt {
    /// Lit by the day; seen through where the colour lets light through.
    pub fn of(colour: Color) -> Self {
        let alpha = if colour.alpha() < 1.0 { AlphaMode::Blend } else { AlphaMode::Opaque };
        let kind = Kind { is_lit: true, is_seen_from_behind: false };
        Self { colour: colour.to_linear(), glow: LinearRgba::BLACK, alpha, kind }
    }

    /// The same however the light falls and however far away.
    pub fn unlit(colour: Color) -> Self {
        Self { kind: Kind { is_lit: false, ..default() }, ..Self::of(colour) }
    }

    /// A sheet, or a tube that has no ends.
    pub fn seen_from_behind(mut self) -> Self {
        self.kind.is_seen_from_behind = true;
        self
    }

    pub fn glowing(self, glow: LinearRgba) -> Self {
        Self { glow, ..self }
    }

    /// Seen through evenly, however many surfaces lie behind one another: each covers the same part of a pixel's samples.
    pub fn evenly_seen_through(self) -> Self {
        Self { alpha: AlphaMode::AlphaToCoverage, ..self }
    }
}

impl Material for Matt {
    fn fragment_shader() -> ShaderRef {
        "embedded://plumbrise/window/matt.wgsl".into()
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
