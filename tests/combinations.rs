//! Every kind of part × every motion × every neighbor: no placement that is tried out is nearer than what is proven.
//!
//! The rows of the three tables come from the core's own enums by matches that name every variant, so that a new kind of body,
//! joint, path, seat, obstacle … does not compile before it has a row; and a row that is not instantiated fails the test. Of
//! aerial lifts every kind in [`LIFTS`] has a row for each body that it says it has, and two for each joint: both ways.
//!
//! A placement is tried out by what moves the machine, not by the tracks that are searched: of combined motions any
//! combination of the joints, of an upending the tilt on the arc, of an auger any angle on its way, of a wire any curve of its
//! family. Distances are parry3d-f64's (GJK on supports written here), which may be too much where it stops early, never too
//! little.
//!
//! source: none, a property; the library is the same as in `peers.rs`, status computed.

use fixtures::draw::{Draw, Rng};
mod mast;

use glam::DVec3;
use mast::{Mast, mast};
use parry3d_f64::math::Pose;
use parry3d_f64::query::gjk::{CsoPoint, GJKResult, VoronoiSimplex, closest_points};
use parry3d_f64::shape::SupportMap;
use scene_core::approach::pair::smallest_gap_between;
use scene_core::approach::{Measure, PartMotion, WireArc, smallest_gap};
use scene_core::bracket::Bracket;
use scene_core::check::check;
use scene_core::conductor::{HoldState, Member, PlacedFamily, SpanFamily, hang};
use scene_core::machine::StandingLift;
use scene_core::machine::aerial_lift::BucketTruck;
use scene_core::machine::crane::chain::{Place as Corner, Seat};
use scene_core::machine::crane::{Joint, Joints};
use scene_core::machine::{BodyId, CarrierPart, contact};
use scene_core::motion::{BodyMotion, Motion, MovingFeature, MovingPart, Track, WindLean};
use scene_core::neighbours::{Neighbour, NeighbourKind, above_person, neighbours};
use scene_core::outcome::GapRow;
use scene_core::sequence::{self, AugerState, LoadState, Path, Piece, Plan};
use scene_core::site::ground::{Neighbours, NoGo, Obstacle, Person, Shape, Stand, StandingPole, Task};
use scene_core::site::pose::{BucketAt, BucketPose};
use scene_core::site::{Action, During, PoleItem, Site, Step};
use scene_core::solid::Feature;
use scene_core::terrain::Ground;
use scene_core::{pole, rigging, scene};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

const TOLERANCE_M: f64 = 1e-3;
const BUDGET: u32 = 20_000;

/// An enum and the list of all that it has.
macro_rules! rows {
    ($name:ident: $($row:ident),+ $(,)?) => {
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        enum $name { $($row),+ }
        impl $name {
            const ALL: &[Self] = &[$(Self::$row),+];
        }
    };
}

// ----------------------------------------------------------------------------------------------------------- the rows

rows!(CraneKind: Boom, BoomHead, HoistLine, HookBlock, Rigging, Counterweight, Guides, Auger, Pole, CoveredPole, BarePole,
    PoleItem, Carrier, Outriggers, Mats);

rows!(CraneMoves: Nothing, SwingLeft, SwingRight, BoomUp, BoomDown, Extend, Retract, Hoist, Lower, Upend, Turn, Combined,
    PoleLies, ButtOnGround, PoleHangs, PoleStands, ButtCarried, InGuides, AugerSwings, AugerHangs);

/// A body: of the crane and its load, or by lift and body.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Kind {
    Crane(CraneKind),
    OfLift(usize, usize),
}

/// What moves: something of the crane and its load, or of a lift the joint, to more of it or less.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Moves {
    Crane(CraneMoves),
    OfLift(usize, usize, bool),
}

/// One of each kind of aerial lift, with heights above the ground at its foot, and ways ahead and to the left, to which its
/// bucket comes so that every joint moves both ways.
static LIFTS: LazyLock<Vec<(StandingLift, Vec<DVec3>)>> = LazyLock::new(|| {
    let around = [DVec3::new(-5.0, 3.0, 9.0), DVec3::new(-6.0, -3.0, 6.5), DVec3::new(-4.0, 2.0, 10.0)].to_vec();
    let mast_up_and_down = [9.0, 4.0].map(|up_m| DVec3::Z * up_m).to_vec();
    vec![
        (StandingLift::new(Some("articulating".to_owned()), articulating()), around.clone()),
        (StandingLift::new(Some("telescoping".to_owned()), telescoping()), around),
        (
            StandingLift::new(Some("mast".to_owned()), mast("Fennick 30").expect("it is in its catalog")),
            mast_up_and_down,
        ),
    ]
});

fn kinds() -> Vec<Kind> {
    let of_lift = |(lift, (standing, _)): (usize, &(StandingLift, _))| -> Vec<Kind> {
        (0..standing.bodies().len()).map(|body| Kind::OfLift(lift, body)).collect()
    };
    CraneKind::ALL.iter().map(|kind| Kind::Crane(*kind)).chain(LIFTS.iter().enumerate().flat_map(of_lift)).collect()
}

fn all_moves() -> Vec<Moves> {
    let mut all: Vec<Moves> = CraneMoves::ALL.iter().map(|moves| Moves::Crane(*moves)).collect();
    for (lift, (standing, _)) in LIFTS.iter().enumerate() {
        for (joint, _) in standing.joints().iter().enumerate().filter(|(_, joint)| joint.limits.width() > 0.0) {
            all.extend([true, false].map(|more| Moves::OfLift(lift, joint, more)));
        }
    }
    all
}

rows!(Beside: WireByItself, WireOnItsWay, WireHeldOut, CoveredStretch, StandingPole, Tree, Building, Wall, Post, Rod, NoGo,
    Person, AbovePerson, Terrain, OtherMachine, OwnMachine);

rows!(Does: Start, TakeLoad, Upend, HoistTo, LowerTo, SwingToward, BoomToRadius, BoomOver, Carry, Extend, Turn, Hold, Dig,
    IntoGuides, Work, Release, BoomAway, BucketTo, BucketStow);

fn kind_of(body: BodyId) -> Kind {
    Kind::Crane(match body {
        BodyId::Boom => CraneKind::Boom,
        BodyId::BoomHead => CraneKind::BoomHead,
        BodyId::HoistLine => CraneKind::HoistLine,
        BodyId::HookBlock => CraneKind::HookBlock,
        BodyId::Rigging => CraneKind::Rigging,
        BodyId::Counterweight => CraneKind::Counterweight,
        BodyId::Guides => CraneKind::Guides,
        BodyId::Auger => CraneKind::Auger,
        BodyId::Pole => CraneKind::Pole,
        BodyId::PoleItem(_) => CraneKind::PoleItem,
        // Those of lifts are the same solids elsewhere.
        BodyId::OfCarrier { part: CarrierPart::Carrier, .. } => CraneKind::Carrier,
        BodyId::OfCarrier { part: CarrierPart::Outriggers, .. } => CraneKind::Outriggers,
        BodyId::OfCarrier { part: CarrierPart::Mats, .. } => CraneKind::Mats,
        // What holds a phase stands still as these do.
        BodyId::HoldingTruck(_) | BodyId::HoldingArm { .. } => CraneKind::Outriggers,
        BodyId::OfLift { lift, body } => return Kind::OfLift(lift, body),
    })
}

/// The lift that it is of.
fn lift_of(kind: Kind) -> Option<usize> {
    match kind {
        Kind::Crane(_) => None,
        Kind::OfLift(lift, _) => Some(lift),
    }
}

/// What a piece of motion has of every way that joints, pole, auger and bucket may move.
fn moves_of(piece: &Piece) -> BTreeSet<Moves> {
    let mut found: BTreeSet<CraneMoves> = BTreeSet::new();
    match piece.path {
        Path::Even => {
            for joint in Joint::ALL.into_iter().filter(|joint| piece.moves(*joint)) {
                let more = piece.to.get(joint) > piece.from.get(joint);
                let pick = |if_more, if_less| if more { if_more } else { if_less };
                found.insert(match joint {
                    Joint::Swing => pick(CraneMoves::SwingLeft, CraneMoves::SwingRight),
                    Joint::BoomAngle => pick(CraneMoves::BoomUp, CraneMoves::BoomDown),
                    Joint::BoomLength => pick(CraneMoves::Extend, CraneMoves::Retract),
                    Joint::HoistLength => pick(CraneMoves::Lower, CraneMoves::Hoist),
                    Joint::PoleTilt => CraneMoves::ButtCarried,
                    // What hangs goes round with the swing.
                    Joint::PoleHeading if piece.moves(Joint::Swing) => continue,
                    Joint::PoleHeading | Joint::PoleTurn => CraneMoves::Turn,
                });
            }
        }
        Path::Box { .. } => _ = found.insert(CraneMoves::Combined),
        Path::Upend(_) => _ = found.insert(CraneMoves::Upend),
    }
    match piece.seat {
        Seat::OnHook => {}
        Seat::InGuides(_) => _ = found.insert(CraneMoves::InGuides),
        Seat::Butt { from, to } if from != to => _ = found.insert(CraneMoves::ButtCarried),
        Seat::Butt { .. } => {}
    }
    match piece.auger {
        AugerState::Stowed => {}
        AugerState::Swinging => _ = found.insert(CraneMoves::AugerSwings),
        AugerState::Hanging { .. } => _ = found.insert(CraneMoves::AugerHangs),
    }
    found.insert(match piece.load {
        LoadState::Free => CraneMoves::PoleLies,
        LoadState::ButtOnGround { .. } => CraneMoves::ButtOnGround,
        LoadState::Hanging => CraneMoves::PoleHangs,
        LoadState::Standing | LoadState::Unknown => CraneMoves::PoleStands,
    });
    if piece.still() && piece.lifts_still() {
        found.insert(CraneMoves::Nothing);
    }
    let mut found: BTreeSet<Moves> = found.into_iter().map(Moves::Crane).collect();
    for (lift, run) in piece.lifts.iter().enumerate() {
        // What is carried along by another joint is not moved by itself.
        let does = run.does;
        for (joint, of) in LIFTS[lift].0.joints().iter().enumerate() {
            let (from, to) = (run.from[joint], run.to[joint]);
            if from != to && does == Some(of.does(from, to)) {
                found.insert(Moves::OfLift(lift, joint, of.does(from, to) == of.does[0]));
            }
        }
    }
    found
}

fn beside_of(place: HoldState) -> Beside {
    match place {
        HoldState::Natural => Beside::WireByItself,
        HoldState::BeingPlaced => Beside::WireOnItsWay,
        HoldState::Held => Beside::WireHeldOut,
    }
}

fn beside_of_neighbour(kind: NeighbourKind, all: &Neighbours) -> Beside {
    match kind {
        NeighbourKind::StandingPole(_) => Beside::StandingPole,
        NeighbourKind::Obstacle(index) => match all.obstacles[index].shape {
            Shape::Tree { .. } => Beside::Tree,
            Shape::Building { .. } => Beside::Building,
            Shape::Wall { .. } => Beside::Wall,
            Shape::Post { .. } => Beside::Post,
            Shape::Rod { .. } => Beside::Rod,
        },
        NeighbourKind::NoGo(_) => Beside::NoGo,
        NeighbourKind::Person(_) => Beside::Person,
    }
}

fn does(action: &Action) -> Does {
    match action {
        Action::Start { .. } => Does::Start,
        Action::TakeLoad => Does::TakeLoad,
        Action::Upend => Does::Upend,
        Action::HoistTo { .. } => Does::HoistTo,
        Action::LowerTo { .. } => Does::LowerTo,
        Action::SwingToward { .. } => Does::SwingToward,
        Action::BoomToRadius { .. } => Does::BoomToRadius,
        Action::BoomOver { .. } => Does::BoomOver,
        Action::Carry { .. } => Does::Carry,
        Action::Extend { .. } => Does::Extend,
        Action::Turn { .. } => Does::Turn,
        Action::Hold { .. } => Does::Hold,
        Action::Dig { .. } => Does::Dig,
        Action::IntoGuides { .. } => Does::IntoGuides,
        Action::Work { .. } => Does::Work,
        Action::Release => Does::Release,
        Action::BoomAway { .. } => Does::BoomAway,
        Action::BucketTo(_) => Does::BucketTo,
        Action::BucketStow { .. } => Does::BucketStow,
    }
}

// ------------------------------------------------------------------------------------------------------------- sites

const CRANE: &str = include_str!("../scenes/01_juniper_lane.ron");
const YARD: &str = include_str!("../scenes/05_kestrel_yard.ron");
const DERRICK: &str = include_str!("../scenes/04_larch_bank.ron");

struct Job {
    name: &'static str,
    site: Site,
    plan: Plan,
    motion: Motion,
}

fn read(text: &str) -> Site {
    scene::read("example", text).and_then(|scene| scene.site()).expect("an example can be read")
}

fn articulating() -> BucketTruck {
    read(CRANE).lifts[0].as_kind::<BucketTruck>().expect("the first example has a bucket truck").clone()
}

fn telescoping() -> BucketTruck {
    let text = CRANE.replace("\"Tallis 46\"", "\"Orrin 38\"");
    let text = text.replace("lower: \"2 deg/s\", upper: \"3 deg/s\"", "upper: \"3 deg/s\", extend: \"1 ft/s\"");
    read(&text).lifts[0].as_kind::<BucketTruck>().expect("it is in the catalog").clone()
}

/// Steps without those of lifts; in their place every control of each lift both ways, before the pole is taken. The lifts stand in
/// a row from this place on.
fn with_lifts(site: &mut Site, first: DVec3, heading: f64) {
    site.steps.retain(|step| !matches!(step.action, Action::BucketTo(_) | Action::BucketStow { .. }));
    let (mut steps, mut standing) = (Vec::new(), Vec::new());
    let ahead = DVec3::new(heading.cos(), heading.sin(), 0.0);
    for (lift, (kind, places)) in LIFTS.iter().cloned().enumerate() {
        let at = first + DVec3::Z.cross(ahead) * (6.0 * lift as f64);
        for place in places {
            let point = at + ahead * place.x + DVec3::Z.cross(ahead) * place.y + DVec3::Z * place.z;
            let pose = BucketPose { lift, at: BucketAt::Point(point), works_on: None, elbow: None, order: vec![] };
            steps.push(step(Action::BucketTo(pose)));
        }
        steps.push(step(Action::BucketStow { lift }));
        standing.push(placed(kind, at, heading));
    }
    site.steps.splice(1..1, steps);
    site.lifts = standing;
    site.lifts_absent = false;
}

fn placed(mut lift: StandingLift, at: DVec3, heading: f64) -> StandingLift {
    if let Some(truck) = lift.as_kind_mut::<BucketTruck>() {
        (truck.at, truck.heading) = (at, heading);
    }
    if let Some(mast) = lift.as_kind_mut::<Mast>() {
        (mast.at, mast.heading) = (at, heading);
    }
    lift
}

fn step(action: Action) -> Step {
    Step { name: String::new(), action, combined: false }
}

fn after(site: &mut Site, which: fn(&Action) -> bool, steps: Vec<Step>) {
    let at = site.steps.iter().position(|step| which(&step.action)).expect("such a step") + 1;
    site.steps.splice(at..at, steps);
}

fn crane() -> Site {
    let mut site = read(CRANE);
    let truck = articulating();
    with_lifts(&mut site, truck.at, truck.heading);
    // Covers come on and go off at steps of the example; here only the motion counts.
    let always = During { on_after_step: None, off_before_step: None };
    site.covers.iter_mut().for_each(|cover| cover.during = always);
    site.held_out.clear();
    let length_m = site.steps.iter().find_map(|step| match step.action {
        Action::Start { boom_length_m, .. } => Some(boom_length_m),
        _ => None,
    });
    let length_m = length_m.expect("a start");
    let more = vec![
        step(Action::Extend { boom_length_m: length_m - 1.0 }),
        step(Action::Extend { boom_length_m: length_m }),
        step(Action::Turn { facing: 1.0 }),
        step(Action::Turn { facing: -0.5 }),
        Step {
            combined: true,
            ..step(Action::Carry { point: site.hole.at + DVec3::new(-3.0, -5.0, 0.0), height_m: 13.5 })
        },
        step(Action::BoomToRadius { radius_m: 11.0 }),
        step(Action::BoomToRadius { radius_m: 12.0 }),
    ];
    after(&mut site, |action| matches!(action, Action::HoistTo { .. }), more);
    site
}

fn derrick() -> Site {
    let mut site = read(DERRICK);
    if site.crane.outriggers.is_none() {
        site.crane.outriggers = read(CRANE).crane.outriggers;
    }
    // Its pole goes in bare; an arm on it goes where it goes.
    site.pole.items.extend(read(CRANE).pole.items.into_iter().map(|item| PoleItem { mass_kg: 1.0, ..item }));
    let beside = site.crane.at + DVec3::new(15.0, 4.0, 0.0);
    with_lifts(&mut site, beside, articulating().heading);
    for step in &mut site.steps {
        step.combined = matches!(step.action, Action::BoomAway { .. });
    }
    let longer = |length: f64| step(Action::Extend { boom_length_m: length * 0.3048 });
    after(&mut site, |action| matches!(action, Action::HoistTo { .. }), vec![longer(33.0), longer(32.0)]);
    after(&mut site, |action| matches!(action, Action::Release), vec![longer(33.0), longer(32.0)]);
    site
}

static JOBS: LazyLock<Vec<Job>> = LazyLock::new(|| {
    let sites = [("crane", crane()), ("derrick", derrick())];
    let job = |(name, site): (&'static str, Site)| {
        let mass = pole::mass(&site.pole, &site.covers).expect("its pole has a mass");
        let hung = rigging::hang(&site.pole, &mass, &site.rigging).expect("its pole hangs");
        let plan = sequence::plan(&site, &hung);
        let motion = Motion::of(&site, &plan, &WindLean { line: 0.01, pole: 0.02 });
        assert_eq!(plan.stopped_at, None, "{name}: {:#?}", plan.findings);
        Job { name, site, plan, motion }
    };
    sites.into_iter().map(job).collect()
});

impl Job {
    /// The parts of every such body in a piece.
    fn parts(&self, kind: Kind, piece: usize) -> Vec<MovingPart> {
        let cut = |from: f64, to: f64| {
            let length_m = self.site.pole.length_m;
            let stretch = Bracket::between(from * length_m, to * length_m).expect("in order");
            self.motion.pole_stretches(piece, &[stretch]).concat()
        };
        match kind {
            Kind::Crane(CraneKind::CoveredPole) => cut(0.1, 0.6),
            Kind::Crane(CraneKind::BarePole) => cut(0.6, 1.0),
            _ => {
                let bodies = self.motion.bodies.iter().filter(|body| kind_of(body.id) == kind);
                bodies.flat_map(|body| body.parts[piece].iter().cloned()).collect()
            }
        }
    }

    fn pieces(&self, kind: Kind, moves: Moves) -> Vec<usize> {
        let count = self.plan.pieces.len();
        (0..count)
            .filter(|&i| moves_of(&self.plan.pieces[i]).contains(&moves) && !self.parts(kind, i).is_empty())
            .collect()
    }
}

/// One of each, somewhere; each is brought to where it is wanted.
fn around() -> Neighbours {
    let obstacle = |shape| Obstacle { name: String::new(), shape };
    let corners = [(0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (3.0, 1.5), (0.0, 4.0)].map(glam::DVec2::from).to_vec();
    Neighbours {
        by_hand: None,
        structures_stated: true,
        poles: vec![StandingPole {
            name: String::new(),
            foot: DVec3::ZERO,
            top: DVec3::new(0.3, -0.2, 11.0),
            foot_radius_m: 0.17,
            top_radius_m: 0.1,
        }],
        obstacles: vec![
            obstacle(Shape::Tree {
                foot: DVec3::ZERO,
                height_m: 9.0,
                trunk_radius_m: 0.3,
                crown_from_m: 3.0,
                crown_radius_m: 2.5,
            }),
            obstacle(Shape::Building { corners: corners.clone(), ground_m: 0.0, height_m: 5.0 }),
            obstacle(Shape::Wall { from: DVec3::ZERO, to: DVec3::new(5.0, 1.0, 0.5), height_m: 1.8, thickness_m: 0.2 }),
            obstacle(Shape::Post { foot: DVec3::ZERO, height_m: 3.0, radius_m: 0.05 }),
            obstacle(Shape::Rod { from: DVec3::ZERO, to: DVec3::new(4.0, -2.0, 7.0), radius_m: 0.02 }),
        ],
        no_go: vec![NoGo { name: String::new(), corners, ground_m: 0.0, height_m: 12.0, reason: String::new() }],
        people: vec![person()],
    }
}

fn person() -> Person {
    let during = During { on_after_step: None, off_before_step: None };
    let stands = vec![Stand { at: DVec3::ZERO, during }];
    Person { name: String::new(), task: Task::Observer, reach_m: 0.9, height_m: 2.4, stands }
}

/// Wires as they hang by themselves, on their way aside and held out, in every weather.
static WIRES: LazyLock<Vec<(Beside, PlacedFamily)>> = LazyLock::new(|| {
    let mut found = Vec::new();
    for state in hang(&read(CRANE)).states {
        let places: BTreeSet<Beside> = state.hold_states.iter().map(|(_, place)| beside_of(*place)).collect();
        if let [beside] = places.into_iter().collect::<Vec<_>>()[..] {
            // What is moved of a span that has others beside it is what has the spread.
            found.extend(state.families.into_iter().map(|family| (beside, family)));
        }
    }
    found
});

// ------------------------------------------------------------------------------------------------------ placements

/// Shares from 0 to 1 of all that is free: u, each joint, the auger's angle, the five of a wire.
type Spot = [f64; 14];
const JOINTS: usize = 1;
const AUGER: usize = 8;
const WIRE: usize = 9;

/// A ball, or a disc with a ball about each of its points.
#[derive(Clone, Copy)]
struct Round {
    center: DVec3,
    axis: Option<DVec3>,
    disc_m: f64,
    ball_m: f64,
}

/// The hull of these.
#[derive(Clone)]
struct Mold(Vec<Round>);

impl SupportMap for Mold {
    fn local_support_point(&self, dir: DVec3) -> DVec3 {
        let unit = dir.normalize_or_zero();
        let farthest = |round: &Round| {
            let across = round.axis.map_or(DVec3::ZERO, |axis| {
                // Straight along the axis only rounding is left, which points anywhere.
                let rest = unit - axis * unit.dot(axis);
                if rest.length() < 1e-9 { DVec3::ZERO } else { rest.reject_from(axis).normalize() }
            });
            round.center + across * round.disc_m + unit * round.ball_m
        };
        let mut best = (f64::NEG_INFINITY, DVec3::ZERO);
        for round in &self.0 {
            let point = farthest(round);
            let reach = point.dot(unit);
            if reach > best.0 {
                best = (reach, point);
            }
        }
        best.1
    }
}

impl Mold {
    /// What is left when the ball that all of it has about it is taken off, and that ball's radius. The library ends early on
    /// round surfaces.
    fn core(&self) -> (Self, f64) {
        let ball_m = self.0.iter().map(|round| round.ball_m).fold(f64::INFINITY, f64::min);
        (Self(self.0.iter().map(|round| Round { ball_m: round.ball_m - ball_m, ..*round }).collect()), ball_m)
    }
}

fn distance(a: &Mold, b: &Mold) -> f64 {
    distance_from(a, b, a.0[0].center - b.0[0].center).0
}

/// The same, begun again along the way that was found: what stops early stops nearer to the truth. It is never too little.
fn distance_again(a: &Mold, b: &Mold) -> f64 {
    const AGAIN: usize = 4;
    let (mut least_m, mut way) = (f64::INFINITY, a.0[0].center - b.0[0].center);
    for _ in 0..AGAIN {
        let (found_m, found) = distance_from(a, b, way);
        least_m = least_m.min(found_m);
        way = found;
    }
    least_m
}

/// Begun along a way from b to a; with the way between the nearest points.
fn distance_from(a: &Mold, b: &Mold, way: DVec3) -> (f64, DVec3) {
    let ((a, a_ball_m), (b, b_ball_m)) = (a.core(), b.core());
    let mut simplex = VoronoiSimplex::new();
    let first = CsoPoint::from_shapes(&Pose::IDENTITY, &a, &b, way.try_normalize().unwrap_or(DVec3::X));
    simplex.reset(first);
    match closest_points(&Pose::IDENTITY, &a, &b, f64::MAX, true, &mut simplex) {
        GJKResult::ClosestPoints(on_a, on_b, _) => ((on_a.distance(on_b) - a_ball_m - b_ball_m).max(0.0), on_a - on_b),
        GJKResult::Intersection => (0.0, way),
        GJKResult::Proximity(_) | GJKResult::NoIntersection(_) => (f64::INFINITY, way),
    }
}

/// What the parts of one body are in one piece.
#[derive(Clone, Copy)]
struct Placing<'a> {
    job: &'a Job,
    piece: &'a Piece,
    /// None of the machines'.
    kind: Option<Kind>,
    parts: &'a [MovingPart],
    measure: Measure,
}

impl Placing<'_> {
    fn joints(&self, spot: &Spot) -> Joints {
        let piece = self.piece;
        let (from, to) = piece.ends();
        let even = from.toward(&to, spot[0]);
        match piece.path {
            Path::Even => even,
            Path::Upend(arc) => even.with(Joint::PoleTilt, arc.tilt_at(even.hoist_length_m)),
            Path::Box { lead } => Joint::ALL.iter().enumerate().fold(even, |joints, (i, &joint)| {
                // The pole goes round with the swing.
                let of = |joint: Joint| Joint::ALL.iter().position(|&one| one == joint).unwrap_or(i);
                let rides = joint == Joint::PoleHeading && piece.moves(Joint::Swing);
                let runs = if rides { Joint::Swing } else { joint };
                let share = if runs == lead { spot[0] } else { spot[JOINTS + of(runs)] };
                joints.with(joint, from.toward(&to, share).get(joint))
            }),
        }
    }

    fn grown(&self, allowance_m: f64) -> f64 {
        match self.measure {
            Measure::Gap => 0.0,
            Measure::GapLessAllowance => allowance_m,
        }
    }

    fn mold(&self, part: usize, spot: &Spot) -> Mold {
        let chain = &self.job.plan.chain;
        let part = &self.parts[part];
        if let (Some(Kind::Crane(CraneKind::Auger)), AugerState::Swinging, Some(derrick)) =
            (self.kind, self.piece.auger, &self.job.site.crane.derrick)
        {
            // The flight at an angle on its way from plumb up to the boom.
            let auger = &derrick.auger;
            let joints = self.joints(spot);
            let angle = spot[AUGER] * (std::f64::consts::FRAC_PI_2 - joints.boom_angle);
            let at = |far_m: f64| {
                let (out_m, down_m) = (-far_m * angle.sin(), far_m * angle.cos());
                let (along_m, left_m, below_m) = (auger.along_m, auger.left_m, auger.below_m);
                chain.place_in_world(
                    &Corner::Hung { along_m, share: 0.0, left_m, below_m, out_m, down_m },
                    &joints,
                    &self.piece.seat,
                    spot[0],
                )
            };
            let ball_m = auger.flight_radius_m + self.grown(part.features[0].allowance_m);
            let ends = [auger.length_m - auger.flight_length_m, auger.length_m];
            return Mold(ends.map(|far_m| Round { center: at(far_m), axis: None, disc_m: 0.0, ball_m }).to_vec());
        }
        if let Some(spread) = &part.spread {
            let joints = self.joints(spot);
            // The wind's lean goes with how long the line is there.
            let crane = &spread.chain.crane;
            let line_m = joints.hoist_length_m + crane.block_length_m + crane.rigging_length_m;
            let round = |corner: &scene_core::motion::spread::Corner| {
                let axis = corner.disc.then(|| spread.chain.pole_direction_in_world(&joints, DVec3::Z));
                let (disc_m, ball_m) = if corner.disc { (corner.radius_m, 0.0) } else { (0.0, corner.radius_m) };
                let center = spread.chain.place_in_world(&corner.place, &joints, &spread.seat, spot[0]);
                let grown_m = self.grown(corner.allowance_m + corner.line_lean * line_m);
                Round { center, axis, disc_m, ball_m: ball_m + grown_m }
            };
            return Mold(spread.corners.iter().map(round).collect());
        }
        let features = part.hull(spot[0]).features;
        let round = |(feature, moving): (&Feature, &MovingFeature)| {
            let grown = self.grown(moving.allowance_m);
            match *feature {
                Feature::Ball { center, radius_m } => {
                    Round { center, axis: None, disc_m: 0.0, ball_m: radius_m + grown }
                }
                Feature::Disc { center, axis, radius_m } => {
                    Round { center, axis: Some(axis), disc_m: radius_m, ball_m: grown }
                }
            }
        };
        Mold(features.iter().zip(&part.features).map(round).collect())
    }

    /// Which of a spot's numbers matter.
    fn free(&self) -> Vec<usize> {
        let mut free = vec![0];
        if matches!(self.piece.path, Path::Box { .. }) {
            free.extend((0..Joint::ALL.len()).map(|i| JOINTS + i));
        }
        if self.kind == Some(Kind::Crane(CraneKind::Auger)) && self.piece.auger == AugerState::Swinging {
            free.push(AUGER);
        }
        free
    }
}

fn moved(part: &MovingPart, by: DVec3) -> MovingPart {
    assert!(part.spread.is_none(), "what is blurred is not moved");
    let feature = |feature: &MovingFeature| MovingFeature {
        at: Track { base: feature.at.base + by, ..feature.at.clone() },
        ..feature.clone()
    };
    MovingPart { features: part.features.iter().map(feature).collect(), ..part.clone() }
}

fn moved_wire(family: &SpanFamily, by: DVec3) -> SpanFamily {
    let end = |at: [DVec3; 2]| at.map(|point| point + by);
    SpanFamily { a: end(family.a), b: end(family.b), ..family.clone() }
}

/// The least over placements that are tried out, walking downhill from a few.
fn least(gap: impl Fn(&Spot) -> f64, free: &[usize], dice: &mut Rng) -> (f64, Spot) {
    let (starts, paces) = if free.len() == 1 { (2, 22) } else { (2, 22 + 8 * free.len()) };
    let mut best = (f64::INFINITY, [0.5; 14]);
    for _ in 0..starts {
        let mut here = (f64::INFINITY, [0.5; 14]);
        for _ in 0..6 {
            let mut spot = [0.5; 14];
            for &i in free {
                let x = dice.between(-0.2, 1.2);
                spot[i] = x.clamp(0.0, 1.0);
            }
            let gap_m = gap(&spot);
            if gap_m < here.0 {
                here = (gap_m, spot);
            }
        }
        let mut pace = 0.2;
        for _ in 0..paces {
            let mut spot = here.1;
            for &i in free {
                if free.len() == 1 || dice.f64() < 0.5 {
                    spot[i] = (spot[i] + dice.between(-pace, pace)).clamp(0.0, 1.0);
                }
            }
            let gap_m = gap(&spot);
            if gap_m < here.0 {
                here = (gap_m, spot);
            } else {
                pace *= 0.88;
            }
        }
        if here.0 < best.0 {
            best = here;
        }
    }
    best
}

// ------------------------------------------------------------------------------------------------------- the table

#[derive(Debug, Default)]
struct Tally {
    tried: BTreeMap<(Kind, Moves, Beside), usize>,
    open: usize,
    /// Tried out to within this and the motion error of the low.
    near: usize,
    witnesses: usize,
}

const NEAR_M: f64 = 0.02;

struct Said {
    low_m: f64,
    high_m: f64,
    closed: bool,
    /// The gap at the witness.
    there_m: Option<f64>,
    tried_m: f64,
    motion_error_m: f64,
}

#[test]
fn every_kind_of_part_in_every_motion_beside_every_neighbour_is_no_nearer_than_was_proven() {
    let mut dice = Rng::with_seed(20_261_126);
    let mut tally = Tally::default();
    let mut missing = Vec::new();
    let (kinds, all_moves) = (kinds(), all_moves());
    for &kind in &kinds {
        for &moves in &all_moves {
            let candidates: Vec<(&Job, usize)> = (JOBS.iter())
                .flat_map(|job| job.pieces(kind, moves).into_iter().map(move |piece| (job, piece)))
                .collect();
            if candidates.is_empty() {
                missing.push((kind, moves));
                continue;
            }
            for &beside in Beside::ALL {
                let (job, piece) = dice.one_of(&candidates);
                let measure = dice.one_of(&[Measure::Gap, Measure::GapLessAllowance]);
                let what = format!("{kind:?} {moves:?} {beside:?} {measure:?}, {} piece {piece}", job.name);
                let Some(said) = tried(job, piece, kind, beside, measure, &mut dice) else {
                    panic!("{what} is not tried out");
                };
                let Said { low_m, high_m, closed, there_m, tried_m, motion_error_m } = said;
                let what =
                    format!("{what}: {low_m} to {high_m}, blur {motion_error_m}, tried {tried_m}, witness {there_m:?}");
                assert!(low_m <= tried_m.max(0.0) + 1e-7 && low_m <= high_m, "{what}");
                if let Some(there_m) = there_m {
                    tally.witnesses += 1;
                    assert!(there_m <= high_m + 1e-5 && there_m >= low_m - 1e-7, "{what}");
                }
                tally.open += usize::from(!closed);
                tally.near += usize::from(tried_m - low_m.max(0.0) <= NEAR_M + 2.0 * motion_error_m);
                *tally.tried.entry((kind, moves, beside)).or_default() += 1;
            }
        }
    }
    assert!(missing.is_empty(), "no piece of any job for {missing:?}");
    let all = tally.tried.len();
    println!("{all} combinations, {} open, {} near, {} witnesses", tally.open, tally.near, tally.witnesses);
    assert_eq!(all, kinds.len() * all_moves.len() * Beside::ALL.len());
    // A low that is a few centimeters too high would be noticed.
    assert!(tally.near * 10 >= all * 9 && tally.open * 10 <= all, "{} {} of {all}", tally.near, tally.open);
}

#[test]
fn every_step_that_a_crew_may_do_is_in_one_of_the_jobs() {
    let done: BTreeSet<Does> =
        JOBS.iter().flat_map(|job| job.site.steps.iter().map(|step| does(&step.action))).collect();
    let left: Vec<_> = Does::ALL.iter().filter(|one| !done.contains(one)).collect();
    assert!(left.is_empty(), "{left:?}");
}

/// A body in one piece, and a point near to it at some placement.
struct Approached<'a> {
    placing: Placing<'a>,
    piece: usize,
    somewhere: Spot,
    near: DVec3,
}

impl Approached<'_> {
    fn part_motions(&self) -> Vec<PartMotion> {
        self.placing.parts.iter().map(|part| PartMotion::new(self.piece, part)).collect()
    }
}

fn motion_error_m(parts: &[MovingPart]) -> f64 {
    parts.iter().map(|part| part.motion_error_m).fold(0.0, f64::max)
}

fn tried(job: &Job, piece: usize, kind: Kind, beside: Beside, measure: Measure, dice: &mut Rng) -> Option<Said> {
    let parts = job.parts(kind, piece);
    let placing = Placing { job, piece: &job.plan.pieces[piece], kind: Some(kind), parts: &parts, measure };
    let somewhere: Spot = std::array::from_fn(|_| dice.f64());
    let mold = placing.mold(dice.usize(..parts.len()), &somewhere);
    let round = dice.one_of(&mold.0);
    let near = round.center + dice.direction() * (round.disc_m + round.ball_m + dice.between(0.2, 2.5));
    let approached = Approached { placing, piece, somewhere, near };
    match beside {
        Beside::WireByItself | Beside::WireOnItsWay | Beside::WireHeldOut => {
            beside_wire(&approached, beside, Bracket::between(0.0, 1.0)?, dice)
        }
        Beside::CoveredStretch => {
            let from = dice.between(0.1, 0.8);
            beside_wire(&approached, Beside::WireByItself, Bracket::between(from, from + 0.1)?, dice)
        }
        _ => beside_body(&approached, kind, beside, dice),
    }
}

fn beside_wire(approached: &Approached, beside: Beside, stretch: Bracket, dice: &mut Rng) -> Option<Said> {
    let Approached { placing, somewhere, near, .. } = approached;
    let wires: Vec<&PlacedFamily> = WIRES.iter().filter(|(one, _)| *one == beside).map(|(_, wire)| wire).collect();
    let placed = dice.choice(&wires)?;
    let patch = placed.family.patch(stretch);
    let member = |spot: &Spot| {
        let [t, curvature, blowout, a, b] = patch.ranges();
        let share = |i: usize, of: Bracket| of.at(spot[WIRE + i]);
        Member {
            t: share(0, t),
            curvature: share(1, curvature),
            blowout: share(2, blowout),
            a: share(3, a),
            b: share(4, b),
        }
    };
    let family = moved_wire(&placed.family, near - placed.family.point(&member(somewhere)));
    let arc = WireArc::new(&family, stretch);
    let proof = smallest_gap(&approached.part_motions(), &[arc], placing.measure, TOLERANCE_M, BUDGET);
    let gap_to = |part: usize, spot: &Spot, member: &Member| {
        let point = Round { center: family.point(member), axis: None, disc_m: 0.0, ball_m: 0.0 };
        distance(&placing.mold(part, spot), &Mold(vec![point])) - family.radius_m
    };
    let mut free = placing.free();
    free.extend((0..5).map(|i| WIRE + i));
    let tried_m = (0..placing.parts.len())
        .map(|part| least(|spot| gap_to(part, spot, &member(spot)), &free, dice).0)
        .fold(f64::INFINITY, f64::min);
    let there = |witness: scene_core::approach::Witness| {
        let mut spot = *somewhere;
        spot[0] = witness.u;
        gap_to(witness.part_motion, &spot, &witness.member)
    };
    Some(Said {
        low_m: proof.low_m,
        high_m: proof.high_m,
        closed: proof.closed,
        there_m: proof.witness.filter(|_| is_told(placing)).map(there),
        // A wire may be inside a body by no more than its radius.
        tried_m: tried_m.max(-family.radius_m),
        motion_error_m: motion_error_m(placing.parts) + family.shape_error_m,
    })
}

/// Other bodies than wires, as many as there are.
fn others(
    approached: &Approached,
    kind: Kind,
    beside: Beside,
    dice: &mut Rng,
) -> Option<(Option<Kind>, Vec<MovingPart>)> {
    let (job, piece) = (approached.placing.job, approached.piece);
    Some(match beside {
        Beside::OwnMachine | Beside::OtherMachine => {
            let lift = lift_of(kind);
            let is_wanted = |other: Kind| (lift_of(other) == lift) == (beside == Beside::OwnMachine) && other != kind;
            let theirs: Vec<Kind> =
                kinds().into_iter().filter(|other| is_wanted(*other) && !job.parts(*other, piece).is_empty()).collect();
            let other = dice.one_of(&theirs);
            (Some(other), job.parts(other, piece))
        }
        Beside::Terrain => {
            let prisms = Ground::of(&read(DERRICK)).ok()?.prisms();
            (None, vec![dice.choice(&prisms)?.part()])
        }
        Beside::AbovePerson => (None, above_person(&person()).parts_in(0).cloned().collect()),
        _ => {
            let all = around();
            let of = neighbours(&all).into_iter().find(|one| beside_of_neighbour(one.kind, &all) == beside)?;
            (None, of.parts_in(0).cloned().collect())
        }
    })
}

fn beside_body(approached: &Approached, kind: Kind, beside: Beside, dice: &mut Rng) -> Option<Said> {
    let Approached { placing, somewhere, near, .. } = approached;
    let (other_kind, others) = others(approached, kind, beside, dice)?;
    let about = dice.choice(&others)?.hull(somewhere[0]).features;
    let (Feature::Ball { center, .. } | Feature::Disc { center, .. }) = dice.one_of(&about);
    let by = near - center;
    let shift =
        |parts: &[MovingPart], by: DVec3| -> Vec<MovingPart> { parts.iter().map(|part| moved(part, by)).collect() };
    // Where a crane's parts are inexact, it is the lift that is brought near.
    let (parts, others) = match beside {
        Beside::OwnMachine => (placing.parts.to_vec(), others),
        Beside::OtherMachine if lift_of(kind).is_some() => (shift(placing.parts, -by), others),
        _ => (placing.parts.to_vec(), shift(&others, by)),
    };
    let one = Approached { placing: Placing { parts: &parts, ..*placing }, ..*approached };
    let other = Approached { placing: Placing { kind: other_kind, parts: &others, ..*placing }, ..*approached };
    let proof = smallest_gap_between(&one.part_motions(), &other.part_motions(), placing.measure, TOLERANCE_M, BUDGET);
    let gap_to = |a: usize, b: usize, spot: &Spot| distance(&one.placing.mold(a, spot), &other.placing.mold(b, spot));
    let mut free = [one.placing.free(), other.placing.free()].concat();
    free.sort_unstable();
    free.dedup();
    let mut tried_m = f64::INFINITY;
    for a in 0..parts.len() {
        for b in 0..others.len() {
            tried_m = tried_m.min(least(|spot| gap_to(a, b, spot), &free, dice).0);
        }
    }
    let there = |witness: scene_core::approach::pair::PairWitness| {
        let mut spot = *somewhere;
        spot[0] = witness.u;
        distance_again(&one.placing.mold(witness.a, &spot), &other.placing.mold(witness.b, &spot))
    };
    Some(Said {
        low_m: proof.low_m,
        high_m: proof.high_m,
        closed: proof.closed,
        there_m: proof.witness.filter(|_| is_told(&one.placing) && is_told(&other.placing)).map(there),
        tried_m,
        motion_error_m: motion_error_m(&parts) + motion_error_m(&others),
    })
}

/// One u tells where it is.
fn is_told(placing: &Placing) -> bool {
    placing.parts.iter().all(|part| part.spread.is_none()) && placing.free().len() == 1
}

/// What is tried out is the very motion: without this a track that went nowhere would pass.
#[test]
fn what_is_tried_out_moves() {
    let mut moved: BTreeSet<Kind> = BTreeSet::new();
    let kinds = kinds();
    for job in JOBS.iter() {
        for (index, piece) in job.plan.pieces.iter().enumerate() {
            for &kind in &kinds {
                let parts = job.parts(kind, index);
                let placing = Placing { job, piece, kind: Some(kind), parts: &parts, measure: Measure::Gap };
                let mut ends =
                    [0.0, 1.0].map(|share| (!parts.is_empty()).then(|| placing.mold(0, &[share; 14]).0[0].center));
                if let [Some(from), Some(to)] = &mut ends
                    && from.distance(*to) > 0.2
                {
                    moved.insert(kind);
                }
            }
        }
    }
    // What is round the axis that it turns about goes nowhere.
    for (lift, (standing, _)) in LIFTS.iter().enumerate() {
        let turrets = standing.bodies().into_iter().enumerate().filter(|(_, body)| body.name == "lift turret");
        moved.extend(turrets.map(|(body, _)| Kind::OfLift(lift, body)));
    }
    // What machines stand on goes nowhere either.
    moved.extend([CraneKind::Carrier, CraneKind::Outriggers, CraneKind::Mats].map(Kind::Crane));
    let still: Vec<_> = kinds.iter().filter(|kind| !moved.contains(kind)).collect();
    assert!(still.is_empty(), "{still:?}");
}

// ------------------------------------------------------------------------------------------------- the whole check

/// A derrick and a lift among one of each that can stand near.
fn crowded() -> Site {
    let mut site = derrick();
    let mut all = around();
    let hole = site.hole.at;
    for pole in &mut all.poles {
        pole.name = "standing".into();
        (pole.foot, pole.top) =
            (pole.foot + hole + DVec3::new(6.0, 1.0, 0.0), pole.top + hole + DVec3::new(6.0, 1.0, 0.0));
    }
    for (i, obstacle) in all.obstacles.iter_mut().enumerate() {
        obstacle.name = format!("obstacle {i}");
        let by = hole + DVec3::new(-4.0 - 2.0 * i as f64, -3.0 + 3.0 * i as f64, 0.0);
        match &mut obstacle.shape {
            Shape::Tree { foot, .. } | Shape::Post { foot, .. } => *foot += by,
            Shape::Building { corners, ground_m, .. } => {
                corners.iter_mut().for_each(|corner| *corner += by.truncate());
                *ground_m = by.z;
            }
            Shape::Wall { from, to, .. } | Shape::Rod { from, to, .. } => (*from, *to) = (*from + by, *to + by),
        }
    }
    for area in &mut all.no_go {
        area.name = "area".into();
        area.corners.iter_mut().for_each(|corner| *corner += hole.truncate() + glam::DVec2::new(3.0, -9.0));
    }
    let mut guide = person();
    (guide.name, guide.task, guide.stands[0].at) = ("guide".into(), Task::TagLine, hole + DVec3::new(1.5, -1.5, 0.0));
    for person in &mut all.people {
        (person.name, person.stands[0].at) = ("observer".into(), hole + DVec3::new(5.0, -4.0, 0.0));
        // There for a part of the work only.
        person.stands[0].during = During { on_after_step: Some(3), off_before_step: Some(site.steps.len() - 2) };
    }
    all.people.push(guide);
    site.neighbours = Some(all);
    site
}

fn is_there(during: &During, step: usize) -> bool {
    during.on_after_step.is_none_or(|on| step >= on) && during.off_before_step.is_none_or(|off| step <= off)
}

/// Every body has a row against everything that stands near and against every body of the other machine, and no placement
/// that is tried out is nearer than the row says.
#[test]
fn everything_is_held_against_everything_that_is_there() {
    let sites = [("example", read(CRANE)), ("yard", read(YARD)), ("crowded", crowded())];
    let (mut rows, mut bitten) = (0, 0);
    for (name, mut site) in sites {
        site.weather.truncate(1);
        let report = check(&site);
        let mass = pole::mass(&site.pole, &site.covers).expect("its pole has a mass");
        let hung = rigging::hang(&site.pole, &mass, &site.rigging).expect("its pole hangs");
        let plan = sequence::plan(&site, &hung);
        assert_eq!(plan.stopped_at, None, "{name}: {:#?}", plan.findings);
        let motion = Motion::of(&site, &plan, &WindLean::default());
        let stated = site.neighbours.clone().expect("neighbours are stated");
        let near = neighbours(&stated);
        let prisms = Ground::of(&site).expect("its ground is known").prisms();
        let ground_parts: Vec<MovingPart> = prisms.iter().map(|prism| prism.part()).collect();
        let job = Job { name, site, plan, motion };
        // By what stands there, or by the other machine's body: its parts in a piece.
        type Theirs<'a> = (String, Option<Kind>, Box<dyn Fn(usize) -> Vec<MovingPart> + 'a>);
        for body in &job.motion.bodies {
            let kind = kind_of(body.id);
            // A carrier stands still, and people walk about it.
            let stands = body.id.is_of_carrier() || body.id.holds();
            let may_touch = |one: &&Neighbour| stands && matches!(one.kind, NeighbourKind::Person(_));
            // An arm holds its phase only for a time.
            if matches!(body.id, BodyId::HoldingArm { .. }) {
                continue;
            }
            let stand = near.iter().filter(|one| !may_touch(one)).map(|one| -> Theirs {
                let here = |step: usize| match one.kind {
                    NeighbourKind::Person(index) => is_there(&stated.people[index].stands[0].during, step),
                    _ => true,
                };
                let steps: Vec<bool> = job.plan.pieces.iter().map(|piece| here(piece.step)).collect();
                let at = move |piece: usize| if steps[piece] { one.stays[0].parts.clone() } else { Vec::new() };
                (one.name.clone(), None, Box::new(at))
            });
            let of_other_lift = |other: &&BodyMotion| other.id.lift().is_some_and(|lift| Some(lift) != body.id.lift());
            let machines = job.motion.bodies.iter().filter(of_other_lift);
            let machines = machines.map(|other| -> Theirs {
                (other.name.clone(), Some(kind_of(other.id)), Box::new(|piece| other.parts[piece].to_vec()))
            });
            // The bodies of the lifting machine among themselves, those that may never touch.
            let is_own = |id: BodyId| id.lift().is_none() && !id.is_of_carrier() && !id.holds();
            let never_touch = |other: &&BodyMotion| {
                is_own(body.id) && is_own(other.id) && contact::between(body.id, other.id).is_none()
            };
            let own = job.motion.bodies.iter().filter(never_touch).map(|other| -> Theirs {
                (other.name.clone(), Some(kind_of(other.id)), Box::new(|piece| other.parts[piece].to_vec()))
            });
            // The ground, for what may not touch it.
            let has_row = |name: &str| report.gaps.iter().any(|row| row.body == body.name && row.other == name);
            let ground = Some("the ground")
                .filter(|name| has_row(name))
                .map(|name| -> Theirs { (name.to_owned(), None, Box::new(|_| ground_parts.clone())) });
            for (other, other_kind, theirs) in stand.chain(machines).chain(own).chain(ground) {
                let named = |row: &&GapRow| {
                    [&row.body, &row.other] == [&body.name, &other] || [&row.body, &row.other] == [&other, &body.name]
                };
                let row = report.gaps.iter().find(named);
                let row = row.unwrap_or_else(|| panic!("{name}: {} has no row against {other}", body.name));
                rows += 1;
                let mut tried_m = f64::INFINITY;
                for (index, piece) in job.plan.pieces.iter().enumerate() {
                    if body.still[index] && index > 0 && body.still[index - 1] && other_kind.is_none() && index % 7 != 0
                    {
                        continue;
                    }
                    let (parts, theirs) = (body.parts[index].to_vec(), theirs(index));
                    let mine = Placing { job: &job, piece, kind: Some(kind), parts: &parts, measure: Measure::Gap };
                    let other = Placing { kind: other_kind, parts: &theirs, ..mine };
                    for u in [0.0, 0.5, 1.0] {
                        for a in 0..parts.len() {
                            for b in 0..theirs.len() {
                                tried_m = tried_m.min(distance(&mine.mold(a, &[u; 14]), &other.mold(b, &[u; 14])));
                            }
                        }
                    }
                }
                assert!(row.low_m <= tried_m + 1e-7, "{name}: {} to {other} tried {tried_m}: {row:?}", body.name);
                bitten += usize::from(tried_m <= row.low_m.max(0.0) + 0.15);
            }
        }
    }
    println!("{rows} rows, {bitten} tried out to 15 cm of what is proven");
    assert!(rows > 300 && bitten * 2 > rows, "{rows} {bitten}");
}
