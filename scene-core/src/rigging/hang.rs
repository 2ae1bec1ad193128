//! How the pole hangs from its choker, and the forces at butt and hook.

use super::error::RiggingError;
use crate::bracket::Bracket;
use crate::pole::{self, Mass};
use crate::quantity::unit;
use crate::site::{Pole, Rigging};
use std::f64::consts::{PI, TAU};

/// Standard gravity, m/s².
pub const GRAVITY_M_S2: f64 = unit::GRAVITY;

/// How the pole hangs free, in still air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hang {
    /// Angle of the pole's axis from plumb, radians.
    pub tilt_rad: Bracket,
    /// From the pole's axis to where the sling leaves the choke, meters.
    pub choke_offset_m: Bracket,
    /// Across the axis from the center of mass to where the sling leaves the choke, meters.
    pub offset_m: Bracket,
    /// Along the axis from the balance point up to the choke, meters.
    pub lever_m: Bracket,
    /// The direction in which the tip leans, radians counterclockwise from the direction that the pole faces: away from
    /// the choked face when nothing hangs to one side. Its middle is within half a turn of 0. It is 2π wide when the
    /// center of mass may be straight below the choke.
    pub tip_leans: Bracket,
}

/// How the pole hangs from the choker of `rigging`.
///
/// # Errors [`RiggingError`] when a figure is out of range or the choke is not surely above the balance point.
pub fn hang(pole: &Pole, mass: &Mass, rigging: &Rigging) -> Result<Hang, RiggingError> {
    let choker_m = rigging.choker_from_butt_m;
    if !(choker_m > 0.0 && choker_m < pole.length_m) {
        return Err(RiggingError::OffThePole { choker_m, length_m: pole.length_m });
    }
    if !rigging.choker_face.is_finite() || rigging.choker_face.abs() > 1e6 {
        let got = rigging.choker_face;
        return Err(RiggingError::Number { what: "choker face", need: "an angle", got });
    }
    if !(rigging.diameter_m >= 0.0 && rigging.diameter_m < 1.0) {
        let got = rigging.diameter_m;
        return Err(RiggingError::Number { what: "diameter", need: "0 to 1 m", got });
    }
    let lever_m = Bracket::exactly(choker_m) - mass.balance_from_butt_m;
    if lever_m.low() <= 0.0 {
        return Err(RiggingError::BelowBalance { choker_m, balance_m: mass.balance_from_butt_m.high() });
    }
    // The sling pulls somewhere between the least radius there and the outside of a sling that lies on a corner.
    let face = pole::radius_m(pole, choker_m)?;
    let choke_offset_m = face.hull(Bracket::exactly(face.high() + rigging.diameter_m));
    let (sin, cos) = rigging.choker_face.sin_cos();
    let [facing, left] = mass.off_axis_m;
    // Components seen from the choked face: outward, and to its left.
    let across = [choke_offset_m - (facing * cos + left * sin), -(left * cos - facing * sin)];
    let offset_m = length_of(across);
    let tilt = |offset: f64, lever: f64| offset.atan2(lever);
    let tilt_rad = Bracket::exactly(tilt(offset_m.low(), lever_m.high()))
        .hull(Bracket::exactly(tilt(offset_m.high(), lever_m.low())))
        .widened(1e-12);
    // The choke settles plumb over the center of mass, so the tip leans the other way.
    let tip_leans = direction_of([-across[0], -across[1]]) + Bracket::exactly(rigging.choker_face);
    let tip_leans = tip_leans - Bracket::exactly((tip_leans.middle() / TAU).round() * TAU);
    Ok(Hang { tilt_rad, choke_offset_m, offset_m, lever_m, tip_leans })
}

/// The shortest and the longest vector in a box.
fn length_of([x, y]: [Bracket; 2]) -> Bracket {
    let least = |b: Bracket| if b.contains(0.0) { 0.0 } else { b.low().abs().min(b.high().abs()) };
    let most = |b: Bracket| b.low().abs().max(b.high().abs());
    Bracket::exactly(least(x).hypot(least(y))).hull(Bracket::exactly(most(x).hypot(most(y))))
}

/// The directions of the vectors in a box, radians; the full circle when the box holds zero.
fn direction_of([x, y]: [Bracket; 2]) -> Bracket {
    let middle = y.middle().atan2(x.middle());
    if x.contains(0.0) && y.contains(0.0) {
        return Bracket::exactly(middle).widened(PI);
    }
    let (sin, cos) = middle.sin_cos();
    let mut off = Bracket::exactly(0.0);
    for corner in [(x.low(), y.low()), (x.low(), y.high()), (x.high(), y.low()), (x.high(), y.high())] {
        // Angle of the corner's direction from the middle one, less than half a turn.
        let along = corner.0 * cos + corner.1 * sin;
        let left = corner.1 * cos - corner.0 * sin;
        off = off.hull(Bracket::exactly(left.atan2(along)));
    }
    off.widened(1e-12) + Bracket::exactly(middle)
}

/// The horizontal force, newtons, that holds the hanging pole at `tilt_rad` from plumb in its own leaning direction. It
/// acts at `held_from_butt_m` (0 at the butt); a tilt of 0 is plumb.
///
/// From moments about the choke. The same force pulls the load line sideways. `None` when the figures have no such
/// equilibrium.
pub fn hold_force_n(
    hang: &Hang,
    mass: &Mass,
    choker_from_butt_m: f64,
    held_from_butt_m: f64,
    tilt_rad: f64,
) -> Option<Bracket> {
    let (sin, cos) = tilt_rad.sin_cos();
    // Signed distance of the center of mass from the plumb line through the choke.
    let off = hang.offset_m * cos - hang.lever_m * sin;
    let below = choker_from_butt_m - held_from_butt_m;
    let least_drop = below * cos - (hang.choke_offset_m.high() * sin).abs();
    let most_drop = below * cos + (hang.choke_offset_m.high() * sin).abs();
    if !(least_drop > 0.0 && most_drop.is_finite() && cos > 0.0) {
        return None;
    }
    let arm = length_of([off, Bracket::exactly(0.0)]);
    let weight = mass.kg * GRAVITY_M_S2;
    Bracket::between(weight.low() * arm.low() / most_drop, weight.high() * arm.high() / least_drop)
}

/// The load on the hook while the butt rests on the ground, kg: `mass · balance / choker` at every tilt.
///
/// When the pole is so steep that the offset of the choke counts, the load rises to the whole mass. Never size anything
/// by this value.
pub fn hook_load_butt_grounded_kg(mass: &Mass, choker_from_butt_m: f64) -> Option<Bracket> {
    if choker_from_butt_m <= 0.0 {
        return None;
    }
    let (kg, balance) = (mass.kg, mass.balance_from_butt_m);
    let share = |z: f64| (z / choker_from_butt_m).clamp(0.0, 1.0);
    Bracket::between(kg.low() * share(balance.low()), kg.high() * share(balance.high()))
}

/// The load on the ground at the butt meanwhile, kg: the rest of the mass.
pub fn butt_reaction_kg(mass: &Mass, choker_from_butt_m: f64) -> Option<Bracket> {
    if choker_from_butt_m <= 0.0 {
        return None;
    }
    let (kg, balance) = (mass.kg, mass.balance_from_butt_m);
    let share = |z: f64| (1.0 - z / choker_from_butt_m).clamp(0.0, 1.0);
    Bracket::between(kg.low() * share(balance.high()), kg.high() * share(balance.low()))
}
