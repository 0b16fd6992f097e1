//! `--happened FILE --now HOUR`: what a kitchen wrote down, read and put on the plan.

use std::path::PathBuf;

use book::did_you_mean;
use formats::{import, table};
use plan::Scene;
use plan::happened::{Happened, NotTaken, Wrong};

use crate::exit::BadInput;
use crate::exporting::refused;
use crate::{planning, writing};

/// What happened, as it is asked for on the command line.
#[derive(Debug, Clone, clap::Args)]
pub(crate) struct Record {
    /// What happened so far: a .csv or .xlsx with the columns when, component, step, what, reading, unit
    #[arg(long, value_name = "FILE", requires = "now")]
    pub(crate) happened: Option<PathBuf>,
    /// The hour it is, on the site's wall, such as 2027-10-06T12:00: nothing that was not started is planned before it
    #[arg(long, value_name = "HOUR")]
    pub(crate) now: Option<String>,
}

/// Tabs a workbook may have it on.
const TABS: [&str; 2] = ["record", "happened"];

impl Record {
    /// Nothing is said of what happened.
    pub(crate) const NONE: Self = Self {
        happened: None,
        now: None,
    };

    /// The record asked for; none where no hour is named.
    pub(crate) fn read(&self, first: &Scene) -> Result<Option<Happened>, BadInput> {
        let Some(now) = &self.now else {
            return Ok(None);
        };
        let zone = &first.site.zone;
        let now = import::moment(now, zone).map_err(|(found, expected, do_now)| {
            BadInput::new(&format!("--now {found}"), expected, do_now)
        })?;
        let facts = match &self.happened {
            None => Vec::new(),
            Some(path) => {
                let wrong = |wrong: Vec<_>| refused(path, &wrong);
                let bytes = writing::read(path, table::MOST_BYTES)?;
                let table = table::read(&bytes, &TABS).map_err(wrong)?;
                import::record(&table, zone).map_err(wrong)?
            }
        };
        Ok(Some(Happened { now, facts }))
    }

    /// A scene with a record on it.
    pub(crate) fn on(
        &self,
        happened: &Happened,
        scene: &Scene,
        first: &Scene,
    ) -> Result<Scene, BadInput> {
        happened.on(scene, first).map_err(|error| match error {
            NotTaken::Plan(error) => planning::plan_error(error),
            NotTaken::Wrong(wrong) => self.told(&wrong),
        })
    }

    fn told(&self, wrong: &[Wrong]) -> BadInput {
        let file = self
            .happened
            .as_ref()
            .map_or_else(String::new, |p| format!("{}, ", p.display()));
        let mut text = String::new();
        for w in wrong {
            let hint = did_you_mean(&w.asked, w.known.iter().map(String::as_str))
                .map_or_else(String::new, |n| format!("; did you mean {n}?"));
            let found = format!("{file}{}: {}{hint}", w.at, w.found);
            text.push_str(&BadInput::new(&found, &w.expected, &w.do_now).0);
        }
        text.push_str("Nothing of the record was taken.\n");
        BadInput(text)
    }
}
