//! What a piece is put through: stretches of air, steady or rising, dry or moist.

use units::{Elapsed, Temperature};

use super::HeatTransfer;
use super::surroundings::Surroundings;
use crate::ScienceError;
use crate::psychrometrics::{MoistAir, RelativeHumidity, SurfaceWater};

/// How moist the air of a stretch is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Humidity {
    /// Held by a humidistat.
    Relative(RelativeHumidity),
    /// The moisture of the room, whatever the cabinet heats it to.
    DewPoint(Temperature),
}

impl Humidity {
    pub(super) fn air_at(self, temperature: Temperature) -> Result<MoistAir, ScienceError> {
        match self {
            Self::Relative(humidity) => MoistAir::new(temperature, humidity),
            Self::DewPoint(dew) => MoistAir::with_dew_point(temperature, dew),
        }
    }
}

/// A surface that gives off water, and the air that takes it.
///
/// The water is taken as never running out: a skin that dries has a lower [`SurfaceWater`] in the
/// later stretches, or no evaporation at all. Nothing published fixes that number; fit it to a probe.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wet {
    /// The air.
    pub humidity: Humidity,
    /// The surface.
    pub surface: SurfaceWater,
}

/// A stretch of a programme. Between `from` and `to` the air rises or falls evenly.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Segment {
    /// Air, or water, at its beginning.
    pub from: Temperature,
    /// At its end.
    pub to: Temperature,
    /// How long.
    pub time: Elapsed,
    /// Heat transfer to the surface.
    pub h: HeatTransfer,
    /// Evaporation; nothing for a bag, a water bath or a dry surface. Dry is the fast side when heating:
    /// a real skin evaporates and its core comes later.
    pub wet: Option<Wet>,
}

impl Segment {
    /// A stretch at one temperature, without evaporation.
    #[must_use]
    pub fn steady(air: Temperature, time: Elapsed, h: HeatTransfer) -> Self {
        Self::ramp(air, air, time, h)
    }

    /// A stretch that rises or falls evenly, without evaporation.
    #[must_use]
    pub fn ramp(from: Temperature, to: Temperature, time: Elapsed, h: HeatTransfer) -> Self {
        Self {
            from,
            to,
            time,
            h,
            wet: None,
        }
    }

    /// The same with a wet surface.
    #[must_use]
    pub fn evaporating(self, humidity: Humidity, surface: SurfaceWater) -> Self {
        Self {
            wet: Some(Wet { humidity, surface }),
            ..self
        }
    }

    /// Air, °C, after a part (0 to 1) of the stretch.
    pub(super) fn air_c(&self, part: f64) -> f64 {
        self.from.c() + part * (self.to.c() - self.from.c())
    }
}

/// What a piece is put through, stretch after stretch.
#[derive(Debug, Clone, PartialEq)]
pub struct Programme {
    segments: Vec<Segment>,
}

impl Programme {
    /// A programme of at least one stretch that lasts.
    ///
    /// # Errors
    /// No stretch, or no time in any; air too humid at either end of a stretch.
    pub fn new(segments: Vec<Segment>) -> Result<Self, ScienceError> {
        let time: Elapsed = segments.iter().map(|s| s.time).sum();
        if time == Elapsed::ZERO {
            return Err(ScienceError::None {
                what: "time in the programme",
            });
        }
        for segment in &segments {
            if let Some(wet) = segment.wet {
                wet.humidity.air_at(segment.from)?;
                wet.humidity.air_at(segment.to)?;
            }
        }
        Ok(Self { segments })
    }

    /// One stretch of dry surroundings at the house's usual heat transfer.
    ///
    /// # Errors
    /// As [`Programme::new`].
    pub fn in_surroundings(
        surroundings: Surroundings,
        temperature: Temperature,
        time: Elapsed,
    ) -> Result<Self, ScienceError> {
        let h = surroundings.heat_transfer()?.usual;
        Self::new(vec![Segment::steady(temperature, time, h)])
    }

    /// The stretches.
    #[must_use]
    pub fn segments(&self) -> &[Segment] {
        &self.segments
    }

    /// How long it all takes.
    #[must_use]
    pub fn time(&self) -> Elapsed {
        self.segments.iter().map(|s| s.time).sum()
    }
}
