//! The bucket truck: the machine that its maker made, and how it stands and is used in this job.

use super::crane::check_agrees;
use super::fault::FaultKind;
use super::machine::{Catalog, Section, carrier, check_rate, check_sliding};
use super::measure::{Bounds, Measure, ascending};
use super::value::{List, Value};
use super::work::method;
use crate::catalog;
use crate::machine::aerial_lift as site;
use crate::machine::{Base, Carrier, Category, Floats, Insulation, Outrigged, StandingLift};
use crate::quantity::unit::Dimension;
use crate::quantity::{Angle, AngularSpeed, Length, Mass, Speed, Voltage};
use glam::DVec3;

/// The trucks, or why there is none.
pub(super) enum Stated {
    Stand(Vec<StandingLift>),
    Absent(String),
}

pub(super) fn lifts(value: &Value<'_>) -> Stated {
    match value.variant(&["absent", "stands", "several"]) {
        Some("stands") => Stated::Stand(vec![stands(value)]),
        Some("several") => Stated::Stand(several(&value.one().list())),
        Some(_) => Stated::Absent(value.one().text().to_owned()),
        None => Stated::Absent(String::new()),
    }
}

/// Several trucks, each with its name.
fn several(list: &List<'_>) -> Vec<StandingLift> {
    list.at.fault_if(list.items.is_empty(), || FaultKind::TooFew { found: 0, least: 1 });
    list.named_once("the truck");
    let read = |truck: &Value<'_>| {
        let lift = stands(truck);
        let is_named = lift.name.as_ref().is_some_and(|name| !name.is_empty());
        truck.fault_if(!is_named, || FaultKind::Missing { field: "name", of: "one of several trucks" });
        lift
    };
    list.items.iter().map(read).collect()
}

/// What the job says of the truck, whatever machine it is.
struct Standing<'n> {
    /// The slew axis at ground level.
    at: DVec3,
    heading: f64,
    method: crate::site::Method,
    stick_m: f64,
    load_kg: Option<f64>,
    /// The fastest the operator may go in this job.
    rates: Rates<'n>,
}

fn stands(value: &Value<'_>) -> StandingLift {
    value.fields("the bucket truck", |f| {
        let name = f.may_text("name");
        let (model, machine) = (f.may("model"), f.may("machine"));
        let standing = Standing {
            at: f.at_point("at"),
            heading: f.measure::<Angle>("heading", "-360 deg", "360 deg").direction(),
            method: method(&f.need("method")),
            stick_m: f.may_si::<Length>("stick", "1 ft", "15 ft").unwrap_or(0.0),
            load_kg: f.may_si::<Mass>("load", "50 lb", "3000 lb"),
            rates: Rates::read(&f.need("rates")),
        };
        let outrigged = f.may("outriggers").map_or(Outrigged::Unknown, |value| outrigged(&value));
        f.note();
        let names = catalog::bucket_truck_names;
        let catalog = Catalog { what: "a bucket truck", find: catalog::find_bucket_truck, names };
        let (truck, carrier) = catalog.read(value, model, machine, |machine| read_machine(machine, &standing));
        StandingLift::new(name, truck).on(Base { carrier, outrigged })
    })
}

/// Of each control; those that the machine does not have have none.
struct Rates<'n> {
    at: Value<'n>,
    slew: Measure<'n, AngularSpeed>,
    lower: Option<Measure<'n, AngularSpeed>>,
    upper: Measure<'n, AngularSpeed>,
    extend: Option<Measure<'n, Speed>>,
}

impl<'n> Rates<'n> {
    fn read(value: &Value<'n>) -> Self {
        value.fields("the bucket truck's rates", |f| {
            let rates = Self {
                at: value.clone(),
                slew: f.measure("slew", "0.05 deg/s", "30 deg/s"),
                lower: f.may_measure("lower", "0.05 deg/s", "15 deg/s"),
                upper: f.measure("upper", "0.05 deg/s", "15 deg/s"),
                extend: f.may_measure("extend", "0.02 ft/s", "10 ft/s"),
            };
            f.note();
            rates
        })
    }

    /// Every control that the machine has, has a rate.
    fn check_controls(&self, linkage: &Linkage<'_>, length: &Bounds<'_, Length>) {
        let missing = |field| FaultKind::Missing { field, of: "the bucket truck's rates" };
        let articulating = matches!(linkage, Linkage::Articulating { .. });
        self.at.fault_if(articulating && self.lower.is_none(), || missing("lower"));
        let telescopes = length.high() > length.low();
        self.at.fault_if(telescopes && self.extend.is_none(), || missing("extend"));
    }

    fn check(&self, maker: &Rates<'_>) {
        check_rate(&self.slew, &maker.slew);
        check_rate(&self.upper, &maker.upper);
        if let (Some(job), Some(maker)) = (&self.lower, &maker.lower) {
            check_rate(job, maker);
        }
        if let (Some(job), Some(maker)) = (&self.extend, &maker.extend) {
            check_rate(job, maker);
        }
    }

    fn site(&self) -> site::BucketRates {
        fn or_still<D: Dimension>(rate: Option<&Measure<'_, D>>) -> f64 {
            rate.map_or(0.0, Measure::si)
        }
        site::BucketRates {
            slew_rad_s: self.slew.si(),
            lower_rad_s: or_still(self.lower.as_ref()),
            upper_rad_s: self.upper.si(),
            extend_m_s: or_still(self.extend.as_ref()),
        }
    }
}

/// The machine that stands there.
fn read_machine(value: &Value<'_>, standing: &Standing<'_>) -> (site::BucketTruck, Option<Carrier>) {
    value.fields("a bucket truck's machine", |f| {
        let name = f.text("name");
        f.text("source");
        let turret = turret(&f.need("turret"));
        let pin_offset_m = f.si::<Length>("pin_offset", "-10 ft", "10 ft");
        let pin_height_m = f.si::<Length>("pin_height", "1 ft", "20 ft");
        let slew = f.bounds::<Angle>("slew", "-360 deg", "360 deg");
        let linkage = Linkage::read(&f.need("linkage"));
        let sections: Vec<_> = f.list_of("sections", 1).items.iter().map(Section::read).collect();
        let length = f.bounds::<Length>("length", "3 ft", "120 ft");
        let bucket = bucket(&f.need("bucket"));
        let reach = reach(&f.need("reach"));
        let insulation = insulation(&f.need("insulation"), &sections);
        let capacity_kg = f.si::<Mass>("capacity", "100 lb", "3000 lb");
        let fastest = Rates::read(&f.need("rates"));
        let stowed = Stowed::read(&f.need("stowed"));
        let carrier = f.may("carrier").map(|value| carrier(&value));
        f.note();
        slew.check_circle();
        ascending(sections.iter().map(|section| &section.tip_retracted));
        check_sliding(&sections);
        if let Some(last) = sections.last() {
            let expected = "the end of length for the last section";
            check_agrees(&last.tip_retracted, length.low(), expected);
            check_agrees(&last.tip_extended, length.high(), expected);
        }
        stowed.check(&linkage, &length);
        fastest.check_controls(&linkage, &length);
        standing.rates.check_controls(&linkage, &length);
        standing.rates.check(&fastest);
        let extension_m = length.high() - length.low();
        let truck = site::BucketTruck {
            name,
            at: standing.at,
            heading: standing.heading,
            turret,
            pin_offset_m,
            pin_height_m,
            slew: slew.sector(),
            linkage: linkage.site(),
            upper: site::UpperBoom {
                sections: sections.iter().map(|section| section.site(extension_m)).collect(),
                length_m: length.bracket(),
            },
            bucket,
            reach,
            insulation,
            capacity_kg,
            load_kg: standing.load_kg,
            rates: standing.rates.site(),
            stowed: stowed.site(),
            method: standing.method,
            stick_m: standing.stick_m,
        };
        (truck, carrier)
    })
}

/// Where the floats stand, or why the truck works without.
pub(super) fn outrigged(value: &Value<'_>) -> Outrigged {
    match value.variant(&["on", "absent"]) {
        Some("on") => value.fields("the truck's outriggers", |f| {
            let floats = Floats {
                front_m: f.si::<Length>("front", "-5 ft", "40 ft"),
                rear_m: f.si::<Length>("rear", "-5 ft", "40 ft"),
                left_m: f.si::<Length>("left", "2 ft", "20 ft"),
                right_m: f.si::<Length>("right", "2 ft", "20 ft"),
                mat_long_m: f.si::<Length>("mat_long", "6 in", "20 ft"),
                mat_wide_m: f.si::<Length>("mat_wide", "6 in", "20 ft"),
            };
            f.note();
            Outrigged::On(floats)
        }),
        Some(_) => Outrigged::Without(value.one().text().to_owned()),
        None => Outrigged::Unknown,
    }
}

fn turret(value: &Value<'_>) -> site::Turret {
    value.fields("the turret", |f| {
        let radius_m = f.si::<Length>("radius", "6 in", "8 ft");
        let from_height = f.measure::<Length>("from_height", "0 ft", "15 ft");
        let to_height = f.measure::<Length>("to_height", "1 ft", "20 ft");
        f.note();
        ascending([&from_height, &to_height]);
        site::Turret { radius_m, from_height_m: from_height.si(), to_height_m: to_height.si() }
    })
}

/// What carries the upper boom.
enum Linkage<'n> {
    /// A lower boom, and how the upper one is hinged to it.
    Articulating {
        length_m: f64,
        width_m: f64,
        depth_m: f64,
        elbow_radius_m: f64,
        /// Of the lower boom from level, up.
        angle: Bounds<'n, Angle>,
        /// The upper boom's angle less the lower one's.
        fold: Bounds<'n, Angle>,
        upper_follows: bool,
    },
    /// One boom on the pin; its angle from level.
    Telescoping(Bounds<'n, Angle>),
}

impl<'n> Linkage<'n> {
    fn read(value: &Value<'n>) -> Self {
        match value.variant(&["articulating", "telescoping"]) {
            Some("articulating") => value.fields("the lower boom", |f| {
                let linkage = Self::Articulating {
                    length_m: f.si::<Length>("length", "3 ft", "80 ft"),
                    width_m: f.si::<Length>("width", "3 in", "4 ft"),
                    depth_m: f.si::<Length>("depth", "3 in", "4 ft"),
                    elbow_radius_m: f.si::<Length>("elbow_radius", "3 in", "5 ft"),
                    angle: f.bounds("angle", "-20 deg", "170 deg"),
                    fold: f.bounds("fold", "-180 deg", "180 deg"),
                    upper_follows: f.need("upper_follows").flag(),
                };
                f.note();
                linkage
            }),
            Some(_) => Self::Telescoping(value.one().bounds("-30 deg", "88 deg")),
            None => Self::Telescoping(value.nothing("").bounds("-30 deg", "88 deg")),
        }
    }

    fn site(&self) -> site::Linkage {
        match self {
            Self::Telescoping(angle) => site::Linkage::Telescoping { angle: angle.bracket() },
            Self::Articulating { length_m, width_m, depth_m, elbow_radius_m, angle, fold, upper_follows } => {
                site::Linkage::Articulating {
                    length_m: *length_m,
                    width_m: *width_m,
                    depth_m: *depth_m,
                    elbow_radius_m: *elbow_radius_m,
                    angle: angle.bracket(),
                    fold: fold.bracket(),
                    upper_follows: *upper_follows,
                }
            }
        }
    }
}

/// A level box; the middle of its rim from the upper boom's tip.
fn bucket(value: &Value<'_>) -> site::Bucket {
    value.fields("the bucket", |f| {
        let bucket = site::Bucket {
            length_m: f.si::<Length>("length", "1 ft", "6 ft"),
            width_m: f.si::<Length>("width", "1 ft", "6 ft"),
            height_m: f.si::<Length>("height", "2 ft", "5 ft"),
            ahead_m: f.si::<Length>("ahead", "-6 ft", "6 ft"),
            left_m: f.si::<Length>("left", "-6 ft", "6 ft"),
            below_m: f.si::<Length>("below", "-6 ft", "6 ft"),
        };
        f.note();
        bucket
    })
}

/// How far the worker comes, the stick left out.
fn reach(value: &Value<'_>) -> site::WorkerReach {
    value.fields("the worker's reach", |f| {
        let reach = site::WorkerReach {
            above_rim_m: f.si::<Length>("above_rim", "-2 ft", "4 ft"),
            radius_m: f.si::<Length>("radius", "2 ft", "8 ft"),
        };
        f.note();
        reach
    })
}

fn insulation(value: &Value<'_>, sections: &[Section<'_>]) -> Insulation {
    match value.variant(&["unknown", "uninsulated", "section"]) {
        Some("uninsulated") => Insulation::None(value.one().text().to_owned()),
        Some("section") => value.fields("the insulating section", |f| {
            let from_tip = f.bounds::<Length>("from_tip", "0 ft", "60 ft");
            let rated_v = f.si::<Voltage>("rated", "1 kV", "800 kV");
            let category = f.need("category").word([("a", Category::A), ("b", Category::B), ("c", Category::C)]);
            f.note();
            // The tip's section is what insulates: others slide back over it.
            let longest_m = sections.last().map_or(f64::NAN, |last| last.length.si());
            from_tip.at.fault_if(from_tip.high() > longest_m + 1e-9, || FaultKind::BoomDisagrees {
                found: from_tip.said(),
                expected: "a stretch of the last section, measured back from its tip".to_owned(),
            });
            Insulation::Section { from_tip_m: from_tip.bracket(), rated_v, category }
        }),
        found => {
            if found.is_some() {
                value.alone();
            }
            Insulation::Unknown
        }
    }
}

/// The joints on the boom rest.
struct Stowed<'n> {
    at: Value<'n>,
    slew: f64,
    /// From level; not for a telescoping lift.
    lower: Option<Measure<'n, Angle>>,
    /// From level.
    upper: Measure<'n, Angle>,
    length: Measure<'n, Length>,
}

impl<'n> Stowed<'n> {
    fn read(value: &Value<'n>) -> Self {
        value.fields("the stowed booms", |f| {
            let stowed = Self {
                at: value.clone(),
                slew: f.measure::<Angle>("slew", "-360 deg", "360 deg").counter_clockwise(),
                lower: f.may_measure("lower", "-20 deg", "170 deg"),
                upper: f.measure("upper", "-180 deg", "360 deg"),
                length: f.measure("length", "3 ft", "120 ft"),
            };
            f.note();
            stowed
        })
    }

    /// The booms lie on their rest as the linkage lets them.
    fn check(&self, linkage: &Linkage<'_>, length: &Bounds<'_, Length>) {
        let (lower, upper) = (&self.lower, &self.upper);
        check_within(&self.length, self.length.si(), length, "the boom's length");
        match (linkage, lower) {
            (Linkage::Telescoping(angle), _) => check_within(upper, upper.si(), angle, "the boom's angle"),
            (Linkage::Articulating { angle, fold, .. }, Some(lower)) => {
                check_within(lower, lower.si(), angle, "the lower boom's angle");
                check_within(upper, upper.si() - lower.si(), fold, "the fold of the booms");
            }
            (Linkage::Articulating { .. }, None) => {
                self.at.fault(FaultKind::Missing { field: "lower", of: "the stowed booms" });
            }
        }
    }

    fn site(&self) -> site::Stowed {
        site::Stowed {
            slew: self.slew,
            lower: self.lower.as_ref().map_or(0.0, Measure::si),
            upper: self.upper.si(),
            length_m: self.length.si(),
        }
    }
}

/// What a measure makes of a joint lies within what it can be.
fn check_within<D: Dimension>(measure: &Measure<'_, D>, value: f64, within: &Bounds<'_, D>, of: &str) {
    const SLACK: f64 = 1e-6;
    let out = value < within.low() - SLACK || value > within.high() + SLACK;
    measure.at.fault_if(out, || FaultKind::BoomDisagrees {
        found: measure.said(),
        expected: format!("what {of} lets it be"),
    });
}
