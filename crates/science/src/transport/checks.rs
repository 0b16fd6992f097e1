//! The solver against the series, its own balance, and the laws of the kitchen.

mod laws;
mod phases;
mod series;
mod windows;

use units::{Elapsed, Fraction, Length, Temperature};

use super::*;
use crate::brine::Strength;
use crate::diffusion::Diffusivity;

/// The promise for eighty cells: within a thousandth of the series from Fourier number 0.05 on.
const SERIES: f64 = 1e-3;

/// What rounding may leave of a balance after some hundreds of steps.
const ROUNDING: f64 = 1e-12;

fn mm(mm: f64) -> Length {
    Length::millimetres(mm).unwrap()
}

fn hours(hours: f64) -> Elapsed {
    Elapsed::from_hours(hours).unwrap()
}

fn cold() -> Temperature {
    Temperature::celsius(4.0).unwrap()
}

fn green(pct: f64) -> Fraction {
    Fraction::percent(pct, green_weight().unwrap()).unwrap()
}

fn strength(pct: f64) -> Strength {
    Strength::percent(pct).unwrap()
}

fn flesh() -> Flesh {
    Flesh::with_water(&green(72.0)).unwrap()
}

/// Both substances at 1e-9 m²/s at 4 °C: with a way of 10 mm, 100 000 s is Fourier number 1.
fn params() -> Params {
    let law = DiffusivityLaw::new(Diffusivity::m2_per_s(1e-9).unwrap(), cold(), 25.0, 3.0).unwrap();
    Params {
        salt: law,
        sugar: law,
    }
}

fn slab(thickness: f64, closed: Closed) -> Piece {
    Piece::new(
        Shape::Slab {
            thickness: mm(thickness),
        },
        closed,
    )
    .unwrap()
}

fn finger(thickness: f64, width: f64, closed: Closed) -> Piece {
    let shape = Shape::Finger {
        thickness: mm(thickness),
        width: mm(width),
    };
    Piece::new(shape, closed).unwrap()
}

fn cylinder(diameter: f64) -> Piece {
    let shape = Shape::Cylinder {
        diameter: mm(diameter),
    };
    Piece::new(shape, Closed::None).unwrap()
}

fn at_fourier(fo: f64) -> Elapsed {
    Elapsed::from_seconds((fo * 1e5).round() as i64).unwrap()
}

fn wide(pct: f64, time: Elapsed) -> Phase {
    Phase::WideBrine {
        salt: strength(pct),
        sugar_g_per_kg_water: 50.0,
        water_out: WaterOut::STILL,
        time,
        temperature: cold(),
    }
}

fn ratio(r: f64) -> WaterOut {
    WaterOut::per_salt(r, r, r).unwrap()
}

fn cure(salt: f64, sugar: f64, juice: Juice, r: f64, time: Elapsed) -> Phase {
    Phase::DryCure {
        salt: green(salt),
        sugar: green(sugar),
        juice,
        water_out: ratio(r),
        time,
        temperature: cold(),
    }
}

fn cover(water: f64, pct: f64, partition: f64, r: f64, time: Elapsed) -> Phase {
    Phase::Brine {
        brine: CoverBrine {
            water: green(water),
            salt: strength(pct),
            sugar_g_per_kg_water: 30.0,
            partition,
        },
        water_out: ratio(r),
        time,
        temperature: cold(),
    }
}

fn rest(time: Elapsed) -> Phase {
    Phase::Rest {
        time,
        temperature: cold(),
    }
}

fn took(piece: &Piece, phases: &[Phase], grid: Grid) -> History {
    run(piece, &flesh(), &params(), phases, grid).unwrap()
}
