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
//! | pole | flat-ended frusta of the shell | load swing, line lean; per metre from the hook swing growth and pole lean; what of the hang is not known to better |
//! | each item on the pole | a capsule | as the pole |
//! | each body of the bucket truck | its boxes, its drum, the balls about the worker's shoulders | |
//!
//! | pole guides | holding a pole: the box of the arms; otherwise the ball about their pin that holds them at any tilt | |
//! | auger | stowed or hanging: bar and flight, wider by what it is drawn aside; between the two: the fan it swings through | |
//!
//! In the pole guides the pole and what is on it have the guides' play, and per metre from them their lean and the wind's, in
//! place of load swing and what is not known of the hang; what hangs on the winch line keeps its own, and how far the guides
//! draw it aside. On its way into them, and out of them when it is released, both count.
//!
//! A pole that is not on the hook has the allowances for survey and line movement only.

use super::lift;
use super::spread::{Corner, Spread};
use super::track::MovingPart;
use crate::bracket::Bracket;
use crate::bucket::{self, LiftPart};
use crate::crane::chain::{Chain, Place, Seat};
use crate::crane::{Joint, Joints};
use crate::finding::{self, Finding, Unit};
use crate::pole::{Outline, Taper};
use crate::sequence::{AugerState, Piece, Plan};
use crate::site::bucket::{BucketControl, BucketTruck};
use crate::site::{Auger, Site};
use glam::DVec3;
use std::f64::consts::FRAC_PI_2;
use std::sync::Arc;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BodyKind {
    Boom,
    BoomHead,
    HoistLine,
    HookBlock,
    Rigging,
    Tail,
    Guides,
    Auger,
    Pole,
    /// By index into the pole's items.
    PoleItem(usize),
    BucketTruck(LiftPart),
}

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
    pub kind: BodyKind,
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
    auger: Option<Auger>,
    allowing: Allowing,
}

/// What each corner's allowance is made of, metres and ratios.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Allowing {
    crane_m: f64,
    /// At the hook, before it swings.
    hook_m: f64,
    swing_m: f64,
    line_lean: f64,
    per_metre: f64,
    /// What of the hang is not known to better: at the choke, and per metre from it.
    hang_m: f64,
    hang_per_metre: f64,
    resting_m: f64,
    /// When the plan has the pole in guides.
    guides: Option<Guiding>,
}

/// What a pole in the guides may be off: there, and per metre from them.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Guiding {
    play_m: f64,
    lean: f64,
}

/// A body as it is fixed to the chain.
struct Build {
    name: String,
    kind: BodyKind,
    free: Vec<Arc<[Corner]>>,
    loaded: Vec<Arc<[Corner]>>,
}

impl Allowing {
    /// What comes of the load itself: swing, lean, and what of its hang is not known.
    fn of_load(site: &Site, plan: &Plan, lean: &WindLean) -> Self {
        let (allowances, hang) = (&site.allowances, &plan.hang);
        Self {
            crane_m: f64::NAN,
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

impl Motion {
    /// With the allowances that hold against what stands apart from the machine: wires, neighbours, the ground.
    pub fn of(site: &Site, plan: &Plan, lean: &WindLean) -> Self {
        let allowances = &site.allowances;
        let moved_m = allowances.survey.value + allowances.line_movement.value;
        let crane_m = moved_m + allowances.placing.value + allowances.radius_growth.value;
        let base = Allowing { crane_m, hook_m: crane_m, resting_m: moved_m, ..Allowing::of_load(site, plan, lean) };
        Self::with(site, plan, base)
    }

    /// With the allowances that hold between the bodies of the one machine and its load. Where the machine stands shifts
    /// them all alike; the boom's deflection counts once, at what is fixed to the boom; a pole that is not on the hook lies
    /// where it was surveyed to, and the machine where it was placed.
    pub fn among_themselves(site: &Site, plan: &Plan, lean: &WindLean) -> Self {
        let allowances = &site.allowances;
        let crane_m = allowances.radius_growth.value;
        let resting_m = allowances.survey.value + allowances.placing.value;
        Self::with(site, plan, Allowing { crane_m, hook_m: 0.0, resting_m, ..Allowing::of_load(site, plan, lean) })
    }

    /// With the allowances that hold against the ground below. What swings or is leant by the wind goes aside and up, not
    /// down: where the load hangs under the hook, that lowers a butt `d` aside of the hook's plumb line by `d` times the
    /// swing's angle, a few millimetres, which `placing` (all of it taken as if it were downward) holds many times over.
    pub fn over_ground(site: &Site, plan: &Plan) -> Self {
        let allowances = &site.allowances;
        let crane_m = allowances.survey.value + allowances.placing.value + allowances.radius_growth.value;
        let load = Allowing::of_load(site, plan, &WindLean::default());
        let (swing_m, per_metre, resting_m) = (0.0, 0.0, allowances.survey.value);
        Self::with(site, plan, Allowing { crane_m, hook_m: crane_m, swing_m, per_metre, resting_m, ..load })
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
            auger: site.crane.derrick.as_ref().map(|derrick| derrick.auger.clone()),
            allowing,
        };
        motion.bodies = motion.builds(site).into_iter().map(|build| motion.over_pieces(build)).collect();
        if let Some(truck) = &site.bucket_truck {
            let lift = truck.bodies().into_iter().map(|body| motion.lift_over_pieces(truck, &body));
            motion.bodies.extend(lift.collect::<Vec<_>>());
        }
        motion
    }

    /// The shell of the pole cut at its ends, stretch by stretch: the covered ones, the bare ones. Empty off the pole, and for
    /// a piece that is not there.
    pub fn pole_stretches(&self, piece: usize, stretches: &[Bracket]) -> Vec<Vec<MovingPart>> {
        let Some(piece) = self.pieces.get(piece) else { return Vec::new() };
        let loaded = piece.load.on_hook();
        let parts = |stretch: &Bracket| {
            let shells = self.shells(*stretch, loaded);
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
            // Held anywhere along the pole. The choke goes from one end to the other, but for the bulge of its tilting.
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
            let (loaded, moves) = (piece.load.on_hook(), moves(build.kind, piece));
            let state = Some((loaded, matches!(piece.seat, Seat::InGuides(_)), piece.auger));
            let before =
                if !moves && still.last() == Some(&true) && state_before == state { parts.last() } else { None };
            let now = match before {
                Some(same) => Arc::clone(same),
                None => {
                    let corners = match (build.kind, piece.seat) {
                        (BodyKind::Auger, _) => &self.auger(piece),
                        (BodyKind::Guides, Seat::InGuides(_)) => &build.loaded,
                        (BodyKind::Guides, _) => &build.free,
                        _ if loaded => &build.loaded,
                        _ => &build.free,
                    };
                    corners.iter().map(|corners| self.part(corners, piece)).collect()
                }
            };
            parts.push(now);
            still.push(!moves);
            state_before = state;
        }
        BodyMotion { name: build.name, kind: build.kind, parts, still }
    }

    /// A body of the bucket truck. It gives under load as a boom does, so it has the crane's allowances.
    fn lift_over_pieces(&self, truck: &BucketTruck, body: &bucket::Body) -> BodyMotion {
        let mut parts: Vec<Arc<[MovingPart]>> = Vec::with_capacity(self.pieces.len());
        let mut still: Vec<bool> = Vec::with_capacity(self.pieces.len());
        for piece in &self.pieces {
            // A plan of a site with a truck says of every piece where it is.
            let Some(run) = piece.bucket else {
                parts.push(Arc::from(Vec::new()));
                still.push(true);
                continue;
            };
            let moves = moves(BodyKind::BucketTruck(body.part), piece);
            let now = match parts.last() {
                Some(same) if !moves && still.last() == Some(&true) => Arc::clone(same),
                _ => {
                    let hull = |hull: &Vec<_>| lift::part(truck, hull, &run.from, &run.to, self.allowing.crane_m);
                    body.hulls.iter().map(hull).collect()
                }
            };
            parts.push(now);
            still.push(!moves);
        }
        BodyMotion { name: body.part.name().to_owned(), kind: BodyKind::BucketTruck(body.part), parts, still }
    }

    // ------------------------------------------------------------------------------------------------- the bodies

    fn builds(&self, site: &Site) -> Vec<Build> {
        let crane = &site.crane;
        let (base_m, swung) = (self.allowing.crane_m, |place, radius_m| self.swung(place, radius_m));
        let ball = |place, radius_m| Corner { place, radius_m, disc: false, allowance_m: base_m, line_lean: 0.0 };
        let line = |below_m, hoisted| Place::Line { below_m, hoisted, inward_m: 0.0 };
        let both = |name: &str, kind, corners: Vec<Arc<[Corner]>>| Build {
            name: name.to_string(),
            kind,
            free: corners.clone(),
            loaded: corners,
        };

        let section = |section: &crate::site::BoomSection| -> Arc<[Corner]> {
            let tip_m = section.tip_retracted_m - section.extension_share * crane.boom_length_m.low();
            corners_of_box(
                [tip_m - section.length_m, tip_m],
                [-section.width_m / 2.0, section.width_m / 2.0],
                [-section.depth_m / 2.0, section.depth_m / 2.0],
            )
            .map(|[along_m, left_m, below_m]| {
                ball(Place::Boom { along_m, share: section.extension_share, left_m, below_m }, 0.0)
            })
            .into()
        };
        let sheave = Place::Boom { along_m: crane.head.along_m, share: 1.0, left_m: 0.0, below_m: crane.head.below_m };

        // With more than one part the others come up to a sheave's width inward.
        let sheave_m = crane.head.sheave_radius_m;
        let rope_m = crane.line_diameter_m / 2.0;
        let hoist_line: Arc<[Corner]> = if crane.parts_of_line > 1 {
            let inner = Place::Line { below_m: 0.0, hoisted: false, inward_m: 2.0 * sheave_m };
            let wide_m = sheave_m.max(rope_m);
            [ball(line(0.0, false), wide_m), ball(inner, wide_m), swung(line(0.0, true), wide_m)].into()
        } else {
            [ball(line(0.0, false), rope_m), swung(line(0.0, true), rope_m)].into()
        };

        let (block, rigging) = (&crane.block, &site.rigging);
        let hook_block = [swung(line(0.0, true), block.radius_m), swung(line(block.length_m, true), block.radius_m)];
        let thick_m = rigging.diameter_m / 2.0;
        let hanging =
            [swung(line(block.length_m, true), thick_m), swung(line(block.length_m + rigging.length_m, true), thick_m)];
        let tied = self.on_pole(self.chain.choke_in_pole, thick_m, false, true);
        let choke_m = rigging.choker_from_butt_m;
        let around_m = self.outline.radius_at(choke_m) + rigging.diameter_m;
        let ring = [choke_m - thick_m, choke_m + thick_m]
            .map(|station_m| Corner { disc: true, ..swung(Place::Pole(DVec3::Z * station_m), around_m) });

        let tail = &crane.tail;
        let tail_box = corners_of_box(
            [-tail.radius_m, 0.0],
            [-tail.half_width_m, tail.half_width_m],
            [tail.from_height_m, tail.to_height_m],
        )
        .map(|[x, y, z]| ball(Place::Upper(DVec3::new(x, y, z)), 0.0));

        let whole = Bracket::exactly(0.0).hull(Bracket::exactly(site.pole.length_m));
        let mut builds = vec![
            both("boom", BodyKind::Boom, crane.sections.iter().map(section).collect()),
            both("boom head", BodyKind::BoomHead, vec![[ball(sheave, crane.head.radius_m)].into()]),
            both("hoist line", BodyKind::HoistLine, vec![hoist_line]),
            both("hook block", BodyKind::HookBlock, vec![hook_block.into()]),
            Build {
                name: "rigging".to_string(),
                kind: BodyKind::Rigging,
                free: vec![hanging.into()],
                loaded: vec![[hanging[0], hanging[1], tied].into(), ring.into()],
            },
            both("tail", BodyKind::Tail, vec![tail_box.into()]),
            Build {
                name: "pole".to_string(),
                kind: BodyKind::Pole,
                free: self.shells(whole, false),
                loaded: self.shells(whole, true),
            },
        ];
        if let Some(derrick) = &crane.derrick {
            let guides = &derrick.guides;
            let pin = |out_m: f64, left_m: f64, down_m: f64| Place::Hung {
                along_m: guides.along_m,
                share: 1.0,
                left_m,
                below_m: guides.below_m,
                out_m,
                down_m,
            };
            let (out_m, half_m, high_m) =
                (guides.reach_m + guides.beyond_m, guides.width_m / 2.0, guides.height_m / 2.0);
            let arms = corners_of_box([0.0, out_m], [-half_m, half_m], [-high_m, high_m]);
            builds.push(Build {
                name: "pole guides".to_string(),
                kind: BodyKind::Guides,
                free: vec![[ball(pin(0.0, 0.0, 0.0), DVec3::new(out_m, half_m, high_m).length())].into()],
                loaded: vec![arms.map(|[out_m, left_m, down_m]| ball(pin(out_m, left_m, down_m), 0.0)).into()],
            });
            // Its corners go with its state.
            builds.push(Build { name: "auger".to_string(), kind: BodyKind::Auger, free: vec![], loaded: vec![] });
        }
        builds.extend(site.pole.items.iter().enumerate().map(|(index, item)| {
            let capsule = |loaded| -> Vec<Arc<[Corner]>> {
                vec![[item.from, item.to].map(|at| self.on_pole(at, item.radius_m, false, loaded)).into()]
            };
            let kind = BodyKind::PoleItem(index);
            Build { name: item.name.clone(), kind, free: capsule(false), loaded: capsule(true) }
        }));
        builds
    }

    /// The bar and the flight as they are in the piece.
    fn auger(&self, piece: &Piece) -> Vec<Arc<[Corner]>> {
        let Some(auger) = &self.auger else { return Vec::new() };
        let (along_m, left_m, below_m) = (auger.along_m, auger.left_m, auger.below_m);
        let corner = |place, radius_m| Corner {
            place,
            radius_m,
            disc: false,
            allowance_m: self.allowing.crane_m,
            line_lean: 0.0,
        };
        let stowed = |down_m: f64| Place::Boom { along_m: along_m - down_m, share: 0.0, left_m, below_m };
        let hung = |out_m: f64, down_m: f64| Place::Hung { along_m, share: 0.0, left_m, below_m, out_m, down_m };
        let bar_m = auger.length_m - auger.flight_length_m;
        let (bar, flight) = (auger.bar_radius_m, auger.flight_radius_m);
        match piece.auger {
            AugerState::Stowed => vec![
                [corner(stowed(0.0), bar), corner(stowed(bar_m), bar)].into(),
                [corner(stowed(bar_m), flight), corner(stowed(auger.length_m), flight)].into(),
            ],
            AugerState::Hanging { aside_m } => vec![
                [corner(hung(0.0, 0.0), bar), corner(hung(0.0, bar_m), bar + aside_m)].into(),
                [corner(hung(0.0, bar_m), flight + aside_m), corner(hung(0.0, auger.length_m), flight + aside_m)]
                    .into(),
            ],
            // The boom stands still. Points around the arc: chords of the circle that touches it from outside.
            AugerState::Swinging => {
                const CHORDS: usize = 4;
                let whole = FRAC_PI_2 - piece.from.boom_angle;
                let step = whole / CHORDS as f64;
                let at = |angle: f64, far_m: f64| corner(hung(-far_m * angle.sin(), far_m * angle.cos()), flight);
                let around = |i: usize| at((i as f64 + 0.5) * step, auger.length_m / (step / 2.0).cos());
                let ends = [corner(hung(0.0, 0.0), flight), at(0.0, auger.length_m), at(whole, auger.length_m)];
                vec![ends.into_iter().chain((0..CHORDS).map(around)).collect()]
            }
        }
    }

    fn shells(&self, stretch: Bracket, loaded: bool) -> Vec<Arc<[Corner]>> {
        let end = |station_m: f64, radius_m: f64| self.on_pole(DVec3::Z * station_m, radius_m, true, loaded);
        let shell = |t: Taper| -> Arc<[Corner]> { [end(t.from_m, t.radius_from_m), end(t.to_m, t.radius_to_m)].into() };
        self.outline.stretch(stretch).into_iter().map(shell).collect()
    }

    /// A corner that swings with the load.
    fn swung(&self, place: Place, radius_m: f64) -> Corner {
        let allowance_m = self.allowing.hook_m + self.allowing.swing_m;
        Corner { place, radius_m, disc: false, allowance_m, line_lean: self.allowing.line_lean }
    }

    fn on_pole(&self, at: DVec3, radius_m: f64, disc: bool, loaded: bool) -> Corner {
        if !loaded {
            let allowance_m = self.allowing.resting_m;
            return Corner { place: Place::Pole(at), radius_m, disc, allowance_m, line_lean: 0.0 };
        }
        // At most, whatever the tilt.
        let from_choke_m = (at - self.chain.choke_in_pole).length() + if disc { radius_m } else { 0.0 };
        let from_hook_m = self.chain.crane.rigging_length_m + from_choke_m;
        let swung = self.swung(Place::Pole(at), radius_m);
        let Allowing { per_metre, hang_m, hang_per_metre, .. } = self.allowing;
        let allowance_m = swung.allowance_m + per_metre * from_hook_m + hang_m + hang_per_metre * from_choke_m;
        Corner { disc, allowance_m, ..swung }
    }
}

/// Whether anything of such a body moves in the piece.
fn moves(kind: BodyKind, piece: &Piece) -> bool {
    let any = |joints: &[Joint]| joints.iter().any(|&joint| piece.moves(joint));
    match kind {
        BodyKind::Tail => piece.moves(Joint::Swing),
        BodyKind::Auger => any(&[Joint::Swing, Joint::BoomAngle]),
        BodyKind::Boom | BodyKind::BoomHead | BodyKind::Guides => {
            any(&[Joint::Swing, Joint::BoomAngle, Joint::BoomLength])
        }
        BodyKind::HoistLine | BodyKind::HookBlock => {
            any(&[Joint::Swing, Joint::BoomAngle, Joint::BoomLength, Joint::HoistLength])
        }
        BodyKind::BucketTruck(part) => piece.bucket.is_some_and(|run| {
            let (from, to) = (&run.from, &run.to);
            let upper = from.upper != to.upper || from.length_m != to.length_m;
            (part.moves_with(BucketControl::Slew) && from.slew != to.slew)
                || (part.moves_with(BucketControl::Lower) && from.lower != to.lower)
                || (part.moves_with(BucketControl::Upper) && upper)
        }),
        BodyKind::Rigging => !piece.still(),
        BodyKind::Pole | BodyKind::PoleItem(_) => match piece.seat {
            Seat::OnHook | Seat::InGuides(_) => !piece.still(),
            Seat::Butt { from, to } => from != to || any(&[Joint::PoleTilt, Joint::PoleHeading]),
        },
    }
}

/// All corners with one coordinate of each pair.
fn corners_of_box(x: [f64; 2], y: [f64; 2], z: [f64; 2]) -> [[f64; 3]; 8] {
    let [x0, x1] = x;
    let [y0, y1] = y;
    let [z0, z1] = z;
    [[x0, y0, z0], [x0, y0, z1], [x0, y1, z0], [x0, y1, z1], [x1, y0, z0], [x1, y0, z1], [x1, y1, z0], [x1, y1, z1]]
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
