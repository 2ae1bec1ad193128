//! The slot view: what hangs and what it passes between, seen along the line at the hole. Bodies are drawn as outlines, so that
//! nothing looks thinner than it is. The numbers are the gaps at this instant, measured in space.

use super::margin::{self, Look, feet_inches};
use super::{Request, State, quiet};
use crate::handle::Handle;
use crate::theme::{corner, font, ink, size, space, stroke};
use bevy_egui::egui::{self, Align2, Color32, FontId, Pos2, Rect, RichText, Sense, Stroke, pos2, vec2};
use scene_core::glam::{DVec2, DVec3};
use scene_core::machine::BodyId;
use scene_core::quantity::unit::FOOT_M;
use scene_core::rehearsal::{Nearest, Rehearsal};
use scene_core::solid::Hull;

/// How far along the line from the hole a thing is still shown, meters.
const DEEP_M: f64 = 2.5;
/// How many corners an outline has.
const AROUND: usize = 48;

/// The direction in which the slot is seen.
pub struct Sight {
    origin: DVec3,
    along: DVec3,
    /// Level, to the right of the view.
    right: DVec3,
}

impl Sight {
    /// The view through the hole, along the wire that passes nearest to it.
    pub fn of(rehearsal: &Rehearsal) -> Option<Self> {
        let hole = rehearsal.site.hole.at;
        let spans = rehearsal.site.wires.iter().flat_map(|wire| &wire.spans);
        let away = |a: DVec3, b: DVec3| {
            let (a, b, p) = (a.truncate(), b.truncate(), hole.truncate());
            let s = ((p - a).dot(b - a) / (b - a).length_squared().max(1e-9)).clamp(0.0, 1.0);
            (a + (b - a) * s).distance(p)
        };
        let nearest = spans.min_by(|a, b| away(a.from, a.to).total_cmp(&away(b.from, b.to)))?;
        let along = DVec3 { z: 0.0, ..nearest.to - nearest.from }.try_normalize()?;
        Some(Self { origin: hole, along, right: DVec3::new(along.y, -along.x, 0.0) })
    }

    /// Where a point is seen: meters to the right of the hole and above it.
    pub fn seen(&self, p: DVec3) -> DVec2 {
        DVec2::new((p - self.origin).dot(self.right), p.z - self.origin.z)
    }

    /// How far down the line a point lies, meters.
    fn depth_m(&self, p: DVec3) -> f64 {
        (p - self.origin).dot(self.along)
    }

    /// A step within the view, as one in space.
    fn in_space(&self, by: DVec2) -> DVec3 {
        self.right * by.x + DVec3::Z * by.y
    }

    /// The outline of a solid.
    pub fn outline(&self, hull: &Hull) -> Vec<DVec2> {
        let corner = |i: usize| {
            let (sin, cos) = (std::f64::consts::TAU * i as f64 / AROUND as f64).sin_cos();
            let way = self.in_space(DVec2::new(cos, sin));
            let farthest = hull.features.iter().map(|feature| feature.farthest(way));
            farthest.max_by(|a, b| a.dot(way).total_cmp(&b.dot(way))).map(|p| self.seen(p))
        };
        (0..AROUND).filter_map(corner).filter(|p| p.is_finite()).collect()
    }

    fn is_near(&self, hull: &Hull) -> bool {
        let depth = |sign: f64| {
            let farthest = hull.features.iter().map(|feature| self.depth_m(feature.farthest(self.along * sign)) * sign);
            farthest.fold(f64::NEG_INFINITY, f64::max)
        };
        depth(1.0) >= -DEEP_M && depth(-1.0) >= -DEEP_M
    }

    /// For each wire its index, where its outermost curves pass the hole, and its radius in meters.
    fn wires(&self, state: &State) -> Vec<(usize, Vec<DVec2>, f64)> {
        let mut found: Vec<(usize, Vec<DVec2>, f64)> = Vec::new();
        for curve in state.rehearsal.curves(state.step, state.weather) {
            let crossing = curve.points.windows(2).find_map(|pair| {
                let [a, b] = [pair[0], pair[1]];
                let (da, db) = (self.depth_m(a), self.depth_m(b));
                (da <= 0.0 && db > 0.0 || da >= 0.0 && db < 0.0).then(|| self.seen(a + (b - a) * (da / (da - db))))
            });
            let Some(p) = crossing else { continue };
            match found.iter_mut().find(|known| known.0 == curve.wire) {
                Some(known) => known.1.push(p),
                None => found.push((curve.wire, vec![p], curve.radius_m)),
            }
        }
        found
    }
}

pub fn show(context: &egui::Context, state: &State, requests: &mut Vec<Request>) {
    let mut open = true;
    let screen = context.viewport_rect();
    egui::Window::new("Slot, seen along the line")
        .open(&mut open)
        .default_size(size::SLOT)
        .default_pos(pos2(screen.right() - 640.0, screen.top() + 48.0))
        .show(context, |ui| inside(ui, state, requests));
    if !open {
        requests.push(Request::Layers(super::Layers { slot: false, ..state.layers }));
    }
}

/// How meters become points on the screen.
struct ViewScale {
    center: Pos2,
    middle: DVec2,
    points_per_m: f32,
}

impl ViewScale {
    fn at(&self, p: DVec2) -> Pos2 {
        let off = p - self.middle;
        self.center + vec2(off.x as f32, -off.y as f32) * self.points_per_m
    }

    fn meters(&self, by: egui::Vec2) -> DVec2 {
        DVec2::new(f64::from(by.x), -f64::from(by.y)) / f64::from(self.points_per_m)
    }
}

fn inside(ui: &mut egui::Ui, state: &State, requests: &mut Vec<Request>) {
    let Some(sight) = Sight::of(state.rehearsal) else {
        ui.label("No wire passes the hole.");
        return;
    };
    let wires = sight.wires(state);
    let size =
        vec2(ui.available_width().max(240.0), (ui.available_height() - 24.0 - 22.0 * wires.len() as f32).max(200.0));
    let (response, painter) = ui.allocate_painter(size, Sense::hover());
    let rect = response.rect;
    let visuals = ui.visuals().clone();
    painter.rect_filled(rect, corner::PLATE, visuals.extreme_bg_color);
    let all: Vec<DVec2> = wires.iter().flat_map(|wire| wire.1.iter().copied()).collect();
    let Some(first) = all.first() else {
        ui.label("No wire passes the hole.");
        return;
    };
    let (low, high) = all.iter().fold((*first, *first), |(low, high), p| (low.min(*p), high.max(*p)));
    let (low, high) = (low - DVec2::new(1.6, 2.2), high + DVec2::new(1.6, 3.4));
    let wide = (high - low).max(DVec2::splat(1.0));
    let points_per_m = (rect.width() / wide.x as f32).min(rect.height() / wide.y as f32);
    let scale = ViewScale { center: rect.center(), middle: (low + high) / 2.0, points_per_m };
    let painter = painter.with_clip_rect(rect);
    feet(&painter, rect, &scale, quiet(&visuals));

    for shape in state.rehearsal.shapes(state.time_s) {
        let fill = match shape.id {
            BodyId::Pole | BodyId::PoleItem(_) => ink::SLOT_POLE,
            BodyId::Rigging => ink::SLOT_RIGGING,
            BodyId::HookBlock | BodyId::HoistLine => ink::SLOT_HOOK,
            BodyId::OfLift { .. } => ink::SLOT_BUCKET_TRUCK,
            _ => ink::SLOT_MACHINE,
        };
        for hull in shape.hulls.iter().filter(|hull| sight.is_near(hull)) {
            let outline: Vec<Pos2> = sight.outline(hull).into_iter().map(|p| scale.at(p)).collect();
            painter.add(egui::Shape::convex_polygon(
                outline,
                fill,
                Stroke::new(stroke::SLOT_OUTLINE, ink::SLOT_OUTLINE),
            ));
        }
    }
    let mut names = Vec::new();
    for (wire, crossings, radius_m) in &wires {
        names.extend(wire_at(&painter, &scale, state, *wire, crossings, *radius_m, &visuals));
    }
    for (at, name, ..) in &names {
        painter.text(
            *at + space::BESIDE_WIRE,
            Align2::LEFT_BOTTOM,
            name,
            FontId::proportional(font::SLOT_WIRE),
            visuals.text_color(),
        );
    }
    for handle in state.handles.iter().filter(|handle| handle.is_of_slot()) {
        grip(ui, &painter, &sight, &scale, handle, state, requests);
    }
    for (_, _, said, look) in &names {
        margin::badge_sized(ui, said, *look, font::SLOT_BADGE);
    }
    let said = "Outlines at this instant, a square a foot; dots can be moved.";
    ui.label(RichText::new(said).small().color(quiet(ui.visuals())));
}

/// A grid of feet, with a number at every fifth line.
fn feet(painter: &egui::Painter, rect: Rect, scale: &ViewScale, ink: Color32) {
    let grid = ink.gamma_multiply(ink::GRID_SHARE);
    let line = |foot: i64| Stroke::new(if foot % 5 == 0 { stroke::GRID_FIFTH } else { stroke::GRID }, grid);
    let spread = f64::from(rect.width().max(rect.height()) / scale.points_per_m) / 2.0;
    let lines = |middle: f64| {
        let from = ((middle - spread) / FOOT_M).floor() as i64;
        let to = ((middle + spread) / FOOT_M).ceil() as i64;
        (from..=to.min(from + 400)).map(|foot| (foot, foot as f64 * FOOT_M))
    };
    for (foot, x) in lines(scale.middle.x) {
        let x = scale.at(DVec2::new(x, 0.0)).x;
        painter.vline(x, rect.y_range(), line(foot));
    }
    for (foot, y) in lines(scale.middle.y) {
        let y = scale.at(DVec2::new(0.0, y)).y;
        painter.hline(rect.x_range(), y, line(foot));
        if foot % 5 == 0 {
            let at = pos2(rect.left() + 3.0, y);
            painter.text(
                at,
                Align2::LEFT_BOTTOM,
                format!("{foot} ft"),
                FontId::proportional(font::SLOT_FEET),
                grid.gamma_multiply(ink::GRID_NUMBER_SHARE),
            );
        }
    }
}

/// Draws the band that a wire may hang in, with the required distance about it. Returns its place, its name, what is to be
/// written of it, and in which look.
fn wire_at(
    painter: &egui::Painter,
    scale: &ViewScale,
    state: &State,
    wire: usize,
    crossings: &[DVec2],
    radius_m: f64,
    visuals: &egui::Visuals,
) -> Option<(Pos2, String, String, Look)> {
    let report = &state.rehearsal.report;
    let name = &state.rehearsal.site.wires.get(wire)?.name;
    let of_wire = |pair: &&Nearest| report.gaps.get(pair.row).is_some_and(|row| row.other == *name);
    let nearest = state.pairs.iter().filter(of_wire).min_by(|a, b| a.margin_m.total_cmp(&b.margin_m));
    let weather = &state.rehearsal.site.weather.get(state.weather)?.name;
    let mut rows = report.gaps.iter();
    let of_pole = rows.find(|row| row.body == "pole" && row.other == *name && row.weather == *weather);
    let required_m = of_pole.map_or(0.0, |row| row.required_m);
    let wire_ink = ink::slot_wire(visuals);
    for p in crossings {
        let at = scale.at(*p);
        if required_m > 0.0 {
            let ring = Stroke::new(stroke::REQUIRED, ink::REQUIRED);
            painter.circle_stroke(at, (required_m + radius_m) as f32 * scale.points_per_m, ring);
        }
    }
    for pair in crossings.windows(2) {
        painter.line_segment(
            [scale.at(pair[0]), scale.at(pair[1])],
            Stroke::new(stroke::SLOT_BAND, wire_ink.gamma_multiply(ink::BAND_SHARE)),
        );
    }
    for p in crossings {
        painter.circle_filled(scale.at(*p), (radius_m as f32 * scale.points_per_m).max(size::SLOT_WIRE), wire_ink);
    }
    let middle = crossings.iter().fold(DVec2::ZERO, |sum, p| sum + *p) / crossings.len().max(1) as f64;
    let (text, look) = match nearest {
        Some(nearest) => {
            let look = Look::of(nearest.margin_m, margin::state(report, nearest));
            let body = report.gaps.get(nearest.row).map_or("", |row| row.body.as_str());
            let gap = feet_inches(nearest.gap_m);
            (format!("{name}: {gap} to {body}, margin {}", feet_inches(nearest.margin_m)), look)
        }
        None => (name.clone(), margin::APART),
    };
    Some((scale.at(middle), name.clone(), text, look))
}

/// A dot that can be dragged.
fn grip(
    ui: &egui::Ui,
    painter: &egui::Painter,
    sight: &Sight,
    scale: &ViewScale,
    handle: &Handle,
    state: &State,
    requests: &mut Vec<Request>,
) {
    let at = scale.at(sight.seen(handle.at));
    let place = Rect::from_center_size(at, size::SLOT_GRIP);
    let id = ui.id().with(("grip", &handle.label));
    let response = ui.interact(place, id, Sense::drag()).on_hover_cursor(egui::CursorIcon::Grab);
    let is_held = response.hovered() || response.dragged();
    let ring = if is_held { ink::HANDLE_UNDER_POINTER } else { ink::HANDLE };
    painter.circle(at, size::SLOT_HANDLE, ink::HANDLE_INSIDE, Stroke::new(stroke::SLOT_HANDLE, ring));
    let response = response.on_hover_text(&handle.label);
    // A drag counts from where it began, so that no rounding of a value adds up.
    let origin = ui.id().with("grip origin");
    if response.drag_started() {
        ui.data_mut(|data| data.insert_temp(origin, handle.at));
    }
    if response.dragged()
        && let Some(from) = ui.data(|data| data.get_temp::<DVec3>(origin))
        && let Some(by) = response.total_drag_delta()
    {
        let to = from + sight.in_space(scale.meters(by));
        if let Some(edit) = handle.moved(state.tree, to) {
            requests.push(Request::Drag(edit));
        }
    }
    if response.drag_stopped() {
        requests.push(Request::Settle);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::Document;
    use crate::scene_file::FIRST_EXAMPLE;

    #[test]
    fn an_outline_is_as_wide_as_the_pole_and_no_thinner() {
        let document = Document::built_in(FIRST_EXAMPLE.0, FIRST_EXAMPLE.1).unwrap();
        let rehearsal = Rehearsal::of(document.site());
        let sight = Sight::of(&rehearsal).unwrap();
        let shapes = rehearsal.shapes(rehearsal.end_s());
        let pole = shapes.iter().find(|shape| shape.id == BodyId::Pole).unwrap();
        let outlines: Vec<DVec2> = pole.hulls.iter().flat_map(|hull| sight.outline(hull)).collect();
        let least = outlines.iter().map(|p| p.x).fold(f64::INFINITY, f64::min);
        let most = outlines.iter().map(|p| p.x).fold(f64::NEG_INFINITY, f64::max);
        // 14 in across flats at the butt; across corners at most 14 in / cos 15°.
        assert!((0.3556..0.3556 / 15f64.to_radians().cos() + 0.06).contains(&(most - least)), "{}", most - least);
    }

    #[test]
    fn a_step_across_the_view_is_one_across_the_line() {
        let document = Document::built_in(FIRST_EXAMPLE.0, FIRST_EXAMPLE.1).unwrap();
        let sight = Sight::of(&Rehearsal::of(document.site())).unwrap();
        let p = DVec3::new(3.0, -2.0, 5.0);
        let by = DVec2::new(0.7, -0.4);
        assert!((sight.seen(p + sight.in_space(by)) - sight.seen(p) - by).length() < 1e-12);
        assert!((sight.depth_m(p + sight.in_space(by)) - sight.depth_m(p)).abs() < 1e-12);
    }
}
