//! Every body against every wire: proven gaps, interval by interval, and the state that follows.
//!
//! [`super::interval`] cuts the sequence where covers, held-out phases and the pole's standing change. One search brackets the
//! smallest gap of a body to a wire over all intervals; where the required distance is not kept, one search per interval
//! follows, and there cover may excuse the pair.

mod body;
mod finding;

use super::body_set::BodySet;
use super::bridging::{self, BodySides, Bridge, Side};
use super::cover::BareMargins;
use super::demand::Demand;
use super::hung_wire::{HungWire, hang_alike};
use super::interval::{Interval, intervals};
use super::{HungWires, Inputs};
use crate::approach::WireArc;
use crate::finding::Finding;
use crate::machine::BodyId;
use crate::machine::Role;
use crate::outcome::GapRow;
use crate::side_by_side;
use body::{BodyInWeather, Proven};
pub(super) use finding::body_class;

/// A row, and what its finding needs to know besides.
struct WireGap {
    row: GapRow,
    wire: usize,
    kind: Role,
    /// Line, hook or rigging: the choke's height decides where they are.
    hangs: bool,
    /// What lay bare, where cover did not excuse the pair.
    bare: Option<BareMargins>,
}

/// One wire in one weather, interval by interval.
struct WireInWeather<'a> {
    /// By interval; `None` where the hang of the wire is not known.
    hung: Vec<Option<&'a HungWire<'a>>>,
    arcs: Vec<WireArc<'a>>,
}

impl<'a> WireInWeather<'a> {
    fn of(wires: &'a HungWires<'a>, weather: usize, wire: usize, intervals: &[Interval]) -> Self {
        let hung: Vec<Option<&HungWire>> =
            intervals.iter().map(|interval| wires.at(interval.steps.start, weather, wire)).collect();
        let mut arcs: Vec<WireArc> = Vec::new();
        let mut first = 0;
        for run in hung.chunk_by(|a, b| hang_alike(*a, *b)) {
            let last = first + run.len() - 1;
            if let (Some(Some(wire)), Some(from), Some(to)) = (run.first(), intervals.get(first), intervals.get(last)) {
                let pieces = from.pieces.start..to.pieces.end;
                arcs.extend(wire.arcs.iter().map(|arc| arc.clone().during(pieces.clone())));
            }
            first = last + 1;
        }
        Self { hung, arcs }
    }
}

/// A body with what was proven of it against every wire.
struct ProvenBody<'a> {
    body: BodyInWeather<'a>,
    /// By wire.
    proven: Vec<Vec<Proven>>,
    /// By wire, the least that is left where the distance counts.
    least_m: Vec<f64>,
}

/// What is said of one body in one weather.
struct Said {
    gaps: Vec<WireGap>,
    findings: Vec<Finding>,
}

/// One row per body, wire and weather.
pub(crate) fn to_wires(inputs: &Inputs, findings: &mut Vec<Finding>) -> Vec<GapRow> {
    let intervals = intervals(inputs);
    let wires = 0..inputs.site.wires.len();
    let sets: Vec<(usize, &BodySet)> = (0..inputs.site.weather.len())
        .filter_map(|weather| Some((weather, inputs.bodies.in_weather(weather)?)))
        .collect();
    let of_weather = |(weather, _): &(usize, _)| -> Vec<WireInWeather> {
        wires.clone().map(|wire| WireInWeather::of(inputs.wires, *weather, wire, &intervals)).collect()
    };
    let hung: Vec<Vec<WireInWeather>> = sets.iter().map(of_weather).collect();
    let wanted: Vec<(usize, &BodySet, &[WireInWeather], usize)> = sets
        .iter()
        .zip(&hung)
        .flat_map(|((weather, set), hung)| {
            // An arm is insulated, and it holds a wire.
            let bodies = set.motion.bodies.iter().enumerate();
            let wanted = bodies.filter(|(_, body)| !matches!(body.id, BodyId::HoldingArm { .. }));
            wanted.map(move |(body, _)| (*weather, *set, hung.as_slice(), body))
        })
        .collect();
    let proven = side_by_side::map(&wanted, |&(weather, set, hung, number)| {
        let body = BodyInWeather::of(inputs, weather, set, number, &intervals, hung)?;
        let proven = body.proven();
        let least_m = body.least_m(&proven);
        Some(ProvenBody { body, proven, least_m })
    });
    let proven: Vec<ProvenBody> = proven.into_iter().flatten().collect();
    let said: Vec<Said> = side_by_side::map(&proven, |one| one.said(&least_of_conductor(one, &proven)));

    let mut gaps: Vec<WireGap> = Vec::new();
    let mut bridges: Vec<Bridge> = Vec::new();
    let mut said = said.into_iter();
    for of_weather in proven.chunk_by(|a, b| a.body.weather == b.body.weather) {
        let mut of_bodies: Vec<Vec<WireGap>> = Vec::new();
        for one in said.by_ref().take(of_weather.len()) {
            findings.extend(one.findings);
            of_bodies.push(one.gaps);
        }
        let sides: Vec<BodySides> = of_weather.iter().zip(&of_bodies).map(|(one, gaps)| one.sides(gaps)).collect();
        let alone: Vec<Bridge> = sides.iter().filter_map(|sides| bridging::alone(inputs, sides)).collect();
        let joined = bridging::joined(inputs, &sides, &alone);
        alone.into_iter().chain(joined).for_each(|bridge| bridging::keep_worst_weather(&mut bridges, bridge));
        gaps.extend(of_bodies.into_iter().flatten());
    }
    findings.extend(bridges.iter().map(bridging::finding));
    findings.extend(finding::findings(&gaps, inputs.site.basis.residual_gap_m));
    findings.extend(finding::not_hung(inputs));
    gaps.into_iter().map(|gap| gap.row).collect()
}

/// By wire, the least that any body leaves that conducts to this one in its weather: a hook near one phase and a pole near
/// another bridge the two.
fn least_of_conductor(one: &ProvenBody, all: &[ProvenBody]) -> Vec<f64> {
    let joins =
        |other: &&ProvenBody| (other.body.weather, other.body.conductor) == (one.body.weather, one.body.conductor);
    all.iter().filter(joins).fold(vec![f64::INFINITY; one.least_m.len()], |shared, other| {
        shared.iter().zip(&other.least_m).map(|(a, b)| a.min(*b)).collect()
    })
}

impl ProvenBody<'_> {
    /// One row per wire, and the distances that cannot be looked up. `shared_m` is the least that what conducts to the body
    /// leaves to each wire.
    fn said(&self, shared_m: &[f64]) -> Said {
        let body = &self.body;
        let (mut gaps, mut findings) = (Vec::new(), Vec::new());
        let near = |second: usize, distance_m: f64| shared_m.get(second).is_some_and(|left_m| *left_m < distance_m);
        for (wire, proven) in self.proven.iter().enumerate() {
            if proven.is_empty() {
                continue;
            }
            match Demand::to_wire(body.inputs, body.kind, wire, near) {
                Ok(demand) => gaps.extend(body.gap(wire, proven, &demand)),
                Err(error) => findings.push(error.into()),
            }
        }
        Said { gaps, findings }
    }

    fn sides<'a>(&'a self, gaps: &'a [WireGap]) -> BodySides<'a> {
        let side = |gap: &'a WireGap| Side {
            row: &gap.row,
            wire: gap.wire,
            kind: gap.kind,
            left_m: self.least_m.get(gap.wire).copied().unwrap_or(f64::NEG_INFINITY),
        };
        let BodyInWeather { motion_of, kind, conductor, .. } = &self.body;
        BodySides { name: &motion_of.name, kind: *kind, conductor: *conductor, sides: gaps.iter().map(side).collect() }
    }
}
