//! The bucket truck, in words.

use super::{GEOMETRY, Words, angle, length, mass};
use crate::finding::{Bucket, BucketJoint, Protection};
use crate::quantity::show::Units;

const LIFT: &str = "29 CFR 1910.269(p)(4)(i) [1926.959(d)(1)]";
const CAPACITY: &str = "the maker's rated capacity";
const ANOTHER_PLACE: &str = "Set the bucket truck up elsewhere, or state another place, side or elbow.";
const ANOTHER_ORDER: &str = "State another order of the controls, or another elbow.";
const KEEP_AWAY: &str = "Let nobody bring the bucket nearer than the required distance, or use an insulated lift.";

pub(super) fn words(fact: &Bucket, units: Units) -> Words {
    let m = |m: &f64| length(*m, units);
    let by = |joint: &BucketJoint, by: &f64| if joint.is_length { m(by) } else { angle(*by) };
    match fact {
        Bucket::NotStated => Words::new(
            "The scene does not say whether a bucket truck is used.",
            "State the bucket truck, or that there is none and who says so.",
            "",
        ),
        Bucket::NoTruck => {
            Words::new("There is no bucket truck whose bucket could be moved.", "State the truck.", GEOMETRY)
        }
        Bucket::PlaceMissing => Words::new(
            "Where the bucket is wanted is not a place.",
            "Give a station on the wire, or a point.",
            GEOMETRY,
        ),
        Bucket::RateMissing => Words::new(
            "A rate of the bucket truck that this step needs is missing or not above zero.",
            "State the rate of every control that is used.",
            GEOMETRY,
        ),
        Bucket::Linkage { joint, by: beyond } => Words::new(
            format!("On its way the booms would go {} beyond what the linkage allows.", by(joint, beyond)),
            ANOTHER_ORDER,
            GEOMETRY,
        ),
        Bucket::BelowGround { by_m } => Words::new(
            format!("The bucket's floor would be {} below the ground at the truck.", m(by_m)),
            ANOTHER_ORDER,
            GEOMETRY,
        ),
        Bucket::TooFar { by_m } => {
            Words::new(format!("The bucket does not reach there: {} is missing.", m(by_m)), ANOTHER_PLACE, GEOMETRY)
        }
        Bucket::TooNear { by_m } => Words::new(
            format!("The bucket does not come so near to its own truck: {} is missing.", m(by_m)),
            ANOTHER_PLACE,
            GEOMETRY,
        ),
        Bucket::BeyondLimit { joint, by: beyond } => {
            let (what, beyond) = (joint.name, by(joint, beyond));
            let message = format!("The bucket does not reach there: the {what} would be {beyond} beyond its limit.");
            Words::new(message, ANOTHER_PLACE, GEOMETRY)
        }
        Bucket::InsulationUnknown => Words::new(
            "Whether the bucket truck is insulated is not stated, so that all of it keeps the full distance.",
            "State its insulating section, rated voltage and category, or that it has none.",
            LIFT,
        ),
        Bucket::Uninsulated { why } => Words::new(
            format!("The bucket truck is not insulated ({why}): all of it keeps the full distance."),
            KEEP_AWAY,
            LIFT,
        ),
        Bucket::RatedTooLow { rated_v, line_v } => Words::new(
            format!(
                "The bucket truck is rated for {:.1} kV and the line is {:.1} kV: all of the truck keeps the full distance.",
                rated_v / 1e3,
                line_v / 1e3
            ),
            KEEP_AWAY,
            "ANSI/SAIA A92.2, rated line voltage (memory)",
        ),
        Bucket::LoadMissing => Words::new(
            "What the bucket carries is not stated.",
            "State people, tools and covers in the bucket.",
            CAPACITY,
        ),
        Bucket::Overloaded { load_kg, capacity_kg } => Words::new(
            format!("The bucket carries {}; it is rated for {}.", mass(*load_kg, units), mass(*capacity_kg, units)),
            "Carry less, or use a lift of greater capacity.",
            CAPACITY,
        ),
        Bucket::WorkedOnEnergized { wire, by } => {
            let by = match by {
                Protection::Gloves { class } => format!("rubber gloves and sleeves of class {class} or better"),
                Protection::Stick => "an insulated stick, the worker keeping his distance".to_owned(),
            };
            Words::new(
                format!("{wire} is worked on from the bucket: that rests on the lift's insulation and on {by}."),
                "Keep every other wire and whatever is at ground at full distance or covered until the bucket is away.",
                "29 CFR 1910.269(l)(3)(iii), (p)(4)(i)",
            )
        }
        Bucket::UpUnderLoad => Words::new(
            "The bucket is not on its rest while the pole is on the hook.",
            "Stow the bucket before the load is taken.",
            "29 CFR 1910.269(q)(1), 1926.1425 (memory): nobody where a load may come",
        ),
        Bucket::CoverOutOfReach { cover, wire, station_m } => Words::new(
            format!("There is no bucket position from which {cover} comes on to {wire} at station {}.", m(station_m)),
            "Bring a bucket there before that step of work, naming the wire that is worked on, or leave the cover out.",
            "the worker's reach",
        ),
    }
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Bucket> {
    let wire = || "B".to_owned();
    let mut examples = vec![
        Bucket::NotStated,
        Bucket::NoTruck,
        Bucket::PlaceMissing,
        Bucket::RateMissing,
        Bucket::BelowGround { by_m: 0.5 },
        Bucket::TooFar { by_m: 0.5 },
        Bucket::TooNear { by_m: 0.5 },
        Bucket::InsulationUnknown,
        Bucket::Uninsulated { why: "a platform for lamps".to_owned() },
        Bucket::RatedTooLow { rated_v: 5e3, line_v: 12.47e3 },
        Bucket::LoadMissing,
        Bucket::Overloaded { load_kg: 200.0, capacity_kg: 180.0 },
        Bucket::WorkedOnEnergized { wire: wire(), by: Protection::Gloves { class: "2".to_owned() } },
        Bucket::WorkedOnEnergized { wire: wire(), by: Protection::Stick },
        Bucket::UpUnderLoad,
        Bucket::CoverOutOfReach { cover: "hose".to_owned(), wire: wire(), station_m: 3.0 },
    ];
    for (name, is_length) in [("lower boom's angle", false), ("boom's length", true)] {
        let joint = BucketJoint { name, is_length };
        examples.extend([Bucket::Linkage { joint, by: 0.2 }, Bucket::BeyondLimit { joint, by: 0.2 }]);
    }
    examples
}
