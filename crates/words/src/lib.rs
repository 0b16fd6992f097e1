//! What stands on paper, in the language of who reads it: labels from message files, numbers and dates by language.
//!
//! The message files (`en/*.ftl`, `fr/*.ftl`) are Project Fluent, an open format with its own plural rules; they are compiled
//! in. Names of recipes and ingredients are the book's and stay as the book has them. French is written for a kitchen in Québec.

mod figures;
mod files;
mod hours;
mod language;
mod message;

pub use files::{FILES, File};
pub use language::Language;
pub use message::{Value, Words};
