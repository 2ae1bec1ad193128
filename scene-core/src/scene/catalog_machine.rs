//! The catalog's machines by themselves, as no job has placed them yet.

use super::beside::Beside;
use super::bucket::{self, Stated};
use super::crane;
use super::fault::Faults;
use super::reader::read_tree;
use super::value::Value;
use crate::machine::StandingLift;
use crate::site::Crane;
use std::cell::RefCell;

/// A crane or digger derrick of the catalog by its name, at the origin, slow, on one part of line.
pub fn catalog_crane(name: &str) -> Option<Crane> {
    let rates = "(swing: \"0.1 deg/s\", boom: \"0.1 deg/s\", extend: \"0.1 ft/s\", hoist: \"0.1 ft/s\")";
    let stands = format!(
        "(model: {name:?}, at: (\"0 ft\", \"0 ft\", \"0 ft\"), heading: \"0 deg\", parts_of_line: 1, rates: {rates}, turn: \"1 deg/s\")"
    );
    alone(&stands, |value| Some(crane::crane(value, &Beside::default())))
}

/// A bucket truck of the catalog by its name, at the origin, slow.
pub fn catalog_bucket_truck(name: &str) -> Option<StandingLift> {
    let rates = "(slew: \"0.1 deg/s\", lower: \"0.1 deg/s\", upper: \"0.1 deg/s\", extend: \"0.1 ft/s\")";
    // Those that do not telescope, or have no lower boom, are refused a rate that they do not have.
    let all = [rates, &rates.replace(", extend: \"0.1 ft/s\"", ""), &rates.replace(" lower: \"0.1 deg/s\",", "")]
        .map(str::to_owned);
    all.iter().find_map(|rates| {
        let stands = format!(
            "stands(model: {name:?}, at: (\"0 ft\", \"0 ft\", \"0 ft\"), heading: \"0 deg\", method: gloves, rates: {rates})"
        );
        alone(&stands, |value| match bucket::lifts(value) {
            Stated::Stand(mut lifts) => lifts.pop(),
            Stated::Absent(_) => None,
        })
    })
}

/// What a text of its own says; `None` where anything is wrong with it.
fn alone<T>(text: &str, read: impl FnOnce(&Value<'_>) -> Option<T>) -> Option<T> {
    let node = read_tree(text).ok()?;
    let faults = RefCell::new(Faults::new(""));
    let found = read(&Value::document(&node, &faults));
    found.filter(|_| faults.borrow().is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog;

    #[test]
    fn every_machine_of_the_catalog_stands_by_itself() {
        for name in catalog::crane_names() {
            assert_eq!(catalog_crane(name).map(|crane| crane.name).as_deref(), Some(name));
        }
        for name in catalog::bucket_truck_names() {
            assert!(catalog_bucket_truck(name).is_some_and(|lift| lift.facts().model == name), "{name}");
        }
        assert!(
            catalog_crane("Tallis 46").is_none() && catalog_crane("\"").is_none() && catalog_bucket_truck("").is_none()
        );
    }
}
