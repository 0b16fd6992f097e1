//! Draws the sample sheets into a directory, to be looked at: `cargo run -p saltern-press --example draw -- DIR`.

#![allow(clippy::print_stdout, clippy::disallowed_methods, missing_docs)]

#[path = "../tests/samples/mod.rs"]
mod samples;

use press::{Labels, Made, Print, Tongue};
use sheets::model::Stock;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let dir = std::path::PathBuf::from(std::env::args().nth(1).ok_or("a directory to draw into")?);
    std::fs::create_dir_all(&dir)?;
    let made = Made {
        utc: (2027, 2, 1, 12, 0),
    };
    for (name, stock, labels) in [
        ("iso", Stock::Iso, Labels::Cut),
        ("us", Stock::Us, Labels::Single),
    ] {
        let laid = press::lay(
            &samples::all(),
            &Print {
                stock,
                tongue: Tongue::En,
                labels,
            },
        )?;
        std::fs::write(
            dir.join(format!("samples-{name}.pdf")),
            laid.pdf("Samples", made)?,
        )?;
        for (i, (id, svg)) in laid.svg().into_iter().enumerate() {
            std::fs::write(dir.join(format!("{name}-{i:02}-{id}.svg")), svg)?;
        }
        println!(
            "{name}: {} pages, signs not in the faces: {:?}",
            laid.pages(),
            laid.missing()
        );
    }
    Ok(())
}
