//! Basis, covers, allowances, steps.

use super::bucket;
use super::line::off_wire;
use super::pole::on_pole;
use super::{Build, bracket, direction, point, same_length};
use crate::quantity::show::{Round, Units, show_length};
use crate::quantity::{Length, Quantity};
use crate::scene::fault::{FaultKind, nearest};
use crate::scene::work::{Action, Basis, LengthAllowance, Make, OnWire, Over, RatioAllowance, Spot, Start};
use crate::site::{self, station};
use glam::DVec3;

pub(super) fn basis(basis: &Basis) -> site::Basis {
    let arranged = |(item, how): &(String, String)| site::Arranged { item: item.clone(), how: how.clone() };
    site::Basis {
        route: basis.route.into(),
        arranged: basis.arranged.0.iter().map(arranged).collect(),
        own_distance_m: basis.own_distance.as_ref().map(|distance| distance.si()),
        residual_gap_m: basis.residual_gap.si(),
    }
}

pub(super) fn covers(build: &mut Build<'_>, wires: &[site::Wire], hole: DVec3) -> Vec<site::Cover> {
    let scene = build.scene;
    build.names("covers", "the cover", scene.covers.iter().map(|cover| cover.name.as_str()));
    let mut all = Vec::new();
    for (i, cover) in scene.covers.iter().enumerate() {
        let path = format!("covers[{i}]");
        let over = format!("{path}.over");
        let on = match &cover.over {
            Over::Wire(on) => on_wire(build, &over, on, wires, hole),
            Over::Pole(range) => {
                on_pole(build, &over, range.said(), [range.low(), range.high()]);
                site::CoverOn::Pole { from_butt_m: bracket(range) }
            }
        };
        build.fault_if(cover.overlap.si() >= cover.piece_length.si(), &format!("{path}.overlap"), || {
            FaultKind::LapTooLong {
                lap: cover.overlap.said().to_owned(),
                section: cover.piece_length.said().to_owned(),
            }
        });
        all.push(site::Cover {
            name: cover.name.clone(),
            on,
            make: make(build, &format!("{path}.make"), &cover.make),
            piece_length_m: cover.piece_length.si(),
            overlap_m: cover.overlap.si(),
            mass_kg: cover.mass.as_ref().map(Quantity::si),
            method: cover.method.into(),
            during: build.during(&path, &cover.starts, &cover.ends),
        });
    }
    all
}

fn make(build: &mut Build<'_>, path: &str, make: &Make) -> site::CoverMake {
    match make {
        Make::Rubber(class) => site::CoverMake::Rubber { class: *class },
        Make::Plastic(class) => site::CoverMake::Plastic { class: *class },
        Make::Own(class) => {
            let known = build.own.covers.iter().find(|(name, _)| name == class).map(|(_, make)| *make);
            if known.is_none() && !class.is_empty() && !build.own.unsure {
                let names = build.own.covers.iter().map(|(name, _)| name.as_str());
                let nearest = nearest(class, names.clone());
                let known = names.map(str::to_owned).collect();
                let kind =
                    FaultKind::NoSuch { what: "a class of catalogs.covers", found: class.clone(), nearest, known };
                build.fault(path, kind);
            }
            known.unwrap_or(site::CoverMake::Own { max_phase_phase_v: 0, max_phase_ground_v: 0 })
        }
    }
}

fn on_wire(build: &mut Build<'_>, path: &str, on: &OnWire, wires: &[site::Wire], hole: DVec3) -> site::CoverOn {
    let wire = build.find_wire(&format!("{path}.name"), &on.name);
    let spans = wires.get(wire).filter(|found| found.name == on.name).map_or(&[][..], |found| found.spans.as_slice());
    if let Some(reach) = station::reach(spans, hole) {
        let off = on.stations.low() < reach.low() - 1e-6 || on.stations.high() > reach.high() + 1e-6;
        build.fault_if(off, &format!("{path}.stations"), || off_wire(on.stations.said(), reach));
    }
    site::CoverOn::Wire { wire, station_m: bracket(&on.stations) }
}

pub(super) fn allowances(build: &mut Build<'_>) -> site::Allowances {
    let stated = &build.scene.allowances;
    let mut length = |name: &str, allowance: &LengthAllowance| {
        one_allowance(build, name, allowance.value.si(), allowance.reason.as_deref())
    };
    let survey = length("survey", &stated.survey);
    let placing = length("placing", &stated.placing);
    let radius_growth = length("radius_growth", &stated.radius_growth);
    let load_swing = length("load_swing", &stated.load_swing);
    let line_movement = length("line_movement", &stated.line_movement);
    let guide_play = stated.guide_play.as_ref().map(|stated| length("guide_play", stated));
    let RatioAllowance { value, reason } = &stated.load_swing_growth;
    let load_swing_growth = one_allowance(build, "load_swing_growth", value.si(), reason.as_deref());
    let guide_lean = stated
        .guide_lean
        .as_ref()
        .map(|stated| one_allowance(build, "guide_lean", stated.value.si(), stated.reason.as_deref()));
    site::Allowances {
        survey,
        placing,
        radius_growth,
        load_swing,
        load_swing_growth,
        line_movement,
        guide_play,
        guide_lean,
    }
}

fn one_allowance(build: &mut Build<'_>, name: &str, value: f64, reason: Option<&str>) -> site::Allowance {
    let path = format!("allowances.{name}.value");
    build.fault_if(value == 0.0 && reason.is_none(), &path, || FaultKind::ZeroWithoutReason);
    site::Allowance { value, reason: reason.unwrap_or_default().to_owned() }
}

pub(super) fn steps(build: &mut Build<'_>, crane: &site::Crane, wires: &[site::Wire], hole: DVec3) -> Vec<site::Step> {
    let scene = build.scene;
    build.names("steps", "the step", scene.steps.iter().map(|step| step.name.as_str()));
    let mut all = Vec::new();
    for (i, step) in scene.steps.iter().enumerate() {
        let path = format!("steps[{i}].do");
        let start = matches!(step.action, Action::Start(_));
        build.fault_if(i == 0 && !start, &path, || FaultKind::StartNotFirst);
        build.fault_if(i > 0 && start, &path, || FaultKind::StartAgain);
        let action = action(build, &path, &step.action, crane, wires, hole);
        all.push(site::Step { name: step.name.clone(), action, combined: step.combined.unwrap_or(false) });
    }
    all
}

fn action(
    build: &mut Build<'_>,
    path: &str,
    action: &Action,
    crane: &site::Crane,
    wires: &[site::Wire],
    hole: DVec3,
) -> site::Action {
    let spot = |spot: &Spot| match spot {
        Spot::Hole => hole,
        Spot::At(at) => point(at),
    };
    match action {
        Action::Start(Start { butt, tip_toward, boom_length }) => {
            let (butt, tip_toward) = (point(butt), point(tip_toward));
            let same = same_length(butt.x, tip_toward.x) && same_length(butt.y, tip_toward.y);
            build.fault_if(same, &format!("{path}.tip_toward"), || FaultKind::SamePoint);
            boom_length_of(build, &format!("{path}.boom_length"), boom_length, crane);
            site::Action::Start { butt, tip_toward, boom_length_m: boom_length.si() }
        }
        Action::TakeLoad => site::Action::TakeLoad,
        Action::Upend => site::Action::Upend,
        Action::HoistTo(height) => site::Action::HoistTo { height_m: height.si() },
        Action::LowerTo(height) => site::Action::LowerTo { height_m: height.si() },
        Action::SwingToward(at) => site::Action::SwingToward { point: spot(at) },
        Action::BoomToRadius(radius) => site::Action::BoomToRadius { radius_m: radius.si() },
        Action::BoomOver(at) => site::Action::BoomOver { point: spot(at) },
        Action::Carry(carry) => site::Action::Carry { point: spot(&carry.point), height_m: carry.height.si() },
        Action::Extend(length) => {
            boom_length_of(build, path, length, crane);
            site::Action::Extend { boom_length_m: length.si() }
        }
        Action::Turn(bearing) => site::Action::Turn { facing: direction(bearing) },
        Action::Dig(depth) => site::Action::Dig { depth_m: depth.si() },
        Action::IntoGuides(height) => {
            on_pole(build, path, height.said(), [height.si(), height.si()]);
            site::Action::IntoGuides { from_butt_m: height.si() }
        }
        Action::Hold(question) => site::Action::Hold { question: question.clone() },
        Action::Work(time) => site::Action::Work { minutes: time.si() / 60.0 },
        Action::Release => site::Action::Release,
        Action::BoomAway(away) => {
            site::Action::BoomAway { point: spot(&away.point), hook_height_m: away.hook_height.si() }
        }
        Action::BucketTo(pose) => site::Action::BucketTo(bucket::pose(build, path, pose, wires, hole)),
        Action::BucketStow => {
            bucket::needs_truck(build, path);
            site::Action::BucketStow
        }
    }
}

/// A boom length that the machine has.
fn boom_length_of(build: &mut Build<'_>, path: &str, length: &Quantity<Length>, crane: &site::Crane) {
    let has = crane.boom_length_m;
    let known = has.high() > 0.0;
    build.fault_if(known && !has.widened(1e-9).contains(length.si()) && length.si().is_finite(), path, || {
        let end = |m| show_length(m, Units::Us, Round::Nearest);
        let expected = format!("a boom length of the crane, {} to {}", end(has.low()), end(has.high()));
        FaultKind::BoomDisagrees { found: length.said().to_owned(), expected }
    });
}
