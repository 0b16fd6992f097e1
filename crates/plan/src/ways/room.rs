//! Room in machines: another place of the house, a repaired machine, more of the same.

use kitchen::site::{CapacityUnit, Machine};
use kitchen::step::{During, Step};
use kitchen::verb::Verb;

use super::Sort;
use super::bench::Bench;
use super::wording::set;
use crate::scene::Scene;
use crate::setting::{Setting, room::capacity_words};

/// More of a machine is tried up to so many times what there is.
const MOST_TIMES: f64 = 3.0;

pub(super) fn machines(bench: &mut Bench<'_>) {
    let concerned = bench.plan.timeline.concerned.machines.clone();
    for id in concerned {
        let machines = &bench.scene().site.machines;
        let Some(machine) = machines.iter().find(|m| m.id == id).cloned() else {
            continue;
        };
        if machine.off {
            let settings = vec![set(&format!("machine.{id}"), "on")];
            let what = format!("{} repaired, or another one like it", machine.name);
            one(bench, Sort::Machine, what, settings);
        }
        for other in stand_ins(bench.scene(), &machine) {
            let settings = vec![set(&format!("machine.{id}"), other.id.as_str())];
            let what = format!("{} instead of {}", other.name, machine.name);
            one(bench, Sort::OtherMachine, what, settings);
        }
        if !machine.off {
            more(bench, &machine);
        }
    }
}

fn one(bench: &mut Bench<'_>, sort: Sort, what: String, settings: Vec<Setting>) {
    match bench.holds(&settings) {
        Ok(()) => bench.works(sort, what, settings),
        Err(why) => bench.fails(sort, what, (settings, why)),
    }
}

/// Machines that can take what goes to this one: of its kind, or a cold place for what only has to be kept cold.
fn stand_ins(scene: &Scene, machine: &Machine) -> Vec<Machine> {
    let of_its_kind = |m: &Machine| {
        m.id != machine.id
            && !m.off
            && m.unit == machine.unit
            && m.one_load.is_some() == machine.one_load.is_some()
    };
    let all: Vec<Machine> = scene
        .site
        .machines
        .iter()
        .filter(|m| of_its_kind(m))
        .cloned()
        .collect();
    if machine.one_load.is_some() {
        return all;
    }
    if !only_cold(scene, machine) {
        return Vec::new();
    }
    all.into_iter().filter(|m| only_cold(scene, m)).collect()
}

/// Whether a machine is used in this book, and for nothing but keeping cold what waits: no drying, smoking or heating.
fn only_cold(scene: &Scene, machine: &Machine) -> bool {
    let steps = scene.book.recipes.values().flat_map(|r| &r.steps);
    let mut users = steps
        .filter(|s| s.uses.iter().any(|u| u.machine == machine.id))
        .peekable();
    let waits = |s: &Step| {
        let cold = s.wait.at_most.is_some() && !matches!(s.verb, Verb::AirDry | Verb::Hang);
        let mut uses = s.uses.iter().filter(|u| u.machine == machine.id);
        cold && uses.all(|u| matches!(u.during, During::Wait | During::All))
    };
    users.peek().is_some() && users.all(waits)
}

/// The least more of a machine that gives a clock: by the place, or once and twice as many kilograms.
fn more(bench: &mut Bench<'_>, machine: &Machine) {
    let key = format!("machine.{}", machine.id);
    let settings = |n: f64| vec![set(&key, &capacity_words(machine, n))];
    let have = machine.capacity;
    if machine.unit == CapacityUnit::Kilograms {
        let times = [2.0, MOST_TIMES];
        let ladder: Vec<_> = times.iter().map(|t| settings(have * t)).collect();
        match bench.first_of(ladder.clone()) {
            Ok(i) => {
                let what = match i {
                    0 => format!("a second {} beside it", machine.name),
                    _ => format!("two more like {} beside it", machine.name),
                };
                bench.works(Sort::Machine, what, ladder[i].clone());
            }
            Err(tried) => bench.fails(
                Sort::Machine,
                format!("two more like {} beside it", machine.name),
                tried,
            ),
        }
        return;
    }
    // Whole places; a capacity is at most a million of them.
    #[allow(clippy::cast_possible_truncation)]
    let (now, most) = (have.floor() as i64, (have * MOST_TIMES).ceil() as i64);
    #[allow(clippy::cast_precision_loss)]
    let with = |n: i64| settings(n as f64);
    match bench.holds(&with(most)) {
        Ok(()) => {
            let n = bench.nearest(now, most, with);
            let what = format!("{} more places like those of {}", n - now, machine.name);
            bench.works(Sort::Machine, what, with(n));
        }
        Err(why) => bench.fails(
            Sort::Machine,
            format!("{} more places like those of {}", most - now, machine.name),
            (with(most), why),
        ),
    }
}
