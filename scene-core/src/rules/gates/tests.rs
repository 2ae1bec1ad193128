//! Each item, each way of not answering it.

use super::item::When;
use super::*;
use crate::finding::Grade;
use crate::fixtures::answers::{answer, answer_all};
use crate::fixtures::line::{derrick, site};
use crate::quantity::date::Date;
use crate::quantity::show::Units;
use crate::report::words;
use crate::site::crew::{Role, Skill};
use crate::site::{Arranged, Protected, Reason, Said, Standing, StandingAnswer};

const ROUTES: [Route; 4] = [Route::CraneTable, Route::CloserByAgreement, Route::LineWork, Route::DiggerDerrick];

fn on(route: Route) -> Site {
    let mut site = site(12_470.0);
    site.basis.route = route;
    site.crane.derrick = Some(derrick());
    answer_all(&mut site);
    site
}

fn codes(site: &Site) -> Vec<(Grade, &'static str)> {
    findings(site).iter().map(|finding| (finding.grade, finding.code())).collect()
}

/// The answer to an item, to be changed.
fn said<'s>(site: &'s mut Site, key: &str) -> &'s mut Said {
    let arranged = site.basis.arranged.iter_mut().find(|arranged| arranged.item == key).unwrap();
    match &mut arranged.answer {
        Answer::Arranged(said) => said,
        other => panic!("{other:?}"),
    }
}

fn set(site: &mut Site, key: &str, answer: Answer) {
    let arranged = site.basis.arranged.iter_mut().find(|arranged| arranged.item == key).unwrap();
    arranged.answer = answer;
}

fn by(name: &str) -> Said {
    let how = Some("walked and looked at by two people".to_owned());
    Said { who: vec![name.to_owned()], when: Date::parse("2026-03-02"), how, ..Said::default() }
}

#[test]
fn every_item_that_nobody_answers_is_a_stop_and_a_whole_answer_is_enough() {
    for route in ROUTES {
        let mut site = on(route);
        assert_eq!(codes(&site), [], "{route:?}");
        site.basis.arranged.clear();
        let found = codes(&site);
        assert_eq!(found.len(), items(route).count());
        assert!(found.iter().all(|finding| *finding == (Grade::Stop, "not_arranged")));
    }
}

#[test]
fn each_item_in_turn_is_missed_when_it_alone_is_left_out() {
    for route in ROUTES {
        let whole = on(route);
        for index in 0..whole.basis.arranged.len() {
            let mut site = whole.clone();
            let left_out = site.basis.arranged.remove(index);
            let found = findings(&site);
            assert_eq!(found.len(), 1);
            assert!(words::message(&found[0], Units::Both).contains(&left_out.item));
        }
    }
}

#[test]
fn each_item_in_turn_stops_in_words_alone_with_no_and_without_each_part() {
    for route in ROUTES {
        let whole = on(route);
        for index in 0..whole.basis.arranged.len() {
            let key = whole.basis.arranged[index].item.clone();
            let item = find(route, &key).unwrap();
            let one = |what: &str, change: &dyn Fn(&mut Site), code: &str| {
                let mut site = whole.clone();
                change(&mut site);
                let found = codes(&site);
                assert!(found.contains(&(Grade::Stop, code)), "{route:?} {key} {what}: {found:?}");
            };
            let plain = "the foreman has seen to it that all of this is so";
            one("in words", &|s| set(s, &key, Answer::Words(plain.to_owned())), "not_arranged");
            one("no", &|s| set(s, &key, Answer::No(by("Fox"))), "answered_no");
            one("by nobody", &|s| said(s, &key).who.clear(), "answer_incomplete");
            one("by a stranger", &|s| said(s, &key).who = vec!["Zorn".to_owned()], "answer_not_on_crew");
            one("not said how", &|s| said(s, &key).how = None, "answer_incomplete");
            one("left on", &|s| said(s, &key).how = Some("left on".to_owned()), "answer_says_nothing");
            one("after the job", &|s| said(s, &key).when = Date::parse("2026-03-05"), "answer_after_job");
            one(
                "of another year",
                &|s| said(s, &key).when = Date::parse("2024-03-02"),
                match item.when {
                    When::OnTheDay => "answer_not_of_the_day",
                    _ => "answer_too_old",
                },
            );
            one(
                "does not apply",
                &|s| {
                    set(s, &key, Answer::DoesNotApply { reason: Reason::NoneFitted, said: by("Fox") });
                    // What has this reason among its own is held to another.
                    if item.reasons.contains(&Reason::NoneFitted) {
                        set(s, &key, Answer::DoesNotApply { reason: Reason::FullView, said: by("Fox") });
                    }
                },
                "reason_not_accepted",
            );
            one(
                "by exception",
                &|s| {
                    let paragraph = "1926.1(a)".to_owned();
                    set(s, &key, Answer::Exception { paragraph, said: by("Fox") });
                },
                "exception_not_accepted",
            );
            if item.when != When::NotAsked {
                one("no day", &|s| said(s, &key).when = None, "answer_incomplete");
            }
            if item.when == When::OnTheDay {
                one("yesterday", &|s| said(s, &key).when = Date::parse("2026-03-03"), "answer_not_of_the_day");
            }
            if item.document {
                one("no paper", &|s| said(s, &key).document = None, "answer_incomplete");
                one("the paper", &|s| said(s, &key).document = Some("the permit".to_owned()), "answer_says_nothing");
            }
            if item.by_circuit {
                let other = "permit 26-118, feeder 9".to_owned();
                one("another circuit", &|s| said(s, &key).document = Some(other.clone()), "answer_circuit_not_named");
            }
            let how = "the tag hangs on feeder 9 at the station";
            one("how names another circuit", &|s| said(s, &key).how = Some(how.to_owned()), "answer_other_circuit");
        }
    }
}

#[test]
fn a_person_in_another_role_or_without_the_qualification_does_not_count() {
    let mut site = on(Route::LineWork);
    said(&mut site, "briefing").who = vec!["Gray".to_owned()];
    said(&mut site, "observer").who = vec!["Orr".to_owned()];
    said(&mut site, "rescue").who = vec!["Gray".to_owned()];
    said(&mut site, "first_aid").who = vec!["Lane".to_owned()];
    let of = |code: &str| codes(&site).iter().filter(|(_, found)| *found == code).count();
    assert_eq!(of("answer_not_in_role"), 2);
    assert_eq!(of("answer_not_qualified"), 2);
}

#[test]
fn names_are_the_same_in_any_case() {
    let mut site = on(Route::LineWork);
    said(&mut site, "briefing").who = vec![" fox ".to_owned()];
    assert_eq!(codes(&site), []);
}

#[test]
fn an_observer_who_rigs_is_not_dedicated() {
    let mut site = on(Route::CloserByAgreement);
    site.people[3].roles.push(Role::Signal);
    assert_eq!(codes(&site), [(Grade::Stop, "answer_role_excluded")]);
}

#[test]
fn an_accepted_reason_must_not_be_given_the_lie() {
    let mut site = on(Route::LineWork);
    let reason = |reason| Answer::DoesNotApply { reason, said: by("Fox") };
    set(&mut site, "signal_qualification", reason(Reason::FullView));
    assert_eq!(codes(&site), [(Grade::Stop, "reason_contradicted")]);
    site.people.retain(|member| !member.is(Role::Signal));
    assert_eq!(codes(&site), []);
    set(&mut site, "tag_line", reason(Reason::NoTagLine));
    assert_eq!(codes(&site), [(Grade::Stop, "reason_contradicted")]);
    site.rigging.tag_line_hold_n = None;
    assert_eq!(codes(&site), []);
}

#[test]
fn the_day_of_the_job_must_be_stated() {
    let mut site = on(Route::LineWork);
    site.job.date = None;
    assert_eq!(codes(&site), [(Grade::Stop, "job_date_not_stated")]);
}

#[test]
fn a_misspelt_item_is_named_with_the_one_it_resembles() {
    let mut site = on(Route::LineWork);
    let answer = Answer::Arranged(by("Fox"));
    site.basis.arranged.push(Arranged { item: "reclosng".into(), answer });
    site.basis.arranged.push(Arranged { item: "live_machine".into(), answer: Answer::Words("grounded".to_owned()) });
    let found = findings(&site);
    assert_eq!(found.len(), 2);
    assert!(found.iter().all(|finding| (finding.grade, finding.code()) == (Grade::Caution, "arranged_unknown")));
    assert!(words::of(&found[0], Units::Both).fix.contains("`reclosing`"));
    assert!(words::of(&found[1], Units::Both).fix.contains("live_machines"));
}

#[test]
fn the_derricks_list_holds_all_of_line_work_but_why_a_crane_does_it() {
    let derrick: Vec<&str> = items(Route::DiggerDerrick).map(|item| item.key).collect();
    let besides: Vec<&str> = items(Route::LineWork).map(|item| item.key).filter(|key| !derrick.contains(key)).collect();
    assert_eq!(besides, [LINE_RULES]);
    assert!(derrick.len() > items(Route::LineWork).count());
}

#[test]
fn the_list_of_twelve_is_whole() {
    let paragraphs: Vec<&str> = items(Route::CloserByAgreement).map(|item| item.rule).collect();
    for number in 1..=12 {
        let paragraph = format!("(d)({number})");
        assert!(paragraphs.iter().any(|rule| rule.contains("1410") && rule.contains(&paragraph)), "{paragraph}");
    }
}

#[test]
fn keys_are_unique_within_a_route() {
    for route in ROUTES {
        let mut keys: Vec<&str> = items(route).chain(optional(route)).map(|item| item.key).collect();
        let count = keys.len();
        keys.sort_unstable();
        keys.dedup();
        assert_eq!(keys.len(), count);
    }
}

/// An employer's file with one answer.
fn file(item: &str, valid_until: &str) -> Option<Standing> {
    let answer = StandingAnswer {
        item: item.to_owned(),
        who: None,
        when: None,
        document: Some("manual 7, revision of 2025, feeder 4".to_owned()),
        valid_until: Date::parse(valid_until),
        how: Some("the table of the company's manual".to_owned()),
    };
    Some(Standing { file: "ours.ron".to_owned(), employer: "Lowland Line".to_owned(), answers: vec![answer] })
}

#[test]
fn an_employer_answers_once_what_is_not_of_one_day() {
    for (item, until, expected) in [
        ("employer_distance", "2026-12-31", &[][..]),
        ("employer_distance", "2026-03-04", &[]),
        ("employer_distance", "2026-03-03", &[(Grade::Stop, "standing_expired")]),
        ("observer", "2026-12-31", &[(Grade::Stop, "not_arranged"), (Grade::Stop, "standing_of_one_day")]),
        ("reclosing", "2026-12-31", &[(Grade::Stop, "not_arranged"), (Grade::Stop, "standing_of_one_day")]),
    ] {
        let mut site = on(Route::LineWork);
        site.basis.arranged.retain(|arranged| arranged.item != item);
        site.basis.standing = file(item, until);
        assert_eq!(codes(&site), expected, "{item} {until}");
    }
    // The day is held against the job's; without one nothing is known to hold.
    let mut site = on(Route::LineWork);
    site.basis.arranged.retain(|arranged| arranged.item != "employer_distance");
    site.basis.standing = file("employer_distance", "2026-12-31");
    site.basis.standing.as_mut().unwrap().answers[0].valid_until = None;
    assert_eq!(codes(&site), [(Grade::Stop, "answer_incomplete")]);
}

#[test]
fn a_standing_rule_for_covers_says_who_permits_it_and_when() {
    let mut site = on(Route::CloserByAgreement);
    site.basis.standing = file(LOAD_COVER_RULE, "2026-12-31");
    assert_eq!(codes(&site), [(Grade::Stop, "answer_incomplete"), (Grade::Caution, "cover_rule_stated")]);
    let answer = &mut site.basis.standing.as_mut().unwrap().answers[0];
    (answer.who, answer.when) = (Some("the owner's chief engineer".to_owned()), Date::parse("2025-11-01"));
    assert_eq!(codes(&site), [(Grade::Caution, "cover_rule_stated")]);
}

#[test]
fn a_no_of_the_day_is_not_outweighed_by_a_standing_answer() {
    let mut site = on(Route::LineWork);
    set(&mut site, "employer_distance", Answer::No(by("Fox")));
    site.basis.standing = file("employer_distance", "2026-12-31");
    assert_eq!(codes(&site), [(Grade::Stop, "answered_no")]);
}

#[test]
fn each_machine_is_asked_by_name() {
    let mut site = on(Route::LineWork);
    site.basis.live_machines[0].machine = "another crane".to_owned();
    let expected = [(Grade::Stop, "live_machine_not_answered"), (Grade::Stop, "live_machine_unknown")];
    assert_eq!(codes(&site), expected);
    site.basis.route = Route::CraneTable;
    answer_all(&mut site);
    site.basis.live_machines.clear();
    assert_eq!(codes(&site), [], "a crane that keeps the table's distance");
}

#[test]
fn all_four_techniques_or_the_employers_showing() {
    let whole = on(Route::LineWork);
    let with = |change: &dyn Fn(&mut crate::site::LiveMachine)| {
        let mut site = whole.clone();
        change(&mut site.basis.live_machines[0]);
        codes(&site)
    };
    let says = |text: &str| Some(text.to_owned());
    for missing in 0..4 {
        let found = with(&|machine| {
            let Some(Protected::Techniques { ground, bond, mats, barricade }) = &mut machine.protected else {
                panic!()
            };
            *[ground, bond, mats, barricade][missing] = None;
        });
        assert_eq!(found, [(Grade::Stop, "live_machine_techniques")]);
    }
    let shown = |document| Some(Protected::Shown { how: says("insulated mats at every control"), document });
    assert_eq!(with(&|m| m.protected = shown(None)), [(Grade::Stop, "live_machine_not_shown")]);
    assert_eq!(with(&|m| m.protected = shown(says("study 26-7"))), []);
    assert_eq!(with(&|m| m.protected = None), [(Grade::Stop, "live_machine_unprotected")]);
    let bare = with(&|m| (m.protected, m.covered) = (None, says("hose on both phases")));
    assert_eq!(bare, [(Grade::Stop, "live_machine_lines_bare")]);
    assert_eq!(with(&|m| m.covered = says("hose on both phases")), [(Grade::Caution, "live_machine_lines_bare")]);
    assert_eq!(with(&|m| m.insulated = says("by its fiberglass tip")), [(Grade::Stop, "live_machine_not_insulated")]);
    assert_eq!(with(&|m| m.grounded_to = None), [(Grade::Stop, "live_machine_incomplete")]);
    assert_eq!(with(&|m| m.keeps_off = says("x")), [(Grade::Stop, "answer_says_nothing")]);
    assert_eq!(with(&|m| m.said.who.clear()), [(Grade::Stop, "live_machine_incomplete")]);
    assert_eq!(with(&|m| m.said.who = vec!["Zorn".to_owned()]), [(Grade::Stop, "answer_not_on_crew")]);
    assert_eq!(with(&|m| m.said.when = Date::parse("2026-03-02")), [(Grade::Stop, "answer_not_of_the_day")]);
}

#[test]
fn a_crew_that_lacks_somebody_or_a_qualification_stops() {
    let without = |change: &dyn Fn(&mut Site)| {
        let mut site = on(Route::LineWork);
        change(&mut site);
        codes(&site)
    };
    assert_eq!(without(&|s| s.people.clear()), [(Grade::Stop, "crew_not_stated")]);
    let rigger = without(&|s| s.people.retain(|member| !member.is(Role::Rigger)));
    assert!(rigger.contains(&(Grade::Stop, "crew_role_missing")));
    for (index, skill) in [(1, Skill::Operating), (1, Skill::LineWork), (2, Skill::LineWork), (3, Skill::LineWork)] {
        let found = without(&|s| s.people[index].qualified_for.retain(|known| *known != skill));
        assert_eq!(found, [(Grade::Stop, "crew_not_qualified")], "{index} {skill:?}");
    }
    let alone = without(&|s| {
        s.people.iter_mut().for_each(|member| member.qualified_for.retain(|skill| *skill != Skill::FirstAid));
    });
    assert!(alone.contains(&(Grade::Stop, "crew_too_few")));
    let both = without(&|s| s.people[1].roles.push(Role::Observer));
    assert!(both.contains(&(Grade::Stop, "crew_two_duties")));
}

#[test]
fn at_the_crane_tables_distance_nobody_needs_to_be_qualified_for_line_work_but_line_workers() {
    let mut site = on(Route::CraneTable);
    site.people[1].qualified_for = vec![Skill::Operating];
    assert_eq!(codes(&site), []);
    site.basis.route = Route::LineWork;
    assert!(codes(&site).contains(&(Grade::Stop, "crew_not_qualified")));
}

#[test]
fn line_work_must_be_declared_to_leave_the_agreed_distance() {
    let mut site = on(Route::CloserByAgreement);
    let reason = Answer::DoesNotApply { reason: Reason::LineWork, said: by("Fox") };
    set(&mut site, "agreed_distance", reason);
    assert_eq!(codes(&site), [(Grade::Stop, "reason_contradicted")]);
    let item = find(Route::CloserByAgreement, LINE_RULES).unwrap();
    site.basis.arranged.push(answer(item, &site.people, &site.circuits));
    assert_eq!(codes(&site), []);
    // Then the machine is asked for as on the line-work route.
    site.basis.live_machines.clear();
    assert_eq!(codes(&site), [(Grade::Stop, "live_machine_not_answered")]);
}

#[test]
fn letters_to_change() {
    assert_eq!(edits("", "abc"), 3);
    assert_eq!(edits("observer", "observer"), 0);
    assert_eq!(edits("reclosng", "reclosing"), 1);
}
