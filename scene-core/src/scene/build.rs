//! [`Scene`] → [`Site`]: every reference looked up, people's angles turned into the site's, geometry and order checked.
//!
//! Where something could not be read, its fault is recorded already and its number is not a number; every check here is
//! written so that it then finds nothing more.

mod bucket;
mod crane;
mod ground;
mod line;
mod pole;
mod strung;
mod work;

use super::Scene;
use super::beside::{self, Own};
use super::fault::{FaultKind, Faults, nearest};
use super::line::{Ends, Point, Starts};
use crate::bracket::Bracket;
use crate::catalog::{self, WoodPole};
use crate::quantity::unit::Dimension;
use crate::quantity::{Angle, Quantity, Range};
use crate::site::{During, Site};
use glam::DVec3;
use std::collections::HashMap;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// The site of a scene. It means something only when no fault was added.
pub(super) fn site(scene: &Scene, faults: &mut Faults) -> Site {
    let in_scene = scene.conductors.iter().map(|conductor| conductor.name.as_str());
    let own = scene.catalogs.as_ref();
    let own = own.map_or_else(Own::default, |stated| beside::own(stated, &scene.beside, in_scene, faults));
    let mut build = Build { scene, own, faults };
    let circuits = line::circuits(&mut build);
    let wires = line::wires(&mut build);
    let hole = pole::hole(&mut build);
    let (held_out, weather) = (line::held_out(&mut build, &wires, hole.at), line::weather(&mut build));
    let mut declared_absent = line::near(&mut build);
    let pole = pole::pole(&mut build);
    let rigging = pole::rigging(&mut build);
    let crane = crane::crane(&mut build);
    let (bucket_truck, no_bucket_truck) = bucket::truck(&mut build);
    let bucket_truck_absent = no_bucket_truck.is_some();
    declared_absent.extend(no_bucket_truck.map(|why| format!("bucket truck: {why}")));
    let covers = work::covers(&mut build, &wires, hole.at);
    let allowances = work::allowances(&mut build);
    let steps = work::steps(&mut build, &crane, &wires, hole.at);
    let terrain = ground::terrain(&mut build);
    let neighbours = ground::neighbours(&mut build, &mut declared_absent);
    let roads = ground::roads(&mut build);
    Site {
        name: scene.name.clone(),
        about: scene.about.clone().unwrap_or_default(),
        altitude_m: scene.altitude.si(),
        basis: work::basis(&scene.basis),
        circuits,
        wires,
        weather,
        held_out,
        pole,
        hole,
        rigging,
        crane,
        bucket_truck,
        bucket_truck_absent,
        covers,
        allowances,
        steps,
        terrain,
        neighbours,
        roads,
        declared_absent,
    }
}

struct Build<'s> {
    scene: &'s Scene,
    own: Own,
    faults: &'s mut Faults,
}

impl Build<'_> {
    fn fault(&mut self, path: &str, kind: FaultKind) {
        self.faults.add(path, kind);
    }

    /// The planner's own pole of this length and class, or the catalog's.
    fn wood_pole(&self, length_m: f64, class: &str) -> Option<WoodPole> {
        self.own.wood_pole(length_m, class).or_else(|| catalog::wood_pole(length_m, class))
    }

    fn fault_if(&mut self, wrong: bool, path: &str, kind: impl FnOnce() -> FaultKind) {
        if wrong {
            self.fault(path, kind());
        }
    }

    /// The index of a name among others; a fault and 0 when it is not there.
    fn find<'n>(
        &mut self,
        path: &str,
        what: &'static str,
        name: &str,
        names: impl Iterator<Item = &'n str> + Clone,
    ) -> usize {
        if let Some(index) = names.clone().position(|other| other == name) {
            return index;
        }
        if !name.is_empty() {
            let nearest = nearest(name, names.clone());
            let known = names.map(str::to_owned).collect();
            self.fault(path, FaultKind::NoSuch { what, found: name.to_owned(), nearest, known });
        }
        0
    }

    fn find_wire(&mut self, path: &str, name: &str) -> usize {
        let scene = self.scene;
        self.find(path, "a wire", name, scene.wires.iter().map(|wire| wire.name.as_str()))
    }

    /// Every name of `list` stands once.
    fn names<'n>(&mut self, list: &str, what: &'static str, names: impl Iterator<Item = &'n str>) {
        let mut seen: HashMap<&str, usize> = HashMap::new();
        for (i, name) in names.enumerate() {
            if name.is_empty() {
                continue;
            }
            if let Some(first) = seen.get(name) {
                let first = self.faults.places.of(&format!("{list}[{first}].name"));
                self.fault(&format!("{list}[{i}].name"), FaultKind::NameTwice { what, name: name.to_owned(), first });
            } else {
                seen.insert(name, i);
            }
        }
    }

    /// When something is there, by the indices of its steps.
    fn during(&mut self, path: &str, starts: &Starts, ends: &Ends) -> During {
        let scene = self.scene;
        let steps = || scene.steps.iter().map(|step| step.name.as_str());
        let on_after_step = match starts {
            Starts::AtStart => None,
            Starts::After(step) => Some(self.find(&format!("{path}.starts"), "a step", step, steps())),
        };
        let off_before_step = match ends {
            Ends::Never => None,
            Ends::Before(step) => Some(self.find(&format!("{path}.ends"), "a step", step, steps())),
        };
        if let (Starts::After(starts), Ends::Before(ends), Some(on), Some(off)) =
            (starts, ends, on_after_step, off_before_step)
            && steps().any(|name| name == starts)
            && steps().any(|name| name == ends)
            && off <= on
        {
            let kind = FaultKind::StepOrder { starts: starts.clone(), ends: ends.clone() };
            self.fault(&format!("{path}.ends"), kind);
        }
        During { on_after_step, off_before_step }
    }
}

fn point(point: &Point) -> DVec3 {
    DVec3::new(point.east.si(), point.north.si(), point.up.si())
}

/// A range that was read; one that was not is a fault already.
fn bracket<D: Dimension>(range: &Range<D>) -> Bracket {
    Bracket::between(range.low(), range.high()).unwrap_or(Bracket::exactly(0.0))
}

/// Clockwise from north → counter-clockwise from east, within a half turn either way.
fn direction(bearing: &Quantity<Angle>) -> f64 {
    half_turn(FRAC_PI_2 - bearing.si())
}

/// Clockwise → counter-clockwise, within a half turn either way.
fn counter_clockwise(angle: &Quantity<Angle>) -> f64 {
    half_turn(-angle.si())
}

fn half_turn(angle: f64) -> f64 {
    let turned = angle.rem_euclid(TAU);
    if turned > PI { turned - TAU } else { turned }
}

/// Clockwise from the front → counter-clockwise; a whole circle is exactly 0 to 2π.
fn sector(swing: &Range<Angle>) -> Bracket {
    if swing.high() - swing.low() >= TAU - 1e-9 {
        return Bracket::between(0.0, TAU).unwrap_or(Bracket::exactly(0.0));
    }
    let turn = if swing.low() >= 0.0 { TAU } else { 0.0 };
    Bracket::between(turn - swing.high(), turn - swing.low()).unwrap_or(Bracket::exactly(0.0))
}

/// Same length, to what a tape shows.
fn same_length(a: f64, b: f64) -> bool {
    (a - b).abs() < 0.005
}
