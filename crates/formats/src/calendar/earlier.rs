//! The calendar of an earlier plan, read back so that a new one updates it.

use std::collections::BTreeMap;

use crate::refusal::{Refusal, quoted};

use super::entry::Written;
use super::lines::{unescape, unfold};
use super::zone;

/// Bytes of a calendar read at most.
pub const MOST_BYTES: usize = 5_000_000;

/// An earlier calendar of the same event.
#[derive(Debug, Clone, Default)]
pub struct Earlier {
    order: Vec<String>,
    entries: BTreeMap<String, Written>,
    zones: BTreeMap<String, Vec<String>>,
}

/// Bookkeeping of an entry: not compared.
const KEPT_APART: [&str; 4] = ["UID", "DTSTAMP", "LAST-MODIFIED", "SEQUENCE"];

impl Earlier {
    /// Reads a calendar this program wrote. `belongs` is what ends every UID of the event, see
    /// [`belongs_to`](super::belongs_to).
    ///
    /// # Errors
    /// What is no calendar, a calendar of something else, and every entry that cannot be carried on: each with its line.
    pub fn read(bytes: &[u8], belongs: &str) -> Result<Self, Vec<Refusal>> {
        if bytes.len() > MOST_BYTES {
            return Err(vec![Refusal::whole(
                format!("a calendar of more than {MOST_BYTES} bytes"),
                "the calendar of one event, a few hundred kilobytes",
                "name the file `saltern export` wrote for this event",
            )]);
        }
        let mut reader = Reader {
            belongs,
            earlier: Self::default(),
            wrong: Vec::new(),
            used: Vec::new(),
            foreign: false,
        };
        reader.read(bytes);
        if reader.wrong.is_empty() {
            Ok(reader.earlier)
        } else {
            Err(reader.wrong)
        }
    }

    pub(super) fn entry(&self, uid: &str) -> Option<&Written> {
        self.entries.get(uid)
    }

    /// In the order of the file.
    pub(super) fn entries(&self) -> impl Iterator<Item = &Written> {
        self.order.iter().filter_map(|uid| self.entries.get(uid))
    }

    pub(super) fn zone(&self, name: &str) -> Option<&[String]> {
        self.zones.get(name).map(Vec::as_slice)
    }
}

struct Reader<'a> {
    belongs: &'a str,
    earlier: Earlier,
    wrong: Vec<Refusal>,
    /// Zones used, with the line of the first use.
    used: Vec<(String, usize)>,
    /// An entry of something else was found.
    foreign: bool,
}

impl Reader<'_> {
    fn refuse(&mut self, line: usize, found: String, expected: &str) {
        self.wrong.push(Refusal::at(
            line,
            "",
            found,
            expected,
            "name the file as `saltern export` wrote it, or leave --since out and import the new calendar into an empty one",
        ));
    }

    fn read(&mut self, bytes: &[u8]) {
        let mut lines = Vec::new();
        for (at, raw) in unfold(bytes) {
            match String::from_utf8(raw) {
                Ok(text) => lines.push((at, text)),
                Err(_) => {
                    return self.refuse(
                        at,
                        "bytes that are not UTF-8".to_owned(),
                        "a calendar in UTF-8",
                    );
                }
            }
        }
        let first = lines.first().map_or("", |(_, l)| l.as_str());
        if !first.eq_ignore_ascii_case("BEGIN:VCALENDAR") {
            let found = format!("a file that starts with \"{}\"", quoted(first));
            return self.refuse(1, found, "a calendar: its first line is BEGIN:VCALENDAR");
        }
        match lines.last() {
            Some((_, end)) if end.eq_ignore_ascii_case("END:VCALENDAR") => {}
            Some((at, _)) => {
                let at = *at;
                return self.refuse(
                    at,
                    "a calendar cut off: no END:VCALENDAR at its end".to_owned(),
                    "the whole file",
                );
            }
            None => {}
        }
        let mut i = 1;
        while i + 1 < lines.len() {
            let (at, text) = &lines[i];
            let Some(name) = text.strip_prefix("BEGIN:") else {
                i += 1;
                continue;
            };
            let end = format!("END:{name}");
            let Some(len) = lines[i..].iter().position(|(_, l)| *l == end) else {
                let (at, name) = (*at, quoted(name));
                return self.refuse(
                    at,
                    format!("a {name} without its end"),
                    &format!("END:{name}"),
                );
            };
            let body = &lines[i + 1..i + len];
            match name {
                // One entry of something else says it all.
                "VEVENT" if self.foreign => {}
                "VEVENT" => self.entry(*at, body),
                "VTIMEZONE" => self.time_zone(*at, body),
                _ => {}
            }
            i += len + 1;
        }
        self.check_zones();
    }

    fn time_zone(&mut self, at: usize, body: &[(usize, String)]) {
        let id = body.iter().find_map(|(_, l)| l.strip_prefix("TZID:"));
        let offsets = body.iter().any(|(_, l)| l.starts_with("TZOFFSETTO:"));
        match id {
            Some(id) if offsets => {
                let mut lines = vec!["BEGIN:VTIMEZONE".to_owned()];
                lines.extend(body.iter().map(|(_, l)| l.clone()));
                lines.push("END:VTIMEZONE".to_owned());
                self.earlier.zones.insert(unescape(id), lines);
            }
            Some(id) => {
                let found = format!("a time zone \"{}\" that says no offset", quoted(id));
                self.refuse(at, found, "TZOFFSETTO in a STANDARD or DAYLIGHT part");
            }
            None => self.refuse(at, "a time zone without a name".to_owned(), "TZID"),
        }
    }

    fn entry(&mut self, at: usize, body: &[(usize, String)]) {
        let mut content = Vec::new();
        let mut kept: BTreeMap<&str, &str> = BTreeMap::new();
        let mut depth = 0_u32;
        for (line, text) in body {
            if text.starts_with("BEGIN:") {
                depth += 1;
            }
            let name = text.split([':', ';']).next().unwrap_or("");
            if depth == 0 && KEPT_APART.contains(&name) {
                kept.insert(name, text.split_once(':').map_or("", |(_, v)| v));
            } else {
                if let Some((zone, _)) = zone::zoned(text) {
                    self.used.push((zone, *line));
                } else if text.contains(";TZID=") && text.starts_with("DT") {
                    let found = format!("\"{}\"", quoted(text));
                    self.refuse(*line, found, "a local time such as 20270309T110000");
                }
                content.push(text.clone());
            }
            if text.starts_with("END:") {
                depth = depth.saturating_sub(1);
            }
        }
        let Some(uid) = kept.get("UID").map(|u| unescape(u)) else {
            return self.refuse(at, "an entry without a UID".to_owned(), "UID");
        };
        if !uid.ends_with(self.belongs) {
            self.foreign = true;
            let found = format!("an entry of something else: UID \"{}\"", quoted(&uid));
            let expected = format!(
                "entries of this event: their UIDs end in \"{}\"",
                self.belongs
            );
            return self.refuse(at, found, &expected);
        }
        let sequence = kept.get("SEQUENCE").copied().unwrap_or("0");
        let Ok(sequence) = sequence.parse::<u32>() else {
            let found = format!("SEQUENCE \"{}\"", quoted(sequence));
            return self.refuse(at, found, "a whole number");
        };
        let stamp = kept.get("DTSTAMP").copied().unwrap_or("").to_owned();
        let modified = kept
            .get("LAST-MODIFIED")
            .copied()
            .unwrap_or(&stamp)
            .to_owned();
        if stamp.is_empty() {
            return self.refuse(at, "an entry without a DTSTAMP".to_owned(), "DTSTAMP");
        }
        if self.earlier.entries.contains_key(&uid) {
            return self.refuse(
                at,
                format!("a second entry with the UID \"{}\"", quoted(&uid)),
                "every UID once",
            );
        }
        self.earlier.order.push(uid.clone());
        self.earlier.entries.insert(
            uid.clone(),
            Written {
                uid,
                content,
                sequence,
                stamp,
                modified,
            },
        );
    }

    fn check_zones(&mut self) {
        let mut told: Vec<String> = Vec::new();
        for (name, line) in std::mem::take(&mut self.used) {
            if self.earlier.zones.contains_key(&name) || told.contains(&name) {
                continue;
            }
            let known = if zone::is_known(&name) {
                ""
            } else {
                ", which is no zone of the tz database either"
            };
            let found = format!(
                "a time in \"{}\", a zone this calendar does not describe{known}",
                quoted(&name)
            );
            self.refuse(line, found, "a VTIMEZONE with that TZID in the same file");
            told.push(name);
        }
    }
}
