//! The question as the model takes it: piece, phase, and the figure a goal is about.

use science::ScienceError;
use science::brine::Strength;
use science::transport::{
    Closed, CoverBrine, DiffusivityLaw, Flesh, Goal, Grid, History, Juice, Moment, Params, Phase,
    Piece, Shape, WaterOut, finished_piece, green_weight, run,
};
use units::{Elapsed, Fraction, Length, Temperature};

use super::{Contact, Cure, Cut, Wanted};

/// Longest time considered, d. House value: no kitchen cures a piece of fish or a muscle for longer.
pub(super) const LONGEST_D: f64 = 90.0;

/// A contact with the amount of salt left open.
#[derive(Debug, Clone)]
pub(super) struct Model {
    pub(super) cut: Cut,
    pub(super) closed: Closed,
    pub(super) contact: Contact,
    pub(super) juice: Juice,
    pub(super) water_out: WaterOut,
    pub(super) law: DiffusivityLaw,
    pub(super) sugar_law: DiffusivityLaw,
    pub(super) wanted: Wanted,
    pub(super) water_pct: f64,
    pub(super) at: Temperature,
}

impl Model {
    pub(super) fn of(ask: &Cure) -> Result<Self, ScienceError> {
        let guess = Params::guess()?;
        let law = match ask.diffusivity {
            Some(fitted) => DiffusivityLaw::new(
                fitted,
                ask.at,
                super::ACTIVATION_KJ_PER_MOL,
                super::FITTED_SPREAD,
            )?,
            None => guess.salt,
        };
        Ok(Self {
            cut: ask.cut,
            closed: if ask.both_faces {
                Closed::None
            } else {
                Closed::One
            },
            contact: ask.contact.clone(),
            juice: if ask.juice_stays {
                Juice::Stays
            } else {
                Juice::AllEnters
            },
            water_out: match ask.water_out {
                Some((least, most)) => WaterOut::per_salt(least, f64::midpoint(least, most), most)?,
                None => WaterOut::STILL,
            },
            law,
            sugar_law: guess.sugar,
            wanted: ask.wanted.clone(),
            water_pct: ask.water_pct,
            at: ask.at,
        })
    }

    pub(super) fn params(&self) -> Params {
        Params {
            salt: self.law,
            sugar: self.sugar_law,
        }
    }

    pub(super) fn piece(&self, thickness: Length) -> Result<Piece, ScienceError> {
        let shape = match self.cut {
            Cut::Slab => Shape::Slab { thickness },
            Cut::Cylinder => Shape::Cylinder {
                diameter: thickness,
            },
            Cut::Finger { width } => Shape::Finger { thickness, width },
        };
        Piece::new(shape, self.closed)
    }

    pub(super) fn flesh(&self) -> Result<Flesh, ScienceError> {
        Flesh::with_water(&Fraction::percent(self.water_pct, green_weight()?)?)
    }

    /// The salt that is dosed, percent: of green weight, or of the brine.
    pub(super) fn salt_pct(&self) -> f64 {
        match &self.contact {
            Contact::Dry { salt_pct, .. } => *salt_pct,
            Contact::Brine { strength_pct, .. } => *strength_pct,
        }
    }

    /// The same with another dose.
    pub(super) fn with_salt(&self, pct: f64) -> Self {
        let mut other = self.clone();
        match &mut other.contact {
            Contact::Dry { salt_pct, .. } => *salt_pct = pct,
            Contact::Brine { strength_pct, .. } => *strength_pct = pct,
        }
        other
    }

    /// The same with a salt that moves so fast at its temperature.
    #[cfg(test)]
    pub(super) fn moving(&self, m2_s: f64) -> Result<Self, ScienceError> {
        let law = DiffusivityLaw::new(
            science::diffusion::Diffusivity::m2_per_s(m2_s)?,
            self.at,
            super::ACTIVATION_KJ_PER_MOL,
            1.0,
        )?;
        Ok(Self {
            law,
            ..self.clone()
        })
    }

    pub(super) fn phase(&self, time: Elapsed) -> Result<Phase, ScienceError> {
        let green = green_weight()?;
        let temperature = self.at;
        let water_out = self.water_out;
        Ok(match &self.contact {
            Contact::Dry {
                salt_pct,
                sugar_pct,
            } => Phase::DryCure {
                salt: Fraction::percent(*salt_pct, green.clone())?,
                sugar: Fraction::percent(*sugar_pct, green)?,
                juice: self.juice,
                water_out,
                time,
                temperature,
            },
            Contact::Brine {
                strength_pct,
                water_pct: None,
            } => Phase::WideBrine {
                salt: Strength::percent(*strength_pct)?,
                sugar_g_per_kg_water: 0.0,
                water_out,
                time,
                temperature,
            },
            Contact::Brine {
                strength_pct,
                water_pct: Some(water),
            } => Phase::Brine {
                brine: CoverBrine {
                    water: Fraction::percent(*water, green)?,
                    salt: Strength::percent(*strength_pct)?,
                    sugar_g_per_kg_water: 0.0,
                    partition: 1.0,
                },
                water_out,
                time,
                temperature,
            },
        })
    }

    /// Whether water stays in the piece.
    pub(super) fn is_still(&self) -> bool {
        self.water_out.likely() == 0.0
    }

    /// Salt a piece ends with, kg per kg of green weight, by mass balance: as strong inside as outside,
    /// `r` kg of water gone out for each kg of salt that came in.
    pub(super) fn ends_at(&self) -> f64 {
        let (water, r) = (self.water_pct / 100.0, self.water_out.likely());
        let ratio = |pct: f64| pct / (100.0 - pct);
        // s ÷ (water − r s) inside equals what is left outside over its water.
        match &self.contact {
            Contact::Dry { salt_pct, .. } => {
                let laid = salt_pct / 100.0;
                match self.juice {
                    Juice::AllEnters => laid,
                    Juice::Stays => laid * water / (water + laid * r),
                }
            }
            Contact::Brine {
                strength_pct,
                water_pct: None,
            } => {
                let outside = ratio(*strength_pct);
                water * outside / (1.0 + outside * r)
            }
            Contact::Brine {
                strength_pct,
                water_pct: Some(bath),
            } => {
                let bath = bath / 100.0;
                let salt = bath * ratio(*strength_pct);
                salt * water / (water + bath + salt * r)
            }
        }
    }

    /// The goal's figure once all is even, percent.
    pub(super) fn ends_with_pct(&self) -> f64 {
        let salt = self.ends_at();
        let out = self.water_out.likely() * salt;
        let water = self.water_pct / 100.0 - out;
        match self.wanted {
            Wanted::Uptake { .. } => 100.0,
            Wanted::Core { .. } => salt / (salt + water) * 100.0,
            Wanted::Mean { .. } => salt / (1.0 + salt + self.sugar() - out) * 100.0,
        }
    }

    /// Salt of a dry cure with which that figure is `pct`, percent of green weight.
    pub(super) fn salt_to_end_at(&self, pct: f64) -> Option<f64> {
        if !self.is_still() {
            return None;
        }
        let share = pct / 100.0;
        match (&self.wanted, &self.contact) {
            (Wanted::Core { .. }, Contact::Dry { .. }) => {
                Some(share / (1.0 - share) * self.water_pct)
            }
            (Wanted::Mean { .. }, Contact::Dry { .. }) => {
                Some(share / (1.0 - share) * (1.0 + self.sugar()) * 100.0)
            }
            _ => None,
        }
    }

    fn sugar(&self) -> f64 {
        match &self.contact {
            Contact::Dry { sugar_pct, .. } => sugar_pct / 100.0,
            Contact::Brine { .. } => 0.0,
        }
    }

    /// The figure the goal is about, percent.
    pub(super) fn figure(&self, moment: &Moment) -> f64 {
        match self.wanted {
            Wanted::Uptake { .. } => moment.mean.salt_g_per_kg() / self.ends_at() / 10.0,
            Wanted::Core { .. } => moment.core.water_phase_salt_pct(),
            Wanted::Mean { .. } => moment.salt_pct_of_piece(),
        }
    }

    /// The least the goal asks of it, percent.
    pub(super) fn least(&self) -> f64 {
        match self.wanted {
            Wanted::Uptake { pct } | Wanted::Core { pct } => pct,
            Wanted::Mean { least_pct, .. } => least_pct,
        }
    }

    /// The most, where there is one.
    pub(super) fn most(&self) -> Option<f64> {
        match self.wanted {
            Wanted::Mean { most_pct, .. } => Some(most_pct),
            _ => None,
        }
    }

    pub(super) fn goal(&self) -> Result<Goal, ScienceError> {
        Ok(match self.wanted {
            Wanted::Uptake { pct } => Goal::Uptake { share: pct / 100.0 },
            Wanted::Core { pct } => Goal::Core {
                water_phase: Strength::percent(pct)?,
            },
            Wanted::Mean {
                least_pct,
                most_pct,
            } => Goal::Mean {
                least: Fraction::percent(least_pct, finished_piece()?)?,
                most: Fraction::percent(most_pct, finished_piece()?)?,
            },
        })
    }

    /// A piece through the phase alone.
    pub(super) fn run(
        &self,
        thickness: Length,
        time: Elapsed,
        grid: Grid,
    ) -> Result<History, ScienceError> {
        run(
            &self.piece(thickness)?,
            &self.flesh()?,
            &self.params(),
            &[self.phase(time)?],
            grid,
        )
    }

    /// Hours of rest after `time` until the thickest place is within `part` of the mean; nothing when it
    /// is not in the longest time considered.
    pub(super) fn rest_until_even(
        &self,
        thickness: Length,
        time: Elapsed,
        part: f64,
    ) -> Result<Option<f64>, ScienceError> {
        let rest = Phase::Rest {
            time: Elapsed::from_days(LONGEST_D)?,
            temperature: self.at,
        };
        let history = run(
            &self.piece(thickness)?,
            &self.flesh()?,
            &self.params(),
            &[self.phase(time)?, rest],
            Grid::default(),
        )?;
        let even = |m: &Moment| {
            m.core.water_phase_salt_pct() >= (1.0 - part) * m.mean.water_phase_salt_pct()
        };
        let ended = time.hours();
        Ok(history
            .curve
            .iter()
            .find(|m| m.hours >= ended && even(m))
            .map(|m| m.hours - ended))
    }
}
