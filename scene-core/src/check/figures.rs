//! Figures that no room looks at closely enough: each must be a number, and not less than nothing.
//!
//! A reader of scene files refuses them too; a site may come from elsewhere. What a room already refuses by itself (a mass, a
//! rate, a place) is not repeated here.

use crate::finding::{self, Finding};
use crate::site::Site;

pub(super) fn findings(site: &Site) -> Vec<Finding> {
    let crane = &site.crane;
    let allowances = &site.allowances;
    let mut figures: Vec<(String, f64)> = [
        ("The survey allowance", allowances.survey.value),
        ("The placing allowance", allowances.placing.value),
        ("The allowance for radius growth", allowances.radius_growth.value),
        ("The allowance for load swing", allowances.load_swing.value),
        ("The growth of the load's swing", allowances.load_swing_growth.value),
        ("The allowance for line movement", allowances.line_movement.value),
        ("The residual gap", site.basis.residual_gap_m),
        ("The setting depth", site.pole.setting_depth_m),
        ("The rigging's length", site.rigging.length_m),
        ("The rigging's diameter", site.rigging.diameter_m),
        ("The most that the butt is held with", site.rigging.tag_line_hold_n.unwrap_or(0.0)),
        ("The hoist line's diameter", crane.line_diameter_m),
        ("The boom head's radius", crane.head.radius_m),
        ("The sheave's radius", crane.head.sheave_radius_m),
        ("The hook block's radius", crane.block.radius_m),
        ("The hook block's length", crane.block.length_m),
        ("The tail's radius", crane.tail.radius_m),
        ("The tail's half width", crane.tail.half_width_m),
        ("The time to bring a motion up to its rate", crane.ramp_s.unwrap_or(0.0)),
        ("The chart's spread of the floats along", crane.chart.floats.map_or(0.0, |floats| floats.along_m)),
        ("The chart's spread of the floats across", crane.chart.floats.map_or(0.0, |floats| floats.across_m)),
    ]
    .map(|(what, value)| (what.to_owned(), value))
    .into();
    for (number, section) in crane.sections.iter().enumerate() {
        let of = |what: &str| format!("The {what} of boom section {}", number + 1);
        figures.extend([
            (of("length"), section.length_m),
            (of("width"), section.width_m),
            (of("depth"), section.depth_m),
        ]);
    }
    figures.extend((0..site.lifts.len()).flat_map(|lift| of_lift(site, lift)));
    for wire in &site.wires {
        let conductor = &wire.conductor;
        let of = |what: &str| format!("The {what} of {}, wire {}", conductor.name, wire.name);
        figures.push((of("rated strength"), conductor.rated_strength_n.unwrap_or(0.0)));
        figures.push((of("stiffness"), conductor.stiffness_n.unwrap_or(0.0)));
    }
    for held in &site.held_out {
        figures.push((format!("The rating of what holds {}", held.name), held.holder_rating_n.unwrap_or(0.0)));
    }
    for weather in &site.weather {
        figures.push((format!("The wind of {}", weather.name), weather.wind_m_s));
    }
    figures.into_iter().filter(|(_, value)| !(value.is_finite() && *value >= 0.0)).map(unusable).collect()
}

/// Sizes as they are; places, angles and offsets by their magnitude, since they may well be below zero.
fn of_lift(site: &Site, lift: usize) -> Vec<(String, f64)> {
    let (called, figures) = (site.lift_called(lift), site.lifts.get(lift).map_or(Vec::new(), |lift| lift.figures()));
    let called = match called.strip_prefix("the ") {
        Some(called) => format!("The {called}"),
        None => called,
    };
    figures.into_iter().map(|(what, value)| (format!("{called}'s {what}"), value)).collect()
}

fn unusable((what, value): (String, f64)) -> Finding {
    finding::stop(finding::Site::FigureUnusable { what, value })
}

#[cfg(test)]
mod tests {
    use super::findings;
    use crate::finding::Grade;
    use crate::quantity::show::Units;
    use crate::report::words;
    use crate::scene;
    use crate::site::Site;

    fn example() -> Site {
        scene::read("new.ron", scene::template()).and_then(|scene| scene.site()).unwrap()
    }

    #[test]
    fn the_template_has_none() {
        assert_eq!(findings(&example()), []);
    }

    #[test]
    fn an_allowance_below_zero_is_a_stop_though_others_make_up_for_it() {
        let mut site = example();
        site.allowances.load_swing.value = -0.1;
        let found = findings(&site);
        assert_eq!((found.len(), found[0].grade), (1, Grade::Stop));
        assert!(words::message(&found[0], Units::Both).starts_with("The allowance for load swing"));
    }

    #[test]
    fn a_rating_without_limit_is_no_rating() {
        let mut site = example();
        site.rigging.tag_line_hold_n = Some(f64::INFINITY);
        site.wires[0].conductor.stiffness_n = Some(f64::NAN);
        assert_eq!(findings(&site).len(), 2);
    }
}
