//! What is read and what is refused, and that printing and reading undo each other.

use super::*;
use crate::for_all;
use proptest::prelude::*;

fn mm(text: &str) -> Result<Length, Misread> {
    read_length(text, LengthUnit::Millimetre)
}

fn inch(text: &str) -> Result<Length, Misread> {
    read_length(text, LengthUnit::Inch)
}

/// Each text is refused for this reason, with this likely value.
fn check_refused(wrong: Wrong, cases: &[(&str, Option<&str>)]) {
    for (text, likely) in cases {
        let refused = mm(text).expect_err(text);
        assert_eq!((refused.wrong, refused.likely.as_deref()), (wrong, *likely), "{text:?}");
    }
}

#[test]
fn millimetres_are_read_to_the_last_bit() {
    for (text, value) in [
        ("16", 16.0),
        (" 16 mm ", 16.0),
        ("16mm", 16.0),
        ("1,5", 1.5),
        ("1.5", 1.5),
        (".5", 0.5),
        ("5.", 5.0),
        ("16.1 MM", 16.1),
        ("-3", -3.0),
        ("−3 mm", -3.0),
        ("+3", 3.0),
        ("2 cm", 20.0),
        ("0.5 m", 500.0),
        ("1/2 m", 500.0),
        ("1.234", 1.234),
        ("1,234", 1.234),
        ("0", 0.0),
    ] {
        assert_eq!(mm(text), Ok(Length::mm(value)), "{text:?}");
    }
}

#[test]
fn a_typed_minus_nothing_is_nothing() {
    assert_eq!(mm("-0").unwrap().as_mm().to_bits(), 0.0_f64.to_bits());
}

#[test]
fn fractions_are_inches() {
    // 25.4 mm to the inch; 5/8 in is 15.875 mm and 1 1/4 in is 31.75 mm, both exact decimals.
    for text in ["5/8 in", "5/8in", "5/8\"", "5/8 inch", "⅝ in", "0.625 in", "0,625 in.", "5⁄8 in", "10/16 in"] {
        assert_eq!(mm(text), Ok(Length::mm(15.875)), "{text:?}");
    }
    for text in ["1 1/4", "1-1/4", "1 - 1/4 in", "1 1 / 4", "1¼", "1 ¼ in", "1-¼", "5/4", "1.25", "1 1/4″", "1 1/4”"]
    {
        assert_eq!(inch(text), Ok(Length::mm(31.75)), "{text:?}");
    }
    assert_eq!(mm("½ in"), Ok(Length::mm(12.7)));
    assert_eq!(mm("-1½ in"), Ok(Length::mm(-38.1)));
    assert_eq!(inch("¾"), Ok(Length::inches(0.75)));
    assert_eq!(inch("16 mm"), Ok(Length::mm(16.0)));
}

#[test]
fn a_fraction_of_a_millimetre_is_refused_with_the_inch_as_likely() {
    check_refused(
        Wrong::FractionOfAMillimetre,
        &[
            ("5/8", Some("5/8 in")),
            ("5/8 mm", Some("5/8 in")),
            (" 1 1/4 ", Some("1 1/4 in")),
            ("1½", Some("1½ in")),
            ("-5/8", Some("-5/8 in")),
            ("0000000000000000000000000000000000005/8", None),
        ],
    );
}

#[test]
fn a_second_mark_is_refused_and_never_thousands() {
    check_refused(
        Wrong::SecondMark,
        &[
            ("1,234.5", None),
            ("1.234,5 mm", None),
            ("1.234.567", None),
            ("1.1,5", None),
            ("1..5", None),
            ("1,,5", None),
        ],
    );
}

#[test]
fn what_is_no_measure_is_refused() {
    check_refused(Wrong::Empty, &[("", None), ("  \t", None)]);
    check_refused(
        Wrong::NoNumber,
        &[("NaN", None), ("inf", None), ("-", None), (".", None), ("mm", None), ("-inf", None)],
    );
    check_refused(
        Wrong::NotOneNumber,
        &[
            ("1 000", None),
            ("16-20", None),
            ("--1", None),
            ("--1/4 in", None),
            ("1 2 3/4", None),
            ("1/2/3", None),
            ("/8", None),
            ("5/", None),
            ("½½", None),
            ("½ 1", None),
        ],
    );
    check_refused(Wrong::FractionWithDecimals, &[("1.5/8", None), ("1,5 1/2 in", None), ("1.½", None)]);
    check_refused(Wrong::ZeroBelowTheLine, &[("5/0 in", None), ("1 1/00 in", None)]);
    check_refused(Wrong::TooLarge, &[("100001", None), ("99999999999999999999", None)]);
    check_refused(Wrong::TooLong, &[("00000000000000000000000000000000000000016", None)]);
    let unknown = Wrong::UnknownUnit { known: "mm, cm, m or in" };
    check_refused(unknown, &[("0x10", None), ("1e3", None), ("16 bar", None), ("5 inf", None), ("1e-3", None)]);
}

#[test]
fn digits_of_other_scripts_are_not_guessed_at() {
    assert_eq!(mm("٣ mm").unwrap_err().wrong, Wrong::NoNumber);
}

#[test]
fn pressures_are_read_in_their_units() {
    let read = |text| read_pressure(text, PressureUnit::Bar);
    assert_eq!(read("1,1 bar"), Ok(Pressure::bar(1.1)));
    assert_eq!(read("1.1"), Ok(Pressure::bar(1.1)));
    assert_eq!(read("110 kPa"), Ok(Pressure::kpa(110.0)));
    assert_eq!(read("16 PSI"), Ok(Pressure::psi(16.0)));
    assert_eq!(read("0.11 MPa"), Ok(Pressure::mpa(0.11)));
    assert_eq!(read("-0.3"), Ok(Pressure::bar(-0.3)));
    assert_eq!(read_pressure("16", PressureUnit::Psi), Ok(Pressure::psi(16.0)));
    assert_eq!(read_pressure("16", PressureUnit::Kilopascal), Ok(Pressure::kpa(16.0)));
    assert_eq!(read("16 mm").unwrap_err().wrong, Wrong::UnknownUnit { known: "bar, kPa, MPa or psi" });
}

#[test]
fn temperatures_and_angles_and_numbers_are_read() {
    let read = |text| read_temperature(text, TemperatureUnit::Celsius);
    for text in ["95 C", "95", "95°", "95 °C", "95℃", "95 ° c"] {
        assert_eq!(read(text), Ok(Temperature::celsius(95.0)), "{text:?}");
    }
    assert_eq!(read("203 °F"), Ok(Temperature::fahrenheit(203.0)));
    assert_eq!(read_temperature("203", TemperatureUnit::Fahrenheit), Ok(Temperature::fahrenheit(203.0)));
    assert_eq!(read("95 K").unwrap_err().wrong, Wrong::UnknownUnit { known: "°C or °F" });

    assert_eq!(read_angle("30"), Ok(Angle::degrees(30.0)));
    assert_eq!(read_angle("-12,5°"), Ok(Angle::degrees(-12.5)));
    assert_eq!(read_angle("30 rad").unwrap_err().wrong, Wrong::UnknownUnit { known: "°, or nothing" });

    assert_eq!(read_number("-1,5"), Ok(-1.5));
    assert_eq!(read_number("1 1/2"), Ok(1.5));
    assert_eq!(read_number("4 off").unwrap_err().wrong, Wrong::UnknownUnit { known: "the number alone" });
}

#[test]
fn every_refusal_is_one_sentence() {
    let known = "mm";
    for wrong in [
        Wrong::Empty,
        Wrong::TooLong,
        Wrong::TooLarge,
        Wrong::NoNumber,
        Wrong::NotOneNumber,
        Wrong::SecondMark,
        Wrong::FractionWithDecimals,
        Wrong::ZeroBelowTheLine,
        Wrong::FractionOfAMillimetre,
        Wrong::UnknownUnit { known },
    ] {
        let sentence = Misread::from(wrong).to_string();
        assert!(sentence.starts_with(char::is_uppercase) && sentence.ends_with('.'), "{sentence}");
    }
}

#[test]
fn lengths_are_printed_as_on_a_tape() {
    for (length, unit, text) in [
        (Length::mm(16.0), LengthUnit::Millimetre, "16 mm"),
        (Length::mm(15.875), LengthUnit::Millimetre, "15.9 mm"),
        (Length::mm(-0.04), LengthUnit::Millimetre, "0"),
        (Length::mm(120.0), LengthUnit::Millimetre, "120 mm"),
        (Length::inches(20.875), LengthUnit::Inch, "20 7/8 in"),
        (Length::inches(0.625), LengthUnit::Inch, "5/8 in"),
        (Length::inches(-1.25), LengthUnit::Inch, "-1 1/4 in"),
        (Length::inches(3.0), LengthUnit::Inch, "3 in"),
        (Length::inches(2.99), LengthUnit::Inch, "3 in"),
        (Length::inches(0.03), LengthUnit::Inch, "0"),
        (Length::ZERO, LengthUnit::Inch, "0"),
    ] {
        assert_eq!(print_length(length, unit), text);
    }
    assert_eq!(print_pressure(Pressure::bar(1.1), PressureUnit::Bar), "1.1 bar");
    assert_eq!(print_pressure(Pressure::kpa(110.0), PressureUnit::Kilopascal), "110 kPa");
    assert_eq!(print_pressure(Pressure::psi(16.0), PressureUnit::Psi), "16 psi");
    assert_eq!(print_temperature(Temperature::celsius(95.0), TemperatureUnit::Fahrenheit), "203 °F");
    assert_eq!(print_temperature(Temperature::celsius(-0.01), TemperatureUnit::Celsius), "0 °C");
    assert_eq!(print_angle(Angle::degrees(12.5)), "12.5°");
}

/// Texts made of what people type and of what breaks readers, beside texts of any characters at all.
fn any_text() -> impl Strategy<Value = String> {
    prop_oneof![
        any::<String>(),
        "[-+−0-9.,/⁄ ½¼⅞\"″'a-zA-Z°]{0,45}",
        "[-+]?[0-9]{1,8}[ -]?[0-9]{0,3}[/.,][0-9]{0,3} ?(mm|cm|m|in|\"|bar|psi|kPa|C|°F|e5|x|)",
    ]
}

/// A refusal, or a finite value.
fn refused_or_finite<T>(answer: Result<T, Misread>, read: impl Fn(T) -> f64) -> bool {
    answer.ok().is_none_or(|value| read(value).is_finite())
}

#[test]
fn any_text_is_answered_and_no_answer_is_out_of_bounds() {
    for_all(any_text(), |text| {
        for unit in [LengthUnit::Millimetre, LengthUnit::Inch] {
            if let Ok(length) = read_length(&text, unit) {
                prop_assert!(length.abs() <= Length::mm(1000.0 * number::LARGEST), "{text:?} gave {length:?}");
            }
        }
        for unit in [PressureUnit::Bar, PressureUnit::Psi, PressureUnit::Kilopascal] {
            prop_assert!(refused_or_finite(read_pressure(&text, unit), Pressure::as_kpa));
        }
        for unit in [TemperatureUnit::Celsius, TemperatureUnit::Fahrenheit] {
            prop_assert!(refused_or_finite(read_temperature(&text, unit), Temperature::as_celsius));
        }
        prop_assert!(refused_or_finite(read_angle(&text), Angle::as_degrees));
        prop_assert!(refused_or_finite(read_number(&text), |number| number));
        Ok(())
    });
}

#[test]
fn what_is_offered_as_likely_reads() {
    for_all(any_text(), |text| {
        if let Err(Misread { likely: Some(likely), .. }) = mm(&text) {
            prop_assert!(mm(&likely).is_ok(), "{text:?} offered {likely:?}");
        }
        Ok(())
    });
}

#[test]
fn tenths_of_a_millimetre_print_and_read_back() {
    for_all(-1_000_000..1_000_000, |tenths| {
        let length = Length::mm(f64::from(tenths) / 10.0);
        prop_assert_eq!(mm(&print_length(length, LengthUnit::Millimetre)), Ok(length));
        Ok(())
    });
}

#[test]
fn sixteenths_of_an_inch_print_and_read_back() {
    for_all(-600_000..600_000, |sixteenths| {
        let length = Length::inches(f64::from(sixteenths) / 16.0);
        prop_assert_eq!(mm(&print_length(length, LengthUnit::Inch)), Ok(length));
        Ok(())
    });
}

#[test]
fn other_quantities_print_and_read_back() {
    for_all(-9999..9999, |n| {
        let tenths = f64::from(n) / 10.0;
        let (angle, warm) = (Angle::degrees(tenths), Temperature::celsius(tenths));
        prop_assert_eq!(read_angle(&print_angle(angle)), Ok(angle));
        let text = print_temperature(warm, TemperatureUnit::Celsius);
        prop_assert_eq!(read_temperature(&text, TemperatureUnit::Fahrenheit), Ok(warm));
        let pressure = Pressure::kpa(tenths);
        let text = print_pressure(pressure, PressureUnit::Kilopascal);
        prop_assert_eq!(read_pressure(&text, PressureUnit::Bar), Ok(pressure));
        Ok(())
    });
}
