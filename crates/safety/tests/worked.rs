//! Every worked value of the team's list of limits (`[[worked]]`, 21 of them) and the six worked examples of its page on
//! safety, each with where the figure is printed and how far that was read. The rest of the six (335 h across a clock
//! change, the two time constants of cooling) stand with the judge's own examples.

#![allow(clippy::unwrap_used)]

use kitchen::site::RuleSet;
use safety::facts::{Cured, CuredPiece, Pack, SaltSample, Taken, cured, water_phase_salt, wps_pct};
use safety::history::{Channel, History, Quantity, Reading};
use safety::judge::{Terms, botulinum_6d, listeria_6d};
use safety::nitrite::{Product, Way, Weights, limits};
use safety::{Verdict, rules};
use science::cure::CuringSalt;
use science::lethality::{LISTERIA, NONPROTEOLYTIC_UK, NONPROTEOLYTIC_US, fitted_z};
use science::nitrite::{Proportion, as_ion, dry, from_ion, immersed_pick_up, pumped};
use units::{Mass, Ppm, Temperature};

/// Avoirdupois ounce and pound, grams: exact, from the definition of the pound.
const OZ_G: f64 = 28.349_523_125;
const LB_G: f64 = 453.592_37;

fn g(grams: f64) -> Mass {
    Mass::grams(grams).unwrap()
}

fn near(found: f64, expected: f64, off: f64) {
    assert!((found - expected).abs() <= off, "{found} for {expected}");
}

/// So many ounces to 100 lb, ppm.
fn per_hundredweight(ounces: f64) -> f64 {
    ounces * OZ_G / (100.0 * LB_G) * 1e6
}

/// The figure of a row.
fn row(id: &str) -> f64 {
    rules::shipped().unwrap().find(id).unwrap().value.unwrap()
}

/// `ppm.quarter_oz`, `.one_oz`, `.nitrate_3_5oz`, `.nitrate_2_75oz`, `.erythorbate`: ounces in 100 lb as 9 CFR 424.21(c) gives
/// them (second-hand), printed rounded down in the handbook, and the rows carry the printed figure.
#[test]
fn ounces_in_a_hundred_pounds() {
    for (ounces, exact, id) in [
        (0.25, 156.25, "nitrite.meat.comminuted"),
        (1.0, 625.0, "nitrite.meat.dry_cured"),
        (3.5, 2187.5, "nitrate.meat.dry_cured"),
        (2.75, 1718.75, "nitrate.meat.comminuted"),
        (0.875, 546.875, "accelerator.ascorbate"),
    ] {
        near(per_hundredweight(ounces), exact, 1e-9);
        // Printed to the whole number, half-up or cut.
        near(row(id), exact, 0.75);
    }
    // What is judged is the exact figure: 156.25 is within "156".
    let minced = limits()
        .into_iter()
        .find(|l| l.place == RuleSet::Us && l.of == [Product::Minced])
        .unwrap();
    assert_eq!(minced.ppm_nano2, Some(156.25));
}

/// `ppm.cure_4oz_per_100lb` (a product label, read) and example 1: 2.50 g a kilogram are 156.25 ppm, 104.2 as ion.
#[test]
fn four_ounces_of_curing_salt_in_a_hundred_pounds() {
    let ppm = dry(g(4.0 * OZ_G), CuringSalt::NO_1, g(100.0 * LB_G)).unwrap();
    near(ppm.ppm(), 156.25, 1e-9);
    let ppm = dry(g(2.5), CuringSalt::NO_1, g(1000.0)).unwrap();
    near(ppm.ppm(), 156.25, 1e-9);
    near(as_ion(ppm).unwrap().ppm(), 104.2, 0.05);
}

/// `ppm.pickle_10pct`, `.pickle_nitrate`: 2 lb (7 lb) in 100 gal of 10 lb at a 10 % pump (9 CFR 424.21(c), second-hand).
#[test]
fn pounds_in_a_hundred_gallons() {
    for (pounds, expected, id) in [
        (2.0, 200.0, "nitrite.meat.pumped_or_immersed"),
        (7.0, 700.0, "nitrate.meat.pumped_or_immersed"),
    ] {
        // The formula is the same for either salt; the curing salt is what was asked of.
        let pump = Proportion::new(0.10).unwrap();
        let cure = g(pounds * LB_G / 0.0625);
        let ppm = pumped(cure, CuringSalt::NO_1, g(1000.0 * LB_G), pump).unwrap();
        near(ppm.ppm(), expected, 1e-9);
        near(row(id), expected, 0.0);
    }
}

/// `ppm.pump_20pct_120`: 120 ppm at a 20 % pump are 0.06 lb in 100 lb of pickle (the handbook's formula as a user applied it,
/// second-hand).
#[test]
fn the_nitrite_of_a_pickle_for_bacon() {
    let pump = Proportion::new(0.20).unwrap();
    let ppm = pumped(
        g(0.06 * LB_G / 0.0625),
        CuringSalt::NO_1,
        g(100.0 * LB_G),
        pump,
    )
    .unwrap();
    near(ppm.ppm(), 120.0, 1e-9);
    near(row("nitrite.bacon.immersed"), 120.0, 0.0);
}

/// `ppm.brine_pickup_57`: Method One, 0.6 oz in 67 oz at a 10 % pick-up; printed "about 57", exact 55.97 (second-hand).
#[test]
fn a_brine_by_its_pick_up() {
    let pick_up = Proportion::new(0.10).unwrap();
    let ppm = immersed_pick_up(g(0.6 * OZ_G), CuringSalt::NO_1, g(67.0 * OZ_G), pick_up).unwrap();
    near(ppm.ppm(), 55.97, 0.005);
}

/// `trap.percent_as_number`: the handbook prints "%" and means a proportion; 10 typed for 10 % is refused and asked about.
#[test]
fn a_percent_typed_for_a_proportion_is_refused() {
    for percent in [6.25, 10.0] {
        let error = Proportion::new(percent).unwrap_err().to_string();
        assert!(error.contains("did you mean"), "{error}");
    }
}

/// Example 2: 42.00 g in 1 750 g; 10 % is 150.0 ppm, 12 % 180.0, 13.3 % 199.5, and the piece that took 14 % is 210.0 and blocked,
/// whatever the others took. The US passes 150, Canada too, the EU counts 100.0 as ion against 80. Nothing typed is shown.
#[test]
fn one_pickle_in_every_place() {
    let pieces: Vec<CuredPiece> = [(0.10, 150.0), (0.12, 180.0), (0.133, 199.5), (0.14, 210.0)]
        .iter()
        .map(|(pump, expected)| {
            let pump_ratio = Proportion::new(*pump).unwrap();
            let ingoing = pumped(g(42.0), CuringSalt::NO_1, g(1750.0), pump_ratio).unwrap();
            near(ingoing.ppm(), *expected, 1e-9);
            CuredPiece {
                piece: format!("the piece of {:.1} %", pump * 100.0),
                ingoing,
            }
        })
        .collect();
    let of = |place, pieces: &[CuredPiece], weights| {
        let loin = Cured {
            product: Product::WholeMuscle,
            way: Way::Pumped,
            pieces: pieces.to_vec(),
            weights,
        };
        cured(&Terms::of(place), &loin).unwrap().unwrap()
    };
    let us = of(RuleSet::Us, &pieces, Weights::Logged);
    assert_eq!(us.verdict, Verdict::Broken);
    assert!(
        us.next.contains("hold the piece of 14.0 % out"),
        "{}",
        us.next
    );
    near(us.value.unwrap(), 210.0, 1e-9);
    for (place, verdict) in [
        (RuleSet::Us, Verdict::NotShown),
        (RuleSet::Canada, Verdict::NotShown),
        (RuleSet::England, Verdict::NotShown),
        (RuleSet::Eu, Verdict::Broken),
    ] {
        assert_eq!(
            of(place, &pieces[..1], Weights::Entered).verdict,
            verdict,
            "{place:?}"
        );
    }
    let england = of(RuleSet::England, &pieces[..1], Weights::Logged);
    assert_eq!(
        england.verdict,
        Verdict::Shown,
        "a limit that was read, weights of a log"
    );
    let eu = of(RuleSet::Eu, &pieces[..1], Weights::Entered);
    near(eu.value.unwrap(), 100.0, 0.05);
}

/// `ion.80`, `potassium.120`: molar masses (from memory) against 9 CFR 424.22(b) (148, from memory).
#[test]
fn ion_and_potassium() {
    near(
        from_ion(Ppm::new(80.0).unwrap()).unwrap().ppm(),
        119.98,
        0.005,
    );
    near(120.0 * 85.104 / 68.995, 148.0, 0.2);
}

/// `lobster.z`: five temperatures and D-values give z = 5.0 °C (J. Food Prot. 1992, 55:211, abstract read). Printed D and z are
/// rounded, so 0.4 °C either way.
#[test]
fn z_of_lobster() {
    let times: Vec<_> = [51.6, 54.4, 57.2, 60.0, 62.7]
        .into_iter()
        .zip([97.0, 55.0, 8.30, 2.39, 1.06])
        .map(|(c, d)| (Temperature::celsius(c).unwrap(), d))
        .collect();
    near(fitted_z(&times).unwrap().k(), 5.0, 0.4);
}

/// `fsis.z_from_table`: the rows of 130 to 157 °F of Table 2 (read) fall tenfold in 10 °F; regression of the table, no printed z.
#[test]
fn z_of_the_table_of_inspection() {
    let table = rules::shipped().unwrap().table("fsis-meat").unwrap();
    let times: Vec<_> = table
        .pairs("degF", "s_for_6.5_log")
        .unwrap()
        .into_iter()
        .filter(|(f, _)| (130.0..=157.0).contains(f))
        .map(|(f, s)| (Temperature::from_f(f).unwrap(), s))
        .collect();
    near(fitted_z(&times).unwrap().k() * 1.8, 10.0, 0.4);
}

/// Every row of the published tables of kill from its own formula: Listeria (from memory), botulinum US (from memory) and
/// UK (read; its printed figures are rounded, so 4 %). `uk.npcb.85`, `fda.npcb.85`, `fda.lm.63` are three of these rows.
#[test]
fn the_tables_of_kill_come_out_of_their_formulas() {
    let rows = |id: &str, column: &str| {
        let table = rules::shipped().unwrap().table(id).unwrap();
        table.pairs("degC", column).unwrap()
    };
    for (id, column, reference, target, part) in [
        ("lm6d", "min_for_6D", &LISTERIA, 2.0, 0.02),
        ("npcb6d-fda", "min_for_6D", &NONPROTEOLYTIC_US, 10.0, 0.01),
        ("npcb6d-uk", "min", &NONPROTEOLYTIC_UK, 10.0, 0.04),
    ] {
        let rows = rows(id, column);
        assert!(rows.len() > 15);
        for (c, minutes) in rows {
            let asked = reference
                .minutes_at(Temperature::celsius(c).unwrap(), target)
                .unwrap();
            // Half a thousandth of a minute of rounding, which is much in the shortest rows.
            near(minutes / asked, 1.0, part + 0.0005 / asked);
        }
    }
    let at = |reference: &science::lethality::Reference, c: f64, target: f64| {
        reference
            .minutes_at(Temperature::celsius(c).unwrap(), target)
            .unwrap()
    };
    near(at(&NONPROTEOLYTIC_UK, 85.0, 10.0), 36.0, 0.6);
    near(at(&NONPROTEOLYTIC_US, 85.0, 10.0), 51.8, 0.1);
    near(at(&LISTERIA, 63.0, 2.0), 17.15, 0.2);
}

fn held(c: f64, minutes: i64) -> History {
    let readings = (0..=minutes)
        .step_by(5)
        .map(|min| Reading {
            at_s: 1_800_000_000 + min * 60,
            value: Some(c),
        })
        .collect();
    History {
        channels: vec![Channel {
            name: "core".to_owned(),
            quantity: Quantity::TemperatureC,
            readings,
        }],
    }
}

/// `smoked.145F30.lm` and example 4: 145 °F for 30 min is worth 3.267 min at 70 °C (own arithmetic): enough for Listeria, nothing
/// for spores. 60 °C for 10 min is worth 0.464.
#[test]
fn the_hot_smoke_hold_kills_listeria_and_no_spores() {
    let smoked = held((145.0 - 32.0) / 1.8, 30);
    let terms = Terms::of(RuleSet::Us);
    let listeria = listeria_6d(&smoked, &terms).unwrap();
    near(listeria.value.unwrap(), 3.267, 0.0005);
    assert_eq!(
        listeria.verdict,
        Verdict::NotShown,
        "met, and the figure is from memory"
    );
    let spores = botulinum_6d(&smoked, &terms).unwrap();
    assert_eq!(spores.verdict, Verdict::Broken);
    assert!(spores.value.unwrap() < 0.01);
    let short = listeria_6d(&held(60.0, 10), &terms).unwrap();
    near(short.value.unwrap(), 0.464, 0.0005);
    assert_eq!(short.verdict, Verdict::Broken);
}

fn loin(salt_pct: f64, water_pct: f64) -> SaltSample {
    SaltSample {
        sample: "loin".to_owned(),
        taken: Taken::Thickest,
        salt_pct,
        water_pct,
        nitrite_ppm: None,
    }
}

/// `wps.a`, `wps.b` and example 3: 2.5 and 65 % are 3.704; 2.3 and 64 % are 3.469 and just fail 3.5; 2.53 and 62.1 % are 3.91 (own
/// arithmetic; the formula of the fish guide, from memory).
#[test]
fn salt_in_the_water_of_fish() {
    for (salt, water, expected, off) in [
        (2.5, 65.0, 3.704, 0.0005),
        (2.3, 64.0, 3.469, 0.0005),
        (2.53, 62.1, 3.91, 0.005),
    ] {
        near(wps_pct(&loin(salt, water)).unwrap(), expected, off);
    }
    let of = |salt, water| {
        let terms = Terms::of(RuleSet::Us);
        water_phase_salt(&terms, Pack::ReducedOxygen, &[loin(salt, water)])
            .unwrap()
            .verdict
    };
    assert_eq!(of(2.3, 64.0), Verdict::Broken);
    assert_eq!(of(2.5, 65.0), Verdict::Shown);
}
