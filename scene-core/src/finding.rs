//! What a check found, as data.

use serde::Serialize;

/// How much a finding weighs. There is no grade for "good".
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Grade {
    Note,
    Caution,
    Stop,
}

/// One finding: where, when, by how much, by which rule, and what would mend it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finding {
    pub grade: Grade,
    /// Stable, lower case with underscores: `approach_short`, `choker_below_balance`.
    pub code: &'static str,
    /// A whole sentence that a foreman understands, numbers in people's units.
    pub message: String,
    /// Index of the step of the sequence.
    pub step: Option<usize>,
    pub time_s: Option<f64>,
    /// What was found and what it was held against, in `unit` (SI: "m", "kg", "N", "Pa", "percent").
    pub value: Option<f64>,
    pub limit: Option<f64>,
    pub unit: &'static str,
    /// Standard and paragraph, maker's document, textbook, or "common practice".
    pub rule: String,
    /// What would mend it; empty when nothing sensible can be said.
    pub mend: String,
}

impl Finding {
    pub fn new(grade: Grade, code: &'static str, message: impl Into<String>) -> Self {
        Self {
            grade,
            code,
            message: message.into(),
            step: None,
            time_s: None,
            value: None,
            limit: None,
            unit: "",
            rule: String::new(),
            mend: String::new(),
        }
    }

    pub fn stop(code: &'static str, message: impl Into<String>) -> Self {
        Self::new(Grade::Stop, code, message)
    }

    pub fn caution(code: &'static str, message: impl Into<String>) -> Self {
        Self::new(Grade::Caution, code, message)
    }

    pub fn note(code: &'static str, message: impl Into<String>) -> Self {
        Self::new(Grade::Note, code, message)
    }

    #[must_use]
    pub fn at_step(mut self, step: usize) -> Self {
        self.step = Some(step);
        self
    }

    #[must_use]
    pub fn at_time(mut self, time_s: f64) -> Self {
        self.time_s = Some(time_s);
        self
    }

    #[must_use]
    pub fn measured(mut self, value: f64, limit: f64, unit: &'static str) -> Self {
        self.value = Some(value);
        self.limit = Some(limit);
        self.unit = unit;
        self
    }

    #[must_use]
    pub fn rule(mut self, rule: impl Into<String>) -> Self {
        self.rule = rule.into();
        self
    }

    #[must_use]
    pub fn mend(mut self, mend: impl Into<String>) -> Self {
        self.mend = mend.into();
        self
    }
}
