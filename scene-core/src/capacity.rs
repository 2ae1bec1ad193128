//! How much of what the crane may lift each motion uses: the least of load chart, line pull, hook block and sling rules.
//!
//! | limit | carries | against |
//! |---|---|---|
//! | load chart | pole, rigging, hook block, hoist line below the sheave, the chart's own deductions | the least cell touched, gross |
//! | line pull | pole, rigging, hook block, hoist line below the sheave | parts of line × pull of one part |
//! | hook block | pole, rigging | its capacity |
//! | sling | pole | rated choker capacity × angle-of-choke factor |
//!
//! Deductions are set on the load's side, against the gross chart: at 100 percent it is the same as taking them off the
//! chart, below that it says more. The whole pole counts even while its butt rests on the ground: the hook gets it all the
//! moment the butt leaves. The radius is looked up with its growth under load and the placing allowance added.
//!
//! Not modelled: friction in the sheaves (line pull is ideal), dynamic load, wind on boom and load, out-of-level set-up,
//! a two-part sling; what presses on the floats is in [`crate::floats`].

use crate::bracket::Bracket;
use crate::chart::{self, Reach};
use crate::finding::{self, CapacityFigure, Fact, Finding, Grade, OutsideChart, RuledBy, Ruler, Unit};
use crate::pole::Mass;
use crate::rigging::{GRAVITY_M_S2, sling_capacity_kg};
use crate::site::Site;
use std::f64::consts::TAU;

/// Above this a motion is a caution (common practice near a line; 29 CFR 1926.1417(o)(3) asks for the weight to be verified
/// from here on, from memory).
pub const NEAR_RATED_PERCENT: f64 = 75.0;
/// Where a percentage ends: beyond it the number says no more.
pub const UNRATED_PERCENT: f64 = 1e6;
/// Line pull used beyond this is a caution as long as block efficiency is not known.
const IDEAL_LINE_PERCENT: f64 = 75.0;
/// A joint may reach its stop to within this: rounding.
const REACHED: f64 = 1e-6;

/// What hangs on the hook during a motion.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LoadOnHook {
    /// Block and rigging only.
    None,
    /// The pole, its butt still on the ground.
    ButtGrounded,
    Whole,
}

/// Where the crane is over one motion of a step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MotionRange {
    pub step: usize,
    /// When it begins.
    pub time_s: f64,
    /// From the slew axis to the load's plumb line, as planned: nothing added.
    pub radius_m: Bracket,
    pub boom_length_m: Bracket,
    /// Above level, radians.
    pub boom_angle: Bracket,
    /// Counter-clockwise from over the front, radians.
    pub swing: Bracket,
    pub load: LoadOnHook,
    /// From the head sheave to the hook block.
    pub hoist_length_m: Bracket,
}

/// One limit over one motion.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    pub ruler: Ruler,
    pub load_kg: Bracket,
    /// Least to greatest over the motion.
    pub rated_kg: Bracket,
}

impl Limit {
    /// Percent of rated at every instant of the motion, low ≤ true ≤ high; a rating of zero gives [`UNRATED_PERCENT`].
    pub fn used_percent(&self) -> Bracket {
        let percent = |load: f64, rated: f64| {
            let percent = if rated > 0.0 { 100.0 * load / rated } else { UNRATED_PERCENT };
            percent.min(UNRATED_PERCENT)
        };
        let low = percent(self.load_kg.low(), self.rated_kg.high());
        Bracket::exactly(low).hull(Bracket::exactly(percent(self.load_kg.high(), self.rated_kg.low())))
    }
}

/// One motion: what rules it and by how much.
#[derive(Clone, Debug, PartialEq)]
pub struct Used {
    pub step: usize,
    pub time_s: f64,
    /// As looked up, growth and placing added.
    pub radius_m: Bracket,
    pub boom_length_m: Bracket,
    pub boom_angle: Bracket,
    /// Every limit that has a value; the chart is missing when the motion is outside it.
    pub limits: Vec<Limit>,
    /// Why the chart gives no rating.
    pub outside: Option<OutsideChart>,
}

impl Used {
    /// The limit that rules; `None` when the motion is outside the chart, for then nothing is rated.
    pub fn ruling(&self) -> Option<&Limit> {
        let high = |limit: &&Limit| limit.used_percent().high();
        if self.outside.is_some() {
            return None;
        }
        self.limits.iter().max_by(|a, b| high(a).total_cmp(&high(b)))
    }

    /// Percent of what rules, low ≤ true ≤ high over the motion; `None` when nothing is rated.
    pub fn percent(&self) -> Option<Bracket> {
        let high = self.ruling()?.used_percent().high();
        let low = self.limits.iter().map(|limit| limit.used_percent().low()).fold(0.0, f64::max);
        Bracket::between(low, high)
    }

    pub fn ruled_by(&self) -> Option<RuledBy> {
        match (self.ruling(), &self.outside) {
            (Some(limit), _) => Some(RuledBy::Limit(limit.ruler.clone())),
            (None, outside) => outside.clone().map(RuledBy::Outside),
        }
    }
}

/// Percent of rated for every motion, with its findings: per step the worst of each kind.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Capacity {
    pub motions: Vec<Used>,
    pub findings: Vec<Finding>,
}

/// Holds every motion against chart, line pull, block and sling.
pub fn capacity(site: &Site, mass: &Mass, motions: &[MotionRange]) -> Capacity {
    let findings = faults(site);
    if !findings.is_empty() {
        return Capacity { motions: Vec::new(), findings };
    }
    let mut found = Vec::new();
    if motions.is_empty() {
        found.push(finding::stop(finding::Capacity::NoMotion));
    }
    let motions: Vec<Used> = motions
        .iter()
        .map(|motion| {
            let used = used(site, mass, motion);
            for finding in judge(site, motion, &used) {
                keep_worst(&mut found, finding);
            }
            used
        })
        .collect();
    found.extend(ideal_line(&motions));
    Capacity { motions, findings: found }
}

/// Figures without which nothing can be rated.
fn faults(site: &Site) -> Vec<Finding> {
    let (crane, rigging, allowances) = (&site.crane, &site.rigging, &site.allowances);
    let above = |v: f64| v > 0.0 && v < 1e9;
    let from_zero = |v: f64| (0.0..1e9).contains(&v);
    [
        (crane.parts_of_line > 0, CapacityFigure::PartsOfLine),
        (above(crane.line_pull_n), CapacityFigure::LinePull),
        (from_zero(crane.line_kg_per_m), CapacityFigure::LineWeight),
        (above(crane.block.capacity_kg), CapacityFigure::BlockCapacity),
        (from_zero(crane.block.mass_kg), CapacityFigure::BlockMass),
        (from_zero(rigging.mass_kg), CapacityFigure::RiggingMass),
        (sling_capacity_kg(rigging).is_some(), CapacityFigure::Sling),
        (from_zero(crane.chart.deductions_kg), CapacityFigure::Deductions),
        (from_zero(allowances.radius_growth.value), CapacityFigure::RadiusGrowth),
        (from_zero(allowances.placing.value), CapacityFigure::Placing),
    ]
    .into_iter()
    .filter(|(sound, _)| !sound)
    .map(|(_, what)| finding::stop(finding::Capacity::FigureMissing { what }))
    .collect()
}

fn used(site: &Site, mass: &Mass, motion: &MotionRange) -> Used {
    let (crane, rigging, allowances) = (&site.crane, &site.rigging, &site.allowances);
    let pole_kg = match motion.load {
        LoadOnHook::None => Bracket::exactly(0.0),
        LoadOnHook::ButtGrounded | LoadOnHook::Whole => mass.kg,
    };
    let [shortest, longest] = [motion.hoist_length_m.low(), motion.hoist_length_m.high()].map(|m| m.max(0.0));
    let line_kg = Bracket::exactly(shortest).hull(Bracket::exactly(longest))
        * (f64::from(crane.parts_of_line) * crane.line_kg_per_m);
    let on_block = pole_kg + Bracket::exactly(rigging.mass_kg);
    let on_line = on_block + Bracket::exactly(crane.block.mass_kg) + line_kg;
    let on_chart = on_line + Bracket::exactly(crane.chart.deductions_kg);

    let growth = allowances.radius_growth.value + allowances.placing.value;
    let radius_m = Bracket::exactly(motion.radius_m.low()).hull(Bracket::exactly(motion.radius_m.high() + growth));
    let reach = Reach { radius_m, boom_length_m: motion.boom_length_m, swing: motion.swing };

    let rated = |kg: f64| Bracket::exactly(kg);
    let pull_kg = f64::from(crane.parts_of_line) * crane.line_pull_n / GRAVITY_M_S2;
    let mut limits = vec![
        Limit { ruler: Ruler::LinePull, load_kg: on_line, rated_kg: rated(pull_kg) },
        Limit { ruler: Ruler::HookBlock, load_kg: on_block, rated_kg: rated(crane.block.capacity_kg) },
    ];
    if let Some(capacity) = sling_capacity_kg(rigging) {
        limits.push(Limit { ruler: Ruler::Sling, load_kg: pole_kg, rated_kg: rated(capacity) });
    }
    let outside = match chart::rated(&crane.chart, &reach) {
        Ok(found) => {
            let ruler = Ruler::Chart { sector: found.sector, radius_m: found.radius_m, boom_m: found.boom_length_m };
            limits.insert(0, Limit { ruler, load_kg: on_chart, rated_kg: found.kg });
            None
        }
        Err(outside) => Some(outside),
    };
    Used {
        step: motion.step,
        time_s: motion.time_s,
        radius_m,
        boom_length_m: motion.boom_length_m,
        boom_angle: motion.boom_angle,
        limits,
        outside,
    }
}

// ------------------------------------------------------------------------------------------------------------- findings

fn judge(site: &Site, motion: &MotionRange, used: &Used) -> Vec<Finding> {
    let named = site.steps.get(motion.step).map_or("a step without a name", |step| step.name.as_str());
    let step = || named.to_owned();
    let mut found = Vec::new();
    if let Some(outside) = &used.outside {
        let (value, limit) = match *outside {
            OutsideChart::Radius { radius_m, from_m, to_m, .. } => {
                (radius_m, if radius_m < from_m { from_m } else { to_m })
            }
            _ => (used.radius_m.high(), f64::NAN),
        };
        let fact = finding::Capacity::OutsideChart { step: step(), why: outside.clone() };
        found.push(finding::stop(fact).measured(value, limit, Unit::Meter));
    }
    for limit in &used.limits {
        let percent = limit.used_percent().high();
        let (load_kg, ruler, rated_kg) = (limit.load_kg.high(), limit.ruler.clone(), limit.rated_kg.low());
        if percent > 100.0 {
            let fact = finding::Capacity::OverRated { step: step(), load_kg, ruler, rated_kg, percent };
            found.push(finding::stop(fact).measured(percent, 100.0, Unit::Percent));
        } else if percent > NEAR_RATED_PERCENT {
            let fact = finding::Capacity::NearRated { step: step(), load_kg, ruler, rated_kg, percent };
            found.push(finding::caution(fact).measured(percent, NEAR_RATED_PERCENT, Unit::Percent));
        }
    }
    found.extend(joints(site, motion, named));
    found.into_iter().map(|finding| finding.at_step(motion.step).at_time(motion.time_s)).collect()
}

/// Boom angle, boom length and swing within what the crane can do.
fn joints(site: &Site, motion: &MotionRange, step: &str) -> Vec<Finding> {
    let crane = &site.crane;
    let beyond = |range: Bracket, stops: Bracket| {
        let over = (range.high() - stops.high(), range.high(), stops.high());
        let under = (stops.low() - range.low(), range.low(), stops.low());
        let worst = if over.0 >= under.0 { over } else { under };
        // What is not a number is beyond its stop.
        (worst.0 > REACHED || worst.0.is_nan()).then_some((worst.1, worst.2))
    };
    let step = || step.to_owned();
    let mut found = Vec::new();
    if let Some((value, limit)) = beyond(motion.boom_angle, crane.boom_angle) {
        let fact = finding::Capacity::BoomAngle { step: step(), angle: value, limit };
        found.push(finding::stop(fact).measured(value, limit, Unit::Radian));
    }
    if let Some((value, limit)) = beyond(motion.boom_length_m, crane.boom_length_m) {
        let fact = finding::Capacity::BoomLength { step: step(), length_m: value, limit_m: limit };
        found.push(finding::stop(fact).measured(value, limit, Unit::Meter));
    }
    if crane.swing.width() < TAU - REACHED {
        let turns = ((motion.swing.middle() - crane.swing.middle()) / TAU).round() * TAU;
        if let Some((value, limit)) = beyond(motion.swing - Bracket::exactly(turns), crane.swing) {
            let fact = finding::Capacity::Swing { step: step(), swing: value, limit };
            found.push(finding::stop(fact).measured(value, limit, Unit::Radian));
        }
    }
    found
}

/// Block efficiency is not in the figures, so line pull is better than it really is.
fn ideal_line(motions: &[Used]) -> Option<Finding> {
    let limits = motions.iter().flat_map(|used| &used.limits).filter(|limit| limit.ruler == Ruler::LinePull);
    let percent = limits.map(|limit| limit.used_percent().high()).reduce(f64::max)?;
    let grade = if percent > IDEAL_LINE_PERCENT { Grade::Caution } else { Grade::Note };
    let ideal = Finding::new(grade, finding::Capacity::LinePullIdeal { percent });
    Some(ideal.measured(percent, IDEAL_LINE_PERCENT, Unit::Percent))
}

/// One finding of a kind per step is enough, the worst; what is mended otherwise is another kind.
fn keep_worst(found: &mut Vec<Finding>, new: Finding) {
    let excess = |f: &Finding| {
        let by = f.measured.zip(f.limit).map_or(0.0, |(measured, limit)| (measured.value - limit.value).abs());
        if by.is_finite() { by } else { 0.0 }
    };
    // What is too weak is mended by itself.
    let too_weak = |f: &Finding| match &f.fact {
        Fact::Capacity(finding::Capacity::OverRated { ruler, .. }) => Some(std::mem::discriminant(ruler)),
        _ => None,
    };
    match found.iter_mut().find(|f| f.code() == new.code() && f.step == new.step && too_weak(f) == too_weak(&new)) {
        Some(old) if excess(old) >= excess(&new) => {}
        Some(old) => *old = new,
        None => found.push(new),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::site::{self as fixtures, allowance, range as span};
    use crate::pole;
    use crate::quantity::show::Units;
    use crate::report::words;
    use crate::site::*;
    use glam::{DVec3, dvec3};
    use proptest::prelude::*;

    /// A 750 kg pole on a crane whose chart rates 1600 kg at 8 m and 1200 kg at 10 m of radius.
    fn site() -> Site {
        let section = TubeSection { length_m: 16.0, bottom_m: 0.40, top_m: 0.22, wall_m: 0.006, lap_m: 0.0 };
        let shell = Shell::SteelTube { sides: Sides::Twelve, sections: vec![section] };
        let sector = ChartSector {
            name: "all round".into(),
            swing: span(0.0, TAU),
            boom_lengths_m: vec![12.0, 20.0],
            radii_m: vec![4.0, 8.0, 10.0],
            rated_kg: vec![
                vec![Some(4000.0), Some(3000.0)],
                vec![Some(1700.0), Some(1600.0)],
                vec![Some(1300.0), Some(1200.0)],
            ],
        };
        Site {
            basis: Basis { route: Route::LineWork, arranged: Vec::new(), own_distance_m: None, residual_gap_m: 0.0 },
            pole: Pole {
                maker: Some(MakerMass { mass_kg: 750.0, balance_from_butt_m: 7.0 }),
                setting_depth_m: 2.2,
                ..fixtures::pole(16.0, shell)
            },
            hole: Hole { at: DVec3::ZERO, facing: 0.0, depth_m: 2.2, diameter_m: 0.6 },
            rigging: Rigging {
                choker_from_butt_m: 9.0,
                mass_kg: 10.0,
                choker_capacity_kg: 2000.0,
                choke_angle: 135f64.to_radians(),
                material: RiggingMaterial::NonConductive,
                ..fixtures::rigging()
            },
            crane: Crane {
                at: dvec3(-8.0, 0.0, 0.0),
                heading: 0.0,
                boom_length_m: span(12.0, 20.0),
                boom_angle: span(0.0, 1.4),
                swing: span(0.0, TAU),
                block: HookBlock { mass_kg: 150.0, capacity_kg: 9000.0, ..fixtures::crane().block },
                chart: Chart { source: "invented".into(), sectors: vec![sector], deductions_kg: 50.0 },
                ..fixtures::crane()
            },
            allowances: fixtures::allowances(0.0),
            ..fixtures::site(vec![fixtures::step("Swing over the hole", Action::TakeLoad)])
        }
    }

    fn motion(radius_m: f64, load: LoadOnHook) -> MotionRange {
        MotionRange {
            step: 0,
            time_s: 3.0,
            radius_m: Bracket::exactly(radius_m),
            boom_length_m: Bracket::exactly(20.0),
            boom_angle: Bracket::exactly(1.0),
            swing: Bracket::exactly(1.0),
            load,
            hoist_length_m: Bracket::exactly(10.0),
        }
    }

    fn over(site: &Site, motions: &[MotionRange]) -> Capacity {
        capacity(site, &pole::mass(&site.pole, &[]).unwrap(), motions)
    }

    fn stops_and_cautions(capacity: &Capacity) -> Vec<(Grade, &'static str)> {
        capacity.findings.iter().filter(|f| f.grade > Grade::Note).map(|f| (f.grade, f.code())).collect()
    }

    #[test]
    fn all_that_hangs_counts_against_the_chart() {
        let capacity = over(&site(), &[motion(8.0, LoadOnHook::Whole)]);
        let used = &capacity.motions[0];
        let ruling = used.ruling().unwrap();
        // 750 pole + 10 rigging + 150 block + 2 parts of 10 m line + 50 stowed.
        assert!((ruling.load_kg.high() - 980.0).abs() < 1e-6);
        assert_eq!(ruling.rated_kg.low(), 1600.0);
        assert!((used.percent().unwrap().high() - 61.25).abs() < 1e-6);
        let cell = Ruler::Chart { sector: "all round".into(), radius_m: 8.0, boom_m: 20.0 };
        assert_eq!(used.ruled_by(), Some(RuledBy::Limit(cell)));
        let said = words::ruled_by(used.ruled_by().as_ref(), Units::Both);
        assert_eq!(said, "load chart, all round, row 26.25 ft (8.00 m), boom 65.62 ft (20.00 m)");
        assert_eq!(stops_and_cautions(&capacity), []);
    }

    #[test]
    fn the_whole_pole_counts_with_its_butt_on_the_ground() {
        let percent = |load| over(&site(), &[motion(8.0, load)]).motions[0].percent().unwrap().high();
        assert_eq!(percent(LoadOnHook::ButtGrounded), percent(LoadOnHook::Whole));
        assert!((percent(LoadOnHook::None) - 100.0 * 230.0 / 1600.0).abs() < 1e-6);
    }

    #[test]
    fn the_radius_grows_under_load_before_the_chart_is_read() {
        let mut grown = site();
        grown.allowances.radius_growth = allowance(0.3);
        let used = over(&grown, &[motion(8.0, LoadOnHook::Whole)]);
        assert_eq!(used.motions[0].ruling().unwrap().rated_kg.low(), 1200.0);
        assert_eq!(used.motions[0].radius_m, span(8.0, 8.3));
        let mut misplaced = site();
        misplaced.allowances.placing = allowance(0.3);
        assert_eq!(over(&misplaced, &[motion(8.0, LoadOnHook::Whole)]).motions[0].radius_m, span(8.0, 8.3));
    }

    #[test]
    fn above_three_quarters_of_the_chart_is_a_caution_and_above_the_chart_a_stop() {
        assert_eq!(
            stops_and_cautions(&over(&site(), &[motion(10.0, LoadOnHook::Whole)])),
            [(Grade::Caution, "near_rated_capacity")]
        );
        let mut heavy = site();
        heavy.crane.chart.deductions_kg = 271.0;
        let capacity = over(&heavy, &[motion(10.0, LoadOnHook::Whole)]);
        assert_eq!(stops_and_cautions(&capacity), [(Grade::Stop, "over_rated_capacity")]);
        let finding = &capacity.findings[0];
        assert_eq!((finding.step, finding.time_s, finding.limit.map(|l| l.value)), (Some(0), Some(3.0), Some(100.0)));
        assert!(finding.measured.is_some_and(|v| v.value > 100.0));
        assert!(words::message(finding, Units::Both).starts_with("Swing over the hole"));
    }

    #[test]
    fn a_motion_off_the_chart_is_a_stop_and_has_no_percentage() {
        for radius_m in [10.5, 3.0] {
            let capacity = over(&site(), &[motion(radius_m, LoadOnHook::Whole)]);
            assert_eq!(stops_and_cautions(&capacity), [(Grade::Stop, "outside_chart")]);
            assert_eq!(capacity.motions[0].percent(), None);
        }
    }

    #[test]
    fn the_least_of_chart_line_block_and_sling_rules() {
        let ruled = |change: fn(&mut Site)| {
            let mut site = site();
            change(&mut site);
            let capacity = over(&site, &[motion(4.0, LoadOnHook::Whole)]);
            (capacity.motions[0].ruling().unwrap().ruler.clone(), stops_and_cautions(&capacity))
        };
        let stop = vec![(Grade::Stop, "over_rated_capacity")];
        let (ruler, found) = ruled(|s| s.crane.line_pull_n = 4000.0);
        assert_eq!((ruler, found), (Ruler::LinePull, vec![stop[0], (Grade::Caution, "line_pull_ideal")]));
        assert_eq!(ruled(|s| s.crane.block.capacity_kg = 700.0), (Ruler::HookBlock, stop.clone()));
        assert_eq!(ruled(|s| s.rigging.choker_capacity_kg = 700.0), (Ruler::Sling, stop.clone()));
        // 1000 kg rated, choked at 60 to 89 degrees: 740 kg for a pole of 750 kg.
        let tight = |s: &mut Site| {
            s.rigging.choker_capacity_kg = 1000.0;
            s.rigging.choke_angle = 70f64.to_radians();
        };
        assert_eq!(ruled(tight), (Ruler::Sling, stop));
    }

    #[test]
    fn what_is_missing_is_a_stop_never_a_pass() {
        let changes: [fn(&mut Site); 6] = [
            |s| s.crane.parts_of_line = 0,
            |s| s.crane.line_pull_n = f64::NAN,
            |s| s.crane.block.capacity_kg = 0.0,
            |s| s.rigging.choke_angle = -0.1,
            |s| s.allowances.radius_growth = allowance(-1.0),
            |s| s.crane.chart.deductions_kg = f64::INFINITY,
        ];
        for change in changes {
            let mut site = site();
            change(&mut site);
            let capacity = over(&site, &[motion(8.0, LoadOnHook::Whole)]);
            assert_eq!(stops_and_cautions(&capacity), [(Grade::Stop, "capacity_unknown")]);
            assert!(capacity.motions.is_empty());
        }
        assert_eq!(stops_and_cautions(&over(&site(), &[])), [(Grade::Stop, "capacity_unknown")]);
    }

    #[test]
    fn a_boom_beyond_its_stops_is_a_stop() {
        let mut site = site();
        site.crane.swing = span(-2.0, 2.0);
        let codes = |change: fn(&mut MotionRange)| {
            let mut motion = motion(8.0, LoadOnHook::Whole);
            change(&mut motion);
            stops_and_cautions(&over(&site, &[motion])).iter().map(|f| f.1).collect::<Vec<_>>()
        };
        assert_eq!(codes(|m| m.boom_angle = span(1.0, 1.45)), ["boom_angle_outside"]);
        assert_eq!(codes(|m| m.boom_angle = span(-0.1, 1.0)), ["boom_angle_outside"]);
        assert_eq!(codes(|m| m.boom_length_m = span(19.0, 20.0)), [""; 0]);
        assert_eq!(codes(|m| m.boom_length_m = span(19.0, 20.5)), ["outside_chart", "boom_length_outside"]);
        assert_eq!(codes(|m| m.swing = span(1.0, 2.5)), ["swing_outside"]);
        assert_eq!(codes(|m| m.swing = span(TAU - 1.0, TAU + 1.0)), [""; 0]);
    }

    #[test]
    fn a_step_tells_its_worst_moment_once() {
        let mut heavy = site();
        heavy.crane.chart.deductions_kg = 400.0;
        let motions = [9.0, 10.0, 9.5].map(|r| MotionRange { time_s: r, ..motion(r, LoadOnHook::Whole) });
        let capacity = over(&heavy, &motions);
        assert_eq!(capacity.motions.len(), 3);
        let stops: Vec<_> = capacity.findings.iter().filter(|f| f.grade == Grade::Stop).collect();
        assert_eq!(stops.len(), 1);
    }

    #[test]
    fn a_cell_rated_at_nothing_is_a_stop() {
        let mut site = site();
        site.crane.chart.sectors[0].rated_kg[1][1] = Some(0.0);
        assert_eq!(
            stops_and_cautions(&over(&site, &[motion(8.0, LoadOnHook::None)])),
            [(Grade::Stop, "over_rated_capacity")]
        );
    }

    proptest! {
        #[test]
        fn a_wider_motion_never_uses_less(r in 4.0..9.0f64, dr in 0.0..1.0f64, by in 0.0..0.5f64, l in 12.0..19.0f64) {
            let narrow = MotionRange { radius_m: span(r, r + dr), boom_length_m: Bracket::exactly(l), ..motion(r, LoadOnHook::Whole) };
            let wide = MotionRange { radius_m: span(r, r + dr + by), ..narrow };
            let capacity = over(&site(), &[narrow, wide]);
            if let (Some(narrow), Some(wide)) = (capacity.motions[0].percent(), capacity.motions[1].percent()) {
                prop_assert!(wide.high() >= narrow.high() && wide.low() <= narrow.low() + 1e-9);
            } else {
                prop_assert!(capacity.motions[1].outside.is_some());
            }
        }

        #[test]
        fn no_range_makes_it_panic(v in prop::array::uniform10(any::<f64>()), load in 0..3usize) {
            let load = [LoadOnHook::None, LoadOnHook::ButtGrounded, LoadOnHook::Whole][load];
            let any = |i: usize| Bracket::exactly(v[i]).hull(Bracket::exactly(v[i + 1]));
            let motion = MotionRange {
                step: 7, time_s: v[0], radius_m: any(1), boom_length_m: any(3), boom_angle: any(5), swing: any(6), load, hoist_length_m: any(8),
            };
            let mut wild = site();
            wild.allowances.radius_growth.value = v[9];
            for site in [wild, site()] {
                let capacity = over(&site, &[motion]);
                prop_assert!(capacity.motions.iter().all(|m| m.outside.is_none() || m.percent().is_none()));
            }
        }
    }
}
