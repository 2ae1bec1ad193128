//! Whether people's places can be true.

use crate::finding::{self, Bodies, Finding};
use crate::site::Site;

pub(super) fn findings(site: &Site) -> Vec<Finding> {
    let people = site.neighbours.iter().flat_map(|all| &all.people);
    let twice = people.filter_map(|person| {
        let place = person.in_two_places()?;
        Some(finding::stop(Bodies::InTwoPlaces { person: person.name.clone(), place }))
    });
    twice.collect()
}
