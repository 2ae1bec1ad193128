//! What hanging the wires assumes and what it does not check, as sentences for the report.

use super::state_change;
use crate::finding::{self, Finding};
use crate::premise::{Assumed, NotChecked};
use crate::site::{CoverOn, Hang, HeldOut, Site, Wire};

/// Adds the assumptions and the limits of the model that apply to this site, and a stop for each iced wire that is to
/// be held out.
pub(super) fn say_what_is_left_out(
    site: &Site,
    assumed: &mut Vec<Assumed>,
    not_checked: &mut Vec<NotChecked>,
    findings: &mut Vec<Finding>,
) {
    if site.wires.is_empty() {
        return;
    }
    let spans = || site.wires.iter().flat_map(|wire| &wire.spans);
    let strung = |wire: &&Wire| wire.spans.iter().any(|span| matches!(span.hang, Hang::Strung(_)));
    if spans().any(|span| !matches!(span.hang, Hang::Strung(_))) {
        assumed.push(Assumed::WiresAsStated);
        not_checked.push(NotChecked::WireStateChange);
    }
    let names: Vec<String> = site.wires.iter().filter(strung).map(|wire| wire.name.clone()).collect();
    if !names.is_empty() {
        assumed.push(Assumed::WiresAsStrung {
            wires: names,
            stiffness: state_change::STIFFNESS_SHARE,
            expansion: state_change::EXPANSION_SHARE,
            weight: state_change::WEIGHT_SHARE,
        });
        assumed.push(Assumed::StrungCore);
        assumed.push(Assumed::StrungUnchanged);
    }
    let iced = |held: &&HeldOut| {
        let span = site.wires.get(held.wire).and_then(|wire| wire.spans.get(held.span));
        span.is_some_and(|span| span.hang.ice().is_some())
    };
    for held in site.held_out.iter().filter(iced) {
        findings.push(finding::stop(finding::Conductor::HeldIced { held: held.name.clone() }));
    }
    if site.weather.iter().any(|weather| weather.wind_m_s != 0.0) {
        assumed.push(Assumed::SteadyWind);
        not_checked.push(NotChecked::GustsOnWires);
    }
    if site.covers.iter().any(|cover| matches!(cover.on, CoverOn::Wire { .. })) {
        not_checked.push(NotChecked::CoversOnWires);
    }
    if !site.held_out.is_empty() {
        assumed.push(Assumed::HeldStraight);
        assumed.push(Assumed::HolderGrips);
        assumed.push(Assumed::WireRunsThrough);
        not_checked.push(NotChecked::SupportsGive);
        not_checked.push(NotChecked::PullOnHolder);
        not_checked.push(NotChecked::SupportStrength);
    }
}
