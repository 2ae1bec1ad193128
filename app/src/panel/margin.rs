//! How a margin looks: a mark, a word and a colour together, so that colour never carries meaning alone. The colours differ in
//! lightness too, and stay apart for the common kinds of colour blindness.

use bevy_egui::egui::{self, Color32, RichText};
use scene_core::finding::Grade;
use scene_core::outcome::{GapRow, Report};
use scene_core::quantity::show::{Round, Units, show_feet_inches};
use scene_core::rehearsal::Nearest;
use scene_core::rules::PairState;

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    pub mark: &'static str,
    pub word: &'static str,
    pub colour: [u8; 3],
}

pub const STOP: Look = Look { mark: "⛔", word: "stop", colour: [166, 20, 40] };
pub const COVERED: Look = Look { mark: "⚠", word: "covered", colour: [150, 90, 0] };
pub const TIGHT: Look = Look { mark: "▲", word: "tight", colour: [122, 84, 52] };
pub const APART: Look = Look { mark: "⏺", word: "apart", colour: [0, 98, 130] };

/// Bodies with less margin than this between them are something for the crew to watch, metres.
const WATCH_M: f64 = 0.3;

impl Look {
    /// Of a pair whose proven state over the path is known, at an instant with this margin.
    pub fn of(margin_m: f64, state: PairState) -> Self {
        // A sample never looks better than the pair's proof lets it.
        if margin_m >= 0.0 {
            return APART;
        }
        Self::of_state(state)
    }

    pub fn of_state(state: PairState) -> Self {
        match state {
            PairState::Covered => COVERED,
            PairState::Tight => TIGHT,
            PairState::Apart => APART,
            PairState::Touch | PairState::Undecided | PairState::Short => STOP,
        }
    }

    pub fn ink(self) -> Color32 {
        let [r, g, b] = self.colour;
        Color32::from_rgb(r, g, b)
    }
}

/// What was proven of the pair that is nearest.
pub fn state(report: &Report, nearest: &Nearest) -> PairState {
    report.gaps.get(nearest.row).map_or(PairState::Undecided, |row| row.state)
}

/// What is to be watched besides the wires: the nearest bodies where they leave little, and their row.
pub fn to_watch<'a>(report: &'a Report, among_bodies: Option<&'a Nearest>) -> Option<(&'a Nearest, &'a GapRow)> {
    let near = among_bodies.filter(|near| near.margin_m < WATCH_M)?;
    Some((near, report.gaps.get(near.row)?))
}

pub fn of_grade(grade: Grade) -> Look {
    match grade {
        Grade::Stop => STOP,
        Grade::Caution => COVERED,
        Grade::Note => APART,
    }
}

/// White on the look's colour, with its mark.
pub fn badge(ui: &mut egui::Ui, text: &str, look: Look) {
    badge_sized(ui, text, look, 13.5);
}

pub fn badge_sized(ui: &mut egui::Ui, text: &str, look: Look, size: f32) {
    egui::Frame::new().fill(look.ink()).corner_radius(5.0).inner_margin(egui::Margin::symmetric(8, 3)).show(ui, |ui| {
        ui.label(RichText::new(format!("{} {text}", look.mark)).color(Color32::WHITE).strong().size(size));
    });
}

pub fn feet_inches(m: f64) -> String {
    show_feet_inches(m, Units::Us, Round::Down)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance of WCAG 2.2.
    fn luminance([r, g, b]: [u8; 3]) -> f64 {
        let part = |c: u8| {
            let c = f64::from(c) / 255.0;
            if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * part(r) + 0.7152 * part(g) + 0.0722 * part(b)
    }

    #[test]
    fn white_is_legible_on_every_look() {
        for look in [STOP, COVERED, TIGHT, APART] {
            let contrast = 1.05 / (luminance(look.colour) + 0.05);
            assert!(contrast >= 4.5, "{}: {contrast}", look.word);
        }
    }

    #[test]
    fn every_look_has_its_own_mark_and_word() {
        let looks = [STOP, COVERED, TIGHT, APART];
        for (i, a) in looks.iter().enumerate() {
            for b in &looks[..i] {
                assert!(a.mark != b.mark && a.word != b.word && a.colour != b.colour);
            }
        }
    }

    #[test]
    fn a_pair_that_was_not_proven_looks_like_a_stop() {
        for state in [PairState::Touch, PairState::Undecided, PairState::Short] {
            assert_eq!(Look::of(-0.01, state), STOP);
        }
    }
}
