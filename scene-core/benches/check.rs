//! One check of the first example, as a whole and by room.
//!
//! `cargo bench -p scene-core --bench check --locked`

use criterion::{Criterion, criterion_group, criterion_main};
use scene_core::approach::pair::{decide_between, smallest_gap_between};
use scene_core::approach::{Measure, PartMotion};
use scene_core::machine::BodyId;
use scene_core::motion::{Motion, WindLean};
use scene_core::site::Site;
use scene_core::{check, conductor, pole, rigging, scene, sequence};
use std::hint::black_box;
use std::time::Duration;

const EXAMPLE: &str = include_str!("../../scenes/01_juniper_lane.ron");

fn juniper_lane() -> Site {
    scene::read("01_juniper_lane.ron", EXAMPLE).and_then(|scene| scene.site()).expect("the example is sound")
}

fn rooms(c: &mut Criterion) {
    let site = juniper_lane();
    let mass = pole::mass(&site.pole, &site.covers).expect("its pole has a mass");
    let hang = rigging::hang(&site.pole, &mass, &site.rigging).expect("its pole hangs");
    let plan = sequence::plan(&site, &hang);
    let leans = rigging::wind_leans(&site.pole, &mass, &site.rigging, &site.weather).expect("its pole leans");
    let windy = leans.last().map_or(WindLean::default(), |l| WindLean { line: l.line_ratio, pole: l.pole_ratio });

    c.bench_function("read the scene", |b| b.iter(juniper_lane));
    c.bench_function("hang the wires", |b| b.iter(|| conductor::hang(black_box(&site))));
    c.bench_function("weigh and hang the pole", |b| {
        b.iter(|| {
            let mass = pole::mass(black_box(&site.pole), &site.covers).ok()?;
            let leans = rigging::wind_leans(&site.pole, &mass, &site.rigging, &site.weather).ok()?;
            Some((rigging::hang(&site.pole, &mass, &site.rigging).ok()?, leans))
        })
    });
    c.bench_function("plan the sequence", |b| b.iter(|| sequence::plan(black_box(&site), &hang)));
    c.bench_function("parts in motion, one weather", |b| b.iter(|| Motion::of(black_box(&site), &plan, &windy)));
    let motion = Motion::among_themselves(&site, &plan, &windy);
    let part_motions = |kind: BodyId| -> Vec<PartMotion> {
        let bodies = motion.bodies.iter().filter(|body| body.id == kind);
        let pieces = bodies.flat_map(|body| body.parts.iter().enumerate());
        pieces.flat_map(|(piece, parts)| parts.iter().map(move |part| PartMotion::new(piece, part))).collect()
    };
    c.bench_function("legs of boom and pole", |b| b.iter(|| (part_motions(BodyId::Boom), part_motions(BodyId::Pole))));
    let (boom, pole) = (part_motions(BodyId::Boom), part_motions(BodyId::Pole));
    c.bench_function("pole against boom, to 1 mm", |b| {
        b.iter(|| smallest_gap_between(black_box(&pole), &boom, Measure::GapLessAllowance, 1e-3, 5_000))
    });
    c.bench_function("pole against boom, decided", |b| {
        b.iter(|| decide_between(black_box(&pole), &boom, Measure::GapLessAllowance, 0.0, 5_000))
    });
    c.bench_function("check the whole", |b| b.iter(|| check::check(black_box(&site))));
}

criterion_group! {
    name = checks;
    config = Criterion::default().warm_up_time(Duration::from_millis(500)).measurement_time(Duration::from_secs(3)).sample_size(20);
    targets = rooms
}
criterion_main!(checks);
