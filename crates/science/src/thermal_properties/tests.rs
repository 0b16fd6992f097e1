use super::*;
use proptest::prelude::*;
use units::Base;

fn c(c: f64) -> Temperature {
    Temperature::celsius(c).unwrap()
}

/// Half of the last decimal of the worked values: ρ two, cp, k and α four.
const ROUNDING: [f64; 4] = [5.1e-3, 5.1e-5, 5.1e-5, 5.1e-5];

/// Worked apart from this code from the same coefficients (general-purpose scripting, 2 fish).
#[test]
fn two_fish_have_the_worked_properties() {
    for (row, at, worked) in [
        (SALMON, 4.0, [1045.63, 3.4839, 0.4670, 1.2820]),
        (SALMON, 60.0, [1028.78, 3.5142, 0.5270, 1.4577]),
        (TROUT, 4.0, [1053.41, 3.5433, 0.4823, 1.2921]),
    ] {
        let is = Food::new(row).unwrap().at(c(at)).unwrap();
        let found = [
            is.density.g_per_ml() * 1000.0,
            is.specific_heat.value(),
            is.conductivity.value(),
            is.diffusivity().unwrap().value() * 1e7,
        ];
        for i in 0..4 {
            assert!(
                (found[i] - worked[i]).abs() <= ROUNDING[i],
                "{i} at {at}: {found:?}"
            );
        }
    }
}

/// CoolProp 8.0.0, water at 20 °C: 998.207 kg/m³, 4.184 05 kJ/(kg K), 0.598 01 W/(m K). The
/// polynomials are fits; how far they are off is theirs, and is held here: density 0.25 % low, specific
/// heat 0.18 % low, conductivity 0.94 % high.
#[test]
fn water_is_within_a_percent_of_the_standard() {
    let is = Food::new(WATER).unwrap().at(c(20.0)).unwrap();
    for (found, standard, off_pct) in [
        (is.density.g_per_ml() * 1000.0, 998.207, -0.25),
        (is.specific_heat.value(), 4.184_05, -0.18),
        (is.conductivity.value(), 0.598_01, 0.94),
    ] {
        let is_off = (found / standard - 1.0) * 100.0;
        assert!((is_off - off_pct).abs() < 0.01, "{is_off} %");
    }
}

#[test]
fn frozen_food_and_impossible_rows_are_refused() {
    let fish = Food::new(TROUT).unwrap();
    let error = fish.at(c(-5.0)).unwrap_err().to_string();
    assert!(
        error.contains("found -5 °C; expected -1 to 150 °C"),
        "{error}"
    );
    assert!(fish.freezing_at(c(-2.5)).unwrap().at(c(-2.0)).is_ok());
    assert!(fish.freezing_at(c(-6.0)).is_err());
    assert!(fish.at(c(151.0)).is_err());
    assert!(
        Food::new(Percent {
            fat: -1.0,
            ..SALMON
        })
        .is_err()
    );
    assert!(
        Food::new(Percent {
            fat: f64::NAN,
            ..SALMON
        })
        .is_err()
    );
    assert!(
        Food::new(Percent {
            fat: 20.0,
            ..SALMON
        })
        .is_err()
    );
}

#[test]
fn shares_are_of_one_base() {
    let share = |pct, base: &str| Fraction::percent(pct, Base::new(base).unwrap()).unwrap();
    let flesh = |pct| share(pct, "flesh");
    let row = [
        flesh(68.5),
        flesh(19.9),
        flesh(10.7),
        flesh(0.0),
        flesh(0.0),
        flesh(0.9),
    ];
    assert_eq!(Food::from_shares(&row).unwrap(), Food::new(SALMON).unwrap());
    let mixed = [
        flesh(68.5),
        flesh(19.9),
        share(10.7, "dry matter"),
        flesh(0.0),
        flesh(0.0),
        flesh(0.9),
    ];
    assert!(Food::from_shares(&mixed).is_err());
}

fn rows() -> impl Strategy<Value = Percent> {
    prop::array::uniform6(0.01..1.0_f64).prop_map(|parts| {
        let sum: f64 = parts.iter().sum();
        let [water, protein, fat, carbohydrate, fibre, ash] = parts.map(|p| 100.0 * p / sum);
        Percent {
            water,
            protein,
            fat,
            carbohydrate,
            fibre,
            ash,
        }
    })
}

proptest! {
    #[test]
    fn enthalpy_is_the_integral_and_slope_the_derivative(row in rows(), t in 0.0..149.0_f64) {
        let food = Food::new(row).unwrap();
        let step = 1e-3;
        let rise = food.enthalpy_j_per_kg(t + step) - food.enthalpy_j_per_kg(t - step);
        let cp = food.specific_heat_j_per_kg_k(t);
        prop_assert!((rise / (2.0 * step) / cp - 1.0).abs() < 1e-8);
        let (k, slope) = food.conductivity_and_slope(t);
        let up = food.conductivity_and_slope(t + step).0;
        let down = food.conductivity_and_slope(t - step).0;
        prop_assert!(((up - down) / (2.0 * step) - slope).abs() < 1e-9 * k.max(1.0));
    }

    #[test]
    fn a_mixture_lies_between_its_components(row in rows(), t in 0.0..150.0_f64) {
        let food = Food::new(row).unwrap();
        let between = |found: f64, parts: [Quadratic; COMPONENTS]| {
            let own = parts.map(|p| value(p, t));
            let least = own.iter().copied().fold(f64::INFINITY, f64::min);
            let most = own.iter().copied().fold(0.0, f64::max);
            (least..=most).contains(&found)
        };
        prop_assert!(between(food.density_kg_per_m3(t), DENSITY));
        prop_assert!(between(food.specific_heat_j_per_kg_k(t) / 1000.0, SPECIFIC_HEAT));
        prop_assert!(between(food.conductivity_and_slope(t).0, CONDUCTIVITY));
    }
}
