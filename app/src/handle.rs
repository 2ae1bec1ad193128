//! What can be dragged in the site view, and what a drag makes of the document.

use crate::document::{self, Edit};
use crate::field::{FieldPath, Key, in_words};
use scene_core::glam::DVec3;
use scene_core::machine::BodyId;
use scene_core::quantity::{Length, Quantity};
use scene_core::rehearsal::Shape;
use scene_core::scene::tree::Tree;
use scene_core::site::{CoverOn, Site, station};
use scene_core::solid::Feature;

/// How far from a machine's swing axis the handle of its heading stands, meters.
const HEADING_M: f64 = 9.0;

/// A thing that can be dragged.
#[derive(Clone, Debug, PartialEq)]
pub struct Handle {
    pub label: String,
    /// Where it stands now, site axes.
    pub at: DVec3,
    path: FieldPath,
    kind: Kind,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Kind {
    /// A point of three lengths, dragged at its own height.
    Point,
    /// The whole machine: a point, but taken hold of at the machine.
    Machine,
    /// A bearing about a point.
    Bearing { about: DVec3 },
    /// One end of a range of stations along a wire, as seen on its chord.
    Station { low: bool, along: DVec3, station_m: f64 },
    /// A distance from the butt along the pole, as the pole stands now.
    AlongPole { butt: DVec3, along: DVec3 },
}

/// Where a handle may go.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rail {
    /// Anywhere at this height, meters.
    Level(f64),
    /// Along a line.
    Line { from: DVec3, along: DVec3 },
}

impl Handle {
    pub fn is_machine(&self) -> bool {
        self.kind == Kind::Machine
    }

    /// The handle can be dragged in the slot view too.
    pub fn is_of_slot(&self) -> bool {
        let held = self.path.keys().first() == Some(&Key::Field("held_out".to_owned()));
        held || matches!(self.kind, Kind::AlongPole { .. })
    }

    pub fn rail(&self) -> Rail {
        match self.kind {
            Kind::Point | Kind::Machine | Kind::Bearing { .. } => Rail::Level(self.at.z),
            Kind::Station { along, .. } => Rail::Line { from: self.at, along },
            Kind::AlongPole { butt, along } => Rail::Line { from: butt, along },
        }
    }

    /// The edit that brings the handle there; `None` where that changes nothing, or cannot be written.
    pub fn moved(&self, tree: &Tree, to: DVec3) -> Option<Edit> {
        let was = self.path.find(tree)?;
        let value = match self.kind {
            Kind::Point | Kind::Machine => document::moved(was, self.at.to_array(), to.to_array()),
            Kind::Bearing { about } => {
                let way = (to - about).truncate();
                document::bearing(way.y.atan2(way.x))
            }
            Kind::Station { low, along, station_m } => {
                let Tree::Text(text) = was else { return None };
                let (from, until) = text.split_once(" to ")?;
                let Tree::Text(end) = document::feet(station_m + (to - self.at).dot(along)) else { return None };
                Tree::Text(if low { format!("{end} to {until}") } else { format!("{from} to {end}") })
            }
            Kind::AlongPole { butt, along } => document::feet((to - butt).dot(along)),
        };
        (value != *was).then(|| Edit::set(format!("Move the {}", self.label), self.path.clone(), value))
    }
}

/// All that can be dragged while a step is shown.
pub fn handles(site: &Site, tree: &Tree, step: usize, shapes: &[Shape]) -> Vec<Handle> {
    let mut found = Vec::new();
    let root = FieldPath::default();
    let machine = |label: &str, path: FieldPath, at: DVec3, heading: f64, found: &mut Vec<Handle>| {
        if path.find(tree).is_none() {
            return;
        }
        let ahead = at + DVec3::new(heading.cos(), heading.sin(), 0.0) * HEADING_M;
        let kind = Kind::Bearing { about: at };
        found.push(Handle { label: label.to_owned(), at, path: path.field("at"), kind: Kind::Machine });
        found.push(Handle { label: format!("{label}'s heading"), at: ahead, path: path.field("heading"), kind });
    };
    machine("crane", root.field("crane"), site.crane.at, site.crane.heading, &mut found);
    let stated = root.field("bucket_truck");
    for (i, lift) in site.lifts.iter().enumerate() {
        let called = site.lift_called(i);
        // The one that stands there, or the list of several.
        let path = match stated.find(tree) {
            Some(Tree::Tuple { .. }) => stated.at(0).at(i),
            _ => stated.clone(),
        };
        let (label, facts) = (called.strip_prefix("the ").unwrap_or(&called), lift.facts());
        machine(label, path, facts.at, facts.heading, &mut found);
    }
    let hole = root.field("hole").field("at");
    found.extend(point(tree, hole, "hole"));
    for (i, held) in site.held_out.iter().enumerate().filter(|(_, held)| held.during.is_in_force(step)) {
        found.extend(point(tree, root.field("held_out").at(i).field("to"), &held.name));
    }
    for (i, cover) in site.covers.iter().enumerate().filter(|(_, cover)| cover.during.is_in_force(step)) {
        cover_ends(site, &root.field("covers").at(i).field("over").field("stations"), cover, &mut found);
    }
    let people = root.field("neighbours").field("people");
    for (i, person) in site.neighbours.iter().flat_map(|n| &n.people).enumerate() {
        let stated = people.at(i);
        let Some(stand) = person.stands.iter().position(|stand| stand.during.is_in_force(step)) else { continue };
        let places = stated.field("places");
        let place = if places.find(tree).is_some() { places.at(stand) } else { stated };
        found.extend(point(tree, place.field("at"), &person.name));
    }
    let moves = root.field("steps").at(step).field("do");
    if let Some(action) = moves.find(tree) {
        points_in(action, &moves, &mut found);
    }
    found.extend(choker(site, shapes));
    found.retain(|handle| handle.path.find(tree).is_some() && handle.at.is_finite());
    found
}

fn point(tree: &Tree, path: FieldPath, label: &str) -> Option<Handle> {
    Some(Handle { label: label.to_owned(), at: read(path.find(tree)?)?, path, kind: Kind::Point })
}

/// A point of three lengths; `None` for a word such as `hole`.
fn read(tree: &Tree) -> Option<DVec3> {
    let Tree::Tuple { items, .. } = tree else { return None };
    let length = |item: &Tree| match item {
        Tree::Text(text) => Quantity::<Length>::parse(text).ok().map(|length| length.si()),
        _ => None,
    };
    match items.as_slice() {
        [x, y, z] => Some(DVec3::new(length(&x.tree)?, length(&y.tree)?, length(&z.tree)?)),
        _ => None,
    }
}

/// Finds the points that a step's action names.
fn points_in(action: &Tree, path: &FieldPath, found: &mut Vec<Handle>) {
    match action {
        Tree::Struct { fields, .. } => {
            for field in fields {
                let path = path.field(&field.name);
                if let Some(at) = read(&field.value.tree) {
                    found.push(Handle { label: in_words(&field.name), at, path, kind: Kind::Point });
                }
            }
        }
        Tree::Tuple { items, .. } => {
            for (i, item) in items.iter().enumerate() {
                if let Some(at) = read(&item.tree) {
                    found.push(Handle { label: "point".to_owned(), at, path: path.at(i), kind: Kind::Point });
                }
            }
        }
        _ => {}
    }
}

fn cover_ends(site: &Site, path: &FieldPath, cover: &scene_core::site::Cover, found: &mut Vec<Handle>) {
    let CoverOn::Wire { wire, station_m } = cover.on else { return };
    let Some(spans) = site.wires.get(wire).map(|wire| &wire.spans) else { return };
    for (low, end_m) in [(true, station_m.low()), (false, station_m.high())] {
        let Some((span, share)) = station::locate(spans, site.hole.at, end_m) else { continue };
        let Some(span) = spans.get(span) else { continue };
        let along = DVec3 { z: 0.0, ..span.to - span.from }.normalize_or_zero();
        let at = span.from + (span.to - span.from) * share;
        let kind = Kind::Station { low, along, station_m: end_m };
        found.push(Handle { label: format!("end of {}", cover.name), at, path: path.clone(), kind });
    }
}

fn choker(site: &Site, shapes: &[Shape]) -> Option<Handle> {
    let pole = shapes.iter().find(|shape| shape.id == BodyId::Pole)?;
    let discs: Vec<(DVec3, f64)> = pole
        .hulls
        .iter()
        .flat_map(|hull| &hull.features)
        .map(|feature| match *feature {
            Feature::Ball { center, radius_m } | Feature::Disc { center, radius_m, .. } => (center, radius_m),
        })
        .collect();
    let first = discs.first()?.0;
    let last = discs.iter().map(|disc| disc.0).max_by(|a, b| a.distance(first).total_cmp(&b.distance(first)))?;
    let first = discs.iter().map(|disc| disc.0).max_by(|a, b| a.distance(last).total_cmp(&b.distance(last)))?;
    let thickness = |end: DVec3| discs.iter().filter(|d| d.0.distance(end) < 0.5).map(|d| d.1).fold(0.0, f64::max);
    // A pole is thickest at its butt.
    let (butt, tip) = if thickness(first) >= thickness(last) { (first, last) } else { (last, first) };
    let along = (tip - butt).normalize_or_zero();
    Some(Handle {
        label: "choker".to_owned(),
        at: butt + along * site.rigging.choker_from_butt_m,
        path: FieldPath::of(&["rigging", "choker_from_butt"]),
        kind: Kind::AlongPole { butt, along },
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::Document;
    use crate::scene_file::FIRST_EXAMPLE;
    use scene_core::rehearsal::Rehearsal;

    fn example() -> (Document, Rehearsal) {
        let document = Document::built_in(FIRST_EXAMPLE.0, FIRST_EXAMPLE.1).unwrap();
        let rehearsal = Rehearsal::of(document.site());
        (document, rehearsal)
    }

    fn at_step(document: &Document, rehearsal: &Rehearsal, name: &str) -> Vec<Handle> {
        let step = document.site().steps.iter().position(|step| step.name == name).unwrap();
        let from_s = rehearsal.report.steps[step].from_s;
        handles(document.site(), document.tree(), step, &rehearsal.shapes(from_s + 0.01))
    }

    #[test]
    fn everything_that_a_planner_moves_can_be_taken_hold_of() {
        let (document, rehearsal) = example();
        let found = at_step(&document, &rehearsal, "Over the slot");
        for label in
            ["crane", "crane's heading", "bucket truck", "hole", "arm on B", "end of hose on A", "choker", "Osei"]
        {
            assert!(found.iter().any(|handle| handle.label == label), "{label}");
        }
        let first = at_step(&document, &rehearsal, "Set up over the choke");
        assert!(first.iter().any(|handle| handle.label == "butt"));
    }

    #[test]
    fn every_handle_that_is_moved_makes_an_edit_that_the_scene_takes_and_that_moves_it() {
        let (mut document, rehearsal) = example();
        for name in ["Set up over the choke", "Over the slot", "Boom away"] {
            for handle in at_step(&document, &rehearsal, name) {
                let by = match handle.rail() {
                    Rail::Level(_) => DVec3::new(0.1, 0.61, 0.0),
                    Rail::Line { along, .. } => along * 0.61,
                };
                let edit = handle.moved(document.tree(), handle.at + by).unwrap_or_else(|| panic!("{}", handle.label));
                document.apply(&edit, false).unwrap_or_else(|why| panic!("{}: {why}", handle.label));
                let again = at_step(&document, &rehearsal, name);
                let now = again
                    .iter()
                    .filter(|h| h.path == handle.path)
                    .min_by(|a, b| a.at.distance(handle.at + by).total_cmp(&b.at.distance(handle.at + by)));
                let now = now.unwrap().at;
                assert!(now.distance(handle.at + by) < 0.35, "{}: {now} for {}", handle.label, handle.at + by);
                document.undo();
            }
        }
    }

    #[test]
    fn a_covers_end_goes_along_its_wire_and_stays_a_range() {
        let (document, rehearsal) = example();
        let found = at_step(&document, &rehearsal, "Over the slot");
        let end = found.iter().find(|handle| handle.label == "end of hose on A").unwrap();
        let Rail::Line { along, .. } = end.rail() else { panic!() };
        let edit = end.moved(document.tree(), end.at - along * 3.048).unwrap();
        let document::Change::Set(Tree::Text(text)) = &edit.change else { panic!() };
        assert_eq!(text, "-24 ft to 14 ft");
    }
}
