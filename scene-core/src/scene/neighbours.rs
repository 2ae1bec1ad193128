//! What is there besides the line: standing poles, obstacles, no-go areas, people.

use super::beside::Own;
use super::fault::FaultKind;
use super::fields::Fields;
use super::ground::{SAME_M, corners};
use super::line::{Presence, presence};
use super::measure::Measure;
use super::names::Names;
use super::pole::{check_taper, wood_sizes};
use super::value::{List, Value};
use crate::quantity::unit::FOOT_M;
use crate::quantity::{Length, Ratio};
use crate::site::ground as site;
use std::f64::consts::TAU;

/// The standing poles, for what is fixed to them.
pub(super) fn poles_of<'n>(value: &Value<'n>) -> List<'n> {
    value.some_fields("the neighbours", |f| f.list("poles"))
}

/// What is there, and why no structures are, when the scene says that. `structures` is what it says of them.
pub(super) fn neighbours(
    value: Option<Value<'_>>,
    structures: Option<Value<'_>>,
    steps: &Names<'_>,
    own: &Own,
) -> (Option<site::Neighbours>, Option<String>) {
    let Some(value) = value else {
        let absent = structures.as_ref().and_then(|stated| check_structures(stated, &[]));
        let all = site::Neighbours { structures_stated: true, ..site::Neighbours::default() };
        return (structures.map(|_| all), absent);
    };
    value.fields("the neighbours", |f| {
        let (poles, obstacles) = (f.list("poles"), f.list("obstacles"));
        let (people_list, by_hand_stated) = (f.list("people"), f.may("by_hand"));
        let mut all = site::Neighbours {
            poles: poles.items.iter().map(|pole| standing(pole, own)).collect(),
            obstacles: obstacles.items.iter().map(obstacle).collect(),
            no_go: no_go(&f.list("no_go")),
            people: people(&people_list, steps),
            by_hand: by_hand_stated.map(|stated| by_hand(&stated, &poles, &people_list, steps)),
            structures_stated: structures.is_some(),
        };
        f.note();
        poles.named_once("the pole");
        obstacles.named_once("the obstacle");
        let absent = structures.and_then(|stated| check_structures(&stated, &[poles, obstacles]));
        all.structures_stated |= !all.poles.is_empty() || !all.obstacles.is_empty();
        (Some(all), absent)
    })
}

/// What the scene says of structures agrees with what stands there; why there are none, when it says that.
fn check_structures(stated: &Value<'_>, standing: &[List<'_>]) -> Option<String> {
    let names = Names::all("a standing pole or obstacle", standing.iter().flat_map(List::names));
    match presence(stated) {
        Presence::Absent(at, why) => {
            if let Some(name) = names.first() {
                at.fault(FaultKind::AbsentButThere { what: "the neighbour", name: name.to_owned() });
            }
            Some(format!("poles, trees, buildings and other obstacles: {why}"))
        }
        Presence::Listed(listed) => {
            for name in &listed.items {
                names.find(name);
            }
            None
        }
    }
}

/// A pole that stands already.
fn standing(value: &Value<'_>, own: &Own) -> site::StandingPole {
    value.fields("a standing pole", |f| {
        let name = f.text("name");
        let (foot, top) = (f.point("foot"), f.point("top"));
        let (foot_radius_m, top_radius_m) = radii_m(&f.need("girth"), own);
        f.note();
        check_above(&top.at, &top.up, &foot.up);
        site::StandingPole { name, foot: foot.m(), top: top.m(), foot_radius_m, top_radius_m }
    })
}

/// At the foot and at the top, the largest that they may be.
fn radii_m(girth: &Value<'_>, own: &Own) -> (f64, f64) {
    match girth.variant(&["class", "taped"]) {
        Some("class") => girth.fields("a pole by class", |f| {
            let length = f.measure("length", "20 ft", "130 ft");
            let class = f.need("class");
            let oversize = f.si::<Ratio>("oversize", "0 %", "30 %");
            let (Some(sizes), _) = wood_sizes(&length, &class, own) else { return (f64::NAN, f64::NAN) };
            // At the ground as thick as at the butt, which is below it.
            let (low, top) = (sizes.circumference_at_6_ft_m, sizes.top_circumference_m);
            let six_feet = 6.0 * FOOT_M;
            let butt = low + (low - top) * six_feet / (length.si() - six_feet);
            let most = (1.0 + oversize) / TAU;
            (butt * most, top * most)
        }),
        Some(_) => girth.fields("a pole as taped", |f| {
            let ground = f.measure("at_ground", "6 in", "240 in");
            let top = f.measure("at_top", "6 in", "240 in");
            check_taper(&top, &ground);
            (ground.si() / TAU, top.si() / TAU)
        }),
        None => (f64::NAN, f64::NAN),
    }
}

fn check_above(at: &Value<'_>, found: &Measure<'_, Length>, below: &Measure<'_, Length>) {
    at.fault_if(found.si() <= below.si(), || FaultKind::NotAbove { found: found.said(), below: below.said() });
}

fn obstacle(value: &Value<'_>) -> site::Obstacle {
    value.fields("an obstacle", |f| {
        let obstacle = site::Obstacle { name: f.text("name"), shape: shape(&f.need("shape")) };
        f.note();
        obstacle
    })
}

fn shape(value: &Value<'_>) -> site::Shape {
    match value.variant(&["tree", "building", "wall", "post", "rod"]) {
        Some("tree") => value.fields("a tree", |f| {
            let foot = f.at_point("foot");
            let height = f.measure("height", "3 ft", "300 ft");
            let trunk_radius_m = f.si::<Length>("trunk", "1 in", "30 ft") / 2.0;
            let crown_radius_m = f.si::<Length>("crown", "1 ft", "150 ft") / 2.0;
            let crown_from = f.measure("crown_from", "0 ft", "200 ft");
            check_above(&height.at, &height, &crown_from);
            let (height_m, crown_from_m) = (height.si(), crown_from.si());
            site::Shape::Tree { foot, height_m, trunk_radius_m, crown_from_m, crown_radius_m }
        }),
        Some("building") => value.fields("a building", |f| site::Shape::Building {
            corners: corners(&f.list_of("corners", 3)),
            ground_m: f.si::<Length>("ground", "-3000 ft", "3000 ft"),
            height_m: f.si::<Length>("height", "6 in", "1000 ft"),
        }),
        Some("wall") => value.fields("a wall", |f| {
            let (from, to) = (f.at_point("from"), f.point("to"));
            let height_m = f.si::<Length>("height", "3 in", "100 ft");
            let thickness_m = f.si::<Length>("thickness", "0.5 in", "30 ft");
            let same = from.truncate().distance(to.m().truncate()) < SAME_M;
            to.at.fault_if(same, || FaultKind::SamePoint);
            site::Shape::Wall { from, to: to.m(), height_m, thickness_m }
        }),
        Some("post") => value.fields("a post", |f| site::Shape::Post {
            foot: f.at_point("foot"),
            height_m: f.si::<Length>("height", "3 in", "500 ft"),
            radius_m: f.si::<Length>("diameter", "0.5 in", "30 ft") / 2.0,
        }),
        // What is none of these is a fault already.
        found => found.map_or_else(|| value.nothing(""), |_| value.clone()).fields("a rod", |f| site::Shape::Rod {
            from: f.at_point("from"),
            to: f.at_point("to"),
            radius_m: f.si::<Length>("diameter", "0.1 in", "10 ft") / 2.0,
        }),
    }
}

/// Where nothing of machine or load may come.
fn no_go(list: &List<'_>) -> Vec<site::NoGo> {
    let read = |area: &Value<'_>| {
        area.fields("a no-go area", |f| {
            let area = site::NoGo {
                name: f.text("name"),
                corners: corners(&f.list_of("corners", 3)),
                ground_m: f.si::<Length>("ground", "-3000 ft", "3000 ft"),
                height_m: f.si::<Length>("height", "1 ft", "1000 ft"),
                reason: f.text("reason"),
            };
            f.note();
            area
        })
    };
    let areas = list.items.iter().map(read).collect();
    list.named_once("the no-go area");
    areas
}

fn people(list: &List<'_>, steps: &Names<'_>) -> Vec<site::Person> {
    let read = |person: &Value<'_>| {
        person.fields("a person's place", |f| {
            let person = site::Person {
                name: f.text("name"),
                task: f.need("task").word([
                    ("bystander", site::Task::Bystander),
                    ("observer", site::Task::Observer),
                    ("signal", site::Task::Signal),
                    ("tag_line", site::Task::TagLine),
                ]),
                reach_m: f.si::<Length>("reach", "1 ft", "60 ft"),
                height_m: f.si::<Length>("height", "4 ft", "30 ft"),
                stands: stands(f, steps),
            };
            f.note();
            person
        })
    };
    let people = list.items.iter().map(read).collect();
    list.named_once("the person");
    people
}

/// Where a person stands: `at`, or `places` in order of time, between which he walks.
fn stands(f: &mut Fields<'_>, steps: &Names<'_>) -> Vec<site::Stand> {
    let stand = |f: &mut Fields<'_>| {
        let at = f.at_point("at");
        let (starts, ends) = (f.may("starts"), f.may("ends"));
        site::Stand { at, during: steps.during(starts, ends) }
    };
    if f.has("places") {
        let list = f.list_of("places", 1);
        return list.items.iter().map(|place| place.fields("a place of a person", stand)).collect();
    }
    vec![stand(f)]
}

/// The stretch over which people guide the pole by hand past one that stands.
fn by_hand(value: &Value<'_>, poles: &List<'_>, people: &List<'_>, steps: &Names<'_>) -> site::ByHand {
    let (poles, people) = (Names::of(poles, "a standing pole"), Names::of(people, "a person's place"));
    value.fields("a stretch guided by hand", |f| {
        let beside = poles.find(&f.need("beside"));
        let steps = f.list_of("steps", 1).items.iter().filter_map(|step| steps.find(step)).collect();
        let guides = f.list_of("guides", 2).items.iter().filter_map(|guide| people.find(guide)).collect();
        let hands = f.need("hands");
        let hands = match hands.variant(&["rubber_gloves", "insulated_tools"]) {
            Some("rubber_gloves") => {
                let class = hands.one().whole(0..=4).and_then(|class| u8::try_from(class).ok());
                site::HandProtection::RubberGloves { class: class.unwrap_or(0) }
            }
            Some(_) => {
                hands.alone();
                site::HandProtection::InsulatedTools
            }
            None => site::HandProtection::RubberGloves { class: 0 },
        };
        let swing_m = f.si::<Length>("swing", "3 in", "3 ft");
        f.note();
        site::ByHand { beside: beside.unwrap_or(0), steps, guides, hands, swing_m }
    })
}
