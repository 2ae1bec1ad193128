//! The bucket truck, from the catalog or the scene, how it stands here, and the poses of its bucket.

use super::crane::{ascending, check_circle, read_machine, slower};
use super::line::off_wire;
use super::{Build, bracket, counter_clockwise, direction, point, same_length, sector};
use crate::catalog;
use crate::quantity::unit::Angle;
use crate::quantity::{Quantity, Range};
use crate::scene::bucket::{BucketTo, BucketTruck, Insulation, Linkage, Machine, Rates, Stated};
use crate::scene::fault::{FaultKind, nearest};
use crate::site::bucket::{self as site, BucketAt, BucketPose};
use crate::site::{BoomSection, Wire, station};
use glam::DVec3;

/// The truck, or why there is none; neither when the scene says nothing.
pub(super) fn truck(build: &mut Build<'_>) -> (Option<site::BucketTruck>, Option<String>) {
    match &build.scene.bucket_truck {
        None => (None, None),
        Some(Stated::Absent(why)) => (None, Some(why.clone())),
        Some(Stated::Stands(truck)) => {
            let machine = machine(build, truck);
            if truck.machine.is_some() {
                check_machine(build, &machine);
            }
            check_rates(build, &truck.rates, &machine);
            (Some(site_truck(truck, &machine)), None)
        }
    }
}

/// A step that moves a bucket has one to move.
pub(super) fn needs_truck(build: &mut Build<'_>, path: &str) {
    let none = !matches!(build.scene.bucket_truck, Some(Stated::Stands(_)));
    build.fault_if(none, path, || FaultKind::Missing { field: "bucket_truck", of: "the scene" });
}

fn machine(build: &mut Build<'_>, truck: &BucketTruck) -> Machine {
    match (&truck.model, &truck.machine) {
        (None, Some(machine)) => machine.clone(),
        (Some(name), None) => match catalog::bucket_truck(name).map(|(file, text)| read_machine(file, text)) {
            Some(Ok(machine)) => machine,
            Some(Err(faults)) => {
                build.faults.absorb(faults);
                Machine::default()
            }
            None => {
                if !name.is_empty() {
                    let nearest = nearest(name, catalog::bucket_truck_names());
                    let kind = FaultKind::NotInCatalog { what: "a bucket truck", found: name.clone(), nearest };
                    build.fault("bucket_truck.model", kind);
                }
                Machine::default()
            }
        },
        (model, _) => {
            let kind = FaultKind::NotExactlyOne { of: ["model", "machine"], both: model.is_some() };
            build.fault("bucket_truck", kind);
            Machine::default()
        }
    }
}

// ---------------------------------------------------------------------------------------------------------- checks

fn check_machine(build: &mut Build<'_>, machine: &Machine) {
    let at = |field: &str| format!("bucket_truck.machine.{field}");
    check_circle(build, &at("slew"), &machine.slew);
    let (from, to) = (&machine.turret.from_height, &machine.turret.to_height);
    ascending(build, [from, to].into_iter(), |_| at("turret.to_height"));
    let sections = &machine.sections;
    ascending(build, sections.iter().map(|section| &section.tip_retracted), |i| {
        at(&format!("sections[{i}].tip_retracted"))
    });
    for (i, pair) in sections.windows(2).enumerate() {
        let [before, section] = pair else { continue };
        let out = section.tip_retracted.si() - section.length.si() >= before.tip_retracted.si()
            || section.tip_extended.si() - section.length.si() >= before.tip_extended.si();
        build.fault_if(out, &at(&format!("sections[{}].length", i + 1)), || FaultKind::SectionSlidesOut {
            section: format!("section {}", i + 2),
        });
    }
    let ends = sections.last().map(|last| {
        [
            ("tip_retracted", &last.tip_retracted, machine.length.low()),
            ("tip_extended", &last.tip_extended, machine.length.high()),
        ]
    });
    for (field, tip, length) in ends.into_iter().flatten() {
        let path = at(&format!("sections[{}].{field}", sections.len().saturating_sub(1)));
        let apart = !same_length(tip.si(), length) && tip.si().is_finite() && length.is_finite();
        build.fault_if(apart, &path, || FaultKind::BoomDisagrees {
            found: tip.said().to_owned(),
            expected: "the end of length for the last section".to_owned(),
        });
    }
    check_insulation(build, machine, &at("insulation.from_tip"));
    check_stowed(build, machine, &at("stowed"));
    check_controls(build, machine, &machine.rates, &at("rates"));
}

fn check_insulation(build: &mut Build<'_>, machine: &Machine, path: &str) {
    let Insulation::Section(section) = &machine.insulation else { return };
    // The tip's section is what insulates: others slide back over it.
    let longest = machine.sections.last().map_or(f64::NAN, |last| last.length.si());
    build.fault_if(section.from_tip.high() > longest + 1e-9, path, || FaultKind::BoomDisagrees {
        found: section.from_tip.said().to_owned(),
        expected: "a stretch of the last section, measured back from its tip".to_owned(),
    });
}

/// The booms lie on their rest as the linkage lets them.
fn check_stowed(build: &mut Build<'_>, machine: &Machine, path: &str) {
    const TURNED: f64 = 1e-6;
    let stowed = &machine.stowed;
    let mut within = |field: &str, said: &str, value: f64, range: [f64; 2], of: &str| {
        let out = value < range[0] - TURNED || value > range[1] + TURNED;
        build.fault_if(out, &format!("{path}.{field}"), || FaultKind::BoomDisagrees {
            found: said.to_owned(),
            expected: format!("what {of} lets it be"),
        });
    };
    let ends = |range: &Range<Angle>| [range.low(), range.high()];
    let (upper, length) = (&stowed.upper, &stowed.length);
    within("length", length.said(), length.si(), [machine.length.low(), machine.length.high()], "the boom's length");
    match (&machine.linkage, &stowed.lower) {
        (Linkage::Telescoping(angle), _) => within("upper", upper.said(), upper.si(), ends(angle), "the boom's angle"),
        (Linkage::Articulating(arm), Some(lower)) => {
            within("lower", lower.said(), lower.si(), ends(&arm.angle), "the lower boom's angle");
            within("upper", upper.said(), upper.si() - lower.si(), ends(&arm.fold), "the fold of the booms");
        }
        (Linkage::Articulating(_), None) => {
            build.fault(path, FaultKind::Missing { field: "lower", of: "the stowed booms" });
        }
    }
}

/// Every control that the machine has, has a rate.
fn check_controls(build: &mut Build<'_>, machine: &Machine, rates: &Rates, path: &str) {
    let missing = |field| FaultKind::Missing { field, of: "the bucket truck's rates" };
    let articulating = matches!(machine.linkage, Linkage::Articulating(_));
    build.fault_if(articulating && rates.lower.is_none(), path, || missing("lower"));
    let telescopes = machine.length.high() > machine.length.low();
    build.fault_if(telescopes && rates.extend.is_none(), path, || missing("extend"));
}

fn check_rates(build: &mut Build<'_>, job: &Rates, machine: &Machine) {
    let maker = &machine.rates;
    check_controls(build, machine, job, "bucket_truck.rates");
    slower(build, "bucket_truck.rates.slew", &job.slew, &maker.slew);
    slower(build, "bucket_truck.rates.upper", &job.upper, &maker.upper);
    if let (Some(job), Some(maker)) = (&job.lower, &maker.lower) {
        slower(build, "bucket_truck.rates.lower", job, maker);
    }
    if let (Some(job), Some(maker)) = (&job.extend, &maker.extend) {
        slower(build, "bucket_truck.rates.extend", job, maker);
    }
}

// --------------------------------------------------------------------------------------------------------- the site

fn site_truck(truck: &BucketTruck, machine: &Machine) -> site::BucketTruck {
    let extension = machine.length.high() - machine.length.low();
    let section = |section: &crate::scene::crane::BoomSection| {
        let moved = section.tip_extended.si() - section.tip_retracted.si();
        BoomSection {
            length_m: section.length.si(),
            width_m: section.width.si(),
            depth_m: section.depth.si(),
            extension_share: if extension > 0.0 { moved / extension } else { 0.0 },
            tip_retracted_m: section.tip_retracted.si(),
        }
    };
    let (turret, bucket, rates, stowed) = (&machine.turret, &machine.bucket, &truck.rates, &machine.stowed);
    site::BucketTruck {
        name: machine.name.clone(),
        at: point(&truck.at),
        heading: direction(&truck.heading),
        turret: site::Turret {
            radius_m: turret.radius.si(),
            from_height_m: turret.from_height.si(),
            to_height_m: turret.to_height.si(),
        },
        pin_offset_m: machine.pin_offset.si(),
        pin_height_m: machine.pin_height.si(),
        slew: sector(&machine.slew),
        linkage: match &machine.linkage {
            Linkage::Telescoping(angle) => site::Linkage::Telescoping { angle: bracket(angle) },
            Linkage::Articulating(arm) => site::Linkage::Articulating {
                length_m: arm.length.si(),
                width_m: arm.width.si(),
                depth_m: arm.depth.si(),
                elbow_radius_m: arm.elbow_radius.si(),
                angle: bracket(&arm.angle),
                fold: bracket(&arm.fold),
                upper_follows: arm.upper_follows,
            },
        },
        upper: site::UpperBoom {
            sections: machine.sections.iter().map(section).collect(),
            length_m: bracket(&machine.length),
        },
        bucket: site::Bucket {
            length_m: bucket.length.si(),
            width_m: bucket.width.si(),
            height_m: bucket.height.si(),
            ahead_m: bucket.ahead.si(),
            left_m: bucket.left.si(),
            below_m: bucket.below.si(),
        },
        reach: site::WorkerReach { above_rim_m: machine.reach.above_rim.si(), radius_m: machine.reach.radius.si() },
        insulation: match &machine.insulation {
            Insulation::Unknown => site::Insulation::Unknown,
            Insulation::Uninsulated(why) => site::Insulation::None(why.clone()),
            Insulation::Section(section) => site::Insulation::Section {
                from_tip_m: bracket(&section.from_tip),
                rated_v: section.rated.si(),
                category: section.category.into(),
            },
        },
        capacity_kg: machine.capacity.si(),
        load_kg: truck.load.as_ref().map(Quantity::si),
        // A control that the machine does not have is not moved.
        rates: site::BucketRates {
            slew_rad_s: rates.slew.si(),
            lower_rad_s: rates.lower.as_ref().map_or(0.0, Quantity::si),
            upper_rad_s: rates.upper.si(),
            extend_m_s: rates.extend.as_ref().map_or(0.0, Quantity::si),
        },
        stowed: site::Stowed {
            slew: counter_clockwise(&stowed.slew),
            lower: stowed.lower.as_ref().map_or(0.0, Quantity::si),
            upper: stowed.upper.si(),
            length_m: stowed.length.si(),
        },
        method: truck.method.into(),
        stick_m: truck.stick.as_ref().map_or(0.0, Quantity::si),
    }
}

pub(super) fn pose(build: &mut Build<'_>, path: &str, pose: &BucketTo, wires: &[Wire], hole: DVec3) -> BucketPose {
    needs_truck(build, path);
    let works_on = pose.works_on.as_ref().map(|name| build.find_wire(&format!("{path}.works_on"), name));
    let at = match (&pose.wire, &pose.point) {
        (Some(name), None) => at_wire(build, path, pose, name, wires, hole),
        (None, Some(place)) => BucketAt::Point(point(place)),
        (wire, _) => {
            let kind = FaultKind::NotExactlyOne { of: ["wire", "point"], both: wire.is_some() };
            build.fault(path, kind);
            BucketAt::Point(hole)
        }
    };
    let mut order: Vec<site::BucketControl> = Vec::new();
    for control in pose.order.iter().map(|control| (*control).into()) {
        if !order.contains(&control) {
            order.push(control);
        }
    }
    BucketPose { at, works_on, elbow: pose.elbow.map(Into::into), order }
}

fn at_wire(build: &mut Build<'_>, path: &str, pose: &BucketTo, name: &str, wires: &[Wire], hole: DVec3) -> BucketAt {
    let wire = build.find_wire(&format!("{path}.wire"), name);
    let spans = wires.get(wire).map_or(&[][..], |found| found.spans.as_slice());
    let length = |stated: &Option<Quantity<_>>| stated.as_ref().map_or(0.0, Quantity::si);
    let mut station_m = length(&pose.station);
    if let Some(reach) = station::reach(spans, hole) {
        if let Some(number) = pose.from_point {
            let before = spans.iter().take((number as usize).saturating_sub(1));
            station_m += reach.low() + before.map(|span| (span.to - span.from).truncate().length()).sum::<f64>();
            let most = spans.len() + 1;
            build.fault_if(number as usize > most, &format!("{path}.from_point"), || FaultKind::TooMany {
                found: number as usize,
                most,
            });
        }
        let off = station_m < reach.low() - 1e-6 || station_m > reach.high() + 1e-6;
        let said = pose.station.as_ref().map_or("0 ft", |station| station.said()).to_owned();
        build.fault_if(off, &format!("{path}.station"), || off_wire(&said, reach));
        station_m = station_m.clamp(reach.low(), reach.high());
    }
    BucketAt::Wire { wire, station_m, below_m: length(&pose.below), left_m: length(&pose.left) }
}
