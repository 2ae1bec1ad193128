//! What is not known of what the machines stand on.

use crate::finding::{self, Carrier, Finding};
use crate::machine::Outrigged;
use crate::site::Site;

/// A machine, whether its carrier is stated, and whether its floats are.
struct Machine {
    called: String,
    carrier: bool,
    floats: bool,
}

fn machines(site: &Site) -> Vec<Machine> {
    let crane = &site.crane;
    let called = if crane.derrick.is_some() { "the digger derrick" } else { "the crane" };
    let lifting =
        Machine { called: called.to_owned(), carrier: crane.carrier.is_some(), floats: crane.outriggers.is_some() };
    let of_lift = |(index, lift): (usize, &crate::machine::StandingLift)| Machine {
        called: site.lift_called(index),
        carrier: lift.base.carrier.is_some(),
        floats: lift.base.outrigged != Outrigged::Unknown,
    };
    std::iter::once(lifting).chain(site.lifts.iter().enumerate().map(of_lift)).collect()
}

pub(super) fn findings(site: &Site) -> Vec<Finding> {
    let mut found = Vec::new();
    for Machine { called, carrier, floats } in machines(site) {
        if !carrier {
            found.push(finding::caution(Carrier::NotStated { machine: called.clone() }));
        }
        if !floats {
            found.push(finding::caution(Carrier::FloatsNotStated { machine: called }));
        }
    }
    found
}

/// The machines of which something is not stated.
pub(super) fn not_stated(site: &Site) -> Vec<String> {
    machines(site).into_iter().filter(|machine| !(machine.carrier && machine.floats)).map(|m| m.called).collect()
}
