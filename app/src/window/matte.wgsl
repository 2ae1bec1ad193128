// Matte paint in daylight: the sun with its shadow, and the sky's light from above and the ground's from below. Much less work
// for each pixel than physically based shading, of which a plan shows nothing; it lets a computer without a graphics card keep up.

#import bevy_core_pipeline::tonemapping::{screen_space_dither, tone_mapping}
#import bevy_pbr::{
    fog::linear_fog,
    forward_io::VertexOutput,
    mesh_view_bindings::{fog, lights, view},
    shadows::fetch_directional_shadow,
}
#import bevy_render::maths::powsafe

struct Matte {
    color: vec4<f32>,
    glow: vec4<f32>,
}

@group(#{MATERIAL_BIND_GROUP}) @binding(0) var<uniform> matte: Matte;

const PI: f32 = 3.14159265;
// Of the ambient light, on a face turned straight up and straight down.
const FROM_ABOVE: f32 = 0.72;
const FROM_BELOW: f32 = 0.44;

@fragment
fn fragment(in: VertexOutput, @builtin(front_facing) is_front: bool) -> @location(0) vec4<f32> {
    var color = matte.color;
#ifdef VERTEX_COLORS
    color *= in.color;
#endif

#ifdef LIT
    let normal = normalize(select(-in.world_normal, in.world_normal, is_front));
    let sun = &lights.directional_lights[0];
    let view_z = dot(
        vec4(view.view_from_world[0].z, view.view_from_world[1].z, view.view_from_world[2].z, view.view_from_world[3].z),
        in.world_position,
    );
    let shadow = fetch_directional_shadow(0u, in.world_position, normal, view_z, in.position.xy);
    let sunlight = (*sun).color.rgb * max(dot(normal, (*sun).direction_to_light), 0.0) * shadow / PI;
    let ambient = lights.ambient_color.rgb * mix(FROM_BELOW, FROM_ABOVE, normal.y * 0.5 + 0.5);
    color = vec4(color.rgb * (sunlight + ambient) * view.exposure + matte.glow.rgb, color.a);
#ifdef DISTANCE_FOG
    let distance = length(in.world_position.xyz - view.world_position.xyz);
    color = linear_fog(fog, color, distance, vec3(0.0));
#endif
#endif

#ifdef TONEMAP_IN_SHADER
    color = tone_mapping(color, view.color_grading);
#ifdef DEBAND_DITHER
    // The noise is of the size of a step of the screen's colors, which are not linear.
    let screen = powsafe(color.rgb, 1.0 / 2.2) + screen_space_dither(in.position.xy);
    color = vec4(powsafe(screen, 2.2), color.a);
#endif
#endif
    return color;
}
