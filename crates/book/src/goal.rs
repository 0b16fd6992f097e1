//! What a wait or a programme is to reach: `goal = { equilibrium = "95 %" }` and the like.

use kitchen::step::Goal;

use crate::diagnostic::Code;
use crate::fields::Fields;

/// The kinds of goal.
const KINDS: [&str; 6] = [
    "equilibrium",
    "water-phase-salt",
    "salt-from",
    "loss",
    "cold",
    "acid",
];

/// Reads `goal`.
pub(crate) fn goal(f: &Fields<'_, '_>) -> Option<Goal> {
    let part = |key| f.percent(key, 1.0, 99.9, "write the part of what it ends at");
    let equilibrium = part("equilibrium").map(|p| Goal::Equilibrium(p / 100.0));
    let acid = part("acid").map(|p| Goal::Acid(p / 100.0));
    let wps = f
        .percent(
            "water-phase-salt",
            0.1,
            26.0,
            "write salt over salt and water",
        )
        .map(Goal::WaterPhaseSalt);
    let loss = f
        .percent(
            "loss",
            0.1,
            90.0,
            "write the part of the weight that is to go",
        )
        .map(Goal::Loss);
    let cold = f.temperature("cold").map(|(t, _)| Goal::Cold(t));
    let low = f.percent("salt-from", 0.1, 26.0, "write the least mean salt");
    let high = f.percent("salt-to", 0.1, 26.0, "write the most mean salt");
    f.close();
    let given: Vec<&str> = KINDS.into_iter().filter(|k| f.has(k)).collect();
    if given.len() != 1 || f.has("salt-from") != f.has("salt-to") {
        f.page.report(
            Code::Contradiction,
            f.head(),
            format!("{} names {} goals", f.what, given.len()),
            "one of: equilibrium, water-phase-salt, salt-from with salt-to, loss, cold, acid",
            "keep the one the step is for",
        );
        return None;
    }
    let salt = match (low, high) {
        (Some(low), Some(high)) if low <= high => Some(Goal::Salt { low, high }),
        (Some(low), Some(high)) => {
            f.page.report(
                Code::Contradiction,
                f.at("salt-from"),
                format!("{} goes from {low} % to {high} %", f.what),
                "salt-from ≤ salt-to",
                "swap them",
            );
            None
        }
        _ => None,
    };
    equilibrium.or(wps).or(salt).or(loss).or(cold).or(acid)
}
