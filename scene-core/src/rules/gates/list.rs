//! The list that comes with each route of work.

mod closer;
mod common;
mod crane_table;
mod line_work;

use super::item::Status::Memory;
use super::item::{Item, item};
use crate::site::Route;
use crate::site::crew::Role::{Employer, Owner, RegisteredEngineer};
use closer::CLOSER;
use common::COMMON;
use crane_table::CRANE_TABLE;
use line_work::{CRANE_AT_LINE_WORK, DIGGER_DERRICK, LINE_WORK, WHY_LINE_RULES};

/// Answered on the closer-by-agreement route where a rule or the agreement lets double cover excuse the load.
pub(crate) const LOAD_COVER_RULE: &str = "load_cover_rule";

/// Who set the least distance on the closer-by-agreement route, and which.
pub(crate) const AGREED_DISTANCE: &str = "agreed_distance";

/// Why the machine works by the line rules and not by the crane table.
pub(crate) const LINE_RULES: &str = "line_rules";

/// Asked of each machine by name under `live_machines`, and no item of a list.
pub(crate) const PER_MACHINE: [&str; 3] = ["live_machine", "truck_grounding", "off_the_truck"];

const COVER_RULE: Item = item(
    LOAD_COVER_RULE,
    "Who permits by which paper that double cover excuses the load from the approach distance",
    "stated by the scene",
    Memory,
)
.by(&[Owner, RegisteredEngineer, Employer])
.before()
.by_circuit()
.standing();

/// Answers that nobody is asked for.
static OPTIONAL: &[Item] = &[COVER_RULE];

/// The same where line work can be declared.
static OPTIONAL_CLOSER: &[Item] = &[COVER_RULE, WHY_LINE_RULES];

/// The whole list of a route, what is common to all routes first.
pub fn items(route: Route) -> impl Iterator<Item = &'static Item> {
    let (own, further): (&[Item], &[Item]) = match route {
        Route::CraneTable => (CRANE_TABLE, &[]),
        Route::CloserByAgreement => (CLOSER, &[]),
        Route::LineWork => (LINE_WORK, CRANE_AT_LINE_WORK),
        Route::DiggerDerrick => (LINE_WORK, DIGGER_DERRICK),
    };
    COMMON.iter().chain(own).chain(further)
}

/// What a scene on this route may answer besides.
pub fn optional(route: Route) -> impl Iterator<Item = &'static Item> {
    match route {
        Route::CloserByAgreement => OPTIONAL_CLOSER.iter(),
        Route::CraneTable | Route::LineWork | Route::DiggerDerrick => OPTIONAL.iter(),
    }
}

/// The item of this key, asked for or not.
pub(crate) fn find(route: Route, key: &str) -> Option<&'static Item> {
    items(route).chain(optional(route)).find(|item| item.key == key)
}
