//! The place: opening hours, people, machines, scales, suppliers and what they sell.

use jiff::civil::{DateTime, Time, Weekday};
use jiff::tz::TimeZone;
use units::{Elapsed, Mass, Money};

use crate::Id;

/// A kitchen.
#[derive(Debug, Clone, PartialEq)]
pub struct Site {
    /// Id.
    pub id: Id,
    /// Name.
    pub name: String,
    /// Time zone.
    pub zone: TimeZone,
    /// Currency sign or code printed before amounts.
    pub currency: String,
    /// Rule set: `us`, `canada`, `england`, `eu`.
    pub rules: RuleSet,
    /// Number of the approved variance and plan, when there is one.
    pub plan_number: Option<String>,
    /// When people may be inside.
    pub open: Vec<Hours>,
    /// What people cost and how fast they are.
    pub roles: Vec<Role>,
    /// People who belong to the house.
    pub people: Vec<People>,
    /// Machines.
    pub machines: Vec<Machine>,
    /// Scales.
    pub scales: Vec<Scale>,
    /// Suppliers.
    pub suppliers: Vec<Supplier>,
    /// What they sell.
    pub offers: Vec<Offer>,
    /// Part of a pack that may be short before another is bought, as a ratio.
    pub pack_tolerance: f64,
    /// What the clock weighs against what.
    pub clock: ClockWeights,
    /// How far work may turn out shorter or longer where a page does not say.
    pub spread: crate::spread::HouseSpread,
}

/// What the clock weighs against what, in minutes of work away from its best hour.
///
/// The clock makes one weighted sum small. Service, best-before and cooling rules are no prices: they hold, or there is
/// no clock.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClockWeights {
    /// A minute of cooking work away from its best hour: the event's wish, else the best wait counted back from what
    /// follows, which is also the freshest; in a re-plan the hour it had.
    pub best_hour: f64,
    /// A minute of work around the cooking away from its hour.
    pub around: f64,
    /// One person staying one minute beyond the shift.
    pub overtime: f64,
    /// An extra act that buys time (draining what stands too long), on top of its minutes.
    pub act: f64,
    /// Whether work is shared out evenly among those who fit, once the hours stand. No weight: it costs no hour.
    pub even_work: bool,
}

impl ClockWeights {
    /// House values; a book without a `[clock]` table has these.
    pub const DEFAULT: Self = Self {
        best_hour: 1.0,
        around: 0.2,
        overtime: 0.05,
        act: 5.0,
        even_work: false,
    };
    /// The heaviest a weight may be; beyond it the sums of a long event are no longer exact.
    pub const MOST: f64 = 1_000.0;
    /// Keys of the book, in the order of the type.
    pub const KEYS: [&'static str; 4] = ["best-hour", "around", "overtime", "act"];

    /// The weights under their keys.
    #[must_use]
    pub const fn named(&self) -> [(&'static str, f64); 4] {
        [
            (Self::KEYS[0], self.best_hour),
            (Self::KEYS[1], self.around),
            (Self::KEYS[2], self.overtime),
            (Self::KEYS[3], self.act),
        ]
    }

    /// Puts a weight under its key; `None` where no weight is called that.
    #[must_use]
    pub fn with(mut self, key: &str, weight: f64) -> Option<Self> {
        let place = match key {
            "best-hour" => &mut self.best_hour,
            "around" => &mut self.around,
            "overtime" => &mut self.overtime,
            "act" => &mut self.act,
            _ => return None,
        };
        *place = weight;
        Some(self)
    }
}

impl Default for ClockWeights {
    fn default() -> Self {
        Self::DEFAULT
    }
}

/// Whose rules hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RuleSet {
    /// United States, Food Code family and federal meat inspection.
    Us,
    /// Canada.
    Canada,
    /// England.
    England,
    /// European Union.
    Eu,
}

impl RuleSet {
    /// Words of the book.
    pub const ALL: &'static [(&'static str, Self)] = &[
        ("us", Self::Us),
        ("canada", Self::Canada),
        ("england", Self::England),
        ("eu", Self::Eu),
    ];

    /// The set with this word.
    #[must_use]
    pub fn find(word: &str) -> Option<Self> {
        Self::ALL.iter().find(|(w, _)| *w == word).map(|(_, r)| *r)
    }

    /// The word.
    #[must_use]
    pub fn word(self) -> &'static str {
        Self::ALL
            .iter()
            .find(|(_, r)| *r == self)
            .map_or("", |(w, _)| w)
    }
}

/// Daily hours on some days of the week, or on one date.
#[derive(Debug, Clone, PartialEq)]
pub struct Hours {
    /// Weekdays; empty when a date is given.
    pub days: Vec<Weekday>,
    /// One date only.
    pub date: Option<jiff::civil::Date>,
    /// From.
    pub from: Time,
    /// To.
    pub to: Time,
    /// May stay until, at a cost (people only).
    pub may_stay_to: Option<Time>,
}

/// A kind of worker.
#[derive(Debug, Clone, PartialEq)]
pub struct Role {
    /// Id.
    pub id: Id,
    /// Pay (or shadow rate) an hour.
    pub rate: Money,
    /// Takes the learner's time, not the professional's.
    pub learner: bool,
    /// Paid by presence (see the event), so minutes at work are not charged again.
    pub by_presence: bool,
}

/// One person or a group of the same kind.
#[derive(Debug, Clone, PartialEq)]
pub struct People {
    /// Id; members of a group are numbered.
    pub id: Id,
    /// How many.
    pub count: u32,
    /// Role.
    pub role: Id,
    /// Skills.
    pub skills: Vec<String>,
    /// Shifts.
    pub shifts: Vec<Hours>,
}

/// A machine or a place with a capacity.
#[derive(Debug, Clone, PartialEq)]
pub struct Machine {
    /// Id.
    pub id: Id,
    /// Name.
    pub name: String,
    /// Capacity, in its unit.
    pub capacity: f64,
    /// Unit: kg, slots, hooks, places.
    pub unit: CapacityUnit,
    /// One load at a time, with this change-over between loads.
    pub one_load: Option<Elapsed>,
    /// Out of order.
    pub off: bool,
}

/// What a capacity counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CapacityUnit {
    /// Kilograms.
    Kilograms,
    /// Slots, hooks, burners, places.
    Places,
}

/// A scale on the bench.
#[derive(Debug, Clone, PartialEq)]
pub struct Scale {
    /// Name.
    pub name: String,
    /// Finest step.
    pub resolution: Mass,
    /// Most it takes.
    pub capacity: Mass,
    /// How many stand there.
    pub count: u32,
}

/// A supplier.
#[derive(Debug, Clone, PartialEq)]
pub struct Supplier {
    /// Id.
    pub id: Id,
    /// Name.
    pub name: String,
    /// Order must be in by.
    pub cut_off: CutOff,
    /// Days they deliver on; empty: every working day.
    pub delivers: Vec<Weekday>,
    /// Delivery hour.
    pub at: Time,
}

/// The last moment to order.
#[derive(Debug, Clone, PartialEq)]
pub enum CutOff {
    /// So many working days before, at this hour.
    WorkingDays(u32, Time),
    /// So much time before the delivery.
    Ahead(Elapsed),
    /// The last such weekday before, at this hour.
    Weekly(Weekday, Time),
}

/// Something for sale.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer {
    /// Supplier.
    pub supplier: Id,
    /// Ingredient.
    pub item: Id,
    /// Words on the order sheet.
    pub spec: String,
    /// How it is sold.
    pub pack: Pack,
    /// Acceptable instead, with what follows from it.
    pub substitutes: Vec<String>,
}

/// How an item is sold.
#[derive(Debug, Clone, PartialEq)]
pub enum Pack {
    /// By weight, in steps of `step` (or to the gram), at a price per kilogram.
    Loose {
        /// Price per kilogram.
        per_kg: Money,
        /// Smallest step.
        step: Option<Mass>,
    },
    /// Whole packs at a price per pack.
    Packs {
        /// Net weight of a pack.
        net: Mass,
        /// Price per pack.
        price: Money,
        /// What one is called: pack, tub, bunch, loaf.
        word: String,
    },
    /// Whole pieces of catch weight, paid by the kilogram.
    Pieces {
        /// Weight to plan with.
        piece: Mass,
        /// Price per kilogram.
        per_kg: Money,
        /// What one is called.
        word: String,
    },
    /// By the piece, whatever it weighs.
    Each {
        /// Price of one.
        price: Money,
        /// What one is called.
        word: String,
    },
}

impl Supplier {
    /// The last moment to order for a delivery at `delivery`, local time.
    ///
    /// Working days are Monday to Friday. `None` when the date falls out of the calendar.
    #[must_use]
    pub fn order_by(&self, delivery: DateTime) -> Option<DateTime> {
        match &self.cut_off {
            CutOff::WorkingDays(days, at) => {
                let mut date = delivery.date();
                let mut left = *days;
                while left > 0 {
                    date = date.yesterday().ok()?;
                    if !matches!(date.weekday(), Weekday::Saturday | Weekday::Sunday) {
                        left -= 1;
                    }
                }
                Some(date.to_datetime(*at))
            }
            CutOff::Ahead(ahead) => delivery
                .checked_sub(jiff::SignedDuration::from_secs(ahead.seconds()))
                .ok(),
            CutOff::Weekly(day, at) => {
                let mut date = delivery.date();
                loop {
                    if date.weekday() == *day && date.to_datetime(*at) < delivery {
                        return Some(date.to_datetime(*at));
                    }
                    date = date.yesterday().ok()?;
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::{date, time};

    fn supplier(cut_off: CutOff) -> Supplier {
        Supplier {
            id: Id::new("a").unwrap(),
            name: "a".to_owned(),
            cut_off,
            delivers: Vec::new(),
            at: time(8, 0, 0, 0),
        }
    }

    #[test]
    fn a_working_day_before_monday_is_friday() {
        let s = supplier(CutOff::WorkingDays(1, time(11, 0, 0, 0)));
        let by = s.order_by(date(2027, 10, 4).at(8, 30, 0, 0));
        assert_eq!(by, Some(date(2027, 10, 1).at(11, 0, 0, 0)));
    }

    #[test]
    fn a_weekly_cut_off_is_the_last_one_before() {
        let s = supplier(CutOff::Weekly(Weekday::Monday, time(10, 0, 0, 0)));
        let by = s.order_by(date(2027, 10, 5).at(7, 30, 0, 0));
        assert_eq!(by, Some(date(2027, 10, 4).at(10, 0, 0, 0)));
        let early = s.order_by(date(2027, 10, 4).at(9, 0, 0, 0));
        assert_eq!(early, Some(date(2027, 9, 27).at(10, 0, 0, 0)));
    }

    #[test]
    fn two_days_ahead_is_two_days_ahead() {
        let s = supplier(CutOff::Ahead(Elapsed::from_hours(48.0).unwrap()));
        let by = s.order_by(date(2027, 9, 9).at(8, 0, 0, 0));
        assert_eq!(by, Some(date(2027, 9, 7).at(8, 0, 0, 0)));
    }
}
