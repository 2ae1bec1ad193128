//! What lies bare of a body and of a wire, and what margin that leaves.
//!
//! Cover excuses a pair only if *bare part of the body × whole wire* and *whole body × bare stretch of the wire* both keep the
//! distance.

use super::hung_wire::HungWire;
use super::search::{Allowance, Pair};
use crate::approach::{PartMotion, WireArc};
use crate::bracket::Bracket;
use crate::conductor::{PlacedFamily, WireState};
use crate::cover::{self, CoverState};
use crate::machine::{BodyId, Role};
use crate::motion::{BodyMotion, Motion};
use crate::rules::{self, CoverProof};
use crate::site::Site;
use std::ops::Range;

/// A joint between two covers counts as bare over this on both sides, meters.
const JOINT_M: f64 = 1e-3;

/// The margins that the bare parts leave, meters; infinite where nothing lies bare.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct BareMargins {
    /// Bare part of the body × whole wire.
    pub body_m: f64,
    /// Whole body × bare stretch of the wire.
    pub wire_m: f64,
}

impl BareMargins {
    pub fn proof(&self) -> CoverProof {
        CoverProof::from_margins(self.body_m, self.wire_m)
    }
}

/// A body over some pieces, part of which may be covered.
pub(super) struct CoveredBody<'a> {
    pub motion: &'a Motion,
    pub body: &'a BodyMotion,
    pub kind: Role,
    pub part_motions: &'a [PartMotion],
    pub pieces: &'a Range<usize>,
}

impl CoveredBody<'_> {
    pub fn bare_margins(
        &self,
        site: &Site,
        wire: usize,
        hung: &HungWire,
        covers: &CoverState,
        required_m: f64,
    ) -> BareMargins {
        // Cover of the wire alone insulates it from the worker in his bucket.
        let body_m = match rules::beyond_insulation(self.kind) {
            true => f64::INFINITY,
            false => self.bare_body_margin_m(site, &covers.pole, &hung.arcs, required_m),
        };
        let covered = covers.wires.get(wire).map_or(&[][..], Vec::as_slice);
        let wire_m = match cover::run_stations(site, wire) {
            Some(run) => margin_m(self.part_motions, &bare_arcs(hung.state, &cover::bare(run, covered)), required_m),
            None => margin_m(self.part_motions, &hung.arcs, required_m),
        };
        BareMargins { body_m, wire_m }
    }

    /// What is fixed to the shaft is bare whatever the shaft wears.
    fn bare_body_margin_m(&self, site: &Site, covered: &[Bracket], arcs: &[WireArc], required_m: f64) -> f64 {
        if self.body.id != BodyId::Pole {
            return margin_m(self.part_motions, arcs, required_m);
        }
        let whole = Bracket::exactly(0.0).hull(Bracket::exactly(site.pole.length_m));
        let bare: Vec<Bracket> = cover::bare(whole, covered).into_iter().map(|b| b.widened(JOINT_M)).collect();
        let of_piece = |piece| {
            let stretches = self.motion.pole_stretches(piece, &bare);
            stretches.into_iter().flatten().map(move |part| PartMotion::new(piece, &part))
        };
        let part_motions: Vec<PartMotion> = self.pieces.clone().flat_map(of_piece).collect();
        margin_m(&part_motions, arcs, required_m)
    }
}

/// What is left of the margin, proven; −∞ where it could not be, ∞ where there is nothing to compare.
fn margin_m(part_motions: &[PartMotion], arcs: &[WireArc], required_m: f64) -> f64 {
    if part_motions.is_empty() || arcs.is_empty() {
        return f64::INFINITY;
    }
    Pair::with_wire(part_motions, arcs, Allowance::by_corner()).left().low_m - required_m
}

/// The bare stretches of a wire, longer by what is not known of where its pieces are.
fn bare_arcs<'a>(state: &'a WireState, bare: &[Bracket]) -> Vec<WireArc<'a>> {
    let of_family =
        |placed: &'a PlacedFamily| placed.on_stretches(bare).into_iter().map(|t| WireArc::new(&placed.family, t));
    state.families.iter().flat_map(of_family).collect()
}
