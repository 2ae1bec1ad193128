//! What working closer than the crane table by agreement asks: 29 CFR 1926.1410.

use super::AGREED_DISTANCE;
use crate::rules::gates::item::Status::{Memory, Verified};
use crate::rules::gates::item::{Item, item};
use crate::site::Reason;
use crate::site::crew::Role::{
    Employer, Engineer, Foreman, Observer, Operator, Owner, RegisteredEngineer, Rigger, Signal,
};
use crate::site::crew::Skill;

/// The reasons, the list of twelve (with `reclosing` and `tag_line` of the common list), the paper.
pub(super) static CLOSER: &[Item] = &[
    item("table_infeasible", "Why the work cannot be done at Table A's full distance", "1926.1410(a)", Verified)
        .by(&[Foreman, Employer, Engineer, RegisteredEngineer])
        .before()
        .document(),
    item(
        AGREED_DISTANCE,
        "Which least distance the line's owner or a registered engineer qualified in power lines set, and by which paper; for line work say so under line_rules",
        "1926.1410(c)(1), (c)(2)",
        Verified,
    )
    .by(&[Owner, RegisteredEngineer])
    .before()
    .by_circuit()
    .distance()
    .unless(&[Reason::LineWork]),
    item(
        "planning_meeting",
        "Employer and line owner (or the engineer) met and set the procedures against contact",
        "1926.1410(d)",
        Memory,
    )
    .by(&[Owner, RegisteredEngineer])
    .before()
    .document(),
    item(
        "observer",
        "A dedicated spotter with nothing else to do, a visual aid, and direct talk with the operator watches the distance; qualified as a signal person",
        "1926.1410(d)(2), 1401",
        Memory,
    )
    .by(&[Observer])
    .skilled(Skill::Signals)
    .not_also(&[Operator, Signal, Rigger])
    .on_the_day(),
    item(
        "warning_line",
        "An elevated warning line or barricade, not on the crane, in the operator's view, marks the distance",
        "1926.1410(d)(3)",
        Memory,
    )
    .unless(&[Reason::LineWork]),
    item(
        "insulating_link",
        "An insulating link between the hoist line's end and the load, or by which exception none is due",
        "1926.1410(d)(4)",
        Memory,
    )
    .except(&["1926.1410(d)(4)(ii)", "1926.1410(d)(4)(iii)", "1926.1410(d)(4)(iv)", "1926.1410(d)(4)(v)"]),
    item("rigging_nonconductive", "Rigging that may come near the line is non-conductive", "1926.1410(d)(5)", Memory),
    item(
        "range_limiter",
        "A range limiter keeps boom and load from passing the distance, where the crane has one",
        "1926.1410(d)(6)",
        Memory,
    )
    .unless(&[Reason::NoneFitted]),
    item("barricade", "Barricades keep people at least 10 ft from the equipment", "1926.1410(d)(8)", Verified),
    item(
        "hands_off",
        "Nobody touches the hoist line above the insulating link, nor the machine, other than the operator on it",
        "1926.1410(d)(9)",
        Memory,
    ),
    item("essential_people", "Only people essential to the lift are in the area", "1926.1410(d)(10)", Memory),
    item("grounded", "The crane is properly grounded: to what, by which lead", "1926.1410(d)(11)", Memory)
        .contrary(&["not grounded", "ungrounded", "without a ground"]),
    item(
        "line_cover",
        "Line hose or cover is on the line in the area of work, put on by the owner where it can be had",
        "1926.1410(d)(12)",
        Memory,
    )
    .unless(&[Reason::NoneForVoltage]),
    item("procedures_written", "The procedures are written down and on site", "1926.1410(e)", Memory).document(),
    item(
        "procedures_reviewed",
        "Owner and employer went through the procedures with operator and crew before work began",
        "1926.1410(f), (g)",
        Memory,
    )
    .by(&[Operator])
    .before(),
    item(
        "person_in_charge",
        "One person directs the procedures for owner and employers alike and can stop the work",
        "1926.1410(h)",
        Memory,
    )
    .by(&[Foreman, Owner, Employer]),
    item("line_training", "Operator and crew are trained for work near power lines", "1926.1410(m), 1408(g)", Memory)
        .by(&[Operator])
        .before()
        .document()
        .standing(),
];
