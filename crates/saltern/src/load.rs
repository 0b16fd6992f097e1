//! Getting the files of a book: a folder, a single file, or the demo.

use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};

use book::{Limits, SourceFile};
use kitchen::Book;

use crate::diagnostics;
use crate::exit::BadInput;

/// Deepest folder looked into.
const DEEPEST: usize = 8;

/// Reads the book a user named.
pub(crate) fn book(name: &str) -> Result<Book, BadInput> {
    let files = files(name)?;
    book::read(&files, Limits::default()).map_err(|wrong| BadInput(diagnostics::render(&wrong)))
}

/// The files of the book a user named.
pub(crate) fn files(name: &str) -> Result<Vec<SourceFile>, BadInput> {
    if name == "demo" {
        return Ok(book::demo::files());
    }
    let root = Path::new(name);
    let mut paths = Vec::new();
    if root.is_file() {
        paths.push(root.to_path_buf());
    } else if root.is_dir() {
        walk(root, 0, &mut paths)?;
    } else {
        return Err(BadInput::new(
            &format!("there is no book at \"{name}\""),
            "a folder of .toml files, one such file, or the word demo",
            "check the path; `saltern check demo` reads the embedded book",
        ));
    }
    paths.sort();
    if paths.is_empty() {
        return Err(BadInput::new(
            &format!("the folder \"{name}\" holds no .toml file"),
            "a book: recipes, a site, events, each a .toml file",
            "name the folder the files are in",
        ));
    }
    let base = if root.is_dir() { root } else { Path::new("") };
    paths.iter().map(|p| read_file(base, p)).collect()
}

fn walk(folder: &Path, depth: usize, into: &mut Vec<PathBuf>) -> Result<(), BadInput> {
    if depth > DEEPEST {
        return Err(BadInput::new(
            &format!(
                "{}: a folder more than {DEEPEST} folders down",
                folder.display()
            ),
            "a book in a folder and a few folders in it",
            "name the folder of the book itself; a link may lead in a circle",
        ));
    }
    let entries = fs::read_dir(folder).map_err(|e| unreadable(folder, &e))?;
    for entry in entries {
        let path = entry.map_err(|e| unreadable(folder, &e))?.path();
        let hidden = path
            .file_name()
            .is_some_and(|n| n.to_string_lossy().starts_with('.'));
        if hidden {
            continue;
        }
        if path.is_dir() {
            walk(&path, depth + 1, into)?;
        } else if path.extension().is_some_and(|e| e == "toml") {
            into.push(path);
        }
    }
    Ok(())
}

fn read_file(base: &Path, path: &Path) -> Result<SourceFile, BadInput> {
    let limit = Limits::default().file_bytes;
    let name = path
        .strip_prefix(base)
        .unwrap_or(path)
        .to_string_lossy()
        .into_owned();
    // One byte past the limit is enough to refuse a file: no more of it is taken into memory.
    let mut bytes = Vec::new();
    fs::File::open(path)
        .and_then(|file| file.take(limit as u64 + 1).read_to_end(&mut bytes))
        .map_err(|e| unreadable(path, &e))?;
    Ok(SourceFile { name, bytes })
}

fn unreadable(path: &Path, error: &std::io::Error) -> BadInput {
    BadInput::new(
        &format!("{}: {error}", path.display()),
        "a file or folder this program may read",
        "check the name and the permissions",
    )
}
