//! The list that comes with each route of work.

use super::item::Status::{Memory, Verified};
use super::item::{Item, item};
use crate::site::crew::Role::{
    Employer, Engineer, Foreman, GroundWorker, LineWorker, Observer, Operator, Owner, RegisteredEngineer, Rigger,
    Signal,
};
use crate::site::crew::Skill;
use crate::site::{Reason, Route};

/// Answered on the closer-by-agreement route where a rule or the agreement lets double cover excuse the load.
pub(crate) const LOAD_COVER_RULE: &str = "load_cover_rule";

/// Who set the least distance on the closer-by-agreement route, and which.
pub(crate) const AGREED_DISTANCE: &str = "agreed_distance";

/// Why the machine works by the line rules and not by the crane table.
pub(crate) const LINE_RULES: &str = "line_rules";

/// Asked of each machine by name under `live_machines`, and no item of a list.
pub(crate) const PER_MACHINE: [&str; 3] = ["live_machine", "truck_grounding", "off_the_truck"];

/// Work on every route: line, crew, pole, ground, machine, what may go wrong.
static COMMON: &[Item] = &[
    item(
        "conditions",
        "Nominal voltages, switching surges, induced voltage, grounds, state of the poles, other circuits and surroundings were found out beforehand",
        "1910.269(a)(4) [1926.950(d)]",
        Memory,
    )
    .by(&[Foreman, Engineer, RegisteredEngineer, LineWorker])
    .before()
    .document(),
    item(
        "host_contractor",
        "What the line's owner and the contractor told each other: characteristics and conditions of the line, hazards, and who coordinates the work",
        "1910.269(a)(3) [1926.950(c)]",
        Memory,
    )
    .by(&[Foreman, Employer, Owner])
    .before()
    .document()
    .unless(&[Reason::OneEmployer]),
    item(
        "outage_infeasible",
        "An outage was considered with the line's owner: why the line cannot be dead and grounded, or moved, for this work",
        "1926.1410(b); common practice on the other routes",
        Verified,
    )
    .by(&[Owner, Employer, Foreman, Engineer, RegisteredEngineer])
    .before()
    .by_circuit(),
    item(
        "briefing",
        "Who briefs the crew, before the job and again when anything changes, on five subjects: hazards, work procedures, special precautions, energy-source controls, protective equipment",
        "1910.269(c) [1926.952]",
        Verified,
    )
    .by(&[Foreman])
    .on_the_day(),
    item(
        "crew",
        "Who is in charge, and how many of the crew are qualified for work near the line, two at least above 600 V; the operator stays at the controls while the pole hangs",
        "1910.269(l)(1), (l)(2), (p)(1) [1926.960(b), 1926.959(a)]; 1926.1417(e), 1419, 1425(c)(3), 1427",
        Memory,
    )
    .by(&[Foreman]),
    item(
        "reclosing",
        "Automatic reclosing is made inoperative on every circuit near the work and a hot-line tag holds it so; who took it out and who gives it back",
        "1926.1410(d)(1); common practice on the other routes",
        Memory,
    )
    .by(&[Foreman, LineWorker, Owner])
    .on_the_day()
    .by_circuit()
    .unless(&[Reason::NoReclosing])
    .contrary(&[
        "reclosing left on",
        "reclosing stays on",
        "reclosing is on",
        "reclosing on",
        "recloser left on",
        "recloser stays on",
        "recloser in service",
        "reclosing in service",
        "left in service",
        "reclosing not taken out",
        "without a tag",
        "no tag",
    ]),
    item(
        "tag_line",
        "Tag lines near live parts are non-conductive, dry and clean; who holds them",
        "1926.1407(b)(2), 1408(b)(2), 1410(d)(7)",
        Verified,
    )
    .by(&[GroundWorker, Rigger, LineWorker])
    .unless(&[Reason::NoTagLine])
    .contrary(&["wire rope", "steel cable", "chain", "wet"]),
    item(
        "structure_strength",
        "Neighboring structures, guys and arms carry what is put on them, held-out phases included, before anyone climbs or loads them",
        "1910.269(q)(1) [1926.964(a)]",
        Verified,
    )
    .by(&[Engineer, RegisteredEngineer, Foreman, LineWorker])
    .before()
    .document()
    .unless(&[Reason::NothingPutOnThem]),
    item(
        "pole_handling",
        "The pole touches no exposed live conductor, and everyone who handles it wears protective equipment rated for the voltage or uses insulated tools, no bare part of the body on the pole",
        "1910.269(q)(1) [1926.964(a)]",
        Verified,
    )
    .by(&[LineWorker, GroundWorker, Rigger])
    .standing()
    .contrary(&["bare hands", "bare handed", "leather gloves only", "work gloves only"]),
    item("under_pole", "Nobody stands or frames under the hanging pole", "1926.1425; common practice", Memory),
    item(
        "hole_guarded",
        "The hole is attended or physically guarded whenever anyone is near",
        "1910.269(q)(1) [1926.964(a)]",
        Verified,
    ),
    item(
        "services_marked",
        "Buried services are located and marked before anybody digs or augers the hole",
        "1926.651(b)",
        Memory,
    )
    .before()
    .document(),
    item(
        "ground",
        "The ground is firm, drained and level enough for the maker's limits, with mats where needed; tanks, voids and buried services under it are known",
        "1926.1402(b), (c)(2), (e)",
        Verified,
    )
    .before(),
    item(
        "outriggers",
        "Outriggers are out as the maker requires, firmly set on pads, each seen by the operator or a signal person while it moves",
        "1910.269(p)(2) [1926.959(b)]; 1926.1404(q)",
        Memory,
    )
    .by(&[Signal, Operator]),
    item(
        "machine_check",
        "Parts whose failure would let the boom fall or turn freely are looked over before use on each shift; the crane has its shift inspection",
        "1910.269(p)(1) [1926.959(a)]; 1926.1412(d)",
        Memory,
    )
    .by(&[Operator])
    .on_the_day(),
    item(
        "gear_check",
        "Gloves, sleeves, covers, sticks and rigging are in date and looked over before use each day; gloves air-tested",
        "1910.137(c)(2); 1926.251",
        Memory,
    )
    .by(&[LineWorker, Rigger])
    .on_the_day(),
    item(
        "weight_source",
        "Where the pole's weight comes from (maker, calculation, weighing), and who compares it with the indicator once the pole hangs",
        "1926.1417(o)(3)",
        Memory,
    )
    .document(),
    item(
        "stop_work",
        "Wind, lightning, rain and light at which work stops; anyone's stop signal is obeyed",
        "1926.1417(n), (y); 1418",
        Memory,
    )
    .by(&[Foreman]),
    item(
        "swing_area",
        "The sweep of the counterweight and the fall zone are marked and kept free of people",
        "1926.1424(a), 1425",
        Memory,
    ),
    item(
        "signal_qualification",
        "By which paper the signal person is qualified, and for which kind of signals; it is on site",
        "1926.1428(a), 1419(a)",
        Verified,
    )
    .by(&[Signal])
    .skilled(Skill::Signals)
    .before()
    .document()
    .standing()
    .unless(&[Reason::FullView]),
    item(
        "arc_clothing",
        "What heat an arc of this line is estimated to give, and which clothing, gloves and face protection the people in its reach wear",
        "1910.269(l)(8) [1926.960(g)]",
        Memory,
    )
    .by(&[Foreman, Employer, Engineer, RegisteredEngineer])
    .before()
    .document()
    .standing()
    .contrary(&["polyester", "nylon", "street clothes"]),
    item(
        "fall_protection",
        "Who works off the ground, and by which harness and lanyard at which anchor each is held",
        "1910.269(g)(2) [1926.954(b)]",
        Memory,
    )
    .by(&[LineWorker, Foreman])
    .unless(&[Reason::NobodyOffTheGround]),
    item(
        "rescue",
        "Who gets a hurt worker out of the bucket or off the pole, by which means, and how soon",
        "1910.269(a)(2) [1926.950(b)]; common practice",
        Memory,
    )
    .skilled(Skill::Rescue)
    .unless(&[Reason::NobodyOffTheGround]),
    item(
        "first_aid",
        "At least two of the crew are trained in first aid with resuscitation, by which papers",
        "1910.269(b)(1) [1926.951(b)(1)]",
        Verified,
    )
    .skilled(Skill::FirstAid)
    .before()
    .document()
    .standing(),
    item(
        "emergency",
        "How help is called and where it is sent: address, phone or radio, hospital, where the first-aid kit is",
        "1910.269(b) [1926.951(b)]; common practice",
        Memory,
    ),
    item(
        "on_contact",
        "What everyone does when a machine or the pole touches the line: the operator, those on the ground, those in the bucket; who has the line opened",
        "1926.1408(g)(1)(i); common practice",
        Memory,
    )
    .by(&[Foreman]),
];

static CRANE_TABLE: &[Item] = &[
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

/// The reasons, the list of twelve (with `reclosing` and `tag_line` of the common list), the paper.
static CLOSER: &[Item] = &[
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

const WHY_LINE_RULES: Item = item(
    LINE_RULES,
    "Why this work is under the line rules, so that the machine may leave the crane table's distance: who decided that, by which paper",
    "1926.950(a), 1926.959, 1926.1410(c)(2); 1910.269(p)(4)",
    Memory,
)
.by(&[Employer, Foreman, Engineer, RegisteredEngineer])
.before()
.document();

static LINE_WORK: &[Item] = &[
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
static CRANE_AT_LINE_WORK: &[Item] = &[WHY_LINE_RULES];

/// A digger derrick at pole work, besides the list of line work.
static DIGGER_DERRICK: &[Item] = &[
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

static COVER_RULE: Item = item(
    LOAD_COVER_RULE,
    "Who permits by which paper that double cover excuses the load from the approach distance",
    "stated by the scene",
    Memory,
)
.by(&[Owner, RegisteredEngineer, Employer])
.before()
.by_circuit()
.standing();

/// Answers that nobody is asked for.
static OPTIONAL: &[Item] = &[COVER_RULE];

/// The same where line work can be declared.
static OPTIONAL_CLOSER: &[Item] = &[COVER_RULE, WHY_LINE_RULES];

/// The whole list of a route, what is common to all routes first.
pub fn items(route: Route) -> impl Iterator<Item = &'static Item> {
    let (own, further): (&[Item], &[Item]) = match route {
        Route::CraneTable => (CRANE_TABLE, &[]),
        Route::CloserByAgreement => (CLOSER, &[]),
        Route::LineWork => (LINE_WORK, CRANE_AT_LINE_WORK),
        Route::DiggerDerrick => (LINE_WORK, DIGGER_DERRICK),
    };
    COMMON.iter().chain(own).chain(further)
}

/// What a scene on this route may answer besides.
pub fn optional(route: Route) -> impl Iterator<Item = &'static Item> {
    match route {
        Route::CloserByAgreement => OPTIONAL_CLOSER.iter(),
        Route::CraneTable | Route::LineWork | Route::DiggerDerrick => OPTIONAL.iter(),
    }
}

/// The item of this key, asked for or not.
pub(crate) fn find(route: Route, key: &str) -> Option<&'static Item> {
    items(route).chain(optional(route)).find(|item| item.key == key)
}
