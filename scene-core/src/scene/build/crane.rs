//! The machine, from the catalog or the scene, and how it stands.

use super::{Build, bracket, direction, point, same_length, sector};
use crate::catalog;
use crate::quantity::unit::{Angle, Dimension};
use crate::quantity::{Quantity, Range};
use crate::scene::beside;
use crate::scene::crane::{BoomSection, Chart, ChartSector, Crane, Derrick, InsulatedTip, Machine, Outriggers, Rates};
use crate::scene::fault::{FaultKind, Faults, Places, nearest};
use crate::scene::part::{Part, Reading};
use crate::scene::reader::read_tree;
use crate::site;
use std::f64::consts::TAU;

pub(super) fn crane(build: &mut Build<'_>) -> site::Crane {
    let crane = &build.scene.crane;
    let machine = machine(build, crane);
    if crane.machine.is_some() {
        check_machine(build, &machine);
    }
    check_rates(build, &crane.rates, &machine.rates);
    let chart = crane.chart.as_ref().and_then(|stated| beside::chart(stated, &build.scene.beside, build.faults));
    site_crane(crane, &machine, chart.as_ref().unwrap_or(&machine.chart))
}

/// The machine that stands in the scene, or the catalog's of that name.
fn machine(build: &mut Build<'_>, crane: &Crane) -> Machine {
    match (&crane.model, &crane.machine) {
        (None, Some(machine)) => machine.clone(),
        (Some(name), None) => match catalog::crane(name) {
            Some((file, text)) => match read_machine(file, text) {
                Ok(machine) => machine,
                Err(faults) => {
                    build.faults.absorb(faults);
                    Machine::default()
                }
            },
            None => {
                if !name.is_empty() {
                    let nearest = nearest(name, catalog::crane_names());
                    build.fault(
                        "crane.model",
                        FaultKind::NotInCatalog { what: "a crane", found: name.clone(), nearest },
                    );
                }
                Machine::default()
            }
        },
        (model, _) => {
            let kind = FaultKind::NotExactlyOne { of: ["model", "machine"], both: model.is_some() };
            build.fault("crane", kind);
            Machine::default()
        }
    }
}

/// A machine of the catalog, which is a document of its own.
pub(super) fn read_machine<M: Part>(file: &str, text: &str) -> Result<M, Faults> {
    let mut faults = Faults::new(file, Places::default());
    match read_tree(text) {
        Ok(node) => {
            let mut at = Reading::new(faults);
            let machine = M::read(&node, &mut at);
            if at.faults.is_empty() { Ok(machine) } else { Err(at.faults) }
        }
        Err((place, kind)) => {
            faults.add_at(place, "", kind);
            Err(faults)
        }
    }
}

fn check_machine(build: &mut Build<'_>, machine: &Machine) {
    check_sections(build, machine);
    if let Some(derrick) = &machine.derrick {
        let (flight, whole) = (&derrick.auger.flight_length, &derrick.auger.length);
        ascending(build, [flight, whole].into_iter(), |_| "crane.machine.derrick.auger.length".to_owned());
        let (bar, flight) = (&derrick.auger.bar_diameter, &derrick.auger.flight_diameter);
        ascending(build, [bar, flight].into_iter(), |_| "crane.machine.derrick.auger.flight_diameter".to_owned());
    }
    check_circle(build, "crane.machine.swing", &machine.swing);
    let (from, to) = (&machine.tail.from_height, &machine.tail.to_height);
    ascending(build, [from, to].into_iter(), |_| "crane.machine.tail.to_height".to_owned());
    let sectors = &machine.chart.sectors;
    build.names("crane.machine.chart.sectors", "the sector", sectors.iter().map(|sector| sector.name.as_str()));
    for (i, sector) in sectors.iter().enumerate() {
        check_sector(build, &format!("crane.machine.chart.sectors[{i}]"), sector);
    }
}

fn check_sections(build: &mut Build<'_>, machine: &Machine) {
    let at = |i: usize, field: &str| format!("crane.machine.sections[{i}].{field}");
    let sections = &machine.sections;
    ascending(build, sections.iter().map(|section| &section.tip_retracted), |i| at(i, "tip_retracted"));
    ascending(build, sections.iter().map(|section| &section.tip_extended), |i| at(i, "tip_extended"));
    let agree = |build: &mut Build<'_>, path: &str, tip: &Quantity<_>, with: f64, expected: &str| {
        build.fault_if(!same_length(tip.si(), with) && tip.si().is_finite() && with.is_finite(), path, || {
            FaultKind::BoomDisagrees { found: tip.said().to_owned(), expected: expected.to_owned() }
        });
    };
    if let Some(base) = sections.first() {
        let expected = "the base section's tip where it is retracted";
        agree(build, &at(0, "tip_extended"), &base.tip_extended, base.tip_retracted.si(), expected);
    }
    if let (Some(last), Some(i)) = (sections.last(), sections.len().checked_sub(1)) {
        let (low, high) = (machine.boom_length.low(), machine.boom_length.high());
        agree(
            build,
            &at(i, "tip_retracted"),
            &last.tip_retracted,
            low,
            "the low end of boom_length for the last section",
        );
        agree(
            build,
            &at(i, "tip_extended"),
            &last.tip_extended,
            high,
            "the high end of boom_length for the last section",
        );
    }
    for (i, pair) in sections.windows(2).enumerate() {
        let [before, section] = pair else { continue };
        let out = |tip: f64, tip_before: f64| tip - section.length.si() >= tip_before;
        let out = out(section.tip_retracted.si(), before.tip_retracted.si())
            || out(section.tip_extended.si(), before.tip_extended.si());
        build.fault_if(out, &at(i + 1, "length"), || FaultKind::SectionSlidesOut {
            section: format!("section {}", i + 2),
        });
    }
}

fn check_sector(build: &mut Build<'_>, path: &str, sector: &ChartSector) {
    check_circle(build, &format!("{path}.swing"), &sector.swing);
    ascending(build, sector.boom_lengths.iter(), |i| format!("{path}.boom_lengths[{i}]"));
    ascending(build, sector.rows.iter().map(|row| &row.radius), |i| format!("{path}.rows[{i}].radius"));
    let expected = sector.boom_lengths.len();
    for (i, row) in sector.rows.iter().enumerate() {
        let found = row.rated.len();
        let wrong = found != expected && found > 0 && expected > 0;
        build.fault_if(wrong, &format!("{path}.rows[{i}].rated"), || FaultKind::RowLength { found, expected });
    }
}

pub(super) fn check_circle(build: &mut Build<'_>, path: &str, swing: &Range<Angle>) {
    build.fault_if(swing.high() - swing.low() > TAU + 1e-9, path, || FaultKind::MoreThanACircle {
        found: swing.said().to_owned(),
    });
}

/// Each is more than the one before it.
pub(super) fn ascending<'q, D: Dimension + 'q>(
    build: &mut Build<'_>,
    values: impl Iterator<Item = &'q Quantity<D>>,
    path: impl Fn(usize) -> String,
) {
    let mut before: Option<&Quantity<D>> = None;
    for (i, value) in values.enumerate() {
        if let Some(before) = before {
            build.fault_if(value.si() <= before.si(), &path(i), || FaultKind::NotAscending {
                found: value.said().to_owned(),
                before: before.said().to_owned(),
            });
        }
        before = Some(value);
    }
}

/// No faster than the maker's.
pub(super) fn slower<D: Dimension>(build: &mut Build<'_>, path: &str, job: &Quantity<D>, maker: &Quantity<D>) {
    build.fault_if(job.si() > maker.si() * (1.0 + 1e-9), path, || FaultKind::FasterThanMaker {
        found: job.said().to_owned(),
        maker: maker.said().to_owned(),
    });
}

fn check_rates(build: &mut Build<'_>, job: &Rates, maker: &Rates) {
    slower(build, "crane.rates.swing", &job.swing, &maker.swing);
    slower(build, "crane.rates.boom", &job.boom, &maker.boom);
    slower(build, "crane.rates.extend", &job.extend, &maker.extend);
    slower(build, "crane.rates.hoist", &job.hoist, &maker.hoist);
}

fn site_crane(crane: &Crane, machine: &Machine, chart: &Chart) -> site::Crane {
    let extension = machine.boom_length.high() - machine.boom_length.low();
    let section = |section: &BoomSection| {
        let moved = section.tip_extended.si() - section.tip_retracted.si();
        site::BoomSection {
            length_m: section.length.si(),
            width_m: section.width.si(),
            depth_m: section.depth.si(),
            extension_share: if extension > 0.0 { moved / extension } else { 0.0 },
            tip_retracted_m: section.tip_retracted.si(),
        }
    };
    site::Crane {
        name: machine.name.clone(),
        at: point(&crane.at),
        heading: direction(&crane.heading),
        foot_offset_m: machine.foot_offset.si(),
        foot_height_m: machine.foot_height.si(),
        sections: machine.sections.iter().map(section).collect(),
        boom_length_m: bracket(&machine.boom_length),
        boom_angle: bracket(&machine.boom_angle),
        swing: sector(&machine.swing),
        head: site::BoomHead {
            along_m: machine.head.along.si(),
            below_m: machine.head.below.si(),
            sheave_radius_m: machine.head.sheave_radius.si(),
            radius_m: machine.head.radius.si(),
        },
        block: site::HookBlock {
            length_m: machine.block.length.si(),
            radius_m: machine.block.radius.si(),
            mass_kg: machine.block.mass.si(),
            capacity_kg: machine.block.capacity.si(),
        },
        two_block_m: machine.two_block.si(),
        tail: site::Tail {
            radius_m: machine.tail.radius.si(),
            half_width_m: machine.tail.half_width.si(),
            from_height_m: machine.tail.from_height.si(),
            to_height_m: machine.tail.to_height.si(),
        },
        parts_of_line: crane.parts_of_line,
        line_pull_n: machine.line_pull.si(),
        line_kg_per_m: machine.line_weight.si() / crate::quantity::unit::GRAVITY,
        line_diameter_m: machine.line_diameter.si(),
        rates: site::Rates {
            swing_rad_s: crane.rates.swing.si(),
            boom_rad_s: crane.rates.boom.si(),
            extend_m_s: crane.rates.extend.si(),
            hoist_m_s: crane.rates.hoist.si(),
            turn_rad_s: crane.turn.si(),
        },
        chart: site::Chart {
            source: chart.source.clone(),
            sectors: chart.sectors.iter().map(chart_sector).collect(),
            deductions_kg: chart.deductions.si(),
        },
        derrick: machine.derrick.as_ref().map(derrick),
        outriggers: crane.outriggers.as_ref().map(outriggers),
    }
}

fn outriggers(written: &Outriggers) -> site::Outriggers {
    site::Outriggers {
        front_m: written.front.si(),
        rear_m: written.rear.si(),
        left_m: written.left.si(),
        right_m: written.right.si(),
        carrier_kg: written.carrier.si(),
        carrier_ahead_m: written.carrier_ahead.si(),
        upper_kg: written.upper.si(),
        upper_behind_m: written.upper_behind.si(),
        boom_kg: written.boom.si(),
        boom_centre_m: [written.boom_centre_retracted.si(), written.boom_centre_extended.si()],
        mat_long_m: written.mat_long.si(),
        mat_wide_m: written.mat_wide.si(),
        bearing_pa: written.bearing.si(),
        source: written.source.clone(),
    }
}

fn derrick(written: &Derrick) -> site::Derrick {
    let (guides, auger) = (&written.guides, &written.auger);
    site::Derrick {
        guides: site::PoleGuides {
            along_m: guides.along.si(),
            below_m: guides.below.si(),
            reach_m: guides.reach.si(),
            catch_m: guides.catch.si(),
            width_m: guides.width.si(),
            height_m: guides.height.si(),
            beyond_m: guides.beyond.si(),
            holds_m: bracket(&guides.holds),
            tilt: bracket(&guides.tilt),
        },
        auger: site::Auger {
            along_m: auger.along.si(),
            below_m: auger.below.si(),
            left_m: auger.left.si(),
            length_m: auger.length.si(),
            flight_length_m: auger.flight_length.si(),
            flight_radius_m: auger.flight_diameter.si() / 2.0,
            bar_radius_m: auger.bar_diameter.si() / 2.0,
            most_lean: auger.most_lean.si(),
        },
        insulated_tip_m: match &written.insulated_tip {
            InsulatedTip::Absent => None,
            InsulatedTip::Known(length) => Some(length.si()),
        },
    }
}

fn chart_sector(written: &ChartSector) -> site::ChartSector {
    let row = |row: &crate::scene::crane::ChartRow| {
        row.rated.iter().map(|cell| cell.0.as_ref().map(|mass| mass.si())).collect()
    };
    site::ChartSector {
        name: written.name.clone(),
        swing: sector(&written.swing),
        boom_lengths_m: written.boom_lengths.iter().map(|length| length.si()).collect(),
        radii_m: written.rows.iter().map(|row| row.radius.si()).collect(),
        rated_kg: written.rows.iter().map(row).collect(),
    }
}
