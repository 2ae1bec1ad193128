//! What may touch by design, and from when on.

use crate::machine::BodyId;
use crate::machine::contact::{self, Permitted, When};
use crate::site::{Action, Site};

/// Whether two bodies of the lifting machine and its load may touch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Contact {
    Never,
    /// By design, and why.
    ByDesign(&'static str),
    /// From this step on guides lead the one along the other: then there is no gap to judge.
    LedFrom(usize),
}

/// Whether and when two bodies may touch; `guided_from` as [`guided_from`] tells.
pub(crate) fn contact(one: BodyId, other: BodyId, guided_from: Option<usize>) -> Contact {
    match (contact::between(one, other), guided_from) {
        (Some(Permitted { when: When::Always, why }), _) => Contact::ByDesign(why),
        (Some(Permitted { when: When::Guided, .. }), Some(step)) => Contact::LedFrom(step),
        (Some(Permitted { when: When::Guided, .. }), None) | (None, _) => Contact::Never,
    }
}

/// A derrick's pole is longer than its boom is high, so that from its upending on its top stands beside the boom's tip: on its
/// way into the guides, in them, and when they let it go and the boom leaves it. The step from which on that is so.
pub(crate) fn guided_from(site: &Site) -> Option<usize> {
    let into = site.steps.iter().position(|step| matches!(step.action, Action::IntoGuides { .. }))?;
    let before = site.steps.get(..into).unwrap_or(&[]);
    Some(before.iter().rposition(|step| step.action == Action::Upend).unwrap_or(into))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_load_must_not_touch_the_boom_unless_guides_lead_it_there() {
        let (boom, pole) = (BodyId::Boom, BodyId::Pole);
        assert_eq!([contact(boom, pole, None), contact(pole, boom, None)], [Contact::Never; 2]);
        assert_eq!([contact(boom, pole, Some(3)), contact(pole, boom, Some(3))], [Contact::LedFrom(3); 2]);
        let struck = [(BodyId::HookBlock, boom), (BodyId::PoleItem(0), boom), (pole, BodyId::Counterweight)];
        assert!(struck.iter().all(|(one, other)| contact(*one, *other, None) == Contact::Never));
        assert_eq!(contact(pole, BodyId::Counterweight, Some(3)), Contact::Never);
        assert!(matches!(contact(pole, BodyId::Rigging, None), Contact::ByDesign(_)));
    }
}
