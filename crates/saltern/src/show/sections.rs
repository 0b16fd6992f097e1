//! The sections of a plan: decide, weigh, order, cost, clock, verdicts.

use std::fmt::Write;

use kitchen::step::LineAmount;
use plan::Plan;
use plan::cautions::Placed;
use plan::figures::number;

pub(crate) use plan::wording::minutes;
use plan::wording::{item_name, whole};

use super::text::{bench, column, difference, grams, money, paragraph, plural, right};

/// Facts of one finding printed.
const MOST_FACTS: usize = 6;

/// What asks for a decision.
pub(crate) fn decide(plan: &Plan) -> String {
    if plan.choices.is_empty() {
        return "DECIDE  nothing\n".to_owned();
    }
    let mut out = "DECIDE\n".to_owned();
    for choice in &plan.choices {
        out.push_str(&paragraph("  ! ", &choice.finding));
        for fact in choice.because.iter().take(MOST_FACTS) {
            out.push_str(&paragraph("      · ", fact));
        }
        if choice.because.len() > MOST_FACTS {
            let _ = writeln!(
                out,
                "      · and {} more facts (--json lists them)",
                choice.because.len() - MOST_FACTS
            );
        }
        for way in &choice.ways {
            out.push_str(&paragraph("      – ", way));
        }
    }
    out
}

/// Weights per component.
pub(crate) fn weigh(plan: &Plan) -> String {
    let mut out =
        "WEIGH                                            of base     computed      weigh out\n"
            .to_owned();
    for c in &plan.components {
        let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else {
            continue;
        };
        let start = c.start.as_ref().map_or_else(String::new, |s| {
            let line = plan
                .order
                .iter()
                .find(|l| l.item == s.item && !l.by_weight && !l.counted);
            let bought = line.map_or_else(String::new, |l| {
                format!("{} {}, ", number(l.packs, 0), plural(&l.word, l.packs))
            });
            let through = (s.used_g - s.need_g).abs() > 0.5;
            let need = if through {
                format!(" (needs {})", grams(s.need_g, false))
            } else {
                String::new()
            };
            format!("{bought}{}{need} → ", grams(s.used_g, false))
        });
        let portions = c.portion_g.map_or_else(String::new, |p| {
            format!(
                " = {} portions of {} g",
                number(c.made_g / p, 1),
                number(p, 0)
            )
        });
        out.push_str(&paragraph(
            &format!("  {}  ", c.name),
            &format!("{start}{}{portions}", grams(c.made_g, false)),
        ));
        if c.portion_g.is_none()
            && c.pieces > 1.0
            && c.start.as_ref().is_some_and(|s| s.piece_g.is_some())
        {
            let mut parts = vec![format!(
                "bought {}",
                grams(c.flows[0].in_g / c.pieces, false)
            )];
            for (step, flow) in recipe.steps.iter().zip(&c.flows) {
                if (flow.out_g - flow.in_g).abs() > 0.05 {
                    parts.push(format!(
                        "{} {}",
                        step.id,
                        grams(flow.out_g / c.pieces, false)
                    ));
                }
            }
            out.push_str(&paragraph(
                "    one of ",
                &format!("{}: {}", number(c.pieces, 0), parts.join(" → ")),
            ));
        }
        for (step, flow) in recipe.steps.iter().zip(&c.flows) {
            if step.lines.is_empty() {
                continue;
            }
            let loads = if flow.loads > 1 {
                format!(", {} loads", flow.loads)
            } else {
                String::new()
            };
            let _ = writeln!(
                out,
                "    {}: {} {}{loads}",
                step.id,
                step.base.name,
                grams(flow.base_g, false)
            );
            let mut total = 0.0;
            let mut of_base = 0;
            for (line, g) in step.lines.iter().zip(&flow.lines) {
                let (name, curing) = item_name(&plan.scene, &line.item);
                let plain = line.item.id().as_str().replace('-', " ");
                let name = line
                    .form
                    .as_ref()
                    .map_or_else(|| name.to_owned(), |f| format!("{plain}, {f}"));
                let counted = matches!(line.amount, LineAmount::PerPiece(_));
                let pct = match line.amount {
                    LineAmount::OfBase(p) => format!("{} %", number(p, 2)),
                    LineAmount::PerLoad(_) => "each load".to_owned(),
                    LineAmount::PerPiece(_) => "each piece".to_owned(),
                    LineAmount::PerBatch(_) => String::new(),
                };
                let (computed, weigh) = if counted {
                    (format!("{} pieces", number(g.made_g, 0)), String::new())
                } else {
                    (grams(g.made_g, curing), bench(g.made_g, curing))
                };
                if matches!(line.amount, LineAmount::OfBase(_) | LineAmount::PerBatch(_)) {
                    total += g.made_g;
                    of_base += 1;
                }
                let _ = writeln!(
                    out,
                    "      {} {} {} {}",
                    column(&name, 38),
                    right(&pct, 12),
                    right(&computed, 13),
                    right(&weigh, 13)
                );
                if let (Some(written), Some(of)) = (&line.written, step.base.written_for) {
                    let _ = writeln!(
                        out,
                        "        written {written} for {}; times {} here",
                        grams(of.g(), false),
                        number(flow.base_g / of.g(), 2)
                    );
                }
                if g.boils_off_g > 0.0 {
                    let _ = writeln!(
                        out,
                        "        put in {}: {} boil off",
                        grams(g.made_g + g.boils_off_g, false),
                        grams(g.boils_off_g, false)
                    );
                }
                if g.hold_back_g > 0.0 {
                    let _ = writeln!(
                        out,
                        "        start {}, hold {} back",
                        grams(g.made_g - g.hold_back_g, false),
                        grams(g.hold_back_g, false)
                    );
                }
            }
            if of_base > 1 {
                let spare = if step.spare_mix > 0.0 {
                    format!(
                        "\n        make {}",
                        grams(total * (1.0 + step.spare_mix), false)
                    )
                } else {
                    String::new()
                };
                let _ = writeln!(
                    out,
                    "      {} {} {} {}{spare}",
                    column("together", 38),
                    right("", 12),
                    right(&grams(total, false), 13),
                    right(&bench(total, false), 13)
                );
            }
            let piece = plan
                .figures
                .number(&format!("{}.{}.mix_per_piece_g", c.recipe, step.id));
            if let (Some(mix), Some(inflow), None) = (
                piece,
                plan.figures
                    .number(&format!("{}.{}.in_per_piece_g", c.recipe, step.id)),
                c.portion_g,
            ) {
                let _ = writeln!(
                    out,
                    "      a piece of {}: {} of the mix",
                    grams(inflow, false),
                    grams(mix, true)
                );
            }
        }
        for placed in plan.cautions.iter().filter(|p| p.component == c.recipe) {
            out.push_str(&caution(plan, placed));
        }
    }
    out
}

/// A caution under the component it belongs to; the words once, a reference after that.
fn caution(plan: &Plan, placed: &Placed) -> String {
    let first = plan
        .cautions
        .iter()
        .find(|p| p.caution.id == placed.caution.id);
    let words = match first {
        Some(first) if first.component != placed.component => {
            format!("as under {}", first.component)
        }
        _ => placed.caution.words.to_owned(),
    };
    paragraph(
        "    caution ",
        &format!("{}, {}: {words}", placed.step, placed.caution.about),
    )
}

/// The order by supplier.
pub(crate) fn order(plan: &Plan) -> String {
    let sign = &plan.scene.site.currency;
    let mut out = "ORDER\n".to_owned();
    let mut supplier = None;
    for l in &plan.order {
        if supplier != Some(&l.supplier) {
            supplier = Some(&l.supplier);
            let name = plan
                .scene
                .site
                .suppliers
                .iter()
                .find(|s| s.id == l.supplier)
                .map_or(l.supplier.as_str(), |s| s.name.as_str());
            let at = |t: Option<jiff::civil::DateTime>| {
                t.map_or_else(
                    || "?".to_owned(),
                    |t| t.strftime("%a %m-%d %H:%M").to_string(),
                )
            };
            let _ = writeln!(
                out,
                "  {name}: order by {}, comes {}",
                at(l.order_by),
                at(l.delivery)
            );
        }
        let loose = l.by_weight;
        let packs = if loose {
            format!("{} kg", number(l.bought_g().unwrap_or(0.0) / 1000.0, 3))
        } else {
            format!("{} {}", number(l.packs, 0), plural(&l.word, l.packs))
        };
        let need = if loose {
            format!("{} kg", number(l.need / 1000.0, 3))
        } else {
            number(l.need_packs, 3)
        };
        let per = if l.per_kg { "/kg" } else { "" };
        let of_supplier = plan
            .order
            .iter()
            .find(|o| o.supplier == l.supplier)
            .and_then(|o| o.delivery);
        let _ = writeln!(
            out,
            "    {} {} {} {} {} {}",
            right(&packs, 12),
            column(l.item.as_str(), 24),
            right(&format!("needs {need}"), 17),
            right(&format!("{}{per}", money(sign, l.price, 2)), 10),
            right(&money(sign, l.cost_needed, 2), 10),
            right(&money(sign, l.cost_bought, 2), 10)
        );
        if l.delivery != of_supplier {
            let day = l.delivery.map_or_else(
                || "?".to_owned(),
                |t| t.strftime("%a %m-%d %H:%M").to_string(),
            );
            out.push_str(&paragraph("                 comes ", &day));
        }
        for instead in &l.substitutes {
            out.push_str(&paragraph("                 instead: ", instead));
        }
        if let Some(e) = &l.edge {
            let total = plan.cost.food_bought - e.saves;
            out.push_str(&paragraph(
                "                 ",
                &format!(
                    "pack edge: {} {} would be {} % short and save {}, total {}",
                    number(e.packs, 0),
                    plural(&l.word, e.packs),
                    two_figures(e.short_pct),
                    money(sign, e.saves, 2),
                    money(sign, total, 2)
                ),
            ));
        }
    }
    let _ = writeln!(
        out,
        "    {} {} {}",
        column("all food", 66),
        right(&money(sign, plan.cost.food_needed, 2), 10),
        right(&money(sign, plan.cost.food_bought, 2), 10)
    );
    out
}

/// A small percentage to two figures.
fn two_figures(pct: f64) -> String {
    let places = if pct >= 1.0 {
        1
    } else if pct >= 0.1 {
        2
    } else {
        3
    };
    number(pct, places)
}

/// The cost.
pub(crate) fn cost(plan: &Plan) -> String {
    let c = &plan.cost;
    let sign = &plan.scene.site.currency;
    let word = &plan.scene.event.cover_word;
    let mut out = format!(
        "COST\n  food needed {} ({} a {word}), bought {} ({})\n",
        money(sign, c.food_needed, 2),
        money(sign, c.per_cover_needed(), 3),
        money(sign, c.food_bought, 2),
        money(sign, c.per_cover_bought(), 3)
    );
    for l in &c.labour {
        let how = if l.by_presence { "there" } else { "of work" };
        let _ = writeln!(
            out,
            "  {} {} min {how} at {}/h: {}",
            column(l.role.as_str(), 12),
            right(&number(l.minutes, 1), 8),
            money(sign, l.rate, 2),
            money(sign, l.cost, 2)
        );
    }
    let _ = writeln!(
        out,
        "  labour {} ({} a {word}), prime {} ({})",
        money(sign, c.labour_cost, 2),
        money(sign, c.labour_per_cover(), 2),
        money(sign, c.prime(), 2),
        money(sign, c.prime_per_cover(), 2)
    );
    if let (Some(price), Some(target)) = (c.target_price, plan.scene.event.target_food_cost) {
        let _ = writeln!(
            out,
            "  for {} % food cost: price {}",
            number(target * 100.0, 0),
            money(sign, price, 2)
        );
    }
    if let Some(budget) = c.budget {
        let _ = writeln!(
            out,
            "  budget {}: {}",
            money(sign, budget, 2),
            difference(sign, c.food_bought - budget)
        );
    }
    for x in plan.components.iter() {
        let of = |key: &str| {
            plan.figures
                .get(&format!("{}.{key}", x.recipe))
                .map(plan::Figure::show)
        };
        if let (Some(kg), Some(portion), Some(start)) = (
            of("item_cost_per_kg_made"),
            of("item_cost_per_portion"),
            &x.start,
        ) && c.shares.first().is_some_and(|s| s.component == x.recipe)
        {
            let _ = writeln!(
                out,
                "  {} alone: {kg} per kg of {}, {portion} a portion",
                start.item, x.recipe
            );
        }
    }
    for s in c.shares.iter().filter(|s| !s.bought.amount().is_zero()) {
        let pct = plan
            .figures
            .number(&format!("cost.component.{}.pct", s.component))
            .unwrap_or(0.0);
        let _ = writeln!(
            out,
            "    {} {} {} %   {} per kg made",
            column(s.component.as_str(), 26),
            right(&money(sign, s.bought, 2), 10),
            right(&number(pct, 0), 3),
            right(&money(sign, s.per_kg_made, 2), 8)
        );
    }
    out
}

/// Until when what is left may be kept.
pub(crate) fn discard(plan: &Plan) -> String {
    let mut rows: Vec<(String, &str)> = plan
        .components
        .iter()
        .filter_map(|c| {
            let by = plan.figures.get(&format!("{}.discard_by", c.recipe))?;
            Some((by.show(), c.name.as_str()))
        })
        .collect();
    if rows.is_empty() {
        return String::new();
    }
    // By the date, which stands behind the day of the week.
    rows.sort_by_key(|(by, name)| (by.split_once(' ').map(|(_, date)| date.to_owned()), *name));
    let mut out = "DISCARD BY (the house's days, and the earliest part)\n".to_owned();
    for (by, name) in rows {
        let _ = writeln!(out, "    {by}  {name}");
    }
    out
}

/// Windows computed from what steps are to reach, beside the house's.
pub(crate) fn windows(plan: &Plan) -> String {
    if plan.windows.is_empty() {
        return String::new();
    }
    let mut out =
        "COMPUTED (plans a day, shows no limit)   thin      usual      thickest     house\n"
            .to_owned();
    for w in &plan.windows {
        let name = format!("{}.{}", w.component, w.step);
        let house = w.house.map_or_else(String::new, |(min, max)| {
            format!("{} to {}", whole(min), whole(max))
        });
        match &w.window {
            Ok(s) => {
                let _ = writeln!(
                    out,
                    "  {} {} {} {}   {house}",
                    column(&name, 34),
                    right(&whole(s.thin), 11),
                    right(&whole(s.nominal), 11),
                    right(&whole(s.thick), 13)
                );
                let slow = s.thick_if_slow.map_or_else(String::new, |t| {
                    format!("; thickest were it slow {}", whole(t))
                });
                let latest = s
                    .latest
                    .map_or_else(String::new, |t| format!("; thinnest past it {}", whole(t)));
                out.push_str(&paragraph("      ", &format!("{}{slow}{latest}", w.goal)));
                if let Some(p) = w.places {
                    let pct = |x: f64| number(x, 1);
                    let said = format!(
                        "out after {}, thickest piece, water-phase salt: mean {} %, surface {} %, where it comes last {} %",
                        whole(p.waited),
                        pct(p.mean_pct),
                        pct(p.surface_pct),
                        pct(p.core_pct)
                    );
                    out.push_str(&paragraph("      ", &said));
                }
            }
            Err(why) => {
                let _ = writeln!(out, "  {name}: not computed");
                out.push_str(&paragraph("      ", &format!("{}: {why}", w.goal)));
            }
        }
    }
    let mut models: Vec<&str> = plan.windows.iter().map(|w| w.model).collect();
    models.sort_unstable();
    models.dedup();
    for model in models {
        out.push_str(&paragraph("  model: ", model));
    }
    out
}

/// Verdicts, worst first.
pub(crate) fn verdicts(plan: &Plan) -> String {
    let mut out = "VERDICTS\n".to_owned();
    if plan.verdicts.is_empty() {
        out.push_str("  none of the rules here speaks about this\n");
        return out;
    }
    let mut sorted: Vec<_> = plan.verdicts.iter().collect();
    sorted.sort_by_key(|v| v.judgement.verdict);
    for v in sorted {
        let j = &v.judgement;
        let value = match (j.value, j.limit) {
            (Some(x), Some(l)) => format!(
                "{} {} against {} {}",
                number(x, places(x)),
                j.unit,
                number(l, places(l)),
                j.unit
            ),
            (None, Some(l)) => format!("no value against {} {}", number(l, places(l)), j.unit),
            _ => j.place.clone(),
        };
        let word = j.verdict.word().to_uppercase();
        out.push_str(&paragraph(
            &format!("  {} ", column(&word, 9)),
            &format!("{}: {value}", v.id),
        ));
        out.push_str(&paragraph("            ", &format!("asks {}", j.asks)));
        if j.value.is_some() {
            out.push_str(&paragraph("            ", &j.place));
        }
        let verify = if j.source.status.may_show() || j.source.status == sources::Status::House {
            ""
        } else {
            "; verify with your authority"
        };
        out.push_str(&paragraph(
            "            ",
            &format!("{} ({}{verify})", j.source.title, j.source.status.words()),
        ));
        out.push_str(&paragraph("            next: ", &j.next));
    }
    out
}

fn places(x: f64) -> u32 {
    if (x - x.round()).abs() < 1e-9 {
        0
    } else if x >= 100.0 {
        1
    } else {
        2
    }
}
