use super::*;

fn g(grams: f64) -> Measure {
    Measure::Weighed(Mass::grams(grams).unwrap())
}

fn fennel(vinegar_g: f64) -> Pickle {
    Pickle {
        vinegar: g(vinegar_g),
        strength: Fraction::percent(5.0, Base::new("vinegar").unwrap()).unwrap(),
        water: Some(g(390.0)),
        salt: Some(g(39.0)),
        sugar: Some(g(195.0)),
        other: None,
        edible: Mass::grams(1299.0).unwrap(),
        name: "fennel".to_owned(),
        edible_water: None,
        acids: Vec::new(),
        buffering: Buffering::Unknown,
        find: None,
        seed: 1,
    }
}

fn tried(vinegar_g: f64) -> Pickle {
    let ph = |ph| science::acid::Ph::new(ph).unwrap();
    Pickle {
        edible_water: Some((90.0, Citation::whole(&list::ENTERED))),
        buffering: Buffering::Trial {
            vegetable: Mass::grams(100.0).unwrap(),
            water: Mass::grams(100.0).unwrap(),
            vinegar: Mass::grams(11.0).unwrap(),
            before: ph(6.0),
            after: ph(4.2),
        },
        ..fennel(vinegar_g)
    }
}

fn figure(answer: &Answer, id: &str) -> f64 {
    answer
        .figures
        .number(id)
        .unwrap_or_else(|| panic!("{id}: {}", answer.text()))
}

/// The searches stand on fewer draws than the chance; they agree within what counting leaves open.
#[test]
fn the_least_vinegar_is_one_with_which_nineteen_draws_in_twenty_do() {
    let answer = pickle(&tried(200.0)).unwrap();
    let least = figure(&answer, "least.vinegar");
    let chance = |g| figure(&pickle(&tried(g)).unwrap(), "chance.target");
    assert!((chance(least) - 95.0).abs() < 1.5, "{}", chance(least));
    assert!(chance(least * 0.8) < 95.0 - 1.5 && chance(least * 1.2) > 95.0 + 1.5);
    let weakest = figure(&answer, "weakest");
    let mut other = tried(200.0);
    other.strength = Fraction::percent(weakest, Base::new("vinegar").unwrap()).unwrap();
    let found = figure(&pickle(&other).unwrap(), "chance.target");
    assert!((94.0..99.0).contains(&found), "{found} at {weakest} %");
}

#[test]
fn without_a_buffer_the_ph_is_unknown_and_with_one_it_is_never_shown() {
    let unknown = pickle(&fennel(676.0)).unwrap();
    assert!(unknown.figures.get("ph").is_none());
    assert!(
        unknown.small[0].1.starts_with("unknown: nobody said"),
        "{}",
        unknown.text()
    );
    assert!(picture(&fennel(676.0)).is_err());
    let sour = pickle(&tried(1500.0)).unwrap();
    assert!(figure(&sour, "chance.target") > 99.9);
    assert_eq!(sour.verdict, Some(Verdict::NotShown));
    let flat = pickle(&tried(20.0)).unwrap();
    assert!(figure(&flat, "ph.low") > 4.6, "{}", flat.text());
    assert_eq!(flat.verdict, Some(Verdict::Broken));
}

#[test]
fn another_acid_counts_as_well() {
    let mut with = tried(300.0);
    with.acids = vec![(Acid::Citric, Mass::grams(10.0).unwrap())];
    let (with, without) = (pickle(&with).unwrap(), pickle(&tried(300.0)).unwrap());
    assert!(figure(&with, "ph") < figure(&without, "ph") - 0.1);
    assert!(with.figures.dangling().is_empty());
}

#[test]
fn too_much_salt_leaves_the_ph_unknown_and_the_rest_standing() {
    let mut salty = tried(676.0);
    salty.salt = Some(g(200.0));
    let answer = pickle(&salty).unwrap();
    assert!(answer.figures.get("ph").is_none());
    assert!(
        answer.small[0].1.starts_with("unknown: ionic strength"),
        "{}",
        answer.text()
    );
}

proptest::proptest! {
    #[test]
    fn more_or_stronger_vinegar_never_raises_and_more_buffer_never_lowers_the_ph(
        vinegar in 50.0..900.0_f64, more in 1.0..600.0_f64, strength in 4.0..8.0_f64, stronger in 0.1..4.0_f64,
        buffer in 4.0..30.0_f64, other in 0.5..20.0_f64,
    ) {
        let ph = |vinegar: f64, strength: f64, mmol: f64| {
            let mut ask = tried(vinegar);
            ask.strength = Fraction::percent(strength, Base::new("vinegar").unwrap()).unwrap();
            ask.buffering = Buffering::Between {
                raw: science::acid::Ph::new(6.0).unwrap(), least: mmol, most: mmol,
            };
            let (poured, _) = poured(&ask, &mut Sheet::default()).unwrap();
            let sour = sour::Sour::of(&ask, &poured.all).unwrap().unwrap();
            sour.drawn(100).unwrap().quantiles().unwrap()
        };
        let at = ph(vinegar, strength, buffer);
        for (lower, higher) in [
            (ph(vinegar + more, strength, buffer), at),
            (ph(vinegar, strength + stronger, buffer), at),
            (at, ph(vinegar, strength, buffer + other)),
        ] {
            for (l, h) in [(lower.p5, higher.p5), (lower.p50, higher.p50), (lower.p95, higher.p95)] {
                proptest::prop_assert!(l <= h + 1e-9, "{l} {h}");
            }
        }
    }
}

/// Worked by hand: acid 1.30, salt 1.50, sugar 7.50 % of all; liquor 2.60 % acid.
#[test]
fn the_fennel_comes_even_at_its_hand_figures() {
    let answer = pickle(&fennel(676.0)).unwrap();
    assert_eq!(answer.answer, "1.30 % acetic acid at equilibrium");
    assert_eq!(answer.figures.get("salt.even").unwrap().show(), "1.50 %");
    assert_eq!(answer.figures.get("sugar.even").unwrap().show(), "7.50 %");
    assert_eq!(answer.figures.get("acid.liquor").unwrap().show(), "2.60 %");
    assert_eq!(answer.verdict, Some(Verdict::NotShown));
}

#[test]
fn a_flat_pickle_is_told_how_much_vinegar() {
    let answer = pickle(&fennel(500.0)).unwrap();
    let more = answer.figures.number("more").unwrap();
    let again = pickle(&fennel(500.0 + more)).unwrap();
    assert!((again.figures.number("acid.even").unwrap() - 1.1).abs() < 1e-9);
}
