//! What holds for every sheet, whoever wrote it: read back from the SVG pages, whose text lines carry their words, place and size.
//! The PDF is read back by programs of others in `tests/independent/papers.py`.

// Shared setting-up code of tests, where a failed assumption should stop the test.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod samples;

use std::fmt::Write as _;

use press::{Labels, Made, PressError, Print, Tongue, millimetres};
use sheets::model::{
    Bar, Bars, Block, Cell, Column, Kind, Lane, Part, Plate, Sheet, Size, Stock, Table,
};

const MADE: Made = Made {
    utc: (2027, 2, 1, 12, 0),
};

fn print(stock: Stock) -> Print {
    Print {
        stock,
        tongue: Tongue::En,
        labels: Labels::Single,
    }
}

/// A line of text on a page: where its base line starts, how large it is, what it says.
#[derive(Debug, Clone)]
struct Seen {
    x: f64,
    y: f64,
    size: f64,
    text: String,
}

fn pages(sheet: &Sheet, stock: Stock) -> Vec<Vec<Seen>> {
    let laid = press::lay(std::slice::from_ref(sheet), &print(stock)).expect("it can be drawn");
    laid.svg().iter().map(|(_, svg)| seen(svg)).collect()
}

fn seen(svg: &str) -> Vec<Seen> {
    let between = |text: &str, from: &str, to: &str| {
        let start = text.find(from).expect(from) + from.len();
        text[start..start + text[start..].find(to).expect(to)].to_owned()
    };
    svg.split("<g fill=")
        .skip(1)
        .map(|part| {
            let place = between(part, "translate(", ")");
            let (x, y) = place.split_once(' ').expect("two numbers");
            // Letters are drawn in a thousandth of their size.
            let scale: f64 = between(part, "scale(", " ").parse().expect("a number");
            let raw = between(part, "<title>", "</title>");
            let text = raw
                .replace("&lt;", "<")
                .replace("&gt;", ">")
                .replace("&quot;", "\"")
                .replace("&amp;", "&");
            Seen {
                x: x.parse().expect("x"),
                y: y.parse().expect("y"),
                size: scale * 1000.0,
                text,
            }
        })
        .collect()
}

fn said(page: &[Seen]) -> String {
    page.iter().fold(String::new(), |mut all, line| {
        let _ = write!(all, "{} ", line.text);
        all
    })
}

fn one(blocks: Vec<Block>) -> Sheet {
    samples::sheet("one", Kind::PrepList, Size::Page, "One", &[], blocks)
}

#[test]
fn the_same_sheets_give_the_same_bytes() {
    let draw = || {
        press::lay(&samples::all(), &print(Stock::Iso))
            .and_then(|l| l.pdf("All", MADE))
            .expect("drawn")
    };
    assert!(draw() == draw());
}

#[test]
fn the_moment_comes_from_whoever_asks() {
    let laid = press::lay(&[samples::formula_card()], &print(Stock::Us)).expect("drawn");
    let later = Made {
        utc: (2028, 2, 1, 12, 0),
    };
    assert!(laid.pdf("Card", MADE).expect("pdf") != laid.pdf("Card", later).expect("pdf"));
}

#[test]
fn nothing_on_a_card_is_under_eleven_points_on_either_stock() {
    for stock in [Stock::Iso, Stock::Us] {
        for sheet in [
            samples::formula_card(),
            samples::station_card(3),
            samples::hostile(),
        ] {
            for line in pages(&sheet, stock).concat() {
                assert!(
                    line.size >= 11.0 - 0.01,
                    "{} points: {}",
                    line.size,
                    line.text
                );
            }
        }
    }
}

#[test]
fn a_big_number_and_the_hours_of_a_board_are_read_from_across_the_room() {
    for size in [
        Size::Wall,
        Size::WallWide,
        Size::Page,
        Size::PageWide,
        Size::Card,
        Size::Label,
    ] {
        let numbers = ["63 °C", "299.52 g", "1,234,567.8 g in all"];
        let blocks = numbers
            .iter()
            .map(|n| Block::Big {
                word: "Core".into(),
                number: (*n).into(),
            })
            .collect();
        let page = pages(
            &samples::sheet("big", Kind::SmokerLog, size, "Big", &[], blocks),
            Stock::Iso,
        )
        .concat();
        let large: Vec<&Seen> = page.iter().filter(|l| l.size >= 23.99).collect();
        for word in numbers.iter().flat_map(|n| n.split(' ')) {
            assert!(
                large.iter().any(|l| l.text.contains(word)),
                "{size:?}: {word}"
            );
        }
    }
    let board = pages(&samples::day_board(3, 9, Size::Wall), Stock::Us).concat();
    for hour in 8..=17 {
        let word = format!("{hour:02}:00");
        assert!(
            board.iter().any(|l| l.text == word && l.size >= 23.99),
            "{word}"
        );
    }
}

#[test]
fn every_line_of_text_starts_inside_the_edge_of_its_paper() {
    for stock in [Stock::Iso, Stock::Us] {
        for sheet in samples::all() {
            let (width, height) = millimetres(stock, sheet.size);
            let edge = if sheet.size == Size::Label { 2.9 } else { 9.9 };
            let point = 72.0 / 25.4;
            for line in pages(&sheet, stock).concat() {
                let (x, y) = (line.x / point, line.y / point);
                assert!(
                    x >= edge && x <= width - edge && y >= edge && y <= height - edge,
                    "{}: {line:?}",
                    sheet.id
                );
            }
        }
    }
}

#[test]
fn head_and_foot_are_on_each_page_with_the_lot_the_plan_and_the_count() {
    let all = pages(&samples::cure_sheet(90), Stock::Iso);
    assert!(all.len() >= 3, "{} pages", all.len());
    for (i, page) in all.iter().enumerate() {
        let words = said(page);
        for word in [
            "Cure sheet: duck breast",
            "Lot 0412-DB",
            "plan 7c21",
            "printed 2027-02-01 12:00",
            &format!("page {} of {}", i + 1, all.len()),
        ] {
            assert!(words.contains(word), "page {}: {word}", i + 1);
        }
        assert!(
            words.contains("green g") && words.contains("earliest"),
            "the head of the table comes again on page {}",
            i + 1
        );
    }
}

#[test]
fn every_row_is_printed_once_and_forty_learners_find_their_line() {
    let all = pages(&samples::cure_sheet(80), Stock::Us);
    let lines: Vec<String> = all.concat().into_iter().map(|l| l.text).collect();
    for learner in 1..=40 {
        let name = format!("Learner {learner}");
        assert_eq!(lines.iter().filter(|l| **l == name).count(), 2, "{name}");
    }
    let board = pages(&samples::day_board(40, 6, Size::Wall), Stock::Iso);
    let words = said(&board.concat());
    assert!(
        (15..40).all(|p| words.contains(&format!("Learner {p}"))),
        "{words}"
    );
    assert!(
        board
            .iter()
            .filter(|p| said(p).contains("Learner") || said(p).contains("Ada"))
            .all(|p| said(p).contains("Real times"))
    );
}

#[test]
fn no_heading_stands_alone_at_the_foot() {
    // Pushed down by one line more each time, a heading meets the foot of the page somewhere.
    for lines in 30..60 {
        let mut blocks = vec![Block::Lines {
            word: "Free".into(),
            count: lines / 2,
        }];
        blocks.extend((0..lines % 5).map(|_| Block::Text("One line.".into())));
        blocks.push(Block::Heading("A heading".into()));
        let row = |n: &str| vec![Cell::Text(n.into())];
        blocks.push(Block::Table(Table {
            columns: vec![Column {
                head: "Head".into(),
                share: 1.0,
            }],
            rows: vec![row("first row"), row("second row")],
        }));
        for page in pages(&one(blocks), Stock::Us) {
            let words = said(&page);
            assert_eq!(
                words.contains("A heading"),
                words.contains("first row"),
                "{words}"
            );
        }
    }
}

#[test]
fn hostile_words_are_printed_as_they_are_and_all_of_them() {
    for stock in [Stock::Iso, Stock::Us] {
        for size in [
            Size::Wall,
            Size::WallWide,
            Size::Page,
            Size::PageWide,
            Size::Card,
        ] {
            let sheet = Sheet {
                size,
                ..samples::hostile()
            };
            let words: String = said(&pages(&sheet, stock).concat())
                .split_whitespace()
                .collect();
            for raw in [
                "#setpage(width:1cm)$x^2$*bold*_it_@ref<label>\\`raw`//note/*c*/",
                "</text><script>alert(1)</script>&amp;%PDF-1.7endobj(paren)\\)<</Type/Page>>",
                "Donaudampfschifffahrtsgesellschaftskapitänskajütenschlüsselanhängerherstellerverzeichniseintragung",
            ] {
                assert!(words.contains(raw), "{size:?}: {raw}");
            }
        }
    }
}

#[test]
fn a_label_that_says_too_much_goes_on_and_says_so() {
    assert_eq!(pages(&samples::label(1), Stock::Iso).len(), 1);
    let mut sheet = samples::label(1);
    sheet
        .blocks
        .push(Block::Ticks((0..12).map(|i| format!("Line {i}")).collect()));
    let labels = pages(&sheet, Stock::Iso);
    assert!(labels.len() > 1);
    for (i, label) in labels.iter().enumerate() {
        let words = said(label);
        assert!(
            words.contains(&format!("{}/{}", i + 1, labels.len()))
                && words.contains("Fennel pickle")
                && words.contains("FP-01-4"),
            "{words}"
        );
    }
    let words = said(&labels.concat());
    assert!((0..12).all(|i| words.contains(&format!("Line {i}"))));
}

#[test]
fn labels_to_be_cut_go_ten_on_a_sheet() {
    let labels: Vec<Sheet> = (1..=39).map(samples::label).collect();
    let print = Print {
        labels: Labels::Cut,
        ..print(Stock::Us)
    };
    assert_eq!(press::lay(&labels, &print).expect("drawn").pages(), 4);
}

#[test]
fn words_without_room_in_their_bar_stand_under_a_number() {
    let bars = |down| Bars {
        down,
        minutes: 600,
        marks: vec![(0, "08:00".into()), (600, "18:00".into())],
        shaded: vec![],
        lanes: vec![Lane {
            name: "Ada".into(),
            bars: (0..3)
                .map(|i| Bar {
                    from: i * 5,
                    to: i * 5 + 5,
                    words: format!("Pull the tray of the very long name number {i} and weigh it"),
                    work: true,
                    fixed: false,
                    could: None,
                })
                .collect(),
            blank: false,
        }],
        service: None,
    };
    for down in [true, false] {
        let words = said(&pages(&one(vec![Block::Bars(bars(down))]), Stock::Iso).concat());
        for i in 0..3 {
            assert!(
                words.contains(&format!("name number {i} and weigh it")),
                "{words}"
            );
        }
    }
}

#[test]
fn a_sign_the_faces_have_not_is_told() {
    let laid = press::lay(
        &[one(vec![Block::Text("salt 塩".into())])],
        &print(Stock::Iso),
    )
    .expect("drawn");
    assert_eq!(laid.missing(), ['塩']);
    let kitchen = "½ ¼ ° ′ ″ − ≥ ≤ → ✓ □ × ± µ àâçèéêëîïôœùûÀÉŒ « » · • – — €";
    let laid = press::lay(
        &[one(vec![
            Block::Text(kitchen.into()),
            Block::Heading(kitchen.into()),
        ])],
        &print(Stock::Iso),
    )
    .expect("drawn");
    assert_eq!(laid.missing(), Vec::<char>::new());
}

#[test]
fn figures_are_all_of_one_width() {
    let width = |text: &str| {
        let page = pages(
            &one(vec![Block::Table(Table {
                columns: vec![Column {
                    head: "g".into(),
                    share: 1.0,
                }],
                rows: vec![vec![Cell::Number(text.into())]],
            })]),
            Stock::Iso,
        )
        .concat();
        page.iter().find(|l| l.text == text).expect("the number").x
    };
    assert!((width("1,111.11") - width("8,888.88")).abs() < 0.02);
}

fn refused(block: Block) -> String {
    match press::lay(&[one(vec![block])], &print(Stock::Iso)) {
        Err(error @ PressError::Sheet { .. }) => error.to_string(),
        Err(other) => panic!("{other}"),
        Ok(_) => panic!("it was drawn"),
    }
}

#[test]
fn what_cannot_be_drawn_is_refused_and_not_moved() {
    let column = |share| Column {
        head: "g".into(),
        share,
    };
    let table = |columns, rows| Block::Table(Table { columns, rows });
    assert!(
        refused(table(
            vec![column(1.0), column(1.0)],
            vec![vec![Cell::Tick]]
        ))
        .contains("1 fields under 2 heads")
    );
    assert!(refused(table(vec![column(0.0)], vec![])).contains("a share of 0"));
    assert!(refused(table(vec![], vec![])).contains("without columns"));
    let bar = |from, to| Bar {
        from,
        to,
        words: "rinse".into(),
        work: true,
        fixed: false,
        could: None,
    };
    for down in [true, false] {
        let bars = |bars| {
            Block::Bars(Bars {
                down,
                minutes: 60,
                marks: vec![],
                shaded: vec![],
                lanes: vec![Lane {
                    name: "Ada".into(),
                    bars,
                    blank: false,
                }],
                service: None,
            })
        };
        assert!(refused(bars(vec![bar(50, 70)])).contains("from minute 50 to 70"));
        assert!(refused(bars(vec![bar(20, 10)])).contains("from minute 20 to 10"));
        assert!(refused(bars(vec![bar(0, 30), bar(20, 40)])).contains("at the same time"));
    }
    let part = |from_hour, reach| {
        Block::Plate(Plate {
            parts: vec![Part {
                name: "Char".into(),
                weight: "60 g".into(),
                from_hour,
                to_hour: 12.0,
                reach,
            }],
        })
    };
    assert!(refused(part(13.0, 0.5)).contains("from hour 13"));
    assert!(refused(part(1.0, 1.5)).contains("1.5 of the way"));
    assert!(refused(part(f64::NAN, 0.5)).contains("NaN"));
    let code = |long: usize| Block::Code {
        holds: "x".repeat(long),
        letters: "X".into(),
    };
    assert!(refused(code(4000)).contains("4000 bytes"));
}
