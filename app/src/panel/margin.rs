//! How a margin looks: a mark, a word and a color together, so that color never carries meaning alone.

use crate::theme::{StateColor, corner, font, ink, space};
use bevy_egui::egui::{self, Color32, RichText};
use scene_core::finding::Grade;
use scene_core::outcome::{GapRow, Report};
use scene_core::quantity::show::{Round, Units, show_feet_inches};
use scene_core::rehearsal::Nearest;
use scene_core::rules::PairState;

/// The look of a state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    pub mark: &'static str,
    pub word: &'static str,
    pub color: StateColor,
}

pub const STOP: Look = Look { mark: "⛔", word: "stop", color: StateColor::STOP };
pub const COVERED: Look = Look { mark: "⚠", word: "covered", color: StateColor::COVERED };
pub const TIGHT: Look = Look { mark: "▲", word: "tight", color: StateColor::TIGHT };
pub const APART: Look = Look { mark: "⏺", word: "apart", color: StateColor::APART };

/// Where bodies have less margin than this between them, the crew watches them; meters.
const WATCH_M: f64 = 0.3;

impl Look {
    /// The look of a pair at an instant with this margin; `state` is what was proven of it over the path.
    pub fn of(margin_m: f64, state: PairState) -> Self {
        // A sample never looks better than the proof allows.
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
        self.color.ink()
    }
}

/// What was proven of a nearest pair over the path.
pub fn state(report: &Report, nearest: &Nearest) -> PairState {
    report.gaps.get(nearest.row).map_or(PairState::Undecided, |row| row.state)
}

/// What the crew watches besides the wires: the nearest bodies, where they leave little, and their row.
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

/// Writes in white on the look's color, with its mark.
pub fn badge(ui: &mut egui::Ui, text: &str, look: Look) {
    badge_sized(ui, text, look, font::BADGE);
}

pub fn badge_sized(ui: &mut egui::Ui, text: &str, look: Look, size: f32) {
    egui::Frame::new().fill(look.ink()).corner_radius(corner::BADGE).inner_margin(space::BADGE).show(ui, |ui| {
        ui.label(RichText::new(format!("{} {text}", look.mark)).color(ink::ON_FILL).strong().size(size));
    });
}

pub fn feet_inches(m: f64) -> String {
    show_feet_inches(m, Units::Us, Round::Down)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_look_has_its_own_mark_and_word() {
        let looks = [STOP, COVERED, TIGHT, APART];
        for (i, a) in looks.iter().enumerate() {
            for b in &looks[..i] {
                assert!(a.mark != b.mark && a.word != b.word && a.color != b.color);
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
