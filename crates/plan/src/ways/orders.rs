//! Coming earlier: a delivery, or the first hour of the event.

use jiff::civil::{DateTime, Weekday};
use kitchen::Id;

use super::Sort;
use super::bench::Bench;
use super::wording::{set, wall};
use crate::concerned::delivery;
use crate::setting::Setting;

/// Delivery days looked back.
const MOST_DAYS: usize = 7;
/// Deliveries of the same day are tried by the half hour.
const STEP_MIN: i64 = 30;

/// Every item whose delivery the clash waits for, at the latest hour that gives a clock.
pub(super) fn deliveries(bench: &mut Bench<'_>) {
    for item in bench.plan.timeline.concerned.deliveries.clone() {
        earlier(bench, &item);
    }
}

fn earlier(bench: &mut Bench<'_>, item: &Id) {
    let scene = bench.scene();
    let Some(now) = delivery(scene, item) else {
        return;
    };
    let offer = scene.site.offers.iter().find(|o| o.item == *item);
    let supplier = offer.and_then(|o| scene.site.suppliers.iter().find(|s| s.id == o.supplier));
    let Some(supplier) = supplier else { return };
    let comes = |day: jiff::civil::Date| match supplier.delivers.as_slice() {
        [] => !matches!(day.weekday(), Weekday::Saturday | Weekday::Sunday),
        days => days.contains(&day.weekday()),
    };
    let first = scene.event.from;
    let mut day = now.date();
    let mut hours: Vec<DateTime> = Vec::new();
    for _ in 0..=2 * MOST_DAYS {
        let at = day.to_datetime(supplier.at);
        if at < first || hours.len() > MOST_DAYS {
            break;
        }
        let in_time = supplier.order_by(at).is_some_and(|by| by >= first);
        if at < now && comes(day) && in_time {
            hours.push(at);
        }
        let Ok(before) = day.yesterday() else { break };
        day = before;
    }
    let key = format!("delivery.{item}");
    let settings = |at: DateTime| vec![set(&key, &at.strftime("%Y-%m-%dT%H:%M").to_string())];
    let what = |at: DateTime| format!("{item} delivered {} instead of {}", wall(at), wall(now));
    match bench.first_of(hours.iter().map(|at| settings(*at))) {
        Ok(i) => {
            let mut at = hours[i];
            if at.date() == now.date() {
                at = later_that_day(bench, at, now, &settings);
            }
            bench.works(Sort::Delivery, what(at), settings(at));
        }
        Err(tried) if !hours.is_empty() => {
            let earliest = hours.last().copied().unwrap_or(now);
            if !together(bench, &key, &hours) {
                bench.fails(Sort::Delivery, what(earliest), tried);
            }
        }
        Err(_) => {}
    }
}

/// With what it is used with: everything that comes after the new hour comes on that day, too, at its own hour.
fn together(bench: &mut Bench<'_>, key: &str, hours: &[DateTime]) -> bool {
    let deliveries = bench.scene().event.deliveries.clone();
    let now = deliveries.iter().map(|d| d.at.date()).min();
    let settings = |at: DateTime| {
        let local = |at: DateTime| at.strftime("%Y-%m-%dT%H:%M").to_string();
        let with = deliveries
            .iter()
            .filter(|d| d.at.date() > at.date() && Some(d.at.date()) == now)
            .map(|d| {
                set(
                    &format!("delivery.{}", d.what),
                    &local(at.date().to_datetime(d.at.time())),
                )
            });
        let mut all: Vec<Setting> = with.collect();
        all.push(set(key, &local(at)));
        all
    };
    let days: Vec<DateTime> = hours
        .iter()
        .copied()
        .filter(|at| now.is_some_and(|day| at.date() < day))
        .collect();
    let Ok(i) = bench.first_of(days.iter().map(|at| settings(*at))) else {
        return false;
    };
    let what = format!(
        "the first deliveries all on {}",
        days[i].strftime("%a %m-%d")
    );
    bench.works(Sort::Delivery, what, settings(days[i]));
    true
}

/// The latest half hour between one that holds and one that does not.
fn later_that_day(
    bench: &mut Bench<'_>,
    holds: DateTime,
    fails: DateTime,
    settings: &impl Fn(DateTime) -> Vec<Setting>,
) -> DateTime {
    let minutes = (fails.duration_since(holds)).as_mins();
    let after = |n: i64| {
        holds
            .checked_add(jiff::SignedDuration::from_mins(n * STEP_MIN))
            .unwrap_or(holds)
    };
    let steps = (minutes + STEP_MIN - 1) / STEP_MIN;
    after(bench.nearest(steps, 0, |n| settings(after(n))))
}

/// Begin a day or more before the event says.
pub(super) fn begin(bench: &mut Bench<'_>) {
    if !bench.plan.timeline.concerned.from {
        return;
    }
    let hours = ["-24h", "-48h", "-72h", "-168h"];
    let settings = |h: &str| vec![set("from", h)];
    match bench.first_of(hours.iter().map(|h| settings(h))) {
        Ok(i) => {
            let days = ["a day", "two days", "three days", "a week"][i];
            bench.works(
                Sort::Begin,
                format!("begin {days} earlier"),
                settings(hours[i]),
            );
        }
        Err(tried) => bench.fails(Sort::Begin, "begin a week earlier".to_owned(), tried),
    }
}
