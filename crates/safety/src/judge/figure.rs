//! From a row of the rules and what was found to a judgement.

use sources::Source;

use super::{Refusal, Terms};
use crate::judgement::{Evidence, Holds, Judgement, Side};
use crate::rules::{self, Detail, Force, Rule, RuleTable};
use crate::verdict::Verdict;

/// A row, and whether it is the place's own.
#[derive(Debug, Clone)]
pub(crate) struct Row {
    pub(crate) rule: &'static Rule,
    pub(crate) source: &'static Source,
    pub(crate) holds: Holds,
    /// What has to be said of the row beside any verdict.
    caution: Option<String>,
}

/// The row with this id, for the place and state asked about.
///
/// # Errors
/// Rules that do not hold together; no such row.
pub(crate) fn row(id: &str, terms: &Terms) -> Result<Row, Refusal> {
    let rules = rules::shipped().map_err(|e| Refusal::Rules(e.clone()))?;
    let missing = |what| Refusal::Row {
        id: id.to_owned(),
        what,
    };
    let rule = rules.find(id).ok_or_else(|| missing("row"))?;
    let source = rules::source(id).ok_or_else(|| missing("source"))?;
    let place = terms.place;
    let state = rule.region.as_deref();
    let here = rule.holds_in(place);
    let in_state = state.is_none_or(|all| {
        terms
            .state
            .is_some_and(|t| all.split(", ").any(|one| one == t.word()))
    });
    let whose = state.unwrap_or(rule.place.word());
    let stand_in = |of: &str| {
        format!(
            "no rule of {of} is known here; stand-in: that of {whose}; verify with your authority"
        )
    };
    let (holds, caution) = match (here, in_state, rule.force) {
        (true, true, _) => (Holds::Here, rule.caution().map(str::to_owned)),
        (true, false, Force::StateLaw) => {
            let of = terms.state.map_or(place.word(), |s| s.word());
            (Holds::StandIn, Some(stand_in(of)))
        }
        (true, false, _) => (
            Holds::AsGuidance,
            Some(format!(
                "a rule of {whose}, guidance elsewhere: ask your authority which holds"
            )),
        ),
        (false, _, _) => (Holds::StandIn, Some(stand_in(place.word()))),
    };
    Ok(Row {
        rule,
        source,
        holds,
        caution,
    })
}

/// The table with this id.
///
/// # Errors
/// As [`row`].
pub(crate) fn table(id: &str) -> Result<&'static RuleTable, Refusal> {
    let rules = rules::shipped().map_err(|e| Refusal::Rules(e.clone()))?;
    rules.table(id).ok_or_else(|| Refusal::Row {
        id: id.to_owned(),
        what: "table",
    })
}

impl Row {
    pub(crate) fn missing(&self, what: &'static str) -> Refusal {
        Refusal::Row {
            id: self.rule.id.clone(),
            what,
        }
    }

    /// Limit, °C.
    pub(crate) fn limit_c(&self) -> Result<f64, Refusal> {
        self.rule
            .limit_c()
            .ok_or_else(|| self.missing("limit in degrees"))
    }

    /// Limit in the row's own unit.
    pub(crate) fn value(&self) -> Result<f64, Refusal> {
        self.rule.value.ok_or_else(|| self.missing("value"))
    }

    /// A further number.
    pub(crate) fn number(&self, key: &'static str) -> Result<f64, Refusal> {
        self.rule.number(key).ok_or_else(|| self.missing(key))
    }

    /// A number among what else must hold.
    pub(crate) fn required(&self, key: &'static str) -> Result<f64, Refusal> {
        match self.rule.requires.get(key) {
            Some(Detail::Number(number)) => Ok(*number),
            _ => Err(self.missing(key)),
        }
    }

    /// A verdict as far as this row can carry it.
    pub(crate) fn carried(&self, verdict: Verdict) -> Verdict {
        if self.holds == Holds::StandIn || !self.source.status.may_show() {
            verdict.min(Verdict::NotShown)
        } else {
            verdict
        }
    }

    /// `next`, with what has to be said of the row.
    pub(crate) fn cautioned(&self, next: String) -> String {
        match &self.caution {
            Some(caution) => format!("{next}; {caution}"),
            None => next,
        }
    }
}

/// What was found, before the row is asked how far it carries.
#[derive(Debug, Clone)]
pub(crate) struct Finding {
    pub(crate) rule: &'static str,
    pub(crate) asks: String,
    pub(crate) verdict: Verdict,
    pub(crate) value: Option<f64>,
    pub(crate) limit: f64,
    pub(crate) side: Side,
    pub(crate) unit: &'static str,
    /// What the value is counted on.
    pub(crate) base: String,
    pub(crate) place: String,
    /// The readings that decided it.
    pub(crate) evidence: Vec<Evidence>,
    /// What to do when it is broken.
    pub(crate) mend: &'static str,
    /// What is lacking, when something is.
    pub(crate) lacking: Option<String>,
}

impl Finding {
    /// The judgement, no better than its row can carry.
    pub(crate) fn against(self, row: &Row) -> Judgement {
        let verdict = row.carried(self.verdict);
        let next = match (verdict, self.lacking) {
            (Verdict::Broken, _) => self.mend.to_owned(),
            (Verdict::NotShown, Some(lacking)) => format!("complete the evidence: {lacking}"),
            (Verdict::NotShown, None) if row.source.status.may_show() => {
                "the readings meet the figure, which is not known to hold here".to_owned()
            }
            (Verdict::NotShown, None) => {
                "the readings meet the figure; the figure itself is not read".to_owned()
            }
            (Verdict::Shown, _) => "keep the log with the batch papers".to_owned(),
        };
        Judgement {
            rule: self.rule,
            asks: self.asks,
            verdict,
            value: self.value,
            limit: Some(self.limit),
            unit: self.unit,
            margin: self.value.map(|v| self.side.margin(v, self.limit)),
            base: self.base,
            place: self.place,
            evidence: self.evidence,
            source: row.source,
            holds: row.holds,
            next: row.cautioned(next),
        }
    }
}

/// The verdict of a rule that is broken or not, as far as everything it asks was read.
pub(crate) fn verdict(broken: bool, lacking: Option<&String>) -> Verdict {
    match (broken, lacking) {
        (true, _) => Verdict::Broken,
        (false, Some(_)) => Verdict::NotShown,
        (false, None) => Verdict::Shown,
    }
}
