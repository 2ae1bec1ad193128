//! The trial scene, timed.
#[allow(dead_code)]
mod trial;

use scene_core::approach::{Decision, Leg, Measure, Strand, decide, smallest_gap};
use std::time::{Duration, Instant};

fn main() {
    let t = trial::trial();
    let runs: usize = std::env::args().filter_map(|n| n.parse().ok()).next().unwrap_or(300);
    let mut best = [Duration::MAX; 8];
    let mut best_total = [Duration::MAX; 4];
    let mut counts = [0; 8];
    for _ in 0..runs {
        let start = Instant::now();
        let legs: Vec<Vec<Leg>> = t
            .bodies
            .iter()
            .map(|(_, parts)| parts.iter().enumerate().map(|(k, part)| Leg::new(k, part)).collect())
            .collect();
        let strands: Vec<Strand> = t.wires.iter().map(Strand::whole).collect();
        best_total[0] = best_total[0].min(start.elapsed());
        let mut lowest = vec![];
        for (k, legs) in legs.iter().enumerate() {
            let s = Instant::now();
            let mut evaluations = 0;
            let mut low = f64::INFINITY;
            for strand in &strands {
                let proof = smallest_gap(legs, std::slice::from_ref(strand), Measure::Gap, 1e-3, 10000);
                evaluations += proof.evaluations;
                low = proof.low_m.min(low);
            }
            lowest.push(low);
            counts[k] = evaluations;
            best[k] = best[k].min(s.elapsed());
        }
        best_total[1] = best_total[1].min(start.elapsed());
        for (k, factor) in [(2, 0.9), (3, 0.2)] {
            let s = Instant::now();
            for (legs, low) in legs.iter().zip(&lowest) {
                for strand in &strands {
                    assert!(matches!(
                        decide(legs, std::slice::from_ref(strand), Measure::Gap, low * factor, 10000),
                        Decision::Apart { .. }
                    ));
                }
            }
            best_total[k] = best_total[k].min(s.elapsed());
        }
    }
    println!("prep, all, decide .9, .2: {best_total:?} {best:?} {counts:?} {}", counts.iter().sum::<u32>());
}
