//! Stations along a wire: horizontal meters from the point abeam the hole, positive toward the wire's last point.

use super::Span;
use crate::bracket::Bracket;
use glam::{DVec2, DVec3};

/// From the station of the wire's first point to that of its last; `None` without spans or with figures that are not finite.
///
/// Abeam is the wire's point nearest to the hole in plan; the first such one when there are several.
pub fn reach(spans: &[Span], hole: DVec3) -> Option<Bracket> {
    let mut before = 0.0;
    let mut nearest: Option<(f64, f64)> = None;
    for span in spans {
        let (from, along) = (span.from.truncate(), (span.to - span.from).truncate());
        let run = along.length();
        let fraction =
            if run > 0.0 { ((hole.truncate() - from).dot(along) / (run * run)).clamp(0.0, 1.0) } else { 0.0 };
        let away = DVec2::distance(hole.truncate(), from + along * fraction);
        if nearest.is_none_or(|(least, _)| away < least) {
            nearest = Some((away, before + run * fraction));
        }
        before += run;
    }
    let (away, abeam) = nearest?;
    if !away.is_finite() {
        return None;
    }
    Bracket::between(-abeam, before - abeam)
}

/// The span that a station falls in, and its horizontal fraction there, 0 to 1; `None` off the wire.
pub fn locate(spans: &[Span], hole: DVec3, station_m: f64) -> Option<(usize, f64)> {
    let mut left = station_m - reach(spans, hole)?.low();
    for (i, span) in spans.iter().enumerate() {
        let run = (span.to - span.from).truncate().length();
        if (0.0..=run).contains(&left) && run > 0.0 {
            return Some((i, left / run));
        }
        left -= run;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::site::Hang;

    fn line() -> Vec<Span> {
        let point = |x: f64, z: f64| DVec3::new(x, 4.0, z);
        let hang = Hang::Sag { sag_m: Bracket::exactly(1.0) };
        vec![
            Span { from: point(-100.0, 10.0), to: point(-20.0, 11.0), hang },
            Span { from: point(-20.0, 11.0), to: point(60.0, 12.0), hang },
        ]
    }

    #[test]
    fn stations_count_from_abeam_the_hole() {
        let hole = DVec3::new(10.0, 0.0, 0.0);
        assert_eq!(reach(&line(), hole), Bracket::between(-110.0, 50.0));
        assert_eq!(locate(&line(), hole, 0.0), Some((1, 30.0 / 80.0)));
        assert_eq!(locate(&line(), hole, -70.0), Some((0, 0.5)));
        assert_eq!(locate(&line(), hole, 51.0), None);
    }

    #[test]
    fn a_hole_beyond_the_line_counts_from_its_end() {
        assert_eq!(reach(&line(), DVec3::new(70.0, 0.0, 0.0)), Bracket::between(-160.0, 0.0));
    }

    #[test]
    fn no_wire_has_no_stations() {
        assert_eq!(reach(&[], DVec3::ZERO), None);
        assert_eq!(locate(&line(), DVec3::NAN, 0.0), None);
    }
}
