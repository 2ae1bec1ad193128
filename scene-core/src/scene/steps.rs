//! The steps: what each does, and in which order.

use super::fault::FaultKind;
use super::line::Wires;
use super::measure::{Measure, same_length};
use super::names::Names;
use super::pole::OnPole;
use super::pose::pose;
use super::tree::Tree;
use super::value::{List, Value};
use crate::bracket::Bracket;
use crate::machine::StandingLift;
use crate::quantity::show::{Round, Units, show_length};
use crate::quantity::{Angle, Duration, Length};
use crate::site::{self, Action};
use glam::DVec3;

/// What the steps refer to.
pub(super) struct Around<'n> {
    pub wires: &'n Wires<'n>,
    pub on_pole: &'n OnPole<'n>,
    /// Lengths that the crane's boom has.
    pub boom_m: Bracket,
    pub lifts: &'n [StandingLift],
}

pub(super) fn steps(list: &List<'_>, around: &Around<'_>) -> Vec<site::Step> {
    let read = |(i, step): (usize, &Value<'_>)| {
        step.fields("a step", |f| {
            let name = f.text("name");
            let (at, action) = action(&f.need("do"), around);
            let combined = f.may("combined").map(|value| value.flag());
            f.note();
            let start = matches!(action, Action::Start { .. });
            at.fault_if(i == 0 && !start, || FaultKind::StartNotFirst);
            at.fault_if(i > 0 && start, || FaultKind::StartAgain);
            site::Step { name, action, combined: combined.unwrap_or(false) }
        })
    };
    let steps = list.items.iter().enumerate().map(read).collect();
    list.named_once("the step");
    steps
}

const ACTIONS: &[&str] = &[
    "start",
    "take_load",
    "upend",
    "hoist_to",
    "lower_to",
    "swing_toward",
    "boom_to_radius",
    "boom_over",
    "carry",
    "extend",
    "turn",
    "dig",
    "into_guides",
    "hold",
    "work",
    "release",
    "boom_away",
    "bucket_to",
    "bucket_stow",
];

/// What a step does, and where that is said: the value in the brackets of `word( … )`.
fn action<'n>(value: &Value<'n>, around: &Around<'_>) -> (Value<'n>, Action) {
    let Some(word) = value.variant(ACTIONS) else { return (value.clone(), Action::Release) };
    let hole = around.wires.hole;
    let one = || value.one();
    let si = |at: &Value<'n>, low, high| at.measure::<Length>(low, high).si();
    let of_fields = |action: Action| (value.clone(), action);
    match word {
        "start" => of_fields(start(value, around)),
        "hoist_to" => with(one(), |at| Action::HoistTo { height_m: si(at, "-25 ft", "300 ft") }),
        "lower_to" => with(one(), |at| Action::LowerTo { height_m: si(at, "-25 ft", "300 ft") }),
        "swing_toward" => with(one(), |at| Action::SwingToward { point: spot(at, hole) }),
        "boom_to_radius" => with(one(), |at| Action::BoomToRadius { radius_m: si(at, "3 ft", "300 ft") }),
        "boom_over" => with(one(), |at| Action::BoomOver { point: spot(at, hole) }),
        "carry" => of_fields(value.fields("carrying the pole", |f| Action::Carry {
            point: spot(&f.need("point"), hole),
            height_m: f.si::<Length>("height", "0 ft", "300 ft"),
        })),
        "extend" => with(one(), |at| {
            let length = at.measure("10 ft", "300 ft");
            check_boom_length(&length, around.boom_m);
            Action::Extend { boom_length_m: length.si() }
        }),
        "turn" => with(one(), |at| Action::Turn { facing: at.measure::<Angle>("-360 deg", "360 deg").direction() }),
        "dig" => with(one(), |at| Action::Dig { depth_m: si(at, "1 ft", "25 ft") }),
        "into_guides" => with(one(), |at| {
            let height = at.measure::<Length>("1 ft", "130 ft");
            around.on_pole.check(at, height.said(), [height.si()]);
            Action::IntoGuides { from_butt_m: height.si() }
        }),
        "hold" => with(one(), |at| Action::Hold { question: at.text().to_owned() }),
        "work" => with(one(), |at| Action::Work { minutes: at.measure::<Duration>("0 s", "12 h").si() / 60.0 }),
        "boom_away" => of_fields(value.fields("booming away", |f| Action::BoomAway {
            point: spot(&f.need("point"), hole),
            hook_height_m: f.si::<Length>("hook_height", "0 ft", "300 ft"),
        })),
        "bucket_to" => of_fields(Action::BucketTo(pose(value, around))),
        "bucket_stow" => {
            let is_alone = matches!(value.node().map(|node| &node.tree), Some(Tree::Name(_)));
            let lift = (!is_alone).then(|| value.one());
            of_fields(Action::BucketStow { lift: around.lift(value, lift) })
        }
        _ => {
            value.alone();
            of_fields(match word {
                "take_load" => Action::TakeLoad,
                "upend" => Action::Upend,
                _ => Action::Release,
            })
        }
    }
}

fn with<'n>(at: Value<'n>, read: impl FnOnce(&Value<'n>) -> Action) -> (Value<'n>, Action) {
    let action = read(&at);
    (at, action)
}

impl Around<'_> {
    /// The lift that a step moves: the one that it names, or the only one.
    pub fn lift(&self, step: &Value<'_>, named: Option<Value<'_>>) -> usize {
        let missing = |field, of| step.fault(FaultKind::Missing { field, of });
        match (named, self.lifts) {
            (_, []) => missing("bucket_truck", "the scene"),
            (Some(named), lifts) => {
                let names = lifts.iter().filter_map(|lift| lift.name.as_deref());
                return Names::all("a bucket truck", names).find(&named).unwrap_or(0);
            }
            (None, [_]) => {}
            (None, _) => missing("lift", "a step that moves one of several trucks"),
        }
        0
    }
}

/// How the pole lies and the crane stands before anything moves.
fn start(value: &Value<'_>, around: &Around<'_>) -> Action {
    value.fields("the start", |f| {
        let (butt, tip_toward) = (f.at_point("butt"), f.point("tip_toward"));
        let boom_length = f.measure("boom_length", "10 ft", "300 ft");
        let toward = tip_toward.m();
        let same = same_length(butt.x, toward.x) && same_length(butt.y, toward.y);
        tip_toward.at.fault_if(same, || FaultKind::SamePoint);
        check_boom_length(&boom_length, around.boom_m);
        Action::Start { butt, tip_toward: toward, boom_length_m: boom_length.si() }
    })
}

/// A point, or the hole.
fn spot(value: &Value<'_>, hole: DVec3) -> DVec3 {
    match value.node().map(|node| &node.tree) {
        Some(Tree::Name(name)) if name == "hole" => hole,
        Some(Tree::Tuple { name: None, .. }) => value.point().m(),
        _ => {
            value.shape("hole, or a point (east, north, up)");
            hole
        }
    }
}

/// A boom length that the machine has.
fn check_boom_length(length: &Measure<'_, Length>, has: Bracket) {
    let known = has.high() > 0.0 && length.si().is_finite();
    length.at.fault_if(known && !has.widened(1e-9).contains(length.si()), || {
        let end = |m| show_length(m, Units::Us, Round::Nearest);
        let expected = format!("a boom length of the crane, {} to {}", end(has.low()), end(has.high()));
        FaultKind::BoomDisagrees { found: length.said(), expected }
    });
}
