//! What may touch by design, and in which pieces of the plan.
//!
//! A contact that is permitted for a time ends when the pole is let go. Nothing hangs or stands exactly clear of the pole at
//! that instant, so the way out of the contact counts as part of it, under one condition: along the level way from the pole's
//! axis to the body, or to the choke, the body never comes nearer than it was when the pole was let go. The first piece that
//! breaks the condition ends the excuse for good. Hoisting the hook beside the pole keeps the condition, and so does drawing a boom back.
//! Swinging the hook through the pole does not. A hook that is hoisted under something on the pole is judged too.
//!
//! While the pole lies, the hook keeps as far above it as the sling holds it there when the load is taken.

use crate::bracket::Bracket;
use crate::machine::BodyId;
use crate::machine::contact::{self, Permitted, When};
use crate::machine::crane::Joint;
use crate::motion::track::Phases;
use crate::motion::{BodyMotion, MovingPart};
use crate::sequence::{LoadState, Plan};
use crate::site::{Action, Site};
use glam::DVec3;

/// A body that leaves a contact may still come this much nearer, meters: rounding, and the bulge of a swing.
const LET_M: f64 = 0.01;
/// A piece is cut into this many stretches, each bounded by its chord.
const STRETCHES: u32 = 64;

/// Whether two bodies of the lifting machine and its load may touch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Contact {
    Never,
    /// By design, and why.
    ByDesign(&'static str),
    /// By design, for a time.
    For(When),
}

/// Whether two bodies may touch.
pub(crate) fn contact(one: BodyId, other: BodyId) -> Contact {
    match contact::between(one, other) {
        Some(Permitted { when: When::Always, why }) => Contact::ByDesign(why),
        Some(Permitted { when, .. }) => Contact::For(when),
        None => Contact::Never,
    }
}

/// The pieces in which a body may touch the pole or an item on it.
pub(crate) fn pieces_in_contact(site: &Site, plan: &Plan, when: When, body: &BodyMotion, on_pole: BodyId) -> Vec<bool> {
    let guided_from = guided_from(site);
    let lying = Lying::of(plan, body);
    let mut leaving = Some(Leaving::of(site, plan, body));
    let mut excused = Vec::with_capacity(plan.pieces.len());
    for (number, piece) in plan.pieces.iter().enumerate() {
        let parts = body.parts.get(number).map_or(&[][..], |parts| parts);
        excused.push(match (piece.load, when) {
            // Nothing of the lifting machine is there to touch.
            (LoadState::Unknown, _) => false,
            (_, When::Always) | (LoadState::Free, When::Slung) => true,
            (LoadState::Free, When::Choked) => lying.as_ref().is_some_and(|lying| lying.keeps_above(parts)),
            (LoadState::Free, When::Guided) => false,
            (LoadState::ButtOnGround { .. } | LoadState::Hanging, When::Guided) => {
                guided_from.is_some_and(|from| piece.step >= from)
            }
            (LoadState::ButtOnGround { .. } | LoadState::Hanging, When::Choked | When::Slung) => true,
            (LoadState::Standing, When::Guided) if guided_from.is_none() => false,
            (LoadState::Standing, _) => {
                let raised = piece.from.hoist_length_m > piece.to.hoist_length_m && !piece.moves(Joint::BoomLength);
                let snags = raised && body.id == BodyId::HookBlock && is_over_hook(site, plan, on_pole);
                leaving = leaving.filter(|from| !snags && from.as_ref().is_some_and(|from| from.recedes(parts)));
                leaving.is_some()
            }
        });
    }
    excused
}

/// A derrick's pole is longer than its boom is high, so that from its upending on its top stands beside the boom's tip: on its
/// way into the guides and in them. The step from which on that is so.
fn guided_from(site: &Site) -> Option<usize> {
    let into = site.steps.iter().position(|step| matches!(step.action, Action::IntoGuides { .. }))?;
    let before = site.steps.get(..into).unwrap_or(&[]);
    Some(before.iter().rposition(|step| step.action == Action::Upend).unwrap_or(into))
}

/// Whether something on the pole is all above the hook's bearing point while the pole is choked, and stands out farther than the
/// shell on the side of the choke.
fn is_over_hook(site: &Site, plan: &Plan, on_pole: BodyId) -> bool {
    let BodyId::PoleItem(index) = on_pole else { return false };
    let hook_m = site.rigging.choker_from_butt_m + site.rigging.length_m;
    let choke = plan.chain.choke_in_pole.with_z(0.0);
    let outward = choke.normalize_or_zero();
    site.pole.items.get(index).is_none_or(|item| {
        let is_above = item.from.z.min(item.to.z) - item.radius_m > hook_m;
        is_above && outward.dot(item.from).max(outward.dot(item.to)) + item.radius_m > choke.length()
    })
}

/// Where a body was, along the way from the pole's axis, when the pole was let go.
struct Leaving {
    outward: DVec3,
    least_m: f64,
}

impl Leaving {
    /// `None` where the body is over the pole's axis, or its place is not known.
    fn of(site: &Site, plan: &Plan, body: &BodyMotion) -> Option<Self> {
        let let_go = plan.pieces.iter().position(|piece| piece.load == LoadState::Standing)?;
        let parts = body.parts.get(let_go)?;
        let centers = parts.iter().flat_map(|part| {
            let phases = Phases::at(&part.rates, 0.0);
            part.features.iter().map(move |feature| feature.at.at(&phases))
        });
        let (sum, count) = centers.fold((DVec3::ZERO, 0.0), |(sum, count), at| (sum + at, count + 1.0));
        let away = match body.id {
            // What the pole hung on is beside it, on the side of the choke.
            BodyId::HookBlock | BodyId::HoistLine | BodyId::Rigging => {
                let choke = plan.chain.choke_in_pole.with_z(0.0);
                plan.chain.pole_direction_in_world(&plan.pieces.get(let_go)?.from, choke)
            }
            _ => sum / count - site.hole.at,
        };
        let outward = away.with_z(0.0).normalize_or_zero();
        if outward == DVec3::ZERO {
            return None;
        }
        let least_m = least_along(parts, outward, Bracket::exactly(0.0), 1);
        least_m.is_finite().then_some(Self { outward, least_m })
    }

    fn recedes(&self, parts: &[MovingPart]) -> bool {
        let whole = Bracket::exactly(0.0).hull(Bracket::exactly(1.0));
        least_along(parts, self.outward, whole, STRETCHES) >= self.least_m - LET_M
    }
}

/// How far above the lying pole a body is when the load is taken.
struct Lying {
    up: DVec3,
    least_m: f64,
}

impl Lying {
    fn of(plan: &Plan, body: &BodyMotion) -> Option<Self> {
        let taken = plan.pieces.iter().position(|piece| piece.load.on_hook())?;
        let last = taken.checked_sub(1)?;
        let along = plan.chain.pole_direction_in_world(&plan.pieces.get(last)?.to, DVec3::Z);
        let up = (DVec3::Z - along * along.z).normalize_or_zero();
        let least_m = least_along(body.parts.get(last)?, up, Bracket::exactly(1.0), 1);
        (up != DVec3::ZERO && least_m.is_finite()).then_some(Self { up, least_m })
    }

    fn keeps_above(&self, parts: &[MovingPart]) -> bool {
        let whole = Bracket::exactly(0.0).hull(Bracket::exactly(1.0));
        least_along(parts, self.up, whole, STRETCHES) >= self.least_m - LET_M
    }
}

/// A low bound on how far along a unit vector the nearest point of any part is over a stretch of u, meters. Between the ends of
/// a stretch of width Δ a corner leaves its chord by at most Δ²/8 times the bound on its second derivative.
fn least_along(parts: &[MovingPart], n: DVec3, over: Bracket, stretches: u32) -> f64 {
    let mut least_m = f64::INFINITY;
    for part in parts {
        for k in 0..stretches {
            let at = |k: u32| over.at(f64::from(k) / f64::from(stretches));
            let (from, to) = (at(k), at(k + 1));
            let stretch = Bracket::exactly(from).hull(Bracket::exactly(to));
            let (start, end) = (Phases::at(&part.rates, from), Phases::at(&part.rates, to));
            for feature in &part.features {
                let bulge_m = stretch.width().powi(2) * feature.at.bounds(&part.rates, stretch).second / 8.0;
                let (a, b) = (feature.at.at(&start).dot(n), feature.at.at(&end).dot(n));
                let own_m = a.min(b) - feature.radius_m - bulge_m - part.motion_error_m;
                // `f64::min` drops a NaN, and then nothing would be known of this corner.
                if own_m.is_nan() || a.is_nan() || b.is_nan() {
                    return f64::NEG_INFINITY;
                }
                least_m = least_m.min(own_m);
            }
        }
    }
    least_m
}

#[cfg(test)]
mod tests;
