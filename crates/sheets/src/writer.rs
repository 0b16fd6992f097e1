//! What every builder of a sheet has in hand: the plan, the words, the codes, the wishes.

use std::collections::BTreeMap;

use kitchen::Id;
use kitchen::recipe::Recipe;
use kitchen::step::{LineItem, Step};
use plan::Plan;
use plan::demand::{Component, Flow};
use plan::timeline::{Status, Timed};
use units::{Mass, Money, Scale, Unweighable};
use words::{Language, Value, Words};

use crate::lots::lot_codes;
use crate::model::{Block, Cell, Column, Kind, Sheet, Size, Table};
use crate::wishes::Wishes;

/// How far a weight on the bench may be off: ±2 %. Common practice, no source.
pub(crate) const TOLERANCE_PCT: f64 = 2.0;

/// The step curing salt is weighed to, grams; its caution says so.
const CURING_STEP_G: f64 = 0.01;

/// Plan, words, codes and wishes.
pub(crate) struct Writer<'a> {
    pub(crate) plan: &'a Plan,
    pub(crate) wishes: &'a Wishes,
    pub(crate) words: Words,
    codes: BTreeMap<Id, String>,
}

/// A step with its recipe, its component and its masses.
#[derive(Clone, Copy)]
pub(crate) struct Place<'a> {
    pub(crate) component: &'a Component,
    pub(crate) recipe: &'a Recipe,
    pub(crate) at: usize,
    pub(crate) step: &'a Step,
    pub(crate) flow: &'a Flow,
}

impl<'a> Writer<'a> {
    pub(crate) fn new(plan: &'a Plan, wishes: &'a Wishes) -> Self {
        Self {
            plan,
            wishes,
            words: Words::of(wishes.language),
            codes: lot_codes(plan),
        }
    }

    pub(crate) fn say(&self, key: &str) -> String {
        self.words.say(key)
    }

    pub(crate) fn say_with(&self, key: &str, with: &[(&str, Value<'_>)]) -> String {
        self.words.say_with(key, with)
    }

    /// Every step of every component, in their order.
    pub(crate) fn places(&self) -> Vec<Place<'a>> {
        let plan = self.plan;
        plan.components
            .iter()
            .filter_map(|c| Some((c, plan.scene.book.recipes.get(&c.recipe)?)))
            .flat_map(|(component, recipe)| {
                recipe.steps.iter().zip(&component.flows).enumerate().map(
                    move |(at, (step, flow))| Place {
                        component,
                        recipe,
                        at,
                        step,
                        flow,
                    },
                )
            })
            .collect()
    }

    /// The step a task belongs to; `None` for work around the cooking.
    pub(crate) fn place_of(&self, task: &Timed) -> Option<Place<'a>> {
        let (component, step) = (
            task.meaning.component.as_ref()?,
            task.meaning.step.as_ref()?,
        );
        self.places()
            .into_iter()
            .find(|p| p.recipe.id == *component && p.step.id == *step)
    }

    /// A lot's code.
    pub(crate) fn code(&self, component: &Id) -> String {
        self.codes
            .get(component)
            .cloned()
            .unwrap_or_else(|| self.say("not-known"))
    }

    /// Every lot's code, in the order of the components.
    pub(crate) fn codes(&self) -> Vec<String> {
        self.plan
            .components
            .iter()
            .map(|c| self.code(&c.recipe))
            .collect()
    }

    /// A component's name as the book has it.
    pub(crate) fn name(&self, component: &Id) -> String {
        self.plan
            .component(component.as_str())
            .map_or_else(|| component.to_string(), |c| c.name.clone())
    }

    /// Name and code: "Dill oil 2TK7QX".
    pub(crate) fn named(&self, component: &Id) -> String {
        format!("{} {}", self.name(component), self.code(component))
    }

    /// A machine's name as the book has it.
    pub(crate) fn machine(&self, id: &Id) -> String {
        self.plan
            .scene
            .site
            .machines
            .iter()
            .find(|m| m.id == *id)
            .map_or_else(|| id.to_string(), |m| m.name.clone())
    }

    /// What a line takes, with how it is used, and whether it is a curing salt.
    pub(crate) fn item(&self, item: &LineItem, form: Option<&str>) -> (String, bool) {
        let (name, curing) = plan::wording::item_name(&self.plan.scene, item);
        let name = match form {
            Some(form) => format!("{}, {form}", item.id().as_str().replace('-', " ")),
            None => name.to_owned(),
        };
        (name, curing)
    }

    /// A role or a group of people: known words in the language of the sheet, others as the book has them.
    pub(crate) fn role(&self, id: &str) -> String {
        let key = format!("role-{id}");
        if self.words.has(&key) {
            self.say(&key)
        } else {
            id.replace('-', " ")
        }
    }

    /// People in few words, roles in the language of the sheet: "learner 1–4, technician".
    pub(crate) fn people(&self, names: &[String]) -> String {
        let names: Vec<String> = names
            .iter()
            .map(|name| match name.rsplit_once(' ') {
                Some((group, n)) if n.parse::<u32>().is_ok() => format!("{} {n}", self.role(group)),
                _ => self.role(name),
            })
            .collect();
        plan::wording::people(&names)
    }

    /// Covers or learners, in words.
    pub(crate) fn covers(&self, n: u32) -> String {
        let word = &self.plan.scene.event.cover_word;
        let key = format!("count-{word}");
        if self.words.has(&key) {
            self.say_with(&key, &[("n", n.into())])
        } else {
            format!("{n} {}", plan::wording::plural(word, f64::from(n)))
        }
    }

    /// The scale for a weight, or that none here will do. Curing salt asks for one that shows 0.01 g.
    pub(crate) fn scale(&self, g: f64, curing: bool) -> String {
        let of = |finest: f64| -> Vec<Scale> {
            let scales = self
                .plan
                .scene
                .site
                .scales
                .iter()
                .filter(|s| s.resolution.g() <= finest);
            scales
                .filter_map(|s| Scale::new(&s.name, s.resolution, s.capacity).ok())
                .collect()
        };
        let Ok(mass) = Mass::grams(g) else {
            return self.say("not-known");
        };
        match units::check(
            mass,
            TOLERANCE_PCT / 100.0,
            &of(if curing { CURING_STEP_G } else { f64::MAX }),
        ) {
            Ok(scale) => self.scale_name(&scale.name),
            Err(Unweighable::OverCapacity {
                largest, capacity, ..
            }) => {
                let most = self.weight(capacity.g(), false);
                let name = self.scale_name(&largest);
                self.say_with(
                    "scale-in-parts",
                    &[("scale", (&name).into()), ("most", (&most).into())],
                )
            }
            Err(Unweighable::NoScale) if curing => self.say("scale-none-fine-enough"),
            Err(Unweighable::TooFine(_)) => self.say("scale-none-fine-enough"),
            Err(
                Unweighable::NoScale
                | Unweighable::BadTolerance { .. }
                | Unweighable::NothingToWeigh,
            ) => self.say("not-known"),
        }
    }

    /// Money as the language writes it: "$211.50", "211,50 $".
    pub(crate) fn money(&self, amount: Money) -> String {
        let sign = &self.plan.scene.site.currency;
        match self.words.language() {
            Language::English => plan::wording::money(sign, amount, 2),
            Language::French => {
                let rounded = units::half_up(amount.amount(), 2);
                self.words.with_unit(&self.words.decimal(rounded, 2), sign)
            }
        }
    }

    /// A scale by its name and finest step: "bench scale (0.1 g)".
    fn scale_name(&self, name: &str) -> String {
        let step = self.plan.scene.site.scales.iter().find(|s| s.name == name);
        step.map_or_else(
            || name.to_owned(),
            |s| {
                let g = self
                    .words
                    .with_unit(&self.words.short(s.resolution.g(), 3), "g");
                format!("{name} ({g})")
            },
        )
    }

    /// Cautions said at a step: its own, and those of the steps after it at which nobody stands to read a paper.
    pub(crate) fn cautions(&self, place: &Place<'_>) -> Vec<Block> {
        let recipe = place.recipe;
        let attended = |id: &Id| {
            self.tasks_of(&recipe.id, id)
                .iter()
                .any(|t| !t.people.is_empty())
        };
        let mut steps = vec![&place.step.id];
        for later in recipe
            .steps
            .iter()
            .skip(place.at + 1)
            .take_while(|s| !attended(&s.id))
        {
            steps.push(&later.id);
        }
        self.plan
            .cautions
            .iter()
            .filter(|p| p.component == recipe.id && steps.contains(&&p.step))
            .map(|p| Block::Caution(self.caution(p.caution.id)))
            .collect()
    }

    /// One caution by its id: what it is about, and what is said.
    pub(crate) fn caution(&self, id: &str) -> String {
        let about = self.say(&format!("caution-{id}-about"));
        let words = self.say(&format!("caution-{id}"));
        self.say_with(
            "caution-line",
            &[("about", (&about).into()), ("words", (&words).into())],
        )
    }

    /// A sheet with its foot.
    pub(crate) fn sheet(
        &self,
        id: &str,
        (kind, size): (Kind, Size),
        (title, under): (String, Vec<String>),
        blocks: Vec<Block>,
        codes: &[String],
    ) -> Sheet {
        Sheet {
            id: id.to_owned(),
            kind,
            size,
            title,
            under,
            blocks: self.warnings(codes).into_iter().chain(blocks).collect(),
            foot: self.foot(codes),
        }
    }

    /// What has to be said before anything else: that the plan has no clock, or that a verdict on one of these lots is broken.
    fn warnings(&self, codes: &[String]) -> Vec<Block> {
        let mut warnings = Vec::new();
        if matches!(
            self.plan.timeline.status,
            Status::Impossible | Status::NotFound
        ) {
            warnings.push(Block::Caution(self.say("no-clock")));
        }
        for v in &self.plan.verdicts {
            let broken = v.judgement.verdict == safety::Verdict::Broken;
            if broken && codes.contains(&self.code(&v.component)) {
                let name = self.named(&v.component);
                warnings.push(Block::Caution(self.say_with(
                    "lot-broken",
                    &[
                        ("name", (&name).into()),
                        ("asks", (&v.judgement.asks).into()),
                        ("next", (&v.judgement.next).into()),
                    ],
                )));
            }
        }
        warnings
    }

    /// Lot codes; event, version of the plan, when it was printed.
    fn foot(&self, codes: &[String]) -> Vec<String> {
        let zone = self.plan.scene.site.zone.clone();
        let printed = self.wishes.printed_at.to_zoned_datetime(zone).datetime();
        let printed = format!(
            "{} {}",
            self.words.dated(printed.date()),
            self.words.hour(printed.time())
        );
        let mut foot = Vec::new();
        if !codes.is_empty() {
            let all = codes.join(" ");
            foot.push(self.say_with(
                "foot-lots",
                &[("n", codes.len().into()), ("codes", (&all).into())],
            ));
        }
        foot.push(self.say_with(
            "foot-plan",
            &[
                ("event", (&self.plan.scene.event.name).into()),
                ("version", (&self.wishes.version).into()),
                ("printed", (&printed).into()),
            ],
        ));
        foot
    }
}

pub(crate) fn text(text: impl Into<String>) -> Cell {
    Cell::Text(text.into())
}

pub(crate) fn number(text: impl Into<String>) -> Cell {
    Cell::Number(text.into())
}

pub(crate) fn strong(text: impl Into<String>) -> Cell {
    Cell::Strong(text.into())
}

impl Writer<'_> {
    /// A table under heads by their keys, each with its share of the width.
    pub(crate) fn table(&self, heads: &[(&str, f64)], rows: Vec<Vec<Cell>>) -> Block {
        Block::Table(Table {
            columns: heads
                .iter()
                .map(|(key, share)| Column {
                    head: self.say(key),
                    share: *share,
                })
                .collect(),
            rows,
        })
    }

    pub(crate) fn heading(&self, key: &str) -> Block {
        Block::Heading(self.say(key))
    }

    pub(crate) fn line(&self, key: &str) -> Block {
        Block::Text(self.say(key))
    }

    pub(crate) fn lines(&self, key: &str, count: usize) -> Block {
        Block::Lines {
            word: self.say(key),
            count,
        }
    }

    /// A word with its value.
    pub(crate) fn fact(&self, key: &str, value: Cell) -> (String, Cell) {
        (self.say(key), value)
    }
}

/// An id made of parts, fit for a file.
pub(crate) fn file(parts: &[&str]) -> String {
    parts
        .join("-")
        .chars()
        .map(|c| {
            if c.is_ascii_alphanumeric() {
                c.to_ascii_lowercase()
            } else {
                '-'
            }
        })
        .collect()
}
