use super::*;
use crate::check::Prepared;
use crate::motion::track::Wave;
use crate::motion::{MovingFeature, Track};
use crate::scene;
use proptest::prelude::*;

#[test]
fn a_load_must_not_touch_the_boom_unless_guides_lead_it_there() {
    let (boom, pole) = (BodyId::Boom, BodyId::Pole);
    assert_eq!([contact(boom, pole), contact(pole, boom)], [Contact::For(When::Guided); 2]);
    assert_eq!(contact(BodyId::HookBlock, boom), Contact::Never);
    assert_eq!(contact(pole, BodyId::Counterweight), Contact::Never);
    assert_eq!(contact(pole, BodyId::HookBlock), Contact::For(When::Choked));
    assert!(matches!(contact(pole, BodyId::PoleItem(1)), Contact::ByDesign(_)));
}

/// By piece: its load, and whether the body may touch the pole then.
fn told(text: &str, when: When, id: BodyId) -> Vec<(LoadState, bool)> {
    let site = scene::read("example", text).and_then(|scene| scene.site()).unwrap();
    let prepared = Prepared::of(&site, &mut Vec::new());
    let plan = prepared.plan.as_ref().unwrap();
    let motion = prepared.bodies().and_then(|sets| sets.against_one_another()).unwrap();
    let body = motion.motion.bodies.iter().find(|body| body.id == id).unwrap();
    let excused = pieces_in_contact(&site, plan, when, body, BodyId::Pole);
    plan.pieces.iter().map(|piece| piece.load).zip(excused).collect()
}

const JUNIPER: &str = include_str!("../../../../../scenes/01_juniper_lane.ron");

#[test]
fn a_crane_s_boom_is_never_led_along_the_pole() {
    assert!(told(JUNIPER, When::Guided, BodyId::Boom).iter().all(|(_, may_touch)| !may_touch));
}

#[test]
fn a_hook_may_touch_the_pole_while_it_is_choked_and_until_it_goes_through_it() {
    let told = told(JUNIPER, When::Choked, BodyId::HookBlock);
    assert!(told.iter().filter(|(load, _)| load.on_hook()).all(|(_, may_touch)| *may_touch));
    // From the first piece on that does not recede, the hook is judged.
    let standing: Vec<bool> =
        told.iter().filter(|(load, _)| *load == LoadState::Standing).map(|(_, may)| *may).collect();
    assert!(standing.first() == Some(&true), "{standing:?}");
    assert!(standing.windows(2).all(|two| two[0] || !two[1]), "{standing:?}");
}

fn vector(size: f64) -> impl Strategy<Value = DVec3> {
    [-size..size, -size..size, -size..size].prop_map(DVec3::from)
}

proptest! {
    #[test]
    fn no_instant_comes_nearer_than_the_low_bound(
        base in vector(20.0), drift in vector(5.0), cos in vector(9.0), sin in vector(9.0), rate in -3.0f64..3.0,
        n in vector(1.0), at in prop::collection::vec(0.0f64..=1.0, 40),
    ) {
        prop_assume!(n.length() > 0.1);
        let n = n.normalize();
        let wave = Wave { rate: 0, cos, sin, cos_drift: DVec3::ZERO, sin_drift: DVec3::ZERO };
        let feature =
            MovingFeature { at: Track { base, drift, waves: vec![wave] }, radius_m: 0.3, axis: None, allowance_m: 0.0 };
        let part = MovingPart { rates: vec![rate], features: vec![feature], ..MovingPart::default() };
        let whole = Bracket::between(0.0, 1.0).unwrap();
        let low_m = least_along(std::slice::from_ref(&part), n, whole, STRETCHES);
        let mut nearest_m = f64::INFINITY;
        for u in at {
            let place = part.features[0].at.at(&Phases::at(&part.rates, u)).dot(n) - 0.3;
            prop_assert!(low_m <= place + 1e-9, "{low_m} {place}");
            nearest_m = nearest_m.min(place);
        }
        prop_assert!(nearest_m.is_finite());
    }
}

#[test]
fn a_number_that_is_missing_excuses_nothing() {
    let feature = MovingFeature { at: Track::still(DVec3::NAN), radius_m: 0.1, axis: None, allowance_m: 0.0 };
    let part = MovingPart { features: vec![feature], ..MovingPart::default() };
    let whole = Bracket::between(0.0, 1.0).unwrap();
    assert_eq!(least_along(&[part], DVec3::X, whole, STRETCHES), f64::NEG_INFINITY);
}
