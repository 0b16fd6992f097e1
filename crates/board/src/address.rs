//! What an address says beside its path: the changes of a what-if, and a moment to look at.

use std::fmt::Write;

/// The mark of pages that leave out what happened, as it stands in an address.
pub(crate) const AS_PLANNED: &str = "as=planned";

/// The pairs of a query, decoded, in order.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Query(pub(crate) Vec<(String, String)>);

impl Query {
    /// Reads a query string; `+` is a space, and what is not UTF-8 becomes the replacement character.
    pub(crate) fn read(text: Option<&str>) -> Self {
        Self(
            text.unwrap_or("")
                .split('&')
                .filter(|p| !p.is_empty())
                .map(|pair| {
                    let (name, value) = pair.split_once('=').unwrap_or((pair, ""));
                    (decoded(name), decoded(value))
                })
                .collect(),
        )
    }

    /// The first value of a name, blank counted as not said.
    pub(crate) fn first(&self, name: &str) -> Option<&str> {
        self.0
            .iter()
            .find(|(n, v)| n == name && !v.trim().is_empty())
            .map(|(_, v)| v.trim())
    }

    /// Whether what happened is to be left out: `as=planned`, by itself or carried among the changes of a form.
    pub(crate) fn as_planned(&self) -> bool {
        self.0.iter().any(|(name, value)| {
            (name == "as" && value == "planned") || (name == "set" && value.trim() == AS_PLANNED)
        })
    }

    /// The changes of a what-if: `set=covers=72`, or a field of the form `change-covers=72`.
    pub(crate) fn changes(&self) -> Vec<String> {
        self.0
            .iter()
            .filter_map(|(name, value)| {
                let value = value.trim();
                if value.is_empty() || value == AS_PLANNED {
                    None
                } else if name == "set" {
                    Some(value.to_owned())
                } else {
                    name.strip_prefix("change-")
                        .map(|key| format!("{key}={value}"))
                }
            })
            .collect()
    }
}

/// The query that carries changes on to another page, with its question mark; nothing without changes.
pub(crate) fn carried(changes: &[String]) -> String {
    changes
        .iter()
        .enumerate()
        .fold(String::new(), |mut out, (i, change)| {
            let mark = if i == 0 { '?' } else { '&' };
            let _ = if change == AS_PLANNED {
                write!(out, "{mark}{AS_PLANNED}")
            } else {
                write!(out, "{mark}set={}", encoded(change))
            };
            out
        })
}

/// Text fit for one part of an address.
pub(crate) fn encoded(text: &str) -> String {
    text.bytes().fold(String::new(), |mut out, b| {
        if b.is_ascii_alphanumeric() || matches!(b, b'-' | b'.' | b'_' | b'~') {
            out.push(char::from(b));
        } else {
            let _ = write!(out, "%{b:02X}");
        }
        out
    })
}

fn decoded(text: &str) -> String {
    let mut bytes = Vec::with_capacity(text.len());
    let raw = text.as_bytes();
    let mut at = 0;
    while let Some(&b) = raw.get(at) {
        let pair = raw
            .get(at + 1..at + 3)
            .and_then(|h| std::str::from_utf8(h).ok())
            .and_then(|h| u8::from_str_radix(h, 16).ok());
        match (b, pair) {
            (b'%', Some(byte)) => {
                bytes.push(byte);
                at += 3;
            }
            (b'+', _) => {
                bytes.push(b' ');
                at += 1;
            }
            _ => {
                bytes.push(b);
                at += 1;
            }
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn changes_survive_the_way_through_an_address() {
        let changes = vec![
            "serve=+90min".to_owned(),
            "hot-smoked-char.cure.thickness=34 mm & more".to_owned(),
        ];
        let query = carried(&changes);
        assert_eq!(Query::read(query.strip_prefix('?')).changes(), changes);
    }

    #[test]
    fn as_planned_is_carried_and_is_no_change() {
        let query = carried(&["covers=72".to_owned(), AS_PLANNED.to_owned()]);
        assert_eq!(query, "?set=covers%3D72&as=planned");
        let read = Query::read(query.strip_prefix('?'));
        assert!(read.as_planned());
        assert_eq!(read.changes(), ["covers=72"]);
        assert!(Query::read(Some("set=as%3Dplanned")).as_planned());
    }

    #[test]
    fn broken_escapes_are_text() {
        assert_eq!(decoded("100%"), "100%");
        assert_eq!(decoded("a%zz%20b+c"), "a%zz b c");
        assert_eq!(decoded("%ff"), "\u{fffd}");
    }

    #[test]
    fn an_empty_field_is_no_change() {
        assert!(
            Query::read(Some("change-covers=&set=+"))
                .changes()
                .is_empty()
        );
    }
}
