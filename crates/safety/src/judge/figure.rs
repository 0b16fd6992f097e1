//! From a row of the rules and what was found to a judgement.

use kitchen::site::RuleSet;
use sources::Source;

use super::Refusal;
use crate::judgement::{Judgement, Side};
use crate::rules::{self, Rule, RuleTable};
use crate::verdict::Verdict;

/// A row, and whether it is the place's own.
#[derive(Debug, Clone, Copy)]
pub(super) struct Row {
    pub(super) rule: &'static Rule,
    pub(super) source: &'static Source,
    /// The place has no row of its own: another's stands in, and can break but never show.
    stand_in: Option<RuleSet>,
}

/// The row with this id, for a place.
///
/// # Errors
/// Rules that do not hold together; no such row.
pub(super) fn row(id: &str, place: RuleSet) -> Result<Row, Refusal> {
    let rules = rules::shipped().map_err(|e| Refusal::Rules(e.clone()))?;
    let missing = |what| Refusal::Row {
        id: id.to_owned(),
        what,
    };
    let rule = rules.find(id).ok_or_else(|| missing("row"))?;
    let source = rules::source(id).ok_or_else(|| missing("source"))?;
    Ok(Row {
        rule,
        source,
        stand_in: (!rule.holds_in(place)).then_some(place),
    })
}

/// The table with this id.
///
/// # Errors
/// As [`row`].
pub(super) fn table(id: &str) -> Result<&'static RuleTable, Refusal> {
    let rules = rules::shipped().map_err(|e| Refusal::Rules(e.clone()))?;
    rules.table(id).ok_or_else(|| Refusal::Row {
        id: id.to_owned(),
        what: "table",
    })
}

impl Row {
    fn missing(&self, what: &'static str) -> Refusal {
        Refusal::Row {
            id: self.rule.id.clone(),
            what,
        }
    }

    /// Limit, °C.
    pub(super) fn limit_c(&self) -> Result<f64, Refusal> {
        self.rule
            .limit_c()
            .ok_or_else(|| self.missing("limit in degrees"))
    }

    /// Limit in the row's own unit.
    pub(super) fn value(&self) -> Result<f64, Refusal> {
        self.rule.value.ok_or_else(|| self.missing("value"))
    }

    /// A further number.
    pub(super) fn number(&self, key: &'static str) -> Result<f64, Refusal> {
        self.rule.number(key).ok_or_else(|| self.missing(key))
    }

    /// A verdict as far as this row can carry it.
    fn carried(&self, verdict: Verdict) -> Verdict {
        if self.stand_in.is_some() || !self.source.status.may_show() {
            verdict.min(Verdict::NotShown)
        } else {
            verdict
        }
    }

    /// What must be said of the row beside any verdict.
    fn caution(&self) -> Option<String> {
        self.stand_in
            .map(|place| {
                format!(
                    "no row of {} is known, the one of {} stands in: verify with your authority",
                    place.word(),
                    self.rule.place.word()
                )
            })
            .or_else(|| self.rule.caution().map(str::to_owned))
    }
}

/// What was found, before the row is asked how far it carries.
#[derive(Debug, Clone)]
pub(super) struct Finding {
    pub(super) rule: &'static str,
    pub(super) asks: String,
    pub(super) verdict: Verdict,
    pub(super) value: Option<f64>,
    pub(super) limit: f64,
    pub(super) side: Side,
    pub(super) unit: &'static str,
    pub(super) place: String,
    /// What to do when it is broken.
    pub(super) mend: &'static str,
    /// What is lacking, when something is.
    pub(super) lacking: Option<String>,
}

impl Finding {
    /// The judgement, no better than its row can carry.
    pub(super) fn against(self, row: &Row) -> Judgement {
        let verdict = row.carried(self.verdict);
        let next = match (verdict, self.lacking) {
            (Verdict::Broken, _) => self.mend.to_owned(),
            (Verdict::NotShown, Some(lacking)) => format!("complete the evidence: {lacking}"),
            (Verdict::NotShown, None) => {
                "the readings meet the figure; the figure itself is not read".to_owned()
            }
            (Verdict::Shown, _) => "keep the log with the batch papers".to_owned(),
        };
        let next = match row.caution() {
            Some(caution) => format!("{next}; {caution}"),
            None => next,
        };
        Judgement {
            rule: self.rule,
            asks: self.asks,
            verdict,
            value: self.value,
            limit: Some(self.limit),
            unit: self.unit,
            margin: self.value.map(|v| self.side.margin(v, self.limit)),
            place: self.place,
            source: row.source,
            next,
        }
    }
}
