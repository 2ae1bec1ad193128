//! Statements that something is not near, as a new scene leaves them open.

use crate::finding::{self, Finding};
use crate::site::{OPEN_ABSENCE, Site};

pub(super) fn findings(site: &Site) -> Vec<Finding> {
    let open = |stated: &String| {
        let (what, why) = stated.split_once(": ")?;
        is_open(why).then(|| finding::stop(finding::Site::AbsenceOpen { what: what.to_owned() }))
    };
    site.declared_absent.iter().filter_map(open).collect()
}

/// Case, blanks and marks do not make a statement of it.
fn is_open(why: &str) -> bool {
    let letters =
        |text: &str| text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect::<String>();
    letters(why) == letters(OPEN_ABSENCE)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_new_scene_leaves_open_is_a_stop_until_somebody_looked() {
        let kind = crate::scene::kinds::KINDS[1];
        let told = |why: &str| {
            let text = kind.text.replace(OPEN_ABSENCE, why);
            let site = crate::scene::read("t", &text).unwrap_or_else(|faults| panic!("{}", faults[0])).into_site();
            findings(&site).len()
        };
        assert_eq!(told(OPEN_ABSENCE), 5);
        assert_eq!(told("Who looked; when; how far?"), 5);
        assert_eq!(told("Dale walked 200 ft each way on 9 June"), 0);
    }
}
