//! What is not known of what machines stand on.

use super::facts;

facts! {
    Carrier {
        /// `machine` with its article: "the crane".
        NotStated { machine: String } = "carrier_not_stated",
        FloatsNotStated { machine: String } = "outriggers_not_stated",
    }
}

impl Carrier {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::NotStated { machine } | Self::FloatsNotStated { machine } => Some(machine),
        }
    }
}
