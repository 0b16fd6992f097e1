use super::*;

fn g(g: f64) -> Mass {
    Mass::grams(g).unwrap()
}

fn dressing(oil: f64) -> Emulsion {
    Emulsion {
        oil: g(oil),
        aqueous: g(60.0),
        yolk: Mass::ZERO,
        vinegar: g(20.0),
        acid_pct: 5.0,
        salt: g(2.0),
        sugar: Mass::ZERO,
        oil_density: Some(Density::g_per_millilitre(0.916).unwrap()),
        most_oil: false,
    }
}

/// By hand: 200 ÷ 0.916 = 218.3 mL of oil, 80 ÷ 1.01 = 79.2 mL watery: 73.4 %; acid 1 g in 80 g is
/// 1.25 %; salt 2 ÷ 81 is 2.47 %. Most oil 79.2 × 74 ÷ 26 × 0.916 = 206.5 g.
#[test]
fn a_dressing_worked_by_hand() {
    let found = emulsion(&dressing(200.0)).unwrap();
    let n = |id| found.figures.number(id).unwrap();
    assert!((n("share") - 73.38).abs() < 0.01 && (n("acid") - 1.25).abs() < 1e-9);
    assert!((n("salt.water") - 2.0 / 81.0 * 100.0).abs() < 1e-9);
    assert!((n("oil.most") - 206.5).abs() < 0.05, "{}", n("oil.most"));
    assert!(!found.answer.contains("STIFF"));
}

#[test]
fn the_most_oil_is_the_line_and_more_is_flagged() {
    let most = emulsion(&dressing(200.0))
        .unwrap()
        .figures
        .number("oil.most")
        .unwrap();
    let at = emulsion(&dressing(most))
        .unwrap()
        .figures
        .number("share")
        .unwrap();
    assert!((at - MOST_OIL_PCT).abs() < 1e-6);
    let over = emulsion(&dressing(most + 20.0)).unwrap();
    assert!(over.answer.contains("STIFF"), "{}", over.answer);
    // What it says to whisk in brings it back to the line.
    let mut mended = dressing(most + 20.0);
    mended.aqueous = g(60.0 + over.figures.number("add").unwrap());
    assert!(
        (emulsion(&mended).unwrap().figures.number("share").unwrap() - MOST_OIL_PCT).abs() < 1e-6
    );
}

#[test]
fn nothing_watery_is_refused() {
    let mut ask = dressing(200.0);
    (ask.aqueous, ask.vinegar) = (Mass::ZERO, Mass::ZERO);
    assert!(emulsion(&ask).is_err());
    assert!(emulsion(&dressing(0.0)).is_err());
}
