//! An entry of the log: what happened, checked before it may be appended.

use crate::error::Refusal;
use crate::hash::Hash;
use crate::moment::Moment;
use crate::names::{DeviceId, EntryId, Label, Name};
use crate::reading::{Reading, Unit};

/// Longest text of an entry or a page, in bytes (64 MiB).
pub const MOST_TEXT_BYTES: usize = 64 * 1024 * 1024;

/// What an entry says happened.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Kind {
    /// A step was started.
    Started,
    /// A step was done.
    Done,
    /// Something was weighed; needs a weight.
    Weighed,
    /// A temperature was read; needs it.
    Temperature,
    /// A pH was read; needs it.
    Ph,
    /// A temperature was held for a time; needs the time.
    Hold,
    /// A delivery was taken in.
    Received,
    /// Something is outside its limit; needs words.
    Deviation,
    /// Somebody chose what to do; needs words.
    Decision,
    /// Anything else worth keeping; needs words.
    Note,
    /// An earlier entry of the same event was wrong; needs the right reading, or words, or both.
    Correction {
        /// The sequence number of the entry it corrects.
        of: i64,
    },
}

const KINDS: [(Kind, &str); 10] = [
    (Kind::Started, "started"),
    (Kind::Done, "done"),
    (Kind::Weighed, "weighed"),
    (Kind::Temperature, "temperature"),
    (Kind::Ph, "ph"),
    (Kind::Hold, "hold"),
    (Kind::Received, "received"),
    (Kind::Deviation, "deviation"),
    (Kind::Decision, "decision"),
    (Kind::Note, "note"),
];

impl Kind {
    /// How it is written and hashed.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        KINDS
            .iter()
            .find(|(kind, _)| *kind == self)
            .map_or("correction", |(_, name)| name)
    }

    /// The entry it corrects, if it is a correction.
    #[must_use]
    pub fn corrects(self) -> Option<i64> {
        match self {
            Self::Correction { of } => Some(of),
            _ => None,
        }
    }

    pub(crate) fn stored(name: &str, corrects: Option<i64>) -> Option<Self> {
        match (name, corrects) {
            ("correction", Some(of)) => Some(Self::Correction { of }),
            (_, None) => KINDS
                .iter()
                .find(|(_, n)| *n == name)
                .map(|(kind, _)| *kind),
            _ => None,
        }
    }

    /// Whether a reading in `unit` can be one of this kind.
    pub(crate) fn takes(self, unit: Unit) -> bool {
        match self {
            Self::Weighed => unit.is_mass(),
            Self::Temperature => unit.is_temperature(),
            Self::Ph => unit == Unit::Ph,
            Self::Hold => unit.is_elapsed(),
            _ => true,
        }
    }

    fn unit_in_words(self) -> &'static str {
        match self {
            Self::Weighed => "a weight in g, kg, oz or lb",
            Self::Temperature => "a temperature in °C or °F",
            Self::Ph => "a pH",
            Self::Hold => "a time in s, min or h",
            _ => "a reading",
        }
    }

    /// The refusal of a reading that is missing or of another kind.
    pub(crate) fn wants(self, found: Option<Reading>) -> Refusal {
        Refusal {
            what: "the reading",
            found: found.map_or_else(|| "none".to_owned(), |r| r.to_string()),
            expected: self.unit_in_words().to_owned(),
            do_now: "enter what was read; a missing reading is never filled in",
        }
    }

    fn needs_reading(self) -> bool {
        matches!(
            self,
            Self::Weighed | Self::Temperature | Self::Ph | Self::Hold
        )
    }

    fn needs_words(self) -> bool {
        matches!(self, Self::Deviation | Self::Decision | Self::Note)
    }
}

/// What an entry is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct About {
    /// The event.
    pub event: Label,
    /// The component, where it applies.
    pub component: Option<Label>,
    /// The step, where it applies.
    pub step: Option<Label>,
    /// The lot, where it applies.
    pub lot: Option<Label>,
    /// Which piece, pan or probe of it, where it applies.
    pub part: Option<Label>,
}

impl About {
    /// About an event as a whole.
    #[must_use]
    pub fn event(event: Label) -> Self {
        Self {
            event,
            component: None,
            step: None,
            lot: None,
            part: None,
        }
    }
}

/// An entry as a form fills it in; [`Draft::checked`] makes it one the log takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Draft {
    /// Made by the client; the same id is stored once.
    pub id: EntryId,
    /// When it happened, by the client's clock.
    pub at: Moment,
    /// Who enters it.
    pub who: Name,
    /// On which device.
    pub device: DeviceId,
    /// What it is about.
    pub about: About,
    /// What happened.
    pub kind: Kind,
    /// What was read, as it was read.
    pub reading: Option<Reading>,
    /// Free words; may be empty.
    pub words: String,
}

impl Draft {
    /// The entry, if it says what its kind has to say.
    ///
    /// # Errors
    /// A reading is missing or of another kind than the entry; words are missing where the kind
    /// needs them; the words are longer than [`MOST_TEXT_BYTES`].
    pub fn checked(self) -> Result<NewEntry, Refusal> {
        let no_words = self.words.trim().is_empty();
        match self.reading {
            None if self.kind.needs_reading() => return Err(self.kind.wants(None)),
            Some(reading) if !self.kind.takes(reading.unit()) => {
                return Err(self.kind.wants(Some(reading)));
            }
            None if no_words && self.kind.corrects().is_some() => {
                return Err(Refusal {
                    what: "a correction",
                    found: "neither a reading nor words".to_owned(),
                    expected: "the right reading, or what was wrong".to_owned(),
                    do_now: "say what holds instead",
                });
            }
            _ => {}
        }
        if no_words && self.kind.needs_words() {
            return Err(Refusal {
                what: "the words",
                found: "none".to_owned(),
                expected: format!("words with a {}", self.kind.as_str()),
                do_now: "say what it is in a few words",
            });
        }
        longest("the words", &self.words)?;
        Ok(NewEntry(self))
    }
}

pub(crate) fn longest(what: &'static str, text: &str) -> Result<(), Refusal> {
    if text.len() <= MOST_TEXT_BYTES {
        return Ok(());
    }
    Err(Refusal {
        what,
        found: format!("{} bytes", text.len()),
        expected: format!("at most {MOST_TEXT_BYTES} bytes"),
        do_now: "shorten it, or keep it in a file of its own and note where",
    })
}

/// An entry the log takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewEntry(Draft);

impl NewEntry {
    /// What it says.
    #[must_use]
    pub fn says(&self) -> &Draft {
        &self.0
    }
}

/// An entry of the log as it stands there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// Its place in the log, from 1, without gaps.
    pub sequence: i64,
    /// What it says.
    pub says: Draft,
    /// When the store was given it; later than [`Draft::at`] when the network was away.
    pub recorded: Moment,
    /// The hash of the entry before, [`Hash::NONE`] for the first.
    pub before: Hash,
    /// The hash of this one.
    pub hash: Hash,
    /// The newest entry that corrects this one; what stands here then no longer holds.
    pub corrected_by: Option<i64>,
}

#[cfg(test)]
mod tests {
    use super::*;

    fn draft(kind: Kind, reading: Option<(&str, Unit)>, words: &str) -> Draft {
        Draft {
            id: EntryId::new("t:1").unwrap(),
            at: Moment::new("2027-10-07T16:30:00Z".parse().unwrap(), "UTC").unwrap(),
            who: Name::new("Maren").unwrap(),
            device: DeviceId::new("t").unwrap(),
            about: About::event(Label::new("harvest-supper").unwrap()),
            kind,
            reading: reading.map(|(n, unit)| Reading::new(n.parse().unwrap(), unit).unwrap()),
            words: words.to_owned(),
        }
    }

    #[test]
    fn a_missing_reading_is_never_filled_in() {
        for kind in [Kind::Weighed, Kind::Temperature, Kind::Ph, Kind::Hold] {
            assert!(
                draft(kind, None, "looked fine").checked().is_err(),
                "{kind:?}"
            );
        }
        assert!(draft(Kind::Started, None, "").checked().is_ok());
    }

    #[test]
    fn a_weight_is_not_a_temperature() {
        let refused = draft(Kind::Temperature, Some(("5220", Unit::Gram)), "").checked();
        assert_eq!(
            refused.unwrap_err().to_string(),
            "the reading: found 5220 g; expected a temperature in °C or °F; \
             now: enter what was read; a missing reading is never filled in"
        );
        assert!(
            draft(Kind::Weighed, Some(("5220", Unit::Gram)), "")
                .checked()
                .is_ok()
        );
    }

    #[test]
    fn a_decision_has_words() {
        for kind in [
            Kind::Deviation,
            Kind::Decision,
            Kind::Note,
            Kind::Correction { of: 1 },
        ] {
            assert!(draft(kind, None, " ").checked().is_err(), "{kind:?}");
            assert!(draft(kind, None, "re-chill").checked().is_ok(), "{kind:?}");
        }
    }

    #[test]
    fn every_kind_is_read_as_it_is_written() {
        for (kind, name) in KINDS {
            assert_eq!(kind.as_str(), name);
            assert_eq!(Kind::stored(name, None), Some(kind));
            assert_eq!(Kind::stored(name, Some(1)), None);
        }
        let correction = Kind::Correction { of: 7 };
        assert_eq!(Kind::stored(correction.as_str(), Some(7)), Some(correction));
        assert_eq!(Kind::stored("correction", None), None);
    }
}
