//! What was written down, one row a line of the record.

use jiff::{Timestamp, tz::TimeZone};

use crate::sheet::{Cell, Column, Sheet};

/// One line of the record as a plain value.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// When.
    pub at: Timestamp,
    /// Who, as they signed.
    pub who: String,
    /// The component it is about; empty where it is about none.
    pub component: String,
    /// Its step.
    pub step: String,
    /// What was written down.
    pub what: String,
    /// The reading; `None` where there was none, never zero.
    pub value: Option<f64>,
    /// Its unit.
    pub unit: String,
    /// In words.
    pub note: String,
    /// Something went otherwise than planned.
    pub deviation: bool,
}

/// The record of an event at the wall clock of its site, in the order it is given.
#[must_use]
pub fn record(event: &str, zone: &TimeZone, lines: &[Line]) -> Sheet {
    Sheet {
        name: "record",
        title: format!("Record: {event}"),
        columns: vec![
            Column::text("when", 21),
            Column::text("who", 18),
            Column::text("component", 26),
            Column::text("step", 16),
            Column::text("what", 30),
            Column::number("value", "", 2),
            Column::text("unit", 8),
            Column::text("deviation", 10),
            Column::text("note", 44),
        ],
        rows: lines
            .iter()
            .map(|l| {
                vec![
                    Cell::Moment(l.at.to_zoned_datetime(zone.clone())),
                    Cell::text(&l.who),
                    Cell::text(&l.component),
                    Cell::text(&l.step),
                    Cell::text(&l.what),
                    Cell::number(l.value),
                    Cell::text(&l.unit),
                    Cell::text(if l.deviation { "yes" } else { "" }),
                    Cell::text(&l.note),
                ]
            })
            .collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_without_a_reading_has_an_empty_cell_and_its_wall_hour() {
        let zone = jiff::tz::TimeZoneDatabase::bundled()
            .get("America/Toronto")
            .unwrap();
        let line = Line {
            at: "2027-10-06T19:00:00Z".parse().unwrap(),
            who: "learner 2".to_owned(),
            component: "hot-smoked-char".to_owned(),
            step: "smoke".to_owned(),
            what: "core, probe 2".to_owned(),
            value: None,
            unit: "°C".to_owned(),
            note: "probe fell out".to_owned(),
            deviation: true,
        };
        let sheet = record("Harvest supper", &zone, &[line]);
        let row = &sheet.rows[0];
        assert!(matches!(&row[0], Cell::Moment(z) if z.hour() == 15));
        assert_eq!(row[5], Cell::Unknown);
        assert_eq!(row[7], Cell::text("yes"));
    }
}
