//! What a report rests on, and what nobody looked at, in words.

use super::length;
use crate::premise::{Assumed, NotChecked};
use crate::quantity::show::Units;

/// What is taken to be so.
pub fn assumed(what: &Assumed, units: Units) -> String {
    let said = match what {
        Assumed::EvenMotion => "Each motion is even; starting and stopping sway is in the swing allowance.",
        Assumed::LiesOnShell => {
            "The pole lies on its own shell on even ground between its butt and the point its tip is toward; cribbing and hardware \
             under it are not modelled."
        }
        Assumed::LiesLeanDown => {
            "The pole lies with the side down that it will lean to when it hangs, so that it does not roll as it rises."
        }
        Assumed::ButtSlides => {
            "While it is upended the butt slides on the ground straight toward the point under the hook."
        }
        Assumed::TagLines => {
            "Tag lines hold a hanging pole from turning by itself: it goes round with the crane's swing."
        }
        Assumed::TurnsWithChoker => {
            "The pole is turned together with its choker about the load line, so that its lean turns with it."
        }
        Assumed::ExtendingDrawsLine => {
            "Extending the boom draws in hoist line: the hook block rises by the extension divided by the parts of line."
        }
        Assumed::ButtGuided => {
            "From the ground down the butt is guided by hands or tag line so that it goes into the middle of the hole; at release the \
             pole is plumb in the middle of the hole."
        }
        Assumed::BucketControls => {
            "The bucket truck moves one control at a time, the crane standing still: unless a step states its order, lower boom, slew, \
             upper boom, extension; to its rest the other way round."
        }
        Assumed::BucketSetByStillWire => {
            "The bucket is set by where the wire hangs by itself in still air, in the middle of its stated sag."
        }
        Assumed::BucketLevel => {
            "The bucket keeps level of itself and is not rotated about the boom's tip; somebody is in it at all times."
        }
        Assumed::PlumbInGuides => {
            "In the guides the pole is kept plumb by their tilt, to the stated lean, wind included; the winch line carries all of \
             its weight and the guides hold it sideways only."
        }
        Assumed::DugInOnePass => {
            "The hole is dug in one pass; bringing spoil up in several repeats the same motion. While it digs, the auger leans \
             between its pin and the hole."
        }
        Assumed::WiresAsStated => "Conductor temperature and ice are those of the stated sag or tension.",
        Assumed::WiresAsStrung { wires, stiffness, expansion, weight } => {
            return format!(
                "{} as strung, carried to the stated temperature and ice by the state-change equation: exact catenary, linear \
                 elastic, {:.0} percent of modulus, {:.0} of expansion and {:.0} of weight allowed for; both the highest and the lowest \
                 position are kept.",
                wires.join(", "),
                100.0 * stiffness,
                100.0 * expansion,
                100.0 * weight
            );
        }
        Assumed::StrungCore => {
            "Wires as strung: the linear model overstates the sag of a conductor with a core once its aluminium goes slack. \
             Above the stated knee temperature, or else above that of stringing (always, if the wire has grown since), anything \
             between the whole conductor and the core alone is taken; below it the aluminium is taken to carry its share."
        }
        Assumed::StrungUnchanged => {
            "Wires as strung: no load since was heavier than the stated condition and elongation tell, no clamp slipped, \
             and poles do not move. Where only the ruling span is stated, the supports of the section are taken as all \
             rigid or all free."
        }
        Assumed::SteadyWind => {
            "Wind on wires: steady, square to each span, shape factor 1.0, pressure 0.00256 V² lb/ft² (mph)."
        }
        Assumed::HeldStraight => "A phase is moved on a straight way from where it hangs to where it is held.",
        Assumed::HolderGrips => "The holder grips: no wire runs through it.",
        Assumed::WireRunsThrough => {
            "Beside a held-out phase the wire may run through every support that is not stated as tied or dead-ended, no \
             farther than until both sides pull alike: those spans hang anywhere between by themselves and that, and its pieces \
             and covers shift as far. The wind is the same over all spans of a wire."
        }
        Assumed::CoverThickness => {
            "The thickness of covers is not subtracted from any gap: the residual gap must make up for it."
        }
        Assumed::StandsWhenLetGo => {
            "The pole is let go only after the step before has shown that it stands in its hole by itself. From then on it has no swing \
             and no lean in the wind."
        }
        Assumed::WayBackAsItRose => {
            "On the way back the pole goes down as it rose: its butt is led back over the ground the way it slid."
        }
        Assumed::NominalVoltages => "Voltages are nominal, phase to phase.",
        Assumed::LoadSwingGrowth { ratio } => {
            return format!("Load swing grows by {:.1} % of the distance from the hook along the pole.", 100.0 * ratio);
        }
        Assumed::DeclaredAbsent { what } => return format!("Declared absent: {what}"),
        Assumed::RigidCrane { source } => {
            return format!(
                "Floats: rigid crane, level, each float pressing as hard as any four supports that only press allow; mats spread \
                 it evenly; masses, mats and bearing as stated ({source})."
            );
        }
        Assumed::InsulatedTip { length_m } => {
            return format!("The insulated tip of the boom, {}, counts as bare steel.", length(*length_m, units));
        }
        Assumed::NoInsulatedTip => "The boom has no insulated tip.",
    };
    said.to_owned()
}

/// What was not looked at.
pub fn not_checked(what: &NotChecked) -> String {
    let said = match what {
        NotChecked::BodiesAmongThemselves => {
            "Bodies against each other: sections of a boom, booms of a bucket truck, and what hangs on one hook, among themselves."
        }
        NotChecked::Holders => {
            "Of what holds phases aside: how booms and arms come there and away, arms against wires, what they are insulated for, \
             the trucks' own charts."
        }
        NotChecked::Carriers { machines } => {
            return format!(
                "Carrier, outriggers and mats of {}, or part of them, against wires, ground obstacles and other bodies: their \
                 size is not stated.",
                machines.join(" and ")
            );
        }
        NotChecked::GroundBetweenSpots => {
            "The ground between spot elevations, curbs and ditches but by spots along them; sway and growth of trees."
        }
        NotChecked::LyingPole => {
            "The pole and its rigging against the ground while it lies, rises, is lowered or turned on the spot: only the butt's height."
        }
        NotChecked::BoomFromRest => {
            "The boom from its rest to where the sequence begins, and back to its rest; machines on their way in and out."
        }
        NotChecked::Setting => "Hole, backfill, facing within tolerance, plumb, pole tag.",
        NotChecked::People => {
            "People: barricade, what the observer sees from his place, touch and step potential; everybody whose place is not stated."
        }
        NotChecked::LayingDownElsewhere => {
            "Laying the pole down anywhere but where it was picked up; taking it out of its hole again once it has been let go."
        }
        NotChecked::CoverOrder => "The order in which covers go on and come off from each bucket position.",
        NotChecked::LineWork => {
            "The line work while covers and held-out phases are put on and taken off, but for where the wires may be."
        }
        NotChecked::LoadSpeed => {
            "Speed of the load, swinging beyond the stated allowances, shock, side load on the boom."
        }
        NotChecked::WindOnPoleCovers => "Wind on covers that the pole wears, beyond the pole's own side area.",
        NotChecked::Condition => "Condition of pole, hardware, rigging and machines.",
        NotChecked::OutriggersAllOfIt => "Outrigger floats, mats, ground bearing, level, buried services.",
        NotChecked::OutriggersTheRest => {
            "Wind, swing and stopping on the floats; outriggers and mats that bend; level, edges and trenches, buried services."
        }
        NotChecked::DerrickPoleAgainstBoom => {
            "The pole against the derrick's own boom and boom tip from its upending on: men and guides lead it there, and the boom leaves it from there."
        }
        NotChecked::DiggingLoads => {
            "Digging loads on boom, winch and outriggers; rock, roots, wet ground and caving of the hole; spoil."
        }
        NotChecked::GuideStrength => {
            "Strength of guides and boom tip under a pole that leans, is pushed or is pulled sideways; the winch line's extra pull where \
             the guides draw it aside."
        }
        NotChecked::AugerSwing => {
            "The auger against truck, outriggers and people while it is swung down, turned and stowed; its way back out of the hole."
        }
        NotChecked::BucketTruckAllOfIt => {
            "The bucket truck: its reach, its insulated part, its approach to every wire."
        }
        NotChecked::BucketTruckTheRest => {
            "Of the bucket truck: what its outriggers stand on, its chart by position, its dielectric test, \
             its bucket turned about the tip, its booms against its own truck."
        }
        NotChecked::SpansBeyondEnds { wires } => {
            return format!(
                "The spans beyond the stated ends of {}: where nothing says that a wire is tied or dead-ended there, holding it out \
                 may pull them tauter or let them slacker.",
                wires.join(", ")
            );
        }
        NotChecked::WireStateChange => "Conductor temperature, ice and state change between the survey and the lift.",
        NotChecked::GustsOnWires => "Gusts, galloping and other motion of wires beyond the stated families.",
        NotChecked::CoversOnWires => "Weight and thickness of covers on the wires, and the wind on them.",
        NotChecked::SupportsGive => {
            "Insulators that lean or swing and poles that give under a held-out phase; what a wire that ran through its \
             supports keeps of it once it is let back."
        }
        NotChecked::PullOnHolder => "Pull along the line on a holder whose two sides give differently.",
        NotChecked::SupportStrength => "Whether supports and insulators bear the pull of a held-out phase.",
        NotChecked::GroundBeyondSpots => {
            "The ground beyond the outermost spots: what passes over it is not held against it."
        }
        NotChecked::LieOfGround => {
            "The lie of the ground: no spot elevations are stated, it is taken flat at the hole."
        }
        NotChecked::WhetherNeighborsStand => {
            "Whether there are existing poles, trees, buildings: the scene states none, nor that there are none."
        }
        NotChecked::WherePeopleStand => "Where people stand, what passes over them or near them: no places are stated.",
        NotChecked::StepsFrom { step } => {
            return format!("From step {} on, the lifting machine and the pole: that step cannot be done.", step + 1);
        }
        NotChecked::LiftStepsFrom { lift, step } => {
            return format!("From step {} on, {lift}: that step cannot be done.", step + 1);
        }
    };
    said.to_owned()
}
