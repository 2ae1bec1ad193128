//! Where a step wants the bucket: by a wire, or at a point.

use super::fault::FaultKind;
use super::fields::Fields;
use super::line::{Wires, off_wire};
use super::steps::Around;
use super::value::Value;
use crate::machine::{Control, ElbowSide};
use crate::quantity::Length;
use crate::site::pose::{BucketAt, BucketPose};
use crate::site::station;

pub(super) fn pose(value: &Value<'_>, around: &Around<'_>) -> BucketPose {
    let wires = around.wires;
    value.fields("the bucket's pose", |f| {
        let lift = f.may("lift");
        let wire = f.may("wire");
        let by_wire = ByWire::read(f);
        let point = f.may("point").map(|value| value.point().m());
        let works_on = f.may("works_on").map(|value| wires.names.find(&value).unwrap_or(0));
        let elbow = f.may("elbow");
        let elbow = elbow.map(|value| value.word([("up", ElbowSide::Up), ("down", ElbowSide::Down)]));
        let mut order: Vec<Control> = Vec::new();
        for control in f.list("order").items.iter().map(control) {
            if !order.contains(&control) {
                order.push(control);
            }
        }
        let at = match (wire, point) {
            (Some(wire), None) => by_wire.at(&wire, wires),
            (None, Some(point)) => BucketAt::Point(point),
            (wire, _) => {
                value.fault(FaultKind::NotExactlyOne { of: ["wire", "point"], both: wire.is_some() });
                BucketAt::Point(wires.hole)
            }
        };
        BucketPose { lift: around.lift(value, lift), at, works_on, elbow, order }
    })
}

fn control(value: &Value<'_>) -> Control {
    value.word([
        ("lower", Control::Lower),
        ("slew", Control::Rotate),
        ("upper", Control::Upper),
        ("extend", Control::Extend),
    ])
}

/// How far along a wire, below it and to its left.
struct ByWire<'n> {
    /// Where the station is said or would be, its words, and meters from where it counts.
    station: (Value<'n>, String, f64),
    /// The station counts from the wire's point of this number, 1 for the first, instead of from abeam the hole.
    from_point: Option<(Value<'n>, usize)>,
    below_m: f64,
    left_m: f64,
}

impl<'n> ByWire<'n> {
    fn read(f: &mut Fields<'n>) -> Self {
        let station = f.may_measure::<Length>("station", "-3000 ft", "3000 ft");
        Self {
            station: match station {
                Some(station) => (station.at.clone(), station.said(), station.si()),
                None => (f.at().nothing(".station"), "0 ft".to_owned(), 0.0),
            },
            from_point: f.may("from_point").map(|value| (value.clone(), value.count() as usize)),
            below_m: f.may_si::<Length>("below", "-60 ft", "60 ft").unwrap_or(0.0),
            left_m: f.may_si::<Length>("left", "-100 ft", "100 ft").unwrap_or(0.0),
        }
    }

    fn at(self, wire: &Value<'_>, wires: &Wires<'_>) -> BucketAt {
        let wire = wires.names.find(wire);
        let spans = wires.spans(wire);
        let (station, said, mut station_m) = self.station;
        if let Some(reach) = station::reach(spans, wires.hole) {
            if let Some((from_point, number)) = self.from_point {
                let before = spans.iter().take(number.saturating_sub(1));
                station_m += reach.low() + before.map(|span| (span.to - span.from).truncate().length()).sum::<f64>();
                let most = spans.len() + 1;
                from_point.fault_if(number > most, || FaultKind::TooMany { found: number, most });
            }
            let off = station_m < reach.low() - 1e-6 || station_m > reach.high() + 1e-6;
            station.fault_if(off, || off_wire(said, reach));
            station_m = station_m.clamp(reach.low(), reach.high());
        }
        BucketAt::Wire { wire: wire.unwrap_or(0), station_m, below_m: self.below_m, left_m: self.left_m }
    }
}
