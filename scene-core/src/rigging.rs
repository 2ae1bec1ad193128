//! How the pole hangs from its choker: tilt, what the butt must be held with, what wind does, which choker height suits
//! the way of entering, and what is wrong with the rigging.
//!
//! The choker bears on one face, so the pole does not hang plumb: its centre of mass comes to rest under the choke.
//!
//! ```text
//!        | load line                     tilt = atan(offset / lever)
//!        |                               offset: from the choke to the line through the centre of mass, across the axis
//!   .----x choke                         lever:  from the balance point up to the choke, along the axis
//!   |   /|
//!   axis | lever
//!   | /  |
//!   o centre of mass, plumb under the choke
//! ```
//!
//! Not modelled: the pole as a beam (it is rigid), the sling slipping or rolling round the pole, gusts and swinging (the
//! load-swing allowance is for them), wind on hoist line and block, ice.

use crate::bracket::Bracket;
pub use crate::conductor::load::wind_pressure_pa;
use crate::finding::{self, Finding, Unit};
use crate::pole::{self, Mass, PoleError};
use crate::quantity::unit::{self, FOOT_M};
use crate::site::{Cover, CoverOn, Crane, Pole, Rigging, RiggingMaterial, Shell, Weather};
use std::f64::consts::{PI, TAU};
use thiserror::Error;

/// Standard gravity, m/s².
pub const GRAVITY_M_S2: f64 = unit::GRAVITY;

/// Drag of a pole in planning winds (textbook value for a cylinder below Reynolds 2·10⁵, from memory; the loading code's
/// 1.0 for round poles is lower).
pub const POLE_DRAG: f64 = 1.2;
/// Drag of hardware and covers: flat surfaces (NESC).
pub const ITEM_DRAG: f64 = 1.6;

/// The share of its rated CHOKER capacity that a sling has by angle of choke, degrees from … up to the next row's
/// (ASME B30.9, web and wire rope slings). The printed bands end at 119 and begin at 120, and some print "over 120": up
/// to and at 120 the lower band holds.
pub const CHOKE_FACTORS: [(f64, f64); 5] = [(0.0, 0.49), (30.0, 0.62), (60.0, 0.74), (90.0, 0.87), (120.0, 1.00)];

/// The choke should be this far above where the balance point may be at its highest (common practice: 1 to 3 ft carry a pole).
pub const CHOKE_ABOVE_BALANCE_M: f64 = FOOT_M;
/// Half the height of the band that the choke takes up on the pole, wraps and eye.
const CHOKE_BAND_M: f64 = FOOT_M / 2.0;
/// Rounding when a stated angle in degrees comes back from radians.
const ANGLE_ROUNDING_DEG: f64 = 1e-6;
/// Candidate heights along the pole when one is offered.
const OFFERED_STEPS: u32 = 1000;

/// How the pole hangs, nobody holding it, in still air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hang {
    /// Between the pole's axis and plumb.
    pub tilt_rad: Bracket,
    /// From the pole's axis to where the sling leaves the choke.
    pub choke_offset_m: Bracket,
    /// Across the axis, from the centre of mass to where the sling leaves the choke.
    pub offset_m: Bracket,
    /// Along the axis, from the balance point up to the choke.
    pub lever_m: Bracket,
    /// The way the tip leans, radians counter-clockwise from the way the pole faces: away from the choked face when
    /// nothing hangs to one side. Its middle is within half a turn of 0; it is 2π wide when
    /// the centre of mass may lie right under the choke.
    pub tip_leans: Bracket,
}

/// Why the pole cannot hang as planned.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum RiggingError {
    #[error(transparent)]
    Pole(#[from] PoleError),
    #[error("{what} of the rigging must be {need}, got {got}")]
    Number { what: &'static str, need: &'static str, got: f64 },
    #[error("the choker at {choker_m:.2} m is off the pole, which is {length_m:.2} m long")]
    OffThePole { choker_m: f64, length_m: f64 },
    #[error("the choker at {choker_m:.2} m is not above the balance point, which may be as high as {balance_m:.2} m")]
    BelowBalance { choker_m: f64, balance_m: f64 },
}

impl RiggingError {
    /// A pole that does not hang as planned stops the job.
    pub fn finding(&self) -> Finding {
        match *self {
            Self::Pole(ref error) => error.finding(),
            Self::Number { what, need, got } => finding::stop(finding::Rigging::Unusable { what, need, got }),
            Self::OffThePole { choker_m, length_m } => {
                let fact = finding::Rigging::ChokerOffPole { choker_m, pole_m: length_m };
                finding::stop(fact).measured(choker_m, length_m, Unit::Meter)
            }
            Self::BelowBalance { choker_m, balance_m } => {
                let choke_at_m = balance_m + CHOKE_ABOVE_BALANCE_M;
                let fact = finding::Rigging::ChokerBelowBalance { choker_m, balance_m, choke_at_m };
                finding::stop(fact).measured(choker_m, balance_m, Unit::Meter)
            }
        }
    }
}

// -------------------------------------------------------------------------------------------------------------- hanging

/// How the pole hangs from the choker of `rigging`.
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
    // The sling's pull is somewhere between the least radius there and the outside of a sling lying on a corner.
    let face = pole::radius_m(pole, choker_m)?;
    let choke_offset_m = face.hull(Bracket::exactly(face.high() + rigging.diameter_m));
    let (sin, cos) = rigging.choker_face.sin_cos();
    let [facing, left] = mass.off_axis_m;
    // Seen from the choked face: outward, and to its left.
    let across = [choke_offset_m - (facing * cos + left * sin), -(left * cos - facing * sin)];
    let offset_m = length_of(across);
    let tilt = |offset: f64, lever: f64| offset.atan2(lever);
    let tilt_rad = Bracket::exactly(tilt(offset_m.low(), lever_m.high()))
        .hull(Bracket::exactly(tilt(offset_m.high(), lever_m.low())))
        .widened(1e-12);
    // The choke comes to stand plumb over the centre of mass, so the tip leans the other way.
    let tip_leans = direction_of([-across[0], -across[1]]) + Bracket::exactly(rigging.choker_face);
    let tip_leans = tip_leans - Bracket::exactly((tip_leans.middle() / TAU).round() * TAU);
    Ok(Hang { tilt_rad, choke_offset_m, offset_m, lever_m, tip_leans })
}

/// Shortest and longest vector in a box.
fn length_of([x, y]: [Bracket; 2]) -> Bracket {
    let least = |b: Bracket| if b.contains(0.0) { 0.0 } else { b.low().abs().min(b.high().abs()) };
    let most = |b: Bracket| b.low().abs().max(b.high().abs());
    Bracket::exactly(least(x).hypot(least(y))).hull(Bracket::exactly(most(x).hypot(most(y))))
}

/// The directions of the vectors in a box; the whole circle when it holds zero.
fn direction_of([x, y]: [Bracket; 2]) -> Bracket {
    let middle = y.middle().atan2(x.middle());
    if x.contains(0.0) && y.contains(0.0) {
        return Bracket::exactly(middle).widened(PI);
    }
    let (sin, cos) = middle.sin_cos();
    let mut off = Bracket::exactly(0.0);
    for corner in [(x.low(), y.low()), (x.low(), y.high()), (x.high(), y.low()), (x.high(), y.high())] {
        // The corner's direction from the middle one, less than half a turn either way.
        let along = corner.0 * cos + corner.1 * sin;
        let left = corner.1 * cos - corner.0 * sin;
        off = off.hull(Bracket::exactly(left.atan2(along)));
    }
    off.widened(1e-12) + Bracket::exactly(middle)
}

/// The level force, N, at `held_from_butt_m` (the butt: 0) that holds the hanging pole at `tilt_rad` from plumb, leaning the
/// way it hangs by itself; 0 is plumb. Moments about the choke. Sideways pull on the load line comes with it.
pub fn hold_force_n(
    hang: &Hang,
    mass: &Mass,
    choker_from_butt_m: f64,
    held_from_butt_m: f64,
    tilt_rad: f64,
) -> Option<Bracket> {
    let (sin, cos) = tilt_rad.sin_cos();
    // How far the centre of mass stands off the plumb line through the choke, either way.
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

/// What the hook carries, kg, while the butt rests on the ground: `mass · balance / choker` at every tilt, until the pole is
/// so steep that the offset of the choke counts; then it climbs to the whole mass. Never size anything by it.
pub fn hook_load_butt_grounded_kg(mass: &Mass, choker_from_butt_m: f64) -> Option<Bracket> {
    if choker_from_butt_m <= 0.0 {
        return None;
    }
    let (kg, balance) = (mass.kg, mass.balance_from_butt_m);
    let share = |z: f64| (z / choker_from_butt_m).clamp(0.0, 1.0);
    Bracket::between(kg.low() * share(balance.low()), kg.high() * share(balance.high()))
}

/// What the ground carries at the butt meanwhile, kg: the rest.
pub fn butt_reaction_kg(mass: &Mass, choker_from_butt_m: f64) -> Option<Bracket> {
    if choker_from_butt_m <= 0.0 {
        return None;
    }
    let (kg, balance) = (mass.kg, mass.balance_from_butt_m);
    let share = |z: f64| (1.0 - z / choker_from_butt_m).clamp(0.0, 1.0);
    Bracket::between(kg.low() * share(balance.high()), kg.high() * share(balance.low()))
}

// ----------------------------------------------------------------------------------------------------------------- wind

/// What one weather does to the hanging pole, at most.
#[derive(Clone, Debug, PartialEq)]
pub struct WindLean {
    pub weather: String,
    pub pressure_pa: f64,
    /// On pole and items, from the side.
    pub force_n: f64,
    /// The load line leans by this, sideways over down: force over weight.
    pub line_ratio: f64,
    /// The pole leans by this about its choke, on top of how it hangs: where the wind presses is not where the weight pulls.
    pub pole_ratio: f64,
}

impl WindLean {
    /// How far a point may be shifted sideways, m: the choke hangs `below_sheave_m` under the sheave, the point is
    /// `from_choke_m` along the pole from the choke. It grows along the pole and is largest at its ends.
    pub fn shift_m(&self, below_sheave_m: f64, from_choke_m: f64) -> f64 {
        self.line_ratio * below_sheave_m.abs() + self.pole_ratio * from_choke_m.abs()
    }
}

/// The lean in each weather. Items count whole or, in the lee of the pole, not at all, whichever is worse.
pub fn wind_leans(
    pole: &Pole,
    mass: &Mass,
    rigging: &Rigging,
    weather: &[Weather],
) -> Result<Vec<WindLean>, RiggingError> {
    let hang = hang(pole, mass, rigging)?;
    let choker_m = rigging.choker_from_butt_m;
    let bare = pole::side_area_m2(pole, 0.0, pole.length_m)? * POLE_DRAG;
    let mut area = bare;
    let about_choke = bare * (choker_m - pole::side_centre_m(pole)?);
    let (mut one_way, mut other_way) = (about_choke.max(0.0), (-about_choke).max(0.0));
    for item in &pole.items {
        let radius = if item.radius_m.is_finite() { item.radius_m.abs() } else { 0.0 };
        let seen = (item.from.distance(item.to) + 2.0 * radius) * 2.0 * radius * ITEM_DRAG;
        area += seen;
        let lever = choker_m - (item.from.z + item.to.z) / 2.0;
        one_way += (seen * lever).max(0.0);
        other_way += (-seen * lever).max(0.0);
    }
    let weight_n = mass.kg.low() * GRAVITY_M_S2;
    let moment_area = one_way.max(other_way);
    weather
        .iter()
        .map(|case| {
            let pressure_pa = wind_pressure_pa(case.wind_m_s);
            let force_n = pressure_pa * area;
            let pole_ratio = pressure_pa * moment_area / (weight_n * hang.lever_m.low());
            let line_ratio = force_n / weight_n;
            if !(line_ratio.is_finite() && pole_ratio.is_finite()) {
                return Err(RiggingError::Number { what: "lean in the wind", need: "a number", got: line_ratio });
            }
            Ok(WindLean { weather: case.name.clone(), pressure_pa, force_n, line_ratio, pole_ratio })
        })
        .collect()
}

// ---------------------------------------------------------------------------------------------------------------- sling

/// The share of the rated choker capacity at this angle of choke; `None` outside 0 to 180 degrees.
pub fn choke_factor(choke_angle_rad: f64) -> Option<f64> {
    let degrees = choke_angle_rad.to_degrees();
    if !(0.0..=180.0 + ANGLE_ROUNDING_DEG).contains(&degrees) {
        return None;
    }
    // Only the top band begins beyond its printed start.
    let reached = |from: f64| {
        if from >= 120.0 { degrees > from + ANGLE_ROUNDING_DEG } else { degrees >= from - ANGLE_ROUNDING_DEG }
    };
    CHOKE_FACTORS.iter().rev().find(|(from, _)| reached(*from)).map(|(_, factor)| *factor)
}

/// What the sling may carry as it is choked, kg; `None` when its figures cannot be.
pub fn sling_capacity_kg(rigging: &Rigging) -> Option<f64> {
    let capacity = rigging.choker_capacity_kg;
    (capacity > 0.0 && capacity.is_finite()).then_some(())?;
    Some(choke_factor(rigging.choke_angle)? * capacity)
}

/// Tension in each leg over the load: `1 / (legs · sin(angle from horizontal))`; `None` when there is no leg or the angle
/// is not above zero and up to vertical.
pub fn leg_tension_ratio(legs: u32, angle_from_horizontal_rad: f64) -> Option<f64> {
    let upright = angle_from_horizontal_rad > 0.0 && angle_from_horizontal_rad <= PI / 2.0 + 1e-12;
    (legs > 0 && upright).then(|| 1.0 / (f64::from(legs) * angle_from_horizontal_rad.sin()))
}

// ------------------------------------------------------------------------------------------------------------- findings

/// What is wrong with the way the pole is rigged. A pole that does not hang at all gives that finding alone.
pub fn findings(pole: &Pole, covers: &[Cover], mass: &Mass, rigging: &Rigging) -> Vec<Finding> {
    let choker_m = rigging.choker_from_butt_m;
    let mut found = Vec::new();
    match hang(pole, mass, rigging) {
        Err(error) => found.push(error.finding()),
        Ok(hang) => {
            found.extend(near_balance(&hang, mass, choker_m));
            found.extend(tag_line(&hang, mass, rigging));
        }
    }
    for joint_m in
        pole.unlocked_joints_m.iter().filter(|joint_m| choker_m + CHOKE_BAND_M >= **joint_m || joint_m.is_nan())
    {
        let fact = finding::Rigging::ChokerAboveJoint { choker_m, joint_m: *joint_m };
        found.push(finding::stop(fact).measured(choker_m, *joint_m, Unit::Meter));
    }
    found.extend(on_something(pole, covers, choker_m));
    if matches!(pole.shell, Shell::SteelTube { .. }) && !rigging.stop_above_choke {
        found.push(finding::caution(finding::Rigging::NoStopAboveChoke));
    }
    found.extend(sling(mass, rigging));
    found
}

fn near_balance(hang: &Hang, mass: &Mass, choker_m: f64) -> Option<Finding> {
    (hang.lever_m.low() < CHOKE_ABOVE_BALANCE_M).then(|| {
        let balance_m = mass.balance_from_butt_m.high();
        let (tilt, choke_at_m) = (hang.tilt_rad.high(), balance_m + CHOKE_ABOVE_BALANCE_M);
        let fact = finding::Rigging::ChokerNearBalance { choker_m, balance_m, tilt, choke_at_m };
        finding::caution(fact).measured(hang.lever_m.low(), CHOKE_ABOVE_BALANCE_M, Unit::Meter)
    })
}

/// The butt must be held to bring the pole plumb over its hole.
fn tag_line(hang: &Hang, mass: &Mass, rigging: &Rigging) -> Option<Finding> {
    let need_n = hold_force_n(hang, mass, rigging.choker_from_butt_m, 0.0, 0.0)?.high();
    match rigging.tag_line_hold_n {
        None => Some(finding::stop(finding::Rigging::TagLineNotStated { need_n })),
        Some(hold_n) if hold_n < need_n || hold_n.is_nan() => {
            let fact = finding::Rigging::TagLineShort { need_n, hold_n };
            Some(finding::stop(fact).measured(need_n, hold_n, Unit::Newton))
        }
        Some(_) => None,
    }
}

fn on_something(pole: &Pole, covers: &[Cover], choker_m: f64) -> Vec<Finding> {
    let band = Bracket::exactly(choker_m).widened(CHOKE_BAND_M);
    let on_cover = covers.iter().filter_map(|cover| match cover.on {
        CoverOn::Pole { from_butt_m } => Some((&cover.name, from_butt_m)),
        CoverOn::Wire { .. } => None,
    });
    let on_item = pole.items.iter().map(|item| {
        let height = Bracket::exactly(item.from.z).hull(Bracket::exactly(item.to.z));
        (&item.name, height.widened(item.radius_m))
    });
    on_cover
        .chain(on_item)
        .filter(|(_, height)| height.within(band).is_some())
        .map(|(name, height)| {
            let (from_m, to_m) = (height.low(), height.high());
            let end_m = if choker_m < height.middle() { from_m } else { to_m };
            let fact = finding::Rigging::ChokerOnCover { choker_m, on: name.clone(), from_m, to_m };
            finding::stop(fact).measured(choker_m, end_m, Unit::Meter)
        })
        .collect()
}

fn sling(mass: &Mass, rigging: &Rigging) -> Vec<Finding> {
    let mut found = Vec::new();
    let Some(capacity) = sling_capacity_kg(rigging) else {
        let (what, need, got) = match choke_factor(rigging.choke_angle) {
            None => ("angle of choke", "0 to 180 degrees", rigging.choke_angle.to_degrees()),
            Some(_) => ("rated choker capacity", "above zero", rigging.choker_capacity_kg),
        };
        return vec![RiggingError::Number { what, need, got }.finding()];
    };
    let load = mass.kg.high();
    if load > capacity {
        let fact = finding::Rigging::SlingBelowLoad { sling_kg: capacity, load_kg: load };
        found.push(finding::stop(fact).measured(load, capacity, Unit::Kilogram));
    }
    if rigging.material == RiggingMaterial::WireRope {
        found.push(finding::caution(finding::Rigging::Conducts));
    }
    found
}

// ------------------------------------------------------------------------------------------------------- choker heights

/// How the pole enters the line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// The whole pole passes down between the phases, hook above them.
    OverTheTop,
    /// Butt under the line, the top comes up between the phases, hook and boom head stay under them.
    FromBelow,
    /// Upright past a phase that is held out.
    Sideways,
}

/// The place where the pole passes the wires; heights as z of the world, metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slot {
    /// The ground at the hole.
    pub ground_m: f64,
    pub highest_wire_m: Bracket,
    pub lowest_wire_m: Bracket,
    /// The narrowest sideways opening between the wires that the pole stands between.
    pub opening_m: Bracket,
    pub required_m: f64,
    /// All that is subtracted from a gap there: survey, placing, swing, line movement.
    pub allowance_m: f64,
    /// How high the butt is carried over the ground.
    pub butt_lift_m: f64,
}

/// Choker heights that keep hook block and wire rope out of the slot for one way of entering.
#[derive(Clone, Debug, PartialEq)]
pub struct ChokerOption {
    pub way: Way,
    /// `None` where there are none.
    pub from_butt_m: Option<Bracket>,
    pub why: ChokerWhy,
}

/// What bounds the choker's heights below and above, or why there are none. Metres, from the butt where they are heights of
/// the choke.
#[derive(Clone, Debug, PartialEq)]
pub enum ChokerWhy {
    /// Over the highest wire with the pole at its depth, the hook or the wire rope from the choke up.
    OverTheWires { rope: bool, need_m: f64 },
    /// What is above the choke stays under the lowest wire, the butt carried so high.
    UnderTheWires { above_choke_m: f64, butt_lift_m: f64, limit_m: f64 },
    /// The opening takes the hook: any height that hangs butt-heavy.
    ThroughTheOpening { opening_m: f64, hook_m: f64 },
    /// The opening does not take the hook, so that it goes over the wires.
    OpeningTooNarrow { opening_m: f64, hook_m: f64, over: Box<ChokerWhy> },
    /// No height: the pole's own are not numbers.
    NotANumber,
    /// No height is above balance and below the choke's highest place.
    NoRoom { least_m: f64, highest_m: f64 },
    /// No height is as far up as the wires ask for.
    TooHigh { need_m: f64, highest_m: f64 },
    /// No height hangs butt-heavy and stays under the wires.
    NoneUnderTheWires { least_m: f64, limit_m: f64 },
}

/// Heights offered for each way. An offer is where to start planning, not a proof: the approach check still goes over the path.
pub fn choker_options(pole: &Pole, mass: &Mass, rigging: &Rigging, crane: &Crane, slot: &Slot) -> Vec<ChokerOption> {
    [Way::OverTheTop, Way::FromBelow, Way::Sideways]
        .map(|way| {
            let (from_butt_m, why) = match bounds(pole, mass) {
                Err(why) => (None, why),
                Ok(room) => match way {
                    Way::OverTheTop => above_the_wires(pole, mass, rigging, crane, slot, room),
                    Way::FromBelow => below_the_wires(rigging, crane, slot, room),
                    Way::Sideways => beside_the_wires(pole, mass, rigging, crane, slot, room),
                },
            };
            ChokerOption { way, from_butt_m, why }
        })
        .into()
}

type Offer = (Option<Bracket>, ChokerWhy);

/// Clearly above balance, below the tip and below every unlocked joint.
fn bounds(pole: &Pole, mass: &Mass) -> Result<Bracket, ChokerWhy> {
    let low = mass.balance_from_butt_m.high() + CHOKE_ABOVE_BALANCE_M;
    let top = pole.unlocked_joints_m.iter().copied().fold(pole.length_m, f64::min);
    let high = top - 2.0 * CHOKE_BAND_M;
    if low <= high {
        Bracket::between(low, high).ok_or(ChokerWhy::NotANumber)
    } else {
        Err(ChokerWhy::NoRoom { least_m: low, highest_m: high })
    }
}

fn above_the_wires(pole: &Pole, mass: &Mass, rigging: &Rigging, crane: &Crane, slot: &Slot, room: Bracket) -> Offer {
    // With rope or hook at the choke's own height when the sling conducts, at the hook's lowest when it does not.
    let rope = rigging.material == RiggingMaterial::WireRope;
    let conducts_above_choke_m = if rope { 0.0 } else { rigging.length_m - crane.block.radius_m };
    let butt_m = slot.ground_m - pole.setting_depth_m;
    let need_m = slot.highest_wire_m.high() + slot.required_m + slot.allowance_m - conducts_above_choke_m - butt_m;
    // As it hangs, the leaning pole's choke is lower than along the axis.
    let high_enough = |choker_m: f64| {
        let placed = Rigging { choker_from_butt_m: choker_m, ..rigging.clone() };
        hang(pole, mass, &placed).is_ok_and(|hang| choker_m * hang.tilt_rad.high().cos() >= need_m)
    };
    let lowest = (0..=OFFERED_STEPS)
        .rev()
        .map(|i| room.at(f64::from(i) / f64::from(OFFERED_STEPS)))
        .take_while(|choker_m| high_enough(*choker_m))
        .last();
    match lowest.and_then(|low| Bracket::between(low, room.high())) {
        Some(heights) => (Some(heights), ChokerWhy::OverTheWires { rope, need_m }),
        None => (None, ChokerWhy::TooHigh { need_m, highest_m: room.high() }),
    }
}

fn below_the_wires(rigging: &Rigging, crane: &Crane, slot: &Slot, room: Bracket) -> Offer {
    let above_choke_m = rigging.length_m + crane.block.length_m + crane.two_block_m + crane.head.radius_m;
    let limit_m = slot.lowest_wire_m.low()
        - slot.required_m
        - slot.allowance_m
        - above_choke_m
        - slot.ground_m
        - slot.butt_lift_m;
    let offer = if limit_m >= room.low() { Bracket::between(room.low(), limit_m.min(room.high())) } else { None };
    let why = match offer {
        Some(_) => ChokerWhy::UnderTheWires { above_choke_m, butt_lift_m: slot.butt_lift_m, limit_m },
        None => ChokerWhy::NoneUnderTheWires { least_m: room.low(), limit_m },
    };
    (offer, why)
}

fn beside_the_wires(pole: &Pole, mass: &Mass, rigging: &Rigging, crane: &Crane, slot: &Slot, room: Bracket) -> Offer {
    let hook_m = 2.0 * (crane.block.radius_m.max(rigging.diameter_m) + slot.required_m + slot.allowance_m);
    let opening_m = slot.opening_m.low();
    if opening_m >= hook_m {
        return (Some(room), ChokerWhy::ThroughTheOpening { opening_m, hook_m });
    }
    match above_the_wires(pole, mass, rigging, crane, slot, room) {
        (Some(heights), over) => {
            (Some(heights), ChokerWhy::OpeningTooNarrow { opening_m, hook_m, over: Box::new(over) })
        }
        none => none,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::Grade;
    use crate::fixtures::site::{self as fixtures, range as span};
    use crate::site::{BoomHead, CoverMake, During, HookBlock, MakerMass, Method, PoleItem, Sides, TubeSection};
    use glam::dvec3;
    use proptest::prelude::*;

    /// 16 m of 12-sided tube that balances at 7 m.
    fn pole() -> Pole {
        let section = TubeSection { length_m: 16.0, bottom_m: 0.40, top_m: 0.22, wall_m: 0.006, lap_m: 0.0 };
        let shell = Shell::SteelTube { sides: Sides::Twelve, sections: vec![section] };
        Pole {
            maker: Some(MakerMass { mass_kg: 750.0, balance_from_butt_m: 7.0 }),
            setting_depth_m: 2.2,
            ..fixtures::pole(16.0, shell)
        }
    }

    fn rigging(choker_m: f64) -> Rigging {
        Rigging {
            choker_from_butt_m: choker_m,
            mass_kg: 8.0,
            choker_capacity_kg: 2000.0,
            choke_angle: 135f64.to_radians(),
            material: RiggingMaterial::NonConductive,
            tag_line_hold_n: Some(400.0),
            ..fixtures::rigging()
        }
    }

    fn crane() -> Crane {
        Crane {
            head: BoomHead { along_m: 0.0, below_m: 0.4, sheave_radius_m: 0.2, radius_m: 0.5 },
            block: HookBlock { length_m: 0.8, radius_m: 0.3, mass_kg: 150.0, capacity_kg: 9000.0 },
            two_block_m: 1.2,
            ..fixtures::crane()
        }
    }

    fn slot() -> Slot {
        Slot {
            ground_m: 0.0,
            highest_wire_m: span(9.5, 9.8),
            lowest_wire_m: span(9.3, 9.6),
            opening_m: span(1.0, 1.2),
            required_m: 0.7,
            allowance_m: 0.3,
            butt_lift_m: 0.5,
        }
    }

    fn codes(pole: &Pole, rigging: &Rigging) -> Vec<(Grade, &'static str)> {
        let mass = pole::mass(pole, &[]).unwrap();
        findings(pole, &[], &mass, rigging).iter().map(|f| (f.grade, f.code())).collect()
    }

    #[test]
    fn a_well_placed_choker_gives_no_finding() {
        assert_eq!(codes(&pole(), &rigging(9.0)), []);
    }

    #[test]
    fn a_choker_below_the_balance_point_is_a_stop() {
        for choker_m in [3.0, 6.9, 7.0] {
            assert!(
                codes(&pole(), &rigging(choker_m)).contains(&(Grade::Stop, "choker_below_balance")),
                "at {choker_m} m"
            );
        }
        let mut unsure = pole();
        unsure.maker = None;
        let balance = pole::mass(&unsure, &[]).unwrap().balance_from_butt_m;
        let within = rigging(balance.at(0.9));
        assert!(codes(&unsure, &within).contains(&(Grade::Stop, "choker_below_balance")), "inside the bracket");
    }

    #[test]
    fn a_choker_just_above_the_balance_point_is_a_caution() {
        assert!(codes(&pole(), &rigging(7.2)).contains(&(Grade::Caution, "choker_near_balance")));
        assert!(!codes(&pole(), &rigging(7.4)).iter().any(|c| c.1 == "choker_near_balance"));
    }

    #[test]
    fn a_choker_above_an_unlocked_joint_is_a_stop() {
        let mut jointed = pole();
        jointed.unlocked_joints_m = vec![8.5];
        assert_eq!(codes(&jointed, &rigging(9.0)), [(Grade::Stop, "choker_above_unlocked_joint")]);
        assert_eq!(codes(&jointed, &rigging(8.2)), []);
    }

    #[test]
    fn a_choker_on_cover_or_hardware_is_a_stop() {
        let mut framed = pole();
        let (from, to) = (dvec3(0.2, 0.0, 8.6), dvec3(0.2, 0.0, 8.8));
        framed.items.push(PoleItem { name: "bracket".into(), mass_kg: 10.0, from, to, radius_m: 0.06 });
        assert!(codes(&framed, &rigging(9.0)).contains(&(Grade::Stop, "choker_on_cover")));
        assert!(!codes(&framed, &rigging(9.3)).iter().any(|c| c.1 == "choker_on_cover"));
        let cover = Cover {
            name: "pole cover".into(),
            on: CoverOn::Pole { from_butt_m: span(9.1, 12.0) },
            make: CoverMake::Plastic { class: 4 },
            piece_length_m: 1.8,
            overlap_m: 0.15,
            mass_kg: None,
            method: Method::Gloves,
            during: During { on_after_step: None, off_before_step: None },
        };
        let mass = pole::mass(&pole(), &[]).unwrap();
        let found = findings(&pole(), &[cover], &mass, &rigging(9.0));
        assert_eq!(found.iter().map(|f| f.code()).collect::<Vec<_>>(), ["choker_on_cover"]);
    }

    #[test]
    fn smooth_tube_without_a_stop_above_the_choke_is_a_caution() {
        let bare = Rigging { stop_above_choke: false, ..rigging(9.0) };
        assert_eq!(codes(&pole(), &bare), [(Grade::Caution, "no_stop_above_choke")]);
    }

    #[test]
    fn a_tight_choke_can_take_the_sling_below_its_load() {
        let sling = |choke_deg: f64| Rigging {
            choker_capacity_kg: 1000.0,
            choke_angle: choke_deg.to_radians(),
            ..rigging(9.0)
        };
        assert_eq!(codes(&pole(), &sling(95.0)), []);
        assert_eq!(codes(&pole(), &sling(70.0)), [(Grade::Stop, "sling_below_load")]);
        assert_eq!(codes(&pole(), &sling(f64::NAN)), [(Grade::Stop, "rigging_unusable")]);
    }

    #[test]
    fn the_butt_must_be_held_with_what_it_takes() {
        let held = |hold| codes(&pole(), &Rigging { tag_line_hold_n: hold, ..rigging(9.0) });
        assert_eq!(held(None), [(Grade::Stop, "tag_line_hold_not_stated")]);
        assert_eq!(held(Some(100.0)), [(Grade::Stop, "tag_line_hold_short")]);
        assert_eq!(held(Some(f64::NAN)), [(Grade::Stop, "tag_line_hold_short")]);
        // 750 kg with the choke at most 0.19 m off axis, 9 m above the butt.
        assert_eq!(held(Some(160.0)), []);
    }

    #[test]
    fn the_tip_leans_away_from_the_choked_face() {
        let mass = pole::mass(&pole(), &[]).unwrap();
        let toward =
            |face: f64| hang(&pole(), &mass, &Rigging { choker_face: face, ..rigging(9.0) }).unwrap().tip_leans;
        assert!(toward(0.0).contains(PI) || toward(0.0).contains(-PI));
        assert!(toward(1.0).contains(1.0 - PI));
        assert!(toward(1.0).width() < 1e-6);
    }

    #[test]
    fn a_heavy_arm_opposite_the_choke_leans_the_pole_more() {
        let lone = pole::mass(&pole(), &[]).unwrap();
        let mut armed = pole();
        let at = dvec3(-0.9, 0.0, 7.0);
        armed.items.push(PoleItem { name: "arm".into(), mass_kg: 80.0, from: at, to: at, radius_m: 0.05 });
        let with = pole::mass(&armed, &[]).unwrap();
        let plain = hang(&pole(), &lone, &rigging(9.0)).unwrap();
        let leaning = hang(&armed, &with, &rigging(9.0)).unwrap();
        let moved = 0.9 * 80.0 / 830.0;
        assert!((leaning.offset_m.middle() - plain.offset_m.middle() - moved).abs() < 1e-6);
        // On the choked side it may hang straighter than bare, or even the other way.
        let facing = Rigging { choker_face: PI, ..rigging(9.0) };
        assert!(hang(&armed, &with, &facing).unwrap().tilt_rad.high() < plain.tilt_rad.low());
    }

    #[test]
    fn wind_on_the_pole_away_from_the_choke_turns_it() {
        let mass = pole::mass(&pole(), &[]).unwrap();
        let cases = [0.0, 9.0].map(|wind_m_s| Weather { name: format!("{wind_m_s}"), wind_m_s });
        let leans = wind_leans(&pole(), &mass, &rigging(9.0), &cases).unwrap();
        assert_eq!((leans[0].line_ratio, leans[0].pole_ratio), (0.0, 0.0));
        let [still, windy] = [&leans[0], &leans[1]];
        assert_eq!(still.shift_m(10.0, 8.0), 0.0);
        let area = pole::side_area_m2(&pole(), 0.0, 16.0).unwrap();
        assert!((windy.force_n - 1.2 * area * windy.pressure_pa).abs() < 1e-9);
        assert!((windy.line_ratio - windy.force_n / (750.0 * GRAVITY_M_S2)).abs() < 1e-9);
        let lever = 9.0 - pole::side_centre_m(&pole()).unwrap();
        assert!((windy.pole_ratio - windy.line_ratio * lever / 2.0).abs() < 1e-9);
        assert!(windy.shift_m(10.0, 9.0) > windy.shift_m(10.0, 7.0));
    }

    #[test]
    fn over_the_top_the_hook_stays_above_the_highest_wire() {
        let mass = pole::mass(&pole(), &[]).unwrap();
        let options = choker_options(&pole(), &mass, &rigging(9.0), &crane(), &slot());
        let over = options[0].from_butt_m.unwrap();
        // Highest wire 9.8 + required 0.7 + allowance 0.3, hook 1.2 above the choke, butt 2.2 m down: 11.8 m.
        let tilt = hang(&pole(), &mass, &rigging(over.low())).unwrap().tilt_rad.high();
        assert!(over.low() >= 11.8 && over.low() < 11.9 && over.high() < 16.0);
        assert!(over.low() * tilt.cos() >= 11.8 - 1e-9);
        let wire_rope = Rigging { material: RiggingMaterial::WireRope, ..rigging(9.0) };
        let over = choker_options(&pole(), &mass, &wire_rope, &crane(), &slot())[0].from_butt_m.unwrap();
        assert!(over.low() >= 13.0);
    }

    #[test]
    fn over_the_top_is_impossible_when_the_pole_is_too_short_for_it() {
        let mass = pole::mass(&pole(), &[]).unwrap();
        let high = Slot { highest_wire_m: span(14.0, 14.4), ..slot() };
        let options = choker_options(&pole(), &mass, &rigging(9.0), &crane(), &high);
        assert!(options[0].from_butt_m.is_none());
    }

    #[test]
    fn from_below_boom_head_and_hook_stay_under_the_lowest_wire() {
        let mass = pole::mass(&pole(), &[]).unwrap();
        let below = |lowest_m: f64| {
            let slot = Slot { lowest_wire_m: span(lowest_m, lowest_m), ..slot() };
            choker_options(&pole(), &mass, &rigging(9.0), &crane(), &slot)[1].from_butt_m
        };
        // Rigging 1.5, block 0.8, two-block 1.2, head 0.5, required 0.7, allowance 0.3, butt carried 0.5: 5.5 m.
        let room = below(14.0).unwrap();
        assert!((room.high() - 8.5).abs() < 1e-9 && (room.low() - 7.0 - CHOKE_ABOVE_BALANCE_M).abs() < 1e-6);
        assert!(below(12.5).is_none());
    }

    #[test]
    fn sideways_a_wide_opening_takes_the_hook_at_any_height() {
        let mass = pole::mass(&pole(), &[]).unwrap();
        let sideways = |opening_m: f64| {
            let slot = Slot { opening_m: span(opening_m, 9.0), ..slot() };
            choker_options(&pole(), &mass, &rigging(9.0), &crane(), &slot)[2].from_butt_m.unwrap()
        };
        assert!(sideways(2.6).low() < 7.4);
        assert!(sideways(2.5).low() > 11.8, "a narrow one keeps the hook above the wires");
    }

    proptest! {
        #[test]
        fn raising_the_choker_hangs_the_pole_straighter(choker_m in 7.1..15.0f64, by in 0.05..0.9f64) {
            let mass = pole::mass(&pole(), &[]).unwrap();
            let low = hang(&pole(), &mass, &rigging(choker_m)).unwrap();
            let high = hang(&pole(), &mass, &rigging(choker_m + by)).unwrap();
            prop_assert!(high.tilt_rad.high() < low.tilt_rad.high());
        }

        #[test]
        fn any_true_pole_hangs_within_the_bracket(f in 0.0..=1.0f64, g in 0.0..=1.0f64, h in 0.0..=1.0f64, face in -7.0..7.0f64, x in -1.0..1.0f64) {
            let mut armed = pole();
            armed.maker = None;
            let (from, to) = (dvec3(x, -0.3, 12.0), dvec3(x, 0.4, 12.5));
            armed.items.push(PoleItem { name: "arm".into(), mass_kg: 60.0, from, to, radius_m: 0.05 });
            let mass = pole::mass(&armed, &[]).unwrap();
            let placed = Rigging { choker_face: face, ..rigging(10.0) };
            let hang = hang(&armed, &mass, &placed).unwrap();
            let centre = dvec3(mass.off_axis_m[0].at(f), mass.off_axis_m[1].at(g), mass.balance_from_butt_m.at(h));
            let radius = hang.choke_offset_m.at(g);
            let choke = dvec3(radius * face.cos(), radius * face.sin(), 10.0);
            let up = (choke - centre).normalize();
            prop_assert!(hang.tilt_rad.contains(up.z.acos()), "{} in {:?}", up.z.acos(), hang.tilt_rad);
            let lean = f64::atan2(-up.y, -up.x);
            let turns = [-4.0, -2.0, 0.0, 2.0, 4.0].map(|t| lean + t * PI);
            prop_assert!(turns.iter().any(|t| hang.tip_leans.contains(*t)), "{lean} in {:?}", hang.tip_leans);
        }

        #[test]
        fn the_hold_needed_is_none_at_the_tilt_it_hangs_at_and_most_when_plumb(choker_m in 7.5..15.0f64, share in 0.0..1.0f64) {
            let mass = pole::mass(&pole(), &[]).unwrap();
            let hang = hang(&pole(), &mass, &rigging(choker_m)).unwrap();
            let force = |tilt: f64| hold_force_n(&hang, &mass, choker_m, 0.0, tilt).unwrap();
            prop_assert!(force(hang.tilt_rad.middle()).low() <= 1e-9);
            prop_assert!(force(hang.tilt_rad.low() * share).high() <= force(0.0).high() + 1e-9);
        }

        #[test]
        fn no_figure_makes_it_panic(v in prop::array::uniform10(any::<f64>())) {
            let mass = pole::mass(&pole(), &[]).unwrap();
            let wild = Rigging {
                choker_from_butt_m: v[0], choker_face: v[1], length_m: v[2], diameter_m: v[3], mass_kg: v[4],
                choker_capacity_kg: v[5], choke_angle: v[6], tag_line_hold_n: Some(v[7]), ..rigging(9.0)
            };
            for rigging in [wild, Rigging { choker_face: v[1], ..rigging(9.0) }] {
                let weather = [Weather { name: String::new(), wind_m_s: v[8] }];
                let _ = (findings(&pole(), &[], &mass, &rigging), wind_leans(&pole(), &mass, &rigging, &weather));
                let slot = Slot { ground_m: v[8], required_m: v[9], allowance_m: v[7], ..slot() };
                let _ = choker_options(&pole(), &mass, &rigging, &crane(), &slot);
                let _ = (hook_load_butt_grounded_kg(&mass, v[0]), butt_reaction_kg(&mass, v[0]), leg_tension_ratio(2, v[6]));
            }
        }
    }
}
