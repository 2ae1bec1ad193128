//! Covers on wires and on the pole: what class they need, where they are and when, and what is wrong with them.
//!
//! | file | what it knows |
//! |---|---|
//! | `class` | rated voltages by class, whether a make suffices for a circuit |
//! | `stretch` | how many pieces, which stretches are covered during a step, which stay bare |
//! | `findings` | class too low, open joints, order of putting on and taking off |
//!
//! Cover is for brush contact. It counts only doubled, pole and wire both, and only where [`crate::rules::cover_counts`];
//! the proof of that is not made here. A pole's cover is on its shaft: what sticks out of the shaft is bare. Wood is no
//! insulation. Not modeled: covers that creep, spin or are wet, and how far a cover's end lets a spark creep round it.

mod class;
mod findings;
mod stretch;

pub use class::{Class, adequate, class, glove_class};
pub use findings::findings;
pub use stretch::{CoverState, bare, line_states, pieces, run_stations, stretches};

use crate::site::{Circuit, Cover, CoverMake, CoverOn, Method, Site, WireKind};
use serde::Serialize;

/// A cover as the crew reads it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Row {
    pub name: String,
    /// The wire's name, or "pole".
    pub on: String,
    /// Meters along the line from abeam the hole, or from the butt.
    pub from_m: f64,
    pub to_m: f64,
    /// "rubber class 2".
    pub class: String,
    /// "gloves, class 2 or better" or "stick".
    pub method: String,
    /// `None` where the pieces cannot make up the length.
    pub pieces: Option<u32>,
    pub on_after_step: Option<usize>,
    pub off_before_step: Option<usize>,
}

/// One row for each cover, in the scene's order.
pub fn rows(site: &Site) -> Vec<Row> {
    site.covers
        .iter()
        .map(|cover| {
            let extent = extent(cover);
            Row {
                name: cover.name.clone(),
                on: on_what(site, cover),
                from_m: extent.low(),
                to_m: extent.high(),
                class: make_in_words(cover.make),
                method: method_in_words(site, cover),
                pieces: pieces(extent.width(), cover.piece_length_m, cover.overlap_m),
                on_after_step: cover.during.on_after_step,
                off_before_step: cover.during.off_before_step,
            }
        })
        .collect()
}

fn extent(cover: &Cover) -> crate::bracket::Bracket {
    match cover.on {
        CoverOn::Wire { station_m, .. } => station_m,
        CoverOn::Pole { from_butt_m } => from_butt_m,
    }
}

fn on_what(site: &Site, cover: &Cover) -> String {
    match cover.on {
        CoverOn::Wire { wire, .. } => {
            site.wires.get(wire).map_or_else(|| format!("wire {wire}, which is not there"), |wire| wire.name.clone())
        }
        CoverOn::Pole { .. } => "pole".to_string(),
    }
}

fn make_in_words(make: CoverMake) -> String {
    match make {
        CoverMake::Rubber { class } => format!("rubber class {class}"),
        CoverMake::Plastic { class } => format!("plastic class {class}"),
        CoverMake::Own { max_phase_phase_v, .. } => {
            format!("own class for {:.1} kV between phases", f64::from(max_phase_phase_v) / 1e3)
        }
    }
}

fn method_in_words(site: &Site, cover: &Cover) -> String {
    match (cover.method, circuits(site, cover)) {
        (Method::Stick, _) => "stick".to_string(),
        (Method::Gloves, Some(circuits)) => {
            let highest = circuits.iter().map(|circuit| circuit.voltage_v).fold(0.0, f64::max);
            match glove_class(highest) {
                Some(class) => format!("gloves, class {class} or better"),
                None => "gloves, of which no class suffices".to_string(),
            }
        }
        (Method::Gloves, None) => "gloves, class not known".to_string(),
    }
}

/// The circuits whose voltage a cover must stand: of a phase or neutral its own, of a communication line or the pole all
/// that have a wire here. `None` where one of them is not in the site, or the wire is not.
fn circuits<'a>(site: &'a Site, cover: &Cover) -> Option<Vec<&'a Circuit>> {
    let of = |kind: WireKind| match kind {
        WireKind::Phase { circuit } | WireKind::Neutral { circuit } => Some(circuit),
        WireKind::Communication => None,
    };
    let own = match cover.on {
        CoverOn::Wire { wire, .. } => of(site.wires.get(wire)?.kind),
        CoverOn::Pole { .. } => None,
    };
    let mut indices = match own {
        Some(index) => vec![index],
        None => site.wires.iter().filter_map(|wire| of(wire.kind)).collect(),
    };
    indices.sort_unstable();
    indices.dedup();
    indices.into_iter().map(|index| site.circuits.get(index)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bracket::Bracket;
    use crate::fixtures::line::site;
    use crate::site::{Action, During, Step};

    #[test]
    fn contradictory_and_absurd_covers_are_found_and_never_counted() {
        let numbers = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, f64::MAX, f64::MIN_POSITIVE, -1.0, 0.0, 1e-300];
        let steps = [None, Some(0), Some(1), Some(usize::MAX)];
        for piece_length_m in numbers {
            for overlap_m in numbers {
                for (on_after_step, off_before_step) in steps.into_iter().flat_map(|on| steps.map(|off| (on, off))) {
                    let mut site = site(12_470.0);
                    site.steps =
                        vec![
                            Step { name: "work".into(), action: Action::Work { minutes: f64::NAN }, combined: false };
                            2
                        ];
                    let everywhere = Bracket::between(f64::MIN, f64::MAX).unwrap();
                    let places = [
                        CoverOn::Wire { wire: 0, station_m: everywhere },
                        CoverOn::Wire { wire: usize::MAX, station_m: everywhere },
                        CoverOn::Pole { from_butt_m: Bracket::exactly(f64::NAN) },
                    ];
                    site.covers = places
                        .into_iter()
                        .map(|on| Cover {
                            name: String::new(),
                            on,
                            make: CoverMake::Rubber { class: 4 },
                            piece_length_m,
                            overlap_m,
                            method: Method::Gloves,
                            hands: None,
                            mass_kg: None,
                            during: During { on_after_step, off_before_step },
                        })
                        .collect();
                    assert!(findings(&site).iter().any(|finding| finding.grade == crate::finding::Grade::Stop));
                    assert_eq!(rows(&site).len(), 3);
                    for (_, state) in line_states(&site) {
                        assert!(state.pole.is_empty() && state.wires.iter().all(Vec::is_empty));
                    }
                }
            }
        }
    }

    #[test]
    fn a_row_names_the_gloves_that_the_voltage_wants() {
        let mut site = site(24_940.0);
        site.covers = vec![Cover {
            name: "hose".into(),
            on: CoverOn::Wire { wire: 1, station_m: Bracket::between(-3.0, 3.0).unwrap() },
            make: CoverMake::Rubber { class: 3 },
            piece_length_m: 1.8,
            overlap_m: 0.1,
            mass_kg: None,
            method: Method::Gloves,
            hands: None,
            during: During { on_after_step: None, off_before_step: None },
        }];
        let row = &rows(&site)[0];
        assert_eq!((row.on.as_str(), row.class.as_str()), ("phase B", "rubber class 3"));
        assert_eq!(row.method, "gloves, class 3 or better");
        assert_eq!(row.pieces, Some(4));
    }
}
