use super::*;

fn c(c: f64) -> Temperature {
    Temperature::celsius(c).unwrap()
}

fn min(min: f64) -> Elapsed {
    Elapsed::from_minutes(min).unwrap()
}

fn side(last_min: f64) -> Cook {
    let stretch = |air, time| Stretch {
        from: c(air),
        to: c(air),
        time: min(time),
    };
    Cook {
        thickness: Length::millimetres(25.0).unwrap(),
        stacked: 1,
        lying: Lying::BothFaces,
        matter: Matter::Trout,
        from: c(4.0),
        surroundings: Surroundings::ForcedSmokehouse,
        programme: vec![stretch(50.0, 60.0), stretch(82.0, last_min)],
        humidity_pct: None,
        core: c(63.0),
        hold: min(30.0),
    }
}

fn minutes(answer: &Answer, id: &str) -> f64 {
    let figure = answer.figures.get(id).unwrap();
    answer.figures.number(id).unwrap() * if figure.unit == "h" { 60.0 } else { 1.0 }
}

/// The second stretch as a lump by hand would be early; the series of conduction (Carslaw and Jaeger,
/// from memory) for one air temperature is the outside check of the model itself. Here: what the
/// answer says of longer programmes agrees with them.
#[test]
fn a_programme_as_long_as_asked_holds_as_long_as_asked() {
    let short = cook(&side(60.0)).unwrap().answer;
    assert!(short.limit.contains("NOT REACHED"), "{}", short.limit);
    let longer = minutes(&short, "longer");
    let enough = cook(&side(60.0 + longer + 1.0)).unwrap().answer;
    assert!(enough.limit.contains("to spare"), "{}", enough.limit);
    assert!(minutes(&enough, "spare") < 2.5);
    assert_eq!(enough.verdict, Some(Verdict::NotShown));
}

#[test]
fn slow_air_is_slower_and_worth_less() {
    let answer = cook(&side(90.0)).unwrap().answer;
    assert!(minutes(&answer, "slow.core_at") > minutes(&answer, "quick.core_at"));
    let f = |id| answer.figures.number(id).unwrap();
    assert!(f("slow.f70") < f("usual.f70") && f("usual.f70") < f("quick.f70"));
}

#[test]
fn cool_air_never_gets_there_and_says_so() {
    let mut ask = side(60.0);
    ask.programme[1].from = c(60.0);
    ask.programme[1].to = c(60.0);
    let answer = cook(&ask).unwrap().answer;
    assert!(
        answer.answer.contains("is not reached"),
        "{}",
        answer.answer
    );
    assert!(answer.next.contains("hotter air"), "{}", answer.next);
    ask.from = c(70.0);
    assert!(cook(&ask).is_err());
}

#[test]
fn a_wet_surface_is_slower() {
    let dry = cook(&side(90.0)).unwrap().answer;
    let wet = cook(&Cook {
        humidity_pct: Some(40.0),
        ..side(90.0)
    })
    .unwrap()
    .answer;
    assert!(
        wet.figures.number("usual.core_end").unwrap()
            < dry.figures.number("usual.core_end").unwrap()
    );
}
