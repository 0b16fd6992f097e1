//! Large books for measuring: as many components as asked for, one event, people and machines to match.
//!
//! Seven kinds of recipe take turns, shaped like those of the demo book: smoked fish, pickle, smoked meat, ribbons with a
//! wait that an extra act can lengthen, crisps, cured fish, dressing. Figures vary by seed; the same count, covers and seed
//! give the same text. Everything is invented. Whether there is a schedule is measured, not promised.

mod dice;
mod recipes;
mod site;

use std::fmt::Write as _;

use book::SourceFile;

use dice::Dice;

/// Id of the one event of a large book.
pub(crate) const EVENT: &str = "great-feast";
/// Components of one dish; a feast of more has more dishes.
const PARTS_OF_A_DISH: usize = 10;

/// A few components on one platter.
struct Dish<'a> {
    parts: &'a [Made],
    number: usize,
}

/// One recipe of a large book.
struct Made {
    id: String,
    text: String,
    /// Grams on every plate.
    portion_g: u32,
    /// Step and hour it is wished for.
    prefers: Vec<(&'static str, String)>,
}

/// What a large book is asked to be.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Feast {
    /// Recipes of the event.
    pub(crate) components: usize,
    /// Covers.
    pub(crate) covers: usize,
    /// People who lay out one platter; the work is the same. All platters are laid out at about the same time.
    pub(crate) people_per_platter: usize,
    /// Ribbons are wished for so many hours sooner than they may stand: then each asks for the act that lengthens its wait.
    pub(crate) ribbons_hours_too_soon: u32,
    /// Seed of what varies.
    pub(crate) seed: u64,
}

/// The files of a large book.
pub(crate) fn files(feast: Feast) -> Vec<SourceFile> {
    let components = feast.components;
    let mut dice = Dice::seeded(feast.seed);
    let made: Vec<Made> = (0..components)
        .map(|n| recipes::recipe(n, feast, &mut dice))
        .collect();
    let dishes: Vec<Dish<'_>> = made
        .chunks(PARTS_OF_A_DISH)
        .enumerate()
        .map(|(i, parts)| Dish {
            parts,
            number: i + 1,
        })
        .collect();
    let mut files = vec![
        SourceFile::text(
            "book.toml",
            "book = \"Great feast\"\nnote = \"Invented, to measure with.\"\n",
        ),
        SourceFile::text("site.toml", &site::site(components)),
        SourceFile::text(
            "dishes.toml",
            &dishes_text(&dishes, feast.people_per_platter),
        ),
        SourceFile::text("event.toml", &event(&made, &dishes, feast)),
    ];
    files.extend(
        made.iter()
            .map(|m| SourceFile::text(&format!("recipes/{}.toml", m.id), &m.text)),
    );
    files
}

fn dishes_text(dishes: &[Dish<'_>], people: usize) -> String {
    let mut text = String::new();
    for dish in dishes {
        let _ = write!(
            text,
            "[[dish]]\nid = \"platter-{0}\"\nname = \"Platter {0}\"\nparts = [\n",
            dish.number
        );
        for part in dish.parts {
            let _ = writeln!(
                text,
                "  {{ recipe = \"{}\", portion = \"{} g\", per = \"plate\" }},",
                part.id, part.portion_g
            );
        }
        let _ = write!(
            text,
            "]\nplating = {{ hands = {{ each = \"4 s\", people = {people}, slowest = \"2 s\" }}, \
             stands-at-most = \"60 min\", ready-before = \"10 min\" }}\n\n"
        );
    }
    text
}

fn event(made: &[Made], dishes: &[Dish<'_>], feast: Feast) -> String {
    let names: Vec<String> = dishes
        .iter()
        .map(|d| format!("\"platter-{}\"", d.number))
        .collect();
    let crew = site::crew(feast.components);
    let mut text = format!(
        "event = \"{EVENT}\"\nname = \"Great feast\"\nsite = \"great-kitchen\"\nfrom = \"2027-09-23T08:00\"\n\
         serve = \"2027-10-07T18:30\"\ncovers = {}\nspare = \"2 %\"\ndishes = [{}]\nrole = \"cook\"\n\
         target-food-cost = \"33 %\"\n\n{crew}",
        feast.covers,
        names.join(", ")
    );
    for (supplier, at) in site::DELIVERIES {
        let _ = write!(
            text,
            "[[delivery]]\nwhat = \"{supplier}\"\nat = \"{at}\"\n\n"
        );
    }
    for m in made {
        for (step, at) in &m.prefers {
            let _ = write!(
                text,
                "[[prefer]]\nstep = \"{}.{step}\"\nat = \"{at}\"\n\n",
                m.id
            );
        }
    }
    text.push_str(
        "[[task]]\nid = \"labels\"\nwhat = \"Tub labels\"\nhands = { setup = \"60 min\" }\n\
         from = \"2027-10-06T08:00\"\nto = \"2027-10-07T12:00\"\n\n\
         [[task]]\nid = \"clean\"\nwhat = \"Clean down\"\nhands = { setup = \"120 min\", people = 4 }\n\
         from = \"serve +8 min\"\nto = \"serve +2 h\"\n",
    );
    text
}
