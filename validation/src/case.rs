//! One row of a table: a question, and the answer somebody else gave.

use science::ScienceError;
use thiserror::Error;
use units::QuantityError;

/// The columns every table has, in this order.
const COLUMNS: [&str; 7] = [
    "quantity", "inputs", "value", "unit", "source", "status", "call",
];

/// How far a source may have been read; the same words the report prints.
const STATUSES: [&str; 4] = ["read", "second-hand", "from memory", "computed"];

/// A question with an answer from outside.
#[derive(Debug, Clone, PartialEq)]
pub struct Case {
    /// What is asked, for example `slab_mean`.
    pub quantity: String,
    /// Names and values of what goes in, in the order of the table.
    pub inputs: Vec<(String, String)>,
    /// The answer from outside, in `unit`.
    pub value: f64,
    /// Unit of the answer.
    pub unit: String,
    /// Who says so: library and version, or publication.
    pub source: String,
    /// How far it was read.
    pub status: String,
    /// The call, or the place in the publication.
    pub call: String,
}

/// A table that does not read.
#[derive(Debug, Error)]
pub enum CaseError {
    /// The file is no table of ours.
    #[error("{table}: found {found}; expected {expected}; mend the table or make it again")]
    Table {
        /// Which file.
        table: String,
        /// What stood there.
        found: String,
        /// What should.
        expected: String,
    },
    /// The file is no CSV.
    #[error("{table}: {error}; expected comma-separated rows; make the table again")]
    Csv {
        /// Which file.
        table: String,
        /// What the reader says.
        error: csv::Error,
    },
}

/// Why the science gave no answer.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum Unanswered {
    /// It refused: outside its range, or no such thing.
    #[error(transparent)]
    Refused(#[from] ScienceError),
    /// An input is not there or is no number.
    #[error("input \"{name}\": found {found}; expected a number; mend the row")]
    Input {
        /// Its name.
        name: String,
        /// What stood there.
        found: String,
    },
    /// No module answers this quantity.
    #[error("quantity \"{0}\": nothing here answers it; wire it or take the row out")]
    Unknown(String),
}

impl From<QuantityError> for Unanswered {
    fn from(error: QuantityError) -> Self {
        Self::Refused(error.into())
    }
}

impl Case {
    /// The text of an input.
    #[must_use]
    pub fn text(&self, name: &str) -> Option<&str> {
        self.inputs
            .iter()
            .find(|(key, _)| key == name)
            .map(|(_, value)| value.as_str())
    }

    /// An input that has to be a number.
    ///
    /// # Errors
    /// [`Unanswered::Input`].
    pub fn number(&self, name: &str) -> Result<f64, Unanswered> {
        let found = self.text(name).unwrap_or("nothing");
        found.parse().map_err(|_| Unanswered::Input {
            name: name.to_owned(),
            found: found.to_owned(),
        })
    }

    /// An input that may be left out.
    ///
    /// # Errors
    /// There, but no number.
    pub fn number_or(&self, name: &str, otherwise: f64) -> Result<f64, Unanswered> {
        match self.text(name) {
            None => Ok(otherwise),
            Some(_) => self.number(name),
        }
    }

    /// What nobody answers.
    ///
    /// # Errors
    /// Always: this is the last arm of a match.
    pub fn unknown<T>(&self) -> Result<T, Unanswered> {
        Err(Unanswered::Unknown(self.quantity.clone()))
    }

    /// The inputs as a reader sees them.
    #[must_use]
    pub fn inputs_text(&self) -> String {
        self.inputs
            .iter()
            .map(|(name, value)| format!("{name} {value}"))
            .collect::<Vec<_>>()
            .join(", ")
    }

    /// Reads a table.
    ///
    /// # Errors
    /// Other columns, a value that is no number, a status that is none of ours.
    pub fn read(table: &str, text: &str) -> Result<Vec<Self>, CaseError> {
        let csv_error = |error| CaseError::Csv {
            table: table.to_owned(),
            error,
        };
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let header = reader.headers().map_err(csv_error)?;
        if header.iter().ne(COLUMNS) {
            return Err(CaseError::Table {
                table: table.to_owned(),
                found: format!(
                    "the columns {}",
                    header.iter().collect::<Vec<_>>().join(",")
                ),
                expected: COLUMNS.join(","),
            });
        }
        let mut cases = Vec::new();
        for row in reader.records() {
            let row = row.map_err(csv_error)?;
            let [quantity, inputs, value, unit, source, status, call] =
                std::array::from_fn(|i| row.get(i).unwrap_or_default());
            let wrong = |found: &str, expected: &str| CaseError::Table {
                table: format!("{table}, row {}", cases.len() + 1),
                found: format!("\"{found}\""),
                expected: expected.to_owned(),
            };
            if !STATUSES.contains(&status) {
                return Err(wrong(status, &STATUSES.join(", ")));
            }
            if source.is_empty() || call.is_empty() {
                return Err(wrong("an empty source or call", "who says so, and where"));
            }
            cases.push(Self {
                quantity: quantity.to_owned(),
                inputs: inputs
                    .split(';')
                    .filter(|part| !part.is_empty())
                    .map(|part| part.split_once('=').unwrap_or((part, "")))
                    .map(|(name, value)| (name.to_owned(), value.to_owned()))
                    .collect(),
                value: value
                    .parse()
                    .map_err(|_| wrong(value, "a number in the column value"))?,
                unit: unit.to_owned(),
                source: source.to_owned(),
                status: status.to_owned(),
                call: call.to_owned(),
            });
        }
        Ok(cases)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const HEAD: &str = "quantity,inputs,value,unit,source,status,call\n";

    #[test]
    fn a_row_gives_its_inputs_back() {
        let text = format!("{HEAD}bath,fo=0.1;alpha=2,0.5,1,mpmath 1.4.1,computed,\"a, b\"\n");
        let case = &Case::read("t", &text).unwrap()[0];
        assert_eq!(case.number("fo"), Ok(0.1));
        assert_eq!(case.inputs_text(), "fo 0.1, alpha 2");
        assert_eq!(case.number_or("k", 3.0), Ok(3.0));
        assert!(case.number("k").is_err());
    }

    #[test]
    fn a_bad_table_says_where_and_what() {
        let status = format!("{HEAD}bath,fo=0.1,0.5,1,me,guessed,somewhere\n");
        let said = Case::read("t.csv", &status).unwrap_err().to_string();
        assert!(
            said.starts_with("t.csv, row 1: found \"guessed\"; expected read,"),
            "{said}"
        );
        let value = format!("{HEAD}bath,fo=0.1,half,1,me,read,p. 3\n");
        assert!(Case::read("t.csv", &value).is_err());
        assert!(Case::read("t.csv", "a,b\n1,2\n").is_err());
        let nobody = format!("{HEAD}bath,fo=0.1,0.5,1,,read,p. 3\n");
        assert!(Case::read("t.csv", &nobody).is_err());
    }
}
