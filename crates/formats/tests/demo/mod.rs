//! The demo book and its plans, as the tests of this room set them up.
#![allow(dead_code)] // each test file asks only some of it

use book::{Limits, SourceFile};
use formats::import::Target;
use jiff::Timestamp;
use kitchen::Book;
use plan::{Plan, Scene, Setting};
use schedule::Effort;

/// The events of the demo.
pub(crate) const EVENTS: [&str; 3] = ["harvest-supper", "duck-class", "orchard-lunch"];

/// The moment every paper of the tests is dated.
pub(crate) fn printed() -> Timestamp {
    "2027-02-01T12:00:00Z".parse().unwrap()
}

/// A later one.
pub(crate) fn later() -> Timestamp {
    "2027-02-03T12:00:00Z".parse().unwrap()
}

/// The demo, as files and read.
pub(crate) struct Demo {
    pub(crate) files: Vec<SourceFile>,
    pub(crate) book: Book,
}

impl Demo {
    pub(crate) fn new() -> Self {
        Self::of(book::demo::files())
    }

    pub(crate) fn of(files: Vec<SourceFile>) -> Self {
        match book::read(&files, Limits::default()) {
            Ok(book) => Self { files, book },
            Err(wrong) => panic!(
                "{}",
                wrong.iter().map(|d| format!("{d}\n")).collect::<String>()
            ),
        }
    }

    pub(crate) fn target(&self) -> Target<'_> {
        Target {
            files: &self.files,
            book: &self.book,
        }
    }

    /// The same book with one page written anew.
    pub(crate) fn with(&self, file: &str, page: &str) -> Result<Self, Vec<book::Diagnostic>> {
        let mut files = self.files.clone();
        let bytes = page.as_bytes().to_vec();
        match files.iter_mut().find(|f| f.name == file) {
            Some(old) => old.bytes = bytes,
            None => files.push(SourceFile {
                name: file.to_owned(),
                bytes,
            }),
        }
        book::read(&files, Limits::default()).map(|book| Self { files, book })
    }
}

/// The plan of an event as written.
pub(crate) fn planned(event: &str) -> Plan {
    let first = Scene::new(&Demo::new().book, event).expect("the demo has it");
    make(&first, &first)
}

/// The plan of an event before and after changes.
pub(crate) fn replanned(event: &str, changes: &[&str]) -> (Plan, Plan) {
    let first = Scene::new(&Demo::new().book, event).expect("the demo has it");
    let before = make(&first, &first);
    let settings: Vec<Setting> = changes.iter().map(|c| Setting::read(c).unwrap()).collect();
    let scene = first
        .with_all(&settings)
        .expect("these changes can be made");
    let after = make(&plan::compare::keeping(&scene, &before), &first);
    (before, after)
}

fn make(scene: &Scene, first: &Scene) -> Plan {
    plan::make(scene, first, &Effort::standard(), &mut |_| true).expect("there is a plan")
}
