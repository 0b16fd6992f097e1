//! Files written whole or not at all.

use std::fs;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};

use crate::exit::BadInput;

/// A file to write.
pub(crate) struct Paper {
    pub(crate) path: PathBuf,
    pub(crate) bytes: Vec<u8>,
}

fn cannot(path: &Path, error: &std::io::Error) -> BadInput {
    BadInput::new(
        &format!("{}: {error}", path.display()),
        "a place this program may write to",
        "check the folder, the permissions and the room on the disk; nothing was changed",
    )
}

/// Reads at most `most` bytes and one more, so that the caller sees when there are too many.
pub(crate) fn read(path: &Path, most: usize) -> Result<Vec<u8>, BadInput> {
    let mut bytes = Vec::new();
    let opened = fs::File::open(path).and_then(|f| {
        if f.metadata()?.is_dir() {
            return Err(std::io::Error::other("this is a folder"));
        }
        f.take(most as u64 + 1).read_to_end(&mut bytes)
    });
    opened.map_err(|e| {
        BadInput::new(
            &format!("{}: {e}", path.display()),
            "a file this program may read",
            "check the name and the permissions",
        )
    })?;
    Ok(bytes)
}

/// Refuses to write over files unless told to.
pub(crate) fn check_free(paths: &[&Path], overwrite: bool) -> Result<(), BadInput> {
    let there: Vec<String> = paths
        .iter()
        .filter(|p| p.exists())
        .map(|p| p.display().to_string())
        .collect();
    if there.is_empty() || overwrite {
        return Ok(());
    }
    Err(BadInput::new(
        &format!("there already: {}", there.join(", ")),
        "a name that is free",
        "choose another --out, or say --overwrite; nothing was written",
    ))
}

/// Writes all files: each beside its place first, and only when every one is on the disk are they moved there.
pub(crate) fn write(papers: &[Paper]) -> Result<(), BadInput> {
    let mut ready: Vec<(PathBuf, PathBuf)> = Vec::new();
    let outcome = papers.iter().try_for_each(|paper| {
        // A linked page stays a link: the file it points to is the one that changes.
        let path = fs::canonicalize(&paper.path).unwrap_or_else(|_| paper.path.clone());
        let beside = beside(&path);
        ready.push((beside.clone(), path.clone()));
        put(&path, &beside, &paper.bytes)
    });
    if let Err(error) = outcome {
        for (beside, _) in &ready {
            // It may never have been made; there is nothing more to do about one that cannot be removed.
            let _ = fs::remove_file(beside);
        }
        return Err(error);
    }
    for (beside, path) in &ready {
        fs::rename(beside, path).map_err(|e| cannot(path, &e))?;
    }
    Ok(())
}

fn put(path: &Path, beside: &Path, bytes: &[u8]) -> Result<(), BadInput> {
    if let Some(folder) = path.parent().filter(|f| !f.as_os_str().is_empty()) {
        fs::create_dir_all(folder).map_err(|e| cannot(folder, &e))?;
    }
    let mut file = fs::File::create(beside).map_err(|e| cannot(beside, &e))?;
    // Who may read the old file may read the new one.
    if let Ok(old) = fs::metadata(path) {
        let _ = file.set_permissions(old.permissions());
    }
    file.write_all(bytes)
        .and_then(|()| file.sync_all())
        .map_err(|e| cannot(beside, &e))
}

/// A hidden name in the same folder, so that the move at the end is one step of the file system.
fn beside(path: &Path) -> PathBuf {
    let name = path
        .file_name()
        .map_or_else(String::new, |n| n.to_string_lossy().into_owned());
    path.with_file_name(format!(".{name}.{}.part", std::process::id()))
}
