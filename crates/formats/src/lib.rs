//! Open formats in and out: a plan or a book in, bytes out; bytes in, checked values or row-by-row refusals out.
//!
//! - [`calendar`]: the tasks, deliveries, order cut-offs and discard dates of a plan as iCalendar.
//! - [`sheet`] and [`sheets`]: order, cost, prep list, windows and verdicts as plain tables, written by
//!   [`comma`] (csv) and [`workbook`] (xlsx).
//! - [`table`]: a csv or xlsx file somebody sent, as rows with their places, within bounds.
//! - [`import`]: such rows against a book: what would change, and what is refused, row by row.
//! - [`recipe`]: recipes as schema.org Recipe in JSON-LD, out and in; pasted lines in kitchen measures, in.
//! - [`fields`]: the values of a page that change most, found in its text and written back into it.
//! - [`archive`]: the files of a book as one zip.
//!
//! This room opens no file and reads no clock: the moment a paper is dated is an argument. What each
//! format carries and what it cannot is told in `docs/formats.md`.

pub mod archive;
pub mod calendar;
pub mod comma;
pub mod fields;
pub mod import;
pub mod recipe;
pub mod refusal;
pub mod sheet;
pub mod sheets;
pub mod table;
pub mod workbook;
