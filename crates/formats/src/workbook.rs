//! xlsx out: one tab for every table, real numbers with formats, headings that stay in sight and repeat in print.
//!
//! # Method
//! Texts are written as texts and never as formulas, so nothing needs disarming. Moments and days are dates of the site's
//! wall. Numbers are stored as they are, the format rounds what is shown. The file carries no clock of its own: its date
//! of making is the moment handed in, so the same plan gives the same bytes.

use rust_xlsxwriter::{
    DocProperties, ExcelDateTime, Format, FormatAlign, FormatBorder, Workbook, Worksheet, XlsxError,
};

use crate::sheet::{Cell, Column, Sheet};

/// Paper, as a spreadsheet numbers it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// 210 × 297 mm.
    A4,
    /// 8½ × 11 in.
    Letter,
}

/// Why a workbook could not be written: a limit of the format.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TooMuch {
    /// In the words of the writer.
    pub what: String,
}

impl From<XlsxError> for TooMuch {
    fn from(error: XlsxError) -> Self {
        Self {
            what: error.to_string(),
        }
    }
}

struct Formats {
    heading: Format,
    text: Format,
    moment: Format,
    day: Format,
}

/// Tables as a workbook.
///
/// # Errors
/// [`TooMuch`] past a limit of the format: 32,767 characters in a cell, 1,048,576 rows.
pub fn write(
    sheets: &[Sheet],
    title: &str,
    printed: jiff::civil::DateTime,
    paper: Paper,
) -> Result<Vec<u8>, TooMuch> {
    let mut book = Workbook::new();
    let made = date_time(printed)?;
    book.set_properties(
        &DocProperties::new()
            .set_title(title)
            .set_creation_datetime(&made),
    );
    let top = FormatAlign::Top;
    let formats = Formats {
        heading: Format::new()
            .set_bold()
            .set_text_wrap()
            .set_align(top)
            .set_border_bottom(FormatBorder::Medium),
        text: Format::new().set_text_wrap().set_align(top),
        moment: Format::new()
            .set_num_format("ddd yyyy-mm-dd hh:mm")
            .set_align(top)
            .set_align(FormatAlign::Left),
        day: Format::new()
            .set_num_format("ddd yyyy-mm-dd")
            .set_align(top)
            .set_align(FormatAlign::Left),
    };
    for sheet in sheets {
        let tab = book.add_worksheet();
        tab.set_name(sheet.name)?;
        fill(tab, sheet, &formats)?;
        set_up(tab, sheet, printed, paper)?;
    }
    Ok(book.save_to_buffer()?)
}

fn date_time(at: jiff::civil::DateTime) -> Result<ExcelDateTime, XlsxError> {
    let year = u16::try_from(at.year()).unwrap_or(0);
    ExcelDateTime::from_ymd(year, at.month().unsigned_abs(), at.day().unsigned_abs())?.and_hms(
        u16::from(at.hour().unsigned_abs()),
        at.minute().unsigned_abs(),
        f64::from(at.second()),
    )
}

fn number_format(column: &Column) -> Format {
    let decimals = "0".repeat(usize::from(column.places));
    let pattern = if decimals.is_empty() {
        "#,##0".to_owned()
    } else {
        format!("#,##0.{decimals}")
    };
    Format::new()
        .set_num_format(pattern)
        .set_align(FormatAlign::Top)
}

fn fill(tab: &mut Worksheet, sheet: &Sheet, formats: &Formats) -> Result<(), XlsxError> {
    let numbers: Vec<Format> = sheet.columns.iter().map(number_format).collect();
    for (x, column) in (0_u16..).zip(&sheet.columns) {
        tab.write_string_with_format(0, x, column.heading(), &formats.heading)?;
        tab.set_column_width(x, f64::from(column.wide))?;
    }
    for (y, row) in (1_u32..).zip(&sheet.rows) {
        for ((x, cell), number) in (0_u16..).zip(row).zip(&numbers) {
            match cell {
                Cell::Unknown => {}
                Cell::Text(text) => {
                    tab.write_string_with_format(y, x, text, &formats.text)?;
                }
                Cell::Number(n) => {
                    tab.write_number_with_format(y, x, *n, number)?;
                }
                Cell::Money(amount) => {
                    // The nearest binary fraction, as in the JSON.
                    let n = plan::figures::decimal_to_f64(*amount);
                    tab.write_number_with_format(y, x, n, number)?;
                }
                Cell::Moment(at) => {
                    let at = date_time(at.datetime())?;
                    tab.write_datetime_with_format(y, x, &at, &formats.moment)?;
                }
                Cell::Day(day) => {
                    let at = date_time(day.at(0, 0, 0, 0))?;
                    tab.write_datetime_with_format(y, x, &at, &formats.day)?;
                }
            }
        }
    }
    Ok(())
}

fn set_up(
    tab: &mut Worksheet,
    sheet: &Sheet,
    printed: jiff::civil::DateTime,
    paper: Paper,
) -> Result<(), XlsxError> {
    let last_column = u16::try_from(sheet.columns.len().saturating_sub(1)).unwrap_or(u16::MAX);
    let last_row = u32::try_from(sheet.rows.len()).unwrap_or(u32::MAX);
    tab.set_freeze_panes(1, 0)?;
    tab.autofilter(0, 0, last_row, last_column)?;
    tab.set_repeat_rows(0, 0)?;
    tab.set_landscape();
    tab.set_paper_size(match paper {
        Paper::A4 => 9,
        Paper::Letter => 1,
    });
    tab.set_print_fit_to_pages(1, 0);
    tab.set_print_gridlines(true);
    // An ampersand begins a code in a header or footer; two are one.
    let safe = |t: &str| t.replace('&', "&&");
    tab.set_header(format!("&L{}", safe(&sheet.title)));
    tab.set_footer(format!(
        "&Lprinted {}&Rpage &P of &N",
        printed.strftime("%Y-%m-%d %H:%M")
    ));
    Ok(())
}
