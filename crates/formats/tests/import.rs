//! Lists into a copy of the demo: what changes, what is refused row by row, and that nothing is half-applied.

// Shared setting-up code of tests, where a failed assumption should stop the test.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod demo;

use std::io::{Cursor, Write};

use demo::Demo;
use formats::import::{self, Preview, TABS};
use formats::refusal::Refusal;
use formats::sheet::Sheet;
use formats::table::{self, MOST_BYTES, MOST_COLUMNS, MOST_ROWS, Table};
use formats::{comma, sheets};
use kitchen::site::Pack;
use proptest::prelude::*;

fn table(text: &str) -> Table {
    table::read(text.as_bytes(), &TABS).unwrap()
}

fn refused(bytes: &[u8]) -> Vec<Refusal> {
    table::read(bytes, &TABS).unwrap_err()
}

fn offers(demo: &Demo) -> Sheet {
    sheets::offers(&demo.book.sites["fernhollow"])
}

fn prices(demo: &Demo, text: &str) -> Preview {
    import::prices(demo.target(), &table(text), None).unwrap()
}

const HEAD: &str = "supplier,item,price ($),price per\n";

#[test]
fn a_price_list_that_was_written_out_changes_nothing() {
    let demo = Demo::new();
    let text = comma::write(&offers(&demo));
    for preview in [
        prices(&demo, &text),
        import::suppliers(demo.target(), &table(&text), None).unwrap(),
    ] {
        assert_eq!(preview.changes, []);
        assert_eq!(preview.refused, []);
        assert_eq!(preview.same, demo.book.sites["fernhollow"].offers.len());
        assert_eq!(preview.page, None);
    }
}

#[test]
fn a_new_price_changes_one_line_and_keeps_the_rest_of_the_page() {
    let demo = Demo::new();
    let preview = prices(
        &demo,
        &format!(
            "{HEAD}pasque-produce,dill,1.95,pack\nMillrace Dry Goods,\"salt, table\",1.1,kg\n"
        ),
    );
    assert_eq!(preview.refused, []);
    assert_eq!((preview.changes.len(), preview.same), (1, 1));
    assert_eq!(preview.file, "demo/site.toml");
    let new = preview.page.unwrap();
    let old = std::str::from_utf8(
        &demo
            .files
            .iter()
            .find(|f| f.name == "demo/site.toml")
            .unwrap()
            .bytes,
    )
    .unwrap()
    .to_owned();
    let moved: Vec<(&str, &str)> = old
        .lines()
        .zip(new.lines())
        .filter(|(a, b)| a != b)
        .collect();
    assert_eq!(moved, [("price = 1.80", "price = 1.95")]);
    assert_eq!(old.lines().count(), new.lines().count());
    let after = demo.with(&preview.file, &new).unwrap();
    let dill = after.book.sites["fernhollow"]
        .offers
        .iter()
        .find(|o| o.item == "dill")
        .unwrap();
    assert!(matches!(&dill.pack, Pack::Packs { price, .. } if price.to_string() == "1.95"));
}

#[test]
fn a_slipped_point_is_pointed_out() {
    let demo = Demo::new();
    let preview = prices(&demo, &format!("{HEAD}pasque-produce,dill,18,pack\n"));
    assert!(preview.changes[0].look.contains("look twice"));
    let preview = prices(&demo, &format!("{HEAD}pasque-produce,dill,2.00,pack\n"));
    assert_eq!(preview.changes[0].look, "");
}

#[test]
fn rows_are_refused_one_by_one_and_then_nothing_is_applied() {
    let demo = Demo::new();
    let preview = prices(
        &demo,
        &format!(
            "{HEAD}pasque-produce,dill,1.95,pack\n\
             pasque-produce,dill,1.99,pack\n\
             pasque-produce,lemon,\"0,65\",each\n\
             pasque-produce,lemon,=0.65,each\n\
             pasque-produce,cucumber,-3,kg\n\
             pasque-produce,cucumber,3.90,pack\n\
             pasque-produce,lemom,0.65,each\n\
             nobody,lemon,0.65,each\n\
             millrace-dry-goods,salt,1.20,kg\n\
             lowmeadow-dairy,honey,9,pack\n\
             pasque-produce,daikon,,kg\n\
             pasque-produce,daikon,99999999,kg\n"
        ),
    );
    assert_eq!(preview.page, None);
    let told: Vec<String> = preview.refused.iter().map(ToString::to_string).collect();
    assert_eq!(
        preview
            .refused
            .iter()
            .filter_map(|r| r.row)
            .collect::<Vec<_>>(),
        (3..=13).collect::<Vec<_>>()
    );
    insta::assert_snapshot!("refused_prices", told.join("\n"));
}

#[test]
fn a_formula_in_a_workbook_is_refused_and_its_result_not_taken() {
    let demo = Demo::new();
    let mut book = rust_xlsxwriter::Workbook::new();
    let tab = book.add_worksheet();
    for (x, heading) in (0..).zip(["supplier", "item", "price ($)", "price per"]) {
        tab.write(0, x, heading).unwrap();
    }
    for (y, item) in (1..).zip(["dill", "chives"]) {
        tab.write(y, 0, "pasque-produce").unwrap();
        tab.write(y, 1, item).unwrap();
        tab.write(y, 3, "pack").unwrap();
    }
    tab.write(1, 2, 1.95).unwrap();
    tab.write_formula(
        2,
        2,
        rust_xlsxwriter::Formula::new("=1+1.25").set_result("2.25"),
    )
    .unwrap();
    let bytes = book.save_to_buffer().unwrap();
    let table = table::read(&bytes, &TABS).unwrap();
    let preview = import::prices(demo.target(), &table, None).unwrap();
    assert_eq!(preview.page, None);
    let told: Vec<String> = preview.refused.iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        [
            "row 3: price: a formula, \"=1+1.25\"; expected a value: formulas are not computed and their results not taken; put the value in the cell (in a spreadsheet: copy, paste values)"
        ]
    );
}

#[test]
fn a_workbook_and_a_csv_of_one_list_are_the_same_rows() {
    let demo = Demo::new();
    let sheet = offers(&demo);
    let at = jiff::civil::date(2027, 2, 1).at(7, 0, 0, 0);
    let bytes = formats::workbook::write(
        std::slice::from_ref(&sheet),
        "x",
        at,
        formats::workbook::Paper::A4,
    )
    .unwrap();
    for table in [
        table::read(&bytes, &TABS).unwrap(),
        table(&comma::write(&sheet)),
    ] {
        let preview = import::suppliers(demo.target(), &table, None).unwrap();
        assert_eq!(
            (preview.changes.len(), preview.refused.len(), preview.same),
            (0, 0, sheet.rows.len())
        );
    }
}

#[test]
fn damaged_and_hostile_files_are_refused_whole() {
    let demo = Demo::new();
    let at = jiff::civil::date(2027, 2, 1).at(7, 0, 0, 0);
    let good =
        formats::workbook::write(&[offers(&demo)], "x", at, formats::workbook::Paper::A4).unwrap();
    for n in [4, 100, good.len() / 2, good.len() - 30, good.len() - 1] {
        assert!(
            refused(&good[..n])[0].found.contains("cut off or damaged"),
            "{n}"
        );
    }
    for (bytes, found) in [
        (Vec::new(), "an empty file"),
        (
            b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1".to_vec(),
            "old or locked",
        ),
        (b"supplier,item\n\xff\xfe\n".to_vec(), "not text in UTF-8"),
        (
            b"supplier,item\n\"pasque".to_vec(),
            "a quote that is never closed",
        ),
        (b"a\0b\n".to_vec(), "zero bytes"),
        (vec![b'x'; MOST_BYTES + 1], "more than 5 MB"),
        ("a,".repeat(MOST_COLUMNS + 1).into_bytes(), "columns"),
        (
            format!("a\n{}", "1\n".repeat(MOST_ROWS + 1)).into_bytes(),
            "rows",
        ),
        (b"a,b\n1\n".to_vec(), "1 cells"),
        (
            format!("a\n{}\n", "x".repeat(501)).into_bytes(),
            "a cell of more than 500 characters",
        ),
    ] {
        let wrong = refused(&bytes);
        assert!(wrong[0].found.contains(found), "{found}: {wrong:?}");
    }
    for text in [
        "price\n1\n",
        "supplier,item,price,price per,prise\n",
        "supplier,item,price (€),price per\n",
        "supplier,supplier,item,price,price per\n",
    ] {
        assert!(
            import::prices(demo.target(), &table(text), None).is_err(),
            "{text}"
        );
    }
}

#[test]
fn a_file_that_unpacks_to_very_much_is_refused_before_it_is_read() {
    let mut zip = zip::ZipWriter::new(Cursor::new(Vec::new()));
    let how = zip::write::SimpleFileOptions::default()
        .compression_method(zip::CompressionMethod::Deflated);
    zip.start_file("xl/sharedStrings.xml", how).unwrap();
    let block = vec![b' '; 1_000_000];
    for _ in 0..100 {
        zip.write_all(&block).unwrap();
    }
    let bytes = zip.finish().unwrap().into_inner();
    assert!(bytes.len() < MOST_BYTES, "{}", bytes.len());
    assert!(
        refused(&bytes)[0]
            .found
            .contains("unpacks to more than 40 MB")
    );
}

#[test]
fn a_cell_in_the_far_corner_takes_no_room() {
    let mut book = rust_xlsxwriter::Workbook::new();
    let tab = book.add_worksheet();
    tab.write(0, 0, "item").unwrap();
    tab.write(1_048_575, 0, "dill").unwrap();
    tab.write(5, 16_383, "far").unwrap();
    let wrong = refused(&book.save_to_buffer().unwrap());
    assert!(wrong[0].found.contains("columns"), "{wrong:?}");
}

#[test]
fn semicolons_and_a_mark_at_the_start_are_read() {
    let demo = Demo::new();
    let preview = prices(
        &demo,
        "\u{feff}Supplier;Item;Price;Price per\r\npasque-produce;dill;1.95;pack\r\n",
    );
    assert_eq!((preview.changes.len(), preview.refused.len()), (1, 0));
    assert!(preview.notes[0].contains("names no currency"));
}

#[test]
fn a_supplier_list_adds_offers_and_changes_how_things_are_sold() {
    let demo = Demo::new();
    let text = "supplier,item,spec,sold,word,amount (g),price ($),price per,instead\n\
        pasque-produce,dill,\"dill, bunch of 60 g\",pack,bunch,60,2.10,pack,\n\
        pasque-produce,celery,celery,by weight,,500,2.80,kg,celeriac: stronger\n\
        pasque-produce,cucumber,cucumber,each,cucumber,,1.10,each,\n\
        pasque-produce,onion-red,red onions,by weight,bag,500,2.30,kg,\n";
    let preview = import::suppliers(demo.target(), &table(text), None).unwrap();
    assert_eq!(preview.refused.len(), 1, "{:?}", preview.refused);
    assert_eq!(preview.page, None);
    let text = text.replace(",bag,500", ",,500");
    let preview = import::suppliers(demo.target(), &table(&text), None).unwrap();
    assert_eq!(preview.refused, []);
    let told: Vec<String> = preview
        .changes
        .iter()
        .map(|c| {
            format!(
                "{} {}: {} {:?} -> {} {}",
                c.row, c.of, c.key, c.before, c.after, c.look
            )
        })
        .collect();
    insta::assert_snapshot!("supplier_list", told.join("\n"));
    let after = demo
        .with(&preview.file, preview.page.as_ref().unwrap())
        .unwrap();
    let again = import::suppliers(after.target(), &table(&text), None).unwrap();
    assert_eq!(
        (again.changes.len(), again.refused.len()),
        (0, 0),
        "{again:?}"
    );
}

#[test]
fn ingredients_come_with_their_sources_or_not_at_all() {
    let demo = Demo::new();
    let head = "id,name,contains,water (g/100 g),form,density (g/mL),piece word,piece (g),source\n";
    let read = |text: &str| import::ingredients(demo.target(), &table(text)).unwrap();
    let good = format!(
        "{head}sea-purslane,sea purslane,none,88,loose,0.3,sprig,1.5,house:weighed here\narctic-char-whole,\"arctic char, whole gutted, farmed\",,71,,,,,house:new lot\n"
    );
    let preview = read(&good);
    assert_eq!(preview.refused, []);
    let page = preview.page.unwrap();
    let after = demo.with(&preview.file, &page).unwrap();
    let new = &after.book.ingredients["sea-purslane"];
    assert!(new.allergens.as_ref().unwrap().contains.is_empty());
    assert_eq!(new.composition.as_ref().unwrap().water, Some(88.0));
    assert_eq!(
        new.composition.as_ref().unwrap().fat,
        None,
        "unknown, not zero"
    );
    let char = after.book.ingredients["arctic-char-whole"]
        .composition
        .as_ref()
        .unwrap();
    assert_eq!((char.water, char.protein), (Some(71.0), Some(19.6)));
    let again = import::ingredients(after.target(), &table(&good)).unwrap();
    assert_eq!(
        (again.changes.len(), again.refused.len()),
        (0, 0),
        "{again:?}"
    );
    for (row, found) in [
        ("sea-purslane,x,,88,,,,,\n", "nobody says where it is from"),
        ("Sea Purslane,x,,,,,,,\n", "\"Sea Purslane\""),
        ("sea-purslane,x,,101,,,,,house\n", "101"),
        ("sea-purslane,x,,,,0.3,,,house\n", "one of form and density"),
        ("sea-purslane,x,seafood,,,,,,house\n", "seafood"),
        ("sea-purslane,x,,88,,,,,wikipedia\n", "wikipedia"),
    ] {
        let preview = read(&format!("{head}{row}"));
        assert_eq!(preview.page, None, "{row}");
        assert_eq!(preview.refused.len(), 1, "{row}: {:?}", preview.refused);
        assert_eq!(preview.refused[0].row, Some(2), "{row}");
        assert!(
            preview.refused[0].found.contains(found),
            "{row}: {}",
            preview.refused[0]
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn prices_imported_twice_change_nothing_the_second_time(cents in proptest::collection::vec(1_u32..9_999_999, 38)) {
        let demo = Demo::new();
        let mut text = comma::write(&offers(&demo)).lines().next().unwrap().to_owned() + "\n";
        let mut rows = csv::ReaderBuilder::new().from_reader(Cursor::new(comma::write(&offers(&demo)).into_bytes()));
        let mut out = csv::WriterBuilder::new().from_writer(Vec::new());
        for (record, c) in rows.records().zip(&cents) {
            let mut fields: Vec<String> = record.unwrap().iter().map(str::to_owned).collect();
            fields[6] = format!("{}.{:02}", c / 100, c % 100);
            out.write_record(&fields).unwrap();
        }
        text.push_str(&String::from_utf8(out.into_inner().unwrap()).unwrap());
        let first = prices(&demo, &text);
        prop_assert_eq!(&first.refused, &[]);
        if let Some(page) = &first.page {
            let after = demo.with(&first.file, page).unwrap();
            let second = prices(&after, &text);
            prop_assert_eq!(second.changes.len(), 0);
            prop_assert_eq!(second.same, cents.len());
            prop_assert_eq!(comma::write(&offers(&after)).replace("\r\n", "\n"), text.replace("\r\n", "\n"));
        }
    }

    #[test]
    fn no_bytes_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400), at in 0_usize..6000, flip in any::<u8>()) {
        let _ = table::read(&bytes, &TABS);
        let mut zip = WORKBOOK.with(Clone::clone);
        let n = at % zip.len();
        zip[n] ^= flip;
        let _ = table::read(&zip, &TABS);
    }
}

thread_local! {
    static WORKBOOK: Vec<u8> = {
        let at = jiff::civil::date(2027, 2, 1).at(7, 0, 0, 0);
        formats::workbook::write(&[offers(&Demo::new())], "x", at, formats::workbook::Paper::A4).unwrap()
    };
}
