//! `saltern check`.

use book::Limits;

use crate::args::Check;
use crate::exit::{BadInput, Outcome, say};
use crate::{diagnostics, load};

pub(crate) fn run(check: &Check) -> Result<Outcome, BadInput> {
    let files = load::files(&check.book)?;
    let book = match book::read(&files, Limits::default()) {
        Ok(book) => book,
        Err(wrong) if check.json => {
            return Err(BadInput(format!("{:#}\n", diagnostics::to_json(&wrong))));
        }
        Err(wrong) => return Err(BadInput(diagnostics::render(&wrong))),
    };
    if check.json {
        say(&format!("{:#}\n", diagnostics::to_json(&[])));
        return Ok(Outcome::Fine);
    }
    let mut text = format!(
        "FINE  {}: {} files, {} recipes, {} dishes, {} events, {} ingredients known",
        if book.name.is_empty() {
            &check.book
        } else {
            &book.name
        },
        files.len(),
        book.recipes.len(),
        book.dishes.len(),
        book.events.len(),
        book.ingredients.len(),
    );
    text.push('\n');
    if !book.note.is_empty() {
        text.push_str(&crate::show::text::paragraph("      ", &book.note));
    }
    for event in book.events.values() {
        text.push_str(&crate::show::text::paragraph(
            &format!("      event {:<16} ", event.id),
            &format!("{}  {}", event.serve.strftime("%F %H:%M"), event.name),
        ));
    }
    say(&text);
    Ok(Outcome::Fine)
}
