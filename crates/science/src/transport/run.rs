//! Taking a piece through its phases.

use super::field::{Faces, Section, Stepper};
use super::history::{Balance, Here, History, Moment, PhaseEnd, Place};
use super::outside::{Link, Stepped, Supply, Trial};
use super::phase::{Contact, Phase, per_water, sugar_ratio};
use super::piece::{Flesh, Grid, Piece};
use super::substance::Params;
use crate::ScienceError;
use crate::error::within;

/// Fewest steps of a phase.
const FEWEST_STEPS: f64 = 48.0;
/// Most steps of a phase: reached only long after everything is even.
const MOST_STEPS: f64 = 2000.0;
/// The first step times the fastest decay of the grid. Below `1 ÷ (√2 − 1)` the two-stage step cannot
/// overshoot, so a fresh face makes no ripple.
const FIRST_STEP: f64 = 2.4;
/// Fraction of its water a piece may lose before the undeformed piece is no picture of it.
const DRIEST: f64 = 0.3;
/// Times its green water at which a piece is no longer the piece it was.
const WETTEST: f64 = 3.0;

/// Takes a piece of green flesh through `phases`.
///
/// # Method
/// See [the module](super). Deterministic: the same arguments give the same figures.
/// # Valid range
/// −2 to 30 °C; the water, of a face and of the whole, stays above three tenths of what it
/// was and below three times.
/// # Errors
/// A phase outside its own range; a phase that needs an open face on a piece with none; a piece that
/// dries beyond the range.
/// # Example
/// ```
/// use science::transport::{Closed, Flesh, Grid, Juice, Params, Phase, Piece, Shape, WaterOut, run};
/// use units::{Base, Elapsed, Fraction, Length, Temperature};
/// let green = Base::new("green weight")?;
/// let side = Piece::new(Shape::Slab { thickness: Length::millimetres(25.0)? }, Closed::One)?;
/// let flesh = Flesh::with_water(&Fraction::percent(72.0, green.clone())?)?;
/// let cure = Phase::DryCure {
///     salt: Fraction::percent(2.5, green.clone())?,
///     sugar: Fraction::percent(1.5, green)?,
///     juice: Juice::AllEnters,
///     water_out: WaterOut::per_salt(1.0, 2.0, 4.0)?,
///     time: Elapsed::from_hours(22.0)?,
///     temperature: Temperature::celsius(3.0)?,
/// };
/// let history = run(&side, &flesh, &Params::guess()?, &[cure], Grid::default())?;
/// assert_eq!(format!("{:.1}", history.last.mean.salt_g_per_kg()), "25.0");
/// assert!(history.last.core.water_phase_salt_pct() < 0.5);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn run(
    piece: &Piece,
    flesh: &Flesh,
    params: &Params,
    phases: &[Phase],
    grid: Grid,
) -> Result<History, ScienceError> {
    let mut bench = Bench::new(piece, flesh, grid);
    let mut curve = vec![bench.moment(0)];
    let mut ends = Vec::with_capacity(phases.len());
    for (index, phase) in phases.iter().enumerate() {
        if let Some(contact) = phase.contact()? {
            let seconds = contact.time.seconds() as f64;
            bench.meet(phase.name(), &contact, params, seconds, index, &mut curve)?;
        } else {
            bench.handle(phase)?;
            curve.push(bench.moment(index));
        }
        let closed = bench.moment(index);
        ends.push(PhaseEnd {
            phase: phase.name(),
            moment: curve.last().copied().unwrap_or(closed),
            profile: bench.profile(),
        });
    }
    let last = bench.moment(phases.len().saturating_sub(1));
    let [salt, sugar, water] = bench.balances();
    Ok(History {
        curve,
        ends,
        last,
        salt,
        sugar,
        water,
    })
}

/// A piece on the bench, between phases.
#[derive(Debug)]
pub(super) struct Bench {
    section: Section,
    stepper: Stepper,
    trial: Trial,
    grid: Grid,
    way_m: f64,
    salt: Vec<f64>,
    sugar: Vec<f64>,
    /// Water plus what the salt has moved of it, `w + r s`: no flux changes it.
    still: Vec<f64>,
    water_out: f64,
    green_water: f64,
    seconds: f64,
    salt_faces: Faces,
    sugar_faces: Faces,
    salt_level: Option<f64>,
    sugar_level: Option<f64>,
    ledger: [Balance; 3],
}

impl Bench {
    pub(super) fn new(piece: &Piece, flesh: &Flesh, grid: Grid) -> Self {
        let (across, along) = piece.lines(grid);
        let section = Section { across, along };
        let cells = section.cells();
        let water = flesh.water_kg_per_kg();
        let mut ledger = [Balance::default(); 3];
        ledger[2].green = water;
        Self {
            stepper: Stepper::new(&section),
            trial: Trial::new(&section),
            grid,
            way_m: piece.way_m(),
            salt: vec![0.0; cells],
            sugar: vec![0.0; cells],
            still: vec![water; cells],
            water_out: 0.0,
            green_water: water,
            seconds: 0.0,
            salt_faces: section.faces(),
            sugar_faces: section.faces(),
            salt_level: None,
            sugar_level: None,
            ledger,
            section,
        }
    }

    /// Keeps the piece in `contact` for `seconds`, adding every step to `curve`.
    pub(super) fn meet(
        &mut self,
        name: &'static str,
        contact: &Contact,
        params: &Params,
        seconds: f64,
        index: usize,
        curve: &mut Vec<Moment>,
    ) -> Result<(), ScienceError> {
        let closed = contact.salt == Supply::Closed && contact.sugar == Supply::Closed;
        if !closed && !self.section.has_face() {
            return Err(ScienceError::NoOpenFace { phase: name });
        }
        if let Some(water_out) = contact.water_out {
            self.answer_with(water_out);
        }
        let link = Link {
            water_out: self.water_out,
            partition: contact.partition,
            bath_kg: contact.bath_kg,
        };
        self.check_swelling(contact, link)?;
        let d = [
            params.salt.at(contact.temperature)?.value_m2_s(),
            params.sugar.at(contact.temperature)?.value_m2_s(),
        ];
        let still = &self.still;
        self.salt_faces.fill(&self.section, |cell| still[cell]);

        let mut outside = Outside {
            salt: contact.salt,
            sugar: contact.sugar,
            link,
        };
        self.offer(&outside, 1.0);
        let steps = self.steps(d[0].max(d[1]), seconds);
        curve.reserve(steps + 2);
        let start = self.seconds;
        for k in 1..=steps {
            let until = start + seconds * (k as f64 / steps as f64).powi(2);
            self.step(&mut outside, d, until - self.seconds);
            self.seconds = until;
            self.stepper.turn();
            curve.push(self.moment(index));
        }
        self.offer(&outside, -1.0);
        self.salt_level = None;
        self.sugar_level = None;
        self.check_water()
    }

    /// Steps whose times grow as the square of their number: enough that the first cannot overshoot.
    fn steps(&self, d_m2_s: f64, seconds: f64) -> usize {
        if seconds <= 0.0 {
            return 0;
        }
        self.grid.steps.unwrap_or_else(|| {
            let cell = self.finest_m();
            let fastest = 4.0 * d_m2_s / (cell * cell);
            let needed = (seconds * fastest / FIRST_STEP).sqrt().ceil();
            needed.clamp(FEWEST_STEPS, MOST_STEPS) as usize
        })
    }

    fn finest_m(&self) -> f64 {
        let (across, along) = (self.section.across.cell_m, self.section.along.cell_m);
        if along > 0.0 {
            across.min(along)
        } else {
            across
        }
    }

    fn step(&mut self, outside: &mut Outside, d: [f64; 2], seconds: f64) {
        let salt = self.salt_step(outside, d[0] * seconds);
        let sugar = self.sugar_step(outside, d[1] * seconds, salt);
        self.salt_level = salt.level;
        self.sugar_level = sugar.level;
        outside.link.bath_kg += self.water_out * salt.inflow;
        self.ledger[0].through_faces += salt.inflow;
        self.ledger[1].through_faces += sugar.inflow;
        self.ledger[2].through_faces -= self.water_out * salt.inflow;
    }

    fn salt_step(&mut self, outside: &mut Outside, d_dt_m2: f64) -> Stepped {
        self.trial.step(
            &self.section,
            &mut self.stepper,
            d_dt_m2,
            &mut self.salt,
            &self.salt_faces,
            &mut outside.salt,
            outside.link,
        )
    }

    fn sugar_step(&mut self, outside: &mut Outside, d_dt_m2: f64, salt: Stepped) -> Stepped {
        let (still, cells, r) = (&self.still, &self.salt, self.water_out);
        // The water at the face answers the salt there.
        match salt.level {
            Some(level) => self
                .sugar_faces
                .fill(&self.section, |cell| still[cell] * (1.0 - r * level)),
            None => self
                .sugar_faces
                .fill(&self.section, |cell| still[cell] - r * cells[cell]),
        }
        let link = Link {
            water_out: 0.0,
            bath_kg: outside.link.bath_kg + 0.5 * r * salt.inflow,
            ..outside.link
        };
        self.trial.step(
            &self.section,
            &mut self.stepper,
            d_dt_m2,
            &mut self.sugar,
            &self.sugar_faces,
            &mut outside.sugar,
            link,
        )
    }

    /// From now on water answers salt in this ratio.
    fn answer_with(&mut self, water_out: f64) {
        let change = water_out - self.water_out;
        for (still, salt) in self.still.iter_mut().zip(&self.salt) {
            *still += change * salt;
        }
        self.water_out = water_out;
    }

    /// A pump or a rinse.
    fn handle(&mut self, phase: &Phase) -> Result<(), ScienceError> {
        match phase {
            Phase::Pump {
                gain,
                salt,
                sugar_g_per_kg_water,
            } => {
                let gain = within(
                    "pump",
                    "% of the green weight",
                    gain.pct(),
                    0.0,
                    50.0,
                    "10 to 20 % is usual",
                )? / 100.0;
                let (salt, sugar) = (per_water(*salt), sugar_ratio(*sugar_g_per_kg_water)?);
                let water = gain / (1.0 + salt + sugar);
                let added = [water * salt, water * sugar, water];
                for i in 0..self.salt.len() {
                    self.salt[i] += added[0];
                    self.sugar[i] += added[1];
                    self.still[i] += added[2] + self.water_out * added[0];
                }
                for (balance, kg) in self.ledger.iter_mut().zip(added) {
                    balance.put_in += kg;
                }
            }
            Phase::Rinse { film } => {
                if !self.section.has_face() {
                    return Err(ScienceError::NoOpenFace { phase: "rinse" });
                }
                let depth = within(
                    "film a rinse reaches",
                    "mm",
                    film.mm(),
                    0.0,
                    self.way_m * 1000.0 / 2.0,
                    "a rinse reaches a millimetre or two; longer is a brine of no strength",
                )? / 1000.0;
                let film = self.section.film(depth);
                let width = self.section.along.cells();
                for (i, part) in film.into_iter().enumerate() {
                    let (salt, sugar) = (part * self.salt[i], part * self.sugar[i]);
                    let volume = self.section.across.volume[i / width]
                        * self.section.along.volume[i % width];
                    self.salt[i] -= salt;
                    self.sugar[i] -= sugar;
                    self.still[i] += salt + sugar - self.water_out * salt;
                    self.ledger[0].rinsed += volume * salt;
                    self.ledger[1].rinsed += volume * sugar;
                    self.ledger[2].put_in += volume * (salt + sugar);
                }
            }
            _ => {}
        }
        Ok(())
    }

    /// A face whose water would be gone, or would grow without bound, is outside the two-flux model.
    fn check_swelling(&self, contact: &Contact, link: Link) -> Result<(), ScienceError> {
        let ratio = match contact.salt {
            Supply::Closed => return Ok(()),
            Supply::Held { ratio } | Supply::Laid { ratio, .. } | Supply::InJuice { ratio, .. } => {
                ratio
            }
            Supply::Mixed { kg } => kg / contact.bath_kg,
        };
        within(
            "water left at the face, over the water there was",
            "",
            1.0 / (1.0 + link.water_out * link.partition * ratio),
            DRIEST,
            WETTEST,
            "this ratio of water to salt does not belong to so strong a brine",
        )?;
        Ok(())
    }

    fn check_water(&self) -> Result<(), ScienceError> {
        let water = self.section.mean(&self.still) - self.water_out * self.section.mean(&self.salt);
        within(
            "water of the piece, over the water when green",
            "",
            water / self.green_water,
            DRIEST,
            WETTEST,
            "this ratio of water to salt does not belong to so much salt",
        )?;
        Ok(())
    }

    fn offer(&mut self, outside: &Outside, sign: f64) {
        for (balance, supply) in self.ledger.iter_mut().zip([outside.salt, outside.sugar]) {
            let kg = match supply {
                Supply::Closed | Supply::Held { .. } => 0.0,
                Supply::Mixed { kg } | Supply::Laid { kg, .. } | Supply::InJuice { kg, .. } => kg,
            };
            if sign > 0.0 {
                balance.offered += kg;
            } else {
                balance.left_outside += kg;
            }
        }
    }

    fn here(&self, salt: f64, sugar: f64, still: f64) -> Here {
        Here {
            salt,
            sugar,
            water: still - self.water_out * salt,
        }
    }

    pub(super) fn moment(&self, phase: usize) -> Moment {
        let section = &self.section;
        let of = |what: &dyn Fn(&[f64]) -> f64| {
            self.here(what(&self.salt), what(&self.sugar), what(&self.still))
        };
        let mean = of(&|values| section.mean(values));
        let mut surface = of(&|values| section.closed_face(values));
        let cell = section.face_cell();
        if let Some(level) = self.salt_level {
            surface = self.here(level * self.still[cell], surface.sugar, self.still[cell]);
        }
        if let Some(level) = self.sugar_level {
            surface.sugar = level * surface.water;
        }
        Moment {
            hours: self.seconds / 3600.0,
            phase,
            mean,
            surface,
            core: of(&|values| section.core(values)),
            weight_kg_per_kg: 1.0 + mean.salt + mean.sugar + mean.water - self.green_water,
        }
    }

    fn profile(&self) -> Vec<Place> {
        let width = self.section.along.cells();
        self.section
            .across
            .depth_m
            .iter()
            .enumerate()
            .map(|(row, depth_m)| {
                let cell = row * width + width - 1;
                Place {
                    depth_mm: depth_m * 1000.0,
                    here: self.here(self.salt[cell], self.sugar[cell], self.still[cell]),
                }
            })
            .collect()
    }

    fn balances(&self) -> [Balance; 3] {
        let mut ledger = self.ledger;
        let salt = self.section.mean(&self.salt);
        ledger[0].in_piece = salt;
        ledger[1].in_piece = self.section.mean(&self.sugar);
        ledger[2].in_piece = self.section.mean(&self.still) - self.water_out * salt;
        ledger
    }
}

/// What is outside during a phase.
#[derive(Debug, Clone, Copy)]
struct Outside {
    salt: Supply,
    sugar: Supply,
    link: Link,
}
