//! Sentences of findings name each quantity in both systems, `4.14 ft (1.26 m)`; a reader gets the one asked for.

use crate::quantity::show::Units;

const US: [&str; 7] = ["ft", "in", "lb", "lbf", "mph", "psf", "lb/ft3"];
const SI: [&str; 7] = ["m", "mm", "kg", "kN", "m/s", "kPa", "kg/m3"];

/// The sentence with every quantity that stands in both systems in one of them; the rest as it is.
pub fn in_units(sentence: &str, units: Units) -> String {
    let mut kept = String::new();
    let mut rest = sentence;
    while let Some((before, after)) = rest.split_once(" (") {
        match after.split_once(')').and_then(|(inner, tail)| Some((both(before, inner)?, inner, tail))) {
            Some((_, _, tail)) if units == Units::Us => {
                kept.push_str(before);
                rest = tail;
            }
            Some((head, inner, tail)) => {
                kept.extend([head, inner]);
                rest = tail;
            }
            None => {
                kept.extend([before, " ("]);
                rest = after;
            }
        }
    }
    kept + rest
}

/// What stands before the US quantity that ends `before`, when `inner` is an SI quantity.
fn both<'s>(before: &'s str, inner: &str) -> Option<&'s str> {
    let (number, unit) = inner.split_once(' ')?;
    let si = SI.contains(&unit) && number.parse::<f64>().is_ok();
    let (value, unit) = before.rsplit_once(' ')?;
    let start = value.rfind(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-')).map_or(0, |at| at + 1);
    let (head, number) = value.split_at_checked(start)?;
    (si && US.contains(&unit) && number.parse::<f64>().is_ok()).then_some(head)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::show::{Round, say_force, say_length};

    #[test]
    fn a_quantity_in_both_systems_is_shown_in_one() {
        let text = "the choke at 27.7 ft (8.43 m) or higher, -1.2 ft (-0.35 m) or lower; 500 lbf (2.22 kN)";
        assert_eq!(in_units(text, Units::Us), "the choke at 27.7 ft or higher, -1.2 ft or lower; 500 lbf");
        assert_eq!(in_units(text, Units::Si), "the choke at 8.43 m or higher, -0.35 m or lower; 2.22 kN");
    }

    #[test]
    fn other_brackets_stay() {
        for text in
            ["29 CFR 1910.269 (recalled in part)", "wire B (breeze)", "5 ft (about", "é (1 m) ft (2 m)", "a (", ""]
        {
            assert_eq!(in_units(text, Units::Si), text);
            assert_eq!(in_units(text, Units::Us), text);
        }
    }

    #[test]
    fn what_the_rooms_say_is_understood() {
        assert_eq!(say_length(1.2629, Round::Down), "4.14 ft (1.26 m)");
        assert_eq!(in_units(&say_length(1.2629, Round::Up), Units::Us), "4.15 ft");
        assert_eq!(in_units(&say_length(-1.2629, Round::Up), Units::Si), "-1.26 m");
        assert_eq!(in_units(&say_force(2001.7, Round::Nearest), Units::Us), "450 lbf");
        assert_eq!(in_units(&say_force(2001.7, Round::Nearest), Units::Si), "2.00 kN");
    }
}
