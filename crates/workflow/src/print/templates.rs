//! Templates of one's own beside the shipped ones.

use std::collections::BTreeMap;
use std::path::Path;

use register::StoredText;
use renderer::{HtmlPages, Renderer};

use crate::failure::Failure;
use crate::surroundings::Surroundings;
use crate::texts::{Sources, read_text};

/// A renderer with the shipped templates, each replaced by the file of the same name in the folder
/// named, or else in the folder `templates` of the exam.
pub(crate) fn renderer_for(
    around: &dyn Surroundings,
    exam_folder: &Path,
    named: Option<&Path>,
) -> Result<Renderer, Failure> {
    let (overrides, sources) = own_templates(around, exam_folder, named)?;
    Renderer::new(&overrides).map_err(|faults| Failure::Faults { faults, sources })
}

/// The pages, with templates of one's own as for [`renderer_for`].
pub(crate) fn pages_for(
    around: &dyn Surroundings,
    exam_folder: &Path,
    named: Option<&Path>,
) -> Result<HtmlPages, Failure> {
    let (overrides, sources) = own_templates(around, exam_folder, named)?;
    HtmlPages::new(&overrides).map_err(|faults| Failure::Faults { faults, sources })
}

/// The templates as this renderer uses them, for the register.
pub(crate) fn templates_of(renderer: &Renderer) -> Vec<StoredText> {
    let texts = renderer.template_texts();
    texts
        .map(|(name, text)| StoredText {
            name: name.to_owned(),
            text: text.to_owned(),
        })
        .collect()
}

fn own_templates(
    around: &dyn Surroundings,
    exam_folder: &Path,
    named: Option<&Path>,
) -> Result<(BTreeMap<String, String>, Sources), Failure> {
    let folder = named.map_or_else(|| exam_folder.join("templates"), Path::to_path_buf);
    let mut overrides = BTreeMap::new();
    let mut sources = Sources::new();
    let mut faults = Vec::new();
    let files = around.files_in(&folder)?;
    let templates: Vec<_> = files
        .iter()
        .filter(|name| name.ends_with(".jinja"))
        .collect();
    if named.is_some() && templates.is_empty() {
        return Err(Failure::Refused {
            what: format!("{} holds no templates", folder.display()),
            hint: "copy those you want to change from the project's folder templates/".to_owned(),
        });
    }
    for name in templates {
        if let Some(source) = read_text(around, &folder.join(name), &mut faults)? {
            overrides.insert(name.clone(), source.text.to_string());
            sources.insert(base::SourceName::new(name), source.text);
        }
    }
    if !faults.is_empty() {
        return Err(Failure::Faults { faults, sources });
    }
    Ok((overrides, sources))
}
