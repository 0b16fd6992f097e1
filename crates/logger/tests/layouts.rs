//! One fixture for each layout: the history it gives and what is told, as goldens.
//! The fixtures are our own; the layouts are common practice, no source.

#![allow(clippy::unwrap_used, clippy::panic)]

use std::fmt::Write as _;

use jiff::tz::TimeZone;
use logger::{Options, Problem, Read, read};

fn berlin() -> Options {
    Options::new(TimeZone::get("Europe/Berlin").unwrap())
}

fn told(outcome: &Result<Read, Vec<Problem>>) -> String {
    let mut out = String::new();
    match outcome {
        Ok(read) => {
            for channel in &read.history.channels {
                writeln!(out, "{} ({:?})", channel.name, channel.quantity).unwrap();
                for reading in &channel.readings {
                    let at = jiff::Timestamp::from_second(reading.at_s).unwrap();
                    match reading.value {
                        Some(value) => writeln!(out, "  {at} {value:.3}").unwrap(),
                        None => writeln!(out, "  {at} nothing").unwrap(),
                    }
                }
            }
            for remark in &read.remarks {
                writeln!(out, "{:?}: {remark}", remark.kind).unwrap();
            }
        }
        Err(problems) => {
            for problem in problems {
                match problem.asks {
                    Some(ask) => writeln!(out, "asks {ask:?}: {problem}").unwrap(),
                    None => writeln!(out, "problem: {problem}").unwrap(),
                }
            }
        }
    }
    out
}

macro_rules! golden {
    ($name:ident, $file:literal) => {
        golden!($name, $file, |_| {});
    };
    ($name:ident, $file:literal, $set:expr) => {
        #[test]
        fn $name() {
            let bytes = include_bytes!(concat!("fixtures/", $file));
            let mut options = berlin();
            let set: fn(&mut Options) = $set;
            set(&mut options);
            insta::assert_snapshot!(told(&read(bytes, &options)));
        }
    };
}

fn column(options: &mut Options, role: &str, name: &str) {
    options.columns.push((role.to_owned(), name.to_owned()));
}

golden!(stamp_and_temp, "stamp_and_temp.csv");
golden!(semicolons_and_decimal_commas, "semicolons_commas.csv");
golden!(preamble_above_the_heading, "preamble.csv");
golden!(
    date_and_clock_apart_in_fahrenheit,
    "date_clock_fahrenheit.csv"
);
golden!(title_units_row_and_summary, "title_and_units_row.csv");
golden!(
    byte_order_mark_quotes_and_offset_in_heading,
    "utf8_mark_quoted.csv"
);
golden!(utf16_with_tabs, "utf16_tabs.txt");
golden!(utf16_big_end_first, "utf16_big_end.txt");
golden!(latin1_is_told, "latin1.csv");
golden!(stamps_with_offsets, "offsets.csv");
golden!(epoch_seconds_and_comments, "epoch.csv");
golden!(units_behind_values, "values_with_units.csv");
golden!(out_of_order_doubles_gap_and_empty_cell, "out_of_order.csv");
golden!(contradicting_doubles_are_asked, "contradiction.csv");
golden!(contradicting_doubles_first, "contradiction.csv", |o| o
    .keep =
    Some(logger::Keep::First));
golden!(contradicting_doubles_last, "contradiction.csv", |o| o
    .keep =
    Some(logger::Keep::Last));
golden!(autumn_hour_passed_twice, "autumn_twice.csv");
golden!(autumn_hour_passed_once_is_asked, "autumn_once.csv");
golden!(autumn_hour_with_a_fixed_offset, "autumn_once.csv", |o| o
    .zone =
    TimeZone::fixed(jiff::tz::offset(1)));
golden!(spring_hour_is_not_counted, "spring.csv");
golden!(spring_hour_that_never_was, "spring_skipped.csv");
golden!(clock_set_back_by_hand, "clock_set_back.csv");
golden!(clock_set_back_keeping_first, "clock_set_back.csv", |o| o
    .keep =
    Some(logger::Keep::First));
golden!(impossible_values_name_line_and_column, "impossible.csv");
golden!(temperature_without_unit_is_asked, "no_unit.csv");
golden!(temperature_without_unit_as_told, "no_unit.csv", |o| o
    .fahrenheit =
    Some(true));
golden!(unit_against_option, "stamp_and_temp.csv", |o| o
    .fahrenheit =
    Some(true));
golden!(day_or_month_is_asked, "day_or_month.csv");
golden!(day_or_month_as_told, "day_or_month.csv", |o| o.day_first =
    Some(false));
golden!(day_order_against_option, "semicolons_commas.csv", |o| o
    .day_first =
    Some(false));
golden!(both_orders_contradict, "both_orders.csv");
golden!(unknown_columns_are_asked, "unknown_columns.csv");
golden!(unknown_columns_as_named, "unknown_columns.csv", |o| {
    column(o, "temp", "ch1");
    column(o, "ph", "column 3");
    o.fahrenheit = Some(false);
});
golden!(wrong_column_name, "unknown_columns.csv", |o| column(
    o, "temp", "Ch9"
));
golden!(no_heading_is_asked, "no_heading.csv");
golden!(no_heading_as_named, "no_heading.csv", |o| {
    column(o, "temp", "column 2");
    o.fahrenheit = Some(false);
});
golden!(decimal_commas_between_commas, "commas_in_commas.csv");
golden!(two_columns_of_stamps_are_asked, "two_stamps.csv");
golden!(
    two_columns_of_stamps_as_named,
    "two_stamps.csv",
    |o| column(o, "time", "Written")
);
golden!(short_years_that_may_be_days, "short_years.csv");
golden!(both_decimal_marks, "both_marks.csv");
golden!(grams_with_thousands, "grams_thousands.csv");
golden!(a_letter_is_no_log, "letters.txt");
