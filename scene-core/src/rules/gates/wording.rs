//! Whether words say something: what people type to get past a form.

/// The words of a text in lower case, without punctuation.
pub(crate) fn words_of(text: &str) -> Vec<String> {
    let words = text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    words.map(str::to_lowercase).collect()
}

/// A text as it is compared with another one: words with one blank between.
pub(crate) fn plain(text: &str) -> String {
    words_of(text).join(" ")
}

/// Words that fill a field and say nothing.
const FILLERS: [&str; 65] = [
    "a",
    "above",
    "all",
    "and",
    "any",
    "applicable",
    "arranged",
    "as",
    "asdf",
    "below",
    "blah",
    "by",
    "check",
    "checked",
    "complete",
    "completed",
    "confirmed",
    "covered",
    "decided",
    "done",
    "etc",
    "fine",
    "fixed",
    "good",
    "handled",
    "here",
    "idk",
    "in",
    "is",
    "it",
    "later",
    "n",
    "na",
    "needed",
    "nil",
    "no",
    "none",
    "normal",
    "not",
    "null",
    "of",
    "off",
    "ok",
    "okay",
    "on",
    "per",
    "place",
    "plan",
    "planned",
    "ready",
    "same",
    "see",
    "set",
    "sure",
    "test",
    "the",
    "to",
    "unknown",
    "usual",
    "usually",
    "will",
    "work",
    "x",
    "yes",
    "be",
];

/// Marks of a field that somebody means to fill in later.
const MARKS: [&str; 10] = ["tbd", "tba", "todo", "xxx", "xx", "lorem", "placeholder", "fixme", "pending", "unassigned"];

/// Phrases that say that somebody else knows, or that nothing was decided.
const PHRASES: [&str; 22] = [
    "as discussed",
    "as needed",
    "as required",
    "ask dale",
    "ask the foreman",
    "company policy",
    "crew knows",
    "everyone knows",
    "fill in",
    "in progress",
    "not applicable",
    "not needed",
    "not required",
    "same as last time",
    "see above",
    "see attached",
    "to be arranged",
    "to be confirmed",
    "to be decided",
    "we always do",
    "will be arranged",
    "will be done",
];

/// How something is done, in so few or such words that nobody learns it from them.
pub(crate) fn says_nothing(text: &str) -> bool {
    let words = words_of(text);
    let joined = words.join(" ");
    let mut telling: Vec<&str> = words
        .iter()
        .map(String::as_str)
        .filter(|word| word.chars().any(char::is_alphabetic) && word.len() > 1 && !FILLERS.contains(word))
        .collect();
    telling.sort_unstable();
    telling.dedup();
    words.len() < 3
        || telling.len() < 2
        || words.iter().any(|word| MARKS.contains(&word.as_str()))
        || PHRASES.iter().any(|phrase| joined == *phrase || (words.len() < 7 && joined.contains(phrase)))
}

/// What names a document so that somebody else can find it: words, and a number or a date.
pub(crate) fn names_document(text: &str) -> bool {
    let words = words_of(text);
    let has = |of: fn(char) -> bool| text.chars().any(of);
    let telling = words
        .iter()
        .any(|word| word.chars().filter(|c| c.is_alphabetic()).count() >= 2 && !FILLERS.contains(&word.as_str()));
    let marked = words.iter().any(|word| MARKS.contains(&word.as_str()));
    telling && !marked && has(|c| c.is_ascii_digit())
}

/// A text whose words are looked for.
pub(crate) struct Spoken(String);

impl Spoken {
    pub(crate) fn of(text: &str) -> Self {
        Self(format!(" {} ", plain(text)))
    }

    /// Whether it has these words one after the other.
    pub(crate) fn has(&self, words: &str) -> bool {
        let words = plain(words);
        !words.is_empty() && self.0.contains(&format!(" {words} "))
    }
}

/// A circuit that a text names by the name of one of these and another number: `Juniper 6`, where there is `Juniper 4`.
pub(crate) fn other_circuit<'c>(text: &str, circuits: impl Iterator<Item = &'c str> + Clone) -> Option<String> {
    let said = words_of(text);
    for circuit in circuits.clone() {
        let name = words_of(circuit);
        let Some((number, before)) = name.split_last() else { continue };
        if before.is_empty() || !number.bytes().all(|b| b.is_ascii_digit()) {
            continue;
        }
        for (index, window) in said.windows(name.len()).enumerate() {
            if !window.starts_with(before) {
                continue;
            }
            let other = window.last().filter(|word| word.len() < 4 && word.bytes().all(|b| b.is_ascii_digit()));
            // "Juniper 12 kV" and "Juniper 12.47 kV" are no circuits.
            let next = said.get(index + name.len());
            let voltage = next.is_some_and(|next| next == "kv" || next.bytes().all(|b| b.is_ascii_digit()));
            let found = window.join(" ");
            let known = circuits.clone().any(|circuit| plain(circuit) == found);
            if other.is_some() && !voltage && !known {
                return Some(found);
            }
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_people_type_to_get_past_a_form_says_nothing() {
        for text in [
            "",
            " ",
            "no",
            "x",
            "left on",
            "n/a",
            "tbd",
            "yes",
            "ok",
            "none",
            "N.A.",
            "-",
            "...",
            "see above",
            "as per usual",
            "to be decided later",
            "will be done",
            "OK ok ok",
            "x x x x",
            "checked and ok",
            "it is done",
            "all good here",
            "not applicable here",
            "123 456 789",
            "same same same same",
            "foreman",
            "TBD by the foreman on Tuesday",
            "crew knows what to do",
            "done as planned",
        ] {
            assert!(says_nothing(text), "{text}");
        }
    }

    #[test]
    fn what_somebody_can_act_on_says_something() {
        for text in [
            "two dry polypropylene lines, Ruiz and Park",
            "nobody under the pole, framing waits until it stands",
            "Park attends the hole; plated when left",
            "shift inspection before set-up",
            "Cones at the tail's sweep",
        ] {
            assert!(!says_nothing(text), "{text}");
        }
    }

    #[test]
    fn a_document_is_named_by_a_number_or_a_date() {
        for text in ["", "x", "policy", "company policy", "the permit", "12", "tbd 5", "n/a 1", "see file"] {
            assert!(!names_document(text), "{text}");
        }
        for text in
            ["locate ticket 26-1184", "Loading sheet 7A", "approach table, revision of January 2025", "JHA-2231"]
        {
            assert!(names_document(text), "{text}");
        }
    }

    #[test]
    fn another_circuit_of_the_same_station_is_seen() {
        let circuits = ["Juniper 4", "Meadow 1"];
        let other = |text| other_circuit(text, circuits.iter().copied());
        assert_eq!(other("hot-line tag 88 on Juniper 6"), Some("juniper 6".to_owned()));
        assert_eq!(other("tag on JUNIPER-6, held by the desk"), Some("juniper 6".to_owned()));
        assert_eq!(other("tag 26-0304 on Juniper 4 and Meadow 1"), None);
        assert_eq!(other("Juniper 12.47 kV line, Juniper 12 kV, Juniper 2026"), None);
        assert_eq!(other("Meadow 2"), Some("meadow 2".to_owned()));
        assert_eq!(other(""), None);
    }

    #[test]
    fn words_are_found_as_words() {
        assert!(Spoken::of("Tag 88, Juniper 4.").has("juniper 4"));
        assert!(!Spoken::of("Tag 88, Juniper 44").has("Juniper 4") && !Spoken::of("x").has(""));
    }
}
