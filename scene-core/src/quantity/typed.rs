//! Marks that phones and drawings put where a keyboard has a plain one.

/// The text with plain marks: primes and curly quotes become `'` and `"`, two `'` become `"`, every dash that joins or negates
/// becomes `-`, and a fraction of one letter becomes `1/2`.
pub(super) fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len() + 8);
    for letter in text.chars() {
        match letter {
            '\u{2032}' | '\u{2018}' | '\u{2019}' | '\u{b4}' => plain.push('\''),
            '\u{2033}' | '\u{201c}' | '\u{201d}' => plain.push('"'),
            // Hyphen, hyphen that does not break, en dash, minus.
            '\u{2010}' | '\u{2011}' | '\u{2013}' | '\u{2212}' => plain.push('-'),
            '\u{2044}' => plain.push('/'),
            letter => match FRACTIONS.iter().find(|(fraction, _)| *fraction == letter) {
                Some((_, digits)) => plain.extend([" ", digits]),
                None => plain.push(letter),
            },
        }
    }
    plain.replace("''", "\"")
}

const FRACTIONS: [(char, &str); 9] = [
    ('\u{bc}', "1/4"),
    ('\u{bd}', "1/2"),
    ('\u{be}', "3/4"),
    ('\u{2153}', "1/3"),
    ('\u{2154}', "2/3"),
    ('\u{215b}', "1/8"),
    ('\u{215c}', "3/8"),
    ('\u{215d}', "5/8"),
    ('\u{215e}', "7/8"),
];

/// `tail` without the hyphen that joins it to the feet before it, as in `7'-6"`.
///
/// The hyphen touches both, or stands between blanks after the mark `'`. Any other hyphen might be a sign, and stays.
pub(super) fn after_joint<'t>(unit: &str, tail: &'t str) -> &'t str {
    let Some(after) = tail.strip_prefix('-') else { return tail };
    let inches = after.trim_start();
    let spaced = (unit.ends_with(char::is_whitespace), inches.len() < after.len());
    let joins = match spaced {
        (false, false) => true,
        (true, true) => unit.trim() == "'",
        _ => false,
    };
    if joins && inches.starts_with(|c: char| c.is_ascii_digit()) { inches } else { tail }
}
