//! What each corner's allowance is made of, and how the pole is held.

use super::bodies::WindLean;
use crate::machine::crane::chain::Seat;
use crate::sequence::{LoadState, Piece, Plan};
use crate::site::{Action, Site};

/// What holds the pole during a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum HeldBy {
    /// The ground: it lies, or it has been let go.
    Ground,
    /// The hook.
    Hook,
    /// The hole, while the hook plumbs it and lets it go. The step before is a hold point or work, at which the crew sees that it
    /// stands. So it neither swings nor leans with the wind.
    Hole,
}

impl HeldBy {
    /// `let_go` is the step that lets a pole go that the crew has seen to stand.
    pub fn in_piece(piece: &Piece, let_go: Option<usize>) -> Self {
        match piece.load {
            LoadState::Hanging if let_go == Some(piece.step) => Self::Hole,
            LoadState::Hanging | LoadState::ButtOnGround { .. } => Self::Hook,
            LoadState::Free | LoadState::Standing | LoadState::Unknown => Self::Ground,
        }
    }
}

/// The step that lets the pole go, when the crew confirms just before it that the pole stands.
pub(crate) fn lets_standing_pole_go(site: &Site) -> Option<usize> {
    let let_go = site.steps.iter().position(|step| step.action == Action::Release)?;
    let before = site.steps.get(let_go.checked_sub(1)?)?;
    matches!(before.action, Action::Hold { .. } | Action::Work { .. }).then_some(let_go)
}

/// What each corner's allowance is made of, meters and ratios.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Allowing {
    pub crane_m: f64,
    /// Of what a machine stands on.
    pub carrier_m: f64,
    /// At the hook, before it swings.
    pub hook_m: f64,
    pub swing_m: f64,
    pub line_lean: f64,
    pub per_metre: f64,
    /// What of the hang is not known to better: at the choke, and per meter from it.
    pub hang_m: f64,
    pub hang_per_metre: f64,
    pub resting_m: f64,
    /// When the plan has the pole in guides.
    pub guides: Option<Guiding>,
}

/// What a pole in the guides may be off: there, and per meter from them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Guiding {
    pub play_m: f64,
    pub lean: f64,
}

impl Allowing {
    /// What comes of the load itself: swing, lean, and what of its hang is not known.
    pub fn of_load(site: &Site, plan: &Plan, lean: &WindLean) -> Self {
        let (allowances, hang) = (&site.allowances, &plan.hang);
        Self {
            crane_m: f64::NAN,
            carrier_m: f64::NAN,
            hook_m: f64::NAN,
            swing_m: allowances.load_swing.value,
            line_lean: lean.line,
            per_metre: allowances.load_swing_growth.value + lean.pole,
            // An offset known to ±d shifts the pole by d where it hangs, and by d once more on its way up. Leaning another
            // way by an angle turns it by that times its tilt, never more than twice the tilt.
            hang_m: hang.choke_offset_m.width(),
            hang_per_metre: hang.tilt_rad.width() / 2.0
                + hang.tilt_rad.high() * (hang.tip_leans.width() / 2.0).min(2.0),
            resting_m: f64::NAN,
            guides: plan.pieces.iter().any(|piece| matches!(piece.seat, Seat::InGuides(_))).then(|| Guiding {
                // The plan has none in guides unless both are stated.
                play_m: allowances.guide_play.as_ref().map_or(f64::INFINITY, |play| play.value),
                lean: allowances.guide_lean.as_ref().map_or(f64::INFINITY, |stated| stated.value) + lean.pole,
            }),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bracket::Bracket;
    use crate::fixtures::site::{hang_at, site, whole_sequence};
    use crate::motion::Motion;

    /// The greatest allowance of the pole while it is let go, with this step before.
    fn while_let_go(before: Action) -> f64 {
        let mut site = site(whole_sequence());
        let let_go = site.steps.iter().position(|step| step.action == Action::Release).unwrap();
        site.steps[let_go - 1].action = before;
        let plan = crate::sequence::plan(&site, &hang_at(0.01, 0.1));
        let motion = Motion::of(&site, &plan, &WindLean { line: 0.01, pole: 0.01 });
        let piece = plan.steps[let_go].pieces.start;
        let parts = motion.pole_stretches(piece, &[Bracket::between(0.0, 17.0).unwrap()]).concat();
        parts.iter().flat_map(|part| &part.features).map(|feature| feature.allowance_m).fold(0.0, f64::max)
    }

    #[test]
    fn a_pole_that_the_crew_has_seen_to_stand_neither_swings_nor_leans() {
        let allowances = site(Vec::new()).allowances;
        let resting_m = allowances.survey.value + allowances.line_movement.value;
        let standing_m = while_let_go(Action::Hold { question: "Stands?".to_owned() });
        assert!((standing_m - resting_m).abs() < 1e-9, "{standing_m} {resting_m}");
        assert_eq!(while_let_go(Action::Work { minutes: 20.0 }), standing_m);
    }

    #[test]
    fn a_pole_that_nobody_looked_at_may_still_swing() {
        let hung_m = while_let_go(Action::LowerTo { height_m: -2.2 });
        assert!(hung_m > 1.5 * while_let_go(Action::Work { minutes: 20.0 }), "{hung_m}");
    }
}
