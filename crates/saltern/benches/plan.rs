//! How long a plan takes, always beside a reference of the same run.
//!
//! `cargo bench -p saltern --bench plan` prints the tables, then the ratios. `-- write-book 40 FOLDER` writes the book of
//! 40 components for 1,000 covers instead, to time the whole program with. Figures and what they mean: docs/performance.md.

// A bench is an edge: it prints, reads the clock, writes where it is told to, and stops when its own book is wrong.
#![allow(clippy::print_stdout, clippy::expect_used, clippy::panic)]

mod large_book;
mod ratios;

use std::path::Path;

use divan::Bencher;
use schedule::Effort;

use ratios::{COVERS, SIZES, feast};

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = args
        .iter()
        .map(String::as_str)
        .filter(|a| *a != "--bench")
        .collect();
    match words.as_slice() {
        ["write-book", components, folder] => write_book(components, Path::new(folder)),
        ["ratios"] => ratios::print(),
        words => {
            divan::main();
            // A filter or the test mode asks for something else than the whole run.
            if words.is_empty() && args.iter().any(|a| a == "--bench") {
                ratios::print();
            }
        }
    }
}

fn write_book(components: &str, folder: &Path) {
    let components = components
        .parse()
        .expect("write-book COMPONENTS FOLDER: a whole number of components");
    for file in large_book::files(feast(components)) {
        let path = folder.join(&file.name);
        std::fs::create_dir_all(path.parent().unwrap_or(folder)).expect("the folder can be made");
        std::fs::write(&path, &file.bytes).expect("the file can be written");
    }
    println!(
        "{components} components for {COVERS} covers in {}, event {}",
        folder.display(),
        large_book::EVENT
    );
}

#[divan::bench(sample_count = 30)]
fn read_demo_book() -> kitchen::Book {
    ratios::read(&book::demo::files())
}

#[divan::bench(sample_count = 30)]
fn plan_demo_from_text() -> plan::Plan {
    ratios::plan(&ratios::read(&book::demo::files()), "harvest-supper")
}

#[divan::bench(sample_count = 30)]
fn json_of_demo_plan(bencher: Bencher<'_, '_>) {
    let made = ratios::plan(&ratios::read(&book::demo::files()), "harvest-supper");
    bencher.bench_local(|| ratios::json(&made));
}

#[divan::bench(args = SIZES, sample_count = 5, sample_size = 1)]
fn read_large_book(bencher: Bencher<'_, '_>, components: usize) {
    let files = large_book::files(feast(components));
    bencher.bench_local(|| ratios::read(&files));
}

#[divan::bench(args = SIZES, sample_count = 3, sample_size = 1)]
fn plan_large_book(bencher: Bencher<'_, '_>, components: usize) {
    let read = ratios::read(&large_book::files(feast(components)));
    bencher.bench_local(|| ratios::plan(&read, large_book::EVENT));
}

#[divan::bench(args = SIZES, sample_count = 3, sample_size = 1)]
fn schedule_alone(bencher: Bencher<'_, '_>, components: usize) {
    let problem = ratios::problem(&ratios::read(&large_book::files(feast(components))));
    bencher.bench_local(|| schedule::solve(&problem, &Effort::standard(), &mut |_| true));
}
