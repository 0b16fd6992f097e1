//! How much nitrite goes in, and who allows it?

mod worked;

use kitchen::site::RuleSet;
use safety::Verdict;
use safety::nitrite::{Judgement, NitriteLimit, Product, Standing, Way, judge, limits};
use science::cure::CuringSalt;
use science::nitrite::{self as ingoing, Proportion};
use sources::{Citation, list};
use units::{Mass, Ppm};

use super::answer::Answer;
use super::refusal::Refusal;
use super::salt::{CURING_STEP_G, CUSTODY};
use super::sheet::{Sheet, cite, reading_of};
use worked::worked;

/// Ingoing nitrite below which a cured meat kept refrigerated is queried in the US, ppm.
const LEAST_KEPT_COLD_PPM: f64 = 120.0;

/// The question.
#[derive(Debug, Clone, PartialEq)]
pub struct Nitrite {
    /// Curing salt used.
    pub curing_salt: Mass,
    /// What is in it.
    pub kind: CuringSalt,
    /// Its name.
    pub name: String,
    /// Where its strength is from.
    pub source: Citation,
    /// How it goes in.
    pub how: How,
    /// What is cured; every meat when not said.
    pub product: Option<Product>,
    /// Whose limits; everybody's when empty.
    pub places: Vec<RuleSet>,
}

/// How the cure goes in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum How {
    /// Rubbed on or mixed into the green weight.
    Dry {
        /// Green weight.
        green: Mass,
    },
    /// Injected as pickle.
    Pumped {
        /// The whole pickle, curing salt in it.
        pickle: Mass,
        /// Gain of the piece, a proportion of green weight.
        pump: Proportion,
    },
    /// Laid in pickle a short time: Method One.
    Dipped {
        /// The whole pickle.
        pickle: Mass,
        /// Gain of the piece.
        pick_up: Proportion,
    },
    /// Laid in pickle until even: Method Two.
    Covered {
        /// The whole pickle.
        pickle: Mass,
        /// Green weight.
        green: Mass,
    },
}

impl How {
    fn way(self) -> Way {
        match self {
            Self::Dry { .. } => Way::Dry,
            Self::Pumped { .. } => Way::Pumped,
            Self::Dipped { .. } | Self::Covered { .. } => Way::Immersed,
        }
    }
}

/// One limit, judged.
struct Row {
    id: String,
    limit: NitriteLimit,
    judged: Judgement,
}

/// Answers it.
///
/// # Errors
/// Figures that cannot be: more curing salt than pickle, no meat.
pub fn nitrite(ask: &Nitrite) -> Result<Answer, Refusal> {
    if ask.curing_salt <= Mass::ZERO {
        return Err(Refusal::new(
            "found 0 g of curing salt",
            "more than nothing",
            "weigh it; without any there is nothing to judge",
        ));
    }
    let mut sheet = Sheet::default();
    sheet.entered("curing", ask.curing_salt.g(), "g");
    sheet.cited(
        "curing.nitrite",
        ask.kind.nitrite_ratio() * 100.0,
        "%",
        &ask.source,
    );
    let (ppm, way) = worked(ask, &mut sheet)?;
    let ion = ingoing::as_ion(ppm)?;
    sheet.known(
        "ion_of_salt",
        ingoing::ION_OF_SALT,
        "",
        &list::ATOMIC,
        "46.005 ÷ 68.995",
    );
    sheet.worked(
        "ion",
        ion.ppm(),
        "mg/kg",
        1,
        "nitrite × ion of salt",
        &["nitrite", "ion_of_salt"],
    );

    let rows = judged(ask, ppm, ion, &mut sheet);
    if rows.is_empty() {
        return Err(Refusal::new(
            "found no limit for that product in that place among those known here",
            "a product and place with a limit",
            "ask the authority there; without --place every place known is listed",
        ));
    }
    let details = rows.iter().map(|row| line(row, &sheet)).collect();
    let mut small = vec![("way", way)];
    if ask.product.is_none_or(is_meat) && ppm.ppm() < LEAST_KEPT_COLD_PPM {
        sheet.known(
            "least",
            LEAST_KEPT_COLD_PPM,
            "ppm NaNO2",
            &list::FSIS_CALC,
            "p. 12",
        );
        small.push(("least", format!(
            "US inspection expects {} or more in cured meat marked keep refrigerated (second-hand)",
            sheet.show("least")
        )));
    }
    small.push((
        "curing",
        format!(
            "{}: {} nitrite. {}",
            ask.name,
            sheet.show("curing.nitrite"),
            cite(&ask.source)
        ),
    ));
    if ask.kind.nitrate_ratio() > 0.0 {
        small.push((
            "nitrate",
            "this curing salt holds nitrate too, which is not judged here: ask your authority"
                .to_owned(),
        ));
    }
    small.push(("custody", CUSTODY.to_owned()));
    small.extend(sources(&rows));
    Ok(Answer {
        question: "nitrite",
        answer: format!(
            "{} ingoing  ({} as nitrite ion)",
            sheet.show("nitrite"),
            sheet.show("ion")
        ),
        limit: tightest(&rows, &sheet),
        next: next(ask, &rows, &mut sheet),
        details,
        small,
        verdict: Some(Verdict::worst(rows.iter().map(|r| r.judged.verdict))),
        main: "nitrite",
        figures: sheet.figures,
    })
}

fn is_meat(product: Product) -> bool {
    !matches!(product, Product::NamedFish | Product::OtherFish)
}

fn judged(ask: &Nitrite, ppm: Ppm, ion: Ppm, sheet: &mut Sheet) -> Vec<Row> {
    let way = ask.how.way();
    let wanted = |limit: &NitriteLimit| {
        let product = match ask.product {
            Some(product) => limit.of.contains(&product),
            None => limit.of.iter().any(|p| is_meat(*p)),
        };
        product
            && limit.by.contains(&way)
            && (ask.places.is_empty() || ask.places.contains(&limit.place))
    };
    let mut rows = Vec::new();
    for (i, limit) in limits().into_iter().enumerate().filter(|(_, l)| wanted(l)) {
        let Some(judged) = judge(&limit, ppm, ion) else {
            continue;
        };
        let id = format!("{}.{}", limit.place.word(), i + 1);
        sheet.known(
            &format!("{id}.limit"),
            judged.limit,
            judged.unit,
            limit.source,
            limit.product,
        );
        let value = if limit.ppm_nano2.is_some() {
            "nitrite"
        } else {
            "ion"
        };
        sheet.worked(
            &format!("{id}.margin"),
            judged.margin.abs(),
            "",
            if limit.ppm_nano2.is_some() { 2 } else { 1 },
            if judged.margin < 0.0 {
                "figure − limit"
            } else {
                "limit − figure"
            },
            &[value, &format!("{id}.limit")],
        );
        rows.push(Row { id, limit, judged });
    }
    rows
}

/// How a row stands, in words: "within, 50.00 left".
fn stands(row: &Row, sheet: &Sheet) -> String {
    let margin = sheet.bare(&format!("{}.margin", row.id));
    match row.judged.standing {
        Standing::Within => format!("within, {margin} left"),
        Standing::Above => format!("above by {margin}"),
    }
}

fn line(row: &Row, sheet: &Sheet) -> String {
    format!(
        "{:<9}{:<31}{:>16}   {:<21}{}",
        place_name(row.limit.place),
        row.limit.product,
        sheet.show(&format!("{}.limit", row.id)),
        stands(row, sheet),
        row.judged.verdict,
    )
}

/// Figure over limit: above 1 when broken. The tightest row has the highest.
fn used(row: &Row) -> f64 {
    if row.judged.limit > 0.0 {
        row.judged.value / row.judged.limit
    } else {
        f64::INFINITY
    }
}

fn tightest_row(rows: &[Row]) -> Option<&Row> {
    rows.iter().max_by(|a, b| used(a).total_cmp(&used(b)))
}

/// A row by name: "EU, most meat products".
fn named(row: &Row) -> String {
    format!("{}, {}", place_name(row.limit.place), row.limit.product)
}

fn place_name(place: RuleSet) -> &'static str {
    match place {
        RuleSet::Us => "US",
        RuleSet::Canada => "Canada",
        RuleSet::England => "England",
        RuleSet::Eu => "EU",
    }
}

fn tightest(rows: &[Row], sheet: &Sheet) -> String {
    let Some(row) = tightest_row(rows) else {
        return String::new();
    };
    let tight = format!(
        "{}: {}, {}",
        named(row),
        sheet.show(&format!("{}.limit", row.id)),
        stands(row, sheet)
    );
    let others: Vec<String> = rows
        .iter()
        .filter(|r| r.judged.verdict == Verdict::Broken && r.id != row.id)
        .map(named)
        .collect();
    match (row.judged.verdict, others.as_slice()) {
        (Verdict::Broken, []) => format!("BROKEN in {tight}"),
        (Verdict::Broken, _) => format!("BROKEN in {tight}; and in {}", others.join("; ")),
        _ => format!("no limit broken; the tightest is {tight}"),
    }
}

/// What to do: the curing salt or the pump that keeps within the tightest limit, or how to go on.
fn next(ask: &Nitrite, rows: &[Row], sheet: &mut Sheet) -> String {
    let Some(row) = tightest_row(rows) else {
        return String::new();
    };
    if row.judged.limit <= 0.0 {
        return "leave the curing salt out: it is not permitted there".to_owned();
    }
    let limit_id = format!("{}.limit", row.id);
    let value = if row.limit.ppm_nano2.is_some() {
        "nitrite"
    } else {
        "ion"
    };
    // Downwards to what a scale shows: rounding up would pass the limit.
    let most = (ask.curing_salt.g() / used(row) * 100.0 + 1e-9).floor() / 100.0;
    let from = ["curing", &limit_id, value];
    sheet.worked(
        "most",
        most,
        "g",
        2,
        "curing salt × limit ÷ figure, rounded down",
        &from,
    );
    sheet.known("step.curing", CURING_STEP_G, "g", &list::PRACTICE, "");
    let mut text = match row.judged.standing {
        Standing::Above => {
            format!(
                "use at most {} of this curing salt to keep within {}",
                sheet.show("most"),
                named(row)
            )
        }
        Standing::Within => format!(
            "weigh the curing salt twice, in steps of {}, log who; have your authority confirm the limit",
            sheet.show("step.curing")
        ),
    };
    if let How::Pumped { pump, .. } = ask.how {
        let most = (pump.ratio() / used(row) * 1000.0 + 1e-9).floor() / 10.0;
        let from = ["pump", &limit_id, value];
        sheet.worked(
            "pump.most",
            most,
            "%",
            1,
            "pump × limit ÷ figure, rounded down",
            &from,
        );
        let or = if row.judged.standing == Standing::Above {
            "or "
        } else {
            ""
        };
        text.push_str(&format!(
            "; {or}pump no piece above {} with this pickle: weigh each before and after, hold back any above",
            sheet.show("pump.most")
        ));
    }
    if row.judged.standing == Standing::Above && ask.places.is_empty() {
        text.push_str("; name your place with --place to be judged by it alone");
    }
    text
}

fn sources(rows: &[Row]) -> Vec<(&'static str, String)> {
    let mut told: Vec<&str> = Vec::new();
    let mut small = Vec::new();
    for row in rows {
        let notes: Vec<String> = rows
            .iter()
            .filter(|r| r.limit.source.key == row.limit.source.key && !r.limit.note.is_empty())
            .map(|r| format!("{}: {}", r.limit.product, r.limit.note))
            .collect();
        if told.contains(&row.limit.source.key) {
            continue;
        }
        told.push(row.limit.source.key);
        let notes = if notes.is_empty() {
            String::new()
        } else {
            format!(". {}", notes.join("; "))
        };
        small.push((
            place_name(row.limit.place),
            format!("{}{notes}", reading_of(row.limit.source)),
        ));
    }
    small
}

#[cfg(test)]
mod tests {
    use super::*;

    fn loin(pump: f64) -> Nitrite {
        Nitrite {
            curing_salt: Mass::grams(42.0).unwrap(),
            kind: CuringSalt::NO_1,
            name: "curing salt, no. 1".to_owned(),
            source: Citation::whole(&list::PRACTICE),
            how: How::Pumped {
                pickle: Mass::grams(1750.0).unwrap(),
                pump: Proportion::new(pump).unwrap(),
            },
            product: Some(Product::WholeMuscle),
            places: vec![],
        }
    }

    /// A pumped loin worked by hand: 150.0 ppm passes in the US and Canada and is 100.0 as ion, above
    /// the EU's 80. A piece that took 14 % is at 210, above 200; the most it may take is 13.3 %.
    #[test]
    fn one_pickle_is_judged_in_every_place() {
        let mut ask = loin(0.10);
        let answer = nitrite(&ask).unwrap();
        assert_eq!(
            answer.answer,
            "150.00 ppm NaNO2 ingoing  (100.0 mg/kg as nitrite ion)"
        );
        assert_eq!(answer.verdict, Some(Verdict::Broken));
        assert!(
            answer
                .limit
                .starts_with("BROKEN in EU, most meat products:"),
            "{}",
            answer.limit
        );
        ask.places = vec![RuleSet::Us];
        let us = nitrite(&ask).unwrap();
        assert_eq!(
            us.verdict,
            Some(Verdict::NotShown),
            "the limit was not read"
        );
        assert!((us.figures.number("pump.most").unwrap() - 13.3).abs() < 1e-9);
        let thick = nitrite(&Nitrite {
            places: vec![RuleSet::Us],
            ..loin(0.14)
        })
        .unwrap();
        assert_eq!(thick.verdict, Some(Verdict::Broken));
    }

    /// England's limit was read, and weights that were typed in show nothing all the same (decision 0006).
    #[test]
    fn typed_weights_show_nothing() {
        let ask = Nitrite {
            places: vec![RuleSet::England],
            ..loin(0.10)
        };
        assert_eq!(nitrite(&ask).unwrap().verdict, Some(Verdict::NotShown));
    }

    #[test]
    fn the_most_curing_salt_keeps_within() {
        let ask = Nitrite {
            places: vec![RuleSet::Eu],
            ..loin(0.10)
        };
        let most = nitrite(&ask).unwrap().figures.number("most").unwrap();
        let again = Nitrite {
            curing_salt: Mass::grams(most).unwrap(),
            ..ask
        };
        assert_ne!(nitrite(&again).unwrap().verdict, Some(Verdict::Broken));
    }

    #[test]
    fn char_takes_no_nitrite_in_the_us() {
        let ask = Nitrite {
            product: Some(Product::OtherFish),
            places: vec![RuleSet::Us],
            ..loin(0.10)
        };
        let answer = nitrite(&ask).unwrap();
        assert_eq!(answer.verdict, Some(Verdict::Broken));
        assert!(answer.next.starts_with("leave the curing salt out"));
        assert!(
            nitrite(&Nitrite {
                places: vec![RuleSet::Eu],
                ..ask
            })
            .is_err()
        );
    }
}
