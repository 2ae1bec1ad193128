//! What every route asks: line, crew, pole, ground, machine, what may go wrong.

use crate::rules::gates::item::Status::{Memory, Verified};
use crate::rules::gates::item::{Item, item};
use crate::site::Reason;
use crate::site::crew::Role::{
    Employer, Engineer, Foreman, GroundWorker, LineWorker, Observer, Operator, Owner, RegisteredEngineer, Rigger,
    Signal,
};
use crate::site::crew::Skill;

/// Work on every route: line, crew, pole, ground, machine, what may go wrong.
pub(super) static COMMON: &[Item] = &[
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
    .not_also(&[Operator, Observer])
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
    .not_also(&[Operator, Observer])
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
