//! x
#![allow(clippy::disallowed_methods, clippy::print_stdout, clippy::expect_used)]
#[path = "../tests/kitchens/mod.rs"]
mod kitchens;
use std::time::Instant;
fn main() {
    for p in [kitchens::chains(5,5,4,1), kitchens::one_long_chain(300, 15), kitchens::one_long_chain(300, 10), kitchens::one_long_chain(300, 9),kitchens::one_long_chain(1000, 30), kitchens::one_long_chain(5_000, 200)] {
        let b = Instant::now();
        let mut seen = vec![];
        let out = schedule::solve(&p, &schedule::Effort::standard(), &mut |pr| { seen.push((pr.steps, pr.placed, b.elapsed().as_millis())); true });
        let what = match out { Ok(schedule::Outcome::Found(s)) => format!("found {} {}", s.value, s.bound), Ok(schedule::Outcome::NotFound(c)) => format!("{:?}", c.facts[0]), o => format!("{o:?}").chars().take(200).collect() };
        println!("{:?} first {:?} last {:?} n {} most {:?} {what}", b.elapsed(), &seen[..seen.len().min(12)], seen.last(), seen.len(), seen.iter().map(|s| s.1).max());
    }
}
