//! Everything that one site gives before its pairs are looked at.

use super::{figures, ground};
use crate::conductor::{self, Wires};
use crate::cover;
use crate::finding::{self, Finding};
use crate::motion::{self, Motion};
use crate::pairs::{BodySets, HungWires, Inputs};
use crate::pole::{self, Mass};
use crate::rigging::{self, Hang, WindLean};
use crate::rules::{self, Distances};
use crate::sequence::{self, Plan};
use crate::site::Site;
use crate::terrain::{Ground, TerrainError};
use std::sync::OnceLock;

/// What the rooms above found of one site. A value is `None` where a finding says why.
pub(crate) struct Prepared<'a> {
    pub site: &'a Site,
    pub ground: Result<Ground, TerrainError>,
    pub distances: Distances<'a>,
    pub mass: Option<Mass>,
    pub hang: Option<Hang>,
    pub leans: Vec<WindLean>,
    pub wires: Wires,
    pub plan: Option<Plan>,
    bodies: OnceLock<Option<BodySets>>,
}

impl<'a> Prepared<'a> {
    /// What is wrong with the site so far goes to `findings`.
    pub(crate) fn of(site: &'a Site, findings: &mut Vec<Finding>) -> Self {
        findings.extend(figures::findings(site));
        let ground = Ground::of(site);
        findings.extend(ground::findings(site, &ground));
        findings.extend(rules::basis(site));
        findings.extend(cover::findings(site));
        findings.extend(pole::findings(&site.pole, &site.covers));
        let wires = conductor::hang(site);
        findings.extend(wires.findings.iter().cloned());

        let mass = pole::mass(&site.pole, &site.covers).ok();
        let mut hang = None;
        let mut leans = Vec::new();
        if let Some(mass) = &mass {
            findings.extend(rigging::findings(&site.pole, &site.covers, mass, &site.rigging));
            hang = rigging::hang(&site.pole, mass, &site.rigging).ok();
            match rigging::wind_leans(&site.pole, mass, &site.rigging, &site.weather) {
                Ok(found) => leans = found,
                // What keeps the pole from hanging at all is among the rigging's own findings.
                Err(error) if hang.is_some() => findings.push(error.finding()),
                Err(_) => {}
            }
        }
        let plan = hang.as_ref().map(|hang| sequence::plan(site, hang));
        match &plan {
            Some(plan) => findings.extend(plan.findings.iter().cloned()),
            None => findings.push(finding::stop(finding::Site::MotionUnknown)),
        }
        Self { site, ground, distances: Distances::of(site), mass, hang, leans, wires, plan, bodies: OnceLock::new() }
    }

    /// What the pairs are made of; `None` without a plan.
    pub(crate) fn inputs<'b>(&'b self, wires: &'b HungWires<'b>) -> Option<Inputs<'b>> {
        let (plan, bodies) = (self.plan.as_ref()?, self.bodies()?);
        Some(Inputs {
            site: self.site,
            ground: self.ground.as_ref().ok(),
            plan,
            distances: &self.distances,
            bodies,
            wires,
        })
    }

    /// What moves, with every set of allowances, made ready when it is first asked for; `None` without a plan.
    pub(crate) fn bodies(&self) -> Option<&BodySets> {
        let made =
            || self.plan.as_ref().map(|plan| BodySets::of(self.site, plan, &self.all_leans(), &self.most_lean()));
        self.bodies.get_or_init(made).as_ref()
    }

    /// What is wrong with the bodies themselves.
    pub(super) fn motion_findings(&self) -> Vec<Finding> {
        let set = self.bodies().and_then(|sets| sets.in_weather(0));
        set.map_or(Vec::new(), |set| set.motion.findings.clone())
    }

    /// How far the wind leans what hangs, in every weather, in still air at least; what is not known of the hang itself,
    /// `motion` allows for.
    fn all_leans(&self) -> Vec<motion::WindLean> {
        let of = |lean: &WindLean| motion::WindLean { line: lean.line_ratio, pole: lean.pole_ratio };
        let weathers = 0..self.site.weather.len().max(1);
        weathers.map(|weather| self.leans.get(weather).map_or(motion::WindLean::default(), of)).collect()
    }

    /// The most that any weather leans the line, and the pole.
    fn most_lean(&self) -> motion::WindLean {
        // NaN propagates, so nothing is proven.
        let more = |a: f64, b: f64| if a.is_nan() || a > b { a } else { b };
        self.all_leans().iter().fold(motion::WindLean::default(), |most, one| motion::WindLean {
            line: more(one.line, most.line),
            pole: more(one.pole, most.pole),
        })
    }

    /// What moves, with every set of allowances; `None` without a plan.
    pub(crate) fn into_motions(self) -> Option<BodySets<Motion>> {
        self.bodies();
        self.bodies.into_inner().flatten().map(BodySets::into_motions)
    }
}
