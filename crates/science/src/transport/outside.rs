//! What the open faces meet: a set strength, a brine that weakens, salt that lies until it is gone.

use super::field::{Faces, Section, Stepper};

/// How near the moment at which the laid salt runs out is found, as a share of the salt.
const RUN_OUT: f64 = 1e-6;

/// Above this ratio of what a piece takes up in a step to what the brine holds, the brine is taken at the
/// end of the step and not at its middle, which would make it swing.
const SWING: f64 = 1.0;

/// Where one substance comes from. Amounts in kg per kg of green weight, ratios in kg per kg of water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Supply {
    /// Nothing passes.
    Closed,
    /// As strong as this for ever.
    Held { ratio: f64 },
    /// Dissolved in the water of the brine.
    Mixed { kg: f64 },
    /// Lies on the faces at this ratio until it is gone.
    Laid { kg: f64, ratio: f64 },
    /// As laid, but in the juice it has drawn, which stays.
    InJuice { kg: f64, ratio: f64 },
}

/// How a ratio outside sets the content of the face: `K ρ ÷ (1 + r K ρ)` times its pattern.
#[derive(Debug, Clone, Copy)]
pub(super) struct Link {
    /// Kilograms of water out per kilogram of this substance in.
    pub(super) water_out: f64,
    /// Ratio in the water of the flesh over ratio in the brine, once even.
    pub(super) partition: f64,
    /// Water of the brine, kg per kg of green weight.
    pub(super) bath_kg: f64,
}

impl Link {
    fn level(&self, ratio: f64) -> f64 {
        let inside = self.partition * ratio;
        inside / (1.0 + self.water_out * inside)
    }

    /// The level at which what the brine has left, `part` of the step gone, is what the face has.
    ///
    /// Solves `g (W + r K m) = K m` with `m` and `W` moved by the uptake `none + g × unit`; linear when
    /// `K` is 1, and Newton takes two or three rounds otherwise.
    fn mixed(&self, kg: f64, none: f64, unit: f64) -> f64 {
        let (r, k) = (self.water_out, self.partition);
        let part = if k * unit > SWING * self.bath_kg {
            1.0
        } else {
            0.5
        };
        let mut g = 0.0;
        for _ in 0..20 {
            let gone = part * (none + g * unit);
            let held = self.bath_kg + r * gone + r * k * (kg - gone);
            let off = g * held - k * (kg - gone);
            let slope = held + (g * r * (1.0 - k) + k) * part * unit;
            let next = g - off / slope;
            let moved = (next - g).abs();
            g = next;
            if moved <= 1e-15 * g.abs() {
                break;
            }
        }
        g
    }
}

/// What a step came to.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stepped {
    /// What came in, kg per kg of green weight.
    pub(super) inflow: f64,
    /// The level of the faces over the step; nothing when they are closed at its end.
    pub(super) level: Option<f64>,
}

/// Room for trying a step, made once for a piece.
#[derive(Debug)]
pub(super) struct Trial {
    plain: Vec<f64>,
    unit: Vec<f64>,
}

impl Trial {
    pub(super) fn new(section: &Section) -> Self {
        Self {
            plain: vec![0.0; section.cells()],
            unit: vec![0.0; section.cells()],
        }
    }

    /// Moves `values` on by `d_dt_m2` and takes from `supply`.
    #[expect(
        clippy::too_many_arguments,
        reason = "the parts of one step, all borrowed apart"
    )]
    pub(super) fn step(
        &mut self,
        section: &Section,
        stepper: &mut Stepper,
        d_dt_m2: f64,
        values: &mut [f64],
        pattern: &Faces,
        supply: &mut Supply,
        link: Link,
    ) -> Stepped {
        match supply {
            Supply::Closed => Stepped {
                inflow: stepper.step(section, d_dt_m2, values, None),
                level: None,
            },
            Supply::Held { ratio } => {
                let level = link.level(*ratio);
                Stepped {
                    inflow: stepper.step(section, d_dt_m2, values, Some((pattern, level))),
                    level: Some(level),
                }
            }
            Supply::Mixed { kg } => {
                let held = *kg;
                let done = self.affine(section, stepper, d_dt_m2, values, pattern, |none, unit| {
                    link.mixed(held, none, unit)
                });
                *kg -= done.inflow;
                done
            }
            Supply::InJuice { kg, ratio } => {
                let level = link.level(*ratio);
                self.plain.copy_from_slice(values);
                let full = stepper.step(section, d_dt_m2, &mut self.plain, Some((pattern, level)));
                let dissolves = *ratio * (link.bath_kg + link.water_out * full);
                let done = if *kg - full >= dissolves {
                    values.copy_from_slice(&self.plain);
                    Stepped {
                        inflow: full,
                        level: Some(level),
                    }
                } else {
                    let held = *kg;
                    self.affine(section, stepper, d_dt_m2, values, pattern, |none, unit| {
                        link.mixed(held, none, unit)
                    })
                };
                *kg -= done.inflow;
                done
            }
            Supply::Laid { kg, ratio } => {
                let level = link.level(*ratio);
                let left = *kg;
                self.plain.copy_from_slice(values);
                let full = stepper.step(section, d_dt_m2, &mut self.plain, Some((pattern, level)));
                // What would be left for a moment is taken now.
                if full < left * (1.0 - RUN_OUT) {
                    values.copy_from_slice(&self.plain);
                    *kg -= full;
                    return Stepped {
                        inflow: full,
                        level: Some(level),
                    };
                }
                let part = self.run_out(
                    section, stepper, d_dt_m2, values, pattern, level, left, full,
                );
                // The moment is found to a millionth; the level makes up the rest, so that exactly all of
                // it comes in. What remains of the step the faces are closed.
                let done = self.affine(
                    section,
                    stepper,
                    part * d_dt_m2,
                    values,
                    pattern,
                    |none, unit| (left - none) / unit,
                );
                stepper.step(section, (1.0 - part) * d_dt_m2, values, None);
                *supply = Supply::Closed;
                Stepped {
                    inflow: done.inflow,
                    level: None,
                }
            }
        }
    }

    /// One step whose level `choose` sets from the uptake at no level and the uptake for each unit of it.
    fn affine(
        &mut self,
        section: &Section,
        stepper: &mut Stepper,
        d_dt_m2: f64,
        values: &mut [f64],
        pattern: &Faces,
        choose: impl Fn(f64, f64) -> f64,
    ) -> Stepped {
        let none = stepper.step(section, d_dt_m2, values, Some((pattern, 0.0)));
        self.unit.fill(0.0);
        let unit = stepper.step(section, d_dt_m2, &mut self.unit, Some((pattern, 1.0)));
        let level = choose(none, unit);
        for (x, u) in values.iter_mut().zip(&self.unit) {
            *x += level * u;
        }
        Stepped {
            inflow: none + level * unit,
            level: Some(level),
        }
    }

    /// The part of the step after which `left` has come in, by false position with the Illinois rule.
    #[expect(
        clippy::too_many_arguments,
        reason = "the parts of one step, all borrowed apart"
    )]
    fn run_out(
        &mut self,
        section: &Section,
        stepper: &mut Stepper,
        d_dt_m2: f64,
        values: &[f64],
        pattern: &Faces,
        level: f64,
        left: f64,
        full: f64,
    ) -> f64 {
        let (mut early, mut short) = (0.0, -left);
        let (mut late, mut over) = (1.0, full - left);
        let mut part = 1.0;
        for _ in 0..40 {
            if late - early < RUN_OUT || over <= 0.0 {
                break;
            }
            part = (early * over - late * short) / (over - short);
            self.plain.copy_from_slice(values);
            let came = stepper.step(
                section,
                part * d_dt_m2,
                &mut self.plain,
                Some((pattern, level)),
            );
            let gap = came - left;
            if gap.abs() <= RUN_OUT * left {
                break;
            }
            if gap > 0.0 {
                (late, over) = (part, gap);
                short *= 0.5;
            } else {
                (early, short) = (part, gap);
                over *= 0.5;
            }
        }
        part
    }
}
