//! Laws: order of rows, missing rows, decimal marks, and hostile bytes.

#![allow(clippy::unwrap_used, clippy::panic)]

use jiff::tz::TimeZone;
use logger::{Options, read};
use proptest::prelude::*;

fn utc() -> Options {
    Options::new(TimeZone::UTC)
}

fn berlin() -> Options {
    Options::new(TimeZone::get("Europe/Berlin").unwrap())
}

/// Rows at distinct minutes from 2025-06-01T00:00, far from any change of clocks.
fn rows() -> impl Strategy<Value = Vec<(u32, i32, Option<i32>)>> {
    proptest::collection::btree_map(
        0_u32..20_000,
        (-400_i32..1200, proptest::option::of(0_i32..1400)),
        2..60,
    )
    .prop_map(|map| map.into_iter().map(|(m, (t, p))| (m, t, p)).collect())
}

fn stamp(minute: u32) -> String {
    let (day, rest) = (minute / 1440 + 1, minute % 1440);
    format!("2025-06-{day:02} {:02}:{:02}", rest / 60, rest % 60)
}

fn decimal(value: i32, digits: usize, mark: char) -> String {
    let scale = 10_i32.pow(u32::try_from(digits).unwrap());
    let sign = if value < 0 { "-" } else { "" };
    let (whole, part) = (value.abs() / scale, value.abs() % scale);
    format!("{sign}{whole}{mark}{part:0digits$}")
}

fn file(rows: &[(u32, i32, Option<i32>)], separator: char, mark: char) -> String {
    let mut out = format!("Timestamp{separator}Temp_C{separator}pH\n");
    for (minute, temp, ph) in rows {
        let ph = ph.map_or("--".to_owned(), |ph| decimal(ph, 2, mark));
        let temp = decimal(*temp, 1, mark);
        out += &format!("{}{separator}{temp}{separator}{ph}\n", stamp(*minute));
    }
    out
}

proptest! {
    #[test]
    fn values_come_back_as_written(rows in rows()) {
        let read = read(file(&rows, ',', '.').as_bytes(), &utc()).unwrap();
        let start: jiff::Timestamp = "2025-06-01T00:00Z".parse().unwrap();
        for (index, (minute, temp, ph)) in rows.iter().enumerate() {
            let (t, p) = (read.history.channels[0].readings[index], read.history.channels[1].readings[index]);
            prop_assert_eq!(t.at_s, start.as_second() + i64::from(*minute) * 60);
            prop_assert!((t.value.unwrap() - f64::from(*temp) / 10.0).abs() < 1e-9);
            prop_assert_eq!(p.value.is_none(), ph.is_none());
        }
    }

    #[test]
    fn shuffled_rows_give_the_same_history(
        (rows, shuffled) in rows().prop_flat_map(|r| (Just(r.clone()), Just(r).prop_shuffle())),
    ) {
        for options in [utc(), berlin()] {
            let one = read(file(&rows, ',', '.').as_bytes(), &options).unwrap();
            let two = read(file(&shuffled, ',', '.').as_bytes(), &options).unwrap();
            prop_assert_eq!(one.history, two.history);
        }
    }

    #[test]
    fn a_removed_row_takes_only_its_own_readings(rows in rows(), pick in any::<prop::sample::Index>()) {
        let at = pick.index(rows.len());
        let mut fewer = rows.clone();
        fewer.remove(at);
        let mut whole = read(file(&rows, ',', '.').as_bytes(), &utc()).unwrap().history;
        let less = read(file(&fewer, ',', '.').as_bytes(), &utc()).unwrap().history;
        for channel in &mut whole.channels {
            channel.readings.remove(at);
        }
        prop_assert_eq!(whole, less);
    }

    #[test]
    fn decimal_commas_and_points_give_the_same_history(rows in rows()) {
        let point = read(file(&rows, ',', '.').as_bytes(), &utc()).unwrap();
        for separator in [';', '\t', '|'] {
            let comma = read(file(&rows, separator, ',').as_bytes(), &utc()).unwrap();
            prop_assert_eq!(&point.history, &comma.history);
        }
    }

    #[test]
    fn readings_are_in_order_and_no_two_at_one_moment(rows in rows(), again in any::<prop::sample::Index>()) {
        let mut doubled = rows.clone();
        doubled.push(rows[again.index(rows.len())]);
        let read = read(file(&doubled, ',', '.').as_bytes(), &utc()).unwrap();
        for channel in &read.history.channels {
            prop_assert!(channel.readings.windows(2).all(|w| w[0].at_s < w[1].at_s));
            prop_assert_eq!(channel.readings.len(), rows.len());
        }
    }

    #[test]
    fn random_bytes_never_panic(bytes in proptest::collection::vec(any::<u8>(), 0..2000)) {
        let _ = read(&bytes, &berlin());
    }

    #[test]
    fn random_tables_never_panic(
        text in "(([0-9]{1,4}[-/.][0-9]{1,2}[-/.][0-9]{1,4}|[a-zA-Z°\"#:é]{0,6}|[-+0-9.,:TZ ]{0,12})[;,\t|\n]){0,60}",
        day_first in any::<Option<bool>>(),
        fahrenheit in any::<Option<bool>>(),
    ) {
        let mut options = berlin();
        options.day_first = day_first;
        options.fahrenheit = fahrenheit;
        let _ = read(text.as_bytes(), &options);
    }

    #[test]
    fn a_broken_file_never_panics(
        which in 0_usize..4,
        at in any::<prop::sample::Index>(),
        put in proptest::collection::vec(any::<u8>(), 0..6),
    ) {
        let files: [&[u8]; 4] = [
            include_bytes!("fixtures/semicolons_commas.csv"),
            include_bytes!("fixtures/date_clock_fahrenheit.csv"),
            include_bytes!("fixtures/utf16_tabs.txt"),
            include_bytes!("fixtures/autumn_twice.csv"),
        ];
        let mut bytes = files[which].to_vec();
        let at = at.index(bytes.len());
        bytes.splice(at..(at + 2).min(bytes.len()), put);
        let _ = read(&bytes, &berlin());
    }
}

#[test]
fn one_line_of_five_megabytes_is_refused_by_name() {
    let mut bytes = b"Timestamp,Temp_C\n".to_vec();
    bytes.extend(std::iter::repeat_n(b'4', 5_000_000));
    let problems = read(&bytes, &utc()).unwrap_err();
    assert_eq!(problems[0].line, Some(2));
    assert_eq!(problems[0].found, "a line of 5000000 bytes");
}

#[test]
fn a_nul_is_refused_by_line() {
    let problems = read(b"Timestamp,Temp_C\n2025-03-01 06:00,4\0\n", &utc()).unwrap_err();
    assert_eq!(problems[0].line, Some(2));
    assert!(problems[0].found.contains("U+0000"));
}

#[test]
fn too_many_bytes_are_refused() {
    let problems = read(&vec![b'a'; logger::MOST_BYTES + 1], &utc()).unwrap_err();
    assert_eq!(problems[0].found, "a file of 200000001 bytes");
}

#[test]
fn too_many_lines_are_refused() {
    let mut bytes = b"Timestamp,Temp_C\n".to_vec();
    for _ in 0..logger::MOST_LINES {
        bytes.extend(b"a\n");
    }
    let problems = read(&bytes, &utc()).unwrap_err();
    assert_eq!(problems[0].found, "2000001 lines");
}

#[test]
fn wide_empty_tables_are_refused_before_memory_is_filled() {
    let mut text = "Time".to_owned();
    for n in 0..400 {
        text += &format!(",Temp {n} (°C)");
    }
    text += "\n2025-06-01 00:00,4\n2025-06-01 00:01,4\n";
    text += &"\n".repeat(100_000);
    let problems = read(text.as_bytes(), &utc()).unwrap_err();
    assert_eq!(problems[0].expected, "at most 16 000 000 readings");
}

#[test]
fn many_problems_are_counted_not_listed() {
    let text = format!(
        "Timestamp,Temp_C\n2025-06-01 00:00,4\n{}2025-06-01 00:09,4\n",
        "2025-06-01 00:01,warm\n".repeat(500)
    );
    let problems = read(text.as_bytes(), &utc()).unwrap_err();
    assert_eq!(problems.len(), 21);
    assert_eq!(problems[20].found, "480 more problems of the same reading");
}

/// 32 °F is 0 °C, 212 °F is 100 °C, −40 is both: the definition of the scale.
#[test]
fn fixed_points_of_the_fahrenheit_scale() {
    let text = "Time,Temp °F\n2025-06-01 00:00,32\n2025-06-01 00:01,212\n2025-06-01 00:02,-40\n";
    let read = read(text.as_bytes(), &utc()).unwrap();
    let values: Vec<f64> = read.history.channels[0]
        .readings
        .iter()
        .map(|r| r.value.unwrap())
        .collect();
    for (value, expected) in values.iter().zip([0.0, 100.0, -40.0]) {
        assert!((value - expected).abs() < 1e-9);
    }
}

#[test]
fn a_log_newest_first_passes_the_autumn_hour_the_same_way() {
    let text = include_str!("fixtures/autumn_twice.csv");
    let mut rows: Vec<&str> = text.lines().collect();
    rows[1..].reverse();
    let one = read(text.as_bytes(), &berlin()).unwrap();
    let two = read(rows.join("\n").as_bytes(), &berlin()).unwrap();
    assert_eq!(one.history, two.history);
}

#[test]
fn an_hourly_log_passes_the_autumn_hour_with_one_stamp_twice() {
    let text = "Timestamp,Temp_C\n2025-10-26 00:00,1\n2025-10-26 01:00,2\n2025-10-26 02:00,3\n\
                2025-10-26 02:00,4\n2025-10-26 03:00,5\n";
    let read = read(text.as_bytes(), &berlin()).unwrap();
    let readings = &read.history.channels[0].readings;
    assert_eq!(readings.len(), 5);
    assert!(readings.windows(2).all(|w| w[1].at_s - w[0].at_s == 3600));
}

#[test]
fn a_thousand_columns_are_refused() {
    let text = format!(
        "Time{}\n2025-06-01 00:00,4\n2025-06-01 00:01,4\n",
        ",T".repeat(20_000)
    );
    let problems = read(text.as_bytes(), &utc()).unwrap_err();
    assert_eq!(problems[0].found, "20001 columns");
}
