//! Figures of the program's own tables that nobody has seen in a published one.

use super::facts;

facts! {
    Catalog {
        /// `what` with its article: "the conductor Poppy". `figures`: "rated strength and modulus".
        FromMemory { what: String, figures: String } = "from_memory",
    }
}

impl Catalog {
    pub fn subject(&self) -> Option<&str> {
        let Self::FromMemory { what, .. } = self;
        Some(what)
    }
}
