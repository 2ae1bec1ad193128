//! Who measured a fact, how, and when; and winds at which something ends, with who says so.

use super::value::Value;
use crate::quantity::Speed;
use crate::site;

pub(super) fn measurement(value: &Value<'_>) -> site::Measurement {
    value.fields("a measurement", |f| {
        let measurement = site::Measurement { by: f.text("by"), how: f.text("how"), on: f.text("on") };
        f.note();
        measurement
    })
}

pub(super) fn wire_measured(value: &Value<'_>) -> site::WireMeasured {
    value.fields("what was measured of a wire", |f| {
        let mut may = |name| f.may(name).map(|value| measurement(&value));
        let measured = site::WireMeasured { sags: may("sags"), heights: may("heights"), spans: may("spans") };
        f.note();
        measured
    })
}

/// A wind at which something ends.
pub(super) fn wind_limit(value: &Value<'_>) -> site::WindLimit {
    value.fields("a wind limit", |f| {
        let limit = site::WindLimit { wind_m_s: f.si::<Speed>("wind", "1 mph", "80 mph"), source: f.text("source") };
        f.note();
        limit
    })
}
