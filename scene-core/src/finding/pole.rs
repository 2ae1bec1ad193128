//! What is wrong with the pole's own figures.

use super::facts;

/// Why a pole cannot be weighed.
#[derive(Clone, Debug, PartialEq)]
pub enum Unweighable {
    /// A measure of the pole is not what it needs to be.
    Number { what: String, need: &'static str, got: f64 },
    /// Of a steel pole; at most so many can be computed.
    Sections { most: usize, got: usize },
    /// A part of the shell narrows toward the butt.
    Taper { what: String },
}

facts! {
    /// Meters and kilograms.
    Pole {
        NotWeighable { why: Unweighable } = "pole_not_weighable",
        /// The sections less their laps are not as long as the pole.
        LengthDisagrees { sections_m: f64, pole_m: f64 } = "pole_length_disagrees",
        ItemWithoutMass { item: String } = "item_without_mass",
        CoverMassNotStated { cover: String } = "cover_mass_not_stated",
        /// The pole's own figures make surely more than the maker says.
        MakerMassTooLow { maker_kg: f64, least_kg: f64, most_kg: f64 } = "maker_mass_too_low",
        MakerMassDiffers { maker_kg: f64, least_kg: f64, most_kg: f64 } = "maker_mass_differs",
        /// Balance points from the butt.
        MakerBalanceDiffers { maker_m: f64, computed_m: f64 } = "maker_balance_differs",
        SetShallow { depth_m: f64, pole_m: f64, published_m: f64, source: &'static str } = "pole_set_shallow",
        /// By more than anybody's word excuses; `least_m` is what would do.
        SetTooShallow { depth_m: f64, pole_m: f64, least_m: f64, in_rock: bool } = "pole_set_too_shallow",
    }
}

impl Pole {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::ItemWithoutMass { item: name } | Self::CoverMassNotStated { cover: name } => Some(name),
            _ => None,
        }
    }
}
