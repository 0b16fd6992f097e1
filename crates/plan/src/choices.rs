//! What to say aloud, each with two or three legal ways out.

mod amounts;

use kitchen::recipe::Recipe;
use kitchen::step::Step;

use crate::figures::{money, number};
use crate::scene::Scene;
use crate::timeline::{Status, wall};
use crate::whole::Plan;

/// A finding and its ways out.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// What is so, with its number.
    pub finding: String,
    /// Facts it rests on, when they are not said above.
    pub because: Vec<String>,
    /// Ways out.
    pub ways: Vec<String>,
}

/// Everything about a plan that asks for a decision.
pub(crate) fn choices(plan: &Plan, first: &Scene) -> Vec<Choice> {
    let mut all = Vec::new();
    impossible(plan, &mut all);
    ready(plan, &mut all);
    amounts::broken(plan, &mut all);
    unlikely(plan, first, &mut all);
    short(plan, &mut all);
    amounts::order_short(plan, &mut all);
    amounts::lines_short(plan, &mut all);
    amounts::unpaid(plan, &mut all);
    thick(plan, &mut all);
    disagree(plan, &mut all);
    late(plan, first, &mut all);
    stays(plan, &mut all);
    scales(plan, &mut all);
    held_back(plan, &mut all);
    over_budget(plan, &mut all);
    all
}

/// Parts that come ready: nothing of them is in this plan.
fn ready(plan: &Plan, all: &mut Vec<Choice>) {
    for id in &plan.scene.ready {
        all.push(Choice {
            because: Vec::new(),
            finding: format!(
                "{id} comes ready: no weight, cost, evidence or allergens of it are in this plan"
            ),
            ways: vec![
                "ask the supplier for its label, its lot and the temperatures it had".to_owned(),
                "until its label is read, its allergens are unknown: tell the guests so".to_owned(),
            ],
        });
    }
}

/// A yield or a weight far outside what the book has seen: more often a slip at the scale than news.
fn unlikely(plan: &Plan, first: &Scene, all: &mut Vec<Choice>) {
    /// Beyond the book's low and high by this part of them.
    const BEYOND: f64 = 0.05;
    for c in &plan.components {
        let Some(written) = first.book.recipes.get(&c.recipe) else {
            continue;
        };
        for (step, flow) in written.steps.iter().zip(&c.flows) {
            let name = format!("{}.{}", c.recipe, step.id);
            let said = |s: &crate::Setting| {
                s.key == format!("{name}.yield") || s.key == format!("{name}.weighed")
            };
            let inflow = if flow.in_g > 0.0 {
                flow.in_g
            } else {
                flow.base_g
            };
            if inflow <= 0.0 || !plan.scene.facts.iter().any(said) {
                continue;
            }
            let got = flow.out_g / inflow;
            let (low, high) = (step.yields.low, step.yields.high);
            if got >= low * (1.0 - BEYOND) && got <= high * (1.0 + BEYOND) {
                continue;
            }
            let seen = if low < high {
                format!("{} to {}", number(low, 2), number(high, 2))
            } else {
                number(step.yields.mean, 2)
            };
            all.push(Choice {
                because: Vec::new(),
                finding: format!(
                    "{name} gives {} of what goes in; the book has {seen}",
                    number(got, 2)
                ),
                ways: vec![
                    "weigh again, what went in too: a wrong unit, a tare left on, a tray left out?"
                        .to_owned(),
                    "if it is so, the plan stands on it; write down why".to_owned(),
                ],
            });
        }
    }
}

/// Made less than is wanted: smaller portions, fewer plates, or one more piece.
fn short(plan: &Plan, all: &mut Vec<Choice>) {
    for c in &plan.components {
        let Some(portion) = c.portion_g else { continue };
        // Half a gram a portion is below every bench scale's patience.
        if c.made_g >= c.served_need_g - 0.05 * c.portions {
            continue;
        }
        let made = c.made_g / portion;
        let mut ways = vec![
            format!(
                "{} g a portion on all {}",
                number(c.made_g / c.portions, 1),
                number(c.portions, 0)
            ),
            format!(
                "{} portions of {} g",
                number((made + 0.05).floor(), 0),
                number(portion, 0)
            ),
        ];
        if let Some(start) = &c.start
            && let Some(line) = plan.order.iter().find(|l| l.item == start.item)
        {
            let extra = line
                .pack_g
                .filter(|_| line.per_kg)
                .map_or(1.0, |g| g / 1000.0);
            let missing = (c.served_need_g - c.made_g) / c.made_g * start.used_g;
            let more = line.pack_g.map_or(1.0, |g| {
                crate::demand::up_to(missing / g, Some(1.0)).max(1.0)
            });
            let price = units::decimal(extra * more)
                .ok()
                .and_then(|d| line.price.times(d).ok());
            if let Some(price) = price.filter(|_| more.is_finite() && !line.by_weight) {
                let how_many = if more < 1.5 {
                    "one".to_owned()
                } else {
                    number(more, 0)
                };
                ways.push(format!(
                    "{how_many} more {}: +{}{}",
                    line.word, plan.scene.site.currency, price
                ));
            }
        }
        all.push(Choice {
            because: Vec::new(),
            finding: format!(
                "{}: {} portions of {} g for {} wanted",
                c.name,
                number(made, 1),
                number(portion, 0),
                number(c.portions, 0)
            ),
            ways,
        });
    }
}

fn with_piece(recipe: &Recipe) -> Option<(&Step, f64)> {
    recipe
        .steps
        .iter()
        .find_map(|s| s.piece.as_ref().map(|p| (s, p.time_factor())))
        .filter(|(_, k)| (k - 1.0).abs() > 1e-9)
}

/// Whether a step heats or cools its pieces by a programme of which no stretch goes by thickness.
fn goes_by_the_clock(step: &Step) -> bool {
    let mut heats = step.programme.iter().filter(|s| s.air.is_some()).peekable();
    heats.peek().is_some() && heats.all(|s| !s.by_thickness)
}

/// Thicker pieces than written: time by the square, or cut; never just an hour more.
fn thick(plan: &Plan, all: &mut Vec<Choice>) {
    for c in &plan.components {
        let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else {
            continue;
        };
        let Some((step, factor)) = with_piece(recipe) else {
            continue;
        };
        let Some(piece) = &step.piece else { continue };
        let measured = piece.measured.unwrap_or(piece.thickness).mm();
        let written = piece.thickness.mm();
        let best = step.wait.best.unwrap_or(step.wait.min);
        let rounded = |t: units::Elapsed| {
            t.scaled(factor)
                .and_then(|x| units::Elapsed::from_minutes((x.minutes() + 0.5).floor()))
                .unwrap_or(t)
        };
        let long = rounded(best);
        let scales = step.wait.by_thickness;
        let mut changes = if scales {
            let (min, max) = (rounded(step.wait.min), rounded(step.wait.max));
            vec![format!(
                "{} {best} → {long}, window {min} to {max}",
                step.id
            )]
        } else {
            vec![format!(
                "the wait of {} is NOT marked by-thickness and stays {} to {}",
                step.id, step.wait.min, step.wait.max
            )]
        };
        for s in &recipe.steps {
            for segment in s.programme.iter().filter(|x| x.by_thickness) {
                let t = rounded(segment.time);
                changes.push(format!("{} {} → {}", segment.what, segment.time, t));
            }
            // A programme that does not go by thickness stays as written: said aloud, since the core does not.
            if factor > 1.0 && goes_by_the_clock(s) {
                changes.push(format!(
                    "the programme of {} is NOT marked by-thickness and stays as written, while its core takes about ×{}",
                    s.id,
                    number(factor, 2)
                ));
            }
        }
        let ways = if factor > 1.0 {
            vec![
                format!(
                    "split each piece at the thickest place: two of {} mm",
                    number(measured / 2.0, 0)
                ),
                format!(
                    "cut fingers {} mm thick: then the times as written hold",
                    number(written, 0)
                ),
                "put the thin pieces to this event and the thick ones to a later one".to_owned(),
                format!(
                    "or keep the pieces whole and take the whole time, ×{}; an hour more does nothing",
                    number(factor, 2)
                ),
            ]
        } else {
            vec![format!(
                "shorter times, ×{}: out by the new window, or the thin end turns hard",
                number(factor, 2)
            )]
        };
        all.push(Choice {
            because: Vec::new(),
            finding: format!(
                "{} is {} mm, written for {} mm: time ×{} ({})",
                c.name,
                number(measured, 0),
                number(written, 0),
                number(factor, 2),
                changes.join("; ")
            ),
            ways,
        });
    }
}

/// Where the house's window and the computed one disagree.
fn disagree(plan: &Plan, all: &mut Vec<Choice>) {
    for w in &plan.windows {
        let Some(conflict) = &w.conflict else {
            continue;
        };
        all.push(Choice {
            because: Vec::new(),
            finding: format!("{}.{}: {conflict}", w.component, w.step),
            ways: vec![
                "the house window is kept; the model is not validated on product data".to_owned(),
                "thinner pieces, or log one with a probe and write what you find into the recipe"
                    .to_owned(),
            ],
        });
    }
}

/// A later service than first planned: what to hold, who stays.
fn late(plan: &Plan, first: &Scene, all: &mut Vec<Choice>) {
    let _ = first;
    for t in plan
        .timeline
        .tasks
        .iter()
        .filter(|t| t.meaning.kind == crate::tasks::Kind::Relief)
    {
        all.push(Choice {
            because: Vec::new(),
            finding: format!("{} at {}", t.meaning.what, wall(&plan.scene, t.start)),
            ways: vec![format!(
                "it would stand too long otherwise; with it, it holds to {}",
                wall(&plan.scene, t.start + then_max(plan, t))
            )],
        });
    }
}

fn then_max(plan: &Plan, t: &crate::timeline::Timed) -> i64 {
    let recipe = t
        .meaning
        .component
        .as_ref()
        .and_then(|c| plan.scene.book.recipes.get(c));
    recipe
        .and_then(|r| {
            r.steps
                .iter()
                .find(|s| Some(&s.id) == t.meaning.step.as_ref())
        })
        .and_then(|s| s.wait.relief.as_ref())
        .map_or(0, |r| r.then_max.whole_minutes())
}

fn stays(plan: &Plan, all: &mut Vec<Choice>) {
    let zone = &plan.scene.site.zone;
    for (group, from, to) in &plan.timeline.stays {
        let hour = |m: i64| {
            crate::clock::zoned(zone, m)
                .map_or_else(|_| String::new(), |z| z.strftime("%H:%M").to_string())
        };
        all.push(Choice {
            because: Vec::new(),
            finding: format!(
                "{group}: the shift ends {}, needed until {}",
                hour(*from),
                hour(*to)
            ),
            ways: std::iter::once(format!("ask who can stay until {}", hour(*to)))
                .chain(shorter_line(plan))
                .collect(),
        });
    }
}

/// The shortest plating line that is still done in time, one or two people fewer.
fn shorter_line(plan: &Plan) -> Option<String> {
    let scene = &plan.scene;
    let dish = scene
        .event
        .dishes
        .iter()
        .filter_map(|d| scene.book.dishes.get(d));
    let plating = dish.filter_map(|d| d.plating.as_ref()).next()?;
    let slowest = plating.hands.slowest?;
    let there = scene
        .event
        .crew
        .iter()
        .filter(|g| g.role == scene.event.role)
        .map(|g| g.count)
        .max()?;
    let full = plating.hands.people.min(there);
    #[allow(clippy::cast_precision_loss)]
    let time =
        (plating.stands_at_most.whole_minutes() - plating.ready_before.whole_minutes()) as f64;
    let second = |people: u32| {
        slowest.minutes() * 60.0 * f64::from(plating.hands.people) / f64::from(people)
    };
    [2, 1]
        .into_iter()
        .filter(|fewer| *fewer < full)
        .find_map(|fewer| {
            let people = full - fewer;
            ((plan.plates * second(people) / 60.0).ceil() <= time).then(|| {
                format!(
                    "or {people} on a slower line, {} s a plate: --set people=-{fewer} shows it",
                    number(second(people), 0)
                )
            })
        })
}

/// Weights finer than the scale that must weigh them.
fn scales(plan: &Plan, all: &mut Vec<Choice>) {
    /// Cures are weighed to two in a hundred (common practice, no source).
    const TOLERANCE: f64 = 0.02;
    let scales: Vec<units::Scale> = plan
        .scene
        .site
        .scales
        .iter()
        .filter_map(|s| units::Scale::new(&s.name, s.resolution, s.capacity).ok())
        .collect();
    if scales.is_empty() {
        return;
    }
    for c in &plan.components {
        let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else {
            continue;
        };
        for (step, flow) in recipe.steps.iter().zip(&c.flows) {
            let share = |item: &str| {
                let total: f64 = step
                    .lines
                    .iter()
                    .zip(&flow.lines)
                    .filter(|(l, _)| matches!(l.amount, kitchen::step::LineAmount::OfBase(_)))
                    .map(|(_, g)| g.made_g)
                    .sum();
                let own = step
                    .lines
                    .iter()
                    .zip(&flow.lines)
                    .find(|(l, _)| l.item.id().as_str() == item)
                    .map(|(_, g)| g.made_g);
                own.filter(|_| total > 0.0).map(|g| g / total)
            };
            for (line, g) in step.lines.iter().zip(&flow.lines) {
                let name = line.item.id().as_str();
                let eaten = matches!(&line.item, kitchen::step::LineItem::Item(id) if plan.scene.book.ingredients.get(id).is_some_and(|i| !i.is_water()));
                if g.counted || !eaten || g.made_g <= 0.0 {
                    continue;
                }
                let Ok(mass) = units::Mass::grams(g.made_g) else {
                    continue;
                };
                if let Err(units::Unweighable::TooFine(fine)) =
                    units::check(mass, TOLERANCE, &scales)
                {
                    let ways = fine.ways_out(share(name)).map_or_else(
                        |_| Vec::new(),
                        |ways| ways.iter().map(ToString::to_string).collect(),
                    );
                    all.push(Choice {
                        because: Vec::new(),
                        finding: format!("{}.{}: {}", c.recipe, step.id, fine),
                        ways,
                    });
                }
            }
        }
    }
}

fn held_back(plan: &Plan, all: &mut Vec<Choice>) {
    for c in &plan.components {
        let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else {
            continue;
        };
        for (step, flow) in recipe.steps.iter().zip(&c.flows) {
            for (line, g) in step
                .lines
                .iter()
                .zip(&flow.lines)
                .filter(|(_, g)| g.hold_back_g > 0.0)
            {
                all.push(Choice {
                    because: Vec::new(),
                    finding: format!(
                        "{}.{}: start with {} g {}, hold {} g back",
                        c.recipe,
                        step.id,
                        number(g.made_g - g.hold_back_g, 2),
                        line.item.id().as_str(),
                        number(g.hold_back_g, 2)
                    ),
                    ways: vec![
                        "steeped spice does not grow with the batch: taste, then add".to_owned(),
                    ],
                });
            }
        }
    }
}

fn over_budget(plan: &Plan, all: &mut Vec<Choice>) {
    let Some(budget) = plan.cost.budget else {
        return;
    };
    let over = plan.cost.food_bought - budget;
    if over.amount() <= units::Decimal::ZERO {
        return;
    }
    let sign = &plan.scene.site.currency;
    let dearest: Vec<String> = plan
        .cost
        .shares
        .iter()
        .take(2)
        .map(|s| {
            format!(
                "{} is {sign}{} of it",
                s.component,
                money(s.bought.amount(), 2)
            )
        })
        .collect();
    let mut ways = dearest;
    for c in &plan.components {
        let already = plan
            .scene
            .event
            .dishes
            .iter()
            .filter_map(|d| plan.scene.book.dishes.get(d))
            .flat_map(|d| &d.parts)
            .any(|p| p.recipe == c.recipe && p.per == kitchen::event::Per::Pair);
        if c.portion_g.is_none() && c.start.is_some() && !already {
            ways.push(format!("one for a pair: --set {}.per=pair", c.recipe));
        }
    }
    all.push(Choice {
        because: Vec::new(),
        finding: format!(
            "over budget by {sign}{}: {sign}{} a {} against {sign}{}",
            money(over.amount(), 2),
            money(plan.cost.per_cover_bought().amount(), 2),
            plan.scene.event.cover_word,
            money(
                plan.scene
                    .event
                    .budget
                    .unwrap_or(units::Money::ZERO)
                    .amount(),
                2
            )
        ),
        ways,
    });
}

fn impossible(plan: &Plan, all: &mut Vec<Choice>) {
    if !matches!(plan.timeline.status, Status::Impossible | Status::NotFound) {
        return;
    }
    all.push(Choice {
        because: plan.timeline.clash.clone(),
        finding: match plan.timeline.status {
            Status::Impossible => "no clock keeps all of these at once".to_owned(),
            _ => "the search found no clock; these were the tightest".to_owned(),
        },
        ways: vec![
            "move the hour, the delivery, the people or the machine with --set and look again"
                .to_owned(),
        ],
    });
}
