//! Choker heights that suit each way into the line.

use super::hang::hang;
use super::sling::{CHOKE_ABOVE_BALANCE_M, CHOKE_BAND_M};
use crate::bracket::Bracket;
use crate::pole::Mass;
use crate::site::{Crane, Pole, Rigging, RiggingMaterial};

/// Number of heights tried along the pole.
const OFFERED_STEPS: u32 = 1000;

/// The way in which the pole enters the line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WayIn {
    /// The whole pole passes down between the phases; the hook stays above them.
    OverTheTop,
    /// The butt stays under the line and the top rises between the phases; hook and boom head stay under them.
    FromBelow,
    /// The pole moves upright past a phase that is held out.
    Sideways,
}

/// The opening through which the pole passes the wires. Heights are world z, meters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slot {
    /// The ground at the hole.
    pub ground_m: f64,
    /// The highest of the wires, anywhere in its family of curves.
    pub highest_wire_m: Bracket,
    /// The lowest of the wires, anywhere in its family of curves.
    pub lowest_wire_m: Bracket,
    /// The narrowest horizontal distance between the wires on either side of the pole.
    pub opening_m: Bracket,
    /// The minimum approach distance (MAD) of what conducts.
    pub mad_m: f64,
    /// The sum of all allowances for a gap there: survey, placing, swing, line movement.
    pub allowance_m: f64,
    /// Height of the butt above the ground while the crane carries the pole.
    pub butt_lift_m: f64,
}

/// The choker heights for one way in that keep the hook block and wire rope out of the slot.
#[derive(Clone, Debug, PartialEq)]
pub struct ChokerOption {
    /// The way in.
    pub way: WayIn,
    /// Choker heights, meters from the butt; `None` when there are none.
    pub from_butt_m: Option<Bracket>,
    /// The reasons for the bounds, or why there are no heights.
    pub why: ChokerWhy,
}

/// What bounds the choker heights below and above, or why there are none. Lengths in meters; heights of the choke are
/// from the butt.
#[derive(Clone, Debug, PartialEq)]
pub enum ChokerWhy {
    /// Hook or wire rope stays over the highest wire with the pole at its depth.
    OverTheWires {
        /// True for wire rope from the choke up, false for the hook on non-conducting rigging.
        rope: bool,
        /// The least height of the choke.
        need_m: f64,
    },
    /// Everything above the choke stays under the lowest wire while the butt is carried above the ground.
    UnderTheWires {
        /// Height of rigging, block and boom head above the choke.
        above_choke_m: f64,
        /// Height of the butt above the ground.
        butt_lift_m: f64,
        /// The greatest height of the choke.
        limit_m: f64,
    },
    /// The opening takes the hook, so any height that hangs the pole butt-heavy will do.
    ThroughTheOpening {
        /// The least opening.
        opening_m: f64,
        /// The opening that hook and line need.
        hook_m: f64,
    },
    /// The opening does not take the hook, so the hook goes over the wires.
    OpeningTooNarrow {
        /// The least opening.
        opening_m: f64,
        /// The opening that hook and line need.
        hook_m: f64,
        /// The reason for the heights over the wires.
        over: Box<ChokerWhy>,
    },
    /// No height: a height of the pole is NaN or infinite.
    NotANumber,
    /// No height is above the balance point and below the choke's highest place.
    NoRoom {
        /// The least height that hangs the pole butt-heavy.
        least_m: f64,
        /// The choke's highest place.
        highest_m: f64,
    },
    /// No height is as high as the wires require.
    TooHigh {
        /// The height that the wires require.
        need_m: f64,
        /// The choke's highest place.
        highest_m: f64,
    },
    /// No height hangs the pole butt-heavy and stays under the wires.
    NoneUnderTheWires {
        /// The least height that hangs the pole butt-heavy.
        least_m: f64,
        /// The greatest height that stays under the wires.
        limit_m: f64,
    },
}

/// The choker heights for each way in.
///
/// They are where planning starts, not a proof: the check still proves the whole path.
pub fn choker_options(pole: &Pole, mass: &Mass, rigging: &Rigging, crane: &Crane, slot: &Slot) -> Vec<ChokerOption> {
    [WayIn::OverTheTop, WayIn::FromBelow, WayIn::Sideways]
        .map(|way| {
            let (from_butt_m, why) = match bounds(pole, mass) {
                Err(why) => (None, why),
                Ok(room) => match way {
                    WayIn::OverTheTop => above_the_wires(pole, mass, rigging, crane, slot, room),
                    WayIn::FromBelow => below_the_wires(rigging, crane, slot, room),
                    WayIn::Sideways => beside_the_wires(pole, mass, rigging, crane, slot, room),
                },
            };
            ChokerOption { way, from_butt_m, why }
        })
        .into()
}

/// Heights or the reason why there are none, and the reasons for the bounds.
type Offer = (Option<Bracket>, ChokerWhy);

/// Where a choker hangs the pole butt down, whatever the way in: clearly above the balance point, below the tip and below every
/// unlocked joint. `None` when there is no such height.
pub fn choker_room(pole: &Pole, mass: &Mass) -> Option<Bracket> {
    bounds(pole, mass).ok()
}

/// The heights clearly above the balance point, below the tip and below every unlocked joint.
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
    // A conducting sling counts from the choke up. A non-conducting one counts from the lowest point of the hook.
    let rope = rigging.material == RiggingMaterial::WireRope;
    let conducts_above_choke_m = if rope { 0.0 } else { rigging.length_m - crane.block.radius_m };
    let butt_m = slot.ground_m - pole.setting_depth_m;
    let need_m = slot.highest_wire_m.high() + slot.mad_m + slot.allowance_m - conducts_above_choke_m - butt_m;
    // The pole leans as it hangs, so its choke is lower than its distance along the axis.
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
    let limit_m =
        slot.lowest_wire_m.low() - slot.mad_m - slot.allowance_m - above_choke_m - slot.ground_m - slot.butt_lift_m;
    let offer = if limit_m >= room.low() { Bracket::between(room.low(), limit_m.min(room.high())) } else { None };
    let why = match offer {
        Some(_) => ChokerWhy::UnderTheWires { above_choke_m, butt_lift_m: slot.butt_lift_m, limit_m },
        None => ChokerWhy::NoneUnderTheWires { least_m: room.low(), limit_m },
    };
    (offer, why)
}

fn beside_the_wires(pole: &Pole, mass: &Mass, rigging: &Rigging, crane: &Crane, slot: &Slot, room: Bracket) -> Offer {
    let hook_m = 2.0 * (crane.block.radius_m.max(rigging.diameter_m) + slot.mad_m + slot.allowance_m);
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
