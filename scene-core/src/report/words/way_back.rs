//! Ways back that are not proven, in words.

use super::{Words, show_length};
use crate::finding::{Blocked, Differs, WayBack};
use crate::quantity::show::{Round, Units};

pub(super) fn words(fact: &WayBack, units: Units) -> Words {
    match fact {
        WayBack::Ends { step } => Words::new(
            format!(
                "From \"{step}\" on there is neither a way back nor a lay-down path: the pole has been let go and stands, and \
                 nothing hangs on the hook."
            ),
            "",
            "common practice",
        ),
        WayBack::Blocked { blocked } => {
            let rule = if blocked.rule.is_empty() { "common practice" } else { &blocked.rule };
            Words::new(message(blocked, units), fix(blocked), rule)
        }
    }
}

fn message(blocked: &Blocked, units: Units) -> String {
    let up = |m: f64| show_length(m, units, Round::Up);
    let Blocked { body, wire, weather, low_m, allowance_m, required_m, passing, passing_name, .. } = blocked;
    let what = match blocked.bucket {
        false => "no way back with the pole, and so none to lay it down,",
        true => "no way for the bucket back to its rest, nor on to it as planned,",
    };
    let until = blocked.to_step.map_or(String::new(), |last| format!(" Nor from those after it, to step {last}."));
    let again = format!("step {passing} \"{passing_name}\" done backwards");
    let how = if blocked.undecided {
        format!("in {again} the gap of {body} to wire {wire} ({weather}) could not be proven")
    } else {
        format!(
            "in {again}, {body} may come to {} from wire {wire} ({weather}); less allowances of {} that is {} short of the {} \
             required",
            show_length(*low_m, units, Round::Down),
            up(*allowance_m),
            up(required_m - (low_m - allowance_m)),
            up(*required_m)
        )
    };
    format!("From here there is {what} as covers and wires are by then: {how}.{until}")
}

fn fix(blocked: &Blocked) -> String {
    let Blocked { wire, passing, .. } = blocked;
    let Some(Differs { pole_covers, wire_cover, wires_moved }) = blocked.differs else { return String::new() };
    let mut kept: Vec<String> = Vec::new();
    if pole_covers {
        kept.push("the pole's covers on".to_owned());
    }
    if wire_cover {
        kept.push(format!("the cover of {wire} on"));
    }
    if wires_moved {
        kept.push("every wire where it was".to_owned());
    }
    match kept.is_empty() {
        true => format!("See what is found of step {passing}."),
        false => format!("Keep {} as in step {passing} until there, or give it more room there.", kept.join(" and ")),
    }
}

#[cfg(test)]
pub(super) fn examples() -> Vec<WayBack> {
    let blocked = |undecided, to_step, differs| WayBack::Blocked {
        blocked: Box::new(Blocked {
            bucket: undecided,
            body: "pole".to_owned(),
            wire: "B".to_owned(),
            weather: "breeze".to_owned(),
            undecided,
            low_m: 0.4,
            allowance_m: 0.2,
            required_m: 0.7,
            passing: 6,
            passing_name: "Carry".to_owned(),
            to_step,
            differs,
            rule: String::new(),
        }),
    };
    let all = Differs { pole_covers: true, wire_cover: true, wires_moved: true };
    vec![
        WayBack::Ends { step: "Release".to_owned() },
        blocked(false, None, Some(Differs::default())),
        blocked(false, Some(9), Some(all)),
        blocked(true, Some(9), None),
    ]
}
