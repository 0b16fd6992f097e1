use super::*;
use units::Base;

fn g(grams: f64) -> Mass {
    Mass::grams(grams).unwrap()
}

fn pct(percent: f64) -> Fraction {
    Fraction::percent(percent, Base::new("green weight").unwrap()).unwrap()
}

fn duck(scale_g: f64) -> Salt {
    let line = |name: &str, p| (name.to_owned(), pct(p));
    Salt {
        of: g(370.0),
        at: pct(2.75),
        curing: Some(Curing {
            name: "curing salt, no. 1".to_owned(),
            kind: cure::CuringSalt::NO_1,
            source: Citation::whole(&list::PRACTICE),
            at: pct(0.25),
        }),
        lines: vec![
            line("sugar", 1.0),
            line("pepper", 0.3),
            line("juniper", 0.2),
            line("thyme", 0.1),
        ],
        scales: vec![Scale::new("class scale", g(scale_g), g(6000.0)).unwrap()],
    }
}

/// A duck breast of 370 g worked by hand: 0.925 g of curing salt on a 0.1 g scale could be 144 to
/// 160 ppm; the class mix is dispensed at 17.02 g.
#[test]
fn a_cure_too_fine_for_the_scale_is_refused_with_the_master_mix() {
    let refusal = salt(&duck(0.1)).unwrap_err();
    assert!(
        refusal
            .do_now
            .starts_with("mix for the whole class once, then dispense 17.02 g"),
        "{refusal:?}"
    );
    assert!(
        refusal
            .readings
            .iter()
            .any(|r| r.contains("144 to 160 ppm")),
        "{refusal:?}"
    );
}

#[test]
fn a_fine_scale_weighs_the_cure() {
    let answer = salt(&duck(0.01)).unwrap();
    assert_eq!(answer.answer, "10.2 g salt + 0.93 g curing salt, no. 1");
    assert!((answer.figures.number("nitrite").unwrap() - 156.25).abs() < 1e-9);
    assert!((answer.figures.number("salt.total.pct").unwrap() - 2.984_375).abs() < 1e-9);
    assert!(answer.figures.dangling().is_empty());
    assert_eq!(answer.verdict, None);
}

#[test]
fn ten_times_the_curing_salt_is_broken() {
    let mut ask = duck(0.01);
    if let Some(curing) = &mut ask.curing {
        curing.at = pct(2.5);
    }
    assert_eq!(salt(&ask).unwrap().verdict, Some(safety::Verdict::Broken));
}

#[test]
fn more_salt_than_meat_is_a_slip() {
    let ask = Salt {
        of: g(100.0),
        at: pct(250.0),
        curing: None,
        lines: vec![],
        scales: vec![],
    };
    assert!(salt(&ask).is_err());
}
