//! What presses on the outrigger floats, at instants of the first example's path, from the crane's joints by moment equilibrium.
//!
//! source: equilibrium of a rigid body, each corner worked as the three supports that are left when the float across the diagonal
//! lifts (Shapiro, Shapiro and Shapiro, Cranes and Derricks, from memory); status computed, here.

use glam::DVec3;
use scene_core::check::check;
use scene_core::sequence::{self, LoadState};
use scene_core::{pole, rigging, scene};

const GRAVITY: f64 = 9.80665;

/// Three supports at `at` that carry `n` acting at `on`: each one's share, by areas.
fn three(at: [[f64; 2]; 3], n: f64, on: [f64; 2]) -> [f64; 3] {
    let area = |a: [f64; 2], b: [f64; 2], c: [f64; 2]| (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    let whole = area(at[0], at[1], at[2]);
    [area(on, at[1], at[2]), area(at[0], on, at[2]), area(at[0], at[1], on)].map(|part| n * part / whole)
}

#[test]
fn no_instant_of_the_example_presses_harder_than_was_said() {
    let text = include_str!("../scenes/01_juniper_lane.ron");
    let site = scene::read("example", text).and_then(|scene| scene.site()).expect("it can be read");
    let outriggers = site.crane.outriggers.clone().expect("it states its outriggers");
    let report = check(&site);
    let mass = pole::mass(&site.pole, &site.covers).expect("a mass");
    let plan = sequence::plan(&site, &rigging::hang(&site.pole, &mass, &site.rigging).expect("it hangs"));
    let crane = &plan.chain.crane;
    let ahead = DVec3::new(site.crane.heading.cos(), site.crane.heading.sin(), 0.0);
    let left = DVec3::Z.cross(ahead);
    let corners = [
        [outriggers.front_m, outriggers.left_m],
        [outriggers.front_m, -outriggers.right_m],
        [-outriggers.rear_m, outriggers.left_m],
        [-outriggers.rear_m, -outriggers.right_m],
    ];
    let mut most = [0.0_f64; 4];
    for piece in &plan.pieces {
        for k in 0..=12 {
            let joints = piece.joints_at(f64::from(k) / 12.0);
            let share = (joints.boom_length_m - site.crane.boom_length_m.low()) / site.crane.boom_length_m.width();
            let [retracted, extended] = outriggers.boom_centre_m;
            let boom = crane.boom_in_world(&joints, retracted + (extended - retracted) * share, 0.0, 0.0);
            let hook = crane.line_top_in_world(&joints);
            let outward = crane.outward(joints.swing);
            let pole_kg = match piece.load {
                LoadState::Free | LoadState::Standing | LoadState::Unknown => 0.0,
                LoadState::ButtOnGround { .. } | LoadState::Hanging => mass.kg.high(),
            };
            let line_kg = joints.hoist_length_m * f64::from(site.crane.parts_of_line) * site.crane.line_kg_per_m;
            let hung_kg = pole_kg + site.rigging.mass_kg + site.crane.block.mass_kg + line_kg;
            let weights = [
                (hung_kg, hook - site.crane.at),
                (outriggers.boom_kg, boom - site.crane.at),
                (outriggers.upper_kg, outward * -outriggers.upper_behind_m),
                (outriggers.carrier_kg, ahead * outriggers.carrier_ahead_m),
            ];
            let kg: f64 = weights.iter().map(|(kg, _)| kg).sum();
            let at = weights.iter().map(|(kg, at)| *at * *kg).sum::<DVec3>() / kg;
            let on = [at.dot(ahead), at.dot(left)];
            // Without one corner after the other; what would have to pull is no equilibrium.
            for lifted in 0..4 {
                let rest: Vec<usize> = (0..4).filter(|i| *i != lifted).collect();
                let forces = three([corners[rest[0]], corners[rest[1]], corners[rest[2]]], kg * GRAVITY, on);
                if forces.iter().all(|force| *force >= 0.0) {
                    for (i, force) in rest.iter().zip(forces) {
                        most[*i] = most[*i].max(force);
                    }
                }
            }
        }
    }
    assert_eq!(report.floats.len(), 4);
    for (row, most) in report.floats.iter().zip(most) {
        println!("{}: {:.0} N said, {most:.0} N found", row.name, row.max_n);
        assert!(most <= row.max_n && most >= 0.93 * row.max_n, "{row:?} {most}");
        assert!((row.pressure_pa - row.max_n / (4.0 * 4.0 * 0.3048 * 0.3048)).abs() < 1.0);
    }
}
