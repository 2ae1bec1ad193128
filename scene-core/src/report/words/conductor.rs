//! How the wires hang, in words.

use super::{Words, show_force, show_length};
use crate::finding::{Conductor, NotHung};
use crate::quantity::show::{Round, Units};

const MEASURE: &str = "Measure the sag at midspan from the chord, or state the horizontal tension, lowest and highest.";

pub(super) fn words(fact: &Conductor, units: Units) -> Words {
    let up = |n: &f64| show_force(*n, units, Round::Up);
    match fact {
        Conductor::WeatherMissing => Words::new(
            "No weather case is stated, so that no wire can be hung.",
            "State at least still air and the most wind that the work may be done in.",
            "",
        ),
        Conductor::WireUnknown { wire } => Words::new(
            format!("{wire} has no spans, or its conductor no diameter or weight."),
            "Name a conductor from the catalog, and at least one span.",
            "",
        ),
        Conductor::RunBroken { wire } => {
            Words::new(format!("A span of {wire} does not start where the one before it ends."), "", "")
        }
        Conductor::CannotHang { wire, span, why } => Words::new(
            format!("Span {span} of {wire} cannot be hung: {}.", not_hung(why)),
            match why {
                NotHung::NoStiffness | NotHung::NoMetal => {
                    "State the conductor with its stiffness, expansion and core under conductors, or measure the sag."
                }
                _ => MEASURE,
            },
            "",
        ),
        Conductor::NotHung { wire } => Words::new(
            format!("How wire {wire} hangs is not known at this step: nothing was compared with it."),
            "See what else is found of this wire.",
            "",
        ),
        Conductor::HeldIced { held } => Words::new(
            format!("{held} is to hold out a wire with ice on it; that is not computed."),
            "Wait until the ice is off, and leave it out of the span.",
            "",
        ),
        Conductor::HeldUnusable { held } => Words::new(
            format!("{held} does not name a point inside a span and a place to hold it at."),
            "Name wire and span, a fraction of the span between 0 and 1, and the point it is held at.",
            "",
        ),
        Conductor::HeldNotComputed { held, why } => Words::new(
            format!("{held} cannot be computed: {}.", not_hung(why)),
            "Hold the wire away from its supports, nearer to where it hangs.",
            "",
        ),
        Conductor::HeldTimes { held } => Words::new(
            format!(
                "{held} is not put on by one step and taken off by a later one. It is taken as on its way all the time."
            ),
            "Name the step that puts it on and a later step that takes it off.",
            "",
        ),
        Conductor::HeldBeside { held, wire, span, iced } => Words::new(
            format!(
                "How span {span} of {wire} hangs while {held} holds it out cannot be bounded{}.",
                if *iced { ": it has ice on it" } else { "" }
            ),
            "State whether the wire is tied at its supports, or hold it out less far.",
            "",
        ),
        Conductor::HeldTwiceInSpan { one, other, wire } => Words::new(
            format!(
                "{one} and {other} both hold {wire} in one span at the same time; how it hangs between them is not computed."
            ),
            "Hold the wire at one point of a span at a time.",
            "",
        ),
        Conductor::HeldTwiceOnWire { one, other, wire } => Words::new(
            format!(
                "{one} and {other} both hold {wire} out at the same time and nothing stated holds it between them; how it hangs \
                 there is not computed."
            ),
            "State that it is tied at a support between them, or hold it out in one span at a time.",
            "",
        ),
        Conductor::HeldTooShort { held } => Words::new(
            format!(
                "{held} cannot be shown to reach: between fixed supports there is not enough wire in the span without stretching it."
            ),
            "Hold it nearer to where it hangs, nearer to midspan, slacken the span, or state the conductor's stiffness.",
            "unstressed length of each side kept",
        ),
        Conductor::HeldUnderLoad { held } => Words::new(
            format!("{held} is put out, changed or let back while the pole is on the hook."),
            "Hold the phase aside before the pole is taken, and let it back when the pole stands and the boom is away.",
            "common practice: no line work beside a hanging pole",
        ),
        Conductor::HeldWhileMoving { held, step } => Words::new(
            format!("{held} is put out or let back in \"{step}\", in which a machine moves."),
            "Put it out and let it back in a step of work of its own.",
            "common practice: the boom stands still while phases are moved",
        ),
        Conductor::HolderRatingMissing { held, force_n } => Words::new(
            format!("{held} pulls with up to {} and its holder has no rating.", up(force_n)),
            "State what the holding arm is rated for.",
            "",
        ),
        Conductor::HolderOverloaded { held, force_n, rating_n } => Words::new(
            format!(
                "{held} pulls with up to {} on a holder rated for {}.",
                up(force_n),
                show_force(*rating_n, units, Round::Down)
            ),
            "Hold it nearer to where it hangs, or with a stronger arm.",
            "holder's rating",
        ),
        Conductor::StrengthMissing { held, wire, tension_n } => Words::new(
            format!(
                "{held} brings {wire} to a tension of up to {} and its conductor has no rated strength.",
                up(tension_n)
            ),
            "State the conductor's rated strength.",
            "",
        ),
        Conductor::Overtensioned { held, wire, tension_n, strength_n } => Words::new(
            format!(
                "{held} brings {wire} to a tension of up to {}, {:.0} percent of its rated strength, with fixed supports.",
                up(tension_n),
                100.0 * tension_n / strength_n
            ),
            "Hold it nearer to where it hangs, or nearer to midspan.",
            "common practice: 60 percent of rated strength",
        ),
        Conductor::OverStrength { wire, tension_n, strength_n } => Words::new(
            {
                let breaks_at = show_force(*strength_n, units, Round::Down);
                match tension_n.is_finite() {
                    true => format!(
                        "{wire} would pull {}, and its conductor breaks at {breaks_at}: it cannot hang so.",
                        up(tension_n)
                    ),
                    false => format!(
                        "Nothing limits the pull of {wire} as stated, and its conductor breaks at {breaks_at}: it cannot \
                         hang so."
                    ),
                }
            },
            "Measure the sag again, and look at its unit: feet, inches or meters.",
            "the conductor's rated strength",
        ),
        Conductor::BelowGround { wire, below_m } => Words::new(
            format!(
                "{wire} hangs to the ground or below it, by {}: it cannot be so.",
                show_length(*below_m, units, Round::Up)
            ),
            "Correct the heights of its points, or its sag; look at their units.",
            "geometry",
        ),
        Conductor::InOnePlace { wire, other } => Words::new(
            format!("{wire} and {other} have a span on the same two supports: two wires cannot be in one place."),
            "Correct the points of the one that is typed wrong.",
            "geometry",
        ),
        Conductor::NothingAbeam => Words::new(
            "No wire passes the hole: the hole lies beyond the ends of every wire.",
            "State every span that passes the hole, or correct the hole or the points.",
            "geometry",
        ),
    }
}

/// In meters and newtons, whatever is asked for.
fn not_hung(why: &NotHung) -> String {
    match why {
        NotHung::NoStiffness => "its conductor has no stiffness (modulus times area)".to_owned(),
        NotHung::NoMetal => "its conductor has no coefficient of expansion and no word on its core".to_owned(),
        NotHung::Unusable => {
            "its temperatures, elongation, ice or ruling span are not numbers that can be computed with".to_owned()
        }
        NotHung::NoRun { run_m, rise_m } => {
            format!("the supports are {run_m} m apart horizontally and {rise_m} m in height; a span needs some run")
        }
        NotHung::NoTension { tension_n, load_n_per_m } => {
            format!("a horizontal tension of {tension_n} N under {load_n_per_m} N/m; both must be above zero")
        }
        NotHung::NoSag { sag_m } => format!("a sag of {sag_m} m; it must be above zero"),
        NotHung::TooShort { length_m, chord_m } => {
            format!("{length_m} m of wire do not reach over a chord of {chord_m} m")
        }
        NotHung::TooSlack { run_m } => format!("the wire is too slack for its run of {run_m} m"),
    }
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Conductor> {
    let (held, wire, other) = (|| "arm".to_owned(), || "B".to_owned(), || "second arm".to_owned());
    let why = [
        NotHung::NoStiffness,
        NotHung::NoMetal,
        NotHung::Unusable,
        NotHung::NoRun { run_m: 0.0, rise_m: 5.0 },
        NotHung::NoTension { tension_n: 0.0, load_n_per_m: 3.0 },
        NotHung::NoSag { sag_m: 0.0 },
        NotHung::TooShort { length_m: 40.0, chord_m: 50.0 },
        NotHung::TooSlack { run_m: 50.0 },
    ];
    let mut examples = vec![
        Conductor::WeatherMissing,
        Conductor::WireUnknown { wire: wire() },
        Conductor::RunBroken { wire: wire() },
        Conductor::NotHung { wire: wire() },
        Conductor::HeldIced { held: held() },
        Conductor::HeldUnusable { held: held() },
        Conductor::HeldTimes { held: held() },
        Conductor::HeldBeside { held: held(), wire: wire(), span: 2, iced: true },
        Conductor::HeldBeside { held: held(), wire: wire(), span: 2, iced: false },
        Conductor::HeldTwiceInSpan { one: held(), other: other(), wire: wire() },
        Conductor::HeldTwiceOnWire { one: held(), other: other(), wire: wire() },
        Conductor::HeldTooShort { held: held() },
        Conductor::HeldUnderLoad { held: held() },
        Conductor::HeldWhileMoving { held: held(), step: "Swing".to_owned() },
        Conductor::HolderRatingMissing { held: held(), force_n: 2000.0 },
        Conductor::HolderOverloaded { held: held(), force_n: 2000.0, rating_n: 1500.0 },
        Conductor::StrengthMissing { held: held(), wire: wire(), tension_n: 9000.0 },
        Conductor::Overtensioned { held: held(), wire: wire(), tension_n: 9000.0, strength_n: 12_000.0 },
        Conductor::OverStrength { wire: wire(), tension_n: 30_000.0, strength_n: 19_500.0 },
        Conductor::OverStrength { wire: wire(), tension_n: f64::INFINITY, strength_n: 19_500.0 },
        Conductor::BelowGround { wire: wire(), below_m: 0.5 },
        Conductor::InOnePlace { wire: wire(), other: other() },
        Conductor::NothingAbeam,
    ];
    examples.extend(why.map(|why| Conductor::CannotHang { wire: wire(), span: 1, why }));
    examples.extend(why.map(|why| Conductor::HeldNotComputed { held: held(), why }));
    examples
}
