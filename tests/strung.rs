//! Spans hung from how they were strung, against published sag-tension tables and an independent solution by scipy.

use glam::DVec3;
use outside_checks::{Row, rows};
use scene_core::bracket::Bracket;
use scene_core::catalog;
use scene_core::conductor::load::ice_n_per_m;
use scene_core::conductor::{Catenary, hang};
use scene_core::scene;
use scene_core::site::{Conductor, Core, Hang, Ice, Metal, Ruling, Site, Span, Stringing, Strung};
use serde_json::Value;

const FOOT_M: f64 = 0.3048;
const INCH_M: f64 = 0.0254;
const POUND_N: f64 = 4.448_221_615_260_5;

fn kelvin(fahrenheit: f64) -> f64 {
    (fahrenheit + 459.67) * 5.0 / 9.0
}

/// One wire of one span in still air, by the same way as any scene's.
fn sag_m(conductor: &Conductor, run_m: f64, rise_m: f64, strung: Strung) -> Bracket {
    let mut site: Site = scene::read("template", scene::template()).and_then(|scene| scene.site()).unwrap();
    site.held_out.clear();
    site.weather.truncate(1);
    site.weather[0].wind_m_s = 0.0;
    site.wires.truncate(1);
    site.wires[0].conductor = conductor.clone();
    let (from, to) = (DVec3::new(-run_m / 2.0, 0.0, 20.0), DVec3::new(run_m / 2.0, 0.0, 20.0 + rise_m));
    site.wires[0].spans = vec![Span { from, to, hang: Hang::Strung(strung) }];
    let wires = hang(&site);
    assert!(wires.findings.is_empty(), "{:?}", wires.findings);
    wires.states[0].families[0].summary.unwrap().sag_m
}

fn as_strung(tension_n: Bracket, then_f: f64, today_f: f64) -> Strung {
    Strung {
        known: Stringing::Tension { tension_n },
        temperature_k: Bracket::exactly(kelvin(then_f)),
        elongation: Bracket::exactly(0.0),
        ruling: Ruling::Alone,
        today_k: Bracket::exactly(kelvin(today_f)),
        knee_k: None,
        ice: None,
    }
}

#[derive(Clone, Copy)]
struct Drake {
    span_ft: f64,
    temp_f: f64,
    ice_in: f64,
    wind_psf: f64,
    weight_lb_ft: f64,
    /// Final and initial: sag, mean tension.
    printed: [[f64; 2]; 2],
}

fn drake(span_ft: f64) -> Vec<Drake> {
    let row = |row: &Row| Drake {
        span_ft: row.figure("span_ft"),
        temp_f: row.figure("temp_f"),
        ice_in: row.figure("ice_in"),
        wind_psf: row.figure("wind_psf"),
        weight_lb_ft: row.figure("weight_lb_ft"),
        printed: [
            [row.figure("final_sag_ft"), row.figure("final_tension_lb")],
            [row.figure("initial_sag_ft"), row.figure("initial_tension_lb")],
        ],
    };
    let table = rows(include_str!("published/sag_drake.csv"));
    table.iter().map(row).filter(|row| row.span_ft == span_ft && row.wind_psf == 0.0).collect()
}

/// The printed tension is the mean of the horizontal and the support's: the least and the most horizontal one.
fn horizontal_n(row: &Drake, which: usize) -> Bracket {
    let [sag_ft, mean_lb] = row.printed[which];
    let lower = row.weight_lb_ft * sag_ft / 2.0;
    Bracket::between((mean_lb - lower - 0.6) * POUND_N, (mean_lb - lower + 0.6) * POUND_N).unwrap()
}

fn bare(rows: &[Drake]) -> impl Iterator<Item = Drake> + '_ {
    rows.iter().copied().filter(|row| row.ice_in == 0.0)
}

// source: ALCOA chart 1-537 (1000 ft) and handbook Table 14.5 (700 ft), final; published/sag_drake.csv; status verified
#[test]
fn every_published_final_sag_of_drake_is_between_the_highest_and_the_lowest_position() {
    let conductor = catalog::conductor("Drake").unwrap();
    for span_ft in [700.0, 1000.0] {
        let rows = drake(span_ft);
        assert!(rows.len() >= 9);
        for then in bare(&rows) {
            for today in bare(&rows) {
                // Above the knee no table tells where the aluminum would carry again.
                let then_is_hot = then.temp_f > 120.0;
                let knee_k = then_is_hot.then(|| kelvin(if span_ft == 700.0 { 120.0 } else { -20.0 }));
                let mut strung = as_strung(horizontal_n(&then, 0), then.temp_f, today.temp_f);
                strung.knee_k = knee_k;
                if span_ft == 1000.0 {
                    // This wire carried 1.5 in of ice: even at -20 F the aluminum is past its knee.
                    strung.knee_k = Some(kelvin(-20.0));
                }
                let sag = sag_m(&conductor, span_ft * FOOT_M, 0.0, strung);
                let printed = today.printed[0][0] * FOOT_M;
                // Half a unit of the last printed digit.
                assert!(
                    sag.widened(0.005 * FOOT_M).contains(printed),
                    "{span_ft} ft from {} F to {} F: {printed} m, {sag:?}",
                    then.temp_f,
                    today.temp_f
                );
            }
        }
    }
}

// source: handbook Table 14.5, 700 ft, final, 32 F and 0.5 in of ice; status verified
#[test]
fn the_published_sag_under_ice_is_between_the_two_positions() {
    let (conductor, rows) = (catalog::conductor("Drake").unwrap(), drake(700.0));
    let iced = rows.iter().find(|row| row.ice_in == 0.5).unwrap();
    for then in bare(&rows).filter(|row| row.temp_f <= 60.0) {
        let mut strung = as_strung(horizontal_n(&then, 0), then.temp_f, iced.temp_f);
        let density_kg_m3 = Bracket::exactly(57.0 * 16.018_463_37);
        strung.ice = Some(Ice { thickness_m: Bracket::exactly(0.5 * INCH_M), density_kg_m3 });
        let sag = sag_m(&conductor, 700.0 * FOOT_M, 0.0, strung);
        let printed = iced.printed[0][0] * FOOT_M;
        assert!(sag.widened(0.005 * FOOT_M).contains(printed), "from {} F: {printed} m, {sag:?}", then.temp_f);
    }
}

// source: handbook Table 14.5, 700 ft, initial and final; status verified. The growth is the table's own: initial and final
// sag at one temperature differ by 8/3·(D² − d²)/L² and the strain of the tension, 0.03 percent at 60 F.
#[test]
fn a_new_wire_that_has_grown_as_the_table_says_hangs_as_its_final_column() {
    let (conductor, rows) = (catalog::conductor("Drake").unwrap(), drake(700.0));
    let new = bare(&rows).find(|row| row.temp_f == 60.0).unwrap();
    for today in bare(&rows) {
        let mut strung = as_strung(horizontal_n(&new, 1), new.temp_f, today.temp_f);
        strung.elongation = Bracket::between(0.0, 0.0006).unwrap();
        strung.knee_k = Some(kelvin(60.0));
        let sag = sag_m(&conductor, 700.0 * FOOT_M, 0.0, strung);
        let printed = today.printed[0][0] * FOOT_M;
        assert!(sag.widened(0.005 * FOOT_M).contains(printed), "at {} F: {printed} m, {sag:?}", today.temp_f);
        strung.elongation = Bracket::exactly(0.0);
        strung.today_k = Bracket::exactly(kelvin(60.0));
        let as_new = sag_m(&conductor, 700.0 * FOOT_M, 0.0, strung);
        assert!(as_new.high() < bare(&rows).find(|row| row.temp_f == 60.0).unwrap().printed[0][0] * FOOT_M);
    }
}

#[test]
fn the_lowest_position_is_that_of_the_linear_model_and_the_highest_no_lower_than_a_wire_that_stays_as_it_was() {
    let (conductor, rows) = (catalog::conductor("Drake").unwrap(), drake(700.0));
    let then = bare(&rows).find(|row| row.temp_f == 60.0).unwrap();
    let sag = |today| sag_m(&conductor, 700.0 * FOOT_M, 0.0, as_strung(horizontal_n(&then, 0), 60.0, today));
    let (same, hot) = (sag(60.0), sag(212.0));
    assert!(same.width() < 0.03 * same.high(), "{same:?}");
    // source: the same table, 212 F: 18.04 ft, 2.1 ft above the linear model (verified).
    assert!(hot.high() > (18.04 + 2.1) * FOOT_M * 0.98, "{hot:?}");
    assert!(hot.low() < 18.04 * FOOT_M && hot.low() > same.low(), "{hot:?}");
}

// source: tests/reference/strung.py (scipy; version in the kept output): supports of any stiffness, core and mantle
// apart, ice, growth
#[test]
fn every_span_of_a_solved_section_is_between_the_two_positions_whatever_its_supports_give() {
    let reference: Value = serde_json::from_str(include_str!("reference/strung.json")).unwrap();
    let sections = reference["sections"].as_array().unwrap();
    assert!(sections.len() >= 150);
    let number = |value: &Value| value.as_f64().expect("a number");
    let numbers = |value: &Value| value.as_array().expect("a list").iter().map(number).collect::<Vec<f64>>();
    let (mut iced, mut hot, mut widths) = (0, 0, Vec::new());
    for section in sections {
        let weight = number(&section["weight_n_per_m"]);
        let (core, load) = (numbers(&section["core"]), number(&section["load_n_per_m"]));
        let conductor = Conductor {
            name: String::new(),
            diameter_m: 0.01,
            weight_n_per_m: weight,
            rated_strength_n: None,
            stiffness_n: Some(number(&section["whole_n"])),
            metal: Some(Metal {
                expansion_per_k: number(&section["whole_expansion"]),
                core: Core::Alone { stiffness_n: core[0], expansion_per_k: core[1] },
            }),
            source: String::new(),
            stiffness_doubt: 0.0,
            from_memory: String::new(),
        };
        let thickness_m = 0.004;
        let density = (load - weight) / ice_n_per_m(0.01, thickness_m, 1.0);
        let ice = Ice { thickness_m: Bracket::exactly(thickness_m), density_kg_m3: Bracket::exactly(density) };
        let (spans, tensions) = (numbers(&section["spans_m"]), numbers(&section["tension_n"]));
        let warmer = number(&section["warmer_k"]);
        iced += usize::from(load > weight);
        hot += usize::from(warmer > 20.0);
        for (run_m, tension) in spans.iter().zip(&tensions) {
            let strung = Strung {
                known: Stringing::Tension { tension_n: Bracket::exactly(number(&section["strung_n"])) },
                temperature_k: Bracket::exactly(288.0),
                elongation: Bracket::exactly(number(&section["grown"])),
                ruling: Ruling::of(&spans),
                today_k: Bracket::exactly(288.0 + warmer),
                knee_k: None,
                ice: (load > weight).then_some(ice),
            };
            let sag = sag_m(&conductor, *run_m, 0.0, strung);
            let solved = Catenary::from_tension(*run_m, 0.0, *tension, load).unwrap().midspan_sag_m();
            assert!(sag.contains(solved), "{solved} in {sag:?}: {section}");
            if number(&section["grown"]) == 0.0 {
                widths.push(sag.width() / solved);
            }
        }
    }
    assert!(iced > 20 && hot > 20, "{iced} iced, {hot} hot");
    widths.sort_by(f64::total_cmp);
    // It says something: half of the brackets are narrower than the sag itself by far.
    assert!(widths[widths.len() / 2] < 0.6, "{}", widths[widths.len() / 2]);
}

// source: √(ΣL³/ΣL), RUS Bulletin 1724E-200 ch. 9 and utility sag charts' introductions; the sum worked by hand; status computed
#[test]
fn the_ruling_span_of_200_250_and_300_ft_is_259_8_ft() {
    let Ruling::Section { ruling_m, shortest_m, longest_m } = Ruling::of(&[200.0, 250.0, 300.0]) else { panic!() };
    assert!((ruling_m - 67_500f64.sqrt()).abs() < 1e-9 && (ruling_m - 259.8).abs() < 0.01);
    assert_eq!((shortest_m, longest_m), (200.0, 300.0));
}

#[test]
fn inclined_spans_are_solved_on_their_own_catenary() {
    let conductor = catalog::conductor("Raven").unwrap();
    let strung = as_strung(Bracket::exactly(900.0 * POUND_N), 60.0, 60.0);
    let (level, inclined) = (sag_m(&conductor, 80.0, 0.0, strung), sag_m(&conductor, 80.0, 24.0, strung));
    // source: the inclined span's sag at one H is that of a level one of the same run times chord over run (parabola); status
    // computed
    let ratio = 80f64.hypot(24.0) / 80.0;
    assert!((inclined.middle() / level.middle() / ratio - 1.0).abs() < 0.002, "{level:?} {inclined:?}");
}
