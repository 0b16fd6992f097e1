//! The plan as contract 1: names carry their unit, unknown is null.

use serde_json::{Value, json};

use crate::clock;
use crate::figures::decimal_to_f64;
use crate::order::OrderLine;
use crate::tasks::Kind;
use crate::whole::Plan;
use kitchen::step::LineAmount;

/// The number of the contract.
pub const CONTRACT: u32 = 1;

/// A plan for programs.
#[must_use]
pub fn plan(plan: &Plan) -> Value {
    let e = &plan.scene.event;
    let zone = &plan.scene.site.zone;
    let serve =
        clock::minute(zone, e.serve).map_or_else(|_| String::new(), |m| clock::instant(zone, m));
    json!({
        "contract": CONTRACT,
        "event": { "id": e.id.as_str(), "name": e.name, "serve": serve, "covers": e.covers, "plates": plan.plates },
        "components": components(plan),
        "order": plan.order.iter().map(|l| order(plan, l)).collect::<Vec<_>>(),
        "cost": cost(plan),
        "schedule": schedule(plan),
        "windows": windows(plan),
        "verdicts": verdicts(plan),
        "cautions": plan.cautions.iter().map(|p| json!({ "id": format!("{}.{}", p.component, p.caution.id), "component": p.component.as_str(), "step": p.step.as_str(), "words": p.caution.words, "source": p.caution.source().title, "status": p.caution.source().status.words() })).collect::<Vec<_>>(),
        "allergens": crate::allergens::json(&plan.scene, &plan.allergens),
        "specials": crate::specials::json(&plan.specials),
        "happened": plan.happened.as_ref().map(|told| happened(plan, told)),
        "robust": plan.robust.as_ref().map(robust),
        "choices": plan.choices.iter().map(|c| json!({ "finding": c.finding, "because": c.because, "ways": c.ways })).collect::<Vec<_>>(),
        "ways_out": crate::ways::json(plan.ways_out.as_ref()),
        "figures": plan.figures.to_json(),
    })
}

fn components(plan: &Plan) -> Vec<Value> {
    let mut all = Vec::new();
    for (c, lots) in plan.components.iter().zip(&plan.lots) {
        let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else {
            continue;
        };
        let mut lines = Vec::new();
        for (step, flow) in recipe.steps.iter().zip(&c.flows) {
            for (line, g) in step.lines.iter().zip(&flow.lines) {
                let pct = match line.amount {
                    LineAmount::OfBase(p) => Some(p),
                    _ => None,
                };
                let counted = matches!(line.amount, LineAmount::PerPiece(_));
                lines.push(json!({
                    "step": step.id.as_str(),
                    "item": line.item.id().as_str(),
                    "of_base_pct": pct,
                    "base": step.base.name.name(),
                    "base_g": flow.base_g,
                    "amount_g": (!counted).then_some(g.made_g),
                    "pieces": counted.then_some(g.made_g),
                    "put_in_g": (g.boils_off_g > 0.0).then_some(g.made_g + g.boils_off_g),
                    "hold_back_g": (g.hold_back_g > 0.0).then_some(g.hold_back_g),
                }));
            }
        }
        let lot = lots.after.get(recipe.last());
        let get = |f: fn(&crate::lot::Lot) -> Option<f64>| lot.and_then(f);
        let nitrite = lots.nitrite_ppm().and_then(Result::ok);
        let bought = plan
            .order
            .iter()
            .find(|l| c.start.as_ref().is_some_and(|s| s.item == l.item));
        all.push(json!({
            "id": c.recipe.as_str(),
            "name": c.name,
            "portion_g": c.portion_g,
            "served_need_g": c.served_need_g,
            "chain": c.chain,
            "base_need_g": plan.figures.number(&format!("{}.base_need_g", c.recipe)),
            "raw_need_g": c.start.as_ref().map(|s| s.need_g),
            "buy_g": bought.and_then(OrderLine::bought_g),
            "made_g": c.made_g,
            "portions_made": c.portion_g.map(|p| c.made_g / p),
            "pieces": c.pieces,
            "lines": lines,
            "lot": {
                "water_phase_salt_pct": get(crate::lot::Lot::water_phase_salt_pct).filter(|p| *p > 0.0),
                "salt_pct": get(crate::lot::Lot::salt_pct),
                "water_pct": get(crate::lot::Lot::water_pct),
                "water_activity": Value::Null,
                "sugar_pct": get(crate::lot::Lot::sugar_pct),
                "nitrite_ppm": nitrite,
                "acetic_pct": get(crate::lot::Lot::acetic_pct),
            },
        }));
    }
    all
}

/// An order line for programs.
#[must_use]
pub fn order(plan: &Plan, l: &OrderLine) -> Value {
    let zone = &plan.scene.site.zone;
    let instant = |at: Option<jiff::civil::DateTime>| {
        at.and_then(|at| clock::minute(zone, at).ok())
            .map(|m| clock::instant(zone, m))
    };
    json!({
        "supplier": l.supplier.as_str(),
        "item": l.item.as_str(),
        "spec": l.spec,
        "need_g": (!l.counted).then_some(l.need),
        "need_pieces": l.counted.then_some(l.need),
        "need_packs": l.need_packs,
        "packs": l.packs,
        "pack": if l.by_weight { "by weight" } else { l.word.as_str() },
        "pack_g": l.pack_g,
        "price": decimal_to_f64(l.price.amount()),
        "price_per": if l.per_kg { "kg" } else { "pack" },
        "cost_needed": decimal_to_f64(l.cost_needed.amount()),
        "cost_bought": decimal_to_f64(l.cost_bought.amount()),
        "order_by": instant(l.order_by),
        "delivery": instant(l.delivery),
        "edge": l.edge.as_ref().map(|e| json!({ "packs": e.packs, "short_pct": e.short_pct, "saves": decimal_to_f64(e.saves.amount()) })),
        "instead": l.substitutes,
    })
}

fn cost(plan: &Plan) -> Value {
    let c = &plan.cost;
    let n = |m: units::Money| decimal_to_f64(m.amount());
    json!({
        "currency": plan.scene.site.currency,
        "food_needed": n(c.food_needed),
        "food_bought": n(c.food_bought),
        "per_cover_needed": n(c.per_cover_needed()),
        "per_cover_bought": n(c.per_cover_bought()),
        "labour_min": c.labour_min,
        "labour": n(c.labour_cost),
        "labour_per_cover": n(c.labour_per_cover()),
        "prime": n(c.prime()),
        "prime_per_cover": n(c.prime_per_cover()),
        "target_price": c.target_price.map(n),
        "budget": c.budget.map(n),
        "by_role": c.labour.iter().map(|l| json!({ "role": l.role.as_str(), "minutes": l.minutes, "rate": n(l.rate), "cost": n(l.cost), "by_presence": l.by_presence })).collect::<Vec<_>>(),
        "by_component": c.shares.iter().map(|s| json!({ "id": s.component.as_str(), "bought": n(s.bought), "per_kg_made": n(s.per_kg_made) })).collect::<Vec<_>>(),
    })
}

fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::Hands => "hands",
        Kind::Run => "run",
        Kind::Round => "round",
        Kind::Passing => "passing",
        Kind::Relief => "relief",
        Kind::Plating => "plating",
        Kind::Serve => "serve",
        Kind::Around => "around",
    }
}

fn schedule(plan: &Plan) -> Value {
    let t = &plan.timeline;
    let zone = &plan.scene.site.zone;
    let tasks: Vec<Value> = t
        .tasks
        .iter()
        .map(|x| {
            json!({
                "id": x.meaning.id,
                "component": x.meaning.component.as_ref().map(kitchen::Id::as_str),
                "step": x.meaning.step.as_ref().map(kitchen::Id::as_str),
                "what": x.meaning.what,
                "kind": kind(x.meaning.kind),
                "start": clock::instant(zone, x.start),
                "end": clock::instant(zone, x.end),
                "people": x.people,
                "machines": x.meaning.machines.iter().map(|(m, thousandths)| json!({ "machine": m.as_str(), "amount": thousandths_of(*thousandths) })).collect::<Vec<_>>(),
                "earliest": clock::instant(zone, x.earliest),
                "latest": clock::instant(zone, x.latest),
                "state": plan.happened.as_ref().map(|told| told.states.get(&x.meaning.id).map_or("planned", |s| s.word())),
            })
        })
        .collect();
    json!({
        "status": t.status.word(),
        "bound": t.bound,
        "value": t.value,
        "tasks": tasks,
        "clash": t.clash,
        "waits": t.waits.iter().map(|w| json!({ "from": w.from, "to": w.to, "minutes": w.minutes, "min": w.min, "max": w.max, "best": w.best, "decided": w.decided })).collect::<Vec<_>>(),
        "held": t.held.iter().map(|h| json!({ "machine": h.machine.as_str(), "task": h.task, "amount": thousandths_of(h.amount), "from": clock::instant(zone, h.from), "to": clock::instant(zone, h.to) })).collect::<Vec<_>>(),
        "stays": t.stays.iter().map(|(g, from, to)| json!({ "group": g.as_str(), "from": clock::instant(zone, *from), "to": clock::instant(zone, *to) })).collect::<Vec<_>>(),
    })
}

fn robust(r: &crate::robust::Robust) -> Value {
    let used = |u: &crate::robust::Used| json!({ "low": u.low, "high": u.high, "source": u.source.source.title, "status": u.source.source.status.words(), "place": u.source.place });
    json!({
        "draws": r.draws,
        "seed": crate::robust::SEED,
        "met": r.met,
        "chance": r.chance(),
        "error": r.error,
        "threats": r.threats.iter().map(|t| json!({ "task": t.task, "days": t.days })).collect::<Vec<_>>(),
        "hands": used(&r.hands),
        "programme": used(&r.programme),
        "own": r.own,
        "bought": r.bought.as_ref().map(|b| json!({
            "target": b.target,
            "reached": r.chance() >= b.target,
            "met_before": b.met_before,
            "allowance": b.allowance.iter().map(|(id, min)| json!({ "task": id, "min": min })).collect::<Vec<_>>(),
            "person_min": b.person_minutes,
            "value_before": b.value.0,
            "value": b.value.1,
            "clocks": b.clocks,
        })),
    })
}

/// What happened, as the plan took it.
pub(crate) fn happened(plan: &Plan, told: &crate::happened::Told) -> Value {
    let zone = &plan.scene.site.zone;
    let facts = plan.scene.happened.iter().flat_map(|r| &r.facts);
    json!({
        "now": clock::instant(zone, told.now),
        "facts": facts.map(|f| json!({
            "at": f.at,
            "when": clock::instant(zone, crate::happened::minute(f.when)),
            "task": f.task(),
            "what": f.what.word(),
            "grams": match f.what { crate::happened::What::Weighed { g } => Some(g), _ => None },
        })).collect::<Vec<_>>(),
        "tasks": told.states.iter().map(|(id, state)| json!({
            "id": id, "state": state.word(), "written": told.from.get(id),
        })).collect::<Vec<_>>(),
        "notes": told.notes,
        "broken": told.broken.iter().map(|b| json!({
            "component": b.component.as_str(), "from": b.from, "to": b.to, "why": b.why, "minutes": b.got,
            "limit_min": b.limit, "least": b.least, "still_standing": b.still_standing, "written_down": b.written_down,
        })).collect::<Vec<_>>(),
    })
}

#[allow(clippy::cast_precision_loss)]
fn thousandths_of(n: i64) -> f64 {
    n as f64 / 1000.0
}

fn windows(plan: &Plan) -> Vec<Value> {
    plan.windows
        .iter()
        .map(|w| {
            let span = w.window.as_ref().ok();
            let h = |t: Option<units::Elapsed>| t.map(units::Elapsed::hours);
            json!({
                "component": w.component.as_str(),
                "step": w.step.as_str(),
                "goal": w.goal,
                "thin_h": h(span.map(|s| s.thin)),
                "nominal_h": h(span.map(|s| s.nominal)),
                "earliest_h": h(span.map(|s| s.thick)),
                "best_h": h(span.map(|s| s.best)),
                "latest_h": h(span.and_then(|s| s.latest)),
                "thick_if_slow_h": h(span.and_then(|s| s.thick_if_slow)),
                "house_min_h": h(w.house.map(|(min, _)| min)),
                "house_max_h": h(w.house.map(|(_, max)| max)),
                "thickest_when_out": w.places.map(|p| json!({
                    "waited_h": p.waited.hours(), "mean_wps_pct": p.mean_pct, "surface_wps_pct": p.surface_pct, "core_wps_pct": p.core_pct,
                })),
                "conflict": w.conflict,
                "not_computed": w.window.as_ref().err(),
                "model": w.model,
            })
        })
        .collect()
}

fn verdicts(plan: &Plan) -> Vec<Value> {
    plan.verdicts
        .iter()
        .map(|v| {
            let j = &v.judgement;
            json!({
                "id": v.id,
                "component": v.component.as_str(),
                "rule": j.rule,
                "asks": j.asks,
                "verdict": j.verdict.word(),
                "value": j.value,
                "limit": j.limit,
                "unit": j.unit,
                "margin": j.margin,
                "base": j.base,
                "place": j.place,
                "source": j.source.title,
                "status": j.source.status.words(),
                "holds": j.holds.words(),
                "next": j.next,
                "from": v.from,
            })
        })
        .collect()
}
