//! Answers that somebody writes to get past what the route, the machines and the employer's file are asked.

use super::Row;
use super::answers::{
    JUNIPER, LARCH, SORREL, because, by_dale, day, how, machine, passed, said, set, site, some, standing, who,
};
use scene_core::site::{Answer, Protected, Reason, Route, Said};

/// At the line-work distance, with two machines.
const LINE_WORK: &[Row] = &[
    // ---- leaving the crane table
    (
        "a crane at the line-work distance without why",
        |s| s.basis.arranged.retain(|a| a.item != "line_rules"),
        "not_arranged",
    ),
    ("why it is line work, decided by the operator", |s| who(s, "line_rules", &["Quist"]), "answer_not_in_role"),
    ("why it is line work, by no paper", |s| said(s, "line_rules").document = None, "answer_incomplete"),
    // ---- should a machine become live
    (
        "nothing is said of the crane",
        |s| s.basis.live_machines.retain(|m| m.machine != "Northfell 40"),
        "live_machine_not_answered",
    ),
    (
        "nothing is said of the bucket truck",
        |s| s.basis.live_machines.retain(|m| m.machine != "Tallis 46"),
        "live_machine_not_answered",
    ),
    (
        "answered for another truck",
        |s| machine(s, "Tallis 46", |m| m.machine = "Tallis 40".to_owned()),
        "live_machine_unknown",
    ),
    (
        "a ground rod alone",
        |s| {
            machine(s, "Northfell 40", |m| {
                let ground = some("driven rod at the outrigger, 2/0 lead");
                (m.covered, m.protected) =
                    (None, Some(Protected::Techniques { ground, bond: None, mats: None, barricade: None }));
            });
        },
        "live_machine_techniques",
    ),
    (
        "a barricade alone",
        |s| {
            machine(s, "Northfell 40", |m| {
                let barricade = some("rope at 12 ft about the crane");
                (m.covered, m.protected) =
                    (None, Some(Protected::Techniques { ground: None, bond: None, mats: None, barricade }));
            });
        },
        "live_machine_techniques",
    ),
    (
        "\"the employer has shown it\", by no paper",
        |s| {
            machine(s, "Northfell 40", |m| {
                let how = some("the company's own method for cranes");
                (m.covered, m.protected) = (None, Some(Protected::Shown { how, document: some("on file") }));
            });
        },
        "live_machine_not_shown",
    ),
    (
        "lines covered, with B bare",
        |s| {
            s.covers.retain(|cover| cover.name != "hose on B");
            machine(s, "Northfell 40", |m| m.protected = None);
        },
        "live_machine_lines_bare",
    ),
    (
        "a crane said to be insulated",
        |s| machine(s, "Northfell 40", |m| m.insulated = some("rubber tires and dry timber")),
        "live_machine_not_insulated",
    ),
    ("grounded to nothing", |s| machine(s, "Northfell 40", |m| m.grounded_to = None), "live_machine_incomplete"),
    (
        "\"not grounded, tires insulate\"",
        |s| machine(s, "Northfell 40", |m| m.grounded_to = some("not grounded, the tires insulate it")),
        "answer_contrary",
    ),
    ("grounded by nobody", |s| machine(s, "Northfell 40", |m| m.said.who.clear()), "live_machine_incomplete"),
    (
        "grounded by a stranger",
        |s| machine(s, "Northfell 40", |m| m.said.who = vec!["Bob".to_owned()]),
        "answer_not_on_crew",
    ),
    // ---- standing answers
    ("a company's observer for every job", |s| standing(s, "observer", "2027-12-31"), "standing_of_one_day"),
    ("reclosing off for the whole year", |s| standing(s, "reclosing", "2026-12-31"), "standing_of_one_day"),
    ("one shift inspection for the season", |s| standing(s, "machine_check", "2026-12-31"), "standing_of_one_day"),
    ("a briefing by the manual", |s| standing(s, "briefing", "2026-12-31"), "standing_of_one_day"),
    ("a distance table that holds for ever", |s| standing(s, "employer_distance", "2099-12-31"), "standing_too_long"),
    ("a distance table that has run out", |s| standing(s, "employer_distance", "2026-03-03"), "standing_expired"),
    ("signal cards that have run out", |s| standing(s, "signal_qualification", "2025-12-31"), "standing_expired"),
    ("first-aid cards that have run out", |s| standing(s, "first_aid", "2026-01-31"), "standing_expired"),
];

/// On the route closer by agreement.
const CLOSER: &[Row] = &[
    (
        "an agreed distance that the foreman set",
        |s| set(s, "agreed_distance", Answer::Arranged(Said { distance_m: Some(1.5), ..by_dale() })),
        "answer_not_in_role",
    ),
    (
        "an agreement without a figure",
        |s| {
            set(
                s,
                "agreed_distance",
                Answer::Arranged(Said {
                    who: vec!["Voss".to_owned()],
                    document: some("letter 9, Sorrel 2"),
                    ..by_dale()
                }),
            )
        },
        "answer_incomplete",
    ),
    (
        "the employer's distance, without declared line work",
        |s| because(s, "agreed_distance", Reason::LineWork),
        "reason_contradicted",
    ),
    (
        "an agreed distance in words alone",
        |s| set(s, "agreed_distance", Answer::Words("4 ft, by phone".to_owned())),
        "not_arranged",
    ),
    (
        "cover permitted by the rigger",
        |s| {
            set(
                s,
                "load_cover_rule",
                Answer::Arranged(Said {
                    who: vec!["Ruiz".to_owned()],
                    document: some("note 3, Sorrel 2"),
                    ..by_dale()
                }),
            )
        },
        "answer_not_in_role",
    ),
    (
        "cover permitted by no paper",
        |s| {
            set(
                s,
                "load_cover_rule",
                Answer::Arranged(Said { who: vec!["Voss".to_owned()], document: None, ..by_dale() }),
            )
        },
        "answer_incomplete",
    ),
    (
        "cover permitted after the job",
        |s| {
            set(
                s,
                "load_cover_rule",
                Answer::Arranged(Said {
                    who: vec!["Voss".to_owned()],
                    when: day("2026-07-01"),
                    document: some("note 3, Sorrel 2"),
                    ..by_dale()
                }),
            )
        },
        "answer_after_job",
    ),
    (
        "cover permitted on another feeder",
        |s| {
            set(
                s,
                "load_cover_rule",
                Answer::Arranged(Said {
                    who: vec!["Voss".to_owned()],
                    document: some("note 3, Sorrel 5"),
                    ..by_dale()
                }),
            )
        },
        "answer_circuit_not_named",
    ),
    (
        "no warning line, for it is line work that nobody declared",
        |s| because(s, "warning_line", Reason::LineWork),
        "reason_contradicted",
    ),
];

/// A digger derrick at pole work.
const DERRICK: &[Row] = &[
    (
        "the derrick is grounded in words alone",
        |s| {
            s.basis.live_machines.clear();
            let said = Answer::Words("truck to the system neutral by 2/0 lead".to_owned());
            set(s, "truck_grounding", said);
        },
        "live_machine_not_answered",
    ),
    (
        "the derrick said to be insulated by its tip",
        |s| machine(s, "Brackmoor 47", |m| m.insulated = some("insulated tip of the boom")),
        "live_machine_not_insulated",
    ),
    ("nobody is in the derrick's seat", |s| who(s, "derrick_rating", &["Aker"]), "answer_not_in_role"),
    ("pole work only, said by the operator", |s| who(s, "pole_work_only", &["Vance"]), "answer_not_in_role"),
    (
        "gloves left in the truck",
        |s| how(s, "pole_gloves", "Aker guides the butt with bare hands, gloves in the truck"),
        "answer_contrary",
    ),
    ("no locates under the auger", |s| s.basis.arranged.retain(|a| a.item != "services_marked"), "not_arranged"),
];

#[test]
fn hostile_answers_at_the_line_work_distance_stop() {
    let passed = passed(&site(JUNIPER), LINE_WORK);
    assert!(passed.is_empty(), "these should have stopped: {passed:#?}");
}

#[test]
fn hostile_answers_closer_by_agreement_stop() {
    let mut closer = site(SORREL);
    closer.basis.route = Route::CloserByAgreement;
    // What the crane table's example answers stays; nothing here is asked of the rest.
    let (who, document) = (vec!["Voss".to_owned()], some("letter 9, Sorrel 2"));
    let agreed = Said { who, document, distance_m: Some(1.5), ..by_dale() };
    set(&mut closer, "agreed_distance", Answer::Arranged(agreed));
    let passed = passed(&closer, CLOSER);
    assert!(passed.is_empty(), "these should have stopped: {passed:#?}");
}

#[test]
fn hostile_answers_of_a_digger_derrick_stop() {
    let passed = passed(&site(LARCH), DERRICK);
    assert!(passed.is_empty(), "these should have stopped: {passed:#?}");
}
