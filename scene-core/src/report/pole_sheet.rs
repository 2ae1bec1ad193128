//! The sheet of one bare pole, as text.

use crate::pole_sheet::{PoleSheet, SPACE_M};
use crate::quantity::show::{Round, Units, show_feet_inches, show_mass, show_percent, show_small_length};

/// Light ends are rounded down and heavy ends up; what limits a person is rounded to the side that asks more of him.
pub fn render(sheet: &PoleSheet, units: Units) -> String {
    let mut text = format!(
        "{} class {} {}, bare\n\n",
        show_feet_inches(sheet.length_m, units, Round::Nearest),
        sheet.class,
        sheet.species
    );
    let mut line = |head: &str, says: String| text.push_str(&format!("  {head:<12}{says}\n"));
    let kg = |kg: f64, round| show_mass(kg, units, round);
    let (light, heavy) = (kg(sheet.kg.low(), Round::Down), kg(sheet.kg.high(), Round::Up));
    match sheet.weighed_kg {
        None => line("weight", format!("{light} to {heavy}")),
        Some(weighed_kg) => {
            line("weight", format!("{} by its ticket; {light} to {heavy} by its class", kg(weighed_kg, Round::Up)));
            if weighed_kg < sheet.kg.low() {
                line(
                    "",
                    "The ticket is lighter than any pole of this class: check both, and plan for the class.".to_owned(),
                );
            } else if weighed_kg > sheet.kg.high() {
                line(
                    "",
                    "The ticket is heavier than any pole of this class: check both, and plan for the ticket."
                        .to_owned(),
                );
            }
        }
    }
    if let Some(published_kg) = sheet.published_kg {
        let (low, high) = (kg(published_kg.low(), Round::Down), kg(published_kg.high(), Round::Up));
        line("", format!("{low} to {high} as suppliers publish it"));
    }
    let height = |m: f64, round| show_feet_inches(m, units, round);
    let balance = sheet.balance_m;
    line(
        "balance",
        format!("{} to {} from the butt", height(balance.low(), Round::Down), height(balance.high(), Round::Up)),
    );
    line(
        "choker",
        match sheet.choker_m {
            Some(choker) => format!(
                "from {} to {} from the butt: over the balance point, short of the tip",
                height(choker.low(), Round::Up),
                height(choker.high(), Round::Down)
            ),
            None => "no place between the balance point and the tip".to_owned(),
        },
    );
    line("set", format!("{} in soil: {}", height(sheet.depth_m, Round::Up), sheet.depth_source));
    if let Some(rock_m) = sheet.rock_depth_m {
        line("", format!("{} in solid rock: lineman's handbooks", height(rock_m, Round::Up)));
    }
    let across = |m: f64| show_small_length(m, units, Round::Up);
    line("butt, top", format!("up to {} and {} across", across(sheet.butt_m), across(sheet.top_m)));
    let space = show_feet_inches(SPACE_M, units, Round::Up);
    line(
        "hole",
        format!(
            "at least {} across, for {space} free around the butt",
            show_feet_inches(sheet.hole_m, units, Round::Up)
        ),
    );
    text.push('\n');
    let mut note = |says: String| text.push_str(&format!("{says}\n"));
    note(format!(
        "From the least size of the class and the lightest timber to {} more around and the heaviest.",
        show_percent(sheet.oversize, Round::Nearest)
    ));
    note(
        "Hardware and covers add weight and move the balance point up. Weigh the pole and find its balance by trial."
            .to_owned(),
    );
    if !sheet.from_memory.is_empty() {
        note(format!(
            "CAUTION: the {} come from memory, not from a published table. Tape and weigh this pole.",
            sheet.from_memory
        ));
    }
    note("Sources: sizes ANSI O5.1; densities of published treated weights, their ends from memory; space in the hole Army".to_owned());
    note("subcourse SS0439. This is no lift plan: plumbrise new JOB.ron starts one.".to_owned());
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pole_sheet::{Asked, OVERSIZE, pole_sheet};
    use crate::quantity::unit::{FOOT_M, POUND_KG};

    fn asked() -> Asked {
        let (class, species) = ("3".to_owned(), "southern pine".to_owned());
        Asked { length_m: 45.0 * FOOT_M, class, species, oversize: OVERSIZE, weighed_kg: None }
    }

    /// By hand: 25.0449 ft3 at 48 lb/ft3 is 1202.2 lb, at 75 with 6 percent more around 2110.5 lb; published 59.6 to 61.1 lb/ft3
    /// makes 1492.7 to 1530.2 lb.
    #[test]
    fn light_ends_go_down_and_heavy_ends_up() {
        let text = render(&pole_sheet(&asked()).unwrap(), Units::Us);
        assert!(text.starts_with("45 ft class 3 southern yellow pine, bare\n"), "{text}");
        for says in [
            "weight      1202 lb to 2111 lb\n",
            "1492 lb to 1531 lb as suppliers publish it",
            "set         6 ft 6 in in soil",
            "4 ft 6 in in solid rock",
            "6.0 % more around",
        ] {
            assert!(text.contains(says), "{says:?} is not in\n{text}");
        }
        assert!(
            !text.to_lowercase().contains("safe") && text.lines().all(|line| line.chars().count() <= 120),
            "{text}"
        );
    }

    #[test]
    fn a_ticket_beyond_the_range_says_which_figure_to_plan_for() {
        let with = |pounds: f64| {
            let asked = Asked { weighed_kg: Some(pounds * POUND_KG), ..asked() };
            render(&pole_sheet(&asked).unwrap(), Units::Us)
        };
        assert!(with(1250.0).contains("1250 lb by its ticket; 1202 lb to 2111 lb by its class"));
        assert!(!with(1250.0).contains("check both"));
        assert!(with(900.0).contains("lighter than any pole of this class"));
        assert!(with(2500.0).contains("heavier than any pole of this class"));
    }

    #[test]
    fn meters_are_for_who_asks_for_them() {
        let text = render(&pole_sheet(&asked()).unwrap(), Units::Si);
        // The rule of 10 percent and 2 ft keeps its name.
        let text = text.replace("and 2 ft (", "(");
        assert!(text.contains("545 kg to 958 kg") && !text.contains(" lb") && !text.contains(" ft "), "{text}");
    }
}
