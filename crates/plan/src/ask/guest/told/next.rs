//! Line 3: what to do, in the order of the work.

use super::asks_pregnancy;
use super::head::refused;
use super::names::{and, label_of, plain, said, short};
use crate::allergens::{Cause, Diet, State};
use crate::ask::guest::dish::{DishAnswer, Stand, SwapAnswer, enough};
use crate::ask::guest::{Guest, Matter};
use crate::figures::number;
use crate::scene::Scene;

/// Float noise in grams that is not a shortage.
const NOISE_G: f64 = 1e-6;

/// What has to be found out about one thing, and about which ingredients.
struct Inquiry {
    lead: &'static str,
    about: String,
    names: Vec<String>,
}

/// What has to be found out, the same thing about several ingredients in one breath.
#[derive(Default)]
struct Inquiries(Vec<Inquiry>);

impl Inquiries {
    fn add(&mut self, scene: &Scene, matter: Matter, cause: &Cause) {
        let lead = match matter {
            Matter::Allergen(_) => "read the label of the",
            Matter::Diet(Diet::Pregnancy) => "tell the guest of the",
            Matter::Diet(_) => "ask the guest or read about the",
        };
        // The jar is read; the guest is told of the food.
        let name = match matter {
            Matter::Diet(Diet::Pregnancy) => said(scene, &cause.item),
            _ => label_of(scene, cause),
        };
        match self
            .0
            .iter_mut()
            .find(|i| i.lead == lead && i.about == cause.said)
        {
            Some(i) if !i.names.contains(&name) => i.names.push(name),
            Some(_) => {}
            None => self.0.push(Inquiry {
                lead,
                about: cause.said.clone(),
                names: vec![name],
            }),
        }
    }

    fn told(&self) -> Vec<String> {
        self.0
            .iter()
            .map(|i| {
                let link = if i.lead.starts_with("read") {
                    " for "
                } else {
                    ": "
                };
                format!("{} {}{link}{}", i.lead, and(&i.names, "and"), i.about)
            })
            .collect()
    }
}

/// All of it for all dishes.
pub(super) fn next(scene: &Scene, asked: &Guest, dishes: &[DishAnswer]) -> Vec<String> {
    let mut all = Vec::new();
    for d in dishes {
        if refused(d) {
            let lead = if asks_pregnancy(asked) {
                "have another plate to offer"
            } else {
                "another plate for this guest"
            };
            all.push(format!(
                "{lead}; what stays of this one is the chef's to put together"
            ));
        }
        all.extend(of_dish(scene, asked, d));
    }
    let mut told: Vec<String> = Vec::new();
    for line in all {
        if !told.contains(&line) {
            told.push(line);
        }
    }
    if dishes.iter().any(|d| !refused(d)) {
        if asked
            .without
            .iter()
            .any(|m| matches!(m, Matter::Allergen(_)))
        {
            told.push(
                "this plate before any other: clean bowl, board and spoon, washed hands".to_owned(),
            );
        }
        told.push(ticket(asked));
    }
    told
}

/// When the swap of a part that might stay comes in.
fn otherwise(asked: &Guest) -> &'static str {
    if asks_pregnancy(asked) {
        "if the guest would rather not, "
    } else if asked.without.iter().any(|m| matches!(m, Matter::Diet(_))) {
        "if the guest says no or nobody can tell, "
    } else {
        "if it has it or nobody can tell, "
    }
}

fn of_dish(scene: &Scene, asked: &Guest, d: &DishAnswer) -> Vec<String> {
    let (mut first, mut last) = (Vec::new(), Vec::new());
    let mut open = Inquiries::default();
    for p in d.parts.iter().filter(|p| p.stand != Stand::Stays) {
        let name = short(&p.name, &d.parts);
        for (m, _, causes) in &p.matters {
            let tells = *m == Matter::Diet(Diet::Pregnancy);
            for c in causes {
                if c.state < State::Contains || tells {
                    open.add(scene, *m, c);
                }
            }
        }
        let sure = p.stand != Stand::Read;
        match &p.swap {
            Some(s) => {
                let lead = if sure { "" } else { otherwise(asked) };
                let last_word = if s.state == State::Free {
                    ""
                } else {
                    ", once its own label is read"
                };
                let mut words = format!(
                    "{lead}in place of the {name}{last_word}: {}",
                    swap_words(scene, s)
                );
                if !enough(s, asked.plates) {
                    words.push_str(&format!("; {}", short_of(scene, s, asked.plates)));
                }
                if sure {
                    first.push(words);
                } else {
                    last.push(words);
                }
                for (m, c) in &s.causes {
                    open.add(scene, *m, c);
                }
            }
            None if sure && p.can_be_left_out => {
                first.push(format!("leave the {name} off, the book names no swap"));
            }
            None => {}
        }
    }
    first.extend(open.told());
    first.extend(last);
    first
}

/// "dill oil and fennel liquor, 3 : 1, 12 g a plate (9.0 g dill oil + …)".
fn swap_words(scene: &Scene, s: &SwapAnswer) -> String {
    let parts: Vec<String> = s
        .swap
        .mix
        .iter()
        .zip(&s.grams)
        .map(|(m, g)| {
            let form = m
                .form
                .as_ref()
                .map_or_else(String::new, |f| format!(", the {f}"));
            format!("{} g {}{form}", number(*g, 1), plain(scene, m.item.id()))
        })
        .collect();
    let what = s.swap.what.as_ref().map_or_else(String::new, |w| {
        let mut letters = w.chars();
        let first = letters.next().map(|c| c.to_lowercase().to_string());
        format!(", {}{}", first.unwrap_or_default(), letters.as_str())
    });
    format!(
        "{}, {} g a plate ({}){what}",
        s.swap.name,
        number(s.swap.portion.g(), 1),
        parts.join(" + ")
    )
}

fn short_of(scene: &Scene, s: &SwapAnswer, plates: u32) -> String {
    let lacks: Vec<String> = s
        .swap
        .mix
        .iter()
        .zip(s.grams.iter().zip(&s.spare_g))
        .filter_map(|(m, (g, spare))| {
            let lack = g * f64::from(plates) - (*spare)?;
            (lack > NOISE_G).then(|| {
                format!(
                    "{} g more {} than is over",
                    number(lack, 1),
                    plain(scene, m.item.id())
                )
            })
        })
        .collect();
    format!("that takes {}: make it", lacks.join(" and "))
}

fn ticket(asked: &Guest) -> String {
    let seat = asked
        .seat
        .as_ref()
        .map_or_else(|| "seat to be named".to_owned(), |s| format!("seat {s}"));
    format!(
        "ticket × {}, {seat}, tagged; write down who told whom",
        asked.plates
    )
}
