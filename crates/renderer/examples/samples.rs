//! Writes the invented sample of every sheet as PDF into a folder, to look at the templates:
//! `cargo run --release -p renderer --example samples -- FOLDER [letter]`.
#![allow(
    clippy::disallowed_methods,
    reason = "an example is at the edge: it writes files"
)]

use std::collections::BTreeMap;
use std::error::Error;
use std::path::PathBuf;

use renderer::{Language, Look, Renderer, Sheet, samples};
use sheet_layout::Paper;

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments = std::env::args().skip(1);
    let folder = PathBuf::from(arguments.next().ok_or("name a folder")?);
    let paper = arguments
        .next()
        .and_then(|name| Paper::named(&name))
        .unwrap_or(Paper::A4);
    let look = Look {
        paper,
        language: Language::english(),
        ledger_head: String::new(),
    };
    let renderer = Renderer::new(&BTreeMap::new()).map_err(|faults| {
        faults
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
            .join("\n")
    })?;
    std::fs::create_dir_all(&folder)?;
    let mut failed = String::new();
    for sheet in Sheet::ALL {
        match samples::render(sheet, &renderer, &look) {
            Ok(printed) => {
                let name = sheet.template().replace(".typ.jinja", ".pdf");
                std::fs::write(folder.join(name), printed.pdf)?;
            }
            Err(fault) => failed.push_str(&format!("{fault}\n")),
        }
    }
    if failed.is_empty() {
        Ok(())
    } else {
        Err(failed.into())
    }
}
