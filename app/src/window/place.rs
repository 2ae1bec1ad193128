//! Ground, daylight, what stands and lies about, people, the machines' carriers: what stands still. Carriers, cross arms and
//! figures are drawn for the eye and can be turned off; the rest are the solids that are proven.

use super::Open;
use super::axes::to_engine;
use super::draw::{self, Stock};
use super::matt::Matt;
use super::view::View;
use bevy::light::{CascadeShadowConfigBuilder, GlobalAmbientLight};
use bevy::prelude::*;
use scene_core::glam::{DVec2, DVec3};
use scene_core::neighbours::{self, NeighbourKind, convex_pieces};
use scene_core::quantity::unit::FOOT_M;
use scene_core::site::Site;
use scene_core::site::ground::{Neighbours, Shape};
use scene_core::solid::{Feature, Hull};
use scene_core::terrain::Ground;

/// By day the sky pales toward the horizon, where the ground is lost in haze.
pub const HAZE: Color = Color::linear_rgb(1.15, 1.3, 1.4);
const ZENITH: Color = Color::linear_rgb(0.55, 0.95, 1.75);
/// As far as the ground goes, metres.
const HORIZON_M: f32 = 600.0;

pub struct PlacePlugin;

impl Plugin for PlacePlugin {
    fn build(&self, app: &mut App) {
        app.insert_resource(ClearColor(HAZE))
            .insert_resource(GlobalAmbientLight { brightness: 500.0, ..default() })
            .add_systems(Startup, light)
            .init_resource::<Grid>()
            .add_systems(Update, stand.run_if(resource_changed::<Open>.or_else(resource_changed::<View>)));
    }
}

fn light(mut commands: Commands, mut stock: Stock) {
    commands.spawn((
        Mesh3d(stock.meshes.add(sky())),
        MeshMaterial3d(stock.materials.add(Matt::unlit(Color::WHITE).seen_from_behind())),
        bevy::light::NotShadowCaster,
        bevy::light::NotShadowReceiver,
    ));
    // As far as the work goes; beyond it nothing stands whose shadow matters.
    let shadows = CascadeShadowConfigBuilder {
        num_cascades: 2,
        first_cascade_far_bound: 30.0,
        maximum_distance: 140.0,
        ..default()
    };
    commands.spawn((
        shadows.build(),
        DirectionalLight { illuminance: 8_500.0, shadow_maps_enabled: true, ..default() },
        Transform::from_xyz(45.0, 80.0, 55.0).looking_at(Vec3::ZERO, Vec3::Y),
    ));
}

/// Everything here is of one make of the scene.
#[derive(Component)]
struct Standing;

/// Ten feet to a square, lying on the ground.
#[derive(Resource, Default)]
pub struct Grid(pub Vec<Vec<Vec3>>);

const SQUARE_M: f64 = 10.0 * FOOT_M;
/// Squares from the hole to each side.
const SQUARES: i32 = 24;

/// How high the ground lies, for the eye: beyond the survey as at its nearest spot.
pub struct Lie(Option<(Ground, Vec<DVec3>)>, f64);

impl Lie {
    pub fn of(site: &Site) -> Self {
        let spots = site.terrain.as_ref().map_or(Vec::new(), |terrain| terrain.spots.clone());
        Self(Ground::of(site).ok().filter(|_| !spots.is_empty()).map(|ground| (ground, spots)), site.hole.at.z)
    }

    fn height_m(&self, at: DVec2) -> f64 {
        let Some((ground, spots)) = &self.0 else { return self.1 };
        if let Some(height) = ground.height(at) {
            return (height.low() + height.high()) / 2.0;
        }
        let nearest =
            spots.iter().min_by(|a, b| a.truncate().distance_squared(at).total_cmp(&b.truncate().distance_squared(at)));
        nearest.map_or(self.1, |spot| spot.z)
    }

    pub fn on(&self, at: DVec2) -> DVec3 {
        at.extend(self.height_m(at))
    }
}

fn stand(
    mut commands: Commands,
    before: Query<Entity, With<Standing>>,
    open: Res<Open>,
    view: Res<View>,
    mut grid: ResMut<Grid>,
    mut stock: Stock,
    mut known: Local<Option<(Site, bool)>>,
) {
    let site = &open.rehearsal.site;
    let bare = view.layers.bare;
    if known.as_ref().is_some_and(|(known, was)| known == site && *was == bare) {
        return;
    }
    *known = Some((site.clone(), bare));
    for entity in &before {
        commands.entity(entity).despawn();
    }
    let mut matt = |colour: Color| stock.materials.add(Matt::of(colour).seen_from_behind());
    let lie = Lie::of(site);
    let hole = site.hole.at.truncate();
    let (ground, lines) = surface(&lie, hole);
    grid.0 = lines;
    commands.spawn((
        Standing,
        Mesh3d(stock.meshes.add(ground)),
        MeshMaterial3d(matt(Color::srgb(0.53, 0.57, 0.46))),
        bevy::light::NotShadowCaster,
    ));
    let asphalt = matt(Color::srgb(0.33, 0.34, 0.35));
    for road in site.roads.iter().filter(|_| !bare) {
        let mesh = stock.meshes.add(strip(&lie, &road.along, road.width_m));
        commands.spawn((Standing, Mesh3d(mesh), MeshMaterial3d(asphalt.clone()), bevy::light::NotShadowCaster));
    }
    let wood = matt(Color::srgb(0.45, 0.35, 0.26));
    let pale = matt(Color::srgb(0.80, 0.78, 0.72));
    let dark = matt(Color::srgb(0.16, 0.16, 0.17));
    let steel = matt(Color::srgb(0.62, 0.50, 0.19));
    let white = matt(Color::srgb(0.84, 0.84, 0.81));
    let leaves = matt(Color::srgb(0.30, 0.44, 0.24));
    let wall = matt(Color::srgb(0.74, 0.66, 0.58));
    let forbidden = matt(Color::srgba(0.70, 0.10, 0.20, 0.22));
    let vest = matt(Color::srgb(0.86, 0.42, 0.12));
    let mut put = |hull: &Hull, material: &Handle<Matt>| {
        if let Some(mesh) = draw::solid(hull) {
            commands.spawn((Standing, Mesh3d(stock.meshes.add(mesh)), MeshMaterial3d(material.clone())));
        }
    };

    let empty = Neighbours::default();
    let neighbours = site.neighbours.as_ref().unwrap_or(&empty);
    for found in neighbours::neighbours(neighbours) {
        let material = match found.kind {
            NeighbourKind::StandingPole(_) => &wood,
            NeighbourKind::Obstacle(index) => match neighbours.obstacles.get(index).map(|obstacle| &obstacle.shape) {
                Some(Shape::Tree { .. }) if bare => &leaves,
                Some(tree @ Shape::Tree { .. }) => {
                    grown(tree, |hull, leafy| put(hull, if leafy { &leaves } else { &wood }));
                    continue;
                }
                _ => &wall,
            },
            // Both are drawn for the eye: the one holds far up, the other is a reach.
            NeighbourKind::NoGo(_) | NeighbourKind::Person(_) => continue,
        };
        found.parts.iter().for_each(|part| put(&part.hull(0.0), material));
    }
    for no_go in &neighbours.no_go {
        // As far up as a person sees over; it holds farther.
        for piece in convex_pieces(&no_go.corners) {
            put(&prism(&piece, no_go.ground_m, no_go.height_m.min(2.0)), &forbidden);
        }
    }
    if bare {
        return;
    }
    for person in &neighbours.people {
        let up = |m: f64| person.at + DVec3::Z * m;
        put(&capsule(up(0.15), up(0.85), 0.15), &dark);
        put(&capsule(up(0.9), up(1.4), 0.2), &vest);
        put(&capsule(up(1.67), up(1.7), 0.13), &pale);
    }
    for ends in supports(&open) {
        let middle = ends.iter().sum::<DVec3>() / ends.len() as f64;
        let top_m = ends.iter().map(|end| end.z).fold(f64::NEG_INFINITY, f64::max);
        let stated = neighbours.poles.iter().find(|pole| pole.foot.truncate().distance(middle.truncate()) < 3.0);
        let foot = stated.map_or(lie.on(middle.truncate()), |pole| pole.foot);
        if stated.is_none() {
            put(&frustum(foot, DVec3 { z: top_m + 0.2, ..foot }, 0.17, 0.12), &wood);
        }
        for end in &ends {
            let foot_of_pin = *end - DVec3::Z * 0.22;
            put(&frustum(foot_of_pin, *end, 0.05, 0.08), &pale);
            let at_pole = DVec3 { z: foot_of_pin.z, ..foot };
            if at_pole.distance(foot_of_pin) > 0.2 {
                put(&capsule(at_pole, foot_of_pin, 0.06), &wood);
            }
        }
    }

    let crane = &site.crane;
    let size = if crane.derrick.is_some() { Carrier::DERRICK } else { Carrier::CRANE };
    let mut machine = |foot, heading, size, cab: &Handle<Matt>, jack: &Handle<Matt>| {
        carrier(foot, heading, size, &mut |hull, part| {
            let material = match part {
                Of::Frame | Of::Tyre => &dark,
                Of::Cab => cab,
                Of::Jack => jack,
                Of::Mat => &wood,
            };
            put(hull, material);
        });
    };
    machine(crane.at, crane.heading, size, &steel, &pale);
    if let Some(truck) = &site.bucket_truck {
        machine(truck.at, truck.heading, Carrier::BUCKET_TRUCK, &white, &white);
    }
    let mouth = lie.on(hole);
    let radius_m = site.hole.diameter_m / 2.0;
    put(&frustum(mouth - DVec3::Z * 0.01, mouth + DVec3::Z * 0.02, radius_m, radius_m), &dark);
}

/// The ground far and wide, and the grid's lines on it.
fn surface(lie: &Lie, about: DVec2) -> (Mesh, Vec<Vec<Vec3>>) {
    let place = |i: i32| f64::from(i) * SQUARE_M;
    let spot = |i: i32, j: i32| {
        let p = to_engine(lie.on(about + DVec2::new(place(i), place(j))));
        // The outermost are drawn far out, so that there is a horizon.
        let middle = to_engine(about.extend(0.0)).with_y(p.y);
        let outermost = i.abs() == SQUARES || j.abs() == SQUARES;
        let out = if outermost { (p - middle).normalize_or_zero() * HORIZON_M } else { p - middle };
        middle + out - Vec3::Y * 0.02
    };
    let corners = |i: i32, j: i32| [spot(i, j), spot(i + 1, j), spot(i + 1, j + 1), spot(i, j + 1)];
    let squares = (-SQUARES..SQUARES).flat_map(|i| (-SQUARES..SQUARES).map(move |j| (i, j)));
    let triangles = squares.flat_map(|(i, j)| {
        let [a, b, c, d] = corners(i, j);
        [[a, b, c], [a, c, d]]
    });
    let half = SQUARES / 2;
    let above = |i: i32, j: i32| to_engine(lie.on(about + DVec2::new(place(i), place(j)))) + Vec3::Y * 0.03;
    let mut lines = Vec::new();
    for i in -half..=half {
        lines.push((-half..=half).map(|j| above(i, j)).collect());
        lines.push((-half..=half).map(|j| above(j, i)).collect());
    }
    (draw::flat(triangles), lines)
}

/// A dome of sky, seen from within.
fn sky() -> Mesh {
    let (haze, zenith) = (HAZE.to_linear(), ZENITH.to_linear());
    let mut dome = Sphere::new(HORIZON_M + 30.0).mesh().uv(32, 48);
    let heights: Vec<f32> = dome
        .attribute(Mesh::ATTRIBUTE_POSITION)
        .and_then(|positions| positions.as_float3())
        .map_or(Vec::new(), |positions| positions.iter().map(|p| p[1] / (HORIZON_M + 30.0)).collect());
    let colours: Vec<[f32; 4]> =
        heights.iter().map(|up| haze.mix(&zenith, up.clamp(0.0, 1.0).powf(0.6)).to_f32_array()).collect();
    dome.insert_attribute(Mesh::ATTRIBUTE_COLOR, colours);
    dome
}

/// A strip along a line, laid on the ground.
fn strip(lie: &Lie, along: &[DVec2], width_m: f64) -> Mesh {
    /// No stretch longer, so that it follows the ground.
    const STRETCH_M: f64 = 2.0;
    let mut triangles = Vec::new();
    for (from, to) in along.iter().zip(along.iter().skip(1)) {
        let way = *to - *from;
        let aside = way.perp().normalize_or_zero() * width_m / 2.0;
        let stretches = (way.length() / STRETCH_M).ceil().clamp(1.0, 2000.0);
        let at = |i: f64, side: f64| to_engine(lie.on(*from + way * (i / stretches) + aside * side)) + Vec3::Y * 0.015;
        for i in 0..stretches as u32 {
            let (here, there) = (f64::from(i), f64::from(i + 1));
            for [left, right] in [[-1.0, 0.0], [0.0, 1.0]] {
                let [a, b, c, d] = [at(here, left), at(there, left), at(there, right), at(here, right)];
                triangles.extend([[a, b, c], [a, c, d]]);
            }
        }
    }
    draw::flat(triangles.into_iter())
}

/// A tree with a crown that looks like one, within the cylinder that is proven; whether it is leaves.
fn grown(tree: &Shape, mut put: impl FnMut(&Hull, bool)) {
    let Shape::Tree { foot, height_m, trunk_radius_m, crown_from_m, crown_radius_m } = tree else { return };
    let up = |m: f64| *foot + DVec3::Z * m;
    put(&frustum(*foot, up(*height_m * 0.9), *trunk_radius_m, *trunk_radius_m * 0.5), false);
    let tall_m = height_m - crown_from_m;
    let ring = |share: f64, wide: f64| Feature::Disc {
        centre: up(crown_from_m + tall_m * share),
        axis: DVec3::Z,
        radius_m: crown_radius_m * wide,
    };
    let crown = [(0.0, 0.45), (0.15, 0.85), (0.4, 1.0), (0.7, 0.85), (0.9, 0.5), (1.0, 0.15)];
    put(&Hull { features: crown.map(|(share, wide)| ring(share, wide)).to_vec() }, true);
}

/// Over a convex outline.
fn prism(corners: &[DVec2], from_m: f64, tall_m: f64) -> Hull {
    let ball = |p: DVec2, z: f64| Feature::Ball { centre: p.extend(z), radius_m: 0.0 };
    let features = corners.iter().flat_map(|p| [ball(*p, from_m), ball(*p, from_m + tall_m)]).collect();
    Hull { features }
}

/// What a carrier is made of.
enum Of {
    Frame,
    Cab,
    Tyre,
    Jack,
    Mat,
}

/// Of a size that such machines have, metres from the slew axis.
struct Carrier {
    rear_m: f64,
    front_m: f64,
    cab_m: f64,
    tall_m: f64,
    axles_m: &'static [f64],
    jacks_m: &'static [f64],
    spread_m: f64,
}

impl Carrier {
    const CRANE: Self = Self {
        rear_m: -3.2,
        front_m: 6.4,
        cab_m: 1.8,
        tall_m: 2.5,
        axles_m: &[-2.2, -0.9, 3.6, 5.4],
        jacks_m: &[-2.9, 3.0],
        spread_m: 2.9,
    };
    const DERRICK: Self = Self {
        rear_m: -1.6,
        front_m: 6.8,
        cab_m: 1.9,
        tall_m: 2.6,
        axles_m: &[0.9, 2.1, 5.9],
        jacks_m: &[-1.2, 3.4],
        spread_m: 2.2,
    };
    const BUCKET_TRUCK: Self = Self {
        rear_m: -1.8,
        front_m: 6.2,
        cab_m: 1.8,
        tall_m: 2.5,
        axles_m: &[0.4, 5.3],
        jacks_m: &[-1.2, 2.4],
        spread_m: 1.7,
    };
}

fn carrier(foot: DVec3, heading: f64, size: Carrier, put: &mut impl FnMut(&Hull, Of)) {
    let ahead = DVec3::new(heading.cos(), heading.sin(), 0.0);
    let left = DVec3::new(-ahead.y, ahead.x, 0.0);
    let at = |x: f64, y: f64, z: f64| foot + ahead * x + left * y + DVec3::Z * z;
    let slab = |x: [f64; 2], y: [f64; 2], z: [f64; 2]| {
        let corners = [0, 1, 2, 3, 4, 5, 6, 7].map(|k| at(x[k & 1], y[k >> 1 & 1], z[k >> 2]));
        Hull { features: corners.map(|centre| Feature::Ball { centre, radius_m: 0.0 }).to_vec() }
    };
    put(&slab([size.rear_m, size.front_m], [-1.22, 1.22], [0.75, 1.15]), Of::Frame);
    let cab_from_m = size.front_m - size.cab_m;
    put(&slab([cab_from_m, size.front_m], [-1.22, 1.22], [0.75, 1.7]), Of::Cab);
    put(&slab([cab_from_m, size.front_m - 0.35], [-1.15, 1.15], [1.7, size.tall_m]), Of::Cab);
    put(&slab([size.front_m - 0.62, size.front_m - 0.28], [-1.05, 1.05], [1.72, size.tall_m - 0.12]), Of::Frame);
    put(&slab([-1.2, 1.2], [-1.1, 1.1], [1.15, 1.5]), Of::Frame);
    for x in size.axles_m {
        for y in [-1.05, 1.05] {
            put(&frustum(at(*x, y - 0.16, 0.52), at(*x, y + 0.16, 0.52), 0.52, 0.52), Of::Tyre);
        }
    }
    for x in size.jacks_m {
        for out in [-size.spread_m, size.spread_m] {
            put(&capsule(at(*x, 0.0, 0.95), at(*x, out, 0.95), 0.12), Of::Cab);
            put(&frustum(at(*x, out, 0.12), at(*x, out, 0.95), 0.08, 0.08), Of::Jack);
            put(&slab([x - 0.6, x + 0.6], [out - 0.6, out + 0.6], [0.0, 0.12]), Of::Mat);
        }
    }
}

/// The ends of spans, those of one support together.
fn supports(open: &Open) -> Vec<Vec<DVec3>> {
    const ONE_SUPPORT_M: f64 = 4.0;
    let mut found: Vec<Vec<DVec3>> = Vec::new();
    let spans = open.rehearsal.site.wires.iter().flat_map(|wire| &wire.spans);
    for end in spans.flat_map(|span| [span.from, span.to]).filter(|end| end.is_finite()) {
        let near = |ends: &&mut Vec<DVec3>| ends.iter().any(|e| (*e - end).truncate().length() < ONE_SUPPORT_M);
        match found.iter_mut().find(near) {
            Some(ends) if ends.contains(&end) => {}
            Some(ends) => ends.push(end),
            None => found.push(vec![end]),
        }
    }
    found
}

fn frustum(a: DVec3, b: DVec3, ra: f64, rb: f64) -> Hull {
    let axis = (b - a).normalize_or(DVec3::Z);
    let disc = |centre, radius_m| Feature::Disc { centre, axis, radius_m };
    Hull { features: vec![disc(a, ra), disc(b, rb)] }
}

fn capsule(a: DVec3, b: DVec3, radius_m: f64) -> Hull {
    Hull { features: [a, b].map(|centre| Feature::Ball { centre, radius_m }).to_vec() }
}
