//! Choker heights that suit the ways of entering the line.

use super::hang::hang;
use super::sling::{CHOKE_ABOVE_BALANCE_M, CHOKE_BAND_M};
use crate::bracket::Bracket;
use crate::pole::Mass;
use crate::site::{Crane, Pole, Rigging, RiggingMaterial};

/// Candidate heights along the pole when one is offered.
const OFFERED_STEPS: u32 = 1000;

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
