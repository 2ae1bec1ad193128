//! What a [`Report`] says, for people as text and for machines as JSON.
//!
//! The JSON is the object `plumbrise-report/1`: keys carry their unit, a missing value is null and has a finding.

pub mod sentence;
pub mod table;
pub mod text;

use crate::outcome::Report;

impl Report {
    /// The report as one pretty JSON object. Numbers that are not finite become null.
    pub fn to_json(&self) -> String {
        let mut text = serde_json::to_string_pretty(self).unwrap_or_else(|fault| {
            // Only a map with keys that are not strings can fail, and there is none.
            format!("{{\"format\":\"plumbrise-report/1\",\"fault\":\"{fault}\"}}")
        });
        text.push('\n');
        text
    }
}
