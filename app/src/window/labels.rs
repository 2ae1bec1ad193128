//! What is written over the site view: names of wires, the gaps that matter now, dots that can be dragged, the frame of a
//! stop.

use super::edit::DragState;
use super::measured::Measured;
use super::view::View;
use super::{OpenScene, axes};
use crate::panel::margin::{self, Look};
use crate::theme::{corner, font, ink, size, space, stroke};
use bevy::prelude::*;
use bevy_egui::egui::{self, Color32, FontId, Pos2, Rect, Stroke};
use scene_core::glam::DVec3;

/// How near the pointer must be to a dot to name it, points.
const UNDER_POINTER: f32 = 12.0;

/// Writes the labels of this instant over the site view, which takes the part `site` of the window.
pub fn show(
    context: &egui::Context,
    open: &OpenScene,
    measured: &Measured,
    drag_state: &DragState,
    view: &View,
    (camera, at): (&Camera, &GlobalTransform),
    site: Rect,
) {
    let inside = site.shrink(space::SITE_EDGE);
    let painter =
        context.layer_painter(egui::LayerId::new(egui::Order::Background, "names".into())).with_clip_rect(inside);
    let zoom = context.zoom_factor();
    let seen = |point: DVec3| {
        let p = camera.world_to_viewport(at, axes::to_engine(point)).ok()?;
        Some(egui::pos2(p.x, p.y) / zoom)
    };
    if measured.is_stop(&open.rehearsal.report) {
        frame_of_stop(&painter, site);
    }
    let mut plates = Plates { painter: &painter, inside, taken: Vec::new() };
    let pointer = context.pointer_latest_pos().filter(|_| view.pointer_on_site);
    if let Some((p, label)) = dots(&painter, drag_state, pointer, |point| seen(point).filter(|p| inside.contains(*p))) {
        plates.write(p, &label, ink::ON_FILL, ink::HANDLE, font::SITE_HANDLE);
    }
    if view.layers.names {
        gaps(&mut plates, open, measured, seen);
        wires(&mut plates, open, measured, seen);
    }
}

/// A frame around the site view, and the word in its corner.
fn frame_of_stop(painter: &egui::Painter, site: Rect) {
    let red = margin::STOP.ink();
    let frame = Stroke::new(stroke::STOP_FRAME, red);
    painter.rect_stroke(site.shrink(space::STOP_FRAME), corner::PLATE, frame, egui::StrokeKind::Inside);
    let at = site.left_top() + space::STOP_WORD;
    let word = format!("{} STOP", margin::STOP.mark);
    let galley = painter.layout_no_wrap(word, FontId::proportional(font::SITE_STOP), ink::ON_FILL);
    let plate = Rect::from_min_size(at, galley.size()).expand(space::STOP_PLATE);
    painter.rect_filled(plate, corner::BADGE, red);
    painter.galley(at, galley, ink::ON_FILL);
}

/// Draws a dot for all that can be dragged. Returns the dot that is held or under the pointer, and its name.
fn dots(
    painter: &egui::Painter,
    drag_state: &DragState,
    pointer: Option<Pos2>,
    seen: impl Fn(DVec3) -> Option<Pos2>,
) -> Option<(Pos2, String)> {
    let mut named = None;
    for handle in &drag_state.handles {
        let Some(p) = seen(handle.at) else { continue };
        let is_held = drag_state.holds().is_some_and(|held| held.label == handle.label);
        let is_named = is_held || pointer.is_some_and(|pointer| pointer.distance(p) < UNDER_POINTER);
        let (radius, fill) =
            if is_named { (size::HANDLE_UNDER_POINTER, ink::HANDLE) } else { (size::HANDLE, ink::HANDLE_INSIDE) };
        painter.circle(p, radius, fill, Stroke::new(stroke::HANDLE, ink::HANDLE));
        if is_named {
            named = Some((p, handle.label.clone()));
        }
    }
    named
}

/// The pairs that have the least left now, and those that meet in this step.
fn gaps(plates: &mut Plates, open: &OpenScene, measured: &Measured, seen: impl Fn(DVec3) -> Option<Pos2>) {
    let report = &open.rehearsal.report;
    let middle = |a: DVec3, b: DVec3| seen((a + b) / 2.0);
    if let Some(nearest) = &measured.nearest {
        let look = Look::of(nearest.margin_m, margin::state(report, nearest));
        if let Some(p) = middle(nearest.on_body, nearest.on_other) {
            let text = format!("{} {}", look.mark, margin::feet_inches(nearest.gap_m));
            plates.write(p, &text, ink::ON_FILL, look.ink(), font::SITE_GAP);
        }
    }
    if let Some((between, row)) = margin::to_watch(report, measured.among_bodies.as_ref())
        && let Some(p) = middle(between.on_body, between.on_other)
    {
        let look = Look::of(between.margin_m, row.state);
        let text = format!("{} {} to {}: {}", look.mark, row.body, row.other, margin::feet_inches(between.gap_m));
        plates.write(p, &text, ink::ON_FILL, look.ink(), font::SITE_PAIR);
    }
    for row in report.met_in(measured.step_shown) {
        let (Some(a), Some(b)) = (row.point_on_body, row.point_on_other) else { continue };
        if let Some(p) = middle(a, b) {
            let look = Look::of_state(row.state);
            let text = format!("{} {} to {}, in this step", look.mark, row.body, row.other);
            plates.write(p, &text, ink::ON_FILL, look.ink(), font::SITE_PAIR);
        }
    }
}

/// The name of each wire, once.
fn wires(plates: &mut Plates, open: &OpenScene, measured: &Measured, seen: impl Fn(DVec3) -> Option<Pos2>) {
    let mut named = Vec::new();
    for curve in &measured.curves {
        let Some(wire) = open.rehearsal.site.wires.get(curve.wire) else { continue };
        if named.contains(&curve.wire) {
            continue;
        }
        // Toward one end of the wire, where the work does not hide the name.
        let point = curve.points.get(curve.points.len() / 4).copied();
        if let Some(p) = point.and_then(&seen) {
            named.push(curve.wire);
            plates.write(p, &wire.name, ink::WIRE_NAME, ink::WIRE_NAME_PLATE, font::SITE_WIRE);
        }
    }
}

/// Plates with text, none over another.
struct Plates<'a> {
    painter: &'a egui::Painter,
    inside: Rect,
    taken: Vec<Rect>,
}

impl Plates<'_> {
    /// Writes beside a point, or a little above or below where another plate stands. What finds no room is left out.
    fn write(&mut self, p: Pos2, text: &str, ink: Color32, plate: Color32, size: f32) {
        let galley = self.painter.layout_no_wrap(text.to_owned(), FontId::proportional(size), ink);
        for lift in [0.0, 20.0, -20.0, 40.0, -40.0] {
            let at = p + space::BESIDE_POINT - egui::vec2(0.0, lift);
            let rect = Rect::from_min_size(at, galley.size()).expand2(space::PLATE);
            if self.inside.contains_rect(rect) && !self.taken.iter().any(|other| other.intersects(rect)) {
                self.painter.rect_filled(rect, corner::PLATE, plate);
                self.painter.galley(rect.min + space::PLATE, galley, ink);
                self.taken.push(rect);
                return;
            }
        }
    }
}
