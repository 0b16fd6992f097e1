//! Writing the picture of an answer to the file that was named.

use drawing::Size;
use plan::ask::{Answer, Pictured, Refusal};

/// The answer, its picture written to `path` when one was named.
pub(super) fn kept(pictured: Pictured, path: Option<&str>) -> Result<Answer, Refusal> {
    let Pictured {
        mut answer,
        picture,
    } = pictured;
    let Some(path) = path else {
        return Ok(answer);
    };
    // Only a name that says it is a picture: a slip must not write over a book.
    if !path.ends_with(".svg") {
        return Err(Refusal::new(
            format!("--curve: found \"{path}\""),
            "the name of a file ending in .svg",
            "write it so, for example cure.svg",
        ));
    }
    let svg = picture.svg(Size::A5)?;
    std::fs::write(path, svg).map_err(|error| {
        Refusal::new(
            format!("--curve: found \"{path}\", which cannot be written: {error}"),
            "a file in a folder that is there and may be written to",
            "make the folder, or name another",
        )
    })?;
    answer.small.push(("curve", path.to_owned()));
    Ok(answer)
}
