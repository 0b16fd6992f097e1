use super::*;
use sources::Status;

/// Rows this project adds to the 115: figures of Canada and England from memory or second-hand, thawing as read in
/// Maine, and three rules of order.
const ADDED: &[&str] = &[
    "nitrite.ca.meat",
    "nitrite.ca.bacon",
    "store.raw_below_ready",
    "allergen.order",
    "kill_step.raw_cured",
    "thaw.fc",
    "hold.ca.cold",
    "hold.ca.hot",
    "cool.ca.stage1",
    "cool.ca.total",
    "hold.uk.hot",
    "cool.uk",
];

fn numbers_of_toml(value: &toml::Value, out: &mut Vec<f64>) {
    match value {
        toml::Value::Integer(i) => out.push(*i as f64),
        toml::Value::Float(f) => out.push(*f),
        toml::Value::Array(a) => a.iter().for_each(|v| numbers_of_toml(v, out)),
        toml::Value::Table(t) => t.values().for_each(|v| numbers_of_toml(v, out)),
        _ => {}
    }
}

fn numbers_of(detail: &Detail, out: &mut Vec<f64>) {
    match detail {
        Detail::Number(n) => out.push(*n),
        Detail::List(l) => l.iter().for_each(|d| numbers_of(d, out)),
        Detail::Table(t) => t.values().for_each(|d| numbers_of(d, out)),
        _ => {}
    }
}

fn numbers_of_rule(rule: &Rule) -> Vec<f64> {
    let mut out: Vec<f64> = rule.value.into_iter().collect();
    for stage in &rule.stages {
        out.extend([stage.from_f, stage.to_f, stage.within_h]);
    }
    rule.also
        .values()
        .chain(rule.requires.values())
        .for_each(|d| numbers_of(d, &mut out));
    out
}

#[test]
fn every_shipped_row_is_read_and_cited() {
    let rules = shipped().unwrap();
    assert_eq!(rules.rules.len(), 115 + ADDED.len());
    for id in ADDED {
        assert!(rules.find(id).is_some(), "{id}");
    }
    for rule in &rules.rules {
        let source = source(&rule.id).unwrap();
        assert_eq!(source.status, rule.status, "{}", rule.id);
        assert!(source.title.contains(&rule.section));
        assert_eq!(rule.caution().is_none(), rule.status == Status::Read);
    }
}

/// Ids, grades, sides, scopes and numbers of the list the rule files were written from.
const CARRIED: &str = include_str!("carried.toml");

#[test]
fn all_115_limits_are_carried_over() {
    let outside: toml::Table = CARRIED.parse().unwrap();
    let limits = outside["limit"].as_array().unwrap();
    assert_eq!(limits.len(), 115);
    let rules = shipped().unwrap();
    for limit in limits {
        let id = limit["id"].as_str().unwrap();
        let rule = rules.find(id).unwrap_or_else(|| panic!("{id} is missing"));
        let mut theirs = Vec::new();
        numbers_of_toml(limit, &mut theirs);
        let ours = numbers_of_rule(rule);
        for number in theirs {
            assert!(ours.contains(&number), "{id}: {number} is not in {ours:?}");
        }
        if let Some(value) = limit.get("value") {
            let value = value
                .as_float()
                .or_else(|| value.as_integer().map(|i| i as f64));
            assert_eq!(rule.value, value, "{id}");
        }
        if let Some(words) = limit.get("values") {
            let words: Vec<&str> = words
                .as_array()
                .unwrap()
                .iter()
                .filter_map(|w| w.as_str())
                .collect();
            assert_eq!(rule.list, words, "{id}");
        }
        let status = match limit["evidence"].as_str().unwrap() {
            "read" | "read-adopted" => Status::Read,
            "read-secondary" => Status::SecondHand,
            "memory" => Status::FromMemory,
            other => panic!("{other}"),
        };
        assert_eq!(rule.status, status, "{id}");
        assert_eq!(rule.scope, limit["scope"].as_str().unwrap(), "{id}");
        let side = match (limit["cmp"].as_str().unwrap(), rule.value.is_some()) {
            ("min", _) => RowSide::AtLeast,
            ("max", _) => RowSide::AtMost,
            ("gt", _) => RowSide::Above,
            ("lt", _) => RowSide::Below,
            ("set", true) => RowSide::Exactly,
            ("set", false) => RowSide::List,
            other => panic!("{other:?}"),
        };
        assert_eq!(rule.side, side, "{id}");
        for (theirs, ours) in [("also", &rule.also), ("requires", &rule.requires)] {
            for key in limit
                .get(theirs)
                .and_then(|t| t.as_table())
                .into_iter()
                .flat_map(|t| t.keys())
            {
                assert!(
                    ours.contains_key(key) || ours.contains_key(theirs),
                    "{id}: {key}"
                );
            }
        }
    }
}

#[test]
fn tables_are_carried_over_cell_by_cell() {
    let outside: toml::Table = CARRIED.parse().unwrap();
    let rules = shipped().unwrap();
    for (name, table) in outside["table"].as_table().unwrap() {
        let ours = rules
            .table(&name.replace('_', "-"))
            .unwrap_or_else(|| panic!("{name} is missing"));
        let mut theirs = Vec::new();
        if let Some(rows) = table.get("rows") {
            numbers_of_toml(rows, &mut theirs);
            let mut mine = Vec::new();
            ours.rows
                .iter()
                .flatten()
                .for_each(|d| numbers_of(d, &mut mine));
            assert_eq!(mine, theirs, "{name}");
        }
    }
}

#[test]
fn fahrenheit_rows_give_the_celsius_their_text_prints() {
    let rules = shipped().unwrap();
    let c = |id: &str| rules.find(id).unwrap().limit_c().unwrap();
    assert_eq!(c("hold.cold"), 5.0);
    assert_eq!(c("hold.hot"), 57.0);
    assert_eq!(c("smoked_fish.hot.core"), 63.0);
    assert_eq!(c("cook.poultry_165"), 74.0);
    assert!((c("cook.comminuted_155") - 68.333).abs() < 0.001);
}

const GOOD: &str = "[source.code]\ntitle = \"A code\"\n[[rule]]\nid = \"a\"\nplace = \"us\"\ntopic = \"t\"\nquantity = \"q\"\nside = \"at-most\"\nvalue = 5\nunit = \"°C\"\nscope = \"s\"\nsection = \"1\"\nsource = \"code\"\nstatus = \"read\"\nforce = \"law\"\n";

#[test]
fn a_row_as_it_should_be_is_taken() {
    assert_eq!(read(&[("x", GOOD)]).unwrap().rules.len(), 1);
}

#[test]
fn every_malformed_row_is_an_error_that_names_it() {
    let changes = [
        ("side = \"at-most\"", "side = \"under\""),
        ("value = 5\n", ""),
        ("value = 5", "value = \"five\""),
        ("value = 5", "value = nan"),
        ("unit = \"°C\"\n", ""),
        ("unit = \"°C\"", "unit = \"grad\""),
        ("place = \"us\"", "place = \"mars\""),
        ("place = \"us\"", "place = \"us\"\nalso_in = [\"mars\"]"),
        ("status = \"read\"", "status = \"sure\""),
        ("status = \"read\"\n", ""),
        ("source = \"code\"", "source = \"hearsay\""),
        ("section = \"1\"", "section = \" \""),
        ("force = \"law\"", "force = \"habit\""),
        ("scope = \"s\"", "scope = \"s\"\nnumber = 3"),
        ("side = \"at-most\"", "side = \"list\""),
        ("scope = \"s\"", "scope = \"s\"\nalso = 3"),
        ("scope = \"s\"", "scope = \"s\"\nlist = []"),
        (
            "scope = \"s\"",
            "scope = \"s\"\nstages = [{ from_f = 1, to_f = 2, within_h = 3 }]",
        ),
        ("value = 5\n", "stages = [{ from_f = 1, to_f = 2 }]\n"),
    ];
    for (from, to) in changes {
        assert!(GOOD.contains(from));
        let error = read(&[("x.toml", &GOOD.replace(from, to))]).unwrap_err();
        assert_eq!(
            (error.file.as_str(), error.row.as_str()),
            ("x.toml", "a"),
            "{to}"
        );
        assert!(error.to_string().contains("expected"), "{error}");
    }
    assert!(read(&[("x", "[[rule]\n")]).is_err());
    assert!(read(&[("x", "[[rules]]\nid = \"a\"\n")]).is_err());
    assert!(
        read(&[("x", GOOD), ("y", GOOD)]).is_err(),
        "the same id twice"
    );
    let short = "[[table]]\nid = \"t\"\nplace = \"us\"\ntitle = \"t\"\nstatus = \"read\"\ncolumns = [\"a\", \"b\"]\nrows = [[1]]\n";
    assert!(read(&[("x", short)]).is_err());
}
