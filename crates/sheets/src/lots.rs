//! Codes of lots and of the plan itself.
//!
//! A lot's code is the day it is for (three characters), which of that day's lots it is (two) and a check character; a tub of
//! it has its number before the check. The codes come from ids and the day only, so a re-plan leaves the labels on the tubs true.

use std::collections::BTreeMap;

use jiff::civil::{Date, date};
use kitchen::Id;
use plan::Plan;
use sha2::{Digest, Sha256};

use crate::code::{check_character, digits, in_payload, room};

/// Day 0 of the codes; from it the day fits three characters until 2109.
const FIRST_DAY: Date = date(2020, 1, 1);
/// Characters for the day, and for the lot within the day.
const DAY_CHARACTERS: usize = 3;
const LOT_CHARACTERS: u32 = 2;
/// The first letter of our alphabet, after the ten digits.
const FIRST_LETTER: u64 = 10;
/// Characters of the plan's version.
const VERSION_CHARACTERS: usize = 8;

/// The code of every lot of a plan before its check character, by recipe.
fn payloads(plan: &Plan) -> BTreeMap<Id, String> {
    let scene = &plan.scene;
    // The day it was planned for first: a service moved to the next morning keeps its labels.
    let days = FIRST_DAY
        .until(scene.served_first.date())
        .map_or(0, |s| s.get_days());
    let day = digits(u64::from(days.unsigned_abs()), DAY_CHARACTERS);
    let mut ids: Vec<&Id> = plan.components.iter().map(|c| &c.recipe).collect();
    ids.sort_unstable();
    let mut taken = Vec::new();
    let mut codes = BTreeMap::new();
    for id in ids {
        let hash = Sha256::digest(format!("{}/{}/{id}", scene.site.id, scene.event.id));
        let mut at = hash
            .iter()
            .take(8)
            .fold(0_u64, |n, byte| n << 8 | u64::from(*byte))
            % room(LOT_CHARACTERS);
        // Two lots of one plan never share a code; beyond that, two events of one day might, one time in a thousand. A
        // number whose check character could be misread is passed over.
        let payload = |at: u64| format!("{day}{}", digits(at, LOT_CHARACTERS as usize));
        for _ in 0..room(LOT_CHARACTERS) {
            if !taken.contains(&at) && reads_well(&payload(at)) {
                break;
            }
            at = (at + 1) % room(LOT_CHARACTERS);
        }
        taken.push(at);
        codes.insert(id.clone(), payload(at));
    }
    codes
}

/// Whether the check character of a payload is one nobody takes for another.
fn reads_well(payload: &str) -> bool {
    check_character(payload).is_some_and(in_payload)
}

fn checked(payload: &str) -> String {
    // The payload is of our own alphabet: there always is a check character.
    check_character(payload).map_or_else(|| payload.to_owned(), |c| format!("{payload}{c}"))
}

/// The short code of every lot of a plan, check character last, by recipe: `2TK7QX`.
#[must_use]
pub fn lot_codes(plan: &Plan) -> BTreeMap<Id, String> {
    payloads(plan)
        .into_iter()
        .map(|(id, p)| (id, checked(&p)))
        .collect()
}

/// The code of one tub of a lot: the lot, a letter that makes the check character read well, the tub's number, the check.
pub(crate) fn tub_code(plan: &Plan, recipe: &Id, tub: usize) -> Option<String> {
    let payload = payloads(plan).remove(recipe)?;
    let code = |letter: u64| format!("{payload}{}{tub:02}", digits(letter, 1));
    let letter = (FIRST_LETTER..room(1)).find(|l| reads_well(&code(*l)))?;
    Some(checked(&code(letter)))
}

/// Which state of a plan this is: eight characters of the SHA-256 of its contract-1 JSON. Old paper shows by it.
#[must_use]
pub fn plan_version(plan: &Plan) -> String {
    let text = plan::json::plan(plan).to_string();
    let hash = Sha256::digest(text.as_bytes());
    let hex: String = hash.iter().map(|b| format!("{b:02x}")).collect();
    hex.chars().take(VERSION_CHARACTERS).collect()
}
