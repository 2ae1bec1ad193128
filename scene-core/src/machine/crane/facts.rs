//! The crane as its maker made it and as it stands here. Meters, radians, kilograms, newtons.

use crate::bracket::Bracket;
use crate::machine::derrick::Derrick;
use crate::machine::{BoomSection, Carrier, Floats};
use glam::DVec3;

#[derive(Clone, Debug, PartialEq)]
pub struct Crane {
    pub name: String,
    /// The slew axis at ground level.
    pub at: DVec3,
    /// The way the carrier's front points, radians counterclockwise from east; swing 0 is over the front.
    pub heading: f64,
    /// Foot pin: horizontal offset from the slew axis (negative: behind it, away from the boom) and height above ground.
    pub foot_offset_m: f64,
    pub foot_height_m: f64,
    /// Base section first.
    pub sections: Vec<BoomSection>,
    pub boom_length_m: Bracket,
    pub boom_angle: Bracket,
    /// Counterclockwise from the front; the whole circle when 2π wide.
    pub swing: Bracket,
    pub head: BoomHead,
    pub block: HookBlock,
    /// Least distance from the head sheave's center to the hook block's top.
    pub two_block_m: f64,
    pub tail: Tail,
    pub parts_of_line: u32,
    /// Per part.
    pub line_pull_n: f64,
    /// Weight of hoist line per meter of one part.
    pub line_kg_per_m: f64,
    pub line_diameter_m: f64,
    pub rates: Rates,
    /// How long the operator takes to bring a motion up to its rate, and to stop it, seconds; when stated.
    pub ramp_s: Option<f64>,
    /// The wind up to which the maker lets it work.
    pub wind_limit: Option<WindLimit>,
    pub chart: Chart,
    /// What makes a digger derrick of it.
    pub derrick: Option<Derrick>,
    /// What it stands on, when its maker's figures are known.
    pub carrier: Option<Carrier>,
    /// What its floats carry and stand on, when stated.
    pub outriggers: Option<Outriggers>,
}

/// A wind at which something ends, and who or what says so.
#[derive(Clone, Debug, PartialEq)]
pub struct WindLimit {
    /// Meters per second.
    pub wind_m_s: f64,
    /// The document or the person.
    pub source: String,
}

/// Between floats, center to center, meters: along the carrier and across it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FloatSpread {
    pub along_m: f64,
    pub across_m: f64,
}

/// Where the floats stand, what presses on them besides the load, and what bears them.
#[derive(Clone, Debug, PartialEq)]
pub struct Outriggers {
    /// From the slew axis, level, in the carrier's frame: to both front floats, both rear, both left, both right.
    pub front_m: f64,
    pub rear_m: f64,
    pub left_m: f64,
    pub right_m: f64,
    /// All that does not turn, its center this far ahead of the slew axis.
    pub carrier_kg: f64,
    pub carrier_ahead_m: f64,
    /// All that turns but the boom, counterweight included; its center this far behind the slew axis, away from the boom.
    pub upper_kg: f64,
    pub upper_behind_m: f64,
    /// The boom with its head, its center along its axis from the foot pin, retracted and extended.
    pub boom_kg: f64,
    pub boom_centre_m: [f64; 2],
    /// Of the mat under each float.
    pub mat_long_m: f64,
    pub mat_wide_m: f64,
    /// What the ground is stated to bear.
    pub bearing_pa: f64,
    /// Who says so.
    pub source: String,
    pub leveling: Leveling,
}

/// How the crane is leveled, as far as it is stated. Levels are rise over run.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Leveling {
    /// How true the crew sets it.
    pub set_to: Option<f64>,
    /// How far out of level the chart holds.
    pub chart_limit: Option<f64>,
    /// The most jack stroke and blocking that there is under one float.
    pub blocking_m: Option<f64>,
}

impl Outriggers {
    pub fn floats(&self) -> Floats {
        Floats {
            front_m: self.front_m,
            rear_m: self.rear_m,
            left_m: self.left_m,
            right_m: self.right_m,
            mat_long_m: self.mat_long_m,
            mat_wide_m: self.mat_wide_m,
        }
    }
}

/// The sheave the line leaves from, from the boom's tip: along the boom, and below its axis.
#[derive(Clone, Debug, PartialEq)]
pub struct BoomHead {
    pub along_m: f64,
    pub below_m: f64,
    pub sheave_radius_m: f64,
    /// Radius of a ball about the sheave's center that holds the head.
    pub radius_m: f64,
}

#[derive(Clone, Debug, PartialEq)]
pub struct HookBlock {
    /// From its top to the hook's bearing point.
    pub length_m: f64,
    pub radius_m: f64,
    pub mass_kg: f64,
    pub capacity_kg: f64,
}

/// The counterweight's sweep.
#[derive(Clone, Debug, PartialEq)]
pub struct Tail {
    pub radius_m: f64,
    pub half_width_m: f64,
    pub from_height_m: f64,
    pub to_height_m: f64,
}

/// The maker's rates, the fastest the operator may use in this job.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rates {
    pub swing_rad_s: f64,
    pub boom_rad_s: f64,
    pub extend_m_s: f64,
    pub hoist_m_s: f64,
    pub turn_rad_s: f64,
}

/// Rated loads by sector, boom length and radius. A missing cell is outside the chart.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    pub source: String,
    pub sectors: Vec<ChartSector>,
    /// What the chart makes the user deduct besides hook block and rigging (stowed jib …).
    pub deductions_kg: f64,
    /// The spread of the floats that the chart was made for, when stated.
    pub floats: Option<FloatSpread>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct ChartSector {
    pub name: String,
    /// Swing angles, counterclockwise from the front.
    pub swing: Bracket,
    /// Ascending.
    pub boom_lengths_m: Vec<f64>,
    /// Ascending.
    pub radii_m: Vec<f64>,
    /// `rated_kg[radius][length]`.
    pub rated_kg: Vec<Vec<Option<f64>>>,
}
