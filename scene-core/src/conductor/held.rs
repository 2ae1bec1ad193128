//! A span whose wire the crew grips and moves: the curves of both parts on the way and in place, and their pull.
//!
//! ```text
//!   support ●                                   ● support      N: where the wire hangs by itself at the gripped fraction
//!            `-._        .·' P(s)          _.-'                P: where it is held;  P(s) = N + s·(P − N)
//!                `-._ N ·             _.-'
//!                     `---...___...-'
//! ```
//!
//! The supports are rigid and the holder lets no wire slip, so each part keeps its unstressed length. This is the
//! stiffest case. In truth insulators lean and adjacent spans give, which at most keeps the tension as it was. So the
//! curvature of a part lies between two values: that of unchanged tension and that of fixed ends. The bracket holds
//! both. For fixed ends it holds both an elastic wire (when its stiffness EA is known) and one that does not stretch.

use super::adjacent::SupportPull;
use super::catenary::{Catenary, CatenaryError, curvature_from_slack};
use super::enclose::{Enclosure, Shapes, enclose};
use super::family::SpanFamily;
use super::pull;
use super::span_part::SpanPart;
use super::still::{Carried, StillSpan, family_between_fixed_ends};
use crate::bracket::Bracket;
use glam::DVec3;
use std::f64::consts::FRAC_PI_2;

/// The path from N to P is cut into this many pieces; each has families of its own.
const WAYS: u32 = 4;

/// How one part hangs between its support and the grip.
#[derive(Clone, Debug)]
pub(super) struct HeldPart {
    pub family: SpanFamily,
    /// In still air, per meter: from rigid supports to unchanged tension.
    pub curvature: Bracket,
    /// Horizontal tension across the resultant load in any wind of the case, newtons; `None` when the wire may not
    /// reach.
    pub tension_n: Option<Bracket>,
    /// The greatest tension along the wire, newtons.
    pub greatest_tension_n: Option<f64>,
    /// On the support, newtons: horizontal pull while held less horizontal pull before.
    pub extra_pull_n: Option<Bracket>,
    pub at_support: SupportPull,
}

/// Both parts of a held span, before and after the grip along the line.
#[derive(Clone, Debug)]
pub(super) struct HeldSpan {
    pub held: [HeldPart; 2],
    pub being_placed: Vec<(PartIndex, SpanFamily)>,
    /// For each part, bounds over its whole path including the held position.
    pub on_the_way: [SupportPull; 2],
    /// Force of the wire on the holder, newtons: the smallest and the largest of each component.
    pub force_n: Option<[DVec3; 2]>,
}

/// 0 for the part before the grip, 1 for the part after it.
pub(super) type PartIndex = usize;

/// Where the wire may be by itself at the gripped fraction: all points within `within_m` of `at`.
#[derive(Clone, Copy, Debug)]
struct Natural {
    at: DVec3,
    within_m: f64,
}

/// The held span when the wire is gripped at `fraction` of the run and moved to the point `to`.
pub(super) fn hold(
    span: &StillSpan,
    fraction: f64,
    to: DVec3,
    carried: &Carried,
    stiffness_n: Option<f64>,
    radius_m: f64,
) -> Result<HeldSpan, CatenaryError> {
    let natural = natural_place(span, fraction, carried, radius_m)?;
    let parts = [
        SpanPart::new(span, 0.0, fraction, carried, stiffness_n)?,
        SpanPart::new(span, fraction, 1.0, carried, stiffness_n)?,
    ];
    let held = [held_part(&parts[0], to, carried, radius_m)?, held_part(&parts[1], to, carried, radius_m)?];
    let mut being_placed = Vec::new();
    let mut on_the_way = [held[0].at_support, held[1].at_support];
    for (index, (part, held)) in parts.iter().zip(&held).enumerate() {
        for way in 0..WAYS {
            let ways = f64::from(WAYS);
            let stretch = Bracket::between(f64::from(way) / ways, f64::from(way + 1) / ways);
            let Some(stretch) = stretch else { continue };
            let (family, at_support) = moving(part, span, &natural, to, stretch, held.curvature, carried, radius_m)?;
            being_placed.push((index, family));
            if let Some(whole) = on_the_way.get_mut(index) {
                *whole = whole.hull(at_support);
            }
        }
    }
    let force_n = pull::on_holder(span, fraction, to, carried, stiffness_n);
    Ok(HeldSpan { held, being_placed, on_the_way, force_n })
}

fn natural_place(span: &StillSpan, fraction: f64, carried: &Carried, radius_m: f64) -> Result<Natural, CatenaryError> {
    let family = span.family(carried, radius_m)?;
    let depth = |curvature| Ok(Catenary::new(family.run_m, family.rise_m, curvature)?.depth_m(fraction));
    let (low, high) = (depth(family.curvature.low())?, depth(family.curvature.high())?);
    let middle = low / 2.0 + high / 2.0;
    // The farthest point of a ring sector from a point on the plumb line is one of its corners.
    let corner = |depth: f64| (depth * carried.blowout.sin()).hypot(depth * carried.blowout.cos() - middle);
    let straight = (high - low) / 2.0;
    Ok(Natural {
        at: span.chord.from.lerp(span.chord.to, fraction) - DVec3::Z * middle,
        within_m: corner(low).max(corner(high)).max(straight) + family.shape_error_m,
    })
}

fn held_part(part: &SpanPart, grip: DVec3, carried: &Carried, radius_m: f64) -> Result<HeldPart, CatenaryError> {
    let chord = part.chord_to(grip)?;
    let (weight, resultant) = (carried.weight_n_per_m, carried.resultant_n_per_m);
    let unchanged = part.unchanged_tension(chord.run_m, chord.length_m(), carried);
    let (still, windy) = (part.fixed(&chord, carried, 0.0), part.fixed(&chord, carried, carried.blowout));
    let fixed = part.unstretched(&chord).hull(still.unwrap_or(unchanged.still));
    let curvature = fixed.hull(unchanged.still);
    let in_any_wind = carried.curvature(&chord, fixed).hull(unchanged.in_wind);
    let family = family_between_fixed_ends(&chord, in_any_wind, carried, radius_m)?;
    let (run_m, rise_m) =
        chord.tilted(carried.blowout).ok_or(CatenaryError::NoRun { run_m: chord.run_m, rise_m: chord.rise_m })?;
    let at_support = SupportPull::new(part, Bracket::exactly(chord.length_m()), run_m, rise_m, in_any_wind, carried);

    let tension_n = still.zip(windy).and_then(|(still, windy)| {
        let high = (weight / still.low()).max(resultant / windy.low()).max(resultant / unchanged.in_wind.low());
        Bracket::between(weight / curvature.high(), high)
    });
    let before = Bracket::between(weight / part.curvature.high(), weight / part.curvature.low());
    Ok(HeldPart {
        greatest_tension_n: tension_n.and_then(|tension| {
            let shape = Catenary::from_tension(chord.run_m, chord.rise_m, tension.high(), resultant).ok()?;
            let steepest = shape.slope(0.0).abs().max(shape.slope(1.0).abs());
            Some(tension.high() * steepest.hypot(1.0))
        }),
        extra_pull_n: tension_n.zip(before).map(|(now, before)| now - before),
        at_support,
        family,
        curvature,
        tension_n,
    })
}

/// All curves of a part while the grip moves from N to P, with s in `stretch`, wherever the wire was when it was
/// gripped.
///
/// - The grip is within (1 − s)·r of N + s·(P − N), where r bounds the wire's distance from N.
/// - With length S and the chord c(s) from the support, S² − c² equals (1 − s)·(S² − c(0)²) + s·(S² − c(1)²) + s·(1 −
///   s)·|N′P|². This gives the slackest wire that does not stretch. An elastic wire is slacker only where its tension
///   has not risen. The expression is never less than the smaller of its two ends, which gives the tautest wire. A wire
///   that shrinks as it slackens is tauter only where its tension has not fallen.
#[expect(clippy::too_many_arguments, reason = "one step of `hold`, called once")]
fn moving(
    part: &SpanPart,
    span: &StillSpan,
    natural: &Natural,
    to: DVec3,
    stretch: Bracket,
    held: Bracket,
    carried: &Carried,
    radius_m: f64,
) -> Result<(SpanFamily, SupportPull), CatenaryError> {
    let grips = [natural.at.lerp(to, stretch.low()), natural.at.lerp(to, stretch.high())];
    let off_m = (1.0 - stretch.low()) * natural.within_m;
    let middle = part.chord_to(natural.at.lerp(to, stretch.middle()))?;
    let no_run = CatenaryError::NoRun { run_m: middle.run_m, rise_m: middle.rise_m };

    let flat = |point: DVec3| DVec3::new(point.x, point.y, 0.0);
    let run_low = nearest_on_segment_m(flat(part.support), grips.map(flat)) - off_m;
    let chord_high = grips.iter().map(|grip| grip.distance(part.support)).fold(0.0, f64::max) + off_m;
    let rises = grips.map(|grip| if part.after { part.support.z - grip.z } else { grip.z - part.support.z });
    let rise = Bracket::between(rises[0], rises[1]).ok_or(no_run)?.widened(off_m);
    if run_low.is_nan() || run_low <= 0.0 {
        return Err(no_run);
    }

    let hanging = part.slack_m2.high();
    let chord_at_hold_m2 = part.support.distance_squared(to);
    let at_hold = part.length_m.high().powi(2) - chord_at_hold_m2;
    let way = (natural.at.distance(to) + natural.within_m).powi(2);
    let slack_at = |s: f64| (1.0 - s) * hanging + s * at_hold + s * (1.0 - s) * way;
    // The expression is concave in s. Its maximum is where the slope is zero, if that lies on this stretch.
    let top = (0.5 + (at_hold - hanging) / (2.0 * way)).clamp(stretch.low(), stretch.high());
    let slackest = curvature_from_slack(run_low, slack_at(if top.is_nan() { stretch.low() } else { top }));
    let unchanged = part.unchanged_tension(run_low, chord_high, carried);
    let slackest_still = unchanged.still.high().max(slackest).max(held.high());
    let least_slack = part.slack_m2.low().min(part.length_m.low().powi(2) - chord_at_hold_m2);

    // The wind is square to the span at N and square to the part at P. Its lateral differs from the middle one by at
    // most this angle.
    let mut turned = span.chord.lateral.angle_between(middle.lateral);
    for grip in grips {
        turned = turned.max(part.chord_to(grip)?.lateral.angle_between(middle.lateral));
    }
    turned += (off_m / run_low).min(1.0).asin();

    // The chord's run and rise in the tilted planes. The chord may be out of square with the wind by twice that angle.
    let sin = carried.blowout.sin();
    let out_of_square = chord_high * (2.0 * turned).min(FRAC_PI_2).sin();
    let tilted_rise = rise.hull(rise * carried.blowout.cos()).widened(out_of_square * sin);
    let level = if tilted_rise.contains(0.0) { 0.0 } else { tilted_rise.low().abs().min(tilted_rise.high().abs()) };
    let tilted_run = Bracket::between(
        (run_low * run_low - out_of_square * out_of_square).max(0.0).sqrt(),
        (chord_high * chord_high - level * level).max(0.0).sqrt(),
    )
    .ok_or(no_run)?;
    let tautest = curvature_from_slack(tilted_run.high(), least_slack).min(unchanged.in_wind.low());
    let slackest =
        (slackest_still * (carried.resultant_n_per_m / carried.weight_n_per_m)).max(unchanged.in_wind.high());
    let curvature = Bracket::between(tautest, slackest).ok_or(CatenaryError::TooSlack { run_m: run_low })?;
    let nearest = nearest_on_segment_m(part.support, grips) - off_m;
    let chord_m = Bracket::between(nearest.max(0.0), chord_high).ok_or(no_run)?;
    let at_support = SupportPull::new(part, chord_m, tilted_run, tilted_rise, curvature, carried);
    let Enclosure { curvature, shape_error_m } =
        enclose(&Shapes { run_m: tilted_run, rise_m: tilted_rise, curvature }, middle.run_m, middle.rise_m)?;
    let deepest = Catenary::new(middle.run_m, middle.rise_m, curvature.high())?.greatest_sag_m();

    let (a, b) = part.family_ends(grips);
    let family = SpanFamily {
        a,
        b,
        lateral: middle.lateral,
        blowout: carried.blowouts(),
        run_m: middle.run_m,
        rise_m: middle.rise_m,
        curvature,
        radius_m,
        shape_error_m: shape_error_m + off_m + deepest * sin * 2.0 * (turned / 2.0).sin(),
    };
    Ok((family, at_support))
}

fn nearest_on_segment_m(point: DVec3, [from, to]: [DVec3; 2]) -> f64 {
    let way = to - from;
    let along = ((point - from).dot(way) / way.length_squared()).clamp(0.0, 1.0);
    point.distance(if along.is_nan() { from } else { from + way * along })
}

#[cfg(test)]
mod tests {
    use super::super::chord::Chord;
    use super::super::stretch::{hang_unstressed, unstressed_length_m};
    use super::*;
    use crate::site::{Conductor, Hang, Span, Weather};
    use proptest::prelude::*;

    const WEIGHT: f64 = 2.1;

    fn conductor() -> Conductor {
        Conductor {
            name: String::new(),
            diameter_m: 0.0101,
            weight_n_per_m: WEIGHT,
            rated_strength_n: None,
            stiffness_n: None,
            metal: None,
            source: String::new(),
            stiffness_doubt: 0.0,
            from_memory: String::new(),
        }
    }

    fn carried(wind_m_s: f64) -> Carried {
        Carried::new(&conductor(), None, &Weather { name: String::new(), wind_m_s })
    }

    fn span(run: f64, rise: f64, sags: [f64; 2]) -> StillSpan {
        let sag_m = Bracket::between(sags[0], sags[1]).unwrap();
        let (from, to) = (DVec3::new(3.0, -2.0, 10.0), DVec3::new(3.0 + run * 0.8, -2.0 + run * 0.6, 10.0 + rise));
        StillSpan::new(&Span { from, to, hang: Hang::Sag { sag_m } }, &conductor()).unwrap()
    }

    /// Anything between, and often an end.
    fn or_end(low: f64, high: f64) -> impl Strategy<Value = f64> {
        prop_oneof![1 => Just(low), 1 => Just(high), 2 => low..high]
    }

    /// How far a point of a physical curve is from the point of the family at the same t, blowout and place of the grip.
    fn outside(family: &SpanFamily, ends: [DVec3; 2], t: f64, blowout: f64, point: DVec3) -> f64 {
        let depth = |curvature| Catenary::new(family.run_m, family.rise_m, curvature).unwrap().depth_m(t);
        let down = family.lateral * blowout.sin() - DVec3::Z * blowout.cos();
        let chord = ends[0].lerp(ends[1], t);
        let wanted = (point - chord).dot(down).clamp(depth(family.curvature.low()), depth(family.curvature.high()));
        point.distance(chord + down * wanted)
    }

    /// A chord as the plane tilted by the wind sees it: run, rise and the load's direction.
    fn in_tilted_plane(from: DVec3, to: DVec3, lateral: DVec3, blowout: f64) -> (f64, f64, DVec3) {
        let down = lateral * blowout.sin() - DVec3::Z * blowout.cos();
        let rise = -(to - from).dot(down);
        (((to - from).length_squared() - rise * rise).sqrt(), rise, down)
    }

    /// A span, what is done with it, and what its wire is like.
    #[derive(Clone, Copy, Debug)]
    struct Case {
        run: f64,
        slope: f64,
        sag_share: f64,
        sag_open: f64,
        fraction: f64,
        way: (f64, f64, f64),
        wind: f64,
        of_sag: f64,
        of_wind: f64,
        s: f64,
        ln_stiffness: f64,
        states_stiffness: bool,
        /// 0: fixed supports; 1: the tension as it was; 2: half between.
        give: usize,
    }

    prop_compose! {
        fn case()(
            run in 15.0f64..80.0, slope in -0.15f64..0.15, sag_share in 0.005f64..0.03, sag_open in or_end(0.0, 0.3),
            fraction in 0.1f64..0.9, way in (-1.5f64..1.5, -1.5f64..1.5, -0.7f64..1.5),
            (wind, of_sag, of_wind, s) in (or_end(0.0, 18.0), or_end(0.0, 1.0), or_end(-1.0, 1.0), or_end(0.0, 1.0)),
            ln_stiffness in 13.0f64..17.0, states_stiffness: bool, give in 0usize..3,
        ) -> Case {
            Case {
                run, slope, sag_share, sag_open, fraction, way, wind, of_sag, of_wind, s, ln_stiffness, states_stiffness, give,
            }
        }
    }

    /// The wire as it hangs by itself: elastic, blown out, taken hold of where it then is.
    struct Simulated {
        span: StillSpan,
        carried: Carried,
        stiffness: f64,
        blowout: f64,
        blown: Catenary,
        taken: DVec3,
    }

    impl Simulated {
        fn of(case: &Case) -> Self {
            let Case { run, slope, sag_share, sag_open, .. } = *case;
            let span = span(run, run * slope, [run * sag_share, run * sag_share * (1.0 + sag_open)]);
            let (carried, stiffness) = (carried(case.wind), case.ln_stiffness.exp());
            let whole = Catenary::new(span.chord.run_m, span.chord.rise_m, span.curvature.at(case.of_sag)).unwrap();
            let blowout = carried.blowout * case.of_wind;
            let unstressed = unstressed_length_m(&whole, WEIGHT, stiffness);
            let (from, to) = (span.chord.from, span.chord.to);
            let (run, rise, down) = in_tilted_plane(from, to, span.chord.lateral, blowout);
            let blown = hang_unstressed(run, rise, unstressed, WEIGHT / blowout.cos(), stiffness).unwrap();
            let taken = from.lerp(to, case.fraction) + down * blown.depth_m(case.fraction);
            Self { span, carried, stiffness, blowout, blown, taken }
        }

        /// One part between its support and the grip, in the order of the line.
        fn ends(&self, part: usize, grip: DVec3) -> [DVec3; 2] {
            let chord = &self.span.chord;
            if part == 0 { [chord.from, grip] } else { [grip, chord.to] }
        }

        /// How that part hangs between other ends, and the load's direction; `Err` where it would have to stretch to twice its
        /// length, where it breaks instead.
        fn hung(&self, case: &Case, part: usize, [from, to]: [DVec3; 2]) -> Result<(Catenary, DVec3), TestCaseError> {
            let (chord, load) = (&self.span.chord, WEIGHT / self.blowout.cos());
            let [a, b] = self.ends(part, self.taken);
            let (r, h, _) = in_tilted_plane(a, b, chord.lateral, self.blowout);
            let of_blown = Catenary::new(r, h, self.blown.curvature()).unwrap();
            let [low, high] = if part == 0 { [0.0, case.fraction] } else { [case.fraction, 1.0] };
            prop_assert!((of_blown.length_m() / self.blown.part_length_m(low, high) - 1.0).abs() < 1e-9);
            let mean = of_blown.mean_tension_n(load);
            let own = of_blown.length_m() / (1.0 + mean / self.stiffness);
            let lateral = if case.s == 0.0 { chord.lateral } else { Chord::new(from, to).unwrap().lateral };
            let (r, h, down) = in_tilted_plane(from, to, lateral, self.blowout);
            let fixed = hang_unstressed(r, h, own, load, self.stiffness);
            let soft = Catenary::from_tension(r, h, mean * r / r.hypot(h), load);
            let hung = match case.give {
                // Fixed supports; the tension as it was; anything between.
                0 => fixed,
                1 => soft,
                _ => fixed.and_then(|fixed| Catenary::new(r, h, fixed.curvature() / 2.0 + soft?.curvature() / 2.0)),
            };
            hung.map(|hung| (hung, down)).map_err(|_| TestCaseError::reject("it breaks"))
        }
    }

    /// Moved on a straight way to where it is held, the wind turning to each part.
    fn the_true_curve_is_in_a_family(case: Case) -> Result<(), TestCaseError> {
        let simulated = Simulated::of(&case);
        let Simulated { span, carried, blowout, taken, .. } = &simulated;
        let natural = natural_place(span, case.fraction, carried, 0.005).unwrap();
        prop_assert!(taken.distance(natural.at) <= natural.within_m + 1e-9);
        let (way, chord) = (case.way, &span.chord);
        let held_at = natural.at + chord.lateral * way.0 + chord.along * way.1 * 0.3 + DVec3::Z * way.2;
        let stated = case.states_stiffness.then_some(simulated.stiffness);
        let Ok(moved) = hold(span, case.fraction, held_at, carried, stated, 0.005) else { return Ok(()) };
        let grip = taken.lerp(held_at, case.s);
        for part in 0..2 {
            let ends = simulated.ends(part, grip);
            let (hung, down) = match simulated.hung(&case, part, ends) {
                Ok(hung) => hung,
                Err(TestCaseError::Reject(_)) => continue,
                Err(failed) => return Err(failed),
            };
            for step in 0..=8 {
                let t = f64::from(step) / 8.0;
                let point = ends[0].lerp(ends[1], t) + down * hung.depth_m(t);
                let nearest = (moved.being_placed.iter().filter(|(index, _)| *index == part).enumerate())
                    .map(|(way, (_, family))| {
                        let within = (case.s * f64::from(WAYS) - way as f64).clamp(0.0, 1.0);
                        let at = [family.a[0].lerp(family.a[1], within), family.b[0].lerp(family.b[1], within)];
                        outside(family, at, t, *blowout, point) - family.shape_error_m
                    })
                    .fold(f64::INFINITY, f64::min);
                prop_assert!(nearest <= 1e-9, "part {part} at {t}: {nearest} m outside, s {}", case.s);
                let held = &moved.held[part].family;
                let off = outside(held, ends, t, *blowout, point) - held.shape_error_m;
                prop_assert!(case.s < 1.0 || off <= 1e-9, "held part {part} at {t}: {off} m outside");
            }
        }
        Ok(())
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(600))]

        #[test]
        fn every_curve_on_the_way_and_held_is_in_a_family(case in case()) {
            the_true_curve_is_in_a_family(case)?;
        }
    }

    /// The wind tautens the whole inclined span; the part that is then held level would be tautened less.
    #[test]
    fn a_part_held_level_keeps_the_tension_that_wind_gave_its_inclined_span() {
        let case = Case {
            run: 20.331152183060144,
            slope: -0.12554783868041958,
            sag_share: 0.021421843295888893,
            sag_open: 0.19025445011024808,
            fraction: 0.5144291849719451,
            way: (0.0, 0.0, -0.6631383316565282),
            wind: 18.0,
            of_sag: 0.0,
            of_wind: -1.0,
            s: 1.0,
            ln_stiffness: 16.668926655750127,
            states_stiffness: false,
            give: 1,
        };
        the_true_curve_is_in_a_family(case).unwrap();
    }

    #[test]
    fn a_phase_held_sideways_at_midspan_pulls_back_with_both_tensions() {
        let (span, carried) = (span(40.0, 0.0, [0.6, 0.6]), carried(0.0));
        let natural = natural_place(&span, 0.5, &carried, 0.005).unwrap();
        let aside = 0.8;
        let held_at = natural.at + span.chord.lateral * aside;
        let moved = hold(&span, 0.5, held_at, &carried, Some(5.0e6), 0.005).unwrap();
        let [low, high] = moved.force_n.unwrap();
        let tension = moved.held[0].tension_n.unwrap();
        // By statics: each side pulls back with H·aside/run, and hangs half its weight on the holder, more for the sag
        // below its support.
        let run = 20.0f64.hypot(aside);
        let back = |tension: f64| -2.0 * tension * aside / run;
        let lateral = span.chord.lateral;
        for tension in [tension.low(), tension.high()] {
            let expected = lateral * back(tension);
            assert!(low.x - 1e-6 <= expected.x && expected.x <= high.x + 1e-6, "{low} {expected} {high}");
            assert!(low.y - 1e-6 <= expected.y && expected.y <= high.y + 1e-6, "{low} {expected} {high}");
        }
        // The wire is stretched: more than the tension it hung with, w·L²/(8·sag) about.
        let natural_tension = WEIGHT * 40.0 * 40.0 / 8.0 / 0.6;
        assert!(tension.high() > 2.0 * natural_tension, "{tension:?}");
        assert!(tension.low() < 1.001 * natural_tension, "{tension:?}");
    }

    #[test]
    fn an_inextensible_wire_that_cannot_reach_has_no_tension_bracket() {
        let (span, carried) = (span(40.0, 0.0, [0.2, 0.3]), carried(0.0));
        let held_at = DVec3::new(3.0 + 16.0, -2.0 + 12.0, 10.0) + span.chord.lateral * 2.0;
        let moved = hold(&span, 0.5, held_at, &carried, None, 0.005).unwrap();
        assert_eq!(moved.held[0].tension_n, None);
        assert_eq!(moved.held[0].curvature.low(), 0.0);
        assert_eq!(moved.force_n, None);
    }

    #[test]
    fn a_phase_lifted_goes_slack_and_hangs_deeper_below_its_new_chord() {
        let (span, carried) = (span(40.0, 0.0, [0.6, 0.6]), carried(0.0));
        let natural = natural_place(&span, 0.5, &carried, 0.005).unwrap();
        let moved = hold(&span, 0.5, natural.at + DVec3::Z * 0.5, &carried, Some(5.0e6), 0.005).unwrap();
        assert!(moved.held[0].curvature.high() > 1.2 * span.curvature.high());
        assert!(moved.held[0].extra_pull_n.unwrap().low() < 0.0);
    }
}
