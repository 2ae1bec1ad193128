//! How the window looks: every color, text size, distance and stroke of the panels and the site view.
//!
//! | module | holds | used by |
//! |---|---|---|
//! | [`StateColor`] | the color of a pair's state | panels and site view |
//! | [`ink`] | colors | panels |
//! | [`font`] | font sizes, points | panels |
//! | [`space`], [`size`] | distances, points | panels |
//! | [`stroke`], [`corner`] | stroke widths and corner radii, points | panels |
//! | [`paint`] | colors, light, line widths | site view |
//!
//! A name says what a value means, never its hue. `clippy.toml` holds color literals out of every other file.
#![allow(clippy::disallowed_methods, reason = "this is the one file where colors are made from numbers")]

use bevy::color::{Color, ColorToComponents, Mix};
use bevy_egui::egui::{Color32, Visuals};

/// The color of a pair's state. The four differ in lightness too and stay apart for the common kinds of color blindness;
/// white text is legible on each.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct StateColor([u8; 3]);

impl StateColor {
    pub const STOP: Self = Self([166, 20, 40]);
    pub const COVERED: Self = Self([150, 90, 0]);
    pub const TIGHT: Self = Self([122, 84, 52]);
    pub const APART: Self = Self([0, 98, 130]);

    /// The sRGB components.
    #[cfg(test)]
    pub fn rgb(self) -> [u8; 3] {
        self.0
    }

    /// The color as a fill, and as ink on a light ground.
    pub fn ink(self) -> Color32 {
        let [r, g, b] = self.0;
        Color32::from_rgb(r, g, b)
    }

    /// The color as a thin line: halfway to white on a dark ground.
    pub fn line(self, visuals: &Visuals) -> Color32 {
        if !visuals.dark_mode {
            return self.ink();
        }
        let [r, g, b] = self.0.map(|c| c.saturating_add((255 - c) / 2));
        Color32::from_rgb(r, g, b)
    }

    /// The color of text: the usual text color on a dark ground, where the state's own color is too dark to read.
    pub fn text(self, visuals: &Visuals) -> Color32 {
        if visuals.dark_mode { visuals.text_color() } else { self.ink() }
    }

    /// The color of a mark in the site view.
    pub fn in_site(self) -> Color {
        let [r, g, b] = self.0;
        Color::srgb_u8(r, g, b)
    }
}

/// Colors of the panels.
pub mod ink {
    use super::{Color32, Visuals};

    /// Text on a light ground and on a dark one.
    pub const TEXT_ON_LIGHT: Color32 = Color32::from_gray(22);
    pub const TEXT_ON_DARK: Color32 = Color32::from_gray(232);
    /// Text on a fill of a [`super::StateColor`], [`COVER`], [`HELD_OUT`] or [`HANDLE`].
    pub const ON_FILL: Color32 = Color32::WHITE;
    pub const NO_FILL: Color32 = Color32::TRANSPARENT;

    /// Lanes of the timeline.
    pub const COVER: Color32 = Color32::from_rgb(158, 72, 10);
    pub const HELD_OUT: Color32 = Color32::from_rgb(78, 70, 130);

    /// A dot that can be dragged: its ring, its ring in the slot view while the pointer is on it, its inside.
    pub const HANDLE: Color32 = Color32::from_rgb(0, 84, 150);
    pub const HANDLE_UNDER_POINTER: Color32 = Color32::from_rgb(0, 120, 215);
    pub const HANDLE_INSIDE: Color32 = Color32::WHITE;

    /// A wire's name in the site view, and the plate under it.
    pub const WIRE_NAME: Color32 = Color32::from_rgb(25, 28, 33);
    pub const WIRE_NAME_PLATE: Color32 = Color32::from_rgba_unmultiplied_const(255, 255, 255, 215);

    /// Bodies in the slot view.
    pub const SLOT_POLE: Color32 = Color32::from_rgb(150, 158, 166);
    pub const SLOT_RIGGING: Color32 = Color32::from_rgb(140, 96, 170);
    pub const SLOT_HOOK: Color32 = Color32::from_gray(70);
    pub const SLOT_BUCKET_TRUCK: Color32 = Color32::from_rgb(200, 200, 190);
    pub const SLOT_MACHINE: Color32 = Color32::from_rgb(206, 170, 90);
    pub const SLOT_OUTLINE: Color32 = Color32::from_gray(40);
    /// The required distance about a wire in the slot view.
    pub const REQUIRED: Color32 = Color32::from_rgba_unmultiplied_const(166, 20, 40, 90);

    /// How much of a color is left where a thing steps back: the grid of the slot view, the band that a wire may hang in,
    /// a margin that does not govern.
    pub const GRID_SHARE: f32 = 0.25;
    pub const BAND_SHARE: f32 = 0.5;
    pub const NOT_GOVERNING_SHARE: f32 = 0.75;
    /// Numbers of the grid, as a multiple of the grid's own ink.
    pub const GRID_NUMBER_SHARE: f32 = 3.0;

    /// Quieter than the rest, and still legible.
    pub fn quiet(visuals: &Visuals) -> Color32 {
        if visuals.dark_mode { Color32::from_gray(178) } else { Color32::from_gray(82) }
    }

    /// A wire in the slot view.
    pub fn slot_wire(visuals: &Visuals) -> Color32 {
        if visuals.dark_mode { Color32::from_gray(230) } else { Color32::from_gray(25) }
    }
}

/// Font sizes, points.
pub mod font {
    pub const SMALL: f32 = 11.5;
    pub const BADGE: f32 = 13.5;
    pub const HEADING: f32 = 14.0;
    pub const SCENE: f32 = 15.0;
    pub const GOVERNING_PAIR: f32 = 16.0;
    pub const REPORT: f32 = 11.5;

    pub const BRIEF_STEP: f32 = 34.0;
    pub const BRIEF_QUESTION: f32 = 24.0;
    pub const BRIEF_SIGNALS: f32 = 22.0;
    pub const BRIEF_WATCH: f32 = 22.0;
    pub const BRIEF_WATCH_BODIES: f32 = 20.0;
    pub const BRIEF_LINE: f32 = 18.0;
    pub const BRIEF_FINDING: f32 = 17.0;

    pub const SITE_STOP: f32 = 26.0;
    pub const SITE_GAP: f32 = 15.0;
    pub const SITE_HANDLE: f32 = 14.0;
    pub const SITE_PAIR: f32 = 13.0;
    pub const SITE_WIRE: f32 = 12.5;

    pub const SLOT_WIRE: f32 = 13.0;
    pub const SLOT_BADGE: f32 = 12.0;
    pub const SLOT_FEET: f32 = 10.0;

    pub const TIMELINE_STEP: f32 = 12.0;
    pub const TIMELINE_LANE: f32 = 10.5;
    pub const TIMELINE_MARK: f32 = 10.0;

    /// Of the letters that the program brings, against the engine's own.
    pub const LETTER_SCALE: f32 = 0.92;
}

/// Distances between things, points.
pub mod space {
    use bevy_egui::egui::{Margin, Vec2, vec2};

    pub const HAIR: f32 = 2.0;
    pub const THIN: f32 = 3.0;
    pub const LINE: f32 = 4.0;
    pub const FINDING: f32 = 5.0;
    pub const GROUP: f32 = 6.0;
    pub const BLOCK: f32 = 8.0;
    pub const ANSWERS: f32 = 10.0;

    /// Columns and rows of grids.
    pub const TERMS: [f32; 2] = [10.0, 2.0];
    pub const FORM: [f32; 2] = [12.0, 4.0];
    pub const FACTS: [f32; 2] = [16.0, 4.0];
    pub const KEYS: [f32; 2] = [18.0, 4.0];

    /// Between a frame and what is in it.
    pub const BADGE: Margin = Margin::symmetric(8, 3);
    pub const STEP: Margin = Margin::symmetric(6, 3);
    pub const STRIP_EDGE: Vec2 = vec2(6.0, 2.0);
    pub const QUESTION: Margin = Margin::same(10);
    pub const POPUP: Margin = Margin::same(8);
    /// Between a name in the site view and the edge of its plate.
    pub const PLATE: Vec2 = vec2(5.0, 2.0);
    /// Between the edge of the site view and what is written in it, the frame of a stop, the word STOP and its plate.
    pub const SITE_EDGE: f32 = 6.0;
    pub const STOP_FRAME: f32 = 7.0;
    pub const STOP_WORD: Vec2 = vec2(22.0, 18.0);
    pub const STOP_PLATE: f32 = 6.0;
    /// Between a point of the site and the name beside it.
    pub const BESIDE_POINT: Vec2 = vec2(9.0, -9.0);
    pub const BESIDE_WIRE: Vec2 = vec2(7.0, -7.0);
    /// From the lower left corner of the site view to the overlay of counts and times.
    pub const OVERLAY_CORNER: Vec2 = vec2(12.0, -12.0);
}

/// Sizes of panels and of things in them, points.
pub mod size {
    use bevy_egui::egui::{Vec2, vec2};

    pub const STEPS_WIDTH: f32 = 252.0;
    pub const GOVERNING_WIDTH: f32 = 286.0;
    /// Of the window's width.
    pub const TABLES_SHARE: f32 = 0.58;
    pub const HELP_WIDTH: f32 = 470.0;
    pub const MORNING_WIDTH: f32 = 430.0;
    /// Fields of the form for an answer.
    pub const ANSWER_WIDTH: f32 = 190.0;
    pub const ANSWER_DAY: f32 = 90.0;
    pub const QUESTION_WIDTH: f32 = 420.0;
    pub const SLOT: [f32; 2] = [330.0, 440.0];
    pub const PLAY: Vec2 = vec2(84.0, 24.0);

    /// Heights of the timeline without its lanes, of its bar of steps, of a lane; the radius of the mark at a proven minimum.
    pub const STRIP: f32 = 88.0;
    pub const STEP_BAR: f32 = 22.0;
    pub const LANE: f32 = 14.0;
    pub const MARK: f32 = 6.5;

    /// Radius of a dot that can be dragged: in the site view, there while the pointer is on it, in the slot view.
    pub const HANDLE: f32 = 4.0;
    pub const HANDLE_UNDER_POINTER: f32 = 6.5;
    pub const SLOT_HANDLE: f32 = 5.5;
    /// Where a dot of the slot view can be taken hold of.
    pub const SLOT_GRIP: Vec2 = vec2(18.0, 18.0);
    /// A wire in the slot view is drawn no thinner, radius.
    pub const SLOT_WIRE: f32 = 2.5;
    /// Rows of a table.
    pub const TABLE_HEAD: f32 = 20.0;
    pub const TABLE_ROW: f32 = 19.0;
    /// A dash and the room after it.
    pub const DASH: f32 = 4.0;
}

/// Stroke widths, points.
pub mod stroke {
    pub const STOP_FRAME: f32 = 5.0;
    pub const HANDLE: f32 = 2.0;
    pub const SLOT_HANDLE: f32 = 2.5;
    pub const SLOT_OUTLINE: f32 = 0.7;
    pub const SLOT_BAND: f32 = 2.0;
    pub const GRID: f32 = 0.5;
    /// Every fifth line of the grid.
    pub const GRID_FIFTH: f32 = 1.2;
    pub const REQUIRED: f32 = 1.0;
    pub const LANE: f32 = 1.0;
    pub const ZERO: f32 = 1.0;
    pub const NOW: f32 = 2.0;
    pub const GOVERNING: f32 = 2.25;
    pub const NOT_GOVERNING: f32 = 1.0;
    pub const GOVERNING_MARK: f32 = 2.0;
    pub const NOT_GOVERNING_MARK: f32 = 1.0;
}

/// Corner radii, points.
pub mod corner {
    pub const LANE: f32 = 2.0;
    pub const CELL: f32 = 3.0;
    pub const PLATE: f32 = 4.0;
    pub const BADGE: f32 = 5.0;
    pub const QUESTION: f32 = 6.0;
}

/// The site view: what things are painted with, the light that falls on them, how thick lines are.
pub mod paint {
    use super::{Color, ColorToComponents, Mix, StateColor};
    use bevy::color::LinearRgba;
    use bevy::math::Vec3;

    /// The sky by day: pale toward the horizon, where the ground is lost in haze.
    pub const HAZE: Color = Color::linear_rgb(1.15, 1.3, 1.4);
    const ZENITH: Color = Color::linear_rgb(0.55, 0.95, 1.75);
    /// How fast the haze goes over into the sky above, as a power of the height.
    const PALING: f32 = 0.6;
    /// Where the haze begins and where nothing is seen through it, meters from the eye.
    pub const HAZE_M: [f32; 2] = [150.0, 520.0];
    /// Leaves the color of each corner of a mesh as it is.
    pub const AS_ITS_CORNERS: Color = Color::WHITE;
    pub const NO_GLOW: LinearRgba = LinearRgba::BLACK;

    /// The sun, lux, and where it stands, engine axes; the light of the sky, candela per square meter.
    pub const SUN_LUX: f32 = 8_500.0;
    pub const SUN_FROM: Vec3 = Vec3::new(45.0, 80.0, 55.0);
    pub const SKYLIGHT: f32 = 500.0;

    pub const GROUND: Color = Color::srgb(0.53, 0.57, 0.46);
    pub const GRID: Color = Color::srgba(0.30, 0.33, 0.27, 0.35);
    pub const ASPHALT: Color = Color::srgb(0.33, 0.34, 0.35);
    pub const WALL: Color = Color::srgb(0.74, 0.66, 0.58);
    pub const LEAVES: Color = Color::srgb(0.30, 0.44, 0.24);
    pub const NO_GO: Color = Color::srgba(0.70, 0.10, 0.20, 0.22);
    /// Standing poles, cross arms, mats.
    pub const WOOD: Color = Color::srgb(0.45, 0.35, 0.26);
    /// Insulators, a person's head, jacks.
    pub const PALE: Color = Color::srgb(0.80, 0.78, 0.72);
    /// Frames, tires, the mouth of the hole.
    pub const DARK: Color = Color::srgb(0.16, 0.16, 0.17);
    pub const VEST: Color = Color::srgb(0.86, 0.42, 0.12);
    pub const CRANE_CAB: Color = Color::srgb(0.62, 0.50, 0.19);
    pub const BUCKET_TRUCK_CAB: Color = Color::srgb(0.84, 0.84, 0.81);

    pub const BOOM: Color = Color::srgb(0.80, 0.62, 0.20);
    pub const HOOK: Color = Color::srgb(0.28, 0.29, 0.31);
    pub const HOIST_LINE: Color = Color::srgb(0.18, 0.18, 0.19);
    pub const RIGGING: Color = Color::srgb(0.45, 0.26, 0.55);
    pub const COUNTERWEIGHT: Color = Color::srgb(0.36, 0.37, 0.38);
    pub const STEEL_POLE: Color = Color::srgb(0.62, 0.66, 0.70);
    pub const WOOD_POLE: Color = Color::srgb(0.52, 0.39, 0.27);
    pub const POLE_ITEM: Color = Color::srgb(0.42, 0.45, 0.48);
    pub const DERRICK_TOOL: Color = Color::srgb(0.70, 0.71, 0.72);
    pub const WORKER_REACH: Color = Color::srgba(0.95, 0.65, 0.20, 0.16);
    pub const INSULATED_BOOM: Color = Color::srgb(0.88, 0.84, 0.62);
    pub const ELBOW: Color = Color::srgb(0.86, 0.42, 0.12);
    pub const BUCKET_TRUCK: Color = Color::srgb(0.86, 0.86, 0.83);
    /// A body as it stood before the drag.
    pub const GHOST: Color = Color::srgba(0.25, 0.45, 0.75, 0.28);

    pub const PHASE: Color = Color::srgb(0.10, 0.10, 0.12);
    pub const NEUTRAL: Color = Color::srgb(0.30, 0.30, 0.33);
    pub const OTHER_WIRE: Color = Color::srgb(0.20, 0.22, 0.30);
    pub const COVER: Color = Color::srgb(0.93, 0.45, 0.12);
    pub const REQUIRED: Color = Color::srgba(0.65, 0.08, 0.16, 0.16);
    pub const FOOTPRINT: Color = Color::srgb(0.14, 0.16, 0.30);

    /// How much of a swept volume hides what is behind it.
    pub const SWEPT_ALPHA: f32 = 0.3;
    /// Wires and grid, and the lines that lie in front of everything, pixels.
    pub const LINE_WIDTH: f32 = 1.6;
    pub const FRONT_LINE_WIDTH: f32 = 4.0;
    /// Radii, meters: a cover on a wire, the ends of the nearest pair, the place where bodies meet.
    pub const COVER_RADIUS_M: f32 = 0.08;
    pub const PAIR_END_RADIUS_M: f32 = 0.12;
    pub const MEETING_RADIUS_M: f32 = 0.2;

    /// The sky's color at a height: 0 at the horizon, 1 overhead.
    pub fn sky(height: f32) -> [f32; 4] {
        HAZE.to_linear().mix(&ZENITH.to_linear(), height.clamp(0.0, 1.0).powf(PALING)).to_f32_array()
    }

    /// A shade of the color, so that the sections of a boom can be told apart.
    pub fn section(color: Color, index: usize) -> Color {
        let shade = 1.0 - 0.06 * (index % 3) as f32;
        let color = color.to_srgba();
        Color::srgb(color.red * shade, color.green * shade, color.blue * shade)
    }

    /// The paint of a body whose pair has this state, and its glow.
    pub fn in_state(color: Color, state: StateColor) -> (Color, LinearRgba) {
        let tint = state.in_site();
        (color.mix(&tint, 0.72), tint.to_linear() * 0.25)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance, WCAG 2.2.
    fn luminance(color: StateColor) -> f64 {
        let [r, g, b] = color.rgb().map(|c| {
            let c = f64::from(c) / 255.0;
            if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        });
        0.2126 * r + 0.7152 * g + 0.0722 * b
    }

    #[test]
    fn white_is_legible_on_every_state() {
        for state in [StateColor::STOP, StateColor::COVERED, StateColor::TIGHT, StateColor::APART] {
            let contrast = 1.05 / (luminance(state) + 0.05);
            assert!(contrast >= 4.5, "{state:?}: {contrast}");
        }
    }
}
