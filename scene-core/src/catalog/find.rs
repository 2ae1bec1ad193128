//! Finding an entry of a list by what a person calls it.
//!
//! The exact name holds first. Otherwise names are compared as people hear them: case, blanks and punctuation do not count.
//! What could be two entries is never one of them: [`Found::Several`] names them.

/// What a name stands for.
#[derive(Clone, Debug, PartialEq)]
pub enum Found<T> {
    One(T),
    /// More than one entry could be meant; their names.
    Several(Vec<String>),
    None,
}

impl<T> Found<T> {
    pub fn one(self) -> Option<T> {
        match self {
            Self::One(entry) => Some(entry),
            _ => None,
        }
    }

    pub fn map<U>(self, with: impl FnOnce(T) -> U) -> Found<U> {
        match self {
            Self::One(entry) => Found::One(with(entry)),
            Self::Several(names) => Found::Several(names),
            Self::None => Found::None,
        }
    }
}

/// The entry of this name. An entry may stand several times under several names.
pub fn find<'n, T: PartialEq>(said: &str, entries: impl Iterator<Item = (T, &'n str)> + Clone) -> Found<T> {
    if let Some((entry, _)) = entries.clone().find(|(_, name)| *name == said) {
        return Found::One(entry);
    }
    let wanted = folded(said);
    if wanted.is_empty() {
        return Found::None;
    }
    let mut alike: Vec<(T, &str)> = Vec::new();
    for (entry, name) in entries.filter(|(_, name)| folded(name) == wanted) {
        if !alike.iter().any(|(other, _)| *other == entry) {
            alike.push((entry, name));
        }
    }
    one_of(alike)
}

fn one_of<T>(mut alike: Vec<(T, &str)>) -> Found<T> {
    match alike.pop() {
        None => Found::None,
        Some((entry, _)) if alike.is_empty() => Found::One(entry),
        Some((_, last)) => {
            let names = alike.iter().map(|(_, name)| *name).chain([last]);
            Found::Several(names.map(str::to_owned).collect())
        }
    }
}

/// A name without case, blanks and punctuation. What stands between two digits stays: "1/0" is not "10", nor "4 7" "47".
pub fn folded(name: &str) -> String {
    let letters: Vec<char> = name.chars().take(200).collect();
    let mut folded = String::with_capacity(letters.len());
    let mut i = 0;
    while let Some(letter) = letters.get(i) {
        if letter.is_alphanumeric() {
            folded.extend(letter.to_lowercase());
            i += 1;
            continue;
        }
        let end = letters.iter().skip(i).position(|next| next.is_alphanumeric()).map_or(letters.len(), |n| i + n);
        let digit = |at: Option<&char>| at.is_some_and(char::is_ascii_digit);
        let between = digit(i.checked_sub(1).and_then(|before| letters.get(before))) && digit(letters.get(end));
        if between {
            let gap: String = letters.iter().take(end).skip(i).filter(|gap| !gap.is_whitespace()).collect();
            folded.push_str(if gap.is_empty() { " " } else { &gap });
        }
        i = end;
    }
    folded
}

/// The words of a conductor's name: lower case, without units and fillers, "cu" for copper, "7w" for 7 wires.
pub(super) fn wire_words(name: &str) -> Vec<String> {
    let parted = |c: char| c.is_whitespace() || matches!(c, ',' | '#' | '(' | ')' | '-' | '"');
    let words = name.split(parted).map(str::to_lowercase).filter(|word| !word.is_empty());
    let words = words.filter(|word| !FILLERS.contains(&word.as_str()));
    let words = words.map(|word| match word.as_str() {
        "cu" => "copper".to_owned(),
        other => match other.strip_suffix('w').filter(|count| count.chars().all(|c| c.is_ascii_digit())) {
            Some(count) if !count.is_empty() => count.to_owned(),
            _ => word,
        },
    });
    words.take(20).collect()
}

const FILLERS: [&str; 14] = [
    "kcmil",
    "mcm",
    "awg",
    "no.",
    "bare",
    "conductor",
    "wire",
    "wires",
    "strand",
    "strands",
    "guy",
    "in",
    "in.",
    "str",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn case_blanks_and_punctuation_do_not_count_but_between_digits_they_do() {
        assert_eq!(folded("Southern  Yellow-Pine "), "southernyellowpine");
        assert_eq!(folded("Northfell40"), folded("NORTHFELL 40"));
        assert_ne!(folded("1/0"), folded("10"));
        assert_ne!(folded("4 6/1"), folded("46/1"));
        assert_ne!(folded("336.4"), folded("3364"));
        assert_eq!(folded("phase  1"), folded("Phase-1"));
        assert_eq!(folded(" -- "), "");
    }

    #[test]
    fn an_exact_name_holds_over_names_that_sound_like_it() {
        let entries = [(0, "A phase"), (1, "a phase"), (2, "B phase")];
        let find = |said: &str| find(said, entries.iter().copied());
        assert_eq!(find("a phase"), Found::One(1));
        assert_eq!(find("b-phase"), Found::One(2));
        assert_eq!(find("A-PHASE"), Found::Several(vec!["A phase".to_owned(), "a phase".to_owned()]));
        assert_eq!(find("C phase"), Found::None);
        assert_eq!(find(""), Found::None);
    }
}
