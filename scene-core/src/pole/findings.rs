//! Doubtful figures of the pole.

use super::mass::{MassPart, computed_shell};
use crate::finding::{self, Finding, Unit};
use crate::site::{Cover, CoverOn, Pole, Shell};

/// The maker's mass and the computed mass may differ by this share without a finding.
const MAKER_SHARE: f64 = 0.15;

/// The maker's balance point and the computed one may differ by this share of the length without a finding.
const MAKER_BALANCE_SHARE: f64 = 0.05;

/// A tube's sections and its stated length may differ by this without a finding, meters.
const LENGTH_TOLERANCE_M: f64 = 0.05;

/// Everything doubtful about the pole's figures.
///
/// The maker's mass holds. A computed mass surely more than 15 percent above it is a stop: one of the two is wrong and
/// the pole may be heavier than planned. Any other difference beyond 15 percent is a caution.
pub fn findings(pole: &Pole, covers: &[Cover]) -> Vec<Finding> {
    let computed = match computed_shell(pole) {
        Ok(computed) => computed,
        Err(error) => return vec![error.finding()],
    };
    let mut found = Vec::new();
    found.extend(maker_findings(pole, &computed));
    if let Shell::SteelTube { sections, .. } = &pole.shell {
        let length = sections.iter().map(|s| s.length_m - s.lap_m).sum::<f64>();
        if (length - pole.length_m).abs() > LENGTH_TOLERANCE_M {
            let fact = finding::Pole::LengthDisagrees { sections_m: length, pole_m: pole.length_m };
            found.push(finding::stop(fact).measured(length, pole.length_m, Unit::Meter));
        }
    }
    for item in pole.items.iter().filter(|item| item.mass_kg == 0.0) {
        found.push(finding::caution(finding::Pole::ItemWithoutMass { item: item.name.clone() }));
    }
    for cover in covers.iter().filter(|cover| matches!(cover.on, CoverOn::Pole { .. }) && cover.mass_kg.is_none()) {
        found.push(finding::caution(finding::Pole::CoverMassNotStated { cover: cover.name.clone() }));
    }
    found
}

/// The maker's mass and balance compared with the computed ones.
fn maker_findings(pole: &Pole, computed: &MassPart) -> Vec<Finding> {
    let Some(maker) = pole.maker else { return Vec::new() };
    let mut found = Vec::new();
    let (least, most) = (computed.kg.low(), computed.kg.high());
    let (lightest, heaviest) = (maker.mass_kg / (1.0 + MAKER_SHARE), maker.mass_kg * (1.0 + MAKER_SHARE));
    if most > heaviest || most < lightest {
        let (maker_kg, least_kg, most_kg) = (maker.mass_kg, least, most);
        let finding = if least > heaviest {
            finding::stop(finding::Pole::MakerMassTooLow { maker_kg, least_kg, most_kg })
        } else {
            finding::caution(finding::Pole::MakerMassDiffers { maker_kg, least_kg, most_kg })
        };
        let off = if most > heaviest { most } else { least };
        found.push(finding.measured(maker.mass_kg, off, Unit::Kilogram));
    }
    let apart = maker.balance_from_butt_m - computed.center_from_butt_m.middle();
    if apart.abs() > MAKER_BALANCE_SHARE * pole.length_m + computed.center_from_butt_m.width() / 2.0 {
        let (maker_m, computed_m) = (maker.balance_from_butt_m, computed.center_from_butt_m.middle());
        let fact = finding::Pole::MakerBalanceDiffers { maker_m, computed_m };
        found.push(finding::caution(fact).measured(maker_m, computed_m, Unit::Meter));
    }
    found
}
