//! What the line rules ask of a crane and of a digger derrick: 29 CFR 1910.269, 1926 subpart V.

use super::LINE_RULES;
use crate::rules::gates::item::Status::{Memory, Verified};
use crate::rules::gates::item::{Item, item};
use crate::site::crew::Role::{
    Employer, Engineer, Foreman, GroundWorker, LineWorker, Observer, Operator, RegisteredEngineer, Rigger,
};

pub(super) const WHY_LINE_RULES: Item = item(
    LINE_RULES,
    "Why this work is under the line rules, so that the machine may leave the crane table's distance: who decided that, by which paper",
    "1926.950(a), 1926.959, 1926.1410(c)(2); 1910.269(p)(4)",
    Memory,
)
.by(&[Employer, Foreman, Engineer, RegisteredEngineer])
.before()
.document();

pub(super) static LINE_WORK: &[Item] = &[
    item(
        "employer_distance",
        "The employer has set the approach distances, no less than the tables give",
        "1910.269(l)(3)(i), (ii) [1926.960(c)(1)]",
        Verified,
    )
    .by(&[Employer, Foreman, Engineer, RegisteredEngineer])
    .before()
    .document()
    .standing(),
    item(
        "observer",
        "Someone other than the operator watches the approach distance and warns in time, or how the operator was shown to judge it himself",
        "1910.269(p)(4)(ii) [1926.959(d)(2)]",
        Memory,
    )
    .by(&[Observer])
    .not_also(&[Operator])
    .on_the_day()
    .except(&["1910.269(p)(4)(ii)", "1926.959(d)(2)"]),
];

/// The crane by line-work rules. A derrick at pole work says the same by `pole_work_only`.
pub(super) static CRANE_AT_LINE_WORK: &[Item] = &[WHY_LINE_RULES];

/// A digger derrick at pole work, besides the list of line work.
pub(super) static DIGGER_DERRICK: &[Item] = &[
    item(
        "pole_work_only",
        "The derrick augers holes for poles that carry electric or telecommunication lines, sets or removes such poles, handles what goes on or into them, or does other work of subpart V, and meets all of subpart V (1910.268 for telecommunication lines); anything else, or a crane in its place, is under the crane rules",
        "1926.1400(c)(4) as of 28 June 2013",
        Memory,
    )
    .by(&[Foreman, Employer]),
    item(
        "derrick_rating",
        "The pole's weight and every radius are within the derrick's chart and design limits; who reads the chart on the machine; guides and winch line are not added together",
        "1910.269(p)(1) [1926.959(a)]",
        Memory,
    )
    .by(&[Operator]),
    item(
        "pole_gloves",
        "In case the pole touches a phase: who guides the butt, with insulating gloves and sleeves rated for the voltage or with insulated tools, and what the pole wears",
        "1910.269(q)(1) [1926.964(a)]",
        Verified,
    )
    .by(&[LineWorker, GroundWorker, Rigger])
    .not_also(&[Operator, Observer])
    .contrary(&["bare hands", "bare handed", "leather gloves only", "work gloves only"]),
    item(
        "auger_people",
        "Nobody is within reach of the turning auger, under it while it is let down or stowed, or shovels spoil at it; who watches",
        "1910.269(p)(1), maker's manual; common practice",
        Memory,
    ),
    item(
        "auger_stowed",
        "The auger is stowed and latched, and its shift released, before the winch lifts",
        "maker's manual; common practice",
        Memory,
    ),
    item(
        "guides_and_winch",
        "Guides, their tilt, winch line, sheave and tip were looked over for this shift; whether the insulated tip has a dielectric test in date or counts as bare steel",
        "1910.269(p)(1) [1926.959(a)]; ANSI A10.31",
        Memory,
    )
    .by(&[Operator])
    .on_the_day(),
];
