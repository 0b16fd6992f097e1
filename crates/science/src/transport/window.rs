//! When a cure may come out: from when all pieces are there, and until none is past it.

use units::{Base, Elapsed, Fraction};

use super::history::Moment;
use super::outside::Supply;
use super::phase::{Contact, Phase};
use super::piece::{Flesh, Grid, Piece};
use super::run::Bench;
use super::substance::Params;
use crate::ScienceError;
use crate::brine::Strength;
use crate::error::within;

/// How near a time is found, as a share of it.
const TIME_FOUND: f64 = 1e-6;

/// What a cure is to reach.
#[derive(Debug, Clone, PartialEq)]
pub enum Goal {
    /// The mean salt has come to this share of where it ends, above 0 and below 1.
    Uptake {
        /// For example 0.95.
        share: f64,
    },
    /// The thickest place has at least this water-phase salt.
    Core {
        /// For example 3.5 %: a calculated core shows no limit to be met.
        water_phase: Strength,
    },
    /// The mean salt lies between two shares of [`finished_piece`].
    Mean {
        /// At least.
        least: Fraction,
        /// At most.
        most: Fraction,
    },
}

/// The base of the shares of [`Goal::Mean`]: the weight as it comes out.
///
/// # Errors
/// None in practice: the name is a constant.
pub fn finished_piece() -> Result<Base, ScienceError> {
    Ok(Base::new("finished piece")?)
}

/// The base of what is laid on, pumped in or poured over: the trimmed raw weight.
///
/// # Errors
/// None in practice: the name is a constant.
pub fn green_weight() -> Result<Base, ScienceError> {
    Ok(Base::new("green weight")?)
}

/// Three pieces of one batch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pieces {
    /// The thinnest.
    pub thin: Piece,
    /// The usual one.
    pub nominal: Piece,
    /// The thickest.
    pub thick: Piece,
}

/// When a batch may come out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Window {
    /// When the thinnest piece is there.
    pub thin_there: Elapsed,
    /// When the usual piece is there.
    pub nominal_there: Elapsed,
    /// From when all pieces are there: when the thickest is.
    pub earliest: Elapsed,
    /// The usual piece in the middle of its range, or the nearest time in the window; the earliest when the
    /// goal has no upper end.
    pub best: Elapsed,
    /// Until when no piece is past the goal; nothing when none gets past it in the time considered.
    pub latest: Option<Elapsed>,
    /// When the thinnest piece is there if substances move as fast as they may.
    pub thin_if_fast: Elapsed,
    /// When the thickest piece is there if they move as slowly as they may; nothing when that takes longer
    /// than the time considered.
    pub thick_if_slow: Option<Elapsed>,
}

/// When pieces of three thicknesses, green at the start, reach a goal in `phase`.
///
/// The time of the phase is the longest considered.
///
/// # Method
/// [`run`](super::run()) for each piece; the time is found by false position on runs that end there.
/// # Valid range
/// A dry cure or a brine. A calculated window plans a day; it shows no limit to be met.
/// # Errors
/// [`ScienceError::GoalNotReached`]; [`ScienceError::WindowShut`] when the thinnest piece is past the goal
/// before the thickest is there; a phase that salts nothing.
pub fn window(
    pieces: &Pieces,
    flesh: &Flesh,
    params: &Params,
    phase: &Phase,
    goal: &Goal,
    grid: Grid,
) -> Result<Window, ScienceError> {
    let search = Search::new(flesh, phase, goal, grid)?;
    let thin_s = search.time_s(&pieces.thin, params, search.least)?;
    let nominal_s = search.time_s(&pieces.nominal, params, search.least)?;
    let thick_s = search.time_s(&pieces.thick, params, search.least)?;
    let never = |found: Result<f64, ScienceError>| match found {
        Ok(seconds) => Ok(Some(seconds)),
        Err(ScienceError::GoalNotReached { .. }) => Ok(None),
        Err(other) => Err(other),
    };
    let (mut best_s, mut latest_s) = (thick_s, None);
    if let Some(most) = search.most {
        latest_s = never(search.time_s(&pieces.thin, params, most))?;
        if let Some(thin_past_s) = latest_s.filter(|latest| *latest < thick_s) {
            return Err(ScienceError::WindowShut {
                thick_h: thick_s / 3600.0,
                thin_h: thin_past_s / 3600.0,
            });
        }
        let middle = 0.5 * (search.least + most);
        if let Some(middle_s) = never(search.time_s(&pieces.nominal, params, middle))? {
            best_s = middle_s.max(thick_s).min(latest_s.unwrap_or(f64::INFINITY));
        }
    }
    let fast_s = search.time_s(&pieces.thin, &params.fastest()?, search.least)?;
    let slow_s = never(search.time_s(&pieces.thick, &params.slowest()?, search.least))?;
    let time = |seconds: f64| Elapsed::from_minutes(seconds / 60.0);
    Ok(Window {
        thin_there: time(thin_s)?,
        nominal_there: time(nominal_s)?,
        earliest: time(thick_s)?,
        best: time(best_s)?,
        latest: latest_s.map(time).transpose()?,
        thin_if_fast: time(fast_s)?,
        thick_if_slow: slow_s.map(time).transpose()?,
    })
}

/// When one piece, green at the start, reaches a goal in `phase`; the least of a range.
///
/// # Method
/// As [`window`].
/// # Errors
/// As [`window`].
/// # Example
/// ```
/// use science::brine::Strength;
/// use science::transport::{Closed, Flesh, Goal, Grid, Params, Phase, Piece, Shape, WaterOut, green_weight, time_to};
/// use units::{Elapsed, Fraction, Length, Temperature};
/// let flesh = Flesh::with_water(&Fraction::percent(72.0, green_weight()?)?)?;
/// let brine = Phase::WideBrine {
///     salt: Strength::percent(15.0)?,
///     sugar_g_per_kg_water: 0.0,
///     water_out: WaterOut::STILL,
///     time: Elapsed::from_days(60.0)?,
///     temperature: Temperature::celsius(4.0)?,
/// };
/// let hours = |mm: f64| -> Result<f64, Box<dyn std::error::Error>> {
///     let fillet = Piece::new(Shape::Slab { thickness: Length::millimetres(mm)? }, Closed::One)?;
///     let goal = Goal::Uptake { share: 0.5 };
///     Ok(time_to(&fillet, &flesh, &Params::guess()?, &brine, &goal, Grid::default())?.hours())
/// };
/// assert_eq!(format!("{:.2}", hours(34.0)? / hours(25.0)?), "1.85");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn time_to(
    piece: &Piece,
    flesh: &Flesh,
    params: &Params,
    phase: &Phase,
    goal: &Goal,
    grid: Grid,
) -> Result<Elapsed, ScienceError> {
    let search = Search::new(flesh, phase, goal, grid)?;
    let seconds = search.time_s(piece, params, search.least)?;
    Ok(Elapsed::from_minutes(seconds / 60.0)?)
}

/// A goal as a figure to reach.
struct Search<'a> {
    flesh: &'a Flesh,
    contact: Contact,
    phase: &'static str,
    goal: &'static str,
    unit: &'static str,
    least: f64,
    most: Option<f64>,
    figure: Box<dyn Fn(&Moment) -> f64>,
    grid: Grid,
}

impl<'a> Search<'a> {
    fn new(flesh: &'a Flesh, phase: &Phase, goal: &Goal, grid: Grid) -> Result<Self, ScienceError> {
        let nothing = ScienceError::None {
            what: "salt in the phase",
        };
        let contact = phase.contact()?.ok_or(nothing.clone())?;
        let ends_at = equilibrium_salt_kg(&contact, flesh.water_kg_per_kg()).ok_or(nothing)?;
        if contact.time <= Elapsed::ZERO {
            return Err(ScienceError::None {
                what: "longest time considered",
            });
        }
        let with = |goal, unit, least, most, figure| Self {
            flesh,
            contact,
            phase: phase.name(),
            goal,
            unit,
            least,
            most,
            figure,
            grid,
        };
        let search = match goal {
            Goal::Uptake { share } => {
                let share = within(
                    "share of the final uptake",
                    "",
                    *share,
                    1e-4,
                    0.999,
                    "all of it takes for ever: ask for 0.95",
                )?;
                let figure = move |m: &Moment| m.mean.salt / ends_at;
                with("uptake", "of the end", share, None, Box::new(figure))
            }
            Goal::Core { water_phase } => {
                let wanted = within(
                    "water-phase salt of the core",
                    "%",
                    water_phase.pct(),
                    1e-3,
                    26.0,
                    "give a strength above nothing and below saturation",
                )?;
                let figure = |m: &Moment| m.core.water_phase_salt_pct();
                with(
                    "water-phase salt of the core",
                    "%",
                    wanted,
                    None,
                    Box::new(figure),
                )
            }
            Goal::Mean { least, most } => {
                let base = finished_piece()?;
                for share in [least, most] {
                    if *share.base() != base {
                        return Err(units::QuantityError::OtherBase {
                            found: share.base().clone(),
                            expected: base,
                        }
                        .into());
                    }
                }
                let what = "mean salt";
                let most = within(what, "%", most.pct(), 1e-3, 26.0, "check the unit")?;
                let least = within(what, "%", least.pct(), 1e-3, most, "give the least first")?;
                let figure = |m: &Moment| m.salt_pct_of_piece();
                with(what, "%", least, Some(most), Box::new(figure))
            }
        };
        Ok(search)
    }

    /// Runs a green piece for `seconds`, every step into `curve`.
    fn run(
        &self,
        piece: &Piece,
        params: &Params,
        seconds: f64,
        curve: &mut Vec<Moment>,
    ) -> Result<(), ScienceError> {
        let mut bench = Bench::new(piece, self.flesh, self.grid);
        curve.clear();
        curve.push(bench.moment(0));
        bench.meet(self.phase, &self.contact, params, seconds, 0, curve)
    }

    /// Seconds until the figure is `wanted`.
    fn time_s(&self, piece: &Piece, params: &Params, wanted: f64) -> Result<f64, ScienceError> {
        let longest = self.contact.time.seconds() as f64;
        let mut curve = Vec::new();
        self.run(piece, params, longest, &mut curve)?;
        let Some(there) = curve.iter().position(|m| (self.figure)(m) >= wanted) else {
            let reached = curve.iter().map(|m| (self.figure)(m)).fold(0.0, f64::max);
            return Err(ScienceError::GoalNotReached {
                goal: self.goal,
                wanted,
                reached,
                unit: self.unit,
                hours: longest / 3600.0,
            });
        };
        if there == 0 {
            return Ok(0.0);
        }
        // The steps differ from run to run, so the bracket is set a little wider than the coarse one.
        let mut early = curve[there - 1].hours * 3600.0 * 0.98;
        let mut late = (curve[there].hours * 3600.0 * 1.02).min(longest);
        let mut short = (self.figure)(&curve[there - 1]) - wanted;
        let mut over = (self.figure)(&curve[there]) - wanted;
        let mut side = 0;
        for _ in 0..60 {
            if late - early <= TIME_FOUND * late {
                break;
            }
            let at = if over - short > 0.0 {
                (early * over - late * short) / (over - short)
            } else {
                0.5 * (early + late)
            };
            self.run(piece, params, at, &mut curve)?;
            let gap = curve.last().map_or(0.0, |m| (self.figure)(m)) - wanted;
            if gap.abs() <= 1e-9 * wanted {
                return Ok(at);
            }
            if gap > 0.0 {
                (late, over) = (at, gap);
                if side == 1 {
                    short *= 0.5;
                }
                side = 1;
            } else {
                (early, short) = (at, gap);
                if side == -1 {
                    over *= 0.5;
                }
                side = -1;
            }
        }
        Ok(late)
    }
}

/// Salt a green piece ends with, kg per kg; nothing when the contact brings none.
fn equilibrium_salt_kg(contact: &Contact, water: f64) -> Option<f64> {
    let r = contact.water_out.unwrap_or(0.0);
    let at_ratio = |ratio: f64| {
        let inside = contact.partition * ratio;
        water * inside / (1.0 + r * inside)
    };
    // What the brine gives up and what the piece takes meet once: the first falls, the second rises.
    let shared = |kg: f64, bath_kg: f64| {
        let (mut low, mut high) = (0.0, kg);
        for _ in 0..80 {
            let salt = 0.5 * (low + high);
            let bath = bath_kg + r * salt;
            if bath <= 0.0 || at_ratio((kg - salt) / bath) > salt {
                low = salt;
            } else {
                high = salt;
            }
        }
        0.5 * (low + high)
    };
    let salt = match contact.salt {
        Supply::Closed => return None,
        Supply::Held { ratio } => at_ratio(ratio),
        Supply::Mixed { kg } => shared(kg, contact.bath_kg),
        Supply::Laid { kg, ratio } => kg.min(at_ratio(ratio)),
        Supply::InJuice { kg, ratio } => {
            let most = at_ratio(ratio);
            if kg - most >= ratio * r * most {
                most
            } else {
                shared(kg, 0.0)
            }
        }
    };
    (salt > 0.0).then_some(salt)
}
