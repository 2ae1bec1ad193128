//! The whole scene → [`Site`], in one pass.
//!
//! Every part is asked for in the order that a fault tells the fields in, then read after what it refers to. Of a scene that was
//! edited, what costs something and did not change is kept as it was read before.

use super::basis;
use super::beside::{self, Beside, Own};
use super::bucket::{self, Stated};
use super::circuit::circuits;
use super::crane;
use super::fault::FaultKind;
use super::ground::{roads, terrain};
use super::line::{self, Near, Wires, conductors, held_out, near, weather};
use super::measure::same_length;
use super::measured::wind_limit;
use super::names::Names;
use super::neighbours::{neighbours, poles_of};
use super::pole::{Hole, pole, rigging};
use super::steps::{Around, steps};
use super::tree::{Field, Node, Tree};
use super::value::{List, Value};
use super::work::{allowances, covers};
use crate::quantity::Length;
use crate::site::Site;
use std::sync::Arc;

/// What a document says: the site, and the planner's own catalogs that it was read with.
#[derive(Clone, Debug)]
pub(super) struct Read {
    pub site: Site,
    pub own: Arc<Own>,
}

/// The same scene before an edit, read with the same files beside it.
#[derive(Clone, Copy)]
pub(super) struct Before<'b> {
    pub node: &'b Node,
    pub read: &'b Read,
}

impl Before<'_> {
    /// None of these fields of the scene changed.
    fn same(&self, now: &Node, fields: &[&str]) -> bool {
        fields.iter().all(|name| field(self.node, name) == field(now, name))
    }

    /// Nothing of this field of the scene changed but where it stands, as a drag changes it.
    fn stood_elsewhere(&self, now: &Node, name: &str) -> bool {
        let fields = |document| match field(document, name).map(|node| &node.tree) {
            Some(Tree::Struct { fields, .. }) => Some(fields),
            _ => None,
        };
        let (Some(before), Some(now)) = (fields(self.node), fields(now)) else { return false };
        let standing = |field: &Field| ["at", "heading"].contains(&field.name.as_str());
        let same =
            |(before, now): (&Field, &Field)| before.name == now.name && (standing(now) || before.value == now.value);
        before.len() == now.len() && before.iter().zip(now).all(same)
    }
}

fn field<'n>(document: &'n Node, name: &str) -> Option<&'n Node> {
    let Tree::Struct { fields, .. } = &document.tree else { return None };
    fields.iter().find(|field| field.name == name).map(|field| &field.value)
}

/// What a document says; it means something only when no fault was found.
pub(super) fn read(document: &Value<'_>, beside: &Beside, before: Option<Before<'_>>) -> Read {
    let kept = |fields: &[&str]| before.filter(|before| document.node().is_some_and(|now| before.same(now, fields)));
    document.fields("the scene", |f| {
        f.need("format").count();
        let name = f.text("name");
        let about = f.may_text("about").unwrap_or_default();
        f.note();
        let altitude_m = f.si::<Length>("altitude", "-1500 ft", "20000 ft");
        let job = f.may("job").map_or_else(Default::default, |value| basis::job(&value));
        let people = basis::people(&f.list("people"));
        let basis = basis::basis(&f.need("basis"), beside);
        let circuit_list = f.list_of("circuits", 1);
        let catalogs = f.may("catalogs");
        let conductor_list = f.list("conductors");
        let wire_list = f.list_of("wires", 1);
        let near_stated = f.need("near");
        let weather = weather(&f.list_of("weather", 1));
        let stop_work_wind = f.may("stop_work_wind").map(|value| wind_limit(&value));
        let held_list = f.list("held_out");
        let holding_list = f.list("holding_trucks");
        let (pole_stated, hole_stated) = (f.need("pole"), f.need("hole"));
        let (rigging_stated, crane_stated) = (f.need("rigging"), f.need("crane"));
        let truck_stated = f.may("bucket_truck");
        let cover_list = f.list("covers");
        let allowances = allowances(&f.need("allowances"));
        let step_list = f.list_of("steps", 1);
        let terrain = f.may("terrain").map(|value| terrain(&value));
        let neighbours_stated = f.may("neighbours");
        let roads = roads(&f.list("roads"));

        let own = match kept(&["catalogs", "conductors"]) {
            Some(before) => before.read.own.clone(),
            None => Arc::new(
                catalogs.map_or_else(Own::default, |stated| beside::own(&stated, beside, conductor_list.names())),
            ),
        };
        let circuits = circuits(&circuit_list);
        let wires = match kept(&["catalogs", "conductors", "circuits", "wires"]) {
            Some(before) => before.read.site.wires.clone(),
            None => {
                let conductors = conductors(&conductor_list);
                line::wires(&wire_list, &Names::of(&circuit_list, "a circuit"), &conductors, &own)
            }
        };
        let hole = Hole::read(&hole_stated);
        let step_names = Names::of(&step_list, "a step");
        let on_wires = Wires { names: Names::of(&wire_list, "a wire"), wires: &wires, hole: hole.at.m() };
        let holding_trucks = line::holding_trucks(&holding_list);
        let pole_list = neighbours_stated.as_ref().map(poles_of);
        let stands = line::Stands {
            pole_names: Names::all("a standing pole", pole_list.iter().flat_map(List::names)),
            truck_names: Names::of(&holding_list, "a holding truck"),
            trucks: &holding_trucks,
        };
        let held_out = held_out(&held_list, &on_wires, &step_names, &stands);
        let Near { absent: mut declared_absent, branch_wires, structures } = near(&near_stated, &on_wires);
        let (pole, on_pole) = pole(&pole_stated, &hole, &own);
        let rigging = rigging(&rigging_stated, &on_pole);
        let elsewhere = |before: &Before<'_>| document.node().is_some_and(|now| before.stood_elsewhere(now, "crane"));
        let crane = match before.filter(elsewhere) {
            Some(before) => crane::moved(&crane_stated, &before.read.site.crane),
            None => crane::crane(&crane_stated, beside),
        };
        let same = same_length(hole.at.m().x, crane.at.x) && same_length(hole.at.m().y, crane.at.y);
        hole.at.at.fault_if(same, || FaultKind::SamePoint);
        let lifts_before = kept(&["bucket_truck"]).map(|before| before.read.site.lifts.clone());
        let (lifts, no_truck) = match (lifts_before.filter(|lifts| !lifts.is_empty()), truck_stated) {
            (Some(lifts), _) => (lifts, None),
            (None, Some(stated)) => match bucket::lifts(&stated) {
                Stated::Stand(lifts) => (lifts, None),
                Stated::Absent(why) => (Vec::new(), Some(format!("bucket truck: {why}"))),
            },
            (None, None) => (Vec::new(), None),
        };
        let lifts_absent = no_truck.is_some();
        declared_absent.extend(no_truck);
        let covers = covers(&cover_list, &on_wires, &on_pole, &step_names, &own);
        let around = Around { wires: &on_wires, on_pole: &on_pole, boom_m: crane.boom_length_m, lifts: &lifts };
        let steps = steps(&step_list, &around);
        let (neighbours, no_structures) = neighbours(neighbours_stated, structures, &step_names, &own);
        declared_absent.extend(no_structures);
        let site = Site {
            name,
            about,
            altitude_m,
            job,
            people,
            basis,
            circuits,
            branch_wires,
            weather,
            stop_work_wind,
            held_out,
            holding_trucks,
            pole,
            hole: hole.site(),
            rigging,
            crane,
            lifts,
            lifts_absent,
            covers,
            allowances,
            steps,
            terrain,
            neighbours,
            roads,
            declared_absent,
            wires,
        };
        Read { site, own }
    })
}
