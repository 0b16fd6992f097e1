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

/// The end by mass balance against where a long run comes to: juice that stays, wide and cover brine, all
/// with water going out. Half the thickness and three weeks: the last of it is under a thousandth.
#[test]
fn the_end_by_mass_balance_is_where_a_long_run_comes_to() {
    let dry = Contact::Dry {
        salt_pct: 3.0,
        sugar_pct: 0.0,
    };
    let brine = |water_pct| Contact::Brine {
        strength_pct: 12.0,
        water_pct,
    };
    for (contact, juice_stays) in [
        (dry, true),
        (brine(None), false),
        (brine(Some(80.0)), false),
    ] {
        for out in [0.5, 1.5, 3.0] {
            let mut asked = side(None, Wanted::Uptake { pct: 95.0 });
            asked.contact = contact.clone();
            asked.juice_stays = juice_stays;
            asked.water_out = Some((out, out));
            asked.both_faces = true;
            let model = Model::of(&asked).unwrap();
            let long = Elapsed::from_days(21.0).unwrap();
            let run = model
                .run(mm(10.0), long, science::transport::Grid::default())
                .unwrap();
            let (found, end) = (run.last.mean.salt_g_per_kg(), model.ends_at() * 1000.0);
            assert!(
                (found / end - 1.0).abs() < 2e-3,
                "{contact:?} {out}: {found} for {end}"
            );
        }
    }
}

/// The strongest dose that leaves a window leaves one, and a little more shuts it.
#[test]
fn the_shortest_cure_stands_at_the_edge_of_its_window() {
    let mut asked = side(
        None,
        Wanted::Mean {
            least_pct: 2.2,
            most_pct: 2.8,
        },
    );
    (asked.thin, asked.thick) = (Some(mm(20.0)), Some(mm(28.0)));
    asked.both_faces = true;
    asked.find = Some(Find::ShortestCure);
    let found = cure(&asked).unwrap().answer.figures;
    let dose = found.number("salt").unwrap();
    asked.find = None;
    assert!(cure(&asked.with_salt(dose)).is_ok());
    let shut = cure(&asked.with_salt(dose + 0.05)).unwrap_err();
    assert!(shut.found.contains("window"), "{}", shut.found);
}

/// Across the change of the clocks on 2027-11-07 in Toronto: the wait is elapsed, the hour moves.
#[test]
fn out_is_counted_in_elapsed_time() {
    let zone = jiff::tz::TimeZoneDatabase::bundled()
        .get("America/Toronto")
        .unwrap();
    let into: jiff::Timestamp = "2027-11-07T00:10:00Z".parse().unwrap();
    let mut asked = side(None, Wanted::Uptake { pct: 95.0 });
    asked.wall = Some(Wall {
        zone,
        zone_name: "America/Toronto".to_owned(),
        into,
        now: None,
    });
    let found = cure(&asked).unwrap().answer.figures;
    let best_min = found.number("best").unwrap() * 60.0;
    let Some(crate::figures::Value::Moment { instant, .. }) = found.get("out").map(|f| &f.value)
    else {
        panic!("no hour");
    };
    let out: jiff::ZonedDateTime = instant.parse().unwrap();
    let waited = (out.timestamp().as_second() - into.as_second()) as f64 / 60.0;
    assert!(
        (0.0..=1.0).contains(&(waited - best_min)),
        "{waited} for {best_min}"
    );
}
