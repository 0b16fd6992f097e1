use super::*;

fn mm(mm: f64) -> Length {
    Length::millimetres(mm).unwrap()
}

fn side(time_h: Option<f64>, wanted: Wanted) -> Cure {
    Cure {
        thickness: mm(25.0),
        thin: Some(mm(20.0)),
        thick: Some(mm(30.0)),
        cut: Cut::Slab,
        both_faces: false,
        contact: Contact::Dry {
            salt_pct: 2.5,
            sugar_pct: 0.0,
        },
        water_pct: 72.0,
        at: Temperature::celsius(3.0).unwrap(),
        wanted,
        diffusivity: None,
        juice_stays: false,
        water_out: None,
        wall: None,
        find: None,
        time: time_h.map(|h| Elapsed::from_hours(h).unwrap()),
        seed: 1,
    }
}

/// Under a face held at saturation the uptake of a thick slab is `2 c √(D t ÷ π)` (Crank, from memory):
/// with c = 0.3586 × 0.72 kg/kg the time to 95 % of 2.5 % in 30 mm follows by hand.
#[test]
fn the_first_hours_go_with_the_square_root_of_time() {
    let asked = side(None, Wanted::Uptake { pct: 95.0 });
    let found = cure(&asked).unwrap();
    let speed = found.answer.figures.number("diffusivity").unwrap() * 1e-10;
    let face = 0.26395 / 0.73605 * 0.72;
    let way = 0.95 * 0.025 * 0.030 / (2.0 * face);
    let hours = way * way * std::f64::consts::PI / speed / 3600.0;
    let (value, unit) = {
        let figure = found.answer.figures.get("earliest").unwrap();
        (
            found.answer.figures.number("earliest").unwrap(),
            figure.unit.clone(),
        )
    };
    assert_eq!(unit, "h");
    assert!((value / hours - 1.0).abs() < 0.01, "{value} for {hours}");
}

/// Arrhenius by hand: 25 kJ/mol from 4 to 3 °C is a factor exp(−25000 ÷ 8.314463 × (1 ÷ 276.15 − 1 ÷ 277.15)).
#[test]
fn the_diffusivity_follows_its_own_formula() {
    let found = cure(&side(None, Wanted::Uptake { pct: 95.0 })).unwrap();
    let number = |id| found.answer.figures.number(id).unwrap();
    let factor = (-25_000.0 / 8.314_463 * (1.0 / 276.15 - 1.0 / 277.15_f64)).exp();
    assert!((number("diffusivity") / (number("diffusivity.guess") * factor) - 1.0).abs() < 1e-6);
}

#[test]
fn a_core_goal_is_never_more_than_not_shown() {
    let mut asked = side(None, Wanted::Core { pct: 2.0 });
    asked.diffusivity = Some(Diffusivity::m2_per_s(1e-9).unwrap());
    let found = cure(&asked).unwrap().answer;
    assert_eq!(found.verdict, Some(Verdict::NotShown));
    let text = found.text();
    assert!(text.contains("a calculated core shows nothing"), "{text}");
    let salt = |id| found.figures.number(id).unwrap();
    assert!(salt("thick.core") >= 1.999 && salt("thin.core") > salt("thick.core"));
}

/// A chance of about a half where the guess itself just meets the goal, and rising with the time.
#[test]
fn more_time_makes_the_goal_likelier() {
    let chance = |hours| {
        let asked = side(Some(hours), Wanted::Uptake { pct: 95.0 });
        cure(&asked)
            .unwrap()
            .answer
            .figures
            .number("chance")
            .unwrap()
    };
    let there = 0.95_f64.powi(2) * 0.025_f64.powi(2) * 0.03_f64.powi(2)
        / (4.0 * (0.26395_f64 / 0.73605 * 0.72).powi(2))
        * std::f64::consts::PI
        / 2.5e-10
        / 3600.0;
    let (early, just, late) = (
        chance(there / 3.0),
        chance(there * 1.04),
        chance(there * 3.0),
    );
    assert!(
        early < 15.0 && (40.0..60.0).contains(&just) && late > 85.0,
        "{early} {just} {late}"
    );
}

#[test]
fn what_would_do_does() {
    let mut asked = side(
        Some(48.0),
        Wanted::Mean {
            least_pct: 2.2,
            most_pct: 2.6,
        },
    );
    let found = cure(&asked).unwrap().answer.figures;
    let thick = found.number("cut.would_do").unwrap();
    asked.thickness = mm(thick);
    (asked.thin, asked.thick) = (None, None);
    let again = cure(&asked).unwrap().answer.figures;
    assert!(
        (again.number("usual.there").unwrap() - found.number("then").unwrap()).abs() < 0.5
            || again.get("usual.there").unwrap().unit != found.get("then").unwrap().unit
    );
    assert!((again.number("usual.of_piece").unwrap() - 2.2).abs() < 0.01);
}

#[test]
fn sizes_out_of_order_are_refused() {
    let mut asked = side(None, Wanted::Uptake { pct: 95.0 });
    asked.thin = Some(mm(26.0));
    assert!(cure(&asked).unwrap_err().found.contains("26 mm"));
}

/// By mass balance 2 % of green weight in 72 % water ends at 2.70 % in the water; 3.5 % asks 2.61 %.
#[test]
fn a_goal_beyond_the_end_is_refused_with_what_would_do() {
    let mut asked = side(None, Wanted::Core { pct: 3.5 });
    asked.contact = Contact::Dry {
        salt_pct: 2.0,
        sugar_pct: 0.0,
    };
    let refusal = cure(&asked).unwrap_err();
    assert!(refusal.found.contains("2.70 %"), "{}", refusal.found);
    assert!(refusal.do_now.contains("2.61 %"), "{}", refusal.do_now);
}
