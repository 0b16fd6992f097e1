//! What was read: channels of readings over time, as a logger or a hand wrote them.

/// A reading at a moment; a lost probe is a reading of nothing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// Seconds since 1970-01-01T00:00Z: elapsed time, whatever the clocks on the wall did.
    pub at_s: i64,
    /// The value in the channel's unit; `None` where the probe was lost or the cell was empty.
    pub value: Option<f64>,
}

/// What a channel measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Quantity {
    /// Temperature, °C.
    TemperatureC,
    /// pH.
    Ph,
    /// Relative humidity, percent.
    HumidityPct,
    /// Weight, grams.
    WeightG,
}

/// One probe or column.
#[derive(Debug, Clone, PartialEq)]
pub struct Channel {
    /// Its name in the file.
    pub name: String,
    /// What it measures.
    pub quantity: Quantity,
    /// Readings in order of time, no two at one moment.
    pub readings: Vec<Reading>,
}

/// Channels of one piece of evidence.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct History {
    /// The channels.
    pub channels: Vec<Channel>,
}
