//! Sheets with every block, all invented, to draw and to measure. Real ones come from `sheets`.

use sheets::model::{
    Bar, Bars, Block, Cell, Column, Kind, Lane, Part, Plate, Sheet, Size, Step, Table,
};

pub(crate) fn sheet(
    id: &str,
    kind: Kind,
    size: Size,
    title: &str,
    under: &[&str],
    blocks: Vec<Block>,
) -> Sheet {
    Sheet {
        id: id.into(),
        kind,
        size,
        title: title.into(),
        under: under.iter().map(ToString::to_string).collect(),
        blocks,
        foot: vec![
            "Lot 0412-DB".into(),
            "plan 7c21".into(),
            "printed 2027-02-01 12:00".into(),
        ],
    }
}

fn text(s: &str) -> Cell {
    Cell::Text(s.into())
}
fn number(s: impl Into<String>) -> Cell {
    Cell::Number(s.into())
}
fn column(head: &str, share: f64) -> Column {
    Column {
        head: head.into(),
        share,
    }
}

/// A day of `people`, `hours` long, in steps of 5 to 90 minutes.
pub(crate) fn day_board(people: usize, hours: u32, size: Size) -> Sheet {
    let what = [
        "Trim duck breasts",
        "Weigh cure 17.02 g",
        "Rinse",
        "Rack and fan",
        "Check core 63 °C",
        "Sweep",
        "Portion fennel pickle",
        "Hold the brine at 4 °C",
    ];
    let names = [
        "Ada", "Benoît", "Chiara", "Dov", "Élodie", "Femi", "Gus", "Hana", "Ivo", "Jun", "Karla",
        "Liam", "Maé", "Nils",
    ];
    let lasts = [40, 25, 5, 15, 10, 60, 20, 90];
    let lane = |p: usize| {
        let mut at = (p as u32 % 4) * 10;
        let mut bars = Vec::new();
        let mut i = p;
        while at + lasts[i % 8] <= hours * 60 {
            let to = at + lasts[i % 8];
            bars.push(Bar {
                from: at,
                to,
                words: format!("{} {}", ["DB-04", "FP-11", "CH-02"][i % 3], what[i % 8]),
                work: i % 3 != 2,
                fixed: i.is_multiple_of(5),
                could: (i % 4 == 3).then_some((to.saturating_sub(5), (to + 15).min(hours * 60))),
            });
            at = to + if i.is_multiple_of(3) { 10 } else { 0 };
            i += 1;
        }
        Lane {
            name: names
                .get(p)
                .map_or_else(|| format!("Learner {p}"), ToString::to_string),
            bars,
            blank: false,
        }
    };
    let mut lanes: Vec<Lane> = (0..people).map(lane).collect();
    lanes.push(Lane {
        name: "Real times".into(),
        bars: vec![],
        blank: true,
    });
    let marks = (0..=hours)
        .map(|h| (h * 60, format!("{:02}:00", (8 + h) % 24)))
        .collect();
    sheet(
        &format!("day-board-{people}"),
        Kind::DayBoard,
        size,
        "Day board, Tuesday 2 February",
        &["Duck class · service 16:30 · absent: ________"],
        vec![
            Block::Bars(Bars {
                down: true,
                minutes: hours * 60,
                marks,
                shaded: vec![(0, 15)],
                lanes,
                service: Some((hours * 60 - 30, "PLATE AT 16:30".into())),
            }),
            Block::Lines {
                word: "Changed today".into(),
                count: 2,
            },
        ],
    )
}

pub(crate) fn back_plan() -> Sheet {
    let day = 24 * 60;
    let bar = |from: u32, to: u32, words: &str, work: bool, could: Option<(u32, u32)>| Bar {
        from,
        to,
        words: words.into(),
        work,
        fixed: !work && from > day,
        could,
    };
    let lane = |name: &str, at: u32| Lane {
        name: name.into(),
        bars: vec![
            bar(at, at + 90, "cure in", true, None),
            bar(
                at + 90,
                at + 90 + 40 * 60,
                "in cure 40 h",
                false,
                Some((at + 36 * 60, at + 48 * 60)),
            ),
            bar(at + 42 * 60, at + 43 * 60, "rinse", true, None),
            bar(
                at + 43 * 60,
                at + 43 * 60 + 195,
                "smoke and chill",
                false,
                None,
            ),
        ],
        blank: false,
    };
    let bars = Bars {
        down: false,
        minutes: 4 * day,
        marks: (0..4)
            .flat_map(|d| {
                [
                    (
                        d * day,
                        ["Sun 31 Jan", "Mon 1 Feb", "Tue 2 Feb", "Wed 3 Feb"][d as usize]
                            .to_owned(),
                    ),
                    (d * day + 720, "12:00".to_owned()),
                ]
            })
            .collect(),
        shaded: (0..4)
            .flat_map(|d| [(d * day, d * day + 420), (d * day + 22 * 60, (d + 1) * day)])
            .collect(),
        lanes: vec![
            lane("Duck breast DB-04", 9 * 60),
            lane("Hot-smoked char CH-02", 14 * 60),
            lane("Fennel pickle FP-11", 30 * 60),
        ],
        service: Some((3 * day + 18 * 60, "Service Wed 18:00".into())),
    };
    sheet(
        "back-plan",
        Kind::BackPlan,
        Size::WallWide,
        "Back from service",
        &["Harvest supper"],
        vec![
            Block::Bars(bars),
            Block::Text("Whiskers: earliest and latest end. Hatched: nobody is there.".into()),
        ],
    )
}

pub(crate) fn formula_card() -> Sheet {
    let rows = [
        ("Salt, flake", "2.00", "166.40"),
        ("Cane sugar", "1.00", "83.20"),
        ("Curing salt 2", "0.25", "20.80"),
        ("Black pepper, cracked", "0.30", "24.96"),
        ("Bay leaf, torn", "0.05", "4.16"),
    ];
    let table = Table {
        columns: vec![
            column("Line", 4.0),
            column("%", 1.2),
            column("g", 1.6),
            column("weighed", 1.6),
            column("✓", 0.8),
        ],
        rows: rows
            .iter()
            .map(|(n, p, g)| {
                vec![
                    text(n),
                    number(*p),
                    Cell::Strong((*g).into()),
                    Cell::WriteIn,
                    Cell::Tick,
                ]
            })
            .collect(),
    };
    sheet(
        "formula-card-duck-cure",
        Kind::FormulaCard,
        Size::Card,
        "Duck cure",
        &["Lot DB-04 · base 8,320 g duck breast"],
        vec![
            Block::Big {
                word: "Weigh in all".into(),
                number: "299.52 g".into(),
            },
            Block::Big {
                word: "Scale".into(),
                number: "0.01 g".into(),
            },
            Block::Table(table),
            Block::Caution(
                "Curing salt: weighed by two, signed by both. Not more than 20.80 g.".into(),
            ),
            Block::Facts(vec![
                ("Contains".into(), text("none of the 14")),
                ("Weighed by".into(), Cell::WriteIn),
                ("Checked by".into(), Cell::WriteIn),
            ]),
            Block::Code {
                holds: "SALTERN:LOT:DB-04-7".into(),
                letters: "DB-04-7".into(),
            },
        ],
    )
}

pub(crate) fn station_card(n: usize) -> Sheet {
    let step = |when: &str, what: &str, hold: &str, why: &str| Step {
        when: when.into(),
        what: what.into(),
        hold: hold.into(),
        why: why.into(),
    };
    sheet(
        &format!("station-card-{n}"),
        Kind::StationCard,
        Size::Card,
        &format!("Station {n} · Learner {n}"),
        &["Cure and rack, with Élodie"],
        vec![
            Block::Heading("Kit".into()),
            Block::Text("Scale 0.1 g, deep tray, tongs, probe 3, tub labels".into()),
            Block::Heading("Steps".into()),
            Block::Steps(vec![
                step(
                    "09:10",
                    "Weigh each breast and write it on the cure sheet",
                    "± 1 g",
                    "",
                ),
                step(
                    "09:25",
                    "Weigh the cure for each piece",
                    "4.6 % of green",
                    "Salt follows the weight of the piece, not the tray",
                ),
                step(
                    "09:40",
                    "Rub, bag, label, lay flat in fridge 2",
                    "≤ 4 °C",
                    "",
                ),
                step("10:30", "Swap with station 2", "", ""),
                step(
                    "11:00",
                    "Check the brine",
                    "12.3 %",
                    "A stronger brine goes faster into thin ends",
                ),
                step("11:20", "Wipe down and sign", "", ""),
            ]),
            Block::Facts(vec![
                ("Actual weight".into(), Cell::WriteIn),
                ("Initials".into(), Cell::WriteIn),
            ]),
            Block::Ticks(vec![
                "Hands washed".into(),
                "Scale checked against the 200 g weight".into(),
            ]),
        ],
    )
}

/// A cure sheet of pieces, each on a line.
pub(crate) fn cure_sheet(pieces: usize) -> Sheet {
    let heads = [
        ("No.", 0.7),
        ("Learner", 2.4),
        ("thick mm", 1.0),
        ("green g", 1.2),
        ("cure g", 1.2),
        ("in", 1.1),
        ("earliest", 1.2),
        ("latest", 1.2),
        ("out", 1.1),
        ("out g", 1.2),
        ("who", 1.0),
    ];
    let rows = (0..pieces)
        .map(|i| {
            vec![
                number((i + 1).to_string()),
                text(&format!("Learner {}", i / 2 + 1)),
                Cell::WriteIn,
                number(format!("{}.0", 331 + (i * 17) % 90)),
                Cell::Strong(format!(
                    "{:.2}",
                    f64::from(331 + (i as u32 * 17) % 90) * 0.046
                )),
                Cell::WriteIn,
                text("Wed 09:10"),
                text("Thu 11:40"),
                Cell::WriteIn,
                Cell::WriteIn,
                Cell::WriteIn,
            ]
        })
        .collect();
    let table = Table {
        columns: heads.iter().map(|(h, s)| column(h, *s)).collect(),
        rows,
    };
    sheet(
        "cure-sheet-duck",
        Kind::CureSheet,
        Size::Page,
        "Cure sheet: duck breast",
        &["Equilibrium cure, 2.0 % salt · fridge 2, ≤ 4 °C"],
        vec![Block::Heading("Piece by piece".into()), Block::Table(table)],
    )
}

pub(crate) fn label(n: usize) -> Sheet {
    let mut sheet = sheet(
        &format!("tub-label-{n}"),
        Kind::TubLabel,
        Size::Label,
        "Fennel pickle",
        &["cured, not smoked"],
        vec![
            Block::Letter("TUE".into()),
            Block::Big {
                word: "Discard by".into(),
                number: "Mon 8 Feb".into(),
            },
            Block::Facts(vec![
                ("Made".into(), text("Tue 2 Feb")),
                ("Net".into(), text("1,240 g")),
                ("Contains".into(), text("mustard, sulphites")),
                ("Initials".into(), Cell::WriteIn),
            ]),
            Block::Code {
                holds: format!("SALTERN:LOT:FP-{n:02}-4"),
                letters: format!("FP-{n:02}-4"),
            },
        ],
    );
    sheet.foot = vec!["plan 7c21".into(), "2027-02-01".into()];
    sheet
}

pub(crate) fn plating_guide() -> Sheet {
    let part = |name: &str, weight: &str, from: f64, to: f64, reach: f64| Part {
        name: name.into(),
        weight: weight.into(),
        from_hour: from,
        to_hour: to,
        reach,
    };
    let plate = Plate {
        parts: vec![
            part("Hot-smoked char, flaked", "60 g", 0.0, 0.0, 0.0),
            part("Shaved fennel pickle", "20 g", 10.0, 1.0, 0.55),
            part("Kohlrabi ribbons", "20 g", 2.0, 4.0, 0.6),
            part("Lamb\u{2019}s lettuce", "15 g", 5.0, 7.0, 0.5),
            part("Buttermilk-horseradish dressing", "15 g", 8.0, 8.0, 0.7),
            part("Dill oil", "3 g", 1.5, 1.5, 0.9),
            part("Rye crisp", "8 g", 0.0, 0.0, 0.0),
        ],
    };
    sheet(
        "plating-guide-char",
        Kind::PlatingGuide,
        Size::Page,
        "Char, fennel, kohlrabi",
        &["63 plates · plate at 8 °C"],
        vec![
            Block::Big {
                word: "In all".into(),
                number: "141 g".into(),
            },
            Block::Big {
                word: "Plates".into(),
                number: "63".into(),
            },
            Block::Big {
                word: "Seconds a plate".into(),
                number: "210".into(),
            },
            Block::Plate(plate),
            Block::Stops(vec![
                "fish".into(),
                "milk".into(),
                "gluten (rye, wheat)".into(),
            ]),
            Block::Caution("Plate cold. The core was shown at 63 °C for 30 min.".into()),
        ],
    )
}

/// Dishes against `allergens`, names as long as they come.
pub(crate) fn matrix(dishes: usize, allergens: usize) -> Sheet {
    let names = [
        "Cereals with gluten",
        "Crustaceans",
        "Eggs",
        "Fish",
        "Peanuts",
        "Soybeans",
        "Milk",
        "Tree nuts",
        "Celery",
        "Mustard",
        "Sesame",
        "Sulphites",
        "Lupin",
        "Molluscs",
    ];
    let mut columns = vec![column("Dish", 5.0)];
    columns.extend((0..allergens).map(|i| column(names[i % 14], 1.0)));
    let rows = (0..dishes)
        .map(|d| {
            let mut row = vec![text(&format!(
                "Terrine of autumn game with pickled walnuts and quince number {d}"
            ))];
            row.extend((0..allergens).map(|a| match (d * 7 + a * 3) % 5 {
                0 => Cell::Strong("●".into()),
                1 => text("may"),
                _ => Cell::Nothing,
            }));
            row
        })
        .collect();
    sheet(
        "allergen-matrix",
        Kind::AllergenMatrix,
        Size::PageWide,
        "Allergens",
        &["● contains · may: may contain · – none declared"],
        vec![Block::Table(Table { columns, rows })],
    )
}

/// A smoker log with text, lines to write on and a letter.
pub(crate) fn smoker_log() -> Sheet {
    let heads = [
        "time",
        "cabinet °C",
        "core 1",
        "core 2",
        "core 3",
        "smoke",
        "damper",
        "who",
    ];
    let rows = (0..14)
        .map(|i| {
            std::iter::once(text(&format!("{:02}:{:02}", 13 + i / 2, (i % 2) * 30)))
                .chain((0..7).map(|_| Cell::WriteIn))
                .collect()
        })
        .collect();
    let table = Table {
        columns: heads.iter().map(|h| column(h, 1.0)).collect(),
        rows,
    };
    sheet(
        "smoker-log",
        Kind::SmokerLog,
        Size::Page,
        "Smoker log",
        &["Hot-smoked char CH-02"],
        vec![
            Block::Big { word: "Core".into(), number: "63 °C".into() },
            Block::Big { word: "Hold".into(), number: "30 min".into() },
            Block::Table(table),
            Block::Text("½ pan · 45° · 5′ · −18 °C · ≥ 3.5 % · → chill · ✓ □ · à la crème brûlée, œuf, Noël, façon".into()),
            Block::Lines { word: "What was different, and what was done".into(), count: 3 },
        ],
    )
}

/// Names that would be commands elsewhere, words without end, marks that turn direction.
pub(crate) fn hostile() -> Sheet {
    let nasty = [
        "#set page(width: 1cm) $x^2$ *bold* _it_ @ref <label> \\ `raw` // note /* c */",
        "\"quotes\" 'single' \u{201c}typographic\u{201d} {braces} [brackets] ~tilde~ && || %%",
        "</text><script>alert(1)</script> &amp; %PDF-1.7 endobj (paren) \\) <</Type/Page>>",
        "Donaudampfschifffahrtsgesellschaftskapitänskajütenschlüsselanhängerherstellerverzeichniseintragung",
        "abc\u{202e}def\u{202c} \u{200f}right-to-left mark \u{200b}zero width",
    ];
    let wide = "W".repeat(400);
    let rows = nasty
        .iter()
        .map(|n| vec![text(n), number("1,234.50 g"), Cell::WriteIn])
        .collect();
    let table = Table {
        columns: vec![
            column("# Name *", 3.0),
            column("$ g", 1.0),
            column("\\ in", 1.0),
        ],
        rows,
    };
    let mut blocks: Vec<Block> = nasty.iter().map(|n| Block::Text((*n).into())).collect();
    blocks.extend([
        Block::Text(wide.clone()),
        Block::Heading(nasty[3].into()),
        Block::Caution(nasty[0].into()),
        Block::Big {
            word: nasty[1].into(),
            number: "123456789012345 g and more than fits".into(),
        },
        Block::Table(table),
        Block::Facts(vec![
            (nasty[3].into(), text(&wide)),
            (nasty[0].into(), Cell::Tick),
        ]),
        Block::Steps(vec![Step {
            when: "tomorrow at nine".into(),
            what: nasty[2].into(),
            hold: nasty[3].into(),
            why: nasty[0].into(),
        }]),
        Block::Ticks(vec![wide]),
        Block::Letter("WEDNESDAY".into()),
    ]);
    sheet(
        "hostile",
        Kind::PrepList,
        Size::Card,
        nasty[0],
        &[nasty[3], nasty[4]],
        blocks,
    )
}

/// One of each, as a kitchen prints them.
pub(crate) fn all() -> Vec<Sheet> {
    let mut sheets = vec![
        day_board(3, 9, Size::Wall),
        day_board(14, 9, Size::WallWide),
        back_plan(),
        formula_card(),
        station_card(1),
        cure_sheet(26),
        smoker_log(),
        plating_guide(),
        matrix(8, 14),
        hostile(),
    ];
    sheets.extend((1..=12).map(label));
    sheets
}
