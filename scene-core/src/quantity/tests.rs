use super::*;
use proptest::prelude::*;

fn metres(text: &str) -> f64 {
    Quantity::<Length>::parse(text).unwrap().si()
}

#[track_caller]
fn close(found: f64, expected: f64) {
    assert!((found - expected).abs() <= 1e-12 * expected.abs(), "{found} is not {expected}");
}

#[test]
fn lengths_read_as_a_crew_writes_them() {
    close(metres("55 ft"), 55.0 * 0.3048);
    close(metres("12 ft 6 in"), 12.5 * 0.3048);
    close(metres("-3 ft 8 in"), -44.0 * 0.0254);
    close(metres("\u{2212}3 ft 8 in"), -44.0 * 0.0254);
    close(metres("12' 6\""), 12.5 * 0.3048);
    close(metres("12ft6in"), 12.5 * 0.3048);
    close(metres("8 5/8 in"), 8.625 * 0.0254);
    close(metres("3/16 in"), 0.1875 * 0.0254);
    close(metres("6 ft 3 1/2 in"), 75.5 * 0.0254);
    close(metres("1.2 m"), 1.2);
    close(metres("40 mm"), 0.04);
}

#[test]
fn other_quantities_read_with_their_units() {
    close(Quantity::<Voltage>::parse("12.47 kV").unwrap().si(), 12470.0);
    close(Quantity::<Angle>::parse("1.5 deg").unwrap().si(), 1.5_f64.to_radians());
    close(Quantity::<Density>::parse("60 lb/ft3").unwrap().si(), 60.0 * 0.45359237 / 0.3048_f64.powi(3));
    close(Quantity::<LineWeight>::parse("145.2 lb/1000ft").unwrap().si(), 0.1452 * 0.45359237 * 9.80665 / 0.3048);
    close(Quantity::<LineWeight>::parse("0.55 kg/m").unwrap().si(), 0.55 * 9.80665);
    close(Quantity::<Speed>::parse("25 mph").unwrap().si(), 25.0 * 0.44704);
    close(Quantity::<Mass>::parse("2000 lb").unwrap().si(), 2000.0 * 0.45359237);
    close(Quantity::<Force>::parse("2000 lb").unwrap().si(), 2000.0 * 0.45359237 * 9.80665);
    close(Quantity::<Force>::parse("9 kN").unwrap().si(), 9000.0);
    close(Quantity::<Duration>::parse("3 min").unwrap().si(), 180.0);
    close(Quantity::<Duration>::parse("1 min 30 s").unwrap().si(), 90.0);
    close(Quantity::<Ratio>::parse("6 %").unwrap().si(), 0.06);
    close(Quantity::<Ratio>::parse("0.25 in/ft").unwrap().si(), 0.25 / 12.0);
    close(Quantity::<Temperature>::parse("-40 F").unwrap().si(), 233.15);
    close(Quantity::<AngularSpeed>::parse("1 rpm").unwrap().si(), std::f64::consts::TAU / 60.0);
}

#[test]
fn a_quantity_keeps_what_was_typed() {
    assert_eq!(Quantity::<Length>::parse(" 12' 6\"").unwrap().said(), " 12' 6\"");
}

fn fault(text: &str) -> QuantityFault {
    Quantity::<Length>::parse(text).unwrap_err()
}

#[test]
fn what_cannot_be_read_says_what_would_be() {
    let units = "ft, in, yd, m, cm or mm".to_owned();
    assert_eq!(fault(""), QuantityFault::Empty { what: "a length", units: units.clone() });
    assert_eq!(fault("55"), QuantityFault::NoUnit { what: "a length", units: units.clone() });
    assert_eq!(fault("ft"), QuantityFault::NoNumber { unit: "ft".to_owned() });
    assert_eq!(
        fault("55 fet"),
        QuantityFault::UnknownUnit { unit: "fet".to_owned(), what: "a length", units: units.clone() }
    );
    assert_eq!(
        fault("12 kV"),
        QuantityFault::WrongDimension { unit: "kV".to_owned(), is: "a voltage", what: "a length", units }
    );
    assert_eq!(fault("NaN ft"), QuantityFault::NotFinite);
    assert_eq!(fault("inf ft"), QuantityFault::NotFinite);
    assert_eq!(fault("1e999 ft"), QuantityFault::NotFinite);
    assert_eq!(fault("1,200 ft").help(), "write \"1200\" without the comma");
    assert_eq!(fault("12 ft 14 in"), QuantityFault::BadCompound);
    assert_eq!(fault("12 ft -6 in"), QuantityFault::BadCompound);
    assert_eq!(fault("12.5 ft 6 in"), QuantityFault::BadCompound);
    assert_eq!(fault("12 ft 6"), QuantityFault::BadCompound);
    assert_eq!(fault("8 9/8 in").help(), "such as 12, 12.5, 12 1/2");
    assert_eq!(fault("1/0 in").help(), "such as 12, 12.5, 12 1/2");
    assert_eq!(fault(&"1".repeat(65)), QuantityFault::TooLong);
}

#[test]
fn a_range_takes_its_unit_from_the_high_end() {
    let tension = Range::<Force>::parse("700 to 900 lbf").unwrap();
    close(tension.low(), 700.0 * 4.4482216152605);
    close(Range::<LineWeight>::parse("150 to 160 lb/1000ft").unwrap().low(), 0.15 * 0.45359237 * 9.80665 / 0.3048);
    close(Range::<Length>::parse("-2 to 2 ft").unwrap().low(), -2.0 * 0.3048);
    let sag = Range::<Length>::parse("-2 ft 3 in to 2 ft 9 in").unwrap();
    close(sag.low(), -27.0 * 0.0254);
    close(sag.high(), 33.0 * 0.0254);
}

#[test]
fn a_range_needs_both_ends_in_order() {
    assert_eq!(Range::<Length>::parse("2 ft").unwrap_err(), QuantityFault::NotARange { what: "a length" });
    // The low end of this could be 1 ft as well as 1 ft 9 in.
    let half_said = Range::<Length>::parse("1 to 2 ft 9 in").unwrap_err();
    assert_eq!(half_said.help(), "a number needs its unit");
    assert_eq!(Range::<Length>::parse("3 ft to 2 ft").unwrap_err().help(), "write \"2 ft to 3 ft\"");
}

proptest! {
    #[test]
    fn any_text_is_read_or_refused(text in ".{0,80}") {
        if let Ok(length) = Quantity::<Length>::parse(&text) {
            prop_assert!(length.si().is_finite());
        }
        if let Ok(range) = Range::<Temperature>::parse(&text) {
            prop_assert!(range.low() <= range.high());
        }
    }

    #[test]
    fn any_number_of_any_unit_comes_back(value in -1e6..1e6_f64, which in 0..6_usize) {
        let (unit, si) = [("ft", 0.3048), ("in", 0.0254), ("m", 1.0), ("cm", 0.01), ("mm", 0.001), ("yd", 0.9144)][which];
        let read = metres(&format!("{value} {unit}"));
        prop_assert!((read - value * si).abs() <= 1e-9 * (value * si).abs());
    }
}

#[test]
fn feet_and_inches_read_as_on_a_drawing_or_a_phone() {
    let seven_six = 7.5 * 0.3048;
    for text in [
        "7'-6\"",
        "7'6\"",
        "7' 6\"",
        "7' - 6\"",
        "7 ft-6 in",
        "7 ft 6 in",
        "7 feet 6 inches",
        "7'-6''",
        "7\u{2032}-6\u{2033}",
        "7\u{2019}6\u{201d}",
        "7'\u{2011}6\"",
        "7'\u{2013}6\"",
        "7\u{a0}ft\u{a0}6\u{a0}in",
        "7\u{bd}'",
        "7 1/2 ft",
        "7-1/2'",
        "90\"",
        "90''",
        "7.5'",
        "7 1\u{2044}2 ft",
    ] {
        let read = Quantity::<Length>::parse(text);
        assert!(read.as_ref().is_ok_and(|length| (length.si() - seven_six).abs() < 1e-12), "{text}: {read:?}");
    }
    close(metres("55'"), 55.0 * 0.3048);
    close(metres("-7'-6\""), -seven_six);
    close(metres("7'-6 1/2\""), 90.5 * 0.0254);
    close(metres("7'-6-1/2\""), 90.5 * 0.0254);
    close(metres("7'-6\u{bd}\""), 90.5 * 0.0254);
    close(metres("\u{be} in"), 0.75 * 0.0254);
    close(Range::<Length>::parse("6'-3\" to 7'-6\"").unwrap().low(), 75.0 * 0.0254);
}

/// None of these may be read as anything: each has two readings, or none.
#[test]
fn what_could_mean_two_lengths_is_refused() {
    for text in [
        "7'-13\"",
        "7'-12\"",
        "7.5'-6\"",
        "7'-6",
        "7' -6\"",
        "7'- 6\"",
        "7 ft - 6 in",
        "7 ft -6 in",
        "7'--6\"",
        "7'-6\"-1\"",
        "7'-5 2/2\"",
        "7'-6 cm",
        "7'-6'",
        "7\"-6'",
        "6\" 7'",
        "7 m 6 in",
        "7'6\"3\"",
        "5-6",
        "5-6 ft",
        "5-6\"",
        "5 - 6 ft",
        "--7 ft",
        "-\u{2212}7 ft",
        "7'-6\" 1/2",
        "1/2/3 in",
        "7-6/5 in",
        "7'-\u{bd}",
        "\u{bd}\u{bd} in",
        "5.5\u{bd} ft",
        "7,5 ft",
        "7 ft 6",
        "'",
        "\"",
        "-",
        "7-",
        "7'-",
        "7'-\"",
        "7 yd 6 in",
        "0x7 ft",
        "7\u{2032}\u{2032}6 ft",
    ] {
        let read = Quantity::<Length>::parse(text);
        assert!(read.is_err(), "{text}: {read:?}");
    }
    assert_eq!(fault("7'-13\""), QuantityFault::BadCompound);
    assert_eq!(fault("5-6 ft").help(), "write 5 ft 6 in or 5'-6\" for feet and inches, 5 1/2 for a fraction");
    assert!(Quantity::<Duration>::parse("1 min-30 s").is_err());
}

proptest! {
    /// Whole feet and inches come back however they are joined.
    #[test]
    fn feet_and_inches_come_back(feet in 0..400_u32, inches in 0..12_u32, negative: bool, which in 0..6_usize) {
        let (foot, inch) = [("'-", "\""), ("'", "\""), (" ft ", " in"), ("\u{2032} ", "\u{2033}"), ("' - ", "''"), ("ft-", "in")][which];
        let sign = if negative { "-" } else { "" };
        let read = metres(&format!("{sign}{feet}{foot}{inches}{inch}"));
        let expected = f64::from(feet * 12 + inches) * 0.0254 * if negative { -1.0 } else { 1.0 };
        prop_assert!((read - expected).abs() <= 1e-12 * expected.abs());
    }
}
