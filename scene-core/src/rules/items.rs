//! The list that comes with each route of work, and whether the scene answers it.
//!
//! An item is answered in words (who, what, how, or by which exception it does not apply here). The program does not
//! judge the answer; it insists that there is one.

use super::distance::{approach_distance, crane_distance};
use super::{Exposure, RuleError, altitude_factor, required};
use crate::finding::{self, Finding, Rules, Unit};
use crate::machine::Role;
use crate::site::{Basis, Route, Site};

/// How well the paragraph behind an item is known; the weaker word where several paragraphs stand behind it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Status {
    /// Read in a published copy of the rule.
    Verified,
    /// Recalled; read the current text before leaning on it.
    Memory,
}

/// Something to be arranged before the lift.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Item {
    /// Stable name, under which the scene answers.
    pub key: &'static str,
    /// What is asked, in our own words.
    pub text: &'static str,
    /// Paragraph, 29 CFR unless said otherwise.
    pub rule: &'static str,
    pub status: Status,
}

const fn item(key: &'static str, text: &'static str, rule: &'static str, status: Status) -> Item {
    Item { key, text, rule, status }
}

use Status::{Memory, Verified};

/// Answered on the closer-by-agreement route where a rule or the agreement lets double cover excuse the load.
pub(super) const LOAD_COVER_RULE: &str = "load_cover_rule";

/// Work on every route: briefing, circuit, pole, ground, machine.
static COMMON: &[Item] = &[
    item(
        "conditions",
        "Nominal voltages, switching surges, induced voltage, grounds, state of the poles, other circuits and surroundings were found out beforehand",
        "1910.269(a)(4) [1926.950(d)]",
        Memory,
    ),
    item(
        "briefing",
        "Who briefs the crew, before the job and again when anything changes, on five subjects: hazards, work procedures, special precautions, energy-source controls, protective equipment",
        "1910.269(c) [1926.952]",
        Verified,
    ),
    item(
        "crew",
        "Who is in charge, operates, signals, rigs and works near the line: each qualified for it, two at least above 600 V, the operator at the controls while the pole hangs",
        "1910.269(l)(1), (l)(2), (p)(1) [1926.960(b), 1926.959(a)]; 1926.1417(e), 1419, 1425(c)(3), 1427",
        Memory,
    ),
    item(
        "reclosing",
        "Automatic reclosing is made inoperative on every circuit near the work and a hot-line tag holds it so; who took it out and who gives it back",
        "1926.1410(d)(1); common practice on the other routes",
        Memory,
    ),
    item(
        "tag_line",
        "Tag lines near live parts are non-conductive, dry and clean; who holds them",
        "1926.1407(b)(2), 1408(b)(2), 1410(d)(7)",
        Verified,
    ),
    item(
        "structure_strength",
        "Neighbouring structures, guys and arms carry what is put on them, held-out phases included, before anyone climbs or loads them",
        "1910.269(q)(1) [1926.964(a)]",
        Verified,
    ),
    item(
        "pole_handling",
        "The pole touches no exposed live conductor, and everyone who handles it wears protective equipment rated for the voltage or uses insulated tools, no bare part of the body on the pole",
        "1910.269(q)(1) [1926.964(a)]",
        Verified,
    ),
    item("under_pole", "Nobody stands or frames under the hanging pole", "1926.1425; common practice", Memory),
    item(
        "hole_guarded",
        "The hole is attended or physically guarded whenever anyone is near",
        "1910.269(q)(1) [1926.964(a)]",
        Verified,
    ),
    item(
        "ground",
        "The ground is firm, drained and level enough for the maker's limits, with mats where needed; tanks, voids and buried services under it are known",
        "1926.1402(b), (c)(2), (e)",
        Verified,
    ),
    item(
        "outriggers",
        "Outriggers are out as the maker requires, firmly set on pads, each seen by the operator or a signal person while it moves",
        "1910.269(p)(2) [1926.959(b)]; 1926.1404(q)",
        Memory,
    ),
    item(
        "machine_check",
        "Parts whose failure would let the boom fall or turn freely are looked over before use on each shift; the crane has its shift inspection",
        "1910.269(p)(1) [1926.959(a)]; 1926.1412(d)",
        Memory,
    ),
    item(
        "gear_check",
        "Gloves, sleeves, covers, sticks and rigging are in date and looked over before use each day; gloves air-tested",
        "1910.137(c)(2); 1926.251",
        Memory,
    ),
    item(
        "weight_source",
        "Where the pole's weight comes from (maker, calculation, weighing), and who compares it with the indicator once the pole hangs",
        "1926.1417(o)(3)",
        Memory,
    ),
    item(
        "stop_work",
        "Wind, lightning, rain and light at which work stops; anyone's stop signal is obeyed",
        "1926.1417(n), (y); 1418",
        Memory,
    ),
    item(
        "swing_area",
        "The sweep of the counterweight and the fall zone are marked and kept free of people",
        "1926.1424(a), 1425",
        Memory,
    ),
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
    ),
    item(
        "planning_meeting",
        "Operator and crew met to plan where the lines are and how the distance is kept",
        "1926.1408(b)(1)",
        Verified,
    ),
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
    ),
    item(
        "under_the_line",
        "Nothing of the machine or the load works under a live line, or which exception covers it",
        "1926.1408(d)",
        Memory,
    ),
    item("line_training", "Operator and crew are trained for work near power lines", "1926.1408(g)", Memory),
];

/// The reasons, the list of twelve (with `reclosing` and `tag_line` of the common list), the paper.
static CLOSER: &[Item] = &[
    item("table_infeasible", "Why the work cannot be done at Table A's full distance", "1926.1410(a)", Verified),
    item(
        "outage_infeasible",
        "Why the line cannot be dead and grounded, or moved, after asking its owner",
        "1926.1410(b)",
        Verified,
    ),
    item(
        "agreed_distance",
        "Who set the least distance: the owner, a registered engineer qualified in power lines, or for subpart V work the employer by 1926.960(c)(1)(i)",
        "1926.1410(c)(1), (c)(2)",
        Verified,
    ),
    item(
        "planning_meeting",
        "Employer and line owner (or the engineer) met and set the procedures against contact",
        "1926.1410(d)",
        Memory,
    ),
    item(
        "observer",
        "A dedicated spotter with nothing else to do, a visual aid, and direct talk with the operator watches the distance",
        "1926.1410(d)(2)",
        Memory,
    ),
    item(
        "warning_line",
        "An elevated warning line or barricade, not on the crane, in the operator's view, marks the distance",
        "1926.1410(d)(3)",
        Memory,
    ),
    item(
        "insulating_link",
        "An insulating link between the hoist line's end and the load, or by which exception none is due",
        "1926.1410(d)(4)",
        Memory,
    ),
    item("rigging_nonconductive", "Rigging that may come near the line is non-conductive", "1926.1410(d)(5)", Memory),
    item(
        "range_limiter",
        "A range limiter keeps boom and load from passing the distance, where the crane has one",
        "1926.1410(d)(6)",
        Memory,
    ),
    item("barricade", "Barricades keep people at least 10 ft from the equipment", "1926.1410(d)(8)", Verified),
    item(
        "hands_off",
        "Nobody touches the hoist line above the insulating link, nor the machine, other than the operator on it",
        "1926.1410(d)(9)",
        Memory,
    ),
    item("essential_people", "Only people essential to the lift are in the area", "1926.1410(d)(10)", Memory),
    item("grounded", "The crane is properly grounded: to what, by which lead", "1926.1410(d)(11)", Memory),
    item(
        "line_cover",
        "Line hose or cover is on the line in the area of work, put on by the owner where it can be had",
        "1926.1410(d)(12)",
        Memory,
    ),
    item("procedures_written", "The procedures are written down and on site", "1926.1410(e)", Memory),
    item(
        "procedures_reviewed",
        "Owner and employer went through the procedures with operator and crew before work began",
        "1926.1410(f), (g)",
        Memory,
    ),
    item(
        "person_in_charge",
        "One person directs the procedures for owner and employers alike and can stop the work",
        "1926.1410(h)",
        Memory,
    ),
    item("line_training", "Operator and crew are trained for work near power lines", "1926.1410(m), 1408(g)", Memory),
];

static LINE_WORK: &[Item] = &[
    item(
        "employer_distance",
        "The employer has set the approach distances, no less than the tables give",
        "1910.269(l)(3)(i), (ii) [1926.960(c)(1)]",
        Verified,
    ),
    item(
        "observer",
        "Someone other than the operator watches the approach distance and warns in time, or how the operator was shown to judge it himself",
        "1910.269(p)(4)(ii) [1926.959(d)(2)]",
        Memory,
    ),
    item(
        "live_machine",
        "In case the machine could become live, at least one of: the lines covered against the contact that could be made; the machine insulated for the voltage; every worker protected by best available ground, bonding, ground mats, insulating equipment or barricades",
        "1910.269(p)(4)(iii) [1926.959(d)(3)]",
        Memory,
    ),
];

/// A digger derrick at pole work, besides the list of line work.
static DIGGER_DERRICK: &[Item] = &[
    item(
        "pole_work_only",
        "The derrick only augers holes for poles of power or telecommunication lines, sets or removes such poles, or handles what goes on or into them; anything else, or a crane in its place, is under the crane rules",
        "1926.1400(c)(4)",
        Memory,
    ),
    item(
        "derrick_rating",
        "The pole's weight and every radius are within the derrick's chart and design limits; who reads the chart on the machine; guides and winch line are not added together",
        "1910.269(p)(1) [1926.959(a)]",
        Memory,
    ),
    item(
        "truck_grounding",
        "Before boom or pole can come near the line the truck is grounded to the best ground there is, bonded to what is worked beside it, and barricaded: to what, by which lead, who looks at it",
        "1910.269(p)(4)(iii)(C) [1926.959(d)(3)(iii)]",
        Memory,
    ),
    item(
        "off_the_truck",
        "Nobody on the ground touches the truck, its outriggers, winch line or tools on it, and nobody steps on or off, while boom or pole could touch the line; where the operator stands meanwhile",
        "1910.269(p)(4)(iii) [1926.959(d)(3)]",
        Memory,
    ),
    item(
        "pole_gloves",
        "In case the pole touches a phase: who guides the butt, with insulating gloves and sleeves rated for the voltage or with insulated tools, and what the pole wears",
        "1910.269(q)(1) [1926.964(a)]",
        Verified,
    ),
    item(
        "services_marked",
        "Buried services at the hole are located and marked before the auger turns",
        "1926.651(b)",
        Memory,
    ),
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
    ),
];

/// Answers that nobody is asked for.
static OPTIONAL: &[Item] = &[item(
    LOAD_COVER_RULE,
    "The rule or agreement by which double cover excuses the load from the approach distance",
    "stated by the scene",
    Memory,
)];

/// The whole list of a route, what is common to all routes first.
pub fn items(route: Route) -> impl Iterator<Item = &'static Item> {
    let (own, further): (&[Item], &[Item]) = match route {
        Route::CraneTable => (CRANE_TABLE, &[]),
        Route::CloserByAgreement => (CLOSER, &[]),
        Route::LineWork => (LINE_WORK, &[]),
        Route::DiggerDerrick => (LINE_WORK, DIGGER_DERRICK),
    };
    COMMON.iter().chain(own).chain(further)
}

/// Whether the scene says anything under this key.
pub(super) fn answered(basis: &Basis, key: &str) -> bool {
    basis.arranged.iter().any(|answer| answer.item.trim() == key && !answer.how.trim().is_empty())
}

/// What the basis of work lacks: unanswered items, unknown keys, the scene's own distance and residual gap, altitude, and
/// every circuit whose distance cannot be looked up. Everything here is found once, whatever the bodies do.
pub fn basis(site: &Site) -> Vec<Finding> {
    let mut found = unanswered(&site.basis);
    found.extend(unknown_answers(&site.basis));
    found.extend(without_derrick(site));
    found.extend(own_distance(site));
    found.extend(residual_gap(&site.basis));
    if let Err(error) = altitude_factor(site.altitude_m) {
        found.push(error.into());
    }
    found.extend(without_distance(site));
    found
}

fn unanswered(basis: &Basis) -> Vec<Finding> {
    items(basis.route)
        .filter(|item| !answered(basis, item.key))
        .map(|item| {
            let Item { key, text, rule, .. } = *item;
            finding::stop(Rules::NotArranged { key, text, rule, recalled: item.status == Memory })
        })
        .collect()
}

/// The route is the derrick's alone: "A CRANE setting a pole gets no such exemption."
fn without_derrick(site: &Site) -> Option<Finding> {
    let named = site.basis.route == Route::DiggerDerrick && site.crane.derrick.is_none();
    named.then(|| finding::stop(Rules::RouteNeedsDerrick { crane: site.crane.name.clone() }))
}

fn unknown_answers(basis: &Basis) -> Vec<Finding> {
    let mut found = Vec::new();
    let mut seen: Vec<&str> = Vec::new();
    for answer in &basis.arranged {
        let key = answer.item.trim();
        if seen.contains(&key) {
            found.push(finding::caution(Rules::ArrangedTwice { key: key.to_owned() }));
            continue;
        }
        seen.push(key);
        if !items(basis.route).chain(OPTIONAL).any(|item| item.key == key) {
            let nearest = items(basis.route).chain(OPTIONAL).map(|item| item.key).min_by_key(|known| edits(key, known));
            found.push(finding::caution(Rules::ArrangedUnknown { key: key.to_owned(), nearest }));
        } else if key == LOAD_COVER_RULE
            && answered(basis, key)
            && !matches!(basis.route, Route::LineWork | Route::DiggerDerrick)
        {
            found.push(finding::caution(match basis.route {
                Route::CraneTable => Rules::CoverRuleUnused,
                _ => Rules::CoverRuleStated { rule: answer.how.trim().to_owned() },
            }));
        }
    }
    found
}

/// How many letters must be put in, taken out or changed to make one word the other; of long words only the first 64
/// letters are looked at.
fn edits(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().take(64).collect();
    let mut previous: Vec<usize> = (0..=b.len()).collect();
    for (row, letter) in a.chars().take(64).enumerate() {
        let mut current = vec![row + 1];
        for ((other, diagonal), above) in b.iter().zip(&previous).zip(previous.iter().skip(1)) {
            let left = current.last().copied().unwrap_or(row + 1);
            current.push((diagonal + usize::from(letter != *other)).min(left + 1).min(above + 1));
        }
        previous = current;
    }
    previous.last().copied().unwrap_or(0)
}

/// A distance of the scene's own that is laxer than the rule's for some circuit does not hold there.
fn own_distance(site: &Site) -> Vec<Finding> {
    let Some(own_m) = site.basis.own_distance_m else {
        return Vec::new();
    };
    if !own_m.is_finite() || own_m < 0.0 {
        return vec![RuleError::OwnDistance { distance_m: own_m }.into()];
    }
    site.circuits
        .iter()
        .filter_map(|circuit| {
            let row = match site.basis.route {
                Route::CraneTable => crane_distance(circuit.voltage_v),
                _ => approach_distance(circuit.voltage_v, Exposure::PhaseToPhase),
            }
            .ok()?;
            // With altitude, where the factor applies and is known: without it there is a stop already.
            let factor = match site.basis.route {
                Route::CraneTable => 1.0,
                _ => altitude_factor(site.altitude_m).unwrap_or(1.0),
            };
            let rule_m = row.distance_m * factor;
            (own_m < rule_m).then(|| {
                let circuit = circuit.name.clone();
                let fact = Rules::OwnDistanceBelowRule { own_m, rule_m, row: row.row.clone(), circuit };
                finding::caution(fact).measured(own_m, rule_m, Unit::Meter)
            })
        })
        .collect()
}

fn residual_gap(basis: &Basis) -> Option<Finding> {
    let gap_m = basis.residual_gap_m;
    if !gap_m.is_finite() || gap_m < 0.0 {
        return Some(finding::stop(Rules::ResidualGapUnusable));
    }
    (gap_m == 0.0).then(|| finding::caution(Rules::ResidualGapZero).measured(0.0, 0.0, Unit::Meter))
}

/// Wires that have no distance to be held to, each circuit named once.
fn without_distance(site: &Site) -> Vec<Finding> {
    // A voltage that is not a number is the same as itself, too.
    let is_same = |a: &RuleError, b: &RuleError| format!("{a:?}") == format!("{b:?}");
    let mut errors: Vec<RuleError> = Vec::new();
    for wire in 0..site.wires.len() {
        for body in [Role::MachineConductive, Role::Worker] {
            match required(site, body, wire, Exposure::PhaseToGround) {
                Err(RuleError::Altitude { .. } | RuleError::OwnDistance { .. }) | Ok(_) => {}
                Err(error) if errors.iter().any(|known| is_same(known, &error)) => {}
                Err(error) => errors.push(error),
            }
        }
    }
    errors.into_iter().map(Finding::from).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::Grade;
    use crate::fixtures::line::{answer_all, derrick, site};
    use crate::quantity::show::Units;
    use crate::report::words;
    use crate::site::Arranged;

    const ROUTES: [Route; 4] = [Route::CraneTable, Route::CloserByAgreement, Route::LineWork, Route::DiggerDerrick];

    fn on(route: Route) -> Site {
        let mut site = site(12_470.0);
        site.basis.route = route;
        site.crane.derrick = Some(derrick());
        site
    }

    fn codes(site: &Site) -> Vec<(Grade, &'static str)> {
        basis(site).iter().map(|finding| (finding.grade, finding.code())).collect()
    }

    #[test]
    fn every_item_that_nobody_answers_is_a_stop() {
        for route in ROUTES {
            let mut site = on(route);
            site.basis.arranged.clear();
            let found = codes(&site);
            assert_eq!(found.len(), items(route).count());
            assert!(found.iter().all(|finding| *finding == (Grade::Stop, "not_arranged")));
            answer_all(&mut site);
            assert_eq!(codes(&site), []);
        }
    }

    #[test]
    fn each_item_in_turn_is_missed_when_it_alone_is_left_out() {
        for route in ROUTES {
            let mut whole = on(route);
            answer_all(&mut whole);
            for index in 0..whole.basis.arranged.len() {
                let mut site = whole.clone();
                let left_out = site.basis.arranged.remove(index);
                let found = basis(&site);
                assert_eq!(found.len(), 1);
                assert!(words::message(&found[0], Units::Both).contains(&left_out.item));
            }
        }
    }

    #[test]
    fn an_answer_without_words_is_no_answer() {
        let mut site = site(12_470.0);
        site.basis.arranged[0].how = "  ".into();
        assert_eq!(codes(&site), [(Grade::Stop, "not_arranged")]);
    }

    #[test]
    fn a_misspelt_item_is_named_with_the_one_it_resembles() {
        let mut site = site(12_470.0);
        site.basis.arranged.push(Arranged { item: "reclosng".into(), how: "tag 14".into() });
        let found = basis(&site);
        assert_eq!((found[0].grade, found[0].code()), (Grade::Caution, "arranged_unknown"));
        assert!(words::of(&found[0], Units::Both).fix.contains("`reclosing`"));
    }

    #[test]
    fn a_crane_on_the_derricks_route_is_a_stop() {
        let mut site = on(Route::DiggerDerrick);
        answer_all(&mut site);
        assert_eq!(codes(&site), []);
        site.crane.derrick = None;
        assert_eq!(codes(&site), [(Grade::Stop, "route_needs_derrick")]);
    }

    #[test]
    fn the_derricks_list_holds_all_of_line_work() {
        let derrick: Vec<&str> = items(Route::DiggerDerrick).map(|item| item.key).collect();
        assert!(items(Route::LineWork).all(|item| derrick.contains(&item.key)));
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
            let mut keys: Vec<&str> = items(route).map(|item| item.key).collect();
            let count = keys.len();
            keys.sort_unstable();
            keys.dedup();
            assert_eq!(keys.len(), count);
        }
    }

    #[test]
    fn a_laxer_distance_of_ones_own_is_a_caution_and_an_unusable_one_a_stop() {
        let mut site = site(12_470.0);
        site.basis.own_distance_m = Some(0.5);
        assert_eq!(codes(&site), [(Grade::Caution, "own_distance_below_rule")]);
        site.basis.own_distance_m = Some(f64::NAN);
        assert_eq!(codes(&site), [(Grade::Stop, "own_distance_unusable")]);
    }

    #[test]
    fn a_residual_gap_of_nothing_is_said_and_one_that_is_no_number_stops() {
        let mut site = site(12_470.0);
        site.basis.residual_gap_m = 0.0;
        assert_eq!(codes(&site), [(Grade::Caution, "residual_gap_zero")]);
        site.basis.residual_gap_m = f64::NAN;
        assert_eq!(codes(&site), [(Grade::Stop, "residual_gap_unusable")]);
    }

    #[test]
    fn altitude_and_voltage_that_are_not_known_stop_once_each() {
        let mut site = site(f64::NAN);
        site.altitude_m = 7000.0;
        assert_eq!(codes(&site), [(Grade::Stop, "altitude_outside_table"), (Grade::Stop, "voltage_unusable")]);
    }

    #[test]
    fn letters_to_change() {
        assert_eq!(edits("", "abc"), 3);
        assert_eq!(edits("observer", "observer"), 0);
        assert_eq!(edits("reclosng", "reclosing"), 1);
    }
}
