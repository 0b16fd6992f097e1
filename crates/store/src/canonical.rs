//! The canonical bytes of an entry, a revision, a conflict: what their hashes are taken of.
//! Described in `docs/store.md`.
//!
//! A first line names the form; then one line a field, in a fixed order, absent fields left out:
//! the field's name, a blank, the number of bytes, a colon, the bytes, a line feed. The length in
//! front makes the form unambiguous whatever the text holds.

use crate::entry::Draft;
use crate::hash::Hash;
use crate::moment::Moment;
use crate::names::Name;
use crate::page::{PageId, Revision};

// First lines of the forms. Another form is another line, never the same with other rules.
const ENTRY: &str = "saltern log entry, form 1\n";
const REVISION: &str = "saltern page revision, form 1\n";
const CONFLICT: &str = "saltern page conflict, form 1\n";

/// Hash of the canonical bytes of an entry at its place in the log.
pub(crate) fn hash(sequence: i64, before: &Hash, says: &Draft, recorded: &Moment) -> Hash {
    Hash::of(&bytes(sequence, before, says, recorded))
}

pub(crate) fn bytes(sequence: i64, before: &Hash, says: &Draft, recorded: &Moment) -> Vec<u8> {
    let mut out = Fields(ENTRY.as_bytes().to_vec());
    out.put("sequence", &sequence.to_string());
    out.put("before", &before.to_string());
    out.put("recorded-at", &recorded.text());
    out.put("recorded-zone", recorded.zone());
    content(&mut out, says);
    out.0
}

/// What the client said, without what the store added: two sends are the same when this is.
pub(crate) fn content_of(says: &Draft) -> Vec<u8> {
    let mut out = Fields(Vec::new());
    content(&mut out, says);
    out.0
}

fn content(out: &mut Fields, says: &Draft) {
    let about = &says.about;
    out.put("id", says.id.as_str());
    out.put("at", &says.at.text());
    out.put("zone", says.at.zone());
    out.put("who", says.who.as_str());
    out.put("device", says.device.as_str());
    out.put("event", about.event.as_str());
    for (name, label) in [
        ("component", &about.component),
        ("step", &about.step),
        ("lot", &about.lot),
        ("part", &about.part),
    ] {
        if let Some(label) = label {
            out.put(name, label.as_str());
        }
    }
    out.put("kind", says.kind.as_str());
    if let Some(of) = says.kind.corrects() {
        out.put("corrects", &of.to_string());
    }
    if let Some(reading) = says.reading {
        out.put("number", &reading.number().to_string());
        out.put("unit", reading.unit().as_str());
    }
    out.put("words", &says.words);
}

/// Hash of the canonical bytes of a revision.
pub(crate) fn revision_hash(revision: &Revision) -> Hash {
    let mut out = Fields(REVISION.as_bytes().to_vec());
    out.put("book-number", &revision.book_number.to_string());
    out.put("page", revision.page.as_str());
    out.put("number", &revision.number.to_string());
    if let Some(parent) = revision.parent {
        out.put("parent", &parent.to_string());
    }
    out.put("kind", revision.kind.as_str());
    said(
        &mut out,
        &revision.who,
        &revision.at,
        revision.text.as_deref(),
    );
    Hash::of(&out.0)
}

/// Hash of the canonical bytes of a conflict.
pub(crate) fn conflict_hash(
    page: &PageId,
    (parent, met): (Option<u32>, u32),
    text: Option<&str>,
    who: &Name,
    at: &Moment,
) -> Hash {
    let mut out = Fields(CONFLICT.as_bytes().to_vec());
    out.put("page", page.as_str());
    if let Some(parent) = parent {
        out.put("parent", &parent.to_string());
    }
    out.put("met", &met.to_string());
    said(&mut out, who, at, text);
    Hash::of(&out.0)
}

/// A page taken out has no text; an empty page has one of no bytes.
fn said(out: &mut Fields, who: &Name, at: &Moment, text: Option<&str>) {
    out.put("who", who.as_str());
    out.put("at", &at.text());
    out.put("zone", at.zone());
    if let Some(text) = text {
        out.put("text", text);
    }
}

struct Fields(Vec<u8>);

impl Fields {
    fn put(&mut self, name: &str, value: &str) {
        self.0.extend_from_slice(name.as_bytes());
        self.0.push(b' ');
        self.0.extend_from_slice(value.len().to_string().as_bytes());
        self.0.push(b':');
        self.0.extend_from_slice(value.as_bytes());
        self.0.push(b'\n');
    }
}
