//! Bessel functions of the first kind, for round pieces.

use std::f64::consts::PI;

/// From here the expansion for large arguments is good to rounding.
const LARGE: f64 = 25.0;

/// `J₀(x)` and `J₁(x)` for `x` of zero or more.
///
/// # Method
/// Below 25 the mean of `cos(nθ − x sin θ)` over a half turn: the integrand is periodic, so equal steps
/// converge faster than any power. From 25 Hankel's expansion, cut at its smallest term.
pub(super) fn j0_j1(x: f64) -> (f64, f64) {
    if x < LARGE {
        (by_mean(x, 0.0), by_mean(x, 1.0))
    } else {
        (by_expansion(x, 0.0), by_expansion(x, 1.0))
    }
}

fn by_mean(x: f64, order: f64) -> f64 {
    // More than x + 30 steps leave a rest below rounding.
    let steps = 40 + x.ceil() as usize;
    let sum: f64 = (0..steps)
        .map(|step| {
            let theta = PI * (step as f64 + 0.5) / steps as f64;
            (order * theta - x * theta.sin()).cos()
        })
        .sum();
    sum / steps as f64
}

fn by_expansion(x: f64, order: f64) -> f64 {
    // P takes the even terms of aₖ ÷ xᵏ, Q the odd ones, signs going in pairs.
    let (mut p, mut q, mut term) = (0.0, 0.0, 1.0_f64);
    for k in 0..60 {
        let sign = if k % 4 < 2 { 1.0 } else { -1.0 };
        if k % 2 == 0 {
            p += sign * term;
        } else {
            q += sign * term;
        }
        let odd = 2.0 * f64::from(k) + 1.0;
        let next = term * (4.0 * order * order - odd * odd) / (8.0 * x * (f64::from(k) + 1.0));
        if next.abs() >= term.abs() || next.abs() < 1e-18 {
            break;
        }
        term = next;
    }
    let phase = x - order * PI / 2.0 - PI / 4.0;
    (2.0 / (PI * x)).sqrt() * (p * phase.cos() - q * phase.sin())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// scipy 1.17.1, `scipy.special.j0` and `j1`.
    #[test]
    fn values_are_those_of_a_general_library() {
        for (x, j0, j1) in [
            (0.0, 1.0, 0.0),
            (1.0, 0.765_197_686_557_966_5, 0.440_050_585_744_933_5),
            (2.404_825_557_695_773, 0.0, 0.519_147_497_289_466_7),
            (10.0, -0.245_935_764_451_348_3, 0.043_472_746_168_861_44),
            (50.0, 0.055_812_327_669_252_086, -0.097_511_828_125_175_09),
            (200.0, -0.015_437_439_930_564_947, -0.054_304_538_182_378_35),
        ] {
            let is = j0_j1(x);
            assert!(
                (is.0 - j0).abs() < 1e-13 && (is.1 - j1).abs() < 1e-13,
                "{x}: {is:?}"
            );
        }
    }

    #[test]
    fn the_two_ways_meet() {
        for x in [25.0, 31.4, 60.0, 201.0] {
            for order in [0.0, 1.0] {
                let gap = by_mean(x, order) - by_expansion(x, order);
                assert!(gap.abs() < 1e-14, "{x} {order}: {gap}");
            }
        }
    }
}
