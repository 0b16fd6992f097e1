//! The files of a book as one zip: the same files, the same bytes.

use std::io::{Cursor, Write};

use book::SourceFile;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

/// The files in one zip, in their order, dated 1980-01-01 (the earliest the format has): the moment a file is
/// fetched is not part of the book.
///
/// # Errors
/// What the writer of the format said.
pub fn zipped(files: &[SourceFile]) -> Result<Vec<u8>, String> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        .last_modified_time(DateTime::default());
    for file in files {
        zip.start_file(file.name.as_str(), options)
            .map_err(|e| e.to_string())?;
        zip.write_all(&file.bytes).map_err(|e| e.to_string())?;
    }
    zip.finish()
        .map(Cursor::into_inner)
        .map_err(|e| e.to_string())
}

#[cfg(test)]
mod tests {
    use std::io::Read;

    use super::*;

    #[test]
    fn what_goes_in_comes_out_and_twice_is_the_same() {
        let files = book::demo::files();
        let bytes = zipped(&files).unwrap();
        assert_eq!(bytes, zipped(&files).unwrap());
        let mut zip = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
        assert_eq!(zip.len(), files.len());
        for file in &files {
            let mut text = Vec::new();
            zip.by_name(&file.name)
                .unwrap()
                .read_to_end(&mut text)
                .unwrap();
            assert_eq!(text, file.bytes, "{}", file.name);
        }
    }
}
