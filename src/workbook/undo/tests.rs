//! Cells as spreadsheet programs leave them, and what may have been typed.

use super::*;

fn cell(content: Content, format: &str) -> cells::Cell {
    cells::Cell {
        content,
        look: Some(Box::new(cells::Look {
            format: format.to_owned(),
            ..cells::Look::default()
        })),
    }
}

fn readings(cell: &cells::Cell) -> Vec<String> {
    typed(cell, 2026)
        .undone
        .into_iter()
        .map(|undone| undone.text)
        .collect()
}

#[test]
fn a_time_gives_back_the_ratio() {
    let cases: [(i64, &str, &[&str]); 8] = [
        (10_860_000, "hh:mm:ss", &["3:1"]),
        (108_600_000, "[hh]:mm:ss", &["30:10"]),
        (62_500, "mm:ss.00", &["1:2.5"]),
        (62_000, "mm:ss.0", &["1:2", "0:1:2"]),
        (7_263_000, "hh:mm:ss", &["2:1:3"]),
        (46_800_000, "[h]:mm:ss", &["13:0", "12:60"]),
        (2_700_000, "h:mm", &["0:45"]),
        (0, "h:mm", &["0:0"]),
    ];
    for (milliseconds, code, wanted) in cases {
        let cell = cell(Content::Time { milliseconds }, code);
        // 1:2.5 has a second way that nobody types; the first is what counts there.
        let found = readings(&cell);
        let found: Vec<&str> = found
            .iter()
            .map(String::as_str)
            .take(wanted.len())
            .collect();
        assert_eq!(found, wanted, "{milliseconds} {code}");
    }
    let shown = typed(
        &cell(
            Content::Time {
                milliseconds: 10_860_000,
            },
            "hh:mm:ss",
        ),
        2026,
    );
    assert_eq!(shown.text, "03:01:00");
    assert_eq!(
        shown.undone.first().expect("one reading").why,
        "the cell holds the time 03:01:00"
    );
}

#[test]
fn a_date_gives_day_first_and_month_first() {
    let cases: [(i32, u32, u32, &str, &[&str]); 9] = [
        (2026, 2, 1, "d\\-mmm", &["1/2", "2/1"]),
        (2026, 1, 2, "mm/dd/yy", &["1/2", "2/1"]),
        (2026, 10, 25, "dd/mm/yy", &["25/10", "10/25"]),
        (2026, 3, 3, "dd/mm/yy", &["3/3"]),
        (1936, 12, 1, "mmm\\-yy", &["12/36"]),
        (1936, 12, 1, "", &["12/36", "1/12", "12/1", "1/12/36"]),
        (2005, 4, 3, "dd/mm/yy", &["3/4/5", "3/4", "4/3"]),
        (2003, 2, 1, "dd/mm/yy", &["1/2", "2/1", "1/2/3"]),
        (2026, 1, 3, "dd\\.mm\\.yyyy", &["3/1", "1/3", "3.1", "1.3"]),
    ];
    for (year, month, day, code, wanted) in cases {
        let cell = cell(Content::Date { year, month, day }, code);
        // A hyphen makes the same date as a slash.
        let hyphens = wanted
            .iter()
            .filter(|text| day != month && text.contains('/'))
            .map(|text| text.replace('/', "-"));
        let wanted: Vec<String> = wanted
            .iter()
            .map(|text| (*text).to_owned())
            .chain(hyphens)
            .collect();
        assert_eq!(readings(&cell), wanted, "{year}-{month}-{day} {code}");
    }
}

#[test]
fn a_number_format_gives_back_what_stood_around_the_number() {
    let cases: [(&str, &str, &str, &[&str]); 12] = [
        ("20", "General", "20", &[]),
        ("2.5", "0.00", "2.5", &[]),
        ("2.5", "# ?/?", "2 1/2", &["2 1/2", "5/2", "2.5"]),
        (
            "0.333333333333333",
            "# ?/?",
            "1/3",
            &["1/3", "0.333333333333333"],
        ),
        (
            "2.33333333333333",
            "# ?/?",
            "2 1/3",
            &["2 1/3", "7/3", "2.33333333333333"],
        ),
        ("0.34", "# ?/?", "0.34", &["0.34"]),
        ("0.5", "0.00%", "50%", &["50%", "0.5"]),
        ("0.333", "0.00%", "33.3%", &["33.3%", "0.333"]),
        ("3", "0%", "300%", &["300%", "3"]),
        ("1000", "0.00E+00", "1000", &["1000", "1e3"]),
        ("5", "[$£-809]#,##0.00", "£5", &["£5", "5"]),
        ("3", "0\":1\"", "3:1", &["3:1", "3"]),
    ];
    for (digits, code, text, wanted) in cases {
        let cell = cell(Content::Number(digits.to_owned()), code);
        assert_eq!(typed(&cell, 2026).text, text, "{digits} {code}");
        assert_eq!(readings(&cell), wanted, "{digits} {code}");
    }
}

#[test]
fn a_number_in_a_text_cell_may_have_been_a_time_or_date() {
    let cases: [(&str, &[&str]); 5] = [
        ("0.125694444444444", &["3:1", "0.125694444444444"]),
        ("1.25694444444444", &["30:10", "1.25694444444444"]),
        ("46054", &["1/2", "2/1", "1-2", "2-1", "46054"]),
        ("2.5", &[]),
        ("20", &[]),
    ];
    for (digits, wanted) in cases {
        let cell = cell(Content::Number(digits.to_owned()), "@");
        assert_eq!(typed(&cell, 2026).text, digits);
        assert_eq!(readings(&cell), wanted, "{digits}");
    }
}

#[test]
fn a_text_on_the_screen_tells_as_much_as_a_format() {
    let cases: [(&str, &str, &[&str]); 8] = [
        ("5", "5,00 kr", &["5kr", "5"]),
        ("5", "$5.00", &["$5", "5"]),
        ("2.5", "2 1/2", &["2 1/2", "5/2", "2.5"]),
        ("0.5", "50.00%", &["50%", "0.5"]),
        ("1000", "1.00E+03", &["1000", "1e3"]),
        ("5", "£5.00", &["£5", "5"]),
        ("1200", "1,200.00", &[]),
        ("-3", "-3.00", &["-3", "(3)"]),
    ];
    for (digits, shown, wanted) in cases {
        let mut cell = cell(Content::Number(digits.to_owned()), "");
        if let Some(look) = cell.look.as_mut() {
            look.shown = shown.to_owned();
        }
        assert_eq!(readings(&cell), wanted, "{digits} {shown}");
    }
}

#[test]
fn a_formula_is_told_and_its_result_taken() {
    let with = |content, formula: &str| cells::Cell {
        content,
        look: Some(Box::new(cells::Look {
            formula: formula.to_owned(),
            ..cells::Look::default()
        })),
    };
    let calculated = typed(&with(Content::Number("20".to_owned()), "60/3"), 2026);
    assert_eq!(calculated.text, "20");
    assert_eq!(
        readings(&with(Content::Number("20".to_owned()), "60/3")),
        ["20", "=60/3"]
    );
    assert_eq!(
        readings(&with(Content::Number("40".to_owned()), "60/3*2")),
        ["40"]
    );
    assert_eq!(
        readings(&with(Content::Fault("#NAME?".to_owned()), "-clockwise")),
        ["=-clockwise"]
    );
    for formula in ["-1:3", "-[.1:.3]", "-$1:$3"] {
        let cell = with(Content::Fault("#VALUE!".to_owned()), formula);
        assert_eq!(readings(&cell), ["-3:1", "-1:3"], "{formula}");
    }
    let never = typed(&with(Content::Uncalculated, "60/3"), 2026);
    assert_eq!(never.text, "=60/3");
    assert!(
        never
            .undone
            .first()
            .expect("one")
            .why
            .contains("never calculated")
    );
}

#[test]
fn a_csv_file_keeps_the_dates_and_times_that_a_program_made() {
    let march = &["1/3", "3/1", "1-3", "3-1"];
    let cases: [(&str, &[&str]); 14] = [
        ("01/03/2026", march),
        ("2026-03-01", march),
        ("2026-03-01 00:00:00", march),
        ("01/03/26", &["1/3", "3/1", "1-3", "3-1", "01/03/26"]),
        ("01-Mar", march),
        ("01-mars", march),
        ("1. Mrz", &["1/3", "3/1", "1.3", "3.1", "1-3", "3-1"]),
        ("Dec-36", &["12/36", "12-36"]),
        ("03:01:00", &["3:1"]),
        ("03:01:00 AM", &["3:1"]),
        ("3:01 PM", &["15:1"]),
        ("12:01:00 AM", &["0:1"]),
        ("-03:01:00", &["-3:1"]),
        ("30:10:00", &["30:10"]),
    ];
    for (text, wanted) in cases {
        let cell = cells::Cell::plain(Content::Text(text.to_owned()));
        assert_eq!(readings(&cell), wanted, "{text}");
        assert_eq!(typed(&cell, 2026).text, text);
    }
}

#[test]
fn the_text_on_the_screen_tells_how_a_time_or_date_was_typed() {
    let shown = |content, shown: &str| cells::Cell {
        content,
        look: Some(Box::new(cells::Look {
            shown: shown.to_owned(),
            ..cells::Look::default()
        })),
    };
    let time = |milliseconds| Content::Time { milliseconds };
    let date = |year, month, day| Content::Date { year, month, day };
    for (content, text, wanted) in [
        (time(62_000), "01:02", "1:2"),
        (time(62_000), "00:01:02", "0:1:2"),
        (date(1936, 12, 1), "Dec-36", "12/36"),
        (date(2026, 3, 1), "03/01/26", "3/1"),
        (date(2026, 3, 1), "01/03/26", "1/3"),
    ] {
        let found = readings(&shown(content, text));
        assert_eq!(found.first().map(String::as_str), Some(wanted), "{text}");
    }
    let carried = readings(&shown(time(46_800_000), "13:00:00"));
    assert_eq!(carried, ["13:0", "12:60"]);
}

#[test]
fn true_and_false_are_known_in_the_languages_of_spreadsheet_programs() {
    for (text, wanted) in [("WAHR", "TRUE"), ("VRAI", "TRUE"), ("FAUX", "FALSE")] {
        let cell = cells::Cell::plain(Content::Text(text.to_owned()));
        assert_eq!(readings(&cell), [wanted]);
    }
}

#[test]
fn digits_beyond_the_fifteenth_are_noise() {
    for (digits, wanted) in [
        ("2.9999999999999996", "3"),
        ("3.0000000000000004", "3"),
        ("0.33299999999999996", "0.333"),
        ("0.333333333333333", "0.333333333333333"),
        ("1200.0000000000002", "1200"),
        ("-2.5", "-2.5"),
        ("123456789012345678", "123456789012345678"),
    ] {
        let cell = cells::Cell::plain(Content::Number(digits.to_owned()));
        assert_eq!(typed(&cell, 2026).text, wanted);
    }
}

#[test]
fn what_was_typed_as_text_is_left_alone() {
    for text in [
        "3:1",
        " 1/2 ",
        "clockwise",
        "=60/3",
        "007",
        "2:1:3",
        "1/2/3",
        "10/12/36",
        "10 30 20",
        "10-30-20",
        "03:01",
        "Mar",
    ] {
        let cell = cells::Cell::plain(Content::Text(text.to_owned()));
        let found = typed(&cell, 2026);
        assert_eq!(found.text, text);
        assert!(found.undone.is_empty());
    }
}
