//! What is wrong with the machine's own shape.

use super::facts;

facts! {
    /// The boom's sections as stated do not make up the boom. Meters from the foot pin.
    Motion {
        /// Of a boom this long, a section begins beyond the end of the section before it. Sections count from 1.
        SectionApart { boom_m: f64, section: usize, rear_m: f64, reached_m: f64 } = "boom_sections_apart",
        LastSectionApart { boom_m: f64, reached_m: f64 } = "boom_sections_apart",
    }
}

impl Motion {
    pub fn subject(&self) -> Option<&str> {
        None
    }
}
