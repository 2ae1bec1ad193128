//! Circuits, wires, weather, held-out phases.

use super::{Build, bracket, point};
use crate::catalog;
use crate::quantity::show::{Round, Units, show_length};
use crate::scene::fault::{FaultKind, nearest};
use crate::scene::line::{Carries, Conductor, Hang, Presence, Wire};
use crate::scene::strung::Core;
use crate::site::{self, station};
use glam::DVec3;

/// The shortest span in plan; metres.
const LEAST_RUN_M: f64 = 0.15;

pub(super) fn circuits(build: &mut Build<'_>) -> Vec<site::Circuit> {
    let scene = build.scene;
    build.names("circuits", "the circuit", scene.circuits.iter().map(|circuit| circuit.name.as_str()));
    let circuit = |circuit: &crate::scene::line::Circuit| site::Circuit {
        name: circuit.name.clone(),
        voltage_v: circuit.voltage.si(),
        grounding: circuit.grounding.into(),
    };
    scene.circuits.iter().map(circuit).collect()
}

pub(super) fn wires(build: &mut Build<'_>) -> Vec<site::Wire> {
    let scene = build.scene;
    build.names("wires", "the wire", scene.wires.iter().map(|wire| wire.name.as_str()));
    build.names("conductors", "the conductor", scene.conductors.iter().map(|conductor| conductor.name.as_str()));
    let mut wires = Vec::new();
    for (i, wire) in scene.wires.iter().enumerate() {
        let path = format!("wires[{i}]");
        let circuits = scene.circuits.iter().map(|circuit| circuit.name.as_str());
        let carries = format!("{path}.carries");
        let kind = match &wire.carries {
            Carries::Phase(name) => {
                site::WireKind::Phase { circuit: build.find(&carries, "a circuit", name, circuits) }
            }
            Carries::Neutral(name) => {
                site::WireKind::Neutral { circuit: build.find(&carries, "a circuit", name, circuits) }
            }
            Carries::Communication => site::WireKind::Communication,
        };
        let conductor = conductor(build, &format!("{path}.conductor"), &wire.conductor);
        let (count, points) = (wire.attached.len(), wire.points.len());
        build.fault_if(count > 0 && count != points, &format!("{path}.attached"), || FaultKind::AttachedCount {
            found: count,
            points,
        });
        let attached = wire.attached.iter().map(|&attached| attached.into()).collect();
        let spans = spans(build, &path, wire);
        wires.push(site::Wire { name: wire.name.clone(), kind, conductor, spans, attached });
    }
    wires
}

/// The scene's own conductor of this name, or the catalog's.
fn conductor(build: &mut Build<'_>, path: &str, name: &str) -> site::Conductor {
    let scene = build.scene;
    if let Some(own) = scene.conductors.iter().find(|conductor| conductor.name == name) {
        return site::Conductor {
            name: name.to_owned(),
            diameter_m: own.diameter.si(),
            weight_n_per_m: own.weight.si(),
            rated_strength_n: own.rated_strength.as_ref().map(|force| force.si()),
            stiffness_n: own.stiffness.as_ref().map(|force| force.si()),
            metal: metal(own),
            source: own.source.clone(),
        };
    }
    if let Some(found) = build.own.conductors.iter().find(|conductor| conductor.name == name) {
        return found.clone();
    }
    if let Some(found) = catalog::conductor(name) {
        return found;
    }
    if !name.is_empty() && !build.own.unsure {
        let own = scene.conductors.iter().map(|conductor| conductor.name.as_str());
        let mut names: Vec<&str> = own.collect();
        names.extend(build.own.conductors.iter().map(|conductor| conductor.name.as_str()));
        names.extend(catalog::conductor_names().map(|name| -> &str { name }));
        let nearest = nearest(name, names);
        build.fault(path, FaultKind::NotInCatalog { what: "a conductor", found: name.to_owned(), nearest });
    }
    site::Conductor {
        name: name.to_owned(),
        diameter_m: f64::NAN,
        weight_n_per_m: f64::NAN,
        rated_strength_n: None,
        stiffness_n: None,
        metal: None,
        source: String::new(),
    }
}

/// Both must be stated: a core that nobody thought of would hang the wire too low.
fn metal(own: &Conductor) -> Option<site::Metal> {
    let core = match own.core.as_ref()? {
        Core::OneMetal => site::Core::OneMetal,
        Core::Of(figures) => {
            site::Core::Alone { stiffness_n: figures.core_stiffness.si(), expansion_per_k: figures.core_expansion.si() }
        }
    };
    Some(site::Metal { expansion_per_k: own.expansion.as_ref()?.si(), core })
}

fn spans(build: &mut Build<'_>, path: &str, wire: &Wire) -> Vec<site::Span> {
    let count = wire.points.len().saturating_sub(1);
    build.fault_if(count > 0 && !wire.hang.is_empty() && wire.hang.len() != count, &format!("{path}.hang"), || {
        FaultKind::HangCount { found: wire.hang.len(), spans: count }
    });
    let mut spans = Vec::new();
    for (i, ends) in wire.points.windows(2).enumerate() {
        let [from, to] = ends else { continue };
        let (from, to) = (point(from), point(to));
        let run = (to - from).truncate().length();
        build.fault_if(run < LEAST_RUN_M, &format!("{path}.points[{}]", i + 1), || FaultKind::NoRun {
            run: show_length(run, Units::Us, Round::Nearest),
            least: show_length(LEAST_RUN_M, Units::Us, Round::Nearest),
        });
        let hang = match wire.hang.get(i) {
            Some(Hang::Tension(tension)) => site::Hang::Tension { tension_n: bracket(tension) },
            Some(Hang::Strung(strung)) => super::strung::strung(build, &format!("{path}.hang[{i}]"), strung, wire, run),
            Some(Hang::Sag(sag)) => {
                build.fault_if(sag.high() > run / 2.0, &format!("{path}.hang[{i}]"), || FaultKind::SagTooDeep {
                    sag: sag.said().to_owned(),
                    most: show_length(run / 2.0, Units::Us, Round::Down),
                });
                site::Hang::Sag { sag_m: bracket(sag) }
            }
            None => continue,
        };
        spans.push(site::Span { from, to, hang });
    }
    spans
}

pub(super) fn weather(build: &mut Build<'_>) -> Vec<site::Weather> {
    let scene = build.scene;
    build.names("weather", "the weather", scene.weather.iter().map(|weather| weather.name.as_str()));
    let case = |case: &crate::scene::line::Weather| site::Weather { name: case.name.clone(), wind_m_s: case.wind.si() };
    scene.weather.iter().map(case).collect()
}

pub(super) fn held_out(build: &mut Build<'_>, wires: &[site::Wire], hole: DVec3) -> Vec<site::HeldOut> {
    let scene = build.scene;
    build.names("held_out", "the held-out phase", scene.held_out.iter().map(|held| held.name.as_str()));
    let mut all = Vec::new();
    for (i, held) in scene.held_out.iter().enumerate() {
        let path = format!("held_out[{i}]");
        let wire = build.find_wire(&format!("{path}.wire"), &held.wire);
        let spans =
            wires.get(wire).filter(|found| found.name == held.wire).map_or(&[][..], |found| found.spans.as_slice());
        let (span, fraction) = station::locate(spans, hole, held.station.si()).unwrap_or((0, f64::NAN));
        if let Some(reach) = station::reach(spans, hole) {
            // At its very end the wire is fixed: nobody can hold it out there.
            let (station, slack) = (held.station.si(), 1e-6);
            let off = station <= reach.low() + slack || station >= reach.high() - slack;
            build.fault_if(off, &format!("{path}.station"), || off_wire(held.station.said(), reach));
        }
        all.push(site::HeldOut {
            name: held.name.clone(),
            wire,
            span,
            fraction,
            to: point(&held.to),
            holder_rating_n: held.holder_rating.as_ref().map(|force| force.si()),
            during: build.during(&path, &held.starts, &held.ends),
        });
    }
    all
}

/// A station that is not on the wire.
pub(super) fn off_wire(said: &str, reach: crate::bracket::Bracket) -> FaultKind {
    FaultKind::OffWire {
        found: said.to_owned(),
        from: show_length(reach.low(), Units::Us, Round::Nearest),
        to: show_length(reach.high(), Units::Us, Round::Nearest),
    }
}

/// What the scene says is not near, one statement each.
pub(super) fn near(build: &mut Build<'_>) -> Vec<String> {
    let near = &build.scene.near;
    let kinds = [
        ("jumpers", "jumpers", &near.jumpers),
        ("service_drops", "service drops", &near.service_drops),
        ("communication", "communication", &near.communication),
        ("guys", "guys", &near.guys),
    ];
    let mut absent = Vec::new();
    for (field, words, presence) in kinds {
        let path = format!("near.{field}");
        match presence {
            Presence::Absent(why) => {
                absent.push(format!("{words}: {why}"));
                if field == "communication" {
                    communication_is_absent(build, &path);
                }
            }
            Presence::Listed(names) => {
                build.fault_if(names.is_empty(), &path, || FaultKind::TooFew { found: 0, least: 1 });
                for (i, name) in names.iter().enumerate() {
                    let index = build.find_wire(&format!("{path}[{i}]"), name);
                    let wire = build.scene.wires.get(index).filter(|wire| wire.name == *name);
                    let wrong =
                        field == "communication" && wire.is_some_and(|wire| wire.carries != Carries::Communication);
                    build.fault_if(wrong, &format!("{path}[{i}]"), || FaultKind::WrongKindOfWire {
                        wire: name.clone(),
                        expected: "a wire that carries communication",
                    });
                }
            }
        }
    }
    absent
}

fn communication_is_absent(build: &mut Build<'_>, path: &str) {
    let scene = build.scene;
    if let Some(wire) = scene.wires.iter().find(|wire| wire.carries == Carries::Communication) {
        build.fault(path, FaultKind::AbsentButThere { what: "the wire", name: wire.name.clone() });
    }
}
