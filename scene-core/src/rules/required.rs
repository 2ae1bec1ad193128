//! Which distance holds for a body and a wire.

use super::distance::{Distance, altitude_factor, approach_distance, at_altitude, crane_distance};
use super::{RuleError, gates};
use crate::machine::Role;
use crate::site::{Circuit, Grounding, Method, Route, Site, WireKind};

/// Between what a body could put itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exposure {
    /// Holds only where the body is proven apart from every second potential, on an effectively grounded circuit.
    PhaseToGround,
    PhaseToPhase,
}

/// A number that went into the required distance, in the order in which they were looked at; the greatest holds.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    pub what: String,
    pub distance_m: f64,
}

/// The distance that a rule demands of a pair.
#[derive(Clone, Debug, PartialEq)]
pub struct Required {
    /// Meters; 0 means no contact, which is forbidden all the same.
    pub distance_m: f64,
    /// Feet as the table prints them, for people who tape the distance out in feet: not a conversion. `None` where the
    /// distance is not the table's own number.
    pub printed_ft: Option<f64>,
    /// Paragraph and table row.
    pub rule: String,
    /// `None` where exposure plays no part (crane table, no contact).
    pub exposure: Option<Exposure>,
    /// What a person should know of how the distance was chosen; may be empty.
    pub note: String,
    pub parts: Vec<Part>,
}

/// The distance that a body of this kind must keep from a wire, on the site's route, at its altitude.
///
/// `exposure` is what has been proven of the body: `PhaseToGround` only when it is apart from every second potential
/// (see [`bridging`]). On a circuit that is not effectively grounded the exposure is phase to phase whatever is given.
///
/// Conservative readings that are ours:
/// - the neutral of an effectively grounded circuit, and a communication line, may not be touched (distance 0); on the
///   crane-table route the neutral is part of the power line and gets Table A's distance, since 1926.1408(e) presumes
///   every power line energized;
/// - the neutral of a circuit that is not effectively grounded may stand at the voltage of a phase and is treated as one;
/// - people and insulated lifts are line work on every route: Table A is about the crane;
/// - closer by agreement, the machine keeps what the line's owner or a registered engineer set, and no less than the line-work
///   tables give, from the neutral too; while nobody has set it, Table A holds. Only declared line work takes the line-work
///   distance alone (1926.1410(c)(1), (c)(2));
/// - the scene's own distance applies to what is energized, and the greater of it and the rule's holds.
pub fn required(site: &Site, body: Role, wire: usize, exposure: Exposure) -> Result<Required, RuleError> {
    let Some(live) = live(site, wire)? else {
        return Ok(no_contact(site, wire));
    };
    let exposure = match live.circuit.grounding {
        Grounding::EffectivelyGrounded => exposure,
        Grounding::Ungrounded => Exposure::PhaseToPhase,
    };
    match figure(site, body) {
        Figure::CraneTable => crane_table(site, live.circuit.voltage_v),
        Figure::Agreed { distance_m } => agreed(site, body, live.circuit.voltage_v, exposure, distance_m),
        Figure::LineWork if !live.energized => Ok(no_contact(site, wire)),
        Figure::LineWork => line_work(site, body, live.circuit.voltage_v, exposure),
    }
}

/// The distance that a body must keep from both wires, and that the sum of its two gaps must reach, unless it is proven
/// apart from `second` by this much; `None` when the two are at one potential.
///
/// - Two phases of a circuit: its phase-to-phase distance.
/// - A phase and a grounded neutral or a communication strand: the phase's distance to ground, which keeping the
///   required distance from the phase satisfies; it matters where the phase is excused because it is covered.
/// - Wires of two circuits, whose phase relation is not known: the phase-to-phase distance of the highest of both
///   circuits' voltages and of the sum of both wires' voltages to ground.
pub fn bridging(site: &Site, body: Role, wire: usize, second: usize) -> Result<Option<Required>, RuleError> {
    let (a, b) = (live(site, wire)?, live(site, second)?);
    let (to_ground_a, to_ground_b) = (voltage_to_ground(site, wire)?, voltage_to_ground(site, second)?);
    let energized = |live: &Option<Live>| live.as_ref().is_some_and(|live| live.energized);
    match (a, b) {
        _ if wire == second => Ok(None),
        (a, b) if !energized(&a) && !energized(&b) => Ok(None),
        (a, b) if !energized(&b) || !energized(&a) => {
            let one = if energized(&a) { wire } else { second };
            required(site, body, one, Exposure::PhaseToGround).map(Some)
        }
        (Some(a), Some(b)) => {
            let mut voltage_v = a.circuit.voltage_v.max(b.circuit.voltage_v);
            if a.index != b.index {
                voltage_v = voltage_v.max(to_ground_a + to_ground_b);
            }
            match figure(site, body) {
                Figure::CraneTable => crane_table(site, voltage_v),
                Figure::Agreed { distance_m } => agreed(site, body, voltage_v, Exposure::PhaseToPhase, distance_m),
                Figure::LineWork => line_work(site, body, voltage_v, Exposure::PhaseToPhase),
            }
            .map(Some)
        }
        _ => Ok(None),
    }
}

/// What two wires keep from each other, meters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Apart {
    /// The approach distance phase to phase.
    pub distance_m: f64,
    /// The part of it that is there for the voltage, not for movement.
    pub electrical_m: f64,
}

/// How far two wires are to be apart while a crew moves one of them, by the approach tables whatever the route; `None` when neither is
/// energized. The phase-to-phase column holds for a phase and a grounded wire too, which errs high.
///
/// # Errors A wire or circuit that is not there, a voltage or an altitude outside the tables.
pub fn wires_apart(site: &Site, wire: usize, second: usize) -> Result<Option<Apart>, RuleError> {
    let (a, b) = (live(site, wire)?, live(site, second)?);
    let energized = |live: &Option<Live>| live.as_ref().is_some_and(|live| live.energized);
    if wire == second || !(energized(&a) || energized(&b)) {
        return Ok(None);
    }
    let own_v = [&a, &b].into_iter().flatten().map(|live| live.circuit.voltage_v).fold(0.0, f64::max);
    let same = matches!((&a, &b), (Some(a), Some(b)) if a.index == b.index);
    let sum_v = if same { 0.0 } else { voltage_to_ground(site, wire)? + voltage_to_ground(site, second)? };
    let row = approach_distance(own_v.max(sum_v), Exposure::PhaseToPhase)?;
    let raised = at_altitude(&row, altitude_factor(site.altitude_m)?);
    let distance_m = row.distance_m.max(raised.electrical_part_m).max(raised.whole_m);
    Ok(Some(Apart { distance_m, electrical_m: raised.electrical_part_m - row.movement_m }))
}

/// The highest voltage to ground at which a wire may stand, volts rms; 0 for what is at ground.
///
/// A phase that is not effectively grounded, and the neutral of such a circuit, reach the phase-to-phase voltage when
/// another phase faults.
pub fn voltage_to_ground(site: &Site, wire: usize) -> Result<f64, RuleError> {
    Ok(match live(site, wire)? {
        Some(live) if live.energized => match live.circuit.grounding {
            Grounding::EffectivelyGrounded => live.circuit.voltage_v / 3f64.sqrt(),
            Grounding::Ungrounded => live.circuit.voltage_v,
        },
        _ => 0.0,
    })
}

/// Whether proven double cover excuses a body of this kind from the required distance on the site's route.
///
/// Only the load, and only by line-work rules: there the distance gives way where the energized part is insulated from
/// the object (1910.269(l)(3)(iii)(B), 1926.960(c)(1)(iii)(B)). 1926.1410(c)(2) takes over the distance but not that
/// exception, and Table A has none; on the closer-by-agreement route the scene may answer `load_cover_rule` with the
/// rule or agreement that grants it. The crane is never made approachable by cover.
pub fn cover_counts(site: &Site, body: Role) -> bool {
    beyond_insulation(body)
        || body == Role::Load
            && match site.basis.route {
                Route::LineWork | Route::DiggerDerrick => true,
                Route::CloserByAgreement => gates::stated(&site.basis, gates::LOAD_COVER_RULE),
                Route::CraneTable => false,
            }
}

/// What of a lift has no ground behind it: cover of the wire alone excuses it, for there the energized part is insulated from
/// the worker and from every object at another potential (1910.269(l)(3)(iii)(B)).
pub fn beyond_insulation(body: Role) -> bool {
    matches!(body, Role::InsulatedLift | Role::Worker)
}

/// Why the one wire that is worked on needs no distance from a body of this kind; `None` where it does.
///
/// - The insulated part of a lift, worked by the qualified person in it: 1910.269(p)(4)(i), 1926.959(d)(1) (memory).
/// - The worker with gloves, or gloves and sleeves, rated for the voltage: 1910.269(l)(3)(iii)(A), 1926.960(c)(1)(iii)(A).
///   With a stick it is the stick alone that comes nearer, so that the worker keeps the distance.
pub fn works_on(body: Role, method: Method) -> Option<&'static str> {
    match (body, method) {
        (Role::InsulatedLift, _) => {
            Some("29 CFR 1910.269(p)(4)(i), insulated part of an aerial lift at the wire that is worked on")
        }
        (Role::Worker, Method::Gloves) => {
            Some("29 CFR 1910.269(l)(3)(iii)(A), gloves and sleeves at the wire that is worked on")
        }
        _ => None,
    }
}

/// A wire that belongs to a circuit.
struct Live<'a> {
    index: usize,
    circuit: &'a Circuit,
    /// False for the neutral of an effectively grounded circuit.
    energized: bool,
}

/// `None` for communication.
fn live(site: &Site, wire: usize) -> Result<Option<Live<'_>>, RuleError> {
    let found = site.wires.get(wire).ok_or(RuleError::UnknownWire { wire })?;
    let (index, neutral) = match found.kind {
        WireKind::Phase { circuit } => (circuit, false),
        WireKind::Neutral { circuit } => (circuit, true),
        WireKind::Communication => return Ok(None),
    };
    let circuit = site.circuits.get(index).ok_or_else(|| RuleError::UnknownCircuit { wire: found.name.clone() })?;
    let energized = !(neutral && circuit.grounding == Grounding::EffectivelyGrounded);
    Ok(Some(Live { index, circuit, energized }))
}

fn route_for(site: &Site, body: Role) -> Route {
    match body {
        Role::LiftConductive | Role::InsulatedLift | Role::Worker => Route::LineWork,
        Role::MachineConductive | Role::NonConductiveRigging | Role::Load => site.basis.route,
    }
}

/// By which figure the distance of a body is set.
enum Figure {
    CraneTable,
    /// By the line's owner or a registered engineer.
    Agreed {
        distance_m: f64,
    },
    LineWork,
}

fn figure(site: &Site, body: Role) -> Figure {
    match route_for(site, body) {
        Route::CraneTable => Figure::CraneTable,
        Route::LineWork | Route::DiggerDerrick => Figure::LineWork,
        Route::CloserByAgreement if gates::stated(&site.basis, gates::LINE_RULES) => Figure::LineWork,
        Route::CloserByAgreement => match gates::agreed_distance_m(&site.basis) {
            Some(distance_m) => Figure::Agreed { distance_m },
            None => Figure::CraneTable,
        },
    }
}

/// The agreed distance, and no less than the line-work tables give. Where they give none with a large object in the gap, the
/// agreement is the analysis that they ask for.
fn agreed(site: &Site, body: Role, voltage_v: f64, exposure: Exposure, distance_m: f64) -> Result<Required, RuleError> {
    let least = match line_work(site, body, voltage_v, exposure) {
        Ok(least) => Some(least),
        Err(RuleError::ObjectInGap { .. }) => None,
        Err(error) => return Err(error),
    };
    let part = Part { what: "the agreed distance".to_string(), distance_m };
    match least {
        Some(mut least) if least.distance_m >= distance_m => {
            least.parts.push(part);
            Ok(least)
        }
        least => with_own(
            site,
            Required {
                distance_m,
                printed_ft: None,
                rule: "29 CFR 1926.1410(c)(1), as the line's owner or a registered engineer set it".to_string(),
                exposure: None,
                note: "It holds for boom, load line and load alike.".to_string(),
                parts: least.map_or_else(Vec::new, |least| least.parts).into_iter().chain([part]).collect(),
            },
        ),
    }
}

fn no_contact(site: &Site, wire: usize) -> Required {
    let communication = site.wires.get(wire).is_some_and(|wire| wire.kind == WireKind::Communication);
    let (rule, what) = if communication {
        ("common practice: no contact with a communication line", "communication line: no contact")
    } else {
        (
            "common practice: no contact with a grounded neutral",
            "neutral of an effectively grounded circuit: no contact",
        )
    };
    Required {
        distance_m: 0.0,
        printed_ft: None,
        rule: rule.to_string(),
        exposure: None,
        note: "It is a second potential: what reaches from a phase to it bridges phase to ground.".to_string(),
        parts: vec![Part { what: what.to_string(), distance_m: 0.0 }],
    }
}

fn crane_table(site: &Site, voltage_v: f64) -> Result<Required, RuleError> {
    let row = crane_distance(voltage_v)?;
    let rule = format!("29 CFR 1926.1408 {}", row.row);
    let parts = vec![Part { what: row.row.clone(), distance_m: row.distance_m }];
    with_own(
        site,
        Required {
            distance_m: row.distance_m,
            printed_ft: row.printed_ft,
            rule,
            exposure: None,
            note: "Table A holds for boom, load line and load alike; cover does not lessen it.".to_string(),
            parts,
        },
    )
}

fn line_work(site: &Site, body: Role, voltage_v: f64, exposure: Exposure) -> Result<Required, RuleError> {
    let row = approach_distance(voltage_v, exposure)?;
    if exposure == Exposure::PhaseToPhase && voltage_v > 72_500.0 {
        return Err(RuleError::ObjectInGap { voltage_v });
    }
    let factor = altitude_factor(site.altitude_m)?;
    let mut parts = vec![Part { what: row.row.clone(), distance_m: row.distance_m }];
    let mut distance_m = row.distance_m;
    if factor > 1.0 {
        let raised = at_altitude(&row, factor);
        parts.push(Part {
            what: format!("altitude factor {factor:.2} on the electrical part (Table R-3)"),
            distance_m: raised.electrical_part_m,
        });
        parts.push(Part {
            what: format!("altitude factor {factor:.2} on the whole distance (footnote)"),
            distance_m: raised.whole_m,
        });
        distance_m = distance_m.max(raised.electrical_part_m).max(raised.whole_m);
    }
    let in_words = match exposure {
        Exposure::PhaseToGround => "phase to ground",
        Exposure::PhaseToPhase => "phase to phase",
    };
    with_own(
        site,
        Required {
            distance_m,
            printed_ft: row.printed_ft.filter(|_| factor == 1.0),
            rule: format!("29 CFR {}, {}, {in_words}", paragraph(site, body), row.row),
            exposure: Some(exposure),
            note: note(body, &row),
            parts,
        },
    )
}

/// The paragraph that sends this body to Tables R-6 and R-7 (in brackets the twin of subpart V).
fn paragraph(site: &Site, body: Role) -> &'static str {
    match (route_for(site, body), body) {
        (Route::CloserByAgreement, _) => "1926.1410(c)(2) by 1926.960(c)(1)(i) [1910.269(l)(3)(i)]",
        (_, Role::MachineConductive | Role::LiftConductive) => "1910.269(p)(4)(i) [1926.959(d)(1)]",
        _ => "1910.269(l)(3) [1926.960(c)(1)]",
    }
}

fn note(body: Role, row: &Distance) -> String {
    let mut said = Vec::new();
    if row.avoid_contact {
        said.push("The table gives no distance up to 300 V but says to avoid contact.".to_string());
    }
    if row.status != "verified" {
        said.push(format!("How well the row is known: {}.", row.status));
    }
    match body {
        Role::Load => said.push("The pole counts as conductive; wood is no insulation.".to_string()),
        Role::NonConductiveRigging => said.push("Synthetic rigging is not rated as insulation.".to_string()),
        Role::InsulatedLift | Role::Worker => {
            said.push("The exception for the part that is worked on is not taken.".to_string());
        }
        Role::MachineConductive | Role::LiftConductive => {}
    }
    said.join(" ")
}

/// The scene's own distance, where it is the greater one.
fn with_own(site: &Site, mut required: Required) -> Result<Required, RuleError> {
    let Some(own_m) = site.basis.own_distance_m else {
        return Ok(required);
    };
    if !own_m.is_finite() || own_m < 0.0 {
        return Err(RuleError::OwnDistance { distance_m: own_m });
    }
    required.parts.push(Part { what: "the scene's own distance".to_string(), distance_m: own_m });
    if own_m > required.distance_m {
        required.rule = format!("the scene's own distance, above that of {}", required.rule);
        required.distance_m = own_m;
        required.printed_ft = None;
    }
    Ok(required)
}

#[cfg(test)]
mod tests {
    use super::Exposure::{PhaseToGround, PhaseToPhase};
    use super::*;
    use crate::fixtures::line::{site, with_second_circuit};
    use crate::site::{Answer, Arranged, Said};

    const PHASE_A: usize = 0;
    const PHASE_B: usize = 1;
    const NEUTRAL: usize = 2;
    const STRAND: usize = 3;

    fn distance(site: &Site, body: Role, wire: usize, exposure: Exposure) -> f64 {
        required(site, body, wire, exposure).unwrap().distance_m
    }

    #[test]
    fn a_pole_beside_a_12_47_kv_phase_keeps_the_distance_of_its_row() {
        let site = site(12_470.0);
        assert_eq!(distance(&site, Role::Load, PHASE_A, PhaseToGround), 0.65);
        assert_eq!(distance(&site, Role::Load, PHASE_A, PhaseToPhase), 0.68);
        let found = required(&site, Role::MachineConductive, PHASE_A, PhaseToGround).unwrap();
        assert!(found.rule.contains("1910.269(p)(4)(i)") && found.rule.contains("row 5.1-15.0 kV"), "{}", found.rule);
        assert_eq!(found.printed_ft, Some(2.14));
    }

    #[test]
    fn a_delta_circuit_is_phase_to_phase_whatever_is_claimed() {
        let mut site = site(12_470.0);
        site.circuits[0].grounding = Grounding::Ungrounded;
        assert_eq!(distance(&site, Role::Load, PHASE_A, PhaseToGround), 0.68);
        assert_eq!(distance(&site, Role::Load, NEUTRAL, PhaseToGround), 0.68);
    }

    #[test]
    fn neutral_and_strand_may_not_be_touched_and_are_never_nothing() {
        let site = site(12_470.0);
        for wire in [NEUTRAL, STRAND] {
            let found = required(&site, Role::Load, wire, PhaseToGround).unwrap();
            assert_eq!(found.distance_m, 0.0);
            assert!(found.rule.contains("no contact"));
        }
    }

    #[test]
    fn the_crane_table_takes_ten_feet_from_every_wire_of_the_power_line() {
        let mut site = site(12_470.0);
        site.basis.route = Route::CraneTable;
        for wire in [PHASE_A, PHASE_B, NEUTRAL] {
            assert!((distance(&site, Role::Load, wire, PhaseToGround) - 3.048).abs() < 1e-12);
        }
        assert_eq!(distance(&site, Role::Load, STRAND, PhaseToGround), 0.0);
        assert_eq!(distance(&site, Role::Worker, PHASE_A, PhaseToGround), 0.65);
    }

    #[test]
    fn at_altitude_the_greater_reading_holds() {
        let mut site = site(12_470.0);
        site.altitude_m = 1500.0;
        let found = required(&site, Role::Load, PHASE_A, PhaseToPhase).unwrap();
        assert!((found.distance_m - 0.714).abs() < 1e-9, "{}", found.distance_m);
        assert!(found.parts.iter().any(|part| (part.distance_m - 0.6835).abs() < 1e-9));
        assert_eq!(found.printed_ft, None);
        site.altitude_m = f64::NAN;
        assert!(required(&site, Role::Load, PHASE_A, PhaseToPhase).is_err());
    }

    #[test]
    fn the_greater_of_the_scenes_own_distance_and_the_rules_holds() {
        let mut site = site(12_470.0);
        site.basis.own_distance_m = Some(1.2);
        let found = required(&site, Role::Load, PHASE_A, PhaseToGround).unwrap();
        assert_eq!(found.distance_m, 1.2);
        assert!(found.rule.starts_with("the scene's own distance"));
        site.basis.own_distance_m = Some(0.3);
        assert_eq!(distance(&site, Role::Load, PHASE_A, PhaseToGround), 0.65);
        site.basis.own_distance_m = Some(f64::NAN);
        assert!(required(&site, Role::Load, PHASE_A, PhaseToGround).is_err());
    }

    #[test]
    fn between_two_phases_both_gaps_and_their_sum_need_the_phase_to_phase_distance() {
        let site = site(12_470.0);
        let both = bridging(&site, Role::Load, PHASE_A, PHASE_B).unwrap().unwrap();
        assert_eq!(both.distance_m, 0.68);
        assert_eq!(bridging(&site, Role::Load, PHASE_A, NEUTRAL).unwrap().unwrap().distance_m, 0.65);
        assert_eq!(bridging(&site, Role::Load, STRAND, PHASE_A).unwrap().unwrap().distance_m, 0.65);
        assert_eq!(bridging(&site, Role::Load, NEUTRAL, STRAND), Ok(None));
        assert_eq!(bridging(&site, Role::Load, PHASE_A, PHASE_A), Ok(None));
    }

    #[test]
    fn two_circuits_out_of_step_may_stand_further_apart_than_either_ones_phases() {
        let site = with_second_circuit(34_500.0, 34_500.0);
        // 19.92 + 19.92 = 39.84 kV lies in the row above that of 34.5 kV.
        let both = bridging(&site, Role::Load, PHASE_A, 4).unwrap().unwrap();
        assert_eq!(both.distance_m, 0.98);
    }

    #[test]
    fn above_72_5_kv_a_pole_in_the_gap_has_no_phase_to_phase_distance() {
        let site = site(115_000.0);
        assert_eq!(distance(&site, Role::Load, PHASE_A, PhaseToGround), 1.13);
        assert!(matches!(required(&site, Role::Load, PHASE_A, PhaseToPhase), Err(RuleError::ObjectInGap { .. })));
    }

    #[test]
    fn a_wire_or_circuit_that_is_not_there_has_no_distance() {
        let mut site = site(12_470.0);
        assert!(matches!(required(&site, Role::Load, 99, PhaseToGround), Err(RuleError::UnknownWire { wire: 99 })));
        site.circuits.clear();
        for wire in [PHASE_A, NEUTRAL] {
            assert!(matches!(required(&site, Role::Load, wire, PhaseToGround), Err(RuleError::UnknownCircuit { .. })));
        }
    }

    #[test]
    fn cover_excuses_only_the_load_and_only_by_a_rule_that_says_so() {
        let mut site = site(12_470.0);
        assert!(cover_counts(&site, Role::Load));
        assert!(!cover_counts(&site, Role::MachineConductive));
        assert!(!cover_counts(&site, Role::NonConductiveRigging));
        site.basis.route = Route::CraneTable;
        assert!(!cover_counts(&site, Role::Load));
        site.basis.route = Route::CloserByAgreement;
        assert!(!cover_counts(&site, Role::Load));
        // Words alone permit nothing.
        let key = || "load_cover_rule".to_owned();
        let words = Answer::Words("owner's work rule on covered setting, signed for this job".to_owned());
        site.basis.arranged = vec![Arranged { item: key(), answer: words }];
        assert!(!cover_counts(&site, Role::Load));
        site.basis.arranged = vec![Arranged { item: key(), answer: Answer::Arranged(Said::default()) }];
        assert!(cover_counts(&site, Role::Load));
    }

    #[test]
    fn closer_by_agreement_keeps_what_was_agreed_and_never_less_than_the_tables() {
        let mut site = site(12_470.0);
        site.basis.route = Route::CloserByAgreement;
        site.basis.arranged.clear();
        let at = |site: &Site, wire| distance(site, Role::Load, wire, PhaseToGround);
        // Nobody has set a distance: Table A holds.
        assert!((at(&site, PHASE_A) - 3.048).abs() < 1e-12);
        for (agreed_m, kept_m) in [(1.2, 1.2), (0.3, 0.65)] {
            let said = Said { distance_m: Some(agreed_m), ..Said::default() };
            let item = "agreed_distance".to_owned();
            site.basis.arranged = vec![Arranged { item, answer: Answer::Arranged(said) }];
            assert_eq!(at(&site, PHASE_A), kept_m);
            assert_eq!(at(&site, NEUTRAL), kept_m);
            assert_eq!(distance(&site, Role::MachineConductive, PHASE_A, PhaseToGround), kept_m);
            assert_eq!(distance(&site, Role::Worker, PHASE_A, PhaseToGround), 0.65);
        }
        let line_rules = Arranged { item: "line_rules".to_owned(), answer: Answer::Arranged(Said::default()) };
        site.basis.arranged.push(line_rules);
        assert_eq!(at(&site, PHASE_A), 0.65);
        assert_eq!(at(&site, NEUTRAL), 0.0);
    }
}
