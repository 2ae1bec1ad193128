//! Invented machines, motions and wires to try the proof of gaps on: the scene that is timed, and random ones to be held
//! against brute force. Shared by the benchmark and by the outside checks, which is why it stands beside neither.

use glam::DVec3;
use scene_core::bracket::Bracket;
use scene_core::conductor::SpanFamily;
use scene_core::motion::{MovingFeature, MovingPart, Track, Wave};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// A reproducible source of numbers (splitmix64).
pub struct Dice(pub u64);

impl Dice {
    pub fn roll(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.roll()
    }

    pub fn one_of<T: Copy>(&mut self, choices: &[T]) -> T {
        choices[(self.roll() * choices.len() as f64) as usize % choices.len()]
    }

    pub fn vector(&mut self, size: f64) -> DVec3 {
        DVec3::new(self.between(-size, size), self.between(-size, size), self.between(-size, size))
    }
}

/// One term `(c + dc·u)·cos(rate·u) + (s + ds·u)·sin(rate·u)`.
#[derive(Clone, Copy)]
struct Term {
    rate: f64,
    c: f64,
    s: f64,
    dc: f64,
    ds: f64,
}

/// A sum of such terms: what joints that run evenly make of a coordinate.
#[derive(Clone)]
struct Series(Vec<Term>);

impl Series {
    fn even(from: f64, to: f64) -> Self {
        Self(vec![Term { rate: 0.0, c: from, s: 0.0, dc: to - from, ds: 0.0 }])
    }

    fn cos(from: f64, to: f64) -> Self {
        let (sin, cos) = from.sin_cos();
        Self(vec![Term { rate: to - from, c: cos, s: -sin, dc: 0.0, ds: 0.0 }])
    }

    fn sin(from: f64, to: f64) -> Self {
        Self::cos(from - FRAC_PI_2, to - FRAC_PI_2)
    }

    fn plus(mut self, other: &Self) -> Self {
        self.0.extend(&other.0);
        self
    }

    fn times(&self, other: &Self) -> Self {
        // Re z₁ · Re z₂ = ½ Re(z₁z₂ + z₁z̄₂), z = (c − i·s)·e^{i·rate·u}.
        let mut product = Vec::new();
        for x in &self.0 {
            for y in &other.0 {
                assert!((x.dc == 0.0 && x.ds == 0.0) || (y.dc == 0.0 && y.ds == 0.0), "one factor may grow");
                for sense in [1.0, -1.0] {
                    let re = |a: f64, b: f64, c: f64, d: f64| a * c - sense * b * d;
                    let im = |a: f64, b: f64, c: f64, d: f64| sense * a * d + b * c;
                    product.push(Term {
                        rate: x.rate + sense * y.rate,
                        c: re(x.c, x.s, y.c, y.s) / 2.0,
                        s: im(x.c, x.s, y.c, y.s) / 2.0,
                        dc: (re(x.dc, x.ds, y.c, y.s) + re(x.c, x.s, y.dc, y.ds)) / 2.0,
                        ds: (im(x.dc, x.ds, y.c, y.s) + im(x.c, x.s, y.dc, y.ds)) / 2.0,
                    });
                }
            }
        }
        Self(product)
    }

    fn scaled(mut self, by: f64) -> Self {
        for term in &mut self.0 {
            term.c *= by;
            term.s *= by;
            term.dc *= by;
            term.ds *= by;
        }
        self
    }
}

#[derive(Clone)]
struct Vector([Series; 3]);

impl Vector {
    fn still(at: DVec3) -> Self {
        Self(at.to_array().map(|x| Series::even(x, x)))
    }

    fn plus(self, other: &Self) -> Self {
        let [x, y, z] = self.0;
        Self([x.plus(&other.0[0]), y.plus(&other.0[1]), z.plus(&other.0[2])])
    }

    fn times(&self, by: &Series) -> Self {
        let [x, y, z] = &self.0;
        Self([x.times(by), y.times(by), z.times(by)])
    }

    fn scaled(self, by: f64) -> Self {
        Self(self.0.map(|x| x.scaled(by)))
    }

    fn track(&self, rates: &mut Vec<f64>) -> Track {
        let mut track = Track::default();
        for (k, series) in self.0.iter().enumerate() {
            let axis = [DVec3::X, DVec3::Y, DVec3::Z][k];
            for term in &series.0 {
                // The cosine is even, the sine odd.
                let (rate, sense) = (term.rate.abs(), if term.rate < 0.0 { -1.0 } else { 1.0 });
                if rate < 1e-12 {
                    track.base += axis * term.c;
                    track.drift += axis * term.dc;
                    continue;
                }
                let rate = rates.iter().position(|&known| known == rate).unwrap_or_else(|| {
                    rates.push(rate);
                    rates.len() - 1
                });
                let wave = track.waves.iter().position(|wave| wave.rate == rate);
                let wave = wave.unwrap_or_else(|| {
                    track.waves.push(Wave {
                        rate,
                        cos: DVec3::ZERO,
                        sin: DVec3::ZERO,
                        cos_drift: DVec3::ZERO,
                        sin_drift: DVec3::ZERO,
                    });
                    track.waves.len() - 1
                });
                let wave = &mut track.waves[wave];
                wave.cos += axis * term.c;
                wave.sin += axis * (term.s * sense);
                wave.cos_drift += axis * term.dc;
                wave.sin_drift += axis * (term.ds * sense);
            }
        }
        track
    }
}

/// Joints of a crane with a pole on its hook.
#[derive(Clone, Copy, Debug)]
pub struct Joints {
    pub swing: f64,
    pub luff: f64,
    pub boom_m: f64,
    pub hoist_m: f64,
    /// Of the pole from upright.
    pub tilt: f64,
    pub heading: f64,
}

#[derive(Clone, Copy, Debug)]
pub struct Machine {
    pub at: DVec3,
    pub foot_offset_m: f64,
}

pub const POLE_M: f64 = 14.0;
pub const CHOKE_M: f64 = 9.0;
const SLING_M: f64 = 2.0;

/// What can come near a wire.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Body {
    Boom,
    HoistLine,
    Hook,
    Sling,
    Pole,
    /// A machine's boom as a tapered capsule.
    Arm,
    /// A level box at the boom's tip.
    Bucket,
}

pub const BODIES: [Body; 7] =
    [Body::Boom, Body::HoistLine, Body::Hook, Body::Sling, Body::Pole, Body::Arm, Body::Bucket];

struct Frames {
    across: Vector,
    along: Vector,
    above: Vector,
    out: Vector,
    foot: Vector,
    tip: Vector,
    hook: Vector,
    choke: Vector,
    pole: Vector,
    length: Series,
}

impl Machine {
    fn frames(&self, from: &Joints, to: &Joints) -> Frames {
        let nothing = Series(Vec::new());
        let constant = |x: f64| Series::even(x, x);
        let out = Vector([Series::cos(from.swing, to.swing), Series::sin(from.swing, to.swing), nothing.clone()]);
        let across =
            Vector([Series::sin(from.swing, to.swing).scaled(-1.0), Series::cos(from.swing, to.swing), nothing]);
        let up = Vector::still(DVec3::Z);
        let (cos, sin) = (Series::cos(from.luff, to.luff), Series::sin(from.luff, to.luff));
        let along = out.times(&cos).plus(&up.times(&sin));
        let above = out.times(&sin).scaled(-1.0).plus(&up.times(&cos));
        let foot = Vector::still(self.at).plus(&out.times(&constant(self.foot_offset_m)));
        let length = Series::even(from.boom_m, to.boom_m);
        let tip = foot.clone().plus(&along.times(&length));
        let hook = tip.clone().plus(&up.times(&Series::even(from.hoist_m, to.hoist_m)).scaled(-1.0));
        let choke = hook.clone().plus(&Vector::still(-DVec3::Z * SLING_M));
        let (lean, stand) = (Series::sin(from.tilt, to.tilt), Series::cos(from.tilt, to.tilt));
        let pole = Vector([
            Series::cos(from.heading, to.heading).times(&lean),
            Series::sin(from.heading, to.heading).times(&lean),
            stand,
        ]);
        Frames { across, along, above, out, foot, tip, hook, choke, pole, length }
    }

    pub fn part(&self, body: Body, from: &Joints, to: &Joints) -> MovingPart {
        let f = self.frames(from, to);
        let mut part = MovingPart::default();
        let mut add = |at: Vector, radius_m: f64, axis: Option<&Vector>| {
            let feature = MovingFeature {
                at: at.track(&mut part.rates),
                radius_m,
                axis: axis.map(|axis| axis.track(&mut part.rates)),
                allowance_m: 0.0,
            };
            part.features.push(feature);
        };
        let up = |z: f64| Vector::still(DVec3::Z * z);
        match body {
            Body::Boom => {
                for k in 0..8_u8 {
                    let side = |bit: u8| if k & bit == 0 { -1.0 } else { 1.0 };
                    let corner = if k & 1 == 0 { f.foot.clone() } else { f.tip.clone() };
                    let corner = corner
                        .plus(&f.across.clone().scaled(0.35 * side(2)))
                        .plus(&f.above.clone().scaled(0.4 * side(4)));
                    add(corner, 0.02, None);
                }
            }
            Body::HoistLine => {
                add(f.tip.clone(), 0.01, None);
                add(f.hook, 0.01, None);
            }
            Body::Hook => add(f.hook, 0.3, None),
            Body::Sling => {
                add(f.hook, 0.02, None);
                add(f.choke, 0.05, None);
            }
            Body::Pole => {
                let end = |by: f64| f.choke.clone().plus(&f.pole.clone().scaled(by));
                add(end(-CHOKE_M), 0.2, Some(&f.pole));
                add(end(POLE_M - CHOKE_M), 0.12, Some(&f.pole));
            }
            Body::Arm => {
                add(f.foot.clone(), 0.3, None);
                add(f.foot.clone().plus(&f.along.times(&f.length)), 0.15, None);
            }
            Body::Bucket => {
                for k in 0..8_u8 {
                    let side = |bit: u8| if k & bit == 0 { -1.0 } else { 1.0 };
                    let corner = f
                        .tip
                        .clone()
                        .plus(&f.out.clone().scaled(0.6 + 0.5 * side(1)))
                        .plus(&f.across.clone().scaled(0.4 * side(2)))
                        .plus(&up(0.5 * side(4)));
                    add(corner, 0.05, None);
                }
            }
        }
        part
    }
}

fn exactly(x: f64) -> Bracket {
    Bracket::exactly(x)
}

pub fn bracket(a: f64, b: f64) -> Bracket {
    Bracket::between(a, b).expect("finite")
}

pub fn fixed_span(from: DVec3, to: DVec3, curvature: Bracket, blowout: Bracket, radius_m: f64) -> SpanFamily {
    let run = DVec3::new(to.x - from.x, to.y - from.y, 0.0);
    let way = run.normalize_or(DVec3::X);
    SpanFamily {
        a: [from; 2],
        b: [to; 2],
        lateral: DVec3::new(-way.y, way.x, 0.0),
        blowout,
        run_m: run.length(),
        rise_m: to.z - from.z,
        curvature,
        radius_m,
        form_m: 0.0,
    }
}

/// The scene that is timed: a pole set over the top between two phases, with a bucket truck beside it.
pub struct Trial {
    /// For each body its parts, one for each of the 15 pieces of the motion.
    pub bodies: Vec<(&'static str, Vec<MovingPart>)>,
    /// 4 wires × 3 spans × 3 weather cases.
    pub wires: Vec<SpanFamily>,
}

pub fn trial() -> Trial {
    let crane = Machine { at: DVec3::new(2.0, -12.0, 2.2), foot_offset_m: -1.0 };
    let truck = Machine { at: DVec3::new(-9.0, -6.0, 2.5), foot_offset_m: 0.0 };
    // What each piece leaves behind; a hold repeats it.
    let start = Joints { swing: 0.3, luff: 0.7, boom_m: 20.0, hoist_m: 9.0, tilt: FRAC_PI_2, heading: 0.4 };
    let knots = [
        start,
        Joints { hoist_m: 6.0, ..start },
        Joints { hoist_m: 6.0, tilt: 0.02, ..start },
        Joints { luff: 1.1, hoist_m: 6.0, tilt: 0.02, ..start },
        Joints { luff: 1.1, hoist_m: 6.0, tilt: 0.02, boom_m: 27.0, ..start },
        Joints { luff: 1.1, hoist_m: 2.0, tilt: 0.02, boom_m: 27.0, ..start },
    ];
    let high = knots[5];
    let over = Joints { swing: 1.72, ..high };
    let knots = [
        knots[0],
        knots[1],
        knots[2],
        knots[3],
        knots[4],
        knots[5],
        high,
        over,
        Joints { luff: 1.033, ..over },
        Joints { luff: 1.033, heading: 2.4, ..over },
        Joints { luff: 1.033, heading: 2.4, ..over },
        Joints { luff: 1.033, heading: 2.4, hoist_m: 8.0, ..over },
        Joints { luff: 1.033, heading: 2.4, hoist_m: 8.0, ..over },
        Joints { luff: 1.033, heading: 2.4, hoist_m: 11.0, ..over },
        Joints { luff: 1.033, heading: 2.4, hoist_m: 13.0, ..over },
        Joints { luff: 1.033, heading: 2.4, hoist_m: 13.0, ..over },
    ];
    let reach = Joints { swing: 0.2, luff: 1.2, boom_m: 6.0, hoist_m: 1.0, tilt: 0.0, heading: 0.0 };
    let truck_knots: Vec<Joints> = (0..16)
        .map(|k| match k {
            0..=3 => reach,
            4..=6 => Joints { swing: 0.9, ..reach },
            7..=11 => Joints { swing: 0.9, luff: 0.95, boom_m: 7.0, ..reach },
            12 => Joints { swing: 0.5, luff: 0.95, boom_m: 7.0, ..reach },
            _ => Joints { swing: 0.5, luff: 0.95, boom_m: 8.0, ..reach },
        })
        .collect();
    let run = |machine: &Machine, body: Body, knots: &[Joints]| {
        knots.windows(2).map(|pair| machine.part(body, &pair[0], &pair[1])).collect::<Vec<_>>()
    };
    // The lower boom of the truck is the arm at half its length.
    let lower: Vec<Joints> = truck_knots.iter().map(|knot| Joints { boom_m: knot.boom_m / 2.0, ..*knot }).collect();
    let bodies = vec![
        ("boom", run(&crane, Body::Boom, &knots)),
        ("hoist line", run(&crane, Body::HoistLine, &knots)),
        ("hook", run(&crane, Body::Hook, &knots)),
        ("sling", run(&crane, Body::Sling, &knots)),
        ("pole", run(&crane, Body::Pole, &knots)),
        ("lower boom", run(&truck, Body::Arm, &lower)),
        ("upper boom", run(&truck, Body::Arm, &truck_knots)),
        ("bucket", run(&truck, Body::Bucket, &truck_knots)),
    ];
    let mut wires = Vec::new();
    for (y, z) in [(-1.4, 11.5), (0.0, 12.0), (1.4, 11.5), (0.0, 9.0)] {
        for ends in [[-100.0, -40.0], [-40.0, 42.0], [42.0, 100.0]] {
            for (curvature, blowout) in [(0.0012, 0.0), (0.0022, 0.0), (0.0015, 0.12)] {
                let at = |x: f64| DVec3::new(x, y, z + 0.004 * x);
                wires.push(fixed_span(at(ends[0]), at(ends[1]), exactly(curvature), exactly(blowout), 0.007));
            }
        }
    }
    Trial { bodies, wires }
}

/// One moving part and one family of wires.
#[derive(Clone, Debug)]
pub struct Case {
    pub body: Body,
    pub part: MovingPart,
    pub family: SpanFamily,
}

/// A random one: any body, any joints that move, angles with multiples of π and joints at rest among them; a wire near to
/// where the body passes, any of its ranges of no width.
pub fn random_case(dice: &mut Dice) -> Case {
    let body = dice.one_of(&BODIES);
    let machine = Machine {
        at: DVec3::new(dice.between(-60.0, 60.0), dice.between(-60.0, 60.0), 2.0),
        foot_offset_m: dice.one_of(&[0.0, -1.2, 0.8]),
    };
    let angle = |dice: &mut Dice| {
        let free = dice.between(-PI, PI);
        dice.one_of(&[free, free, free, 0.0, FRAC_PI_2, PI, -PI, TAU])
    };
    let from = Joints {
        swing: angle(dice),
        luff: dice.between(0.0, 1.4),
        boom_m: dice.between(8.0, 30.0),
        hoist_m: dice.between(0.5, 12.0),
        tilt: dice.one_of(&[0.0, 0.05, FRAC_PI_2, 0.8]),
        heading: angle(dice),
    };
    let mut to = from;
    for joint in 0..6 {
        if dice.roll() < 0.35 {
            match joint {
                0 => to.swing += angle(dice) * 0.6,
                1 => to.luff = dice.between(0.0, 1.4),
                2 => to.boom_m = dice.between(8.0, 30.0),
                3 => to.hoist_m = dice.between(0.5, 12.0),
                4 => to.tilt = dice.between(0.0, FRAC_PI_2),
                _ => to.heading = angle(dice),
            }
        }
    }
    let part = machine.part(body, &from, &to);
    // The wire passes by a corner's place at some instant.
    let hull = part.hull(dice.roll());
    let corner = hull.features[(dice.roll() * hull.features.len() as f64) as usize];
    let near = corner.farthest(DVec3::ZERO) + dice.vector(1.0) * dice.one_of(&[0.3, 2.0, 6.0]);
    let run = dice.between(10.0, 120.0);
    let heading = angle(dice);
    let way = DVec3::new(heading.cos(), heading.sin(), dice.one_of(&[0.0, 0.0, 0.1, -0.3]));
    let share = dice.between(0.05, 0.95);
    let slack = dice.between(0.0, 0.008);
    let taut = dice.one_of(&[slack, 0.0, slack * 0.6]);
    let blow = dice.between(-0.9, 0.9);
    let other = dice.one_of(&[blow, 0.0, -blow]);
    let mut family = fixed_span(
        near - way * (run * share),
        near + way * (run * (1.0 - share)),
        bracket(taut, slack),
        bracket(blow, other),
        dice.one_of(&[0.002, 0.007, 0.03]),
    );
    if dice.roll() < 0.3 {
        family.a[1] += dice.vector(0.4);
        family.b[1] += dice.vector(0.4);
    }
    // Raised by its sag, so that the wire and not its chord passes by.
    let lift = DVec3::Z * family.depth(share, slack) * dice.one_of(&[0.0, 1.0]);
    for end in family.a.iter_mut().chain(&mut family.b) {
        *end += lift;
    }
    Case { body, part, family }
}
