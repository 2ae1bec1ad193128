//! What the crew lacks for the work.

use super::facts;

facts! {
    /// Roles and skills are said as people say them.
    Crew {
        NotStated = "crew_not_stated",
        RoleMissing { role: &'static str } = "crew_role_missing",
        NotQualified { name: String, role: &'static str, skill: &'static str } = "crew_not_qualified",
        TooFew { skill: &'static str, found: usize, needed: usize } = "crew_too_few",
        /// Two duties that one person cannot have at once.
        TwoDuties { name: String, one: &'static str, other: &'static str } = "crew_two_duties",
        PlaceNotOnCrew { name: String } = "place_not_on_crew",
        PlaceNotInRole { name: String, task: &'static str } = "place_not_in_role",
    }
}

impl Crew {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::NotQualified { name, .. }
            | Self::TwoDuties { name, .. }
            | Self::PlaceNotOnCrew { name }
            | Self::PlaceNotInRole { name, .. } => Some(name),
            Self::NotStated | Self::RoleMissing { .. } | Self::TooFew { .. } => None,
        }
    }
}
