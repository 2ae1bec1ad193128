//! What comes too near to a wire, in words.

use super::{Words, show_length};
use crate::finding::{Approach, Bare, BodyClass, Bridge, WireGap, WiresGap};
use crate::quantity::show::{Round, Units};

const SPACING: &str = "common practice: held against the approach distance between the two potentials; the line's own spacing is \
                       the utility's to judge";

pub(super) fn words(fact: &Approach, units: Units) -> Words {
    match fact {
        Approach::Touch { gap } | Approach::Undecided { gap } | Approach::Short { gap } | Approach::Covered { gap } => {
            Words::new(message(fact, gap, units), fix(fact, gap, units), gap.rule.clone())
        }
        Approach::Bridges { bridge } => bridges(bridge, units),
        Approach::WiresMayMeet { gap } => Words::new(
            format!("{} At least {} must be left.", wires(gap, units), show_length(gap.least_m, units, Round::Up)),
            wires_fix(gap),
            SPACING,
        ),
        Approach::WiresNear { gap, covered } => {
            let cover = if *covered { " Both are covered there." } else { "" };
            let required = show_length(gap.required_m, units, Round::Up);
            let message = format!("{}{cover} The approach distance between the two is {required}.", wires(gap, units));
            Words::new(message, wires_fix(gap), SPACING)
        }
    }
}

fn wires(gap: &WiresGap, units: Units) -> String {
    let down = |m: f64| show_length(m.max(0.0), units, Round::Down);
    let WiresGap { wire, on_its_way, other, weather, low_m, allowance_m, .. } = gap;
    let doing = if *on_its_way { "on its way" } else { "held out" };
    format!(
        "Wire {wire}, {doing}, may come to {} from wire {other} ({weather}); less {} of movement of both that leaves {}.",
        down(*low_m),
        show_length(*allowance_m, units, Round::Up),
        down(low_m - allowance_m)
    )
}

fn wires_fix(WiresGap { wire, other, .. }: &WiresGap) -> String {
    format!("Hold {wire} elsewhere, hold {other} aside first, or cover both before {wire} is moved.")
}

fn missing(gap: &WireGap, units: Units) -> String {
    let left_m = gap.low_m - gap.allowance_m;
    show_length(gap.required_m.max(gap.residual_m) - left_m, units, Round::Up)
}

fn message(fact: &Approach, gap: &WireGap, units: Units) -> String {
    let (down, up) = (|m: f64| show_length(m, units, Round::Down), |m: f64| show_length(m, units, Round::Up));
    let WireGap { body, wire, weather, .. } = gap;
    let (near, allowance, required) = (down(gap.low_m), up(gap.allowance_m), up(gap.required_m));
    let missing = missing(gap, units);
    let short = format!(
        "{body} may come to {near} from wire {wire} ({weather}); less allowances of {allowance} that is {missing} short of the \
         {required} required"
    );
    match fact {
        Approach::Touch { .. } => format!(
            "{body} may touch wire {wire} ({weather}): gap {near} less allowances of {allowance} leaves {}; at least {} is wanted \
             even between covers.",
            down((gap.low_m - gap.allowance_m).max(0.0)),
            up(gap.residual_m)
        ),
        Approach::Undecided { .. } => {
            format!("The gap of {body} to wire {wire} ({weather}) could not be proven either way: {near} at least.")
        }
        Approach::Covered { .. } => {
            let covers = match gap.class {
                BodyClass::InsulatedLift | BodyClass::Worker => "the cover of the wire",
                _ => "the covers of both",
            };
            format!("{short}, and it rests on {covers}.")
        }
        _ => format!("{short}.{}", gap.bare.map_or("", not_excused)),
    }
}

fn not_excused(bare: Bare) -> &'static str {
    match (bare.body, bare.wire) {
        (true, true) => " Cover does not excuse it: bare pole comes too near, and the wire lies bare.",
        (true, false) => " Cover does not excuse it: a bare part of the pole comes too near.",
        (false, true) => " Cover does not excuse it: the wire lies bare there.",
        (false, false) => "",
    }
}

fn fix(fact: &Approach, gap: &WireGap, units: Units) -> String {
    let (wire, missing) = (&gap.wire, missing(gap, units));
    match (fact, gap.class, gap.bare) {
        (Approach::Covered { .. }, ..) => {
            "Keep the covers in place and brush contact out; a second person checks them.".to_owned()
        }
        (_, BodyClass::Lift, _) => format!(
            "Set the bucket truck up farther from {wire}, or bring its booms there another way: {missing} is missing."
        ),
        (Approach::Touch { .. }, BodyClass::InsulatedLift | BodyClass::Worker, _) => {
            format!("Bring the bucket to the work farther from {wire}: {missing} is missing.")
        }
        (Approach::Short { .. }, BodyClass::InsulatedLift | BodyClass::Worker, _) => {
            format!("Cover {wire} first, from where it alone is worked on, or keep {missing} farther from it.")
        }
        (Approach::Undecided { .. }, ..) => "Give the motion more room, or split the step.".to_owned(),
        (_, BodyClass::Load, Some(Bare { body: false, wire: true })) => {
            format!("Cover {wire} along the whole stretch that the pole comes near, or hold it {missing} farther out.")
        }
        (_, BodyClass::Load, _) => {
            format!("Hold {wire} at least {missing} farther out, or double cover: the pole and {wire} both.")
        }
        (_, BodyClass::NonConductiveRigging, _) => {
            format!("Choke higher, or hold {wire} {missing} farther out.")
        }
        _ if gap.hangs => format!(
            "Choke higher or use longer non-conductive rigging so that hook and wire rope stay above {wire}, or hold it {missing} \
             farther out."
        ),
        _ => format!(
            "Move the crane so that it works away from {wire}, boom up, or take a longer boom: {missing} is missing."
        ),
    }
}

fn bridges(bridge: &Bridge, units: Units) -> Words {
    let Bridge { body, second_body, class, wires: [one, other], weather, .. } = bridge;
    let what = match second_body {
        None => format!("{body} may bridge {one} and {other} ({weather}): its two gaps"),
        Some(second) => format!(
            "{body} and {second} conduct to one another and may bridge {one} and {other} ({weather}): the gaps of {body} to {one} \
             and of {second} to {other}"
        ),
    };
    let rests = match &bridge.rests_on {
        None => String::new(),
        Some(covered) => {
            let pole = if *class == BodyClass::Load { " and of the pole" } else { "" };
            format!(" It rests on the covers of {}{pole}.", covered.join(", "))
        }
    };
    let fix = match (class, second_body) {
        (_, Some(second)) => format!("Keep {body} farther from {one}, or {second} from {other}."),
        (BodyClass::Load, None) => format!("Hold {one} or {other} farther out, or cover both and the pole."),
        (BodyClass::Lift | BodyClass::InsulatedLift | BodyClass::Worker, None) => {
            format!("Cover {one} or {other} from a place that keeps away from both, or bring the bucket elsewhere.")
        }
        (BodyClass::Machine | BodyClass::NonConductiveRigging, None) => {
            format!("Keep it farther from {one} and {other}: move the crane, boom up, or choke higher.")
        }
    };
    let message = format!(
        "{what}, less allowances, add up to {}; the distance between the two is {}.{rests}",
        show_length(bridge.sum_m, units, Round::Down),
        show_length(bridge.required_m, units, Round::Up)
    );
    Words::new(message, fix, bridge.rule.clone())
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Approach> {
    let gap = |class, hangs, bare| {
        Box::new(WireGap {
            body: "pole".to_owned(),
            class,
            hangs,
            wire: "B".to_owned(),
            weather: "breeze".to_owned(),
            low_m: 0.5,
            allowance_m: 0.2,
            required_m: 0.7,
            residual_m: 0.1,
            bare,
            rule: "29 CFR 1910.269(l)(3)".to_owned(),
        })
    };
    let bridge = |class, second_body, rests_on| Approach::Bridges {
        bridge: Box::new(Bridge {
            body: "pole".to_owned(),
            second_body,
            class,
            wires: ["A".to_owned(), "B".to_owned()],
            weather: "breeze".to_owned(),
            sum_m: 0.5,
            required_m: 0.7,
            rests_on,
            rule: "29 CFR 1910.269(l)(3)".to_owned(),
        }),
    };
    let mut examples = Vec::new();
    for class in BodyClass::ALL {
        let bare = |body, wire| Some(Bare { body, wire });
        for bare in [None, bare(true, true), bare(true, false), bare(false, true), bare(false, false)] {
            examples.push(Approach::Short { gap: gap(class, true, bare) });
        }
        examples.push(Approach::Short { gap: gap(class, false, None) });
        examples.push(Approach::Touch { gap: gap(class, true, None) });
        examples.push(Approach::Undecided { gap: gap(class, true, None) });
        examples.push(Approach::Covered { gap: gap(class, true, None) });
        examples.push(bridge(class, None, None));
        examples.push(bridge(class, None, Some(vec!["A".to_owned()])));
        examples.push(bridge(class, Some("boom".to_owned()), None));
    }
    for on_its_way in [true, false] {
        let gap = || {
            Box::new(WiresGap {
                wire: "A".to_owned(),
                on_its_way,
                other: "B".to_owned(),
                weather: "breeze".to_owned(),
                low_m: 0.3,
                allowance_m: 0.1,
                least_m: 0.25,
                required_m: 0.68,
            })
        };
        examples.push(Approach::WiresMayMeet { gap: gap() });
        examples.extend([true, false].map(|covered| Approach::WiresNear { gap: gap(), covered }));
    }
    examples
}
