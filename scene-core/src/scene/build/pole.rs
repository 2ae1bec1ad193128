//! Pole, hole, rigging.

use super::{Build, bracket, counter_clockwise, direction, point, same_length};
use crate::bracket::Bracket;
use crate::catalog;
use crate::quantity::show::{Round, Units, show_length};
use crate::quantity::unit::FOOT_M;
use crate::scene::fault::{FaultKind, nearest};
use crate::scene::pole::{Pole, PoleItem, Shell, SteelTube, TubeSection, WoodClass, WoodMeasured};
use crate::site;

pub(super) fn pole(build: &mut Build<'_>) -> site::Pole {
    let pole = &build.scene.pole;
    let length = pole.length.si();
    let shell = match &pole.shell {
        Shell::SteelTube(tube) => steel_tube(build, pole, tube),
        Shell::Wood(class) => wood(build, pole, class),
        Shell::WoodMeasured(wood) => wood_measured(build, wood),
    };
    if let Some(maker) = &pole.maker {
        on_pole(build, "pole.maker.balance_from_butt", maker.balance_from_butt.said(), [maker.balance_from_butt.si()]);
    }
    on_pole(build, "pole.setting_depth", pole.setting_depth.said(), [pole.setting_depth.si()]);
    for (i, joint) in pole.unlocked_joints.iter().enumerate() {
        on_pole(build, &format!("pole.unlocked_joints[{i}]"), joint.said(), [joint.si()]);
    }
    let hole_depth = &build.scene.hole.depth;
    build.fault_if(pole.setting_depth.si() > hole_depth.si() + 1e-9, "pole.setting_depth", || {
        FaultKind::DeeperThanHole { setting: pole.setting_depth.said().to_owned(), hole: hole_depth.said().to_owned() }
    });
    site::Pole {
        name: pole.name.clone(),
        length_m: length,
        shell,
        maker: pole.maker.as_ref().map(|maker| site::MakerMass {
            mass_kg: maker.mass.si(),
            balance_from_butt_m: maker.balance_from_butt.si(),
        }),
        items: items(build, &pole.items),
        setting_depth_m: pole.setting_depth.si(),
        unlocked_joints_m: pole.unlocked_joints.iter().map(|joint| joint.si()).collect(),
    }
}

/// All of `heights`, metres from the butt, lie on the pole.
pub(super) fn on_pole(build: &mut Build<'_>, path: &str, said: &str, heights: impl IntoIterator<Item = f64>) {
    let length = &build.scene.pole.length;
    let off = heights.into_iter().any(|height| height < 0.0 || height > length.si() + 1e-9);
    build.fault_if(off, path, || FaultKind::OffPole { found: said.to_owned(), length: length.said().to_owned() });
}

fn steel_tube(build: &mut Build<'_>, pole: &Pole, tube: &SteelTube) -> site::Shell {
    for (i, section) in tube.sections.iter().enumerate() {
        section_alone(build, i, section);
        match i.checked_sub(1).and_then(|below| tube.sections.get(below)) {
            Some(below) => section_on(build, i, section, below),
            None => build.fault_if(section.lap.si() > 0.0, "pole.shell.sections[0].lap", || FaultKind::LapAtButt {
                lap: section.lap.said().to_owned(),
            }),
        }
    }
    let sum: f64 = tube.sections.iter().map(|section| section.length.si() - section.lap.si()).sum();
    let differs = (sum - pole.length.si()).abs() > 0.5 * FOOT_M / 12.0;
    build.fault_if(differs && !tube.sections.is_empty(), "pole.shell.sections", || FaultKind::LengthsDisagree {
        sum: show_length(sum, Units::Us, Round::Nearest),
        length: pole.length.said().to_owned(),
    });
    let section = |section: &TubeSection| site::TubeSection {
        length_m: section.length.si(),
        bottom_m: section.bottom.si(),
        top_m: section.top.si(),
        wall_m: section.wall.si(),
        lap_m: section.lap.si(),
    };
    site::Shell::SteelTube { sides: tube.sides.into(), sections: tube.sections.iter().map(section).collect() }
}

fn section_alone(build: &mut Build<'_>, i: usize, section: &TubeSection) {
    let path = format!("pole.shell.sections[{i}]");
    build.fault_if(section.top.si() > section.bottom.si(), &format!("{path}.top"), || FaultKind::TaperInverted {
        top: section.top.said().to_owned(),
        bottom: section.bottom.said().to_owned(),
    });
    build.fault_if(section.wall.si() * 2.0 >= section.top.si(), &format!("{path}.wall"), || FaultKind::WallTooThick {
        wall: section.wall.said().to_owned(),
        diameter: section.top.said().to_owned(),
    });
}

fn section_on(build: &mut Build<'_>, i: usize, section: &TubeSection, below: &TubeSection) {
    let path = format!("pole.shell.sections[{i}]");
    build.fault_if(section.bottom.si() <= below.top.si(), &format!("{path}.bottom"), || FaultKind::DoesNotSlip {
        bottom: section.bottom.said().to_owned(),
        below: below.top.said().to_owned(),
    });
    let shorter = if section.length.si() < below.length.si() { &section.length } else { &below.length };
    build.fault_if(section.lap.si() >= shorter.si(), &format!("{path}.lap"), || FaultKind::LapTooLong {
        lap: section.lap.said().to_owned(),
        section: shorter.said().to_owned(),
    });
}

fn wood(build: &mut Build<'_>, pole: &Pole, wood: &WoodClass) -> site::Shell {
    let sizes = build.wood_pole(pole.length.si(), &wood.class);
    let species = catalog::wood_species(&wood.species);
    if sizes.is_none() && !build.own.unsure && !wood.class.is_empty() && pole.length.si().is_finite() {
        let found = format!("{} class {}", pole.length.said(), wood.class);
        let nearest = catalog::nearest_wood_pole(pole.length.si(), &wood.class);
        build.fault("pole.shell.class", FaultKind::NotInCatalog { what: "a wood pole", found, nearest });
    }
    if species.is_none() && wood.density.is_none() && !wood.species.is_empty() {
        let nearest = nearest(&wood.species, catalog::wood_species_names());
        let found = wood.species.clone();
        build.fault("pole.shell.species", FaultKind::NotInCatalog { what: "a species", found, nearest });
    }
    let unknown = Bracket::exactly(0.0);
    site::Shell::Wood {
        top_circumference_m: sizes.as_ref().map_or(f64::NAN, |sizes| sizes.top_circumference_m),
        circumference_at_6_ft_m: sizes.as_ref().map_or(f64::NAN, |sizes| sizes.circumference_at_6_ft_m),
        density_kg_m3: match &wood.density {
            Some(stated) => bracket(stated),
            None => species.map_or(unknown, |species| species.density_kg_m3),
        },
        oversize: 1.0 + wood.oversize.si(),
    }
}

fn wood_measured(build: &mut Build<'_>, wood: &WoodMeasured) -> site::Shell {
    let (top, low) = (&wood.top_circumference, &wood.circumference_at_6_ft);
    build.fault_if(top.si() > low.si(), "pole.shell.top_circumference", || FaultKind::TaperInverted {
        top: top.said().to_owned(),
        bottom: low.said().to_owned(),
    });
    site::Shell::Wood {
        top_circumference_m: top.si(),
        circumference_at_6_ft_m: low.si(),
        density_kg_m3: bracket(&wood.density),
        oversize: 1.0 + wood.oversize.si(),
    }
}

fn items(build: &mut Build<'_>, items: &[PoleItem]) -> Vec<site::PoleItem> {
    build.names("pole.items", "the item", items.iter().map(|item| item.name.as_str()));
    let mut all = Vec::new();
    for (i, item) in items.iter().enumerate() {
        // An item may stand above the tip, but starts on the pole.
        let lower = if item.to.up.si() < item.from.up.si() { &item.to.up } else { &item.from.up };
        on_pole(build, &format!("pole.items[{i}].from"), lower.said(), [lower.si()]);
        all.push(site::PoleItem {
            name: item.name.clone(),
            mass_kg: item.mass.si(),
            from: point(&item.from),
            to: point(&item.to),
            radius_m: item.radius.si(),
        });
    }
    all
}

pub(super) fn hole(build: &mut Build<'_>) -> site::Hole {
    let hole = &build.scene.hole;
    let (at, crane) = (point(&hole.at), point(&build.scene.crane.at));
    let same = same_length(at.x, crane.x) && same_length(at.y, crane.y);
    build.fault_if(same, "hole.at", || FaultKind::SamePoint);
    site::Hole { at, facing: direction(&hole.facing), depth_m: hole.depth.si(), diameter_m: hole.diameter.si() }
}

pub(super) fn rigging(build: &mut Build<'_>) -> site::Rigging {
    let rigging = &build.scene.rigging;
    let length = &build.scene.pole.length;
    let choker = &rigging.choker_from_butt;
    build.fault_if(choker.si() >= length.si(), "rigging.choker_from_butt", || FaultKind::ChokerAboveTip {
        found: choker.said().to_owned(),
        length: length.said().to_owned(),
    });
    site::Rigging {
        choker_from_butt_m: choker.si(),
        choker_face: counter_clockwise(&rigging.choker_face),
        length_m: rigging.length.si(),
        diameter_m: rigging.diameter.si(),
        mass_kg: rigging.mass.si(),
        choker_capacity_kg: rigging.choker_capacity.si(),
        choke_angle: rigging.choke_angle.si(),
        material: rigging.material.into(),
        stop_above_choke: rigging.stop_above_choke,
        tag_line_hold_n: rigging.tag_line_hold.as_ref().map(|force| force.si()),
    }
}
