//! The trial scene, timed.
#[allow(dead_code)]
mod trial;

use scene_core::approach::{Decision, Leg, Measure, Strand, decide, smallest_gap};
use std::time::Instant;

fn main() {
    let t = trial::trial();
    for _ in 0..5 {
        let start = Instant::now();
        let mut evaluations = 0;
        let mut open = 0;
        let legs: Vec<Vec<Leg>> = t
            .bodies
            .iter()
            .map(|(_, parts)| {
                parts
                    .iter()
                    .enumerate()
                    .map(|(k, part)| Leg::new(k, part))
                    .collect()
            })
            .collect();
        let prep = start.elapsed();
        let strands: Vec<Strand> = t.wires.iter().map(Strand::whole).collect();
        let prep2 = start.elapsed();
        let mut per = vec![];
        let mut lowest = vec![];
        for (legs, (name, _)) in legs.iter().zip(&t.bodies) {
            let s = Instant::now();
            let before = evaluations;
            let mut low = f64::INFINITY;
            for strand in &strands {
                let proof = smallest_gap(
                    legs,
                    std::slice::from_ref(strand),
                    Measure::Gap,
                    1e-3,
                    10000,
                );
                evaluations += proof.evaluations;
                open += u32::from(!proof.closed);
                low = proof.low_m.min(low);
            }
            lowest.push(low);
            per.push((name, evaluations - before, s.elapsed(), low));
        }
        println!(
            "{:?} prep {prep:?} {prep2:?} evaluations {evaluations} open {open}",
            start.elapsed()
        );
        for p in per {
            println!("   {p:?}");
        }
        let s = Instant::now();
        let mut ok = 0;
        for (legs, low) in legs.iter().zip(&lowest) {
            for strand in &strands {
                if let Decision::Apart { .. } = decide(
                    legs,
                    std::slice::from_ref(strand),
                    Measure::Gap,
                    low * 0.9,
                    10000,
                ) {
                    ok += 1;
                }
            }
        }
        println!("decide 0.9: {:?} {ok}", s.elapsed());
        let s = Instant::now();
        let mut ok = 0;
        for legs in legs.iter() {
            for strand in &strands {
                if let Decision::Apart { .. } =
                    decide(legs, std::slice::from_ref(strand), Measure::Gap, 0.2, 10000)
                {
                    ok += 1;
                }
            }
        }
        println!("decide 0.2: {:?} {ok}", s.elapsed());
    }
}
