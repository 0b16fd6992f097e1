//! The pH of a clear liquor of weak acids, their salts and table salt.

use units::Temperature;

use super::constants::{ION_ACTIVITY_MOST, davies_slope, pk_water};
use super::{Acid, CalculatedPh, Molality, Ph};
use crate::ScienceError;
use crate::error::within;

/// Most protons an acid here gives.
const PROTONS: usize = 3;
/// Rounds for the ionic strength to settle; it takes four or five.
const ROUNDS: usize = 200;
/// Settled when the ionic strength moves by less, mol/kg.
const SETTLED: f64 = 1e-13;
/// Halvings of the bracket of pH 0 to 14, down to 1e-14.
const HALVINGS: usize = 50;
/// Found when the next step in pH is smaller.
const STILL: f64 = 1e-14;

/// A clear liquor, by what is dissolved in each kilogram of its water.
#[derive(Debug, Clone, PartialEq)]
pub struct Liquor {
    /// Each acid in all its forms together, mol/kg water. Litres of a thin liquor do as well.
    pub acids: Vec<(Acid, Molality)>,
    /// Strong base, mol/kg water: what sodium acetate, lye or soda bring beside their acid.
    pub strong_base: Molality,
    /// Table salt, mol/kg water; it only adds ions.
    pub salt: Molality,
    /// Temperature.
    pub temperature: Temperature,
}

/// What a liquor comes to.
#[derive(Debug, Clone, PartialEq)]
pub struct LiquorState {
    /// Its pH, as a meter would read it: activity of the hydrogen ion.
    pub ph: CalculatedPh,
    /// Its ionic strength, mol/kg water.
    pub ionic_strength: f64,
    /// Of each acid in turn, what has given off no proton, mol/kg water: the part that enters a microbe.
    pub undissociated: Vec<Molality>,
}

/// Charge given off by one mole at a hydrogen activity, its mean square, and the share still whole.
#[derive(Clone, Copy)]
struct Split {
    mean: f64,
    mean_square: f64,
    whole: f64,
}

/// `ka[j]` are constants between hydrogen activity and concentrations of the forms.
fn split(ka: &[f64], h: f64) -> Split {
    let (mut sum, mut first, mut second, mut form) = (1.0, 0.0, 0.0, 1.0);
    for (j, k) in ka.iter().enumerate() {
        form *= k / h;
        let z = (j + 1) as f64;
        sum += form;
        first += z * form;
        second += z * z * form;
    }
    Split {
        mean: first / sum,
        mean_square: second / sum,
        whole: 1.0 / sum,
    }
}

/// Constants of one acid: thermodynamic, and as they stand at an ionic strength.
#[derive(Clone, Copy)]
struct Constants {
    amount: f64,
    protons: usize,
    pk: [f64; PROTONS],
    now: [f64; PROTONS],
}

impl Constants {
    fn now(&self) -> &[f64] {
        &self.now[..self.protons]
    }
}

impl Liquor {
    /// What the liquor comes to at equilibrium.
    ///
    /// # Method
    /// Charge balance `[H] + base = [OH] + Σ c z̄(pH)` solved for pH by Newton inside a bracket from 0 to 14,
    /// within a round that lets the ionic strength settle. Ions by Davies:
    /// `log γ = −A z² (√I ÷ (1 + √I) − 0.3 I)`; molecules without charge count as they are.
    /// # Valid range
    /// Ionic strength to [`ION_ACTIVITY_MOST`], 0 to 60 °C. Clear liquor: no vegetable, no protein.
    /// Within 0.02 of PHREEQC with minteq.v4.dat in acids alone, 0.05 in brine, where the salting-out of
    /// whole molecules is left out here.
    /// # Source
    /// [PKA_OF_T](sources::list::PKA_OF_T), [DAVIES](sources::list::DAVIES); from memory.
    /// # Errors
    /// Too many ions; temperature out of range; more base than a pH of 14 holds.
    /// # Example
    /// ```
    /// use science::acid::{Acid, Liquor, Molality};
    /// use units::Temperature;
    /// let vinegar = Liquor {
    ///     acids: vec![(Acid::Acetic, Molality::mol_per_kg(0.8326)?)],
    ///     strong_base: Molality::ZERO,
    ///     salt: Molality::ZERO,
    ///     temperature: Temperature::celsius(25.0)?,
    /// };
    /// assert_eq!(vinegar.at_rest()?.ph.to_string(), "pH 2.42 calculated, measure it");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn at_rest(&self) -> Result<LiquorState, ScienceError> {
        self.settled(&|_| 0.0, 0.0)
    }

    /// What it gives off down to a pH: the strong base that would hold it there, mol/kg water. Below 0 when
    /// it is less sour than that by itself.
    ///
    /// # Method
    /// `[OH] + Σ c z̄(pH) − [H]`, ions by Davies, the base counted among the ions.
    /// # Valid range, Source
    /// As [`Liquor::at_rest`].
    /// # Errors
    /// Too many ions; temperature out of range.
    /// # Example
    /// ```
    /// use science::acid::{Acid, Liquor, Molality, Ph};
    /// use units::Temperature;
    /// let mut vinegar = Liquor {
    ///     acids: vec![(Acid::Acetic, Molality::mol_per_kg(0.1)?)],
    ///     strong_base: Molality::ZERO,
    ///     salt: Molality::ZERO,
    ///     temperature: Temperature::celsius(25.0)?,
    /// };
    /// let base = vinegar.given_off(Ph::new(4.5)?)?;
    /// vinegar.strong_base = Molality::mol_per_kg(base)?;
    /// assert!((vinegar.at_rest()?.ph.calculated() - 4.5).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn given_off(&self, ph: Ph) -> Result<f64, ScienceError> {
        let mut ions = Ions::of(self)?;
        let h = 10_f64.powf(-ph.ph());
        let mut strength = within_activity(self.salt.value().max(1e-7))?;
        for _ in 0..ROUNDS {
            ions.stand_at(strength);
            let base = ions.given(h) - ions.free(h);
            let next = within_activity(0.5 * ions.squares(h, base) + self.salt.value())?;
            if (next - strength).abs() < SETTLED {
                return Ok(base - self.strong_base.value());
            }
            strength = next;
        }
        Err(unsettled())
    }

    /// The state at which charges balance with `taken_up(pH)` mol/kg of protons bound by something else,
    /// which falls by `slope` for each unit of pH.
    pub(super) fn settled(
        &self,
        taken_up: &impl Fn(f64) -> f64,
        slope: f64,
    ) -> Result<LiquorState, ScienceError> {
        let mut ions = Ions::of(self)?;
        let base = self.strong_base.value();
        let mut strength = within_activity(self.salt.value().max(1e-7))?;
        let mut ph = 7.0;
        for _ in 0..ROUNDS {
            ions.stand_at(strength);
            ph = falling_root(ph, |ph| {
                let h = 10_f64.powf(-ph);
                let excess = ions.free(h) + base + taken_up(ph) - ions.given(h);
                (excess, -ions.steepness(h) - slope)
            })?;
            let h = 10_f64.powf(-ph);
            let bound = base + taken_up(ph).abs();
            let next = within_activity(0.5 * ions.squares(h, bound) + self.salt.value())?;
            if (next - strength).abs() < SETTLED {
                return Ok(LiquorState {
                    ph: CalculatedPh(ph),
                    ionic_strength: next,
                    undissociated: ions.whole(h)?,
                });
            }
            strength = next;
        }
        Err(unsettled())
    }
}

fn unsettled() -> ScienceError {
    ScienceError::NotSettled {
        what: "ionic strength of the liquor",
        do_now: "measure the pH with a meter",
    }
}

/// The acids of a liquor with their constants, and the activity of ions, at one ionic strength.
struct Ions {
    acids: Vec<Constants>,
    slope: f64,
    kw: f64,
    gamma: f64,
}

impl Ions {
    fn of(liquor: &Liquor) -> Result<Self, ScienceError> {
        let acids = liquor
            .acids
            .iter()
            .map(|&(acid, amount)| {
                let found = acid.pka(liquor.temperature)?;
                let mut pk = [0.0; PROTONS];
                pk[..found.len()].copy_from_slice(&found);
                Ok(Constants {
                    amount: amount.value(),
                    protons: found.len(),
                    pk,
                    now: [0.0; PROTONS],
                })
            })
            .collect::<Result<Vec<_>, ScienceError>>()?;
        Ok(Self {
            acids,
            slope: davies_slope(liquor.temperature)?,
            kw: 10_f64.powf(-pk_water(liquor.temperature)?),
            gamma: 1.0,
        })
    }

    fn stand_at(&mut self, strength: f64) {
        let root = strength.sqrt();
        let per_charge_squared = -self.slope * (root / (1.0 + root) - 0.3 * strength);
        self.gamma = 10_f64.powf(per_charge_squared);
        for acid in &mut self.acids {
            // HA(z−1) → H + A(z): the activities of the forms turn K into K γ(z−1) ÷ γ(z).
            for j in 0..acid.protons {
                let charges = 2 * j + 1;
                acid.now[j] = 10_f64.powf(-acid.pk[j] - charges as f64 * per_charge_squared);
            }
        }
    }

    /// Hydrogen less hydroxide, mol/kg.
    fn free(&self, h: f64) -> f64 {
        (h - self.kw / h) / self.gamma
    }

    /// Charge the acids have given off, mol/kg.
    fn given(&self, h: f64) -> f64 {
        self.acids
            .iter()
            .map(|a| a.amount * split(a.now(), h).mean)
            .sum()
    }

    /// How fast free and given-off charge together fall with pH, mol/(kg pH).
    fn steepness(&self, h: f64) -> f64 {
        let water = (h + self.kw / h) / self.gamma;
        let acids: f64 = self
            .acids
            .iter()
            .map(|a| {
                let forms = split(a.now(), h);
                a.amount * (forms.mean_square - forms.mean * forms.mean)
            })
            .sum();
        core::f64::consts::LN_10 * (water + acids)
    }

    /// Twice what the ions beside table salt add to the ionic strength, with so much base among them.
    fn squares(&self, h: f64, base: f64) -> f64 {
        let acids: f64 = self
            .acids
            .iter()
            .map(|a| a.amount * split(a.now(), h).mean_square)
            .sum();
        (h + self.kw / h) / self.gamma + base + acids
    }

    fn whole(&self, h: f64) -> Result<Vec<Molality>, ScienceError> {
        self.acids
            .iter()
            .map(|a| Molality::mol_per_kg(a.amount * split(a.now(), h).whole))
            .collect()
    }
}

/// Where a balance that falls with pH, given with its slope, is nil: Newton, kept inside a bracket.
fn falling_root(start: f64, balance: impl Fn(f64) -> (f64, f64)) -> Result<f64, ScienceError> {
    let (mut low, mut high) = (0.0, 14.0);
    if !(balance(low).0 >= 0.0 && balance(high).0 <= 0.0) {
        return Err(no_ph());
    }
    let mut ph = start;
    for _ in 0..2 * HALVINGS {
        let (value, slope) = balance(ph);
        if value > 0.0 {
            low = ph;
        } else {
            high = ph;
        }
        let newton = ph - value / slope;
        let next = if newton > low && newton < high {
            newton
        } else {
            0.5 * (low + high)
        };
        if (next - ph).abs() < STILL * ph.abs().max(1.0) {
            return Ok(next);
        }
        ph = next;
    }
    // Rounding keeps the last step from getting smaller; the bracket is as fine as it can be.
    Ok(ph)
}

fn no_ph() -> ScienceError {
    ScienceError::NotSettled {
        what: "pH between 0 and 14",
        do_now: "check the amounts of acid and base",
    }
}

fn within_activity(strength: f64) -> Result<f64, ScienceError> {
    within(
        "ionic strength",
        "mol/kg water",
        strength,
        0.0,
        ION_ACTIVITY_MOST,
        "the formula for ions ends here: measure the pH with a meter",
    )
}

/// The pH between 0 and 14 at which a balance that falls with pH is nil.
pub(super) fn root_ph(balance: impl Fn(f64) -> f64) -> Result<f64, ScienceError> {
    let (mut low, mut high) = (0.0, 14.0);
    if !(balance(1.0) >= 0.0 && balance(1e-14) <= 0.0) {
        return Err(no_ph());
    }
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if balance(10_f64.powf(-middle)) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok(0.5 * (low + high))
}

/// Charge one kilogram gives off through its acids at a hydrogen activity, ideal, from pKa.
pub(super) fn charge(acids: &[(Vec<f64>, f64)], h: f64) -> f64 {
    acids
        .iter()
        .map(|(ka, amount)| amount * split(ka, h).mean)
        .sum()
}

/// How much strong base a liquor takes up for each unit of pH, mol/kg.
///
/// # Method
/// `ln 10 × (H + OH + Σ c (mean of z² − square of mean z))`, concentrations for activities. For one acid
/// it is largest at its pKa: 0.5756 of the acid.
/// # Valid range
/// Thin liquor, 0 to 60 °C.
/// # Source
/// [PKA_OF_T](sources::list::PKA_OF_T), from memory.
/// # Errors
/// A temperature outside the range.
pub fn buffer_capacity(
    acids: &[(Acid, Molality)],
    ph: Ph,
    temperature: Temperature,
) -> Result<f64, ScienceError> {
    let h = 10_f64.powf(-ph.ph());
    let water = h + 10_f64.powf(-pk_water(temperature)?) / h;
    let mut buffered = 0.0;
    for &(acid, amount) in acids {
        let ka = acid
            .pka(temperature)?
            .iter()
            .map(|pk| 10_f64.powf(-pk))
            .collect::<Vec<_>>();
        let forms = split(&ka, h);
        buffered += amount.value() * (forms.mean_square - forms.mean * forms.mean);
    }
    Ok(core::f64::consts::LN_10 * (water + buffered))
}
