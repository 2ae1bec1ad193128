//! What stands still: ground, daylight, neighbors, people, the machines' carriers. Carriers, cross arms and figures are drawn
//! for the eye and can be turned off. The rest are the solids that are proven.

use super::OpenScene;
use super::carrier::{Carrier, CarrierPart};
use super::diagnostics::{DiagnosticsApp, Stopwatch, Subsystem};
use super::draw::{self, DrawAssets, capsule, frustum};
use super::ground::{self, DrawnGround, Grid, HORIZON_M};
use super::matte::Matte;
use super::schedule::{Begin, Frame};
use super::shown::Shown;
use super::view::View;
use crate::panel::diagnostics::Row;
use crate::theme::paint;
use bevy::light::{CascadeShadowConfigBuilder, GlobalAmbientLight, NotShadowCaster, NotShadowReceiver};
use bevy::prelude::*;
use scene_core::glam::{DVec2, DVec3};
use scene_core::neighbours::{self, NeighbourKind, convex_pieces};
use scene_core::site::Site;
use scene_core::site::ground::{Neighbours, Shape};
use scene_core::solid::{Feature, Hull};
use std::collections::HashMap;

pub struct PlacePlugin;

impl Plugin for PlacePlugin {
    fn build(&self, app: &mut App) {
        let stand = stand.run_if(resource_changed::<OpenScene>.or_else(resource_changed::<View>));
        app.insert_resource(ClearColor(paint::HAZE))
            .insert_resource(GlobalAmbientLight { brightness: paint::SKYLIGHT, ..default() })
            .init_resource::<Grid>()
            .init_diagnostics::<PlaceDiagnostics>()
            .add_systems(Startup, light.in_set(Begin::Site))
            .add_systems(Update, (stand, people).chain().in_set(Frame::Place));
    }
}

/// What drawing the things that stand still costs.
#[derive(Resource, Default)]
struct PlaceDiagnostics {
    stopwatch: Stopwatch,
    solids: usize,
}

impl Subsystem for PlaceDiagnostics {
    fn row(&self) -> Row {
        self.stopwatch.row("place", vec![("solids", self.solids)])
    }
}

fn light(mut commands: Commands, mut assets: DrawAssets) {
    commands.spawn((
        Mesh3d(assets.meshes.add(sky())),
        MeshMaterial3d(assets.materials.add(Matte::unlit(paint::AS_ITS_CORNERS).seen_from_behind())),
        NotShadowCaster,
        NotShadowReceiver,
    ));
    // Shadows reach as far as the work; beyond it nothing stands whose shadow matters.
    let shadows = CascadeShadowConfigBuilder {
        num_cascades: 2,
        first_cascade_far_bound: 30.0,
        maximum_distance: 140.0,
        ..default()
    };
    commands.spawn((
        shadows.build(),
        DirectionalLight { illuminance: paint::SUN_LUX, shadow_maps_enabled: true, ..default() },
        Transform::from_translation(paint::SUN_FROM).looking_at(Vec3::ZERO, Vec3::Y),
    ));
}

/// A dome of sky, seen from within.
fn sky() -> Mesh {
    let radius = HORIZON_M + 30.0;
    let mut dome = Sphere::new(radius).mesh().uv(32, 48);
    let colors: Vec<[f32; 4]> = dome
        .attribute(Mesh::ATTRIBUTE_POSITION)
        .and_then(|positions| positions.as_float3())
        .map_or(Vec::new(), |positions| positions.iter().map(|p| paint::sky(p[1] / radius)).collect());
    dome.insert_attribute(Mesh::ATTRIBUTE_COLOR, colors);
    dome
}

/// An entity that stands still; all are made anew when the scene changes.
#[derive(Component)]
struct Standing;

/// What a thing that stands still is painted as.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
enum Material {
    Ground,
    Asphalt,
    Wood,
    Pale,
    Dark,
    Leaves,
    Wall,
    NoGo,
    Vest,
    CraneCab,
    BucketTruckCab,
}

impl Material {
    fn color(self) -> Color {
        match self {
            Self::Ground => paint::GROUND,
            Self::Asphalt => paint::ASPHALT,
            Self::Wood => paint::WOOD,
            Self::Pale => paint::PALE,
            Self::Dark => paint::DARK,
            Self::Leaves => paint::LEAVES,
            Self::Wall => paint::WALL,
            Self::NoGo => paint::NO_GO,
            Self::Vest => paint::VEST,
            Self::CraneCab => paint::CRANE_CAB,
            Self::BucketTruckCab => paint::BUCKET_TRUCK_CAB,
        }
    }
}

/// Puts things up.
struct Builder<'a, 'w, 's> {
    commands: Commands<'w, 's>,
    assets: DrawAssets<'w>,
    paints: &'a mut HashMap<Material, Handle<Matte>>,
    solids: usize,
}

impl Builder<'_, '_, '_> {
    /// A solid; nothing where it has no volume.
    fn put(&mut self, hull: &Hull, material: Material) {
        if let Some(mesh) = draw::solid(hull) {
            let thing = self.thing(mesh, material);
            self.commands.spawn(thing);
            self.solids += 1;
        }
    }

    /// A sheet on the ground.
    fn lay(&mut self, mesh: Mesh, material: Material) {
        let thing = self.thing(mesh, material);
        self.commands.spawn((thing, NotShadowCaster));
    }

    fn thing(&mut self, mesh: Mesh, material: Material) -> (Standing, Mesh3d, MeshMaterial3d<Matte>) {
        let materials = &mut self.assets.materials;
        let made = || materials.add(Matte::of(material.color()).seen_from_behind());
        let paint = self.paints.entry(material).or_insert_with(made).clone();
        (Standing, Mesh3d(self.assets.meshes.add(mesh)), MeshMaterial3d(paint))
    }
}

/// What was put up last.
#[derive(Default)]
struct Built {
    /// The site, and whether only what is proven was drawn.
    of: Option<(Site, bool)>,
    paints: HashMap<Material, Handle<Matte>>,
}

/// Puts all up anew when the site changed, or when what is drawn for the eye was turned on or off.
fn stand(
    mut commands: Commands,
    before: Query<Entity, With<Standing>>,
    shown: Shown,
    mut grid: ResMut<Grid>,
    assets: DrawAssets,
    mut built: Local<Built>,
    mut diagnostics: ResMut<PlaceDiagnostics>,
) {
    let site = &shown.open.rehearsal.site;
    let bare = shown.view.layers.bare;
    if built.of.as_ref().is_some_and(|(known, was)| known == site && *was == bare) {
        return;
    }
    let running = diagnostics.stopwatch.start();
    built.of = Some((site.clone(), bare));
    for entity in &before {
        commands.entity(entity).despawn();
    }
    let ground = DrawnGround::of(site);
    let mut builder = Builder { commands, assets, paints: &mut built.paints, solids: 0 };
    let (surface, lines) = ground::surface(&ground, site.hole.at.truncate());
    grid.0 = lines;
    builder.lay(surface, Material::Ground);
    let empty = Neighbours::default();
    let neighbors = site.neighbours.as_ref().unwrap_or(&empty);
    if !bare {
        for road in &site.roads {
            builder.lay(ground::strip(&ground, &road.along, road.width_m), Material::Asphalt);
        }
    }
    solids_of(neighbors, bare, &mut builder);
    if !bare {
        supports(site, neighbors, &ground, &mut builder);
        machines(site, &mut builder);
        mouth_of_hole(site, &ground, &mut builder);
    }
    diagnostics.solids = builder.solids;
    diagnostics.stopwatch.stop(running);
}

/// Standing poles, obstacles and no-go areas.
fn solids_of(neighbors: &Neighbours, bare: bool, builder: &mut Builder) {
    for found in neighbours::neighbours(neighbors) {
        let material = match found.kind {
            NeighbourKind::StandingPole(_) => Material::Wood,
            NeighbourKind::Obstacle(index) => match neighbors.obstacles.get(index).map(|obstacle| &obstacle.shape) {
                Some(Shape::Tree { .. }) if bare => Material::Leaves,
                Some(tree @ Shape::Tree { .. }) => {
                    grown(tree, builder);
                    continue;
                }
                _ => Material::Wall,
            },
            // Both are drawn otherwise: a no-go area holds far up, and what is proven of a person is a reach.
            NeighbourKind::NoGo(_) | NeighbourKind::Person(_) => continue,
        };
        found.stays.iter().flat_map(|stay| &stay.parts).for_each(|part| builder.put(&part.hull(0.0), material));
    }
    for no_go in &neighbors.no_go {
        // Drawn no higher than a person sees over; it holds higher.
        for piece in convex_pieces(&no_go.corners) {
            builder.put(&prism(&piece, no_go.ground_m, no_go.height_m.min(2.0)), Material::NoGo);
        }
    }
}

/// A figure of a person; all are made anew when anybody stands elsewhere.
#[derive(Component)]
struct Figure;

/// Where the figures' feet are.
#[derive(Default)]
struct Figures {
    feet: Vec<DVec3>,
    paints: HashMap<Material, Handle<Matte>>,
}

/// Puts people where they stand in the step that is shown.
fn people(
    mut commands: Commands,
    before: Query<Entity, With<Figure>>,
    shown: Shown,
    mut assets: DrawAssets,
    mut drawn: Local<Figures>,
) {
    let (site, step) = (&shown.open.rehearsal.site, shown.step());
    let stated = site.neighbours.iter().flat_map(|neighbors| &neighbors.people);
    let feet: Vec<DVec3> =
        stated.filter(|_| !shown.view.layers.bare).filter_map(|person| person.place_in(step)).collect();
    if drawn.feet == feet {
        return;
    }
    before.iter().for_each(|entity| commands.entity(entity).despawn());
    for at in &feet {
        let up = |m: f64| *at + DVec3::Z * m;
        let parts = [
            (capsule(up(0.15), up(0.85), 0.15), Material::Dark),
            (capsule(up(0.9), up(1.4), 0.2), Material::Vest),
            (capsule(up(1.67), up(1.7), 0.13), Material::Pale),
        ];
        for (hull, material) in parts {
            let Some(mesh) = draw::solid(&hull) else { continue };
            let materials = &mut assets.materials;
            let made = || materials.add(Matte::of(material.color()).seen_from_behind());
            let paint = drawn.paints.entry(material).or_insert_with(made).clone();
            commands.spawn((Figure, Mesh3d(assets.meshes.add(mesh)), MeshMaterial3d(paint)));
        }
    }
    drawn.feet = feet;
}

/// What the spans hang on: pins, arms, and a pole where the scene states none.
fn supports(site: &Site, neighbors: &Neighbours, ground: &DrawnGround, builder: &mut Builder) {
    for ends in span_ends(site) {
        let middle = ends.iter().sum::<DVec3>() / ends.len() as f64;
        let top_m = ends.iter().map(|end| end.z).fold(f64::NEG_INFINITY, f64::max);
        let stated = neighbors.poles.iter().find(|pole| pole.foot.truncate().distance(middle.truncate()) < 3.0);
        let foot = stated.map_or(ground.on(middle.truncate()), |pole| pole.foot);
        if stated.is_none() {
            builder.put(&frustum(foot, DVec3 { z: top_m + 0.2, ..foot }, 0.17, 0.12), Material::Wood);
        }
        for end in &ends {
            let foot_of_pin = *end - DVec3::Z * 0.22;
            builder.put(&frustum(foot_of_pin, *end, 0.05, 0.08), Material::Pale);
            let at_pole = DVec3 { z: foot_of_pin.z, ..foot };
            if at_pole.distance(foot_of_pin) > 0.2 {
                builder.put(&capsule(at_pole, foot_of_pin, 0.06), Material::Wood);
            }
        }
    }
}

/// The ends of spans, those of one support together.
fn span_ends(site: &Site) -> Vec<Vec<DVec3>> {
    const ONE_SUPPORT_M: f64 = 4.0;
    let mut found: Vec<Vec<DVec3>> = Vec::new();
    let spans = site.wires.iter().flat_map(|wire| &wire.spans);
    for end in spans.flat_map(|span| [span.from, span.to]).filter(|end| end.is_finite()) {
        let is_near = |ends: &&mut Vec<DVec3>| ends.iter().any(|e| (*e - end).truncate().length() < ONE_SUPPORT_M);
        match found.iter_mut().find(is_near) {
            Some(ends) if ends.contains(&end) => {}
            Some(ends) => ends.push(end),
            None => found.push(vec![end]),
        }
    }
    found
}

/// The carriers of the machines.
fn machines(site: &Site, builder: &mut Builder) {
    let mut machine = |foot, heading, carrier: Carrier, cab: Material, jack: Material| {
        carrier.build(foot, heading, &mut |hull, part| {
            let material = match part {
                CarrierPart::Frame | CarrierPart::Tire => Material::Dark,
                CarrierPart::Cab => cab,
                CarrierPart::Jack => jack,
                CarrierPart::Mat => Material::Wood,
            };
            builder.put(hull, material);
        });
    };
    let crane = &site.crane;
    let carrier = if crane.derrick.is_some() { Carrier::DERRICK } else { Carrier::CRANE };
    let floats = crane.outriggers.as_ref().map(|outriggers| outriggers.floats());
    let carrier = carrier.sized(crane.carrier.as_ref(), floats.as_ref());
    machine(crane.at, crane.heading, carrier, Material::CraneCab, Material::Pale);
    for lift in &site.lifts {
        let (facts, white) = (lift.facts(), Material::BucketTruckCab);
        let carrier = Carrier::BUCKET_TRUCK.sized(lift.base.carrier.as_ref(), lift.base.outrigged.floats());
        machine(facts.at, facts.heading, carrier, white, white);
    }
}

fn mouth_of_hole(site: &Site, ground: &DrawnGround, builder: &mut Builder) {
    let mouth = ground.on(site.hole.at.truncate());
    let radius_m = site.hole.diameter_m / 2.0;
    let disc = frustum(mouth - DVec3::Z * 0.01, mouth + DVec3::Z * 0.02, radius_m, radius_m);
    builder.put(&disc, Material::Dark);
}

/// A tree whose crown looks like one, within the cylinder that is proven.
fn grown(tree: &Shape, builder: &mut Builder) {
    let Shape::Tree { foot, height_m, trunk_radius_m, crown_from_m, crown_radius_m } = tree else { return };
    let up = |m: f64| *foot + DVec3::Z * m;
    builder.put(&frustum(*foot, up(*height_m * 0.9), *trunk_radius_m, *trunk_radius_m * 0.5), Material::Wood);
    let tall_m = height_m - crown_from_m;
    let ring = |share: f64, wide: f64| Feature::Disc {
        center: up(crown_from_m + tall_m * share),
        axis: DVec3::Z,
        radius_m: crown_radius_m * wide,
    };
    let crown = [(0.0, 0.45), (0.15, 0.85), (0.4, 1.0), (0.7, 0.85), (0.9, 0.5), (1.0, 0.15)];
    builder.put(&Hull { features: crown.map(|(share, wide)| ring(share, wide)).to_vec() }, Material::Leaves);
}

/// A solid over a convex outline.
fn prism(corners: &[DVec2], from_m: f64, tall_m: f64) -> Hull {
    let ball = |p: DVec2, z: f64| Feature::Ball { center: p.extend(z), radius_m: 0.0 };
    let features = corners.iter().flat_map(|p| [ball(*p, from_m), ball(*p, from_m + tall_m)]).collect();
    Hull { features }
}
