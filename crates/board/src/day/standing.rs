//! Entries as they hold now: a correction is read in the place of what it corrects.

use std::sync::Arc;

use jiff::Timestamp;
use store::{Draft, Entry, EntryId, Kind, NewEntry, Reading};

use crate::address::Query;
use crate::trouble::Trouble;

/// An entry and what holds of it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Standing<'a> {
    /// As it was written.
    pub(crate) entry: &'a Entry,
    /// The reading that holds: its own, or that of the newest correction; none where a correction took it away.
    pub(crate) reading: Option<Reading>,
    /// Whether anything of it still holds.
    pub(crate) holds: bool,
}

impl<'a> Standing<'a> {
    /// When it happened.
    pub(crate) fn at(&self) -> Timestamp {
        self.entry.says.at.instant()
    }

    /// The component it is about.
    pub(crate) fn component(&self) -> Option<&'a str> {
        self.entry.says.about.component.as_ref().map(|l| l.as_str())
    }

    /// The step it is about.
    pub(crate) fn step(&self) -> Option<&'a str> {
        self.entry.says.about.step.as_ref().map(|l| l.as_str())
    }

    /// The piece, pan, probe or line it is about.
    pub(crate) fn part(&self) -> Option<&'a str> {
        self.entry.says.about.part.as_ref().map(|l| l.as_str())
    }

    /// Whether it is about this step of this component.
    pub(crate) fn is_of(&self, component: &str, step: &str) -> bool {
        self.component() == Some(component) && self.step() == Some(step)
    }
}

/// The entries in the order they were written, corrections read into what they correct.
///
/// A correction with a reading puts it in the place of the first one. A correction without a reading takes the entry
/// back: what it said did not happen, or the reading is lost.
pub(crate) fn standing(log: &[Arc<Entry>]) -> Vec<Standing<'_>> {
    log.iter()
        .filter(|e| e.says.kind.corrects().is_none())
        .map(|entry| match last_word(log, entry) {
            None => Standing {
                entry,
                reading: entry.says.reading,
                holds: true,
            },
            Some(correction) => Standing {
                entry,
                reading: correction.says.reading,
                holds: correction.says.reading.is_some()
                    // A note stays a note, and what was found outside its limit is settled by a decision alone. A
                    // decision that was corrected is none: what it let go on is open again.
                    || matches!(entry.says.kind, Kind::Note | Kind::Deviation),
            },
        })
        .collect()
}

/// The correction that holds, through corrections of corrections.
fn last_word<'a>(log: &'a [Arc<Entry>], entry: &Entry) -> Option<&'a Entry> {
    let mut found: Option<&Entry> = None;
    let mut by = entry.corrected_by;
    while let Some(sequence) = by {
        let next = log.iter().find(|e| e.sequence == sequence)?;
        by = next.corrected_by;
        found = Some(next);
    }
    found
}

/// The entry that stands in the place of one that was taken back: the same, at the hour that was written.
pub(crate) fn again(
    log: &[Arc<Entry>],
    form: &Query,
    correction: &Draft,
) -> Result<Option<NewEntry>, Trouble> {
    let Some(of) = correction.kind.corrects() else {
        return Ok(None);
    };
    let Some(first) = log.iter().find(|e| e.sequence == of) else {
        return Ok(None);
    };
    let says_hours = matches!(first.says.kind, Kind::Started | Kind::Done | Kind::Received);
    if !says_hours || form.first("when").is_none() || correction.reading.is_some() {
        return Ok(None);
    }
    let draft = Draft {
        id: EntryId::new(&format!("{}-anew", correction.id))?,
        words: format!("in the place of entry {of}"),
        kind: first.says.kind,
        about: first.says.about.clone(),
        ..correction.clone()
    };
    Ok(Some(draft.checked()?))
}
