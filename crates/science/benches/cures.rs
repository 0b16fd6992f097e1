//! How long a cure and a spread of cures take, beside general-purpose solvers of the same equations.
//!
//! `cargo bench -p saltern-science --bench cures` times these alone. `benches/science/run.sh` runs it with `-- figures 9`
//! in turn with the Python side, whose `problem.py` holds the numbers of [`numbers`] again. Results and what they mean:
//! docs/performance.md.

// A bench is an edge: it prints, reads the clock, and stops when its own problem is wrong.
#![allow(clippy::print_stdout, clippy::expect_used, clippy::disallowed_methods)]

mod numbers;

use std::hint::black_box;
use std::time::Instant;

use divan::Bencher;
use science::brine::Strength;
use science::diffusion::fourier_for_mean;
use science::spread::{Input, Outcome, Spread, draws};
use science::transport::{
    Closed, CoverBrine, Flesh, Grid, History, Juice, Params, Phase, Piece, Shape, WaterOut,
    green_weight, run,
};
use units::{Elapsed, Fraction, Length, Temperature};

use numbers::*;

fn main() {
    let words: Vec<String> = std::env::args()
        .skip(1)
        .filter(|word| word != "--bench")
        .collect();
    match words.as_slice() {
        [word, turns] if word == "figures" => {
            figures(turns.parse().expect("figures TURNS: a whole number"));
        }
        _ => divan::main(),
    }
}

fn green(pct: f64) -> Fraction {
    Fraction::percent(pct, green_weight().expect("a base")).expect("a share")
}

/// A piece on its way into a cure.
struct Cure {
    piece: Piece,
    flesh: Flesh,
    params: Params,
    phase: Phase,
}

impl Cure {
    fn of(phase: Phase) -> Self {
        let shape = Shape::Finger {
            thickness: Length::millimetres(THICKNESS_MM).expect("a length"),
            width: Length::millimetres(WIDTH_MM).expect("a length"),
        };
        let params = Params::guess().expect("the guesses");
        let cold = Temperature::celsius(AT_C).expect("a temperature");
        let is =
            |law: science::transport::DiffusivityLaw| law.at(cold).expect("in range").value_m2_s();
        assert!(is(params.salt) == SALT_M2_S && is(params.sugar) == SUGAR_M2_S);
        Self {
            piece: Piece::new(shape, Closed::None).expect("a piece"),
            flesh: Flesh::with_water(&green(WATER_PCT)).expect("flesh"),
            params,
            phase,
        }
    }

    /// Salt and sugar laid on in plenty: the faces stay as they are, and series give the truth.
    fn in_plenty() -> Self {
        Self::of(Phase::DryCure {
            salt: green(PLENTY_SALT_PCT),
            sugar: green(PLENTY_SUGAR_PCT),
            juice: Juice::AllEnters,
            water_out: water_out(),
            time: Elapsed::from_hours(HOURS).expect("a time"),
            temperature: Temperature::celsius(AT_C).expect("a temperature"),
        })
    }

    /// A brine that weakens and thins as the piece takes up salt and gives off water.
    fn in_brine() -> Self {
        Self::of(Phase::Brine {
            brine: CoverBrine {
                water: green(BRINE_WATER_PCT),
                salt: Strength::percent(BRINE_SALT_PCT).expect("a strength"),
                sugar_g_per_kg_water: BRINE_SUGAR_G_PER_KG,
                partition: 1.0,
            },
            water_out: water_out(),
            time: Elapsed::from_hours(HOURS).expect("a time"),
            temperature: Temperature::celsius(AT_C).expect("a temperature"),
        })
    }

    fn run(&self) -> History {
        let phases = std::slice::from_ref(&self.phase);
        run(
            &self.piece,
            &self.flesh,
            &self.params,
            phases,
            Grid::default(),
        )
        .expect("a cure that runs")
    }
}

fn water_out() -> WaterOut {
    WaterOut::per_salt(WATER_OUT, WATER_OUT, WATER_OUT).expect("a ratio")
}

fn inputs() -> [Input; 3] {
    let input = |name, spread, range| Input::new(name, spread, range).expect("an input");
    let (median, factor) = DIFFUSIVITY_M2_S;
    let (mean, sd) = SLAB_MM;
    let (low, mode, high) = SALT_PCT;
    [
        input(
            "diffusivity",
            Spread::LogNormal { median, factor },
            1e-12..=1e-8,
        ),
        input("thickness", Spread::Normal { mean, sd }, 10.0..=40.0),
        input(
            "salt of the brine",
            Spread::Triangular { low, mode, high },
            0.1..=26.0,
        ),
    ]
}

fn hours(fo: f64, v: &[f64]) -> f64 {
    let way_m = v[1] / 2000.0;
    fo * way_m * way_m / v[0] / 3600.0
}

/// Hours until the slab has its share of the final uptake. Its Fourier number is the same for every draw.
fn share_window() -> Outcome {
    let fo = fourier_for_mean(black_box(SHARE)).expect("a share").fo();
    draws(&inputs(), DRAWS, SEED, |v| Some(hours(fo, v))).expect("draws")
}

/// Hours until the mean salt is what it is to be. Every draw turns the series round for itself.
fn salt_window() -> Outcome {
    draws(&inputs(), DRAWS, SEED, salt_hours).expect("draws")
}

fn salt_hours(v: &[f64]) -> Option<f64> {
    let face = WATER_PCT / 100.0 * v[2] / (100.0 - v[2]);
    let fo = fourier_for_mean(MEAN_SALT_KG_PER_KG / face).ok()?.fo();
    Some(hours(fo, v))
}

#[divan::bench(sample_count = 50)]
fn finger_in_plenty(bencher: Bencher) {
    let cure = Cure::in_plenty();
    bencher.bench(|| black_box(&cure).run());
}

#[divan::bench(sample_count = 50)]
fn finger_in_brine(bencher: Bencher) {
    let cure = Cure::in_brine();
    bencher.bench(|| black_box(&cure).run());
}

#[divan::bench(sample_count = 50)]
fn draws_of_share_window() -> Outcome {
    share_window()
}

#[divan::bench(sample_count = 50)]
fn draws_of_salt_window() -> Outcome {
    salt_window()
}

/// Everything once to warm up, then so many turns; one line of JSON a case, times in seconds.
fn figures(turns: usize) {
    for (case, cure) in [("plenty", Cure::in_plenty()), ("brine", Cure::in_brine())] {
        let history = cure.run();
        let times = timed(turns, || black_box(&cure).run());
        let face = history.curve.last().expect("a curve").surface;
        let profile: Vec<String> = history.ends[0]
            .profile
            .iter()
            .map(|place| {
                format!(
                    "[{:?},{:?},{:?}]",
                    place.depth_mm,
                    place.here.salt_g_per_kg(),
                    place.here.sugar_g_per_kg()
                )
            })
            .collect();
        let pair = |here: science::transport::Here| {
            format!("[{:?},{:?}]", here.salt_g_per_kg(), here.sugar_g_per_kg())
        };
        println!(
            "{{\"case\":\"{case}\",\"who\":\"saltern\",\"seconds\":{times:?},\"steps\":{},\"face\":{},\"mean\":{},\
             \"core\":{},\"profile\":[{}]}}",
            history.curve.len() - 1,
            pair(face),
            pair(history.last.mean),
            pair(history.last.core),
            profile.join(",")
        );
    }
    spread_figures("share", turns, share_window);
    spread_figures("salt", turns, salt_window);
    // Single answers, for the other side to hold its own series against.
    let spots: Vec<String> = [5.1, 5.7, 6.3, 6.9]
        .into_iter()
        .map(|pct| {
            let hours = salt_hours(&[DIFFUSIVITY_M2_S.0, SLAB_MM.0, pct]);
            format!("[{pct:?},{:?}]", hours.expect("a time"))
        })
        .collect();
    println!(
        "{{\"case\":\"spots\",\"who\":\"saltern\",\"hours\":[{}]}}",
        spots.join(",")
    );
}

fn spread_figures(case: &str, turns: usize, window: impl Fn() -> Outcome) {
    let outcome = window();
    let times = timed(turns, &window);
    let q = outcome.quantiles().expect("known draws");
    let influences: Vec<String> = outcome
        .influences()
        .iter()
        .map(|i| {
            format!(
                "\"{}\":[{:?},{:?}]",
                i.name, i.rank_correlation, i.variance_share
            )
        })
        .collect();
    println!(
        "{{\"case\":\"{case}\",\"who\":\"saltern\",\"seconds\":{times:?},\"unknown\":{},\"mean\":{:?},\"quantiles\":\
         [{:?},{:?},{:?}],\"influences\":{{{}}}}}",
        outcome.unknown(),
        outcome.mean().expect("known draws"),
        q.p5,
        q.p50,
        q.p95,
        influences.join(",")
    );
}

fn timed<T>(turns: usize, what: impl Fn() -> T) -> Vec<f64> {
    black_box(what());
    (0..turns)
        .map(|_| {
            let begun = Instant::now();
            black_box(what());
            begun.elapsed().as_secs_f64()
        })
        .collect()
}
