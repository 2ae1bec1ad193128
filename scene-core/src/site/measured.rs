//! Facts that somebody measured: who, how, and when.

/// One measurement, in the words of the person who states it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Measurement {
    /// Who measured.
    pub by: String,
    /// With what, and where.
    pub how: String,
    /// The day.
    pub on: String,
}

/// Words that fill a field and say nothing.
const SAYS_NOTHING: [&str; 12] =
    ["no", "none", "nobody", "unknown", "not known", "na", "n a", "tbd", "todo", "yes", "ok", "somebody"];

impl Measurement {
    /// It names somebody, a way, and a day. Nothing here judges whether they are true.
    pub fn is_whole(&self) -> bool {
        says_something(&self.by) && says_something(&self.how) && is_day(&self.on)
    }
}

/// At least two letters, and no placeholder.
pub(crate) fn says_something(text: &str) -> bool {
    let plain: String = text.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { ' ' }).collect();
    let plain = plain.split_whitespace().collect::<Vec<_>>().join(" ");
    plain.chars().filter(|c| c.is_alphabetic()).count() >= 2 && !SAYS_NOTHING.contains(&plain.as_str())
}

/// A number and the name of a month, or at least two numbers: "2 March", "2026-03-02", "3/2".
fn is_day(text: &str) -> bool {
    let numbers = text.split(|c: char| !c.is_ascii_digit()).filter(|part| !part.is_empty()).count();
    let letters = text.chars().filter(|c| c.is_alphabetic()).count();
    numbers >= 2 || (numbers == 1 && letters >= 3)
}

/// What of a wire somebody measured.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct WireMeasured {
    /// How it hangs: its sag, or its tension.
    pub sags: Option<Measurement>,
    /// The heights of its points.
    pub heights: Option<Measurement>,
    /// Where its points are in plan.
    pub spans: Option<Measurement>,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_measurement_names_somebody_a_way_and_a_day() {
        let of = |by: &str, how: &str, on: &str| Measurement { by: by.into(), how: how.into(), on: on.into() };
        assert!(of("Hale", "stick at midspan", "2 March").is_whole());
        assert!(of("Hale", "stick at midspan", "2026-03-02").is_whole());
        for (by, how, on) in [
            ("", "stick at midspan", "2 March"),
            ("x", "stick at midspan", "2 March"),
            ("N/A", "stick at midspan", "2 March"),
            ("Hale", "no", "2 March"),
            ("Hale", "…", "2 March"),
            ("Hale", "stick at midspan", "today"),
            ("Hale", "stick at midspan", "2"),
        ] {
            assert!(!of(by, how, on).is_whole(), "{by} {how} {on}");
        }
    }
}
