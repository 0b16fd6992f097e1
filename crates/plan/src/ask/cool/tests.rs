use super::*;

fn c(c: f64) -> Temperature {
    Temperature::celsius(c).unwrap()
}

fn tub(depth: f64) -> Cool {
    Cool {
        thickness: Length::millimetres(depth).unwrap(),
        stacked: 1,
        lying: Lying::OneFace,
        matter: Matter::Water,
        from: c(60.0),
        air: c(-1.0),
        surroundings: Surroundings::Blast,
        called: "blast".to_owned(),
        place: RuleSet::Us,
    }
}

#[test]
fn a_deep_tub_breaks_the_rule_and_a_shallow_one_is_not_shown() {
    let shallow = cool(&tub(15.0)).unwrap().answer;
    assert_eq!(
        shallow.verdict,
        Some(Verdict::NotShown),
        "{}",
        shallow.limit
    );
    let deep = cool(&tub(100.0)).unwrap().answer;
    assert_eq!(deep.verdict, Some(Verdict::Broken), "{}", deep.limit);
    let (a, b) = (
        shallow.figures.number("deepest").unwrap(),
        deep.figures.number("deepest").unwrap(),
    );
    assert!((a - b).abs() <= 1.0 && a > 15.0 && a < 100.0, "{a} {b}");
}

/// A thin layer is a lump: 57 to 21 °C in air of −1 °C takes ln(58 ÷ 22) × ρ c × depth ÷ h; 1000 ×
/// 4190 × 0.005 ÷ 25 s is 838 s, so 13.5 min (Newton's law of cooling, by hand).
#[test]
fn a_thin_layer_cools_as_a_lump() {
    let answer = cool(&tub(5.0)).unwrap().answer;
    assert!(
        (answer.figures.number("usual.first").unwrap() - 13.5).abs() < 0.8,
        "{}",
        answer.text()
    );
}

#[test]
fn air_warmer_than_the_limit_never_gets_there() {
    let mut ask = tub(20.0);
    ask.air = c(8.0);
    let answer = cool(&ask).unwrap().answer;
    assert_eq!(answer.verdict, Some(Verdict::Broken));
    assert!(answer.answer.contains("not reached"), "{}", answer.answer);
    ask.from = c(15.0);
    assert!(cool(&ask).is_err());
}
