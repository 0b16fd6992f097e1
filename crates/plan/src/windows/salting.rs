//! Salt going in: when a goal is reached, and how salt lies in the piece when it comes out.

use kitchen::ingredient::Role;
use kitchen::step::{BaseKind, Goal, Piece as Written, Step};
use kitchen::verb::Verb;
use science::ScienceError;
use science::brine::Strength;
use science::transport::{
    self, Closed, CoverBrine, Flesh, Goal as Salting, Grid, Juice, Params, Phase, Piece, Pieces,
    Shape, WaterOut,
};
use units::{Elapsed, Fraction, Length, Temperature};

use super::{Places, Span, text, three};
use crate::demand::Flow;
use crate::scene::Scene;

/// The longest salting considered.
const LONGEST_DAYS: f64 = 60.0;
/// How warm the flesh is when a wait names no ceiling, °C (house value).
const COLD_C: f64 = 4.0;
/// Spread of a diffusivity somebody fitted to weighings of the house.
const FITTED_SPREAD: f64 = 1.5;
/// Activation energy used beside a fitted diffusivity, kJ/mol (from memory, middle of 20 to 30).
const ACTIVATION_KJ_MOL: f64 = 25.0;

/// What a step salts: the flesh, what meets it, and how fast salt moves in it.
struct Bench {
    flesh: Flesh,
    phase: Phase,
    params: Params,
}

fn bench(
    scene: &Scene,
    step: &Step,
    flow: &Flow,
    piece: &Written,
    water_pct: Option<f64>,
    time: Elapsed,
) -> Result<Bench, String> {
    let water = water_pct.ok_or_else(|| {
        "the water of the flesh is not known: add it to the ingredient".to_owned()
    })?;
    let green = transport::green_weight().map_err(text)?;
    let share = |pct: f64| Fraction::percent(pct, green.clone()).map_err(text);
    Ok(Bench {
        flesh: Flesh::with_water(&share(water)?).map_err(text)?,
        phase: phase(scene, step, flow, &share, time)?,
        params: params(piece).map_err(text)?,
    })
}

/// The written shape at another thickness.
fn shaped(piece: &Written, thickness: Length) -> Result<Piece, String> {
    let one_side = |open_from: u32| {
        if piece.open_faces >= open_from {
            Closed::None
        } else {
            Closed::One
        }
    };
    let (shape, closed) = match piece.shape.as_str() {
        "cylinder" => (
            Shape::Cylinder {
                diameter: thickness,
            },
            Closed::None,
        ),
        "finger" => (
            Shape::Finger {
                thickness,
                width: thickness,
            },
            one_side(4),
        ),
        _ => (Shape::Slab { thickness }, one_side(2)),
    };
    Piece::new(shape, closed).map_err(text)
}

/// When pieces of three thicknesses reach a goal.
pub(super) fn salting(
    scene: &Scene,
    step: &Step,
    flow: &Flow,
    piece: &Written,
    goal: Goal,
    water_pct: Option<f64>,
) -> Result<Span, String> {
    let longest = Elapsed::from_days(LONGEST_DAYS).map_err(text)?;
    let Bench {
        flesh,
        phase,
        params,
    } = bench(scene, step, flow, piece, water_pct, longest)?;
    let goal = match goal {
        Goal::Equilibrium(part) => Salting::Uptake { share: part },
        Goal::WaterPhaseSalt(pct) => Salting::Core {
            water_phase: Strength::percent(pct).map_err(text)?,
        },
        Goal::Salt { low, high } => {
            let base = transport::finished_piece().map_err(text)?;
            let of = |pct| Fraction::percent(pct, base.clone()).map_err(text);
            Salting::Mean {
                least: of(low)?,
                most: of(high)?,
            }
        }
        _ => return Err("not a goal of salting".to_owned()),
    };
    let [thin, nominal, thick] = three(piece);
    let pieces = Pieces {
        thin: shaped(piece, thin)?,
        nominal: shaped(piece, nominal)?,
        thick: shaped(piece, thick)?,
    };
    let w = transport::window(&pieces, &flesh, &params, &phase, &goal, Grid::default())
        .map_err(text)?;
    Ok(Span {
        thin: w.thin_there,
        nominal: w.nominal_there,
        thick: w.earliest,
        best: w.best,
        latest: w.latest,
        thick_if_slow: w.thick_if_slow,
    })
}

fn params(piece: &Written) -> Result<Params, ScienceError> {
    let guess = Params::guess()?;
    match piece.salt_diffusivity_m2_s {
        None => Ok(guess),
        Some(d) => Ok(Params {
            salt: transport::DiffusivityLaw::new(
                science::diffusion::Diffusivity::m2_per_s(d)?,
                Temperature::celsius(COLD_C)?,
                ACTIVATION_KJ_MOL,
                FITTED_SPREAD,
            )?,
            ..guess
        }),
    }
}

/// What the step lays on or pours over, per green weight.
fn phase(
    scene: &Scene,
    step: &Step,
    flow: &Flow,
    share: &dyn Fn(f64) -> Result<Fraction, String>,
    time: Elapsed,
) -> Result<Phase, String> {
    let (mut salt, mut sugar, mut water) = (0.0, 0.0, 0.0);
    for (line, g) in step.lines.iter().zip(&flow.lines) {
        let Some(item) = scene.book.ingredients.get(line.item.id()) else {
            // Another recipe's liquor counts as its water.
            water += g.made_g;
            continue;
        };
        salt += g.made_g * item.salt_pct() / 100.0;
        match item.role {
            Some(Role::Sugar) => sugar += g.made_g,
            Some(Role::Water) => water += g.made_g,
            _ => {}
        }
    }
    if flow.in_g <= 0.0 || salt <= 0.0 {
        return Err("the step adds no salt".to_owned());
    }
    let temperature = match step.wait.at_most {
        Some(t) => t,
        None => Temperature::celsius(COLD_C).map_err(text)?,
    };
    let of_green = |g: f64| g / flow.in_g * 100.0;
    match (step.verb, step.base.kind) {
        (Verb::Brine, BaseKind::Inflow) => Ok(Phase::Brine {
            brine: CoverBrine {
                water: share(of_green(water))?,
                salt: Strength::percent(salt / (salt + water) * 100.0).map_err(text)?,
                sugar_g_per_kg_water: sugar / water * 1000.0,
                partition: 1.0,
            },
            water_out: WaterOut::STILL,
            time,
            temperature,
        }),
        _ => Ok(Phase::DryCure {
            salt: share(of_green(salt))?,
            sugar: share(of_green(sugar))?,
            juice: Juice::AllEnters,
            water_out: WaterOut::STILL,
            time,
            temperature,
        }),
    }
}

/// How salt lies in the thickest piece after so long: mean, surface, and the place it reaches last.
pub(super) fn places(
    scene: &Scene,
    step: &Step,
    flow: &Flow,
    piece: &Written,
    water_pct: Option<f64>,
    waited: Elapsed,
) -> Result<Places, String> {
    let Bench {
        flesh,
        phase,
        params,
    } = bench(scene, step, flow, piece, water_pct, waited)?;
    let [_, _, thick] = three(piece);
    let history = transport::run(
        &shaped(piece, thick)?,
        &flesh,
        &params,
        &[phase],
        Grid::default(),
    )
    .map_err(text)?;
    let last = history.last;
    Ok(Places {
        waited,
        mean_pct: last.mean.water_phase_salt_pct(),
        surface_pct: last.surface.water_phase_salt_pct(),
        core_pct: last.core.water_phase_salt_pct(),
    })
}
