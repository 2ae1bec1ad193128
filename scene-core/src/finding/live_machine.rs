//! What is missing should a machine become live: 29 CFR 1910.269(p)(4)(iii).

use super::facts;

facts! {
    /// Machines by name.
    LiveMachine {
        NotAnswered { machine: String } = "live_machine_not_answered",
        Unknown { machine: String, known: Vec<String> } = "live_machine_unknown",
        /// Neither covered lines, nor insulation, nor protected people.
        Unprotected { machine: String } = "live_machine_unprotected",
        NotInsulated { machine: String } = "live_machine_not_insulated",
        LinesBare { machine: String, bare: Vec<String> } = "live_machine_lines_bare",
        TechniquesMissing { machine: String, missing: Vec<&'static str> } = "live_machine_techniques",
        NotShown { machine: String } = "live_machine_not_shown",
        Lacks { machine: String, lacks: Vec<&'static str> } = "live_machine_incomplete",
    }
}

impl LiveMachine {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::NotAnswered { machine }
            | Self::Unknown { machine, .. }
            | Self::Unprotected { machine }
            | Self::NotInsulated { machine }
            | Self::LinesBare { machine, .. }
            | Self::TechniquesMissing { machine, .. }
            | Self::NotShown { machine }
            | Self::Lacks { machine, .. } => Some(machine),
        }
    }
}
