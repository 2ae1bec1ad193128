//! The job with every reference looked up, in SI, and nothing computed yet.
//!
//! Names are kept for people; everything that refers to something else does so by index into the vectors of [`Site`].
//! A `Site` is never changed: an edit makes a new one.

pub mod basis;
pub mod circuit;
pub mod crew;
pub mod ground;
mod holder;
pub mod measured;
pub mod pose;
pub mod station;

pub use basis::{Answer, Arranged, Basis, Job, LiveMachine, Protected, Reason, Route, Said, Standing, StandingAnswer};

pub use holder::{Holder, HolderStand, HoldingTruck};

pub use crate::machine::crane::facts::{
    BoomHead, Chart, ChartSector, Crane, FloatSpread, HookBlock, Leveling, Outriggers, Rates, Tail, WindLimit,
};
pub use crate::machine::derrick::{Auger, Derrick, PoleGuides};
pub use crate::machine::{BoomSection, Method};
pub use circuit::{Circuit, Grounding, NeutralHere, Phases, VoltageStated};
pub use measured::{Measurement, WireMeasured};

use crate::bracket::Bracket;
use crate::finding::{Fact, Finding};
use crate::machine::StandingLift;
use glam::DVec3;

#[derive(Clone, Debug, PartialEq)]
pub struct Site {
    pub name: String,
    /// What the scene teaches or is for, one or two sentences; may be empty.
    pub about: String,
    /// Meters above mean sea level.
    pub altitude_m: f64,
    pub job: Job,
    /// Everybody whom answers and places refer to by name.
    pub people: Vec<crew::Member>,
    pub basis: Basis,
    pub circuits: Vec<Circuit>,
    pub wires: Vec<Wire>,
    /// Wires that the scene lists as jumpers, service drops or guys: none of them carries its circuit past the hole.
    pub branch_wires: Vec<usize>,
    pub weather: Vec<Weather>,
    /// The wind at which the crew stops work.
    pub stop_work_wind: Option<WindLimit>,
    pub held_out: Vec<HeldOut>,
    pub holding_trucks: Vec<HoldingTruck>,
    pub pole: Pole,
    pub hole: Hole,
    pub rigging: Rigging,
    pub crane: Crane,
    /// The machines that stand beside the one that lifts.
    pub lifts: Vec<StandingLift>,
    /// The scene says that no bucket truck is used; its words are in `declared_absent`.
    pub lifts_absent: bool,
    pub covers: Vec<Cover>,
    pub allowances: Allowances,
    pub steps: Vec<Step>,
    /// Without it the ground is taken flat at the hole's elevation.
    pub terrain: Option<ground::Terrain>,
    /// `None` when the scene neither states any nor says that there are none.
    pub neighbours: Option<ground::Neighbours>,
    pub roads: Vec<ground::Road>,
    /// What the scene says is not there ("service drops: none within 40 ft of the work, walked on …").
    pub declared_absent: Vec<String>,
}

impl Site {
    /// The person of this name, whatever its case and spaces.
    pub fn member(&self, name: &str) -> Option<&crew::Member> {
        let plain = |name: &str| name.trim().to_lowercase();
        self.people.iter().find(|member| plain(&member.name) == plain(name))
    }

    /// What people call a lift: "the bucket truck", or where there are several the name that it has in the scene.
    pub fn lift_called(&self, lift: usize) -> String {
        let Some(standing) = self.lifts.get(lift) else { return "?".to_owned() };
        match &standing.name {
            Some(name) if self.lifts.len() > 1 => name.clone(),
            _ => format!("the {}", standing.facts().called),
        }
    }

    /// The name of a lift's body: the body's own, after the lift's where there are several.
    pub fn lift_body_name(&self, lift: usize, body: &str) -> String {
        match self.lifts.get(lift).and_then(|standing| standing.name.as_ref()) {
            Some(name) if self.lifts.len() > 1 => format!("{name} {body}"),
            _ => body.to_owned(),
        }
    }

    /// A finding about a lift, with the lift's name where there are several.
    pub fn of_lift(&self, lift: usize, mut finding: Finding) -> Finding {
        if self.lifts.len() > 1 {
            finding.fact = Fact::OfLift { lift: self.lift_called(lift), by: Box::new(finding.fact) };
        }
        finding
    }

    /// Whether a lift is insulated for every circuit of the site.
    pub fn is_insulated(&self, lift: usize) -> bool {
        let voltages = self.circuits.iter().map(|circuit| circuit.voltage_v);
        self.lifts.get(lift).is_some_and(|standing| standing.is_insulated_for(voltages))
    }
}

// ------------------------------------------------------------------------------------------------------------ wires

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WireKind {
    Phase { circuit: usize },
    Neutral { circuit: usize },
    Communication,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Wire {
    pub name: String,
    pub kind: WireKind,
    pub conductor: Conductor,
    /// In order along the line; the end of one is the start of the next.
    pub spans: Vec<Span>,
    /// How the wire is fixed where each span starts, and where the last one ends; what is missing is unknown.
    pub attached: Vec<Attachment>,
    /// What of it somebody measured.
    pub measured: WireMeasured,
}

/// Whether a wire that is pulled harder on one side of its support can run through it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Attachment {
    /// Either may be.
    Unknown,
    /// Tied or clamped to an insulator that stands: it does not run through.
    Tied,
    /// Untied, in a sheave or in a loose tie.
    Sliding,
    /// The wire ends there.
    DeadEnd,
}

impl Attachment {
    pub fn holds(self) -> bool {
        matches!(self, Self::Tied | Self::DeadEnd)
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct Conductor {
    pub name: String,
    pub diameter_m: f64,
    pub weight_n_per_m: f64,
    pub rated_strength_n: Option<f64>,
    /// E·A for stretch when a phase is held out; without it the conductor is taken as inextensible (tension errs high).
    pub stiffness_n: Option<f64>,
    /// By what share `stiffness_n` may be off, beyond what is allowed for in every published modulus.
    pub stiffness_doubt: f64,
    /// How it takes heat, for a span hung from stringing data.
    pub metal: Option<Metal>,
    pub source: String,
    /// Figures that are recalled and were not seen in a published table; empty when there are none.
    pub from_memory: String,
}

/// How a new scene leaves it open who looked for what is not near. It states nothing.
pub const OPEN_ABSENCE: &str = "who looked, when, how far";

impl Conductor {
    /// [`Self::stiffness_n`] where it is known well enough to say how far a held-out wire stretches.
    pub fn known_stiffness_n(&self) -> Option<f64> {
        self.stiffness_n.filter(|_| self.stiffness_doubt == 0.0)
    }
}

/// How a conductor takes heat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Metal {
    /// Of the whole conductor, per kelvin.
    pub expansion_per_k: f64,
    pub core: Core,
}

/// What still pulls when the aluminum has gone slack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Core {
    /// One metal: there is nothing to go slack.
    OneMetal,
    /// The core by itself.
    Alone { stiffness_n: f64, expansion_per_k: f64 },
}

#[derive(Clone, Debug, PartialEq)]
pub struct Span {
    pub from: DVec3,
    pub to: DVec3,
    pub hang: Hang,
}

/// What is known of how a span hangs in still air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Hang {
    /// Vertical, from the chord, at midspan; measured low … high.
    Sag { sag_m: Bracket },
    /// Horizontal tension.
    Tension { tension_n: Bracket },
    /// As it was strung, with today's temperature and ice.
    Strung(Strung),
}

impl Hang {
    /// What is on the wire today; `None` is none that is not already in the measured sag.
    pub fn ice(&self) -> Option<&Ice> {
        match self {
            Self::Strung(strung) => strung.ice.as_ref(),
            Self::Sag { .. } | Self::Tension { .. } => None,
        }
    }
}

/// How a span was strung, and what has come since.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strung {
    /// Of the bare wire in still air, then.
    pub known: Stringing,
    /// Of the conductor, then.
    pub temperature_k: Bracket,
    /// Permanent elongation since, as a ratio; zero when the data are of the final condition.
    pub elongation: Bracket,
    pub ruling: Ruling,
    /// Of the conductor, today.
    pub today_k: Bracket,
    /// The aluminum certainly carries its share at and below this temperature of the conductor; unless stated, at and
    /// below that of stringing.
    pub knee_k: Option<f64>,
    pub ice: Option<Ice>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stringing {
    /// Horizontal, the same in all spans of the section.
    Tension { tension_n: Bracket },
    /// Vertical, from the chord of this span, at midspan.
    Sag { sag_m: Bracket },
}

/// Which spans share their tension.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Ruling {
    /// This span is dead-ended at both ends.
    Alone,
    /// The section's ruling span.
    Span { length_m: f64 },
    /// The section's spans, all of them known.
    Section { ruling_m: f64, shortest_m: f64, longest_m: f64 },
}

impl Ruling {
    /// √(Σ L³ / Σ L). Source: the parabola's slack, w²·L³/(24·H²), summed over spans of one H.
    pub fn of(spans_m: &[f64]) -> Self {
        let sum = |power: i32| spans_m.iter().map(|span| span.powi(power)).sum::<f64>();
        Self::Section {
            ruling_m: (sum(3) / sum(1)).sqrt(),
            shortest_m: spans_m.iter().copied().fold(f64::INFINITY, f64::min),
            longest_m: spans_m.iter().copied().fold(0.0, f64::max),
        }
    }
}

/// Radial ice.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ice {
    pub thickness_m: Bracket,
    pub density_kg_m3: Bracket,
}

/// A case that names part of the family of curves.
#[derive(Clone, Debug, PartialEq)]
pub struct Weather {
    pub name: String,
    /// Meters per second, from either side; 0 for still air.
    pub wind_m_s: f64,
}

/// A phase moved aside and held at a point.
#[derive(Clone, Debug, PartialEq)]
pub struct HeldOut {
    pub name: String,
    pub wire: usize,
    pub span: usize,
    /// Horizontal fraction of the span at which it is taken hold of.
    pub fraction: f64,
    /// Where it is held.
    pub to: DVec3,
    /// The most side force that the holding arm is rated for, if stated.
    pub holder_rating_n: Option<f64>,
    /// What holds it, if stated.
    pub holder: Option<Holder>,
    pub during: During,
}

/// From the end of the step that puts something on (or before the first step) to the start of the step that takes it
/// off (or never, within this sequence).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct During {
    pub on_after_step: Option<usize>,
    pub off_before_step: Option<usize>,
}

/// Whether something that is put on and taken off by steps is there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Presence {
    Absent,
    /// Being put on or taken off: everything between its two states counts.
    Changing,
    Present,
}

impl During {
    /// What there is of it while this step is done. Put on no sooner than it is taken off, it may be anywhere at any time.
    pub fn presence(&self, step: usize) -> Presence {
        match (self.on_after_step, self.off_before_step) {
            (Some(on), Some(off)) if on >= off => Presence::Changing,
            (Some(on), _) if step == on => Presence::Changing,
            (_, Some(off)) if step == off => Presence::Changing,
            (Some(on), _) if step < on => Presence::Absent,
            (_, Some(off)) if step > off => Presence::Absent,
            _ => Presence::Present,
        }
    }

    /// It is there during the whole of a step.
    pub fn is_in_force(&self, step: usize) -> bool {
        self.presence(step) == Presence::Present
    }
}

// ------------------------------------------------------------------------------------------------------------- pole

/// Heights along the pole are meters from the butt.
#[derive(Clone, Debug, PartialEq)]
pub struct Pole {
    pub name: String,
    pub length_m: f64,
    pub shell: Shell,
    /// The maker's figures, which hold over computed ones.
    pub maker: Option<MakerMass>,
    pub items: Vec<PoleItem>,
    pub setting_depth_m: f64,
    /// Why it sets shallower than published.
    pub shallow: Option<Shallow>,
    /// Where the shell narrows to a joint that is not locked, meters from the butt.
    pub unlocked_joints_m: Vec<f64>,
    /// Figures that are recalled and were not seen in a published table; empty when there are none.
    pub from_memory: String,
}

/// Why a pole sets shallower in the ground than published for soil.
#[derive(Clone, Debug, PartialEq)]
pub enum Shallow {
    /// The hole is in solid rock, as somebody saw.
    Rock(Measurement),
    /// An engineer sets the depth.
    Engineer { by: String, document: String },
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MakerMass {
    pub mass_kg: f64,
    pub balance_from_butt_m: f64,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Shell {
    /// Butt section first; each next one slips over the one below by its `lap_m`.
    SteelTube {
        sides: Sides,
        sections: Vec<TubeSection>,
    },
    Wood {
        top_circumference_m: f64,
        circumference_at_6_ft_m: f64,
        density_kg_m3: Bracket,
        oversize: f64,
    },
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sides {
    Round,
    Eight,
    Twelve,
    Sixteen,
}

#[derive(Clone, Debug, PartialEq)]
pub struct TubeSection {
    pub length_m: f64,
    /// Outside, across flats.
    pub bottom_m: f64,
    pub top_m: f64,
    pub wall_m: f64,
    /// How far it slips over the section below; 0 for the butt section.
    pub lap_m: f64,
}

/// Something fixed to the pole when it is lifted: hardware, an arm, cover. Its shape is a capsule in the pole's frame:
/// z from the butt along the axis, x the way the pole faces, y to its left.
#[derive(Clone, Debug, PartialEq)]
pub struct PoleItem {
    pub name: String,
    pub mass_kg: f64,
    pub from: DVec3,
    pub to: DVec3,
    pub radius_m: f64,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Hole {
    /// Center at ground level.
    pub at: DVec3,
    /// Way the pole must face when set, radians counterclockwise from east.
    pub facing: f64,
    pub depth_m: f64,
    pub diameter_m: f64,
}

// ------------------------------------------------------------------------------------------------- --------- rigging

#[derive(Clone, Debug, PartialEq)]
pub struct Rigging {
    pub choker_from_butt_m: f64,
    /// The face the choker bears on, radians from the way the pole faces.
    pub choker_face: f64,
    /// From the hook's bearing point to the choke.
    pub length_m: f64,
    pub diameter_m: f64,
    pub mass_kg: f64,
    /// Rated in a choker hitch.
    pub choker_capacity_kg: f64,
    /// Angle of choke, radians, when stated.
    pub choke_angle: Option<f64>,
    /// Who measured the angle of choke on this sling.
    pub choke_measured: Option<Measurement>,
    pub material: RiggingMaterial,
    /// A stop bolt, cleat or fitting above the choke on smooth tube.
    pub stop_above_choke: bool,
    /// The most that the butt is held with by hands or tag line, if stated.
    pub tag_line_hold_n: Option<f64>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RiggingMaterial {
    WireRope,
    NonConductive,
}

// ------------------------------------------------------------------------------------------------------------ covers

#[derive(Clone, Debug, PartialEq)]
pub struct Cover {
    pub name: String,
    pub on: CoverOn,
    pub make: CoverMake,
    pub piece_length_m: f64,
    /// How far each piece laps the next.
    pub overlap_m: f64,
    /// Of all its pieces; what a pole wears hangs with it.
    pub mass_kg: Option<f64>,
    pub method: Method,
    /// What protects the hands that handle it.
    pub hands: Option<String>,
    pub during: During,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CoverOn {
    /// Meters along the line from the point abeam the hole, positive toward the last support.
    Wire { wire: usize, station_m: Bracket },
    /// Meters from the butt.
    Pole { from_butt_m: Bracket },
}

/// Rubber by ASTM D120/D1048/D1049/D1050 class, plastic guard by ASTM F712 class, or what the planner's own catalog rates.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CoverMake {
    Rubber {
        class: u8,
    },
    Plastic {
        class: u8,
    },
    /// Whole volts, rounded down.
    Own {
        max_phase_phase_v: u32,
        max_phase_ground_v: u32,
    },
}

// -------------------------------------------------------------------------------------------------------- allowances

/// How well the world is known. A zero needs a reason.
#[derive(Clone, Debug, PartialEq)]
pub struct Allowances {
    /// Where the wires and the hole were surveyed to be.
    pub survey: Allowance,
    /// Where the crane really stands, and how exactly the operator stops.
    pub placing: Allowance,
    /// Boom deflection under load: everything that hangs or is boom.
    pub radius_growth: Allowance,
    /// Swing of the load at the hook.
    pub load_swing: Allowance,
    /// Swing added per meter along the pole away from the hook, as a ratio.
    pub load_swing_growth: Allowance,
    /// Movement of wires beyond the stated family.
    pub line_movement: Allowance,
    /// How far a pole's axis may be from the middle of closed pole guides.
    pub guide_play: Option<Allowance>,
    /// How far out of plumb a pole may be in the guides, per meter along it from them, wind included, as a ratio.
    pub guide_lean: Option<Allowance>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Allowance {
    /// Meters, or a ratio for `load_swing_growth`.
    pub value: f64,
    pub reason: String,
}

// ---------------------------------------------------------------------------------------------------------- sequence

#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    pub name: String,
    pub action: Action,
    /// Combined motion, of a carry or of booming away: proven over the whole box of the joints that move. Otherwise one
    /// joint at a time, in the order that the action names.
    pub combined: bool,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Action {
    /// First step only: the hook hangs plumb over this point (the choke of the pole as it lies, unless stated), with
    /// this boom length; the pole lies with its butt at `butt` and its axis toward `tip_toward`.
    Start {
        butt: DVec3,
        tip_toward: DVec3,
        boom_length_m: f64,
    },
    /// The pole hangs on the hook from here on.
    TakeLoad,
    /// The hoist raises the choke until the pole hangs; the butt slides on the ground under the hook.
    Upend,
    /// Hoist or lower until the butt (or, without load, the hook) is at this height above the ground at the hole.
    HoistTo {
        height_m: f64,
    },
    LowerTo {
        height_m: f64,
    },
    /// Swing until the load's plumb line has the bearing of this point from the slew axis, the shorter way.
    SwingToward {
        point: DVec3,
    },
    /// Boom up or down until the load's plumb line has this radius from the slew axis; length kept.
    BoomToRadius {
        radius_m: f64,
    },
    /// Boom up or down until it has the radius of this point.
    BoomOver {
        point: DVec3,
    },
    /// The hanging pole to this point, its butt at this height above the ground at the hole: hoist if the butt is lower,
    /// swing the load's plumb line toward the point, boom it over the point, hoist or lower to the height.
    Carry {
        point: DVec3,
        height_m: f64,
    },
    Extend {
        boom_length_m: f64,
    },
    /// Turn the pole about its axis until it faces this way, radians counterclockwise from east.
    Turn {
        facing: f64,
    },
    /// Nothing moves until the question is answered with yes.
    Hold {
        question: String,
    },
    /// The auger over the hole and out of the ground again: swing its pin toward the hole, boom up until it can hang, let it
    /// down plumb, boom down over the hole and into the ground, back up, stow it.
    Dig {
        depth_m: f64,
    },
    /// The hanging pole is hoisted or lowered until the guides are at this height from its butt, drawn in and held plumb. From
    /// here to release it moves with the boom's tip, along which the winch line raises and lowers it.
    IntoGuides {
        from_butt_m: f64,
    },
    /// Somebody puts covers or holds phases out; nothing of the crane moves.
    Work {
        minutes: f64,
    },
    /// The pole stands by itself; the hook is free.
    Release,
    /// Boom up or down and swing until the hook's radius and bearing are those of this point, hook raised first.
    BoomAway {
        point: DVec3,
        hook_height_m: f64,
    },
    /// The bucket to a place, one control at a time; nothing of the crane moves.
    BucketTo(pose::BucketPose),
    /// A lift's booms back to their rest.
    BucketStow {
        lift: usize,
    },
}
