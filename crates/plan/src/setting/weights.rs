//! `--set clock.WEIGHT=N`: what the clock weighs against what.

use kitchen::site::ClockWeights;

use super::{Setting, SettingError, unknown, wrong};
use crate::scene::Scene;

/// Sharing work out evenly: true or false, not a weight.
const EVEN: &str = "even-work";

/// Keys of the weights.
pub(super) fn keys() -> impl Iterator<Item = String> {
    let all = ClockWeights::KEYS.into_iter().chain([EVEN]);
    all.map(|k| format!("clock.{k}"))
}

/// Puts one weight.
pub(super) fn apply(scene: &mut Scene, s: &Setting, key: &str) -> Result<(), SettingError> {
    if key == EVEN {
        scene.site.clock.even_work = match s.value.as_str() {
            "true" => true,
            "false" => false,
            _ => return Err(wrong(s, "true or false", "write one of them")),
        };
        return Ok(());
    }
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
