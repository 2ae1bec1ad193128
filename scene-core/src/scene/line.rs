//! The line: conductors, wires, weather, phases held out, and what is not near.

use super::beside::Own;
use super::bucket::outrigged;
use super::fault::FaultKind;
use super::hang::hang;
use super::machine::carrier;
use super::measured::wire_measured;
use super::names::Names;
use super::value::{List, Value};
use crate::bracket::Bracket;
use crate::catalog::{
    self,
    find::{Found, find},
};
use crate::machine::Base;
use crate::quantity::show::{Round, Units, show_length};
use crate::quantity::{Angle, Expansion, Force, Length, LineWeight, Speed};
use crate::site::{self, WireKind, station};
use glam::DVec3;

/// The shortest span in plan, meters.
const LEAST_RUN_M: f64 = 0.15;

/// Conductors with their own figures, for what the catalog does not have.
pub(super) fn conductors(list: &List<'_>) -> Vec<site::Conductor> {
    let read = |conductor: &Value<'_>| {
        conductor.fields("a conductor", |f| {
            let name = f.text("name");
            let diameter_m = f.si::<Length>("diameter", "0.05 in", "6 in");
            let weight_n_per_m = f.si::<LineWeight>("weight", "5 lb/1000ft", "20000 lb/1000ft");
            let rated_strength_n = f.may_si::<Force>("rated_strength", "100 lbf", "200000 lbf");
            let stiffness_n = f.may_si::<Force>("stiffness", "1000 lbf", "100000000 lbf");
            let expansion_per_k = f.may_si::<Expansion>("expansion", "0.1e-6 /F", "20e-6 /F");
            let core = f.may("core").map(|value| core(&value));
            let source = f.text("source");
            f.note();
            // Both must be stated: a core that nobody thought of would hang the wire too low.
            let metal = expansion_per_k.zip(core).map(|(expansion_per_k, core)| site::Metal { expansion_per_k, core });
            site::Conductor {
                name,
                diameter_m,
                weight_n_per_m,
                rated_strength_n,
                stiffness_n,
                stiffness_doubt: 0.0,
                metal,
                source,
                from_memory: String::new(),
            }
        })
    };
    let conductors = list.items.iter().map(read).collect();
    list.named_once("the conductor");
    conductors
}

/// What still pulls when the aluminum has gone slack.
fn core(value: &Value<'_>) -> site::Core {
    match value.variant(&["one_metal", "core_of"]) {
        Some("core_of") => value.fields("the core", |f| {
            let stiffness_n = f.si::<Force>("core_stiffness", "1000 lbf", "100000000 lbf");
            let expansion_per_k = f.si::<Expansion>("core_expansion", "0.1e-6 /F", "20e-6 /F");
            f.note();
            site::Core::Alone { stiffness_n, expansion_per_k }
        }),
        found => {
            if found.is_some() {
                value.alone();
            }
            site::Core::OneMetal
        }
    }
}

pub(super) fn wires(
    list: &List<'_>,
    circuits: &Names<'_>,
    conductors: &[site::Conductor],
    own: &Own,
) -> Vec<site::Wire> {
    let read = |wire: &Value<'_>| {
        wire.fields("a wire", |f| {
            let name = f.text("name");
            let kind = carries(&f.need("carries"), circuits);
            let conductor = conductor(&f.need("conductor"), conductors, own);
            let points = f.list_of("points", 2);
            let hangs = f.list_of("hang", 1);
            let statements = f.list("attached");
            let attached: Vec<_> = statements.items.iter().map(attachment).collect();
            let measured = f.may("measured").map(|value| wire_measured(&value)).unwrap_or_default();
            f.note();
            let (found, points_there) = (attached.len(), points.items.len());
            statements.at.fault_if(found > 0 && found != points_there, || FaultKind::AttachedCount {
                found,
                points: points_there,
            });
            site::Wire { name, kind, conductor, spans: spans(&points, &hangs), attached, measured }
        })
    };
    let wires = list.items.iter().map(read).collect();
    list.named_once("the wire");
    wires
}

fn carries(value: &Value<'_>, circuits: &Names<'_>) -> WireKind {
    let circuit = || circuits.find(&value.one()).unwrap_or(0);
    match value.variant(&["phase", "neutral", "communication"]) {
        Some("phase") => WireKind::Phase { circuit: circuit() },
        Some("neutral") => WireKind::Neutral { circuit: circuit() },
        Some(_) => {
            value.alone();
            WireKind::Communication
        }
        None => WireKind::Phase { circuit: 0 },
    }
}

fn attachment(value: &Value<'_>) -> site::Attachment {
    value.word([
        ("unknown", site::Attachment::Unknown),
        ("tied", site::Attachment::Tied),
        ("sliding", site::Attachment::Sliding),
        ("dead_end", site::Attachment::DeadEnd),
    ])
}

/// The scene's own conductor of the name that stands here, or the planner's, or the catalog's. An exact name holds over one that
/// only sounds like it, and a name that sounds like two is neither.
fn conductor(value: &Value<'_>, stated: &[site::Conductor], own: &Own) -> site::Conductor {
    let name = value.text();
    let known = || stated.iter().chain(&own.conductors);
    if let Some(exact) = known().find(|conductor| conductor.name == name) {
        return exact.clone();
    }
    let in_catalog = catalog::find_conductor(name);
    let exact = catalog::conductor_names().any(|other| other == name);
    let stated = if exact { Found::None } else { find(name, known().map(|known| known.name.as_str()).enumerate()) };
    let found = match (stated, in_catalog) {
        (Found::None, Found::One(found)) => return found,
        (Found::One(index), Found::None) => known().nth(index).cloned(),
        (Found::One(index), one_or_several) => {
            let mut names: Vec<String> =
                known().nth(index).map(|conductor| conductor.name.clone()).into_iter().collect();
            match one_or_several {
                Found::One(other) => names.push(other.name),
                Found::Several(others) => names.extend(others),
                Found::None => {}
            }
            value.fault(FaultKind::SeveralInCatalog { what: "a conductor", found: name.to_owned(), names });
            None
        }
        (Found::Several(names), _) => {
            value.fault(FaultKind::SeveralInCatalog { what: "a conductor", found: name.to_owned(), names });
            None
        }
        (Found::None, not_one) => {
            if !name.is_empty() && !own.unsure {
                value.not_found("a conductor", not_one, || {
                    let names = known().map(|conductor| conductor.name.as_str());
                    names.chain(catalog::conductor_names().map(|name| -> &str { name })).collect()
                });
            }
            None
        }
    };
    found.unwrap_or_else(|| site::Conductor {
        name: name.to_owned(),
        diameter_m: f64::NAN,
        weight_n_per_m: f64::NAN,
        rated_strength_n: None,
        stiffness_n: None,
        stiffness_doubt: 0.0,
        metal: None,
        source: String::new(),
        from_memory: String::new(),
    })
}

/// A span for each two points that have a statement of how it hangs.
fn spans(points: &List<'_>, hangs: &List<'_>) -> Vec<site::Span> {
    let points: Vec<_> = points.items.iter().map(Value::point).collect();
    let count = points.len().saturating_sub(1);
    let found = hangs.items.len();
    hangs.at.fault_if(count > 0 && found > 0 && found != count, || FaultKind::HangCount { found, spans: count });
    let pairs: Vec<_> = points.iter().zip(points.iter().skip(1)).collect();
    let runs_m: Vec<f64> = pairs.iter().map(|(from, to)| (to.m() - from.m()).truncate().length()).collect();
    for ((_, to), run_m) in pairs.iter().zip(&runs_m) {
        to.at.fault_if(*run_m < LEAST_RUN_M, || FaultKind::NoRun {
            run: show_length(*run_m, Units::Us, Round::Nearest),
            least: show_length(LEAST_RUN_M, Units::Us, Round::Nearest),
        });
    }
    let hangs = hangs.items.iter().enumerate();
    // Those for which there is no span are read too, for what may be wrong in them.
    let hangs = hangs.map(|(i, value)| hang(value, runs_m.get(i).copied().unwrap_or(f64::NAN), &runs_m));
    let hangs: Vec<_> = hangs.collect();
    pairs.iter().zip(hangs).map(|((from, to), hang)| site::Span { from: from.m(), to: to.m(), hang }).collect()
}

pub(super) fn weather(list: &List<'_>) -> Vec<site::Weather> {
    let read = |case: &Value<'_>| {
        case.fields("a weather case", |f| {
            let case = site::Weather { name: f.text("name"), wind_m_s: f.si::<Speed>("wind", "0 mph", "60 mph") };
            f.note();
            case
        })
    };
    let cases = list.items.iter().map(read).collect();
    list.named_once("the weather");
    cases
}

/// Trucks that stand there to hold phases.
pub(super) fn holding_trucks(list: &List<'_>) -> Vec<site::HoldingTruck> {
    let read = |truck: &Value<'_>| {
        truck.fields("a holding truck", |f| {
            let truck = site::HoldingTruck {
                name: f.text("name"),
                at: f.at_point("at"),
                heading: f.measure::<Angle>("heading", "-360 deg", "360 deg").direction(),
                boom_foot_m: f.si::<Length>("boom_foot", "2 ft", "20 ft"),
                boom_end: f.at_point("boom_end"),
                boom_radius_m: f.si::<Length>("boom_radius", "2 in", "4 ft"),
                base: Base { carrier: Some(carrier(&f.need("carrier"))), outrigged: outrigged(&f.need("outriggers")) },
            };
            f.note();
            truck
        })
    };
    let trucks = list.items.iter().map(read).collect();
    list.named_once("the holding truck");
    trucks
}

/// The arm that holds a phase.
fn holder(value: &Value<'_>, stands: &Stands<'_>) -> Option<site::Holder> {
    value.variant(&["arm"])?;
    value.fields("the arm", |f| {
        let on = f.need("on");
        let from = f.may("from").map(|at| at.point().m());
        let (on, from) = match on.variant(&["pole", "truck"])? {
            "truck" => {
                let truck = stands.truck_names.find(&on.one())?;
                (site::HolderStand::Truck(truck), stands.trucks.get(truck)?.boom_end)
            }
            _ => {
                let pole = stands.pole_names.find(&on.one())?;
                f.at().fault_if(from.is_none(), || FaultKind::Missing { field: "from", of: "the arm" });
                (site::HolderStand::Pole(pole), from.unwrap_or(DVec3::NAN))
            }
        };
        let holder = site::Holder {
            on,
            from,
            reach_m: f.si::<Length>("reach", "6 in", "40 ft"),
            radius_m: f.si::<Length>("radius", "1/2 in", "2 ft"),
            play_m: f.si::<Length>("play", "0 in", "5 ft"),
            tag: f.text("tag"),
        };
        f.note();
        Some(holder)
    })
}

/// What an arm may be on.
pub(super) struct Stands<'n> {
    pub pole_names: Names<'n>,
    pub truck_names: Names<'n>,
    pub trucks: &'n [site::HoldingTruck],
}

pub(super) fn held_out(
    list: &List<'_>,
    wires: &Wires<'_>,
    steps: &Names<'_>,
    stands: &Stands<'_>,
) -> Vec<site::HeldOut> {
    let read = |held: &Value<'_>| {
        held.fields("a held-out phase", |f| {
            let name = f.text("name");
            let wire = wires.names.find(&f.need("wire"));
            let station = f.measure::<Length>("station", "-3000 ft", "3000 ft");
            let to = f.at_point("to");
            let holder_rating_n = f.may_si::<Force>("holder_rating", "1 lbf", "20000 lbf");
            let holder = f.may("held_by").and_then(|value| holder(&value, stands));
            let (starts, ends) = (f.need("starts"), f.need("ends"));
            f.note();
            let spans = wires.spans(wire);
            if let Some(reach) = station::reach(spans, wires.hole) {
                // At its very end the wire is fixed: nobody can hold it out there.
                let (at_m, slack) = (station.si(), 1e-6);
                let off = at_m <= reach.low() + slack || at_m >= reach.high() - slack;
                station.at.fault_if(off, || off_wire(station.said(), reach));
            }
            let (span, fraction) = station::locate(spans, wires.hole, station.si()).unwrap_or((0, f64::NAN));
            let during = steps.during(Some(starts), Some(ends));
            site::HeldOut { name, wire: wire.unwrap_or(0), span, fraction, to, holder_rating_n, holder, during }
        })
    };
    let held = list.items.iter().map(read).collect();
    list.named_once("the held-out phase");
    held
}

/// The wires that others refer to, and where their stations count from.
pub(super) struct Wires<'n> {
    pub names: Names<'n>,
    pub wires: &'n [site::Wire],
    pub hole: DVec3,
}

impl Wires<'_> {
    /// None for a wire that is not there.
    pub fn spans(&self, wire: Option<usize>) -> &[site::Span] {
        wire.and_then(|wire| self.wires.get(wire)).map_or(&[], |wire| &wire.spans)
    }
}

/// A station that is not on the wire.
pub(super) fn off_wire(found: String, reach: Bracket) -> FaultKind {
    let end = |m| show_length(m, Units::Us, Round::Nearest);
    FaultKind::OffWire { found, from: end(reach.low()), to: end(reach.high()) }
}

/// What the scene says of what is near.
pub(super) struct Near<'n> {
    /// What is not there, one statement each.
    pub absent: Vec<String>,
    /// Jumpers, service drops and guys that are among the wires.
    pub branch_wires: Vec<usize>,
    /// What it says of structures, which is read with the neighbors.
    pub structures: Option<Value<'n>>,
}

pub(super) fn near<'n>(value: &Value<'n>, wires: &Wires<'_>) -> Near<'n> {
    value.fields("the statement of what is near", |f| {
        let mut absent = Vec::new();
        let mut branch_wires = Vec::new();
        for (field, words) in [
            ("jumpers", "jumpers"),
            ("service_drops", "service drops"),
            ("communication", "communication"),
            ("guys", "guys"),
        ] {
            let stated = f.need(field);
            let communication = field == "communication";
            let there = |wire: &&site::Wire| communication && wire.kind == WireKind::Communication;
            match presence(&stated) {
                Presence::Absent(at, why) => {
                    absent.push(format!("{words}: {why}"));
                    if let Some(wire) = wires.wires.iter().find(there) {
                        at.fault(FaultKind::AbsentButThere { what: "the wire", name: wire.name.clone() });
                    }
                }
                Presence::Listed(names) => {
                    for name in &names.items {
                        let index = wires.names.find(name);
                        branch_wires.extend(index.filter(|_| !communication));
                        let wire = index.and_then(|index| wires.wires.get(index));
                        let other = wire.filter(|wire| communication && !there(wire));
                        name.fault_if(other.is_some(), || FaultKind::WrongKindOfWire {
                            wire: name.text().to_owned(),
                            expected: "a wire that carries communication",
                        });
                    }
                }
            }
        }
        let structures = f.may("structures");
        f.note();
        Near { absent, branch_wires, structures }
    })
}

/// Whether something is near the work.
pub(super) enum Presence<'n> {
    /// Not there; who looked, when, how far.
    Absent(Value<'n>, &'n str),
    /// Among the wires or the neighbors, under these names.
    Listed(List<'n>),
}

pub(super) fn presence<'n>(value: &Value<'n>) -> Presence<'n> {
    match value.variant(&["absent", "listed"]) {
        Some("listed") => {
            let names = value.one().list();
            names.at.fault_if(names.items.is_empty(), || FaultKind::TooFew { found: 0, least: 1 });
            Presence::Listed(names)
        }
        Some(_) => {
            let at = value.one();
            let why = at.text();
            Presence::Absent(at, why)
        }
        None => Presence::Absent(value.nothing(""), ""),
    }
}
