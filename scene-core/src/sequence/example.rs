//! An invented site for the tests of sequence and motion: a 17 m steel pole, a four-section truck crane, a hole in line.

use crate::bracket::Bracket;
use crate::rigging::Hang;
use crate::site::*;
use glam::DVec3;
use std::f64::consts::{FRAC_PI_2, PI};

pub fn range(low: f64, high: f64) -> Bracket {
    Bracket::between(low, high).unwrap()
}

/// Leans away from the choker, 3 degrees.
pub fn hang() -> Hang {
    hang_at(0.052, 0.19)
}

/// Known exactly.
pub fn hang_at(tilt_rad: f64, choke_offset_m: f64) -> Hang {
    Hang {
        tilt_rad: Bracket::exactly(tilt_rad),
        choke_offset_m: Bracket::exactly(choke_offset_m),
        offset_m: Bracket::exactly(choke_offset_m),
        lever_m: Bracket::exactly(3.6),
        tip_leans: Bracket::exactly(PI),
    }
}

fn allowance(value: f64) -> Allowance {
    Allowance { value, reason: String::from("for the test") }
}

pub fn step(name: &str, action: Action) -> Step {
    Step { name: name.to_string(), action, combined: false }
}

/// Take the pole, stand it in the hole, boom away.
pub fn whole_sequence() -> Vec<Step> {
    let hole = DVec3::new(0.0, 9.0, 0.0);
    vec![
        step(
            "set up",
            Action::Start {
                butt: DVec3::new(9.0, -4.0, 0.0),
                tip_toward: DVec3::new(9.0, 10.0, 0.0),
                boom_length_m: 24.0,
            },
        ),
        step("take the load", Action::TakeLoad),
        step("upend", Action::Upend),
        step("hoist off the ground", Action::HoistTo { height_m: 2.0 }),
        step("swing to the hole", Action::SwingToward { point: hole }),
        step("boom over the hole", Action::BoomOver { point: hole }),
        step("face the line", Action::Turn { facing: 0.4 }),
        step("faced?", Action::Hold { question: String::from("Are the gains faced?") }),
        step("lower to the ground", Action::LowerTo { height_m: 0.1 }),
        step("set", Action::LowerTo { height_m: -2.2 }),
        step("backfill", Action::Work { minutes: 10.0 }),
        step("release", Action::Release),
        Step {
            name: String::from("boom away"),
            action: Action::BoomAway { point: DVec3::new(8.0, 3.0, 0.0), hook_height_m: 17.0 },
            combined: true,
        },
    ]
}

pub fn site(steps: Vec<Step>) -> Site {
    let section = |tip_retracted_m: f64, extension_share: f64, width_m: f64| BoomSection {
        length_m: tip_retracted_m,
        width_m,
        depth_m: width_m * 1.2,
        extension_share,
        tip_retracted_m,
    };
    let tube =
        |bottom_m: f64, top_m: f64, lap_m: f64| TubeSection { length_m: 9.0, bottom_m, top_m, wall_m: 0.006, lap_m };
    Site {
        name: String::from("example"),
        about: String::new(),
        altitude_m: 100.0,
        basis: Basis { route: Route::LineWork, arranged: vec![], own_distance_m: None, residual_gap_m: 0.1 },
        circuits: vec![],
        wires: vec![],
        weather: vec![],
        held_out: vec![],
        pole: Pole {
            name: String::from("55 ft steel"),
            length_m: 17.0,
            shell: Shell::SteelTube {
                sides: Sides::Twelve,
                sections: vec![tube(0.46, 0.36, 0.0), tube(0.38, 0.25, 1.0)],
            },
            maker: None,
            items: vec![PoleItem {
                name: String::from("arm"),
                mass_kg: 30.0,
                from: DVec3::new(0.2, -1.2, 16.0),
                to: DVec3::new(0.2, 1.2, 16.0),
                radius_m: 0.08,
            }],
            setting_depth_m: 2.2,
            unlocked_joints_m: vec![],
        },
        hole: Hole { at: DVec3::new(0.0, 9.0, 0.0), facing: 0.4, depth_m: 2.3, diameter_m: 0.9 },
        rigging: Rigging {
            choker_from_butt_m: 10.5,
            choker_face: 0.0,
            length_m: 1.5,
            diameter_m: 0.03,
            mass_kg: 15.0,
            choker_capacity_kg: 3000.0,
            choke_angle: 2.0,
            material: RiggingMaterial::WireRope,
            stop_above_choke: true,
            tag_line_hold_n: None,
        },
        crane: Crane {
            name: String::from("invented truck crane"),
            at: DVec3::new(0.0, 0.0, 0.0),
            heading: FRAC_PI_2,
            foot_offset_m: -1.4,
            foot_height_m: 2.6,
            sections: vec![
                section(10.0, 0.0, 0.6),
                section(10.2, 1.0 / 3.0, 0.52),
                section(10.4, 2.0 / 3.0, 0.44),
                section(10.6, 1.0, 0.36),
            ],
            boom_length_m: range(10.6, 32.0),
            boom_angle: range(-0.05, 1.4),
            swing: range(-PI, PI),
            head: BoomHead { along_m: 0.3, below_m: 0.4, sheave_radius_m: 0.2, radius_m: 0.6 },
            block: HookBlock { length_m: 0.7, radius_m: 0.25, mass_kg: 120.0, capacity_kg: 5000.0 },
            two_block_m: 0.9,
            tail: Tail { radius_m: 3.2, half_width_m: 1.2, from_height_m: 1.2, to_height_m: 2.6 },
            parts_of_line: 2,
            line_pull_n: 40_000.0,
            line_kg_per_m: 1.0,
            line_diameter_m: 0.016,
            rates: Rates { swing_rad_s: 0.05, boom_rad_s: 0.02, extend_m_s: 0.15, hoist_m_s: 0.3, turn_rad_s: 0.1 },
            chart: Chart { source: String::new(), sectors: vec![], deductions_kg: 0.0 },
            derrick: None,
            outriggers: None,
        },
        covers: vec![],
        allowances: Allowances {
            survey: allowance(0.15),
            placing: allowance(0.3),
            radius_growth: allowance(0.2),
            load_swing: allowance(0.25),
            load_swing_growth: allowance(0.01),
            line_movement: allowance(0.05),
            guide_play: None,
            guide_lean: None,
        },
        steps,
        terrain: None,
        neighbours: None,
        roads: Vec::new(),
        declared_absent: vec![],
        bucket_truck: None,
        bucket_truck_absent: false,
    }
}
