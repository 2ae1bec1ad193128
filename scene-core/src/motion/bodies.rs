//! The bodies that can come near something, piece by piece, as hulls of moving corners with their allowances.
//!
//! | body | parts | allowance beyond survey, placing, radius growth and line movement |
//! |---|---|---|
//! | boom | a box per section | |
//! | boom head | a ball about the sheave | |
//! | hoist line | from where it leaves the sheave to the block; more than one part: as wide as the sheave | at the block load swing and line lean |
//! | hook block | a capsule | load swing, line lean |
//! | rigging | block to choke; while choked also its turn round the pole | load swing, line lean |
//! | tail | the box that holds its sweep's radius | |
//! | pole | flat-ended frusta of the shell | load swing, line lean; per meter from the hook swing growth and pole lean; what of the hang is not known to better |
//! | each item on the pole | a capsule | as the pole |
//! | carrier, outriggers, mats | boxes, as far as they are stated | no radius growth |
//! | each body of an aerial lift | what its kind says: boxes, drums, the balls about the worker's shoulders | |
//!
//! | pole guides | holding a pole: the box of the arms; otherwise the ball about their pin that holds them at any tilt | |
//! | auger | stowed or hanging: bar and flight, wider by what it is drawn aside; between the two: the fan it swings through | |
//!
//! In the pole guides the pole and what is on it have the guides' play, and per meter from them their lean and the wind's, in
//! place of load swing and what is not known of the hang; what hangs on the winch line keeps its own, and how far the guides
//! draw it aside. On its way into them, and out of them when it is released, both count.
//!
//! A pole that is not on the hook has the allowances for survey and line movement only. So has one that stands in its hole while
//! it is let go, with what is not known of the hang, when a hold point or work before it shows that it stands.

use super::allowing::{Allowing, HeldBy, lets_standing_pole_go};
use super::spread::{Corner, Spread};
use super::standing::carriers;
use super::track::MovingPart;
use super::{holding, lift};
use crate::bracket::Bracket;
use crate::finding::{self, Finding, Unit};
use crate::machine::body::{Body, BodyId, Look, Role, rotation};
use crate::machine::crane;
use crate::machine::crane::chain::{Chain, Place, Seat};
use crate::machine::crane::{Joint, Joints};
use crate::machine::lift::{StandingLift, role};
use crate::pole::{Outline, Taper};
use crate::sequence::{LoadState, Piece, Plan};
use crate::site::{Auger, RiggingMaterial, Site};
use glam::DVec3;
use std::sync::Arc;

/// How far the wind shifts what hangs, as a ratio: along the hoist line and, from the hook on, along the pole.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct WindLean {
    pub line: f64,
    pub pole: f64,
}

/// A body over every piece.
#[derive(Clone, Debug, PartialEq)]
pub struct BodyMotion {
    pub name: String,
    pub id: BodyId,
    /// What it is to the rules.
    pub role: Role,
    pub look: Look,
    /// By piece. Pieces in which the body stands where it stood before share their parts.
    pub parts: Vec<Arc<[MovingPart]>>,
    /// By piece: nothing of the body moves.
    pub still: Vec<bool>,
}

/// All bodies over all pieces of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Motion {
    pub pieces: Vec<Piece>,
    pub bodies: Vec<BodyMotion>,
    pub findings: Vec<Finding>,
    chain: Arc<Chain>,
    outline: Outline,
    length_m: f64,
    rigging: RiggingMaterial,
    auger: Option<Auger>,
    allowing: Allowing,
    /// The step that lets a standing pole go.
    let_go: Option<usize>,
}

/// A body as it is fixed to the chain.
struct Build {
    name: String,
    kind: BodyId,
    free: Vec<Arc<[Corner]>>,
    loaded: Vec<Arc<[Corner]>>,
    /// Of the pole, in the hole; `None` for what is as loaded then.
    set: Option<Vec<Arc<[Corner]>>>,
}

impl Motion {
    /// With the allowances that hold against what stands apart from the machine: wires, neighbors, the ground.
    pub fn of(site: &Site, plan: &Plan, lean: &WindLean) -> Self {
        Self::with(site, plan, Self::allowing_outside(site, plan, lean))
    }

    fn allowing_outside(site: &Site, plan: &Plan, lean: &WindLean) -> Allowing {
        let allowances = &site.allowances;
        let moved_m = allowances.survey.value + allowances.line_movement.value;
        let carrier_m = moved_m + allowances.placing.value;
        let crane_m = carrier_m + allowances.radius_growth.value;
        Allowing { crane_m, carrier_m, hook_m: crane_m, resting_m: moved_m, ..Allowing::of_load(site, plan, lean) }
    }

    /// As [`Self::of`], while hands hold the load so that it swings no farther than this.
    pub fn held_by_hand(site: &Site, plan: &Plan, lean: &WindLean, swing_m: f64) -> Self {
        let apart = Self::allowing_outside(site, plan, lean);
        Self::with(site, plan, Allowing { swing_m, per_metre: lean.pole, ..apart })
    }

    /// With the allowances that hold between the bodies of the one machine and its load. Where the machine stands shifts
    /// them all alike; the boom's deflection counts once, at what is fixed to the boom; a pole that is not on the hook lies
    /// where it was surveyed to, and the machine where it was placed.
    pub fn among_themselves(site: &Site, plan: &Plan, lean: &WindLean) -> Self {
        let allowances = &site.allowances;
        let crane_m = allowances.radius_growth.value;
        let resting_m = allowances.survey.value + allowances.placing.value;
        let load = Allowing::of_load(site, plan, lean);
        Self::with(site, plan, Allowing { crane_m, carrier_m: 0.0, hook_m: 0.0, resting_m, ..load })
    }

    /// With the allowances that hold against the ground below. What swings or is leant by the wind goes aside and up, not
    /// down: where the load hangs under the hook, that lowers a butt `d` aside of the hook's plumb line by `d` times the
    /// swing's angle, a few millimeters, which `placing` (all of it taken as if it were downward) holds many times over.
    pub fn over_ground(site: &Site, plan: &Plan) -> Self {
        let allowances = &site.allowances;
        let carrier_m = allowances.survey.value + allowances.placing.value;
        let crane_m = carrier_m + allowances.radius_growth.value;
        let load = Allowing::of_load(site, plan, &WindLean::default());
        let (swing_m, per_metre, resting_m) = (0.0, 0.0, allowances.survey.value);
        Self::with(site, plan, Allowing { crane_m, carrier_m, hook_m: crane_m, swing_m, per_metre, resting_m, ..load })
    }

    fn with(site: &Site, plan: &Plan, allowing: Allowing) -> Self {
        let outline = Outline::of(&site.pole);
        let mut findings = boom_findings(site);
        findings.extend(outline.as_ref().err().map(|error| error.finding()));
        let mut motion = Self {
            pieces: plan.pieces.clone(),
            bodies: Vec::new(),
            findings,
            chain: Arc::clone(&plan.chain),
            outline: outline.unwrap_or_default(),
            length_m: site.pole.length_m,
            rigging: site.rigging.material,
            auger: site.crane.derrick.as_ref().map(|derrick| derrick.auger.clone()),
            allowing,
            let_go: lets_standing_pole_go(site),
        };
        motion.bodies = motion.builds(site).into_iter().map(|build| motion.over_pieces(build)).collect();
        for (index, lift) in site.lifts.iter().enumerate() {
            let of_lift = motion.lift_over_pieces(site, index, lift);
            motion.bodies.extend(of_lift);
        }
        motion.bodies.extend(carriers(site, motion.pieces.len(), motion.allowing.carrier_m));
        let standing_m = motion.allowing.resting_m.max(motion.allowing.carrier_m);
        motion.bodies.extend(holding::holders(site, &motion.pieces, standing_m));
        motion
    }

    /// The shell of the pole cut at its ends, stretch by stretch: the covered ones, the bare ones. Empty off the pole, and for
    /// a piece that is not there.
    pub fn pole_stretches(&self, piece: usize, stretches: &[Bracket]) -> Vec<Vec<MovingPart>> {
        let Some(piece) = self.pieces.get(piece).filter(|piece| piece.load != LoadState::Unknown) else {
            return Vec::new();
        };
        let held = HeldBy::in_piece(piece, self.let_go);
        let parts = |stretch: &Bracket| {
            let shells = self.shells(*stretch, held);
            shells.into_iter().map(|corners| self.part(&corners, piece)).collect()
        };
        stretches.iter().map(parts).collect()
    }

    fn part(&self, corners: &Arc<[Corner]>, piece: &Piece) -> MovingPart {
        let (from, to) = piece.ends();
        let spread = Spread {
            chain: Arc::clone(&self.chain),
            corners: self.guided(corners, piece),
            from,
            to,
            path: piece.path,
            seat: piece.seat,
            u: Bracket::exactly(0.0).hull(Bracket::exactly(1.0)),
        };
        spread.part()
    }

    /// The corners of a piece in the guides, or on the way into or out of them, with their allowances.
    fn guided(&self, corners: &Arc<[Corner]>, piece: &Piece) -> Arc<[Corner]> {
        let Some(guides) = self.allowing.guides.filter(|_| piece.load.on_hook()) else { return Arc::clone(corners) };
        let (stations, aside_m) = match piece.seat {
            Seat::OnHook => return Arc::clone(corners),
            Seat::InGuides(grip) => {
                let (from, to) = piece.ends();
                let held = self.chain.held_at(&grip, piece.span(Joint::BoomAngle), piece.span(Joint::HoistLength));
                (held, self.chain.drawn_aside_m(&grip, &from, &to))
            }
            // HeldBy anywhere along the pole. The choke goes from one end to the other, but for the bulge of its tilting.
            Seat::Butt { .. } => {
                let plumb = self.chain.crane.choke_in_world(&piece.from);
                let off_m = |joints: &Joints, u: f64| {
                    let choke = Place::Pole(self.chain.choke_in_pole);
                    (self.chain.place_in_world(&choke, joints, &piece.seat, u) - plumb).truncate().length()
                };
                let tilted = piece.to.pole_tilt - piece.from.pole_tilt;
                let bulge_m = self.chain.choke_in_pole.length() * tilted * tilted / 8.0;
                let whole = Bracket::exactly(0.0).hull(Bracket::exactly(self.length_m));
                (whole, off_m(&piece.from, 0.0).max(off_m(&piece.to, 1.0)) + bulge_m)
            }
        };
        let held = matches!(piece.seat, Seat::InGuides(_));
        let allowed = |corner: &Corner| match corner.place {
            Place::Pole(at) => {
                let away_m = |station_m: f64| (at - DVec3::Z * station_m).length();
                let rim_m = if corner.disc { corner.radius_m } else { 0.0 };
                let far_m = away_m(stations.low()).max(away_m(stations.high())) + rim_m;
                let guided_m = guides.play_m + guides.lean * far_m;
                if held {
                    let allowance_m = self.allowing.crane_m + guided_m;
                    return Corner { allowance_m, line_lean: 0.0, ..*corner };
                }
                Corner { allowance_m: corner.allowance_m + guided_m, ..*corner }
            }
            Place::Line { hoisted: true, .. } => Corner { allowance_m: corner.allowance_m + aside_m, ..*corner },
            _ => *corner,
        };
        corners.iter().map(allowed).collect()
    }

    fn over_pieces(&self, build: Build) -> BodyMotion {
        let mut parts: Vec<Arc<[MovingPart]>> = Vec::with_capacity(self.pieces.len());
        let mut still: Vec<bool> = Vec::with_capacity(self.pieces.len());
        let mut state_before = None;
        for piece in &self.pieces {
            let (held, moves) = (HeldBy::in_piece(piece, self.let_go), moves(build.kind, piece));
            let is_known = piece.load != LoadState::Unknown;
            let state = Some((is_known, held, matches!(piece.seat, Seat::InGuides(_)), piece.auger));
            let before =
                if !moves && still.last() == Some(&true) && state_before == state { parts.last() } else { None };
            let now = match before {
                Some(same) => Arc::clone(same),
                None if !is_known => Arc::from([]),
                None => {
                    let corners = match (build.kind, piece.seat) {
                        (BodyId::Auger, _) => &self.auger(piece),
                        (BodyId::Guides, Seat::InGuides(_)) => &build.loaded,
                        (BodyId::Guides, _) => &build.free,
                        _ => match held {
                            HeldBy::Ground => &build.free,
                            HeldBy::Hook => &build.loaded,
                            HeldBy::Hole => build.set.as_ref().unwrap_or(&build.loaded),
                        },
                    };
                    corners.iter().map(|corners| self.part(corners, piece)).collect()
                }
            };
            parts.push(now);
            still.push(!moves);
            state_before = state;
        }
        BodyMotion {
            role: self.role(build.kind),
            look: look(build.kind),
            name: build.name,
            id: build.kind,
            parts,
            still,
        }
    }

    /// The bodies of a lift. It gives under load as a boom does, so it has the crane's allowances.
    fn lift_over_pieces(&self, site: &Site, index: usize, lift: &StandingLift) -> Vec<BodyMotion> {
        let (facts, joints, insulated) = (lift.facts(), lift.joints(), site.is_insulated(index));
        let foot = lift::Foot { at: facts.at, heading: facts.heading, rotation: rotation(&joints) };
        let over_pieces = |(number, body): (usize, Body)| {
            let moving: Vec<usize> = (0..joints.len()).filter(|joint| body.moves_with(*joint, &joints)).collect();
            let mut parts: Vec<Arc<[MovingPart]>> = Vec::with_capacity(self.pieces.len());
            let mut still: Vec<bool> = Vec::with_capacity(self.pieces.len());
            for piece in &self.pieces {
                // A plan of a site says of every piece where its lifts are.
                let Some(run) = piece.lifts.get(index).filter(|run| run.is_known) else {
                    parts.push(Arc::from(Vec::new()));
                    still.push(true);
                    continue;
                };
                let moves = moving.iter().any(|&joint| run.from[joint] != run.to[joint]);
                let now = match parts.last() {
                    Some(same) if !moves && still.last() == Some(&true) => Arc::clone(same),
                    _ => {
                        let hull = |hull: &Vec<_>| lift::part(foot, hull, &run.from, &run.to, self.allowing.crane_m);
                        body.hulls.iter().map(hull).collect()
                    }
                };
                parts.push(now);
                still.push(!moves);
            }
            BodyMotion {
                name: site.lift_body_name(index, body.name),
                id: BodyId::OfLift { lift: index, body: number },
                role: role(body.side, insulated),
                look: body.look,
                parts,
                still,
            }
        };
        lift.bodies().into_iter().enumerate().map(over_pieces).collect()
    }

    fn role(&self, id: BodyId) -> Role {
        match (id, self.rigging) {
            (BodyId::Pole | BodyId::PoleItem(_), _) => Role::Load,
            (BodyId::Rigging, RiggingMaterial::NonConductive) => Role::NonConductiveRigging,
            _ => Role::MachineConductive,
        }
    }

    // ------------------------------------------------------------------------------------------------- the bodies

    /// In the order of the rows of a report.
    fn builds(&self, site: &Site) -> Vec<Build> {
        let crane = &site.crane;
        let of_crane = |body: crane::bodies::Body| {
            let hulls: Vec<Arc<[Corner]>> = body.hulls.iter().map(|hull| self.of_machine(hull)).collect();
            Build { name: body.name.to_owned(), kind: body.id, free: hulls.clone(), loaded: hulls, set: None }
        };
        let [boom, head, line, block, counterweight] = crane.bodies().map(of_crane);
        let whole = Bracket::exactly(0.0).hull(Bracket::exactly(site.pole.length_m));
        let pole = Build {
            name: "pole".to_owned(),
            kind: BodyId::Pole,
            free: self.shells(whole, HeldBy::Ground),
            loaded: self.shells(whole, HeldBy::Hook),
            set: Some(self.shells(whole, HeldBy::Hole)),
        };
        let mut builds = vec![boom, head, line, block, self.rigging_build(site), counterweight, pole];
        if let Some(derrick) = &crane.derrick {
            let guides = |holding| derrick.guides.hulls(holding).iter().map(|hull| self.of_machine(hull)).collect();
            builds.push(Build {
                name: "pole guides".to_owned(),
                kind: BodyId::Guides,
                free: guides(false),
                loaded: guides(true),
                set: None,
            });
            // Its corners go with its state.
            builds.push(Build {
                name: "auger".to_owned(),
                kind: BodyId::Auger,
                free: vec![],
                loaded: vec![],
                set: None,
            });
        }
        builds.extend(site.pole.items.iter().enumerate().map(|(index, item)| {
            let capsule = |held| -> Vec<Arc<[Corner]>> {
                vec![[item.from, item.to].map(|at| self.on_pole(at, item.radius_m, false, held)).into()]
            };
            let (kind, name) = (BodyId::PoleItem(index), item.name.clone());
            let [free, loaded, set] = [HeldBy::Ground, HeldBy::Hook, HeldBy::Hole].map(capsule);
            Build { name, kind, free, loaded, set: Some(set) }
        }));
        builds
    }

    /// From the hook to the choke; while choked also its turn round the pole.
    fn rigging_build(&self, site: &Site) -> Build {
        let (block_m, rigging) = (site.crane.block.length_m, &site.rigging);
        let line = |below_m| Place::Line { below_m, hoisted: true, inward_m: 0.0 };
        let thick_m = rigging.diameter_m / 2.0;
        let hanging = [line(block_m), line(block_m + rigging.length_m)].map(|place| self.swung(place, thick_m));
        let tied = self.on_pole(self.chain.choke_in_pole, thick_m, false, HeldBy::Hook);
        let choke_m = rigging.choker_from_butt_m;
        let around_m = self.outline.radius_at(choke_m) + rigging.diameter_m;
        let ring = [choke_m - thick_m, choke_m + thick_m]
            .map(|station_m| Corner { disc: true, ..self.swung(Place::Pole(DVec3::Z * station_m), around_m) });
        Build {
            name: "rigging".to_owned(),
            kind: BodyId::Rigging,
            free: vec![hanging.into()],
            loaded: vec![[hanging[0], hanging[1], tied].into(), ring.into()],
            set: None,
        }
    }

    /// Corners of the machine with their allowances.
    fn of_machine(&self, hull: &[crane::bodies::Corner]) -> Arc<[Corner]> {
        let corner = |corner: &crane::bodies::Corner| {
            let crane::bodies::Corner { place, radius_m, hangs } = *corner;
            if hangs {
                return self.swung(place, radius_m);
            }
            Corner { place, radius_m, disc: false, allowance_m: self.allowing.crane_m, line_lean: 0.0 }
        };
        hull.iter().map(corner).collect()
    }

    /// The bar and the flight as they are in the piece.
    fn auger(&self, piece: &Piece) -> Vec<Arc<[Corner]>> {
        let Some(auger) = &self.auger else { return Vec::new() };
        let hulls = auger.hulls(piece.auger, piece.from.boom_angle);
        hulls.iter().map(|hull| self.of_machine(hull)).collect()
    }

    fn shells(&self, stretch: Bracket, held: HeldBy) -> Vec<Arc<[Corner]>> {
        let end = |station_m: f64, radius_m: f64| self.on_pole(DVec3::Z * station_m, radius_m, true, held);
        let shell = |t: Taper| -> Arc<[Corner]> { [end(t.from_m, t.radius_from_m), end(t.to_m, t.radius_to_m)].into() };
        self.outline.stretch(stretch).into_iter().map(shell).collect()
    }

    /// A corner that swings with the load.
    fn swung(&self, place: Place, radius_m: f64) -> Corner {
        let allowance_m = self.allowing.hook_m + self.allowing.swing_m;
        Corner { place, radius_m, disc: false, allowance_m, line_lean: self.allowing.line_lean }
    }

    fn on_pole(&self, at: DVec3, radius_m: f64, disc: bool, held: HeldBy) -> Corner {
        let Allowing { per_metre, hang_m, hang_per_metre, resting_m, .. } = self.allowing;
        let place = Place::Pole(at);
        // At most, whatever the tilt.
        let from_choke_m = (at - self.chain.choke_in_pole).length() + if disc { radius_m } else { 0.0 };
        // How it hangs decides where it is plumbed from.
        let of_hang_m = hang_m + hang_per_metre * from_choke_m;
        match held {
            HeldBy::Ground => Corner { place, radius_m, disc, allowance_m: resting_m, line_lean: 0.0 },
            HeldBy::Hole => Corner { place, radius_m, disc, allowance_m: resting_m + of_hang_m, line_lean: 0.0 },
            HeldBy::Hook => {
                let from_hook_m = self.chain.crane.rigging_length_m + from_choke_m;
                let swung = self.swung(place, radius_m);
                let allowance_m = swung.allowance_m + per_metre * from_hook_m + of_hang_m;
                Corner { disc, allowance_m, ..swung }
            }
        }
    }
}

fn look(id: BodyId) -> Look {
    match id {
        BodyId::Boom => Look::CraneBoom,
        BodyId::BoomHead | BodyId::HookBlock => Look::DarkSteel,
        BodyId::HoistLine => Look::WireRope,
        BodyId::Counterweight => Look::Counterweight,
        BodyId::Guides | BodyId::Auger => Look::BareSteel,
        BodyId::Rigging => Look::Sling,
        BodyId::Pole => Look::Pole,
        BodyId::PoleItem(_) => Look::Hardware,
        BodyId::OfLift { .. } => Look::Painted,
        BodyId::OfCarrier { .. } => Look::Carrier,
        BodyId::HoldingTruck(_) | BodyId::HoldingArm { .. } => Look::Insulating,
    }
}

/// Whether anything of such a body moves in the piece.
fn moves(kind: BodyId, piece: &Piece) -> bool {
    let any = |joints: &[Joint]| joints.iter().any(|&joint| piece.moves(joint));
    match kind {
        BodyId::OfCarrier { .. } | BodyId::HoldingTruck(_) | BodyId::HoldingArm { .. } => false,
        BodyId::Counterweight => piece.moves(Joint::Swing),
        BodyId::Auger => any(&[Joint::Swing, Joint::BoomAngle]),
        BodyId::Boom | BodyId::BoomHead | BodyId::Guides => any(&[Joint::Swing, Joint::BoomAngle, Joint::BoomLength]),
        BodyId::HoistLine | BodyId::HookBlock => {
            any(&[Joint::Swing, Joint::BoomAngle, Joint::BoomLength, Joint::HoistLength])
        }
        BodyId::OfLift { lift, .. } => piece.lifts.get(lift).is_some_and(|run| !run.still()),
        BodyId::Rigging => !piece.still(),
        BodyId::Pole | BodyId::PoleItem(_) => match piece.seat {
            Seat::OnHook | Seat::InGuides(_) => !piece.still(),
            Seat::Butt { from, to } => from != to || any(&[Joint::PoleTilt, Joint::PoleHeading]),
        },
    }
}

/// The sections as stated make up the boom: no gap between them, and the last one ends where the boom does.
fn boom_findings(site: &Site) -> Vec<Finding> {
    const TOLERANCE_M: f64 = 0.02;
    let crane = &site.crane;
    let (least_m, most_m) = (crane.boom_length_m.low(), crane.boom_length_m.high());
    let mut findings = Vec::new();
    for length_m in [least_m, most_m] {
        let mut reached_m = 0.0;
        for (index, section) in crane.sections.iter().enumerate() {
            let tip_m = section.tip_retracted_m + section.extension_share * (length_m - least_m);
            let rear_m = tip_m - section.length_m;
            // A number that is missing is a gap, too.
            let joined = rear_m <= reached_m + TOLERANCE_M;
            if !joined {
                let fact = finding::Motion::SectionApart { boom_m: length_m, section: index + 1, rear_m, reached_m };
                findings.push(finding::stop(fact).measured(rear_m, reached_m, Unit::Meter));
            }
            reached_m = tip_m;
        }
        let ends = (reached_m - length_m).abs() <= TOLERANCE_M;
        if !ends {
            let fact = finding::Motion::LastSectionApart { boom_m: length_m, reached_m };
            findings.push(finding::stop(fact).measured(reached_m, length_m, Unit::Meter));
        }
    }
    findings
}
