//! One entry of a calendar: what it says, and how it is written down.

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

use super::lines::escape;
use super::zone::local;

/// One entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// The same for the same thing in every plan of the event.
    pub uid: String,
    /// When.
    pub when: When,
    /// One line.
    pub summary: String,
    /// More lines; may be empty.
    pub description: String,
    /// What kind of entry, in one word.
    pub category: &'static str,
    /// Whether somebody is busy with it.
    pub busy: bool,
    /// The reminder.
    pub alarm: Option<Alarm>,
}

/// When an entry is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum When {
    /// From one moment to another; the same moment twice is a point in time.
    Span(Timestamp, Timestamp),
    /// All of a day.
    Day(Date),
}

/// A reminder at a moment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Alarm {
    /// When it rings.
    pub at: Timestamp,
    /// What it says.
    pub words: String,
}

impl Entry {
    /// The content lines between BEGIN and END that say something of the kitchen: all but the bookkeeping.
    pub(super) fn content(&self, zone: &TimeZone) -> Vec<String> {
        let mut lines = Vec::new();
        match self.when {
            When::Span(start, end) => {
                lines.push(format!("DTSTART{}", local(zone, start)));
                if end != start {
                    lines.push(format!("DTEND{}", local(zone, end)));
                }
            }
            When::Day(day) => {
                lines.push(format!("DTSTART;VALUE=DATE:{}", day.strftime("%Y%m%d")));
                if let Ok(next) = day.tomorrow() {
                    lines.push(format!("DTEND;VALUE=DATE:{}", next.strftime("%Y%m%d")));
                }
            }
        }
        lines.push(format!("SUMMARY:{}", escape(&self.summary)));
        if !self.description.is_empty() {
            lines.push(format!("DESCRIPTION:{}", escape(&self.description)));
        }
        lines.push(format!("CATEGORIES:{}", escape(self.category)));
        lines.push("STATUS:CONFIRMED".to_owned());
        lines.push(
            if self.busy {
                "TRANSP:OPAQUE"
            } else {
                "TRANSP:TRANSPARENT"
            }
            .to_owned(),
        );
        if let Some(alarm) = &self.alarm {
            lines.extend([
                "BEGIN:VALARM".to_owned(),
                "ACTION:DISPLAY".to_owned(),
                format!("TRIGGER;VALUE=DATE-TIME:{}", utc(alarm.at)),
                format!("DESCRIPTION:{}", escape(&alarm.words)),
                "END:VALARM".to_owned(),
            ]);
        }
        lines
    }
}

/// A moment in universal time.
pub(super) fn utc(at: Timestamp) -> String {
    at.strftime("%Y%m%dT%H%M%SZ").to_string()
}

/// An entry as it stands in a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Written {
    pub(super) uid: String,
    /// Lines that say something of the kitchen.
    pub(super) content: Vec<String>,
    pub(super) sequence: u32,
    /// DTSTAMP and LAST-MODIFIED, as written.
    pub(super) stamp: String,
    pub(super) modified: String,
}

impl Written {
    pub(super) fn new(uid: &str, content: Vec<String>, sequence: u32, at: Timestamp) -> Self {
        Self {
            uid: uid.to_owned(),
            content,
            sequence,
            stamp: utc(at),
            modified: utc(at),
        }
    }

    pub(super) fn is_cancelled(&self) -> bool {
        self.content.iter().any(|l| l == "STATUS:CANCELLED")
    }

    /// The same entry, called off: nothing rings and nobody is busy with it any more.
    pub(super) fn cancelled(&self, at: Timestamp) -> Self {
        let mut content = Vec::new();
        let mut in_alarm = false;
        for line in &self.content {
            match line.as_str() {
                "BEGIN:VALARM" => in_alarm = true,
                "END:VALARM" => in_alarm = false,
                _ if in_alarm => {}
                l if l.starts_with("STATUS:") => content.push("STATUS:CANCELLED".to_owned()),
                l if l.starts_with("TRANSP:") => content.push("TRANSP:TRANSPARENT".to_owned()),
                l => content.push(l.to_owned()),
            }
        }
        Self::new(&self.uid, content, self.sequence.saturating_add(1), at)
    }

    pub(super) fn lines(&self) -> Vec<String> {
        let mut lines = vec![
            "BEGIN:VEVENT".to_owned(),
            format!("UID:{}", escape(&self.uid)),
            format!("DTSTAMP:{}", self.stamp),
            format!("LAST-MODIFIED:{}", self.modified),
            format!("SEQUENCE:{}", self.sequence),
        ];
        lines.extend(self.content.iter().cloned());
        lines.push("END:VEVENT".to_owned());
        lines
    }
}
