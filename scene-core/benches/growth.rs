//! How the time of a whole check grows with the number of wires and of steps.
//!
//! `cargo bench -p scene-core --bench growth --locked`

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use scene_core::glam::DVec3;
use scene_core::site::{Action, Site};
use scene_core::{check, scene};
use std::hint::black_box;
use std::time::Duration;

const LONG: &str = include_str!("../../scenes/06_long_juniper.ron");

fn long_juniper() -> Site {
    scene::read("06_long_juniper.ron", LONG).and_then(|scene| scene.site()).expect("the example is sound")
}

/// The first wires alone; what is held out and covered are the first four.
fn with_wires(count: usize) -> Site {
    let mut site = long_juniper();
    site.wires.truncate(count);
    site
}

/// More steps at the end: the empty hook is swung to and fro on the crane's side.
fn with_steps(count: usize) -> Site {
    let mut site = long_juniper();
    let last = site.steps.last().expect("it has steps").clone();
    while site.steps.len() < count {
        let west = if site.steps.len().is_multiple_of(2) { -6.0 } else { 6.0 };
        let point = DVec3::new(west, -20.0, 0.0);
        let name = format!("swing {}", site.steps.len());
        site.steps.push(scene_core::site::Step { name, action: Action::SwingToward { point }, ..last.clone() });
    }
    site
}

fn growth(c: &mut Criterion) {
    let mut wires = c.benchmark_group("check by wires, 40 steps");
    for count in [4, 8, 12, 16, 20, 24] {
        let site = with_wires(count);
        wires.bench_function(BenchmarkId::from_parameter(count), |b| b.iter(|| check::check(black_box(&site))));
    }
    wires.finish();
    let mut steps = c.benchmark_group("check by steps, 24 wires");
    for count in [40, 60, 80, 120] {
        let site = with_steps(count);
        steps.bench_function(BenchmarkId::from_parameter(count), |b| b.iter(|| check::check(black_box(&site))));
    }
    steps.finish();
}

criterion_group! {
    name = checks;
    config = Criterion::default().warm_up_time(Duration::from_millis(300)).measurement_time(Duration::from_secs(2)).sample_size(10);
    targets = growth
}
criterion_main!(checks);
