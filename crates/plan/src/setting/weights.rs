//! `--set clock.WEIGHT=N`: what the clock weighs against what.

use kitchen::site::ClockWeights;

use super::{Setting, SettingError, unknown, wrong};
use crate::scene::Scene;

/// Keys of the weights.
pub(super) fn keys() -> impl Iterator<Item = String> {
    ClockWeights::KEYS.into_iter().map(|k| format!("clock.{k}"))
}

/// Puts one weight.
pub(super) fn apply(scene: &mut Scene, s: &Setting, key: &str) -> Result<(), SettingError> {
    if !ClockWeights::KEYS.contains(&key) {
        return Err(unknown(scene, s));
    }
    let weight = s
        .value
        .parse::<f64>()
        .ok()
        .filter(|n| (0.0..=ClockWeights::MOST).contains(n))
        .ok_or_else(|| {
            wrong(
                s,
                &format!("a number from 0 to {}", ClockWeights::MOST),
                "write how many minutes away from its best hour it is worth; 0 for nothing",
            )
        })?;
    if let Some(weights) = scene.site.clock.with(key, weight) {
        scene.site.clock = weights;
    }
    Ok(())
}
