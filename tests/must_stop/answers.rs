//! Answers that somebody writes to get past the list: plausible nonsense, in the words of the trade.

use super::Row;
use scene_core::check::check;
use scene_core::finding::Grade;
use scene_core::quantity::date::Date;
use scene_core::scene;
use scene_core::site::crew::{Role, Skill};
use scene_core::site::{Answer, Arranged, LiveMachine, Protected, Reason, Said, Site, Standing, StandingAnswer};

pub const JUNIPER: &str = include_str!("../../scenes/01_juniper_lane.ron");
pub const SORREL: &str = include_str!("../../scenes/03_sorrel_flat.ron");
pub const LARCH: &str = include_str!("../../scenes/04_larch_bank.ron");

pub fn site(text: &str) -> Site {
    scene::read("example.ron", text).and_then(|scene| scene.site()).expect("the example reads")
}

pub fn said<'s>(site: &'s mut Site, key: &str) -> &'s mut Said {
    let arranged = site.basis.arranged.iter_mut().find(|arranged| arranged.item == key).expect("it is answered");
    match &mut arranged.answer {
        Answer::Arranged(said) => said,
        other => panic!("{key}: {other:?}"),
    }
}

pub fn set(site: &mut Site, key: &str, answer: Answer) {
    site.basis.arranged.retain(|arranged| arranged.item != key);
    site.basis.arranged.push(Arranged { item: key.to_owned(), answer });
}

pub fn some(text: &str) -> Option<String> {
    Some(text.to_owned())
}

pub fn day(text: &str) -> Option<Date> {
    Some(Date::parse(text).expect("a day"))
}

pub fn how(site: &mut Site, key: &str, text: &str) {
    said(site, key).how = some(text);
}

pub fn document(site: &mut Site, key: &str, text: &str) {
    said(site, key).document = some(text);
}

pub fn who(site: &mut Site, key: &str, names: &[&str]) {
    said(site, key).who = names.iter().map(|name| (*name).to_owned()).collect();
}

pub fn when(site: &mut Site, key: &str, text: &str) {
    said(site, key).when = day(text);
}

pub fn by_dale() -> Said {
    let how = some("looked at by Dale on the walk and found so");
    Said {
        who: vec!["Dale".to_owned()],
        when: day("2026-03-02"),
        document: some("walk sheet 2 of 2026-03-02"),
        how,
        distance_m: None,
    }
}

pub fn because(site: &mut Site, key: &str, reason: Reason) {
    set(site, key, Answer::DoesNotApply { reason, said: by_dale() });
}

pub fn except(site: &mut Site, key: &str, paragraph: &str) {
    set(site, key, Answer::Exception { paragraph: paragraph.to_owned(), said: by_dale() });
}

pub fn person(site: &mut Site, name: &str, change: impl Fn(&mut scene_core::site::crew::Member)) {
    site.people.iter_mut().filter(|member| member.name == name).for_each(change);
}

pub fn machine(site: &mut Site, name: &str, change: impl Fn(&mut LiveMachine)) {
    site.basis.live_machines.iter_mut().filter(|answer| answer.machine == name).for_each(change);
}

pub fn standing(site: &mut Site, key: &str, until: &str) {
    site.basis.arranged.retain(|arranged| arranged.item != key);
    let answer = StandingAnswer {
        item: key.to_owned(),
        who: None,
        when: None,
        document: some("company manual M-4, chapter 7"),
        valid_until: day(until),
        how: some("as the company's manual has it for every job"),
    };
    site.basis.standing =
        Some(Standing { file: "ours.ron".to_owned(), employer: "Lowland Line".to_owned(), answers: vec![answer] });
}

/// The same job under another name, as somebody makes it who starts from the example.
pub fn renamed(site: &mut Site) {
    site.name = "Birch Street, pole 12".to_owned();
}

const HOSTILE: &[Row] = &[
    // ---- words that fill a field
    ("observer: no", |s| how(s, "observer", "no"), "answer_says_nothing"),
    ("reclosing: x", |s| how(s, "reclosing", "x"), "answer_says_nothing"),
    ("reclosing: left on", |s| how(s, "reclosing", "left on"), "answer_says_nothing"),
    ("outriggers: ok as usual", |s| how(s, "outriggers", "ok as usual"), "answer_says_nothing"),
    ("ground: n/a", |s| how(s, "ground", "n/a"), "answer_says_nothing"),
    (
        "rescue: TBD by the foreman on the day",
        |s| how(s, "rescue", "TBD by the foreman on the day"),
        "answer_says_nothing",
    ),
    ("briefing: done, done, done", |s| how(s, "briefing", "done, done, done"), "answer_says_nothing"),
    ("arc clothing: see above", |s| how(s, "arc_clothing", "see above"), "answer_says_nothing"),
    ("conditions by the document \"yes\"", |s| document(s, "conditions", "yes"), "answer_says_nothing"),
    ("outage by \"company policy\"", |s| document(s, "outage_infeasible", "company policy"), "answer_says_nothing"),
    ("locates by \"the ticket\"", |s| document(s, "services_marked", "the ticket"), "answer_says_nothing"),
    ("loading sheet \"12\"", |s| document(s, "structure_strength", "12"), "answer_says_nothing"),
    (
        "under the pole: the question itself",
        |s| how(s, "under_pole", "Nobody stands or frames under the hanging pole."),
        "answer_says_nothing",
    ),
    (
        "one sentence for all that is asked",
        |s| {
            for arranged in &mut s.basis.arranged {
                if let Answer::Arranged(said) = &mut arranged.answer {
                    said.how = some("Dale has walked it with the crew and it is all arranged");
                }
            }
        },
        "answer_repeated",
    ),
    (
        "the briefing's words under emergency as well",
        |s| {
            let briefing = said(s, "briefing").how.clone();
            said(s, "emergency").how = briefing;
        },
        "answer_repeated",
    ),
    // ---- words that say the opposite
    (
        "reclosing left on for the hospital's sake",
        |s| how(s, "reclosing", "reclosing left on for the hospital's sake, crew told of it"),
        "answer_contrary",
    ),
    (
        "recloser stays on, no tag",
        |s| how(s, "reclosing", "recloser stays on, desk knows that we work"),
        "answer_contrary",
    ),
    ("the tag line is a wire rope", |s| how(s, "tag_line", "3/8 in wire rope, Ruiz holds it"), "answer_contrary"),
    (
        "the butt is guided with bare hands",
        |s| how(s, "pole_handling", "Ruiz guides the butt with bare hands until it is in"),
        "answer_contrary",
    ),
    // ---- plain answers
    (
        "an honest old answer in words alone",
        |s| set(s, "under_pole", Answer::Words("nobody under the pole".to_owned())),
        "not_arranged",
    ),
    ("nobody to watch, and says so", |s| set(s, "observer", Answer::No(by_dale())), "answered_no"),
    ("nothing is said of rescue", |s| s.basis.arranged.retain(|a| a.item != "rescue"), "not_arranged"),
    // ---- people
    ("an observer who is not on the crew", |s| who(s, "observer", &["Smith"]), "answer_not_on_crew"),
    ("a signal person from the last job", |s| who(s, "signal_qualification", &["Ferrari"]), "answer_not_on_crew"),
    ("two named, one a stranger", |s| who(s, "tag_line", &["Ruiz", "Bob"]), "answer_not_on_crew"),
    ("the briefing given by \"n/a\"", |s| who(s, "briefing", &["n/a"]), "answer_not_on_crew"),
    ("the ground hand takes out the recloser", |s| who(s, "reclosing", &["Park"]), "answer_not_in_role"),
    ("the operator watches his own boom", |s| who(s, "observer", &["Quist"]), "answer_not_in_role"),
    ("the rigger briefs the crew", |s| who(s, "briefing", &["Ruiz"]), "answer_not_in_role"),
    ("rescue by somebody who never trained for it", |s| who(s, "rescue", &["Park"]), "answer_not_qualified"),
    ("one first-aider for eight people", |s| who(s, "first_aid", &["Dale"]), "answer_not_qualified"),
    ("the observer lends a hand at the tag line", |s| who(s, "tag_line", &["Ruiz", "Osei"]), "answer_role_excluded"),
    ("the operator helps guide the butt", |s| who(s, "pole_handling", &["Park", "Quist"]), "answer_role_excluded"),
    ("the operator counts as second observer", |s| who(s, "observer", &["Osei", "Quist"]), "answer_role_excluded"),
    ("nobody named for the hole", |s| said(s, "hole_guarded").who.clear(), "answer_incomplete"),
    // ---- days
    ("a briefing after the job", |s| when(s, "briefing", "2026-03-05"), "answer_after_job"),
    ("a locate that comes next week", |s| when(s, "services_marked", "2026-03-11"), "answer_after_job"),
    ("the shift inspection of the day before", |s| when(s, "machine_check", "2026-03-03"), "answer_not_of_the_day"),
    ("last week's hot-line tag", |s| when(s, "reclosing", "2026-02-25"), "answer_not_of_the_day"),
    ("gloves air-tested a month ago", |s| when(s, "gear_check", "2026-02-04"), "answer_not_of_the_day"),
    ("the walk of two years ago", |s| when(s, "conditions", "2024-03-02"), "answer_too_old"),
    ("the year typed wrong", |s| when(s, "structure_strength", "2016-03-02"), "answer_too_old"),
    ("the walk without a day", |s| said(s, "conditions").when = None, "answer_incomplete"),
    ("the job without a day", |s| s.job.date = None, "job_date_not_stated"),
    // ---- circuits
    (
        "a permit for another feeder",
        |s| document(s, "reclosing", "hot-line tag 26-118, Willow 7"),
        "answer_circuit_not_named",
    ),
    (
        "the neighboring feeder's tag",
        |s| document(s, "reclosing", "hot-line tag 26-118, Juniper 6"),
        "answer_other_circuit",
    ),
    (
        "the owner's reply about another feeder",
        |s| document(s, "outage_infeasible", "reply 26-77 about Juniper 2"),
        "answer_circuit_not_named",
    ),
    (
        "a tag that names the feeder's first word",
        |s| document(s, "reclosing", "tag 118, Juniper"),
        "answer_circuit_not_named",
    ),
    (
        "how names a feeder that is not here",
        |s| how(s, "reclosing", "Juniper 9 put on non-reclose by the desk, tag held by Dale"),
        "answer_other_circuit",
    ),
    // ---- reasons and exceptions
    (
        "no observer, for nobody leaves the ground",
        |s| because(s, "observer", Reason::NobodyOffTheGround),
        "reason_not_accepted",
    ),
    (
        "no outage question, for it is line work",
        |s| because(s, "outage_infeasible", Reason::LineWork),
        "reason_not_accepted",
    ),
    (
        "no locates, for no limiter is fitted",
        |s| because(s, "services_marked", Reason::NoneFitted),
        "reason_not_accepted",
    ),
    (
        "no fall protection, with a man in the bucket",
        |s| because(s, "fall_protection", Reason::NobodyOffTheGround),
        "reason_contradicted",
    ),
    (
        "no rescue, with a man in the bucket",
        |s| because(s, "rescue", Reason::NobodyOffTheGround),
        "reason_contradicted",
    ),
    (
        "nothing on the neighboring poles, with four wires held out",
        |s| because(s, "structure_strength", Reason::NothingPutOnThem),
        "reason_contradicted",
    ),
    (
        "no signal person needed, with one on the road",
        |s| because(s, "signal_qualification", Reason::FullView),
        "reason_contradicted",
    ),
    ("no tag line, with two people on it", |s| because(s, "tag_line", Reason::NoTagLine), "reason_contradicted"),
    (
        "one employer, with an owner and a contractor",
        |s| because(s, "host_contractor", Reason::OneEmployer),
        "reason_contradicted",
    ),
    (
        "no observer by an exception for something else",
        |s| except(s, "observer", "1926.1408(b)(5)"),
        "exception_not_accepted",
    ),
    ("no briefing by an invented paragraph", |s| except(s, "briefing", "1910.269(c)(9)"), "exception_not_accepted"),
    ("reclosing left on by \"OSHA\"", |s| except(s, "reclosing", "OSHA"), "exception_not_accepted"),
    // ---- the crew
    ("nobody of the crew is known", |s| s.people.clear(), "crew_not_stated"),
    ("no rigger on the job", |s| s.people.retain(|member| !member.is(Role::Rigger)), "crew_role_missing"),
    (
        "an operator who was never qualified for line work, at the line-work distance",
        |s| person(s, "Quist", |quist| quist.qualified_for = vec![Skill::Operating]),
        "crew_not_qualified",
    ),
    (
        "a signal person who was never qualified for line work",
        |s| person(s, "Ferro", |ferro| ferro.qualified_for = vec![Skill::Signals]),
        "crew_not_qualified",
    ),
    (
        "an observer who is no qualified employee",
        |s| person(s, "Osei", |osei| osei.qualified_for.clear()),
        "crew_not_qualified",
    ),
    (
        "an operator without his papers",
        |s| person(s, "Quist", |quist| quist.qualified_for = vec![Skill::LineWork]),
        "crew_not_qualified",
    ),
    (
        "the operator observes as well",
        |s| person(s, "Quist", |quist| quist.roles.push(Role::Observer)),
        "crew_two_duties",
    ),
    ("the observer holds the rigging", |s| person(s, "Osei", |osei| osei.roles.push(Role::Rigger)), "crew_two_duties"),
    (
        "a stranger stands at the observer's place",
        |s| s.neighbours.as_mut().expect("it has some").people[0].name = "Smith".to_owned(),
        "place_not_on_crew",
    ),
    (
        "the ground hand stands at the observer's place",
        |s| s.neighbours.as_mut().expect("it has some").people[0].name = "Park".to_owned(),
        "place_not_in_role",
    ),
    // ---- taken over from the example
    ("the example under another name", renamed, "answers_copied"),
    (
        "the example's line moved, its papers kept",
        |s| {
            s.wires.iter_mut().flat_map(|wire| &mut wire.spans).for_each(|span| (span.from.z, span.to.z) = (12.0, 12.0))
        },
        "answers_copied",
    ),
    ("the example's papers on another day", |s| s.job.date = day("2026-03-06"), "answers_copied"),
    (
        "the example's words in capitals and with other stops",
        |s| {
            renamed(s);
            for arranged in &mut s.basis.arranged {
                if let Answer::Arranged(said) = &mut arranged.answer {
                    said.document = said.document.as_ref().map(|_| "paper 1 of 2026, Juniper 4".to_owned());
                    said.how = said.how.as_ref().map(|how| how.to_uppercase().replace([',', ';'], " -"));
                }
            }
            s.basis.live_machines.clear();
        },
        "answers_copied",
    ),
    (
        "one sentence of an earlier example, dressed up",
        |s| {
            renamed(s);
            s.basis.arranged.clear();
            s.basis.live_machines.clear();
            let how = some("nobody under the pole, framing waits until it stands");
            let said = Said { who: vec!["Dale".to_owned()], how, ..Said::default() };
            set(s, "under_pole", Answer::Arranged(said));
        },
        "answers_copied",
    ),
];

fn stops(site: &Site) -> Vec<&'static str> {
    let found = check(site).findings;
    found.iter().filter(|finding| finding.grade == Grade::Stop).map(|finding| finding.code()).collect()
}

/// The rows that bring no stop of their code.
pub fn passed(base: &Site, rows: &[Row]) -> Vec<(&'static str, &'static str)> {
    let before = stops(base);
    let passes = |(what, change, code): &Row| {
        let mut changed = base.clone();
        change(&mut changed);
        let count = |stops: &[&str]| stops.iter().filter(|found| *found == code).count();
        // Where the base has the code already, the row must bring one more of it.
        (count(&stops(&changed)) <= count(&before)).then_some((*what, *code))
    };
    rows.iter().filter_map(passes).collect()
}

#[test]
fn hostile_answers_stop() {
    let passed = passed(&site(JUNIPER), HOSTILE);
    assert!(passed.is_empty(), "these should have stopped: {passed:#?}");
}

#[test]
fn the_examples_have_every_answer_filled_in() {
    for text in [
        JUNIPER,
        SORREL,
        LARCH,
        include_str!("../../scenes/02_juniper_lane_first_sketch.ron"),
        include_str!("../../scenes/05_kestrel_yard.ron"),
        include_str!("../../scenes/06_long_juniper.ron"),
    ] {
        let report = check(&site(text));
        let open: Vec<_> = report.basis.answers.iter().filter(|row| !row.filled_in).map(|row| &row.item).collect();
        assert!(open.is_empty(), "{}: {open:?}", report.scene);
        let codes: Vec<_> = report.findings.iter().map(|finding| finding.code()).collect();
        assert!(codes.contains(&"example_job"), "{}", report.scene);
        let of_people = ["crew_", "live_machine", "answer", "place_", "standing_"];
        let found: Vec<_> = codes.iter().filter(|code| of_people.iter().any(|of| code.starts_with(of))).collect();
        assert!(found.is_empty(), "{}: {found:?}", report.scene);
    }
}

#[test]
fn a_whole_set_of_answers_in_ones_own_words_is_enough() {
    let mut own = site(JUNIPER);
    renamed(&mut own);
    for arranged in &mut own.basis.arranged {
        if let Answer::Arranged(said) = &mut arranged.answer {
            said.how = said.how.as_ref().map(|how| format!("here in Birch Street {how}"));
            said.document = said.document.as_ref().map(|document| format!("{document}, copy 2"));
        }
    }
    for machine in &mut own.basis.live_machines {
        for text in [&mut machine.covered, &mut machine.insulated, &mut machine.grounded_to, &mut machine.keeps_off] {
            *text = text.as_ref().map(|text| format!("here {text}"));
        }
        if let Some(Protected::Techniques { ground, bond, mats, barricade }) = &mut machine.protected {
            for text in [ground, bond, mats, barricade] {
                *text = text.as_ref().map(|text| format!("here {text}"));
            }
        }
    }
    let report = check(&own);
    let stops: Vec<_> = report.findings.iter().filter(|f| f.grade == Grade::Stop).collect();
    assert!(stops.is_empty(), "{stops:#?}");
}
