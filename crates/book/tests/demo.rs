//! The demo book reads without a complaint.
use book::{Limits, demo, read};

#[test]
fn the_demo_book_reads_whole() {
    match read(&demo::files(), Limits::default()) {
        Ok(book) => {
            assert_eq!(book.events.len(), 3);
            assert!(book.note.contains("invented"));
        }
        Err(wrong) => {
            let text: Vec<String> = wrong.iter().map(ToString::to_string).collect();
            panic!("{}", text.join("\n"));
        }
    }
}
