//! A small invented site for tests of rules and covers: phases A and B, a neutral, a strand, a 45 ft wood pole.

use super::items;
use crate::bracket::Bracket;
use crate::site::*;
use glam::DVec3;

/// Wires 0 and 1 are phases of circuit 0, wire 2 its neutral, wire 3 communication; every item is answered.
pub(crate) fn site(voltage_v: f64) -> Site {
    let zero = |reason: &str| Allowance { value: 0.0, reason: reason.into() };
    let mut site = Site {
        name: "rules".into(),
        about: String::new(),
        altitude_m: 200.0,
        basis: Basis { route: Route::LineWork, arranged: Vec::new(), own_distance_m: None, residual_gap_m: 0.1 },
        circuits: vec![Circuit { name: "feeder 4".into(), voltage_v, grounding: Grounding::EffectivelyGrounded }],
        wires: vec![
            wire("phase A", WireKind::Phase { circuit: 0 }, -1.0, 11.0),
            wire("phase B", WireKind::Phase { circuit: 0 }, 1.0, 11.0),
            wire("neutral", WireKind::Neutral { circuit: 0 }, 0.2, 9.0),
            wire("strand", WireKind::Communication, 0.2, 7.0),
        ],
        weather: vec![Weather { name: "still".into(), wind_m_s: 0.0 }],
        held_out: Vec::new(),
        pole: Pole {
            name: "45 ft wood".into(),
            length_m: 13.7,
            shell: Shell::Wood {
                top_circumference_m: 0.6,
                circumference_at_6_ft_m: 0.95,
                density_kg_m3: Bracket::exactly(900.0),
                oversize: 0.0,
            },
            maker: None,
            items: Vec::new(),
            setting_depth_m: 2.0,
            unlocked_joints_m: Vec::new(),
        },
        hole: Hole { at: DVec3::ZERO, facing: 0.0, depth_m: 2.0, diameter_m: 0.7 },
        rigging: Rigging {
            choker_from_butt_m: 8.0,
            choker_face: 0.0,
            length_m: 2.0,
            diameter_m: 0.02,
            mass_kg: 10.0,
            choker_capacity_kg: 2000.0,
            choke_angle: 2.1,
            material: RiggingMaterial::NonConductive,
            stop_above_choke: true,
            tag_line_hold_n: Some(200.0),
        },
        crane: Crane {
            name: "invented".into(),
            at: DVec3::new(0.0, -12.0, 0.0),
            heading: 0.0,
            foot_offset_m: -1.0,
            foot_height_m: 2.5,
            sections: Vec::new(),
            boom_length_m: Bracket::exactly(20.0),
            boom_angle: Bracket::exactly(1.0),
            swing: Bracket::exactly(0.0),
            head: BoomHead { along_m: 0.0, below_m: 0.3, sheave_radius_m: 0.2, radius_m: 0.5 },
            block: HookBlock { length_m: 1.0, radius_m: 0.3, mass_kg: 150.0, capacity_kg: 9000.0 },
            two_block_m: 1.0,
            tail: Tail { radius_m: 3.0, half_width_m: 1.2, from_height_m: 1.0, to_height_m: 3.0 },
            parts_of_line: 1,
            line_pull_n: 40_000.0,
            line_kg_per_m: 1.0,
            line_diameter_m: 0.016,
            rates: Rates { swing_rad_s: 0.05, boom_rad_s: 0.03, extend_m_s: 0.2, hoist_m_s: 0.3, turn_rad_s: 0.1 },
            chart: Chart { source: "invented".into(), sectors: Vec::new(), deductions_kg: 0.0 },
            derrick: None,
            outriggers: None,
        },
        covers: Vec::new(),
        allowances: Allowances {
            survey: zero("test"),
            placing: zero("test"),
            radius_growth: zero("test"),
            load_swing: zero("test"),
            load_swing_growth: zero("test"),
            line_movement: zero("test"),
            guide_play: None,
            guide_lean: None,
        },
        steps: Vec::new(),
        terrain: None,
        neighbours: None,
        roads: Vec::new(),
        declared_absent: Vec::new(),
        bucket_truck: None,
        bucket_truck_absent: false,
    };
    answer_all(&mut site);
    site
}

/// The same with wire 4, a phase of a second circuit.
pub(crate) fn with_second_circuit(first_v: f64, second_v: f64) -> Site {
    let mut site = site(first_v);
    site.circuits.push(Circuit {
        name: "feeder 5".into(),
        voltage_v: second_v,
        grounding: Grounding::EffectivelyGrounded,
    });
    site.wires.push(wire("phase A of feeder 5", WireKind::Phase { circuit: 1 }, -1.0, 13.0));
    site
}

/// Invented guides and auger.
pub(crate) fn derrick() -> Derrick {
    let between = |a: f64, b: f64| Bracket::exactly(a).hull(Bracket::exactly(b));
    Derrick {
        guides: PoleGuides {
            along_m: 0.1,
            below_m: 0.25,
            reach_m: 0.45,
            catch_m: 0.6,
            width_m: 1.0,
            height_m: 0.2,
            beyond_m: 0.3,
            holds_m: between(0.1, 0.6),
            tilt: between(0.05, 1.9),
        },
        auger: Auger {
            along_m: 6.0,
            below_m: 0.4,
            left_m: -0.3,
            length_m: 4.5,
            flight_length_m: 1.2,
            flight_radius_m: 0.35,
            bar_radius_m: 0.05,
            most_lean: 0.08,
        },
        insulated_tip_m: None,
    }
}

pub(crate) fn answer_all(site: &mut Site) {
    site.basis.arranged =
        items(site.basis.route).map(|item| Arranged { item: item.key.into(), how: "as planned".into() }).collect();
}

/// Two spans along x, from -60 to 40 m, supports level.
fn wire(name: &str, kind: WireKind, y: f64, z: f64) -> Wire {
    let hang = Hang::Sag { sag_m: Bracket::exactly(0.5) };
    let at = |x: f64| DVec3::new(x, y, z);
    Wire {
        name: name.into(),
        kind,
        conductor: Conductor {
            name: "1/0".into(),
            diameter_m: 0.01,
            weight_n_per_m: 2.1,
            rated_strength_n: None,
            stiffness_n: None,
            metal: None,
            source: "invented".into(),
        },
        attached: vec![],
        spans: vec![Span { from: at(-60.0), to: at(-20.0), hang }, Span { from: at(-20.0), to: at(40.0), hang }],
    }
}
