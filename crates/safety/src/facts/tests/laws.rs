//! The laws of the judge, over analyses and pieces: a worse one never betters a verdict, one taken away never turns *not
//! shown* into *shown*, and Michigan never passes what Maine fails.

use proptest::prelude::*;

use super::*;
use crate::nitrite::{Product, Way, Weights};

const PACKS: [Pack; 3] = [
    Pack::Air,
    Pack::ReducedOxygen,
    Pack::ReducedOxygenWithNitrite,
];

fn samples() -> impl Strategy<Value = Vec<SaltSample>> {
    let one = (
        0_usize..3,
        prop::sample::select(vec![2.4, 2.6, 2.9, 3.1, 3.4, 3.6, 4.5]),
        prop::option::of(prop::sample::select(vec![90.0, 100.0, 150.0, 200.0, 210.0])),
    );
    prop::collection::vec(one, 1..5).prop_map(|all| {
        all.into_iter()
            .map(|(taken, wps, nitrite_ppm)| SaltSample {
                nitrite_ppm,
                ..salt(
                    [Taken::Thickest, Taken::Elsewhere, Taken::Blended][taken],
                    wps,
                )
            })
            .collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(800))]

    #[test]
    fn salt_keeps_the_laws(all in samples(), which in 0_usize..5, less in 0.01_f64..2.0) {
        let at = which % all.len();
        for pack in PACKS {
            // So many samples were taken, whatever becomes of them.
            let taken = |mut terms: Terms| {
                terms.probes = all.len();
                terms
            };
            let was = salted(&taken(us()), pack, &all);
            let mut worse = all.clone();
            worse[at].salt_pct -= less.min(worse[at].salt_pct);
            prop_assert!(salted(&taken(us()), pack, &worse) <= was);
            let mut fewer = all.clone();
            fewer.remove(at);
            if was == NotShown {
                prop_assert_ne!(salted(&taken(us()), pack, &fewer), Shown);
            }
            if was == Broken {
                prop_assert_eq!(salted(&taken(michigan()), pack, &all), Broken);
            }
        }
    }

    #[test]
    fn nitrite_keeps_the_laws(
        ppm in prop::collection::vec(prop::sample::select(vec![0.0, 100.0, 149.0, 151.0, 199.0, 201.0, 600.0, 640.0]), 1..5),
        which in 0_usize..5,
        more in 0.1_f64..300.0,
    ) {
        let of = |place, ppm: &[f64], weights| {
            let pieces = ppm
                .iter()
                .map(|p| CuredPiece { piece: p.to_string(), ingoing: units::Ppm::new(*p).unwrap() })
                .collect();
            let loin = Cured { product: Product::WholeMuscle, way: Way::Dry, pieces, weights };
            cured(&Terms::of(place), &loin).unwrap().unwrap().verdict
        };
        let at = which % ppm.len();
        for (_, place) in RuleSet::ALL {
            let was = of(*place, &ppm, Weights::Logged);
            let mut worse = ppm.clone();
            worse[at] += more;
            prop_assert!(of(*place, &worse, Weights::Logged) <= was);
            let mut fewer = ppm.clone();
            fewer.remove(at);
            if was == NotShown {
                prop_assert_ne!(of(*place, &fewer, Weights::Logged), Shown);
            }
            // Typed weights are a log that was taken away.
            prop_assert_ne!(of(*place, &ppm, Weights::Entered), Shown);
        }
        // 200 is stricter than 625.
        if of(RuleSet::Us, &ppm, Weights::Logged) == Broken {
            prop_assert_eq!(of(RuleSet::Canada, &ppm, Weights::Logged), Broken);
        }
    }
}
