//! The crane: the machine that its maker made, and how it stands and is reeved for this job.

use super::beside::{self, Beside};
use super::derrick::derrick;
use super::fault::FaultKind;
use super::fields::Fields;
use super::load_chart::chart;
use super::machine::{Catalog, Section, carrier, check_rate, check_sliding};
use super::measure::{Bounds, Measure, ascending, same_length};
use super::measured::wind_limit;
use super::value::Value;
use crate::catalog;
use crate::quantity::unit::GRAVITY;
use crate::quantity::{Angle, AngularSpeed, Duration, Force, Length, LineWeight, Mass, Pressure, Ratio, Speed};
use crate::site;
use glam::DVec3;

/// What the job says of the crane, whatever machine it is.
struct Standing<'n> {
    /// The slew axis at ground level.
    at: DVec3,
    heading: f64,
    parts_of_line: u32,
    /// The fastest the operator may go in this job.
    rates: Rates<'n>,
    /// How fast the pole is turned about its axis by hand.
    turn_rad_s: f64,
    /// How long the operator takes to bring a motion up to its rate.
    ramp_s: Option<f64>,
    outriggers: Option<site::Outriggers>,
    /// A chart beside the scene, which holds instead of the machine's.
    chart: Option<site::Chart>,
}

pub(super) fn crane(value: &Value<'_>, beside: &Beside) -> site::Crane {
    value.fields("the crane", |f| {
        let (model, machine) = (f.may("model"), f.may("machine"));
        let chart = f.may("chart");
        let standing = Standing {
            at: f.at_point("at"),
            heading: heading(f),
            parts_of_line: f.need("parts_of_line").count(),
            rates: Rates::read(&f.need("rates")),
            turn_rad_s: f.si::<AngularSpeed>("turn", "0.05 deg/s", "45 deg/s"),
            ramp_s: f.may_si::<Duration>("ramp", "1 s", "60 s"),
            outriggers: f.may("outriggers").map(|value| outriggers(&value)),
            chart: chart.and_then(|value| beside::chart(&value, beside)),
        };
        f.note();
        let catalog = Catalog { what: "a crane", find: catalog::find_crane, names: catalog::crane_names };
        catalog.read(value, model, machine, |machine| read_machine(machine, &standing))
    })
}

/// The crane as it was read before an edit that moved it: its machine is not read again.
pub(super) fn moved(value: &Value<'_>, before: &site::Crane) -> site::Crane {
    value.some_fields("the crane", |f| site::Crane { at: f.at_point("at"), heading: heading(f), ..before.clone() })
}

/// Bearing of the carrier's front, clockwise from north.
fn heading(f: &mut Fields<'_>) -> f64 {
    f.measure::<Angle>("heading", "-360 deg", "360 deg").direction()
}

struct Rates<'n> {
    swing: Measure<'n, AngularSpeed>,
    boom: Measure<'n, AngularSpeed>,
    extend: Measure<'n, Speed>,
    /// Of the hook.
    hoist: Measure<'n, Speed>,
}

impl<'n> Rates<'n> {
    fn read(value: &Value<'n>) -> Self {
        value.fields("the rates", |f| {
            let rates = Self {
                swing: f.measure("swing", "0.05 deg/s", "30 deg/s"),
                boom: f.measure("boom", "0.05 deg/s", "15 deg/s"),
                extend: f.measure("extend", "0.02 ft/s", "10 ft/s"),
                hoist: f.measure("hoist", "0.02 ft/s", "20 ft/s"),
            };
            f.note();
            rates
        })
    }

    fn check(&self, maker: &Rates<'_>) {
        check_rate(&self.swing, &maker.swing);
        check_rate(&self.boom, &maker.boom);
        check_rate(&self.extend, &maker.extend);
        check_rate(&self.hoist, &maker.hoist);
    }
}

/// The machine that stands there.
fn read_machine(value: &Value<'_>, standing: &Standing<'_>) -> site::Crane {
    value.fields("a crane", |f| {
        let name = f.text("name");
        f.text("source");
        let foot_offset_m = f.si::<Length>("foot_offset", "-15 ft", "15 ft");
        let foot_height_m = f.si::<Length>("foot_height", "1 ft", "20 ft");
        let sections: Vec<_> = f.list_of("sections", 1).items.iter().map(Section::read).collect();
        let boom_length = f.bounds::<Length>("boom_length", "10 ft", "300 ft");
        let boom_angle = f.bracket::<Angle>("boom_angle", "-10 deg", "88 deg");
        let swing = f.bounds::<Angle>("swing", "-360 deg", "360 deg");
        let head = head(&f.need("head"));
        let block = block(&f.need("block"));
        let two_block_m = f.si::<Length>("two_block", "1 in", "15 ft");
        let tail = tail(&f.need("tail"));
        let line_pull_n = f.si::<Force>("line_pull", "100 lbf", "100000 lbf");
        let line_weight = f.si::<LineWeight>("line_weight", "0.01 lb/ft", "20 lb/ft");
        let line_diameter_m = f.si::<Length>("line_diameter", "0.1 in", "3 in");
        let fastest = Rates::read(&f.need("rates"));
        let wind_limit = f.may("wind_limit").map(|value| wind_limit(&value));
        let own_chart = chart(&f.need("chart"));
        let derrick = f.may("derrick").map(|value| derrick(&value));
        let carrier = f.may("carrier").map(|value| carrier(&value));
        f.note();
        check_sections(&sections, &boom_length);
        swing.check_circle();
        standing.rates.check(&fastest);
        let extension_m = boom_length.high() - boom_length.low();
        let rates = &standing.rates;
        site::Crane {
            name,
            at: standing.at,
            heading: standing.heading,
            foot_offset_m,
            foot_height_m,
            sections: sections.iter().map(|section| section.site(extension_m)).collect(),
            boom_length_m: boom_length.bracket(),
            boom_angle,
            swing: swing.sector(),
            head,
            block,
            two_block_m,
            tail,
            parts_of_line: standing.parts_of_line,
            line_pull_n,
            line_kg_per_m: line_weight / GRAVITY,
            line_diameter_m,
            rates: site::Rates {
                swing_rad_s: rates.swing.si(),
                boom_rad_s: rates.boom.si(),
                extend_m_s: rates.extend.si(),
                hoist_m_s: rates.hoist.si(),
                turn_rad_s: standing.turn_rad_s,
            },
            ramp_s: standing.ramp_s,
            wind_limit,
            chart: standing.chart.clone().unwrap_or(own_chart),
            derrick,
            carrier,
            outriggers: standing.outriggers.clone(),
        }
    })
}

/// Sections in order, each inside of the one before, that make the boom's length.
fn check_sections(sections: &[Section<'_>], boom_length: &Bounds<'_, Length>) {
    ascending(sections.iter().map(|section| &section.tip_retracted));
    ascending(sections.iter().map(|section| &section.tip_extended));
    if let Some(base) = sections.first() {
        let expected = "the base section's tip where it is retracted";
        check_agrees(&base.tip_extended, base.tip_retracted.si(), expected);
    }
    if let Some(last) = sections.last() {
        let expected = "the low end of boom_length for the last section";
        check_agrees(&last.tip_retracted, boom_length.low(), expected);
        let expected = "the high end of boom_length for the last section";
        check_agrees(&last.tip_extended, boom_length.high(), expected);
    }
    check_sliding(sections);
}

/// A tip is where something else says that it is.
pub(super) fn check_agrees(tip: &Measure<'_, Length>, with_m: f64, expected: &str) {
    let known = tip.si().is_finite() && with_m.is_finite();
    tip.at.fault_if(known && !same_length(tip.si(), with_m), || FaultKind::BoomDisagrees {
        found: tip.said(),
        expected: expected.to_owned(),
    });
}

/// The sheave that the hoist line leaves from, from the boom's tip.
fn head(value: &Value<'_>) -> site::BoomHead {
    value.fields("the boom head", |f| {
        let head = site::BoomHead {
            along_m: f.si::<Length>("along", "-5 ft", "5 ft"),
            below_m: f.si::<Length>("below", "-5 ft", "5 ft"),
            sheave_radius_m: f.si::<Length>("sheave_radius", "1 in", "3 ft"),
            radius_m: f.si::<Length>("radius", "2 in", "8 ft"),
        };
        f.note();
        head
    })
}

fn block(value: &Value<'_>) -> site::HookBlock {
    value.fields("the hook block", |f| {
        let block = site::HookBlock {
            length_m: f.si::<Length>("length", "4 in", "12 ft"),
            radius_m: f.si::<Length>("radius", "2 in", "4 ft"),
            mass_kg: f.si::<Mass>("mass", "10 lb", "10000 lb"),
            capacity_kg: f.si::<Mass>("capacity", "500 lb", "500000 lb"),
        };
        f.note();
        block
    })
}

/// The counterweight's sweep about the slew axis.
fn tail(value: &Value<'_>) -> site::Tail {
    value.fields("the tail", |f| {
        let radius_m = f.si::<Length>("radius", "1 ft", "40 ft");
        let half_width_m = f.si::<Length>("half_width", "6 in", "15 ft");
        let from_height = f.measure::<Length>("from_height", "0 ft", "20 ft");
        let to_height = f.measure::<Length>("to_height", "1 ft", "30 ft");
        f.note();
        ascending([&from_height, &to_height]);
        site::Tail { radius_m, half_width_m, from_height_m: from_height.si(), to_height_m: to_height.si() }
    })
}

/// Where the floats stand, what presses on them besides the load, and what bears them.
fn outriggers(value: &Value<'_>) -> site::Outriggers {
    value.fields("the outriggers", |f| {
        let outriggers = site::Outriggers {
            front_m: f.si::<Length>("front", "2 ft", "40 ft"),
            rear_m: f.si::<Length>("rear", "2 ft", "40 ft"),
            left_m: f.si::<Length>("left", "2 ft", "20 ft"),
            right_m: f.si::<Length>("right", "2 ft", "20 ft"),
            carrier_kg: f.si::<Mass>("carrier", "1000 lb", "500000 lb"),
            carrier_ahead_m: f.si::<Length>("carrier_ahead", "-20 ft", "20 ft"),
            upper_kg: f.si::<Mass>("upper", "500 lb", "500000 lb"),
            upper_behind_m: f.si::<Length>("upper_behind", "-10 ft", "30 ft"),
            boom_kg: f.si::<Mass>("boom", "100 lb", "200000 lb"),
            boom_centre_m: [
                f.si::<Length>("boom_centre_retracted", "1 ft", "150 ft"),
                f.si::<Length>("boom_centre_extended", "1 ft", "300 ft"),
            ],
            mat_long_m: f.si::<Length>("mat_long", "6 in", "40 ft"),
            mat_wide_m: f.si::<Length>("mat_wide", "6 in", "40 ft"),
            bearing_pa: f.si::<Pressure>("bearing", "100 psf", "100000 psf"),
            source: f.text("source"),
            leveling: f.may("leveling").map(|value| leveling(&value)).unwrap_or_default(),
        };
        f.note();
        outriggers
    })
}

/// How level the crane is set, how level its chart wants it, and what there is to level it with.
fn leveling(value: &Value<'_>) -> site::Leveling {
    value.fields("the leveling", |f| {
        let leveling = site::Leveling {
            set_to: f.may_si::<Ratio>("set_to", "0 %", "10 %"),
            chart_limit: f.may_si::<Ratio>("chart_limit", "0.1 %", "5 %"),
            blocking_m: f.may_si::<Length>("blocking", "0 in", "10 ft"),
        };
        f.note();
        leveling
    })
}
