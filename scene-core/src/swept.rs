//! Swept volumes: closed surfaces that enclose a body at every instant of a motion, their footprint, and the volume as
//! a bracket.
//!
//! ```no_run
//! # fn of(motion: &scene_core::motion::Motion) {
//! use scene_core::swept::{SweepPrecision, swept};
//! let boom = &motion.bodies[0];
//! let whole_path = boom.parts.iter().flat_map(|parts| parts.iter());
//! let swept = swept(whole_path, SweepPrecision::default());
//! # }
//! ```
//!
//! The motion is cut into slices of u. Each slice is one convex solid that encloses the part over the whole slice. The
//! low end of the volume comes from solids inside the part at single instants; a part with motion error first loses its
//! rim. Allowances are not included: they reduce gaps and never enlarge bodies.
//!
//! | file | holds |
//! |---|---|
//! | [`Surface`] in `polytope` | convex solids cut from half-spaces, hulls of points |
//! | `slice` | a part over a stretch of its motion, and at an instant |
//! | `columns` | the volume of a union |
//! | `footprint` | outlines on the ground |

mod columns;
mod footprint;
mod polytope;
mod slice;

pub use polytope::{HalfSpace, Surface};

use crate::bracket::Bracket;
use crate::motion::{BodyMotion, Motion, MovingPart};
use crate::sequence::Path;
use columns::Along;
use glam::{DVec2, DVec3};
use slice::{ConvexSolid, Slice};

/// The precision of a swept volume, and the effort that it may take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SweepPrecision {
    /// Width of the volume bracket as a share of its high end, 0 … 1.
    pub tolerance: f64,
    /// Number of refinements, 1 … 6. Each one costs about eight times the one before.
    pub refinements: u32,
}

impl Default for SweepPrecision {
    fn default() -> Self {
        Self { tolerance: 0.25, refinements: 3 }
    }
}

/// What a body sweeps.
#[derive(Clone, Debug, PartialEq)]
pub struct Swept {
    /// Convex and closed. Together they enclose the body at every instant. World frame, meters.
    pub surfaces: Vec<Surface>,
    /// The footprint of each surface in plan; convex, counterclockwise, meters.
    pub footprints: Vec<Vec<DVec2>>,
    /// The convex outline of all footprints, counterclockwise, meters.
    pub outline: Vec<DVec2>,
    /// Volume of everything swept, m³.
    pub volume_m3: Bracket,
    /// The volume bracket reached the tolerance.
    pub closed: bool,
}

/// Most slices of one part.
const MOST_SLICES: f64 = 96.0;
/// Most instants of one part at the first level.
const MOST_INSTANTS: f64 = 24.0;
/// Most halves of a part with motion error.
const MOST_HALVES: usize = 8;

/// A coarse precision: a whole sequence takes about a second.
pub const COARSE: SweepPrecision = SweepPrecision { tolerance: 0.25, refinements: 1 };

/// Every body that moves in a step, with what it sweeps; `None` where a number is missing.
pub fn in_step(motion: &Motion, step: usize, wish: SweepPrecision) -> Vec<(&BodyMotion, Option<Swept>)> {
    let of_step = |(index, piece): (usize, &crate::sequence::Piece)| (piece.step == step).then_some(index);
    let pieces: Vec<usize> = motion.pieces.iter().enumerate().filter_map(of_step).collect();
    let sweeps = |body: &'_ BodyMotion| -> Option<Option<Swept>> {
        let moving: Vec<usize> = pieces.iter().copied().filter(|i| body.still.get(*i) == Some(&false)).collect();
        let parts = moving.iter().filter_map(|i| body.parts.get(*i)).flat_map(|parts| parts.iter());
        (!moving.is_empty()).then(|| swept(parts, wish))
    };
    motion.bodies.iter().filter_map(|body| Some((body, sweeps(body)?))).collect()
}

/// What several parts sweep together over all their motion; `None` without parts, or when a number is missing.
pub fn swept<'a>(parts: impl Iterator<Item = &'a MovingPart>, wish: SweepPrecision) -> Option<Swept> {
    let parts: Vec<&MovingPart> = parts.collect();
    let mut best: Option<Swept> = None;
    for level in 0..wish.refinements.clamp(1, 6) {
        let found = at_level(&parts, level)?;
        let volume_m3 = match &best {
            Some(before) => found.volume_m3.within(before.volume_m3).unwrap_or(before.volume_m3),
            None => found.volume_m3,
        };
        let closed = volume_m3.width() <= wish.tolerance * volume_m3.high();
        best = Some(Swept { volume_m3, closed, ..found });
        if closed {
            break;
        }
    }
    best
}

fn at_level(parts: &[&MovingPart], level: u32) -> Option<Swept> {
    let finer = f64::from(1_u32 << level);
    let (mut slices, mut within): (Vec<Slice>, Vec<ConvexSolid>) = (Vec::new(), Vec::new());
    let mut one_body_m3 = 0.0_f64;
    for part in parts {
        let thick_m = thickness_m(part)?;
        for held in halved(part, thick_m / (4.0 * finer)) {
            slices.extend(sliced(&held, thick_m / (4.0 * finer * finer), level)?);
        }
        // In a box of motions only the leading joint surely takes every value, so the part may never be inside one of
        // its halves.
        let in_turn = match part.spread.as_ref().map(|spread| spread.path) {
            Some(Path::Box { .. }) | None => vec![(*part).clone()],
            Some(Path::Even | Path::Upend(_)) => halved(part, thick_m / (4.0 * finer)),
        };
        for held in in_turn {
            for u in instants(&held, thick_m / finer, MOST_INSTANTS * finer) {
                if let Some((convex, volume_m3)) = slice::inside(&held, u) {
                    one_body_m3 = one_body_m3.max(volume_m3);
                    within.push(convex);
                }
            }
        }
    }
    let surfaces: Vec<Surface> = slices.iter().map(|slice| slice.solid.surface()).collect();
    let around: Vec<ConvexSolid> = slices.iter().map(|slice| slice.convex.clone()).collect();
    let (mut low_m3, mut high_m3) = (one_body_m3, surfaces.iter().map(Surface::volume_m3).sum::<f64>() * (1.0 + 1e-9));
    let per_side = 12 << level;
    for along in Along::ALL {
        if let Some([low, high]) = columns::bracket_m3(&within, &around, along, per_side) {
            low_m3 = low_m3.max(low * (1.0 - 1e-9));
            high_m3 = high_m3.min(high * (1.0 + 1e-9));
        }
    }
    let footprints = slices.iter().map(|slice| footprint::outline(slice.solid.points().iter().copied())).collect();
    let outline = footprint::outline(slices.iter().flat_map(|slice| slice.solid.points().iter().copied()));
    let volume_m3 = Bracket::between(low_m3, high_m3.max(low_m3))?;
    (!slices.is_empty()).then_some(Swept { surfaces, footprints, outline, volume_m3, closed: false })
}

/// The least width of the part at the middle of its motion, meters; at least 2 cm, to limit the number of slices.
fn thickness_m(part: &MovingPart) -> Option<f64> {
    let points = Slice::of(part, Bracket::exactly(0.5))?.convex.half_spaces;
    let along = |direction: DVec3| {
        points.iter().filter(|h| h.normal.dot(direction) > 1.0 - 1e-9).map(|h| h.offset_m).fold(f64::INFINITY, f64::min)
    };
    let widths = points.iter().map(|h| h.offset_m + along(-h.normal));
    Some(widths.fold(f64::INFINITY, f64::min).clamp(0.02, 1e3))
}

/// The part in halves, until the motion error of each is small enough or there are too many.
fn halved(part: &MovingPart, motion_error_m: f64) -> Vec<MovingPart> {
    let mut done = Vec::new();
    let mut open = vec![part.clone()];
    while let Some(next) = open.pop() {
        let coarse = next.motion_error_m > motion_error_m && done.len() + open.len() + 1 < MOST_HALVES;
        match if coarse { next.halves() } else { None } {
            Some(halves) => open.extend(halves),
            None => done.push(next),
        }
    }
    done
}

/// The part as slices whose corners bulge by no more than `aside_m`.
fn sliced(part: &MovingPart, aside_m: f64, level: u32) -> Option<Vec<Slice>> {
    let whole = Bracket::exactly(0.0).hull(Bracket::exactly(1.0));
    let bounds = |feature: &crate::motion::MovingFeature| feature.at.bounds(&part.rates, whole).second;
    let second = part.features.iter().map(bounds).fold(0.0, f64::max);
    let wanted = (second / (8.0 * aside_m.max(1e-3))).sqrt().ceil();
    // A straight motion needs one slice. Others get finer slices at each level, also for rotation on the spot.
    let least = if second == 0.0 { 1.0 } else { f64::from(1_u32 << level) };
    let count = wanted.max(least).min(MOST_SLICES) as u32;
    (0..count)
        .map(|i| {
            let ends = [i, i + 1].map(|end| f64::from(end) / f64::from(count));
            Slice::of(part, Bracket::between(ends[0], ends[1])?)
        })
        .collect()
}

/// Instants between which no corner moves much farther than `apart_m`.
fn instants(part: &MovingPart, apart_m: f64, most: f64) -> Vec<f64> {
    if part.is_still() {
        return vec![0.0];
    }
    let hulls = [0.0, 0.25, 0.5, 0.75, 1.0].map(|u| part.hull(u).features);
    let center = |feature: &crate::solid::Feature| feature.farthest(DVec3::ZERO);
    let ways = hulls.windows(2).map(|pair| match pair {
        [from, to] => from.iter().zip(to).map(|(a, b)| (center(a) - center(b)).length()).fold(0.0, f64::max),
        _ => 0.0,
    });
    let count = (3.0 * ways.sum::<f64>() / apart_m).ceil().clamp(1.0, most);
    (0..=count as u32).map(|i| f64::from(i) / count.floor()).collect()
}

#[cfg(test)]
mod tests;
