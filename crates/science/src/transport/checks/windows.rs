//! When a goal is reached.

use super::*;
use crate::ScienceError;

#[test]
fn thirty_four_millimetres_take_nearly_twice_as_long_as_twenty_five() {
    let sixty_days = hours(60.0 * 24.0);
    let goals = [
        (Goal::Uptake { share: 0.95 }, wide(15.0, sixty_days)),
        (
            Goal::Core {
                water_phase: strength(3.5),
            },
            cover(100.0, 15.0, 1.0, 1.0, sixty_days),
        ),
        (
            Goal::Core {
                water_phase: strength(2.0),
            },
            cure(2.5, 1.5, Juice::AllEnters, 2.0, sixty_days),
        ),
    ];
    for (goal, phase) in goals {
        let time = |thickness| {
            let piece = slab(thickness, Closed::One);
            time_to(&piece, &flesh(), &params(), &phase, &goal, Grid::default())
                .unwrap()
                .hours()
        };
        let factor = time(34.0) / time(25.0);
        let exact = (34.0_f64 / 25.0).powi(2);
        assert!((factor / exact - 1.0).abs() < 1e-3, "{goal:?} {factor}");
    }
}

#[test]
fn a_window_opens_with_the_thick_piece_and_shuts_with_the_thin() {
    let pieces = |thin, thick| Pieces {
        thin: slab(thin, Closed::One),
        nominal: slab(25.0, Closed::One),
        thick: slab(thick, Closed::One),
    };
    let share = |pct| Fraction::percent(pct, finished_piece().unwrap()).unwrap();
    let goal = Goal::Mean {
        least: share(2.0),
        most: share(3.0),
    };
    let find = |pieces: &Pieces, phase: &Phase| {
        window(pieces, &flesh(), &params(), phase, &goal, Grid::default())
    };
    let brine = wide(15.0, hours(200.0));
    let found = find(&pieces(23.0, 27.0), &brine).unwrap();
    assert!(found.thin_there < found.nominal_there && found.nominal_there < found.earliest);
    let latest = found.latest.unwrap();
    assert!(found.earliest <= found.best && found.best <= latest);
    assert!(found.thin_if_fast < found.thin_there);
    assert!(found.thick_if_slow.unwrap() > found.earliest);
    // Early on the mean goes with √t ÷ L, so 2 to 3 % allows thicknesses up to about 1.5 to 1.
    assert!(matches!(
        find(&pieces(15.0, 35.0), &brine),
        Err(ScienceError::WindowShut { .. })
    ));
    // Two and a half percent laid on never passes three.
    let measured = cure(2.5, 0.0, Juice::AllEnters, 0.0, hours(200.0));
    assert_eq!(find(&pieces(23.0, 27.0), &measured).unwrap().latest, None);
    let little = cure(1.0, 0.0, Juice::AllEnters, 0.0, hours(200.0));
    let error = find(&pieces(23.0, 27.0), &little).unwrap_err().to_string();
    assert!(error.contains("mean salt: found 0.9901 %"), "{error}");
    assert!(find(&pieces(23.0, 27.0), &rest(hours(1.0))).is_err());
}
