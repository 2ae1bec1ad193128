//! What the crane table asks: 29 CFR 1926.1408.

use crate::rules::gates::item::Status::{Memory, Verified};
use crate::rules::gates::item::{Item, item};
use crate::site::Reason;
use crate::site::crew::Role::{Engineer, Operator, Owner, RegisteredEngineer};

pub(super) static CRANE_TABLE: &[Item] = &[
    item(
        "work_zone",
        "The work zone is marked so that the machine cannot pass its edge, or is the whole circle at the greatest radius",
        "1926.1408(a)(1)",
        Verified,
    ),
    item(
        "line_voltage",
        "The line's owner has stated the voltage by which Table A was read",
        "1926.1408(a)(2)(iii), (c)",
        Memory,
    )
    .by(&[Owner, Engineer, RegisteredEngineer])
    .before()
    .by_circuit(),
    item(
        "planning_meeting",
        "Operator and crew met to plan where the lines are and how the distance is kept",
        "1926.1408(b)(1)",
        Verified,
    )
    .by(&[Operator])
    .before(),
    item(
        "warning_line",
        "An elevated warning line, barricade or line of signs is in the operator's view at the distance, or a dedicated spotter where he cannot see it",
        "1926.1408(b)(3)",
        Verified,
    ),
    item(
        "further_measure",
        "One more of: proximity alarm, dedicated spotter, range warning, range limiter, insulating link; or by which exception none is due",
        "1926.1408(b)(4), (5)",
        Memory,
    )
    .except(&["1926.1408(b)(5)"]),
    item(
        "under_the_line",
        "Nothing of the machine or the load works under a live line, or which exception covers it",
        "1926.1408(d)",
        Memory,
    )
    .unless(&[Reason::NothingUnderTheLine])
    .except(&["1926.1408(d)(2)"]),
    item("line_training", "Operator and crew are trained for work near power lines", "1926.1408(g)", Memory)
        .by(&[Operator])
        .before()
        .document()
        .standing(),
];
