//! Spans beside one that is held out, against an independent solution of wire that runs through its supports.
//!
//! source: tests/reference/beside.json, written by beside.py beside it with scipy 1.17.1; status computed.

use glam::DVec3;
use scene_core::bracket::Bracket;
use scene_core::conductor::{HoldState, PlacedFamily, hang};
use scene_core::premise::NotChecked;
use scene_core::scene;
use scene_core::site::{Attachment, Conductor, During, Hang, HeldOut, Site, Span};
use serde_json::Value;

fn number(of: &Value) -> f64 {
    of.as_f64().expect("a number")
}

fn numbers(of: &Value) -> Vec<f64> {
    of.as_array().expect("a list").iter().map(number).collect()
}

struct Case {
    site: Site,
    /// A span beside, its horizontal tension free and slipped, what ran through its near support.
    beside: Vec<(usize, f64, f64)>,
    weight: f64,
    natural: Vec<f64>,
    held: usize,
}

fn cases() -> Vec<Case> {
    let file = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/beside.json");
    let text = std::fs::read_to_string(file).expect("beside.json is kept beside beside.py");
    let all: Value = serde_json::from_str(&text).expect("it is JSON");
    all["cases"].as_array().expect("cases").iter().map(case).collect()
}

fn case(of: &Value) -> Case {
    let (runs, heights, natural) = (numbers(&of["runs_m"]), numbers(&of["heights_m"]), numbers(&of["horizontal_n"]));
    let (weight, held) = (number(&of["weight_n_per_m"]), number(&of["held"]) as usize);
    let mut site: Site = scene::read("template", scene::template()).and_then(|scene| scene.site()).expect("a site");
    site.weather.truncate(1);
    site.weather[0].wind_m_s = 0.0;
    site.covers.clear();
    site.wires.truncate(1);
    let wire = &mut site.wires[0];
    wire.conductor = Conductor {
        name: String::new(),
        diameter_m: 0.01,
        weight_n_per_m: weight,
        rated_strength_n: None,
        stiffness_n: Some(number(&of["stiffness_n"])),
        metal: None,
        source: String::new(),
        stiffness_doubt: 0.0,
        from_memory: String::new(),
    };
    let begins = |i: usize| runs[..i].iter().sum::<f64>();
    let at = |i: usize| DVec3::new(begins(i), 0.0, heights[i]);
    let span =
        |i: usize| Span { from: at(i), to: at(i + 1), hang: Hang::Tension { tension_n: Bracket::exactly(natural[i]) } };
    wire.spans = (0..runs.len()).map(span).collect();
    wire.attached = vec![Attachment::Unknown; heights.len()];
    wire.attached[0] = Attachment::DeadEnd;
    wire.attached[runs.len()] = Attachment::DeadEnd;
    let to = numbers(&of["to"]);
    site.held_out = vec![HeldOut {
        name: "arm".into(),
        wire: 0,
        span: held,
        fraction: number(&of["fraction"]),
        to: DVec3::new(begins(held) + to[0], to[1], to[2]),
        holder: None,
        holder_rating_n: None,
        during: During { on_after_step: Some(0), off_before_step: None },
    }];
    let mut beside = Vec::new();
    for side in of["sides"].as_array().expect("two sides").iter().filter(|side| !side.is_null()) {
        let (free, ran) = (numbers(&side["free_n"]), numbers(&side["ran_m"]));
        for (k, span) in numbers(&side["beside"]).into_iter().enumerate() {
            beside.push((span as usize, free[k], ran[k]));
        }
        let first = numbers(&side["beside"])[0] as usize;
        beside.push((first, number(&side["slipped_n"]), number(&side["slipped_m"])));
    }
    Case { site, beside, weight, natural, held }
}

fn families(site: &Site, place: HoldState) -> Vec<PlacedFamily> {
    let wires = hang(site);
    assert!(!wires.findings.iter().any(|finding| finding.code() == "held_out_beside"), "{:?}", wires.findings);
    let state = wires.states.into_iter().find(|state| state.hold_states == [(0, place)]).expect("a state");
    state.families
}

#[test]
fn wire_that_runs_through_its_supports_hangs_and_lies_where_was_said() {
    let (mut spans, mut changed, mut parts, mut shares) = (0, 0, 0, Vec::new());
    for case in cases() {
        let held = families(&case.site, HoldState::Held);
        let placing = families(&case.site, HoldState::BeingPlaced);
        for &(span, tension_n, ran_m) in &case.beside {
            let curvature = case.weight / tension_n;
            for families in [&held, &placing] {
                let placed = families.iter().find(|placed| placed.span == span).expect("the span beside");
                let may = placed.family.curvature;
                assert!(
                    may.widened(1e-9 * curvature).contains(curvature),
                    "span {span}: {curvature} is not in {may:?}"
                );
                assert!(ran_m.abs() <= placed.station_error_m, "{ran_m} ran, {} was said", placed.station_error_m);
                // So does the wire of the held span on that side of the grip.
                let (next, end) = if span < case.held { (span + 1, 0) } else { (span - 1, 1) };
                let own = || families.iter().filter(|placed| placed.span == case.held);
                let stations = own().map(|placed| placed.station_m[end]);
                let last = stations.reduce(if end == 0 { f64::min } else { f64::max }).expect("the held span");
                for part in own().filter(|part| next == case.held && part.station_m[end] == last) {
                    assert!(ran_m.abs() <= part.station_error_m, "{ran_m} ran, {} was said", part.station_error_m);
                    parts += 1;
                }
            }
            let by_itself = case.weight / case.natural[span];
            changed += usize::from((curvature / by_itself - 1.0).abs() > 0.02);
            let placed = held.iter().find(|placed| placed.span == span).expect("the span beside");
            let may = placed.family.curvature;
            let most = (may.high() - by_itself).max(by_itself - may.low());
            shares.push((curvature - by_itself).abs() / most);
            spans += 1;
        }
    }
    shares.sort_by(f64::total_cmp);
    println!("{spans} spans, {changed} changed by 2 percent; of what was allowed for, half {:.2}", shares[spans / 2]);
    assert!(spans > 300 && changed > 100 && parts > 300, "{spans} {changed} {parts}");
    assert!(shares[spans - 1] > 0.4, "the bounds are far too wide: {}", shares[spans - 1]);
}

#[test]
fn where_the_wire_is_tied_the_spans_beside_hang_as_they_did() {
    for mut case in cases().into_iter().take(20) {
        case.site.wires[0].attached.fill(Attachment::Tied);
        for placed in families(&case.site, HoldState::Held).iter().filter(|placed| placed.span != case.held) {
            let by_itself = case.weight / case.natural[placed.span];
            assert!(
                placed.family.curvature.width() <= 1e-9 * by_itself
                    && placed.family.curvature.widened(1e-9).contains(by_itself)
            );
        }
        assert!(!hang(&case.site).not_checked.iter().any(is_of_spans_beyond_ends));
    }
}

fn is_of_spans_beyond_ends(what: &NotChecked) -> bool {
    matches!(what, NotChecked::SpansBeyondEnds { .. })
}

#[test]
fn a_tie_stops_what_lies_behind_it_and_an_open_end_is_named() {
    let mut named = 0;
    for mut case in cases().into_iter().filter(|case| case.site.wires[0].spans.len() >= 4 && case.held == 0).take(10) {
        let attached = &mut case.site.wires[0].attached;
        attached[2] = Attachment::Tied;
        attached[0] = Attachment::Sliding;
        let still = families(&case.site, HoldState::Held);
        let width =
            |span: usize| still.iter().find(|placed| placed.span == span).expect("a span").family.curvature.width();
        assert!(width(1) > 1e-6 && width(2) < 1e-9 && width(3) < 1e-9);
        named += usize::from(hang(&case.site).not_checked.iter().any(is_of_spans_beyond_ends));
    }
    assert!(named > 0);
}
