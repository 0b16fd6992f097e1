//! temporary
#![allow(clippy::disallowed_methods, clippy::print_stdout, clippy::expect_used)]
#[path = "../tests/kitchens/mod.rs"]
mod kitchens;
use schedule::{Effort, Outcome, solve};
use std::time::Instant;
fn main() {
    let families = [("5c4p5d", 5, 5, 4), ("40c14d", 40, 14, 10), ("40c11d", 40, 11, 10), ("40c9d", 40, 9, 10), ("40c3p20d", 40, 20, 3), ("40c5p14d", 40, 14, 5)];
    let mut all = Vec::new();
    std::thread::scope(|scope| {
        let mut handles = Vec::new();
        for half in 0..2 {
            handles.push(scope.spawn(move || {
                let mut rows = Vec::new();
                for (index, &(name, c, d, p)) in families.iter().enumerate() {
                    for spread in 1..=6 {
                        if spread % 2 != half { continue; }
                        let problem = kitchens::chains(c, d, p, spread);
                        let begun = Instant::now();
                        let mut first = None;
                        let out = solve(&problem, &Effort { seed: spread, ..Effort::standard() }, &mut |pr| { if first.is_none() && pr.best.is_some() { first = Some(begun.elapsed().as_millis()); } true }).expect("ok");
                        let took = begun.elapsed().as_millis();
                        rows.push((index, name, match out { Outcome::Found(s) => Some((s.value / s.bound).ln()), _ => None }, took, first));
                    }
                }
                rows
            }));
        }
        for h in handles { all.extend(h.join().expect("joined")); }
    });
    for (index, f) in families.iter().enumerate() {
        let rows: Vec<_> = all.iter().filter(|r| r.0 == index).collect();
        let found: Vec<f64> = rows.iter().filter_map(|r| r.2).collect();
        println!("{:10} found {}/{} ratio {:.4} mean ms {} max ms {} firsts {:?}", f.0, found.len(), rows.len(), (found.iter().sum::<f64>() / found.len() as f64).exp(), rows.iter().map(|r| r.3).sum::<u128>() / rows.len() as u128, rows.iter().map(|r| r.3).max().unwrap_or(0), rows.iter().map(|r| r.4.unwrap_or(0)).collect::<Vec<_>>());
    }
}
