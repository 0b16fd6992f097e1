//! What it costs: needed and bought, per paid cover; labour by role; the price it asks for.

use kitchen::Id;
use rust_decimal::Decimal;
use units::Money;

use crate::clock;
use crate::demand::Component;
use crate::labour::Work;
use crate::order::OrderLine;
use crate::problem::PlanError;
use crate::scene::Scene;

/// Labour of one role.
#[derive(Debug, Clone, PartialEq)]
pub struct LabourLine {
    /// Role.
    pub role: Id,
    /// Minutes.
    pub minutes: f64,
    /// Rate an hour.
    pub rate: Money,
    /// Cost.
    pub cost: Money,
    /// Paid for being there, not by the minute of work.
    pub by_presence: bool,
}

/// One component's part of the food.
#[derive(Debug, Clone, PartialEq)]
pub struct Share {
    /// Recipe.
    pub component: Id,
    /// Of what is bought.
    pub bought: Money,
    /// Per kilogram made.
    pub per_kg_made: Money,
}

/// The cost of a plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Cost {
    /// Food, as needed.
    pub food_needed: Money,
    /// Food, as bought.
    pub food_bought: Money,
    /// Paid covers.
    pub covers: u32,
    /// Labour by role.
    pub labour: Vec<LabourLine>,
    /// Minutes of work paid by the minute.
    pub labour_min: f64,
    /// Labour, all.
    pub labour_cost: Money,
    /// Price per cover at the food cost aimed at.
    pub target_price: Option<Money>,
    /// Components by their part of what is bought.
    pub shares: Vec<Share>,
    /// Budget of the event, all covers.
    pub budget: Option<Money>,
}

impl Cost {
    fn per(&self, money: Money) -> Money {
        money
            .divided(Decimal::from(self.covers.max(1)))
            .unwrap_or(Money::ZERO)
    }

    /// Needed food per paid cover.
    #[must_use]
    pub fn per_cover_needed(&self) -> Money {
        self.per(self.food_needed)
    }

    /// Bought food per paid cover.
    #[must_use]
    pub fn per_cover_bought(&self) -> Money {
        self.per(self.food_bought)
    }

    /// Labour per paid cover.
    #[must_use]
    pub fn labour_per_cover(&self) -> Money {
        self.per(self.labour_cost)
    }

    /// Bought food and labour.
    #[must_use]
    pub fn prime(&self) -> Money {
        self.food_bought + self.labour_cost
    }

    /// Prime cost per paid cover.
    #[must_use]
    pub fn prime_per_cover(&self) -> Money {
        self.per(self.prime())
    }
}

fn dec(n: f64) -> Result<Decimal, PlanError> {
    units::decimal(n).map_err(|_| PlanError::TooMuch {
        what: "the cost".to_owned(),
    })
}

fn money(m: Result<Money, units::QuantityError>) -> Result<Money, PlanError> {
    m.map_err(|_| PlanError::TooMuch {
        what: "the cost".to_owned(),
    })
}

/// The cost of a scene. Totals are sums of unrounded lines, rounded once when shown.
pub(crate) fn cost(
    scene: &Scene,
    components: &[Component],
    order: &[OrderLine],
    work: &[Work],
) -> Result<Cost, PlanError> {
    let mut labour: Vec<LabourLine> = Vec::new();
    for w in work {
        let Some(role) = scene
            .site
            .roles
            .iter()
            .find(|r| r.id == w.role)
            .filter(|r| !r.by_presence)
        else {
            continue;
        };
        let minutes = w.minutes + w.rounds;
        match labour.iter_mut().find(|l| l.role == role.id) {
            Some(l) => l.minutes += minutes,
            None => labour.push(LabourLine {
                role: role.id.clone(),
                minutes,
                rate: role.rate,
                cost: Money::ZERO,
                by_presence: false,
            }),
        }
    }
    for p in &scene.event.presence {
        let Some(role) = scene.site.roles.iter().find(|r| r.id == p.role) else {
            continue;
        };
        let at = |m| moment(scene, m);
        let minutes = at(p.to)? - at(p.from)?;
        if minutes < 0 {
            return Err(PlanError::LeavesBeforeComing {
                role: role.id.as_str().to_owned(),
            });
        }
        #[allow(clippy::cast_precision_loss)]
        labour.push(LabourLine {
            role: role.id.clone(),
            minutes: minutes as f64,
            rate: role.rate,
            cost: Money::ZERO,
            by_presence: true,
        });
    }
    for l in &mut labour {
        l.cost = money(l.rate.times(dec(l.minutes)? / Decimal::from(60)))?;
    }
    let mut shares: Vec<Share> = Vec::new();
    for c in components {
        let mut bought = Money::ZERO;
        for line in order {
            let total: f64 = line.shares.iter().map(|(_, n)| n).sum();
            if let Some((_, n)) = line.shares.iter().find(|(id, _)| *id == c.recipe)
                && total > 0.0
            {
                bought = bought + money(line.cost_bought.times(dec(n / total)?))?;
            }
        }
        let kg = dec(c.made_g / 1000.0)?;
        shares.push(Share {
            component: c.recipe.clone(),
            bought,
            per_kg_made: bought.divided(kg).unwrap_or(Money::ZERO),
        });
    }
    shares.sort_by_key(|s| std::cmp::Reverse(s.bought.amount()));
    let food_bought: Money = order.iter().map(|l| l.cost_bought).sum();
    let covers = scene.event.covers;
    let target_price = match scene.event.target_food_cost {
        Some(t) if t > 0.0 => {
            let per = food_bought
                .divided(Decimal::from(covers.max(1)))
                .unwrap_or(Money::ZERO);
            per.divided(dec(t)?).ok()
        }
        _ => None,
    };
    Ok(Cost {
        food_needed: order.iter().map(|l| l.cost_needed).sum(),
        food_bought,
        covers,
        labour_min: labour
            .iter()
            .filter(|l| !l.by_presence)
            .map(|l| l.minutes)
            .sum(),
        labour_cost: labour.iter().map(|l| l.cost).sum(),
        labour,
        target_price,
        shares,
        budget: match scene.event.budget {
            Some(b) => Some(money(b.times(Decimal::from(covers)))?),
            None => None,
        },
    })
}

/// A moment of the event in minutes.
pub(crate) fn moment(scene: &Scene, moment: kitchen::event::Moment) -> Result<i64, PlanError> {
    let zone = &scene.site.zone;
    match moment {
        kitchen::event::Moment::FromServe(minutes) => {
            Ok(clock::minute(zone, scene.event.serve)? + minutes)
        }
        kitchen::event::Moment::At(at) => clock::minute(zone, at),
    }
}
